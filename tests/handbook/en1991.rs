//! Wind by EN 1991-1-4:2005+A1 against worked sheets and its canopy table.

use tiltwright::catalogue::Silent;
use tiltwright::design::{Below, EnWind, Terrain};
use tiltwright::loads::Surface;
use tiltwright::loads::en1991::canopy::{self, CanopyZone};
use tiltwright::loads::en1991::wind::{peak_pressure, roughness};
use tiltwright::quantities::{mm, mps};

fn wind(basic_mps: f64, terrain: Terrain) -> EnWind {
    EnWind { basic: mps(basic_mps), terrain, c_0: 1.0, elevation: mm(0.0) }
}

#[test]
fn e1_a_duopitch_sheet() {
    // EN 1991-1-4 duopitch worked sheet (public upload): v_b 26 m/s, terrain IV, z = 9 m taken at z_min 10 m: q_p 0.497 kN/m².
    let (z_0, z_min, _) = roughness(Terrain::IV);
    assert_eq!((z_0, z_min), (1.0, 10.0));
    let mut record = tiltwright::catalogue::Record::default();
    let q = peak_pressure(&wind(26.0, Terrain::IV), 9000.0, &mut record);
    assert!((q / 1000.0 - 0.497).abs() < 0.000_5, "{q}");
    // Its intermediates: k_r 0.234, c_r 0.54, I_v 0.434.
    let of = |symbol: &str| record.steps.iter().find(|s| s.symbol == symbol).expect("step").value;
    assert!(
        (of("k_r") - 0.234).abs() < 0.000_5 && (of("c_r") - 0.54).abs() < 0.005 && (of("I_v") - 0.434).abs() < 0.000_5
    );
}

#[test]
fn e2_a_canopy_for_a_hundred_years() {
    // Monopitch canopy test of an open structural library: v_b0 26 m/s, 100 years, terrain III, z 3.5 m taken at 5 m, α 20°,
    // φ 1: q_p 583.608 Pa, c_f +0.8 and −1.4.
    // EN 1991-1-4 Expression 4.2 with K 0.2 and n 0.5: c_prob of 100 years against the 50 of the basic wind.
    let likely = |p: f64| 1.0 - 0.2 * (-(1.0 - p).ln()).ln();
    let c_prob = (likely(0.01) / likely(0.02)).sqrt();
    let q = peak_pressure(&wind(26.0 * c_prob, Terrain::III), 3500.0, &mut Silent);
    assert!((q - 583.608).abs() < 0.000_6, "{q}");
    assert_eq!(canopy::coefficients(CanopyZone::Overall, 20.0, 1.0), [0.8, -1.4]);
}

#[test]
fn the_canopy_table_is_met_cell_by_cell() {
    // EN 1991-1-4 Table 7.6; c_f as in two independent transcriptions, the local rows in one.
    let columns = [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0];
    let table = [
        (
            CanopyZone::Overall,
            "0.2/-0.5/-1.3 0.4/-0.7/-1.4 0.5/-0.9/-1.4 0.7/-1.1/-1.4 0.8/-1.3/-1.4 1.0/-1.6/-1.4 1.2/-1.8/-1.4",
        ),
        (
            CanopyZone::A,
            ".5/-.6/-1.5 .8/-1.1/-1.6 1.2/-1.5/-1.6 1.4/-1.8/-1.6 1.7/-2.2/-1.6 2.0/-2.6/-1.5 2.2/-3.0/-1.5",
        ),
        (
            CanopyZone::B,
            "1.8/-1.3/-1.8 2.1/-1.7/-2.2 2.4/-2.0/-2.6 2.7/-2.4/-2.9 2.9/-2.8/-2.9 3.1/-3.2/-2.5 3.2/-3.8/-2.2",
        ),
        (
            CanopyZone::C,
            "1.1/-1.4/-2.2 1.3/-1.8/-2.5 1.6/-2.1/-2.7 1.8/-2.5/-3.0 2.1/-2.9/-3.0 2.3/-3.2/-2.8 2.4/-3.6/-2.7",
        ),
    ];
    for (zone, rows) in table {
        for (tilt, cell) in columns.into_iter().zip(rows.split(' ')) {
            let printed: Vec<f64> = cell.split('/').map(|n| n.parse().expect("number")).collect();
            let close = |a: f64, b: f64| (a - b).abs() < 1e-12;
            let [down, clear] = canopy::coefficients(zone, tilt, 0.0);
            let [_, blocked] = canopy::coefficients(zone, tilt, 1.0);
            assert!(
                close(down, printed[0]) && close(clear, printed[1]) && close(blocked, printed[2]),
                "{zone:?} {tilt}"
            );
            let [_, half] = canopy::coefficients(zone, tilt, 0.5);
            assert!(close(half, (printed[1] + printed[2]) / 2.0), "linear in the blockage, §7.3(3)");
        }
    }
    assert!((canopy::coefficients(CanopyZone::Overall, 12.5, 0.0)[1] + 1.0).abs() < 1e-12, "linear in the angle");
}

#[test]
fn a_steep_surface_takes_at_least_the_signboard() {
    // §7.4.3: c_f = 1.80; judgement above 30°.
    let surface = Surface::new(45.0, 2000.0, 3000.0, 500.0).expect("sizes");
    let cases = canopy::wind_cases(&surface, 1000.0, Below::Undeclared, &mut Silent);
    for case in &cases {
        let force = case.surface().expect("a surface load").resultant(&surface).normal_n.abs();
        assert!((force - 1.8 * 6000.0).abs() < 1e-6, "{}: {force}", case.id);
        assert!(!case.state.is_published());
    }
}
