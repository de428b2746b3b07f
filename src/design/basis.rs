//! The validated basis of the loads: which standard, which gust, which snow.

use crate::quantities::{Length, Pressure, Velocity};
use serde::{Deserialize, Serialize};

/// The document the loads are taken from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Edition {
    /// ASCE/SEI 7-10.
    #[serde(rename = "asce7-10")]
    Asce710,
    /// ASCE/SEI 7-16.
    #[serde(rename = "asce7-16")]
    Asce716,
    /// ASCE/SEI 7-22. Its clause for ground-mounted fixed-tilt systems (§29.4.5) is not encoded.
    #[serde(rename = "asce7-22")]
    Asce722,
    /// EN 1991-1-4:2005+A1 and EN 1991-1-3: actions, reactions and equilibrium only.
    #[serde(rename = "en1991")]
    En1991,
}

impl Edition {
    /// The document as it is cited.
    #[must_use]
    pub fn document(self) -> &'static str {
        match self {
            Self::Asce710 => "ASCE 7-10",
            Self::Asce716 => "ASCE 7-16",
            Self::Asce722 => "ASCE 7-22",
            Self::En1991 => "EN 1991",
        }
    }
}

/// Surface roughness around the frame, ASCE 7 §26.7: `B` suburban, `C` open country (the one to take if unsure), `D` open water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Exposure {
    /// Suburbs, wooded ground.
    B,
    /// Open country with scattered obstructions.
    C,
    /// Flat, unobstructed ground and water.
    D,
}

impl Exposure {
    /// As the standard prints it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::B => "B",
            Self::C => "C",
            Self::D => "D",
        }
    }
}

/// Terrain category of EN 1991-1-4 Table 4.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Terrain {
    /// Category 0: sea and coast open to the sea.
    #[serde(rename = "sea")]
    Sea,
    /// Lakes and flat ground without obstacles.
    I,
    /// Low vegetation and isolated obstacles.
    II,
    /// Regular cover: villages, suburbs, forest.
    III,
    /// At least 15 % of the ground built on, mean height above 15 m.
    IV,
}

impl Terrain {
    /// As the standard prints it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sea => "sea",
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
            Self::IV => "IV",
        }
    }
}

/// What would be lost if the frame failed, ASCE 7 Table 1.5-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum RiskCategory {
    /// Low hazard: farm, temporary, small storage.
    I,
    /// Everything else.
    II,
    /// Substantial hazard.
    III,
    /// Essential.
    IV,
}

impl RiskCategory {
    /// As the standard prints it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
            Self::IV => "IV",
        }
    }
}

/// How much stands below the frame in the way of the wind.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Below {
    /// Declared at most 50 % blocked, now and later.
    Clear,
    /// Declared more than 50 % blocked: goods stored, snow banks, hedges.
    Obstructed,
    /// Not declared: both are run.
    #[default]
    Undeclared,
}

impl Below {
    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Clear => "clear",
            Self::Obstructed => "obstructed",
            Self::Undeclared => "undeclared",
        }
    }
}

/// The printed form of the ASCE velocity-pressure equation. The two constants differ by 0.07 %.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// 0.00256, feet, miles per hour, pounds per square foot.
    #[default]
    Us,
    /// 0.613, metres, metres per second, pascals.
    Si,
}

/// Exposure of the snow surface, ASCE 7-16 Table 7.3-1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Around {
    /// Nothing around gives shelter.
    FullyExposed,
    /// Neither fully exposed nor sheltered.
    PartiallyExposed,
    /// Close in among conifers or higher buildings.
    Sheltered,
}

impl Around {
    /// In words.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::FullyExposed => "fully exposed",
            Self::PartiallyExposed => "partially exposed",
            Self::Sheltered => "sheltered",
        }
    }
}

/// A validated load basis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoadBasis {
    /// Wind, by one of the two families of standards.
    pub wind: WindBasis,
    /// Ground snow with the map it was read from.
    pub snow: SnowBasis,
    /// Rated panel design load on the face, and on the back.
    pub panel_design_load: [Pressure; 2],
    /// What stands below the frame.
    pub below: Below,
}

/// Wind basis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum WindBasis {
    /// ASCE 7.
    Asce(AsceWind),
    /// EN 1991-1-4.
    En(EnWind),
}

/// What ASCE 7 needs to know of the wind at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AsceWind {
    /// 7-10, 7-16 or 7-22.
    pub edition: Edition,
    /// Ultimate 3-second gust.
    pub gust: Velocity,
    /// Exposure.
    pub exposure: Exposure,
    /// Risk category the gust was read for.
    pub risk: RiskCategory,
    /// Ground above the sea.
    pub elevation: Length,
    /// Topographic factor.
    pub k_zt: f64,
    /// Printed form used.
    pub form: Form,
}

/// What EN 1991-1-4 needs to know of the wind at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EnWind {
    /// Basic wind velocity, directional and seasonal factors 1.
    pub basic: Velocity,
    /// Terrain category.
    pub terrain: Terrain,
    /// Orography factor on the velocity, c_0.
    pub c_0: f64,
    /// Ground above the sea.
    pub elevation: Length,
}

/// Ground snow whose level belongs to its map: the variants cannot be exchanged.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SnowBasis {
    /// 50-year service-level ground snow of 7-10 or 7-16; an importance factor follows.
    Service(ServiceSnow),
    /// Strength-level ground snow of 7-22 for the risk category.
    Strength(StrengthSnow),
    /// Characteristic ground snow s_k of EN 1991-1-3.
    Characteristic(Pressure),
}

/// What else ASCE 7 needs to know of the snow at the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SnowSite {
    /// Terrain.
    pub exposure: Exposure,
    /// Shelter.
    pub around: Around,
    /// Is the surface slippery and the way off the low edge free?
    pub slides_off: bool,
}

/// A 50-year ground snow load, 7-10 or 7-16.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ServiceSnow {
    /// Ground snow load p_g.
    pub ground: Pressure,
    /// Risk category, for the importance factor.
    pub risk: RiskCategory,
    /// The surroundings.
    pub site: SnowSite,
}

/// A strength-level ground snow load, 7-22.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StrengthSnow {
    /// Ground snow load p_g of the map of this risk category.
    pub ground: Pressure,
    /// Risk category of the map.
    pub risk: RiskCategory,
    /// The surroundings.
    pub site: SnowSite,
}
