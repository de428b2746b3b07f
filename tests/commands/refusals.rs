//! Every reason that stops a layout, provoked by name; and every way out that the error offers, written into the file
//! and run again, stands.

use crate::common::{Run, tiltwright_in, with};
use tiltwright::design::{BUILTIN_TEXT, READY};

/// Two panels on posts outside the frame, everything said.
const POSTS: &str = "
tiltwright: 1
name: seeded on posts
units: metric
site: {place: Nowhere, latitude: 45 deg}
panel: {long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 21 kg}
array: {rows: 1, columns: 2, orientation: portrait}
frame:
  rail: 45x145
  stile: 45x145
  seating: {kind: inset}
  corner_brace: {section: 45x95, leg: 200 mm}
support:
  kind: posts
  bolt: M12
  pin: M12
  stay: {section: 45x95, pin_along: 600 mm, pin_behind: 20 mm}
  posts:
    placement: outside
    section: 89x140
    axle_height: 1300 mm
    pin_below_axle: 600 mm
    embedment: 1000 mm
tilts: [15 deg, 35 deg, 60 deg]
";

/// One panel on runners, everything said.
const RUNNERS: &str = "
tiltwright: 1
name: seeded on runners
units: metric
site: {place: Nowhere, latitude: 45 deg, facing: 180 deg}
panel: {long_side: 1722 mm, short_side: 1134 mm, thickness: 30 mm, mass: 21 kg}
array: {rows: 1, columns: 1, orientation: portrait}
frame:
  rail: 38x140
  stile: 38x140
  seating: {kind: inset}
support:
  kind: runners
  bolt: M12
  pin: M12
  stay: {section: 38x89, pin_along: 700 mm, pin_behind: 10 mm, length: 950 mm}
  runners: {section: 38x184, hinge_above_holes: 140 mm, hinge_from_low_edge: 90 mm}
tilts: [20 deg, 40 deg, 60 deg]
";

fn run(text: &str) -> Run {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(folder.path().join("seeded.yaml"), text).expect("the file can be written");
    let run = tiltwright_in(folder.path(), &["drill", "seeded.yaml"]);
    assert_eq!(std::fs::read_dir(folder.path()).expect("the folder").count(), 1, "drill writes nothing");
    run
}

/// Fields and what to write there; `~` where the line is left out.
type Changes = Vec<(String, String)>;

/// The changes of every hint that says it works.
fn offered(stderr: &str) -> Vec<Changes> {
    let hints = stderr.lines().filter_map(|line| line.split_once("this works")?.1.split_once(": "));
    hints
        .map(|(_, words)| {
            // Every second piece between backticks is a line of the file, or the name of one to leave out.
            let pieces: Vec<&str> = words.split('`').collect();
            pieces
                .chunks_exact(2)
                .map(|pair| match pair[1].split_once(": ") {
                    Some((field, value)) if !pair[0].contains("leave out") => (field.to_string(), value.to_string()),
                    _ => (pair[1].to_string(), "~".to_string()),
                })
                .collect()
        })
        .collect()
}

fn mended(text: &str, changes: &Changes) -> Run {
    let changes: Vec<(&str, &str)> = changes.iter().map(|(field, value)| (field.as_str(), value.as_str())).collect();
    run(&with(text, &changes))
}

/// Every way out that is offered for a text works when it is written into it.
fn all_work(text: &str, stderr: &str) {
    for changes in offered(stderr) {
        let after = mended(text, &changes);
        assert_eq!(after.code, 0, "{changes:?} was offered by\n{stderr}but gives\n{}", after.stderr);
    }
}

/// The fault is named and placed, told once, at least one change is offered, and each of them stands when it is made.
fn refused(base: &str, changes: &[(&str, &str)], code: &str) {
    let text = with(base, changes);
    let run_ = run(&text);
    assert_eq!((run_.code, run_.stdout.as_str()), (2, ""), "{code}: {}", run_.stderr);
    assert!(run_.stderr.contains(&format!("error[{code}]: ")), "{code} is not among:\n{}", run_.stderr);
    assert!(run_.stderr.contains("seeded.yaml:"), "{code} has no place:\n{}", run_.stderr);
    told_once(&run_.stderr);
    assert!(!offered(&run_.stderr).is_empty(), "{code} offers no way out:\n{}", run_.stderr);
    all_work(&text, &run_.stderr);
}

/// No fault and no way out is printed twice.
fn told_once(stderr: &str) {
    let said: Vec<&str> = stderr.lines().filter(|l| l.starts_with("error[") || l.contains("= hint: ")).collect();
    for (at, line) in said.iter().enumerate() {
        assert!(!said[..at].contains(line), "said twice: {line}\n{stderr}");
    }
}

#[test]
fn both_bases_stand() {
    for base in [POSTS, RUNNERS] {
        let run = run(base);
        assert_eq!(run.code, 0, "{}", run.stderr);
    }
}

#[test]
fn a_stay_that_cannot_reach_is_refused_and_mended() {
    refused(RUNNERS, &[("support.stay.length", "600 mm")], "stay-too-short");
}

#[test]
fn a_hole_beyond_the_runner_is_refused_and_mended() {
    refused(RUNNERS, &[("support.runners.length", "1200 mm")], "hole-off-runner");
}

#[test]
fn a_hole_under_the_hinge_is_refused_and_mended() {
    let short = [
        ("support.stay.pin_along", "200 mm"),
        ("support.stay.length", "326 mm"),
        ("tilts", "[45 deg, 60 deg, 70 deg]"),
    ];
    refused(RUNNERS, &short, "hole-not-behind-hinge");
}

#[test]
fn a_stay_that_pushes_through_the_axle_is_refused_and_mended() {
    refused(POSTS, &[("support.posts.pin_below_axle", "150 mm")], "lever-too-small");
}

#[test]
fn a_tilt_beyond_the_swing_is_refused_and_mended() {
    refused(POSTS, &[("tilts", "[15 deg, 35 deg, 88 deg]")], "tilt-outside-swing");
    refused(POSTS, &[("tilts", "[-5 deg, 35 deg, 60 deg]")], "tilt-outside-swing");
}

#[test]
fn flat_is_refused_as_a_hole_and_mended() {
    refused(POSTS, &[("tilts", "[0 deg, 35 deg, 60 deg]")], "flat-is-a-lock");
}

#[test]
fn holes_that_would_split_the_stay_are_refused_and_mended() {
    refused(POSTS, &[("tilts", "[15 deg, 35 deg, 38 deg]")], "holes-too-close");
}

#[test]
fn a_bolt_too_thick_for_its_stile_is_refused_and_mended() {
    refused(POSTS, &[("support.bolt", "3/4 in")], "edge-too-near");
    refused(POSTS, &[("support.stay.pin_behind", "40 mm")], "edge-too-near");
}

#[test]
fn a_pin_beyond_its_piece_is_refused_and_mended() {
    refused(POSTS, &[("support.stay.pin_along", "870 mm")], "outside-piece");
    refused(RUNNERS, &[("support.runners.hinge_above_holes", "60 mm")], "outside-piece");
}

#[test]
fn a_low_edge_in_the_grass_is_refused_and_mended() {
    refused(POSTS, &[("support.posts.axle_height", "800 mm")], "low-edge-too-low");
}

#[test]
fn a_stay_that_runs_into_the_ground_is_refused_and_mended() {
    refused(POSTS, &[("support.posts.pin_below_axle", "1150 mm")], "fouls");
}

#[test]
fn a_nut_that_meets_the_post_is_refused_and_mended() {
    refused(POSTS, &[("tilts", "[15 deg, 35 deg, 84 deg]")], "fouls");
}

#[test]
fn a_cleat_too_narrow_for_its_pin_is_refused_and_mended() {
    let cleat =
        [("support.stay.cleat", "45x95"), ("support.stay.pin_behind", "95 mm"), ("support.stay.pin_along", "430 mm")];
    refused(POSTS, &cleat, "edge-too-near");
}

#[test]
fn a_pin_too_far_before_the_axle_is_offered_a_place_before_it() {
    let text = with(POSTS, &[("support.stay.pin_behind", "-50 mm")]);
    let offered = offered(&run(&text).stderr);
    assert!(
        offered.iter().flatten().any(|(field, value)| field == "support.stay.pin_behind" && value.starts_with('-')),
        "{offered:?}"
    );
    refused(POSTS, &[("support.stay.pin_behind", "-50 mm")], "edge-too-near");
}

#[test]
fn a_roof_that_falls_along_the_hinge_line_is_refused_and_mended() {
    let roof = [
        ("support.runners.on", "roof"),
        ("support.runners.roof_pitch", "12 deg"),
        ("support.runners.roof_facing", "250 deg"),
    ];
    refused(RUNNERS, &roof, "cross-slope");
    let small = [
        ("support.runners.on", "roof"),
        ("support.runners.roof_pitch", "4 deg"),
        ("support.runners.roof_facing", "220 deg"),
        ("support.runners.shims", "false"),
    ];
    refused(RUNNERS, &small, "cross-slope");
}

#[test]
fn a_mullion_too_thin_for_two_laps_is_refused_and_mended() {
    refused(POSTS, &[("frame.seating", "{kind: lapped, lap: 24 mm}")], "mullion-too-thin");
}

#[test]
fn a_brace_too_long_for_its_bay_is_refused_and_mended() {
    refused(POSTS, &[("frame.corner_brace.leg", "1200 mm")], "brace-too-long");
    // One bay: the braces of two corners would cross.
    let one = [("array.columns", "1"), ("frame.corner_brace.leg", "620 mm")];
    refused(POSTS, &one, "brace-too-long");
}

#[test]
fn a_brace_without_a_short_edge_is_refused_and_mended() {
    refused(POSTS, &[("frame.corner_brace.leg", "120 mm")], "brace-too-short");
}

#[test]
fn a_brace_that_stands_into_the_panel_is_refused_and_mended() {
    refused(POSTS, &[("frame.corner_brace", "{section: 140x145, leg: 300 mm}")], "brace-fouls-panel");
}

#[test]
fn slots_that_are_no_two_slots_are_refused_and_mended() {
    for slots in ["[1]", "[0, 1, 2]", "[1, 1]", "[0, 5]", "[]"] {
        let inside = [("support.posts.placement", "inside"), ("support.posts.slots_after_columns", slots)];
        refused(POSTS, &inside, "bad-slots");
    }
}

#[test]
fn panels_wider_than_their_frame_are_refused_and_mended() {
    refused(POSTS, &[("frame.outside_width", "2300 mm")], "panels-do-not-fit");
    refused(POSTS, &[("frame.outside_length", "1700 mm")], "panels-do-not-fit");
}

#[test]
fn a_frame_too_large_for_lapped_panels_is_refused_and_mended() {
    let large = [("frame.seating", "{kind: lapped, lap: 12 mm}"), ("frame.outside_width", "2500 mm")];
    refused(POSTS, &large, "frame-too-large");
}

#[test]
fn a_cleat_in_the_brace_is_refused_and_mended() {
    let cleat = [("support.stay.cleat", "45x145"), ("support.stay.pin_behind", "95 mm")];
    refused(POSTS, &cleat, "pieces-overlap");
}

#[test]
fn an_axle_longer_than_any_bolt_is_refused_and_mended() {
    let thick = [
        ("array.columns", "4"),
        ("frame.mullion_plies", "2"),
        ("support.posts.placement", "inside"),
        ("support.posts.slots_after_columns", "[1, 3]"),
    ];
    refused(POSTS, &thick, "no-bolt-long-enough");
}

#[test]
fn lapped_seating_is_refused_where_the_panel_data_forbid_it() {
    let lapped = with(
        POSTS,
        &[("frame.seating", "{kind: lapped}"), ("panel.edge_support", "forbidden"), ("frame.mullion_plies", "2")],
    );
    let run_ = run(&lapped);
    assert_eq!((run_.code, run_.stdout.as_str()), (2, ""));
    assert!(
        run_.stderr.contains("error[lapped-forbidden]: ") && run_.stderr.contains("`kind: inset`"),
        "{}",
        run_.stderr
    );
    assert_eq!(run(&with(&lapped, &[("frame.seating.kind", "inset")])).code, 0, "what the hint names stands");
    let purlins = [
        ("frame.seating", "{kind: on-purlins, purlin: 45x95}"),
        ("panel.mounting_holes", "{along_long_side: 1400 mm, across: 1090 mm, diameter: 9 mm}"),
    ];
    let mended = run(&with(&lapped, &purlins));
    assert_eq!(mended.code, 0, "{}", mended.stderr);
}

/// No clip reaches a hole that lies over the member its panel rests on, so none is told.
const LAPPED: [(&str, &str); 2] = [("frame.seating", "{kind: lapped}"), ("panel.mounting_holes", "~")];

/// Near the long edges of the panel, as most makers drill them.
const HOLES: &str = "{along_long_side: 1400 mm, across: 1090 mm, diameter: 9 mm}";

#[test]
fn more_clips_than_mounting_holes_are_refused_and_mended() {
    refused(POSTS, &[("panel.mounting_holes", HOLES), ("joints.clips_per_panel", "6")], "clips-and-holes");
}

#[test]
fn a_mounting_hole_that_no_clip_reaches_is_refused_and_mended() {
    let over_the_member = [
        ("frame.seating", "{kind: lapped, lap: 15 mm}"),
        ("frame.mullion_plies", "2"),
        ("panel.mounting_holes", HOLES),
    ];
    refused(POSTS, &over_the_member, "clip-out-of-reach");
    let far_inside = "{along_long_side: 1100 mm, across: 790 mm, diameter: 9 mm}";
    refused(POSTS, &[("panel.mounting_holes", far_inside)], "clip-out-of-reach");
}

#[test]
fn a_leg_too_small_for_its_bolt_is_refused_and_the_smallest_that_takes_it_is_named() {
    let small = [("support.stay.section", "L1-1/2x1-1/2x1/4"), ("support.stay.pin_behind", "~")];
    refused(POSTS, &small, "leg-too-small");
    let stderr = run(&with(POSTS, &small)).stderr;
    let (_, named) = stderr.split_once("toe takes ").and_then(|(_, rest)| rest.split_once(", and ")).expect("named");
    let name = named.split_once(" is the smallest").expect("named").0;
    assert!(offered(&stderr).iter().flatten().any(|(_, value)| value == name), "{name} is not offered\n{stderr}");
}

#[test]
fn screws_that_cannot_be_placed_are_refused_and_mended() {
    let corner = |screws| [("joints.corner", screws)];
    refused(POSTS, &corner("{screw: '#14', length: 100 mm, count: 8}"), "too-many-screws");
    refused(POSTS, &corner("{screw: '#14', length: 60 mm, count: 3}"), "screw-too-short");
    refused(POSTS, &corner("{screw: lag 1/2 in, length: 120 mm, count: 2}"), "lag-splits-end");
    refused(POSTS, &[("joints.brace", "{screw: '#12', length: 90 mm, count: 14}")], "too-many-screws");
}

#[test]
fn a_bolt_that_stands_in_another_piece_is_refused_and_mended() {
    refused(RUNNERS, &[("support.runners.hinge_from_low_edge", "49 mm")], "fastener-fouls");
}

/// What a hint offers first, as it is printed.
fn first_way_out(base: &str, changes: &[(&str, &str)]) -> String {
    let stderr = run(&with(base, changes)).stderr;
    let hint = stderr.lines().find_map(|line| line.split_once("= hint: ")).unwrap_or_else(|| panic!("{stderr}"));
    hint.1.to_string()
}

#[test]
fn tilts_that_catch_the_same_sun_are_not_moved_onto_one_another() {
    let near = [("tilts", "[37 deg, 37.4 deg]")];
    assert_eq!(first_way_out(BUILTIN_TEXT, &near), "this works: `tilts: [37 deg]`");
    refused(BUILTIN_TEXT, &near, "holes-too-close");
}

#[test]
fn every_tilt_out_of_reach_is_moved_by_itself_and_none_is_given_up() {
    let wide = [("tilts", "[0 deg, 45 deg, 90 deg]")];
    let offered = offered(&run(&with(BUILTIN_TEXT, &wide)).stderr);
    let tilts = &offered[0][0].1;
    assert!(tilts.starts_with("[3 deg, 45 deg, ") && tilts.matches("deg").count() == 3, "{tilts}");
    refused(BUILTIN_TEXT, &wide, "tilt-outside-swing");
}

#[test]
fn a_mullion_too_thin_is_mended_by_plies_and_not_by_fewer_tilts() {
    assert_eq!(first_way_out(BUILTIN_TEXT, &LAPPED), "this works: `frame.mullion_plies: 2`");
    for more in [("array.rows", "2"), ("array.gap", "120 mm"), ("array.columns", "7")] {
        let offered = offered(&run(&with(BUILTIN_TEXT, &[LAPPED[0], LAPPED[1], more])).stderr);
        let fields: Vec<&str> = offered.iter().flatten().map(|(field, _)| field.as_str()).collect();
        assert!(fields.contains(&"frame.mullion_plies") && !fields.contains(&"tilts"), "{more:?}: {offered:?}");
        refused(BUILTIN_TEXT, &[LAPPED[0], LAPPED[1], more], "mullion-too-thin");
    }
}

#[test]
fn a_frame_that_needs_only_a_higher_axle_is_offered_one() {
    let high = [LAPPED[0], LAPPED[1], ("frame.mullion_plies", "2"), ("array.rows", "2")];
    assert!(first_way_out(BUILTIN_TEXT, &high).starts_with("this works: `support.posts.axle_height: "));
    refused(BUILTIN_TEXT, &high, "low-edge-too-low");
}

/// A thin axle would find its length in stock, and bend under seven panels: no way out is a weaker frame.
#[test]
fn a_frame_of_seven_panels_is_never_offered_a_thin_axle() {
    let wide = [LAPPED[0], LAPPED[1], ("frame.mullion_plies", "2"), ("array.columns", "7")];
    let offered = offered(&run(&with(BUILTIN_TEXT, &wide)).stderr);
    assert!(offered.iter().flatten().all(|(field, _)| field != "support.bolt"), "{offered:?}");
    refused(BUILTIN_TEXT, &wide, "no-bolt-long-enough");
}

#[test]
fn the_same_trouble_at_several_tilts_is_told_once_with_all_of_them() {
    let stderr = run(&with(BUILTIN_TEXT, &[("support.posts.axle_height", "30 in")])).stderr;
    assert_eq!(stderr.matches("error[fouls]").count(), 1, "{stderr}");
    assert!(stderr.contains("also at 37.01° and at 11.93°"), "{stderr}");
}

/// Faults of every kind seeded into every ready design: whatever is offered works.
#[test]
fn whatever_is_said_to_work_works() {
    let seeds: &[&[(&str, &str)]] = &[
        &[("tilts", "[0 deg, 90 deg]")],
        &[("tilts", "[20 deg, 21 deg, 22 deg]")],
        &[("tilts", "[5 deg, 84 deg]")],
        &[("tilts", "[-3 deg, 40 deg, 40.3 deg]")],
        &[("array.columns", "6")],
        &[("array.rows", "3")],
        &[("support.posts.axle_height", "500 mm")],
        &[("support.posts.pin_below_axle", "150 mm")],
        &[("support.stay.pin_along", "150 mm")],
        &[("support.stay.pin_along", "2000 mm")],
        &[("support.stay.pin_behind", "60 mm")],
        &[("support.stay.length", "400 mm")],
        &[("support.bolt", "3/4 in")],
        &[("support.bolt", "M16"), ("support.pin", "M16")],
        &[("frame.stile", "2x4")],
        &[("frame.corner_brace.leg", "1500 mm")],
        &[("frame.outside_width", "900 mm")],
        &[("frame.seating", "{kind: lapped, lap: 40 mm}")],
        &[("support.low_edge_clearance", "1200 mm")],
        &[("support.runners.length", "700 mm")],
        &[("support.runners.hinge_above_holes", "30 mm")],
    ];
    let mut seen = 0;
    for (name, base) in READY {
        for seed in seeds {
            let text = with(base, seed);
            let run_ = run(&text);
            told_once(&run_.stderr);
            all_work(&text, &run_.stderr);
            seen += offered(&run_.stderr).len();
        }
        assert!(seen > 0, "{name}: nothing was offered");
    }
    assert!(seen > 100, "only {seen} ways out were offered");
}

/// A length of a sentence that stands before some words, as it is printed.
fn length_before(text: &str, after: &str, before: &str) -> String {
    let (_, rest) = text.split_once(after).unwrap_or_else(|| panic!("{after}: {text}"));
    rest.split_once(before).unwrap_or_else(|| panic!("{before}: {text}")).0.to_string()
}

#[test]
fn what_is_said_to_be_missing_under_the_low_edge_is_enough() {
    let free = with(POSTS, &[("support.stay", "{section: 45x95}"), ("support.posts.pin_below_axle", "~")]);
    for (heights, units) in [(["30 in", "33-1/2 in"], "us"), (["761 mm", "851 mm"], "metric")] {
        for height in heights {
            let text = with(&free, &[("units", units), ("support.posts.axle_height", height)]);
            let run = run(&text);
            let told = run.stderr.split("error[").find(|told| told.starts_with("low-edge-too-low"));
            let told = told.unwrap_or_else(|| panic!("{height}: {}", run.stderr));
            let more = length_before(told, " are wanted, ", " more");
            let mm = |text: &str| tiltwright::quantities::to_mm(tiltwright::quantities::read(text).expect("a length"));
            let raised = format!("{} mm", mm(height) + mm(&more));
            let again = self::run(&with(&text, &[("support.posts.axle_height", &raised)]));
            assert!(!again.stderr.contains("low-edge-too-low"), "{height} and {more} more: {}", again.stderr);
        }
    }
    let low = run(&with(&free, &[("support.posts.axle_height", "761 mm")]));
    assert!(low.stderr.contains(" under the ground; 150 mm are wanted, "), "{}", low.stderr);
}
