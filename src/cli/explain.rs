//! `explain`: the derivation of loads, or of a part's or a check's utilisation, with numbers, units, equations and sources.

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output,
};
use crate::{
    checks::{
        NO_LOADS, Strength,
        calc_sheet::{CalcSheet, Entry, significant},
        load_sheet::{self, Topic},
        verify::{Kind, Report, Row},
    },
    design::{Fault, nearest},
    frame::LaidOut,
    loads::{Envelope, left_out},
    quantities::{Units, converted},
};
use serde::Serialize;
use std::fmt::Write as _;

/// What to explain.
#[derive(Debug, clap::Args)]
pub(super) struct ExplainArgs {
    /// A part mark (`S1`), a check (`embedment`), loads (`wind`, `snow`, `people`, `combinations`, or one case), a judgement (`J2`), or `everything`
    #[arg(value_name = "PART|CHECK|LOADS")]
    what: String,
    #[command(flatten)]
    design: DesignArg,
}

pub(super) fn run(args: &ExplainArgs, common: &Common) -> Result<Outcome, Failure> {
    let laid = args.design.lay_out(common)?;
    if let Some(envelope) = Envelope::NAMED.into_iter().find(|envelope| envelope.name() == Some(args.what.as_str())) {
        return explain_envelope(envelope, &laid, common);
    }
    let Some(Strength { basis, report }) = Strength::of(&laid)? else {
        let fault = Fault::new("no-loads", "", format!("there is nothing to explain: {NO_LOADS}"))
            .hint("write a block `loads:`; `strength` says what belongs there");
        return Err(Failure::Input(vec![fault]));
    };
    let mut loads = load_sheet::entries(&laid.design, &laid.frame, &basis, &report);
    loads.retain(|entry| wanted_load(entry, &args.what));
    let sheet = CalcSheet::of(&laid.design.name, &report, |row| wanted(row, &args.what)).after(loads);
    if sheet.entries.is_empty() {
        return Err(Failure::Input(vec![unknown(&args.what, &report)]));
    }
    match common.format {
        Format::Json => output::print_json(&sheet)?,
        Format::Text => output::print(&text(&sheet, laid.units))?,
    }
    Ok(Outcome::Done)
}

#[derive(Debug, Serialize)]
struct EnvelopeAnswer {
    judgement: &'static str,
    definition: &'static str,
    /// The definition with the reason, where loads of the design rest on it.
    in_this_design: Option<String>,
}

/// What is done under a judgement envelope, and whether the design needs it.
fn explain_envelope(envelope: Envelope, laid: &LaidOut, common: &Common) -> Result<Outcome, Failure> {
    let name = envelope.name().unwrap_or_default();
    let judgements = Strength::of(laid)?.map(|strength| strength.report.judgements).unwrap_or_default();
    let in_this_design = judgements.into_iter().find(|judgement| judgement.starts_with(name));
    let needed = in_this_design.as_deref().and_then(|words| words.split_once(". ")).map(|(_, why)| why);
    let needed = match (needed, &in_this_design) {
        (Some(why), _) => why,
        (None, Some(_)) => "Loads of this design rest on it",
        (None, None) => "No load of this design rests on it",
    };
    match common.format {
        Format::Text => output::print(&format!(
            "{name} — judgement envelope of wind\n\n  {}.\n  {needed}.\n\nIt is no published rule: an engineer must accept it.\n",
            envelope.definition()
        ))?,
        Format::Json => {
            output::print_json(&EnvelopeAnswer { judgement: name, definition: envelope.definition(), in_this_design })?;
        }
    }
    Ok(Outcome::Done)
}

/// Asks for every calculation of a design.
const EVERYTHING: &str = "everything";

fn wanted(row: &Row, what: &str) -> bool {
    what == EVERYTHING || row.kind.name() == what || row.part == what || marks(&row.part).any(|mark| mark == what)
}

/// A case stands in its own chapter or in that of the cases it is worked out with: `wind-face-clear-a-left`, `wind-back-least`.
fn wanted_load(entry: &Entry, what: &str) -> bool {
    let within = || Topic::named(&entry.part).is_none() && load_sheet::is_of_chapter(what, &entry.part);
    what == EVERYTHING || entry.check == what || entry.part == what || within()
}

/// The part marks in the name of a row: `axle M1-P1` has two.
fn marks(part: &str) -> impl Iterator<Item = &str> {
    part.split([' ', '-', ','])
}

fn unknown(what: &str, report: &Report) -> Fault {
    let mut names: Vec<String> = Kind::ALL.iter().map(|k| k.name().to_string()).collect();
    let mut parts: Vec<String> = report.rows.iter().flat_map(|r| marks(&r.part).map(str::to_string)).collect();
    parts.retain(|p| {
        p.len() > 1 && p.ends_with(|c: char| c.is_ascii_digit()) && p.starts_with(|c: char| c.is_ascii_uppercase())
    });
    parts.sort();
    parts.dedup();
    let topics = Topic::ALL.map(Topic::name);
    names.extend(topics.map(str::to_string));
    let without = without_value(what, report);
    let sentence = match &without {
        Some(why) => format!("`{what}` has no value in this design: {why}"),
        None => format!("`{what}` is no part, check or load"),
    };
    let mut fault = Fault::new("nothing-to-explain", "", sentence);
    names.extend(parts.iter().cloned());
    if let Some(near) = nearest(what, &names).filter(|_| without.is_none()) {
        fault = fault.hint(format!("did you mean `{near}`?"));
    }
    let has_rows = |kind: &Kind| report.rows.iter().any(|row| row.kind == *kind);
    let checks: Vec<&str> = Kind::ALL.into_iter().filter(has_rows).map(Kind::name).collect();
    fault
        .hint(format!("checks with a value here: {}", checks.join(", ")))
        .hint(format!("loads: {}, or the name of a case", topics.join(", ")))
        .hint(format!("parts: {}", parts.join(", ")))
}

/// Why a check or a load that is known has nothing to show in a design.
fn without_value(what: &str, report: &Report) -> Option<String> {
    let check = report.list.iter().find(|listed| listed.kind.name() == what).map(|listed| listed.state.in_words());
    let refused = report.refused_loads.iter().find(|refusal| refusal.id == what).map(|refusal| refusal.why.clone());
    let topic = || Topic::named(what).map(|_| "no load of it acts".to_string());
    check.or(refused).or_else(topic)
}

fn text(sheet: &CalcSheet, units: Units) -> String {
    let mut out = format!("{}: calculations\n", sheet.design);
    for entry in &sheet.entries {
        write_entry(&mut out, entry, units);
    }
    let _ = writeln!(out, "\nVerdict of the whole: {}.", sheet.verdict);
    let _ = writeln!(out, "{}", left_out());
    let _ = writeln!(
        out,
        "Forces come from the analysis at the tilt and combination named; `strength --model FILE` writes it."
    );
    let _ = writeln!(out, "Local codes and a licensed engineer govern.");
    out
}

fn write_entry(out: &mut String, entry: &Entry, units: Units) {
    let tilt = entry.tilt_deg.map_or_else(String::new, |t| format!(", tilt {t:.2}°"));
    let _ = writeln!(out, "\n{} — {}{tilt}", entry.part, entry.words);
    if !entry.case.is_empty() {
        let _ = writeln!(out, "  combination {}", entry.case);
    }
    if !entry.note.is_empty() {
        let _ = writeln!(out, "  {}", entry.note);
    }
    for (index, line) in entry.lines.iter().enumerate() {
        let _ = writeln!(out, "\n  {:>2}  {}", index + 1, line.what);
        let _ = writeln!(out, "      {}", line.equation);
        let symbol = line.step.symbol;
        let _ = writeln!(out, "      {symbol:width$} = {}", line.numbers, width = symbol.len());
        let _ = writeln!(out, "      {symbol:width$} = {}", line.result_in(units), width = symbol.len());
        let terms = line.step.terms.iter().filter(|t| !t.unit.is_empty());
        let terms: Vec<String> = terms
            .map(|t| match converted(t.value, t.unit, units) {
                Some((value, unit)) => format!("{} [{}; {} {unit}]", t.symbol, t.unit, significant(value)),
                None => format!("{} [{}]", t.symbol, t.unit),
            })
            .collect();
        if !terms.is_empty() {
            let _ = writeln!(out, "      units: {}", terms.join(", "));
        }
        let _ = writeln!(out, "      {}", line.source);
    }
    let result = match (entry.utilisation, entry.topic()) {
        (Some(u), _) => format!("\n  utilisation {u:.3}\n"),
        (None, None) => "\n  no utilisation\n".to_string(),
        (None, Some(_)) => String::new(),
    };
    out.push_str(&result);
    if entry.state != "value" {
        let _ = writeln!(out, "  {}: {}", entry.state, entry.why);
    }
}
