//! The command line as types: every command with its arguments.

use super::{
    args::Common, cutlist::CutlistArgs, cutplan::CutplanArgs, drill::DrillArgs, explain::ExplainArgs,
    fields::FieldsArgs, new::NewArgs, plan::PlanArgs, shell::CompletionsArgs, site::SiteArgs, size::SizeArgs,
    square::SquareArgs, strength::StrengthArgs, tilts::TiltsArgs,
};
use clap::{Parser, Subcommand};

/// Lay out, cut, drill and check frames for solar panels that are re-tilted by hand.
#[derive(Debug, Parser)]
#[command(name = "tiltwright", version, about, max_term_width = 100)]
#[command(after_help = "Results are aids to a builder: local codes and a licensed engineer govern.")]
pub(super) struct Arguments {
    #[command(flatten)]
    pub(super) common: Common,
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a design file to start from
    New(NewArgs),
    /// Tell what a design file may hold: each field, what it takes, and what stands where it is left out
    Fields(FieldsArgs),
    /// Print the JSON Schema of a design file, for editors
    Schema,
    /// Print completions for a shell
    Completions(CompletionsArgs),
    /// Print the manual pages
    Manual,
    /// Make the whole packet: drawings, templates, lists, one page for phone and printer
    Plan(PlanArgs),
    /// List every piece to cut, the sticks to buy, and all hardware
    Cutlist(CutlistArgs),
    /// Find the cheapest boards for a list of parts, prove it, and say where to saw
    Cutplan(CutplanArgs),
    /// Give the holes that hold the tilts, exact and as taped
    Drill(DrillArgs),
    /// Judge measured diagonals: how far from square, which corner to push, how far
    Square(SquareArgs),
    /// Judge a site: winter hours behind trees, true south, distance between frames
    Site(SiteArgs),
    /// Check the frame at every tilt against wind, snow and people, and say what may be said
    Strength(StrengthArgs),
    /// Find the cheapest or lightest sizes that pass every check, and show the next cheaper ones failing
    Size(SizeArgs),
    /// Write out the calculation behind a part or a check
    Explain(ExplainArgs),
    /// Find the best tilts of a place and the days to change them
    Tilts(TiltsArgs),
}
