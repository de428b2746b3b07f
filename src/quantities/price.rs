//! A price as a receipt shows it: `31`, `31.50`, `$31.50`.

use serde::{Deserialize, Deserializer, de};
use std::{fmt, str::FromStr};
use thiserror::Error;

/// Currency signs that are read, before or after the number.
const SIGNS: [char; 3] = ['$', '€', '£'];

/// A price of one piece. The sign is kept for files that say what they count in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Price {
    /// The number as written.
    pub amount: f64,
    /// The currency sign beside it, if any.
    pub sign: Option<char>,
}

/// A text that is no price.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{given}` is no price; write a plain number, 31.50, or one with its sign, $31.50")]
pub struct NoPrice {
    /// The text as written.
    pub given: String,
}

impl FromStr for Price {
    type Err = NoPrice;

    fn from_str(text: &str) -> Result<Self, NoPrice> {
        let plain = text.trim();
        let sign =
            plain.chars().next().filter(|c| SIGNS.contains(c)).or(plain.chars().last().filter(|c| SIGNS.contains(c)));
        let number =
            sign.map_or(plain, |sign| plain.strip_prefix(sign).or(plain.strip_suffix(sign)).unwrap_or(plain)).trim();
        // `inf`, `nan` and `1e5` are numbers to a parser and no prices to anybody.
        let written = number.starts_with(|c: char| c.is_ascii_digit() || c == '.' || c == '-')
            && number.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
        match number.parse() {
            Ok(amount) if written => Ok(Self { amount, sign }),
            _ => Err(NoPrice { given: text.trim().chars().take(40).filter(|c| !c.is_control()).collect() }),
        }
    }
}

impl<'de> Deserialize<'de> for Price {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Visitor;
        impl de::Visitor<'_> for Visitor {
            type Value = Price;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a price, 31.50 or $31.50")
            }
            fn visit_f64<E: de::Error>(self, amount: f64) -> Result<Price, E> {
                Ok(Price { amount, sign: None })
            }
            fn visit_i64<E: de::Error>(self, amount: i64) -> Result<Price, E> {
                self.visit_f64(amount as f64)
            }
            fn visit_u64<E: de::Error>(self, amount: u64) -> Result<Price, E> {
                self.visit_f64(amount as f64)
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Price, E> {
                text.parse().map_err(E::custom)
            }
        }
        deserializer.deserialize_any(Visitor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_as_a_receipt_shows_them() {
        for (text, amount, sign) in [
            ("31", 31.0, None),
            ("31.50", 31.5, None),
            ("$31", 31.0, Some('$')),
            ("$ 31.50", 31.5, Some('$')),
            ("31.50 €", 31.5, Some('€')),
            (" £4 ", 4.0, Some('£')),
        ] {
            assert_eq!(text.parse::<Price>(), Ok(Price { amount, sign }), "{text}");
        }
    }

    #[test]
    fn what_is_no_price_is_refused_with_what_is_read() {
        for text in ["", "$", "31 dollars", "$1,250", "$$31", "$31$", "inf", "nan", "1e3", "31-", "3.1.4"] {
            let error = text.parse::<Price>().expect_err(text).to_string();
            assert!(error.ends_with("write a plain number, 31.50, or one with its sign, $31.50"), "{error}");
        }
    }
}
