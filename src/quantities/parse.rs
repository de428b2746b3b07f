//! Reads quantities the way a builder writes them: `5 ft 3-1/2 in`, `1613 mm`, `30 deg`, `25 psf`.

use super::{
    Angle, Force, GRAVITY, KG_PER_LB, Length, MM_PER_INCH, MPS_PER_MPH, Mass, N_PER_LBF, PA_PER_PSF, PA_PER_PSI,
    Pressure, PressurePerLength, Velocity, deg, kg, kn_per_m3, mm, mps, newtons, pa, shorten,
};
use thiserror::Error;

/// A text that is no quantity of the kind wanted.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum QuantityError {
    /// Nothing was written.
    #[error("no {kind} was written; write for instance {example}")]
    Empty {
        /// What was wanted, as a word.
        kind: &'static str,
        /// A text that would have been read.
        example: &'static str,
    },
    /// A number stands alone.
    #[error("{given} has no unit; {} {kind} is written with one of: {units}", article(.kind))]
    NoUnit {
        /// The text as written.
        given: String,
        /// What was wanted, as a word.
        kind: &'static str,
        /// The units that fit.
        units: String,
    },
    /// The unit measures something else or does not exist.
    #[error("`{unit}` in {given} is no unit of {kind}; use one of: {units}")]
    WrongUnit {
        /// The text as written.
        given: String,
        /// The unit that was found.
        unit: String,
        /// What was wanted, as a word.
        kind: &'static str,
        /// The units that fit.
        units: String,
    },
    /// A number was wanted at some place and something else stands there.
    #[error("`{given}` is not {} {kind}; write for instance {example}", article(.kind))]
    NotANumber {
        /// The text as written.
        given: String,
        /// What was wanted, as a word.
        kind: &'static str,
        /// A text that would have been read.
        example: &'static str,
    },
}

/// `a` or `an`, by the sound of a kind's first letter.
pub(super) fn article(kind: &str) -> &'static str {
    if kind.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" }
}

/// A kind of quantity that can be read from text.
pub trait Readable: Copy + Sized {
    /// The kind as a word: `length`, `angle`.
    const KIND: &'static str;
    /// A text that is read, shown in errors.
    const EXAMPLE: &'static str;
    /// Unit names, and what one of it is in the base unit of [`Readable::from_base`]. The first name of each
    /// unit is the one shown in errors.
    const UNITS: &'static [(&'static [&'static str], f64)];
    /// May several parts be added, as in `5 ft 3 in`?
    const COMPOUND: bool = false;

    /// The quantity from a number of base units.
    fn from_base(value: f64) -> Self;
}

impl Readable for Length {
    const KIND: &'static str = "length";
    const EXAMPLE: &'static str = "`5 ft 3-1/2 in` or `1613 mm`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
        (&["cm"], 10.0),
        (&["m", "metre", "metres", "meter", "meters"], 1000.0),
        (&["in", "inch", "inches", "\"", "″", "''"], MM_PER_INCH),
        (&["ft", "foot", "feet", "'", "′"], 12.0 * MM_PER_INCH),
    ];
    const COMPOUND: bool = true;

    fn from_base(value: f64) -> Self {
        mm(value)
    }
}

impl Readable for Angle {
    const KIND: &'static str = "angle";
    const EXAMPLE: &'static str = "`30 deg`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[(&["deg", "degree", "degrees", "°"], 1.0)];

    fn from_base(value: f64) -> Self {
        deg(value)
    }
}

impl Readable for Mass {
    const KIND: &'static str = "mass";
    const EXAMPLE: &'static str = "`21.5 kg` or `47 lb`";
    const UNITS: &'static [(&'static [&'static str], f64)] =
        &[(&["kg"], 1.0), (&["g"], 1e-3), (&["lb", "lbs"], KG_PER_LB)];

    fn from_base(value: f64) -> Self {
        kg(value)
    }
}

impl Readable for Force {
    const KIND: &'static str = "force";
    const EXAMPLE: &'static str = "`250 lbf` or `1.1 kN`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["N"], 1.0),
        (&["kN"], 1e3),
        (&["lbf", "lb"], N_PER_LBF),
        (&["kip", "kips"], 1e3 * N_PER_LBF),
        (&["kgf"], GRAVITY),
    ];

    fn from_base(value: f64) -> Self {
        newtons(value)
    }
}

impl Readable for Pressure {
    const KIND: &'static str = "pressure";
    const EXAMPLE: &'static str = "`25 psf` or `1.2 kPa`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["Pa"], 1.0),
        (&["kPa"], 1e3),
        (&["MPa"], 1e6),
        (&["kN/m2", "kN/m²"], 1e3),
        (&["psf"], PA_PER_PSF),
        (&["psi"], PA_PER_PSI),
        (&["ksi"], 1e3 * PA_PER_PSI),
    ];

    fn from_base(value: f64) -> Self {
        pa(value)
    }
}

impl Readable for PressurePerLength {
    const KIND: &'static str = "pressure per length";
    const EXAMPLE: &'static str = "`25 lb/in3` or `6800 kN/m3`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["kN/m3", "kN/m³"], 1.0),
        (&["MN/m3", "MN/m³"], 1e3),
        (&["lb/in3", "lbf/in3", "lb/in³", "pci"], PA_PER_PSI / MM_PER_INCH),
        (&["lb/ft3", "lbf/ft3", "lb/ft³", "pcf"], PA_PER_PSF / (12.0 * MM_PER_INCH)),
    ];

    fn from_base(value: f64) -> Self {
        kn_per_m3(value)
    }
}

impl Readable for Velocity {
    const KIND: &'static str = "speed";
    const EXAMPLE: &'static str = "`105 mph` or `47 m/s`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["m/s"], 1.0),
        (&["mph"], MPS_PER_MPH),
        (&["km/h"], 1.0 / 3.6),
        (&["kn", "knot", "knots"], 1852.0 / 3600.0),
    ];

    fn from_base(value: f64) -> Self {
        mps(value)
    }
}

/// A quantity from its text.
///
/// A length may be written in parts (`5 ft 3-1/2 in`, `5' 3 1/2"`); a minus sign before the first part
/// turns the whole. Unit names are case-sensitive only where case tells units apart (`MPa`), so `Mm` is not
/// a millimetre but `IN` is an inch.
///
/// # Errors
/// [`QuantityError`] says what was found and which units fit. Numbers that are not finite are refused.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Length, read, to_mm};
/// let rail: Length = read("5 ft 3-1/2 in")?;
/// assert!((to_mm(rail) - 1612.9).abs() < 1e-9);
/// # Ok::<(), tiltwright::quantities::QuantityError>(())
/// ```
pub fn read<Q: Readable>(text: &str) -> Result<Q, QuantityError> {
    let given = text.trim();
    if given.is_empty() {
        return Err(QuantityError::Empty { kind: Q::KIND, example: Q::EXAMPLE });
    }
    let not_a_number = || QuantityError::NotANumber { given: shorten(text), kind: Q::KIND, example: Q::EXAMPLE };
    let (sign, mut rest) = match given.strip_prefix(['-', '−']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, given.strip_prefix('+').unwrap_or(given)),
    };
    let mut total = 0.0;
    let mut last_unit = f64::INFINITY;
    let mut parts = 0;
    while !rest.is_empty() {
        let (number, after) = leading_number(rest).ok_or_else(not_a_number)?;
        let (unit_text, after) = leading_unit(after);
        if unit_text.is_empty() {
            return Err(QuantityError::NoUnit { given: shorten(text), kind: Q::KIND, units: unit_list::<Q>() });
        }
        let unit = unit_value::<Q>(unit_text).ok_or_else(|| QuantityError::WrongUnit {
            given: shorten(text),
            unit: shorten(unit_text),
            kind: Q::KIND,
            units: unit_list::<Q>(),
        })?;
        // `3 in 5 ft` and `5 ft 5 ft` are slips, not lengths: parts must get finer.
        if (parts > 0 && !Q::COMPOUND) || unit >= last_unit {
            return Err(not_a_number());
        }
        total += number * unit;
        last_unit = unit;
        parts += 1;
        rest = after;
    }
    let value = sign * total;
    if parts == 0 || !value.is_finite() {
        return Err(not_a_number());
    }
    Ok(Q::from_base(value))
}

/// The units of a kind as a list for a sentence.
pub(crate) fn unit_list<Q: Readable>() -> String {
    Q::UNITS.iter().map(|(names, _)| names[0]).collect::<Vec<_>>().join(", ")
}

fn unit_value<Q: Readable>(text: &str) -> Option<f64> {
    let exact = Q::UNITS.iter().find(|(names, _)| names.contains(&text));
    // Case tells these apart: `MM` or `mPa` must not be guessed at.
    const CASE_MATTERS: [&str; 3] = ["m", "mm", "MPa"];
    let loose = || {
        Q::UNITS
            .iter()
            .find(|(names, _)| names.iter().any(|n| n.eq_ignore_ascii_case(text) && !CASE_MATTERS.contains(n)))
    };
    exact.or_else(loose).map(|(_, value)| *value)
}

/// `12.5`, `3-1/2`, `3 1/2`, `1/2`, `3½`, and what follows with its blanks cut.
fn leading_number(text: &str) -> Option<(f64, &str)> {
    let (whole, after_whole) = leading_decimal(text);
    if let Some(numerator) = whole
        && let Some(after_slash) = after_whole.strip_prefix('/')
    {
        let (denominator, after) = leading_digits(after_slash)?;
        return (denominator > 0.0).then(|| (numerator / denominator, after.trim_start()));
    }
    // A fraction of its own after the whole: joined by a dash, blanks, or nothing (`3½`).
    let joined = after_whole.strip_prefix(['-', '‑', '–']).unwrap_or(after_whole).trim_start();
    let fraction = leading_fraction(joined);
    match (whole, fraction) {
        (Some(w), Some((f, after))) if w.fract() == 0.0 => Some((w + f, after.trim_start())),
        (None, Some((f, after))) => Some((f, after.trim_start())),
        (Some(w), _) => Some((w, after_whole.trim_start())),
        (None, None) => None,
    }
}

fn leading_decimal(text: &str) -> (Option<f64>, &str) {
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (head, tail) = text.split_at(end);
    match head.parse::<f64>() {
        Ok(value) if head.starts_with(|c: char| c.is_ascii_digit() || c == '.') => (Some(value), tail),
        _ => (None, text),
    }
}

fn leading_digits(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    text[..end].parse::<f64>().ok().map(|value| (value, &text[end..]))
}

fn leading_fraction(text: &str) -> Option<(f64, &str)> {
    const GLYPHS: [(char, f64); 7] =
        [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅛', 0.125), ('⅜', 0.375), ('⅝', 0.625), ('⅞', 0.875)];
    if let Some((glyph, value)) = GLYPHS.iter().find(|(glyph, _)| text.starts_with(*glyph)) {
        return Some((*value, &text[glyph.len_utf8()..]));
    }
    let (numerator, after) = leading_digits(text)?;
    let (denominator, after) = leading_digits(after.strip_prefix('/')?)?;
    (denominator > 0.0).then(|| (numerator / denominator, after))
}

/// Up to the next blank, digit or sign; the squared sign and the `2` of `kN/m2` belong to the unit.
fn leading_unit(text: &str) -> (&str, &str) {
    let mut end = text.find(|c: char| c.is_whitespace() || c.is_ascii_digit() || c == '.').unwrap_or(text.len());
    // The power in `kN/m2` and `lb/in3` is part of the unit.
    if text[..end].contains('/') && text[end..].starts_with(['2', '3']) {
        end += 1;
    }
    (&text[..end], text[end..].trim_start())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::{to_deg, to_kg, to_kn_per_m3, to_mm, to_mps, to_pa};

    fn length_mm(text: &str) -> f64 {
        to_mm(read::<Length>(text).unwrap_or_else(|e| panic!("{text}: {e}")))
    }

    #[test]
    fn lengths_are_read_as_builders_write_them() {
        for (text, mm) in [
            ("5 ft 3-1/2 in", 1612.9),
            ("5' 3 1/2\"", 1612.9),
            ("63.5in", 1612.9),
            ("1613 mm", 1613.0),
            ("1.613 m", 1613.0),
            ("3-1/2 in", 88.9),
            ("1/2 in", 12.7),
            ("3½ in", 88.9),
            ("½\"", 12.7),
            ("-1-3/4 in", -44.45),
            ("- 45 mm", -45.0),
            ("5 FT", 1524.0),
            ("2' ", 609.6),
            ("0 mm", 0.0),
        ] {
            assert!((length_mm(text) - mm).abs() < 1e-9, "{text}: {}", length_mm(text));
        }
    }

    #[test]
    fn other_kinds_are_read() {
        assert!((to_deg(read("30 deg").expect("angle")) - 30.0).abs() < 1e-12);
        assert!((to_deg(read("-12.5°").expect("angle")) + 12.5).abs() < 1e-12);
        assert!((to_kg(read("47 lb").expect("mass")) - 21.318_841_39).abs() < 1e-9);
        assert!((to_mps(read("105 mph").expect("speed")) - 46.939_2).abs() < 1e-9);
        assert!((to_pa(read("25 psf").expect("pressure")) - 1_197.006_474_508).abs() < 1e-6);
        assert!((to_pa(read("1.2 kPa").expect("pressure")) - 1200.0).abs() < 1e-9);
        // 1 lb/in3 = 4.44822 N / (25.4 mm)^3 = 271.447 kN/m3; 1 lb/ft3 is 1728 times less.
        assert!((to_kn_per_m3(read("1 lb/in3").expect("per length")) - 271.447_14).abs() < 1e-4);
        assert!((to_kn_per_m3(read("1728 pcf").expect("per length")) - 271.447_14).abs() < 1e-4);
        assert!((to_kn_per_m3(read("5.4 MN/m3").expect("per length")) - 5400.0).abs() < 1e-9);
    }

    #[test]
    fn a_bare_number_says_which_units_fit() {
        let error = read::<Length>("1613").expect_err("no unit").to_string();
        assert_eq!(error, "1613 has no unit; a length is written with one of: mm, cm, m, in, ft");
    }

    #[test]
    fn texts_that_are_no_length_are_refused() {
        for text in [
            "",
            "mm",
            "abc",
            "3 in 5 ft",
            "5 ft 5 ft",
            "1/0 in",
            "NaN mm",
            "inf mm",
            "1e400 m",
            "3 kg",
            "--3 mm",
            "3-1/2",
            "1.5.2 mm",
        ] {
            assert!(read::<Length>(text).is_err(), "{text} was read as {}", length_mm(text));
        }
        assert!(read::<Pressure>("3 mPa").is_err(), "a millipascal is no megapascal");
    }
}
