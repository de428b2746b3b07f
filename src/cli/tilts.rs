//! `tilts`: which tilts to use at a latitude, and on which days to change them.

mod answer;
mod row;
mod text;

use super::{
    args::{Common, Format, GoalChoice, degrees as angle_in_degrees, latitude, longitude},
    exit::{Failure, Outcome},
    output::{self, Pending},
};
use crate::{
    design::{self, Design, Fault, Goal, Tilts},
    frame::{LaidOut, distinct, season_plan, swing},
    quantities::{Angle, Units, deg, to_deg},
    sheets::{
        Page, Paper,
        sun_charts::tilt_charts_sheet,
        tilt_card::{tilt_calendar, tilt_card},
    },
    sun::{
        Place,
        seasons::{SeasonPlan, Study, Weights},
        site::{FacingLoss, facing_loss},
    },
};
use answer::Answer;
use clap::Args;
use std::path::PathBuf;

/// Seasons of a plan when nobody says how many.
const USUAL_SEASONS: usize = 4;

/// Where, how many seasons, and what counts.
#[derive(Debug, Args)]
pub(super) struct TiltsArgs {
    /// Design file whose site and tilts are judged; the built-in design when there is no latitude either
    #[arg(value_name = "DESIGN")]
    design: Option<PathBuf>,
    /// Latitude of the site as `44 N` or in degrees, south negative; goes before the design's
    #[arg(long, value_name = "DEG", value_parser = latitude, allow_negative_numbers = true)]
    latitude: Option<Angle>,
    /// Longitude of the site as `105 W` or in degrees, west negative; tilts hardly depend on it
    #[arg(long, value_name = "DEG", value_parser = longitude, allow_negative_numbers = true)]
    longitude: Option<Angle>,
    /// How many seasons the year is divided into, 1 to 12; the design's own number or 4 when not given
    #[arg(long, value_name = "N")]
    seasons: Option<usize>,
    /// What tilts and dates are chosen for; the design's own goal or the year when not given
    #[arg(long = "for", value_enum, value_name = "GOAL", conflicts_with = "months")]
    goal: Option<GoalChoice>,
    /// Only these tilts can be set, in degrees, for instance 15,35,60
    #[arg(long, value_name = "LIST", value_delimiter = ',', value_parser = angle_in_degrees, conflicts_with = "months")]
    tilts: Vec<Angle>,
    /// Only tilts whose holes the design's row can hold side by side
    #[arg(long, conflicts_with_all = ["latitude", "months", "tilts"])]
    fit_row: bool,
    /// Months that count more when tilts are chosen, for instance 11,12,1
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    months: Vec<u8>,
    /// How many times those months count
    #[arg(long, value_name = "TIMES", default_value_t = 3.0, requires = "months")]
    weight: f64,
    /// Count nothing but those months
    #[arg(long, requires = "months", conflicts_with = "weight")]
    only: bool,
    /// Folder to write the charts (SVG), the card (text) and the calendar (ICS) to
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
}

/// A design's own tilts on their best dates.
struct Drilled {
    name: String,
    tilts: Vec<Angle>,
    plan: SeasonPlan,
    /// Against the best plan with as many seasons.
    loss: f64,
    facing: Angle,
    facing_loss: FacingLoss,
}

pub(super) fn run(args: &TiltsArgs, common: &Common) -> Result<Outcome, Failure> {
    let design = match (&args.design, args.latitude) {
        (None, Some(_)) => None,
        (file, _) => Some(as_asked(design::read(file.as_deref())?.design, args)),
    };
    let study = Study::of(&place(args, design.as_ref())?).map_err(Fault::from)?;
    let goal = args.goal.map_or_else(|| design.as_ref().map_or(Goal::Year, |design| design.goal), Goal::from);
    let count = args.seasons.unwrap_or_else(|| usual_count(design.as_ref()));
    let (plan, row_note) = if args.fit_row {
        refuse_row_for(goal)?;
        let laid = LaidOut::of(design::read(args.design.as_deref())?, common.units.map(Units::from))?;
        let (plan, note) = row::plan(&study, &laid, count)?;
        (plan, Some(note))
    } else {
        (choose(&study, args, design.is_some(), count, goal)?, None)
    };
    let drilled = design.as_ref().map(|design| judge(&study, design, args.seasons)).transpose()?;
    let mut pending = Pending::default();
    if let Some(folder) = &args.out {
        let units = common.units_or(design.as_ref().map_or(Units::Us, |design| design.units));
        let name = drilled.as_ref().map_or("Frame", |drilled| drilled.name.as_str());
        // With --fit-row the new tilts are meant, not the ones the design has now.
        let shown = drilled.as_ref().filter(|_| !args.fit_row).map_or(&plan, |drilled| &drilled.plan);
        let faces = design.as_ref().map_or(study.place().facing(), |design| design.site.facing);
        let charts = tilt_charts_sheet(name, &study, shown, Page::portrait(Paper::of(units)), units);
        let files = [
            ("tilts.svg", charts.to_svg()),
            ("tilts.txt", tilt_card(name, study.place(), faces, shown, None)),
            ("tilts.ics", tilt_calendar(name, study.place(), shown)),
        ];
        pending.add_into(folder, &files)?;
    }
    let mut answer = Answer::gather(&study, &plan, drilled.as_ref())?;
    answer.notes.extend(row_note);
    match common.format {
        Format::Json => output::print_json(&answer)?,
        Format::Text => output::print(&text::write(&answer))?,
    }
    pending.put_in_place()?;
    Ok(Outcome::Done)
}

/// The design with the seasons and the goal of the command line, which go before its own.
fn as_asked(design: Design, args: &TiltsArgs) -> Design {
    let tilts = match (design.tilts, args.seasons) {
        (Tilts::Seasons(_), Some(count)) => Tilts::Seasons(count),
        (tilts, _) => tilts,
    };
    Design { tilts, goal: args.goal.map_or(design.goal, Goal::from), ..design }
}

fn refuse_row_for(goal: Goal) -> Result<(), Fault> {
    if goal == Goal::Year {
        return Ok(());
    }
    let sentence =
        format!("`--fit-row` fits tilts to the hole row for the year's sum, and the goal is `{}`", goal.word());
    Err(Fault::new("fit-row-goal", "--fit-row", sentence).hint("add `--for year`, or leave out `--fit-row`"))
}

/// Longitude and height are left out unless asked for, as they are for a design: see [`crate::frame::Seasons`].
fn place(args: &TiltsArgs, design: Option<&Design>) -> Result<Place, Fault> {
    let Some(latitude) = args.latitude.or(design.map(|design| design.site.latitude)) else {
        return Err(Fault::new("no-latitude", "--latitude", "no latitude was given").hint("give one as --latitude 40"));
    };
    let place = Place::on_latitude(latitude).and_then(Place::off_the_poles);
    let place = place.map_err(|fault| fault.at_field("--latitude"))?;
    match args.longitude {
        Some(longitude) => Place::new(place.latitude(), longitude).map_err(|fault| fault.at_field("--longitude")),
        None => Ok(place),
    }
}

fn usual_count(design: Option<&Design>) -> usize {
    match design.map(|design| &design.tilts) {
        Some(Tilts::Seasons(count)) => *count,
        _ => USUAL_SEASONS,
    }
}

fn choose(study: &Study, args: &TiltsArgs, is_framed: bool, count: usize, goal: Goal) -> Result<SeasonPlan, Fault> {
    let plan = match (args.months.as_slice(), args.only) {
        _ if !args.tilts.is_empty() => study.plan_from(&args.tilts, count, goal),
        ([], _) if is_framed => study.plan_for_frame(count, goal, swing()),
        ([], _) => study.plan_for(count, goal),
        (months, true) => Weights::only(months).and_then(|weights| study.plan_weighted(count, &weights)),
        (months, false) => {
            Weights::months(months, args.weight).and_then(|weights| study.plan_weighted(count, &weights))
        }
    };
    plan.map_err(Fault::from)
}

/// A design's plan against the best one of the year.
fn judge(study: &Study, design: &Design, most: Option<usize>) -> Result<Drilled, Failure> {
    let plan = season_plan(study, design, most)?;
    let tilts = match &design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        Tilts::Seasons(_) => plan.seasons.iter().map(|season| season.tilt).collect(),
    };
    let best = study.plan(plan.seasons.len()).map_err(Fault::from)?;
    let off_deg = to_deg(design.site.facing) - to_deg(study.place().facing());
    let off = deg((off_deg + 180.0).rem_euclid(360.0) - 180.0);
    Ok(Drilled {
        name: design.name.clone(),
        tilts: distinct(&tilts),
        loss: if best.year_kwh > 0.0 { 1.0 - plan.year_kwh / best.year_kwh } else { 0.0 },
        facing: design.site.facing,
        facing_loss: facing_loss(study.place(), &plan.seasons, off).map_err(Fault::from)?,
        plan,
    })
}
