//! Comes in: pieces and stock. Goes out: cut list, cut plan with its proof, hardware.
//! This room never changes a piece.

pub mod cut_plan;
