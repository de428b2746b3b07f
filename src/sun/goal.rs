//! Plans for what a year is to give: the most in all, the most in the dark, or the best of its worst month.

use super::{
    calendar::{MonthDay, days_in_month},
    energy::{DAYS, DailyEnergy},
    fault::SunFault,
    partition::{Arc, best_arcs},
    place::Place,
    seasons::Weights,
};
use crate::design::Goal;

const MONTHS: usize = 12;

/// The best division of the year into exactly `count` arcs for a goal.
///
/// # Errors
/// None for months that exist; passed on from the weights of the days.
pub(super) fn arcs_for(table: &DailyEnergy, place: &Place, goal: Goal, count: usize) -> Result<Vec<Arc>, SunFault> {
    match goal {
        Goal::Year => Ok(best_arcs(table, count)),
        Goal::Winter => winter(table, &place.winter_months(), count),
        Goal::Evenest => Ok(evenest(table, count)),
    }
}

/// The dark months stand at the tilts that serve them best, the rest of the year at those that serve it best round them.
///
/// As many seasons lie in the dark months as in the plan for the year: more would gain them a thousandth and take every
/// change away from the other nine months. So the dark months never get less than in the plan for the year.
fn winter(table: &DailyEnergy, months: &[u8], count: usize) -> Result<Vec<Arc>, SunFault> {
    let is_dark = |day: usize| months.contains(&MonthDay::from_index(day % DAYS).month);
    let year = best_arcs(table, count);
    let in_dark = year.iter().filter(|arc| (arc.start..arc.start + arc.days).any(is_dark)).count();
    let mut held = vec![None; DAYS];
    for arc in best_arcs(&table.weighted(Weights::only(months)?.days()), in_dark) {
        for day in (arc.start..arc.start + arc.days).filter(|day| is_dark(*day)) {
            held[day % DAYS] = Some(arc.column);
        }
    }
    Ok(best_arcs(&table.held(&held), count))
}

/// The month that gets least gets as much as it can; all else serves the year.
///
/// The level is exact for changes on the first of a month, every division of the twelve months being tried: within a month
/// a change gains the worst one a thousandth. Months that the plan for the year leaves under the level are then held at
/// their tilts, and the other days are planned round them. Where the least month gets no sun at all, this is the plan for the year.
fn evenest(table: &DailyEnergy, count: usize) -> Vec<Arc> {
    let months = Months::of(table);
    let tilts = months.evenest(count);
    let level = (0..MONTHS).map(|month| months.sums[month][tilts[month]]).fold(f64::INFINITY, f64::min);
    let mut held = vec![None; DAYS];
    loop {
        let arcs = best_arcs(&table.held(&held), count);
        let under: Vec<usize> =
            months.under(table, &arcs, level).filter(|m| held[months.first_day[*m]].is_none()).collect();
        if under.is_empty() {
            return arcs;
        }
        for month in under {
            held[months.first_day[month]..months.first_day[month + 1]].fill(Some(tilts[month]));
        }
    }
}

/// Energy by month and column.
struct Months {
    sums: Vec<Vec<f64>>,
    /// Number of each month's first day, and the number of days of the year.
    first_day: Vec<usize>,
}

/// Months that share a column: the first, how many (they run on over the turn of the year), the column.
type Span = (usize, usize, usize);

impl Months {
    fn of(table: &DailyEnergy) -> Self {
        let mut first_day = vec![0];
        let mut sums = Vec::with_capacity(MONTHS);
        for month in 1..=MONTHS {
            let (start, days) = (first_day[month - 1], usize::from(days_in_month(2025, month as u8)));
            sums.push(table.run(start, days));
            first_day.push(start + days);
        }
        Self { sums, first_day }
    }

    /// The column of each month when the year is divided into `count` spans of whole months so that the least month gets
    /// most; of all such divisions the one that gives the year most.
    fn evenest(&self, count: usize) -> Vec<usize> {
        let mut levels: Vec<f64> = self.sums.concat();
        levels.sort_by(f64::total_cmp);
        // Some level can always be kept: the least of all energies.
        let (mut kept, mut too_high) = (0, levels.len());
        let mut spans = self.divide(count, levels[kept]);
        while too_high - kept > 1 {
            let middle = kept.midpoint(too_high);
            match self.divide(count, levels[middle]) {
                None => too_high = middle,
                found => (kept, spans) = (middle, found),
            }
        }
        let mut columns = vec![0; MONTHS];
        for (first, months, column) in spans.unwrap_or_default() {
            (first..first + months).for_each(|month| columns[month % MONTHS] = column);
        }
        columns
    }

    /// The division into spans that gives the year most while every month gets at least `level`.
    fn divide(&self, count: usize, level: f64) -> Option<Vec<Span>> {
        let best_span = |first: usize, months: usize| {
            let all = || (first..first + months).map(|month| &self.sums[month % MONTHS]);
            let keeps = |column: &usize| all().all(|sums| sums[*column] >= level);
            let energy = |column: usize| all().map(|sums| sums[column]).sum::<f64>();
            let columns = (0..self.sums[0].len()).filter(keeps).map(|column| (energy(column), column));
            columns.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)))
        };
        let spans: Vec<Vec<Option<(f64, usize)>>> =
            (0..MONTHS).map(|first| (1..=MONTHS).map(|months| best_span(first, months)).collect()).collect();
        let from = |start: usize| {
            // best[m]: the most that the first m months give in as many spans as were laid, and those spans.
            let mut best: Vec<Option<(f64, Vec<Span>)>> = vec![None; MONTHS + 1];
            best[0] = Some((0.0, vec![]));
            for _ in 0..count {
                let mut next: Vec<Option<(f64, Vec<Span>)>> = vec![None; MONTHS + 1];
                for (done, (energy, laid)) in best.iter().enumerate().filter_map(|(m, b)| Some((m, b.as_ref()?))) {
                    for months in 1..=MONTHS - done {
                        let first = (start + done) % MONTHS;
                        let Some((more, column)) = spans[first][months - 1] else { continue };
                        let slot = &mut next[done + months];
                        if slot.as_ref().is_none_or(|(other, _)| energy + more > *other) {
                            let span = (first, months, column);
                            *slot = Some((energy + more, laid.iter().copied().chain([span]).collect()));
                        }
                    }
                }
                best = next;
            }
            best.pop().flatten()
        };
        (0..MONTHS).filter_map(from).max_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, spans)| spans)
    }

    /// Months that get less than `level` from a plan.
    fn under(&self, table: &DailyEnergy, arcs: &[Arc], level: f64) -> impl Iterator<Item = usize> {
        // Sums of the same days in another order differ in their last digits.
        const SAME: f64 = 1.0 - 1e-12;
        let mut sums = [0.0; MONTHS];
        for arc in arcs {
            for day in (arc.start..arc.start + arc.days).map(|day| day % DAYS) {
                sums[usize::from(MonthDay::from_index(day).month) - 1] += table.day(day)[arc.column];
            }
        }
        (0..MONTHS).filter(move |month| sums[*month] < level * SAME)
    }
}
