//! Forces that act together.

use crate::catalogue::{Certainty, Source, Trace};

/// Axial force with bending.
pub const AXIAL_BENDING: Source = Source::new("AISC 360-16", "Eqs H1-1a, H1-1b", Certainty::Transcribed);
/// Angles and other sections without two axes of symmetry.
pub const STRESSES: Source = Source::new("AISC 360-16", "Eq. H2-1", Certainty::Agreed);
/// Torsion with the rest.
pub const WITH_TORSION: Source = Source::new("AISC 360-16", "Eq. H3-6", Certainty::Agreed);

/// Utilisation of axial force with bending about both axes.
///
/// `axial` and each of `moments` is required over available, as magnitudes.
///
/// ```text
/// p ≥ 0.2: p + 8/9 (m_x + m_y)      p < 0.2: p/2 + m_x + m_y
/// ```
pub fn axial_bending<T: Trace>(trace: &mut T, axial: f64, moments: [f64; 2]) -> f64 {
    let (p, m_x, m_y) = (axial.abs(), moments[0].abs(), moments[1].abs());
    let large = p >= 0.2;
    let u = if large { p + 8.0 / 9.0 * (m_x + m_y) } else { p / 2.0 + m_x + m_y };
    let formula = if large { "p + 8/9*(m_x + m_y)" } else { "p/2 + m_x + m_y" };
    step!(trace, "axial force with bending", u [""] = formula, { p [""], m_x [""], m_y [""] }, AXIAL_BENDING);
    u
}

/// Utilisation at one point of a section: the sum of signed stress ratios.
pub fn stress_sum<T: Trace>(trace: &mut T, axial: f64, [about_w, about_z]: [f64; 2]) -> f64 {
    let (a, b_w, b_z) = (axial, about_w, about_z);
    let u = (a + b_w + b_z).abs();
    step!(trace, "sum of stress ratios", u [""] = "abs(a + b_w + b_z)", { a [""], b_w [""], b_z [""] }, STRESSES);
    u
}

/// Utilisation with torsion above a fifth of its strength: `axial_and_bending` + (shear + torsion)².
///
/// Below that share torsion is left out and [`axial_bending`] governs.
pub fn with_torsion<T: Trace>(trace: &mut T, axial_and_bending: f64, shear: f64, torsion: f64) -> f64 {
    let (p_m, v, t) = (axial_and_bending.abs(), shear.abs(), torsion.abs());
    if t <= 0.2 {
        return p_m;
    }
    let u = p_m + (v + t).powi(2);
    step!(trace, "all forces with torsion", u [""] = "p_m + (v + t)^2", { p_m [""], v [""], t [""] }, WITH_TORSION);
    u
}
