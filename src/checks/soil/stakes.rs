//! Stakes driven beside runners: judgement throughout.

use super::embedment::Post;
use crate::{
    catalogue::{Certainty, Source, Trace},
    checks::{Refusal, within},
};

/// The embedment equation turned round for a short stake.
pub const STAKE: Source =
    Source::new("IBC 2018", "Eq. 18-1 solved for the force, used for stakes", Certainty::Judgement);

/// Sideways force (lb) that a driven stake may take at `height_ft` above the ground.
///
/// ```text
/// P = S1 b d²/(2.34 (d + 1.09 h))      S1 = s d/3
/// ```
///
/// The upper `loose_ft` of soil is not counted. A judgement: the equation is written for posts, and driving loosens or
/// tightens the ground in ways nobody has tabulated.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the stake does not reach below the loose soil.
pub fn lateral_force<T: Trace>(
    trace: &mut T,
    [width_ft, depth_ft]: [f64; 2],
    height_ft: f64,
    loose_ft: f64,
    lateral_psf_per_ft: f64,
) -> Result<f64, Refusal> {
    let d = within("depth below loose soil (ft)", depth_ft - loose_ft, [0.25, 20.0], STAKE)?;
    let (b, h, s) = (width_ft, height_ft + loose_ft, lateral_psf_per_ft);
    let s1 = Post::with_force_at(1.0, h, b, s).pressure_psf(d / 3.0);
    step!(trace, "allowable lateral pressure at a third of the depth", s1 ["psf"] = "s*d/3", { s ["psf/ft"], d ["ft"] }, STAKE);
    let p = s1 * b * d * d / (2.34 * (d + 1.09 * h));
    step!(trace, "sideways force on a stake", p ["lb"] = "s1*b*d^2/(2.34*(d + 1.09*h))", { s1 ["psf"], b ["ft"], d ["ft"], h ["ft"] }, STAKE);
    Ok(p)
}

/// Pull-out of a driven stake or ground screw.
///
/// # Errors
/// [`Refusal::NotHeld`] always: it is proved by a pull test on the spot.
pub fn pull_out() -> Result<f64, Refusal> {
    Err(Refusal::not_held("pull-out of stakes and ground screws; prove it by a pull test on the spot"))
}
