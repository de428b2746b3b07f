//! Stability of columns, solid and built up.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Kind of column, which sets c.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ColumnKind {
    /// Sawn lumber and timbers.
    Sawn,
    /// Round poles and piles.
    RoundPole,
    /// Glued laminated timber and structural composite lumber.
    Glued,
}

impl ColumnKind {
    fn c(self) -> f64 {
        match self {
            Self::Sawn => 0.8,
            Self::RoundPole => 0.85,
            Self::Glued => 0.9,
        }
    }
}

/// How the two ends are held: recommended K_e of NDS-2018 App. G, all but the last as coded in an open finite-element
/// library (xcfem/xc); that of one end pinned, the other guided, is from memory (the library has 2.0, of steel).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum EndFixity {
    /// Both fixed.
    FixedFixed,
    /// One fixed, one pinned.
    FixedPinned,
    /// One fixed, the other moves sideways without turning.
    FixedGuided,
    /// Both pinned.
    PinnedPinned,
    /// A free-standing post.
    FixedFree,
    /// One pinned, the other moves sideways without turning.
    PinnedGuided,
}

impl EndFixity {
    /// Recommended effective length coefficient K_e.
    #[must_use]
    pub fn k_e(self) -> f64 {
        match self {
            Self::FixedFixed => 0.65,
            Self::FixedPinned => 0.80,
            Self::FixedGuided => 1.2,
            Self::PinnedPinned => 1.0,
            Self::FixedFree => 2.1,
            Self::PinnedGuided => 2.4,
        }
    }

    /// Where the coefficient is from.
    #[must_use]
    pub fn source(self) -> Source {
        match self {
            Self::PinnedGuided => Source::new("NDS-2018", "App. G, pinned and guided", Certainty::Memory),
            _ => END_FIXITY,
        }
    }
}

/// Column stability.
pub const COLUMN_STABILITY: Source = Source::new("NDS-2018", "§3.7.1", Certainty::Transcribed);
/// Effective length coefficients.
pub const END_FIXITY: Source = Source::new("NDS-2018", "App. G", Certainty::Transcribed);

/// Slenderness l_e/d of a column about one axis, with l_e = K_e l.
pub fn slenderness<T: Trace>(trace: &mut T, k_e: f64, length_in: f64, depth_in: f64) -> f64 {
    let (l, d) = (length_in, depth_in);
    let s = k_e * l / d;
    step!(trace, "slenderness of the column", s [""] = "k_e*l/d", { k_e [""], l ["in"], d ["in"] }, COLUMN_STABILITY);
    s
}

/// What column stability gives.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ColumnStability {
    /// Critical buckling stress F_cE (psi).
    pub f_ce_psi: f64,
    /// Column stability factor C_P.
    pub c_p: f64,
}

/// Critical buckling stress F_cE (psi) about one axis.
///
/// # Errors
/// [`Refusal::OutsideRange`] when l_e/d is above 50.
pub fn critical_stress<T: Trace>(trace: &mut T, slenderness: f64, e_min_psi: f64) -> Result<f64, Refusal> {
    let (s, e_min) = (within("slenderness l_e/d", slenderness, [0.0, 50.0], COLUMN_STABILITY)?, e_min_psi);
    let f_ce = 0.822 * e_min / (s * s);
    step!(trace, "critical buckling stress of the column", f_ce ["psi"] = "0.822*e_min/s^2", { e_min ["psi"], s [""] }, COLUMN_STABILITY);
    Ok(f_ce)
}

/// Share of the crushing strength that a column keeps at its slenderness.
///
/// ```text
/// C_P = (1 + α)/2c − √( ((1 + α)/2c)² − α/c )    α = F_cE / F_c*    F_cE = 0.822 E_min′ / (l_e/d)²
/// ```
///
/// # Units
/// `slenderness` = the larger l_e/d, 0 when held all along; `e_min_psi` adjusted; `fc_star_psi` without C_P.
///
/// # Errors
/// [`Refusal::OutsideRange`] when l_e/d is above 50, where the equation is not published.
///
/// # Source
/// NDS-2018 §3.7.1. The worked post of RSDG Ex. 5.6 (C_P 0.43783) is in `tests/handbook/nds_members.rs`.
pub fn column_stability<T: Trace>(
    trace: &mut T,
    kind: ColumnKind,
    slenderness: f64,
    e_min_psi: f64,
    fc_star_psi: f64,
) -> Result<ColumnStability, Refusal> {
    if slenderness == 0.0 {
        return Ok(ColumnStability { f_ce_psi: f64::INFINITY, c_p: 1.0 });
    }
    let f_ce = critical_stress(trace, slenderness, e_min_psi)?;
    let (c, fc_star) = (kind.c(), fc_star_psi);
    let alpha = f_ce / fc_star;
    step!(trace, "buckling stress over crushing strength", alpha [""] = "f_ce/fc_star", { f_ce ["psi"], fc_star ["psi"] }, COLUMN_STABILITY);
    let half = (1.0 + alpha) / (2.0 * c);
    let c_p = half - (half * half - alpha / c).sqrt();
    step!(trace, "column stability factor", c_p [""] = "(1 + alpha)/(2*c) - sqrt(((1 + alpha)/(2*c))^2 - alpha/c)", { alpha [""], c [""] }, COLUMN_STABILITY);
    Ok(ColumnStability { f_ce_psi: f_ce, c_p })
}
