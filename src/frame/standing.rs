//! How a frame stands, as later rooms ask for it: none of them needs to know which kind of support does it.

use super::{
    foot::{self, StandsOn},
    fouling,
    joint::JointUse,
    model::Frame,
    piece::{self, HoleUse, Stick},
    placing::Placing,
    refusal::Refusal,
    screwed, seated,
};
use crate::{
    design::Design,
    quantities::{Units, angle, deg, length, mm, to_mm},
};

/// What every foot of a frame stands in, where they stand in the soil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InSoil {
    /// From grade to the foot (mm).
    pub depth_mm: f64,
    /// Of the hole that is filled with concrete (mm).
    pub hole_diameter_mm: f64,
}

impl Frame {
    /// The bolt the frame turns on.
    #[must_use]
    pub fn turns_on(&self) -> HoleUse {
        match self.stands_on {
            StandsOn::Posts { .. } => HoleUse::Axle,
            StandsOn::Runners { .. } => HoleUse::Hinge,
        }
    }

    /// How its feet stand in the soil; nothing where they lie on a surface.
    #[must_use]
    pub fn in_soil(&self) -> Option<InSoil> {
        match self.stands_on {
            StandsOn::Posts { embedment_mm: depth_mm, hole_diameter_mm, .. } => {
                Some(InSoil { depth_mm, hole_diameter_mm })
            }
            StandsOn::Runners { .. } => None,
        }
    }

    /// From the surface to the bolt the frame turns on, square to the surface (mm).
    #[must_use]
    pub fn axis_above_surface_mm(&self) -> f64 {
        match self.stands_on {
            StandsOn::Posts { axle_height_mm, .. } => axle_height_mm,
            StandsOn::Runners { hinge_above_surface_mm, .. } => hinge_above_surface_mm,
        }
    }

    /// Slope of the surface, rising away from the low edge (deg).
    #[must_use]
    pub fn slope_deg(&self) -> f64 {
        match self.stands_on {
            StandsOn::Posts { .. } => 0.0,
            StandsOn::Runners { slope_deg, .. } => slope_deg,
        }
    }

    /// Shim under the lower foot that levels the turning line, where it needs one that a tape can tell (mm).
    #[must_use]
    pub fn shim_mm(&self) -> Option<f64> {
        match self.stands_on {
            StandsOn::Posts { .. } => None,
            StandsOn::Runners { shim_mm, .. } => Some(shim_mm).filter(|shim| *shim > self.tape.mark_mm() / 2.0),
        }
    }

    /// The sticks that have a foot, in their order.
    pub fn standing(&self) -> impl Iterator<Item = (usize, &Stick)> {
        self.feet.iter().map(|foot| (foot.stick, &self.sticks[foot.stick]))
    }

    /// The trade word of all that it stands on: `posts`.
    #[must_use]
    pub fn stands_on_word(&self) -> &'static str {
        match self.stands_on {
            StandsOn::Posts { .. } => "posts",
            StandsOn::Runners { .. } => "runners",
        }
    }

    /// What it stands on, with the sizes that set it out.
    #[must_use]
    pub fn stands_on_in_words(&self, units: Units) -> String {
        let l = |value| length(mm(value), units);
        match self.stands_on {
            StandsOn::Posts { inside, axle_height_mm, embedment_mm, .. } => format!(
                "two posts {} the frame, axle {} above grade, posts {} below grade",
                if inside { "inside" } else { "outside" },
                l(axle_height_mm),
                l(embedment_mm)
            ),
            StandsOn::Runners { slope_deg, hinge_above_mm, .. } => format!(
                "two runners at {} to level, hinge {} above the hole line",
                angle(deg(slope_deg)),
                l(hinge_above_mm)
            ),
        }
    }

    /// Places the screws and clips that a design names, beside the bolts.
    pub(super) fn screw(&mut self, design: &Design) -> Result<(), Vec<Refusal>> {
        self.joints.retain(|joint| matches!(joint.use_, JointUse::Bolt(_)));
        let mut placing = Placing::beside(&self.joints);
        let mut joints =
            screwed::joints(design, &self.seams, &self.sticks, &self.slots_mm, self.turn_at, &mut placing)?;
        joints.append(&mut seated::joints(design, &self.sticks, &self.panels, &mut placing)?);
        joints.append(&mut self.joints);
        self.joints = joints;
        Ok(())
    }

    /// Fasteners that stand in what they do not hold, at the tilts really reached and between them.
    pub(super) fn fouls(&self) -> Vec<Refusal> {
        fouling::find(&self.joints, &self.sticks, &self.panels, &self.linkage, &self.row)
    }

    /// Takes over from a design what the layout only carries along: its screws, the hole in the ground and what holds the
    /// feet.
    ///
    /// # Errors
    /// Screws that cannot be placed.
    pub(crate) fn stand_as(&mut self, design: &Design) -> Result<(), Vec<Refusal>> {
        if let (StandsOn::Posts { hole_diameter_mm, .. }, Some(soil)) = (&mut self.stands_on, design.support.in_soil())
        {
            *hole_diameter_mm = to_mm(soil.hole_diameter.1);
        }
        self.screw(design)?;
        self.feet = foot::stand(design, self.stands_on, self.tape, &mut self.sticks);
        (self.pieces, self.piece_of) = piece::gather(&self.sticks);
        let refusals = self.fouls();
        if refusals.is_empty() { Ok(()) } else { Err(refusals) }
    }
}
