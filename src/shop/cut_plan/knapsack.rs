//! Best load of one board: the bounded knapsack, by dynamic programming over the board's length, in whole numbers.
//!
//! One table answers for every kind of board at once. Several equal parts are split into bundles of 1, 2, 4 … and a rest,
//! so that every number up to the demand can be made.

use super::problem::{Ends, Pattern, Problem};

/// Largest value a whole board may reach, so that sums of 32-bit values cannot overflow.
pub(super) const TOP_VALUE: f64 = (1u32 << 28) as f64;

struct Bundle {
    item: usize,
    count: i64,
}

/// Working memory of the knapsack, kept from call to call.
#[derive(Default)]
pub(super) struct Knapsack {
    bundles: Vec<Bundle>,
    width: usize,
    /// Best value by ends and length; `NONE` where a state cannot be reached.
    best: [Vec<i32>; 4],
    spare: [Vec<i32>; 4],
    /// By bundle, ends and length: the state the bundle was laid on plus one, or 0 when it was left out.
    choice: Vec<u8>,
    states: usize,
    /// Table cells filled so far: a measure of work that does not depend on the machine.
    pub(super) cells: u64,
}

const NONE: i32 = i32::MIN / 2;

impl Knapsack {
    /// Fills the table for part values and at most `limits` of each item.
    pub(super) fn solve(&mut self, problem: &Problem, values: &[i32], limits: &[i64]) {
        let top = problem.largest_capacity();
        self.bundles.clear();
        for (i, item) in problem.items.iter().enumerate() {
            if values[i] <= 0 || item.weight > top {
                continue;
            }
            let mut left = if item.weight > 0 { limits[i].min(top / item.weight) } else { limits[i] };
            let mut size = 1;
            while left > 0 {
                let count = size.min(left);
                self.bundles.push(Bundle { item: i, count });
                left -= count;
                size *= 2;
            }
        }
        self.width = top as usize + 1;
        self.states = problem.states;
        for state in 0..self.states {
            self.best[state].clear();
            self.best[state].resize(self.width, if state == 0 { 0 } else { NONE });
            self.spare[state].clear();
            self.spare[state].resize(self.width, NONE);
        }
        self.choice.clear();
        self.choice.resize(self.bundles.len() * self.states * self.width, 0);
        self.cells += self.choice.len() as u64;
        for k in 0..self.bundles.len() {
            let (item, count) = (self.bundles[k].item, self.bundles[k].count);
            let (weight, mitred_ends) = (problem.items[item].weight, problem.items[item].mitred_ends);
            let value = values[item] * count as i32;
            if self.states == 1 {
                self.lay_plain(k, (weight * count) as usize, value);
            } else {
                self.lay_mitred(k, (weight * count) as usize, value, mitred_ends, count);
            }
        }
    }

    fn lay_plain(&mut self, k: usize, weight: usize, value: i32) {
        let choice = &mut self.choice[k * self.width..(k + 1) * self.width][weight..];
        let (old, new) = (&self.best[0], &mut self.spare[0]);
        new[..weight].copy_from_slice(&old[..weight]);
        let lanes = new[weight..].iter_mut().zip(&old[weight..]).zip(old).zip(choice);
        for (((new, &without), &below), choice) in lanes {
            let with = below + value;
            let taken = with > without;
            *new = if taken { with } else { without };
            *choice = u8::from(taken);
        }
        std::mem::swap(&mut self.best[0], &mut self.spare[0]);
    }

    fn lay_mitred(&mut self, k: usize, weight: usize, value: i32, mitred_ends: u8, count: i64) {
        for state in 0..self.states {
            let old = &self.best[state];
            self.spare[state].copy_from_slice(old);
        }
        for from in Ends::ALL.into_iter().take(self.states) {
            let to = from.with(mitred_ends, count) as usize;
            let at = (k * self.states + to) * self.width;
            let choice = &mut self.choice[at..at + self.width][weight..];
            let lanes = self.spare[to][weight..].iter_mut().zip(&self.best[from as usize]).zip(choice);
            for ((new, &below), choice) in lanes {
                let with = below + value;
                if below > NONE && with > *new {
                    *new = with;
                    *choice = from as u8 + 1;
                }
            }
        }
        std::mem::swap(&mut self.best, &mut self.spare);
    }

    /// Best value on a board of kind `t`, exact.
    pub(super) fn best(&self, problem: &Problem, t: usize) -> i64 {
        self.best_state(problem, t).0
    }

    fn best_state(&self, problem: &Problem, t: usize) -> (i64, usize) {
        let mut found = (0, 0);
        for state in 0..self.states {
            let capacity = problem.boards[t].capacity[state];
            if capacity >= 0 {
                let value = i64::from(self.best[state][capacity as usize]);
                if value > found.0 {
                    found = (value, state);
                }
            }
        }
        found
    }

    /// A load of that value.
    pub(super) fn pattern(&self, problem: &Problem, t: usize) -> Pattern {
        let (value, mut state) = self.best_state(problem, t);
        let mut pattern = Pattern::new();
        if value == 0 {
            return pattern;
        }
        let mut at = problem.boards[t].capacity[state] as usize;
        for (k, bundle) in self.bundles.iter().enumerate().rev() {
            let chosen = self.choice[(k * self.states + state) * self.width + at];
            if chosen == 0 {
                continue;
            }
            if self.states > 1 {
                state = chosen as usize - 1;
            }
            at -= (problem.items[bundle.item].weight * bundle.count) as usize;
            match pattern.last_mut() {
                Some((item, count)) if *item == bundle.item => *count += bundle.count,
                _ => pattern.push((bundle.item, bundle.count)),
            }
        }
        pattern.reverse();
        pattern
    }
}
