//! `fields` and `schema`: what a design file may hold, for people and for editors.

use super::{
    args::{Common, Format},
    exit::{Failure, Outcome},
    output,
};
use crate::design::{Fault, fields, nearest};
use serde::Serialize;

/// Which fields.
#[derive(Debug, clap::Args)]
pub(super) struct FieldsArgs {
    /// Fields or blocks to tell about (`site`, `support.posts.embedment`); all when none is named
    #[arg(value_name = "FIELD")]
    fields: Vec<String>,
}

#[derive(Debug, Serialize)]
struct Reference {
    fields: Vec<fields::Entry>,
}

pub(super) fn run(args: &FieldsArgs, common: &Common) -> Result<Outcome, Failure> {
    let unknown: Vec<Fault> =
        args.fields.iter().filter(|path| fields::field(path).is_none()).map(|path| unknown(path)).collect();
    if !unknown.is_empty() {
        return Err(Failure::Input(unknown));
    }
    let fields = fields::reference(&args.fields, common.units());
    match common.format {
        Format::Json => output::print_json(&Reference { fields })?,
        Format::Text => {
            let texts: Vec<String> = fields.iter().map(fields::Entry::text).collect();
            output::print(&texts.join("\n"))?;
        }
    }
    Ok(Outcome::Done)
}

fn unknown(path: &str) -> Fault {
    let names: Vec<String> = fields::all().map(|field| field.path.to_string()).collect();
    let mut fault = Fault::new("unknown-field", "", format!("`{path}` is no field of a design file"));
    if let Some(near) = nearest(path, &names) {
        fault = fault.hint(format!("did you mean `{near}`?"));
    }
    fault.hint("`tiltwright fields` tells about all")
}

/// The schema is JSON, whichever format is asked for.
pub(super) fn schema() -> Result<Outcome, Failure> {
    output::print_json(&fields::schema())?;
    Ok(Outcome::Done)
}
