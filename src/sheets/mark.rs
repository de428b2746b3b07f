//! Marks: the small tree that every drawing is built of before anything is written.
//!
//! All lengths are paper millimetres, y down. Angles are in degrees, counterclockwise from the right as seen on the paper.

use super::{
    geometry::{Point, Rect},
    pen::Pen,
    text::Text,
};

/// What lies inside a closed outline.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Fill {
    /// Nothing: what is behind shows.
    #[default]
    None,
    /// White: hides what is behind.
    Paper,
    /// Black.
    Ink,
    /// White with thin grey lines [`HATCH_PITCH`] apart, at this angle (deg).
    Hatch(f64),
}

/// Distance between hatch lines (mm).
pub const HATCH_PITCH: f64 = 2.0;

/// One thing drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A straight line.
    Line {
        /// Where it starts.
        from: Point,
        /// Where it ends.
        to: Point,
        /// Drawn with.
        pen: Pen,
    },
    /// An open chain of straight lines.
    Polyline {
        /// Corners in order.
        points: Vec<Point>,
        /// Drawn with.
        pen: Pen,
    },
    /// A closed outline.
    Polygon {
        /// Corners in order, the last joins the first.
        points: Vec<Point>,
        /// Drawn with; `None` for a fill without an outline.
        pen: Option<Pen>,
        /// What lies inside.
        fill: Fill,
    },
    /// A full circle.
    Circle {
        /// Centre.
        centre: Point,
        /// Radius (mm).
        radius: f64,
        /// Drawn with.
        pen: Pen,
        /// What lies inside.
        fill: Fill,
    },
    /// Part of a circle, counterclockwise from one angle to the other.
    Arc {
        /// Centre.
        centre: Point,
        /// Radius (mm).
        radius: f64,
        /// Where it starts (deg).
        from_deg: f64,
        /// Where it ends (deg), above `from_deg` and less than a full turn away.
        to_deg: f64,
        /// Drawn with.
        pen: Pen,
    },
    /// Straight lines drawn as one, such as those of a hatching.
    Strokes {
        /// Both ends of each.
        lines: Vec<[Point; 2]>,
        /// Drawn with.
        pen: Pen,
    },
    /// A line of text.
    Text(Text),
    /// Marks that belong together.
    Group(Group),
}

/// Marks that belong together, with facts that can be read back from the file.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Group {
    /// What it is: `stay`, `hole`, `check-bar-100-mm`. Lower-case letters, digits and hyphens.
    pub name: String,
    /// Facts for whoever measures the file, written as `data-<key>="<value>"`. Keys as the name.
    pub facts: Vec<(String, String)>,
    /// What it holds.
    pub marks: Vec<Mark>,
    /// Window outside which nothing is shown.
    pub clip: Option<Rect>,
}

impl Group {
    /// An empty group.
    #[must_use]
    pub fn new(name: &str) -> Self {
        Self { name: name.to_string(), ..Self::default() }
    }

    /// The group with a fact added.
    #[must_use]
    pub fn fact(mut self, key: &str, value: impl ToString) -> Self {
        self.facts.push((key.to_string(), value.to_string()));
        self
    }

    /// The group with marks added.
    #[must_use]
    pub fn with(mut self, marks: impl IntoIterator<Item = Mark>) -> Self {
        self.marks.extend(marks);
        self
    }
}

impl From<Group> for Mark {
    fn from(group: Group) -> Self {
        Self::Group(group)
    }
}

impl From<Text> for Mark {
    fn from(text: Text) -> Self {
        Self::Text(text)
    }
}

impl Mark {
    /// A straight line.
    #[must_use]
    pub fn line(from: Point, to: Point, pen: Pen) -> Self {
        Self::Line { from, to, pen }
    }

    /// A closed outline with nothing inside.
    #[must_use]
    pub fn outline(points: impl Into<Vec<Point>>, pen: Pen) -> Self {
        Self::Polygon { points: points.into(), pen: Some(pen), fill: Fill::None }
    }

    /// A closed outline that hides what is behind, or is hatched or black.
    #[must_use]
    pub fn filled(points: impl Into<Vec<Point>>, pen: Pen, fill: Fill) -> Self {
        Self::Polygon { points: points.into(), pen: Some(pen), fill }
    }

    /// An upright box.
    #[must_use]
    pub fn rect(rect: Rect, pen: Pen) -> Self {
        Self::outline(rect.corners(), pen)
    }

    /// A circle with nothing inside.
    #[must_use]
    pub fn circle(centre: Point, radius: f64, pen: Pen) -> Self {
        Self::Circle { centre, radius, pen, fill: Fill::None }
    }

    /// A centre mark: a cross of centre lines reaching `reach` (mm) each way.
    #[must_use]
    pub fn cross(centre: Point, reach: f64, pen: Pen) -> [Self; 2] {
        [
            Self::line(centre.moved(-reach, 0.0), centre.moved(reach, 0.0), pen),
            Self::line(centre.moved(0.0, -reach), centre.moved(0.0, reach), pen),
        ]
    }

    /// A text with a white patch behind it, for places where lines would run through.
    #[must_use]
    pub fn patched(text: Text) -> [Self; 2] {
        let points = text.corners().to_vec();
        [Self::Polygon { points, pen: None, fill: Fill::Paper }, Self::Text(text)]
    }

    /// Upright box around the mark without line widths; `None` for an empty group. A clipped group ends at its window.
    #[must_use]
    pub fn bounds(&self) -> Option<Rect> {
        match self {
            Self::Line { from, to, .. } => Some(Rect::between(*from, *to)),
            Self::Polyline { points, .. } | Self::Polygon { points, .. } => Rect::around(points.iter().copied()),
            Self::Circle { centre, radius, .. } => Some(Rect::between(*centre, *centre).inset(-radius)),
            Self::Arc { centre, radius, from_deg, to_deg, .. } => arc_bounds(*centre, *radius, *from_deg, *to_deg),
            Self::Strokes { lines, .. } => Rect::around(lines.iter().flatten().copied()),
            Self::Text(text) => Some(text.bounds()),
            Self::Group(group) => {
                let all = bounds(&group.marks)?;
                match group.clip {
                    Some(window) if !all.meets(window) => None,
                    Some(window) => Some(Rect {
                        left: all.left.max(window.left),
                        top: all.top.max(window.top),
                        right: all.right.min(window.right),
                        bottom: all.bottom.min(window.bottom),
                    }),
                    None => Some(all),
                }
            }
        }
    }

    /// The mark moved right and down (mm).
    #[must_use]
    pub fn moved(&self, dx: f64, dy: f64) -> Self {
        let shift = |points: &[Point]| points.iter().map(|p| p.moved(dx, dy)).collect::<Vec<_>>();
        match self.clone() {
            Self::Line { from, to, pen } => Self::Line { from: from.moved(dx, dy), to: to.moved(dx, dy), pen },
            Self::Polyline { points, pen } => Self::Polyline { points: shift(&points), pen },
            Self::Polygon { points, pen, fill } => Self::Polygon { points: shift(&points), pen, fill },
            Self::Circle { centre, radius, pen, fill } => {
                Self::Circle { centre: centre.moved(dx, dy), radius, pen, fill }
            }
            Self::Arc { centre, radius, from_deg, to_deg, pen } => {
                Self::Arc { centre: centre.moved(dx, dy), radius, from_deg, to_deg, pen }
            }
            Self::Strokes { lines, pen } => {
                Self::Strokes { lines: lines.iter().map(|line| line.map(|end| end.moved(dx, dy))).collect(), pen }
            }
            Self::Text(text) => Self::Text(text.moved(dx, dy)),
            Self::Group(group) => Self::Group(Group {
                marks: group.marks.iter().map(|mark| mark.moved(dx, dy)).collect(),
                clip: group.clip.map(|window| window.moved(dx, dy)),
                ..group
            }),
        }
    }
}

fn arc_bounds(centre: Point, radius: f64, from_deg: f64, to_deg: f64) -> Option<Rect> {
    let quarter_turns = ((from_deg / 90.0).ceil() as i64..=(to_deg / 90.0).floor() as i64).map(|n| 90.0 * n as f64);
    let angles = quarter_turns.chain([from_deg, to_deg]);
    Rect::around(angles.map(|angle| centre.towards(angle, radius)))
}

/// Upright box around some marks; `None` when there are none.
#[must_use]
pub fn bounds(marks: &[Mark]) -> Option<Rect> {
    marks.iter().filter_map(Mark::bounds).reduce(Rect::with)
}

/// All texts among some marks, however deep in groups, in drawing order.
#[must_use]
pub fn texts(marks: &[Mark]) -> Vec<&Text> {
    let mut found = Vec::new();
    for mark in marks {
        match mark {
            Mark::Text(text) => found.push(text),
            Mark::Group(group) => found.extend(texts(&group.marks)),
            _ => {}
        }
    }
    found
}
