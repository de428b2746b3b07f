//! Which tilts to use, and on which days to change them.

use super::{
    calendar::{MonthDay, REFERENCE_YEAR, days_in_month},
    energy::{DAYS, DailyEnergy},
    fault::SunFault,
    goal::arcs_for,
    noon::noon_through_year,
    partition::{Arc, best_arcs, merge_equal},
    place::Place,
    position::SunYear,
};
use crate::{
    design::Goal,
    quantities::{Angle, deg, to_deg},
};

/// Most seasons a year is divided into.
pub const MOST_SEASONS: usize = 12;

/// A stretch of the year at one tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Season {
    /// First day at this tilt.
    pub from: MonthDay,
    /// Number of days until the next change.
    pub days: usize,
    /// Tilt from level, facing the equator.
    pub tilt: Angle,
}

/// The best single tilt, never changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FixedTilt {
    /// Tilt from level.
    pub tilt: Angle,
    /// Flattest tilt that costs at most one per cent of the year.
    pub flattest_within_one_percent: Angle,
    /// Steepest tilt that costs at most one per cent of the year.
    pub steepest_within_one_percent: Angle,
    /// Clear-sky energy of a year (kWh/m²).
    pub year_kwh: f64,
}

/// Tilts and change-over dates, and what they are worth under a clear sky.
#[derive(Debug, Clone, PartialEq)]
pub struct SeasonPlan {
    /// In the order of the calendar; the last one runs on into January.
    pub seasons: Vec<Season>,
    /// What it was chosen for; nothing where days were weighed by hand or the seasons come from elsewhere.
    pub goal: Option<Goal>,
    /// Energy of a year (kWh/m²).
    pub year_kwh: f64,
    /// Share gained over the best fixed tilt, 0.05 for five per cent.
    pub gain_over_fixed: f64,
    /// Share of what a tilt changed every day would give, 0 to 1.
    pub share_of_daily_optimum: f64,
}

impl SeasonPlan {
    /// What it was chosen for in words, where that is not the year's sum.
    #[must_use]
    pub fn special_goal(&self) -> Option<&'static str> {
        self.goal.filter(|goal| *goal != Goal::Year).map(Goal::in_words)
    }
}

/// How much each day counts when tilts are chosen.
#[derive(Debug, Clone, PartialEq)]
pub struct Weights(Vec<f64>);

impl Weights {
    /// Every day counts the same.
    #[must_use]
    pub fn even() -> Self {
        Self(vec![1.0; DAYS])
    }

    /// The days of some months (1 to 12) count `weight` times, all others once.
    ///
    /// # Errors
    /// [`SunFault::Weight`] for a month that does not exist and a weight outside 0 to 1000.
    pub fn months(months: &[u8], weight: f64) -> Result<Self, SunFault> {
        Self::with(months, weight, 1.0)
    }

    /// Only the days of some months count. The others weigh a millionth, so that the frame stands sensibly then too.
    ///
    /// # Errors
    /// As [`Weights::months`].
    pub fn only(months: &[u8]) -> Result<Self, SunFault> {
        const NEXT_TO_NOTHING: f64 = 1e-6;
        Self::with(months, 1.0, NEXT_TO_NOTHING)
    }

    /// How much each day counts, 1 January first.
    pub(super) fn days(&self) -> &[f64] {
        &self.0
    }

    fn with(months: &[u8], inside: f64, outside: f64) -> Result<Self, SunFault> {
        if let Some(month) = months.iter().find(|month| !(1..=12).contains(*month)) {
            return Err(SunFault::Weight { what: "month", given: f64::from(*month) });
        }
        if !(inside > 0.0 && inside <= 1000.0) {
            return Err(SunFault::Weight { what: "weight", given: inside });
        }
        let weight = |month| if months.contains(&month) { inside } else { outside };
        Ok(Self((1..=12).flat_map(|m| std::iter::repeat_n(weight(m), usize::from(days_in_month(2025, m)))).collect()))
    }
}

/// A place with its table of daily energies: every plan for it is chosen from here.
#[derive(Debug, Clone)]
pub struct Study {
    place: Place,
    table: DailyEnergy,
    fixed: FixedTilt,
    daily_optimum_kwh: f64,
    noon: Vec<Angle>,
}

impl Study {
    /// Computes the table of a place.
    ///
    /// # Errors
    /// Passed on from the sun position; none for a valid place.
    pub fn of(place: &Place) -> Result<Self, SunFault> {
        let year = SunYear::new(REFERENCE_YEAR, place.longitude_deg())?;
        let table = DailyEnergy::in_year(&year, place, (0..=90).map(f64::from).collect(), 0.0);
        let fixed = best_fixed(&table);
        let daily_optimum_kwh =
            (0..DAYS).map(|day| table.day(day).iter().copied().fold(f64::NEG_INFINITY, f64::max)).sum();
        Ok(Self { place: *place, table, fixed, daily_optimum_kwh, noon: noon_through_year(place, &year) })
    }

    /// The place.
    #[must_use]
    pub fn place(&self) -> &Place {
        &self.place
    }

    /// Height of the noon sun on every day of the year.
    #[must_use]
    pub fn noon(&self) -> &[Angle] {
        &self.noon
    }

    /// Energy by day and tilt.
    #[must_use]
    pub fn table(&self) -> &DailyEnergy {
        &self.table
    }

    /// The best tilt that is never changed.
    #[must_use]
    pub fn fixed(&self) -> FixedTilt {
        self.fixed
    }

    /// Energy of a year when the tilt is changed every day (kWh/m²).
    #[must_use]
    pub fn daily_optimum_kwh(&self) -> f64 {
        self.daily_optimum_kwh
    }

    /// The best plan of the year with `count` seasons, tilts to a whole degree.
    ///
    /// # Errors
    /// [`SunFault::SeasonCount`] outside 1 to 12.
    pub fn plan(&self, count: usize) -> Result<SeasonPlan, SunFault> {
        self.plan_for(count, Goal::Year)
    }

    /// The best plan for a goal with `count` seasons, tilts to a whole degree.
    ///
    /// # Errors
    /// [`SunFault::SeasonCount`] outside 1 to 12.
    pub fn plan_for(&self, count: usize, goal: Goal) -> Result<SeasonPlan, SunFault> {
        self.chosen(&self.table, count, goal)
    }

    /// The best plan for a frame: tilts to a whole degree within its swing, no two of them a degree apart. Where spring and
    /// autumn ask for such a pair, one tilt serves both: it costs less than a ten-thousandth of the year, and two holes
    /// could not be drilled so near.
    ///
    /// # Errors
    /// [`SunFault::SeasonCount`] outside 1 to 12, [`SunFault::NoTilt`] when no whole degree lies within the swing.
    pub fn plan_for_frame(&self, count: usize, goal: Goal, [least, most]: [Angle; 2]) -> Result<SeasonPlan, SunFault> {
        const TOO_NEAR_DEG: f64 = 1.0;
        let within = |tilt: &f64| (to_deg(least)..=to_deg(most)).contains(tilt);
        let mut tilts: Vec<f64> = self.table.tilts_deg().iter().copied().filter(within).collect();
        loop {
            let wanted = |column: &usize| tilts.contains(&self.table.tilts_deg()[*column]);
            let columns: Vec<usize> = (0..self.table.tilts_deg().len()).filter(wanted).collect();
            let plan = self.chosen(&self.table.columns(&columns), count, goal)?;
            let days = |tilt: f64| plan.seasons.iter().filter(|s| whole(s.tilt) == tilt).map(|s| s.days).sum::<usize>();
            tilts = plan.seasons.iter().map(|season| whole(season.tilt)).collect();
            tilts.sort_by(f64::total_cmp);
            tilts.dedup();
            let Some(near) = tilts.windows(2).find(|pair| pair[1] - pair[0] <= TOO_NEAR_DEG) else { return Ok(plan) };
            // The tilt that stands for fewer days gives way, and the dates are chosen again.
            let given_up = if days(near[0]) < days(near[1]) { near[0] } else { near[1] };
            tilts.retain(|tilt| *tilt != given_up);
        }
    }

    fn chosen(&self, table: &DailyEnergy, count: usize, goal: Goal) -> Result<SeasonPlan, SunFault> {
        check_count(count)?;
        if table.tilts_deg().is_empty() {
            return Err(SunFault::NoTilt);
        }
        let arcs = arcs_for(table, &self.place, goal, count)?;
        Ok(SeasonPlan { goal: Some(goal), ..self.worth(&seasons(table, &arcs)) })
    }

    /// The best plan when some days count more than others. Energies in the result are those of the plain year.
    ///
    /// # Errors
    /// [`SunFault::SeasonCount`] outside 1 to 12.
    pub fn plan_weighted(&self, count: usize, weights: &Weights) -> Result<SeasonPlan, SunFault> {
        check_count(count)?;
        let table = self.table.weighted(weights.days());
        Ok(self.worth(&seasons(&table, &best_arcs(&table, count))))
    }

    /// The best dates for a goal with at most `count` seasons when only the given tilts can be set.
    ///
    /// # Errors
    /// [`SunFault::NoTilt`], [`SunFault::Tilt`] outside 0 to 90°, [`SunFault::SeasonCount`].
    pub fn plan_from(&self, tilts: &[Angle], count: usize, goal: Goal) -> Result<SeasonPlan, SunFault> {
        check_count(count)?;
        let table = self.at_tilts(tilts)?;
        let arcs = merge_equal(arcs_for(&table, &self.place, goal, count)?);
        Ok(SeasonPlan { goal: Some(goal), ..self.worth(&seasons(&table, &arcs)) })
    }

    /// The energy table at tilts of the caller's own, ascending and without doubles.
    pub(crate) fn at_tilts(&self, tilts: &[Angle]) -> Result<DailyEnergy, SunFault> {
        let mut tilts_deg: Vec<f64> = tilts.iter().map(|tilt| to_deg(*tilt)).collect();
        tilts_deg.sort_by(f64::total_cmp);
        tilts_deg.dedup();
        DailyEnergy::new(&self.place, tilts_deg, 0.0)
    }

    /// What seasons chosen elsewhere are worth here. Lengths are taken from the dates.
    #[must_use]
    pub fn worth(&self, seasons: &[Season]) -> SeasonPlan {
        let year_kwh: f64 = seasons.iter().map(|season| self.season_kwh(season)).sum();
        SeasonPlan {
            seasons: seasons.to_vec(),
            goal: None,
            year_kwh,
            gain_over_fixed: ratio(year_kwh, self.fixed.year_kwh) - 1.0,
            share_of_daily_optimum: ratio(year_kwh, self.daily_optimum_kwh),
        }
    }

    fn season_kwh(&self, season: &Season) -> f64 {
        let start = season.from.index();
        (start..start + season.days).map(|day| self.table.at(day % DAYS, to_deg(season.tilt))).sum()
    }

    /// Energy of every month, January first (kWh/m²), when the frame stands as the seasons say.
    #[must_use]
    pub fn by_month_kwh(&self, seasons: &[Season]) -> [f64; 12] {
        std::array::from_fn(|month| self.months_kwh(seasons, &[month as u8 + 1]))
    }

    /// Energy of chosen months (kWh/m²) when the frame stands as the seasons say.
    #[must_use]
    pub fn months_kwh(&self, seasons: &[Season], months: &[u8]) -> f64 {
        let days = seasons.iter().flat_map(|season| {
            let start = season.from.index();
            (start..start + season.days).map(|day| (day % DAYS, to_deg(season.tilt)))
        });
        days.filter(|(day, _)| months.contains(&MonthDay::from_index(*day).month))
            .map(|(day, tilt_deg)| self.table.at(day, tilt_deg))
            .sum()
    }
}

/// The best plan for a latitude (north +) with `count` seasons, facing the equator, under a clear sky.
///
/// # Errors
/// [`SunFault::Latitude`] beyond a pole, [`SunFault::SeasonCount`] outside 1 to 12.
///
/// # Example
/// ```
/// use tiltwright::{quantities::{deg, to_deg}, sun::seasons::plan};
/// let plan = plan(deg(40.0), 2)?;
/// let tilts: Vec<f64> = plan.seasons.iter().map(|season| to_deg(season.tilt).round()).collect();
/// assert_eq!(tilts, [16.0, 56.0]); // from the end of March, and from mid-September
/// assert!((plan.gain_over_fixed - 0.0555).abs() < 0.001);
/// # Ok::<(), tiltwright::sun::SunFault>(())
/// ```
pub fn plan(latitude: Angle, count: usize) -> Result<SeasonPlan, SunFault> {
    check_count(count)?;
    Study::of(&Place::on_latitude(latitude)?)?.plan(count)
}

pub(crate) fn check_count(count: usize) -> Result<(), SunFault> {
    if (1..=MOST_SEASONS).contains(&count) { Ok(()) } else { Err(SunFault::SeasonCount { given: count }) }
}

/// Seasons that begin on given days, each running to the next one; the order of the list does not matter.
#[must_use]
pub fn from_dates(starts: &[(MonthDay, Angle)]) -> Vec<Season> {
    let mut starts = starts.to_vec();
    starts.sort_by_key(|(from, _)| *from);
    let next = |at: usize| starts[(at + 1) % starts.len()].0.index();
    let days = |at: usize| match (next(at) + DAYS - starts[at].0.index()) % DAYS {
        0 => DAYS,
        days => days,
    };
    (0..starts.len()).map(|at| Season { from: starts[at].0, days: days(at), tilt: starts[at].1 }).collect()
}

pub(crate) fn seasons(table: &DailyEnergy, arcs: &[Arc]) -> Vec<Season> {
    arcs.iter()
        .map(|arc| Season {
            from: MonthDay::from_index(arc.start),
            days: arc.days,
            tilt: deg(table.tilts_deg()[arc.column]),
        })
        .collect()
}

/// A tilt of whole degrees in degrees: turning it into an angle and back leaves a last digit behind.
fn whole(tilt: Angle) -> f64 {
    to_deg(tilt).round()
}

fn best_fixed(table: &DailyEnergy) -> FixedTilt {
    const ONE_PERCENT_OFF: f64 = 0.99;
    let year = table.run(0, DAYS);
    let best = (0..year.len()).fold(0, |best, at| if year[at] > year[best] { at } else { best });
    let enough: Vec<usize> = (0..year.len()).filter(|at| year[*at] >= ONE_PERCENT_OFF * year[best]).collect();
    let tilt = |at: usize| deg(table.tilts_deg()[at]);
    FixedTilt {
        tilt: tilt(best),
        flattest_within_one_percent: tilt(enough.first().copied().unwrap_or(best)),
        steepest_within_one_percent: tilt(enough.last().copied().unwrap_or(best)),
        year_kwh: year[best],
    }
}

fn ratio(value: f64, whole: f64) -> f64 {
    if whole > 0.0 { value / whole } else { 1.0 }
}
