//! Clear-sky energy on a face by day of the year and tilt: the table that every plan is chosen from.

use super::{
    calendar::REFERENCE_YEAR,
    fault::SunFault,
    place::Place,
    position::{Sight, SunYear},
    sky::{ClearSky, LINKE_TURBIDITY, extraterrestrial, face_factors},
};
use rayon::prelude::*;

/// Days in a table.
pub const DAYS: usize = 365;
/// Step of the hour angle (deg): five minutes.
const STEP_DEG: f64 = 1.25;
const HOURS_PER_STEP: f64 = STEP_DEG / 15.0;

/// Energy per day and tilt (kWh/m²) on a face that looks towards the equator, or off it by a given angle.
#[derive(Debug, Clone)]
pub struct DailyEnergy {
    tilts_deg: Vec<f64>,
    /// Row by row: day 0 at every tilt, then day 1.
    kwh: Vec<f64>,
}

impl DailyEnergy {
    /// Energy at whole degrees from flat to upright.
    ///
    /// # Errors
    /// [`SunFault::Year`] never occurs for the reference year; it is passed on from the sun position.
    pub fn by_degree(place: &Place) -> Result<Self, SunFault> {
        Self::new(place, (0..=90).map(f64::from).collect(), 0.0)
    }

    /// Energy at tilts of your own (ascending, 0 to 90°), on a face turned `off_deg` clockwise from the equator.
    ///
    /// # Errors
    /// [`SunFault::NoTilt`] for an empty list, [`SunFault::Tilt`] for one outside 0 to 90 or out of order.
    pub fn new(place: &Place, tilts_deg: Vec<f64>, off_deg: f64) -> Result<Self, SunFault> {
        check_tilts(&tilts_deg)?;
        Ok(Self::in_year(&SunYear::new(REFERENCE_YEAR, place.longitude_deg())?, place, tilts_deg, off_deg))
    }

    /// As [`DailyEnergy::new`] with the sun worked out before; the tilts are sound.
    pub(crate) fn in_year(year: &SunYear, place: &Place, tilts_deg: Vec<f64>, off_deg: f64) -> Self {
        let faces = Faces::new(place, &tilts_deg, off_deg);
        let rows: Vec<Vec<f64>> = (0..DAYS).into_par_iter().map(|day| faces.day(year, day)).collect();
        Self { kwh: rows.concat(), tilts_deg }
    }

    /// The tilts of the columns (deg).
    #[must_use]
    pub fn tilts_deg(&self) -> &[f64] {
        &self.tilts_deg
    }

    /// One day at every tilt (kWh/m²).
    #[must_use]
    pub fn day(&self, day: usize) -> &[f64] {
        let width = self.tilts_deg.len();
        &self.kwh[day * width..(day + 1) * width]
    }

    /// One day at any tilt within the table (kWh/m²), by the parabola through the three nearest columns.
    #[must_use]
    pub fn at(&self, day: usize, tilt_deg: f64) -> f64 {
        let row = self.day(day);
        let x = &self.tilts_deg;
        if row.len() < 3 {
            return self.between_two(row, tilt_deg);
        }
        let above = x.partition_point(|t| *t < tilt_deg);
        let nearer_below = above > 0 && above < x.len() && tilt_deg - x[above - 1] < x[above] - tilt_deg;
        let middle = (if nearer_below { above - 1 } else { above }).clamp(1, x.len() - 2);
        let (a, b, c) = (x[middle - 1], x[middle], x[middle + 1]);
        row[middle - 1] * (tilt_deg - b) * (tilt_deg - c) / ((a - b) * (a - c))
            + row[middle] * (tilt_deg - a) * (tilt_deg - c) / ((b - a) * (b - c))
            + row[middle + 1] * (tilt_deg - a) * (tilt_deg - b) / ((c - a) * (c - b))
    }

    fn between_two(&self, row: &[f64], tilt_deg: f64) -> f64 {
        match row {
            [low, high] => {
                let share = (tilt_deg - self.tilts_deg[0]) / (self.tilts_deg[1] - self.tilts_deg[0]);
                low + (high - low) * share
            }
            _ => row[0],
        }
    }

    /// The table with every day multiplied by its weight.
    #[must_use]
    pub(crate) fn weighted(&self, weights: &[f64]) -> Self {
        let width = self.tilts_deg.len();
        let kwh = self.kwh.iter().enumerate().map(|(at, value)| value * weights[at / width]).collect();
        Self { tilts_deg: self.tilts_deg.clone(), kwh }
    }

    /// The table with some days held at one column: what they would give elsewhere is out of the question.
    #[must_use]
    pub(crate) fn held(&self, columns: &[Option<usize>]) -> Self {
        /// More than every other day of a year together (kWh/m²).
        const BEYOND_ANY: f64 = 1e5;
        let width = self.tilts_deg.len();
        let kwh = self.kwh.iter().enumerate().map(|(at, value)| match columns[at / width] {
            Some(column) if column == at % width => BEYOND_ANY,
            Some(_) => 0.0,
            None => *value,
        });
        Self { tilts_deg: self.tilts_deg.clone(), kwh: kwh.collect() }
    }

    /// The table with only the columns that are wanted.
    #[must_use]
    pub(crate) fn columns(&self, wanted: &[usize]) -> Self {
        let kwh = (0..DAYS).flat_map(|day| wanted.iter().map(move |column| self.day(day)[*column])).collect();
        Self { tilts_deg: wanted.iter().map(|column| self.tilts_deg[*column]).collect(), kwh }
    }

    /// Energy of a run of days at every tilt; the run wraps over the end of the year.
    #[must_use]
    pub(crate) fn run(&self, start: usize, days: usize) -> Vec<f64> {
        let mut sums = vec![0.0; self.tilts_deg.len()];
        for day in start..start + days {
            for (sum, value) in sums.iter_mut().zip(self.day(day % DAYS)) {
                *sum += value;
            }
        }
        sums
    }
}

fn check_tilts(tilts_deg: &[f64]) -> Result<(), SunFault> {
    if tilts_deg.is_empty() {
        return Err(SunFault::NoTilt);
    }
    let outside = tilts_deg.iter().find(|t| !(0.0..=90.0).contains(*t));
    let unordered = tilts_deg.windows(2).find(|pair| pair[0] >= pair[1]).map(|pair| &pair[1]);
    match outside.or(unordered) {
        Some(given) => Err(SunFault::Tilt { given_deg: *given }),
        None => Ok(()),
    }
}

/// A fan of faces that share their bearing.
struct Faces<'a> {
    tilts_deg: &'a [f64],
    sin_cos: Vec<(f64, f64)>,
    latitude: (f64, f64),
    /// South and west parts of the bearing that the faces look along.
    bearing: (f64, f64),
    symmetric: bool,
    sky: ClearSky,
}

impl<'a> Faces<'a> {
    fn new(place: &Place, tilts_deg: &'a [f64], off_deg: f64) -> Self {
        let towards_south = if place.is_southern() { -1.0 } else { 1.0 };
        let (sin, cos) = off_deg.to_radians().sin_cos();
        Self {
            tilts_deg,
            sin_cos: tilts_deg.iter().map(|t| t.to_radians().sin_cos()).collect(),
            latitude: place.latitude_deg().to_radians().sin_cos(),
            bearing: (towards_south * cos, towards_south * sin),
            symmetric: off_deg == 0.0,
            sky: ClearSky::new(place.height_m(), LINKE_TURBIDITY),
        }
    }

    /// Energy of one day at every tilt.
    ///
    /// With the sun at height `up` and `ahead` in front of the face, cos(incidence) = up cos β + ahead sin β: it is
    /// positive below the tilt atan2(up, -ahead) and zero above. So each instant adds its two numbers to the bucket of
    /// that tilt, and one pass from the steepest tilt down gives the day at all tilts.
    fn day(&self, year: &SunYear, day: usize) -> Vec<f64> {
        let outside_air = extraterrestrial(day as f64 + 1.0);
        let count = self.tilts_deg.len();
        let mut buckets = vec![(0.0, 0.0); count + 1];
        let (mut isotropic, mut ground) = (0.0, 0.0);
        let half_day = (180.0 / STEP_DEG) as usize;
        // Morning and afternoon give the same on a face that looks along the meridian; the sun's drift cancels.
        let (steps, weight) = if self.symmetric { (half_day, 2.0) } else { (2 * half_day, 1.0) };
        let first_deg = if self.symmetric { 0.0 } else { -180.0 };
        let mut sun = year.days[day];
        if self.symmetric {
            sun.declination_per_day_deg = 0.0;
        }
        for step in 0..steps {
            let sight = Sight::of(&sun, self.latitude, first_deg + (step as f64 + 0.5) * STEP_DEG);
            if sight.altitude_deg <= 0.0 {
                continue;
            }
            let (up, level) = sight.altitude_deg.to_radians().sin_cos();
            let stretch = level / sight.south.hypot(sight.west).max(f64::MIN_POSITIVE);
            let ahead = stretch * (sight.south * self.bearing.0 + sight.west * self.bearing.1);
            let factors = face_factors(&self.sky.at(sight.altitude_deg, outside_air), up);
            let bucket = if ahead >= 0.0 {
                count
            } else {
                let grazing_deg = up.atan2(-ahead).to_degrees();
                self.tilts_deg.partition_point(|t| *t < grazing_deg)
            };
            buckets[bucket].0 += factors.directed * up;
            buckets[bucket].1 += factors.directed * ahead;
            isotropic += factors.isotropic;
            ground += factors.ground;
        }
        let scale = weight * HOURS_PER_STEP / 1000.0;
        let (mut up, mut ahead) = buckets[count];
        let mut row = vec![0.0; count];
        for at in (0..count).rev() {
            let (sin, cos) = self.sin_cos[at];
            let directed = up * cos + ahead * sin;
            row[at] = scale * (directed + isotropic * (1.0 + cos) / 2.0 + ground * (1.0 - cos) / 2.0);
            // Bucket `at` holds the instants that reach the flatter tilts only.
            up += buckets[at].0;
            ahead += buckets[at].1;
        }
        row
    }
}
