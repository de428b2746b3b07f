//! Saw, stock and prices.

use super::super::{
    Fault,
    judge::Judge,
    model::{PricedStick, Shop},
};
use crate::{
    catalogue::Section,
    quantities::{Length, Price},
};

/// A row of `shop.stock` as far as it was read.
struct StockRow {
    section: Option<&'static Section>,
    length: Option<Length>,
    price: Option<Price>,
    available: Option<u32>,
}

impl Judge<'_> {
    pub(super) fn shop(&mut self) -> Shop {
        let rows: Vec<StockRow> = (0..self.rows("shop.stock")).map(|at| self.stock_row(at)).collect();
        self.refuse_half_priced(&rows);
        let hardware = self.hardware();
        let currency = self.currency();
        let stock = rows.into_iter().filter_map(|row| {
            let price = row.price.map(|price| price.amount);
            Some(PricedStick { section: row.section?, length: row.length?, price, available: row.available })
        });
        Shop {
            stock: stock.collect(),
            kerf: self.quantity_or_default("shop.kerf"),
            end_trim: self.quantity_or_default("shop.end_trim"),
            nest_mitres: self.get_or_default("shop.nest_mitres"),
            currency,
            hardware,
        }
    }

    fn stock_row(&mut self, at: usize) -> StockRow {
        let field = |name: &str| format!("shop.stock.{at}.{name}");
        StockRow {
            section: self.section(&field("section")),
            length: self.length(&field("length")),
            price: self.price(&field("price")),
            available: self.count(&field("available")),
        }
    }

    /// A section's sticks all have a price, or none has.
    fn refuse_half_priced(&mut self, rows: &[StockRow]) {
        let name = |row: &StockRow| row.section.map(|section| section.name.as_str());
        for (at, row) in rows.iter().enumerate() {
            let has_price = |other: &StockRow| other.price.is_some_and(|price| price.amount > 0.0);
            let is_priced =
                name(row).is_some() && rows.iter().any(|other| name(other) == name(row) && has_price(other));
            let is_written = self.is_written(&format!("shop.stock.{at}.price"));
            if let (false, true, Some(section)) = (is_written, is_priced, name(row)) {
                let sentence = format!("`price` is missing: other sticks of {section} have one");
                let fault = Fault::new("missing-field", format!("shop.stock.{at}"), sentence);
                self.fault(fault.hint("give every stick of a section its price, or none of them"));
            }
        }
    }
}
