//! `new`: a design file to start from, with its fields explained.

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    output::{self, Pending},
};
use crate::{
    design::{self, Fault, READY, fields::annotated, nearest},
    sheets::{self, Document, Section, Table, words},
};
use serde::Serialize;
use std::path::PathBuf;

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

#[derive(Debug, Serialize)]
struct Written {
    file: String,
    like: String,
}

#[derive(Debug, Serialize)]
struct Listing {
    designs: Vec<Ready>,
}

/// A ready design with its first comment.
#[derive(Debug, Serialize)]
struct Ready {
    like: &'static str,
    name: String,
    about: &'static str,
}

pub(super) fn run(args: &NewArgs, common: &Common) -> Result<Outcome, Failure> {
    let Some(file) = args.file.as_deref().filter(|_| !args.list) else {
        let listing = listing();
        match common.format {
            Format::Json => output::print_json(&listing)?,
            Format::Text => output::print(&listing.text())?,
        }
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
    let mut pending = Pending::default();
    pending.add(file, annotated(text).as_bytes())?;
    let written = Written { file: file.display().to_string(), like: args.like.clone() };
    match common.format {
        Format::Json => output::print_json(&written)?,
        Format::Text => output::print(&format!(
            "wrote {0}: put in your place, panels and tilts, then run `tiltwright plan {0}`\n",
            written.file
        ))?,
    }
    pending.put_in_place()?;
    Ok(Outcome::Done)
}

fn listing() -> Listing {
    let ready = |(like, text): &(&'static str, &'static str)| Ready {
        like,
        name: design::read_text(like, text).map(|read| read.design.name).unwrap_or_default(),
        about: text.lines().next().unwrap_or_default().trim_start_matches(['#', ' ']),
    };
    Listing { designs: READY.iter().map(ready).collect() }
}

impl Listing {
    fn text(&self) -> String {
        let rows = self.designs.iter().map(|ready| [ready.like, &ready.name, ready.about]);
        let table = Table::new(["Like", "Name", "What it is"].map(words)).with(rows);
        sheets::text(&Document::new("", None).with(Section::new("").table(table)))
    }
}
