//! Bending of hollow sections and pipe.

use super::{Profile, Steel, flexure::Bracing};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Yielding and flange of rectangular tubes.
pub const RECTANGULAR: Source = Source::new("AISC 360-16", "F7.1, F7.2", Certainty::Transcribed);
/// Web and lateral buckling of rectangular tubes.
pub const RECTANGULAR_WEB: Source = Source::new("AISC 360-16", "F7.3, F7.4", Certainty::Agreed);
/// Round tubes and pipe.
pub const ROUND: Source = Source::new("AISC 360-16", "F8", Certainty::Agreed);

/// Nominal moment M_n (kip·in) of a square or rectangular tube about x.
///
/// # Errors
/// [`Refusal::NotHeld`] when the web is slender (h/t above 5.70 √(E/F_y)).
///
/// # Source
/// AISC 360-16 F7. Design Examples F.6, F.7B, F.8 in `tests/handbook/aisc.rs`.
pub fn rectangular<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    bracing: Bracing,
) -> Result<f64, Refusal> {
    let (f_y, z, s) = (steel.fy_ksi, profile.z_x_in3, profile.s_x_in3);
    let m_p = f_y * z;
    step!(trace, "plastic moment", m_p ["kip in"] = "f_y*z", { f_y ["ksi"], z ["in^3"] }, RECTANGULAR);
    let flange = flange(trace, profile, steel, m_p);
    let web = web(trace, profile, steel, m_p, s)?;
    let lateral = lateral(trace, profile, steel, m_p, bracing);
    Ok(m_p.min(flange).min(web).min(lateral))
}

fn flange<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel, m_p: f64) -> f64 {
    let (k, b_t) = (steel.slenderness_scale(), profile.b_over_t());
    let (f_y, e, s) = (steel.fy_ksi, steel.e_ksi, profile.s_x_in3);
    if b_t <= 1.12 * k {
        return m_p;
    }
    if b_t <= 1.40 * k {
        let m_n = (m_p - (m_p - f_y * s) * (3.57 * b_t * (f_y / e).sqrt() - 4.0)).min(m_p);
        step!(trace, "moment with a noncompact flange", m_n ["kip in"] =
            "min(m_p - (m_p - f_y*s)*(3.57*b_t*sqrt(f_y/e) - 4), m_p)",
            { m_p ["kip in"], f_y ["ksi"], s ["in^3"], b_t [""], e ["ksi"] }, RECTANGULAR);
        return m_n;
    }
    let (t, i, h) = (profile.wall_in, profile.i_x_in4, profile.depth_in);
    let b = b_t * t;
    let b_e = (1.92 * t * k * (1.0 - 0.38 / b_t * k)).min(b);
    step!(trace, "effective width of the slender flange", b_e ["in"] = "min(1.92*t*k*(1 - 0.38/b_t*k), b)",
        { t ["in"], k [""], b_t [""], b ["in"] }, RECTANGULAR);
    // Both flanges lose the same strip, so that the neutral axis stays where it is: on the safe side.
    let s_e = (i - 2.0 * (b - b_e) * t * ((h - t) / 2.0).powi(2)) / (h / 2.0);
    step!(trace, "effective section modulus", s_e ["in^3"] = "(i - 2*(b - b_e)*t*((h - t)/2)^2)/(h/2)",
        { i ["in^4"], b ["in"], b_e ["in"], t ["in"], h ["in"] }, RECTANGULAR);
    let m_n = f_y * s_e;
    step!(trace, "moment with a slender flange", m_n ["kip in"] = "f_y*s_e", { f_y ["ksi"], s_e ["in^3"] }, RECTANGULAR);
    m_n
}

fn web<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel, m_p: f64, s: f64) -> Result<f64, Refusal> {
    let (k, h_t, f_y, e) = (steel.slenderness_scale(), profile.h_over_t(), steel.fy_ksi, steel.e_ksi);
    match h_t {
        ratio if ratio <= 2.42 * k => Ok(m_p),
        ratio if ratio <= 5.70 * k => {
            let m_n = (m_p - (m_p - f_y * s) * (0.305 * h_t * (f_y / e).sqrt() - 0.738)).min(m_p);
            step!(trace, "moment with a noncompact web", m_n ["kip in"] =
                "min(m_p - (m_p - f_y*s)*(0.305*h_t*sqrt(f_y/e) - 0.738), m_p)",
                { m_p ["kip in"], f_y ["ksi"], s ["in^3"], h_t [""], e ["ksi"] }, RECTANGULAR_WEB);
            Ok(m_n)
        }
        _ => Err(Refusal::not_held("bending of a tube with a slender web")),
    }
}

fn lateral<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel, m_p: f64, bracing: Bracing) -> f64 {
    const SQUARE: f64 = 1.0 + 1e-6;
    if profile.depth_in <= profile.width_in * SQUARE {
        return m_p;
    }
    let (e, f_y, s, a, j, r_y) =
        (steel.e_ksi, steel.fy_ksi, profile.s_x_in3, profile.area_in2, profile.j_in4, profile.r_y_in());
    let (l_b, c_b) = (bracing.unbraced_in, bracing.gradient);
    let l_p = 0.13 * e * r_y * (j * a).sqrt() / m_p;
    step!(trace, "unbraced length for the plastic moment", l_p ["in"] = "0.13*e*r_y*sqrt(j*a)/m_p",
        { e ["ksi"], r_y ["in"], j ["in^4"], a ["in^2"], m_p ["kip in"] }, RECTANGULAR_WEB);
    if l_b <= l_p {
        return m_p;
    }
    let l_r = 2.0 * e * r_y * (j * a).sqrt() / (0.7 * f_y * s);
    step!(trace, "unbraced length where buckling turns elastic", l_r ["in"] = "2*e*r_y*sqrt(j*a)/(0.7*f_y*s)",
        { e ["ksi"], r_y ["in"], j ["in^4"], a ["in^2"], f_y ["ksi"], s ["in^3"] }, RECTANGULAR_WEB);
    let elastic = l_b > l_r;
    let m_n = if elastic {
        (2.0 * e * c_b * (j * a).sqrt() / (l_b / r_y)).min(m_p)
    } else {
        (c_b * (m_p - (m_p - 0.7 * f_y * s) * (l_b - l_p) / (l_r - l_p))).min(m_p)
    };
    let formula = if elastic {
        "min(2*e*c_b*sqrt(j*a)/(l_b/r_y), m_p)"
    } else {
        "min(c_b*(m_p - (m_p - 0.7*f_y*s)*(l_b - l_p)/(l_r - l_p)), m_p)"
    };
    step!(trace, "moment at lateral buckling", m_n ["kip in"] = formula,
        { c_b [""], m_p ["kip in"], f_y ["ksi"], s ["in^3"], l_b ["in"], l_p ["in"], l_r ["in"], e ["ksi"], j ["in^4"],
          a ["in^2"], r_y ["in"] }, RECTANGULAR_WEB);
    m_n
}

/// Nominal moment M_n (kip·in) of a pipe or round tube.
///
/// # Errors
/// [`Refusal::OutsideRange`] when D/t reaches 0.45 E/F_y.
///
/// # Source
/// AISC 360-16 F8. Design Examples F.9 in `tests/handbook/aisc.rs`.
pub fn round<T: Trace>(trace: &mut T, profile: &Profile, steel: &Steel) -> Result<f64, Refusal> {
    let (f_y, e, z, s) = (steel.fy_ksi, steel.e_ksi, profile.z_x_in3, profile.s_x_in3);
    let d_t = within("D/t", profile.depth_in / profile.wall_in, [0.0, 0.45 * e / f_y], ROUND)?;
    let m_p = f_y * z;
    step!(trace, "plastic moment", m_p ["kip in"] = "f_y*z", { f_y ["ksi"], z ["in^3"] }, ROUND);
    if d_t <= 0.07 * e / f_y {
        return Ok(m_p);
    }
    let noncompact = d_t <= 0.31 * e / f_y;
    let m_n = if noncompact { ((0.021 * e / d_t + f_y) * s).min(m_p) } else { 0.33 * e / d_t * s };
    let formula = if noncompact { "min((0.021*e/d_t + f_y)*s, m_p)" } else { "0.33*e/d_t*s" };
    step!(trace, "moment with a thin wall", m_n ["kip in"] = formula, { e ["ksi"], d_t [""], f_y ["ksi"], s ["in^3"], m_p ["kip in"] }, ROUND);
    Ok(m_n)
}
