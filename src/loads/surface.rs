//! The panel surface as the wind and the snow see it: one flat rectangle, tilted.

use super::state::LoadError;

/// One flat rectangle of panels at one tilt.
///
/// ```text
///              high edge  u = 1
///            ╱
///      slope╱          u runs up the slope from 0 at the low edge to 1 at the high edge,
///          ╱ tilt      x runs across from 0 at the left end to 1 at the right end, seen from the front.
///  low edge ──────
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Tilt from horizontal (°).
    pub tilt_deg: f64,
    /// Length of the slope from low edge to high edge \[mm\].
    pub slope_mm: f64,
    /// Width across \[mm\].
    pub width_mm: f64,
    /// Low edge above the ground, or above the roof the frame stands on \[mm\].
    pub low_edge_mm: f64,
}

impl Surface {
    /// A surface from its sizes.
    ///
    /// # Errors
    /// [`LoadError::NoSize`] for a length that is not above zero or a low edge below the ground;
    /// [`LoadError::TiltOutside`] for a tilt outside 0° to 90°.
    pub fn new(tilt_deg: f64, slope_mm: f64, width_mm: f64, low_edge_mm: f64) -> Result<Self, LoadError> {
        for (what, value, least) in
            [("slope length", slope_mm, 1.0), ("width", width_mm, 1.0), ("height of the low edge", low_edge_mm, 0.0)]
        {
            if !(value.is_finite() && value >= least) {
                return Err(LoadError::NoSize { what, value_mm: value });
            }
        }
        if !(0.0..=90.0).contains(&tilt_deg) {
            return Err(LoadError::TiltOutside { tilt_deg });
        }
        Ok(Self { tilt_deg, slope_mm, width_mm, low_edge_mm })
    }

    /// Sine and cosine of the tilt.
    #[must_use]
    pub fn sin_cos(&self) -> (f64, f64) {
        self.tilt_deg.to_radians().sin_cos()
    }

    /// Height of the slope: high edge above low edge \[mm\].
    #[must_use]
    pub fn rise_mm(&self) -> f64 {
        self.slope_mm * self.sin_cos().0
    }

    /// Length of the slope in plan \[mm\].
    #[must_use]
    pub fn run_mm(&self) -> f64 {
        self.slope_mm * self.sin_cos().1
    }

    /// High edge above the ground \[mm\].
    #[must_use]
    pub fn high_edge_mm(&self) -> f64 {
        self.low_edge_mm + self.rise_mm()
    }

    /// Mean roof height h above the ground \[mm\].
    #[must_use]
    pub fn mean_height_mm(&self) -> f64 {
        self.low_edge_mm + self.rise_mm() / 2.0
    }

    /// Is it beyond the figure of open roofs, so that it counts as an upright sign too?
    #[must_use]
    pub fn is_steep(&self) -> bool {
        const ROOFS_UPTO_DEG: f64 = 45.0;
        self.tilt_deg > ROOFS_UPTO_DEG
    }

    /// Height the velocity pressure is taken at: half way up, of a steep surface its top \[mm\].
    #[must_use]
    pub fn pressure_height_mm(&self) -> f64 {
        if self.is_steep() { self.high_edge_mm() } else { self.mean_height_mm() }
    }

    /// Area \[mm²\].
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.slope_mm * self.width_mm
    }
}
