//! Where the frame stands on the globe.

use super::fault::SunFault;
use crate::{
    design::MOST_LATITUDE_DEG,
    quantities::{Angle, Length, deg, mm, to_deg, to_mm},
};

/// A point on the ground: latitude north +, longitude east +, height above sea level.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Place {
    latitude_deg: f64,
    longitude_deg: f64,
    height_m: f64,
}

impl Place {
    /// A place by latitude (north +) and longitude (east +), at sea level.
    ///
    /// # Errors
    /// [`SunFault::Latitude`] beyond ±90°, [`SunFault::Longitude`] beyond ±180°.
    pub fn new(latitude: Angle, longitude: Angle) -> Result<Self, SunFault> {
        let (latitude_deg, longitude_deg) = (to_deg(latitude), to_deg(longitude));
        // Written so that a value that is no number is refused too.
        if !(-90.0..=90.0).contains(&latitude_deg) {
            return Err(SunFault::Latitude { given_deg: latitude_deg });
        }
        if !(-180.0..=180.0).contains(&longitude_deg) {
            return Err(SunFault::Longitude { given_deg: longitude_deg });
        }
        Ok(Self { latitude_deg, longitude_deg, height_m: 0.0 })
    }

    /// A place on the prime meridian: tilts depend on latitude only, to a hundredth of a degree.
    ///
    /// # Errors
    /// As [`Place::new`].
    pub fn on_latitude(latitude: Angle) -> Result<Self, SunFault> {
        Self::new(latitude, deg(0.0))
    }

    /// The same place, far enough from a pole for bearings and hours.
    ///
    /// # Errors
    /// [`SunFault::Pole`] beyond ±[`MOST_LATITUDE_DEG`].
    pub fn off_the_poles(self) -> Result<Self, SunFault> {
        if self.latitude_deg.abs() > MOST_LATITUDE_DEG {
            return Err(SunFault::Pole { given_deg: self.latitude_deg });
        }
        Ok(self)
    }

    /// The same place at a height above sea level.
    ///
    /// # Errors
    /// [`SunFault::Height`] outside -500 m to 6000 m.
    pub fn at_height(self, height: Length) -> Result<Self, SunFault> {
        let height_m = to_mm(height) / 1000.0;
        if !(-500.0..=6000.0).contains(&height_m) {
            return Err(SunFault::Height { given_m: height_m });
        }
        Ok(Self { height_m, ..self })
    }

    /// Latitude, north +.
    #[must_use]
    pub fn latitude(&self) -> Angle {
        deg(self.latitude_deg)
    }

    /// Longitude, east +.
    #[must_use]
    pub fn longitude(&self) -> Angle {
        deg(self.longitude_deg)
    }

    /// Height above sea level.
    #[must_use]
    pub fn height(&self) -> Length {
        mm(self.height_m * 1000.0)
    }

    pub(crate) fn latitude_deg(&self) -> f64 {
        self.latitude_deg
    }

    pub(crate) fn longitude_deg(&self) -> f64 {
        self.longitude_deg
    }

    pub(crate) fn height_m(&self) -> f64 {
        self.height_m
    }

    /// True for a site whose frames face north. The equator itself counts as northern.
    #[must_use]
    pub fn is_southern(&self) -> bool {
        self.latitude_deg < 0.0
    }

    /// The three darkest months: November to January north of the equator, May to July south of it.
    #[must_use]
    pub fn winter_months(&self) -> [u8; 3] {
        if self.is_southern() { [5, 6, 7] } else { [11, 12, 1] }
    }

    /// The bearing that frames face here, clockwise from true north: 180° north of the equator, 0° south of it.
    #[must_use]
    pub fn facing(&self) -> Angle {
        deg(if self.is_southern() { 0.0 } else { 180.0 })
    }
}
