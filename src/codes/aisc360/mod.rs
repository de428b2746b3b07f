//! Structural steel by AISC 360, allowable strength design.
//!
//! Inches, kips and kips per square inch throughout, as printed. Functions give nominal strengths; the available one is
//! the nominal over Ω: 1.67 for yielding, compression, bending, shear and torsion, 2.00 for rupture, bolts and bearing.
//!
//! Where a source is marked as agreed, the equation stands alike in an open library that cites each page of the 2016
//! edition (ahmedalisteel-star/pyaisc360) and in at least one more (xcfem/xc, sahilkur36/apeSteel, or AISC's own *Design
//! Examples* as transcribed in an open repository).

pub mod angle_stay;
mod bolted;
pub mod bolts;
pub mod compression;
pub mod flexure;
pub mod flexure_angle;
pub mod flexure_channel;
pub mod flexure_tube;
pub mod interaction;
mod member;
mod profile;
pub mod shear;
pub mod tension;
pub mod torsion;

pub use member::SteelMember;
pub use profile::{Form, Profile};

use super::{Calc, Code, Free, Joint, Member, Refusal};
use crate::catalogue::{Section, metal_of};

/// Safety factor of yielding, compression, bending, shear and torsion.
pub const OMEGA_YIELD: f64 = 1.67;
/// Safety factor of rupture, bolts, bearing and block shear.
pub const OMEGA_RUPTURE: f64 = 2.00;

/// What the equations need to know of a steel.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Steel {
    /// Yield strength (ksi).
    pub fy_ksi: f64,
    /// Tensile strength (ksi).
    pub fu_ksi: f64,
    /// Modulus of elasticity (ksi).
    pub e_ksi: f64,
}

impl Steel {
    /// A steel of 29 000 ksi.
    #[must_use]
    pub const fn new(fy_ksi: f64, fu_ksi: f64) -> Self {
        Self { fy_ksi, fu_ksi, e_ksi: 29_000.0 }
    }

    /// √(E/F_y), the scale of every slenderness limit.
    #[must_use]
    pub fn slenderness_scale(&self) -> f64 {
        (self.e_ksi / self.fy_ksi).sqrt()
    }
}

impl From<&crate::catalogue::Metal> for Steel {
    fn from(metal: &crate::catalogue::Metal) -> Self {
        Self { fy_ksi: metal.fy_ksi, fu_ksi: metal.fu_ksi, e_ksi: metal.e_ksi }
    }
}

/// Effective length factor of a post that nothing holds at its top, Table C-A-7.1.
const FREE_STANDING: f64 = 2.1;

/// The code for steel.
pub(super) struct Aisc360;

impl Code for Aisc360 {
    fn document(&self) -> &'static str {
        "AISC 360-16"
    }

    fn member(&self, section: &'static Section, free: Free, _: bool) -> Result<Box<dyn Member>, Refusal> {
        let metal =
            metal_of(section).ok_or_else(|| Refusal::not_held(format!("no steel is held for {}", section.name)))?;
        let k_e = if free.cantilever { FREE_STANDING } else { 1.0 };
        let (free_strong_mm, free_weak_mm) = (free.strong_mm, free.weak_mm);
        Ok(Box::new(SteelMember { section, metal, free_strong_mm, free_weak_mm, k_e }))
    }

    fn joint(&self, joint: Joint) -> Result<Calc, Refusal> {
        match joint {
            Joint::Bolted(_) => Ok(Calc::Joint(joint)),
            Joint::Screwed(_) => Err(self.does_not_treat("screws")),
        }
    }
}
