//! What holds runners: every field refused when it is wrong, and rows for ballast, stakes and brackets.

use crate::common::{Run, project, tiltwright_in};
use serde_json::Value;
use std::fs;

fn ground() -> String {
    let text = fs::read_to_string(project().join("designs/runners-ground.yaml")).expect("a ready design");
    let lines = text.lines().filter(|l| !["ballast:", "stakes:", "soil:"].iter().any(|k| l.starts_with(k)));
    let text: String = lines.map(|l| format!("{l}\n")).collect();
    // One tilt is enough, and quicker.
    let at = text.find("tilts:").expect("tilts");
    let end = at + text[at..].find('\n').expect("a line");
    format!("{}tilts: [35 deg]{}", &text[..at], &text[end..])
}

fn on(what: &str, more: &str) -> String {
    ground().replace("    on: ground\n", &format!("    on: {what}\n{more}"))
}

const BALLAST: &str = "ballast: {per_runner: 400 lb, contact: timber on concrete, block: 34 lb, placed: ends}\n";
const STAKES: &str = "soil: {class: 4}\nstakes: {per_runner: 3, width: 1-1/2 in, depth: 30 in, pull_test: 500 lb}\n";
const TIES: &str = "    tie_downs:\n      per_runner: 4\n      bracket: {uplift: 600 lb, lateral: 400 lb}\n      \
                    lag: {screw: lag 3/8 in, length: 4 in, count: 2, plate: 3/16 in, species: douglas-fir-larch}\n";
const BUILDING: &str =
    "    building: {height: 12 ft, longer_side: 60 ft, shorter_side: 30 ft, parapet: 0 ft, zone: corner}\n";

fn run(text: &str, arguments: &[&str]) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
    tiltwright_in(folder.path(), arguments)
}

fn strength(text: &str) -> Value {
    let run = run(text, &["strength", "design.yaml", "--format", "json"]);
    assert_eq!(run.stderr, "");
    serde_json::from_str(&run.stdout).expect("JSON")
}

fn check<'a>(answer: &'a Value, name: &str) -> &'a Value {
    let checks = answer["checks"].as_array().expect("checks");
    checks.iter().find(|c| c["check"] == name).unwrap_or_else(|| panic!("{name} is listed"))
}

fn row<'a>(answer: &'a Value, part: &str) -> &'a Value {
    let rows = answer["rows"].as_array().expect("rows");
    rows.iter().find(|r| r["part"] == part).unwrap_or_else(|| panic!("a row for {part}"))
}

/// A change of a good design is refused with this code, field and words.
fn refused(good: &str, from: &str, to: &str, code: &str, words: &[&str]) {
    assert!(good.contains(from), "`{from}` stands in the design");
    let run = run(&good.replacen(from, to, 1), &["drill", "design.yaml"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{to}: {}", run.stderr);
    assert!(run.stderr.contains(&format!("error[{code}]: ")), "{code} is not in:\n{}", run.stderr);
    for word in words {
        assert!(run.stderr.contains(word), "`{word}` is not in:\n{}", run.stderr);
    }
}

#[test]
fn wrong_ballast_is_refused_by_its_field() {
    let good = format!("{}{BALLAST}", ground());
    refused(&good, "per_runner: 400 lb", "per_runner: 9000 kg", "out-of-range", &["ballast.per_runner", "11023.1 lb"]);
    refused(&good, "per_runner: 400 lb", "per_runner: 400 in", "bad-value", &["no unit of mass"]);
    refused(&good, "block: 34 lb", "block: 0 lb", "out-of-range", &["ballast.block", "1102.3 lb"]);
    refused(&good, "placed: ends", "placed: end", "unknown-value", &["did you mean `ends`?"]);
    refused(&good, "timber on concrete", "timber on ice", "unknown-contact", &["timber on concrete"]);
}

#[test]
fn wrong_stakes_are_refused_by_their_field() {
    let good = format!("{}{STAKES}", ground());
    refused(&good, "per_runner: 3", "per_runner: 0", "out-of-range", &["stakes.per_runner", "1 and 20"]);
    refused(&good, "width: 1-1/2 in", "width: 1 mm", "out-of-range", &["stakes.width"]);
    refused(&good, "depth: 30 in", "depth: 12 ft", "out-of-range", &["stakes.depth"]);
    refused(&good, "depth: 30 in", "depth: 8 in", "stake-too-short", &["stakes.loose_soil"]);
    refused(&good, "pull_test: 500 lb", "loose_soil: 3 ft", "out-of-range", &["stakes.loose_soil"]);
    refused(&good, "pull_test: 500 lb", "pull_test: 1 lb", "out-of-range", &["stakes.pull_test", "1000 kN"]);
    refused(&good, "pull_test: 500 lb", "pull_tets: 500 lb", "unknown-field", &["did you mean `pull_test`?"]);
    refused(&good, "    on: ground\n", "    on: deck\n", "field-without-meaning", &["lie on the ground"]);
    let no_soil = good.replace("soil: {class: 4}\n", "");
    let run = run(&no_soil, &["strength", "design.yaml"]);
    assert_eq!(run.code, 2);
    assert!(run.stderr.contains("error[strength-basis-missing]: strength needs `soil`"), "{}", run.stderr);
}

#[test]
fn wrong_ties_and_slopes_are_refused_by_their_field() {
    let good = on("deck", TIES);
    refused(&good, "per_runner: 4", "per_runner: 1", "out-of-range", &["tie_downs.per_runner", "2 and 40"]);
    refused(&good, "uplift: 600 lb, ", "", "missing-field", &["uplift"]);
    refused(&good, ", lateral: 400 lb", "", "missing-field", &["lateral"]);
    refused(&good, "uplift: 600 lb", "uplift: 0 lb", "out-of-range", &["tie_downs.bracket.uplift"]);
    refused(&good, "lag 3/8 in", "\"#10\"", "unknown-screw", &["#10 is no lag screw", "lag 3/8 in"]);
    refused(&good, "length: 4 in", "length: 4 ft", "out-of-range", &["tie_downs.lag.length"]);
    refused(&good, "count: 2", "count: 99", "out-of-range", &["tie_downs.lag.count"]);
    refused(&good, "plate: 3/16 in", "plate: 3 in", "out-of-range", &["tie_downs.lag.plate"]);
    refused(
        &good,
        "species: douglas-fir-larch",
        "species: balsa",
        "unknown-species",
        &["`balsa`", "douglas-fir-larch"],
    );
    refused(&good, "    on: deck\n", "    on: ground\n", "field-without-meaning", &["`on: roof` or `on: deck`"]);
    let sloping = on("ground", "    ground_slope: 8 deg\n    ground_facing: 180 deg\n");
    refused(&sloping, "ground_slope: 8 deg", "ground_slope: 30 deg", "out-of-range", &["ground_slope", "20°"]);
    refused(&sloping, "ground_facing: 180 deg", "ground_facing: 500 deg", "out-of-range", &["ground_facing"]);
    refused(&sloping, "    on: ground\n", "    on: roof\n", "field-without-meaning", &["use `roof_pitch`"]);
}

#[test]
fn a_wrong_building_is_refused_by_its_field() {
    let good = on("roof", BUILDING);
    refused(&good, "height: 12 ft", "height: 1 in", "out-of-range", &["building.height"]);
    refused(&good, "longer_side: 60 ft", "longer_side: 20 ft", "sides-swapped", &["the shorter side is longer"]);
    refused(&good, ", parapet: 0 ft", "", "missing-field", &["parapet"]);
    refused(&good, "parapet: 0 ft", "parapet: 90 ft", "out-of-range", &["building.parapet"]);
    refused(&good, "zone: corner", "zone: middle", "unknown-value", &["inside"]);
    refused(&good, "    on: roof\n", "    on: deck\n", "field-without-meaning", &["on its roof only"]);
}

/// A row that lifts is a failing row with its number, never the end of the run.
#[test]
fn a_frame_that_nothing_holds_fails_by_its_own_rows() {
    let answer = strength(&ground());
    assert!(answer["verdict"].as_str().expect("words").contains("fail"), "{}", answer["verdict"]);
    for part in ["frame, lifting", "frame, over the near ends"] {
        assert!(row(&answer, part)["utilisation"].as_f64().expect("a number") > 1.0, "{}", row(&answer, part));
    }
    assert_eq!(row(&answer, "frame, sliding")["state"], "not checked");
    let heavy = strength(&format!("{}{BALLAST}", ground()).replace("400 lb", "4000 lb"));
    assert!(check(&heavy, "ballast")["utilisation"].as_f64().expect("a number") < 1.0);
    assert_eq!(check(&heavy, "stakes")["state"], "does not apply");
}

#[test]
fn stakes_hold_sideways_and_up_only_where_a_test_proved_it() {
    let tested = strength(&format!("{}{STAKES}", ground()));
    for part in ["stakes, sideways", "stakes, pulled out"] {
        assert!(row(&tested, part)["utilisation"].as_f64().expect("a number") > 0.0);
        assert_eq!(row(&tested, part)["state"], "judgement");
    }
    assert_eq!(check(&tested, "ballast")["state"], "does not apply");
    let untested = strength(&format!("{}{}", ground(), STAKES.replace(", pull_test: 500 lb", "")));
    assert_eq!(row(&untested, "stakes, pulled out")["state"], "not checked");
    assert!(row(&untested, "stakes, pulled out")["why"].as_str().expect("why").contains("pull test"));
    assert!(row(&untested, "frame, lifting")["utilisation"].as_f64().expect("a number") > 1.0);
}

#[test]
fn brackets_and_lag_screws_have_rows_and_the_structure_under_them_has_none() {
    let deck = strength(&on("deck", TIES));
    for part in ["brackets", "lag screws"] {
        assert!(row(&deck, part)["utilisation"].as_f64().expect("a number") > 0.0);
    }
    assert_eq!(check(&deck, "roof-structure")["state"], "not checked");
    assert_eq!(check(&deck, "ballast")["state"], "does not apply");
    // Half the rating is twice the use.
    let weak = strength(&on("deck", &TIES.replace("600 lb, lateral: 400 lb", "300 lb, lateral: 200 lb")));
    let of = |answer: &Value| row(answer, "brackets")["utilisation"].as_f64().expect("a number");
    assert!((of(&weak) / of(&deck) - 2.0).abs() < 1e-9);
    let bare = strength(&on("deck", ""));
    assert_eq!(check(&bare, "roof-brackets")["state"], "not checked");
}

/// A second bracket would stand 0.2 in from the pin of the stay on the runner of 104 in and 2 in from it on that of 100 in:
/// it gives way to the pin's hole, towards the low end on all of these.
#[test]
fn a_bracket_beside_the_pin_is_asked_no_more_than_one_farther_off() {
    let pulled = ["100 in", "102 in", "104 in"].map(|length| {
        let text = on("deck", TIES).replace("length: 9 ft", &format!("length: {length}"));
        let answer = strength(&text.replace("tilts: [35 deg]", "tilts: [50 deg]"));
        ["brackets", "lag screws"].map(|part| row(&answer, part)["utilisation"].as_f64().expect("a value"))
    });
    for part in 0..2 {
        let (least, most) = (0..3).map(|k| pulled[k][part]).fold((f64::MAX, 0.0_f64), |(a, b), u| (a.min(u), b.max(u)));
        assert!(most < 1.4 * least, "{pulled:?}");
    }
}

#[test]
fn wind_on_a_roof_needs_its_building_and_a_low_slope() {
    let refused = |text: &str| {
        let answer = strength(text);
        let loads = answer["refused_loads"].as_array().expect("a list").clone();
        loads.iter().map(|l| l["why"].as_str().expect("why").to_string()).collect::<Vec<_>>().join("; ")
    };
    assert!(refused(&on("roof", TIES)).contains("support.runners.building"));
    let pitched = refused(&on("roof", &format!("    roof_pitch: 20 deg\n{TIES}{BUILDING}")));
    assert!(pitched.contains("pitched roof"), "{pitched}");
    // The panels of the ready design stand higher above the roof than the clause allows.
    let low = refused(&on("roof", &format!("{TIES}{BUILDING}")));
    assert!(!low.contains("support.runners.building"), "{low}");
}

/// Two panels, 95 mph: timber on slabs, 14 blocks of 34 lb on each runner.
#[test]
fn a_frame_held_by_blocks_passes_with_a_value_for_every_check() {
    let text = fs::read_to_string(project().join("designs/runners-ground.yaml")).expect("a ready design");
    let answer = strength(&text);
    assert!(answer["verdict"].as_str().expect("words").starts_with("no utilisation above 1"), "{}", answer["verdict"]);
    for check in answer["checks"].as_array().expect("checks") {
        assert!(!["refused", "not checked", "unverified source"].contains(&check["state"].as_str().expect("a state")));
    }
    // Sliding by hand, 0.6 D + 0.6 W: the level force needs its friction, 0.7, and what lifts its weight.
    assert!(row(&answer, "frame, sliding")["utilisation"].as_f64().expect("a number") > 0.8);
    // Ten blocks are too few.
    let light = strength(&text.replace("per_runner: 450 lb", "per_runner: 330 lb"));
    assert!(row(&light, "frame, sliding")["utilisation"].as_f64().expect("a number") > 1.0);
}

#[test]
fn runners_press_on_the_soil_of_their_class_or_say_that_none_is_named() {
    let on_class = |class: u8| strength(&format!("{}{BALLAST}soil: {{class: {class}}}\n", ground()));
    let of = |answer: &Value| check(answer, "base-bearing")["utilisation"].as_f64().expect("a number");
    let (sand, clay) = (on_class(4), on_class(5));
    assert_eq!(row(&sand, "N1")["source"], "IBC 2018 Table 1806.2");
    // Table 1806.2: 2000 psf on class 4, 1500 psf on class 5.
    assert!((of(&clay) / of(&sand) - 2000.0 / 1500.0).abs() < 1e-9);
    let silent = strength(&format!("{}{BALLAST}", ground()));
    assert_eq!(check(&silent, "base-bearing")["state"], "not checked");
    assert!(check(&silent, "base-bearing")["why"].as_str().expect("why").contains("`soil.class`"));
    assert_eq!(check(&strength(&on("deck", TIES)), "base-bearing")["state"], "does not apply");
}

/// Sum of one load case of an exported model (N).
fn sum_of(model: &Value, case: &str) -> [f64; 3] {
    let number = |v: &Value| v.as_f64().expect("a number");
    let list = |v: &Value| v.as_array().expect("a list").clone();
    let lengths: std::collections::BTreeMap<String, f64> = list(&model["members"])
        .iter()
        .map(|m| (m["id"].as_str().expect("a name").to_string(), number(&m["length"])))
        .collect();
    let mut sum = [0.0; 3];
    for load in list(&model["load_cases"][case]["nodal"]) {
        (0..3).for_each(|i| sum[i] += number(&load["F"][i]));
    }
    for load in list(&model["load_cases"][case]["member_udl"]) {
        let length = lengths[load["member"].as_str().expect("a name")];
        (0..3).for_each(|i| sum[i] += number(&load["w_global"][i]) * length);
    }
    sum
}

/// ASCE 7-16 §29.4.3 by hand: p = q_h γ_p γ_c γ_E (GC_rn)_nom on the panel of 1722 × 1134 mm.
#[test]
fn wind_on_a_low_roof_is_that_of_the_rooftop_clause_by_hand() {
    let deck = fs::read_to_string(project().join("designs/aluminium-deck.yaml")).expect("a ready design");
    let building = "height: 12 ft, longer_side: 60 ft, shorter_side: 30 ft, parapet: 1 ft, zone: edge";
    let text = deck
        .replace("    on: deck\n", &format!("    on: roof\n    building: {{{building}}}\n"))
        .replace("tilts: [20 deg, 40 deg, 58 deg]", "tilts: [15 deg, 25 deg, 34 deg]");
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
    let arguments = ["strength", "design.yaml", "--model", "model.json", "--format", "json"];
    let run = tiltwright_in(folder.path(), &arguments);
    let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
    assert_eq!(answer["refused_loads"], serde_json::json!([]));

    const NEWTON: f64 = 4.448_221_615;
    const FT: f64 = 0.3048;
    // Eq. 26.10-1: exposure C, K_z 2.01 (15/900)^(2/9.5) below 15 ft; K_d 0.85; K_e e^(−0.0000362 · 4265 ft); 95 mph.
    let k_z = 2.01 * (15.0_f64 / 900.0).powf(2.0 / 9.5);
    let q_h = 0.00256 * k_z * 0.85 * (-0.0000362_f64 * 4265.0).exp() * 95.0 * 95.0;
    let area = 1.722 * 1.134 / (FT * FT);
    // L_b = min(0.4 √(h W_L), h, W_S) = 10.7 ft counts as 15 ft; zone 2 from 15° on: 2.9 at A_n 1, 0.65 at 500.
    let normalised: f64 = 1000.0 / (15.0 * 15.0) * area;
    let nominal = 2.9 + (0.65 - 2.9) * normalised.ln() / 500.0_f64.ln();
    let (parapet, chord) = (0.9 + 1.0 / 12.0, 0.6 + 0.06 * 1.722 / FT);
    let models = answer["models"].as_array().expect("models");
    assert_eq!(models.len(), 3);
    for (file, tilt) in models.iter().zip(answer["tilts_deg"].as_array().expect("tilts")) {
        let model = fs::read_to_string(folder.path().join(file.as_str().expect("a file"))).expect("written");
        let model: Value = serde_json::from_str(&model).expect("JSON");
        let tilt = tilt.as_f64().expect("a number").to_radians();
        assert!(tilt >= 15f64.to_radians());
        // A lone frame is exposed: γ_E 1.5 for what lifts. Only panels are pressed upright, bare members level.
        for (case, exposed, sign) in [("wind-back-roof", 1.5, 1.0), ("wind-face-roof", 1.0, -1.0)] {
            let by_hand = sign * q_h * parapet * chord * exposed * nominal * area * NEWTON * tilt.cos();
            let ours = sum_of(&model, case)[2];
            assert!((ours / by_hand - 1.0).abs() < 1e-4, "{case}: {ours} against {by_hand}");
        }
    }
}
