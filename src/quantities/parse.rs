//! Reads quantities the way a builder writes them: `5 ft 3-1/2 in`, `1613 mm`, `30 deg`, `25 psf`.

use super::{
    Angle, Force, GRAVITY, KG_PER_LB, Length, MM_PER_INCH, MPS_PER_MPH, Mass, N_PER_LBF, PA_PER_PSF, PA_PER_PSI,
    Pressure, PressurePerLength, Velocity, deg, kg, kn_per_m3, mm, mps, newtons, pa, shorten, to_deg,
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

    /// What may stand behind a number, as errors list it.
    fn accepted() -> String {
        Self::UNITS.iter().map(|(names, _)| names[0]).collect::<Vec<_>>().join(", ")
    }

    /// The number of base units in a text that is written in a way of the kind's own, no number with a unit: `5:12`, `44 N`.
    /// Nothing for a text that is not; `Some(None)` for one that is and makes no sense.
    fn own_way(_text: &str) -> Option<Option<f64>> {
        None
    }
}

/// Names and marks of an inch; typographic quotes come from phones and word processors.
pub(crate) const INCH_NAMES: &[&str] = &["in", "inch", "inches", "\"", "″", "”", "“", "''", "’’", "′′"];
const FOOT_NAMES: &[&str] = &["ft", "foot", "feet", "'", "′", "’", "‘"];

impl Readable for Length {
    const KIND: &'static str = "length";
    const EXAMPLE: &'static str = "`5 ft 3-1/2 in` or `1613 mm`";
    const UNITS: &'static [(&'static [&'static str], f64)] = &[
        (&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 1.0),
        (&["cm"], 10.0),
        (&["m", "metre", "metres", "meter", "meters"], 1000.0),
        (INCH_NAMES, MM_PER_INCH),
        (FOOT_NAMES, 12.0 * MM_PER_INCH),
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

/// A latitude, north +.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Latitude(pub Angle);

impl Readable for Latitude {
    const KIND: &'static str = "latitude";
    const EXAMPLE: &'static str = "`44 N`, `44 S`, `44 deg` or `-44 deg`";
    const UNITS: &'static [(&'static [&'static str], f64)] = Angle::UNITS;

    fn from_base(value: f64) -> Self {
        Self(deg(value))
    }

    fn accepted() -> String {
        "N, S, deg".to_string()
    }

    fn own_way(text: &str) -> Option<Option<f64>> {
        by_compass(text, ["north", "south"])
    }
}

/// A longitude, east +.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Longitude(pub Angle);

impl Readable for Longitude {
    const KIND: &'static str = "longitude";
    const EXAMPLE: &'static str = "`105 W`, `12 E`, `12 deg` or `-105 deg`";
    const UNITS: &'static [(&'static [&'static str], f64)] = Angle::UNITS;

    fn from_base(value: f64) -> Self {
        Self(deg(value))
    }

    fn accepted() -> String {
        "E, W, deg".to_string()
    }

    fn own_way(text: &str) -> Option<Option<f64>> {
        by_compass(text, ["east", "west"])
    }
}

/// `44 N`, `44° N`, `44.5 deg north`: degrees before a point of the compass, the first of which counts +.
fn by_compass(text: &str, [plus, minus]: [&str; 2]) -> Option<Option<f64>> {
    let text = text.to_lowercase();
    let before = |word: &str| {
        let before = text.strip_suffix(word).or_else(|| text.strip_suffix(&word[..1]))?;
        // The `e` of `12 degree` is no east.
        (!before.ends_with(char::is_alphabetic)).then(|| before.trim())
    };
    let (degrees, sign) = match (before(plus), before(minus)) {
        (Some(degrees), _) => (degrees, 1.0),
        (None, Some(degrees)) => (degrees, -1.0),
        (None, None) => return None,
    };
    if !degrees.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return Some(None);
    }
    let read = read::<Angle>(degrees).or_else(|_| read::<Angle>(&format!("{degrees} deg")));
    Some(read.ok().map(|angle| sign * to_deg(angle)))
}

/// How steep a roof or the ground is: an angle to level, or rise in run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope(pub Angle);

impl Readable for Slope {
    const KIND: &'static str = "slope";
    const EXAMPLE: &'static str = "`5:12` or `22.6 deg`";
    const UNITS: &'static [(&'static [&'static str], f64)] = Angle::UNITS;

    fn from_base(value: f64) -> Self {
        Self(deg(value))
    }

    fn accepted() -> String {
        "deg, or as rise in run, 5:12".to_string()
    }

    /// `5:12`, `5/12`, `5 in 12`: tan(slope) = rise / run.
    fn own_way(text: &str) -> Option<Option<f64>> {
        let plain =
            |text: &str| leading_number(text.trim()).filter(|(_, after)| after.is_empty()).map(|(number, _)| number);
        let slope = |(rise, run): (&str, &str)| {
            let (rise, run) = (plain(rise)?, plain(run)?);
            (run > 0.0).then(|| (rise / run).atan().to_degrees())
        };
        match text.split_once(':') {
            Some(parts) => Some(slope(parts)),
            None => text.split_once('/').or_else(|| text.split_once(" in ")).and_then(slope).map(Some),
        }
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
    if let Some(value) = Q::own_way(given) {
        return value.filter(|value| value.is_finite()).map(Q::from_base).ok_or_else(not_a_number);
    }
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
            return Err(QuantityError::NoUnit { given: shorten(text), kind: Q::KIND, units: Q::accepted() });
        }
        let unit = unit_value::<Q>(unit_text).ok_or_else(|| QuantityError::WrongUnit {
            given: shorten(text),
            unit: shorten(unit_text),
            kind: Q::KIND,
            units: Q::accepted(),
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
    use crate::quantities::{to_kg, to_kn_per_m3, to_mm, to_mps, to_pa};

    fn length_mm(text: &str) -> f64 {
        to_mm(read::<Length>(text).unwrap_or_else(|e| panic!("{text}: {e}")))
    }

    #[test]
    fn lengths_are_read_as_builders_write_them() {
        for (text, mm) in [
            ("5 ft 3-1/2 in", 1612.9),
            ("5' 3 1/2\"", 1612.9),
            ("5’ 3-1/2”", 1612.9),
            ("5′ 3-1/2″", 1612.9),
            ("5‘3½“", 1612.9),
            ("5’ 3½’’", 1612.9),
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
    fn places_are_read_by_degrees_or_by_the_compass() {
        let latitude = |text: &str| read::<Latitude>(text).map(|l| to_deg(l.0));
        for (text, degrees) in [
            ("44 N", 44.0),
            ("44 S", -44.0),
            ("44° N", 44.0),
            ("44.5°s", -44.5),
            ("44n", 44.0),
            ("44 deg south", -44.0),
            ("-44 deg", -44.0),
            ("44°", 44.0),
        ] {
            assert!((latitude(text).unwrap_or_else(|e| panic!("{e}")) - degrees).abs() < 1e-9, "{text}");
        }
        for text in ["-44 N", "44 E", "N", "N 44", "44 mm N", "44 NS", "44 degn", "NaN N"] {
            assert!(latitude(text).is_err(), "{text}");
        }
        assert_eq!(
            latitude("-44 N").expect_err("two signs").to_string(),
            "`-44 N` is not a latitude; write for instance `44 N`, `44 S`, `44 deg` or `-44 deg`"
        );
        assert_eq!(
            latitude("44").expect_err("no unit").to_string(),
            "44 has no unit; a latitude is written with one of: N, S, deg"
        );
        let longitude = |text: &str| read::<Longitude>(text).map(|l| to_deg(l.0));
        assert!((longitude("105 W").expect("west") + 105.0).abs() < 1e-9);
        assert!((longitude("12 degree").expect("no east") - 12.0).abs() < 1e-9);
        assert!(longitude("12 N").is_err());
    }

    #[test]
    fn slopes_are_read_by_degrees_or_by_rise_in_run() {
        let slope = |text: &str| read::<Slope>(text).map(|s| to_deg(s.0));
        // tan 22.619865° = 5/12: the triangle 5, 12, 13.
        for text in ["5:12", "5/12", "5 in 12", "5 : 12", "22.619864948 deg"] {
            assert!((slope(text).unwrap_or_else(|e| panic!("{e}")) - 22.619_864_948).abs() < 1e-6, "{text}");
        }
        assert!((slope("3-1/2:12").expect("a slope") - 16.260_204_708).abs() < 1e-6);
        for text in ["5:0", "5:", ":12", "-5:12", "5:12:3", "5:12 deg", "steep"] {
            assert!(slope(text).is_err(), "{text}");
        }
        assert_eq!(
            slope("5:0").expect_err("no run").to_string(),
            "`5:0` is not a slope; write for instance `5:12` or `22.6 deg`"
        );
        assert_eq!(
            slope("5").expect_err("no unit").to_string(),
            "5 has no unit; a slope is written with one of: deg, or as rise in run, 5:12"
        );
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
