//! Embedded posts, concrete and soil against worked examples; feet, pounds, psf unless said.
//!
//! F1 Christy, *Engineering with the Spreadsheet* (ASCE 2006), Fig. 16-1. F2 "Light Pole Foundation Design 8.0 m", IBC 2009
//! (public sheet, metres and kilopascals). F3 a signage engineer's calculation book, pp. 30, 35, 40. F4 "Flagpole Footing
//! Design", IBC 2021. F7, F8 engineers' forum questions. The sheets round to three figures.

use super::{evaluate::recorded, printed::near};
use tiltwright::{
    catalogue::{Silent, Trace, soil_class},
    codes::{
        Refusal,
        ibc::{
            self, Post, below_grade, concrete, embedment,
            serviceability::{self, DeflectionCase, Divisor},
            stakes, uplift,
        },
        nds::bearing,
    },
};

const FT_PER_M: f64 = 1.0 / 0.3048;
const LB_PER_KN: f64 = 224.808_943;
const PSF_PER_KPA: f64 = 20.885_434;

fn isolated(post: Post) -> Post {
    Post { pressure_factor: 2.0, ..post }
}

fn free(post: &Post) -> f64 {
    recorded(|t| ibc::required_depth(t, post)).expect("not too deep")
}

fn at(post: &Post, s1_psf: f64) -> f64 {
    recorded(|t| embedment::depth_at_pressure(t, post, s1_psf)).expect("inside")
}

#[test]
fn f1_spreadsheet_handbook() {
    // d 5.02 ft, S1 445 psf.
    let post = Post::with_force_at(510.0, 4.0, 1.0, 266.0);
    near("free", free(&post), 5.02, 0.002);
    near("S1", post.pressure_psf(free(&post) / 3.0), 445.0, 0.002);
}

#[test]
fn f2_light_pole() {
    // P 1.33 kN, h 8 m, b 0.849 m, S1 16.223 kPa: d 1.52 m; iterated with 31.4 kPa/m 1.531 m (computed).
    let rate = 31.4 * PSF_PER_KPA / FT_PER_M;
    let post = Post::with_force_at(1.33 * LB_PER_KN, 8.0 * FT_PER_M, 0.849 * FT_PER_M, rate);
    near("at the printed pressure", at(&post, 16.223 * PSF_PER_KPA) / FT_PER_M, 1.52, 0.001);
    near("iterated", free(&post) / FT_PER_M, 1.531, 0.001);
}

#[test]
fn f3_sign_footings_checked_at_their_depth() {
    for (p, h, b, s1, printed, computed) in [
        (890.0, 3.40, 3.0, 400.0, 3.54, 3.548),
        (1740.0, 4.17, 5.5, 400.0, 3.97, 3.970),
        (80.0, 3.20, 1.5, 267.0, 1.53, 1.532),
    ] {
        let d = at(&Post::with_force_at(p, h, b, 150.0), s1);
        near("printed", d, printed, 0.003);
        near("computed", d, computed, 3e-4);
    }
    let post = isolated(Post::with_force_at(890.0, 3.40, 3.0, 150.0));
    near("S1 at 4 ft", post.pressure_psf(4.0 / 3.0), 400.0, 1e-12);
}

#[test]
fn f4_flagpole_free_at_the_ground() {
    // The sheet prints 30.55 ft after five passes; converged 30.64 ft.
    let post = isolated(Post::with_force_at(100_000.0, 62.11, 6.0, 200.0));
    near("printed", free(&post), 30.55, 0.0031);
    near("converged", free(&post), 30.64, 2e-4);
}

#[test]
fn f7_and_f8_forum_questions() {
    let post = Post::with_force_at(480.0, 5.0, 1.5, 100.0);
    near("almost 6.5 ft", free(&post), 6.44, 1e-3);
    near("doubled", free(&isolated(post)), 4.88, 1e-3);
    let a = 2.34 * 3000.0 / (1.33 * 150.0 * 2.0);
    near("A", a, 17.6, 4e-4);
    // With no moment the depth is A itself.
    let push = Post::with_force_at(3000.0, 0.0, 1.0, 150.0);
    near("A as depth", at(&push, 1.33 * 150.0 * 2.0), 17.594, 1e-4);
}

#[test]
fn own_regression_values() {
    let post = Post::with_force_at(300.0, 6.0, 1.0, 150.0);
    near("F 1", free(&post), 5.535, 1e-4);
    near("F 2", free(&isolated(post)), 4.228, 1e-4);
}

#[test]
fn any_sign_and_a_pure_moment_are_taken() {
    let post = Post::with_force_at(300.0, 6.0, 1.0, 150.0);
    let d = free(&post);
    let turned = Post { force_lb: -300.0, moment_ft_lb: -1800.0, ..post };
    let opposed = Post { moment_ft_lb: -1800.0, ..post };
    assert_eq!(free(&turned), d);
    assert_eq!(free(&opposed), d, "relief is not counted");
    // A pure moment is the limit of a small force high up.
    let moment = Post { force_lb: 0.0, moment_ft_lb: 1800.0, ..post };
    let high = Post::with_force_at(1800.0 / 1e6, 1e6, 1.0, 150.0);
    near("limit", free(&moment), free(&high), 1e-5);
    let nothing = Post { force_lb: 0.0, moment_ft_lb: 0.0, ..post };
    assert_eq!(ibc::required_depth(&mut Silent, &nothing), Ok(0.0));
    let bottomless = Post { lateral_psf_per_ft: 0.01, ..post };
    assert!(matches!(ibc::required_depth(&mut Silent, &bottomless), Err(Refusal::OutsideRange(_))));
    assert!(matches!(ibc::required_depth(&mut Silent, &Post { width_ft: 0.0, ..post }), Err(Refusal::OutsideRange(_))));
}

#[test]
fn the_moment_below_ground_exceeds_the_one_at_the_ground() {
    let peak = recorded(|t| below_grade::peak(t, 300.0, 1800.0, 5.535)).expect("embedded");
    assert!(peak.moment_ft_lb > 1800.0 * 1.05 && peak.moment_ft_lb < 1800.0 + 300.0 * 5.535 / 2.0, "{peak:?}");
    // Growing stiffness, force at the ground only: C d³ = 24 P, z0 = 3d/4, so V/P = 1 − 9x² + 8x³ with its root at
    // x = (1 + √33)/16 = 0.4215 and M/(P d) = x − 3x³ + 2x⁴ = 0.2600.
    let peak = recorded(|t| below_grade::peak(t, 1000.0, 0.0, 1.0)).expect("embedded");
    let cubic = |x: f64| 1.0 - 9.0 * x * x + 8.0 * x * x * x;
    assert!(cubic(peak.at_ft).abs() < 1e-6, "{}", peak.at_ft);
    near("depth", peak.at_ft, (1.0 + 33.0_f64.sqrt()) / 16.0, 1e-9);
    near("peak", peak.moment_ft_lb, 260.0, 2e-4);
    let pure = recorded(|t| below_grade::peak(t, 0.0, 1000.0, 3.0)).expect("embedded");
    assert_eq!(pure.moment_ft_lb, 1000.0);
}

#[test]
fn concrete_weighs_what_the_calculation_book_prints() {
    // 150 lb/ft³: diameter 3 x 4 ft 4241 lb; 1.5 x 2.67 ft 708 lb; 1 x 4 ft 471 lb.
    for (b, d, printed) in [(3.0, 4.0, 4241.0), (1.5, 2.67, 708.0), (1.0, 4.0, 471.0)] {
        let v = recorded(|t| concrete::round_volume(t, b, d, 0.0, 0.0)).expect("fits");
        near("weight", recorded(|t| concrete::weight(t, v)), printed, 6e-4);
    }
    // A 4x4 post, 3.5 in square, 3 ft into a 1 x 4 ft hole: 3.1416 − 0.2552 ft³.
    let v = recorded(|t| concrete::round_volume(t, 1.0, 4.0, 12.25, 3.0)).expect("fits");
    near("volume", v, std::f64::consts::PI - 12.25 / 144.0 * 3.0, 1e-12);
    assert!(concrete::round_volume(&mut Silent, 0.3, 4.0, 30.25, 4.0).is_err());
}

#[test]
fn friction_must_be_earned() {
    let weight = recorded(|t| uplift::held_uplift(t, 471.0, 200.0, [1.0, 4.0], None)).expect("weight alone");
    near("weight", weight, 0.6 * 671.0, 1e-12);
    // Classes 5, 4 and 3: 250, 333, 500 psf (IBC 2018 §1810.3.3.1.4).
    for (class, psf) in [(5, 250.0), (4, 333.0), (3, 500.0), (1, 500.0)] {
        let bearing_psf = soil_class(class).expect("a class").bearing_psf;
        let friction = uplift::ShaftFriction { bearing_psf, lost_ft: 1.0 };
        let held = recorded(|t| uplift::held_uplift(t, 471.0, 200.0, [1.0, 4.0], Some(friction))).expect("inside");
        near("friction", held - weight, psf * std::f64::consts::PI * 3.0, 0.0011);
    }
    let shallow = uplift::ShaftFriction { bearing_psf: 2000.0, lost_ft: 0.5 };
    assert!(uplift::held_uplift(&mut Silent, 471.0, 0.0, [1.0, 4.0], Some(shallow)).is_err());
}

#[test]
fn pads_press_by_statics() {
    near(
        "round",
        recorded(|t| ibc::bearing::round_pressure(t, 2000.0, 2.0)).expect("a pad"),
        2000.0 / std::f64::consts::PI,
        1e-12,
    );
    // e = L/6 doubles the mean pressure and brings the far edge to nothing, by either formula.
    let even = recorded(|t| ibc::bearing::pad_pressure(t, 600.0, 0.0, 6.0, 1.0)).expect("on the pad");
    near("even", even, 100.0, 1e-12);
    let kern = recorded(|t| ibc::bearing::pad_pressure(t, 600.0, 600.0, 6.0, 1.0)).expect("on the pad");
    near("kern", kern, 200.0, 1e-12);
    let beyond =
        recorded(|t| ibc::bearing::pad_pressure(t, 600.0, 600.0 * (1.0 + 1e-9), 6.0, 1.0)).expect("on the pad");
    near("just beyond", beyond, 200.0, 1e-6);
    assert!(ibc::bearing::pad_pressure(&mut Silent, 600.0, 1800.0, 6.0, 1.0).is_err());
    assert!(ibc::bearing::pad_pressure(&mut Silent, -1.0, 0.0, 6.0, 1.0).is_err());
}

#[test]
fn a_stake_is_the_embedment_equation_turned_round() {
    let p = recorded(|t| stakes::lateral_force(t, [0.125, 2.0], 0.25, 0.25, 150.0)).expect("deep enough");
    let back = Post::with_force_at(p, 0.5, 0.125, 150.0);
    near("depth", free(&back), 1.75, 1e-9);
    assert!(stakes::lateral_force(&mut Silent, [0.125, 0.4], 0.25, 0.25, 150.0).is_err());
    assert!(matches!(stakes::not_tested(), Refusal::NotHeld(_)));
}

#[test]
fn remaining_equations_print_what_they_compute() {
    fn silent_and_recorded<R: PartialEq + std::fmt::Debug>(silent: R, loud: R) {
        assert_eq!(silent, loud);
    }
    fn all<T: Trace>(t: &mut T) -> Vec<f64> {
        vec![
            serviceability::total_deflection(t, 0.2, 0.3, true),
            serviceability::deflection_utilisation(
                t,
                0.4,
                60.0,
                false,
                Divisor::deflection(None, DeflectionCase::Total),
            )
            .expect("a span"),
            serviceability::panel_twist(t, [0.1, 0.0, 0.3, 0.05], 44.6, Divisor::twist(Some(90.0))).expect("a limit"),
            serviceability::sway_utilisation(t, 0.6, 72.0, Divisor::sway(None)).expect("a height"),
            bearing::bearing_stress(t, 500.0, 2.0),
        ]
    }
    silent_and_recorded(all(&mut Silent), recorded(all));
}
