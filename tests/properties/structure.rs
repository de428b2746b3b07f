//! Reactions of the whole frame against the loads, worked out again from the design's own numbers.
//!
//! Independent of the code that spreads loads: pressures times the rectangle of the panels, their centre by hand, weights
//! by volume and mass, wind on bare sticks by the width they show.

use tiltwright::{
    analysis::Results,
    checks::model::{TiltRun, run_tilts},
    design::{self, Design},
    frame::{
        self, Body, Frame, Role, StandsOn, at_tilt,
        vector::{cross, plus},
    },
    loads::{Across, Action, Case, Load, WindFrom},
    quantities::{GRAVITY, Tape, to_kg},
};

/// Share of the greatest that sums of some hundred terms may be off.
const ROUNDING: f64 = 1e-6;

fn posts() -> Design {
    design::read(None).expect("the built-in design").design
}

fn runners() -> Design {
    let text = design::BUILTIN_TEXT;
    let from = text.find("support:").expect("a support");
    let to = text.find("soil:").expect("a soil");
    let runners = "support:\n  kind: runners\n  stay: {section: 2x4}\n  runners: {section: 2x6, on: ground}\n";
    let text = format!("{}{runners}{}", &text[..from], &text[to..]);
    design::read_text("runners.yaml", &text).unwrap_or_else(|f| panic!("{f:?}")).design
}

struct Solved {
    design: Design,
    frame: Frame,
    runs: Vec<TiltRun>,
}

fn solve(design: Design) -> Solved {
    let design::Tilts::Given(tilts) = &design.tilts else { panic!("tilts are given") };
    let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).unwrap_or_else(|r| panic!("{r:?}"));
    let basis = design.strength_basis().unwrap_or_else(|f| panic!("{f:?}")).expect("loads are given");
    let runs = run_tilts(&design, &frame, &basis).unwrap_or_else(|e| panic!("{e}"));
    Solved { design, frame, runs }
}

/// Force and moment about the origin of everything that holds the frame to the ground.
fn held(run: &TiltRun, results: &Results, answer: usize) -> [f64; 6] {
    let response = results.response(answer);
    let mut sum = [0.0; 6];
    for (node, _) in &run.skeleton.grounded {
        let r = response.reaction(*node);
        let force = [r[0], r[1], r[2]];
        let turn = plus(cross(run.skeleton.places[node.0], force), [r[3], r[4], r[5]]);
        for i in 0..3 {
            sum[i] += force[i];
            sum[3 + i] += turn[i];
        }
    }
    sum
}

fn add(sum: &mut [f64; 6], at: [f64; 3], force: [f64; 3]) {
    let turn = cross(at, force);
    for i in 0..3 {
        sum[i] += force[i];
        sum[3 + i] += turn[i];
    }
}

fn place(body: Body, [x, u, w]: [f64; 3], tilt: f64) -> [f64; 3] {
    match body {
        Body::Frame => {
            let [y, z] = at_tilt([u, w], tilt);
            [x, y, z]
        }
        _ => [x, u, w],
    }
}

/// Pressures of a case by hand: halves of the slope, strips or a lean across.
fn pressed(frame: &Frame, case: &Case, tilt: f64) -> [f64; 6] {
    let Load::Surface(load) = &case.load else { return [0.0; 6] };
    let ends = |axis: fn(&frame::PanelPlace) -> [f64; 2]| {
        let all = frame.panels.iter().map(axis);
        all.fold([f64::MAX, f64::MIN], |s, p| [s[0].min(p[0]), s[1].max(p[1])])
    };
    let (x, u) = (ends(|p| p.x_mm), ends(|p| p.u_mm));
    let w = frame.panels[0].w_mm.iter().sum::<f64>() / 2.0;
    let (width, slope) = (x[1] - x[0], u[1] - u[0]);
    // Total share and its centre across.
    let strips: Vec<(f64, f64)> = match &load.across {
        Across::Even => vec![(1.0, 0.5)],
        Across::Leaning(e) => vec![(1.0, 0.5 + e)],
        Across::Strips(strips) => strips.iter().map(|s| (s.share * (s.to - s.from), (s.from + s.to) / 2.0)).collect(),
    };
    let (sin, cos) = tilt.sin_cos();
    let mut sum = [0.0; 6];
    for half in 0..2 {
        for (share, centre) in &strips {
            let area_m2 = width * slope / 2.0 * 1e-6 * share;
            let normal = load.normal_pa[half] * area_m2;
            let along = load.up_slope_pa[half] * area_m2;
            let at = place(Body::Frame, [x[0] + centre * width, u[0] + slope * (0.25 + 0.5 * half as f64), w], tilt);
            add(&mut sum, at, [0.0, normal * sin + along * cos, -normal * cos + along * sin]);
        }
    }
    sum
}

/// Wind on what stands outside the panels: posts above grade, runners, stays, the windward stile.
fn blown(solved: &Solved, run: &TiltRun, case: &Case) -> [f64; 6] {
    let (Some(bare), Some(from)) = (run.loads.bare, case.wind_from) else { return [0.0; 6] };
    let frame = &solved.frame;
    let tilt = run.skeleton.tilt_deg.to_radians();
    let direction: [f64; 3] = match from {
        WindFrom::Front => [0.0, 1.0, 0.0],
        WindFrom::Back => [0.0, -1.0, 0.0],
        WindFrom::Left => [1.0, 0.0, 0.0],
        WindFrom::Right => [-1.0, 0.0, 0.0],
    };
    let sideways = direction[0] != 0.0;
    let stiles = |side: f64| {
        let all = frame.sticks.iter().filter(|s| matches!(s.role, Role::Stile | Role::Mullion));
        all.map(|s| s.start[0] * side).fold(f64::MIN, f64::max)
    };
    let mut sum = [0.0; 6];
    for stick in &frame.sticks {
        let upright = matches!(stick.role, Role::Stile | Role::Mullion);
        let windward = upright && sideways && (stick.start[0] * -direction[0] - stiles(-direction[0])).abs() < 1e-6;
        if stick.body == Body::Frame && !windward {
            continue;
        }
        let section = stick.section;
        let (a, b, length, centre_depth) = match stick.role {
            Role::Stay => {
                let hole = &frame.row[run.row];
                let a = place(
                    Body::Frame,
                    [stick.start[0], frame.linkage.frame_pin()[0], frame.linkage.frame_pin()[1]],
                    tilt,
                );
                let end = frame.linkage.fixed_end(hole.offset_mm);
                let b = [stick.start[0], end[0], end[1]];
                let length = ((b[1] - a[1]).powi(2) + (b[2] - a[2]).powi(2)).sqrt();
                (a, b, length, 0.0)
            }
            _ => {
                let length = match frame.stands_on {
                    StandsOn::Posts { embedment_mm, .. } if stick.role == Role::Post => stick.length_mm - embedment_mm,
                    _ => stick.length_mm,
                };
                let far: [f64; 3] = std::array::from_fn(|i| stick.start[i] + stick.along[i] * length);
                (place(stick.body, stick.start, tilt), place(stick.body, far, tilt), length, section.depth_mm / 2.0)
            }
        };
        let across = place(stick.body, stick.across, tilt);
        // Seen from the side, a stick shows its depth (in the plane of the swing); seen from the front, its width and
        // as much of its depth as it turns to the wind.
        let shown = if sideways {
            section.depth_mm
        } else {
            let depth_turned = match stick.role {
                // A stay's depth stands square to its run.
                Role::Stay => 0.0,
                _ => across[1].abs(),
            };
            section.width_mm * depth_turned
        };
        let force_n = bare.flat_pa * 1e-6 * shown * length;
        let mut at: [f64; 3] = std::array::from_fn(|i| (a[i] + b[i]) / 2.0 + across[i] * centre_depth);
        if stick.role == Role::Stay {
            at = std::array::from_fn(|i| (a[i] + b[i]) / 2.0);
        }
        add(&mut sum, at, direction.map(|d| d * force_n));
    }
    sum
}

fn weighed(solved: &Solved, run: &TiltRun) -> f64 {
    let panels = solved.frame.panels.len() as f64 * to_kg(solved.design.panel.mass);
    let sticks: f64 = run
        .skeleton
        .rods
        .iter()
        .map(|rod| {
            // NDS Supplement 2018 §3.1.3 for Southern Pine, G = 0.55, at 19 % and 28 %: 37.3 and 38.6 lb/ft³.
            let kg_m3 = if rod.wet { 618.0 } else { 598.0 };
            let length = if rod.role == Role::Stay { run.skeleton.stays[0].length_mm } else { rod.length_mm };
            rod.section.area_mm2 * 1e-9 * length * kg_m3
        })
        .sum();
    (panels + sticks) * GRAVITY
}

fn check(solved: &Solved) {
    for run in &solved.runs {
        let tilt = run.skeleton.tilt_deg.to_radians();
        for k in 0..run.results.cases() {
            let name = run.results.response(k).name();
            let Some(case) = run.loads.cases.iter().find(|c| c.id == name) else { continue };
            let found = held(run, &run.results, k);
            if case.action == Action::Dead {
                let expected = weighed(solved, run);
                // Weights by three digits of density; a brace is modelled between the axes it joins, a little longer.
                assert!((found[2] / expected - 1.0).abs() < 5e-3, "{name}: {} {expected}", found[2]);
                assert!(found[0].abs().max(found[1].abs()) < ROUNDING * expected);
                continue;
            }
            if !matches!(case.load, Load::Surface(_)) {
                continue;
            }
            let (p, b) = (pressed(&solved.frame, case, tilt), blown(solved, run, case));
            let greatest = p.iter().chain(&b).fold(1.0_f64, |g, v| g.max(v.abs()));
            for i in 0..6 {
                let expected = -(p[i] + b[i]);
                // A stay shows a little more than its width from the front; the hand count leaves it out.
                let slack = if i < 3 { 0.02 * greatest } else { 0.03 * greatest };
                let slack = if case.action == Action::Snow { ROUNDING * greatest } else { slack };
                assert!(
                    (found[i] - expected).abs() <= slack,
                    "{:.1}° {name} [{i}]: {} {expected}",
                    run.skeleton.tilt_deg,
                    found[i]
                );
            }
        }
    }
}

#[test]
fn posts_carry_exactly_what_acts_on_the_frame() {
    check(&solve(posts()));
}

#[test]
fn runners_carry_exactly_what_acts_on_the_frame() {
    check(&solve(runners()));
}
