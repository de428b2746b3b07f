//! Hours of full sun over a horizon, day by day and through the year.

use super::{
    calendar::{MonthDay, REFERENCE_YEAR},
    energy::DAYS,
    fault::SunFault,
    horizon::Horizon,
    place::Place,
    position::{Sight, SunYear},
    seasons::Season,
    sky::{ClearSky, LINKE_TURBIDITY, extraterrestrial},
};
use crate::quantities::{Angle, deg, to_deg};
use rayon::prelude::*;

/// Step of the search on a single day (deg of hour angle): one minute.
const DAY_STEP_DEG: f64 = 0.25;
/// Step of the search through the year: five minutes.
const YEAR_STEP_DEG: f64 = 1.25;
/// Half of the middle of the day, 9 to 15 h solar time (deg).
const MIDDAY_DEG: f64 = 45.0;

/// The winter solstice of a hemisphere.
#[must_use]
pub fn winter_solstice(place: &Place) -> MonthDay {
    MonthDay { month: if place.is_southern() { 6 } else { 12 }, day: 21 }
}

/// The summer solstice of a hemisphere.
#[must_use]
pub fn summer_solstice(place: &Place) -> MonthDay {
    MonthDay { month: if place.is_southern() { 12 } else { 6 }, day: 21 }
}

/// The day between winter and summer, and the day between summer and winter.
#[must_use]
pub fn equinoxes() -> [MonthDay; 2] {
    [MonthDay { month: 3, day: 20 }, MonthDay { month: 9, day: 22 }]
}

/// A stretch of full sun.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunSpell {
    /// Begin and end in true solar time (h), 12 at culmination.
    pub solar_hours: (f64, f64),
    /// Begin and end in UTC (h); below 0 or above 24 on the neighbouring day.
    pub utc_hours: (f64, f64),
}

impl SunSpell {
    /// Length (h).
    #[must_use]
    pub fn hours(&self) -> f64 {
        self.utc_hours.1 - self.utc_hours.0
    }
}

/// Full sun on one day: the centre of the sun stands over the level horizon and over the skyline.
#[derive(Debug, Clone, PartialEq)]
pub struct DaySun {
    /// The day.
    pub day: MonthDay,
    /// Sunrise to sunset over a level horizon (h), refraction included.
    pub day_length_hours: f64,
    /// Stretches of full sun in their order.
    pub spells: Vec<SunSpell>,
    /// UTC of the sun's culmination (h).
    pub noon_utc_hours: f64,
}

impl DaySun {
    /// All spells together (h).
    #[must_use]
    pub fn hours(&self) -> f64 {
        self.spells.iter().map(SunSpell::hours).sum()
    }

    /// The longest spell (h).
    #[must_use]
    pub fn longest_hours(&self) -> f64 {
        self.spells.iter().map(SunSpell::hours).fold(0.0, f64::max)
    }

    /// Full sun between 9 and 15 h true solar time (h).
    #[must_use]
    pub fn midday_hours(&self) -> f64 {
        let half = MIDDAY_DEG / 15.0;
        let within =
            |spell: &SunSpell| (spell.solar_hours.1.min(12.0 + half) - spell.solar_hours.0.max(12.0 - half)).max(0.0);
        self.spells.iter().map(within).sum()
    }
}

/// The sun at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPathPoint {
    /// Height as seen through the air.
    pub altitude: Angle,
    /// Bearing from true north.
    pub azimuth: Angle,
}

/// A piece of the compass, clockwise (deg).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Where it begins.
    pub from_deg: f64,
    /// Where it ends.
    pub to_deg: f64,
}

impl Arc {
    /// Takes in a bearing beside it: south of the tropics the sun goes anticlockwise.
    fn widen(&mut self, bearing_deg: f64) {
        let beyond = (bearing_deg - self.to_deg).rem_euclid(360.0);
        let ahead = (self.from_deg - bearing_deg).rem_euclid(360.0);
        if beyond <= ahead {
            self.to_deg = bearing_deg;
        } else {
            self.from_deg = bearing_deg;
        }
    }
}

/// A year of sun over a horizon.
#[derive(Debug, Clone, PartialEq)]
pub struct YearSun {
    /// Mean hours of full sun a day in each month, January first.
    pub monthly_hours: [f64; 12],
    /// Mean hours a day over a level horizon.
    pub monthly_open_hours: [f64; 12],
    /// Share of the year's direct beam on the face that reaches it, 0 to 1.
    pub beam_kept: f64,
}

/// The sun of a year over one place, ready to be looked at over any horizon.
#[derive(Debug, Clone)]
pub struct Daylight {
    place: Place,
    year: SunYear,
}

impl Daylight {
    /// Computes the sun of the reference year at a place.
    ///
    /// # Errors
    /// Passed on from the sun position; none for a valid place.
    pub fn of(place: &Place) -> Result<Self, SunFault> {
        Ok(Self { place: *place, year: SunYear::new(REFERENCE_YEAR, place.longitude_deg())? })
    }

    /// The place.
    #[must_use]
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Full sun on one day; begin and end of each spell to a second.
    #[must_use]
    pub fn day(&self, horizon: &Horizon, day: MonthDay) -> DaySun {
        self.day_at_step(horizon, day.index(), DAY_STEP_DEG)
    }

    /// The sun at a true solar time (h) of a day.
    #[must_use]
    pub fn sun_at(&self, day: MonthDay, solar_hours: f64) -> SunPathPoint {
        let latitude = self.place.latitude_deg().to_radians().sin_cos();
        let sight = Sight::of(&self.year.days[day.index()], latitude, 15.0 * (solar_hours - 12.0));
        SunPathPoint { altitude: deg(sight.altitude_deg), azimuth: deg(sight.azimuth_deg()) }
    }

    /// The sun through a day, every four minutes, below the horizon too.
    #[must_use]
    pub fn path(&self, day: MonthDay) -> Vec<SunPathPoint> {
        (0..=360).map(|step| self.sun_at(day, f64::from(step) / 15.0)).collect()
    }

    /// Bearings at which the sun stands over a level horizon on a day and that nobody looked at, in the order in which it
    /// comes to them; edges to the sun's run of a minute.
    #[must_use]
    pub fn unseen(&self, horizon: &Horizon, day: MonthDay) -> Vec<Arc> {
        let mut arcs: Vec<Arc> = Vec::new();
        let mut before: Option<f64> = None;
        for minute in 0..=24 * 60 {
            let sun = self.sun_at(day, f64::from(minute) / 60.0);
            let bearing_deg = to_deg(sun.azimuth).rem_euclid(360.0);
            if to_deg(sun.altitude) <= 0.0 || horizon.is_seen(sun.azimuth) {
                before = None;
                continue;
            }
            match (before, arcs.last_mut()) {
                (Some(_), Some(arc)) => arc.widen(bearing_deg),
                _ => arcs.push(Arc { from_deg: bearing_deg, to_deg: bearing_deg }),
            }
            before = Some(bearing_deg);
        }
        arcs
    }

    fn day_at_step(&self, horizon: &Horizon, day: usize, step_deg: f64) -> DaySun {
        let open = self.spells(day, step_deg, |_| 0.0);
        let spells = self.spells(day, step_deg, |sight| horizon.elevation_deg(sight.azimuth_deg()).max(0.0));
        let timed = |(from, to): (f64, f64)| SunSpell {
            solar_hours: (12.0 + from / 15.0, 12.0 + to / 15.0),
            utc_hours: (self.year.utc_hours(day, from), self.year.utc_hours(day, to)),
        };
        DaySun {
            day: MonthDay::from_index(day),
            day_length_hours: open.into_iter().map(|spell| timed(spell).hours()).sum(),
            spells: spells.into_iter().map(timed).collect(),
            noon_utc_hours: self.year.utc_hours(day, 0.0),
        }
    }

    /// Hour angles (deg) between which the sun stands over a skyline, looked for in steps and then halved down.
    fn spells(&self, day: usize, step_deg: f64, skyline: impl Fn(&Sight) -> f64) -> Vec<(f64, f64)> {
        let latitude = self.place.latitude_deg().to_radians().sin_cos();
        let sun = &self.year.days[day];
        let is_clear = |hour_angle_deg: f64| {
            let sight = Sight::of(sun, latitude, hour_angle_deg);
            sight.altitude_deg > 0.0 && sight.altitude_deg > skyline(&sight)
        };
        let mut spells = Vec::new();
        let mut begin = is_clear(-180.0).then_some(-180.0);
        let mut before = begin.is_some();
        for step in 1..=(360.0 / step_deg) as usize {
            let at = -180.0 + step as f64 * step_deg;
            let now = is_clear(at);
            if now != before {
                let edge = halve(at - step_deg, at, before, &is_clear);
                match begin.take() {
                    Some(from) => spells.push((from, edge)),
                    None => begin = Some(edge),
                }
            }
            before = now;
        }
        spells.extend(begin.map(|from| (from, 180.0)));
        spells
    }

    /// Hours by month, and the share of the direct beam that reaches a face tilted as the seasons say.
    #[must_use]
    pub fn year(&self, horizon: &Horizon, seasons: &[Season]) -> YearSun {
        let tilts = tilt_by_day(seasons);
        let days: Vec<(f64, f64, f64, f64)> =
            (0..DAYS).into_par_iter().map(|day| self.one_of_year(horizon, day, tilts[day])).collect();
        let mut year = YearSun { monthly_hours: [0.0; 12], monthly_open_hours: [0.0; 12], beam_kept: 1.0 };
        let (mut kept, mut all) = (0.0, 0.0);
        let mut count = [0.0; 12];
        for (day, (hours, open_hours, day_kept, day_all)) in days.into_iter().enumerate() {
            let month = usize::from(MonthDay::from_index(day).month) - 1;
            year.monthly_hours[month] += hours;
            year.monthly_open_hours[month] += open_hours;
            count[month] += 1.0;
            kept += day_kept;
            all += day_all;
        }
        for (month, days) in count.into_iter().enumerate() {
            year.monthly_hours[month] /= days;
            year.monthly_open_hours[month] /= days;
        }
        if all > 0.0 {
            year.beam_kept = kept / all;
        }
        year
    }

    /// Hours over the skyline, hours over a level horizon, beam kept, beam in all.
    fn one_of_year(&self, horizon: &Horizon, day: usize, tilt_deg: f64) -> (f64, f64, f64, f64) {
        let latitude = self.place.latitude_deg().to_radians().sin_cos();
        let sky = ClearSky::new(self.place.height_m(), LINKE_TURBIDITY);
        let outside_air = extraterrestrial(day as f64 + 1.0);
        let (sin_tilt, cos_tilt) = tilt_deg.to_radians().sin_cos();
        let towards_south = if self.place.is_southern() { -1.0 } else { 1.0 };
        let (mut hours, mut open_hours, mut kept, mut all) = (0.0, 0.0, 0.0, 0.0);
        // At the step before: height of the sun over the level horizon and over the skyline, beam on the face.
        let mut before: Option<(f64, f64, f64)> = None;
        for step in 0..=(360.0 / YEAR_STEP_DEG) as usize {
            let sight = Sight::of(&self.year.days[day], latitude, -180.0 + step as f64 * YEAR_STEP_DEG);
            let over_level = sight.altitude_deg;
            let (mut over_skyline, mut beam) = (over_level, 0.0);
            if over_level > 0.0 {
                over_skyline -= horizon.elevation_deg(sight.azimuth_deg()).max(0.0);
                let (up, level) = over_level.to_radians().sin_cos();
                let ahead = towards_south * sight.south * level / sight.south.hypot(sight.west).max(f64::MIN_POSITIVE);
                beam = sky.at(over_level, outside_air).beam * (up * cos_tilt + ahead * sin_tilt).max(0.0);
            }
            if let Some((level, skyline, beam_before)) = before {
                let (open_share, clear_share) = (share_above(level, over_level), share_above(skyline, over_skyline));
                open_hours += open_share;
                hours += clear_share;
                all += open_share * (beam_before + beam) / 2.0;
                kept += clear_share * (beam_before + beam) / 2.0;
            }
            before = Some((over_level, over_skyline, beam));
        }
        let hours_per_step = YEAR_STEP_DEG / 15.0;
        (hours * hours_per_step, open_hours * hours_per_step, kept, all)
    }
}

/// Share of a step for which a quantity that runs linearly from one value to the next is above 0.
fn share_above(before: f64, now: f64) -> f64 {
    match (before > 0.0, now > 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        (true, false) => before / (before - now),
        (false, true) => now / (now - before),
    }
}

fn halve(mut low: f64, mut high: f64, at_low: bool, is_clear: &impl Fn(f64) -> bool) -> f64 {
    // 0.01 s of the sun's run.
    const CLOSE_DEG: f64 = 4e-5;
    while high - low > CLOSE_DEG {
        let middle = (low + high) / 2.0;
        if is_clear(middle) == at_low {
            low = middle;
        } else {
            high = middle;
        }
    }
    (low + high) / 2.0
}

/// The tilt of every day (deg); flat where no season says anything.
fn tilt_by_day(seasons: &[Season]) -> Vec<f64> {
    let mut tilts = vec![0.0; DAYS];
    for season in seasons {
        let start = season.from.index();
        for day in start..start + season.days {
            tilts[day % DAYS] = to_deg(season.tilt);
        }
    }
    tilts
}
