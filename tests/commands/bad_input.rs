//! Bad design files: exit 2, nothing on stdout, nothing written, and a message that names file, line, field and what
//! would be accepted.

use crate::common::{Run, tiltwright_in, with};
use std::path::Path;
use tiltwright::design::{BUILTIN_TEXT, read_text};

fn names_below(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("the folder")
        .map(|f| f.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

/// Every command that reads a design refuses it alike.
fn run_all(text: &str) -> Run {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::write(folder.path().join("bad.yaml"), text).expect("the file can be written");
    let mut last = None;
    for command in ["drill", "cutlist", "plan"] {
        let run = tiltwright_in(folder.path(), &[command, "bad.yaml"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{command}: {}", run.stderr);
        assert_eq!(names_below(folder.path()), ["bad.yaml"], "{command} writes nothing");
        last = Some(run);
    }
    last.expect("three runs")
}

fn changed(from: &str, to: &str) -> String {
    assert!(BUILTIN_TEXT.contains(from), "`{from}` stands in the built-in design");
    BUILTIN_TEXT.replacen(from, to, 1)
}

/// Line of a text in which `part` stands, counted from 1.
fn line_of(text: &str, part: &str) -> usize {
    text.lines().position(|l| l.contains(part)).map(|i| i + 1).unwrap_or_else(|| panic!("no line with {part}"))
}

/// The fault has this name, stands on the line of `part`, and says each of `words`.
fn refused(from: &str, to: &str, code: &str, words: &[&str]) {
    let text = changed(from, to);
    let run = run_all(&text);
    let err = &run.stderr;
    assert!(err.contains(&format!("error[{code}]: ")), "{code} is not in:\n{err}");
    let place = format!("bad.yaml:{}:", line_of(&text, to.lines().last().unwrap_or(to)));
    assert!(err.contains(&place), "{place} is not in:\n{err}");
    for word in words {
        assert!(err.contains(word), "`{word}` is not in:\n{err}");
    }
}

#[test]
fn an_empty_file_is_refused() {
    for text in ["", "\n\n", "   "] {
        let run = run_all(text);
        assert!(
            run.stderr.contains("error[empty-file]: ") && run.stderr.contains("bad.yaml is empty"),
            "{}",
            run.stderr
        );
    }
}

#[test]
fn a_text_that_is_no_yaml_is_refused_at_its_line() {
    let run = run_all("tiltwright: 1\nname: \"unclosed\nsite: {place: x\n");
    assert!(run.stderr.contains("error[not-yaml]: ") && run.stderr.contains("bad.yaml:"), "{}", run.stderr);
    let run = run_all("just some words");
    assert!(run.stderr.contains("error["), "{}", run.stderr);
    let run = run_all("- a\n- list\n");
    assert!(run.stderr.contains("error["), "{}", run.stderr);
}

#[test]
fn an_unknown_field_is_refused_with_the_nearest_name() {
    refused("  latitude: 40 deg", "  latitute: 40 deg", "unknown-field", &["`latitute`", "did you mean `latitude`?"]);
    refused(
        "    axle_height: 44 in",
        "    axle_hight: 44 in",
        "unknown-field",
        &["did you mean `axle_height`?", "known here: "],
    );
    refused("shop:\n", "shop:\n  curf: 3 mm\n", "unknown-field", &["`curf`", "kerf"]);
}

#[test]
fn a_wrong_unit_is_refused_with_the_units_that_fit() {
    refused("  latitude: 40 deg", "  latitude: 40 mm", "bad-value", &["`mm`", "no unit of latitude", "deg"]);
    refused("  thickness: 30 mm", "  thickness: 30 kg", "bad-value", &["`kg`", "mm, cm, m, in, ft"]);
    refused("  mass: 21.5 kg", "  mass: 21.5 in", "bad-value", &["no unit of mass", "kg"]);
}

#[test]
fn a_bare_number_is_refused_with_the_units_that_fit() {
    refused("  thickness: 30 mm", "  thickness: 30", "bad-value", &["has no unit", "mm, cm, m, in, ft"]);
    refused("  thickness: 30 mm", "  thickness: \"30\"", "bad-value", &["has no unit"]);
    refused("tilts: [12 deg,", "tilts: [12,", "bad-value", &["has no unit", "deg"]);
}

#[test]
fn sizes_that_no_panel_has_are_refused_with_their_range() {
    for size in ["0 mm", "-1722 mm", "9e99 m", "99999999999999 m", "1 mm", "3 km"] {
        let text = changed("long_side: 1722 mm", &format!("long_side: {size}"));
        let run = run_all(&text);
        assert!(run.stderr.contains(&format!("bad.yaml:{}:", line_of(&text, "long_side: "))), "{size}: {}", run.stderr);
        assert!(run.stderr.contains("error["), "{size}: {}", run.stderr);
    }
    refused("  thickness: 30 mm", "  thickness: -30 mm", "out-of-range", &["`panel.thickness`", "lies between"]);
    refused("  long_side: 1722 mm", "  long_side: NaN mm", "bad-value", &["length"]);
    refused("  long_side: 1722 mm", "  long_side: .nan", "bad-value", &["length"]);
    refused("  long_side: 1722 mm", "  long_side: inf mm", "bad-value", &["length"]);
    refused("price: 4.60", "price: .nan", "out-of-range", &["price"]);
    refused("  mass: 21.5 kg", "  mass: 0 kg", "out-of-range", &["`panel.mass`", "lies between"]);
    refused("  columns: 2", "  columns: 0", "out-of-range", &["`array.columns`", "between 1 and 64"]);
    refused("  columns: 2", "  columns: 9999", "out-of-range", &["between 1 and 64"]);
    refused("  columns: 2", "  columns: -2", "bad-value", &["columns"]);
}

#[test]
fn panels_that_do_not_fit_are_refused_with_what_they_need() {
    refused(
        "  rail: 2x8",
        "  rail: 2x8\n  outside_width: 7 ft",
        "panels-do-not-fit",
        &["panels and members need", "this works: "],
    );
}

#[test]
fn a_place_beyond_the_poles_is_refused() {
    refused("  latitude: 40 deg", "  latitude: 91 deg", "out-of-range", &["`site.latitude`", "between -89° and 89°"]);
    refused("  latitude: 40 deg", "  latitude: -90.01 deg", "out-of-range", &["between -89° and 89°"]);
    refused("  latitude: 40 deg", "  latitude: 90 deg", "out-of-range", &["between -89° and 89°"]);
    let tilts = tiltwright_in(Path::new("."), &["tilts", "--latitude", "90"]);
    assert_eq!((tilts.code, tilts.stdout.as_str()), (2, ""), "{}", tilts.stderr);
    refused("  longitude: -105 deg", "  longitude: 200 deg", "out-of-range", &["between -180° and 180°"]);
}

#[test]
fn tilts_out_of_reach_are_refused() {
    refused(
        "tilts: [12 deg, 37 deg, 61 deg, 37 deg]",
        "tilts: [12 deg, 95 deg]",
        "tilt-outside-swing",
        &["95°", "85°"],
    );
    refused("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "tilts: []", "no-tilts", &["`tilts`"]);
    refused(
        "tilts: [12 deg, 37 deg, 61 deg, 37 deg]",
        "tilts: [36 deg, 37 deg]",
        "holes-too-close",
        &["36°", "37°", "this works: "],
    );
    refused("tilts: [12 deg, 37 deg, 61 deg, 37 deg]", "seasons: 0", "out-of-range", &["between 1 and 12"]);
}

#[test]
fn names_that_no_table_has_are_refused_with_the_nearest() {
    refused("  rail: 2x8", "  rail: 2x88", "unknown-section", &["2x88", "2x8"]);
    refused("  bolt: 5/8 in", "  bolt: 9/17 in", "unknown-bolt", &["9/17"]);
    refused("  kind: posts", "  kind: post", "unknown-value", &["did you mean `posts`?"]);
    refused("tiltwright: 1", "tiltwright: 7", "unknown-version", &["version 7", "version 1"]);
}

#[test]
fn all_faults_are_shown_at_once() {
    let text = changed("  latitude: 40 deg", "  latitude: 95 deg").replace("  thickness: 30 mm", "  thickness: 300 mm");
    let run = run_all(&text);
    assert!(run.stderr.contains("`site.latitude`") && run.stderr.contains("`panel.thickness`"), "{}", run.stderr);
}

#[test]
fn a_missing_file_and_a_folder_are_refused_by_name() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::create_dir(folder.path().join("folder.yaml")).expect("a folder");
    std::fs::write(folder.path().join("bytes.yaml"), [0xff, 0xfe, 0x00]).expect("a file");
    for name in ["missing.yaml", "folder.yaml", "bytes.yaml"] {
        let run = tiltwright_in(folder.path(), &["drill", name]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{name}");
        assert!(run.stderr.contains(&format!("error[cannot-read]: cannot read {name}")), "{}", run.stderr);
        assert!(run.stderr.contains("hint: name an existing text file"), "{}", run.stderr);
    }
}

#[test]
fn hostile_names_stay_one_line_and_break_nothing() {
    let names = [
        r#""a <b> & 'c' \"d\"""#,
        r#""../../etc/passwd""#,
        r#""two\nlines\tand \e[31m red""#,
        "\"\u{1f33b} \u{202e}sun\"",
        r#""]]> </svg> <!-- ""#,
    ];
    for name in names {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let text = changed("name: Fallow Ridge garden frame", &format!("name: {name}"));
        std::fs::write(folder.path().join("named.yaml"), text).expect("the file can be written");
        for format in ["text", "json"] {
            let run = tiltwright_in(folder.path(), &["drill", "named.yaml", "--format", format]);
            assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{name}");
            let first = run.stdout.lines().next().unwrap_or_default();
            assert!(format == "json" || first.ends_with(": holes that hold the tilts"), "{name}: {first}");
            assert!(
                run.stdout.chars().all(|c| c == '\n' || !c.is_control()),
                "{name}: control characters reach a terminal"
            );
        }
        assert_eq!(names_below(folder.path()), ["named.yaml"]);
    }
}

/// Lag screws do not hold in the wall of a tube, and a runner's stay knows no cleat: both are said at the line.
#[test]
fn a_cleat_where_nothing_holds_it_is_refused() {
    for (name, from, to, code, says) in [
        ("steel-frame", "pin_behind: 3/8 in}", "cleat: 2x6}", "cleat-on-metal", "a stile of HSS3x2x1/8"),
        ("runners-ground", "pin_behind: 1/4 in,", "cleat: 2x6,", "field-without-meaning", "pinned to the stile itself"),
    ] {
        let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(name).with_extension("yaml");
        let ready = std::fs::read_to_string(file).expect("a ready design");
        assert!(ready.contains(from), "{name}");
        let text = ready.replace(from, to);
        let run = run_all(&text);
        assert!(run.stderr.contains(&format!("error[{code}]")) && run.stderr.contains(says), "{}", run.stderr);
        assert!(run.stderr.contains(&format!("bad.yaml:{}:", line_of(&text, "cleat:"))), "{}", run.stderr);
        assert!(run.stderr.contains("remove `cleat`"), "{}", run.stderr);
    }
}

#[test]
fn values_of_the_wrong_kind_are_told_in_plain_words() {
    let sample = std::fs::read_to_string(crate::common::project().join("designs/sample.yaml")).expect("the sample");
    for (from, to, words) in [
        (
            "tilts:",
            "serviceability: {sway: 1/100}\ntilts:",
            "`serviceability.sway` is the text \"1/100\"; a number is wanted",
        ),
        ("tilts:", "serviceability: 240\ntilts:", "a block of fields"),
        ("columns: 2\n", "columns: 2.5\n", "`array.columns` is `2.5`; a whole number is wanted"),
        ("slides_off: true", "slides_off: yes", "`true` or `false` is wanted"),
        ("bolt: 5/8 in\n", "bolt: 5/8 in in\n", "5/8 in in"),
    ] {
        assert!(sample.contains(from), "{from}");
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("bad.yaml"), sample.replacen(from, to, 1)).expect("written");
        let run = crate::common::tiltwright_in(folder.path(), &["strength", "bad.yaml"]);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{to}: {}", run.stderr);
        assert!(run.stderr.contains(words), "{words}: {}", run.stderr);
    }
}

/// Refused as [`refused`], and the line that the first hint names works when it is written.
fn refused_and_mended(from: &str, to: &str, code: &str, mend: (&str, &str)) {
    let (field, value) = mend;
    refused(from, to, code, &[&format!("`{field}: {value}`")]);
    let folder = tempfile::tempdir().expect("a temporary folder");
    let text = with(&changed(from, to), &[(field, value)]);
    std::fs::write(folder.path().join("mended.yaml"), text).expect("the file can be written");
    let run = tiltwright_in(folder.path(), &["drill", "mended.yaml"]);
    assert_eq!(run.code, 0, "{field}: {value}\n{}", run.stderr);
}

#[test]
fn a_post_wider_than_its_hole_is_refused() {
    let mend = ("support.posts.hole_diameter", "1 ft 1 in");
    for size in ["8 in", "12 in"] {
        refused_and_mended("    hole_diameter: 14 in", &format!("    hole_diameter: {size}"), "hole-too-small", mend);
    }
}

/// A hole that the design does not name is wide enough for its post.
#[test]
fn a_hole_left_out_fits_its_post() {
    for post in ["4x8", "6x8", "HSS2x2x1/8"] {
        let text = changed("section: 4x8", &format!("section: {post}")).replace("    hole_diameter: 14 in\n", "");
        let read = read_text("post.yaml", &text);
        assert!(read.is_ok(), "{post}: {read:?}");
    }
}

#[test]
fn a_panel_that_floats_over_its_bay_is_refused() {
    let from = "seating: {kind: inset, side_clearance: 1/4 in, end_clearance: 3/4 in, proud: 1/2 in}";
    let mend = ("frame.seating.proud", "9/16 in");
    refused_and_mended(from, &from.replace("proud: 1/2 in", "proud: 2 in"), "panel-floats", mend);
    // A thin panel whose author says nothing stands proud by half its thickness.
    let thin = changed(from, "seating: {kind: inset}").replace("thickness: 30 mm", "thickness: 8 mm");
    let read = read_text("thin.yaml", &thin.replace("mass: 21.5 kg", "mass: 6 kg"));
    assert!(read.is_ok(), "{read:?}");
}

#[test]
fn two_heights_above_the_sea_are_refused_and_one_serves_both() {
    let own = "  risk_category: I\n  elevation: 5200 ft";
    for other in ["0 ft", "12000 ft"] {
        let to = format!("  risk_category: I\n  elevation: {other}");
        refused_and_mended(own, &to, "elevations-differ", ("loads.elevation", "5200 ft"));
    }
    let wind = |text: &str| {
        let read = read_text("elevation.yaml", text).unwrap_or_else(|faults| panic!("{faults:?}"));
        let elevation = read.design.site.elevation;
        (read.design.strength_basis().expect("complete").expect("loads").loads.wind, elevation)
    };
    let (both, height) = wind(BUILTIN_TEXT);
    assert_eq!(wind(&changed(own, "  risk_category: I")), (both, height));
    assert_eq!(wind(&changed("  longitude: -105 deg\n  elevation: 5200 ft", "  longitude: -105 deg")), (both, height));
    // Another unit, rounded, is the same height.
    assert_ne!(wind(&changed(own, "  risk_category: I\n  elevation: 1585 m")).0, both);
}

#[test]
fn a_gap_that_nothing_reads_is_refused() {
    let gap = "  orientation: portrait\n  gap: 3/4 in";
    refused("  orientation: portrait", gap, "field-without-meaning", &["`array.gap`", "remove the line"]);
}

#[test]
fn a_panel_out_of_proportion_is_refused() {
    for given in ["1 kg", "3 kg"] {
        let to = format!("  mass: {given}");
        refused("  mass: 21.5 kg", &to, "mass-out-of-proportion", &["weighs between", "common practice, no source"]);
    }
    refused("  mass: 21.5 kg", "  mass: 1 g", "out-of-range", &["`panel.mass`"]);
}

#[test]
fn mounting_holes_on_the_edge_are_refused() {
    let from = "  mounting_holes: {along_long_side: 1400 mm, across: 1090 mm, diameter: 9 mm}";
    let to = from.replace("1090", "1134");
    refused_and_mended(from, &to, "hole-at-edge", ("panel.mounting_holes.across", "3 ft 7-9/16 in"));
    refused(from, &from.replace("1400", "1722"), "hole-at-edge", &["along_long_side"]);
}

#[test]
fn a_cable_box_beyond_the_panel_is_refused() {
    let from = "  cable_box: {from_top: 80 mm, height: 90 mm, width: 300 mm, depth: 18 mm}";
    let mend = ("panel.cable_box.from_top", "5 ft 4-1/4 in");
    refused_and_mended(from, &from.replace("80 mm", "1700 mm"), "box-beyond-panel", mend);
}

#[test]
fn the_same_tilt_thrice_is_refused() {
    let mend = ("tilts", "[37 deg, 12 deg, 37 deg]");
    let from = "tilts: [12 deg, 37 deg, 61 deg, 37 deg]";
    refused_and_mended(from, "tilts: [37 deg, 12 deg, 37 deg, 37 deg]", "tilt-repeated", mend);
}

#[test]
fn a_screw_that_comes_out_behind_is_refused() {
    let clip = "  clip: {screw: \"#10\", length: 1-1/2 in, count: 2}";
    refused_and_mended(clip, &clip.replace("1-1/2", "3"), "screw-too-long", ("joints.clip.length", "1-5/8 in"));
    let brace = "  brace: {screw: \"#12\", length: 3 in, count: 2}";
    refused_and_mended(brace, &brace.replace("3 in", "5 in"), "screw-too-long", ("joints.brace.length", "3 in"));
}

/// What follows from a fault is no further fault.
#[test]
fn one_wrong_number_is_told_once() {
    for (from, to) in [
        ("  columns: 2", "  columns: 2\n  frames: 0"),
        ("  long_side: 1722 mm", "  long_side: 120 mm"),
        ("  mass: 21.5 kg", "  mass: 0 kg"),
    ] {
        let run = run_all(&changed(from, to));
        assert_eq!(run.stderr.matches("error[").count(), 1, "{to}: {}", run.stderr);
    }
}

/// A dozen faults of every kind, in every section of a file, come in one run: each with its line, its field, what was given,
/// what is accepted, and what to change.
#[test]
fn all_faults_of_a_file_come_in_one_run() {
    let faults = [
        ("units: us", "units: feet", "unknown-value", "units", "known here: us, metric"),
        ("  latitude: 40 deg", "  latitude: 95 deg", "out-of-range", "site.latitude", "between -89° and 89°"),
        ("  thickness: 30 mm", "  thickness: 30", "bad-value", "panel.thickness", "has no unit"),
        ("  mass: 21.5 kg", "  mass: [21.5 kg]", "bad-value", "panel.mass", "a mass with its unit"),
        ("  rows: 1\n", "", "missing-field", "array", "add for instance `rows: 1`"),
        ("  columns: 2", "  columns: 2.5", "bad-value", "array.columns", "a whole number is wanted"),
        ("  rail: 2x8", "  rail: 2x88", "unknown-section", "frame.rail", "2x8"),
        ("  grade: no2", "  grade: no9", "unknown-grade", "frame.grade", "did you mean"),
        ("    axle_height: 44 in", "    axle_hight: 44 in", "unknown-field", "support.posts.axle_hight", "axle_height"),
        ("    embedment: 66 in", "    embedment: 66 deg", "bad-value", "support.posts.embedment", "no unit of length"),
        ("  clips_per_panel: 4", "  clips_per_panel: 60", "out-of-range", "joints.clips_per_panel", "between 2 and 16"),
        ("  gust: 100 mph", "  gust: 100 kg", "bad-value", "loads.gust", "no unit of speed"),
        ("  kerf: 1/8 in", "  kerf: 4 in", "out-of-range", "shop.kerf", "between 0 in and"),
        ("price: 4.60", "price: lots", "bad-value", "shop.stock.0.price", "write a plain number"),
        ("tilts: [12 deg,", "tilts: [12 mm,", "bad-value", "tilts.0", "no unit of angle"),
    ];
    let text = faults.iter().fold(BUILTIN_TEXT.to_string(), |text, (from, to, ..)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    });
    let told = read_text("bad.yaml", &text).expect_err("a file full of faults");
    let err = run_all(&text).stderr;
    for (_, to, code, field, says) in faults {
        let fault = told.iter().find(|fault| fault.code == code && fault.field == field);
        let fault = fault.unwrap_or_else(|| panic!("{code} of {field} is not in {told:#?}"));
        let words = format!("{} {}", fault.sentence, fault.hints.join(" "));
        assert!(words.contains(says), "{field}: {words}");
        assert!(!fault.hints.is_empty() || code == "unknown-section", "{field}: no way out of {}", fault.sentence);
        let place = fault.place.as_ref().expect("a place");
        // A field that is missing is shown at its block.
        let line = if to.is_empty() { "array:" } else { to };
        assert_eq!(place.line, line_of(&text, line), "{field}");
        assert!(err.contains(&format!("bad.yaml:{}:", place.line)) && err.contains(&fault.sentence), "{field}: {err}");
    }
    // What follows from a fault is no further fault: a misspelt height is not missing as well.
    assert_eq!(told.len(), faults.len(), "{told:#?}");
    let lines: Vec<usize> = told.iter().filter_map(|fault| Some(fault.place.as_ref()?.line)).collect();
    assert!(lines.is_sorted(), "{lines:?}");
}
