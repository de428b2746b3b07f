//! The README says what the program does: its design and its commands run.

use std::{fs, path::Path};

fn readme() -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("there is a README")
}

fn blocks(language: &str) -> Vec<String> {
    readme()
        .split(&format!("```{language}\n"))
        .skip(1)
        .map(|rest| rest.split("```").next().expect("the block ends").to_string())
        .collect()
}

fn tiltwright(folder: &Path, arguments: &[&str]) -> std::process::Output {
    let mut command = assert_cmd::Command::cargo_bin("tiltwright").expect("the binary is built with the tests");
    command.current_dir(folder).args(arguments).output().expect("the binary starts")
}

#[test]
fn every_file_shown_in_the_readme_runs() {
    // What a file is can be told by a field that only it has.
    const COMMANDS: [(&str, &str); 3] = [("tiltwright:", "drill"), ("parts:", "cutplan"), ("points:", "site")];
    let files = blocks("yaml");
    assert_eq!(files.len(), COMMANDS.len());
    for (field, command) in COMMANDS {
        let file = files.iter().find(|text| text.contains(field)).expect("the README shows one of each");
        let folder = tempfile::tempdir().expect("a temporary folder");
        fs::write(folder.path().join("file.yaml"), file).expect("the file can be written");
        let run = tiltwright(folder.path(), &[command, "file.yaml"]);
        assert!(
            run.status.success(),
            "{command}: {}{}",
            String::from_utf8_lossy(&run.stdout),
            String::from_utf8_lossy(&run.stderr)
        );
    }
}

#[test]
fn the_commands_in_the_readme_run() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let lines: Vec<String> = blocks("sh").concat().lines().map(str::to_string).collect();
    let main = lines.iter().find(|l| l.starts_with("cargo run --release -- ")).expect("the main job");
    let words: Vec<&str> = main.split('#').next().expect("words").split_whitespace().skip(4).collect();
    let run = tiltwright(folder.path(), &words);
    assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
    assert!(folder.path().join("out/fallow-ridge-garden-frame/index.html").is_file());
    // The table's examples that need no file.
    let text = readme();
    let square = text.split("| `").find(|row| row.starts_with("square ")).and_then(|row| row.split('`').next());
    let words: Vec<&str> = square.expect("an example").split_whitespace().collect();
    assert_eq!(tiltwright(folder.path(), &words).status.code(), Some(1), "its diagonals ask for a push");
    assert!(tiltwright(folder.path(), &["tilts", "--latitude", "40"]).status.success());
}

#[test]
fn every_command_in_the_readme_table_exists() {
    let text = readme();
    let table = text.split("## What it answers").nth(1).expect("the table").split("##").next().expect("its end");
    let folder = tempfile::tempdir().expect("a temporary folder");
    let names: Vec<&str> = table.lines().filter_map(|l| l.strip_prefix("| `")?.split([' ', '`']).next()).collect();
    assert!(names.len() >= 7, "{names:?}");
    for name in names {
        let run = tiltwright(folder.path(), &[name, "--help"]);
        assert!(run.status.success(), "`{name}` is in the README and no command");
    }
}

#[test]
fn the_readme_gives_the_test_command_that_ci_runs() {
    let ci = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(".ci/run")).expect("there is a .ci/run");
    let commands = blocks("sh").concat();
    let tests: Vec<&str> = commands
        .lines()
        .filter(|line| line.starts_with("cargo test"))
        .map(|line| line.split('#').next().unwrap_or_default().trim())
        .collect();
    assert_eq!(tests.len(), 1, "{tests:?}");
    assert!(ci.lines().any(|line| line == tests[0]), "`{}` is not what .ci/run calls", tests[0]);
}

/// With commands that only say they were called: all steps, and all but those that need Python.
#[cfg(unix)]
#[test]
fn ci_ends_with_what_ran_and_what_did_not() {
    use std::os::unix::fs::PermissionsExt as _;
    let ci = Path::new(env!("CARGO_MANIFEST_DIR")).join(".ci/run");
    for (has_python, last) in [
        (
            true,
            "passed: tests, layout, lints, documentation, sample packet, equations, totals and models against other libraries, printed check bars; every step ran",
        ),
        (
            false,
            "passed: tests, layout, lints, documentation, sample packet; NOT RUN: equations, totals and models against other libraries, for want of python3 with venv",
        ),
    ] {
        let clone = tempfile::tempdir().expect("a temporary folder");
        let bin = clone.path().join("bin");
        let put = |path: &str, text: &str| {
            let path = clone.path().join(path);
            fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
            fs::write(&path, text).expect("written");
            fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).expect("it may be run");
        };
        put(".ci/run", &fs::read_to_string(&ci).expect("there is a .ci/run"));
        for command in
            ["cargo", "git", "rustup", "chromium", "pdftoppm", "target/venv/bin/pip", "target/venv/bin/python"]
        {
            let path = if command.contains('/') { command.to_string() } else { format!("bin/{command}") };
            put(&path, &format!("#!/bin/sh\necho \"$(basename $0) $*\" >> {}/called\n", clone.path().display()));
        }
        put("bin/python3", if has_python { "#!/bin/sh\n" } else { "#!/bin/sh\nexit 1\n" });
        let path = format!("{}:{}", bin.display(), std::env::var("PATH").unwrap_or_default());
        let run = std::process::Command::new("bash")
            .arg(clone.path().join(".ci/run"))
            .env("PATH", path)
            .output()
            .expect("bash");
        let said = String::from_utf8_lossy(&run.stdout);
        assert_eq!((run.status.code(), said.lines().last()), (Some(0), Some(last)));
        let called = fs::read_to_string(clone.path().join("called")).expect("commands were called");
        let at = |what: &str| called.lines().position(|line| line == what);
        assert!(at("cargo fetch --locked --quiet") < at("cargo test"), "{called}");
        assert!(at("cargo fetch --locked --quiet").is_some() && at("git diff --exit-code -- Cargo.lock").is_some());
        assert_eq!(called.matches("python tests/bench/").count(), if has_python { 3 } else { 0 }, "{called}");
    }
}

#[test]
fn pictures_in_the_readme_are_there() {
    for rest in readme().split("](").skip(1) {
        let target = rest.split(')').next().expect("the link ends");
        if !target.starts_with("http") {
            assert!(Path::new(env!("CARGO_MANIFEST_DIR")).join(target).exists(), "{target} is missing");
        }
    }
}
