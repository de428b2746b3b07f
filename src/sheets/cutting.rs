//! The cut plan as words to saw from: what it proves, the boards to take, and every board part by part.

use super::{
    Warning,
    document::{Document, Section},
    tables::{boards, cuts},
};
use crate::shop::cut_plan::{Bar, Job, KerfRule, Plan, Shown, verdict};

/// The whole plan, board by board.
pub(crate) fn cut_plan_document<'a>(
    name: &str,
    warning: Option<&'a Warning>,
    (job, plan): (&Job, &Plan),
    shown: Shown,
) -> Document<'a> {
    let parts: i64 = job.parts.iter().map(|part| part.quantity).sum();
    let title = if name.is_empty() { String::new() } else { format!(" {name}") };
    let title = format!(
        "Cut plan{title}: {} from {}, {}",
        count(parts, "part"),
        count(plan.boards() as i64, "board"),
        count(plan.set_ups() as i64, "set-up")
    );
    let head = Section::new("").paragraph(verdict(job, plan, shown)).table(boards(job, plan, shown));
    let mut document = Document::new(&title, warning).with(head.paragraph(how_to_mark(job, shown)));
    let mut number = 1;
    for (bar, copies) in plan.batches() {
        let last = number + copies - 1;
        let which =
            if copies == 1 { format!("Board {number}") } else { format!("Boards {number} to {last}, {copies} alike") };
        let group = if bar.group.is_empty() { String::new() } else { format!("{} ", bar.group) };
        let price = if bar.price.is_some() { format!(", {}", shown.price(bar.price)) } else { String::new() };
        let section = Section::new(&format!("{which}: {group}{}{price}", shown.length(job, bar.stock_length)));
        document = document.with(section.table(cuts(job, bar, shown)).paragraph(left_over(job, bar, shown)));
        number = last + 1;
    }
    document
}

fn count(number: i64, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
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

fn left_over(job: &Job, bar: &Bar, shown: Shown) -> String {
    if bar.offcut == 0 {
        return "No offcut.".to_string();
    }
    let length = shown.length(job, bar.offcut);
    match (job.minimum_offcut > 0, bar.keep_offcut) {
        (false, _) => format!("Offcut {length}."),
        (true, true) => format!("Offcut {length}, worth keeping."),
        (true, false) => format!("Offcut {length}, too short to keep."),
    }
}
