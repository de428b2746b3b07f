//! Real loads for a given set of boards: rounding a mix in fractions, board by board, and a complete search of what is left.

use super::{
    bound::Yardstick,
    cover::{Cover, Mix, Verdict, next_random},
    problem::{Ends, Pattern, Problem},
};
use std::collections::HashSet;

/// Loads of whole boards: kind, load, number of boards.
pub(super) type Loads = Vec<(usize, Pattern, i64)>;

/// What the search for loads ended with.
pub(super) enum Packed {
    Found(Loads),
    /// Every way has been tried.
    Impossible,
    Open,
}

/// What is left to do: parts by item, boards by kind.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) struct Rest {
    pub(super) demands: Vec<i64>,
    pub(super) counts: Vec<i64>,
}

impl Rest {
    fn is_done(&self) -> bool {
        self.demands.iter().all(|demand| *demand == 0)
    }

    fn boards(&self) -> i64 {
        self.counts.iter().sum()
    }

    /// How often a load can still be cut, at most `most` times.
    pub(super) fn room_for(&self, kind: usize, pattern: &Pattern, most: i64) -> i64 {
        pattern.iter().map(|&(i, count)| self.demands[i] / count).fold(most.min(self.counts[kind]), i64::min).max(0)
    }

    pub(super) fn take(&mut self, kind: usize, pattern: &Pattern, times: i64) {
        self.counts[kind] -= times;
        for &(i, count) in pattern {
            self.demands[i] -= count * times;
        }
    }
}

/// Rounds a mix down, covers the rest in fractions again, and so on; when nothing rounds down, the fullest fraction is rounded up.
pub(super) fn dive(
    cover: &mut Cover<'_>,
    start: &Rest,
    first: Option<Mix>,
    yardsticks: &[Yardstick],
    seed: u64,
    stop: &dyn Fn() -> bool,
) -> Option<Loads> {
    /// Boards left that the complete search is tried on, and its steps.
    const FEW: i64 = 6;
    const STEPS: u64 = 3_000;
    let mut random = seed;
    let mut rest = start.clone();
    let mut loads = Loads::new();
    let mut mix = first;
    loop {
        if rest.is_done() {
            return Some(loads);
        }
        if rest.boards() <= FEW {
            match complete(cover.problem, &rest, yardsticks, STEPS, stop) {
                Packed::Found(more) => {
                    loads.extend(more);
                    return Some(loads);
                }
                Packed::Impossible => return None,
                Packed::Open => {}
            }
        }
        let current = match mix.take() {
            Some(mix) => mix,
            None => match cover.test(&rest.demands, &rest.counts, stop) {
                Verdict::Enough(mix) => mix,
                _ => return None,
            },
        };
        if stop() {
            return None;
        }
        let mut rounded = false;
        for (kind, pattern, level) in &current {
            let times = rest.room_for(*kind, pattern, (level + 1e-6).floor() as i64);
            if times > 0 {
                rest.take(*kind, pattern, times);
                loads.push((*kind, pattern.clone(), times));
                rounded = true;
            }
        }
        if !rounded {
            let (kind, pattern) = fullest(&current, &rest, seed, &mut random)?;
            rest.take(kind, &pattern, 1);
            loads.push((kind, pattern, 1));
        }
    }
}

/// The load nearest to a whole board; a seed other than 0 blurs the choice.
fn fullest(mix: &Mix, rest: &Rest, seed: u64, random: &mut u64) -> Option<(usize, Pattern)> {
    let mut found: Option<(f64, usize)> = None;
    for (at, (kind, pattern, level)) in mix.iter().enumerate() {
        if rest.room_for(*kind, pattern, 1) == 0 {
            continue;
        }
        // Among equals the one with the largest part: small parts find a place later.
        let blur = if seed == 0 { 0.0 } else { (next_random(random) >> 11) as f64 / (1u64 << 53) as f64 * 0.3 };
        let score = level + blur - pattern[0].0 as f64 * 1e-6;
        if found.is_none_or(|(best, _)| score > best) {
            found = Some((score, at));
        }
    }
    found.map(|(_, at)| (mix[at].0, mix[at].1.clone()))
}

/// Tries every way to load the boards, heaviest part first, for at most `steps` steps.
pub(super) fn complete(
    problem: &Problem,
    rest: &Rest,
    yardsticks: &[Yardstick],
    steps: u64,
    stop: &dyn Fn() -> bool,
) -> Packed {
    let mut search = Completion { problem, yardsticks, failed: HashSet::new(), loads: Loads::new(), left: steps, stop };
    match search.descend(rest) {
        Some(true) => Packed::Found(search.loads),
        Some(false) => Packed::Impossible,
        None => Packed::Open,
    }
}

struct Completion<'a> {
    problem: &'a Problem,
    yardsticks: &'a [Yardstick],
    /// Rests that cannot be finished.
    failed: HashSet<Rest>,
    loads: Loads,
    left: u64,
    stop: &'a dyn Fn() -> bool,
}

impl Completion<'_> {
    /// `None` when the steps have run out.
    fn descend(&mut self, rest: &Rest) -> Option<bool> {
        let Some(first) = rest.demands.iter().position(|demand| *demand > 0) else { return Some(true) };
        if self.left == 0 {
            return None;
        }
        let meets = |y: &Yardstick| y.slack(&rest.demands, &rest.counts) >= 0;
        if self.failed.contains(rest) || !self.yardsticks.iter().all(meets) {
            return Some(false);
        }
        let spare = self.spare(rest);
        if spare < 0 {
            return Some(false);
        }
        let mut kinds: Vec<usize> = (0..rest.counts.len()).filter(|t| rest.counts[*t] > 0).collect();
        kinds.sort_by_key(|t| (self.problem.boards[*t].capacity[0], *t));
        for t in kinds {
            let mut load = Pattern::new();
            if self.fill(rest, t, first, &mut load, spare)? {
                return Some(true);
            }
        }
        self.failed.insert(rest.clone());
        Some(false)
    }

    /// Weight that may stay empty on all boards together.
    fn spare(&self, rest: &Rest) -> i64 {
        let room: i64 = self.problem.boards.iter().zip(&rest.counts).map(|(b, n)| b.capacity[0] * n).sum();
        let need: i64 = self.problem.items.iter().zip(&rest.demands).map(|(i, d)| i.weight * d).sum();
        room - need
    }

    /// Lays item `i` and lighter ones on a board of kind `t`; the first item must lie on it.
    fn fill(&mut self, rest: &Rest, t: usize, i: usize, load: &mut Pattern, spare: i64) -> Option<bool> {
        let (weight, ends) = self.problem.weigh(load);
        let capacity = self.problem.boards[t].capacity[0];
        let Some(item) = self.problem.items.get(i) else {
            return self.close(rest, t, load, capacity - weight, spare);
        };
        // Even with all lighter parts on it the board would stay too empty.
        let lighter: i64 = (i..self.problem.items.len()).map(|j| self.problem.items[j].weight * rest.demands[j]).sum();
        if capacity - weight - lighter > spare {
            return Some(false);
        }
        if self.left == 0 || (self.left.is_multiple_of(1024) && (self.stop)()) {
            return None;
        }
        self.left -= 1;
        let fits = |count: i64| self.problem.fits(t, weight + item.weight * count, ends.with(item.mitred_ends, count));
        let most =
            rest.demands[i].min(if item.weight > 0 { (capacity - weight) / item.weight } else { rest.demands[i] });
        let least = i64::from(load.is_empty());
        for count in (least..=most).rev() {
            // An odd number of mitred ends can fit where the even one below it does not, and the other way round.
            if count > 0 && !fits(count) && self.problem.states == 1 {
                continue;
            }
            if count > 0 {
                load.push((i, count));
            }
            let done = self.fill(rest, t, self.next_item(rest, i), load, spare);
            if count > 0 {
                load.pop();
            }
            if done? {
                return Some(true);
            }
        }
        Some(false)
    }

    fn next_item(&self, rest: &Rest, i: usize) -> usize {
        (i + 1..rest.demands.len()).find(|j| rest.demands[*j] > 0).unwrap_or(rest.demands.len())
    }

    /// The board is full: go on with the next one.
    fn close(&mut self, rest: &Rest, t: usize, load: &Pattern, empty: i64, spare: i64) -> Option<bool> {
        let (weight, ends) = self.problem.weigh(load);
        if empty > spare || !self.problem.fits(t, weight, ends) || !self.is_full(rest, t, load, weight, ends) {
            return Some(false);
        }
        let mut after = rest.clone();
        after.take(t, load, 1);
        self.loads.push((t, load.clone(), 1));
        if self.descend(&after)? {
            return Some(true);
        }
        self.loads.pop();
        Some(false)
    }

    /// Does no other part that is left go on it? A part that fits may as well lie here.
    fn is_full(&self, rest: &Rest, t: usize, load: &Pattern, weight: i64, ends: Ends) -> bool {
        let laid = |i: usize| load.iter().find(|(j, _)| *j == i).map_or(0, |(_, count)| *count);
        self.problem.items.iter().enumerate().all(|(i, item)| {
            rest.demands[i] == laid(i) || !self.problem.fits(t, weight + item.weight, ends.with(item.mitred_ends, 1))
        })
    }
}

/// Loads boards one after the other, each as full as it can be for its price. `None` when the boards run out.
pub(super) fn fill_greedily(cover: &mut Cover<'_>, rest: &mut Rest, loads: &mut Loads) -> bool {
    let problem = cover.problem;
    let top = problem.largest_capacity() as f64;
    let scale = super::knapsack::TOP_VALUE / top;
    let values: Vec<i32> = problem.items.iter().map(|item| (item.weight as f64 * scale) as i32).collect();
    while !rest.is_done() {
        cover.knapsack.solve(problem, &values, &rest.demands);
        let left: f64 = values.iter().zip(&rest.demands).map(|(v, d)| f64::from(*v) * *d as f64).sum();
        let mut found: Option<(bool, f64, usize)> = None;
        for t in (0..problem.boards.len()).filter(|t| rest.counts[*t] > 0) {
            let best = cover.knapsack.best(problem, t) as f64;
            if best <= 0.0 {
                continue;
            }
            // A board that takes all that is left is judged by its price, the others by price for what they take.
            let last = best >= left;
            let price = problem.boards[t].price as f64;
            let score = if last { price } else { (price + 1e-3) / best * left };
            if found.is_none_or(|(_, least, _)| score < least) {
                found = Some((last, score, t));
            }
        }
        let Some((_, _, kind)) = found else { return false };
        let pattern = cover.knapsack.pattern(problem, kind);
        let times = rest.room_for(kind, &pattern, i64::MAX);
        rest.take(kind, &pattern, times);
        loads.push((kind, pattern, times));
    }
    true
}
