//! Comes in: the command line. Goes out: text or JSON on stdout, faults on stderr, an exit code.
//! This room never computes: one file per command gathers results and hands them to `report`.

mod args;
mod aside;
mod command;
mod cutlist;
mod cutplan;
mod drill;
mod exit;
mod explain;
mod fields;
mod figures;
mod new;
mod output;
mod packet_folder;
mod plan;
mod report;
mod result_row;
mod shell;
mod site;
mod size;
mod square;
mod strength;
mod tilts;

pub use exit::Outcome;

use clap::{CommandFactory, Parser};
use command::{Arguments, Command};
use std::{ffi::OsString, process::ExitCode};

/// Parses the arguments, runs the command, prints what went wrong, and returns the exit code.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => return report::usage(&error),
    };
    report::finish(dispatch(&arguments))
}

fn dispatch(arguments: &Arguments) -> Result<Outcome, exit::Failure> {
    let common = &arguments.common;
    match &arguments.command {
        Command::Cutlist(args) => cutlist::run(args, common),
        Command::Cutplan(args) => cutplan::run(args, common),
        Command::Drill(args) => drill::run(args, common),
        Command::Plan(args) => plan::run(args, common),
        Command::New(args) => new::run(args, common),
        Command::Fields(args) => fields::run(args, common),
        Command::Schema => fields::schema(),
        Command::Completions(args) => shell::completions(args, &mut Arguments::command(), common),
        Command::Manual => shell::manual(Arguments::command(), common),
        Command::Square(args) => square::run(args, common),
        Command::Site(args) => site::run(args, common),
        Command::Size(args) => size::run(args, common),
        Command::Strength(args) => strength::run(args, common),
        Command::Explain(args) => explain::run(args, common),
        Command::Tilts(args) => tilts::run(args, common),
    }
}
