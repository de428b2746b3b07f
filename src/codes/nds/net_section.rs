//! Members weakened by holes, and wood that tears out between them.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Net area.
pub const NET_AREA: Source = Source::new("NDS-2018", "§3.1.2", Certainty::Transcribed);
/// Net section modulus of a rectangle with a hole across it.
pub const NET_MODULUS: Source =
    Source::new("statics", "rectangle less the hole, about its own centroid", Certainty::Derived);
/// Tear-out of rows and groups: Eqs. E.3 and E.4 as coded and tested in an open repository (2024 edition).
pub const TEAR_OUT: Source = Source::new("NDS-2018", "App. E", Certainty::Transcribed);

/// Net area (in²) of a rectangle with holes in one cross-section, each as wide as `hole_in`, through the breadth.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the holes leave nothing.
pub fn net_area<T: Trace>(
    trace: &mut T,
    [breadth_in, depth_in]: [f64; 2],
    hole_in: f64,
    holes: u32,
) -> Result<f64, Refusal> {
    let (b, d, h, n) = (breadth_in, depth_in, hole_in, f64::from(holes));
    let a_net = b * (d - n * h);
    step!(trace, "net area", a_net ["in^2"] = "b*(d - n*h)", { b ["in"], d ["in"], n [""], h ["in"] }, NET_AREA);
    within("net area (in²)", a_net, [1e-9, f64::MAX], NET_AREA)?;
    Ok(a_net)
}

/// Smaller net section modulus (in³) of a rectangle with one hole whose centre stands `centre_in` from one edge.
///
/// ```text
/// A = b(d − h)    y = b(d²/2 − h c)/A    I = b(d³/12 + d(d/2 − y)² − h³/12 − h(c − y)²)    S = I/max(y, d − y)
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when the hole breaks an edge.
pub fn net_modulus<T: Trace>(
    trace: &mut T,
    [breadth_in, depth_in]: [f64; 2],
    hole_in: f64,
    centre_in: f64,
) -> Result<f64, Refusal> {
    let (b, d, h) = (breadth_in, depth_in, hole_in);
    let c = within("centre of the hole from the edge (in)", centre_in, [h / 2.0, d - h / 2.0], NET_MODULUS)?;
    let y = (d * d / 2.0 - h * c) / (d - h);
    step!(trace, "centroid of the net section", y ["in"] = "(d^2/2 - h*c)/(d - h)", { d ["in"], h ["in"], c ["in"] }, NET_MODULUS);
    let i = b * (d.powi(3) / 12.0 + d * (d / 2.0 - y).powi(2) - h.powi(3) / 12.0 - h * (c - y).powi(2));
    step!(trace, "second moment of the net section", i ["in^4"] = "b*(d^3/12 + d*(d/2 - y)^2 - h^3/12 - h*(c - y)^2)",
        { b ["in"], d ["in"], y ["in"], h ["in"], c ["in"] }, NET_MODULUS);
    let s = i / y.max(d - y);
    step!(trace, "section modulus of the net section", s ["in^3"] = "i/max(y, d - y)", { i ["in^4"], y ["in"], d ["in"] }, NET_MODULUS);
    Ok(s)
}

/// Allowable force (lb) at which one row of fasteners tears out along the grain.
///
/// ```text
/// Z_RT′ = n F_v′ t s_crit      s_crit = smaller of end distance and spacing
/// ```
pub fn row_tear_out<T: Trace>(
    trace: &mut T,
    fasteners: u32,
    fv_allowed_psi: f64,
    thickness_in: f64,
    critical_in: f64,
) -> f64 {
    let (n, f_v, t, s_crit) = (f64::from(fasteners), fv_allowed_psi, thickness_in, critical_in);
    let z_rt = n * f_v * t * s_crit;
    step!(trace, "tear-out of a row", z_rt ["lb"] = "n*f_v*t*s_crit", { n [""], f_v ["psi"], t ["in"], s_crit ["in"] }, TEAR_OUT);
    z_rt
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    #[test]
    fn a_centred_hole_takes_its_own_cube() {
        // Closed form: S = b (d³ − h³)/(6 d).
        let s = net_modulus(&mut Silent, [1.5, 3.5], 0.5625, 1.75).expect("inside");
        let closed = 1.5 * (3.5_f64.powi(3) - 0.5625_f64.powi(3)) / (6.0 * 3.5);
        assert!((s / closed - 1.0).abs() < 1e-12);
        let whole = net_modulus(&mut Silent, [1.5, 3.5], 1e-9, 1.0).expect("inside");
        assert!((whole - 3.0625).abs() < 1e-6);
        assert!(net_modulus(&mut Silent, [1.5, 3.5], 0.5, 0.1).is_err());
        assert!(net_area(&mut Silent, [1.5, 3.5], 2.0, 2).is_err());
    }

    #[test]
    fn an_eccentric_hole_costs_more_than_its_strip_of_depth_beyond_it() {
        // A hole at the very edge leaves a rectangle of the rest of the depth.
        let s = net_modulus(&mut Silent, [1.5, 3.5], 0.5, 0.25).expect("touches the edge");
        let rest = 1.5 * 3.0_f64.powi(2) / 6.0;
        // The fibre distance is taken to the old edge, half an inch outside the wood: on the safe side.
        assert!(s <= rest && s > 0.7 * rest, "{s} {rest}");
    }
}
