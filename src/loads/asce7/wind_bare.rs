//! Wind on bare members: the frame before its panels are on, bracing, posts.

use super::{GUST_FACTOR, VelocityPressure};
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use serde::Serialize;

/// Open signs and lattice frames.
pub const LATTICE: Source = Source::new("ASCE 7-16", "Fig. 29.4-2 (7-10 Fig. 29.5-2)", Certainty::Agreed);
/// Single posts: chimneys, tanks and similar structures.
pub const POST: Source = Source::new("ASCE 7-16", "Fig. 29.4-1 (7-10 Fig. 29.5-1)", Certainty::Agreed);

/// Shape of a member across the wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Shape {
    /// Flat sides: timber, tube, angle, channel.
    Flat,
    /// A square set with its diagonal along the wind.
    Diagonal,
    /// Round pipe.
    Round,
}

/// Largest coefficient of flat-sided members in the lattice figure.
pub const LARGEST_FLAT: f64 = 2.0;
/// Largest coefficient of round members in the lattice figure.
pub const LARGEST_ROUND: f64 = 1.5;

/// Wind force per unit of solid area of a bare member, at least the minimum \[Pa\].
///
/// # Source
/// ASCE 7-16 Eq. 29.4-1, `F = q_z G C_f A_f`, and §29.7 (16 psf at least).
pub fn bare_pressure<T: Trace>(q: VelocityPressure, c_f: f64, source: Source, trace: &mut T) -> f64 {
    let value = (q.directed_pa() * GUST_FACTOR * c_f).max(super::MINIMUM_PA);
    trace.step(|| Step {
        what: "wind on bare members, per solid area",
        symbol: "p",
        formula: q.formula("max(q_h*K_d*G*C_f, p_min)", "max(q_h*G*C_f, p_min)"),
        terms: q.terms([
            term("G", GUST_FACTOR, ""),
            term("C_f", c_f, ""),
            term("p_min", q.shown(super::MINIMUM_PA), q.unit()),
        ]),
        value: q.shown(value),
        unit: q.unit(),
        source,
    });
    value
}
