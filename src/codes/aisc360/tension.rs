//! Members in tension.

use super::{OMEGA_RUPTURE, OMEGA_YIELD, Steel};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Tension.
pub const TENSION: Source = Source::new("AISC 360-16", "D2", Certainty::Agreed);
/// Block shear.
pub const BLOCK_SHEAR: Source = Source::new("AISC 360-16", "J4.3", Certainty::Agreed);

/// Net area (in²) with `holes` holes of `hole_in` in one cross-section; each counts 1/16 in more for damage.
///
/// # Errors
/// [`Refusal::OutsideRange`] when nothing is left.
pub fn net_area<T: Trace>(
    trace: &mut T,
    gross_in2: f64,
    wall_in: f64,
    hole_in: f64,
    holes: u32,
) -> Result<f64, Refusal> {
    let (a_g, t, h, n) = (gross_in2, wall_in, hole_in, f64::from(holes));
    let a_n = a_g - n * (h + 0.0625) * t;
    step!(trace, "net area", a_n ["in^2"] = "a_g - n*(h + 0.0625)*t", { a_g ["in^2"], n [""], h ["in"], t ["in"] }, TENSION);
    within("net area (in²)", a_n, [1e-9, f64::MAX], TENSION)?;
    Ok(a_n)
}

/// Available strength in tension (kip): the smaller of yielding of the gross and rupture of the effective net area.
pub fn available_tension<T: Trace>(trace: &mut T, steel: &Steel, gross_in2: f64, effective_in2: f64) -> f64 {
    let (f_y, f_u, a_g, a_e) = (steel.fy_ksi, steel.fu_ksi, gross_in2, effective_in2);
    let (omega_y, omega_u) = (OMEGA_YIELD, OMEGA_RUPTURE);
    let p = (f_y * a_g / omega_y).min(f_u * a_e / omega_u);
    step!(trace, "available tension", p ["kip"] = "min(f_y*a_g/omega_y, f_u*a_e/omega_u)",
        { f_y ["ksi"], a_g ["in^2"], omega_y [""], f_u ["ksi"], a_e ["in^2"], omega_u [""] }, TENSION);
    p
}

/// Available block shear (kip): `net_shear`, `gross_shear`, `net_tension` areas (in²), uniform tension (U_bs = 1).
pub fn available_block_shear<T: Trace>(
    trace: &mut T,
    steel: &Steel,
    net_shear_in2: f64,
    gross_shear_in2: f64,
    net_tension_in2: f64,
) -> f64 {
    let (f_y, f_u) = (steel.fy_ksi, steel.fu_ksi);
    let (a_nv, a_gv, a_nt, omega) = (net_shear_in2, gross_shear_in2, net_tension_in2, OMEGA_RUPTURE);
    let r = ((0.6 * f_u * a_nv).min(0.6 * f_y * a_gv) + f_u * a_nt) / omega;
    step!(trace, "available block shear", r ["kip"] = "(min(0.6*f_u*a_nv, 0.6*f_y*a_gv) + f_u*a_nt)/omega",
        { f_u ["ksi"], a_nv ["in^2"], f_y ["ksi"], a_gv ["in^2"], a_nt ["in^2"], omega [""] }, BLOCK_SHEAR);
    r
}
