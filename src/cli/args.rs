//! The command line as types.

use super::exit::Failure;
use crate::{
    design::{self, Goal},
    frame::LaidOut,
    quantities::{Angle, Latitude, Longitude, QuantityError, Units, read},
};
use clap::{Args, Parser, Subcommand, ValueEnum};
use std::path::PathBuf;

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

/// Options that every command has.
#[derive(Debug, Clone, Copy, Args)]
pub(super) struct Common {
    /// How the result is printed
    #[arg(long, global = true, value_enum, default_value_t = Format::Text)]
    pub(super) format: Format,
    /// Units of printed lengths, masses and forces, and marks of the tape; the design's own when not given
    #[arg(long, global = true, value_enum)]
    pub(super) units: Option<UnitsChoice>,
}

impl Common {
    /// The units asked for; without a design to ask, feet and inches.
    pub(super) fn units(self) -> Units {
        self.units_or(Units::Us)
    }

    /// The units asked for, else those the design is written in.
    pub(super) fn units_or(self, design: Units) -> Units {
        self.units.map_or(design, Units::from)
    }
}

/// The design file a command works on.
#[derive(Debug, Args)]
pub(super) struct DesignArg {
    /// Design file; the built-in design when not given
    #[arg(value_name = "DESIGN")]
    pub(super) design: Option<PathBuf>,
}

impl DesignArg {
    /// Reads and lays out, to be shown in the units asked for.
    pub(super) fn lay_out(&self, common: &Common) -> Result<LaidOut, Failure> {
        Ok(LaidOut::of(design::read(self.design.as_deref())?, common.units.map(Units::from))?)
    }
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    Text,
    Json,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum UnitsChoice {
    /// Feet, inches and sixteenths; pounds
    Us,
    /// Millimetres; kilograms and newtons
    Metric,
}

impl From<UnitsChoice> for Units {
    fn from(choice: UnitsChoice) -> Self {
        match choice {
            UnitsChoice::Us => Self::Us,
            UnitsChoice::Metric => Self::Metric,
        }
    }
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Write a design file to start from
    New(super::new::NewArgs),
    /// Tell what a design file may hold: each field, what it takes, and what stands where it is left out
    Fields(super::fields::FieldsArgs),
    /// Print the JSON Schema of a design file, for editors
    Schema,
    /// Print completions for a shell
    Completions(super::shell::CompletionsArgs),
    /// Print the manual pages
    Manual,
    /// Make the whole packet: drawings, templates, lists, one page for phone and printer
    Plan(super::plan::PlanArgs),
    /// List every piece to cut, the sticks to buy, and all hardware
    Cutlist(super::cutlist::CutlistArgs),
    /// Find the cheapest boards for a list of parts, prove it, and say where to saw
    Cutplan(super::cutplan::CutplanArgs),
    /// Give the holes that hold the tilts, exact and as taped
    Drill(super::drill::DrillArgs),
    /// Judge measured diagonals: how far from square, which corner to push, how far
    Square(super::square::SquareArgs),
    /// Judge a site: winter hours behind trees, true south, distance between frames
    Site(super::site::SiteArgs),
    /// Check the frame at every tilt against wind, snow and people, and say what may be said
    Strength(super::strength::StrengthArgs),
    /// Find the cheapest or lightest sizes that pass every check, and show the next cheaper ones failing
    Size(super::size::SizeArgs),
    /// Write out the calculation behind a part or a check
    Explain(super::explain::ExplainArgs),
    /// Find the best tilts of a place and the days to change them
    Tilts(super::tilts::TiltsArgs),
}

/// What `--for` asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum GoalChoice {
    /// The most energy in a year
    Year,
    /// The most energy in the three darkest months
    Winter,
    /// The most energy in the month that gets least
    Evenest,
}

impl From<GoalChoice> for Goal {
    fn from(choice: GoalChoice) -> Self {
        match choice {
            GoalChoice::Year => Self::Year,
            GoalChoice::Winter => Self::Winter,
            GoalChoice::Evenest => Self::Evenest,
        }
    }
}

/// A latitude on the command line: `44 N`, `-44 deg`, or a bare number of degrees, south negative.
pub(super) fn latitude(text: &str) -> Result<Angle, QuantityError> {
    read::<Latitude>(text).map(|latitude| latitude.0).or_else(|error| degrees(text).map_err(|_| error))
}

/// A longitude on the command line: `105 W`, `-105 deg`, or a bare number of degrees, west negative.
pub(super) fn longitude(text: &str) -> Result<Angle, QuantityError> {
    read::<Longitude>(text).map(|longitude| longitude.0).or_else(|error| degrees(text).map_err(|_| error))
}

/// An angle on the command line: `40 deg`, or a bare number of degrees where the option says so.
pub(super) fn degrees(text: &str) -> Result<Angle, QuantityError> {
    read::<Angle>(text).or_else(|error| read::<Angle>(&format!("{text} deg")).map_err(|_| error))
}
