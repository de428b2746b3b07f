//! Posts in soil: springs below grade.

use crate::{
    catalogue::{Certainty, Soil, Source},
    quantities::PA_PER_PSF,
};

/// Movement at which the doubled presumptive lateral bearing is allowed (mm): half an inch.
const MOVEMENT_MM: f64 = 12.7;

/// Source of the springs.
pub const SPRINGS: Source = Source::new(
    "judgement",
    "secant soil springs: twice the lateral bearing of IBC Table 1806.2 at the half inch of §1806.3.4",
    Certainty::Judgement,
);

/// Lateral stiffness of soil on a post, per length of post (N/mm per mm): secant at half an inch.
///
/// ```text
/// k = 2 S z b / (1/2 in)      S lateral bearing per depth, z depth, b width
/// ```
///
/// No table of subgrade moduli is published for the presumptive classes; §1806.3.4 allows twice the lateral bearing for
/// posts that half an inch of movement does not harm, which gives one point of the load-movement curve.
#[must_use]
pub fn subgrade_n_per_mm2(soil: &Soil, depth_mm: f64, width_mm: f64) -> f64 {
    const MM_PER_FT: f64 = 304.8;
    let per_mm_depth_mpa = soil.lateral_psf_per_ft * PA_PER_PSF * 1e-6 / MM_PER_FT;
    2.0 * per_mm_depth_mpa * depth_mm * width_mm / MOVEMENT_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::soil_class;

    #[test]
    fn sand_gives_its_doubled_bearing_at_half_an_inch() {
        // 150 psf/ft at 4 ft: 600 psf, doubled 1200 psf on 1 ft of width = 1200 lb/ft; over 1/2 in.
        let k = subgrade_n_per_mm2(soil_class(4).expect("sand"), 4.0 * 304.8, 304.8);
        let by_hand = 1200.0 * 4.448_221_615 / 304.8 / 12.7;
        assert!((k / by_hand - 1.0).abs() < 1e-6, "{k} {by_hand}");
    }
}
