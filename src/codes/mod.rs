//! Comes in: forces, sections and fasteners. Goes out: utilisations, each with its equation and its source, document by
//! document. This room never chooses what is looked at, and never prints.
//!
//! Every equation is a function generic over [`Trace`](crate::catalogue::Trace), in the units its standard prints it
//! in; the unit stands at the end of each name. Outside its published range it gives a [`Refusal`], never a number.

#[macro_use]
mod step;
pub mod adm;
pub mod aisc360;
pub mod ibc;
pub mod nds;
mod refusal;

pub(crate) use refusal::within;
pub use refusal::{Forbidden, NotHeld, OutsideRange, Refusal, TooClose};
