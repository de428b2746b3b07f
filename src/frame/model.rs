//! A frame laid out: what every later room reads.

use super::{
    clearance::Clearance,
    foot::{Foot, StandsOn},
    hole_row::Setting,
    joint::Joint,
    linkage::{Linkage, Point},
    panel::PanelPlace,
    piece::{Body, HoleUse, Piece, Role, Stick},
    rectangle::{Bay, BraceShape, Seams},
    stack::{Laid, Layer, Stack},
};
use crate::{catalogue::Bolt, quantities::Tape};

/// One frame of a design, exact to the last pin. A design may ask for several equal ones.
///
/// Axes: x across, to the right seen from the front; u up the slope and w out of the face, both from the axle or
/// hinge; X level from the low towards the high edge and Z up, from the axle or hinge as well.
#[derive(Debug, Clone)]
pub struct Frame {
    /// Equal frames side by side.
    pub count: usize,
    /// Clear between neighbouring frames (mm).
    pub gap_mm: f64,
    /// From a frame to the same place of the next (mm).
    pub pitch_mm: f64,
    /// Tape that positions are rounded to.
    pub tape: Tape,
    /// Over the stiles or rail ends (mm).
    pub width_mm: f64,
    /// Over the rails, up the slope (mm).
    pub length_mm: f64,
    /// Depth of the deeper frame member (mm).
    pub depth_mm: f64,
    /// u of the low edge (mm), below zero.
    pub low_edge_u_mm: f64,
    /// w of the front face of the members (mm).
    pub face_w_mm: f64,
    /// Every stick of one frame at its place.
    pub sticks: Vec<Stick>,
    /// For every stick, the index of its piece.
    pub piece_of: Vec<usize>,
    /// The cut list of one frame.
    pub pieces: Vec<Piece>,
    /// Every panel at its place.
    pub panels: Vec<PanelPlace>,
    /// Openings between members.
    pub bays: Vec<Bay>,
    /// Slots for posts inside the frame, left and right face (mm).
    pub slots_mm: Vec<[f64; 2]>,
    /// Corner brace, when there is one.
    pub brace: Option<BraceShape>,
    /// Where sticks are screwed to each other.
    pub(super) seams: Seams,
    /// Axle or hinge in the rectangle's own (s, n) (mm).
    pub(super) turn_at: [f64; 2],
    /// What holds the sticks and panels together, every fastener at its place.
    pub joints: Vec<Joint>,
    /// What it stands in or on.
    pub feet: Vec<Foot>,
    /// Every bolt that turns or is pulled, layer by layer.
    pub stacks: Vec<Stack>,
    /// The triangle of the stay.
    pub linkage: Linkage,
    /// Index of the piece that carries the hole row.
    pub row_piece: usize,
    /// From that piece's marked end to the origin of the row (mm).
    pub row_datum_mm: f64,
    /// The hole row.
    pub row: Vec<Setting>,
    /// Bolt the frame turns on.
    pub bolt: &'static Bolt,
    /// Bolt through the stay.
    pub pin: &'static Bolt,
    /// Distance between the two turning bolts' members, middle to middle (mm).
    pub span_mm: f64,
    /// What it stands on.
    pub stands_on: StandsOn,
    /// Closest approaches.
    pub clearances: Vec<Clearance>,
    /// Remarks for the builder.
    pub notes: Vec<String>,
    /// What the layout chose where the design left it open: field and value (mm or bolt name).
    pub chosen: Vec<(&'static str, Chosen)>,
}

/// A value the layout chose.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Chosen {
    /// A length (mm).
    Length(f64),
    /// A bolt.
    Bolt(&'static str),
}

impl Frame {
    /// The sticks of a body.
    pub fn sticks_of(&self, body: Body) -> impl Iterator<Item = (usize, &Stick)> {
        self.sticks.iter().enumerate().filter(move |(_, s)| s.body == body)
    }

    /// Leftmost and rightmost of all sticks and panels of one frame (mm).
    #[must_use]
    pub fn extent_mm(&self) -> [f64; 2] {
        let all = self.sticks.iter().map(Stick::x_range).chain(self.panels.iter().map(|panel| panel.x_mm));
        all.fold([f64::INFINITY, f64::NEG_INFINITY], |[left, right], [a, b]| [left.min(a), right.max(b)])
    }

    /// The mark of a stick.
    #[must_use]
    pub fn mark(&self, stick: usize) -> &str {
        &self.pieces[self.piece_of[stick]].mark
    }

    /// The uprights that the corner braces are screwed to: stiles, or mullions where the posts take the outer corners.
    #[must_use]
    pub fn braced_role(&self) -> Option<Role> {
        const TOUCH_MM: f64 = 1.0;
        let (_, brace) = self.sticks_of(Body::Frame).find(|(_, s)| s.role == Role::CornerBrace)?;
        let end = brace.start[0] + brace.along[0] * brace.length_mm;
        let meets = |s: &Stick| s.x_range().into_iter().any(|x| (x - end).abs() < TOUCH_MM);
        let mut uprights = self.sticks_of(Body::Frame).filter(|(_, s)| matches!(s.role, Role::Stile | Role::Mullion));
        uprights.find(|(_, s)| meets(s)).map(|(_, s)| s.role)
    }

    /// What lies on a bolt, pieces with their marks: `mullion M1`.
    #[must_use]
    pub fn laid(&self, stack: &Stack, layer: &Layer) -> String {
        let Laid::Piece(role) = layer.what else { return layer.what.word().to_string() };
        let bored =
            self.pieces.iter().filter(|p| p.role == role && p.holes.iter().any(|h| h.use_.bolt() == stack.use_));
        let marks: Vec<&str> = bored.map(|piece| piece.mark.as_str()).collect();
        format!("{} {}", role.word(), marks.join(" or "))
    }

    /// A point of the ground surface (X, Z) (mm) and its slope (rad).
    #[must_use]
    pub fn surface(&self) -> (Point, f64) {
        match self.stands_on {
            StandsOn::Posts { axle_height_mm, .. } => ([0.0, -axle_height_mm], 0.0),
            StandsOn::Runners { slope_deg, hinge_above_surface_mm, .. } => {
                let (sin, cos) = slope_deg.to_radians().sin_cos();
                ([hinge_above_surface_mm * sin, -hinge_above_surface_mm * cos], slope_deg.to_radians())
            }
        }
    }

    /// The holes of one use in a piece.
    pub fn holes_of(&self, piece: usize, use_: HoleUse) -> impl Iterator<Item = &super::Hole> {
        self.pieces[piece].holes.iter().filter(move |h| h.use_ == use_)
    }

    /// Tilts really reached, lowest first, each with the index of its hole (deg).
    #[must_use]
    pub fn reached(&self) -> Vec<(f64, usize)> {
        let mut reached: Vec<_> = self.row.iter().enumerate().map(|(i, h)| (h.reached_deg, i)).collect();
        reached.sort_by(|a, b| a.0.total_cmp(&b.0));
        reached
    }
}
