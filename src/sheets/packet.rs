//! The packet: a design in, every file a builder prints or takes along out, as names and bytes. Writing them is not done here.

mod index;
mod strength;

use super::{
    Drafter, Page, Paper, Ray, Sheet, Warning,
    assembly_json::assembly_json,
    csv::csv,
    cut_plan_sheets,
    cutting::cut_plan_document,
    document::Document,
    html, number_sheets, plain, siting_sheet,
    sun_charts::tilt_charts_sheet,
    table::{Table, words},
    tables::{cut_records, hardware_records, piece_records},
    tilt_card::{tilt_calendar, tilt_card},
};
use crate::{
    design::{Fault, Read},
    frame::LaidOut,
    quantities::{Units, to_deg},
    shop::{self, CutListError, Total},
    sun::noon_altitudes,
};
use index::Index;
use serde::Serialize;
use strength::{CALCULATION, StrengthSaid};

/// How a packet is shown.
#[derive(Debug, Clone, Copy, Default)]
pub struct PacketOptions {
    /// Units of everything that is read, and marks of the tape; the design's own when not given.
    pub units: Option<Units>,
    /// Paper of the drawings, and of the templates that come first; the one that goes with the units when not given.
    pub paper: Option<Paper>,
}

/// One file of the packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PacketFile {
    /// Path inside the packet, with forward slashes.
    pub path: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// Everything a builder takes to the saw.
#[derive(Debug, Clone)]
pub struct Packet {
    /// Name of the design.
    pub design: String,
    /// All files, in a fixed order.
    pub files: Vec<PacketFile>,
    /// What the layout has to say beside the drawings.
    pub notes: Vec<String>,
    /// What may be said of the strength.
    pub verdict: String,
    /// Does every check have a value, and none above 1?
    pub holds: bool,
    /// Does a check fail, rather than lack a value?
    pub fails: bool,
}

impl Packet {
    /// Path of the calculation sheet; nothing where strength was not computed.
    #[must_use]
    pub fn calculation(&self) -> Option<&str> {
        self.files.iter().map(|file| file.path.as_str()).find(|path| *path == CALCULATION)
    }
}

/// Folder of the drawings.
const SHEETS: &str = "sheets";

/// Name of the file that marks a folder as a packet.
pub const PACKET_MARK: &str = "packet.json";

/// Makes the packet of a design: its tilts are decided, its frame laid out, sawn, bought for, checked and drawn.
///
/// A design without loads, or with too few, has a packet all the same: it says on every page that there is no verdict.
///
/// # Errors
/// Every refusal of the layout, each with its place and the changes that work; a piece that no stick holds.
pub fn packet(read: Read, options: &PacketOptions) -> Result<Packet, Vec<Fault>> {
    let laid = LaidOut::of(read, options.units)?;
    let marked = laid.marked();
    let (design, units) = (&laid.design, laid.units);
    let cut_list = shop::make(design, &marked, units);
    let cut_list = cut_list.map_err(|error: CutListError| vec![laid.places.point_out(error.fault())])?;
    let hardware = shop::hardware(design, &marked, units);
    let total = Total::of(&cut_list, &hardware);
    let sun = laid.seasons().map_err(|fault| vec![fault])?;
    let strength = StrengthSaid::of(&laid);
    let warning = strength.warning.as_ref();
    let (first, other) = papers(options.paper.unwrap_or(Paper::of(units)));
    let drafter = |paper| Drafter { design, frame: &marked, paper, units, depth_asked_mm: strength.depth_asked_mm };

    let (page, shown) = (Page::portrait(first), cut_list.shown);
    let mut sheets = drafter(first).shop_drawings(&|_| noon_rays(&laid));
    sheets.push(tilt_charts_sheet(&design.name, &sun.study, &sun.plan, page, units));
    sheets.extend(cut_plan_sheets(&design.name, &cut_list.job, &cut_list.plan, shown, page));
    sheets.push(siting_sheet(&design.name, page, units));
    number_sheets(&mut sheets);
    // Templates are at full size and must fit the paper at hand, so they come on the other paper too.
    let mut on_other = drafter(other).templates();
    for sheet in sheets.iter_mut().chain(&mut on_other) {
        sheet.warning = warning.cloned();
    }
    let index = Index {
        design,
        frame: &marked,
        cut_list: &cut_list,
        hardware: &hardware,
        season_plan: &sun.plan,
        sheets: &sheets,
        other_paper: (if other == Paper::A4 { "templates-a4" } else { "templates-letter" }, &on_other),
        warning,
        strength: &strength.says,
        units,
    };

    let file = |path: &str, text: String| PacketFile { path: path.to_string(), bytes: text.into_bytes() };
    let page = |path: &str, document: &Document<'_>| file(path, html::page(document));
    let table = |path: &str, table: Table| file(path, csv(&warned(table, warning)));
    let plan = (&cut_list.job, &cut_list.plan);
    let mut files = vec![
        page("index.html", &index.page()),
        file("assembly.json", assembly_json(&marked)),
        table("cut-list.csv", piece_records(&cut_list, units)),
        table("hardware.csv", hardware_records(&hardware, total.as_ref(), shown.money)),
        table("cut-plan.csv", cut_records(plan.0, plan.1, shown)),
        file("cut-plan.txt", plain::text(&cut_plan_document("", warning, plan, shown))),
        file("tilt-card.txt", tilt_card(&design.name, sun.study.place(), design.site.facing, &sun.plan, warning)),
        file("tilts.ics", tilt_calendar(&design.name, sun.study.place(), &sun.plan)),
    ];
    files.extend(strength.page.map(|page| file(CALCULATION, page)));
    files.extend(sheets.iter().map(|sheet| file(&path_of(SHEETS, sheet), sheet.to_svg())));
    let (folder, templates) = index.other_paper;
    files.push(page(&format!("{folder}.html"), &index.templates()));
    files.extend(templates.iter().map(|sheet| file(&path_of(folder, sheet), sheet.to_svg())));
    files.push(file(PACKET_MARK, mark(&design.name, &files)));
    Ok(Packet {
        files,
        notes: marked.notes.clone(),
        verdict: strength.verdict,
        holds: strength.holds,
        fails: strength.fails,
        design: laid.design.name,
    })
}

/// A table with the warning in a first column of its own: it stays a table, and each row says it.
fn warned(table: Table, warning: Option<&Warning>) -> Table {
    match warning {
        Some(warning) => table.led_by(words("warning"), &warning.sentence()),
        None => table,
    }
}

/// Where a drawing stands in the packet.
fn path_of(folder: &str, sheet: &Sheet) -> String {
    format!("{folder}/{}", sheet.file_name())
}

/// The paper at hand, and the other one.
fn papers(first: Paper) -> (Paper, Paper) {
    match first {
        Paper::Letter => (Paper::Letter, Paper::A4),
        Paper::A4 => (Paper::A4, Paper::Letter),
    }
}

/// Rays of the noon sun at its lowest, at the equinoxes and at its highest; those below the horizon are left out.
fn noon_rays(laid: &LaidOut) -> Vec<Ray> {
    let Ok(noon) = noon_altitudes(laid.design.site.latitude) else { return vec![] };
    [("noon, lowest", noon.lowest), ("noon, equinox", noon.equinox), ("noon, highest", noon.highest)]
        .into_iter()
        .map(|(name, altitude)| Ray { name: name.to_string(), altitude_deg: to_deg(altitude) })
        .filter(|ray| ray.altitude_deg > 0.0)
        .collect()
}

/// What tells a folder of ours, and which files in it are.
fn mark(design: &str, files: &[PacketFile]) -> String {
    #[derive(Serialize)]
    struct Mark<'a> {
        made_by: &'static str,
        design: &'a str,
        files: Vec<&'a str>,
    }
    let mark = Mark {
        made_by: concat!("tiltwright ", env!("CARGO_PKG_VERSION")),
        design,
        files: files.iter().map(|file| file.path.as_str()).collect(),
    };
    serde_json::to_string_pretty(&mark).expect("names are text") + "\n"
}
