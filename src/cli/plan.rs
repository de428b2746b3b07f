//! `plan`: the whole packet of a design, written into one folder.

use super::{
    args::{Common, Format},
    cutlist::cut_list,
    exit::{Failure, Outcome},
    laid_out::{DesignArg, LaidOut},
    output, packet_folder,
};
use crate::{
    checks::verify::{Report, Verdict, verify},
    design::StrengthBasis,
    frame::{Frame, StandsOn},
    loads::{LEFT_OUT, left_out},
    quantities::number,
    sheets::{
        Calculation, Drafter, Packet, Page, Paper, Ray, Sheet, Warning, cut_plan_sheets, number_sheets, siting_sheet,
        slug_of,
        sun_charts::tilt_charts_sheet,
        tilt_card::{tilt_calendar, tilt_card},
    },
    shop,
    sun::noon_altitudes,
};
use serde::Serialize;
use std::path::PathBuf;

/// Which design, which paper, and where the packet goes.
#[derive(Debug, clap::Args)]
pub(super) struct PlanArgs {
    #[command(flatten)]
    design: DesignArg,
    /// Folder that gets a folder of its own for the packet
    #[arg(long, value_name = "FOLDER", default_value = "out")]
    out: PathBuf,
    /// Name of the packet's folder; the design's name when not given
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// Paper of the drawings; templates come on both
    #[arg(long, value_enum)]
    paper: Option<PaperChoice>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum PaperChoice {
    Letter,
    A4,
}

#[derive(Debug, Serialize)]
struct Answer {
    folder: String,
    files: Vec<String>,
    notes: Vec<String>,
    /// What may be said of the strength.
    verdict: String,
    holds: bool,
    exclusions: [&'static str; LEFT_OUT.len()],
}

pub(super) fn run(args: &PlanArgs, common: &Common) -> Result<Outcome, Failure> {
    let bench = LaidOut::set_up(args.design.design.as_deref(), common)?;
    let marked = bench.marked();
    let cut_list = cut_list(&bench, &marked)?;
    let hardware = shop::hardware(&bench.design, &marked, bench.units);
    let sun = bench.seasons()?;
    let (first, other) = papers(args.paper, bench.units);
    let strength = Strength::of(&bench);
    let mut sheets = drawings(&bench, &marked, first, &strength);
    let warning = strength.warning.as_ref();
    let page = Page::portrait(first);
    let mut texts = Vec::new();
    sheets.push(tilt_charts_sheet(&bench.design.name, &sun.study, &sun.plan, page, bench.units));
    texts.push((
        "tilt-card.txt",
        tilt_card(&bench.design.name, sun.study.place(), bench.design.site.facing, &sun.plan, warning),
    ));
    texts.push(("tilts.ics", tilt_calendar(&bench.design.name, sun.study.place(), &sun.plan)));
    let (job, plan) = (&cut_list.job, &cut_list.plan);
    sheets.extend(cut_plan_sheets(&bench.design.name, job, plan, cut_list.shown, page));
    sheets.push(siting_sheet(&bench.design.name, page, bench.units));
    number_sheets(&mut sheets);
    // Templates are at full size and must fit the paper at hand, so they come on the other paper too.
    let mut on_other = drafter(&bench, &marked, other, &strength).templates();
    for sheet in sheets.iter_mut().chain(&mut on_other) {
        sheet.warning = warning.cloned();
    }
    if let Some(page) = &strength.page {
        texts.push((CALCULATION, page.clone()));
    }
    let packet = Packet {
        design: &bench.design,
        frame: &marked,
        cut_list: &cut_list,
        hardware: &hardware,
        season_plan: &sun.plan,
        texts: &texts,
        sheets: &sheets,
        other_paper: &[(if other == Paper::A4 { "templates-a4" } else { "templates-letter" }, on_other)],
        warning,
        strength: &strength.says,
        units: bench.units,
    };
    let files = packet.files();
    let folder = args.out.join(slug_of(args.name.as_deref().unwrap_or(&bench.design.name)));
    let answer = Answer {
        folder: folder.display().to_string(),
        files: files.iter().map(|f| f.path.clone()).collect(),
        notes: marked.notes.clone(),
        verdict: strength.verdict,
        holds: strength.holds,
        exclusions: LEFT_OUT,
    };
    packet_folder::write(&folder, &files, &bench.design.name, || match common.format {
        Format::Json => output::print_json(&answer),
        Format::Text => output::print(&text(&answer)),
    })?;
    Ok(if strength.fails { Outcome::CheckFails } else { Outcome::Done })
}

fn text(answer: &Answer) -> String {
    let sheets = answer.files.iter().filter(|f| f.ends_with(".svg")).count();
    let mut out = format!(
        "{} files, {sheets} of them drawings, in {}\nOpen {}/index.html to read or print all of it; print drawings at 100 % and measure the check bar.\n",
        answer.files.len(),
        answer.folder,
        answer.folder
    );
    for note in &answer.notes {
        out.push_str(&format!("note: {note}\n"));
    }
    out.push_str(&format!("Strength: {}.\n{}\n", answer.verdict, left_out()));
    if answer.files.iter().any(|file| file == CALCULATION) {
        out.push_str(&format!(
            "Every check stands in {}/{CALCULATION}; `tiltwright strength` prints them.\n",
            answer.folder
        ));
    }
    out.push_str("Results are aids to a builder: local codes and a licensed engineer govern.\n");
    out
}

fn papers(choice: Option<PaperChoice>, units: crate::quantities::Units) -> (Paper, Paper) {
    let letter = choice.map_or(units == crate::quantities::Units::Us, |c| c == PaperChoice::Letter);
    if letter { (Paper::Letter, Paper::A4) } else { (Paper::A4, Paper::Letter) }
}

fn drafter<'a>(bench: &'a LaidOut, frame: &'a Frame, paper: Paper, strength: &Strength) -> Drafter<'a> {
    let (design, depth_asked_mm) = (&bench.design, strength.depth_asked_mm);
    Drafter { design, frame, paper, units: bench.units, depth_asked_mm }
}

fn drawings(bench: &LaidOut, frame: &Frame, paper: Paper, strength: &Strength) -> Vec<Sheet> {
    let noon = noon_altitudes(bench.design.site.latitude).ok();
    let rays = |_tilt: f64| {
        let Some(noon) = noon else { return vec![] };
        [("noon, lowest", noon.lowest), ("noon, equinox", noon.equinox), ("noon, highest", noon.highest)]
            .into_iter()
            .map(|(name, altitude)| Ray { name: name.to_string(), altitude_deg: crate::quantities::to_deg(altitude) })
            .filter(|ray| ray.altitude_deg > 0.0)
            .collect()
    };
    drafter(bench, frame, paper, strength).shop_drawings(&rays)
}

/// Name of the calculation sheet in the packet.
const CALCULATION: &str = "calculation.html";

/// The calculation sheet, where the design gives all that strength needs, and what is said of it elsewhere.
struct Strength {
    verdict: String,
    holds: bool,
    /// Does a check fail, rather than lack a value?
    fails: bool,
    /// The paragraph of the page.
    says: String,
    /// What every file of the packet says of it; nothing where no check fails and each has a value.
    warning: Option<Warning>,
    page: Option<String>,
    /// Depth below grade that soil and frost ask of a post (mm).
    depth_asked_mm: Option<f64>,
}

impl Strength {
    /// A packet is of use at the saw without a verdict, so what stops the checks is said and stops nothing else.
    fn of(bench: &LaidOut) -> Self {
        let without = |why: String| Self {
            verdict: format!("no verdict can be given: {why}"),
            holds: false,
            fails: false,
            says: format!("No strength was computed: {why}. {}", left_out()),
            warning: Some(Warning { what: "Strength: not computed, no verdict".to_string(), why: sentence_case(&why) }),
            page: None,
            depth_asked_mm: None,
        };
        let basis = match bench.design.strength_basis() {
            Ok(Some(basis)) => basis,
            Ok(None) => return without("the design gives neither wind nor snow".to_string()),
            Err(faults) => {
                let all: Vec<&str> = faults.iter().map(|f| f.sentence.as_str()).collect();
                return without(all.join("; "));
            }
        };
        match verify(&bench.design, &bench.frame, &basis) {
            Ok(report) => Self::reported(bench, &basis, &report),
            Err(error) => without(error.to_string()),
        }
    }

    fn reported(bench: &LaidOut, basis: &StrengthBasis, report: &Report) -> Self {
        let verdict = report.verdict.sentence();
        let says = sentence_case(&format!(
            "{verdict}. {CALCULATION} holds every check for a licensed engineer to review. {}",
            left_out()
        ));
        let what = match report.verdict {
            Verdict::Fails { checks: 1, .. } => Some("1 check FAILS".to_string()),
            Verdict::Fails { checks, .. } => Some(format!("{checks} checks FAIL")),
            Verdict::None(_) => Some("no verdict can be given".to_string()),
            Verdict::UnderJudgement(_) | Verdict::NoneAboveOne => None,
        };
        let warning = what.map(|what| Warning {
            what: format!("Strength: {what}, see the calculation sheet"),
            why: sentence_case(&reason(report)),
        });
        let (design, frame) = (&bench.design, &bench.frame);
        let depth_asked_mm = match frame.stands_on {
            StandsOn::Posts { embedment_mm, .. } => report.depth_asked_mm(embedment_mm),
            StandsOn::Runners { .. } => None,
        };
        let page = Calculation { design, basis, frame, report, warning: warning.as_ref(), units: bench.units }.page();
        Self {
            verdict,
            holds: report.verdict.holds(),
            fails: matches!(report.verdict, Verdict::Fails { .. }),
            says,
            warning,
            page: Some(page),
            depth_asked_mm,
        }
    }
}

/// Why a design fails, or has no verdict: as much as a line or two hold.
fn reason(report: &Report) -> String {
    const NAMED: usize = 3;
    let (head, reasons) = match &report.verdict {
        Verdict::None(reasons) => ("", reasons.clone()),
        _ => {
            let failing =
                report.rows.iter().filter(|row| row.fails()).filter_map(|row| {
                    Some(format!("{}, {}: {}", row.part, row.kind.words(), number(row.utilisation?, 2)))
                });
            ("utilisations above 1: ", failing.collect())
        }
    };
    let more = match reasons.len().saturating_sub(NAMED) {
        0 => String::new(),
        more => format!("; and {more} more"),
    };
    format!("{head}{}{more}", reasons.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join("; "))
}

fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}
