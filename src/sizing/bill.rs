//! What a candidate costs or weighs, in whole cents or grams, before its strength is known.

use crate::{
    catalogue,
    design::{Design, Goods, PricedGoods},
    frame::{Frame, Role},
    quantities::{Units, mass, to_kg, to_mm},
    shop::{
        self, Sold, bag_kg,
        cut_plan::{self, Job},
        stick_kg,
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
    pub(super) fn bill(&self, design: &Design, frame: &Frame, goal: Goal, units: Units) -> Result<Bill, String> {
        let sawing = shop::sawing(design, frame, units).map_err(|error| error.to_string())?;
        let mut bill = Bill { amount: 0, proven: true, missing: BTreeMap::new() };
        let mut groups: Vec<&str> = sawing.job.parts.iter().map(|p| p.group.as_str()).collect();
        groups.sort_unstable();
        groups.dedup();
        for group in groups {
            let (cents, proven) = self.sticks(&sawing.job, group)?;
            if sawing.unpriced.iter().any(|name| name == group) {
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

fn cents(price: f64) -> i64 {
    (price * 100.0).round() as i64
}

fn hardware(design: &Design, frame: &Frame, bill: &mut Bill) {
    // What is wanted of each, by its length: one price may hold for every length.
    let mut missing: BTreeMap<String, BTreeMap<String, f64>> = BTreeMap::new();
    let mut lacks = |row: String, long: Option<f64>, n: f64| {
        let long = long.map_or_else(String::new, |mm| format!("{mm:.1}"));
        *missing.entry(row).or_default().entry(long).or_default() += n;
    };
    for line in shop::hardware(design, frame, design.units) {
        let Some(sold) = line.sold else { continue };
        match price(&design.shop.hardware, &sold, line.quantity) {
            Some(price) => bill.amount += price,
            None => {
                lacks(row_of(&sold), sold.length_mm, line.quantity as f64);
            }
        }
    }
    if let Some(kg) = ballast_kg(design, frame) {
        let blocks = design.shop.hardware.iter().filter(|p| p.goods == Goods::Ballast).filter_map(|p| {
            let block = to_kg(p.mass?);
            // A block that is missing a hair is no block more.
            Some((kg / block - 1e-9).ceil() as i64 * cents(p.price))
        });
        match blocks.min() {
            Some(price) => bill.amount += price,
            None => lacks("shop.hardware: {item: ballast, mass: …, price: …}".to_string(), None, kg),
        }
    }
    bill.missing.extend(missing.into_iter().map(|(row, amount)| (row, format!("{amount:?}"))));
}

/// The cheapest way to buy so many of what is sold.
fn price(rows: &[PricedGoods], sold: &Sold, quantity: usize) -> Option<i64> {
    let same = || rows.iter().filter(|p| p.goods == sold.goods && p.size == sold.size);
    let n = quantity as i64;
    if sold.goods.is_cut() {
        let each = sold.length_mm?;
        let sticks = |p: &PricedGoods| {
            let stick = to_mm(p.length?);
            // Copper runs in one piece or in spliced lengths; a spacer is never spliced.
            let count = if sold.goods == Goods::Copper {
                (each * quantity as f64 / stick - 1e-9).ceil() as i64
            } else {
                let fit = (stick / (each + SPACER_KERF_MM) + 1e-9).floor() as i64;
                if fit == 0 {
                    return None;
                }
                (n + fit - 1) / fit
            };
            Some(count * cents(p.price))
        };
        return same().filter_map(sticks).min();
    }
    let near =
        |p: &&PricedGoods| matches!((p.length, sold.length_mm), (Some(a), Some(b)) if (to_mm(a) - b).abs() < 0.6);
    let row = same().find(near).or_else(|| same().find(|p| p.length.is_none()))?;
    Some(n * cents(row.price))
}

/// What a saw takes between two spacers (mm); common practice, no source.
const SPACER_KERF_MM: f64 = 3.0;

/// The row that would price it.
fn row_of(sold: &Sold) -> String {
    let mut fields = vec![format!("item: {}", sold.goods.word())];
    if let Some(size) = sold.size {
        fields.push(if size.starts_with('#') { format!("size: \"{size}\"") } else { format!("size: {size}") });
    }
    if sold.goods.is_cut() {
        fields.push("length: …".to_string());
    }
    format!("shop.hardware: {{{}, price: …}}", fields.join(", "))
}

/// Ballast of all frames (kg).
fn ballast_kg(design: &Design, frame: &Frame) -> Option<f64> {
    let runners = frame.sticks.iter().filter(|s| s.role == Role::Runner).count() * frame.count;
    design.ballast.filter(|_| runners > 0).map(|b| to_kg(b.per_runner) * runners as f64)
}

/// Mass of everything that is carried to the place but panels and small hardware (g).
fn grams(design: &Design, frame: &Frame) -> i64 {
    let sticks: f64 = frame.sticks.iter().map(|stick| stick_kg(design, stick)).sum::<f64>() * frame.count as f64;
    let mut rest = ballast_kg(design, frame).unwrap_or(0.0);
    for line in shop::hardware(design, frame, design.units) {
        let n = line.quantity as f64;
        match line.sold {
            Some(Sold { goods: Goods::ConcreteBag, .. }) => rest += n * bag_kg(design.units),
            Some(Sold { goods: Goods::Bolt | Goods::LagScrew, size: Some(size), length_mm: Some(long) }) => {
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
    pub fn show(self, amount: i64, units: Units) -> String {
        match self {
            Self::Cheapest => cut_plan::amount(amount, cut_plan::Money::Cent),
            Self::Lightest => mass(crate::quantities::kg(amount as f64 / 1000.0), units),
        }
    }
}
