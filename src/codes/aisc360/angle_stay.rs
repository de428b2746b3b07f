//! A stay of one equal angle, held at each end by a single bolt through one leg.
//!
//! ```text
//!      │v
//!    b ┤▌                       The force enters on the back of the connected leg (v = 0, or `beyond_in` outside
//!      │▌   · centroid (y, y)   it), at the gauge line of the bolt. Its arms about the principal axes through the
//!    0 ┼▙▄▄▄●▄▄▄▄▄▄▄ u          centroid are r (across the axis of symmetry) and s (along it).
//!        0  gauge    b
//! ```
//!
//! E5 does not hold for one bolt, so the eccentricity is taken in full: axial stress and bending about both principal
//! axes, the moments of a strut enlarged by 1/(1 − 1.6 P/P_e), summed at heel and toes (Eq. H2-1).

use super::{
    Form, OMEGA_YIELD, Profile, Steel, compression,
    flexure_angle::{lateral, leg_buckling},
    interaction, tension,
};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Geometry of the section and the eccentric force.
pub const ECCENTRICITY: Source = Source::new("statics", "eccentric force about principal axes", Certainty::Derived);
/// Enlargement of moments by the axial force.
pub const SECOND_ORDER: Source = Source::new("AISC 360-16", "App. 8, α = 1.6", Certainty::Agreed);
/// Lateral buckling about the major principal axis.
pub const MAJOR_AXIS: Source = Source::new("AISC 360-16", "Eq. F10-4, equal legs", Certainty::Transcribed);

/// The stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AngleStay {
    /// Length from bolt to bolt (in).
    pub length_in: f64,
    /// Bolt line from the heel (in).
    pub gauge_in: f64,
    /// How far outside the back of the leg the force enters (in); 0 when the leg lies on what it is bolted to.
    pub beyond_in: f64,
    /// Hole in the leg (in).
    pub hole_in: f64,
}

/// Utilisation of the stay under an axial force (kip), compression positive.
///
/// # Errors
/// [`Refusal::NotHeld`] for another form than an angle, [`Refusal::OutsideRange`] for L/r_z above 200 or a force at or
/// above the buckling load.
pub fn utilisation<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    stay: &AngleStay,
    force_kip: f64,
) -> Result<f64, Refusal> {
    if profile.form != Form::Angle {
        return Err(Refusal::not_held("single-bolt stays of another form than an equal angle"));
    }
    let [r, s] = arms(trace, profile, stay);
    let i_z = profile.area_in2 * profile.r_min_in.powi(2);
    let i_w = 2.0 * profile.i_x_in4 - i_z;
    let axial = available_axial(trace, profile, steel, stay, force_kip)?;
    let [m_w, m_z] = moments(trace, steel, stay, force_kip, [r, s], [i_w, i_z])?;
    let (b, t, y) = (profile.depth_in, profile.wall_in, profile.centroid_in);
    let half = std::f64::consts::FRAC_1_SQRT_2;
    // Heel and the outer corners of both toes, as (r, s) from the centroid.
    let points = [[0.0, -2.0 * y * half], [b * half, (b - 2.0 * y) * half], [-b * half, (b - 2.0 * y) * half]];
    let s_w = i_w / (b * half);
    let [mc_w, mc_z] = available_moments(trace, profile, steel, stay.length_in, [s_w, i_z, t])?;
    let f_a = force_kip / axial;
    let mut most = 0.0_f64;
    for [p_r, p_s] in points {
        let s_z = i_z / p_s.abs();
        let ratio_w = m_w * p_r / i_w / (mc_w / s_w);
        // The capacity about z is one moment; its stress at this point is that moment over this point's modulus.
        let ratio_z = m_z * p_s / i_z / (mc_z / s_z);
        most = most.max(interaction::stress_sum(trace, f_a, [ratio_w, ratio_z]));
    }
    Ok(most)
}

fn arms<T: Trace>(trace: &mut T, profile: &Profile, stay: &AngleStay) -> [f64; 2] {
    let (g, y, beyond) = (stay.gauge_in, profile.centroid_in, stay.beyond_in);
    let r = ((g - y) + (y + beyond)) / 2.0_f64.sqrt();
    step!(trace, "arm of the force across the axis of symmetry", r ["in"] = "((g - y) + (y + beyond))/sqrt(2)",
        { g ["in"], y ["in"], beyond ["in"] }, ECCENTRICITY);
    let s = ((g - y) - (y + beyond)) / 2.0_f64.sqrt();
    step!(trace, "arm of the force along the axis of symmetry", s ["in"] = "((g - y) - (y + beyond))/sqrt(2)",
        { g ["in"], y ["in"], beyond ["in"] }, ECCENTRICITY);
    [r, s]
}

/// Available axial strength: buckling about the minor axis in compression, net section in tension.
fn available_axial<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    stay: &AngleStay,
    force_kip: f64,
) -> Result<f64, Refusal> {
    if force_kip >= 0.0 {
        let slenderness = stay.length_in / profile.r_min_in;
        return Ok(compression::nominal_compression(trace, profile, steel, slenderness)? / OMEGA_YIELD);
    }
    let a_n = tension::net_area(trace, profile.area_in2, profile.wall_in, stay.hole_in, 1)?;
    Ok(tension::available_tension(trace, steel, profile.area_in2, a_n))
}

fn moments<T: Trace>(
    trace: &mut T,
    steel: &Steel,
    stay: &AngleStay,
    force_kip: f64,
    [r, s]: [f64; 2],
    [i_w, i_z]: [f64; 2],
) -> Result<[f64; 2], Refusal> {
    let mut enlarged = |what, arm: f64, i: f64| -> Result<f64, Refusal> {
        let (p, l, e, pi) = (force_kip, stay.length_in, steel.e_ksi, std::f64::consts::PI);
        let p_e = pi * pi * e * i / (l * l);
        step!(trace, "elastic buckling force", p_e ["kip"] = "pi^2*e*i/l^2", { pi [""], e ["ksi"], i ["in^4"], l ["in"] }, SECOND_ORDER);
        within("1.6 P/P_e", 1.6 * p / p_e, [f64::MIN, 1.0 - 1e-9], SECOND_ORDER)?;
        let m = p * arm / (1.0 - 1.6 * p.max(0.0) / p_e);
        step!(trace, what, m ["kip in"] = "p*arm/(1 - 1.6*max(p, 0)/p_e)", { p ["kip"], arm ["in"], p_e ["kip"] }, SECOND_ORDER);
        Ok(m)
    };
    Ok([
        enlarged("moment about the major principal axis", r, i_w)?,
        enlarged("moment about the minor principal axis", s, i_z)?,
    ])
}

fn available_moments<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    length_in: f64,
    [s_w, i_z, t]: [f64; 3],
) -> Result<[f64; 2], Refusal> {
    let (f_y, e, a, r_z, b, y) =
        (steel.fy_ksi, steel.e_ksi, profile.area_in2, profile.r_min_in, profile.depth_in, profile.centroid_in);
    let l_b = within("unbraced length (in)", length_in, [1e-6, f64::MAX], MAJOR_AXIS)?;
    let m_yw = f_y * s_w;
    let m_cr = 9.0 * e * a * r_z * t / (8.0 * l_b);
    step!(trace, "elastic lateral buckling moment, major axis", m_cr ["kip in"] = "9*e*a*r_z*t/(8*l_b)",
        { e ["ksi"], a ["in^2"], r_z ["in"], t ["in"], l_b ["in"] }, MAJOR_AXIS);
    let m_nw = lateral(trace, m_yw, m_cr).min(leg_buckling(trace, s_w, [b, t], steel));
    // About the minor axis: yielding, and the toes may buckle when they are pressed.
    let half = std::f64::consts::FRAC_1_SQRT_2;
    let s_z = i_z / (2.0 * y * half).max((b - 2.0 * y) * half);
    let s_toe = i_z / ((b - 2.0 * y) * half).abs();
    let m_nz = (1.5 * f_y * s_z).min(leg_buckling(trace, s_toe, [b, t], steel));
    Ok([m_nw / OMEGA_YIELD, m_nz / OMEGA_YIELD])
}
