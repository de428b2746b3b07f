//! Fasteners find their places one joint after another, each in the first arrangement that keeps clear of those before.

use super::{
    fouling,
    joint::{Fastener, Joint},
    overlap::Block,
    piece::Body,
};

/// Wood or air between two fasteners (mm). Judgement: holes drilled by hand run a little crooked.
const BETWEEN_MM: f64 = 2.0;

/// What stands in the frame already.
pub(super) struct Placing {
    solids: Vec<Block>,
}

impl Placing {
    /// Beside the fasteners of joints that stand in the frame.
    pub(super) fn beside(joints: &[Joint]) -> Self {
        let mut placing = Self { solids: vec![] };
        joints.iter().filter(|joint| joint.body == Body::Frame).for_each(|joint| placing.add(joint));
        placing
    }

    pub(super) fn add(&mut self, joint: &Joint) {
        self.solids.extend(fouling::blocks_of(joint));
    }

    /// The first arrangement that is clear, else the one that stands least in the way of others.
    pub(super) fn first_clear(&self, arrangements: impl IntoIterator<Item = Vec<Fastener>>) -> Vec<Fastener> {
        let mut least: Option<(f64, Vec<Fastener>)> = None;
        for fasteners in arrangements {
            let depth_mm = self.depth_mm(&fasteners);
            if depth_mm <= 0.0 {
                return fasteners;
            }
            if least.as_ref().is_none_or(|(other_mm, _)| depth_mm < *other_mm) {
                least = Some((depth_mm, fasteners));
            }
        }
        least.map_or_else(Vec::new, |(_, fasteners)| fasteners)
    }

    fn depth_mm(&self, fasteners: &[Fastener]) -> f64 {
        let blocks = fasteners.iter().flat_map(|fastener| fouling::rounds_of(fastener, BETWEEN_MM));
        let depths = blocks.flat_map(|(block, _)| self.solids.iter().map(move |solid| solid.depth_into(&block)));
        depths.fold(0.0, f64::max)
    }
}
