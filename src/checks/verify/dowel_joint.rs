//! One bolt through layers: yield modes with the gap between them, group of one, distances, duration.

use super::wood_member::LBF_PER_N;
use crate::{
    catalogue::{Certainty, Source, Trace},
    checks::{
        Refusal,
        nds::{
            Dowel, Duration, Temperature,
            connection::{Lateral, Moisture, adjusted_lateral, wet_lateral},
            dowel::Bearing,
            dowel_bearing, gap,
            geometry::{GrainLoad, Placing, geometry_factor},
        },
    },
    quantities::MM_PER_INCH,
};

/// One layer on a bolt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Layer {
    /// Wood: its specific gravity; none is steel.
    pub specific_gravity: Option<f64>,
    /// Thickness along the bolt (mm).
    pub thickness_mm: f64,
    /// Angle between force and grain (deg).
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
    /// Does the force turn round between combinations?
    pub reversing: bool,
}

/// Force over value.
const USE: Source = Source::new("NDS-2018", "§11.3", Certainty::Transcribed);

impl DowelJoint {
    /// Force over the adjusted lateral value of the bolt.
    ///
    /// # Errors
    /// Distances below the least ones, a gap or angle outside the range of the equations.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let z_adjusted = self.value_lb(trace)?;
        let force = self.force_n.abs() * LBF_PER_N;
        let u = force / z_adjusted;
        step!(trace, "force on the bolt over its value", u [""] = "force/z_adjusted", { force ["lb"], z_adjusted ["lb"] }, USE);
        Ok(u)
    }

    /// Adjusted lateral value Z′ (lb).
    ///
    /// # Errors
    /// As [`Self::utilisation`].
    pub fn value_lb<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let d = self.diameter_mm / MM_PER_INCH;
        let angle = self.main.angle_deg.max(self.side.angle_deg);
        let (main, side) = (bearing(trace, &self.main, d), bearing(trace, &self.side, d));
        let gap_in = self.gap_mm / MM_PER_INCH;
        let dowel = Dowel::bolt(d);
        let z = if self.double {
            gap::double_shear(trace, &dowel, main, side, gap_in, angle)?
        } else {
            gap::single_shear(trace, &dowel, main, side, gap_in, angle)?
        };
        let length_to_diameter = self.main.thickness_mm.min(self.side.thickness_mm) / self.diameter_mm;
        let mut c_delta: f64 = 1.0;
        for layer in [&self.main, &self.side] {
            if layer.specific_gravity.is_none() {
                continue;
            }
            let load =
                GrainLoad { angle_deg: layer.angle_deg, towards_end: true, reversing: self.reversing, hardwood: false };
            let placing = Placing {
                diameter_in: d,
                end_in: layer.end_mm / MM_PER_INCH,
                loaded_edge_in: layer.edges_mm[0] / MM_PER_INCH,
                unloaded_edge_in: layer.edges_mm[1] / MM_PER_INCH,
                spacing_in: None,
                row_spacing_in: None,
                length_to_diameter,
            };
            c_delta = c_delta.min(geometry_factor(trace, &placing, &load)?);
        }
        let moisture = Moisture { wet_when_made: self.made_wet, wet_in_service: self.wet };
        Ok(adjusted_lateral(
            trace,
            z.z_lb,
            &Lateral {
                duration: self.duration,
                c_m: wet_lateral(moisture, d, true),
                temperature: Temperature::Usual,
                wet: self.wet,
                c_g: 1.0,
                c_delta,
                end_grain: false,
            },
        ))
    }
}

fn bearing<T: Trace>(trace: &mut T, layer: &Layer, diameter_in: f64) -> Bearing {
    let length_in = layer.thickness_mm / MM_PER_INCH;
    let strength_psi = match layer.specific_gravity {
        Some(g) => dowel_bearing::wood(trace, g, diameter_in, layer.angle_deg),
        None => dowel_bearing::steel_psi(length_in),
    };
    Bearing { length_in, strength_psi }
}
