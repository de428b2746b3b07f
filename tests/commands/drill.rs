//! `drill` end to end: whatever a script needs to find every tilt again stands in the JSON.

use crate::common::{project, tiltwright};
use serde_json::Value;
use tiltwright::quantities::to_mm;

const MARK_MM: [(&str, f64); 2] = [("us", 25.4 / 16.0), ("metric", 1.0)];
/// Wanted by whoever checks a packet: tilts found again from the JSON alone [deg].
const SAME_TILT_DEG: f64 = 0.02;

fn designs() -> Vec<String> {
    let mut files: Vec<String> = std::fs::read_dir(project().join("designs"))
        .expect("designs/ is there")
        .map(|f| f.expect("an entry").path().display().to_string())
        .collect();
    files.sort();
    files
}

fn drill(design: &str, units: &str) -> Value {
    let run = tiltwright(&["drill", design, "--format", "json", "--units", units]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{design} {units}");
    serde_json::from_str(&run.stdout).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

fn pair(value: &Value) -> [f64; 2] {
    [number(&value[0]), number(&value[1])]
}

/// The tilt near `near` that a hole holds, from the linkage as it stands in the JSON: by steps and bisection.
fn recomputed(linkage: &Value, offset_mm: f64, near: f64) -> f64 {
    let [u, w] = pair(&linkage["frame_pin"]);
    let (fixed, stay) = if linkage["fixed_pin"].is_null() {
        let (origin, direction) = (pair(&linkage["row_origin"]), pair(&linkage["row_direction"]));
        let at = [origin[0] + offset_mm * direction[0], origin[1] + offset_mm * direction[1]];
        (at, number(&linkage["stay_mm"]))
    } else {
        (pair(&linkage["fixed_pin"]), offset_mm)
    };
    let miss = |tilt_deg: f64| {
        let (sin, cos) = tilt_deg.to_radians().sin_cos();
        (u * cos - w * sin - fixed[0]).hypot(u * sin + w * cos - fixed[1]) - stay
    };
    let (mut low, mut high) = (near - 1.0, near + 1.0);
    assert!(miss(low) * miss(high) < 0.0, "no tilt within a degree of {near}");
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if miss(low) * miss(middle) <= 0.0 { high = middle } else { low = middle }
    }
    low
}

#[test]
fn every_tilt_is_found_again_from_the_json_alone() {
    let mut worst: f64 = 0.0;
    for design in designs() {
        for (units, mark) in MARK_MM {
            let answer = drill(&design, units);
            let row = &answer["rows"][0];
            for hole in row["holes"].as_array().expect("holes") {
                let reached = number(&hole["reached_deg"]);
                let again = recomputed(&row["linkage"], number(&hole["offset_mm"]), reached);
                worst = worst.max((again - reached).abs());
                assert!((again - reached).abs() < SAME_TILT_DEG, "{design} {units}: {again} against {reached}");
                let exact = recomputed(&row["linkage"], number(&hole["exact_mm"]), reached);
                let asked = number(&hole["tilt_deg"]);
                assert!(
                    (exact - asked).abs() < SAME_TILT_DEG,
                    "{design} {units}: exact hole gives {exact}, not {asked}"
                );
                // A curve bends a little over half a mark: a tenth more than the rate at the hole is allowed.
                let rounding = number(&hole["deg_per_mark"]) / 2.0 * 1.1 + 1e-6;
                assert!((reached - asked).abs() <= rounding, "{design} {units}: {reached} for {asked}");
                assert!((number(&hole["offset_mm"]) - number(&hole["exact_mm"])).abs() <= mark / 2.0 + 1e-9);
                let marks = number(&hole["from_end_mm"]) / mark;
                assert!((marks - marks.round()).abs() < 1e-6, "{design} {units}: the ticket stands on no mark");
                assert!(number(&hole["lever_share"]) >= 0.25 && number(&hole["diameter_mm"]) > 6.0);
            }
        }
    }
    assert!(worst < 1e-9, "{worst}");
}

#[test]
fn every_row_keeps_the_form_that_scripts_rely_on() {
    for design in designs() {
        let answer = drill(&design, "metric");
        let kind = answer["support"].as_str().expect("a support");
        let row = &answer["rows"][0];
        assert!(row["part"].as_str().is_some_and(|mark| !mark.is_empty()), "{design}");
        let linkage = &row["linkage"];
        let is_null = |field: &str| linkage[field].is_null();
        match kind {
            "posts" => assert!(
                !is_null("fixed_pin") && is_null("row_origin") && is_null("row_direction") && is_null("stay_mm")
            ),
            "runners" => assert!(
                is_null("fixed_pin") && !is_null("row_origin") && !is_null("row_direction") && !is_null("stay_mm")
            ),
            other => panic!("{design} stands on {other}"),
        }
        let tilts: Vec<f64> = row["holes"].as_array().expect("holes").iter().map(|h| number(&h["tilt_deg"])).collect();
        assert!(tilts.windows(2).all(|t| t[0] < t[1]) && tilts.len() >= 3, "{design}: {tilts:?}");
        let read = tiltwright::design::read(Some(std::path::Path::new(design.as_str()))).expect("a ready design reads");
        let behind = to_mm(read.design.support.stay.pin_behind.expect("every ready design writes it"));
        let stands = pair(&linkage["frame_pin"])[1];
        // Below a hinge the pin stands behind the hinge line, which is not the line its distance is written from.
        if kind == "runners" {
            assert!(stands < 0.0, "{design}: {stands}");
            continue;
        }
        assert!(
            (stands + behind).abs() <= MARK_MM[1].1 / 2.0,
            "{design}: the pin stands {stands}, written {behind} behind the axle"
        );
    }
}

#[test]
fn an_exact_place_is_the_same_on_every_tape() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = std::fs::read_to_string(project().join("designs/sample.yaml")).expect("the sample");
    let own = text.split("\ntilts:").next().expect("a beginning").to_string() + "\nseasons: 4\n";
    std::fs::write(folder.path().join("own.yaml"), own).expect("a file");
    let own = folder.path().join("own.yaml").display().to_string();
    let mut moved = 0;
    for design in designs().into_iter().chain([own]) {
        let [us, metric] = ["us", "metric"].map(|units| {
            let run = tiltwright(&["cutlist", &design, "--format", "json", "--units", units]);
            assert_eq!(run.code, 0, "{}", run.stderr);
            serde_json::from_str::<Value>(&run.stdout).expect("JSON")["pieces"].clone()
        });
        let holes = |pieces: &Value| {
            let pieces = pieces.as_array().expect("pieces").iter();
            pieces.flat_map(|piece| piece["holes"].as_array().expect("holes").clone()).collect::<Vec<_>>()
        };
        for (us, metric) in holes(&us).iter().zip(holes(&metric)) {
            assert_eq!((&us["exact_mm"], &us["tilts_deg"]), (&metric["exact_mm"], &metric["tilts_deg"]), "{design}");
            moved += usize::from(us["from_end_mm"] != metric["from_end_mm"]);
        }
        let [us, metric] = ["us", "metric"].map(|units| drill(&design, units)["rows"][0]["holes"].clone());
        for (us, metric) in us.as_array().expect("holes").iter().zip(metric.as_array().expect("holes")) {
            assert_eq!((&us["exact_mm"], &us["tilt_deg"]), (&metric["exact_mm"], &metric["tilt_deg"]), "{design}");
        }
    }
    assert!(moved > 50, "the marks of the two tapes differ: {moved}");
}

#[test]
fn spring_and_autumn_share_a_hole() {
    let answer = drill("designs/sample.yaml", "us");
    let holes = answer["rows"][0]["holes"].as_array().expect("holes");
    assert_eq!(holes.iter().filter(|h| number(&h["tilt_deg"]) == 37.0).count(), 1);
}

#[test]
fn without_a_file_the_built_in_design_is_drilled_in_its_own_units() {
    let built_in = tiltwright(&["drill"]);
    assert_eq!(built_in.code, 0);
    assert_eq!(built_in.stdout, tiltwright(&["drill", "designs/sample.yaml"]).stdout);
    assert!(built_in.stdout.contains("1/16 in") && built_in.stdout.contains("Caution"), "{}", built_in.stdout);
    let metric = tiltwright(&["drill", "--units", "metric"]).stdout;
    assert!(metric.contains("for 1 mm of error"), "{metric}");
}

#[test]
fn a_pair_of_equal_frames_drills_twice_as_many_stays() {
    assert_eq!(drill("designs/sample.yaml", "us")["rows"][0]["quantity"], 2);
    let pair = drill("designs/two-frames.yaml", "us");
    assert_eq!((&pair["rows"][0]["quantity"], &pair["frames"]), (&Value::from(4), &Value::from(2)));
}
