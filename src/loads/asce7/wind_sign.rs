//! Wind on a solid freestanding sign: a flat plate standing upright.

use crate::catalogue::{Certainty, Source, Step, Trace, term};
use crate::loads::{Across, Strip};

/// The figure of force coefficients.
pub const FIGURE: Source = Source::new("ASCE 7-16", "Fig. 29.3-1 (7-10 Fig. 29.4-1)", Certainty::Agreed);
/// Case C, one transcription.
pub const FIGURE_CASE_C: Source = Source::new("ASCE 7-16", "Fig. 29.3-1 case C", Certainty::Transcribed);

/// Aspect ratios B/s of the columns; below the first and above the last the border value holds.
pub const ASPECTS: [f64; 12] = [0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 4.0, 5.0, 10.0, 20.0, 30.0, 45.0];
/// Clearance ratios s/h of the rows, from the lowest.
pub const CLEARANCES: [f64; 7] = [0.16, 0.2, 0.3, 0.5, 0.7, 0.9, 1.0];
/// `C_f` of cases A and B, rows by clearance ratio. Two independent transcriptions agree in all 84 cells.
pub const CELLS: [[f64; 12]; 7] = [
    [1.95, 1.90, 1.85, 1.85, 1.80, 1.80, 1.85, 1.85, 1.85, 1.90, 1.90, 1.95],
    [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.90, 1.90, 1.95],
    [1.95, 1.90, 1.85, 1.80, 1.80, 1.80, 1.80, 1.80, 1.80, 1.85, 1.85, 1.85],
    [1.95, 1.85, 1.80, 1.75, 1.75, 1.70, 1.70, 1.70, 1.70, 1.70, 1.70, 1.75],
    [1.90, 1.85, 1.75, 1.70, 1.65, 1.60, 1.60, 1.55, 1.55, 1.55, 1.55, 1.55],
    [1.85, 1.75, 1.70, 1.60, 1.55, 1.50, 1.45, 1.45, 1.40, 1.40, 1.40, 1.40],
    [1.80, 1.70, 1.65, 1.55, 1.45, 1.40, 1.35, 1.35, 1.30, 1.30, 1.30, 1.30],
];

/// Sideways move of the force in case B, share of the width.
pub const CASE_B_ECCENTRICITY: f64 = 0.2;
/// Upward move of the force when the sign reaches the ground (s/h = 1), share of its height.
pub const GROUNDED_RAISE: f64 = 0.05;

/// A sign standing upright: width B, height s of the plate, height h of its top.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sign {
    /// Width B \[mm\].
    pub width_mm: f64,
    /// Height of the plate s \[mm\].
    pub plate_mm: f64,
    /// Height of the top above ground h \[mm\].
    pub top_mm: f64,
}

impl Sign {
    /// Aspect ratio B/s.
    #[must_use]
    pub fn aspect(&self) -> f64 {
        self.width_mm / self.plate_mm
    }

    /// Clearance ratio s/h.
    #[must_use]
    pub fn clearance(&self) -> f64 {
        self.plate_mm / self.top_mm
    }
}

/// Place of `x` in a rising row of borders: index of the column below it, and the share of the way to the next.
fn place(x: f64, borders: &[f64]) -> (usize, f64) {
    let last = borders.len() - 1;
    if x <= borders[0] {
        return (0, 0.0);
    }
    match borders.iter().position(|b| x < *b) {
        Some(above) => (above - 1, (x - borders[above - 1]) / (borders[above] - borders[above - 1])),
        None => (last - 1, 1.0),
    }
}

/// Records a place in a row of borders.
fn record_place<T: Trace>(
    what: &'static str,
    symbol: &'static str,
    (x, borders, at): (f64, &[f64], usize),
    share: f64,
    trace: &mut T,
) {
    trace.step(|| Step {
        what,
        symbol,
        formula: "min(max((r - r_1)/(r_2 - r_1), 0), 1)",
        terms: vec![term("r", x, ""), term("r_1", borders[at], ""), term("r_2", borders[at + 1], "")],
        value: share,
        unit: "",
        source: FIGURE,
    });
}

/// Force coefficient `C_f` of cases A and B, bilinear between the cells.
///
/// # Units
/// `aspect` = B/s and `clearance` = s/h, both (–); result (–). Outside the table its border value holds, as printed.
///
/// # Source
/// ASCE 7-16 Fig. 29.3-1; linear interpolation by its note 4.
pub fn force_coefficient<T: Trace>(aspect: f64, clearance: f64, trace: &mut T) -> f64 {
    let (column, across) = place(aspect, &ASPECTS);
    let (row, up) = place(clearance, &CLEARANCES);
    record_place("share of the way between the columns of B/s", "a", (aspect, &ASPECTS, column), across, trace);
    record_place("share of the way between the rows of s/h", "b", (clearance, &CLEARANCES, row), up, trace);
    let cell = |r: usize, c: usize| CELLS[r][c];
    let (low_left, low_right) = (cell(row, column), cell(row, column + 1));
    let (high_left, high_right) = (cell(row + 1, column), cell(row + 1, column + 1));
    let low = low_left + (low_right - low_left) * across;
    let high = high_left + (high_right - high_left) * across;
    let value = low + (high - low) * up;
    trace.step(|| Step {
        what: "sign force coefficient",
        symbol: "C_f",
        formula: "(C_11 + (C_12 - C_11)*a)*(1 - b) + (C_21 + (C_22 - C_21)*a)*b",
        terms: vec![
            term("C_11", low_left, ""),
            term("C_12", low_right, ""),
            term("C_21", high_left, ""),
            term("C_22", high_right, ""),
            term("a", across, ""),
            term("b", up, ""),
        ],
        value,
        unit: "",
        source: FIGURE,
    });
    value
}

const C_COLUMNS: [f64; 11] = [2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 13.0, 45.0];
/// Borders of the strips of case C in plate heights from the windward end; the last runs to the far end.
const C_BORDERS: [f64; 7] = [1.0, 2.0, 3.0, 4.0, 5.0, 10.0, f64::INFINITY];
/// The figure prints one value for 3s to 10s up to B/s = 10; it stands here in each of the strips 3–4, 4–5 and 5–10, and
/// beyond.
const C_CELLS: [[f64; 11]; 7] = [
    [2.25, 2.60, 2.90, 3.10, 3.30, 3.40, 3.55, 3.65, 3.75, 4.00, 4.30],
    [1.50, 1.70, 1.90, 2.00, 2.15, 2.25, 2.30, 2.35, 2.45, 2.60, 2.55],
    [0.0, 1.15, 1.30, 1.45, 1.55, 1.65, 1.70, 1.75, 1.85, 2.00, 1.95],
    [0.0, 0.0, 1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95, 1.50, 1.85],
    [0.0, 0.0, 1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95, 1.35, 1.85],
    [0.0, 0.0, 1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95, 0.90, 1.10],
    [0.0, 0.0, 1.10, 1.05, 1.05, 1.05, 1.05, 1.00, 0.95, 0.55, 0.55],
];

/// Coefficients of case C by strip from the windward end: its far border in plate heights, and `C_f`; nothing where
/// B/s is below 2, where the case does not apply.
///
/// # Source
/// ASCE 7-16 Fig. 29.3-1 case C; reduced by `1.8 − s/h` where s/h is above 0.8.
#[must_use]
pub fn case_c(aspect: f64, clearance: f64) -> Vec<(f64, f64)> {
    if aspect < 2.0 {
        return Vec::new();
    }
    let reduction = if clearance > 0.8 { 1.8 - clearance } else { 1.0 };
    let (column, share) = place(aspect, &C_COLUMNS);
    let mut strips = Vec::new();
    for (strip, border) in C_BORDERS.into_iter().enumerate() {
        let from = if strip == 0 { 0.0 } else { C_BORDERS[strip - 1] };
        if from >= aspect {
            break;
        }
        let row = &C_CELLS[strip];
        // A strip that the narrower column does not have yet takes the wider column's value.
        let narrow = if row[column] > 0.0 { row[column] } else { row[column + 1] };
        strips.push((border.min(aspect), (narrow + (row[column + 1] - narrow) * share) * reduction));
    }
    strips
}

/// Case C as a largest coefficient and strips across the width, the left end to windward; nothing below B/s = 2.
#[must_use]
pub fn case_c_strips(aspect: f64, clearance: f64) -> Option<(f64, Across)> {
    let strips = case_c(aspect, clearance);
    let peak = strips.first()?.1;
    let mut from = 0.0;
    let strips = strips
        .into_iter()
        .map(|(border, c_f)| {
            let strip = Strip { from, to: border / aspect, share: c_f / peak };
            from = strip.to;
            strip
        })
        .collect();
    Some((peak, Across::Strips(strips)))
}
