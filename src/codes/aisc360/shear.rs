//! Shear of steel sections.

use super::{Form, Profile, Steel};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Shear.
pub const SHEAR: Source = Source::new("AISC 360-16", "G2 to G5", Certainty::Agreed);

/// Nominal shear V_n (kip) along the depth of a section.
///
/// ```text
/// V_n = 0.6 F_y A_w C_v      C_v = 1 below 1.10 √(k_v E/F_y)      pipe: 0.6 F_y A/2
/// A_w: tube 2 h t with h = H − 3t; angle b t; bar b t; channel d t_w
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] where the wall is so thin that C_v would fall below 1.
pub fn nominal_shear<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel) -> Result<f64, Refusal> {
    let (f_y, e, t) = (steel.fy_ksi, steel.e_ksi, profile.wall_in);
    let (slender, k_v, a_w) = match profile.form {
        Form::SquareTube | Form::RectTube => (profile.h_over_t(), 5.0, 2.0 * (profile.depth_in - 3.0 * t) * t),
        Form::Angle => (profile.depth_in / t, 1.2, profile.depth_in * t),
        Form::Pipe => (0.0, 5.0, profile.area_in2 / 2.0),
        Form::Bar => (0.0, 5.0, profile.area_in2),
        Form::Channel { web_slenderness, .. } => (web_slenderness, 5.34, profile.depth_in * t),
    };
    within("wall slenderness in shear", slender, [0.0, 1.10 * (k_v * e / f_y).sqrt()], SHEAR)?;
    // Long or very thin round tubes buckle in shear; pipe of the usual sizes does not.
    if profile.form == Form::Pipe {
        within("D/t in shear", profile.depth_in / t, [0.0, 0.11 * e / f_y], SHEAR)?;
    }
    let v_n = 0.6 * f_y * a_w;
    step!(trace, "nominal shear", v_n ["kip"] = "0.6*f_y*a_w", { f_y ["ksi"], a_w ["in^2"] }, SHEAR);
    Ok(v_n)
}
