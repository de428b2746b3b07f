//! Every hole of every part, as a table.

use super::drafter::Drafter;
use crate::{
    frame::Hole,
    sheets::{
        document::Section,
        sheet::Sheet,
        table::{Table, words},
        tables::{drill, holes},
    },
};

impl Drafter<'_> {
    /// Every hole of one frame; nothing when no part is drilled.
    pub(super) fn drilling(&self) -> Vec<Sheet> {
        let holes = holes(&self.frame.pieces, self.units);
        if holes.rows.is_empty() {
            return vec![];
        }
        let words = "All holes go square through the thickness. Measure each from the marked cut end, not from hole to hole. Mark the \
                     marked end and the gauge face of every part before measuring, as the first table says: the gauge face is the face \
                     that distances across the part are measured from. A pair is one left and one right part: clamp \
                     them together, marked ends and gauge faces flush, and drill both at once; angles and channels go back to back.";
        let section = Section::new("").paragraph(words).table(self.faces_table()).table(holes);
        self.document_sheets("drilling", "Drilling schedule", section)
    }

    /// Where every drilled part is measured from.
    fn faces_table(&self) -> Table {
        let drilled = self.frame.pieces.iter().filter(|piece| !piece.holes.is_empty());
        Table::new(["Mark", "Part", "Gauge face", "Marked end"].map(words))
            .with(drilled.map(|piece| [&piece.mark, piece.role.word(), self.gauge_face(piece), self.marked_end(piece)]))
    }

    /// Size of the drill.
    pub(super) fn drill(&self, hole: &Hole) -> String {
        drill(hole, self.units)
    }
}
