//! The binary end to end.
mod bad_input;
mod common;
mod cutplan;
mod drill;
mod refusals;
mod site;
mod square;
mod tilts;
