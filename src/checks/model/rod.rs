//! A stick as a line: its centroid axis in the axes of the model, the nodes along it, and its segments.

use crate::{
    analysis::{EndJoint, MemberId, NodeId},
    catalogue::Section,
    frame::{
        Body, Hole, Role, Stick,
        vector::{At, cross, dot, minus, plus, scaled},
    },
};

/// A stick of the frame on its centroid axis.
#[derive(Debug, Clone)]
pub struct Rod {
    /// `S1a`: the part mark and which of its pieces.
    pub name: String,
    /// The part mark.
    pub mark: String,
    /// What it does.
    pub role: Role,
    /// What it moves with.
    pub body: Body,
    /// Section.
    pub section: &'static Section,
    /// Centroid of the marked end (mm).
    pub start: At,
    /// From its axis to the line its nodes stand on (mm): nothing but for what lies on a surface, whose nodes stand there.
    pub seat: At,
    /// Along the stick.
    pub along: At,
    /// The way the depth runs, from the gauge face.
    pub across: At,
    /// Of an angle or channel, the way the back of the leg or web with the holes faces; zero for whole sections.
    pub back: At,
    /// Length (mm).
    pub length_mm: f64,
    /// Its holes.
    pub holes: Vec<Hole>,
    /// Places of nodes along it (mm), sorted.
    pub nodes: Vec<(f64, NodeId)>,
    /// Ends that meet another stick.
    pub(super) ties: [Option<EndTie>; 2],
    /// Its members, once made.
    pub segments: Vec<Segment>,
    /// Left or right.
    pub side: &'static str,
    /// Does it stand in wet ground, or the whole frame in wet service?
    pub wet: bool,
}

/// An end held at a node of another stick.
#[derive(Debug, Clone, Copy)]
pub(super) struct EndTie {
    pub(super) node: NodeId,
    pub(super) joint: EndJoint,
}

/// One member between two nodes of a rod.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// The member.
    pub member: MemberId,
    /// From the marked end (mm).
    pub from_mm: f64,
    /// To (mm).
    pub to_mm: f64,
}

impl Rod {
    /// A stick in the axes of the model at a tilt (rad).
    pub(super) fn new(stick: &Stick, mark: &str, name: String, tilt_rad: f64, wet: bool) -> Self {
        let (sin, cos) = tilt_rad.sin_cos();
        let turn = |v: At| match stick.body {
            Body::Frame => [v[0], v[1] * cos - v[2] * sin, v[1] * sin + v[2] * cos],
            Body::Ground | Body::Stay => v,
        };
        let (along, across, back) = (turn(stick.along), turn(stick.across), turn(stick.back));
        let [from_face, from_back] = stick.section.centroid_at_mm();
        let to_axis = plus(scaled(across, from_face), scaled(back, stick.section.width_mm / 2.0 - from_back));
        Self {
            name,
            mark: mark.to_string(),
            role: stick.role,
            body: stick.body,
            section: stick.section,
            start: plus(turn(stick.start), to_axis),
            seat: [0.0; 3],
            along,
            across,
            back,
            length_mm: stick.length_mm,
            holes: stick.holes.clone(),
            nodes: Vec::new(),
            ties: [None, None],
            segments: Vec::new(),
            side: stick.side,
            wet,
        }
    }

    /// Stands its nodes on the side away from the gauge face, where the surface is that it lies on.
    pub(super) fn seat_on_surface(&mut self) {
        self.seat = scaled(self.across, self.section.depth_mm - self.section.centroid_at_mm()[0]);
    }

    /// A point of the axis (mm).
    #[must_use]
    pub fn at(&self, from_end_mm: f64) -> At {
        plus(self.start, scaled(self.along, from_end_mm))
    }

    /// Distance of the foot of a point along the axis (mm).
    #[must_use]
    pub fn foot(&self, point: At) -> f64 {
        dot(minus(point, self.start), self.along)
    }

    /// Third direction, the way the thickness runs.
    #[must_use]
    pub fn third(&self) -> At {
        cross(self.along, self.across)
    }

    /// From the axis to the middle of what a bolt passes: the leg or web of an angle or channel, else nothing (mm).
    #[must_use]
    pub fn to_ply(&self) -> At {
        scaled(self.back, self.section.centroid_at_mm()[1] - self.section.ply_mm() / 2.0)
    }

    /// Centre of a hole (mm).
    #[must_use]
    pub fn hole_at(&self, hole: &Hole) -> At {
        let across = hole.gauge_mm - self.section.centroid_at_mm()[0];
        plus(plus(self.at(hole.from_end_mm), scaled(self.across, across)), self.to_ply())
    }

    /// Width it shows to a direction (mm).
    #[must_use]
    pub fn shown_mm(&self, direction: At) -> f64 {
        dot(self.third(), direction).abs() * self.section.depth_mm
            + dot(self.across, direction).abs() * self.section.width_mm
    }

    /// A member of the outer frame or inside it.
    #[must_use]
    pub fn is_upright(&self) -> bool {
        matches!(self.role, Role::Stile | Role::Mullion)
    }

    /// Does its end (0 the marked one) butt against another stick?
    #[must_use]
    pub fn is_tied(&self, end: usize) -> bool {
        self.ties[end].is_some()
    }

    /// A rail.
    #[must_use]
    pub fn is_rail(&self) -> bool {
        matches!(self.role, Role::Rail | Role::MidRail)
    }
}
