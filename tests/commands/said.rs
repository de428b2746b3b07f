//! What a packet and the strength answer say of themselves: verdict, judgements, depths.

use crate::{
    common::{project, tiltwright, tiltwright_in},
    strength::{json, sample, utilisation, without_loads},
};
use serde_json::Value;
use std::{
    fs,
    path::{Path, PathBuf},
};
use tiltwright::loads::LEFT_OUT;

/// Words of a drawing in the order they stand in its file, lines joined.
fn words_of(file: &Path) -> String {
    let svg = fs::read_to_string(file).unwrap_or_else(|error| panic!("{}: {error}", file.display()));
    let words = svg.split('<').filter_map(|tag| tag.split_once('>')).map(|(_, words)| words.trim());
    words.filter(|words| !words.is_empty()).collect::<Vec<_>>().join(" ")
}

/// The sheet of the posts, whatever its number.
fn posts_sheet(folder: &Path) -> PathBuf {
    let files = fs::read_dir(folder).expect("sheets").map(|entry| entry.expect("an entry").path());
    let mut posts = files.filter(|path| path.to_string_lossy().ends_with("-posts.svg"));
    posts.next().expect("a sheet of posts")
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
    let posts = words_of(&posts_sheet(&folder.path().join("out/shallow/sheets")));
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
    assert!(!words_of(&posts_sheet(&folder.path().join("out/well/sheets"))).contains("DO NOT BUILD"));
}

#[test]
fn a_packet_that_fails_or_has_no_verdict_says_so_and_why_on_page_card_and_tables() {
    let shallow = sample().replace("embedment: 66 in", "embedment: 30 in");
    for (design, text, why) in [
        ("shallow", shallow, "see the calculation sheet. Utilisations above 1: P1, "),
        ("silent", without_loads(), "not computed, no verdict. The design gives neither wind nor snow."),
        ("well", sample(), ""),
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join("design.yaml"), text).expect("written");
        tiltwright_in(folder.path(), &["plan", "design.yaml", "--name", design]);
        let read = |name: &str| fs::read_to_string(folder.path().join("out").join(design).join(name)).expect(name);
        let page = read("index.html");
        let Some((_, after)) = page.split_once("<p class=\"warning\">") else {
            assert_eq!(design, "well");
            for name in ["index.html", "templates-a4.html", "calculation.html", "cut-plan.txt", "cut-list.csv"] {
                assert!(!read(name).contains("Strength: "), "{name}");
            }
            continue;
        };
        let (sentence, _) = after.split_once("</p>").expect("the end of the paragraph");
        assert!(sentence.contains(why) && !sentence.contains('<'), "{sentence}");
        // On top, and over the cut list.
        assert_eq!(page.matches(sentence).count(), 2, "{sentence}");
        assert!(page.find(sentence) < page.find("<p class=\"caution\">"));
        assert!(page.split_once("<h2>Cut list</h2>").expect("a cut list").1.starts_with("<p class=\"warning"));
        assert!(read("templates-a4.html").contains(sentence));
        assert!(read("cut-plan.txt").starts_with(sentence));
        let card: Vec<String> = read("tilt-card.txt").lines().map(|l| l.trim_matches(['|', ' ']).to_string()).collect();
        assert!(card.join(" ").contains(sentence), "{card:?}");
        for name in ["cut-list.csv", "hardware.csv", "cut-plan.csv"] {
            let text = read(name);
            let mut table = csv::Reader::from_reader(text.as_bytes());
            assert_eq!(table.headers().expect("a heading").get(0), Some("warning"), "{name}");
            let rows: Vec<csv::StringRecord> = table.records().collect::<Result<_, _>>().expect("a table");
            assert!(!rows.is_empty() && rows.iter().all(|row| row.get(0) == Some(sentence)), "{name}: {text}");
        }
        if design == "shallow" {
            assert!(read("calculation.html").contains(sentence));
        }
    }
}

#[test]
fn the_state_beside_a_number_is_that_of_its_own_row() {
    let answer = json(&sample());
    let rows = answer["rows"].as_array().expect("rows");
    let mut mixed = 0;
    for check in answer["checks"].as_array().expect("checks") {
        let of_check: Vec<&Value> = rows.iter().filter(|row| row["check"] == check["check"]).collect();
        // Rows come worst first, so the first with a number governs.
        let Some(governing) = of_check.iter().find(|row| row["utilisation"].is_number()) else { continue };
        assert_eq!(check["utilisation"], governing["utilisation"], "{check}");
        assert_eq!((&check["state"], &check["why"]), (&governing["state"], &governing["why"]), "{check}");
        let only_values = of_check.iter().all(|row| row["state"] == governing["state"]);
        assert_eq!(check["other_rows"].is_null(), only_values || governing["state"] != "value", "{check}");
        mixed += usize::from(!check["other_rows"].is_null());
    }
    assert!(mixed > 0, "some check has rows of two states");
    let run = tiltwright(&["strength"]);
    assert!(run.stdout.contains("value; other rows: judgement (a person leaning, 200 lbf (890 N))"), "{}", run.stdout);
}

#[test]
fn every_judgement_stands_once_below_the_verdict_and_envelopes_are_defined() {
    let answer = json(&sample());
    let judgements: Vec<&str> =
        answer["judgements"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
    for row in answer["rows"].as_array().expect("rows").iter().filter(|row| row["state"] == "judgement") {
        let why = row["why"].as_str().expect("a reason");
        let named = judgements.iter().filter(|j| **j == why || j.starts_with(&format!("{why}: ")));
        assert_eq!(named.count(), 1, "{why}: {judgements:#?}");
    }
    let run = tiltwright(&["strength"]);
    let (_, below) = run.stdout.split_once("\nVerdict: ").expect("a verdict");
    assert!(judgements.len() > 3 && judgements.iter().all(|judgement| below.contains(judgement)), "{below}");
    for (name, words, here) in [("J1", "up to 45°", "No load of this design"), ("J2", "as far as 60°", "ends at 45°")]
    {
        let run = tiltwright(&["explain", name]);
        assert!(run.code == 0 && run.stdout.contains(words) && run.stdout.contains(here), "{}", run.stdout);
    }
}

#[test]
fn a_missing_verdict_names_every_reason() {
    let run = tiltwright_in(&project(), &["strength", "designs/steel-frame.yaml", "--format", "json"]);
    let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
    let reasons: Vec<&str> = answer["reasons"].as_array().expect("a list").iter().filter_map(Value::as_str).collect();
    for needed in ["Table C-A-7.1", "joined", "clips on metal"] {
        assert_eq!(reasons.iter().filter(|reason| reason.contains(needed)).count(), 1, "{needed}: {reasons:#?}");
    }
    let verdict = answer["verdict"].as_str().expect("a sentence");
    assert!(verdict.contains(reasons[0]) && verdict.contains(&format!("and {} more", reasons.len() - 1)), "{verdict}");
}

#[test]
fn the_calculation_sheet_says_what_went_in_and_what_its_loads_rest_on() {
    let folder = tempfile::tempdir().expect("a folder");
    let page = |design: &str| {
        let run =
            tiltwright_in(&project(), &["plan", design, "--name", "p", "--out", &folder.path().display().to_string()]);
        assert_eq!(run.stderr, "");
        let text = fs::read_to_string(folder.path().join("p/calculation.html")).expect("a sheet");
        fs::remove_dir_all(folder.path().join("p")).expect("removed");
        text
    };
    let wood = page("designs/sample.yaml");
    // The design writes n_h in lb/in3 and asks for dry service.
    for words in
        ["25 lb/in³", "always wet service", "A307 Gr A", "thermal factor", "slides off", "judgement: J2, at 61.05°"]
    {
        assert!(wood.contains(words), "{words}");
    }
    let steel = page("designs/steel-frame.yaml");
    assert!(
        steel.contains("F_y ")
            && steel.contains("Why no verdict can be given")
            && !steel.contains("always wet service")
    );
}

/// Drifts, ice, the roof below: one list, in every place where a reader finds a verdict.
#[test]
fn what_is_left_out_is_said_wherever_a_verdict_stands() {
    let all = |what: &str, said: &str| {
        let said = said.replace("&#39;", "'");
        for left_out in LEFT_OUT {
            assert!(said.contains(left_out), "{what} is silent on {left_out}: {said}");
        }
    };
    let folder = tempfile::tempdir().expect("a folder");
    fs::write(folder.path().join("sample.yaml"), sample()).expect("written");
    // The same without its block of loads.
    let mut within = false;
    let quiet = sample()
        .lines()
        .filter(|line| {
            within = *line == "loads:" || (within && line.starts_with(' '));
            !within
        })
        .collect::<Vec<_>>()
        .join("\n");
    fs::write(folder.path().join("quiet.yaml"), quiet).expect("written");
    for arguments in
        [&["strength", "sample.yaml"][..], &["strength", "quiet.yaml"], &["explain", "embedment", "sample.yaml"]]
    {
        all(&format!("{arguments:?}"), &tiltwright_in(folder.path(), arguments).stdout);
        let run = tiltwright_in(folder.path(), &[arguments, &["--format", "json"]].concat());
        let answer: Value =
            serde_json::from_str(&run.stdout).unwrap_or_else(|e| panic!("{arguments:?}: {e} {}", run.stderr));
        assert_eq!(answer["exclusions"], serde_json::json!(LEFT_OUT), "{arguments:?}");
    }
    let run = tiltwright_in(folder.path(), &["plan", "sample.yaml", "--name", "sample"]);
    all("plan", &run.stdout);
    for page in ["index.html", "calculation.html"] {
        let text = fs::read_to_string(folder.path().join("out/sample").join(page)).expect("a page");
        all(page, &text);
    }
}

#[test]
fn page_and_card_name_the_place_and_the_bolts_in_the_same_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let south = sample().replace("latitude: 40 deg", "latitude: -37 deg");
    fs::write(folder.path().join("south.yaml"), &south).expect("written");
    tiltwright_in(folder.path(), &["plan", "south.yaml", "--name", "south"]);
    let read = |name: &str| fs::read_to_string(folder.path().join("out/south").join(name)).expect("a file");
    for name in ["index.html", "tilt-card.txt"] {
        assert!(read(name).contains("latitude 37° S, facing true north"), "{name}");
    }
    let page = read("index.html");
    assert!(page.contains("<td>axle ") && !page.contains("turning bolt"), "{page}");
    let told = tiltwright_in(folder.path(), &["tilts", "south.yaml"]).stdout;
    assert!(told.contains("latitude 37° S, facing true north"), "{told}");
}
