//! What can be wrong with a place, a date or a number of seasons.

use super::calendar::Date;
use crate::{design::Fault, quantities::number};
use thiserror::Error;

/// Input that no sun can be computed for.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum SunFault {
    /// A latitude beyond a pole, or no number.
    #[error("latitude {} deg is not on the globe", number(*given_deg, 4))]
    Latitude {
        /// As given (deg).
        given_deg: f64,
    },
    /// A latitude so near to a pole that a bearing says nothing.
    #[error("at latitude {} deg a bearing says nothing and noon is no time of day", number(*given_deg, 4))]
    Pole {
        /// As given (deg).
        given_deg: f64,
    },
    /// A longitude beyond ±180 degrees, or no number.
    #[error("longitude {} deg is not on the globe", number(*given_deg, 4))]
    Longitude {
        /// As given (deg).
        given_deg: f64,
    },
    /// A height above sea level that no ground has.
    #[error("{} m above sea level is no height of the ground", number(*given_m, 4))]
    Height {
        /// As given (m).
        given_m: f64,
    },
    /// No season, or more than twelve.
    #[error("{given} seasons were asked for")]
    SeasonCount {
        /// As given.
        given: usize,
    },
    /// No tilt to choose from, or one outside 0 to 90 degrees.
    #[error("a tilt of {} deg cannot be used", number(*given_deg, 4))]
    Tilt {
        /// As given (deg).
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
    /// A skyline without a point.
    #[error("the horizon has no point and no obstacle")]
    EmptyHorizon,
    /// A bearing outside 0 to 360 degrees.
    #[error("a bearing of {} deg is not on the compass", number(*given_deg, 4))]
    Bearing {
        /// As given (deg).
        given_deg: f64,
    },
    /// A point that does not stand clockwise of the one before.
    #[error("the point at {} deg comes after the one at {} deg", number(*given_deg, 4), number(*before_deg, 4))]
    UnorderedHorizon {
        /// The point before (deg).
        before_deg: f64,
        /// As given (deg).
        given_deg: f64,
    },
    /// An elevation that no skyline has.
    #[error("an elevation of {} deg cannot be read from a skyline", number(*given_deg, 4))]
    Elevation {
        /// As given (deg).
        given_deg: f64,
    },
    /// An obstacle that begins and ends at one bearing.
    #[error("an obstacle begins and ends at {} deg", number(*at_deg, 4))]
    EmptySpan {
        /// The bearing (deg).
        at_deg: f64,
    },
    /// An obstacle that stretches, clockwise, over more than half of the compass: its edges were most likely swapped.
    #[error(
        "from {} deg clockwise to {} deg is {} deg, more than half round",
        number(*from_deg, 2), number(*to_deg, 2), number((to_deg - from_deg).rem_euclid(360.0), 2)
    )]
    WrongWayRound {
        /// Left edge as given (deg).
        from_deg: f64,
        /// Right edge as given (deg).
        to_deg: f64,
    },
    /// A day outside the bundled magnetic models.
    #[error("the magnetic model does not reach {given}")]
    MagneticDate {
        /// As given.
        given: Date,
    },
    /// The sun that rows should be kept clear for stands under the horizon, or beside or behind the rows.
    #[error("the sun stands {} deg high and {} deg off the facing: no distance between rows serves", number(*altitude_deg, 1), number(*off_deg, 1))]
    NoSunOnRows {
        /// Height (deg).
        altitude_deg: f64,
        /// Bearing less the facing (deg).
        off_deg: f64,
    },
    /// A number of a row of frames that cannot be laid out.
    #[error("{what} of {} cannot be laid out", number(*given, 4))]
    Row {
        /// What was given, as words.
        what: &'static str,
        /// As given, in millimetres, degrees or hours.
        given: f64,
    },
}

impl SunFault {
    /// Name of the fault, kebab-case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Latitude { .. } | Self::Pole { .. } => "latitude-out-of-range",
            Self::Longitude { .. } => "longitude-out-of-range",
            Self::Height { .. } => "height-out-of-range",
            Self::SeasonCount { .. } => "season-count",
            Self::Tilt { .. } => "tilt-out-of-range",
            Self::NoTilt => "no-tilt",
            Self::Date { .. } => "no-such-date",
            Self::Year { .. } => "year-out-of-range",
            Self::Weight { .. } => "month-weight",
            Self::EmptyHorizon => "empty-horizon",
            Self::Bearing { .. } => "bearing-out-of-range",
            Self::UnorderedHorizon { .. } => "horizon-not-ordered",
            Self::Elevation { .. } => "elevation-out-of-range",
            Self::EmptySpan { .. } => "empty-span",
            Self::WrongWayRound { .. } => "wrong-way-round",
            Self::MagneticDate { .. } => "magnetic-date",
            Self::Row { .. } => "row-layout",
            Self::NoSunOnRows { .. } => "no-sun-on-rows",
        }
    }

    /// The way out.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            Self::WrongWayRound { .. } => "`from` is the left edge as seen from the frame, `to` the right one",
            Self::Latitude { .. } | Self::Pole { .. } => {
                "a latitude runs from -89 (south) to 89 (north) here, for instance 40 deg"
            }
            Self::Longitude { .. } => "a longitude runs from -180 (west) to 180 (east), for instance -105 deg",
            Self::Height { .. } => "a height above sea level runs from -500 m to 6000 m here",
            Self::SeasonCount { .. } => "a year is divided into 1 to 12 seasons",
            Self::Tilt { .. } => "a tilt runs from 0 (flat) to 90 (upright) degrees",
            Self::NoTilt => "give at least one tilt from 0 to 90 degrees",
            Self::Date { .. } => "write year, month and day as 2026-12-21",
            Self::Year { .. } => "years from 1950 to 2100 are served",
            Self::Weight { .. } => "months are 1 to 12, a weight is a number above 0 and at most 1000",
            Self::EmptyHorizon => "give at least one; for an open site write one point with an elevation of 0 deg",
            Self::Bearing { .. } => "bearings run clockwise from north, from 0 deg up to but not including 360 deg",
            Self::UnorderedHorizon { .. } => {
                "write the points clockwise, each bearing once; they may pass north, and end before the first"
            }
            Self::Elevation { .. } => "an elevation runs from -10 to 89 degrees above level",
            Self::EmptySpan { .. } => {
                "an obstacle runs clockwise from its left edge to its right edge, as seen from the frame"
            }
            Self::MagneticDate { .. } => {
                "it serves 2020-01-01 to 2029-12-31; for other days give the declination by hand, from a chart of the day"
            }
            Self::NoSunOnRows { .. } => "ask for hours nearer to noon",
            Self::Row { .. } => "lengths are above 0, slopes within 45 degrees, hours from 0 to 6 before noon",
        }
    }

    /// The fault as bad input of the field at `field`.
    #[must_use]
    pub fn at_field(&self, field: &str) -> Fault {
        let fault = Fault::new(self.code(), field, self.to_string()).hint(self.hint());
        let Self::WrongWayRound { from_deg, to_deg } = self else { return fault };
        let show = |bearing_deg: f64| format!("{} deg", number(bearing_deg.rem_euclid(360.0), 4));
        let middle = show(from_deg + (to_deg - from_deg).rem_euclid(360.0) / 2.0);
        let (from, to) = (show(*from_deg), show(*to_deg));
        fault.hint(format!("if they were swapped, this works: `from: {to}, to: {from}`")).hint(format!(
            "if it does stand so far round, write it as two: `from: {from}, to: {middle}` and `from: {middle}, to: {to}`"
        ))
    }
}

impl From<SunFault> for Fault {
    fn from(fault: SunFault) -> Self {
        fault.at_field("")
    }
}
