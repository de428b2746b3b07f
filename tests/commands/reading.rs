//! What is read: only so much of it, only what ends, and nothing in it that a terminal or a spreadsheet would obey.

use crate::common::{project, tiltwright_in};
use std::{
    fs,
    path::Path,
    process::{Command, Stdio},
};

const PARTS: &str = "unit: mm\nkerf: 3\nstock: [{length: 2400, price: 460}]\nparts: [{length: 1180, qty: 3}]\n";

/// Twice what a debug build takes for a large honest file, and a small part of what a square of the input would.
#[cfg(target_os = "linux")]
const MOST_KB: u32 = 400_000;

/// Runs the binary with no more memory than [`MOST_KB`]: its exit code and what it says.
#[cfg(target_os = "linux")]
fn within_memory(folder: &Path, arguments: &str) -> (Option<i32>, String) {
    let binary = assert_cmd::cargo::cargo_bin("tiltwright");
    let run = Command::new("sh")
        .current_dir(folder)
        // One thread: the stacks of sleeping threads count as memory here.
        .env("RAYON_NUM_THREADS", "1")
        .args(["-c", &format!("ulimit -v {MOST_KB}; exec {} {arguments}", binary.display())])
        .output()
        .expect("a shell");
    (run.status.code(), String::from_utf8_lossy(&run.stderr).into_owned())
}

/// A key of half the file over a list of the other half, long keys nested, aliases of aliases, faults in one long line.
#[cfg(target_os = "linux")]
#[test]
fn hostile_files_are_refused_in_bounded_memory() {
    let folder = tempfile::tempdir().expect("a folder");
    let sample = fs::read_to_string(project().join("designs/sample.yaml")).expect("the sample");
    for bytes in [120_000, 300_000, 1_000_000] {
        let half = bytes / 2;
        let long = format!("? \"{}\"\n: [{}1]\n", "k".repeat(half), "1,".repeat(half / 2 - 10));
        let key = "k".repeat(1000);
        let ones = "1,".repeat((bytes - 4000) / 2);
        let nested = format!("{{\"{key}\": {{\"{key}x\": {{\"{key}y\": [{ones}1]}}}}}}");
        let (ones, again) = ("1,".repeat(bytes / 4), "*a,".repeat(bytes / 6));
        let aliases = format!("{sample}size: {{a: &a [{ones}1], b: [{again}*a]}}\n");
        for (text, code) in [(long, "unknown-field"), (nested, "unknown-field"), (aliases, "too-many-aliases")] {
            fs::write(folder.path().join("hostile.yaml"), text).expect("written");
            let (exit, said) = within_memory(folder.path(), "drill hostile.yaml");
            assert_eq!(exit, Some(2), "{bytes} {code}: {said}");
            // What is missing in such a file is told along with it, each field once.
            assert!(said.contains(&format!("error[{code}]")) && said.len() < 4000, "{bytes} {code}: {said}");
        }
    }
    let parts = r#"{"length":"x","qty":1}"#;
    let text = format!(
        r#"{{"unit":"mm","kerf":3,"stock":[{{"length":2400,"price":1}}],"parts":[{}{parts}]}}"#,
        format!("{parts},").repeat(5000)
    );
    fs::write(folder.path().join("faults.json"), text).expect("written");
    let (exit, said) = within_memory(folder.path(), "cutplan faults.json");
    assert_eq!(exit, Some(2), "{}", said.lines().take(5).collect::<String>());
    // The part meant is quoted, with its mark under it, however far out in the line it stands.
    let second: Vec<&str> = said.lines().skip(6).take(4).collect();
    let (quoted, marks) = (second[2], second[3]);
    let at = marks.chars().position(|c| c == '^').expect("a mark");
    assert!(quoted.chars().skip(at).collect::<String>().starts_with("\"x\""), "{said:.2000}");
}

/// An alias used as it is meant stays welcome.
#[test]
fn a_part_may_be_an_alias_of_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let text = PARTS.replace("[{length: 1180, qty: 3}]", "[&one {length: 1180, qty: 1}, *one, *one]");
    fs::write(folder.path().join("parts.yaml"), text).expect("written");
    let run = tiltwright_in(folder.path(), &["cutplan", "parts.yaml"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
}

#[cfg(unix)]
#[test]
fn what_never_ends_and_what_never_begins_is_refused_by_name() {
    let folder = tempfile::tempdir().expect("a folder");
    let made = Command::new("mkfifo").arg(folder.path().join("pipe.csv")).status().expect("mkfifo");
    assert!(made.success());
    fs::write(folder.path().join("parts.csv"), "length,qty\n1180,3\n").expect("written");
    fs::create_dir(folder.path().join("folder")).expect("a folder");
    for (arguments, what) in [
        (&["cutplan", "/dev/zero"][..], "/dev/zero: it is a device or a pipe"),
        (&["cutplan", "pipe.csv"], "pipe.csv: it is a device or a pipe"),
        (&["cutplan", "parts.csv", "--stock", "/dev/zero"], "/dev/zero: it is a device"),
        (&["cutplan", "parts.csv", "--stock", "pipe.csv"], "pipe.csv: it is a device"),
        (&["cutplan", "folder"], "folder: it is a folder"),
        (&["site", "/dev/zero"], "/dev/zero: it is a device"),
        (&["site", "pipe.csv"], "pipe.csv: it is a device"),
        (&["plan", "/dev/zero"], "/dev/zero: it is a device"),
        (&["size", "pipe.csv"], "pipe.csv: it is a device"),
    ] {
        let run = tiltwright_in(folder.path(), arguments);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(run.stderr.contains("error[cannot-read]") && run.stderr.contains(what), "{}", run.stderr);
    }
    let large = fs::File::create(folder.path().join("large.yaml")).expect("a file");
    large.set_len(1 << 40).expect("a file of holes");
    let run = tiltwright_in(folder.path(), &["cutplan", "large.yaml"]);
    assert_eq!(run.code, 2);
    assert!(run.stderr.contains("error[file-too-large]: large.yaml holds more than "), "{}", run.stderr);
}

#[cfg(unix)]
#[test]
fn standard_input_is_read_as_far_as_any_file() {
    let run = |text: Vec<u8>| {
        let mut command = assert_cmd::Command::cargo_bin("tiltwright").expect("the binary");
        command.args(["cutplan", "/dev/stdin", "--format", "json"]).write_stdin(text).output().expect("it runs")
    };
    let good = run(PARTS.as_bytes().to_vec());
    assert_eq!(good.status.code(), Some(0), "{}", String::from_utf8_lossy(&good.stderr));
    let long = run(vec![b' '; 3 << 20]);
    assert!(String::from_utf8_lossy(&long.stderr).contains("error[file-too-large]"));
    let endless = Command::new(assert_cmd::cargo::cargo_bin("tiltwright"))
        .args(["cutplan", "/dev/stdin"])
        .stdin(Stdio::from(fs::File::open("/dev/zero").expect("zeroes")))
        .output()
        .expect("it runs");
    assert_eq!(endless.status.code(), Some(2));
}

/// No terminal code, no new line and no turned reading direction out of a name; and no formula in a table.
#[test]
fn names_are_only_ever_text() {
    const HOSTILE: &str = r#""=HYPERLINK(1)\e]0;x\a\nnew\u202eline""#;
    let folder = tempfile::tempdir().expect("a folder");
    let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).expect("written");
    let harmless = |text: &str| text.chars().all(|c| c == '\n' || !(c.is_control() || c == '\u{202e}'));
    put(
        "parts.yaml",
        &format!(
            "name: {HOSTILE}\nunit: mm\nkerf: 3\nstock: [{{length: 2400, price: 460, group: {HOSTILE}}}]\nparts: [{{length: 1180, qty: 3, mark: {HOSTILE}, group: {HOSTILE}}}, {{length: 20, qty: 1, mark: \"-5\", group: {HOSTILE}}}]\n"
        ),
    );
    let run = tiltwright_in(folder.path(), &["cutplan", "parts.yaml", "--csv", "plan.csv", "--svg", "plan.svg"]);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let table = fs::read_to_string(folder.path().join("plan.csv")).expect("a table");
    let sheet = fs::read_to_string(folder.path().join("plan.svg")).expect("a sheet");
    for text in [&run.stdout, &table, &sheet] {
        assert!(harmless(text), "{text:?}");
    }
    assert!(table.contains(",'=HYPERLINK(1) ]0;x  new line,"), "{table}");
    assert!(table.contains(",-5,"), "a number stays one: {table}");
    assert_eq!(table.lines().count(), 5, "{table}");

    put("parts.csv", "mark,length,qty\n\"@SUM(1)\u{1b}[31m\nx\",1180,1\n");
    put("stock.csv", "length,price\n2400,460\n");
    let run = tiltwright_in(
        folder.path(),
        &["cutplan", "parts.csv", "--stock", "stock.csv", "--kerf", "3", "--csv", "b.csv"],
    );
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let table = fs::read_to_string(folder.path().join("b.csv")).expect("a table");
    assert!(harmless(&run.stdout) && table.contains(",'@SUM(1) [31m x,"), "{table}");

    let survey = format!(
        "name: {HOSTILE}\nlatitude: 40 deg\nlongitude: -105 deg\nbearings: true\npoints: [{{bearing: 0 deg, elevation: 2 deg}}, {{bearing: 180 deg, elevation: 9 deg}}]\nobstacles: [{{name: {HOSTILE}, from: 215 deg, to: 230 deg, height: 40 ft, distance: 60 ft}}]\n"
    );
    put("site.yaml", &survey);
    let run = tiltwright_in(folder.path(), &["site", "site.yaml"]);
    assert!(harmless(&run.stdout) && run.stdout.contains("HYPERLINK") && run.stderr.is_empty(), "{run:?}");

    // A fault quotes what it is about; the name of a file and a word of the command line as well.
    put("bad.yaml", &PARTS.replace("unit: mm", &format!("unit: {HOSTILE}")));
    put("bad\u{1b}[31m.yaml", &PARTS.replace("unit: mm", "unit: \u{85}"));
    for arguments in [
        &["cutplan", "bad.yaml"][..],
        &["cutplan", "bad\u{1b}[31m.yaml"],
        &["cutplan", "none\u{1b}[31m\nnone.yaml"],
        &["drill", "--\u{1b}[31mnone"],
    ] {
        let run = tiltwright_in(folder.path(), arguments);
        assert_eq!((run.code, run.stdout.as_str()), (2, ""), "{arguments:?}");
        assert!(harmless(&run.stderr) && run.stderr.contains("error"), "{:?}", run.stderr);
    }
}
