//! Comes in: a load basis and the sizes of the panel surface. Goes out: pressures and forces of each case, and their combinations.
//! This room never solves a frame.
//!
//! ```text
//! LoadBasis + Surface ──gather──► TiltLoads: cases, refused rows, component pressures
//!                                     └──combine(rules)──► combinations with their load duration
//! ```
//!
//! Wind by ASCE 7 is at strength level (factor 0.6 in allowable stress design), its snow at the level of its edition.
//! Where the printed figures end, a case says so in its [`RangeState`]; rows without a value stand in their own list,
//! so that nobody takes a missing load for a zero one.

pub mod asce7;
mod case;
pub mod combination;
pub mod dead;
pub mod en1991;
mod gather;
pub mod handling;
pub mod risk;
pub mod snow;
mod state;
mod surface;

pub use crate::design::LoadBasis;
pub use case::{Across, Action, BareWind, Case, Load, PointLoad, Refusal, Resultant, Strip, SurfaceLoad, WindFrom};
pub use combination::{Combination, Duration, Method, Rule, combine, rules};
pub use gather::{Stand, TiltLoads, gather};
pub use state::{Envelope, LoadError, RangeState};
pub use surface::Surface;
