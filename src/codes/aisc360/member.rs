//! A steel or aluminium member at one place: bending both ways with axial force, shear, twist, and the section at a hole.

use super::{
    Form, OMEGA_RUPTURE, OMEGA_YIELD, Profile, Steel,
    angle_stay::{self, AngleStay},
    compression, flexure, interaction, shear, tension, torsion,
};
use crate::{
    catalogue::{Certainty, Metal, Section, Shape, Silent, Source, Trace},
    codes::{
        Ask, Calc, Forces, HoleHere, Member, PinPlace, Refusal, Strut,
        asked::{KIP_PER_N, KIPIN_PER_NMM, simple_span},
        within,
    },
    loads::Duration,
    quantities::MM_PER_INCH,
};

/// Recommended effective length of a free-standing post.
const POST_LENGTH: Source = Source::new("AISC 360-16", "Table C-A-7.1", Certainty::Memory);
/// What a hole leaves.
const NET_SECTION: Source = Source::new("statics", "section less its hole, about its own centroid", Certainty::Derived);
/// First yield beside a hole. It stands below the ruptures that AISC 360 D2 and F13 allow, F_y/1.67 < F_u/2.
const NET_YIELD: Source = Source::new("judgement", "first yield of the net section, F_y/1.67", Certainty::Judgement);
/// Torsion of open sections without warping.
const OPEN_TORSION: Source =
    Source::new("judgement", "St. Venant stress T t/J against 0.6 F_y/1.67, warping left out", Certainty::Judgement);
/// Share of torsion.
const SHARE: Source = Source::new("AISC 360-16", "H3.1", Certainty::Transcribed);

/// A steel member with the lengths over which it is free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SteelMember {
    /// Section.
    pub section: &'static Section,
    /// Steel.
    pub metal: &'static Metal,
    /// Free length for buckling over the depth (mm).
    pub free_strong_mm: f64,
    /// Free length for buckling over the width, and of the compression edge in bending (mm).
    pub free_weak_mm: f64,
    /// Effective length factor K of both.
    pub k_e: f64,
}

impl SteelMember {
    /// Section and steel as the equations want them.
    ///
    /// # Errors
    /// A section of another material.
    pub(super) fn parts(&self) -> Result<(Profile, Steel), Refusal> {
        let profile = Profile::of(self.section)
            .ok_or_else(|| Refusal::not_held(format!("{} is no steel section", self.section.name)))?;
        Ok((profile, Steel::from(self.metal)))
    }

    /// Utilisation of bending both ways with axial force; at a hole with the section that is left.
    ///
    /// An angle is bent about its geometric axes with the toe in compression, the worse of the two ways.
    ///
    /// # Errors
    /// As the equations of AISC 360 D to F.
    ///
    /// # Source
    /// AISC 360-16 H1, for angles H2. Design Examples F.6 and others in `tests/handbook/members.rs`.
    pub fn combined<T: Trace>(&self, trace: &mut T, forces: &Forces, hole: Option<HoleHere>) -> Result<f64, Refusal> {
        let (profile, steel) = self.parts()?;
        if let Some(hole) = hole {
            return at_hole(trace, &profile, &steel, forces, hole);
        }
        let axial = self.axial(trace, &profile, &steel, forces.axial_n)?;
        let unbraced_in = (self.free_weak_mm / MM_PER_INCH).max(1e-3);
        let bracing = flexure::Bracing { unbraced_in, gradient: 1.0 };
        let [m_nx, m_ny] = flexure::nominal_moments(trace, &profile, &steel, bracing)?;
        let omega = OMEGA_YIELD;
        let [m_rx, m_ry] = [forces.strong_nmm, forces.weak_nmm].map(|m| m.abs() * KIPIN_PER_NMM);
        let m_x = m_rx / (m_nx / omega);
        step!(trace, "moment over the depth by its available value", m_x [""] = "m_rx/(m_nx/omega)",
            { m_rx ["kip in"], m_nx ["kip in"], omega [""] }, flexure::AVAILABLE);
        let m_y = m_ry / (m_ny / omega);
        step!(trace, "moment over the width by its available value", m_y [""] = "m_ry/(m_ny/omega)",
            { m_ry ["kip in"], m_ny ["kip in"], omega [""] }, flexure::AVAILABLE);
        let moments = [m_x, m_y];
        Ok(match profile.form {
            // Without two axes of symmetry the stress ratios are simply added.
            Form::Angle => interaction::stress_sum(trace, axial, moments),
            _ => interaction::axial_bending(trace, axial, moments),
        })
    }

    /// Axial force over its available strength.
    fn axial<T: Trace>(&self, trace: &mut T, profile: &Profile, steel: &Steel, axial_n: f64) -> Result<f64, Refusal> {
        let p_r = axial_n.abs() * KIP_PER_N;
        if axial_n >= 0.0 {
            let p_c = tension::available_tension(trace, steel, profile.area_in2, profile.area_in2);
            let p = p_r / p_c;
            step!(trace, "pull over its available value", p [""] = "p_r/p_c", { p_r ["kip"], p_c ["kip"] }, tension::TENSION);
            return Ok(p);
        }
        let free = [self.free_strong_mm, self.free_weak_mm].map(|mm| mm / MM_PER_INCH);
        let radii = match profile.form {
            Form::Angle => [profile.r_min_in; 2],
            _ => [profile.r_x_in(), profile.r_y_in()],
        };
        let (k, l, r) = if free[0] / radii[0] >= free[1] / radii[1] {
            (self.k_e, free[0], radii[0])
        } else {
            (self.k_e, free[1], radii[1])
        };
        let s = k * l / r;
        let source = if k == 1.0 { compression::FLEXURAL } else { POST_LENGTH };
        step!(trace, "slenderness of the column", s [""] = "k*l/r", { k [""], l ["in"], r ["in"] }, source);
        let p_n = compression::nominal_compression(trace, profile, steel, s.max(1e-6))?;
        let omega = OMEGA_YIELD;
        let p = p_r / (p_n / omega);
        step!(trace, "push over its available value", p [""] = "p_r/(p_n/omega)", { p_r ["kip"], p_n ["kip"], omega [""] }, source);
        Ok(p)
    }

    /// Utilisation of the larger shear.
    ///
    /// # Errors
    /// A wall too thin for the equation.
    pub fn sheared<T: Trace>(&self, trace: &mut T, forces: &Forces) -> Result<f64, Refusal> {
        let (profile, steel) = self.parts()?;
        let mut most = 0.0_f64;
        for (profile, force_n) in [(profile, forces.shear_n), (profile.turned(), forces.cross_shear_n)] {
            let v_n = shear::nominal_shear(trace, &profile, &steel)?;
            let (v, omega) = (force_n.abs() * KIP_PER_N, OMEGA_YIELD);
            let u = v / (v_n / omega);
            step!(trace, "shear over its available value", u [""] = "v/(v_n/omega)", { v ["kip"], v_n ["kip"], omega [""] }, shear::SHEAR);
            most = most.max(u);
        }
        Ok(most)
    }

    /// Utilisation of torsion; of a tube above a fifth of its strength together with all other forces.
    ///
    /// # Errors
    /// As the equations of AISC 360 H3.
    pub fn twisted<T: Trace>(&self, trace: &mut T, forces: &Forces) -> Result<f64, Refusal> {
        let (profile, steel) = self.parts()?;
        let t = forces.torsion_nmm.abs() * KIPIN_PER_NMM;
        let omega = OMEGA_YIELD;
        if !self.section.is_hollow() {
            let (f_y, j, wall) = (steel.fy_ksi, profile.j_in4, thickest_in(&profile));
            let u = t * wall / j / (0.6 * f_y / omega);
            step!(trace, "twist of an open section", u [""] = "t*wall/j/(0.6*f_y/omega)",
                { t ["kip in"], wall ["in"], j ["in^4"], f_y ["ksi"], omega [""] }, OPEN_TORSION);
            return Ok(u);
        }
        let t_n = torsion::nominal_torsion(trace, &profile, &steel, self.free_strong_mm / MM_PER_INCH)?;
        let u = t / (t_n / omega);
        step!(trace, "torsion over its available value", u [""] = "t/(t_n/omega)", { t ["kip in"], t_n ["kip in"], omega [""] }, SHARE);
        if u <= 0.2 {
            return Ok(u);
        }
        let along = self.combined(trace, forces, None)?;
        let across = self.sheared(trace, forces)?;
        Ok(interaction::with_torsion(trace, along, across, u))
    }

    /// Utilisation of block shear at a pin near the end of a pulled leg: along to the end, across to the edge.
    ///
    /// # Errors
    /// Distances that leave nothing.
    pub fn block_shear<T: Trace>(&self, trace: &mut T, pull_n: f64, pin: PinPlace) -> Result<f64, Refusal> {
        let (_, steel) = self.parts()?;
        let inch = |mm: f64| mm / MM_PER_INCH;
        let (l_e, e, h) = (inch(pin.end_mm), inch(pin.edge_mm), inch(pin.hole_mm));
        let (t, n) = (inch(self.section.wall_mm), if self.section.is_hollow() { 2.0 } else { 1.0 });
        let a_gv = n * l_e * t;
        step!(trace, "gross area in shear", a_gv ["in^2"] = "n*l_e*t", { n [""], l_e ["in"], t ["in"] }, tension::BLOCK_SHEAR);
        let a_nv = n * (l_e - (h + 0.0625) / 2.0) * t;
        step!(trace, "net area in shear", a_nv ["in^2"] = "n*(l_e - (h + 0.0625)/2)*t", { n [""], l_e ["in"], h ["in"], t ["in"] }, tension::BLOCK_SHEAR);
        let a_nt = n * (e - (h + 0.0625) / 2.0) * t;
        step!(trace, "net area in tension", a_nt ["in^2"] = "n*(e - (h + 0.0625)/2)*t", { n [""], e ["in"], h ["in"], t ["in"] }, tension::BLOCK_SHEAR);
        within("net area of the block (in²)", a_nv.min(a_nt), [1e-9, f64::MAX], tension::BLOCK_SHEAR)?;
        let r = tension::available_block_shear(trace, &steel, a_nv, a_gv, a_nt);
        let p = pull_n.abs() * KIP_PER_N;
        let u = p / r;
        step!(trace, "pull over the block shear", u [""] = "p/r", { p ["kip"], r ["kip"] }, tension::BLOCK_SHEAR);
        Ok(u)
    }

    /// Utilisation for a question; none where it does not arise in steel: bearing in it stands with its bolts.
    pub(in crate::codes) fn utilisation<T: Trace>(&self, trace: &mut T, ask: &Ask) -> Option<Result<f64, Refusal>> {
        Some(match *ask {
            Ask::Bent(forces, hole) => self.combined(trace, &forces, hole),
            Ask::Sheared(forces, None) => self.sheared(trace, &forces),
            Ask::Twisted(forces) => self.twisted(trace, &forces),
            Ask::TornOut(pull_n, pin) => self.block_shear(trace, pull_n, pin),
            Ask::OneBolt(force_n, stay) => self.one_bolt(trace, force_n, stay),
            Ask::Spanning(strip) => {
                let forces = simple_span(trace, strip);
                self.combined(trace, &forces, None)
            }
            Ask::Below(grade, depth_mm) => match grade.below(trace, depth_mm) {
                Ok(forces) => self.combined(trace, &forces, None),
                Err(refusal) => Err(refusal),
            },
            Ask::Sheared(_, Some(_)) | Ask::Hung(..) | Ask::Pressed(..) => return None,
        })
    }

    fn one_bolt<T: Trace>(
        &self,
        trace: &mut T,
        force_n: f64,
        [length, gauge, beyond, hole]: [f64; 4],
    ) -> Result<f64, Refusal> {
        let (profile, steel) = self.parts()?;
        let stay = AngleStay {
            length_in: length / MM_PER_INCH,
            gauge_in: gauge / MM_PER_INCH,
            beyond_in: beyond / MM_PER_INCH,
            hole_in: hole / MM_PER_INCH,
        };
        angle_stay::utilisation(trace, &profile, &steel, &stay, force_n * KIP_PER_N)
    }
}

impl Member for SteelMember {
    fn answer(&self, _: Duration, ask: &Ask) -> Option<Result<f64, Refusal>> {
        self.utilisation(&mut Silent, ask)
    }

    fn calc(&self, _: Duration, ask: Ask) -> Calc {
        Calc::Steel(*self, ask)
    }

    /// Pulled, the section beside a hole counts as well.
    fn strut(&self, strut: &Strut) -> Result<Vec<Ask>, Refusal> {
        let section = self.section;
        match section.shape {
            Shape::Channel { .. } => {
                Err(Refusal::not_held("a channel pinned through its web is bent by its pins: take an angle or a tube"))
            }
            // The washer keeps the leg off what it is bolted to.
            Shape::Angle => Ok(vec![Ask::OneBolt(
                -strut.axial_n,
                [strut.length_mm, strut.gauge_mm, strut.washer_mm, strut.hole_mm],
            )]),
            Shape::Sawn { .. } | Shape::SquareTube { .. } | Shape::RectTube { .. } | Shape::Pipe | Shape::Bar => {
                let forces = strut.forces(section.mass_kg_per_m.unwrap_or(0.0) * 1e-3);
                let hole = HoleHere { diameter_mm: strut.hole_mm, from_edge_mm: section.depth_mm / 2.0 };
                let mut asked = vec![Ask::Bent(forces, None)];
                asked.extend((strut.axial_n > 0.0).then_some(Ask::Bent(forces, Some(hole))));
                Ok(asked)
            }
        }
    }
}

fn thickest_in(profile: &Profile) -> f64 {
    match profile.form {
        Form::Channel { flange_in, .. } => flange_in.max(profile.wall_in),
        _ => profile.wall_in,
    }
}

/// Area and the two section moduli beside a hole (in², in³) through the walls that a bolt across the width passes.
fn net_section<T: Trace>(trace: &mut T, profile: &Profile, hole: HoleHere) -> Result<[f64; 3], Refusal> {
    let (a_g, t) = (profile.area_in2, profile.wall_in);
    let (h, edge) = (hole.diameter_mm / MM_PER_INCH, hole.from_edge_mm / MM_PER_INCH);
    let hollow = matches!(profile.form, Form::SquareTube | Form::RectTube | Form::Pipe);
    let n: u32 = if hollow { 2 } else { 1 };
    let a_n = tension::net_area(trace, a_g, t, h, n)?;
    let n = f64::from(n);
    // From the centroid to the hole: over the depth, and over the width to the wall. Across an angle the hole is
    // gauged from the heel or the toe; the farther one is on the safe side.
    let (deep, wide) = match profile.form {
        Form::Angle => {
            let c = profile.centroid_in;
            ((edge - c).abs().max((profile.depth_in - edge - c).abs()), c - t / 2.0)
        }
        Form::Channel { .. } => ((profile.depth_in / 2.0 - edge).abs(), profile.centroid_in - t / 2.0),
        Form::Bar => ((profile.depth_in / 2.0 - edge).abs(), 0.0),
        // The two walls stand on both sides: no shift of the centroid.
        _ => ((profile.depth_in / 2.0 - edge).abs(), (profile.width_in - t) / 2.0),
    };
    let shifts_wide = if hollow { 0.0 } else { 1.0 };
    let d_h = h + 0.0625;
    let mut modulus = |what: &'static str, i: f64, s: f64, arm: f64, own: f64, shifts: f64| -> Result<f64, Refusal> {
        let shift = shifts * n * t * d_h * arm / a_n;
        let c = i / s;
        let s_n = (i - n * t * d_h * (own * own / 12.0 + arm * arm) - a_n * shift * shift) / (c + shift);
        step!(trace, what, s_n ["in^3"] = "(i - n*t*d_h*(own^2/12 + arm^2) - a_n*shift^2)/(i/s + shift)",
            { i ["in^4"], n [""], t ["in"], d_h ["in"], own ["in"], arm ["in"], a_n ["in^2"], shift ["in"], s ["in^3"] }, NET_SECTION);
        within("net section modulus (in³)", s_n, [1e-9, f64::MAX], NET_SECTION)?;
        Ok(s_n)
    };
    let strong = modulus("net section modulus over the depth", profile.i_x_in4, profile.s_x_in3, deep, d_h, 1.0)?;
    let weak = modulus("net section modulus over the width", profile.i_y_in4, profile.s_y_in3, wide, t, shifts_wide)?;
    Ok([a_n, strong, weak])
}

fn at_hole<T: Trace>(
    trace: &mut T,
    profile: &Profile,
    steel: &Steel,
    forces: &Forces,
    hole: HoleHere,
) -> Result<f64, Refusal> {
    let [a_n, s_strong, s_weak] = net_section(trace, profile, hole)?;
    let (p, f_y, omega) = (forces.axial_n.abs() * KIP_PER_N, steel.fy_ksi, OMEGA_YIELD);
    let (m_1, m_2) = (forces.strong_nmm.abs() * KIPIN_PER_NMM, forces.weak_nmm.abs() * KIPIN_PER_NMM);
    let u = (p / a_n + m_1 / s_strong + m_2 / s_weak) / (f_y / omega);
    step!(trace, "first yield beside the hole", u [""] = "(p/a_n + m_1/s_strong + m_2/s_weak)/(f_y/omega)",
        { p ["kip"], a_n ["in^2"], m_1 ["kip in"], s_strong ["in^3"], m_2 ["kip in"], s_weak ["in^3"], f_y ["ksi"], omega [""] }, NET_YIELD);
    if forces.axial_n <= 0.0 {
        return Ok(u);
    }
    let (f_u, omega_u) = (steel.fu_ksi, OMEGA_RUPTURE);
    let u_rupture = p / (f_u * a_n / omega_u);
    step!(trace, "rupture beside the hole", u_rupture [""] = "p/(f_u*a_n/omega_u)", { p ["kip"], f_u ["ksi"], a_n ["in^2"], omega_u [""] }, tension::TENSION);
    Ok(u.max(u_rupture))
}
