//! Which rows a frame gets, how far each may be trusted, and what is refused.

use tiltwright::catalogue::{Chapter, Chapters, Silent};
use tiltwright::design::{
    Around, AsceWind, Below, Edition, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis, SnowSite,
    WindBasis,
};
use tiltwright::loads::asce7::wind_roof::{Roof, RoofZone};
use tiltwright::loads::handling::situations;
use tiltwright::loads::{
    Across, Action, Envelope, Method, RangeState, Stand, Surface, TiltLoads, WindFrom, gather, rules,
};
use tiltwright::quantities::{MPS_PER_MPH, PA_PER_PSF, mm, mps, pa, psf};

const ROOF: Roof = Roof {
    height_mm: 6000.0,
    longer_mm: 20_000.0,
    shorter_mm: 12_000.0,
    parapet_mm: 0.0,
    slope_deg: 2.0,
    along_deg: 2.0,
    zone: RoofZone::Corner,
    exposed: true,
};

fn basis(below: Below) -> LoadBasis {
    let (exposure, risk) = (Exposure::C, RiskCategory::II);
    let site = SnowSite { exposure, around: Around::PartiallyExposed, slides_off: false };
    LoadBasis {
        wind: WindBasis::Asce(AsceWind {
            edition: Edition::Asce716,
            gust: mps(115.0 * MPS_PER_MPH),
            exposure,
            risk,
            elevation: mm(0.0),
            k_zt: 1.0,
            form: Form::Us,
        }),
        snow: SnowBasis::Service(ServiceSnow { ground: psf(25.0), risk, site }),
        panel_design_load: [pa(3600.0), pa(1600.0)],
        below,
    }
}

fn frame(tilt: f64, slope: f64, width: f64, low: f64, below: Below, stand: Stand) -> TiltLoads {
    let surface = Surface::new(tilt, slope, width, low).expect("sizes");
    gather(&basis(below), &surface, &stand, 45.0, &mut Silent)
}

fn state<'a>(loads: &'a TiltLoads, id: &str) -> &'a RangeState {
    &loads.cases.iter().find(|c| c.id == id).unwrap_or_else(|| panic!("no row {id}")).state
}

#[test]
fn a_low_frame_inside_the_figure_is_published() {
    // h = 0.3 + 0.87 = 1.17 m over 3.0 m in plan: 0.39.
    let loads = frame(30.0, 3464.0, 3000.0, 300.0, Below::Clear, Stand::Ground);
    assert!(state(&loads, "wind-face-clear-b").is_published());
    assert!(state(&loads, "wind-back-clear-a").is_published());
    assert!(state(&loads, "wind-along-clear-a-left").is_published());
    assert!(matches!(state(&loads, "wind-back-clear-a-left"), RangeState::Judgement(Envelope::Added, _)));
    assert!(loads.refused.is_empty(), "{:?}", loads.refused);
    let component = loads.component([0.5, 0.5], [0.5, 0.5], 1e6, &mut Silent).expect("a component");
    assert!(component.state.is_published());
}

#[test]
fn a_small_frame_on_a_pole_is_judgement_one() {
    let loads = frame(30.0, 1722.0, 2268.0, 1500.0, Below::Clear, Stand::Ground);
    assert!(matches!(state(&loads, "wind-face-clear-a"), RangeState::Judgement(Envelope::J1, _)));
    assert!(matches!(state(&loads, "wind-face-clear-a-right"), RangeState::Judgement(Envelope::J1, _)));
}

#[test]
fn a_winter_tilt_is_judgement_two() {
    let loads = frame(60.0, 1722.0, 4600.0, 300.0, Below::Clear, Stand::Ground);
    assert!(matches!(state(&loads, "wind-back-clear-b"), RangeState::Judgement(Envelope::J2, _)));
    assert!(matches!(state(&loads, "wind-face-slant-left"), RangeState::Judgement(Envelope::J2, _)), "B/s is above 2");
    let component = loads.component([0.5, 0.5], [0.5, 0.5], 1e6, &mut Silent).expect("a component");
    assert!(matches!(component.state, RangeState::Judgement(Envelope::J2, _)));
}

#[test]
fn a_steep_surface_that_reaches_the_ground_is_pushed_above_its_middle() {
    let loads = frame(75.0, 1722.0, 4600.0, 0.0, Below::Clear, Stand::Ground);
    let case = loads.cases.iter().find(|c| c.id == "wind-face-grounded").expect("row");
    let r = case.surface().expect("a surface load").resultant(&loads.surface);
    assert!((r.normal_about_low_edge_nmm / r.normal_n / 1722.0 - 0.55).abs() < 1e-12);
    let raised = frame(75.0, 1722.0, 4600.0, 300.0, Below::Clear, Stand::Ground);
    assert!(raised.cases.iter().all(|c| c.id != "wind-face-grounded"));
}

#[test]
fn an_undeclared_underside_runs_both_flows_and_takes_the_larger_component_pressures() {
    let loads = frame(30.0, 1722.0, 2268.0, 300.0, Below::Undeclared, Stand::Ground);
    for flow in ["clear", "obstructed"] {
        for case in ["a", "b"] {
            state(&loads, &format!("wind-face-{flow}-{case}"));
            state(&loads, &format!("wind-back-{flow}-{case}"));
        }
    }
    assert!(loads.refused.is_empty());
    // At 30° clear flow presses and lifts harder; flat, a blocked space lifts harder (Fig. 30.7-1: 3.3 and 3.6).
    let both = |tilt, below| {
        let loads = frame(tilt, 1722.0, 2268.0, 300.0, below, Stand::Ground);
        let c = loads.component([0.0, 1.0], [0.0, 1.0], 0.5e6, &mut Silent).expect("a component");
        [c.onto_face_pa, c.off_face_pa]
    };
    for tilt in [0.0, 7.5, 30.0, 45.0] {
        let (clear, blocked) = (both(tilt, Below::Clear), both(tilt, Below::Obstructed));
        assert_ne!(clear, blocked, "{tilt}°");
        let largest = [clear[0].max(blocked[0]), clear[1].max(blocked[1])];
        assert_eq!(both(tilt, Below::Undeclared), largest, "{tilt}°");
    }
    assert!(both(0.0, Below::Obstructed)[1] > both(0.0, Below::Clear)[1]);
}

#[test]
fn wind_on_the_face_comes_over_the_low_edge() {
    let loads = frame(35.0, 1722.0, 2268.0, 300.0, Below::Clear, Stand::Ground);
    let halves = |id: &str| {
        let case = loads.cases.iter().find(|c| c.id == id).expect("row");
        (case.wind_from, case.surface().expect("a surface load").normal_pa)
    };
    let (from, [lower, upper]) = halves("wind-face-clear-b");
    assert_eq!(from, Some(WindFrom::Front));
    assert!(lower > upper && upper > 0.0, "the low half meets the wind: {lower} {upper}");
    let (from, [lower, upper]) = halves("wind-back-clear-b");
    assert_eq!(from, Some(WindFrom::Back));
    assert!(upper < lower && lower < 0.0, "the high half meets the wind: {lower} {upper}");
}

#[test]
fn a_tilted_frame_on_a_pitched_roof_is_refused() {
    let loads = frame(30.0, 1722.0, 2268.0, 200.0, Below::Clear, Stand::Roof(Roof { slope_deg: 20.0, ..ROOF }));
    assert!(loads.cases.iter().all(|c| c.action != Action::Wind));
    assert!(loads.refused[0].why.contains("pitched roof"), "{:?}", loads.refused);
    assert!(loads.component([0.0, 1.0], [0.0, 1.0], 1e6, &mut Silent).is_none());
}

#[test]
fn a_rooftop_result_rests_on_sources_that_were_seen() {
    let loads = frame(30.0, 1722.0, 2268.0, 200.0, Below::Clear, Stand::Roof(ROOF));
    let wind: Vec<_> = loads.cases.iter().filter(|c| c.id.ends_with("-roof")).collect();
    assert_eq!(wind.len(), 2);
    assert!(
        wind.iter().all(|c| c.sources.iter().all(|s| !s.is_unverified())),
        "scope, factors and area stand in open repositories"
    );
}

#[test]
fn situations_choose_their_cases() {
    let loads = frame(30.0, 1722.0, 2268.0, 300.0, Below::Clear, Stand::Ground);
    let asd = rules(Edition::Asce716, Method::Asd);
    for situation in situations() {
        let all = situation.combinations(asd, &loads.cases, loads.q_pa);
        let any = |wanted: &str| all.iter().any(|c| c.factors.iter().any(|(i, _)| loads.cases[*i].id.contains(wanted)));
        assert_eq!(any("snow"), situation.id == "in-service", "{}", situation.id);
        assert_eq!(any("bare"), situation.id == "panels-off", "{}", situation.id);
        assert_eq!(any("wind-face-clear"), situation.id != "panels-off", "{}", situation.id);
        assert!(any("lean"), "{}", situation.id);
        let wind = all.iter().find(|c| c.name.starts_with("2.4.1-5")).expect("wind");
        let factor = wind.factors.last().expect("factor").1;
        assert_eq!(factor < 0.1, situation.id == "one-stay-loose", "{} {factor}", situation.id);
    }
}

/// The last number a chapter prints for a part of the surface \[psf\].
fn printed(chapter: &Chapter, what: &str) -> f64 {
    let step = chapter.steps.iter().rev().find(|s| s.what == what).unwrap_or_else(|| panic!("{what} in {chapter:?}"));
    assert_eq!(step.unit, "psf", "{step:?}");
    step.value
}

/// Each case stands in a chapter of its own name, and what is printed there is what presses on the panels.
#[test]
fn the_derivation_of_a_case_ends_with_the_pressures_of_that_case() {
    const SAME: f64 = 1e-9;
    const HALVES: [(Action, [&str; 2]); 2] = [
        (Action::Wind, ["net design pressure, lower half", "net design pressure, upper half"]),
        (Action::Snow, ["square to the panels, lower half", "square to the panels, upper half"]),
    ];
    for tilt in [0.0, 5.0, 20.0, 36.7, 45.0, 58.0, 75.0] {
        let surface = Surface::new(tilt, 1722.0, 2268.0, 600.0).expect("sizes");
        let mut trace = Chapters::default();
        let loads = gather(&basis(Below::Undeclared), &surface, &Stand::Ground, 43.0, &mut trace);
        let mut met = [0, 0];
        for chapter in &trace.chapters {
            let Some(case) = loads.cases.iter().find(|case| case.id == chapter.id) else { continue };
            let Some((kind, names)) = HALVES.iter().find(|(action, _)| *action == case.action) else { continue };
            let even = matches!(case.surface().expect("a surface load").across, Across::Even);
            // Cases of one pressure, and those told apart from left to right, name their parts otherwise.
            if !even || !chapter.steps.iter().any(|step| step.what == names[0]) {
                continue;
            }
            met[usize::from(*kind == Action::Snow)] += 1;
            for (name, pressure_pa) in names.iter().zip(case.surface().expect("a surface load").normal_pa) {
                let found = printed(chapter, name) * PA_PER_PSF;
                assert!((found - pressure_pa).abs() < SAME, "{} {name}: {found} {pressure_pa}", case.id);
            }
        }
        // Both sides, both flows, both cases of the figure; balanced snow and its two halves at least.
        assert_eq!(met[0], 8, "{tilt}°");
        assert!(met[1] >= 3, "{tilt}°: {}", met[1]);
    }
}
