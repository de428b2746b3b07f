//! The plan as a text to saw from, and as a table.

use super::{
    file::Money,
    job::{Job, KerfRule, Unit},
    plan::{Bar, Cut, Plan},
};
use crate::shop::tables::table as comma_separated;
use std::fmt::Write as _;

/// An amount of cents in whole money: `47.16`.
#[must_use]
pub fn amount(cents: i64, money: Money) -> String {
    let sign = match money {
        Money::Board => return cents.to_string(),
        Money::Cent => "",
        Money::Dollar => "$",
        Money::Euro => "€",
    };
    format!("{sign}{}.{:02}", cents / 100, cents % 100)
}

/// What the cost is worth as a proof, in one line.
#[must_use]
pub fn verdict(plan: &Plan, money: Money) -> String {
    let cost = amount(plan.cost, money);
    if plan.proven {
        return format!(
            "Cost {cost}, proven: the lower bound is {} too, no set of these boards costs less.",
            amount(plan.bound, money)
        );
    }
    let gap = 100.0 * (plan.cost - plan.bound) as f64 / plan.cost.max(1) as f64;
    format!(
        "Cost {cost}, NOT proven: the lower bound is {}, so a plan cheaper by at most {} ({gap:.2} %) may exist.",
        amount(plan.bound, money),
        amount(plan.cost - plan.bound, money)
    )
}

/// The whole plan, board by board.
#[must_use]
pub fn text(name: &str, job: &Job, plan: &Plan, money: Money) -> String {
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
    let _ = writeln!(out, "{}\n", verdict(plan, money));
    boards(&mut out, job, plan, money);
    let _ = writeln!(out, "\n{}", how_to_mark(job));
    let mut number = 1;
    for (bar, copies) in plan.batches() {
        let last = number + copies - 1;
        let which =
            if copies == 1 { format!("Board {number}") } else { format!("Boards {number} to {last}, {copies} alike") };
        let group = if bar.group.is_empty() { String::new() } else { format!("{} ", bar.group) };
        let source = if bar.price == 0 { "on hand".to_string() } else { amount(bar.price, money) };
        let _ = writeln!(out, "\n{which}: {group}{}, {source}", job.unit.show(bar.stock_length));
        board(&mut out, job, bar);
        number = last + 1;
    }
    out
}

fn count(number: i64, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}

fn boards(out: &mut String, job: &Job, plan: &Plan, money: Money) {
    let used = plan.boards_used();
    let rows: Vec<[String; 4]> = used
        .iter()
        .map(|&(row, number, price)| {
            let stock = &job.stock[row];
            let group = if stock.group.is_empty() { String::new() } else { format!("{} ", stock.group) };
            let each = if stock.price == 0 { "on hand".to_string() } else { amount(stock.price, money) };
            [number.to_string(), format!("{group}{}", job.unit.show(stock.length)), each, amount(price, money)]
        })
        .collect();
    let heads = ["boards", "length", "each", "together"].map(str::to_string);
    table(out, &heads, &rows);
}

fn how_to_mark(job: &Job) -> String {
    let mut lines = Vec::new();
    if job.end_trim > 0 {
        lines.push(format!(
            "Trim every board by {} first; marks run from the trimmed end.",
            job.unit.show(job.end_trim)
        ));
    } else {
        lines.push("Marks run from one end of the board.".to_string());
    }
    lines.push(format!(
        "A part lies between its two marks; the saw, {} wide, goes beyond the second one.",
        job.unit.show(job.kerf)
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
    lines.join("\n")
}

fn board(out: &mut String, job: &Job, bar: &Bar) {
    let heads = ["part", "length", "from", "to", ""].map(str::to_string);
    let rows: Vec<[String; 5]> = bar.cuts.iter().map(|cut| row(job.unit, cut)).collect();
    table(out, &heads, &rows);
    let _ = writeln!(out, "  {}", rest(job, bar));
}

fn row(unit: Unit, cut: &Cut) -> [String; 5] {
    let ends = match cut.mitred_ends {
        0 => "",
        1 => "one end mitred",
        _ => "both ends mitred",
    };
    let words = [ends, if cut.shares_cut { "shared" } else { "" }, if cut.turned_over { "turn over" } else { "" }];
    let note = words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(", ");
    [cut.mark.clone(), unit.show(cut.length), unit.show(cut.from), unit.show(cut.to), note]
}

fn rest(job: &Job, bar: &Bar) -> String {
    if bar.offcut == 0 {
        return "no offcut".to_string();
    }
    let length = job.unit.show(bar.offcut);
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

/// The plan as CSV: one line per part, in the file's unit.
#[must_use]
pub fn csv(job: &Job, plan: &Plan) -> String {
    let heads = [
        "board",
        "group",
        "stock_length",
        "part",
        "length",
        "from",
        "to",
        "mitred_ends",
        "shared_cut",
        "turn_over",
        "offcut",
    ];
    let yes = |flag: bool| if flag { "yes" } else { "no" }.to_string();
    let mut rows = vec![heads.map(str::to_string).to_vec()];
    for (number, bar) in plan.bars.iter().enumerate() {
        for (at, cut) in bar.cuts.iter().enumerate() {
            let last = at + 1 == bar.cuts.len();
            rows.push(vec![
                (number + 1).to_string(),
                bar.group.clone(),
                bar.stock_length.to_string(),
                cut.mark.clone(),
                cut.length.to_string(),
                cut.from.to_string(),
                cut.to.to_string(),
                job.parts[cut.part].mitred_ends.to_string(),
                yes(cut.shares_cut),
                yes(cut.turned_over),
                if last { bar.offcut.to_string() } else { String::new() },
            ]);
        }
    }
    comma_separated(&rows)
}
