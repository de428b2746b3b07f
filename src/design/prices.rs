//! Prices of everything that is not a stick, as the design's `shop.hardware` lists them.

use super::{fault::Fault, judge::Judge};
use crate::quantities::{Length, Mass, Price};
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

impl Judge<'_> {
    /// A price; one that is none is a fault.
    pub(super) fn price(&mut self, field: &str) -> Option<Price> {
        let price: Price = self.get(field)?;
        self.judge_range(field, price.amount);
        self.advise(field, "write the price of one piece in your money, for instance `price: 4.58` or `price: $4.58`");
        Some(price)
    }

    /// The currency that is named, else that of the one sign in use. A sign that contradicts either is a fault: amounts of
    /// two moneys are never added.
    pub(super) fn currency(&mut self) -> Option<Currency> {
        let rows = ["shop.stock", "shop.hardware"].map(|list| (list, self.rows(list)));
        let fields = rows.iter().flat_map(|(list, rows)| (0..*rows).map(move |at| format!("{list}.{at}.price")));
        let signed: Vec<(String, f64, char)> = fields
            .filter_map(|field| {
                let price = Price::deserialize(self.value(&field)?).ok()?;
                Some((field, price.amount, price.sign?))
            })
            .collect();
        if !self.is_written("shop.currency") {
            return self.currency_of_signs(&signed);
        }
        let currency = self.named_currency()?;
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

    fn named_currency(&mut self) -> Option<Currency> {
        let text: String = self.get("shop.currency")?;
        let read = Currency::read(&text);
        if read.is_none() {
            self.fault(Fault::new("bad-value", "shop.currency", format!("`{text}` is no currency")).hint(
                "write its three capital letters, for instance `currency: EUR`; left out, the sign of the prices names it",
            ));
        }
        read
    }

    pub(super) fn hardware(&mut self) -> Vec<PricedGoods> {
        let mut priced: Vec<PricedGoods> = Vec::new();
        for at in 0..self.rows("shop.hardware") {
            let own = format!("shop.hardware.{at}");
            let Some(goods) = self.goods(&own) else { continue };
            let is_same = |p: &PricedGoods| {
                p.goods == goods.goods && p.size == goods.size && p.length == goods.length && p.mass == goods.mass
            };
            if let Some(first) = priced.iter().position(is_same) {
                let sentence = format!("`{}` of that size has a price already", goods.goods.word());
                let hint = format!("keep row {} of `shop.hardware` or this one", first + 1);
                self.fault(Fault::new("priced-twice", &own, sentence).hint(hint));
            }
            priced.push(goods);
        }
        priced
    }

    fn goods(&mut self, own: &str) -> Option<PricedGoods> {
        let field = |name: &str| format!("{own}.{name}");
        let item: Option<Goods> = self.choice(&field("item"));
        let price = self.price(&field("price"));
        let length = self.length(&field("length"));
        let mass = self.quantity(&field("mass"));
        let goods = item?;
        self.refuse_unmeant(own, goods);
        let name = goods.has_size().then(|| field("size")).filter(|size| self.is_written(size));
        let size = match (goods, name) {
            (Goods::Bolt | Goods::LagScrew, Some(name)) => Some(self.bolt(&name)?.name),
            (Goods::Screw, Some(name)) => Some(self.screw(&name)?.name),
            _ => None,
        };
        Some(PricedGoods { goods, size, length, mass, price: price?.amount })
    }

    /// Of size, length and mass, goods have those that they are sold by.
    fn refuse_unmeant(&mut self, own: &str, goods: Goods) {
        let word = goods.word();
        let takes_length = goods.has_size() || goods.is_cut();
        let size = if goods == Goods::Screw { "\"#10\"" } else { "1/2 in" };
        let meant = [
            ("size", goods.has_size(), goods.has_size(), size),
            ("length", takes_length, goods.is_cut(), "10 ft"),
            ("mass", goods == Goods::Ballast, goods == Goods::Ballast, "40 lb"),
        ];
        for (name, may, must, example) in meant {
            let field = format!("{own}.{name}");
            let given = self.is_written(&field);
            if given && !may {
                let sentence = format!("`{word}` has no `{name}`");
                self.fault(Fault::new("field-without-meaning", field, sentence).hint("remove it"));
            }
            if must && !given {
                self.fault(
                    Fault::new("missing-field", own, format!("`{name}` is missing: `{word}` is priced by it"))
                        .hint(format!("add for instance `{name}: {example}`")),
                );
            }
        }
    }
}
