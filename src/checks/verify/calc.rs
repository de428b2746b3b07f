//! One calculation with all its numbers, so that it can be run again and written out.

use super::{
    dowel_joint::DowelJoint,
    screw_joint::ScrewJoint,
    steel_member::{PinPlace, SteelMember, aluminium_yield},
    wood_member::{Forces, HoleHere, INLB_PER_NMM, LBF_PER_N, WoodMember},
};
use crate::{
    catalogue::{Certainty, Metal, Section, Source, Trace},
    codes::{
        Refusal, aisc360,
        ibc::{
            ballast, bearing as soil_bearing, below_grade, concrete, embedment,
            serviceability::{self, Divisor},
            stakes, ties, uplift,
        },
        nds::{Duration, bearing, net_section},
    },
    quantities::MM_PER_INCH,
};

/// Millimetres in a foot.
pub(super) const MM_PER_FT: f64 = 12.0 * MM_PER_INCH;
/// Foot-pounds in one newton millimetre.
pub(super) const FTLB_PER_NMM: f64 = INLB_PER_NMM / 12.0;

/// Rated load of a panel.
const RATED: Source = Source::new("panel data sheet", "design load", Certainty::Read);
/// Simple beam.
const STATICS: Source = Source::new("statics", "simple span, uniform load", Certainty::Derived);
/// Frost.
const FROST: Source = Source::new("IBC 2018", "§1809.5", Certainty::Transcribed);

/// A calculation.
#[derive(Debug, Clone, PartialEq)]
pub enum Calc {
    /// Wood: bending with axial force, at a hole or not.
    Wood(WoodMember, Duration, Forces, Option<HoleHere>),
    /// Wood: shear, at a hole or not.
    WoodShear(WoodMember, Duration, Forces, Option<HoleHere>),
    /// Wood: twist.
    WoodTwist(WoodMember, Duration, Forces),
    /// Wood: shear at a bolt; effective depth and distance from the end (mm).
    WoodHung(WoodMember, Duration, f64, [f64; 2]),
    /// Wood: tear-out towards the end or the next hole; force (N), wood left (mm).
    TearOut(WoodMember, Duration, f64, f64),
    /// Steel: bending with axial force, at a hole or not.
    Steel(SteelMember, Forces, Option<HoleHere>),
    /// Steel: shear.
    SteelShear(SteelMember, Forces),
    /// Steel: twist.
    SteelTwist(SteelMember, Forces),
    /// Steel: block shear under a pull (N).
    BlockShear(SteelMember, f64, PinPlace),
    /// Aluminium: first yield.
    Aluminium(&'static Section, &'static Metal, Forces),
    /// A steel angle as a stay with one bolt at each end; force, compression positive (N).
    AngleStay(SteelMember, aisc360::angle_stay::AngleStay, f64),
    /// A bolt in wood.
    Dowel(DowelJoint),
    /// Screws.
    Screws(ScrewJoint),
    /// Wood across the grain: force (N), length and width of the area (mm).
    Across(WoodMember, Duration, f64, [f64; 2]),
    /// Pressure on a panel (Pa) against its rated value (Pa).
    Rated(f64, f64),
    /// A wooden purlin as simple spans: pressure (Pa), strip (mm), span (mm).
    Purlin(WoodMember, Duration, [f64; 3]),
    /// A steel purlin likewise.
    SteelPurlin(SteelMember, [f64; 3]),
    /// A wood post below the ground.
    Below(WoodMember, Duration, GradeForces, f64),
    /// A steel post below the ground.
    SteelBelow(SteelMember, GradeForces, f64),
    /// Depth needed over depth given (mm).
    Embedded(embedment::Post, f64),
    /// Foot pressure: load (N) on a round foot (mm), allowed (psf).
    Foot(f64, f64, f64),
    /// Pressure under a runner: load (N) and its moment about the middle (N·mm), length and width (mm), allowed (psf).
    Runner([f64; 2], [f64; 2], f64),
    /// Uplift (N) against a concrete foot: diameter, depth (mm), post area (mm²).
    Lifted(f64, [f64; 3]),
    /// Frost depth over foot depth (mm).
    Frost(f64, f64),
    /// Ballasted frame.
    Ballasted(ballast::Ballasted, ballast::Rule, Stability),
    /// Stakes of one runner, pushed sideways.
    Staked(Staked),
    /// A stake pulled (N), and what one held in a pull test (N).
    StakePulled(f64, f64),
    /// A bracket pulled and pushed sideways (N), and its two rated forces (N).
    Bracket([f64; 2], [f64; 2]),
    /// Deflection: long-term, short-term, span (mm), wet, limit.
    Sag([f64; 3], bool, Divisor),
    /// Twist: corner movements, shorter side (mm), limit.
    Twisted([f64; 4], f64, Divisor),
    /// Sway, height (mm), limit.
    Swayed(f64, f64, Divisor),
    /// Frequency (Hz).
    Rigid(f64),
}

/// Which of the three ways a ballasted frame fails.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stability {
    /// It slides.
    Sliding,
    /// It tips over.
    Overturning,
    /// It lifts.
    Uplift,
}

/// Stakes that share the sideways force of a runner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Staked {
    /// Force (N).
    pub force_n: f64,
    /// Stakes.
    pub count: u32,
    /// Width of one (mm).
    pub width_mm: f64,
    /// Depth in the ground (mm).
    pub depth_mm: f64,
    /// Loose soil at the top (mm).
    pub loose_mm: f64,
    /// Height of the force above the ground (mm).
    pub height_mm: f64,
    /// Lateral bearing of the soil (psf/ft).
    pub lateral_psf_per_ft: f64,
}

/// Forces of a post at the ground.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct GradeForces {
    /// Along the swing: force and moment (N, N·mm), of one sign when a force above ground makes the moment.
    pub swing: [f64; 2],
    /// Across: force and moment.
    pub across: [f64; 2],
    /// Axial, tension positive (N).
    pub axial_n: f64,
}

impl Calc {
    /// What this calculation leaves open, so that its value alone is no result.
    #[must_use]
    pub fn caveat(&self) -> Option<&'static str> {
        match self {
            Self::Aluminium(..) => {
                Some("first yield alone: buckling of aluminium is not held, nor strength near a weld")
            }
            _ => None,
        }
    }

    /// The utilisation: demand over what is allowed.
    ///
    /// # Errors
    /// An equation outside its range, or one that is not held.
    pub fn utilisation<T: Trace>(&self, trace: &mut T) -> Result<f64, Refusal> {
        match self {
            Self::Wood(member, duration, forces, hole) => {
                let strengths = member.strengths(trace, *duration)?;
                member.combined(trace, &strengths, forces, *hole)
            }
            Self::WoodShear(member, duration, forces, hole) => {
                let strengths = member.strengths(trace, *duration)?;
                Ok(member.sheared(trace, &strengths, forces, *hole))
            }
            Self::WoodTwist(member, duration, forces) => {
                let strengths = member.strengths(trace, *duration)?;
                Ok(member.twisted(trace, &strengths, forces))
            }
            Self::WoodHung(member, duration, shear_n, [effective, from_end]) => {
                let strengths = member.strengths(trace, *duration)?;
                member.hung(trace, &strengths, *shear_n, *effective, *from_end)
            }
            Self::TearOut(member, duration, force_n, left_mm) => tear_out(trace, member, *duration, *force_n, *left_mm),
            Self::Steel(member, forces, hole) => member.combined(trace, forces, *hole),
            Self::SteelShear(member, forces) => member.sheared(trace, forces),
            Self::SteelTwist(member, forces) => member.twisted(trace, forces),
            Self::BlockShear(member, pull_n, pin) => member.block_shear(trace, *pull_n, *pin),
            Self::Aluminium(section, alloy, forces) => aluminium_yield(trace, section, alloy, forces),
            Self::AngleStay(member, stay, force_n) => {
                let (profile, steel) = member.parts()?;
                aisc360::angle_stay::utilisation(trace, &profile, &steel, stay, force_n * LBF_PER_N / 1000.0)
            }
            Self::Dowel(joint) => joint.utilisation(trace),
            Self::Screws(joint) => joint.utilisation(trace),
            Self::Across(member, duration, force_n, area) => across(trace, member, *duration, *force_n, *area),
            Self::Rated(pressure, rated) => {
                let (p, p_rated) = (*pressure, *rated);
                let u = p / p_rated;
                step!(trace, "pressure over the panel's design load", u [""] = "p/p_rated", { p ["Pa"], p_rated ["Pa"] }, RATED);
                Ok(u)
            }
            Self::Purlin(member, duration, strip) => {
                let forces = simple_span(trace, *strip);
                let strengths = member.strengths(trace, *duration)?;
                member.combined(trace, &strengths, &forces, None)
            }
            Self::SteelPurlin(member, strip) => {
                let forces = simple_span(trace, *strip);
                member.combined(trace, &forces, None)
            }
            Self::Below(member, duration, grade, depth_mm) => {
                let forces = grade.below(trace, *depth_mm)?;
                let strengths = member.strengths(trace, *duration)?;
                member.combined(trace, &strengths, &forces, None)
            }
            Self::SteelBelow(member, grade, depth_mm) => {
                let forces = grade.below(trace, *depth_mm)?;
                member.combined(trace, &forces, None)
            }
            Self::Embedded(post, depth_mm) => {
                let d_needed = embedment::required_depth(trace, post)?;
                let d_given = depth_mm / MM_PER_FT;
                let u = d_needed / d_given;
                step!(trace, "embedment needed over embedment given", u [""] = "d_needed/d_given", { d_needed ["ft"], d_given ["ft"] }, embedment::NON_CONSTRAINED);
                Ok(u)
            }
            Self::Foot(load_n, diameter_mm, allowed_psf) => {
                let q = soil_bearing::round_pressure(trace, load_n * LBF_PER_N, diameter_mm / MM_PER_FT)?;
                Ok(pressed(trace, q, *allowed_psf))
            }
            Self::Runner([load_n, moment], size, allowed_psf) => {
                let [l, w] = size.map(|mm| mm / MM_PER_FT);
                let q = soil_bearing::pad_pressure(trace, load_n * LBF_PER_N, moment * FTLB_PER_NMM, l, w)?;
                Ok(pressed(trace, q, *allowed_psf))
            }
            Self::Lifted(lift_n, [diameter, depth, post]) => {
                let area = post / MM_PER_INCH / MM_PER_INCH;
                let (b, d) = (diameter / MM_PER_FT, depth / MM_PER_FT);
                let volume = concrete::round_volume(trace, b, d, area, d)?;
                let weight = concrete::weight(trace, volume);
                let held = uplift::held_uplift(trace, weight, 0.0, [b, d], None)?;
                let lift = lift_n * LBF_PER_N;
                let u = lift / held;
                step!(trace, "uplift over what holds it", u [""] = "lift/held", { lift ["lb"], held ["lb"] }, uplift::WEIGHT);
                Ok(u)
            }
            Self::Frost(frost_mm, depth_mm) => {
                let (d_frost, d_foot) = (frost_mm / MM_PER_FT, depth_mm / MM_PER_FT);
                let u = d_frost / d_foot;
                step!(trace, "frost depth over depth of the foot", u [""] = "d_frost/d_foot", { d_frost ["ft"], d_foot ["ft"] }, FROST);
                Ok(u)
            }
            Self::Ballasted(frame, rule, way) => {
                let stability = ballast::under_rule(trace, frame, 1, *rule)?;
                Ok(match way {
                    Stability::Sliding => stability.sliding,
                    Stability::Overturning => stability.overturning,
                    Stability::Uplift => stability.uplift,
                })
            }
            Self::Staked(staked) => {
                let size = [staked.width_mm / MM_PER_FT, staked.depth_mm / MM_PER_FT];
                let (height, loose) = (staked.height_mm / MM_PER_FT, staked.loose_mm / MM_PER_FT);
                let p = stakes::lateral_force(trace, size, height, loose, staked.lateral_psf_per_ft)?;
                let (force, n) = (staked.force_n * LBF_PER_N, f64::from(staked.count));
                let u = force / (n * p);
                step!(trace, "sideways force over that of all stakes", u [""] = "force/(n*p)", { force ["lb"], n [""], p ["lb"] }, stakes::STAKE);
                Ok(u)
            }
            Self::StakePulled(pull_n, test_n) => stakes::pulled(trace, pull_n * LBF_PER_N, test_n * LBF_PER_N),
            Self::Bracket(forces, rated) => {
                ties::bracket(trace, forces.map(|f| f * LBF_PER_N), rated.map(|f| f * LBF_PER_N))
            }
            Self::Sag([long, short, span], wet, limit) => {
                let inch = |mm: f64| mm / MM_PER_INCH;
                let total = serviceability::total_deflection(trace, inch(*long), inch(*short), *wet);
                serviceability::deflection_utilisation(trace, total, inch(*span), false, *limit)
            }
            Self::Twisted(corners, side, limit) => {
                serviceability::panel_twist(trace, corners.map(|c| c / MM_PER_INCH), side / MM_PER_INCH, *limit)
            }
            Self::Swayed(sway, height, limit) => {
                serviceability::sway_utilisation(trace, sway / MM_PER_INCH, height / MM_PER_INCH, *limit)
            }
            Self::Rigid(frequency) => {
                let f = serviceability::rigid_enough(*frequency)?;
                let u = 1.0 / f;
                step!(trace, "1 Hz over the lowest frequency", u[""] = "1/f", { f["Hz"] }, serviceability::RIGID);
                Ok(u)
            }
        }
    }
}

impl GradeForces {
    /// Force (N) and moment (N·mm) of both directions together: the hole is round, so the resultant counts.
    pub(super) fn resultant(&self) -> [f64; 2] {
        [0, 1].map(|k| self.swing[k].hypot(self.across[k]))
    }

    /// Forces where the post bends most below the ground.
    fn below<T: Trace>(&self, trace: &mut T, depth_mm: f64) -> Result<Forces, Refusal> {
        let d = depth_mm / MM_PER_FT;
        let swing = below_grade::peak(trace, self.swing[0] * LBF_PER_N, self.swing[1] * FTLB_PER_NMM, d)?;
        let across = below_grade::peak(trace, self.across[0] * LBF_PER_N, self.across[1] * FTLB_PER_NMM, d)?;
        Ok(Forces {
            axial_n: self.axial_n,
            strong_nmm: swing.moment_ft_lb / FTLB_PER_NMM,
            weak_nmm: across.moment_ft_lb / FTLB_PER_NMM,
            ..Forces::default()
        })
    }
}

/// Pressure on the ground (psf) over what its class allows.
fn pressed<T: Trace>(trace: &mut T, q: f64, q_allowed: f64) -> f64 {
    let u = q / q_allowed;
    step!(trace, "bearing pressure over its allowable value", u [""] = "q/q_allowed", { q ["psf"], q_allowed ["psf"] }, crate::catalogue::soils::PRESUMPTIVE);
    u
}

/// A strip of pressure on a purlin that lies flat: pressure (Pa), strip (mm), span (mm).
fn simple_span<T: Trace>(trace: &mut T, [pressure, strip, span]: [f64; 3]) -> Forces {
    let (p, b, l) = (pressure / crate::quantities::PA_PER_PSF / 144.0, strip / MM_PER_INCH, span / MM_PER_INCH);
    let m = p * b * l * l / 8.0;
    step!(trace, "moment of a simple span", m ["in lb"] = "p*b*l^2/8", { p ["psi"], b ["in"], l ["in"] }, STATICS);
    Forces { weak_nmm: m / INLB_PER_NMM, ..Forces::default() }
}

fn tear_out<T: Trace>(
    trace: &mut T,
    member: &WoodMember,
    duration: Duration,
    force_n: f64,
    left_mm: f64,
) -> Result<f64, Refusal> {
    let strengths = member.strengths(trace, duration)?;
    let fv = WoodMember::shear_psi(&strengths);
    let z_rt = net_section::row_tear_out(trace, 1, fv, member.section.width_mm / MM_PER_INCH, left_mm / MM_PER_INCH);
    let force = force_n.abs() * LBF_PER_N;
    let u = force / z_rt;
    step!(trace, "force along the grain over the tear-out", u [""] = "force/z_rt", { force ["lb"], z_rt ["lb"] }, net_section::TEAR_OUT);
    Ok(u)
}

fn across<T: Trace>(
    trace: &mut T,
    member: &WoodMember,
    duration: Duration,
    force_n: f64,
    [length_mm, width_mm]: [f64; 2],
) -> Result<f64, Refusal> {
    let conditions = crate::codes::nds::Conditions {
        duration,
        wet: member.wet,
        temperature: crate::codes::nds::Temperature::Usual,
        incised: member.incised,
        repetitive: false,
    };
    let adjusted = crate::codes::nds::adjust(trace, &member.values, member.section, &conditions)?;
    let (l, w) = (length_mm / MM_PER_INCH, width_mm / MM_PER_INCH);
    let f_cp = bearing::bearing_stress(trace, force_n.abs() * LBF_PER_N, l * w);
    let fc_perp = adjusted.fc_perp_psi;
    let u = f_cp / fc_perp;
    step!(trace, "pressure across the grain over its allowable value", u [""] = "f_cp/fc_perp", { f_cp ["psi"], fc_perp ["psi"] }, bearing::BEARING);
    Ok(u)
}
