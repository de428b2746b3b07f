//! Comes in: a load basis and the sizes of the panel surface. Goes out: pressures and forces of each case, and their combinations.
//! This room never solves a frame.
//!
//! ```text
//! LoadBasis + Surface ──gather──► TiltLoads: cases, refused rows, component pressures
//!                                     └──Situation::combinations(rules)──► factored cases with their load duration
//! ```
//!
//! Wind by ASCE 7 is at strength level (factor 0.6 in allowable stress design), its snow at the level of its edition.
//! Where the printed figures end, a case says so in its [`RangeState`]; rows without a value stand in their own list,
//! so that nobody takes a missing load for a zero one.
//!
//! # Example
//! ```
//! use tiltwright::{catalogue::Silent, design::{Edition, WrittenBasis}};
//! use tiltwright::loads::{Method, Stand, Surface, gather, handling::situations, rules};
//!
//! let written = WrittenBasis::read_text("loads", "
//! edition: asce7-16
//! gust: 115 mph
//! exposure: C
//! risk_category: II
//! elevation: 300 ft
//! topography: 1
//! snow: {edition: asce7-16, ground: 25 psf, around: partially-exposed}
//! panel_design_load: {face: 3600 Pa, back: 1600 Pa}
//! below: clear
//! ").map_err(|mut faults| faults.remove(0))?;
//! let basis = written.resolve("").map_err(|mut faults| faults.remove(0))?;
//! // Two panels side by side at 35°, the low edge 600 mm above the ground, 45 kg together.
//! let surface = Surface::new(35.0, 1722.0, 2268.0, 600.0).expect("sizes");
//! let loads = gather(&basis, &surface, &Stand::Ground, 45.0, &mut Silent);
//! let in_service = &situations()[0];
//! let combinations = in_service.combinations(rules(Edition::Asce716, Method::Asd), &loads.cases, loads.q_pa);
//! assert!(combinations.iter().any(|c| c.name == "2.4.1-7 wind-back-clear-b"));
//! # Ok::<(), tiltwright::design::Fault>(())
//! ```

pub mod asce7;
mod case;
pub mod combination;
pub mod dead;
pub mod en1991;
mod gather;
pub mod handling;
mod record;
pub mod risk;
pub mod snow;
mod state;
mod surface;

/// What no load and no check here looks at: the one list, said wherever a verdict stands.
pub const LEFT_OUT: [&str; 8] = [
    "ice on the frame, and wind on what is iced (ASCE 7 Chapter 10)",
    "earthquakes (ASCE 7 Chapters 11 to 23)",
    "snow drifts against a taller wall or around a frame on a roof (ASCE 7 §7.7 to 7.9)",
    "ASCE 7-22 §29.4.5 for ground-mounted fixed-tilt systems: its figures were not available",
    "gusts that build up the sway of a frame below 1 Hz",
    "the structure of a roof, deck or trailer the frame stands on",
    "electrical work, bonding and lightning",
    "fatigue, decay and corrosion over the years: inspect every season",
];

/// That list as a sentence.
#[must_use]
pub fn left_out() -> String {
    format!("Left out: {}.", LEFT_OUT.join("; "))
}

pub use crate::design::LoadBasis;
pub use case::{Across, Action, BareWind, Case, Load, PointLoad, Refusal, Resultant, Strip, SurfaceLoad, WindFrom};
pub use combination::{Combination, Duration, Method, Rule, combine, rules};
pub use gather::{Stand, TiltLoads, gather};
pub use state::{Envelope, LoadError, RangeState};
pub use surface::Surface;
