//! The cut plan: boards to take, and what is sawn from each.

use crate::{
    quantities::{Units, length_cells, length_columns, number},
    sheets::table::{Table, figures, words},
    shop::cut_plan::{Bar, Cut, Job, Plan, Shown, Unit, amount},
};

/// The boards to take, by kind; with prices where any of them has one.
pub(crate) fn boards(job: &Job, plan: &Plan, shown: Shown) -> Table {
    let used = plan.boards_used();
    let priced = used.iter().any(|(.., together)| together.is_some());
    let row = |&(row, count, together): &(usize, usize, Option<i64>)| {
        let stock = &job.stock[row];
        let together = together.map_or_else(String::new, |cents| amount(cents, shown.money));
        let what = format!("{} {}", stock.group, shown.length(job, stock.length)).trim().to_string();
        let cells = [count.to_string(), what, shown.price(stock.price), together];
        cells.into_iter().take(if priced { 4 } else { 2 })
    };
    let columns = [figures("Number"), words("Length"), figures("Each"), figures("Together")];
    Table::new(columns.into_iter().take(if priced { 4 } else { 2 })).with(used.iter().map(row))
}

/// The parts of one board in the order they are sawn, and what is left of it.
pub(crate) fn cuts(job: &Job, bar: &Bar, shown: Shown) -> Table {
    let row = |cut: &Cut| {
        let ends = match cut.mitred_ends {
            0 => "",
            1 => "one end mitred",
            _ => "both ends mitred",
        };
        let notes = [ends, if cut.shares_cut { "shared" } else { "" }, if cut.turned_over { "turn over" } else { "" }];
        let note = notes.into_iter().filter(|note| !note.is_empty()).collect::<Vec<_>>().join(", ");
        let [length, from, to] = [cut.length, cut.from, cut.to].map(|count| shown.length(job, count));
        [cut.mark.clone(), length, from, to, note]
    };
    let columns = [words("Part"), figures("Length"), figures("From"), figures("To"), words("Note")];
    Table::new(columns).with(bar.cuts.iter().map(row))
}

/// The plan for a spreadsheet: one row per part; every column of lengths names its unit, but for plain counts.
pub(crate) fn cut_records(job: &Job, plan: &Plan, shown: Shown) -> Table {
    let column = |name: &str| match job.unit {
        Unit::Abstract => vec![name.to_string()],
        _ => length_columns(name, shown.units),
    };
    let cells = |count: i64| match (job.unit, shown.units) {
        (Unit::Abstract, _) => vec![count.to_string()],
        // Finer than the tape, and exact as it stands.
        (Unit::ThirtySecond, Units::Us) => vec![shown.length(job, count), number(count as f64 / 32.0, 5)],
        _ => length_cells(job.unit.length(count), shown.units),
    };
    let plain = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_string();
    let columns = [
        plain(&["board", "group"]),
        column("stock_length"),
        plain(&["part"]),
        column("length"),
        column("from"),
        column("to"),
        plain(&["mitred_ends", "shared_cut", "turn_over"]),
        column("offcut"),
    ];
    let mut table = Table::new(columns.concat().into_iter().map(words));
    for (number, bar) in plan.bars.iter().enumerate() {
        for (at, cut) in bar.cuts.iter().enumerate() {
            let offcut = cells(bar.offcut);
            let blank = vec![String::new(); offcut.len()];
            let row = [
                vec![(number + 1).to_string(), bar.group.clone()],
                cells(bar.stock_length),
                vec![cut.mark.clone()],
                cells(cut.length),
                cells(cut.from),
                cells(cut.to),
                vec![job.parts[cut.part].mitred_ends.to_string(), yes(cut.shares_cut), yes(cut.turned_over)],
                if at + 1 == bar.cuts.len() { offcut } else { blank },
            ];
            table.row(row.concat());
        }
    }
    table
}
