//! Bounds that a fault names can be written in, in feet and inches and in millimetres, and each fault is told once.

use crate::common::{project, tiltwright_in, with};
use tiltwright::design::{BUILTIN_TEXT, Fault, read_text};

fn faults(text: &str) -> Vec<Fault> {
    read_text("bounds.yaml", text).err().unwrap_or_default()
}

/// What stands between the words of a hint: `between A and B: …` gives A and B.
fn ends(hint: &str) -> [String; 2] {
    let (_, range) = hint.split_once("between ").unwrap_or_else(|| panic!("no range in {hint}"));
    let range = range.split(": ").next().expect("a part");
    let (least, most) = range.split_once(" and ").unwrap_or_else(|| panic!("no range in {hint}"));
    [least.to_string(), most.to_string()]
}

#[test]
fn both_ends_of_a_range_are_taken() {
    let lapped = [("frame.seating", "{kind: lapped}")];
    let fields = [
        ("panel.long_side", "1 mm"),
        ("panel.long_side", "9999 mm"),
        ("panel.short_side", "1 mm"),
        ("panel.short_side", "9999 mm"),
        ("panel.thickness", "1 mm"),
        ("panel.mass", "900 kg"),
        ("panel.mass", "1 g"),
        ("panel.mass", "0.32 kg"),
        ("panel.size_tolerance", "90 mm"),
        ("panel.mounting_holes.diameter", "90 mm"),
        ("panel.mounting_holes.across", "1 mm"),
        ("panel.cable_box.height", "1 mm"),
        ("panel.cable_box.depth", "1 mm"),
        ("array.gap", "1 mm"),
        ("frame.seating.side_clearance", "1 mm"),
        ("frame.corner_brace.leg", "1 mm"),
        ("joints.corner.length", "3 mm"),
        ("support.posts.embedment", "3 mm"),
        ("shop.kerf", "90 mm"),
        ("site.elevation", "-900 m"),
    ];
    for units in ["us", "metric"] {
        for (field, given) in fields {
            let base = with(BUILTIN_TEXT, &[("units", units), ("loads.elevation", "~")]);
            let base = if field == "array.gap" { with(&base, &lapped) } else { base };
            let told = faults(&with(&base, &[(field, given)]));
            let told: Vec<&Fault> = told.iter().filter(|fault| fault.field == field).collect();
            let [fault] = told.as_slice() else { panic!("{field}: {given} in {units}: {told:?}") };
            for end in ends(&fault.hints[0]) {
                let after = faults(&with(&base, &[(field, &end)]));
                let again = after.iter().find(|again| again.code == fault.code && again.field == field);
                assert_eq!(again, None, "{field}: {end} is refused though {}", fault.hints[0]);
            }
        }
    }
}

/// Panels of different sizes, in both systems of units: the mass has one range, of any panel and of this one.
#[test]
fn a_mass_has_one_range_whichever_way_it_is_missed() {
    for (long, short) in [("1722 mm", "1134 mm"), ("200 mm", "150 mm"), ("3000 mm", "2000 mm")] {
        let panel = [("panel.long_side", long), ("panel.short_side", short), ("panel.mounting_holes", "~")];
        let base = with(&with(BUILTIN_TEXT, &panel), &[("panel.cable_box", "~")]);
        let ranges = ["0.31 kg", "79.9 kg", "86 kg", "1 g"].map(|mass| {
            let told = faults(&with(&base, &[("panel.mass", mass)]));
            told.iter().find(|fault| fault.field == "panel.mass").map(|fault| ends(&fault.hints[0]))
        });
        let told: Vec<&[String; 2]> = ranges.iter().flatten().collect();
        assert!(told.len() >= 2 && told.windows(2).all(|pair| pair[0] == pair[1]), "{long} by {short}: {ranges:?}");
    }
}

/// Half a millimetre too far is told as such, and the spacing that the hint names is taken.
#[test]
fn the_widest_hole_pattern_is_taken_in_millimetres() {
    let metric = [("units", "metric"), ("panel.long_side", "1762 mm")];
    let base = with(BUILTIN_TEXT, &metric);
    let field = "panel.mounting_holes.along_long_side";
    let told = faults(&with(&base, &[(field, "1736 mm")]));
    assert_eq!(told.len(), 1, "{told:?}");
    assert!(told[0].sentence.contains("stand 13 mm from the edge; a hole of 9 mm needs 14 mm (13.5 mm)"), "{told:?}");
    assert!(told[0].hints[0].contains(&format!("`{field}: 1735 mm`")), "{told:?}");
    assert_eq!(faults(&with(&base, &[(field, "1735 mm")])), []);
}

#[test]
fn a_cable_box_larger_than_its_panel_is_refused() {
    for (name, given, most) in [("width", "1990 mm", "1134 mm"), ("height", "2900 mm", "1722 mm")] {
        let field = format!("panel.cable_box.{name}");
        let told = faults(&with(BUILTIN_TEXT, &[("units", "metric"), (&field, given)]));
        assert_eq!(told.len(), 1, "{told:?}");
        assert_eq!((told[0].code, told[0].field.as_str()), ("box-beyond-panel", field.as_str()));
        assert!(told[0].hints[0].contains(&format!("the most that fits is `{field}: {most}`")), "{told:?}");
    }
}

/// One wrong number is one fault, though it breaks its range and does not go with another field either.
#[test]
fn one_wrong_number_is_told_once() {
    for (field, given, code) in [
        ("array.gap", "0 in", "field-without-meaning"),
        ("site.elevation", "-40000 ft", "out-of-range"),
        ("support.posts.hole_diameter", "1 in", "hole-too-small"),
        ("array.frames", "33", "unequal-frames"),
        ("joints.clip.length", "100 in", "screw-too-long"),
    ] {
        let told = faults(&with(BUILTIN_TEXT, &[(field, given)]));
        let codes: Vec<&str> = told.iter().map(|fault| fault.code).collect();
        assert_eq!(codes, [code], "{field}: {given}: {told:?}");
    }
}

/// A panel without thickness is told as that: no height over the bay mends it.
#[test]
fn a_panel_without_thickness_is_not_told_to_float() {
    let told = faults(&with(BUILTIN_TEXT, &[("panel.thickness", "0 in")]));
    let fields: Vec<&str> = told.iter().map(|fault| fault.field.as_str()).collect();
    assert_eq!(fields, ["panel.thickness"], "{told:?}");
}

/// What no tape tells apart is one tilt: in the rule that none stands thrice, and on the label of its hole.
#[test]
fn tilts_that_a_hole_cannot_tell_apart_are_one() {
    let alike = "[37 deg, 37.001 deg, 36.999 deg, 37.0001 deg]";
    let told = faults(&with(BUILTIN_TEXT, &[("tilts", alike)]));
    assert_eq!(told.iter().map(|fault| fault.code).collect::<Vec<_>>(), ["tilt-repeated"]);
    assert!(told[0].hints[0].contains("`tilts: [37 deg, 37 deg]`"), "{told:?}");

    let folder = tempfile::tempdir().expect("a folder");
    let twice = with(BUILTIN_TEXT, &[("tilts", "[12 deg, 37 deg, 61 deg, 37.04 deg]")]);
    std::fs::write(folder.path().join("twice.yaml"), twice).expect("a file");
    let run = tiltwright_in(folder.path(), &["drill", "twice.yaml", "--format", "json"]);
    assert_eq!(run.code, 0, "{}", run.stderr);
    let given = run.stdout.matches("37.04").count();
    assert_eq!(given, 0, "one hole, one label:\n{}", run.stdout);
}

/// In a frame of aluminium a stile of wood can be laid out, and strength knows no species for it: no hint says that it works.
#[test]
fn a_hint_that_works_works_for_strength_too() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = std::fs::read_to_string(project().join("designs/aluminium-deck.yaml")).expect("a ready design");
    let mixed = with(&text, &[("frame.stile", "45x95")]);
    let strength = |text: &str| {
        std::fs::write(folder.path().join("mixed.yaml"), text).expect("a file");
        tiltwright_in(folder.path(), &["strength", "mixed.yaml"])
    };
    let refused = strength(&mixed);
    assert_eq!(refused.code, 2, "{}", refused.stdout);
    let hints: Vec<&str> = refused.stderr.lines().filter_map(|line| line.split_once("hint: ")).map(|h| h.1).collect();
    for hint in hints.iter().filter_map(|hint| hint.strip_prefix("this works: ")) {
        let (field, value) = hint.trim_matches('`').split_once(": ").expect("a field and its value");
        let mended = strength(&with(&mixed, &[(field, value)]));
        assert_ne!(mended.code, 2, "{hint}: {}", mended.stderr);
    }
    let looked = hints.iter().find(|hint| hint.starts_with("to look at: `frame.stile: 45x"));
    assert!(looked.is_some_and(|hint| hint.contains("strength then asks for `frame.")), "{}", refused.stderr);
}

#[test]
fn goods_and_counts_are_asked_for_in_words_that_can_be_written() {
    let told = faults(&with(BUILTIN_TEXT, &[("shop.hardware", "[{item: screw, price: 0.45}]")]));
    assert!(told[0].hints[0].contains("`size: \"#10\"`"), "{told:?}");
    assert_eq!(faults(&with(BUILTIN_TEXT, &[("shop.hardware", "[{item: screw, size: \"#10\", price: 0.45}]")])), []);
}
