//! Calculations written out: symbols, then numbers put in, then result, unit and source, as an engineer writes them.

use super::verify::{Report, Row};
use crate::{
    catalogue::{Step, Term},
    loads::LEFT_OUT,
    quantities::{Units, converted, number},
};
use serde::Serialize;

/// Calculations of a design, ready to be printed or drawn.
#[derive(Debug, Clone, Serialize)]
pub struct CalcSheet {
    /// Name of the design.
    pub design: String,
    /// One entry for each load, then for each part and check.
    pub entries: Vec<Entry>,
    /// What may be said of the whole.
    pub verdict: String,
    /// What no load and no check looks at.
    pub exclusions: [&'static str; LEFT_OUT.len()],
}

/// The derivation of one load or one utilisation.
#[derive(Debug, Clone, Serialize)]
pub struct Entry {
    /// Part mark, short name of a load, or what it is.
    pub part: String,
    /// Short name of the check, or the kind of load.
    pub check: &'static str,
    /// The check or load in words.
    pub words: String,
    /// What the words leave open; often empty.
    pub note: &'static str,
    /// Tilt it governs at (deg).
    pub tilt_deg: Option<f64>,
    /// Load combination.
    pub case: String,
    /// Equations in order.
    pub lines: Vec<Line>,
    /// Result; none for loads, and where an equation gave no number.
    pub utilisation: Option<f64>,
    /// State in one word.
    pub state: &'static str,
    /// Why, where there is something to say.
    pub why: String,
}

/// One equation.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// What is computed, in words.
    pub what: &'static str,
    /// `a_net = b*(d - n*h)`.
    pub equation: String,
    /// The same with the numbers put in.
    pub numbers: String,
    /// Result with its unit.
    pub result: String,
    /// Document and place.
    pub source: String,
    /// The step itself: terms, value and unit at full precision.
    pub step: Step,
}

impl CalcSheet {
    /// The sheet of the rows that pass a filter, in the order of the report.
    #[must_use]
    pub fn of(design: &str, report: &Report, wanted: impl Fn(&Row) -> bool) -> Self {
        Self {
            design: design.to_string(),
            entries: report.rows.iter().filter(|r| wanted(r)).map(Entry::of).collect(),
            verdict: report.verdict.sentence(),
            exclusions: LEFT_OUT,
        }
    }

    /// The sheet with the loads before the checks.
    #[must_use]
    pub fn after(mut self, mut loads: Vec<Entry>) -> Self {
        loads.append(&mut self.entries);
        Self { entries: loads, ..self }
    }
}

impl Entry {
    /// The derivation of a row.
    #[must_use]
    pub fn of(row: &Row) -> Self {
        Self {
            part: row.part.clone(),
            check: row.kind.name(),
            words: row.kind.words().to_string(),
            note: row.kind.note(),
            tilt_deg: row.tilt_deg,
            case: row.case.clone(),
            lines: row.steps().into_iter().map(Line::of).collect(),
            utilisation: row.utilisation,
            state: row.state.word(),
            why: row.state.why().to_string(),
        }
    }
}

impl Line {
    pub(super) fn of(step: Step) -> Self {
        Self {
            what: step.what,
            equation: format!("{} = {}", step.symbol, step.formula),
            numbers: filled(&step),
            result: format!("{} {}", significant(step.value), step.unit).trim_end().to_string(),
            source: step.source.to_string(),
            step,
        }
    }
}

impl Line {
    /// The result with its unit, and in the units that are read where the equation is written in others.
    #[must_use]
    pub fn result_in(&self, units: Units) -> String {
        match converted(self.step.value, self.step.unit, units) {
            Some((value, unit)) => format!("{} = {} {unit}", self.result, significant(value)),
            None => self.result.clone(),
        }
    }

    /// The terms that have a unit: each as the equation takes it, and in the units that are read.
    #[must_use]
    pub fn terms_in(&self, units: Units) -> Vec<String> {
        let terms = self.step.terms.iter().filter(|term| !term.unit.is_empty());
        let words = |term: &Term| {
            let own = format!("{} {} {}", term.symbol, significant(term.value), term.unit);
            match converted(term.value, term.unit, units) {
                Some((value, unit)) => format!("{own} = {} {unit}", significant(value)),
                None => own,
            }
        };
        terms.map(words).collect()
    }
}

/// Significant digits that are printed.
const DIGITS: i32 = 5;

/// A number with five significant digits and no more.
#[must_use]
pub fn significant(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return number(value, 0);
    }
    let whole = value.abs().log10().floor() as i32 + 1;
    number(value, (DIGITS - whole).clamp(0, 9) as usize)
}

/// The formula with numbers in the places of its terms.
fn filled(step: &Step) -> String {
    let mut out = String::new();
    let mut word = String::new();
    let flush = |word: &mut String, out: &mut String| {
        if word.is_empty() {
            return;
        }
        match step.terms.iter().find(|t| t.symbol == word.as_str()) {
            Some(term) if term.value < 0.0 => {
                out.push('(');
                out.push_str(&significant(term.value));
                out.push(')');
            }
            Some(term) => out.push_str(&significant(term.value)),
            None => out.push_str(word),
        }
        word.clear();
    };
    for c in step.formula.chars() {
        if c.is_ascii_alphanumeric() || c == '_' || (c == '.' && !word.is_empty()) {
            word.push(c);
        } else {
            flush(&mut word, &mut out);
            out.push(c);
        }
    }
    flush(&mut word, &mut out);
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::{Certainty, Source, term};

    #[test]
    fn numbers_stand_where_their_symbols_stood() {
        let step = Step {
            what: "test",
            symbol: "u",
            formula: "0.6*f_v + min(f_v, k)/2.5 - sqrt(k)",
            terms: vec![term("f_v", 1234.567, "psi"), term("k", -0.001_234_567, "")],
            value: 1.0,
            unit: "",
            source: Source::new("statics", "", Certainty::Derived),
        };
        assert_eq!(filled(&step), "0.6*1234.6 + min(1234.6, (-0.0012346))/2.5 - sqrt((-0.0012346))");
    }

    #[test]
    fn five_digits_are_printed() {
        for (value, text) in [(123_456.7, "123457"), (0.123_456_7, "0.12346"), (12.0, "12"), (0.0, "0"), (-5.6, "-5.6")]
        {
            assert_eq!(significant(value), text);
        }
    }
}
