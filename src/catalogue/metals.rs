//! Strengths of metals and bolts.

use super::{
    section::{Family, Section, Shape},
    source::{Certainty, Source},
};

use serde::Serialize;
use std::sync::LazyLock;

/// A structural metal.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Metal {
    /// Standard and grade.
    pub name: &'static str,
    /// Yield strength (ksi).
    pub fy_ksi: f64,
    /// Tensile strength (ksi).
    pub fu_ksi: f64,
    /// Modulus of elasticity (ksi).
    pub e_ksi: f64,
    /// Modulus of rigidity (ksi).
    pub g_ksi: f64,
    /// Where the strengths come from.
    pub source: Source,
    /// Where the moduli come from.
    pub moduli_source: Source,
}

const REPRINTS: Source = Source::new("AISC Manual", "Table 2-4, two reprints", Certainty::Agreed);
const STEEL_MODULI: Source = Source::new("AISC 360-16", "E 29 000, G 11 200 ksi", Certainty::Transcribed);
const EXTRUDER: Source = Source::new("ASTM B221", "extruder's table", Certainty::Transcribed);
const ALUMINIUM_MODULI: Source = Source::new("Aluminum Design Manual", "E 10 100, G 3 800 ksi", Certainty::Memory);

const fn steel(name: &'static str, fy_ksi: f64, fu_ksi: f64) -> Metal {
    Metal { name, fy_ksi, fu_ksi, e_ksi: 29_000.0, g_ksi: 11_200.0, source: REPRINTS, moduli_source: STEEL_MODULI }
}

const fn aluminium(name: &'static str, fy_ksi: f64, fu_ksi: f64) -> Metal {
    Metal { name, fy_ksi, fu_ksi, e_ksi: 10_100.0, g_ksi: 3800.0, source: EXTRUDER, moduli_source: ALUMINIUM_MODULI }
}

/// Every metal held. Strengths of aluminium are those away from welds.
pub static METALS: [Metal; 10] = [
    steel("A36", 36.0, 58.0),
    steel("A500 Gr B round", 42.0, 58.0),
    steel("A500 Gr B", 46.0, 58.0),
    // Newer editions of the standard are reported at 50 ksi for round; 46 is the safe value.
    steel("A500 Gr C round", 46.0, 62.0),
    steel("A500 Gr C", 50.0, 62.0),
    steel("A53 Gr B", 35.0, 60.0),
    steel("A572 Gr 50", 50.0, 65.0),
    aluminium("6061-T6", 35.0, 38.0),
    aluminium("6063-T5", 16.0, 22.0),
    aluminium("6063-T6", 25.0, 30.0),
];

/// The metal of that name; case and spaces do not matter.
#[must_use]
pub fn metal(name: &str) -> Option<&'static Metal> {
    let plain = |text: &str| text.to_lowercase().replace([' ', '.'], "");
    METALS.iter().find(|metal| plain(metal.name) == plain(name))
}

/// The metals that sections are taken to be of, looked up once.
static USUAL: LazyLock<[&'static Metal; 4]> =
    LazyLock::new(|| ["6063-T5", "A500 Gr B", "A53 Gr B", "A36"].map(|name| metal(name).expect("a listed metal")));

/// The steel or aluminium a section is taken to be of: tube A500 Gr B, pipe A53 Gr B, everything else rolled A36;
/// aluminium 6063-T5, the weakest common extrusion. Stated beside every result that uses it.
#[must_use]
pub fn metal_of(section: &Section) -> Option<&'static Metal> {
    Some(match (section.family, section.shape) {
        (Family::Wood, _) => return None,
        (Family::Aluminium, _) => USUAL[0],
        (Family::Steel, Shape::SquareTube { .. } | Shape::RectTube { .. }) => USUAL[1],
        (Family::Steel, Shape::Pipe) => USUAL[2],
        (Family::Steel, _) => USUAL[3],
    })
}

/// Strength of a kind of bolt.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BoltGrade {
    /// Standard and grade.
    pub name: &'static str,
    /// Thinnest and thickest bolt it holds for (in).
    pub diameters_in: [f64; 2],
    /// Yield strength (ksi).
    pub fy_ksi: f64,
    /// Tensile strength (ksi).
    pub fu_ksi: f64,
    /// Nominal tensile stress F_nt (ksi).
    pub fnt_ksi: f64,
    /// Nominal shear stress F_nv with threads in the shear plane (ksi).
    pub fnv_ksi: f64,
    /// Where the strengths come from.
    pub source: Source,
}

const AISC_LISTED: Source = Source::new("AISC 360-16", "Table J3.2", Certainty::Transcribed);
// The factors of threaded parts stand alike in two open libraries of AISC 360-16 (xcfem/xc, pyaisc360) and in a national
// code that takes the table over.
const SAE: Source = Source::new("SAE J429", "with 0.75 and 0.450 F_u of AISC 360-16 Table J3.2", Certainty::Agreed);
const F593: Source = Source::new("ASTM F593", "with 0.75 and 0.450 F_u of AISC 360-16 Table J3.2", Certainty::Agreed);
const ISO: Source =
    Source::new("ISO 898-1", "with 0.75 and 0.450 F_u of AISC 360-16 Table J3.2", Certainty::Transcribed);
const ISO_STAINLESS: Source =
    Source::new("ISO 3506", "strengths; with 0.75 and 0.450 F_u of AISC 360-16 Table J3.2", Certainty::Memory);

const fn grade(name: &'static str, diameters_in: [f64; 2], f: [f64; 4], source: Source) -> BoltGrade {
    BoltGrade { name, diameters_in, fy_ksi: f[0], fu_ksi: f[1], fnt_ksi: f[2], fnv_ksi: f[3], source }
}

/// Every bolt grade held. Using the threaded-parts row for SAE, F593 and ISO bolts is a choice made here.
pub static BOLT_GRADES: [BoltGrade; 10] = [
    grade("A307 Gr A", [0.25, 1.0], [36.0, 60.0, 45.0, 27.0], AISC_LISTED),
    grade("A325", [0.5, 1.0], [92.0, 120.0, 90.0, 54.0], AISC_LISTED),
    grade("SAE J429 Gr 2", [0.25, 0.75], [57.0, 74.0, 55.5, 33.3], SAE),
    grade("SAE J429 Gr 5", [0.25, 1.0], [92.0, 120.0, 90.0, 54.0], SAE),
    grade("F593 CW1", [0.25, 0.625], [65.0, 100.0, 75.0, 45.0], F593),
    grade("F593 CW2", [0.75, 1.5], [45.0, 85.0, 63.75, 38.25], F593),
    grade("F593 A", [0.25, 1.5], [30.0, 75.0, 56.25, 33.75], F593),
    grade("A2-70", [0.23, 0.95], [65.27, 101.53, 76.15, 45.69], ISO_STAINLESS),
    grade("4.8", [0.23, 0.63], [49.31, 60.92, 45.69, 27.41], ISO),
    grade("8.8", [0.23, 0.63], [92.82, 116.03, 87.02, 52.21], ISO),
];

/// The bolt grade of that name; case and spaces do not matter.
#[must_use]
pub fn bolt_grade(name: &str) -> Option<&'static BoltGrade> {
    let plain = |text: &str| text.to_lowercase().replace(' ', "");
    BOLT_GRADES.iter().find(|grade| plain(grade.name) == plain(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bolt_stresses_are_shares_of_the_tensile_strength() {
        for grade in &BOLT_GRADES {
            assert!((grade.fnt_ksi - 0.75 * grade.fu_ksi).abs() < 0.1, "{}", grade.name);
            assert!((grade.fnv_ksi - 0.45 * grade.fu_ksi).abs() < 0.1, "{}", grade.name);
            assert!(grade.fy_ksi < grade.fu_ksi);
        }
        assert!(metal("a500 gr c").is_some_and(|m| m.fy_ksi == 50.0) && metal("A992").is_none());
        assert!(bolt_grade("f593 cw1").is_some_and(|g| g.fnv_ksi == 45.0));
    }
}
