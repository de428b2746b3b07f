//! Loads written out: velocity pressure, coefficients and pressures of each case, snow, people who lean, and the combinations that govern.

use super::{
    calc_sheet::{Entry, Line},
    model::{AnswerId, Answered, TiltRun, derive_loads},
    verify::{Report, Row, State, component},
};
use crate::{
    catalogue::{Chapter, Chapters, Step, Trace, term},
    design::{Design, Form, StrengthBasis, WindBasis},
    frame::Frame,
    loads::{
        Action, Load, Rule,
        handling::{LEANING, LEANING_N, PanelsOn, WORKING, WORKING_GUST_MPS, WindLevel},
    },
    quantities::N_PER_LBF,
};
use std::collections::BTreeSet;

/// What of the loads is written out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Topic {
    /// Wind.
    Wind,
    /// Snow.
    Snow,
    /// People who lean on the frame.
    People,
    /// Loads that act together.
    Combinations,
}

impl Topic {
    /// All of them, in the order they are worked out.
    pub const ALL: [Self; 4] = [Self::Wind, Self::Snow, Self::People, Self::Combinations];

    /// Short name, as `explain` takes it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Wind => "wind",
            Self::Snow => "snow",
            Self::People => "people",
            Self::Combinations => "combinations",
        }
    }

    /// The topic of that name.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|topic| topic.name() == name)
    }
}

impl Entry {
    /// The topic of a load; nothing for a check.
    #[must_use]
    pub fn topic(&self) -> Option<Topic> {
        Topic::named(self.check)
    }
}

/// Wind and snow of a tilt, each case with its equations.
#[must_use]
pub fn loads_at(design: &Design, frame: &Frame, basis: &StrengthBasis, run: &TiltRun) -> Vec<Entry> {
    let chapters = derive_loads(design, frame, basis, run).into_iter().chain(components(frame, run));
    chapters.filter_map(|chapter| of_chapter(run, chapter)).collect()
}

/// The combinations of a tilt that govern any of the `rows`, each as the resultant of its loads square to the panels;
/// without any row, those of each rule that press and lift most.
#[must_use]
pub fn combinations_at<'a>(
    basis: &StrengthBasis,
    run: &TiltRun,
    rows: impl IntoIterator<Item = &'a Row> + Clone,
) -> Vec<Entry> {
    let of = |answered: &Answered| of_combination(basis, run, answered);
    if rows.clone().into_iter().next().is_none() {
        let rules = rules_of(std::slice::from_ref(run));
        return rules
            .iter()
            .flat_map(|rule| extremes(run.answered.iter().filter(|a| a.combination.rule == *rule), of))
            .collect();
    }
    let governing: BTreeSet<AnswerId> = rows.into_iter().filter_map(|row| row.answer).collect();
    run.answers().filter(|(id, _)| governing.contains(id)).filter_map(|(_, answered)| of(answered)).collect()
}

/// The combination with the least and the one with the largest resultant.
fn extremes<'a>(answered: impl Iterator<Item = &'a Answered>, of: impl Fn(&Answered) -> Option<Entry>) -> Vec<Entry> {
    let resultant = |entry: &Entry| entry.lines.last().map_or(0.0, |line| line.step.value);
    let mut all: Vec<Entry> = answered.filter(|a| !a.loose).filter_map(of).collect();
    all.sort_by(|a, b| resultant(a).total_cmp(&resultant(b)));
    let last = if all.len() > 1 { all.pop() } else { None };
    all.truncate(1);
    all.extend(last);
    all
}

/// Every load of a report, tilt by tilt.
#[must_use]
pub fn entries(design: &Design, frame: &Frame, basis: &StrengthBasis, report: &Report) -> Vec<Entry> {
    let at = |run| [loads_at(design, frame, basis, run), combinations_at(basis, run, &report.rows)].concat();
    // People lean as hard at every tilt.
    let people = report.runs.first().map(|run| people_at(basis, run)).unwrap_or_default();
    people.into_iter().chain(report.runs.iter().flat_map(at)).collect()
}

/// What people push with, each case as the force that it puts on the frame.
fn people_at(basis: &StrengthBasis, run: &TiltRun) -> Vec<Entry> {
    let (unit, n_per_unit) = force_unit(basis);
    let pushes = run.loads.cases.iter().filter_map(|case| Some((case, case.point()?)));
    let entries = pushes.map(|(case, point)| {
        let (what, symbol, force_n) = match point.across_n {
            0.0 => ("push on the face, square to it; minus pulls", "N", point.normal_n),
            across_n => ("push along the width; minus to the left", "A", across_n),
        };
        let step = Step {
            what,
            symbol,
            formula: "s*P",
            terms: vec![term("s", force_n.signum(), ""), term("P", LEANING_N / n_per_unit, unit)],
            value: force_n / n_per_unit,
            unit,
            source: LEANING,
        };
        let state = State::of_load(&case.state);
        Entry {
            part: case.id.clone(),
            check: Topic::People.name(),
            words: case.name.clone(),
            note: "",
            tilt_deg: None,
            case: String::new(),
            lines: vec![Line::of(step)],
            utilisation: None,
            state: state.word(),
            why: state.why().to_string(),
        }
    });
    entries.collect()
}

/// The unit that resultants are written in, and its newtons.
fn force_unit(basis: &StrengthBasis) -> (&'static str, f64) {
    match basis.loads.wind {
        WindBasis::Asce(wind) if wind.form == Form::Us => ("lbf", N_PER_LBF),
        _ => ("N", 1.0),
    }
}

/// The rules that the combinations of these tilts follow, in their order.
#[must_use]
pub fn rules_of(runs: &[TiltRun]) -> Vec<Rule> {
    let mut rules: Vec<Rule> = Vec::new();
    for answered in runs.iter().flat_map(|run| &run.answered) {
        if !rules.contains(&answered.combination.rule) {
            rules.push(answered.combination.rule);
        }
    }
    rules
}

/// A rule as it is printed: `D + 0.75 S + 0.45 W`.
#[must_use]
pub fn rule_words(rule: &Rule) -> String {
    let parts = [(rule.dead, "D"), (rule.snow, "S"), (rule.wind, "W"), (rule.handling, "L")];
    let words: Vec<String> = parts
        .into_iter()
        .filter(|(factor, _)| *factor != 0.0)
        .map(|(factor, letter)| if factor == 1.0 { letter.to_string() } else { format!("{factor} {letter}") })
        .collect();
    words.join(" + ")
}

/// Component pressures on panels, once for each place on the surface that differs.
fn components(frame: &Frame, run: &TiltRun) -> Vec<Chapter> {
    let mut known = Vec::new();
    let mut trace = Chapters::default();
    for (index, panel) in frame.panels.iter().enumerate() {
        let mut own = Chapters::default();
        own.chapter(|| ("wind-components".to_string(), String::new()));
        let Some(pressure) = component(run, panel, None, &mut own) else { continue };
        let steps = own.chapters.swap_remove(0).steps;
        if steps.is_empty() || known.contains(&steps) {
            continue;
        }
        known.push(steps.clone());
        let words = format!("wind on panel {} as a component, zone {}", index + 1, pressure.zone as usize + 1);
        trace.chapters.push(Chapter { id: format!("wind-components-{}", index + 1), words, steps });
    }
    trace.chapters
}

/// An entry of the sheet, unless nothing of the chapter became a load.
fn of_chapter(run: &TiltRun, chapter: Chapter) -> Option<Entry> {
    let topic = if chapter.id.starts_with("snow") { Topic::Snow } else { Topic::Wind };
    let state = state_of(run, &chapter.id)?;
    Some(Entry {
        part: chapter.id,
        check: topic.name(),
        words: chapter.words,
        note: "",
        tilt_deg: Some(run.skeleton.tilt_deg),
        case: String::new(),
        lines: chapter.steps.into_iter().map(Line::of).collect(),
        utilisation: None,
        state: state.word(),
        why: state.why().to_string(),
    })
}

/// A chapter of several cases has the words of its name in the names of all of them.
#[must_use]
pub(crate) fn is_of_chapter(case: &str, id: &str) -> bool {
    id.split('-').all(|word| case.split('-').any(|w| w == word))
}

/// How far the cases of a chapter may be trusted; nothing where it has none: they were refused.
fn state_of(run: &TiltRun, id: &str) -> Option<State> {
    // What every case rests on belongs to none.
    if Topic::named(id).is_some() || id.starts_with("wind-components") {
        return Some(State::Value);
    }
    let exact = run.loads.cases.iter().find(|case| case.id == id);
    let of = |state| State::of_load(state);
    match exact {
        Some(case) => Some(of(&case.state)),
        None => run
            .loads
            .cases
            .iter()
            .filter(|case| is_of_chapter(&case.id, id))
            .map(|case| of(&case.state))
            .reduce(State::and),
    }
}

/// A combination of loads on all the panels; others act on fewer panels than the cases are written out for.
fn of_combination(basis: &StrengthBasis, run: &TiltRun, answered: &Answered) -> Option<Entry> {
    let situation = &run.situations[answered.situation];
    if situation.panels != PanelsOn::All {
        return None;
    }
    let (unit, n_per_unit) = force_unit(basis);
    let mut trace = crate::catalogue::Record::default();
    let on_wind = situation.wind.factor(run.loads.q_pa);
    if situation.wind == WindLevel::Working {
        record_working(run.loads.q_pa, on_wind, &mut trace);
    }
    let mut sums = [None; 4];
    for (index, factor) in &answered.combination.factors {
        let case = &run.loads.cases[*index];
        let normal_n = match &case.load {
            Load::Surface(load) => load.resultant(&run.loads.surface).normal_n,
            Load::Point(point) => point.normal_n,
            Load::Bare(_) => return None,
        };
        sums[case.action as usize] = Some((*factor, normal_n / n_per_unit));
    }
    record_sum(&answered.combination.rule, sums, unit, &mut trace);
    let state = State::of_load(&answered.state);
    Some(Entry {
        part: run.name_of(answered),
        check: Topic::Combinations.name(),
        words: format!("{}, {}", rule_words(&answered.combination.rule), situation.name),
        note: "",
        tilt_deg: Some(run.skeleton.tilt_deg),
        case: String::new(),
        lines: trace.steps.into_iter().map(Line::of).collect(),
        utilisation: None,
        state: state.word(),
        why: state.why().to_string(),
    })
}

/// Share of the design wind that a gust people may work in has.
fn record_working<T: Trace>(q_pa: f64, share: f64, trace: &mut T) {
    trace.step(|| Step {
        what: "share of the design wind while people work at the frame",
        symbol: "k_w",
        formula: "min(0.613*V_w^2/0.6/q, 1)",
        terms: vec![term("V_w", WORKING_GUST_MPS, "m/s"), term("q", q_pa, "Pa")],
        value: share,
        unit: "",
        source: WORKING,
    });
}

/// Factor and resultant of dead load, snow, wind and work, where a combination has them.
fn record_sum<T: Trace>(rule: &Rule, sums: [Option<(f64, f64)>; 4], unit: &'static str, trace: &mut T) {
    const SYMBOLS: [[&str; 2]; 4] = [["f_D", "D"], ["f_S", "S"], ["f_W", "W"], ["f_L", "L"]];
    let present: Vec<usize> = (0..4).filter(|i| sums[*i].is_some()).collect();
    let formula = match present.as_slice() {
        [0] => "f_D*D",
        [0, 1] => "f_D*D + f_S*S",
        [0, 2] => "f_D*D + f_W*W",
        [0, 3] => "f_D*D + f_L*L",
        [0, 1, 2] => "f_D*D + f_S*S + f_W*W",
        [0, 1, 3] => "f_D*D + f_S*S + f_L*L",
        [0, 2, 3] => "f_D*D + f_W*W + f_L*L",
        _ => "f_D*D + f_S*S + f_W*W + f_L*L",
    };
    let terms = present.iter().filter_map(|i| sums[*i].map(|(f, n)| (SYMBOLS[*i], f, n)));
    trace.step(|| Step {
        what: "resultant on the panels, square to them; minus lifts",
        symbol: "N",
        formula,
        terms: terms.flat_map(|([f, n], factor, load)| [term(f, factor, ""), term(n, load, unit)]).collect(),
        value: sums.iter().flatten().map(|(factor, load)| factor * load).sum(),
        unit,
        source: rule.source,
    });
}

const _: () = assert!(
    Action::Dead as usize == 0
        && Action::Snow as usize == 1
        && Action::Wind as usize == 2
        && Action::Handling as usize == 3
);
