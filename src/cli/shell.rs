//! `completions` and `manual`: what the shell and the manual reader want to know of the command line.

use super::{
    args::{Arguments, Common},
    exit::{Failure, Outcome},
    output,
};
use clap::CommandFactory;

/// Which shell.
#[derive(Debug, clap::Args)]
pub(super) struct CompletionsArgs {
    /// Shell to complete for
    #[arg(value_enum)]
    shell: clap_complete::Shell,
}

pub(super) fn completions(args: &CompletionsArgs, _common: &Common) -> Result<Outcome, Failure> {
    let mut text = Vec::new();
    clap_complete::generate(args.shell, &mut Arguments::command(), "tiltwright", &mut text);
    output::print(&String::from_utf8_lossy(&text))?;
    Ok(Outcome::Done)
}

pub(super) fn manual(_common: &Common) -> Result<Outcome, Failure> {
    let mut text = Vec::new();
    let page = |command: clap::Command, text: &mut Vec<u8>| clap_mangen::Man::new(command).render(text);
    let whole = Arguments::command();
    page(whole.clone(), &mut text).expect("writing to memory cannot fail");
    for command in whole.get_subcommands() {
        let named = command.clone().name(format!("tiltwright-{}", command.get_name()));
        page(named, &mut text).expect("writing to memory cannot fail");
    }
    output::print(&String::from_utf8_lossy(&text))?;
    Ok(Outcome::Done)
}
