//! How far a result may be trusted: published, judgement, or refused; and what the room refuses.

use serde::Serialize;
use thiserror::Error;

/// The rule of judgement a value rests on. An engineer must accept it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub enum Envelope {
    /// Tilt up to 45°, height over length outside the figure: the figure's coefficients, all cases, minimum pressure.
    J1,
    /// Tilt above 45°: the 45° coefficients held to 60°, then linear to the sign coefficient at 90°, never below it.
    J2,
    /// A case added by judgement on top of what the standard asks for, or a load the standard does not give.
    Added,
}

/// State of one result row.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum RangeState {
    /// Inside the range of the published figure.
    Published,
    /// Outside it, by a stated envelope; never a pass.
    Judgement(Envelope, &'static str),
    /// No value is given, with the reason.
    Refused(String),
}

impl RangeState {
    /// The weaker of two states.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        let rank = |state: &Self| match state {
            Self::Published => 0,
            Self::Judgement(Envelope::Added, _) => 1,
            Self::Judgement(Envelope::J1, _) => 2,
            Self::Judgement(Envelope::J2, _) => 3,
            Self::Refused(_) => 4,
        };
        if rank(&other) > rank(&self) { other } else { self }
    }

    /// Is it inside the published range?
    #[must_use]
    pub fn is_published(&self) -> bool {
        *self == Self::Published
    }
}

impl std::fmt::Display for RangeState {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Published => f.write_str("published"),
            Self::Judgement(Envelope::J1, why) => write!(f, "judgement J1: {why}"),
            Self::Judgement(Envelope::J2, why) => write!(f, "judgement J2: {why}"),
            Self::Judgement(Envelope::Added, why) => write!(f, "judgement: {why}"),
            Self::Refused(why) => write!(f, "refused: {why}"),
        }
    }
}

/// A value that was asked for and has no place in this room.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum LoadError {
    /// A size that is no size.
    #[error("the {what} is {value_mm} mm, which is no size of a frame")]
    NoSize {
        /// Which size.
        what: &'static str,
        /// Its value \[mm\].
        value_mm: f64,
    },
    /// A tilt no frame has.
    #[error("a tilt of {tilt_deg}° lies outside 0° to 90°")]
    TiltOutside {
        /// The tilt (°).
        tilt_deg: f64,
    },
    /// A figure does not reach there and no judgement is made.
    #[error("{what}: {found} lies outside {range} of {place}")]
    OutsideFigure {
        /// What was asked.
        what: &'static str,
        /// The value found.
        found: f64,
        /// The range of the figure.
        range: &'static str,
        /// The figure.
        place: &'static str,
    },
}
