//! The corner brace at full size, both mitres on it.

use super::drafter::Drafter;
use crate::{
    frame::{BraceShape, Role},
    quantities::{angle, deg, number},
    sheets::{
        dimension::arrow,
        geometry::{Point, World},
        mark::{Group, Mark, bounds},
        page::Page,
        pen::Pen,
        sheet::Sheet,
        text::{Text, TextSize},
        tile::Tiling,
        view::{Scale, View},
    },
};

const SIZE: TextSize = TextSize::Small;

impl Drafter<'_> {
    /// The brace at full size; nothing when the frame has none.
    pub(super) fn brace_template(&self) -> Vec<Sheet> {
        let Some(brace) = self.frame.brace else { return vec![] };
        let mark =
            self.frame.pieces.iter().find(|piece| piece.role == Role::CornerBrace).map_or("", |piece| &piece.mark);
        let marks = self.brace(&brace, mark);
        let Some(area) = bounds(&marks) else { return vec![] };
        let like =
            self.sheet("template-brace", &format!("Corner brace {mark}, full size"), Page::landscape(self.paper));
        // The row template used the first letters; its rows are few.
        Tiling::fewest(area, like.page).lettered(self.letters_of_row_template()).sheets(&like, &marks)
    }

    fn letters_of_row_template(&self) -> usize {
        let sheets = self.row_template();
        let rows: std::collections::BTreeSet<String> =
            sheets.iter().map(|sheet| sheet.slug.rsplit('-').nth(1).unwrap_or_default().to_string()).collect();
        rows.len().max(1)
    }

    /// Long edge along the foot, rail end at the left.
    fn brace(&self, brace: &BraceShape, mark: &str) -> Vec<Mark> {
        let view = View::new(Scale::FULL, World::default(), Point::default());
        let at = |x: f64, y: f64| view.at(World::new(x, y));
        let back = |cut_deg: f64| brace.width_mm * cut_deg.to_radians().tan();
        let (rail, stile) = (back(brace.cut_rail_deg), back(brace.cut_stile_deg));
        let corners =
            [at(0.0, 0.0), at(brace.long_mm, 0.0), at(brace.long_mm - stile, brace.width_mm), at(rail, brace.width_mm)];
        let shape = Group::new("brace")
            .fact("part", mark)
            .fact("long-mm", number(brace.long_mm, 4))
            .fact("short-mm", number(brace.short_mm, 4))
            .with([Mark::outline(corners, Pen::Visible)]);
        let mut marks = vec![shape.into()];
        // Square lines through the long points show what the angles are measured from.
        for x in [0.0, brace.long_mm] {
            marks.push(Mark::line(at(x, 0.0), at(x, brace.width_mm), Pen::Centre));
        }
        let long = format!("{} between long points", self.show(brace.long_mm));
        let short = format!("{} between short points", self.show(brace.short_mm));
        marks.extend(dimension(corners[0].moved(0.0, OUT), corners[1].moved(0.0, OUT), &long));
        marks.extend(dimension(corners[3].moved(0.0, -OUT), corners[2].moved(0.0, -OUT), &short));
        let upright = self.frame.braced_role().map_or("upright", Role::word);
        // All words stand at the left end, where no seam comes.
        let words = [
            format!("left end, on the rail: cut {} from square", angle(deg(brace.cut_rail_deg))),
            format!("right end, on the {upright}: cut {} from square", angle(deg(brace.cut_stile_deg))),
        ];
        for (n, words) in words.iter().enumerate() {
            let y = 0.5 * brace.width_mm + (0.5 - n as f64) * SIZE.line_pitch();
            marks.push(Text::new(words, at(rail + 4.0, y), SIZE).on_middle().into());
        }
        marks
    }
}

/// Distance of a dimension line from the edge it measures (mm).
const OUT: f64 = 9.0;

/// A level dimension whose text stands at its left end.
fn dimension(left: Point, right: Point, words: &str) -> Vec<Mark> {
    let towards_edge = [left, right].map(|p| Mark::line(p.moved(0.0, -1.5), p.moved(0.0, 1.5), Pen::Dimension));
    let mut marks = vec![Mark::line(left, right, Pen::Dimension), arrow(left, 180.0), arrow(right, 0.0)];
    marks.extend(towards_edge);
    marks.push(Text::new(words, left.moved(6.0, -0.3 - SIZE.below()), SIZE).into());
    marks
}
