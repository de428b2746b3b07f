//! Can these boards hold all parts, when boards may be mixed in fractions? Column generation answers, and hands out a yardstick when not.

use super::{
    bound::Yardstick,
    knapsack::{Knapsack, TOP_VALUE},
    problem::{Pattern, Problem},
    simplex::{Column, Simplex},
};
use std::collections::BTreeSet;

/// Loads found so far and the tables to find more.
pub(super) struct Cover<'a> {
    pub(super) problem: &'a Problem,
    pool: Vec<Load>,
    known: BTreeSet<(usize, Pattern)>,
    pub(super) knapsack: Knapsack,
    mix: u64,
}

/// A load of one kind of board.
struct Load {
    kind: usize,
    pattern: Pattern,
    /// Rows of the programme: one per item, then one per kind of board.
    rows: Vec<(usize, f64)>,
}

/// Loads and how often each is used, in fractions.
pub(super) type Mix = Vec<(usize, Pattern, f64)>;

/// What a set of boards turned out to be.
pub(super) enum Verdict {
    /// Enough, in fractions.
    Enough(Mix),
    /// Too little, proved in whole numbers.
    TooLittle(Yardstick),
    /// Rounding hides the answer, or the work ran out.
    Open,
}

const SLACK: f64 = 1e-6;

impl<'a> Cover<'a> {
    pub(super) fn new(problem: &'a Problem) -> Self {
        Self { problem, pool: Vec::new(), known: BTreeSet::new(), knapsack: Knapsack::default(), mix: 0 }
    }

    fn learn(&mut self, kind: usize, pattern: Pattern) -> bool {
        if pattern.is_empty() || !self.known.insert((kind, pattern.clone())) {
            return false;
        }
        let items = self.problem.items.len();
        let rows = pattern.iter().map(|&(i, count)| (i, count as f64)).chain([(items + kind, 1.0)]).collect();
        self.pool.push(Load { kind, pattern, rows });
        true
    }

    /// Changes the order in which equal choices are made.
    pub(super) fn shuffle(&mut self, mix: u64) {
        self.mix = mix;
    }

    /// Lays parts on a given set of boards so that as much weight as possible is covered.
    pub(super) fn test(&mut self, demands: &[i64], counts: &[i64], stop: &dyn Fn() -> bool) -> Verdict {
        let gains: Vec<f64> = self.problem.items.iter().map(|item| item.weight as f64).collect();
        let full: f64 = gains.iter().zip(demands).map(|(gain, demand)| gain * *demand as f64).sum();
        let prices = vec![0.0; counts.len()];
        let (mix, yardstick, value) = self.climb(demands, counts, &gains, &prices, Some(full), stop);
        if value >= full * (1.0 - 1e-9) - SLACK {
            return Verdict::Enough(mix);
        }
        match yardstick {
            Some(yardstick) if !yardstick.met_by(counts) => Verdict::TooLittle(yardstick),
            _ => Verdict::Open,
        }
    }

    /// The cheapest mix of boards in fractions, and the yardstick of its part values.
    pub(super) fn cheapest_mix(&mut self, stop: &dyn Fn() -> bool) -> (Mix, Option<Yardstick>) {
        let problem = self.problem;
        let dearest = problem.boards.iter().map(|board| board.price).max().unwrap_or(0) as f64;
        // Dearer than a board of its own: leaving a part uncut never pays.
        let gains = vec![dearest * 1.5 + 1.0; problem.items.len()];
        let prices: Vec<f64> = problem.boards.iter().map(|board| board.price as f64).collect();
        let limits: Vec<i64> = problem.boards.iter().map(|board| board.limit).collect();
        let (mix, yardstick, _) = self.climb(&problem.demands(), &limits, &gains, &prices, None, stop);
        (mix, yardstick)
    }

    /// Maximises the gain of what is covered less the price of boards. Returns the mix, the yardstick of the last part values and the value reached.
    fn climb(
        &mut self,
        demands: &[i64],
        counts: &[i64],
        gains: &[f64],
        prices: &[f64],
        enough: Option<f64>,
        stop: &dyn Fn() -> bool,
    ) -> (Mix, Option<Yardstick>, f64) {
        let problem = self.problem;
        let items = problem.items.len();
        let right = demands.iter().chain(counts).map(|v| *v as f64).collect();
        let mut simplex = Simplex::new(right);
        let profit = |kind: usize, pattern: &Pattern| {
            pattern.iter().map(|&(i, count)| gains[i] * count as f64).sum::<f64>() - prices[kind]
        };
        let usable = |kind: usize, pattern: &Pattern| counts[kind] > 0 && pattern.iter().all(|&(i, n)| n <= demands[i]);
        let mut columns: Vec<(usize, f64)> = (0..self.pool.len())
            .filter(|j| usable(self.pool[*j].kind, &self.pool[*j].pattern))
            .map(|j| (j, profit(self.pool[j].kind, &self.pool[j].pattern)))
            .collect();
        shuffle(&mut columns, self.mix);
        let mut yardstick = None;
        loop {
            let pool = &self.pool;
            let column = |j: usize| Column { profit: columns[j].1, rows: &pool[columns[j].0].rows };
            let value = climb_to_the_top(&mut simplex, columns.len(), column, stop);
            if enough.is_some_and(|enough| value >= enough * (1.0 - 1e-9) - SLACK) || stop() {
                break;
            }
            simplex.refresh(column);
            let duals = simplex.duals();
            let worth: Vec<f64> = (0..items).map(|i| (gains[i] - duals[i]).max(0.0)).collect();
            let (values, scale) = in_whole_numbers(problem, &worth);
            self.knapsack.solve(problem, &values, demands);
            let best: Vec<i64> = (0..counts.len()).map(|t| self.knapsack.best(problem, t)).collect();
            let need = values.iter().zip(demands).map(|(value, demand)| i64::from(*value) * demand).sum();
            let measure = Yardstick { values: values.iter().map(|v| i64::from(*v)).collect(), best, need };
            let proved = enough.is_some() && !measure.met_by(counts);
            let best = measure.best.clone();
            yardstick = Some(measure);
            if proved {
                break;
            }
            let duals: Vec<f64> = duals[items..].to_vec();
            let mut learnt = false;
            for t in (0..counts.len()).filter(|t| counts[*t] > 0) {
                let reach = best[t] as f64 / scale;
                if reach - prices[t] - duals[t] > 1e-6 * (1.0 + reach.abs()) {
                    let pattern = self.knapsack.pattern(problem, t);
                    let gain = profit(t, &pattern);
                    if self.learn(t, pattern) {
                        columns.push((self.pool.len() - 1, gain));
                        learnt = true;
                    }
                }
            }
            if !learnt {
                break;
            }
        }
        let column = |j: usize| Column { profit: columns[j].1, rows: &self.pool[columns[j].0].rows };
        let value = simplex.used().map(|(j, level)| column(j).profit * level).sum();
        let mix = simplex
            .used()
            .map(|(j, level)| {
                let load = &self.pool[columns[j].0];
                (load.kind, load.pattern.clone(), level)
            })
            .collect();
        (mix, yardstick, value)
    }
}

/// Pivots in short runs, so that a search can be stopped between them.
fn climb_to_the_top<'a>(
    simplex: &mut Simplex,
    count: usize,
    column: impl Fn(usize) -> Column<'a>,
    stop: &dyn Fn() -> bool,
) -> f64 {
    const RUN: u64 = 100;
    loop {
        let before = simplex.pivots;
        let value = simplex.climb(count, &column, RUN);
        if simplex.pivots - before < RUN || stop() {
            return value;
        }
    }
}

/// Part values rounded down to whole numbers, and the scale they were given.
fn in_whole_numbers(problem: &Problem, worth: &[f64]) -> (Vec<i32>, f64) {
    let top = problem.largest_capacity() as f64;
    let most =
        problem.items.iter().zip(worth).map(|(item, worth)| worth * (top / item.weight as f64)).fold(0.0, f64::max);
    let scale = if most > 0.0 { TOP_VALUE / most } else { 1.0 };
    (worth.iter().map(|worth| (worth * scale) as i32).collect(), scale)
}

/// A small fixed generator: the same mix gives the same order on every machine. 0 leaves the order alone.
fn shuffle<T>(list: &mut [T], mix: u64) {
    if mix == 0 {
        return;
    }
    let mut state = mix;
    for i in (1..list.len()).rev() {
        list.swap(i, (next_random(&mut state) % (i as u64 + 1)) as usize);
    }
}

/// SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
pub(super) fn next_random(state: &mut u64) -> u64 {
    *state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
    let mut z = *state;
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
