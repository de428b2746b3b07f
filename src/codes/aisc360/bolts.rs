//! Bolts in steel: shear, tension, bearing, tear-out and distances.

use super::{OMEGA_RUPTURE, Steel};
use crate::{
    catalogue::{BoltGrade, Certainty, Source, Trace},
    codes::{Refusal, TooClose, within},
};

/// Shear and tension.
pub const STRENGTH: Source = Source::new("AISC 360-16", "J3.6, Table J3.2", Certainty::Transcribed);
/// Shear with tension.
pub const COMBINED: Source = Source::new("AISC 360-16", "Eq. J3-3b", Certainty::Transcribed);
/// Bearing and tear-out.
pub const BEARING: Source = Source::new("AISC 360-16", "J3.10", Certainty::Transcribed);
/// Edge distance.
pub const EDGE: Source = Source::new("AISC 360-16", "Table J3.4", Certainty::Read);
/// Edge distance below 1/2 in, where the table is silent: 1.5 d.
pub const EDGE_SMALL: Source = Source::new("judgement", "1.5 d below 1/2 in, AISC 360 is silent", Certainty::Judgement);
/// Spacing.
pub const SPACING: Source = Source::new("AISC 360-16", "J3.3", Certainty::Transcribed);

fn grade_holds(grade: &BoltGrade, diameter_in: f64) -> Result<(), Refusal> {
    within("bolt diameter (in)", diameter_in, grade.diameters_in, grade.source)?;
    Ok(())
}

/// Available shear (kip) of a bolt with threads in the shear plane; `planes` 1 or 2.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the grade is not held for that diameter.
pub fn available_shear<T: Trace>(
    trace: &mut T,
    grade: &BoltGrade,
    diameter_in: f64,
    planes: u32,
) -> Result<f64, Refusal> {
    grade_holds(grade, diameter_in)?;
    let (f_nv, d, n, omega, pi) = (grade.fnv_ksi, diameter_in, f64::from(planes), OMEGA_RUPTURE, std::f64::consts::PI);
    let r = n * f_nv * pi * d * d / 4.0 / omega;
    step!(trace, "available shear of a bolt", r ["kip"] = "n*f_nv*pi*d^2/4/omega", { n [""], f_nv ["ksi"], pi [""], d ["in"], omega [""] }, grade.source);
    Ok(r)
}

/// Available tension (kip) of a bolt that carries `shear_kip` in each of its planes as well.
///
/// ```text
/// F_nt′ = 1.3 F_nt − Ω F_nt f_rv/F_nv ≤ F_nt
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when the shear alone is above the available one.
pub fn available_tension_with_shear<T: Trace>(
    trace: &mut T,
    grade: &BoltGrade,
    diameter_in: f64,
    shear_kip: f64,
) -> Result<f64, Refusal> {
    let most = available_shear(trace, grade, diameter_in, 1)?;
    within("shear of the bolt (kip)", shear_kip.abs(), [0.0, most], COMBINED)?;
    let (f_nt, f_nv, d, v, omega, pi) =
        (grade.fnt_ksi, grade.fnv_ksi, diameter_in, shear_kip.abs(), OMEGA_RUPTURE, std::f64::consts::PI);
    let a = pi * d * d / 4.0;
    let f_t = (1.3 * f_nt - omega * f_nt / f_nv * v / a).min(f_nt);
    step!(trace, "tensile stress left beside the shear", f_t ["ksi"] = "min(1.3*f_nt - omega*f_nt/f_nv*v/a, f_nt)",
        { f_nt ["ksi"], omega [""], f_nv ["ksi"], v ["kip"], a ["in^2"] }, COMBINED);
    let r = f_t * a / omega;
    step!(trace, "available tension of a bolt in shear", r ["kip"] = "f_t*a/omega", { f_t ["ksi"], a ["in^2"], omega [""] }, COMBINED);
    Ok(r)
}

/// Nominal bearing and tear-out R_n (kip) at one bolt: the smaller; deformation at the hole counts.
///
/// ```text
/// R_n = min(1.2 l_c t F_u, 2.4 d t F_u)      l_c = clear distance along the force, hole edge to edge
/// ```
pub fn nominal_bearing<T: Trace>(trace: &mut T, steel: &Steel, diameter_in: f64, plate_in: f64, clear_in: f64) -> f64 {
    let (f_u, d, t, l_c) = (steel.fu_ksi, diameter_in, plate_in, clear_in);
    let r_n = (1.2 * l_c * t * f_u).min(2.4 * d * t * f_u);
    step!(trace, "nominal bearing or tear-out", r_n ["kip"] = "min(1.2*l_c*t*f_u, 2.4*d*t*f_u)", { l_c ["in"], t ["in"], f_u ["ksi"], d ["in"] }, BEARING);
    r_n
}

/// Least distance from the centre of a standard hole to an edge (in), and where it stands.
#[must_use]
pub fn least_edge_in(diameter_in: f64) -> (f64, Source) {
    const TABLE: [(f64, f64); 7] =
        [(0.5, 0.75), (0.625, 0.875), (0.75, 1.0), (0.875, 1.125), (1.0, 1.25), (1.125, 1.5), (1.25, 1.625)];
    const ROUNDING: f64 = 1e-6;
    match TABLE.iter().find(|(d, _)| diameter_in <= d + ROUNDING) {
        Some(_) if diameter_in < 0.5 - ROUNDING => (1.5 * diameter_in, EDGE_SMALL),
        Some((_, edge)) => (*edge, EDGE),
        None => (1.25 * diameter_in, EDGE),
    }
}

/// Lets distances of bolts in steel through: edge by the table, spacing at least 2-2/3 d.
///
/// # Errors
/// [`Refusal::TooClose`] with the rule that is broken.
pub fn check_distances(diameter_in: f64, edge_in: f64, spacing_in: Option<f64>) -> Result<(), Refusal> {
    const ROUNDING: f64 = 1e-6;
    let (least_in, source_of) = least_edge_in(diameter_in);
    if edge_in < least_in - ROUNDING {
        return Err(TooClose { what: "edge distance in steel", given_in: edge_in, least_in, source_of }.into());
    }
    let least_in = 8.0 / 3.0 * diameter_in;
    match spacing_in {
        Some(given_in) if given_in < least_in - ROUNDING => {
            Err(TooClose { what: "bolt spacing in steel", given_in, least_in, source_of: SPACING }.into())
        }
        _ => Ok(()),
    }
}
