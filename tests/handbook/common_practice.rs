//! What builders do, no source: rules of thumb that the defaults keep to.

use tiltwright::{
    design::{self, Seating},
    frame,
    quantities::{Tape, Units, deg, to_deg, to_inches},
};

/// A tape shows no less than this [in].
const MARK_IN: f64 = 1.0 / 16.0;

fn plain() -> String {
    design::BUILTIN_TEXT
        .replace("{kind: inset, side_clearance: 1/4 in, end_clearance: 3/4 in, proud: 1/2 in}", "{kind: inset}")
        .replace(", angle: 45 deg", "")
        .replace("  bolt: 1/2 in\n", "")
}

fn laid_out(text: &str) -> (design::Design, frame::Frame) {
    let read = design::read_text("plain.yaml", text).unwrap_or_else(|faults| panic!("{faults:?}"));
    let tilts = [12.0, 37.0, 61.0].map(deg);
    let frame = frame::lay_out(&read.design, &tilts, Tape::of(Units::Us)).unwrap_or_else(|r| panic!("{r:?}"));
    (read.design, frame)
}

/// Common practice, no source: 3/4 in of room at the ends, 1/4 in at the sides, 1/2 in proud of the frame.
#[test]
fn an_inset_panel_has_room_all_round_and_stands_proud() {
    let (design, frame) = laid_out(&plain());
    let Seating::Inset { side_clearance, end_clearance, proud } = design.frame.seating else {
        panic!("the design asks for inset panels")
    };
    for (found, usual) in [(side_clearance, 0.25), (end_clearance, 0.75), (proud, 0.5)] {
        assert!((to_inches(found) - usual).abs() < 1e-12);
    }
    for (panel, bay) in frame.panels.iter().zip(&frame.bays) {
        for (found, least) in [
            (panel.x_mm[0] - bay.x_mm[0], 0.25),
            (bay.x_mm[1] - panel.x_mm[1], 0.25),
            (panel.u_mm[0] - bay.u_mm[0], 0.75),
            (bay.u_mm[1] - panel.u_mm[1], 0.75),
        ] {
            let inches = found / 25.4;
            assert!(inches > least - 1e-9 && inches < least + MARK_IN, "{inches} in where {least} in are usual");
        }
        assert!((panel.w_mm[1] - frame.face_w_mm - 12.7).abs() < 1e-9, "the face stands half an inch proud");
    }
}

/// Common practice, no source: the frame turns on half-inch bolts.
#[test]
fn an_axle_left_open_is_half_an_inch() {
    let (_, frame) = laid_out(&plain());
    assert_eq!(frame.bolt.name, "1/2 in");
}

/// Common practice, no source: corner braces stand at 45 degrees.
#[test]
fn a_brace_without_an_angle_stands_at_45_degrees() {
    let (design, frame) = laid_out(&plain());
    assert!((to_deg(design.frame.brace.expect("a brace").angle) - 45.0).abs() < 1e-9);
    let brace = frame.brace.expect("a brace");
    assert!((brace.cut_rail_deg - 45.0).abs() < 1e-9 && (brace.leg_rail_mm - brace.leg_stile_mm).abs() < 1e-9);
}

/// Common practice, no source: a frame whose diagonals are equal is true.
#[test]
fn equal_diagonals_make_a_true_frame() {
    let (_, frame) = laid_out(&plain());
    let diagonal = frame.width_mm.hypot(frame.length_mm);
    let sides_mm = [frame.width_mm, frame.length_mm, frame.width_mm, frame.length_mm];
    let judged = frame::judge(&frame::Measured { sides_mm, diagonals_mm: [diagonal; 2] }).expect("a rectangle");
    assert!(judged.push.is_none() && judged.difference_mm < 1e-9);
    assert!(judged.corner_angles_deg.iter().all(|a| (a - 90.0).abs() < 1e-9));
}
