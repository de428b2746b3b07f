//! How much concrete a footing takes, and what it weighs.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Volume of a round footing.
pub const VOLUME: Source = Source::new("geometry", "cylinder less the post", Certainty::Derived);

/// Concrete (ft³) in a round hole around a post of cross-section `post_in2` that reaches `post_depth_ft` into it.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the post does not fit into the hole.
pub fn round_volume<T: Trace>(
    trace: &mut T,
    diameter_ft: f64,
    depth_ft: f64,
    post_in2: f64,
    post_depth_ft: f64,
) -> Result<f64, Refusal> {
    let (b, d, a_post, d_post, pi) = (diameter_ft, depth_ft, post_in2, post_depth_ft, std::f64::consts::PI);
    within("post area (in²)", a_post, [0.0, pi * b * b / 4.0 * 144.0], VOLUME)?;
    within("depth of the post (ft)", d_post, [0.0, d], VOLUME)?;
    let v = pi / 4.0 * b * b * d - a_post / 144.0 * d_post;
    step!(trace, "volume of concrete", v ["ft^3"] = "pi/4*b^2*d - a_post/144*d_post",
        { pi [""], b ["ft"], d ["ft"], a_post ["in^2"], d_post ["ft"] }, VOLUME);
    Ok(v)
}

/// Weight (lb) of a volume of concrete at 150 lb/ft³.
pub fn weight<T: Trace>(trace: &mut T, volume_ft3: f64) -> f64 {
    let (v, gamma) = (volume_ft3, crate::catalogue::soils::CONCRETE_PCF);
    let w = v * gamma;
    step!(trace, "weight of concrete", w ["lb"] = "v*gamma", { v ["ft^3"], gamma ["lb/ft^3"] }, VOLUME);
    w
}
