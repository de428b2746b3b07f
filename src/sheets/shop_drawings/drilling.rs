//! Every hole of every part, as a table.

use super::drafter::Drafter;
use crate::{
    frame::Hole,
    quantities::{length_exact, mm, number},
    sheets::{sheet::Sheet, table::Table},
};

impl Drafter<'_> {
    /// Every hole of one frame; nothing when no part is drilled.
    pub(super) fn drilling(&self) -> Vec<Sheet> {
        let mut table =
            Table::new(&["Mark", "Hole", ">From marked end", ">Exact", ">From gauge face", ">Drill", ">Tilt"]);
        let mut any = false;
        for piece in &self.frame.pieces {
            for hole in &piece.holes {
                any = true;
                table.row([
                    if piece.pair { format!("{} pair", piece.mark) } else { piece.mark.clone() },
                    hole.use_.word().to_string(),
                    self.show(hole.from_end_mm),
                    length_exact(mm(hole.exact_from_end_mm), self.units),
                    self.show(hole.gauge_mm),
                    self.drill(hole),
                    tilts_word(&hole.tilts_deg),
                ]);
            }
        }
        if !any {
            return vec![];
        }
        let words = "All holes go square through the thickness. Measure each from the marked cut end, not from hole to hole. Mark the \
                     marked end and the gauge face of every part before measuring, as the first table says: the gauge face is the face \
                     that distances across the part are measured from. A pair is one left and one right part: clamp \
                     them together, marked ends and gauge faces flush, and drill both at once; angles and channels go back to back.";
        self.two_tables("drilling", "Drilling schedule", words, Some(&self.faces_table()), &table)
    }

    /// Where every drilled part is measured from.
    fn faces_table(&self) -> Table {
        let mut table = Table::new(&["Mark", "Part", "Gauge face", "Marked end"]);
        for piece in self.frame.pieces.iter().filter(|piece| !piece.holes.is_empty()) {
            table.row([&piece.mark, piece.role.word(), self.gauge_face(piece), self.marked_end(piece)]);
        }
        table
    }

    /// Size of the drill: as a fraction on inch sheets, to a tenth on metric ones.
    pub(super) fn drill(&self, hole: &Hole) -> String {
        match self.units {
            crate::quantities::Units::Us => sixty_fourths(hole.diameter_mm),
            crate::quantities::Units::Metric => format!("{} mm", number(hole.diameter_mm, 1)),
        }
    }
}

/// A drill size in 64ths of an inch, reduced.
fn sixty_fourths(diameter_mm: f64) -> String {
    let parts = (diameter_mm / crate::quantities::MM_PER_INCH * 64.0).round() as u32;
    let (whole, rest) = (parts / 64, parts % 64);
    let step = 1 << rest.trailing_zeros().min(6);
    match (whole, rest) {
        (whole, 0) => format!("{whole} in"),
        (0, rest) => format!("{}/{} in", rest / step, 64 / step),
        (whole, rest) => format!("{whole}-{}/{} in", rest / step, 64 / step),
    }
}

/// Tilts that share a hole: `15°, 35°`.
pub(super) fn tilts_word(tilts_deg: &[f64]) -> String {
    tilts_deg.iter().map(|tilt| format!("{}°", number(*tilt, 1))).collect::<Vec<_>>().join(", ")
}

#[cfg(test)]
mod tests {
    use super::sixty_fourths;

    #[test]
    fn drill_sizes_reduce() {
        for (inch, text) in
            [(0.5625, "9/16 in"), (0.390_625, "25/64 in"), (1.0, "1 in"), (1.125, "1-1/8 in"), (0.5, "1/2 in")]
        {
            assert_eq!(sixty_fourths(inch * 25.4), text);
        }
    }
}
