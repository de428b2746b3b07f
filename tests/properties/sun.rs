//! What must hold of the sun, of plans and of horizons anywhere.

use proptest::prelude::*;
use tiltwright::{
    design::Goal,
    quantities::{Angle, deg, mm, to_deg, to_mm},
    sun::{
        MonthDay, Place,
        daylight::Daylight,
        horizon::Horizon,
        noon_altitudes,
        rows::{RowFace, SunRay, shaded_share, spacing},
        seasons::{Study, from_dates},
    },
};

fn study(latitude: f64) -> Study {
    Study::of(&Place::on_latitude(deg(latitude)).expect("on the globe")).expect("a table")
}

fn horizon(elevations: &[f64]) -> Horizon {
    let step = 360.0 / elevations.len() as f64;
    let points: Vec<(Angle, Angle)> =
        elevations.iter().enumerate().map(|(at, e)| (deg(at as f64 * step), deg(*e))).collect();
    Horizon::of_points(&points).expect("a skyline")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// The orbit is not a circle: southern summers lie nearer to the sun and are shorter, so the halves mirror only nearly.
    #[test]
    fn the_hemispheres_mirror(latitude in 0.0f64..66.0) {
        let (north, south) = (study(latitude), study(-latitude));
        prop_assert!((to_deg(north.fixed().tilt) - to_deg(south.fixed().tilt)).abs() <= 1.0);
        let gains = [2, 4].map(|count| {
            north.plan(count).expect("a plan").gain_over_fixed - south.plan(count).expect("a plan").gain_over_fixed
        });
        prop_assert!(gains.iter().all(|gain| gain.abs() < 0.002), "{gains:?}");
        let noon = (noon_altitudes(deg(latitude)).expect("noon"), noon_altitudes(deg(-latitude)).expect("noon"));
        prop_assert!((to_deg(noon.0.lowest) - to_deg(noon.1.lowest)).abs() < 0.001);
        prop_assert!((to_deg(noon.0.equinox) - to_deg(noon.1.equinox)).abs() < 1e-9);
    }

    #[test]
    fn more_seasons_never_give_less_and_days_add_up(latitude in -90.0f64..=90.0) {
        let study = study(latitude);
        let mut before = study.fixed().year_kwh * (1.0 - 1e-12);
        for count in 1..=6 {
            let plan = study.plan(count).expect("a plan");
            prop_assert_eq!(plan.seasons.len(), count);
            prop_assert_eq!(plan.seasons.iter().map(|season| season.days).sum::<usize>(), 365);
            prop_assert!(plan.year_kwh >= before * (1.0 - 1e-9), "{} seasons at {}", count, latitude);
            prop_assert!(plan.share_of_daily_optimum <= 1.0 + 1e-9);
            before = plan.year_kwh;
        }
    }

    /// No plan with other dates and tilts beats the computed one.
    #[test]
    fn no_other_plan_is_better(
        latitude in -66.0f64..66.0,
        days in proptest::collection::btree_set(0usize..365, 4),
        tilts in proptest::collection::vec(0u8..=90, 4),
    ) {
        let study = study(latitude);
        let starts: Vec<_> = days
            .iter()
            .zip(&tilts)
            .map(|(day, tilt)| (MonthDay::from_index(*day), deg(f64::from(*tilt))))
            .collect();
        let best = study.plan(4).expect("a plan").year_kwh;
        prop_assert!(study.worth(&from_dates(&starts)).year_kwh <= best * (1.0 + 1e-9));
    }

    /// A higher skyline never gives more sun.
    #[test]
    fn a_higher_horizon_takes_sun(
        latitude in -70.0f64..70.0,
        elevations in proptest::collection::vec(0.0f64..40.0, 3..12),
        rise in 0.0f64..10.0,
        day in 0usize..365,
    ) {
        let daylight = Daylight::of(&Place::on_latitude(deg(latitude)).expect("on the globe")).expect("a year");
        let low = horizon(&elevations);
        let high = low.lifted(deg(rise));
        let day = MonthDay::from_index(day);
        let (less, more) = (daylight.day(&high, day), daylight.day(&low, day));
        // A second: edges are halved down to a hundredth of one.
        prop_assert!(less.hours() <= more.hours() + 3e-4);
        prop_assert!(more.hours() <= more.day_length_hours + 3e-4);
        prop_assert!(less.longest_hours() <= less.hours() + 1e-9);
        let plan = from_dates(&[(MonthDay { month: 1, day: 1 }, deg(30.0))]);
        let kept = (daylight.year(&high, &plan).beam_kept, daylight.year(&low, &plan).beam_kept);
        prop_assert!(kept.0 <= kept.1 + 1e-9 && kept.1 <= 1.0 + 1e-9);
    }

    /// At the pitch worked out nothing is shaded, a little nearer something is.
    #[test]
    fn rows_at_their_pitch_are_just_lit(
        altitude in 3.0f64..60.0,
        off in -70.0f64..70.0,
        tilt in 5.0f64..85.0,
        length in 500.0f64..4000.0,
    ) {
        let face = RowFace { slope_length: mm(length), tilt: deg(tilt), ground_rise: deg(0.0) };
        let ray = SunRay { altitude: deg(altitude), off_facing: deg(off) };
        let pitch = spacing(face, ray).expect("a spacing").pitch;
        prop_assert!(shaded_share(face, pitch, ray).expect("a share") < 1e-9);
        prop_assert!(shaded_share(face, mm(0.95 * to_mm(pitch)), ray).expect("a share") > 0.01);
    }

    /// Plans from few tilts: only those are used, and neighbours that cannot be drilled together never both.
    #[test]
    fn drillable_plans_keep_their_distance(latitude in 20.0f64..60.0, gap in 1.0f64..20.0, count in 2usize..=5) {
        let study = study(latitude);
        let candidates: Vec<Angle> = (0..=16).map(|n| deg(5.0 * f64::from(n))).collect();
        let apart = |a: Angle, b: Angle| (to_deg(a) - to_deg(b)).abs() >= gap;
        let found = study.plan_drillable(&candidates, count, apart).expect("a plan");
        for a in &found.plan.seasons {
            prop_assert!(candidates.contains(&a.tilt));
            for b in &found.plan.seasons {
                prop_assert!(a.tilt == b.tilt || apart(a.tilt, b.tilt));
            }
        }
        prop_assert!(found.plan.year_kwh <= found.bound_kwh * (1.0 + 1e-6));
        prop_assert!(found.plan.year_kwh >= found.bound_kwh * (1.0 - 2e-5));
        prop_assert!(found.bound_kwh <= study.plan(count).expect("a plan").year_kwh * (1.0 + 1e-5));
    }
}

/// Every set of three tilts out of ten is tried: the branching search must find the best that goes together.
#[test]
fn the_drillable_search_agrees_with_trying_everything() {
    let study = study(40.0);
    let candidates: Vec<Angle> = (1..=10).map(|n| deg(7.0 * f64::from(n))).collect();
    let apart = |a: Angle, b: Angle| (to_deg(a) - to_deg(b)).abs() >= 20.0;
    let found = study.plan_drillable(&candidates, 3, apart).expect("a plan").plan.year_kwh;
    let mut best: f64 = 0.0;
    for a in &candidates {
        for b in candidates.iter().filter(|b| *b > a && apart(*a, **b)) {
            for c in candidates.iter().filter(|c| *c > b && apart(*b, **c)) {
                best = best.max(study.plan_from(&[*a, *b, *c], 3, Goal::Year).expect("a plan").year_kwh);
            }
        }
    }
    assert!((found / best - 1.0).abs() < 1e-5, "{found} {best}");
}
