//! How hard a dowel may press on wood or steel.

use crate::catalogue::{Certainty, Source, Trace};

/// Bearing of wood.
pub const WOOD: Source = Source::new("NDS-2018", "Table 12.3.3, footnote 2", Certainty::Agreed);
/// Bearing at an angle.
pub const ANGLE: Source = Source::new("NDS-2018", "Eq. 12.3-11", Certainty::Agreed);
/// Bearing of steel side plates.
pub const STEEL: Source = Source::new("NDS-2018", "Tables 12B, 12K footnote 2, App. I.2", Certainty::Agreed);

/// The tables of the standard are computed from strengths rounded to this step (psi).
const TABLE_STEP_PSI: f64 = 50.0;

fn tabulated(exact_psi: f64) -> f64 {
    (exact_psi / TABLE_STEP_PSI).round() * TABLE_STEP_PSI
}

/// Dowel bearing strength of wood along the grain, D ≥ 1/4 in: 11200 G (psi, rounded to 50).
#[must_use]
pub fn along_psi(specific_gravity: f64) -> f64 {
    tabulated(11_200.0 * specific_gravity)
}

/// Dowel bearing strength of wood across the grain, D ≥ 1/4 in: 6100 G^1.45/√D (psi, rounded to 50).
#[must_use]
pub fn across_psi(specific_gravity: f64, diameter_in: f64) -> f64 {
    tabulated(6100.0 * specific_gravity.powf(1.45) / diameter_in.sqrt())
}

/// Dowel bearing strength of wood, D < 1/4 in, at any angle: 16600 G^1.84 (psi, rounded to 50).
#[must_use]
pub fn thin_psi(specific_gravity: f64) -> f64 {
    tabulated(16_600.0 * specific_gravity.powf(1.84))
}

/// Dowel bearing strength of wood loaded at `angle_deg` to its grain (psi).
///
/// ```text
/// F_e∥ = 11200 G    F_e⊥ = 6100 G^1.45 / √D    F_eθ = F_e∥ F_e⊥ / (F_e∥ sin²θ + F_e⊥ cos²θ)      D ≥ 1/4 in
/// F_e = 16600 G^1.84                                                                             D < 1/4 in
/// ```
///
/// # Units
/// `diameter_in` is the nominal one. The end-grain case takes 90°.
///
/// # Source
/// NDS-2018 Table 12.3.3 and Eq. 12.3-11; strengths rounded to 50 psi as the tables of the standard are.
pub fn wood<T: Trace>(trace: &mut T, specific_gravity: f64, diameter_in: f64, angle_deg: f64) -> f64 {
    if diameter_in < 0.25 {
        let g = specific_gravity;
        let f_e = thin_psi(g);
        step!(
            trace,
            "dowel bearing strength, thin dowel, rounded to 50 psi",
            f_e["psi"] = "50*round(16600*g^1.84/50)",
            { g[""] },
            WOOD
        );
        return f_e;
    }
    let (g, d) = (specific_gravity, diameter_in);
    let along = along_psi(g);
    step!(
        trace,
        "dowel bearing strength along the grain, rounded to 50 psi",
        along["psi"] = "50*round(11200*g/50)",
        { g[""] },
        WOOD
    );
    if angle_deg.abs() < 1e-9 {
        return along;
    }
    let across = across_psi(g, d);
    step!(trace, "dowel bearing strength across the grain, rounded to 50 psi", across ["psi"] = "50*round(6100*g^1.45/sqrt(d)/50)", { g [""], d ["in"] }, WOOD);
    let theta = angle_deg.to_radians();
    let f_e = along * across / (along * theta.sin().powi(2) + across * theta.cos().powi(2));
    step!(trace, "dowel bearing strength at the angle", f_e ["psi"] = "along*across/(along*sin(theta)^2 + across*cos(theta)^2)",
        { along ["psi"], across ["psi"], theta ["rad"] }, ANGLE);
    f_e
}

/// Dowel bearing strength of a steel plate (psi) by thickness: A36 from 1/4 in on, sheet of A653 grade 33 below.
#[must_use]
pub fn steel_psi(thickness_in: f64) -> f64 {
    if thickness_in >= 0.25 - 1e-9 { 87_000.0 } else { 61_850.0 }
}
