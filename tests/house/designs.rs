//! Ready designs run as they stand, and between them show every support and seating.

use std::path::{Path, PathBuf};
use tiltwright::design::{self, BUILTIN_TEXT, Base, Orientation, Placement, Seating, Tilts};
use tiltwright::quantities::{Units, to_mm};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("designs")
}

fn designs() -> Vec<PathBuf> {
    let files = std::fs::read_dir(folder()).expect("designs/ is there").map(|f| f.expect("an entry").path());
    let mut files: Vec<PathBuf> = files.filter(|p| p.extension().is_some_and(|e| e == "yaml")).collect();
    files.sort();
    files
}

#[test]
fn every_ready_design_runs_through_every_command_that_takes_one() {
    for design in designs() {
        for arguments in [&["drill"][..], &["cutlist"], &["tilts"]] {
            for units in ["us", "metric"] {
                let run = assert_cmd::Command::cargo_bin("tiltwright")
                    .expect("the binary is built with the tests")
                    .args(arguments)
                    .arg(&design)
                    .args(["--units", units])
                    .output()
                    .expect("the binary starts");
                let words = String::from_utf8_lossy(&run.stderr);
                assert!(run.status.success(), "{arguments:?} {} {units}: {words}", design.display());
            }
        }
    }
}

/// Ready designs that hold: `strength` ends with 0.
const HOLDING: [&str; 4] = ["landscape-purlins", "lapped-double", "runners-ground", "sample"];

/// Ready designs that do not hold, each with the reason as `strength` gives it.
const OPEN: [(&str, &str); 6] = [
    ("aluminium-deck", "first yield alone: buckling of aluminium is not held, nor strength near a weld"),
    ("posts-outside", "EN resistances are not encoded"),
    ("runners-roof", "the roof itself is not checked"),
    ("steel-frame", "how rails and stiles of metal are joined, by welds or bolts, is not part of a design"),
    ("steel-stays", "AISC 360-16 Table C-A-7.1 is from memory"),
    ("two-frames", "ASCE 7-22 §7.3.3, p_m,max by risk category is from memory"),
];

fn strength(name: &str) -> (i32, serde_json::Value) {
    let run = assert_cmd::Command::cargo_bin("tiltwright")
        .expect("the binary is built with the tests")
        .args(["strength", "--format", "json"])
        .arg(folder().join(name).with_extension("yaml"))
        .output()
        .expect("the binary starts");
    let answer = serde_json::from_slice(&run.stdout).unwrap_or_else(|e| panic!("{name}: {e}"));
    (run.status.code().expect("no signal ended the run"), answer)
}

#[test]
fn each_ready_design_holds_or_says_why_not() {
    let mut named: Vec<&str> = HOLDING.into_iter().chain(OPEN.map(|(name, _)| name)).collect();
    named.sort_unstable();
    let files = designs();
    let all: Vec<&str> = files.iter().map(|f| f.file_stem().and_then(|s| s.to_str()).expect("a name")).collect();
    assert_eq!(named, all, "every ready design stands in one of the two lists");
    for name in HOLDING {
        let (code, answer) = strength(name);
        assert_eq!(code, 0, "{name}: {}", answer["verdict"]);
        assert_eq!(answer["holds"], true, "{name}");
        let uses = answer["rows"].as_array().expect("rows").iter().filter_map(|row| row["utilisation"].as_f64());
        let worst = uses.fold(0.0, f64::max);
        assert!(worst > 0.5 && worst < 1.0, "{name}: {worst}");
        for check in answer["checks"].as_array().expect("checks") {
            let state = check["state"].as_str().expect("a state");
            assert!(["value", "judgement", "does not apply"].contains(&state), "{name}: {check}");
        }
    }
    for (name, why) in OPEN {
        let (code, answer) = strength(name);
        assert_eq!((code, &answer["holds"]), (1, &serde_json::Value::Bool(false)), "{name}");
        assert!(answer.to_string().contains(why), "{name} does not say: {why}");
    }
}

#[test]
fn the_sample_is_the_built_in_design() {
    let sample = std::fs::read_to_string(folder().join("sample.yaml")).expect("the sample is text");
    assert_eq!(sample, BUILTIN_TEXT);
}

#[test]
fn the_ready_designs_show_every_support_seating_and_both_systems_of_units() {
    let all: Vec<design::Design> = designs()
        .iter()
        .map(|file| design::read(Some(file)).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display())).design)
        .collect();
    let posts =
        |placement| all.iter().any(|d| matches!(&d.support.base, Base::Posts(posts) if posts.placement == placement));
    assert!(posts(Placement::Inside) && posts(Placement::Outside));
    let on = |ground| all.iter().any(|d| matches!(&d.support.base, Base::Runners(runners) if runners.on == ground));
    assert!(on(design::Ground::Ground) && on(design::Ground::Roof) && on(design::Ground::Deck));
    assert!(all.iter().any(|d| d.array.frames == 2));
    assert!(all.iter().any(|d| matches!(d.frame.seating, Seating::Lapped { .. })));
    assert!(all.iter().any(|d| matches!(d.frame.seating, Seating::Inset { .. })));
    assert!(all.iter().any(|d| matches!(d.frame.seating, Seating::OnPurlins { .. })));
    assert!(all.iter().any(|d| d.array.orientation == Orientation::Landscape));
    assert!(all.iter().any(|d| d.units == Units::Us) && all.iter().any(|d| d.units == Units::Metric));
    let mut sizes: Vec<i64> = all.iter().map(|d| to_mm(d.panel.long_side).round() as i64).collect();
    sizes.sort_unstable();
    sizes.dedup();
    assert!(sizes.len() >= 2, "{sizes:?}");
    for design in &all {
        let tilts = match &design.tilts {
            Tilts::Given(tilts) => tilts.len(),
            Tilts::Seasons(count) => *count,
        };
        assert!((3..=4).contains(&tilts), "{} has {tilts} tilts", design.name);
        assert!(
            !design.shop.stock.is_empty() && design.shop.stock.iter().all(|s| s.price.is_some_and(|p| p > 0.0)),
            "{}",
            design.name
        );
        assert!(design.support.stay.pin_behind.is_some_and(|behind| to_mm(behind) >= 0.0), "{}", design.name);
    }
    let behind = |sign| all.iter().any(|d| d.support.stay.pin_behind.is_some_and(|b| (to_mm(b) > 0.0) == sign));
    assert!(behind(true) && behind(false), "pins behind the axle, and on the line of it");
}
