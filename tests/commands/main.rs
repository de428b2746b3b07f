//! The binary end to end.
mod common;
mod tilts;
