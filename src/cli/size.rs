//! `size`: the cheapest or lightest sizes that pass, what governed them, and the next cheaper ones failing.

mod text;
mod watch;

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output::{self, Pending},
    result_row::RowAnswer,
};
use crate::{
    design::{self, Choice, Fault, Read},
    frame::LaidOut,
    loads::LEFT_OUT,
    quantities::{Tape, Units},
    sizing::{Counts, Found, Goal, Judged, Search, SizeError, Space, ladder},
};
use clap::ValueEnum;
use serde::Serialize;
use std::{collections::BTreeMap, path::PathBuf};

/// Which design, what is to be least, and what may vary.
#[derive(Debug, clap::Args)]
pub(super) struct SizeArgs {
    #[command(flatten)]
    design: DesignArg,
    /// What is to be least
    #[arg(long, value_enum, default_value_t = GoalChoice::Cheapest)]
    goal: GoalChoice,
    /// A field of the design and the values it may take, for instance support.bolt=3/8in,1/2in; instead of
    /// what `size:` in the design offers for that field
    #[arg(long, value_name = "FIELD=V1,V2")]
    vary: Vec<String>,
    /// Write the design with the values found to this new file
    #[arg(long, value_name = "FILE")]
    write: Option<PathBuf>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum GoalChoice {
    /// Price of sticks, hardware, concrete and ballast
    Cheapest,
    /// Mass of sticks, bolts, concrete and ballast
    Lightest,
}

impl From<GoalChoice> for Goal {
    fn from(choice: GoalChoice) -> Self {
        match choice {
            GoalChoice::Cheapest => Self::Cheapest,
            GoalChoice::Lightest => Self::Lightest,
        }
    }
}

/// Everything the answer is printed from.
struct Sized<'a> {
    space: &'a Space,
    goal: Goal,
    units: Units,
    currency: Option<design::Currency>,
    written: &'a Judged,
    open: Vec<String>,
    found: &'a Found,
    by_ladder: bool,
    file: Option<String>,
}

#[derive(Debug, Serialize)]
struct Answer {
    design: String,
    goal: &'static str,
    searched: Vec<AxisAnswer>,
    candidates: CountAnswer,
    chosen: Option<CandidateAnswer>,
    cheaper: Vec<CandidateAnswer>,
    nearest: Option<CandidateAnswer>,
    not_judged: Vec<String>,
    not_in_the_sum: Vec<String>,
    written: Option<String>,
}

#[derive(Debug, Serialize)]
struct NothingChecked {
    design: String,
    goal: &'static str,
    chosen: Option<CandidateAnswer>,
    nothing_checked: String,
}

#[derive(Debug, Serialize)]
struct AxisAnswer {
    field: &'static str,
    values: Vec<Option<String>>,
    was: Option<String>,
}

#[derive(Debug, Serialize)]
struct CountAnswer {
    all: usize,
    laid_out: usize,
    refused: BTreeMap<String, usize>,
    shown_failing_on_part: usize,
    complete: usize,
}

#[derive(Debug, Serialize)]
struct CandidateAnswer {
    values: BTreeMap<&'static str, Option<String>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    cost: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    mass_kg: Option<f64>,
    passes: bool,
    verdict: String,
    exclusions: [&'static str; LEFT_OUT.len()],
    failing: Vec<RowAnswer>,
    governing: Vec<RowAnswer>,
}

pub(super) fn run(args: &SizeArgs, common: &Common) -> Result<Outcome, Failure> {
    let input = args.design.design.as_deref();
    if let Some(path) = &args.write {
        output::refuse_input("--write", path, input)?;
        if path.exists() {
            let sentence = format!("{} exists already", path.display());
            return Err(Fault::new("file-exists", "--write", sentence)
                .hint("name a new file; nothing is overwritten")
                .into());
        }
    }
    let goal = Goal::from(args.goal);
    let open = design::read_open(input)?;
    let (choices, by_ladder) = choices(&open, args, goal)?;
    let space = Space::new(open, choices).map_err(Failure::from)?;
    if let Some(path) = &args.write {
        // Sooner than after a long search.
        can_be_rewritten(&space)?;
        Pending::default().add(path, b"")?;
    }
    let read = Read { design: space.open().design().clone(), places: space.open().places().clone() };
    let laid = LaidOut::of(read, common.units.map(Units::from))?;
    let search = Search { space: &space, tilts: &laid.tilts, tape: Tape::of(laid.design.units), goal, prune: true };
    let (left_open, written) = match search.as_written() {
        Ok(judged) => judged,
        Err(SizeError::NothingChecked(why)) => {
            nothing_checked(&laid.design.name, goal, why, common)?;
            return Ok(Outcome::CheckFails);
        }
        Err(error) => return Err(failure(error, &laid, goal)),
    };
    let watch = watch::Progress::new(space.count());
    let found = search.run(&left_open, &watch).map_err(|error| failure(error, &laid, goal))?;
    watch.finish(&found);
    let mut pending = Pending::default();
    let file = match (&args.write, &found.chosen) {
        (Some(path), Some(chosen)) => {
            let values = space.values(chosen.candidate).map(|(axis, offer)| (axis.field, offer));
            let text = space.open().rewritten(values)?;
            pending.add(path, text.as_bytes())?;
            Some(path.display().to_string())
        }
        _ => None,
    };
    let sized = Sized {
        space: &space,
        goal,
        units: laid.units,
        currency: laid.design.shop.currency,
        written: &written,
        open: left_open.words(),
        found: &found,
        by_ladder,
        file,
    };
    match common.format {
        Format::Json => output::print_json(&answer(&laid.design.name, &sized))?,
        Format::Text => output::print(&text::text(&laid.design.name, &sized))?,
    }
    pending.put_in_place()?;
    Ok(if found.chosen.is_some() { Outcome::Done } else { Outcome::CheckFails })
}

/// Can the text of the design take other values of the fields that vary?
fn can_be_rewritten(space: &Space) -> Result<(), Failure> {
    let other = space
        .axes()
        .iter()
        .map(|axis| (axis.field, axis.offers.iter().find(|offer| **offer != axis.old).unwrap_or(&axis.old)));
    match space.open().rewritten(other) {
        // Values that do not go together say nothing of the text.
        Err(faults) if faults.iter().any(|fault| fault.code == "not-rewritten") => Err(Failure::Input(faults)),
        _ => Ok(()),
    }
}

/// Nothing to go by: no check of the design as written has a number.
fn nothing_checked(name: &str, goal: Goal, why: String, common: &Common) -> Result<(), Failure> {
    match common.format {
        Format::Json => output::print_json(&NothingChecked {
            design: name.to_string(),
            goal: goal.word(),
            chosen: None,
            nothing_checked: why,
        }),
        Format::Text => output::print(&format!(
            "{name}: sizes\n\nNothing can be sized: {why}.\nNo check of this design has a number to go by.\n"
        )),
    }
}

/// What varies: what the command line names, then what the design offers; the usual sizes when neither does.
fn choices(open: &design::OpenDesign, args: &SizeArgs, goal: Goal) -> Result<(Vec<Choice>, bool), Failure> {
    let mut choices: Vec<Choice> = open.choices().to_vec();
    let mut faults = Vec::new();
    let mut varied: Vec<&str> = Vec::new();
    for vary in &args.vary {
        let Some((field, values)) = vary.split_once('=') else {
            faults.push(
                Fault::new("bad-value", "--vary", format!("`{vary}` names no values"))
                    .hint("write a field, `=`, and values with commas between: --vary frame.rail=2x4,2x6"),
            );
            continue;
        };
        let texts: Vec<&str> = values.split(',').map(str::trim).filter(|t| !t.is_empty()).collect();
        if texts.is_empty() {
            let sentence = format!("`{vary}` names no values");
            faults.push(Fault::new("bad-value", "--vary", sentence).hint("name at least one value after `=`"));
            continue;
        }
        if varied.contains(&field.trim()) {
            let sentence = format!("`{}` is varied twice", field.trim());
            faults.push(
                Fault::new("varied-twice", "--vary", sentence)
                    .hint("write one list of all its values after one `--vary`"),
            );
            continue;
        }
        varied.push(field.trim());
        match open.offer(field.trim(), &texts) {
            Ok(choice) => match choices.iter_mut().find(|c| c.field == choice.field) {
                Some(known) => *known = choice,
                None => choices.push(choice),
            },
            Err(mut wrong) => faults.append(&mut wrong),
        }
    }
    if !faults.is_empty() {
        return Err(Failure::Input(faults));
    }
    if choices.is_empty() { Ok((ladder(open, goal)?, true)) } else { Ok((choices, false)) }
}

fn failure(error: SizeError, laid: &LaidOut, goal: Goal) -> Failure {
    match error {
        SizeError::PricesMissing(rows) => {
            let sentence = format!(
                "{} {} missing for goods of which the candidates need different amounts",
                rows.len(),
                if rows.len() == 1 { "price is" } else { "prices are" }
            );
            let mut fault = Fault::new("price-missing", "shop", sentence).at(laid.places.of("shop"));
            for row in rows {
                fault = fault.hint(format!("add to {row}"));
            }
            fault.hint(format!("or ask for the lightest with `--goal lightest`, instead of the {}", goal.word())).into()
        }
        SizeError::Design(faults) => {
            Failure::Input(faults.into_iter().map(|fault| laid.places.point_out(fault)).collect())
        }
        SizeError::Structure(error) => laid.places.point_out(error.fault()).into(),
        SizeError::NothingChecked(why) => Fault::new("nothing-checked", "loads", why).into(),
    }
}

fn answer(name: &str, sized: &Sized<'_>) -> Answer {
    let Counts { all, laid_out, refused, on_part, complete } = sized.found.counts.clone();
    let candidate = |judged: &Judged| candidate_answer(sized, judged);
    Answer {
        design: name.to_string(),
        goal: sized.goal.word(),
        searched: sized
            .space
            .axes()
            .iter()
            .map(|axis| AxisAnswer {
                field: axis.field.path,
                values: axis.offers.iter().map(design::Offer::text).collect(),
                was: axis.old.text(),
            })
            .collect(),
        candidates: CountAnswer { all, laid_out, refused, shown_failing_on_part: on_part, complete },
        chosen: sized.found.chosen.as_ref().map(candidate),
        cheaper: sized.found.cheaper.iter().map(candidate).collect(),
        nearest: sized.found.nearest.as_ref().map(candidate),
        not_judged: sized.open.clone(),
        not_in_the_sum: sized.found.unpriced.clone(),
        written: sized.file.clone(),
    }
}

fn candidate_answer(sized: &Sized<'_>, judged: &Judged) -> CandidateAnswer {
    CandidateAnswer {
        values: sized.space.values(judged.candidate).map(|(axis, offer)| (axis.field.path, offer.text())).collect(),
        cost: (sized.goal == Goal::Cheapest).then_some(judged.amount as f64 / 100.0),
        mass_kg: (sized.goal == Goal::Lightest).then_some(judged.amount as f64 / 1000.0),
        passes: judged.passes(),
        verdict: judged.verdict.clone(),
        exclusions: LEFT_OUT,
        failing: judged.failing.iter().map(RowAnswer::of).collect(),
        governing: judged.governing.iter().map(RowAnswer::of).collect(),
    }
}
