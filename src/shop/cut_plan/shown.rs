//! How a plan is shown: its lengths on a tape, its prices in a money, and what it proves.

use super::{
    file::Money,
    job::{Job, Unit},
    plan::Plan,
};
use crate::quantities::Units;
use std::collections::BTreeSet;

/// How a plan is shown; what it is does not depend on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// What prices are in.
    pub money: Money,
    /// Whose tape lengths are read from.
    pub units: Units,
}

impl Shown {
    /// A length of a job.
    #[must_use]
    pub fn length(self, job: &Job, count: i64) -> String {
        job.unit.show_on(count, self.units)
    }

    /// What must be said where marks are shown on another tape than the one they were planned on.
    #[must_use]
    pub fn caveat(self, job: &Job) -> Option<&'static str> {
        (job.unit != Unit::Abstract && self.units != job.unit.units()).then_some(
            "Planned on the tape of the other units: each figure is the nearest mark, so a part between two of them may be a mark off.",
        )
    }

    /// The price of one board; nothing where nobody gave one.
    #[must_use]
    pub fn price(self, price: Option<i64>) -> String {
        match price {
            None => String::new(),
            Some(0) => "on hand".to_string(),
            Some(cents) => amount(cents, self.money),
        }
    }
}

/// An amount of cents in whole money: `47.16`.
#[must_use]
pub fn amount(cents: i64, money: Money) -> String {
    let (sign, name) = match money {
        Money::Board => return cents.to_string(),
        Money::Cent => ("", String::new()),
        Money::Dollar => ("$", String::new()),
        Money::Euro => ("€", String::new()),
        Money::Named(currency) => ("", format!(" {currency}")),
    };
    format!("{sign}{}.{:02}{name}", cents / 100, cents % 100)
}

/// What the plan makes least and what that is worth as a proof: a sentence for money, one for what has no price.
#[must_use]
pub fn verdict(job: &Job, plan: &Plan, shown: Shown) -> String {
    let groups = |priced: bool| {
        let bars = plan.bars.iter().filter(|bar| bar.price.is_some() == priced);
        bars.map(|bar| bar.group.as_str()).collect::<BTreeSet<_>>()
    };
    let unpriced = groups(false);
    let mixed = groups(true).iter().any(|group| job.is_priced(group)) && !unpriced.is_empty();
    let all_of = |groups: &BTreeSet<&str>| groups.iter().copied().collect::<Vec<_>>().join(", ");
    let mut sentences = Vec::new();
    if unpriced.is_empty() || mixed {
        let of = if mixed { format!(" of {}", all_of(&(&groups(true) - &unpriced))) } else { String::new() };
        sentences.push(least(&format!("Cost{of}"), "costs less", "cheaper", [plan.cost, plan.bound], |cents| {
            amount(cents, shown.money)
        }));
    }
    if !unpriced.is_empty() {
        let of = if mixed { format!(" of {}", all_of(&unpriced)) } else { String::new() };
        let what = format!("No price is given{of}, so the least length is bought:");
        let lengths = [plan.length, plan.length_bound];
        sentences.push(least(&what, "is shorter", "shorter", lengths, |count| shown.length(job, count)));
    }
    sentences.join(" ")
}

fn least(what: &str, is_less: &str, less: &str, [found, bound]: [i64; 2], show: impl Fn(i64) -> String) -> String {
    if found == bound {
        return format!(
            "{what} {}, proven: the lower bound is {} too, no set of these boards {is_less}.",
            show(found),
            show(bound)
        );
    }
    let gap = 100.0 * (found - bound) as f64 / found.max(1) as f64;
    format!(
        "{what} {}, NOT proven: the lower bound is {}, so a plan {less} by at most {} ({gap:.2} %) may exist.",
        show(found),
        show(bound),
        show(found - bound)
    )
}
