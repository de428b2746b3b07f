//! `plan`: the whole packet of a design, written into one folder.

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output, packet_folder,
};
use crate::{
    design,
    loads::{LEFT_OUT, left_out},
    quantities::Units,
    sheets::{PacketOptions, Paper, packet, slug_of},
};
use serde::Serialize;
use std::path::PathBuf;

/// Which design, which paper, and where the packet goes.
#[derive(Debug, clap::Args)]
pub(super) struct PlanArgs {
    #[command(flatten)]
    design: DesignArg,
    /// Folder that gets a folder of its own for the packet
    #[arg(long, value_name = "FOLDER", default_value = "out")]
    out: PathBuf,
    /// Name of the packet's folder; the design's name when not given
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Paper of the drawings; templates come on both
    #[arg(long, value_enum)]
    paper: Option<PaperChoice>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum PaperChoice {
    Letter,
    A4,
}

impl From<PaperChoice> for Paper {
    fn from(choice: PaperChoice) -> Self {
        match choice {
            PaperChoice::Letter => Self::Letter,
            PaperChoice::A4 => Self::A4,
        }
    }
}

#[derive(Debug, Serialize)]
struct Answer {
    folder: String,
    files: Vec<String>,
    notes: Vec<String>,
    /// What may be said of the strength.
    verdict: String,
    holds: bool,
    exclusions: [&'static str; LEFT_OUT.len()],
}

pub(super) fn run(args: &PlanArgs, common: &Common) -> Result<Outcome, Failure> {
    let read = design::read(args.design.design.as_deref())?;
    let options = PacketOptions { units: common.units.map(Units::from), paper: args.paper.map(Paper::from) };
    let packet = packet(read, &options)?;
    let folder = args.out.join(slug_of(args.name.as_deref().unwrap_or(&packet.design)));
    let answer = Answer {
        folder: folder.display().to_string(),
        files: packet.files.iter().map(|file| file.path.clone()).collect(),
        notes: packet.notes.clone(),
        verdict: packet.verdict.clone(),
        holds: packet.holds,
        exclusions: LEFT_OUT,
    };
    packet_folder::write(&folder, &packet.files, &packet.design, || match common.format {
        Format::Json => output::print_json(&answer),
        Format::Text => output::print(&text(&answer, packet.calculation())),
    })?;
    Ok(if packet.fails { Outcome::CheckFails } else { Outcome::Done })
}

fn text(answer: &Answer, calculation: Option<&str>) -> String {
    let sheets = answer.files.iter().filter(|f| f.ends_with(".svg")).count();
    let mut out = format!(
        "{} files, {sheets} of them drawings, in {}\nOpen {}/index.html to read or print all of it; print drawings at 100 % and measure the check bar.\n",
        answer.files.len(),
        answer.folder,
        answer.folder
    );
    for note in &answer.notes {
        out.push_str(&format!("note: {note}\n"));
    }
    out.push_str(&format!("Strength: {}.\n{}\n", answer.verdict, left_out()));
    if let Some(calculation) = calculation {
        out.push_str(&format!(
            "Every check stands in {}/{calculation}; `tiltwright strength` prints them.\n",
            answer.folder
        ));
    }
    out.push_str("Results are aids to a builder: local codes and a licensed engineer govern.\n");
    out
}
