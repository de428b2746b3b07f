//! Bearing of a footing on the ground.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Bearing pressure.
pub const BEARING: Source = Source::new("statics", "force over area, Table 1806.2 allows", Certainty::Derived);
/// Eccentric bearing.
pub const ECCENTRIC: Source = Source::new("statics", "rigid footing, no tension on the ground", Certainty::Derived);

/// Bearing pressure (psf) of a round footing under its load and weight.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the diameter is not above zero.
pub fn round_pressure<T: Trace>(trace: &mut T, load_lb: f64, diameter_ft: f64) -> Result<f64, Refusal> {
    let b = within("diameter (ft)", diameter_ft, [1e-6, 1e3], BEARING)?;
    let (p, pi) = (load_lb, std::f64::consts::PI);
    let q = p / (pi * b * b / 4.0);
    step!(trace, "bearing pressure", q ["psf"] = "p/(pi*b^2/4)", { p ["lb"], pi [""], b ["ft"] }, BEARING);
    Ok(q)
}

/// Largest bearing pressure (psf) under a rectangular runner or pad, length `along_ft` in the direction of the moment.
///
/// ```text
/// e = M/P    e ≤ L/6: q = P/(B L)(1 + 6e/L)    else q = 2P/(3 B (L/2 − e))
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when the load lifts (P ≤ 0) or stands outside the pad (e ≥ L/2): it tips.
pub fn pad_pressure<T: Trace>(
    trace: &mut T,
    load_lb: f64,
    moment_ft_lb: f64,
    along_ft: f64,
    across_ft: f64,
) -> Result<f64, Refusal> {
    let p = within("vertical load (lb)", load_lb, [1e-9, 1e12], ECCENTRIC)?;
    let (m, l, w) = (moment_ft_lb.abs(), along_ft, across_ft);
    let e = m / p;
    step!(trace, "eccentricity of the load", e ["ft"] = "m/p", { m ["ft lb"], p ["lb"] }, ECCENTRIC);
    within("eccentricity (ft)", e, [0.0, l / 2.0 * (1.0 - 1e-9)], ECCENTRIC)?;
    let whole = e <= l / 6.0;
    let q = if whole { p / (w * l) * (1.0 + 6.0 * e / l) } else { 2.0 * p / (3.0 * w * (l / 2.0 - e)) };
    let formula = if whole { "p/(w*l)*(1 + 6*e/l)" } else { "2*p/(3*w*(l/2 - e))" };
    step!(trace, "largest bearing pressure", q ["psf"] = formula, { p ["lb"], w ["ft"], l ["ft"], e ["ft"] }, ECCENTRIC);
    Ok(q)
}
