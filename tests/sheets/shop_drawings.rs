//! Shop drawings of every ready design: nothing overlaps, and what is measured off them is the model.

use crate::measure::{circles, groups, number, parse, words};
use std::path::{Path, PathBuf};
use tiltwright::{
    design::{self, Design, Tilts},
    frame::{self, Frame},
    quantities::{Tape, Units, deg, mm},
    sheets::{Drafter, Paper, Ray, Sheet},
};

/// What a template may be off by [mm].
const TEMPLATE_MM: f64 = 0.01;

/// The ready designs, and frames of other kinds that only these tests draw.
fn design_files() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    for folder in ["designs", "tests/sheets/data"] {
        let entries = std::fs::read_dir(root.join(folder)).expect("the folder of designs is there");
        files.extend(entries.map(|entry| entry.expect("a readable folder").path()));
    }
    files.retain(|file| file.extension().is_some_and(|end| end == "yaml"));
    files.sort();
    files
}

fn laid_out(file: &Path) -> (Design, Frame) {
    let read = design::read(Some(file)).unwrap_or_else(|faults| panic!("{}: {faults:?}", file.display()));
    let design = read.design;
    let tilts = match &design.tilts {
        Tilts::Given(tilts) => tilts.clone(),
        // Any plausible set will do: these tests are about drawing, not about the sun.
        Tilts::Seasons(_) => [15.0, 35.0, 58.0].map(deg).to_vec(),
    };
    let tape = Tape::of(design.units);
    let frame =
        frame::lay_out(&design, &tilts, tape).unwrap_or_else(|refusals| panic!("{}: {refusals:?}", file.display()));
    (design, frame)
}

/// All sheets of all ready designs, on both papers and in both units.
fn all_sheets() -> Vec<(String, Vec<Sheet>)> {
    let mut all = Vec::new();
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        for units in [Units::Us, Units::Metric] {
            for paper in [Paper::Letter, Paper::A4] {
                let drafter = Drafter { design: &design, frame: &frame, paper, units };
                let rays = |tilt: f64| vec![Ray { name: "noon".to_string(), altitude_deg: 90.0 - tilt }];
                let stem = file.file_stem().unwrap_or_default().to_string_lossy();
                all.push((format!("{stem}-{}-{units:?}", paper.name()), drafter.shop_drawings(&rays)));
            }
        }
    }
    all
}

#[test]
fn no_text_overlaps_or_leaves_the_border_on_any_sheet_of_any_design() {
    let mut bad = Vec::new();
    for (name, sheets) in all_sheets() {
        for sheet in sheets {
            if let Ok(folder) = std::env::var("SAVE_SHEETS") {
                let path = Path::new(&folder).join(format!("{name}-{}", sheet.file_name()));
                std::fs::write(path, sheet.to_svg()).expect("the folder in SAVE_SHEETS can be written");
            }
            let clashes = sheet.clashes();
            if !clashes.is_empty() {
                bad.push(format!("{name} {}: {clashes:?}", sheet.file_name()));
            }
        }
    }
    assert!(bad.is_empty(), "{bad:#?}");
}

#[test]
fn all_that_is_drawn_lies_inside_the_border() {
    for (name, sheets) in all_sheets() {
        for sheet in sheets {
            let size = tiltwright::sheets::bounds(&sheet.marks).expect("every sheet has something on it");
            assert!(sheet.page.border().inset(-0.01).holds(size), "{name} {}: {size:?}", sheet.file_name());
        }
    }
}

#[test]
fn hole_centres_of_the_template_are_those_of_the_frame() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let piece = &frame.pieces[frame.row_piece];
        for paper in [Paper::Letter, Paper::A4] {
            let drafter = Drafter { design: &design, frame: &frame, paper, units: design.units };
            let sheets = drafter.shop_drawings(&|_| vec![]);
            let templates = sheets
                .iter()
                .filter(|sheet| sheet.slug.starts_with(&format!("template-{}", piece.mark.to_lowercase())));
            let mut seen = vec![0; piece.holes.len()];
            for sheet in templates {
                let svg = sheet.to_svg();
                let document = parse(&svg);
                let tile = groups(&document, "tile")[0];
                let origin = (number(tile, "data-origin-x"), number(tile, "data-origin-y"));
                for hole in groups(&document, "row-hole").into_iter().chain(groups(&document, "hole")) {
                    let Some(((x, y), radius)) = circles(hole).first().copied() else { continue };
                    // The long drawing has the marked end at 0 and the gauge face along y = 0, up the page.
                    let (from_end, gauge) = (x + origin.0, -(y + origin.1));
                    let near = |h: &&frame::Hole| {
                        (h.from_end_mm - from_end).hypot(h.gauge_mm - gauge) < TEMPLATE_MM
                            && (h.diameter_mm / 2.0 - radius).abs() < TEMPLATE_MM
                    };
                    let n = piece
                        .holes
                        .iter()
                        .position(|h| near(&h))
                        .unwrap_or_else(|| panic!("no hole at {from_end}, {gauge}"));
                    seen[n] += 1;
                }
            }
            let row = piece.holes.iter().zip(&seen).filter(|(hole, _)| hole.use_ == frame::HoleUse::Row);
            assert!(
                row.clone().count() > 0 && row.clone().all(|(_, count)| *count > 0),
                "{} on {}: {seen:?}",
                file.display(),
                paper.name()
            );
        }
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let file = &design_files()[0];
    let draw = || {
        let (design, frame) = laid_out(file);
        let drafter = Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units };
        drafter.shop_drawings(&|_| vec![]).iter().map(Sheet::to_svg).collect::<Vec<_>>()
    };
    assert_eq!(draw(), draw());
}

#[test]
fn every_part_is_named_on_some_drawing_and_every_hole_has_its_view() {
    for file in design_files() {
        let (design, frame) = laid_out(&file);
        let drafter = Drafter { design: &design, frame: &frame, paper: Paper::A4, units: design.units };
        let sheets = drafter.shop_drawings(&|_| vec![]);
        let svgs: Vec<(String, String)> = sheets.iter().map(|sheet| (sheet.slug.clone(), sheet.to_svg())).collect();
        let words_of = |start: &str| -> Vec<String> {
            let chosen = svgs.iter().filter(|(slug, _)| slug.starts_with(start));
            chosen
                .flat_map(|(_, svg)| words(&parse(svg)))
                .flat_map(|line| line.split(", ").map(String::from).collect::<Vec<_>>())
                .collect()
        };
        let mut drawn = words_of("elevation");
        drawn.extend(words_of("side-view"));
        for piece in &frame.pieces {
            assert!(drawn.contains(&piece.mark), "{}: {} is on no drawing", file.display(), piece.mark);
        }
        assert!(sheets.iter().any(|sheet| sheet.slug.starts_with("seating")), "{}: no seating", file.display());
        let views: Vec<_> = svgs.iter().filter(|(slug, _)| slug.starts_with("side-view")).collect();
        assert_eq!(views.len(), frame.row.len(), "{}", file.display());
        for hole in &frame.row {
            let stay = tiltwright::quantities::length(mm(frame.linkage.stay_mm(hole.offset_mm)), design.units);
            let offset = tiltwright::quantities::length(mm(hole.offset_mm), design.units);
            let shown = |text: &String| views.iter().filter(|(_, svg)| words(&parse(svg)).contains(text)).count();
            assert!(
                shown(&stay) > 0 && shown(&offset) > 0,
                "{}: stay {stay} or hole {offset} is not dimensioned",
                file.display()
            );
        }
    }
}
