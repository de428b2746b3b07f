//! Who draws: the frame, the paper, and the habits all shop drawings share.

use crate::{
    design::Design,
    frame::{Body, Frame, Stick},
    quantities::{Units, length, mm},
    sheets::{
        geometry::{Point, Rect, World},
        mark::{Group, Mark, bounds},
        page::{Page, Paper},
        sheet::Sheet,
        text::{Text, TextSize, wrap},
        view::{Scale, View},
    },
};

/// Draws one frame of a design on one kind of paper.
#[derive(Debug, Clone, Copy)]
pub struct Drafter<'a> {
    /// The design, for its name and panels.
    pub design: &'a Design,
    /// The frame as laid out.
    pub frame: &'a Frame,
    /// Paper of all sheets.
    pub paper: Paper,
    /// Units of all dimensions.
    pub units: Units,
    /// Depth below grade that soil and frost ask of a post (mm), infinite where none is enough; none where it was not
    /// computed.
    pub depth_asked_mm: Option<f64>,
}

impl Drafter<'_> {
    /// A length as it is taped.
    pub(super) fn show(&self, value_mm: f64) -> String {
        length(mm(value_mm), self.units)
    }

    pub(super) fn sheet(&self, slug: &str, title: &str, page: Page) -> Sheet {
        Sheet::new(slug, title, &self.design.name, page, self.units)
    }

    /// Both ways to lay the paper.
    pub(super) fn pages(&self) -> [Page; 2] {
        [Page::portrait(self.paper), Page::landscape(self.paper)]
    }
}

/// Draws at the largest scale for frames at which everything fits the room, labels and dimensions included, and puts it in the middle.
pub(super) fn draw_to_fit(room: Rect, draw: impl Fn(&View) -> Vec<Mark>) -> (Scale, Vec<Mark>) {
    for scale in Scale::for_frames() {
        let marks = draw(&View::new(scale, World::default(), Point::default()));
        let Some(size) = bounds(&marks) else { return (scale, marks) };
        if size.width() <= room.width() && size.height() <= room.height() {
            let (from, to) = (size.centre(), room.centre());
            return (scale, marks.iter().map(|mark| mark.moved(to.x - from.x, to.y - from.y)).collect());
        }
    }
    unreachable!("at 1:10 000 000 labels alone are left, and rooms are chosen larger than those")
}

/// Lines of running text from the top of a room; returns the marks and the foot of the last line.
pub(super) fn paragraph(words: &str, room: Rect, size: TextSize) -> (Vec<Mark>, f64) {
    let lines = wrap(words, size, false, room.width());
    let at = |n: usize| Point::new(room.left, room.top + size.above() + n as f64 * size.line_pitch());
    let marks = lines.iter().enumerate().map(|(n, line)| Text::new(line, at(n), size).into()).collect();
    (marks, room.top + lines.len() as f64 * size.line_pitch())
}

/// A group named for a part, so that it can be found in the file.
pub(super) fn part(mark: &str, name: &str) -> Group {
    Group::new(name).fact("part", mark)
}

/// Outline of a frame stick seen from the front: x across, u up. A mitred piece is drawn with its mitres.
pub(super) fn front_outline(stick: &Stick) -> Vec<World> {
    debug_assert_eq!(stick.body, Body::Frame, "only the frame has a front view");
    if stick.ends_deg != [0.0; 2] {
        return mitred_outline(stick);
    }
    let corners = stick.corners().map(|corner| World::new(corner[0], corner[1]));
    let Some(b) = crate::sheets::geometry::Bounds::around(corners) else { return vec![] };
    vec![World::new(b.left, b.low), World::new(b.right, b.low), World::new(b.right, b.high), World::new(b.left, b.high)]
}

/// Outline in the side view of its body (mm). A mitred piece lies flat in the frame and reaches only as far as its mitres do.
pub(super) fn side_outline(stick: &Stick) -> Vec<[f64; 2]> {
    if stick.ends_deg == [0.0; 2] {
        return stick.side_outline();
    }
    let half = 0.5 * stick.section.width_mm;
    let up: Vec<f64> = mitred_outline(stick).iter().map(|point| point.y).collect();
    let (low, high) = (up.iter().copied().fold(f64::MAX, f64::min), up.iter().copied().fold(f64::MIN, f64::max));
    let (back, front) = (stick.start[2] - half, stick.start[2] + half);
    vec![[low, back], [high, back], [high, front], [low, front]]
}

/// Outline of a flat piece whose ends are cut at angles from square: long edge first, then the short edge.
fn mitred_outline(stick: &Stick) -> Vec<World> {
    let depth = stick.section.depth_mm;
    let back = stick.ends_deg.map(|end_deg| depth * end_deg.to_radians().tan());
    let at = |along: f64, across: f64| {
        let place: [f64; 2] =
            std::array::from_fn(|i| stick.start[i] + stick.along[i] * along + stick.across[i] * across);
        World::new(place[0], place[1])
    };
    vec![at(0.0, 0.0), at(stick.length_mm, 0.0), at(stick.length_mm - back[1], depth), at(back[0], depth)]
}
