//! Comes in: a design, its frame and what strength was given. Goes out: every check with its worst utilisation, its
//! state and its calculation. This folder never prints.

mod bound;
mod calc;
mod dowel_joint;
mod footing;
mod ground_contact;
mod joints;
mod kind;
mod panels;
mod report;
mod row;
mod runners;
mod screw_joint;
mod service;
mod steel_member;
mod survey;
mod wood_member;

pub use calc::{Calc, GradeForces, Stability};
pub use dowel_joint::{DowelJoint, Layer, LayerMaterial, Plate};
pub use joints::grade_of_bolts;
pub use kind::Kind;
pub(in crate::checks) use panels::component;
pub use report::{Backing, CheckGroup, Findings, Listed, Report, Verdict, look, report, verify};
pub use row::{Outcome, Row, State};
pub use screw_joint::{ScrewJoint, head_mm};
pub use steel_member::{PinPlace, SteelMember, aluminium_yield};
pub use wood_member::{Forces, HoleHere, Strengths, WoodMember};
