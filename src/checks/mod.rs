//! Comes in: a frame, its forces and what strength was given. Goes out: every check with its worst utilisation.
//! This room never prints.

pub mod calc_sheet;
pub mod load_sheet;
pub mod model;
mod strength;
pub mod verify;

pub use strength::{NO_LOADS, Strength, verdict};
