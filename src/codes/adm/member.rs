//! An aluminium member: first yield, and what is not held.

use super::yield_utilisation;
use crate::{
    catalogue::{Family, Metal, Section, Silent, Trace},
    codes::{
        Ask, Calc, Forces, Member, Refusal, Strut,
        aisc360::Profile,
        asked::{KIP_PER_N, KIPIN_PER_NMM},
    },
    loads::Duration,
};

/// An aluminium member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AluminiumMember {
    /// Section.
    pub section: &'static Section,
    /// Alloy.
    pub alloy: &'static Metal,
}

impl AluminiumMember {
    /// Utilisation for a question; none where it does not arise in aluminium: bearing in it stands with its bolts.
    pub(in crate::codes) fn utilisation<T: Trace>(&self, trace: &mut T, ask: &Ask) -> Option<Result<f64, Refusal>> {
        let name = &self.section.name;
        let not_held =
            |what: &str| Err(Refusal::not_held(format!("{name}: equations for {what} of aluminium are not held")));
        Some(match ask {
            Ask::Bent(forces, None) => aluminium_yield(trace, self.section, self.alloy, forces),
            Ask::Bent(_, Some(_)) => not_held("the section left at a hole"),
            Ask::Sheared(_, None) => not_held("shear"),
            Ask::Twisted(_) => not_held("torsion"),
            Ask::Spanning(_) => Err(Refusal::not_held(format!("{name}: bending of aluminium purlins is not held"))),
            Ask::Below(..) => Err(Refusal::not_held(format!("{name} in concrete: aluminium is not held there"))),
            Ask::OneBolt(..) => not_held("one-bolt struts"),
            Ask::Sheared(_, Some(_)) | Ask::Hung(..) | Ask::TornOut(..) | Ask::Pressed(..) => return None,
        })
    }
}

impl Member for AluminiumMember {
    fn answer(&self, _: Duration, ask: &Ask) -> Option<Result<f64, Refusal>> {
        self.utilisation(&mut Silent, ask)
    }

    fn calc(&self, _: Duration, ask: Ask) -> Calc {
        Calc::Aluminium(*self, ask)
    }

    fn strut(&self, strut: &Strut) -> Result<Vec<Ask>, Refusal> {
        Ok(vec![Ask::Bent(Forces { axial_n: strut.axial_n, ..Forces::default() }, None)])
    }
}

/// First yield of an aluminium member under axial force and bending; shear, torsion and every buckling are left out.
///
/// # Errors
/// A section of another material.
pub fn aluminium_yield<T: Trace>(
    trace: &mut T,
    section: &Section,
    alloy: &Metal,
    forces: &Forces,
) -> Result<f64, Refusal> {
    let profile = Profile::of(section).filter(|_| section.family == Family::Aluminium);
    let profile = profile.ok_or_else(|| Refusal::not_held(format!("{} is no aluminium section", section.name)))?;
    let axial = forces.axial_n * KIP_PER_N / profile.area_in2;
    let bending = forces.strong_nmm.abs() * KIPIN_PER_NMM / profile.s_x_in3
        + forces.weak_nmm.abs() * KIPIN_PER_NMM / profile.s_y_in3;
    Ok(yield_utilisation(trace, alloy, axial, bending))
}
