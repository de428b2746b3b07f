//! The page: paper, border, and the room left for drawing.

use super::geometry::{Point, Rect};
use crate::quantities::{Units, number};

/// Paper a sheet is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// 8-1/2 × 11 in (ANSI/ASME Y14.1 size A).
    #[default]
    Letter,
    /// 210 × 297 mm (ISO 216).
    A4,
}

impl Paper {
    /// The paper that goes with a system of units.
    #[must_use]
    pub fn of(units: Units) -> Self {
        match units {
            Units::Us => Self::Letter,
            Units::Metric => Self::A4,
        }
    }

    /// Short and long side (mm).
    #[must_use]
    pub fn sides(self) -> (f64, f64) {
        match self {
            Self::Letter => (215.9, 279.4),
            Self::A4 => (210.0, 297.0),
        }
    }

    /// Name of the paper, also used in file names.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Letter => "Letter",
            Self::A4 => "A4",
        }
    }
}

/// How much of a page the title block takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TitleBlock {
    /// Title, design, cells and the full caution.
    #[default]
    Full,
    /// One low strip, for 1:1 tiles where every millimetre is wanted.
    Strip,
}

/// A sheet of paper with its border.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Page {
    /// Paper size.
    pub paper: Paper,
    /// Long side across.
    pub landscape: bool,
    /// Kind of title block.
    pub block: TitleBlock,
}

/// Between the paper's edge and the border (mm): common printers reach to about 6 mm, some to 12 mm at the foot (common practice,
/// no source).
const MARGIN: f64 = 12.0;
/// Room between the border and what is drawn (mm).
const PADDING: f64 = 3.0;
/// Height kept free above the title block for the scale bar (mm).
const SCALE_BAND: f64 = 9.0;

impl Page {
    /// An upright page with the full title block.
    #[must_use]
    pub fn portrait(paper: Paper) -> Self {
        Self { paper, landscape: false, block: TitleBlock::Full }
    }

    /// A page on its side with the full title block.
    #[must_use]
    pub fn landscape(paper: Paper) -> Self {
        Self { paper, landscape: true, block: TitleBlock::Full }
    }

    /// The same page with the low title strip.
    #[must_use]
    pub fn with_strip(mut self) -> Self {
        self.block = TitleBlock::Strip;
        self
    }

    /// Width (mm).
    #[must_use]
    pub fn width(self) -> f64 {
        let (short, long) = self.paper.sides();
        if self.landscape { long } else { short }
    }

    /// Height (mm).
    #[must_use]
    pub fn height(self) -> f64 {
        let (short, long) = self.paper.sides();
        if self.landscape { short } else { long }
    }

    /// What a style sheet calls pages like this one: `letter-upright`, `a4-side`.
    pub(super) fn style_name(self) -> String {
        format!("{}-{}", self.paper.name().to_lowercase(), if self.landscape { "side" } else { "upright" })
    }

    /// Width and height as a style sheet writes them.
    pub(super) fn style_size(self) -> String {
        format!("size:{}mm {}mm", number(self.width(), 3), number(self.height(), 3))
    }

    /// The border line.
    #[must_use]
    pub fn border(self) -> Rect {
        Rect::between(Point::new(0.0, 0.0), Point::new(self.width(), self.height())).inset(MARGIN)
    }

    /// Where the title block stands: full width along the foot of the border.
    #[must_use]
    pub fn block_rect(self) -> Rect {
        let border = self.border();
        let height = match self.block {
            TitleBlock::Full => 27.0,
            TitleBlock::Strip => 14.0,
        };
        Rect { top: border.bottom - height, ..border }
    }

    /// The room for drawing: inside the border, above the title block and the band of the scale bar.
    #[must_use]
    pub fn window(self) -> Rect {
        let foot = self.block_rect().top - if self.block == TitleBlock::Full { SCALE_BAND } else { 0.0 };
        Rect { bottom: foot + PADDING, ..self.border() }.inset(PADDING)
    }

    /// Where the scale bar starts: left end of its line.
    #[must_use]
    pub(crate) fn scale_bar_at(self) -> Point {
        Point::new(self.border().left + PADDING + 2.0, self.block_rect().top - 3.0)
    }
}
