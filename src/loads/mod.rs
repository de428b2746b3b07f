//! Comes in: a site and the frame's sizes. Goes out: pressures and forces of each case, and their combinations.
//! This room never solves a frame.
