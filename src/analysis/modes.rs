//! Lowest natural frequencies by subspace iteration with the factorised stiffness.

use nalgebra::{DMatrix, SymmetricEigen};

use super::assemble::{HELD, Structure};
use super::error::AnalysisError;
use super::member::{Natural, Prepared};
use super::sparse::Sparse;
use super::subspace::{gram, product, reduced, rotate, spread};

/// How the members' mass is spread.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MassKind {
    /// With the static shape of the member; converges from above.
    Consistent,
    /// Half at each end, no rotary inertia.
    Lumped,
}

/// One natural vibration of the frame with every one-way part acting.
#[derive(Debug, Clone, PartialEq)]
pub struct Mode {
    /// Frequency (Hz).
    pub frequency_hz: f64,
    /// Movement and rotation of each node, global axes; the greatest translation is 1.
    pub shape: Vec<[f64; 6]>,
}

/// Eigenvalues have settled when they change less than this share.
const SETTLED: f64 = 1e-11;
const MOST_ROUNDS: usize = 300;
/// From kg to tonnes, so that N, mm and s go together.
const TONNE_PER_KG: f64 = 1e-3;
const TONNE_PER_MM_FROM_KG_PER_M: f64 = 1e-6;

impl Structure {
    /// The lowest `count` natural frequencies, ascending; fewer when the model has fewer masses.
    ///
    /// # Errors
    /// [`AnalysisError::NoMass`] for a model without mass, [`AnalysisError::ModesNotSettled`].
    ///
    /// # Source
    /// K.-J. Bathe, E. L. Wilson, Int. J. Numer. Methods Eng. 6 (1973) 213–226.
    pub fn natural_frequencies(&self, count: usize, kind: MassKind) -> Result<Vec<Mode>, AnalysisError> {
        let (mass, moving) = self.mass(kind);
        if moving == 0 {
            return Err(AnalysisError::NoMass);
        }
        let n = self.unknowns();
        let width = (count + 4).min(moving);
        let wanted = count.min(width);
        let mut shapes = start(&mass, n, width);
        let mut pushed = vec![0.0; n * width];
        let mut last = vec![0.0; wanted];
        for _ in 0..MOST_ROUNDS {
            // Rows of `shapes` are components, so the sides of one solve lie together.
            multiply(&mass, &shapes, width, &mut pushed);
            self.hold_contacts(&self.start, width, &mut pushed);
            shapes.copy_from_slice(&pushed);
            self.factors.solve(&mut shapes, width);
            let stiff = gram(&shapes, &pushed, width);
            multiply(&mass, &shapes, width, &mut pushed);
            let heavy = gram(&shapes, &pushed, width);
            let (values, turn) = reduced(stiff, heavy).ok_or(AnalysisError::ModesNotSettled { rounds: 0 })?;
            rotate(&mut shapes, &turn, width);
            let change = values.iter().zip(&last).take(wanted).fold(0.0_f64, |a, (v, l)| a.max((v - l).abs() / v));
            last.copy_from_slice(&values[..wanted]);
            if change < SETTLED {
                return Ok((0..wanted).map(|k| self.mode(values[k], &shapes, width, k)).collect());
            }
        }
        Err(AnalysisError::ModesNotSettled { rounds: MOST_ROUNDS })
    }

    /// The lowest natural frequency (Hz): as the first of [`Structure::natural_frequencies`], sooner.
    ///
    /// # Errors
    /// As there.
    ///
    /// # Source
    /// C. Lanczos, J. Res. Nat. Bur. Standards 45 (1950) 255–282, every vector made square to all before it.
    pub fn lowest_frequency(&self, kind: MassKind) -> Result<f64, AnalysisError> {
        /// The error of the value is about the square of this share of it.
        const LEFT: f64 = 1e-7;
        const MOST_STEPS: usize = 60;
        let (mass, moving) = self.mass(kind);
        if moving == 0 {
            return Err(AnalysisError::NoMass);
        }
        let n = self.unknowns();
        let mut lines: Vec<[Vec<f64>; 2]> = Vec::new();
        let (mut along, mut beside) = (Vec::new(), Vec::new());
        let (mut pushed, mut next) = (vec![0.0; n], spread(n));
        mass.times(&next, &mut pushed);
        for step in 1..=MOST_STEPS.min(moving + 1) {
            self.hold_contacts(&self.start, 1, &mut pushed);
            next.copy_from_slice(&pushed);
            self.factors.solve(&mut next, 1);
            if let Some([_, heavy]) = lines.last() {
                along.push(product(&next, heavy));
            }
            for _ in 0..2 {
                for [line, heavy] in &lines {
                    let share = product(&next, heavy);
                    next.iter_mut().zip(line).for_each(|(x, l)| *x -= share * l);
                }
            }
            mass.times(&next, &mut pushed);
            let size = product(&next, &pushed).max(0.0).sqrt();
            if let Some((value, tail)) = largest(&along, &beside)
                && (size * tail <= LEFT * value || step > moving)
            {
                return Ok(1.0 / value.sqrt() / (2.0 * std::f64::consts::PI));
            }
            if size == 0.0 {
                break;
            }
            if !lines.is_empty() {
                beside.push(size);
            }
            next.iter_mut().chain(&mut pushed).for_each(|x| *x /= size);
            lines.push([next.clone(), pushed.clone()]);
        }
        Err(AnalysisError::ModesNotSettled { rounds: MOST_STEPS })
    }

    /// Mass matrix and the number of components with mass.
    fn mass(&self, kind: MassKind) -> (Sparse, usize) {
        let mut mass = self.factors.clone();
        mass.clear();
        for (k, (member, natural)) in self.members.iter().zip(&self.naturals).enumerate() {
            let section = &self.model.sections[self.model.members[k].section.0];
            let per_mm = section.mass_kg_per_m * TONNE_PER_MM_FROM_KG_PER_M;
            if per_mm > 0.0 {
                let polar = (section.i_y + section.i_z) / section.area;
                let own = self.member_mass(member, natural, per_mm, polar, kind);
                let dofs = self.member_dofs(member);
                for a in 0..12 {
                    for b in a..12 {
                        if dofs[a] != HELD && dofs[b] != HELD {
                            mass.add(dofs[a], dofs[b], own[a][b]);
                        }
                    }
                }
            }
        }
        for (node, dofs) in self.model.nodes.iter().zip(&self.dofs) {
            for &dof in dofs[..3].iter().filter(|&&d| d != HELD) {
                mass.add(dof, dof, node.mass_kg * TONNE_PER_KG);
            }
        }
        for contact in self.contacts.iter().filter(|c| c.spring == 0.0) {
            mass.hold(contact.dof);
            mass.set_diagonal(contact.dof, 0.0);
        }
        let moving = (0..mass.size()).filter(|&k| mass.diagonal(k) > 0.0).count();
        (mass, moving)
    }

    fn member_mass(
        &self,
        member: &Prepared,
        natural: &Natural,
        per_mm: f64,
        polar: f64,
        kind: MassKind,
    ) -> [[f64; 12]; 12] {
        let rows = member.end_rows(natural, member.nodes.map(|n| &self.node_axes[n]));
        let mut out = [[0.0; 12]; 12];
        let mut add = |by: f64, a: &[f64; 12], b: &[f64; 12]| {
            for (r, &x) in a.iter().enumerate() {
                (0..12).for_each(|c| out[r][c] += by * x * b[c]);
            }
        };
        let (l, total) = (member.length, per_mm * member.length);
        if kind == MassKind::Lumped {
            (0..2).for_each(|end| (0..3).for_each(|a| add(total / 2.0, &rows[end][a], &rows[end][a])));
            return out;
        }
        for (a, b, share) in [(0, 0, 2.0), (0, 1, 1.0), (1, 0, 1.0), (1, 1, 2.0)] {
            add(total * share / 6.0, &rows[a][0], &rows[b][0]);
            if !member.axial_only {
                add(total * polar * share / 6.0, &rows[a][3], &rows[b][3]);
            }
        }
        let cubic = [
            [156.0, 22.0 * l, 54.0, -13.0 * l],
            [22.0 * l, 4.0 * l * l, 13.0 * l, -3.0 * l * l],
            [54.0, 13.0 * l, 156.0, -22.0 * l],
            [-13.0 * l, -3.0 * l * l, -22.0 * l, 4.0 * l * l],
        ];
        for plane in 0..2 {
            let across = [&rows[0][1 + plane], &rows[0][4 + plane], &rows[1][1 + plane], &rows[1][4 + plane]];
            for (a, line) in across.iter().zip(&cubic) {
                across.iter().zip(line).for_each(|(b, &share)| add(total * share / 420.0, a, b));
            }
        }
        out
    }

    fn mode(&self, value: f64, shapes: &[f64], width: usize, k: usize) -> Mode {
        let u: Vec<f64> = shapes.iter().skip(k).step_by(width).copied().collect();
        let mut shape: Vec<[f64; 6]> = (0..self.dofs.len()).map(|n| self.node_moves(n, &u)).collect();
        let size = |of: std::ops::Range<usize>| {
            shape.iter().flat_map(|s| &s[of.clone()]).fold(0.0, |a: f64, &v| if v.abs() > a.abs() { v } else { a })
        };
        let by = if size(0..3) == 0.0 { size(3..6) } else { size(0..3) };
        shape.iter_mut().flatten().for_each(|v| *v /= by);
        Mode { frequency_hz: value.sqrt() / (2.0 * std::f64::consts::PI), shape }
    }
}

/// First shape: the masses themselves; the rest without a pattern.
fn start(mass: &Sparse, n: usize, width: usize) -> Vec<f64> {
    let mut shapes = spread(n * width);
    (0..n).for_each(|k| shapes[k * width] = if mass.diagonal(k) > 0.0 { 1.0 } else { 0.0 });
    shapes
}

/// Greatest value of a symmetric matrix with these numbers on and beside its diagonal, and the size of the last component
/// of its unit vector.
fn largest(along: &[f64], beside: &[f64]) -> Option<(f64, f64)> {
    let n = along.len();
    let matrix = DMatrix::from_fn(n, n, |i, j| match i.abs_diff(j) {
        0 => along[i],
        1 => beside[i.min(j)],
        _ => 0.0,
    });
    if n == 0 {
        return None;
    }
    let eigen = SymmetricEigen::new(matrix);
    let at = eigen.eigenvalues.imax();
    Some((eigen.eigenvalues[at], eigen.eigenvectors[(n - 1, at)].abs()))
}

fn multiply(mass: &Sparse, shapes: &[f64], width: usize, out: &mut [f64]) {
    let n = mass.size();
    let (mut x, mut y) = (vec![0.0; n], vec![0.0; n]);
    for side in 0..width {
        (0..n).for_each(|k| x[k] = shapes[k * width + side]);
        mass.times(&x, &mut y);
        (0..n).for_each(|k| out[k * width + side] = y[k]);
    }
}
