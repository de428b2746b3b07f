//! The sun's paths over a place with the surveyed horizon drawn in: bearing across, height up.

use super::{
    dimension::Labels,
    geometry::{Point, Rect},
    mark::{Fill, Group, Mark},
    page::Page,
    pen::Pen,
    sheet::Sheet,
    text::{Anchor, Text, TextSize, wrap},
};
use crate::{
    quantities::{Units, number, to_deg},
    sun::{
        MonthDay,
        daylight::{Daylight, SunPathPoint, equinoxes, summer_solstice, winter_solstice},
        horizon::Horizon,
        site::{SiteStudy, Verdict},
        survey::{Change, Survey},
    },
};

const SIZE: TextSize = TextSize::Fine;
const TICK: f64 = 1.5;

/// One page on its side: paths of the sun on seven days, hours, and the horizon.
///
/// # Errors
/// Passed on from the sun position; none for a survey that was read.
pub fn sun_path_sheet(
    survey: &Survey,
    site: &SiteStudy,
    page: Page,
    units: Units,
) -> Result<Sheet, crate::sun::SunFault> {
    let daylight = Daylight::of(&survey.place)?;
    let horizon = survey.horizon(Change::None)?;
    let window = page.window();
    let mut marks = Vec::new();
    let mut top = window.top;
    for line in wrap(&caption(survey, site), TextSize::Small, false, window.width()) {
        marks.push(Text::new(&line, Point::new(window.left, top + TextSize::Small.above()), TextSize::Small).into());
        top += TextSize::Small.line_pitch();
    }
    let plot = Plot::over(survey, &daylight, Rect { top: top + 2.0, ..window });
    marks.extend(plot.draw(survey, &horizon, &daylight));
    Ok(Sheet::new("sun-path", "Sun paths and horizon", &survey.name, page, units).with(marks))
}

fn caption(survey: &Survey, site: &SiteStudy) -> String {
    let winter = site.winter();
    let between =
        || format!("{} to {}", number(site.hours_if_unseen_blocked, 1), number(site.hours_if_unseen_level, 1));
    let hours = if site.verdict == Verdict::NotSeen { between() } else { number(winter.hours(), 1) };
    let judged = match site.verdict {
        Verdict::Enough => "enough",
        Verdict::ShortOfTarget => "short of the target of 6 h, above the least of 4 h",
        Verdict::TooLittle => "too little, the least is 4 h",
        Verdict::PolarNight => "the sun does not rise",
        Verdict::NotSeen => "no verdict: it hangs on bearings that nobody looked at",
    };
    let surveyed = if survey.is_surveyed() { "" } else { " The horizon was not surveyed and is drawn level." };
    format!(
        "Bearings from true north; hours are true solar time; heights are seen from the low edge of the panels. Full sun on the winter \
         solstice: {hours} h ({judged}); lost to the horizon in a year: {} % of the direct sun.{surveyed}",
        number(100.0 * (1.0 - site.year.beam_kept), 1)
    )
}

/// Where bearings and heights lie on the paper.
struct Plot {
    area: Rect,
    facing_deg: f64,
    half_width_deg: f64,
    /// Height at the top of the drawing.
    top_deg: f64,
}

impl Plot {
    /// As wide in bearing as the longest path needs, in steps of 15°.
    fn over(survey: &Survey, daylight: &Daylight, window: Rect) -> Self {
        let facing_deg = to_deg(survey.place.facing());
        let summer = daylight.path(summer_solstice(&survey.place));
        let up = summer.iter().filter(|point| to_deg(point.altitude) > 0.0);
        let farthest = up.map(|point| off(point, facing_deg).abs()).fold(90.0, f64::max);
        let tops = days(survey).into_iter().map(|(day, ..)| to_deg(daylight.sun_at(day, 12.0).altitude));
        // Room for a name over the highest path.
        let highest = tops.fold(30.0, f64::max) + 6.0;
        let area = Rect {
            left: window.left + SIZE.line_pitch() + 8.0 + TICK,
            right: window.right - 3.0,
            top: window.top + SIZE.above(),
            bottom: window.bottom - 2.0 * SIZE.line_pitch() - TICK - 2.7,
        };
        Self {
            area,
            facing_deg,
            half_width_deg: ((farthest / 15.0).ceil() * 15.0).min(180.0),
            top_deg: ((highest / 10.0).ceil() * 10.0).min(90.0),
        }
    }

    fn at(&self, off_deg: f64, height_deg: f64) -> Point {
        let across = (off_deg + self.half_width_deg) / (2.0 * self.half_width_deg);
        Point::new(
            self.area.left + across * self.area.width(),
            self.area.bottom - height_deg / self.top_deg * self.area.height(),
        )
    }

    fn draw(&self, survey: &Survey, horizon: &Horizon, daylight: &Daylight) -> Vec<Mark> {
        let mut marks = self.axes();
        let mut inside = Group { clip: Some(self.area), ..Group::new("sky") };
        inside.marks.push(self.skyline(horizon));
        let (hours, hour_names) = self.hours(survey, daylight);
        inside.marks.extend(hours);
        let mut names = Vec::new();
        for (day, name, pen) in days(survey) {
            let path = daylight.path(day);
            inside.marks.extend(
                self.chains(&path)
                    .into_iter()
                    .map(|points| Group::new("path").fact("day", day).with([Mark::Polyline { points, pen }]).into()),
            );
            names.push((self.top_of(&path), name));
        }
        marks.push(inside.into());
        let mut labels = Labels::new();
        for text in &hour_names {
            labels.avoid(std::slice::from_ref(text));
        }
        marks.extend(hour_names);
        for (top, name) in names.into_iter().filter_map(|(top, name)| top.map(|top| (top, name))) {
            let above = |up: f64| {
                let text = Text::new(&name, top.moved(0.0, -up), SIZE).anchored(Anchor::Middle);
                Vec::from(Mark::patched(text))
            };
            marks.extend(labels.place(self.area, [above(0.6), above(3.2), above(-2.8)]).unwrap_or_default());
        }
        marks.extend(self.things(survey, horizon, &mut labels));
        marks
    }

    fn axes(&self) -> Vec<Mark> {
        let mut marks = vec![Mark::rect(self.area, Pen::Rule)];
        for height in (0..=self.top_deg as u32).step_by(10).map(f64::from) {
            let left = self.at(-self.half_width_deg, height);
            marks.push(Mark::line(left, left.moved(-TICK, 0.0), Pen::Rule));
            let text = Text::new(&number(height, 0), left.moved(-TICK - 1.0, 0.0), SIZE).anchored(Anchor::End);
            marks.push(text.on_middle().into());
        }
        let mut off_deg = -self.half_width_deg;
        while off_deg <= self.half_width_deg {
            let foot = self.at(off_deg, 0.0);
            marks.push(Mark::line(foot, foot.moved(0.0, TICK), Pen::Rule));
            let bearing = (self.facing_deg + off_deg).rem_euclid(360.0);
            let named = match bearing as u32 {
                0 => "N",
                90 => "E",
                180 => "S",
                270 => "W",
                _ => "",
            };
            let words = format!("{named} {}", number(bearing, 0));
            // A full circle has one bearing at both ends; it and its neighbours stay apart.
            let shown = self.half_width_deg < 150.0 || (off_deg / 15.0).round() as i32 % 2 == 0;
            if shown {
                let at = foot.moved(0.0, TICK + 1.2 + SIZE.above());
                marks.push(Text::new(words.trim(), at, SIZE).anchored(Anchor::Middle).into());
            }
            off_deg += 15.0;
        }
        let below = Point::new(self.area.centre().x, self.area.bottom + TICK + 1.2 + 2.0 * SIZE.line_pitch());
        marks.push(Text::new("bearing from true north (deg)", below, SIZE).anchored(Anchor::Middle).into());
        let beside = Point::new(self.area.left - TICK - 8.0, self.area.centre().y);
        marks.push(Text::new("height (deg)", beside, SIZE).anchored(Anchor::Middle).rotated(90.0).into());
        marks
    }

    /// The land and all that stands on it, hatched.
    fn skyline(&self, horizon: &Horizon) -> Mark {
        let mut line: Vec<(f64, f64)> = horizon
            .outline(0.5)
            .into_iter()
            .map(|(bearing, height)| (off_facing_deg(bearing, self.facing_deg), height.max(0.0)))
            .collect();
        line.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut points = vec![self.at(-180.0, 0.0)];
        points.extend(line.into_iter().map(|(off_deg, height)| self.at(off_deg, height)));
        points.push(self.at(180.0, 0.0));
        Group::new("horizon").with([Mark::filled(points, Pen::Ground, Fill::Hatch(45.0))]).into()
    }

    /// Lines of equal solar hour from the lowest to the highest path, with their names at the highest.
    fn hours(&self, survey: &Survey, daylight: &Daylight) -> (Vec<Mark>, Vec<Mark>) {
        let (mut lines, mut names) = (Vec::new(), Vec::new());
        let (winter, summer) = (winter_solstice(&survey.place).index(), summer_solstice(&survey.place).index());
        let days: Vec<usize> = (0..=(summer + 365 - winter) % 365).map(|n| (winter + n) % 365).step_by(3).collect();
        for hour in 0..24 {
            let at_hour: Vec<SunPathPoint> = days
                .iter()
                .map(|day| daylight.sun_at(MonthDay::from_index(*day), f64::from(hour)))
                .filter(|point| to_deg(point.altitude) > 0.0)
                .collect();
            let Some(last) = at_hour.last() else { continue };
            lines
                .extend(self.chains(&at_hour).into_iter().map(|points| Mark::Polyline { points, pen: Pen::Dimension }));
            let end = self.at(off(last, self.facing_deg), to_deg(last.altitude));
            let morning = off(last, self.facing_deg) < 0.0;
            let (aside, anchor) = if morning { (-0.8, Anchor::End) } else { (0.8, Anchor::Start) };
            let text = Text::new(&format!("{hour} h"), end.moved(aside, -0.8), SIZE).anchored(anchor);
            let near = names.iter().any(|mark: &Mark| mark.bounds().is_some_and(|room| room.meets(text.bounds())));
            if self.area.holds(text.bounds()) && !near && hour != 12 {
                names.push(text.into());
            }
        }
        (lines, names)
    }

    /// The visible parts of a path, broken where it leaves at one side and comes back at the other.
    fn chains(&self, path: &[SunPathPoint]) -> Vec<Vec<Point>> {
        const FAR_DEG: f64 = 180.0;
        let mut chains: Vec<Vec<Point>> = Vec::new();
        let mut before: Option<f64> = None;
        for point in path {
            if to_deg(point.altitude) < -1.0 {
                before = None;
                continue;
            }
            let off_deg = off(point, self.facing_deg);
            let joins = before.is_some_and(|before| (off_deg - before).abs() < FAR_DEG);
            let place = self.at(off_deg, to_deg(point.altitude));
            match chains.last_mut() {
                Some(chain) if joins => chain.push(place),
                _ => chains.push(vec![place]),
            }
            before = Some(off_deg);
        }
        chains.retain(|chain| chain.len() > 1);
        chains
    }

    fn top_of(&self, path: &[SunPathPoint]) -> Option<Point> {
        let top = path.iter().max_by(|a, b| to_deg(a.altitude).total_cmp(&to_deg(b.altitude)))?;
        (to_deg(top.altitude) > 0.0).then(|| self.at(off(top, self.facing_deg), to_deg(top.altitude)))
    }

    /// Names of what was surveyed, over its highest point.
    fn things(&self, survey: &Survey, horizon: &Horizon, labels: &mut Labels) -> Vec<Mark> {
        let mut marks = Vec::new();
        for (name, from_deg, to_deg_) in survey.spans() {
            let span = (to_deg_ - from_deg).rem_euclid(360.0);
            let bearings = (0..=20).map(|n| from_deg + span * f64::from(n) / 20.0);
            let places = bearings.map(|bearing| {
                let height = horizon.elevation(crate::quantities::deg(bearing.rem_euclid(360.0)));
                (off_facing_deg(bearing, self.facing_deg), to_deg(height))
            });
            let Some((off_deg, height)) = places.max_by(|a, b| a.1.total_cmp(&b.1)) else { continue };
            let middle = off_facing_deg(from_deg + span / 2.0, self.facing_deg);
            let spots = [(middle, 0.5), (off_deg, 0.8), (middle, 0.25), (off_deg, 1.0)];
            let ways = spots.map(|(across, share)| {
                let at = self.at(across, height * share);
                Vec::from(Mark::patched(Text::new(name, at, SIZE).anchored(Anchor::Middle)))
            });
            marks.extend(labels.place(self.area, ways).unwrap_or_default());
        }
        marks
    }
}

fn off(point: &SunPathPoint, facing_deg: f64) -> f64 {
    off_facing_deg(to_deg(point.azimuth), facing_deg)
}

/// A bearing seen from the facing, -180 to 180 (deg), clockwise +.
fn off_facing_deg(bearing_deg: f64, facing_deg: f64) -> f64 {
    (bearing_deg - facing_deg + 180.0).rem_euclid(360.0) - 180.0
}

/// The days drawn: the solstices, the equinoxes, and two between, each standing for a pair.
fn days(survey: &Survey) -> Vec<(MonthDay, String, Pen)> {
    let day = |month: u8, day: u8| MonthDay { month, day };
    let words = |day: MonthDay| format!("{} {}", day.day, &crate::sun::calendar::month_name(day.month)[..3]);
    let [spring, autumn] = equinoxes();
    let between =
        [(day(1, 21), day(11, 21)), (day(2, 20), day(10, 22)), (day(4, 20), day(8, 22)), (day(5, 21), day(7, 23))];
    let pairs = between.map(|(a, b)| (a, format!("{} / {}", words(a), words(b)), Pen::Dimension));
    let mut days = vec![
        (winter_solstice(&survey.place), words(winter_solstice(&survey.place)), Pen::Curve),
        (spring, format!("{} / {}", words(spring), words(autumn)), Pen::Curve),
        (summer_solstice(&survey.place), words(summer_solstice(&survey.place)), Pen::Curve),
    ];
    days.extend(pairs);
    days
}
