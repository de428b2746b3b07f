//! How the panels sit: two cuts through the edge of the frame and one through a member between panels, at half size.

use super::drafter::{Drafter, draw_to_fit, paragraph};
use crate::{
    design::Seating,
    frame::{Body, PanelPlace, Stick},
    quantities::{Units, number, to_mm},
    sheets::{
        dimension::{Side, Stack},
        geometry::{Bounds, Point, Rect, World},
        mark::{Fill, Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize},
        view::{Scale, View},
    },
};

/// Shown each way from the spot a detail is about, when nothing asks for more (mm).
const REACH_MM: f64 = 85.0;

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
            "{how} Sizes are nominal; a panel may differ from its size by {tolerance}. Measure a panel before cutting. Leave air behind the \
             panels and a way for water; never drill a panel's own frame. Hold panels only where their data sheet allows it.",
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
        let low = (face - self.frame.depth_mm - 12.0).max(face - 1.1 * REACH_MM);
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
            let corners = view.rect(end_view(stick, cut.axis)).corners();
            let fill = if whole { Fill::Hatch(45.0) } else { Fill::Paper };
            group.marks.push(Mark::filled(corners, if whole { Pen::Visible } else { Pen::Dimension }, fill));
        }
        for panel in &self.frame.panels {
            let (along, other) = if cut.axis == 0 { (panel.x_mm, panel.u_mm) } else { (panel.u_mm, panel.x_mm) };
            if (other[0]..=other[1]).contains(&cut.plane) {
                let body = Bounds { left: along[0], right: along[1], low: panel.w_mm[0], high: panel.w_mm[1] };
                group.marks.push(Mark::filled(view.rect(body).corners(), Pen::Visible, Fill::Hatch(135.0)));
            }
        }
        let mut marks = vec![group.into()];
        marks.extend(self.detail_sizes(cut, &view, window));
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
            above.add(ends[0], ends[1], &self.fine(pair[1] - pair[0]));
        }
        let face = self.frame.face_w_mm;
        let mut right = Stack::new(Side::Right, window.right).starting(4.0);
        if let Some(panel) = self.frame.panels.first() {
            let at = |w: f64| Point::new(window.right, view.at(World::new(0.0, w)).y);
            right.add(
                at(panel.w_mm[0]),
                at(panel.w_mm[1]),
                &format!("{} panel", self.fine(panel.w_mm[1] - panel.w_mm[0])),
            );
            for (w, word) in [(panel.w_mm[1], "front over face"), (panel.w_mm[0], "back over face")] {
                let over = w - face;
                if over.abs() > 0.3 {
                    let word = if over < 0.0 { "back under face" } else { word };
                    right.add(at(face), at(w), &format!("{} {word}", self.fine(over.abs())));
                }
            }
        }
        above.draw().0.into_iter().chain(right.draw().0).collect()
    }

    /// Small sizes: on the tape when they lie on a mark, else in decimals.
    pub(super) fn fine(&self, value_mm: f64) -> String {
        use crate::quantities::{MM_PER_INCH, Tape};
        let off = (Tape::of(self.units).nearest_mm(value_mm) - value_mm).abs();
        match self.units {
            _ if off < 0.02 => self.show(value_mm),
            Units::Us => format!("{} in", number(value_mm / MM_PER_INCH, 3)),
            Units::Metric => format!("{} mm", number(value_mm, 1)),
        }
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

/// Whether the cutting plane goes square through the stick.
fn is_cut(stick: &Stick, cut: &Cut) -> bool {
    let other = 1 - cut.axis;
    let [low, high] = range(stick, other);
    stick.along[other].abs() > 0.99 && (low..=high).contains(&cut.plane)
}

/// Whether a stick that runs along the cut is worth drawing behind it: purlins, which the panels lie on.
fn lies_beyond(stick: &Stick) -> bool {
    stick.role == crate::frame::Role::Purlin
}
