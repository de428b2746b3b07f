//! Symmetric sparse matrix, stored column by column below its diagonal with room for fill, factorised as LDLᵀ.

use std::sync::Arc;

/// Right-hand sides that are solved together when there are many.
pub(super) const LANES: usize = 8;
/// And when there are few.
pub(super) const FEW_LANES: usize = 4;

/// Where entries stand: of the matrix and of its factor alike.
#[derive(Debug, Default)]
struct Pattern {
    /// Where each column starts in `rows`; one more entry closes the last.
    start: Vec<usize>,
    /// Rows below the diagonal, ascending in each column.
    rows: Vec<usize>,
    /// Where each row starts in `left`; one more entry closes the last.
    row_start: Vec<usize>,
    /// Entries left of the diagonal, row by row: column, and number in `rows`.
    left: Vec<(usize, usize)>,
}

/// Matrix or, after [`Sparse::factor_from`], its factors.
#[derive(Debug, Clone, Default)]
pub(super) struct Sparse {
    pattern: Arc<Pattern>,
    diagonal: Vec<f64>,
    below: Vec<f64>,
}

impl Sparse {
    /// An empty matrix with room for the given rows below each diagonal, ascending. Elimination of a column must find room
    /// between any two of its rows.
    pub(super) fn new(columns: &[Vec<usize>]) -> Self {
        let size = columns.len();
        let mut start = Vec::with_capacity(size + 1);
        let mut rows: Vec<usize> = Vec::new();
        let mut row_start = vec![0; size + 1];
        for column in columns {
            start.push(rows.len());
            rows.extend_from_slice(column);
            column.iter().for_each(|&row| row_start[row + 1] += 1);
        }
        start.push(rows.len());
        (0..size).for_each(|row| row_start[row + 1] += row_start[row]);
        let mut left = vec![(0, 0); rows.len()];
        let mut next = row_start.clone();
        for column in 0..size {
            for at in start[column]..start[column + 1] {
                let place = &mut next[rows[at]];
                left[*place] = (column, at);
                *place += 1;
            }
        }
        let below = vec![0.0; rows.len()];
        Self { pattern: Arc::new(Pattern { start, rows, row_start, left }), diagonal: vec![0.0; size], below }
    }

    pub(super) fn size(&self) -> usize {
        self.diagonal.len()
    }

    pub(super) fn clear(&mut self) {
        self.diagonal.fill(0.0);
        self.below.fill(0.0);
    }

    /// Adds to the entry of row and column, whichever comes first. There must be room for it.
    pub(super) fn add(&mut self, a: usize, b: usize, value: f64) {
        if a == b {
            self.diagonal[a] += value;
            return;
        }
        let (row, column) = (a.max(b), a.min(b));
        let from = self.pattern.start[column];
        let rows = &self.pattern.rows[from..self.pattern.start[column + 1]];
        self.below[from + rows.partition_point(|&r| r < row)] += value;
    }

    pub(super) fn diagonal(&self, k: usize) -> f64 {
        self.diagonal[k]
    }

    pub(super) fn set_diagonal(&mut self, k: usize, value: f64) {
        self.diagonal[k] = value;
    }

    /// Takes component `k` out of the system: it will be solved as zero.
    pub(super) fn hold(&mut self, k: usize) {
        let pattern = Arc::clone(&self.pattern);
        self.below[pattern.start[k]..pattern.start[k + 1]].fill(0.0);
        for &(_, at) in &pattern.left[pattern.row_start[k]..pattern.row_start[k + 1]] {
            self.below[at] = 0.0;
        }
        self.diagonal[k] = 1.0;
    }

    /// Rows and entries below the diagonal of a column.
    fn column(&self, column: usize) -> (&[usize], &[f64]) {
        let range = self.pattern.start[column]..self.pattern.start[column + 1];
        (&self.pattern.rows[range.clone()], &self.below[range])
    }

    /// Product with a vector, for the matrix before factorising.
    pub(super) fn times(&self, x: &[f64], y: &mut [f64]) {
        y.fill(0.0);
        for column in 0..self.size() {
            let (rows, entries) = self.column(column);
            let own = x[column];
            let mut sum = self.diagonal[column] * own;
            for (&row, a) in rows.iter().zip(entries) {
                sum += a * x[row];
                y[row] += a * own;
            }
            y[column] += sum;
        }
    }

    /// Factorises columns from `from` on. Stops with `Err(k)` at a pivot not above `least[k]`: the caller may give
    /// another with [`Sparse::set_pivot`] and go on from `k + 1`.
    pub(super) fn factor_from(&mut self, from: usize, least: &[f64]) -> Result<(), usize> {
        let pattern = Arc::clone(&self.pattern);
        let mut work = vec![0.0; self.size()];
        // Entries before their division: multiplying the factor by its pivot again would cost a digit where stiff
        // members nearly cancel.
        let mut whole = vec![0.0; self.below.len()];
        for column in 0..from {
            let own = pattern.start[column]..pattern.start[column + 1];
            own.for_each(|at| whole[at] = self.below[at] * self.diagonal[column]);
        }
        for (column, &least) in least.iter().enumerate().skip(from) {
            let own = pattern.start[column]..pattern.start[column + 1];
            for (&row, a) in pattern.rows[own.clone()].iter().zip(&self.below[own.clone()]) {
                work[row] = *a;
            }
            let mut pivot = self.diagonal[column];
            for &(before, at) in &pattern.left[pattern.row_start[column]..pattern.row_start[column + 1]] {
                let scaled = whole[at];
                pivot -= self.below[at] * scaled;
                let rest = at + 1..pattern.start[before + 1];
                for (&row, a) in pattern.rows[rest.clone()].iter().zip(&self.below[rest]) {
                    work[row] -= scaled * a;
                }
            }
            self.diagonal[column] = pivot;
            let stops = pivot <= least || pivot.is_nan();
            let by = if stops { 1.0 } else { pivot };
            let rows = &pattern.rows[own.clone()];
            for ((&row, a), whole) in rows.iter().zip(&mut self.below[own.clone()]).zip(&mut whole[own]) {
                *whole = std::mem::take(&mut work[row]);
                *a = *whole / by;
            }
            if stops {
                return Err(column);
            }
        }
        Ok(())
    }

    /// Gives the pivot at which [`Sparse::factor_from`] stopped.
    pub(super) fn set_pivot(&mut self, k: usize, pivot: f64) {
        self.diagonal[k] = pivot;
        let own = self.pattern.start[k]..self.pattern.start[k + 1];
        self.below[own].iter_mut().for_each(|a| *a /= pivot);
    }

    /// Solves for `count` right-hand sides at once, stored component by component: `x[component * count + side]`.
    pub(super) fn solve(&self, x: &mut [f64], count: usize) {
        match count {
            1 => self.solve_lanes::<1>(x),
            FEW_LANES => self.solve_lanes::<FEW_LANES>(x),
            LANES => self.solve_lanes::<LANES>(x),
            _ => {
                // Few ask for another number: side by side in full lanes, the last ones empty.
                let mut lanes = vec![0.0; self.size() * LANES];
                for first in (0..count).step_by(LANES) {
                    let width = LANES.min(count - first);
                    for (lane, own) in lanes.chunks_exact_mut(LANES).zip(x.chunks_exact(count)) {
                        lane[..width].copy_from_slice(&own[first..first + width]);
                        lane[width..].fill(0.0);
                    }
                    self.solve_lanes::<LANES>(&mut lanes);
                    for (lane, own) in lanes.chunks_exact(LANES).zip(x.chunks_exact_mut(count)) {
                        own[first..first + width].copy_from_slice(&lane[..width]);
                    }
                }
            }
        }
    }

    /// As [`Sparse::solve`] for `L` sides, whose inner loops have a fixed length.
    fn solve_lanes<const L: usize>(&self, x: &mut [f64]) {
        let (x, _) = x.as_chunks_mut::<L>();
        for column in 0..self.size() {
            let own = x[column];
            let (rows, entries) = self.column(column);
            for (&row, factor) in rows.iter().zip(entries) {
                (0..L).for_each(|l| x[row][l] -= factor * own[l]);
            }
            let inverse = 1.0 / self.diagonal[column];
            x[column] = own.map(|v| v * inverse);
        }
        for column in (0..self.size()).rev() {
            let mut own = x[column];
            let (rows, entries) = self.column(column);
            for (&row, factor) in rows.iter().zip(entries) {
                (0..L).for_each(|l| own[l] -= factor * x[row][l]);
            }
            x[column] = own;
        }
    }

    /// The movement with component `k` at 1, the later ones at 0, and no force on the earlier ones. Needs the columns
    /// before `k` factorised.
    pub(super) fn freed_by(&self, k: usize) -> Vec<f64> {
        let mut x = vec![0.0; self.size()];
        x[k] = 1.0;
        for column in (0..k).rev() {
            let (rows, entries) = self.column(column);
            x[column] = -rows.iter().zip(entries).map(|(&row, a)| a * x[row]).sum::<f64>();
        }
        x
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Five components; eliminating the first fills the place (1, 3).
    fn sample() -> Sparse {
        let mut m = Sparse::new(&[vec![1, 3], vec![2, 3], vec![3], vec![4], vec![]]);
        for (a, b, v) in [(0, 0, 4.0), (1, 1, 5.0), (2, 2, 6.0), (3, 3, 7.0), (4, 4, 3.0)] {
            m.add(a, b, v);
        }
        for (a, b, v) in [(0, 1, -1.0), (2, 1, 2.0), (0, 3, 1.5), (3, 2, -0.5), (3, 4, 1.0)] {
            m.add(a, b, v);
        }
        m
    }

    #[test]
    fn many_sides_and_one_side_give_back_what_was_multiplied() {
        let matrix = sample();
        let truth = [1.0, -2.0, 0.5, 3.0, -1.0];
        let mut right = vec![0.0; 5];
        matrix.times(&truth, &mut right);
        let mut factors = matrix.clone();
        factors.factor_from(0, &[0.0; 5]).expect("the matrix is positive");
        let mut two: Vec<f64> = right.iter().flat_map(|&r| [r, 2.0 * r]).collect();
        factors.solve(&mut two, 2);
        let mut eight: Vec<f64> = right.iter().flat_map(|&r| [r, 0.0, -r, 3.0 * r, 0.0, r, r, r]).collect();
        factors.solve(&mut eight, 8);
        factors.solve(&mut right, 1);
        for k in 0..5 {
            assert!((right[k] - truth[k]).abs() < 1e-14 && (two[2 * k + 1] - 2.0 * truth[k]).abs() < 1e-14);
            assert!((eight[8 * k + 3] - 3.0 * truth[k]).abs() < 1e-14 && (eight[8 * k + 2] + truth[k]).abs() < 1e-14);
        }
    }

    #[test]
    fn a_held_component_stays_at_zero() {
        let mut matrix = sample();
        matrix.hold(1);
        matrix.factor_from(0, &[0.0; 5]).expect("the matrix is positive");
        let mut x = [1.0, 0.0, 1.0, 1.0, 1.0];
        matrix.solve(&mut x, 1);
        assert_eq!(x[1], 0.0);
    }

    #[test]
    fn a_pivot_that_was_given_again_changes_nothing_else() {
        let (mut whole, mut stopped) = (sample(), sample());
        whole.factor_from(0, &[0.0; 5]).expect("the matrix is positive");
        // A least pivot above the true one stops there; the true one is given back.
        let at = stopped.factor_from(0, &[0.0, 0.0, 100.0, 0.0, 0.0]).expect_err("it stops");
        assert_eq!(at, 2);
        let pivot = stopped.diagonal(2);
        stopped.set_pivot(2, pivot);
        stopped.factor_from(3, &[0.0; 5]).expect("the rest is positive");
        let (mut x, mut y) = ([1.0, 2.0, 3.0, 4.0, 5.0], [1.0, 2.0, 3.0, 4.0, 5.0]);
        whole.solve(&mut x, 1);
        stopped.solve(&mut y, 1);
        assert!(x.iter().zip(y).all(|(a, b)| (a - b).abs() < 1e-15));
    }
}
