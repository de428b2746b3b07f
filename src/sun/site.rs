//! What a survey says about a site: winter hours, what is lost, which obstacle costs most, and what would help.

use super::{
    calendar::{MonthDay, REFERENCE_YEAR},
    daylight::{Arc, DaySun, Daylight, YearSun, equinoxes, summer_solstice, winter_solstice},
    energy::{DAYS, DailyEnergy},
    fault::SunFault,
    horizon::Horizon,
    place::Place,
    position::{Sight, SunYear},
    rows::{RowFace, RowSpacing, SunRay, spacing, swing_reach},
    seasons::Season,
    survey::{Change, RowRequest, Survey},
};
use crate::quantities::{Angle, Length, deg, mm, to_deg, to_mm};

/// Hours of full sun on the winter solstice that a site should have at least (common practice, no source).
pub const LEAST_HOURS: f64 = 4.0;
/// Hours of full sun on the winter solstice to aim at (common practice, no source).
pub const TARGET_HOURS: f64 = 6.0;
/// How far a survey with protractor and compass is commonly off (deg) (common practice, no source).
pub const SURVEY_ERROR_DEG: f64 = 2.0;
/// Farthest that raising the frame is looked into (mm).
const MOST_RAISE_MM: f64 = 6000.0;

/// How a site does on the winter solstice.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Six hours of full sun or more.
    Enough,
    /// Four hours or more, but short of six.
    ShortOfTarget,
    /// Less than four hours.
    TooLittle,
    /// The sun does not rise on that day.
    PolarNight,
    /// It hangs on bearings that nobody looked at.
    NotSeen,
}

/// Hours that could be reached by a change, and the change.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// Hours of full sun on the winter solstice.
    pub goal_hours: f64,
    /// Highest elevation at which the goal is kept, seen from the low edge.
    pub elevation: Angle,
    /// The same as a height, when the distance is known.
    pub height: Option<Length>,
}

/// What one thing on the horizon costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Its name.
    pub name: String,
    /// Its highest elevation seen from the low edge.
    pub elevation: Angle,
    /// Hours of full sun it takes on the winter solstice.
    pub winter_hours: f64,
    /// Share of the year's direct beam it takes.
    pub beam_share: f64,
    /// How high it may stand for each goal that is missed now; goals that its going alone cannot reach are left out.
    pub limits: Vec<Limit>,
}

/// How much higher the frame must stand for a goal.
#[derive(Debug, Clone, PartialEq)]
pub struct Raise {
    /// Hours of full sun on the winter solstice.
    pub goal_hours: f64,
    /// How much higher; `None` when 6 m are not enough.
    pub by: Option<Length>,
}

/// All that a survey says.
#[derive(Debug, Clone, PartialEq)]
pub struct SiteStudy {
    /// Winter solstice, spring and autumn equinox, summer solstice.
    pub days: [DaySun; 4],
    /// Hours by month, share of the beam kept.
    pub year: YearSun,
    /// How the winter solstice does, whatever stands where nobody looked.
    pub verdict: Verdict,
    /// Bearings at which the sun stands on the winter solstice and that nobody looked at.
    pub unseen_winter: Vec<Arc>,
    /// The same on the summer solstice.
    pub unseen_summer: Vec<Arc>,
    /// Hours on the winter solstice if all were blocked where nobody looked.
    pub hours_if_unseen_blocked: f64,
    /// Hours on the winter solstice if the skyline were level where nobody looked.
    pub hours_if_unseen_level: f64,
    /// Hours on the winter solstice if every elevation were 2° higher.
    pub hours_if_higher: f64,
    /// Hours on the winter solstice if every elevation were 2° lower.
    pub hours_if_lower: f64,
    /// What each named thing costs, dearest first.
    pub costs: Vec<Cost>,
    /// How much higher the frame must stand, for each goal that is missed now.
    pub raises: Vec<Raise>,
}

impl SiteStudy {
    /// The winter solstice.
    #[must_use]
    pub fn winter(&self) -> &DaySun {
        &self.days[0]
    }
}

/// Studies a site with the tilts that will stand there.
///
/// # Errors
/// Passed on from the sun position and the horizon; none for a survey that was read.
pub fn study(survey: &Survey, seasons: &[Season]) -> Result<SiteStudy, SunFault> {
    let daylight = Daylight::of(&survey.place)?;
    let horizon = survey.horizon(Change::None)?;
    let [spring, autumn] = equinoxes();
    let winter_day = winter_solstice(&survey.place);
    let summer_day = summer_solstice(&survey.place);
    let days = [winter_day, spring, autumn, summer_day].map(|day| daylight.day(&horizon, day));
    let hours_over = |horizon: &Horizon| daylight.day(horizon, winter_day).hours();
    let judge = Judge { survey, daylight: &daylight, winter_day, seasons };
    let [blocked, level] =
        [90.0, 0.0].map(|unseen| daylight.day(&horizon.clone().with_unseen(deg(unseen)), winter_day));
    let year = daylight.year(&horizon, seasons);
    let now = days[0].hours();
    let missed: Vec<f64> = [LEAST_HOURS, TARGET_HOURS].into_iter().filter(|goal| now < *goal).collect();
    Ok(SiteStudy {
        verdict: if verdict(&blocked) == verdict(&level) { verdict(&level) } else { Verdict::NotSeen },
        unseen_winter: daylight.unseen(&horizon, winter_day),
        unseen_summer: daylight.unseen(&horizon, summer_day),
        hours_if_unseen_blocked: blocked.hours(),
        hours_if_unseen_level: level.hours(),
        hours_if_higher: hours_over(&horizon.lifted(deg(SURVEY_ERROR_DEG))),
        hours_if_lower: hours_over(&horizon.lifted(deg(-SURVEY_ERROR_DEG))),
        costs: judge.costs(now, year.beam_kept, &missed)?,
        raises: judge.raises(&missed)?,
        days,
        year,
    })
}

fn verdict(winter: &DaySun) -> Verdict {
    let hours = winter.hours();
    if winter.day_length_hours <= 0.0 {
        Verdict::PolarNight
    } else if hours >= TARGET_HOURS {
        Verdict::Enough
    } else if hours >= LEAST_HOURS {
        Verdict::ShortOfTarget
    } else {
        Verdict::TooLittle
    }
}

struct Judge<'a> {
    survey: &'a Survey,
    daylight: &'a Daylight,
    winter_day: MonthDay,
    seasons: &'a [Season],
}

impl Judge<'_> {
    fn winter_hours(&self, change: Change<'_>) -> Result<f64, SunFault> {
        Ok(self.daylight.day(&self.survey.horizon(change)?, self.winter_day).hours())
    }

    fn costs(&self, now: f64, beam_kept: f64, missed: &[f64]) -> Result<Vec<Cost>, SunFault> {
        let mut costs = Vec::new();
        for name in self.survey.things() {
            let without = self.survey.horizon(Change::Without(name))?;
            let year = self.daylight.year(&without, self.seasons);
            let freed = self.daylight.day(&without, self.winter_day).hours();
            let goals = missed.iter().filter(|goal| freed >= **goal);
            costs.push(Cost {
                name: name.to_string(),
                elevation: self.survey.elevation_of(name),
                winter_hours: (freed - now).max(0.0),
                beam_share: (year.beam_kept - beam_kept).max(0.0),
                limits: goals.map(|goal| self.limit(name, *goal)).collect::<Result<_, _>>()?,
            });
        }
        costs.sort_by(|a, b| b.winter_hours.total_cmp(&a.winter_hours).then(b.beam_share.total_cmp(&a.beam_share)));
        Ok(costs)
    }

    /// Halves down to the highest elevation that keeps the goal: hours only fall as a thing grows.
    fn limit(&self, name: &str, goal_hours: f64) -> Result<Limit, SunFault> {
        const STEPS: usize = 20;
        let (mut low, mut high) = (-10.0, to_deg(self.survey.elevation_of(name)));
        for _ in 0..STEPS {
            let middle = (low + high) / 2.0;
            if self.winter_hours(Change::Capped(name, middle))? >= goal_hours {
                low = middle;
            } else {
                high = middle;
            }
        }
        let elevation = deg(low);
        Ok(Limit { goal_hours, elevation, height: self.survey.height_under(name, elevation) })
    }

    fn raises(&self, missed: &[f64]) -> Result<Vec<Raise>, SunFault> {
        if !self.survey.has_distances() {
            return Ok(Vec::new());
        }
        missed.iter().map(|goal| Ok(Raise { goal_hours: *goal, by: self.raise(*goal)? })).collect()
    }

    fn raise(&self, goal_hours: f64) -> Result<Option<Length>, SunFault> {
        const CLOSE_MM: f64 = 1.0;
        if self.winter_hours(Change::Raised(MOST_RAISE_MM))? < goal_hours {
            return Ok(None);
        }
        let (mut low, mut high) = (0.0, MOST_RAISE_MM);
        while high - low > CLOSE_MM {
            let middle = (low + high) / 2.0;
            if self.winter_hours(Change::Raised(middle))? >= goal_hours {
                high = middle;
            } else {
                low = middle;
            }
        }
        Ok(Some(mm(high)))
    }
}

/// What a frame loses that does not face the equator.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FacingLoss {
    /// How far it faces off, to either side: the loss is the same under a clear sky.
    pub off: Angle,
    /// Share of the year's energy lost.
    pub year: f64,
    /// Share lost in the three months around the winter solstice.
    pub winter: f64,
}

/// Losses of frames that face 5, 10, 15 and 20 degrees off, tilted as the seasons say.
///
/// # Errors
/// Passed on from the energy table; none for seasons of a plan.
pub fn facing_losses(place: &Place, seasons: &[Season]) -> Result<Vec<FacingLoss>, SunFault> {
    [5.0, 10.0, 15.0, 20.0].into_iter().map(|off_deg| facing_loss(place, seasons, deg(off_deg))).collect()
}

/// Loss of a frame that faces `off` the equator, clockwise +, tilted as the seasons say.
///
/// # Errors
/// Passed on from the energy table; none for seasons of a plan.
pub fn facing_loss(place: &Place, seasons: &[Season], off: Angle) -> Result<FacingLoss, SunFault> {
    let mut tilts: Vec<f64> = seasons.iter().map(|season| to_deg(season.tilt)).collect();
    tilts.sort_by(f64::total_cmp);
    tilts.dedup();
    let straight = sums(&DailyEnergy::new(place, tilts.clone(), 0.0)?, place, seasons);
    let turned = sums(&DailyEnergy::new(place, tilts, to_deg(off))?, place, seasons);
    let loss = |turned: f64, straight: f64| if straight > 0.0 { 1.0 - turned / straight } else { 0.0 };
    Ok(FacingLoss { off, year: loss(turned.0, straight.0), winter: loss(turned.1, straight.1) })
}

/// Energy of the year, and of the winter months.
fn sums(table: &DailyEnergy, place: &Place, seasons: &[Season]) -> (f64, f64) {
    let (mut year, mut winter) = (0.0, 0.0);
    for season in seasons {
        let column = table.tilts_deg().iter().position(|tilt| *tilt == to_deg(season.tilt)).unwrap_or(0);
        let start = season.from.index();
        for day in (start..start + season.days).map(|day| day % DAYS) {
            let energy = table.day(day)[column];
            year += energy;
            if place.winter_months().contains(&MonthDay::from_index(day).month) {
                winter += energy;
            }
        }
    }
    (year, winter)
}

/// UTC of the sun's culmination on a day (h). The same day of another year is at most half a minute off.
///
/// # Errors
/// Passed on from the sun position; none for a valid place.
pub fn noon_utc_hours(place: &Place, days: &[MonthDay]) -> Result<Vec<f64>, SunFault> {
    let year = SunYear::new(REFERENCE_YEAR, place.longitude_deg())?;
    Ok(days.iter().map(|day| year.utc_hours(day.index(), 0.0)).collect())
}

/// Distances between rows at a site.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SiteRows {
    /// Tilt they were worked out for.
    pub tilt: Angle,
    /// The sun at the first hour of the winter solstice.
    pub sun: SunRay,
    /// Distances that keep the next row lit from then on.
    pub spacing: RowSpacing,
    /// Reach of a frame that turns on an axle at its mid height: nothing may stand nearer to the axle.
    pub reach: Length,
}

/// Row spacing for the winter solstice at a place, at the tilt asked for or the steepest of the plan.
///
/// # Errors
/// [`SunFault::NoSunOnRows`] when the sun is not up at that hour, [`SunFault::Row`] when the ground falls away too steeply.
pub fn row_spacing(place: &Place, request: &RowRequest, seasons: &[Season]) -> Result<SiteRows, SunFault> {
    let year = SunYear::new(REFERENCE_YEAR, place.longitude_deg())?;
    let sun = &year.days[winter_solstice(place).index()];
    let hour_angle_deg = (request.from_hour - 12.0) * 15.0;
    let sight = Sight::of(sun, place.latitude_deg().to_radians().sin_cos(), hour_angle_deg);
    let off_deg = super::position::wrap_half_turn(sight.azimuth_deg() - to_deg(place.facing()));
    let ray = SunRay { altitude: deg(sight.altitude_deg), off_facing: deg(off_deg) };
    let steepest = seasons.iter().map(|season| to_deg(season.tilt)).fold(0.0, f64::max);
    let tilt = request.tilt.unwrap_or(deg(steepest));
    let face = RowFace { slope_length: request.slope_length, tilt, ground_rise: request.ground_rise };
    let half = mm(to_mm(request.slope_length) / 2.0);
    Ok(SiteRows { tilt, sun: ray, spacing: spacing(face, ray)?, reach: swing_reach(half, half, request.depth) })
}
