//! Which face and which end every measure of a part starts from, in words.

use super::drafter::Drafter;
use crate::frame::{Body, Piece, Role, Stick, at_tilt};

impl Drafter<'_> {
    /// The first stick cut as a piece; equal sticks and mirrored ones start at the same face and end.
    pub(super) fn stick_of(&self, piece: &Piece) -> Option<&Stick> {
        let index = self.frame.pieces.iter().position(|other| other.mark == piece.mark)?;
        let stick = self.frame.piece_of.iter().position(|of| *of == index)?;
        self.frame.sticks.get(stick)
    }

    /// The face that the gauge is measured from, where it is on the standing frame. A piece without a place has none.
    pub(super) fn gauge_face(&self, piece: &Piece) -> &'static str {
        self.stick_of(piece).map_or("", |stick| self.face_word(stick))
    }

    /// The end that lengths are measured from, where it is on the standing frame.
    pub(super) fn marked_end(&self, piece: &Piece) -> &'static str {
        self.stick_of(piece).map_or("", |stick| self.end_word(stick))
    }

    /// Parts that are drilled, with face and end: `S1 sun face (front of the frame), low end`.
    pub(super) fn faces_and_ends(&self) -> Vec<String> {
        let drilled = self.frame.pieces.iter().filter(|piece| !piece.holes.is_empty());
        drilled.map(|piece| format!("{} {}, {}", piece.mark, self.gauge_face(piece), self.marked_end(piece))).collect()
    }

    /// The depth runs away from the gauge face, so the face looks the other way.
    fn face_word(&self, stick: &Stick) -> &'static str {
        let [x, a, b] = stick.across.map(|v| -v);
        match stick.body {
            Body::Frame if stick.role == Role::CornerBrace => "long edge",
            Body::Frame if b.abs() > a.abs().max(x.abs()) => {
                either(b, "sun face (front of the frame)", "back of the frame")
            }
            Body::Frame if x.abs() > a.abs() => {
                either(x, "right side (seen from the sun)", "left side (seen from the sun)")
            }
            Body::Ground if b.abs() > a.abs() => either(b, "top", "underside"),
            Body::Frame | Body::Ground => either(a, "high-edge side", "low-edge side"),
            Body::Stay => self.hung_face_word(a, b),
        }
    }

    /// The face of a stay as it hangs at the lowest tilt, where it lies flattest.
    fn hung_face_word(&self, a: f64, b: f64) -> &'static str {
        let frame = self.frame;
        let Some(flattest) = frame.row.iter().min_by(|p, q| p.reached_deg.total_cmp(&q.reached_deg)) else {
            return "";
        };
        let pin = at_tilt(frame.linkage.frame_pin(), flattest.reached_deg.to_radians());
        let fixed = frame.linkage.fixed_end(flattest.offset_mm);
        // Along the stay from its frame pin, and square to it, counterclockwise in the side view.
        let (along_x, along_z) = (fixed[0] - pin[0], fixed[1] - pin[1]);
        let up = a * along_z + b * along_x;
        either(up, "upper face when hung", "lower face when hung")
    }

    /// A piece points away from its marked end.
    fn end_word(&self, stick: &Stick) -> &'static str {
        let [x, a, b] = stick.along.map(|v| -v);
        // The hinge is the origin of what stands still, the frame pin that of a stay.
        let far = stick.start[1] + stick.along[1] * stick.length_mm;
        let nearer = far.abs() - stick.start[1].abs();
        match stick.body {
            Body::Frame if stick.role == Role::CornerBrace => "rail end",
            Body::Frame if a.abs() > x.abs() => either(a, "high end", "low end"),
            Body::Frame => either(x, "right end (seen from the sun)", "left end (seen from the sun)"),
            Body::Ground if b.abs() > a.abs() => either(b, "top end", "bottom end"),
            Body::Ground => either(nearer, "hinge end", "end away from the hinge"),
            Body::Stay => either(nearer, "frame-pin end", "end away from the frame pin"),
        }
    }
}

fn either(value: f64, positive: &'static str, negative: &'static str) -> &'static str {
    if value > 0.0 { positive } else { negative }
}
