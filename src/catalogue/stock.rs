//! Lengths that yards usually keep.

use super::{
    section::{Family, SawnClass, Section, Shape},
    source::{Certainty, Source},
};
use crate::quantities::MM_PER_FT;
use serde::Serialize;

/// Where the sticks are bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Market {
    /// United States and Canada.
    NorthAmerica,
    /// United Kingdom.
    UnitedKingdom,
    /// Finland, Sweden, Norway.
    Nordic,
}

/// Lengths a yard keeps.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct YardLengths {
    /// Lengths, shortest first (mm).
    pub lengths_mm: Vec<f64>,
    /// Where the figures come from.
    pub source: Source,
}

/// Distributors list 8 to 20 ft; 18 and 20 ft are kept of the wide sizes, and of treated wood on order only.
const LUMBER_NA: Source = Source::new("distributor stock lists;", "where each size ends", Certainty::Practice);
const TIMBERS_NA: Source = Source::new("as 4x4 to 6x6;", "larger timbers", Certainty::Practice);
const POSTS_NA: Source = Source::new("materials list", "4x4, 4x6, 6x6", Certainty::Transcribed);
const SOFTWOOD_UK: Source = Source::new("UK softwood trade", "steps of 0.3 m", Certainty::Transcribed);
const SOFTWOOD_NORDIC: Source = Source::new("Puuinfo", "steps of 0.3 m", Certainty::Read);
const STEEL_NA: Source = Source::new("steel trade", "usual lengths", Certainty::Memory);
const STEEL_EU: Source = Source::new("steel trade", "usual lengths", Certainty::Memory);
const ALUMINIUM_NA: Source = Source::new("aluminium trade", "usual lengths", Certainty::Memory);

fn feet(lengths: &[f64], source: Source) -> YardLengths {
    YardLengths { lengths_mm: lengths.iter().map(|ft| ft * MM_PER_FT).collect(), source }
}

fn steps(from_mm: u32, to_mm: u32, source: Source) -> YardLengths {
    YardLengths { lengths_mm: (from_mm..=to_mm).step_by(300).map(f64::from).collect(), source }
}

/// The lengths that a market keeps of a section, plain or treated.
#[must_use]
pub fn stock_lengths(section: &Section, market: Market, treated: bool) -> YardLengths {
    match (section.family, market) {
        (Family::Wood, Market::NorthAmerica) => {
            let (post, wide) = match section.shape {
                Shape::Sawn { nominal_in: Some([thick, wide]), .. } => (thick >= 4.0, wide >= 8.0),
                _ => (section.sawn_class() != Some(SawnClass::Dimension), false),
            };
            match (post, wide && !treated) {
                (true, _) => feet(&[8.0, 10.0, 12.0, 16.0], if wide { TIMBERS_NA } else { POSTS_NA }),
                (false, true) => feet(&[8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0], LUMBER_NA),
                (false, false) => feet(&[8.0, 10.0, 12.0, 14.0, 16.0], LUMBER_NA),
            }
        }
        (Family::Wood, Market::UnitedKingdom) => steps(1800, 7200, SOFTWOOD_UK),
        (Family::Wood, Market::Nordic) => steps(2700, 5400, SOFTWOOD_NORDIC),
        (Family::Steel, Market::NorthAmerica) if section.shape == Shape::Pipe => feet(&[21.0], STEEL_NA),
        (Family::Steel, Market::NorthAmerica) => feet(&[20.0, 24.0], STEEL_NA),
        (Family::Aluminium, Market::NorthAmerica) => feet(&[12.0, 16.0, 20.0, 25.0], ALUMINIUM_NA),
        (Family::Steel | Family::Aluminium, _) => YardLengths { lengths_mm: vec![6000.0], source: STEEL_EU },
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::section;

    #[test]
    fn every_section_has_stock_in_every_market() {
        for s in crate::catalogue::sections() {
            for market in [Market::NorthAmerica, Market::UnitedKingdom, Market::Nordic] {
                let stock = stock_lengths(s, market, false);
                assert!(stock.lengths_mm.is_sorted() && !stock.lengths_mm.is_empty(), "{}", s.name);
            }
        }
        let longest = |name, treated| {
            let stock = stock_lengths(section(name).expect("a size"), Market::NorthAmerica, treated);
            stock.lengths_mm.last().map(|mm| (mm / MM_PER_FT).round())
        };
        assert_eq!([longest("2x4", false), longest("2x6", false), longest("2x8", true)], [Some(16.0); 3]);
        assert_eq!([longest("2x8", false), longest("4x4", true)], [Some(20.0), Some(16.0)]);
    }
}
