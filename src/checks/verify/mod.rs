//! Comes in: a design, its frame and what strength was given. Goes out: every check with its worst utilisation, its
//! state and its calculation. This folder never prints.

mod footing;
mod ground_contact;
mod joints;
mod kind;
mod panels;
mod report;
mod row;
mod runners;
mod service;
mod survey;

pub use kind::Kind;
pub(in crate::checks) use panels::component;
pub use report::{Backing, CheckGroup, Findings, Listed, Report, Verdict, look, report, verify};
pub use row::{Outcome, Row, State};
