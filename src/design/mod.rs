//! Comes in: what the user wrote. Goes out: a validated design, or every fault with its line and column.
//! This room never computes geometry and never prints.

mod basis;
mod fault;
mod place;
mod read;

pub use basis::{
    Around, AsceWind, Below, Edition, EnWind, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis,
    SnowSite, StrengthSnow, Terrain, WindBasis, WrittenBasis, WrittenPanelLoad, WrittenSnow,
};
pub use fault::{Fault, Place};
pub use place::Places;
pub use read::{LARGEST_INPUT, nearest, read_yaml};
