//! Checks: how far each part is used, and what stands of every check.

use crate::{
    checks::verify::{Report, Row},
    sheets::table::{Table, figures, words},
};

/// Some rows of a report, each with the document of its resistance.
pub(crate) fn utilisations<'a>(rows: impl IntoIterator<Item = &'a Row>) -> Table {
    let row = |row: &Row| {
        [
            used(row.utilisation, 3),
            row.part.clone(),
            row.kind.name().to_string(),
            row.tilt_deg.map_or_else(String::new, |tilt| format!("{tilt:.1}°")),
            row.case.clone(),
            row.state.word().to_string(),
            source(row),
        ]
    };
    let columns = [figures("Use"), words("Part"), words("Check"), figures("Tilt"), words("Combination")];
    Table::new(columns.into_iter().chain([words("State"), words("Source")])).with(rows.into_iter().map(row))
}

/// Every check of the fixed list with its state.
pub(crate) fn listed(report: &Report) -> Table {
    let rows = report
        .list
        .iter()
        .map(|listed| [listed.kind.words().to_string(), used(listed.utilisation, 2), listed.in_words()]);
    Table::new([words("Check"), figures("Largest"), words("State")]).with(rows)
}

/// The document of the resistance; empty for a row without a combination, which hangs on no equation.
fn source(row: &Row) -> String {
    let steps = if row.case.is_empty() { Vec::new() } else { row.steps() };
    steps.last().map_or_else(String::new, |step| format!("{} {}", step.source.document, step.source.place))
}

fn used(utilisation: Option<f64>, decimals: usize) -> String {
    utilisation.map_or_else(|| "–".to_string(), |used| format!("{used:.decimals$}"))
}
