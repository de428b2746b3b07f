//! One calculation with all its numbers, so that it can be run again and written out.

use super::{
    dowel_joint::DowelJoint,
    screw_joint::ScrewJoint,
    wood_member::{Forces, HoleHere, INLB_PER_NMM, LBF_PER_N, WoodMember},
};
use crate::{
    catalogue::{Certainty, Metal, Section, Source, Trace},
    checks::{
        Refusal,
        aisc360::{self, OMEGA_YIELD, Profile, Steel, flexure},
        nds::{Duration, bearing, net_section},
        serviceability::{self, Divisor},
        soil::{ballast, bearing as soil_bearing, below_grade, concrete, embedment, uplift},
    },
    quantities::MM_PER_INCH,
};

/// Millimetres in a foot.
const MM_PER_FT: f64 = 12.0 * MM_PER_INCH;
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
    /// Wood: shear.
    WoodShear(WoodMember, Duration, Forces),
    /// Wood: shear at a bolt; effective depth and distance from the end (mm).
    WoodHung(WoodMember, Duration, f64, [f64; 2]),
    /// Wood: tear-out towards the end or the next hole; force (N), wood left (mm).
    TearOut(WoodMember, Duration, f64, f64),
    /// Steel: bending with axial force.
    Steel(SteelMember, Forces),
    /// Steel: shear.
    SteelShear(SteelMember, Forces),
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
    /// A purlin as simple spans: pressure (Pa), strip (mm), span (mm).
    Purlin(WoodMember, Duration, [f64; 3]),
    /// A wood post below the ground.
    Below(WoodMember, Duration, Grade, f64),
    /// A steel post below the ground.
    SteelBelow(SteelMember, Grade, f64),
    /// Depth needed over depth given (mm).
    Embedded(embedment::Post, f64),
    /// Foot pressure: load (N) on a round foot (mm), allowed (psf).
    Foot(f64, f64, f64),
    /// Uplift (N) against a concrete foot: diameter, depth (mm), post area (mm²).
    Lifted(f64, [f64; 3]),
    /// Frost depth over foot depth (mm).
    Frost(f64, f64),
    /// Ballasted frame.
    Ballasted(ballast::Ballasted, Stability),
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

/// Forces of a post at the ground.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Grade {
    /// Along the swing: force and moment (N, N·mm), of one sign when a force above ground makes the moment.
    pub swing: [f64; 2],
    /// Across: force and moment.
    pub across: [f64; 2],
    /// Axial, tension positive (N).
    pub axial_n: f64,
}

/// A steel member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteelMember {
    /// Section.
    pub section: &'static Section,
    /// Steel.
    pub metal: &'static Metal,
    /// Free length (mm).
    pub free_mm: f64,
}

impl SteelMember {
    fn parts(&self) -> Result<(Profile, Steel), Refusal> {
        let profile = Profile::of(self.section)
            .ok_or_else(|| Refusal::not_held(format!("{} is no steel section", self.section.name)))?;
        Ok((profile, Steel::from(self.metal)))
    }

    fn combined<T: Trace>(&self, trace: &mut T, forces: &Forces) -> Result<f64, Refusal> {
        let (profile, steel) = self.parts()?;
        const KIP: f64 = 1000.0;
        let bracing = flexure::Bracing { unbraced_in: self.free_mm / MM_PER_INCH, gradient: 1.0 };
        let [m_nx, m_ny] = flexure::nominal_moments(trace, &profile, &steel, bracing)?;
        let p = forces.axial_n.abs() * LBF_PER_N / KIP;
        let p_c = if forces.axial_n > 0.0 {
            aisc360::tension::available_tension(trace, &steel, profile.area_in2, profile.area_in2)
        } else {
            let slenderness = self.free_mm / MM_PER_INCH / profile.r_min_in;
            aisc360::compression::nominal_compression(trace, &profile, &steel, slenderness)? / OMEGA_YIELD
        };
        let ratio = |m: f64, m_n: f64| m.abs() * INLB_PER_NMM / KIP / (m_n / OMEGA_YIELD);
        Ok(aisc360::interaction::axial_bending(
            trace,
            p / p_c,
            [ratio(forces.strong_nmm, m_nx), ratio(forces.weak_nmm, m_ny)],
        ))
    }
}

impl Calc {
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
            Self::WoodShear(member, duration, forces) => {
                let strengths = member.strengths(trace, *duration)?;
                Ok(member.sheared(trace, &strengths, forces))
            }
            Self::WoodHung(member, duration, shear_n, [effective, from_end]) => {
                let strengths = member.strengths(trace, *duration)?;
                member.hung(trace, &strengths, *shear_n, *effective, *from_end)
            }
            Self::TearOut(member, duration, force_n, left_mm) => tear_out(trace, member, *duration, *force_n, *left_mm),
            Self::Steel(member, forces) => member.combined(trace, forces),
            Self::SteelShear(member, forces) => steel_shear(trace, member, forces),
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
            Self::Purlin(member, duration, [pressure, strip, span]) => {
                let (p, b, l) =
                    (pressure / crate::quantities::PA_PER_PSF / 144.0, strip / MM_PER_INCH, span / MM_PER_INCH);
                let m = p * b * l * l / 8.0;
                step!(trace, "moment of a simple span", m ["in lb"] = "p*b*l^2/8", { p ["psi"], b ["in"], l ["in"] }, STATICS);
                let strengths = member.strengths(trace, *duration)?;
                let forces = Forces { weak_nmm: m / INLB_PER_NMM, ..Forces::default() };
                member.combined(trace, &strengths, &forces, None)
            }
            Self::Below(member, duration, grade, depth_mm) => {
                let forces = grade.below(trace, *depth_mm)?;
                let strengths = member.strengths(trace, *duration)?;
                member.combined(trace, &strengths, &forces, None)
            }
            Self::SteelBelow(member, grade, depth_mm) => {
                let forces = grade.below(trace, *depth_mm)?;
                member.combined(trace, &forces)
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
                let q_allowed = *allowed_psf;
                let u = q / q_allowed;
                step!(trace, "bearing pressure over its allowable value", u [""] = "q/q_allowed", { q ["psf"], q_allowed ["psf"] }, crate::catalogue::soils::PRESUMPTIVE);
                Ok(u)
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
            Self::Ballasted(frame, way) => {
                let stability = ballast::stability(trace, frame, 1)?;
                Ok(match way {
                    Stability::Sliding => stability.sliding,
                    Stability::Overturning => stability.overturning,
                    Stability::Uplift => stability.uplift,
                })
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

impl Grade {
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
    let conditions = crate::checks::nds::Conditions {
        duration,
        wet: member.wet,
        temperature: crate::checks::nds::Temperature::Usual,
        incised: member.incised,
        repetitive: false,
    };
    let adjusted = crate::checks::nds::adjust(trace, &member.values, member.section, &conditions)?;
    let (l, w) = (length_mm / MM_PER_INCH, width_mm / MM_PER_INCH);
    let f_cp = bearing::bearing_stress(trace, force_n.abs() * LBF_PER_N, l * w);
    let fc_perp = adjusted.fc_perp_psi;
    let u = f_cp / fc_perp;
    step!(trace, "pressure across the grain over its allowable value", u [""] = "f_cp/fc_perp", { f_cp ["psi"], fc_perp ["psi"] }, bearing::BEARING);
    Ok(u)
}

fn steel_shear<T: Trace>(trace: &mut T, member: &SteelMember, forces: &Forces) -> Result<f64, Refusal> {
    let (profile, steel) = member.parts()?;
    let turned = forces.cross_shear_n.abs() > forces.shear_n.abs();
    let profile = if turned { profile.turned() } else { profile };
    let v_n = aisc360::shear::nominal_shear(trace, &profile, &steel)?;
    let v = forces.shear_n.abs().max(forces.cross_shear_n.abs()) * LBF_PER_N / 1000.0;
    let omega = OMEGA_YIELD;
    let u = v / (v_n / omega);
    step!(trace, "shear over its available value", u [""] = "v/(v_n/omega)", { v ["kip"], v_n ["kip"], omega [""] }, aisc360::shear::SHEAR);
    Ok(u)
}
