//! What a foot is asked: soil, concrete, weight, stakes and brackets, in N and mm.

use super::{ballast, bearing, concrete, embedment, stakes, ties, uplift};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{
        Refusal,
        asked::{FTLB_PER_NMM, LBF_PER_N},
    },
    quantities::{MM_PER_FT, MM_PER_INCH},
};

/// Frost.
const FROST: Source = Source::new("IBC 2018", "§1809.5", Certainty::Transcribed);

/// A question about a foot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Foot {
    /// Depth needed over depth given (mm).
    Embedded(embedment::Post, f64),
    /// Pressure under a round foot: load (N), diameter (mm), allowed (psf).
    Round(f64, f64, f64),
    /// Pressure under a runner: load (N) and its moment about the middle (N·mm), length and width (mm), allowed (psf).
    Runner([f64; 2], [f64; 2], f64),
    /// Uplift (N) against a concrete foot: diameter, depth (mm), post area (mm²).
    Lifted(f64, [f64; 3]),
    /// Frost depth over foot depth (mm).
    Frost(f64, f64),
    /// Ballasted frame.
    Ballasted(ballast::Ballasted, ballast::Rule, Stability),
    /// Stakes of one runner, pushed sideways.
    Staked(Staked),
    /// A stake pulled (N), and what one held in a pull test (N), where there was one.
    StakePulled(f64, Option<f64>),
    /// A bracket pulled and pushed sideways (N), and its two rated forces (N).
    Bracket([f64; 2], [f64; 2]),
}

/// Which of the three ways a ballasted frame fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stability {
    /// It slides.
    Sliding,
    /// It tips over.
    Overturning,
    /// It lifts.
    Uplift,
}

/// Stakes that share the sideways force of a runner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Staked {
    /// Force (N).
    pub force_n: f64,
    /// Stakes.
    pub count: u32,
    /// Width of one (mm).
    pub width_mm: f64,
    /// Depth in the ground (mm).
    pub depth_mm: f64,
    /// Loose soil at the top (mm).
    pub loose_mm: f64,
    /// Height of the force above the ground (mm).
    pub height_mm: f64,
    /// Lateral bearing of the soil (psf/ft).
    pub lateral_psf_per_ft: f64,
}

impl Foot {
    /// Its utilisation.
    ///
    /// # Errors
    /// An equation outside its range, or one that is not held.
    pub(in crate::codes) fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        match self {
            Self::Embedded(post, depth_mm) => {
                let d_needed = embedment::required_depth(trace, post)?;
                let d_given = depth_mm / MM_PER_FT;
                let u = d_needed / d_given;
                step!(trace, "embedment needed over embedment given", u [""] = "d_needed/d_given", { d_needed ["ft"], d_given ["ft"] }, embedment::NON_CONSTRAINED);
                Ok(u)
            }
            Self::Round(load_n, diameter_mm, allowed_psf) => {
                let q = bearing::round_pressure(trace, load_n * LBF_PER_N, diameter_mm / MM_PER_FT)?;
                Ok(pressed(trace, q, *allowed_psf))
            }
            Self::Runner([load_n, moment], size, allowed_psf) => {
                let [l, w] = size.map(|mm| mm / MM_PER_FT);
                let q = bearing::pad_pressure(trace, load_n * LBF_PER_N, moment * FTLB_PER_NMM, l, w)?;
                Ok(pressed(trace, q, *allowed_psf))
            }
            Self::Lifted(lift_n, [diameter, depth, post]) => {
                let area = post / MM_PER_INCH / MM_PER_INCH;
                let (b, d) = (diameter / MM_PER_FT, depth / MM_PER_FT);
                let volume = concrete::round_volume(trace, b, d, area, d)?;
                let weight = concrete::weight(trace, volume);
                let held = uplift::held_uplift(trace, weight, 0.0, [b, d], None)?;
                let lift = lift_n * LBF_PER_N;
                let u = lift / held;
                step!(trace, "uplift over what holds it", u [""] = "lift/held", { lift ["lb"], held ["lb"] }, uplift::WEIGHT);
                Ok(u)
            }
            Self::Frost(frost_mm, depth_mm) => {
                let (d_frost, d_foot) = (frost_mm / MM_PER_FT, depth_mm / MM_PER_FT);
                let u = d_frost / d_foot;
                step!(trace, "frost depth over depth of the foot", u [""] = "d_frost/d_foot", { d_frost ["ft"], d_foot ["ft"] }, FROST);
                Ok(u)
            }
            Self::Ballasted(frame, rule, way) => {
                let stability = ballast::under_rule(trace, frame, 1, *rule)?;
                Ok(match way {
                    Stability::Sliding => stability.sliding,
                    Stability::Overturning => stability.overturning,
                    Stability::Uplift => stability.uplift,
                })
            }
            Self::Staked(staked) => {
                let size = [staked.width_mm / MM_PER_FT, staked.depth_mm / MM_PER_FT];
                let (height, loose) = (staked.height_mm / MM_PER_FT, staked.loose_mm / MM_PER_FT);
                let p = stakes::lateral_force(trace, size, height, loose, staked.lateral_psf_per_ft)?;
                let (force, n) = (staked.force_n * LBF_PER_N, f64::from(staked.count));
                let u = force / (n * p);
                step!(trace, "sideways force over that of all stakes", u [""] = "force/(n*p)", { force ["lb"], n [""], p ["lb"] }, stakes::STAKE);
                Ok(u)
            }
            Self::StakePulled(pull_n, Some(test_n)) => stakes::pulled(trace, pull_n * LBF_PER_N, test_n * LBF_PER_N),
            Self::StakePulled(_, None) => Err(stakes::not_tested()),
            Self::Bracket(forces, rated) => {
                ties::bracket(trace, forces.map(|f| f * LBF_PER_N), rated.map(|f| f * LBF_PER_N))
            }
        }
    }
}

/// Pressure on the ground (psf) over what its class allows.
fn pressed<T: Trace>(trace: &mut T, q: f64, q_allowed: f64) -> f64 {
    let u = q / q_allowed;
    step!(trace, "bearing pressure over its allowable value", u [""] = "q/q_allowed", { q ["psf"], q_allowed ["psf"] }, crate::catalogue::soils::PRESUMPTIVE);
    u
}
