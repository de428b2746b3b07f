//! One bolt through layers: yield modes in wood with the gap between them, group of one, distances, duration; shear of
//! the bolt, bearing, tear-out and bending where steel is joined.

use super::{Refusal, adm, nds::ScrewJoint};
use crate::{
    catalogue::{BoltGrade, Certainty, Metal, Source, Trace},
    loads::Duration,
};

/// What a layer is made of.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LayerMaterial {
    /// Sawn wood, by its specific gravity.
    Wood(f64),
    /// Steel: one leg, web or bar, or the two walls of a tube.
    Steel(Plate),
    /// Aluminium, for which no bearing value is held.
    Aluminium,
}

/// Steel that a bolt bears on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plate {
    /// Steel.
    pub metal: &'static Metal,
    /// Thickness of one wall (mm).
    pub wall_mm: f64,
    /// Two walls of a tube, the layer's thickness apart over all?
    pub hollow: bool,
    /// Diameter of the hole (mm).
    pub hole_mm: f64,
}

/// One layer on a bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Material.
    pub material: LayerMaterial,
    /// Thickness along the bolt, of a tube from outside to outside (mm).
    pub thickness_mm: f64,
    /// Angle between force and grain, or the length of the piece (deg).
    pub angle_deg: f64,
    /// To the nearer end along the grain; in a hole row to the next hole (mm).
    pub end_mm: f64,
    /// To the nearer and the farther edge (mm).
    pub edges_mm: [f64; 2],
}

/// A bolt in single shear between two layers that stand a gap apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DowelJoint {
    /// Nominal diameter (mm).
    pub diameter_mm: f64,
    /// Root diameter of the thread (mm).
    pub root_mm: f64,
    /// Steel of the bolt.
    pub grade: &'static BoltGrade,
    /// Threads bear over more than a quarter of a layer, so that the root diameter counts in the yield modes.
    pub threads_bear: bool,
    /// Main member: the thicker one.
    pub main: Layer,
    /// Side member.
    pub side: Layer,
    /// Air, washers and spacers between them (mm).
    pub gap_mm: f64,
    /// A second side member like the first, with a like gap.
    pub double: bool,
    /// Wet in service.
    pub wet: bool,
    /// Wood above 19 % when the joint is made.
    pub made_wet: bool,
    /// Shortest load.
    pub duration: Duration,
    /// Force across the bolt (N).
    pub force_n: f64,
    /// Force along the bolt that stretches it (N).
    pub pull_n: f64,
    /// Does the force turn round between combinations?
    pub reversing: bool,
}

/// The largest of several.
const LARGEST: Source = Source::new("AISC 360-16", "J3.6, J3.10: each by itself", Certainty::Transcribed);

impl Layer {
    /// The wall that is nearest to the other layer (mm); wood counts whole.
    pub(super) fn near_mm(&self) -> f64 {
        match self.material {
            LayerMaterial::Steel(plate) => plate.wall_mm,
            _ => self.thickness_mm,
        }
    }
}

impl DowelJoint {
    /// The largest of: force over the adjusted lateral value of the bolt in wood; shear, bearing, tear-out and bending
    /// where the bolt bears on steel.
    ///
    /// # Errors
    /// Distances below the least ones, a gap or angle outside the range of the equations, aluminium.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let layers = [&self.main, &self.side];
        if layers.iter().any(|l| l.material == LayerMaterial::Aluminium) {
            return Err(Refusal::not_held(adm::BOLT_BEARING));
        }
        let wood = layers.iter().any(|l| matches!(l.material, LayerMaterial::Wood(_)));
        let steel = layers.iter().any(|l| matches!(l.material, LayerMaterial::Steel(_)));
        let u_wood = if wood { self.in_wood(trace)? } else { 0.0 };
        if !steel {
            return Ok(u_wood);
        }
        let u_steel = self.on_steel(trace)?;
        let u = u_wood.max(u_steel);
        step!(trace, "the largest", u [""] = "max(u_wood, u_steel)", { u_wood [""], u_steel [""] }, LARGEST);
        Ok(u)
    }
}

/// A question about a joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joint {
    /// One bolt through two layers.
    Bolted(DowelJoint),
    /// Screws that share a force.
    Screwed(ScrewJoint),
}

impl Joint {
    /// Its utilisation.
    ///
    /// # Errors
    /// An equation outside its range, or one that is not held.
    pub(super) fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        match self {
            Self::Bolted(joint) => joint.utilisation(trace),
            Self::Screwed(joint) => joint.utilisation(trace),
        }
    }
}
