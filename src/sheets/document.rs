//! What a page says, before any writer: headings, running text, steps, tables, figures and drawings.
//!
//! The tree knows no file format. [`html`](super::html) writes it as a page, [`plain`](super::plain) as a text or a card,
//! [`flow`](super::flow) on sheets of paper; its tables alone go through [`csv`](super::csv).

use super::{
    geometry::Rect,
    mark::Mark,
    sheet::{Sheet, SheetScale},
    table::Table,
    warning::Warning,
};
use std::fmt;

/// A page of any length.
#[derive(Debug)]
pub struct Document<'a> {
    /// What it is; may be empty where it stands within something that says so.
    pub title: String,
    /// What must be known before anything of it is built.
    pub warning: Option<&'a Warning>,
    /// Its parts, in order.
    pub sections: Vec<Section<'a>>,
}

/// A heading with what stands under it.
#[derive(Debug)]
pub struct Section<'a> {
    /// Heading, also in a list of contents; empty for a part that goes on without one.
    pub heading: String,
    /// What stands under it.
    pub blocks: Vec<Block<'a>>,
}

/// One thing under a heading.
#[derive(Debug)]
pub enum Block<'a> {
    /// Running text; line ends in it are kept where lines have no width of their own.
    Paragraph(String),
    /// Numbered steps.
    Steps(Vec<String>),
    /// A table.
    Table(Table),
    /// What must be known before any of it is built.
    Warning(String),
    /// Words that lead to another file.
    Link {
        /// The words.
        words: String,
        /// Path of the file.
        path: String,
    },
    /// A picture among the words.
    Figure(Figure<'a>),
    /// A finished sheet, and the path of the file that holds it alone.
    Drawing(&'a Sheet, String),
}

/// A picture that is drawn into the room that is left for it.
pub struct Figure<'a> {
    /// What it shows.
    pub caption: String,
    draw: Box<dyn Fn(Rect) -> (SheetScale, Vec<Mark>) + 'a>,
}

impl<'a> Figure<'a> {
    /// A picture that `draw` fits into any room (mm on paper), and says at which scale.
    pub fn new(caption: &str, draw: impl Fn(Rect) -> (SheetScale, Vec<Mark>) + 'a) -> Self {
        Self { caption: caption.to_string(), draw: Box::new(draw) }
    }

    /// The picture in a room.
    #[must_use]
    pub fn within(&self, room: Rect) -> (SheetScale, Vec<Mark>) {
        let (scale, marks) = (self.draw)(room);
        (scale, marks.iter().flat_map(Mark::hatched).collect())
    }
}

impl fmt::Debug for Figure<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Figure").field("caption", &self.caption).finish_non_exhaustive()
    }
}

impl<'a> Document<'a> {
    /// A document with nothing in it yet.
    #[must_use]
    pub fn new(title: &str, warning: Option<&'a Warning>) -> Self {
        Self { title: title.to_string(), warning, sections: Vec::new() }
    }

    /// The document with a part added.
    #[must_use]
    pub fn with(mut self, section: Section<'a>) -> Self {
        self.sections.push(section);
        self
    }

    /// Adds another document with its title as a heading.
    pub fn append(&mut self, other: Document<'a>) {
        let mut sections = other.sections;
        if let Some(first) = sections.first_mut().filter(|first| first.heading.is_empty()) {
            first.heading = other.title;
        } else {
            sections.insert(0, Section::new(&other.title));
        }
        self.sections.extend(sections);
    }

    /// All that stands under the headings, in order.
    pub(super) fn blocks(&self) -> impl Iterator<Item = &Block<'a>> {
        self.sections.iter().flat_map(|section| &section.blocks)
    }
}

impl<'a> Section<'a> {
    /// A heading with nothing under it yet.
    #[must_use]
    pub fn new(heading: &str) -> Self {
        Self { heading: heading.to_string(), blocks: Vec::new() }
    }

    /// The section with a block added.
    #[must_use]
    pub fn with(mut self, block: Block<'a>) -> Self {
        self.blocks.push(block);
        self
    }

    /// The section with running text added.
    #[must_use]
    pub fn paragraph(self, words: impl Into<String>) -> Self {
        self.with(Block::Paragraph(words.into()))
    }

    /// The section with numbered steps added.
    #[must_use]
    pub fn steps(self, steps: impl IntoIterator<Item = impl Into<String>>) -> Self {
        self.with(Block::Steps(steps.into_iter().map(Into::into).collect()))
    }

    /// The section with a table added.
    #[must_use]
    pub fn table(self, table: Table) -> Self {
        self.with(Block::Table(table))
    }
}
