//! A panel at its place, and the bolt that its mounting holes take.

use crate::{
    catalogue::{Bolt, bolt},
    design::MountingHoles,
    quantities::to_mm,
};

/// Bolts through mounting holes, largest first.
const PANEL_BOLTS: [&str; 3] = ["M10", "M8", "M6"];
/// Air round such a bolt (mm). Common practice, no source.
const AIR_MM: f64 = 0.5;

/// A panel at its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PanelPlace {
    /// Left and right edge across the frame (mm).
    pub x_mm: [f64; 2],
    /// Low and high edge up the slope (mm), u once the frame hangs on its axle.
    pub u_mm: [f64; 2],
    /// Back and front of the panel's own frame (mm), w once the frame hangs on its axle.
    pub w_mm: [f64; 2],
}

/// The bolt that a panel's mounting holes take: the largest with a little air.
pub(super) fn panel_bolt(holes: &MountingHoles) -> Option<&'static Bolt> {
    let hole_mm = to_mm(holes.diameter);
    PANEL_BOLTS.into_iter().filter_map(|size| bolt(size).ok()).find(|b| b.diameter_mm + AIR_MM <= hole_mm)
}
