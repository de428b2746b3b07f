//! Frames of any size: the tilt a hole really gives, found again from the tickets and the places of the parts; mirror
//! images; parts that keep out of each other.

use crate::properties_tests::frame_design::{Random, random};
use proptest::prelude::*;
use tiltwright::{
    design::{self, Tilts},
    frame::{self, Body, Frame, Hole, HoleUse, Role, Stick},
    quantities::{Tape, to_deg},
};

/// Both ways of finding a tilt are exact; what is left is rounding in the last digits [deg].
const SAME_TILT_DEG: f64 = 1e-9;
const SAME_MM: f64 = 1e-6;
/// Faces that touch do not overlap [mm].
const TOUCH_MM: f64 = 0.05;

fn lay_out(text: &str, units: tiltwright::quantities::Units) -> Result<Frame, Vec<frame::Refusal>> {
    let read = design::read_text("random.yaml", text).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    let Tilts::Given(tilts) = &read.design.tilts else { panic!("the tilts are given") };
    frame::lay_out(&read.design, tilts, Tape::of(units))
}

/// Place of a hole from its ticket and the place of its part: side view coordinates only [mm].
fn ticket_place(stick: &Stick, hole: &Hole) -> [f64; 2] {
    [1, 2].map(|i| stick.start[i] + stick.along[i] * hole.from_end_mm + stick.across[i] * hole.gauge_mm)
}

fn the_hole(frame: &Frame, body: Body, use_: HoleUse) -> (&Stick, &Hole) {
    let found = frame.sticks.iter().filter(|s| s.body == body).find_map(|s| {
        let hole = s.holes.iter().find(|h| h.use_ == use_)?;
        Some((s, hole))
    });
    found.unwrap_or_else(|| panic!("no {use_:?} hole in the {body:?} parts"))
}

/// The tilt [deg] near `near` at which a frame point stands `wanted` mm from a fixed point: bisection, nothing clever.
fn tilt_by_bisection(point: [f64; 2], fixed: [f64; 2], wanted: f64, near: f64) -> f64 {
    let miss = |tilt_deg: f64| {
        let (sin, cos) = tilt_deg.to_radians().sin_cos();
        (point[0] * cos - point[1] * sin - fixed[0]).hypot(point[0] * sin + point[1] * cos - fixed[1]) - wanted
    };
    let (mut low, mut high) = (near - 0.5, near + 0.5);
    assert!(miss(low) * miss(high) < 0.0, "no root within half a degree of {near}");
    for _ in 0..80 {
        let middle = (low + high) / 2.0;
        if miss(low) * miss(middle) <= 0.0 { high = middle } else { low = middle }
    }
    (low + high) / 2.0
}

fn check_tilts(frame: &Frame) {
    let (stile, pin) = the_hole(frame, Body::Frame, HoleUse::FramePin);
    let frame_pin = ticket_place(stile, pin);
    let piece = &frame.pieces[frame.row_piece];
    let row: Vec<&Hole> = piece.holes.iter().filter(|h| h.use_ == HoleUse::Row).collect();
    assert_eq!(row.len(), frame.row.len());
    for hole in row {
        let told = frame.row.iter().find(|r| r.tilts_deg == hole.tilts_deg).expect("the row tells of every hole");
        let (stay, own) = the_hole(frame, Body::Stay, HoleUse::FramePin);
        let (fixed, wanted) = match piece.role {
            Role::Stay => {
                let (post, pin) = the_hole(frame, Body::Ground, HoleUse::FixedPin);
                (ticket_place(post, pin), (hole.from_end_mm - own.from_end_mm).hypot(hole.gauge_mm - own.gauge_mm))
            }
            _ => {
                let runner = frame.sticks.iter().find(|s| s.role == piece.role).expect("the runner stands somewhere");
                let end = stay.holes.iter().find(|h| h.use_ == HoleUse::FixedPin).expect("a far pin in the stay");
                let wanted = (end.from_end_mm - own.from_end_mm).hypot(end.gauge_mm - own.gauge_mm);
                (ticket_place(runner, hole), wanted)
            }
        };
        let tilt = tilt_by_bisection(frame_pin, fixed, wanted, told.reached_deg);
        assert!((tilt - told.reached_deg).abs() < SAME_TILT_DEG, "{tilt} found, {} told", told.reached_deg);
        // What the tape's mark cost: half a mark of the hole, by the rate that is printed.
        let lost = (told.reached_deg - hole.tilts_deg[0]).abs();
        assert!(lost <= told.deg_per_mm * frame.tape.mark_mm() / 2.0 * 1.1 + 1e-6, "{lost} of {hole:?}");
    }
}

fn check_turning_holes(frame: &Frame) {
    for stick in &frame.sticks {
        for hole in stick.holes.iter().filter(|h| matches!(h.use_, HoleUse::Axle | HoleUse::Hinge)) {
            let place = ticket_place(stick, hole);
            assert!(place[0].hypot(place[1]) < SAME_MM, "{:?} {:?} stands at {place:?}", stick.role, hole.use_);
        }
    }
}

/// Every stick has its mirror image: the same piece, with x turned over.
fn check_mirror(frame: &Frame) {
    let corners = |stick: &Stick, sign: f64| stick.corners().map(|c| [sign * c[0], c[1], c[2]]);
    // Corner by corner, whatever their order: sorting would turn on the last digit of equal coordinates.
    const MIRROR_MM: f64 = 2e-4;
    let near = |a: &[[f64; 3]; 8], b: &[[f64; 3]; 8]| {
        a.iter().all(|p| b.iter().any(|q| (0..3).all(|i| (p[i] - q[i]).abs() <= MIRROR_MM)))
    };
    for (index, stick) in frame.sticks.iter().enumerate() {
        let wanted = corners(stick, -1.0);
        let mirrored = frame.sticks.iter().enumerate().any(|(other, s)| {
            frame.piece_of[other] == frame.piece_of[index] && s.body == stick.body && near(&corners(s, 1.0), &wanted)
        });
        assert!(mirrored, "the {} {} has no mirror image", stick.role.word(), stick.side);
    }
}

/// A part of the turning frame: its outline in the face, counter-clockwise or clockwise, and its range out of the face.
struct Part {
    name: String,
    outline: Vec<[f64; 2]>,
    w: [f64; 2],
}

/// Sticks are boxes along the axes; a brace is a trapezoid in the face. Nothing else is known of them here.
fn part_of(stick: &Stick) -> Part {
    let corners = stick.corners();
    let range =
        |axis: usize| corners.iter().fold([f64::MAX, f64::MIN], |[low, high], c| [low.min(c[axis]), high.max(c[axis])]);
    let outline = if stick.role == Role::CornerBrace {
        let tan = stick.ends_deg.map(|e| e.to_radians().tan());
        let at = |l: f64, d: f64| [0, 1].map(|i| stick.start[i] + stick.along[i] * l + stick.across[i] * d);
        let depth = stick.section.depth_mm;
        vec![
            at(0.0, 0.0),
            at(stick.length_mm, 0.0),
            at(stick.length_mm - depth * tan[1], depth),
            at(depth * tan[0], depth),
        ]
    } else {
        box_outline(range(0), range(1))
    };
    Part { name: stick.role.word().to_string(), outline, w: range(2) }
}

fn box_outline(x: [f64; 2], u: [f64; 2]) -> Vec<[f64; 2]> {
    vec![[x[0], u[0]], [x[1], u[0]], [x[1], u[1]], [x[0], u[1]]]
}

fn overlap_mm(a: &Part, b: &Part) -> f64 {
    let deep = a.w[1].min(b.w[1]) - a.w[0].max(b.w[0]);
    let normals = [&a.outline, &b.outline].into_iter().flat_map(|outline| {
        (0..outline.len()).map(move |i| {
            let (p, q) = (outline[i], outline[(i + 1) % outline.len()]);
            let length = (q[0] - p[0]).hypot(q[1] - p[1]);
            [(q[1] - p[1]) / length, (p[0] - q[0]) / length]
        })
    });
    normals.fold(deep, |least, n| {
        let range = |outline: &[[f64; 2]]| {
            outline
                .iter()
                .map(|p| p[0] * n[0] + p[1] * n[1])
                .fold([f64::MAX, f64::MIN], |[l, h], v| [l.min(v), h.max(v)])
        };
        let (one, other) = (range(&a.outline), range(&b.outline));
        least.min(one[1].min(other[1]) - one[0].max(other[0]))
    })
}

fn check_room(frame: &Frame) {
    let mut parts: Vec<Part> = frame.sticks_of(Body::Frame).map(|(_, s)| part_of(s)).collect();
    let sticks = parts.len();
    parts.extend(frame.panels.iter().map(|p| Part {
        name: "panel".to_string(),
        outline: box_outline(p.x_mm, p.u_mm),
        w: p.w_mm,
    }));
    for i in 0..parts.len() {
        for j in i + 1..parts.len() {
            let deep = overlap_mm(&parts[i], &parts[j]);
            assert!(deep <= TOUCH_MM, "{} {i} and {} {j} of {sticks} overlap by {deep}", parts[i].name, parts[j].name);
        }
    }
}

/// Heads and nuts have room where parts swing past them: everything recomputed from places, sections and tilts.
fn check_hardware(frame: &Frame) {
    let corners = |bolt: &tiltwright::catalogue::Bolt| bolt.flats_mm / 3f64.sqrt();
    let (_, pin) = the_hole(frame, Body::Frame, HoleUse::FramePin);
    let carrier = frame.sticks.iter().find(|s| s.body == Body::Frame && s.holes.contains(pin)).expect("its stick");
    let frame_pin = ticket_place(carrier, pin);
    match frame.stands_on {
        frame::StandsOn::Posts { .. } => {
            let (post, hole) = the_hole(frame, Body::Ground, HoleUse::FixedPin);
            let fixed = ticket_place(post, hole);
            let stile = frame.sticks.iter().find(|s| s.holes.iter().any(|h| h.use_ == HoleUse::Axle)).expect("a stile");
            let back = stile.start[2] - stile.section.depth_mm;
            for row in &frame.row {
                let (sin, cos) = row.reached_deg.to_radians().sin_cos();
                let nut_x = frame_pin[0] * cos - frame_pin[1] * sin;
                assert!(
                    nut_x + corners(frame.pin) < post.start[1],
                    "the frame pin's nut meets the post at {}",
                    row.reached_deg
                );
                let head_w = fixed[1] * cos - fixed[0] * sin;
                assert!(
                    head_w + corners(frame.pin) < back,
                    "the fixed pin's head meets the stile at {}",
                    row.reached_deg
                );
            }
        }
        frame::StandsOn::Runners { .. } => {
            let x_of = |role: Role| {
                frame.sticks.iter().find(|s| s.role == role && s.start[0] > 0.0).expect("a stick").x_range()
            };
            let room = x_of(Role::Cheek)[0] - x_of(Role::Stile)[1];
            let needed = frame.pin.head_mm + 2.0 * frame::washer_mm(frame.pin);
            assert!(room > needed - SAME_MM, "the stile swings past the cheek bolts' heads: {room} of {needed}");
        }
    }
}

fn check(text: &str, random: &Random) -> Result<(), TestCaseError> {
    match lay_out(text, random.units()) {
        Ok(frame) => {
            check_tilts(&frame);
            check_turning_holes(&frame);
            check_mirror(&frame);
            check_room(&frame);
            check_hardware(&frame);
            Ok(())
        }
        // A refused design says so in words; whether it should have been is for other tests.
        Err(refusals) => {
            let words: Vec<String> = refusals.iter().map(|r| r.sentence(random.units())).collect();
            prop_assert!(words.iter().all(|w| !w.is_empty() && !w.contains("NaN") && !w.contains("inf")), "{words:?}");
            Err(TestCaseError::reject("refused"))
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, max_global_rejects: 200, ..ProptestConfig::default() })]

    #[test]
    fn a_hole_in_the_stay_gives_the_tilt_that_is_told(random in random()) {
        check(&random.on_posts(), &random)?;
    }

    #[test]
    fn a_hole_in_the_runner_gives_the_tilt_that_is_told(random in random()) {
        check(&random.on_runners(), &random)?;
    }

    #[test]
    fn a_mirrored_design_gives_the_mirrored_frame(random in random(), first in 0usize..4) {
        let columns = 4;
        let random = Random { inside: true, columns, rows: 1, seating: 0, ..random };
        let with_slots = |slots: [usize; 2]| {
            // One ply: two on each side of a post make the axle longer than any bolt.
            random.on_posts().replace("mullion_plies: 2", "mullion_plies: 1").replace("section: 89x140", &format!("section: 89x140, slots_after_columns: {slots:?}"))
        };
        let slots = [first, first + 1];
        let one = lay_out(&with_slots(slots), random.units());
        let other = lay_out(&with_slots([columns - slots[1], columns - slots[0]]), random.units());
        match (one, other) {
            (Ok(one), Ok(other)) => {
                prop_assert_eq!(&one.row, &other.row);
                for slot in &one.slots_mm {
                    let there = other.slots_mm.iter().any(|s| (s[0] + slot[1]).abs() < SAME_MM && (s[1] + slot[0]).abs() < SAME_MM);
                    prop_assert!(there, "{:?} against {:?}", one.slots_mm, other.slots_mm);
                }
                let lengths = |frame: &Frame| {
                    let mut all: Vec<_> = frame.sticks.iter().map(|s| (s.role, (s.length_mm * 1e3).round() as i64)).collect();
                    all.sort_unstable();
                    all
                };
                prop_assert_eq!(lengths(&one), lengths(&other));
                let xs = |frame: &Frame, sign: f64| {
                    let mut all: Vec<i64> = frame.sticks.iter().map(|s| {
                        let [low, high] = s.x_range();
                        (sign * (low + high) * 500.0).round() as i64
                    }).collect();
                    all.sort_unstable();
                    all
                };
                for (a, b) in xs(&one, 1.0).iter().zip(&xs(&other, -1.0)) {
                    prop_assert!((a - b).abs() <= 2, "{} {}", a, b);
                }
            }
            (Err(_), Err(_)) => return Err(TestCaseError::reject("refused")),
            (one, other) => prop_assert!(false, "one side is refused: {:?} {:?}", one.err(), other.err()),
        }
    }
}

/// The built-in design with changes, its pins placed by the layout search.
fn builtin(replace: &[(&str, &str)]) -> Frame {
    let searched = [("pin_along: 28 in, ", ""), ("    pin_below_axle: 30 in\n", "")];
    let text = searched.iter().chain(replace).fold(design::BUILTIN_TEXT.to_string(), |text, (from, to)| {
        assert!(text.contains(from), "{from} stands in the built-in design");
        text.replace(from, to)
    });
    lay_out(&text, tiltwright::quantities::Units::Us).unwrap_or_else(|r| panic!("{r:?}"))
}

fn lengths(frame: &Frame, role: Role) -> Vec<f64> {
    frame.sticks.iter().filter(|s| s.role == role).map(|s| s.length_mm).collect()
}

#[test]
fn half_a_long_side_shortens_stiles_mullions_and_stays_and_nothing_across() {
    let (whole, half) = (
        builtin(&[]),
        builtin(&[
            ("1722 mm", "861 mm"),
            ("short_side: 1134 mm", "short_side: 850 mm"),
            ("1400 mm", "700 mm"),
            ("across: 1090", "across: 800"),
        ]),
    );
    let narrow = builtin(&[("short_side: 1134 mm", "short_side: 850 mm"), ("across: 1090", "across: 800")]);
    let mark = whole.tape.mark_mm();
    assert!((whole.length_mm - half.length_mm - 861.0).abs() <= mark);
    for role in [Role::Stile, Role::Mullion] {
        for (long, short) in lengths(&narrow, role).iter().zip(lengths(&half, role)) {
            assert!((long - short - 861.0).abs() <= mark, "{role:?}: {long} became {short}");
        }
    }
    assert_eq!(lengths(&narrow, Role::Rail), lengths(&half, Role::Rail));
    assert_eq!(lengths(&narrow, Role::CornerBrace), lengths(&half, Role::CornerBrace));
    let stay = |frame: &Frame| lengths(frame, Role::Stay)[0];
    assert!(stay(&half) < 0.8 * stay(&narrow), "{} against {}", stay(&half), stay(&narrow));
    for (panel, bay) in half.panels.iter().zip(&half.bays) {
        assert!((panel.u_mm[1] - panel.u_mm[0] - 861.0).abs() < SAME_MM);
        assert!((bay.u_mm[1] - bay.u_mm[0] - (861.0 + 38.1)).abs() <= mark);
    }
    let axle = |frame: &Frame| {
        let stile = frame.sticks.iter().find(|s| s.role == Role::Stile).expect("a stile");
        stile.holes.iter().find(|h| h.use_ == HoleUse::Axle).expect("an axle hole").from_end_mm
    };
    assert!((axle(&narrow) - axle(&half) - 430.5).abs() <= 2.0 * mark, "the axle stays at mid height");
}

#[test]
fn half_a_short_side_shortens_rails_and_span_and_nothing_up_the_slope() {
    let (whole, half) = (
        builtin(&[]),
        builtin(&[
            ("short_side: 1134 mm", "short_side: 567 mm"),
            ("across: 1090", "across: 520"),
            ("leg: 12 in", "leg: 10 in"),
        ]),
    );
    let mark = whole.tape.mark_mm();
    assert!((whole.width_mm - half.width_mm - 2.0 * 567.0).abs() <= 2.0 * mark);
    assert!((whole.span_mm - half.span_mm - 2.0 * 567.0).abs() <= 2.0 * mark);
    for (long, short) in lengths(&whole, Role::Rail).iter().zip(lengths(&half, Role::Rail)) {
        assert!((long - short - 2.0 * 567.0).abs() <= 2.0 * mark);
    }
    for role in [Role::Stile, Role::Mullion, Role::Stay, Role::Post] {
        assert_eq!(lengths(&whole, role), lengths(&half, role), "{role:?}");
    }
    assert_eq!(whole.row, half.row);
}

/// The back corner of the stile's low end swings on a circle round the hinge: lowest at atan(60 / 70) = 41°, higher at
/// both ends of the row. By hand, c = 60 mm before the hinge and k = 70 mm behind it: c sin b + k cos b is 82 mm at 14°,
/// 92 mm at 41° and 76 mm at 75°.
#[test]
fn a_swing_can_foul_in_its_middle_while_both_ends_are_clear() {
    let text = |tilts: &str| {
        format!(
            "tiltwright: 1\nname: middle\nunits: metric\nsite: {{place: Nowhere, latitude: 45 deg}}\n\
             panel: {{long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 20 kg}}\n\
             array: {{rows: 1, columns: 1, orientation: portrait}}\nframe: {{rail: 38x140, stile: 38x140, seating: {{kind: inset}}}}\n\
             support:\n  kind: runners\n  bolt: M12\n  pin: M12\n  low_edge_clearance: 134 mm\n  stay: {{section: 38x89, pin_behind: 0 mm}}\n  \
             runners: {{section: 38x140, hinge_above_holes: 128 mm, hinge_from_low_edge: 60 mm}}\ntilts: [{tilts}]\n"
        )
    };
    let metric = tiltwright::quantities::Units::Metric;
    let above = |frame: &Frame| match frame.stands_on {
        frame::StandsOn::Runners { hinge_above_surface_mm, .. } => hinge_above_surface_mm,
        frame::StandsOn::Posts { .. } => panic!("the design stands on runners"),
    };
    for end in ["14 deg", "75 deg"] {
        let frame = lay_out(&text(end), metric).unwrap_or_else(|r| panic!("{end}: {r:?}"));
        let height = above(&frame);
        assert!(height > 134.0 + 82.5 && height < 134.0 + 92.0, "the test asks for a hinge at 220 mm: {height}");
    }
    let refusals = lay_out(&text("14 deg, 75 deg"), metric).expect_err("the corner dips below between the holes");
    let found = refusals.iter().find_map(|r| match r {
        frame::Refusal::LowEdgeTooLow { tilt_deg, found_mm, .. } => Some((*tilt_deg, *found_mm)),
        _ => None,
    });
    let (tilt, found) = found.unwrap_or_else(|| panic!("{refusals:?}"));
    assert!((tilt - 60f64.atan2(70.0).to_degrees()).abs() <= frame::SWEEP_STEP_DEG, "lowest at {tilt}");
    assert!(found < 134.0, "{found}");
}

#[test]
fn every_ready_design_keeps_its_tilts_its_mirror_and_its_room() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("designs");
    let mut files: Vec<_> = std::fs::read_dir(folder).expect("designs/").map(|f| f.expect("an entry").path()).collect();
    files.sort();
    for file in files {
        let read = design::read(Some(&file)).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display()));
        let tilts = match &read.design.tilts {
            Tilts::Given(tilts) => tilts.clone(),
            Tilts::Seasons(_) => [15.0, 40.0, 64.0].map(tiltwright::quantities::deg).to_vec(),
        };
        assert!(tilts.iter().all(|t| to_deg(*t) > 3.0));
        for units in [tiltwright::quantities::Units::Us, tiltwright::quantities::Units::Metric] {
            let frame = frame::lay_out(&read.design, &tilts, Tape::of(units))
                .unwrap_or_else(|r| panic!("{}: {r:?}", file.display()));
            check_tilts(&frame);
            check_turning_holes(&frame);
            check_mirror(&frame);
            check_room(&frame);
            check_hardware(&frame);
        }
    }
}
