//! Clear-sky irradiance and what of it falls on a tilted face. For comparing tilts, not for predicting a yield.

/// Linke turbidity of a clear sky; 2 is very clear, 5 hazy.
pub const LINKE_TURBIDITY: f64 = 3.0;
/// Share of light that bare ground throws back; fresh snow 0.6 to 0.8 (from memory, not confirmed).
pub const GROUND_REFLECTANCE: f64 = 0.2;
/// Solar constant of the formula below (W/m²). A pure scale: tilts do not depend on it.
const SOLAR_CONSTANT: f64 = 1366.1;
/// Lowest cosine of the zenith angle in the ratio of beams, cos 89°: keeps the ratio finite at sunrise.
const LEAST_COS_ZENITH: f64 = 0.01745;

/// Irradiances of one instant (W/m²).
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Sky {
    /// On level ground.
    pub global: f64,
    /// Of the direct beam, on a face square to it.
    pub beam: f64,
    /// From the rest of the sky, on level ground.
    pub diffuse: f64,
    /// Outside the air, on a face square to the beam.
    pub extraterrestrial: f64,
}

/// Irradiance outside the air on a face square to the sun (W/m²); `day_of_year` counts from 1.
///
/// # Source
/// Spencer, Search 2(5) 172 (1971).
#[must_use]
pub fn extraterrestrial(day_of_year: f64) -> f64 {
    let b = std::f64::consts::TAU * (day_of_year - 1.0) / 365.0;
    let (sin, cos) = b.sin_cos();
    let (sin2, cos2) = (2.0 * b).sin_cos();
    SOLAR_CONSTANT * (1.000_11 + 0.034_221 * cos + 0.001_28 * sin + 0.000_719 * cos2 + 0.000_077 * sin2)
}

/// Air mass relative to the zenith, by the apparent altitude (deg).
///
/// # Source
/// Kasten & Young, Applied Optics 28 (1989) 4735-4738.
#[must_use]
pub fn air_mass(apparent_altitude_deg: f64) -> f64 {
    // (96.07995 - z) is written as altitude + 6.07995.
    1.0 / (apparent_altitude_deg.to_radians().sin() + 0.505_72 * (apparent_altitude_deg + 6.079_95).powf(-1.6364))
}

/// Pressure of the standard atmosphere over that at sea level.
///
/// # Source
/// ISO 2533:1975 troposphere, in the form p = 101325 (1 - 2.25577e-5 h)^5.25588.
#[must_use]
pub fn pressure_ratio(height_m: f64) -> f64 {
    (1.0 - 2.255_77e-5 * height_m).powf(5.255_88)
}

/// The parts of the clear-sky formula that depend on the height of the ground only.
#[derive(Debug, Clone, Copy)]
pub struct ClearSky {
    pressure_ratio: f64,
    c1: f64,
    damping: f64,
    beam_factor: f64,
    beam_damping: f64,
    split: f64,
}

impl ClearSky {
    /// Sets up the formula for a height (m) and a Linke turbidity.
    ///
    /// # Source
    /// Ineichen & Perez, Solar Energy 73 (2002) 151-157; Perez et al., Solar Energy 73 (2002) 307-317.
    #[must_use]
    pub fn new(height_m: f64, turbidity: f64) -> Self {
        let f1 = (-height_m / 8000.0).exp();
        let f2 = (-height_m / 1250.0).exp();
        let c2 = 3.92e-5 * height_m + 0.0387;
        Self {
            pressure_ratio: pressure_ratio(height_m),
            c1: 5.09e-5 * height_m + 0.868,
            damping: c2 * (f1 + f2 * (turbidity - 1.0)),
            beam_factor: 0.664 + 0.163 / f1,
            beam_damping: 0.09 * (turbidity - 1.0),
            split: 1.0 - (0.1 - 0.2 * (-turbidity).exp()) / (0.1 + 0.882 / f1),
        }
    }

    /// Irradiances at an apparent altitude (deg); nothing with the sun at or under the horizon.
    #[must_use]
    pub fn at(&self, apparent_altitude_deg: f64, extraterrestrial: f64) -> Sky {
        if apparent_altitude_deg <= 0.0 {
            return Sky { extraterrestrial, ..Sky::default() };
        }
        let cos_zenith = apparent_altitude_deg.to_radians().sin();
        let mass = air_mass(apparent_altitude_deg) * self.pressure_ratio;
        let global = self.c1 * extraterrestrial * cos_zenith * (-self.damping * mass).exp();
        let by_turbidity = extraterrestrial * self.beam_factor * (-self.beam_damping * mass).exp();
        let by_global = global * self.split / cos_zenith;
        let beam = by_turbidity.min(by_global);
        Sky { global, beam, diffuse: global - beam * cos_zenith, extraterrestrial }
    }
}

/// What falls on a tilted face (W/m²).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OnFace {
    /// Direct beam.
    pub beam: f64,
    /// Sky, the bright part around the sun included.
    pub sky: f64,
    /// Thrown back by the ground.
    pub ground: f64,
}

impl OnFace {
    /// All three.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.beam + self.sky + self.ground
    }
}

/// The multipliers of one instant: what falls on a face is `directed` × cos(incidence), where positive, plus
/// `isotropic` × (1 + cos tilt)/2 plus `ground` × (1 - cos tilt)/2.
#[derive(Debug, Clone, Copy)]
pub(crate) struct FaceFactors {
    pub(crate) directed: f64,
    pub(crate) isotropic: f64,
    pub(crate) ground: f64,
}

/// # Source
/// Hay & Davies, First Canadian Solar Radiation Data Workshop (1980): the sky is part beam-like, part even.
pub(crate) fn face_factors(sky: &Sky, cos_zenith: f64) -> FaceFactors {
    let anisotropy = sky.beam / sky.extraterrestrial;
    FaceFactors {
        directed: sky.beam + sky.diffuse * anisotropy / cos_zenith.max(LEAST_COS_ZENITH),
        isotropic: sky.diffuse * (1.0 - anisotropy),
        ground: sky.global * GROUND_REFLECTANCE,
    }
}

/// Irradiance on a face: `cos_incidence` between its normal and the sun, `tilt_deg` from level, `cos_zenith` of the sun.
#[must_use]
pub fn on_face(sky: &Sky, cos_incidence: f64, cos_zenith: f64, tilt_deg: f64) -> OnFace {
    let factors = face_factors(sky, cos_zenith);
    let cos_tilt = tilt_deg.to_radians().cos();
    let seen = cos_incidence.max(0.0);
    OnFace {
        beam: sky.beam * seen,
        sky: (factors.directed - sky.beam) * seen + factors.isotropic * (1.0 + cos_tilt) / 2.0,
        ground: factors.ground * (1.0 - cos_tilt) / 2.0,
    }
}
