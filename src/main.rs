//! The command-line door: parse, run, return the exit code.

use std::process::ExitCode;

fn main() -> ExitCode {
    tiltwright::cli::run(std::env::args_os())
}
