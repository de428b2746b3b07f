//! What lies on ground, roof or deck: contacts that only push, ballast as weight at its place, stakes and brackets.
//!
//! The nodes of such a foot stand on its underside, so that reactions act where the surface is. Firm ground, roof or deck
//! only pushes; stakes proved by a pull test and brackets also pull. Friction acts only where something presses, and no
//! linear support can say that: the model holds the feet along the surface wherever they touch it, and sliding is
//! judged by statics from the reactions of the same model. A foot stands on its narrow side: stakes and brackets,
//! fixed to its face, keep it from rolling over; on ballast alone only the frame does.

use super::builder::Builder;
use crate::{
    analysis::{NodeId, OneWay, Support},
    frame::{Foot, HeldBy, HoleUse, vector::At},
};
use std::collections::BTreeMap;

/// What a node gets from the surface.
#[derive(Debug, Clone, Copy, Default)]
struct Touch {
    /// Held across and along the stick.
    across: bool,
    along: bool,
    /// Held down as well as up.
    tied: bool,
    /// Held from rolling about the stick, by what is fixed to its side.
    upright: bool,
}

impl Builder<'_> {
    pub(super) fn lie_on_surface(&mut self, foot: &Foot) {
        let r = foot.stick;
        let held = |by: HeldBy| foot.holds.iter().filter(|h| h.by == by).map(|h| h.from_end_mm).collect::<Vec<_>>();
        let (brackets, stakes) = (held(HeldBy::Bracket), held(HeldBy::Stake));
        let pulls = !brackets.is_empty() || self.basis.stakes.is_some_and(|s| s.pull_test.is_some());
        let holds = if brackets.is_empty() { stakes } else { brackets };
        let loose = holds.is_empty();
        let length = self.rods[r].length_mm;
        let depth = self.rods[r].section.depth_mm;
        let mut touches: BTreeMap<NodeId, Touch> = BTreeMap::new();
        // A pull needs an arm to be pried: nearer to a tie than the load spreads through the stick, at 45 degrees
        // over its depth, what presses is carried by the tie's own place. Judgement.
        let apart = |at: f64| !pulls || holds.iter().all(|hold| (hold - at).abs() > depth);
        let carries = self.rods[r].holes.iter().find(|h| h.use_ == HoleUse::CheekBolt).map_or(0.0, |h| h.from_end_mm);
        let (_, pin) = self.pins();
        let pin = self.rods[r].foot([0.0, pin[0], pin[1]]);
        for at in [0.0, length, carries, pin].into_iter().filter(|at| apart(*at)) {
            let node = self.node(r, at);
            let touch = touches.entry(node).or_default();
            touch.across = loose;
            touch.along |= loose && at == carries;
        }
        for hold in &foot.holds {
            let HeldBy::Ballast(kg) = hold.by else { continue };
            let node = self.node(r, hold.from_end_mm);
            if apart(hold.from_end_mm) {
                touches.entry(node).or_default().across |= loose;
            }
            self.ballast.push((node, r, kg));
        }
        for at in &holds {
            let node = self.node(r, *at);
            touches.insert(node, Touch { across: true, along: true, tied: pulls, upright: true });
            self.holds.push((node, r));
        }
        for (node, touch) in touches {
            self.touch(node, touch);
            self.grounded.push((node, r));
        }
    }

    fn touch(&mut self, node: NodeId, touch: Touch) {
        let slope_rad = self.frame.slope_deg().to_radians();
        let (sin, cos) = slope_rad.sin_cos();
        let axes: [At; 3] = [[1.0, 0.0, 0.0], [0.0, cos, sin], [0.0, -sin, cos]];
        let support = Support::holding([touch.across, touch.along, touch.tied, false, touch.upright, false]);
        let support = if touch.tied { support } else { support.one_way(2, OneWay::Positive) };
        self.model.support(node, if slope_rad == 0.0 { support } else { support.along(axes) });
    }
}
