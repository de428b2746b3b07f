//! Factors that adjust a reference design value.

pub use crate::loads::Duration;
use crate::{
    catalogue::{Certainty, DesignTable, DesignValues, Grade, SawnClass, Source, Species},
    codes::Refusal,
};
use serde::Serialize;

impl Duration {
    /// Load duration factor C_D of members.
    ///
    /// # Source
    /// NDS-2018 Table 2.3.2.
    #[must_use]
    pub fn factor(self) -> f64 {
        match self {
            Self::Permanent => 0.9,
            Self::TenYears => 1.0,
            Self::TwoMonths => 1.15,
            Self::SevenDays => 1.25,
            Self::TenMinutes => 1.6,
            Self::Impact => 2.0,
        }
    }

    /// Load duration factor of connections: never above 1.6 (NDS-2018 §11.3.2).
    #[must_use]
    pub fn connection_factor(self) -> f64 {
        self.factor().min(1.6)
    }
}

/// Hottest sustained temperature of the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Default)]
#[serde(rename_all = "kebab-case")]
pub enum Temperature {
    /// Up to 100 °F.
    #[default]
    Usual,
    /// 100 to 125 °F.
    Warm,
    /// 125 to 150 °F.
    Hot,
}

/// Strength or stiffness that a factor belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Property {
    /// F_b.
    Bending,
    /// F_t.
    Tension,
    /// F_v.
    Shear,
    /// F_c⊥.
    BearingAcross,
    /// F_c.
    Compression,
    /// E and E_min.
    Stiffness,
}

/// Axis of bending of a rectangle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Axis {
    /// Edgewise: load on the narrow face.
    Strong,
    /// Flatwise: load on the wide face.
    Weak,
}

/// Load duration.
pub const LOAD_DURATION: Source = Source::new("NDS-2018", "Table 2.3.2", Certainty::Agreed);
/// Wet service of dimension lumber.
pub const WET_SERVICE: Source = Source::new("NDS Supplement 2018", "Table 4A, C_M", Certainty::Agreed);
/// Wet service of timbers.
pub const WET_TIMBERS: Source = Source::new("NDS Supplement 2018", "Table 4D, C_M", Certainty::Transcribed);
/// Wet service of Southern Pine timbers, tabulated for wet use.
pub const WET_PINE_TIMBERS: Source = Source::new("NDS Supplement 2018", "Table 4D, Southern Pine", Certainty::Memory);
/// Temperature of members.
pub const TEMPERATURE: Source = Source::new("NDS-2018", "Table 2.3.3", Certainty::Transcribed);
/// Size and flat use of dimension lumber.
pub const SIZE: Source = Source::new("NDS Supplement 2018", "Table 4A, C_F and C_fu", Certainty::Agreed);
/// Size of timbers.
pub const SIZE_TIMBERS: Source = Source::new("NDS-2018", "§4.3.6.2", Certainty::Transcribed);
/// Incising.
pub const INCISING: Source = Source::new("NDS-2018", "Table 4.3.8", Certainty::Transcribed);
/// Repetitive members.
pub const REPETITIVE: Source = Source::new("NDS-2018", "§4.3.9", Certainty::Transcribed);

/// Wet service factor C_M, and where it stands. `value_with_size_psi` = F_b C_F or F_c C_F (psi); for Southern Pine
/// the size is inside the value.
#[must_use]
pub fn wet_service(row: &DesignValues, property: Property, value_with_size_psi: f64) -> (f64, Source) {
    // Below these products the wet value is not lower (footnotes of the table).
    const LOW_BENDING_PSI: f64 = 1150.0;
    const LOW_COMPRESSION_PSI: f64 = 750.0;
    match (row.table, property) {
        (DesignTable::Table4D, _) if row.species == Species::SouthernPine => (1.0, WET_PINE_TIMBERS),
        (DesignTable::Table4D, Property::BearingAcross) => (0.67, WET_TIMBERS),
        (DesignTable::Table4D, Property::Compression) => (0.91, WET_TIMBERS),
        (DesignTable::Table4D, _) => (1.0, WET_TIMBERS),
        (_, Property::Bending) if value_with_size_psi <= LOW_BENDING_PSI => (1.0, WET_SERVICE),
        (_, Property::Bending) => (0.85, WET_SERVICE),
        (_, Property::Tension) => (1.0, WET_SERVICE),
        (_, Property::Shear) => (0.97, WET_SERVICE),
        (_, Property::BearingAcross) => (0.67, WET_SERVICE),
        (_, Property::Compression) if value_with_size_psi <= LOW_COMPRESSION_PSI => (1.0, WET_SERVICE),
        (_, Property::Compression) => (0.80, WET_SERVICE),
        (_, Property::Stiffness) => (0.90, WET_SERVICE),
    }
}

/// Temperature factor C_t of members.
#[must_use]
pub fn temperature(property: Property, temperature: Temperature, wet: bool) -> f64 {
    match (property, temperature) {
        (_, Temperature::Usual) => 1.0,
        (Property::Tension | Property::Stiffness, _) => 0.9,
        (_, Temperature::Warm) => {
            if wet {
                0.7
            } else {
                0.8
            }
        }
        (_, Temperature::Hot) => {
            if wet {
                0.5
            } else {
                0.7
            }
        }
    }
}

/// Temperature factor C_t of connections (NDS-2018 Table 11.3.4).
#[must_use]
pub fn connection_temperature(temperature: Temperature, wet: bool) -> f64 {
    self::temperature(Property::Shear, temperature, wet)
}

/// Size factors of Table 4A by nominal width: F_b of 2 and 3 in, F_b of 4 in thickness, F_t, F_c.
const SIZE_ROWS: [(f64, [f64; 4]); 7] = [
    (4.0, [1.5, 1.5, 1.5, 1.15]),
    (5.0, [1.4, 1.4, 1.4, 1.1]),
    (6.0, [1.3, 1.3, 1.3, 1.1]),
    (8.0, [1.2, 1.3, 1.2, 1.05]),
    (10.0, [1.1, 1.2, 1.1, 1.0]),
    (12.0, [1.0, 1.1, 1.0, 1.0]),
    (f64::INFINITY, [0.9, 1.0, 0.9, 0.9]),
];

/// Size factor C_F, and where it stands. `nominal_in` = thickness and width; `depth_in` = dressed depth.
///
/// # Errors
/// [`Refusal::NotHeld`] for Stud grade wider than 6 in and Construction grade wider than 4 in, which the table does
/// not size.
pub fn size(
    row: &DesignValues,
    nominal_in: [f64; 2],
    depth_in: f64,
    property: Property,
) -> Result<(f64, Source), Refusal> {
    let [thick, wide] = [nominal_in[0].min(nominal_in[1]), nominal_in[0].max(nominal_in[1])];
    let sized = matches!(property, Property::Bending | Property::Tension | Property::Compression);
    if !sized {
        return Ok((1.0, SIZE));
    }
    match (row.table, row.grade) {
        (DesignTable::Table4D, _) if property == Property::Bending && depth_in > 12.0 => {
            Ok(((12.0 / depth_in).powf(1.0 / 9.0), SIZE_TIMBERS))
        }
        (DesignTable::Table4D, _) => Ok((1.0, SIZE_TIMBERS)),
        (DesignTable::Table4B, _) => Ok((southern_pine_size(thick, wide, property), SIZE)),
        (DesignTable::Table4A, Grade::Stud) if wide <= 4.0 => {
            Ok((if property == Property::Compression { 1.05 } else { 1.1 }, SIZE))
        }
        (DesignTable::Table4A, Grade::Stud) if wide <= 6.0 => Ok((1.0, SIZE)),
        (DesignTable::Table4A, Grade::Construction) if wide <= 4.0 => Ok((1.0, SIZE)),
        (DesignTable::Table4A, Grade::Stud | Grade::Construction) => {
            Err(Refusal::not_held(format!("no size factor for {} grade {wide} in wide", row.grade)))
        }
        (DesignTable::Table4A, _) => {
            let factors = SIZE_ROWS.iter().find(|(upto, _)| wide <= *upto).map_or([0.9, 1.0, 0.9, 0.9], |r| r.1);
            let factor = match property {
                Property::Bending if thick >= 4.0 => factors[1],
                Property::Bending => factors[0],
                Property::Tension => factors[2],
                _ => factors[3],
            };
            Ok((factor, SIZE))
        }
    }
}

fn southern_pine_size(thick: f64, wide: f64, property: Property) -> f64 {
    match () {
        () if wide > 12.0 => 0.9,
        () if thick >= 4.0 && wide >= 8.0 && property == Property::Bending => 1.1,
        () => 1.0,
    }
}

/// Flat use factor C_fu on F_b when the wide face is loaded.
///
/// # Errors
/// [`Refusal::NotHeld`] for beams and stringers, whose reduction is not held.
pub fn flat_use(row: &DesignValues, nominal_in: [f64; 2]) -> Result<f64, Refusal> {
    let [thick, wide] = [nominal_in[0].min(nominal_in[1]), nominal_in[0].max(nominal_in[1])];
    match row.class {
        SawnClass::PostsAndTimbers => Ok(1.0),
        SawnClass::BeamsAndStringers => Err(Refusal::not_held("flat use factor of beams and stringers")),
        SawnClass::Dimension if thick >= 4.0 => Ok(match wide {
            w if w < 5.0 => 1.0,
            w if w < 10.0 => 1.05,
            _ => 1.1,
        }),
        SawnClass::Dimension => Ok(match wide {
            w if w < 4.0 => 1.0,
            w if w < 6.0 => 1.1,
            w if w < 10.0 => 1.15,
            _ => 1.2,
        }),
    }
}

/// Incising factor C_i of lumber whose faces are incised for treatment.
#[must_use]
pub fn incising(property: Property, incised: bool) -> f64 {
    match (incised, property) {
        (false, _) | (true, Property::BearingAcross) => 1.0,
        (true, Property::Stiffness) => 0.95,
        (true, _) => 0.80,
    }
}
