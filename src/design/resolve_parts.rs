//! Parts that do not go together, each fine by itself.

use super::{
    Placement,
    fault::Fault,
    model::{Base, FrameSpec, Panel, Seating, Support},
    resolve::Judge,
};
use crate::catalogue::Family;

impl Judge {
    /// How the panels may lie on the frame.
    pub(super) fn refuse_seating(&mut self, frame: &FrameSpec, panel: &Panel) {
        if matches!(frame.seating, Seating::Lapped { .. }) && panel.edge_support_forbidden {
            self.fault(
                Fault::new(
                    "lapped-forbidden",
                    "frame.seating.kind",
                    "the panel data forbid holding the panel by its edges alone",
                )
                .hint("`kind: on-purlins` holds it at its mounting holes; `kind: inset` on clips"),
            );
        }
        if matches!(frame.seating, Seating::OnPurlins { .. }) && panel.mounting_holes.is_none() {
            self.fault(
                Fault::new("missing-field", "panel", "panels on purlins need `panel.mounting_holes`")
                    .hint("take the hole pattern from the panel's data sheet"),
            );
        }
    }

    /// Nothing may stand out where the stay swings, so a cleat is held by lag screws from its own side: wood takes them,
    /// the wall of a metal member does not. Stays of runners know no cleat.
    pub(super) fn refuse_cleat(&mut self, frame: &FrameSpec, support: &Support) {
        if support.stay.cleat.is_none() {
            return;
        }
        let field = "support.stay.cleat";
        let Base::Posts(posts) = &support.base else {
            let sentence = "the stay of a runner is pinned to the stile itself";
            self.fault(Fault::new("field-without-meaning", field, sentence).hint("remove `cleat`"));
            return;
        };
        let (carrier, word) = match posts.placement {
            Placement::Outside => (frame.stile, "stile"),
            Placement::Inside => (frame.mullion, "mullion"),
        };
        if carrier.family != Family::Wood {
            let sentence = format!("a cleat is held by lag screws, which do not hold in a {word} of {}", carrier.name);
            self.fault(
                Fault::new("cleat-on-metal", field, sentence)
                    .hint(format!("remove `cleat`: the frame pin then goes through the {word} itself"))
                    .hint(format!("or name lumber for `frame.{word}`")),
            );
        }
    }
}
