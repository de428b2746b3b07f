//! What must hold for any input.
mod cut_plan;
mod load_rows;
mod loads;
mod sun;
mod equilibrium;
mod mechanisms;
