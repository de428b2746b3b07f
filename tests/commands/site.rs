//! `site` end to end.

use crate::common::{Run, tiltwright, tiltwright_in};
use serde_json::Value;

const SURVEY: &str = "\
name: Elm Flat
latitude: 42 deg
longitude: -72.5 deg
date: 2026-11-20
utc_offset_hours: -5
bearings: magnetic
eye_height: 5 ft
low_edge: 2 ft 6 in
points:
  - {bearing: 0 deg, elevation: 2 deg}
  - {bearing: 90 deg, elevation: 4 deg}
  - {bearing: 130 deg, elevation: 10 deg, name: ridge}
  - {bearing: 160 deg, elevation: 14 deg, name: ridge}
  - {bearing: 200 deg, elevation: 13 deg, name: ridge}
  - {bearing: 230 deg, elevation: 7 deg}
  - {bearing: 270 deg, elevation: 3 deg}
obstacles:
  - {name: spruce, from: 175 deg, to: 205 deg, height: 45 ft, distance: 60 ft}
  - {name: shed, from: 215 deg, to: 245 deg, height: 14 ft, distance: 40 ft}
rows: {slope_length: 6 ft 6 in, tilt: 61 deg, ground_rise: 3 deg}
";

fn run(survey: &str, more: &[&str]) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("site.yaml"), survey).expect("a file");
    tiltwright_in(folder.path(), &[&["site", "site.yaml"], more].concat())
}

fn json(survey: &str) -> Value {
    let run = run(survey, &["--format", "json"]);
    assert_eq!(run.stderr, "");
    serde_json::from_str(&run.stdout).expect("JSON")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("{value} is no number"))
}

#[test]
fn a_shaded_site_fails_and_says_what_would_help() {
    let shaded = run(SURVEY, &[]);
    assert_eq!((shaded.code, shaded.stderr.as_str()), (1, ""));
    for words in
        ["TOO LITTLE winter sun", "True south reads 193.3° on the compass", "spruce", "call 811", "75 to 100 ft"]
    {
        assert!(shaded.stdout.contains(words), "{words}:\n{}", shaded.stdout);
    }
}

#[test]
fn the_advice_works_when_it_is_followed() {
    let answer = json(SURVEY);
    let hours = |survey: &str| number(&json(survey)["winter"]["hours"]);
    assert!(number(&answer["winter"]["hours"]) < 4.0);
    for (at, written) in [(0, "height: 45 ft"), (1, "height: 14 ft")] {
        let limit = &answer["obstacles"][at]["may_stand"][0];
        let cut = SURVEY.replace(written, &format!("height: {} mm", limit["height_mm"]));
        assert!(hours(&cut) >= 3.999, "{}: {}", answer["obstacles"][at]["name"], hours(&cut));
        let taller = SURVEY.replace(written, &format!("height: {} mm", number(&limit["height_mm"]) + 100.0));
        assert!(hours(&taller) < 4.0);
    }
    for raise in answer["raise_low_edge"].as_array().expect("raises") {
        let low_edge = 762.0 + number(&raise["by_mm"]);
        let raised = SURVEY.replace("low_edge: 2 ft 6 in", &format!("low_edge: {low_edge} mm"));
        assert!(hours(&raised) >= number(&raise["goal_hours"]) - 0.001, "{raise}");
    }
}

#[test]
fn magnetic_and_true_bearings_of_one_skyline_agree() {
    let magnetic = json(SURVEY);
    let turn = number(&magnetic["compass"]["declination_deg"]);
    let mut turned = String::new();
    for line in SURVEY.lines() {
        let mut line = line.to_string();
        for key in ["bearing: ", "from: ", "to: "] {
            if let Some((head, rest)) = line.split_once(key) {
                let (value, tail) = rest.split_once(" deg").expect("degrees");
                let bearing = (value.parse::<f64>().expect("a number") + turn).rem_euclid(360.0);
                line = format!("{head}{key}{bearing} deg{tail}");
            }
        }
        turned += &(line + "\n");
    }
    let mut lines: Vec<&str> = turned.lines().collect();
    // The point at north has moved to the end of the circle.
    let north = lines.remove(9);
    lines.insert(15, north);
    let by_map = json(&lines.join("\n").replace("bearings: magnetic", "bearings: true"));
    let difference = number(&magnetic["winter"]["hours"]) - number(&by_map["winter"]["hours"]);
    assert!(difference.abs() < 0.01, "{difference}");
}

/// At 75° W on UTC-5 clocks only the equation of time parts the sun from the clock; values of 2025 by pvlib 0.16.1 (horizon_cases.json).
#[test]
fn solar_noon_is_told_in_clock_time() {
    for (date, equation_min) in
        [("2025-12-21", 1.819), ("2025-01-31", -13.444), ("2025-03-20", -7.357), ("2025-06-21", -1.854)]
    {
        let place = ["site", "--latitude", "40", "--longitude", "-75", "--utc-offset", "-5", "--format", "json"];
        let run = tiltwright(&[&place[..], &["--date", date]].concat());
        assert_eq!(run.code, 0, "{}", run.stderr);
        let answer: Value = serde_json::from_str(&run.stdout).expect("JSON");
        let minutes = (720.0f64 - equation_min).round() as u32;
        let clock = format!("{:02}:{:02}", minutes / 60, minutes % 60);
        assert_eq!(answer["solar_noon"][0]["clock"], clock.as_str(), "{date}");
        assert_eq!(answer["horizon"], "open, not surveyed");
    }
}

fn survey_of(latitude: &str, points: &[(u16, u8)], more: &str) -> String {
    let points = points.iter().map(|(at, up)| format!("  - {{bearing: {at} deg, elevation: {up} deg}}\n"));
    let points: String = points.collect();
    format!("latitude: {latitude} deg\nlongitude: 0 deg\nbearings: true\npoints:\n{points}{more}")
}

/// Sunrise and sunset on the winter solstice at 42 N: cos A = sin δ / cos φ gives 122.4° and 237.6°, refraction takes each
/// half a degree farther out.
#[test]
fn two_bearings_are_no_survey_of_the_suns_swath() {
    for points in [&[(100, 2), (260, 2)][..], &[(180, 5)], &[(10, 0), (350, 0)], &[(150, 3), (210, 3)]] {
        let survey = survey_of("42", points, "");
        let answer = json(&survey);
        assert_eq!(answer["winter"]["verdict"], "no verdict", "{points:?}");
        let run = run(&survey, &[]);
        assert_eq!(run.code, 1, "no verdict can be given");
        assert!(run.stdout.contains("NO VERDICT") && !run.stdout.contains("ENOUGH"), "{}", run.stdout);
        assert!(run.stdout.contains("Nobody looked at 122° to"), "{}", run.stdout);
    }
    let winter = json(&survey_of("42", &[(150, 3), (210, 3)], ""))["winter"].clone();
    let arcs = winter["not_looked_at_deg"].as_array().expect("arcs");
    let edges: Vec<f64> = arcs.iter().flat_map(|arc| arc.as_array().expect("two edges").iter().map(number)).collect();
    assert!(
        edges.iter().zip([122.0, 150.0, 210.0, 238.0]).all(|(found, edge)| (found - edge).abs() < 0.6),
        "{edges:?}"
    );
    assert!(number(&winter["hours_if_blocked_there"]) < number(&winter["hours_if_level_there"]));
}

/// The points that the answer asks for make it a verdict; what was left out where the sun never stands asks for nothing.
#[test]
fn a_verdict_stands_when_what_nobody_looked_at_cannot_turn_it() {
    let seen = json(&survey_of("42", &[(115, 2), (150, 2), (210, 2), (245, 2)], ""));
    assert_eq!(
        (&seen["winter"]["verdict"], &seen["winter"]["not_looked_at_deg"]),
        (&"enough".into(), &Value::from(Vec::<f64>::new()))
    );
    // Six hours are kept between 135 and 225 degrees alone.
    let most = survey_of("42", &[(132, 2), (180, 2), (228, 2)], "");
    let answer = json(&most);
    assert_eq!(answer["winter"]["verdict"], "enough");
    assert!(number(&answer["winter"]["hours_if_blocked_there"]) >= 6.0, "{}", answer["winter"]);
    let text = run(&most, &[]).stdout;
    assert!(text.contains("the verdict holds either way"), "{text}");
    // A wall over what was seen leaves too little, whatever stands beside it.
    let wall = survey_of("42", &[(140, 60), (180, 60), (220, 60)], "");
    assert_eq!(json(&wall)["winter"]["verdict"], "too little");
    let south = json(&survey_of("-42", &[(0, 2), (50, 2), (310, 2)], ""));
    assert_eq!(south["winter"]["verdict"], "enough");
    assert_eq!(south["winter"]["not_looked_at_deg"].as_array().map(Vec::len), Some(2));
}

#[test]
fn an_obstacle_written_the_wrong_way_round_is_refused_with_what_works() {
    let spruce = |edges: &str| SURVEY.replace("from: 175 deg, to: 205 deg", edges);
    let swapped = run(&spruce("from: 205 deg, to: 175 deg"), &[]);
    assert_eq!((swapped.code, swapped.stdout.as_str()), (2, ""));
    let said = "error[wrong-way-round]: from 205 deg clockwise to 175 deg is 330 deg, more than half round\n   ┌─ site.yaml:18:26\n";
    assert!(swapped.stderr.starts_with(said), "{}", swapped.stderr);
    for (edges, works) in [
        ("from: 205 deg, to: 175 deg", "from: 175 deg, to: 205 deg"),
        ("from: 20 deg, to: 340 deg", "from: 340 deg, to: 20 deg"),
        ("from: 260 deg, to: 100 deg", "from: 100 deg, to: 260 deg"),
        ("from: 100 deg, to: 300 deg", "from: 100 deg, to: 200 deg"),
        ("from: 100 deg, to: 300 deg", "from: 200 deg, to: 300 deg"),
    ] {
        let refused = run(&spruce(edges), &[]);
        assert!(refused.code == 2 && refused.stderr.contains(&format!("`{works}`")), "{edges}: {}", refused.stderr);
        assert_eq!(run(&spruce(works), &[]).stderr, "", "{works}");
    }
    for across_north in ["from: 350 deg, to: 10 deg", "from: 271 deg, to: 91 deg"] {
        assert_eq!(run(&spruce(across_north), &[]).stderr, "", "{across_north}");
    }
}

#[test]
fn an_open_site_has_enough() {
    let open = &survey_of("42", &[(90, 0), (150, 0), (210, 0), (270, 0)], "");
    let answer = json(open);
    assert_eq!(answer["winter"]["verdict"], "enough");
    // Day length on the winter solstice at 42 N by pvlib 0.16.1 (horizon_cases.json).
    assert!((number(&answer["winter"]["hours"]) - 9.060).abs() < 0.02);
    assert_eq!(run(open, &[]).code, 0);
}

#[test]
fn the_polar_night_and_the_equator_are_judged() {
    let at = |latitude: &str| {
        format!(
            "latitude: {latitude} deg\nlongitude: 20 deg\nbearings: true\npoints: [{{bearing: 180 deg, elevation: 1 deg}}]\n"
        )
    };
    let night = run(&at("70"), &[]);
    assert_eq!(night.code, 1);
    assert!(night.stdout.contains("NO SUN"), "{}", night.stdout);
    let rows = run(&(at("70") + "rows: {slope_length: 2 m}\n"), &[]);
    assert!(rows.code == 1 && rows.stdout.contains("no distance between rows serves"), "{}", rows.stderr);
    for latitude in ["0", "89", "-89", "-33", "23.44"] {
        let run = run(&at(latitude), &["--format", "json"]);
        assert!(run.code <= 1 && run.stderr.is_empty(), "{latitude}: {}", run.stderr);
        serde_json::from_str::<Value>(&run.stdout).expect("JSON");
    }
}

#[test]
fn a_horizon_out_of_order_is_shown_in_its_line() {
    let wrong = run(&SURVEY.replace("bearing: 160 deg", "bearing: 120 deg"), &[]);
    assert_eq!((wrong.code, wrong.stdout.as_str()), (2, ""));
    assert_eq!(
        wrong.stderr,
        "error[horizon-not-ordered]: the point at 120 deg comes after the one at 130 deg\n   \
         ┌─ site.yaml:13:15\n13 │   - {bearing: 120 deg, elevation: 14 deg, name: ridge}\n   │               ^^^^^^^\n   \
         = hint: write the points clockwise, each bearing once; they may pass north, and end before the first\n"
    );
}

#[test]
fn every_fault_of_a_survey_is_told() {
    for (from, to, code) in [
        ("latitude: 42 deg", "latitude: 91 deg", "latitude-out-of-range"),
        ("longitude: -72.5 deg", "longitude: -190 deg", "longitude-out-of-range"),
        ("latitude: 42 deg", "latitude: 42", "bad-value"),
        ("date: 2026-11-20", "date: 2031-01-01", "magnetic-date"),
        ("date: 2026-11-20", "date: 2019-12-31", "magnetic-date"),
        ("date: 2026-11-20", "date: 2026-02-30", "no-such-date"),
        ("date: 2026-11-20\n", "", "no-date"),
        ("utc_offset_hours: -5", "utc_offset_hours: -50", "utc-offset"),
        ("bearings: magnetic", "bearings: grid", "unknown-value"),
        ("bearing: 270 deg", "bearing: 370 deg", "bearing-out-of-range"),
        ("elevation: 14 deg", "elevation: 95 deg", "elevation-out-of-range"),
        ("distance: 60 ft", "distance: 0 ft", "length-out-of-range"),
        ("from: 175 deg, to: 205 deg", "from: 175 deg, to: 175 deg", "empty-span"),
        ("ground_rise: 3 deg", "ground_rise: 60 deg", "row-layout"),
        ("ground_rise: 3 deg", "ground_rise: -40 deg", "row-layout"),
        ("tilt: 61 deg", "tilt: 120 deg", "tilt-out-of-range"),
        ("name: spruce", "nmae: spruce", "unknown-field"),
    ] {
        assert!(SURVEY.contains(from));
        let wrong = run(&SURVEY.replace(from, to), &[]);
        assert_eq!((wrong.code, wrong.stdout.as_str()), (2, ""), "{to}");
        assert!(wrong.stderr.contains(&format!("error[{code}]")), "{to}: {}", wrong.stderr);
    }
    let empty = run("latitude: 42 deg\nlongitude: 0 deg\nbearings: true\npoints: []\n", &[]);
    assert!(empty.code == 2 && empty.stderr.contains("error[empty-horizon]"), "{}", empty.stderr);
    assert!(run("", &[]).stderr.contains("empty-file"));
    for arguments in [&["site"][..], &["site", "no-such-file.yaml"], &["site", "--latitude", "91", "--longitude", "0"]]
    {
        assert_eq!(tiltwright(arguments).code, 2, "{arguments:?}");
    }
}

#[test]
fn a_declination_by_hand_serves_any_day() {
    let late = SURVEY.replace("date: 2026-11-20", "date: 2031-01-01\ndeclination: -12.9 deg");
    assert_eq!(json(&late)["compass"]["model"], "given by hand");
}

#[test]
fn the_sun_path_and_the_checklist_are_written() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("site.yaml"), SURVEY).expect("a file");
    tiltwright_in(folder.path(), &["site", "site.yaml", "--out", "out", "--units", "metric"]);
    for name in ["sun-path.svg", "siting.svg"] {
        let text = std::fs::read_to_string(folder.path().join("out").join(name)).expect("a file");
        assert!(text.contains("Elm Flat") && text.contains("CAUTION"), "{name}");
    }
}

#[test]
fn a_day_beyond_the_magnetic_model_costs_only_the_compass_reading() {
    let late = ["site", "--latitude", "40", "--longitude", "-75", "--date", "2035-01-01"];
    let run = tiltwright(&late);
    assert_eq!(run.code, 0, "{}", run.stderr);
    assert!(run.stdout.contains("No compass reading: the magnetic model does not reach 2035-01-01"), "{}", run.stdout);
}

/// South of the equator the sun stands in the north, and whoever surveys from the left passes it.
#[test]
fn points_may_pass_north_once() {
    let survey = |bearings: &[f64]| {
        let points = bearings.iter().map(|b| {
            let name = if [350.0, 10.0].contains(b) { ", name: ridge" } else { "" };
            format!("  - {{bearing: {b} deg, elevation: {} deg{name}}}\n", if *b == 90.0 { 10 } else { 25 })
        });
        let points: String = points.collect();
        format!("name: South\nlatitude: 37 S\nlongitude: 145 E\nbearings: true\npoints:\n{points}")
    };
    let told = |bearings: &[f64]| run(&survey(bearings), &[]);
    let through_north = told(&[270.0, 0.0, 90.0]);
    assert!(through_north.code <= 1 && through_north.stderr.is_empty(), "{}", through_north.stderr);
    assert_eq!(through_north.stdout, told(&[0.0, 90.0, 270.0]).stdout, "the same points, begun elsewhere");
    let named = told(&[270.0, 350.0, 10.0, 90.0]);
    assert!(named.stderr.is_empty() && named.stdout.contains("37° S") && named.stdout.contains("ridge"), "{named:?}");
    for twice in [&[270.0, 0.0, 280.0][..], &[270.0, 0.0, 90.0, 80.0], &[270.0, 0.0, 270.0], &[270.0, 260.0, 300.0]] {
        let refused = told(twice);
        assert_eq!((refused.code, refused.stdout.as_str()), (2, ""), "{twice:?}");
        assert!(refused.stderr.starts_with("error[horizon-not-ordered]"), "{twice:?}: {}", refused.stderr);
    }
}

/// At a pole a bearing says nothing: refused by option, in a survey and for tilts alike.
#[test]
fn a_pole_is_no_place_for_a_frame() {
    let hint = "a latitude runs from -89 (south) to 89 (north) here";
    for refused in [
        run(&SURVEY.replace("latitude: 42 deg", "latitude: 90 deg"), &[]),
        tiltwright(&["site", "--latitude", "90", "--longitude", "0"]),
        tiltwright(&["site", "--latitude", "-89.5", "--longitude", "0"]),
        tiltwright(&["tilts", "--latitude", "90"]),
    ] {
        assert_eq!((refused.code, refused.stdout.as_str()), (2, ""));
        assert!(refused.stderr.contains("error[latitude-out-of-range]: at latitude"), "{}", refused.stderr);
        assert!(refused.stderr.contains(hint), "{}", refused.stderr);
    }
    assert_eq!(tiltwright(&["site", "--latitude", "89", "--longitude", "0"]).code, 0);
}

#[test]
fn a_survey_is_refused_in_words_that_help() {
    for (from, to, words) in [
        ("elevation: 14 deg", "elevation: 90 deg", "runs from -10 to 89 degrees"),
        ("height: 45 ft", "height: -40 ft", "-12192 mm cannot"),
        ("date: 2026-11-20\n", "", "site.yaml:5:11"),
    ] {
        let refused = run(&SURVEY.replace(from, to), &[]);
        assert_eq!(refused.code, 2, "{to}");
        assert!(refused.stderr.contains(words), "{words}: {}", refused.stderr);
    }
    for bearing in ["bearing: 0 deg", "bearing: 90 deg"] {
        let astray = run(&SURVEY.replace(bearing, "bearing: 415 deg"), &[]);
        assert_eq!(astray.stderr.matches("error[").count(), 1, "{}", astray.stderr);
    }
    assert_eq!(run(&SURVEY.replace("elevation: 14 deg", "elevation: 89 deg"), &[]).stderr, "");
}
