//! Factors of connections, and the adjusted value of one fastener.

use super::factors::{self, Duration, Temperature};
use crate::catalogue::{Certainty, ScrewKind, Source, Trace};

/// Which factor multiplies which value.
pub const APPLICABILITY: Source = Source::new("NDS-2018", "Table 11.3.1", Certainty::Transcribed);
/// Wet service of connections.
pub const WET_SERVICE: Source = Source::new("NDS-2018", "Table 11.3.3", Certainty::Transcribed);

/// Moisture when the joint is made and in service.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Moisture {
    /// Above 19 % when the joint is made.
    pub wet_when_made: bool,
    /// Above 19 % in service for an extended time.
    pub wet_in_service: bool,
}

impl Moisture {
    /// Dry at both times.
    pub const DRY: Self = Self { wet_when_made: false, wet_in_service: false };
}

/// Wet service factor C_M of a dowel-type lateral connection.
///
/// `single_or_one_row`: one fastener, or one row along the grain, or separate splice plates; wood that dries does not
/// tear such a joint apart.
#[must_use]
pub fn wet_lateral(moisture: Moisture, diameter_in: f64, single_or_one_row: bool) -> f64 {
    match moisture {
        Moisture { wet_in_service: true, .. } => 0.7,
        Moisture { wet_when_made: false, .. } => 1.0,
        _ if single_or_one_row => 1.0,
        _ if diameter_in < 0.25 => 0.7,
        _ => 0.4,
    }
}

/// Wet service factor C_M of withdrawal.
#[must_use]
pub fn wet_withdrawal(moisture: Moisture, kind: ScrewKind) -> f64 {
    match (kind, moisture.wet_when_made, moisture.wet_in_service) {
        (ScrewKind::CommonNail, false, true) | (ScrewKind::CommonNail, true, false) => 0.25,
        (ScrewKind::CommonNail, _, _) => 1.0,
        (_, _, true) => 0.7,
        _ => 1.0,
    }
}

/// Factors of one lateral connection.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lateral {
    /// Shortest load.
    pub duration: Duration,
    /// Wet service factor, see [`wet_lateral`].
    pub c_m: f64,
    /// Temperature.
    pub temperature: Temperature,
    /// Is the service wet? It lowers the temperature factor.
    pub wet: bool,
    /// Group action factor.
    pub c_g: f64,
    /// Geometry factor.
    pub c_delta: f64,
    /// Driven into end grain: 0.67.
    pub end_grain: bool,
}

/// Adjusted lateral value Z′ (lb) of one fastener.
///
/// # Source
/// NDS-2018 Table 11.3.1: Z′ = Z C_D C_M C_t C_g C_Δ C_eg; C_D at most 1.6.
pub fn adjusted_lateral<T: Trace>(trace: &mut T, reference_lb: f64, joint: &Lateral) -> f64 {
    let z = reference_lb;
    let (c_d, c_m) = (joint.duration.connection_factor(), joint.c_m);
    let c_t = factors::connection_temperature(joint.temperature, joint.wet);
    let (c_g, c_delta) = (joint.c_g, joint.c_delta);
    let c_eg = if joint.end_grain { 0.67 } else { 1.0 };
    let z_adjusted = z * c_d * c_m * c_t * c_g * c_delta * c_eg;
    step!(trace, "adjusted lateral value of one fastener", z_adjusted ["lb"] = "z*c_d*c_m*c_t*c_g*c_delta*c_eg",
        { z ["lb"], c_d [""], c_m [""], c_t [""], c_g [""], c_delta [""], c_eg [""] }, APPLICABILITY);
    z_adjusted
}

/// Adjusted withdrawal value W′ (lb) of one screw or nail in side grain.
pub fn adjusted_withdrawal<T: Trace>(
    trace: &mut T,
    reference_lb: f64,
    duration: Duration,
    wet_factor: f64,
    temperature_factor: f64,
) -> f64 {
    let (w, c_d, c_m, c_t) = (reference_lb, duration.connection_factor(), wet_factor, temperature_factor);
    let w_adjusted = w * c_d * c_m * c_t;
    step!(trace, "adjusted withdrawal value of one fastener", w_adjusted ["lb"] = "w*c_d*c_m*c_t",
        { w ["lb"], c_d [""], c_m [""], c_t [""] }, APPLICABILITY);
    w_adjusted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_single_pivot_bolt_keeps_its_value_as_it_dries() {
        // NDS-2018 Table 11.3.3.
        let drying = Moisture { wet_when_made: true, wet_in_service: false };
        let wet = Moisture { wet_when_made: false, wet_in_service: true };
        assert_eq!(wet_lateral(drying, 0.5, true), 1.0);
        assert_eq!(wet_lateral(drying, 0.5, false), 0.4);
        assert_eq!(wet_lateral(drying, 0.164, false), 0.7);
        assert_eq!(wet_lateral(wet, 0.5, true), 0.7);
        assert_eq!(wet_withdrawal(wet, ScrewKind::Lag), 0.7);
        assert_eq!(wet_withdrawal(drying, ScrewKind::Lag), 1.0);
        assert_eq!(wet_withdrawal(drying, ScrewKind::CommonNail), 0.25);
        let soaked = Moisture { wet_when_made: true, wet_in_service: true };
        assert_eq!(wet_withdrawal(soaked, ScrewKind::CommonNail), 1.0);
        assert_eq!(wet_lateral(Moisture::DRY, 0.5, false), 1.0);
    }
}
