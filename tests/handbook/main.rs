//! Printed examples and closed forms: each file opens with its source.

mod aisc;
mod asce7_sign;
mod asce7_wind;
mod closed_form;
mod combinations;
mod common_practice;
mod embedment;
mod en1991;
mod evaluate;
mod joints;
mod loads_recorded;
mod lumber_sizes;
mod members;
mod nds_bolts;
mod nds_group;
mod nds_members;
mod nds_withdrawal;
mod printed;
mod regimes;
mod snow;
mod sun_spa;
mod worked_frames;
