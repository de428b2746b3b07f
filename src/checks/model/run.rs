//! Every tilt, every situation, every combination: one factorisation for each geometry.

use super::{build::build, skeleton::Skeleton, spread::panel_kg};
use crate::{
    analysis::{self, AnalysisError, LoadCase, MassKind, Options, Results, Structure, Way},
    catalogue::{Chapter, Chapters, NotHeld, Silent},
    design::{Design, Edition, Ground, LiesOn, RoofPlace, StrengthBasis, WindBasis},
    frame::Frame,
    loads::{
        Action, Case, Combination, LoadError, Method, RangeState, Refusal, Stand, Surface, TiltLoads,
        asce7::wind_roof::{Roof, RoofZone},
        gather,
        handling::{PanelsOn, Situation, situations},
        rules,
    },
    quantities::{to_deg, to_mm},
};
use rayon::prelude::*;
use std::{
    collections::{BTreeMap, BTreeSet},
    sync::Arc,
};

/// Why a frame cannot be analysed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StructureError {
    /// A species and grade that no table holds for a section.
    #[error(transparent)]
    NotHeld(#[from] NotHeld),
    /// Sizes that no load clause takes.
    #[error(transparent)]
    Load(#[from] LoadError),
    /// The model moves, or does not settle.
    #[error("at {tilt_deg:.1}°: {error}")]
    Analysis {
        /// Tilt (deg).
        tilt_deg: f64,
        /// What the analysis says.
        error: AnalysisError,
    },
}

/// Which answer of a frame's runs: nothing that follows from one is found again by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct AnswerId {
    /// Hole of the row that the frame stands in.
    pub hole: usize,
    /// Place among the answered combinations of that tilt.
    pub answered: usize,
}

/// One combination and where its answer stands.
#[derive(Debug, Clone)]
pub struct Answered {
    /// Number of the situation.
    pub situation: usize,
    /// The combination; its indices point into the cases of the tilt.
    pub combination: Combination,
    /// Number of the answer in the results of its geometry.
    pub answer: usize,
    /// One stay is loose.
    pub loose: bool,
    /// How far the loads in it may be trusted.
    pub state: RangeState,
}

/// One tilt, solved.
#[derive(Debug, Clone)]
pub struct TiltRun {
    /// Hole of the row.
    pub row: usize,
    /// The model.
    pub skeleton: Skeleton,
    /// Loads on the surface.
    pub loads: TiltLoads,
    /// Situations.
    pub situations: Vec<Situation>,
    /// Answers with all stays pinned.
    pub results: Results,
    /// Answers with the left stay loose.
    pub loose: Option<Results>,
    /// Combinations.
    pub answered: Vec<Answered>,
    /// Lowest natural frequency (Hz).
    pub frequency_hz: f64,
    /// Why the frame with one stay loose cannot be analysed, when it cannot.
    pub loose_error: Option<AnalysisError>,
}

impl TiltRun {
    /// Every answered combination.
    pub fn answers(&self) -> impl Iterator<Item = (AnswerId, &Answered)> {
        self.answered.iter().enumerate().map(|(answered, a)| (AnswerId { hole: self.row, answered }, a))
    }

    /// The results a combination stands in.
    #[must_use]
    pub fn results_of(&self, answered: &Answered) -> &Results {
        if answered.loose { self.loose.as_ref().unwrap_or(&self.results) } else { &self.results }
    }

    /// What a combination is called.
    #[must_use]
    pub fn name_of(&self, answered: &Answered) -> String {
        let situation = &self.situations[answered.situation];
        match situation.id {
            "in-service" => answered.combination.name.clone(),
            id => format!("{} ({id})", answered.combination.name),
        }
    }
}

/// Analyses a frame at every hole of its row, lowest tilt first.
///
/// # Errors
/// The first thing that stops it, by tilt.
pub fn run_tilts(design: &Design, frame: &Frame, basis: &StrengthBasis) -> Result<Vec<TiltRun>, StructureError> {
    let rows: Vec<usize> = frame.reached().into_iter().map(|(_, row)| row).collect();
    rows.into_par_iter().map(|row| run_tilt(design, frame, basis, row)).collect()
}

/// The surface of panels as the loads see it.
fn surface(skeleton: &Skeleton, frame: &Frame) -> Result<Surface, LoadError> {
    let (x, u, w) = skeleton.panel_field();
    let low = skeleton.frame_point([0.0, u[0], w]);
    let (point, slope) = frame.surface();
    let ground = point[1] + (low[1] - point[0]) * slope.tan();
    Surface::new(skeleton.tilt_deg, u[1] - u[0], x[1] - x[0], (low[2] - ground).max(0.0))
}

fn edition(basis: &StrengthBasis) -> Edition {
    match basis.loads.wind {
        WindBasis::Asce(wind) => wind.edition,
        WindBasis::En(_) => Edition::En1991,
    }
}

fn run_tilt(design: &Design, frame: &Frame, basis: &StrengthBasis, row: usize) -> Result<TiltRun, StructureError> {
    let mut skeleton = build(design, frame, basis, row)?;
    let tilt_deg = skeleton.tilt_deg;
    let wrong = |error| StructureError::Analysis { tilt_deg, error };
    let panel_kg = panel_kg(design);
    skeleton.add_masses(panel_kg);
    let surface = surface(&skeleton, frame)?;
    let panels_kg = panel_kg * frame.panels.len() as f64;
    let mut loads = gather(&basis.loads, &surface, &roof_stand(design, frame), panels_kg, &mut Silent);
    if let Some(lies) = design.support.lies_on().filter(|lies| lies.on == Ground::Roof) {
        refuse_roof(&mut loads, &lies);
    }
    let structure = Arc::new(Structure::build(skeleton.model.clone()).map_err(wrong)?);
    let frequency_hz = structure.lowest_frequency(MassKind::Consistent).map_err(wrong)?;
    loads.refuse_if_flexible(frequency_hz);
    let situations = situations();
    let mut job =
        Job { skeleton: &skeleton, loads: &loads, surface, panel_kg, made: BTreeMap::new(), cases: Vec::new() };
    let method = if edition(basis) == Edition::En1991 { Method::Limit } else { Method::Asd };
    let rules = rules(edition(basis), method);
    let mut answered = Vec::new();
    let mut sums: [Vec<analysis::Factored>; 2] = [Vec::new(), Vec::new()];
    for (s, situation) in situations.iter().enumerate() {
        for combination in situation.combinations(rules, &loads.cases, loads.q_pa) {
            let loose = situation.one_stay_loose;
            // The two people who re-tilt a frame hold it up; nobody leans on it while a stay is out. Judgement.
            let leans = combination.factors.iter().any(|(case, _)| loads.cases[*case].action == Action::Handling);
            if loose && leans {
                continue;
            }
            let list = &mut sums[usize::from(loose)];
            let mut sum = analysis::Factored::new(format!("{} {}", situation.id, combination.name));
            let mut state = situation.state.clone();
            for (case, factor) in &combination.factors {
                sum = sum.with(job.number(*case, situation.panels), *factor);
                state = state.and(loads.cases[*case].state.clone());
            }
            answered.push(Answered { situation: s, answer: list.len(), combination, loose, state });
            list.push(sum);
        }
    }
    let cases = job.cases;
    let [pinned, mut loose] = sums;
    // The loose frame is run with the cases it needs alone.
    let used: BTreeSet<usize> = loose.iter().flat_map(|sum| sum.parts.iter().map(|(case, _)| *case)).collect();
    let used: Vec<usize> = used.into_iter().collect();
    for (case, _) in loose.iter_mut().flat_map(|sum| &mut sum.parts) {
        *case = used.partition_point(|used| *used < *case);
    }
    let used: Vec<LoadCase> = used.into_iter().map(|case| cases[case].clone()).collect();
    for a in &mut answered {
        a.answer += if a.loose { used.len() } else { cases.len() };
    }
    // What lifts the frame off or brings it down is a row of its own, not the end of the run.
    let options = Options { keep_lifted: true, ..Options::default() };
    let results = structure.run(&cases, &pinned, &options).map_err(wrong)?;
    let (loose, loose_error) = match run_loose(&skeleton, &used, &loose, &options) {
        Ok(results) => (results, None),
        Err(error) => (None, Some(error)),
    };
    if loose.is_none() {
        answered.retain(|a| !a.loose);
    }
    Ok(TiltRun { row, skeleton, loads, situations, results, loose, answered, frequency_hz, loose_error })
}

/// The loads of a tilt that was run, written out: every equation of [`gather`] under the load it belongs to.
#[must_use]
pub fn derive_loads(design: &Design, frame: &Frame, basis: &StrengthBasis, run: &TiltRun) -> Vec<Chapter> {
    let mut trace = Chapters::default();
    let panels_kg = panel_kg(design) * frame.panels.len() as f64;
    gather(&basis.loads, &run.loads.surface, &roof_stand(design, frame), panels_kg, &mut trace);
    trace.chapters
}

fn run_loose(
    skeleton: &Skeleton,
    cases: &[LoadCase],
    sums: &[analysis::Factored],
    options: &Options,
) -> Result<Option<Results>, AnalysisError> {
    let Some(stay) = skeleton.stays.first() else { return Ok(None) };
    let mut model = skeleton.model.clone();
    model.members_mut()[stay.member.0].way = Way::Slack;
    Arc::new(Structure::build(model)?).run(cases, sums, options).map(Some)
}

/// Steepest roof of the clause for low-slope roofs (deg).
const LOW_SLOPE_DEG: f64 = 7.0;

/// A low-slope roof whose building the design describes; the ground for everything else.
fn roof_stand(design: &Design, frame: &Frame) -> Stand {
    let Some(lies) = design.support.lies_on().filter(|lies| lies.on == Ground::Roof) else { return Stand::Ground };
    let pitch_deg = to_deg(lies.pitch);
    match lies.building {
        Some(building) if pitch_deg <= LOW_SLOPE_DEG => Stand::Roof(Roof {
            height_mm: to_mm(building.height),
            longer_mm: to_mm(building.longer_side),
            shorter_mm: to_mm(building.shorter_side),
            parapet_mm: to_mm(building.parapet),
            slope_deg: pitch_deg,
            along_deg: frame.slope_deg(),
            zone: match building.zone {
                RoofPlace::Inside => RoofZone::Inside,
                RoofPlace::Edge => RoofZone::Edge,
                RoofPlace::Corner => RoofZone::Corner,
            },
            exposed: true,
        }),
        _ => Stand::Ground,
    }
}

/// A frame on a roof: a frame tilted off a pitched roof fits no clause that is held, and the clause for low-slope roofs
/// needs the building's sizes.
fn refuse_roof(loads: &mut TiltLoads, lies: &LiesOn) {
    let why = if to_deg(lies.pitch) > LOW_SLOPE_DEG {
        "a frame tilted off a pitched roof fits no clause that is held; the roof itself is not checked"
    } else if lies.building.is_none() {
        "the clause for low-slope roofs needs height, sides, parapet and zone of the building (`support.runners.building`); the roof itself is not checked"
    } else {
        return;
    };
    let (wind, rest): (Vec<Case>, Vec<Case>) = loads.cases.drain(..).partition(|c| c.action == Action::Wind);
    loads.cases = rest;
    loads.refused.extend(wind.into_iter().map(|case| Refusal {
        id: case.id,
        name: case.name,
        why: why.to_string(),
        way_out: "have an engineer give the wind pressure and check the roof".to_string(),
    }));
}

struct Job<'a> {
    skeleton: &'a Skeleton,
    loads: &'a TiltLoads,
    surface: Surface,
    panel_kg: f64,
    /// Number of each case that is made, by its number among the loads and the panels that are on.
    made: BTreeMap<(usize, PanelsOn), usize>,
    cases: Vec<LoadCase>,
}

impl Job<'_> {
    /// The number of a case with the panels that are on; makes its loads the first time.
    fn number(&mut self, index: usize, on: PanelsOn) -> usize {
        let case = &self.loads.cases[index];
        // A point load is alike whatever panels are on.
        let (on, suffix) = match (case.action, on) {
            (Action::Handling, _) | (_, PanelsOn::All) => (PanelsOn::All, ""),
            (_, PanelsOn::None) => (on, ", panels off"),
            (_, PanelsOn::LeftHalf) => (on, ", left half on"),
            (_, PanelsOn::RightHalf) => (on, ", right half on"),
        };
        *self.made.entry((index, on)).or_insert_with(|| {
            let name = format!("{}{suffix}", case.id);
            self.cases.push(match case.action {
                Action::Dead => self.skeleton.weight(name, self.panel_kg, on),
                _ => self.skeleton.case(name, case, &self.surface, on, self.loads.bare),
            });
            self.cases.len() - 1
        })
    }
}
