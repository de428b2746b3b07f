//! Points and boxes, on the paper and in the world. The two never mix: only a [`View`](super::View) turns one into the other.

/// A place on the paper (mm): x to the right, y **down**, origin at the sheet's top left corner.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Point {
    /// To the right (mm).
    pub x: f64,
    /// Down (mm).
    pub y: f64,
}

impl Point {
    /// A point from its paper coordinates (mm).
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    /// The point moved right and down (mm).
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Self {
        Self::new(self.x + dx, self.y + dy)
    }

    /// The point `distance` (mm) away in the direction `angle_deg`, counterclockwise from the right as seen on the paper.
    #[must_use]
    pub fn towards(self, angle_deg: f64, distance: f64) -> Self {
        let (sin, cos) = angle_deg.to_radians().sin_cos();
        self.moved(distance * cos, -distance * sin)
    }

    /// Distance to another point (mm).
    #[must_use]
    pub fn distance(self, other: Self) -> f64 {
        (other.x - self.x).hypot(other.y - self.y)
    }

    /// Direction to another point (deg), counterclockwise from the right as seen on the paper.
    #[must_use]
    pub fn angle_to_deg(self, other: Self) -> f64 {
        (self.y - other.y).atan2(other.x - self.x).to_degrees()
    }

    /// The point half way to another.
    #[must_use]
    pub fn middle(self, other: Self) -> Self {
        Self::new(0.5 * (self.x + other.x), 0.5 * (self.y + other.y))
    }
}

/// A place on the work (mm): x to the right, y **up**, origin where the drawing's author puts it.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct World {
    /// To the right (mm).
    pub x: f64,
    /// Up (mm).
    pub y: f64,
}

impl World {
    /// A point from its world coordinates (mm).
    #[must_use]
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
}

/// An upright box on the paper (mm), `left <= right` and `top <= bottom`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Smallest x (mm).
    pub left: f64,
    /// Smallest y (mm).
    pub top: f64,
    /// Largest x (mm).
    pub right: f64,
    /// Largest y (mm).
    pub bottom: f64,
}

impl Rect {
    /// A box between two corners, in any order.
    #[must_use]
    pub fn between(a: Point, b: Point) -> Self {
        Self { left: a.x.min(b.x), top: a.y.min(b.y), right: a.x.max(b.x), bottom: a.y.max(b.y) }
    }

    /// The smallest box around some points, or `None` when there are none.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = Point>) -> Option<Self> {
        points.into_iter().map(|p| Self::between(p, p)).reduce(Self::with)
    }

    /// The smallest box around this one and another.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            top: self.top.min(other.top),
            right: self.right.max(other.right),
            bottom: self.bottom.max(other.bottom),
        }
    }

    /// The box with `by` (mm) taken off each side (added when negative).
    #[must_use]
    pub fn inset(self, by: f64) -> Self {
        Self { left: self.left + by, top: self.top + by, right: self.right - by, bottom: self.bottom - by }
    }

    /// The box moved right and down (mm).
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Self {
        Self { left: self.left + dx, top: self.top + dy, right: self.right + dx, bottom: self.bottom + dy }
    }

    /// Width (mm).
    #[must_use]
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height (mm).
    #[must_use]
    pub fn height(self) -> f64 {
        self.bottom - self.top
    }

    /// Centre of the box.
    #[must_use]
    pub fn centre(self) -> Point {
        Point::new(0.5 * (self.left + self.right), 0.5 * (self.top + self.bottom))
    }

    /// The corners, clockwise on the paper from the top left.
    #[must_use]
    pub fn corners(self) -> [Point; 4] {
        [
            Point::new(self.left, self.top),
            Point::new(self.right, self.top),
            Point::new(self.right, self.bottom),
            Point::new(self.left, self.bottom),
        ]
    }

    /// Whether another box lies wholly inside this one; touching the edge counts as inside.
    #[must_use]
    pub fn holds(self, other: Self) -> bool {
        other.left >= self.left && other.right <= self.right && other.top >= self.top && other.bottom <= self.bottom
    }

    /// Whether the two boxes share any point.
    #[must_use]
    pub fn meets(self, other: Self) -> bool {
        self.left <= other.right && other.left <= self.right && self.top <= other.bottom && other.top <= self.bottom
    }
}

/// An upright box in the world (mm), `left <= right` and `low <= high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Smallest x (mm).
    pub left: f64,
    /// Smallest y (mm).
    pub low: f64,
    /// Largest x (mm).
    pub right: f64,
    /// Largest y (mm).
    pub high: f64,
}

impl Bounds {
    /// The smallest box around some points, or `None` when there are none.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = World>) -> Option<Self> {
        points.into_iter().map(|p| Self { left: p.x, low: p.y, right: p.x, high: p.y }).reduce(Self::with)
    }

    /// The smallest box around this one and another.
    #[must_use]
    pub fn with(self, other: Self) -> Self {
        Self {
            left: self.left.min(other.left),
            low: self.low.min(other.low),
            right: self.right.max(other.right),
            high: self.high.max(other.high),
        }
    }

    /// The box with `by` (mm) added on each side.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self { left: self.left - by, low: self.low - by, right: self.right + by, high: self.high + by }
    }

    /// Width (mm).
    #[must_use]
    pub fn width(self) -> f64 {
        self.right - self.left
    }

    /// Height (mm).
    #[must_use]
    pub fn height(self) -> f64 {
        self.high - self.low
    }
}
