//! Hatching worked out as plain lines, so that every viewer and the PDF show the same ones.

use super::{geometry::Point, mark::HATCH_PITCH};

/// The hatch lines of a closed outline, at `angle_deg`, [`HATCH_PITCH`] apart; the inside is decided by the even-odd rule.
///
/// Lines lie on one grid for the whole sheet, so that two pieces of one part hatch alike.
pub(crate) fn hatch_lines(outline: &[Point], angle_deg: f64) -> Vec<(Point, Point)> {
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
            lines.push((back(pair[0], across), back(pair[1], across)));
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
        let drawn: f64 = lines.iter().map(|(a, b)| a.distance(*b)).sum();
        // Total length of lines a pitch apart is area over pitch.
        assert!((drawn - side * side / HATCH_PITCH).abs() < 0.02 * side * side / HATCH_PITCH, "{drawn}");
        for (a, b) in lines {
            assert!([a, b].iter().all(|p| p.x > -1e-9 && p.y > -1e-9 && p.x < side + 1e-9 && p.y < side + 1e-9));
        }
    }

    #[test]
    fn an_outline_without_area_has_no_hatching() {
        assert!(hatch_lines(&[], 45.0).is_empty());
        assert!(hatch_lines(&[Point::new(1.0, 1.0)], 45.0).is_empty());
    }
}
