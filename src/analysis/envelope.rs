//! The least and the greatest of every force over many answers, each with where it comes from.

use super::model::{MemberId, NodeId};
use super::results::Results;

/// One end of a range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extreme {
    /// The value (N, N·mm, mm or rad).
    pub value: f64,
    /// Number of the answer it comes from.
    pub answer: usize,
    /// Place along the member from end i (mm); 0 for nodes.
    pub at_mm: f64,
}

impl Extreme {
    fn keep(&mut self, other: Self, greater: bool) {
        let better = if greater { other.value > self.value } else { other.value < self.value };
        // The first of equals stays, so the answer does not depend on anything but the order of the answers.
        if better {
            *self = other;
        }
    }
}

/// Least and greatest of six components.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MemberEnvelope {
    /// Least of each component.
    pub least: [Extreme; 6],
    /// Greatest of each component.
    pub most: [Extreme; 6],
}

impl MemberEnvelope {
    fn empty() -> Self {
        let none = |value| Extreme { value, answer: 0, at_mm: 0.0 };
        Self { least: [none(f64::INFINITY); 6], most: [none(f64::NEG_INFINITY); 6] }
    }

    fn take(&mut self, components: [f64; 6], answer: usize, at_mm: f64) {
        for (c, value) in components.into_iter().enumerate() {
            self.least[c].keep(Extreme { value, answer, at_mm }, false);
            self.most[c].keep(Extreme { value, answer, at_mm }, true);
        }
    }

    /// The one of greatest size of component `c`.
    ///
    /// # Panics
    /// When `c` is above 5.
    #[must_use]
    pub fn greatest(&self, c: usize) -> Extreme {
        let (least, most) = (self.least[c], self.most[c]);
        if least.value.abs() > most.value.abs() { least } else { most }
    }
}

/// Ranges over a set of answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Envelope {
    /// Per member: `N V_y V_z T M_y M_z` along it.
    pub members: Vec<MemberEnvelope>,
    /// Per node: reaction, global axes.
    pub reactions: Vec<MemberEnvelope>,
    /// Per node: displacement and rotation, global axes.
    pub displacements: Vec<MemberEnvelope>,
}

impl Results {
    /// Ranges over the given answers (numbers as in [`Results::response`]). Without any answer, ranges are empty
    /// (least infinite, greatest minus infinite).
    ///
    /// # Panics
    /// When a number is not below [`Results::len`].
    #[must_use]
    pub fn envelope(&self, answers: impl IntoIterator<Item = usize>) -> Envelope {
        let (nodes, members) = (self.structure.dofs.len(), self.structure.members.len());
        let mut out = Envelope {
            members: vec![MemberEnvelope::empty(); members],
            reactions: vec![MemberEnvelope::empty(); nodes],
            displacements: vec![MemberEnvelope::empty(); nodes],
        };
        for k in answers {
            let response = self.response(k);
            for n in 0..nodes {
                out.reactions[n].take(response.reaction(NodeId(n)), k, 0.0);
                out.displacements[n].take(response.displacement(NodeId(n)), k, 0.0);
            }
            for m in 0..members {
                let line = response.line(MemberId(m));
                for x in line.stations() {
                    out.members[m].take(line.at(x).components(), k, x);
                }
            }
        }
        out
    }
}
