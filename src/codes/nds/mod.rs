//! Sawn wood and its fasteners by the National Design Specification, allowable stress design.
//!
//! Inches, pounds and pounds per square inch throughout, as printed.

pub mod adjusted;
pub mod beam;
pub mod bearing;
mod bolted;
mod bound;
pub mod column;
pub mod combined;
pub mod connection;
pub mod dowel;
pub mod dowel_bearing;
pub mod factors;
pub mod gap;
pub mod geometry;
pub mod group;
mod member;
pub mod net_section;
mod screw_joint;
pub mod shear;
pub mod withdrawal;

pub use adjusted::{Adjusted, Conditions, adjust};
pub use beam::{BeamLoading, beam_stability, effective_length};
pub use column::{ColumnKind, EndFixity, column_stability};
pub use dowel::{Dowel, Mode, Yield, double_shear, single_shear};
pub use factors::{Axis, Duration, Property, Temperature};
pub use member::{Strengths, WoodMember};
pub use screw_joint::{ScrewJoint, head_mm};

pub(crate) use bound::Bound;

use super::{Calc, Code, Free, Joint, Member, Refusal};
use crate::{
    catalogue::{Section, design_values},
    design::Wood,
};

/// The code for wood, with what the design says of its own.
pub(super) struct Nds {
    pub(super) wood: Option<Wood>,
    pub(super) incised: bool,
}

impl Code for Nds {
    fn document(&self) -> &'static str {
        "NDS-2018"
    }

    fn member(&self, section: &'static Section, free: Free, wet: bool) -> Result<Box<dyn Member>, Refusal> {
        let wood = self.wood.ok_or_else(|| Refusal::not_held("no species is given"))?;
        let values =
            design_values(wood.species, wood.grade, section).map_err(|reason| Refusal::not_held(reason.to_string()))?;
        let end = if free.cantilever { EndFixity::FixedFree } else { EndFixity::PinnedPinned };
        Ok(Box::new(member::Ready::of(WoodMember {
            section,
            values,
            wet,
            incised: self.incised,
            free_strong_mm: free.strong_mm,
            free_weak_mm: free.weak_mm,
            k_e: end.k_e(),
        })))
    }

    fn joint(&self, joint: Joint) -> Result<Calc, Refusal> {
        Ok(Calc::Joint(joint))
    }
}
