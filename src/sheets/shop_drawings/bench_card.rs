//! The card for the bench: what to tape before the corners are fixed, and in which order to judge it.

use super::drafter::{Drafter, draw_to_fit};
use crate::sheets::{
    dimension::readable_deg,
    document::{Block, Figure, Section},
    geometry::{Bounds, Point, Rect},
    mark::{Group, Mark},
    pen::Pen,
    sheet::{Sheet, SheetScale},
    table::{Table, figures, words},
    text::{Anchor, Text, TextSize},
    view::View,
};
use crate::{
    quantities::{limit, mm},
    shop::{BenchCheck, Taping},
};

const SIZE: TextSize = TextSize::Small;
/// Room to write in.
const BLANK: &str = "________";

impl Drafter<'_> {
    /// How to judge, what to tape with room to write beside it, and the frame with its corners named.
    pub(super) fn bench_card(&self) -> Vec<Sheet> {
        let check = BenchCheck::of(self.design, self.frame, self.units);
        let corners = Figure::new("Where the corners are", |room| {
            let (scale, marks) = draw_to_fit(room, |view| self.corners(view));
            (SheetScale::One(scale), marks)
        });
        let readings = self.readings(&check);
        let section = Section::new("").steps(check.steps).table(readings).with(Block::Figure(corners));
        self.document_sheets("bench-card", "Bench check: is it square?", section)
    }

    /// What to tape and what it should read, with room to write beside it.
    fn readings(&self, check: &BenchCheck) -> Table {
        let row = |taping: &Taping| {
            let (reads, may) = (self.show(taping.reads_mm), limit(mm(taping.may_differ_mm), self.units));
            [taping.what.as_str(), &reads, BLANK, BLANK, BLANK, &may].map(str::to_string)
        };
        let by_hand = ["First", "Second", "Differ"].map(words);
        let columns = [words("Measure"), figures("Should read")].into_iter().chain(by_hand);
        Table::new(columns.chain([figures("May differ")])).with(check.tapings.iter().map(row))
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
