//! Frames of every kind of support, seating and stick lay out with every fastener in a place of its own.

use tiltwright::{
    design::{READY, Tilts, read_text},
    frame::{self, Body, JointUse, Role},
    quantities::{Tape, to_mm},
};

/// One to eight panels, one and two rows, each seating and support, wood, steel and aluminium, both units, with and
/// without mounting holes.
fn texts() -> Vec<(String, String)> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/frames");
    let files = std::fs::read_dir(folder).expect("the folder").map(|file| file.expect("a file").path());
    let read = |path: std::path::PathBuf| {
        let text = std::fs::read_to_string(&path).expect("readable");
        (path.display().to_string(), text)
    };
    files.map(read).collect()
}

fn laid_out(name: &str, text: &str) -> (tiltwright::design::Design, frame::Frame) {
    let read = read_text(name, text).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
    let tilts = match &read.design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        Tilts::Seasons(_) => [20.0, 40.0, 60.0].map(tiltwright::quantities::deg).to_vec(),
    };
    let frame = frame::lay_out(&read.design, &tilts, Tape::of(read.design.units))
        .unwrap_or_else(|refusals| panic!("{name}: {refusals:?}"));
    (read.design, frame)
}

#[test]
fn twenty_frames_lay_out_with_every_fastener_in_its_own_place() {
    let texts = texts();
    assert_eq!(texts.len(), 20);
    for (name, text) in &texts {
        let (_, frame) = laid_out(name, text);
        assert!(frame.joints.iter().any(|joint| !joint.fasteners.is_empty()), "{name}");
    }
}

#[test]
fn every_ready_design_lays_out() {
    for (name, text) in READY {
        laid_out(name, text);
    }
}

#[test]
fn the_axle_passes_under_the_mid_rail_that_stands_at_mid_height() {
    for name in ["two-rows-inset-inside", "two-rows-lapped-outside", "landscape-inset-outside", "steel-two-rows-inside"]
    {
        let (_, text) = texts().into_iter().find(|(path, _)| path.contains(name)).expect("a frame of that name");
        let (_, frame) = laid_out(name, &text);
        let low = |s: &frame::Stick| s.start[1] - s.section.width_mm / 2.0;
        let mid_rails = frame.sticks_of(Body::Frame).filter(|(_, s)| s.role == Role::MidRail);
        let nearest = mid_rails.map(|(_, s)| low(s)).fold(f64::INFINITY, f64::min);
        // The axle is the origin: five millimetres are kept round head, nut and washers, and no more than a mark is lost.
        let round = frame.bolt.washer.outer_mm.max(frame.bolt.flats_mm * 2.0 / 3f64.sqrt()) / 2.0;
        let room = nearest - round - 5.0;
        assert!((-1e-6..2.0 * frame.tape.mark_mm()).contains(&room), "{name}: {room}");
    }
}

#[test]
fn a_clip_is_bolted_through_each_mounting_hole_and_reaches_the_nearest_member() {
    // Panels that lie across have their holes near the rails, far from the uprights.
    for (name, role) in [("landscape-inset-outside", "rail"), ("two-rows-inset-inside", "upright")] {
        let (_, text) = texts().into_iter().find(|(path, _)| path.contains(name)).expect("a frame of that name");
        let (design, frame) = laid_out(name, &text);
        let clips: Vec<_> = frame.joints.iter().filter(|joint| joint.use_ == JointUse::Clip).collect();
        assert_eq!(clips.len(), 4 * frame.panels.len(), "{name}");
        let holes = design.panel.mounting_holes.expect("holes are told");
        for clip in clips {
            let (frame::Part::Stick(stick), frame::Part::Panel(panel)) = (clip.parts[0], clip.parts[1]) else {
                panic!("{:?}", clip.parts)
            };
            let is_rail = matches!(frame.sticks[stick].role, Role::Rail | Role::MidRail);
            assert_eq!(is_rail, role == "rail", "{name}");
            let panel = &frame.panels[panel];
            let from = clip.fasteners[0].from;
            let away =
                [(panel.x_mm, from[0]), (panel.u_mm, from[1])].map(|([a, b], at)| (at - (a + b) / 2.0).abs() * 2.0);
            let pitch = if role == "rail" {
                [holes.along_long_side, holes.across]
            } else {
                [holes.across, holes.along_long_side]
            };
            assert!(away.iter().zip(pitch).all(|(away, pitch)| (away - to_mm(pitch)).abs() < 1e-6), "{name}: {away:?}");
        }
    }
}

#[test]
fn a_hinge_left_to_the_layout_clears_the_low_rail() {
    for name in ["aluminium-runners-deck", "purlins-runners-ground"] {
        let (_, text) = texts().into_iter().find(|(path, _)| path.contains(name)).expect("a frame of that name");
        let (_, frame) = laid_out(name, &text);
        let rails = frame.sticks_of(Body::Frame).filter(|(_, s)| s.role == Role::Rail && s.start[1] < 0.0);
        let high = rails.map(|(_, s)| s.start[1] + s.section.width_mm / 2.0).fold(f64::NEG_INFINITY, f64::max);
        let round = frame.bolt.washer.outer_mm.max(frame.bolt.flats_mm * 2.0 / 3f64.sqrt()) / 2.0;
        assert!(-high >= round + 5.0 - 1e-6, "{name}: {high}");
    }
}
