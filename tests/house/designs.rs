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
    assert!(on(design::Ground::Ground) && on(design::Ground::Roof));
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
        assert!(!design.shop.stock.is_empty() && design.shop.stock.iter().all(|s| s.price > 0.0), "{}", design.name);
        assert!(design.support.stay.pin_behind.is_some_and(|behind| to_mm(behind) > 0.0), "{}", design.name);
    }
}
