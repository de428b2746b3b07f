//! `site`: winter hours behind trees, true south, losses, and distance between frames.

mod answer;
mod text;

use super::{
    args::{Common, Format, latitude, longitude},
    exit::{Failure, Outcome},
    output::{self, Pending},
};
use crate::{
    design::{Fault, file_text},
    quantities::Angle,
    sheets::{Page, Paper, siting_sheet, sun_path::sun_path_sheet},
    sun::{
        Date, Place, SunFault,
        seasons::{SeasonPlan, Study},
        site::{SiteStudy, Verdict, facing_losses, noon_utc_hours, row_spacing, study},
        survey::Survey,
    },
};
use answer::{Answer, Parts};
use clap::Args;
use std::path::PathBuf;

/// A survey file, or a bare place.
#[derive(Debug, Args)]
pub(super) struct SiteArgs {
    /// Horizon survey (YAML): place, points of bearing and elevation, obstacles of height and distance
    #[arg(required_unless_present = "latitude")]
    survey: Option<PathBuf>,
    /// Latitude as `44 N` or in degrees, south negative, when there is no survey
    #[arg(long, value_name = "DEG", value_parser = latitude, allow_negative_numbers = true, requires = "longitude")]
    #[arg(conflicts_with = "survey")]
    latitude: Option<Angle>,
    /// Longitude as `105 W` or in degrees, west negative, when there is no survey
    #[arg(long, value_name = "DEG", value_parser = longitude, allow_negative_numbers = true, requires = "latitude")]
    longitude: Option<Angle>,
    /// Day of the compass reading; goes before the one in the survey
    #[arg(long, value_name = "YYYY-MM-DD", value_parser = day)]
    date: Option<Date>,
    /// Clock time less UTC in hours, for clock times; goes before the one in the survey
    #[arg(long, value_name = "HOURS", allow_negative_numbers = true)]
    utc_offset: Option<f64>,
    /// How many seasons the frame's year has, 1 to 12
    #[arg(long, value_name = "N", default_value_t = 4)]
    seasons: usize,
    /// Folder to write the sun-path sheet and the siting checklist to
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
}

fn day(text: &str) -> Result<Date, String> {
    Date::parse(text).map_err(|fault| format!("{fault}; {}", fault.hint()))
}

pub(super) fn run(args: &SiteArgs, common: &Common) -> Result<Outcome, Failure> {
    let survey = survey(args)?;
    let plan = Study::of(&survey.place).and_then(|study| study.plan(args.seasons)).map_err(Fault::from)?;
    let site = study(&survey, &plan.seasons).map_err(Fault::from)?;
    let answer = gather(&survey, &plan, &site)?;
    let mut pending = Pending::default();
    if let Some(folder) = &args.out {
        let paper = Paper::of(common.units());
        let paths = sun_path_sheet(&survey, &site, Page::landscape(paper), common.units()).map_err(Fault::from)?;
        let list = siting_sheet(&survey.name, Page::portrait(paper), common.units());
        pending.add_into(folder, &[("sun-path.svg", paths.to_svg()), ("siting.svg", list.to_svg())])?;
    }
    match common.format {
        Format::Json => output::print_json(&answer)?,
        Format::Text => output::print(&text::write(&answer, common.units()))?,
    }
    pending.put_in_place()?;
    let fails =
        answer.is_surveyed() && matches!(site.verdict, Verdict::TooLittle | Verdict::PolarNight | Verdict::NotSeen);
    Ok(if fails { Outcome::CheckFails } else { Outcome::Done })
}

fn survey(args: &SiteArgs) -> Result<Survey, Vec<Fault>> {
    let mut survey = match (&args.survey, args.latitude, args.longitude) {
        (Some(path), ..) => {
            let text = file_text(path).map_err(|fault| vec![fault])?;
            Survey::read(&path.display().to_string(), &text, args.date)?
        }
        (None, Some(latitude), Some(longitude)) => Survey::open(place(latitude, longitude)?, args.date),
        _ => {
            let fault = Fault::new("no-place", "SURVEY", "no survey and no place was given");
            return Err(vec![fault.hint("name a survey file, or give --latitude and --longitude")]);
        }
    };
    if let Some(hours) = args.utc_offset {
        if !(-12.0..=14.0).contains(&hours) {
            let sentence = format!("a clock {hours} hours off UTC runs nowhere");
            let fault = Fault::new("utc-offset", "--utc-offset", sentence).hint("offsets run from -12 to 14 hours");
            return Err(vec![fault]);
        }
        survey.utc_offset_hours = Some(hours);
    }
    Ok(survey)
}

fn place(latitude: Angle, longitude: Angle) -> Result<Place, Vec<Fault>> {
    Place::new(latitude, longitude).and_then(Place::off_the_poles).map_err(|fault| {
        let field = if matches!(fault, SunFault::Longitude { .. }) { "--longitude" } else { "--latitude" };
        vec![fault.at_field(field)]
    })
}

fn gather(survey: &Survey, plan: &SeasonPlan, site: &SiteStudy) -> Result<Answer, Fault> {
    let place = &survey.place;
    let noon_days = answer::noon_days(survey);
    let (rows, rows_note) = match survey.rows.as_ref().map(|request| row_spacing(place, request, &plan.seasons)) {
        None => (None, None),
        Some(Ok(rows)) => (Some(rows), None),
        // Facts of the place, not faults of the survey: told, not refused.
        Some(Err(fault @ SunFault::NoSunOnRows { .. })) => (None, Some(format!("{fault}; {}", fault.hint()))),
        Some(Err(fault)) => return Err(fault.at_field("rows")),
    };
    Ok(Answer::of(&Parts {
        survey,
        plan,
        site,
        facing: facing_losses(place, &plan.seasons)?,
        noons: noon_days.iter().copied().zip(noon_utc_hours(place, &noon_days)?).collect(),
        rows,
        rows_note,
    }))
}
