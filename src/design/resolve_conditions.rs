//! Names and ranges of what strength needs: wood, soil, screws.

use super::{Joints, Screws, Serviceability, SoilSpec, conditions, fault::Fault, read::nearest, resolve::Judge};
use crate::{
    catalogue::{self, Grade, Species, soils},
    quantities::{mm, number, to_kn_per_m3},
};

/// Range of n_h accepted (kN/m³): very soft to very dense soil.
const SUBGRADE_KN_PER_M3: [f64; 2] = [100.0, 60_000.0];
/// Range of divisors accepted: from a movement that anybody sees to one that nobody can measure.
const DIVISORS: [f64; 2] = [20.0, 1000.0];

impl Judge {
    pub(super) fn species(&mut self, name: Option<&str>) -> Option<Species> {
        let found = conditions::species(name?);
        if found.is_none() {
            self.unknown("unknown-species", "frame.species", name?, "species", &conditions::names().0);
        }
        found
    }

    pub(super) fn grade(&mut self, name: Option<&str>) -> Option<Grade> {
        let found = conditions::grade(name?);
        if found.is_none() {
            self.unknown("unknown-grade", "frame.grade", name?, "grade", &conditions::names().1);
        }
        found
    }

    fn unknown(&mut self, code: &'static str, field: &str, given: &str, what: &str, names: &[String]) {
        let mut fault = Fault::new(code, field, format!("`{given}` is no {what} that is known here"));
        if let Some(near) = nearest(given, names) {
            fault = fault.hint(format!("did you mean `{near}`?"));
        }
        self.fault(fault.hint(format!("known here: {}", names.join(", "))));
    }

    pub(super) fn soil(&mut self, soil: Option<&conditions::WrittenSoil>) -> Option<SoilSpec> {
        let written = soil?;
        let frost_depth = self.optional("soil.frost_depth", written.frost_depth, mm(0.0), mm(3000.0));
        let classes = || soils::SOILS.iter().map(|s| format!("{} {}", s.class, s.name)).collect::<Vec<_>>().join("; ");
        let Some(class) = written.class else {
            self.fault(
                Fault::new("missing-field", "soil", "`soil.class` is missing").hint(format!("one of: {}", classes())),
            );
            return None;
        };
        let Some(soil) = soils::soil_class(class) else {
            self.fault(
                Fault::new("out-of-range", "soil.class", format!("`soil.class` is {class}"))
                    .hint(format!("one of: {}", classes()))
                    .hint("peat, mud, organic soil and loose fill have no presumptive value: ask a soils engineer"),
            );
            return None;
        };
        let subgrade = written.subgrade.map(|s| s.0);
        if let Some(n_h) = subgrade.map(to_kn_per_m3)
            && !(SUBGRADE_KN_PER_M3[0]..=SUBGRADE_KN_PER_M3[1]).contains(&n_h)
        {
            self.fault(
                Fault::new("out-of-range", "soil.subgrade", format!("`soil.subgrade` is {} kN/m3", number(n_h, 1)))
                    .hint("the constant of horizontal subgrade reaction n_h of soils lies between 100 and 60000 kN/m3 (0.4 and 221 lb/in3)")
                    .hint("take it from a soils report, or leave the line out"),
            );
        }
        Some(SoilSpec { soil, movement_harmless: written.movement_harmless, frost_depth, subgrade })
    }

    /// Divisors of spans and heights.
    pub(super) fn serviceability(&mut self, written: &conditions::WrittenServiceability) -> Serviceability {
        let mut divisor = |field: &str, value: Option<f64>| {
            if let Some(n) = value
                && !(DIVISORS[0]..=DIVISORS[1]).contains(&n)
            {
                let field = format!("serviceability.{field}");
                self.fault(
                    Fault::new("out-of-range", &field, format!("`{field}` is {n}"))
                        .hint("it is the number under span or height: `sway: 60` lets the axle move by 1/60 of its height")
                        .hint(format!("it lies between {} and {}", DIVISORS[0], DIVISORS[1])),
                );
            }
            value
        };
        Serviceability {
            deflection: divisor("deflection", written.deflection),
            deflection_total: divisor("deflection_total", written.deflection_total),
            twist: divisor("twist", written.twist),
            sway: divisor("sway", written.sway),
        }
    }

    pub(super) fn joints(&mut self, joints: &conditions::WrittenJoints) -> Joints {
        if let Some(count) = joints.clips_per_panel
            && !(2..=16).contains(&count)
        {
            self.fault(
                Fault::new("out-of-range", "joints.clips_per_panel", format!("`joints.clips_per_panel` is {count}"))
                    .hint("a panel has 2 to 16 clips"),
            );
        }
        Joints {
            corner: self.screws("joints.corner", joints.corner.as_ref()),
            brace: self.screws("joints.brace", joints.brace.as_ref()),
            clip: self.screws("joints.clip", joints.clip.as_ref()),
            clips_per_panel: joints.clips_per_panel,
            purlin: self.screws("joints.purlin", joints.purlin.as_ref()),
        }
    }

    fn screws(&mut self, field: &str, screws: Option<&conditions::WrittenScrews>) -> Option<Screws> {
        let written = screws?;
        let length = self.range(&format!("{field}.length"), written.length.0, mm(12.0), mm(400.0));
        if !(1..=20).contains(&written.count) {
            self.fault(
                Fault::new("out-of-range", format!("{field}.count"), format!("`{field}.count` is {}", written.count))
                    .hint("a joint has 1 to 20 screws"),
            );
        }
        let screw = catalogue::screw(&written.screw)
            .map_err(|error| self.fault(Fault::new("unknown-screw", format!("{field}.screw"), error.to_string())))
            .ok()?;
        Some(Screws { screw, length, count: written.count })
    }
}
