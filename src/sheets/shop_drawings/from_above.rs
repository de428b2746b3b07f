//! All frames seen from above: where every post or runner stands, on which line, and where a second row is still lit.

use super::drafter::{Drafter, draw_to_fit, paragraph, part};
use crate::{
    frame::Role,
    quantities::{Angle, angle, deg, mm, number, to_deg, to_mm},
    sheets::{
        dimension::{Feature, Side, Stack, arrow, running},
        geometry::{Bounds, Point, Rect, World},
        mark::{self, Group, Mark},
        page::Page,
        pen::Pen,
        sheet::{Sheet, SheetScale},
        text::{Anchor, Text, TextSize, width},
        view::View,
    },
    sun::{
        Date, MonthDay, Place, SunFault,
        calendar::REFERENCE_YEAR,
        compass::{Reliability, declination},
        daylight::{Daylight, winter_solstice},
        rows::{RowFace, RowSpacing, SunRay, spacing},
    },
};

const SIZE: TextSize = TextSize::Small;
/// True solar hours between which a second row is to be lit; common practice, no source.
const LIT_HOURS: [f64; 2] = [9.0, 15.0];
/// Length of the north arrow on the paper (mm).
const NORTH_MM: f64 = 14.0;

/// The sun of the winter solstice on a row of frames.
struct Shade {
    day: MonthDay,
    /// At noon.
    noon: Result<(Angle, RowSpacing), SunFault>,
    /// From the first to the last of [`LIT_HOURS`]: the greater distance of the two.
    hours: Result<RowSpacing, SunFault>,
}

/// A post or a runner of one frame, in the axes of all frames together: x from the middle of the whole, y behind the line.
struct Standing<'a> {
    mark: &'a str,
    role: Role,
    bounds: Bounds,
}

impl Standing<'_> {
    fn middle_mm(&self) -> f64 {
        0.5 * (self.bounds.left + self.bounds.right)
    }
}

impl Drafter<'_> {
    /// The plan to set all posts or runners out by.
    pub(super) fn plan_from_above(&self) -> Vec<Sheet> {
        let page = Page::landscape(self.paper);
        let window = page.window();
        let shade = self.shade();
        let words = [self.line_words(), self.gap_words(), self.shade_words(shade.as_ref())].join(" ");
        let (heading, foot) = paragraph(&words, window, SIZE);
        let room = Rect { top: foot + 3.0, ..window };
        let (scale, marks) = draw_to_fit(room, |view| self.all_frames(view, shade.as_ref().ok()));
        let sheet = self.sheet("setting-out", "Setting out, seen from above", page);
        vec![sheet.at_scale(SheetScale::One(scale)).with(heading).with(marks)]
    }

    /// Everything that stands on the ground, from the left.
    fn standing(&self) -> Vec<Standing<'_>> {
        let frame = self.frame;
        let mut all: Vec<Standing<'_>> = (0..frame.count)
            .flat_map(|nth| {
                let right_mm = self.frame_at_mm(nth);
                frame.standing().filter_map(move |(n, stick)| {
                    let corners = stick.corners().map(|corner| World::new(corner[0] + right_mm, corner[1]));
                    Some(Standing { mark: frame.mark(n), role: stick.role, bounds: Bounds::around(corners)? })
                })
            })
            .collect();
        all.sort_by(|a, b| a.middle_mm().total_cmp(&b.middle_mm()));
        all
    }

    /// Middle of a frame from the middle of all of them (mm).
    fn frame_at_mm(&self, nth: usize) -> f64 {
        (nth as f64 - (self.frame.count as f64 - 1.0) / 2.0) * self.frame.pitch_mm
    }

    fn all_frames(&self, view: &View, shade: Option<&Shade>) -> Vec<Mark> {
        let standing = self.standing();
        let (Some(first), Some(last)) = (standing.first(), standing.last()) else { return vec![] };
        let mut marks = Vec::new();
        let mut footprints = Vec::new();
        for nth in 0..self.frame.count {
            let footprint = self.footprint(nth);
            marks.push(part("frame", "footprint").with([Mark::rect(view.rect(footprint), Pen::Phantom)]).into());
            footprints.push(footprint);
        }
        for (n, stands) in standing.iter().enumerate() {
            marks.push(self.one(view, n + 1, stands).into());
        }
        let all = standing.iter().map(|s| s.bounds).fold(footprints[0], Bounds::with);
        let all = footprints.iter().fold(all, |all, one| all.with(*one));
        let line = [all.left, all.right].map(|x| view.at(World::new(x, 0.0)));
        marks.push(Mark::line(line[0].moved(-5.0, 0.0), line[1].moved(5.0, 0.0), Pen::Centre));
        for (end, along, anchor, toward) in [(line[0], -7.0, Anchor::End, 90.0), (line[1], 7.0, Anchor::Start, -90.0)] {
            let words = format!("{}° true", number((to_deg(self.design.site.facing) + toward).rem_euclid(360.0), 1));
            marks.push(Text::new(&words, end.moved(along, 0.0), SIZE).on_middle().anchored(anchor).into());
        }
        marks.extend(self.across(view, &standing, &footprints, all));
        marks.extend(self.behind(view, shade, all));
        let right = mark::bounds(&marks).map_or(line[1].x, |size| size.right);
        marks.extend(self.north(Point::new(right + NORTH_MM, view.at(World::new(0.0, all.high)).y)));
        let under = mark::bounds(&marks).map_or(line[0].y, |size| size.bottom) + 3.0 + SIZE.above();
        let middle = Point::new(view.at(World::new(0.5 * (first.middle_mm() + last.middle_mm()), 0.0)).x, under);
        let words = "low edge, towards the sun";
        marks.push(Text::new(words, middle, SIZE).bold().anchored(Anchor::Middle).into());
        marks
    }

    /// What a frame covers at its flattest tilt.
    fn footprint(&self, nth: usize) -> Bounds {
        let frame = self.frame;
        let flattest = frame.reached().first().map_or(0.0, |(tilt_deg, _)| tilt_deg.to_radians());
        let [left, right] = frame.extent_mm().map(|x| x + self.frame_at_mm(nth));
        let (low, high) = (frame.low_edge_u_mm, frame.low_edge_u_mm + frame.length_mm);
        Bounds { left, right, low: low * flattest.cos(), high: high * flattest.cos() }
    }

    fn one(&self, view: &View, number_: usize, stands: &Standing<'_>) -> Group {
        let hole_mm = self.frame.in_soil().map_or(0.0, |soil| soil.hole_diameter_mm);
        let middle = view.at(World::new(stands.middle_mm(), 0.0));
        let body = view.rect(stands.bounds);
        let mut group = part(stands.mark, stands.role.word())
            .fact("number", number_)
            .fact("x-mm", number(stands.middle_mm(), 3))
            .with([Mark::rect(body, Pen::Visible)]);
        if hole_mm > 0.0 {
            group = group.with([Mark::circle(middle, view.length(0.5 * hole_mm), Pen::Hidden)]);
        }
        // The words stand inside the frame, where there is room; the running dimension has every number anyway.
        let words = format!("{number_}: {}", stands.mark);
        let reach = view.length(0.5 * hole_mm).max(0.5 * body.width()) + 1.0;
        if width(&words, SIZE, false) + 2.0 * reach > view.length(0.5 * self.frame.span_mm) {
            return group;
        }
        let (way, anchor) = if number_ % 2 == 1 { (1.0, Anchor::Start) } else { (-1.0, Anchor::End) };
        let at = middle.moved(way * reach, -1.0 - SIZE.below());
        group.with(Mark::patched(Text::new(&words, at, SIZE).anchored(anchor)))
    }

    /// Distances along the line: between frames, and everything from number 1.
    fn across(&self, view: &View, standing: &[Standing<'_>], footprints: &[Bounds], all: Bounds) -> Vec<Mark> {
        let under = |x: f64| view.at(World::new(x, all.low));
        let mut between = Stack::new(Side::Below, view.at(World::new(0.0, all.low)).y);
        // All gaps are alike: the first says it.
        if let [first, second, ..] = footprints {
            let words = format!("{} clear", self.show(second.left - first.right));
            between.add(under(first.right), under(second.left), &words);
        }
        let (mut marks, reach) = between.draw();
        let base = view.at(World::new(0.0, all.low)).y + reach;
        let feature = |(n, stands): (usize, &Standing<'_>)| {
            let from_first = self.show(stands.middle_mm() - standing[0].middle_mm());
            let text = if n == 0 { format!("0, no. {}", n + 1) } else { format!("{from_first}, no. {}", n + 1) };
            Feature { at: Point::new(under(stands.middle_mm()).x, base), text }
        };
        let mut features: Vec<Feature> = standing.iter().enumerate().map(feature).collect();
        let datum = features.remove(0);
        marks.extend(running(Side::Below, base, &datum, &features).0);
        marks
    }

    /// Lines on which a second row may stand. They would shrink the plan, so they are drawn near it and said to be.
    fn behind(&self, view: &View, shade: Option<&Shade>, all: Bounds) -> Vec<Mark> {
        const APART_MM: f64 = 9.0;
        let Some(shade) = shade else { return vec![] };
        let noon = shade.noon.as_ref().ok().map(|(_, noon)| (*noon, "at noon".to_string()));
        let hours = shade.hours.as_ref().ok().map(|hours| (*hours, lit_hours()));
        let mut marks = Vec::new();
        for (n, (row, when)) in [noon, hours].into_iter().flatten().enumerate() {
            let behind_mm = self.frame.tape.at_least_mm(to_mm(row.pitch));
            let up = -(n as f64 + 1.0) * APART_MM;
            let ends = [all.left, all.right].map(|x| view.at(World::new(x, all.high)).moved(0.0, up));
            let group = part("second row", "second-row").fact("behind-mm", number(behind_mm, 3));
            marks.push(group.with([Mark::line(ends[0], ends[1], Pen::Phantom)]).into());
            let words =
                format!("a second row, lit {when}: {} behind the line (not drawn to scale)", self.show(behind_mm));
            marks.push(Text::new(&words, ends[0].moved(0.0, -0.8 - SIZE.below()), SIZE).into());
        }
        marks
    }

    fn north(&self, foot: Point) -> Vec<Mark> {
        // Up on the paper lies behind the frames.
        let turned = (-(to_deg(self.design.site.facing) + 180.0)).to_radians();
        let step = |along: f64| foot.moved(along * turned.sin(), -along * turned.cos());
        let (tail, tip) = (step(-0.5 * NORTH_MM), step(0.5 * NORTH_MM));
        let letter = step(0.5 * NORTH_MM + 2.5);
        vec![
            Mark::line(tail, tip, Pen::Visible),
            arrow(tip, tail.angle_to_deg(tip)),
            Text::new("N", letter, SIZE).bold().centred().into(),
        ]
    }

    /// What stands on which line, and which way it runs.
    fn line_words(&self) -> String {
        let frame = self.frame;
        let facing = self.design.site.facing;
        let frames = if frame.count == 1 { "One frame".to_string() } else { format!("{} equal frames", frame.count) };
        let flattest = frame.reached().first().map_or(0.0, |(tilt_deg, _)| *tilt_deg);
        let (feet, stands_on, turns_on) = (frame.feet.len() * frame.count, frame.stands_on_word(), frame.turns_on());
        let line = format!("{}s", turns_on.word());
        let what = match frame.in_soil() {
            Some(_) => format!("{feet} {stands_on}, their holes"),
            None => format!("{feet} {stands_on}, their {line}"),
        };
        let turned = |by: f64| deg((to_deg(facing) + by).rem_euclid(360.0));
        let (left, right) = (turned(90.0), turned(-90.0));
        format!(
            "{frames} with the outline at {}, {what} on one line, that of the {line}: stretch a string along it and tape every \
             number from no. 1, never from one to the next. The line is square to the facing, {} true, and runs at {} and {} true; {}",
            angle(deg(flattest)),
            angle(facing),
            angle(left),
            angle(right),
            self.compass_words([left, right])
        )
    }

    fn compass_words(&self, ends: [Angle; 2]) -> String {
        let noon = "The shadow of a plumb line at true noon lies north and south.";
        let Some(longitude) = self.design.site.longitude else {
            return format!("give `site.longitude` for what a compass reads. {noon}");
        };
        // No clock is asked, so that the same design gives the same sheet: the day is said instead.
        let read = Place::new(self.design.site.latitude, longitude)
            .and_then(|place| place.at_height(self.design.site.elevation))
            .and_then(|place| Date::new(REFERENCE_YEAR + 2, 1, 1).and_then(|day| Ok((declination(&place, day)?, day))));
        match read {
            Err(fault) => format!("what a compass reads is not known: {fault}. {noon}"),
            Ok((found, _)) if found.reliability == Reliability::Blackout => {
                format!("no compass serves this near the magnetic pole. {noon}")
            }
            Ok((found, day)) => {
                let [left, right] = ends.map(|end| angle(rounded(found.magnetic_bearing(end))));
                let side = if to_deg(found.declination) < 0.0 { "west" } else { "east" };
                let within =
                    found.uncertainty.map_or(String::new(), |one| format!(", give or take {}", angle(rounded(one))));
                format!(
                    "a compass reads {left} and {right} (declination {} {side} by {}, {} January {}{within}; iron near it counts for \
                     more). {noon}",
                    angle(rounded(deg(to_deg(found.declination).abs()))),
                    found.model,
                    day.day(),
                    day.year(),
                )
            }
        }
    }

    /// Why neighbouring frames stand as far apart as they do.
    fn gap_words(&self) -> String {
        let frame = self.frame;
        if frame.count == 1 {
            return String::new();
        }
        let by = match self.design.array.frame_gap {
            Some(_) => "as `array.frame_gap` says".to_string(),
            None => "room for a person to pass and to reach the pins (common practice, no source; `array.frame_gap` changes it)"
                .to_string(),
        };
        let apart_mm = frame.pitch_mm - frame.span_mm;
        let holes = match frame.in_soil() {
            Some(soil) if apart_mm < soil.hole_diameter_mm => {
                " The holes of neighbouring posts run into one another: dig them as one."
            }
            _ => "",
        };
        format!(
            "Between neighbouring frames {} stay clear at every tilt: {by}.{holes} Level the line from the first to the last.",
            self.show(frame.gap_mm)
        )
    }

    fn shade(&self) -> Result<Shade, SunFault> {
        let site = &self.design.site;
        let place = Place::new(site.latitude, site.longitude.unwrap_or(deg(0.0)))?;
        let daylight = Daylight::of(&place)?;
        let day = winter_solstice(&place);
        let face = RowFace {
            slope_length: mm(self.frame.length_mm),
            tilt: deg(self.frame.reached().last().map_or(0.0, |(tilt_deg, _)| *tilt_deg)),
            ground_rise: deg(self.frame.slope_deg()),
        };
        let at = |hour: f64| {
            let sun = daylight.sun_at(day, hour);
            let off_deg = (to_deg(sun.azimuth) - to_deg(site.facing) + 540.0).rem_euclid(360.0) - 180.0;
            let found = spacing(face, SunRay { altitude: sun.altitude, off_facing: deg(off_deg) })?;
            Ok((sun.altitude, found))
        };
        let [first, last] = LIT_HOURS.map(at);
        let hours = first.and_then(|(_, first)| {
            let (_, last) = last?;
            Ok(if to_mm(last.pitch) > to_mm(first.pitch) { last } else { first })
        });
        Ok(Shade { day, noon: at(12.0), hours })
    }

    fn shade_words(&self, shade: Result<&Shade, &SunFault>) -> String {
        let shade = match shade {
            Ok(shade) => shade,
            Err(fault) => return format!("Where a second row is lit is not known: {fault}."),
        };
        let steepest = self.frame.reached().last().map_or(0.0, |(tilt_deg, _)| *tilt_deg);
        let rise = self.frame.slope_deg();
        let ground = if rise == 0.0 {
            "level ground".to_string()
        } else {
            format!("ground that rises {} behind", angle(deg(rise)))
        };
        let taped = |row: &RowSpacing| self.show(self.frame.tape.at_least_mm(to_mm(row.pitch)));
        let noon = match &shade.noon {
            Ok((altitude, row)) => {
                format!("at noon (sun {} high) {} behind this line", angle(rounded(*altitude)), taped(row))
            }
            Err(fault) => format!("at noon nowhere: {fault}"),
        };
        let hours = match &shade.hours {
            Ok(row) => format!(
                "{} {} behind; the shadow then reaches {} to the side",
                lit_hours(),
                taped(row),
                self.show(to_mm(row.sideways).abs())
            ),
            Err(fault) => format!("{} nowhere: {fault}", lit_hours()),
        };
        format!(
            "Shade: at {}, on {ground}, on {}, the shortest day, a second row of equal frames is lit {noon}, and {hours} ({} solar \
             time: common practice, no source). Frames on one line at one tilt leave each other lit while the sun stands before \
             them; one set steeper shades its neighbour early and late.",
            angle(deg(steepest)),
            shade.day.in_words(),
            lit_hours().replace("from ", ""),
        )
    }
}

fn lit_hours() -> String {
    let [first, last] = LIT_HOURS.map(|hour| number(hour, 0));
    format!("from {first} to {last} h")
}

/// Rounded to a tenth of a degree, as far as a compass or a protractor is read.
fn rounded(value: Angle) -> Angle {
    deg((to_deg(value) * 10.0).round() / 10.0)
}
