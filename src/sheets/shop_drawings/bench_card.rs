//! The card for the bench: what to tape before the corners are fixed, and in which order to judge it.

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
    quantities::{limit, mm},
    shop::BenchCheck,
};

const SIZE: TextSize = TextSize::Small;
/// Room between two steps (mm).
const BETWEEN_STEPS: f64 = 0.8;

impl Drafter<'_> {
    /// How to judge, what to tape with room to write beside it, and the frame with its corners named.
    pub(super) fn bench_card(&self) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        let window = page.window();
        let check = BenchCheck::of(self.design, self.frame, self.units);
        let (heading, foot) = steps(&check.steps, window);
        let parts = self.readings(&check).lay_out(Rect { top: foot + 3.0, ..window }, window);
        let count = parts.len();
        let mut sheets = Vec::new();
        let mut left_over = window;
        for (n, part) in parts.into_iter().enumerate() {
            let heading = if n == 0 { heading.clone() } else { vec![] };
            let slug = if n == 0 { "bench-card".to_string() } else { format!("bench-card-{}", n + 1) };
            left_over = Rect { top: part.bottom + 5.0, ..window };
            sheets.push(self.sheet(&slug, &card_title(n, count), page).with(heading).with(part.marks));
        }
        // The picture stands under the table when two fifths of a page are left, else on a page of its own.
        if left_over.height() < 0.4 * window.height() {
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

    /// What to tape and what it should read, with room to write beside it.
    fn readings(&self, check: &BenchCheck) -> Table {
        let mut table = Table::new(&["Measure", ">Should read", "First", "Second", "Differ", ">May differ"]);
        for taping in &check.tapings {
            let blank = "________".to_string();
            table.row([
                taping.what.clone(),
                self.show(taping.reads_mm),
                blank.clone(),
                blank.clone(),
                blank,
                limit(mm(taping.may_differ_mm), self.units),
            ]);
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

/// Numbered steps from the top of a room; returns the marks and the foot of the last line.
fn steps(steps: &[String], room: Rect) -> (Vec<Mark>, f64) {
    let (mut marks, mut foot) = (Vec::new(), room.top);
    for (n, step) in steps.iter().enumerate() {
        let (lines, below) = paragraph(&format!("{}  {step}", n + 1), Rect { top: foot, ..room }, SIZE);
        marks.extend(lines);
        foot = below + BETWEEN_STEPS;
    }
    (marks, foot)
}

fn card_title(n: usize, count: usize) -> String {
    match count {
        1 => "Bench check: is it square?".to_string(),
        _ => format!("Bench check: is it square? ({} of {count})", n + 1),
    }
}
