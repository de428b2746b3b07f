//! What stands between a place and the sun: a skyline of points, and single obstacles in front of it.

use super::fault::SunFault;
use crate::quantities::{Angle, deg, to_deg};

/// Farthest that two points of a skyline may stand apart with a straight line drawn between them (deg), four hours of the
/// sun's run. Judgement: whoever reads a skyline writes down its corners, and over more than this they looked away.
pub const MOST_APART_DEG: f64 = 60.0;

/// The skyline as a function of the bearing, clockwise from true north.
///
/// Between two points the elevation runs linearly in the bearing, over north too. An obstacle is a band of one elevation
/// from one bearing clockwise to another. The higher of both counts.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Horizon {
    /// Bearing and elevation (deg), ascending.
    points: Vec<(f64, f64)>,
    bands: Vec<Band>,
    /// What stands where nobody looked (deg); nothing draws straight lines there too.
    unseen_deg: Option<f64>,
}

/// An obstacle: from a bearing, clockwise over a span, up to an elevation (deg).
#[derive(Debug, Clone, Copy, PartialEq)]
struct Band {
    from_deg: f64,
    span_deg: f64,
    elevation_deg: f64,
}

impl Band {
    fn holds(&self, bearing_deg: f64) -> bool {
        (bearing_deg - self.from_deg).rem_euclid(360.0) <= self.span_deg
    }
}

impl Horizon {
    /// An open, level horizon.
    #[must_use]
    pub fn open() -> Self {
        Self::default()
    }

    /// A skyline from bearings (0 to 360°, ascending) and elevations (-10 to 90°).
    ///
    /// # Errors
    /// [`SunFault::EmptyHorizon`] without a point, [`SunFault::Bearing`] outside 0 to 360° or not above the one before,
    /// [`SunFault::Elevation`].
    pub fn of_points(points: &[(Angle, Angle)]) -> Result<Self, SunFault> {
        if points.is_empty() {
            return Err(SunFault::EmptyHorizon);
        }
        let points: Vec<(f64, f64)> = points.iter().map(|(b, e)| (to_deg(*b), to_deg(*e))).collect();
        for (at, (bearing_deg, elevation_deg)) in points.iter().enumerate() {
            check_bearing(*bearing_deg)?;
            check_elevation(*elevation_deg)?;
            if at > 0 && points[at - 1].0 >= *bearing_deg {
                return Err(SunFault::UnorderedHorizon { before_deg: points[at - 1].0, given_deg: *bearing_deg });
            }
        }
        Ok(Self { points, ..Self::default() })
    }

    /// The same horizon with an obstacle from one bearing clockwise to another.
    ///
    /// # Errors
    /// [`SunFault::Bearing`], [`SunFault::Elevation`], [`SunFault::EmptySpan`] when both bearings are equal.
    pub fn with_obstacle(mut self, from: Angle, to: Angle, elevation: Angle) -> Result<Self, SunFault> {
        let (from_deg, to_deg_, elevation_deg) = (to_deg(from), to_deg(to), to_deg(elevation));
        check_bearing(from_deg)?;
        check_bearing(to_deg_)?;
        check_elevation(elevation_deg)?;
        let span_deg = (to_deg_ - from_deg).rem_euclid(360.0);
        if span_deg == 0.0 {
            return Err(SunFault::EmptySpan { at_deg: from_deg });
        }
        self.bands.push(Band { from_deg, span_deg, elevation_deg });
        Ok(self)
    }

    /// The same horizon with everything up to an elevation blocked where nobody looked.
    #[must_use]
    pub fn with_unseen(mut self, elevation: Angle) -> Self {
        self.unseen_deg = Some(to_deg(elevation));
        self
    }

    /// True when somebody looked at a bearing: it lies within an obstacle, or between two points of the skyline that
    /// stand no more than [`MOST_APART_DEG`] apart.
    #[must_use]
    pub fn is_seen(&self, bearing: Angle) -> bool {
        self.is_seen_deg(to_deg(bearing).rem_euclid(360.0))
    }

    fn is_seen_deg(&self, bearing_deg: f64) -> bool {
        // Bearings that were turned by a declination are a rounding away from where they were written.
        const ROUNDING_DEG: f64 = 1e-9;
        let between = self.neighbours(bearing_deg).is_some_and(|(left, right)| {
            let is_point = [left, right].iter().any(|point| (point.0 - bearing_deg).abs() < ROUNDING_DEG);
            let run_deg = right.0 - left.0;
            is_point || self.points.len() > 1 && run_deg <= MOST_APART_DEG + ROUNDING_DEG
        });
        between || self.bands.iter().any(|band| band.holds(bearing_deg))
    }

    /// Elevation of the skyline at a bearing; level where nothing was surveyed.
    #[must_use]
    pub fn elevation(&self, bearing: Angle) -> Angle {
        deg(self.elevation_deg(to_deg(bearing)))
    }

    pub(crate) fn elevation_deg(&self, bearing_deg: f64) -> f64 {
        let bearing_deg = bearing_deg.rem_euclid(360.0);
        if let Some(unseen_deg) = self.unseen_deg.filter(|_| !self.is_seen_deg(bearing_deg)) {
            return unseen_deg;
        }
        let mut highest = self.skyline_deg(bearing_deg);
        for band in &self.bands {
            if band.holds(bearing_deg) {
                highest = highest.max(band.elevation_deg);
            }
        }
        highest
    }

    fn skyline_deg(&self, bearing_deg: f64) -> f64 {
        let Some((left, right)) = self.neighbours(bearing_deg) else { return 0.0 };
        let run = right.0 - left.0;
        if run == 0.0 { left.1 } else { left.1 + (right.1 - left.1) * (bearing_deg - left.0) / run }
    }

    /// The points on either side of a bearing, over north too.
    fn neighbours(&self, bearing_deg: f64) -> Option<((f64, f64), (f64, f64))> {
        let (first, last) = (self.points.first()?, self.points.last()?);
        let above = self.points.partition_point(|(bearing, _)| *bearing <= bearing_deg);
        // Before the first and after the last point the line runs over north.
        Some(match above {
            0 => ((last.0 - 360.0, last.1), *first),
            at if at == self.points.len() => (*last, (first.0 + 360.0, first.1)),
            at => (self.points[at - 1], self.points[at]),
        })
    }

    /// The horizon lifted (or lowered) everywhere, to see what an error of the survey does.
    #[must_use]
    pub fn lifted(&self, by: Angle) -> Self {
        let by_deg = to_deg(by);
        let mut lifted = self.clone();
        for (_, elevation_deg) in &mut lifted.points {
            *elevation_deg = (*elevation_deg + by_deg).min(90.0);
        }
        for band in &mut lifted.bands {
            band.elevation_deg = (band.elevation_deg + by_deg).min(90.0);
        }
        lifted
    }

    /// Bearing and elevation along the whole skyline (deg), from 0 to 360 in steps, for drawing.
    #[must_use]
    pub fn outline(&self, step_deg: f64) -> Vec<(f64, f64)> {
        let mut bearings: Vec<f64> = (0..=(360.0 / step_deg).round() as usize).map(|at| at as f64 * step_deg).collect();
        // The foot and the head of every vertical edge, or slim trees would lean.
        const BESIDE_DEG: f64 = 1e-6;
        for band in &self.bands {
            for edge in [band.from_deg, band.from_deg + band.span_deg] {
                bearings.extend([edge - BESIDE_DEG, edge, edge + BESIDE_DEG].map(|b| b.rem_euclid(360.0)));
            }
        }
        bearings.extend(self.points.iter().map(|(bearing, _)| *bearing));
        bearings.sort_by(f64::total_cmp);
        bearings.dedup();
        let at_north = self.elevation_deg(0.0);
        bearings.into_iter().map(|b| (b, if b >= 360.0 { at_north } else { self.elevation_deg(b) })).collect()
    }
}

fn check_bearing(given_deg: f64) -> Result<(), SunFault> {
    if (0.0..360.0).contains(&given_deg) { Ok(()) } else { Err(SunFault::Bearing { given_deg }) }
}

fn check_elevation(given_deg: f64) -> Result<(), SunFault> {
    if (-10.0..=90.0).contains(&given_deg) { Ok(()) } else { Err(SunFault::Elevation { given_deg }) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_skyline_runs_on_over_north() {
        let horizon = Horizon::of_points(&[(deg(90.0), deg(10.0)), (deg(270.0), deg(20.0))]).expect("a skyline");
        for (bearing, elevation) in
            [(0.0, 15.0), (45.0, 12.5), (90.0, 10.0), (180.0, 15.0), (315.0, 17.5), (360.0, 15.0)]
        {
            assert!((horizon.elevation_deg(bearing) - elevation).abs() < 1e-12, "{bearing}");
        }
    }

    #[test]
    fn an_obstacle_may_stand_across_north() {
        let horizon = Horizon::open().with_obstacle(deg(350.0), deg(10.0), deg(30.0)).expect("an obstacle");
        // Degrees go through radians inside the quantity and come back a rounding away.
        const ROUNDING_DEG: f64 = 1e-12;
        for (bearing, elevation) in [(5.0, 30.0), (355.0, 30.0), (11.0, 0.0)] {
            assert!((horizon.elevation_deg(bearing) - elevation).abs() < ROUNDING_DEG, "{bearing}");
        }
    }

    #[test]
    fn what_nobody_looked_at_is_told_from_what_was_seen() {
        let points = [(deg(10.0), deg(3.0)), (deg(100.0), deg(10.0)), (deg(160.0), deg(10.0))];
        let horizon = Horizon::of_points(&points).and_then(|h| h.with_obstacle(deg(200.0), deg(230.0), deg(30.0)));
        let blocked = horizon.expect("a skyline").with_unseen(deg(90.0));
        for (bearing, seen) in [
            (10.0, true),
            (11.0, false),
            (99.0, false),
            (100.0, true),
            (130.0, true),
            (160.0, true),
            (161.0, false),
            (215.0, true),
            (231.0, false),
            (359.0, false),
        ] {
            assert_eq!(blocked.is_seen(deg(bearing)), seen, "{bearing}");
            assert_eq!(blocked.elevation_deg(bearing) > 89.0, !seen, "{bearing}");
        }
        let one = Horizon::of_points(&[(deg(180.0), deg(0.0))]).expect("a point");
        assert!(one.is_seen(deg(180.0)) && !one.is_seen(deg(181.0)) && !Horizon::open().is_seen(deg(180.0)));
        let round = Horizon::of_points(&[(deg(20.0), deg(1.0)), (deg(330.0), deg(1.0))]).expect("two points");
        assert!(round.is_seen(deg(350.0)) && round.is_seen(deg(5.0)) && !round.is_seen(deg(180.0)));
    }

    #[test]
    fn what_cannot_be_a_skyline_is_refused() {
        assert!(Horizon::of_points(&[]).is_err());
        assert!(Horizon::of_points(&[(deg(20.0), deg(1.0)), (deg(10.0), deg(1.0))]).is_err());
        assert!(Horizon::of_points(&[(deg(20.0), deg(1.0)), (deg(20.0), deg(5.0))]).is_err());
        assert!(Horizon::of_points(&[(deg(400.0), deg(1.0))]).is_err());
        assert!(Horizon::of_points(&[(deg(20.0), deg(91.0))]).is_err());
        assert!(Horizon::of_points(&[(deg(f64::NAN), deg(1.0))]).is_err());
        assert!(Horizon::open().with_obstacle(deg(5.0), deg(5.0), deg(9.0)).is_err());
    }
}
