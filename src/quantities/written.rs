//! A quantity in a file: text with a unit, read while the file is read.

use super::parse::{Readable, article, read};
use serde::{Deserialize, Deserializer, de};
use std::{fmt, marker::PhantomData};

/// A quantity as it stands in a design file. Its `Deserialize` accepts text with a unit only; a bare number is
/// an error that names the units that fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Written<Q>(pub Q);

impl<'de, Q: Readable> Deserialize<'de> for Written<Q> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Text<Q>(PhantomData<Q>);
        impl<Q: Readable> de::Visitor<'_> for Text<Q> {
            type Value = Written<Q>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} {} with its unit, for instance {}", article(Q::KIND), Q::KIND, Q::EXAMPLE)
            }

            fn visit_str<E: de::Error>(self, text: &str) -> Result<Self::Value, E> {
                read(text).map(Written).map_err(E::custom)
            }

            fn visit_f64<E: de::Error>(self, value: f64) -> Result<Self::Value, E> {
                Err(E::custom(format!(
                    "{value} has no unit; {} {} is written with one of: {}",
                    article(Q::KIND),
                    Q::KIND,
                    Q::accepted()
                )))
            }

            fn visit_i64<E: de::Error>(self, value: i64) -> Result<Self::Value, E> {
                self.visit_f64(value as f64)
            }

            fn visit_u64<E: de::Error>(self, value: u64) -> Result<Self::Value, E> {
                self.visit_f64(value as f64)
            }
        }
        deserializer.deserialize_any(Text(PhantomData))
    }
}
