//! The answer in words.

use super::Sized;
use crate::{
    checks::verify::Outcome,
    design::{Kind, Offer},
    loads::left_out,
    quantities::{Length, Units, length, read},
    sheets::{self, Document, Section, Table, figures, words},
    sizing::{Axis, Goal, Judged},
};
use std::fmt::Write as _;

const CAUTION: &str = "\nThis is no certificate. Local codes and a licensed engineer govern; wind and snow can kill.\n";

/// Rows of a failing candidate that are shown.
const SHOWN: usize = 3;

pub(super) fn text(name: &str, sized: &Sized<'_>) -> String {
    let mut out = format!("{name}: {} sizes that pass\n\n", sized.goal.word());
    searched(&mut out, sized);
    counted(&mut out, sized);
    match (&sized.found.chosen, &sized.found.nearest) {
        (Some(chosen), _) => found(&mut out, sized, chosen),
        (None, Some(nearest)) => none(&mut out, sized, nearest),
        (None, None) => {
            let _ = writeln!(out, "No candidate can be laid out: offer other values, or fix fewer fields.");
        }
    }
    if !sized.open.is_empty() {
        let _ = writeln!(out, "\nNot judged for any candidate, as for the design as it is written\n");
        for words in &sized.open {
            let _ = writeln!(out, "  {words}");
        }
    }
    if !sized.found.unpriced.is_empty() {
        let _ = writeln!(out, "\nNot in the sum, being without a price and the same for all\n");
        for row in &sized.found.unpriced {
            let _ = writeln!(out, "  {row}");
        }
    }
    if sized.found.unproven > 0 {
        let _ = writeln!(
            out,
            "\n{} cut plans are not proven optimal: their cost may be a little too high.",
            sized.found.unproven
        );
    }
    out.push_str(CAUTION);
    out
}

fn searched(out: &mut String, sized: &Sized<'_>) {
    let why = if sized.by_ladder { "the usual sizes; `size:` in the design offers others" } else { "as offered" };
    let rows = sized.space.axes().iter().map(|axis| {
        let values: Vec<String> = axis.offers.iter().map(|offer| show(axis, offer, sized.units)).collect();
        [axis.field.path.to_string(), values.join(", ")]
    });
    put(out, &format!("Searched: {why}"), Table::new(["Field", "Values"].map(words)).with(rows));
}

fn counted(out: &mut String, sized: &Sized<'_>) {
    let counts = &sized.found.counts;
    let reasons: Vec<String> = counts.refused.iter().map(|(code, n)| format!("{code} {n}")).collect();
    let reasons = if reasons.is_empty() { String::new() } else { format!(": {}", reasons.join(", ")) };
    let rows = [
        (counts.all, "in all".to_string()),
        (counts.refused.values().sum(), format!("refused by the layout or the yard{reasons}")),
        (counts.laid_out, "laid out".to_string()),
        (counts.on_part, "shown failing on part of the tilts or checks".to_string()),
        (counts.complete, "judged by every check at every tilt".to_string()),
        (
            counts.laid_out - counts.on_part - counts.complete,
            "not looked at, for none of them is below the one found".to_string(),
        ),
    ];
    let rows = rows.map(|(count, what)| [count.to_string(), what]);
    out.push('\n');
    put(out, "Candidates", Table::new([figures("Number"), words("What became of them")]).with(rows));
    out.push('\n');
}

fn put(out: &mut String, heading: &str, table: Table) {
    out.push_str(&sheets::text(&Document::new("", None).with(Section::new(heading).table(table))));
}

fn found(out: &mut String, sized: &Sized<'_>, chosen: &Judged) {
    let _ = writeln!(out, "Found: {}\n", amount(sized, chosen.amount));
    values(out, sized, chosen);
    let _ = writeln!(
        out,
        "\nAs written: {}; {}.",
        amount(sized, sized.written.amount),
        if sized.written.passes() { "it passes".to_string() } else { reasons(sized.written) }
    );
    let _ = writeln!(out, "\nWhat governs\n");
    for row in &chosen.governing {
        let _ = writeln!(out, "  {}", line(row));
    }
    match sized.found.cheaper.as_slice() {
        [] => {
            let _ = writeln!(out, "\nNo candidate that can be laid out is {}.", less(sized.goal));
        }
        cheaper => {
            let _ = writeln!(out, "\nThe next {} ones fail\n", less(sized.goal));
            for judged in cheaper {
                let changed: Vec<String> = sized
                    .space
                    .values(judged.candidate)
                    .zip(sized.space.values(chosen.candidate))
                    .filter(|((_, a), (_, b))| a != b)
                    .map(|((axis, offer), _)| format!("{} {}", axis.field.path, show(axis, offer, sized.units)))
                    .collect();
                let _ = writeln!(out, "  {} with {}", amount(sized, judged.amount), changed.join(", "));
                failing(out, judged, SHOWN);
            }
        }
    }
    let _ = writeln!(out, "\nVerdict of `strength`: {}.", chosen.verdict);
    let _ = writeln!(out, "{}", left_out());
    if let Some(file) = &sized.file {
        let _ = writeln!(out, "Written to {file}.");
    }
}

fn none(out: &mut String, sized: &Sized<'_>, nearest: &Judged) {
    let _ = writeln!(out, "None passes. The one that comes nearest, {}, fails here:\n", amount(sized, nearest.amount));
    values(out, sized, nearest);
    let _ = writeln!(out);
    failing(out, nearest, 3 * SHOWN);
    let _ = writeln!(out, "\nOffer larger values for the fields that these checks hang on.");
}

fn failing(out: &mut String, judged: &Judged, shown: usize) {
    for row in judged.failing.iter().take(shown) {
        let _ = writeln!(out, "    {}", line(row));
    }
    if judged.failing.len() > shown {
        let _ = writeln!(out, "    … and {} more", judged.failing.len() - shown);
    }
}

fn values(out: &mut String, sized: &Sized<'_>, judged: &Judged) {
    let rows = sized.space.values(judged.candidate).map(|(axis, offer)| {
        let (new, old) = (show(axis, offer, sized.units), show(axis, &axis.old, sized.units));
        let what = if new == old { format!("{new} (as written)") } else { format!("{old} -> {new}") };
        [axis.field.path.to_string(), what]
    });
    put(out, "", Table::new(["Field", "Value"].map(words)).with(rows));
}

/// A value in the units of the print; as written when it is no length.
fn show(axis: &Axis, offer: &Offer, units: Units) -> String {
    let Some(text) = offer.text() else { return "left to the layout".to_string() };
    match axis.field.kind {
        Kind::Length(_) => read::<Length>(&text).map_or(text, |value| length(value, units)),
        _ => text,
    }
}

fn amount(sized: &Sized<'_>, amount: i64) -> String {
    match sized.goal {
        Goal::Cheapest if sized.currency.is_none() => {
            format!("{} in the design's money", sized.goal.show(amount, None, sized.units))
        }
        _ => sized.goal.show(amount, sized.currency, sized.units),
    }
}

fn less(goal: Goal) -> &'static str {
    match goal {
        Goal::Cheapest => "cheaper",
        Goal::Lightest => "lighter",
    }
}

fn reasons(judged: &Judged) -> String {
    match judged.failing.first() {
        Some(row) => format!("it fails, worst {}", line(row).trim_start()),
        None => "it passes".to_string(),
    }
}

fn line(row: &Outcome) -> String {
    let tilt = row.tilt_deg.map_or_else(String::new, |t| format!(" at {t:.0}°"));
    match row.utilisation {
        Some(u) => format!("{u:.2}  {} {}{tilt}, {}", row.part, row.kind.name(), row.case),
        None => format!("–     {} {}{tilt}: {}, {}", row.part, row.kind.name(), row.state.word(), row.state.why()),
    }
}
