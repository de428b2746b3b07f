//! Bad design files: exit 2, nothing on stdout, nothing written, and a message that names file, line, field and what
//! would be accepted.

use crate::common::{Run, tiltwright_in};
use std::path::Path;
use tiltwright::design::BUILTIN_TEXT;

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
    refused("  latitude: 40 deg", "  latitude: 40 mm", "bad-value", &["`mm`", "no unit of angle", "deg"]);
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
    refused("  latitude: 40 deg", "  latitude: 91 deg", "out-of-range", &["`site.latitude`", "between -90° and 90°"]);
    refused("  latitude: 40 deg", "  latitude: -90.01 deg", "out-of-range", &["between -90° and 90°"]);
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
