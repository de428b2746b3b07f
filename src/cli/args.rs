//! Options that several commands share, and values as they stand on a command line.

use super::exit::Failure;
use crate::{
    design::{self, Goal},
    frame::LaidOut,
    quantities::{Angle, Latitude, Longitude, QuantityError, Units, read},
};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

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
