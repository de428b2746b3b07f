//! Wind on bare members: the frame before its panels are on, bracing, posts.

use super::{GUST_FACTOR, VelocityPressure};
use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::loads::LoadError;
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

/// `D √q_z` above which a round member sheds less drag [m √Pa].
const ROUND_LIMIT: f64 = 5.3;

/// Force coefficient of a lattice by the share of solid area in its outline.
///
/// # Units
/// `solidity` (–); `diameter_mm` of round members \[mm\]; `q_pa` \[Pa\].
///
/// # Errors
/// [`LoadError::OutsideFigure`] above 0.7: that is a solid sign.
pub fn lattice_coefficient(shape: Shape, solidity: f64, diameter_mm: f64, q_pa: f64) -> Result<f64, LoadError> {
    let band = match solidity {
        s if (0.0..0.1).contains(&s) => 0,
        s if (0.1..0.3).contains(&s) => 1,
        s if (0.3..=0.7).contains(&s) => 2,
        _ => {
            return Err(LoadError::OutsideFigure {
                what: "share of solid area of a bare frame",
                found: solidity,
                range: "0 to 0.7",
                place: "ASCE 7-16 Fig. 29.4-2",
            });
        }
    };
    Ok(match (shape, is_slow(diameter_mm, q_pa)) {
        (Shape::Flat | Shape::Diagonal, _) => [2.0, 1.8, 1.6][band],
        (Shape::Round, true) => [1.2, 1.3, 1.5][band],
        (Shape::Round, false) => [0.8, 0.9, 1.1][band],
    })
}

fn is_slow(diameter_mm: f64, q_pa: f64) -> bool {
    diameter_mm / 1000.0 * q_pa.sqrt() <= ROUND_LIMIT
}

/// Force coefficient of a post standing alone, linear in its height over width.
///
/// # Units
/// `height_mm`, `width_mm` (least width or diameter) \[mm\]. Round posts take the row for slow flow, which is never the
/// smaller one.
#[must_use]
pub fn post_coefficient(shape: Shape, height_mm: f64, width_mm: f64) -> f64 {
    const SLENDER: [f64; 3] = [1.0, 7.0, 25.0];
    let cells = match shape {
        Shape::Flat => [1.3, 1.4, 2.0],
        Shape::Diagonal => [1.0, 1.1, 1.5],
        Shape::Round => [0.7, 0.8, 1.2],
    };
    let ratio = (height_mm / width_mm).clamp(SLENDER[0], SLENDER[2]);
    let i = usize::from(ratio > SLENDER[1]);
    cells[i] + (cells[i + 1] - cells[i]) * (ratio - SLENDER[i]) / (SLENDER[i + 1] - SLENDER[i])
}

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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn coefficients_follow_the_bands() {
        let c = |shape, s| lattice_coefficient(shape, s, 60.0, 1000.0).expect("inside the figure");
        assert_eq!([0.05, 0.1, 0.29, 0.3, 0.7].map(|s| c(Shape::Flat, s)), [2.0, 1.8, 1.8, 1.6, 1.6]);
        // 0.06 m · √1000 Pa = 1.9, slow; 0.2 m · √1000 Pa = 6.3, fast.
        assert_eq!([0.05, 0.2, 0.5].map(|s| c(Shape::Round, s)), [1.2, 1.3, 1.5]);
        assert_eq!(lattice_coefficient(Shape::Round, 0.05, 200.0, 1000.0), Ok(0.8));
        assert!(lattice_coefficient(Shape::Flat, 0.71, 60.0, 1000.0).is_err());
    }

    #[test]
    fn a_slender_post_takes_more() {
        assert_eq!([1.0, 7.0, 25.0, 40.0].map(|r| post_coefficient(Shape::Flat, r, 1.0)), [1.3, 1.4, 2.0, 2.0]);
        assert!((post_coefficient(Shape::Flat, 16.0, 1.0) - 1.7).abs() < 1e-12);
        assert_eq!(post_coefficient(Shape::Round, 7.0, 1.0), 0.8);
        assert_eq!(post_coefficient(Shape::Diagonal, 25.0, 1.0), 1.5);
    }
}
