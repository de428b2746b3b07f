//! How wood takes up moisture and moves with it.

use super::{
    source::{Certainty, Source},
    species::Species,
};
use serde::Serialize;

/// Moisture that wood settles at; the constants in °F are from memory and reproduce 137 printed cells.
pub const EQUILIBRIUM: Source =
    Source::new("USDA Wood Handbook 2010, FPL-RN-0268", "ch. 4, Hailwood-Horrobin", Certainty::Agreed);
/// Shrinkage of whole pieces of lumber.
pub const PIECES: Source = Source::new("FPL-RP-489", "regressions from 28 % moisture", Certainty::Read);
/// Shrinkage along a growth ring and across it.
pub const SHRINKAGE: Source = Source::new("USDA Wood Handbook 2010", "Table 4-3", Certainty::Read);
/// The same, second half of the table.
pub const SHRINKAGE_MEMORY: Source = Source::new("USDA Wood Handbook 2010", "Table 4-3", Certainty::Memory);

/// Moisture content (%) that wood settles at, from temperature (°F) and relative humidity (%).
///
/// ```text
/// M = 1800/W (K h/(1 − K h) + (K1 K h + 2 K1 K2 K² h²)/(1 + K1 K h + K1 K2 K² h²))      h = RH/100
/// ```
///
/// `None` outside −4 to 140 °F or 0 to 95 %, where the equation was not fitted.
#[must_use]
pub fn equilibrium_moisture(fahrenheit: f64, humidity_percent: f64) -> Option<f64> {
    if !(-4.0..=140.0).contains(&fahrenheit) || !(0.0..=95.0).contains(&humidity_percent) {
        return None;
    }
    let (t, h) = (fahrenheit, humidity_percent / 100.0);
    let w = 330.0 + 0.452 * t + 0.004_15 * t * t;
    let k = 0.791 + 4.63e-4 * t - 8.44e-7 * t * t;
    let k1 = 6.34 + 7.75e-4 * t - 9.35e-5 * t * t;
    let k2 = 1.09 + 2.84e-2 * t - 9.04e-5 * t * t;
    let (kh, kkh) = (k * h, k1 * k2 * k * k * h * h);
    Some(1800.0 / w * (kh / (1.0 - kh) + (k1 * kh + 2.0 * kkh) / (1.0 + k1 * kh + kkh)))
}

/// Which side of a piece of lumber.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// The smaller side.
    Thickness,
    /// The larger side.
    Width,
}

/// Shrinkage of a whole piece of softwood lumber from one moisture content to another (share of the first size).
///
/// ```text
/// thickness S = 5.062 − 0.181 M,  width S = 6.031 − 0.215 M   (% of the green size, M 8 to 28 %)
/// ```
///
/// Negative when the wood takes up water. Moisture above 28 % counts as 28 %: free water moves nothing. The regressions
/// were fitted for 8 to 19 %; `None` below 8 %.
#[must_use]
pub fn piece_shrinkage(side: Side, from_percent: f64, to_percent: f64) -> Option<f64> {
    const GREEN: f64 = 28.0;
    if from_percent < 8.0 || to_percent < 8.0 {
        return None;
    }
    let left = |moisture: f64| {
        let m = moisture.min(GREEN);
        let percent = match side {
            Side::Thickness => 5.062 - 0.181 * m,
            Side::Width => 6.031 - 0.215 * m,
        };
        1.0 - percent.max(0.0) / 100.0
    };
    Some(1.0 - left(to_percent) / left(from_percent))
}

/// Shrinkage from green to oven-dry (% of the green size), radial and tangential, the larger of the species in a group.
#[must_use]
pub fn shrinkage_percent(species: Species) -> ([f64; 2], Source) {
    match species {
        // Western larch is the conservative member of the group: 4.5 and 9.1.
        Species::DouglasFirLarch => ([4.8, 7.6], SHRINKAGE),
        Species::HemFir => ([4.4, 9.2], SHRINKAGE),
        Species::SprucePineFir | Species::SprucePineFirSouth | Species::EuropeanSoftwood => {
            ([4.3, 7.1], SHRINKAGE_MEMORY)
        }
        Species::SouthernPine => ([5.4, 7.7], SHRINKAGE_MEMORY),
        Species::WesternCedars => ([2.4, 5.0], SHRINKAGE),
        Species::RedwoodCloseGrain | Species::RedwoodOpenGrain => ([2.6, 4.9], SHRINKAGE_MEMORY),
    }
}

/// Change of a size (share, positive when it grows) between two moisture contents within 6 to 14 %.
///
/// ```text
/// C = S/(100 F − S (F − 10))    change = C (M1 − M0)      F = 30, or 22 for cedar and redwood
/// ```
///
/// # Source
/// USDA Wood Handbook 2010 ch. 13, Table 13-5; the relation reproduces 31 printed coefficients.
#[must_use]
pub fn change_coefficient(shrinkage_percent: f64, fibre_saturation_percent: f64) -> f64 {
    let (s, f) = (shrinkage_percent, fibre_saturation_percent);
    s / (100.0 * f - s * (f - 10.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// USDA Wood Handbook 2010 Table 4-2, % moisture; columns 30 to 130 °F in steps of ten.
    const PRINTED: [(f64, [f64; 11]); 12] = [
        (5.0, [1.4, 1.4, 1.4, 1.3, 1.3, 1.3, 1.2, 1.2, 1.1, 1.1, 1.0]),
        (10.0, [2.6, 2.6, 2.6, 2.5, 2.5, 2.4, 2.3, 2.3, 2.2, 2.1, 2.0]),
        // The copy prints 3.0 at 110 °F, a misprint; the neighbours and the equation say 4.0.
        (20.0, [4.6, 4.6, 4.6, 4.6, 4.5, 4.4, 4.3, 4.2, 4.0, 3.9, 3.7]),
        (30.0, [6.3, 6.3, 6.3, 6.2, 6.2, 6.1, 5.9, 5.8, 5.6, 5.4, 5.2]),
        (40.0, [7.9, 7.9, 7.9, 7.8, 7.7, 7.6, 7.4, 7.2, 7.0, 6.8, 6.6]),
        (50.0, [9.5, 9.5, 9.5, 9.4, 9.2, 9.1, 8.9, 8.7, 8.4, 8.2, 7.9]),
        (60.0, [11.3, 11.3, 11.2, 11.1, 11.0, 10.8, 10.5, 10.3, 10.0, 9.7, 9.4]),
        (65.0, [12.4, 12.3, 12.3, 12.1, 12.0, 11.7, 11.5, 11.2, 11.0, 10.6, 10.3]),
        (70.0, [13.5, 13.5, 13.4, 13.3, 13.1, 12.9, 12.6, 12.3, 12.0, 11.7, 11.3]),
        (75.0, [14.9, 14.9, 14.8, 14.6, 14.4, 14.2, 13.9, 13.6, 13.2, 12.9, 12.5]),
        (80.0, [16.5, 16.5, 16.4, 16.2, 16.0, 15.7, 15.4, 15.1, 14.7, 14.4, 14.0]),
        (85.0, [18.5, 18.5, 18.4, 18.2, 17.9, 17.7, 17.3, 17.0, 16.6, 16.2, 15.8]),
    ];

    #[test]
    fn equilibrium_moisture_follows_the_printed_table() {
        // Half the last printed digit and what the copy's rounding adds.
        const PRINTED_DIGIT: f64 = 0.07;
        for (humidity, row) in PRINTED {
            for (column, printed) in row.into_iter().enumerate() {
                let fahrenheit = 30.0 + 10.0 * column as f64;
                let m = equilibrium_moisture(fahrenheit, humidity).expect("inside");
                assert!((m - printed).abs() < PRINTED_DIGIT, "{fahrenheit} °F, {humidity} %: {m} against {printed}");
            }
        }
        for (column, printed) in [21.0, 21.0, 20.9, 20.7, 20.5, 20.2].into_iter().enumerate() {
            let m = equilibrium_moisture(30.0 + 10.0 * column as f64, 90.0).expect("inside");
            assert!((m - printed).abs() < PRINTED_DIGIT);
        }
        assert!(equilibrium_moisture(200.0, 50.0).is_none() && equilibrium_moisture(70.0, 99.0).is_none());
    }

    #[test]
    fn lumber_shrinks_as_the_size_standard_assumes() {
        // PS 20: 2.35 % in thickness and 2.80 % in width from green to 15 %.
        let to_15 = |side| piece_shrinkage(side, 28.0, 15.0).expect("in range") * 100.0;
        assert!((to_15(Side::Thickness) - 2.35).abs() < 0.01 && (to_15(Side::Width) - 2.80).abs() < 0.01);
        // A stack of 5 in of lumber loses 0.145 in from green to 12 %.
        assert!((5.0 * piece_shrinkage(Side::Thickness, 60.0, 12.0).expect("in range") - 0.145).abs() < 5e-4);
        let back = piece_shrinkage(Side::Width, 12.0, 19.0).expect("in range");
        assert!(back < 0.0 && piece_shrinkage(Side::Width, 19.0, 5.0).is_none());
    }

    #[test]
    fn change_coefficients_are_the_printed_ones() {
        // Table 13-5: Douglas-fir coast .00165 and .00267, Pacific silver fir .00151 and .00327, redcedar .00111 and .00234.
        for (s, f, printed) in [
            (4.8, 30.0, 0.001_65),
            (7.6, 30.0, 0.002_67),
            (4.4, 30.0, 0.001_51),
            (9.2, 30.0, 0.003_27),
            (2.4, 22.0, 0.001_11),
            (5.0, 22.0, 0.002_34),
        ] {
            assert!((change_coefficient(s, f) - printed).abs() < 1e-5, "{s}");
        }
        let (percent, source) = shrinkage_percent(Species::WesternCedars);
        assert_eq!(percent, [2.4, 5.0]);
        assert!(!source.is_unverified());
    }
}
