//! One bolt through layers: yield modes in wood with the gap between them, group of one, distances, duration; shear of
//! the bolt, bearing, tear-out and bending where steel is joined.

use super::{steel_member::KIP_PER_N, wood_member::LBF_PER_N};
use crate::{
    catalogue::{BoltGrade, Certainty, Metal, Source, Trace},
    codes::{
        Refusal, adm,
        aisc360::{self, OMEGA_RUPTURE, OMEGA_YIELD, Steel, bolts, flexure},
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

/// Force over value.
const USE: Source = Source::new("NDS-2018", "§11.3", Certainty::Transcribed);
/// Two walls of a tube.
const WALLS: Source =
    Source::new("statics", "the two walls of a tube spread over its depth: less than they hold", Certainty::Derived);
/// A bolt that reaches over a gap to two walls.
const LEVER: Source = Source::new("statics", "force beside two walls: lever over their distance", Certainty::Derived);
/// The largest of several.
const LARGEST: Source = Source::new("AISC 360-16", "J3.6, J3.10: each by itself", Certainty::Transcribed);

impl Layer {
    /// The wall that is nearest to the other layer (mm); wood counts whole.
    fn near_mm(&self) -> f64 {
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
        let mut u_steel = self.sheared(trace)?;
        for (layer, other) in [(&self.main, &self.side), (&self.side, &self.main)] {
            if let LayerMaterial::Steel(plate) = &layer.material {
                u_steel = u_steel.max(self.bearing(trace, layer, plate, other)?);
            }
        }
        if !wood {
            u_steel = u_steel.max(self.bent(trace));
        }
        let u = u_wood.max(u_steel);
        step!(trace, "the largest", u [""] = "max(u_wood, u_steel)", { u_wood [""], u_steel [""] }, LARGEST);
        Ok(u)
    }

    fn in_wood<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let z_adjusted = self.value_lb(trace)?;
        let force = self.force_n.abs() * LBF_PER_N;
        let u = force / z_adjusted;
        step!(trace, "force on the bolt over its value", u [""] = "force/z_adjusted", { force ["lb"], z_adjusted ["lb"] }, USE);
        Ok(u)
    }

    /// Shear of the bolt, and its tension beside the shear.
    fn sheared<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let d = self.diameter_mm / MM_PER_INCH;
        let planes = if self.double { 2 } else { 1 };
        let r = bolts::available_shear(trace, self.grade, d, planes)?;
        let v = self.force_n.abs() * KIP_PER_N;
        let u = v / r;
        step!(trace, "shear of the bolt over its available value", u [""] = "v/r", { v ["kip"], r ["kip"] }, bolts::STRENGTH);
        if self.pull_n <= 0.0 || u > 1.0 {
            return Ok(u);
        }
        let r_t = bolts::available_tension_with_shear(trace, self.grade, d, v / f64::from(planes))?;
        let t = self.pull_n * KIP_PER_N;
        let u_t = t / r_t;
        step!(trace, "tension of the bolt over its available value", u_t [""] = "t/r_t", { t ["kip"], r_t ["kip"] }, bolts::COMBINED);
        Ok(u.max(u_t))
    }

    /// Bearing and tear-out in one layer of steel.
    fn bearing<T: Trace>(&self, trace: &mut T, layer: &Layer, plate: &Plate, other: &Layer) -> Result<f64, Refusal> {
        let inch = |mm: f64| mm / MM_PER_INCH;
        let d = inch(self.diameter_mm);
        bolts::check_distances(d, inch(layer.edges_mm[0].min(layer.end_mm)), None)?;
        // Along the force: the nearer of end and edge on its way.
        let (sin, cos) = layer.angle_deg.to_radians().sin_cos();
        let way = |distance: f64, part: f64| if part.abs() > 1e-6 { distance / part.abs() } else { f64::INFINITY };
        let to_rim = way(layer.end_mm, cos).min(way(layer.edges_mm[0], sin));
        let clear_in = inch(to_rim - plate.hole_mm / 2.0);
        let r_n = bolts::nominal_bearing(trace, &Steel::from(plate.metal), d, inch(plate.wall_mm), clear_in);
        let v = self.force_n.abs() * KIP_PER_N / if self.double && std::ptr::eq(layer, &self.side) { 2.0 } else { 1.0 };
        let omega = OMEGA_RUPTURE;
        if !plate.hollow {
            let u = v / (r_n / omega);
            step!(trace, "bearing over its available value", u [""] = "v/(r_n/omega)", { v ["kip"], r_n ["kip"], omega [""] }, bolts::BEARING);
            return Ok(u);
        }
        let e = inch(self.gap_mm + other.near_mm() / 2.0 + plate.wall_mm / 2.0);
        let h = inch(layer.thickness_mm - plate.wall_mm);
        let v_near = v * (1.0 + e / h);
        step!(trace, "force on the near wall", v_near ["kip"] = "v*(1 + e/h)", { v ["kip"], e ["in"], h ["in"] }, LEVER);
        let u = v_near / (r_n / omega);
        step!(trace, "bearing over its available value", u [""] = "v_near/(r_n/omega)", { v_near ["kip"], r_n ["kip"], omega [""] }, bolts::BEARING);
        Ok(u)
    }

    /// Bending of the bolt between two steel layers: the whole lever on one side, at the root of the thread.
    fn bent<T: Trace>(&self, trace: &mut T) -> f64 {
        let inch = |mm: f64| mm / MM_PER_INCH;
        let planes = if self.double { 2.0 } else { 1.0 };
        let v = self.force_n.abs() * KIP_PER_N / planes;
        let (g, t_1, t_2) = (inch(self.gap_mm), inch(self.main.near_mm()), inch(self.side.near_mm()));
        let m = v * (g + t_1 / 2.0 + t_2 / 2.0);
        step!(trace, "moment of the bolt between the layers", m ["kip in"] = "v*(g + t_1/2 + t_2/2)",
            { v ["kip"], g ["in"], t_1 ["in"], t_2 ["in"] }, gap::PIN_BENDING);
        let m_n = flexure::round_pin(trace, self.grade.fy_ksi, inch(self.root_mm));
        let omega = OMEGA_YIELD;
        let u = m / (m_n / omega);
        step!(trace, "bending of the bolt over its available value", u [""] = "m/(m_n/omega)", { m ["kip in"], m_n ["kip in"], omega [""] }, aisc360::flexure::BAR);
        u
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
