//! Views: where the work lands on the paper, and at which scale.

use super::geometry::{Bounds, Point, Rect, World};
use std::fmt;

/// A reducing scale, one to so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Scale(u32);

impl Scale {
    /// Full size, 1:1.
    pub const FULL: Self = Self(1);

    /// The preferred scales, largest drawing first: 1:1, 1:2, 1:5, 1:10, 1:20, 1:50 and so on, up to 1:10 000 000.
    ///
    /// # Source
    /// ISO 5455:1979, table of recommended scales (reductions 1:2, 1:5, 1:10 times powers of ten), from memory.
    pub fn preferred() -> impl Iterator<Item = Self> {
        (0..8).flat_map(|power| [1, 2, 5].map(|n| Self(n * 10_u32.pow(power))))
    }

    /// The preferred scales with 1:15, 1:25, 1:30 and 1:40 put in: most frames fall between 1:10 and 1:50,
    /// where the preferred steps waste half a sheet. ISO 5455:1979 allows intermediate scales where needed (from memory).
    pub fn for_frames() -> impl Iterator<Item = Self> {
        const BETWEEN: [u32; 4] = [15, 25, 30, 40];
        let mut all: Vec<Self> = Self::preferred().chain(BETWEEN.map(Self)).collect();
        all.sort_unstable();
        all.into_iter()
    }

    /// The largest preferred scale at which something of this size (mm) fits into a room of that size (mm).
    #[must_use]
    pub fn to_fit(width: f64, height: f64, room_width: f64, room_height: f64) -> Self {
        let fits = |scale: &Self| scale.length(width) <= room_width && scale.length(height) <= room_height;
        Self::preferred().find(fits).unwrap_or(Self(10_000_000))
    }

    /// A length on the paper (mm) for one in the world (mm).
    #[must_use]
    pub fn length(self, world_mm: f64) -> f64 {
        world_mm / f64::from(self.0)
    }

    /// How many times smaller than the work the drawing is.
    #[must_use]
    pub fn reduction(self) -> u32 {
        self.0
    }
}

impl fmt::Display for Scale {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "1:{}", self.0)
    }
}

/// Maps the world to the paper: a scale, and one point known in both.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct View {
    scale: Scale,
    world: World,
    paper: Point,
}

impl View {
    /// A view at a scale that puts `world` at `paper`.
    #[must_use]
    pub fn new(scale: Scale, world: World, paper: Point) -> Self {
        Self { scale, world, paper }
    }

    /// A view that shows `bounds` in the middle of a window on the paper, at the largest preferred scale that fits.
    #[must_use]
    pub fn fit(bounds: Bounds, window: Rect) -> Self {
        let scale = Scale::to_fit(bounds.width(), bounds.height(), window.width(), window.height());
        Self::centred(scale, bounds, window)
    }

    /// A view at a scale that shows `bounds` in the middle of a window on the paper.
    #[must_use]
    pub fn centred(scale: Scale, bounds: Bounds, window: Rect) -> Self {
        let middle = World::new(0.5 * (bounds.left + bounds.right), 0.5 * (bounds.low + bounds.high));
        Self::new(scale, middle, window.centre())
    }

    /// Where a point of the world lies on the paper.
    #[must_use]
    pub fn at(&self, point: World) -> Point {
        // The one place where y turns over: up in the world, down on the paper.
        Point::new(
            self.paper.x + self.scale.length(point.x - self.world.x),
            self.paper.y - self.scale.length(point.y - self.world.y),
        )
    }

    /// Where a chain of points lies on the paper.
    #[must_use]
    pub fn all(&self, points: &[World]) -> Vec<Point> {
        points.iter().map(|p| self.at(*p)).collect()
    }

    /// A length on the paper (mm) for one in the world (mm).
    #[must_use]
    pub fn length(&self, world_mm: f64) -> f64 {
        self.scale.length(world_mm)
    }

    /// The box on the paper that a box of the world takes.
    #[must_use]
    pub fn rect(&self, bounds: Bounds) -> Rect {
        Rect::between(self.at(World::new(bounds.left, bounds.low)), self.at(World::new(bounds.right, bounds.high)))
    }

    /// Its scale.
    #[must_use]
    pub fn scale(&self) -> Scale {
        self.scale
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn scales_follow_the_preferred_series() {
        let first: Vec<_> = Scale::preferred().take(7).map(|s| s.to_string()).collect();
        assert_eq!(first, ["1:1", "1:2", "1:5", "1:10", "1:20", "1:50", "1:100"]);
        assert_eq!(Scale::to_fit(2000.0, 1000.0, 180.0, 200.0).to_string(), "1:20");
        assert_eq!(Scale::to_fit(1800.0, 1000.0, 180.0, 200.0).to_string(), "1:10");
        assert_eq!(Scale::to_fit(f64::INFINITY, 1.0, 180.0, 200.0).reduction(), 10_000_000);
    }

    #[test]
    fn up_in_the_world_is_up_on_the_paper() {
        let view = View::new(Scale::preferred().nth(3).expect("1:10"), World::new(0.0, 0.0), Point::new(100.0, 100.0));
        assert_eq!(view.at(World::new(50.0, 200.0)), Point::new(105.0, 80.0));
    }
}
