//! Where sticks meet: butted ends, bolts through layers, purlins across, corner braces, stays.

use super::{build::Builder, rod::EndTie};
use crate::{
    analysis::{EndJoint, Joint, Member, MemberId, Orientation},
    frame::{
        Body, HoleUse, Role,
        vector::{At, cross, dot, length, minus, plus, scaled},
    },
};

/// Sticks that touch within this are joined (mm).
const TOUCH_MM: f64 = 1.5;

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

impl Builder<'_> {
    /// Ends that butt against the side of another stick.
    pub(super) fn butt_ends(&mut self) {
        for r in 0..self.rods.len() {
            if self.rods[r].body != Body::Frame || !(self.rods[r].is_rail() || self.rods[r].is_upright()) {
                continue;
            }
            for end in 0..2 {
                let from = if end == 0 { 0.0 } else { self.rods[r].length_mm };
                let point = self.rods[r].at(from);
                let Some((t, at)) = self.through(r, point) else { continue };
                let node = self.node(t, at);
                self.rods[r].ties[end] = Some(EndTie { node, joint: screwed_end() });
            }
        }
    }

    /// The stick that runs past a point at half its thickness, and where.
    fn through(&self, r: usize, point: At) -> Option<(usize, f64)> {
        let along = self.rods[r].along;
        self.rods
            .iter()
            .enumerate()
            .filter(|(t, rod)| *t != r && rod.body == Body::Frame && (rod.is_rail() || rod.is_upright()))
            .filter(|(_, rod)| dot(rod.along, along).abs() < 0.5)
            .filter_map(|(t, rod)| {
                let foot = rod.foot(point);
                let width = rod.section.width_mm;
                let reach = (width - rod.section.centroid_at_mm()[1]).max(width / 2.0) + TOUCH_MM;
                let away = dot(minus(point, rod.at(foot)), along).abs();
                let inside = (-TOUCH_MM..=rod.length_mm + TOUCH_MM).contains(&foot);
                (inside && away <= reach).then_some((t, foot, away))
            })
            .min_by(|a, b| a.2.total_cmp(&b.2))
            .map(|(t, foot, _)| (t, foot))
    }

    /// Bolts that run through holes which stand on one line across.
    pub(super) fn bolts(&mut self) {
        // Of the frame pin only what it does between plies: the stay hangs on it as a member of its own.
        for use_ in [HoleUse::Axle, HoleUse::Hinge, HoleUse::CheekBolt, HoleUse::CleatScrew, HoleUse::FramePin] {
            let mut holes: Vec<(usize, f64, At)> = Vec::new();
            for (r, rod) in self.rods.iter().enumerate().filter(|(_, rod)| rod.body != Body::Stay) {
                holes.extend(rod.holes.iter().filter(|h| h.use_ == use_).map(|h| (r, h.from_end_mm, rod.hole_at(h))));
            }
            while let Some(first) = holes.first().copied() {
                let on_line = |p: At| {
                    (p[1] - first.2[1]).hypot(p[2] - first.2[2]) < TOUCH_MM && (p[0] > 0.0) == (first.2[0] > 0.0)
                };
                let (mut line, rest): (Vec<_>, Vec<_>) = holes.into_iter().partition(|h| on_line(h.2));
                holes = rest;
                line.sort_by(|a, b| a.2[0].total_cmp(&b.2[0]));
                for pair in line.windows(2) {
                    self.link(use_, pair[0], pair[1]);
                }
            }
        }
    }

    /// A bolt between two layers. Clamped washers carry it across the gap as a solid of their own diameter; about its
    /// own axis it turns, unless it holds plies together.
    fn link(&mut self, use_: HoleUse, a: (usize, f64, At), b: (usize, f64, At)) {
        let bodies = [self.rods[a.0].body, self.rods[b.0].body];
        let turns = bodies[0] != bodies[1] || use_.is_fast();
        let joint = if turns {
            EndJoint { mx: Joint::Free, ..EndJoint::default() }
        } else {
            EndJoint { my: Joint::Free, mz: Joint::Free, ..EndJoint::default() }
        };
        let nodes = [self.node(a.0, a.1), self.node(b.0, b.1)];
        let arms = [minus(a.2, self.place(nodes[0])), minus(b.2, self.place(nodes[1]))];
        let name = format!("{} {}-{}", use_.word(), self.rods[a.0].name, self.rods[b.0].name);
        let name = self.unique(name);
        let section = self.link_section();
        let member = Member::new(name, nodes[0], nodes[1], section)
            .joint_j(joint)
            .z_axis([0.0, 0.0, 1.0])
            .offset(arms[0], arms[1]);
        let member = self.model.member(member);
        self.links.push(LinkRow {
            member,
            link: Link::Bolt(use_),
            rods: [a.0, b.0],
            at_mm: [a.1, b.1],
            place: scaled(plus(a.2, b.2), 0.5),
        });
    }

    /// Purlins lie on the uprights; one or two screws hold them down and let them turn about the upright.
    pub(super) fn purlins(&mut self) {
        let of = |role: fn(&super::Rod) -> bool, rods: &[super::Rod]| -> Vec<usize> {
            (0..rods.len()).filter(|i| role(&rods[*i])).collect()
        };
        let purlins = of(|r| r.role == Role::Purlin, &self.rods);
        let uprights = of(super::Rod::is_upright, &self.rods);
        for &p in &purlins {
            for &s in &uprights {
                let (purlin, stile) = (&self.rods[p], &self.rods[s]);
                let (t_p, t_s) = (purlin.foot(stile.start), stile.foot(purlin.start));
                let inside = |t: f64, l: f64| (-TOUCH_MM..=l + TOUCH_MM).contains(&t);
                if !inside(t_p, purlin.length_mm) || !inside(t_s, stile.length_mm) {
                    continue;
                }
                let nodes = [self.node(s, t_s), self.node(p, t_p)];
                let name = self.unique(format!("seat {}-{}", self.rods[p].name, self.rods[s].name));
                let section = self.link_section();
                // The link stands along w; its local z is set across (x), so that its local y runs up the slope:
                // bending of the purlin turns about y, which is released.
                let joint = EndJoint { mx: Joint::Free, my: Joint::Free, ..EndJoint::default() };
                let mut member = Member::new(name, nodes[0], nodes[1], section).joint_j(joint);
                member.orientation = Orientation::YAxis(self.up_slope());
                let member = self.model.member(member);
                let place = self.place(nodes[1]);
                self.links.push(LinkRow { member, link: Link::PurlinSeat, rods: [s, p], at_mm: [t_s, t_p], place });
            }
        }
    }

    /// Corner braces push and pull between the axes of rail and upright.
    pub(super) fn braces(&mut self) {
        for b in 0..self.rods.len() {
            if self.rods[b].role != Role::CornerBrace {
                continue;
            }
            let rod = self.rods[b].clone();
            let normal = cross(rod.along, rod.across);
            let at = |role: fn(&super::Rod) -> bool, near: At, builder: &Self| {
                builder
                    .rods
                    .iter()
                    .enumerate()
                    .filter(|(_, other)| other.body == Body::Frame && role(other))
                    .filter_map(|(i, other)| crossing(&rod, other, normal).map(|(tb, to)| (i, tb, to)))
                    .filter(|(i, _, to)| (-TOUCH_MM..=builder.rods[*i].length_mm + TOUCH_MM).contains(to))
                    .min_by(|a, c| {
                        let away = |x: &(usize, f64, f64)| length(minus(rod.at(x.1), near));
                        away(a).total_cmp(&away(c))
                    })
            };
            let rail = at(super::Rod::is_rail, rod.at(0.0), self);
            let upright = at(super::Rod::is_upright, rod.at(rod.length_mm), self);
            let (Some(rail), Some(upright)) = (rail, upright) else { continue };
            let nodes = [self.node(rail.0, rail.2), self.node(upright.0, upright.2)];
            let arms = [minus(rod.at(rail.1), self.place(nodes[0])), minus(rod.at(upright.1), self.place(nodes[1]))];
            let section = self.section_of(b);
            let member = Member::new(rod.name.clone(), nodes[0], nodes[1], section).axial().offset(arms[0], arms[1]);
            let member = self.model.member(member);
            self.braces.push((member, b));
            self.rods[b].segments.push(super::Segment { member, from_mm: 0.0, to_mm: rod.length_mm });
        }
    }

    /// Stays push and pull from pin to pin, beside the sticks they hang on.
    pub(super) fn stays(&mut self) {
        for s in 0..self.rods.len() {
            if self.rods[s].role != Role::Stay {
                continue;
            }
            let x = plus(self.rods[s].start, self.rods[s].to_ply())[0];
            let (a, b) = self.pins();
            let pin_a = [x, a[0], a[1]];
            let pin_b = [x, b[0], b[1]];
            let upper = self.pinned(HoleUse::FramePin, pin_a, Body::Frame);
            let lower = self
                .pinned(HoleUse::FixedPin, pin_b, Body::Ground)
                .or_else(|| self.pinned(HoleUse::Row, pin_b, Body::Ground));
            let (Some(upper), Some(lower)) = (upper, lower) else { continue };
            let nodes = [self.node(upper.0, upper.1), self.node(lower.0, lower.1)];
            let arms = [minus(pin_a, self.place(nodes[0])), minus(pin_b, self.place(nodes[1]))];
            let section = self.section_of(s);
            let member =
                Member::new(self.rods[s].name.clone(), nodes[0], nodes[1], section).axial().offset(arms[0], arms[1]);
            let member = self.model.member(member);
            let run = minus(pin_b, pin_a);
            let length_mm = length(run);
            self.rods[s].segments.push(super::Segment { member, from_mm: 0.0, to_mm: length_mm });
            let direction = scaled(run, 1.0 / length_mm);
            self.stays.push(StayRow { member, stay: s, upper, lower, length_mm, direction });
        }
    }

    /// The stick nearest to a stay with a hole of that use on the pin's line.
    fn pinned(&self, use_: HoleUse, pin: At, body: Body) -> Option<(usize, f64)> {
        // A taped hole row stands within a mark of the exact pin.
        const NEAR_MM: f64 = 4.0;
        let mut found: Vec<(f64, usize, f64)> = Vec::new();
        for (r, rod) in self.rods.iter().enumerate().filter(|(_, rod)| rod.body == body) {
            for hole in rod.holes.iter().filter(|h| h.use_ == use_) {
                let p = rod.hole_at(hole);
                if (p[1] - pin[1]).hypot(p[2] - pin[2]) < NEAR_MM {
                    found.push(((p[0] - pin[0]).abs(), r, hole.from_end_mm));
                }
            }
        }
        found.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, r, t)| (r, t))
    }
}

/// Screws into the end of a stick hold it along, across and about its strong axis; about the weak axis the few screws in
/// one line are taken as a hinge. Judgement.
fn screwed_end() -> EndJoint {
    // Local y of a rod is its depth, so bending in the plane of the thickness is about local y.
    EndJoint { my: Joint::Free, ..EndJoint::default() }
}

/// Where the axes of two sticks cross, seen along `normal`: the distance along each.
fn crossing(a: &super::Rod, b: &super::Rod, normal: At) -> Option<(f64, f64)> {
    let across_b = cross(normal, b.along);
    let slope = dot(a.along, across_b);
    if slope.abs() < 1e-9 {
        return None;
    }
    let t_a = dot(minus(b.start, a.start), across_b) / slope;
    Some((t_a, b.foot(a.at(t_a))))
}
