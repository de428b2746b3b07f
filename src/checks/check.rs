//! One check with its verdict.

use super::Refusal;
use crate::catalogue::{Certainty, Record, Source, Step};
use serde::Serialize;
use std::collections::BTreeSet;

/// How far a result may be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum State {
    /// Published equations, seen sources.
    Value,
    /// A judgement went in: an engineer must accept it.
    Judgement,
    /// A value or equation from memory went in.
    Unverified,
    /// Outside what is published, or not allowed.
    Refused,
    /// Nothing is held to check it with.
    NotChecked,
}

/// What a check found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Check {
    /// What is checked, in words.
    pub what: String,
    /// Part or joint it belongs to, by its mark.
    pub part: String,
    /// Tilt and load combination that it was made for.
    pub case: String,
    /// Required over available; none when refused or not checked.
    pub utilisation: Option<f64>,
    /// How far it may be trusted.
    pub state: State,
    /// Why it is refused or not checked.
    pub reason: Option<String>,
    /// Every equation with its numbers.
    pub steps: Vec<Step>,
}

impl Check {
    /// Runs a utilisation with a recording trace and takes the state from the sources it met, the worst of them.
    ///
    /// `inputs` are the sources of table rows that went in without an equation.
    pub fn run(
        what: impl Into<String>,
        part: impl Into<String>,
        case: impl Into<String>,
        inputs: &[Source],
        utilisation: impl FnOnce(&mut Record) -> Result<f64, Refusal>,
    ) -> Self {
        let mut record = Record::default();
        let result = utilisation(&mut record);
        let met = record.steps.iter().map(|step| step.source).chain(inputs.iter().copied()).map(state_of).max();
        let (utilisation, state, reason) = match result {
            Ok(value) => (Some(value), met.unwrap_or(State::Value), None),
            Err(refusal) => {
                let state = match refusal {
                    Refusal::NotHeld(_) => State::NotChecked,
                    Refusal::OutsideRange(_) | Refusal::TooClose(_) => State::Refused,
                };
                (None, state, Some(refusal.to_string()))
            }
        };
        Self {
            what: what.into(),
            part: part.into(),
            case: case.into(),
            utilisation,
            state,
            reason,
            steps: record.steps,
        }
    }

    /// A check that is on the list and not made.
    #[must_use]
    pub fn not_checked(what: impl Into<String>, part: impl Into<String>, reason: impl Into<String>) -> Self {
        Self {
            what: what.into(),
            part: part.into(),
            case: String::new(),
            utilisation: None,
            state: State::NotChecked,
            reason: Some(reason.into()),
            steps: Vec::new(),
        }
    }

    /// Does the part hold, whatever the state: a utilisation of at most 1?
    #[must_use]
    pub fn holds(&self) -> bool {
        self.utilisation.is_some_and(|u| u <= 1.0)
    }

    /// Documents and places the equations come from, each once, in order.
    #[must_use]
    pub fn sources(&self) -> Vec<String> {
        self.steps.iter().map(|step| step.source.to_string()).collect::<BTreeSet<_>>().into_iter().collect()
    }
}

fn state_of(source: Source) -> State {
    match source.certainty {
        Certainty::Memory => State::Unverified,
        Certainty::Judgement | Certainty::Practice => State::Judgement,
        Certainty::Read | Certainty::Agreed | Certainty::Transcribed | Certainty::Derived => State::Value,
    }
}

/// What a set of checks amounts to.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case", tag = "verdict")]
pub enum Verdict {
    /// Every check is a value and holds.
    Passes,
    /// Nothing is above 1, but some checks are judgements, unverified, refused or not made.
    Open,
    /// At least one check is above 1.
    Fails,
}

/// The verdict over a list of checks; an empty list is open.
#[must_use]
pub fn verdict(checks: &[Check]) -> Verdict {
    let fails = checks.iter().any(|check| check.utilisation.is_some_and(|u| u.is_nan() || u > 1.0));
    match () {
        () if fails => Verdict::Fails,
        () if !checks.is_empty() && checks.iter().all(|check| check.state == State::Value) => Verdict::Passes,
        () => Verdict::Open,
    }
}

/// The check with the largest utilisation.
#[must_use]
pub fn governing(checks: &[Check]) -> Option<&Check> {
    checks
        .iter()
        .filter(|check| check.utilisation.is_some())
        .max_by(|a, b| a.utilisation.unwrap_or_default().total_cmp(&b.utilisation.unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::nds::{Dowel, dowel, dowel::Bearing, shear};

    fn shear_check(load_lb: f64) -> Check {
        Check::run("shear", "R1", "35°, D + W", &[], |t| Ok(shear::shear_stress(t, load_lb, [1.5, 3.5]) / 180.0))
    }

    #[test]
    fn a_value_from_memory_never_passes() {
        let sure = shear_check(500.0);
        assert_eq!((sure.state, verdict(std::slice::from_ref(&sure))), (State::Value, Verdict::Passes));
        assert!(sure.holds() && sure.sources() == ["NDS-2018 §3.4.2"]);
        let memory = Check::run("shear at the bolt", "R1", "", &[], |t| {
            Ok(500.0 / shear::bolted_joint_shear(t, 180.0, [1.5, 3.5], 1.75, 40.0)?)
        });
        assert_eq!(memory.state, State::Unverified);
        assert_eq!(verdict(&[sure.clone(), memory]), Verdict::Fails, "500/315 is above 1");
        let row = Source::new("NDS Supplement 2018", "Table 4D", Certainty::Memory);
        let shaky = Check::run("shear", "P1", "", &[row], |t| Ok(shear::shear_stress(t, 100.0, [5.5, 5.5]) / 125.0));
        assert_eq!((shaky.state, verdict(&[sure, shaky])), (State::Unverified, Verdict::Open));
    }

    #[test]
    fn refusals_keep_their_reason_and_no_number() {
        let thick = Check::run("axle", "A1", "", &[], |t| {
            let b = Bearing { length_in: 3.5, strength_psi: 5600.0 };
            Ok(100.0 / dowel::single_shear(t, &Dowel::bolt(1.5), b, b, 0.0)?.z_lb)
        });
        assert_eq!((thick.state, thick.utilisation), (State::Refused, None));
        assert!(thick.reason.as_deref().is_some_and(|r| r.contains("dowel diameter")));
        assert!(!thick.holds());
        assert_eq!(verdict(std::slice::from_ref(&thick)), Verdict::Open);
        assert_eq!(verdict(&[]), Verdict::Open);
        assert!(governing(&[thick]).is_none());
        assert_eq!(
            governing(&[shear_check(100.0), shear_check(900.0)]).and_then(|c| c.utilisation),
            shear_check(900.0).utilisation
        );
    }
}
