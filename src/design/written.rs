//! The design file as its author wrote it: every field optional that has a sensible default, every unknown field
//! refused. Nothing is judged here; [`super::resolve`] does that.

use super::model::Goal;
use crate::quantities::{Angle, Latitude, Length, Longitude, Mass, Price, Slope, Units, Written};
use serde::Deserialize;

type L = Option<Written<Length>>;

/// A whole design file.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct File {
    pub(super) tiltwright: u32,
    pub(super) name: String,
    #[serde(default)]
    pub(super) units: Option<UnitsWord>,
    pub(super) site: Site,
    pub(super) panel: Panel,
    pub(super) array: Array,
    pub(super) frame: Frame,
    pub(super) support: Support,
    #[serde(default)]
    pub(super) tilts: Option<Vec<Written<Angle>>>,
    #[serde(default)]
    pub(super) seasons: Option<u32>,
    /// What the tilts and their dates are chosen for.
    #[serde(default, rename = "for")]
    pub(super) goal: Option<Goal>,
    #[serde(default)]
    pub(super) shop: Shop,
    #[serde(default)]
    pub(super) loads: Option<super::WrittenBasis>,
    #[serde(default)]
    pub(super) soil: Option<super::conditions::WrittenSoil>,
    #[serde(default)]
    pub(super) ballast: Option<super::holding::WrittenBallast>,
    #[serde(default)]
    pub(super) stakes: Option<super::holding::WrittenStakes>,
    #[serde(default)]
    pub(super) joints: Option<super::conditions::WrittenJoints>,
    #[serde(default)]
    pub(super) serviceability: Option<super::conditions::WrittenServiceability>,
    /// Fields with the values they may take; judged by [`super::choices`].
    #[serde(default)]
    pub(super) size: Option<serde_yaml::Value>,
}

#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum UnitsWord {
    Us,
    Metric,
}

impl UnitsWord {
    /// As a design file names them.
    pub(super) fn word(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
        }
    }
}

impl From<Units> for UnitsWord {
    fn from(units: Units) -> Self {
        match units {
            Units::Us => Self::Us,
            Units::Metric => Self::Metric,
        }
    }
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Site {
    pub(super) place: String,
    pub(super) latitude: Written<Latitude>,
    #[serde(default)]
    pub(super) longitude: Option<Written<Longitude>>,
    #[serde(default)]
    pub(super) elevation: L,
    #[serde(default)]
    pub(super) facing: Option<Written<Angle>>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Panel {
    pub(super) long_side: Written<Length>,
    pub(super) short_side: Written<Length>,
    pub(super) thickness: Written<Length>,
    pub(super) mass: Written<Mass>,
    #[serde(default)]
    pub(super) size_tolerance: L,
    #[serde(default)]
    pub(super) edge_support: Option<EdgeSupport>,
    #[serde(default)]
    pub(super) mounting_holes: Option<MountingHoles>,
    #[serde(default)]
    pub(super) cable_box: Option<CableBox>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum EdgeSupport {
    Allowed,
    Forbidden,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MountingHoles {
    pub(super) along_long_side: Written<Length>,
    pub(super) across: Written<Length>,
    pub(super) diameter: Written<Length>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CableBox {
    pub(super) from_top: Written<Length>,
    pub(super) height: Written<Length>,
    pub(super) width: Written<Length>,
    pub(super) depth: Written<Length>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Array {
    pub(super) rows: u32,
    pub(super) columns: u32,
    pub(super) orientation: Orientation,
    #[serde(default)]
    pub(super) gap: L,
    #[serde(default)]
    pub(super) frames: Option<u32>,
    #[serde(default)]
    pub(super) frame_gap: L,
}

/// How a panel stands in the array.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Orientation {
    /// Long side up the slope.
    Portrait,
    /// Long side across.
    Landscape,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Frame {
    #[serde(default)]
    pub(super) species: Option<String>,
    #[serde(default)]
    pub(super) grade: Option<String>,
    #[serde(default)]
    pub(super) treated: Option<bool>,
    #[serde(default)]
    pub(super) wet_service: Option<bool>,
    #[serde(default)]
    pub(super) incised: Option<bool>,
    pub(super) rail: String,
    pub(super) stile: String,
    #[serde(default)]
    pub(super) mullion: Option<String>,
    #[serde(default)]
    pub(super) mullion_plies: Option<u32>,
    #[serde(default)]
    pub(super) outside_width: L,
    #[serde(default)]
    pub(super) outside_length: L,
    pub(super) seating: Seating,
    #[serde(default)]
    pub(super) corner_brace: Option<CornerBrace>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Seating {
    pub(super) kind: SeatingWord,
    #[serde(default)]
    pub(super) side_clearance: L,
    #[serde(default)]
    pub(super) end_clearance: L,
    #[serde(default)]
    pub(super) proud: L,
    #[serde(default)]
    pub(super) lap: L,
    #[serde(default)]
    pub(super) purlin: Option<String>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SeatingWord {
    Lapped,
    Inset,
    OnPurlins,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CornerBrace {
    #[serde(default)]
    pub(super) section: Option<String>,
    pub(super) leg: Written<Length>,
    #[serde(default)]
    pub(super) angle: Option<Written<Angle>>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Support {
    pub(super) kind: SupportWord,
    #[serde(default)]
    pub(super) bolt: Option<String>,
    #[serde(default)]
    pub(super) pin: Option<String>,
    #[serde(default)]
    pub(super) bolt_grade: Option<String>,
    #[serde(default)]
    pub(super) low_edge_clearance: L,
    pub(super) stay: Stay,
    #[serde(default)]
    pub(super) posts: Option<Posts>,
    #[serde(default)]
    pub(super) runners: Option<Runners>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum SupportWord {
    Posts,
    Runners,
    Pole,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Stay {
    pub(super) section: String,
    #[serde(default)]
    pub(super) pin_along: L,
    #[serde(default)]
    pub(super) pin_behind: L,
    #[serde(default)]
    pub(super) cleat: Option<String>,
    #[serde(default)]
    pub(super) length: L,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Posts {
    pub(super) placement: Placement,
    pub(super) section: String,
    pub(super) axle_height: Written<Length>,
    #[serde(default)]
    pub(super) pin_below_axle: L,
    #[serde(default)]
    pub(super) pin_offset: L,
    pub(super) embedment: Written<Length>,
    #[serde(default)]
    pub(super) hole_diameter: L,
    #[serde(default)]
    pub(super) slots_after_columns: Option<Vec<u32>>,
}

/// Where the posts stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Placement {
    /// In slots between built-up mullions.
    Inside,
    /// Outboard of the outer stiles.
    Outside,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Runners {
    pub(super) section: String,
    #[serde(default)]
    pub(super) length: L,
    #[serde(default)]
    pub(super) hinge_above_holes: L,
    #[serde(default)]
    pub(super) hinge_from_low_edge: L,
    #[serde(default)]
    pub(super) on: Option<Ground>,
    #[serde(default)]
    pub(super) roof_pitch: Option<Written<Slope>>,
    #[serde(default)]
    pub(super) roof_facing: Option<Written<Angle>>,
    #[serde(default)]
    pub(super) ground_slope: Option<Written<Slope>>,
    #[serde(default)]
    pub(super) ground_facing: Option<Written<Angle>>,
    #[serde(default)]
    pub(super) shims: Option<bool>,
    #[serde(default)]
    pub(super) tie_downs: Option<super::holding::WrittenTies>,
    #[serde(default)]
    pub(super) building: Option<super::holding::WrittenBuilding>,
}

/// What the runners lie on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Ground {
    /// Soil, with stakes or ballast.
    Ground,
    /// A roof, with brackets.
    Roof,
    /// A trailer bed or deck.
    Deck,
}

#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Shop {
    #[serde(default)]
    pub(super) kerf: L,
    #[serde(default)]
    pub(super) end_trim: L,
    #[serde(default)]
    pub(super) nest_mitres: Option<bool>,
    #[serde(default)]
    pub(super) currency: Option<String>,
    #[serde(default)]
    pub(super) stock: Vec<WrittenStick>,
    #[serde(default)]
    pub(super) hardware: Vec<super::prices::WrittenGoods>,
}

#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenStick {
    pub(super) section: String,
    pub(super) length: Written<Length>,
    #[serde(default)]
    pub(super) price: Option<Price>,
    #[serde(default)]
    pub(super) available: Option<u32>,
}
