//! An embedded post with its footing, in newtons and millimetres.

use super::{
    Refusal,
    soil::{self, Post, bearing, below_grade, concrete, uplift},
    within,
};
use crate::{
    catalogue::{Certainty, Soil, Source, Trace},
    quantities::{MM_PER_INCH, N_PER_LBF},
};

const MM_PER_FT: f64 = 12.0 * MM_PER_INCH;

/// Range of depths a post hole is dug to.
const HOLE: Source = Source::new("geometry", "the hole must have a depth", Certainty::Derived);

/// A post in the ground and what loads it at the ground line, allowable level (0.6 W).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EmbeddedPost<'a> {
    /// Soil.
    pub soil: &'a Soil,
    /// An isolated pole that half an inch at the ground line does not harm: lateral bearing counts twice.
    pub isolated: bool,
    /// Held at the ground line by a rigid slab.
    pub constrained: bool,
    /// Diameter of the hole or of the round post; of a square post in tamped soil its diagonal (mm).
    pub width_mm: f64,
    /// Depth of the hole (mm).
    pub depth_mm: f64,
    /// Cross-section of the post inside the concrete (mm²).
    pub post_area_mm2: f64,
    /// Depth that the post reaches into the hole (mm).
    pub post_depth_mm: f64,
    /// Concrete around the post, or tamped soil that weighs nothing in the checks?
    pub concrete: bool,
    /// Frame and panels on this post, dead (N).
    pub frame_n: f64,
    /// Friction of a footing cast against undisturbed soil below this depth (mm); none for weight alone.
    pub friction_below_mm: Option<f64>,
}

/// Forces at the ground line.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GroundForces {
    /// Sideways (N).
    pub side_n: f64,
    /// Moment, of the same sign as the force when the force makes it (N·mm).
    pub moment_n_mm: f64,
    /// Downwards, all loads (N).
    pub down_n: f64,
    /// Upwards wind before any weight, 0.6 W (N).
    pub up_n: f64,
}

/// What the ground has to say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GroundUse {
    /// Required over given depth.
    pub embedment: f64,
    /// Required depth (mm).
    pub required_depth_mm: f64,
    /// Bearing pressure over the allowable.
    pub bearing: f64,
    /// Uplift over what weight, and friction where earned, hold.
    pub uplift: f64,
    /// Largest moment of the post below the ground, for the check of the post itself (N·mm).
    pub peak_moment_n_mm: f64,
    /// Depth of that moment (mm).
    pub peak_at_mm: f64,
    /// Largest shear of the post below the ground (N).
    pub peak_shear_n: f64,
    /// Concrete (mm³), 0 without.
    pub concrete_mm3: f64,
}

/// Checks an embedded post.
///
/// # Errors
/// [`Refusal::OutsideRange`] for holes without depth or width, posts that do not fit, or soil too weak for 60 ft.
///
/// # Source
/// IBC 2018 §1807.3.2, Table 1806.2; statics below the ground. Worked embedments in `tests/handbook/embedment.rs`.
pub fn embedded_post<T: Trace>(
    trace: &mut T,
    post: &EmbeddedPost<'_>,
    forces: &GroundForces,
) -> Result<GroundUse, Refusal> {
    let depth_ft = within("depth of the hole (ft)", post.depth_mm / MM_PER_FT, [1e-3, 60.0], HOLE)?;
    let width_ft = post.width_mm / MM_PER_FT;
    let ground = Post {
        force_lb: forces.side_n / N_PER_LBF,
        moment_ft_lb: forces.moment_n_mm / N_PER_LBF / MM_PER_FT,
        width_ft,
        lateral_psf_per_ft: post.soil.lateral_psf_per_ft,
        pressure_factor: if post.isolated { 2.0 } else { 1.0 },
    };
    let required_ft = match post.constrained {
        true => soil::constrained_depth(trace, &ground)?,
        false => soil::required_depth(trace, &ground)?,
    };
    let peak = below_grade::peak(trace, ground.force_lb, ground.moment_ft_lb, depth_ft)?;
    let (volume_ft3, weight_lb) = footing(trace, post, [width_ft, depth_ft])?;
    let down_lb = forces.down_n / N_PER_LBF + weight_lb;
    let pressure = bearing::round_pressure(trace, down_lb.max(0.0), width_ft)?;
    let friction = post
        .friction_below_mm
        .map(|lost| uplift::ShaftFriction { bearing_psf: post.soil.bearing_psf, lost_ft: lost / MM_PER_FT });
    let held_lb = uplift::held_uplift(trace, weight_lb, post.frame_n / N_PER_LBF, [width_ft, depth_ft], friction)?;
    let up_lb = forces.up_n.max(0.0) / N_PER_LBF;
    Ok(GroundUse {
        embedment: required_ft / depth_ft,
        required_depth_mm: required_ft * MM_PER_FT,
        bearing: pressure / post.soil.bearing_psf,
        uplift: if up_lb == 0.0 { 0.0 } else { up_lb / held_lb },
        peak_moment_n_mm: peak.moment_ft_lb * N_PER_LBF * MM_PER_FT,
        peak_at_mm: peak.at_ft * MM_PER_FT,
        peak_shear_n: peak.shear_lb * N_PER_LBF,
        concrete_mm3: volume_ft3 * MM_PER_FT.powi(3),
    })
}

/// Volume (ft³) and weight (lb) of the concrete, nothing for a post in tamped soil.
fn footing<T: Trace>(trace: &mut T, post: &EmbeddedPost<'_>, [width, depth]: [f64; 2]) -> Result<(f64, f64), Refusal> {
    if !post.concrete {
        return Ok((0.0, 0.0));
    }
    let area_in2 = post.post_area_mm2 / MM_PER_INCH.powi(2);
    let volume = concrete::round_volume(trace, width, depth, area_in2, post.post_depth_mm / MM_PER_FT)?;
    Ok((volume, concrete::weight(trace, volume)))
}
