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
    codes::{Refusal, within},
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
        for z in zeros(&pressure, d).chain([0.0, d]) {
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

/// Depths between the ground and the foot where a cubic changes sign, at most three.
fn zeros(cubic: &[f64; 4], d: f64) -> impl Iterator<Item = f64> + use<'_> {
    // Between the turns of its slope the cubic runs one way, so each stretch holds one zero at most.
    let mut ends = [0.0, d, d, d];
    let mut count = 1;
    for turn in quadratic_zeros([cubic[1], 2.0 * cubic[2], 3.0 * cubic[3]]) {
        if turn > ends[count - 1] && turn < d {
            ends[count] = turn;
            count += 1;
        }
    }
    (0..count).filter_map(move |k| zero_between(cubic, ends[k], if k + 1 < count { ends[k + 1] } else { d }))
}

/// Real zeros of `c₀ + c₁ z + c₂ z²` in order; those that do not exist are NaN.
fn quadratic_zeros([c0, c1, c2]: [f64; 3]) -> [f64; 2] {
    if c2 == 0.0 {
        return [-c0 / c1, f64::NAN];
    }
    // The larger of both first, so that no digits are lost.
    let q = -0.5 * (c1 + (c1 * c1 - 4.0 * c2 * c0).sqrt().copysign(c1));
    let (a, b) = (q / c2, c0 / q);
    if a < b { [a, b] } else { [b, a] }
}

/// Newton's method, kept between the ends by halving.
fn zero_between(cubic: &[f64; 4], mut low: f64, mut high: f64) -> Option<f64> {
    const MOST_STEPS: u32 = 80;
    let start = value(cubic, low);
    if start == 0.0 || start * value(cubic, high) >= 0.0 {
        return None;
    }
    let slope = [cubic[1], 2.0 * cubic[2], 3.0 * cubic[3]];
    let mut z = 0.5 * (low + high);
    for _ in 0..MOST_STEPS {
        let at = value(cubic, z);
        if at * start > 0.0 {
            low = z
        } else {
            high = z
        }
        let step = z - at / value(&slope, z);
        let next = if step >= low && step <= high { step } else { 0.5 * (low + high) };
        let moved = (next - z).abs();
        z = next;
        if moved <= 1e-15 * high {
            break;
        }
    }
    Some(z)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    #[test]
    fn every_change_of_sign_is_found() {
        // (z − 1)(z − 2)(z − 3); the same with a double zero, which changes no sign; a line; nothing.
        let found = |cubic: [f64; 4], d| zeros(&cubic, d).collect::<Vec<f64>>();
        let three = found([-6.0, 11.0, -6.0, 1.0], 4.0);
        assert_eq!(three.len(), 3);
        three.iter().zip([1.0, 2.0, 3.0]).for_each(|(z, truth)| assert!((z - truth).abs() < 1e-12, "{z}"));
        assert_eq!(found([-6.0, 11.0, -6.0, 1.0], 2.5).len(), 2);
        assert_eq!(found([-1.0, 0.0, 0.0, 1.0], 3.0).len(), 1);
        assert_eq!(found([-3.0, 2.0, 0.0, 0.0], 4.0), [1.5]);
        assert!(found([0.0; 4], 4.0).is_empty() && found([1.0, 0.0, 1.0, 0.0], 4.0).is_empty());
    }

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
