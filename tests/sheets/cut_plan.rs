//! The cut plan drawn: parts where their marks say, at one scale, and nothing on top of anything.

use crate::sheet_tests::measure::{groups, number, parse, words};
use std::{fs, path::PathBuf, time::Duration};
use tiltwright::{
    sheets::{Page, Paper, Sheet, cut_plan_sheets},
    shop::cut_plan::{CutList, Shown, plan},
};

/// Coordinates are written to a thousandth of a millimetre; half of that may be lost at each of two ends.
const WRITTEN_MM: f64 = 0.001_1;

fn sheets_of(name: &str) -> Vec<Sheet> {
    let file = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/library/data/cutting").join(name);
    let mut value: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(file).expect("readable")).expect("JSON");
    let fields = value.as_object_mut().expect("fields");
    for stored in ["optimum", "generator_seed"] {
        fields.remove(stored);
    }
    let list = CutList::read(name, &value.to_string()).expect("a list");
    let plan = plan(&list.job, Duration::from_secs(60)).expect("a plan");
    let shown = Shown { money: list.money, units: list.job.unit.units() };
    cut_plan_sheets(&list.name, &list.job, &plan, shown, Page::landscape(Paper::A4))
}

/// Corners of the first polygon in a group.
fn corners(node: roxmltree::Node) -> Vec<(f64, f64)> {
    let polygon = node.descendants().find(|inner| inner.has_tag_name("polygon")).expect("an outline");
    let points = polygon.attribute("points").expect("points");
    let pair = |text: &str| {
        let (x, y) = text.split_once(',').expect("x,y");
        (x.parse().expect("a number"), y.parse().expect("a number"))
    };
    points.split_whitespace().map(pair).collect()
}

fn span(corners: &[(f64, f64)]) -> (f64, f64) {
    let x = corners.iter().map(|corner| corner.0);
    (x.clone().fold(f64::INFINITY, f64::min), x.fold(f64::NEG_INFINITY, f64::max))
}

#[test]
fn parts_lie_where_their_marks_say() {
    for name in ["m03-mitred-mm.json", "s02-workbench-us.json"] {
        let mut scale = None;
        for sheet in sheets_of(name) {
            let svg = sheet.to_svg();
            let document = parse(&svg);
            for board in groups(&document, "board") {
                let (left, right) = span(&corners(board));
                let length = number(board, "data-length");
                let mm_per_unit = (right - left) / length;
                let first = *scale.get_or_insert(mm_per_unit);
                assert!((mm_per_unit - first).abs() < WRITTEN_MM / length, "all boards at one scale");
                for part in board.descendants().filter(|node| node.attribute("class") == Some("part")) {
                    let (from, to) = span(&corners(part));
                    assert!((from - left - number(part, "data-from") * first).abs() < WRITTEN_MM);
                    assert!((to - left - number(part, "data-to") * first).abs() < WRITTEN_MM);
                }
            }
        }
    }
}

#[test]
fn nothing_overlaps_on_any_sheet() {
    for name in [
        "s02-workbench-us.json",
        "s03-wall-us.json",
        "s05-greenhouse-mm.json",
        "m01-mitred-mm.json",
        "m03-mitred-mm.json",
        "b01-100-parts-mm.json",
        "b02-150-parts-us.json",
    ] {
        for sheet in sheets_of(name) {
            let clashes = sheet.clashes();
            assert!(clashes.is_empty(), "{name} sheet {}: {clashes:?}", sheet.number);
        }
    }
}

#[test]
fn the_proof_stands_on_the_first_sheet() {
    let svg = sheets_of("m03-mitred-mm.json")[0].to_svg();
    let words = words(&parse(&svg)).join(" ");
    assert!(words.contains("Cost 34.46, proven: the lower bound is 34.46 too"), "{words}");
}

#[test]
fn no_length_is_cut_short_beside_a_board() {
    for name in ["s02-workbench-us.json", "s03-wall-us.json", "m03-mitred-mm.json", "b02-150-parts-us.json"] {
        for sheet in sheets_of(name) {
            let svg = sheet.to_svg();
            let all = words(&parse(&svg));
            let cut = all.iter().filter(|text| text.starts_with("offcut") && text.contains('…'));
            assert_eq!(cut.count(), 0, "{name}: {all:?}");
        }
    }
}
