//! Shear along the grain of rectangles: whole and at bolted joints.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Shear stress.
pub const SHEAR: Source = Source::new("NDS-2018", "§3.4.2", Certainty::Transcribed);
/// Bolted joint within five depths of the member's end; equations of two open repositories agree (one for Eq. 3.4-6 of
/// the 2024 edition).
pub const BOLTED_JOINT: Source = Source::new("NDS-2018", "§3.4.3.3", Certainty::Agreed);
/// Bolted joint farther from the end, as worked in an open repository's hand calculation.
pub const BOLTED_JOINT_FAR: Source = Source::new("NDS-2018", "§3.4.3.3, 5d from the end", Certainty::Transcribed);

/// Shear stress f_v (psi) of a rectangle.
pub fn shear_stress<T: Trace>(trace: &mut T, shear_lb: f64, [breadth_in, depth_in]: [f64; 2]) -> f64 {
    let (v, b, d) = (shear_lb, breadth_in, depth_in);
    let f_v = 3.0 * v / (2.0 * b * d);
    step!(trace, "shear stress", f_v ["psi"] = "3*v/(2*b*d)", { v ["lb"], b ["in"], d ["in"] }, SHEAR);
    f_v
}

/// Allowable shear V′ (lb) of a rectangle hung from bolts: effective depth `effective_in`, `from_end_in` from the bolt to
/// the nearer member end.
///
/// The effective depth is the member's depth less the distance from its unloaded edge to the centre of the nearest bolt,
/// so what lies between the bolt and the edge it pushes towards. Wind turns a bolt's push round, so callers give the
/// smaller distance from the bolt's centre to either edge. (The hand calculation that the far branch was seen in counts
/// half a bolt diameter more.) Within five depths of the end the joint acts like a notch; farther in only the effective
/// depth counts.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the effective depth is not between zero and the depth.
pub fn bolted_joint_shear<T: Trace>(
    trace: &mut T,
    fv_allowed_psi: f64,
    [breadth_in, depth_in]: [f64; 2],
    effective_in: f64,
    from_end_in: f64,
) -> Result<f64, Refusal> {
    let (f_v, b, d, d_e) = (fv_allowed_psi, breadth_in, depth_in, effective_in);
    within("effective depth at the bolt (in)", d_e, [1e-9, d], BOLTED_JOINT)?;
    if from_end_in < 5.0 * d {
        let v = 2.0 / 3.0 * f_v * b * d_e * (d_e / d).powi(2);
        step!(trace, "allowable shear at the bolt, within five depths of the end", v ["lb"] = "2/3*f_v*b*d_e*(d_e/d)^2",
            { f_v ["psi"], b ["in"], d_e ["in"], d ["in"] }, BOLTED_JOINT);
        return Ok(v);
    }
    let v = 2.0 / 3.0 * f_v * b * d_e;
    step!(trace, "allowable shear at the bolt, far from the end", v ["lb"] = "2/3*f_v*b*d_e",
        { f_v ["psi"], b ["in"], d_e ["in"] }, BOLTED_JOINT_FAR);
    Ok(v)
}
