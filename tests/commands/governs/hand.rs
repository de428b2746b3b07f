//! Checks that do not grow in a straight line, against values worked out here from the published equation. Forces are
//! those that `explain` prints; strengths and sizes are typed in from the tables, not taken from the program.

use super::{ROUNDING, TABLE, answer, number, of_one_row, rows, utilisation, with};
use crate::governs::Row;
use serde_json::Value;

/// The checks of this file, in the order of the list.
pub(super) const CHECKS: [&str; 5] = ["tear-out", "stay", "post-below-grade", "embedment", "frequency"];

fn design(check: &str) -> String {
    let row: &Row = TABLE.iter().find(|row| row.check == check).expect("listed");
    row.text()
}

/// The written-out calculation of the worst row of a check.
fn explained(text: &str, check: &str) -> Value {
    let entry = answer(&["explain", check], text)["entries"][0].clone();
    assert_eq!(number(&entry["utilisation"]), utilisation(text, check), "{check}");
    entry
}

/// What went into the equations for `symbol` under the name of `term`, in the order they are printed.
fn terms(entry: &Value, symbol: &str, term: &str) -> Vec<f64> {
    let steps = entry["lines"].as_array().expect("lines").iter().map(|line| &line["step"]);
    let of_symbol = steps.filter(|step| step["symbol"] == symbol);
    let found = of_symbol.flat_map(|step| step["terms"].as_array().expect("terms"));
    found.filter(|t| t["symbol"] == term).map(|t| number(&t["value"])).collect()
}

fn term(entry: &Value, symbol: &str, name: &str) -> f64 {
    *terms(entry, symbol, name).first().unwrap_or_else(|| panic!("{symbol} is made of {name}"))
}

fn near(given: f64, wanted: f64, what: &str) {
    assert!((given / wanted - 1.0).abs() < ROUNDING, "{what}: {given}, by hand {wanted}");
}

/// NDS-2018 App. E.3: Z_RT′ = n F_v′ t s of one row of one bolt, s from the pin to the next hole. Spruce-pine-fir: F_v
/// 135 psi (Supplement Table 4A), C_D 1.25 of a person, C_i 0.8 of incised wood; a 2x4 is 1-1/2 in thick.
#[test]
fn tear_out_is_the_pull_over_the_wood_between_pin_and_next_hole() {
    let text = design("tear-out");
    // With the second hole moved up the stay, the wood counts to the next hole still, or to the stay's end.
    let mut utilisations = Vec::new();
    for other in ["26 deg", "29 deg"] {
        let text = text.replace("26 deg", other);
        let drilled = answer(&["drill"], &text);
        let holes = drilled["rows"][0]["holes"].as_array().expect("holes");
        let [first, next] = [0, 1].map(|k| number(&holes[k]["offset_mm"]));
        let s_in = (first - next - number(&holes[0]["diameter_mm"]) / 2.0) / 25.4;
        let entry = explained(&text, "tear-out");
        let pull = term(&entry, "u", "force");
        let by_hand = pull / (135.0 * 1.25 * 0.8 * 1.5 * s_in);
        near(number(&entry["utilisation"]), by_hand, other);
        utilisations.push(by_hand * s_in / pull);
    }
    near(utilisations[1], utilisations[0], "utilisation times wood over pull");
}

/// NDS-2018 §3.7.1 and Eq. 3.9-3 of a 2x2 strut of No. 3 Southern Pine that bends over one axis under its own weight.
/// Supplement Table 4B: F_b 650, F_c 850, E_min 470 000 psi; C_D 1.6 of wind, incised C_i 0.8 and 0.95 (Table 4.3.8).
#[test]
fn a_slender_stay_is_a_column_that_bends() {
    let text = design("stay");
    // Twice the wind would buckle it: a tenth more pressure in two equal steps.
    let texts = [1.0, 1.05, 1.1].map(|times: f64| with(&text, "gust: ", "mph", 95.0 * times.sqrt()));
    let forces = texts.clone().map(|text| {
        let entry = explained(&text, "stay");
        let [p, m, l] = [term(&entry, "f", "p"), term(&entry, "fb1", "m_strong"), term(&entry, "s", "l")];
        let (fc_star, fb, f_ce) = (850.0 * 1.6 * 0.8, 650.0 * 1.6 * 0.8, 0.822 * 470e3 * 0.95 / (l / 1.5_f64).powi(2));
        let share = (1.0 + f_ce / fc_star) / 1.6;
        let fc = fc_star * (share - (share * share - f_ce / fc_star / 0.8).sqrt());
        let (f_c, f_b) = (p / 2.25, m / 0.5625);
        near(number(&entry["utilisation"]), (f_c / fc).powi(2) + f_b / (fb * (1.0 - f_c / f_ce)), "stay");
        p
    });
    let (rise, bend) = (forces[2] - forces[0], forces[2] - 2.0 * forces[1] + forces[0]);
    assert!(rise > 0.0 && bend.abs() < 1e-5 * rise, "{forces:?}");
    let u = of_one_row(&texts, "stay");
    assert!(u[2] - u[1] > u[1] - u[0], "it grows faster than the force: {u:?}");
}

/// Largest moment (ft·lb) of a rigid post below the ground by cutting its depth into slices: pressure a z^n − c z^(n+1)
/// per foot, n 1 where the soil grows stiffer with depth and 0 where it does not, with neither force nor moment left at
/// the foot.
fn peak_below(p: f64, m: f64, d: f64, n: i32) -> f64 {
    let integral = |k: i32| d.powi(k + 1) / f64::from(k + 1);
    let twice = |k: i32| d.powi(k + 2) / f64::from((k + 1) * (k + 2));
    // ∫q = p and ∬q = m + p d, two equations for a and c.
    let (a11, a12, a21, a22) = (integral(n), -integral(n + 1), twice(n), -twice(n + 1));
    let det = a11 * a22 - a12 * a21;
    let (a, c) = ((p * a22 - a12 * (m + p * d)) / det, (a11 * (m + p * d) - a21 * p) / det);
    const SLICES: u32 = 200_000;
    let dz = d / f64::from(SLICES);
    let (mut shear, mut moment, mut most) = (p, m, m.abs());
    for slice in 0..SLICES {
        let z = (f64::from(slice) + 0.5) * dz;
        let q = a * z.powi(n) - c * z.powi(n + 1);
        moment += (shear - q * dz / 2.0) * dz;
        shear -= q * dz;
        most = most.max(moment.abs());
    }
    assert!(shear.abs() < 1e-4 * p.abs().max(1.0) && moment.abs() < 1e-4 * most, "nothing is left at the foot");
    most
}

/// AISC 360-16 Eq. H1-1b with M_n = F_y Z of a compact tube (F7-1), Ω 1.67: HSS2x2x1/8, Z 0.584 in³, F_y 46 ksi; the
/// moments are the largest below the ground, of statics. Embedded 84 in.
#[test]
fn a_post_bends_most_below_the_ground() {
    let text = design("post-below-grade");
    let mut moments = Vec::new();
    for times in [1.0_f64, 2.0] {
        let entry = explained(&with(&text, "gust: ", "mph", 100.0 * times.sqrt()), "post-below-grade");
        let (p, m) = (terms(&entry, "m_peak", "p"), terms(&entry, "m_peak", "m"));
        let swing = peak_below(p[0], m[0], 7.0, 1).max(peak_below(p[0], m[0], 7.0, 0));
        // The moment across the swing is of the frame's weight: largest at the ground, with next to no force.
        let across = m[1].abs();
        let m_n = 46.0 * 0.584 / 1.67 * 1000.0 / 12.0;
        let bending = (swing + across) / m_n;
        let axial = term(&entry, "u", "p");
        assert!(axial < 0.2 && axial < 0.1 * bending, "H1-1b, and little of it is axial");
        near(number(&entry["utilisation"]), axial / 2.0 + bending, "post");
        moments.push(swing);
    }
    // Weight leans on the post too, a little: all but 2 % of the moment is the wind's.
    assert!((moments[1] / moments[0] - 2.0).abs() < 0.02, "{moments:?}");
}

/// IBC 2018 Eq. 18-1: d = A/2 (1 + √(1 + 4.36 h/A)), A = 2.34 P/(S1 b), S1 the lateral bearing at a third of d. Class 4,
/// Table 1806.2: 150 psf per foot; hole 14 in wide, embedded 54 in.
#[test]
fn embedment_solves_its_equation_for_the_depth() {
    let text = design("embedment");
    let mut forces = Vec::new();
    for times in [1.0_f64, 2.0] {
        let entry = explained(&with(&text, "gust: ", "mph", 100.0 * times.sqrt()), "embedment");
        let (p, h) = (term(&entry, "a", "p"), term(&entry, "g", "m") / term(&entry, "a", "p"));
        let mut d = 4.0;
        for _ in 0..200 {
            let a: f64 = 2.34 * p / (150.0 * d / 3.0 * 14.0 / 12.0);
            d = a / 2.0 * (1.0 + (1.0 + 4.36 * h / a).sqrt());
        }
        // The code prints 4.36 for 4 × 1.09.
        near(number(&entry["utilisation"]), d / 4.5, "embedment");
        forces.push(p);
    }
    assert!((forces[1] / forces[0] - 2.0).abs() < 0.01, "wind alone pushes the post: {forces:?}");
}

/// 1 Hz over the frequency is the square root of mass over stiffness: its square grows in a straight line with the mass
/// of the panels, as long as the shape of the movement stays. ASCE 7-16 §26.11.2 calls 1 Hz rigid.
#[test]
fn the_square_of_the_period_grows_with_the_mass() {
    let text = design("frequency");
    let masses = [20.0, 50.0, 80.0].map(|kg| with(&text, "mass: ", "kg", kg));
    let squares = masses.clone().map(|text| {
        let answer = answer(&["strength"], &text);
        let u = number(&rows(&answer)[0]["utilisation"]);
        assert_eq!(rows(&answer)[0]["check"], "frequency");
        near(u, 1.0 / number(&answer["frequencies_hz"][0]), "1 Hz over the frequency");
        u * u
    });
    let (rise, bend) = (squares[2] - squares[0], squares[2] - 2.0 * squares[1] + squares[0]);
    assert!(rise > 0.5 * squares[0], "{squares:?}");
    assert!(bend.abs() < 2e-3 * rise, "the shape hardly changes: {squares:?}");
}
