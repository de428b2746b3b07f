//! What strength needs: wood, soil, screws, limits of movement.

use super::super::{Fault, Joints, Screws, Serviceability, SoilSpec, conditions, judge::Judge};
use crate::catalogue::{Grade, Species, soils};

impl Judge<'_> {
    pub(in crate::design) fn species(&mut self, path: &str) -> Option<Species> {
        let name: String = self.get(path)?;
        let found = conditions::species(&name);
        if found.is_none() {
            self.unknown("unknown-species", path, &name, "species", &conditions::names().0);
        }
        found
    }

    pub(super) fn grade(&mut self, path: &str) -> Option<Grade> {
        let name: String = self.get(path)?;
        let found = conditions::grade(&name);
        if found.is_none() {
            self.unknown("unknown-grade", path, &name, "grade", &conditions::names().1);
        }
        found
    }

    pub(super) fn soil(&mut self) -> Option<SoilSpec> {
        if !self.is_written("soil") {
            return None;
        }
        let movement_harmless = self.get_or_default("soil.movement_harmless");
        let frost_depth = self.length("soil.frost_depth");
        let subgrade = self.quantity("soil.subgrade");
        self.advise("soil.subgrade", "take it from a soils report, or leave the line out");
        let soil = self.soil_class();
        Some(SoilSpec { soil: soil?, movement_harmless, frost_depth, subgrade })
    }

    fn soil_class(&mut self) -> Option<&'static soils::Soil> {
        const FIELD: &str = "soil.class";
        let classes = || soils::SOILS.iter().map(|s| format!("{} {}", s.class, s.name)).collect::<Vec<_>>().join("; ");
        if !self.is_written(FIELD) {
            let fault = Fault::new("missing-field", "soil", "`soil.class` is missing");
            self.fault(fault.hint(format!("one of: {}", classes())));
        }
        let class = self.count(FIELD)?;
        let found = u8::try_from(class).ok().and_then(soils::soil_class);
        if found.is_none() {
            self.advise(FIELD, &format!("one of: {}", classes()));
            self.advise(
                FIELD,
                "peat, mud, organic soil and loose fill have no presumptive value: ask a soils engineer",
            );
        }
        found
    }

    /// Divisors of spans and heights.
    pub(super) fn serviceability(&mut self) -> Serviceability {
        let mut divisor = |name: &str| {
            let field = format!("serviceability.{name}");
            let value = self.number(&field);
            self.advise(
                &field,
                "it is the number under span or height: `sway: 60` lets the axle move by 1/60 of its height",
            );
            value
        };
        Serviceability {
            deflection: divisor("deflection"),
            deflection_total: divisor("deflection_total"),
            twist: divisor("twist"),
            sway: divisor("sway"),
        }
    }

    pub(super) fn joints(&mut self) -> Joints {
        Joints {
            corner: self.screws("joints.corner"),
            brace: self.screws("joints.brace"),
            clip: self.screws("joints.clip"),
            clips_per_panel: self.count("joints.clips_per_panel"),
            purlin: self.screws("joints.purlin"),
        }
    }

    fn screws(&mut self, joint: &str) -> Option<Screws> {
        let screw = self.screw(&format!("{joint}.screw"));
        let length = self.length(&format!("{joint}.length"));
        let count = self.count(&format!("{joint}.count"));
        Some(Screws { screw: screw?, length: length?, count: count? })
    }
}
