//! Prices of everything that is not a stick, as the design's `shop.hardware` lists them.

use super::{fault::Fault, resolve::Judge, written};
use crate::{
    catalogue,
    quantities::{self, Length, Mass, Price, Written, kg, mass_range, mm, to_kg},
};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What prices are in: the three capital letters of a currency (ISO 4217).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Currency([u8; 3]);

impl Currency {
    /// Reads the three letters.
    #[must_use]
    pub fn read(text: &str) -> Option<Self> {
        let letters: [u8; 3] = text.as_bytes().try_into().ok()?;
        letters.iter().all(u8::is_ascii_uppercase).then_some(Self(letters))
    }
}

/// Signs that prices are read with, the currency that one names by itself, and the others it stands for
/// (ISO 4217, from memory).
const SIGNS: [(char, &str, &[&str]); 3] = [
    ('$', "USD", &["CAD", "AUD", "NZD", "HKD", "SGD", "TWD", "MXN", "ARS", "CLP", "COP", "UYU", "DOP", "BRL"]),
    ('€', "EUR", &[]),
    ('£', "GBP", &["EGP", "FKP", "GIP", "LBP", "SHP", "SSP", "SYP"]),
];

impl Currency {
    /// The currency that a sign names where nobody names another.
    fn of_sign(sign: char) -> Option<Self> {
        SIGNS.iter().find(|(own, ..)| *own == sign).and_then(|(_, name, _)| Self::read(name))
    }

    fn has_sign(self, sign: char) -> bool {
        let others = SIGNS.iter().filter(|(own, ..)| *own == sign).flat_map(|(.., others)| others.iter());
        Self::of_sign(sign) == Some(self) || others.into_iter().any(|name| Self::read(name) == Some(self))
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|letter| write!(f, "{}", char::from(*letter)))
    }
}

/// Kinds of goods.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Goods {
    /// A hex bolt with its nut and washers.
    Bolt,
    /// A lag screw with its washer.
    LagScrew,
    /// Tube to cut spacers from, by the stick.
    SpacerTube,
    /// One screw.
    Screw,
    /// An angle clip of a panel.
    Clip,
    /// The bolt between clip or purlin and panel.
    PanelBolt,
    /// One bag of concrete mix: 80 lb or 25 kg, as the hardware list counts them.
    ConcreteBag,
    /// Gravel under one post.
    Gravel,
    /// A ground stake with its screws.
    Stake,
    /// A roof bracket with its flashing.
    RoofBracket,
    /// A bolt into a deck's framing.
    DeckBolt,
    /// The shim under a runner.
    Shim,
    /// A bonding lug.
    Lug,
    /// Bare copper wire, by the coil.
    Copper,
    /// Ballast, by the block.
    Ballast,
}

/// One row of `shop.hardware` as written.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct WrittenGoods {
    item: Goods,
    #[serde(default)]
    size: Option<String>,
    #[serde(default)]
    length: Option<Written<Length>>,
    #[serde(default)]
    mass: Option<Written<Mass>>,
    price: Price,
}

/// Goods with a price.
#[derive(Debug, Clone, PartialEq)]
pub struct PricedGoods {
    /// What it is.
    pub goods: Goods,
    /// Bolt or screw size as the catalogue names it.
    pub size: Option<&'static str>,
    /// Length of one; for a bolt or screw without it the price holds for every length.
    pub length: Option<Length>,
    /// Mass of one block of ballast.
    pub mass: Option<Mass>,
    /// Price of one, in the design's money.
    pub price: f64,
}

impl Goods {
    /// As a design file names it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Bolt => "bolt",
            Self::LagScrew => "lag-screw",
            Self::SpacerTube => "spacer-tube",
            Self::Screw => "screw",
            Self::Clip => "clip",
            Self::PanelBolt => "panel-bolt",
            Self::ConcreteBag => "concrete-bag",
            Self::Gravel => "gravel",
            Self::Stake => "stake",
            Self::RoofBracket => "roof-bracket",
            Self::DeckBolt => "deck-bolt",
            Self::Shim => "shim",
            Self::Lug => "lug",
            Self::Copper => "copper",
            Self::Ballast => "ballast",
        }
    }

    /// Sold by a bolt's or screw's size?
    #[must_use]
    pub fn has_size(self) -> bool {
        matches!(self, Self::Bolt | Self::LagScrew | Self::Screw)
    }

    /// Sold by the stick or coil and cut to length?
    #[must_use]
    pub fn is_cut(self) -> bool {
        matches!(self, Self::SpacerTube | Self::Copper)
    }
}

impl Judge {
    /// A price that is none is a fault.
    pub(super) fn price(&mut self, field: &str, price: f64) {
        if !(price.is_finite() && (0.0..=1e6).contains(&price)) {
            self.fault(
                Fault::new("out-of-range", field, format!("a price of {price} is no price"))
                    .hint("write the price of one piece in your money, for instance `price: 4.58` or `price: $4.58`"),
            );
        }
    }

    /// The currency that is named, else that of the one sign in use. A sign that contradicts either is a fault: amounts of
    /// two moneys are never added.
    pub(super) fn currency(&mut self, shop: &written::Shop) -> Option<Currency> {
        let stock = shop.stock.iter().enumerate().filter_map(|(i, row)| Some((format!("shop.stock.{i}"), row.price?)));
        let goods = shop.hardware.iter().enumerate().map(|(i, row)| (format!("shop.hardware.{i}"), row.price));
        let signed: Vec<(String, f64, char)> = stock
            .chain(goods)
            .filter_map(|(row, price)| Some((format!("{row}.price"), price.amount, price.sign?)))
            .collect();
        let Some(named) = &shop.currency else { return self.currency_of_signs(&signed) };
        let currency = self.named_currency(named)?;
        for (field, amount, sign) in signed.iter().filter(|(.., sign)| !currency.has_sign(*sign)) {
            let sentence = format!("the price {sign}{amount} is not in the currency of the design, {currency}");
            let mut hint = format!("write the price in {currency}: `price: {amount}` if that is what it costs");
            if let Some(other) = Currency::of_sign(*sign).filter(|other| signed.iter().all(|s| other.has_sign(s.2))) {
                hint += &format!(", or name the other: `currency: {other}`");
            }
            self.fault(Fault::new("other-money", field, sentence).hint(hint));
        }
        Some(currency)
    }

    fn currency_of_signs(&mut self, signed: &[(String, f64, char)]) -> Option<Currency> {
        let (first, first_amount, sign) = signed.first()?;
        for (field, amount, other) in signed.iter().filter(|(.., other)| other != sign) {
            let sentence =
                format!("the price {other}{amount} is in another money than `{first}`, {sign}{first_amount}");
            let hint = format!("write all prices in one money, here for instance `price: {sign}{amount}`");
            self.fault(Fault::new("other-money", field, sentence).hint(hint));
        }
        Currency::of_sign(*sign)
    }

    fn named_currency(&mut self, text: &str) -> Option<Currency> {
        let read = Currency::read(text);
        if read.is_none() {
            self.fault(Fault::new("bad-value", "shop.currency", format!("`{text}` is no currency")).hint(
                "write its three capital letters, for instance `currency: EUR`; left out, the sign of the prices names it",
            ));
        }
        read
    }

    pub(super) fn hardware(&mut self, rows: &[WrittenGoods]) -> Vec<PricedGoods> {
        let mut priced: Vec<PricedGoods> = Vec::new();
        for (i, row) in rows.iter().enumerate() {
            let own = format!("shop.hardware.{i}");
            let Some(goods) = self.goods(&own, row) else { continue };
            let is_same = |p: &PricedGoods| {
                p.goods == goods.goods && p.size == goods.size && p.length == goods.length && p.mass == goods.mass
            };
            if let Some(first) = priced.iter().position(is_same) {
                self.fault(
                    Fault::new("priced-twice", &own, format!("`{}` of that size has a price already", row.item.word()))
                        .hint(format!("keep row {} of `shop.hardware` or this one", first + 1)),
                );
            }
            priced.push(goods);
        }
        priced
    }

    fn goods(&mut self, own: &str, row: &WrittenGoods) -> Option<PricedGoods> {
        let word = row.item.word();
        let field = |name: &str| format!("{own}.{name}");
        self.price(&field("price"), row.price.amount);
        let takes_length = row.item.has_size() || row.item.is_cut();
        let size = if row.item == Goods::Screw { "\"#10\"" } else { "1/2 in" };
        let meant = [
            ("size", row.size.is_some(), row.item.has_size(), row.item.has_size(), size),
            ("length", row.length.is_some(), takes_length, row.item.is_cut(), "10 ft"),
            ("mass", row.mass.is_some(), row.item == Goods::Ballast, row.item == Goods::Ballast, "40 lb"),
        ];
        for (name, given, may, must, example) in meant {
            if given && !may {
                self.fault(
                    Fault::new("field-without-meaning", field(name), format!("`{word}` has no `{name}`"))
                        .hint("remove it"),
                );
            }
            if must && !given {
                self.fault(
                    Fault::new("missing-field", own, format!("`{name}` is missing: `{word}` is priced by it"))
                        .hint(format!("add for instance `{name}: {example}`")),
                );
            }
        }
        let size = match (row.item, &row.size) {
            (Goods::Bolt | Goods::LagScrew, Some(name)) => match catalogue::bolt(name) {
                Ok(bolt) => Some(bolt.name),
                Err(error) => {
                    self.fault(Fault::new("unknown-bolt", field("size"), error.to_string()));
                    return None;
                }
            },
            (Goods::Screw, Some(name)) => match catalogue::screw(name) {
                Ok(screw) => Some(screw.name),
                Err(error) => {
                    self.fault(Fault::new("unknown-screw", field("size"), error.to_string()));
                    return None;
                }
            },
            _ => None,
        };
        let length = self.optional(&field("length"), row.length, mm(10.0), mm(100_000.0));
        if let Some(mass) = row.mass
            && !(0.5..=2000.0).contains(&to_kg(mass.0))
        {
            let range = mass_range([kg(0.5), kg(2000.0)], self.units());
            self.out_of_range(&field("mass"), &quantities::mass(mass.0, self.units()), &range);
        }
        Some(PricedGoods { goods: row.item, size, length, mass: row.mass.map(|m| m.0), price: row.price.amount })
    }
}
