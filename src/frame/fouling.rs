//! Heads, nuts, washers, shanks and clips against every part, panel and each other, at every tilt and between tilts.

use super::{
    clearance::SWEEP_STEP_DEG,
    hole_row::Setting,
    joint::{Fastener, Joint, JointUse, Part},
    linkage::{Linkage, Point, at_tilt},
    overlap::Block,
    panel::PanelPlace,
    piece::{Body, Stick},
    refusal::Refusal,
};

/// Solids that touch share a face; only what goes deeper is a fault (mm).
const TOUCH_MM: f64 = 0.05;

/// Something solid: a stick, a panel, or part of a joint.
struct Solid<'a> {
    block: Block,
    /// Distances from the axis that hold it, for what turns with the frame or stands still (mm).
    axis_distance: [f64; 2],
    body: Body,
    what: What<'a>,
}

impl<'a> Solid<'a> {
    fn new(block: Block, body: Body, what: What<'a>) -> Self {
        Self { axis_distance: block.axis_distance(), block, body, what }
    }

    /// The joint it belongs to.
    fn use_(&self) -> Option<JointUse> {
        match self.what {
            What::Of(joint, _) => Some(joint.use_),
            What::Part(_) => None,
        }
    }
}

enum What<'a> {
    Part(Part),
    /// A shank passes the parts of its own joint; what stands out of them must clear them too.
    Of(&'a Joint, Kind),
}

#[derive(Clone, Copy, PartialEq)]
pub(super) enum Kind {
    Shank,
    Disc,
    Plate,
}

/// Every fastener that stands in what it does not hold, each pair of names once with its deepest place.
pub(super) fn find(
    joints: &[Joint],
    sticks: &[Stick],
    panels: &[PanelPlace],
    linkage: &Linkage,
    row: &[Setting],
) -> Vec<Refusal> {
    let mut solids: Vec<Solid> = joints.iter().flat_map(solids_of).collect();
    let hard = solids.len();
    solids.extend(sticks.iter().enumerate().flat_map(|(i, stick)| {
        Block::walls(stick).map(move |block| Solid::new(block, stick.body, What::Part(Part::Stick(i))))
    }));
    let panels = panels.iter().enumerate();
    solids.extend(panels.map(|(i, panel)| Solid::new(Block::of_panel(panel), Body::Frame, What::Part(Part::Panel(i)))));
    let mut found = Vec::new();
    let mut reached: Vec<(f64, f64)> = row.iter().map(|hole| (hole.reached_deg, hole.offset_mm)).collect();
    reached.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (Some(first), Some(last)) = (reached.first(), reached.last()) else { return found };
    let steps = ((last.0 - first.0) / SWEEP_STEP_DEG).ceil().max(1.0) as usize;
    let swept: Vec<f64> = (0..=steps).map(|i| first.0 + (last.0 - first.0) * i as f64 / steps as f64).collect();
    for (i, one) in solids[..hard].iter().enumerate() {
        for other in &solids[i + 1..] {
            if !may_meet(one, other) {
                continue;
            }
            let deepest = match (one.body == other.body, [one.body, other.body].contains(&Body::Stay)) {
                (true, _) => Some((None, one.block.depth_into(&other.block))),
                (false, false) => deepest(
                    swept.iter().map(|tilt_deg| (*tilt_deg, [one, other].map(|s| placed(linkage, s, *tilt_deg, 0.0)))),
                ),
                (false, true) => deepest(reached.iter().map(|(tilt_deg, offset_mm)| {
                    (*tilt_deg, [one, other].map(|s| placed(linkage, s, *tilt_deg, *offset_mm)))
                })),
            };
            if let Some((tilt_deg, overlap_mm)) = deepest.filter(|(_, depth)| *depth > TOUCH_MM) {
                let uses = [one, other].into_iter().filter_map(Solid::use_).collect();
                note(
                    &mut found,
                    Refusal::FastenerFouls { tilt_deg, one: name(one), other: name(other), uses, overlap_mm },
                );
            }
        }
    }
    found
}

fn solids_of(joint: &Joint) -> impl Iterator<Item = Solid<'_>> {
    let fasteners = joint.fasteners.iter().flat_map(|fastener| rounds_of(fastener, 0.0));
    let plates = joint.plates.iter().map(|plate| (Block::of_plate(plate), Kind::Plate));
    fasteners.chain(plates).map(move |(block, kind)| Solid::new(block, joint.body, What::Of(joint, kind)))
}

/// Everything solid of a joint's own.
pub(super) fn blocks_of(joint: &Joint) -> impl Iterator<Item = Block> {
    solids_of(joint).map(|solid| solid.block)
}

/// Shank, head, washers and nut, each with so much round it (mm).
pub(super) fn rounds_of(fastener: &Fastener, round_mm: f64) -> impl Iterator<Item = (Block, Kind)> {
    let round = move |name, from_mm: f64, to_mm: f64, diameter_mm: f64| {
        Block::of_round(name, [fastener.at(from_mm), fastener.at(to_mm)], diameter_mm + 2.0 * round_mm)
    };
    let shank = round(fastener.kind.word(), 0.0, fastener.length_mm, fastener.diameter_mm);
    let discs = fastener.discs().map(move |(name, d)| round(name, d.at_mm, d.at_mm + d.thickness_mm, d.diameter_mm));
    std::iter::once((shank, Kind::Shank)).chain(discs.map(|block| (block, Kind::Disc)))
}

/// Turning about x keeps every x, so what shares none can never meet. A joint may stand in itself, a shank in its parts,
/// and what holds a panel inside the panel's hollow frame.
fn may_meet(one: &Solid, other: &Solid) -> bool {
    let meet = |[low, high]: [f64; 2], [from, to]: [f64; 2]| low < to - TOUCH_MM && from < high - TOUCH_MM;
    let hangs = [one.body, other.body].contains(&Body::Stay);
    if !meet(one.block.across(), other.block.across()) || !(hangs || meet(one.axis_distance, other.axis_distance)) {
        return false;
    }
    let What::Of(joint, piece) = one.what else { return false };
    let own = match &other.what {
        What::Of(another, _) => std::ptr::eq(joint, *another),
        What::Part(part) => joint.parts.contains(part) && (piece == Kind::Shank || matches!(part, Part::Panel(_))),
    };
    !own
}

fn deepest(at: impl Iterator<Item = (f64, [Block; 2])>) -> Option<(Option<f64>, f64)> {
    let depths = at.map(|(tilt_deg, [one, other])| (Some(tilt_deg), one.depth_into(&other)));
    depths.max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Where a solid stands at a tilt, in the axes of the ground; a stay hangs between its frame pin and the hole.
fn placed(linkage: &Linkage, solid: &Solid, tilt_deg: f64, offset_mm: f64) -> Block {
    let tilt = tilt_deg.to_radians();
    match solid.body {
        Body::Ground => solid.block.clone(),
        Body::Frame => solid.block.turned(tilt, [0.0, 0.0]),
        Body::Stay => {
            let pin: Point = at_tilt(linkage.frame_pin(), tilt);
            let fixed = linkage.fixed_end(offset_mm);
            solid.block.turned((fixed[1] - pin[1]).atan2(fixed[0] - pin[0]), pin)
        }
    }
}

fn name(solid: &Solid) -> String {
    match solid.what {
        What::Part(_) => solid.block.name.to_string(),
        What::Of(joint, Kind::Plate) => joint.use_.word().to_string(),
        What::Of(joint, _) => format!("{} of the {}", solid.block.name, joint.use_.word()),
    }
}

/// Keeps the deepest of each pair of names.
fn note(found: &mut Vec<Refusal>, new: Refusal) {
    let Refusal::FastenerFouls { one, other, overlap_mm, .. } = &new else { return };
    let told = found.iter_mut().find_map(|told| match told {
        Refusal::FastenerFouls { one: a, other: b, overlap_mm: least, .. } if a == one && b == other => {
            Some((*least < *overlap_mm, told))
        }
        _ => None,
    });
    match told {
        Some((true, told)) => *told = new,
        Some((false, _)) => {}
        None => found.push(new),
    }
}
