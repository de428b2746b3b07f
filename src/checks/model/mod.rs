//! Comes in: a frame laid out and its loads at one tilt. Goes out: a model to analyse, its load cases and combinations.
//! This folder never judges a result.
//!
//! Axes of the model: X across, to the right seen from the front; Y level, from the low towards the high edge; Z up;
//! origin on the axle or hinge.

mod build;
mod builder;
mod in_soil;
mod joints;
mod material;
mod on_surface;
mod rod;
mod run;
mod skeleton;
mod spread;

pub use build::build;
pub use in_soil::{SPRINGS, subgrade_n_per_mm2};
pub use material::{Material, material};
pub use rod::{Rod, Segment};
pub use run::{AnswerId, Answered, StructureError, TiltRun, derive_loads, run_tilts};
pub use skeleton::{Link, LinkRow, Skeleton, StayRow};
