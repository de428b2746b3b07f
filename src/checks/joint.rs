//! A bolt through two or three members (hinge, axle, stay pin), and screws that hold one member on another, in newtons
//! and millimetres.

use super::{
    Refusal,
    aisc360::{self, OMEGA_RUPTURE, Steel},
    nds::{
        Dowel, Duration, Temperature,
        connection::{self, Lateral, Moisture},
        dowel::{Bearing, Yield},
        dowel_bearing, factors, gap,
        geometry::{self, GrainLoad, Placing},
        withdrawal,
    },
    within,
};
use crate::{
    catalogue::{Bolt, BoltGrade, Certainty, Screw, ScrewKind, Source, Trace, screws},
    quantities::{MM_PER_INCH, N_PER_LBF},
};

/// Least penetration of lags, screws and nails.
pub const PENETRATION: Source = Source::new("NDS-2018", "§§12.1.4.6, 12.1.5.6, 12.1.6.5", Certainty::Transcribed);

/// Screws or nails that hold a clip, cleat or board on a wooden member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screwed<'a> {
    /// Screw size.
    pub screw: &'a Screw,
    /// Length under the head (mm).
    pub length_mm: f64,
    /// Number of screws that share the force.
    pub count: u32,
    /// Thickness of what they hold (mm).
    pub side_mm: f64,
    /// Specific gravity of a wooden side member, none for steel.
    pub side_gravity: Option<f64>,
    /// Specific gravity of the main member.
    pub main_gravity: f64,
    /// Load-to-grain angle, the larger of both members (deg).
    pub angle_deg: f64,
    /// Diameter of the head or its washer (mm).
    pub head_mm: f64,
    /// Shortest load.
    pub duration: Duration,
    /// Moisture when made and in service.
    pub moisture: Moisture,
    /// Hottest sustained temperature.
    pub temperature: Temperature,
}

/// Utilisation of a group of screws that are pulled (N) and pushed aside (N) together.
///
/// The thread in the main member is pulled out, or the head is pulled through a wooden side member, whichever is less;
/// the pull and the push then join by the combined equation. Spacing is "enough not to split" and is not checked here.
///
/// # Errors
/// [`Refusal::OutsideRange`] for gravities, diameters or a penetration (4 D lag without its tip, 6 D others) out of range.
///
/// # Source
/// NDS-2018 §§12.1 to 12.4.
pub fn screwed<T: Trace>(trace: &mut T, joint: &Screwed<'_>, pull_n: f64, push_n: f64) -> Result<f64, Refusal> {
    let inch = |mm: f64| mm / MM_PER_INCH;
    let (d, tip) = (inch(joint.screw.diameter_mm), inch(joint.screw.tip_mm));
    let penetration = inch(joint.length_mm - joint.side_mm);
    let lag = joint.screw.kind == ScrewKind::Lag;
    let (least, counted) = if lag { (4.0 * d, penetration - tip) } else { (6.0 * d, penetration) };
    within("penetration in the main member (in)", counted, [least, f64::MAX], PENETRATION)?;
    let wet = joint.moisture.wet_in_service;
    let c_t = factors::connection_temperature(joint.temperature, wet);
    let thread = match joint.screw.kind {
        ScrewKind::CommonNail => penetration,
        ScrewKind::Lag => (inch(joint.screw.thread_length_mm(joint.length_mm)) - tip).min(penetration - tip),
        ScrewKind::WoodScrew => inch(joint.screw.thread_length_mm(joint.length_mm)).min(penetration),
    };
    let w = withdrawal::withdrawal(trace, joint.screw.kind, joint.main_gravity, d, thread)?;
    let c_m = connection::wet_withdrawal(joint.moisture, joint.screw.kind);
    let mut w_allowed = connection::adjusted_withdrawal(trace, w, joint.duration, c_m, c_t);
    if let Some(gravity) = joint.side_gravity {
        let head = withdrawal::pull_through(trace, gravity, inch(joint.head_mm), inch(joint.side_mm))?;
        w_allowed = w_allowed.min(connection::adjusted_withdrawal(trace, head, joint.duration, c_m, c_t));
    }
    let z_allowed = screw_lateral(trace, joint, [d, tip, penetration], lag)?;
    let (pull, push) = (pull_n.max(0.0) / N_PER_LBF, push_n.abs() / N_PER_LBF);
    let together = pull.hypot(push);
    if together == 0.0 {
        return Ok(0.0);
    }
    let angle_deg = pull.atan2(push).to_degrees();
    let one = withdrawal::combined(trace, joint.screw.kind, w_allowed, z_allowed, angle_deg);
    Ok(together / f64::from(joint.count.max(1)) / one)
}

fn screw_lateral<T: Trace>(
    trace: &mut T,
    joint: &Screwed<'_>,
    [d, tip, penetration]: [f64; 3],
    lag: bool,
) -> Result<f64, Refusal> {
    let fyb_psi = if lag { Some(screws::dowel_yield_psi(true, d)) } else { screws::nail_yield_psi(d) };
    let fyb_psi = fyb_psi.ok_or_else(|| Refusal::not_held(format!("bending yield strength of a {d} in screw")))?;
    let dowel = Dowel { nominal_in: d, diameter_in: joint.screw.root_mm / MM_PER_INCH, fyb_psi };
    let side_in = joint.side_mm / MM_PER_INCH;
    let main = Bearing {
        length_in: penetration - tip / 2.0,
        strength_psi: dowel_bearing::wood(trace, joint.main_gravity, d, joint.angle_deg),
    };
    let side = Bearing {
        length_in: side_in,
        strength_psi: match joint.side_gravity {
            Some(gravity) => dowel_bearing::wood(trace, gravity, d, joint.angle_deg),
            None => dowel_bearing::steel_psi(side_in),
        },
    };
    let angle = if d < 0.25 { 0.0 } else { joint.angle_deg };
    let z = super::nds::single_shear(trace, &dowel, main, side, angle)?.z_lb;
    // The yield equations take the real penetration, so the table's reduction for short screws does not come on top.
    let lateral = Lateral {
        duration: joint.duration,
        c_m: connection::wet_lateral(joint.moisture, d, joint.count <= 1),
        temperature: joint.temperature,
        wet: joint.moisture.wet_in_service,
        c_g: 1.0,
        c_delta: 1.0,
        end_grain: false,
    };
    Ok(connection::adjusted_lateral(trace, z, &lateral))
}

/// One member that the bolt goes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ply {
    /// Sawn wood.
    Wood {
        /// Thickness along the bolt (mm).
        thickness_mm: f64,
        /// Specific gravity.
        gravity: f64,
        /// Force against the grain.
        load: GrainLoad,
        /// End of the member along the grain, or the next hole (mm).
        end_mm: f64,
        /// Edge that the force presses towards (mm).
        loaded_edge_mm: f64,
        /// The other edge (mm).
        unloaded_edge_mm: f64,
    },
    /// Steel plate, angle leg or tube wall.
    Steel {
        /// Thickness along the bolt (mm).
        thickness_mm: f64,
        /// Steel.
        steel: Steel,
        /// Centre of the hole to the edge in the direction of the force (mm).
        edge_mm: f64,
        /// Diameter of the hole (mm).
        hole_mm: f64,
    },
}

impl Ply {
    fn thickness_in(&self) -> f64 {
        match self {
            Self::Wood { thickness_mm, .. } | Self::Steel { thickness_mm, .. } => thickness_mm / MM_PER_INCH,
        }
    }

    fn angle_deg(&self) -> f64 {
        match self {
            Self::Wood { load, .. } => load.angle_deg,
            Self::Steel { .. } => 0.0,
        }
    }
}

/// A joint of one bolt.
#[derive(Debug, Clone, Copy)]
pub struct PinJoint<'a> {
    /// Bolt size.
    pub bolt: &'a Bolt,
    /// Bolt steel.
    pub grade: &'a BoltGrade,
    /// Main member: the middle one in double shear.
    pub main: Ply,
    /// Side member, one of two like ones in double shear.
    pub side: Ply,
    /// Two side members?
    pub double: bool,
    /// Spacer or air between neighbours (mm).
    pub gap_mm: f64,
    /// Threads bear over more than a quarter of a member's thickness.
    pub threads_bear: bool,
    /// Shortest load.
    pub duration: Duration,
    /// Moisture when made and in service.
    pub moisture: Moisture,
    /// Hottest sustained temperature.
    pub temperature: Temperature,
}

/// Utilisation of a joint of one bolt under a force across it (N): wood by yield modes and distances, steel plies by
/// bearing and tear-out, the bolt itself by shear, the largest of them.
///
/// # Errors
/// [`Refusal::TooClose`] when a distance is below the least allowed; [`Refusal::OutsideRange`] outside the tables.
///
/// # Source
/// NDS-2018 ch. 11 and 12, with the gap equations of [`gap`]; AISC 360-16 J3.
pub fn pin_joint<T: Trace>(trace: &mut T, joint: &PinJoint<'_>, force_n: f64) -> Result<f64, Refusal> {
    let force_lb = force_n.abs() / N_PER_LBF;
    let d = joint.bolt.diameter_mm / MM_PER_INCH;
    let mut most: f64 = 0.0;
    if [joint.main, joint.side].iter().any(|ply| matches!(ply, Ply::Wood { .. })) {
        most = most.max(force_lb / wood_value(trace, joint, d)?);
    }
    let planes = if joint.double { 2 } else { 1 };
    let shear_kip = aisc360::bolts::available_shear(trace, joint.grade, d, planes)?;
    most = most.max(force_lb / 1000.0 / shear_kip);
    for (ply, share) in [(&joint.main, 1.0), (&joint.side, 1.0 / f64::from(planes))] {
        let Ply::Steel { thickness_mm, steel, edge_mm, hole_mm } = ply else { continue };
        aisc360::bolts::check_distances(d, edge_mm / MM_PER_INCH, None)?;
        let clear_in = (edge_mm - hole_mm / 2.0) / MM_PER_INCH;
        let r_n = aisc360::bolts::nominal_bearing(trace, steel, d, thickness_mm / MM_PER_INCH, clear_in);
        most = most.max(share * force_lb / 1000.0 / (r_n / OMEGA_RUPTURE));
    }
    Ok(most)
}

/// Adjusted lateral value (lb) of the joint's bolt in its wooden plies.
fn wood_value<T: Trace>(trace: &mut T, joint: &PinJoint<'_>, d: f64) -> Result<f64, Refusal> {
    let slender =
        (joint.main.thickness_in() / d).min(joint.side.thickness_in() * if joint.double { 2.0 } else { 1.0 } / d);
    let mut c_delta: f64 = 1.0;
    for ply in [&joint.main, &joint.side] {
        c_delta = c_delta.min(distances(trace, ply, d, slender)?);
    }
    let yielded = yield_value(trace, joint, d)?;
    let wet = joint.moisture.wet_in_service;
    let lateral = Lateral {
        duration: joint.duration,
        c_m: connection::wet_lateral(joint.moisture, d, true),
        temperature: joint.temperature,
        wet,
        c_g: 1.0,
        c_delta,
        end_grain: false,
    };
    Ok(connection::adjusted_lateral(trace, yielded.z_lb, &lateral))
}

fn distances<T: Trace>(trace: &mut T, ply: &Ply, diameter_in: f64, length_to_diameter: f64) -> Result<f64, Refusal> {
    let Ply::Wood { load, end_mm, loaded_edge_mm, unloaded_edge_mm, .. } = ply else { return Ok(1.0) };
    let placing = Placing {
        diameter_in,
        end_in: end_mm / MM_PER_INCH,
        loaded_edge_in: loaded_edge_mm / MM_PER_INCH,
        unloaded_edge_in: unloaded_edge_mm / MM_PER_INCH,
        spacing_in: None,
        row_spacing_in: None,
        length_to_diameter,
    };
    geometry::geometry_factor(trace, &placing, load)
}

fn yield_value<T: Trace>(trace: &mut T, joint: &PinJoint<'_>, nominal_in: f64) -> Result<Yield, Refusal> {
    let root_in = joint.bolt.root_mm / MM_PER_INCH;
    let dowel = Dowel {
        nominal_in,
        diameter_in: if joint.threads_bear { root_in } else { nominal_in },
        fyb_psi: crate::catalogue::screws::dowel_yield_psi(false, nominal_in),
    };
    let mut bearing = |ply: &Ply| Bearing {
        length_in: ply.thickness_in(),
        strength_psi: match ply {
            Ply::Wood { gravity, load, .. } => dowel_bearing::wood(trace, *gravity, nominal_in, load.angle_deg),
            Ply::Steel { thickness_mm, .. } => dowel_bearing::steel_psi(thickness_mm / MM_PER_INCH),
        },
    };
    let (main, side) = (bearing(&joint.main), bearing(&joint.side));
    let angle = joint.main.angle_deg().max(joint.side.angle_deg());
    let gap_in = joint.gap_mm / MM_PER_INCH;
    match (joint.gap_mm > 0.0, joint.double) {
        (false, false) => super::nds::single_shear(trace, &dowel, main, side, angle),
        (false, true) => super::nds::double_shear(trace, &dowel, main, side, angle),
        (true, false) => gap::single_shear(trace, &dowel, main, side, gap_in, angle),
        (true, true) => gap::double_shear(trace, &dowel, main, side, gap_in, angle),
    }
}
