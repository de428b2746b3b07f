//! Comes in: a design with open choices. Goes out: the cheapest or lightest one that passes, what governed it, and the
//! next cheaper ones failing. This room never prints.
//!
//! Every candidate goes the way of every design: fields put in place and judged, frame laid out, sticks planned, every
//! check at every tilt. Candidates are judged in ascending order of cost, so the first that passes is the optimum; what
//! is left out on the way is left out by proof: a layout that is refused, or a failing check.

mod bill;
mod judged;
mod ladder;
mod refused;
mod search;
mod solved;
mod space;

pub use bill::Goal;
pub use judged::{Judged, LeftOpen};
pub use ladder::ladder;
pub use refused::SizeError;
pub use search::{Counts, Found, Search, Watch};
pub use space::{Axis, MOST_CANDIDATES, Space};
