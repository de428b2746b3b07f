//! `explain` end to end.

use crate::common::tiltwright;
use serde_json::Value;

#[test]
fn embedment_is_written_out_with_numbers_units_and_clause() {
    let run = tiltwright(&["explain", "embedment"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    for needed in ["P1 — posts: embedment", "d = a/2 + sqrt(a^2/4 + g)", "IBC 2018 Eq. 18-1", "[psf]", "utilisation "]
    {
        assert!(run.stdout.contains(needed), "{needed}\n{}", run.stdout);
    }
}

/// IBC 2018 Eq. 18-1 by hand from the printed terms: A = 2.34 P/(S1 b), d = A/2 (1 + √(1 + 4.36 h/A)).
#[test]
fn the_printed_embedment_is_that_of_the_code_by_hand() {
    let run = tiltwright(&["explain", "embedment", "--format", "json"]);
    let sheet: Value = serde_json::from_str(&run.stdout).expect("JSON");
    let lines = sheet["entries"][0]["lines"].as_array().expect("lines");
    let term = |symbol: &str| {
        let terms = lines.iter().flat_map(|l| l["step"]["terms"].as_array().expect("terms"));
        let found = terms.into_iter().find(|t| t["symbol"] == symbol).unwrap_or_else(|| panic!("{symbol}"));
        found["value"].as_f64().expect("a number")
    };
    let (p, m, s1, b) = (term("p"), term("m"), term("s1"), term("b"));
    let (a, h) = (2.34 * p / (s1 * b), m / p);
    let d = a / 2.0 * (1.0 + (1.0 + 4.36 * h / a).sqrt());
    // 5.5 ft are given.
    let expected = d / 5.5;
    let found = sheet["entries"][0]["utilisation"].as_f64().expect("a number");
    assert!((found / expected - 1.0).abs() < 1e-6, "{found} {expected}");
    // S1 is taken at a third of that very depth.
    assert!((s1 / (150.0 * d / 3.0) - 1.0).abs() < 1e-3, "{s1} {d}");
}

#[test]
fn a_part_shows_every_check_it_governs() {
    let run = tiltwright(&["explain", "P1", "--format", "json"]);
    let sheet: Value = serde_json::from_str(&run.stdout).expect("JSON");
    let checks: Vec<&str> =
        sheet["entries"].as_array().expect("entries").iter().map(|e| e["check"].as_str().expect("a name")).collect();
    for needed in ["post-below-grade", "embedment", "uplift", "axle", "fixed-pin"] {
        assert!(checks.contains(&needed), "{needed} in {checks:?}");
    }
}

#[test]
fn what_is_neither_part_nor_check_gets_the_nearest_names() {
    let run = tiltwright(&["explain", "embedmnt"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("did you mean `embedment`?") && run.stderr.contains("parts: "), "{}", run.stderr);
}
