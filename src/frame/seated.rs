//! What seats a panel: clips at the maker's holes, or bolts through purlins.
//!
//! ```text
//!  upright │         panel frame
//!          │       ┌────────────
//!          │  ↓nut │             the clip's level leg lies under the panel's back, its bolt in the maker's hole;
//!   screw ─┼┐══════╪═══          its upright leg is screwed to the inner face of the upright
//!          │║  ↑head
//! ```

use super::{
    bolted,
    joint::{Disc, Fastener, FastenerKind, Joint, JointUse, Part, Plate},
    joint_fault::JointFault,
    piece::{Body, Role, Stick},
    rectangle::PanelPlace,
    screwed::turned_in,
};
use crate::{
    catalogue::{Bolt, Family, bolt, screw},
    design::{Design, MountingHoles, Orientation, Seating},
    quantities::{MM_PER_INCH, Units, to_mm},
};

/// Thickness of a clip: 1/8 in, 3 mm; common practice, no source.
const CLIP_MM: f64 = 3.175;
/// Screws of a clip where the design names none: size, length (mm), count; common practice, no source.
const CLIP_SCREWS: (&str, f64, usize) = ("#12", 1.5 * MM_PER_INCH, 2);
/// Room of the fillet in the heel of a clip beyond its thickness (mm): as large as the thickness. Judgement.
const FILLET_MM: f64 = CLIP_MM;
/// Legs that clips are cut from (mm); common practice, no source.
const LEGS_US_MM: [f64; 4] = [1.5 * MM_PER_INCH, 2.0 * MM_PER_INCH, 2.5 * MM_PER_INCH, 3.0 * MM_PER_INCH];
const LEGS_METRIC_MM: [f64; 4] = [40.0, 50.0, 60.0, 80.0];
/// Bolts through mounting holes, largest first.
const PANEL_BOLTS: [&str; 3] = ["M10", "M8", "M6"];
/// Air round such a bolt (mm). Common practice, no source.
const AIR_MM: f64 = 0.5;
/// Thickness of the flange of a panel's own frame that the bolt holds (mm). Common practice, no source.
const FLANGE_MM: f64 = 2.0;

/// The bolt that a panel's mounting holes take: the largest with a little air.
fn panel_bolt(holes: &MountingHoles) -> Option<&'static Bolt> {
    let hole_mm = to_mm(holes.diameter);
    PANEL_BOLTS.into_iter().filter_map(|size| bolt(size).ok()).find(|b| b.diameter_mm + AIR_MM <= hole_mm)
}

/// Mounting holes of a panel: one near each corner.
const HOLES: usize = 4;

/// The joints of all panels whose holes are told, and what is wrong with them.
pub(super) fn joints(design: &Design, sticks: &[Stick], panels: &[PanelPlace]) -> (Vec<Joint>, Vec<JointFault>) {
    let (mut found, mut wrong) = (Vec::new(), Vec::new());
    let Some(holes) = design.panel.mounting_holes else { return (found, wrong) };
    let Some(bolt) = panel_bolt(&holes) else { return (found, wrong) };
    let on_clips = !matches!(design.frame.seating, Seating::OnPurlins { .. });
    if let Some(given) = design.joints.clips_per_panel.map(|n| n as usize).filter(|n| on_clips && *n != HOLES) {
        wrong.push(JointFault::ClipsWithoutHoles { given, holes: HOLES });
    }
    let [pitch_x, pitch_u] = match design.array.orientation {
        Orientation::Portrait => [holes.across, holes.along_long_side],
        Orientation::Landscape => [holes.along_long_side, holes.across],
    }
    .map(to_mm);
    let work = Work { design, sticks, bolt };
    for (index, panel) in panels.iter().enumerate() {
        let middle = |[from, to]: [f64; 2]| (from + to) / 2.0;
        for (side, end) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            let hole = [middle(panel.x_mm) + side * pitch_x / 2.0, middle(panel.u_mm) + end * pitch_u / 2.0];
            let joint = match design.frame.seating {
                Seating::OnPurlins { .. } => work.on_purlin(index, panel, hole),
                _ => work.clip(index, panel, hole, side),
            };
            match joint {
                Ok(joint) => found.extend(joint),
                Err(fault) => wrong.push(fault),
            }
        }
    }
    (found, wrong)
}

struct Work<'a> {
    design: &'a Design,
    sticks: &'a [Stick],
    bolt: &'static Bolt,
}

impl Work<'_> {
    /// The panel's bolt, from below: head or nut under the holder, the other inside the panel's own frame.
    fn panel_fastener(&self, [x, u]: [f64; 2], under_w_mm: f64, grip_mm: f64) -> Fastener {
        let washer = self.bolt.washer;
        let disc = |at_mm| Disc { diameter_mm: washer.outer_mm, thickness_mm: washer.thickness_mm, at_mm };
        let nut_at = 2.0 * washer.thickness_mm + grip_mm;
        let least = nut_at + self.bolt.nut_mm + 2.0 * self.bolt.pitch_mm;
        const STEP_MM: f64 = 5.0;
        Fastener {
            kind: FastenerKind::Bolt,
            size: self.bolt.name,
            from: [x, u, under_w_mm - washer.thickness_mm],
            axis: [0.0, 0.0, 1.0],
            length_mm: (least / STEP_MM).ceil() * STEP_MM,
            diameter_mm: self.bolt.diameter_mm,
            head: Some(bolted::head(self.bolt)),
            nut: Some(bolted::nut(self.bolt, nut_at)),
            washers: vec![disc(0.0), disc(washer.thickness_mm + grip_mm)],
            lead_hole_mm: None,
            clearance_hole_mm: Some(self.bolt.hole_mm),
        }
    }

    fn on_purlin(&self, index: usize, panel: &PanelPlace, [x, u]: [f64; 2]) -> Result<Option<Joint>, JointFault> {
        let under = |stick: &&(usize, &Stick)| {
            let across = u - stick.1.start[1];
            (0.0..=stick.1.section.depth_mm).contains(&across)
        };
        let purlins: Vec<(usize, &Stick)> =
            self.sticks.iter().enumerate().filter(|(_, s)| s.role == Role::Purlin).collect();
        let Some((at, purlin)) = purlins.iter().find(under) else { return Ok(None) };
        let thick = purlin.section.width_mm;
        let fastener = self.panel_fastener([x, u], panel.w_mm[0] - thick, thick + FLANGE_MM);
        Ok(Some(Joint {
            use_: JointUse::PanelBolt,
            body: Body::Frame,
            parts: vec![Part::Stick(*at), Part::Panel(index)],
            fasteners: vec![fastener],
            plates: vec![],
            turned_from: "below",
        }))
    }

    /// An angle clip between the upright beside the panel and the hole nearest to it.
    fn clip(&self, index: usize, panel: &PanelPlace, hole: [f64; 2], side: f64) -> Result<Option<Joint>, JointFault> {
        let inner = |stick: &Stick| stick.start[0] - side * stick.section.width_mm / 2.0;
        let beside = self
            .sticks
            .iter()
            .enumerate()
            .filter(|(_, s)| matches!(s.role, Role::Stile | Role::Mullion))
            .filter(|(_, s)| (inner(s) - (panel.x_mm[0] + panel.x_mm[1]) / 2.0) * side > 0.0)
            .min_by(|a, b| (inner(a.1) * side).total_cmp(&(inner(b.1) * side)));
        let Some((at, upright)) = beside else { return Ok(None) };
        let face = inner(upright);
        let from_face = (face - hole[0]) * side;
        let bolt = self.bolt;
        let edge = 1.5 * bolt.diameter_mm;
        let least_mm = CLIP_MM + FILLET_MM + bolt.washer.outer_mm / 2.0;
        let legs = match self.design.units {
            Units::Us => LEGS_US_MM,
            Units::Metric => LEGS_METRIC_MM,
        };
        let most_mm = legs[legs.len() - 1] - edge;
        let fits = |leg: &f64| from_face + edge <= *leg;
        let Some(leg) = legs.into_iter().find(fits).filter(|_| from_face >= least_mm) else {
            return Err(JointFault::ClipOutOfReach { from_face_mm: from_face, least_mm, most_mm });
        };
        let top = panel.w_mm[0];
        let long = leg;
        let parts = vec![Part::Stick(at), Part::Panel(index)];
        // From the face into the bay is −side.
        let box_x = |from: f64, to: f64| {
            let ends = [face - side * from, face - side * to];
            [ends[0].min(ends[1]), (to - from).abs()]
        };
        let [level_x, level_w] = box_x(0.0, leg);
        let [stand_x, stand_w] = box_x(0.0, CLIP_MM);
        let u0 = hole[1] - long / 2.0;
        let plates = vec![
            Plate { origin: [level_x, u0, top - CLIP_MM], size: [level_w, long, CLIP_MM] },
            Plate { origin: [stand_x, u0, top - leg], size: [stand_w, long, leg - CLIP_MM] },
        ];
        let mut fasteners = vec![self.panel_fastener(hole, top - CLIP_MM, CLIP_MM + FLANGE_MM)];
        if upright.section.family == Family::Wood {
            let usual = || screw(CLIP_SCREWS.0).ok().map(|screw| (screw, CLIP_SCREWS.1, CLIP_SCREWS.2));
            let given = self.design.joints.clip.map(|s| (s.screw, to_mm(s.length), s.count as usize));
            let Some((screw, length, count)) = given.or_else(usual) else { return Ok(None) };
            // Clips on both sides of one upright meet: those to the right of it take the lower third of the leg.
            let share = if side > 0.0 { 1.0 / 3.0 } else { 2.0 / 3.0 };
            let height = top - CLIP_MM - (leg - CLIP_MM) * share;
            let wood = self.design.frame.wood_species.map(|s| s.specific_gravity());
            for i in 0..count {
                let u = u0 + long * (i as f64 + 0.5) / count as f64;
                let from = [face - side * CLIP_MM, u, height];
                fasteners.push(turned_in(screw, length, wood, from, [side, 0.0, 0.0]));
            }
        }
        Ok(Some(Joint {
            use_: JointUse::Clip,
            body: Body::Frame,
            parts,
            fasteners,
            plates,
            turned_from: "inside the bay, from behind",
        }))
    }
}
