//! The part with the hole row at full size, cut into pages.

use super::drafter::{Drafter, part};
use super::drilling::{sixty_fourths, tilts_word, use_word};
use crate::{
    frame::{Hole, HoleUse, Piece},
    quantities::{Units, number},
    sheets::{
        geometry::{Bounds, Point, Rect, World},
        mark::{Group, Mark},
        page::Page,
        pen::Pen,
        sheet::Sheet,
        text::{Anchor, Text, TextSize, width},
        tile::Tiling,
        view::{Scale, View},
    },
};

/// Length shown past the last hole of a part that runs on (mm).
const PAST_LAST_HOLE_MM: f64 = 60.0;
const SIZE: TextSize = TextSize::Small;

impl Drafter<'_> {
    /// The part with the hole row at full size.
    pub(super) fn row_template(&self) -> Vec<Sheet> {
        let piece = &self.frame.pieces[self.frame.row_piece];
        let title = format!("Drilling template {}, {}", piece.mark, piece.role.word());
        self.piece_template(piece, &format!("template-{}", piece.mark), &title, 0)
    }

    /// A drilled part at full size on as few pages as it takes; rows are called by letters from `letter`.
    pub(super) fn piece_template(&self, piece: &Piece, slug: &str, title: &str, letter: usize) -> Vec<Sheet> {
        let (area, marks) = self.full_size(piece);
        let like = self.sheet(slug, title, Page::landscape(self.paper));
        Tiling::fewest(area, like.page).lettered(letter).sheets(&like, &marks)
    }

    /// The long drawing: marked end at x = 0, gauge face along the foot, so that gauge runs up.
    fn full_size(&self, piece: &Piece) -> (Rect, Vec<Mark>) {
        let view = View::new(Scale::FULL, World::default(), Point::default());
        let depth = shown_depth(piece);
        let last = piece.holes.iter().map(|hole| hole.from_end_mm).fold(0.0, f64::max);
        let end = (last + PAST_LAST_HOLE_MM).min(piece.length_mm);
        let mut marks = outline(&view, end, depth, [end < piece.length_mm, depth < piece.section.depth_mm]);
        for hole in piece.holes.iter().filter(|hole| hole.gauge_mm + 0.5 * hole.diameter_mm < depth) {
            marks.push(self.hole(&view, piece, hole));
        }
        let gauge_words = "gauge face";
        let foot = view.at(World::new(6.0, 1.2 + SIZE.below()));
        marks.push(Text::new(gauge_words, foot, SIZE).into());
        let beside = view.at(World::new(2.0 + SIZE.above(), 0.5 * depth));
        let words = format!("{}, marked end", piece.mark);
        marks.push(Text::new(&words, beside, SIZE).anchored(Anchor::Middle).rotated(90.0).into());
        let size = crate::sheets::mark::bounds(&marks).unwrap_or(view.rect(Bounds {
            left: 0.0,
            low: 0.0,
            right: end,
            high: depth,
        }));
        (size, marks)
    }

    fn hole(&self, view: &View, piece: &Piece, hole: &Hole) -> Mark {
        let radius = 0.5 * hole.diameter_mm;
        let at = view.at(World::new(hole.from_end_mm, hole.gauge_mm));
        let group = part(&piece.mark, if hole.use_ == HoleUse::Row { "row-hole" } else { "hole" })
            .fact("from-end-mm", number(hole.from_end_mm, 4))
            .fact("gauge-mm", number(hole.gauge_mm, 4))
            .fact("tilts-deg", tilts_word(&hole.tilts_deg));
        let group = group
            .with([Mark::circle(at, radius, Pen::Template)])
            .with(Mark::cross(at, radius + 3.0, Pen::Template))
            .with([Mark::circle(at, 0.4, Pen::Template)]);
        self.hole_words(view, piece, hole, group).into()
    }

    /// Two lines along the hole's upright: what it holds, and where it is. They stand inside the part below or above the hole when there
    /// is room, else above the part.
    fn hole_words(&self, view: &View, piece: &Piece, hole: &Hole, group: Group) -> Group {
        let what = match hole.use_ {
            HoleUse::Row => format!("tilt {}", tilts_word(&hole.tilts_deg)),
            other => use_word(other).to_string(),
        };
        let drill = match self.units {
            Units::Us => sixty_fourths(hole.diameter_mm),
            Units::Metric => format!("{} mm", number(hole.diameter_mm, 1)),
        };
        let lines = [format!("{what}, drill {drill}"), format!("{} from end", self.show(hole.from_end_mm))];
        let needed = lines.iter().map(|line| width(line, SIZE, false)).fold(0.0, f64::max);
        let clear = 0.5 * hole.diameter_mm + 4.0;
        let foot = if needed + 1.0 <= hole.gauge_mm - clear {
            hole.gauge_mm - clear - needed
        } else if hole.gauge_mm + clear + needed + 1.0 <= shown_depth(piece) {
            hole.gauge_mm + clear
        } else {
            shown_depth(piece) + 2.0
        };
        let [first, second] = lines;
        // Either line stands clear of the upright through the centre.
        let left = view.at(World::new(hole.from_end_mm - 0.8 - SIZE.below(), foot));
        let right = view.at(World::new(hole.from_end_mm + 0.8 + SIZE.above(), foot));
        group.with([
            Text::new(&first, left, SIZE).rotated(90.0).into(),
            Text::new(&second, right, SIZE).rotated(90.0).into(),
        ])
    }
}

/// Depth shown of a part (mm): all of it, or of a deep one what lies between the gauge face and a little past the hole row. Holes
/// farther out are left to the drilling schedule.
fn shown_depth(piece: &Piece) -> f64 {
    const DEEP_MM: f64 = 130.0;
    const PAST_MM: f64 = 10.0;
    let row = piece.holes.iter().filter(|hole| hole.use_ == HoleUse::Row);
    let farthest = row.map(|hole| hole.gauge_mm + 0.5 * hole.diameter_mm).fold(0.0, f64::max);
    if piece.section.depth_mm > DEEP_MM {
        (farthest + PAST_MM).min(piece.section.depth_mm)
    } else {
        piece.section.depth_mm
    }
}

/// The part's outline; where it runs on, in length or in depth, a break line instead of the edge.
fn outline(view: &View, end: f64, depth: f64, [long, deep]: [bool; 2]) -> Vec<Mark> {
    let at = |x: f64, y: f64| view.at(World::new(x, y));
    let edge = |from: [f64; 2], to: [f64; 2], broken: bool| {
        let (a, b) = (at(from[0], from[1]), at(to[0], to[1]));
        if broken {
            Mark::Polyline { points: break_line(a, b), pen: Pen::Dimension }
        } else {
            Mark::line(a, b, Pen::Visible)
        }
    };
    vec![
        edge([0.0, 0.0], [0.0, depth], false),
        edge([0.0, 0.0], [end, 0.0], false),
        edge([0.0, depth], [end, depth], deep),
        edge([end, 0.0], [end, depth], long),
    ]
}

/// A thin line with a zigzag in its middle (ISO 128-2, line type for the limit of interrupted views; from memory).
fn break_line(from: Point, to: Point) -> Vec<Point> {
    const HALF: f64 = 3.0;
    let (along, across) = (from.angle_to_deg(to), from.angle_to_deg(to) + 90.0);
    let middle = from.middle(to);
    let tooth = |along_by: f64, across_by: f64| middle.towards(along, along_by).towards(across, across_by);
    vec![from, tooth(-HALF, 0.0), tooth(-0.5 * HALF, HALF), tooth(0.5 * HALF, -HALF), tooth(HALF, 0.0), to]
}
