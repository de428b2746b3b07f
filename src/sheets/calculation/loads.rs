//! The loads of the sheet: pressures of every case, how they come about, and what acts together.

use super::{Calculation, Section, equations};
use crate::{
    checks::{
        calc_sheet::Entry,
        load_sheet::{Topic, combinations_at, loads_at, rule_words, rules_of},
        model::TiltRun,
        verify::{Row, State},
    },
    design::WindBasis,
    loads::{Action, Duration, Rule},
    quantities::{PA_PER_PSF, Units, number},
    sheets::table::{Table, figures, words},
};

impl Calculation<'_> {
    /// Every section on loads.
    pub(super) fn loads(&self) -> Vec<Section<'static>> {
        let mut sections = vec![self.load_cases()];
        for topic in [Topic::Wind, Topic::Snow] {
            sections.extend(self.report.runs.iter().filter_map(|run| self.written_out(topic, run)));
        }
        sections.push(self.combinations());
        sections
    }

    /// Normal pressures of the cases that press or lift evenly across the width.
    fn load_cases(&self) -> Section<'static> {
        let (unit, pa_per_unit, decimals) = match self.units {
            Units::Us => ("psf", PA_PER_PSF, 1),
            Units::Metric => ("Pa", 1.0, 0),
        };
        let tilts = self.report.runs.iter().map(|run| figures(format!("{:.2}°", run.skeleton.tilt_deg)));
        let mut table = Table::new(["Case", "What", "State"].map(words).into_iter().chain(tilts));
        let Some(first) = self.report.runs.first() else { return Section::new("Load cases") };
        for case in first.loads.cases.iter().filter(|c| matches!(c.action, Action::Wind | Action::Snow)) {
            let mut row = vec![case.id.clone(), case.name.clone(), self.state_over_tilts(&case.id)];
            for run in &self.report.runs {
                let here = run.loads.cases.iter().find(|c| c.id == case.id);
                let shown = |pa: f64| number(pa / pa_per_unit, decimals);
                row.push(
                    here.and_then(|c| c.surface()).map(|s| s.normal_pa).map_or_else(
                        || "–".to_string(),
                        |[lower, upper]| format!("{} / {}", shown(lower), shown(upper)),
                    ),
                );
            }
            table.row(row);
        }
        Section::new("Load cases")
            .paragraph(format!(
                "Normal pressure in {unit} on the lower and the upper half of the slope, at the level of its standard; \
                 positive presses on the face. A case that is spread unevenly across the width is given at its strongest \
                 strip, a case moved sideways before it is moved. The sections below work each of them out."
            ))
            .table(table)
    }

    /// State of a case: the one of all tilts, else every state that is no plain value with the tilts it stands at.
    fn state_over_tilts(&self, id: &str) -> String {
        let at = |run: &TiltRun| {
            let case = run.loads.cases.iter().find(|case| case.id == id)?;
            let state = State::of_load(&case.state);
            let why = if state.why().is_empty() { String::new() } else { format!(": {}", state.why()) };
            Some((format!("{}{why}", state.word()), format!("{:.2}°", run.skeleton.tilt_deg)))
        };
        let mut groups: Vec<(String, Vec<String>)> = Vec::new();
        for (words, tilt) in self.report.runs.iter().filter_map(at) {
            match groups.iter_mut().find(|(other, _)| *other == words) {
                Some((_, tilts)) => tilts.push(tilt),
                None => groups.push((words, vec![tilt])),
            }
        }
        if let [(words, _)] = groups.as_slice() {
            return words.clone();
        }
        let judged = groups.iter().filter(|(words, _)| words != State::Value.word());
        judged.map(|(words, tilts)| format!("{words}, at {}", tilts.join(" and "))).collect::<Vec<_>>().join("; ")
    }

    /// Wind or snow at one tilt, every equation of it.
    fn written_out(&self, topic: Topic, run: &TiltRun) -> Option<Section<'static>> {
        let entries = loads_at(self.design, self.frame, self.basis, run);
        let entries: Vec<&Entry> = entries.iter().filter(|entry| entry.topic() == Some(topic)).collect();
        if entries.is_empty() {
            return None;
        }
        let (word, tilt) = (if topic == Topic::Wind { "Wind" } else { "Snow" }, run.skeleton.tilt_deg);
        let mut section = Section::new(&format!("{word} at {tilt:.2}°"));
        if topic == Topic::Wind {
            section = section.paragraph(COEFFICIENTS);
        }
        Some(section.table(written(entries, self.units)))
    }

    /// The rules, and each combination that governs a check as one sum.
    fn combinations(&self) -> Section<'static> {
        let rules = rules_of(&self.report.runs);
        // The duration factor of wood belongs to allowable stress design.
        let timed = matches!(self.basis.loads.wind, WindBasis::Asce(_));
        let c_d = |rule: &Rule| if timed { number(Duration::of_rule(rule).factor(), 2) } else { "–".to_string() };
        let row = |rule: &Rule| [rule.id.to_string(), rule_words(rule), c_d(rule), rule.source.to_string()];
        let below = if self.report.rows.is_empty() {
            "No check has a number here: those below press or lift most."
        } else {
            "Those below govern a check."
        };
        let columns = [words("Rule"), words("Loads"), figures("C_D of wood"), words("Source")];
        let section = Section::new("Combinations")
            .paragraph(format!(
                "D self weight, S snow, W wind, L a person leaning (in the place of the live load). Each rule goes through \
                 every case of the loads in it, at every tilt, with all panels on, half of them on, none, and with one \
                 stay loose in gusts of 20 mph (8.9 m/s) at most. {below}"
            ))
            .table(Table::new(columns).with(rules.iter().map(row)));
        let worst: Vec<&Row> = super::worst_of_each(self.report).collect();
        let at = |run| combinations_at(self.basis, run, worst.iter().copied());
        let governing: Vec<Entry> = self.report.runs.iter().flat_map(at).collect();
        section.table(written(&governing, self.units))
    }
}

const COEFFICIENTS: &str = "Half of the slope by half, as the figure gives its windward and leeward coefficients: pressures \
    that differ between the halves turn the frame about its axle. Wind on the face meets the low edge first, wind on the \
    back the high edge. Cases A and B are those of the figure; clear and obstructed are the flow below.";

fn written<'a>(entries: impl IntoIterator<Item = &'a Entry>, units: Units) -> Table {
    equations(entries.into_iter().map(|entry| (Some(heading(entry)), entry.lines.as_slice())), units)
}

/// Name, words and, where there is something to say, state of a load.
fn heading(entry: &Entry) -> String {
    let tilt = match (entry.topic(), entry.tilt_deg) {
        (Some(Topic::Combinations), Some(tilt)) => format!(" at {tilt:.2}°"),
        _ => String::new(),
    };
    let why = if entry.why.is_empty() { String::new() } else { format!(": {}", entry.why) };
    let state = if entry.state == "value" { String::new() } else { format!(" State: {}{why}.", entry.state) };
    format!("{}{tilt} – {}.{state}", entry.part, entry.words)
}
