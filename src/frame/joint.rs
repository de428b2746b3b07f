//! Where parts meet: what holds them together, and every fastener of it at its place.

use super::piece::{Body, HoleUse};
use crate::quantities::{Length, Units, length, mm};

/// What a joint does. One trade word each, printed the same everywhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum JointUse {
    /// The end of one member against the side of another.
    Corner,
    /// One end of a corner brace.
    Brace,
    /// Plies of a built-up member.
    Plies,
    /// A purlin across a member.
    Purlin,
    /// An angle clip that seats a panel.
    Clip,
    /// A panel bolted to its purlin.
    PanelBolt,
    /// What a bolt through holes of this use holds.
    Bolt(HoleUse),
}

impl JointUse {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Corner => "corner",
            Self::Brace => "brace end",
            Self::Plies => "plies",
            Self::Purlin => "purlin crossing",
            Self::Clip => "clip",
            Self::PanelBolt => "panel bolt",
            Self::Bolt(hole) => hole.word(),
        }
    }
}

/// What a joint joins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// A stick of the frame, by index.
    Stick(usize),
    /// A panel, by index.
    Panel(usize),
}

/// A round solid on a fastener's axis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Disc {
    /// Diameter; of a hexagon over its corners (mm).
    pub diameter_mm: f64,
    /// Along the axis (mm).
    pub thickness_mm: f64,
    /// From under the head to where it begins, along the axis (mm); a head begins before it.
    pub at_mm: f64,
}

/// What kind of fastener.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FastenerKind {
    /// Hexagon bolt with its nut.
    Bolt,
    /// Lag screw: turned in with a wrench, it does not come through.
    LagScrew,
    /// Wood screw, its head flush.
    WoodScrew,
}

impl FastenerKind {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bolt => "bolt",
            Self::LagScrew => "lag screw",
            Self::WoodScrew => "wood screw",
        }
    }
}

/// One bolt or screw at its place, in the coordinates of its joint's body.
#[derive(Debug, Clone, PartialEq)]
pub struct Fastener {
    /// Kind.
    pub kind: FastenerKind,
    /// Trade size: `5/8 in`, `#12`.
    pub size: &'static str,
    /// Under the head (mm).
    pub from: [f64; 3],
    /// Unit vector towards the tip or nut.
    pub axis: [f64; 3],
    /// Under the head to the tip (mm).
    pub length_mm: f64,
    /// Shank (mm).
    pub diameter_mm: f64,
    /// A head that stands out; a flush one stands in the wood.
    pub head: Option<Disc>,
    /// Nut.
    pub nut: Option<Disc>,
    /// Washers.
    pub washers: Vec<Disc>,
    /// Hole for the thread (mm).
    pub lead_hole_mm: Option<f64>,
    /// Hole through the first part (mm).
    pub clearance_hole_mm: Option<f64>,
}

impl Fastener {
    /// A point on the axis, so far from under the head (mm).
    #[must_use]
    pub fn at(&self, along_mm: f64) -> [f64; 3] {
        std::array::from_fn(|i| self.from[i] + self.axis[i] * along_mm)
    }

    /// Kind, size and length: `lag screw 1/4 in x 4 in`. A metric bolt has its length in millimetres on every tape.
    #[must_use]
    pub fn words(&self, units: Units) -> String {
        let units = if self.size.starts_with('M') { Units::Metric } else { units };
        format!("{} {} x {}", self.kind.word(), self.size.trim_start_matches("lag "), length(mm(self.length_mm), units))
    }

    /// What stands out: head, washers, nut.
    pub fn discs(&self) -> impl Iterator<Item = (&'static str, Disc)> {
        let named = |name| move |disc| (name, disc);
        let ends = self.head.map(named("head")).into_iter().chain(self.nut.map(named("nut")));
        ends.chain(self.washers.iter().copied().map(named("washer")))
    }
}

/// A box that belongs to a joint: a leg of a clip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// One corner (mm).
    pub origin: [f64; 3],
    /// Along each axis of the body (mm), above zero.
    pub size: [f64; 3],
}

/// Who holds what, with what.
#[derive(Debug, Clone, PartialEq)]
pub struct Joint {
    /// What it does.
    pub use_: JointUse,
    /// The body whose coordinates its fasteners stand in.
    pub body: Body,
    /// From head to tip.
    pub parts: Vec<Part>,
    /// Bolts and screws.
    pub fasteners: Vec<Fastener>,
    /// Legs of a clip.
    pub plates: Vec<Plate>,
    /// The place its fasteners are turned from.
    pub turned_from: &'static str,
}

/// Screws as a joint asks for them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Asked {
    pub(super) screw: &'static crate::catalogue::Screw,
    pub(super) length: Length,
    pub(super) count: usize,
}
