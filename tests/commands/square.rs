//! `square` end to end.

use crate::common::{project, tiltwright};
use serde_json::Value;
use tiltwright::{
    design::{self, Tilts},
    frame::lay_out,
    quantities::{Tape, Units, deg},
    shop::BenchCheck,
};

fn json(arguments: &[&str]) -> (i32, Value) {
    let run = tiltwright(&[&["square", "--format", "json"], arguments].concat());
    assert_eq!(run.stderr, "", "{arguments:?}");
    (run.code, serde_json::from_str(&run.stdout).expect("JSON"))
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn three_four_five_is_true() {
    let (code, answer) = json(&["--width", "4 m", "--height", "3 m", "--diagonals", "5 m,5 m"]);
    assert_eq!(code, 0);
    assert_eq!((&answer["ok"], &answer["verdict"]), (&true.into(), &"square".into()));
    assert_eq!((&answer["findings"], &answer["off_flat_mm"]), (&serde_json::json!(["square"]), &Value::Null));
    assert!(number(&answer["difference_mm"]) < 1e-6 && number(&answer["rack_mm"]).abs() < 1e-6);
    assert!(answer["push"]["corner"].is_null() && number(&answer["push"]["distance_mm"]) == 0.0);
    let angles = answer["corner_angles_deg"].as_array().expect("four angles");
    assert_eq!(angles.len(), 4);
    assert!(angles.iter().all(|a| (number(a) - 90.0).abs() < 1e-6));
    assert!((number(&answer["true_diagonal_mm"]) - 5000.0).abs() < 1e-9);
}

/// A parallelogram leaning by s: diagonals √((w ± s)² + h²) where the sides keep their lengths.
#[test]
fn the_longer_diagonal_names_the_corner_and_the_push() {
    let (w, h, s) = (1800.0f64, 1700.0f64, 15.0f64);
    let rise = (h * h - s * s).sqrt();
    let long = format!("{} mm", (w + s).hypot(rise));
    let short = format!("{} mm", (w - s).hypot(rise));
    let base = ["--width", "1800 mm", "--height", "1700 mm", "--diagonals"];
    let (code, answer) = json(&[&base[..], &[&format!("{long},{short}")]].concat());
    assert_eq!((code, &answer["ok"]), (1, &Value::from(false)), "15 mm of rack is more than bolt holes take up");
    assert_eq!((&answer["verdict"], &answer["push"]["corner"]), (&"push".into(), &"high right".into()));
    assert!((number(&answer["push"]["distance_mm"]) - s).abs() < 1e-3, "{answer}");
    assert!(number(&answer["tape_error_mm"]) < 1e-3);
    let (_, other) = json(&[&base[..], &[&format!("{short},{long}")]].concat());
    assert_eq!(other["push"]["corner"], "high left");
    assert!((number(&other["rack_mm"]) + s).abs() < 1e-3);
}

#[test]
fn the_allowed_difference_grows_with_the_play_of_the_holes() {
    let with_play = |play: &str| {
        let (_, answer) =
            json(&["--width", "2 m", "--height", "2 m", "--diagonals", "2828 mm,2829 mm", "--play", play]);
        number(&answer["allowed_mm"])
    };
    // 4 · play · length / diagonal, and the diagonal of a square is √2 of its side.
    assert!((with_play("1 mm") - 4.0 / 2f64.sqrt()).abs() < 1e-9);
    assert!((with_play("2 mm") - 8.0 / 2f64.sqrt()).abs() < 1e-9);
}

#[test]
fn measured_sides_are_taken_and_the_tape_is_judged() {
    let (_, answer) = json(&[
        "--width",
        "5ft",
        "--height",
        "4ft",
        "--diagonals",
        "6 ft 4-7/8 in,6 ft 4-7/8 in",
        "--sides",
        "5ft,4ft,5ft,4ft",
    ]);
    // √(60² + 48²) = 76.837 in: the tape's sixteenth is out by 0.038 in at the most.
    assert!(number(&answer["tape_error_mm"]) < 0.038 * 25.4, "{answer}");
    assert_eq!((&answer["verdict"], &answer["sides_measured"]), (&"square".into(), &true.into()));
    let (code, wrong) = json(&[
        "--width",
        "5ft",
        "--height",
        "4ft",
        "--diagonals",
        "6 ft 4-7/8 in,6 ft 4-7/8 in",
        "--sides",
        "5ft,4ft,5ft 2in,4ft",
    ]);
    assert!(number(&wrong["tape_error_mm"]) > 5.0, "two inches too much cannot close: {wrong}");
    assert_eq!((code, &wrong["verdict"], &wrong["push"]["corner"]), (1, &"measure-again".into(), &Value::Null));
}

#[test]
fn the_text_says_where_to_push_in_the_readers_units() {
    let run = tiltwright(&["square", "--width", "5ft", "--height", "4ft", "--diagonals", "6ft 5-7/8in,6ft 3-7/8in"]);
    assert_eq!(run.code, 1);
    assert!(run.stdout.contains("diagonals differ by 2 in"), "{}", run.stdout);
    let push = "push: clamp the low rail to the bench and push the high right corner 1-1/4 in to the left, along the high rail, \
                or squeeze that diagonal, low left to high right, by 1 in;";
    assert!(run.stdout.starts_with(push), "{}", run.stdout);
}

/// A frame 108 in by 72 in or another, its sides and diagonals, and how the answer begins.
type Frame = ([&'static str; 2], Option<&'static str>, &'static str, i32, &'static [&'static str]);

/// Each was called fine, or was told to push, while the diagonals alone decided.
const JUDGED: &[Frame] = &[
    (
        ["108in", "72in"],
        Some("108in,72in,106in,72in"),
        "128-15/16in,128-15/16in",
        1,
        &[
            "not a rectangle: the high rail is 2 in shorter than the low rail; pushing does not mend it, cut a new high rail\n",
        ],
    ),
    (
        ["108in", "72in"],
        Some("107in,71in,107in,71in"),
        "128-7/16in,128-7/16in",
        1,
        &[
            "wrong size: both rails are 1 in shorter than 9 ft; check the panels' room",
            "wrong size: both stiles are 1 in shorter than 6 ft; check the panels' room",
        ],
    ),
    (
        ["108in", "72in"],
        Some("108in,72in,108in,72in"),
        "131-1/4in,125-1/4in",
        1,
        &["measure again: these lengths fit no flat frame, they miss one by", "  low rail: read 9 ft, it would be "],
    ),
    (
        ["4ft", "6ft"],
        None,
        "2163 mm,2160 mm",
        1,
        &[
            "measure again: these lengths fit no flat frame, they miss one by 2.848 in, and 1/8 in is the most a tape explains\n",
            "  low rail: taken as 4 ft, it would be 3 ft 6-7/8 in",
            "the sides were not measured: the frame may as well be of another size; measure all four\n",
        ],
    ),
    (
        ["108in", "72in"],
        Some("108in,72in,107in,72in"),
        "130-1/16in,128-3/4in",
        1,
        &["not a rectangle: the high rail is 1 in shorter", "also push: clamp the low rail"],
    ),
    (
        ["2400mm", "1500mm"],
        Some("2400mm,1500mm,2400mm,1506mm"),
        "2830mm,2833mm",
        1,
        &[
            "not a rectangle: the left stile is 6 mm longer than the right stile; pushing does not mend it, cut the left stile back",
        ],
    ),
    (["4ft", "6ft"], None, "86-1/2in,86-1/2in", 0, &["square, if the sides are true: ", "give --sides\n"]),
    (["4ft", "6ft"], Some("4ft,6ft,4ft,6ft"), "86-1/2in,86-1/2in", 0, &["square: the high edge has slid 0.000 in"]),
    (
        ["4800mm", "1000mm"],
        Some("4800mm,1000mm,4800mm,1000mm"),
        "4903mm,4903mm",
        0,
        &[
            "a tape cannot prove this frame square: the bolt holes take up 1 mm (1.29 mm) between the diagonals, and two readings tell no less than 2.25 mm apart",
        ],
    ),
    // A corner off the plane of the others shortens a diagonal and no side: z² = 2 · 129.8 · 0.225 in².
    (
        ["108in", "72in"],
        Some("108in,72in,108in,72in"),
        "129-13/16in,129-9/16in",
        1,
        &["measure again: ", "or no reading is wrong and one corner stands 7-5/8 in off the plane of the others"],
    ),
];

#[test]
fn lengths_are_judged_before_anything_is_read_from_them() {
    for ([width, height], sides, diagonals, code, said) in JUDGED {
        let mut arguments = vec!["square", "--width", width, "--height", height, "--diagonals", diagonals];
        arguments.extend(sides.iter().flat_map(|sides| ["--sides", sides]));
        let run = tiltwright(&arguments);
        assert_eq!((run.code, run.stderr.as_str()), (*code, ""), "{arguments:?}");
        assert!(run.stdout.starts_with(said[0]) || said[0].starts_with("a tape"), "{arguments:?}: {}", run.stdout);
        for words in *said {
            assert!(run.stdout.contains(words), "{words}:\n{}", run.stdout);
        }
        assert!(run.stdout.contains("a tape does not show wind: stretch strings"), "{}", run.stdout);
    }
}

#[test]
fn the_room_of_inset_panels_may_be_less_than_the_holes_take_up() {
    // A tall frame leans 8.6 mm before its bolts object.
    let tall = ["--width", "1000mm", "--height", "3300mm", "--sides", "1000mm,3300mm,1000mm,3300mm"];
    let diagonals = ["--diagonals", "3451mm,3446mm"];
    let (code, by_bolts) = json(&[&tall[..], &diagonals[..]].concat());
    assert_eq!((code, &by_bolts["verdict"]), (0, &"square".into()));
    let (code, by_panels) = json(&[&tall[..], &diagonals[..], &["--most-rack", "6mm"]].concat());
    assert_eq!((code, &by_panels["verdict"]), (1, &"push".into()));
    assert!((number(&by_panels["rack_allowed_mm"]) - 6.0).abs() < 1e-9);
    // 2 · width · rack / diagonal.
    assert!((number(&by_panels["allowed_mm"]) - 12_000.0 / 1000f64.hypot(3300.0)).abs() < 1e-5);
}

#[test]
fn lengths_that_close_no_triangle_are_measured_again() {
    let (code, answer) = json(&["--width", "5ft", "--height", "4ft", "--diagonals", "60ft,1in"]);
    assert_eq!((code, &answer["verdict"]), (1, &"measure-again".into()));
    for field in ["misfit_mm", "off_flat_mm", "rack_mm", "corner_angles_deg"] {
        assert!(answer[field].is_null(), "{field}: {answer}");
    }
}

#[test]
fn measures_that_are_none_are_refused() {
    for arguments in [
        &["--width", "5", "--height", "4ft", "--diagonals", "6ft,6ft"][..],
        &["--width", "0 mm", "--height", "4ft", "--diagonals", "6ft,6ft"],
        &["--width=-5ft", "--height", "4ft", "--diagonals", "6ft,6ft"],
        &["--width", "5ft", "--height", "4ft", "--diagonals", "6ft"],
        &["--width", "5ft", "--height", "4ft", "--diagonals", "6ft,6ft,6ft"],
        &["--width", "5ft", "--height", "4ft", "--diagonals", "6 kg,6ft"],
        &["--width", "5ft", "--height", "4ft", "--diagonals", "6ft,6ft", "--most-rack=-1mm"],
        &["--width", "5ft", "--height", "4ft", "--diagonals", "6ft,6ft", "--sides", "5ft,4ft"],
        &["--width", "NaN mm", "--height", "4ft", "--diagonals", "6ft,6ft"],
        &["--width", "5e9 m", "--height", "4ft", "--diagonals", "6ft,6ft"],
        &["--height", "4ft", "--diagonals", "6ft,6ft"],
    ] {
        let run = tiltwright(&[&["square"], arguments].concat());
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(run.stderr.starts_with("error"), "{arguments:?}: {}", run.stderr);
    }
}

/// What the pasted command finds in four sides and two diagonals (mm).
fn pasted(command: &str, sides_mm: [f64; 4], diagonals_mm: [f64; 2]) -> Vec<String> {
    let list = |lengths: &[f64]| lengths.iter().map(|l| format!("{l} mm")).collect::<Vec<_>>().join(",");
    let words = command.split(' ').skip(2).map(|word| match word {
        "LOW,RIGHT,HIGH,LEFT" => list(&sides_mm),
        "A–C,B–D" => list(&diagonals_mm),
        word => word.to_string(),
    });
    let words: Vec<String> = words.collect();
    let (_, answer) = json(&words.iter().map(String::as_str).collect::<Vec<_>>());
    answer["findings"].as_array().expect("findings").iter().map(|f| f.as_str().expect("a word").to_string()).collect()
}

/// Readings on the marks of a tape that are as far apart as the card allows pass the command that the card prints; a mark
/// further apart they fail it.
#[test]
fn what_the_bench_card_allows_is_what_its_command_allows() {
    let designs = std::fs::read_dir(project().join("designs")).expect("the ready designs");
    for (file, units) in designs.flat_map(|file| {
        let file = file.expect("a file").path();
        [Units::Us, Units::Metric].map(|units| (file.clone(), units))
    }) {
        let read = design::read(Some(&file)).unwrap_or_else(|faults| panic!("{faults:?}"));
        let tilts = match &read.design.tilts {
            Tilts::Given(tilts) => tilts.clone(),
            Tilts::Seasons(_) => [15.0, 35.0, 58.0].map(deg).to_vec(),
        };
        let frame = lay_out(&read.design, &tilts, Tape::of(read.design.units)).unwrap_or_else(|r| panic!("{r:?}"));
        let check = BenchCheck::of(&read.design, &frame, units);
        let (tape, said) = (Tape::of(units), format!("{} {units:?}: {}", file.display(), check.command));
        let mark_mm = tape.mark_mm();
        let [width, height] = [frame.width_mm, frame.length_mm].map(|nominal| tape.nearest_mm(nominal));
        let [rails, _, diagonals] = [0, 1, 2].map(|row| check.tapings[row].may_differ_mm);
        for over in [0.0, 1.0] {
            let apart = tape.at_most_mm(rails) + over * mark_mm;
            let across = tape.nearest_mm((width + apart / 2.0).hypot(height));
            let found = pasted(&check.command, [width, height, width + apart, height], [across; 2]);
            assert_eq!(found.contains(&"not-a-rectangle".to_string()), over > 0.0, "{found:?} {apart} {said}");
            let apart = tape.at_most_mm(diagonals) + over * mark_mm;
            let short = tape.nearest_mm(width.hypot(height) - apart / 2.0);
            let found = pasted(&check.command, [width, height, width, height], [short + apart, short]);
            assert_eq!(found, [if over > 0.0 { "push" } else { "square" }], "{apart} {said}");
        }
    }
}

/// The limit is named as its mark, never as the next one, and the play keeps its own unit.
#[test]
fn limits_are_rounded_down_and_the_play_is_the_same_on_every_tape() {
    let file = project().join("designs/sample.yaml");
    let read = design::read(Some(&file)).unwrap_or_else(|faults| panic!("{faults:?}"));
    let Tilts::Given(tilts) = &read.design.tilts else { panic!("the sample gives its tilts") };
    let frame = lay_out(&read.design, tilts, Tape::of(read.design.units)).unwrap_or_else(|r| panic!("{r:?}"));
    for (units, command, pair) in [
        (Units::Us, "--width 9ft7/16in --height 6ft5/16in", "They may differ by 1/8 in (0.150 in)."),
        (Units::Metric, "--width 2754mm --height 1837mm", "They may differ by 3 mm (3.83 mm)."),
    ] {
        let check = BenchCheck::of(&read.design, &frame, units);
        assert!(check.command.contains(command) && check.command.contains(" --play 1/16in"), "{}", check.command);
        assert!(check.steps.iter().any(|step| step.contains(pair)), "{:?}", check.steps);
    }
}
