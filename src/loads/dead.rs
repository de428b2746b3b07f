//! Self weight.

use super::{Action, Case, Load, RangeState, Surface, SurfaceLoad};
use crate::catalogue::{Certainty, Source};
use crate::quantities::GRAVITY;

/// Source of the panel weight.
const PANELS: Source = Source::new("panel datasheet", "mass", Certainty::Read);

/// Weight of the panels spread over the surface.
///
/// # Units
/// `panels_kg` of all panels on the surface \[kg\]. The weight acts straight down on the sloping area.
#[must_use]
pub fn panel_weight(surface: &Surface, panels_kg: f64) -> Case {
    let pressure_pa = panels_kg * GRAVITY / (surface.area_mm2() * 1e-6);
    let (sin, cos) = surface.sin_cos();
    Case {
        id: "dead".to_string(),
        name: "self weight".to_string(),
        action: Action::Dead,
        state: RangeState::Published,
        sources: vec![PANELS],
        wind_from: None,
        load: Load::Surface(SurfaceLoad {
            normal_pa: [pressure_pa * cos; 2],
            up_slope_pa: [-pressure_pa * sin; 2],
            across: super::Across::Even,
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_weight_stands_straight_down_at_any_tilt() {
        for tilt in [0.0, 30.0, 60.0, 90.0] {
            let surface = Surface::new(tilt, 1722.0, 2268.0, 400.0).expect("sizes");
            let r = panel_weight(&surface, 43.0).surface().expect("a surface load").resultant(&surface);
            let (sin, cos) = surface.sin_cos();
            let (down, level) = (r.normal_n * cos - r.up_slope_n * sin, r.normal_n * sin + r.up_slope_n * cos);
            assert!((down - 43.0 * GRAVITY).abs() < 1e-9 && level.abs() < 1e-9);
        }
    }
}
