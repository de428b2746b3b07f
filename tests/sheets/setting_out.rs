//! The setting-out plan: every post and runner of one, two and three frames stands where the model puts it.

use crate::sheet_tests::measure::{groups, number, parse, words};
use std::path::Path;
use tiltwright::{
    design::{self, Design, Tilts},
    frame::{self, Frame, Role},
    quantities::{Tape, Units, angle, deg, length, mm, to_deg},
    sheets::{Drafter, Paper, Sheet},
    shop::assembly,
};

/// A thousandth is written.
const WRITTEN_MM: f64 = 0.001;
/// The tape is rounded up to its next mark, here to a sixteenth of an inch.
const MARK_MM: f64 = 25.4 / 16.0;
/// Refraction and the sun's path through the day move its noon height by less than this (deg).
const SUN_DEG: f64 = 0.15;

/// A ready design with some lines replaced.
fn laid_out(name: &str, changes: &[(&str, &str)]) -> (Design, Frame) {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(name).with_extension("yaml");
    let text = std::fs::read_to_string(&file).expect("a ready design");
    let text = changes.iter().fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{name} has no `{from}`");
        text.replace(from, to)
    });
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("design.yaml");
    std::fs::write(&file, text).expect("the design is written");
    let design = design::read(Some(&file)).unwrap_or_else(|faults| panic!("{name}: {faults:?}")).design;
    let tilts = match &design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        Tilts::Seasons(_) => [15.0, 40.0, 64.0].map(deg).to_vec(),
    };
    let frame = frame::lay_out(&design, &tilts, Tape::of(design.units)).unwrap_or_else(|e| panic!("{name}: {e:?}"));
    (design, frame)
}

fn plan((design, frame): &(Design, Frame), paper: Paper, units: Units) -> Sheet {
    let drafter = Drafter { design, frame, paper, units, depth_asked_mm: None };
    let mut drawn = drafter.shop_drawings(&|_| vec![]);
    drawn.retain(|sheet| sheet.slug == "setting-out");
    assert_eq!(drawn.len(), 1, "one setting-out plan");
    let sheet = drawn.swap_remove(0);
    if let Ok(folder) = std::env::var("SAVE_SHEETS") {
        let name = format!("{}-{}-{}.svg", design.name.replace(' ', "-"), frame.count, paper.name());
        std::fs::write(Path::new(&folder).join(name), sheet.to_svg())
            .expect("the folder in SAVE_SHEETS can be written");
    }
    sheet
}

/// One, two and three frames on posts and on runners.
fn all() -> Vec<(usize, Role, (Design, Frame))> {
    let four = "columns: 4";
    let posts = |count: usize| {
        let (columns, frames) = (format!("columns: {}", 2 * count), format!("frames: {count}"));
        laid_out("two-frames", &[(four, &columns), ("frames: 2", &frames)])
    };
    let text = |name: &str| {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(name).with_extension("yaml");
        std::fs::read_to_string(file).expect("a ready design")
    };
    let columns = text("runners-ground")
        .lines()
        .find_map(|line| line.trim().strip_prefix("columns: ").and_then(|n| n.parse::<usize>().ok()))
        .expect("columns on a line of their own");
    let was = format!("columns: {columns}");
    let runners = |count: usize| {
        laid_out("runners-ground", &[(&was, &format!("columns: {}\n  frames: {count}", columns * count))])
    };
    let mut all: Vec<_> = (1..=3).map(|count| (count, Role::Post, posts(count))).collect();
    all.extend((1..=3).map(|count| (count, Role::Runner, runners(count))));
    all
}

#[test]
fn every_post_and_runner_of_all_frames_is_drawn_and_taped_from_the_first() {
    for (count, role, laid) in all() {
        let (design, frame) = &laid;
        assert_eq!(frame.count, count);
        for paper in [Paper::Letter, Paper::A4] {
            let sheet = plan(&laid, paper, design.units);
            let clashes = sheet.clashes();
            assert!(clashes.is_empty(), "{} {count}: {clashes:?}", design.name);
            let svg = sheet.to_svg();
            let document = parse(&svg);
            let drawn: Vec<f64> =
                groups(&document, role.word()).iter().map(|group| number(*group, "data-x-mm")).collect();
            assert_eq!(drawn.len(), 2 * count, "{} {count}", design.name);
            let said = words(&document);
            for (n, x) in drawn.iter().enumerate() {
                let wanted = (n / 2) as f64 * frame.pitch_mm + (n % 2) as f64 * frame.span_mm;
                assert!((x - drawn[0] - wanted).abs() < WRITTEN_MM, "{} {count}: {drawn:?}", design.name);
                // What stands half way between two marks may be rounded either way.
                let taped = [-WRITTEN_MM, WRITTEN_MM].map(|off| match n {
                    0 => "0, no. 1".to_string(),
                    _ => format!("{}, no. {}", length(mm(wanted + off), design.units), n + 1),
                });
                assert!(taped.iter().any(|t| said.contains(t)), "{} {count}: no {taped:?} in {said:?}", design.name);
            }
        }
    }
}

#[test]
fn frames_stand_clear_of_each_other_by_what_is_written_or_by_a_passage() {
    let extent = |frame: &Frame| {
        let [left, right] = frame.extent_mm();
        right - left
    };
    let (_, frame) = laid_out("two-frames", &[]);
    let clear = frame.pitch_mm - extent(&frame);
    assert!((clear - 36.0 * 25.4).abs() < MARK_MM && clear >= 36.0 * 25.4 - 1e-6, "{clear}");
    let (_, frame) = laid_out("two-frames", &[("frames: 2", "frames: 2\n  frame_gap: 5 ft")]);
    let clear = frame.pitch_mm - extent(&frame);
    assert!((clear - 60.0 * 25.4).abs() < MARK_MM && clear >= 60.0 * 25.4 - 1e-6, "{clear}");
    // Posts outside the frame count as well as what turns.
    let (_, frame) = laid_out("posts-outside", &[]);
    let post = frame.sticks.iter().filter(|s| s.role == Role::Post).map(|s| s.x_range()[1]).fold(0.0, f64::max);
    assert!(frame.extent_mm()[1] >= post);
}

/// Plane geometry and the sun's declination on the solstice, 23.44 degrees.
#[test]
fn the_second_row_is_lit_at_noon_of_the_shortest_day() {
    for (count, _, laid) in all() {
        let (design, frame) = &laid;
        let sheet = plan(&laid, Paper::Letter, design.units);
        let svg = sheet.to_svg();
        let rows: Vec<f64> =
            groups(&parse(&svg), "second-row").iter().map(|group| number(*group, "data-behind-mm")).collect();
        let [noon, hours] = rows[..] else { panic!("{} {count}: {rows:?}", design.name) };
        assert!(hours > noon, "the sun stands lower at 9 h than at noon: {rows:?}");
        let (tilt, _) = frame.reached().last().copied().expect("a tilt");
        let rise = match frame.stands_on {
            frame::StandsOn::Posts { .. } => 0.0,
            frame::StandsOn::Runners { slope_deg, .. } => slope_deg.to_radians().tan(),
        };
        let behind = |off_deg: f64| {
            let sun = (90.0 - to_deg(design.site.latitude).abs() - 23.44 + off_deg).to_radians();
            frame.length_mm * (tilt.to_radians().sin() + tilt.to_radians().cos() * sun.tan()) / (sun.tan() + rise)
        };
        let (near, far) = (behind(SUN_DEG), behind(-SUN_DEG));
        assert!(near < noon && noon < far + MARK_MM, "{} {count}: {near} < {noon} < {far}", design.name);
    }
}

#[test]
fn the_line_runs_square_to_the_facing_and_a_compass_is_told_its_declination() {
    let laid = laid_out("two-frames", &[]);
    let said = words(&parse(&plan(&laid, Paper::Letter, Units::Us).to_svg())).join(" ");
    for part in ["270° true", "90° true", "WMM2025", "1 January 2027", "declination"] {
        assert!(said.contains(part), "{part}: {said}");
    }
    // East of true north by the model: the compass reads less than the true bearing by as much.
    let (_, after) = said.split_once("a compass reads ").expect("what a compass reads");
    let degrees = |text: &str| -> f64 {
        let digits: String = text.chars().take_while(|c| c.is_ascii_digit() || *c == '.').collect();
        digits.parse().unwrap_or_else(|_| panic!("{text} starts with no number"))
    };
    let (left, right) = (degrees(after), degrees(after.split_once(" and ").expect("two ends").1));
    let east = degrees(after.split_once("(declination ").expect("a declination").1);
    assert!((left + east - 270.0).abs() < 0.11 && (right + east - 90.0).abs() < 0.11, "{left} {right} {east}");
    let laid = laid_out(
        "two-frames",
        &[("  longitude: -116 deg\n", ""), ("latitude: 43.5 deg", "latitude: 43.5 deg\n  facing: 190 deg")],
    );
    let said = words(&parse(&plan(&laid, Paper::Letter, Units::Us).to_svg())).join(" ");
    for part in ["280° true", "100° true", "give `site.longitude`", &angle(deg(190.0))] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn the_assembly_counts_the_holes_and_runners_of_all_frames() {
    for (count, role, (design, frame)) in all() {
        let steps = assembly(&design, &frame, design.units).join(" ");
        let said = match role {
            Role::Post => format!("Dig {} holes ", 2 * count),
            _ => format!("Lay {} runners ", 2 * count),
        };
        assert!(steps.contains(&said), "{}: {steps}", design.name);
        if count > 1 {
            let next = length(mm(frame.pitch_mm - frame.span_mm), design.units);
            assert!(steps.contains(&format!("in {count} pairs")) && steps.contains(&next), "{}: {steps}", design.name);
        }
    }
}
