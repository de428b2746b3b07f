//! What a packet and the strength answer say of themselves: verdict, judgements, depths.

use crate::{
    common::tiltwright_in,
    strength::{json, sample, utilisation},
};
use serde_json::Value;
use std::{fs, path::Path};

/// Words of a drawing in the order they stand in its file, lines joined.
fn words_of(file: &Path) -> String {
    let svg = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let words = svg.split('<').filter_map(|tag| tag.split_once('>')).map(|(_, words)| words.trim());
    words.filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" ")
}

#[test]
fn a_packet_whose_checks_fail_says_so_on_stdout_and_on_every_drawing() {
    let folder = tempfile::tempdir().expect("a folder");
    let shallow = sample().replace("embedment: 66 in", "embedment: 30 in");
    fs::write(folder.path().join("shallow.yaml"), &shallow).expect("written");
    let run = tiltwright_in(folder.path(), &["plan", "shallow.yaml", "--name", "shallow"]);
    assert_eq!(run.code, 1, "{}", run.stderr);
    let report = json(&shallow);
    let verdict = report["verdict"].as_str().expect("a sentence");
    assert!(verdict.contains("checks fail") && run.stdout.contains(&format!("Strength: {verdict}.")), "{}", run.stdout);
    let said = tiltwright_in(folder.path(), &["plan", "shallow.yaml", "--name", "shallow", "--format", "json"]);
    let answer: Value = serde_json::from_str(&said.stdout).expect("JSON");
    assert_eq!((answer["verdict"].as_str(), answer["holds"].as_bool()), (Some(verdict), Some(false)));
    let drawings: Vec<&str> = answer["files"]
        .as_array()
        .expect("files")
        .iter()
        .filter_map(Value::as_str)
        .filter(|f| f.ends_with(".svg"))
        .collect();
    assert!(drawings.len() > 20);
    let count = verdict.split(' ').next().expect("a count");
    for file in drawings {
        let words = words_of(&folder.path().join("out/shallow").join(file));
        assert!(
            words.contains(&format!("Strength: {count} checks FAIL, see the calculation sheet. CAUTION.")),
            "{file}: {words}"
        );
    }
    // The check divides the depth asked for by the depth given.
    let asked_in = 30.0 * utilisation(&report, "embedment");
    let posts = words_of(&folder.path().join("out/shallow/sheets/04-posts.svg"));
    let (_, after) = posts.split_once("the strength sheet asks for ").expect("the depth asked for");
    let mut parts = after.split(' ');
    let mut next = || parts.next().expect("feet and inches");
    let (feet, _, inches) = (next(), next(), next());
    let inches: f64 = inches
        .split(['-'])
        .map(|part| {
            part.split_once('/').map_or_else(
                || part.parse::<f64>().expect("a number"),
                |(a, b)| a.parse::<f64>().expect("a number") / b.parse::<f64>().expect("a number"),
            )
        })
        .sum();
    let said_in = 12.0 * feet.parse::<f64>().expect("feet") + inches;
    assert!(posts.contains("DO NOT BUILD AS DRAWN") && (0.0..=1.0 / 16.0).contains(&(said_in - asked_in)), "{posts}");
    let well = tiltwright_in(folder.path(), &["plan", "--name", "well"]);
    assert!(well.code == 0 && well.stdout.contains("Strength: no utilisation above 1"), "{}", well.stdout);
    assert!(!words_of(&folder.path().join("out/well/sheets/04-posts.svg")).contains("DO NOT BUILD"));
}
