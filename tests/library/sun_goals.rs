//! Plans for the dark months and for the least month: the winter tilts of pvlib 0.16.1 (the setup of `sun_tilts.rs`), and
//! every fixed tilt and every two-season plan of a grid tried one by one on the table of daily energies.

use serde_json::Value;
use tiltwright::{
    design::Goal,
    quantities::{deg, to_deg},
    sun::{
        MonthDay, Place,
        seasons::{SeasonPlan, Study},
        thumb::rules,
    },
};

const LATITUDES: [f64; 6] = [-35.0, 5.0, 20.0, 40.0, 52.0, 65.0];
/// A change within a dark month gains it less than this; plans leave it to the rest of the year.
const INNER_CHANGE: f64 = 0.002;
/// Sums of the same numbers in another order.
const ORDER: f64 = 1e-9;
/// The reference prints four places, and samples the year otherwise.
const PRINTED: f64 = 0.001;

fn study(latitude_deg: f64) -> Study {
    Study::of(&Place::on_latitude(deg(latitude_deg)).expect("on the globe")).expect("a table")
}

fn winter_months(latitude_deg: f64) -> [usize; 3] {
    if latitude_deg < 0.0 { [4, 5, 6] } else { [10, 11, 0] }
}

/// Energy of each month for each whole degree from `from` up to but not including `to`, days counted on past December.
fn months(study: &Study, from: usize, to: usize) -> Vec<[f64; 12]> {
    (0..=90)
        .map(|tilt| {
            let mut sums = [0.0; 12];
            for day in from..to {
                sums[usize::from(MonthDay::from_index(day).month) - 1] += study.table().day(day % 365)[tilt];
            }
            sums
        })
        .collect()
}

fn dark(sums: &[f64; 12], latitude_deg: f64) -> f64 {
    winter_months(latitude_deg).iter().map(|month| sums[*month]).sum()
}

fn least(sums: &[f64; 12]) -> f64 {
    sums.iter().copied().fold(f64::INFINITY, f64::min)
}

/// What a plan gives by month, added up from its dates.
fn of_plan(study: &Study, plan: &SeasonPlan) -> [f64; 12] {
    let mut sums = [0.0; 12];
    for season in &plan.seasons {
        let start = season.from.index();
        let all = months(study, start, start + season.days);
        let column = to_deg(season.tilt).round() as usize;
        sums.iter_mut().zip(all[column]).for_each(|(sum, more)| *sum += more);
    }
    sums
}

#[test]
fn fixed_winter_tilts_gain_and_cost_what_the_reference_says() {
    let reference: Value =
        serde_json::from_str(include_str!("data/sun/best_tilts.json")).expect("the data file is JSON");
    for (latitude, values) in reference["lat"].as_object().expect("latitudes") {
        let latitude_deg: f64 = latitude.parse().expect("a number");
        let study = study(latitude_deg);
        let (winter, year) = (study.plan_for(1, Goal::Winter).expect("a plan"), study.plan(1).expect("a plan"));
        let number = |value: &Value| value.as_f64().unwrap_or_else(|| panic!("{value} is no number"));
        let key = if latitude_deg < 0.0 { "winter_May-Jul" } else { "winter_Nov-Jan" };
        let theirs = number(&values["window_best_tilt"][key]);
        let ours = to_deg(winter.seasons[0].tilt);
        assert!((ours - theirs).abs() <= 1.0, "{latitude}: {ours} {theirs}");
        let cost = 1.0 + winter.gain_over_fixed - number(&values["cost_of_fixed_winter_tilt_rel_year"]);
        let gain = dark(&of_plan(&study, &winter), latitude_deg) / dark(&of_plan(&study, &year), latitude_deg);
        let gain = gain - number(&values["winter_gain_of_winter_tilt_vs_best_fixed"]);
        // One degree of tilt costs the year up to 0.7 % there, and the two best tilts differ by up to one.
        assert!(cost.abs() < 0.008 && gain.abs() < 10.0 * PRINTED, "{latitude}: {cost} {gain}");
    }
}

#[test]
fn no_fixed_tilt_serves_the_dark_or_the_least_month_better() {
    for latitude in LATITUDES {
        let study = study(latitude);
        let all = months(&study, 0, 365);
        let best_dark = all.iter().map(|sums| dark(sums, latitude)).fold(0.0, f64::max);
        let best_least = all.iter().map(least).fold(0.0, f64::max);
        let winter = of_plan(&study, &study.plan_for(1, Goal::Winter).expect("a plan"));
        let evenest = of_plan(&study, &study.plan_for(1, Goal::Evenest).expect("a plan"));
        println!("{latitude}: dark {best_dark:.1}, least {best_least:.1}");
        assert!((dark(&winter, latitude) / best_dark - 1.0).abs() < 1e-6, "{latitude}");
        assert!((least(&evenest) / best_least - 1.0).abs() < ORDER, "{latitude}: {evenest:?} {best_least}");
    }
}

/// Dates five days apart, tilts three degrees apart: 2.5 million plans for each place.
#[test]
fn no_two_seasons_of_a_grid_serve_the_dark_or_the_least_month_better() {
    const DATES: usize = 5;
    const TILTS: usize = 3;
    for latitude in [-35.0, 10.0, 40.0] {
        let study = study(latitude);
        let (mut best_dark, mut best_least) = (0.0_f64, 0.0_f64);
        let year = months(&study, 0, 365);
        for first in (0..365).step_by(DATES) {
            for second in (first + DATES..365).step_by(DATES) {
                let inside = months(&study, first, second);
                for tilt in (0..=90).step_by(TILTS) {
                    for other in (0..=90).step_by(TILTS) {
                        let sums = std::array::from_fn(|m| inside[tilt][m] + year[other][m] - inside[other][m]);
                        best_dark = best_dark.max(dark(&sums, latitude));
                        best_least = best_least.max(least(&sums));
                    }
                }
            }
        }
        let winter = dark(&of_plan(&study, &study.plan_for(2, Goal::Winter).expect("a plan")), latitude);
        let evenest = least(&of_plan(&study, &study.plan_for(2, Goal::Evenest).expect("a plan")));
        println!("{latitude}: dark {winter:.2} {best_dark:.2}, least {evenest:.3} {best_least:.3}");
        assert!(winter > best_dark * (1.0 - INNER_CHANGE), "{latitude}: {winter} {best_dark}");
        assert!(evenest > best_least * (1.0 - INNER_CHANGE), "{latitude}: {evenest} {best_least}");
    }
}

#[test]
fn each_goal_gets_at_least_what_the_plan_for_the_year_gives_it() {
    for latitude in LATITUDES {
        let study = study(latitude);
        for count in [1, 2, 3, 4, 6, 12] {
            let [year, winter, evenest] = [Goal::Year, Goal::Winter, Goal::Evenest].map(|goal| {
                let plan = study.plan_for(count, goal).expect("a plan");
                assert_eq!((plan.seasons.len(), plan.goal), (count, Some(goal)), "{latitude}");
                assert_eq!(plan.seasons.iter().map(|season| season.days).sum::<usize>(), 365, "{latitude}");
                of_plan(&study, &plan)
            });
            let sum = |sums: &[f64; 12]| sums.iter().sum::<f64>();
            assert!(dark(&winter, latitude) >= dark(&year, latitude) * (1.0 - ORDER), "{latitude}, {count}");
            assert!(least(&evenest) >= least(&year) * (1.0 - ORDER), "{latitude}, {count}");
            assert!(sum(&winter).max(sum(&evenest)) <= sum(&year) * (1.0 + ORDER), "{latitude}, {count}");
            if count >= 2 && latitude.abs() > 15.0 {
                // Seasons of their own for the dark months leave the other months to the year.
                assert!(sum(&winter) > 0.985 * sum(&year), "{latitude}, {count}: {} {}", sum(&winter), sum(&year));
                assert!(sum(&evenest) > 0.985 * sum(&year), "{latitude}, {count}: {} {}", sum(&evenest), sum(&year));
            }
        }
    }
}

/// Common practice, no source: a fixed frame that is leaned to winter stands at latitude + 10° between 30° and 40°.
#[test]
fn the_rule_that_leans_to_winter_stands_with_its_loss_and_its_gain() {
    for latitude in [-35.0, 30.0, 35.0, 40.0] {
        let study = study(latitude);
        let all = rules(&study).expect("rules");
        let rule = all.iter().find(|rule| rule.name.starts_with("latitude plus 10 deg")).expect("the rule");
        let table = months(&study, 0, 365);
        let (leaned, best) = (table[latitude.abs() as usize + 10], table[to_deg(study.fixed().tilt).round() as usize]);
        let loss = 1.0 - leaned.iter().sum::<f64>() / best.iter().sum::<f64>();
        let gain = dark(&leaned, latitude) / dark(&best, latitude) - 1.0;
        assert!((rule.loss - loss).abs() < ORDER && (rule.winter_gain - gain).abs() < ORDER, "{latitude}");
        // About 2 % of the year for about a tenth more in the dark: worth it only to those who need it then.
        assert!((0.01..0.03).contains(&loss) && (0.05..0.12).contains(&gain), "{latitude}: {loss} {gain}");
    }
    for latitude in [-45.0, 25.0, 41.0] {
        let all = rules(&study(latitude)).expect("rules");
        assert!(!all.iter().any(|rule| rule.name.starts_with("latitude plus 10 deg")), "{latitude}");
    }
}

#[test]
fn a_frame_gets_as_many_seasons_and_no_two_holes_too_near() {
    for latitude in [-35.0, 15.0, 40.0, 48.0, 56.0] {
        let study = study(latitude);
        for count in 1..=12 {
            let plan = study.plan_for_frame(count, Goal::Year, [deg(5.0), deg(85.0)]).expect("a plan");
            assert_eq!(plan.seasons.len(), count);
            let mut tilts: Vec<f64> = plan.seasons.iter().map(|season| to_deg(season.tilt)).collect();
            tilts.sort_by(f64::total_cmp);
            assert!(tilts[0] > 4.999 && tilts[count - 1] < 85.001, "{latitude}, {count}: {tilts:?}");
            assert!(
                tilts.windows(2).all(|t| t[1] - t[0] < 1e-9 || t[1] - t[0] > 1.001),
                "{latitude}, {count}: {tilts:?}"
            );
            // What drains and can be drilled costs next to nothing outside the tropics.
            let free = study.plan(count).expect("a plan");
            let most = if latitude == 15.0 { 0.01 } else { 0.0005 };
            assert!(plan.year_kwh > free.year_kwh * (1.0 - most), "{latitude}, {count}");
        }
    }
}
