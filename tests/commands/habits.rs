//! What people write out of habit, read as it is meant; what is near it, refused with what is accepted.

use crate::common::{Run, project, tiltwright, tiltwright_in};
use serde_json::Value;

/// A ready design with some text replaced, run through a command.
fn with(design: &str, changes: &[(&str, &str)], arguments: &[&str]) -> Run {
    let mut text = std::fs::read_to_string(project().join("designs").join(design)).expect("a ready design");
    for (from, to) in changes {
        assert!(text.contains(from), "`{from}` stands in {design}");
        text = text.replacen(from, to, 1);
    }
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("own.yaml"), text).expect("a file");
    tiltwright_in(folder.path(), &[&arguments[..1], &["own.yaml"], &arguments[1..]].concat())
}

/// The JSON of a command that must succeed.
fn json(design: &str, changes: &[(&str, &str)], command: &str) -> Value {
    let run = with(design, changes, &[command, "--format", "json"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{changes:?}");
    serde_json::from_str(&run.stdout).expect("JSON")
}

/// The command refuses the change on its line, and says each of the words.
fn refused(design: &str, change: (&str, &str), words: &[&str]) {
    let run = with(design, &[change], &["drill"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{change:?}");
    for word in [&["own.yaml:", change.1], words].concat() {
        assert!(run.stderr.contains(word), "`{word}` is not in:\n{}", run.stderr);
    }
}

/// Some readers of YAML take `5:12` for a number to the base of sixty, 312.
#[test]
fn a_roof_pitch_is_rise_in_run() {
    let south = ("roof_facing: 215 deg", "roof_facing: 180 deg");
    let row = |pitch: &str| json("runners-roof.yaml", &[("roof_pitch: 8 deg", pitch), south], "drill")["rows"].clone();
    let offset = |rows: &Value| rows[0]["holes"][0]["exact_mm"].as_f64().expect("a number");
    let exact = row("roof_pitch: 22.619864948040426 deg");
    for pitch in ["roof_pitch: 5:12", "roof_pitch: '5:12'", "roof_pitch: 5/12", "roof_pitch: 5 in 12"] {
        let found = row(pitch);
        assert!((offset(&found) - offset(&exact)).abs() < 1e-6, "{pitch}");
    }
    let ground = |slope: &str| json("runners-ground.yaml", &[("    on: ground", slope)], "drill")["rows"].clone();
    let given = "    on: ground\n    ground_slope: 4.763641690726179 deg";
    assert!(ground(given) != ground("    on: ground"));
    let sloping = ground("    on: ground\n    ground_slope: 1:12");
    assert!((offset(&sloping) - offset(&ground(given))).abs() < 1e-6);
    refused(
        "runners-roof.yaml",
        ("roof_pitch: 8 deg", "roof_pitch: 5"),
        &["5 has no unit", "deg, or as rise in run, 5:12"],
    );
    refused(
        "runners-roof.yaml",
        ("roof_pitch: 8 deg", "roof_pitch: 5:0"),
        &["`5:0` is not a slope", "`5:12` or `22.6 deg`"],
    );
}

#[test]
fn typographic_quotes_are_feet_and_inches() {
    let cut = |leg: &str, bolt: &str| {
        json("sample.yaml", &[("leg: 12 in", leg), ("  bolt: 5/8 in", bolt)], "cutlist").to_string()
    };
    let plain = cut("leg: 1 ft 3 in", "  bolt: 5/8 in");
    for leg in ["leg: 1' 3\"", "leg: 1’ 3”", "leg: 1′ 3″", "leg: 1’3”", "leg: 15″", "leg: 1’ 3’’"] {
        assert_eq!(cut(leg, "  bolt: 5/8”"), plain, "{leg}");
    }
    let square = |width: &str| {
        tiltwright(&["square", "--width", width, "--height", "4ft", "--diagonals", "6ft5in,6ft4-3/4in"]).stdout
    };
    assert!(!square("5ft 3in").is_empty());
    assert_eq!(square("5’ 3”"), square("5ft 3in"));
    assert_eq!(square("5′3″"), square("5ft 3in"));
    refused("sample.yaml", ("leg: 12 in", "leg: 12°"), &["`°` in 12° is no unit of length", "mm, cm, m, in, ft"]);
}

#[test]
fn a_latitude_is_north_or_south() {
    let tilts = |latitude: &str| json("sample.yaml", &[("latitude: 40 deg", latitude)], "tilts").to_string();
    for (given, plain) in [
        ("latitude: 44 N", "latitude: 44 deg"),
        ("latitude: 44° N", "latitude: 44 deg"),
        ("latitude: 44.5 deg north", "latitude: 44.5 deg"),
        ("latitude: 44 S", "latitude: -44 deg"),
    ] {
        assert_eq!(tilts(given), tilts(plain), "{given}");
    }
    let asked = |arguments: &[&str]| tiltwright(&[&["tilts"], arguments].concat()).stdout;
    assert!(asked(&["--latitude", "44 N"]).starts_with("Best tilts at latitude 44° N"));
    assert_eq!(asked(&["--latitude", "44S"]), asked(&["--latitude", "-44"]));
    assert_eq!(
        asked(&["--latitude", "44", "--longitude", "105 W"]),
        asked(&["--latitude", "44", "--longitude", "-105"])
    );
    refused("sample.yaml", ("latitude: 40 deg", "latitude: 40"), &["40 has no unit", "N, S, deg"]);
    refused(
        "sample.yaml",
        ("latitude: 40 deg", "latitude: 40 W"),
        &["`W` in 40 W is no unit of latitude", "N, S, deg"],
    );
    refused("sample.yaml", ("latitude: 40 deg", "latitude: -40 N"), &["`-40 N` is not a latitude", "`44 N`, `44 S`"]);
    refused("sample.yaml", ("latitude: 40 deg", "latitude: 91 N"), &["`site.latitude` is 91°", "it lies between -"]);
    refused("sample.yaml", ("longitude: -105 deg", "longitude: 105 N"), &["E, W, deg"]);
}

#[test]
fn a_survey_gives_its_place_by_the_compass() {
    let site = |place: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        let text = format!("{place}\nbearings: true\npoints:\n  - {{bearing: 0 deg, elevation: 2 deg}}\n");
        std::fs::write(folder.path().join("survey.yaml"), text).expect("a file");
        tiltwright_in(folder.path(), &["site", "survey.yaml"])
    };
    let plain = site("latitude: 40 deg\nlongitude: -105 deg");
    assert!(plain.code < 2, "{}", plain.stderr);
    assert_eq!(site("latitude: 40 N\nlongitude: 105° W").stdout, plain.stdout);
}

#[test]
fn a_price_may_carry_its_sign() {
    let cost = |price: &str| {
        let changes = [("length: 8 ft, price: 4.60", price), ("item: clip, price: 1.10", "item: clip, price: $1.10")];
        json("sample.yaml", &changes, "cutlist").to_string()
    };
    let plain = cost("length: 8 ft, price: 31");
    assert_ne!(plain, cost("length: 8 ft, price: 4.60"));
    for price in ["length: 8 ft, price: $31", "length: 8 ft, price: $31.00", "length: 8 ft, price: \"31 $\""] {
        assert_eq!(cost(price), plain, "{price}");
    }
    refused(
        "sample.yaml",
        ("item: clip, price: 1.10", "item: clip, price: 1.10 dollars"),
        &["`1.10 dollars` is no price", "31.50, or one with its sign, $31.50"],
    );
    refused("sample.yaml", ("item: clip, price: 1.10", "item: clip, price: $-2"), &["price: 4.58", "price: $4.58"]);
}

/// Plain prices of a list of parts count cents; `$8` are eight dollars all the same.
#[test]
fn a_list_of_parts_counts_signed_prices_whole() {
    let plan = |money: &str, price: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        let text = format!(
            "unit: mm\n{money}kerf: 3\nstock:\n  - {{length: 2400, price: {price}}}\nparts:\n  - {{length: 1180, qty: 2}}\n"
        );
        std::fs::write(folder.path().join("list.yaml"), text).expect("a file");
        tiltwright_in(folder.path(), &["cutplan", "list.yaml", "--format", "json"])
    };
    let plain = plan("", "858");
    assert_eq!(plain.code, 0, "{}", plain.stderr);
    assert_eq!(plan("", "$8.58").stdout, plain.stdout);
    assert_eq!(plan("", "8.58 €").stdout, plain.stdout);
    assert_eq!(plan("money: dollar\n", "$8.58").stdout, plan("money: dollar\n", "8.58").stdout);
    let other = plan("money: euro\n", "$8.58");
    assert_eq!((other.code, other.stdout.as_str()), (2, ""));
    for words in [
        "error[other-money]",
        "list.yaml:5",
        "the price $8.58",
        "money, euro",
        "leave out the $, or change `money: euro`",
    ] {
        assert!(other.stderr.contains(words), "`{words}` is not in:\n{}", other.stderr);
    }
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("parts.csv"), "length,qty\n1180,2\n").expect("a file");
    std::fs::write(folder.path().join("stock.csv"), "length,price\n2400,$8.58\n").expect("a file");
    let table = tiltwright_in(
        folder.path(),
        &["cutplan", "parts.csv", "--stock", "stock.csv", "--unit", "mm", "--kerf", "3", "--format", "json"],
    );
    assert_eq!(table.code, 0, "{}", table.stderr);
    assert_eq!(serde_json::from_str::<Value>(&table.stdout).expect("JSON")["cost"], 858);
}

#[test]
fn a_pipe_is_named_by_its_schedule() {
    let drill = |section: &str| with("steel-frame.yaml", &[("    section: HSS4x4x1/4", section)], &["drill"]);
    let plain = drill("    section: Pipe 4 STD");
    for section in ["    section: 4 in sch 40", "    section: 4” sch 40", "    section: schedule 40 pipe 4 in"] {
        let found = drill(section);
        assert_eq!((found.code, &found.stdout), (plain.code, &plain.stdout), "{section}: {}", found.stderr);
    }
    refused(
        "sample.yaml",
        ("    section: 4x8", "    section: 4 in sch 80"),
        &[
            "no section is called 4 in sch 80",
            "pipe is held in schedule 40, `2 in sch 40`, by nominal size: 1-1/4, 1-1/2, 2,",
        ],
    );
}
