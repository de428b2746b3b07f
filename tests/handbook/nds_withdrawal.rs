//! Withdrawal and pull-through against printed cells: ANSI/AWC NDS-2018 Tables 12.2A (p. 77), 12.2B, 12.2C, 12.2F
//! (p. 82); AWC *Structural Wood Design Examples* E2.1a, E2.3; one printout of the AWC connection calculator.

use crate::handbook_tests::evaluate::recorded;
use tiltwright::{
    catalogue::{ScrewKind, screw},
    codes::nds::withdrawal,
};

/// Printed to 1 lb per inch.
const UNITS: f64 = 0.51;

fn per_inch(kind: ScrewKind, g: f64, d: f64) -> f64 {
    recorded(|t| withdrawal::per_inch(t, kind, g, d)).expect("inside the tables")
}

#[test]
fn table_12_2a_lag_screws() {
    const DIAMETERS: [f64; 7] = [0.25, 0.3125, 0.375, 0.4375, 0.5, 0.625, 0.75];
    for (g, row) in [
        (0.55, [260.0, 307.0, 352.0, 395.0, 437.0, 516.0, 592.0]),
        (0.50, [225.0, 266.0, 305.0, 342.0, 378.0, 447.0, 513.0]),
        (0.43, [179.0, 212.0, 243.0, 273.0, 302.0, 357.0, 409.0]),
        (0.42, [173.0, 205.0, 235.0, 264.0, 291.0, 344.0, 395.0]),
        (0.37, [143.0, 169.0, 194.0, 218.0, 241.0, 285.0, 326.0]),
        (0.36, [137.0, 163.0, 186.0, 209.0, 231.0, 273.0, 313.0]),
    ] {
        for (d, printed) in DIAMETERS.into_iter().zip(row) {
            let w = per_inch(ScrewKind::Lag, g, d);
            assert!((w - printed).abs() < UNITS, "G {g}, {d} in: {w} against {printed}");
        }
    }
}

#[test]
fn tables_12_2b_and_12_2c_wood_screws_and_nails() {
    for (kind, g, d, printed) in [
        (ScrewKind::WoodScrew, 0.50, 0.190, 135.0),
        (ScrewKind::WoodScrew, 0.42, 0.164, 82.0),
        (ScrewKind::CommonNail, 0.50, 0.131, 32.0),
        (ScrewKind::CommonNail, 0.42, 0.162, 26.0),
        // Engineering reference page: G 0.45, #10, 109 lb/in, cut off rather than rounded.
        (ScrewKind::WoodScrew, 0.45, 0.190, 109.5),
        // Computed per inch for deck screws in G 0.42.
        (ScrewKind::WoodScrew, 0.42, 0.190, 95.5),
        (ScrewKind::WoodScrew, 0.42, 0.216, 108.6),
    ] {
        let w = per_inch(kind, g, d);
        assert!((w - printed).abs() < UNITS, "{kind:?} G {g}, {d} in: {w} against {printed}");
    }
}

#[test]
fn table_12_2f_heads_pulled_through() {
    for (head, g, side, printed) in [(0.234, 0.50, 0.3125, 40.0), (0.312, 0.50, 1.0, 132.0), (0.500, 0.42, 1.5, 239.0)]
    {
        let w = recorded(|t| withdrawal::pull_through(t, g, head, side)).expect("inside the tables");
        assert!((w - printed).abs() < UNITS, "{head} in head: {w} against {printed}");
    }
}

#[test]
fn design_example_e2_3_lag_withdrawal() {
    // 1/2 x 4 in lag, G 0.55, side member 1.5 in, tip 5/16 in: 437 lb/in printed, 954.97 lb in the library test.
    let lag = screw("lag 1/2 in").expect("a listed lag");
    let thread_in = lag.thread_length_mm(4.0 * 25.4) / 25.4 - lag.tip_mm / 25.4;
    let w = recorded(|t| withdrawal::withdrawal(t, ScrewKind::Lag, 0.55, 0.5, thread_in)).expect("inside");
    assert!((w - 954.97).abs() < 0.02, "{w}");
}

#[test]
fn design_example_e2_1a_nail_withdrawal() {
    // 0.131 x 2.5 in nail through 0.105 in steel, G 0.42: 49.497 lb in the library test.
    let w = recorded(|t| withdrawal::withdrawal(t, ScrewKind::CommonNail, 0.42, 0.131, 2.5 - 0.105)).expect("inside");
    assert!((w - 49.497).abs() < 0.001, "{w}");
}

#[test]
fn connection_calculator_printout() {
    // Lag 3/8 x 7 in, Douglas Fir-Larch, 1/4 in steel side plate: 1153 lb.
    let lag = screw("lag 3/8 in").expect("a listed lag");
    let thread_in = lag.thread_length_mm(7.0 * 25.4) / 25.4 - lag.tip_mm / 25.4;
    let w = recorded(|t| withdrawal::withdrawal(t, ScrewKind::Lag, 0.50, 0.375, thread_in)).expect("inside");
    assert!((w - 1153.0).abs() < 0.5, "{w}");
}

#[test]
fn withdrawal_with_lateral_load_meets_both_ends() {
    for kind in [ScrewKind::Lag, ScrewKind::WoodScrew, ScrewKind::CommonNail] {
        let at = |angle| recorded(|t| withdrawal::combined(t, kind, 300.0, 200.0, angle));
        assert!((at(0.0) - 200.0).abs() < 1e-9 && (at(90.0) - 300.0).abs() < 1e-9);
        assert!(at(45.0) > 0.0 && at(45.0) < 300.0);
    }
    assert!(withdrawal::per_inch(&mut tiltwright::catalogue::Silent, ScrewKind::Lag, 0.2, 0.5).is_err());
}
