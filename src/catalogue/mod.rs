//! Comes in: nothing. Goes out: sections, species, bolts, soils and published tables, each row with its source.
//! This room never adjusts a value: factors are for the checks.

pub mod aluminium;
pub mod bolts;
mod lookup;
pub mod lumber;
pub mod metals;
pub mod movement;
pub mod screws;
mod section;
mod shape_formulas;
pub mod soils;
mod source;
pub mod species;
pub mod steel;
pub mod stock;
mod trace;

pub use bolts::{Bolt, BoltLength, BoltSeries, NoStockedLength, UnknownBolt, Washer, bolt, bolt_length};
pub use lookup::{UnknownSection, section, sections};
pub use metals::{BOLT_GRADES, BoltGrade, Metal, bolt_grade, metal, metal_of};
pub use screws::{Screw, ScrewKind, UnknownScrew, screw};
pub use section::{Family, SawnClass, Seasoning, Section, Shape, rectangle_torsion};
pub use soils::{Soil, soil_class};
pub use source::{Certainty, Source};
pub use species::{DesignTable, DesignValues, Grade, NotHeld, Species, Stiffness, density, design_values, stiffness};
pub use stock::{Market, YardLengths, stock_lengths};
pub use trace::{Chapter, Chapters, Record, Silent, Step, Term, Trace, term};
