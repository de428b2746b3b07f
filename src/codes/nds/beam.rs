//! Lateral stability of beams.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Kind of span and load, which sets the effective length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BeamLoading {
    /// Simple span, uniform load.
    SimpleUniform,
    /// Simple span, load at the centre, no brace there.
    SimpleCentre,
    /// Simple span, load at the centre, braced there.
    SimpleCentreBraced,
    /// Two equal loads at the third points, braced there.
    ThirdPointsBraced,
    /// Three equal loads at the quarter points, braced there.
    QuarterPointsBraced,
    /// Cantilever, uniform load.
    CantileverUniform,
    /// Cantilever, load at the end.
    CantileverEnd,
    /// Anything else.
    Other,
}

/// Effective lengths; the bands were settled by two worked examples.
pub const EFFECTIVE_LENGTH: Source = Source::new("NDS-2018", "Table 3.3.3", Certainty::Transcribed);
/// Beam stability.
pub const BEAM_STABILITY: Source = Source::new("NDS-2018", "§3.3.3", Certainty::Transcribed);

/// Effective length l_e of a bending member (in) from its unbraced length and depth (in).
///
/// The band 1.84 l_u above l_u/d = 14.3 belongs to the row "any other case" alone.
pub fn effective_length<T: Trace>(trace: &mut T, loading: BeamLoading, unbraced_in: f64, depth_in: f64) -> f64 {
    let (l_u, d) = (unbraced_in, depth_in);
    let short = l_u / d < 7.0;
    let (formula, l_e): (&'static str, f64) = match (loading, short) {
        (BeamLoading::SimpleUniform | BeamLoading::Other, true) => ("2.06*l_u", 2.06 * l_u),
        (BeamLoading::Other, false) if l_u / d > 14.3 => ("1.84*l_u", 1.84 * l_u),
        (BeamLoading::SimpleUniform | BeamLoading::Other, false) => ("1.63*l_u + 3*d", 1.63 * l_u + 3.0 * d),
        (BeamLoading::SimpleCentre, true) => ("1.80*l_u", 1.80 * l_u),
        (BeamLoading::SimpleCentre, false) => ("1.37*l_u + 3*d", 1.37 * l_u + 3.0 * d),
        (BeamLoading::SimpleCentreBraced, _) => ("1.11*l_u", 1.11 * l_u),
        (BeamLoading::ThirdPointsBraced, _) => ("1.68*l_u", 1.68 * l_u),
        (BeamLoading::QuarterPointsBraced, _) => ("1.54*l_u", 1.54 * l_u),
        (BeamLoading::CantileverUniform, true) => ("1.33*l_u", 1.33 * l_u),
        (BeamLoading::CantileverUniform, false) => ("0.90*l_u + 3*d", 0.90 * l_u + 3.0 * d),
        (BeamLoading::CantileverEnd, true) => ("1.87*l_u", 1.87 * l_u),
        (BeamLoading::CantileverEnd, false) => ("1.44*l_u + 3*d", 1.44 * l_u + 3.0 * d),
    };
    step!(trace, "effective length in bending", l_e ["in"] = formula, { l_u ["in"], d ["in"] }, EFFECTIVE_LENGTH);
    l_e
}

/// What beam stability gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BeamStability {
    /// Slenderness R_B.
    pub r_b: f64,
    /// Critical buckling stress F_bE (psi).
    pub f_be_psi: f64,
    /// Beam stability factor C_L.
    pub c_l: f64,
}

/// Beam stability factor of a rectangle bent about its strong axis.
///
/// ```text
/// R_B = √(l_e d / b²)    F_bE = 1.20 E_min′ / R_B²    α = F_bE / F_b*
/// C_L = (1 + α)/1.9 − √( ((1 + α)/1.9)² − α/0.95 )
/// ```
///
/// # Units
/// Inches and psi; `e_min_psi` adjusted, `fb_star_psi` without C_L and C_fu. C_L is 1 when d ≤ b or the unbraced
/// length is zero.
///
/// # Errors
/// [`Refusal::OutsideRange`] when R_B is above 50.
///
/// # Source
/// NDS-2018 §3.3.3. Worked beam of *Structural Wood Design Examples* E1.2a in `tests/handbook/nds_members.rs`.
pub fn beam_stability<T: Trace>(
    trace: &mut T,
    [breadth_in, depth_in]: [f64; 2],
    effective_in: f64,
    e_min_psi: f64,
    fb_star_psi: f64,
) -> Result<BeamStability, Refusal> {
    let (b, d, l_e, e_min, fb_star) = (breadth_in, depth_in, effective_in, e_min_psi, fb_star_psi);
    let r_b = (l_e * d / (b * b)).sqrt();
    step!(trace, "slenderness of the beam", r_b [""] = "sqrt(l_e*d/b^2)", { l_e ["in"], d ["in"], b ["in"] }, BEAM_STABILITY);
    // No deeper than wide, or held along its whole length: nothing can roll over.
    if d <= b || l_e <= 0.0 {
        return Ok(BeamStability { r_b, f_be_psi: f64::INFINITY, c_l: 1.0 });
    }
    within("slenderness of the beam R_B", r_b, [0.0, 50.0], BEAM_STABILITY)?;
    let f_be = 1.2 * e_min / (r_b * r_b);
    step!(trace, "critical buckling stress of the beam", f_be ["psi"] = "1.2*e_min/r_b^2", { e_min ["psi"], r_b [""] }, BEAM_STABILITY);
    let alpha = f_be / fb_star;
    step!(trace, "buckling stress over bending strength", alpha [""] = "f_be/fb_star", { f_be ["psi"], fb_star ["psi"] }, BEAM_STABILITY);
    let half = (1.0 + alpha) / 1.9;
    let c_l = half - (half * half - alpha / 0.95).sqrt();
    step!(
        trace,
        "beam stability factor",
        c_l[""] = "(1 + alpha)/1.9 - sqrt(((1 + alpha)/1.9)^2 - alpha/0.95)",
        { alpha[""] },
        BEAM_STABILITY
    );
    Ok(BeamStability { r_b, f_be_psi: f_be, c_l })
}
