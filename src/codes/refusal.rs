//! Why an equation gives no number.

use crate::catalogue::Source;

/// A value lies outside the range an equation is published for.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{what} is {value:.4}, {} {source_of}", self.bounds())]
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

impl OutsideRange {
    /// The range in words; a range without an upper end names its lower one alone.
    fn bounds(&self) -> String {
        let low = plain(self.low);
        if self.high == f64::MAX {
            format!("below {low}, the least of")
        } else {
            format!("outside {low} to {}, the range of", plain(self.high))
        }
    }
}

/// A limit without the rounding of the multiplication it may come from.
fn plain(limit: f64) -> f64 {
    const DIGITS: i32 = 9;
    if limit == 0.0 || !limit.is_finite() {
        return limit;
    }
    let scale = 10_f64.powi(DIGITS - 1 - limit.abs().log10().floor() as i32);
    let rounded = (limit * scale).round() / scale;
    if rounded.is_finite() { rounded } else { limit }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Certainty;

    const SOURCE: Source = Source::new("NDS-2018", "§3.9", Certainty::Transcribed);

    fn words(value: f64, range: [f64; 2]) -> String {
        within("depth (in)", value, range, SOURCE).expect_err("outside").to_string()
    }

    #[test]
    fn a_range_without_an_upper_end_is_not_written_as_the_largest_number() {
        assert_eq!(words(0.5, [6.0 * 0.19, f64::MAX]), "depth (in) is 0.5000, below 1.14, the least of NDS-2018 §3.9");
        assert_eq!(words(-1.0, [0.0, f64::MAX]), "depth (in) is -1.0000, below 0, the least of NDS-2018 §3.9");
        assert_eq!(
            words(2.0, [1e-6, 1.1]),
            "depth (in) is 2.0000, outside 0.000001 to 1.1, the range of NDS-2018 §3.9"
        );
    }
}
