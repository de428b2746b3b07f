//! Snow by ASCE 7-16 and 7-22 Chapter 7.

use tiltwright::catalogue::Silent;
use tiltwright::design::{Around, Exposure, RiskCategory, ServiceSnow, SnowSite, StrengthSnow};
use tiltwright::loads::{Surface, snow};
use tiltwright::quantities::{PA_PER_PSF, psf};

const SITE: SnowSite = SnowSite { exposure: Exposure::C, around: Around::FullyExposed, slides_off: true };

fn service(psf_ground: f64, site: SnowSite) -> ServiceSnow {
    ServiceSnow { ground: psf(psf_ground), risk: RiskCategory::II, site }
}

#[test]
fn s1_a_published_canopy() {
    // Published canopy load calculation, ASCE 7-16, 14 ft mean height, θ = 0: C_e 0.9, C_t 1.2, I_s 1.0, p_g 20 → 15.12 psf.
    let flat = snow::flat_roof_psf(&service(20.0, SITE), snow::OPEN_AIR, &mut Silent);
    assert!((flat - 15.12).abs() < 1e-9, "{flat}");
}

#[test]
fn slope_factors_of_cold_slippery_panels() {
    // ASCE 7-16 Fig. 7.4-1c, dashed line: (70 − θ)/55 from 15°.
    for (tilt, factor) in [(15.0, 1.0), (30.0, 0.727), (45.0, 0.455), (60.0, 0.182), (70.0, 0.0), (80.0, 0.0)] {
        assert!((snow::slope_factor(tilt, 1.2, true, &mut Silent) - factor).abs() < 0.000_6, "{tilt}");
    }
}

#[test]
fn slope_factors_start_where_the_figure_bends() {
    // ASCE 7-16 Fig. 7.4-1 a, b, c: last angle with the full load, slippery and all other surfaces.
    for (c_t, slippery, bend) in [
        (1.0, true, 5.0),
        (1.1, true, 10.0),
        (1.2, true, 15.0),
        (1.0, false, 30.0),
        (1.1, false, 37.5),
        (1.2, false, 45.0),
    ] {
        let at = |tilt| snow::slope_factor(tilt, c_t, slippery, &mut Silent);
        assert_eq!(at(bend), 1.0);
        assert!(at(bend + 0.5) < 1.0);
        assert!((at((bend + 70.0) / 2.0) - 0.5).abs() < 1e-12);
    }
}

#[test]
fn exposure_factors_of_the_table() {
    // ASCE 7-16 Table 7.3-1: fully exposed, partially exposed, sheltered.
    let table = [(Exposure::B, [0.9, 1.0, 1.2]), (Exposure::C, [0.9, 1.0, 1.1]), (Exposure::D, [0.8, 0.9, 1.0])];
    for (exposure, row) in table {
        for (around, value) in [Around::FullyExposed, Around::PartiallyExposed, Around::Sheltered].into_iter().zip(row)
        {
            assert_eq!(snow::exposure_factor(exposure, around), value);
        }
    }
}

#[test]
fn the_newest_edition_has_no_importance_factor() {
    // ASCE 7-22 Eq. 7.3-1 (STRUCTURE magazine on the 7-22 snow provisions): 0.7 C_e C_t p_g for every risk category.
    for risk in [RiskCategory::I, RiskCategory::IV] {
        let strength = StrengthSnow { ground: psf(40.0), risk, site: SITE };
        assert!((snow::flat_roof_psf(&strength, 1.2, &mut Silent) - 0.7 * 0.9 * 1.2 * 40.0).abs() < 1e-9);
        let old = ServiceSnow { ground: psf(40.0), risk, site: SITE };
        let factor = if risk == RiskCategory::I { 0.8 } else { 1.2 };
        assert!((snow::flat_roof_psf(&old, 1.2, &mut Silent) - factor * 0.7 * 0.9 * 1.2 * 40.0).abs() < 1e-9);
    }
}

#[test]
fn cases_stand_straight_down_with_their_total() {
    let surface = Surface::new(30.0, 2000.0, 3000.0, 500.0).expect("sizes");
    let snow = service(40.0, SITE);
    let cases = snow::snow_cases(&snow, &surface, &mut Silent);
    let plan_m2 = surface.run_mm() * surface.width_mm * 1e-6;
    let flat = 0.7 * 0.9 * 1.2 * 40.0 * PA_PER_PSF;
    let (sin, cos) = surface.sin_cos();
    for (id, total) in [
        ("snow-balanced", 40.0 / 55.0),
        ("snow-partial-lower", 0.75 * 40.0 / 55.0),
        ("snow-partial-left", 0.75 * 40.0 / 55.0),
        // A rough cold surface keeps the whole flat-roof load to 45°.
        ("snow-slid", 1.0),
    ] {
        let case = cases.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("{id}"));
        let r = case.surface().expect("a surface load").resultant(&surface);
        let (down, level) = (r.normal_n * cos - r.up_slope_n * sin, r.normal_n * sin + r.up_slope_n * cos);
        assert!((down / (total * flat * plan_m2) - 1.0).abs() < 1e-12, "{id}: {down}");
        assert!(level.abs() < 1e-9, "{id}: {level}");
    }
    assert!(cases.iter().all(|c| c.id != "snow-minimum" && c.id != "snow-rain"), "both are for low slopes");
}

#[test]
fn a_low_slope_gets_its_minimum_and_a_flat_one_the_rain() {
    let ids = |tilt| {
        let surface = Surface::new(tilt, 2000.0, 3000.0, 500.0).expect("sizes");
        snow::snow_cases(&service(20.0, SITE), &surface, &mut Silent).into_iter().map(|c| c.id).collect::<Vec<_>>()
    };
    assert!(ids(10.0).contains(&"snow-minimum".to_string()) && !ids(10.0).contains(&"snow-rain".to_string()));
    // ASCE 7-16 §7.10: slope below W/50 degrees, here 6.56 ft / 50 = 0.13°.
    assert!(ids(0.1).contains(&"snow-rain".to_string()));
    assert!(!ids(15.0).contains(&"snow-minimum".to_string()));
    let flat = Surface::new(0.0, 2000.0, 3000.0, 500.0).expect("sizes");
    let cases = snow::snow_cases(&service(20.0, SITE), &flat, &mut Silent);
    let psf_of =
        |id: &str| cases.iter().find(|c| c.id == id).and_then(|c| c.surface()).expect("case").normal_pa[0] / PA_PER_PSF;
    assert!((psf_of("snow-minimum") - 20.0).abs() < 1e-9);
    assert!((psf_of("snow-rain") - 20.12).abs() < 1e-9);
}

#[test]
fn no_snow_no_cases() {
    let surface = Surface::new(30.0, 2000.0, 3000.0, 500.0).expect("sizes");
    assert!(snow::snow_cases(&service(0.0, SITE), &surface, &mut Silent).is_empty());
}
