//! A frame at one tilt as a model, and what each member of it stands for.

use super::rod::Rod;
use crate::{
    analysis::{MemberId, Model, NodeId},
    frame::{HoleUse, PanelPlace, vector::At},
};

/// Places along each panel edge where the panel rests on a member.
pub(super) const SEATS: usize = 6;
/// A frame at one tilt as a model, with the way back from its members to the pieces.
#[derive(Debug, Clone)]
pub struct Skeleton {
    /// Tilt (deg).
    pub tilt_deg: f64,
    /// Model to analyse.
    pub model: Model,
    /// Sticks on their axes.
    pub rods: Vec<Rod>,
    /// Bolts between layers.
    pub links: Vec<LinkRow>,
    /// Stays.
    pub stays: Vec<StayRow>,
    /// Corner braces: member and rod.
    pub braces: Vec<(MemberId, usize)>,
    /// Seats of each panel.
    pub(super) seats: Vec<PanelSeats>,
    /// Place of every node (mm).
    pub places: Vec<At>,
    /// Nodes that stand on the ground or in it: node, and its rod.
    pub grounded: Vec<(NodeId, usize)>,
    /// Nodes at grade of what stands in the soil.
    pub at_grade: Vec<(NodeId, usize)>,
    /// Stakes or brackets: node, and its rod.
    pub holds: Vec<(NodeId, usize)>,
    /// Ballast: node, rod and mass (kg).
    pub ballast: Vec<(NodeId, usize, f64)>,
}

impl Skeleton {
    /// Places along a rod where the ends of other sticks hold it (mm).
    #[must_use]
    pub fn joined_at(&self, rod: usize) -> Vec<f64> {
        let ends = self.rods.iter().flat_map(|r| r.ties.iter().flatten().map(|t| t.node));
        let braces = self.braces.iter().flat_map(|(m, _)| {
            let member = &self.model.members()[m.0];
            [member.i, member.j]
        });
        ends.chain(braces)
            .filter_map(|node| self.rods[rod].nodes.iter().find(|(_, n)| *n == node).map(|(t, _)| *t))
            .collect()
    }
}

/// What joins two rods at a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Link {
    /// A bolt between two layers.
    Bolt(HoleUse),
    /// A purlin on the member it crosses.
    PurlinSeat,
}

impl Link {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bolt(use_) => use_.word(),
            Self::PurlinSeat => "purlin seat",
        }
    }
}

/// A bolt between two layers, or a purlin's seat, as a member of the model.
#[derive(Debug, Clone, PartialEq)]
pub struct LinkRow {
    /// Member.
    pub member: MemberId,
    /// What it is.
    pub link: Link,
    /// The two rods it joins.
    pub rods: [usize; 2],
    /// Where each rod has the hole (mm from the marked end).
    pub at_mm: [f64; 2],
    /// Centre of the joint (mm).
    pub place: At,
}

/// A stay as a member of the model.
#[derive(Debug, Clone, PartialEq)]
pub struct StayRow {
    /// Member.
    pub member: MemberId,
    /// The rod of the stay.
    pub stay: usize,
    /// The rod with the frame pin, and where (mm).
    pub upper: (usize, f64),
    /// The rod with the fixed pin, and where (mm).
    pub lower: (usize, f64),
    /// Pin to pin (mm).
    pub length_mm: f64,
    /// From the frame pin to the fixed pin, unit vector.
    pub direction: At,
}

/// Where one panel rests.
#[derive(Debug, Clone)]
pub(super) struct PanelSeats {
    pub(super) panel: PanelPlace,
    /// The part of the whole surface this panel takes, x and u (mm).
    pub(super) reach: [[f64; 2]; 2],
    /// Column from the left, and columns.
    pub(super) column: (usize, usize),
    /// Share carried across the frame to the uprights; the rest goes up the slope to the rails.
    pub(super) across_share: f64,
    pub(super) kind: SeatKind,
}

#[derive(Debug, Clone)]
pub(super) enum SeatKind {
    /// Left and right: nodes with their u; low and high: nodes with their x.
    Edges { sides: [Vec<(f64, NodeId)>; 2], ends: [Vec<(f64, NodeId)>; 2] },
    /// Four bolts: [low, high] × [left, right], with u of the rows and x of the columns.
    Holes { nodes: [[NodeId; 2]; 2], u: [f64; 2], x: [f64; 2] },
}
