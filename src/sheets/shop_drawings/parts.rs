//! The parts of one frame, as a table.

use super::drafter::{Drafter, paragraph};
use crate::{
    frame::Piece,
    quantities::{angle, deg},
    sheets::{geometry::Rect, mark::Mark, page::Page, sheet::Sheet, table::Table, text::TextSize},
};

impl Drafter<'_> {
    /// All parts of one frame.
    pub(super) fn parts(&self) -> Vec<Sheet> {
        let mut table = Table::new(&["Mark", "Part", "Section", ">Length", "Ends", ">Number"]);
        for piece in &self.frame.pieces {
            table.row([
                piece.mark.clone(),
                piece.role.word().to_string(),
                piece.section.name.clone(),
                self.show(piece.length_mm),
                ends(piece),
                piece.quantity.to_string(),
            ]);
        }
        let frames = match self.frame.count {
            1 => "One frame.".to_string(),
            count => format!("For one of {count} equal frames."),
        };
        let words = format!(
            "{frames} Lengths are over the long points. Ends: angle of the cut from a square cut. Marks as on the drawings. Measure \
             each stick before cutting; sawn lumber shrinks across the grain as it dries.",
        );
        self.table_sheets("parts", "Parts of one frame", &words, &table)
    }

    /// A table over as many sheets as it takes, with words above it on the first.
    pub(super) fn table_sheets(&self, slug: &str, title: &str, words: &str, table: &Table) -> Vec<Sheet> {
        self.two_tables(slug, title, words, None, table)
    }

    /// The same with a short table between the words and the long one.
    pub(super) fn two_tables(
        &self,
        slug: &str,
        title: &str,
        words: &str,
        first: Option<&Table>,
        table: &Table,
    ) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        // Tables have no scale bar below them.
        let window = Rect { bottom: page.block_rect().top - 3.0, ..page.window() };
        let (mut heading, mut foot) = paragraph(words, window, TextSize::Small);
        // One line to a drilled mark: a dozen at most, so the first page holds them.
        if let Some(part) = first.and_then(|first| {
            let room = Rect { top: foot + 3.0, ..window };
            first.lay_out(room, room).into_iter().next()
        }) {
            foot = part.bottom + 2.0;
            heading.extend(part.marks);
        }
        let parts = table.lay_out(Rect { top: foot + 3.0, ..window }, window);
        let count = parts.len();
        let sheet = |(n, part): (usize, crate::sheets::TablePart)| {
            let (slug, title) = match n {
                0 if count == 1 => (slug.to_string(), title.to_string()),
                n => (format!("{slug}-{}", n + 1), format!("{title} ({} of {count})", n + 1)),
            };
            let heading: Vec<Mark> = if n == 0 { heading.clone() } else { vec![] };
            self.sheet(&slug, &title, page).with(heading).with(part.marks)
        };
        parts.into_iter().enumerate().map(sheet).collect()
    }
}

fn ends(piece: &Piece) -> String {
    match piece.ends_deg {
        [a, b] if a == 0.0 && b == 0.0 => "square".to_string(),
        [a, b] if (a - b).abs() < 1e-9 => format!("{} both", angle(deg(a))),
        [a, b] => format!("{} / {}", angle(deg(a)), angle(deg(b))),
    }
}
