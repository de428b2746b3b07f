//! Symmetric matrix stored column by column from its first entry to the diagonal, factorised as LDLᵀ.

/// Right-hand sides that are solved together when there are many.
pub(super) const LANES: usize = 4;

/// Matrix or, after [`Skyline::factor_from`], its factors.
#[derive(Debug, Clone, Default)]
pub(super) struct Skyline {
    /// First stored row of each column.
    top: Vec<usize>,
    /// Where each column starts in `values`; one more entry closes the last.
    start: Vec<usize>,
    values: Vec<f64>,
}

impl Skyline {
    /// An empty matrix with the given first rows.
    pub(super) fn new(top: Vec<usize>) -> Self {
        let mut start = Vec::with_capacity(top.len() + 1);
        let mut total = 0;
        for (column, &first) in top.iter().enumerate() {
            start.push(total);
            total += column - first + 1;
        }
        start.push(total);
        Self { top, start, values: vec![0.0; total] }
    }

    pub(super) fn size(&self) -> usize {
        self.top.len()
    }

    pub(super) fn clear(&mut self) {
        self.values.fill(0.0);
    }

    /// Adds to the entry of row and column, whichever comes first.
    pub(super) fn add(&mut self, a: usize, b: usize, value: f64) {
        let (row, column) = if a <= b { (a, b) } else { (b, a) };
        self.values[self.start[column] + row - self.top[column]] += value;
    }

    pub(super) fn diagonal(&self, k: usize) -> f64 {
        self.values[self.start[k + 1] - 1]
    }

    pub(super) fn set_diagonal(&mut self, k: usize, value: f64) {
        self.values[self.start[k + 1] - 1] = value;
    }

    /// Takes component `k` out of the system: it will be solved as zero.
    pub(super) fn hold(&mut self, k: usize) {
        self.values[self.start[k]..self.start[k + 1]].fill(0.0);
        for column in k + 1..self.size() {
            if self.top[column] <= k {
                self.values[self.start[column] + k - self.top[column]] = 0.0;
            }
        }
        self.set_diagonal(k, 1.0);
    }

    /// Product with a vector, for the matrix before factorising.
    pub(super) fn times(&self, x: &[f64], y: &mut [f64]) {
        y.fill(0.0);
        for column in 0..self.size() {
            let stored = &self.values[self.start[column]..self.start[column + 1]];
            let first = self.top[column];
            let (above, diagonal) = stored.split_at(column - first);
            let mut sum = diagonal[0] * x[column];
            for (k, a) in above.iter().enumerate() {
                sum += a * x[first + k];
                y[first + k] += a * x[column];
            }
            y[column] += sum;
        }
    }

    /// Factorises columns from `from` on. Stops with `Err(k)` at a pivot not above `least[k]`: the columns up to and
    /// including `k` are done, so the caller may set the pivot and go on from `k + 1`.
    pub(super) fn factor_from(&mut self, from: usize, least: &[f64]) -> Result<(), usize> {
        for column in from..self.size() {
            let first = self.top[column];
            let (done, rest) = self.values.split_at_mut(self.start[column]);
            let own = &mut rest[..=column - first];
            for row in first + 1..column {
                let top = self.top[row].max(first);
                if top < row {
                    let begin = self.start[row] + top - self.top[row];
                    let factors = &done[begin..begin + row - top];
                    let (solved, current) = own.split_at_mut(row - first);
                    current[0] -= dot(factors, &solved[top - first..]);
                }
            }
            let (above, diagonal) = own.split_at_mut(column - first);
            for (k, entry) in above.iter_mut().enumerate() {
                let pivot = done[self.start[first + k + 1] - 1];
                let factor = *entry / pivot;
                diagonal[0] -= factor * *entry;
                *entry = factor;
            }
            if diagonal[0] <= least[column] || diagonal[0].is_nan() {
                return Err(column);
            }
        }
        Ok(())
    }

    /// Solves for `count` right-hand sides at once, stored component by component: `x[component * count + side]`.
    pub(super) fn solve(&self, x: &mut [f64], count: usize) {
        match count {
            1 => return self.solve_one(x),
            LANES => return self.solve_lanes::<LANES>(x),
            8 => return self.solve_lanes::<8>(x),
            _ => {}
        }
        for column in 0..self.size() {
            let (solved, rest) = x.split_at_mut(column * count);
            let own = &mut rest[..count];
            for (k, &factor) in self.above(column).iter().enumerate() {
                let row = self.top[column] + k;
                subtract(own, factor, &solved[row * count..(row + 1) * count]);
            }
        }
        for (k, sides) in x.chunks_exact_mut(count).enumerate() {
            let inverse = 1.0 / self.diagonal(k);
            sides.iter_mut().for_each(|v| *v *= inverse);
        }
        for column in (0..self.size()).rev() {
            let (before, rest) = x.split_at_mut(column * count);
            for (k, &factor) in self.above(column).iter().enumerate() {
                let row = self.top[column] + k;
                subtract(&mut before[row * count..(row + 1) * count], factor, &rest[..count]);
            }
        }
    }

    fn solve_one(&self, x: &mut [f64]) {
        for column in 0..self.size() {
            let first = self.top[column];
            x[column] -= dot(self.above(column), &x[first..column]);
        }
        for (k, value) in x.iter_mut().enumerate() {
            *value /= self.diagonal(k);
        }
        self.back_from(self.size(), x);
    }

    /// As [`Skyline::solve`] for `L` sides, whose inner loops have a fixed length.
    fn solve_lanes<const L: usize>(&self, x: &mut [f64]) {
        let (x, _) = x.as_chunks_mut::<L>();
        for column in 0..self.size() {
            let mut sum = [0.0; L];
            for (factor, side) in self.above(column).iter().zip(&x[self.top[column]..column]) {
                (0..L).for_each(|l| sum[l] += factor * side[l]);
            }
            (0..L).for_each(|l| x[column][l] -= sum[l]);
        }
        for (k, sides) in x.iter_mut().enumerate() {
            let inverse = 1.0 / self.diagonal(k);
            sides.iter_mut().for_each(|v| *v *= inverse);
        }
        for column in (0..self.size()).rev() {
            let (before, rest) = x.split_at_mut(column);
            for (factor, side) in self.above(column).iter().zip(&mut before[self.top[column]..]) {
                (0..L).for_each(|l| side[l] -= factor * rest[0][l]);
            }
        }
    }

    /// Back substitution with the columns below `end`.
    fn back_from(&self, end: usize, x: &mut [f64]) {
        for column in (0..end).rev() {
            let (before, rest) = x.split_at_mut(column);
            subtract(&mut before[self.top[column]..], rest[0], self.above(column));
        }
    }

    fn above(&self, column: usize) -> &[f64] {
        &self.values[self.start[column]..self.start[column + 1] - 1]
    }

    /// The movement with component `k` at 1, the later ones at 0, and no force on the earlier ones. Needs columns up to
    /// and including `k` factorised.
    pub(super) fn freed_by(&self, k: usize) -> Vec<f64> {
        let mut x = vec![0.0; self.size()];
        x[k] = 1.0;
        self.back_from(k + 1, &mut x);
        x
    }
}

fn subtract(from: &mut [f64], factor: f64, what: &[f64]) {
    for (a, b) in from.iter_mut().zip(what) {
        *a -= factor * b;
    }
}

/// Four running sums in a fixed order: quicker than one, and always the same bytes.
fn dot(a: &[f64], b: &[f64]) -> f64 {
    let mut sums = [0.0; 4];
    let (a4, b4) = (a.chunks_exact(4), b.chunks_exact(4));
    let (a_rest, b_rest) = (a4.remainder(), b4.remainder());
    for (x, y) in a4.zip(b4) {
        for k in 0..4 {
            sums[k] += x[k] * y[k];
        }
    }
    let tail: f64 = a_rest.iter().zip(b_rest).map(|(x, y)| x * y).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + tail
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sample() -> Skyline {
        let mut m = Skyline::new(vec![0, 0, 1, 0, 3]);
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
        let mut four: Vec<f64> = right.iter().flat_map(|&r| [r, 0.0, -r, 3.0 * r]).collect();
        factors.solve(&mut four, 4);
        factors.solve(&mut right, 1);
        for k in 0..5 {
            assert!((right[k] - truth[k]).abs() < 1e-14 && (two[2 * k + 1] - 2.0 * truth[k]).abs() < 1e-14);
            assert!((four[4 * k + 3] - 3.0 * truth[k]).abs() < 1e-14 && (four[4 * k + 2] + truth[k]).abs() < 1e-14);
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
}
