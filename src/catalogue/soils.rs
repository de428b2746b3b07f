//! Presumptive soil values.

use super::source::{Certainty, Source};
use serde::Serialize;

/// Presumptive allowable values of one class of soil.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Soil {
    /// Class, 1 to 5.
    pub class: u8,
    /// What the class holds.
    pub name: &'static str,
    /// Vertical bearing (psf).
    pub bearing_psf: f64,
    /// Lateral bearing per foot of depth (psf/ft).
    pub lateral_psf_per_ft: f64,
    /// Coefficient of sliding friction, allowable; none for clay.
    pub friction: Option<f64>,
    /// Cohesion on the contact area (psf); clay only.
    pub cohesion_psf: Option<f64>,
    /// Where the figures come from.
    pub source: Source,
}

/// The table, from two reprints.
pub const PRESUMPTIVE: Source = Source::new("IBC 2018", "Table 1806.2", Certainty::Agreed);

const fn soil(class: u8, name: &'static str, values: [f64; 2], friction: Option<f64>, cohesion: Option<f64>) -> Soil {
    Soil {
        class,
        name,
        bearing_psf: values[0],
        lateral_psf_per_ft: values[1],
        friction,
        cohesion_psf: cohesion,
        source: PRESUMPTIVE,
    }
}

/// The five classes. Mud, organic silt or clay, peat and loose fill have no presumptive value.
pub static SOILS: [Soil; 5] = [
    soil(1, "crystalline bedrock", [12_000.0, 1200.0], Some(0.70), None),
    soil(2, "sedimentary and foliated rock", [4000.0, 400.0], Some(0.35), None),
    soil(3, "sandy gravel and gravel (GW, GP)", [3000.0, 200.0], Some(0.35), None),
    soil(
        4,
        "sand, silty sand, clayey sand, silty gravel, clayey gravel (SW, SP, SM, SC, GM, GC)",
        [2000.0, 150.0],
        Some(0.25),
        None,
    ),
    soil(5, "clay, sandy clay, silty clay, clayey silt, silt (CL, ML, MH, CH)", [1500.0, 100.0], None, Some(130.0)),
];

/// The soil of a class, 1 to 5.
#[must_use]
pub fn soil_class(class: u8) -> Option<&'static Soil> {
    SOILS.iter().find(|soil| soil.class == class)
}

/// Friction of one surface on another, not reduced.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Interface {
    /// The two surfaces.
    pub name: &'static str,
    /// Lower end of the published range (–).
    pub low: f64,
    /// Upper end of the published range (–).
    pub high: f64,
    /// Where the figures come from.
    pub source: Source,
}

const DM7: Source = Source::new("NAVFAC DM 7.02 (1986)", "Ch. 3 Table 1", Certainty::Agreed);
const TESTS: Source =
    Source::new("Concrete Society, Friction between elements", "lowest test; EN 12812 range", Certainty::Transcribed);
const TEMPORARY: Source = Source::new("EN 13814, EN 13782", "temporary structures", Certainty::Memory);
const RUBBER: Source = Source::new("handbooks", "rubber on concrete", Certainty::Memory);
const WET: Source =
    Source::new("judgement", "wet grass, mud, ice, algae, loose gravel on membrane", Certainty::Judgement);

const fn pair(name: &'static str, low: f64, high: f64, source: Source) -> Interface {
    Interface { name, low, high, source }
}

/// Surfaces a ballasted frame may stand on.
pub static INTERFACES: [Interface; 15] = [
    pair("concrete on clean gravel or coarse sand", 0.55, 0.60, DM7),
    pair("concrete on clean fine to medium sand", 0.45, 0.55, DM7),
    pair("concrete on fine or silty sand", 0.35, 0.45, DM7),
    pair("concrete on silt or medium-stiff clay", 0.30, 0.35, DM7),
    pair("concrete on stiff clay", 0.40, 0.50, DM7),
    pair("concrete on concrete", 0.4, 1.0, TESTS),
    pair("steel on cast concrete", 0.1, 0.4, TESTS),
    pair("steel on trowelled concrete", 0.5, 0.5, TESTS),
    pair("timber on concrete", 0.7, 1.0, TESTS),
    pair("wood on wood", 0.4, 0.4, TEMPORARY),
    pair("wood or steel on sand or gravel", 0.65, 0.65, TEMPORARY),
    pair("wood or steel on loam", 0.4, 0.4, TEMPORARY),
    pair("wood or steel on clay", 0.25, 0.25, TEMPORARY),
    pair("rubber on concrete", 0.4, 0.8, RUBBER),
    pair("wet grass, mud or ice", 0.2, 0.2, WET),
];

/// A piece of ballast that can be bought or filled.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Ballast {
    /// What it is.
    pub name: &'static str,
    /// Mass to count on: the light end of what is sold (lb).
    pub mass_lb: f64,
    /// Where the figure comes from.
    pub source: Source,
}

/// Pieces of ballast with the mass that may be counted on.
pub static BALLAST: [Ballast; 5] = [
    Ballast {
        name: "8x8x16 concrete block, hollow, normal weight",
        mass_lb: 34.0,
        source: Source::new("ASTM C90 densities", "50 % solid", Certainty::Transcribed),
    },
    Ballast {
        name: "8x8x16 concrete block, solid",
        mass_lb: 55.0,
        source: Source::new("ASTM C90 densities", "0.5257 ft³", Certainty::Derived),
    },
    Ballast {
        name: "sandbag 14x26 in",
        mass_lb: 30.0,
        source: Source::new("USACE sandbag leaflets", "fill and carry weight", Certainty::Transcribed),
    },
    Ballast {
        name: "5 gallon bucket of concrete",
        mass_lb: 97.0,
        source: Source::new("volume × 145 lb/ft³", "0.668 ft³", Certainty::Derived),
    },
    Ballast {
        name: "55 gallon drum of water",
        mass_lb: 459.0,
        source: Source::new("volume × 62.4 lb/ft³", "freezes and leaks", Certainty::Derived),
    },
];

/// Mass of concrete (lb/ft³).
pub const CONCRETE_PCF: f64 = 150.0;
/// Mass of soil over a footing (lb/ft³).
pub const SOIL_COVER_PCF: f64 = 100.0;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn metric_equivalents_of_the_table_agree() {
        // 1500/2000/3000 psf = 72/96/144 kPa and 100/150/200 psf/ft = 15.7/23.6/31.4 kPa/m.
        for (class, bearing_kpa, lateral_kpa_m) in [(5, 72.0, 15.7), (4, 96.0, 23.6), (3, 144.0, 31.4)] {
            let soil = soil_class(class).expect("a class");
            assert!((soil.bearing_psf * 0.047_880_26 - bearing_kpa).abs() < 0.5);
            assert!((soil.lateral_psf_per_ft * 0.047_880_26 / 0.3048 - lateral_kpa_m).abs() < 0.05);
        }
        assert!(soil_class(0).is_none() && soil_class(6).is_none());
    }
}
