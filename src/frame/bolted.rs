//! Bolts through layers: head, washers and nut at their places.

use super::{
    joint::{Disc, Fastener, FastenerKind, Joint, JointUse, Part},
    linkage::Point,
    piece::Body,
    stack::{Laid, Stack},
};
use crate::{
    catalogue::{Bolt, bolt_length},
    quantities::Units,
};

/// A hexagon over its corners (mm).
fn corners_mm(flats_mm: f64) -> f64 {
    flats_mm * 2.0 / 3f64.sqrt()
}

/// The head of a bolt or lag screw.
pub(super) fn head(bolt: &Bolt) -> Disc {
    Disc { diameter_mm: corners_mm(bolt.flats_mm), thickness_mm: bolt.head_mm, at_mm: -bolt.head_mm }
}

/// The nut, its near face so far from under the head.
pub(super) fn nut(bolt: &Bolt, at_mm: f64) -> Disc {
    Disc { diameter_mm: corners_mm(bolt.flats_mm), thickness_mm: bolt.nut_mm, at_mm }
}

/// A stack of layers with the places where such a bolt stands.
pub(super) struct Bolted {
    pub(super) stack: Stack,
    /// Sticks it passes, from head to nut.
    pub(super) sticks: Vec<usize>,
    pub(super) body: Body,
    /// Across the frame: where the layer with this number begins (mm).
    pub(super) anchor: (usize, f64),
    /// Head to nut, along x: a sign.
    pub(super) towards: f64,
    /// In the side view of the body (mm).
    pub(super) at: Vec<Point>,
}

impl Bolted {
    pub(super) fn joint(&self, units: Units) -> Joint {
        let (layer, x) = self.anchor;
        let before: f64 = self.stack.layers[..layer].iter().map(|l| l.thickness_mm).sum();
        let from_x = x - self.towards * before;
        let axis = [self.towards, 0.0, 0.0];
        let fasteners = self.at.iter().map(|[y, z]| fastener(&self.stack, units, [from_x, *y, *z], axis)).collect();
        Joint {
            use_: JointUse::Bolt(self.stack.use_),
            body: self.body,
            parts: self.sticks.iter().copied().map(Part::Stick).collect(),
            fasteners,
            plates: vec![],
            turned_from: if self.stack.lag { "the side of its head" } else { "both sides" },
        }
    }
}

/// Bolts with equal layers are one line of a list.
pub(super) fn stacks(bolts: &[Bolted]) -> Vec<Stack> {
    let mut all: Vec<Stack> = Vec::new();
    for bolted in bolts {
        match all.iter_mut().find(|s| s.use_ == bolted.stack.use_ && s.layers == bolted.stack.layers) {
            Some(same) => same.quantity += bolted.stack.quantity,
            None => all.push(bolted.stack.clone()),
        }
    }
    all
}

/// The bolt of a stack, its head at a place.
fn fastener(stack: &Stack, units: Units, from: [f64; 3], axis: [f64; 3]) -> Fastener {
    let bolt = stack.bolt;
    let thick = bolt.washer.thickness_mm;
    let washer = |at_mm| Disc { diameter_mm: bolt.washer.outer_mm, thickness_mm: thick, at_mm };
    let mut at_mm = 0.0;
    let mut washers = Vec::new();
    for layer in &stack.layers {
        if layer.what == Laid::Washer {
            washers.push(washer(at_mm));
        }
        at_mm += layer.thickness_mm;
    }
    let found = bolt_length(bolt, stack.grip_mm(), stack.washers() as u32, thick).ok().filter(|_| !stack.lag);
    if let Some(found) = &found {
        for _ in 0..found.extra_washers {
            washers.push(washer(at_mm));
            at_mm += thick;
        }
    }
    Fastener {
        kind: if stack.lag { FastenerKind::LagScrew } else { FastenerKind::Bolt },
        size: bolt.name,
        from,
        axis,
        length_mm: found.as_ref().map_or_else(|| stack.lag_length_mm(units), |found| found.length_mm),
        diameter_mm: bolt.diameter_mm,
        head: Some(head(bolt)),
        nut: found.map(|_| nut(bolt, at_mm)),
        washers,
        lead_hole_mm: None,
        clearance_hole_mm: Some(bolt.hole_mm),
    }
}
