//! Rows of results: the worst of each part and check, with its state.

use super::kind::Kind;
use crate::{
    catalogue::{Certainty, Record, Step},
    checks::model::AnswerId,
    codes::{Calc, Refusal},
    loads::{Envelope, RangeState},
};
use serde::Serialize;

/// How far a result may be trusted, worst last.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "state", content = "why")]
pub enum State {
    /// The design has no such part.
    DoesNotApply(String),
    /// A value from published equations and loads.
    Value,
    /// A value that rests on a judgement, with its name.
    Judgement(String),
    /// A value that a number from memory went into.
    UnverifiedSource(String),
    /// Not looked at.
    NotChecked(String),
    /// An equation or load outside its published range.
    Refused(String),
}

impl State {
    fn rank(&self) -> u8 {
        match self {
            Self::DoesNotApply(_) => 0,
            Self::Value => 1,
            Self::Judgement(_) => 2,
            Self::UnverifiedSource(_) => 3,
            Self::NotChecked(_) => 4,
            Self::Refused(_) => 5,
        }
    }

    /// The weaker of two.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        if other.rank() > self.rank() { other } else { self }
    }

    /// The state in one word.
    #[must_use]
    pub fn word(&self) -> &'static str {
        match self {
            Self::DoesNotApply(_) => "does not apply",
            Self::Value => "value",
            Self::Judgement(_) => "judgement",
            Self::UnverifiedSource(_) => "unverified source",
            Self::NotChecked(_) => "not checked",
            Self::Refused(_) => "refused",
        }
    }

    /// The state in one word, and why in brackets.
    #[must_use]
    pub fn in_words(&self) -> String {
        match self.why() {
            "" => self.word().to_string(),
            why => format!("{} ({why})", self.word()),
        }
    }

    /// Why, where there is something to say.
    #[must_use]
    pub fn why(&self) -> &str {
        match self {
            Self::Value => "",
            Self::DoesNotApply(why)
            | Self::Judgement(why)
            | Self::UnverifiedSource(why)
            | Self::NotChecked(why)
            | Self::Refused(why) => why,
        }
    }

    /// The state of a load.
    #[must_use]
    pub fn of_load(state: &RangeState) -> Self {
        match state {
            RangeState::Published => Self::Value,
            RangeState::Judgement(Envelope::J1, _) => Self::Judgement("J1".to_string()),
            RangeState::Judgement(Envelope::J2, _) => Self::Judgement("J2".to_string()),
            RangeState::Judgement(Envelope::Added, why) => Self::Judgement((*why).to_string()),
            RangeState::Refused(why) => Self::Refused(why.clone()),
        }
    }

    /// The state of an equation that gave no number.
    #[must_use]
    pub fn of_refusal(refusal: &Refusal) -> Self {
        match refusal {
            Refusal::NotHeld(_) => Self::NotChecked(refusal.to_string().replace("not checked: ", "")),
            _ => Self::Refused(refusal.to_string()),
        }
    }
}

/// One result, with the calculation `C` it can be run again from; what was not checked has none.
#[derive(Debug, Clone, PartialEq)]
pub struct Row<C = Option<Calc>> {
    /// Part mark, or what it is.
    pub part: String,
    /// Check.
    pub kind: Kind,
    /// Tilt it governs at (deg); none where the tilt plays no part.
    pub tilt_deg: Option<f64>,
    /// Combination or load case, in words.
    pub case: String,
    /// The combination that governs it; none where a load case alone does.
    pub answer: Option<AnswerId>,
    /// Utilisation; none where an equation gave no number.
    pub utilisation: Option<f64>,
    /// How far it may be trusted.
    pub state: State,
    /// The calculation, to be run again; none where nothing was looked at.
    pub calc: C,
}

/// A result without its calculation, for whoever keeps many.
pub type Outcome = Row<()>;

impl Outcome {
    /// Something that has no number: not checked or refused, wherever the frame stands.
    #[must_use]
    pub fn open(part: &str, kind: Kind, case: String, state: State) -> Self {
        Self { part: part.to_string(), kind, tilt_deg: None, case, answer: None, utilisation: None, state, calc: () }
    }
}

impl<C> Row<C> {
    /// The result alone.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        Row {
            part: self.part.clone(),
            kind: self.kind,
            tilt_deg: self.tilt_deg,
            case: self.case.clone(),
            answer: self.answer,
            utilisation: self.utilisation,
            state: self.state.clone(),
            calc: (),
        }
    }

    /// Is its utilisation above 1, or no number at all? What an equation refuses is no utilisation.
    #[must_use]
    pub fn fails(&self) -> bool {
        self.utilisation.is_some_and(|u| u > 1.0 || u.is_nan())
    }

    /// A number to rank by: what has no number is worse than any utilisation.
    #[must_use]
    pub fn weight(&self) -> f64 {
        self.utilisation.unwrap_or(f64::INFINITY)
    }
}

impl Row {
    /// Every equation of this row with its numbers.
    #[must_use]
    pub fn steps(&self) -> Vec<Step> {
        let mut record = Record::default();
        // A refusal leaves the steps up to it, which show why.
        let _ = self.calc.as_ref().map(|calc| calc.utilisation(&mut record));
        record.steps
    }

    /// Marks the row when a judgement or a value from memory went into its equations.
    pub(super) fn verify_sources(&mut self) {
        let steps = self.steps();
        let name = |step: &Step| match step.source.document {
            "judgement" => step.source.place.to_string(),
            document => format!("{document} {}", step.source.place),
        };
        let from_memory = steps.iter().find(|s| s.source.is_unverified());
        let judged = steps.iter().find(|s| matches!(s.source.certainty, Certainty::Judgement | Certainty::Practice));
        let state = match (from_memory, judged) {
            (Some(step), _) => State::UnverifiedSource(format!("{} is from memory", name(step))),
            (None, Some(step)) => State::Judgement(name(step)),
            (None, None) => return,
        };
        let kept = std::mem::replace(&mut self.state, State::Value);
        self.state = kept.and(state);
    }
}

/// A value counts as worse from this much more on: the mirrored case of a left and a right half ties but for rounding, and
/// then the first that was looked at stays.
const WORSE: f64 = 1.0 + 1e-9;

/// Keeps the worst row of each part and check.
#[derive(Debug, Default)]
pub(super) struct Worst {
    rows: Vec<Row>,
    /// Numbers of the rows of each check, in the order of [`Kind::ALL`]: a check has few parts, so a row is soon found.
    of_kind: [Vec<usize>; Kind::ALL.len()],
}

impl Worst {
    fn find(&self, part: &str, kind: Kind) -> Option<usize> {
        self.of_kind[kind as usize].iter().copied().find(|&row| self.rows[row].part == part)
    }

    /// The utilisation that a part and check must exceed to matter: nothing yet is below every number, a refusal above.
    pub(super) fn floor(&self, part: &str, kind: Kind) -> f64 {
        self.find(part, kind).map_or(f64::NEG_INFINITY, |row| self.rows[row].utilisation.unwrap_or(f64::INFINITY))
    }

    /// Was a part found to have no number? Then nothing else of that check matters.
    pub(super) fn is_open(&self, part: &str, kind: Kind) -> bool {
        self.find(part, kind).is_some_and(|row| self.rows[row].utilisation.is_none())
    }

    /// Is a value worth keeping?
    pub(super) fn beats(&self, part: &str, kind: Kind, utilisation: f64) -> bool {
        match self.find(part, kind) {
            None => true,
            Some(row) => self.rows[row].utilisation.is_some_and(|u| utilisation > WORSE * u),
        }
    }

    /// Keeps a row when it is worse than the one of its part and check. A refusal is worse than any number.
    pub(super) fn push(&mut self, row: Row) {
        let Some(found) = self.find(&row.part, row.kind) else {
            self.of_kind[row.kind as usize].push(self.rows.len());
            self.rows.push(row);
            return;
        };
        let kept = &mut self.rows[found];
        let worse = match (kept.utilisation, row.utilisation) {
            (None, _) => false,
            (Some(_), None) => true,
            (Some(old), Some(new)) => new > WORSE * old,
        };
        if worse {
            *kept = row;
        }
    }

    pub(super) fn rows(self) -> Vec<Row> {
        self.rows
    }
}
