//! Peak velocity pressure by EN 1991-1-4.

use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::design::{EnWind, Terrain};
use crate::quantities::to_mps;

/// Air density (kg/m³), the recommended value.
pub const AIR_DENSITY: f64 = 1.25;
/// Structural factor c_s c_d of a rigid, low structure (§6.2).
pub const STRUCTURAL_FACTOR: f64 = 1.0;

/// Roughness length z_0 \[m\] and least height z_min \[m\] of a terrain, and how sure they are.
///
/// # Source
/// EN 1991-1-4 Table 4.1. III and IV confirmed by worked examples, the others by the tables of open repositories.
#[must_use]
pub fn roughness(terrain: Terrain) -> (f64, f64, Source) {
    let source = |certainty| Source::new("EN 1991-1-4", "Table 4.1", certainty);
    match terrain {
        Terrain::Sea => (0.003, 1.0, source(Certainty::Agreed)),
        Terrain::I => (0.01, 1.0, source(Certainty::Agreed)),
        Terrain::II => (0.05, 2.0, source(Certainty::Agreed)),
        Terrain::III => (0.3, 5.0, source(Certainty::Transcribed)),
        Terrain::IV => (1.0, 10.0, source(Certainty::Transcribed)),
    }
}

/// Peak velocity pressure `q_p = (1 + 7 I_v) ½ ρ v_m²` \[Pa\].
///
/// # Units
/// `height_mm` above ground \[mm\]; below z_min the value at z_min holds.
///
/// # Source
/// EN 1991-1-4 Eqs. 4.3 to 4.8.
pub fn peak_pressure<T: Trace>(wind: &EnWind, height_mm: f64, trace: &mut T) -> f64 {
    let (z_0, z_min, source) = roughness(wind.terrain);
    let z = (height_mm / 1000.0).max(z_min);
    let en = |place| Source::new("EN 1991-1-4", place, Certainty::Agreed);
    let k_r = 0.19 * (z_0 / 0.05f64).powf(0.07);
    trace.step(|| Step {
        what: "terrain factor",
        symbol: "k_r",
        formula: "0.19*(z_0/0.05)^0.07",
        terms: vec![term("z_0", z_0, "m")],
        value: k_r,
        unit: "",
        source,
    });
    let c_r = k_r * (z / z_0).ln();
    trace.step(|| Step {
        what: "roughness factor",
        symbol: "c_r",
        formula: "k_r*ln(max(z, z_min)/z_0)",
        terms: vec![
            term("k_r", k_r, ""),
            term("z", height_mm / 1000.0, "m"),
            term("z_min", z_min, "m"),
            term("z_0", z_0, "m"),
        ],
        value: c_r,
        unit: "",
        source: en("Eq. 4.4"),
    });
    let basic = to_mps(wind.basic);
    let v_m = c_r * wind.c_0 * basic;
    trace.step(|| Step {
        what: "mean wind velocity",
        symbol: "v_m",
        formula: "c_r*c_0*v_b",
        terms: vec![term("c_r", c_r, ""), term("c_0", wind.c_0, ""), term("v_b", basic, "m/s")],
        value: v_m,
        unit: "m/s",
        source: en("Eq. 4.3"),
    });
    let i_v = 1.0 / (wind.c_0 * (z / z_0).ln());
    trace.step(|| Step {
        what: "turbulence intensity",
        symbol: "I_v",
        formula: "k_I/(c_0*ln(max(z, z_min)/z_0))",
        terms: vec![
            term("k_I", 1.0, ""),
            term("c_0", wind.c_0, ""),
            term("z", height_mm / 1000.0, "m"),
            term("z_min", z_min, "m"),
            term("z_0", z_0, "m"),
        ],
        value: i_v,
        unit: "",
        source: en("Eq. 4.7"),
    });
    let q_p = (1.0 + 7.0 * i_v) * 0.5 * AIR_DENSITY * v_m * v_m;
    trace.step(|| Step {
        what: "peak velocity pressure",
        symbol: "q_p",
        formula: "(1 + 7*I_v)*0.5*rho*v_m^2",
        terms: vec![term("I_v", i_v, ""), term("rho", AIR_DENSITY, "kg/m3"), term("v_m", v_m, "m/s")],
        value: q_p,
        unit: "Pa",
        source: en("Eq. 4.8"),
    });
    q_p
}
