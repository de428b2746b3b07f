//! Dimensions, after ISO 129-1: text above its line and readable from the bottom or the right, closed arrowheads, extension lines
//! from the work. Distances between the parts follow common drafting practice (no source).

use super::{
    geometry::Point,
    mark::{Fill, Mark},
    overlap::{line_crosses, rooms_overlap},
    pen::Pen,
    text::{Anchor, Text, TextSize},
};

/// Length of an arrowhead (mm).
const ARROW: f64 = 2.5;
/// Half the width of an arrowhead (mm).
const ARROW_HALF: f64 = 0.42;
/// Gap between the work and an extension line (mm).
const GAP: f64 = 1.0;
/// How far an extension line runs on past its dimension line (mm).
const PAST: f64 = 1.5;
/// Gap between a dimension line and the text above it, below the descenders (mm).
const LIFT: f64 = 0.2;
/// Room each side of a text between the extension lines of its dimension (mm).
const CLEAR_OF_LINE: f64 = 0.6;
/// Distance of two dimension lines, one outside the other (mm).
pub const TIER: f64 = 6.0;
/// Distance of the first dimension line from the work (mm).
pub const FIRST_TIER: f64 = 7.0;
const SIZE: TextSize = TextSize::Small;

/// The side of the work on which dimensions stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Above, measuring across.
    Above,
    /// Below, measuring across.
    Below,
    /// Left, measuring up.
    Left,
    /// Right, measuring up.
    Right,
}

/// A dimension waiting for its place.
#[derive(Debug, Clone)]
struct Linear {
    from: Point,
    to: Point,
    text: String,
}

/// Linear dimensions on one side of the work. They are stacked so that texts touch neither each other nor extension lines:
/// short ones inside, each on the first tier with room.
#[derive(Debug, Clone)]
pub struct Stack {
    side: Side,
    base: f64,
    first_tier: f64,
    texts_high: bool,
    dimensions: Vec<Linear>,
}

// Axes of a stack: `along` is what is measured, `out` grows away from the work.
impl Stack {
    /// A stack on a side; `base` is the paper coordinate (mm) of the outermost work there (x for left and right, y for above and below).
    #[must_use]
    pub fn new(side: Side, base: f64) -> Self {
        Self { side, base, first_tier: FIRST_TIER, texts_high: false, dimensions: Vec::new() }
    }

    /// The same stack with its first line `distance` (mm) from the base.
    #[must_use]
    pub fn starting(mut self, distance: f64) -> Self {
        self.first_tier = distance;
        self
    }

    /// The same stack with no text before the low end of what it measures, where another stack stands round the corner.
    #[must_use]
    pub(super) fn texts_high(mut self) -> Self {
        self.texts_high = true;
        self
    }

    /// Asks for the distance between two points, measured along the side.
    pub fn add(&mut self, from: Point, to: Point, text: &str) {
        self.dimensions.push(Linear { from, to, text: text.to_string() });
    }

    /// Whether nothing was asked for.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.dimensions.is_empty()
    }

    /// The marks, and how far they reach from the base (mm).
    #[must_use]
    pub fn draw(&self) -> (Vec<Mark>, f64) {
        let mut marks = Vec::new();
        let placed = self.place();
        let mut reach: f64 = 0.0;
        for (dimension, spot) in &placed {
            let out = self.out(spot.tier);
            reach = reach.max(out + PAST.max(SIZE.above() + SIZE.below() + LIFT));
            self.draw_one(dimension, spot, out, &mut marks);
        }
        (marks, reach)
    }

    fn draw_one(&self, dimension: &Linear, spot: &Spot, out: f64, marks: &mut Vec<Mark>) {
        for point in [dimension.from, dimension.to] {
            let along = self.along(point);
            let start = self.point(along, (self.out_of(point) + GAP).min(out));
            marks.push(Mark::line(start, self.point(along, out + PAST), Pen::Dimension));
        }
        let (low, high) = self.span(dimension);
        let (start, end) = (spot.line.0.min(low), spot.line.1.max(high));
        marks.push(Mark::line(self.point(start, out), self.point(end, out), Pen::Dimension));
        let (a, b) = (self.point(low, out), self.point(high, out));
        if Self::heads_outside(high - low) == 0.0 {
            marks.extend([arrow(a, b.angle_to_deg(a)), arrow(b, a.angle_to_deg(b))]);
        } else {
            // No room for two arrowheads between the extension lines: they point inwards from outside.
            let (before, after) = (self.point(low - 2.0 * ARROW, out), self.point(high + 2.0 * ARROW, out));
            marks.extend([Mark::line(before, a, Pen::Dimension), Mark::line(after, b, Pen::Dimension)]);
            marks.extend([arrow(a, before.angle_to_deg(a)), arrow(b, after.angle_to_deg(b))]);
        }
        let text = self.text(&dimension.text, spot.middle, out);
        marks.push(text.into());
    }

    /// Gives every dimension its tier and the place of its text, short ones first.
    fn place(&self) -> Vec<(&Linear, Spot)> {
        let mut order: Vec<&Linear> = self.dimensions.iter().collect();
        order.sort_by(|a, b| self.length(a).total_cmp(&self.length(b)).then(self.span(a).0.total_cmp(&self.span(b).0)));
        let mut placed: Vec<(&Linear, Spot)> = Vec::new();
        for (n, dimension) in order.iter().enumerate() {
            let (near, beyond) = self.middles(dimension);
            let find = |middles: &[f64]| {
                let mut tiers = 0..=placed.len();
                tiers.find_map(|tier| self.spot(dimension, tier, middles, &placed, &order[n + 1..]))
            };
            // Beyond the ends of all dimensions no extension line passes, and the tier after all others is free: this always works.
            let spot = find(&near)
                .or_else(|| find(&beyond))
                .unwrap_or_else(|| self.spot_at(dimension, placed.len(), beyond[0]));
            placed.push((dimension, spot));
        }
        placed
    }

    /// Where the middle of a text may stand: inside its span or just outside, and beyond the ends of all dimensions.
    fn middles(&self, dimension: &Linear) -> (Vec<f64>, Vec<f64>) {
        let (low, high) = self.span(dimension);
        let width = super::text::width(&dimension.text, SIZE, false);
        let mut near = Vec::new();
        let slack = 0.5 * (high - low - width) - 0.6;
        if slack >= 0.0 {
            let middle = 0.5 * (low + high);
            near.extend((0..=8).flat_map(|n| [1.0, -1.0].map(|sign| middle + sign * slack * f64::from(n) / 8.0)));
        }
        let outside = Self::heads_outside(high - low).max(1.2) + 0.5 * width;
        near.push(high + outside);
        let lowest = self.dimensions.iter().map(|other| self.span(other).0).fold(low, f64::min);
        let highest = self.dimensions.iter().map(|other| self.span(other).1).fold(high, f64::max);
        let mut beyond = vec![highest + outside];
        if !self.texts_high {
            near.push(low - outside);
            beyond.push(lowest - outside);
        }
        (near, beyond)
    }

    /// How far arrowheads reach outside the extension lines (mm).
    fn heads_outside(length: f64) -> f64 {
        if length >= 2.0 * ARROW + 1.0 { 0.0 } else { 2.0 * ARROW }
    }

    /// A place on a tier where the line is free of other lines there, and the text free of all extension lines that run or will run
    /// further out.
    fn spot(
        &self,
        dimension: &Linear,
        tier: usize,
        middles: &[f64],
        placed: &[(&Linear, Spot)],
        later: &[&Linear],
    ) -> Option<Spot> {
        const CLEAR: f64 = 1.0;
        let own = self.span(dimension);
        let outer = placed.iter().filter(|(_, spot)| spot.tier > tier).map(|(other, _)| *other);
        let passing: Vec<f64> =
            outer.chain(later.iter().copied()).flat_map(|d| [d.from, d.to]).map(|p| self.along(p)).collect();
        let good = |spot: &Spot| {
            // Ends may meet end to end on one tier (a chain), never overlap.
            let on_tier = placed.iter().filter(|(_, other)| other.tier == tier);
            let free = on_tier
                .into_iter()
                .all(|(_, other)| spot.line.1 <= other.line.0 + 1e-6 || spot.line.0 >= other.line.1 - 1e-6);
            let (from, to) = (spot.middle - spot.half, spot.middle + spot.half);
            let inside = from >= own.0 && to <= own.1;
            let through_self = !inside && [own.0, own.1].iter().any(|end| (from..=to).contains(end));
            free && !through_self && !passing.iter().any(|line| (from - CLEAR..=to + CLEAR).contains(line))
        };
        middles.iter().map(|middle| self.spot_at(dimension, tier, *middle)).find(good)
    }

    fn spot_at(&self, dimension: &Linear, tier: usize, middle: f64) -> Spot {
        let (low, high) = self.span(dimension);
        let heads = Self::heads_outside(high - low);
        let half = 0.5 * super::text::width(&dimension.text, SIZE, false);
        let inside = middle - half >= low && middle + half <= high;
        let margin = if inside { 0.0 } else { 0.6 };
        let line = ((low - heads).min(middle - half - margin), (high + heads).max(middle + half + margin));
        Spot { tier, middle, half, line }
    }

    fn text(&self, content: &str, middle: f64, out: f64) -> Text {
        let lift = LIFT + SIZE.below();
        match self.side {
            Side::Above | Side::Below => {
                let at = self.point(middle, out).moved(0.0, -lift);
                Text::new(content, at, SIZE).anchored(Anchor::Middle)
            }
            Side::Left | Side::Right => {
                let at = self.point(middle, out).moved(-lift, 0.0);
                Text::new(content, at, SIZE).anchored(Anchor::Middle).rotated(90.0)
            }
        }
    }

    fn out(&self, tier: usize) -> f64 {
        self.first_tier + TIER * tier as f64
    }

    fn length(&self, dimension: &Linear) -> f64 {
        let (low, high) = self.span(dimension);
        high - low
    }

    fn span(&self, dimension: &Linear) -> (f64, f64) {
        let (a, b) = (self.along(dimension.from), self.along(dimension.to));
        (a.min(b), a.max(b))
    }

    fn along(&self, point: Point) -> f64 {
        match self.side {
            Side::Above | Side::Below => point.x,
            Side::Left | Side::Right => point.y,
        }
    }

    fn out_of(&self, point: Point) -> f64 {
        match self.side {
            Side::Above => self.base - point.y,
            Side::Below => point.y - self.base,
            Side::Left => self.base - point.x,
            Side::Right => point.x - self.base,
        }
    }

    fn point(&self, along: f64, out: f64) -> Point {
        match self.side {
            Side::Above => Point::new(along, self.base - out),
            Side::Below => Point::new(along, self.base + out),
            Side::Left => Point::new(self.base - out, along),
            Side::Right => Point::new(self.base + out, along),
        }
    }
}

/// Where a dimension of a stack stands.
#[derive(Debug, Clone)]
struct Spot {
    tier: usize,
    /// Middle of the text along the side.
    middle: f64,
    half: f64,
    /// What the dimension line with its text takes of the tier.
    line: (f64, f64),
}

/// An arrowhead with its tip at a point, pointing in a direction (deg).
#[must_use]
pub fn arrow(tip: Point, direction_deg: f64) -> Mark {
    let heel = tip.towards(direction_deg + 180.0, ARROW);
    let points =
        vec![tip, heel.towards(direction_deg + 90.0, ARROW_HALF), heel.towards(direction_deg - 90.0, ARROW_HALF)];
    Mark::Polygon { points, pen: None, fill: Fill::Ink }
}

/// A text direction (deg) turned so that it reads from the bottom or from the right of the sheet.
#[must_use]
pub fn readable_deg(direction_deg: f64) -> f64 {
    let turned = direction_deg.rem_euclid(180.0);
    if turned > 90.0 + 1e-6 { turned - 180.0 } else { turned }
}

/// The distance between two points in any direction, its line `offset` (mm) to the left of the way from one to the other
/// (to the right when negative). A text longer than its span stands beyond the end, over the line run on.
#[must_use]
pub fn aligned(from: Point, to: Point, offset: f64, text: &str) -> Vec<Mark> {
    aligned_beyond(from, to, offset, text, 0.0)
}

/// As [`aligned`], its text shifted towards the second point (`shift` up to 1) or the first (down to -1); one longer than its span stands
/// beyond the second point, or beyond the first when `shift` is negative.
#[must_use]
pub fn aligned_beyond(from: Point, to: Point, offset: f64, text: &str, shift: f64) -> Vec<Mark> {
    let direction = from.angle_to_deg(to);
    let square = direction + 90.0;
    let (a, b) = (from.towards(square, offset), to.towards(square, offset));
    let mut marks = Vec::new();
    if offset.abs() > GAP {
        for (work, end) in [(from, a), (to, b)] {
            let start = work.towards(square, GAP * offset.signum());
            marks.push(Mark::line(start, end.towards(square, PAST * offset.signum()), Pen::Dimension));
        }
    }
    let heads = Stack::heads_outside(a.distance(b));
    let (before, after) = (a.towards(direction, -heads), b.towards(direction, heads));
    let width = super::text::width(text, SIZE, false);
    let middle = if width + 2.0 * CLEAR_OF_LINE <= a.distance(b) {
        marks.push(Mark::line(before, after, Pen::Dimension));
        let slack = 0.5 * (a.distance(b) - width) - CLEAR_OF_LINE;
        a.middle(b).towards(direction, shift * slack)
    } else {
        let run_on = heads.max(ARROW) + 2.0 * CLEAR_OF_LINE + width;
        let out = heads.max(ARROW) + CLEAR_OF_LINE + 0.5 * width;
        if shift >= 0.0 {
            marks.push(Mark::line(before, b.towards(direction, run_on), Pen::Dimension));
            b.towards(direction, out)
        } else {
            marks.push(Mark::line(a.towards(direction, -run_on), after, Pen::Dimension));
            a.towards(direction, -out)
        }
    };
    let turn = if heads == 0.0 { 0.0 } else { 180.0 };
    marks.extend([arrow(a, direction + 180.0 + turn), arrow(b, direction + turn)]);
    let reading = readable_deg(direction);
    let at = middle.towards(reading + 90.0, LIFT + SIZE.below());
    marks.push(Text::new(text, at, SIZE).anchored(Anchor::Middle).rotated(reading).into());
    marks
}

/// An angle between two directions (deg) about a corner, counterclockwise from one to the other, its text outside the arc.
#[must_use]
pub fn angular(corner: Point, radius: f64, from_deg: f64, to_deg: f64, text: &str) -> Vec<Mark> {
    let to_deg = if to_deg < from_deg { to_deg + 360.0 } else { to_deg };
    // The head is straight and the arc is not: turn it by half the angle it covers, so that it lies on the arc.
    let lean = (0.5 * ARROW / radius).to_degrees();
    let (start, end) = (corner.towards(from_deg, radius), corner.towards(to_deg, radius));
    let middle_deg = 0.5 * (from_deg + to_deg);
    let at = corner.towards(middle_deg, radius + 1.5);
    let (sin, cos) = middle_deg.to_radians().sin_cos();
    let width = super::text::width(text, SIZE, false);
    // The middle of the text's room goes out far enough that its nearest side clears the arc.
    let reach = 0.5 * (width * cos.abs() + SIZE.capital() * sin.abs());
    vec![
        Mark::Arc { centre: corner, radius, from_deg, to_deg, pen: Pen::Dimension },
        arrow(start, from_deg - 90.0 + lean),
        arrow(end, to_deg + 90.0 - lean),
        Text::new(text, at.towards(middle_deg, reach), SIZE).centred().into(),
    ]
}

/// A leader from a point to a level text: for hole sizes, part marks and notes. The text stands right of its shelf when
/// the shelf lies right of the point, else left.
#[must_use]
pub fn leader(point: Point, shelf: Point, text: &str) -> Vec<Mark> {
    const SHELF: f64 = 2.0;
    let rightwards = shelf.x >= point.x;
    let end = shelf.moved(if rightwards { SHELF } else { -SHELF }, 0.0);
    let anchor = if rightwards { Anchor::Start } else { Anchor::End };
    let gap = if rightwards { 0.8 } else { -0.8 };
    vec![
        Mark::line(point, shelf, Pen::Dimension),
        Mark::line(shelf, end, Pen::Dimension),
        arrow(point, shelf.angle_to_deg(point)),
        Text::new(text, end.moved(gap, 0.0), SIZE).anchored(anchor).on_middle().into(),
    ]
}

/// A feature of a running dimension.
#[derive(Debug, Clone)]
pub struct Feature {
    /// Where it is on the work.
    pub at: Point,
    /// What is written at its line.
    pub text: String,
}

/// Distances from one datum (ISO 129-1, superimposed running dimensioning): one line, a ring at the datum, an arrowhead and a text for
/// each feature at the end of its extension line. Crowded texts are spread, their lines kinked.
///
/// `side` says where the line runs, `base` as for [`Stack::new`]. Returns the marks and how far they reach from the base (mm).
#[must_use]
pub fn running(side: Side, base: f64, datum: &Feature, features: &[Feature]) -> (Vec<Mark>, f64) {
    let axes = Stack::new(side, base);
    let out = FIRST_TIER;
    let pitch = SIZE.above() + SIZE.below() + 0.3;
    let mut all: Vec<&Feature> = std::iter::once(datum).chain(features).collect();
    all.sort_by(|a, b| axes.along(a.at).total_cmp(&axes.along(b.at)));
    let wanted: Vec<f64> = all.iter().map(|feature| axes.along(feature.at)).collect();
    let spread = spread(&wanted, pitch);
    let kinked = wanted.iter().zip(&spread).any(|(a, b)| (a - b).abs() > 0.05);
    let (knee, tail) = (out + PAST, out + PAST + if kinked { 4.0 } else { 0.5 });
    let mut marks = Vec::new();
    let mut reach = tail;
    let start = axes.along(datum.at);
    for (feature, place) in all.iter().zip(&spread) {
        let along = axes.along(feature.at);
        let work = axes.point(along, (axes.out_of(feature.at) + GAP).min(out));
        let points = vec![work, axes.point(along, knee), axes.point(*place, tail)];
        marks.push(Mark::Polyline { points, pen: Pen::Dimension });
        if (along - start).abs() > 1e-6 {
            let (a, b) = (axes.point(start, out), axes.point(along, out));
            marks.push(arrow(b, a.angle_to_deg(b)));
        }
        reach = reach.max(tail + 0.8 + super::text::width(&feature.text, SIZE, false));
        marks.push(running_text(&axes, feature, *place, tail + 0.8).into());
    }
    let ends = [wanted.first(), wanted.last()].map(|end| axes.point(end.copied().unwrap_or(start), out));
    marks.push(Mark::line(ends[0], ends[1], Pen::Dimension));
    marks.push(Mark::Circle { centre: axes.point(start, out), radius: 0.8, pen: Pen::Dimension, fill: Fill::Paper });
    (marks, reach)
}

fn running_text(axes: &Stack, feature: &Feature, place: f64, out: f64) -> Text {
    let at = axes.point(place, out);
    let (rotation, anchor) = match axes.side {
        Side::Above => (90.0, Anchor::Start),
        Side::Below => (90.0, Anchor::End),
        Side::Left => (0.0, Anchor::End),
        Side::Right => (0.0, Anchor::Start),
    };
    let mut text = Text::new(&feature.text, at, SIZE).anchored(anchor).rotated(rotation);
    // The middle of the room, not of the capitals, lies on the line: rooms a pitch apart then never touch.
    let drop = 0.5 * (SIZE.above() - SIZE.below());
    text.at = text.at.towards(rotation - 90.0, drop);
    text
}

/// Places as near as may be to the wanted ones (ascending) but at least `pitch` apart: groups that collide share the move.
#[must_use]
pub fn spread(wanted: &[f64], pitch: f64) -> Vec<f64> {
    // With the pitch taken out this is least squares under an ascending order: pool neighbours that would swap.
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (n, value) in wanted.iter().enumerate() {
        pools.push((value - pitch * n as f64, 1));
        while let [.., (a, n_a), (b, n_b)] = pools[..] {
            if a < b {
                break;
            }
            pools.truncate(pools.len() - 2);
            pools.push(((a * n_a as f64 + b * n_b as f64) / (n_a + n_b) as f64, n_a + n_b));
        }
    }
    let flat = pools.iter().flat_map(|(value, count)| std::iter::repeat_n(*value, *count));
    flat.enumerate().map(|(n, value)| value + pitch * n as f64).collect()
}

/// Finds free places for labels: knows the rooms taken and the lines drawn so far.
#[derive(Debug, Clone, Default)]
pub struct Labels {
    rooms: Vec<[Point; 4]>,
    lines: Vec<(Point, Point)>,
}

impl Labels {
    /// Labels keep this far apart, so that two never read as one (mm).
    const APART: f64 = 1.2;

    /// Labels keep this far from lines where they can, so that none reads as lying on one (mm).
    const OFF_LINES: f64 = 1.0;

    /// Nothing taken yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes note of marks: their texts must never be covered, their lines should not.
    pub fn avoid(&mut self, marks: &[Mark]) {
        for mark in marks {
            match mark {
                Mark::Text(text) => self.rooms.push(text.corners()),
                Mark::Group(group) => self.avoid(&group.marks),
                Mark::Line { from, to, .. } => self.lines.push((*from, *to)),
                Mark::Polyline { points, .. } => self.lines.extend(points.windows(2).map(|w| (w[0], w[1]))),
                Mark::Polygon { points, pen: Some(_), .. } => {
                    let next = points.iter().cycle().skip(1);
                    self.lines.extend(points.iter().zip(next).map(|(a, b)| (*a, *b)));
                }
                Mark::Circle { centre, radius, .. } => {
                    let rim = |n: i32| centre.towards(f64::from(n) * 45.0, *radius);
                    self.lines.extend((0..8).map(|n| (rim(n), rim(n + 1))));
                }
                Mark::Arc { centre, radius, from_deg, to_deg, .. } => {
                    let rim = |n: i32| centre.towards(from_deg + (to_deg - from_deg) * f64::from(n) / 8.0, *radius);
                    self.lines.extend((0..8).map(|n| (rim(n), rim(n + 1))));
                }
                // Nothing is kept clear of a hatching.
                Mark::Polygon { .. } | Mark::Strokes { .. } => {}
            }
        }
    }

    /// Whether a text would cover another or all but touch it.
    #[must_use]
    pub fn covers_text(&self, text: &Text) -> bool {
        let room = text.room(Self::APART);
        self.rooms.iter().any(|other| rooms_overlap(&room, other))
    }

    /// How many lines run through the room of a text.
    #[must_use]
    pub fn lines_through(&self, text: &Text) -> usize {
        let room = text.corners();
        self.lines.iter().filter(|(a, b)| line_crosses(*a, *b, &room)).count()
    }

    /// How many lines run through the room of a text or within `around` (mm) of it.
    #[must_use]
    pub fn lines_near(&self, text: &Text, around: f64) -> usize {
        let room = text.room(around);
        self.lines.iter().filter(|(a, b)| line_crosses(*a, *b, &room)).count()
    }

    /// How many texts the lines of some marks run through.
    fn texts_cut(&self, marks: &[Mark]) -> usize {
        let mut drawn = Self::default();
        drawn.avoid(marks);
        let cut = |room: &&[Point; 4]| drawn.lines.iter().any(|(a, b)| line_crosses(*a, *b, room));
        self.rooms.iter().filter(cut).count()
    }

    /// Picks, among ways to draw one label, the first that covers no text and is crossed by the fewest lines, and takes note of it.
    /// Its own lines should cut no text either.
    /// `None` when all of them cover a text or leave `window`.
    pub fn place(&mut self, window: super::Rect, ways: impl IntoIterator<Item = Vec<Mark>>) -> Option<Vec<Mark>> {
        // A leader through a text is worse than a line behind one.
        const CUT: usize = 4;
        let mut best: Option<(usize, Vec<Mark>)> = None;
        for way in ways {
            let texts = super::mark::texts(&way);
            if texts.iter().any(|text| self.covers_text(text) || !window.holds(text.bounds())) {
                continue;
            }
            // A line through a text counts twice: it runs near it as well.
            let near = |text: &&Text| self.lines_through(text) + self.lines_near(text, Self::OFF_LINES);
            let through = texts.iter().map(near).sum::<usize>();
            let crossed = through + CUT * self.texts_cut(&way);
            if best.as_ref().is_none_or(|(least, _)| crossed < *least) {
                best = Some((crossed, way));
            }
            if crossed == 0 {
                break;
            }
        }
        let (_, way) = best?;
        self.avoid(&way);
        Some(way)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::{Rect, overlap::Clashes};

    const EVERYWHERE: Rect = Rect { left: -1e4, top: -1e4, right: 1e4, bottom: 1e4 };

    #[test]
    fn spread_places_keep_order_and_pitch() {
        assert_eq!(spread(&[0.0, 10.0, 20.0], 4.0), [0.0, 10.0, 20.0]);
        assert_eq!(spread(&[5.0, 5.0, 5.0], 4.0), [1.0, 5.0, 9.0]);
        let close = spread(&[0.0, 1.0, 30.0, 30.5, 31.0], 4.0);
        assert!(close.windows(2).all(|w| w[1] - w[0] >= 4.0 - 1e-9), "{close:?}");
    }

    #[test]
    fn stacked_dimensions_never_touch() {
        for side in [Side::Above, Side::Below, Side::Left, Side::Right] {
            let mut stack = Stack::new(side, 100.0);
            let at = |v: f64| match side {
                Side::Above | Side::Below => Point::new(v, 100.0),
                Side::Left | Side::Right => Point::new(100.0, v),
            };
            let places = [0.0, 3.0, 8.0, 11.0, 40.0, 90.0, 92.0, 150.0];
            for (i, a) in places.iter().enumerate() {
                for b in &places[i + 1..] {
                    stack.add(at(*a), at(*b), "4 ft 11-15/16 in");
                }
            }
            let (marks, reach) = stack.draw();
            let clashes = Clashes::of(&marks, EVERYWHERE);
            assert!(clashes.is_empty(), "{side:?}: {clashes:?}");
            let mut labels = Labels::new();
            labels.avoid(&marks);
            for text in crate::sheets::texts(&marks) {
                assert_eq!(labels.lines_through(text), 0, "{side:?}: a line runs through {text:?}");
            }
            assert!(reach > FIRST_TIER);
        }
    }

    #[test]
    fn crowded_running_texts_never_touch() {
        for side in [Side::Above, Side::Below, Side::Left, Side::Right] {
            let feature = |v: f64| Feature {
                at: match side {
                    Side::Above | Side::Below => Point::new(v, 0.0),
                    Side::Left | Side::Right => Point::new(0.0, v),
                },
                text: format!("{v} mm at 35°"),
            };
            let features: Vec<_> = [10.0, 10.5, 11.0, 50.0, 52.0, 90.0].map(feature).to_vec();
            let (marks, _) = running(side, 0.0, &feature(0.0), &features);
            assert!(Clashes::of(&marks, EVERYWHERE).is_empty(), "{side:?}");
        }
    }

    #[test]
    fn a_text_longer_than_its_span_stands_clear_of_the_extension_lines() {
        for direction in [0.0, 37.0, 90.0, -15.0, 180.0] {
            for (length, shift) in [(13.0, 0.0), (13.0, -1.0), (2.0, 1.0), (60.0, -1.0)] {
                let from = Point::new(50.0, 50.0);
                let marks = aligned_beyond(from, from.towards(direction, length), 9.0, "10-13/16 in", shift);
                let mut labels = Labels::new();
                labels.avoid(&marks);
                for text in crate::sheets::texts(&marks) {
                    assert_eq!(labels.lines_through(text), 0, "{direction} {length} {shift}");
                }
            }
        }
    }

    #[test]
    fn texts_read_from_the_bottom_or_the_right() {
        for (direction, reading) in
            [(0.0, 0.0), (90.0, 90.0), (-90.0, 90.0), (180.0, 0.0), (135.0, -45.0), (-30.0, -30.0)]
        {
            assert!((readable_deg(direction) - reading).abs() < 1e-9, "{direction}");
        }
    }
}
