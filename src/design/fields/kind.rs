//! What the values of a field are, how a text of them is read, and how their range is told.

use super::super::{Currency, conditions};
use crate::{
    catalogue::{self, soils},
    quantities::{
        Angle, Force, Latitude, Length, Longitude, MPS_PER_MPH, Mass, PA_PER_PSF, Pressure, PressurePerLength, Price,
        Readable, Slope, Units, Velocity, Written, angle, deg, kg, length, length_range, mass, mass_range, mm, number,
        to_deg, to_kg, to_kn_per_m3, to_mm, to_mps, to_n, to_pa,
    },
};
use serde::de::DeserializeOwned;
use serde_yaml::Value;

/// What the values of a field are. Ranges are in the unit that is named; both ends are taken.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// Fields below it.
    Block,
    /// A list of blocks.
    Rows,
    /// A line of text, at most so many characters.
    Text(usize),
    /// `true` or `false`.
    Flag,
    /// One of these words.
    Words(&'static [&'static str]),
    /// A whole number.
    Count([u32; 2]),
    /// A number.
    Number([f64; 2]),
    /// A length (mm).
    Length([f64; 2]),
    /// An angle (deg).
    Angle([f64; 2]),
    /// Degrees north or south of the equator (deg).
    Latitude([f64; 2]),
    /// Degrees east or west of Greenwich (deg).
    Longitude([f64; 2]),
    /// An angle to level, or rise in run (deg).
    Slope([f64; 2]),
    /// A mass (kg).
    Mass([f64; 2]),
    /// A force (N).
    Force([f64; 2]),
    /// A speed, in the unit that maps of it are drawn in.
    Speed([f64; 2], SpeedUnit),
    /// A pressure, in the unit that its tables are printed in.
    Pressure([f64; 2], PressureUnit),
    /// What soil gives way by, growing with depth (kN/m³).
    Subgrade([f64; 2]),
    /// A price, with or without its sign.
    Price([f64; 2]),
    /// A currency by its three letters.
    Currency,
    /// A section by its trade name.
    Section,
    /// A bolt by its size.
    Bolt,
    /// Steel of bolts.
    BoltGrade,
    /// A screw by its size.
    Screw,
    /// A bolt or screw by its size, whichever the row sells.
    GoodsSize,
    /// A species of wood.
    Species,
    /// A grade of wood.
    Grade,
    /// What slides on what.
    Contact,
    /// So many angles (deg).
    Angles([usize; 2]),
    /// Whole numbers.
    Counts,
    /// Fields with the values they may take.
    Choices,
}

/// Units of speed that maps of wind are drawn in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SpeedUnit {
    /// Miles per hour.
    Mph,
    /// Metres per second.
    Mps,
}

/// Units of pressure that tables are printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PressureUnit {
    /// Pounds per square foot.
    Psf,
    /// Pascals.
    Pa,
}

/// A quantity as a number in the unit that ranges of its kind are written in.
pub(crate) trait Measured: Readable {
    /// mm, deg, kg, N, m/s, Pa, kN/m³.
    fn in_base(self) -> f64;
}

macro_rules! measured {
    ($($quantity:ty: $base:expr),* $(,)?) => {
        $(impl Measured for $quantity {
            fn in_base(self) -> f64 {
                $base(self)
            }
        })*
    };
}

measured! {
    Length: to_mm,
    Angle: to_deg,
    Latitude: |l: Latitude| to_deg(l.0),
    Longitude: |l: Longitude| to_deg(l.0),
    Slope: |s: Slope| to_deg(s.0),
    Mass: to_kg,
    Force: to_n,
    Velocity: to_mps,
    Pressure: to_pa,
    PressurePerLength: to_kn_per_m3,
}

/// A bound written in the units of the reader may miss itself by the rounding of the conversion.
const ROUNDING: f64 = 1e-6;

impl Kind {
    /// Least and most, in the base unit of the kind (mm, deg, kg, N, m/s, Pa, kN/m³); nothing for what has no range.
    #[must_use]
    pub fn range(&self) -> Option<[f64; 2]> {
        Some(match self {
            Self::Number(range)
            | Self::Length(range)
            | Self::Angle(range)
            | Self::Latitude(range)
            | Self::Longitude(range)
            | Self::Slope(range)
            | Self::Mass(range)
            | Self::Force(range)
            | Self::Subgrade(range)
            | Self::Price(range) => *range,
            Self::Count(range) => range.map(f64::from),
            Self::Speed(range, unit) => range.map(|v| v * unit.mps()),
            Self::Pressure(range, unit) => range.map(|v| v * unit.pa()),
            _ => return None,
        })
    }

    /// The range in words that can be written: `between 3 ft and 5 ft`.
    #[must_use]
    pub fn range_words(&self, units: Units) -> Option<String> {
        let plain = |[least, most]: [f64; 2], unit: &str| {
            let show = |value: f64| format!("{value} {unit}").trim_end().to_string();
            format!("between {} and {}", show(least), show(most))
        };
        Some(match self {
            Self::Length(range) => length_range(range.map(mm), units),
            Self::Mass(range) => mass_range(range.map(kg), units),
            Self::Angle([least, most])
            | Self::Latitude([least, most])
            | Self::Longitude([least, most])
            | Self::Slope([least, most]) => format!("between {least}° and {most}°"),
            Self::Count(range) => plain(range.map(f64::from), ""),
            Self::Number(range) | Self::Price(range) => plain(*range, ""),
            Self::Force([least, most]) => format!("between {} and {}", newtons(*least), newtons(*most)),
            Self::Speed(range, unit) => plain(*range, unit.name()),
            Self::Pressure(range, unit) => plain(*range, unit.name()),
            Self::Subgrade(range) => plain(*range, "kN/m3"),
            Self::Angles([least, most]) => format!("{least} to {most} angles"),
            _ => return None,
        })
    }

    /// A value in the base unit of the kind as a fault quotes it.
    #[must_use]
    pub fn show(&self, value: f64, units: Units) -> String {
        match self {
            // Too large for the tape's own words, a length is shown plainly.
            Self::Length(_) if value.abs() < 1e7 => length(mm(value), units),
            Self::Length(_) => format!("{value:.3e} mm"),
            Self::Angle(_) | Self::Latitude(_) | Self::Longitude(_) | Self::Slope(_) => angle(deg(value)),
            Self::Mass(_) => mass(kg(value), units),
            Self::Force(_) => newtons(value),
            Self::Speed(_, unit) => format!("{} {}", number(value / unit.mps(), 1), unit.name()),
            Self::Pressure(_, unit) => format!("{} {}", number(value / unit.pa(), 1), unit.name()),
            Self::Subgrade(_) => format!("{} kN/m3", number(value, 1)),
            _ => format!("{value}"),
        }
    }

    /// Does a value in the base unit of the kind lie in its range?
    #[must_use]
    pub fn takes(&self, value: f64) -> bool {
        self.range().is_none_or(|[least, most]| value >= least - ROUNDING && value <= most + ROUNDING)
    }

    /// Can values be counted off in steps?
    pub(in crate::design) fn has_steps(&self) -> bool {
        matches!(self, Self::Length(_) | Self::Mass(_) | Self::Angle(_) | Self::Count(_))
    }

    /// A value of the kind in its base unit; nothing for what is no number.
    ///
    /// # Errors
    /// What the reader says of it.
    pub(in crate::design) fn number(&self, value: &Value) -> Result<Option<f64>, String> {
        Ok(Some(match self {
            Self::Count(_) => f64::from(of::<u32>(value)?),
            Self::Number(_) => of::<f64>(value)?,
            Self::Price(_) => of::<Price>(value)?.amount,
            Self::Length(_) => measured::<Length>(value)?,
            Self::Angle(_) => measured::<Angle>(value)?,
            Self::Latitude(_) => measured::<Latitude>(value)?,
            Self::Longitude(_) => measured::<Longitude>(value)?,
            Self::Slope(_) => measured::<Slope>(value)?,
            Self::Mass(_) => measured::<Mass>(value)?,
            Self::Force(_) => measured::<Force>(value)?,
            Self::Speed(..) => measured::<Velocity>(value)?,
            Self::Pressure(..) => measured::<Pressure>(value)?,
            Self::Subgrade(_) => measured::<PressurePerLength>(value)?,
            _ => return Ok(None),
        }))
    }

    /// Is the text, as a design file would hold it, a value of the kind within its range?
    ///
    /// # Errors
    /// Why it is not.
    pub fn judge_text(&self, text: &str, units: Units) -> Result<(), String> {
        let value: Value = serde_yaml::from_str(text).map_err(|error| error.to_string())?;
        if let Some(number) = self.number(&value)? {
            let range = || self.range_words(units).unwrap_or_default();
            return if self.takes(number) { Ok(()) } else { Err(format!("{text} does not lie {}", range())) };
        }
        let known = |found: bool| if found { Ok(()) } else { Err(format!("{text} is not known")) };
        let name = || of::<String>(&value);
        match self {
            Self::Block | Self::Choices => known(value.is_mapping()),
            Self::Rows => known(value.as_sequence().is_some_and(|rows| rows.iter().all(Value::is_mapping))),
            Self::Text(most) => known((1..=*most).contains(&name()?.chars().count())),
            Self::Flag => known(value.is_bool()),
            Self::Words(words) => known(words.contains(&name()?.as_str())),
            Self::Currency => known(Currency::read(&name()?).is_some()),
            Self::Section => catalogue::section(&name()?).map(|_| ()).map_err(|error| error.to_string()),
            Self::Bolt => catalogue::bolt(&name()?).map(|_| ()).map_err(|error| error.to_string()),
            Self::Screw => catalogue::screw(&name()?).map(|_| ()).map_err(|error| error.to_string()),
            Self::GoodsSize => {
                let name = name()?;
                known(catalogue::bolt(&name).is_ok() || catalogue::screw(&name).is_ok())
            }
            Self::BoltGrade => known(catalogue::bolt_grade(&name()?).is_some()),
            Self::Species => known(conditions::species(&name()?).is_some()),
            Self::Grade => known(conditions::grade(&name()?).is_some()),
            Self::Contact => known(soils::INTERFACES.iter().any(|pair| Some(pair.name) == value.as_str())),
            Self::Angles([least, most]) => known((*least..=*most).contains(&of::<Vec<Written<Angle>>>(&value)?.len())),
            Self::Counts => of::<Vec<u32>>(&value).map(|_| ()),
            _ => unreachable!("a kind with a number was judged above"),
        }
    }

    /// What a value is, as the reference and faults say it.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::Block => "block of fields",
            Self::Rows => "list of blocks",
            Self::Text(_) => "text",
            Self::Flag => "true or false",
            Self::Words(_) => "word",
            Self::Count(_) => "whole number",
            Self::Number(_) => "number",
            Self::Length(_) => "length",
            Self::Angle(_) => "angle",
            Self::Latitude(_) => "latitude",
            Self::Longitude(_) => "longitude",
            Self::Slope(_) => "slope",
            Self::Mass(_) => "mass",
            Self::Force(_) => "force",
            Self::Speed(..) => "speed",
            Self::Pressure(..) => "pressure",
            Self::Subgrade(_) => "pressure per length",
            Self::Price(_) => "price",
            Self::Currency => "currency",
            Self::Section => "section",
            Self::Bolt => "bolt size",
            Self::BoltGrade => "bolt grade",
            Self::Screw => "screw size",
            Self::GoodsSize => "bolt or screw size",
            Self::Species => "species",
            Self::Grade => "grade",
            Self::Contact => "pair of surfaces",
            Self::Angles(_) => "list of angles",
            Self::Counts => "list of whole numbers",
            Self::Choices => "fields with values",
        }
    }

    /// Units a value may be written in; nothing for what has none.
    #[must_use]
    pub fn units(&self) -> Option<String> {
        Some(match self {
            Self::Length(_) => Length::accepted(),
            Self::Angle(_) | Self::Angles(_) => Angle::accepted(),
            Self::Latitude(_) => Latitude::accepted(),
            Self::Longitude(_) => Longitude::accepted(),
            Self::Slope(_) => Slope::accepted(),
            Self::Mass(_) => Mass::accepted(),
            Self::Force(_) => Force::accepted(),
            Self::Speed(..) => Velocity::accepted(),
            Self::Pressure(..) => Pressure::accepted(),
            Self::Subgrade(_) => PressurePerLength::accepted(),
            _ => return None,
        })
    }

    /// Values as one might offer them to `size`.
    #[must_use]
    pub(in crate::design) fn offers(&self, units: Units) -> &'static str {
        match (self, units) {
            (Self::Section, Units::Us) => "2x4, 2x6",
            (Self::Section, Units::Metric) => "45x95, 45x145",
            (Self::Bolt, Units::Us) => "3/8 in, 1/2 in",
            (Self::Bolt, Units::Metric) => "M10, M12",
            (Self::Length(_), Units::Us) => "3 ft, 42 in",
            (Self::Length(_), Units::Metric) => "900 mm, 1050 mm",
            (Self::Mass(_), Units::Us) => "300 lb, 400 lb",
            (Self::Mass(_), Units::Metric) => "150 kg, 200 kg",
            (Self::Angle(_), _) => "45 deg, 50 deg",
            (Self::Screw, _) => "\"#12\", \"#14\"",
            _ => "2, 3, 4",
        }
    }
}

impl SpeedUnit {
    fn mps(self) -> f64 {
        match self {
            Self::Mph => MPS_PER_MPH,
            Self::Mps => 1.0,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Mph => "mph",
            Self::Mps => "m/s",
        }
    }
}

impl PressureUnit {
    fn pa(self) -> f64 {
        match self {
            Self::Psf => PA_PER_PSF,
            Self::Pa => 1.0,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Self::Psf => "psf",
            Self::Pa => "Pa",
        }
    }
}

/// Forces of data sheets, in N or kN.
fn newtons(value: f64) -> String {
    if value < 1e3 { format!("{} N", number(value, 1)) } else { format!("{} kN", number(value / 1e3, 1)) }
}

fn measured<Q: Measured>(value: &Value) -> Result<f64, String> {
    of::<Written<Q>>(value).map(|written| written.0.in_base())
}

fn of<T: DeserializeOwned>(value: &Value) -> Result<T, String> {
    T::deserialize(value).map_err(|error| error.to_string())
}
