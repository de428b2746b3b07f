//! Shapes that vibrate or bow, several at once: a row for each component, a column for each shape.

use nalgebra::{DMatrix, SymmetricEigen};

pub(super) fn gram(a: &[f64], b: &[f64], width: usize) -> DMatrix<f64> {
    let mut out = DMatrix::zeros(width, width);
    for (x, y) in a.chunks_exact(width).zip(b.chunks_exact(width)) {
        for i in 0..width {
            (0..width).for_each(|j| out[(i, j)] += x[i] * y[j]);
        }
    }
    (&out + out.transpose()) * 0.5
}

/// Squared frequencies ascending, and the turn that makes the shapes vibrate each by itself.
pub(super) fn reduced(stiff: DMatrix<f64>, heavy: DMatrix<f64>) -> Option<(Vec<f64>, DMatrix<f64>)> {
    // Shapes of very unlike size would spoil the Cholesky factor; give each unit energy first.
    let scale: Vec<f64> = (0..stiff.nrows()).map(|k| 1.0 / stiff[(k, k)].sqrt()).collect();
    let scaled = |m: DMatrix<f64>| DMatrix::from_fn(m.nrows(), m.ncols(), |i, j| m[(i, j)] * scale[i] * scale[j]);
    let lower = scaled(stiff).cholesky()?.unpack();
    let half = lower.solve_lower_triangular(&scaled(heavy))?;
    let core = lower.solve_lower_triangular(&half.transpose())?;
    let eigen = SymmetricEigen::new((&core + core.transpose()) * 0.5);
    let mut order: Vec<usize> = (0..eigen.eigenvalues.len()).collect();
    order.sort_by(|&a, &b| eigen.eigenvalues[b].total_cmp(&eigen.eigenvalues[a]));
    let turn = lower.transpose().solve_upper_triangular(&eigen.eigenvectors)?;
    let turn = DMatrix::from_fn(turn.nrows(), turn.ncols(), |i, j| scale[i] * turn[(i, order[j])]);
    Some((order.iter().map(|&k| 1.0 / eigen.eigenvalues[k]).collect(), turn))
}

pub(super) fn rotate(shapes: &mut [f64], turn: &DMatrix<f64>, width: usize) {
    let mut own = vec![0.0; width];
    for row in shapes.chunks_exact_mut(width) {
        own.copy_from_slice(row);
        for (j, out) in row.iter_mut().enumerate() {
            *out = own.iter().enumerate().map(|(i, v)| v * turn[(i, j)]).sum();
        }
    }
}

pub(super) fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

/// Numbers between −1 and 1 without a pattern, always the same: a start that no mode is square to.
pub(super) fn spread(count: usize) -> Vec<f64> {
    let mut seed = 0x2545_f491_u32;
    let mut next = || {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        f64::from(seed) / f64::from(u32::MAX) * 2.0 - 1.0
    };
    (0..count).map(|_| next()).collect()
}
