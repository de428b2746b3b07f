//! `strength`: every check with its worst utilisation, the fixed list with a state each, and what may be said.

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output::{self, Pending},
    result_row::RowAnswer,
};
use crate::{
    checks::{
        NO_LOADS, Strength,
        model::AnswerId,
        verify::{Kind, Report, Row, State},
    },
    design::Fault,
    frame::LaidOut,
    loads::{LEFT_OUT, left_out},
    sheets::{
        Document, Section, Table, figures,
        tables::{listed, utilisations},
        text, words,
    },
};
use serde::Serialize;
use std::{
    collections::BTreeSet,
    fs::File,
    io::Read as _,
    path::{Path, PathBuf},
};

/// Which design, and what to write beside the table.
#[derive(Debug, clap::Args)]
pub(super) struct StrengthArgs {
    #[command(flatten)]
    design: DesignArg,
    /// Write the analysis model with loads and results, for any frame program; one file for each tilt
    #[arg(long, value_name = "FILE")]
    model: Option<PathBuf>,
    /// Print every row, not only the worst ones
    #[arg(long)]
    all: bool,
}

/// Rows printed without `--all`.
const ROWS: usize = 24;

#[derive(Debug, Serialize)]
struct Answer {
    design: String,
    verdict: String,
    holds: bool,
    envelopes: Vec<String>,
    judgements: Vec<String>,
    reasons: Vec<String>,
    tilts_deg: Vec<f64>,
    frequencies_hz: Vec<f64>,
    rows: Vec<DerivedAnswer>,
    checks: Vec<ListAnswer>,
    refused_loads: Vec<RefusedAnswer>,
    exclusions: [&'static str; LEFT_OUT.len()],
    models: Vec<String>,
}

#[derive(Debug, Serialize)]
struct DerivedAnswer {
    #[serde(flatten)]
    row: RowAnswer,
    equation: String,
    source: String,
}

#[derive(Debug, Serialize)]
struct ListAnswer {
    check: &'static str,
    words: &'static str,
    /// State of the row whose utilisation is given.
    state: &'static str,
    why: String,
    utilisation: Option<f64>,
    /// State of other rows, where it is worse.
    other_rows: Option<OtherAnswer>,
}

#[derive(Debug, Serialize)]
struct OtherAnswer {
    state: &'static str,
    why: String,
}

#[derive(Debug, Serialize)]
struct RefusedAnswer {
    load: String,
    why: String,
    way_out: String,
}

pub(super) fn run(args: &StrengthArgs, common: &Common) -> Result<Outcome, Failure> {
    let laid = args.design.lay_out(common)?;
    let Some(Strength { report, .. }) = Strength::of(&laid)? else {
        return without_loads(&laid, common);
    };
    let mut pending = Pending::default();
    let models = match &args.model {
        Some(path) => write_models(path, args.design.design.as_deref(), &laid, &report, &mut pending)?,
        None => Vec::new(),
    };
    match common.format {
        Format::Json => output::print_json(&answer(&laid, &report, models))?,
        Format::Text => output::print(&text(&document(&laid, &report, args.all, &models)))?,
    }
    pending.put_in_place()?;
    Ok(if report.verdict.holds() { Outcome::Done } else { Outcome::CheckFails })
}

/// Neither wind nor snow is written: no verdict, and every check says so.
fn without_loads(laid: &LaidOut, common: &Common) -> Result<Outcome, Failure> {
    let says = format!("no verdict can be given: {NO_LOADS}");
    match common.format {
        Format::Json => output::print_json(&Answer {
            design: laid.design.name.clone(),
            verdict: says,
            holds: false,
            envelopes: vec![],
            judgements: vec![],
            reasons: vec![NO_LOADS.to_string()],
            tilts_deg: laid.frame.reached().into_iter().map(|(tilt, _)| tilt).collect(),
            frequencies_hz: vec![],
            rows: vec![],
            checks: Kind::ALL
                .into_iter()
                .map(|kind| ListAnswer {
                    check: kind.name(),
                    words: kind.words(),
                    state: "not checked",
                    why: "no loads are given".to_string(),
                    utilisation: None,
                    other_rows: None,
                })
                .collect(),
            refused_loads: vec![],
            exclusions: LEFT_OUT,
            models: vec![],
        })?,
        Format::Text => {
            let section = Section::new("")
                .paragraph(format!("{says}."))
                .paragraph(
                    "Write a block `loads:` with edition, gust, exposure, risk_category, elevation, topography,\n\
                     snow and panel_design_load, read from the maps that your building office has adopted.\n\
                     Nothing is guessed. Until then none of these is checked:",
                )
                .steps(Kind::ALL.map(Kind::words))
                .paragraph(left_out())
                .paragraph(CAUTION);
            let document = Document::new(&format!("{}: strength", laid.design.name), None).with(section);
            output::print(&text(&document))?;
        }
    }
    Ok(Outcome::CheckFails)
}

const CAUTION: &str = "This is no certificate. Local codes and a licensed engineer govern; wind and snow can kill.";

/// A model of an earlier run is replaced, and nothing else: only the first of the names was typed.
fn refuse_foreign(target: &Path) -> Result<(), Failure> {
    if !target.is_file() {
        return Ok(());
    }
    // What tells a model stands near its beginning; the rest of somebody's file is not read.
    const LOOKED_AT: u64 = 16 << 10;
    let mut beginning = Vec::new();
    let read = File::open(target).and_then(|file| file.take(LOOKED_AT).read_to_end(&mut beginning));
    if read.is_ok() && String::from_utf8_lossy(&beginning).contains("\"conventions\": [") {
        return Ok(());
    }
    let sentence = format!("{} exists already and holds no model", target.display());
    Err(Fault::new("file-exists", "--model", sentence).hint("name another file, or move that one away").into())
}

fn write_models(
    path: &Path,
    input: Option<&Path>,
    laid: &LaidOut,
    report: &Report,
    pending: &mut Pending,
) -> Result<Vec<String>, Failure> {
    let stem = path.file_stem().map_or_else(|| "model".to_string(), |s| s.to_string_lossy().into_owned());
    let extension = path.extension().map_or_else(|| "json".to_string(), |e| e.to_string_lossy().into_owned());
    let mut written = Vec::new();
    for (index, run) in report.runs.iter().enumerate() {
        let tilt = run.skeleton.tilt_deg;
        let description =
            format!("{}, tilt {tilt:.3} deg, all stays pinned; loads at the level of their standard", laid.design.name);
        // Basic cases, and the combinations that govern any row at this tilt.
        let governing: BTreeSet<AnswerId> = report.rows.iter().filter_map(|row| row.answer).collect();
        let pinned = run.answers().filter(|(id, answered)| governing.contains(id) && !answered.loose);
        let governing = pinned.map(|(_, answered)| answered.answer);
        let answers = (0..run.results.cases()).chain(governing);
        let text = run.results.to_reference_json_of(&description, answers);
        let target = if index == 0 {
            path.to_path_buf()
        } else {
            path.with_file_name(format!("{stem}-{tilt:.0}deg.{extension}"))
        };
        output::refuse_input("--model", &target, input)?;
        refuse_foreign(&target)?;
        pending.add(&target, text.as_bytes())?;
        written.push(target.display().to_string());
    }
    Ok(written)
}

fn answer(laid: &LaidOut, report: &Report, models: Vec<String>) -> Answer {
    Answer {
        design: laid.design.name.clone(),
        verdict: report.verdict.sentence(),
        holds: report.verdict.holds(),
        envelopes: report.envelopes.clone(),
        judgements: report.judgements.clone(),
        reasons: report.verdict.reasons().to_vec(),
        tilts_deg: report.runs.iter().map(|r| r.skeleton.tilt_deg).collect(),
        frequencies_hz: report.runs.iter().map(|r| r.frequency_hz).collect(),
        rows: report.rows.iter().map(derived).collect(),
        checks: report
            .list
            .iter()
            .map(|l| ListAnswer {
                check: l.kind.name(),
                words: l.kind.words(),
                state: l.governing.word(),
                why: l.governing.why().to_string(),
                utilisation: l.utilisation,
                other_rows: l.others().map(|s| OtherAnswer { state: s.word(), why: s.why().to_string() }),
            })
            .collect(),
        refused_loads: report
            .refused_loads
            .iter()
            .map(|r| RefusedAnswer { load: r.name.clone(), why: r.why.clone(), way_out: r.way_out.clone() })
            .collect(),
        exclusions: LEFT_OUT,
        models,
    }
}

fn derived(row: &Row) -> DerivedAnswer {
    let (equation, source) = equation_of(row);
    DerivedAnswer { row: RowAnswer::of(row), equation, source }
}

/// The last equation of a row and the document of its resistance.
fn equation_of(row: &Row) -> (String, String) {
    let steps = row.steps();
    let last = steps.last().map_or_else(String::new, |s| s.what.to_string());
    let source = steps.last().map_or_else(String::new, |s| format!("{} {}", s.source.document, s.source.place));
    (last, source)
}

fn document<'a>(laid: &LaidOut, report: &Report, all: bool, models: &[String]) -> Document<'a> {
    let tilts = report.runs.iter().map(|run| {
        [
            format!("{:.2}°", run.skeleton.tilt_deg),
            run.loads.cases.len().to_string(),
            run.answered.len().to_string(),
            format!("{:.1} Hz", run.frequency_hz),
        ]
    });
    let columns = ["Tilt", "Load cases", "Combinations", "Lowest frequency"].map(figures);
    let shown = if all { report.rows.len() } else { ROWS.min(report.rows.len()) };
    let rows = &report.rows[..shown];
    let mut used = Section::new("Utilisations, worst first (1 is the limit)").table(utilisations(rows));
    if shown < report.rows.len() {
        used = used.paragraph(format!("… and {} more; `--all` prints them", report.rows.len() - shown));
    }
    let open = rows.iter().filter(|row| row.state != State::Value && (row.utilisation.is_none() || all));
    let open = Table::new(["Part", "Check", "State, and why"].map(words))
        .with(open.map(|row| [row.part.clone(), row.kind.name().to_string(), row.state.in_words()]));
    if !open.rows.is_empty() {
        used = used.paragraph("What is not a plain value:").table(open);
    }
    let mut document = Document::new(&format!("{}: strength at every tilt", laid.design.name), None)
        .with(Section::new("").table(Table::new(columns).with(tilts)))
        .with(used)
        .with(Section::new("Every check, with its state").table(listed(report)));
    if !report.refused_loads.is_empty() {
        let mut refused = Section::new("Loads for which no value is given");
        let mut said: Vec<&str> = Vec::new();
        for refusal in &report.refused_loads {
            if said.contains(&refusal.why.as_str()) {
                continue;
            }
            said.push(&refusal.why);
            refused = refused.paragraph(format!("  {}: {}\n    {}", refusal.name, refusal.why, refusal.way_out));
        }
        document = document.with(refused);
    }
    let mut end = Section::new("").paragraph(left_out());
    if !models.is_empty() {
        end = end
            .paragraph(models.iter().map(|model| format!("Model written to {model}")).collect::<Vec<_>>().join("\n"));
    }
    document = document.with(end.paragraph(format!("Verdict: {}.", report.verdict.sentence())));
    for (head, lines) in [
        ("Why no verdict can be given", report.verdict.reasons()),
        ("Judgements that an engineer must accept", &report.judgements),
    ] {
        if !lines.is_empty() {
            document = document.with(Section::new(head).steps(lines));
        }
    }
    document.with(Section::new("").paragraph(CAUTION))
}
