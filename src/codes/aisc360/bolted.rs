//! One bolt that bears on steel: shear and tension of the bolt, bearing, tear-out, and bending between the layers.

use super::{OMEGA_RUPTURE, OMEGA_YIELD, Steel, bolts, flexure};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{DowelJoint, Layer, LayerMaterial, Plate, Refusal, asked::KIP_PER_N, nds::gap},
    quantities::MM_PER_INCH,
};

/// A bolt that reaches over a gap to two walls.
const LEVER: Source = Source::new("statics", "force beside two walls: lever over their distance", Certainty::Derived);

impl DowelJoint {
    /// The largest of shear, bearing and tear-out where the bolt bears on steel, and of its bending where all layers are.
    pub(in crate::codes) fn on_steel<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let mut most = self.sheared(trace)?;
        for (layer, other) in [(&self.main, &self.side), (&self.side, &self.main)] {
            if let LayerMaterial::Steel(plate) = &layer.material {
                most = most.max(self.bearing(trace, layer, plate, other)?);
            }
        }
        let all = [&self.main, &self.side].iter().all(|layer| matches!(layer.material, LayerMaterial::Steel(_)));
        Ok(if all { most.max(self.bent(trace)) } else { most })
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
        step!(trace, "bending of the bolt over its available value", u [""] = "m/(m_n/omega)", { m ["kip in"], m_n ["kip in"], omega [""] }, flexure::BAR);
        u
    }
}
