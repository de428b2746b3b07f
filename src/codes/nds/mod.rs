//! Sawn wood and its fasteners by the National Design Specification, allowable stress design.
//!
//! Inches, pounds and pounds per square inch throughout, as printed.

pub mod adjusted;
pub mod beam;
pub mod bearing;
pub mod column;
pub mod combined;
pub mod connection;
pub mod dowel;
pub mod dowel_bearing;
pub mod factors;
pub mod gap;
pub mod geometry;
pub mod group;
pub mod net_section;
pub mod shear;
pub mod withdrawal;

pub use adjusted::{Adjusted, Conditions, adjust};
pub use beam::{BeamLoading, beam_stability, effective_length};
pub use column::{ColumnKind, EndFixity, column_stability};
pub use dowel::{Dowel, Mode, Yield, double_shear, single_shear};
pub use factors::{Axis, Duration, Property, Temperature};
