//! A horizon survey as a builder writes it down, read and checked.

use super::{
    calendar::Date,
    compass::{self, Declination},
    fault::SunFault,
    horizon::Horizon,
    place::Place,
};
use crate::{
    design::{Fault, Places, read_yaml},
    quantities::{Angle, Latitude, Length, Longitude, Written, deg, mm, number, one_line, to_deg, to_mm},
};
use serde::Deserialize;

/// What the bearings of a survey were read from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Bearings {
    /// A compass: they are turned by the declination of the place and day.
    Magnetic,
    /// A map, or the noon shadow.
    True,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenSurvey {
    #[serde(default)]
    name: String,
    latitude: Written<Latitude>,
    longitude: Written<Longitude>,
    height: Option<Written<Length>>,
    date: Option<String>,
    utc_offset_hours: Option<f64>,
    bearings: Bearings,
    declination: Option<Written<Angle>>,
    eye_height: Option<Written<Length>>,
    low_edge: Option<Written<Length>>,
    #[serde(default)]
    points: Vec<WrittenPoint>,
    #[serde(default)]
    obstacles: Vec<WrittenObstacle>,
    rows: Option<WrittenRows>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenPoint {
    name: Option<String>,
    bearing: Written<Angle>,
    elevation: Written<Angle>,
    distance: Option<Written<Length>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenObstacle {
    name: Option<String>,
    from: Written<Angle>,
    to: Written<Angle>,
    height: Written<Length>,
    distance: Written<Length>,
    foot: Option<Written<Length>>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenRows {
    slope_length: Written<Length>,
    tilt: Option<Written<Angle>>,
    ground_rise: Option<Written<Angle>>,
    from_hour: Option<f64>,
    depth: Option<Written<Length>>,
}

/// What is asked about frames behind each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RowRequest {
    /// Length of the face along its slope.
    pub slope_length: Length,
    /// Tilt in winter; the steepest of the plan when not given.
    pub tilt: Option<Angle>,
    /// Rise of the ground towards the row behind.
    pub ground_rise: Angle,
    /// Solar hour from which no row shades the next on the winter solstice, until as long after noon.
    pub from_hour: f64,
    /// How far any part stands off the axle, square to the face.
    pub depth: Length,
}

/// A point of the skyline, its bearing true.
#[derive(Debug, Clone, PartialEq)]
struct Point {
    name: Option<String>,
    bearing_deg: f64,
    elevation_deg: f64,
    distance_mm: Option<f64>,
}

/// Something of known height and distance, its bearings true.
#[derive(Debug, Clone, PartialEq)]
struct Obstacle {
    name: String,
    from_deg: f64,
    to_deg: f64,
    /// Top over the ground at the frame.
    top_mm: f64,
    foot_mm: f64,
    distance_mm: f64,
}

/// A change to the surroundings, to see what it is worth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Change<'a> {
    /// As surveyed.
    None,
    /// One named thing taken away.
    Without(&'a str),
    /// One named thing cut down to an elevation seen from the low edge (deg).
    Capped(&'a str, f64),
    /// The frame's low edge raised (mm).
    Raised(f64),
}

/// A checked survey: bearings are true, elevations are as seen from the low edge of the panels.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey {
    /// Name of the site.
    pub name: String,
    /// Where it is.
    pub place: Place,
    /// The day the bearings were read.
    pub date: Option<Date>,
    /// Clock time less UTC (h), with summer time where it is in force.
    pub utc_offset_hours: Option<f64>,
    /// What the bearings were read from.
    pub bearings: Bearings,
    /// Magnetic declination, when there is a date or it was given.
    pub declination: Option<Declination>,
    /// Low edge of the panels over the ground.
    pub low_edge: Length,
    /// Rows that were asked about.
    pub rows: Option<RowRequest>,
    eye_mm: f64,
    points: Vec<Point>,
    obstacles: Vec<Obstacle>,
}

impl Survey {
    /// Reads a survey. A `date` given here goes before the one in the text.
    ///
    /// # Errors
    /// Every fault of the text with its place.
    pub fn read(file: &str, text: &str, date: Option<Date>) -> Result<Self, Vec<Fault>> {
        let (written, places): (WrittenSurvey, Places) = read_yaml(file, text).map_err(|fault| vec![fault])?;
        let mut faults = Vec::new();
        let survey = resolve(&written, date, &mut faults);
        match survey {
            Some(survey) if faults.is_empty() => Ok(survey),
            _ => Err(faults
                .into_iter()
                .map(|fault| {
                    let place = places.of(&fault.field);
                    fault.at(place)
                })
                .collect()),
        }
    }

    /// A place whose horizon was not surveyed; it is taken as open and level.
    #[must_use]
    pub fn open(place: Place, date: Option<Date>) -> Self {
        Self {
            name: "site".to_string(),
            place,
            date,
            utc_offset_hours: None,
            bearings: Bearings::True,
            // A day outside the magnetic model costs only the compass reading.
            declination: date.and_then(|date| compass::declination(&place, date).ok()),
            low_edge: mm(0.0),
            rows: None,
            eye_mm: 0.0,
            points: Vec::new(),
            obstacles: Vec::new(),
        }
    }

    /// False when nothing is known of the horizon.
    #[must_use]
    pub fn is_surveyed(&self) -> bool {
        !(self.points.is_empty() && self.obstacles.is_empty())
    }

    /// Names of everything that can be judged on its own, in the order of the survey.
    #[must_use]
    pub fn things(&self) -> Vec<&str> {
        let mut names: Vec<&str> = Vec::new();
        let points = self.points.iter().filter_map(|point| point.name.as_deref());
        for name in points.chain(self.obstacles.iter().map(|obstacle| obstacle.name.as_str())) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }

    /// Every named thing with the true bearings it stretches over, clockwise (deg).
    #[must_use]
    pub fn spans(&self) -> Vec<(&str, f64, f64)> {
        let mut spans: Vec<(&str, f64, f64)> = Vec::new();
        for point in &self.points {
            let Some(name) = point.name.as_deref() else { continue };
            match spans.iter_mut().find(|span| span.0 == name) {
                Some(span) => span.2 = point.bearing_deg,
                None => spans.push((name, point.bearing_deg, point.bearing_deg)),
            }
        }
        spans.extend(self.obstacles.iter().map(|o| (o.name.as_str(), o.from_deg, o.to_deg)));
        spans
    }

    /// Highest elevation of a thing seen from the low edge.
    #[must_use]
    pub fn elevation_of(&self, thing: &str) -> Angle {
        let low_mm = to_mm(self.low_edge);
        let points =
            self.points.iter().filter(|p| p.name.as_deref() == Some(thing)).map(|p| self.seen_point(p, low_mm));
        let obstacles = self.obstacles.iter().filter(|o| o.name == thing).map(|o| seen_obstacle(o, low_mm));
        deg(points.chain(obstacles).fold(f64::NEG_INFINITY, f64::max))
    }

    /// Height that a thing may have when it must not be seen above an elevation; `None` when its distance is not known.
    #[must_use]
    pub fn height_under(&self, thing: &str, elevation: Angle) -> Option<Length> {
        let slope = to_deg(elevation).to_radians().tan();
        let low_mm = to_mm(self.low_edge);
        let points = self.points.iter().filter(|p| p.name.as_deref() == Some(thing));
        let obstacles = self.obstacles.iter().filter(|o| o.name == thing);
        let heights: Option<Vec<f64>> = points
            .map(|p| p.distance_mm.map(|distance| low_mm + distance * slope))
            .chain(obstacles.map(|o| Some(low_mm + o.distance_mm * slope - o.foot_mm)))
            .collect();
        heights.map(|heights| mm(heights.into_iter().fold(f64::INFINITY, f64::min).max(0.0)))
    }

    /// True when raising the frame can change anything: something has a distance.
    #[must_use]
    pub fn has_distances(&self) -> bool {
        !self.obstacles.is_empty() || self.points.iter().any(|point| point.distance_mm.is_some())
    }

    /// The horizon seen from the low edge, after a change.
    ///
    /// # Errors
    /// None for a survey that was read; bearings are checked there.
    pub fn horizon(&self, change: Change<'_>) -> Result<Horizon, SunFault> {
        let low_mm = to_mm(self.low_edge) + if let Change::Raised(by_mm) = change { by_mm } else { 0.0 };
        let changed = |name: Option<&str>, elevation_deg: f64| match change {
            Change::Without(thing) if name == Some(thing) => None,
            Change::Capped(thing, cap_deg) if name == Some(thing) => Some(elevation_deg.min(cap_deg)),
            _ => Some(elevation_deg),
        };
        let mut points: Vec<(Angle, Angle)> = self
            .points
            .iter()
            .filter_map(|point| {
                let seen = changed(point.name.as_deref(), self.seen_point(point, low_mm))?;
                Some((deg(point.bearing_deg), deg(seen.clamp(-10.0, 90.0))))
            })
            .collect();
        points.sort_by(|a, b| to_deg(a.0).total_cmp(&to_deg(b.0)));
        let mut horizon = if points.is_empty() { Horizon::open() } else { Horizon::of_points(&points)? };
        for obstacle in &self.obstacles {
            if let Some(seen) = changed(Some(&obstacle.name), seen_obstacle(obstacle, low_mm)) {
                let seen = deg(seen.clamp(-10.0, 90.0));
                horizon = horizon.with_obstacle(deg(obstacle.from_deg), deg(obstacle.to_deg), seen)?;
            }
        }
        Ok(horizon)
    }

    /// Elevation of a point from a height over the ground; a point without distance is taken as far away.
    fn seen_point(&self, point: &Point, from_mm: f64) -> f64 {
        match point.distance_mm {
            Some(distance_mm) => {
                let top_mm = self.eye_mm + distance_mm * point.elevation_deg.to_radians().tan();
                (top_mm - from_mm).atan2(distance_mm).to_degrees()
            }
            None => point.elevation_deg,
        }
    }
}

fn seen_obstacle(obstacle: &Obstacle, from_mm: f64) -> f64 {
    (obstacle.top_mm - from_mm).atan2(obstacle.distance_mm).to_degrees()
}

fn resolve(written: &WrittenSurvey, date: Option<Date>, faults: &mut Vec<Fault>) -> Option<Survey> {
    let place = place(written, faults);
    let date = date.or_else(|| written_date(written, faults));
    let low_edge = length(written.low_edge.as_ref(), mm(0.0), 0.0, "low_edge", faults);
    let eye = length(written.eye_height.as_ref(), low_edge, 0.0, "eye_height", faults);
    if let Some(hours) = written.utc_offset_hours
        && !(-12.0..=14.0).contains(&hours)
    {
        let sentence = format!("a clock {hours} hours off UTC runs nowhere");
        faults.push(Fault::new("utc-offset", "utc_offset_hours", sentence).hint("offsets run from -12 to 14 hours"));
    }
    check_skyline(written, faults);
    let rows = written.rows.as_ref().and_then(|rows| row_request(rows, faults));
    let place = place?;
    let declination = declination(written, &place, date, faults);
    let turn_deg = match (written.bearings, &declination) {
        (Bearings::True, _) => 0.0,
        (Bearings::Magnetic, Some(declination)) => to_deg(declination.declination),
        (Bearings::Magnetic, None) => return None,
    };
    if !faults.is_empty() {
        return None;
    }
    Some(Survey {
        name: if written.name.trim().is_empty() { "site".to_string() } else { one_line(written.name.trim()) },
        place,
        date,
        utc_offset_hours: written.utc_offset_hours,
        bearings: written.bearings,
        declination,
        low_edge,
        rows,
        eye_mm: to_mm(eye),
        points: points(written, turn_deg),
        obstacles: obstacles(written, turn_deg),
    })
}

fn place(written: &WrittenSurvey, faults: &mut Vec<Fault>) -> Option<Place> {
    let place = Place::new(written.latitude.0.0, written.longitude.0.0).and_then(Place::off_the_poles);
    let place = place.map_err(|fault| {
        let field = if matches!(fault, SunFault::Longitude { .. }) { "longitude" } else { "latitude" };
        fault.at_field(field)
    });
    let place = place.and_then(|place| match &written.height {
        Some(height) => place.at_height(height.0).map_err(|fault| fault.at_field("height")),
        None => Ok(place),
    });
    place.map_err(|fault| faults.push(fault)).ok()
}

fn written_date(written: &WrittenSurvey, faults: &mut Vec<Fault>) -> Option<Date> {
    let text = written.date.as_ref()?;
    Date::parse(text).map_err(|fault| faults.push(fault.at_field("date"))).ok()
}

fn declination(
    written: &WrittenSurvey,
    place: &Place,
    date: Option<Date>,
    faults: &mut Vec<Fault>,
) -> Option<Declination> {
    if let Some(given) = &written.declination {
        return Some(Declination::by_hand(given.0));
    }
    match date.map(|date| compass::declination(place, date)) {
        Some(Ok(declination)) => Some(declination),
        // True bearings need no model: a day outside it costs only the compass reading.
        Some(Err(_)) if written.bearings == Bearings::True => None,
        Some(Err(fault)) => {
            faults.push(fault.at_field("date"));
            None
        }
        None if written.bearings == Bearings::Magnetic && written.date.is_none() => {
            let sentence = "magnetic bearings need the day they were read";
            faults.push(
                Fault::new("no-date", "bearings", sentence)
                    .hint("add a line `date: 2026-11-20`, or give --date 2026-11-20")
                    .hint("or give the declination of a chart: `declination: 12.8 deg` (east positive)"),
            );
            None
        }
        None => None,
    }
}

fn check_skyline(written: &WrittenSurvey, faults: &mut Vec<Fault>) {
    // Each named thing is judged by a year of its own, so their number is bounded; a skyline has no need of more points.
    const MOST_NAMED: usize = 60;
    const MOST_POINTS: usize = 1000;
    // Nothing of one height and distance stands round more than half of a frame.
    const HALF_ROUND_DEG: f64 = 180.0;
    const ROUNDING_DEG: f64 = 1e-9;
    let named: std::collections::BTreeSet<&str> = written.points.iter().filter_map(|p| p.name.as_deref()).collect();
    for (field, count, most) in [
        ("obstacles", written.obstacles.len(), MOST_NAMED),
        ("points", named.len(), MOST_NAMED),
        ("points", written.points.len(), MOST_POINTS),
    ] {
        if count > most {
            let sentence = format!("`{field}` lists {count} things that would each be judged; {most} is the most");
            faults.push(
                Fault::new("too-many", field, sentence).hint("keep those that stand highest to the equator's side"),
            );
        }
    }
    if written.points.is_empty() && written.obstacles.is_empty() {
        faults.push(SunFault::EmptyHorizon.at_field("points"));
    }
    // Clockwise, each bearing once: the way round from the first point may pass north, and never comes back to it.
    let mut bearings = written.points.iter().map(|point| to_deg(point.bearing.0));
    let first_deg = bearings.find(|bearing| (0.0..360.0).contains(bearing)).unwrap_or(0.0);
    let mut before_deg = f64::NEG_INFINITY;
    let mut round_deg = f64::NEG_INFINITY;
    for (at, point) in written.points.iter().enumerate() {
        let (bearing_deg, elevation_deg) = (to_deg(point.bearing.0), to_deg(point.elevation.0));
        let turned_deg = (bearing_deg - first_deg).rem_euclid(360.0);
        if !(0.0..360.0).contains(&bearing_deg) {
            // It stands nowhere in the order of the others.
            faults.push(SunFault::Bearing { given_deg: bearing_deg }.at_field(&format!("points.{at}.bearing")));
        } else if turned_deg <= round_deg {
            let fault = SunFault::UnorderedHorizon { before_deg, given_deg: bearing_deg };
            faults.push(fault.at_field(&format!("points.{at}.bearing")));
        } else {
            (round_deg, before_deg) = (turned_deg, bearing_deg);
        }
        if !(-10.0..=89.0).contains(&elevation_deg) {
            faults.push(SunFault::Elevation { given_deg: elevation_deg }.at_field(&format!("points.{at}.elevation")));
        }
        length(point.distance.as_ref(), mm(1.0), 1.0, &format!("points.{at}.distance"), faults);
    }
    for (at, obstacle) in written.obstacles.iter().enumerate() {
        for (side, bearing) in [("from", &obstacle.from), ("to", &obstacle.to)] {
            if !(0.0..360.0).contains(&to_deg(bearing.0)) {
                let fault = SunFault::Bearing { given_deg: to_deg(bearing.0) };
                faults.push(fault.at_field(&format!("obstacles.{at}.{side}")));
            }
        }
        if to_deg(obstacle.from.0) == to_deg(obstacle.to.0) {
            let fault = SunFault::EmptySpan { at_deg: to_deg(obstacle.from.0) };
            faults.push(fault.at_field(&format!("obstacles.{at}.to")));
        }
        let (from_deg, to_deg_) = (to_deg(obstacle.from.0), to_deg(obstacle.to.0));
        if (to_deg_ - from_deg).rem_euclid(360.0) > HALF_ROUND_DEG + ROUNDING_DEG {
            faults
                .push(SunFault::WrongWayRound { from_deg, to_deg: to_deg_ }.at_field(&format!("obstacles.{at}.from")));
        }
        length(Some(&obstacle.height), mm(1.0), 1.0, &format!("obstacles.{at}.height"), faults);
        length(Some(&obstacle.distance), mm(1.0), 1.0, &format!("obstacles.{at}.distance"), faults);
    }
}

/// A length that is at least `least_mm`, or the default.
fn length(
    written: Option<&Written<Length>>,
    default: Length,
    least_mm: f64,
    field: &str,
    faults: &mut Vec<Fault>,
) -> Length {
    const MOST_MM: f64 = 1e8;
    let Some(written) = written else { return default };
    if !(least_mm..=MOST_MM).contains(&to_mm(written.0)) {
        let sentence = format!("{} mm cannot be used here", number(to_mm(written.0), 1));
        faults.push(Fault::new("length-out-of-range", field, sentence).hint(if least_mm > 0.0 {
            "a length above 0 and up to 100 km"
        } else {
            "a length from 0 up to 100 km"
        }));
    }
    written.0
}

fn row_request(rows: &WrittenRows, faults: &mut Vec<Fault>) -> Option<RowRequest> {
    const FROM_HOUR: f64 = 10.0;
    const DEPTH_MM: f64 = 250.0;
    let before = faults.len();
    let slope_length = length(Some(&rows.slope_length), mm(1.0), 1.0, "rows.slope_length", faults);
    let depth = length(rows.depth.as_ref(), mm(DEPTH_MM), 0.0, "rows.depth", faults);
    let tilt = rows.tilt.as_ref().map(|tilt| tilt.0);
    if let Some(given_deg) = tilt.map(to_deg).filter(|tilt| !(0.0..=90.0).contains(tilt)) {
        faults.push(SunFault::Tilt { given_deg }.at_field("rows.tilt"));
    }
    let ground_rise = rows.ground_rise.as_ref().map_or(deg(0.0), |rise| rise.0);
    if !(-45.0..=45.0).contains(&to_deg(ground_rise)) {
        let fault = SunFault::Row { what: "a ground slope in degrees", given: to_deg(ground_rise) };
        faults.push(fault.at_field("rows.ground_rise"));
    }
    let from_hour = rows.from_hour.unwrap_or(FROM_HOUR);
    if !(6.0..=12.0).contains(&from_hour) {
        let fault = SunFault::Row { what: "a first solar hour", given: from_hour };
        faults.push(fault.at_field("rows.from_hour"));
    }
    (faults.len() == before).then_some(RowRequest { slope_length, tilt, ground_rise, from_hour, depth })
}

/// Clockwise from the first that was written, so that a thing stretches from its first point to its last.
fn points(written: &WrittenSurvey, turn_deg: f64) -> Vec<Point> {
    let turned = written.points.iter().map(|point| Point {
        name: point.name.as_ref().map(|name| one_line(name.trim())),
        bearing_deg: (to_deg(point.bearing.0) + turn_deg).rem_euclid(360.0),
        elevation_deg: to_deg(point.elevation.0),
        distance_mm: point.distance.as_ref().map(|distance| to_mm(distance.0)),
    });
    turned.collect()
}

fn obstacles(written: &WrittenSurvey, turn_deg: f64) -> Vec<Obstacle> {
    let turned = |bearing: &Written<Angle>| (to_deg(bearing.0) + turn_deg).rem_euclid(360.0);
    let resolved = written.obstacles.iter().enumerate().map(|(at, obstacle)| {
        let foot_mm = obstacle.foot.as_ref().map_or(0.0, |foot| to_mm(foot.0));
        Obstacle {
            name: obstacle.name.as_ref().map_or_else(|| format!("obstacle {}", at + 1), |name| one_line(name.trim())),
            from_deg: turned(&obstacle.from),
            to_deg: turned(&obstacle.to),
            top_mm: foot_mm + to_mm(obstacle.height.0),
            foot_mm,
            distance_mm: to_mm(obstacle.distance.0),
        }
    });
    resolved.collect()
}
