//! What has to be lifted and held.

use crate::{
    catalogue::{Family, species::density},
    design::Design,
    frame::{Body, Frame, Stick},
    quantities::{Mass, kg, to_kg},
};

/// Lumber of no named species: as dense as southern pine, the heaviest usual one, at 19 % moisture.
const USUAL_GRAVITY: f64 = 0.55;
const MOISTURE_PERCENT: f64 = 19.0;

/// Mass of a stick (kg).
#[must_use]
pub fn stick_kg(design: &Design, stick: &Stick) -> f64 {
    let gravity = design.frame.wood_species.map_or(USUAL_GRAVITY, |species| species.specific_gravity());
    match (stick.section.family, stick.section.mass_kg_per_m) {
        (Family::Wood, _) | (_, None) => {
            stick.section.area_mm2 * stick.length_mm * 1e-9 * density(gravity, MOISTURE_PERCENT)
        }
        (_, Some(per_m)) => per_m * stick.length_mm / 1000.0,
    }
}

/// Mass of one frame with its panels, bolts and screws left out.
#[must_use]
pub fn turning_mass(design: &Design, frame: &Frame) -> Mass {
    let sticks: f64 = frame.sticks_of(Body::Frame).map(|(_, stick)| stick_kg(design, stick)).sum();
    kg(sticks + to_kg(design.panel.mass) * frame.panels.len() as f64)
}
