//! Brackets that tie runners to a roof or deck.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Rated forces.
pub const RATED: Source = Source::new("bracket data sheet", "rated uplift and lateral force", Certainty::Read);
/// Both at once.
pub const BOTH: Source =
    Source::new("judgement", "a bracket's two rated forces shared in a straight line", Certainty::Judgement);

/// Utilisation of a bracket that is pulled up and pushed along the surface (lb), of its two rated forces (lb).
///
/// ```text
/// u = pull/uplift + push/lateral
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] for rated forces that are not above zero.
pub fn bracket<T: Trace>(trace: &mut T, [pull, push]: [f64; 2], [uplift, lateral]: [f64; 2]) -> Result<f64, Refusal> {
    within("rated uplift (lb)", uplift, [1e-3, 1e9], RATED)?;
    within("rated lateral force (lb)", lateral, [1e-3, 1e9], RATED)?;
    let u = pull / uplift + push / lateral;
    step!(trace, "pull and push over the rated forces of a bracket", u [""] = "pull/uplift + push/lateral",
        { pull ["lb"], uplift ["lb"], push ["lb"], lateral ["lb"] }, BOTH);
    Ok(u)
}
