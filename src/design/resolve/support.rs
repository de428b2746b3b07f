//! What holds the frame: bolts, stays, and posts or runners.

use super::super::{
    Fault, Ground, Placement,
    judge::Judge,
    model::{Base, Posts, Runners, StaySpec, Support},
    words::SupportWord,
};
use crate::{
    catalogue::{self, BoltGrade},
    quantities::{Angle, Slope, deg, inches, mm},
};

impl Judge<'_> {
    pub(super) fn support(&mut self) -> Option<Support> {
        let told = self.told();
        let bolt = self.bolt("support.bolt");
        let pin = self.bolt("support.pin");
        let bolt_grade = self.bolt_grade();
        let low_edge_clearance = self.length("support.low_edge_clearance");
        let stay = self.stay();
        let base = match self.choice("support.kind")? {
            SupportWord::Posts => self.posts().map(Base::Posts),
            SupportWord::Runners => self.runners().map(Base::Runners),
            SupportWord::Pole => {
                self.fault(
                    Fault::new("support-not-held", "support.kind", "a frame on one pole cannot be laid out yet")
                        .hint("`posts` and `runners` can"),
                );
                None
            }
        };
        let support = Support { bolt, pin, bolt_grade, low_edge_clearance, stay: stay?, base: base? };
        // A bolt that no table has is not the same as none.
        let is_read = self.told() == told
            || ["bolt", "pin", "bolt_grade"].iter().all(|name| self.is_fit(&format!("support.{name}")));
        is_read.then_some(support)
    }

    fn bolt_grade(&mut self) -> Option<&'static BoltGrade> {
        const FIELD: &str = "support.bolt_grade";
        let name: String = self.get(FIELD)?;
        let found = catalogue::bolt_grade(&name);
        if found.is_none() {
            let held: Vec<&str> = catalogue::BOLT_GRADES.iter().map(|g| g.name).collect();
            let given: String = name.chars().take(40).collect();
            self.fault(
                Fault::new("unknown-bolt-grade", FIELD, format!("no bolt grade is called {given}"))
                    .hint(format!("the grades are {}", held.join(", "))),
            );
        }
        found
    }

    fn stay(&mut self) -> Option<StaySpec> {
        Some(StaySpec {
            pin_along: self.length("support.stay.pin_along"),
            pin_behind: self.length("support.stay.pin_behind"),
            cleat: self.section("support.stay.cleat"),
            length: self.length("support.stay.length"),
            section: self.section("support.stay.section")?,
        })
    }

    fn posts(&mut self) -> Option<Posts> {
        if !self.has_block("posts", "runners") {
            return None;
        }
        if self.is_written("support.stay.length") {
            let sentence = "a stay with its own hole row gets its length from the holes";
            self.fault(Fault::new("field-without-meaning", "support.stay.length", sentence).hint("remove the line"));
        }
        let placement = self.choice("support.posts.placement");
        let section = self.section("support.posts.section");
        let axle_height = self.length("support.posts.axle_height");
        let embedment = self.length("support.posts.embedment");
        let pin_below_axle = self.length("support.posts.pin_below_axle");
        let pin_offset = self.quantity_or_default("support.posts.pin_offset");
        let hole_diameter = self.length("support.posts.hole_diameter");
        let tie = self.post_tie(embedment);
        let slots = self.list::<u32>("support.posts.slots_after_columns");
        let (placement, section) = (placement?, section?);
        if placement == Placement::Outside && self.is_written("support.posts.slots_after_columns") {
            let field = "support.posts.slots_after_columns";
            self.fault(
                Fault::new("field-without-meaning", field, "posts outside the frame need no slots")
                    .hint("remove the line, or use `placement: inside`"),
            );
        }
        Some(Posts {
            placement,
            section,
            axle_height: axle_height?,
            pin_below_axle,
            pin_offset,
            embedment: embedment?,
            hole_diameter: hole_diameter.unwrap_or(inches(12.0).max(mm(self.least_hole_mm(section)))),
            tie,
            slots_after_columns: slots.map(|slots| slots.into_iter().map(|n| n as usize).collect()),
        })
    }

    fn runners(&mut self) -> Option<Runners> {
        if !self.has_block("runners", "posts") {
            return None;
        }
        let on = self.choice_or_default("support.runners.on");
        if on != Ground::Roof
            && ["roof_pitch", "roof_facing"].iter().any(|name| self.is_written(&format!("support.runners.{name}")))
        {
            let sentence = "`roof_pitch` and `roof_facing` need `on: roof`";
            self.fault(
                Fault::new("field-without-meaning", "support.runners", sentence)
                    .hint("add `on: roof`, or remove the lines"),
            );
        }
        let (roof_pitch, roof_facing) = self.lie_of(on);
        Some(Runners {
            length: self.length("support.runners.length"),
            hinge_above_holes: self.length("support.runners.hinge_above_holes"),
            hinge_from_low_edge: self.length("support.runners.hinge_from_low_edge"),
            on,
            roof_pitch,
            roof_facing,
            shims: self.get_or_default("support.runners.shims"),
            tie_downs: self.ties(on),
            building: self.building(on),
            section: self.section("support.runners.section")?,
        })
    }

    /// Is the block of the kind of support there? That of the other kind is refused.
    fn has_block(&mut self, own: &str, other: &str) -> bool {
        let (own_field, other_field) = (format!("support.{own}"), format!("support.{other}"));
        if self.is_written(&other_field) {
            let sentence = format!("`{other_field}` does not belong to this kind of support");
            self.fault(
                Fault::new("field-without-meaning", other_field, sentence)
                    .hint("remove the block, or change `support.kind`"),
            );
        }
        let has = self.is_written(&own_field);
        if !has {
            self.fault(
                Fault::new("missing-field", "support", format!("`{own_field}` is missing"))
                    .hint(format!("`kind: {own}` needs the block `{own}:`")),
            );
        }
        has
    }

    /// Slope of what runners lie on, and the bearing it faces.
    fn lie_of(&mut self, on: Ground) -> (Angle, Option<Angle>) {
        let field = |name: &str| format!("support.runners.{name}");
        let on_roof = on == Ground::Roof;
        if on_roof && ["ground_slope", "ground_facing"].iter().any(|name| self.is_written(&field(name))) {
            let sentence = "`ground_slope` and `ground_facing` do not belong to `on: roof`";
            self.fault(
                Fault::new("field-without-meaning", "support.runners", sentence)
                    .hint("use `roof_pitch` and `roof_facing`"),
            );
        }
        let names = if on_roof { ["roof_pitch", "roof_facing"] } else { ["ground_slope", "ground_facing"] };
        let [slope_field, facing_field] = names.map(field);
        if self.is_written(&facing_field) && !self.is_written(&slope_field) {
            let sentence = format!("`{}` is given without `{}`", names[1], names[0]);
            self.fault(
                Fault::new("field-without-meaning", &facing_field, sentence)
                    .hint(format!("add `{}: …`, or remove the line", names[0])),
            );
        }
        let slope = self.quantity::<Slope>(&slope_field).map_or(deg(0.0), |slope| slope.0);
        (slope, self.quantity(&facing_field))
    }
}
