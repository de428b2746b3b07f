//! Printed examples and closed forms: each file opens with its source.
mod sun_spa;

mod asce7_sign;
mod asce7_wind;
mod combinations;
mod en1991;
mod snow;
