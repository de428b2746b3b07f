//! The only formatter: every number that reaches a person is rounded once, here.

use super::{
    Angle, Area, Force, KG_PER_LB, Length, MM_PER_INCH, MPS_PER_MPH, Mass, N_PER_LBF, PA_PER_PSF, PA_PER_PSI, Pressure,
    Velocity, kg, mm, tape::Tape, to_deg, to_inches, to_kg, to_mm, to_mps, to_n, to_pa, to_square_metres,
};

/// System of units that results are printed in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Units {
    /// Feet, inches and sixteenths; pounds.
    #[default]
    Us,
    /// Millimetres; kilograms and newtons.
    Metric,
}

/// A text from outside on one line, as long as it was: what moves a cursor, turns the direction of reading or ends a line is
/// a blank. Every name that somebody typed passes through here before it reaches a terminal, a table or a drawing.
#[must_use]
pub fn one_line(text: &str) -> String {
    let obeyed = |c: char| c.is_control() || matches!(c, '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    text.chars().map(|c| if obeyed(c) { ' ' } else { c }).collect()
}

/// A text from outside, short enough not to flood the line that quotes it.
pub(crate) fn shorten(text: &str) -> String {
    const MOST: usize = 40;
    let text = text.trim();
    let start: String = text.chars().take(MOST).collect();
    one_line(&start) + if start.len() < text.len() { "…" } else { "" }
}

/// Words that stand for a unit after a number: where lines are broken, number and unit stay together.
pub const UNIT_WORDS: [&str; 17] =
    ["in", "ft", "sq", "mm", "m", "lb", "lbf", "psf", "psi", "ksi", "mph", "kg", "N", "kPa", "MPa", "deg", "%"];

/// A drill: in inches the nearest 64th, reduced; else to a tenth of a millimetre.
#[must_use]
pub fn drill_size(diameter_mm: f64, units: Units) -> String {
    let parts = match units {
        Units::Us => (diameter_mm / MM_PER_INCH * 64.0).round() as u32,
        Units::Metric => return format!("{} mm", number(diameter_mm, 1)),
    };
    let (whole, rest) = (parts / 64, parts % 64);
    let step = 1 << rest.trailing_zeros().min(6);
    match (whole, rest) {
        (whole, 0) => format!("{whole} in"),
        (0, rest) => format!("{}/{} in", rest / step, 64 / step),
        (whole, rest) => format!("{whole}-{}/{} in", rest / step, 64 / step),
    }
}

/// A number with at most `decimals` places, trailing zeros and a minus zero removed.
#[must_use]
pub fn number(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_string() } else { text.to_string() }
}

/// A length rounded to the tape: `5 ft 3-1/2 in`, `3-1/2 in`, `1613 mm`.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, inches, length, mm};
/// assert_eq!(length(inches(63.5), Units::Us), "5 ft 3-1/2 in");
/// assert_eq!(length(inches(11.99), Units::Us), "1 ft"); // never 12 in, never 16/16
/// assert_eq!(length(mm(1612.9), Units::Metric), "1613 mm");
/// ```
#[must_use]
pub fn length(value: Length, units: Units) -> String {
    match units {
        Units::Metric => format!("{} mm", number(Tape::of(units).nearest_mm(to_mm(value)), 0)),
        Units::Us => feet_and_inches(to_inches(value)),
    }
}

fn feet_and_inches(inches: f64) -> String {
    // One rounding, to whole sixteenths; everything after is integer arithmetic, so nothing can carry wrongly.
    let sixteenths = (inches * 16.0).round();
    let sign = if sixteenths < 0.0 { "-" } else { "" };
    let sixteenths = sixteenths.abs() as u64;
    let (feet, rest) = (sixteenths / 192, sixteenths % 192);
    let (whole, part) = (rest / 16, rest % 16);
    let fraction = match part {
        0 => String::new(),
        _ => {
            let step = 1 << part.trailing_zeros();
            format!("{}/{}", part / step, 16 / step)
        }
    };
    let inches = match (whole, fraction.is_empty()) {
        (0, true) => String::new(),
        (0, false) => format!("{fraction} in"),
        (w, true) => format!("{w} in"),
        (w, false) => format!("{w}-{fraction} in"),
    };
    match (feet, inches.is_empty()) {
        (0, true) => "0 in".to_string(),
        (0, false) => format!("{sign}{inches}"),
        (f, true) => format!("{sign}{f} ft"),
        (f, false) => format!("{sign}{f} ft {inches}"),
    }
}

/// A length not rounded to the tape, for the exact column: `63.512 in` or `1613.21 mm`.
#[must_use]
pub fn length_exact(value: Length, units: Units) -> String {
    match units {
        Units::Us => format!("{:.3} in", to_inches(value)),
        Units::Metric => format!("{:.2} mm", to_mm(value)),
    }
}

/// A length as it is taped, with the exact value beside it where that is another one: `1/4 in (0.266 in)`.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, inches, length_both};
/// assert_eq!(length_both(inches(130.337), Units::Us), "10 ft 10-5/16 in (130.337 in)");
/// assert_eq!(length_both(inches(1.5), Units::Us), "1-1/2 in");
/// ```
#[must_use]
pub fn length_both(value: Length, units: Units) -> String {
    // Nobody reads a twentieth of a millimetre off a tape.
    const SAME_MM: f64 = 0.05;
    let taped = length(value, units);
    match units {
        _ if (Tape::of(units).nearest_mm(to_mm(value)) - to_mm(value)).abs() < SAME_MM => taped,
        Units::Us => format!("{taped} ({})", length_exact(value, units)),
        Units::Metric => format!("{taped} ({} mm)", number(to_mm(value), 1)),
    }
}

/// A range of lengths as its bounds can be written: the least rounded up to a mark, the most down.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, length_range, mm};
/// assert_eq!(length_range([mm(2.0), mm(150.0)], Units::Us), "between 1/8 in and 5-7/8 in");
/// ```
#[must_use]
pub fn length_range([least, most]: [Length; 2], units: Units) -> String {
    let tape = Tape::of(units);
    let [least, most] = [tape.at_least_mm(to_mm(least)), tape.at_most_mm(to_mm(most))];
    format!("between {} and {}", length(mm(least), units), length(mm(most), units))
}

/// A range of masses as its bounds can be written: the least rounded up to a tenth, the most down.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, kg, mass_range};
/// assert_eq!(mass_range([kg(0.3), kg(80.0)], Units::Us), "between 0.7 lb and 176.3 lb");
/// ```
#[must_use]
pub fn mass_range([least, most]: [Mass; 2], units: Units) -> String {
    // A bound that stands on a tenth but for rounding must not move to the next one.
    const ROUNDING: f64 = 1e-9;
    let unit = match units {
        Units::Us => KG_PER_LB,
        Units::Metric => 1.0,
    };
    let tenths = |value: Mass| to_kg(value) / unit * 10.0;
    let [least, most] = [(tenths(least) - ROUNDING).ceil(), (tenths(most) + ROUNDING).floor()];
    let show = |tenths: f64| mass(kg(tenths / 10.0 * unit), units);
    format!("between {} and {}", show(least), show(most))
}

/// The most that a reading may differ, rounded down to the tape, so that a reading on the mark that is named is still within
/// it, with the exact value beside: `1/8 in (0.162 in)`. Under the first mark no reading but nought is.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, inches, limit, mm};
/// assert_eq!(limit(inches(0.162), Units::Us), "1/8 in (0.162 in)");
/// assert_eq!(limit(mm(3.96), Units::Metric), "3 mm (3.96 mm)");
/// assert_eq!(limit(inches(0.04), Units::Us), "less than 1/16 in (0.040 in)");
/// assert_eq!(limit(mm(2.0), Units::Metric), "2 mm");
/// ```
#[must_use]
pub fn limit(value: Length, units: Units) -> String {
    let tape = Tape::of(units);
    let taped_mm = tape.at_most_mm(to_mm(value));
    if tape.holds_mm(to_mm(value)) {
        return length(value, units);
    }
    // The exact value is rounded down as well: it must not read as the next mark. A value that stands on its last digit but
    // for rounding stays.
    const ROUNDING: f64 = 1e-6;
    let exact = match units {
        Units::Us => format!("{:.3} in", (to_inches(value) * 1000.0 + ROUNDING).floor() / 1000.0),
        Units::Metric => format!("{:.2} mm", (to_mm(value) * 100.0 + ROUNDING).floor() / 100.0),
    };
    match taped_mm > 0.0 {
        true => format!("{} ({exact})", length(mm(taped_mm), units)),
        false => format!("less than {} ({exact})", length(mm(tape.mark_mm()), units)),
    }
}

/// A length written so that reading it gives it back, on whichever tape has a mark for it, this one first: `5/8 in`, `2 mm`;
/// between the marks as [`length_exact`].
#[must_use]
pub(crate) fn length_kept(value: Length, units: Units) -> String {
    let tapes = [units, Units::Us, Units::Metric];
    match tapes.into_iter().find(|units| Tape::of(*units).holds_mm(to_mm(value))) {
        Some(units) => length(value, units),
        None => length_exact(value, units),
    }
}

/// Heads of the columns that a length takes in a table for a spreadsheet, each with its unit; [`length_cells`] fills them.
#[must_use]
pub fn length_columns(name: &str, units: Units) -> Vec<String> {
    match units {
        Units::Us => vec![format!("{name}_tape"), format!("{name}_in")],
        Units::Metric => vec![format!("{name}_mm")],
    }
}

/// A length for a spreadsheet, rounded to the tape: as the tape shows it and in decimal inches, or in millimetres.
#[must_use]
pub fn length_cells(value: Length, units: Units) -> Vec<String> {
    let taped = Tape::of(units).nearest(value);
    match units {
        Units::Us => vec![length(value, units), number(to_inches(taped), 4)],
        Units::Metric => vec![number(to_mm(taped), 0)],
    }
}

/// An angle to a hundredth of a degree at most: `34.98°`.
#[must_use]
pub fn angle(value: Angle) -> String {
    format!("{}°", number(to_deg(value), 2))
}

/// A latitude: `37° S`.
#[must_use]
pub fn latitude(value: Angle) -> String {
    angle_to(value, ["N", "S"])
}

/// A longitude: `105° W`.
#[must_use]
pub fn longitude(value: Angle) -> String {
    angle_to(value, ["E", "W"])
}

/// About a hundred metres on the ground.
fn angle_to(value: Angle, [plus, minus]: [&str; 2]) -> String {
    let value_deg = to_deg(value);
    format!("{}° {}", number(value_deg.abs(), 3), if value_deg < 0.0 { minus } else { plus })
}

/// What a frame faces: `true south`, `170° from true north`.
#[must_use]
pub fn facing(value: Angle) -> String {
    match number(to_deg(value).rem_euclid(360.0), 2).as_str() {
        "0" | "360" => "true north".to_string(),
        "90" => "true east".to_string(),
        "180" => "true south".to_string(),
        "270" => "true west".to_string(),
        bearing => format!("{bearing}° from true north"),
    }
}

/// A mass: `47.4 lb` or `21.5 kg`.
#[must_use]
pub fn mass(value: Mass, units: Units) -> String {
    match units {
        Units::Us => format!("{} lb", number(to_kg(value) / KG_PER_LB, 1)),
        Units::Metric => format!("{} kg", number(to_kg(value), 1)),
    }
}

/// A force: `248 lbf` or `1103 N`.
#[must_use]
pub fn force(value: Force, units: Units) -> String {
    match units {
        Units::Us => format!("{} lbf", number(to_n(value) / N_PER_LBF, 0)),
        Units::Metric => format!("{} N", number(to_n(value), 0)),
    }
}

/// A pressure or stress: `25 psf`, `900 psi`, `1.2 kPa`, `6.2 MPa`; the large units from 0.1 MPa on.
#[must_use]
pub fn pressure(value: Pressure, units: Units) -> String {
    const STRESS_FROM_PA: f64 = 1e5;
    let pa = to_pa(value);
    match (units, pa.abs() >= STRESS_FROM_PA) {
        (Units::Us, true) => format!("{} psi", number(pa / PA_PER_PSI, 0)),
        (Units::Us, false) => format!("{} psf", number(pa / PA_PER_PSF, 1)),
        (Units::Metric, true) => format!("{} MPa", number(pa / 1e6, 2)),
        (Units::Metric, false) => format!("{} kPa", number(pa / 1e3, 3)),
    }
}

/// A wind speed: `105 mph` or `46.9 m/s`.
#[must_use]
pub fn speed(value: Velocity, units: Units) -> String {
    match units {
        Units::Us => format!("{} mph", number(to_mps(value) / MPS_PER_MPH, 0)),
        Units::Metric => format!("{} m/s", number(to_mps(value), 1)),
    }
}

/// An area: `42 sq ft` or `3.9 m²`.
#[must_use]
pub fn area(value: Area, units: Units) -> String {
    const M2_PER_SQ_FT: f64 = 0.092_903_04;
    match units {
        Units::Us => format!("{} sq ft", number(to_square_metres(value) / M2_PER_SQ_FT, 1)),
        Units::Metric => format!("{} m²", number(to_square_metres(value), 2)),
    }
}

/// Units of equations in both systems: customary, how many of the metric one it is, metric. `lb` of an equation is a force.
const BOTH: [(&str, f64, &str); 25] = [
    ("in", MM_PER_INCH, "mm"),
    ("ft", 0.304_8, "m"),
    ("in^2", 645.16, "mm^2"),
    ("ft^2", 0.092_903_04, "m^2"),
    ("in^3", 16_387.064, "mm^3"),
    ("ft^3", 0.028_316_846_592, "m^3"),
    ("in^4", 416_231.425_6, "mm^4"),
    ("in^6", 268_535_866.540_096, "mm^6"),
    ("lb", N_PER_LBF, "N"),
    ("lbf", N_PER_LBF, "N"),
    ("kip", N_PER_LBF, "kN"),
    ("in lb", 1e-3 * MM_PER_INCH * N_PER_LBF, "N m"),
    ("ft lb", 0.304_8 * N_PER_LBF, "N m"),
    ("kip in", 1e-3 * MM_PER_INCH * N_PER_LBF, "kN m"),
    ("psi", 1e-6 * PA_PER_PSI, "MPa"),
    ("ksi", 1e-3 * PA_PER_PSI, "MPa"),
    ("psf", 1e-3 * PA_PER_PSF, "kPa"),
    ("psf", PA_PER_PSF, "Pa"),
    ("lb/in", N_PER_LBF / MM_PER_INCH, "N/mm"),
    ("in/lb", MM_PER_INCH / N_PER_LBF, "mm/N"),
    ("psf/ft", 1e-3 * PA_PER_PSF / 0.304_8, "kPa/m"),
    ("lb/ft", N_PER_LBF / 0.304_8, "N/m"),
    ("lb/ft^2", 1e-3 * PA_PER_PSF, "kPa"),
    ("lb/ft^3", 1e-3 * PA_PER_PSF / 0.304_8, "kN/m^3"),
    ("mph", MPS_PER_MPH, "m/s"),
];

/// A number of an equation in the other system of units, where its own is not the one that is read; nothing for pure numbers.
///
/// # Example
/// ```
/// use tiltwright::quantities::{Units, converted};
/// assert_eq!(converted(2.0, "in", Units::Metric), Some((50.8, "mm")));
/// assert_eq!(converted(2.0, "in", Units::Us), None);
/// ```
#[must_use]
pub fn converted(value: f64, unit: &str, units: Units) -> Option<(f64, &'static str)> {
    match units {
        Units::Metric => BOTH.iter().find(|(us, ..)| *us == unit).map(|(_, each, metric)| (value * each, *metric)),
        Units::Us => BOTH.iter().find(|(.., metric)| *metric == unit).map(|(us, each, _)| (value / each, *us)),
    }
}

/// A sentence begins with a capital.
pub(crate) fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::inches;

    #[test]
    fn sixteenths_reduce_and_carry() {
        for (inch, text) in [
            (63.5, "5 ft 3-1/2 in"),
            (11.99, "1 ft"),
            (11.9375, "11-15/16 in"),
            (0.0, "0 in"),
            (-0.01, "0 in"),
            (0.0625, "1/16 in"),
            (-1.75, "-1-3/4 in"),
            (23.98, "2 ft"),
            (12.03, "1 ft"),
            (12.05, "1 ft 1/16 in"),
        ] {
            assert_eq!(length(inches(inch), Units::Us), text, "{inch}");
        }
    }

    #[test]
    fn metric_rounds_to_the_millimetre() {
        assert_eq!(length(mm(-0.4), Units::Metric), "0 mm");
        assert_eq!(length(mm(1612.5), Units::Metric), "1613 mm");
    }

    #[test]
    fn drill_sizes_reduce() {
        for (inch, text) in
            [(0.5625, "9/16 in"), (0.390_625, "25/64 in"), (1.0, "1 in"), (1.125, "1-1/8 in"), (0.5, "1/2 in")]
        {
            assert_eq!(drill_size(inch * MM_PER_INCH, Units::Us), text);
        }
        assert_eq!(drill_size(4.286, Units::Metric), "4.3 mm");
    }
}
