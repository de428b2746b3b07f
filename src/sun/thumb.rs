//! Rules of thumb for tilts, judged against the computed optimum.

use super::{
    calendar::MonthDay,
    fault::SunFault,
    seasons::{Season, SeasonPlan, Study, from_dates},
};
use crate::quantities::{Angle, deg};
use std::collections::{BTreeMap, btree_map::Entry};

/// A rule that builders use, with what it costs here.
#[derive(Debug, Clone, PartialEq)]
pub struct Rule {
    /// The rule in words.
    pub name: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// The seasons it gives at this latitude.
    pub seasons: Vec<Season>,
    /// Share of the year's energy lost against the best plan with as many seasons, 0.004 for 0.4 %.
    pub loss: f64,
    /// Share gained over the best fixed tilt; negative for a loss.
    pub gain_over_fixed: f64,
    /// Share gained in the three darkest months over the best plan of the year with as many seasons; negative for a loss.
    pub winter_gain: f64,
}

/// What a rule says: first day (month, day, northern hemisphere), slope and offset of the tilt in the latitude.
type Step = (u8, u8, f64, f64);

struct Written {
    name: &'static str,
    source: &'static str,
    steps: &'static [Step],
    /// Latitudes (without sign) that the rule was made for (deg).
    latitudes: (f64, f64),
}

const COMMON: &str = "common practice, no source";
const FITTED: &str =
    "C. R. Landau, Optimum Tilt of Solar Panels, web article; figures from a second-hand copy, not confirmed";

const RULES: [Written; 6] = [
    Written { name: "fixed at the latitude", source: COMMON, steps: &[(1, 1, 1.0, 0.0)], latitudes: (0.0, 90.0) },
    Written {
        name: "latitude plus 10 deg, fixed, leaned to winter",
        source: COMMON,
        steps: &[(1, 1, 1.0, 10.0)],
        latitudes: (30.0, 40.0),
    },
    Written {
        name: "latitude less 15 deg in summer, plus 15 deg in winter, changed at the equinoxes",
        source: COMMON,
        steps: &[(3, 20, 1.0, -15.0), (9, 22, 1.0, 15.0)],
        latitudes: (0.0, 75.0),
    },
    Written {
        name: "0.76 × latitude + 3.1 deg, fixed",
        source: FITTED,
        steps: &[(1, 1, 0.76, 3.1)],
        latitudes: (25.0, 50.0),
    },
    Written {
        name: "0.93 × latitude - 21 deg from 30 March, 0.875 × latitude + 19.2 deg from 11 September",
        source: FITTED,
        steps: &[(3, 30, 0.93, -21.0), (9, 11, 0.875, 19.2)],
        latitudes: (25.0, 50.0),
    },
    Written {
        name: "0.98 × latitude - 2.3 deg in spring and autumn, 0.92 × latitude - 24.3 deg in summer, 0.89 × latitude + 24 deg in winter",
        source: FITTED,
        steps: &[(3, 5, 0.98, -2.3), (4, 18, 0.92, -24.3), (8, 23, 0.98, -2.3), (10, 6, 0.89, 24.0)],
        latitudes: (25.0, 50.0),
    },
];

/// Half a year, by which dates of the northern hemisphere are moved for the southern one (days).
const HALF_YEAR: usize = 182;

/// The rules that were made for this latitude, each with its loss.
///
/// # Errors
/// Passed on from the plans they are compared with; none for a valid place.
pub fn rules(study: &Study) -> Result<Vec<Rule>, SunFault> {
    // An angle is kept in radians: 30 comes back a last digit short, and a rule from 30 on must know it.
    let latitude_deg = (study.place().latitude_deg() * 1e9).round() / 1e9;
    let winter = study.place().winter_months();
    let mut best: BTreeMap<usize, SeasonPlan> = BTreeMap::new();
    let mut found = Vec::new();
    for rule in &RULES {
        if !(rule.latitudes.0..=rule.latitudes.1).contains(&latitude_deg.abs()) {
            continue;
        }
        let count = rule.steps.len();
        let optimum = match best.entry(count) {
            Entry::Occupied(found) => found.into_mut(),
            Entry::Vacant(open) => open.insert(study.plan(count)?),
        };
        let plan = study.worth(&applied(rule.steps, latitude_deg)?);
        let gain = |ours: f64, theirs: f64| if theirs > 0.0 { ours / theirs - 1.0 } else { 0.0 };
        let dark = |seasons: &[Season]| study.months_kwh(seasons, &winter);
        found.push(Rule {
            name: rule.name,
            source: rule.source,
            winter_gain: gain(dark(&plan.seasons), dark(&optimum.seasons)),
            loss: -gain(plan.year_kwh, optimum.year_kwh),
            seasons: plan.seasons,
            gain_over_fixed: plan.gain_over_fixed,
        });
    }
    Ok(found)
}

fn applied(steps: &[Step], latitude_deg: f64) -> Result<Vec<Season>, SunFault> {
    let shift = if latitude_deg < 0.0 && steps.len() > 1 { HALF_YEAR } else { 0 };
    let starts = steps
        .iter()
        .map(|(month, day, slope, offset)| {
            let from = MonthDay::from_index(MonthDay::new(*month, *day)?.index() + shift);
            Ok((from, deg((slope * latitude_deg.abs() + offset).clamp(0.0, 90.0))))
        })
        .collect::<Result<Vec<(MonthDay, Angle)>, SunFault>>()?;
    Ok(from_dates(&starts))
}
