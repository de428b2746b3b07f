//! Second order of several combinations at once, with the factors of the frame as it stands.
//!
//! The residual of the second-order equations is summed member by member, and the linear factors bring it back to
//! movements. What they leave is the softening of the frame, which is solved exactly in its softest shapes `V`:
//!
//! ```text
//! r = F(P) − K(P) u        u ← u + K₀⁻¹ r + V ((1 − Vᵀ S V)⁻¹ − 1) Vᵀ r
//! ```
//!
//! Every round leaves about the share of the error that the frame softens beyond those shapes. Nothing is factorised, and
//! combinations go through the rounds side by side.
//!
//! # Source
//! The shapes as a second level beside the linear factors: R. A. Nicolaides, SIAM J. Numer. Anal. 24 (1987) 355–365.

use super::assemble::{HELD, Structure};
use super::axes;
use super::member::{EndForces, Held, Natural, Prepared};
use super::results::{Results, row_length};
use super::soften::{Few, SHAPES, Small, Softest};
use super::sparse::FEW_LANES;

/// Member forces have settled when they move less than this share of the greatest (displacements then by about this
/// over the critical load factor)...
pub(super) const SETTLED: f64 = 1e-8;
/// ...or less than this and no longer closing in: what is left is rounding, large where very stiff members stand.
pub(super) const ROUNDING: f64 = 1e-6;

/// Movements have settled when the last step's energy is this share, squared, of the whole.
const STILL: f64 = 1e-9;
/// More rounds than these are left to factors of their own.
const MOST_ROUNDS: usize = 30;
/// Frames that lose more than this share of their stiffness are left to factors of their own, which tell buckling from
/// softness.
const TOO_SOFT: f64 = 0.6;

/// One combination on its way.
struct Lane {
    k: usize,
    compression: Vec<f64>,
    naturals: Vec<Natural>,
    held: Held,
    /// End forces of members with rigid arms; zero for the rest.
    ends: Vec<f64>,
    back: Small,
    energy: f64,
    whole: f64,
    is_open: bool,
}

/// A combination that settled.
pub(super) struct Settled {
    pub(super) k: usize,
    pub(super) row: Vec<f64>,
    pub(super) compression: Vec<f64>,
    pub(super) rounds: usize,
}

/// Works through combinations, [`FEW_LANES`] at a time.
pub(super) struct Together<'s> {
    structure: &'s Structure,
    shapes: &'s Softest,
    has_arm: Vec<bool>,
    u: Vec<f64>,
    right: Vec<f64>,
}

impl<'s> Together<'s> {
    /// For a frame whose every part acts both ways.
    pub(super) fn new(structure: &'s Structure, shapes: &'s Softest) -> Self {
        let has_arm = structure.members.iter().map(|m| m.offsets.iter().any(|&o| axes::length(o) > 0.0)).collect();
        let size = structure.unknowns() * FEW_LANES;
        Self { structure, shapes, has_arm, u: vec![0.0; size], right: vec![0.0; size] }
    }

    /// The combinations `ks` (at most [`FEW_LANES`]) that settle; the others need factors of their own.
    pub(super) fn settle(&mut self, results: &Results, ks: &[usize]) -> Vec<Settled> {
        let mut lanes: Vec<Lane> = ks.iter().filter_map(|&k| self.start(results, k)).collect();
        self.u.fill(0.0);
        for (side, lane) in lanes.iter().enumerate() {
            self.take_linear(results, lane.k, side);
        }
        let mut settled = Vec::new();
        for round in 1..=MOST_ROUNDS {
            if !lanes.iter().any(|lane| lane.is_open) {
                break;
            }
            self.residual(results, &mut lanes);
            let energies = self.step(&lanes);
            for (side, lane) in lanes.iter_mut().enumerate().filter(|(_, lane)| lane.is_open) {
                if self.is_settled(side, lane, energies[side]) {
                    lane.is_open = false;
                    settled.push(self.finish(results, side, lane, round));
                }
            }
        }
        settled
    }

    fn start(&self, results: &Results, k: usize) -> Option<Lane> {
        let structure = self.structure;
        let compression = results.compressions(k);
        let pressed: Vec<f64> = compression.iter().map(|c| c.max(0.0)).collect();
        let taken = self.shapes.taken(&pressed);
        (Small::identity() * TOO_SOFT - taken).cholesky()?;
        Some(Lane {
            k,
            compression,
            naturals: structure.naturals.clone(),
            held: Held::new(),
            ends: vec![0.0; 12 * structure.members.len()],
            back: Small::zeros(),
            energy: f64::INFINITY,
            whole: 0.0,
            is_open: true,
        })
    }

    /// The linear sum is the first guess.
    fn take_linear(&mut self, results: &Results, k: usize, side: usize) {
        for (node, dofs) in self.structure.dofs.iter().enumerate() {
            let own = self.structure.to_node(node, results.block(k, node));
            for (&dof, value) in dofs.iter().zip(own) {
                if dof != HELD {
                    self.u[dof * FEW_LANES + side] = value;
                }
            }
        }
    }

    /// Loads less what the members hold, under the compressions each combination has by now. Closes lanes that cannot
    /// go on.
    fn residual(&mut self, results: &Results, lanes: &mut [Lane]) {
        let structure = self.structure;
        self.right.fill(0.0);
        for (side, lane) in lanes.iter_mut().enumerate().filter(|(_, lane)| lane.is_open) {
            if !lane.shape(structure, self.shapes) {
                lane.is_open = false;
                continue;
            }
            let parts = &results.parts[lane.k];
            lane.held = structure.held_ends(&results.loads, parts, &lane.naturals, &structure.start);
            structure.right_side(&results.loads, parts, &lane.held, side, FEW_LANES, &mut self.right);
            lane.whole = self.right[side..]
                .iter()
                .step_by(FEW_LANES)
                .zip(self.u[side..].iter().step_by(FEW_LANES))
                .map(|(f, u)| f * u)
                .sum();
        }
        let first = &lanes[0].naturals;
        for (m, member) in structure.members.iter().enumerate() {
            let naturals = std::array::from_fn(|l| lanes.get(l).map_or(&first[m], |lane| &lane.naturals[m]));
            let mut out = [[0.0; FEW_LANES]; 12];
            member.add_stiff(naturals, &structure.moves_of::<FEW_LANES>(member, &self.u), &mut out);
            for (dof, values) in structure.member_dofs(member).into_iter().zip(out) {
                if dof != HELD {
                    let own = &mut self.right[dof * FEW_LANES..(dof + 1) * FEW_LANES];
                    own.iter_mut().zip(values).for_each(|(sum, v)| *sum -= v);
                }
            }
        }
        for (dof, k) in structure.springs(&structure.start) {
            (dof * FEW_LANES..(dof + 1) * FEW_LANES).for_each(|at| self.right[at] -= k * self.u[at]);
        }
        for (side, lane) in lanes.iter_mut().enumerate().filter(|(_, lane)| lane.is_open) {
            self.lean_arms(side, lane);
        }
    }

    /// What the end forces on rigid arms do.
    fn lean_arms(&mut self, side: usize, lane: &mut Lane) {
        let structure = self.structure;
        for &(m, held) in &lane.held {
            lane.ends[12 * m..12 * m + 12].copy_from_slice(&held);
        }
        for (m, member) in structure.members.iter().enumerate().filter(|(m, _)| self.has_arm[*m]) {
            let mut own: EndForces = std::array::from_fn(|c| lane.ends[12 * m + c]);
            member.add_moved(&lane.naturals[m], &self.moves(member, side), &mut own);
            lane.ends[12 * m..12 * m + 12].copy_from_slice(&own);
        }
        for arm in structure.arms(&lane.ends) {
            let own = structure.dofs[arm.node].map(|d| if d == HELD { 0.0 } else { self.u[d * FEW_LANES + side] });
            let [x, y, z] = arm.moment(structure.to_global(arm.node, own));
            structure.add_force(arm.node, [0.0, 0.0, 0.0, -x, -y, -z], side, FEW_LANES, &mut self.right);
        }
    }

    fn moves(&self, member: &Prepared, side: usize) -> [f64; 12] {
        self.structure.member_dofs(member).map(|d| if d == HELD { 0.0 } else { self.u[d * FEW_LANES + side] })
    }

    /// Moves every open lane by what its residual asks; gives the energy of each step.
    fn step(&mut self, lanes: &[Lane]) -> [f64; FEW_LANES] {
        let mut along = [Few::zeros(); FEW_LANES];
        for (shape, right) in self.shapes.shapes.chunks_exact(SHAPES).zip(self.right.chunks_exact(FEW_LANES)) {
            for (along, r) in along.iter_mut().zip(right) {
                along.iter_mut().zip(shape).for_each(|(a, v)| *a += v * r);
            }
        }
        let more: [Few; FEW_LANES] =
            std::array::from_fn(|l| lanes.get(l).map_or_else(Few::zeros, |lane| lane.back * along[l]));
        let mut energies: [f64; FEW_LANES] = std::array::from_fn(|l| more[l].dot(&along[l]));
        let mut step = self.right.clone();
        self.structure.factors.solve(&mut step, FEW_LANES);
        let rows = self.shapes.shapes.chunks_exact(SHAPES).zip(self.right.chunks_exact(FEW_LANES));
        for ((shape, right), (step, u)) in
            rows.zip(step.chunks_exact(FEW_LANES).zip(self.u.chunks_exact_mut(FEW_LANES)))
        {
            for l in 0..FEW_LANES {
                energies[l] += right[l] * step[l];
                if lanes.get(l).is_some_and(|lane| lane.is_open) {
                    u[l] += step[l] + more[l].iter().zip(shape).map(|(m, v)| m * v).sum::<f64>();
                }
            }
        }
        energies
    }

    /// Reads the compressions again; whether neither they nor the movements change any more.
    fn is_settled(&self, side: usize, lane: &mut Lane, energy: f64) -> bool {
        let mut held = lane.held.iter().peekable();
        let (mut moved, mut greatest) = (0.0_f64, 0.0_f64);
        for (m, member) in self.structure.members.iter().enumerate() {
            let at_rest = held.next_if(|(own, _)| *own == m).map_or(0.0, |(_, ends)| Prepared::compression(ends));
            let stretch: f64 = member.modes[0].iter().zip(self.moves(member, side)).map(|(a, b)| a * b).sum();
            let now = at_rest - lane.naturals[m].axial * stretch;
            moved = moved.max((now - lane.compression[m]).abs());
            greatest = greatest.max(now.abs());
            lane.compression[m] = now;
        }
        let (last, whole) = (std::mem::replace(&mut lane.energy, energy), lane.whole.abs());
        let still = energy <= STILL * STILL * whole && moved <= SETTLED * greatest;
        // What is left is rounding when it no longer shrinks.
        let stalled = energy > last / 4.0 && energy <= ROUNDING * ROUNDING * whole && moved <= ROUNDING * greatest;
        still || stalled
    }

    fn finish(&self, results: &Results, side: usize, lane: &Lane, rounds: usize) -> Settled {
        let structure = self.structure;
        let u: Vec<f64> = self.u[side..].iter().step_by(FEW_LANES).copied().collect();
        let mut row = vec![0.0; row_length(structure)];
        let (parts, state) = (&results.parts[lane.k], &structure.start);
        structure.fill_row(&u, &results.loads, parts, &lane.held, &lane.naturals, state, &mut row);
        Settled { k: lane.k, row, compression: lane.compression.clone(), rounds }
    }
}

impl Lane {
    /// Members and shapes under the compressions of now; false when one buckles or the frame does.
    fn shape(&mut self, structure: &Structure, shapes: &Softest) -> bool {
        for (m, member) in structure.members.iter().enumerate() {
            let Some(natural) = member.natural(structure.start.active[m], self.compression[m]) else { return false };
            self.naturals[m] = natural;
        }
        let Some(left) = (Small::identity() - shapes.taken(&self.compression)).cholesky() else { return false };
        self.back = left.inverse() - Small::identity();
        true
    }
}
