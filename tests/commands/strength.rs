//! `strength` end to end.

use crate::common::{Run, project, tiltwright, tiltwright_in};
use serde_json::Value;
use std::{fs, path::Path};

pub(crate) fn sample() -> String {
    fs::read_to_string(project().join("designs/sample.yaml")).expect("the sample design")
}

/// The sample design with neither wind nor snow.
pub(crate) fn without_loads() -> String {
    let text = sample();
    let (from, to) = (text.find("# Read wind").expect("a note"), text.find("tilts:").expect("tilts"));
    format!("{}{}", &text[..from], &text[to..])
}

fn run_text(text: &str, arguments: &[&str]) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
    tiltwright_in(folder.path(), &[&["strength", "design.yaml"], arguments].concat())
}

pub(crate) fn json(text: &str) -> Value {
    let run = run_text(text, &["--format", "json"]);
    assert_eq!(run.stderr, "");
    serde_json::from_str(&run.stdout).expect("JSON")
}

pub(crate) fn utilisation(answer: &Value, check: &str) -> f64 {
    let checks = answer["checks"].as_array().expect("a list of checks");
    let found = checks.iter().find(|c| c["check"] == check).unwrap_or_else(|| panic!("{check} is listed"));
    found["utilisation"].as_f64().unwrap_or_else(|| panic!("{check} has a value: {found}"))
}

#[test]
fn every_check_of_the_fixed_list_has_a_state_and_rows_come_worst_first() {
    let run = tiltwright(&["strength", "--format", "json"]);
    let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
    let states = ["does not apply", "value", "judgement", "unverified source", "refused", "not checked"];
    let checks = answer["checks"].as_array().expect("a list");
    assert_eq!(checks.len(), 32);
    for check in checks {
        assert!(states.contains(&check["state"].as_str().expect("a state")), "{check}");
        assert!(check["state"] == "value" || !check["why"].as_str().expect("why").is_empty(), "{check}");
    }
    let uses: Vec<f64> =
        answer["rows"].as_array().expect("rows").iter().filter_map(|r| r["utilisation"].as_f64()).collect();
    assert!(uses.len() > 20 && uses.windows(2).all(|w| w[0] >= w[1]));
    // A design passes when no row is above 1 and every check has a value; the exit code says the same as the verdict.
    assert_eq!(run.code == 0, answer["holds"] == true);
    assert_eq!(
        answer["holds"] == true,
        answer["verdict"].as_str().expect("words").starts_with("no utilisation above 1")
    );
    let above = uses.iter().any(|u| *u > 1.0);
    assert!(!(above && answer["holds"] == true));
    // Steep tilts rest on the second envelope, and the answer says so.
    assert!(
        answer["envelopes"].as_array().expect("a list").iter().any(|e| e.as_str().is_some_and(|e| e.starts_with("J2")))
    );
}

#[test]
fn the_text_names_part_check_tilt_case_and_source_and_never_certifies() {
    let run = tiltwright(&["strength"]);
    for needed in [
        "Use",
        "Part",
        "Check",
        "Tilt",
        "Combination",
        "State",
        "Source",
        "Every check, with its state",
        "Verdict: ",
        "licensed engineer",
    ] {
        assert!(run.stdout.contains(needed), "{needed}");
    }
    assert!(!run.stdout.to_lowercase().contains("safe"), "no word may promise safety");
    assert!(run.stdout.contains("NDS-2018"));
}

#[test]
fn without_wind_and_snow_no_verdict_is_given() {
    let run = run_text(&without_loads(), &[]);
    assert_eq!((run.code, run.stderr.as_str()), (1, ""));
    assert!(run.stdout.contains("neither wind nor snow"), "{}", run.stdout);
    let (_, unchecked) = run.stdout.split_once("none of these is checked:").expect("what is not checked is listed");
    let numbered = |line: &&str| line.trim_start().split_once(". ").is_some_and(|(n, _)| n.parse::<u32>().is_ok());
    assert_eq!(unchecked.lines().filter(numbered).count(), 32);
}

#[test]
fn what_is_missing_or_absurd_is_named_with_its_place_and_writes_nothing() {
    for (from, to, code, field) in [
        ("  gust: 100 mph\n", "", "load-basis-missing", "gust"),
        ("  gust: 100 mph\n", "  gust: 0 mph\n", "load-basis-range", "gust"),
        ("  gust: 100 mph\n", "  gust: 5000 mph\n", "load-basis-range", "gust"),
        ("soil: {class: 4, subgrade: 25 lb/in3, frost_depth: 36 in}\n", "", "strength-basis-missing", "soil"),
        ("  wet_service: false\n", "", "strength-basis-missing", "wet_service"),
        ("  grade: no2\n", "  grade: construction\n", "grade-not-held", "Construction"),
    ] {
        let text = sample();
        assert!(text.contains(from), "{from}");
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("design.yaml"), text.replace(from, to)).expect("written");
        let run = tiltwright_in(folder.path(), &["strength", "design.yaml", "--model", "model.json"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{code}: {}", run.stderr);
        assert!(run.stderr.contains(&format!("error[{code}]")) && run.stderr.contains(field), "{}", run.stderr);
        assert!(run.stderr.contains("hint:") && !folder.path().join("model.json").exists());
    }
}

/// ASCE 7-16 Eq. 26.10-1: q grows with the square of the gust, so √2 times the gust doubles every wind load.
#[test]
fn twice_the_wind_doubles_what_wind_alone_governs() {
    let (once, twice) = (json(&sample()), json(&sample().replace("gust: 100 mph", "gust: 141.4213562373 mph")));
    for check in ["clips", "panel-load"] {
        let (a, b) = (utilisation(&once, check), utilisation(&twice, check));
        assert!((b / a - 2.0).abs() < 1e-6, "{check}: {a} {b}");
    }
}

#[test]
fn the_exported_model_can_be_read_by_any_frame_program() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), sample()).expect("written");
    let run = tiltwright_in(folder.path(), &["strength", "design.yaml", "--model", "out.json", "--format", "json"]);
    let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
    let models = answer["models"].as_array().expect("a list");
    assert_eq!(models.len(), 3, "one for each tilt");
    for model in models {
        let text = fs::read_to_string(folder.path().join(Path::new(model.as_str().expect("a path")))).expect("written");
        let model: Value = serde_json::from_str(&text).expect("JSON");
        for field in ["nodes", "sections", "members", "supports", "load_cases", "results", "conventions", "units"] {
            assert!(!model[field].is_null(), "{field}");
        }
        let dead = &model["results"]["dead"];
        assert!(dead["displacements"].is_object() && dead["reactions"].is_object() && dead["end_forces"].is_object());
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let (a, b) = (tiltwright(&["strength", "--all"]), tiltwright(&["strength", "--all"]));
    assert_eq!(a.stdout, b.stdout);
}

#[test]
fn the_packet_holds_the_calculation_sheet_or_says_why_not() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), sample()).expect("written");
    let run = tiltwright_in(folder.path(), &["plan", "design.yaml", "--name", "with"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let page = fs::read_to_string(folder.path().join("out/with/calculation.html")).expect("a calculation sheet");
    let answer = json(&sample());
    assert!(page.contains(answer["verdict"].as_str().expect("a sentence")), "the sheet carries the verdict");
    for check in answer["checks"].as_array().expect("a list") {
        assert!(page.contains(check["words"].as_str().expect("words")), "{check}");
    }
    assert!(page.contains("licensed engineer") && page.contains("IBC 2018") && page.contains("NDS-2018"));
    for place in ["Eq. 26.10-1", "Table 26.6-1", "Fig. 27.3-4", "Eq. 7.3-1", "Fig. 7.4-1", "§2.4.1", "Fig. 30.7-1"] {
        assert!(page.contains(&format!("ASCE 7-16 {place}")), "the sheet derives its loads: {place}");
    }
    fs::write(folder.path().join("silent.yaml"), without_loads()).expect("written");
    let run = tiltwright_in(folder.path(), &["plan", "silent.yaml", "--name", "without"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    assert!(run.stdout.contains("Strength: no verdict can be given"), "{}", run.stdout);
    assert!(!folder.path().join("out/without/calculation.html").exists());
    let index = fs::read_to_string(folder.path().join("out/without/index.html")).expect("a page");
    assert!(index.contains("neither wind nor snow"), "the page says why there is no sheet");
}

#[test]
fn a_model_replaces_a_model_and_no_other_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    let read = |name: &str| fs::read_to_string(folder.path().join(name)).expect("it is there");
    put("design.yaml", &sample());
    put("m-37deg.json", "precious");
    let run = tiltwright_in(folder.path(), &["strength", "design.yaml", "--model", "design.yaml"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", run.stderr);
    assert!(run.stderr.contains("error[output-is-input]") && read("design.yaml") == sample());
    let run = tiltwright_in(folder.path(), &["strength", "design.yaml", "--model", "m.json"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", run.stderr);
    assert!(run.stderr.contains("error[file-exists]") && run.stderr.contains("m-37deg.json"), "{}", run.stderr);
    assert!(read("m-37deg.json") == "precious" && !folder.path().join("m.json").exists());
    for _ in 0..2 {
        let run = tiltwright_in(folder.path(), &["strength", "design.yaml", "--model", "n.json"]);
        assert_eq!(run.code, 0, "{}", run.stderr);
    }
}

/// What a design says, or does not say, of wood in the ground.
#[test]
fn wood_in_the_ground_passes_only_when_it_is_said_to_be_treated() {
    let one_tilt = sample().replace("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "tilts: [37 deg]");
    let said = |text: &str| {
        let answer = json(text);
        let checks = answer["checks"].as_array().expect("a list").iter();
        let listed = checks.clone().find(|c| c["check"] == "ground-contact").expect("listed").clone();
        let rows = answer["rows"].as_array().expect("rows").iter();
        let marks: Vec<String> =
            rows.filter(|r| r["check"] == "ground-contact").map(|r| r["part"].to_string()).collect();
        (
            listed["state"].as_str().expect("a state").to_string(),
            listed["why"].to_string(),
            marks,
            answer["holds"].clone(),
        )
    };
    let (state, _, marks, _) = said(&one_tilt);
    assert_eq!((state.as_str(), marks.len()), ("value", 0));
    for (treated, expected) in [("  treated: false\n", "refused"), ("", "not checked")] {
        let (state, why, marks, holds) = said(&one_tilt.replace("  treated: true\n", treated));
        assert_eq!((state.as_str(), holds), (expected, Value::Bool(false)), "{why}");
        assert!(why.contains("write `frame.treated: true`") && why.contains("IBC 2304.12"), "{why}");
        assert_eq!(marks, ["\"P1\""]);
    }
    let steel = one_tilt.replace("  treated: true\n", "").replace("section: 4x8", "section: HSS4x4x1/4");
    assert_eq!(said(&steel).0, "does not apply");
}
