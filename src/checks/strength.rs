//! From a design that is laid out to what may be said of its strength.

use super::{
    model::StructureError,
    verify::{Report, Verdict, verify},
};
use crate::{
    design::{Fault, Read, StrengthBasis},
    frame::LaidOut,
};

/// Why there is no verdict where a design writes no loads.
pub const NO_LOADS: &str = "the design gives neither wind nor snow";

/// What strength was given, and what every check found.
#[derive(Debug, Clone)]
pub struct Strength {
    /// What was given.
    pub basis: StrengthBasis,
    /// What was found.
    pub report: Report,
}

impl Strength {
    /// Every check of a design at every tilt; nothing where it writes neither wind nor snow.
    ///
    /// # Errors
    /// Every field that strength needs and does not find, or a frame that cannot be analysed, at its place.
    pub fn of(laid: &LaidOut) -> Result<Option<Self>, Vec<Fault>> {
        let at_its_place = |fault| laid.places.point_out(fault);
        let basis = laid.design.strength_basis();
        let basis = basis.map_err(|faults| faults.into_iter().map(at_its_place).collect::<Vec<_>>())?;
        let Some(basis) = basis else { return Ok(None) };
        match verify(&laid.design, &laid.frame, &basis) {
            Ok(report) => Ok(Some(Self { basis, report })),
            Err(error) => Err(vec![at_its_place(error.fault())]),
        }
    }
}

/// What may be said of the strength of a design.
///
/// # Errors
/// Every refusal of its layout, every field that strength needs and does not find, a frame that cannot be analysed.
pub fn verdict(read: Read) -> Result<Verdict, Vec<Fault>> {
    let strength = Strength::of(&LaidOut::of(read, None)?)?;
    Ok(strength.map_or_else(|| Verdict::None(vec![NO_LOADS.to_string()]), |strength| strength.report.verdict))
}

impl StructureError {
    /// A frame that cannot be analysed is bad input: the field to change, and how.
    #[must_use]
    pub fn fault(&self) -> Fault {
        let (code, field, hint) = match self {
            Self::NotHeld(_) => (
                "grade-not-held",
                "frame.grade",
                "choose a grade, species or size that the tables of design values hold",
            ),
            Self::Load(_) => ("no-load-clause", "support", "change the height or the tilts"),
            Self::Analysis { .. } => (
                "frame-not-stable",
                "frame",
                "something can move without resistance: add corner braces, a stay or a rail",
            ),
        };
        Fault::new(code, field, self.to_string()).hint(hint)
    }
}
