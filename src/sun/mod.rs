//! Comes in: a place and a date. Goes out: sun positions, energy on a tilted face, seasons, hours of sun over a horizon.
//! This room never knows the frame: it works for any flat face.

pub mod calendar;
pub mod compass;
pub mod daylight;
mod drillable;
pub mod energy;
mod fault;
mod goal;
pub mod horizon;
mod noon;
mod partition;
mod place;
pub mod position;
pub mod rows;
pub mod seasons;
pub mod site;
pub mod sky;
pub mod survey;
pub mod thumb;

pub use calendar::{Date, MonthDay};
pub use drillable::DrillablePlan;
pub use fault::SunFault;
pub use noon::{NoonAltitudes, noon_altitude, noon_altitudes};
pub use place::Place;
