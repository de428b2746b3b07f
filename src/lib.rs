//! Lays out, cuts, drills and checks frames for solar panels that are re-tilted by hand a few times a year.
//!
//! The rooms follow the flow of the work, and each looks only back: [`quantities`] → [`catalogue`] → [`design`] →
//! [`sun`] → [`frame`] → [`loads`] → [`analysis`] → [`codes`] → [`checks`] → [`shop`] → [`sizing`] → [`sheets`] →
//! [`cli`].
//!
//! Results are aids to a builder. Local codes and a licensed engineer govern.

// First, for the macro that its equations record themselves with is used by rooms after it.
#[macro_use]
pub mod codes;

pub mod analysis;
pub mod catalogue;
pub mod checks;
pub mod cli;
pub mod design;
pub mod frame;
pub mod loads;
pub mod quantities;
pub mod sheets;
pub mod shop;
pub mod sizing;
pub mod sun;
