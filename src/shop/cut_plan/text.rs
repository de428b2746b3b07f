//! The plan as a text to saw from, and as a table.

use super::{
    file::Money,
    job::{Job, KerfRule, Unit},
    plan::{Bar, Cut, Plan},
};
use crate::{
    quantities::{Units, length_cells, length_columns, number},
    shop::tables::table as comma_separated,
};
use std::{collections::BTreeSet, fmt::Write as _};

/// How a plan is shown; what it is does not depend on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shown {
    /// What prices are in.
    pub money: Money,
    /// Whose tape lengths are read from.
    pub units: Units,
}

impl Shown {
    /// A length of a job.
    #[must_use]
    pub fn length(self, job: &Job, count: i64) -> String {
        job.unit.show_on(count, self.units)
    }

    /// What must be said where marks are shown on another tape than the one they were planned on.
    #[must_use]
    pub fn caveat(self, job: &Job) -> Option<&'static str> {
        (job.unit != Unit::Abstract && self.units != job.unit.units()).then_some(
            "Planned on the tape of the other units: each figure is the nearest mark, so a part between two of them may be a mark off.",
        )
    }

    /// The price of one board; nothing where nobody gave one.
    #[must_use]
    pub fn price(self, price: Option<i64>) -> String {
        match price {
            None => String::new(),
            Some(0) => "on hand".to_string(),
            Some(cents) => amount(cents, self.money),
        }
    }
}

/// An amount of cents in whole money: `47.16`.
#[must_use]
pub fn amount(cents: i64, money: Money) -> String {
    let (sign, name) = match money {
        Money::Board => return cents.to_string(),
        Money::Cent => ("", String::new()),
        Money::Dollar => ("$", String::new()),
        Money::Euro => ("€", String::new()),
        Money::Named(currency) => ("", format!(" {currency}")),
    };
    format!("{sign}{}.{:02}{name}", cents / 100, cents % 100)
}

/// What the plan makes least and what that is worth as a proof: a sentence for money, one for what has no price.
#[must_use]
pub fn verdict(job: &Job, plan: &Plan, shown: Shown) -> String {
    let groups = |priced: bool| {
        let bars = plan.bars.iter().filter(|bar| bar.price.is_some() == priced);
        bars.map(|bar| bar.group.as_str()).collect::<BTreeSet<_>>()
    };
    let unpriced = groups(false);
    let mixed = groups(true).iter().any(|group| job.is_priced(group)) && !unpriced.is_empty();
    let all_of = |groups: &BTreeSet<&str>| groups.iter().copied().collect::<Vec<_>>().join(", ");
    let mut sentences = Vec::new();
    if unpriced.is_empty() || mixed {
        let of = if mixed { format!(" of {}", all_of(&(&groups(true) - &unpriced))) } else { String::new() };
        sentences.push(least(&format!("Cost{of}"), "costs less", "cheaper", [plan.cost, plan.bound], |cents| {
            amount(cents, shown.money)
        }));
    }
    if !unpriced.is_empty() {
        let of = if mixed { format!(" of {}", all_of(&unpriced)) } else { String::new() };
        let what = format!("No price is given{of}, so the least length is bought:");
        let lengths = [plan.length, plan.length_bound];
        sentences.push(least(&what, "is shorter", "shorter", lengths, |count| shown.length(job, count)));
    }
    sentences.join(" ")
}

fn least(what: &str, is_less: &str, less: &str, [found, bound]: [i64; 2], show: impl Fn(i64) -> String) -> String {
    if found == bound {
        return format!(
            "{what} {}, proven: the lower bound is {} too, no set of these boards {is_less}.",
            show(found),
            show(bound)
        );
    }
    let gap = 100.0 * (found - bound) as f64 / found.max(1) as f64;
    format!(
        "{what} {}, NOT proven: the lower bound is {}, so a plan {less} by at most {} ({gap:.2} %) may exist.",
        show(found),
        show(bound),
        show(found - bound)
    )
}

/// The whole plan, board by board.
#[must_use]
pub fn text(name: &str, job: &Job, plan: &Plan, shown: Shown) -> String {
    let mut out = String::new();
    let parts: i64 = job.parts.iter().map(|part| part.quantity).sum();
    let title = if name.is_empty() { String::new() } else { format!(" {name}") };
    let _ = writeln!(
        out,
        "Cut plan{title}: {} from {}, {}",
        count(parts, "part"),
        count(plan.boards() as i64, "board"),
        count(plan.set_ups() as i64, "set-up")
    );
    let _ = writeln!(out, "{}\n", verdict(job, plan, shown));
    boards(&mut out, job, plan, shown);
    let _ = writeln!(out, "\n{}", how_to_mark(job, shown));
    let mut number = 1;
    for (bar, copies) in plan.batches() {
        let last = number + copies - 1;
        let which =
            if copies == 1 { format!("Board {number}") } else { format!("Boards {number} to {last}, {copies} alike") };
        let group = if bar.group.is_empty() { String::new() } else { format!("{} ", bar.group) };
        let price = if bar.price.is_some() { format!(", {}", shown.price(bar.price)) } else { String::new() };
        let _ = writeln!(out, "\n{which}: {group}{}{price}", shown.length(job, bar.stock_length));
        board(&mut out, job, bar, shown);
        number = last + 1;
    }
    out
}

fn count(number: i64, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

fn boards(out: &mut String, job: &Job, plan: &Plan, shown: Shown) {
    let used = plan.boards_used();
    let priced = used.iter().any(|(.., price)| price.is_some());
    let rows: Vec<[String; 4]> = used
        .iter()
        .map(|&(row, number, price)| {
            let stock = &job.stock[row];
            let group = if stock.group.is_empty() { String::new() } else { format!("{} ", stock.group) };
            let together = price.map_or_else(String::new, |price| amount(price, shown.money));
            let length = format!("{group}{}", shown.length(job, stock.length));
            [number.to_string(), length, shown.price(stock.price), together]
        })
        .collect();
    let heads = if priced { ["boards", "length", "each", "together"] } else { ["boards", "length", "", ""] };
    table(out, &heads.map(str::to_string), &rows);
}

fn how_to_mark(job: &Job, shown: Shown) -> String {
    let mut lines = Vec::new();
    if job.end_trim > 0 {
        lines.push(format!(
            "Trim every board by {} first; marks run from the trimmed end.",
            shown.length(job, job.end_trim)
        ));
    } else {
        lines.push("Marks run from one end of the board.".to_string());
    }
    lines.push(format!(
        "A part lies between its two marks; the saw, {} wide, goes beyond the second one.",
        shown.length(job, job.kerf)
    ));
    lines.extend(job.told_apart());
    if job.kerf_rule == KerfRule::Every {
        lines.push("The last part of a board is cut off too: its far end is not used.".to_string());
    }
    if job.mitre_joint_saving.is_some() {
        lines.push(
            "Lengths and marks of mitred parts are long point to long point, on the part's long edge.".to_string(),
        );
        lines.push(
            "`turn over`: the long edge lies away from you; `shared`: one mitred cut parts it from the part before."
                .to_string(),
        );
    }
    lines.extend(shown.caveat(job).map(str::to_string));
    lines.join("\n")
}

fn board(out: &mut String, job: &Job, bar: &Bar, shown: Shown) {
    let heads = ["part", "length", "from", "to", ""].map(str::to_string);
    let rows: Vec<[String; 5]> = bar.cuts.iter().map(|cut| row(job, cut, shown)).collect();
    table(out, &heads, &rows);
    let _ = writeln!(out, "  {}", rest(job, bar, shown));
}

fn row(job: &Job, cut: &Cut, shown: Shown) -> [String; 5] {
    let ends = match cut.mitred_ends {
        0 => "",
        1 => "one end mitred",
        _ => "both ends mitred",
    };
    let words = [ends, if cut.shares_cut { "shared" } else { "" }, if cut.turned_over { "turn over" } else { "" }];
    let note = words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ");
    let [length, from, to] = [cut.length, cut.from, cut.to].map(|count| shown.length(job, count));
    [cut.mark.clone(), length, from, to, note]
}

fn rest(job: &Job, bar: &Bar, shown: Shown) -> String {
    if bar.offcut == 0 {
        return "no offcut".to_string();
    }
    let length = shown.length(job, bar.offcut);
    match (job.minimum_offcut > 0, bar.keep_offcut) {
        (false, _) => format!("offcut {length}"),
        (true, true) => format!("offcut {length}, worth keeping"),
        (true, false) => format!("offcut {length}, too short to keep"),
    }
}

fn table<const N: usize>(out: &mut String, heads: &[String; N], rows: &[[String; N]]) {
    let width = |c: usize| {
        rows.iter().map(|row| &row[c]).chain([&heads[c]]).map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..N).map(width).collect();
    for row in std::iter::once(heads).chain(rows) {
        let cells: Vec<String> = row.iter().zip(&widths).map(|(cell, width)| format!("{cell:<width$}")).collect();
        let _ = writeln!(out, "  {}", cells.join("  ").trim_end());
    }
}

/// The plan as CSV: one line per part; every column of lengths names its unit, but for plain counts.
#[must_use]
pub fn csv(job: &Job, plan: &Plan, shown: Shown) -> String {
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
    let mut records = vec![
        [
            plain(&["board", "group"]),
            column("stock_length"),
            plain(&["part"]),
            column("length"),
            column("from"),
            column("to"),
            plain(&["mitred_ends", "shared_cut", "turn_over"]),
            column("offcut"),
        ]
        .concat(),
    ];
    for (number, bar) in plan.bars.iter().enumerate() {
        for (at, cut) in bar.cuts.iter().enumerate() {
            let offcut = cells(bar.offcut);
            let blank = vec![String::new(); offcut.len()];
            records.push(
                [
                    vec![(number + 1).to_string(), bar.group.clone()],
                    cells(bar.stock_length),
                    vec![cut.mark.clone()],
                    cells(cut.length),
                    cells(cut.from),
                    cells(cut.to),
                    vec![job.parts[cut.part].mitred_ends.to_string(), yes(cut.shares_cut), yes(cut.turned_over)],
                    if at + 1 == bar.cuts.len() { offcut } else { blank },
                ]
                .concat(),
            );
        }
    }
    comma_separated(&records)
}
