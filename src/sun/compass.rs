//! True north from a compass: magnetic declination by the World Magnetic Model.

use super::{calendar::Date, fault::SunFault, place::Place};
use crate::quantities::{Angle, Length, deg, to_deg, to_mm};
use world_magnetic_model::{
    GeomagneticField, WarningZone,
    time::{Date as ModelDate, Month},
    uom::si::{
        angle::degree,
        f32::{Angle as ModelAngle, Length as ModelLength},
        length::kilometer,
    },
};

/// How far a compass can be trusted at a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reliability {
    /// Horizontal intensity of 6000 nT or more.
    Good,
    /// Below 6000 nT: readings scatter.
    Caution,
    /// Below 2000 nT: a compass is useless.
    Blackout,
}

/// Magnetic declination at a place on a day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Declination {
    /// Magnetic north seen from true north, east +. True bearing = magnetic bearing + declination.
    pub declination: Angle,
    /// One standard deviation of the model, local iron and rock not counted; unknown for a value given by hand.
    pub uncertainty: Option<Angle>,
    /// Whether a compass serves here.
    pub reliability: Reliability,
    /// Name of the model that served.
    pub model: &'static str,
}

impl Declination {
    /// A declination given by hand, from a chart.
    #[must_use]
    pub fn by_hand(declination: Angle) -> Self {
        Self { declination, uncertainty: None, reliability: Reliability::Good, model: "given by hand" }
    }

    /// True bearing of a magnetic one, 0 to 360°.
    #[must_use]
    pub fn true_bearing(&self, magnetic: Angle) -> Angle {
        deg((to_deg(magnetic) + to_deg(self.declination)).rem_euclid(360.0))
    }

    /// What the compass reads in a true direction, 0 to 360°.
    #[must_use]
    pub fn magnetic_bearing(&self, true_bearing: Angle) -> Angle {
        deg((to_deg(true_bearing) - to_deg(self.declination)).rem_euclid(360.0))
    }
}

/// Declination at a place on a day.
///
/// # Errors
/// [`SunFault::MagneticDate`] before 2020-01-01 and after 2029-12-31.
///
/// # Source
/// WMM2025 (NOAA NCEI and British Geological Survey, released 2024-12-17, valid 2025.0 to 2030.0), for days before 2025 WMM2020. The model
/// is produced by the U.S. Government and is not subject to copyright; the file is carried by the crate `world_magnetic_model`.
/// Uncertainty: sqrt(0.26² + (5417 nT / H)²) deg of the WMM2025 report.
pub fn declination(place: &Place, date: Date) -> Result<Declination, SunFault> {
    declination_at(place.latitude(), place.longitude(), place.height(), date)
}

/// As [`declination`], at a height above the WGS 84 ellipsoid that need not be ground.
///
/// # Errors
/// As [`declination`]; also for a height outside -1 to 850 km.
pub fn declination_at(latitude: Angle, longitude: Angle, height: Length, date: Date) -> Result<Declination, SunFault> {
    Place::new(latitude, longitude)?;
    let height_km = to_mm(height) / 1e6;
    if !(-1.0..=850.0).contains(&height_km) {
        return Err(SunFault::Height { given_m: height_km * 1000.0 });
    }
    // Place and height are sound now: only the day can still be outside the models.
    let outside = || SunFault::MagneticDate { given: date };
    let month = Month::try_from(date.month()).map_err(|_| outside())?;
    let day = ModelDate::from_calendar_date(date.year(), month, date.day()).map_err(|_| outside())?;
    let angle = |angle: Angle| ModelAngle::new::<degree>(to_deg(angle) as f32);
    let field =
        GeomagneticField::new(ModelLength::new::<kilometer>(height_km as f32), angle(latitude), angle(longitude), day)
            .map_err(|_| outside())?;
    Ok(Declination {
        declination: deg(f64::from(field.declination().get::<degree>())),
        uncertainty: Some(deg(f64::from(field.declination_uncertainty().get::<degree>()))),
        reliability: match field.declination_warning() {
            None => Reliability::Good,
            Some(WarningZone::CautionZone) => Reliability::Caution,
            Some(WarningZone::BlackoutZone) => Reliability::Blackout,
        },
        model: if date.year() < 2025 { "WMM2020" } else { "WMM2025" },
    })
}
