//! Sun paths, tilt charts, the card and the calendar, measured back.

use crate::sheet_tests::measure::{groups, parse, words};
use tiltwright::{
    quantities::{Units, deg, to_deg},
    sheets::{
        Page, Paper, siting_sheet,
        sun_charts::{energy_chart, noon_chart, tilt_charts_sheet},
        sun_path::sun_path_sheet,
        tilt_card::{tilt_calendar, tilt_card},
    },
    sun::{Place, seasons::Study, site::study, survey::Survey},
};

const LATITUDES: [f64; 9] = [-89.0, -55.0, -35.0, 0.0, 3.0, 23.4, 40.0, 60.0, 78.0];

fn survey(latitude: f64) -> Survey {
    let text = format!(
        "latitude: {latitude} deg\nlongitude: 12 deg\nbearings: true\npoints:\n  - {{bearing: 20 deg, elevation: 5 deg, name: hill}}\n  \
         - {{bearing: 200 deg, elevation: 12 deg, name: row of <old> & \"tall\" limes}}\nobstacles:\n  \
         - {{from: 150 deg, to: 170 deg, height: 12 m, distance: 20 m}}\n  - {{name: barn, from: 340 deg, to: 10 deg, height: 6 m, distance: 30 m}}\n"
    );
    Survey::read("s.yaml", &text, None).expect("a survey")
}

fn place_study(latitude: f64) -> Study {
    Study::of(&Place::on_latitude(deg(latitude)).expect("on the globe")).expect("a table")
}

#[test]
fn sun_path_sheets_hold_everything_inside_and_nothing_overlaps() {
    for latitude in LATITUDES {
        let survey = survey(latitude);
        let plan = place_study(latitude).plan(4).expect("a plan");
        let site = study(&survey, &plan.seasons).expect("a study");
        for (paper, units) in [(Paper::Letter, Units::Us), (Paper::A4, Units::Metric)] {
            let sheet = sun_path_sheet(&survey, &site, Page::landscape(paper), units).expect("a sheet");
            assert!(sheet.clashes().is_empty(), "{latitude}: {:?}", sheet.clashes());
            let svg = sheet.to_svg();
            let document = parse(&svg);
            assert_eq!(groups(&document, "horizon").len(), 1);
            let paths = groups(&document, "path").len();
            assert!(paths >= 3, "{latitude}: {paths} paths");
        }
    }
}

/// Up on the sheet: the winter path at 40 N peaks at 26.6° (90 - 40 - 23.44), the summer one at 73.4°.
#[test]
fn paths_peak_at_the_noon_altitudes() {
    let survey = survey(40.0);
    let site = study(&survey, &place_study(40.0).plan(2).expect("a plan").seasons).expect("a study");
    let svg = sun_path_sheet(&survey, &site, Page::landscape(Paper::A4), Units::Metric).expect("a sheet").to_svg();
    let document = parse(&svg);
    let top = |day: &str| {
        let path = groups(&document, "path").into_iter().find(|group| group.attribute("data-day") == Some(day));
        let line = path.expect("a path").descendants().find(|node| node.has_tag_name("polyline")).expect("a line");
        let points = line.attribute("points").expect("points");
        let heights = points.split_whitespace().filter_map(|pair| pair.split_once(',')?.1.parse::<f64>().ok());
        heights.fold(f64::INFINITY, f64::min)
    };
    // Ticks of 0 and 80 degrees give the scale.
    let mark = |label: &str| {
        let texts = document.descendants().filter(|node| node.has_tag_name("text"));
        let node = texts.into_iter().find(|node| node.text() == Some(label)).expect("a tick");
        crate::sheet_tests::measure::number(node, "y")
    };
    let height = |y: f64| 80.0 * (mark("0") - y - 0.9) / (mark("0") - mark("80"));
    assert!((height(top("12-21")) - 26.56).abs() < 0.3, "{}", height(top("12-21")));
    assert!((height(top("06-21")) - 73.44).abs() < 0.3, "{}", height(top("06-21")));
}

#[test]
fn tilt_sheets_hold_everything_inside_and_nothing_overlaps() {
    for latitude in LATITUDES {
        let study = place_study(latitude);
        for count in [1, 4, 12] {
            let plan = study.plan(count).expect("a plan");
            let page = Page::portrait(Paper::Letter);
            let sheet = tilt_charts_sheet("A frame with a <name> & more", &study, &plan, page, Units::Us);
            assert!(sheet.clashes().is_empty(), "{latitude}, {count}: {:?}", sheet.clashes());
            let svg = sheet.to_svg();
            parse(&svg);
        }
    }
    let sheet = siting_sheet("Any", Page::portrait(Paper::A4), Units::Metric);
    assert!(sheet.clashes().is_empty(), "{:?}", sheet.clashes());
    let svg = sheet.to_svg();
    let all = words(&parse(&svg)).join(" ");
    assert!(all.contains("call 811") && all.contains("about 23 to 30 m much") && !all.contains(" ft"), "{all}");
}

#[test]
fn charts_show_the_best_tilt_and_the_noon_sun() {
    let study = place_study(40.0);
    let plan = study.plan(4).expect("a plan");
    let year = &energy_chart(&study, &plan).curves[0].points;
    let best = year.iter().max_by(|a, b| a.1.total_cmp(&b.1)).expect("points");
    assert_eq!((best.0.round(), best.1), (to_deg(study.fixed().tilt).round(), 100.0));
    // A curve that leaves the chart ends on its foot, not above it.
    let warm = energy_chart(&study, &plan).curves[2].points.clone();
    let last = warm.last().expect("points");
    assert!(last.0 < 90.0 && (last.1 - 50.0).abs() < 1e-9, "{last:?}");
    let noon = &noon_chart(&study, &plan).curves[0].points;
    let highest = noon.iter().map(|point| point.1).fold(0.0, f64::max);
    assert!((highest - 73.44).abs() < 0.01, "{highest}");
}

#[test]
fn the_card_lists_every_change_within_sixty_columns() {
    let study = place_study(-35.0);
    let plan = study.plan(4).expect("a plan");
    let name = "Härtling frame ".repeat(8) + &"x".repeat(90);
    let card = tilt_card(&name, study.place(), study.place().facing(), &plan, None);
    assert!(card.lines().all(|line| line.chars().count() == 60), "{card}");
    for season in &plan.seasons {
        assert!(card.contains(&season.from.in_words()), "{card}");
    }
    assert!(card.contains("facing true north") && card.contains("live DC"));
}

/// RFC 5545: CRLF line ends, content lines of at most 75 octets, folded lines begin with a blank, escapes of 3.3.11.
#[test]
fn the_calendar_keeps_the_standard() {
    let study = place_study(40.0);
    let plan = study.plan(4).expect("a plan");
    let name = "Frame, north; side \\ with a long name that must be folded äöü ".repeat(3);
    let calendar = tilt_calendar(&name, study.place(), &plan);
    assert_eq!(calendar, tilt_calendar(&name, study.place(), &plan));
    assert!(calendar.ends_with("END:VCALENDAR\r\n"));
    assert_eq!(calendar.matches('\n').count(), calendar.matches("\r\n").count());
    assert!(calendar.split("\r\n").all(|line| line.len() <= 75));
    let unfolded = calendar.replace("\r\n ", "");
    let with = |key: &str| unfolded.split("\r\n").filter(|line| line.starts_with(key)).collect::<Vec<_>>();
    assert_eq!(with("DTSTART;VALUE=DATE:").len(), plan.seasons.len());
    assert_eq!(with("DTSTART;VALUE=DATE:")[0], "DTSTART;VALUE=DATE:20250307");
    assert_eq!(with("BEGIN:VALARM").len(), 2 * plan.seasons.len());
    let mut ids = with("UID:");
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), plan.seasons.len());
    // Two designs at one place: no event of one takes the place of an event of the other.
    let other = tilt_calendar("The frame by the barn", study.place(), &plan).replace("\r\n ", "");
    assert!(ids.iter().all(|id| !other.contains(id)), "{other}");
    assert!(with("SUMMARY:")[0].contains("Frame\\, north\\; side \\\\ with"), "{}", with("SUMMARY:")[0]);
    for (begin, end) in [("BEGIN:VEVENT", "END:VEVENT"), ("BEGIN:VALARM", "END:VALARM")] {
        assert_eq!(with(begin).len(), with(end).len());
    }
}
