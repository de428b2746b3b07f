//! Pieces: what is sawn.

use crate::{
    frame::{Frame, Piece},
    quantities::{Units, length, length_both, length_cells, length_columns, mm, number, to_inches},
    sheets::table::{Table, figures, words},
    shop::{CutLine, CutList},
};

/// Every piece of all frames.
pub(crate) fn pieces(list: &CutList, units: Units) -> Table {
    let row = |line: &CutLine| {
        let piece = &line.piece;
        [
            piece.mark.clone(),
            piece.role.word().to_string(),
            piece.section.name.clone(),
            line.quantity.to_string(),
            length(mm(line.taped_mm), units),
            ends(piece),
            line.material.clone(),
        ]
    };
    let columns = [words("Mark"), words("Piece"), words("Section"), figures("Pieces"), figures("Length")];
    Table::new(columns.into_iter().chain([words("Ends"), words("Material")])).with(list.lines.iter().map(row))
}

/// The pieces of one frame.
pub(crate) fn parts(frame: &Frame, units: Units) -> Table {
    let row = |piece: &Piece| {
        [
            piece.mark.clone(),
            piece.role.word().to_string(),
            piece.section.name.clone(),
            length(mm(piece.length_mm), units),
            ends(piece),
            piece.quantity.to_string(),
        ]
    };
    let columns = [words("Mark"), words("Part"), words("Section"), figures("Length"), words("Ends"), figures("Number")];
    Table::new(columns).with(frame.pieces.iter().map(row))
}

/// Angles of both cuts from a square one.
fn ends(piece: &Piece) -> String {
    let one = |end_deg: f64| match end_deg {
        0.0 => "square".to_string(),
        end_deg => format!("{}°", number(end_deg, 2)),
    };
    match piece.ends_deg {
        [0.0, 0.0] => one(0.0),
        [a, b] if (a - b).abs() < 1e-9 => format!("{} both", one(a)),
        [a, b] => format!("{} / {}", one(a), one(b)),
    }
}

/// Every piece of all frames with its holes, for a spreadsheet.
pub(crate) fn piece_records(list: &CutList, units: Units) -> Table {
    let exact = match units {
        Units::Us => "length_exact_in",
        Units::Metric => "length_exact_mm",
    };
    let columns = [
        ["mark", "piece", "section", "material"].map(words).to_vec(),
        vec![figures("quantity")],
        length_columns("length", units).into_iter().map(figures).collect(),
        [exact, "first_end_deg", "second_end_deg"].map(figures).to_vec(),
        ["pair", "holes"].map(words).to_vec(),
    ];
    let row = |line: &CutLine| {
        let piece = &line.piece;
        let exact = match units {
            Units::Us => number(to_inches(mm(piece.length_mm)), 4),
            Units::Metric => number(piece.length_mm, 2),
        };
        let what = [piece.mark.clone(), piece.role.word().to_string(), piece.section.name.clone()];
        let ends = piece.ends_deg.map(|end_deg| number(end_deg, 2));
        let pair = if piece.pair { "left and right" } else { "" }.to_string();
        [
            [&what[..], &[line.material.clone(), line.quantity.to_string()]].concat(),
            length_cells(mm(line.taped_mm), units),
            [&[exact][..], &ends, &[pair, holes(piece, units)]].concat(),
        ]
        .concat()
    };
    Table::new(columns.concat()).with(list.lines.iter().map(row))
}

/// Every hole of a piece in one cell: use, from the marked end, gauge, diameter.
fn holes(piece: &Piece, units: Units) -> String {
    let l = |value_mm: f64| length(mm(value_mm), units);
    let holes = piece.holes.iter().map(|hole| {
        let tilts: Vec<String> = hole.tilts_deg.iter().map(|tilt| format!(" {}°", number(*tilt, 2))).collect();
        let (from, gauge) = (l(hole.from_end_mm), l(hole.gauge_mm));
        let across = length_both(mm(hole.diameter_mm), units);
        format!("{}{} at {from} gauge {gauge} dia {across}", hole.use_.word(), tilts.concat())
    });
    holes.collect::<Vec<_>>().join("; ")
}
