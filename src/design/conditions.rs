//! What strength needs to know beyond the geometry: wood, soil, screws. Nothing here is guessed: a field that
//! a check needs and the design lacks is a fault when strength is asked for.

use super::{BallastSpec, Base, Design, LoadBasis, StakeSpec, fault::Fault};
use crate::{
    catalogue::{Family, Grade, Screw, Section, Soil, Species},
    quantities::{Length, PressurePerLength},
};

/// Species and grade on the stamp.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Wood {
    /// Species combination.
    pub species: Species,
    /// Visual grade.
    pub grade: Grade,
}

/// The ground at the posts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SoilSpec {
    /// Class of IBC Table 1806.2.
    pub soil: &'static Soil,
    /// A movement of half an inch at the ground line harms nothing: lateral bearing counts twice (IBC §1806.3.4).
    pub movement_harmless: bool,
    /// Local frost depth.
    pub frost_depth: Option<Length>,
    /// Constant of horizontal subgrade reaction n_h (force per volume): a post of any width meets `n_h` times depth per
    /// length and movement. From a soils engineer; without it a point of the building code stands in.
    pub subgrade: Option<PressurePerLength>,
}

/// How far things may move: span, shorter side or height over these numbers. No code limits an open frame; a number that
/// the design does not write is the loosest row of IBC Table 1604.3, by judgement.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Serviceability {
    /// Deflection of members under snow or wind.
    pub deflection: Option<f64>,
    /// Deflection of members under everything with creep.
    pub deflection_total: Option<f64>,
    /// One corner of a panel out of the plane of the others, over its shorter side.
    pub twist: Option<f64>,
    /// Sway of the axle over its height.
    pub sway: Option<f64>,
}

/// Screws of one joint.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Screws {
    /// Size.
    pub screw: &'static Screw,
    /// Length.
    pub length: Length,
    /// How many share the joint's force.
    pub count: u32,
}

/// Screwed joints; a joint that is not named is not checked.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Joints {
    /// Rail to stile.
    pub corner: Option<Screws>,
    /// Each end of a corner brace.
    pub brace: Option<Screws>,
    /// Each clip of a panel.
    pub clip: Option<Screws>,
    /// Clips of one panel.
    pub clips_per_panel: Option<u32>,
    /// Purlin to each member it crosses.
    pub purlin: Option<Screws>,
}

/// Everything that strength was given, complete.
#[derive(Debug, Clone, Copy)]
pub struct StrengthBasis {
    /// Wind, snow, panel.
    pub loads: LoadBasis,
    /// Species and grade, where any part is wood.
    pub wood: Option<Wood>,
    /// Above 19 % moisture for an extended time.
    pub wet_service: bool,
    /// Faces incised for treatment.
    pub incised: bool,
    /// The ground, where posts stand in it.
    pub soil: Option<SoilSpec>,
    /// Ballast on runners.
    pub ballast: Option<BallastSpec>,
    /// Stakes beside runners.
    pub stakes: Option<StakeSpec>,
    /// Screws.
    pub joints: Joints,
    /// Limits of movement.
    pub serviceability: Serviceability,
}

/// A grade as people write it: `no2`, `No. 2`, `select-structural`.
pub(super) fn grade(name: &str) -> Option<Grade> {
    let plain = |text: &str| text.to_lowercase().replace(['.', ' ', '-', '_'], "");
    GRADES.into_iter().find(|grade| plain(grade.name()) == plain(name))
}

/// A species as people write it.
pub(super) fn species(name: &str) -> Option<Species> {
    let plain = |text: &str| text.to_lowercase().replace(['.', ' ', '-', '_', '(', ')', ','], "");
    Species::ALL.into_iter().find(|species| plain(species.name()) == plain(name))
}

/// Grades in the order of the tables.
const GRADES: [Grade; 9] = [
    Grade::SelectStructural,
    Grade::No1AndBetter,
    Grade::No1,
    Grade::No2,
    Grade::No3,
    Grade::Stud,
    Grade::Construction,
    Grade::C16,
    Grade::C24,
];

/// Names of species and grades that a design file may hold.
pub(super) fn names() -> (Vec<String>, Vec<String>) {
    let kebab = |text: &str| text.to_lowercase().replace([',', '(', ')'], "").replace([' ', '/'], "-");
    (
        Species::ALL.iter().map(|s| kebab(s.name())).collect(),
        GRADES.iter().map(|g| kebab(g.name()).replace('.', "")).collect(),
    )
}

impl Design {
    /// Every section of the design with the field that names it.
    #[must_use]
    pub fn sections(&self) -> Vec<(&'static str, &'static Section)> {
        let mut all = vec![
            ("frame.rail", self.frame.rail),
            ("frame.stile", self.frame.stile),
            ("frame.mullion", self.frame.mullion),
            ("support.stay.section", self.support.stay.section),
        ];
        all.extend(self.frame.brace.map(|b| ("frame.corner_brace.section", b.section)));
        all.extend(self.support.stay.cleat.map(|c| ("support.stay.cleat", c)));
        if let super::Seating::OnPurlins { purlin } = self.frame.seating {
            all.push(("frame.seating.purlin", purlin));
        }
        match &self.support.base {
            Base::Posts(posts) => all.push(("support.posts.section", posts.section)),
            Base::Runners(runners) => all.push(("support.runners.section", runners.section)),
        }
        all
    }

    /// What strength was given, or every field that is missing; nothing where neither wind nor snow is written at all.
    ///
    /// # Errors
    /// Each missing or impossible field of the loads, the wood and the ground.
    pub fn strength_basis(&self) -> Result<Option<StrengthBasis>, Vec<Fault>> {
        let Some(written) = &self.loads else { return Ok(None) };
        let mut faults = Vec::new();
        let loads = written.resolve("loads").map_err(|mut f| faults.append(&mut f)).ok();
        let wood = self.wood_of(&mut faults);
        let mut need = |field: &str, given: bool, hint: &str| {
            if !given {
                let sentence = format!("strength needs `{field}`, and it is never guessed");
                faults.push(Fault::new("strength-basis-missing", field, sentence).hint(hint));
            }
        };
        if wood.is_some() {
            need(
                "frame.wet_service",
                self.frame.wet_service.is_some(),
                "`true` where the wood stays above 19 % moisture for long, `false` where it dries between rains",
            );
            need(
                "frame.incised",
                self.frame.incised.is_some(),
                "`true` where the faces show rows of small slits from pressure treatment",
            );
        }
        if matches!(self.support.base, Base::Posts(_)) || self.stakes.is_some() {
            need(
                "soil",
                self.soil.is_some(),
                "`soil: {class: 4}`: 1 bedrock, 2 layered rock, 3 gravel, 4 sand, 5 clay or silt; nothing for peat, mud or fill",
            );
        }
        match loads {
            Some(loads) if faults.is_empty() => Ok(Some(StrengthBasis {
                loads,
                wood,
                wet_service: self.frame.wet_service.unwrap_or(false),
                incised: self.frame.incised.unwrap_or(false),
                soil: self.soil,
                ballast: self.ballast,
                stakes: self.stakes,
                joints: self.joints,
                serviceability: self.serviceability,
            })),
            _ => Err(faults),
        }
    }

    fn wood_of(&self, faults: &mut Vec<Fault>) -> Option<Wood> {
        let (_, section) = self.sections().into_iter().find(|(_, s)| s.family == Family::Wood)?;
        let (species, grades) = names();
        let mut missing = |field: &str, list: Vec<String>| {
            let sentence = format!("strength needs `{field}` for {}, and it is never guessed", section.name);
            faults.push(
                Fault::new("strength-basis-missing", field, sentence)
                    .hint(format!("read it off the grade stamp; known here: {}", list.join(", "))),
            );
        };
        if self.frame.wood_species.is_none() {
            missing("frame.species", species);
        }
        if self.frame.wood_grade.is_none() {
            missing("frame.grade", grades);
        }
        Some(Wood { species: self.frame.wood_species?, grade: self.frame.wood_grade? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::{BUILTIN_TEXT, read_text};

    fn faults(text: &str) -> Vec<(String, &'static str)> {
        let read = read_text("test.yaml", text).unwrap_or_else(|f| panic!("{f:?}"));
        let faults = read.design.strength_basis().expect_err("something is missing");
        faults.into_iter().map(|f| (f.field, f.code)).collect()
    }

    fn without(field: &str) -> String {
        BUILTIN_TEXT.lines().filter(|l| !l.trim_start().starts_with(field)).map(|l| format!("{l}\n")).collect()
    }

    #[test]
    fn the_built_in_design_is_complete() {
        let read = read_text("test.yaml", BUILTIN_TEXT).expect("it reads");
        assert!(read.design.strength_basis().expect("complete").is_some());
    }

    #[test]
    fn each_missing_field_is_named() {
        for field in ["species", "grade", "wet_service", "incised", "soil"] {
            let found = faults(&without(&format!("{field}:")));
            assert!(
                found.iter().any(|(f, c)| f.ends_with(field) && *c == "strength-basis-missing"),
                "{field}: {found:?}"
            );
        }
    }

    #[test]
    fn grades_and_species_are_read_as_people_write_them() {
        for name in ["no2", "No.2", "No. 2", "NO-2"] {
            assert_eq!(grade(name), Some(Grade::No2), "{name}");
        }
        assert_eq!(grade("select-structural"), Some(Grade::SelectStructural));
        assert_eq!(grade("No. 4"), None);
        assert_eq!(species("southern-pine"), Some(Species::SouthernPine));
        assert_eq!(species("spruce-pine-fir-south"), Some(Species::SprucePineFirSouth));
        let (all, grades) = names();
        assert!(
            all.iter().all(|n| species(n).is_some()) && grades.iter().all(|n| grade(n).is_some()),
            "{all:?} {grades:?}"
        );
    }

    #[test]
    fn a_wrong_name_is_a_fault_of_its_field() {
        for (from, to, field) in [
            ("species: southern-pine", "species: southern-pinee", "frame.species"),
            ("grade: no2", "grade: no9", "frame.grade"),
            ("class: 4", "class: 7", "soil.class"),
            ("subgrade: 25 lb/in3", "subgrade: 900 lb/in3", "soil.subgrade"),
            // Written twice, it is told at its second place.
            ("class: 4", "class: 4, subgrade: 25 lb/in3", "soil.subgrade"),
            ("tilts:", "serviceability: {sway: 5}\ntilts:", "serviceability.sway"),
            ("tilts:", "serviceability: {twist: .nan}\ntilts:", "serviceability.twist"),
        ] {
            let found = read_text("test.yaml", &BUILTIN_TEXT.replace(from, to)).expect_err("no such name");
            assert!(found.iter().any(|f| f.field == field && !f.hints.is_empty()), "{field}: {found:?}");
        }
        let found = read_text("test.yaml", &BUILTIN_TEXT.replace("gust:", "gusts:")).expect_err("no such field");
        assert_eq!((found[0].field.as_str(), found[0].code), ("loads.gusts", "unknown-field"));
    }
}
