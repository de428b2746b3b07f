//! Sun positions, noon altitudes, declination and irradiance against pvlib 0.16.1 (BSD-3).

use super::sun_data::{Row, rows};
use tiltwright::{
    quantities::{deg, mm, to_deg},
    sun::{
        Date, MonthDay, Place, noon_altitude, noon_altitudes,
        position::{PRESSURE_HPA, TEMPERATURE_C, declination_and_equation_of_time, position},
        sky::{ClearSky, extraterrestrial, on_face},
    },
};

/// Angles in the tables are printed to five or six places.
const PRINTED_ANGLE: f64 = 2e-6;

/// `2000-10-13T12:29:17Z` or `2025-05-05T06:40Z`.
fn instant(text: &str) -> (Date, f64) {
    let (date, time) = text.trim_end_matches('Z').split_once('T').expect("date and time");
    let parts: Vec<f64> = time.split(':').map(|part| part.parse().expect("a number")).collect();
    let seconds = parts.get(2).copied().unwrap_or(0.0);
    (Date::parse(date).expect("a day"), parts[0] + parts[1] / 60.0 + seconds / 3600.0)
}

fn place(row: &Row) -> Place {
    let place = Place::new(deg(row.number("lat_deg")), deg(row.number("lon_deg"))).expect("on the globe");
    place.at_height(mm(1000.0 * row.number("alt_m"))).expect("ground")
}

#[test]
fn two_hundred_positions_agree_to_the_last_printed_place() {
    let table = rows(include_str!("data/sun/solar_positions.csv"));
    assert_eq!(table.len(), 200);
    for row in &table {
        let (date, hours) = instant(row.text("utc"));
        let sun = position(date, hours, &place(row), Some(row.number("delta_t_s")), PRESSURE_HPA, TEMPERATURE_C)
            .expect("a position");
        let zenith = 90.0 - to_deg(sun.altitude);
        let apparent = 90.0 - to_deg(sun.apparent_altitude);
        assert!((zenith - row.number("zenith_true_deg")).abs() < PRINTED_ANGLE, "{date}: {zenith}");
        assert!((apparent - row.number("zenith_apparent_deg")).abs() < PRINTED_ANGLE, "{date}: {apparent}");
        let turn = (to_deg(sun.azimuth) - row.number("azimuth_deg")).abs();
        assert!(turn.min(360.0 - turn) * zenith.to_radians().sin() < PRINTED_ANGLE, "{date}: {turn}");
        let (_, equation) = declination_and_equation_of_time(date, hours).expect("a day");
        assert!((equation - row.number("eot_min")).abs() < 0.01, "{date}: {equation}");
    }
}

#[test]
fn noon_altitudes_agree_with_the_formula_and_the_position() {
    /// The day's declination is that of the culmination, the table takes 12 h UTC; both print four places.
    const FORMULA: f64 = 0.004;
    /// Parallax and the drift of the declination are left out of the formula.
    const POSITION: f64 = 0.005;
    let table = rows(include_str!("data/sun/noon_altitudes.csv"));
    assert_eq!(table.len(), 108);
    for row in &table {
        let date = Date::parse(row.text("date")).expect("a day");
        let day = MonthDay::new(date.month(), date.day()).expect("a day");
        let altitude = to_deg(noon_altitude(deg(row.number("lat_deg")), day).expect("an altitude"));
        assert!((altitude - row.number("altitude_formula_deg")).abs() < FORMULA, "{date}: {altitude}");
        assert!((altitude - row.number("altitude_true_spa_deg")).abs() < POSITION, "{date}: {altitude}");
    }
    for row in table.iter().filter(|row| row.text("event") == "dec_solstice" && row.number("lat_deg") > 24.0) {
        let noon = noon_altitudes(deg(row.number("lat_deg"))).expect("altitudes");
        assert!((to_deg(noon.lowest) - row.number("altitude_formula_deg")).abs() < FORMULA);
    }
}

#[test]
fn declination_and_equation_of_time_agree_through_the_year() {
    let table = rows(include_str!("data/sun/declination_eot.csv"));
    assert_eq!(table.len(), 73);
    for row in &table {
        let date = Date::parse(row.text("date")).expect("a day");
        let (declination, equation) = declination_and_equation_of_time(date, 12.0).expect("a day");
        assert!((declination - row.number("decl_spa")).abs() < 1e-4, "{date}: {declination}");
        assert!((equation - row.number("eot_spa_min")).abs() < 0.01, "{date}: {equation}");
        let outside_air = extraterrestrial(row.number("doy"));
        assert!((outside_air - row.number("I0_spencer")).abs() < 1e-3, "{date}: {outside_air}");
    }
}

/// Sky model and what falls on a face, at random suns and faces.
#[test]
fn irradiances_agree() {
    let table = rows(include_str!("data/sun/irradiance_reference.csv"));
    assert_eq!(table.len(), 120);
    for row in &table {
        let zenith = row.number("app_zenith");
        let sky = ClearSky::new(row.number("alt_m"), 3.0).at(90.0 - zenith, row.number("I0"));
        let cos_zenith = zenith.to_radians().cos();
        let incidence = row.number("aoi").to_radians().cos();
        let face = on_face(&sky, incidence, cos_zenith, row.number("tilt"));
        for (ours, column) in [
            (sky.global, "ine_ghi"),
            (sky.beam, "ine_dni"),
            (sky.diffuse, "ine_dhi"),
            (face.beam, "poa_beam"),
            (face.sky, "poa_sky_haydavies"),
            (face.ground, "poa_ground"),
            (face.total(), "poa_total_haydavies"),
        ] {
            let theirs = row.number(column);
            // Zenith and incidence are printed to four places: near the horizon that is a few hundredths of a watt.
            assert!((ours - theirs).abs() < 0.02 + 2e-4 * theirs, "{} {column}: {ours} {theirs}", row.text("utc"));
        }
    }
}
