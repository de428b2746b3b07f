//! `completions` and `manual`: what the shell and the manual reader want to know of the command line.

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    output,
};
use serde::Serialize;

/// Which shell.
#[derive(Debug, clap::Args)]
pub(super) struct CompletionsArgs {
    /// Shell to complete for
    #[arg(value_enum)]
    shell: clap_complete::Shell,
}

#[derive(Debug, Serialize)]
struct Completions {
    shell: String,
    script: String,
}

#[derive(Debug, Serialize)]
struct Manual {
    pages: Vec<ManualPage>,
}

#[derive(Debug, Serialize)]
struct ManualPage {
    command: String,
    roff: String,
}

pub(super) fn completions(
    args: &CompletionsArgs,
    whole: &mut clap::Command,
    common: &Common,
) -> Result<Outcome, Failure> {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, whole, "tiltwright", &mut script);
    let script = String::from_utf8_lossy(&script).into_owned();
    match common.format {
        Format::Json => output::print_json(&Completions { shell: args.shell.to_string(), script })?,
        Format::Text => output::print(&script)?,
    }
    Ok(Outcome::Done)
}

pub(super) fn manual(whole: clap::Command, common: &Common) -> Result<Outcome, Failure> {
    let page = |command: clap::Command| {
        let mut roff = Vec::new();
        let name = command.get_name().to_string();
        clap_mangen::Man::new(command).render(&mut roff).expect("writing to memory cannot fail");
        ManualPage { command: name, roff: String::from_utf8_lossy(&roff).into_owned() }
    };
    let named = |command: &clap::Command| command.clone().name(format!("tiltwright-{}", command.get_name()));
    let commands: Vec<_> = whole.get_subcommands().map(named).collect();
    let manual = Manual { pages: std::iter::once(whole).chain(commands).map(page).collect() };
    match common.format {
        Format::Json => output::print_json(&manual)?,
        Format::Text => output::print(&manual.pages.iter().map(|page| page.roff.as_str()).collect::<String>())?,
    }
    Ok(Outcome::Done)
}
