//! Screws and nails pulled out of side grain, heads pulled through.

use crate::{
    catalogue::{Certainty, ScrewKind, Source, Trace},
    codes::{Forbidden, Refusal, within},
};

/// Lag screws.
pub const LAG: Source = Source::new("NDS-2018", "Eq. 12.2-1, Table 12.2A", Certainty::Read);
/// Wood screws.
pub const WOOD_SCREW: Source = Source::new("NDS-2018", "Eq. 12.2-2, Table 12.2B", Certainty::Transcribed);
/// Nails.
pub const NAIL: Source = Source::new("NDS-2018", "Eq. 12.2-3, Table 12.2C", Certainty::Transcribed);
/// Heads.
pub const PULL_THROUGH: Source = Source::new("NDS-2018", "Eq. 12.2-6", Certainty::Transcribed);
/// Withdrawal from end grain, as quoted with its pages in an open repository's check against the printed standard.
pub const END_GRAIN: Source =
    Source::new("NDS-2018", "§12.2.1.3, §12.2.2.3, §12.2.3.3, §12.5.2.1", Certainty::Transcribed);
/// Withdrawal with lateral load.
pub const COMBINED: Source = Source::new("NDS-2018", "§12.4", Certainty::Transcribed);

const GRAVITY_RANGE: [f64; 2] = [0.31, 0.73];

/// Withdrawal value per inch of thread (of a nail, per inch of penetration) in side grain (lb/in).
///
/// ```text
/// lag 1800 G^1.5 D^0.75      wood screw 2850 G² D      nail 1380 G^2.5 D
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] for G outside 0.31 to 0.73.
pub fn per_inch<T: Trace>(
    trace: &mut T,
    kind: ScrewKind,
    specific_gravity: f64,
    diameter_in: f64,
) -> Result<f64, Refusal> {
    let (g, d) = (within("specific gravity", specific_gravity, GRAVITY_RANGE, LAG)?, diameter_in);
    let (formula, w, source): (&'static str, f64, Source) = match kind {
        ScrewKind::Lag => ("1800*g^1.5*d^0.75", 1800.0 * g.powf(1.5) * d.powf(0.75), LAG),
        ScrewKind::WoodScrew => ("2850*g^2*d", 2850.0 * g * g * d, WOOD_SCREW),
        ScrewKind::CommonNail => ("1380*g^2.5*d", 1380.0 * g.powf(2.5) * d, NAIL),
    };
    step!(trace, "withdrawal per inch", w ["lb/in"] = formula, { g [""], d ["in"] }, source);
    Ok(w)
}

/// Withdrawal value (lb) over the thread that sits in the main member, tip left out.
///
/// # Errors
/// As [`per_inch`].
pub fn withdrawal<T: Trace>(
    trace: &mut T,
    kind: ScrewKind,
    specific_gravity: f64,
    diameter_in: f64,
    thread_in_main_in: f64,
) -> Result<f64, Refusal> {
    let (w, p) = (per_inch(trace, kind, specific_gravity, diameter_in)?, thread_in_main_in.max(0.0));
    let w_total = w * p;
    step!(trace, "withdrawal", w_total ["lb"] = "w*p", { w ["lb/in"], p ["in"] }, LAG);
    Ok(w_total)
}

/// Withdrawal value (lb) of a lag screw in end grain: 0.75 of that in side grain.
///
/// # Errors
/// [`Refusal::Forbidden`] for wood screws and nails, which may not be pulled out of end grain.
pub fn from_end_grain<T: Trace>(trace: &mut T, kind: ScrewKind, side_grain_lb: f64) -> Result<f64, Refusal> {
    if kind != ScrewKind::Lag {
        let what = "wood screws and nails may not be pulled out of end grain";
        return Err(Forbidden { what, source_of: END_GRAIN }.into());
    }
    let (w, c_eg) = (side_grain_lb, 0.75);
    let w_end = w * c_eg;
    step!(trace, "withdrawal from end grain", w_end ["lb"] = "w*c_eg", { w ["lb"], c_eg [""] }, END_GRAIN);
    Ok(w_end)
}

/// Force (lb) that pulls a head of diameter `head_in` through a side member `side_in` thick.
///
/// ```text
/// 690 π D_H G² t  for t ≤ 2.5 D_H,  1725 π D_H² G²  beyond
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] for G outside 0.31 to 0.73.
pub fn pull_through<T: Trace>(
    trace: &mut T,
    specific_gravity: f64,
    head_in: f64,
    side_in: f64,
) -> Result<f64, Refusal> {
    let g = within("specific gravity", specific_gravity, GRAVITY_RANGE, PULL_THROUGH)?;
    let (d_h, pi) = (head_in, std::f64::consts::PI);
    let t = side_in.min(2.5 * d_h);
    let w_h = 690.0 * pi * d_h * g * g * t;
    step!(trace, "head pulled through the side member, at most 2.5 head diameters thick", w_h ["lb"] = "690*pi*d_h*g^2*t",
        { pi [""], d_h ["in"], g [""], t ["in"] }, PULL_THROUGH);
    Ok(w_h)
}

/// Allowable force (lb) at `angle_deg` from the wood surface on a fastener that is pulled and pushed aside together.
///
/// ```text
/// lag, wood screw: W′p Z′/(W′p cos²α + Z′ sin²α)      nail: W′p Z′/(W′p cos α + Z′ sin α)
/// ```
pub fn combined<T: Trace>(trace: &mut T, kind: ScrewKind, withdrawal_lb: f64, lateral_lb: f64, angle_deg: f64) -> f64 {
    let (w, z, alpha) = (withdrawal_lb, lateral_lb, angle_deg.to_radians());
    let (sine, cosine) = alpha.sin_cos();
    let (formula, z_alpha): (&'static str, f64) = match kind {
        ScrewKind::CommonNail => ("w*z/(w*cos(alpha) + z*sin(alpha))", w * z / (w * cosine + z * sine)),
        _ => ("w*z/(w*cos(alpha)^2 + z*sin(alpha)^2)", w * z / (w * cosine * cosine + z * sine * sine)),
    };
    step!(trace, "withdrawal with lateral load", z_alpha ["lb"] = formula, { w ["lb"], z ["lb"], alpha ["rad"] }, COMBINED);
    z_alpha
}
