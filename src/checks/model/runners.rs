//! Runners on what they lie on: contacts that only push, ballast as weight at its place, stakes and ties.
//!
//! The nodes of a runner stand on its underside, so that reactions act where the ground is. Firm ground, roof or deck
//! only pushes; stakes proved by a pull test and brackets also pull. Friction acts only where something presses, and no
//! linear support can say that: the model holds the runners along the surface wherever they touch it, and sliding is
//! judged by statics from the reactions of the same model. A runner stands on its narrow side: stakes and brackets,
//! fixed to its face, keep it from rolling over; on ballast alone only the frame does.

use super::build::Builder;
use crate::{
    analysis::{NodeId, OneWay, Support},
    design::{Base, Runners, evenly},
    frame::{HoleUse, Role, vector::At},
};
use std::collections::BTreeMap;

/// What a node of a runner gets from the ground.
#[derive(Debug, Clone, Copy, Default)]
struct Touch {
    /// Held across and along the runner.
    across: bool,
    along: bool,
    /// Held down as well as up.
    tied: bool,
    /// Held from rolling about the runner, by what is fixed to its side.
    upright: bool,
}

impl Builder<'_> {
    pub(super) fn stand_runners(&mut self, slope_rad: f64) {
        let design = self.design;
        let Base::Runners(runners) = &design.support.base else { return };
        let holds = self.holds_per_runner(runners);
        let pulls = runners.tie_downs.is_some() || self.basis.stakes.is_some_and(|s| s.pull_test.is_some());
        for r in 0..self.rods.len() {
            if self.rods[r].role != Role::Runner {
                continue;
            }
            let length = self.rods[r].length_mm;
            let depth = self.rods[r].section.depth_mm;
            let mut touches: BTreeMap<NodeId, Touch> = BTreeMap::new();
            // A pull needs an arm to be pried: nearer to a tie than the load spreads through the runner, at 45 degrees
            // over its depth, what presses is carried by the tie's own place. Judgement.
            let ties = if pulls { evenly(holds) } else { Vec::new() };
            let apart = |at: f64| ties.iter().all(|share| (share * length - at).abs() > depth);
            let foot = self.rods[r].holes.iter().find(|h| h.use_ == HoleUse::CheekBolt).map_or(0.0, |h| h.from_end_mm);
            let (_, pin) = self.pins();
            let pin = self.rods[r].foot([0.0, pin[0], pin[1]]);
            for at in [0.0, length, foot, pin].into_iter().filter(|at| apart(*at)) {
                let node = self.node(r, at);
                let touch = touches.entry(node).or_default();
                touch.across = holds == 0;
                touch.along |= holds == 0 && at == foot;
            }
            for (share, kg) in self.basis.ballast.iter().flat_map(|b| b.places()) {
                let node = self.node(r, share * length);
                if apart(share * length) {
                    touches.entry(node).or_default().across |= holds == 0;
                }
                self.ballast.push((node, r, kg));
            }
            for share in evenly(holds) {
                let node = self.node(r, length * share);
                touches.insert(node, Touch { across: true, along: true, tied: pulls, upright: true });
                self.holds.push((node, r));
            }
            for (node, touch) in touches {
                self.touch(node, touch, slope_rad);
                self.grounded.push((node, r));
            }
        }
    }

    fn holds_per_runner(&self, runners: &Runners) -> u32 {
        let ties = runners.tie_downs.map(|t| t.per_runner);
        ties.or(self.basis.stakes.map(|s| s.per_runner)).unwrap_or(0)
    }

    fn touch(&mut self, node: NodeId, touch: Touch, slope_rad: f64) {
        let (sin, cos) = slope_rad.sin_cos();
        let axes: [At; 3] = [[1.0, 0.0, 0.0], [0.0, cos, sin], [0.0, -sin, cos]];
        let support = Support::holding([touch.across, touch.along, touch.tied, false, touch.upright, false]);
        let support = if touch.tied { support } else { support.one_way(2, OneWay::Positive) };
        self.model.support(node, if slope_rad == 0.0 { support } else { support.along(axes) });
    }
}
