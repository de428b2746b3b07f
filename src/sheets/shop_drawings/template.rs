//! The part with the hole row at full size, cut into pages.

use super::drafter::{Drafter, part};
use crate::sheets::tables::tilts as tilts_word;
use crate::{
    frame::{Hole, HoleUse, Piece},
    quantities::number,
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
/// From the edge of the strip to the words below it, clear of the words at the holes (mm).
const WORDS_BELOW_MM: f64 = 48.0;
/// From the edge of the strip to the words at a hole, clear of the teeth of a break line (mm).
const CLEAR_OF_BREAK_MM: f64 = 4.0;
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

    /// The long drawing: marked end at x = 0 on the left, gauge face along y = 0 at the top, so that the gauge runs down: the way round
    /// in which the side view shows stays and runners.
    fn full_size(&self, piece: &Piece) -> (Rect, Vec<Mark>) {
        let view = View::new(Scale::FULL, World::default(), Point::default());
        let depth = shown_depth(piece);
        let last = piece.holes.iter().map(|hole| hole.from_end_mm).fold(0.0, f64::max);
        let end = (last + PAST_LAST_HOLE_MM).min(piece.length_mm);
        let mut marks = outline(&view, end, depth, [end < piece.length_mm, depth < piece.section.depth_mm]);
        for hole in piece.holes.iter().filter(|hole| on_strip(hole, depth)) {
            marks.push(self.hole(&view, piece, hole));
        }
        let face = format!("gauge face = {}", self.gauge_face(piece));
        let beside = view.at(World::new(2.0 + SIZE.above(), -0.5 * depth));
        let words = format!("{}, marked end", piece.mark);
        let end_words = self.marked_end(piece);
        // The two lines read up the end; on a shallow part they reach the words along the gauge face, which then start
        // beyond them.
        let upright = width(&words, SIZE, false).max(width(&format!("= {end_words}"), SIZE, false));
        let meets = 0.5 * (depth + upright) + 1.2 + SIZE.line_pitch() > depth;
        let from_end = if meets { 4.0 + SIZE.above() + 2.0 * SIZE.line_pitch() } else { 6.0 };
        let under_edge = view.at(World::new(from_end, -1.2 - SIZE.above()));
        marks.push(Text::new(&face, under_edge, SIZE).into());
        marks.push(Text::new(&words, beside, SIZE).anchored(Anchor::Middle).rotated(90.0).into());
        let beside = beside.moved(SIZE.line_pitch(), 0.0);
        marks.push(Text::new(&format!("= {end_words}"), beside, SIZE).anchored(Anchor::Middle).rotated(90.0).into());
        marks.extend(self.cut_off_words(&view, piece, depth));
        let size = crate::sheets::mark::bounds(&marks).unwrap_or(view.rect(Bounds {
            left: 0.0,
            low: -depth,
            right: end,
            high: 0.0,
        }));
        (size, marks)
    }

    /// Below a strip that shows only a part of the depth: that it does, and the holes it leaves out.
    fn cut_off_words(&self, view: &View, piece: &Piece, depth: f64) -> Vec<Mark> {
        if depth >= piece.section.depth_mm {
            return vec![];
        }
        let mut lines = vec![format!(
            "Broken line: not an edge. {} is {} deep; only the strip along its gauge face is drawn.",
            piece.mark,
            self.show(piece.section.depth_mm)
        )];
        for hole in piece.holes.iter().filter(|hole| !on_strip(hole, depth)) {
            lines.push(format!(
                "Not on this strip: {} hole, drill {}, {} from the marked end, {} from the gauge face.",
                hole.use_.word(),
                self.drill(hole),
                self.show(hole.from_end_mm),
                self.show(hole.gauge_mm),
            ));
        }
        let at = |n: usize| {
            let below = depth + WORDS_BELOW_MM + SIZE.above() + n as f64 * SIZE.line_pitch();
            view.at(World::new(0.0, -below))
        };
        lines.iter().enumerate().map(|(n, line)| Text::new(line, at(n), SIZE).into()).collect()
    }

    fn hole(&self, view: &View, piece: &Piece, hole: &Hole) -> Mark {
        let radius = 0.5 * hole.diameter_mm;
        let at = view.at(World::new(hole.from_end_mm, -hole.gauge_mm));
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

    /// What a hole holds, and where it is.
    fn hole_lines(&self, hole: &Hole) -> [String; 2] {
        let what = match hole.use_ {
            HoleUse::Row => format!("tilt {}", tilts_word(&hole.tilts_deg)),
            other => other.word().to_string(),
        };
        [format!("{what}, drill {}", self.drill(hole)), format!("{} from end", self.show(hole.from_end_mm))]
    }

    /// Two lines along the hole's upright: what it holds, and where it is. They stand inside the part above or below the hole when there
    /// is room, else below the part.
    ///
    /// Of holes on one upright that say the same, the one nearest the gauge face says it for all.
    fn hole_words(&self, view: &View, piece: &Piece, hole: &Hole, group: Group) -> Group {
        let lines = self.hole_lines(hole);
        let others =
            || piece.holes.iter().filter(|other| (other.from_end_mm - hole.from_end_mm).abs() < SIZE.line_pitch());
        if others().any(|other| other.gauge_mm < hole.gauge_mm && self.hole_lines(other) == lines) {
            return group;
        }
        let next = others().map(|other| other.gauge_mm).filter(|gauge| *gauge > hole.gauge_mm).fold(f64::MAX, f64::min);
        let before =
            others().map(|other| other.gauge_mm).filter(|gauge| *gauge < hole.gauge_mm).fold(f64::MIN, f64::max);
        let needed = lines.iter().map(|line| width(line, SIZE, false)).fold(0.0, f64::max);
        let clear = 0.5 * hole.diameter_mm + 4.0;
        // Texts read upwards: they start at their lower end, which lies farther from the gauge face.
        let foot = if needed + 1.0 <= hole.gauge_mm - clear - (before + clear).max(0.0) {
            hole.gauge_mm - clear
        } else if hole.gauge_mm + clear + needed + 1.0 <= shown_depth(piece).min(next - clear) {
            hole.gauge_mm + clear + needed
        } else {
            shown_depth(piece) + CLEAR_OF_BREAK_MM + needed
        };
        let [first, second] = lines;
        // Either line stands clear of the upright through the centre.
        let left = view.at(World::new(hole.from_end_mm - 0.8 - SIZE.below(), -foot));
        let right = view.at(World::new(hole.from_end_mm + 0.8 + SIZE.above(), -foot));
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

/// Whether a hole lies whole on the strip that is drawn.
fn on_strip(hole: &Hole, depth: f64) -> bool {
    hole.gauge_mm + 0.5 * hole.diameter_mm < depth
}

/// The part's outline; where it runs on, in length or in depth, a break line instead of the edge.
fn outline(view: &View, end: f64, depth: f64, [long, deep]: [bool; 2]) -> Vec<Mark> {
    let at = |x: f64, from_gauge_face: f64| view.at(World::new(x, -from_gauge_face));
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

/// A thin line with zigzags, one every hand's breadth and at least one (ISO 128-2, line type for the limit of interrupted views; from
/// memory): a long one is cut into pages, and each page must show that it is no edge.
fn break_line(from: Point, to: Point) -> Vec<Point> {
    const HALF: f64 = 3.0;
    const APART: f64 = 60.0;
    let (along, across) = (from.angle_to_deg(to), from.angle_to_deg(to) + 90.0);
    let length = from.distance(to);
    let count = (length / APART).floor().max(1.0) as usize;
    let mut points = vec![from];
    for n in 0..count {
        let middle = from.towards(along, length * (n as f64 + 0.5) / count as f64);
        let tooth = |along_by: f64, across_by: f64| middle.towards(along, along_by).towards(across, across_by);
        points.extend([tooth(-HALF, 0.0), tooth(-0.5 * HALF, HALF), tooth(0.5 * HALF, -HALF), tooth(HALF, 0.0)]);
    }
    points.push(to);
    points
}
