//! Hatching worked out as plain lines before anything is written, so that every writer and every viewer shows the same ones.

use super::{
    geometry::Point,
    mark::{Fill, Group, HATCH_PITCH, Mark},
    pen::Pen,
};

/// Sides of the polygon that stands for a circle when it is hatched.
const CIRCLE_SIDES: i32 = 96;

impl Mark {
    /// The mark with its hatching drawn out: white first, then the lines, then the outline, which stays whole.
    pub(super) fn hatched(&self) -> Vec<Self> {
        let white = |rim: &[Point], angle_deg: f64| {
            let lines = hatch_lines(rim, angle_deg);
            let paper = Self::Polygon { points: rim.to_vec(), pen: None, fill: Fill::Paper };
            let strokes = (!lines.is_empty()).then_some(Self::Strokes { lines, pen: Pen::Hatch });
            std::iter::once(paper).chain(strokes)
        };
        match self {
            Self::Polygon { points, pen, fill: Fill::Hatch(angle_deg) } => {
                let outline = pen.map(|pen| Self::outline(points.clone(), pen));
                white(points, *angle_deg).chain(outline).collect()
            }
            Self::Circle { centre, radius, pen, fill: Fill::Hatch(angle_deg) } => {
                let step = 360.0 / f64::from(CIRCLE_SIDES);
                let rim: Vec<_> = (0..CIRCLE_SIDES).map(|n| centre.towards(f64::from(n) * step, *radius)).collect();
                white(&rim, *angle_deg).chain([Self::circle(*centre, *radius, *pen)]).collect()
            }
            Self::Group(Group { name, facts, marks, clip }) => {
                let marks = marks.iter().flat_map(Self::hatched).collect();
                vec![Self::Group(Group { name: name.clone(), facts: facts.clone(), marks, clip: *clip })]
            }
            _ => vec![self.clone()],
        }
    }
}

/// The hatch lines of a closed outline, at `angle_deg`, [`HATCH_PITCH`] apart; the inside is decided by the even-odd rule.
///
/// Lines lie on one grid for the whole sheet, so that two pieces of one part hatch alike.
fn hatch_lines(outline: &[Point], angle_deg: f64) -> Vec<[Point; 2]> {
    let (sin, cos) = angle_deg.to_radians().sin_cos();
    // In the turned axes hatch lines are level: `along` runs with them, `across` numbers them.
    let turned: Vec<(f64, f64)> = outline.iter().map(|p| (p.x * cos - p.y * sin, p.x * sin + p.y * cos)).collect();
    let back = |along: f64, across: f64| Point::new(along * cos + across * sin, across * cos - along * sin);
    let lowest = turned.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    let highest = turned.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max);
    let mut lines = Vec::new();
    if !(lowest.is_finite() && highest.is_finite()) {
        return lines;
    }
    let mut number = (lowest / HATCH_PITCH).floor() + 0.5;
    while number * HATCH_PITCH < highest {
        let across = number * HATCH_PITCH;
        let crossings = crossings_at(&turned, across);
        for pair in crossings.chunks_exact(2) {
            lines.push([back(pair[0], across), back(pair[1], across)]);
        }
        number += 1.0;
    }
    lines
}

fn crossings_at(outline: &[(f64, f64)], across: f64) -> Vec<f64> {
    let mut found: Vec<f64> = (0..outline.len())
        .filter_map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % outline.len()]);
            // Half open, so that a line through a corner counts it once.
            ((a.1 <= across) != (b.1 <= across)).then(|| a.0 + (across - a.1) / (b.1 - a.1) * (b.0 - a.0))
        })
        .collect();
    found.sort_by(f64::total_cmp);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hatching_a_square_covers_it_evenly() {
        let side = 40.0;
        let square = [Point::new(0.0, 0.0), Point::new(side, 0.0), Point::new(side, side), Point::new(0.0, side)];
        let lines = hatch_lines(&square, 45.0);
        let drawn: f64 = lines.iter().map(|[a, b]| a.distance(*b)).sum();
        // Total length of lines a pitch apart is area over pitch.
        assert!((drawn - side * side / HATCH_PITCH).abs() < 0.02 * side * side / HATCH_PITCH, "{drawn}");
        for [a, b] in lines {
            assert!([a, b].iter().all(|p| p.x > -1e-9 && p.y > -1e-9 && p.x < side + 1e-9 && p.y < side + 1e-9));
        }
    }

    #[test]
    fn nothing_that_is_written_is_left_to_be_hatched() {
        let square = [Point::new(0.0, 0.0), Point::new(9.0, 0.0), Point::new(9.0, 9.0), Point::new(0.0, 9.0)];
        let circle = Mark::Circle { centre: square[2], radius: 9.0, pen: Pen::Visible, fill: Fill::Hatch(30.0) };
        let group = Group::new("board").with([Mark::filled(square, Pen::Visible, Fill::Hatch(45.0)), circle]);
        let drawn = Mark::Group(group).hatched();
        let [Mark::Group(drawn)] = drawn.as_slice() else { panic!("a group stays one: {drawn:?}") };
        let [
            Mark::Polygon { fill: Fill::Paper, .. },
            Mark::Strokes { lines, .. },
            Mark::Polygon { fill: Fill::None, .. },
            rest @ ..,
        ] = drawn.marks.as_slice()
        else {
            panic!("{drawn:?}")
        };
        assert!(lines.len() > 4);
        assert!(matches!(rest, [Mark::Polygon { .. }, Mark::Strokes { .. }, Mark::Circle { fill: Fill::None, .. }]));
    }

    #[test]
    fn an_outline_without_area_has_no_hatching() {
        assert!(hatch_lines(&[], 45.0).is_empty());
        assert!(hatch_lines(&[Point::new(1.0, 1.0)], 45.0).is_empty());
    }
}
