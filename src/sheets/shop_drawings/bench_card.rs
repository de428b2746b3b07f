//! The card for the bench: diagonals to measure before the corners are fixed.

use super::drafter::{Drafter, draw_to_fit, paragraph};
use crate::sheets::{
    dimension::readable_deg,
    geometry::{Bounds, Point, Rect},
    mark::{Group, Mark},
    page::Page,
    pen::Pen,
    sheet::{Sheet, SheetScale},
    table::Table,
    text::{Anchor, Text, TextSize},
    view::View,
};
use crate::{
    frame::allowed_difference_mm,
    quantities::{MM_PER_INCH, Units, number},
};

const SIZE: TextSize = TextSize::Small;

impl Drafter<'_> {
    /// The frame with its corners named and all diagonals to check, room to write beside them.
    pub(super) fn bench_card(&self) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        let window = page.window();
        let (heading, foot) = paragraph(&self.square_words(), window, SIZE);
        let parts = self.diagonals().lay_out(Rect { top: foot + 3.0, ..window }, window);
        let count = parts.len();
        let mut sheets = Vec::new();
        let mut left_over = window;
        for (n, part) in parts.into_iter().enumerate() {
            let heading = if n == 0 { heading.clone() } else { vec![] };
            let slug = if n == 0 { "bench-card".to_string() } else { format!("bench-card-{}", n + 1) };
            left_over = Rect { top: part.bottom + 5.0, ..window };
            sheets.push(self.sheet(&slug, &card_title(n, count), page).with(heading).with(part.marks));
        }
        // The picture stands under the table when half a page is left, else on a page of its own.
        if left_over.height() < 0.45 * window.height() {
            sheets.push(self.sheet("bench-card-picture", "Bench check: where the corners are", page));
            left_over = window;
        }
        let (scale, marks) = draw_to_fit(left_over, |view| self.corners(view));
        if let Some(last) = sheets.last_mut() {
            last.scale = SheetScale::One(scale);
            last.marks.extend(marks);
        }
        sheets
    }

    /// How to judge and how to push, with the figures of this frame.
    fn square_words(&self) -> String {
        let frame = self.frame;
        let play_mm = frame.bolt.hole_mm - frame.bolt.diameter_mm;
        let allowed_mm = allowed_difference_mm(frame.width_mm, frame.length_mm, play_mm);
        let allowed = match self.units {
            Units::Us => format!("{} in", number(allowed_mm / MM_PER_INCH, 2)),
            Units::Metric => format!("{} mm", number(allowed_mm, 1)),
        };
        let slide = slide_for_difference(frame.width_mm, frame.length_mm);
        format!(
            "Lay the frame face up on a flat bench, one screw in each corner, and measure. It is square when both outside diagonals \
             agree; the bolt holes take up a difference of {allowed}, no more. When they differ, hold the low edge and push the high \
             corner of the longer diagonal along the high edge, by {} times the difference. Measure again, then fix corners and braces. \
             Check that opposite sides are equal first: a frame whose sides differ cannot be pushed square.",
            number(slide, 2),
        )
    }

    fn diagonals(&self) -> Table {
        let mut table = Table::new(&["Measure", ">Width", ">Up the slope", ">Diagonal", "First", "Second", "Differ"]);
        let blank = "________";
        let mut row = |name: String, width: f64, height: f64| {
            let cells = [name, self.show(width), self.show(height), self.show(width.hypot(height))];
            table.row(cells.into_iter().chain([blank; 3].map(String::from)));
        };
        row("outside A–C, B–D".to_string(), self.frame.width_mm, self.frame.length_mm);
        for (n, bay) in self.frame.bays.iter().enumerate() {
            row(format!("bay {}, inside", n + 1), bay.x_mm[1] - bay.x_mm[0], bay.u_mm[1] - bay.u_mm[0]);
        }
        table
    }

    /// Members, corner letters, bay numbers, diagonals.
    fn corners(&self, view: &View) -> Vec<Mark> {
        let outer = view.rect(self.outer());
        let mut marks = self.members(view);
        let [d, c, b, a] = outer.corners();
        for (name, at, dx, dy) in [("A", a, -4.0, 4.0), ("B", b, 4.0, 4.0), ("C", c, 4.0, -4.0), ("D", d, -4.0, -4.0)] {
            marks.push(Text::new(name, at.moved(dx, dy), TextSize::Normal).bold().centred().into());
        }
        for (n, bay) in self.frame.bays.iter().enumerate() {
            let room = view.rect(Bounds { left: bay.x_mm[0], right: bay.x_mm[1], low: bay.u_mm[0], high: bay.u_mm[1] });
            let [high_left, high_right, low_right, low_left] = room.corners();
            let group = Group::new("bay")
                .fact("number", n + 1)
                .with([Mark::line(low_left, high_right, Pen::Ray), Mark::line(low_right, high_left, Pen::Ray)])
                .with(self.bay_text(n, room));
            marks.push(group.into());
        }
        let caption = Point::new(outer.centre().x, outer.bottom + 5.0 + TextSize::Small.above());
        marks.push(Text::new("low edge", caption, SIZE).anchored(Anchor::Middle).into());
        marks
    }

    /// Number of the bay, and its diagonal when there is room along it.
    fn bay_text(&self, n: usize, room: Rect) -> Vec<Mark> {
        let number = Text::new(&(n + 1).to_string(), room.centre(), TextSize::Normal).bold().centred();
        let mut marks = Mark::patched(number).to_vec();
        let bay = &self.frame.bays[n];
        let words = self.show((bay.x_mm[1] - bay.x_mm[0]).hypot(bay.u_mm[1] - bay.u_mm[0]));
        let [_, high_right, _, low_left] = room.corners();
        let reading = readable_deg(low_left.angle_to_deg(high_right));
        let at = Point::new(low_left.x + 0.27 * room.width(), low_left.y - 0.27 * room.height());
        let text = Text::new(&words, at.towards(reading + 90.0, 0.4 + SIZE.below()), SIZE)
            .anchored(Anchor::Middle)
            .rotated(reading);
        let room_along = 0.5 * low_left.distance(high_right) - 10.0;
        if text.length() < room_along && room.holds(text.bounds()) {
            marks.push(text.into());
        }
        marks
    }
}

/// How far the high edge must slide for each unit that the outside diagonals differ (–).
///
/// A rack by the angle g makes them differ by 2 · width · length · g / diagonal and slides the high edge by length · g.
fn slide_for_difference(width_mm: f64, length_mm: f64) -> f64 {
    width_mm.hypot(length_mm) / (2.0 * width_mm)
}

fn card_title(n: usize, count: usize) -> String {
    match count {
        1 => "Bench check: is it square?".to_string(),
        _ => format!("Bench check: is it square? ({} of {count})", n + 1),
    }
}

#[cfg(test)]
mod tests {
    use super::slide_for_difference;
    use crate::frame::{Measured, judge};

    #[test]
    fn the_push_on_the_card_is_the_rack_that_the_fit_finds() {
        let (width, length, slid): (f64, f64, f64) = (2400.0, 1500.0, 6.0);
        let side = (length * length - slid * slid).sqrt();
        let diagonals_mm = [(width + slid).hypot(side), (width - slid).hypot(side)];
        let found =
            judge(&Measured { sides_mm: [width, length, width, length], diagonals_mm }).expect("a parallelogram");
        let pushed = slide_for_difference(width, length) * found.difference_mm;
        assert!((pushed - slid).abs() < 0.01 && (found.rack_mm.abs() - slid).abs() < 0.01, "{pushed} {found:?}");
    }
}
