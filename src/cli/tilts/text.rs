//! `tilts` as a page of text.

use super::answer::{Answer, DrilledRow, SeasonRow};
use crate::{
    design::Goal,
    quantities::{deg, facing, latitude, number},
    sheets::{Document, Section, Table, figures, text, words},
    sun::MonthDay,
};

pub(super) fn write(answer: &Answer) -> String {
    let goal = answer.special_goal.map_or(String::new(), |goal| format!(", planned for {goal}"));
    let (latitude, facing) = (latitude(deg(answer.latitude_deg)), facing(deg(answer.facing_deg)));
    let [flattest, steepest] = answer.fixed.within_one_percent_deg;
    let first = Section::new("")
        .table(seasons(&answer.seasons))
        .paragraph(format!(
            "Under a clear sky this gives {} in a year than the best fixed tilt ({}°), and {} % of what a tilt\n\
             changed every day would give. A fixed tilt from {flattest}° to {steepest}° costs at most 1 % of the year.\n{}",
            more_or_less(answer.gain_over_fixed_percent, 1),
            answer.fixed.tilt_deg,
            number(answer.share_of_daily_optimum_percent, 1),
            dark(answer)
        ));
    let mut document =
        Document::new(&format!("Best tilts at latitude {latitude}, facing {facing}{goal}"), None).with(first);
    if let Some(design) = &answer.design {
        document = document.with(drilled(design));
    }
    let noon = &answer.noon_altitude_deg;
    let rules = answer.rules_of_thumb.iter().map(|rule| {
        let [year, dark] = [-rule.loss_percent, rule.winter_gain_percent].map(|percent| signed(percent) + " %");
        [year, dark, rule.rule.to_string(), rule.source.to_string()]
    });
    let columns = [figures("Year"), figures("Dark"), words("Rule"), words("Source")];
    let last = Section::new("")
        .paragraph(format!(
            "Height of the noon sun: lowest {}°, at the equinoxes {}°, highest {}°.",
            number(noon.lowest, 1),
            number(noon.equinox, 1),
            number(noon.highest, 1)
        ))
        .paragraph(format!(
            "Rules of thumb here, against the best plan of the year with as many seasons: in the year, and in the dark from {}",
            answer.winter.months
        ))
        .table(Table::new(columns).with(rules));
    text(&document.with(answer.notes.iter().fold(last, Section::paragraph)))
}

/// What the dark months get, and what that costs the year.
fn dark(answer: &Answer) -> String {
    let (winter, least, against) = (&answer.winter, &answer.least_month, &answer.against_plan_for_year);
    let mut text = format!(
        "From {} it gives {} kWh/m²; the least month is {} with {} kWh/m².",
        winter.months,
        number(winter.kwh_per_m2, 1),
        least.month,
        number(least.kwh_per_m2, 1)
    );
    if answer.goal != Some(Goal::Year.word()) {
        text += &format!(
            "\nAgainst the plan for the year with as many seasons: {} from {}, {} in the least month, {} in the year.",
            more_or_less(against.winter_percent, 2),
            winter.months,
            more_or_less(against.least_month_percent, 2),
            more_or_less(against.year_percent, 2)
        );
    }
    text
}

fn more_or_less(percent: f64, decimals: usize) -> String {
    format!("{} % {}", number(percent.abs(), decimals), if percent < 0.0 { "less" } else { "more" })
}

fn signed(percent: f64) -> String {
    // Nothing is neither gained nor lost.
    if percent.abs() < 0.005 { "0.00".to_string() } else { format!("{percent:+.2}") }
}

fn seasons(rows: &[SeasonRow]) -> Table {
    let row = |row: &SeasonRow| {
        [in_words(&row.from), in_words(&row.to), row.days.to_string(), format!("{}°", number(row.tilt_deg, 2))]
    };
    Table::new([words("From"), words("To"), figures("Days"), figures("Tilt")]).with(rows.iter().map(row))
}

/// `03-07` as `7 March`.
fn in_words(day: &str) -> String {
    let parsed =
        day.split_once('-').and_then(|(month, day)| MonthDay::new(month.parse().ok()?, day.parse().ok()?).ok());
    parsed.map_or_else(|| day.to_string(), MonthDay::in_words)
}

fn drilled(design: &DrilledRow) -> Section<'static> {
    let tilts: Vec<String> = design.tilts_deg.iter().map(|tilt| format!("{}°", number(*tilt, 2))).collect();
    let mut said = format!(
        "Changed on these dates they give {} than the best fixed tilt, {} the best plan of the year with as many seasons.",
        more_or_less(design.gain_over_fixed_percent, 1),
        if design.loss_percent < 0.005 {
            "as much as".to_string()
        } else {
            format!("{} % less than", number(design.loss_percent, 2))
        }
    );
    if design.facing_off_deg.abs() > 0.5 {
        said += &format!(
            "\nThe frame faces {}°, {}° off: that costs {} % of the year under a clear sky. Tilts and dates are those of a frame that\n\
             faces the equator.",
            number(design.facing_deg, 1),
            number(design.facing_off_deg.abs(), 1),
            number(design.facing_loss_percent, 1)
        );
    }
    let heading = format!("{}, with its own tilts {}", design.name, tilts.join(", "));
    Section::new(&heading).table(seasons(&design.seasons)).paragraph(said)
}
