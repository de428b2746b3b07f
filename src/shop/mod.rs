//! Comes in: pieces and stock. Goes out: cut list, cut plan with its proof, hardware.
//! This room never changes a piece.

mod assembly;
mod bench_check;
mod cut_list;
pub mod cut_plan;
mod hardware;
mod holding;
mod pricing;
mod weight;

pub use assembly::assembly;
pub use bench_check::{BenchCheck, Taping};
pub use cut_list::{CutLine, CutList, CutListError, Sawing, Unpriced, make, sawing};
pub use hardware::{HardwareLine, Sold, bag_kg, clip_mm, foot_of_post, gravel_mm, list as hardware};
pub use holding::{Holding, holding};
pub(crate) use pricing::caveat;
pub use pricing::{Bought, Total, price_row, unused_prices};
pub use weight::{stick_kg, turning_mass};
