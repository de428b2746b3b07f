//! Energies of rules of thumb against pvlib 0.16.1, the setup of `sun_tilts.rs`; energies are relative to the best fixed tilt.

use super::sun_data::rows;
use tiltwright::{
    quantities::deg,
    sun::{
        MonthDay, Place,
        seasons::{Study, from_dates},
        thumb::rules,
    },
};

/// Energies are printed to four places; the two samplings of the year differ by as much again.
const PRINTED: f64 = 0.0006;

fn study(latitude_deg: f64) -> Study {
    Study::of(&Place::on_latitude(deg(latitude_deg)).expect("on the globe")).expect("a table")
}

#[test]
fn rules_of_thumb_lose_what_the_reference_says() {
    let table = rows(include_str!("data/sun/tilt_rules_vs_optimum.csv"));
    assert_eq!(table.len(), 9);
    for row in &table {
        let latitude = row.number("lat");
        let found = rules(&study(latitude)).expect("rules");
        let mut compared = 0;
        for (start, column) in [
            ("fixed at the latitude", "fixed_L"),
            ("latitude less 15", "rel_L+-15_equinox"),
            ("0.76 ×", "rel_landau_fixed"),
            ("0.93 ×", "rel_landau2"),
            ("0.98 ×", "rel_landau4"),
        ] {
            let Some(rule) = found.iter().find(|rule| rule.name.starts_with(start)) else { continue };
            let theirs = row.number(column) - 1.0;
            let off = rule.gain_over_fixed - theirs;
            println!("{latitude} {start}: {:.4} {theirs:.4}, loss {:.4}", rule.gain_over_fixed, rule.loss);
            assert!(off.abs() < PRINTED, "{latitude} {start}: {} {theirs}", rule.gain_over_fixed);
            assert!(rule.loss >= 0.0, "a rule cannot beat the optimum by more than its half degrees");
            compared += 1;
        }
        assert!(compared >= if (25.0..=50.0).contains(&latitude) { 5 } else { 2 }, "{latitude}: {compared}");
    }
}

#[test]
fn a_two_season_plan_forgives_late_dates_and_rounded_tilts() {
    for row in &rows(include_str!("data/sun/tilt_rules_vs_optimum.csv")) {
        let study = study(row.number("lat"));
        let best = study.plan(2).expect("a plan");
        let moved = |days: usize, round: f64| {
            let starts: Vec<_> = best
                .seasons
                .iter()
                .map(|season| {
                    let tilt = tiltwright::quantities::to_deg(season.tilt);
                    (MonthDay::from_index(season.from.index() + days), deg((tilt / round).round() * round))
                })
                .collect();
            1.0 + study.worth(&from_dates(&starts)).gain_over_fixed
        };
        for (ours, column) in [(moved(14, 1.0), "opt2_all_late_14d"), (moved(0, 5.0), "opt2_tilts_round5")] {
            assert!((ours - row.number(column)).abs() < PRINTED, "{} {column}: {ours}", row.text("lat"));
        }
    }
}
