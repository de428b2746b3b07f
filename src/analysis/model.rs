//! The frame as a set of nodes, sections, members and supports.

use super::error::AnalysisError;

/// Number of a node, in the order of adding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct NodeId(pub usize);

/// Number of a section, in the order of adding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SectionId(pub usize);

/// Number of a member, in the order of adding.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct MemberId(pub usize);

/// A cross-section with its material.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Name, unique in the model.
    pub name: String,
    /// Modulus of elasticity (N/mm²).
    pub e: f64,
    /// Shear modulus (N/mm²).
    pub g: f64,
    /// Area (mm²).
    pub area: f64,
    /// Second moment of area for bending in the local x-z plane (mm⁴).
    pub i_y: f64,
    /// Second moment of area for bending in the local x-y plane (mm⁴).
    pub i_z: f64,
    /// Torsion constant (mm⁴).
    pub j: f64,
    /// Mass per metre (kg/m), for natural frequencies only.
    pub mass_kg_per_m: f64,
}

impl Section {
    /// A section without mass. `e`, `g` (N/mm²), `area` (mm²), `i_y`, `i_z`, `j` (mm⁴).
    #[must_use]
    pub fn new(name: impl Into<String>, e: f64, g: f64, area: f64, i_y: f64, i_z: f64, j: f64) -> Self {
        Self { name: name.into(), e, g, area, i_y, i_z, j, mass_kg_per_m: 0.0 }
    }

    /// Sets the mass per metre (kg/m).
    #[must_use]
    pub fn mass(mut self, kg_per_m: f64) -> Self {
        self.mass_kg_per_m = kg_per_m;
        self
    }
}

/// How a cross-section stands about the member's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Orientation {
    /// Right-handed turn about the member's axis from the level position (degrees).
    Roll(f64),
    /// A vector near the local y axis; its part along the member is taken out.
    YAxis([f64; 3]),
    /// A vector near the local z axis; its part along the member is taken out.
    ZAxis([f64; 3]),
}

/// How one component of a member end is joined to its node.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Joint {
    /// The end moves with the node.
    #[default]
    Rigid,
    /// The component is zero.
    Free,
    /// A spring between end and node (N/mm for `fx`, N·mm/rad for moments).
    Spring(f64),
}

/// The four components of a member end that can be released or sprung, in local axes.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct EndJoint {
    /// Along the member.
    pub fx: Joint,
    /// Torsion.
    pub mx: Joint,
    /// Bending about local y.
    pub my: Joint,
    /// Bending about local z.
    pub mz: Joint,
}

impl EndJoint {
    /// Both bending moments zero, torsion and forces held.
    #[must_use]
    pub fn pinned() -> Self {
        Self { my: Joint::Free, mz: Joint::Free, ..Self::default() }
    }
}

/// The forces an axial member can take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Way {
    /// Tension and compression.
    #[default]
    Both,
    /// A tie: goes slack instead of being pressed.
    TensionOnly,
    /// A strut that only bears: opens instead of being pulled.
    CompressionOnly,
    /// Undone: it hangs there and carries only its own loads to its two nodes.
    Slack,
}

/// A straight member between two nodes.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Name, unique in the model.
    pub name: String,
    /// Node at end i.
    pub i: NodeId,
    /// Node at end j.
    pub j: NodeId,
    /// Cross-section.
    pub section: SectionId,
    /// How the cross-section stands.
    pub orientation: Orientation,
    /// Joints of end i and end j.
    pub joints: [EndJoint; 2],
    /// Rigid arms from node i to end i and from node j to end j, global components (mm).
    pub offsets: [[f64; 3]; 2],
    /// Takes axial force only; loads across it go to its nodes as from a simple beam.
    pub axial_only: bool,
    /// The forces it can take; anything but [`Way::Both`] needs `axial_only`.
    pub way: Way,
}

impl Member {
    /// A rigidly joined member at roll 0.
    #[must_use]
    pub fn new(name: impl Into<String>, i: NodeId, j: NodeId, section: SectionId) -> Self {
        Self {
            name: name.into(),
            i,
            j,
            section,
            orientation: Orientation::Roll(0.0),
            joints: [EndJoint::default(); 2],
            offsets: [[0.0; 3]; 2],
            axial_only: false,
            way: Way::Both,
        }
    }

    /// Turns the cross-section about the member's axis (degrees).
    #[must_use]
    pub fn roll(mut self, roll_deg: f64) -> Self {
        self.orientation = Orientation::Roll(roll_deg);
        self
    }

    /// Sets the cross-section by a vector near its local z axis.
    #[must_use]
    pub fn z_axis(mut self, z: [f64; 3]) -> Self {
        self.orientation = Orientation::ZAxis(z);
        self
    }

    /// Sets the joint of end i.
    #[must_use]
    pub fn joint_i(mut self, joint: EndJoint) -> Self {
        self.joints[0] = joint;
        self
    }

    /// Sets the joint of end j.
    #[must_use]
    pub fn joint_j(mut self, joint: EndJoint) -> Self {
        self.joints[1] = joint;
        self
    }

    /// Sets the rigid arms from the nodes to the member's ends, global components (mm).
    #[must_use]
    pub fn offset(mut self, at_i: [f64; 3], at_j: [f64; 3]) -> Self {
        self.offsets = [at_i, at_j];
        self
    }

    /// Makes it take axial force only.
    #[must_use]
    pub fn axial(mut self) -> Self {
        self.axial_only = true;
        self
    }

    /// Makes it an axial member that takes force one way only, or none.
    #[must_use]
    pub fn way(mut self, way: Way) -> Self {
        self.axial_only = true;
        self.way = way;
        self
    }
}

/// The sign of the reaction a one-way support can give, along its own axis.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OneWay {
    /// Pushes along the positive axis only (ground under a foot, axis Z).
    Positive,
    /// Pushes along the negative axis only.
    Negative,
}

impl OneWay {
    pub(super) fn sign(self) -> f64 {
        match self {
            Self::Positive => 1.0,
            Self::Negative => -1.0,
        }
    }
}

/// What holds a node to the ground, component by component: `ux uy uz rx ry rz` in the support's axes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Support {
    /// Held fast.
    pub fixed: [bool; 6],
    /// Springs (N/mm and N·mm/rad); 0 is none.
    pub springs: [f64; 6],
    /// Contact on a translation: rigid, or through the spring of that component when there is one. No friction.
    pub one_way: [Option<OneWay>; 3],
    /// Rows are the support's axes in global components; `None` is the global axes.
    pub axes: Option<[[f64; 3]; 3]>,
}

impl Support {
    /// All six components held.
    #[must_use]
    pub fn fixed() -> Self {
        Self::holding([true; 6])
    }

    /// Three translations held.
    #[must_use]
    pub fn pinned() -> Self {
        Self::holding([true, true, true, false, false, false])
    }

    /// The given components held.
    #[must_use]
    pub fn holding(fixed: [bool; 6]) -> Self {
        Self { fixed, ..Self::default() }
    }

    /// Adds springs to ground (N/mm and N·mm/rad).
    #[must_use]
    pub fn springs(mut self, springs: [f64; 6]) -> Self {
        self.springs = springs;
        self
    }

    /// Makes the support of one translation (0, 1 or 2) a contact.
    ///
    /// # Panics
    /// When `component` is above 2.
    #[must_use]
    pub fn one_way(mut self, component: usize, way: OneWay) -> Self {
        self.one_way[component] = Some(way);
        self
    }

    /// Turns the support: rows are its axes in global components.
    #[must_use]
    pub fn along(mut self, axes: [[f64; 3]; 3]) -> Self {
        self.axes = Some(axes);
        self
    }
}

#[derive(Debug, Clone, PartialEq)]
pub(super) struct Node {
    pub(super) name: String,
    pub(super) at: [f64; 3],
    pub(super) support: Option<Support>,
    pub(super) mass_kg: f64,
}

/// A frame to analyse. Parts are added in any order; [`super::Structure::build`] checks them together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Model {
    pub(super) name: String,
    pub(super) nodes: Vec<Node>,
    pub(super) sections: Vec<Section>,
    pub(super) members: Vec<Member>,
}

impl Model {
    /// An empty model.
    #[must_use]
    pub fn new(name: impl Into<String>) -> Self {
        Self { name: name.into(), ..Self::default() }
    }

    /// Adds a node at global coordinates (mm).
    pub fn node(&mut self, name: impl Into<String>, at: [f64; 3]) -> NodeId {
        self.nodes.push(Node { name: name.into(), at, support: None, mass_kg: 0.0 });
        NodeId(self.nodes.len() - 1)
    }

    /// Adds a cross-section.
    pub fn section(&mut self, section: Section) -> SectionId {
        self.sections.push(section);
        SectionId(self.sections.len() - 1)
    }

    /// Adds a member.
    pub fn member(&mut self, member: Member) -> MemberId {
        self.members.push(member);
        MemberId(self.members.len() - 1)
    }

    /// Sets what holds a node, replacing an earlier support of it.
    ///
    /// # Panics
    /// When the node is not of this model.
    pub fn support(&mut self, node: NodeId, support: Support) {
        self.nodes[node.0].support = Some(support);
    }

    /// Adds a mass (kg) at a node, for natural frequencies only.
    ///
    /// # Panics
    /// When the node is not of this model.
    pub fn mass(&mut self, node: NodeId, kg: f64) {
        self.nodes[node.0].mass_kg += kg;
    }

    /// The model's name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Nodes in the order of adding: name and coordinates (mm).
    pub fn nodes(&self) -> impl ExactSizeIterator<Item = (&str, [f64; 3])> {
        self.nodes.iter().map(|n| (n.name.as_str(), n.at))
    }

    /// Members in the order of adding.
    #[must_use]
    pub fn members(&self) -> &[Member] {
        &self.members
    }

    /// Members in the order of adding, to change them (one stay undone, another section).
    pub fn members_mut(&mut self) -> &mut [Member] {
        &mut self.members
    }

    /// Sections in the order of adding.
    #[must_use]
    pub fn sections(&self) -> &[Section] {
        &self.sections
    }

    /// What holds a node, if anything.
    #[must_use]
    pub fn support_of(&self, node: NodeId) -> Option<&Support> {
        self.nodes.get(node.0)?.support.as_ref()
    }

    /// The node of that name.
    ///
    /// # Errors
    /// [`AnalysisError::Unknown`] when there is none.
    pub fn find_node(&self, name: &str) -> Result<NodeId, AnalysisError> {
        let found = self.nodes.iter().position(|n| n.name == name);
        found.map(NodeId).ok_or_else(|| unknown("node", name, &self.name))
    }

    /// The member of that name.
    ///
    /// # Errors
    /// [`AnalysisError::Unknown`] when there is none.
    pub fn find_member(&self, name: &str) -> Result<MemberId, AnalysisError> {
        let found = self.members.iter().position(|m| m.name == name);
        found.map(MemberId).ok_or_else(|| unknown("member", name, &self.name))
    }
}

pub(super) fn unknown(kind: &'static str, name: &str, wanted_by: &str) -> AnalysisError {
    AnalysisError::Unknown { kind, name: name.to_owned(), wanted_by: wanted_by.to_owned() }
}
