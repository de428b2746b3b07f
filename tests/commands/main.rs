//! The binary end to end.
mod common;
mod site;
mod cutplan;
mod tilts;
