//! Comes in: text as a builder writes it. Goes out: typed quantities, and text rounded to the tape.
//! This room never decides anything: it only reads, converts and prints.
//!
//! Quantities are those of the `uom` crate; everything public and physical is one of them. Inside a
//! computation plain `f64` numbers carry their unit in the name (`offset_mm`, `tilt_deg`).

mod json;
mod parse;
mod price;
mod show;
mod tape;
pub mod vector;
mod written;

pub use json::json;
pub(crate) use parse::INCH_NAMES;
pub use parse::{Latitude, Longitude, QuantityError, Readable, Slope, read};
pub use price::{NoPrice, Price};
pub use show::{
    UNIT_WORDS, Units, angle, area, converted, drill_size, facing, force, latitude, length, length_both, length_cells,
    length_columns, length_exact, length_range, limit, longitude, mass, mass_range, number, one_line, pressure, speed,
};
pub(crate) use show::{length_kept, sentence_case, shorten};
pub use tape::{MARK_MM_METRIC, MARK_MM_US, Tape};
pub use uom::si::f64::{Angle, Area, Force, Length, Mass, Pressure, Velocity};
pub use written::Written;

use uom::typenum::{N2, P1, Z0};

use uom::si::{
    angle::degree, area::square_meter, force::newton, length::millimeter, mass::kilogram, pressure::pascal,
    velocity::meter_per_second,
};

/// Pressure per length: what soil gives way by, and how fast that grows with depth. `uom` has no name for it.
pub type PressurePerLength = uom::si::Quantity<uom::si::ISQ<N2, P1, N2, Z0, Z0, Z0, Z0>, uom::si::SI<f64>, f64>;

/// Millimetres in one inch, exact by definition (international yard and pound agreement, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// Millimetres in a foot.
pub const MM_PER_FT: f64 = 12.0 * MM_PER_INCH;
/// Newtons in one pound-force (exact: 0.45359237 kg × 9.80665 m/s²).
pub const N_PER_LBF: f64 = 4.448_221_615_260_5;
/// Kilograms in one avoirdupois pound, exact.
pub const KG_PER_LB: f64 = 0.453_592_37;
/// Pascals in one pound per square inch.
pub const PA_PER_PSI: f64 = 6_894.757_293_168_361;
/// Pascals in one pound per square foot.
pub const PA_PER_PSF: f64 = 47.880_258_980_335_84;
/// Metres per second in one mile per hour, exact.
pub const MPS_PER_MPH: f64 = 0.447_04;
/// Standard gravity (m/s²), exact by convention.
pub const GRAVITY: f64 = 9.806_65;

/// A length given in millimetres.
#[must_use]
pub fn mm(value: f64) -> Length {
    Length::new::<millimeter>(value)
}

/// A length given in inches.
#[must_use]
pub fn inches(value: f64) -> Length {
    mm(value * MM_PER_INCH)
}

/// A length as a number of millimetres.
#[must_use]
pub fn to_mm(length: Length) -> f64 {
    length.get::<millimeter>()
}

/// A length as a number of inches.
#[must_use]
pub fn to_inches(length: Length) -> f64 {
    to_mm(length) / MM_PER_INCH
}

/// An angle given in degrees.
#[must_use]
pub fn deg(value: f64) -> Angle {
    Angle::new::<degree>(value)
}

/// An angle as a number of degrees.
#[must_use]
pub fn to_deg(angle: Angle) -> f64 {
    angle.get::<degree>()
}

/// A mass given in kilograms.
#[must_use]
pub fn kg(value: f64) -> Mass {
    Mass::new::<kilogram>(value)
}

/// A mass as a number of kilograms.
#[must_use]
pub fn to_kg(mass: Mass) -> f64 {
    mass.get::<kilogram>()
}

/// A force given in newtons.
#[must_use]
pub fn newtons(value: f64) -> Force {
    Force::new::<newton>(value)
}

/// A force given in pounds-force.
#[must_use]
pub fn lbf(value: f64) -> Force {
    newtons(value * N_PER_LBF)
}

/// A force as a number of newtons.
#[must_use]
pub fn to_n(force: Force) -> f64 {
    force.get::<newton>()
}

/// A pressure given in pascals.
#[must_use]
pub fn pa(value: f64) -> Pressure {
    Pressure::new::<pascal>(value)
}

/// A stress given in pounds per square inch.
#[must_use]
pub fn psi(value: f64) -> Pressure {
    pa(value * PA_PER_PSI)
}

/// A pressure given in pounds per square foot.
#[must_use]
pub fn psf(value: f64) -> Pressure {
    pa(value * PA_PER_PSF)
}

/// A pressure as a number of pascals.
#[must_use]
pub fn to_pa(pressure: Pressure) -> f64 {
    pressure.get::<pascal>()
}

/// A pressure per length given in kilonewtons per cubic metre.
#[must_use]
pub fn kn_per_m3(value: f64) -> PressurePerLength {
    pa(value * 1e3) / mm(1000.0)
}

/// A pressure per length as a number of kilonewtons per cubic metre.
#[must_use]
pub fn to_kn_per_m3(value: PressurePerLength) -> f64 {
    to_pa(value * mm(1000.0)) / 1e3
}

/// A speed given in metres per second.
#[must_use]
pub fn mps(value: f64) -> Velocity {
    Velocity::new::<meter_per_second>(value)
}

/// A speed as a number of metres per second.
#[must_use]
pub fn to_mps(speed: Velocity) -> f64 {
    speed.get::<meter_per_second>()
}

/// An area given in square metres.
#[must_use]
pub fn square_metres(value: f64) -> Area {
    Area::new::<square_meter>(value)
}

/// An area as a number of square metres.
#[must_use]
pub fn to_square_metres(area: Area) -> f64 {
    area.get::<square_meter>()
}
