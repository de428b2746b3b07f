//! Cut list and hardware as comma-separated tables.

use super::{
    cut_list::CutList,
    cut_plan::{Money, amount},
    hardware::HardwareLine,
    pricing::{Total, caveat},
};
use crate::quantities::{Units, length, length_both, length_cells, length_columns, mm, number, to_inches};

/// Marked position of every hole of a piece: use, from the marked end, gauge, diameter.
fn holes(line: &super::CutLine, units: Units) -> String {
    let l = |value: f64| length(mm(value), units);
    let texts: Vec<String> = line
        .piece
        .holes
        .iter()
        .map(|hole| {
            let tilts: Vec<String> = hole.tilts_deg.iter().map(|t| format!(" {}°", number(*t, 2))).collect();
            format!(
                "{}{} at {} gauge {} dia {}",
                hole.use_.word(),
                tilts.concat(),
                l(hole.from_end_mm),
                l(hole.gauge_mm),
                length_both(mm(hole.diameter_mm), units)
            )
        })
        .collect();
    texts.join("; ")
}

/// The cut list as CSV.
#[must_use]
pub fn cut_list_csv(list: &CutList, units: Units) -> String {
    let plain = |names: &[&str]| names.iter().map(ToString::to_string).collect::<Vec<_>>();
    let exact = match units {
        Units::Us => "length_exact_in",
        Units::Metric => "length_exact_mm",
    };
    let mut rows = vec![
        [
            plain(&["mark", "piece", "section", "material", "quantity"]),
            length_columns("length", units),
            plain(&[exact, "first_end_deg", "second_end_deg", "pair", "holes"]),
        ]
        .concat(),
    ];
    rows.extend(list.lines.iter().map(|line| {
        let piece = &line.piece;
        let exact = match units {
            Units::Us => number(to_inches(mm(piece.length_mm)), 4),
            Units::Metric => number(piece.length_mm, 2),
        };
        [
            vec![
                piece.mark.clone(),
                piece.role.word().to_string(),
                piece.section.name.clone(),
                line.material.clone(),
                line.quantity.to_string(),
            ],
            length_cells(mm(line.taped_mm), units),
            vec![
                exact,
                number(piece.ends_deg[0], 2),
                number(piece.ends_deg[1], 2),
                if piece.pair { "left and right" } else { "" }.to_string(),
                holes(line, units),
            ],
        ]
        .concat()
    }));
    table(&rows)
}

/// The hardware list as CSV; where prices are given, with that of one, that of the line and their sum.
///
/// What is cut from sticks or bought by the block has the price of one stick or block, and the note says how many.
#[must_use]
pub fn hardware_csv(lines: &[HardwareLine], total: Option<&Total>, money: Money) -> String {
    // A column of numbers: their currency stands in its head.
    let figure = |cents: i64| amount(cents, Money::Cent);
    let heads = ["price_each", "price"].map(|name| match money {
        Money::Named(currency) => format!("{name}_{currency}"),
        _ => name.to_string(),
    });
    let sum = total.and_then(|total| Some((total.hardware?, &total.hardware_without)));
    let row = |cells: [&str; 3], prices: [String; 2], note: &str| {
        let prices = sum.map(|_| prices).into_iter().flatten();
        let cells = cells.into_iter().map(str::to_string);
        cells.chain(prices).chain([note.to_string()]).collect::<Vec<_>>()
    };
    let mut rows = vec![row(["item", "size", "quantity"], heads, "note")];
    rows.extend(lines.iter().map(|line| {
        let prices = line.bought.map_or_else(Default::default, |bought| [bought.each, bought.cents()].map(figure));
        row([&line.item, &line.size, &line.quantity.to_string()], prices, &line.note)
    }));
    if let Some((sum, without)) = sum {
        rows.push(row(["hardware together", "", ""], [String::new(), figure(sum)], &caveat(without)));
    }
    table(&rows)
}

/// Rows as comma-separated text: the only place that writes any.
pub(super) fn table(rows: &[Vec<String>]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.write_record(row.iter().map(|cell| harmless(cell))).expect("writing to memory cannot fail");
    }
    String::from_utf8(writer.into_inner().expect("writing to memory cannot fail")).expect("the cells are UTF-8")
}

/// A cell that a spreadsheet would take for a formula gets a quote before it.
fn harmless(cell: &str) -> String {
    if cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err() {
        format!("'{cell}")
    } else {
        cell.to_string()
    }
}
