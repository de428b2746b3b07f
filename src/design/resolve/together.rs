//! Parts that do not go together, each fine by itself.

use super::super::{
    Fault, Joints, Placement, Screws,
    judge::Judge,
    model::{Base, FrameSpec, Panel, Seating, Support},
};
use crate::{
    catalogue::{Family, Section, Shape},
    quantities::{MM_PER_INCH, Tape, Units, length, mm, to_mm},
};

/// Concrete round the corners of a post (mm): enough to be tamped round it and not to break off. Common practice, no source.
const COVER_MM: f64 = 2.0 * MM_PER_INCH;

/// Thickness of a clip (mm): 1/8 in. Common practice, no source.
pub(crate) const CLIP_MM: f64 = MM_PER_INCH / 8.0;

/// The post from corner to corner, and its cover (mm).
fn needed_hole_mm(post: &Section) -> f64 {
    let across_mm = match post.shape {
        Shape::Pipe => post.depth_mm,
        _ => post.width_mm.hypot(post.depth_mm),
    };
    across_mm + 2.0 * COVER_MM
}

impl Judge<'_> {
    /// The narrowest hole for a post, by the step in which augers are sold (mm): an inch, or ten millimetres.
    pub(super) fn least_hole_mm(&self, post: &Section) -> f64 {
        let step_mm = match self.units() {
            Units::Us => MM_PER_INCH,
            Units::Metric => 10.0,
        };
        (needed_hole_mm(post) / step_mm).ceil() * step_mm
    }

    /// Concrete all round the post.
    pub(super) fn refuse_hole(&mut self, support: &Support) {
        let Base::Posts(posts) = &support.base else { return };
        let needed_mm = needed_hole_mm(posts.section);
        if to_mm(posts.hole_diameter) >= needed_mm - 0.5 {
            return;
        }
        let l = |value: f64| length(mm(value), self.units());
        let field = "support.posts.hole_diameter";
        let sentence = format!(
            "a post {} from corner to corner stands in a hole of {}; {} of concrete round it need {}",
            l(needed_mm - 2.0 * COVER_MM),
            l(to_mm(posts.hole_diameter)),
            l(COVER_MM),
            l(needed_mm)
        );
        let hint = format!("this works: `{field}: {}`", l(self.least_hole_mm(posts.section)));
        self.fault(Fault::new("hole-too-small", field, sentence).hint(hint));
    }

    /// Between panels inside bays stands a member: nothing reads a gap.
    pub(super) fn refuse_gap(&mut self, frame: &FrameSpec) {
        if self.is_written("array.gap") && matches!(frame.seating, Seating::Inset { .. }) {
            let sentence = "`array.gap` has no meaning where panels sit inside bays: a member stands between them";
            self.fault(
                Fault::new("field-without-meaning", "array.gap", sentence)
                    .hint("remove the line; room beside the panels is `frame.seating.side_clearance`"),
            );
        }
    }

    /// No screw may come out on the far side of what it goes into. Metal members are not screwed, and what is driven
    /// into the end of a piece has its whole length.
    pub(super) fn refuse_screws(&mut self, frame: &FrameSpec, joints: &Joints) {
        let members = [frame.rail, frame.stile, frame.mullion];
        if members.iter().any(|member| member.family != Family::Wood) {
            return;
        }
        let thinnest = |of: fn(&Section) -> f64| members.iter().map(|m| of(m)).fold(f64::INFINITY, f64::min);
        let (width_mm, depth_mm) = (thinnest(|m| m.width_mm), thinnest(|m| m.depth_mm));
        let clip_mm = if matches!(frame.seating, Seating::Inset { .. }) { width_mm } else { depth_mm };
        self.refuse_long("joints.clip", joints.clip, CLIP_MM + clip_mm, "a clip and the member behind it");
        if let Some(brace) = frame.brace.filter(|brace| brace.section.family == Family::Wood) {
            let (through_mm, what) = (brace.section.width_mm + width_mm, "a corner brace and the member behind it");
            self.refuse_long("joints.brace", joints.brace, through_mm, what);
        }
        if let Seating::OnPurlins { purlin } = frame.seating {
            let through_mm = purlin.width_mm + depth_mm;
            self.refuse_long("joints.purlin", joints.purlin, through_mm, "a purlin and the member under it");
        }
    }

    fn refuse_long(&mut self, joint: &str, screws: Option<Screws>, through_mm: f64, what: &str) {
        let Some(screws) = screws else { return };
        if to_mm(screws.length) <= through_mm + 0.5 {
            return;
        }
        let units = self.units();
        let l = |value| length(value, units);
        let field = format!("{joint}.length");
        let sentence = format!(
            "a screw of {} goes through {what}, {} together, and comes out behind",
            l(screws.length),
            l(mm(through_mm))
        );
        let most_mm = Tape::of(units).at_most_mm(through_mm);
        self.fault(
            Fault::new("screw-too-long", &field, sentence).hint(format!("this works: `{field}: {}`", l(mm(most_mm)))),
        );
    }

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
        if let Seating::Inset { proud, .. } = frame.seating
            && proud >= panel.thickness
            // A panel without thickness is told already, and floats at any height.
            && to_mm(panel.thickness) > 0.0
        {
            let units = self.units();
            let l = |value| length(value, units);
            let most = mm(Tape::of(units).at_most_mm(to_mm(panel.thickness) / 2.0));
            let field = "frame.seating.proud";
            let sentence = format!(
                "a panel {} thick that stands {} proud of its bay floats above it",
                l(panel.thickness),
                l(proud)
            );
            self.fault(Fault::new("panel-floats", field, sentence).hint(format!("this works: `{field}: {}`", l(most))));
        }
        if matches!(frame.seating, Seating::OnPurlins { .. }) && !self.is_written("panel.mounting_holes") {
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
