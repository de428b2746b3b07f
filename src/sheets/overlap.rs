//! Finds texts that overlap or leave the border, from their computed room.

use super::{
    geometry::{Point, Rect},
    mark::{Group, Mark},
    text::Text,
};

/// Texts that touch each other or run out of the border.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Clashes {
    /// Pairs whose room overlaps.
    pub overlapping: Vec<(String, String)>,
    /// Texts not wholly inside the border.
    pub outside: Vec<String>,
}

/// Rooms that overlap by less than this are neighbours, not a clash (mm).
const TOUCH: f64 = 0.01;

impl Clashes {
    /// Looks through all texts among `marks`. A text wholly outside the window of a clipped group is not shown and not counted.
    #[must_use]
    pub fn of(marks: &[Mark], border: Rect) -> Self {
        let mut rooms = Vec::new();
        collect(marks, None, &mut rooms);
        let mut found = Self::default();
        for (i, (text, window)) in rooms.iter().enumerate() {
            let bounds = text.bounds();
            let inside = border.inset(-TOUCH).holds(bounds) && window.is_none_or(|w| w.inset(-TOUCH).holds(bounds));
            if !inside {
                found.outside.push(text.content().to_string());
            }
            for (other, _) in &rooms[i + 1..] {
                if rooms_overlap(&text.corners(), &other.corners()) {
                    found.overlapping.push((text.content().to_string(), other.content().to_string()));
                }
            }
        }
        found
    }

    /// Nothing found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.overlapping.is_empty() && self.outside.is_empty()
    }
}

fn collect<'m>(marks: &'m [Mark], window: Option<Rect>, rooms: &mut Vec<(&'m Text, Option<Rect>)>) {
    for mark in marks {
        match mark {
            Mark::Text(text) if text.content().is_empty() => {}
            Mark::Text(text) if window.is_some_and(|w| !w.meets(text.bounds())) => {}
            Mark::Text(text) => rooms.push((text, window)),
            Mark::Group(Group { marks, clip, .. }) => collect(marks, clip.or(window), rooms),
            _ => {}
        }
    }
}

/// Whether two convex rooms overlap by more than a touch: they do unless some side of one separates them.
#[must_use]
pub fn rooms_overlap(a: &[Point; 4], b: &[Point; 4]) -> bool {
    // Most rooms are far apart, and their boxes tell it at once.
    let boxes = Rect::around(*a).zip(Rect::around(*b));
    boxes.is_some_and(|(a, b)| a.meets(b)) && !separated(a, b) && !separated(b, a)
}

fn separated(a: &[Point; 4], b: &[Point; 4]) -> bool {
    (0..4).any(|i| {
        let (from, to) = (a[i], a[(i + 1) % 4]);
        let length = from.distance(to);
        if length < 1e-9 {
            return false;
        }
        let across = |p: &Point| ((p.x - from.x) * (to.y - from.y) - (p.y - from.y) * (to.x - from.x)) / length;
        let (a_low, a_high) = span(a.iter().map(across));
        let (b_low, b_high) = span(b.iter().map(across));
        a_high - TOUCH <= b_low || b_high - TOUCH <= a_low
    })
}

fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
}

/// Whether a straight line runs through a room.
#[must_use]
pub fn line_crosses(from: Point, to: Point, room: &[Point; 4]) -> bool {
    rooms_overlap(&[from, to, to, from], room)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::text::TextSize;

    #[test]
    fn crossing_texts_are_found_and_neighbours_are_not() {
        let border = Rect::between(Point::new(0.0, 0.0), Point::new(100.0, 100.0));
        let level = Text::new("level text", Point::new(20.0, 50.0), TextSize::Small);
        let upright = Text::new("upright", Point::new(30.0, 55.0), TextSize::Small).rotated(90.0);
        let below = level.clone().moved(0.0, TextSize::Small.line_pitch());
        let marks = [Mark::from(level), Mark::from(below)];
        assert!(Clashes::of(&marks, border).is_empty());
        let marks = [marks[0].clone(), Mark::from(upright)];
        assert_eq!(Clashes::of(&marks, border).overlapping.len(), 1);
        let far = Mark::from(Text::new("over the edge", Point::new(95.0, 50.0), TextSize::Small));
        assert_eq!(Clashes::of(&[far], border).outside, ["over the edge"]);
    }

    #[test]
    fn a_slanted_line_beside_a_text_does_not_cross_it() {
        let room = Text::new("text", Point::new(0.0, 0.0), TextSize::Small).rotated(45.0).corners();
        assert!(line_crosses(Point::new(-10.0, 0.0), Point::new(10.0, -4.0), &room));
        assert!(!line_crosses(Point::new(5.0, 5.0), Point::new(20.0, -10.0), &room));
    }
}
