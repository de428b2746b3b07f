//! Horizon cases, magnetic declination, row spacing and misalignment against other libraries.

use super::sun_data::rows;
use serde_json::Value;
use tiltwright::{
    quantities::{deg, mm, to_deg, to_mm},
    sun::{
        Date, MonthDay, Place,
        calendar::days_in_month,
        compass::declination_at,
        daylight::Daylight,
        energy::DailyEnergy,
        horizon::Horizon,
        rows::{RowFace, SunRay, shaded_share, spacing},
        seasons::from_dates,
    },
};

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

/// pvlib 0.16.1: SPA with refraction (1013.25 hPa, 12 °C), 10 s samples of 2025 on the prime meridian, linear crossings.
fn horizon_cases() -> Value {
    serde_json::from_str(include_str!("data/sun/horizon_cases.json")).expect("the data file is JSON")
}

fn horizon(cases: &Value, name: &str) -> Horizon {
    let points: Vec<_> = cases["horizons"][name]
        .as_array()
        .expect("points")
        .iter()
        .map(|point| (deg(number(&point[0])), deg(number(&point[1]))))
        .collect();
    Horizon::of_points(&points).expect("a skyline")
}

fn hours(clock: &str) -> f64 {
    let parts: Vec<f64> = clock.split(':').map(|part| part.parse().expect("a number")).collect();
    parts[0] + parts[1] / 60.0 + parts[2] / 3600.0
}

#[test]
fn the_skyline_between_points_is_that_of_the_reference() {
    let cases = horizon_cases();
    for check in cases["interpolation_checks"].as_array().expect("checks") {
        let horizon = horizon(&cases, check["horizon"].as_str().expect("a name"));
        let elevation = to_deg(horizon.elevation(deg(number(&check["azimuth"]))));
        assert!((elevation - number(&check["elevation"])).abs() < 1e-4, "{check}: {elevation}");
    }
}

#[test]
fn spells_of_full_sun_agree_to_a_minute() {
    const MINUTE: f64 = 1.0 / 60.0;
    let cases = horizon_cases();
    let list = cases["cases"].as_array().expect("cases");
    assert_eq!(list.len(), 9);
    for case in list {
        let name = case["horizon"].as_str().expect("a name");
        let place = Place::on_latitude(deg(number(&case["lat"]))).expect("on the globe");
        let daylight = Daylight::of(&place).expect("a year");
        let horizon = horizon(&cases, name);
        let mut worst_seconds: f64 = 0.0;
        for (day, theirs) in case["days"].as_object().expect("days") {
            let (month, of_month) = day.split_once('-').expect("MM-DD");
            let day = MonthDay::new(month.parse().expect("month"), of_month.parse().expect("day")).expect("a day");
            let ours = daylight.day(&horizon, day);
            let spells = theirs["intervals_utc"].as_array().expect("intervals");
            assert_eq!(ours.spells.len(), spells.len(), "{name} {day}");
            for (spell, theirs) in ours.spells.iter().zip(spells) {
                for (ours, theirs) in [(spell.utc_hours.0, &theirs[0]), (spell.utc_hours.1, &theirs[1])] {
                    let off = ours - hours(theirs.as_str().expect("a clock time"));
                    worst_seconds = worst_seconds.max(3600.0 * off.abs());
                    assert!(off.abs() < MINUTE, "{name} {day}: {ours} {theirs}");
                }
            }
            for (ours, key) in [
                (ours.day_length_hours, "day_length_h"),
                (ours.hours(), "full_sun_h"),
                (ours.midday_hours(), "full_sun_9_15_solar_h"),
                (ours.longest_hours(), "longest_block_h"),
            ] {
                assert!((ours - number(&theirs[key])).abs() < MINUTE, "{name} {day} {key}: {ours}");
            }
        }
        let fixed = from_dates(&[(MonthDay { month: 1, day: 1 }, deg(number(&case["tilt"])))]);
        let kept = daylight.year(&horizon, &fixed).beam_kept;
        println!(
            "{:>2} N {name:<30} worst edge {worst_seconds:.1} s, beam kept {kept:.4} / {}",
            case["lat"], case["year_beam_kept"]
        );
        assert!((kept - number(&case["year_beam_kept"])).abs() < 0.001, "{name}: {kept}");
    }
}

/// 100 rows of WMM2025_TestValues.txt (NOAA NCEI), 12 rows of the WMM2025 report (second-hand copy), 40 towns by pygeomag 1.1.0.
#[test]
fn every_magnetic_test_row_agrees() {
    /// Half of the last printed place, the single precision of the crate (0.002), and the day a decimal year is rounded to.
    const PRINTED: f64 = 0.0075;
    const TOWNS: f64 = 0.002;
    let table = rows(include_str!("data/sun/magnetic_declination.csv"));
    assert_eq!(table.len(), 152);
    let mut worst: f64 = 0.0;
    for row in &table {
        let year = row.number("decimal_year");
        let days = (year.fract() * 365.0).round() as u16;
        let date = nth_day(year as i32, days);
        let ours = declination_at(
            deg(row.number("lat_deg")),
            deg(row.number("lon_deg")),
            mm(1e6 * row.number("alt_km")),
            date,
        )
        .expect("a declination");
        let town = row.text("D_published_deg").is_empty();
        let column = if town { "D_wmm2025_double_deg" } else { "D_published_deg" };
        let turn = (to_deg(ours.declination) - row.number(column)).abs();
        let off = turn.min(360.0 - turn);
        worst = worst.max(off);
        assert!(off < if town { TOWNS } else { PRINTED }, "{} {year}: {off}", row.text("source"));
        let uncertainty = to_deg(ours.uncertainty.expect("the model states one"));
        let report = (0.26f64.powi(2) + (5417.0 / row.number("H_nT")).powi(2)).sqrt();
        assert!((uncertainty - report).abs() < 0.01, "{}: {uncertainty} {report}", row.text("source"));
    }
    println!("worst of 152 rows: {worst:.4} deg");
}

fn nth_day(year: i32, mut days: u16) -> Date {
    let mut month = 1;
    while days >= u16::from(days_in_month(year, month)) {
        days -= u16::from(days_in_month(year, month));
        month += 1;
    }
    Date::new(year, month, days as u8 + 1).expect("a day")
}

/// pvlib 0.16.1 positions on 21 December 2025, exact plane geometry.
#[test]
fn row_spacings_agree() {
    let table = rows(include_str!("data/sun/row_spacing.csv"));
    assert_eq!(table.len(), 28);
    for row in &table {
        let ray = SunRay { altitude: deg(row.number("sun_alt_app")), off_facing: deg(row.number("sun_az") - 180.0) };
        let face = |tilt_deg: f64, rise_deg: f64| RowFace {
            slope_length: mm(2000.0),
            tilt: deg(tilt_deg),
            ground_rise: deg(rise_deg),
        };
        for (tilt, rise, column) in [
            (30.0, 0.0, "pitch_L2_tilt30"),
            (60.0, 0.0, "pitch_L2_tilt60"),
            (60.0, 5.0, "pitch_L2_tilt60_slope_plus5"),
            (60.0, -5.0, "pitch_L2_tilt60_slope_minus5"),
        ] {
            let theirs = row.number(column);
            if theirs < 0.0 {
                // The ground falls faster than the rays: no distance serves.
                assert!(spacing(face(tilt, rise), ray).is_err());
                continue;
            }
            let metres = to_mm(spacing(face(tilt, rise), ray).expect("a spacing").pitch) / 1000.0;
            assert!((metres - theirs).abs() < 0.001 + 1e-4 * theirs, "{} {column}: {metres} {theirs}", row.text("lat"));
        }
        let flat = spacing(face(60.0, 0.0), ray).expect("a spacing");
        let height = 2000.0 * 60f64.to_radians().sin();
        for (ours, column) in [(flat.shadow, "Dprime_over_H"), (flat.sideways, "sideways_over_H")] {
            let theirs = row.number(column);
            assert!((to_mm(ours) / height - theirs).abs() < 1e-3 * theirs.abs().max(1.0), "{column} {theirs}");
        }
    }
}

/// pvlib documentation, example of shaded fraction after Anderson & Jensen, J. Renew. Sust. Energy 16, 023504 (2024).
#[test]
fn the_shaded_share_of_the_published_example_returns() {
    let face = RowFace { slope_length: mm(2000.0), tilt: deg(30.0), ground_rise: deg(0.0) };
    let ray = SunRay { altitude: deg(10.0), off_facing: deg(135.0 - 180.0) };
    let share = shaded_share(face, mm(3000.0), ray).expect("a share");
    assert!((share - 0.477_556_947_080_835_25).abs() < 1e-12, "{share}");
}

/// A worked note from Chandigarh (arithmetic only): face 1966 mm at 32°, sun 17° high and 48° off south.
#[test]
fn a_worked_shadow_returns() {
    let face = RowFace { slope_length: mm(1966.0), tilt: deg(32.0), ground_rise: deg(0.0) };
    let ray = SunRay { altitude: deg(17.0), off_facing: deg(48.0) };
    let shadow = to_mm(spacing(face, ray).expect("a spacing").shadow);
    assert!((shadow - 2280.2).abs() < 0.1, "{shadow}");
}

/// pvlib 0.16.1: yearly losses of a face turned off the equator, or tilted wrongly, at its best tilt, and in the winter months at the
/// winter tilt.
#[test]
fn losses_of_a_turned_face_agree() {
    /// Losses are printed to 0.01 %; the sampling differs by as much again.
    const LOSS: f64 = 0.03;
    /// Whole-degree winter tilts and months of unlike length leave a little more.
    const WINTER_LOSS: f64 = 0.1;
    let table = rows(include_str!("data/sun/misalignment.csv"));
    assert_eq!(table.len(), 92);
    let (mut turned_rows, mut tilted_rows) = (0, 0);
    for latitude in [20.0, 30.0, 40.0, 50.0, 60.0] {
        let place = Place::on_latitude(deg(latitude)).expect("on the globe");
        let by_degree = || (0..=90).map(f64::from).collect::<Vec<_>>();
        let straight = DailyEnergy::by_degree(&place).expect("a table");
        let (best, winter_best) = (best_tilt(&straight, all_days), best_tilt(&straight, winter_days));
        for row in table.iter().filter(|row| row.number("lat") == latitude) {
            if row.text("tilt_err_deg").is_empty() {
                let off = row.number("az_off_deg");
                let turned = DailyEnergy::new(&place, by_degree(), off).expect("a table");
                let loss = |days: fn(usize) -> bool, tilt| {
                    100.0 * (1.0 - sum(&turned, days, tilt) / sum(&straight, days, tilt))
                };
                let theirs = row.number("year_loss_pct_at_best_tilt");
                let ours = loss(all_days, best);
                assert!((ours - theirs).abs() < LOSS + 0.002 * theirs, "{latitude} off {off}: {ours} {theirs}");
                let theirs = row.number("nov_jan_loss_pct_at_winter_tilt");
                let ours = loss(winter_days, winter_best);
                assert!((ours - theirs).abs() < WINTER_LOSS + 0.005 * theirs, "{latitude} off {off}: {ours} {theirs}");
                turned_rows += 1;
            } else {
                let tilt = best + row.number("tilt_err_deg");
                if !(0.0..=90.0).contains(&tilt) {
                    continue;
                }
                let ours = 100.0 * (1.0 - sum(&straight, all_days, tilt) / sum(&straight, all_days, best));
                let theirs = row.number("year_loss_pct_at_best_tilt");
                assert!((ours - theirs).abs() < LOSS + 0.002 * theirs, "{latitude} tilt {tilt}: {ours} {theirs}");
                tilted_rows += 1;
            }
        }
    }
    assert_eq!(turned_rows, 45);
    assert_eq!(tilted_rows, 47);
}

fn all_days(_: usize) -> bool {
    true
}

fn winter_days(day: usize) -> bool {
    [11, 12, 1].contains(&MonthDay::from_index(day).month)
}

fn sum(energy: &DailyEnergy, days: fn(usize) -> bool, tilt: f64) -> f64 {
    (0..365).filter(|day| days(*day)).map(|day| energy.at(day, tilt)).sum()
}

fn best_tilt(energy: &DailyEnergy, days: fn(usize) -> bool) -> f64 {
    let tilts = (0..=90).map(f64::from);
    tilts.max_by(|a, b| sum(energy, days, *a).total_cmp(&sum(energy, days, *b))).expect("tilts")
}
