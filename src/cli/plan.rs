//! `plan`: the whole packet of a design, written into one folder.

use super::{
    args::{Common, Format},
    bench::{Bench, DesignArg},
    cutlist::cut_list,
    exit::{Failure, Outcome},
    output,
};
use crate::{
    checks::verify::{Report, Verdict, verify},
    design::{Fault, StrengthBasis},
    frame::StandsOn,
    quantities::deg,
    sheets::{
        Calculation, Drafter, PACKET_MARK, Packet, PacketFile, Page, Paper, Ray, Sheet, cut_plan_sheets, number_sheets,
        siting_sheet, slug_of,
        sun_charts::tilt_charts_sheet,
        tilt_card::{tilt_calendar, tilt_card},
    },
    shop::{self, cut_plan},
    sun::{Place, noon_altitudes, seasons::SeasonPlan, seasons::Study},
};
use serde::Serialize;
use std::{
    fs, io,
    path::{Path, PathBuf},
};

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
}

pub(super) fn run(args: &PlanArgs, common: &Common) -> Result<Outcome, Failure> {
    let bench = Bench::set_up(args.design.design.as_deref(), common)?;
    let cut_list = cut_list(&bench)?;
    let hardware = shop::hardware(&bench.design, &bench.frame, bench.units);
    let sun = Seasons::of(&bench)?;
    let (first, other) = papers(args.paper, bench.units);
    let strength = Strength::of(&bench);
    let mut sheets = drawings(&bench, first, &strength);
    let page = Page::portrait(first);
    let mut texts = Vec::new();
    if let Some(plan) = &sun.plan {
        sheets.push(tilt_charts_sheet(&bench.design.name, &sun.study, plan, page, bench.units));
        texts.push(("tilt-card.txt", tilt_card(&bench.design.name, sun.study.place(), plan)));
        texts.push(("tilts.ics", tilt_calendar(&bench.design.name, sun.study.place(), plan)));
    }
    let (job, plan) = (&cut_list.job, &cut_list.plan);
    sheets.extend(cut_plan_sheets(&bench.design.name, job, plan, cut_plan::Money::Cent, page));
    sheets.push(siting_sheet(&bench.design.name, page, bench.units));
    number_sheets(&mut sheets);
    // Templates are at full size and must fit the paper at hand, so they come on the other paper too.
    let mut on_other = drafter(&bench, other, &strength).templates();
    for sheet in sheets.iter_mut().chain(&mut on_other) {
        sheet.warning.clone_from(&strength.warning);
    }
    if let Some(page) = strength.page {
        texts.push((CALCULATION, page));
    }
    let packet = Packet {
        design: &bench.design,
        frame: &bench.frame,
        cut_list: &cut_list,
        hardware: &hardware,
        season_plan: sun.plan.as_ref(),
        texts: &texts,
        sheets: &sheets,
        other_paper: &[(if other == Paper::A4 { "templates-a4" } else { "templates-letter" }, on_other)],
        strength: &strength.says,
        units: bench.units,
    };
    let files = packet.files();
    let folder = args.out.join(slug_of(args.name.as_deref().unwrap_or(&bench.design.name)));
    let answer = Answer {
        folder: folder.display().to_string(),
        files: files.iter().map(|f| f.path.clone()).collect(),
        notes: bench.frame.notes.clone(),
        verdict: strength.verdict,
        holds: strength.holds,
    };
    write_packet(&folder, &files, &bench.design.name, || match common.format {
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
    out.push_str(&format!("Strength: {}.\n", answer.verdict));
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

fn drafter<'a>(bench: &'a Bench, paper: Paper, strength: &Strength) -> Drafter<'a> {
    let (design, frame, depth_asked_mm) = (&bench.design, &bench.frame, strength.depth_asked_mm);
    Drafter { design, frame, paper, units: bench.units, depth_asked_mm }
}

fn drawings(bench: &Bench, paper: Paper, strength: &Strength) -> Vec<Sheet> {
    let noon = noon_altitudes(bench.design.site.latitude).ok();
    let rays = |_tilt: f64| {
        let Some(noon) = noon else { return vec![] };
        [("noon, lowest", noon.lowest), ("noon, equinox", noon.equinox), ("noon, highest", noon.highest)]
            .into_iter()
            .map(|(name, altitude)| Ray { name: name.to_string(), altitude_deg: crate::quantities::to_deg(altitude) })
            .filter(|ray| ray.altitude_deg > 0.0)
            .collect()
    };
    drafter(bench, paper, strength).shop_drawings(&rays)
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
    /// What every drawing says of it; nothing where no check fails and each has a value.
    warning: Option<String>,
    page: Option<String>,
    /// Depth below grade that soil and frost ask of a post (mm).
    depth_asked_mm: Option<f64>,
}

impl Strength {
    /// A packet is of use at the saw without a verdict, so what stops the checks is said and stops nothing else.
    fn of(bench: &Bench) -> Self {
        let without = |why: String| Self {
            verdict: format!("no verdict can be given: {why}"),
            holds: false,
            fails: false,
            says: format!("No strength was computed: {why}."),
            warning: Some("Strength: not computed, no verdict.".to_string()),
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

    fn reported(bench: &Bench, basis: &StrengthBasis, report: &Report) -> Self {
        let verdict = report.verdict.sentence();
        let says =
            sentence_case(&format!("{verdict}. {CALCULATION} holds every check for a licensed engineer to review."));
        let warning = match report.verdict {
            Verdict::Fails(1) => Some("Strength: 1 check FAILS, see the calculation sheet.".to_string()),
            Verdict::Fails(n) => Some(format!("Strength: {n} checks FAIL, see the calculation sheet.")),
            Verdict::None(_) => Some("Strength: no verdict can be given, see the calculation sheet.".to_string()),
            Verdict::UnderJudgement(_) | Verdict::NoneAboveOne => None,
        };
        let (design, frame) = (&bench.design, &bench.frame);
        let depth_asked_mm = match frame.stands_on {
            StandsOn::Posts { embedment_mm, .. } => report.depth_asked_mm(embedment_mm),
            StandsOn::Runners { .. } => None,
        };
        Self {
            verdict,
            holds: report.verdict.holds(),
            fails: matches!(report.verdict, Verdict::Fails(_)),
            says,
            warning,
            page: Some(Calculation { design, basis, frame, report, units: bench.units }.page()),
            depth_asked_mm,
        }
    }
}

fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The sun over the site, and when to change between the tilts that are drilled.
struct Seasons {
    study: Study,
    /// Nothing for a single tilt.
    plan: Option<SeasonPlan>,
}

impl Seasons {
    fn of(bench: &Bench) -> Result<Self, Failure> {
        let site = &bench.design.site;
        let place = match site.longitude {
            Some(longitude) => Place::new(site.latitude, longitude),
            None => Place::on_latitude(site.latitude),
        };
        let place = place.map_err(Fault::from)?;
        let study = match &bench.study {
            Some(study) if *study.place() == place => study.clone(),
            _ => Study::of(&place).map_err(Fault::from)?,
        };
        // The tilts asked for: what the tape makes of them, a few hundredths of a degree, moves no date.
        let tilts: Vec<_> = bench.frame.row.iter().map(|h| deg(h.tilts_deg[0])).collect();
        if tilts.len() < 2 {
            return Ok(Self { study, plan: None });
        }
        // Spring and autumn share a middle tilt, so a row of n holes serves up to 2 n − 2 seasons.
        let seasons = (2 * tilts.len() - 2).min(12);
        let plan = study.plan_from(&tilts, seasons).map_err(Fault::from)?;
        Ok(Self { study, plan: Some(plan) })
    }
}

/// Writes all files beside the folder, swaps it in and says so: readers see the old packet or the new one, and where
/// nothing can be said the old one comes back. What somebody put into the old packet's folder moves into the new one.
fn write_packet(
    folder: &Path,
    files: &[PacketFile],
    design: &str,
    say: impl FnOnce() -> Result<(), Failure>,
) -> Result<(), Failure> {
    let old_files = earlier_files(folder, design)?;
    let failed = |path: &Path| {
        let path = path.to_path_buf();
        move |error: io::Error| Failure::CannotWrite(path, error)
    };
    let out = folder.parent().unwrap_or(Path::new("."));
    let had_out = out.as_os_str().is_empty() || out.exists();
    fs::create_dir_all(out).map_err(failed(out))?;
    let (fresh, old) = (output::beside(folder, "new"), output::beside(folder, "old"));
    fs::create_dir(&fresh).map_err(failed(&fresh))?;
    let replaces = folder.exists();
    let put_back = || {
        if replaces {
            // Best effort: the run has failed already and that is what gets reported.
            let _ = fs::rename(&old, folder);
        }
    };
    let written = write_all(&fresh, files).and_then(|()| {
        if replaces {
            keep_others(folder, folder, &old_files, &fresh).map_err(failed(folder))?;
            fs::rename(folder, &old).map_err(failed(folder))?;
        }
        fs::rename(&fresh, folder).map_err(failed(folder)).inspect_err(|_| put_back())?;
        say().inspect_err(|_| {
            let _ = fs::rename(folder, &fresh);
            put_back();
        })?;
        if replaces { fs::remove_dir_all(&old).map_err(failed(&old)) } else { Ok(()) }
    });
    if written.is_err() {
        // Best effort: no half of the new packet stays behind.
        let _ = fs::remove_dir_all(&fresh);
        if !had_out {
            let _ = fs::remove_dir(out);
        }
    }
    written
}

/// Copies what is not of the old packet, and not of the new one, into the new folder.
fn keep_others(folder: &Path, root: &Path, packet: &[String], fresh: &Path) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let name = path.strip_prefix(root).unwrap_or(&path);
        let target = fresh.join(name);
        if path.is_dir() {
            keep_others(&path, root, packet, fresh)?;
        } else if !packet.iter().any(|file| Path::new(file) == name) && !target.exists() {
            fs::create_dir_all(target.parent().unwrap_or(fresh))?;
            fs::copy(&path, &target)?;
        }
    }
    Ok(())
}

/// What an earlier run says about its packet.
#[derive(serde::Deserialize)]
struct Earlier {
    made_by: String,
    design: String,
    files: Vec<String>,
}

/// Files of the packet that stands in the folder; none for a new or empty folder. A folder of somebody else's, or of
/// another design, is left alone.
fn earlier_files(folder: &Path, design: &str) -> Result<Vec<String>, Failure> {
    if !folder.exists() {
        return Ok(vec![]);
    }
    let occupied =
        |why: String| Failure::CannotWrite(folder.to_path_buf(), io::Error::new(io::ErrorKind::AlreadyExists, why));
    if !folder.is_dir() {
        return Err(occupied("it is no folder; choose another --out or --name".to_string()));
    }
    if fs::read_dir(folder).is_ok_and(|mut entries| entries.next().is_none()) {
        return Ok(vec![PACKET_MARK.to_string()]);
    }
    let text = fs::read_to_string(folder.join(PACKET_MARK)).unwrap_or_default();
    match serde_json::from_str::<Earlier>(&text) {
        Ok(earlier) if earlier.made_by.starts_with("tiltwright ") && earlier.design == design => {
            Ok(earlier.files.into_iter().chain([PACKET_MARK.to_string()]).collect())
        }
        Ok(earlier) if earlier.made_by.starts_with("tiltwright ") => {
            Err(occupied(format!("it holds the packet of another design, `{}`; choose another --name", earlier.design)))
        }
        _ => Err(occupied(format!(
            "it holds no {PACKET_MARK} of this program, so it is left alone; choose another --out or --name"
        ))),
    }
}

fn write_all(folder: &Path, files: &[PacketFile]) -> Result<(), Failure> {
    for file in files {
        let path = folder.join(&file.path);
        let parent = path.parent().unwrap_or(folder);
        fs::create_dir_all(parent).map_err(|error| Failure::CannotWrite(parent.to_path_buf(), error))?;
        fs::write(&path, &file.bytes).map_err(|error| Failure::CannotWrite(path.clone(), error))?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn packet(words: &str) -> [PacketFile; 2] {
        let mark = r#"{"made_by": "tiltwright 0", "design": "Barn", "files": ["index.html"]}"#;
        [("index.html", words), (PACKET_MARK, mark)]
            .map(|(path, text)| PacketFile { path: path.to_string(), bytes: text.as_bytes().to_vec() })
    }

    #[test]
    fn success_is_said_when_the_packet_stands_and_a_packet_nobody_hears_of_is_taken_back() {
        let place = tempfile::tempdir().expect("a folder");
        let folder = place.path().join("barn");
        let read = || fs::read_to_string(folder.join("index.html")).ok();
        let unheard = || Err(Failure::CannotWrite("standard output".into(), io::ErrorKind::StorageFull.into()));
        assert!(write_packet(&folder, &packet("first"), "Barn", unheard).is_err());
        assert_eq!(fs::read_dir(place.path()).expect("a folder").count(), 0);
        for words in ["first", "second"] {
            let say = || {
                assert_eq!(read().as_deref(), Some(words));
                Ok(())
            };
            assert!(write_packet(&folder, &packet(words), "Barn", say).is_ok());
        }
        assert!(write_packet(&folder, &packet("third"), "Barn", unheard).is_err());
        assert_eq!(read().as_deref(), Some("second"));
        assert_eq!(fs::read_dir(place.path()).expect("a folder").count(), 1);
    }
}
