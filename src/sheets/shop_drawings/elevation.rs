//! The frame seen square to its face, as it lies on the bench: sizes, part marks, outer diagonals.

use super::drafter::{Drafter, draw_to_fit, front_outline, part};
use crate::{
    frame::{Body, HoleUse, Role, Stick},
    sheets::{
        dimension::{Feature, Labels, Side, Stack, leader, readable_deg, running},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Mark},
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize},
        view::View,
    },
};

/// Places closer than this are one (mm).
const SAME_MM: f64 = 0.5;

impl Drafter<'_> {
    /// The frame seen square to its face.
    pub(super) fn elevation(&self) -> Vec<Sheet> {
        let drawn = self.pages().map(|page| {
            let (scale, marks) = draw_to_fit(page.window(), |view| self.front(view));
            (page, scale, marks)
        });
        let [upright, side] = drawn;
        let (page, scale, marks) = if side.1 < upright.1 { side } else { upright };
        let title = "Frame, seen square to its face";
        vec![self.sheet("elevation", title, page).at_scale(SheetScale::One(scale)).with(marks)]
    }

    /// Corners of the frame over all, from the low left one.
    pub(super) fn outer(&self) -> Bounds {
        let half = 0.5 * self.frame.width_mm;
        let low = self.frame.low_edge_u_mm;
        Bounds { left: -half, low, right: half, high: low + self.frame.length_mm }
    }

    fn front(&self, view: &View) -> Vec<Mark> {
        let mut marks = self.members(view);
        marks.extend(self.panel_outlines(view));
        marks.extend(self.turning_lines(view));
        let outer = view.rect(self.outer());
        marks.extend(
            [(outer.corners()[3], outer.corners()[1]), (outer.corners()[0], outer.corners()[2])]
                .map(|(from, to)| Mark::line(from, to, Pen::Ray)),
        );
        marks.extend(self.sizes(view));
        let mut labels = Labels::new();
        labels.avoid(&marks);
        marks.extend(self.diagonal_texts(view, &mut labels));
        marks.extend(self.part_marks(view, &mut labels));
        marks
    }

    /// Members from the back to the front, each hiding what lies behind it.
    pub(super) fn members(&self, view: &View) -> Vec<Mark> {
        let front = |stick: &Stick| stick.corners().iter().map(|corner| corner[2]).fold(f64::MIN, f64::max);
        let mut sticks: Vec<_> = self.frame.sticks_of(Body::Frame).collect();
        sticks.sort_by(|a, b| front(a.1).total_cmp(&front(b.1)));
        let draw = |(n, stick): (usize, &Stick)| {
            let outline = Mark::filled(view.all(&front_outline(stick)), Pen::Visible, Fill::Paper);
            part(self.frame.mark(n), stick.role.word()).with([outline]).into()
        };
        sticks.into_iter().map(draw).collect()
    }

    fn panel_outlines(&self, view: &View) -> Vec<Mark> {
        let outline = |panel: &crate::frame::PanelPlace| {
            let bounds = Bounds { left: panel.x_mm[0], right: panel.x_mm[1], low: panel.u_mm[0], high: panel.u_mm[1] };
            Mark::rect(view.rect(bounds), Pen::Phantom)
        };
        self.frame.panels.iter().map(outline).collect()
    }

    /// Centre lines of axle or hinge and of the frame pins, run out a little past the frame.
    fn turning_lines(&self, view: &View) -> Vec<Mark> {
        let outer = self.outer();
        let line = |u: f64| {
            let (left, right) = (view.at(World::new(outer.left, u)), view.at(World::new(outer.right, u)));
            Mark::line(left.moved(-3.0, 0.0), right.moved(3.0, 0.0), Pen::Centre)
        };
        vec![line(0.0), line(self.frame.linkage.frame_pin()[0])]
    }

    fn sizes(&self, view: &View) -> Vec<Mark> {
        let (world, paper) = (self.outer(), view.rect(self.outer()));
        let mut marks = Vec::new();
        let mut across = Stack::new(Side::Below, paper.bottom);
        let mut up = Stack::new(Side::Left, paper.left);
        let lowest = self.frame.bays.iter().map(|bay| bay.u_mm[0]).fold(f64::MAX, f64::min);
        for bay in self.frame.bays.iter().filter(|bay| bay.u_mm[0] < lowest + SAME_MM) {
            let ends = bay.x_mm.map(|x| view.at(World::new(x, world.low)));
            across.add(ends[0], ends[1], &self.show(bay.x_mm[1] - bay.x_mm[0]));
        }
        let leftmost = self.frame.bays.iter().map(|bay| bay.x_mm[0]).fold(f64::MAX, f64::min);
        for bay in self.frame.bays.iter().filter(|bay| bay.x_mm[0] < leftmost + SAME_MM) {
            let ends = bay.u_mm.map(|u| view.at(World::new(world.left, u)));
            up.add(ends[0], ends[1], &self.show(bay.u_mm[1] - bay.u_mm[0]));
        }
        let [low_left, low_right, high_left] =
            [(world.left, world.low), (world.right, world.low), (world.left, world.high)]
                .map(|(x, u)| view.at(World::new(x, u)));
        across.add(low_left, low_right, &self.show(self.frame.width_mm));
        up.add(low_left, high_left, &self.show(self.frame.length_mm));
        marks.extend(across.draw().0);
        marks.extend(up.draw().0);
        let feature = |place: World, text: String| Feature { at: view.at(place), text };
        let uprights = self.places(&[Role::Stile, Role::Mullion, Role::Cleat], 0);
        let features: Vec<_> = uprights
            .iter()
            .filter(|x| **x > world.left + SAME_MM)
            .map(|x| feature(World::new(*x, world.high), self.show(x - world.left)))
            .collect();
        let datum = feature(World::new(world.left, world.high), "0".to_string());
        marks.extend(running(Side::Above, paper.top, &datum, &features).0);
        let mut levels: Vec<(f64, &str)> =
            self.places(&[Role::Rail, Role::MidRail, Role::Purlin], 1).into_iter().map(|u| (u, "")).collect();
        levels.retain(|(u, _)| *u > world.low + SAME_MM);
        levels.push((0.0, self.frame.turns_on().word()));
        levels.push((self.frame.linkage.frame_pin()[0], HoleUse::FramePin.word()));
        let features: Vec<_> = levels
            .iter()
            .map(|(u, word)| {
                feature(
                    World::new(world.right, *u),
                    format!("{} {word}", self.show(u - world.low)).trim_end().to_string(),
                )
            })
            .collect();
        let datum = feature(World::new(world.right, world.low), "0".to_string());
        marks.extend(running(Side::Right, paper.right, &datum, &features).0);
        marks
    }

    /// Where sticks of some roles begin along an axis (0 across, 1 up), lowest first, without doubles (mm).
    fn places(&self, roles: &[Role], axis: usize) -> Vec<f64> {
        let least = |stick: &Stick| stick.corners().iter().map(|corner| corner[axis]).fold(f64::MAX, f64::min);
        let sticks = self.frame.sticks_of(Body::Frame).filter(|(_, stick)| roles.contains(&stick.role));
        let mut places: Vec<f64> = sticks.map(|(_, stick)| least(stick)).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
        places
    }

    /// The two outer diagonals are equal; each gets its length where there is room along it.
    fn diagonal_texts(&self, view: &View, labels: &mut Labels) -> Vec<Mark> {
        let words = self.show(self.frame.width_mm.hypot(self.frame.length_mm));
        let [high_left, high_right, low_right, low_left] = view.rect(self.outer()).corners();
        let mut marks = Vec::new();
        for (from, to) in [(low_left, high_right), (low_right, high_left)] {
            let reading = readable_deg(from.angle_to_deg(to));
            let way = |share: f64| {
                let on_line = Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y));
                let lift = on_line.towards(reading + 90.0, 0.4 + TextSize::Small.below());
                let text = Text::new(&words, lift, TextSize::Small).anchored(Anchor::Middle).rotated(reading);
                Mark::patched(text).to_vec()
            };
            let shares = [0.3, 0.7, 0.35, 0.65, 0.25, 0.75, 0.2, 0.8, 0.4, 0.6, 0.15, 0.85];
            marks.extend(labels.place(EVERYWHERE, shares.map(way)).unwrap_or_default());
        }
        marks
    }

    fn part_marks(&self, view: &View, labels: &mut Labels) -> Vec<Mark> {
        let mut marks = Vec::new();
        for (n, stick) in self.frame.sticks_of(Body::Frame) {
            let outline = view.all(&front_outline(stick));
            let ways = mark_ways(&outline, self.frame.mark(n));
            marks.extend(labels.place(EVERYWHERE, ways).unwrap_or_default());
        }
        marks
    }
}

/// Labels are placed before the drawing is put on the page, so any place will do.
pub(super) const EVERYWHERE: Rect = Rect { left: -1e9, top: -1e9, right: 1e9, bottom: 1e9 };

/// Ways to write a part's mark: a short leader from a place along the part into the open beside it.
pub(super) fn mark_ways(outline: &[Point], mark: &str) -> Vec<Vec<Mark>> {
    let [a, b, c, d] = outline else { return vec![] };
    // The long middle line of the part.
    let (from, to) =
        if a.distance(*b) >= b.distance(*c) { (a.middle(*d), b.middle(*c)) } else { (a.middle(*b), d.middle(*c)) };
    let mut ways = Vec::new();
    for share in [0.42, 0.58, 0.3, 0.7, 0.2, 0.8, 0.12, 0.88, 0.5] {
        let at = Point::new(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y));
        for reach in [5.0, 8.0, 12.0, 17.0, 23.0] {
            for (x, y) in [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)] {
                ways.push(leader(at, at.moved(x * 0.7 * reach, y * reach), mark));
            }
        }
    }
    ways
}
