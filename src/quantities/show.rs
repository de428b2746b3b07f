//! The only formatter: every number that reaches a person is rounded once, here.

use super::{
    Angle, Area, Force, KG_PER_LB, Length, MPS_PER_MPH, Mass, N_PER_LBF, PA_PER_PSF, PA_PER_PSI, Pressure, Velocity,
    tape::Tape, to_deg, to_inches, to_kg, to_mm, to_mps, to_n, to_pa, to_square_metres,
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

/// An angle to a hundredth of a degree at most: `34.98°`.
#[must_use]
pub fn angle(value: Angle) -> String {
    format!("{}°", number(to_deg(value), 2))
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantities::{inches, mm};

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
}
