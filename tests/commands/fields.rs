//! `fields`, `schema` and what `new` writes: views of one table.

use crate::common::{project, tiltwright_in, with};
use std::fs;
use tiltwright::design::{READY, fields, read_text};

fn run(arguments: &[&str]) -> String {
    let run = tiltwright_in(&project(), arguments);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{arguments:?}");
    run.stdout
}

#[test]
fn every_field_is_told_with_its_range_its_default_and_an_example() {
    let text = run(&["fields"]);
    let answer: serde_json::Value = serde_json::from_str(&run(&["fields", "--format", "json"])).expect("JSON");
    let listed = answer["fields"].as_array().expect("fields");
    assert_eq!(listed.len(), fields::all().count());
    for (field, entry) in fields::all().zip(listed) {
        assert_eq!(entry["field"], field.path);
        assert!(
            text.contains(&format!("{}: {}\n    {}\n", field.path, field.kind.word(), field.about)),
            "{}",
            field.path
        );
        assert!(text.contains(field.example) && text.contains(&field.left_out.words()), "{}", field.path);
    }
    let metric = run(&["fields", "support.posts.embedment", "--units", "metric"]);
    assert!(metric.contains("between 150 mm and 4000 mm, written in mm, cm, m, in, ft"), "{metric}");
    assert!(metric.contains("size       may choose it") && metric.lines().count() == 7, "{metric}");
    assert!(run(&["fields", "array"]).contains("left out   chosen by the layout"));
}

#[test]
fn a_field_that_is_none_is_refused_with_the_nearest() {
    let run = tiltwright_in(&project(), &["fields", "support.post.section", "site"]);
    assert_eq!((run.code, run.stdout.as_str()), (2, ""));
    assert!(run.stderr.contains("error[unknown-field]: `support.post.section` is no field"), "{}", run.stderr);
    assert!(run.stderr.contains("did you mean `support.posts.section`?"), "{}", run.stderr);
}

/// A range as the reference tells it is the range that a design is judged by.
#[test]
fn a_range_that_is_told_is_the_range_that_is_judged() {
    let base = READY[0].1;
    let mut judged = 0;
    for field in fields::all().filter(|field| matches!(field.kind, fields::Kind::Length(_))) {
        let Some(range) = field.kind.range_words(tiltwright::quantities::Units::Us) else { continue };
        let text = with(base, &[(field.path, "-900000 m")]);
        let told = read_text("x.yaml", &text).expect_err("no field takes that");
        if let Some(fault) = told.iter().find(|fault| fault.field == field.path && fault.code == "out-of-range") {
            assert!(fault.hints[0].contains(&range), "{}: {range}: {:?}", field.path, fault.hints);
            judged += 1;
        }
    }
    assert!(judged > 25, "{judged}");
}

/// What `new` writes is a ready design, line by line, and comments beside.
#[test]
fn a_new_file_is_a_ready_design_with_its_fields_explained() {
    let folder = tempfile::tempdir().expect("a folder");
    for (name, text) in READY {
        let file = format!("{name}.yaml");
        let run = tiltwright_in(folder.path(), &["new", &file, "--like", name]);
        assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{name}");
        let written = fs::read_to_string(folder.path().join(&file)).expect("a file");
        let design = |text: &str| format!("{:?}", read_text("x.yaml", text).expect("it reads").design);
        assert_eq!(design(&written), design(text), "{name}");
        let plain = |text: &str| {
            let lines = text.lines().map(|line| line.split(" # ").next().unwrap_or_default().trim_end().to_string());
            lines.filter(|line| !line.trim_start().starts_with('#') && !line.is_empty()).collect::<Vec<_>>()
        };
        assert_eq!(plain(&written), plain(text), "{name}");
        assert!(written.lines().all(|line| line.chars().count() <= 140), "{name}");
        for words in
            ["# Where the frame stands.", "# Panels up the slope.", "#   array.frame_gap ", " chosen by the layout"]
        {
            assert!(written.contains(words), "{name}: {words}:\n{written}");
        }
    }
}
