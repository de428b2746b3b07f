//! Members in compression.

use super::{Form, Profile, Steel};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Flexural buckling.
pub const FLEXURAL: Source = Source::new("AISC 360-16", "E3", Certainty::Transcribed);
/// Slender elements.
pub const SLENDER: Source = Source::new("AISC 360-16", "E7", Certainty::Agreed);
/// Wall limits.
pub const LIMITS: Source = Source::new("AISC 360-16", "Table B4.1a", Certainty::Transcribed);
/// Recommended slenderness.
pub const SLENDERNESS: Source = Source::new("AISC 360-16", "E2 user note", Certainty::Agreed);

/// Elastic and critical buckling stress.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Buckling {
    /// Elastic buckling stress F_e (ksi).
    pub f_e_ksi: f64,
    /// Critical stress F_cr (ksi).
    pub f_cr_ksi: f64,
}

/// Critical stress of flexural buckling.
///
/// ```text
/// F_e = π² E/(KL/r)²    F_y/F_e ≤ 2.25: F_cr = 0.658^(F_y/F_e) F_y,  else F_cr = 0.877 F_e
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when KL/r is above 200, the recommended end of the range.
///
/// # Source
/// AISC 360-16 E3. Design Examples E.11 in `tests/handbook/aisc.rs`.
pub fn critical_stress<T: Trace>(trace: &mut T, steel: &Steel, slenderness: f64) -> Result<Buckling, Refusal> {
    let s = within("KL/r", slenderness, [1e-6, 200.0], SLENDERNESS)?;
    let (e, f_y, pi) = (steel.e_ksi, steel.fy_ksi, std::f64::consts::PI);
    let f_e = pi * pi * e / (s * s);
    step!(trace, "elastic buckling stress", f_e ["ksi"] = "pi^2*e/s^2", { pi [""], e ["ksi"], s [""] }, FLEXURAL);
    let short = f_y / f_e <= 2.25;
    let f_cr = if short { 0.658_f64.powf(f_y / f_e) * f_y } else { 0.877 * f_e };
    let formula = if short { "0.658^(f_y/f_e)*f_y" } else { "0.877*f_e" };
    step!(trace, "critical stress in compression", f_cr ["ksi"] = formula, { f_y ["ksi"], f_e ["ksi"] }, FLEXURAL);
    Ok(Buckling { f_e_ksi: f_e, f_cr_ksi: f_cr })
}

/// Effective area (in²) of a section whose walls may be slender.
///
/// # Errors
/// [`Refusal::NotHeld`] for slender pipes and for channels with slender elements.
pub fn effective_area<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    f_cr_ksi: f64,
) -> Result<f64, Refusal> {
    let a = profile.area_in2;
    let k = steel.slenderness_scale();
    match profile.form {
        Form::Bar => Ok(a),
        Form::Pipe if profile.depth_in / profile.wall_in <= 0.11 * steel.e_ksi / steel.fy_ksi => Ok(a),
        Form::Pipe => Err(Refusal::not_held("compression of a pipe with a slender wall")),
        Form::SquareTube | Form::RectTube => {
            let walls = [(profile.h_over_t(), 2.0), (profile.b_over_t(), 2.0)];
            let wall = Wall { limit: 1.40 * k, c1: 0.20, c2: 1.38 };
            Ok(lose(trace, a, profile.wall_in, walls, wall, steel, f_cr_ksi))
        }
        Form::Angle => {
            let walls = [(profile.depth_in / profile.wall_in, 2.0), (0.0, 0.0)];
            let wall = Wall { limit: 0.45 * k, c1: 0.22, c2: 1.49 };
            Ok(lose(trace, a, profile.wall_in, walls, wall, steel, f_cr_ksi))
        }
        Form::Channel { flange_in, web_slenderness, .. } => {
            let compact = web_slenderness <= 1.49 * k && profile.width_in / flange_in <= 0.56 * k;
            if compact { Ok(a) } else { Err(Refusal::not_held("compression of a channel with slender elements")) }
        }
    }
}

/// Limit of slenderness and the two constants of the effective width.
#[derive(Clone, Copy)]
struct Wall {
    limit: f64,
    c1: f64,
    c2: f64,
}

fn lose<T: Trace>(
    trace: &mut T,
    gross_in2: f64,
    t: f64,
    walls: [(f64, f64); 2],
    Wall { limit, c1, c2 }: Wall,
    steel: &Steel,
    f_cr: f64,
) -> f64 {
    let mut area = gross_in2;
    let f_y = steel.fy_ksi;
    for (lambda, count) in walls {
        if count == 0.0 || lambda <= limit * (f_y / f_cr).sqrt() {
            continue;
        }
        let f_el = (c2 * limit / lambda).powi(2) * f_y;
        step!(trace, "elastic buckling stress of the wall", f_el ["ksi"] = "(c2*limit/lambda)^2*f_y",
            { c2 [""], limit [""], lambda [""], f_y ["ksi"] }, SLENDER);
        let share = (1.0 - c1 * (f_el / f_cr).sqrt()) * (f_el / f_cr).sqrt();
        step!(trace, "effective share of the wall", share [""] = "(1 - c1*sqrt(f_el/f_cr))*sqrt(f_el/f_cr)",
            { c1 [""], f_el ["ksi"], f_cr ["ksi"] }, SLENDER);
        let a_before = area;
        area = a_before - count * (1.0 - share.min(1.0)) * lambda * t * t;
        step!(trace, "effective area", area ["in^2"] = "a_before - count*(1 - min(share, 1))*lambda*t^2",
            { a_before ["in^2"], count [""], share [""], lambda [""], t ["in"] }, SLENDER);
    }
    area
}

/// Nominal strength in compression P_n (kip) at a slenderness KL/r.
///
/// # Errors
/// As [`critical_stress`] and [`effective_area`].
pub fn nominal_compression<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    slenderness: f64,
) -> Result<f64, Refusal> {
    let f_cr = critical_stress(trace, steel, slenderness)?.f_cr_ksi;
    let a_e = effective_area(trace, profile, steel, f_cr)?;
    let p_n = f_cr * a_e;
    step!(trace, "nominal strength in compression", p_n ["kip"] = "f_cr*a_e", { f_cr ["ksi"], a_e ["in^2"] }, FLEXURAL);
    Ok(p_n)
}
