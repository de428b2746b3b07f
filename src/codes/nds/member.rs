//! A wood member at one place under one combination: bending both ways with axial force, and shear.

use super::{
    Adjusted, BeamLoading, Bound, ColumnKind, Conditions, Duration, Temperature, adjust, beam_stability, bearing,
    column, column_stability, combined, effective_length, net_section, shear,
};
use crate::{
    catalogue::{Certainty, DesignValues, Section, Silent, Source, Trace, density},
    codes::{
        Ask, Calc, Forces, HoleHere, Member, Refusal, Strut,
        asked::{INLB_PER_NMM, LBF_PER_N, simple_span},
    },
    quantities::MM_PER_INCH,
};
use std::borrow::Cow;

/// Weak-axis bending with tension: added to the equations of the code, which give one axis.
const BIAXIAL_TENSION: Source =
    Source::new("NDS-2018", "Eq. 3.9-1 with a term for the second axis", Certainty::Judgement);

/// A sawn member with the lengths over which it is free.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WoodMember {
    /// Section.
    pub section: &'static Section,
    /// Reference values.
    pub values: DesignValues,
    /// Wet service, or in the ground.
    pub wet: bool,
    /// Incised.
    pub incised: bool,
    /// Free length for buckling over the depth (mm).
    pub free_strong_mm: f64,
    /// Free length for buckling over the thickness, and of the compression edge in bending (mm).
    pub free_weak_mm: f64,
    /// Effective length coefficient K_e of both as a column.
    pub k_e: f64,
}

/// Twist of a solid rectangle: the first term of the series, within 0.2 % of all of them.
const TWIST: Source = Source::new("St. Venant", "torsion of a rectangle, first term of the series", Certainty::Derived);
/// What the twist is held against.
const TWIST_ALLOWED: Source = Source::new(
    "judgement",
    "shear of twist and of bending added, against F_v′: no value of its own is published",
    Certainty::Judgement,
);

/// Strengths of a member for one load duration.
#[derive(Debug, Clone, PartialEq)]
pub struct Strengths {
    pub(super) adjusted: Adjusted,
    pub(super) c_l: f64,
    pub(super) f_be_psi: f64,
    /// Allowable compression and the two buckling stresses; none where the member is too slender to be a column.
    pub(super) column: Result<(f64, [f64; 2]), Refusal>,
    pub(super) fb_weak_psi: f64,
}

/// Compression below this share of the crushing strength does not make a bent member a column. Judgement: its term
/// (f_c/F_c′)² is lost in the rounding, and slenderness above 50 is refused for columns only.
pub(super) const NO_COLUMN_SHARE: f64 = 0.02;
/// Bending where compression is negligible.
const BENDING_ONLY: Source = Source::new(
    "judgement",
    "compression below 2 % of F_c*: bending about both axes added, NDS §3.9.2 without its column terms",
    Certainty::Judgement,
);

impl WoodMember {
    fn size_in(&self) -> [f64; 2] {
        [self.section.width_mm / MM_PER_INCH, self.section.depth_mm / MM_PER_INCH]
    }

    fn adjusted<T: Trace>(&self, trace: &mut T, duration: Duration) -> Result<Adjusted, Refusal> {
        let conditions = Conditions {
            duration,
            wet: self.wet,
            temperature: Temperature::Usual,
            incised: self.incised,
            repetitive: false,
        };
        adjust(trace, &self.values, self.section, &conditions)
    }

    /// Strengths for a load duration.
    ///
    /// # Errors
    /// A factor that is not held, or a slenderness outside the range of its equation.
    pub fn strengths<T: Trace>(&self, trace: &mut T, duration: Duration) -> Result<Strengths, Refusal> {
        let adjusted = self.adjusted(trace, duration)?;
        let [b, d] = self.size_in();
        let l_e = effective_length(trace, BeamLoading::Other, self.free_weak_mm / MM_PER_INCH, d);
        let beam = beam_stability(trace, [b, d], l_e, adjusted.e_min_psi, adjusted.fb_star_psi)?;
        let column = self.column(trace, &adjusted);
        let fb_weak_psi = adjusted
            .fb_weak_psi
            .ok_or_else(|| Refusal::not_held(format!("flat use factor of {}", self.section.name)))?;
        Ok(Strengths { adjusted, c_l: beam.c_l, f_be_psi: beam.f_be_psi, column, fb_weak_psi })
    }

    fn column<T: Trace>(&self, trace: &mut T, adjusted: &Adjusted) -> Result<(f64, [f64; 2]), Refusal> {
        let [b, d] = self.size_in();
        let k_e = self.k_e;
        if k_e != 1.0 {
            let (l, l_e) = (self.free_strong_mm / MM_PER_INCH, k_e * self.free_strong_mm / MM_PER_INCH);
            step!(trace, "effective length of the column", l_e ["in"] = "k_e*l", { k_e [""], l ["in"] }, column::END_FIXITY);
        }
        let strong = column::slenderness(trace, k_e, self.free_strong_mm / MM_PER_INCH, d);
        let weak = column::slenderness(trace, k_e, self.free_weak_mm / MM_PER_INCH, b);
        let (e_min, fc_star) = (adjusted.e_min_psi, adjusted.fc_star_psi);
        let governing = column_stability(trace, ColumnKind::Sawn, strong.max(weak), e_min, fc_star)?;
        let f_ce1 = column::critical_stress(trace, strong, e_min)?;
        let f_ce2 = column::critical_stress(trace, weak, e_min)?;
        let c_p = governing.c_p;
        let fc_allowed = fc_star * c_p;
        step!(
            trace,
            "allowable compression along the grain",
            fc_allowed["psi"] = "fc_star*c_p",
            { fc_star["psi"], c_p[""] },
            column::COLUMN_STABILITY
        );
        Ok((fc_allowed, [f_ce1, f_ce2]))
    }

    /// Area (in²) and both moduli (in³), over the depth and over the thickness, of the section or what a hole leaves of it.
    pub(super) fn left<T: Trace>(&self, trace: &mut T, hole: Option<HoleHere>) -> Result<[f64; 3], Refusal> {
        let [b, d] = self.size_in();
        let Some(hole) = hole else { return Ok([b * d, b * d * d / 6.0, d * b * b / 6.0]) };
        let h = hole.diameter_mm / MM_PER_INCH;
        let s_strong = net_section::net_modulus(trace, [b, d], h, hole.from_edge_mm / MM_PER_INCH)?;
        let area = net_section::net_area(trace, [b, d], h, 1)?;
        Ok([area, s_strong, area * b / 6.0])
    }

    /// Utilisation of bending both ways with axial force; at a hole with the section that is left.
    ///
    /// # Errors
    /// As the equations of NDS 3.9.
    pub fn combined<T: Trace>(
        &self,
        trace: &mut T,
        strengths: &Strengths,
        forces: &Forces,
        hole: Option<HoleHere>,
    ) -> Result<f64, Refusal> {
        let [area, s_strong, s_weak] = self.left(trace, hole)?;
        let m_strong = forces.strong_nmm.abs() * INLB_PER_NMM;
        let fb1 = m_strong / s_strong;
        step!(trace, "bending stress over the depth", fb1 ["psi"] = "m_strong/s_strong", { m_strong ["in lb"], s_strong ["in^3"] }, STRESS);
        let m_weak = forces.weak_nmm.abs() * INLB_PER_NMM;
        let fb2 = m_weak / s_weak;
        step!(trace, "bending stress over the thickness", fb2 ["psi"] = "m_weak/s_weak", { m_weak ["in lb"], s_weak ["in^3"] }, STRESS);
        let p = forces.axial_n.abs() * LBF_PER_N;
        let f = p / area;
        step!(trace, "axial stress", f ["psi"] = "p/area", { p ["lb"], area ["in^2"] }, STRESS);
        let (fb_star, c_l) = (strengths.adjusted.fb_star_psi, strengths.c_l);
        let fb1_allowed = fb_star * c_l;
        step!(trace, "allowable bending over the depth", fb1_allowed ["psi"] = "fb_star*c_l", { fb_star ["psi"], c_l [""] }, STRESS);
        if forces.axial_n > 0.0 {
            let u_axis =
                combined::bending_and_tension(trace, [f, strengths.adjusted.ft_psi], fb1, fb_star, fb1_allowed);
            let fb2_allowed = strengths.fb_weak_psi;
            let u = u_axis + fb2 / fb2_allowed;
            step!(trace, "tension with bending about both axes", u [""] = "u_axis + fb2/fb2_allowed",
                { u_axis [""], fb2 ["psi"], fb2_allowed ["psi"] }, BIAXIAL_TENSION);
            return Ok(u);
        }
        let (fc_allowed_psi, [f_ce1_psi, f_ce2_psi]) = match &strengths.column {
            Ok(column) => *column,
            Err(_) if f <= NO_COLUMN_SHARE * strengths.adjusted.fc_star_psi => {
                let fb2_allowed = strengths.fb_weak_psi;
                let u = fb1 / fb1_allowed + fb2 / fb2_allowed;
                step!(trace, "bending about both axes", u [""] = "fb1/fb1_allowed + fb2/fb2_allowed",
                    { fb1 ["psi"], fb1_allowed ["psi"], fb2 ["psi"], fb2_allowed ["psi"] }, BENDING_ONLY);
                return Ok(u);
            }
            Err(refusal) => return Err(refusal.clone()),
        };
        combined::bending_and_compression(
            trace,
            &combined::Compressed {
                fc_psi: f,
                fc_allowed_psi,
                fb1_psi: fb1,
                fb1_allowed_psi: fb1_allowed,
                fb2_psi: fb2,
                fb2_allowed_psi: strengths.fb_weak_psi,
                f_ce1_psi,
                f_ce2_psi,
                f_be_psi: strengths.f_be_psi,
            },
        )
    }

    /// Utilisation of the larger shear; at a hole with the depth that is left, on the safe side.
    pub fn sheared<T: Trace>(
        &self,
        trace: &mut T,
        strengths: &Strengths,
        forces: &Forces,
        hole: Option<HoleHere>,
    ) -> f64 {
        let [b, d_g] = self.size_in();
        let mut d = d_g;
        if let Some(hole) = hole {
            let h = hole.diameter_mm / MM_PER_INCH;
            d = d_g - h;
            step!(trace, "depth beside the hole", d ["in"] = "d_g - h", { d_g ["in"], h ["in"] }, net_section::NET_AREA);
        }
        let f_v = if forces.shear_n.abs() >= forces.cross_shear_n.abs() {
            shear::shear_stress(trace, forces.shear_n.abs() * LBF_PER_N, [b, d])
        } else {
            shear::shear_stress(trace, forces.cross_shear_n.abs() * LBF_PER_N, [d, b])
        };
        let fv_allowed = strengths.adjusted.fv_psi;
        let u = f_v / fv_allowed;
        step!(trace, "shear over its allowable value", u [""] = "f_v/fv_allowed", { f_v ["psi"], fv_allowed ["psi"] }, shear::SHEAR);
        u
    }

    /// Utilisation of the shear of twist, added to that of bending.
    pub fn twisted<T: Trace>(&self, trace: &mut T, strengths: &Strengths, forces: &Forces) -> f64 {
        let [b, d] = self.size_in();
        let t = forces.torsion_nmm.abs() * INLB_PER_NMM;
        let j = crate::catalogue::rectangle_torsion(b, d);
        let (x, pi) = (std::f64::consts::PI * d / (2.0 * b), std::f64::consts::PI);
        let tau = t * b / j * (1.0 - 16.0 / (pi * pi) / (x.exp() + 1.0 / x.exp()));
        step!(trace, "shear stress of twist", tau ["psi"] = "t*b/j*(1 - 16/pi^2/(exp(x) + 1/exp(x)))",
            { t ["in lb"], b ["in"], j ["in^4"], pi [""], x [""] }, TWIST);
        let f_v = shear::shear_stress(trace, forces.shear_n.hypot(forces.cross_shear_n) * LBF_PER_N, [b, d]);
        let fv_allowed = strengths.adjusted.fv_psi;
        let u = (tau + f_v) / fv_allowed;
        step!(trace, "twist and shear over the allowable shear", u [""] = "(tau + f_v)/fv_allowed",
            { tau ["psi"], f_v ["psi"], fv_allowed ["psi"] }, TWIST_ALLOWED);
        u
    }

    /// Shear of a member hung from a bolt over its allowable value: `effective_mm` from the bolt to the nearer edge, since
    /// the load turns round.
    ///
    /// # Errors
    /// An effective depth outside the member.
    pub fn hung<T: Trace>(
        &self,
        trace: &mut T,
        strengths: &Strengths,
        shear_n: f64,
        effective_mm: f64,
        from_end_mm: f64,
    ) -> Result<f64, Refusal> {
        let size = self.size_in();
        let v_allowed = shear::bolted_joint_shear(
            trace,
            strengths.adjusted.fv_psi,
            size,
            effective_mm / MM_PER_INCH,
            from_end_mm / MM_PER_INCH,
        )?;
        let v = shear_n.abs() * LBF_PER_N;
        let u = v / v_allowed;
        step!(trace, "shear at the bolt over its allowable value", u [""] = "v/v_allowed", { v ["lb"], v_allowed ["lb"] }, shear::BOLTED_JOINT);
        Ok(u)
    }

    /// What a pin tears out along the grain: force (N), wood left (mm).
    fn torn_out<T: Trace>(&self, trace: &mut T, strengths: &Strengths, force_n: f64, left_mm: f64) -> f64 {
        let [b, _] = self.size_in();
        let z_rt = net_section::row_tear_out(trace, 1, strengths.adjusted.fv_psi, b, left_mm / MM_PER_INCH);
        let force = force_n.abs() * LBF_PER_N;
        let u = force / z_rt;
        step!(trace, "force along the grain over the tear-out", u [""] = "force/z_rt", { force ["lb"], z_rt ["lb"] }, net_section::TEAR_OUT);
        u
    }

    /// Pressure across the grain: force (N), length and width of the area (mm).
    fn pressed<T: Trace>(
        &self,
        trace: &mut T,
        duration: Duration,
        force_n: f64,
        [length_mm, width_mm]: [f64; 2],
    ) -> Result<f64, Refusal> {
        let adjusted = self.adjusted(trace, duration)?;
        let (l, w) = (length_mm / MM_PER_INCH, width_mm / MM_PER_INCH);
        let f_cp = bearing::bearing_stress(trace, force_n.abs() * LBF_PER_N, l * w);
        let fc_perp = adjusted.fc_perp_psi;
        let u = f_cp / fc_perp;
        step!(trace, "pressure across the grain over its allowable value", u [""] = "f_cp/fc_perp", { f_cp ["psi"], fc_perp ["psi"] }, bearing::BEARING);
        Ok(u)
    }

    /// Utilisation for a question; none where it does not arise in wood.
    pub(in crate::codes) fn utilisation<T: Trace>(
        &self,
        trace: &mut T,
        duration: Duration,
        ask: &Ask,
    ) -> Option<Result<f64, Refusal>> {
        Some(self.under(trace, duration, ask, |trace| self.strengths(trace, duration).map(Cow::Owned)))
    }

    fn under<'s, T: Trace>(
        &self,
        trace: &mut T,
        duration: Duration,
        ask: &Ask,
        strengths: impl FnOnce(&mut T) -> Result<Cow<'s, Strengths>, Refusal>,
    ) -> Result<f64, Refusal> {
        match *ask {
            Ask::Pressed(force_n, area) => self.pressed(trace, duration, force_n, area),
            Ask::Bent(forces, hole) => {
                let strengths = strengths(trace)?;
                self.combined(trace, &strengths, &forces, hole)
            }
            Ask::Sheared(forces, hole) => {
                let strengths = strengths(trace)?;
                Ok(self.sheared(trace, &strengths, &forces, hole))
            }
            Ask::Twisted(forces) => {
                let strengths = strengths(trace)?;
                Ok(self.twisted(trace, &strengths, &forces))
            }
            Ask::Hung(shear_n, [effective_mm, from_end_mm]) => {
                let strengths = strengths(trace)?;
                self.hung(trace, &strengths, shear_n, effective_mm, from_end_mm)
            }
            Ask::TornOut(force_n, pin) => {
                let strengths = strengths(trace)?;
                Ok(self.torn_out(trace, &strengths, force_n, pin.end_mm))
            }
            Ask::Spanning(strip) => {
                let forces = simple_span(trace, strip);
                let strengths = strengths(trace)?;
                self.combined(trace, &strengths, &forces, None)
            }
            Ask::Below(grade, depth_mm) => {
                let forces = grade.below(trace, depth_mm)?;
                let strengths = strengths(trace)?;
                self.combined(trace, &strengths, &forces, None)
            }
            Ask::OneBolt(..) => Err(Refusal::not_held("a wooden strut on one bolt through one leg")),
        }
    }
}

/// A wood member with its strengths for every duration that combinations have.
pub(super) struct Ready {
    member: WoodMember,
    strengths: [(Duration, Result<Strengths, Refusal>); DURATIONS.len()],
}

/// Durations of the combinations.
const DURATIONS: [Duration; 4] = [Duration::Permanent, Duration::TwoMonths, Duration::SevenDays, Duration::TenMinutes];

impl Ready {
    pub(super) fn of(member: WoodMember) -> Self {
        Self { member, strengths: DURATIONS.map(|duration| (duration, member.strengths(&mut Silent, duration))) }
    }

    fn strengths(&self, duration: Duration) -> Result<Cow<'_, Strengths>, Refusal> {
        match self.strengths.iter().find(|(of, _)| *of == duration) {
            Some((_, strengths)) => strengths.as_ref().map(Cow::Borrowed).map_err(Clone::clone),
            None => self.member.strengths(&mut Silent, duration).map(Cow::Owned),
        }
    }
}

impl Member for Ready {
    fn answer(&self, duration: Duration, ask: &Ask) -> Option<Result<f64, Refusal>> {
        // A member whose strength is refused is so with its bending: shear at a bolt and tear-out add nothing to that.
        if matches!(ask, Ask::Hung(..) | Ask::TornOut(..)) && self.strengths(duration).is_err() {
            return None;
        }
        Some(self.member.under(&mut Silent, duration, ask, |_| self.strengths(duration)))
    }

    fn calc(&self, duration: Duration, ask: Ask) -> Calc {
        Calc::Wood(self.member, duration, ask)
    }

    /// Compression runs between holes through the bolt-filled section; tension is looked at in the net one.
    fn strut(&self, strut: &Strut) -> Result<Vec<Ask>, Refusal> {
        let section = self.member.section;
        let moisture = if self.member.wet { 28.0 } else { 19.0 };
        let kg_per_mm = section.area_mm2 * 1e-9 * density(self.member.values.g, moisture);
        let hole = HoleHere { diameter_mm: strut.hole_mm, from_edge_mm: section.depth_mm / 2.0 };
        Ok(vec![Ask::Bent(strut.forces(kg_per_mm), (strut.axial_n > 0.0).then_some(hole))])
    }

    fn bound(&self, duration: Duration, hole: Option<HoleHere>) -> Option<Bound> {
        self.strengths(duration).ok().map(|strengths| Bound::of(&self.member, &strengths, hole))
    }
}

/// Stresses of elementary bending.
const STRESS: Source = Source::new("NDS-2018", "§3.3.2, §3.6.3", Certainty::Transcribed);
