//! What goods cost by the rows of `shop.hardware`, and what all of a design costs together.

use super::{
    cut_list::CutList,
    cut_plan::{Money, amount},
    hardware::{HardwareLine, Sold},
};
use crate::{
    design::{Goods, PricedGoods},
    quantities::{Units, length, mass, to_kg, to_mm},
};
use std::collections::{BTreeMap, BTreeSet};

/// What a saw takes between two spacers (mm); common practice, no source.
const SPACER_KERF_MM: f64 = 3.0;

/// How the goods of a line are bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bought {
    /// The row of `shop.hardware` that prices them.
    pub row: usize,
    /// How many of what that row prices: sticks or coils of what is cut to length, blocks of ballast, else pieces.
    pub count: i64,
    /// Price of one (cents).
    pub each: i64,
}

impl Bought {
    /// Price of all of them (cents).
    #[must_use]
    pub fn cents(self) -> i64 {
        self.count * self.each
    }
}

/// The cheapest way to buy so many of what is sold; nothing where no row prices it.
pub(super) fn price(rows: &[PricedGoods], sold: &Sold, quantity: usize) -> Option<Bought> {
    let same = || rows.iter().enumerate().filter(|(_, p)| p.goods == sold.goods && p.size == sold.size);
    let n = quantity as i64;
    let bought = |row: usize, count: i64| Bought { row, count, each: cents(rows[row].price) };
    if let Some(each_kg) = sold.mass_kg {
        // A block that is missing a hair is no block more.
        let blocks = |p: &PricedGoods| Some((each_kg * quantity as f64 / to_kg(p.mass?) - 1e-9).ceil() as i64);
        return same().filter_map(|(row, p)| Some(bought(row, blocks(p)?))).min_by_key(|bought| bought.cents());
    }
    if sold.goods.is_cut() {
        let each = sold.length_mm?;
        let sticks = |(row, p): (usize, &PricedGoods)| {
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
            Some(bought(row, count))
        };
        return same().filter_map(sticks).min_by_key(|bought| bought.cents());
    }
    let near = |p: &PricedGoods| matches!((p.length, sold.length_mm), (Some(a), Some(b)) if (to_mm(a) - b).abs() < 0.6);
    let (row, _) = same().find(|(_, p)| near(p)).or_else(|| same().find(|(_, p)| p.length.is_none()))?;
    Some(bought(row, n))
}

/// Prices of `shop.hardware` that nothing is bought by: a sentence for each kind of goods, with what is bought instead.
#[must_use]
pub fn unused_prices(rows: &[PricedGoods], lines: &[HardwareLine], units: Units) -> Vec<String> {
    let is_used = |row: usize| lines.iter().filter_map(|line| line.bought).any(|bought| bought.row == row);
    let mut unused: BTreeMap<Goods, Vec<String>> = BTreeMap::new();
    for (_, row) in rows.iter().enumerate().filter(|(row, _)| !is_used(*row)) {
        let long = row.length.map(|long| length(long, units));
        let of = [row.size.map(str::to_string), long, row.mass.map(|heavy| mass(heavy, units))];
        unused.entry(row.goods).or_default().push(of.into_iter().flatten().collect::<Vec<_>>().join(" x "));
    }
    let sentence = |(goods, sizes): (Goods, Vec<String>)| {
        let word = goods.word();
        let kind = lines.iter().filter(|line| line.sold.is_some_and(|sold| sold.goods == goods));
        let bought: BTreeSet<&str> = kind.map(|line| line.size.as_str()).collect();
        let bought = match bought.len() {
            0 => format!("no {word}"),
            _ => bought.into_iter().collect::<Vec<_>>().join(", "),
        };
        let sizes = sizes.into_iter().filter(|size| !size.is_empty()).collect::<Vec<_>>().join(", ");
        let what = if sizes.is_empty() { word.to_string() } else { format!("{word} {sizes}") };
        format!("The price of {what} is not used: the design buys {bought}.")
    };
    unused.into_iter().map(sentence).collect()
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
    /// Sticks (cents); nothing where none has a price.
    pub sticks: Option<i64>,
    /// Hardware (cents); nothing where none has a price.
    pub hardware: Option<i64>,
    /// Sticks without a price, by their section.
    pub sticks_without: Vec<String>,
    /// Hardware without a price.
    pub hardware_without: Vec<String>,
}

impl Total {
    /// The sum of a design; nothing where no price is given at all.
    #[must_use]
    pub fn of(list: &CutList, hardware: &[HardwareLine]) -> Option<Self> {
        let sections: BTreeSet<&str> = list.lines.iter().map(|line| line.piece.section.name.as_str()).collect();
        let unpriced = |section: &str| list.unpriced.iter().any(|without| without.section == section);
        let sticks = sections.iter().filter(|section| unpriced(section)).map(|section| format!("{section} sticks"));
        let goods = hardware.iter().filter(|line| line.sold.is_some() && line.bought.is_none());
        let goods: BTreeSet<String> = goods.map(|line| line.item.clone()).collect();
        let paid: Vec<i64> = hardware.iter().filter_map(HardwareLine::cents).collect();
        let total = Self {
            sticks: (list.unpriced.len() < sections.len()).then_some(list.plan.cost),
            hardware: (!paid.is_empty()).then(|| paid.iter().sum()),
            sticks_without: sticks.collect(),
            hardware_without: goods.into_iter().collect(),
        };
        (total.sticks.is_some() || total.hardware.is_some()).then_some(total)
    }

    /// Everything that has no price.
    #[must_use]
    pub fn without(&self) -> Vec<String> {
        [self.sticks_without.as_slice(), &self.hardware_without].concat()
    }

    /// The sum in words; what has no price at all is never counted as nothing.
    #[must_use]
    pub fn sentence(&self, money: Money) -> String {
        let show = |cents: i64| amount(cents, money);
        let (sum, without) = match (self.sticks, self.hardware) {
            (Some(sticks), Some(hardware)) => {
                let all = show(sticks + hardware);
                (format!("Sticks {}, hardware {}, together {all}", show(sticks), show(hardware)), self.without())
            }
            (sticks, hardware) => {
                let (priced, none, without) = match (sticks, hardware) {
                    (None, hardware) => {
                        (hardware.map(|cents| format!("Hardware {}", show(cents))), "stick", &self.hardware_without)
                    }
                    (sticks, _) => {
                        (sticks.map(|cents| format!("Sticks {}", show(cents))), "hardware", &self.sticks_without)
                    }
                };
                let priced = priced.unwrap_or_default();
                (format!("{priced}; no {none} has a price, so there is no total"), without.clone())
            }
        };
        if without.is_empty() { format!("{sum}.") } else { format!("{sum}; {}.", caveat(&without)) }
    }

    /// The sum of both (cents); nothing where one of them has no price at all.
    #[must_use]
    pub fn cents(&self) -> Option<i64> {
        Some(self.sticks? + self.hardware?)
    }
}

/// What a sum leaves out, in words; empty where it is whole.
pub(crate) fn caveat(without: &[String]) -> String {
    if without.is_empty() {
        return String::new();
    }
    format!("without a price and not in the sum: {}", without.join("; "))
}
