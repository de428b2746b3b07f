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

impl Envelope {
    /// The envelopes that have a name.
    pub const NAMED: [Self; 2] = [Self::J1, Self::J2];

    /// Its short name; none for a judgement that says all of itself.
    #[must_use]
    pub fn name(self) -> Option<&'static str> {
        match self {
            Self::J1 => Some("J1"),
            Self::J2 => Some("J2"),
            Self::Added => None,
        }
    }

    /// What is done under it, in full.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            Self::J1 => {
                "at tilts up to 45° the wind coefficients of the figure are taken whatever the height of the frame over its \
                 length, in every case of the figure, and never below the least pressure of the standard"
            }
            Self::J2 => {
                "above the last tilt of the figure its last coefficients are held (on ASCE 7 those of 45°, as far as 60°), run \
                 from there straight to the coefficient of an upright sign at 90°, and never fall below it; coefficients of \
                 panels and clips and of wind along the low edge are held unchanged"
            }
            Self::Added => "a case or a load that the standard does not give, as its own words say",
        }
    }
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
