//! Numbers as they are printed in JSON: rounded once, never a minus zero.

use crate::quantities::{Angle, Length, to_deg, to_mm};

/// Rounded to some decimals.
pub(super) fn rounded(value: f64, decimals: i32) -> f64 {
    let scale = 10f64.powi(decimals);
    (value * scale).round() / scale + 0.0
}

/// An angle in degrees, to a ten-thousandth.
pub(super) fn degrees(angle: Angle) -> f64 {
    rounded(to_deg(angle), 4)
}

/// A length in whole millimetres.
pub(super) fn millimetres(length: Length) -> f64 {
    rounded(to_mm(length), 0)
}

/// A share as per cent, to a thousandth.
pub(super) fn percent(share: f64) -> f64 {
    rounded(100.0 * share, 3)
}

/// Hours as a time of day to the minute; times beyond midnight are taken into the day.
pub(super) fn clock(hours: f64) -> String {
    let minutes = (hours * 60.0).round().rem_euclid(1440.0) as u32;
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}
