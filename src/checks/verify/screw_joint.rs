//! Screws that share the force of a joint.

use super::wood_member::LBF_PER_N;
use crate::{
    catalogue::{
        Certainty, Screw, ScrewKind, Source, Trace,
        screws::{dowel_yield_psi, nail_yield_psi},
    },
    checks::{
        Refusal,
        nds::{
            Dowel, Duration, Temperature,
            connection::{Lateral, Moisture, adjusted_lateral, adjusted_withdrawal, wet_lateral, wet_withdrawal},
            dowel::Bearing,
            dowel_bearing, single_shear, withdrawal,
        },
    },
    quantities::MM_PER_INCH,
};

/// Screws from a side piece into a main piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScrewJoint {
    /// Screw.
    pub screw: &'static Screw,
    /// Length (mm).
    pub length_mm: f64,
    /// Screws that share the force.
    pub count: u32,
    /// Thickness of the side piece (mm).
    pub side_mm: f64,
    /// Is the side piece a steel plate?
    pub steel_side: bool,
    /// Specific gravity of the wood.
    pub specific_gravity: f64,
    /// Driven into end grain.
    pub end_grain: bool,
    /// Wet in service.
    pub wet: bool,
    /// Shortest load.
    pub duration: Duration,
    /// Force across the screws (N).
    pub lateral_n: f64,
    /// Force that pulls them out (N).
    pub pull_n: f64,
}

/// Force over value.
const USE: Source = Source::new("NDS-2018", "§11.3", Certainty::Transcribed);
/// Least penetration.
const PENETRATION: Source = Source::new("NDS-2018", "§12.1.5, §12.1.6", Certainty::Transcribed);

/// Load across the grain (°).
const ACROSS_DEG: f64 = 90.0;

impl ScrewJoint {
    /// Force over the adjusted value of all screws; pull and push together by Hankinson.
    ///
    /// # Errors
    /// Screws too short to count; wood screws and nails pulled out of end grain.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let d = self.screw.diameter_mm / MM_PER_INCH;
        let root = self.screw.root_mm / MM_PER_INCH;
        let side_in = self.side_mm / MM_PER_INCH;
        let into = self.length_mm / MM_PER_INCH - side_in;
        let least = 6.0 * d;
        crate::checks::within("penetration of the screw (in)", into, [least, f64::MAX], PENETRATION)?;
        // From 1/4 in on strength depends on the grain; the joint knows no angle, so the weaker way is taken: across it.
        let strength = dowel_bearing::wood(trace, self.specific_gravity, d, ACROSS_DEG);
        let fyb_psi = match self.screw.kind {
            ScrewKind::Lag => dowel_yield_psi(true, d),
            _ => nail_yield_psi(d)
                .ok_or_else(|| Refusal::not_held(format!("bending yield strength of {}", self.screw.name)))?,
        };
        let dowel = Dowel { nominal_in: d, diameter_in: root, fyb_psi };
        // The tip does not count beyond ten diameters of penetration, nor need more be there.
        let main = Bearing { length_in: into.min(10.0 * d), strength_psi: strength };
        let side_psi = if self.steel_side { dowel_bearing::steel_psi(side_in) } else { strength };
        let side = Bearing { length_in: side_in, strength_psi: side_psi };
        let z = single_shear(trace, &dowel, main, side, ACROSS_DEG)?;
        let moisture = Moisture { wet_when_made: false, wet_in_service: self.wet };
        let z_one = adjusted_lateral(
            trace,
            z.z_lb,
            &Lateral {
                duration: self.duration,
                c_m: wet_lateral(moisture, d, false),
                temperature: Temperature::Usual,
                wet: self.wet,
                c_g: 1.0,
                c_delta: 1.0,
                end_grain: self.end_grain,
            },
        );
        let n = f64::from(self.count);
        let (lateral, pull) = (self.lateral_n.abs() * LBF_PER_N, self.pull_n.max(0.0) * LBF_PER_N);
        if pull == 0.0 {
            let u = lateral / (n * z_one);
            step!(trace, "force across the screws over their value", u [""] = "lateral/(n*z_one)", { lateral ["lb"], n [""], z_one ["lb"] }, USE);
            return Ok(u);
        }
        let thread =
            (self.screw.thread_length_mm(self.length_mm) / MM_PER_INCH).min(into) - self.screw.tip_mm / MM_PER_INCH;
        let side_grain = withdrawal::withdrawal(trace, self.screw.kind, self.specific_gravity, d, thread)?;
        let w =
            if self.end_grain { withdrawal::from_end_grain(trace, self.screw.kind, side_grain)? } else { side_grain };
        let w_one = adjusted_withdrawal(trace, w, self.duration, wet_withdrawal(moisture, self.screw.kind), 1.0);
        let angle = pull.atan2(lateral).to_degrees();
        let z_alpha = withdrawal::combined(trace, self.screw.kind, w_one, z_one, angle);
        let force = pull.hypot(lateral);
        let u = force / (n * z_alpha);
        step!(trace, "force on the screws over their value", u [""] = "force/(n*z_alpha)", { force ["lb"], n [""], z_alpha ["lb"] }, USE);
        Ok(u)
    }
}
