//! Bearing of wood on wood, washers and steel.

use crate::catalogue::{Certainty, Source, Trace};

/// Bearing across the grain.
pub const BEARING: Source = Source::new("NDS-2018", "§3.10.2", Certainty::Transcribed);

/// Bearing stress (psi) of a force on a net area.
pub fn bearing_stress<T: Trace>(trace: &mut T, force_lb: f64, area_in2: f64) -> f64 {
    let (r, a) = (force_lb, area_in2);
    let f_cp = r / a;
    step!(trace, "bearing stress", f_cp ["psi"] = "r/a", { r ["lb"], a ["in^2"] }, BEARING);
    f_cp
}
