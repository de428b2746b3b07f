//! The seasons as things to pin up: a card of plain text, and a calendar file that reminds.

use super::{
    Warning,
    document::{Document, Section},
    plain::card,
    tables::season_card,
};
use crate::{
    quantities::{Angle, angle, facing, latitude, number, to_deg},
    sun::{
        MonthDay, Place,
        calendar::REFERENCE_YEAR,
        seasons::{Season, SeasonPlan},
    },
};
use std::fmt::Write as _;

/// What to mind each time the frame is re-tilted.
pub const RETILT_CAUTION: &str = "Re-tilt on a calm day, two people, hands clear of the frame's edges and of the stay. Hold the frame before the pin comes out. Panels give \
    live DC in any light: leave leads alone. Afterwards check pins, bolts and leads, and wash the glass.";

/// Width of the card in characters.
const CARD_WIDTH: usize = 60;

/// A card of plain text, 60 characters wide, to print and pin up by the frame that faces a bearing; a warning stands above the tilts.
#[must_use]
pub fn tilt_card(design: &str, place: &Place, faces: Angle, plan: &SeasonPlan, warning: Option<&Warning>) -> String {
    let mut head =
        Section::new("").paragraph(format!("latitude {}, facing {}", latitude(place.latitude()), facing(faces)));
    if let Some(goal) = plan.special_goal() {
        head = head.paragraph(format!("planned for {goal}"));
    }
    let document = Document::new(design, warning)
        .with(head)
        .with(Section::new("").table(season_card(plan)))
        .with(Section::new("").paragraph(RETILT_CAUTION));
    card(&document, CARD_WIDTH)
}

/// A calendar file with one yearly all-day event at every change of tilt, a reminder a week before and one at nine on the day.
///
/// Same plan, same bytes: events are stamped with the reference year's first day, and named by design, place, date and
/// tilt. So the events of two designs stand side by side in one calendar.
///
/// # Source
/// RFC 5545 (iCalendar): VEVENT 3.6.1, VALARM 3.6.6, line folding 3.1, text escapes 3.3.11.
#[must_use]
pub fn tilt_calendar(design: &str, place: &Place, plan: &SeasonPlan) -> String {
    let mut calendar = String::new();
    let mut put = |line: &str| fold(line, &mut calendar);
    put("BEGIN:VCALENDAR");
    put("VERSION:2.0");
    put("PRODID:-//tiltwright//tilt calendar//EN");
    put("CALSCALE:GREGORIAN");
    // A tilt that is never changed is looked over once a year; a calendar must hold something.
    for season in &plan.seasons {
        event(design, place, season, plan.seasons.len() > 1, &mut put);
    }
    put("END:VCALENDAR");
    calendar
}

fn event(design: &str, place: &Place, season: &Season, is_change: bool, put: &mut impl FnMut(&str)) {
    let day = |from: MonthDay| format!("{REFERENCE_YEAR:04}{:02}{:02}", from.month, from.day);
    let tilt = angle(season.tilt);
    let summary = escaped(&match is_change {
        true => format!("Set {design} to {tilt}"),
        false => format!("Look over {design}: it stands at {tilt} all year"),
    });
    put("BEGIN:VEVENT");
    put(&format!(
        "UID:{:016x}_{}_{}_{}_{}@tiltwright.invalid",
        fingerprint(design),
        season.from,
        number(to_deg(season.tilt), 2),
        number(to_deg(place.latitude()), 4),
        number(to_deg(place.longitude()), 4)
    ));
    put(&format!("DTSTAMP:{REFERENCE_YEAR:04}0101T000000Z"));
    put(&format!("DTSTART;VALUE=DATE:{}", day(season.from)));
    put("RRULE:FREQ=YEARLY");
    put(&format!("SUMMARY:{summary}"));
    put(&format!("DESCRIPTION:{}", escaped(RETILT_CAUTION)));
    put("TRANSP:TRANSPARENT");
    for trigger in ["-P7D", "PT9H"] {
        put("BEGIN:VALARM");
        put("ACTION:DISPLAY");
        put(&format!("DESCRIPTION:{summary}"));
        put(&format!("TRIGGER:{trigger}"));
        put("END:VALARM");
    }
    put("END:VEVENT");
}

/// A number that two names hardly share, and one name always has.
///
/// # Source
/// FNV-1a, 64 bit (IETF draft-eastlake-fnv; constants from memory).
fn fingerprint(name: &str) -> u64 {
    const OFFSET: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    name.bytes().fold(OFFSET, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(PRIME))
}

/// Text as RFC 5545 3.3.11 wants it; control characters are left out.
fn escaped(text: &str) -> String {
    let mut safe = String::new();
    for c in text.chars() {
        match c {
            '\\' | ';' | ',' => {
                safe.push('\\');
                safe.push(c);
            }
            '\n' => safe.push_str("\\n"),
            c if c.is_control() => {}
            c => safe.push(c),
        }
    }
    safe
}

/// Writes a content line, folded before it passes 75 octets, never inside a character.
fn fold(line: &str, out: &mut String) {
    const MOST: usize = 75;
    let mut used = 0;
    for c in line.chars() {
        if used + c.len_utf8() > MOST {
            out.push_str("\r\n ");
            used = 1;
        }
        out.push(c);
        used += c.len_utf8();
    }
    let _ = write!(out, "\r\n");
}
