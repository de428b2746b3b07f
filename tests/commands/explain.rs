//! `explain` end to end.

use crate::common::{tiltwright, tiltwright_in, with};
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

/// Number that a load's step of this symbol prints, at the first tilt.
fn printed(load: &str, symbol: &str) -> f64 {
    let run = tiltwright(&["explain", load, "--format", "json"]);
    let sheet: Value = serde_json::from_str(&run.stdout).unwrap_or_else(|error| panic!("{error}: {run:?}"));
    let entry = sheet["entries"].as_array().expect("entries").iter().find(|e| e["part"] == load).expect("the load");
    let lines = entry["lines"].as_array().expect("lines");
    let line = lines.iter().find(|l| l["step"]["symbol"] == symbol).unwrap_or_else(|| panic!("{symbol} in {lines:?}"));
    line["step"]["value"].as_f64().expect("a number")
}

/// ASCE 7-16 Eq. 26.10-1 by hand for the built-in design: 100 mph, exposure B below 15 ft, 5200 ft above the sea.
#[test]
fn the_velocity_pressure_is_that_of_the_code_by_hand() {
    let k_z = 2.01 * (15.0f64 / 1200.0).powf(2.0 / 7.0);
    let k_e = (-0.000_036_2f64 * 5200.0).exp();
    let q = 0.002_56 * k_z * 1.0 * 0.85 * k_e * 100.0 * 100.0;
    for (symbol, expected) in [("K_z", k_z), ("K_d", 0.85), ("K_e", k_e), ("q", q), ("G", 0.85)] {
        let found = printed("wind", symbol);
        assert!((found / expected - 1.0).abs() < 1e-9, "{symbol} {found} {expected}");
    }
}

/// ASCE 7-16 Eq. 7.3-1 by hand for the same: 20 psf on the ground, exposure B partially exposed, risk category I.
#[test]
fn the_snow_on_the_panels_is_that_of_the_code_by_hand() {
    let p_f = 0.7 * 1.0 * 1.2 * 0.8 * 20.0;
    for (symbol, expected) in [("C_e", 1.0), ("C_t", 1.2), ("I_s", 0.8), ("p_f", p_f), ("C_s", 1.0), ("p_s", p_f)] {
        let found = printed("snow", symbol);
        assert!((found - expected).abs() < 1e-9, "{symbol} {found} {expected}");
    }
}

#[test]
fn a_load_names_its_figure_its_halves_and_its_equation() {
    let run = tiltwright(&["explain", "wind-face-clear-a-left"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    for needed in ["Fig. 27.3-4", "windward half", "leeward half", "p = q_h*G*CN", "Eq. 27.3-2", "moved to one end"] {
        assert!(run.stdout.contains(needed), "{needed}\n{}", run.stdout);
    }
    assert!(
        !run.stdout.contains("\n  utilisation") && !run.stdout.contains("\n  no utilisation"),
        "a load has none\n{}",
        run.stdout
    );
    let run = tiltwright(&["explain", "combinations"]);
    for needed in ["0.6 D + 0.6 W", "f_D*D + f_W*W", "§2.4.1", "[lbf]"] {
        assert!(run.stdout.contains(needed), "{needed}\n{}", run.stdout);
    }
    // No EN resistance is encoded, so no check governs: what presses and lifts most is shown.
    let run = tiltwright(&["explain", "combinations", "designs/posts-outside.yaml"]);
    assert!(run.code == 0 && run.stdout.contains("6.10-EQU wind-back"), "{run:?}");
    let run = tiltwright(&["explain", "wind-nowhere"]);
    assert_eq!(run.code, 2);
    assert!(run.stderr.contains("loads: wind, snow, people, combinations"), "{}", run.stderr);
}

#[test]
fn what_is_neither_part_nor_check_gets_the_nearest_names() {
    let run = tiltwright(&["explain", "embedmnt"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("did you mean `embedment`?") && run.stderr.contains("parts: "), "{}", run.stderr);
}

/// Names of the load cases in a combination as `strength` prints it: `2.4.1-7 dead + wind-a (panels-off)`.
fn cases_in(printed: &str) -> Vec<String> {
    let of_rule = printed.split_once(" (").map_or(printed, |(cases, _)| cases);
    let Some((_, cases)) = of_rule.split_once(' ').filter(|(rule, _)| rule.starts_with("2.4.1")) else { return vec![] };
    cases.split(" + ").map(str::to_string).collect()
}

#[test]
fn every_case_that_strength_prints_is_explained() {
    let report: Value = serde_json::from_str(&tiltwright(&["strength", "--format", "json"]).stdout).expect("JSON");
    let rows = report["rows"].as_array().expect("rows");
    let cases: std::collections::BTreeSet<String> =
        rows.iter().flat_map(|row| cases_in(row["case"].as_str().expect("a case"))).collect();
    assert!(cases.iter().any(|case| case.starts_with("lean-")) && cases.len() > 5, "{cases:?}");
    for case in cases.iter().map(String::as_str).chain(["lean-high-right", "people"]) {
        let run = tiltwright(&["explain", case]);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{case}");
    }
    // The guard-rail load of a person, pushed onto the face or sideways, pulled off it.
    for (case, symbol, lbf) in
        [("lean-high-right", "N", 200.0), ("pull-high-middle", "N", -200.0), ("push-right", "A", -200.0)]
    {
        assert!((printed(case, symbol) - lbf).abs() < 1e-9, "{case}");
    }
}

#[test]
fn a_check_without_a_value_says_why_and_is_not_offered() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = with(tiltwright::design::BUILTIN_TEXT, &[("joints.clip", "~"), ("joints.clips_per_panel", "~")]);
    std::fs::write(folder.path().join("bare.yaml"), text).expect("written");
    let run = tiltwright_in(folder.path(), &["explain", "clips", "bare.yaml"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    let why = "error[nothing-to-explain]: `clips` has no value in this design: not checked (the design names no clips: \
               `joints.clip` and `joints.clips_per_panel`)";
    assert!(run.stderr.starts_with(why), "{}", run.stderr);
    let offered = run.stderr.lines().find(|line| line.contains("checks with a value here: ")).expect("the checks");
    assert!(offered.contains("embedment") && !offered.contains("clips"), "{offered}");
}
