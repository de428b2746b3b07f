//! Comes in: a design. Goes out: every piece with its exact place, every hole, every clearance.
//! This room never weighs loads and never draws.

mod adjustment;
mod bolted;
mod clearance;
mod columns;
mod distance;
mod foot;
mod fouling;
mod hole_row;
mod joint;
mod laid_out;
mod linkage;
mod model;
mod notes;
mod overlap;
mod panel;
mod piece;
mod placing;
mod posts;
mod rectangle;
mod refusal;
mod remedy;
mod runners;
mod screwed;
mod search;
mod seated;
mod square;
mod stack;
mod standing;
mod tilts;
mod turning;

pub use crate::quantities::vector;
pub use clearance::{Clearance, SWEEP_STEP_DEG};
pub use distance::{end_mm, reversing_edge_mm, row_factor, row_least_mm, side_edge_mm};
pub use foot::{Foot, HeldBy, Hold, Stands, StandsOn};
pub use hole_row::{LEAST_LEVER_SHARE, LEAST_TILT_DEG, MOST_TILT_DEG, Setting};
pub use joint::{Disc, Fastener, FastenerKind, Joint, JointUse, Part, Plate};
pub use laid_out::LaidOut;
pub use linkage::{Linkage, OutOfReach, Point, at_tilt};
pub use model::{Chosen, Frame};
pub use panel::PanelPlace;
pub use piece::{Body, Hole, HoleUse, Piece, Role, Stick};
pub use rectangle::{Bay, BraceShape};
pub use refusal::Refusal;
pub use remedy::{Change, Remedy, remedies};
pub use square::{
    BenchLimits, Corner, Figure, Finding, Limits, Measured, OddPart, READING_MM, Side, Squareness, judge,
};
pub use stack::{Laid, Layer, Stack, washer_mm};
pub use standing::InSoil;
pub use tilts::Seasons;
pub(crate) use tilts::{distinct, season_plan, swing};

use crate::{
    design::{Base, Design},
    quantities::{Angle, Tape, to_deg},
};

/// Lays out one frame of a design for the tilts wanted.
///
/// # Errors
/// Every reason that stops it, each with its tilt and shortfall.
pub fn lay_out(design: &Design, tilts: &[Angle], tape: Tape) -> Result<Frame, Vec<Refusal>> {
    // Degrees become radians and degrees again inside the quantity; the author's 12 must not come back as 12.000000000000002.
    let tilts_deg: Vec<f64> = tilts.iter().map(|t| (to_deg(*t) * 1e9).round() / 1e9).collect();
    let mut frame = match &design.support.base {
        Base::Posts(posts) => posts::lay_out(design, posts, &tilts_deg, tape),
        Base::Runners(runners) => runners::lay_out(design, runners, &tilts_deg, tape),
    }?;
    frame.notes = notes::of(design, &frame);
    Ok(frame)
}

impl Frame {
    /// The same frame for a builder with another tape: every hole stands on a mark of it, and the tilts reached follow.
    ///
    /// Nothing is laid out anew, and what is exact stays where it was. Strength, boards and bolts are those of the frame as it was laid out.
    #[must_use]
    pub fn marked_on(&self, design: &Design, tape: Tape) -> Self {
        let mut frame = self.clone();
        if tape == self.tape {
            return frame;
        }
        frame.tape = tape;
        // The hole that the row is measured from is drilled at a mark as well, and the tilts follow from what lies between.
        let datum_mm = tape.nearest_mm(self.row_datum_mm);
        frame.row = hole_row::marked_on(&self.row, &self.linkage, datum_mm, tape, self.pin);
        let row = &frame.row;
        let pieces = frame.pieces.iter_mut().map(|piece| &mut piece.holes);
        for hole in pieces.chain(frame.sticks.iter_mut().map(|stick| &mut stick.holes)).flatten() {
            let of_row = row.iter().find(|marked| hole.use_ == HoleUse::Row && marked.tilts_deg == hole.tilts_deg);
            hole.from_end_mm = of_row.map_or_else(|| tape.nearest_mm(hole.from_end_mm), |marked| marked.from_end_mm);
            hole.gauge_mm = tape.nearest_mm(hole.gauge_mm);
        }
        frame.notes = notes::of(design, &frame);
        frame
    }
}
