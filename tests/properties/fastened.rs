//! Screws are checked where the frame places them.

use tiltwright::{
    checks::verify::{Kind, Report, verify},
    codes::{Calc, Joint, ScrewJoint},
    design,
    frame::{
        self, Frame, JointUse, Part,
        vector::{cross, dot, minus},
    },
    quantities::Tape,
};

/// Lengths that are the same but for rounding (mm).
const ROUNDING_MM: f64 = 1e-6;

fn verified(name: &str) -> (Frame, Report) {
    verified_text(design::READY.iter().find(|(of, _)| *of == name).expect("a ready design").1)
}

fn verified_text(text: &str) -> (Frame, Report) {
    let design = design::read_text("ready.yaml", text).unwrap_or_else(|f| panic!("{f:?}")).design;
    let design::Tilts::Given(tilts) = &design.tilts else { panic!("tilts are given") };
    let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).unwrap_or_else(|r| panic!("{r:?}"));
    let basis = design.strength_basis().unwrap_or_else(|f| panic!("{f:?}")).expect("loads are given");
    let report = verify(&design, &frame, &basis).unwrap_or_else(|e| panic!("{e}"));
    (frame, report)
}

fn screws(report: &Report, kind: Kind) -> Vec<ScrewJoint> {
    let calcs = report.rows.iter().filter(|row| row.kind == kind).filter_map(|row| row.calc.as_ref());
    let screws = calcs.filter_map(|calc| match calc {
        Calc::Joint(Joint::Screwed(screws)) => Some(*screws),
        _ => None,
    });
    screws.collect()
}

/// Before each brace screw enters its last piece: the rail or stile, or as much of the brace as lies under its head.
fn passed_mm(frame: &Frame) -> Vec<(&'static str, f64)> {
    let ends = frame.joints.iter().filter(|joint| joint.use_ == JointUse::Brace);
    let screws = ends.flat_map(|joint| {
        let sticks: Vec<_> = joint
            .parts
            .iter()
            .map(|part| match part {
                Part::Stick(stick) => &frame.sticks[*stick],
                Part::Panel(panel) => panic!("a brace on panel {panel}"),
            })
            .collect();
        let (first, last) = (sticks[0], sticks[1]);
        let through_member = first.role != frame::Role::CornerBrace;
        joint.fasteners.iter().map(move |screw| {
            if through_member {
                return ("member", first.section.width_mm);
            }
            // Square to the member: from under the head to the face of it that is nearer.
            assert!(dot(cross(last.along, last.across), screw.axis).abs() > 1.0 - ROUNDING_MM);
            let to_middle = dot(minus(last.start, screw.from), screw.axis);
            ("brace", to_middle - last.section.width_mm / 2.0)
        })
    });
    screws.collect()
}

#[test]
fn brace_screws_are_checked_through_what_they_pass() {
    for (name, through) in [("sample", "member"), ("runners-ground", "brace")] {
        let (frame, report) = verified(name);
        let passed = passed_mm(&frame);
        assert!(passed.iter().any(|(what, _)| *what == through), "{name}: {passed:?}");
        let rows = screws(&report, Kind::BraceScrews);
        assert!(!rows.is_empty(), "{name} has brace screws");
        for row in rows {
            let found = passed.iter().find(|(_, mm)| (mm - row.side_mm).abs() < ROUNDING_MM);
            assert!(found.is_some(), "{name}: {} is none of {passed:?}", row.side_mm);
        }
    }
}

#[test]
fn corner_screws_are_as_many_as_stand_in_the_corner() {
    let (frame, report) = verified("sample");
    let corners = frame.joints.iter().filter(|joint| joint.use_ == JointUse::Corner);
    let counts: Vec<usize> = corners.map(|joint| joint.fasteners.len()).collect();
    let rows = screws(&report, Kind::CornerScrews);
    assert!(!rows.is_empty() && rows.iter().all(|row| counts.contains(&(row.count as usize))), "{counts:?} {rows:?}");
}

/// Four holes seat four clips; more are refused when the frame is laid out.
#[test]
fn as_many_clips_hold_a_panel_as_it_has_holes() {
    let (frame, report) = verified("sample");
    let of_first = |joint: &&frame::Joint| joint.use_ == JointUse::Clip && joint.parts.contains(&Part::Panel(0));
    assert_eq!(frame.joints.iter().filter(of_first).count(), 4);
    // The same frame whose panels tell no holes, on half as many clips: each carries twice the lift.
    let text = design::READY.iter().find(|(of, _)| *of == "sample").expect("a ready design").1;
    let holes: String =
        text.lines().filter(|line| !line.contains("mounting_holes")).map(|l| format!("{l}\n")).collect();
    let two = verified_text(&holes.replace("clips_per_panel: 4", "clips_per_panel: 2"));
    let worst = |report: &Report| {
        let clips = report.rows.iter().filter(|row| row.kind == Kind::Clips);
        clips.filter_map(|row| row.utilisation).fold(0.0, f64::max)
    };
    let (four, two) = (worst(&report), worst(&two.1));
    assert!(four > 0.0 && (two - 2.0 * four).abs() < 1e-9 * two, "{four} {two}");
}
