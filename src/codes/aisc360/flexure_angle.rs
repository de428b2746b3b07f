//! Bending of equal angles about a geometric axis.

use super::{Profile, Steel};
use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Angles.
pub const ANGLE: Source = Source::new("AISC 360-16", "F10", Certainty::Transcribed);

/// Which constants the lateral buckling moment takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Edition {
    /// 2005 and 2010: 0.66 and 0.78.
    Until2010,
    /// 2016 and later: 0.58 and 0.88.
    Since2016,
}

/// How the angle bends, without restraint along its length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bent {
    /// Is the toe of the upright leg in compression?
    pub toe_in_compression: bool,
    /// Unbraced length (in).
    pub unbraced_in: f64,
    /// Moment gradient factor C_b.
    pub gradient: f64,
}

/// Nominal moment M_n (kip·in) of an equal angle about a geometric axis, no lateral restraint.
///
/// ```text
/// M_y = 0.80 F_y S_x    M_n ≤ 1.5 M_y
/// M_cr = 0.58 E b⁴ t C_b/L_b² (√(1 + 0.88 (L_b t/b²)²) ∓ 1)      − toe in compression, + toe in tension
/// M_y/M_cr ≤ 1: M_n = (1.92 − 1.17 √(M_y/M_cr)) M_y,  else (0.92 − 0.17 M_cr/M_y) M_cr
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when the unbraced length is not above zero.
///
/// # Source
/// AISC 360-16 F10. A single-angle worksheet of the 13th edition in `tests/handbook/aisc.rs`.
pub fn nominal_moment<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    bent: Bent,
    edition: Edition,
) -> Result<f64, Refusal> {
    let (f_y, e, s_x) = (steel.fy_ksi, steel.e_ksi, profile.s_x_in3);
    let (b, t) = (profile.depth_in, profile.wall_in);
    let m_y = 0.80 * f_y * s_x;
    step!(trace, "yield moment about the geometric axis", m_y ["kip in"] = "0.80*f_y*s_x", { f_y ["ksi"], s_x ["in^3"] }, ANGLE);
    let l_b = within("unbraced length (in)", bent.unbraced_in, [1e-6, f64::MAX], ANGLE)?;
    let (k, n) = match edition {
        Edition::Until2010 => (0.66, 0.78),
        Edition::Since2016 => (0.58, 0.88),
    };
    let (c_b, sign) = (bent.gradient, if bent.toe_in_compression { -1.0 } else { 1.0 });
    let m_cr = k * e * b.powi(4) * t * c_b / (l_b * l_b) * ((1.0 + n * (l_b * t / (b * b)).powi(2)).sqrt() + sign);
    step!(trace, "elastic lateral buckling moment", m_cr ["kip in"] = "k*e*b^4*t*c_b/l_b^2*(sqrt(1 + n*(l_b*t/b^2)^2) + sign)",
        { k [""], e ["ksi"], b ["in"], t ["in"], c_b [""], l_b ["in"], n [""], sign [""] }, ANGLE);
    let m_lateral = lateral(trace, m_y, m_cr);
    let m_leg = if bent.toe_in_compression { leg_buckling(trace, 0.80 * s_x, [b, t], steel) } else { f64::INFINITY };
    Ok(m_lateral.min(m_leg))
}

/// Nominal moment at yielding and lateral buckling from M_y and M_cr (kip·in).
pub(super) fn lateral<T: Trace>(trace: &mut T, m_y: f64, m_cr: f64) -> f64 {
    let inelastic = m_y <= m_cr;
    let m_n = if inelastic {
        ((1.92 - 1.17 * (m_y / m_cr).sqrt()) * m_y).min(1.5 * m_y)
    } else {
        (0.92 - 0.17 * m_cr / m_y) * m_cr
    };
    let formula =
        if inelastic { "min((1.92 - 1.17*sqrt(m_y/m_cr))*m_y, 1.5*m_y)" } else { "(0.92 - 0.17*m_cr/m_y)*m_cr" };
    step!(trace, "moment at lateral buckling", m_n ["kip in"] = formula, { m_y ["kip in"], m_cr ["kip in"] }, ANGLE);
    m_n
}

/// Nominal moment at local buckling of a leg whose toe is in compression; unlimited when the leg is compact.
pub(super) fn leg_buckling<T: Trace>(trace: &mut T, s_c: f64, [b, t]: [f64; 2], steel: &Steel) -> f64 {
    let (f_y, e, k) = (steel.fy_ksi, steel.e_ksi, steel.slenderness_scale());
    if b / t <= 0.54 * k {
        return f64::INFINITY;
    }
    let noncompact = b / t <= 0.91 * k;
    let m_n = if noncompact {
        f_y * s_c * (2.43 - 1.72 * (b / t) * (f_y / e).sqrt())
    } else {
        0.71 * e / (b / t).powi(2) * s_c
    };
    let formula = if noncompact { "f_y*s_c*(2.43 - 1.72*(b/t)*sqrt(f_y/e))" } else { "0.71*e/(b/t)^2*s_c" };
    step!(trace, "moment at local buckling of the leg", m_n ["kip in"] = formula,
        { f_y ["ksi"], s_c ["in^3"], b ["in"], t ["in"], e ["ksi"] }, ANGLE);
    m_n
}
