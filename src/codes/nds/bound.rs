//! What the utilisation of a wood member can reach at most, from its forces alone.
//!
//! A survey asks this first: most places under most combinations cannot beat the worst that is kept, and then the
//! equations need not be evaluated. A bound never decides a result.

use super::member::{NO_COLUMN_SHARE, Strengths, WoodMember};
use crate::{
    catalogue::Silent,
    codes::{
        Ask, Forces, HoleHere,
        asked::{INLB_PER_NMM, LBF_PER_N},
    },
};

/// Compression up to which the bound holds, as a share of the smaller buckling stress...
const COMPRESSION: f64 = 0.1;
/// ...and bending over the depth, as a share of F_bE. Beyond them the equations are evaluated.
const BENDING: f64 = 0.3;
/// Rounding of the equations themselves.
const HAIR: f64 = 1.0 + 1e-9;

/// Linear bound of [`WoodMember::combined`].
///
/// ```text
/// (f_c/F_c′)² ≤ f_c f_cap/F_c′²      1/(1 − f_c/F_cE) ≤ 1/(1 − f_cap/F_cE)      the largest of three ≤ the sum of largest terms
/// ```
#[derive(Debug, Clone, Copy)]
pub(crate) struct Bound {
    /// Compression (N) and moment over the depth (N·mm) it holds up to.
    up_to: [f64; 2],
    /// Utilisation per newton of compression, per N·mm of either moment.
    pressed: [f64; 3],
    /// The same for tension.
    pulled: [f64; 3],
    /// Shear per newton along and across the depth.
    sheared: f64,
    /// Twist per N·mm, and per newton of the shear with it.
    twisted: [f64; 2],
}

impl Bound {
    /// The bound of a member, at a hole or not; one that bounds nothing where the equations give no number.
    pub(super) fn of(member: &WoodMember, strengths: &Strengths, hole: Option<HoleHere>) -> Self {
        // Both are straight lines through nothing in the size of each force, so one newton tells all.
        let one = |forces| member.sheared(&mut Silent, strengths, &forces, hole);
        let sheared = HAIR
            * one(Forces { shear_n: 1.0, ..Forces::default() })
                .max(one(Forces { cross_shear_n: 1.0, ..Forces::default() }));
        let one = |forces| HAIR * member.twisted(&mut Silent, strengths, &forces);
        let twisted =
            [one(Forces { torsion_nmm: 1.0, ..Forces::default() }), one(Forces { shear_n: 1.0, ..Forces::default() })];
        let Ok([area, s_strong, s_weak]) = member.left(&mut Silent, hole) else {
            let nothing = [f64::INFINITY; 3];
            return Self { up_to: [-1.0; 2], pressed: nothing, pulled: nothing, sheared, twisted };
        };
        let per = [LBF_PER_N / area, INLB_PER_NMM / s_strong, INLB_PER_NMM / s_weak];
        let given = &strengths.adjusted;
        let (fb1, fb2) = (given.fb_star_psi * strengths.c_l, strengths.fb_weak_psi);
        let pulled = [1.0 / given.ft_psi, (1.0 / given.fb_star_psi).max(1.0 / fb1), 1.0 / fb2];
        let (up_to, pressed) = match &strengths.column {
            Ok((fc, [f_ce1, f_ce2])) => {
                let cap = COMPRESSION * f_ce1.min(*f_ce2);
                let along = (cap / (fc * fc)).max(1.0 / fc).max(1.0 / f_ce2);
                let strong = (1.0 / (fb1 * (1.0 - cap / f_ce1))).max(BENDING / strengths.f_be_psi);
                let weak = 1.0 / (fb2 * (1.0 - cap / f_ce2 - BENDING * BENDING));
                ([cap / per[0], BENDING * strengths.f_be_psi / per[1]], [along, strong, weak])
            }
            Err(_) => ([NO_COLUMN_SHARE * given.fc_star_psi / per[0], f64::INFINITY], [0.0, 1.0 / fb1, 1.0 / fb2]),
        };
        let scaled = |of: [f64; 3]| std::array::from_fn(|k| of[k] * per[k] * HAIR);
        Self { up_to, pressed: scaled(pressed), pulled: scaled(pulled), sheared, twisted }
    }

    /// The answer to a question at most; infinite where nothing bounds it.
    pub(crate) fn most(&self, ask: &Ask) -> f64 {
        match ask {
            Ask::Bent(forces, _) => self.at(forces),
            Ask::Sheared(forces, _) => self.sheared(forces),
            Ask::Twisted(forces) => self.twisted(forces),
            Ask::Hung(..)
            | Ask::TornOut(..)
            | Ask::OneBolt(..)
            | Ask::Pressed(..)
            | Ask::Spanning(..)
            | Ask::Below(..) => f64::INFINITY,
        }
    }

    /// [`WoodMember::sheared`] at most.
    fn sheared(&self, forces: &Forces) -> f64 {
        self.sheared * forces.shear_n.abs().max(forces.cross_shear_n.abs())
    }

    /// [`WoodMember::twisted`] at most: the resultant shear is no greater than the sum of both.
    fn twisted(&self, forces: &Forces) -> f64 {
        self.twisted[0] * forces.torsion_nmm.abs()
            + self.twisted[1] * (forces.shear_n.abs() + forces.cross_shear_n.abs())
    }

    /// [`WoodMember::combined`] at most; infinite where the bound does not hold.
    fn at(&self, forces: &Forces) -> f64 {
        let (strong, weak) = (forces.strong_nmm.abs(), forces.weak_nmm.abs());
        let sum = |of: &[f64; 3]| forces.axial_n.abs() * of[0] + strong * of[1] + weak * of[2];
        if forces.axial_n > 0.0 {
            sum(&self.pulled)
        } else if -forces.axial_n <= self.up_to[0] && strong <= self.up_to[1] {
            sum(&self.pressed)
        } else {
            f64::INFINITY
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{
        catalogue::{self, Grade, Species, design_values},
        codes::nds::Duration,
    };

    #[test]
    fn no_utilisation_is_above_its_bound() {
        let section = catalogue::section("2x6").expect("a stocked size");
        let values = design_values(Species::SouthernPine, Grade::No2, section).expect("held");
        let member = WoodMember {
            section,
            values,
            wet: false,
            incised: false,
            free_strong_mm: 1800.0,
            free_weak_mm: 600.0,
            k_e: 1.0,
        };
        let strengths = member.strengths(&mut Silent, Duration::TenMinutes).expect("in range");
        let hole = HoleHere { diameter_mm: 14.3, from_edge_mm: 69.0 };
        let mut held = 0;
        for at in [None, Some(hole)] {
            let bound = Bound::of(&member, &strengths, at);
            for k in 0..4000_u32 {
                let part = |n: u32, most: f64| most * (f64::from((k * n) % 101) / 50.0 - 1.0);
                let forces = Forces {
                    axial_n: part(7, 6000.0),
                    strong_nmm: part(13, 2e6),
                    weak_nmm: part(29, 4e5),
                    shear_n: part(31, 3000.0),
                    cross_shear_n: part(37, 900.0),
                    torsion_nmm: part(41, 2e5),
                };
                assert!(member.sheared(&mut Silent, &strengths, &forces, at) <= bound.sheared(&forces));
                assert!(member.twisted(&mut Silent, &strengths, &forces) <= bound.twisted(&forces));
                let Ok(u) = member.combined(&mut Silent, &strengths, &forces, at) else { continue };
                assert!(u <= bound.at(&forces), "{u} {} {forces:?}", bound.at(&forces));
                held += u32::from(bound.at(&forces).is_finite());
            }
        }
        assert!(held > 2000, "the bound holds nearly everywhere: {held}");
    }
}
