//! Comes in: what the user wrote. Goes out: a validated design, or every fault with its line and column.
//! This room never computes geometry and never prints.

mod basis;
mod builtin;
mod choices;
mod conditions;
mod fault;
pub mod fields;
mod holding;
mod judge;
mod model;
mod own_units;
mod place;
mod prices;
mod read;
mod resolve;
mod rewrite;
mod steps;
mod words;
mod written_basis;

pub use basis::{
    Around, AsceWind, Below, Edition, EnWind, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis,
    SnowSite, StrengthSnow, Terrain, WindBasis,
};
pub use builtin::{BUILTIN_NAME, BUILTIN_TEXT, READY};
pub use choices::{Choice, Offer, OpenDesign};
pub use conditions::{Joints, Screws, Serviceability, SoilSpec, StrengthBasis, Wood};
pub use fault::{Fault, Place};
pub use fields::{Field, Kind, MOST_LATITUDE_DEG};
pub use holding::{BallastSpec, Building, LagSpec, Placed, PostTie, RoofPlace, StakeSpec, Ties, evenly};
pub use model::{
    Array, Base, Brace, CableBox, Design, FrameSpec, Goal, InSoil, LiesOn, MountingHoles, Panel, Posts, PricedStick,
    Runners, Seating, Shop, Site, StaySpec, Support, Tilts,
};
pub use place::Places;
pub use prices::{Currency, Goods, PricedGoods};
pub(crate) use read::not_too_large;
pub use read::{file_text, nearest, read_yaml};
pub(crate) use resolve::CLIP_MM;
pub use resolve::SAME_TILT_DEG;
pub use words::{Ground, Orientation, Placement};
pub use written_basis::{WrittenBasis, WrittenPanelLoad, WrittenSnow};

use std::path::Path;

/// A design with the places of its fields, so that later rooms can point at what they refuse.
#[derive(Debug, Clone)]
pub struct Read {
    /// The design.
    pub design: Design,
    /// Where its fields stand.
    pub places: Places,
}

/// A design from a text.
///
/// # Errors
/// Every fault of the text, each with its place.
pub fn read_text(file: &str, text: &str) -> Result<Read, Vec<Fault>> {
    choices::read_whole(file, text)
}

/// A design from a file; the built-in one when no file is named.
///
/// # Errors
/// A file that cannot be read, or every fault of its text.
pub fn read(file: Option<&Path>) -> Result<Read, Vec<Fault>> {
    match file {
        None => read_text(BUILTIN_NAME, BUILTIN_TEXT),
        Some(path) => read_text(&path.display().to_string(), &file_text(path).map_err(|fault| vec![fault])?),
    }
}

/// A design whose fields can be chosen, from a file; the built-in one when no file is named.
///
/// # Errors
/// A file that cannot be read, or every fault of its text.
pub fn read_open(file: Option<&Path>) -> Result<OpenDesign, Vec<Fault>> {
    match file {
        None => OpenDesign::read_text(BUILTIN_NAME, BUILTIN_TEXT),
        Some(path) => {
            OpenDesign::read_text(&path.display().to_string(), &file_text(path).map_err(|fault| vec![fault])?)
        }
    }
}
