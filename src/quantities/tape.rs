//! The marks a tape measure has: every length that leaves for the shop is rounded to one of them.

use super::{Length, MM_PER_INCH, mm, show::Units, to_mm};

/// Distance between marks on an inch tape, 1/16 in (mm).
pub const MARK_MM_US: f64 = MM_PER_INCH / 16.0;
/// Distance between marks on a metric tape, 1 mm.
pub const MARK_MM_METRIC: f64 = 1.0;

/// A tape measure: the builder's finest mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Tape(Units);

impl Tape {
    /// The tape that goes with a system of units.
    #[must_use]
    pub fn of(units: Units) -> Self {
        Self(units)
    }

    /// The system of units it is marked in.
    #[must_use]
    pub fn units(self) -> Units {
        self.0
    }

    /// Distance between two marks (mm).
    #[must_use]
    pub fn mark_mm(self) -> f64 {
        match self.0 {
            Units::Us => MARK_MM_US,
            Units::Metric => MARK_MM_METRIC,
        }
    }

    /// The mark nearest to an exact position (mm).
    #[must_use]
    pub fn nearest_mm(self, exact_mm: f64) -> f64 {
        (exact_mm / self.mark_mm()).round() * self.mark_mm()
    }

    /// The first mark that is no less than an exact position (mm).
    #[must_use]
    pub fn at_least_mm(self, exact_mm: f64) -> f64 {
        // A position that stands on a mark but for rounding must not move to the next one.
        const ROUNDING: f64 = 1e-9;
        (exact_mm / self.mark_mm() - ROUNDING).ceil() * self.mark_mm()
    }

    /// The last mark that is no more than an exact position (mm).
    #[must_use]
    pub fn at_most_mm(self, exact_mm: f64) -> f64 {
        -self.at_least_mm(-exact_mm)
    }

    /// Does a position stand on a mark?
    #[must_use]
    pub fn holds_mm(self, exact_mm: f64) -> bool {
        self.at_least_mm(exact_mm) <= self.at_most_mm(exact_mm)
    }

    /// The mark nearest to a length.
    #[must_use]
    pub fn nearest(self, exact: Length) -> Length {
        mm(self.nearest_mm(to_mm(exact)))
    }
}
