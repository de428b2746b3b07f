//! What stands in soil: springs below grade.

use super::builder::Builder;
use crate::{
    analysis::Support,
    catalogue::{Certainty, Source},
    design::SoilSpec,
    quantities::{MM_PER_FT, PA_PER_PSF, to_kn_per_m3},
};

/// Nodes of a stick below grade.
const SOIL_NODES: usize = 8;

/// Movement at which the doubled presumptive lateral bearing is allowed (mm): half an inch.
const MOVEMENT_MM: f64 = 12.7;

/// Source of the springs.
pub const SPRINGS: Source = Source::new(
    "judgement",
    "secant soil springs: twice the lateral bearing of IBC Table 1806.2 at the half inch of §1806.3.4",
    Certainty::Judgement,
);

impl Builder<'_> {
    /// Springs below grade; the foot carries the weight and keeps the stick from spinning.
    pub(super) fn stand_in_soil(&mut self, r: usize, depth_mm: f64, width_mm: f64) {
        let Some(soil) = self.basis.soil else { return };
        let grade = self.rods[r].foot([0.0, 0.0, -self.frame.axis_above_surface_mm()]);
        let node = self.node(r, grade);
        self.at_grade.push((node, r));
        let step = depth_mm / SOIL_NODES as f64;
        for k in 1..=SOIL_NODES {
            let depth = step * k as f64;
            let node = self.node(r, grade + depth);
            // Each spring stands for half a step above and below it; the last one for the half above only.
            let from = depth - step / 2.0;
            let to = (depth + step / 2.0).min(depth_mm);
            let spring = subgrade_n_per_mm2(&soil, (from + to) / 2.0, width_mm) * (to - from);
            let foot = k == SOIL_NODES;
            let support = Support::holding([false, false, foot, false, false, foot]);
            self.model.support(node, support.springs([spring, spring, 0.0, 0.0, 0.0, 0.0]));
            self.grounded.push((node, r));
        }
    }
}

/// Lateral stiffness of soil on a post, per length of post (N/mm per mm): secant at half an inch.
///
/// ```text
/// k = 2 S z b / (1/2 in)      S lateral bearing per depth, z depth, b width
/// ```
///
/// No table of subgrade moduli is published for the presumptive classes; §1806.3.4 allows twice the lateral bearing for
/// posts that half an inch of movement does not harm, which gives one point of the load-movement curve.
///
/// Where the design gives the constant of horizontal subgrade reaction n_h, it counts instead, for any width:
///
/// ```text
/// k = n_h z
/// ```
#[must_use]
pub fn subgrade_n_per_mm2(spec: &SoilSpec, depth_mm: f64, width_mm: f64) -> f64 {
    /// kN/m³ to N/mm³.
    const N_PER_MM3: f64 = 1e-6;
    if let Some(n_h) = spec.subgrade {
        return to_kn_per_m3(n_h) * N_PER_MM3 * depth_mm;
    }
    let soil = spec.soil;
    let per_mm_depth_mpa = soil.lateral_psf_per_ft * PA_PER_PSF * 1e-6 / MM_PER_FT;
    2.0 * per_mm_depth_mpa * depth_mm * width_mm / MOVEMENT_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{catalogue::soil_class, quantities::kn_per_m3};

    fn sand() -> SoilSpec {
        let soil = soil_class(4).expect("sand");
        SoilSpec { soil, movement_harmless: false, frost_depth: None, subgrade: None }
    }

    #[test]
    fn sand_gives_its_doubled_bearing_at_half_an_inch() {
        // 150 psf/ft at 4 ft: 600 psf, doubled 1200 psf on 1 ft of width = 1200 lb/ft; over 1/2 in.
        let k = subgrade_n_per_mm2(&sand(), 4.0 * 304.8, 304.8);
        let by_hand = 1200.0 * 4.448_221_615 / 304.8 / 12.7;
        assert!((k / by_hand - 1.0).abs() < 1e-6, "{k} {by_hand}");
    }

    #[test]
    fn a_given_constant_counts_whatever_the_width() {
        // 25 lb/in3 at 48 in: 1200 lb/in per inch of post, in N and mm 1200 x 4.448221615 / 25.4^2.
        let spec = SoilSpec { subgrade: Some(kn_per_m3(25.0 * 271.447_141)), ..sand() };
        let by_hand = 1200.0 * 4.448_221_615 / 25.4 / 25.4;
        for width in [100.0, 400.0] {
            let k = subgrade_n_per_mm2(&spec, 48.0 * 25.4, width);
            assert!((k / by_hand - 1.0).abs() < 1e-6, "{k} {by_hand}");
        }
    }
}
