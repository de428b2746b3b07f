//! What can be wrong with a place, a date or a number of seasons.

use crate::design::Fault;
use thiserror::Error;

/// Input that no sun can be computed for.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SunFault {
    /// A latitude beyond a pole, or no number.
    #[error("latitude {given_deg} deg is not on the globe")]
    Latitude {
        /// As given [deg].
        given_deg: f64,
    },
    /// A longitude beyond ±180 degrees, or no number.
    #[error("longitude {given_deg} deg is not on the globe")]
    Longitude {
        /// As given [deg].
        given_deg: f64,
    },
    /// A height above sea level that no ground has.
    #[error("{given_m} m above sea level is no height of the ground")]
    Height {
        /// As given [m].
        given_m: f64,
    },
    /// No season, or more than twelve.
    #[error("{given} seasons were asked for")]
    SeasonCount {
        /// As given.
        given: usize,
    },
    /// No tilt to choose from, or one outside 0 to 90 degrees.
    #[error("a tilt of {given_deg} deg cannot be used")]
    Tilt {
        /// As given [deg].
        given_deg: f64,
    },
    /// No tilt was offered.
    #[error("no tilt is left to choose from")]
    NoTilt,
    /// No day of the calendar.
    #[error("`{given}` is no day of the calendar")]
    Date {
        /// As given.
        given: String,
    },
    /// A year that the sun position is not published for.
    #[error("the year {given} is outside the published range of the sun position")]
    Year {
        /// As given.
        given: i32,
    },
    /// A month number outside 1 to 12, or a weight that is no positive number.
    #[error("{what} {given} cannot be used")]
    Weight {
        /// `month` or `weight`.
        what: &'static str,
        /// As given.
        given: f64,
    },
}

impl SunFault {
    /// Name of the fault, kebab-case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Latitude { .. } => "latitude-out-of-range",
            Self::Longitude { .. } => "longitude-out-of-range",
            Self::Height { .. } => "height-out-of-range",
            Self::SeasonCount { .. } => "season-count",
            Self::Tilt { .. } => "tilt-out-of-range",
            Self::NoTilt => "no-tilt",
            Self::Date { .. } => "no-such-date",
            Self::Year { .. } => "year-out-of-range",
            Self::Weight { .. } => "month-weight",
        }
    }

    /// The way out.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::Latitude { .. } => "a latitude runs from -90 (south) to 90 (north), for instance 40 deg",
            Self::Longitude { .. } => "a longitude runs from -180 (west) to 180 (east), for instance -105 deg",
            Self::Height { .. } => "a height above sea level runs from -500 m to 6000 m here",
            Self::SeasonCount { .. } => "a year is divided into 1 to 12 seasons",
            Self::Tilt { .. } => "a tilt runs from 0 (flat) to 90 (upright) degrees",
            Self::NoTilt => "give at least one tilt from 0 to 90 degrees",
            Self::Date { .. } => "write year, month and day as 2026-12-21",
            Self::Year { .. } => "years from 1950 to 2100 are served",
            Self::Weight { .. } => "months are 1 to 12, a weight is a number above 0 and at most 1000",
        }
    }

    /// The fault as bad input of the field at `field`.
    #[must_use]
    pub fn at_field(&self, field: &str) -> Fault {
        Fault::new(self.code(), field, self.to_string()).hint(self.hint())
    }
}

impl From<SunFault> for Fault {
    fn from(fault: SunFault) -> Self {
        fault.at_field("")
    }
}
