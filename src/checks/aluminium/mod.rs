//! Aluminium: only what is held with certainty, the rest says so.
//!
//! Inches, kips, ksi. Strength away from welds; within an inch of a weld nothing is held.

use crate::{
    catalogue::{Certainty, Metal, Source, Trace},
    checks::{Refusal, within},
};

/// Yielding on the gross section. The safety factors of building structures stand in an open repository's transcription
/// of ADM 2020 Part I, Chapter F: 1.95 for rupture, 1.65 for every other limit state.
pub const YIELDING: Source =
    Source::new("Aluminum Design Manual", "yielding, safety factor 1.65", Certainty::Transcribed);
/// Rupture on the net section.
pub const RUPTURE: Source =
    Source::new("Aluminum Design Manual", "rupture, safety factor 1.95", Certainty::Transcribed);

const OMEGA_YIELD: f64 = 1.65;
const OMEGA_RUPTURE: f64 = 1.95;

/// Available tension (kip): yielding of the gross and rupture of the net area.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the net area is not between zero and the gross area.
pub fn available_tension<T: Trace>(trace: &mut T, alloy: &Metal, gross_in2: f64, net_in2: f64) -> Result<f64, Refusal> {
    let a_n = within("net area (in²)", net_in2, [1e-9, gross_in2], YIELDING)?;
    let (f_ty, f_tu, a_g) = (alloy.fy_ksi, alloy.fu_ksi, gross_in2);
    let (omega_y, omega_u) = (OMEGA_YIELD, OMEGA_RUPTURE);
    let p = (f_ty * a_g / omega_y).min(f_tu * a_n / omega_u);
    step!(trace, "available tension of aluminium", p ["kip"] = "min(f_ty*a_g/omega_y, f_tu*a_n/omega_u)",
        { f_ty ["ksi"], a_g ["in^2"], omega_y [""], f_tu ["ksi"], a_n ["in^2"], omega_u [""] }, YIELDING);
    Ok(p)
}

/// Stress against first yield: axial and bending on the gross section, as a utilisation (f/(F_ty/1.65)).
///
/// It says nothing of buckling; [`buckling`] refuses that.
pub fn yield_utilisation<T: Trace>(trace: &mut T, alloy: &Metal, axial_ksi: f64, bending_ksi: f64) -> f64 {
    let (f_a, f_b, f_ty, omega) = (axial_ksi.abs(), bending_ksi.abs(), alloy.fy_ksi, OMEGA_YIELD);
    let u = (f_a + f_b) / (f_ty / omega);
    step!(trace, "first yield of aluminium", u [""] = "(f_a + f_b)/(f_ty/omega)", { f_a ["ksi"], f_b ["ksi"], f_ty ["ksi"], omega [""] }, YIELDING);
    u
}

/// What is not checked in aluminium.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NotChecked {
    /// Columns.
    ColumnBuckling,
    /// Walls and legs in compression.
    LocalBuckling,
    /// Beams between their braces.
    LateralBuckling,
    /// Within an inch of a weld.
    Welds,
    /// Bolts bearing on aluminium.
    BoltBearing,
}

impl NotChecked {
    /// Every one, for the list of checks.
    pub const ALL: [Self; 5] =
        [Self::ColumnBuckling, Self::LocalBuckling, Self::LateralBuckling, Self::Welds, Self::BoltBearing];

    /// What an engineer has to look at.
    #[must_use]
    pub fn reason(self) -> &'static str {
        match self {
            Self::ColumnBuckling => "buckling of aluminium columns: the buckling constants of the alloys are not held",
            Self::LocalBuckling => "local buckling of aluminium walls and legs: the element limits are not held",
            Self::LateralBuckling => "lateral buckling of aluminium beams: the equations are not held",
            Self::Welds => "aluminium within an inch of a weld: welded strengths are unverified",
            Self::BoltBearing => "bolts bearing on aluminium: the bearing and tear-out equations are not held",
        }
    }
}

/// A buckling strength of aluminium.
///
/// # Errors
/// [`Refusal::NotHeld`] always, with the reason.
pub fn buckling(kind: NotChecked) -> Result<f64, Refusal> {
    Err(Refusal::not_held(kind.reason()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Silent, metal};

    #[test]
    fn first_yield_is_a_plain_sum_and_buckling_is_refused() {
        let alloy = metal("6061-T6").expect("a listed alloy");
        assert!((yield_utilisation(&mut Silent, alloy, -5.0, 10.0) - 15.0 * 1.65 / 35.0).abs() < 1e-12);
        let p = available_tension(&mut Silent, alloy, 1.0, 0.8).expect("in range");
        assert!((p - 38.0 * 0.8 / 1.95).abs() < 1e-12);
        assert!(available_tension(&mut Silent, alloy, 1.0, 1.2).is_err());
        for kind in NotChecked::ALL {
            assert!(matches!(buckling(kind), Err(Refusal::NotHeld(_))));
        }
    }
}
