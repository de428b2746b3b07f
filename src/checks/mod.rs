//! Comes in: forces and sections. Goes out: utilisations with equation and source.
//! This room never analyses and never prints.
