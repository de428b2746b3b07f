//! The frame itself: rails, stiles, mullions, purlins and corner braces round the panels.
//!
//! Until the axle or hinge is known, pieces stand in (x, s, n): x across from the middle, s up the slope from the low
//! edge, n out of the face of the members.

use super::{
    clearance::LEAST_ROOM_MM,
    columns::{Across, Course, Edge, Misfit, Wanted},
    distance,
    panel::{PanelPlace, panel_bolt},
    piece::{Body, Role, Stick},
    refusal::Refusal,
};
use crate::{
    catalogue::Section,
    design::{Base, Design, Orientation, Placement, Seating},
    quantities::{Tape, to_deg, to_mm},
};

/// Room kept between a corner brace and the back of a panel: thickness of a clip's leg and a little air (mm).
/// Judgement.
const CLIP_ROOM_MM: f64 = 6.0;

/// An opening between members.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bay {
    /// Left and right face (mm).
    pub x_mm: [f64; 2],
    /// Low and high face (mm), u once the frame hangs on its axle.
    pub u_mm: [f64; 2],
}

/// A corner brace, worked out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BraceShape {
    /// From the inner corner to the long point on the rail (mm).
    pub leg_rail_mm: f64,
    /// From the inner corner to the long point on the stile (mm).
    pub leg_stile_mm: f64,
    /// Between long points (mm).
    pub long_mm: f64,
    /// Between short points (mm).
    pub short_mm: f64,
    /// Cut at the rail, from a square cut (deg).
    pub cut_rail_deg: f64,
    /// Cut at the stile, from a square cut (deg).
    pub cut_stile_deg: f64,
    /// Face width of the brace (mm).
    pub width_mm: f64,
}

impl BraceShape {
    /// A brace of a face width that meets the rail at an angle, with its long point a leg away from the inner corner.
    ///
    /// ```text
    ///  stile                     legs a (rail) and b = a tan θ (stile), long edge √(a² + b²) = a / cos θ
    ///   |\                       the ends lie flat on rail and stile, so from a square cut they are
    ///  b| \ long edge            90° − θ at the rail and θ at the stile, and the short edge is
    ///   |__\ θ                   long − width (cot θ + tan θ)
    ///    a   rail
    /// ```
    #[must_use]
    pub fn new(leg_mm: f64, angle_deg: f64, width_mm: f64) -> Self {
        let theta = angle_deg.to_radians();
        let long_mm = leg_mm / theta.cos();
        Self {
            leg_rail_mm: leg_mm,
            leg_stile_mm: leg_mm * theta.tan(),
            long_mm,
            short_mm: long_mm - width_mm * (1.0 / theta.tan() + theta.tan()),
            cut_rail_deg: 90.0 - angle_deg,
            cut_stile_deg: angle_deg,
            width_mm,
        }
    }

    /// The least leg that leaves some short edge (mm).
    #[must_use]
    pub fn least_leg_mm(angle_deg: f64, width_mm: f64) -> f64 {
        let theta = angle_deg.to_radians();
        width_mm * (1.0 / theta.tan() + theta.tan()) * theta.cos()
    }
}

/// The frame before it hangs on anything.
#[derive(Debug, Clone)]
pub(super) struct Rectangle {
    pub(super) width_mm: f64,
    pub(super) length_mm: f64,
    pub(super) depth_mm: f64,
    pub(super) sticks: Vec<Stick>,
    pub(super) panels: Vec<PanelPlace>,
    pub(super) bays: Vec<Bay>,
    pub(super) slots: Vec<[f64; 2]>,
    pub(super) brace: Option<BraceShape>,
    /// Index of the sticks that carry axle or hinge, and their slot.
    pub(super) carriers: Vec<(usize, Option<usize>)>,
    pub(super) seams: Seams,
}

/// Where sticks of the rectangle are screwed to each other.
#[derive(Debug, Clone, Default)]
pub(super) struct Seams {
    /// Ends of sticks that stand against the side of another.
    pub(super) butts: Vec<Butt>,
    /// Neighbouring plies of built-up members.
    pub(super) plies: Vec<[usize; 2]>,
    /// Corner braces, each with the rail and the upright it stands between.
    pub(super) braced: Vec<Braced>,
}

/// The end of one stick against the side of another.
#[derive(Debug, Clone, Copy)]
pub(super) struct Butt {
    /// The stick that ends here.
    pub(super) stick: usize,
    /// Its marked end (0) or the other one (1).
    pub(super) end: usize,
    /// The stick that runs past.
    pub(super) against: usize,
}

/// A corner brace between rail and upright.
#[derive(Debug, Clone, Copy)]
pub(super) struct Braced {
    pub(super) brace: usize,
    pub(super) rail: usize,
    pub(super) upright: usize,
    /// Inner corner between rail and upright, in (x, s) (mm).
    pub(super) corner: [f64; 2],
    /// From the corner along the rail, and along the upright: signs.
    pub(super) towards: [f64; 2],
}

/// Lays out the frame; `slot_mm` is the width of a slot for a post inside it.
pub(super) fn build(design: &Design, tape: Tape, slot_mm: f64) -> Result<Rectangle, Refusal> {
    let spec = &design.frame;
    let (panel_x, panel_s) = match design.array.orientation {
        Orientation::Portrait => (to_mm(design.panel.short_side), to_mm(design.panel.long_side)),
        Orientation::Landscape => (to_mm(design.panel.long_side), to_mm(design.panel.short_side)),
    };
    let (edge_x, edge_s) = match spec.seating {
        Seating::Lapped { lap } => (Edge::Lapped(to_mm(lap)), Edge::Lapped(to_mm(lap))),
        Seating::Inset { side_clearance, end_clearance, .. } => {
            (Edge::Inset(to_mm(side_clearance)), Edge::Inset(to_mm(end_clearance)))
        }
        Seating::OnPurlins { .. } => (Edge::Over(beyond_panels_mm(design, panel_x, tape)), Edge::Over(0.0)),
    };
    let gap_mm = to_mm(design.array.gap);
    let columns = Wanted {
        panels: design.array.columns,
        panel_mm: panel_x,
        gap_mm,
        edge: edge_x,
        outer_mm: spec.stile.width_mm,
        inner_mm: spec.mullion.width_mm,
        plies: spec.mullion_plies,
        slots_after: slots(design)?,
        slot_mm,
        outside_mm: spec.outside_width.map(to_mm),
    };
    let rows = Wanted {
        panels: design.array.rows,
        panel_mm: panel_s,
        edge: edge_s,
        outer_mm: spec.rail.width_mm,
        inner_mm: spec.rail.width_mm,
        slots_after: vec![],
        slot_mm: 0.0,
        outside_mm: spec.outside_length.map(to_mm),
        ..columns.clone()
    };
    let across = columns.lay_out(tape).map_err(|m| refusal(m, "frame.outside_width"))?;
    let up = rows.lay_out(tape).map_err(|m| refusal(m, "frame.outside_length"))?;
    Builder { design, across: &across, up: &up }.build()
}

fn refusal(misfit: Misfit, field: &'static str) -> Refusal {
    match misfit {
        Misfit::InnerTooThin { found_mm, needed_mm } => Refusal::MullionTooThin { found_mm, needed_mm },
        Misfit::OutsideTooSmall { given_mm, needed_mm } => Refusal::PanelsDoNotFit { field, given_mm, needed_mm },
        Misfit::OutsideTooLarge { given_mm, needed_mm } => Refusal::FrameTooLarge { field, given_mm, needed_mm },
    }
}

/// How far the stiles stand out beyond panels on purlins, so that heads and washers of the outermost panel bolts clear
/// them (mm).
fn beyond_panels_mm(design: &Design, panel_mm: f64, tape: Tape) -> f64 {
    let Some(holes) = design.panel.mounting_holes else { return 0.0 };
    let pitch = to_mm(match design.array.orientation {
        Orientation::Portrait => holes.across,
        Orientation::Landscape => holes.along_long_side,
    });
    let from_edge_mm = (panel_mm - pitch) / 2.0;
    let round_mm = panel_bolt(&holes).map_or(0.0, distance::round_mm) + LEAST_ROOM_MM;
    let stands_out = design.frame.stile.width_mm + round_mm - from_edge_mm;
    if from_edge_mm - round_mm >= design.frame.stile.width_mm { 0.0 } else { tape.at_least_mm(stands_out) }
}

/// After which columns the two slots come: about the quarter points, so that the frame balances on its posts.
fn slots(design: &Design) -> Result<Vec<usize>, Refusal> {
    let Base::Posts(posts) = &design.support.base else { return Ok(vec![]) };
    if posts.placement == Placement::Outside {
        return Ok(vec![]);
    }
    let columns = design.array.columns;
    match &posts.slots_after_columns {
        None => {
            let near = columns / 4;
            Ok(if columns == 3 { vec![1, 2] } else { vec![near, columns - near] })
        }
        Some(after) => {
            let mut after = after.clone();
            after.sort_unstable();
            let fits = after.len() == 2 && after[0] < after[1] && after[1] <= columns;
            if fits { Ok(after) } else { Err(Refusal::BadSlots { panels: columns }) }
        }
    }
}

struct Builder<'a> {
    design: &'a Design,
    across: &'a Course,
    up: &'a Course,
}

impl Builder<'_> {
    fn build(&self) -> Result<Rectangle, Refusal> {
        let spec = &self.design.frame;
        let mut sticks = Vec::new();
        let mut carriers = Vec::new();
        self.uprights(&mut sticks, &mut carriers);
        self.rails(&mut sticks);
        self.mid_rails(&mut sticks);
        self.purlins(&mut sticks);
        let bays = self.bays();
        let butts = self.butts(&sticks);
        let (brace, braced) = self.braces(&mut sticks, &bays)?;
        Ok(Rectangle {
            seams: Seams { butts, plies: self.plies(&sticks), braced },
            width_mm: self.across.total_mm,
            length_mm: self.up.total_mm,
            depth_mm: spec.stile.depth_mm.max(spec.rail.depth_mm),
            sticks,
            panels: self.panels(),
            bays,
            slots: self.across.slots.iter().map(|s| s.map(|x| x - self.across.total_mm / 2.0)).collect(),
            brace,
            carriers,
        })
    }

    /// Rails run through where they must cross slots; elsewhere the stiles do, and stand free for axle and hinge.
    fn rails_through(&self) -> bool {
        !self.across.slots.is_empty()
    }

    fn x(&self, from_left: f64) -> f64 {
        from_left - self.across.total_mm / 2.0
    }

    fn side(&self, x: f64) -> &'static str {
        if x < -1e-6 {
            "left"
        } else if x > 1e-6 {
            "right"
        } else {
            ""
        }
    }

    fn uprights(&self, sticks: &mut Vec<Stick>, carriers: &mut Vec<(usize, Option<usize>)>) {
        let spec = &self.design.frame;
        let rail = spec.rail.width_mm;
        let has_slots = !self.across.slots.is_empty();
        for member in &self.across.members {
            let (role, section) = if member.outer { (Role::Stile, spec.stile) } else { (Role::Mullion, spec.mullion) };
            let between_rails = self.rails_through() || !member.outer;
            let start_s = if between_rails { rail } else { 0.0 };
            let x = self.x(member.from_mm + member.thick_mm / 2.0);
            if (has_slots && member.slot.is_some()) || (!has_slots && member.outer) {
                carriers.push((sticks.len(), member.slot));
            }
            let stick = Stick {
                role,
                section,
                length_mm: self.up.total_mm - 2.0 * start_s,
                ends_deg: [0.0; 2],
                holes: vec![],
                body: Body::Frame,
                start: [x, start_s, 0.0],
                along: [0.0, 1.0, 0.0],
                across: [0.0, 0.0, -1.0],
                back: [0.0; 3],
                side: self.side(x),
            };
            sticks.push(stick.backed([self.back_of(member, x), 0.0, 0.0]));
        }
    }

    /// Angles and channels turn their back to the slot they stand beside, else outward, where stay and post come.
    fn back_of(&self, member: &Across, x: f64) -> f64 {
        let towards = member.slot.map_or(x, |slot| {
            let [from, to] = self.across.slots[slot];
            self.x((from + to) / 2.0) - x
        });
        if towards < 0.0 { -1.0 } else { 1.0 }
    }

    fn rails(&self, sticks: &mut Vec<Stick>) {
        let spec = &self.design.frame;
        let inset = if self.rails_through() { 0.0 } else { spec.stile.width_mm };
        let thick = spec.rail.width_mm;
        for (s, out) in [(thick / 2.0, -1.0), (self.up.total_mm - thick / 2.0, 1.0)] {
            let rail = self.cross_piece(Role::Rail, spec.rail, [inset, self.across.total_mm - inset], s);
            sticks.push(rail.backed([0.0, out, 0.0]));
        }
    }

    fn cross_piece(&self, role: Role, section: &'static Section, x: [f64; 2], s: f64) -> Stick {
        Stick {
            role,
            section,
            length_mm: x[1] - x[0],
            ends_deg: [0.0; 2],
            holes: vec![],
            body: Body::Frame,
            start: [self.x(x[0]), s, 0.0],
            along: [1.0, 0.0, 0.0],
            across: [0.0, 0.0, -1.0],
            back: [0.0; 3],
            side: "",
        }
    }

    /// Short rails between rows of panels, one in every bay, never through a slot.
    fn mid_rails(&self, sticks: &mut Vec<Stick>) {
        let rail = self.design.frame.rail;
        for member in self.up.members.iter().filter(|m: &&Across| !m.outer) {
            for bay in &self.across.bays {
                let piece = self.cross_piece(Role::MidRail, rail, *bay, member.from_mm + member.thick_mm / 2.0);
                sticks.push(piece.backed([0.0, -1.0, 0.0]));
            }
        }
    }

    fn purlins(&self, sticks: &mut Vec<Stick>) {
        let (Seating::OnPurlins { purlin }, Some(holes)) =
            (self.design.frame.seating, self.design.panel.mounting_holes)
        else {
            return;
        };
        let pitch = to_mm(match self.design.array.orientation {
            Orientation::Portrait => holes.along_long_side,
            Orientation::Landscape => holes.across,
        });
        for panel in &self.up.panels {
            let middle = (panel[0] + panel[1]) / 2.0;
            for s in [middle - pitch / 2.0, middle + pitch / 2.0] {
                let stick = Stick {
                    role: Role::Purlin,
                    section: purlin,
                    length_mm: self.across.total_mm,
                    ends_deg: [0.0; 2],
                    holes: vec![],
                    body: Body::Frame,
                    start: [self.x(0.0), s - purlin.depth_mm / 2.0, purlin.width_mm / 2.0],
                    along: [1.0, 0.0, 0.0],
                    across: [0.0, 1.0, 0.0],
                    back: [0.0; 3],
                    side: "",
                };
                // The flat leg lies on the uprights.
                sticks.push(stick.backed([0.0, 0.0, -1.0]));
            }
        }
    }

    fn panel_back_mm(&self) -> f64 {
        match self.design.frame.seating {
            Seating::Lapped { .. } => 0.0,
            Seating::Inset { proud, .. } => to_mm(proud) - to_mm(self.design.panel.thickness),
            Seating::OnPurlins { purlin } => purlin.width_mm,
        }
    }

    fn panels(&self) -> Vec<PanelPlace> {
        let back = self.panel_back_mm();
        let w_mm = [back, back + to_mm(self.design.panel.thickness)];
        let rows = &self.up.panels;
        rows.iter()
            .flat_map(|s| self.across.panels.iter().map(move |x| (x, s)))
            .map(|(x, s)| PanelPlace { x_mm: x.map(|x| self.x(x)), u_mm: *s, w_mm })
            .collect()
    }

    fn bays(&self) -> Vec<Bay> {
        self.up
            .bays
            .iter()
            .flat_map(|s| self.across.bays.iter().map(move |x| (x, s)))
            .map(|(x, s)| Bay { x_mm: x.map(|x| self.x(x)), u_mm: *s })
            .collect()
    }

    /// Uprights come first among the sticks, then the two rails, then mid rails bay by bay: what ends against what follows
    /// from the order they were placed in.
    fn butts(&self, sticks: &[Stick]) -> Vec<Butt> {
        let uprights = self.across.members.len();
        let (low, high) = (uprights, uprights + 1);
        let ends = |stick: usize, against: [usize; 2]| {
            against.into_iter().enumerate().map(move |(end, against)| Butt { stick, end, against })
        };
        let between_rails = (0..uprights).filter(|&i| self.rails_through() || !self.across.members[i].outer);
        let mut butts: Vec<Butt> = between_rails.flat_map(|i| ends(i, [low, high])).collect();
        if !self.rails_through() {
            for rail in [low, high] {
                butts.extend(ends(rail, [0, uprights - 1]));
            }
        }
        for (i, stick) in sticks.iter().enumerate().filter(|(_, stick)| stick.role == Role::MidRail) {
            let faces = [stick.start[0], stick.start[0] + stick.length_mm];
            if let [Some(left), Some(right)] = [self.upright_at(faces[0], 1.0), self.upright_at(faces[1], -1.0)] {
                butts.extend(ends(i, [left, right]));
            }
        }
        butts
    }

    /// The upright with a face at x, the face turned right (1) or left (−1).
    fn upright_at(&self, x: f64, faces: f64) -> Option<usize> {
        const SAME_MM: f64 = 0.01;
        self.across.members.iter().position(|member| {
            let face = self.x(if faces > 0.0 { member.from_mm + member.thick_mm } else { member.from_mm });
            (face - x).abs() < SAME_MM
        })
    }

    /// Members that touch and stand on the same side of every slot are plies of one.
    fn plies(&self, sticks: &[Stick]) -> Vec<[usize; 2]> {
        const TOUCH_MM: f64 = 0.01;
        let mid_rails = || sticks.iter().enumerate().filter(|(_, stick)| stick.role == Role::MidRail);
        let lie_together = |low: &Stick, high: &Stick| {
            let apart = high.start[1] - low.start[1] - low.section.width_mm;
            apart.abs() < TOUCH_MM && (high.start[0] - low.start[0]).abs() < TOUCH_MM
        };
        let mid_rails = mid_rails().flat_map(|(i, low)| {
            mid_rails().filter(move |(_, high)| lie_together(low, high)).map(move |(j, _)| [i, j])
        });
        let members = &self.across.members;
        (1..members.len())
            .filter(|&i| (members[i].from_mm - members[i - 1].from_mm - members[i - 1].thick_mm).abs() < TOUCH_MM)
            .map(|i| [i - 1, i])
            .chain(mid_rails)
            .collect()
    }

    /// One brace in each outer corner of the frame, laid flat at the back.
    fn braces(&self, sticks: &mut Vec<Stick>, bays: &[Bay]) -> Result<(Option<BraceShape>, Vec<Braced>), Refusal> {
        let spec = &self.design.frame;
        let Some(wanted) = spec.brace else { return Ok((None, vec![])) };
        let mut braced = Vec::new();
        let shape = BraceShape::new(to_mm(wanted.leg), to_deg(wanted.angle), wanted.section.depth_mm);
        if shape.short_mm < 1.0 {
            let needed_mm = BraceShape::least_leg_mm(to_deg(wanted.angle), shape.width_mm);
            return Err(Refusal::BraceTooShort { needed_mm, leg_mm: shape.leg_rail_mm });
        }
        let back = spec.rail.depth_mm.min(spec.stile.depth_mm);
        let front = -back + wanted.section.width_mm;
        let room = self.panel_back_mm() - CLIP_ROOM_MM;
        if matches!(spec.seating, Seating::Inset { .. }) && front > room {
            return Err(Refusal::BraceFoulsPanel { overlap_mm: front - room });
        }
        let n = -back + wanted.section.width_mm / 2.0;
        let (left, right) = (bays.first(), bays.last());
        let (Some(low), Some(high)) = (left, right) else { return Ok((None, vec![])) };
        for (corner_x, corner_s, to_x, to_s, side) in [
            (low.x_mm[0], low.u_mm[0], 1.0, 1.0, "left"),
            (high.x_mm[1], low.u_mm[0], -1.0, 1.0, "right"),
            (low.x_mm[0], high.u_mm[1], 1.0, -1.0, "left"),
            (high.x_mm[1], high.u_mm[1], -1.0, -1.0, "right"),
        ] {
            // Where one bay fills the frame, the braces of two corners share it.
            let room = |from_mm: f64, to_mm: f64, bays: usize| (to_mm - from_mm) / if bays == 1 { 2.0 } else { 1.0 };
            for (reach, room_mm) in [
                (shape.leg_rail_mm, room(low.x_mm[0], low.x_mm[1], self.across.bays.len())),
                (shape.leg_stile_mm, room(low.u_mm[0], low.u_mm[1], self.up.bays.len())),
            ] {
                if reach > room_mm {
                    return Err(Refusal::BraceTooLong { needed_mm: reach, room_mm });
                }
            }
            let along = [-to_x * shape.leg_rail_mm / shape.long_mm, to_s * shape.leg_stile_mm / shape.long_mm, 0.0];
            // Across points from the long edge to the corner.
            let across = [-to_x * shape.leg_stile_mm / shape.long_mm, -to_s * shape.leg_rail_mm / shape.long_mm, 0.0];
            let stick = Stick {
                role: Role::CornerBrace,
                section: wanted.section,
                length_mm: shape.long_mm,
                ends_deg: [shape.cut_rail_deg, shape.cut_stile_deg],
                holes: vec![],
                body: Body::Frame,
                start: [corner_x + to_x * shape.leg_rail_mm, corner_s, n],
                along,
                across,
                back: [0.0; 3],
                side,
            };
            let uprights = self.across.members.len();
            if let Some(upright) = self.upright_at(corner_x, to_x) {
                braced.push(Braced {
                    brace: sticks.len(),
                    rail: if to_s > 0.0 { uprights } else { uprights + 1 },
                    upright,
                    corner: [corner_x, corner_s],
                    towards: [to_x, to_s],
                });
            }
            // The flat leg lies against the back of rail and stile's inner faces, flush with their backs.
            sticks.push(stick.backed([0.0, 0.0, -1.0]));
        }
        Ok((Some(shape), braced))
    }
}
