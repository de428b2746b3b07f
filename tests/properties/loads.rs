//! What must hold for wind, snow and their combinations at any size, tilt and gust.

use proptest::prelude::*;
use tiltwright::catalogue::{Certainty, Silent};
use tiltwright::design::{
    Around, AsceWind, Below, Edition, EnWind, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis,
    SnowSite, StrengthSnow, Terrain, WindBasis,
};
use tiltwright::loads::asce7::wind_open::{self, FigureCase, Flow, WindOn};
use tiltwright::loads::asce7::{GUST_FACTOR, K_D, wind_sign};
use tiltwright::loads::handling::situations;
use tiltwright::loads::{
    Across, Action, Case, Duration, Load, Method, RangeState, Stand, Strip, Surface, SurfaceLoad, TiltLoads, gather,
    rules,
};
use tiltwright::quantities::{MPS_PER_MPH, mm, mps, pa, psf};

fn asce(edition: Edition, mph: f64, exposure: Exposure, below: Below, snow_psf: f64) -> LoadBasis {
    let site = SnowSite { exposure, around: Around::PartiallyExposed, slides_off: true };
    let (ground, risk) = (psf(snow_psf), RiskCategory::II);
    LoadBasis {
        wind: WindBasis::Asce(AsceWind {
            edition,
            gust: mps(mph * MPS_PER_MPH),
            exposure,
            risk,
            elevation: mm(100_000.0),
            k_zt: 1.0,
            form: Form::Us,
        }),
        snow: if edition == Edition::Asce722 {
            SnowBasis::Strength(StrengthSnow { ground, risk, site })
        } else {
            SnowBasis::Service(ServiceSnow { ground, risk, site })
        },
        panel_design_load: [pa(3600.0), pa(1600.0)],
        below,
    }
}

fn european(basic: f64, below: Below) -> LoadBasis {
    LoadBasis {
        wind: WindBasis::En(EnWind { basic: mps(basic), terrain: Terrain::III, c_0: 1.0, elevation: mm(100_000.0) }),
        snow: SnowBasis::Characteristic(pa(1000.0)),
        panel_design_load: [pa(3600.0), pa(1600.0)],
        below,
    }
}

fn of(basis: &LoadBasis, surface: &Surface) -> TiltLoads {
    gather(basis, surface, &Stand::Ground, 45.0, &mut Silent)
}

fn surfaces() -> impl Strategy<Value = Surface> {
    (0.0..90.0f64, 600.0..6000.0f64, 600.0..12_000.0f64, 0.0..3000.0f64)
        .prop_map(|(tilt, slope, width, low)| Surface::new(tilt, slope, width, low).expect("sizes"))
}

fn editions() -> impl Strategy<Value = Edition> {
    prop_oneof![Just(Edition::Asce710), Just(Edition::Asce716), Just(Edition::Asce722)]
}

fn exposures() -> impl Strategy<Value = Exposure> {
    prop_oneof![Just(Exposure::B), Just(Exposure::C), Just(Exposure::D)]
}

fn spreads() -> impl Strategy<Value = Across> {
    prop_oneof![
        Just(Across::Even),
        (-0.25..0.25f64).prop_map(Across::Leaning),
        (0.1..0.9f64, 0.0..2.0f64, 0.0..2.0f64).prop_map(|(at, a, b)| Across::Strips(vec![
            Strip { from: 0.0, to: at, share: a },
            Strip { from: at, to: 1.0, share: b },
        ])),
    ]
}

fn close(a: f64, b: f64, scale: f64) -> bool {
    (a - b).abs() <= 1e-9 * scale.abs().max(1.0)
}

/// The steep rows that rest on the sign coefficient: wind across the low edge, not along it, not the minimum.
fn is_across(case: &Case) -> bool {
    case.action == Action::Wind
        && !case.id.contains("along")
        && !case.id.contains("least")
        && matches!(case.load, Load::Surface(_))
}

proptest! {
    #[test]
    fn patches_add_up_to_the_whole(
        surface in surfaces(), low in -3000.0..3000.0f64, high in -3000.0..3000.0f64, across in spreads(),
        u in 0.0..1.0f64, x in 0.0..1.0f64,
    ) {
        let load = SurfaceLoad { normal_pa: [low, high], up_slope_pa: [high, low], across };
        let whole = load.resultant(&surface);
        let mut sum = [0.0; 4];
        for u in [[0.0, u], [u, 1.0]] {
            for x in [[0.0, x], [x, 1.0]] {
                let r = load.resultant_on(&surface, u, x);
                for (s, v) in sum.iter_mut().zip([r.normal_n, r.up_slope_n, r.normal_about_low_edge_nmm, r.normal_about_left_nmm]) {
                    *s += v;
                }
            }
        }
        let scale = 6000.0 * surface.area_mm2() * 1e-6;
        prop_assert!(close(sum[0], whole.normal_n, scale));
        prop_assert!(close(sum[1], whole.up_slope_n, scale));
        prop_assert!(close(sum[2], whole.normal_about_low_edge_nmm, scale * surface.slope_mm));
        prop_assert!(close(sum[3], whole.normal_about_left_nmm, scale * surface.width_mm));
    }

    #[test]
    fn a_leaning_load_keeps_its_total_and_moves_its_resultant(surface in surfaces(), e in -0.25..0.25f64) {
        let load = SurfaceLoad::normal(500.0, 700.0);
        let even = load.resultant(&surface);
        let leaning = load.across(Across::Leaning(e)).resultant(&surface);
        prop_assert!(close(leaning.normal_n, even.normal_n, even.normal_n));
        let place = leaning.normal_about_left_nmm / leaning.normal_n / surface.width_mm;
        prop_assert!((place - 0.5 - e).abs() < 1e-9);
    }

    #[test]
    fn a_mirrored_spread_mirrors(across in spreads(), x in 0.001..0.999f64) {
        let mirrored = across.mirrored();
        let at_border = matches!(&across, Across::Strips(s) if s.iter().any(|s| (s.from - x).abs() < 1e-6 || (s.to - x).abs() < 1e-6));
        prop_assume!(!at_border);
        prop_assert!(close(across.share_at(x), mirrored.share_at(1.0 - x), 2.0));
    }

    #[test]
    fn vertical_and_level_loads_keep_their_direction(surface in surfaces(), p in 0.0..5000.0f64) {
        let (sin, cos) = surface.sin_cos();
        let down_level = |load: SurfaceLoad| {
            let r = load.resultant(&surface);
            (r.normal_n * cos - r.up_slope_n * sin, r.normal_n * sin + r.up_slope_n * cos)
        };
        let area = surface.area_mm2() * 1e-6;
        let (down, level) = down_level(SurfaceLoad::vertical_on_plan(p, p, surface.tilt_deg));
        prop_assert!(close(down, p * area * cos, p * area) && close(level, 0.0, p * area));
        let (down, level) = down_level(SurfaceLoad::horizontal_on_elevation(p, surface.tilt_deg));
        prop_assert!(close(level, p * area * sin, p * area) && close(down, 0.0, p * area));
    }

    #[test]
    fn no_row_above_45_degrees_or_outside_the_figure_is_published(
        surface in surfaces(), edition in editions(), exposure in exposures(),
    ) {
        let loads = of(&asce(edition, 115.0, exposure, Below::Undeclared, 25.0), &surface);
        let h = surface.mean_height_mm();
        for case in loads.cases.iter().filter(|c| is_across(c) || c.id.contains("along")) {
            let along = if case.id.contains("along") { surface.width_mm } else { surface.run_mm() };
            let inside = surface.tilt_deg <= 45.0 && (0.25..=1.0).contains(&(h / along));
            if !inside {
                prop_assert!(matches!(case.state, RangeState::Judgement(..)), "{}: {}", case.id, case.state);
                prop_assert!(case.sources.iter().any(|s| s.certainty == Certainty::Judgement), "{}", case.id);
            }
        }
    }

    #[test]
    fn a_steep_surface_never_takes_less_than_a_sign(surface in surfaces(), edition in editions(), exposure in exposures()) {
        prop_assume!(surface.tilt_deg > 45.0);
        let loads = of(&asce(edition, 115.0, exposure, Below::Undeclared, 25.0), &surface);
        let c_f = wind_sign::force_coefficient(
            surface.width_mm / surface.rise_mm(), surface.rise_mm() / surface.high_edge_mm(), &mut Silent,
        );
        let k_d = if edition == Edition::Asce722 { K_D } else { 1.0 };
        let sign = loads.q_pa * k_d * GUST_FACTOR * c_f * surface.area_mm2() * 1e-6;
        for case in loads.cases.iter().filter(|c| is_across(c) && !c.id.contains("slant")) {
            let force = case.surface().expect("a surface load").resultant(&surface).normal_n;
            let towards = if case.id.starts_with("wind-face") { force } else { -force };
            prop_assert!(towards >= sign * (1.0 - 1e-12), "{}: {towards} below {sign}", case.id);
        }
    }

    #[test]
    fn wind_goes_with_the_square_of_the_gust(surface in surfaces(), mph in 60.0..140.0f64) {
        let basis = |mph| asce(Edition::Asce716, mph, Exposure::C, Below::Clear, 0.0);
        let (once, twice) = (of(&basis(mph), &surface), of(&basis(2.0 * mph), &surface));
        for (a, b) in once.cases.iter().zip(&twice.cases).filter(|(a, _)| a.action == Action::Wind && !a.id.contains("least")) {
            if let (Some(a), Some(b)) = (a.surface(), b.surface()) {
                prop_assert!((0..2).all(|i| close(4.0 * a.normal_pa[i], b.normal_pa[i], b.normal_pa[i])));
            }
        }
    }

    #[test]
    fn a_higher_or_more_open_place_has_more_wind(h in 1000.0..20_000.0f64, more in 0.0..5000.0f64, edition in editions()) {
        let k = |exposure, h| {
            tiltwright::loads::asce7::velocity_pressure::exposure_coefficient(edition, exposure, Form::Us, h, &mut Silent)
        };
        for exposure in [Exposure::B, Exposure::C, Exposure::D] {
            prop_assert!(k(exposure, h + more) >= k(exposure, h));
        }
        prop_assert!(k(Exposure::B, h) < k(Exposure::C, h) && k(Exposure::C, h) < k(Exposure::D, h));
    }

    #[test]
    fn wind_on_the_face_presses_and_wind_on_the_back_lifts(tilt in 7.5..90.0f64) {
        // Clear flow, mean of the two halves; the flat rows below 7.5° have both signs.
        for case in [FigureCase::A, FigureCase::B] {
            let mean = |on| wind_open::net_coefficients(tilt, on, Flow::Clear, case, 1.5, &mut Silent).iter().sum::<f64>();
            prop_assert!(mean(WindOn::Face) > 0.0 && mean(WindOn::Back) < 0.0);
        }
    }

    #[test]
    fn the_steep_envelope_joins_the_figure_without_a_drop(on_face in any::<bool>(), case_b in any::<bool>(), c_f in 1.3..1.95f64) {
        let on = if on_face { WindOn::Face } else { WindOn::Back };
        let case = if case_b { FigureCase::B } else { FigureCase::A };
        for flow in [Flow::Clear, Flow::Obstructed] {
            let at = |tilt| wind_open::net_coefficients(tilt, on, flow, case, c_f, &mut Silent);
            let mean = |tilt| on.sign() * at(tilt).iter().sum::<f64>() / 2.0;
            prop_assert!(mean(45.000_1) >= mean(45.0) - 1e-9, "no step down on leaving the figure");
            prop_assert!((mean(60.0) - mean(50.0)).abs() < 1e-9, "held to 60°");
            prop_assert!((mean(90.0) - c_f).abs() < 1e-9 && (at(90.0)[0] - at(90.0)[1]).abs() < 1e-9, "a sign at 90°");
        }
    }

    #[test]
    fn snow_never_grows_with_the_tilt(a in 0.0..90.0f64, more in 0.0..30.0f64, slides in any::<bool>()) {
        let at = |tilt| tiltwright::loads::snow::slope_factor(tilt, 1.2, slides, &mut Silent);
        prop_assert!(at(a + more) <= at(a));
        prop_assert!((0.0..=1.0).contains(&at(a)));
    }

    #[test]
    fn combinations_name_real_cases_and_their_shortest_load(surface in surfaces(), snow in prop_oneof![Just(0.0), 10.0..60.0f64]) {
        for (basis, edition, methods) in [
            (asce(Edition::Asce716, 115.0, Exposure::C, Below::Undeclared, snow), Edition::Asce716, vec![Method::Asd, Method::Lrfd]),
            (asce(Edition::Asce722, 115.0, Exposure::C, Below::Clear, snow), Edition::Asce722, vec![Method::Asd, Method::Lrfd]),
            (european(26.0, Below::Undeclared), Edition::En1991, vec![Method::Limit]),
        ] {
            let loads = of(&basis, &surface);
            for method in methods {
                for situation in situations() {
                    let all = situation.combinations(rules(edition, method), &loads.cases, loads.q_pa);
                    prop_assert!(!all.is_empty());
                    for combination in &all {
                        let cases: Vec<&Case> = combination.factors.iter().map(|(i, _)| &loads.cases[*i]).collect();
                        prop_assert!(cases.iter().all(|c| situation.admits(c)));
                        prop_assert!(combination.factors.iter().all(|(_, f)| *f > 0.0));
                        let has = |action| cases.iter().any(|c| c.action == action);
                        let shortest = if has(Action::Wind) {
                            Duration::TenMinutes
                        } else if has(Action::Handling) {
                            Duration::SevenDays
                        } else if has(Action::Snow) {
                            Duration::TwoMonths
                        } else {
                            Duration::Permanent
                        };
                        prop_assert_eq!(combination.duration, shortest);
                    }
                    let mut names: Vec<&str> = all.iter().map(|c| c.name.as_str()).collect();
                    names.sort_unstable();
                    names.dedup();
                    prop_assert_eq!(names.len(), all.len(), "no combination twice");
                }
            }
        }
    }

    #[test]
    fn left_and_right_are_mirror_images(surface in surfaces(), edition in editions()) {
        let loads = of(&asce(edition, 115.0, Exposure::C, Below::Undeclared, 25.0), &surface);
        let mut pairs = 0;
        for left in loads.cases.iter().filter(|c| c.id.ends_with("-left") && matches!(c.load, Load::Surface(_))) {
            let name = left.id.replace("-left", "-right");
            let right = loads.cases.iter().find(|c| c.id == name).expect("its twin");
            let turn = |case: &Case| {
                let r = case.surface().expect("a surface load").resultant(&surface);
                (r.normal_n, r.normal_about_left_nmm - r.normal_n * surface.width_mm / 2.0)
            };
            let ((force, a), (same, b)) = (turn(left), turn(right));
            prop_assert!(close(force, same, force) && close(a, -b, force.abs() * surface.width_mm), "{}", left.id);
            pairs += 1;
        }
        prop_assert!(pairs >= 5);
    }

    #[test]
    fn the_same_question_gives_the_same_answer(surface in surfaces()) {
        let basis = asce(Edition::Asce716, 115.0, Exposure::C, Below::Undeclared, 25.0);
        prop_assert_eq!(of(&basis, &surface), of(&basis, &surface));
    }

    #[test]
    fn a_slow_frame_keeps_no_wind_case(surface in surfaces(), hz in 0.01..0.999f64) {
        let mut loads = of(&asce(Edition::Asce716, 115.0, Exposure::C, Below::Undeclared, 25.0), &surface);
        let wind = loads.cases.iter().filter(|c| c.action == Action::Wind).count();
        let refused = loads.refused.len();
        loads.refuse_if_flexible(hz);
        prop_assert!(loads.cases.iter().all(|c| c.action != Action::Wind));
        prop_assert_eq!(loads.refused.len(), refused + wind);
        prop_assert!(loads.component([0.0, 0.5], [0.0, 0.5], 1e6, &mut Silent).is_none());
    }

    #[test]
    fn components_take_at_least_the_minimum_and_never_less_near_an_edge(surface in surfaces(), area in 0.1e6..8e6f64) {
        let loads = of(&asce(Edition::Asce716, 115.0, Exposure::C, Below::Clear, 25.0), &surface);
        let at = |u, x| loads.component(u, x, area, &mut Silent).expect("a component");
        let (corner, inside) = (at([0.0, 0.1], [0.0, 0.1]), at([0.5, 0.5], [0.5, 0.5]));
        prop_assert!(inside.onto_face_pa >= 16.0 * 47.88 && inside.off_face_pa >= 16.0 * 47.88);
        prop_assert!(corner.onto_face_pa >= inside.onto_face_pa && corner.off_face_pa >= inside.off_face_pa);
    }
}
