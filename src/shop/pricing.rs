//! What goods cost by the rows of `shop.hardware`, and what all of a design costs together.

use super::{
    cut_list::CutList,
    cut_plan::{Money, amount},
    hardware::{HardwareLine, Sold},
};
use crate::{
    design::{Goods, PricedGoods},
    quantities::{to_kg, to_mm},
};
use std::collections::BTreeSet;

/// What a saw takes between two spacers (mm); common practice, no source.
const SPACER_KERF_MM: f64 = 3.0;

/// The cheapest way to buy so many of what is sold (cents); nothing where no row prices it.
pub(super) fn price(rows: &[PricedGoods], sold: &Sold, quantity: usize) -> Option<i64> {
    let same = || rows.iter().filter(|p| p.goods == sold.goods && p.size == sold.size);
    let n = quantity as i64;
    if let Some(each_kg) = sold.mass_kg {
        // A block that is missing a hair is no block more.
        let blocks = |p: &PricedGoods| Some((each_kg * quantity as f64 / to_kg(p.mass?) - 1e-9).ceil() as i64);
        return same().filter_map(|p| Some(blocks(p)? * cents(p.price))).min();
    }
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

fn cents(price: f64) -> i64 {
    (price * 100.0).round() as i64
}

/// The row of `shop.hardware` that would price it.
#[must_use]
pub fn price_row(sold: &Sold) -> String {
    let mut fields = vec![format!("item: {}", sold.goods.word())];
    if let Some(size) = sold.size {
        fields.push(if size.starts_with('#') { format!("size: \"{size}\"") } else { format!("size: {size}") });
    }
    if sold.goods.is_cut() {
        fields.push("length: …".to_string());
    }
    if sold.mass_kg.is_some() {
        fields.push("mass: …".to_string());
    }
    format!("shop.hardware: {{{}, price: …}}", fields.join(", "))
}

/// What sticks and hardware cost together, as far as prices are given.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Total {
    /// Sticks (cents).
    pub sticks: i64,
    /// Hardware (cents).
    pub hardware: i64,
    /// What has no price and is not in the sum.
    pub without: Vec<String>,
}

impl Total {
    /// The sum of a design; nothing where no price is given at all.
    #[must_use]
    pub fn of(list: &CutList, hardware: &[HardwareLine]) -> Option<Self> {
        let sections: BTreeSet<&str> = list.lines.iter().map(|line| line.piece.section.name.as_str()).collect();
        let unpriced = |section: &str| list.unpriced.iter().any(|without| without.section == section);
        let sticks = sections.iter().filter(|section| unpriced(section)).map(|section| format!("{section} sticks"));
        let goods = hardware.iter().filter(|line| line.sold.is_some() && line.cents.is_none());
        let without: BTreeSet<String> = sticks.chain(goods.map(|line| line.item.clone())).collect();
        let priced = hardware.iter().any(|line| line.cents.is_some()) || list.unpriced.len() < sections.len();
        priced.then(|| Self {
            sticks: list.plan.cost,
            hardware: hardware.iter().filter_map(|line| line.cents).sum(),
            without: without.into_iter().collect(),
        })
    }

    /// What the sum leaves out, in words; empty where it is whole.
    #[must_use]
    pub fn caveat(&self) -> String {
        if self.without.is_empty() {
            String::new()
        } else {
            format!("without a price and not in the sum: {}", self.without.join("; "))
        }
    }

    /// The sum in one sentence.
    #[must_use]
    pub fn sentence(&self, money: Money) -> String {
        let [sticks, hardware, all] = [self.sticks, self.hardware, self.cents()].map(|cents| amount(cents, money));
        let caveat = if self.without.is_empty() { String::new() } else { format!("; {}", self.caveat()) };
        format!("Sticks {sticks}, hardware {hardware}, together {all}{caveat}.")
    }

    /// The sum (cents).
    #[must_use]
    pub fn cents(&self) -> i64 {
        self.sticks + self.hardware
    }
}
