//! Seasons: when to change to which tilt.

use crate::{
    quantities::{angle, number, to_deg},
    sheets::table::{Table, figures, words},
    sun::{
        MonthDay,
        seasons::{Season, SeasonPlan},
    },
};

/// Every season with its tilt.
pub(crate) fn seasons(plan: &SeasonPlan) -> Table {
    let row = |season: &Season| {
        [season.from.in_words(), last_day(season).in_words(), season.days.to_string(), angle(season.tilt)]
    };
    let columns = [words("From"), words("To"), figures("Days"), figures("Tilt")];
    Table::new(columns).with(plan.seasons.iter().map(row))
}

/// The same for a card, with a box to tick.
pub(crate) fn season_card(plan: &SeasonPlan) -> Table {
    let row = |season: &Season| {
        let dates = format!("{} to {}", season.from.in_words(), last_day(season).in_words());
        [dates, format!("{} deg", number(to_deg(season.tilt), 1)), "[ ]".to_string()]
    };
    Table::new([words("Dates"), figures("Tilt"), words("Set")]).with(plan.seasons.iter().map(row))
}

fn last_day(season: &Season) -> MonthDay {
    MonthDay::from_index(season.from.index() + season.days - 1)
}
