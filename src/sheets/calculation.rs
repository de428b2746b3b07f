//! The calculation sheet: what went in, the loads and every check with its state, and the worst calculation of each check
//! written out, for an engineer to review and sign.

mod loads;

use super::{
    Warning,
    document::{Document, Section},
    table::{Table, figures, words},
    tables::{listed, utilisations},
};
use crate::{
    catalogue::{Metal, metal_of},
    checks::{
        calc_sheet::{Entry, Line},
        model::TiltRun,
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
    /// The whole sheet.
    #[must_use]
    pub fn document(&self) -> Document<'_> {
        let mut sections = vec![self.verdict(), self.inputs(), self.tilts(), self.checks(), self.rows()];
        sections.extend(self.loads());
        sections.extend(worst_of_each(self.report).map(|row| entry(&Entry::of(row), self.units)));
        sections.push(review());
        Document { title: format!("{}: calculation sheet", self.design.name), warning: self.warning, sections }
    }

    fn verdict(&self) -> Section<'static> {
        let mut section = Section::new("Verdict").paragraph(format!("{}.", self.report.verdict.sentence()));
        for (head, lines) in [
            ("Why no verdict can be given:", self.report.verdict.reasons()),
            ("Judgements that an engineer must accept:", &self.report.judgements),
        ] {
            if !lines.is_empty() {
                section = section.paragraph(head).steps(lines);
            }
        }
        let mut said: Vec<&str> = Vec::new();
        for refusal in &self.report.refused_loads {
            if !said.contains(&refusal.why.as_str()) {
                said.push(&refusal.why);
                section =
                    section.paragraph(format!("No value for {}: {}; {}.", refusal.name, refusal.why, refusal.way_out));
            }
        }
        section
            .paragraph(left_out())
            .paragraph("This is no certificate. Local codes and a licensed engineer govern; wind and snow can kill.")
    }

    fn inputs(&self) -> Section<'static> {
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
        Section::new("What went in").table(Table::new(["What", "Value"].map(words)).with(rows))
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

    fn tilts(&self) -> Section<'static> {
        let row = |run: &TiltRun| {
            [
                format!("{:.2}°", run.skeleton.tilt_deg),
                run.loads.cases.len().to_string(),
                run.answered.len().to_string(),
                run.skeleton.model.nodes().len().to_string(),
                run.skeleton.model.members().len().to_string(),
                format!("{:.2} Hz", run.frequency_hz),
            ]
        };
        let columns = ["Tilt", "Load cases", "Combinations", "Nodes", "Members", "Lowest frequency"].map(figures);
        Section::new("Tilts analysed")
            .paragraph(
                "One frame model for each tilt; `tiltwright strength --model FILE` writes it with its loads and results, \
                 so that any frame program can run it again.",
            )
            .table(Table::new(columns).with(self.report.runs.iter().map(row)))
    }

    fn checks(&self) -> Section<'static> {
        Section::new("Every check, with its state").table(listed(self.report))
    }

    fn rows(&self) -> Section<'static> {
        let rows = &self.report.rows;
        let section = Section::new("Utilisations, worst first").table(utilisations(rows.iter().take(ROWS)));
        match rows.len().saturating_sub(ROWS) {
            0 => section,
            more => section.paragraph(format!("{more} more below these; `tiltwright strength --all` prints them.")),
        }
    }
}

fn entry(entry: &Entry, units: Units) -> Section<'static> {
    let result = entry.utilisation.map_or_else(|| "no value".to_string(), |u| format!("{u:.3}"));
    let mut section = Section::new(&format!("{}: {} – {result}", entry.part, entry.words));
    let tilt = entry.tilt_deg.map_or_else(String::new, |t| format!("Tilt {t:.2}°. "));
    let case = if entry.case.is_empty() { String::new() } else { format!("Combination {}. ", entry.case) };
    let why = if entry.why.is_empty() { String::new() } else { format!(": {}", entry.why) };
    section = section.paragraph(format!("{tilt}{case}State: {}{why}.", entry.state));
    if !entry.note.is_empty() {
        section = section.paragraph(entry.note);
    }
    section.table(equations([(None, entry.lines.as_slice())], units))
}

/// The worst row of each check: rows come worst first.
fn worst_of_each(report: &Report) -> impl Iterator<Item = &Row> {
    let mut seen = BTreeSet::new();
    report.rows.iter().filter(move |row| seen.insert(row.kind))
}

/// Equations as a table: symbols, the same with numbers, result, terms and source. A group has its heading, if any, across
/// the table.
fn equations<'a>(groups: impl IntoIterator<Item = (Option<String>, &'a [Line])>, units: Units) -> Table {
    let what = ["What", "Equation", "With numbers"].map(words);
    let columns = [figures("No.")].into_iter().chain(what).chain([figures("Result")]);
    let mut table = Table::new(columns.chain(["Terms with units", "Source"].map(words)));
    for (head, lines) in groups {
        head.into_iter().for_each(|head| table.heading(head));
        table = table.with(lines.iter().enumerate().map(|(n, line)| equation(n + 1, line, units)));
    }
    table
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
fn review() -> Section<'static> {
    let asked = [
        "Name and licence number",
        "Code edition adopted at the place",
        "Judgements accepted",
        "Changes asked for",
        "Date and signature",
    ];
    let columns = [words("To be filled in by a licensed engineer"), words("Entry")];
    Section::new("Review").table(Table::new(columns).with(asked.map(|what| [what, ""])))
}
