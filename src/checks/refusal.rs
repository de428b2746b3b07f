//! Why an equation gives no number.

use crate::catalogue::Source;

/// A value lies outside the range an equation is published for.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{what} is {value:.4}, outside {low} to {high}, the range of {source_of}")]
pub struct OutsideRange {
    /// What is outside, with its unit.
    pub what: &'static str,
    /// Its value.
    pub value: f64,
    /// Lower end of the range.
    pub low: f64,
    /// Upper end of the range.
    pub high: f64,
    /// Where the range is published.
    pub source_of: Source,
}

/// A value, table or equation that is not held.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("not checked: {what}")]
pub struct NotHeld {
    /// What is missing and why.
    pub what: String,
}

/// Distances of a fastener below the least ones, where a joint is not allowed at all.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{what} is {given_in:.3} in and must be at least {least_in:.3} in ({source_of})")]
pub struct TooClose {
    /// Which distance.
    pub what: &'static str,
    /// What it is (in).
    pub given_in: f64,
    /// The least allowed (in).
    pub least_in: f64,
    /// Where the rule stands.
    pub source_of: Source,
}

/// A way of loading that the standard forbids.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{what} ({source_of})")]
pub struct Forbidden {
    /// What is not allowed.
    pub what: &'static str,
    /// Where the rule stands.
    pub source_of: Source,
}

/// An equation that is not evaluated; it becomes a verdict, never a number.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Refusal {
    /// Outside the published range.
    #[error(transparent)]
    OutsideRange(#[from] OutsideRange),
    /// Not held.
    #[error(transparent)]
    NotHeld(#[from] NotHeld),
    /// Geometry not allowed.
    #[error(transparent)]
    TooClose(#[from] TooClose),
    /// Loading not allowed.
    #[error(transparent)]
    Forbidden(#[from] Forbidden),
}

impl Refusal {
    /// A thing that is not held.
    pub fn not_held(what: impl Into<String>) -> Self {
        Self::NotHeld(NotHeld { what: what.into() })
    }
}

/// Lets `value` through when it lies in a closed range.
///
/// # Errors
/// [`OutsideRange`] when it does not, or is no number.
pub(crate) fn within(
    what: &'static str,
    value: f64,
    [low, high]: [f64; 2],
    source_of: Source,
) -> Result<f64, OutsideRange> {
    if value >= low && value <= high { Ok(value) } else { Err(OutsideRange { what, value, low, high, source_of }) }
}
