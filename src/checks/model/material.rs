//! What a section is made of, for stiffness and weight.

use crate::{
    catalogue::{self, Family, Section, Source, metal_of},
    design::StrengthBasis,
};

/// Stiffness and weight of a section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Material {
    /// Modulus of elasticity (N/mm²).
    pub e_mpa: f64,
    /// Modulus of rigidity (N/mm²).
    pub g_mpa: f64,
    /// Mass per metre (kg/m).
    pub kg_per_m: f64,
    /// Where the stiffness comes from.
    pub source: Source,
}

/// Moisture for weight (%): 19 dry, 28 wet or in the ground. Judgement: the upper end of dry wood, fibre saturation.
const MOISTURE_PERCENT: [f64; 2] = [19.0, 28.0];
/// Wet service lowers the stiffness of wood.
///
/// NDS Supplement 2018 Table 4A, C_M on E: 0.9; incising C_i on E: 0.95.
const WET_STIFFNESS: f64 = 0.9;
const INCISED_STIFFNESS: f64 = 0.95;

/// Stiffness and weight of a section; `wet` for wood in wet service or in the ground.
///
/// # Errors
/// The species and grade that no table holds for this section.
pub fn material(section: &Section, basis: &StrengthBasis, wet: bool) -> Result<Material, catalogue::NotHeld> {
    const MPA_PER_KSI: f64 = 6.894_757_293;
    const STEEL_KG_M3: f64 = 7850.0;
    const ALUMINIUM_KG_M3: f64 = 2710.0;
    match (metal_of(section), basis.wood) {
        (Some(metal), _) => {
            let density = if section.family == Family::Steel { STEEL_KG_M3 } else { ALUMINIUM_KG_M3 };
            Ok(Material {
                e_mpa: metal.e_ksi * MPA_PER_KSI,
                g_mpa: metal.g_ksi * MPA_PER_KSI,
                kg_per_m: section.mass_kg_per_m.unwrap_or(section.area_mm2 * 1e-6 * density),
                source: metal.moduli_source,
            })
        }
        (None, Some(wood)) => {
            let stiffness = catalogue::stiffness(wood.species, wood.grade, section)?;
            let timber = section.sawn_class() != Some(catalogue::SawnClass::Dimension);
            let mut share = if wet && !timber { WET_STIFFNESS } else { 1.0 };
            if basis.incised {
                share *= INCISED_STIFFNESS;
            }
            let moisture = MOISTURE_PERCENT[usize::from(wet)];
            Ok(Material {
                e_mpa: stiffness.e_mpa * share,
                g_mpa: stiffness.g_mpa * share,
                kg_per_m: section.area_mm2 * 1e-6 * catalogue::density(wood.species.specific_gravity(), moisture),
                source: stiffness.source,
            })
        }
        (None, None) => unreachable!("a design with wood has its species, or strength was refused"),
    }
}
