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

/// Length shown past the last hole of a part that runs on [mm].
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
        let depth = piece.section.depth_mm;
        let last = piece.holes.iter().map(|hole| hole.from_end_mm).fold(0.0, f64::max);
        let end = (last + PAST_LAST_HOLE_MM).min(piece.length_mm);
        let mut marks = outline(&view, end, depth, end < piece.length_mm);
        for hole in &piece.holes {
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

    /// Two lines along the hole's upright: what it holds, and where it is. They stand above the hole inside the part when there is
    /// room, else above the part.
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
        let above_hole = hole.gauge_mm + 0.5 * hole.diameter_mm + 4.0;
        let foot =
            if above_hole + needed + 1.0 <= piece.section.depth_mm { above_hole } else { piece.section.depth_mm + 2.0 };
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

/// The part's outline; where it runs on, a break line instead of the far end.
fn outline(view: &View, end: f64, depth: f64, runs_on: bool) -> Vec<Mark> {
    if !runs_on {
        let bounds = Bounds { left: 0.0, low: 0.0, right: end, high: depth };
        return vec![Mark::rect(view.rect(bounds), Pen::Visible)];
    }
    let at = |x: f64, y: f64| view.at(World::new(x, y));
    let edges = vec![at(end, 0.0), at(0.0, 0.0), at(0.0, depth), at(end, depth)];
    let zigzag = vec![
        at(end, -3.0),
        at(end, 0.45 * depth),
        at(end - 4.0, 0.48 * depth),
        at(end + 4.0, 0.52 * depth),
        at(end, 0.55 * depth),
        at(end, depth + 3.0),
    ];
    vec![Mark::Polyline { points: edges, pen: Pen::Visible }, Mark::Polyline { points: zigzag, pen: Pen::Dimension }]
}
