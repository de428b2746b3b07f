//! The frame from the right at every tilt: which hole, how high, where everything stands.

use super::drafter::{Drafter, draw_to_fit, paragraph, part, side_outline};
use super::elevation::EVERYWHERE;
use crate::{
    frame::{Body, HoleUse, Linkage, Role, Setting, Stick, at_tilt},
    quantities::{Units, angle, deg, number},
    sheets::{
        dimension::{Labels, Side, Stack, aligned_beyond, angular, arrow, leader},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Mark, texts},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize},
        view::{Scale, View},
    },
};

/// A direction the sun shines from, drawn on the side view.
#[derive(Debug, Clone, PartialEq)]
pub struct Ray {
    /// What is written at it: `noon, 21 December`.
    pub name: String,
    /// Height of the sun over the horizon in the vertical plane that the frame faces (deg).
    pub altitude_deg: f64,
}

/// From the ground line to a dimension line under it, clear of the strokes (mm).
const UNDER_GROUND: f64 = 9.0;

/// The frame at one hole of the row.
struct Pose<'a> {
    drafter: &'a Drafter<'a>,
    hole: &'a Setting,
    number: usize,
    rays: Vec<Ray>,
}

impl Drafter<'_> {
    /// One side view for each hole of the row, lowest tilt first, all at one scale.
    pub(super) fn side_views(&self, rays: &dyn Fn(f64) -> Vec<Ray>) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        let window = page.window();
        let mut order: Vec<usize> = (0..self.frame.row.len()).collect();
        order.sort_by(|a, b| self.frame.row[*a].reached_deg.total_cmp(&self.frame.row[*b].reached_deg));
        let poses: Vec<Pose> = order
            .iter()
            .map(|n| {
                let hole = &self.frame.row[*n];
                Pose { drafter: self, hole, number: n + 1, rays: rays(hole.reached_deg) }
            })
            .collect();
        let words: Vec<(Vec<Mark>, f64)> =
            poses.iter().map(|pose| paragraph(&pose.words(), window, TextSize::Small)).collect();
        let top = words.iter().map(|(_, foot)| *foot).fold(window.top, f64::max) + 2.0;
        let room = Rect { top, ..window };
        let scale = poses.iter().map(|pose| draw_to_fit(room, |view| pose.draw(view)).0).max().unwrap_or(Scale::FULL);
        let sheet = |(pose, (heading, _)): (&Pose, (Vec<Mark>, f64))| {
            let tilt = number(pose.hole.reached_deg, 2);
            let marks = pose.draw(&View::new(scale, World::default(), Point::default()));
            let size = crate::sheets::mark::bounds(&marks).unwrap_or(room);
            let (from, to) = (size.centre(), room.centre());
            let marks: Vec<_> = marks.iter().map(|mark| mark.moved(to.x - from.x, to.y - from.y)).collect();
            let slug = format!("side-view-{}", number(pose.hole.reached_deg, 0));
            self.sheet(&slug, &format!("Side view, tilt {tilt}°"), page)
                .at_scale(SheetScale::One(scale))
                .with(heading)
                .with(marks)
        };
        poses.iter().zip(words).map(sheet).collect()
    }
}

impl Pose<'_> {
    fn tilt_rad(&self) -> f64 {
        self.hole.reached_deg.to_radians()
    }

    /// What the builder does at this tilt.
    fn words(&self) -> String {
        let d = self.drafter;
        let asked = crate::sheets::tables::tilts(&self.hole.tilts_deg);
        let mark = &d.frame.pieces[d.frame.row_piece].mark;
        let step = match d.units {
            Units::Us => ("1/16 in", crate::quantities::MARK_MM_US),
            Units::Metric => ("1 mm", crate::quantities::MARK_MM_METRIC),
        };
        format!(
            "Seen from the right. For {asked}: hole {} of {} in {mark}, {} from its marked end; the tilt reached is {}. An error of {} at this hole turns the \
             frame by {}. Two stays, two pins, left and right: two people, one at each stay, and the frame propped or \
             held before either pin is pulled. Pull and set both pins alike, never leave one out. Keep hands out of the closing gap.\n\
             Gauge face and marked end: {}.",
            self.number,
            d.frame.row.len(),
            d.show(self.hole.from_end_mm),
            angle(deg(self.hole.reached_deg)),
            step.0,
            angle(deg(self.hole.deg_per_mm * step.1)),
            d.faces_and_ends().join("; "),
        )
    }

    /// Where a point of a body stands in the side view.
    fn place(&self, body: Body, [a, b]: [f64; 2]) -> World {
        let [x, z] = match body {
            Body::Ground => [a, b],
            Body::Frame => at_tilt([a, b], self.tilt_rad()),
            Body::Stay => {
                let linkage = &self.drafter.frame.linkage;
                let (pin, fixed) =
                    (at_tilt(linkage.frame_pin(), self.tilt_rad()), linkage.fixed_end(self.hole.offset_mm));
                let length = (fixed[0] - pin[0]).hypot(fixed[1] - pin[1]);
                let along = [(fixed[0] - pin[0]) / length, (fixed[1] - pin[1]) / length];
                [pin[0] + a * along[0] - b * along[1], pin[1] + a * along[1] + b * along[0]]
            }
        };
        World::new(x, z)
    }

    fn outline(&self, stick: &Stick) -> Vec<World> {
        side_outline(stick).into_iter().map(|point| self.place(stick.body, point)).collect()
    }

    /// Sticks that a viewer at the right sees, the farthest first.
    fn seen(&self) -> Vec<(usize, &Stick)> {
        let mut sticks: Vec<_> =
            self.drafter.frame.sticks.iter().enumerate().filter(|(_, s)| s.side != "left").collect();
        sticks.sort_by(|a, b| a.1.x_range()[1].total_cmp(&b.1.x_range()[1]));
        sticks
    }

    fn panels(&self) -> Vec<[World; 4]> {
        let mut ranges: Vec<([f64; 2], [f64; 2])> =
            self.drafter.frame.panels.iter().map(|p| (p.u_mm, p.w_mm)).collect();
        ranges.dedup_by(|a, b| (a.0[0] - b.0[0]).abs() < 0.1 && (a.1[0] - b.1[0]).abs() < 0.1);
        ranges
            .into_iter()
            .map(|([low, high], [back, front])| {
                [[low, back], [high, back], [high, front], [low, front]].map(|point| self.place(Body::Frame, point))
            })
            .collect()
    }

    fn draw(&self, view: &View) -> Vec<Mark> {
        let mut marks = Vec::new();
        for outline in self.panels() {
            marks.push(
                part("panel", "panel").with([Mark::filled(view.all(&outline), Pen::Visible, Fill::Paper)]).into(),
            );
        }
        for (n, stick) in self.seen() {
            let outline = Mark::filled(view.all(&self.outline(stick)), Pen::Visible, Fill::Paper);
            marks.push(part(self.drafter.frame.mark(n), stick.role.word()).with([outline]).into());
        }
        marks.extend(self.behind(view));
        marks.extend(self.ground(view));
        marks.extend(self.holes(view));
        marks.extend(self.sun(view));
        let (sizes, room) = self.sizes(view);
        marks.extend(sizes);
        let mut labels = Labels::new();
        labels.avoid(&marks);
        marks.extend(self.hinge_to_hole(view, &mut labels));
        marks.extend(self.stay_length(view, &mut labels));
        marks.extend(self.tilt_angle(view, &mut labels));
        marks.extend(self.callouts(view, room, &mut labels));
        marks
    }

    /// Stays and cheeks once more, dashed, where a post or a runner stands before them.
    fn behind(&self, view: &View) -> Vec<Mark> {
        let hidden = self.seen().into_iter().filter(|(_, stick)| matches!(stick.role, Role::Stay | Role::Cheek));
        hidden.map(|(_, stick)| Mark::outline(view.all(&self.outline(stick)), Pen::Hidden)).collect()
    }

    /// Range across all that stands above or below the ground (mm).
    fn bounds(&self) -> Option<Bounds> {
        let sticks = self.seen().into_iter().flat_map(|(_, stick)| self.outline(stick));
        Bounds::around(sticks.chain(self.panels().into_iter().flatten()))
    }

    /// Height of the surface under a place (mm).
    fn surface_at(&self, x: f64) -> f64 {
        let ([x0, z0], slope) = self.drafter.frame.surface();
        z0 + (x - x0) * slope.tan()
    }

    fn ground(&self, view: &View) -> Vec<Mark> {
        let Some(all) = self.bounds() else { return vec![] };
        let (left, right) = (all.left - 0.04 * all.width(), all.right + 0.04 * all.width());
        let at = |x: f64| view.at(World::new(x, self.surface_at(x)));
        let mut marks = vec![Mark::line(at(left), at(right), Pen::Ground)];
        // Strokes under the line say which side is ground.
        let (start, end) = (at(left), at(right));
        let count = (start.distance(end) / 4.0).floor().max(1.0) as usize;
        for n in 0..count {
            let share = (n as f64 + 0.5) / count as f64;
            let top = Point::new(start.x + share * (end.x - start.x), start.y + share * (end.y - start.y));
            marks.push(Mark::line(top, top.moved(-1.6, 1.8), Pen::Dimension));
        }
        if let Some(soil) = self.drafter.frame.in_soil() {
            let grade = self.surface_at(0.0);
            let half = 0.5 * soil.hole_diameter_mm;
            let footing = Bounds { left: -half, right: half, low: grade - soil.depth_mm, high: grade };
            if half > 0.0 {
                marks.push(part("footing", "footing").with([Mark::rect(view.rect(footing), Pen::Hidden)]).into());
            }
        }
        marks
    }

    fn holes(&self, view: &View) -> Vec<Mark> {
        const LEAST_RADIUS: f64 = 0.35;
        let mut marks = Vec::new();
        for (_, stick) in self.seen() {
            for hole in &stick.holes {
                let place = stick.hole_place(hole);
                let at = view.at(self.place(stick.body, [place[1], place[2]]));
                let radius = view.length(0.5 * hole.diameter_mm).max(LEAST_RADIUS);
                marks.push(Mark::circle(at, radius, Pen::Dimension));
                if hole.use_ != HoleUse::Row && !hole.use_.is_fast() {
                    marks.extend(Mark::cross(at, radius + 1.5, Pen::Dimension));
                }
            }
        }
        let pin = view.at(self.world(self.drafter.frame.linkage.fixed_end(self.hole.offset_mm)));
        let radius = view.length(0.5 * self.drafter.frame.pin.diameter_mm).max(LEAST_RADIUS);
        marks.push(Mark::Circle { centre: pin, radius, pen: Pen::Visible, fill: Fill::Ink });
        marks
    }

    fn world(&self, [x, z]: [f64; 2]) -> World {
        World::new(x, z)
    }

    /// The tilt, between a level line and a line along the frame, both through axle or hinge: the nearest place where its text is clear.
    fn tilt_angle(&self, view: &View, labels: &mut Labels) -> Vec<Mark> {
        const PAST: f64 = 5.0;
        let corner = view.at(World::default());
        let words = angle(deg(self.hole.reached_deg));
        let way = |radius: f64| {
            let level = corner.towards(0.0, radius + PAST);
            let along = corner.towards(self.hole.reached_deg, radius + PAST);
            let mut marks = vec![Mark::line(corner, level, Pen::Centre), Mark::line(corner, along, Pen::Centre)];
            marks.extend(angular(corner, radius, 0.0, self.hole.reached_deg, &words));
            marks
        };
        labels.place(EVERYWHERE, (0..14).map(|n| way(22.0 + 6.0 * f64::from(n)))).unwrap_or_default()
    }

    fn sun(&self, view: &View) -> Vec<Mark> {
        const LENGTH: f64 = 32.0;
        let frame = self.drafter.frame;
        let high = frame.low_edge_u_mm + frame.length_mm;
        let front = frame.panels.first().map_or(frame.face_w_mm, |panel| panel.w_mm[1]);
        let mut marks = Vec::new();
        let mut rays = self.rays.clone();
        rays.sort_by(|a, b| a.altitude_deg.total_cmp(&b.altitude_deg));
        for (n, ray) in rays.iter().enumerate() {
            // The frame faces the left of the view, so the sun stands there.
            let share = 0.3 + 0.5 * (n as f64 + 0.5) / rays.len() as f64;
            let u = frame.low_edge_u_mm + share * (high - frame.low_edge_u_mm);
            let hit = view.at(self.place(Body::Frame, [u, front]));
            let start = hit.towards(180.0 - ray.altitude_deg, LENGTH);
            marks.push(Mark::line(start, hit, Pen::Ray));
            marks.push(arrow(hit, start.angle_to_deg(hit)));
            let words = format!("{}, sun {}", ray.name, angle(deg(ray.altitude_deg)));
            marks.push(Text::new(&words, start.moved(-1.0, -1.0), TextSize::Small).anchored(Anchor::End).into());
        }
        marks
    }

    /// Heights over the ground on the left and right, reaches below; also the box of the view with them.
    fn sizes(&self, view: &View) -> (Vec<Mark>, Rect) {
        let Some(all) = self.bounds() else { return (vec![], EVERYWHERE) };
        let paper = view.rect(all);
        let corners: Vec<World> = self
            .drafter
            .frame
            .sticks_of(Body::Frame)
            .flat_map(|(_, stick)| self.outline(stick))
            .chain(self.panels().into_iter().flatten())
            .collect();
        let lowest = corners.iter().copied().min_by(|a, b| a.y.total_cmp(&b.y)).unwrap_or_default();
        let highest = corners.iter().copied().max_by(|a, b| a.y.total_cmp(&b.y)).unwrap_or_default();
        let under = |point: World| World::new(point.x, self.surface_at(point.x));
        let mut left = Stack::new(Side::Left, paper.left);
        let mut right = Stack::new(Side::Right, paper.right);
        let height = |stack: &mut Stack, point: World| {
            let words = self.drafter.show(point.y - under(point).y);
            stack.add(view.at(under(point)), view.at(point), &words);
        };
        height(&mut left, lowest);
        // The hinge stands near the low edge: on a slope its height is shown on that side, or its foot line would run under all the rest.
        let sloping = self.drafter.frame.surface().1.abs() > 1e-6;
        height(if sloping { &mut left } else { &mut right }, World::default());
        height(&mut right, highest);
        let room = if matches!(self.drafter.frame.linkage, Linkage::InRunner { .. }) { UNDER_GROUND } else { 2.0 };
        let mut below = Stack::new(Side::Below, paper.bottom + room);
        for (reach, what) in self.reaches() {
            let words = format!("{} {what}", self.drafter.show(reach.abs()));
            below.add(view.at(World::new(0.0, all.low)), view.at(World::new(reach, all.low)), &words);
        }
        let marks: Vec<Mark> = [left, right, below].iter().flat_map(|stack| stack.draw().0).collect();
        let room = crate::sheets::mark::bounds(&marks).map_or(paper, |size| size.with(paper));
        (marks, room)
    }

    /// How far frame, stay and feet reach in front of the axle or hinge and behind it (mm): of each side the frame, and what sticks out
    /// farther.
    fn reaches(&self) -> Vec<(f64, &'static str)> {
        const SAME_MM: f64 = 0.5;
        let outlines = |wanted: &dyn Fn(usize, &Stick) -> bool| -> Vec<f64> {
            let sticks = self.seen().into_iter().filter(|(n, stick)| wanted(*n, stick));
            sticks.flat_map(|(_, stick)| self.outline(stick)).map(|point| point.x).collect()
        };
        let mut frame = outlines(&|_, stick| stick.body == Body::Frame);
        frame.extend(self.panels().into_iter().flatten().map(|point| point.x));
        let stay = outlines(&|_, stick| stick.body == Body::Stay);
        let feet = outlines(&|n, _| self.drafter.frame.standing().any(|(foot, _)| foot == n));
        let foot = self.drafter.frame.standing().next().map_or("", |(_, stick)| stick.role.word());
        let mut found = Vec::new();
        for sign in [-1.0, 1.0] {
            let mut farthest = 0.0;
            for (places, what) in [(&frame, "frame"), (&stay, "stay"), (&feet, foot)] {
                let reach = places.iter().map(|x| sign * x).fold(0.0, f64::max);
                if reach > farthest + SAME_MM {
                    farthest = reach;
                    found.push((sign * reach, what));
                }
            }
        }
        found
    }

    /// Pin to pin along the stay, on the side away from axle or hinge when that is as clear as the other.
    fn stay_length(&self, view: &View, labels: &mut Labels) -> Vec<Mark> {
        let linkage = &self.drafter.frame.linkage;
        let pin = view.at(self.world(at_tilt(linkage.frame_pin(), self.tilt_rad())));
        let fixed = view.at(self.world(linkage.fixed_end(self.hole.offset_mm)));
        let words = self.drafter.show(linkage.stay_mm(self.hole.offset_mm));
        let axle = view.at(World::default());
        let away = (fixed.x - pin.x) * (axle.y - pin.y) - (fixed.y - pin.y) * (axle.x - pin.x);
        let sign = if away > 0.0 { 1.0 } else { -1.0 };
        let offsets = [9.0, 13.0, 17.0, 22.0, 28.0, 36.0, 44.0, 52.0, 60.0]
            .iter()
            .flat_map(|offset| [sign * offset, -sign * offset]);
        let ways =
            offsets.flat_map(|offset| [0.0, 1.0, -1.0].map(|shift| aligned_beyond(pin, fixed, offset, &words, shift)));
        labels.place(EVERYWHERE, ways).unwrap_or_default()
    }

    /// Along a runner: from the foot of the hinge to the hole.
    fn hinge_to_hole(&self, view: &View, labels: &mut Labels) -> Vec<Mark> {
        let linkage = &self.drafter.frame.linkage;
        let Linkage::InRunner { row_origin, .. } = *linkage else { return vec![] };
        let (foot, hole) =
            (view.at(self.world(row_origin)), view.at(self.world(linkage.fixed_end(self.hole.offset_mm))));
        let words = self.drafter.show(self.hole.offset_mm);
        // Under the ground line, where nothing else is drawn.
        let row_below_axis_mm = row_origin[0].hypot(row_origin[1]);
        let under = view.length(self.drafter.frame.axis_above_surface_mm() - row_below_axis_mm) + UNDER_GROUND;
        let offsets = [0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 13.0, 16.0, 20.0].into_iter().map(|more| -under - more);
        let ways =
            offsets.flat_map(|offset| [0.0, 1.0, -1.0].map(|shift| aligned_beyond(foot, hole, offset, &words, shift)));
        labels.place(EVERYWHERE, ways).unwrap_or_default()
    }

    fn callouts(&self, view: &View, room: Rect, labels: &mut Labels) -> Vec<Mark> {
        let frame = self.drafter.frame;
        let mut marks = Vec::new();
        let hole = view.at(self.world(frame.linkage.fixed_end(self.hole.offset_mm)));
        let words = format!("hole {} of {}", self.number, frame.row.len());
        marks.extend(labels.place(room.inset(-30.0), leader_ways(hole, &words)).unwrap_or_default());
        let outlines: Vec<Vec<Point>> = self.seen().iter().map(|(_, stick)| view.all(&self.outline(stick))).collect();
        for (places, words) in self.names(view) {
            let mut ways: Vec<_> = places.iter().flat_map(|place| leader_ways(*place, &words)).collect();
            // Words stand in the open rather than on another part.
            ways.sort_by_cached_key(|way| {
                texts(way).iter().any(|text| outlines.iter().any(|part| lies_on(text, part)))
            });
            marks.extend(labels.place(room.inset(-30.0), ways).unwrap_or_default());
        }
        marks
    }

    /// Marks of all parts with places to point at, nearest part first. A part is pointed at where it is seen; parts that are seen nowhere
    /// share the leader of one that lies before them.
    fn names(&self, view: &View) -> Vec<(Vec<Point>, String)> {
        const SAME: f64 = 1.0;
        let seen = self.seen();
        let outlines: Vec<Vec<Point>> = seen.iter().map(|(_, stick)| view.all(&self.outline(stick))).collect();
        let mut named: Vec<(Point, Vec<Point>, Vec<&str>)> = Vec::new();
        for (at, (n, _)) in seen.iter().enumerate().rev() {
            let mark = self.drafter.frame.mark(*n);
            if named.iter().any(|(_, _, marks)| marks.contains(&mark)) {
                continue;
            }
            let Some(middle) = Rect::around(outlines[at].iter().copied()).map(Rect::centre) else { continue };
            if let Some((_, _, marks)) = named.iter_mut().find(|(place, _, _)| place.distance(middle) < SAME) {
                marks.push(mark);
                continue;
            }
            let mut places = places_along(&outlines[at]);
            places.retain(|place| !outlines[at + 1..].iter().any(|before| is_inside(*place, before)));
            if places.is_empty() {
                places.push(middle);
            }
            named.push((middle, places, vec![mark]));
        }
        named.into_iter().map(|(_, places, marks)| (places, marks.join(", "))).collect()
    }
}

/// Places along the middle of a convex outline: its middle first, then towards its ends.
fn places_along(outline: &[Point]) -> Vec<Point> {
    let sides = outline.iter().zip(outline.iter().cycle().skip(1));
    let Some((a, b)) = sides.max_by(|p, q| p.0.distance(*p.1).total_cmp(&q.0.distance(*q.1))) else { return vec![] };
    let Some(middle) = Rect::around(outline.iter().copied()).map(Rect::centre) else { return vec![] };
    let shares = [0.0, 0.1, -0.1, 0.2, -0.2, 0.3, -0.3, 0.38, -0.38, 0.44, -0.44];
    shares.map(|share| middle.moved(share * (b.x - a.x), share * (b.y - a.y))).to_vec()
}

/// Whether any corner of a text or its middle lies on a convex outline.
fn lies_on(text: &Text, outline: &[Point]) -> bool {
    text.corners().into_iter().chain([text.bounds().centre()]).any(|point| is_inside(point, outline))
}

/// Whether a point lies inside a convex outline, or within a hair of it.
fn is_inside(point: Point, outline: &[Point]) -> bool {
    const HAIR: f64 = 0.4;
    let Some(room) = Rect::around(outline.iter().copied()) else { return false };
    if !room.inset(-HAIR).holds(Rect::between(point, point)) {
        return false;
    }
    let centre = room.centre();
    outline.iter().zip(outline.iter().cycle().skip(1)).all(|(a, b)| {
        let length = a.distance(*b);
        let side = |p: Point| ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length.max(f64::MIN_POSITIVE);
        side(point) * side(centre).signum() > -HAIR
    })
}

/// Leaders from a place in all directions, short ones first.
fn leader_ways(at: Point, words: &str) -> Vec<Vec<Mark>> {
    let mut ways = Vec::new();
    for reach in [9.0, 14.0, 20.0, 28.0, 38.0, 50.0] {
        for direction in [30.0, 150.0, 330.0, 210.0, 60.0, 120.0, 300.0, 240.0, 10.0, 170.0] {
            ways.push(leader(at, at.towards(direction, reach), words));
        }
    }
    ways
}
