//! Comes in: a design. Goes out: every piece with its exact place, every hole, every clearance.
//! This room never weighs loads and never draws.
