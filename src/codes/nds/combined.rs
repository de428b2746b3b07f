//! Bending together with axial force.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Combined stress.
pub const COMBINED: Source = Source::new("NDS-2018", "§3.9", Certainty::Transcribed);

/// Bending with tension: the larger of Eqs 3.9-1 and 3.9-2, utilisation.
///
/// `fb_star_psi` = F_b* without C_L; `fb_double_star_psi` = F_b** with C_L (C_V does not apply to sawn wood).
pub fn bending_and_tension<T: Trace>(
    trace: &mut T,
    [ft_psi, ft_allowed_psi]: [f64; 2],
    fb_psi: f64,
    fb_star_psi: f64,
    fb_double_star_psi: f64,
) -> f64 {
    let (f_t, ft_allowed, f_b, fb_star, fb_star2) = (ft_psi, ft_allowed_psi, fb_psi, fb_star_psi, fb_double_star_psi);
    let u_tension = f_t / ft_allowed + f_b / fb_star;
    step!(trace, "tension with bending, tension edge (Eq. 3.9-1)", u_tension [""] = "f_t/ft_allowed + f_b/fb_star",
        { f_t ["psi"], ft_allowed ["psi"], f_b ["psi"], fb_star ["psi"] }, COMBINED);
    let u_edge = (f_b - f_t) / fb_star2;
    step!(trace, "tension with bending, compression edge (Eq. 3.9-2)", u_edge [""] = "(f_b - f_t)/fb_star2",
        { f_b ["psi"], f_t ["psi"], fb_star2 ["psi"] }, COMBINED);
    u_tension.max(u_edge)
}

/// Stresses and strengths that go into bending with compression, all psi.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Compressed {
    /// Axial stress f_c.
    pub fc_psi: f64,
    /// Axial strength F_c′ with the governing C_P.
    pub fc_allowed_psi: f64,
    /// Edgewise bending stress f_b1.
    pub fb1_psi: f64,
    /// Edgewise bending strength F_b1′ with C_L.
    pub fb1_allowed_psi: f64,
    /// Flatwise bending stress f_b2.
    pub fb2_psi: f64,
    /// Flatwise bending strength F_b2′ with C_fu.
    pub fb2_allowed_psi: f64,
    /// Buckling stress in the plane of edgewise bending, F_cE1.
    pub f_ce1_psi: f64,
    /// Buckling stress in the plane of flatwise bending, F_cE2.
    pub f_ce2_psi: f64,
    /// Lateral buckling stress F_bE; infinite when the beam cannot buckle sideways.
    pub f_be_psi: f64,
}

/// Bending about both axes with compression: the largest of Eqs 3.9-3, 3.9-4 and f_c/F_c′ (§3.6.3), utilisation.
///
/// ```text
/// (f_c/F_c′)² + f_b1/(F_b1′ (1 − f_c/F_cE1)) + f_b2/(F_b2′ (1 − f_c/F_cE2 − (f_b1/F_bE)²)) ≤ 1
/// f_c/F_cE2 + (f_b1/F_bE)² < 1
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when f_c reaches F_cE1 or F_cE2, f_b1 reaches F_bE, or Eq. 3.9-4 reaches 1: the member
/// has buckled and the equation gives no number.
///
/// # Source
/// NDS-2018 §3.9.2. *Structural Wood Design Examples* E1.8 in `tests/handbook/nds_members.rs`.
pub fn bending_and_compression<T: Trace>(trace: &mut T, c: &Compressed) -> Result<f64, Refusal> {
    let (f_c, fc_allowed, f_b1, fb1_allowed) = (c.fc_psi, c.fc_allowed_psi, c.fb1_psi, c.fb1_allowed_psi);
    let (f_b2, fb2_allowed, f_ce1, f_ce2) = (c.fb2_psi, c.fb2_allowed_psi, c.f_ce1_psi, c.f_ce2_psi);
    const BELOW_ONE: f64 = 1.0 - 1e-9;
    within("f_c/F_cE1", f_c / f_ce1, [0.0, BELOW_ONE], COMBINED)?;
    within("f_c/F_cE2", f_c / f_ce2, [0.0, BELOW_ONE], COMBINED)?;
    let ratio_b = f_b1 / c.f_be_psi;
    within("f_b1/F_bE", ratio_b, [0.0, BELOW_ONE], COMBINED)?;
    let u_stable = f_c / f_ce2 + ratio_b * ratio_b;
    step!(trace, "lateral stability (Eq. 3.9-4)", u_stable [""] = "f_c/f_ce2 + ratio_b^2",
        { f_c ["psi"], f_ce2 ["psi"], ratio_b [""] }, COMBINED);
    within("lateral stability, Eq. 3.9-4", u_stable, [0.0, BELOW_ONE], COMBINED)?;
    let u = (f_c / fc_allowed).powi(2)
        + f_b1 / (fb1_allowed * (1.0 - f_c / f_ce1))
        + f_b2 / (fb2_allowed * (1.0 - f_c / f_ce2 - ratio_b * ratio_b));
    step!(trace, "compression with bending about both axes (Eq. 3.9-3)", u [""] =
        "(f_c/fc_allowed)^2 + f_b1/(fb1_allowed*(1 - f_c/f_ce1)) + f_b2/(fb2_allowed*(1 - f_c/f_ce2 - ratio_b^2))",
        { f_c ["psi"], fc_allowed ["psi"], f_b1 ["psi"], fb1_allowed ["psi"], f_ce1 ["psi"], f_b2 ["psi"],
          fb2_allowed ["psi"], f_ce2 ["psi"], ratio_b [""] }, COMBINED);
    let u_axial = f_c / fc_allowed;
    step!(trace, "compression alone", u_axial [""] = "f_c/fc_allowed", { f_c ["psi"], fc_allowed ["psi"] }, COMBINED);
    Ok(u.max(u_stable).max(u_axial))
}
