//! Torsion of hollow sections.

use super::{Form, Profile, Steel};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Torsion.
pub const TORSION: Source = Source::new("AISC 360-16", "H3.1", Certainty::Transcribed);

/// Torsion modulus C (in³) of a tube.
///
/// ```text
/// rectangular C = 2(B − t)(H − t)t − 4.5(4 − π)t³      round C = 2J/D, as the tables print it
/// ```
///
/// # Errors
/// [`Refusal::NotHeld`] for open sections, whose torsion is held by the analysis and not by this section.
pub fn modulus<T: Trace>(trace: &mut T, profile: &Profile) -> Result<f64, Refusal> {
    let (b, h, t) = (profile.width_in, profile.depth_in, profile.wall_in);
    match profile.form {
        Form::SquareTube | Form::RectTube => {
            let pi = std::f64::consts::PI;
            let c = 2.0 * (b - t) * (h - t) * t - 4.5 * (4.0 - pi) * t.powi(3);
            step!(trace, "torsion modulus", c ["in^3"] = "2*(b - t)*(h - t)*t - 4.5*(4 - pi)*t^3", { b ["in"], t ["in"], h ["in"], pi [""] }, TORSION);
            Ok(c)
        }
        Form::Pipe => {
            let (j, d) = (profile.j_in4, h);
            let c = 2.0 * j / d;
            step!(trace, "torsion modulus", c ["in^3"] = "2*j/d", { j ["in^4"], d ["in"] }, TORSION);
            Ok(c)
        }
        _ => Err(Refusal::not_held("torsion of open sections")),
    }
}

/// Nominal torsion T_n (kip·in) of a tube or pipe `length_in` long.
///
/// # Errors
/// [`Refusal::NotHeld`] for open sections; [`Refusal::OutsideRange`] for tube walls above h/t = 2.45 √(E/F_y).
///
/// # Source
/// AISC 360-16 H3.1. Design Examples H.5A and H.5B in `tests/handbook/aisc.rs`.
pub fn nominal_torsion<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    length_in: f64,
) -> Result<f64, Refusal> {
    let c = modulus(trace, profile)?;
    let f_cr = critical_stress(trace, profile, steel, length_in)?;
    let t_n = f_cr * c;
    step!(trace, "nominal torsion", t_n ["kip in"] = "f_cr*c", { f_cr ["ksi"], c ["in^3"] }, TORSION);
    Ok(t_n)
}

/// Critical torsional shear stress F_cr (ksi).
///
/// # Errors
/// As [`nominal_torsion`].
pub fn critical_stress<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    length_in: f64,
) -> Result<f64, Refusal> {
    let (e, f_y, d, t) = (steel.e_ksi, steel.fy_ksi, profile.depth_in, profile.wall_in);
    if profile.form == Form::Pipe {
        let l = within("length (in)", length_in, [1e-6, f64::MAX], TORSION)?;
        let f_cr = (1.23 * e / ((l / d).sqrt() * (d / t).powf(1.25))).max(0.60 * e / (d / t).powf(1.5)).min(0.6 * f_y);
        step!(trace, "critical stress in torsion", f_cr ["ksi"] =
            "min(max(1.23*e/(sqrt(l/d)*(d/t)^1.25), 0.60*e/(d/t)^1.5), 0.6*f_y)",
            { e ["ksi"], l ["in"], d ["in"], t ["in"], f_y ["ksi"] }, TORSION);
        return Ok(f_cr);
    }
    let most = 2.45 * steel.slenderness_scale();
    within("h/t in torsion", profile.h_over_t().max(profile.b_over_t()), [0.0, most], TORSION)?;
    let f_cr = 0.6 * f_y;
    step!(trace, "critical stress in torsion", f_cr["ksi"] = "0.6*f_y", { f_y["ksi"] }, TORSION);
    Ok(f_cr)
}
