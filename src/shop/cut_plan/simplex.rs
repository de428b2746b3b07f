//! A small linear programme that grows by columns: maximise `p·x` with `A x ≤ b`, `x ≥ 0`, `b ≥ 0`.
//!
//! Dense revised simplex with an explicit inverse. Every row has a slack, so `x = 0` is where it starts. Its numbers are floating point and are never
//! trusted: they only propose part values, and what is proved from them is proved in whole numbers.

/// One column: what it earns and where it weighs.
pub(super) struct Column<'a> {
    pub(super) profit: f64,
    pub(super) rows: &'a [(usize, f64)],
}

/// The programme's state between calls.
pub(super) struct Simplex {
    rows: usize,
    /// Inverse of the basis, row by row.
    inverse: Vec<f64>,
    /// Column in each row of the basis; `usize::MAX - r` is the slack of row `r`.
    basis: Vec<usize>,
    basic: Vec<bool>,
    levels: Vec<f64>,
    duals: Vec<f64>,
    right: Vec<f64>,
    weak_steps: usize,
    /// Pivots so far.
    pub(super) pivots: u64,
}

const TINY: f64 = 1e-9;

fn slack(row: usize) -> usize {
    usize::MAX - row
}

fn slack_row(column: usize, rows: usize) -> Option<usize> {
    let row = usize::MAX - column;
    (row < rows).then_some(row)
}

impl Simplex {
    /// Nothing but slacks.
    pub(super) fn new(right: Vec<f64>) -> Self {
        let rows = right.len();
        let mut inverse = vec![0.0; rows * rows];
        for r in 0..rows {
            inverse[r * rows + r] = 1.0;
        }
        Self {
            rows,
            inverse,
            basis: (0..rows).map(slack).collect(),
            basic: Vec::new(),
            levels: right.clone(),
            duals: vec![0.0; rows],
            right,
            weak_steps: 0,
            pivots: 0,
        }
    }

    /// Value of one more unit of each row's right side.
    pub(super) fn duals(&self) -> &[f64] {
        &self.duals
    }

    /// Columns that are used, and how often.
    pub(super) fn used(&self) -> impl Iterator<Item = (usize, f64)> + '_ {
        self.basis
            .iter()
            .zip(&self.levels)
            .filter(|(column, level)| slack_row(**column, self.rows).is_none() && **level > TINY)
            .map(|(column, level)| (*column, *level))
    }

    fn gain(&self, column: &Column<'_>) -> f64 {
        column.profit - column.rows.iter().map(|(r, a)| self.duals[*r] * a).sum::<f64>()
    }

    /// Climbs until no column gains, or `most` pivots are made. Returns the value reached.
    pub(super) fn climb<'a>(&mut self, count: usize, column: impl Fn(usize) -> Column<'a>, most: u64) -> f64 {
        self.basic.resize(count, false);
        let stop = self.pivots + most;
        while self.pivots < stop {
            let Some(entering) = self.entering(count, &column) else { break };
            if !self.pivot(entering, &column) {
                break;
            }
        }
        self.value(&column)
    }

    fn value<'a>(&self, column: &impl Fn(usize) -> Column<'a>) -> f64 {
        self.used().map(|(j, level)| column(j).profit * level).sum()
    }

    /// The column that gains most; after many steps that gained nothing, the first that gains, so that it cannot circle.
    fn entering<'a>(&self, count: usize, column: &impl Fn(usize) -> Column<'a>) -> Option<usize> {
        const PATIENCE: usize = 400;
        const GAIN: f64 = 1e-7;
        let first = self.weak_steps > PATIENCE;
        let mut found = (GAIN, None);
        for r in 0..self.rows {
            if -self.duals[r] > found.0 {
                found = (-self.duals[r], Some(slack(r)));
            }
        }
        for j in 0..count {
            if self.basic[j] {
                continue;
            }
            let gain = self.gain(&column(j));
            if gain > found.0 {
                found = (gain, Some(j));
                if first {
                    break;
                }
            }
        }
        found.1
    }

    fn pivot<'a>(&mut self, entering: usize, column: &impl Fn(usize) -> Column<'a>) -> bool {
        let m = self.rows;
        let (profit, entries): (f64, Vec<(usize, f64)>) = match slack_row(entering, m) {
            Some(row) => (0.0, vec![(row, 1.0)]),
            None => {
                let column = column(entering);
                (column.profit, column.rows.to_vec())
            }
        };
        let direction: Vec<f64> =
            (0..m).map(|r| entries.iter().map(|(i, a)| self.inverse[r * m + i] * a).sum()).collect();
        let Some(leaving) = self.leaving(&direction) else { return false };
        let gain = profit - entries.iter().map(|(i, a)| self.duals[*i] * a).sum::<f64>();
        let turn = direction[leaving];
        let step = (self.levels[leaving] / turn).max(0.0);
        self.weak_steps = if step > TINY { 0 } else { self.weak_steps + 1 };
        let pivot_row: Vec<f64> = self.inverse[leaving * m..(leaving + 1) * m].iter().map(|v| v / turn).collect();
        for (r, &factor) in direction.iter().enumerate() {
            if r != leaving && factor.abs() > 1e-12 {
                let row = &mut self.inverse[r * m..(r + 1) * m];
                for (value, pivot) in row.iter_mut().zip(&pivot_row) {
                    *value -= factor * pivot;
                }
                self.levels[r] = (self.levels[r] - factor * step).max(0.0);
            }
        }
        self.inverse[leaving * m..(leaving + 1) * m].copy_from_slice(&pivot_row);
        self.levels[leaving] = step;
        for (dual, pivot) in self.duals.iter_mut().zip(&pivot_row) {
            *dual += gain * pivot;
        }
        self.swap(leaving, entering);
        self.pivots += 1;
        true
    }

    fn swap(&mut self, row: usize, entering: usize) {
        if slack_row(self.basis[row], self.rows).is_none() {
            self.basic[self.basis[row]] = false;
        }
        if slack_row(entering, self.rows).is_none() {
            self.basic[entering] = true;
        }
        self.basis[row] = entering;
    }

    /// The row that runs out first; among equals the one with the largest pivot, which keeps the numbers sound.
    fn leaving(&self, direction: &[f64]) -> Option<usize> {
        let mut found: Option<(usize, f64)> = None;
        for (r, d) in direction.iter().enumerate().filter(|(_, d)| **d > TINY) {
            let ratio = self.levels[r] / d;
            let better = match found {
                None => true,
                Some((best, least)) => ratio < least - TINY || (ratio < least + TINY && *d > direction[best]),
            };
            if better {
                found = Some((r, ratio));
            }
        }
        found.map(|(r, _)| r)
    }

    /// Computes levels and duals again from the inverse: rounding that has gathered over many pivots is dropped.
    pub(super) fn refresh<'a>(&mut self, column: impl Fn(usize) -> Column<'a>) {
        let m = self.rows;
        self.duals.fill(0.0);
        for r in 0..m {
            let row = &self.inverse[r * m..(r + 1) * m];
            self.levels[r] = row.iter().zip(&self.right).map(|(a, b)| a * b).sum::<f64>().max(0.0);
            if slack_row(self.basis[r], m).is_none() {
                let profit = column(self.basis[r]).profit;
                for (dual, a) in self.duals.iter_mut().zip(row) {
                    *dual += profit * a;
                }
            }
        }
    }
}
