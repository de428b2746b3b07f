//! Pins and axles whose members do not touch: spacers, washers and air between them.
//!
//! The tables of the standard hold for faces in contact. With a gap the same mechanics apply: the dowel presses with
//! q = F_e D per inch on each member, forms a hinge where it must bend at M = F_yb D³/6, and the force crosses the
//! gap. Equilibrium of the dowel on both sides of the gap gives one quadratic per mode,
//!
//! ```text
//! A P² + B P + C = 0      P = (−B + √(B² − 4AC))/(2A)
//! ```
//!
//! and with no gap the equations are those of Table 12.3.1A, which a test shows.

use super::dowel::{Bearing, Dowel, Mode, Yield, check_range, least, reduced};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Equations with a gap.
pub const GAP: Source =
    Source::new("equilibrium of the dowel", "general dowel equations (AWC TR12)", Certainty::Derived);
/// Bending of a pin between cheeks.
pub const PIN_BENDING: Source = Source::new("statics", "uniform bearing in each ply", Certainty::Derived);

/// Reference lateral value of a dowel through two members that stand `gap_in` apart.
///
/// # Errors
/// [`Refusal::OutsideRange`] as without a gap, or when the gap is negative.
///
/// # Source
/// Derived; see the page of this module. Reduction terms R_d as Table 12.3.1B.
pub fn single_shear<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    main: Bearing,
    side: Bearing,
    gap_in: f64,
    angle_deg: f64,
) -> Result<Yield, Refusal> {
    let modes = modes(trace, dowel, [main, side], gap_in, angle_deg)?;
    Ok(least(modes))
}

/// Reference lateral value of a dowel through a main member with a like gap and side member on either hand.
///
/// # Errors
/// As [`single_shear`].
pub fn double_shear<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    main: Bearing,
    side: Bearing,
    gap_in: f64,
    angle_deg: f64,
) -> Result<Yield, Refusal> {
    let modes = modes(trace, dowel, [main, side], gap_in, angle_deg)?;
    let planes = |mode| if mode == Mode::Im { 1.0 } else { 2.0 };
    let both = modes
        .into_iter()
        .filter(|(mode, _)| !matches!(mode, Mode::II | Mode::IIIm))
        .map(|(mode, z)| (mode, planes(mode) * z))
        .collect();
    Ok(least(both))
}

fn modes<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    [main, side]: [Bearing; 2],
    gap_in: f64,
    angle_deg: f64,
) -> Result<Vec<(Mode, f64)>, Refusal> {
    check_range(dowel, main, side, angle_deg)?;
    let g = within("gap between the members (in)", gap_in, [0.0, f64::MAX], GAP)?;
    let (d, f_yb) = (dowel.diameter_in, dowel.fyb_psi);
    let (f_m, f_s, l_m, l_s) = (main.strength_psi, side.strength_psi, main.length_in, side.length_in);
    let (q_m, q_s) = (f_m * d, f_s * d);
    step!(trace, "bearing of the main member on each inch of the dowel", q_m ["lb/in"] = "f_m*d", { f_m ["psi"], d ["in"] }, GAP);
    step!(trace, "bearing of the side member on each inch of the dowel", q_s ["lb/in"] = "f_s*d", { f_s ["psi"], d ["in"] }, GAP);
    let m_y = f_yb * d.powi(3) / 6.0;
    step!(trace, "yield moment of the dowel", m_y ["in lb"] = "f_yb*d^3/6", { f_yb ["psi"], d ["in"] }, GAP);
    let mut out = Vec::with_capacity(6);
    let r_d = reduced(trace, dowel, Mode::Im, angle_deg);
    let z = q_m * l_m / r_d;
    step!(trace, "mode Im: main member crushes", z ["lb"] = "q_m*l_m/r_d", { q_m ["lb/in"], l_m ["in"], r_d [""] }, GAP);
    out.push((Mode::Im, z));
    let z = q_s * l_s / r_d;
    step!(trace, "mode Is: side member crushes", z ["lb"] = "q_s*l_s/r_d", { q_s ["lb/in"], l_s ["in"], r_d [""] }, GAP);
    out.push((Mode::Is, z));
    // Equilibrium of the dowel, a Z² + b Z + c = 0: a from the bearing on either side, b from the lever, c from the moments.
    let r_d = reduced(trace, dowel, Mode::II, angle_deg);
    let a = 0.25 / q_s + 0.25 / q_m;
    step!(trace, "bearing term of mode II", a ["in/lb"] = "0.25/q_s + 0.25/q_m", { q_s ["lb/in"], q_m ["lb/in"] }, GAP);
    let b = l_s / 2.0 + g + l_m / 2.0;
    step!(trace, "lever of mode II", b ["in"] = "l_s/2 + g + l_m/2", { l_s ["in"], g ["in"], l_m ["in"] }, GAP);
    let c = -q_s * l_s * l_s / 4.0 - q_m * l_m * l_m / 4.0;
    step!(trace, "moments of mode II", c ["in lb"] = "-q_s*l_s^2/4 - q_m*l_m^2/4",
        { q_s ["lb/in"], l_s ["in"], q_m ["lb/in"], l_m ["in"] }, GAP);
    out.push((Mode::II, turned(trace, "mode II across the gap: dowel turns", [a, b, c], r_d)));
    let r_d = reduced(trace, dowel, Mode::IIIm, angle_deg);
    let a = 0.5 / q_s + 0.25 / q_m;
    step!(trace, "bearing term of mode IIIm", a ["in/lb"] = "0.5/q_s + 0.25/q_m", { q_s ["lb/in"], q_m ["lb/in"] }, GAP);
    let b = g + l_m / 2.0;
    step!(trace, "lever of mode IIIm", b ["in"] = "g + l_m/2", { g ["in"], l_m ["in"] }, GAP);
    let c = -m_y - q_m * l_m * l_m / 4.0;
    step!(trace, "moments of mode IIIm", c ["in lb"] = "-m_y - q_m*l_m^2/4", { m_y ["in lb"], q_m ["lb/in"], l_m ["in"] }, GAP);
    let what = "mode IIIm across the gap: dowel bends in the side member";
    out.push((Mode::IIIm, turned(trace, what, [a, b, c], r_d)));
    let a = 0.25 / q_s + 0.5 / q_m;
    step!(trace, "bearing term of mode IIIs", a ["in/lb"] = "0.25/q_s + 0.5/q_m", { q_s ["lb/in"], q_m ["lb/in"] }, GAP);
    let b = l_s / 2.0 + g;
    step!(trace, "lever of mode IIIs", b ["in"] = "l_s/2 + g", { l_s ["in"], g ["in"] }, GAP);
    let c = -q_s * l_s * l_s / 4.0 - m_y;
    step!(trace, "moments of mode IIIs", c ["in lb"] = "-q_s*l_s^2/4 - m_y", { q_s ["lb/in"], l_s ["in"], m_y ["in lb"] }, GAP);
    let what = "mode IIIs across the gap: dowel bends in the main member";
    out.push((Mode::IIIs, turned(trace, what, [a, b, c], r_d)));
    let (a, b, c) = (0.5 / q_s + 0.5 / q_m, g, -2.0 * m_y);
    step!(trace, "bearing term of mode IV", a ["in/lb"] = "0.5/q_s + 0.5/q_m", { q_s ["lb/in"], q_m ["lb/in"] }, GAP);
    step!(trace, "moments of mode IV", c["in lb"] = "-2*m_y", { m_y["in lb"] }, GAP);
    let what = "mode IV across the gap (b): dowel bends in both members";
    out.push((Mode::IV, turned(trace, what, [a, b, c], r_d)));
    Ok(out)
}

/// The force at which a dowel across a gap yields in a mode: the root of a Z² + b Z + c, reduced.
fn turned<T: Trace>(trace: &mut T, what: &'static str, [a, b, c]: [f64; 3], r_d: f64) -> f64 {
    let z = (-b + (b * b - 4.0 * a * c).sqrt()) / (2.0 * a * r_d);
    step!(trace, what, z ["lb"] = "(-b + sqrt(b^2 - 4*a*c))/(2*a*r_d)", { a ["in/lb"], b ["in"], c ["in lb"], r_d [""] }, GAP);
    z
}
