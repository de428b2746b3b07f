//! Reference design values multiplied by every factor but those of stability.

use super::factors::{self, Duration, Property, Temperature};
use crate::{
    catalogue::{Certainty, DesignValues, Section, Shape, Source, Trace},
    codes::Refusal,
    quantities::MM_PER_INCH,
};

/// What the member lives through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Conditions {
    /// Shortest load in the combination.
    pub duration: Duration,
    /// Above 19 % moisture for an extended time.
    pub wet: bool,
    /// Hottest sustained temperature.
    pub temperature: Temperature,
    /// Faces incised for treatment.
    pub incised: bool,
    /// Three or more members at most 24 in apart, joined to share load. A single frame does not qualify.
    pub repetitive: bool,
}

impl Conditions {
    /// Dry, cool, not incised, a single member.
    #[must_use]
    pub fn dry(duration: Duration) -> Self {
        Self { duration, wet: false, temperature: Temperature::Usual, incised: false, repetitive: false }
    }
}

/// Adjusted design values (psi), stability factors not yet in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Adjusted {
    /// F_b*, edgewise, without C_L (psi).
    pub fb_star_psi: f64,
    /// F_b flatwise, with C_fu (psi); none where the flat use factor is not held.
    pub fb_weak_psi: Option<f64>,
    /// F_t′ (psi).
    pub ft_psi: f64,
    /// F_v′ (psi).
    pub fv_psi: f64,
    /// F_c⊥′ without C_b (psi).
    pub fc_perp_psi: f64,
    /// F_c*, without C_P (psi).
    pub fc_star_psi: f64,
    /// E′ (psi).
    pub e_psi: f64,
    /// E_min′ (psi).
    pub e_min_psi: f64,
    /// Did a value from memory go in?
    pub unverified: bool,
}

/// Which factor multiplies which value.
pub const APPLICABILITY: Source = Source::new("NDS-2018", "Table 4.3.1", Certainty::Transcribed);

/// All adjusted values of a sawn section.
///
/// # Errors
/// [`Refusal::NotHeld`] when the section is no sawn lumber with a nominal size, or a factor is not held for it.
///
/// # Source
/// NDS-2018 Table 4.3.1; the factors in [`factors`].
pub fn adjust<T: Trace>(
    trace: &mut T,
    row: &DesignValues,
    section: &Section,
    conditions: &Conditions,
) -> Result<Adjusted, Refusal> {
    let Shape::Sawn { nominal_in: Some(nominal_in), .. } = section.shape else {
        return Err(Refusal::not_held(format!("{} has no nominal size of the NDS tables", section.name)));
    };
    let depth_in = section.depth_mm / MM_PER_INCH;
    let mut unverified = row.source.is_unverified();
    let mut one = |what, reference, property| -> Result<f64, Refusal> {
        let (c_f, _) = factors::size(row, nominal_in, depth_in, property)?;
        let (c_m, wet_source) = match conditions.wet {
            true => factors::wet_service(row, property, reference * c_f),
            false => (1.0, factors::WET_SERVICE),
        };
        unverified |= wet_source.is_unverified();
        let timed = !matches!(property, Property::BearingAcross | Property::Stiffness);
        let c_d = if timed { conditions.duration.factor() } else { 1.0 };
        let c_t = factors::temperature(property, conditions.temperature, conditions.wet);
        let c_i = factors::incising(property, conditions.incised);
        let c_r = if conditions.repetitive && property == Property::Bending { 1.15 } else { 1.0 };
        let f_ref = reference;
        let f = f_ref * c_d * c_m * c_t * c_f * c_i * c_r;
        step!(trace, what, f ["psi"] = "f_ref*c_d*c_m*c_t*c_f*c_i*c_r",
            { f_ref ["psi"], c_d [""], c_m [""], c_t [""], c_f [""], c_i [""], c_r [""] }, row.source);
        Ok(f)
    };
    let fb_star_psi = one("bending, all factors but C_L and C_fu", row.fb_psi, Property::Bending)?;
    let ft_psi = one("tension along the grain", row.ft_psi, Property::Tension)?;
    let fv_psi = one("shear along the grain", row.fv_psi, Property::Shear)?;
    let fc_perp_psi = one("bearing across the grain", row.fc_perp_psi, Property::BearingAcross)?;
    let fc_star_psi = one("compression along the grain, all factors but C_P", row.fc_psi, Property::Compression)?;
    let e_psi = one("mean modulus of elasticity", row.e_psi, Property::Stiffness)?;
    let e_min_psi = one("modulus of elasticity for stability", row.e_min_psi, Property::Stiffness)?;
    let fb_weak_psi = flatwise(trace, row, nominal_in, fb_star_psi);
    Ok(Adjusted { fb_star_psi, fb_weak_psi, ft_psi, fv_psi, fc_perp_psi, fc_star_psi, e_psi, e_min_psi, unverified })
}

fn flatwise<T: Trace>(trace: &mut T, row: &DesignValues, nominal_in: [f64; 2], fb_star: f64) -> Option<f64> {
    let c_fu = factors::flat_use(row, nominal_in).ok()?;
    let fb_weak = fb_star * c_fu;
    step!(trace, "bending on the wide face", fb_weak ["psi"] = "fb_star*c_fu", { fb_star ["psi"], c_fu [""] }, factors::SIZE);
    Some(fb_weak)
}
