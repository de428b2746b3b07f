//! `cutlist`: every piece, the sticks to buy and how to saw them, and the hardware.

use super::{
    args::{Common, DesignArg, Format},
    exit::{Failure, Outcome},
    output::{self, Pending},
};
use crate::{
    quantities::Units,
    sheets::{Document, Section, csv, cut_plan_document, tables, tables::piece_records, text},
    shop::{self, CutList, HardwareLine, Total, cut_plan::Money},
};
use serde::Serialize;
use std::path::PathBuf;

/// Which design, and where the table goes.
#[derive(Debug, clap::Args)]
pub(super) struct CutlistArgs {
    #[command(flatten)]
    design: DesignArg,
    /// Also write the pieces to this file as comma-separated values
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
}

#[derive(Debug, Serialize)]
struct Answer {
    pieces: Vec<PieceRow>,
    /// Three letters; `null` where the design names none.
    currency: Option<String>,
    /// Price of the sticks, and no plan costs less; `null` where no stick has a price.
    cost: Option<f64>,
    bound: Option<f64>,
    /// Length of the sticks bought without a price, and no plan buys less.
    length_mm: Option<f64>,
    length_bound_mm: Option<f64>,
    proven: bool,
    unpriced_sections: Vec<String>,
    /// Price of the hardware and of everything, as far as prices are given; `null` where none of sticks or hardware has one.
    hardware_cost: Option<f64>,
    total_cost: Option<f64>,
    not_in_the_total: Vec<String>,
    prices_not_used: Vec<String>,
    buy: Vec<BuyRow>,
    bars: Vec<BarRow>,
    hardware: Vec<HardwareRow>,
}

#[derive(Debug, Serialize)]
struct PieceRow {
    mark: String,
    piece: &'static str,
    section: String,
    material: String,
    quantity: usize,
    length_mm: f64,
    taped_mm: f64,
    ends_deg: [f64; 2],
    pair: bool,
    holes: Vec<HoleRow>,
}

#[derive(Debug, Serialize)]
struct HoleRow {
    r#for: &'static str,
    from_end_mm: f64,
    exact_mm: f64,
    gauge_mm: f64,
    diameter_mm: f64,
    tilts_deg: Vec<f64>,
}

#[derive(Debug, Serialize)]
struct BuyRow {
    section: String,
    length_mm: f64,
    quantity: usize,
}

#[derive(Debug, Serialize)]
struct BarRow {
    section: String,
    stock_length_mm: f64,
    cuts: Vec<(String, f64)>,
    offcut_mm: f64,
}

#[derive(Debug, Serialize)]
struct HardwareRow {
    item: String,
    size: String,
    quantity: usize,
    /// Of one: a piece, a stick or coil to cut from, a block of ballast.
    price_each: Option<f64>,
    /// Of the whole line.
    price: Option<f64>,
    note: String,
    /// What of `assembly.json` it is, where it stands at places of the frame.
    fastener: Option<FastenerRow>,
}

#[derive(Debug, Serialize)]
struct FastenerRow {
    kind: &'static str,
    size: &'static str,
    length_mm: f64,
}

pub(super) fn run(args: &CutlistArgs, common: &Common) -> Result<Outcome, Failure> {
    if let Some(path) = &args.csv {
        output::refuse_input("--csv", path, args.design.design.as_deref())?;
    }
    let laid = args.design.lay_out(common)?;
    let frame = laid.marked();
    let list = shop::make(&laid.design, &frame, laid.units);
    let list = list.map_err(|error| laid.places.point_out(error.fault()))?;
    let hardware = shop::hardware(&laid.design, &frame, laid.units);
    let unused = shop::unused_prices(&laid.design.shop.hardware, &hardware, laid.units);
    let mut pending = Pending::default();
    if let Some(path) = &args.csv {
        pending.add(path, csv(&piece_records(&list, laid.units)).as_bytes())?;
    }
    match common.format {
        Format::Json => output::print_json(&answer(&list, &hardware, unused))?,
        Format::Text => output::print(&text(&document(&laid.design.name, &list, &hardware, unused, laid.units)))?,
    }
    pending.put_in_place()?;
    Ok(Outcome::Done)
}

fn answer(list: &CutList, hardware: &[HardwareLine], prices_not_used: Vec<String>) -> Answer {
    let mm_of = |marks: i64| crate::quantities::to_mm(list.job.unit.length(marks));
    let money = |cents: i64| cents as f64 / 100.0;
    let sticks = list.job.stock.iter().any(|stock| stock.price.is_some());
    let unpriced = !list.unpriced.is_empty();
    let total = Total::of(list, hardware);
    Answer {
        pieces: list
            .lines
            .iter()
            .map(|line| PieceRow {
                mark: line.piece.mark.clone(),
                piece: line.piece.role.word(),
                section: line.piece.section.name.clone(),
                material: line.material.clone(),
                quantity: line.quantity,
                length_mm: line.piece.length_mm,
                taped_mm: line.taped_mm,
                ends_deg: line.piece.ends_deg,
                pair: line.piece.pair,
                holes: line
                    .piece
                    .holes
                    .iter()
                    .map(|h| HoleRow {
                        r#for: h.use_.word(),
                        from_end_mm: h.from_end_mm,
                        exact_mm: h.exact_from_end_mm,
                        gauge_mm: h.gauge_mm,
                        diameter_mm: h.diameter_mm,
                        tilts_deg: h.tilts_deg.clone(),
                    })
                    .collect(),
            })
            .collect(),
        currency: match list.shown.money {
            Money::Named(currency) => Some(currency.to_string()),
            _ => None,
        },
        cost: sticks.then(|| money(list.plan.cost)),
        bound: sticks.then(|| money(list.plan.bound)),
        length_mm: unpriced.then(|| mm_of(list.plan.length)),
        length_bound_mm: unpriced.then(|| mm_of(list.plan.length_bound)),
        proven: list.plan.proven,
        unpriced_sections: list.unpriced.iter().map(|without| without.section.clone()).collect(),
        hardware_cost: total.as_ref().and_then(|total| total.hardware).map(money),
        total_cost: total.as_ref().and_then(Total::cents).map(money),
        not_in_the_total: total.map(|total| total.without()).unwrap_or_default(),
        prices_not_used,
        buy: list
            .to_buy()
            .into_iter()
            .map(|(section, length, quantity)| BuyRow { section, length_mm: mm_of(length), quantity })
            .collect(),
        bars: list
            .plan
            .bars
            .iter()
            .map(|bar| BarRow {
                section: bar.group.clone(),
                stock_length_mm: mm_of(bar.stock_length),
                cuts: bar.cuts.iter().map(|cut| (cut.mark.clone(), mm_of(cut.length))).collect(),
                offcut_mm: mm_of(bar.offcut),
            })
            .collect(),
        hardware: hardware
            .iter()
            .map(|h| HardwareRow {
                item: h.item.clone(),
                size: h.size.clone(),
                quantity: h.quantity,
                price_each: h.bought.map(|bought| money(bought.each)),
                price: h.cents().map(money),
                note: h.note.clone(),
                fastener: h.fastener.map(|(kind, size, length_mm)| FastenerRow { kind: kind.word(), size, length_mm }),
            })
            .collect(),
    }
}

fn document<'a>(
    name: &str,
    list: &CutList,
    hardware: &[HardwareLine],
    prices_not_used: Vec<String>,
    units: Units,
) -> Document<'a> {
    let drilled = tables::holes(list.lines.iter().map(|line| &line.piece), units);
    let said = list.verdict().into_iter().skip(1);
    let bought = Section::new("Hardware").table(tables::hardware(hardware, list.shown.money));
    let total = Total::of(list, hardware).map(|total| total.sentence(list.shown.money));
    let bought = total.into_iter().chain(prices_not_used).fold(bought, Section::paragraph);
    let pieces = Section::new("").table(tables::pieces(list, units));
    let buy = Section::new("Buy").table(tables::boards(&list.job, &list.plan, list.shown));
    let mut document = Document::new(&format!("{name}: cut list"), None)
        .with(pieces.paragraph(
            "Lengths run between long points. Pieces with holes come in pairs: drill left and right together.",
        ))
        .with(Section::new("Holes").table(drilled))
        .with(said.fold(buy, Section::paragraph));
    document.append(cut_plan_document("", None, (&list.job, &list.plan), list.shown));
    document
        .with(bought)
        .with(Section::new("").paragraph("Results are aids to a builder: local codes and a licensed engineer govern."))
}
