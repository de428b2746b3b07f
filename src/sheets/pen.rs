//! The pen table: every line on every sheet is drawn with one of these.

/// A line type with its width.
///
/// # Source
/// Line types and their uses follow ISO 128-2:2020, widths its series 0.18 / 0.25 / 0.35 / 0.5 / 0.7 mm (line groups 0.5 and
/// 0.35). Dash lengths are the multiples of the width given there (dash 12 d, gap 3 d, long dash 24 d, dot 0.5 d). Values from
/// memory.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Pen {
    /// Visible edges and outlines, 0.5 mm.
    Visible,
    /// Edges behind something, dashed 0.25 mm.
    Hidden,
    /// Centre lines, axes of holes, hole rows: long dash and dot, 0.25 mm.
    Centre,
    /// Dimension, extension and leader lines, 0.18 mm.
    Dimension,
    /// Cutting planes, long dash and dot, 0.35 mm.
    Cutting,
    /// Other positions of moving parts, outlines of neighbours (panels): long dash and two dots, 0.25 mm.
    Phantom,
    /// Section hatching, 0.18 mm, the only grey.
    Hatch,
    /// Ground and roof lines, 0.7 mm.
    Ground,
    /// Sun rays and directions, dashed 0.18 mm.
    Ray,
    /// Sheet border, 0.7 mm.
    Border,
    /// Table rules and title block cells, 0.25 mm.
    Rule,
    /// Curves of a chart, 0.35 mm.
    Curve,
    /// Cut and drill marks of a 1:1 template, 0.18 mm: thin, so that the centre can be read off them.
    Template,
}

impl Pen {
    /// All pens, in the order of the table.
    pub const ALL: [Self; 13] = [
        Self::Visible,
        Self::Hidden,
        Self::Centre,
        Self::Dimension,
        Self::Cutting,
        Self::Phantom,
        Self::Hatch,
        Self::Ground,
        Self::Ray,
        Self::Border,
        Self::Rule,
        Self::Curve,
        Self::Template,
    ];

    /// Line width (mm).
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Self::Ground | Self::Border => 0.7,
            Self::Visible => 0.5,
            Self::Cutting | Self::Curve => 0.35,
            Self::Hidden | Self::Centre | Self::Phantom | Self::Rule => 0.25,
            Self::Dimension | Self::Hatch | Self::Ray | Self::Template => 0.18,
        }
    }

    /// Lengths of dashes and gaps (mm) in turn; empty for a continuous line.
    #[must_use]
    pub fn dashes(self) -> Vec<f64> {
        const DASH: f64 = 12.0;
        const LONG: f64 = 24.0;
        const GAP: f64 = 3.0;
        const DOT: f64 = 0.5;
        let widths: &[f64] = match self {
            Self::Hidden | Self::Ray => &[DASH, GAP],
            Self::Centre | Self::Cutting => &[LONG, GAP, DOT, GAP],
            Self::Phantom => &[LONG, GAP, DOT, GAP, DOT, GAP],
            _ => &[],
        };
        widths.iter().map(|n| n * self.width()).collect()
    }

    /// Ink, as `#rrggbb`: black, but grey for hatching.
    #[must_use]
    pub fn ink(self) -> &'static str {
        if self == Self::Hatch { "#808080" } else { "#000000" }
    }

    /// Name used on the drawing's layers.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Visible => "visible",
            Self::Hidden => "hidden",
            Self::Centre => "centre",
            Self::Dimension => "dimension",
            Self::Cutting => "cutting",
            Self::Phantom => "phantom",
            Self::Hatch => "hatch",
            Self::Ground => "ground",
            Self::Ray => "ray",
            Self::Border => "border",
            Self::Rule => "rule",
            Self::Curve => "curve",
            Self::Template => "template",
        }
    }
}
