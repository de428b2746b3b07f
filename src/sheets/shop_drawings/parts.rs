//! The parts of one frame, as a table.

use super::drafter::Drafter;
use crate::sheets::{
    document::{Document, Section},
    flow::flow,
    page::Page,
    sheet::Sheet,
    tables::parts,
    text::TextSize,
};

impl Drafter<'_> {
    /// All parts of one frame.
    pub(super) fn parts(&self) -> Vec<Sheet> {
        let frames = match self.frame.count {
            1 => "One frame.".to_string(),
            count => format!("For one of {count} equal frames."),
        };
        let words = format!(
            "{frames} Lengths are over the long points. Ends: angle of the cut from a square cut. Marks as on the drawings. Measure \
             each stick before cutting; sawn lumber shrinks across the grain as it dries.",
        );
        let section = Section::new("").paragraph(words).table(parts(self.frame, self.units));
        self.document_sheets("parts", "Parts of one frame", section)
    }

    /// Words and tables over as many upright sheets as they take.
    pub(super) fn document_sheets(&self, slug: &str, title: &str, section: Section<'_>) -> Vec<Sheet> {
        let page = Page::portrait(self.paper);
        let pages = flow(&Document::new(title, None).with(section), page, TextSize::Small);
        let count = pages.len();
        let sheets = pages.into_iter().enumerate().map(|(n, laid)| {
            let slug = if n == 0 { slug.to_string() } else { format!("{slug}-{}", n + 1) };
            let title = if count == 1 { title.to_string() } else { format!("{title} ({} of {count})", n + 1) };
            self.sheet(&slug, &title, page).at_scale(laid.scale).with(laid.marks)
        });
        sheets.collect()
    }
}
