//! What a candidate costs or weighs, in whole cents or grams, before its strength is known.

use crate::{
    catalogue,
    design::{Currency, Design, Goods},
    frame::{Frame, HeldBy},
    quantities::{Units, mass},
    shop::{
        self, Sold, bag_kg,
        cut_plan::{self, Job, Money},
        price_row, stick_kg,
    },
};
use std::{
    collections::{BTreeMap, HashMap},
    f64::consts::FRAC_PI_4,
    sync::Mutex,
    time::Duration,
};

/// What is to be least.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// Money for sticks, hardware, concrete and ballast.
    Cheapest,
    /// Mass of sticks, bolts (by their shanks), concrete mix and ballast.
    Lightest,
}

/// What a candidate costs (cents) or weighs (g).
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Bill {
    pub(super) amount: i64,
    /// The cut plans are proven optimal.
    pub(super) proven: bool,
    /// Goods without a price: the row that would price them, and how much of them is wanted.
    pub(super) missing: BTreeMap<String, String>,
}

/// The parts of one section that are sawn together: group, and length, mitred ends and number of each kind.
type PlanKey = (String, Vec<(i64, u8, i64)>);
type Planned = Result<(i64, bool), String>;

/// Cut plans are the same for the same parts: each is made once.
#[derive(Default)]
pub(super) struct Pricer {
    plans: Mutex<HashMap<PlanKey, Planned>>,
}

/// Density of steel (kg/mm³).
const STEEL_KG_PER_MM3: f64 = 7.85e-6;
/// Time for the proof of one section's plan.
const TIME_LIMIT: Duration = Duration::from_secs(5);

impl Pricer {
    /// The bill of a candidate.
    ///
    /// Bags and bolts are counted in the design's own units, as its prices are.
    ///
    /// # Errors
    /// Sticks that cannot be bought.
    pub(super) fn bill(&self, design: &Design, frame: &Frame, goal: Goal) -> Result<Bill, String> {
        let sawing = shop::sawing(design, frame).map_err(|error| error.to_string())?;
        let mut bill = Bill { amount: 0, proven: true, missing: BTreeMap::new() };
        let mut groups: Vec<&str> = sawing.job.parts.iter().map(|p| p.group.as_str()).collect();
        groups.sort_unstable();
        groups.dedup();
        for group in groups {
            let (cents, proven) = self.sticks(&sawing.job, group)?;
            if sawing.unpriced.iter().any(|without| without.section == group) {
                if goal == Goal::Cheapest {
                    bill.missing.insert(
                        format!("shop.stock: {{section: {group}, length: …, price: …}}"),
                        format!("{:?}", key_of(&sawing.job, group).1),
                    );
                }
                continue;
            }
            if goal == Goal::Cheapest {
                bill.amount += cents;
                bill.proven &= proven;
            }
        }
        match goal {
            Goal::Cheapest => hardware(design, frame, &mut bill),
            Goal::Lightest => bill.amount = grams(design, frame),
        }
        Ok(bill)
    }

    fn sticks(&self, job: &Job, group: &str) -> Planned {
        let key = key_of(job, group);
        if let Some(known) = self.plans.lock().unwrap_or_else(std::sync::PoisonError::into_inner).get(&key) {
            return known.clone();
        }
        let own = Job {
            stock: job.stock.iter().filter(|s| s.group == group).cloned().collect(),
            parts: job.parts.iter().filter(|p| p.group == group).cloned().collect(),
            ..job.clone()
        };
        let planned =
            cut_plan::plan(&own, TIME_LIMIT).map(|plan| (plan.cost, plan.proven)).map_err(|error| error.to_string());
        self.plans.lock().unwrap_or_else(std::sync::PoisonError::into_inner).insert(key, planned.clone());
        planned
    }
}

fn key_of(job: &Job, group: &str) -> PlanKey {
    let mut parts: BTreeMap<(i64, u8), i64> = BTreeMap::new();
    for part in job.parts.iter().filter(|p| p.group == group) {
        *parts.entry((part.length, part.mitred_ends)).or_default() += part.quantity;
    }
    (group.to_string(), parts.into_iter().map(|((length, ends), n)| (length, ends, n)).collect())
}

fn hardware(design: &Design, frame: &Frame, bill: &mut Bill) {
    // What is wanted of each, by its length: one price may hold for every length.
    let mut missing: BTreeMap<String, BTreeMap<String, f64>> = BTreeMap::new();
    for line in shop::hardware(design, frame, design.units) {
        let Some(sold) = line.sold else { continue };
        match line.cents() {
            Some(price) => bill.amount += price,
            None => {
                let long = sold.length_mm.map_or_else(String::new, |mm| format!("{mm:.1}"));
                let wanted = line.quantity as f64 * sold.mass_kg.unwrap_or(1.0);
                *missing.entry(price_row(&sold)).or_default().entry(long).or_default() += wanted;
            }
        }
    }
    bill.missing.extend(missing.into_iter().map(|(row, amount)| (row, format!("{amount:?}"))));
}

/// Ballast of all frames (kg).
fn ballast_kg(frame: &Frame) -> Option<f64> {
    let held = frame.feet.iter().flat_map(|foot| &foot.holds);
    let each: Vec<f64> = held
        .filter_map(|hold| match hold.by {
            HeldBy::Ballast(kg) => Some(kg),
            HeldBy::Tie | HeldBy::Stake | HeldBy::Bracket | HeldBy::DeckBolt => None,
        })
        .collect();
    (!each.is_empty()).then(|| each.iter().sum::<f64>() * frame.count as f64)
}

/// Mass of everything that is carried to the place but panels and small hardware (g).
fn grams(design: &Design, frame: &Frame) -> i64 {
    let sticks: f64 = frame.sticks.iter().map(|stick| stick_kg(design, stick)).sum::<f64>() * frame.count as f64;
    let mut rest = ballast_kg(frame).unwrap_or(0.0);
    for line in shop::hardware(design, frame, design.units) {
        let n = line.quantity as f64;
        match line.sold {
            Some(Sold { goods: Goods::ConcreteBag, .. }) => rest += n * bag_kg(design.units),
            Some(Sold { goods: Goods::Bolt | Goods::LagScrew, size: Some(size), length_mm: Some(long), .. }) => {
                let thick = catalogue::bolt(size).map_or(0.0, |b| b.diameter_mm);
                rest += n * FRAC_PI_4 * thick * thick * long * STEEL_KG_PER_MM3;
            }
            _ => {}
        }
    }
    ((sticks + rest) * 1000.0).round() as i64
}

impl Goal {
    /// The word of the command line.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Cheapest => "cheapest",
            Self::Lightest => "lightest",
        }
    }

    /// An amount as it is shown: money with two decimals, or a mass.
    #[must_use]
    pub fn show(self, amount: i64, currency: Option<Currency>, units: Units) -> String {
        match self {
            Self::Cheapest => cut_plan::amount(amount, currency.map_or(Money::Cent, Money::Named)),
            Self::Lightest => mass(crate::quantities::kg(amount as f64 / 1000.0), units),
        }
    }
}
