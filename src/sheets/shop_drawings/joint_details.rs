//! Screwed joints and clips at large scale: every screw at its place, its lead hole, and what it is measured from.
//!
//! Joints that are put together in the same way share one detail. Two views of each: square to the frame's face and, beside
//! or below it, along the face, so that every screw is seen from its side and on its end.

use super::drafter::{Drafter, paragraph};
use crate::{
    frame::{Disc, Fastener, FastenerKind, Joint, JointUse, Part},
    quantities::{drill_size, sentence_case},
    sheets::{
        dimension::{Labels, Side, Stack, leader},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::TextSize,
        view::{Scale, View},
    },
};

/// Shown beyond the fasteners along each axis of the frame (mm).
const BEYOND_MM: f64 = 30.0;
/// The whole depth of a member is shown up to this, more of it is broken off (mm).
const DEEPEST_MM: f64 = 240.0;
/// An end or face this near to what is shown is shown too, to be measured from (mm).
const END_NEAR_MM: f64 = 60.0;
/// Width of the words over a detail, at least (mm).
const WORDS_WIDE: f64 = 78.0;
/// Between two details, and between the views of one (mm).
const GAP: f64 = 9.0;
const SIZE: TextSize = TextSize::Small;

/// Joints that look alike: the first is drawn.
struct Detail<'a> {
    joint: &'a Joint,
    /// Indices of all of them.
    all: Vec<usize>,
}

/// A plane that a joint is looked at in: axes of frame coordinates across and up (0 across the frame, 1 up the slope, 2 out
/// of the face).
#[derive(Clone, Copy, PartialEq)]
struct Plane([usize; 2]);

const FRONT: Plane = Plane([0, 1]);
const SIDE: Plane = Plane([2, 1]);
const ABOVE: Plane = Plane([0, 2]);

impl Plane {
    fn of(self, p: [f64; 3]) -> World {
        World::new(p[self.0[0]], p[self.0[1]])
    }
}

impl Drafter<'_> {
    /// One detail for every kind of screwed joint and clip; nothing for frames that are welded.
    pub(super) fn joint_details(&self) -> Vec<Sheet> {
        let details = self.details();
        let page = Page::portrait(self.paper);
        let window = page.window();
        let mut pages: Vec<Vec<Mark>> = vec![vec![]];
        let (mut left, mut top, mut foot) = (window.left, window.top, window.top);
        for detail in &details {
            let marks = self.fitted(detail, window);
            let Some(size) = bounds(&marks) else { continue };
            // Side by side while there is room, then below, then on the next sheet.
            if left > window.left && left + size.width() > window.right {
                (left, top) = (window.left, foot + GAP);
            }
            if top > window.top && top + size.height() > window.bottom {
                pages.push(vec![]);
                (left, top, foot) = (window.left, window.top, window.top);
            }
            let (dx, dy) = (left - size.left, top - size.top);
            pages.last_mut().into_iter().for_each(|page| page.extend(marks.iter().map(|mark| mark.moved(dx, dy))));
            left += size.width() + GAP;
            foot = foot.max(top + size.height());
        }
        pages.retain(|marks| !marks.is_empty());
        let count = pages.len();
        let sheet = |(n, marks): (usize, Vec<Mark>)| {
            let (slug, title) = match count {
                1 => ("joint-details".to_string(), "Screwed joints and clips".to_string()),
                _ => (format!("joint-details-{}", n + 1), format!("Screwed joints and clips ({} of {count})", n + 1)),
            };
            self.sheet(&slug, &title, page).at_scale(SheetScale::AsNoted).with(marks)
        };
        pages.into_iter().enumerate().map(sheet).collect()
    }

    /// Plies are screwed along their whole length: their screws stand on the drawing of the part.
    fn details(&self) -> Vec<Detail<'_>> {
        let mut details: Vec<(Vec<String>, Detail)> = Vec::new();
        for (n, joint) in self.frame.joints.iter().enumerate() {
            let screwed = match joint.use_ {
                JointUse::Corner | JointUse::Brace | JointUse::Purlin | JointUse::Clip | JointUse::PanelBolt => true,
                JointUse::Plies | JointUse::Bolt(_) => false,
            };
            if !screwed || joint.fasteners.is_empty() {
                continue;
            }
            let key = self.looks(joint);
            match details.iter_mut().find(|(same, _)| *same == key) {
                Some((_, detail)) => detail.all.push(n),
                None => details.push((key, Detail { joint, all: vec![n] })),
            }
        }
        details.into_iter().map(|(_, detail)| detail).collect()
    }

    /// What two joints have in common that share a detail: their parts, and the fasteners by kind, direction and height.
    fn looks(&self, joint: &Joint) -> Vec<String> {
        let parts = joint.parts.iter().map(|part| self.part_words(*part));
        let place = |f: &Fastener| {
            let axis = f.axis.map(|v| (v.abs() * 100.0).round());
            format!("{} {} {:.0} {axis:?} {:.0}", f.kind.word(), f.size, f.length_mm, f.from[2])
        };
        parts.chain([joint.use_.word().to_string()]).chain(joint.fasteners.iter().map(place)).collect()
    }

    fn part_words(&self, part: Part) -> String {
        match part {
            Part::Stick(i) => format!("{} {}", self.frame.sticks[i].role.word(), self.frame.mark(i)),
            Part::Panel(_) => "panel".to_string(),
        }
    }

    /// At the largest scale at which the detail fits the sheet.
    fn fitted(&self, detail: &Detail, window: Rect) -> Vec<Mark> {
        let mut drawn = Vec::new();
        for scale in Scale::preferred().skip(1).take(4) {
            drawn = self.detail_at(detail, scale);
            let fits = |size: Rect| size.width() <= window.width() && size.height() <= window.height();
            if bounds(&drawn).is_some_and(fits) {
                break;
            }
        }
        drawn
    }

    fn detail_at(&self, detail: &Detail, scale: Scale) -> Vec<Mark> {
        let joint = detail.joint;
        let views = match (joint.use_, long_axis(joint)) {
            (JointUse::Clip, _) => [ABOVE, FRONT],
            (_, 0) => [FRONT, ABOVE],
            _ => [FRONT, SIDE],
        };
        let region = self.region(joint);
        let first = self.one_view(joint, views[0], region, scale, true);
        let second = self.one_view(joint, views[1], region, scale, false);
        let (Some(a), Some(b)) = (bounds(&first), bounds(&second)) else { return vec![] };
        // The views share the axis along which they stand beside each other.
        let (dx, dy) =
            if views[0].0[1] == views[1].0[1] { (a.right + GAP - b.left, 0.0) } else { (0.0, a.bottom + GAP - b.top) };
        let drawn: Vec<Mark> = first.into_iter().chain(second.iter().map(|mark| mark.moved(dx, dy))).collect();
        let Some(size) = bounds(&drawn) else { return vec![] };
        let room = Rect { right: size.left + size.width().max(WORDS_WIDE), ..size };
        let (words, foot) = paragraph(&self.detail_words(detail, scale), room, SIZE);
        let shift = foot - size.top + 2.0;
        let group = Group::new("joint-detail")
            .fact("use", joint.use_.word())
            .fact("joints", detail.all.iter().map(ToString::to_string).collect::<Vec<_>>().join(" "))
            .with(words)
            .with(drawn.iter().map(|mark| mark.moved(0.0, shift)));
        vec![group.into()]
    }

    /// What it is, how many there are, the holes each screw asks for, and who turns it from where.
    fn detail_words(&self, detail: &Detail, scale: Scale) -> String {
        let joint = detail.joint;
        let parts: Vec<String> = joint.parts.iter().map(|part| self.part_words(*part)).collect();
        let mut words = format!(
            "{}: {}, {} per frame, {scale}.",
            sentence_case(joint.use_.word()),
            parts.join(" / "),
            detail.all.len()
        );
        let mut told: Vec<(String, usize)> = Vec::new();
        for f in &joint.fasteners {
            let drill = |hole: Option<f64>| hole.map_or_else(String::new, |hole| drill_size(hole, self.units));
            let (clearance, lead) = (drill(f.clearance_hole_mm), drill(f.lead_hole_mm));
            let holes = match (joint.use_, f.kind) {
                (JointUse::Clip, FastenerKind::Bolt) => {
                    format!("hole {clearance} in the clip, through the panel maker's hole: never drill a panel")
                }
                (JointUse::PanelBolt, _) => {
                    format!("hole {clearance} in the purlin, through the panel maker's hole: never drill a panel")
                }
                (JointUse::Clip, _) => format!("through the clip, lead hole {lead} into {}", parts[0]),
                (_, FastenerKind::Bolt) => format!("hole {clearance}"),
                _ => format!("bore {clearance} through {}, lead hole {lead} into {}", parts[0], parts[parts.len() - 1]),
            };
            let what = format!("{}: {holes}", f.words(self.units));
            match told.iter_mut().find(|(same, _)| *same == what) {
                Some((_, count)) => *count += 1,
                None => told.push((what, 1)),
            }
        }
        for (what, count) in told {
            words += &format!(" {count} × {what}.");
        }
        words + &format!(" Turned in from {}.", joint.turned_from)
    }

    /// All fasteners and plates with some of the parts round them, and their whole depth (mm): low and high on each axis.
    fn region(&self, joint: &Joint) -> [[f64; 2]; 3] {
        let ends = joint.fasteners.iter().flat_map(|f| [f.at(-12.0), f.at(f.length_mm)]);
        let plates = joint.plates.iter().flat_map(|p| [p.origin, std::array::from_fn(|i| p.origin[i] + p.size[i])]);
        let points: Vec<[f64; 3]> = ends.chain(plates).collect();
        let parts: Vec<[[f64; 2]; 3]> = joint.parts.iter().map(|part| self.range_of(*part)).collect();
        let seats = matches!(joint.use_, JointUse::Clip | JointUse::PanelBolt);
        std::array::from_fn(|axis| {
            let least = points.iter().map(|p| p[axis]).fold(f64::MAX, f64::min);
            let most = points.iter().map(|p| p[axis]).fold(f64::MIN, f64::max);
            let mut range = [least - BEYOND_MM, most + BEYOND_MM];
            for [low, high] in parts.iter().map(|part| part[axis]) {
                let whole = high - low <= DEEPEST_MM && low < range[1] && high > range[0];
                let near = |edge: f64| (range[0] - END_NEAR_MM..=range[1] + END_NEAR_MM).contains(&edge);
                let shows = [low, high].map(|edge| !(seats && axis == 2) && (whole || near(edge)));
                if shows[0] {
                    range[0] = range[0].min(low - 6.0);
                }
                if shows[1] {
                    range[1] = range[1].max(high + 6.0);
                }
            }
            range
        })
    }

    /// Box of a part in frame coordinates (mm).
    fn range_of(&self, part: Part) -> [[f64; 2]; 3] {
        match part {
            Part::Panel(i) => {
                let panel = &self.frame.panels[i];
                [panel.x_mm, panel.u_mm, panel.w_mm]
            }
            Part::Stick(i) => {
                let corners = self.frame.sticks[i].corners();
                std::array::from_fn(|axis| {
                    let values = corners.map(|corner| corner[axis]);
                    [values.into_iter().fold(f64::MAX, f64::min), values.into_iter().fold(f64::MIN, f64::max)]
                })
            }
        }
    }

    /// One view: the parts inside the region, plates, and every fastener; dimensions above and at the left.
    fn one_view(&self, joint: &Joint, plane: Plane, region: [[f64; 2]; 3], scale: Scale, first: bool) -> Vec<Mark> {
        let [across, up] = plane.0;
        let shown =
            Bounds { left: region[across][0], right: region[across][1], low: region[up][0], high: region[up][1] };
        let view = View::new(scale, World::new(shown.left, shown.high), Point::default());
        let window = view.rect(shown);
        let mut group = Group { clip: Some(window), ..Group::new("view") };
        let mut places: Vec<(Point, String)> = Vec::new();
        for part in &joint.parts {
            let outline = self.outline(*part, plane);
            let pen = if matches!(part, Part::Panel(_)) { Pen::Phantom } else { Pen::Visible };
            group.marks.push(Mark::outline(view.all(&outline), pen));
            if let Some(place) = middle_within(&outline, shown) {
                let word = match part {
                    Part::Stick(i) => self.frame.mark(*i).to_string(),
                    Part::Panel(_) => "panel".to_string(),
                };
                places.push((view.at(place), word));
            }
        }
        for plate in &joint.plates {
            let far: [f64; 3] = std::array::from_fn(|i| plate.origin[i] + plate.size[i]);
            let (a, b) = (plane.of(plate.origin), plane.of(far));
            let body = Bounds { left: a.x.min(b.x), right: a.x.max(b.x), low: a.y.min(b.y), high: a.y.max(b.y) };
            group.marks.push(Mark::filled(view.rect(body).corners(), Pen::Visible, Fill::Hatch(45.0)));
        }
        for (n, f) in joint.fasteners.iter().enumerate() {
            let drawn = draw_fastener(f, self.through_mm(joint, f), plane, &view);
            group.marks.push(Group::new("screw").fact("n", n).with(drawn).into());
        }
        let mut marks: Vec<Mark> = vec![group.into()];
        marks.extend(self.sizes_of(joint, plane, region, &view, window, first));
        let mut labels = Labels::new();
        labels.avoid(&marks);
        for (at, word) in places {
            let ways = [9.0, 13.0, 18.0, 24.0, 31.0].into_iter().flat_map(|reach| {
                [315.0, 225.0, 45.0, 135.0, 0.0, 180.0].map(|way| leader(at, at.towards(way, reach), &word))
            });
            let room = Rect { right: window.right + 14.0, bottom: window.bottom + 8.0, ..window };
            marks.extend(labels.place(room, ways).unwrap_or_default());
        }
        marks
    }

    /// Outline of a part in a plane; a mitred piece with its mitres.
    fn outline(&self, part: Part, plane: Plane) -> Vec<World> {
        if let Part::Stick(i) = part
            && plane == FRONT
        {
            return super::drafter::front_outline(&self.frame.sticks[i]);
        }
        let range = self.range_of(part);
        let [[left, right], [low, high]] = plane.0.map(|axis| range[axis]);
        vec![World::new(left, low), World::new(right, low), World::new(right, high), World::new(left, high)]
    }

    /// How far a fastener runs in its first part (mm).
    fn through_mm(&self, joint: &Joint, f: &Fastener) -> f64 {
        let Some(Part::Stick(i)) = joint.parts.first() else { return 0.0 };
        let axis = self.axis_of(f);
        let [low, high] = self.range_of(Part::Stick(*i))[axis];
        let far = if f.axis[axis] > 0.0 { high } else { low };
        ((far - f.from[axis]) / f.axis[axis]).clamp(0.0, f.length_mm)
    }

    fn axis_of(&self, f: &Fastener) -> usize {
        (0..3).max_by(|a, b| f.axis[*a].abs().total_cmp(&f.axis[*b].abs())).unwrap_or(0)
    }

    /// From an edge to every row of fasteners, along both axes of the view; the second view leaves out what the first has.
    fn sizes_of(
        &self,
        joint: &Joint,
        plane: Plane,
        region: [[f64; 2]; 3],
        view: &View,
        window: Rect,
        first: bool,
    ) -> Vec<Mark> {
        let mut marks = Vec::new();
        let shared = |axis: usize| {
            !first && (axis == 1 || (axis == 0 && plane == ABOVE)) && joint.use_ != JointUse::Clip
                || !first && joint.use_ == JointUse::Clip && axis == 0
        };
        for (axis, side) in [(plane.0[0], Side::Above), (plane.0[1], Side::Left)] {
            if shared(axis) {
                continue;
            }
            let base = if side == Side::Above { window.top } else { window.left };
            let stack = Stack::new(side, base).starting(5.0);
            // The sizes on the left may reach up past the corner.
            let mut stack = if side == Side::Above { stack.texts_high() } else { stack };
            let at = |value: f64| match side {
                Side::Above => Point::new(view.at(World::new(value, region[plane.0[1]][1])).x, window.top),
                _ => Point::new(window.left, view.at(World::new(region[plane.0[0]][0], value)).y),
            };
            // Where the fasteners start is what is marked; those on their side are measured by their length too.
            let mut rows: Vec<f64> =
                joint.fasteners.iter().filter(|f| f.axis[axis].abs() < 0.9).map(|f| f.from[axis]).collect();
            rows.sort_by(f64::total_cmp);
            rows.dedup_by(|a, b| (*a - *b).abs() < 0.3);
            if let Some(edge) = self.edge_beside(joint, axis, &rows, region[axis]) {
                for row in &rows {
                    stack.add(at(edge), at(*row), &self.fine((row - edge).abs()));
                }
            }
            let along = joint.fasteners.iter().filter(|f| f.axis[axis].abs() >= 0.9);
            let mut lengths: Vec<[f64; 2]> = along.map(|f| [f.from[axis], f.at(f.length_mm)[axis]]).collect();
            lengths.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
            lengths.dedup_by(|a, b| (a[0] - b[0]).abs() < 0.3 && (a[1] - b[1]).abs() < 0.3);
            if let Some([from, tip]) = lengths.first() {
                stack.add(at(*from), at(*tip), &self.fine((tip - from).abs()));
                // The clearance hole ends where the first part does.
                let first = joint.fasteners.iter().find(|f| f.axis[axis].abs() >= 0.9 && f.lead_hole_mm.is_some());
                let through = first.map_or(0.0, |f| self.through_mm(joint, f));
                if through > 0.5 {
                    let inner = from + (tip - from).signum() * through;
                    stack.add(at(*from), at(inner), &self.fine(through));
                }
            }
            marks.extend(stack.draw().0);
        }
        marks
    }

    /// The edge that rows of fasteners are measured from: the front face; else of the first part the end or face that is
    /// shown, else of the next one.
    fn edge_beside(&self, joint: &Joint, axis: usize, rows: &[f64], [low, high]: [f64; 2]) -> Option<f64> {
        let (least, most) = (rows.first()?, rows.last()?);
        if axis == 2 {
            let sticks = joint.parts.iter().filter(|part| matches!(part, Part::Stick(_)));
            return sticks.map(|part| self.range_of(*part)[2][1]).reduce(f64::max);
        }
        let edges = joint.parts.iter().flat_map(|part| self.range_of(*part)[axis]);
        let outside = |edge: &f64| (low..=high).contains(edge) && (*edge <= least + 0.1 || *edge >= most - 0.1);
        let apart = |edge: f64| (least - edge).abs().min((most - edge).abs());
        // What lies right on the row would measure nothing.
        edges.filter(outside).filter(|edge| apart(*edge) > 0.5).min_by(|a, b| apart(*a).total_cmp(&apart(*b)))
    }
}

/// The axis along which most of a joint's fasteners run.
fn long_axis(joint: &Joint) -> usize {
    let along = |axis: usize| joint.fasteners.iter().map(|f| f.axis[axis].abs()).sum::<f64>();
    (0..3).max_by(|a, b| along(*a).total_cmp(&along(*b))).unwrap_or(0)
}

/// Middle of what of an outline's box is shown.
fn middle_within(outline: &[World], shown: Bounds) -> Option<World> {
    let b = Bounds::around(outline.iter().copied())?;
    let (left, right) = (b.left.max(shown.left), b.right.min(shown.right));
    let (low, high) = (b.low.max(shown.low), b.high.min(shown.high));
    (left < right && low < high).then(|| World::new(left + 0.8 * (right - left), low + 0.2 * (high - low)))
}

/// Shank, head, nut and washers of one fastener, and its lead hole beyond the first part; on its end as a ring and a cross.
fn draw_fastener(f: &Fastener, through_mm: f64, plane: Plane, view: &View) -> Vec<Mark> {
    let run = plane.0.map(|axis| f.axis[axis]);
    let seen = run[0].hypot(run[1]);
    if seen < 0.3 {
        let at = view.at(plane.of(f.from));
        let ring =
            Mark::Circle { centre: at, radius: view.length(f.diameter_mm / 2.0), pen: Pen::Visible, fill: Fill::Paper };
        return std::iter::once(ring)
            .chain(Mark::cross(at, view.length(f.diameter_mm / 2.0) + 2.0, Pen::Centre))
            .collect();
    }
    let square = [-run[1] / seen, run[0] / seen];
    let body = |from: f64, to: f64, wide: f64| {
        let corner = |along: f64, out: f64| {
            let p = plane.of(f.at(along));
            view.at(World::new(p.x + square[0] * out, p.y + square[1] * out))
        };
        let half = wide / 2.0;
        vec![corner(from, -half), corner(to, -half), corner(to, half), corner(from, half)]
    };
    let solid = |points: Vec<Point>, fill: Fill| Mark::filled(points, Pen::Visible, fill);
    let mut marks = Vec::new();
    if let Some(lead) = f.lead_hole_mm {
        marks.push(Mark::outline(body(through_mm, f.length_mm, lead.max(f.diameter_mm)), Pen::Hidden));
        marks.push(solid(body(0.0, through_mm.max(1.0), f.diameter_mm), Fill::Paper));
        marks.push(solid(body(through_mm, f.length_mm, lead), Fill::Paper));
    } else {
        marks.push(solid(body(0.0, f.length_mm, f.diameter_mm), Fill::Paper));
    }
    let disc = |d: Disc| body(d.at_mm, d.at_mm + d.thickness_mm, d.diameter_mm);
    match (f.kind, f.head) {
        (FastenerKind::WoodScrew, None) => marks.push(solid(body(-0.4, 2.0, 2.0 * f.diameter_mm), Fill::Ink)),
        (_, head) => marks.extend(head.map(|d| solid(disc(d), Fill::Paper))),
    }
    marks.extend(f.nut.map(|d| solid(disc(d), Fill::Paper)));
    marks.extend(f.washers.iter().map(|d| solid(disc(*d), Fill::Ink)));
    let ends = [view.at(plane.of(f.at(-8.0))), view.at(plane.of(f.at(f.length_mm + 5.0)))];
    marks.push(Mark::line(ends[0], ends[1], Pen::Centre));
    marks
}
