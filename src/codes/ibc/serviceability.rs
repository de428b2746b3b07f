//! Deflection, creep, twist, sway and frequency: what makes a frame feel firm.

use crate::{
    catalogue::{Certainty, Source, Trace},
    codes::{Refusal, within},
};

/// Creep.
pub const CREEP: Source = Source::new("NDS-2018", "§3.5.2", Certainty::Read);
/// Code limits of roof members.
pub const LIMITS: Source = Source::new("IBC 2018", "Table 1604.3", Certainty::Transcribed);
/// Limits for open frames, which the code does not give.
pub const OPEN_FRAMES: Source = Source::new("judgement", "loosest rows of IBC Table 1604.3", Certainty::Judgement);
/// A limit that the design writes: the owner's, for an engineer to accept.
pub const AS_WRITTEN: Source = Source::new("design file", "serviceability", Certainty::Read);
/// Gust factor of rigid structures.
pub const RIGID: Source = Source::new("ASCE 7-16", "§26.11.2, 1 Hz", Certainty::Agreed);

/// Which load a deflection is compared under.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DeflectionCase {
    /// Snow or wind alone.
    SnowOrWind,
    /// Dead load with the rest.
    Total,
}

/// A limit L/n, and whose number n is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Divisor {
    /// The number under the length.
    pub n: f64,
    /// Where it comes from.
    pub source: Source,
}

impl Divisor {
    /// The number that the design writes, or else `otherwise` by judgement.
    #[must_use]
    pub fn of(written: Option<f64>, otherwise: f64) -> Self {
        match written {
            Some(n) => Self { n, source: AS_WRITTEN },
            None => Self { n: otherwise, source: OPEN_FRAMES },
        }
    }

    /// Deflection of members for open frames that carry panels: 180 under snow or wind, 120 in total.
    #[must_use]
    pub fn deflection(written: Option<f64>, case: DeflectionCase) -> Self {
        Self::of(
            written,
            match case {
                DeflectionCase::SnowOrWind => 180.0,
                DeflectionCase::Total => 120.0,
            },
        )
    }

    /// Twist across a panel: shorter side over 120.
    #[must_use]
    pub fn twist(written: Option<f64>) -> Self {
        Self::of(written, 120.0)
    }

    /// Sway at the axle: height over 60, which is the cantilever of twice its length over 120.
    #[must_use]
    pub fn sway(written: Option<f64>) -> Self {
        Self::of(written, 60.0)
    }
}

/// Time factor K_cr of long-term deflection: 1.5 seasoned, 2.0 unseasoned or wet.
#[must_use]
pub fn creep_factor(unseasoned_or_wet: bool) -> f64 {
    if unseasoned_or_wet { 2.0 } else { 1.5 }
}

/// Total deflection of wood: K_cr times the long-term part, and the short-term part; one unit of length throughout.
pub fn total_deflection<T: Trace>(
    trace: &mut T,
    long_term_in: f64,
    short_term_in: f64,
    unseasoned_or_wet: bool,
) -> f64 {
    let (k_cr, d_long, d_short) = (creep_factor(unseasoned_or_wet), long_term_in, short_term_in);
    let d_total = k_cr * d_long + d_short;
    step!(trace, "deflection with creep", d_total ["in"] = "k_cr*d_long + d_short", { k_cr [""], d_long ["in"], d_short ["in"] }, CREEP);
    d_total
}

/// Deflection over its limit; a cantilever counts twice its overhang as span.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the span is not above zero.
pub fn deflection_utilisation<T: Trace>(
    trace: &mut T,
    deflection_in: f64,
    span_in: f64,
    cantilever: bool,
    limit: Divisor,
) -> Result<f64, Refusal> {
    let span = within("span (in)", span_in, [1e-6, 1e9], LIMITS)?;
    let (d, l, n) = (deflection_in.abs(), if cantilever { 2.0 * span } else { span }, limit.n);
    let u = d / (l / n);
    step!(trace, "deflection over its limit", u [""] = "d/(l/n)", { d ["in"], l ["in"], n [""] }, limit.source);
    Ok(u)
}

/// Twist across a panel (in): how far one corner leaves the plane of the other three, over its limit.
///
/// ```text
/// twist = (w1 + w3 − w2 − w4), corners in turn      utilisation = |twist|/(shorter side/n)
/// ```
///
/// # Errors
/// [`Refusal::OutsideRange`] when the side is not above zero.
pub fn panel_twist<T: Trace>(
    trace: &mut T,
    corners_in: [f64; 4],
    side_in: f64,
    limit: Divisor,
) -> Result<f64, Refusal> {
    let l = within("shorter side of the panel (in)", side_in, [1e-6, 1e9], OPEN_FRAMES)?;
    let ([w1, w2, w3, w4], n) = (corners_in, limit.n);
    let u = (w1 + w3 - w2 - w4).abs() / (l / n);
    step!(trace, "twist across a panel over its limit", u [""] = "abs(w1 + w3 - w2 - w4)/(l/n)",
        { w1 ["in"], w3 ["in"], w2 ["in"], w4 ["in"], l ["in"], n [""] }, limit.source);
    Ok(u)
}

/// Sway at the axle of a frame over its limit of height/n.
///
/// # Errors
/// [`Refusal::OutsideRange`] when the height is not above zero.
pub fn sway_utilisation<T: Trace>(trace: &mut T, sway_in: f64, height_in: f64, limit: Divisor) -> Result<f64, Refusal> {
    let h = within("height (in)", height_in, [1e-6, 1e9], OPEN_FRAMES)?;
    let (d, n) = (sway_in.abs(), limit.n);
    let u = d / (h / n);
    step!(trace, "sway over its limit", u [""] = "d/(h/n)", { d ["in"], h ["in"], n [""] }, limit.source);
    Ok(u)
}

/// Lets a structure through whose lowest frequency makes the gust factor of rigid structures hold.
///
/// # Errors
/// [`Refusal::OutsideRange`] below 1 Hz: the loads themselves are void.
pub fn rigid_enough(frequency_hz: f64) -> Result<f64, Refusal> {
    Ok(within("lowest frequency (Hz)", frequency_hz, [1.0, f64::MAX], RIGID)?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Silent;

    #[test]
    fn creep_counts_the_long_term_part_only() {
        assert_eq!(total_deflection(&mut Silent, 0.2, 0.3, false), 0.2 * 1.5 + 0.3);
        assert_eq!(total_deflection(&mut Silent, 0.2, 0.3, true), 0.7);
    }

    #[test]
    fn a_plane_corner_set_has_no_twist() {
        let (loosest, own) = (Divisor::twist(None), Divisor::twist(Some(60.0)));
        assert!(panel_twist(&mut Silent, [0.0, 0.1, 0.3, 0.2], 12.0, loosest).expect("in range") < 1e-12);
        assert!((panel_twist(&mut Silent, [0.1, 0.0, 0.0, 0.0], 24.0, loosest).expect("in range") - 0.5).abs() < 1e-12);
        assert!((panel_twist(&mut Silent, [0.1, 0.0, 0.0, 0.0], 24.0, own).expect("in range") - 0.25).abs() < 1e-12);
        let limit = Divisor::deflection(None, DeflectionCase::SnowOrWind);
        let u = deflection_utilisation(&mut Silent, 0.5, 60.0, true, limit).expect("in range");
        assert!((u - 0.75).abs() < 1e-12);
        assert!(rigid_enough(0.9).is_err() && rigid_enough(2.0).is_ok());
    }
}
