//! Cut list and hardware as comma-separated tables.

use super::{cut_list::CutList, hardware::HardwareLine};
use crate::quantities::{Units, length, mm, number};

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
                l(hole.diameter_mm)
            )
        })
        .collect();
    texts.join("; ")
}

/// The cut list as CSV.
#[must_use]
pub fn cut_list_csv(list: &CutList, units: Units) -> String {
    let mut rows = vec![
        [
            "mark",
            "piece",
            "section",
            "material",
            "quantity",
            "length",
            "length_mm_exact",
            "first_end_deg",
            "second_end_deg",
            "pair",
            "holes",
        ]
        .map(str::to_string)
        .to_vec(),
    ];
    rows.extend(list.lines.iter().map(|line| {
        let piece = &line.piece;
        vec![
            piece.mark.clone(),
            piece.role.word().to_string(),
            piece.section.name.clone(),
            line.material.clone(),
            line.quantity.to_string(),
            length(mm(line.taped_mm), units),
            format!("{:.3}", piece.length_mm),
            number(piece.ends_deg[0], 2),
            number(piece.ends_deg[1], 2),
            if piece.pair { "left and right" } else { "" }.to_string(),
            holes(line, units),
        ]
    }));
    table(&rows)
}

/// The hardware list as CSV.
#[must_use]
pub fn hardware_csv(lines: &[HardwareLine]) -> String {
    let mut rows = vec![["item", "size", "quantity", "note"].map(str::to_string).to_vec()];
    rows.extend(lines.iter().map(|l| vec![l.item.clone(), l.size.clone(), l.quantity.to_string(), l.note.clone()]));
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
