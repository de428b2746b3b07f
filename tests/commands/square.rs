//! `square` end to end.

use crate::common::tiltwright;
use serde_json::Value;

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
    assert_eq!(answer["ok"], true);
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
    assert_eq!(answer["push"]["corner"], "high right");
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
    let (_, wrong) = json(&[
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
}

#[test]
fn the_text_says_where_to_push_in_the_readers_units() {
    let run = tiltwright(&["square", "--width", "5ft", "--height", "4ft", "--diagonals", "6ft 6in,6ft 4in"]);
    assert_eq!(run.code, 1);
    assert!(run.stdout.contains("diagonals differ by 2 in"), "{}", run.stdout);
    assert!(run.stdout.contains("push the high right corner"), "{}", run.stdout);
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
        &["--width", "5ft", "--height", "4ft", "--diagonals", "60ft,1in"],
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
