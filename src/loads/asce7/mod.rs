//! ASCE/SEI 7 (editions 7-10, 7-16, 7-22): wind on open monoslope roofs, signs, components, bare members and rooftop
//! panels.
//!
//! Not encoded: 7-22 §29.4.5 (ground-mounted fixed-tilt systems; its figures were not available), §29.4.1 (rooftop
//! structures), Chapter 10 (ice), Chapters 11 to 23 (seismic), §26.8 multipliers (the topographic factor is an input).

mod gust;
pub mod velocity_pressure;
pub mod wind_bare;
pub mod wind_components;
pub mod wind_open;
pub mod wind_roof;
pub mod wind_sign;

pub(in crate::loads) use gust::record_gust_factor;
pub use gust::{GUST_FACTOR, rigid};
pub use velocity_pressure::VelocityPressure;

use crate::catalogue::{Certainty, Source, Step, Trace, term};

/// Wind directionality factor of open roofs, solid signs and lattices (Table 26.6-1).
pub const K_D: f64 = 0.85;
/// Minimum wind on the projection to a vertical plane \[Pa\]: 16 psf, strength level.
pub const MINIMUM_PA: f64 = 16.0 * crate::quantities::PA_PER_PSF;

/// Source of the minimum wind load of open buildings.
pub const MINIMUM_SOURCE: Source = Source::new("ASCE 7-16", "§27.1.5, §29.7", Certainty::Transcribed);

/// Source of the directionality factor.
const DIRECTIONALITY: Source =
    Source::new("ASCE 7-16", "Table 26.6-1: open roofs, solid signs, lattices", Certainty::Agreed);

/// A value that is read from a table, recorded as what it is.
pub(in crate::loads) fn tabulated<T: Trace>(
    what: &'static str,
    (symbol, in_table): (&'static str, &'static str),
    value: f64,
    source: Source,
    trace: &mut T,
) {
    trace.step(|| Step {
        what,
        symbol,
        formula: in_table,
        terms: vec![term(in_table, value, "")],
        value,
        unit: "",
        source,
    });
}

/// A straight line between two points, `CN_1 + (CN_2 − CN_1)(θ − θ_1)/(θ_2 − θ_1)`, recorded.
fn between<T: Trace>(
    what: &'static str,
    theta: f64,
    (theta_1, value_1): (f64, f64),
    (theta_2, value_2): (f64, f64),
    source: Source,
    trace: &mut T,
) -> f64 {
    // At a table row the row itself is used: no rounding of the published figure.
    let value = if theta == theta_2 {
        value_2
    } else {
        value_1 + (value_2 - value_1) * (theta - theta_1) / (theta_2 - theta_1)
    };
    trace.step(|| Step {
        what,
        symbol: "CN",
        formula: "CN_1 + (CN_2 - CN_1)*(theta - theta_1)/(theta_2 - theta_1)",
        terms: vec![
            term("CN_1", value_1, ""),
            term("CN_2", value_2, ""),
            term("theta", theta, "deg"),
            term("theta_1", theta_1, "deg"),
            term("theta_2", theta_2, "deg"),
        ],
        value,
        unit: "",
        source,
    });
    value
}
