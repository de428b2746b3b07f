//! Joints as things of their own: every fastener has its place.

use crate::common::{project, tiltwright, tiltwright_in, with};
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
        assert_eq!((&foot["kind"], &foot["stands"]), (&"ground".into(), &"on the ground".into()));
        let kg: f64 = list(&foot["held_by"]).filter_map(|h| h["kg"].as_f64()).sum();
        // 450 lb in whole blocks of 34 lb: 14 blocks, 476 lb.
        assert!((kg - 476.0 * 0.453_592_37).abs() < 1e-3, "{kg}");
    }
}

/// Counts of a kind, size and length of fastener.
type Counts = std::collections::BTreeMap<(String, String, i64), u64>;

fn fastener_key(row: &Value) -> (String, String, i64) {
    let word = |name: &str| row[name].as_str().expect("a word").to_string();
    (word("kind"), word("size"), (row["length_mm"].as_f64().expect("a length") * 10.0).round() as i64)
}

#[test]
fn what_is_bought_is_what_is_placed() {
    for entry in std::fs::read_dir(project().join("designs")).expect("the ready designs") {
        let path = entry.expect("a file").path();
        let text = std::fs::read_to_string(&path).expect("a design");
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("design.yaml"), &text).expect("writable");
        let run = tiltwright_in(folder.path(), &["plan", "design.yaml", "--out", ".", "--name", "packet"]);
        assert!(run.code < 2, "{}", run.stderr);
        let json = std::fs::read_to_string(folder.path().join("packet/assembly.json")).expect("written");
        let assembly: Value = serde_json::from_str(&json).expect("JSON");
        let frames = text.lines().find_map(|l| l.trim().strip_prefix("frames: ")).map_or(1, |n| n.parse().expect("n"));
        let holders = list(&assembly["joints"]).chain(list(&assembly["feet"]));
        let mut placed = Counts::new();
        for row in holders.flat_map(|holder| list(&holder["fasteners"])) {
            *placed.entry(fastener_key(row)).or_default() += frames;
        }
        let answer = tiltwright_in(folder.path(), &["cutlist", "design.yaml", "--format", "json"]);
        let answer: Value = serde_json::from_str(&answer.stdout).expect("JSON");
        let mut bought = Counts::new();
        for row in list(&answer["hardware"]).filter(|row| row["fastener"].is_object()) {
            *bought.entry(fastener_key(&row["fastener"])).or_default() += row["quantity"].as_u64().expect("a count");
        }
        assert_eq!(placed, bought, "{}", path.display());
        assert!(placed.values().sum::<u64>() >= 8, "{}: {placed:?}", path.display());
        // Each wooden member that is joined is joined by something, and what has no place says so.
        let unplaced = list(&answer["hardware"]).filter(|r| r["note"].as_str().expect("a note").contains("NOT PLACED"));
        assert_eq!(unplaced.count() > 0, !text.contains("mounting_holes"), "{}", path.display());
    }
}

#[test]
fn every_foot_is_held_by_fasteners_in_its_own_part() {
    for entry in std::fs::read_dir(project().join("designs")).expect("the ready designs") {
        let path = entry.expect("a file").path();
        let assembly = packet(&std::fs::read_to_string(&path).expect("a design"));
        for foot in list(&assembly["feet"]) {
            let part = list(&assembly["parts"])
                .find(|p| foot["part"] == format!("{}/{}", p["mark"].as_str().expect("a mark"), p["index"]))
                .expect("a listed part");
            let (origin, size) = (point(&part["box"]["origin"]), point(&part["box"]["size"]));
            let axes: [[f64; 3]; 3] = std::array::from_fn(|i| point(&part["box"]["axes"][i]));
            let held: u64 = list(&foot["held_by"]).map(|h| h["fasteners"].as_u64().expect("a count")).sum();
            assert_eq!(held as usize, list(&foot["fasteners"]).count());
            assert!(list(&foot["held_by"]).count() > 0, "{}: {foot}", path.display());
            for fastener in list(&foot["fasteners"]) {
                let (from, axis) = (point(&fastener["from"]), point(&fastener["axis"]));
                let long = fastener["length_mm"].as_f64().expect("a length");
                // Some point of its shank lies inside the part, or a bracket holds it down beside the part.
                let inside = (0..=200).any(|n| {
                    let p: [f64; 3] =
                        std::array::from_fn(|i| from[i] + axis[i] * long * f64::from(n) / 200.0 - origin[i]);
                    (0..3).all(|k| (0.0..=size[k]).contains(&(0..3).map(|i| p[i] * axes[k][i]).sum::<f64>()))
                });
                let down = axis[2] < -0.5 && fastener["kind"] == "lag screw";
                assert!(inside || down, "{}: {fastener} of {foot}", path.display());
            }
            if foot["kind"] == "soil" {
                let depth = foot["depth_mm"].as_f64().expect("a depth");
                for bolt in list(&foot["fasteners"]) {
                    let above_foot = point(&bolt["from"])[2] - (origin[2] + axes[0][2].min(0.0) * size[0]);
                    assert!((40.0..depth - 40.0).contains(&above_foot), "{}: {above_foot}", path.display());
                    let room = foot["hole_diameter_mm"].as_f64().expect("a hole");
                    assert!(bolt["length_mm"].as_f64().expect("a length") < room, "{}", path.display());
                }
            }
        }
    }
}

#[test]
fn a_post_tie_is_what_the_design_names_or_what_is_usual_and_says_so() {
    let ties = |text: &str| {
        let assembly = packet(text);
        let foot = &assembly["feet"][0];
        let sizes: Vec<String> = list(&foot["fasteners"]).map(|f| f["size"].as_str().expect("a size").into()).collect();
        (sizes, foot["held_by"][0]["named"].as_bool().expect("told"))
    };
    assert_eq!(ties(SAMPLE), (vec!["1/2 in".to_string(); 2], false));
    let with_tie = |tie: &str| {
        SAMPLE.replace("    hole_diameter: 14 in\n", &format!("    hole_diameter: 14 in\n    tie: {tie}\n"))
    };
    assert_eq!(ties(&with_tie("{bolt: 5/8 in, count: 3}")), (vec!["5/8 in".to_string(); 3], true));
    let refused = |tie: &str, embedment: &str, words: &[&str]| {
        let folder = tempfile::tempdir().expect("a folder");
        let text = with_tie(tie).replace("embedment: 66 in", &format!("embedment: {embedment}"));
        std::fs::write(folder.path().join("design.yaml"), text).expect("writable");
        let run = tiltwright_in(folder.path(), &["cutlist", "design.yaml"]);
        assert_eq!(run.code, 2, "{}", run.stdout);
        words.iter().for_each(|word| assert!(run.stderr.contains(word), "{word}: {}", run.stderr));
    };
    refused("{bolt: 5/8 in, count: 5}", "24 in", &["tie-above-grade", "this works: `support.posts.tie.count: 3`"]);
    refused("{bolt: 9/16 in, count: 1}", "66 in", &["unknown-bolt", "tie: {bolt: 9/16 in"]);
    refused("{bolt: 5/8 in, count: 7}", "66 in", &["out-of-range", "between 1 and 6"]);
}

/// The steps of the packet's page, without tags, and its assembly.
fn steps(text: &str) -> (Vec<String>, Value) {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("design.yaml"), text).expect("writable");
    let run = tiltwright_in(folder.path(), &["plan", "design.yaml", "--out", ".", "--name", "packet"]);
    assert!(run.code < 2, "{}", run.stderr);
    let read = |name: &str| std::fs::read_to_string(folder.path().join("packet").join(name)).expect("written");
    let page = read("index.html");
    let list = page.split("Assembly sequence</h2>").nth(1).and_then(|rest| rest.split("</ol>").next()).expect("steps");
    let plain = |item: &str| item.split('<').filter_map(|tag| tag.split_once('>').map(|(_, words)| words)).collect();
    let steps = list.split("<li>").skip(1).map(|item| plain(&format!("<li>{item}"))).collect();
    (steps, serde_json::from_str(&read("assembly.json")).expect("JSON"))
}

#[test]
fn every_fastener_has_a_step_in_an_order_that_can_be_done() {
    for text in [SAMPLE, include_str!("../../designs/runners-roof.yaml")] {
        let (steps, assembly) = steps(text);
        let all = steps.join(" ");
        for holder in list(&assembly["joints"]).chain(list(&assembly["feet"])) {
            for row in list(&holder["fasteners"]) {
                let size = row["size"].as_str().expect("a size").trim_start_matches("lag ").to_string();
                assert!(all.contains(&format!(" {size} x ")), "{size}: {all}");
                if let Some(from) = holder["turned_from"].as_str().filter(|_| row["kind"] != "bolt") {
                    assert!(all.contains(from), "{from}: {all}");
                }
            }
        }
        let nth = |words: &str| {
            steps.iter().position(|step| step.contains(words)).unwrap_or_else(|| panic!("{words}: {all}"))
        };
        let order = ["Corner ", "Brace end ", "Frame pin ", "Fit the panels last", "Bond every panel"].map(nth);
        assert!(order.windows(2).all(|pair| pair[0] < pair[1]), "{order:?}");
        // What is tied or screwed down is so before the frame hangs on it; a panel is never drilled.
        let [held, hung] = if text == SAMPLE { ["Foot bolt ", "Axle "] } else { ["Bracket at", "Hinge "] };
        assert!(nth(held) < nth(hung) && nth(hung) <= nth("Fixed pin "), "{all}");
        assert!(!all.contains("into the panel") && !all.contains("through the panel "), "{all}");
    }
}
