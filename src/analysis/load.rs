//! Load cases and their combinations.

use super::model::{MemberId, NodeId};

/// The axes in which the components of a member load are given.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoadAxes {
    /// Global X, Y, Z; per unit length of the member, not of its plan.
    Global,
    /// The member's own x, y, z.
    Local,
}

/// A load on a member. Distances run along the clear length from end i (mm).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MemberLoad {
    /// A line load that changes evenly from `w_a` at `a` to `w_b` at `b` (N/mm).
    Line {
        /// Start (mm).
        a: f64,
        /// End (mm); `None` is the end of the member.
        b: Option<f64>,
        /// Components at the start (N/mm).
        w_a: [f64; 3],
        /// Components at the end (N/mm).
        w_b: [f64; 3],
        /// Axes of the components.
        axes: LoadAxes,
    },
    /// A force and a moment at a point.
    Point {
        /// Where (mm).
        at: f64,
        /// Force (N).
        force: [f64; 3],
        /// Moment (N·mm).
        moment: [f64; 3],
        /// Axes of the components.
        axes: LoadAxes,
    },
}

impl MemberLoad {
    /// The same line load over the whole member, global components (N/mm).
    #[must_use]
    pub fn uniform(w: [f64; 3]) -> Self {
        Self::Line { a: 0.0, b: None, w_a: w, w_b: w, axes: LoadAxes::Global }
    }
}

/// One basic set of loads that act together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct LoadCase {
    /// Name, unique among the cases and combinations of a run.
    pub name: String,
    /// Forces (N) and moments (N·mm) at nodes, global components.
    pub nodal: Vec<(NodeId, [f64; 6])>,
    /// Loads on members.
    pub member: Vec<(MemberId, MemberLoad)>,
}

impl LoadCase {
    /// A case without loads.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into(), ..Self::default() }
    }

    /// Adds a force at a node, global components (N).
    #[must_use]
    pub fn force(self, node: NodeId, f: [f64; 3]) -> Self {
        self.nodal(node, [f[0], f[1], f[2], 0.0, 0.0, 0.0])
    }

    /// Adds a force (N) and moment (N·mm) at a node, global components.
    #[must_use]
    pub fn nodal(mut self, node: NodeId, load: [f64; 6]) -> Self {
        self.nodal.push((node, load));
        self
    }

    /// Adds a uniform load over a whole member, global components (N/mm).
    #[must_use]
    pub fn uniform(self, member: MemberId, w: [f64; 3]) -> Self {
        self.on(member, MemberLoad::uniform(w))
    }

    /// Adds a load on a member.
    #[must_use]
    pub fn on(mut self, member: MemberId, load: MemberLoad) -> Self {
        self.member.push((member, load));
        self
    }

    /// Adds a load on a member in place.
    pub fn push(&mut self, member: MemberId, load: MemberLoad) {
        self.member.push((member, load));
    }
}

/// A sum of load cases, each with a factor.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Factored {
    /// Name, unique among the cases and combinations of a run.
    pub name: String,
    /// Numbers of the cases in their list, each with its factor.
    pub parts: Vec<(usize, f64)>,
}

impl Factored {
    /// A combination of nothing.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into(), ..Self::default() }
    }

    /// Adds a case, by its number in the list it is run with, with its factor.
    #[must_use]
    pub fn with(mut self, case: usize, factor: f64) -> Self {
        self.parts.push((case, factor));
        self
    }
}
