//! Comes in: nothing. Goes out: sections, species, bolts, soils and published tables, each row with its source.
//! This room never adjusts a value: factors are for the checks.

mod source;
mod trace;

pub use source::{Certainty, Source};
pub use trace::{Record, Silent, Step, Term, Trace, term};
