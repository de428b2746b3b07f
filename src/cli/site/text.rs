//! `site` as a page of text.

use super::answer::{Answer, CompassRow, DayRow, MonthRow, ObstacleRow, RowsRow, WinterRow};
use crate::{
    quantities::{MM_PER_INCH, Units, deg, latitude, length, longitude, mm, number},
    sheets::{self, Document, Section, Table, figures, words},
    sun::{calendar::month_name, horizon::MOST_APART_DEG},
};
use std::fmt::Write as _;

pub(super) fn write(answer: &Answer, units: Units) -> String {
    let mut text = head(answer);
    text += &winter(answer);
    text += &days(answer);
    text += &months(answer);
    text += &costs(answer, units);
    text += &facing(answer);
    if let Some(rows) = &answer.rows {
        text += &spacing(rows, units);
    }
    if let Some(note) = &answer.rows_note {
        let _ = writeln!(text, "\nRows of frames on the winter solstice: {note}");
    }
    text += "\nBefore the first post\n";
    for item in &answer.checklist {
        let _ = writeln!(text, "  [ ] {}: {} ({})", item.topic, item.text, item.source);
    }
    text += "\nCautions\n";
    for caution in answer.cautions {
        let _ = writeln!(text, "  - {caution}");
    }
    text
}

fn head(answer: &Answer) -> String {
    let place = &answer.place;
    let mut text = format!(
        "{}: {}, {}, horizon {}\n",
        answer.name,
        latitude(deg(place.latitude_deg)),
        longitude(deg(place.longitude_deg)),
        answer.horizon
    );
    if let Some(compass) = &answer.compass {
        text += &compass_line(compass, towards(answer));
    }
    if let Some(note) = &answer.compass_note {
        let _ = writeln!(text, "No compass reading: {note}.");
    }
    text
}

fn towards(answer: &Answer) -> &'static str {
    if answer.facing_deg == 0.0 { "north" } else { "south" }
}

fn compass_line(compass: &CompassRow, towards: &str) -> String {
    let side = if compass.declination_deg < 0.0 { "west" } else { "east" };
    let on = compass.date.as_ref().map_or(String::new(), |date| format!(" on {date}"));
    let sure = compass.uncertainty_deg.map_or(String::new(), |sigma| format!(", give or take {}°", number(sigma, 1)));
    format!(
        "Compass ({}{on}): magnetic north stands {}° {side} of true north{sure}. True {towards} reads {}° on the compass.\n\
         Reliability: {}. Steel, vehicles and some rock turn a needle by several degrees: check with the noon shadow.\n",
        compass.model,
        number(compass.declination_deg.abs(), 1),
        number(compass.facing_reads_deg, 1),
        compass.reliability
    )
}

fn winter(answer: &Answer) -> String {
    let winter = &answer.winter;
    let judged = match winter.verdict {
        "enough" => "ENOUGH winter sun",
        "short of the target" => "SHORT OF THE TARGET, but above the least",
        "polar night" => "NO SUN: it stays under the horizon on the winter solstice",
        "no verdict" => "NO VERDICT",
        _ => "TOO LITTLE winter sun",
    };
    if !answer.is_surveyed() {
        return format!(
            "\nNo horizon was surveyed: over a level one the shortest day has {} h of sun. No verdict on the site.\n",
            number(winter.hours, 1)
        );
    }
    let unseen = unseen(winter);
    if winter.verdict == "no verdict" {
        return format!(
            "\n{judged}: it hangs on what nobody looked at; least {} h, target {} h (common practice, no source).\n{unseen}",
            winter.least_hours, winter.target_hours
        );
    }
    format!(
        "\n{judged}: {} h of full sun on the winter solstice{}, least {} h, target {} h (common practice, no source).\n\
         {unseen}With every elevation {}° higher it is {} h, {}° lower {} h. Days are counted with the sun's centre; hours are good to about 0.1.\n\
         The skyline takes {} % of the year's direct sun on the face.\n",
        number(winter.hours, 1),
        if winter.in_one_block { " in one block" } else { ", not in one block" },
        winter.least_hours,
        winter.target_hours,
        winter.survey_error_deg,
        number(winter.hours_if_horizon_higher, 1),
        winter.survey_error_deg,
        number(winter.hours_if_horizon_lower, 1),
        number(answer.beam_lost_percent, 1)
    )
}

/// What nobody looked at, and what it may cost; empty when the survey leaves nothing out.
fn unseen(winter: &WinterRow) -> String {
    let list = |arcs: &[[f64; 2]]| {
        let arcs: Vec<String> =
            arcs.iter().map(|[from, to]| format!("{}° to {}°", number(*from, 0), number(*to, 0))).collect();
        arcs.join(" and ")
    };
    let mut text = String::new();
    if !winter.not_looked_at_deg.is_empty() {
        let holds = if winter.verdict == "no verdict" { "" } else { ": the verdict holds either way" };
        text = format!(
            "Nobody looked at {} (true bearings), where the sun stands on the winter solstice: {} h of full sun if all is blocked \
             there, {} h if the skyline is level{holds}.\n\
             Add points there, at every corner of the skyline and no more than {MOST_APART_DEG}° apart; where it is level, points of 0 deg.\n",
            list(&winter.not_looked_at_deg),
            number(winter.hours_if_blocked_there, 1),
            number(winter.hours_if_level_there, 1)
        );
    }
    if !winter.not_looked_at_in_summer_deg.is_empty() {
        text += &format!(
            "Nobody looked at {} (true bearings), where it stands on the summer solstice.\n",
            list(&winter.not_looked_at_in_summer_deg)
        );
    }
    if !text.is_empty() {
        text += "Hours and shares below take straight lines between the points there.\n";
    }
    text
}

fn days(answer: &Answer) -> String {
    let times = if answer.utc_offset_hours.is_some() { "clock time" } else { "true solar time" };
    let row = |day: &DayRow| {
        let hours = [day.full_sun_hours, day.day_length_hours, day.midday_hours, day.longest_hours];
        let hours = hours.map(|hours| format!("{hours:.1}")).into_iter();
        std::iter::once(day.event.to_string()).chain(hours).chain([spells(day)])
    };
    let hours = ["Hours", "Day length", "9-15 h", "Longest"].map(figures);
    let columns = std::iter::once(words("Day")).chain(hours).chain([words("From - to")]);
    under(&format!("Full sun ({times})"), Table::new(columns).with(answer.days.iter().map(row)))
}

/// A table with its heading, a line apart from what stands above.
fn under(heading: &str, table: Table) -> String {
    let document = Document::new("", None).with(Section::new(heading).table(table));
    format!("\n{}", sheets::text(&document))
}

fn spells(day: &DayRow) -> String {
    let written = day.spells.iter().map(|spell| {
        let from = spell.from_clock.as_ref().unwrap_or(&spell.from_solar);
        format!("{from} - {}", spell.to_clock.as_ref().unwrap_or(&spell.to_solar))
    });
    let list: Vec<String> = written.collect();
    if list.is_empty() { "none".to_string() } else { list.join(", ") }
}

fn months(answer: &Answer) -> String {
    let row = |month: &MonthRow| {
        [
            month_name(month.month).to_string(),
            format!("{:.1}", month.full_sun_hours),
            format!("{:.1}", month.open_hours),
        ]
    };
    let columns = [words("Month"), figures("Over the skyline"), figures("Over a level horizon")];
    under("Mean hours of full sun a day", Table::new(columns).with(answer.months.iter().map(row)))
}

fn costs(answer: &Answer, units: Units) -> String {
    let mut text = String::new();
    if !answer.obstacles.is_empty() {
        text += "\nWhat each thing costs, dearest first\n";
    }
    for thing in &answer.obstacles {
        let _ = writeln!(
            text,
            "  {} ({}° high): {} h on the winter solstice, {} % of the year's direct sun",
            thing.name,
            number(thing.elevation_deg, 1),
            number(thing.winter_hours_lost, 1),
            number(thing.beam_lost_percent, 1)
        );
        text += &limits(thing, units);
    }
    for raise in &answer.raise_low_edge {
        let _ = match raise.by_mm {
            Some(by_mm) => {
                writeln!(
                    text,
                    "  Raising the low edge by {} gives {} h.",
                    length(mm(whole(by_mm, units, f64::ceil)), units),
                    raise.goal_hours
                )
            }
            None => writeln!(
                text,
                "  Raising the low edge by up to {} does not give {} h.",
                length(mm(6000.0), units),
                raise.goal_hours
            ),
        };
    }
    text
}

/// A length on whole inches or centimetres: nobody measures a tree closer.
fn whole(length_mm: f64, units: Units, round: fn(f64) -> f64) -> f64 {
    let step_mm = match units {
        Units::Us => MM_PER_INCH,
        Units::Metric => 10.0,
    };
    round(length_mm / step_mm) * step_mm
}

fn limits(thing: &ObstacleRow, units: Units) -> String {
    thing.may_stand.iter().fold(String::new(), |mut text, limit| {
        let height = limit
            .height_mm
            .map_or(String::new(), |height| format!(", {} high", length(mm(whole(height, units, f64::floor)), units)));
        let _ = writeln!(
            text,
            "    for {} h it may reach {}° above level{height}",
            limit.goal_hours,
            number(limit.elevation_deg, 1)
        );
        text
    })
}

fn facing(answer: &Answer) -> String {
    let towards = towards(answer);
    let mut text = format!("\nFacing off true {towards}: loss of the year, and of the three winter months\n ");
    for loss in &answer.facing_loss {
        let _ = write!(text, "  {}°: {:.1} %, {:.1} %", loss.off_deg, loss.year_percent, loss.winter_percent);
    }
    let clock = if answer.utc_offset_hours.is_some() { "clock time" } else { "UTC" };
    let shadow = if answer.facing_deg == 0.0 { "true south" } else { "true north" };
    let _ = writeln!(
        text,
        "\n\nTrue {towards} without a compass: at solar noon the shadow of a plumb line points to {shadow} (with the noon sun on the\n\
         {towards} side and well below overhead). Solar noon in {clock}:"
    );
    for (at, noon) in answer.solar_noon.iter().enumerate() {
        let time = noon.clock.as_ref().unwrap_or(&noon.utc);
        let _ = write!(text, "  {} {time}", noon.day);
        if at % 7 == 6 {
            text.push('\n');
        }
    }
    text.trim_end().to_string() + "\n"
}

fn spacing(rows: &RowsRow, units: Units) -> String {
    let show = |value: f64| length(mm(value), units);
    let to_hour = 24.0 - rows.from_solar_hour;
    format!(
        "\nRows of frames, {} up the slope at {}°, unshaded from {} to {} h solar time on the winter solstice\n\
         \x20 from front edge to front edge: {} level, {} along the ground ({}° rise towards the row behind)\n\
         \x20 shadow on level ground: {} behind the frame, {} to the side (for single frames side by side)\n\
         \x20 keep posts, fences and other frames {} from the axle of a frame that turns at mid height\n",
        show(rows.slope_length_mm),
        number(rows.tilt_deg, 1),
        rows.from_solar_hour,
        to_hour,
        show(rows.pitch_mm),
        show(rows.pitch_along_ground_mm),
        number(rows.ground_rise_deg, 1),
        show(rows.shadow_mm),
        show(rows.sideways_mm.abs()),
        show(rows.swing_reach_mm),
    )
}
