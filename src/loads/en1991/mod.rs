//! EN 1991: wind pressure, monopitch canopies, signboards and snow. Actions only: reactions and equilibrium may follow,
//! resistances are not encoded, so no verdict on members rests on them. National annexes govern.

pub mod canopy;
pub mod snow;
pub mod wind;
