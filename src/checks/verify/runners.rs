//! Frames on runners: what holds them where they lie, by statics from the reactions of the model.

use super::{
    kind::Kind,
    row::State,
    survey::{Loading, Survey},
};
use crate::{
    analysis::{NodeId, Order, Response},
    catalogue::{Certainty, Family, Source},
    checks::model::TiltRun,
    codes::{Ballasted, FTLB_PER_NMM, Foot, Joint, LBF_PER_N, ScrewJoint, Stability, Staked, head_mm},
    design::{StakeSpec, Ties},
    frame::{
        Stands,
        vector::{At, dot, minus},
    },
    loads::Action,
    quantities::{GRAVITY, MM_PER_FT, to_mm, to_n},
};

/// Friction that nobody gave.
const NO_FRICTION: Source =
    Source::new("the design", "no contact is named, so friction counts for nothing", Certainty::Read);

impl Survey<'_> {
    /// Sliding, overturning and uplift; stakes; ties to a roof or deck.
    pub(super) fn feet_on_surface(&mut self) {
        let Some(lies) = self.design.support.lies_on() else { return };
        let ties = lies.tie_downs;
        let runs = self.runs;
        for run in runs {
            let Some(ground) = GroundPlane::of(run, self.frame.slope_deg().to_radians()) else { continue };
            let cases: Vec<Held> =
                (0..run.results.cases()).map(|k| ground.held(run, &run.results.response(k))).collect();
            let ballast = ground.ballast(run);
            for loading in Self::each(std::slice::from_ref(run)) {
                self.pressure(&loading, &ground);
                match (ties, self.basis.stakes) {
                    (Some(ties), _) => self.ties(&loading, &ground, &ties),
                    (None, Some(stakes)) => self.stakes(&loading, &ground, &cases, &ballast, &stakes),
                    (None, None) => {
                        self.stability(&loading, &ground, &cases, &ballast, true);
                    }
                }
            }
        }
    }

    /// Rows of one combination; the largest utilisation of tipping and lifting.
    fn stability(
        &mut self,
        loading: &Loading<'_>,
        ground: &GroundPlane,
        cases: &[Held],
        ballast: &Held,
        by_friction: bool,
    ) -> f64 {
        let parts = Parts::of(loading, cases);
        let contact = self.basis.ballast.map(|b| b.contact);
        if by_friction && contact.is_none() {
            let why = "the design names no contact with the ground (`ballast.contact`) and no stakes".to_string();
            self.not_checked("frame, sliding", Kind::Ballast, State::NotChecked(why));
        }
        let mut worst: f64 = 0.0;
        for rule in self.rules.weight(parts.dead_factor, parts.wind_only) {
            for (edge, word) in ground.edges() {
                let hold = [parts.dead.hold(edge), ballast.hold(edge), parts.rest.hold(edge)];
                let normal = [parts.dead.force[2] - ballast.force[2], ballast.force[2]];
                let arm = |moment: f64, force: f64| if force > 0.0 { moment / force / MM_PER_FT } else { 0.0 };
                let slide: [f64; 2] = [0, 1].map(|i| rule.weight_share * parts.dead.force[i] + parts.rest.force[i]);
                let frame = Ballasted {
                    frame_lb: normal[0] * LBF_PER_N,
                    frame_arm_ft: arm(hold[0] - hold[1], normal[0]),
                    slide_lb: slide[0].hypot(slide[1]) * LBF_PER_N,
                    lift_lb: -parts.rest.force[2] * LBF_PER_N,
                    tip_ft_lb: -hold[2] * FTLB_PER_NMM,
                    friction: contact.map_or(0.0, |c| c.low),
                    friction_source: contact.map_or(NO_FRICTION, |c| c.source),
                    piece_lb: normal[1] * LBF_PER_N,
                    ballast_arm_ft: arm(hold[1], normal[1]),
                };
                let mut ways = vec![(Stability::Overturning, word)];
                // Neither depends on the edge.
                if edge.first {
                    ways.push((Stability::Uplift, "lifting"));
                    if by_friction && contact.is_some() {
                        ways.push((Stability::Sliding, "sliding"));
                    }
                }
                for (way, word) in ways {
                    let calc = self.codes.site().foot(Foot::Ballasted(frame, rule, way));
                    let u = self.take(loading, &format!("frame, {word}"), Kind::Ballast, calc);
                    if way != Stability::Sliding {
                        worst = worst.max(u.unwrap_or(f64::INFINITY));
                    }
                }
            }
        }
        if *loading.response.order() == Order::Lifted && worst <= 1.0 {
            let why = format!("{} lifts the frame once it has moved", loading.run.name_of(loading.answered));
            self.not_checked("frame, moved", Kind::Ballast, State::Refused(why));
        }
        worst
    }

    /// Pressure under each runner as under a rigid footing, from what presses alone: a stake that pulls presses nothing.
    fn pressure(&mut self, loading: &Loading<'_>, ground: &GroundPlane) {
        let run = loading.run;
        for foot in &self.frame.feet {
            match foot.stands {
                Stands::OnGround => {}
                Stands::InConcrete { .. } | Stands::OnRoof | Stands::OnDeck => continue,
            }
            let (r, rod) = (foot.stick, &run.skeleton.rods[foot.stick]);
            let Some(soil) = self.basis.soil else {
                let why = "the design names no soil under the runners (`soil.class`)".to_string();
                self.not_checked(&rod.mark, Kind::BaseBearing, State::NotChecked(why));
                continue;
            };
            let (mut load, mut turn, mut ends) = (0.0, 0.0, [f64::MAX, f64::MIN]);
            for (node, _) in run.skeleton.grounded.iter().filter(|(_, of)| *of == r) {
                let push = ground.sum(&loading.response, &[*node])[2].max(0.0);
                let [_, y] = ground.at(run.skeleton.places[node.0]);
                (load, turn, ends) = (load + push, turn + push * y, [ends[0].min(y), ends[1].max(y)]);
            }
            // A runner that lifts off presses nothing; it has a row of its own.
            const NOTHING_N: f64 = 1.0;
            if load < NOTHING_N {
                continue;
            }
            let about_middle = turn - load * (ends[0] + ends[1]) / 2.0;
            let size = [rod.length_mm, rod.section.width_mm];
            let foot = Foot::Runner([load, about_middle], size, soil.soil.bearing_psf);
            self.take(loading, &rod.mark, Kind::BaseBearing, self.codes.site().foot(foot));
        }
    }

    fn stakes(
        &mut self,
        loading: &Loading<'_>,
        ground: &GroundPlane,
        cases: &[Held],
        ballast: &Held,
        spec: &StakeSpec,
    ) {
        let Some(soil) = self.basis.soil else { return };
        let run = loading.run;
        for (r, _) in self.frame.standing() {
            let rod = &run.skeleton.rods[r];
            let nodes: Vec<NodeId> =
                run.skeleton.grounded.iter().filter(|(_, of)| *of == r).map(|(node, _)| *node).collect();
            let side = ground.sum(&loading.response, &nodes);
            let foot = Foot::Staked(Staked {
                force_n: side[0].hypot(side[1]),
                count: spec.per_runner,
                width_mm: to_mm(spec.width),
                depth_mm: to_mm(spec.depth),
                loose_mm: to_mm(spec.loose_soil),
                height_mm: rod.section.depth_mm / 2.0,
                lateral_psf_per_ft: soil.soil.lateral_psf_per_ft,
            });
            self.take(loading, "stakes, sideways", Kind::Stakes, self.codes.site().foot(foot));
        }
        let Some(test) = spec.pull_test else {
            // Only weight holds the frame down; what it does not hold, no stake is known to.
            if self.stability(loading, ground, cases, ballast, false) > 1.0 {
                let calc = self.codes.site().foot(Foot::StakePulled(0.0, None));
                self.take(loading, "stakes, pulled out", Kind::Stakes, calc);
            }
            return;
        };
        for (node, _) in &run.skeleton.holds {
            let pull = (-ground.sum(&loading.response, &[*node])[2]).max(0.0);
            let calc = self.codes.site().foot(Foot::StakePulled(pull, Some(to_n(test))));
            self.take(loading, "stakes, pulled out", Kind::Stakes, calc);
        }
    }

    fn ties(&mut self, loading: &Loading<'_>, ground: &GroundPlane, ties: &Ties) {
        for (node, _) in &loading.run.skeleton.holds {
            let force = ground.sum(&loading.response, &[*node]);
            let (pull, lateral) = ((-force[2]).max(0.0), force[0].hypot(force[1]));
            let foot = Foot::Bracket([pull, lateral], [to_n(ties.uplift), to_n(ties.lateral)]);
            self.take(loading, "brackets", Kind::RoofBrackets, self.codes.site().foot(foot));
            let Some(lag) = ties.lag else {
                let why = "the design names no lag screws (`support.runners.tie_downs.lag`)".to_string();
                self.not_checked("lag screws", Kind::RoofBrackets, State::NotChecked(why));
                continue;
            };
            let joint = Joint::Screwed(ScrewJoint {
                screw: lag.screw,
                length_mm: to_mm(lag.length),
                count: lag.count,
                side_mm: to_mm(lag.plate),
                steel_side: true,
                head_mm: head_mm(lag.screw),
                specific_gravity: lag.species.specific_gravity(),
                end_grain: false,
                wet: self.basis.wet_service,
                duration: loading.duration(),
                lateral_n: lateral,
                pull_n: pull,
            });
            let calc = self.codes.of_family(Family::Wood).joint(joint);
            self.take(loading, "lag screws", Kind::RoofBrackets, calc);
        }
    }
}

/// The plane the runners lie on: along them, out of it, and the rectangle they touch.
struct GroundPlane {
    origin: At,
    along: At,
    out: At,
    x: [f64; 2],
    y: [f64; 2],
}

/// An edge of that rectangle: the coordinate that is constant on it, its value (mm), and the side the frame lies on.
#[derive(Debug, Clone, Copy)]
struct Edge {
    axis: usize,
    at_mm: f64,
    sign: f64,
    first: bool,
}

/// What the ground gives: force across, along, and out of the plane (N); the last one's moments (N·mm): sums of x and y
/// times it.
#[derive(Debug, Clone, Copy, Default)]
struct Held {
    force: [f64; 3],
    at: [f64; 2],
}

impl Held {
    fn add(&mut self, other: &Self, factor: f64) {
        (0..3).for_each(|i| self.force[i] += factor * other.force[i]);
        (0..2).for_each(|i| self.at[i] += factor * other.at[i]);
    }

    /// Loading that keeps the frame from tipping over an edge (N·mm).
    fn hold(&self, edge: Edge) -> f64 {
        edge.sign * (edge.at_mm * self.force[2] - self.at[edge.axis])
    }
}

impl GroundPlane {
    fn of(run: &TiltRun, slope_rad: f64) -> Option<Self> {
        let (sin, cos) = slope_rad.sin_cos();
        let places: Vec<At> = run.skeleton.grounded.iter().map(|(n, _)| run.skeleton.places[n.0]).collect();
        let first = places.first()?;
        let mut plane = Self {
            origin: [0.0, first[1], first[2]],
            along: [0.0, cos, sin],
            out: [0.0, -sin, cos],
            x: [f64::MAX, f64::MIN],
            y: [f64::MAX, f64::MIN],
        };
        for place in places {
            let [x, y] = plane.at(place);
            plane.x = [plane.x[0].min(x), plane.x[1].max(x)];
            plane.y = [plane.y[0].min(y), plane.y[1].max(y)];
        }
        Some(plane)
    }

    fn at(&self, place: At) -> [f64; 2] {
        let away = minus(place, self.origin);
        [away[0], dot(away, self.along)]
    }

    fn edges(&self) -> [(Edge, &'static str); 4] {
        let edge = |axis, at_mm, sign, first| Edge { axis, at_mm, sign, first };
        [
            (edge(1, self.y[1], 1.0, true), "over the far ends"),
            (edge(1, self.y[0], -1.0, false), "over the near ends"),
            (edge(0, self.x[1], 1.0, false), "over the right runner"),
            (edge(0, self.x[0], -1.0, false), "over the left runner"),
        ]
    }

    fn turned(&self, force: At) -> [f64; 3] {
        [force[0], dot(force, self.along), dot(force, self.out)]
    }

    fn sum(&self, response: &Response<'_>, nodes: &[NodeId]) -> [f64; 3] {
        let mut sum = [0.0; 3];
        for node in nodes {
            let r = response.reaction(*node);
            let force = self.turned([r[0], r[1], r[2]]);
            (0..3).for_each(|i| sum[i] += force[i]);
        }
        sum
    }

    fn held(&self, run: &TiltRun, response: &Response<'_>) -> Held {
        let mut held = Held::default();
        for (node, _) in &run.skeleton.grounded {
            let r = response.reaction(*node);
            let force = self.turned([r[0], r[1], r[2]]);
            let at = self.at(run.skeleton.places[node.0]);
            held.add(&Held { force, at: at.map(|a| a * force[2]) }, 1.0);
        }
        held
    }

    /// What the ground gives against the ballast alone, which stands on top of the runners.
    fn ballast(&self, run: &TiltRun) -> Held {
        let mut held = Held::default();
        for &(node, r, kg) in &run.skeleton.ballast {
            let force = self.turned([0.0, 0.0, kg * GRAVITY]);
            let [x, y] = self.at(run.skeleton.places[node.0]);
            let height = run.skeleton.rods[r].section.depth_mm;
            held.add(&Held { force, at: [x * force[2], y * force[2] - height * force[1]] }, 1.0);
        }
        held
    }
}

/// A combination in two parts: weight, not reduced, with its factor; and all else with its factors.
struct Parts {
    dead: Held,
    dead_factor: f64,
    rest: Held,
    wind_only: bool,
}

impl Parts {
    fn of(loading: &Loading<'_>, cases: &[Held]) -> Self {
        let mut parts = Self { dead: Held::default(), dead_factor: 1.0, rest: Held::default(), wind_only: true };
        let mut others = 0;
        for ((case, _), (index, factor)) in loading.answered.combination.factors.iter().zip(loading.response.parts()) {
            match loading.run.loads.cases[*case].action {
                Action::Dead => {
                    parts.dead.add(&cases[*index], 1.0);
                    parts.dead_factor = *factor;
                }
                action => {
                    others += 1;
                    parts.wind_only &= action == Action::Wind;
                    parts.rest.add(&cases[*index], *factor);
                }
            }
        }
        parts.wind_only &= others > 0;
        parts
    }
}
