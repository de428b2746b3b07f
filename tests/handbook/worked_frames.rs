//! Frames worked by hand: linkages by the law of cosines (printed to 0.01 mm), mitred braces and bolt grips with pencil
//! and paper, the 3-4-5 triangle.

use tiltwright::{
    catalogue::{bolt, bolt_length},
    design,
    frame::{self, BraceShape, Finding, Frame, HoleUse, Limits, Linkage, Measured, Role, judge},
    quantities::{Tape, Units, deg},
};

/// Worked offsets are printed to a hundredth of a millimetre.
const PRINTED_MM: f64 = 0.01;
const INCH: f64 = 25.4;

fn laid_out(text: &str, tilts: &[f64], units: Units) -> Frame {
    let read = design::read_text("worked.yaml", text).unwrap_or_else(|faults| panic!("{faults:?}"));
    let tilts: Vec<_> = tilts.iter().map(|t| deg(*t)).collect();
    frame::lay_out(&read.design, &tilts, Tape::of(units)).unwrap_or_else(|refusals| panic!("{refusals:?}"))
}

/// Frame pin 600 mm below the axle along the stile and 45 mm behind it, fixed pin 600 mm under the axle.
const WORKED_POSTS: &str = "
tiltwright: 1
name: worked on posts
units: metric
site: {place: Paper, latitude: 45 deg}
panel: {long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 21 kg}
array: {rows: 1, columns: 2, orientation: portrait}
frame: {rail: 38x235, stile: 38x235, seating: {kind: inset}}
support:
  kind: posts
  bolt: M12
  pin: M12
  stay: {section: 38x89, pin_along: 600 mm, pin_behind: 45 mm}
  posts:
    placement: outside
    section: 89x140
    axle_height: 1400 mm
    pin_below_axle: 600 mm
    embedment: 1000 mm
tilts: [15 deg, 35 deg, 50 deg, 60 deg]
";

#[test]
fn a_frame_on_posts_has_its_holes_at_the_worked_radii() {
    let frame = laid_out(WORKED_POSTS, &[15.0, 35.0, 50.0, 60.0], Units::Metric);
    for (tilt, radius) in [(15.0, 695.35), (35.0, 514.60), (50.0, 368.46), (60.0, 267.37)] {
        let hole = frame.row.iter().find(|h| h.tilts_deg.contains(&tilt)).expect("a hole for each tilt");
        assert!((hole.exact_mm - radius).abs() < PRINTED_MM, "{tilt}: {}", hole.exact_mm);
        assert_eq!(hole.offset_mm, radius.round(), "on the metric tape");
    }
}

#[test]
fn a_pin_before_the_frame_instead_of_behind_moves_the_35_degree_hole_by_80_mm() {
    let hole = |w: f64| {
        let linkage = Linkage::InStay { frame_pin: [-600.0, w], fixed_pin: [0.0, -600.0] };
        linkage.offset_mm(35f64.to_radians()).expect("always reached")
    };
    // By hand, the pin 45 mm before the frame: A = (−600 cos 35 − 45 sin 35, −600 sin 35 + 45 cos 35), r = |A − (0, −600)|.
    let (sin, cos) = 35f64.to_radians().sin_cos();
    let wrong = (-600.0 * cos - 45.0 * sin).hypot(-600.0 * sin + 45.0 * cos + 600.0);
    assert!((hole(45.0) - wrong).abs() < 1e-9);
    assert!((hole(45.0) - hole(-45.0) - 80.0).abs() < 10.0, "{}", hole(45.0) - hole(-45.0));
}

#[test]
fn a_row_in_the_runner_has_its_holes_at_the_worked_distances() {
    let linkage = Linkage::in_runner([700.0, -45.0], 0.0, 70.0, 750.0);
    for (tilt, h) in [(15.0, 1408.46), (35.0, 1210.43), (50.0, 963.19), (60.0, 756.60)] {
        let found = linkage.offset_mm(f64::to_radians(tilt)).expect("reached");
        assert!((found - h).abs() < PRINTED_MM, "{tilt}: {found}");
        // Turned with its runner by a roof of 9.5°, up or down, the whole triangle stays as it is.
        for slope in [9.5f64, -9.5] {
            let sloped = Linkage::in_runner([700.0, -45.0], slope.to_radians(), 70.0, 750.0);
            let turned = sloped.offset_mm((tilt + slope).to_radians()).expect("reached");
            assert!((turned - h).abs() < PRINTED_MM, "{tilt} on {slope}: {turned}");
        }
    }
}

#[test]
fn of_the_two_roots_the_hole_behind_the_pin_is_taken() {
    let linkage = Linkage::in_runner([700.0, -45.0], 0.0, 70.0, 750.0);
    let tilt = 50f64.to_radians();
    let pin_x = 700.0 * tilt.cos() + 45.0 * tilt.sin();
    assert!(linkage.offset_mm(tilt).expect("reached") > pin_x);
}

#[test]
fn a_brace_at_45_degrees_is_worked_by_pythagoras() {
    // 2x4 (3-1/2 in wide), legs of 12 in: long points 12 √2 = 16.9706 in, short points 2 · 3.5 less = 9.9706 in.
    let brace = BraceShape::new(12.0 * INCH, 45.0, 3.5 * INCH);
    assert!((brace.long_mm / INCH - 16.9706).abs() < 1e-4);
    assert!((brace.short_mm / INCH - 9.9706).abs() < 1e-4);
    assert!((brace.leg_stile_mm - 12.0 * INCH).abs() < 1e-9);
    assert!((brace.cut_rail_deg - 45.0).abs() < 1e-12 && (brace.cut_stile_deg - 45.0).abs() < 1e-12);
}

#[test]
fn a_brace_at_60_degrees_is_worked_by_its_right_triangle() {
    // Leg 10 in on the rail: long edge 10 / cos 60 = 20 in, leg on the stile 10 tan 60 = 17.3205 in. Ends lie flat on
    // rail and stile: 30° and 60° from square; short edge 20 − 3.5 (cot 60 + tan 60) = 20 − 8.0829 = 11.9171 in.
    let brace = BraceShape::new(10.0 * INCH, 60.0, 3.5 * INCH);
    assert!((brace.long_mm / INCH - 20.0).abs() < 1e-9);
    assert!((brace.leg_stile_mm / INCH - 17.3205).abs() < 1e-4);
    assert!((brace.short_mm / INCH - 11.9171).abs() < 1e-4);
    assert!((brace.cut_rail_deg - 30.0).abs() < 1e-9 && (brace.cut_stile_deg - 60.0).abs() < 1e-9);
    // The least leg leaves no short edge.
    let least = BraceShape::new(BraceShape::least_leg_mm(60.0, 3.5 * INCH), 60.0, 3.5 * INCH);
    assert!(least.short_mm.abs() < 1e-9);
}

#[test]
fn braces_lie_flat_on_rail_and_stile_in_all_four_corners() {
    for (angle, leg) in [("45 deg", "12 in"), ("60 deg", "10 in"), ("33 deg", "14 in")] {
        let text = design::BUILTIN_TEXT.replace("leg: 12 in, angle: 45 deg", &format!("leg: {leg}, angle: {angle}"));
        let frame = laid_out(&text, &[12.0, 37.0, 61.0], Units::Us);
        let shape = frame.brace.expect("braces are asked for");
        let braces: Vec<_> = frame.sticks.iter().filter(|s| s.role == Role::CornerBrace).collect();
        assert_eq!(braces.len(), 4);
        let (first, last) = (frame.bays.first().expect("a bay"), frame.bays.last().expect("a bay"));
        for brace in braces {
            assert!((brace.length_mm - shape.long_mm).abs() < 1e-9);
            let [x, u] = [first.x_mm[0], first.u_mm[0]];
            let [x_far, u_far] = [last.x_mm[1], last.u_mm[1]];
            for corner in brace.corners() {
                assert!(corner[0] > x - 1e-6 && corner[0] < x_far + 1e-6, "{angle}: {corner:?} outside the bay");
                assert!(corner[1] > u - 1e-6 && corner[1] < u_far + 1e-6, "{angle}: {corner:?} outside the bay");
            }
            let touches = |axis: usize, at: f64| brace.corners().iter().filter(|c| (c[axis] - at).abs() < 1e-6).count();
            assert_eq!(touches(0, x) + touches(0, x_far), 4, "{angle}: one end face lies on a stile");
            assert_eq!(touches(1, u) + touches(1, u_far), 4, "{angle}: one end face lies on a rail");
        }
    }
}

/// Bolt, members on it (in), washers, and the bolt bought (in): members + washers of 3/32 in + nut 7/16 in + two
/// threads of 1/13 in, next quarter inch to 6 in and half inch above.
const GRIPS: [(&str, f64, usize, f64, f64); 3] = [
    // stile, spacer as thick as the stay, 4x6 post: 6.875 + 0.5913 = 7.466
    ("one ply, posts outside", 1.5 + 1.5 + 3.5, 4, 7.4663, 7.5),
    // a ply on each side of the post: 8 + 0.46875 + 0.5913 = 9.060
    ("two plies, one on each side of a 4x6", 1.5 + 1.5 + 3.5 + 1.5, 5, 9.0601, 9.5),
    // two plies on each side of a 2x6 used as post: 9 + 0.46875 + 0.5913 = 10.060
    ("four plies, two on each side of a 2x6", 3.0 + 1.5 + 1.5 + 3.0, 5, 10.0601, 10.5),
];

#[test]
fn bolt_grips_of_one_two_and_four_plies_are_added_up_by_hand() {
    let inside = design::BUILTIN_TEXT
        .replace("  bolt: 5/8 in", "  bolt: 1/2 in")
        .replace("  pin: 5/8 in", "  pin: 1/2 in")
        .replace("    section: 4x8", "    section: 4x6");
    let outside = inside.replace("placement: inside", "placement: outside");
    let four = inside
        .replace("columns: 2", "columns: 4")
        .replace("rail: 2x8", "mullion_plies: 2\n  rail: 2x8")
        .replace("    section: 4x6\n", "    section: 2x6\n    slots_after_columns: [1, 3]\n");
    for (text, (what, members, washers, needed, bought)) in [outside, inside, four].iter().zip(GRIPS) {
        let frame = laid_out(text, &[12.0, 37.0, 61.0], Units::Us);
        let axle = frame.stacks.iter().find(|s| s.use_ == HoleUse::Axle).expect("an axle");
        assert!((axle.grip_mm() / INCH - members).abs() < 1e-9, "{what}: grip {} in", axle.grip_mm() / INCH);
        assert_eq!(axle.washers(), washers, "{what}");
        let chosen = bolt_length(axle.bolt, axle.grip_mm(), axle.washers() as u32, frame::washer_mm(axle.bolt))
            .expect("a stocked bolt");
        assert!((chosen.needed_mm / INCH - needed).abs() < 1e-3, "{what}: needs {} in", chosen.needed_mm / INCH);
        assert!((chosen.length_mm / INCH - bought).abs() < 1e-9, "{what}: buys {} in", chosen.length_mm / INCH);
    }
    assert!((frame::washer_mm(bolt("1/2 in").expect("a size")) / INCH - 3.0 / 32.0).abs() < 1e-12);
}

#[test]
fn every_layer_of_a_bolt_has_its_room_between_the_parts() {
    let frame = laid_out(WORKED_POSTS, &[15.0, 35.0, 50.0, 60.0], Units::Metric);
    let x_of = |role: Role, use_: HoleUse| {
        let at = |s: &&frame::Stick| s.role == role && s.holes.iter().any(|h| h.use_ == use_) && s.start[0] > 0.0;
        frame.sticks.iter().find(at).expect("a stick on the right").x_range()
    };
    let (stile, post) = (x_of(Role::Stile, HoleUse::Axle), x_of(Role::Post, HoleUse::Axle));
    let stay = x_of(Role::Stay, HoleUse::FramePin);
    let axle = frame.stacks.iter().find(|s| s.use_ == HoleUse::Axle).expect("an axle");
    let between = axle.washers_mm() + axle.grip_mm() - 2.0 * frame::washer_mm(axle.bolt);
    assert!((between - (post[1] - stile[0])).abs() < 1e-9, "the axle's layers fill from stile to post");
    assert!(stay[0] > stile[1] && stay[1] < post[0], "the stay runs between stile and post");
}

#[test]
fn three_four_five_is_square_and_a_racked_one_is_not() {
    let (nominal_mm, sides_mm) = ([4000.0, 3000.0], Some([4000.0, 3000.0, 4000.0, 3000.0]));
    let judged =
        |diagonals_mm| judge(&Measured { nominal_mm, sides_mm, diagonals_mm }, &Limits::of(nominal_mm, 1.5875));
    let square = judged([5000.0, 5000.0]);
    assert_eq!(square.verdict(), Finding::Square);
    assert!(square.figure.expect("a rectangle").corner_angles_deg.iter().all(|a| (a - 90.0).abs() < 1e-9));
    let racked = judged([5010.0, 4990.0]);
    assert_eq!(racked.verdict(), Finding::Push);
    // A lean of s makes each diagonal differ from 5 m by 4 s/5: 10 mm of half difference is a lean of 12.5 mm.
    let rack_mm = racked.figure.expect("a parallelogram").rack_mm;
    assert!((rack_mm - 12.5).abs() < 0.1, "{rack_mm}");
}
