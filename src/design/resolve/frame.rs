//! Members of the frame, how panels sit on them, and the braces.

use super::super::{
    Fault,
    judge::Judge,
    model::{Brace, FrameSpec, Panel, Seating},
    words::SeatingWord,
};
use crate::quantities::{Length, inches};

/// How far a panel stands out of its bay where nobody says: so that water and leaves leave. Common practice, no source.
fn usual_proud(thickness: Option<Length>) -> Length {
    let proud = inches(0.5);
    // Of a thin panel half its thickness.
    thickness.map_or(proud, |thickness| proud.min(thickness / 2.0))
}

impl Judge<'_> {
    pub(super) fn frame(&mut self, panel: Option<&Panel>) -> Option<FrameSpec> {
        let (rail, stile) = (self.section("frame.rail"), self.section("frame.stile"));
        let mullion = self.section("frame.mullion");
        let mullion_follows = !self.is_written("frame.mullion");
        let mullion_plies = self.count_or_default("frame.mullion_plies") as usize;
        let seating = self.seating(panel.map(|panel| panel.thickness));
        let brace = self.brace();
        let frame = FrameSpec {
            wood_species: self.species("frame.species"),
            wood_grade: self.grade("frame.grade"),
            wet_service: self.get("frame.wet_service"),
            incised: self.get("frame.incised"),
            treated: self.get("frame.treated"),
            outside_width: self.length("frame.outside_width"),
            outside_length: self.length("frame.outside_length"),
            species: self.get("frame.species"),
            grade: self.get("frame.grade"),
            rail: rail?,
            stile: stile?,
            mullion: if mullion_follows { stile? } else { mullion? },
            mullion_follows,
            mullion_plies,
            seating: seating?,
            brace,
        };
        // A brace that is not read is told already.
        (frame.brace.is_some() || !self.is_written("frame.corner_brace")).then_some(frame)
    }

    fn seating(&mut self, panel_thickness: Option<Length>) -> Option<Seating> {
        let kind = self.choice::<SeatingWord>("frame.seating.kind")?;
        for (name, own) in [
            ("side_clearance", SeatingWord::Inset),
            ("end_clearance", SeatingWord::Inset),
            ("proud", SeatingWord::Inset),
            ("lap", SeatingWord::Lapped),
            ("purlin", SeatingWord::OnPurlins),
        ] {
            let field = format!("frame.seating.{name}");
            if own != kind && self.is_written(&field) {
                let sentence = format!("`{name}` has no meaning for this kind of seating");
                self.fault(
                    Fault::new("field-without-meaning", field, sentence)
                        .hint("remove the line, or change `frame.seating.kind`"),
                );
            }
        }
        match kind {
            SeatingWord::Inset => Some(Seating::Inset {
                side_clearance: self.quantity_or_default("frame.seating.side_clearance"),
                end_clearance: self.quantity_or_default("frame.seating.end_clearance"),
                proud: self.length("frame.seating.proud").unwrap_or_else(|| usual_proud(panel_thickness)),
            }),
            SeatingWord::Lapped => Some(Seating::Lapped { lap: self.quantity_or_default("frame.seating.lap") }),
            SeatingWord::OnPurlins => {
                if !self.is_written("frame.seating.purlin") {
                    self.fault(
                        Fault::new("missing-field", "frame.seating", "seating on purlins needs `frame.seating.purlin`")
                            .hint("name the section, for instance `purlin: 2x4`"),
                    );
                }
                Some(Seating::OnPurlins { purlin: self.section("frame.seating.purlin")? })
            }
        }
    }

    fn brace(&mut self) -> Option<Brace> {
        let field = "frame.corner_brace";
        if !self.is_written(field) {
            return None;
        }
        let leg = self.length("frame.corner_brace.leg");
        let angle = self.quantity_or_default("frame.corner_brace.angle");
        let follows_rail = !self.is_written("frame.corner_brace.section");
        let own = if follows_rail { "frame.rail" } else { "frame.corner_brace.section" };
        // A rail that is no section is told once.
        let section = self.is_fit(own).then(|| self.section(own)).flatten();
        Some(Brace { section: section?, follows_rail, leg: leg?, angle })
    }
}
