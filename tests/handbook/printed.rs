//! What examples are held to: printed values, those in inches and pounds also where they are called in millimetres and
//! newtons.

use tiltwright::quantities::{MM_PER_INCH, N_PER_LBF};

/// One inch (mm).
pub(crate) const IN: f64 = MM_PER_INCH;
/// One pound of force (N).
pub(crate) const LB: f64 = N_PER_LBF;

/// Holds a value to the printed one, which it may miss by a share.
pub(crate) fn near(what: &str, value: f64, printed: f64, share: f64) {
    assert!((value / printed - 1.0).abs() <= share, "{what}: {value} against {printed}");
}
