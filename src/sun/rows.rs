//! Distance between frames, one behind the other and side by side.

use super::fault::SunFault;
use crate::quantities::{Angle, Length, deg, mm, to_deg, to_mm};

/// The sun that must not be shaded out: altitude over the horizontal, and bearing from the direction the frames face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunRay {
    /// Apparent altitude.
    pub altitude: Angle,
    /// Bearing less the bearing the frames face; within ±90° the sun is in front.
    pub off_facing: Angle,
}

/// A frame as a flat face: length up the slope, tilt, and how the ground rises behind it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowFace {
    /// Length of the face along its slope.
    pub slope_length: Length,
    /// Tilt from level.
    pub tilt: Angle,
    /// Rise of the ground from one row to the one behind; positive when the ground faces the sun.
    pub ground_rise: Angle,
}

/// Distances that keep a row out of the shadow of the one before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowSpacing {
    /// From an edge of one face to the same edge of the next, level.
    pub pitch: Length,
    /// The same, along the ground.
    pub pitch_along_ground: Length,
    /// Shadow behind the face on level ground, square to the rows.
    pub shadow: Length,
    /// How far the same shadow reaches sideways, on level ground; negative with the sun left of the facing
    /// as seen on a compass (in the morning north of the tropics).
    pub sideways: Length,
}

/// Angle under which the sun stands seen along the rows: tan p = tan a / cos(off).
///
/// # Errors
/// [`SunFault::NoSunOnRows`] for a sun at or under the horizon, or beside or behind the rows.
pub fn profile_angle(ray: SunRay) -> Result<Angle, SunFault> {
    let (altitude_deg, off_deg) = (to_deg(ray.altitude), to_deg(ray.off_facing));
    if !(altitude_deg > 0.0 && altitude_deg <= 90.0 && off_deg.abs() < 90.0) {
        return Err(SunFault::NoSunOnRows { altitude_deg, off_deg });
    }
    let tangent = altitude_deg.to_radians().tan() / off_deg.to_radians().cos();
    Ok(deg(tangent.atan().to_degrees()))
}

/// Row spacing for one sun.
///
/// ```text
/// tan p = tan a / cos(A - G)        P = L (sin b + cos b tan p) / (tan p + tan e)
/// ```
///
/// # Errors
/// [`SunFault::NoSunOnRows`]; [`SunFault::Row`] for lengths and angles that cannot be, and where the ground falls away so steeply that no distance serves.
///
/// # Source
/// Plane geometry. Checked against the shaded fraction of Anderson & Jensen, J. Renew. Sust. Energy 16, 023504 (2024), as carried by
/// pvlib 0.16.1.
pub fn spacing(face: RowFace, ray: SunRay) -> Result<RowSpacing, SunFault> {
    let (length_mm, tilt_deg, rise_deg) = (to_mm(face.slope_length), to_deg(face.tilt), to_deg(face.ground_rise));
    if !(length_mm > 0.0 && length_mm.is_finite()) {
        return Err(SunFault::Row { what: "a slope length in mm", given: length_mm });
    }
    if !(0.0..=90.0).contains(&tilt_deg) {
        return Err(SunFault::Tilt { given_deg: tilt_deg });
    }
    if !(-45.0..=45.0).contains(&rise_deg) {
        return Err(SunFault::Row { what: "a ground slope in degrees", given: rise_deg });
    }
    let profile = to_deg(profile_angle(ray)?).to_radians().tan();
    let (sin, cos) = tilt_deg.to_radians().sin_cos();
    let rise = rise_deg.to_radians();
    if profile + rise.tan() <= 0.0 {
        return Err(SunFault::Row {
            what: "ground that falls as fast as the sun's rays, in degrees,",
            given: rise_deg,
        });
    }
    let pitch_mm = length_mm * (sin + cos * profile) / (profile + rise.tan());
    let long_mm = length_mm * sin / to_deg(ray.altitude).to_radians().tan();
    let off = to_deg(ray.off_facing).to_radians();
    Ok(RowSpacing {
        pitch: mm(pitch_mm),
        pitch_along_ground: mm(pitch_mm / rise.cos()),
        shadow: mm(long_mm * off.cos()),
        sideways: mm(long_mm * off.sin()),
    })
}

/// Share of a row's face in the shadow of the row before it, on level ground, 0 to 1.
///
/// # Errors
/// As [`spacing`].
pub fn shaded_share(face: RowFace, pitch: Length, ray: SunRay) -> Result<f64, SunFault> {
    spacing(face, ray)?;
    let profile = to_deg(profile_angle(ray)?).to_radians();
    let lit =
        to_mm(pitch) * profile.sin() / (to_mm(face.slope_length) * (profile + to_deg(face.tilt).to_radians()).sin());
    Ok((1.0 - lit).clamp(0.0, 1.0))
}

/// Reach of a frame as it turns on its axle: no post, fence or other frame may stand nearer to the axle, in any tilt.
///
/// `above` and `below` are the face's lengths up-slope and down-slope of the axle; `depth` is the farthest any part stands off
/// the axle square to the face (members, panels, stays folded in).
#[must_use]
pub fn swing_reach(above: Length, below: Length, depth: Length) -> Length {
    let along_mm = to_mm(above).abs().max(to_mm(below).abs());
    mm(along_mm.hypot(to_mm(depth)))
}

/// Least distance between the axles of two equal frames, one behind the other, that turn independently.
#[must_use]
pub fn turning_pitch(reach: Length, free_gap: Length) -> Length {
    reach + reach + free_gap
}
