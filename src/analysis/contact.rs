//! One-way supports of first-order combinations, settled without another factorisation.
//!
//! A frame on rigid contacts answers a combination as it does with every contact closed, plus what the lift of each open
//! contact does. The lifts are those for which every contact pushes or gives no force, none sinks in, and only those
//! without a force lift:
//!
//! ```text
//! p = p₀ + S d ≥ 0      d ≥ 0      p·d = 0
//! ```
//!
//! one row for each contact; `S` comes from one unit lift of each. Lemke's method ends with the answer or, as `S` has no
//! negative energy, with the proof that there is none: the combination lifts the frame off.

use nalgebra::{DMatrix, DVector};

use super::assemble::{Contact, HELD, State, Structure};
use super::model::Way;
use super::results::{Loads, row_length};

/// What the lift of each contact by itself does.
pub(super) struct Lifts {
    /// Displacements, reactions and end forces for each contact lifted by 1 mm, all others closed.
    rows: Vec<f64>,
    length: usize,
    /// Push that contact i gains when contact j lifts (N/mm).
    stiffness: DMatrix<f64>,
}

/// What became of a combination.
pub(super) enum Outcome {
    /// It rests on the contacts that are closed in this state.
    Rests(State),
    /// Nothing holds it down.
    LiftsOff,
    /// Too close to call; iterate.
    Unsure,
}

/// Pushes may miss by this share of the greatest.
const EXACT: f64 = 1e-7;
/// Lifts beyond this are no small movement: the frame comes off (mm).
const FAR_MM: f64 = 1000.0;

impl Lifts {
    /// Nothing where the structure has springy contacts or one-way members: those are iterated.
    pub(super) fn of(structure: &Structure) -> Option<Self> {
        let contacts = &structure.contacts;
        let rigid = contacts.iter().all(|c| c.spring == 0.0);
        let one_way = |way| matches!(way, Way::TensionOnly | Way::CompressionOnly);
        if contacts.is_empty() || !rigid || structure.members.iter().any(|m| one_way(m.way)) {
            return None;
        }
        let length = row_length(structure);
        let mut rows = vec![0.0; contacts.len() * length];
        for (contact, row) in contacts.iter().zip(rows.chunks_exact_mut(length)) {
            structure.lift(contact, row);
        }
        let row = |j: usize| &rows[j * length..(j + 1) * length];
        let n = contacts.len();
        let raw = DMatrix::from_fn(n, n, |i, j| push(structure, &contacts[i], row(j)));
        let stiffness = (&raw + raw.transpose()) / 2.0;
        Some(Self { rows, length, stiffness })
    }

    /// Turns the answer with every contact closed into the one on the contacts that push; leaves it alone when there is
    /// none.
    pub(super) fn settle(&self, structure: &Structure, row: &mut [f64]) -> Outcome {
        let pushes: Vec<f64> = structure.contacts.iter().map(|c| push(structure, c, row)).collect();
        let greatest = pushes.iter().fold(0.0_f64, |a, p| a.max(p.abs()));
        let n = pushes.len();
        // Each contact in its own unit, so that stiff and soft ones weigh alike.
        let unit: Vec<f64> = (0..n).map(|i| self.stiffness[(i, i)].sqrt()).collect();
        if greatest == 0.0 || unit.iter().any(|u| u.is_nan() || *u <= 0.0) {
            return Outcome::Unsure;
        }
        let matrix = DMatrix::from_fn(n, n, |i, j| self.stiffness[(i, j)] / unit[i] / unit[j]);
        let start: Vec<f64> = pushes.iter().zip(&unit).map(|(p, u)| p / u).collect();
        let size = start.iter().fold(0.0_f64, |a, p| a.max(p.abs()));
        let start: Vec<f64> = start.iter().map(|p| p / size).collect();
        let lifted = match lemke(&matrix, &start) {
            Complement::Found(d) => d,
            Complement::None => return Outcome::LiftsOff,
            Complement::Stuck => return Outcome::Unsure,
        };
        let open: Vec<usize> = (0..n).filter(|&i| lifted[i] > 0.0).collect();
        let Some(lifts) = self.lifts(&pushes, &open) else { return Outcome::Unsure };
        let mut after = DVector::from_column_slice(&pushes);
        for (&j, d) in open.iter().zip(&lifts) {
            after += self.stiffness.column(j) * *d;
        }
        if lifts.iter().any(|d| d.abs() > FAR_MM) {
            return Outcome::LiftsOff;
        }
        if lifts.iter().any(|d| *d < 0.0) || after.iter().any(|p| *p < -EXACT * greatest) {
            return Outcome::Unsure;
        }
        let mut state = structure.start.clone();
        for (&j, d) in open.iter().zip(&lifts) {
            state.closed[j] = false;
            let own = &self.rows[j * self.length..(j + 1) * self.length];
            row.iter_mut().zip(own).for_each(|(sum, v)| *sum += d * v);
        }
        let nodes = structure.dofs.len();
        structure.clear_free(&state, &mut row[6 * nodes..12 * nodes]);
        Outcome::Rests(state)
    }

    /// Lifts of the open contacts that leave them without force (mm).
    fn lifts(&self, pushes: &[f64], open: &[usize]) -> Option<Vec<f64>> {
        let k = open.len();
        if k == 0 {
            return Some(Vec::new());
        }
        let matrix = DMatrix::from_fn(k, k, |i, j| self.stiffness[(open[i], open[j])]);
        let right = DVector::from_fn(k, |i, _| -pushes[open[i]]);
        let solved = matrix.lu().solve(&right)?;
        solved.iter().all(|d| d.is_finite()).then(|| solved.iter().copied().collect())
    }
}

impl Structure {
    /// Answer to one contact lifted by 1 mm the way it pushes, all others closed.
    fn lift(&self, contact: &Contact, row: &mut [f64]) {
        let by = contact.side.sign();
        let mut u = vec![0.0; self.unknowns()];
        for (member, natural) in self.members.iter().zip(&self.naturals) {
            if !member.nodes.contains(&contact.node) {
                continue;
            }
            let (dofs, k) = (self.member_dofs(member), member.stiffness(natural));
            for a in (0..12).filter(|&a| dofs[a] == contact.dof) {
                for (&dof, value) in dofs.iter().zip(&k[a]) {
                    if dof != HELD {
                        u[dof] -= by * value;
                    }
                }
            }
        }
        self.hold_contacts(&self.start, 1, &mut u);
        self.factors.solve(&mut u, 1);
        u[contact.dof] = by;
        self.fill_row(&u, &Loads::default(), &[], &Vec::new(), &self.naturals, &self.start, row);
    }
}

/// What a contact pushes with (N); a pull is negative.
fn push(structure: &Structure, contact: &Contact, row: &[f64]) -> f64 {
    let from = 6 * structure.dofs.len() + 6 * contact.node;
    let own: [f64; 6] = std::array::from_fn(|c| row[from + c]);
    structure.to_node(contact.node, own)[contact.component] * contact.side.sign()
}

enum Complement {
    Found(Vec<f64>),
    None,
    Stuck,
}

/// `w = q + M z`, `w ≥ 0`, `z ≥ 0`, `w·z = 0` by Lemke's complementary pivots, for M without negative energy and with ones
/// on its diagonal.
fn lemke(m: &DMatrix<f64>, q: &[f64]) -> Complement {
    /// Entries of a column below this are rounding.
    const NOTHING: f64 = 1e-9;
    let n = q.len();
    let (artificial, right) = (2 * n, 2 * n + 1);
    let Some(mut row) = (0..n).filter(|&i| q[i] < 0.0).min_by(|&a, &b| q[a].total_cmp(&q[b])) else {
        return Complement::Found(vec![0.0; n]);
    };
    let mut t = DMatrix::zeros(n, 2 * n + 2);
    for i in 0..n {
        t[(i, i)] = 1.0;
        (0..n).for_each(|j| t[(i, n + j)] = -m[(i, j)]);
        t[(i, artificial)] = -1.0;
        t[(i, right)] = q[i];
    }
    let mut basis: Vec<usize> = (0..n).collect();
    let mut entering = artificial;
    for _ in 0..50 * n {
        pivot(&mut t, row, entering);
        let leaving = std::mem::replace(&mut basis[row], entering);
        if leaving == artificial {
            let mut z = vec![0.0; n];
            for (i, &b) in basis.iter().enumerate().filter(|(_, b)| (n..2 * n).contains(*b)) {
                z[b - n] = t[(i, right)].max(0.0);
            }
            return Complement::Found(z);
        }
        entering = if leaving < n { leaving + n } else { leaving - n };
        let mut best: Option<(f64, usize)> = None;
        for i in 0..n {
            let a = t[(i, entering)];
            if a <= NOTHING {
                continue;
            }
            let ratio = t[(i, right)] / a;
            // Among equals the artificial variable leaves first, which ends the search.
            let better = best.is_none_or(|(least, _)| {
                ratio < least - NOTHING || (ratio <= least + NOTHING && basis[i] == artificial)
            });
            if better {
                best = Some((ratio, i));
            }
        }
        match best {
            Some((_, i)) => row = i,
            None => return Complement::None,
        }
    }
    Complement::Stuck
}

fn pivot(t: &mut DMatrix<f64>, row: usize, column: usize) {
    let by = 1.0 / t[(row, column)];
    (0..t.ncols()).for_each(|c| t[(row, c)] *= by);
    for i in (0..t.nrows()).filter(|&i| i != row) {
        let factor = t[(i, column)];
        if factor != 0.0 {
            (0..t.ncols()).for_each(|c| t[(i, c)] -= factor * t[(row, c)]);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_board_on_three_points_lifts_where_it_is_pulled() {
        // Two free lifts: M = [[1, 0.5], [0.5, 1]]. Pulled at the first, pressed at the second: only the first lifts, by 1.
        let m = DMatrix::from_row_slice(2, 2, &[1.0, 0.5, 0.5, 1.0]);
        let Complement::Found(z) = lemke(&m, &[-1.0, 0.2]) else { panic!("it rests") };
        assert!((z[0] - 1.0).abs() < 1e-12 && z[1] == 0.0, "{z:?}");
        // Pulled at both: z = M⁻¹ (1, 1) = 2/3 each.
        let Complement::Found(z) = lemke(&m, &[-1.0, -1.0]) else { panic!("it rests") };
        assert!((z[0] - 2.0 / 3.0).abs() < 1e-12 && (z[1] - 2.0 / 3.0).abs() < 1e-12, "{z:?}");
    }

    #[test]
    fn a_rigid_board_that_is_pulled_up_has_no_rest() {
        // A board that moves up as a whole costs no energy: M v = 0 for v = (1, 1).
        let m = DMatrix::from_row_slice(2, 2, &[1.0, -1.0, -1.0, 1.0]);
        assert!(matches!(lemke(&m, &[-1.0, 0.5]), Complement::None));
        let Complement::Found(z) = lemke(&m, &[-1.0, 2.0]) else { panic!("the far end holds it") };
        assert!((z[0] - 1.0).abs() < 1e-12 && z[1] == 0.0, "{z:?}");
    }
}
