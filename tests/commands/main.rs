//! The binary end to end.
mod common;
mod site;
mod tilts;
