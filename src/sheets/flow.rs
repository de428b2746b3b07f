//! Lays a document out on pages of paper, from which its sheets are made.

use super::{
    document::{Block, Document, Figure},
    geometry::{Point, Rect},
    mark::Mark,
    page::Page,
    sheet::SheetScale,
    text::{Text, TextSize, wrap},
};

/// Size of running text.
const SIZE: TextSize = TextSize::Small;
/// Room between two blocks (mm).
const GAP: f64 = 3.0;
/// Room between two steps (mm).
const BETWEEN_STEPS: f64 = 0.8;
/// How far steps stand in from their numbers (mm).
const INDENT: f64 = 6.0;
/// A table that has less room than this begins on the next page (mm).
const LEAST_TABLE: f64 = 25.0;
/// A figure stands under the words when this share of a page is left, else on a page of its own.
const LEAST_FIGURE: f64 = 0.36;

/// One page of a document.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct FlowPage {
    pub(super) marks: Vec<Mark>,
    pub(super) scale: SheetScale,
}

/// The pages of a document, without its title and warning, which the sheets carry in their title blocks.
pub(super) fn flow(document: &Document<'_>, page: Page, table_size: TextSize) -> Vec<FlowPage> {
    let has_figure = document.blocks().any(|block| matches!(block, Block::Figure(_)));
    let window = page.window();
    // What has no scale has no scale bar below it.
    let window = if has_figure { window } else { Rect { bottom: page.block_rect().top - GAP, ..window } };
    let mut flow = Flow { window, top: window.top, table_size, pages: vec![] };
    flow.turn_over();
    for section in &document.sections {
        if !section.heading.is_empty() {
            flow.gap();
            flow.words(&section.heading, TextSize::Normal, 0.0);
        }
        for (n, block) in section.blocks.iter().enumerate() {
            // A heading stands on what it heads.
            if n > 0 || section.heading.is_empty() {
                flow.gap();
            }
            flow.block(block);
        }
    }
    flow.pages
}

struct Flow {
    window: Rect,
    /// Where the next block may begin.
    top: f64,
    table_size: TextSize,
    pages: Vec<FlowPage>,
}

impl Flow {
    fn turn_over(&mut self) {
        self.pages.push(FlowPage { marks: Vec::new(), scale: SheetScale::None });
        self.top = self.window.top;
    }

    fn gap(&mut self) {
        if self.top > self.window.top {
            self.top += GAP;
        }
    }

    fn put(&mut self, marks: impl IntoIterator<Item = Mark>) {
        if let Some(page) = self.pages.last_mut() {
            page.marks.extend(marks);
        }
    }

    fn block(&mut self, block: &Block<'_>) {
        match block {
            Block::Paragraph(words) | Block::Warning(words) => self.words(words, SIZE, 0.0),
            Block::Steps(steps) => {
                for (n, step) in steps.iter().enumerate() {
                    self.step(n + 1, step);
                }
                self.top -= BETWEEN_STEPS;
            }
            Block::Table(table) => {
                if self.window.bottom - self.top < LEAST_TABLE {
                    self.turn_over();
                }
                let room = Rect { top: self.top, ..self.window };
                for (n, part) in table.lay_out(self.table_size, room, self.window).into_iter().enumerate() {
                    if n > 0 {
                        self.turn_over();
                    }
                    self.put(part.marks);
                    self.top = part.bottom;
                }
            }
            Block::Link { words, path } => self.words(&format!("{words}: {path}"), SIZE, 0.0),
            Block::Drawing(sheet, path) => self.words(&format!("{}: {path}", sheet.title), SIZE, 0.0),
            Block::Figure(figure) => self.figure(figure),
        }
    }

    /// Lines from the left edge, or set in from it.
    fn words(&mut self, words: &str, size: TextSize, indent: f64) {
        for line in wrap(words, size, false, self.window.width() - indent) {
            if self.top + size.line_pitch() > self.window.bottom {
                self.turn_over();
            }
            let at = Point::new(self.window.left + indent, self.top + size.above());
            self.put([Text::new(&line, at, size).into()]);
            self.top += size.line_pitch();
        }
    }

    fn step(&mut self, number: usize, words: &str) {
        if self.top + SIZE.line_pitch() > self.window.bottom {
            self.turn_over();
        }
        let at = Point::new(self.window.left, self.top + SIZE.above());
        self.put([Text::new(&number.to_string(), at, SIZE).into()]);
        self.words(words, SIZE, INDENT);
        self.top += BETWEEN_STEPS;
    }

    /// In the room that is left under the words, where that is enough. The scale of its page is the figure's.
    fn figure(&mut self, figure: &Figure<'_>) {
        if self.window.bottom - self.top < LEAST_FIGURE * self.window.height() {
            self.turn_over();
        }
        let (scale, marks) = figure.within(Rect { top: self.top, ..self.window });
        self.put(marks);
        if let Some(page) = self.pages.last_mut() {
            page.scale = scale;
        }
        self.top = self.window.bottom;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::{
        Clashes, Paper,
        document::Section,
        table::{Table, figures, words},
        texts,
    };

    #[test]
    fn a_document_loses_no_word_on_its_way_through_the_pages() {
        let mut table = Table::new([words("Mark"), figures("Length")]);
        for n in 0..150 {
            table.row([format!("row{n}"), format!("{n} mm")]);
        }
        let steps: Vec<String> = (0..70).map(|n| format!("step{n} {}", "word ".repeat(n))).collect();
        let section = Section::new("Heading").steps(steps).table(table).paragraph("last words");
        let document = Document::new("", None).with(section);
        let page = Page::portrait(Paper::A4);
        let pages = flow(&document, page, TextSize::Small);
        assert!(pages.len() > 3);
        let mut said = Vec::new();
        for page_marks in &pages {
            assert!(Clashes::of(&page_marks.marks, page.border()).is_empty());
            said.extend(texts(&page_marks.marks).into_iter().map(|text| text.content().to_string()));
        }
        let said = said.join(" ");
        for n in 0..150 {
            assert!(said.contains(&format!("row{n} {n} mm")), "row {n}");
        }
        for n in 0..70 {
            assert!(said.contains(&format!("step{n}")), "step {n}");
        }
        assert!(said.starts_with("Heading ") && said.ends_with("last words"));
        assert_eq!(said.matches("word ").count(), (0..70).sum::<usize>(), "{said}");
    }

    #[test]
    fn a_figure_takes_the_room_that_is_left_or_a_page_of_its_own() {
        let page = Page::portrait(Paper::Letter);
        let under = |lines: usize| {
            let figure = Figure::new("picture", |room: Rect| {
                (
                    SheetScale::AsNoted,
                    vec![Mark::line(
                        Point::new(room.left, room.top),
                        Point::new(room.right, room.bottom),
                        crate::sheets::Pen::Visible,
                    )],
                )
            });
            let section = Section::new("").paragraph("line\n".repeat(lines)).with(Block::Figure(figure));
            flow(&Document::new("", None).with(section), page, TextSize::Small)
        };
        let (short, long) = (under(5), under(45));
        assert_eq!((short.len(), short[0].scale), (1, SheetScale::AsNoted));
        assert_eq!((long.len(), long[0].scale, long[1].scale), (2, SheetScale::None, SheetScale::AsNoted));
    }
}
