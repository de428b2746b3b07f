//! The binary end to end.
mod common;
mod cutplan;
mod site;
mod tilts;
