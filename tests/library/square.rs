//! Thirty frames on the bench, true, racked, cut wrong and misread, stored in `data/square.json`.
//!
//! They were adjusted in another program along the gradient of the Cayley–Menger determinant of the four corners (zero
//! when the six distances lie in a plane), where this one fits coordinates. Verdicts follow from the stored limits.

use serde_json::Value;
use tiltwright::frame::{Finding, Limits, Measured, Squareness, judge};

/// Lengths and angles are stored with four decimals.
const STORED: f64 = 0.5e-4 + 1e-9;
/// Six lengths that are stored with four decimals each move the misfit and what follows from it by as much as this.
const FROM_STORED_MM: f64 = 3e-4;

struct Case {
    stored: Value,
    limits: Limits,
    judged: Squareness,
}

fn numbers<const N: usize>(value: &Value) -> [f64; N] {
    let numbers: Option<Vec<f64>> = value.as_array().map(|list| list.iter().filter_map(Value::as_f64).collect());
    numbers.and_then(|list| list.try_into().ok()).unwrap_or_else(|| panic!("{value} is no list of {N} numbers"))
}

fn cases() -> Vec<Case> {
    let data: Value = serde_json::from_str(include_str!("data/square.json")).expect("JSON");
    let case = |stored: &Value| {
        let nominal_mm = numbers(&stored["nominal"]);
        let sides_mm = stored["sides_given"].as_bool().expect("a flag").then(|| numbers(&stored["sides"]));
        let limits = Limits::of(nominal_mm, stored["play"].as_f64().expect("a play"));
        let judged = judge(&Measured { nominal_mm, sides_mm, diagonals_mm: numbers(&stored["diagonals"]) }, &limits);
        Case { stored: stored.clone(), limits, judged }
    };
    data["cases"].as_array().expect("cases").iter().map(case).collect()
}

fn close(found: f64, stored: &Value, tolerance: f64) -> bool {
    stored.as_f64().is_some_and(|stored| (found - stored).abs() <= tolerance)
}

/// The stored word for a finding.
fn stored_word(finding: Finding) -> &'static str {
    match finding {
        Finding::MeasureAgain => "measure_again",
        Finding::NotARectangle => "not_a_rectangle",
        Finding::WrongSize => "wrong_size",
        Finding::Push => "racked",
        Finding::Square => "square",
    }
}

#[test]
fn all_thirty_verdicts_and_findings_agree() {
    let cases = cases();
    assert_eq!(cases.len(), 30);
    for Case { stored, judged, .. } in cases {
        let words: Vec<&str> = judged.findings.iter().map(|finding| stored_word(*finding)).collect();
        assert_eq!(stored_word(judged.verdict()), stored["verdict"], "{}", stored["name"]);
        // A misfit ends the judging: nothing further is stored for it.
        let findings = stored["findings"].as_array().cloned().unwrap_or_else(|| vec!["measure_again".into()]);
        assert_eq!(words, findings, "{}", stored["name"]);
    }
}

#[test]
fn misfit_rack_and_the_fitted_figure_agree() {
    for Case { stored, judged, .. } in cases() {
        let name = &stored["name"];
        let Some(misfit) = judged.misfit_mm else {
            assert!(stored["misclosure"].is_null(), "{name}");
            continue;
        };
        assert!(close(misfit, &stored["misclosure"], FROM_STORED_MM), "{name}: {misfit}");
        let figure = judged.figure.expect("a figure for lengths that close");
        assert!(close(figure.rack_mm, &stored["rack"], FROM_STORED_MM), "{name}: {figure:?}");
        assert!(close(figure.correction_mm, &stored["largest_correction"], FROM_STORED_MM), "{name}: {figure:?}");
        for (found, stored) in figure.corner_angles_deg.iter().zip(stored["corner_angles"].as_array().expect("four")) {
            assert!(close(*found, stored, STORED), "{name}: {figure:?}");
        }
        let [width, height] = numbers::<2>(&stored["nominal"]);
        match (judged.off_flat_mm, stored["implied_corner_lift"].as_f64()) {
            // The misfit is z²/2D, so it is z² that the stored lengths move.
            (Some(off), Some(lift)) => {
                let moved = 2.0 * width.hypot(height) * FROM_STORED_MM;
                assert!((off * off - lift * lift).abs() < moved, "{name}: {off}");
            }
            (off, lift) => assert!(off.is_none() && lift.is_none(), "{name}: {off:?} {lift:?}"),
        }
        if let Some(push) = stored.get("push") {
            assert_eq!(figure.push().map(|corner| corner.words()), push["corner"].as_str(), "{name}");
            assert!(close(judged.difference_mm.abs() / 2.0, &push["shorten_long_diagonal_by"], STORED), "{name}");
        }
    }
}

#[test]
fn each_length_that_alone_would_be_wrong_agrees() {
    let mut seen = 0;
    for Case { stored, judged, .. } in cases() {
        let Some(lengths) = stored.get("each_length_if_it_alone_is_wrong") else { continue };
        let agree = numbers::<6>(lengths)
            .iter()
            .zip(judged.alone_mm)
            .all(|(stored, found)| found.is_some_and(|found| (found - stored).abs() <= STORED));
        assert!(agree, "{}: {:?}", stored["name"], judged.alone_mm);
        seen += 1;
    }
    assert_eq!(seen, 7);
}

#[test]
fn odd_parts_and_size_errors_agree() {
    for Case { stored, judged, .. } in cases() {
        let name = &stored["name"];
        let odd: Vec<Value> = judged
            .odd_parts
            .iter()
            .map(|odd| {
                let word = if odd.longer_mm > 0.0 { "long" } else { "short" };
                let by = (odd.longer_mm.abs() * 1e4).round() / 1e4;
                Value::from(vec![Value::from(odd.part.words()), Value::from(word), Value::from(by)])
            })
            .collect();
        assert_eq!(odd.first(), stored.get("odd_part"), "{name}");
        assert!(odd.len() <= 1, "{name}");
        if let Some(size) = stored.get("size_error") {
            let errors = numbers::<2>(size);
            assert!(errors.iter().zip(judged.size_error_mm).all(|(s, f)| (s - f).abs() <= STORED), "{name}");
        }
    }
}

#[test]
fn limits_agree_and_say_where_a_tape_cannot_prove() {
    for Case { stored, limits, .. } in cases() {
        let (name, stored_limits) = (&stored["name"], &stored["limits"]);
        for (field, found) in [
            ("misclosure", limits.misfit_mm),
            ("pair", limits.pair_mm),
            ("size", limits.size_mm),
            ("rack", limits.rack_mm),
            ("diagonal_difference", limits.difference_mm),
        ] {
            assert!(close(found, &stored_limits[field], STORED), "{name}, {field}: {found}");
        }
        assert_eq!(!limits.tape_can_prove(), stored["limit_below_tape"], "{name}");
    }
}
