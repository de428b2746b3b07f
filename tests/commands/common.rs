//! A small builder, so that each test of the binary stays a few lines.
#![allow(dead_code, reason = "shared by several test files")]

use serde_yaml::Value;
use std::path::{Path, PathBuf};

/// What one run of the binary gave.
#[derive(Debug)]
pub(crate) struct Run {
    /// Exit code.
    pub(crate) code: i32,
    /// Standard output.
    pub(crate) stdout: String,
    /// Standard error.
    pub(crate) stderr: String,
}

/// Runs the binary in `folder`.
pub(crate) fn tiltwright_in(folder: &Path, arguments: &[&str]) -> Run {
    let output = assert_cmd::Command::cargo_bin("tiltwright")
        .expect("the binary is built with the tests")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the binary starts");
    Run {
        code: output.status.code().expect("no signal ended the run"),
        stdout: String::from_utf8(output.stdout).expect("stdout is UTF-8"),
        stderr: String::from_utf8(output.stderr).expect("stderr is UTF-8"),
    }
}

/// Runs the binary in the project folder.
pub(crate) fn tiltwright(arguments: &[&str]) -> Run {
    tiltwright_in(&project(), arguments)
}

/// The project folder.
pub(crate) fn project() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The text with fields set; a value of `~` removes the field.
pub(crate) fn with(text: &str, changes: &[(&str, &str)]) -> String {
    let mut root: Value = serde_yaml::from_str(text).expect("the base is YAML");
    for (path, value) in changes {
        let (parents, last) = path.rsplit_once('.').map_or((vec![], *path), |(p, l)| (p.split('.').collect(), l));
        let mut at = &mut root;
        for parent in parents {
            at = at
                .as_mapping_mut()
                .expect("a mapping")
                .entry(parent.into())
                .or_insert(Value::Mapping(Default::default()));
        }
        let mapping = at.as_mapping_mut().expect("a mapping");
        match serde_yaml::from_str(value).expect("the value is YAML") {
            Value::Null => drop(mapping.remove(last)),
            value => drop(mapping.insert(last.into(), value)),
        }
    }
    serde_yaml::to_string(&root).expect("YAML")
}
