//! Tells a mechanism from a soft frame, and names it.

use super::assemble::{State, Structure};
use super::axes::{self, Vector};
use super::error::{AnalysisError, Direction, Motion};
use super::member::Natural;
use super::sparse::Sparse;

/// A pivot below this share of its diagonal is looked at: rounding alone leaves about 1e-16 times the size, and frames
/// as soft as this are rare but sound.
const DOUBTFUL: f64 = 1e-9;
/// The freed movement is a mechanism when its energy is below this share of what its components would meet alone. The
/// energy is summed from member deformations, where rounding enters squared (about 1e-30); the softest sound frames in
/// the tests stay above 1e-12.
const NO_RESISTANCE: f64 = 1e-16;
/// Smaller movements than this share of the greatest do not count as moving.
const STILL: f64 = 1e-6;

/// Why a factorisation stops.
#[derive(Debug)]
pub(super) enum Fall {
    Mechanism(AnalysisError),
    /// Negative energy: the name of the node or member that gives way.
    Buckles(String),
}

impl Structure {
    /// Factorises, telling a mechanism from a soft frame at every doubtful pivot. `ends` as in [`judge`].
    pub(super) fn factor(
        &self,
        matrix: &mut Sparse,
        naturals: &[Natural],
        state: &State,
        ends: &[f64],
    ) -> Result<(), Fall> {
        let diagonal: Vec<f64> = (0..matrix.size()).map(|k| matrix.diagonal(k)).collect();
        let least: Vec<f64> = diagonal.iter().map(|d| DOUBTFUL * d).collect();
        let mut from = 0;
        while let Err(k) = matrix.factor_from(from, &least) {
            let energy = judge(self, matrix.freed_by(k), &diagonal, naturals, state, ends)?;
            // The energy of the freed movement is this pivot without the cancellation.
            matrix.set_pivot(k, energy);
            from = k + 1;
        }
        Ok(())
    }

    /// The same in first order, where nothing buckles.
    pub(super) fn factor_linear(&self, matrix: &mut Sparse, state: &State) -> Result<(), AnalysisError> {
        self.factor(matrix, &self.naturals, state, &[]).map_err(|fall| match fall {
            Fall::Mechanism(error) => error,
            // Without axial forces the energy is a sum of squares.
            Fall::Buckles(_) => unreachable!("a linear stiffness has no negative energy"),
        })
    }
}

/// Energy of a movement that only one component stops, or why there is no equilibrium. `ends` are the end forces that
/// lean on rigid arms, empty in first order.
fn judge(
    structure: &Structure,
    x: Vec<f64>,
    diagonal: &[f64],
    naturals: &[Natural],
    state: &State,
    ends: &[f64],
) -> Result<f64, Fall> {
    let mut energy: f64 = structure
        .members
        .iter()
        .zip(naturals)
        .map(|(member, natural)| member.energy(natural, &structure.moves(member, &x)))
        .sum();
    energy += structure.springs(state).map(|(dof, k)| k * x[dof] * x[dof]).sum::<f64>();
    energy += structure.arms(ends).map(|arm| arm.energy(structure.node_moves(arm.node, &x))).sum::<f64>();
    let alone: f64 = x.iter().zip(diagonal).map(|(v, d)| d.abs() * v * v).sum();
    let least = NO_RESISTANCE * alone;
    if energy > least {
        Ok(energy)
    } else if energy < -least.max(DOUBTFUL * alone) {
        Err(Fall::Buckles(name_worst(structure, &x)))
    } else {
        Err(Fall::Mechanism(name(structure, &x)))
    }
}

fn name_worst(structure: &Structure, x: &[f64]) -> String {
    match name(structure, x) {
        AnalysisError::Spins { member } => format!("member {member}"),
        AnalysisError::Mechanism { node, .. } => format!("node {node}"),
        other => other.to_string(),
    }
}

/// Names a movement without resistance by the node that moves most, or by the member that spins.
fn name(structure: &Structure, x: &[f64]) -> AnalysisError {
    let moves: Vec<[f64; 6]> = (0..structure.dofs.len()).map(|n| structure.node_moves(n, x)).collect();
    let slides: Vec<Vector> = moves.iter().map(|m| [m[0], m[1], m[2]]).collect();
    let turns: Vec<Vector> = moves.iter().map(|m| [m[3], m[4], m[5]]).collect();
    let span = structure.members.iter().map(|m| m.length).fold(f64::INFINITY, f64::min);
    let (far, slide) = greatest(&slides);
    let (round, turn) = greatest(&turns);
    if slide > STILL * turn * span {
        return mechanism(structure, far, Motion::Slides, &slides, slide);
    }
    if let Some(member) = spinning(structure, &turns, turn) {
        return AnalysisError::Spins { member };
    }
    mechanism(structure, round, Motion::Turns, &turns, turn)
}

fn greatest(vectors: &[Vector]) -> (usize, f64) {
    // A hair of preference keeps the first of equals, whatever the rounding.
    vectors.iter().enumerate().fold((0, 0.0), |(at, size), (n, &v)| {
        let own = axes::length(v);
        if own > size * (1.0 + 1e-9) { (n, own) } else { (at, size) }
    })
}

fn mechanism(structure: &Structure, node: usize, motion: Motion, vectors: &[Vector], size: f64) -> AnalysisError {
    let unit = axes::scaled(vectors[node], 1.0 / size);
    let greatest = unit.iter().copied().fold(0.0, |a: f64, c| if c.abs() > a.abs() { c } else { a });
    AnalysisError::Mechanism {
        node: structure.model.nodes[node].name.clone(),
        motion,
        direction: Direction(axes::scaled(unit, greatest.signum())),
        nodes_moving: vectors.iter().filter(|&&v| axes::length(v) > STILL * size).count(),
    }
}

/// The first member whose two ends turn together about its axis, or whose one end does and the other is a held hinge.
fn spinning(structure: &Structure, turns: &[Vector], size: f64) -> Option<String> {
    let found = structure.members.iter().position(|member| {
        let along = |n: usize| axes::dot(turns[n], member.axes[0]);
        let only_along = |n: usize| (axes::length(turns[n]) - along(n).abs()) < STILL * size;
        let [i, j] = member.nodes;
        let together = (along(i) - along(j)).abs() < STILL * size && along(i).abs() > STILL * size;
        !member.axial_only && together && only_along(i) && only_along(j)
    })?;
    Some(structure.model.members[found].name.clone())
}
