//! Displacements, reactions and end forces of every case and combination.

use std::sync::Arc;

use super::assemble::Structure;
use super::axes;
use super::line::MemberLine;
use super::member::{EndForces, LocalLoad};
use super::model::{MemberId, NodeId};

/// The theory behind one response.
#[derive(Debug, Clone, PartialEq)]
pub enum Order {
    /// Sum of linear cases with every one-way part acting.
    First,
    /// Iterated by itself.
    Iterated {
        /// Compression of each member (N) when the second-order effect was counted, else empty.
        compression: Vec<f64>,
        /// Names of one-way supports (`node …`) and members (`member …`) that gave no force.
        open: Vec<String>,
        /// Rounds needed.
        rounds: usize,
    },
    /// The combination lifts the frame off its one-way supports. What stands in the answer is the linear sum, as if they
    /// held both ways; only with [`super::Options::keep_lifted`].
    Lifted,
    /// The loads exceed the buckling load, or one-way parts and second-order effect find no rest together. What stands
    /// in the answer is the linear sum; only with [`super::Options::keep_lifted`].
    Fails {
        /// What the iteration found.
        why: String,
    },
}

/// Loads of all cases in the form the solver uses.
#[derive(Debug, Clone, Default)]
pub(super) struct Loads {
    /// Six global components per node, node by node.
    pub(super) nodal: Vec<Vec<f64>>,
    /// Loads on members, sorted by member.
    pub(super) pieces: Vec<Vec<(usize, LocalLoad)>>,
}

impl Loads {
    /// Which members carry a load in any case.
    pub(super) fn loaded(&self, members: usize) -> Vec<bool> {
        let mut loaded = vec![false; members];
        self.pieces.iter().flatten().for_each(|(member, _)| loaded[*member] = true);
        loaded
    }

    /// Loads on one member from a sum of cases.
    pub(super) fn on(&self, member: usize, parts: &[(usize, f64)]) -> Vec<(f64, LocalLoad)> {
        let mut found = Vec::new();
        for &(case, factor) in parts {
            let pieces = &self.pieces[case];
            let first = pieces.partition_point(|(m, _)| *m < member);
            found.extend(pieces[first..].iter().take_while(|(m, _)| *m == member).map(|(_, load)| (factor, *load)));
        }
        found
    }
}

/// All answers of one run, cases first, then combinations, in the order given.
#[derive(Debug, Clone)]
pub struct Results {
    pub(super) structure: Arc<Structure>,
    pub(super) loads: Loads,
    pub(super) labels: Vec<String>,
    pub(super) parts: Vec<Vec<(usize, f64)>>,
    pub(super) orders: Vec<Order>,
    pub(super) cases: usize,
    /// Answers of the cases. An answer is a row of blocks of six: displacements and reactions node by node, then both
    /// ends of every member. The same block of all cases stands together, so that a combination reads its member in one
    /// place.
    pub(super) basic: Vec<f64>,
    /// Rows of the combinations that were iterated, one after the other.
    pub(super) settled: Vec<f64>,
    /// Number of the row an answer has there; the others are sums of cases.
    pub(super) own: Vec<Option<usize>>,
}

/// Components of one block.
pub(super) const BLOCK: usize = 6;

impl Results {
    /// The structure they belong to.
    #[must_use]
    pub fn structure(&self) -> &Arc<Structure> {
        &self.structure
    }

    /// Number of answers.
    #[must_use]
    pub fn len(&self) -> usize {
        self.labels.len()
    }

    /// Whether nothing was asked.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.labels.is_empty()
    }

    /// Number of load cases; answers from this number on are combinations.
    #[must_use]
    pub fn cases(&self) -> usize {
        self.cases
    }

    /// Answer `k`.
    ///
    /// # Panics
    /// When `k` is not below [`Results::len`].
    #[must_use]
    pub fn response(&self, k: usize) -> Response<'_> {
        assert!(k < self.len(), "answer {k} of {}", self.len());
        Response { results: self, k }
    }

    /// Every answer, cases first.
    pub fn responses(&self) -> impl ExactSizeIterator<Item = Response<'_>> {
        (0..self.len()).map(|k| Response { results: self, k })
    }

    /// The answers of the combinations.
    pub fn combinations(&self) -> impl ExactSizeIterator<Item = Response<'_>> {
        (self.cases..self.len()).map(|k| Response { results: self, k })
    }

    /// The answer of that name.
    #[must_use]
    pub fn find(&self, name: &str) -> Option<Response<'_>> {
        self.labels.iter().position(|l| l == name).map(|k| self.response(k))
    }
}

impl Results {
    /// One block of an answer.
    pub(super) fn block(&self, k: usize, block: usize) -> [f64; BLOCK] {
        if let Some(row) = self.own[k] {
            let at = row * row_length(&self.structure) + BLOCK * block;
            return std::array::from_fn(|c| self.settled[at + c]);
        }
        let cases = &self.basic[block * self.cases * BLOCK..(block + 1) * self.cases * BLOCK];
        let mut sum = [0.0; BLOCK];
        for &(case, factor) in &self.parts[k] {
            let own = &cases[case * BLOCK..(case + 1) * BLOCK];
            (0..BLOCK).for_each(|c| sum[c] += factor * own[c]);
        }
        sum
    }

    /// The whole row of an answer.
    pub(super) fn row(&self, k: usize) -> Vec<f64> {
        (0..row_length(&self.structure) / BLOCK).flat_map(|block| self.block(k, block)).collect()
    }

    /// Axial force averaged over each member, compression positive (N).
    pub(super) fn compressions(&self, k: usize) -> Vec<f64> {
        let first = 2 * self.structure.dofs.len();
        let of = |m: usize| (self.block(k, first + 2 * m)[0] - self.block(k, first + 2 * m + 1)[0]) / 2.0;
        (0..self.structure.members.len()).map(of).collect()
    }

    /// Compression of each member, zero for tension (N), in the linear sum of each combination.
    pub(super) fn pressed(&self) -> Vec<Vec<f64>> {
        let members = self.structure.members.len();
        let of_cases: Vec<Vec<f64>> = (0..self.cases).map(|case| self.compressions(case)).collect();
        let sum = |parts: &Vec<(usize, f64)>| {
            let mut sum = vec![0.0; members];
            for &(case, factor) in parts {
                sum.iter_mut().zip(&of_cases[case]).for_each(|(s, c)| *s += factor * c);
            }
            sum.iter_mut().for_each(|s| *s = s.max(0.0));
            sum
        };
        self.parts[self.cases..].iter().map(sum).collect()
    }

    /// Keeps the row of an answer that was iterated.
    pub(super) fn keep(&mut self, k: usize, row: &[f64]) {
        self.own[k] = Some(self.settled.len() / row.len());
        self.settled.extend_from_slice(row);
    }
}

/// Length of one row.
pub(super) fn row_length(structure: &Structure) -> usize {
    12 * structure.dofs.len() + 12 * structure.members.len()
}

/// The answer of one case or combination.
#[derive(Debug, Clone, Copy)]
pub struct Response<'r> {
    pub(super) results: &'r Results,
    pub(super) k: usize,
}

impl<'r> Response<'r> {
    /// Name of the case or combination.
    #[must_use]
    pub fn name(&self) -> &'r str {
        &self.results.labels[self.k]
    }

    /// The theory behind it.
    #[must_use]
    pub fn order(&self) -> &'r Order {
        &self.results.orders[self.k]
    }

    /// Cases (by number) and factors it is made of.
    #[must_use]
    pub fn parts(&self) -> &'r [(usize, f64)] {
        &self.results.parts[self.k]
    }

    fn block(&self, block: usize) -> [f64; BLOCK] {
        self.results.block(self.k, block)
    }

    /// Displacement (mm) and rotation (rad) of a node, global axes.
    ///
    /// # Panics
    /// When the node is not of this model.
    #[must_use]
    pub fn displacement(&self, node: NodeId) -> [f64; 6] {
        assert!(node.0 < self.results.structure.dofs.len(), "node {} is of another model", node.0);
        self.block(node.0)
    }

    /// Force (N) and moment (N·mm) of everything that holds a node to the ground (support, springs, contact) on the
    /// structure, global axes.
    ///
    /// # Panics
    /// When the node is not of this model.
    #[must_use]
    pub fn reaction(&self, node: NodeId) -> [f64; 6] {
        let nodes = self.results.structure.dofs.len();
        assert!(node.0 < nodes, "node {} is of another model", node.0);
        self.block(nodes + node.0)
    }

    /// `Fx Fy Fz Mx My Mz` (N, N·mm) on a member at end i, then at end j, in its own axes.
    ///
    /// # Panics
    /// When the member is not of this model.
    #[must_use]
    pub fn end_forces(&self, member: MemberId) -> EndForces {
        assert!(member.0 < self.results.structure.members.len(), "member {} is of another model", member.0);
        let first = 2 * (self.results.structure.dofs.len() + member.0);
        let [i, j] = [self.block(first), self.block(first + 1)];
        std::array::from_fn(|c| if c < BLOCK { i[c] } else { j[c - BLOCK] })
    }

    /// Axial force averaged over the member, tension positive (N).
    ///
    /// # Panics
    /// When the member is not of this model.
    #[must_use]
    pub fn axial(&self, member: MemberId) -> f64 {
        assert!(member.0 < self.results.structure.members.len(), "member {} is of another model", member.0);
        let first = 2 * (self.results.structure.dofs.len() + member.0);
        (self.block(first + 1)[0] - self.block(first)[0]) / 2.0
    }

    /// Forces and deflections along a member.
    ///
    /// # Panics
    /// When the member is not of this model.
    #[must_use]
    pub fn line(&self, member: MemberId) -> MemberLine {
        let (structure, ends) = (&self.results.structure, self.end_forces(member));
        let prepared = &structure.members[member.0];
        let nodes = prepared.nodes.map(|n| self.displacement(NodeId(n)));
        let moves = [0, 1].map(|end| {
            let [x, y, z, rx, ry, rz] = nodes[end];
            let arm = axes::cross([rx, ry, rz], prepared.offsets[end]);
            let shift = axes::into(&prepared.axes, axes::plus([x, y, z], arm));
            (shift, axes::into(&prepared.axes, [rx, ry, rz]))
        });
        let compression = match self.order() {
            Order::Iterated { compression, .. } => compression.get(member.0).copied().unwrap_or(0.0),
            Order::First | Order::Lifted | Order::Fails { .. } => 0.0,
        };
        MemberLine::new(prepared, compression, ends, moves, self.results.loads.on(member.0, self.parts()))
    }
}
