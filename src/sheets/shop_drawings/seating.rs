//! How the panels sit: two cuts through the edge of the frame and one through a member between panels, at half size.

use super::drafter::{Drafter, draw_to_fit, paragraph};
use crate::{
    catalogue::{Family, Shape},
    design::Seating,
    frame::{Body, FastenerKind, JointUse, PanelPlace, Role, Stick},
    quantities::{length_both, mm, to_mm},
    sheets::{
        dimension::{Labels, Side, Stack, leader},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize},
        view::{Scale, View},
    },
    shop::clip_mm,
};

/// Shown each way from the spot a detail is about, when nothing asks for more (mm).
const REACH_MM: f64 = 85.0;

/// Leg of a clip, its thickness (mm): the angle on the hardware list, common practice, no source.
const CLIP_LEG_MM: f64 = 38.1;
const CLIP_THICK_MM: f64 = 3.2;
/// From the member's face to the bolt in the panel's own hole (mm): only drawn, the maker's drawing says where it is.
const HOLE_FROM_FACE_MM: f64 = 24.0;
/// The screw: under the panel's back, its length, half its thickness, height of its head (mm).
const SCREW_UNDER_MM: f64 = 24.0;
const SCREW_MM: f64 = 38.1;
const SCREW_HALF_MM: f64 = 2.7;
const SCREW_HEAD_MM: f64 = 2.5;

/// An angle clip between a member and a panel, cut across.
#[derive(Debug, Clone, Copy)]
struct Clip {
    /// The member's face along the cut (mm).
    face: f64,
    /// +1 when the panel lies at greater values, else -1.
    inwards: f64,
    /// Back of the panel (mm).
    back_w: f64,
    /// How far the screw goes into the member (mm).
    into: f64,
    /// From the member's face to the bolt, leg, and screw under the panel's back (mm).
    hole: f64,
    leg: f64,
    under: f64,
}

impl Clip {
    /// A place so far from the member's face towards the panel, and over the panel's back (mm).
    fn at(&self, from_face: f64, over_back: f64) -> World {
        World::new(self.face + self.inwards * from_face, self.back_w + over_back)
    }

    fn draw(&self, view: &View) -> Group {
        let (leg, thick) = (self.leg, CLIP_THICK_MM);
        let at = |from_face: f64, over_back: f64| view.at(self.at(from_face, over_back));
        let angle =
            vec![at(0.0, 0.0), at(leg, 0.0), at(leg, -thick), at(thick, -thick), at(thick, -leg), at(0.0, -leg)];
        let shank = |from: f64, to: f64, half: f64| {
            let (low, high) = (-self.under - half, -self.under + half);
            Mark::filled(vec![at(from, low), at(to, low), at(to, high), at(from, high)], Pen::Dimension, Fill::Paper)
        };
        let hole = [at(self.hole, 10.0), at(self.hole, -14.0)];
        Group::new("clip")
            .with([shank(thick, -self.into, SCREW_HALF_MM), shank(thick, thick + SCREW_HEAD_MM, 2.0 * SCREW_HALF_MM)])
            .with([Mark::filled(angle, Pen::Visible, Fill::Ink), Mark::line(hole[0], hole[1], Pen::Centre)])
    }
}

/// A cut through the frame: what runs along it, and where it is made.
#[derive(Debug, Clone, Copy)]
struct Cut {
    title: &'static str,
    /// Axis of frame coordinates that runs across the detail: 0 across the frame, 1 up the slope.
    axis: usize,
    /// Place of the cutting plane on the other axis (mm).
    plane: f64,
    /// What the detail is about, along the axis (mm).
    spot: f64,
    /// Shown each way from there (mm).
    reach: f64,
}

impl Drafter<'_> {
    /// The seating details; nothing for a frame without panels.
    pub(super) fn seating(&self) -> Vec<Sheet> {
        let cuts = self.cuts();
        if cuts.is_empty() {
            return vec![];
        }
        let page = Page::portrait(self.paper);
        let window = page.window();
        let (heading, foot) = paragraph(&self.seating_words(), window, TextSize::Small);
        let room = Rect { top: foot + 4.0, ..window };
        // One scale for all details, at which each fits under the words; half size shows all there is to see.
        let half = Scale::preferred().nth(1).unwrap_or(Scale::FULL);
        let scale =
            cuts.iter().map(|cut| draw_to_fit(room, |view| self.detail(cut, view.scale())).0).fold(half, Scale::max);
        let mut pages: Vec<Vec<Mark>> = vec![heading];
        let mut top = room.top;
        for cut in &cuts {
            let marks = self.detail(cut, scale);
            let Some(size) = bounds(&marks) else { continue };
            if top + size.height() > window.bottom {
                pages.push(vec![]);
                top = window.top;
            }
            let (dx, dy) = (window.centre().x - size.centre().x, top - size.top);
            pages.last_mut().into_iter().for_each(|page| page.extend(marks.iter().map(|mark| mark.moved(dx, dy))));
            top += size.height() + GAP;
        }
        let count = pages.len();
        let sheet = |(n, marks): (usize, Vec<Mark>)| {
            let (slug, title) = match count {
                1 => ("seating".to_string(), "Panel seating".to_string()),
                _ => (format!("seating-{}", n + 1), format!("Panel seating ({} of {count})", n + 1)),
            };
            self.sheet(&slug, &title, page).at_scale(SheetScale::One(scale)).with(marks)
        };
        pages.into_iter().enumerate().map(sheet).collect()
    }

    fn seating_words(&self) -> String {
        let how = match self.design.frame.seating {
            Seating::Lapped { lap } => format!("Panel edges lie on the members by {}.", self.fine(to_mm(lap))),
            Seating::Inset { side_clearance, end_clearance, .. } => format!(
                "Panels drop in on clips, {} clear at the sides and {} at the ends.",
                self.fine(to_mm(side_clearance)),
                self.fine(to_mm(end_clearance))
            ),
            Seating::OnPurlins { .. } => "Panels are bolted to the purlins at their own mounting holes.".to_string(),
        };
        let tolerance = self.fine(to_mm(self.design.panel.size_tolerance));
        format!(
            "{how}{} Sizes are nominal; a panel may differ from its size by {tolerance}. Measure a panel before cutting. Leave air behind the \
             panels and a way for water; never drill a panel's own frame. Hold panels only where their data sheet allows it.",
            self.how_clips_hold(),
        )
    }

    /// At the left edge, at the low edge, and between the first two panels of a row when there are two.
    fn cuts(&self) -> Vec<Cut> {
        let panels = &self.frame.panels;
        let Some(first) = panels.first() else { return vec![] };
        let middle = |range: [f64; 2]| 0.5 * (range[0] + range[1]);
        let (u, x) = (middle(first.u_mm), middle(first.x_mm));
        let mut cuts = vec![
            Cut { title: "Cut across at the left edge", axis: 0, plane: u, spot: first.x_mm[0], reach: REACH_MM },
            Cut { title: "Cut up the slope at the low edge", axis: 1, plane: x, spot: first.u_mm[0], reach: REACH_MM },
        ];
        let beside =
            |panel: &&PanelPlace| (panel.u_mm[0] - first.u_mm[0]).abs() < 1.0 && panel.x_mm[0] > first.x_mm[1] - 1.0;
        if let Some(next) = panels.iter().filter(beside).min_by(|a, b| a.x_mm[0].total_cmp(&b.x_mm[0])) {
            let spot = 0.5 * (first.x_mm[1] + next.x_mm[0]);
            cuts.push(Cut {
                title: "Cut across between two panels",
                axis: 0,
                plane: u,
                spot,
                reach: REACH_MM.max(0.5 * (next.x_mm[0] - first.x_mm[1]) + 60.0),
            });
        }
        cuts
    }

    fn detail(&self, cut: &Cut, scale: Scale) -> Vec<Mark> {
        let face = self.frame.face_w_mm;
        let view = View::new(scale, World::new(cut.spot, face), Point::default());
        let highest = self.frame.panels.iter().map(|panel| panel.w_mm[1]).fold(face, f64::max) + 12.0;
        let whole = face - self.frame.depth_mm - 12.0;
        // Deep members are broken off, but not above a brace.
        let low = if self.braces_near(cut).is_empty() { whole.max(face - 1.1 * REACH_MM) } else { whole };
        let shown = Bounds { left: cut.spot - cut.reach, right: cut.spot + cut.reach, low, high: highest };
        let window = view.rect(shown);
        let mut group = Group { clip: Some(window), ..Group::new("seating") };
        // What is cut is hatched; what lies beyond the cut is drawn plain, first.
        let mut sticks: Vec<(bool, &Stick)> = self
            .frame
            .sticks_of(Body::Frame)
            .map(|(_, stick)| (is_cut(stick, cut), stick))
            .filter(|(whole, stick)| *whole || lies_beyond(stick))
            .collect();
        sticks.sort_by_key(|(whole, _)| *whole);
        for (whole, stick) in sticks {
            let outer = view.rect(end_view(stick, cut.axis)).corners();
            if whole {
                group.marks.push(Mark::filled(outer, Pen::Visible, Fill::Hatch(45.0)));
                if let Some(inside) = inside(stick, cut.axis) {
                    group.marks.push(Mark::filled(view.rect(inside).corners(), Pen::Visible, Fill::Paper));
                }
            } else {
                group.marks.push(Mark::filled(outer, Pen::Dimension, Fill::Paper));
            }
        }
        for panel in &self.frame.panels {
            let (along, other) = if cut.axis == 0 { (panel.x_mm, panel.u_mm) } else { (panel.u_mm, panel.x_mm) };
            if (other[0]..=other[1]).contains(&cut.plane) {
                let body = Bounds { left: along[0], right: along[1], low: panel.w_mm[0], high: panel.w_mm[1] };
                group.marks.push(Mark::filled(view.rect(body).corners(), Pen::Visible, Fill::Hatch(135.0)));
            }
        }
        for brace in self.braces_near(cut) {
            group.marks.push(Mark::rect(view.rect(end_view(brace, cut.axis)), Pen::Hidden));
        }
        let clips = self.clips(cut);
        for clip in &clips {
            group.marks.push(clip.draw(&view).into());
        }
        let mut marks = vec![group.into()];
        marks.extend(self.detail_sizes(cut, &view, window));
        marks.extend(self.clip_words(cut, clips.first(), &view, window, &marks));
        let heading = Point::new(window.centre().x, bounds(&marks).map_or(window.top, |size| size.top) - 2.5);
        marks.push(Text::new(cut.title, heading, TextSize::Small).bold().anchored(Anchor::Middle).into());
        marks
    }

    /// Between the edges of members and panels along the cut above, and heights over the face of the members at the right.
    fn detail_sizes(&self, cut: &Cut, view: &View, window: Rect) -> Vec<Mark> {
        let near = |value: f64| (value - cut.spot).abs() < cut.reach - 5.0;
        let mut edges: Vec<f64> = self
            .frame
            .sticks_of(Body::Frame)
            .filter(|(_, stick)| is_cut(stick, cut))
            .flat_map(|(_, stick)| {
                let seen = end_view(stick, cut.axis);
                [seen.left, seen.right]
            })
            .collect();
        for panel in &self.frame.panels {
            let (along, other) = if cut.axis == 0 { (panel.x_mm, panel.u_mm) } else { (panel.u_mm, panel.x_mm) };
            if (other[0]..=other[1]).contains(&cut.plane) {
                edges.extend(along);
            }
        }
        edges.retain(|edge| near(*edge));
        edges.sort_by(f64::total_cmp);
        edges.dedup_by(|a, b| (*a - *b).abs() < 0.3);
        let mut above = Stack::new(Side::Above, window.top).starting(4.0);
        for pair in edges.windows(2) {
            let ends = [pair[0], pair[1]].map(|edge| Point::new(view.at(World::new(edge, 0.0)).x, window.top));
            above.add(ends[0], ends[1], &self.show(pair[1] - pair[0]));
        }
        let face = self.frame.face_w_mm;
        let mut right = Stack::new(Side::Right, window.right).starting(4.0);
        if let Some(panel) = self.frame.panels.first() {
            let at = |w: f64| Point::new(window.right, view.at(World::new(0.0, w)).y);
            right.add(
                at(panel.w_mm[0]),
                at(panel.w_mm[1]),
                &format!("{} panel", self.show(panel.w_mm[1] - panel.w_mm[0])),
            );
            for (w, word) in [(panel.w_mm[1], "front over face"), (panel.w_mm[0], "back over face")] {
                let over = w - face;
                if over.abs() > 0.3 {
                    let word = if over < 0.0 { "back under face" } else { word };
                    right.add(at(face), at(w), &format!("{} {word}", self.show(over.abs())));
                }
            }
        }
        if let Some(brace) = self.braces_near(cut).first() {
            let front = end_view(brace, cut.axis).high;
            let at = |w: f64| Point::new(window.right, view.at(World::new(0.0, w)).y);
            right.add(at(face), at(front), &format!("{} face to corner brace", self.show(face - front)));
        }
        above.draw().0.into_iter().chain(right.draw().0).collect()
    }

    /// Corner braces that lie in the shown part of a cut, before or behind its plane.
    fn braces_near(&self, cut: &Cut) -> Vec<&Stick> {
        let braces = self.frame.sticks_of(Body::Frame).filter(|(_, stick)| stick.role == Role::CornerBrace);
        let shown = |stick: &&Stick| {
            let seen = end_view(stick, cut.axis);
            seen.left < cut.spot + cut.reach && seen.right > cut.spot - cut.reach
        };
        braces.map(|(_, stick)| stick).filter(shown).collect()
    }

    /// Axis across the sides of the panels that clips hold: the long sides, or the short ones when no member lies along the long ones.
    fn clip_axis(&self) -> Option<usize> {
        let first = self.frame.panels.first()?;
        if matches!(self.design.frame.seating, Seating::OnPurlins { .. }) {
            return None;
        }
        let length = |range: [f64; 2]| range[1] - range[0];
        let across_long = usize::from(length(first.x_mm) > length(first.u_mm));
        let has_member = |axis: &usize| {
            let range = if *axis == 0 { first.x_mm } else { first.u_mm };
            let other = if *axis == 0 { first.u_mm } else { first.x_mm };
            let plane = 0.5 * (other[0] + other[1]);
            let cut = Cut { title: "", axis: *axis, plane, spot: range[0], reach: REACH_MM };
            self.member_face(&cut, range[0], 1.0).is_some()
        };
        [across_long, 1 - across_long].into_iter().find(has_member)
    }

    /// Place of the member's face that a clip at a panel's edge is screwed to (mm); the panel lies the way of `inwards`.
    fn member_face(&self, cut: &Cut, edge: f64, inwards: f64) -> Option<f64> {
        const NEAR_MM: f64 = 60.0;
        let cut_members = || self.frame.sticks_of(Body::Frame).filter(|(_, stick)| is_cut(stick, cut));
        let seen: Vec<Bounds> = cut_members().map(|(_, stick)| end_view(stick, cut.axis)).collect();
        // A face against the next ply is out of reach.
        let is_open = |face: f64| {
            let before = face + inwards * 1.0;
            !seen.iter().any(|other| other.left < before && before < other.right)
        };
        let faces = seen.iter().filter_map(|seen| {
            let (face, back) = if inwards > 0.0 { (seen.right, seen.left) } else { (seen.left, seen.right) };
            // The member stands outside the panel's edge or under it, or it is the inner ply of one that does.
            let is_near = (face - edge).abs() < NEAR_MM && inwards * (back - edge) < NEAR_MM;
            (is_near && is_open(face)).then_some(face)
        });
        faces.min_by(|a, b| (a - edge).abs().total_cmp(&(b - edge).abs()))
    }

    /// Clips in the shown part of a cut.
    fn clips(&self, cut: &Cut) -> Vec<Clip> {
        if self.clip_axis() != Some(cut.axis) {
            return vec![];
        }
        let mut clips = Vec::new();
        for panel in &self.frame.panels {
            let (along, other) = if cut.axis == 0 { (panel.x_mm, panel.u_mm) } else { (panel.u_mm, panel.x_mm) };
            if !(other[0]..=other[1]).contains(&cut.plane) {
                continue;
            }
            for (edge, inwards) in [(along[0], 1.0), (along[1], -1.0)] {
                if (edge - cut.spot).abs() > cut.reach {
                    continue;
                }
                if let Some(face) = self.member_face(cut, edge, inwards) {
                    clips.push(self.clip_at(face, inwards, panel.w_mm[0]));
                }
            }
        }
        clips
    }

    /// The clip that is placed on this face, or where the design tells no holes a usual one.
    fn clip_at(&self, face: f64, inwards: f64, back_w: f64) -> Clip {
        let usual = Clip {
            face,
            inwards,
            back_w,
            into: self.screw_into_mm(),
            hole: HOLE_FROM_FACE_MM,
            leg: CLIP_LEG_MM,
            under: SCREW_UNDER_MM,
        };
        let placed = self.frame.joints.iter().filter(|joint| joint.use_ == JointUse::Clip).find_map(|joint| {
            let bolt = joint.fasteners.iter().find(|f| f.kind == FastenerKind::Bolt)?;
            let hole = (bolt.from[0] - face) * inwards;
            let leg = joint.plates.first()?.size[0];
            let screw = joint.fasteners.iter().find(|f| f.kind != FastenerKind::Bolt);
            let under = screw.map_or(SCREW_UNDER_MM, |f| back_w - f.from[2]);
            let into = screw.map_or(usual.into, |f| f.length_mm - CLIP_THICK_MM);
            (0.0..leg).contains(&hole).then_some(Clip { hole, leg, under, into, ..usual })
        });
        placed.unwrap_or(usual)
    }

    /// Names of what is drawn, pointed at.
    fn clip_words(&self, cut: &Cut, clip: Option<&Clip>, view: &View, window: Rect, drawn: &[Mark]) -> Vec<Mark> {
        let mut named: Vec<(World, &str)> = Vec::new();
        if let Some(clip) = clip {
            named.push((clip.at(clip.hole, -12.0), "bolt, maker's hole"));
            named.push((clip.at(CLIP_THICK_MM, -0.9 * clip.leg), "angle clip"));
            let words = if self.metal_frame() { "screw or bolt" } else { "screw into the member" };
            named.push((clip.at(CLIP_THICK_MM - 0.6 * (clip.into + CLIP_THICK_MM), -clip.under), words));
        }
        if let Some(brace) = self.braces_near(cut).first() {
            let seen = end_view(brace, cut.axis);
            let left = seen.left.max(cut.spot - cut.reach);
            let right = seen.right.min(cut.spot + cut.reach);
            named.push((World::new(0.3 * left + 0.7 * right, seen.high), "corner brace"));
        }
        let mut labels = Labels::new();
        labels.avoid(drawn);
        let mut marks = Vec::new();
        for (place, words) in named {
            let at = view.at(place);
            let ways = [8.0, 13.0, 18.0, 25.0, 33.0, 42.0].into_iter().flat_map(|reach| {
                [330.0, 300.0, 310.0, 345.0, 210.0, 240.0, 30.0, 60.0, 150.0, 120.0]
                    .map(|direction| leader(at, at.towards(direction, reach), words))
            });
            let room = Rect { left: window.left - 45.0, right: window.right, bottom: window.bottom + 12.0, ..window };
            marks.extend(labels.place(room, ways).unwrap_or_default());
        }
        marks
    }

    fn metal_frame(&self) -> bool {
        self.design.frame.rail.family != Family::Wood
    }

    /// A wood screw's own length; through the wall of a metal member and a little more.
    fn screw_into_mm(&self) -> f64 {
        const PAST_WALL_MM: f64 = 8.0;
        if self.metal_frame() { self.design.frame.rail.wall_mm + PAST_WALL_MM } else { SCREW_MM - CLIP_THICK_MM }
    }

    /// How the clips hold, in words; nothing on purlins.
    fn how_clips_hold(&self) -> String {
        let Some(axis) = self.clip_axis() else { return String::new() };
        if self.frame.joints.iter().any(|joint| joint.use_ == JointUse::Clip) {
            return " An angle clip stands at each hole that the maker has put there, one leg under the panel's frame and bolted \
                    through the hole, the other on the side of the member: every size stands on the sheets of screwed joints and clips. \
                    No clip over a corner brace."
                .to_string();
        }
        let first = &self.frame.panels[0];
        let length = |range: [f64; 2]| range[1] - range[0];
        let (across, along) =
            if axis == 0 { (length(first.x_mm), length(first.u_mm)) } else { (length(first.u_mm), length(first.x_mm)) };
        let sides = if along >= across { "long" } else { "short" };
        let count = self.design.joints.clips_per_panel.map_or(4, |count| count as usize);
        let [leg, thick] = clip_mm(self.design.units).map(|size| self.show(size));
        let size = format!("{leg} x {leg} x {thick}, {leg} long");
        let screwed = match self.metal_frame() {
            true => "is screwed or bolted to the side of the member, by what its maker allows in metal",
            false => "is screwed to the side of the member",
        };
        format!(
            " {count} angle clips to a panel (about {size}), shared between its two {sides} sides, the outer ones about a quarter of the side \
             ({}) from its ends or where the maker's holes and clamp zones are (common practice, no source). One leg lies under the panel's \
             frame and is bolted through the hole that the maker has put there; the other {screwed}. Where two \
             clips share a member, move one along so that the screws miss each other. No clip over a corner brace.",
            self.show(0.25 * along),
        )
    }

    /// Small sizes: as taped, with the exact value beside it where it lies between two marks.
    pub(super) fn fine(&self, value_mm: f64) -> String {
        length_both(mm(value_mm), self.units)
    }
}

/// Room between two details (mm).
const GAP: f64 = 8.0;

/// Least and greatest of a stick's corners on an axis (mm).
fn range(stick: &Stick, axis: usize) -> [f64; 2] {
    let values = stick.corners().map(|corner| corner[axis]);
    [values.iter().copied().fold(f64::MAX, f64::min), values.iter().copied().fold(f64::MIN, f64::max)]
}

/// A stick in the cut: along the axis and out of the face.
fn end_view(stick: &Stick, axis: usize) -> Bounds {
    let ([left, right], [low, high]) = (range(stick, axis), range(stick, 2));
    Bounds { left, right, low, high }
}

/// What a tube or a channel leaves open inside its box; nothing for whole sections. A channel is open away from its back.
fn inside(stick: &Stick, axis: usize) -> Option<Bounds> {
    let box_ = end_view(stick, axis);
    let wall = stick.section.wall_mm;
    let channel = matches!(stick.section.shape, Shape::Channel { .. });
    if !channel && !stick.section.is_hollow() {
        return None;
    }
    // A wall on every side but the one that the back of a channel faces away from.
    let wall_at = |axis: usize, side: f64| if channel && stick.back[axis] * side < -0.5 { 0.0 } else { wall };
    let (left, right) = (box_.left + wall_at(axis, -1.0), box_.right - wall_at(axis, 1.0));
    Some(Bounds { left, right, low: box_.low + wall_at(2, -1.0), high: box_.high - wall_at(2, 1.0) })
}

/// Whether the cutting plane goes square through the stick.
fn is_cut(stick: &Stick, cut: &Cut) -> bool {
    let other = 1 - cut.axis;
    let [low, high] = range(stick, other);
    stick.along[other].abs() > 0.99 && (low..=high).contains(&cut.plane)
}

/// Whether a stick that runs along the cut is worth drawing behind it: purlins, which the panels lie on.
fn lies_beyond(stick: &Stick) -> bool {
    stick.role == Role::Purlin
}
