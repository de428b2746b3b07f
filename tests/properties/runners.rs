//! Frames on runners: contacts only push, they carry exactly what presses, and the frame comes off exactly where statics
//! says it tips.

use tiltwright::{
    analysis::Order,
    checks::{
        model::{Answered, TiltRun, run_tilts},
        verify::{Kind, Report, verify},
    },
    codes::{Calc, Foot, Rule, Stability},
    design::{self, Design, Tilts},
    frame::{self, Frame},
    quantities::{GRAVITY, KG_PER_LB, Tape},
};

/// Share of the greatest that a settled contact may miss by.
const ROUNDING: f64 = 1e-5;
/// Share of a small surplus of moment that the movement of the frame may take (second order).
const MOVED: f64 = 0.1;

fn design(ballast_kg: f64, slope: &str) -> Design {
    let text = design::READY.iter().find(|(name, _)| *name == "runners-ground").expect("a ready design").1;
    let tilts = text.find("tilts:").expect("tilts");
    let end = tilts + text[tilts..].find('\n').expect("a line");
    let text = format!("{}tilts: [50 deg]{}", &text[..tilts], &text[end..]);
    let lines = text.lines().filter(|l| !l.starts_with("ballast:") && !l.starts_with("stakes:"));
    let text: String = lines.map(|l| format!("{l}\n")).collect();
    let text = text.replace("    on: ground\n", &format!("    on: ground\n{slope}"));
    let text = format!("{text}ballast: {{per_runner: {ballast_kg} kg, contact: timber on concrete, placed: ends}}\n");
    design::read_text("runners.yaml", &text).unwrap_or_else(|f| panic!("{f:?}")).design
}

fn laid_out(design: &Design) -> Frame {
    let Tilts::Given(tilts) = &design.tilts else { panic!("tilts are given") };
    frame::lay_out(design, tilts, Tape::of(design.units)).unwrap_or_else(|r| panic!("{r:?}"))
}

fn verified(design: &Design) -> Report {
    let basis = design.strength_basis().unwrap_or_else(|f| panic!("{f:?}")).expect("loads are given");
    verify(design, &laid_out(design), &basis).unwrap_or_else(|e| panic!("{e}"))
}

/// Reaction out of the ground at each contact (N).
fn pushes(run: &TiltRun, answered: &Answered, slope_rad: f64) -> Vec<f64> {
    let response = run.results_of(answered).response(answered.answer);
    let out = [0.0, -slope_rad.sin(), slope_rad.cos()];
    run.skeleton
        .grounded
        .iter()
        .map(|(node, _)| response.reaction(*node)[..3].iter().zip(out).map(|(r, o)| r * o).sum())
        .collect()
}

fn check_contacts(design: &Design, slope_rad: f64) {
    let basis = design.strength_basis().expect("complete").expect("loads");
    let runs = run_tilts(design, &laid_out(design), &basis).unwrap_or_else(|e| panic!("{e}"));
    let (mut rests, mut lifts, mut opened) = (0, 0, 0);
    for run in &runs {
        for answered in &run.answered {
            let results = run.results_of(answered);
            let response = results.response(answered.answer);
            if *response.order() == Order::Lifted {
                lifts += 1;
                continue;
            }
            if matches!(response.order(), Order::Fails { .. }) {
                continue;
            }
            rests += 1;
            opened += usize::from(matches!(response.order(), Order::Iterated { open, .. } if !open.is_empty()));
            let pushes = pushes(run, answered, slope_rad);
            let greatest = pushes.iter().fold(0.0_f64, |a, p| a.max(p.abs()));
            assert!(pushes.iter().all(|p| *p >= -ROUNDING * greatest), "{}: {pushes:?}", response.name());
            // Linear cases hold both ways, so their sum is what presses in all.
            let mut pressed = 0.0;
            for (case, factor) in response.parts() {
                let linear = results.response(*case);
                for (node, _) in &run.skeleton.grounded {
                    let r = linear.reaction(*node);
                    pressed += factor * (r[2] * slope_rad.cos() - r[1] * slope_rad.sin());
                }
            }
            let sum: f64 = pushes.iter().sum();
            assert!((sum - pressed).abs() < ROUNDING * greatest, "{}: {sum} {pressed}", response.name());
        }
    }
    assert!(rests > 0 && opened > 0, "{rests} combinations rest, {opened} of them on fewer contacts, {lifts} lift");
}

#[test]
fn contacts_only_push_and_carry_all_that_presses() {
    check_contacts(&design(150.0, ""), 0.0);
}

#[test]
fn on_a_slope_contacts_push_square_to_it() {
    check_contacts(&design(150.0, "    ground_slope: 8 deg\n"), 8f64.to_radians());
}

/// The ballast that statics asks for: a little less and the combination lifts off, a little more and it rests on the far
/// contacts alone, those over which it tips.
#[test]
fn the_frame_comes_off_exactly_where_its_tipping_utilisation_is_one() {
    let first = verified(&design(20.0, ""));
    let row = first
        .rows
        .iter()
        .filter(|r| r.kind == Kind::Ballast && r.part == "frame, over the near ends")
        .find(|r| r.utilisation.is_some_and(|u| u > 1.0))
        .expect("a light frame tips");
    let Some(Calc::Foot(Foot::Ballasted(frame, rule, Stability::Overturning))) = row.calc else { panic!("{row:?}") };
    assert_eq!(rule, Rule::of_combination(0.6));
    // m = 0.6 (w_f x_f + w_b x_b), and the ballast keeps its arm.
    let needed_lb = (frame.tip_ft_lb / 0.6 - frame.frame_lb * frame.frame_arm_ft) / frame.ballast_arm_ft;
    let needed_kg = needed_lb * KG_PER_LB / 2.0;
    for (share, comes_off) in [(0.99, true), (1.05, false)] {
        let design = design(share * needed_kg, "");
        let basis = design.strength_basis().expect("complete").expect("loads");
        let runs = run_tilts(&design, &laid_out(&design), &basis).unwrap_or_else(|e| panic!("{e}"));
        let run = &runs[0];
        let answered = run.answered.iter().find(|a| run.name_of(a) == row.case).expect("the same combination");
        let response = run.results_of(answered).response(answered.answer);
        assert_eq!(*response.order() == Order::Lifted, comes_off, "{share} {:?}", response.order());
        if comes_off {
            continue;
        }
        let pushes = pushes(run, answered, 0.0);
        let place = |k: usize| run.skeleton.places[run.skeleton.grounded[k].0.0][1];
        let near = (0..pushes.len()).map(place).fold(f64::MAX, f64::min);
        // What is left of the moment about the near ends is that of the surplus, by hand.
        let left: f64 = (0..pushes.len()).map(|k| pushes[k] * (place(k) - near)).sum();
        let arm_mm = frame.ballast_arm_ft * 304.8;
        let surplus = 0.6 * (share - 1.0) * 2.0 * needed_kg * GRAVITY * arm_mm;
        assert!((left / surplus - 1.0).abs() < MOVED, "{left} {surplus}");
    }
}

/// Reactions of the model and the pressure that the sheet gives balance: found again by summing thin strips.
#[test]
fn pressure_under_a_runner_balances_what_presses_on_it() {
    let design = design(150.0, "");
    let report = verified(&design);
    let row = report.rows.iter().find(|r| r.kind == Kind::BaseBearing).expect("a row");
    let Some(Calc::Foot(Foot::Runner([load, moment], [length, width], allowed_psf))) = row.calc else {
        panic!("{:?}", row.calc)
    };
    let utilisation = row.utilisation.expect("a number");
    // The load is what one runner presses in that combination.
    let matches = report.runs.iter().any(|run| {
        run.answered.iter().filter(|a| row.case.starts_with(&a.combination.name)).any(|a| {
            let pushes = pushes(run, a, 0.0);
            let runner = |r: usize| {
                let of = run.skeleton.grounded.iter().zip(&pushes).filter(|((_, of), _)| *of == r);
                of.map(|(_, push)| push.max(0.0)).sum::<f64>()
            };
            run.skeleton.grounded.iter().any(|(_, r)| (runner(*r) - load).abs() < 1e-6 * load)
        })
    });
    assert!(matches, "no runner presses {load} N under {}", row.case);
    // Peak pressure (MPa) at one edge, falling linearly; nothing is pulled.
    let peak = utilisation * allowed_psf * 47.880_259e-6;
    let e = (moment / load).abs();
    assert!(e < length / 2.0);
    let (reach, other) = if e <= length / 6.0 {
        (length, 2.0 * load / (length * width) - peak)
    } else {
        (3.0 * (length / 2.0 - e), 0.0)
    };
    const STRIPS: u32 = 20_000;
    let (mut force, mut turn) = (0.0, 0.0);
    for k in 0..STRIPS {
        let along = (f64::from(k) + 0.5) / f64::from(STRIPS);
        let push = (peak + (other - peak) * along) * width * reach / f64::from(STRIPS);
        force += push;
        turn += push * (length / 2.0 - along * reach);
    }
    assert!((force / load - 1.0).abs() < 1e-5, "{force} {load}");
    assert!((turn / moment.abs() - 1.0).abs() < 1e-4, "{turn} {moment}");
}
