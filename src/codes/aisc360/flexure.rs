//! Bending of any steel section, flat bars and round pins.

use super::{Form, Profile, Steel, flexure_angle, flexure_channel, flexure_tube};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Available moment.
pub const AVAILABLE: Source = Source::new("AISC 360-16", "F1, safety factor 1.67", Certainty::Transcribed);
/// Bars.
pub const BAR: Source = Source::new("AISC 360-16", "F11", Certainty::Agreed);

/// Nominal moment M_n (kip·in) of a flat bar bent about its strong axis over an unbraced length.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the unbraced length is negative.
pub fn bar<T: Trace>(
    trace: &mut T,
    steel: &Steel,
    [thickness_in, depth_in]: [f64; 2],
    unbraced_in: f64,
    gradient: f64,
) -> Result<f64, Refusal> {
    let l_b = within("unbraced length (in)", unbraced_in, [0.0, f64::MAX], BAR)?;
    let (f_y, e, t, d, c_b) = (steel.fy_ksi, steel.e_ksi, thickness_in, depth_in, gradient);
    let (z, s) = (t * d * d / 4.0, t * d * d / 6.0);
    let m_p = (f_y * z).min(1.6 * f_y * s);
    step!(trace, "plastic moment of the bar", m_p ["kip in"] = "min(f_y*t*d^2/4, 1.6*f_y*t*d^2/6)", { f_y ["ksi"], t ["in"], d ["in"] }, BAR);
    let ratio = l_b * d / (t * t);
    let (formula, m_n): (&'static str, f64) = match ratio * f_y / e {
        x if x <= 0.08 => ("m_p", m_p),
        x if x <= 1.9 => (
            "min(c_b*(1.52 - 0.274*ratio*f_y/e)*f_y*s, m_p)",
            (c_b * (1.52 - 0.274 * ratio * f_y / e) * f_y * s).min(m_p),
        ),
        _ => ("min(1.9*e*c_b/ratio*s, m_p)", (1.9 * e * c_b / ratio * s).min(m_p)),
    };
    step!(trace, "nominal moment of the bar", m_n ["kip in"] = formula,
        { m_p ["kip in"], c_b [""], ratio [""], f_y ["ksi"], e ["ksi"], s ["in^3"] }, BAR);
    Ok(m_n)
}

/// Nominal moment M_n (kip·in) of a round pin: the smaller of F_y Z and 1.6 F_y S.
pub fn round_pin<T: Trace>(trace: &mut T, fy_ksi: f64, diameter_in: f64) -> f64 {
    let (f_y, d, pi) = (fy_ksi, diameter_in, std::f64::consts::PI);
    let m_n = (f_y * d.powi(3) / 6.0).min(1.6 * f_y * pi * d.powi(3) / 32.0);
    step!(trace, "nominal moment of the pin", m_n ["kip in"] = "min(f_y*d^3/6, 1.6*f_y*pi*d^3/32)", { f_y ["ksi"], d ["in"], pi [""] }, BAR);
    m_n
}

/// How a member is held while it bends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bracing {
    /// Unbraced length (in).
    pub unbraced_in: f64,
    /// Moment gradient factor C_b.
    pub gradient: f64,
}

/// Nominal moments M_nx and M_ny (kip·in) about the geometric axes of a section.
///
/// Angles are taken without restraint along their length and with the toe in compression, the worse of the two ways.
///
/// # Errors
/// As the function of each form.
pub fn nominal_moments<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    bracing: Bracing,
) -> Result<[f64; 2], Refusal> {
    let Bracing { unbraced_in, gradient } = bracing;
    match profile.form {
        Form::Angle => {
            let up = flexure_angle::Bent { toe_in_compression: true, unbraced_in, gradient };
            let m = flexure_angle::nominal_moment(trace, profile, steel, up, flexure_angle::Edition::Since2016)?;
            Ok([m, m])
        }
        Form::SquareTube | Form::RectTube => Ok([
            flexure_tube::rectangular(trace, profile, steel, bracing)?,
            flexure_tube::rectangular(trace, &profile.turned(), steel, Bracing { unbraced_in: 0.0, gradient })?,
        ]),
        Form::Pipe => {
            let m = flexure_tube::round(trace, profile, steel)?;
            Ok([m, m])
        }
        Form::Bar => Ok([
            bar(trace, steel, [profile.width_in, profile.depth_in], unbraced_in, gradient)?,
            bar(trace, steel, [profile.depth_in, profile.width_in], 0.0, gradient)?,
        ]),
        Form::Channel { .. } => Ok([
            flexure_channel::strong(trace, profile, steel, bracing)?,
            flexure_channel::weak(trace, profile, steel)?,
        ]),
    }
}
