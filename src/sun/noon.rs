//! Height of the noon sun through the year.

use super::{
    calendar::{MonthDay, REFERENCE_YEAR},
    fault::SunFault,
    place::Place,
    position::SunYear,
};
use crate::quantities::{Angle, deg, to_deg};

/// Altitudes of the sun at its daily culmination. Below 0 the sun stays under the horizon at noon.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NoonAltitudes {
    /// On the winter solstice (between the tropics: the solstice when the sun stands lower).
    pub lowest: Angle,
    /// At the equinoxes, 90° less the latitude.
    pub equinox: Angle,
    /// On the summer solstice; 90° between the tropics, where the sun passes overhead.
    pub highest: Angle,
}

/// Altitude at culmination on one day: 90° - |latitude - declination|.
///
/// # Errors
/// [`SunFault::Latitude`].
pub fn noon_altitude(latitude: Angle, day: MonthDay) -> Result<Angle, SunFault> {
    let place = Place::on_latitude(latitude)?;
    let year = SunYear::new(REFERENCE_YEAR, 0.0)?;
    Ok(deg(noon_deg(place.latitude_deg(), year.days[day.index()].declination_deg)))
}

/// Lowest, equinox and highest noon altitude at a latitude.
///
/// # Errors
/// [`SunFault::Latitude`].
///
/// # Example
/// ```
/// use tiltwright::{quantities::{deg, to_deg}, sun::noon_altitudes};
/// let noon = noon_altitudes(deg(45.0))?;
/// assert!((to_deg(noon.lowest) - 21.56).abs() < 0.01); // "lowest noon sun = latitude" would say 45
/// assert!((to_deg(noon.equinox) - 45.0).abs() < 1e-9);
/// assert!((to_deg(noon.highest) - 68.44).abs() < 0.01);
/// # Ok::<(), tiltwright::sun::SunFault>(())
/// ```
pub fn noon_altitudes(latitude: Angle) -> Result<NoonAltitudes, SunFault> {
    let lat = to_deg(Place::on_latitude(latitude)?.latitude());
    let year = SunYear::new(REFERENCE_YEAR, 0.0)?;
    let (mut south, mut north) = (f64::INFINITY, f64::NEG_INFINITY);
    for day in &year.days {
        south = south.min(day.declination_deg);
        north = north.max(day.declination_deg);
    }
    let solstices = [noon_deg(lat, south), noon_deg(lat, north)];
    let overhead = (south..=north).contains(&lat);
    Ok(NoonAltitudes {
        lowest: deg(solstices[0].min(solstices[1])),
        equinox: deg(90.0 - lat.abs()),
        highest: deg(if overhead { 90.0 } else { solstices[0].max(solstices[1]) }),
    })
}

/// Altitude at culmination on every day of a common year, the first of January first.
pub(crate) fn noon_through_year(place: &Place, year: &SunYear) -> Vec<Angle> {
    year.days.iter().map(|day| deg(noon_deg(place.latitude_deg(), day.declination_deg))).collect()
}

fn noon_deg(latitude_deg: f64, declination_deg: f64) -> f64 {
    90.0 - (latitude_deg - declination_deg).abs()
}
