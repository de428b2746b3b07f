//! A post pulled out of the ground.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Weight against uplift.
pub const WEIGHT: Source = Source::new("ASCE 7-16", "§2.4.1, 0.6 D + 0.6 W", Certainty::Agreed);
/// Friction on the shaft: judgement, because the clause is written for deep foundations cast against undisturbed soil.
pub const FRICTION: Source =
    Source::new("IBC 2018", "§1810.3.3.1.4, deep foundations; used here by judgement", Certainty::Judgement);

/// Friction on the shaft of a footing cast against undisturbed soil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShaftFriction {
    /// Vertical bearing of the soil (psf); the friction is a sixth of it and at most 500 psf.
    pub bearing_psf: f64,
    /// Depth from the ground that does not count: frost or disturbed soil, at least 1 ft.
    pub lost_ft: f64,
}

/// Uplift that is held (lb): 0.6 of the weights, and friction where it has been earned.
///
/// `friction` stays `None` for holes that are backfilled, formed with a tube or hold a wooden post: weight alone.
///
/// # Errors
/// [`Refusal::OutsideRange`] when less than 1 ft of depth is given up.
pub fn held_uplift<T: Trace>(
    trace: &mut T,
    concrete_lb: f64,
    frame_lb: f64,
    [diameter_ft, depth_ft]: [f64; 2],
    friction: Option<ShaftFriction>,
) -> Result<f64, Refusal> {
    let (w_c, w_f) = (concrete_lb, frame_lb);
    let held = 0.6 * (w_c + w_f);
    step!(trace, "uplift held by weight", held ["lb"] = "0.6*(w_c + w_f)", { w_c ["lb"], w_f ["lb"] }, WEIGHT);
    let Some(friction) = friction else { return Ok(held) };
    let lost = within("depth given up (ft)", friction.lost_ft, [1.0, f64::MAX], FRICTION)?;
    let q = friction.bearing_psf;
    let f_s = (q / 6.0).min(500.0);
    step!(trace, "friction on the shaft", f_s["psf"] = "min(q/6, 500)", { q["psf"] }, FRICTION);
    let (b, d, pi, by_weight) = (diameter_ft, depth_ft, std::f64::consts::PI, held);
    let held = by_weight + f_s * pi * b * (d - lost).max(0.0);
    step!(trace, "uplift held by weight and friction", held ["lb"] = "by_weight + f_s*pi*b*max(d - lost, 0)",
        { by_weight ["lb"], f_s ["psf"], pi [""], b ["ft"], d ["ft"], lost ["ft"] }, FRICTION);
    Ok(held)
}
