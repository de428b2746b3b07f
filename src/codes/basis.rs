//! Which code answers: by the basis of the design, and by what a part is made of.

use super::{
    Code, LayerMaterial, Plate, Refusal,
    adm::Adm,
    aisc360::Aisc360,
    ibc::{Ibc, Rules},
    nds::Nds,
};
use crate::{
    catalogue::{BoltGrade, Family, Section, bolt_grade, metal_of},
    design::{Design, StrengthBasis, WindBasis},
};
use std::sync::LazyLock;

/// The steel of bolts where a design names none: the weakest one that shops keep.
static COMMON: LazyLock<&'static BoltGrade> = LazyLock::new(|| bolt_grade("A307 Gr A").expect("a listed grade"));

/// The steel that all bolts of a design are checked with.
#[must_use]
pub fn grade_of_bolts(design: &Design) -> &'static BoltGrade {
    design.support.bolt_grade.unwrap_or(*COMMON)
}

/// The codes of a basis, one for each material and one for the ground and what moves.
pub(crate) struct Codes {
    wood: Box<dyn Code>,
    steel: Box<dyn Code>,
    aluminium: Box<dyn Code>,
    site: Box<dyn Code>,
    /// Specific gravity of the frame's wood.
    gravity: Option<f64>,
}

impl Codes {
    /// The codes that the design's loads are meant for: actions of one family are never held against strengths of another.
    pub(crate) fn of(basis: &StrengthBasis) -> Self {
        let gravity = basis.wood.map(|wood| wood.species.specific_gravity());
        match basis.loads.wind {
            WindBasis::Asce(_) => Self {
                wood: Box::new(Nds { wood: basis.wood, incised: basis.incised }),
                steel: Box::new(Aisc360),
                aluminium: Box::new(Adm),
                site: Box::new(Ibc),
                gravity,
            },
            WindBasis::En(_) => Self {
                wood: Box::new(Unheld("EN 1995-1-1")),
                steel: Box::new(Unheld("EN 1993-1-1")),
                aluminium: Box::new(Unheld("EN 1999-1-1")),
                site: Box::new(Unheld("EN 1997-1")),
                gravity,
            },
        }
    }

    /// The code of a material.
    pub(crate) fn of_family(&self, family: Family) -> &dyn Code {
        match family {
            Family::Wood => &*self.wood,
            Family::Steel => &*self.steel,
            Family::Aluminium => &*self.aluminium,
        }
    }

    /// The code of a joint between two materials: that of aluminium, of which least is held, then that of wood, which asks
    /// for steel itself.
    pub(crate) fn of_joint(&self, families: [Family; 2]) -> &dyn Code {
        let first = [Family::Aluminium, Family::Wood].into_iter().find(|family| families.contains(family));
        self.of_family(first.unwrap_or(Family::Steel))
    }

    /// The code of the ground, of weight and of movement.
    pub(crate) fn site(&self) -> &dyn Code {
        &*self.site
    }

    /// Rules of the site's code.
    ///
    /// # Errors
    /// A code that is not held: then nothing can be compared with anything.
    pub(crate) fn rules(&self) -> Result<&'static Rules, Refusal> {
        self.site.rules()
    }

    /// What a layer on a bolt bears with: the section with its hole (mm).
    pub(crate) fn layer_material(&self, section: &'static Section, hole_mm: f64) -> LayerMaterial {
        match (section.family, self.gravity, metal_of(section)) {
            (Family::Wood, Some(gravity), _) => LayerMaterial::Wood(gravity),
            (Family::Steel, _, Some(metal)) => {
                LayerMaterial::Steel(Plate { metal, wall_mm: section.wall_mm, hollow: section.is_hollow(), hole_mm })
            }
            (Family::Wood | Family::Steel | Family::Aluminium, ..) => LayerMaterial::Aluminium,
        }
    }
}

/// A code of which no equation is held yet.
struct Unheld(&'static str);

impl Code for Unheld {
    fn document(&self) -> &'static str {
        self.0
    }

    fn does_not_treat(&self, _: &str) -> Refusal {
        Refusal::not_held("EN resistances are not encoded: actions, reactions and equilibrium only")
    }
}
