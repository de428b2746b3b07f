//! Aluminium: only what is held with certainty, the rest says so.
//!
//! Inches, kips, ksi. Strength away from welds; within an inch of a weld nothing is held.

mod member;

pub use member::{AluminiumMember, aluminium_yield};

use crate::{
    catalogue::{Certainty, Metal, Section, Source, Trace, metal_of},
    codes::{Calc, Code, Free, Joint, Member, Refusal},
};

/// Yielding on the gross section. The safety factors of building structures stand in an open repository's transcription
/// of ADM 2020 Part I, Chapter F: 1.95 for rupture, 1.65 for every other limit state.
pub const YIELDING: Source =
    Source::new("Aluminum Design Manual", "yielding, safety factor 1.65", Certainty::Transcribed);

const OMEGA_YIELD: f64 = 1.65;

/// Stress against first yield: axial and bending on the gross section, as a utilisation (f/(F_ty/1.65)).
///
/// It says nothing of buckling, nor of what stands within an inch of a weld: neither is held.
pub fn yield_utilisation<T: Trace>(trace: &mut T, alloy: &Metal, axial_ksi: f64, bending_ksi: f64) -> f64 {
    let (f_a, f_b, f_ty, omega) = (axial_ksi.abs(), bending_ksi.abs(), alloy.fy_ksi, OMEGA_YIELD);
    let u = (f_a + f_b) / (f_ty / omega);
    step!(trace, "first yield of aluminium", u [""] = "(f_a + f_b)/(f_ty/omega)", { f_a ["ksi"], f_b ["ksi"], f_ty ["ksi"], omega [""] }, YIELDING);
    u
}

/// Why bolts in aluminium are not checked.
pub const BOLT_BEARING: &str = "bolts bearing on aluminium: the bearing and tear-out equations are not held";

/// The code for aluminium.
pub(super) struct Adm;

impl Code for Adm {
    fn document(&self) -> &'static str {
        "Aluminum Design Manual"
    }

    fn member(&self, section: &'static Section, _: Free, _: bool) -> Result<Box<dyn Member>, Refusal> {
        let alloy =
            metal_of(section).ok_or_else(|| Refusal::not_held(format!("no alloy is held for {}", section.name)))?;
        Ok(Box::new(AluminiumMember { section, alloy }))
    }

    fn joint(&self, joint: Joint) -> Result<Calc, Refusal> {
        match joint {
            Joint::Bolted(_) => Err(Refusal::not_held(BOLT_BEARING)),
            Joint::Screwed(_) => Err(self.does_not_treat("screws")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Silent, metal};

    #[test]
    fn first_yield_is_a_plain_sum() {
        let alloy = metal("6061-T6").expect("a listed alloy");
        assert!((yield_utilisation(&mut Silent, alloy, -5.0, 10.0) - 15.0 * 1.65 / 35.0).abs() < 1e-12);
    }
}
