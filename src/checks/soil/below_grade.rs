//! Moment and shear of a post below the ground, where its peak is.
//!
//! The code's depth formula gives no moment along the post. Here the post is rigid against the soil and turns about a
//! point below ground; equilibrium with force P and ground-line moment M then fixes the pressure, and the post's own
//! moment follows by statics. Two soils bracket the truth, and the larger moment counts:
//!
//! ```text
//! stiffness grows with depth   q(z) = C z (z0 − z)      C = 36(M + 2Pd/3)/d⁴    z0 = 2P/(C d²) + 2d/3
//! stiffness is the same        q(z) = C (z0 − z)        C = 12(M + Pd/2)/d³     z0 = P/(C d) + d/2
//! ```
//!
//! q is force per length (lb/ft). Both leave no force and no moment at the foot.

use crate::{
    catalogue::{Certainty, Source, Trace},
    checks::{Refusal, within},
};

/// Where the pressure comes from.
pub const PRESSURE: Source =
    Source::new("statics", "rigid post, linear and constant soil stiffness", Certainty::Derived);

/// Largest moment and shear of an embedded post.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Peak {
    /// Largest moment, as a magnitude (ft·lb).
    pub moment_ft_lb: f64,
    /// Depth of that moment below the ground (ft).
    pub at_ft: f64,
    /// Largest shear below the ground or at it, as a magnitude (lb).
    pub shear_lb: f64,
}

/// Shear and moment as polynomials of depth: coefficients of z⁰…z⁴.
struct Along {
    shear: [f64; 4],
    moment: [f64; 5],
}

fn value(coefficients: &[f64], z: f64) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * z + c)
}

/// V = P − C(z0 z²/2 − z³/3), M = M0 + P z − C(z0 z³/6 − z⁴/12).
fn growing(p: f64, m: f64, d: f64) -> Along {
    let c = 36.0 * (m + 2.0 * p * d / 3.0) / d.powi(4);
    // C z0 in one term, so that C = 0 needs no division.
    let c_z0 = 2.0 * p / (d * d) + c * 2.0 * d / 3.0;
    Along { shear: [p, 0.0, -c_z0 / 2.0, c / 3.0], moment: [m, p, 0.0, -c_z0 / 6.0, c / 12.0] }
}

/// V = P − C(z0 z − z²/2), M = M0 + P z − C(z0 z²/2 − z³/6).
fn constant(p: f64, m: f64, d: f64) -> Along {
    let c = 12.0 * (m + p * d / 2.0) / d.powi(3);
    let c_z0 = p / d + c * d / 2.0;
    Along { shear: [p, -c_z0, c / 2.0, 0.0], moment: [m, p, -c_z0 / 2.0, c / 6.0, 0.0] }
}

/// Largest moment and shear below the ground of a post embedded `depth_ft` deep.
///
/// # Units
/// `force_lb` and `moment_ft_lb` at the ground line, signed alike when a force at a height makes the moment.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the depth is not above zero.
///
/// # Source
/// Derived; see the page of this module.
pub fn peak<T: Trace>(trace: &mut T, force_lb: f64, moment_ft_lb: f64, depth_ft: f64) -> Result<Peak, Refusal> {
    let d = within("embedment (ft)", depth_ft, [1e-6, 1e3], PRESSURE)?;
    let (p, m) = (force_lb, moment_ft_lb);
    let mut best = Peak { moment_ft_lb: m.abs(), at_ft: 0.0, shear_lb: p.abs() };
    let mut deciding = None;
    for along in [growing(p, m, d), constant(p, m, d)] {
        for z in zeros(&along.shear, d) {
            let moment = value(&along.moment, z).abs();
            if moment > best.moment_ft_lb {
                best = Peak { moment_ft_lb: moment, at_ft: z, ..best };
                deciding = Some(along.moment);
            }
        }
        let pressure = [along.shear[1], 2.0 * along.shear[2], 3.0 * along.shear[3], 0.0];
        for z in zeros(&pressure, d).into_iter().chain([0.0, d]) {
            best.shear_lb = best.shear_lb.max(value(&along.shear, z).abs());
        }
    }
    if let Some([_, _, k2, k3, k4]) = deciding {
        let (z, m_peak) = (best.at_ft, best.moment_ft_lb);
        step!(trace, "largest moment below the ground", m_peak ["ft lb"] = "abs(m + p*z + k2*z^2 + k3*z^3 + k4*z^4)",
            { m ["ft lb"], p ["lb"], z ["ft"], k2 ["lb/ft"], k3 ["lb/ft^2"], k4 ["lb/ft^3"] }, PRESSURE);
    } else {
        let m_peak = m.abs();
        step!(trace, "largest moment, at the ground line", m_peak["ft lb"] = "abs(m)", { m["ft lb"] }, PRESSURE);
    }
    Ok(best)
}

/// Depths between the ground and the foot where a cubic changes sign.
fn zeros(cubic: &[f64; 4], d: f64) -> Vec<f64> {
    const PARTS: u32 = 200;
    const HALVINGS: u32 = 60;
    let at = |part: u32| d * f64::from(part) / f64::from(PARTS);
    let mut found = Vec::new();
    for part in 0..PARTS {
        let (mut low, mut high) = (at(part), at(part + 1));
        let start = value(cubic, low);
        if start == 0.0 || start * value(cubic, high) >= 0.0 {
            continue;
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if value(cubic, middle) * start > 0.0 { low = middle } else { high = middle }
        }
        found.push(0.5 * (low + high));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    #[test]
    fn nothing_is_left_at_the_foot() {
        for (p, m, d) in
            [(300.0, 1800.0, 4.0), (0.0, 1000.0, 3.0), (300.0, 0.0, 4.0), (300.0, -1500.0, 5.0), (-200.0, -900.0, 3.5)]
        {
            for along in [growing(p, m, d), constant(p, m, d)] {
                assert!(value(&along.shear, d).abs() < 1e-9 && value(&along.moment, d).abs() < 1e-8, "{p} {m} {d}");
                // The shear is the slope of the moment.
                let (z, h) = (0.37 * d, 1e-5);
                let slope = (value(&along.moment, z + h) - value(&along.moment, z - h)) / (2.0 * h);
                assert!((slope - value(&along.shear, z)).abs() < 1e-4);
            }
        }
    }

    #[test]
    fn the_peak_lies_below_the_ground_and_above_the_ground_line_moment() {
        let peak = peak(&mut Silent, 300.0, 1800.0, 4.0).expect("embedded");
        assert!(peak.moment_ft_lb > 1800.0 && peak.at_ft > 0.0 && peak.at_ft < 2.0, "{peak:?}");
        // Below the turning point the soil pushes back harder than the load.
        assert!(peak.shear_lb > 300.0);
        let turned = super::peak(&mut Silent, -300.0, -1800.0, 4.0).expect("embedded");
        assert_eq!(turned, peak);
    }

    #[test]
    fn a_pure_moment_is_largest_at_the_ground() {
        let peak = peak(&mut Silent, 0.0, 1000.0, 3.0).expect("embedded");
        assert_eq!((peak.moment_ft_lb, peak.at_ft), (1000.0, 0.0));
        // Constant stiffness: the largest shear of a pure moment is 1.5 M/d.
        assert!(peak.shear_lb >= 1.5 * 1000.0 / 3.0 - 1e-9);
        assert!(super::peak(&mut Silent, 1.0, 1.0, 0.0).is_err());
    }
}
