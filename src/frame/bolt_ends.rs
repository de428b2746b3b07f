//! Heads of the bolts that stand out into a neighbouring layer: they foul what swings past as surely as a stick does.

use super::{
    clearance::Solid,
    linkage::Point,
    model::Frame,
    piece::{Body, HoleUse, Role, Stick},
    stack::washer_mm,
};
use crate::catalogue::Bolt;

/// Bolt heads that matter for the swing, of one side of the frame.
pub(super) struct BoltEnds {
    /// Head of the frame pin, in the layer of the post or runner; turns with the frame.
    pub(super) turning: Vec<Solid>,
    /// Heads of the cheek's bolts, in the layer of the stile.
    pub(super) standing: Vec<Solid>,
    /// Head of the pin at the stay's fixed end, in the layer of the stile, round the origin.
    pub(super) at_fixed_end: Option<Solid>,
}

/// Finds them. The joints put the heads on these sides: they stand out less than nuts.
pub(super) fn of(frame: &Frame) -> BoltEnds {
    let mut ends = BoltEnds { turning: vec![], standing: vec![], at_fixed_end: None };
    let Some((_, stay)) = frame.sticks_of(Body::Stay).next() else { return ends };
    let on_side = |role: Role| {
        frame.sticks_of(Body::Ground).map(|(_, s)| s).find(|s| s.role == role && s.side == stay.side)
    };
    let Some(base) = on_side(Role::Post).or_else(|| on_side(Role::Runner)) else { return ends };
    let towards_base = (base.start[0] - stay.start[0]).signum();
    let pin = frame.pin;
    let head = |stick: &Stick, towards: f64, name: &str, place: Point| {
        let face = stick.start[0] + towards * stick.section.width_mm / 2.0;
        let reach = face + towards * (washer_mm(pin) + pin.head_mm);
        Solid { name: name.to_string(), x_mm: [face.min(reach), face.max(reach)], outline: round(place, pin) }
    };
    ends.turning.push(head(stay, towards_base, "head of the frame pin", frame.linkage.frame_pin()));
    ends.at_fixed_end = Some(head(stay, -towards_base, "head of the pulled pin", [0.0, 0.0]));
    if let Some(cheek) = on_side(Role::Cheek) {
        for fixing in cheek.holes.iter().filter(|h| h.use_ == HoleUse::Fixing) {
            let [_, x, z] = cheek.hole_place(fixing);
            ends.standing.push(head(cheek, -towards_base, "cheek bolt", [x, z]));
        }
    }
    ends
}

/// A washer's outline as an eight-sided figure round it, counter-clockwise.
fn round([x, z]: Point, bolt: &Bolt) -> Vec<Point> {
    const SIDES: usize = 8;
    let step = std::f64::consts::TAU / SIDES as f64;
    let radius = bolt.washer.outer_mm / 2.0 / (step / 2.0).cos();
    (0..SIDES).map(|i| (i as f64 * step).sin_cos()).map(|(sin, cos)| [x + radius * cos, z + radius * sin]).collect()
}
