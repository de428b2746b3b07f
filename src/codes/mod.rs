//! Comes in: forces, sections and fasteners. Goes out: utilisations, each with its equation and its source, document by
//! document. This room never chooses what is looked at, and never prints.
//!
//! Checks ask a `Code` in N and mm. Every equation behind it is a function generic over
//! [`Trace`](crate::catalogue::Trace), in the units its standard prints it in; the unit stands at the end of each name.
//! Outside its published range it gives a [`Refusal`], never a number.

#[macro_use]
mod step;
pub mod adm;
pub mod aisc360;
mod asked;
mod basis;
mod bolted;
mod calc;
pub mod ibc;
pub mod nds;
mod refusal;

use crate::catalogue::Section;
pub use asked::{Ask, Forces, GradeForces, HoleHere, PinPlace};
pub(crate) use asked::{FTLB_PER_NMM, Free, LBF_PER_N, Member, Strut};
pub(crate) use basis::Codes;
pub use basis::grade_of_bolts;
pub use bolted::{DowelJoint, Joint, Layer, LayerMaterial, Plate};
pub use calc::Calc;
pub(crate) use ibc::Rules;
pub use ibc::{
    Foot, Limit, Post, Stability, Staked,
    ballast::{Ballasted, Rule},
    serviceability::DeflectionCase,
};
pub(crate) use nds::Bound;
pub use nds::{ScrewJoint, head_mm};
pub(crate) use refusal::within;
pub use refusal::{Forbidden, NotHeld, OutsideRange, Refusal, TooClose};

/// A document that says what parts may carry. What it does not answer, it says so: never a number, never silence.
pub(crate) trait Code {
    /// Its name.
    fn document(&self) -> &'static str;

    /// What it says when it is asked for what it does not treat.
    fn does_not_treat(&self, what: &str) -> Refusal {
        Refusal::not_held(format!("{} says nothing of {what}", self.document()))
    }

    /// A member with the lengths over which it is free, ready to be asked; `wet` for wood above 19 % moisture.
    ///
    /// # Errors
    /// A section or material that is not held.
    fn member(&self, _section: &'static Section, _free: Free, _wet: bool) -> Result<Box<dyn Member>, Refusal> {
        Err(self.does_not_treat("members"))
    }

    /// Bolts and screws of a joint.
    ///
    /// # Errors
    /// Fasteners that are not held.
    fn joint(&self, _joint: Joint) -> Result<Calc, Refusal> {
        Err(self.does_not_treat("bolts and screws"))
    }

    /// What holds a part on the ground or in it.
    ///
    /// # Errors
    /// What is proved by a test alone.
    fn foot(&self, _foot: Foot) -> Result<Calc, Refusal> {
        Err(self.does_not_treat("feet"))
    }

    /// Rules beside strength: limits of movement, factors, forbidden ways of loading.
    ///
    /// # Errors
    /// Rules that are not held.
    fn rules(&self) -> Result<&'static ibc::Rules, Refusal> {
        Err(self.does_not_treat("limits"))
    }
}
