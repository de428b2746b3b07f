//! Why a search, or one of its candidates, has no answer.

use super::judged::Judged;
use crate::{
    checks::{
        NO_LOADS,
        model::StructureError,
        verify::{Kind, Outcome, State},
    },
    design::{Design, Fault, StrengthBasis},
};

/// Why no search can be made.
#[derive(Debug, Clone, PartialEq)]
pub enum SizeError {
    /// Prices are missing for goods of which candidates need different amounts: the rows to add.
    PricesMissing(Vec<String>),
    /// The design as written gives no check a number, so that nothing could be compared: what `strength` says of it.
    NothingChecked(String),
    /// The design as written cannot be laid out, or lacks what strength needs.
    Design(Vec<Fault>),
    /// The design as written cannot be analysed.
    Structure(StructureError),
}

impl SizeError {
    /// The error in a few words.
    pub(super) fn why(&self) -> String {
        match self {
            Self::PricesMissing(rows) => rows.join(", "),
            Self::NothingChecked(why) => why.clone(),
            Self::Design(faults) => faults.first().map_or_else(String::new, |fault| fault.sentence.clone()),
            Self::Structure(error) => error.to_string(),
        }
    }
}

/// What strength needs of a design.
pub(super) fn basis_of(design: &Design) -> Result<StrengthBasis, SizeError> {
    let basis = design.strength_basis().map_err(SizeError::Design)?;
    basis.ok_or_else(|| SizeError::NothingChecked(NO_LOADS.to_string()))
}

/// A candidate that the checks cannot say anything of.
pub(super) fn nothing_known(candidate: usize, amount: i64, why: String) -> Judged {
    let row = Outcome::open("frame", Kind::MemberBending, String::new(), State::Refused(why.clone()));
    Judged {
        candidate,
        amount,
        failing: vec![row],
        governing: Vec::new(),
        verdict: format!("no verdict can be given ({why})"),
        holds: false,
    }
}
