//! Stakes driven beside runners: judgement throughout.

use super::embedment::Post;
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// The embedment equation turned round for a short stake.
pub const STAKE: Source =
    Source::new("IBC 2018", "Eq. 18-1 solved for the force, used for stakes", Certainty::Judgement);

/// What a pull test is worth.
pub const PULL_TEST: Source = Source::new(
    "judgement",
    "half of what a stake held in a pull test on the spot; IBC 2018 §1810.3.3.1.5 asks 1.5 of load-tested piles under wind",
    Certainty::Judgement,
);

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
    let (depth, loose) = (depth_ft, loose_ft);
    step!(trace, "depth that holds: loose soil at the top does not", d ["ft"] = "depth - loose", { depth ["ft"], loose ["ft"] }, STAKE);
    let (b, h, s) = (width_ft, height_ft + loose_ft, lateral_psf_per_ft);
    let s1 = Post::with_force_at(1.0, h, b, s).pressure_psf(d / 3.0);
    step!(trace, "allowable lateral pressure at a third of the depth", s1 ["psf"] = "s*d/3", { s ["psf/ft"], d ["ft"] }, STAKE);
    let p = s1 * b * d * d / (2.34 * (d + 1.09 * h));
    step!(trace, "sideways force on a stake", p ["lb"] = "s1*b*d^2/(2.34*(d + 1.09*h))", { s1 ["psf"], b ["ft"], d ["ft"], h ["ft"] }, STAKE);
    Ok(p)
}

/// Utilisation of a stake that is pulled (lb), where one of its kind held `held` (lb) in a pull test on the spot.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the test held nothing.
pub fn pulled<T: Trace>(trace: &mut T, pull: f64, held: f64) -> Result<f64, Refusal> {
    within("force held in the pull test (lb)", held, [1e-3, 1e9], PULL_TEST)?;
    let u = 2.0 * pull / held;
    step!(trace, "pull over half of what the test held", u [""] = "2*pull/held", { pull ["lb"], held ["lb"] }, PULL_TEST);
    Ok(u)
}

/// Why the pull-out of a driven stake or ground screw is not computed: it is proved by a pull test on the spot.
#[must_use]
pub fn not_tested() -> Refusal {
    Refusal::not_held("pull-out of stakes and ground screws; prove it by a pull test on the spot")
}
