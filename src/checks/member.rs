//! One straight member under the forces of one section, wood or steel, in newtons and millimetres.
//!
//! This is the door between the analysis and the equations: it turns forces and sections into the inches, pounds and kips
//! that the standards print, and nothing else does.

use super::{
    Refusal,
    aisc360::{self, Form, OMEGA_YIELD, Profile, Steel, flexure::Bracing},
    nds::{self, Adjusted, BeamLoading, ColumnKind, Conditions, beam, column, combined, net_section, shear},
    within,
};
use crate::{
    catalogue::{Certainty, DesignValues, Family, Metal, Section, Source, Trace},
    quantities::{MM_PER_INCH, N_PER_LBF},
};

/// Torsion of a solid rectangle; the standard gives no strength of its own. Four open repositories have the formula, one
/// of them by this name.
pub const WOOD_TORSION: Source = Source::new("Roark", "solid rectangle, against F_v′", Certainty::Agreed);

/// Forces of one section of a member.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Forces {
    /// Along the member, tension positive (N).
    pub axial_n: f64,
    /// Shear along the depth (N).
    pub shear_depth_n: f64,
    /// Shear along the width (N).
    pub shear_width_n: f64,
    /// Bending about the strong axis (N·mm).
    pub moment_strong_n_mm: f64,
    /// Bending about the weak axis (N·mm).
    pub moment_weak_n_mm: f64,
    /// Torsion (N·mm).
    pub torsion_n_mm: f64,
}

/// How a member is held.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Held {
    /// Effective length K l for buckling in the plane of the depth (mm).
    pub strong_mm: f64,
    /// Effective length K l for buckling in the plane of the width (mm).
    pub weak_mm: f64,
    /// Distance between points that hold the compression edge sideways (mm).
    pub lateral_mm: f64,
    /// Load on the span, for the effective length of a wooden beam.
    pub loading: BeamLoading,
    /// Moment gradient factor C_b of steel; 1 is on the safe side.
    pub gradient: f64,
}

/// A hole across the width of a wooden member at the section looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoleAcross {
    /// Diameter (mm).
    pub diameter_mm: f64,
    /// Centre from one edge of the depth (mm).
    pub centre_mm: f64,
}

/// Utilisations of one section.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MemberUse {
    /// Axial force with bending about both axes.
    pub strength: f64,
    /// Shear with torsion.
    pub shear: f64,
}

fn inch(mm: f64) -> f64 {
    mm / MM_PER_INCH
}

fn pound(newton: f64) -> f64 {
    newton / N_PER_LBF
}

fn inch_pound(newton_mm: f64) -> f64 {
    newton_mm / N_PER_LBF / MM_PER_INCH
}

fn kip(newton: f64) -> f64 {
    pound(newton) / 1000.0
}

fn kip_inch(newton_mm: f64) -> f64 {
    inch_pound(newton_mm) / 1000.0
}

/// A wooden member.
#[derive(Debug, Clone, Copy)]
pub struct WoodMember<'a> {
    /// Section.
    pub section: &'a Section,
    /// Reference design values.
    pub values: &'a DesignValues,
    /// Service conditions.
    pub conditions: Conditions,
    /// How it is held.
    pub held: Held,
    /// Hole at the section looked at, if any.
    pub hole: Option<HoleAcross>,
}

/// Utilisation of a wooden member under the forces of one section.
///
/// # Errors
/// [`Refusal::NotHeld`] for sections or factors that are not held; [`Refusal::OutsideRange`] for slenderness above the
/// published ranges or a member that has buckled.
///
/// # Source
/// NDS-2018 §§3.3 to 3.9 by the functions of [`nds`]. *Structural Wood Design Examples* E1.8 and RSDG Ex. 5.6 through
/// this door in `tests/handbook/member.rs`.
pub fn wood<T: Trace>(trace: &mut T, member: &WoodMember<'_>, forces: &Forces) -> Result<MemberUse, Refusal> {
    let adjusted = nds::adjust(trace, member.values, member.section, &member.conditions)?;
    let [b, d] = [inch(member.section.width_mm), inch(member.section.depth_mm)];
    let strength = wood_strength(trace, member, &adjusted, [b, d], forces)?;
    let shear = wood_shear(trace, member, &adjusted, [b, d], forces)?;
    Ok(MemberUse { strength, shear })
}

/// Area and both section moduli at the section looked at.
fn wood_net<T: Trace>(trace: &mut T, member: &WoodMember<'_>, [b, d]: [f64; 2]) -> Result<[f64; 3], Refusal> {
    let Some(hole) = member.hole else { return Ok([b * d, b * d * d / 6.0, d * b * b / 6.0]) };
    let h = inch(hole.diameter_mm);
    let area = net_section::net_area(trace, [b, d], h, 1)?;
    let strong = net_section::net_modulus(trace, [b, d], h, inch(hole.centre_mm))?;
    Ok([area, strong, (d - h) * b * b / 6.0])
}

fn wood_strength<T: Trace>(
    trace: &mut T,
    member: &WoodMember<'_>,
    a: &Adjusted,
    [b, d]: [f64; 2],
    forces: &Forces,
) -> Result<f64, Refusal> {
    let [area, s_1, s_2] = wood_net(trace, member, [b, d])?;
    let f_b1 = inch_pound(forces.moment_strong_n_mm).abs() / s_1;
    let f_b2 = inch_pound(forces.moment_weak_n_mm).abs() / s_2;
    let axial = pound(forces.axial_n);
    let l_e = beam::effective_length(trace, member.held.loading, inch(member.held.lateral_mm), d);
    let stability = beam::beam_stability(trace, [b, d], l_e, a.e_min_psi, a.fb_star_psi)?;
    let fb1 = a.fb_star_psi * stability.c_l;
    let fb2 = match a.fb_weak_psi {
        Some(value) => value,
        None if f_b2 == 0.0 => a.fb_star_psi,
        None => return Err(Refusal::not_held("bending of a beam or stringer on its wide face")),
    };
    if axial > 0.0 {
        let f_t = axial / area;
        // The weak axis joins the sum of the tension edge; it has no lateral buckling of its own.
        let edges = combined::bending_and_tension(trace, [f_t, a.ft_psi], f_b1, a.fb_star_psi, fb1);
        let (ft_allowed, fb_star) = (a.ft_psi, a.fb_star_psi);
        let u = (f_t / ft_allowed + f_b1 / fb_star + f_b2 / fb2).max(f_b1 / fb1 + f_b2 / fb2 - f_t / fb1);
        step!(trace, "tension with bending about both axes", u [""] =
            "max(f_t/ft_allowed + f_b1/fb_star + f_b2/fb2, f_b1/fb1 + f_b2/fb2 - f_t/fb1)",
            { f_t ["psi"], ft_allowed ["psi"], f_b1 ["psi"], fb_star ["psi"], f_b2 ["psi"], fb2 ["psi"], fb1 ["psi"] },
            combined::COMBINED);
        return Ok(edges.max(u));
    }
    let s1 = column::slenderness(trace, 1.0, inch(member.held.strong_mm), d);
    let s2 = column::slenderness(trace, 1.0, inch(member.held.weak_mm), b);
    let column = nds::column_stability(trace, ColumnKind::Sawn, s1.max(s2), a.e_min_psi, a.fc_star_psi)?;
    let compressed = combined::Compressed {
        fc_psi: -axial / (b * d),
        fc_allowed_psi: column.c_p * a.fc_star_psi,
        fb1_psi: f_b1,
        fb1_allowed_psi: fb1,
        fb2_psi: f_b2,
        fb2_allowed_psi: fb2,
        f_ce1_psi: column::critical_stress(trace, s1, a.e_min_psi)?,
        f_ce2_psi: column::critical_stress(trace, s2, a.e_min_psi)?,
        f_be_psi: stability.f_be_psi,
    };
    let buckling = combined::bending_and_compression(trace, &compressed)?;
    if member.hole.is_none() {
        return Ok(buckling);
    }
    // At a hole nothing buckles, but the net area is crushed without C_P.
    let (f_c, fc_star, fb_star) = (-axial / area, a.fc_star_psi, a.fb_star_psi);
    let crushed = f_c / fc_star + f_b1 / fb_star + f_b2 / fb2;
    step!(trace, "compression with bending beside the hole, no buckling", crushed [""] =
        "f_c/fc_star + f_b1/fb_star + f_b2/fb2",
        { f_c ["psi"], fc_star ["psi"], f_b1 ["psi"], fb_star ["psi"], f_b2 ["psi"], fb2 ["psi"] }, net_section::NET_AREA);
    Ok(buckling.max(crushed))
}

fn wood_shear<T: Trace>(
    trace: &mut T,
    member: &WoodMember<'_>,
    a: &Adjusted,
    [b, d]: [f64; 2],
    forces: &Forces,
) -> Result<f64, Refusal> {
    let (net_b, net_d) = (b, d - member.hole.map_or(0.0, |hole| inch(hole.diameter_mm)));
    within("depth beside the hole (in)", net_d, [1e-9, d], net_section::NET_AREA)?;
    let deep = shear::shear_stress(trace, pound(forces.shear_depth_n).abs(), [net_b, net_d]);
    let wide = shear::shear_stress(trace, pound(forces.shear_width_n).abs(), [net_d, net_b]);
    let mut stress = deep.hypot(wide);
    if forces.torsion_n_mm != 0.0 {
        stress += rectangle_torsion_stress(trace, inch_pound(forces.torsion_n_mm).abs(), [b, d]);
    }
    Ok(stress / a.fv_psi)
}

/// Largest shear stress (psi) of a solid rectangle in torsion, at the middle of its long side.
///
/// ```text
/// τ = T (3 + 1.8 b/d)/(b² d)      b ≤ d
/// ```
fn rectangle_torsion_stress<T: Trace>(trace: &mut T, torsion_in_lb: f64, [b, d]: [f64; 2]) -> f64 {
    let t = torsion_in_lb;
    let tau = t * (3.0 + 1.8 * b / d) / (b * b * d);
    step!(trace, "shear stress of torsion", tau ["psi"] = "t*(3 + 1.8*b/d)/(b^2*d)", { t ["in lb"], b ["in"], d ["in"] }, WOOD_TORSION);
    tau
}

/// A steel member.
#[derive(Debug, Clone, Copy)]
pub struct SteelMember<'a> {
    /// Section.
    pub section: &'a Section,
    /// Steel.
    pub metal: &'a Metal,
    /// How it is held.
    pub held: Held,
    /// Length for torsion, end to end (mm).
    pub length_mm: f64,
}

/// Utilisation of a steel member under the forces of one section.
///
/// Tension is taken on the gross section: net sections at bolts are checks of their joints. An angle is bent about its
/// geometric axes with the toe in compression; the strong moment belongs to either leg.
///
/// # Errors
/// [`Refusal::NotHeld`] for forms and effects that are not held, torsion of open sections among them;
/// [`Refusal::OutsideRange`] for slenderness above the published ranges.
///
/// # Source
/// AISC 360-16 by the functions of [`aisc360`].
pub fn steel<T: Trace>(trace: &mut T, member: &SteelMember<'_>, forces: &Forces) -> Result<MemberUse, Refusal> {
    if member.section.family != Family::Steel {
        return Err(Refusal::not_held(format!("{} is no steel section", member.section.name)));
    }
    let profile = Profile::of(member.section)
        .ok_or_else(|| Refusal::not_held(format!("{} is no steel section", member.section.name)))?;
    let steel = Steel::from(member.metal);
    let axial = steel_axial(trace, member, &profile, &steel, kip(forces.axial_n))?;
    let bracing = Bracing { unbraced_in: inch(member.held.lateral_mm).max(1e-3), gradient: member.held.gradient };
    let [m_x, m_y] = aisc360::flexure::nominal_moments(trace, &profile, &steel, bracing)?;
    let moments = [
        kip_inch(forces.moment_strong_n_mm) / (m_x / OMEGA_YIELD),
        kip_inch(forces.moment_weak_n_mm) / (m_y / OMEGA_YIELD),
    ];
    let along = match profile.form {
        // Without two axes of symmetry the stress ratios are simply added.
        Form::Angle => aisc360::interaction::stress_sum(trace, axial.abs(), moments.map(f64::abs)),
        _ => aisc360::interaction::axial_bending(trace, axial, moments),
    };
    let deep =
        kip(forces.shear_depth_n).abs() / (aisc360::shear::nominal_shear(trace, &profile, &steel)? / OMEGA_YIELD);
    let wide = kip(forces.shear_width_n).abs()
        / (aisc360::shear::nominal_shear(trace, &profile.turned(), &steel)? / OMEGA_YIELD);
    let across = deep.max(wide);
    if forces.torsion_n_mm == 0.0 {
        return Ok(MemberUse { strength: along, shear: across });
    }
    let t_n = aisc360::torsion::nominal_torsion(trace, &profile, &steel, inch(member.length_mm))?;
    let torsion = kip_inch(forces.torsion_n_mm).abs() / (t_n / OMEGA_YIELD);
    let strength = aisc360::interaction::with_torsion(trace, along, across, torsion);
    Ok(MemberUse { strength, shear: across + torsion })
}

/// Utilisation of an aluminium member against first yield under the forces of one section, shear and torsion left out.
///
/// Buckling of every kind, welds and bolts are not held: list [`NotChecked`](super::aluminium::NotChecked) beside it.
///
/// # Errors
/// [`Refusal::NotHeld`] when the section is no aluminium.
pub fn aluminium_yield<T: Trace>(
    trace: &mut T,
    section: &Section,
    alloy: &Metal,
    forces: &Forces,
) -> Result<f64, Refusal> {
    let profile = Profile::of(section).filter(|_| section.family == Family::Aluminium);
    let profile = profile.ok_or_else(|| Refusal::not_held(format!("{} is no aluminium section", section.name)))?;
    let axial = kip(forces.axial_n) / profile.area_in2;
    let bending = kip_inch(forces.moment_strong_n_mm).abs() / profile.s_x_in3
        + kip_inch(forces.moment_weak_n_mm).abs() / profile.s_y_in3;
    Ok(super::aluminium::yield_utilisation(trace, alloy, axial, bending))
}

fn steel_axial<T: Trace>(
    trace: &mut T,
    member: &SteelMember<'_>,
    profile: &Profile,
    steel: &Steel,
    axial_kip: f64,
) -> Result<f64, Refusal> {
    if axial_kip >= 0.0 {
        let p = aisc360::tension::available_tension(trace, steel, profile.area_in2, profile.area_in2);
        return Ok(axial_kip / p);
    }
    let slenderness = match profile.form {
        Form::Angle => inch(member.held.strong_mm.max(member.held.weak_mm)) / profile.r_min_in,
        _ => f64::max(inch(member.held.strong_mm) / profile.r_x_in(), inch(member.held.weak_mm) / profile.r_y_in()),
    };
    let p_n = aisc360::compression::nominal_compression(trace, profile, steel, slenderness.max(1e-6))?;
    Ok(-axial_kip / (p_n / OMEGA_YIELD))
}
