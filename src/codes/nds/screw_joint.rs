//! Screws that share the force of a joint.

use super::{
    Dowel, Duration, Temperature,
    connection::{Lateral, Moisture, adjusted_lateral, adjusted_withdrawal, wet_lateral, wet_withdrawal},
    dowel::Bearing,
    dowel_bearing, group, single_shear, withdrawal,
};
use crate::{
    catalogue::{
        Certainty, Screw, ScrewKind, Source, Trace, bolt,
        screws::{dowel_yield_psi, nail_yield_psi},
    },
    codes::{Refusal, asked::LBF_PER_N, within},
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
    /// Diameter of the head or of the washer under it (mm).
    pub head_mm: f64,
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
/// Least penetration: four diameters of a lag without its tip, six of other screws.
const PENETRATION: Source = Source::new("NDS-2018", "§§12.1.4.6, 12.1.5.6, 12.1.6.5", Certainty::Transcribed);
/// Flat heads are twice as wide as the shank: 0.385 of 0.190 in for #10.
const HEAD: Source = Source::new("ASME B18.6.1", "flat head, twice the shank", Certainty::Memory);
/// The hex head of a lag screw is that of a bolt of its size.
const LAG_HEAD: Source = Source::new("ASME B18.2.1", "hex head, across its flats", Certainty::Agreed);
/// The weaker of two ways to come out.
const WEAKER: Source = Source::new("NDS-2018", "§§12.2.1, 12.2.5", Certainty::Transcribed);

/// Nobody says how screws stand, so the row that shares worst is taken: all of them along the force, as close as Table
/// 12.5.1B gives their whole value, in the thinnest and softest wood that frames are made of.
const WORST_ROW: Source = Source::new(
    "judgement",
    "screws in one row along the force, 4 D apart, wood no stiffer than a 2x4",
    Certainty::Judgement,
);
/// Modulus of that wood (psi), below every row of the lumber catalogue.
const SOFT_PSI: f64 = 0.6e6;
/// That 2x4 (in).
const THIN_IN: [f64; 2] = [1.5, 3.5];
/// Modulus of a steel plate (psi), AISC 360-16.
const STEEL_PSI: f64 = 29.0e6;

/// Diameter of the head of a screw where the design names none (mm), see [`ScrewJoint::head_mm`].
#[must_use]
pub fn head_mm(screw: &Screw) -> f64 {
    let hex = match screw.kind {
        ScrewKind::Lag => bolt(screw.name.trim_start_matches("lag ")).ok(),
        _ => None,
    };
    hex.map_or(2.0 * screw.diameter_mm, |bolt| bolt.flats_mm)
}

/// Load across the grain (°).
const ACROSS_DEG: f64 = 90.0;

impl ScrewJoint {
    /// Force over the adjusted value of all screws; pull and push together by Hankinson. The thread is pulled out of the
    /// main piece, or the head through a wooden side piece, whichever is less. Spacing is "enough not to split" and is
    /// not checked here.
    ///
    /// # Errors
    /// Screws too short to count; wood screws and nails pulled out of end grain.
    ///
    /// # Source
    /// NDS-2018 §§12.1 to 12.4; the tables and a printed lag value in `tests/handbook/joints.rs`.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        let d = self.screw.diameter_mm / MM_PER_INCH;
        let root = self.screw.root_mm / MM_PER_INCH;
        let side_in = self.side_mm / MM_PER_INCH;
        let into = self.length_mm / MM_PER_INCH - side_in;
        let (tip, lag) = (self.screw.tip_mm / MM_PER_INCH, self.screw.kind == ScrewKind::Lag);
        let (least, counted) = if lag { (4.0 * d, into - tip) } else { (6.0 * d, into) };
        within("penetration of the screw (in)", counted, [least, f64::MAX], PENETRATION)?;
        // From 1/4 in on strength depends on the grain; the joint knows no angle, so the weaker way is taken: across it.
        let strength = dowel_bearing::wood(trace, self.specific_gravity, d, ACROSS_DEG);
        let fyb_psi = match self.screw.kind {
            ScrewKind::Lag => dowel_yield_psi(true, d),
            _ => nail_yield_psi(d)
                .ok_or_else(|| Refusal::not_held(format!("bending yield strength of {}", self.screw.name)))?,
        };
        let dowel = Dowel { nominal_in: d, diameter_in: root, fyb_psi };
        // Half of the tapered tip bears.
        let main = Bearing { length_in: into - tip / 2.0, strength_psi: strength };
        let side_psi = if self.steel_side { dowel_bearing::steel_psi(side_in) } else { strength };
        let side = Bearing { length_in: side_in, strength_psi: side_psi };
        let z = single_shear(trace, &dowel, main, side, ACROSS_DEG)?;
        let moisture = Moisture { wet_when_made: false, wet_in_service: self.wet };
        let c_g = self.shared(trace, d, side_in)?;
        let z_one = adjusted_lateral(
            trace,
            z.z_lb,
            &Lateral {
                duration: self.duration,
                c_m: wet_lateral(moisture, d, false),
                temperature: Temperature::Usual,
                wet: self.wet,
                c_g,
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
        let w_one = self.pulled_out(trace, [d, tip, into], moisture)?;
        let angle = pull.atan2(lateral).to_degrees();
        let z_alpha = withdrawal::combined(trace, self.screw.kind, w_one, z_one, angle);
        let force = pull.hypot(lateral);
        let u = force / (n * z_alpha);
        step!(trace, "force on the screws over their value", u [""] = "force/(n*z_alpha)", { force ["lb"], n [""], z_alpha ["lb"] }, USE);
        Ok(u)
    }

    /// Group action factor: 1 for one screw, and for screws thinner than 1/4 in.
    fn shared<T: Trace>(&self, trace: &mut T, d: f64, side_in: f64) -> Result<f64, Refusal> {
        if self.count < 2 || d < 0.25 {
            return Ok(1.0);
        }
        let ([b, h], e) = (THIN_IN, SOFT_PSI);
        let ea_m = e * b * h;
        step!(trace, "stiffness of the wood behind the screws", ea_m ["lb"] = "e*b*h", { e ["psi"], b ["in"], h ["in"] }, WORST_ROW);
        // A plate is at least as wide as the wood's edge; a side piece of wood is the same 2x4 on its flat.
        let (e, w) = if self.steel_side { (STEEL_PSI, b) } else { (SOFT_PSI, h) };
        let t = side_in;
        let ea_s = e * t * w;
        step!(trace, "stiffness of the piece under their heads", ea_s ["lb"] = "e*t*w", { e ["psi"], t ["in"], w ["in"] }, WORST_ROW);
        let row = group::Row {
            bolts: self.count,
            diameter_in: d,
            spacing_in: 4.0 * d,
            main_lb: ea_m,
            side_lb: ea_s,
            metal_sides: self.steel_side,
        };
        group::group_factor(trace, &row)
    }

    /// Allowable pull of one screw (lb).
    fn pulled_out<T: Trace>(
        &self,
        trace: &mut T,
        [d, tip, into]: [f64; 3],
        moisture: Moisture,
    ) -> Result<f64, Refusal> {
        let thread = self.screw.thread_length_mm(self.length_mm) / MM_PER_INCH;
        let thread = match self.screw.kind {
            ScrewKind::CommonNail => into,
            ScrewKind::Lag => (thread - tip).min(into - tip),
            // The tip is left out, on the safe side.
            ScrewKind::WoodScrew => thread.min(into) - tip,
        };
        let c_m = wet_withdrawal(moisture, self.screw.kind);
        let side_grain = withdrawal::withdrawal(trace, self.screw.kind, self.specific_gravity, d, thread)?;
        let w =
            if self.end_grain { withdrawal::from_end_grain(trace, self.screw.kind, side_grain)? } else { side_grain };
        let w_thread = adjusted_withdrawal(trace, w, self.duration, c_m, 1.0);
        if self.steel_side {
            return Ok(w_thread);
        }
        let (d_h, d_n) = (self.head_mm / MM_PER_INCH, d);
        if self.screw.kind == ScrewKind::Lag {
            let flats = d_h;
            step!(trace, "head of the lag screw", d_h["in"] = "flats", { flats["in"] }, LAG_HEAD);
        } else if (d_h - 2.0 * d_n).abs() < 1e-9 {
            step!(trace, "head of the screw", d_h["in"] = "2*d_n", { d_n["in"] }, HEAD);
        }
        let side_in = self.side_mm / MM_PER_INCH;
        let head = withdrawal::pull_through(trace, self.specific_gravity, d_h, side_in)?;
        let w_head = adjusted_withdrawal(trace, head, self.duration, c_m, 1.0);
        let w_one = w_thread.min(w_head);
        step!(trace, "allowable pull of one screw", w_one ["lb"] = "min(w_thread, w_head)", { w_thread ["lb"], w_head ["lb"] }, WEAKER);
        Ok(w_one)
    }
}
