//! A small builder, so that each test of the binary stays a few lines.
#![allow(dead_code, reason = "shared by several test files")]

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
