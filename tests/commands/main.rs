//! The binary end to end.
mod bad_input;
mod common;
mod cutplan;
mod drill;
mod explain;
mod governs;
mod metal;
mod reading;
mod refusals;
mod runners;
mod said;
mod site;
mod size;
mod square;
mod strength;
mod tilts;
mod writing;
