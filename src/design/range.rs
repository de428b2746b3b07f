//! The lengths that a field takes: one table for whoever judges a file and whoever proposes a change of it.

use crate::quantities::MM_PER_INCH;

/// Field, least and most (mm).
const LENGTHS: [(&str, [f64; 2]); 19] = [
    // Nobody passes through less than 24 in (common practice, no source), and frames never touch.
    ("array.frame_gap", [600.0, 30e3]),
    ("array.gap", [2.0, 150.0]),
    ("frame.outside_width", [200.0, 60_000.0]),
    ("frame.outside_length", [200.0, 12_000.0]),
    ("frame.corner_brace.leg", [4.0 * MM_PER_INCH, 60.0 * MM_PER_INCH]),
    ("frame.seating.side_clearance", [2.0, 60.0]),
    ("frame.seating.end_clearance", [2.0, 60.0]),
    ("frame.seating.proud", [0.0, 60.0]),
    ("frame.seating.lap", [8.0, 60.0]),
    ("support.low_edge_clearance", [0.0, 3000.0]),
    ("support.stay.pin_along", [50.0, 10_000.0]),
    ("support.stay.pin_behind", [-60.0, 400.0]),
    ("support.stay.length", [50.0, 10_000.0]),
    ("support.posts.axle_height", [200.0, 5000.0]),
    ("support.posts.pin_below_axle", [50.0, 5000.0]),
    ("support.posts.pin_offset", [-300.0, 300.0]),
    ("support.runners.length", [300.0, 15_000.0]),
    ("support.runners.hinge_above_holes", [20.0, 2000.0]),
    ("support.runners.hinge_from_low_edge", [20.0, 2000.0]),
];

/// Least and most that a field takes (mm); nothing for a field whose range hangs on other fields.
#[must_use]
pub fn length_range_mm(field: &str) -> Option<[f64; 2]> {
    LENGTHS.iter().find(|(name, _)| *name == field).map(|(_, range)| *range)
}
