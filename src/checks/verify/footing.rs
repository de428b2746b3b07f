//! Posts in the ground, and runners held down by weight.

use super::{
    calc::{Calc, FTLB_PER_NMM, Grade, Stability},
    kind::Kind,
    row::State,
    survey::{Ready, Survey},
    wood_member::LBF_PER_N,
};
use crate::{
    catalogue::{Silent, soils::CONCRETE_PCF},
    checks::{
        model::{TiltRun, cross, minus},
        soil::{ballast::Ballasted, embedment},
    },
    design::Base,
    frame::StandsOn,
    loads::Action,
    quantities::{GRAVITY, MM_PER_INCH, N_PER_LBF, to_kg, to_mm},
};

const MM_PER_FT: f64 = 12.0 * MM_PER_INCH;

impl Survey<'_> {
    /// Posts at the ground, in it, and under their feet.
    pub(super) fn posts(&mut self) {
        let StandsOn::Posts { embedment_mm, hole_diameter_mm, .. } = self.frame.stands_on else { return };
        let runs = self.runs;
        for run in runs {
            for &(node, r) in &run.skeleton.at_grade {
                let rod = &run.skeleton.rods[r];
                let ready = self.ready(rod, self.free(run, r));
                let at = rod.nodes.iter().find(|(_, n)| *n == node).map_or(0.0, |(t, _)| *t);
                let Some(segment) = rod.segments.iter().find(|s| (s.from_mm - at).abs() < 1.0) else { continue };
                let foot = rod.nodes.last().map(|(_, n)| *n);
                for moment in Self::each(std::slice::from_ref(run)) {
                    let f = moment.response.end_forces(segment.member);
                    // Local y runs along the swing, local z across; see `Grade` for the signs.
                    let grade = Grade { swing: [f[1], -f[5]], across: [f[2], f[4]], axial_n: -f[0] };
                    let duration = moment.duration();
                    let calc = match &ready {
                        Ready::Wood(member, _) => Some(Calc::Below(*member, duration, grade, embedment_mm)),
                        Ready::Steel(member) => Some(Calc::SteelBelow(*member, grade, embedment_mm)),
                        Ready::Aluminium(section, _) => {
                            let why = format!("{} in concrete: aluminium is not held there", section.name);
                            self.not_checked(&rod.mark, Kind::PostBelowGrade, State::NotChecked(why));
                            None
                        }
                        Ready::Not(state) => {
                            self.not_checked(&rod.mark, Kind::PostBelowGrade, state.clone());
                            None
                        }
                    };
                    if let Some(calc) = calc {
                        let u = calc.utilisation(&mut Silent);
                        self.keep(&moment, &rod.mark, Kind::PostBelowGrade, u, || calc);
                    }
                    self.embedment(&moment, &rod.mark, &grade, [embedment_mm, hole_diameter_mm]);
                    if let Some(foot) = foot {
                        let up = moment.response.reaction(foot)[2];
                        self.foot(&moment, &rod.mark, up, [embedment_mm, hole_diameter_mm]);
                    }
                }
                self.frost(run, &rod.mark, embedment_mm);
            }
        }
    }

    fn embedment(&mut self, moment: &super::survey::Moment<'_>, part: &str, grade: &Grade, [depth, width]: [f64; 2]) {
        let Some(soil) = self.basis.soil else { return };
        // Swing and across together: the hole is round, so the resultant counts.
        let post = embedment::Post {
            force_lb: grade.swing[0].hypot(grade.across[0]) * LBF_PER_N,
            moment_ft_lb: grade.swing[1].hypot(grade.across[1]) * FTLB_PER_NMM,
            width_ft: width / MM_PER_FT,
            lateral_psf_per_ft: soil.soil.lateral_psf_per_ft,
            pressure_factor: if soil.movement_harmless { 2.0 } else { 1.0 },
        };
        let calc = Calc::Embedded(post, depth);
        let u = calc.utilisation(&mut Silent);
        self.keep(moment, part, Kind::Embedment, u, || calc);
    }

    fn foot(&mut self, moment: &super::survey::Moment<'_>, part: &str, up_n: f64, [depth, width]: [f64; 2]) {
        let Some(soil) = self.basis.soil else { return };
        let Base::Posts(posts) = &self.design.support.base else { return };
        let area = posts.section.area_mm2;
        let volume_ft3 = (std::f64::consts::FRAC_PI_4 * width * width - area) * depth / MM_PER_FT.powi(3);
        let concrete_n = volume_ft3 * CONCRETE_PCF * N_PER_LBF;
        let calc = Calc::Foot((up_n + concrete_n).max(0.0), width, soil.soil.bearing_psf);
        let u = calc.utilisation(&mut Silent);
        self.keep(moment, part, Kind::BaseBearing, u, || calc);
        let calc = Calc::Lifted((-up_n).max(0.0), [width, depth, area]);
        let u = calc.utilisation(&mut Silent);
        self.keep(moment, part, Kind::Uplift, u, || calc);
    }

    fn frost(&mut self, run: &TiltRun, part: &str, depth: f64) {
        let Some(frost) = self.basis.soil.and_then(|s| s.frost_depth) else { return };
        let calc = Calc::Frost(to_mm(frost), depth);
        self.keep_plain(run, part, Kind::Frost, "any season".to_string(), &State::Value, calc);
    }

    /// Sliding, overturning and uplift of a frame on runners.
    pub(super) fn runners(&mut self) {
        let StandsOn::Runners { slope_deg, roof: false, .. } = self.frame.stands_on else { return };
        let Some(ballast) = self.basis.ballast else { return };
        if slope_deg.abs() > 1.0 {
            self.not_checked("frame", Kind::Ballast, State::NotChecked("ballast on a slope".to_string()));
            return;
        }
        let runs = self.runs;
        for run in runs {
            let Some(stand) = Stand::of(run) else { continue };
            let dead = held(run, "dead", stand.ground_z);
            let weight_n = dead.force[2];
            // The weight's centre: where its moment about the origin is that of one force.
            let centre = [-dead.moment[1] / weight_n, dead.moment[0] / weight_n];
            for case in run.loads.cases.iter().filter(|c| c.action == Action::Wind && c.surface().is_some()) {
                let wind = held(run, &case.id, stand.ground_z);
                let push = wind.force.map(|f| -0.6 * f);
                let turn = wind.moment.map(|m| -0.6 * m);
                for (axis, edge, sign, name) in [
                    (1, stand.y[1], 1.0, "over the far ends"),
                    (1, stand.y[0], -1.0, "over the near ends"),
                    (0, stand.x[1], 1.0, "over the right runner"),
                    (0, stand.x[0], -1.0, "over the left runner"),
                ] {
                    let at = if axis == 1 { [0.0, edge, 0.0] } else { [edge, 0.0, 0.0] };
                    let about = minus(turn, cross(at, push));
                    // A push towards +Y above the edge turns about −X; one towards +X turns about +Y.
                    let tip = if axis == 1 { -about[0] * sign } else { about[1] * sign };
                    let middle = if axis == 1 { (stand.y[0] + stand.y[1]) / 2.0 } else { 0.0 };
                    let frame = Ballasted {
                        frame_lb: weight_n * LBF_PER_N,
                        frame_arm_ft: ((edge - centre[axis]) * sign).max(0.0) / MM_PER_FT,
                        slide_lb: push[0].hypot(push[1]) * LBF_PER_N,
                        lift_lb: push[2] * LBF_PER_N,
                        tip_ft_lb: tip.max(0.0) * FTLB_PER_NMM,
                        friction: ballast.contact.low,
                        piece_lb: 2.0 * to_kg(ballast.per_runner) * GRAVITY * LBF_PER_N,
                        ballast_arm_ft: ((edge - middle) * sign).max(0.0) / MM_PER_FT,
                    };
                    for (way, word) in [
                        (Stability::Sliding, "sliding"),
                        (Stability::Overturning, name),
                        (Stability::Uplift, "lifting"),
                    ] {
                        let part = format!("frame, {word}");
                        let state = State::of_load(&case.state);
                        self.keep_plain(
                            run,
                            &part,
                            Kind::Ballast,
                            case.id.clone(),
                            &state,
                            Calc::Ballasted(frame, way),
                        );
                    }
                }
            }
        }
    }
}

/// Where runners touch the ground (mm).
struct Stand {
    x: [f64; 2],
    y: [f64; 2],
    ground_z: f64,
}

impl Stand {
    fn of(run: &TiltRun) -> Option<Self> {
        let runners: Vec<_> = run.skeleton.rods.iter().filter(|r| r.role == crate::frame::Role::Runner).collect();
        let first = runners.first()?;
        let ends = |axis: usize| {
            let all = runners.iter().flat_map(|r| [r.at(0.0)[axis], r.at(r.length_mm)[axis]]);
            all.fold([f64::MAX, f64::MIN], |s, v| [s[0].min(v), s[1].max(v)])
        };
        Some(Self {
            x: ends(0),
            y: ends(1),
            ground_z: first.start[2] - (first.section.depth_mm - first.section.centroid_at_mm()[0]),
        })
    }
}

struct Held {
    force: [f64; 3],
    moment: [f64; 3],
}

/// What the ground gives in a case, its moment about the origin at the height of the ground.
fn held(run: &TiltRun, case: &str, ground_z: f64) -> Held {
    let mut sum = Held { force: [0.0; 3], moment: [0.0; 3] };
    let Some(response) = run.results.find(case) else { return sum };
    for (node, _) in &run.skeleton.grounded {
        let r = response.reaction(*node);
        let force = [r[0], r[1], r[2]];
        let at = minus(run.skeleton.places[node.0], [0.0, 0.0, ground_z]);
        let turn = cross(at, force);
        for i in 0..3 {
            sum.force[i] += force[i];
            sum.moment[i] += turn[i] + r[3 + i];
        }
    }
    sum
}
