//! `size` end to end.

use crate::common::{Run, project, tiltwright_in};
use serde_json::Value;
use std::{collections::BTreeSet, fs, path::Path};

const SMALL: &str = include_str!("small_frame.yaml");

/// Choices among which some pass and cheaper ones fail.
const CHOICES: &str = "
size:
  frame.stile: [2x10, 2x12]
  support.posts.embedment: {from: 48 in, to: 72 in, step: 12 in}
  support.bolt: [1/2 in, 5/8 in]
  joints.corner.count: [2, 3]
";

fn run(text: &str, arguments: &[&str]) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("the design is written");
    tiltwright_in(folder.path(), &[&["size", "design.yaml"], arguments].concat())
}

fn json(folder: &Path, arguments: &[&str]) -> Value {
    let run = tiltwright_in(folder, &[arguments, &["--format", "json"]].concat());
    serde_json::from_str(&run.stdout).unwrap_or_else(|error| panic!("{error}: {run:?}"))
}

/// The design with the values of a candidate in the places of its own.
fn with(values: &Value) -> String {
    let mut text = SMALL.to_string();
    for (field, from, to) in [
        ("frame.stile", "  stile: 2x6", "  stile: "),
        ("support.posts.embedment", "embedment: 48 in", "embedment: "),
        ("support.bolt", "  bolt: 1/2 in", "  bolt: "),
        ("joints.corner.count", "length: 4 in, count: 3", "length: 4 in, count: "),
    ] {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, &format!("{to}{}", values[field].as_str().expect("a value")));
    }
    text
}

#[test]
fn what_is_found_passes_in_strength_and_the_next_cheaper_fails_there() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), format!("{SMALL}{CHOICES}")).expect("written");
    let answer = json(folder.path(), &["size", "design.yaml", "--write", "sized.yaml"]);
    let chosen = &answer["chosen"];
    assert_eq!(chosen["passes"], true, "{answer}");
    let strength = json(folder.path(), &["strength", "sized.yaml"]);
    assert_eq!(strength["verdict"], chosen["verdict"]);
    let above = |answer: &Value| -> Vec<Value> {
        let rows = answer["rows"].as_array().expect("rows");
        rows.iter().filter(|r| r["utilisation"].as_f64().is_some_and(|u| u > 1.0)).cloned().collect()
    };
    assert!(above(&strength).is_empty(), "{:?}", above(&strength));
    let cheaper = answer["cheaper"].as_array().expect("a list");
    assert!(!cheaper.is_empty());
    for candidate in cheaper {
        assert!(candidate["cost"].as_f64() <= chosen["cost"].as_f64());
        let said = &candidate["failing"][0];
        fs::write(folder.path().join("cheaper.yaml"), with(&candidate["values"])).expect("written");
        let fails = above(&json(folder.path(), &["strength", "cheaper.yaml"]));
        assert!(
            fails.iter().any(|row| row["part"] == said["part"]
                && row["check"] == said["check"]
                && row["utilisation"] == said["utilisation"]),
            "{said} in {fails:?}"
        );
    }
}

#[test]
fn the_written_design_keeps_its_comments_and_holds_the_values_found() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), format!("{SMALL}{CHOICES}")).expect("written");
    let answer = json(folder.path(), &["size", "design.yaml", "--write", "sized.yaml"]);
    let written = fs::read_to_string(folder.path().join("sized.yaml")).expect("it was written");
    assert_eq!(written, format!("{}{CHOICES}", with(&answer["chosen"]["values"])));
    let again = json(folder.path(), &["size", "sized.yaml"]);
    assert_eq!(again["chosen"]["values"], answer["chosen"]["values"]);
    let refused = tiltwright_in(folder.path(), &["size", "design.yaml", "--write", "sized.yaml"]);
    assert_eq!(refused.code, 2);
    assert!(refused.stderr.contains("error[file-exists]"), "{}", refused.stderr);
    let refused = tiltwright_in(folder.path(), &["size", "design.yaml", "--write", "design.yaml"]);
    assert!(refused.code == 2 && refused.stderr.contains("error[output-is-input]"), "{}", refused.stderr);
}

#[test]
fn the_same_bytes_come_from_any_number_of_threads() {
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), format!("{SMALL}{CHOICES}")).expect("written");
    let bytes = |threads: &str| {
        assert_cmd::Command::cargo_bin("tiltwright")
            .expect("the binary is built with the tests")
            .current_dir(folder.path())
            .env("RAYON_NUM_THREADS", threads)
            .args(["size", "design.yaml"])
            .output()
            .expect("the binary starts")
            .stdout
    };
    let one = bytes("1");
    assert!(String::from_utf8_lossy(&one).contains("What governs"));
    assert_eq!(one, bytes("3"));
}

#[test]
fn where_none_passes_the_nearest_is_shown_with_its_worst_checks() {
    // A deeper stile of so small a frame would put the frame pin into the corner brace; a deeper rail lays out.
    let run = run(SMALL, &["--vary", "frame.rail=2x6,2x8"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.stdout.contains("None passes."), "{}", run.stdout);
    assert!(run.stdout.contains("frame.rail  2x6 -> 2x8"), "{}", run.stdout);
    assert!(run.stdout.contains("hung-shear"), "{}", run.stdout);
}

#[test]
fn a_row_above_one_while_a_stay_is_loose_fails_the_design_in_strength_and_size_alike() {
    // A pin too thin for one stay alone, among others that it is too thin for.
    let ready = fs::read_to_string(project().join("designs/runners-ground.yaml")).expect("a ready design");
    let text = ready.replace("  pin: 5/8 in", "  pin: 3/8 in");
    assert_ne!(text, ready);
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("design.yaml"), text).expect("written");
    let strength = json(folder.path(), &["strength", "design.yaml"]);
    let rows = strength["rows"].as_array().expect("rows");
    let above: Vec<&Value> = rows.iter().filter(|r| r["utilisation"].as_f64().is_some_and(|u| u > 1.0)).collect();
    assert!(above.iter().any(|row| row["check"] == "one-stay-loose"), "{above:?}");
    let checks: BTreeSet<&str> = above.iter().filter_map(|row| row["check"].as_str()).collect();
    let listed = strength["checks"].as_array().expect("the list").iter();
    let listed = listed.filter(|check| check["utilisation"].as_f64().is_some_and(|u| u > 1.0)).count();
    assert!(checks.len() == listed && listed < above.len(), "{above:?}");
    let said = format!("{listed} checks fail, in {} rows: utilisations above 1", above.len());
    assert_eq!(strength["verdict"], said);
    let sized = json(folder.path(), &["size", "design.yaml", "--vary", "support.pin=3/8in"]);
    let failing = sized["nearest"]["failing"].as_array().expect("rows");
    assert_eq!(sized["nearest"]["verdict"], strength["verdict"]);
    let names = |row: &Value| format!("{} {} {}", row["part"], row["check"], row["utilisation"]);
    let said = |rows: &[&Value]| rows.iter().map(|row| names(row)).collect::<Vec<_>>();
    assert_eq!(said(&failing.iter().collect::<Vec<_>>()), said(&above));
    let explained = tiltwright_in(folder.path(), &["explain", "one-stay-loose", "design.yaml"]);
    assert!(explained.stdout.contains("above 1 it fails the design"), "{}", explained.stdout);
}

#[test]
fn wrong_choices_are_faults_of_their_line_with_what_would_be_right() {
    for (block, code, place, hint) in [
        ("  frame.stille: [2x6]", "unknown-choice", "design.yaml:66:3", "did you mean `frame.stile`?"),
        ("  site.latitude: [3 deg]", "unknown-choice", "design.yaml:66:3", "known here: frame.rail"),
        ("  frame.stile: [2x6, 2x61]", "unknown-section", "design.yaml:66:22", ""),
        ("  frame.stile: [2x6, 2x8, 2x6]", "offered-twice", "design.yaml:66:27", "remove value 1 or 3"),
        ("  frame.stile: 2x6", "nothing-offered", "design.yaml:66:3", "write a list"),
        ("  support.bolt: [13/16 in]", "unknown-bolt", "design.yaml:66:18", ""),
        ("  support.runners.section: [2x8]", "no-such-block", "design.yaml:66:29", "add the block `support.runners`"),
        ("  support.posts.embedment: [4 ft, 40 ft]", "out-of-range", "design.yaml:66:35", "it lies between"),
        ("  support.posts.embedment: [4]", "bad-value", "design.yaml:66:29", ""),
        ("  joints.corner.count: [two]", "bad-value", "design.yaml:66:25", ""),
        ("  frame.stile: {from: 2x4, to: 2x8, step: 2}", "no-steps", "design.yaml:66:3", "list the values one by one"),
        (
            "  support.posts.embedment: {from: 3 ft, to: 5 ft}",
            "missing-field",
            "design.yaml:66:3",
            "a range has `from`, `to` and `step`",
        ),
        (
            "  support.posts.embedment: {from: 3 ft, to: 2 ft, step: 1 ft}",
            "out-of-range",
            "design.yaml:66:45",
            "swap `from` and `to`",
        ),
        ("  support.posts.embedment: {from: 3 ft, to: 4 ft, step: 0 in}", "out-of-range", "design.yaml:66:57", "apart"),
    ] {
        let text = format!("{SMALL}size:\n{block}\n");
        assert_eq!(text.lines().count(), 66);
        let run = run(&text, &[]);
        assert_eq!(run.code, 2, "{block}: {run:?}");
        assert!(run.stderr.contains(&format!("error[{code}]")), "{block}: {}", run.stderr);
        assert!(run.stderr.contains(place), "{block}: {place}: {}", run.stderr);
        assert!(run.stderr.contains(hint), "{block}: {hint}: {}", run.stderr);
        assert_eq!(run.stdout, "");
    }
}

#[test]
fn wrong_choices_on_the_command_line_are_refused_alike() {
    for (vary, code) in [
        ("frame.stille=2x6", "unknown-choice"),
        ("frame.stile=2x61", "unknown-section"),
        ("frame.stile", "bad-value"),
        ("frame.stile=", "bad-value"),
        ("joints.corner.count=0", "out-of-range"),
    ] {
        let run = run(SMALL, &["--vary", vary]);
        assert_eq!(run.code, 2, "{vary}: {run:?}");
        assert!(run.stderr.contains(&format!("error[{code}]")), "{vary}: {}", run.stderr);
    }
    let twice = run(SMALL, &["--vary", "frame.stile=2x6", "--vary", "frame.stile=2x8"]);
    assert!(twice.code == 2 && twice.stderr.contains("`frame.stile` is varied twice"), "{}", twice.stderr);
    let list = |from: u32, to: u32| (from..=to).map(|n| n.to_string()).collect::<Vec<_>>().join(",");
    let all: Vec<String> = ["joints.corner.count", "joints.brace.count", "joints.clip.count"]
        .iter()
        .map(|field| format!("--vary={field}={}", list(1, 20)))
        .chain([
            format!("--vary=joints.clips_per_panel={}", list(2, 16)),
            "--vary=frame.stile=2x4,2x6,2x8,2x10,2x12,4x6,4x8".to_string(),
            "--vary=support.bolt=3/8 in,1/2 in".to_string(),
        ])
        .collect();
    let arguments: Vec<&str> = all.iter().map(String::as_str).collect();
    let run = run(SMALL, &arguments);
    assert!(run.code == 2 && run.stderr.contains("error[too-many-candidates]"), "{run:?}");
}

#[test]
fn a_price_that_is_missing_is_named_and_nothing_is_assumed() {
    let text = SMALL.replace("    - {item: concrete-bag, price: 6.20}\n", "");
    let vary = ["--vary", "support.posts.embedment=4 ft,6 ft"];
    let asked = run(&text, &vary);
    assert_eq!(asked.code, 2, "{asked:?}");
    assert!(asked.stderr.contains("error[price-missing]"), "{}", asked.stderr);
    assert!(asked.stderr.contains("add to shop.hardware: {item: concrete-bag, price: …}"), "{}", asked.stderr);
    assert!(!asked.stderr.contains("item: clip"), "the same for all: {}", asked.stderr);
    let lightest = run(&text, &[&vary[..], &["--goal", "lightest"]].concat());
    assert_eq!(lightest.code, 1, "{lightest:?}");
    // Where every candidate needs the same, the price may stay unknown, and that is said.
    let same = run(&text, &["--vary", "joints.corner.count=2,3"]);
    assert_eq!(same.code, 1, "{same:?}");
    assert!(same.stdout.contains("{item: concrete-bag, price: …}"), "{}", same.stdout);
}

#[test]
fn wrong_prices_are_faults_of_their_line() {
    for (row, code) in [
        ("{item: bolt, price: 2}", "missing-field"),
        ("{item: bolt, size: 9/9 in, price: 2}", "unknown-bolt"),
        ("{item: bolts, size: 1/2 in, price: 2}", "unknown-value"),
        ("{item: clip, size: 1/2 in, price: 2}", "field-without-meaning"),
        ("{item: clip, price: -2}", "out-of-range"),
        ("{item: clip, price: 2}", "priced-twice"),
        ("{item: copper, price: 2}", "missing-field"),
        ("{item: ballast, mass: 9000 kg, price: 2}", "out-of-range"),
    ] {
        let run = run(&format!("{SMALL}    - {row}\n"), &[]);
        assert_eq!(run.code, 2, "{row}: {run:?}");
        assert!(run.stderr.contains(&format!("error[{code}]")), "{row}: {}", run.stderr);
        assert!(run.stderr.contains("design.yaml:65:"), "{row}: {}", run.stderr);
    }
}

#[test]
fn a_design_of_which_nothing_is_checked_is_not_sized() {
    let start = SMALL.find("loads:").expect("the block");
    let end = SMALL.find("tilts:").expect("what follows it");
    let run = run(&format!("{}{}", &SMALL[..start], &SMALL[end..]), &["--vary", "frame.stile=2x6,2x8"]);
    assert_eq!(run.code, 1, "{run:?}");
    assert!(run.stdout.contains("Nothing can be sized"), "{}", run.stdout);
}

#[test]
fn a_design_that_cannot_be_rewritten_is_refused_before_the_search() {
    let text = std::fs::read_to_string(crate::common::project().join("designs/sample.yaml")).expect("the sample");
    let text = text.replace("bolt: 5/8 in\n  pin: 5/8 in", "bolt: &b 5/8 in\n  pin: *b");
    assert!(text.contains("*b"));
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("design.yaml"), text).expect("written");
    let run = crate::common::tiltwright_in(
        folder.path(),
        &["size", "design.yaml", "--vary", "support.bolt=1/2 in", "--write", "sized.yaml"],
    );
    assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{}", run.stderr);
    assert!(run.stderr.contains("error[not-rewritten]") && run.stderr.contains("without anchors"), "{}", run.stderr);
    let missing = ["size", "design.yaml", "--vary", "support.posts.embedment=72 in", "--write", "nowhere/sized.yaml"];
    let run = crate::common::tiltwright_in(folder.path(), &missing);
    assert_eq!((run.code, run.stdout.as_str()), (3, ""), "{}", run.stderr);
    assert_eq!(std::fs::read_dir(folder.path()).expect("it is there").count(), 1, "nothing is left behind");
}
