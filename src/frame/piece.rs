//! Pieces as they are cut, and where each stands.

use super::{
    linkage::Point,
    vector::{cross, dot},
};
use crate::catalogue::{Bolt, Section, Shape};

/// What a piece does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Horizontal frame member.
    Rail,
    /// Horizontal member between rows of panels.
    MidRail,
    /// Outer vertical frame member.
    Stile,
    /// Inner vertical frame member, or a ply of one.
    Mullion,
    /// Member across that panels are bolted to.
    Purlin,
    /// Across a corner.
    CornerBrace,
    /// Carries the frame pin behind a stile.
    Cleat,
    /// Holds the frame at a tilt.
    Stay,
    /// Stands in the ground.
    Post,
    /// Lies on ground, roof or deck.
    Runner,
    /// Carries the hinge on a runner.
    Cheek,
}

impl Role {
    /// Letter of the part mark.
    #[must_use]
    pub fn letter(self) -> char {
        match self {
            Self::Rail | Self::MidRail => 'R',
            Self::Stile => 'S',
            Self::Mullion => 'M',
            Self::Purlin => 'U',
            Self::CornerBrace => 'B',
            Self::Cleat => 'C',
            Self::Stay => 'Y',
            Self::Post => 'P',
            Self::Runner => 'N',
            Self::Cheek => 'K',
        }
    }

    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rail => "rail",
            Self::MidRail => "mid rail",
            Self::Stile => "stile",
            Self::Mullion => "mullion",
            Self::Purlin => "purlin",
            Self::CornerBrace => "corner brace",
            Self::Cleat => "cleat",
            Self::Stay => "stay",
            Self::Post => "post",
            Self::Runner => "runner",
            Self::Cheek => "hinge cheek",
        }
    }
}

/// What a bolt or its hole is for: every list, sheet, check and file asks here for the word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoleUse {
    /// The bolt the frame turns on, at mid height.
    Axle,
    /// The bolt the frame turns on, at the low edge.
    Hinge,
    /// Stay to frame.
    FramePin,
    /// The end of the stay that does not turn with the frame: to the post or the runner. Pulled to change the tilt.
    FixedPin,
    /// One hole of the row that sets the tilts: the fixed pin stands in one of them.
    Row,
    /// Hinge cheek to runner.
    CheekBolt,
    /// Cleat to stile or mullion: a lag screw.
    CleatScrew,
    /// What holds a foot where it stands: a post to its concrete, a bracket to a runner.
    FootBolt,
}

impl HoleUse {
    /// The trade word.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Axle => "axle",
            Self::Hinge => "hinge",
            Self::FramePin => "frame pin",
            Self::FixedPin => "fixed pin",
            Self::Row => "tilt",
            Self::CheekBolt => "cheek bolt",
            Self::CleatScrew => "cleat lag screw",
            Self::FootBolt => "foot bolt",
        }
    }

    /// What the bolt through such a hole is for.
    #[must_use]
    pub fn bolt(self) -> Self {
        if self == Self::Row { Self::FixedPin } else { self }
    }

    /// Holds two pieces that never turn against each other.
    #[must_use]
    pub fn is_fast(self) -> bool {
        matches!(self, Self::CheekBolt | Self::CleatScrew | Self::FootBolt)
    }
}

/// A hole square through the thickness of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Hole {
    /// What it is for.
    pub use_: HoleUse,
    /// From the marked cut end, before rounding (mm).
    pub exact_from_end_mm: f64,
    /// From the marked cut end, on the tape (mm).
    pub from_end_mm: f64,
    /// From the gauge face across the piece (mm).
    pub gauge_mm: f64,
    /// Diameter of the hole (mm).
    pub diameter_mm: f64,
    /// Diameter of its bolt (mm).
    pub bolt_mm: f64,
    /// Tilts it holds (deg); empty but in a row.
    pub tilts_deg: Vec<f64>,
}

/// A hole on the tape.
pub(super) fn hole(use_: HoleUse, from_end_mm: f64, gauge_mm: f64, bolt: &Bolt) -> Hole {
    Hole {
        use_,
        exact_from_end_mm: from_end_mm,
        from_end_mm,
        gauge_mm,
        diameter_mm: bolt.hole_mm,
        bolt_mm: bolt.diameter_mm,
        tilts_deg: vec![],
    }
}

/// What a piece moves with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Body {
    /// Turns with the frame: coordinates (x, u, w), origin on the axle or hinge.
    Frame,
    /// Stands still: coordinates (x, X, Z), origin on the axle or hinge.
    Ground,
    /// Turns with a stay: coordinates (x, along the stay from its frame pin, across).
    Stay,
}

/// A piece at its place: a box of `length` × depth × thickness, its ends mitred, with its marked end at `start`.
#[derive(Debug, Clone, PartialEq)]
pub struct Stick {
    /// What it does.
    pub role: Role,
    /// Its section.
    pub section: &'static Section,
    /// Length between long points (mm).
    pub length_mm: f64,
    /// Angle of each end from a square cut (deg), marked end first.
    pub ends_deg: [f64; 2],
    /// Its holes.
    pub holes: Vec<Hole>,
    /// What it moves with.
    pub body: Body,
    /// On the gauge face at the marked end, in the middle of the thickness (mm).
    pub start: [f64; 3],
    /// Unit vector along the piece, from its marked end.
    pub along: [f64; 3],
    /// Unit vector across the piece, from its gauge face: the way the depth runs.
    pub across: [f64; 3],
    /// Of an angle or channel, the way the back of the leg or web with the holes faces; zero for whole sections.
    pub back: [f64; 3],
    /// Left or right of a mirrored pair, or empty.
    pub side: &'static str,
}

impl Stick {
    /// Place of a hole's centre (mm), in the coordinates of the body.
    #[must_use]
    pub fn hole_place(&self, hole: &Hole) -> [f64; 3] {
        let out = (self.section.width_mm - self.section.ply_mm()) / 2.0;
        std::array::from_fn(|i| {
            self.start[i] + self.along[i] * hole.from_end_mm + self.across[i] * hole.gauge_mm + self.back[i] * out
        })
    }

    /// The same piece with its leg or web on one face; whole sections have none.
    pub(super) fn backed(mut self, back: [f64; 3]) -> Self {
        self.back = if self.section.is_open() { back } else { [0.0; 3] };
        self
    }

    /// The eight corners (mm). The long edge lies on the gauge face; mitred ends draw the far edge in.
    #[must_use]
    pub fn corners(&self) -> [[f64; 3]; 8] {
        let half = self.section.width_mm / 2.0;
        self.corners_between([0.0, self.section.depth_mm], [-half, half])
    }

    /// Corners of the part between two distances from the gauge face, and two from the middle of the width (mm).
    fn corners_between(&self, depth: [f64; 2], width: [f64; 2]) -> [[f64; 3]; 8] {
        let (a, c) = (self.along, self.across);
        let third = cross(a, c);
        std::array::from_fn(|k| {
            let d = depth[k >> 1 & 1];
            let drawn_in = |end: usize| d * self.ends_deg[end].to_radians().tan();
            let l = if k & 1 == 0 { drawn_in(0) } else { self.length_mm - drawn_in(1) };
            let t = width[k >> 2];
            std::array::from_fn(|i| self.start[i] + a[i] * l + c[i] * d + third[i] * t)
        })
    }

    /// The corners of every wall of an angle or channel, which are hollow to bolts; of other sections those of the whole.
    pub(super) fn walls(&self) -> Vec<[[f64; 3]; 8]> {
        let section = self.section;
        let (half, wall, depth) = (section.width_mm / 2.0, section.wall_mm, section.depth_mm);
        if !section.is_open() {
            return vec![self.corners()];
        }
        // The leg or web with the holes lies on the back; an angle's other leg on the gauge face, flanges on both.
        let behind = dot(self.back, cross(self.along, self.across)) > 0.0;
        let web = if behind { [half - wall, half] } else { [-half, wall - half] };
        let mut walls = vec![self.corners_between([0.0, depth], web), self.corners_between([0.0, wall], [-half, half])];
        if matches!(section.shape, Shape::Channel { .. }) {
            walls.push(self.corners_between([depth - wall, depth], [-half, half]));
        }
        walls
    }

    /// Range across the frame that the piece takes (mm).
    #[must_use]
    pub fn x_range(&self) -> [f64; 2] {
        let xs = self.corners().map(|c| c[0]);
        [xs.into_iter().fold(f64::INFINITY, f64::min), xs.into_iter().fold(f64::NEG_INFINITY, f64::max)]
    }

    /// Outline in the side view of its body, as a convex polygon (mm).
    #[must_use]
    pub fn side_outline(&self) -> Vec<Point> {
        convex_hull(self.corners().map(|c| [c[1], c[2]]).to_vec())
    }

    /// Moves the piece (mm).
    pub(super) fn shift(&mut self, by: [f64; 3]) {
        for (at, step) in self.start.iter_mut().zip(by) {
            *at += step;
        }
    }
}

/// Equal sticks under one mark: a line of the cut list.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// Part mark: `R1`.
    pub mark: String,
    /// What it does.
    pub role: Role,
    /// Its section.
    pub section: &'static Section,
    /// Length between long points (mm).
    pub length_mm: f64,
    /// Angle of each end from a square cut (deg), marked end first.
    pub ends_deg: [f64; 2],
    /// Its holes.
    pub holes: Vec<Hole>,
    /// Pieces in one frame.
    pub quantity: usize,
    /// There are left and right ones: drill them as a pair.
    pub pair: bool,
}

/// Gathers equal sticks under marks; returns the pieces and, for every stick, the index of its piece.
pub(super) fn gather(sticks: &[Stick]) -> (Vec<Piece>, Vec<usize>) {
    const SAME_MM: f64 = 0.01;
    let same = |piece: &Piece, stick: &Stick| {
        piece.role == stick.role
            && piece.section.name == stick.section.name
            && (piece.length_mm - stick.length_mm).abs() < SAME_MM
            && piece.ends_deg == stick.ends_deg
            && piece.holes == stick.holes
    };
    let mut pieces: Vec<Piece> = Vec::new();
    let mut of_stick = Vec::with_capacity(sticks.len());
    for stick in sticks {
        let index = pieces.iter().position(|piece| same(piece, stick)).unwrap_or_else(|| {
            let letter = stick.role.letter();
            let number = pieces.iter().filter(|p| p.role.letter() == letter).count() + 1;
            pieces.push(Piece {
                mark: format!("{letter}{number}"),
                role: stick.role,
                section: stick.section,
                length_mm: stick.length_mm,
                ends_deg: stick.ends_deg,
                holes: stick.holes.clone(),
                quantity: 0,
                pair: false,
            });
            pieces.len() - 1
        });
        pieces[index].quantity += 1;
        pieces[index].pair |= !stick.side.is_empty() && !stick.holes.is_empty();
        of_stick.push(index);
    }
    (pieces, of_stick)
}

/// Convex hull, counter-clockwise (Andrew's monotone chain).
pub(super) fn convex_hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
    points.dedup_by(|a, b| (a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9);
    if points.len() < 3 {
        return points;
    }
    let turn = |o: Point, a: Point, b: Point| (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
    let chain = |points: &mut dyn Iterator<Item = Point>| {
        let mut hull: Vec<Point> = Vec::new();
        for p in points {
            while hull.len() >= 2 && turn(hull[hull.len() - 2], hull[hull.len() - 1], p) <= 0.0 {
                hull.pop();
            }
            hull.push(p);
        }
        hull.pop();
        hull
    };
    let mut hull = chain(&mut points.iter().copied());
    hull.extend(chain(&mut points.iter().rev().copied()));
    hull
}
