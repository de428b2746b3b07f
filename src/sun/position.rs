//! Where the sun stands: the published algorithm at any instant, and once a day for fast geometry over a year.

use super::{calendar::Date, fault::SunFault, place::Place};
use crate::quantities::{Angle, deg};
use solar_positioning::{Location, RefractionCorrection, SolarPositions, delta_t, time::JulianDate};

/// Air pressure used for refraction (hPa), the standard atmosphere at sea level.
pub const PRESSURE_HPA: f64 = 1013.25;
/// Air temperature used for refraction (°C). Ten degrees more or less move a sunrise by a few seconds.
pub const TEMPERATURE_C: f64 = 12.0;
/// Altitude of the sun's centre below which no refraction is applied (deg): semi-diameter 0.26667° and refraction
/// at the horizon 0.5667°, Reda & Andreas, NREL/TP-560-34302, step 3.14.
const REFRACTION_FROM_DEG: f64 = -(0.26667 + 0.5667);
const MINUTES_PER_DAY: f64 = 1440.0;
/// Horizontal parallax of the sun at mean distance, 8.794″ (deg).
const PARALLAX_DEG: f64 = 8.794 / 3600.0;

/// The sun in the sky of one place at one instant.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunPosition {
    /// Altitude of the centre over the horizontal, without refraction.
    pub altitude: Angle,
    /// Altitude of the centre as seen through the air.
    pub apparent_altitude: Angle,
    /// Bearing, clockwise from true north.
    pub azimuth: Angle,
}

/// Position at an instant by the solar position algorithm (SPA).
///
/// # Units
/// `utc_hours` counts from 0 h UTC of `date` and may run past the day. `delta_t_s` is terrestrial minus universal time
/// (s); `None` takes the published estimate of the year. Pressure (hPa), temperature (°C).
///
/// # Errors
/// [`SunFault::Year`] when the instant is outside the algorithm's range.
///
/// # Source
/// Reda & Andreas, Solar Energy 76(5) 577-589 (2004), NREL/TP-560-34302 rev. 2008; stated uncertainty 0.0003°. Computed by the
/// crate `solar-positioning`.
pub fn position(
    date: Date,
    utc_hours: f64,
    place: &Place,
    delta_t_s: Option<f64>,
    pressure_hpa: f64,
    temperature_c: f64,
) -> Result<SunPosition, SunFault> {
    let year_fault = |_| SunFault::Year { given: date.year() };
    let instant = instant(date, utc_hours, delta_t_s)?;
    let location = Location { latitude: place.latitude_deg(), longitude: place.longitude_deg() };
    let air = RefractionCorrection::new(pressure_hpa, temperature_c).map_err(year_fault)?;
    let prepared = SolarPositions::new().for_time_from_julian(instant).map_err(year_fault)?;
    let bare = prepared.at(location, place.height_m(), None).map_err(year_fault)?;
    let seen = prepared.at(location, place.height_m(), Some(air)).map_err(year_fault)?;
    Ok(SunPosition {
        altitude: deg(bare.elevation_angle()),
        apparent_altitude: deg(seen.elevation_angle()),
        azimuth: deg(bare.azimuth()),
    })
}

fn instant(date: Date, utc_hours: f64, delta_t_s: Option<f64>) -> Result<JulianDate, SunFault> {
    let fault = |_| SunFault::Year { given: date.year() };
    let delta = match delta_t_s {
        Some(seconds) => seconds,
        None => delta_t::estimate(f64::from(date.year()) + f64::from(date.day_of_year()) / 365.25).map_err(fault)?,
    };
    JulianDate::new(date.julian() + utc_hours / 24.0, delta).map_err(fault)
}

/// Declination (deg) and equation of time (min) at an instant, by the solar position algorithm.
///
/// # Errors
/// [`SunFault::Year`] when the instant is outside the algorithm's range.
pub fn declination_and_equation_of_time(date: Date, utc_hours: f64) -> Result<(f64, f64), SunFault> {
    let fault = |_| SunFault::Year { given: date.year() };
    let prepared = SolarPositions::new().for_time_from_julian(instant(date, utc_hours, None)?).map_err(fault)?;
    // Seen from the pole the bearing is the hour angle itself, without parallax: azimuth = 180° + H.
    let pole = prepared.at(Location { latitude: 90.0, longitude: 0.0 }, 0.0, None).map_err(fault)?;
    let hour_angle_deg = pole.azimuth() - 180.0;
    let mean_deg = (utc_hours - 12.0) * 15.0;
    let equation_min = wrap_half_turn(hour_angle_deg - mean_deg) * 4.0;
    Ok((prepared.declination(), equation_min))
}

/// An angle brought into -180 to 180 degrees.
pub(crate) fn wrap_half_turn(angle_deg: f64) -> f64 {
    (angle_deg + 180.0).rem_euclid(360.0) - 180.0
}

/// What one day needs: values at the sun's culmination, and how fast they change.
#[derive(Debug, Clone, Copy)]
pub(crate) struct SunDay {
    pub(crate) declination_deg: f64,
    pub(crate) declination_per_day_deg: f64,
    pub(crate) equation_min: f64,
    pub(crate) equation_per_day_min: f64,
}

/// Every day of one common year at one longitude. Leap years use their first 59 days and leave out the 29th of February.
#[derive(Debug, Clone)]
pub(crate) struct SunYear {
    pub(crate) days: Vec<SunDay>,
    longitude_deg: f64,
}

impl SunYear {
    /// Runs the position algorithm once per day.
    pub(crate) fn new(year: i32, longitude_deg: f64) -> Result<Self, SunFault> {
        let start = Date::new(year, 1, 1)?;
        let noon_utc = 12.0 - longitude_deg / 15.0;
        let values = (0..=366)
            .map(|day| declination_and_equation_of_time(start, noon_utc + 24.0 * (f64::from(day) - 1.0)))
            .map(|pair| pair.map(|(declination, equation)| (declination, wrap_half_turn(equation / 4.0) * 4.0)))
            .collect::<Result<Vec<_>, _>>()?;
        let days = values
            .windows(3)
            .map(|w| {
                let (declination_per_day_deg, equation_per_day_min) =
                    ((w[2].0 - w[0].0) / 2.0, (w[2].1 - w[0].1) / 2.0);
                // Computed at mean noon; the sun culminates earlier by the equation of time.
                let to_culmination_days = -w[1].1 / MINUTES_PER_DAY;
                SunDay {
                    declination_deg: w[1].0 + declination_per_day_deg * to_culmination_days,
                    declination_per_day_deg,
                    equation_min: w[1].1 + equation_per_day_min * to_culmination_days,
                    equation_per_day_min,
                }
            })
            .collect();
        Ok(Self { days, longitude_deg })
    }

    /// UTC of an hour angle on a day (h); below 0 or above 24 when it falls on the neighbouring UTC day.
    pub(crate) fn utc_hours(&self, day: usize, hour_angle_deg: f64) -> f64 {
        let sun = &self.days[day];
        let equation_min = sun.equation_min + sun.equation_per_day_min * hour_angle_deg / 360.0;
        12.0 + (hour_angle_deg - self.longitude_deg) / 15.0 - equation_min / 60.0
    }
}

/// The sun by hour-angle geometry.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sight {
    /// Altitude seen through the air (deg).
    pub(crate) altitude_deg: f64,
    /// Part of the true direction that points to the south and to the west.
    pub(crate) south: f64,
    pub(crate) west: f64,
}

impl Sight {
    /// Looks at the sun of a day from a latitude; `sin_cos` are those of the latitude.
    ///
    /// ```text
    /// sin a = sin φ sin δ + cos φ cos δ cos h       tan A = -sin h cos δ / (sin δ cos φ - cos δ sin φ cos h)
    /// ```
    ///
    /// Spherical trigonometry, with parallax taken off and refraction put on as in NREL/TP-560-34302, step 3.14.
    pub(crate) fn of(sun: &SunDay, (sin_lat, cos_lat): (f64, f64), hour_angle_deg: f64) -> Self {
        let declination = (sun.declination_deg + sun.declination_per_day_deg * hour_angle_deg / 360.0).to_radians();
        let (sin_d, cos_d) = declination.sin_cos();
        let (sin_h, cos_h) = hour_angle_deg.to_radians().sin_cos();
        let up = sin_lat * sin_d + cos_lat * cos_d * cos_h;
        let south = sin_lat * cos_d * cos_h - cos_lat * sin_d;
        let west = cos_d * sin_h;
        let bare_deg = up.clamp(-1.0, 1.0).asin().to_degrees();
        let topocentric_deg = bare_deg - PARALLAX_DEG * south.hypot(west);
        Self { altitude_deg: topocentric_deg + refraction_deg(topocentric_deg), south, west }
    }

    /// Bearing clockwise from true north (deg).
    pub(crate) fn azimuth_deg(&self) -> f64 {
        (-self.west).atan2(-self.south).to_degrees().rem_euclid(360.0)
    }
}

/// Lift by refraction at a true altitude (deg), standard air.
pub(crate) fn refraction_deg(altitude_deg: f64) -> f64 {
    if altitude_deg < REFRACTION_FROM_DEG {
        return 0.0;
    }
    let phase = (altitude_deg + 10.3 / (altitude_deg + 5.11)).to_radians();
    PRESSURE_HPA / 1010.0 * (283.0 / (273.0 + TEMPERATURE_C)) * 1.02 / (60.0 * phase.tan())
}
