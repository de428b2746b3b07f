//! Where sticks meet: the joints of the frame, each as what it holds and what it lets go.

use super::{
    builder::Builder,
    rod::EndTie,
    skeleton::{Link, LinkRow, StayRow},
};
use crate::{
    analysis::{self, EndJoint, Member, Orientation},
    frame::{
        Body, Hole, HoleUse, Joint, JointUse, Part, Role, at_tilt,
        vector::{At, cross, dot, length, minus, plus, scaled},
    },
};

const FREE: analysis::Joint = analysis::Joint::Free;

impl Builder<'_> {
    /// Every joint of the frame, as members and tied ends.
    pub(super) fn join(&mut self) {
        let frame = self.frame;
        for joint in &frame.joints {
            match joint.use_ {
                JointUse::Corner => self.corner(joint),
                JointUse::Purlin => self.purlin(joint),
                // The whole brace comes with the joint of its marked end.
                JointUse::Brace => self.brace(joint),
                // Between two bolts the plies bend each for itself: their screws count for nothing.
                JointUse::Plies => {}
                // Panels press on the sticks where they are seated, and stiffen nothing.
                JointUse::Clip | JointUse::PanelBolt => {}
                // What holds a foot is a support, not a joint of the frame.
                JointUse::Bolt(HoleUse::FixedPin | HoleUse::Row | HoleUse::FootBolt) => {}
                JointUse::Bolt(
                    use_ @ (HoleUse::Axle
                    | HoleUse::Hinge
                    | HoleUse::CheekBolt
                    | HoleUse::CleatScrew
                    | HoleUse::FramePin),
                ) => self.bolt(use_, joint),
            }
        }
    }

    /// The end of one stick against the side of another. Its screws hold it along, across and about its strong axis; about
    /// the weak axis the few screws in one line are taken as a hinge. Judgement.
    fn corner(&mut self, joint: &Joint) {
        let [Part::Stick(side), Part::Stick(ending)] = joint.parts[..] else { return };
        let (rod, past) = (&self.rods[ending], &self.rods[side]);
        let away = |end: f64| dot(minus(rod.at(end), past.at(past.foot(rod.at(end)))), rod.along).abs();
        let end = usize::from(away(rod.length_mm) < away(0.0));
        let point = rod.at([0.0, rod.length_mm][end]);
        let node = self.node(side, past.foot(point));
        // Local y of a rod is its depth, so bending in the plane of the thickness is about local y.
        self.rods[ending].ties[end] = Some(EndTie { node, joint: EndJoint { my: FREE, ..EndJoint::default() } });
    }

    /// A bolt through the sticks of its joint, from each to the next across the frame. A stay hangs on its pins as a
    /// member of its own; of the frame pin only what it does between plies is a link.
    fn bolt(&mut self, use_: HoleUse, joint: &Joint) {
        for fastener in &joint.fasteners {
            let place = self.in_model(joint.body, fastener.from);
            let mut line: Vec<(usize, f64, At)> = sticks(joint)
                .filter(|r| self.rods[*r].body != Body::Stay)
                .filter_map(|r| {
                    let hole = self.bored(r, use_, place)?;
                    Some((r, hole.from_end_mm, self.rods[r].hole_at(hole)))
                })
                .collect();
            line.sort_by(|a, b| a.2[0].total_cmp(&b.2[0]));
            for pair in line.windows(2) {
                self.link(use_, pair[0], pair[1]);
            }
        }
    }

    /// The hole of a use in a stick that is nearest to a bolt, seen from the side.
    fn bored(&self, rod: usize, use_: HoleUse, at: At) -> Option<&Hole> {
        let rod = &self.rods[rod];
        let away = |hole: &&Hole| {
            let p = rod.hole_at(hole);
            (p[1] - at[1]).hypot(p[2] - at[2])
        };
        rod.holes.iter().filter(|h| h.use_.bolt() == use_).min_by(|a, b| away(a).total_cmp(&away(b)))
    }

    /// A point of the frame or the ground in the axes of the model.
    fn in_model(&self, body: Body, [x, a, b]: At) -> At {
        let [y, z] = match body {
            Body::Frame => at_tilt([a, b], self.tilt_rad),
            Body::Ground | Body::Stay => [a, b],
        };
        [x, y, z]
    }

    /// A bolt between two layers. Clamped washers carry it across the gap as a solid of their own diameter; about its
    /// own axis it turns, unless it holds plies together.
    fn link(&mut self, use_: HoleUse, a: (usize, f64, At), b: (usize, f64, At)) {
        let bodies = [self.rods[a.0].body, self.rods[b.0].body];
        let turns = bodies[0] != bodies[1] || use_.is_fast();
        let joint = if turns {
            EndJoint { mx: FREE, ..EndJoint::default() }
        } else {
            EndJoint { my: FREE, mz: FREE, ..EndJoint::default() }
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

    /// A purlin lies on an upright; one or two screws hold it down and let it turn about the upright.
    fn purlin(&mut self, joint: &Joint) {
        let [Part::Stick(p), Part::Stick(s)] = joint.parts[..] else { return };
        let (purlin, upright) = (&self.rods[p], &self.rods[s]);
        let (t_p, t_s) = (purlin.foot(upright.start), upright.foot(purlin.start));
        let nodes = [self.node(s, t_s), self.node(p, t_p)];
        let name = self.unique(format!("seat {}-{}", self.rods[p].name, self.rods[s].name));
        let section = self.link_section();
        // The link stands along w; its local z is set across (x), so that its local y runs up the slope:
        // bending of the purlin turns about y, which is released.
        let joint = EndJoint { mx: FREE, my: FREE, ..EndJoint::default() };
        let mut member = Member::new(name, nodes[0], nodes[1], section).joint_j(joint);
        member.orientation = Orientation::YAxis(self.up_slope());
        let member = self.model.member(member);
        let place = self.place(nodes[1]);
        self.links.push(LinkRow { member, link: Link::PurlinSeat, rods: [s, p], at_mm: [t_s, t_p], place });
    }

    /// A corner brace pushes and pulls between the axes of the rail and the upright that its two joints name.
    fn brace(&mut self, joint: &Joint) {
        let frame = self.frame;
        let is_brace = |r: &usize| self.rods[*r].role == Role::CornerBrace;
        let Some(b) = sticks(joint).find(is_brace).filter(|b| self.rods[*b].segments.is_empty()) else { return };
        let ends = frame.joints.iter().filter(|j| j.use_ == JointUse::Brace && sticks(j).any(|r| r == b));
        let held: Vec<usize> = ends.flat_map(sticks).filter(|r| *r != b).collect();
        let [first, second] = held[..] else { return };
        let [rail, upright] = if self.rods[first].is_rail() { [first, second] } else { [second, first] };
        let rod = self.rods[b].clone();
        let normal = cross(rod.along, rod.across);
        let on = |other: usize| crossing(&rod, &self.rods[other], normal);
        let (Some(at_rail), Some(at_upright)) = (on(rail), on(upright)) else { return };
        let nodes = [self.node(rail, at_rail.1), self.node(upright, at_upright.1)];
        let arms = [minus(rod.at(at_rail.0), self.place(nodes[0])), minus(rod.at(at_upright.0), self.place(nodes[1]))];
        let section = self.section_of(b);
        let member = Member::new(rod.name.clone(), nodes[0], nodes[1], section).axial().offset(arms[0], arms[1]);
        let member = self.model.member(member);
        self.braces.push((member, b));
        self.rods[b].segments.push(super::Segment { member, from_mm: 0.0, to_mm: rod.length_mm });
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
            let (Some(upper), Some(lower)) =
                (self.pinned(s, HoleUse::FramePin, pin_a), self.pinned(s, HoleUse::FixedPin, pin_b))
            else {
                continue;
            };
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

    /// What a pin ties a stay to: the stick that lies next to it in their joint, and where.
    fn pinned(&self, stay: usize, use_: HoleUse, pin: At) -> Option<(usize, f64)> {
        let frame = self.frame;
        let joint = frame.joints.iter().find(|j| j.use_ == JointUse::Bolt(use_) && sticks(j).any(|r| r == stay))?;
        let parts: Vec<usize> = sticks(joint).collect();
        let at = parts.iter().position(|r| *r == stay)?;
        let next = parts.get(at + 1).or_else(|| at.checked_sub(1).and_then(|before| parts.get(before)))?;
        self.bored(*next, use_, pin).map(|hole| (*next, hole.from_end_mm))
    }
}

/// The sticks of a joint, from head to tip.
fn sticks(joint: &Joint) -> impl Iterator<Item = usize> {
    joint.parts.iter().filter_map(|part| match part {
        Part::Stick(stick) => Some(*stick),
        Part::Panel(_) => None,
    })
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
