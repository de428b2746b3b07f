//! `new`: a design file to start from.

use super::{
    args::Common,
    exit::{Failure, Outcome},
    output,
};
use crate::design::{self, Fault, READY, nearest};
use std::{fmt::Write as _, path::PathBuf};

/// Which ready design to copy, and where to.
#[derive(Debug, clap::Args)]
pub(super) struct NewArgs {
    /// File to write; never one that exists
    #[arg(value_name = "FILE", required_unless_present = "list")]
    file: Option<PathBuf>,
    /// Ready design to copy
    #[arg(long, value_name = "NAME", default_value = "sample")]
    like: String,
    /// Say which ready designs there are
    #[arg(long)]
    list: bool,
}

pub(super) fn run(args: &NewArgs, _common: &Common) -> Result<Outcome, Failure> {
    let Some(file) = args.file.as_deref().filter(|_| !args.list) else {
        output::print(&listing())?;
        return Ok(Outcome::Done);
    };
    let Some((_, text)) = READY.iter().find(|(name, _)| *name == args.like) else {
        let names: Vec<String> = READY.iter().map(|(name, _)| name.to_string()).collect();
        let mut fault = Fault::new("unknown-design", "--like", format!("there is no ready design `{}`", args.like));
        if let Some(near) = nearest(&args.like, &names) {
            fault = fault.hint(format!("did you mean `{near}`?"));
        }
        return Err(fault.hint(format!("there are: {}", names.join(", "))).into());
    };
    if file.exists() {
        return Err(Fault::new("file-exists", "", format!("{} exists already", file.display()))
            .hint("name a new file; nothing is overwritten")
            .into());
    }
    output::write_file(file, text.as_bytes())?;
    output::print(&format!(
        "wrote {}: put in your place, panels and tilts, then run `tiltwright plan {}`\n",
        file.display(),
        file.display()
    ))?;
    Ok(Outcome::Done)
}

/// Each ready design with its first comment.
fn listing() -> String {
    let mut out = String::new();
    for (name, text) in READY {
        let about = text.lines().next().unwrap_or_default().trim_start_matches(['#', ' ']);
        let name_of = design::read_text(name, text).map(|read| read.design.name).unwrap_or_default();
        let _ = writeln!(out, "{name:<20} {name_of}: {about}");
    }
    out
}
