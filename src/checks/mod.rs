//! Comes in: forces and sections. Goes out: utilisations with equation and source.
//! This room never prints.
//!
//! Every equation is a function generic over [`Trace`](crate::catalogue::Trace), in the units its standard prints it
//! in; the unit stands at the end of each name. Outside its published range it gives a [`Refusal`], never a number.

#[macro_use]
mod step;
pub mod aisc360;
pub mod aluminium;
pub mod calc_sheet;
pub mod load_sheet;
pub mod model;
pub mod nds;
mod refusal;
pub mod serviceability;
pub mod soil;
pub mod verify;

pub(crate) use refusal::within;
pub use refusal::{Forbidden, NotHeld, OutsideRange, Refusal, TooClose};
