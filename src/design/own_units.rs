//! The system of units that a design is written in, where it does not say so.

use crate::{
    catalogue::{Family, bolt, section},
    quantities::{Length, Units, read},
};
use serde_yaml::Value;

/// Blocks whose lengths tell; sizes of a panel do not, for data sheets are metric everywhere.
const TELLING: [&str; 3] = ["frame", "support", "shop"];

/// The system that most lengths, bolts and section names of a design belong to; customary units where nothing tells.
pub(super) fn own_units(design: &Value) -> Units {
    let mut metric_over_us = 0;
    for block in TELLING.iter().filter_map(|block| design.get(block)) {
        count(block, &mut metric_over_us);
    }
    if metric_over_us > 0 { Units::Metric } else { Units::Us }
}

fn count(value: &Value, metric_over_us: &mut i64) {
    match value {
        Value::Mapping(fields) => fields.values().for_each(|below| count(below, metric_over_us)),
        Value::Sequence(items) => items.iter().for_each(|below| count(below, metric_over_us)),
        Value::String(text) => {
            *metric_over_us += match units_of(text) {
                Some(Units::Metric) => 1,
                Some(Units::Us) => -1,
                None => 0,
            };
        }
        _ => {}
    }
}

fn units_of(text: &str) -> Option<Units> {
    let metric = if read::<Length>(text).is_ok() || bolt(text).is_ok() {
        // Every metric unit and size has an m in its name, no customary one has.
        text.contains(['m', 'M'])
    } else {
        // The tables of metal hold customary sizes alone, so those tell nothing.
        let section = section(text).ok().filter(|section| section.family == Family::Wood)?;
        [section.width_mm, section.depth_mm].iter().all(|side| (side - side.round()).abs() < 1e-9)
    };
    Some(if metric { Units::Metric } else { Units::Us })
}
