//! Holes: where each is measured from, and what it reaches.

use crate::{
    frame::{Frame, Hole, Piece, Setting},
    quantities::{Units, drill_size, length, length_exact, mm, number},
    sheets::table::{Table, figures, words},
};

/// The holes of the row, one for each tilt or for tilts that share one.
pub(crate) fn hole_row(frame: &Frame, units: Units) -> Table {
    let row = |hole: &Setting| {
        [
            tilts(&hole.tilts_deg),
            length(mm(hole.from_end_mm), units),
            length_exact(mm(frame.row_datum_mm + hole.exact_mm), units),
            format!("{:.2}°", hole.reached_deg),
            format!("{:.2}°", hole.deg_per_mm * frame.tape.mark_mm()),
            format!("{:.2}", hole.lever_share),
        ]
    };
    let measured = ["From the marked end", "Exact", "Reached", "Turn per mark", "Lever share"];
    Table::new([words("Tilt")].into_iter().chain(measured.map(figures))).with(frame.row.iter().map(row))
}

/// Every hole of some pieces.
pub(crate) fn holes<'a>(pieces: impl IntoIterator<Item = &'a Piece>, units: Units) -> Table {
    let row = |piece: &Piece, hole: &Hole| {
        [
            if piece.pair { format!("{} pair", piece.mark) } else { piece.mark.clone() },
            hole.use_.word().to_string(),
            length(mm(hole.from_end_mm), units),
            length_exact(mm(hole.exact_from_end_mm), units),
            length(mm(hole.gauge_mm), units),
            drill(hole, units),
            tilts(&hole.tilts_deg),
        ]
    };
    let measured = ["From the marked end", "Exact", "From the gauge face", "Drill", "Tilt"];
    let rows = pieces.into_iter().flat_map(|piece| piece.holes.iter().map(move |hole| row(piece, hole)));
    Table::new([words("Mark"), words("Hole")].into_iter().chain(measured.map(figures))).with(rows)
}

/// Tilts that share a hole: `15°, 35°`.
pub(crate) fn tilts(tilts_deg: &[f64]) -> String {
    tilts_deg.iter().map(|tilt| format!("{}°", number(*tilt, 2))).collect::<Vec<_>>().join(", ")
}

/// Size of the drill.
pub(crate) fn drill(hole: &Hole, units: Units) -> String {
    drill_size(hole.diameter_mm, units)
}
