//! `drill`: the hole that holds each tilt, from a cut end, exact and as taped.

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output,
};
use crate::{
    frame::{Frame, HoleUse, Linkage},
    quantities::{Units, length, length_both, mm},
    sheets::{Document, Section, tables::hole_row, text},
};
use serde::Serialize;

/// Which design.
#[derive(Debug, clap::Args)]
pub(super) struct DrillArgs {
    #[command(flatten)]
    design: DesignArg,
}

/// What is printed; field names are part of the contract with scripts. Lengths in mm, angles in degrees.
#[derive(Debug, Serialize)]
struct Answer {
    support: &'static str,
    frames: usize,
    rows: Vec<Row>,
    bolts: Vec<BoltRow>,
}

#[derive(Debug, Serialize)]
struct Row {
    part: String,
    quantity: usize,
    holes: Vec<HoleRow>,
    linkage: LinkageRow,
}

#[derive(Debug, Serialize)]
struct HoleRow {
    tilt_deg: f64,
    exact_mm: f64,
    offset_mm: f64,
    from_end_mm: f64,
    gauge_mm: f64,
    reached_deg: f64,
    diameter_mm: f64,
    deg_per_mark: f64,
    lever_share: f64,
    clear_to_next_mm: Option<f64>,
    geometry_factor: f64,
}

#[derive(Debug, Serialize)]
struct LinkageRow {
    frame_pin: [f64; 2],
    fixed_pin: Option<[f64; 2]>,
    row_origin: Option<[f64; 2]>,
    row_direction: Option<[f64; 2]>,
    stay_mm: Option<f64>,
}

#[derive(Debug, Serialize)]
struct BoltRow {
    what: &'static str,
    bolt: &'static str,
    quantity: usize,
    layers: Vec<(String, f64)>,
}

pub(super) fn run(args: &DrillArgs, common: &Common) -> Result<Outcome, Failure> {
    let laid = args.design.lay_out(common)?;
    let frame = laid.marked();
    match common.format {
        Format::Json => output::print_json(&answer(&frame))?,
        Format::Text => output::print(&text(&document(&laid.design.name, &frame, laid.units)))?,
    }
    Ok(Outcome::Done)
}

fn answer(frame: &Frame) -> Answer {
    let piece = &frame.pieces[frame.row_piece];
    let gauge = frame.holes_of(frame.row_piece, HoleUse::Row).next().map_or(0.0, |h| h.gauge_mm);
    let holes = frame.row.iter().flat_map(|hole| {
        hole.tilts_deg.iter().map(move |tilt_deg| HoleRow {
            tilt_deg: *tilt_deg,
            // A tilt that shares the hole of another has an exact place of its own.
            exact_mm: frame.linkage.offset_mm(tilt_deg.to_radians()).unwrap_or(hole.exact_mm),
            offset_mm: hole.offset_mm,
            from_end_mm: hole.from_end_mm,
            gauge_mm: gauge,
            reached_deg: hole.reached_deg,
            diameter_mm: frame.pin.hole_mm,
            deg_per_mark: hole.deg_per_mm * frame.tape.mark_mm(),
            lever_share: hole.lever_share,
            clear_to_next_mm: hole.clear_mm,
            geometry_factor: hole.factor,
        })
    });
    let mut holes: Vec<HoleRow> = holes.collect();
    holes.sort_by(|a, b| a.tilt_deg.total_cmp(&b.tilt_deg));
    let linkage = match frame.linkage {
        Linkage::InStay { frame_pin, fixed_pin } => {
            LinkageRow { frame_pin, fixed_pin: Some(fixed_pin), row_origin: None, row_direction: None, stay_mm: None }
        }
        Linkage::InRunner { frame_pin, row_origin, row_direction, stay_mm } => LinkageRow {
            frame_pin,
            fixed_pin: None,
            row_origin: Some(row_origin),
            row_direction: Some(row_direction),
            stay_mm: Some(stay_mm),
        },
    };
    Answer {
        support: frame.stands_on_word(),
        frames: frame.count,
        rows: vec![Row { part: piece.mark.clone(), quantity: piece.quantity * frame.count, holes, linkage }],
        bolts: frame
            .stacks
            .iter()
            .map(|stack| BoltRow {
                what: stack.use_.word(),
                bolt: stack.bolt.name,
                quantity: stack.quantity * frame.count,
                layers: stack.layers.iter().map(|l| (l.what.word().to_string(), l.thickness_mm)).collect(),
            })
            .collect(),
    }
}

fn document<'a>(name: &str, frame: &Frame, units: Units) -> Document<'a> {
    let piece = &frame.pieces[frame.row_piece];
    let gauge = frame.holes_of(frame.row_piece, HoleUse::Row).next().map_or(0.0, |h| h.gauge_mm);
    let mut section = Section::new("")
        .paragraph(format!(
            "Drill {} {} {} ({}) alike, as pairs: {} holes for a {} bolt, on a line {} from the gauge face.\n\
             Measure every hole from the same marked end; never from hole to hole.",
            piece.quantity * frame.count,
            piece.role.word(),
            piece.mark,
            piece.section.name,
            length_both(mm(frame.pin.hole_mm), units),
            frame.pin.name,
            length(mm(gauge), units)
        ))
        .table(hole_row(frame, units));
    let mark = match units {
        Units::Us => "1/16 in",
        Units::Metric => "1 mm",
    };
    section = section.paragraph(format!(
        "\"Turn per mark\" is the turn of the tilt for {mark} of error in the hole; \"Lever share\" is the stay's lever arm\n\
         as a share of the pin radius ({} is the least).",
        crate::frame::LEAST_LEVER_SHARE
    ));
    if (frame.tape.nearest_mm(frame.row_datum_mm) - frame.row_datum_mm).abs() > 0.005 {
        section = section.paragraph(
            "Exact places are those of the design's own tape. On this one the hole the row is measured from moves to a mark\n\
             too, and the marks go with it: where one is not the nearest to its exact place, the tilt is nearer that way.",
        );
    }
    let close: Vec<_> = frame.row.iter().filter(|h| h.factor < 1.0).collect();
    if !close.is_empty() {
        let factor = close.iter().map(|h| h.factor).fold(1.0, f64::min);
        section = section.paragraph(format!(
            "Next hole nearer than 7 bolt diameters: the pin keeps {factor:.2} of its strength (NDS-2018 Table 12.5.1A)."
        ));
    }
    section = section.paragraph(
        "Caution: prop the frame before a pin is pulled; two people, no wind. Never stand under an unpropped frame.\n\
         Results are aids to a builder: local codes and a licensed engineer govern.",
    );
    Document::new(&format!("{name}: holes that hold the tilts"), None).with(section)
}
