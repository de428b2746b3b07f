//! What can be wrong with a model, its loads or its answer.

use std::fmt;
use thiserror::Error;

/// How the worst node of a mechanism moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Motion {
    /// The node shifts along the direction.
    Slides,
    /// The node turns about the direction without shifting.
    Turns,
}

impl fmt::Display for Motion {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Slides => "slide along",
            Self::Turns => "turn about",
        })
    }
}

/// A direction in global axes as a reader would say it: `X`, or the unit vector when it follows no axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction(pub [f64; 3]);

impl fmt::Display for Direction {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (component, name) in self.0.iter().zip(["X", "Y", "Z"]) {
            if component.abs() > 0.9999 {
                return f.write_str(name);
            }
        }
        // Adding zero turns a rounded -0 into 0.
        let [x, y, z] = self.0.map(|c| (c * 1e3).round() / 1e3 + 0.0);
        write!(f, "({x}, {y}, {z})")
    }
}

/// Why an analysis gives no answer. Every variant holds the names and numbers needed to say what to change.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum AnalysisError {
    /// The structure, or a part of it, can move without resistance.
    #[error("{part} can {motion} {direction} without resistance", part = part_of(nodes_moving, node))]
    Mechanism {
        /// The node that moves most.
        node: String,
        /// Whether it slides or turns.
        motion: Motion,
        /// Unit direction in global axes.
        direction: Direction,
        /// How many nodes take part.
        nodes_moving: usize,
    },
    /// A member has nothing that stops it from turning about its own axis.
    #[error("member {member} spins about its own axis")]
    Spins {
        /// The member.
        member: String,
    },
    /// Both ends of a member are released along its axis.
    #[error("member {member} is released along its axis at both ends, so it slides out")]
    SlidesOut {
        /// The member.
        member: String,
    },
    /// No member reaches the node.
    #[error("node {node} joins no member")]
    LooseNode {
        /// The node.
        node: String,
    },
    /// Two ends of a member stand at the same point.
    #[error("member {member} has no length between its ends")]
    NoLength {
        /// The member.
        member: String,
    },
    /// A member works one way only and is not an axial member.
    #[error("member {member} works one way only, so it must be an axial member")]
    OneWayBends {
        /// The member.
        member: String,
    },
    /// The vector given for a member's local axis runs along the member.
    #[error("member {member}: the axis given for its cross-section runs along the member")]
    AxisAlongMember {
        /// The member.
        member: String,
    },
    /// The axes of an inclined support are not three perpendicular unit vectors.
    #[error("support at node {node}: its axes are not three perpendicular unit vectors, right-handed")]
    SkewedAxes {
        /// The node.
        node: String,
    },
    /// A number that must be finite, or positive, is not.
    #[error("{part}: {what} is {given}, it must be {needed}")]
    BadNumber {
        /// What carries the number (`member rail`, `section tube`).
        part: String,
        /// Which number.
        what: &'static str,
        /// What was given.
        given: f64,
        /// What is accepted.
        needed: &'static str,
    },
    /// Two nodes, members or load cases share a name.
    #[error("two {kind}s are named {name}")]
    SameName {
        /// `node`, `member`, `section`, `load case` or `combination`.
        kind: &'static str,
        /// The name.
        name: String,
    },
    /// A name or number points at nothing.
    #[error("{wanted_by} names {kind} {name}, which does not exist")]
    Unknown {
        /// `node`, `member`, `section` or `load case`.
        kind: &'static str,
        /// The name.
        name: String,
        /// Who asked.
        wanted_by: String,
    },
    /// A member load starts or ends outside the member.
    #[error("load case {case}: a load on member {member} stands at {at_mm} mm, the member is {length_mm} mm long")]
    LoadOutsideMember {
        /// The load case.
        case: String,
        /// The member.
        member: String,
        /// Where the load stands, from end i (mm).
        at_mm: f64,
        /// Clear length of the member (mm).
        length_mm: f64,
    },
    /// A moment acts on a node or member that has nothing to take it.
    #[error("load case {case}: the moment on {part} meets only axial members, which take none")]
    MomentOnHinge {
        /// The load case.
        case: String,
        /// The node or member.
        part: String,
    },
    /// The loads of a combination exceed the buckling load.
    #[error("combination {combination}: the frame buckles, {part} gives way first")]
    Buckles {
        /// The combination.
        combination: String,
        /// `node …` or `member …`.
        part: String,
    },
    /// The one-way parts of a combination leave a mechanism.
    #[error("combination {combination}: with {open} open, {source}", open = list(open))]
    NotHeld {
        /// The combination.
        combination: String,
        /// One-way supports and members that give no force.
        open: Vec<String>,
        /// The mechanism that is left.
        source: Box<AnalysisError>,
    },
    /// The second-order or one-way iteration finds no rest.
    #[error("combination {combination}: no equilibrium found in {rounds} rounds")]
    NotSettled {
        /// The combination.
        combination: String,
        /// Rounds tried.
        rounds: usize,
    },
    /// Frequencies were asked of a model without mass.
    #[error("no member or node of the model has mass, so it has no natural frequency")]
    NoMass,
    /// The eigenvalue iteration did not converge.
    #[error("the natural frequencies did not settle in {rounds} rounds")]
    ModesNotSettled {
        /// Rounds tried.
        rounds: usize,
    },
    /// A model file is not what the exchange format says.
    #[error("model file: {reason}")]
    Exchange {
        /// Line, column and reason.
        reason: String,
    },
}

fn part_of(nodes_moving: &usize, node: &str) -> String {
    if *nodes_moving > 1 {
        format!("node {node} (and {} more with it)", nodes_moving - 1)
    } else {
        format!("node {node}")
    }
}

fn list(names: &[String]) -> String {
    if names.is_empty() { "nothing".to_owned() } else { names.join(", ") }
}

impl AnalysisError {
    /// What the user can do about it.
    #[must_use]
    pub fn hints(&self) -> Vec<String> {
        let hint = match self {
            Self::Mechanism { motion: Motion::Slides, node, direction, .. } => {
                format!(
                    "hold node {node} along {direction}: a support, a diagonal, or a rigid joint instead of a hinge"
                )
            }
            Self::Mechanism { motion: Motion::Turns, node, direction, .. } => {
                format!("leave one member at node {node} unreleased about {direction}, or hold that rotation")
            }
            Self::Spins { member } => format!("hold the torsion of member {member} at one end, or make it axial only"),
            Self::SlidesOut { member } => format!("hold member {member} along its axis at one end"),
            Self::LooseNode { node } => format!("join node {node} to a member or remove it"),
            Self::Buckles { .. } => "a stiffer section, a shorter free length or less load".to_owned(),
            Self::NotHeld { .. } => "more dead load, or a support that also holds in the other direction".to_owned(),
            Self::NoMass => "give a section its mass per metre or a node its mass".to_owned(),
            _ => return Vec::new(),
        };
        vec![hint]
    }
}
