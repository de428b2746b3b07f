//! What must hold for any input.
mod cut_plan;
mod equilibrium;
mod fastened;
mod frame_design;
mod linkage;
mod load_rows;
mod loads;
mod made_frames;
mod mechanisms;
mod runners;
mod sizing;
mod structure;
mod sun;
