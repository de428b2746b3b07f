//! The calculation sheet: what went in, the loads and every check with its state, and the worst calculation of each check
//! written out, for an engineer to review and sign.

mod loads;

use super::{
    Warning,
    html::{Item, Section, page},
};
use crate::{
    catalogue::{Metal, metal_of},
    checks::{
        calc_sheet::{Entry, Line},
        verify::{Report, Row},
    },
    codes::{
        grade_of_bolts,
        ibc::serviceability::{DeflectionCase, Divisor},
    },
    design::{Design, SnowBasis, StrengthBasis, WindBasis},
    frame::{Frame, Role},
    loads::{left_out, snow::OPEN_AIR},
    quantities::{MM_PER_INCH, PA_PER_PSI, Units, length, number, pressure, speed, to_kn_per_m3},
};
use std::collections::BTreeSet;

/// Everything on the sheet.
#[derive(Debug, Clone, Copy)]
pub struct Calculation<'a> {
    /// The design.
    pub design: &'a Design,
    /// What strength was given.
    pub basis: &'a StrengthBasis,
    /// The frame, which says where panels lie.
    pub frame: &'a Frame,
    /// The checks.
    pub report: &'a Report,
    /// What must be known before anything of the design is built.
    pub warning: Option<&'a Warning>,
    /// Units of what is read; equations keep those of their standard.
    pub units: Units,
}

/// Rows of the table of utilisations.
const ROWS: usize = 60;

impl Calculation<'_> {
    /// One page that prints from any browser and fetches nothing.
    #[must_use]
    pub fn page(&self) -> String {
        let mut sections = vec![self.verdict(), self.inputs(), self.tilts(), self.checks(), self.rows()];
        sections.extend(self.loads());
        sections.extend(worst_of_each(self.report).map(|row| entry(&Entry::of(row), self.units)));
        sections.push(review());
        page(&format!("{}: calculation sheet", self.design.name), self.warning, &sections)
    }

    fn verdict(&self) -> Section {
        let mut section = Section::new("Verdict").with(Item::Paragraph(format!("{}.", self.report.verdict.sentence())));
        for (head, lines) in [
            ("Why no verdict can be given:", self.report.verdict.reasons()),
            ("Judgements that an engineer must accept:", &self.report.judgements),
        ] {
            if !lines.is_empty() {
                section = section.with(Item::Paragraph(head.to_string())).with(Item::Steps(lines.to_vec()));
            }
        }
        let mut said: Vec<&str> = Vec::new();
        for refusal in &self.report.refused_loads {
            if !said.contains(&refusal.why.as_str()) {
                said.push(&refusal.why);
                section = section.with(Item::Paragraph(format!(
                    "No value for {}: {}; {}.",
                    refusal.name, refusal.why, refusal.way_out
                )));
            }
        }
        section.with(Item::Paragraph(left_out())).with(Item::Paragraph(
            "This is no certificate. Local codes and a licensed engineer govern; wind and snow can kill.".to_string(),
        ))
    }

    fn inputs(&self) -> Section {
        let mut rows: Vec<[String; 2]> = Vec::new();
        let mut add = |what: &str, value: String| rows.push([what.to_string(), value]);
        match self.basis.loads.wind {
            WindBasis::Asce(wind) => {
                add(
                    "Wind",
                    format!("{}, ultimate 3-second gust {}", wind.edition.document(), speed(wind.gust, self.units)),
                );
                add("Exposure, risk category", format!("{}, {}", wind.exposure.word(), wind.risk.word()));
                add("Height above sea", length(wind.elevation, self.units));
                add("Topographic factor K_zt", number(wind.k_zt, 3));
            }
            WindBasis::En(wind) => {
                add("Wind", format!("EN 1991-1-4, basic velocity {}", speed(wind.basic, self.units)));
                add("Terrain, orography c_0", format!("{}, {}", wind.terrain.word(), number(wind.c_0, 3)));
            }
        }
        add("Below the frame", self.basis.loads.below.word().to_string());
        let (level, ground) = match self.basis.loads.snow {
            SnowBasis::Service(snow) => ("50-year, service level", snow.ground),
            SnowBasis::Strength(snow) => ("strength level", snow.ground),
            SnowBasis::Characteristic(ground) => ("characteristic", ground),
        };
        add("Ground snow", format!("{}, {level}", pressure(ground, self.units)));
        let site = match self.basis.loads.snow {
            SnowBasis::Service(snow) => Some(snow.site),
            SnowBasis::Strength(snow) => Some(snow.site),
            SnowBasis::Characteristic(_) => None,
        };
        if let Some(site) = site {
            let (around, exposure) = (site.around.word(), site.exposure.word());
            add("Snow: shelter around, terrain", format!("{around}, {exposure}"));
            let slides =
                if site.slides_off { "yes: slippery face, free way off the low edge" } else { "not counted on" };
            add("Snow: slides off", slides.to_string());
            add("Snow: thermal factor C_t", format!("{}, open air above and below", number(OPEN_AIR, 1)));
        }
        let [face, back] = self.basis.loads.panel_design_load;
        add(
            "Rated design load of the panel",
            format!("{} on the face, {} on the back", pressure(face, self.units), pressure(back, self.units)),
        );
        if let Some(wood) = self.basis.wood {
            let service = if self.basis.wet_service { "wet" } else { "dry" };
            let incised = if self.basis.incised { ", incised" } else { "" };
            add("Wood", format!("{}, {}, {service} service{incised}", wood.species.name(), wood.grade.name()));
        }
        if self.basis.wood.is_some() && self.has_wooden_posts() {
            let why = "the foot stands in concrete and wet ground";
            add("Wooden posts", format!("always wet service, whatever the rest of the frame is: {why}"));
        }
        for (metal, sections) in self.metals() {
            let stress = |ksi: f64| match self.units {
                Units::Us => format!("{} ksi", number(ksi, 1)),
                Units::Metric => format!("{} MPa", number(ksi * 1e-3 * PA_PER_PSI, 0)),
            };
            let strengths = format!("F_y {}, F_u {}", stress(metal.fy_ksi), stress(metal.fu_ksi));
            add("Metal", format!("{}, {strengths} ({}): {}", metal.name, metal.source, sections.join(", ")));
        }
        let bolts = match self.design.support.bolt_grade {
            Some(grade) => grade.name.to_string(),
            None => format!(
                "{}, the weakest in shops: the design names no `support.bolt_grade`",
                grade_of_bolts(self.design).name
            ),
        };
        add("Bolts", bolts);
        if let Some(soil) = self.basis.soil {
            add("Soil", format!("class {}, {}", soil.soil.class, soil.soil.name));
            match soil.subgrade {
                Some(n_h) => {
                    let value = match self.units {
                        Units::Us => {
                            format!("{} lb/in³", number(to_kn_per_m3(n_h) * MM_PER_INCH / PA_PER_PSI, 1))
                        }
                        Units::Metric => format!("{} kN/m³", number(to_kn_per_m3(n_h), 0)),
                    };
                    add("Horizontal subgrade n_h", format!("{value}, as written"));
                }
                None => {
                    add("Horizontal subgrade", "one point of the building code's bearing, by judgement".to_string())
                }
            }
        }
        let own = self.basis.serviceability;
        for (what, limit) in [
            ("Limit of deflection", Divisor::deflection(own.deflection, DeflectionCase::SnowOrWind)),
            ("Limit of total deflection", Divisor::deflection(own.deflection_total, DeflectionCase::Total)),
            ("Limit of twist", Divisor::twist(own.twist)),
            ("Limit of sway", Divisor::sway(own.sway)),
        ] {
            add(what, format!("1/{}, {}: {}", number(limit.n, 0), limit.source.document, limit.source.place));
        }
        let rows = rows.into_iter().map(Vec::from).collect();
        Section::new("What went in").with(Item::Table(vec!["What".into(), "Value".into()], rows))
    }

    fn has_wooden_posts(&self) -> bool {
        let posts = self.frame.sticks.iter().filter(|stick| stick.role == Role::Post);
        posts.into_iter().any(|stick| metal_of(stick.section).is_none())
    }

    /// The metals of the frame, each with the sections made of it.
    fn metals(&self) -> Vec<(&'static Metal, Vec<&'static str>)> {
        let mut metals: Vec<(&'static Metal, Vec<&'static str>)> = Vec::new();
        for section in self.frame.sticks.iter().map(|stick| stick.section) {
            let Some(metal) = metal_of(section) else { continue };
            let name: &'static str = &section.name;
            match metals.iter_mut().find(|(other, _)| other.name == metal.name) {
                Some((_, names)) if names.contains(&name) => {}
                Some((_, names)) => names.push(name),
                None => metals.push((metal, vec![name])),
            }
        }
        metals
    }

    fn tilts(&self) -> Section {
        let headings = [">Tilt", ">Load cases", ">Combinations", ">Nodes", ">Members", ">Lowest frequency"];
        let rows = self
            .report
            .runs
            .iter()
            .map(|run| {
                vec![
                    format!("{:.2}°", run.skeleton.tilt_deg),
                    run.loads.cases.len().to_string(),
                    run.answered.len().to_string(),
                    run.skeleton.model.nodes().len().to_string(),
                    run.skeleton.model.members().len().to_string(),
                    format!("{:.2} Hz", run.frequency_hz),
                ]
            })
            .collect();
        Section::new("Tilts analysed")
            .with(Item::Paragraph(
                "One frame model for each tilt; `tiltwright strength --model FILE` writes it with its loads and results, \
                 so that any frame program can run it again."
                    .to_string(),
            ))
            .with(Item::Table(headings.map(str::to_string).to_vec(), rows))
    }

    fn checks(&self) -> Section {
        let rows = self
            .report
            .list
            .iter()
            .map(|l| {
                vec![
                    l.kind.words().to_string(),
                    l.utilisation.map_or_else(|| "–".to_string(), |u| format!("{u:.2}")),
                    l.governing.word().to_string(),
                    match (l.governing.why(), l.others()) {
                        (why, None) => why.to_string(),
                        ("", Some(state)) => format!("other rows: {}", state.in_words()),
                        (why, Some(state)) => format!("({why}); other rows: {}", state.in_words()),
                    },
                ]
            })
            .collect();
        Section::new("Every check, with its state")
            .with(Item::Table(["Check", ">Largest", "State", "Why"].map(str::to_string).to_vec(), rows))
    }

    fn rows(&self) -> Section {
        let rows = self
            .report
            .rows
            .iter()
            .take(ROWS)
            .map(|row| {
                vec![
                    row.utilisation.map_or_else(|| "–".to_string(), |u| format!("{u:.3}")),
                    row.part.clone(),
                    row.kind.name().to_string(),
                    row.tilt_deg.map_or_else(String::new, |t| format!("{t:.1}°")),
                    row.case.clone(),
                    row.state.word().to_string(),
                ]
            })
            .collect();
        let mut section = Section::new("Utilisations, worst first").with(Item::Table(
            [">Use", "Part", "Check", ">Tilt", "Combination", "State"].map(str::to_string).to_vec(),
            rows,
        ));
        if self.report.rows.len() > ROWS {
            section = section.with(Item::Paragraph(format!(
                "{} more below these; `tiltwright strength --all` prints them.",
                self.report.rows.len() - ROWS
            )));
        }
        section
    }
}

fn entry(entry: &Entry, units: Units) -> Section {
    let result = entry.utilisation.map_or_else(|| "no value".to_string(), |u| format!("{u:.3}"));
    let mut section = Section::new(&format!("{}: {} – {result}", entry.part, entry.words));
    let tilt = entry.tilt_deg.map_or_else(String::new, |t| format!("Tilt {t:.2}°. "));
    let case = if entry.case.is_empty() { String::new() } else { format!("Combination {}. ", entry.case) };
    let why = if entry.why.is_empty() { String::new() } else { format!(": {}", entry.why) };
    section = section.with(Item::Paragraph(format!("{tilt}{case}State: {}{why}.", entry.state)));
    if !entry.note.is_empty() {
        section = section.with(Item::Paragraph(entry.note.to_string()));
    }
    section.with(equations([(None, entry.lines.as_slice())], units))
}

/// The worst row of each check: rows come worst first.
fn worst_of_each(report: &Report) -> impl Iterator<Item = &Row> {
    let mut seen = BTreeSet::new();
    report.rows.iter().filter(move |row| seen.insert(row.kind))
}

/// Equations as a table: symbols, the same with numbers, result, terms and source. A group has its heading, if any, across
/// the table.
fn equations<'a>(groups: impl IntoIterator<Item = (Option<String>, &'a [Line])>, units: Units) -> Item {
    let headings = [">No.", "What", "Equation", "With numbers", ">Result", "Terms with units", "Source"];
    let rows = groups.into_iter().flat_map(|(head, lines)| {
        let head = head.map(|head| vec![head]);
        head.into_iter().chain(lines.iter().enumerate().map(move |(n, line)| equation(n + 1, line, units)))
    });
    Item::Table(headings.map(str::to_string).to_vec(), rows.collect())
}

fn equation(n: usize, line: &Line, units: Units) -> Vec<String> {
    vec![
        n.to_string(),
        line.what.to_string(),
        line.equation.clone(),
        format!("= {}", line.numbers),
        line.result_in(units),
        line.terms_in(units).join(", "),
        line.source.clone(),
    ]
}

/// Lines to fill in by hand.
fn review() -> Section {
    let blank = |what: &str| vec![what.to_string(), String::new()];
    Section::new("Review").with(Item::Table(
        vec!["To be filled in by a licensed engineer".into(), "Entry".into()],
        [
            "Name and licence number",
            "Code edition adopted at the place",
            "Judgements accepted",
            "Changes asked for",
            "Date and signature",
        ]
        .into_iter()
        .map(blank)
        .collect(),
    ))
}
