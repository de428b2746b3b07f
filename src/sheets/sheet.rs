//! A finished drawing on one page.

use super::{mark::Mark, overlap::Clashes, page::Page, svg, title_block, view::Scale, warning::Warning};
use crate::quantities::Units;
use std::fmt;

/// How the views of a sheet are arranged.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Projection {
    /// The view from the left stands on the left.
    #[default]
    Third,
    /// The view from the left stands on the right.
    First,
}

/// Scale of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SheetScale {
    /// All views at one scale; a scale bar is drawn.
    One(Scale),
    /// Each view names its own.
    AsNoted,
    /// Text, tables, charts and diagrams.
    #[default]
    None,
}

impl fmt::Display for SheetScale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::One(scale) => scale.fmt(f),
            Self::AsNoted => f.write_str("as noted"),
            Self::None => f.write_str("none"),
        }
    }
}

/// A finished drawing on one page: what it says about itself, and its marks.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Short name for files and ids, lower-case letters, digits and hyphens.
    pub slug: String,
    /// Its number in the packet, from 1.
    pub number: usize,
    /// How many sheets the packet has.
    pub of: usize,
    /// What is drawn.
    pub title: String,
    /// Name of the design.
    pub design: String,
    /// Paper and border.
    pub page: Page,
    /// Scale of the views.
    pub scale: SheetScale,
    /// Units of the dimensions.
    pub units: Units,
    /// How views are arranged.
    pub projection: Projection,
    /// What must be known before anything of it is built, beside the caution: checks that fail.
    pub warning: Option<Warning>,
    /// What is drawn inside the border.
    pub marks: Vec<Mark>,
}

impl Sheet {
    /// An empty sheet 1 of 1 without a scale; American sheets are in third angle, metric ones in first.
    #[must_use]
    pub fn new(slug: &str, title: &str, design: &str, page: Page, units: Units) -> Self {
        let projection = match units {
            Units::Us => Projection::Third,
            Units::Metric => Projection::First,
        };
        Self {
            slug: slug_of(slug),
            number: 1,
            of: 1,
            title: title.to_string(),
            design: design.to_string(),
            page,
            scale: SheetScale::None,
            units,
            projection,
            warning: None,
            marks: Vec::new(),
        }
    }

    /// The sheet with marks added.
    #[must_use]
    pub fn with(mut self, marks: impl IntoIterator<Item = Mark>) -> Self {
        self.marks.extend(marks);
        self
    }

    /// The sheet with a scale stated.
    #[must_use]
    pub fn at_scale(mut self, scale: SheetScale) -> Self {
        self.scale = scale;
        self
    }

    /// Border, title block, and all that is drawn.
    #[must_use]
    pub fn all_marks(&self) -> Vec<Mark> {
        let mut marks = title_block::frame(self);
        marks.extend(self.marks.iter().flat_map(Mark::hatched));
        marks
    }

    /// The sheet as an SVG file: user units are millimetres at true size, and printed alone it asks for its own paper.
    #[must_use]
    pub fn to_svg(&self) -> String {
        svg::file(self)
    }

    /// The sheet as a part of a page.
    pub(super) fn to_inline_svg(&self) -> String {
        svg::inline(self)
    }

    /// Texts that overlap or leave the border; empty on a good sheet.
    #[must_use]
    pub fn clashes(&self) -> Clashes {
        Clashes::of(&self.all_marks(), self.page.border())
    }

    /// Name of its file: `03-elevation.svg`.
    #[must_use]
    pub fn file_name(&self) -> String {
        format!("{:02}-{}.svg", self.number, self.slug)
    }
}

/// Numbers the sheets of a packet in order.
pub fn number_sheets(sheets: &mut [Sheet]) {
    let of = sheets.len();
    for (n, sheet) in sheets.iter_mut().enumerate() {
        sheet.number = n + 1;
        sheet.of = of;
    }
}

/// A name cut down to lower-case letters, digits and single hyphens, at most 48 of them; `sheet` when nothing is left.
#[must_use]
pub fn slug_of(name: &str) -> String {
    const LONGEST: usize = 48;
    let mut slug = String::new();
    for c in name.chars() {
        if c.is_ascii_alphanumeric() {
            slug.push(c.to_ascii_lowercase());
        } else if !slug.is_empty() && !slug.ends_with('-') {
            slug.push('-');
        }
        if slug.len() >= LONGEST {
            break;
        }
    }
    let slug = slug.trim_end_matches('-');
    if slug.is_empty() { "sheet".to_string() } else { slug.to_string() }
}
