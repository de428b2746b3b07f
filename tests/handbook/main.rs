//! Printed examples and closed forms: each file opens with its source.
mod sun_spa;
