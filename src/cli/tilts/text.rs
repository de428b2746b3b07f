//! `tilts` as a page of text.

use super::answer::{Answer, DrilledRow, SeasonRow};
use crate::{
    design::Goal,
    quantities::{deg, facing, latitude, number},
    sun::MonthDay,
};
use std::fmt::Write as _;

pub(super) fn write(answer: &Answer) -> String {
    let mut text = String::new();
    let goal = answer.special_goal.map_or(String::new(), |goal| format!(", planned for {goal}"));
    let (latitude, facing) = (latitude(deg(answer.latitude_deg)), facing(deg(answer.facing_deg)));
    let _ = writeln!(text, "Best tilts at latitude {latitude}, facing {facing}{goal}\n");
    text += &seasons(&answer.seasons);
    let [flattest, steepest] = answer.fixed.within_one_percent_deg;
    let _ = writeln!(
        text,
        "\nUnder a clear sky this gives {} in a year than the best fixed tilt ({}°), and {} % of what a tilt\n\
         changed every day would give. A fixed tilt from {flattest}° to {steepest}° costs at most 1 % of the year.",
        more_or_less(answer.gain_over_fixed_percent, 1),
        answer.fixed.tilt_deg,
        number(answer.share_of_daily_optimum_percent, 1),
    );
    text += &dark(answer);
    if let Some(design) = &answer.design {
        text += &drilled(design);
    }
    let noon = &answer.noon_altitude_deg;
    let _ = writeln!(
        text,
        "\nHeight of the noon sun: lowest {}°, at the equinoxes {}°, highest {}°.",
        number(noon.lowest, 1),
        number(noon.equinox, 1),
        number(noon.highest, 1)
    );
    let _ = writeln!(
        text,
        "\nRules of thumb here, against the best plan of the year with as many seasons: in the year, and from {}\n\
         \n      year        dark",
        answer.winter.months
    );
    for rule in &answer.rules_of_thumb {
        let (year, dark) = (signed(-rule.loss_percent), signed(rule.winter_gain_percent));
        let _ = writeln!(text, "  {year:>6} %  {dark:>6} %  {}\n                      ({})", rule.rule, rule.source);
    }
    for note in &answer.notes {
        let _ = writeln!(text, "\n{note}");
    }
    text
}

/// What the dark months get, and what that costs the year.
fn dark(answer: &Answer) -> String {
    let (winter, least, against) = (&answer.winter, &answer.least_month, &answer.against_plan_for_year);
    let mut text = format!(
        "From {} it gives {} kWh/m²; the least month is {} with {} kWh/m².\n",
        winter.months,
        number(winter.kwh_per_m2, 1),
        least.month,
        number(least.kwh_per_m2, 1)
    );
    if answer.goal != Some(Goal::Year.word()) {
        let _ = writeln!(
            text,
            "Against the plan for the year with as many seasons: {} from {}, {} in the least month, {} in the year.",
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

fn seasons(rows: &[SeasonRow]) -> String {
    let mut text = format!("  {:<13} {:<13} {:>5}  {:>6}\n", "from", "to", "days", "tilt");
    for row in rows {
        let (from, to) = (in_words(&row.from), in_words(&row.to));
        let _ = writeln!(text, "  {from:<13} {to:<13} {:>5}  {:>5}°", row.days, number(row.tilt_deg, 2));
    }
    text
}

/// `03-07` as `7 March`.
fn in_words(day: &str) -> String {
    let parsed =
        day.split_once('-').and_then(|(month, day)| MonthDay::new(month.parse().ok()?, day.parse().ok()?).ok());
    parsed.map_or_else(|| day.to_string(), MonthDay::in_words)
}

fn drilled(design: &DrilledRow) -> String {
    let tilts: Vec<String> = design.tilts_deg.iter().map(|tilt| format!("{}°", number(*tilt, 2))).collect();
    let mut text =
        format!("\n{}, with its own tilts {}\n\n{}", design.name, tilts.join(", "), seasons(&design.seasons));
    let _ = writeln!(
        text,
        "\nChanged on these dates they give {} than the best fixed tilt, {} the best plan of the year with as many seasons.",
        more_or_less(design.gain_over_fixed_percent, 1),
        if design.loss_percent < 0.005 {
            "as much as".to_string()
        } else {
            format!("{} % less than", number(design.loss_percent, 2))
        }
    );
    if design.facing_off_deg.abs() > 0.5 {
        let _ = writeln!(
            text,
            "The frame faces {}°, {}° off: that costs {} % of the year under a clear sky. Tilts and dates are those of a frame that\n\
             faces the equator.",
            number(design.facing_deg, 1),
            number(design.facing_off_deg.abs(), 1),
            number(design.facing_loss_percent, 1)
        );
    }
    text
}
