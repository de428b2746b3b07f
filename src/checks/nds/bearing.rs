//! Bearing of wood on wood, washers and steel.

use super::factors;
use crate::{
    catalogue::{Certainty, Source, Trace},
    checks::Refusal,
};

/// Bearing across the grain.
pub const BEARING: Source = Source::new("NDS-2018", "§3.10.2", Certainty::Transcribed);
/// Bearing at an angle.
pub const HANKINSON: Source = Source::new("NDS-2018", "§3.10.3", Certainty::Transcribed);

/// Bearing stress (psi) of a force on a net area.
pub fn bearing_stress<T: Trace>(trace: &mut T, force_lb: f64, area_in2: f64) -> f64 {
    let (r, a) = (force_lb, area_in2);
    let f_cp = r / a;
    step!(trace, "bearing stress", f_cp ["psi"] = "r/a", { r ["lb"], a ["in^2"] }, BEARING);
    f_cp
}

/// Allowable bearing across the grain (psi) with the bearing area factor.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the bearing length is not above zero.
pub fn allowed_across<T: Trace>(
    trace: &mut T,
    fc_perp_psi: f64,
    length_in: f64,
    from_end_in: f64,
) -> Result<f64, Refusal> {
    let (c_b, f) = (factors::bearing_area(length_in, from_end_in)?, fc_perp_psi);
    let f_cp = f * c_b;
    step!(trace, "allowable bearing across the grain", f_cp ["psi"] = "f*c_b", { f ["psi"], c_b [""] }, factors::BEARING_AREA);
    Ok(f_cp)
}

/// Allowable bearing (psi) of a load at `angle_deg` to the grain.
///
/// ```text
/// F_θ = F_c* F_c⊥′ / (F_c* sin²θ + F_c⊥′ cos²θ)
/// ```
pub fn allowed_at_angle<T: Trace>(trace: &mut T, fc_star_psi: f64, fc_perp_psi: f64, angle_deg: f64) -> f64 {
    let (fc_star, fc_perp, theta) = (fc_star_psi, fc_perp_psi, angle_deg.to_radians());
    let f = fc_star * fc_perp / (fc_star * theta.sin().powi(2) + fc_perp * theta.cos().powi(2));
    step!(trace, "allowable bearing at an angle to the grain", f ["psi"] =
        "fc_star*fc_perp/(fc_star*sin(theta)^2 + fc_perp*cos(theta)^2)",
        { fc_star ["psi"], fc_perp ["psi"], theta ["rad"] }, HANKINSON);
    f
}
