//! Yield modes of a dowel in single and double shear.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};
use serde::Serialize;

/// Yield equations.
pub const YIELD: Source = Source::new("NDS-2018", "Table 12.3.1A", Certainty::Agreed);
/// Reduction terms.
pub const REDUCTION: Source = Source::new("NDS-2018", "Table 12.3.1B", Certainty::Agreed);

/// A bolt, screw or nail as the yield equations see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dowel {
    /// Nominal diameter (in); it chooses the reduction term.
    pub nominal_in: f64,
    /// Diameter in the equations (in): body of a bolt, root of lag or wood screw, shank of a nail.
    pub diameter_in: f64,
    /// Bending yield strength F_yb (psi).
    pub fyb_psi: f64,
}

impl Dowel {
    /// A full-body bolt, 45 000 psi.
    #[must_use]
    pub fn bolt(diameter_in: f64) -> Self {
        Self { nominal_in: diameter_in, diameter_in, fyb_psi: 45_000.0 }
    }
}

/// Bearing of the dowel in one member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bearing {
    /// Bearing length (in).
    pub length_in: f64,
    /// Dowel bearing strength (psi).
    pub strength_psi: f64,
}

/// Yield mode.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Mode {
    /// Main member crushes.
    Im,
    /// Side member crushes.
    Is,
    /// Dowel turns in both members.
    II,
    /// Dowel bends in the side member, main member crushes.
    IIIm,
    /// Dowel bends in the main member, side member crushes.
    IIIs,
    /// Dowel bends in both members.
    IV,
}

impl Mode {
    fn plain_reduction(self) -> f64 {
        match self {
            Self::Im | Self::Is => 4.0,
            Self::II => 3.6,
            Self::IIIm | Self::IIIs | Self::IV => 3.2,
        }
    }
}

/// Reference lateral value of one dowel, every factor still to come.
#[derive(Debug, Clone, PartialEq)]
pub struct Yield {
    /// Smallest value (lb).
    pub z_lb: f64,
    /// Mode that gives it.
    pub mode: Mode,
    /// Every mode of the joint with its value (lb).
    pub modes: Vec<(Mode, f64)>,
}

/// Reduction term R_d of a mode; `angle_deg` = largest load-to-grain angle of any wood member in the joint.
///
/// ```text
/// 1/4 ≤ D ≤ 1: 4 K_θ (I), 3.6 K_θ (II), 3.2 K_θ (III, IV)      K_θ = 1 + 0.25 θ/90
/// D < 1/4:     K_D = 2.2 (D ≤ 0.17), 10 D + 0.5               root < 1/4 under a nominal ≥ 1/4: K_D K_θ
/// ```
#[must_use]
pub fn reduction(dowel: &Dowel, mode: Mode, angle_deg: f64) -> f64 {
    const THIN_IN: f64 = 0.25;
    let k_theta = 1.0 + 0.25 * angle_deg / 90.0;
    let k_d = if dowel.diameter_in <= 0.17 { 2.2 } else { 10.0 * dowel.diameter_in + 0.5 };
    match () {
        () if dowel.nominal_in < THIN_IN => k_d,
        () if dowel.diameter_in < THIN_IN => k_d * k_theta,
        () => mode.plain_reduction() * k_theta,
    }
}

/// As [`reduction`], with the step that shows it.
pub(super) fn reduced<T: Trace>(trace: &mut T, dowel: &Dowel, mode: Mode, angle_deg: f64) -> f64 {
    let r_d = reduction(dowel, mode, angle_deg);
    // Thin dowels have one number for every mode and angle.
    if dowel.nominal_in >= 0.25 {
        let theta = angle_deg;
        let plain = r_d / (1.0 + 0.25 * theta / 90.0);
        step!(trace, "reduction term of the next modes", r_d [""] = "plain*(1 + 0.25*theta/90)",
            { plain [""], theta ["deg"] }, REDUCTION);
    }
    r_d
}

pub(super) fn check_range(dowel: &Dowel, main: Bearing, side: Bearing, angle_deg: f64) -> Result<(), Refusal> {
    within("dowel diameter (in)", dowel.nominal_in, [0.05, 1.0], YIELD)?;
    within("dowel diameter in the equations (in)", dowel.diameter_in, [0.05, 1.0], YIELD)?;
    within("load-to-grain angle (deg)", angle_deg, [0.0, 90.0], REDUCTION)?;
    for (what, value) in [
        ("bearing length in the main member (in)", main.length_in),
        ("bearing length in the side member (in)", side.length_in),
        ("bearing strength of the main member (psi)", main.strength_psi),
        ("bearing strength of the side member (psi)", side.strength_psi),
    ] {
        within(what, value, [1e-6, f64::MAX], YIELD)?;
    }
    Ok(())
}

pub(super) fn least(modes: Vec<(Mode, f64)>) -> Yield {
    let (mode, z_lb) = modes
        .iter()
        .copied()
        .reduce(|best, next| if next.1 < best.1 { next } else { best })
        .expect("a joint has at least one mode");
    Yield { z_lb, mode, modes }
}

/// Reference lateral value of a dowel through two members.
///
/// ```text
/// R_e = F_em/F_es    R_t = l_m/l_s
/// k1 = (√(R_e + 2R_e²(1 + R_t + R_t²) + R_t² R_e³) − R_e(1 + R_t))/(1 + R_e)
/// k2 = −1 + √(2(1 + R_e) + 2F_yb(1 + 2R_e)D²/(3F_em l_m²))
/// k3 = −1 + √(2(1 + R_e)/R_e + 2F_yb(2 + R_e)D²/(3F_em l_s²))
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] outside the published diameters, angles, or for a bearing length of nothing.
///
/// # Source
/// NDS-2018 Tables 12.3.1A and 12.3.1B. Printed cells of Tables 12A, 12B, 12J to 12N in `tests/handbook/nds_bolts.rs`.
pub fn single_shear<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    main: Bearing,
    side: Bearing,
    angle_deg: f64,
) -> Result<Yield, Refusal> {
    let Crossing { d, f_yb, l_m, f_em, l_s, f_es, r_e, r_t } = crossing(trace, dowel, main, side, angle_deg)?;
    let k1 = ((r_e + 2.0 * r_e.powi(2) * (1.0 + r_t + r_t.powi(2)) + r_t.powi(2) * r_e.powi(3)).sqrt()
        - r_e * (1.0 + r_t))
        / (1.0 + r_e);
    step!(trace, "factor of mode II", k1 [""] = "(sqrt(r_e + 2*r_e^2*(1 + r_t + r_t^2) + r_t^2*r_e^3) - r_e*(1 + r_t))/(1 + r_e)",
        { r_e [""], r_t [""] }, YIELD);
    let k2 = -1.0 + (2.0 * (1.0 + r_e) + 2.0 * f_yb * (1.0 + 2.0 * r_e) * d * d / (3.0 * f_em * l_m * l_m)).sqrt();
    step!(trace, "factor of mode IIIm", k2 [""] = "-1 + sqrt(2*(1 + r_e) + 2*f_yb*(1 + 2*r_e)*d^2/(3*f_em*l_m^2))",
        { r_e [""], f_yb ["psi"], d ["in"], f_em ["psi"], l_m ["in"] }, YIELD);
    let k3 = factor_3(trace, dowel, r_e, f_em, l_s);
    let mut modes = Vec::with_capacity(6);
    {
        let r_d = reduced(trace, dowel, Mode::Im, angle_deg);
        let z = d * l_m * f_em / r_d;
        step!(trace, "mode Im: main member crushes", z ["lb"] = "d*l_m*f_em/r_d", { d ["in"], l_m ["in"], f_em ["psi"], r_d [""] }, YIELD);
        modes.push((Mode::Im, z));
        let z = d * l_s * f_es / r_d;
        step!(trace, "mode Is: side member crushes", z ["lb"] = "d*l_s*f_es/r_d", { d ["in"], l_s ["in"], f_es ["psi"], r_d [""] }, YIELD);
        modes.push((Mode::Is, z));
        let r_d = reduced(trace, dowel, Mode::II, angle_deg);
        let z = k1 * d * l_s * f_es / r_d;
        step!(trace, "mode II: dowel turns", z ["lb"] = "k1*d*l_s*f_es/r_d", { k1 [""], d ["in"], l_s ["in"], f_es ["psi"], r_d [""] }, YIELD);
        modes.push((Mode::II, z));
        let r_d = reduced(trace, dowel, Mode::IIIm, angle_deg);
        let z = k2 * d * l_m * f_em / ((1.0 + 2.0 * r_e) * r_d);
        step!(trace, "mode IIIm: dowel bends in the side member", z ["lb"] = "k2*d*l_m*f_em/((1 + 2*r_e)*r_d)",
            { k2 [""], d ["in"], l_m ["in"], f_em ["psi"], r_e [""], r_d [""] }, YIELD);
        modes.push((Mode::IIIm, z));
        let z = k3 * d * l_s * f_em / ((2.0 + r_e) * r_d);
        step!(trace, "mode IIIs: dowel bends in the main member", z ["lb"] = "k3*d*l_s*f_em/((2 + r_e)*r_d)",
            { k3 [""], d ["in"], l_s ["in"], f_em ["psi"], r_e [""], r_d [""] }, YIELD);
        modes.push((Mode::IIIs, z));
        let z = d * d / r_d * (2.0 * f_em * f_yb / (3.0 * (1.0 + r_e))).sqrt();
        step!(trace, "mode IV: dowel bends in both members", z ["lb"] = "d^2/r_d*sqrt(2*f_em*f_yb/(3*(1 + r_e)))",
            { d ["in"], r_d [""], f_em ["psi"], f_yb ["psi"], r_e [""] }, YIELD);
        modes.push((Mode::IV, z));
    }
    Ok(least(modes))
}

/// Reference lateral value of a dowel through a main member between two like side members; `side` is one of them.
///
/// Modes II and IIIm do not occur.
///
/// # Errors
/// [`Refusal::OutsideRange`] as [`single_shear`].
///
/// # Source
/// NDS-2018 Tables 12.3.1A and 12.3.1B. Printed cells of Tables 12F and 12G in `tests/handbook/nds_bolts.rs`.
pub fn double_shear<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    main: Bearing,
    side: Bearing,
    angle_deg: f64,
) -> Result<Yield, Refusal> {
    let Crossing { d, f_yb, l_m, f_em, l_s, f_es, r_e, .. } = crossing(trace, dowel, main, side, angle_deg)?;
    let k3 = factor_3(trace, dowel, r_e, f_em, l_s);
    let mut modes = Vec::with_capacity(4);
    let r_d = reduced(trace, dowel, Mode::Im, angle_deg);
    let z = d * l_m * f_em / r_d;
    step!(trace, "mode Im: main member crushes", z ["lb"] = "d*l_m*f_em/r_d", { d ["in"], l_m ["in"], f_em ["psi"], r_d [""] }, YIELD);
    modes.push((Mode::Im, z));
    let z = 2.0 * d * l_s * f_es / r_d;
    step!(trace, "mode Is: side members crush", z ["lb"] = "2*d*l_s*f_es/r_d", { d ["in"], l_s ["in"], f_es ["psi"], r_d [""] }, YIELD);
    modes.push((Mode::Is, z));
    let r_d = reduced(trace, dowel, Mode::IIIs, angle_deg);
    let z = 2.0 * k3 * d * l_s * f_em / ((2.0 + r_e) * r_d);
    step!(trace, "mode IIIs: dowel bends in the main member", z ["lb"] = "2*k3*d*l_s*f_em/((2 + r_e)*r_d)",
        { k3 [""], d ["in"], l_s ["in"], f_em ["psi"], r_e [""], r_d [""] }, YIELD);
    modes.push((Mode::IIIs, z));
    let z = 2.0 * d * d / r_d * (2.0 * f_em * f_yb / (3.0 * (1.0 + r_e))).sqrt();
    step!(trace, "mode IV: dowel bends in all members", z ["lb"] = "2*d^2/r_d*sqrt(2*f_em*f_yb/(3*(1 + r_e)))",
        { d ["in"], r_d [""], f_em ["psi"], f_yb ["psi"], r_e [""] }, YIELD);
    modes.push((Mode::IV, z));
    Ok(least(modes))
}

/// What every mode is worked out from, inside the published range; symbols as in the tables.
struct Crossing {
    d: f64,
    f_yb: f64,
    l_m: f64,
    f_em: f64,
    l_s: f64,
    f_es: f64,
    r_e: f64,
    r_t: f64,
}

fn crossing<T: Trace>(
    trace: &mut T,
    dowel: &Dowel,
    main: Bearing,
    side: Bearing,
    angle_deg: f64,
) -> Result<Crossing, Refusal> {
    check_range(dowel, main, side, angle_deg)?;
    let (d, f_yb) = (dowel.diameter_in, dowel.fyb_psi);
    let (l_m, f_em, l_s, f_es) = (main.length_in, main.strength_psi, side.length_in, side.strength_psi);
    let r_e = f_em / f_es;
    step!(trace, "ratio of bearing strengths, main to side", r_e [""] = "f_em/f_es", { f_em ["psi"], f_es ["psi"] }, YIELD);
    let r_t = l_m / l_s;
    step!(trace, "ratio of bearing lengths, main to side", r_t [""] = "l_m/l_s", { l_m ["in"], l_s ["in"] }, YIELD);
    Ok(Crossing { d, f_yb, l_m, f_em, l_s, f_es, r_e, r_t })
}

fn factor_3<T: Trace>(trace: &mut T, dowel: &Dowel, r_e: f64, f_em: f64, l_s: f64) -> f64 {
    let (d, f_yb) = (dowel.diameter_in, dowel.fyb_psi);
    let k3 = -1.0 + (2.0 * (1.0 + r_e) / r_e + 2.0 * f_yb * (2.0 + r_e) * d * d / (3.0 * f_em * l_s * l_s)).sqrt();
    step!(trace, "factor of mode IIIs", k3 [""] = "-1 + sqrt(2*(1 + r_e)/r_e + 2*f_yb*(2 + r_e)*d^2/(3*f_em*l_s^2))",
        { r_e [""], f_yb ["psi"], d ["in"], f_em ["psi"], l_s ["in"] }, YIELD);
    k3
}
