//! Group action against printed cells: ANSI/AWC NDS-2018 Tables 11.3.6A and 11.3.6C, D 1 in, spacing 4 in, E 1 400 000
//! psi, printed to 0.01.

use crate::handbook_tests::evaluate::recorded;
use tiltwright::codes::nds::group::{Row, group_factor};

const PRINTED_DIGITS: f64 = 0.005;

fn factor(bolts: u32, main_lb: f64, side_lb: f64, metal_sides: bool) -> f64 {
    let row = Row { bolts, diameter_in: 1.0, spacing_in: 4.0, main_lb, side_lb, metal_sides };
    recorded(|t| group_factor(t, &row)).expect("inside the tables")
}

#[test]
fn wood_sides_follow_table_11_3_6a() {
    const E: f64 = 1.4e6;
    for (ratio, side_in2, bolts, printed, computed) in
        [(1.0, 12.0, 4, 0.96, 0.9605), (0.5, 5.0, 8, 0.55, 0.5476), (1.0, 64.0, 12, 0.88, 0.8768)]
    {
        let c_g = factor(bolts, E * side_in2 / ratio, E * side_in2, false);
        assert!((c_g - printed).abs() < PRINTED_DIGITS && (c_g - computed).abs() < 6e-5, "{c_g} {printed}");
    }
}

#[test]
fn steel_sides_follow_table_11_3_6c() {
    for (ratio, main_in2, bolts, printed, computed) in [(12.0, 5.0, 6, 0.62, 0.6212), (50.0, 40.0, 12, 0.51, 0.5062)] {
        let c_g = factor(bolts, 1.4e6 * main_in2, 30e6 * main_in2 / ratio, true);
        assert!((c_g - printed).abs() < PRINTED_DIGITS && (c_g - computed).abs() < 6e-5, "{c_g} {printed}");
    }
}

#[test]
fn two_bolts_hardly_disturb_each_other() {
    let row = Row {
        bolts: 2,
        diameter_in: 0.5,
        spacing_in: 3.0,
        main_lb: 1.6e6 * 12.25,
        side_lb: 1.6e6 * 8.25,
        metal_sides: false,
    };
    let c_g = recorded(|t| group_factor(t, &row)).expect("inside");
    assert!((c_g - 0.998).abs() < 5e-4, "{c_g}");
}
