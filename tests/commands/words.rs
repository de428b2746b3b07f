//! One role, one word: lists, files and sheets call the same part and the same bolt by the same name.

use crate::common::{project, tiltwright};
use serde_json::Value;
use std::{
    collections::{BTreeMap, BTreeSet},
    path::PathBuf,
};
use tiltwright::{
    design::{self, Tilts},
    frame::{self, Role},
    quantities::{Tape, deg},
    sheets::{Drafter, Paper, texts},
};

/// What lies on bolts and is no piece of the cut list.
const LOOSE_LAYERS: [&str; 2] = ["washer", "spacer"];
/// What the holes of a row are for; the fixed pin stands in one of them.
const ROW: &str = "tilt";

fn designs() -> Vec<String> {
    let files = std::fs::read_dir(project().join("designs")).expect("designs/ is there");
    let mut files: Vec<String> = files.map(|f| f.expect("an entry").path().display().to_string()).collect();
    files.sort();
    files
}

fn json(command: &str, design: &str) -> Value {
    let run = tiltwright(&[command, design, "--format", "json"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{command} {design}");
    serde_json::from_str(&run.stdout).expect("JSON")
}

fn list(value: &Value) -> impl Iterator<Item = &Value> {
    value.as_array().expect("a list").iter()
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_else(|| panic!("{value} is no text")).to_string()
}

/// Through a post or runner, on the drawing of that part.
const FOOT_BOLT: &str = "foot bolt";

/// For every bolt of the cut list, the pieces with a hole for it: role and mark.
type Bored = BTreeMap<String, BTreeSet<(String, String)>>;

fn bored(cutlist: &Value) -> Bored {
    let mut found = Bored::new();
    for piece in list(&cutlist["pieces"]) {
        for hole in list(&piece["holes"]) {
            let bolt = match text(&hole["for"]).as_str() {
                ROW => "fixed pin".to_string(),
                own => own.to_string(),
            };
            found.entry(bolt).or_default().insert((text(&piece["piece"]), text(&piece["mark"])));
        }
    }
    found
}

#[test]
fn a_bolt_and_what_lies_on_it_have_one_name_in_the_cut_list_and_the_drilling_file() {
    for design in designs() {
        let cutlist = json("cutlist", &design);
        let bored = bored(&cutlist);
        let drill = json("drill", &design);
        let mut laid: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
        for bolt in list(&drill["bolts"]) {
            let words = list(&bolt["layers"]).map(|layer| text(&layer[0]));
            let pieces = words.filter(|word| !LOOSE_LAYERS.contains(&word.as_str()));
            laid.entry(text(&bolt["what"])).or_default().extend(pieces);
        }
        let roles: BTreeMap<String, BTreeSet<String>> =
            bored.iter().map(|(bolt, on)| (bolt.clone(), on.iter().map(|(role, _)| role.clone()).collect())).collect();
        // A foot bolt has no stack of layers: concrete or a bracket closes on it.
        let roles: BTreeMap<_, _> = roles.into_iter().filter(|(bolt, _)| bolt != FOOT_BOLT).collect();
        assert_eq!(laid, roles, "{design}");
    }
}

#[test]
fn the_hardware_list_and_the_joint_sheets_name_bolts_and_marks_as_the_cut_list_does() {
    for design in designs() {
        let cutlist = json("cutlist", &design);
        let hardware: Vec<String> = list(&cutlist["hardware"])
            .map(|line| format!("{}: {}", text(&line["item"]), text(&line["note"])))
            .collect();
        let sheets = joint_sheets(&design);
        for (bolt, pieces) in bored(&cutlist) {
            let lines: Vec<&String> = hardware.iter().filter(|line| line.contains(&bolt)).collect();
            assert!(!lines.is_empty(), "{design}: no {bolt} in {hardware:#?}");
            let on_parts = bolt == FOOT_BOLT;
            assert!(
                on_parts || sheets.contains(&format!("{bolt}: bolt ")),
                "{design}: no {bolt} on the joint sheets: {sheets}"
            );
            for (role, mark) in pieces {
                let named =
                    |text: &str| text.contains(&format!("{role} {mark}")) || text.contains(&format!("or {mark}"));
                // A lag screw is told without its layers.
                let lag = lines.iter().all(|line| line.starts_with("lag screw"));
                assert!(
                    lag || lines.iter().any(|line| named(line)),
                    "{design}: {role} {mark} on the {bolt}: {lines:?}"
                );
                assert!(on_parts || named(&sheets), "{design}: {role} {mark} is on no joint sheet");
            }
        }
    }
}

fn laid_out(file: &str) -> (design::Design, frame::Frame) {
    let file = PathBuf::from(file);
    let design = design::read(Some(&file)).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display())).design;
    let tilts = match &design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        Tilts::Seasons(_) => [15.0, 40.0, 64.0].map(deg).to_vec(),
    };
    let tape = Tape::of(design.units);
    let frame = frame::lay_out(&design, &tilts, tape).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display()));
    (design, frame)
}

fn joint_sheets(file: &str) -> String {
    let (design, frame) = laid_out(file);
    let units = design.units;
    let drafter = Drafter { design: &design, frame: &frame, paper: Paper::Letter, units, depth_asked_mm: None };
    let drawn = drafter.shop_drawings(&|_| vec![]);
    let joints = drawn.iter().filter(|sheet| sheet.slug.starts_with("joints"));
    joints.flat_map(|sheet| texts(&sheet.marks)).map(|text| text.content().to_string()).collect::<Vec<_>>().join(" ")
}

/// Parts of one length are sawn from one set-up; whoever saws must still see which piece gets which holes.
#[test]
fn no_board_of_the_cut_plan_speaks_for_boards_with_other_marks() {
    for design in designs() {
        let cutlist = json("cutlist", &design);
        let run = tiltwright(&["cutlist", &design]);
        assert!(!run.stdout.contains("S1/M1"), "{design}: {}", run.stdout);
        // What is printed, board by board, adds up to the numbers of the cut list.
        let (_, plan) = run.stdout.split_once("\nBuy\n").expect("a cut plan");
        let (plan, _) = plan.split_once("\nHardware").expect("hardware follows");
        let mut copies = 0;
        let mut printed: BTreeMap<String, u64> = BTreeMap::new();
        let marks: Vec<String> = list(&cutlist["pieces"]).map(|piece| text(&piece["mark"])).collect();
        for line in plan.lines() {
            let mut words = line.split_whitespace();
            match words.next() {
                Some("Board") => copies = 1,
                Some("Boards") => {
                    let (_, rest) = line.split_once(", ").expect("how many are alike");
                    copies = rest.split_whitespace().next().expect("a number").parse().expect("a number");
                }
                // Without prices a line is a whole board: `2 x 2x8 12 ft: S1 to 5 ft, M1 to 10 ft; offcut`.
                Some(number) if words.next() == Some("x") => {
                    let copies: u64 = number.parse().expect("a number");
                    let Some((_, cuts)) = line.split_once(": ") else { continue };
                    for cut in cuts.split(" to ").map(|cut| cut.rsplit([' ', ';']).next().expect("a word")) {
                        if marks.iter().any(|mark| mark == cut) {
                            *printed.entry(cut.to_string()).or_default() += copies;
                        }
                    }
                }
                Some(mark) if marks.iter().any(|known| known == mark) => {
                    *printed.entry(mark.to_string()).or_default() += copies;
                }
                _ => {}
            }
        }
        let wanted: BTreeMap<String, u64> =
            list(&cutlist["pieces"]).map(|p| (text(&p["mark"]), p["quantity"].as_u64().expect("a number"))).collect();
        assert_eq!(printed, wanted, "{design}: {plan}");
    }
}

/// Where posts stand in slots at the outer corners, the braces stand against mullions.
#[test]
fn corner_braces_are_told_with_the_upright_they_stand_against() {
    for (name, role) in [("sample", Role::Mullion), ("posts-outside", Role::Stile), ("runners-ground", Role::Stile)] {
        let file = project().join("designs").join(name).with_extension("yaml").display().to_string();
        let (design, frame) = laid_out(&file);
        if frame.brace.is_none() {
            panic!("{name} has no corner braces: take another design");
        }
        assert_eq!(frame.braced_role(), Some(role), "{name}");
        let steps = tiltwright::shop::assembly(&design, &frame, design.units).join(" ");
        assert!(steps.contains(&format!("between {}s ", role.word())), "{name}: {steps}");
    }
}
