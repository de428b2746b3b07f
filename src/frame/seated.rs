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
    bolted, distance,
    joint::{Disc, Fastener, FastenerKind, Joint, JointUse, Part, Plate},
    panel::{PanelPlace, panel_bolt},
    piece::{Body, Role, Stick},
    placing::Placing,
    refusal::Refusal,
    screwed::turned_in,
};
use crate::{
    catalogue::{Bolt, Family, screw},
    design::{CLIP_MM, Design, Orientation, Seating},
    quantities::{MM_PER_INCH, Units, to_mm},
};

/// Screws of a clip where the design names none: size, length (mm), count; common practice, no source.
const CLIP_SCREWS: (&str, f64, usize) = ("#12", 1.5 * MM_PER_INCH, 2);
/// Room of the fillet in the heel of a clip beyond its thickness (mm): as large as the thickness. Judgement.
const FILLET_MM: f64 = CLIP_MM;
/// Legs that clips are cut from (mm); common practice, no source.
const LEGS_US_MM: [f64; 4] = [1.5 * MM_PER_INCH, 2.0 * MM_PER_INCH, 2.5 * MM_PER_INCH, 3.0 * MM_PER_INCH];
const LEGS_METRIC_MM: [f64; 4] = [40.0, 50.0, 60.0, 80.0];
/// Thickness of the flange of a panel's own frame that the bolt holds (mm). Common practice, no source.
const FLANGE_MM: f64 = 2.0;

/// Mounting holes of a panel: one near each corner.
const HOLES: usize = 4;

/// The joints of all panels whose holes are told, each clear of what stands there before.
///
/// # Errors
/// Clips that cannot be made.
pub(super) fn joints(
    design: &Design,
    sticks: &[Stick],
    panels: &[PanelPlace],
    placing: &mut Placing,
) -> Result<Vec<Joint>, Vec<Refusal>> {
    let (mut found, mut refusals) = (Vec::new(), Vec::new());
    let Some(holes) = design.panel.mounting_holes else { return Ok(found) };
    let Some(bolt) = panel_bolt(&holes) else { return Ok(found) };
    let on_clips = !matches!(design.frame.seating, Seating::OnPurlins { .. });
    if let Some(given) = design.joints.clips_per_panel.map(|n| n as usize).filter(|n| on_clips && *n != HOLES) {
        refusals.push(Refusal::ClipsAndHoles { given, holes: HOLES });
    }
    let [pitch_x, pitch_u] = match design.array.orientation {
        Orientation::Portrait => [holes.across, holes.along_long_side],
        Orientation::Landscape => [holes.along_long_side, holes.across],
    }
    .map(to_mm);
    let work = Work { design, sticks, bolt };
    for (index, panel) in panels.iter().enumerate() {
        let middle = |[from, to]: [f64; 2]| (from + to) / 2.0;
        for ends in [[-1.0, -1.0], [1.0, -1.0], [-1.0, 1.0], [1.0, 1.0]] {
            let hole = [middle(panel.x_mm) + ends[0] * pitch_x / 2.0, middle(panel.u_mm) + ends[1] * pitch_u / 2.0];
            let joint = match design.frame.seating {
                Seating::OnPurlins { .. } => Ok(work.on_purlin(index, panel, hole)),
                _ => work.clip(index, panel, hole, ends, placing),
            };
            match joint {
                Ok(joint) => {
                    joint.iter().for_each(|joint| placing.add(joint));
                    found.extend(joint);
                }
                Err(refusal) if refusals.contains(&refusal) => {}
                Err(refusal) => refusals.push(refusal),
            }
        }
    }
    if refusals.is_empty() { Ok(found) } else { Err(refusals) }
}

/// The inner face of a member beside a panel, which a clip is screwed to.
struct Face {
    stick: usize,
    /// Across the face: 0 for x, 1 for u. The clip lies along the other one.
    axis: usize,
    /// Out of the bay, as a sign.
    out: f64,
    /// Where the face stands on its axis (mm).
    at_mm: f64,
    /// From the face into the bay to the panel's hole (mm).
    to_hole_mm: f64,
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

    fn on_purlin(&self, index: usize, panel: &PanelPlace, [x, u]: [f64; 2]) -> Option<Joint> {
        let under = |(_, stick): &(usize, &Stick)| {
            stick.role == Role::Purlin && (0.0..=stick.section.depth_mm).contains(&(u - stick.start[1]))
        };
        let (at, purlin) = self.sticks.iter().enumerate().find(under)?;
        let thick = purlin.section.width_mm;
        let fastener = self.panel_fastener([x, u], panel.w_mm[0] - thick, thick + FLANGE_MM);
        Some(Joint {
            use_: JointUse::PanelBolt,
            body: Body::Frame,
            parts: vec![Part::Stick(at), Part::Panel(index)],
            fasteners: vec![fastener],
            plates: vec![],
            turned_from: "below",
        })
    }

    /// Members beside a panel's hole, the nearest of each direction: upright first, then rail.
    fn faces(&self, panel: &PanelPlace, hole: [f64; 2], ends: [f64; 2]) -> impl Iterator<Item = Face> {
        let middle = [panel.x_mm, panel.u_mm].map(|[from, to]| (from + to) / 2.0);
        [0, 1].into_iter().filter_map(move |axis| {
            let out = ends[axis];
            let inner = |stick: &Stick| stick.start[axis] - out * stick.section.width_mm / 2.0;
            let runs_past = |stick: &Stick| {
                let along = hole[1 - axis] - stick.start[1 - axis];
                (0.0..=stick.length_mm).contains(&along)
            };
            let is_beside = |stick: &Stick| match stick.role {
                Role::Stile | Role::Mullion => axis == 0,
                Role::Rail | Role::MidRail => axis == 1,
                _ => false,
            };
            let beside = self.sticks.iter().enumerate().filter(|(_, s)| is_beside(s) && runs_past(s));
            let nearest = beside
                .filter(|(_, s)| (inner(s) - middle[axis]) * out > 0.0)
                .min_by(|a, b| (inner(a.1) * out).total_cmp(&(inner(b.1) * out)));
            nearest.map(|(stick, member)| {
                let at_mm = inner(member);
                Face { stick, axis, out, at_mm, to_hole_mm: (at_mm - hole[axis]) * out }
            })
        })
    }

    /// An angle clip between the hole and the nearest member that one reaches.
    fn clip(
        &self,
        index: usize,
        panel: &PanelPlace,
        hole: [f64; 2],
        ends: [f64; 2],
        placing: &Placing,
    ) -> Result<Option<Joint>, Refusal> {
        // Left and right differ by rounding alone.
        const SAME_MM: f64 = 1e-6;
        let edge = 1.5 * self.bolt.diameter_mm;
        let least_mm = CLIP_MM + FILLET_MM + distance::round_mm(self.bolt);
        let legs = match self.design.units {
            Units::Us => LEGS_US_MM,
            Units::Metric => LEGS_METRIC_MM,
        };
        let leg = |face: &Face| {
            legs.into_iter()
                .find(|leg| face.to_hole_mm >= least_mm - SAME_MM && face.to_hole_mm + edge <= leg + SAME_MM)
        };
        let faces: Vec<Face> = self.faces(panel, hole, ends).collect();
        let Some((face, leg)) = faces.iter().find_map(|face| Some((face, leg(face)?))) else {
            let nearest = faces.iter().map(|face| face.to_hole_mm).min_by(|a, b| a.abs().total_cmp(&b.abs()));
            let field = match self.design.frame.seating {
                Seating::Lapped { .. } => "frame.seating.lap",
                _ => "frame.seating.side_clearance",
            };
            let most_mm = legs[legs.len() - 1] - edge;
            let from_face_mm = nearest.unwrap_or(f64::INFINITY);
            return Err(Refusal::ClipOutOfReach { field, from_face_mm, least_mm, most_mm });
        };
        let top = panel.w_mm[0];
        let parts = vec![Part::Stick(face.stick), Part::Panel(index)];
        // From the face into the bay, along the face, and up.
        let place = |from_face: f64, along: f64, w: f64| {
            let mut at = [0.0, 0.0, w];
            at[face.axis] = face.at_mm - face.out * from_face;
            at[1 - face.axis] = along;
            at
        };
        let begins = hole[1 - face.axis] - leg / 2.0;
        let plate = |from_face: f64, below: f64, thick: f64| {
            let (near, far) = (place(0.0, begins, top - below), place(from_face, begins + leg, top - below + thick));
            Plate {
                origin: std::array::from_fn(|i| near[i].min(far[i])),
                size: std::array::from_fn(|i| (near[i] - far[i]).abs()),
            }
        };
        let plates = vec![plate(leg, CLIP_MM, CLIP_MM), plate(CLIP_MM, leg, leg - CLIP_MM)];
        let mut fasteners = vec![self.panel_fastener(hole, top - CLIP_MM, CLIP_MM + FLANGE_MM)];
        let member = &self.sticks[face.stick];
        if member.section.family == Family::Wood {
            let usual = || screw(CLIP_SCREWS.0).ok().map(|screw| (screw, CLIP_SCREWS.1, CLIP_SCREWS.2));
            let given = self.design.joints.clip.map(|s| (s.screw, to_mm(s.length), s.count as usize));
            let Some((screw, length, count)) = given.or_else(usual) else { return Ok(None) };
            let wood = self.design.frame.wood_species.map(|s| s.specific_gravity());
            let mut axis = [0.0; 3];
            axis[face.axis] = face.out;
            // Clips on both faces of one member meet: each side has its own third of the leg, or what else is clear.
            let shares = if face.out > 0.0 { [1.0 / 3.0, 2.0 / 3.0, 0.5] } else { [2.0 / 3.0, 1.0 / 3.0, 0.5] };
            let arrangements = shares.into_iter().map(|share| {
                let height = top - CLIP_MM - (leg - CLIP_MM) * share;
                let along = (0..count).map(|i| begins + leg * (i as f64 + 0.5) / count as f64);
                along.map(|along| turned_in(screw, length, wood, place(CLIP_MM, along, height), axis)).collect()
            });
            fasteners.extend(placing.first_clear(arrangements));
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
