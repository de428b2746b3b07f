//! One bolt in wood: yield modes with the gap between the layers, distances, duration; a group of one.

use super::{
    Dowel, Temperature,
    connection::{Lateral, Moisture, adjusted_lateral, wet_lateral},
    dowel::Bearing,
    dowel_bearing, gap,
    geometry::{GrainLoad, Placing, geometry_factor},
};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{DowelJoint, Layer, LayerMaterial, Refusal, asked::LBF_PER_N},
    quantities::MM_PER_INCH,
};

/// Force over value.
const USE: Source = Source::new("NDS-2018", "§11.3", Certainty::Transcribed);
/// Two walls of a tube.
const WALLS: Source =
    Source::new("statics", "the two walls of a tube spread over its depth: less than they hold", Certainty::Derived);

impl DowelJoint {
    /// Force on the bolt over its value in wood.
    pub(in crate::codes) fn in_wood<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let z_adjusted = self.value_lb(trace)?;
        let force = self.force_n.abs() * LBF_PER_N;
        let u = force / z_adjusted;
        step!(trace, "force on the bolt over its value", u [""] = "force/z_adjusted", { force ["lb"], z_adjusted ["lb"] }, USE);
        Ok(u)
    }

    /// Adjusted lateral value Z′ in wood (lb).
    ///
    /// # Errors
    /// As [`Self::utilisation`].
    pub fn value_lb<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let d = self.diameter_mm / MM_PER_INCH;
        let grain =
            |layer: &Layer| if matches!(layer.material, LayerMaterial::Wood(_)) { layer.angle_deg } else { 0.0 };
        let angle = grain(&self.main).max(grain(&self.side));
        let (main, side) = (bearing(trace, &self.main, d), bearing(trace, &self.side, d));
        let gap_in = self.gap_mm / MM_PER_INCH;
        let bolt = Dowel::bolt(d);
        let dowel = if self.threads_bear { Dowel { diameter_in: self.root_mm / MM_PER_INCH, ..bolt } } else { bolt };
        let z = if self.double {
            gap::double_shear(trace, &dowel, main, side, gap_in, angle)?
        } else {
            gap::single_shear(trace, &dowel, main, side, gap_in, angle)?
        };
        // Steel does not count here: NDS Table 12.5.1C speaks of the wood members alone.
        let wooden = |layer: &Layer, planes: f64| match layer.material {
            LayerMaterial::Wood(_) => planes * layer.thickness_mm,
            _ => f64::INFINITY,
        };
        let planes = if self.double { 2.0 } else { 1.0 };
        let length_to_diameter = wooden(&self.main, 1.0).min(wooden(&self.side, planes)) / self.diameter_mm;
        let mut c_delta: f64 = 1.0;
        for layer in [&self.main, &self.side] {
            if !matches!(layer.material, LayerMaterial::Wood(_)) {
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
    match layer.material {
        LayerMaterial::Wood(gravity) => {
            Bearing { length_in, strength_psi: dowel_bearing::wood(trace, gravity, diameter_in, layer.angle_deg) }
        }
        LayerMaterial::Steel(plate) => {
            let (t, l) = (plate.wall_mm / MM_PER_INCH, length_in);
            let f_e_wall = dowel_bearing::steel_psi(t);
            if !plate.hollow {
                return Bearing { length_in: t, strength_psi: f_e_wall };
            }
            let f_e = f_e_wall * 2.0 * t / l;
            step!(trace, "bearing strength of the tube over its depth", f_e ["psi"] = "f_e_wall*2*t/l",
                { f_e_wall ["psi"], t ["in"], l ["in"] }, WALLS);
            Bearing { length_in: l, strength_psi: f_e }
        }
        LayerMaterial::Aluminium => Bearing { length_in, strength_psi: 0.0 },
    }
}
