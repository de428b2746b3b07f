//! What the checks say of a candidate, kept small: reports hold whole analyses, and there are many candidates.

use crate::{
    checks::verify::{Kind, Outcome, Report, Row, State},
    loads::Refusal,
};
use std::collections::BTreeSet;

/// A candidate whose every check was made.
#[derive(Debug, Clone, PartialEq)]
pub struct Judged {
    /// Its number.
    pub candidate: usize,
    /// What it costs (cents) or weighs (g).
    pub amount: i64,
    /// Why it does not pass, worst first; empty when it passes.
    pub failing: Vec<Outcome>,
    /// The rows with the largest utilisations, worst first.
    pub governing: Vec<Outcome>,
    /// What `strength` says of it.
    pub verdict: String,
    /// `strength` gives a verdict without a failing check.
    pub holds: bool,
}

impl Judged {
    /// Does it pass?
    #[must_use]
    pub fn passes(&self) -> bool {
        self.failing.is_empty()
    }

    /// Its worst reason for failing; the largest utilisation when it passes.
    #[must_use]
    pub fn worst(&self) -> f64 {
        let rows = self.failing.first().or_else(|| self.governing.first());
        rows.map_or(0.0, Outcome::weight)
    }
}

/// Rows kept as governing.
const GOVERNING: usize = 5;

/// What the design as written leaves open: a candidate may leave the same open, and nothing more.
#[derive(Debug, Clone, Default)]
pub struct LeftOpen {
    open: BTreeSet<Kind>,
    loads: Vec<Refusal>,
}

impl LeftOpen {
    /// What a report leaves open for reasons that are not a joint's or member's own.
    #[must_use]
    pub fn of<R>(report: &Report<R>) -> Self {
        let open = report.list.iter().filter(|l| is_open(report, l.kind, &l.state)).map(|l| l.kind).collect();
        Self { open, loads: report.refused_loads.clone() }
    }

    /// The checks that are open, and the loads without a value.
    #[must_use]
    pub fn words(&self) -> Vec<String> {
        let loads = self.loads.iter().map(|r| format!("{}: {}", r.name, r.why));
        self.open.iter().map(|kind| kind.words().to_string()).chain(loads).collect()
    }

    /// Every reason why a report does not pass, worst first.
    #[must_use]
    pub fn failing<R>(&self, report: &Report<R>) -> Vec<Outcome> {
        let mut failing: Vec<Outcome> = rows_failing(&report.rows).collect();
        for listed in &report.list {
            if is_open(report, listed.kind, &listed.state) && !self.open.contains(&listed.kind) {
                failing.push(Outcome::open("", listed.kind, String::new(), listed.state.clone()));
            }
        }
        for refusal in &report.refused_loads {
            if !self.loads.iter().any(|known| known.id == refusal.id && known.why == refusal.why) {
                let why = State::Refused(refusal.why.clone());
                failing.push(Outcome::open("loads", Kind::PanelLoad, refusal.name.clone(), why));
            }
        }
        failing.sort_by(|a, b| b.weight().total_cmp(&a.weight()));
        failing
    }

    /// A report of all checks as a judged candidate.
    pub(super) fn judge<R>(&self, candidate: usize, amount: i64, report: &Report<R>) -> Judged {
        let mut governing: Vec<Outcome> =
            report.rows.iter().filter(|r| r.utilisation.is_some()).map(Row::outcome).collect();
        governing.sort_by(|a, b| b.weight().total_cmp(&a.weight()));
        governing.truncate(GOVERNING);
        Judged {
            candidate,
            amount,
            failing: self.failing(report),
            governing,
            verdict: report.verdict.sentence(),
            holds: report.verdict.holds(),
        }
    }
}

/// Rows above 1, and joints or members that an equation refuses: both fail wherever they are seen.
pub(super) fn rows_failing(rows: &[Row]) -> impl Iterator<Item = Outcome> {
    let fails = |row: &&Row| row.fails() || (row.utilisation.is_none() && matches!(row.state, State::Refused(_)));
    rows.iter().filter(fails).map(Row::outcome)
}

/// Is a check of the list open: not checked, or refused although none of its rows is?
fn is_open<R>(report: &Report<R>, kind: Kind, state: &State) -> bool {
    match state {
        State::NotChecked(_) => true,
        State::Refused(_) => !report
            .rows
            .iter()
            .any(|r| r.kind == kind && r.utilisation.is_none() && matches!(r.state, State::Refused(_))),
        _ => false,
    }
}
