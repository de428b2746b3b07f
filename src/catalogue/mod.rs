//! Comes in: nothing. Goes out: sections, species, bolts, soils and published tables, each row with its source.
//! This room never adjusts a value: factors are for the checks.

pub mod aluminium;
mod lookup;
pub mod lumber;
mod section;
mod shape_formulas;
mod source;
pub mod steel;
mod trace;

pub use lookup::{UnknownSection, section, sections};
pub use section::{Family, SawnClass, Seasoning, Section, Shape, rectangle_torsion};
pub use source::{Certainty, Source};
pub use trace::{Record, Silent, Step, Term, Trace, term};
