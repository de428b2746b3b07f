//! What reaches files and standard output: all of a run or nothing, text or JSON as asked.

use crate::common::{project, tiltwright_in};
use serde_json::Value;
use std::{
    fs,
    path::{Path, PathBuf},
};

fn names_below(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
    entries
        .flat_map(|path| if path.is_dir() { [vec![path.clone()], names_below(&path)].concat() } else { vec![path] })
        .collect()
}

fn json(arguments: &[&str], folder: &Path) -> Value {
    let run = tiltwright_in(folder, &[arguments, &["--format", "json"]].concat());
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
    serde_json::from_str(&run.stdout).unwrap_or_else(|error| panic!("{arguments:?}: {error}: {}", run.stdout))
}

#[test]
fn new_completions_and_manual_answer_in_json_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let listed = json(&["new", "--list"], folder.path());
    let names: Vec<&str> =
        listed["designs"].as_array().expect("designs").iter().map(|d| d["like"].as_str().expect("a name")).collect();
    assert!(names.contains(&"sample") && names.contains(&"runners-ground"), "{names:?}");
    let written = json(&["new", "mine.yaml", "--like", "runners-ground"], folder.path());
    assert_eq!(written, serde_json::json!({"file": "mine.yaml", "like": "runners-ground"}));
    assert!(folder.path().join("mine.yaml").is_file());
    let completions = json(&["completions", "bash"], folder.path());
    assert_eq!(completions["shell"], "bash");
    assert_eq!(completions["script"], tiltwright_in(folder.path(), &["completions", "bash"]).stdout);
    let pages = json(&["manual"], folder.path());
    let pages = pages["pages"].as_array().expect("pages");
    let whole: String = pages.iter().map(|page| page["roff"].as_str().expect("a page")).collect();
    assert!(pages.iter().any(|page| page["command"] == "tiltwright-explain"), "{pages:?}");
    assert_eq!(whole, tiltwright_in(folder.path(), &["manual"]).stdout);
}

#[test]
fn a_drawing_that_cannot_be_written_leaves_no_table_either() {
    let folder = tempfile::tempdir().expect("a folder");
    let list = "unit: mm\nkerf: 3\nstock: [{length: 2400, price: 460}]\nparts: [{length: 1180, qty: 3}]\n";
    fs::write(folder.path().join("parts.yaml"), list).expect("written");
    let run = tiltwright_in(folder.path(), &["cutplan", "parts.yaml", "--csv", "a.csv", "--svg", "nowhere/a.svg"]);
    assert_eq!((run.code, run.stdout.as_str()), (3, ""), "{run:?}");
    assert_eq!(names_below(folder.path()), [folder.path().join("parts.yaml")]);
    let run = tiltwright_in(folder.path(), &["cutplan", "parts.yaml", "--csv", "a", "--svg", "a.svg"]);
    assert_eq!(run.code, 0, "{run:?}");
    assert!(folder.path().join("a").is_file() && folder.path().join("a.svg").is_file());
    let run = tiltwright_in(folder.path(), &["cutplan", "parts.yaml", "--csv", "b.svg", "--svg", "b.svg"]);
    assert_eq!(run.code, 2, "{run:?}");
    assert!(run.stderr.contains("two results") && !folder.path().join("b.svg").exists(), "{run:?}");
}

/// What cannot be said is not done: a device that is always full stands for a broken pipe to a file.
#[cfg(target_os = "linux")]
#[test]
fn a_result_that_cannot_be_printed_leaves_no_file() {
    let design = project().join("designs/sample.yaml");
    let design = design.to_str().expect("a path of text");
    for arguments in [
        &["plan", design][..],
        &["new", "mine.yaml"],
        &["cutlist", design, "--csv", "list.csv"],
        &["strength", design, "--model", "model.json"],
        &["tilts", "--latitude", "40", "--out", "charts/of/tilts"],
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let full = fs::OpenOptions::new().write(true).open("/dev/full").expect("the full device");
        let run = std::process::Command::new(assert_cmd::cargo::cargo_bin("tiltwright"))
            .current_dir(folder.path())
            .args(arguments)
            .stdout(full)
            .output()
            .expect("the binary starts");
        let said = String::from_utf8_lossy(&run.stderr);
        assert_eq!(run.status.code(), Some(3), "{arguments:?}: {said}");
        assert!(said.contains("standard output"), "{arguments:?}: {said}");
        assert_eq!(names_below(folder.path()), Vec::<PathBuf>::new(), "{arguments:?}");
    }
}
