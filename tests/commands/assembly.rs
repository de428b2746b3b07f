//! Joints as things of their own: every fastener has its place.

use crate::common::{tiltwright, tiltwright_in, with};
use serde_json::Value;

const SAMPLE: &str = include_str!("../../designs/sample.yaml");
const RUNNERS: &str = include_str!("../../designs/runners-ground.yaml");

/// `assembly.json` of a design file.
fn packet(text: &str) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("design.yaml"), text).expect("writable");
    let run = tiltwright_in(folder.path(), &["plan", "design.yaml", "--out", ".", "--name", "packet"]);
    assert!(run.code < 2, "{}", run.stderr);
    let json = std::fs::read_to_string(folder.path().join("packet/assembly.json")).expect("written");
    serde_json::from_str(&json).expect("JSON")
}

fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().expect("a list").iter()
}

fn point(value: &Value) -> [f64; 3] {
    std::array::from_fn(|i| value[i].as_f64().expect("a number"))
}

#[test]
fn a_corner_screw_goes_through_one_piece_and_into_the_end_of_the_other() {
    let assembly = packet(SAMPLE);
    let corners: Vec<&Value> = list(&assembly["joints"]).filter(|j| j["use"] == "corner").collect();
    assert_eq!(corners.len(), 10, "five uprights, each with two ends");
    for joint in corners {
        let side = joint["parts"][0].as_str().expect("a part");
        assert!(side.starts_with('R'), "{side}");
        for fastener in list(&joint["fasteners"]) {
            // Lag 1/4 in, 4 in long: through the rail's 1-1/2 in, its head on the outer face.
            assert_eq!(fastener["length_mm"].as_f64(), Some(101.6));
            assert!((point(&fastener["axis"])[1].abs() - 1.0).abs() < 1e-12);
            // 67.5 % of a quarter inch in southern pine (NDS-2018 12.1.4.2: 60 to 75 % for 0.5 < G <= 0.6).
            assert_eq!(fastener["lead_hole_mm"].as_f64(), Some(4.28625));
        }
    }
}

#[test]
fn a_clip_bolt_stands_in_the_panel_makers_hole() {
    let assembly = packet(SAMPLE);
    let mut holes = 0;
    for joint in list(&assembly["joints"]).filter(|j| j["use"] == "clip") {
        let panel = joint["parts"][1].as_str().and_then(|p| p.strip_prefix("panel/")).expect("a panel");
        let panel = list(&assembly["panels"]).find(|p| p["index"].as_u64() == panel.parse().ok()).expect("listed");
        let (origin, size) = (point(&panel["box"]["origin"]), point(&panel["box"]["size"]));
        let bolt = list(&joint["fasteners"]).find(|f| f["kind"] == "bolt").expect("a bolt");
        let at = point(&bolt["from"]);
        // The design declares holes 1090 mm apart across and 1400 mm along, about the panel's middle.
        let away: [f64; 2] = std::array::from_fn(|i| (at[i] - origin[i] - size[i] / 2.0).abs());
        assert!((away[0] - 545.0).abs() < 1e-3 && (away[1] - 700.0).abs() < 1e-3, "{away:?}");
        holes += 1;
    }
    assert_eq!(holes, 8, "four to each of two panels");
}

#[test]
fn what_turns_is_carried_by_one_rotation_about_the_axle() {
    // The frame pin, turned by a tilt, and the post pin stand a stay's hole apart at every tilt.
    let assembly = packet(SAMPLE);
    let of = |use_: &str| {
        let joint = list(&assembly["joints"]).find(|j| j["use"] == use_).expect("a joint");
        point(&joint["fasteners"][0]["from"])
    };
    let (frame_pin, fixed_pin) = (of("frame pin"), of("fixed pin"));
    let drill = tiltwright(&["drill", "designs/sample.yaml", "--format", "json"]);
    let drill: Value = serde_json::from_str(&drill.stdout).expect("JSON");
    for tilt in list(&assembly["tilts"]) {
        let angle = tilt["turn"]["angle_deg"].as_f64().expect("an angle").to_radians();
        let (sin, cos) = angle.sin_cos();
        let [_, u, w] = frame_pin;
        let away = (u * cos - w * sin - fixed_pin[1]).hypot(u * sin + w * cos - fixed_pin[2]);
        let holes = list(&drill["rows"][0]["holes"]);
        let near =
            holes.map(|h| (h["offset_mm"].as_f64().expect("a length") - away).abs()).fold(f64::INFINITY, f64::min);
        assert!(near < 1e-3, "{away} is no hole");
    }
}

#[test]
fn what_keeps_a_fastener_from_its_place_is_said() {
    let said = |changes: &[(&str, &str)], words: &str| {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("design.yaml"), with(SAMPLE, changes)).expect("writable");
        let run = tiltwright_in(folder.path(), &["plan", "design.yaml", "--out", ".", "--name", "packet"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{words}");
        assert!(run.stderr.contains(words), "{words}: {}", run.stderr);
    };
    said(
        &[("joints.corner.screw", "lag 1/2 in")],
        "stand 3/4 in from the end of the rail and split it, 1 in is the least",
    );
    said(&[("joints.corner.length", "2 in")], "does not reach far enough into the second piece");
    said(&[("panel.mounting_holes.across", "980 mm")], "where a clip reaches holes from");
    said(&[("joints.clips_per_panel", "6")], "6 clips to a panel, but `panel.mounting_holes` tells 4 holes");
}

#[test]
fn runners_carry_their_ballast_in_the_assembly() {
    let assembly = packet(RUNNERS);
    let feet: Vec<&Value> = list(&assembly["feet"]).collect();
    assert_eq!(feet.len(), 2);
    for foot in feet {
        assert_eq!(foot["stands"], "on the ground");
        let kg: f64 = list(&foot["holds"]).filter_map(|h| h["kg"].as_f64()).sum();
        // 450 lb in whole blocks of 34 lb: 14 blocks, 476 lb.
        assert!((kg - 476.0 * 0.453_592_37).abs() < 1e-3, "{kg}");
    }
}
