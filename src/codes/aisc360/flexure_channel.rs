//! Bending of channels.

use super::{Form, Profile, Steel, flexure::Bracing};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::Refusal,
};

/// Strong axis.
pub const STRONG: Source = Source::new("AISC 360-16", "F2", Certainty::Agreed);
/// Weak axis.
pub const WEAK: Source = Source::new("AISC 360-16", "F6", Certainty::Agreed);

/// Nominal moment M_n (kip·in) about the strong axis, load through the shear centre.
///
/// # Errors
/// [`Refusal::NotHeld`] for another form than a channel, or one with noncompact flange or web.
pub fn strong<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel, bracing: Bracing) -> Result<f64, Refusal> {
    let Form::Channel { flange_in, warping_in6: c_w, web_slenderness } = profile.form else {
        return Err(Refusal::not_held("channel bending of another form"));
    };
    let (f_y, e, k) = (steel.fy_ksi, steel.e_ksi, steel.slenderness_scale());
    if profile.width_in / flange_in > 0.38 * k || web_slenderness > 3.76 * k {
        return Err(Refusal::not_held("bending of a channel with noncompact elements"));
    }
    let (z, s, i_y, j) = (profile.z_x_in3, profile.s_x_in3, profile.i_y_in4, profile.j_in4);
    let (l_b, c_b, r_y) = (bracing.unbraced_in, bracing.gradient, profile.r_y_in());
    let m_p = f_y * z;
    step!(trace, "plastic moment", m_p ["kip in"] = "f_y*z", { f_y ["ksi"], z ["in^3"] }, STRONG);
    let l_p = 1.76 * r_y * (e / f_y).sqrt();
    step!(trace, "unbraced length for the plastic moment", l_p ["in"] = "1.76*r_y*sqrt(e/f_y)", { r_y ["in"], e ["ksi"], f_y ["ksi"] }, STRONG);
    if l_b <= l_p {
        return Ok(m_p);
    }
    let h_0 = profile.depth_in - flange_in;
    let c = h_0 / 2.0 * (i_y / c_w).sqrt();
    step!(trace, "channel constant", c [""] = "h_0/2*sqrt(i_y/c_w)", { h_0 ["in"], i_y ["in^4"], c_w ["in^6"] }, STRONG);
    let r_ts = ((i_y * c_w).sqrt() / s).sqrt();
    step!(trace, "effective radius of gyration", r_ts ["in"] = "sqrt(sqrt(i_y*c_w)/s)", { i_y ["in^4"], c_w ["in^6"], s ["in^3"] }, STRONG);
    let g = j * c / (s * h_0);
    step!(trace, "torsion term", g [""] = "j*c/(s*h_0)", { j ["in^4"], c [""], s ["in^3"], h_0 ["in"] }, STRONG);
    let l_r = 1.95 * r_ts * e / (0.7 * f_y) * (g + (g * g + 6.76 * (0.7 * f_y / e).powi(2)).sqrt()).sqrt();
    step!(trace, "unbraced length where buckling turns elastic", l_r ["in"] =
        "1.95*r_ts*e/(0.7*f_y)*sqrt(g + sqrt(g^2 + 6.76*(0.7*f_y/e)^2))",
        { r_ts ["in"], e ["ksi"], f_y ["ksi"], g [""] }, STRONG);
    if l_b <= l_r {
        let m_n = (c_b * (m_p - (m_p - 0.7 * f_y * s) * (l_b - l_p) / (l_r - l_p))).min(m_p);
        step!(trace, "moment at lateral buckling", m_n ["kip in"] =
            "min(c_b*(m_p - (m_p - 0.7*f_y*s)*(l_b - l_p)/(l_r - l_p)), m_p)",
            { c_b [""], m_p ["kip in"], f_y ["ksi"], s ["in^3"], l_b ["in"], l_p ["in"], l_r ["in"] }, STRONG);
        return Ok(m_n);
    }
    let pi = std::f64::consts::PI;
    let f_cr = c_b * pi * pi * e / (l_b / r_ts).powi(2) * (1.0 + 0.078 * g * (l_b / r_ts).powi(2)).sqrt();
    step!(trace, "lateral buckling stress", f_cr ["ksi"] = "c_b*pi^2*e/(l_b/r_ts)^2*sqrt(1 + 0.078*g*(l_b/r_ts)^2)",
        { c_b [""], pi [""], e ["ksi"], l_b ["in"], r_ts ["in"], g [""] }, STRONG);
    let m_n = (f_cr * s).min(m_p);
    step!(trace, "moment at lateral buckling", m_n ["kip in"] = "min(f_cr*s, m_p)", { f_cr ["ksi"], s ["in^3"], m_p ["kip in"] }, STRONG);
    Ok(m_n)
}

/// Nominal moment M_n (kip·in) about the weak axis: the smaller of F_y Z and 1.6 F_y S.
///
/// # Errors
/// [`Refusal::NotHeld`] when the flange is noncompact.
pub fn weak<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel) -> Result<f64, Refusal> {
    let Form::Channel { flange_in, .. } = profile.form else {
        return Err(Refusal::not_held("channel bending of another form"));
    };
    if profile.width_in / flange_in > 0.38 * steel.slenderness_scale() {
        return Err(Refusal::not_held("weak-axis bending of a channel with noncompact flanges"));
    }
    let (f_y, z, s) = (steel.fy_ksi, profile.z_y_in3, profile.s_y_in3);
    let m_n = (f_y * z).min(1.6 * f_y * s);
    step!(trace, "nominal moment about the weak axis", m_n ["kip in"] = "min(f_y*z, 1.6*f_y*s)", { f_y ["ksi"], z ["in^3"], s ["in^3"] }, WEAK);
    Ok(m_n)
}
