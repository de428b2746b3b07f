//! Everything together: rows, the list of checks with a state each, and what may be said.

use super::{
    ground_contact::in_ground,
    kind::Kind,
    row::{Row, State, Worst},
    survey::Survey,
};
use crate::{
    checks::model::{StructureError, TiltRun, run_tilts},
    codes::Codes,
    design::{Design, Seating, StrengthBasis},
    frame::{Frame, HeldBy, Stands},
    loads::{Envelope, RangeState, Refusal},
};
use std::collections::{BTreeMap, BTreeSet};

/// One entry of the fixed list.
#[derive(Debug, Clone)]
pub struct Listed {
    /// Check.
    pub kind: Kind,
    /// Its state.
    pub state: State,
    /// Its largest utilisation, where there is one.
    pub utilisation: Option<f64>,
    /// State of the row with that utilisation.
    pub governing: State,
}

impl Listed {
    /// The state of other rows of the check, where it is worse than that of the row whose number is given.
    #[must_use]
    pub fn others(&self) -> Option<&State> {
        (self.state.word() != self.governing.word()).then_some(&self.state)
    }

    /// State of the governing row and why, then the worse state of other rows, if any.
    #[must_use]
    pub fn in_words(&self) -> String {
        let others = self.others().map_or_else(String::new, |state| format!("; other rows: {}", state.in_words()));
        self.governing.in_words() + &others
    }
}

/// What may be said of the whole.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Some checks fail.
    Fails {
        /// How many of the list.
        checks: usize,
        /// How many rows of theirs, a row for each part.
        rows: usize,
    },
    /// Some check or load has no value: every reason.
    None(Vec<String>),
    /// No utilisation above 1, under these judgement envelopes.
    UnderJudgement(Vec<String>),
    /// No utilisation above 1, all published.
    NoneAboveOne,
}

/// Result of all checks of a design, with the solved tilts `R` it comes from.
#[derive(Debug, Clone)]
pub struct Report<R = Vec<TiltRun>> {
    /// Rows, worst first; those without a number before all others.
    pub rows: Vec<Row>,
    /// The fixed list.
    pub list: Vec<Listed>,
    /// What may be said.
    pub verdict: Verdict,
    /// Load rows for which no value is given, each once.
    pub refused_loads: Vec<Refusal>,
    /// Judgement envelopes that any load rests on.
    pub envelopes: Vec<String>,
    /// Every judgement an engineer must accept, each once.
    pub judgements: Vec<String>,
    /// Every tilt, solved.
    pub runs: R,
}

/// Checks that read the same fields of a design beside those that its model is built from: whoever looks at many designs
/// looks once at what they share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CheckGroup {
    /// Everything that screws, clips and the hole in the ground do not touch.
    Frame,
    /// Screws of the corner braces: `joints.brace`.
    BraceScrews,
    /// Screws between rails and stiles: `joints.corner`.
    CornerScrews,
    /// Purlins and their screws: `joints.purlin`.
    Purlins,
    /// Panels and clips: `joints.clip`, `joints.clips_per_panel`.
    Panels,
    /// Posts in the ground: `support.posts.hole_diameter`.
    Ground,
}

impl CheckGroup {
    /// All of them, in the order they are looked at.
    pub const ALL: [Self; 6] =
        [Self::Frame, Self::BraceScrews, Self::CornerScrews, Self::Purlins, Self::Panels, Self::Ground];
}

/// What the checks of one group found.
#[derive(Debug, Clone)]
pub struct Findings {
    rows: Vec<Row>,
    /// Largest pull at the end of a butted stick (N).
    corner_pull_n: f64,
}

/// What a report says of solved tilts beside the rows.
#[derive(Debug, Clone)]
pub struct Backing {
    refused_loads: Vec<Refusal>,
    envelopes: Vec<String>,
    loose_error: Option<String>,
}

impl Backing {
    /// Of all tilts together.
    #[must_use]
    pub fn of(runs: &[TiltRun]) -> Self {
        let loose_error = runs.iter().find_map(|r| r.loose_error.as_ref()).map(ToString::to_string);
        Self { refused_loads: refused(runs), envelopes: envelopes(runs), loose_error }
    }
}

/// Verifies a design.
///
/// # Errors
/// A frame that cannot be analysed.
pub fn verify(design: &Design, frame: &Frame, basis: &StrengthBasis) -> Result<Report, StructureError> {
    let runs = run_tilts(design, frame, basis)?;
    let found = CheckGroup::ALL.map(|group| look(group, design, frame, basis, &runs));
    let Report { rows, list, verdict, refused_loads, envelopes, judgements, runs: () } =
        report(design, frame, basis, &Backing::of(&runs), found.each_ref());
    Ok(Report { rows, list, verdict, refused_loads, envelopes, judgements, runs })
}

/// Looks at one group of solved tilts.
#[must_use]
pub fn look(group: CheckGroup, design: &Design, frame: &Frame, basis: &StrengthBasis, runs: &[TiltRun]) -> Findings {
    let codes = Codes::of(basis);
    // Actions of a code without its rules and strengths are held against nothing.
    let Ok(rules) = codes.rules() else { return Findings { rows: Vec::new(), corner_pull_n: 0.0 } };
    let worst = Worst::default();
    let mut survey = Survey { design, frame, basis, codes: &codes, rules, runs, worst, corner_pull_n: 0.0 };
    match group {
        CheckGroup::Frame => {
            survey.fallen();
            survey.members();
            survey.bolts();
            survey.stays();
            survey.braces();
            survey.feet_on_surface();
            survey.service();
            survey.ground_contact();
        }
        CheckGroup::BraceScrews => survey.brace_screws(),
        CheckGroup::CornerScrews => survey.corners(),
        CheckGroup::Purlins => survey.seats(),
        CheckGroup::Panels => survey.panels(),
        CheckGroup::Ground => survey.feet_in_soil(),
    }
    let corner_pull_n = survey.corner_pull_n;
    let mut rows = survey.worst.rows();
    rows.iter_mut().for_each(Row::verify_sources);
    Findings { rows, corner_pull_n }
}

/// Puts together what was found on all topics.
#[must_use]
pub fn report(
    design: &Design,
    frame: &Frame,
    basis: &StrengthBasis,
    backing: &Backing,
    found: [&Findings; CheckGroup::ALL.len()],
) -> Report<()> {
    let mut worst = Worst::default();
    found.iter().flat_map(|f| &f.rows).for_each(|row| worst.push(row.clone()));
    let mut rows = worst.rows();
    rows.sort_by(|a, b| {
        let key = |r: &Row| r.utilisation.unwrap_or(f64::INFINITY);
        key(b).total_cmp(&key(a)).then(a.kind.cmp(&b.kind)).then(a.part.cmp(&b.part))
    });
    let pulled = found.iter().map(|f| f.corner_pull_n).fold(0.0, f64::max);
    let list = list(design, frame, basis, backing, &rows, pulled);
    let verdict = verdict(&rows, &list, &backing.envelopes, &backing.refused_loads);
    let (refused_loads, envelopes) = (backing.refused_loads.clone(), backing.envelopes.clone());
    let judgements = judgements(&rows, &list, &envelopes);
    Report { rows, list, verdict, refused_loads, envelopes, judgements, runs: () }
}

impl<R> Report<R> {
    /// Depth below grade that soil and frost ask of posts with a given depth (mm): infinite where none is enough, none where
    /// it was not computed.
    #[must_use]
    pub fn depth_asked_mm(&self, given_mm: f64) -> Option<f64> {
        let of_depth = self.rows.iter().filter(|row| matches!(row.kind, Kind::Embedment | Kind::Frost));
        // Both utilisations are a depth asked for over the depth given.
        of_depth.map(|row| row.utilisation.map_or(f64::INFINITY, |u| u * given_mm)).reduce(f64::max)
    }
}

fn refused(runs: &[TiltRun]) -> Vec<Refusal> {
    let mut all: Vec<Refusal> = Vec::new();
    for refusal in runs.iter().flat_map(|r| &r.loads.refused) {
        if !all.iter().any(|r| r.why == refusal.why && r.id == refusal.id) {
            all.push(refusal.clone());
        }
    }
    all
}

/// The envelopes under which any wind case stands, in order.
fn envelopes(runs: &[TiltRun]) -> Vec<String> {
    let mut reasons: BTreeMap<Envelope, BTreeSet<&str>> = BTreeMap::new();
    for state in runs.iter().flat_map(|r| r.answered.iter().map(|a| &a.state)) {
        if let RangeState::Judgement(envelope, why) = state {
            reasons.entry(*envelope).or_default().insert(why);
        }
    }
    let named = reasons.into_iter().filter_map(|(envelope, why)| Some((envelope.name()?, envelope.definition(), why)));
    let said = named.map(|(name, definition, why)| {
        format!("{name}: {definition}. Needed here because {}", why.into_iter().collect::<Vec<_>>().join(", and "))
    });
    said.collect()
}

/// Every judgement that a result rests on, each once: envelopes in full, then the others in the order of the rows.
fn judgements(rows: &[Row], list: &[Listed], envelopes: &[String]) -> Vec<String> {
    let mut all = envelopes.to_vec();
    for state in rows.iter().map(|row| &row.state).chain(list.iter().map(|listed| &listed.state)) {
        let State::Judgement(why) = state else { continue };
        let named = Envelope::NAMED.into_iter().find(|envelope| envelope.name() == Some(why.as_str()));
        let words = named.map_or_else(|| why.clone(), |envelope| format!("{why}: {}", envelope.definition()));
        let said = |other: &String| *other == words || (named.is_some() && other.starts_with(&format!("{why}:")));
        if !all.iter().any(said) {
            all.push(words);
        }
    }
    all
}

fn list(
    design: &Design,
    frame: &Frame,
    basis: &StrengthBasis,
    backing: &Backing,
    rows: &[Row],
    pulled_n: f64,
) -> Vec<Listed> {
    let codes = Codes::of(basis);
    let rules = codes.rules();
    Kind::ALL
        .into_iter()
        .map(|kind| {
            let of_kind: Vec<&Row> = rows.iter().filter(|r| r.kind == kind).collect();
            let mut state = if of_kind.is_empty() {
                absent(kind, design, frame, basis, backing)
            } else {
                of_kind.iter().fold(State::DoesNotApply(String::new()), |s, r| s.and(r.state.clone()))
            };
            let numbered = of_kind.iter().filter(|r| r.utilisation.is_some());
            let most = numbered.fold(None, |most: Option<&Row>, row| match most {
                Some(most) if most.weight() >= row.weight() => Some(most),
                _ => Some(row),
            });
            let utilisation = most.and_then(|row| row.utilisation);
            let mut governing = most.map_or_else(|| state.clone(), |row| row.state.clone());
            // Below this friction holds a stick's end on its screws; above it wood screws in end grain are forbidden.
            const NOTABLE_PULL_N: f64 = 50.0;
            if let Ok(rules) = &rules
                && kind == Kind::CornerScrews
                && pulled_n > NOTABLE_PULL_N
                && !of_kind.is_empty()
            {
                let refused = State::Refused(format!(
                    "wood screws and nails may not be pulled out of end grain ({}): name lag screws in \
                     `joints.corner`, which may",
                    rules.end_grain
                ));
                (state, governing) = (state.and(refused.clone()), governing.and(refused));
            }
            Listed { kind, state, utilisation, governing }
        })
        .collect()
}

/// Why a check has no row.
fn absent(kind: Kind, design: &Design, frame: &Frame, basis: &StrengthBasis, backing: &Backing) -> State {
    let no = |why: &str| State::DoesNotApply(why.to_string());
    let not = |why: &str| State::NotChecked(why.to_string());
    if let Err(refusal) = Codes::of(basis).rules() {
        return State::of_refusal(&refusal);
    }
    let stands = || State::DoesNotApply(format!("the frame stands on {}", frame.stands_on_word()));
    let in_soil = frame.in_soil().is_some();
    match kind {
        Kind::Brace | Kind::BraceScrews if frame.brace.is_none() => no("the frame has no corner braces"),
        Kind::BraceScrews => not("the design names no screws: `joints.brace`"),
        Kind::CornerScrews => not("the design names no screws: `joints.corner`"),
        Kind::Clips => not("the design names no clips: `joints.clip` and `joints.clips_per_panel`"),
        Kind::Purlins | Kind::Bearing if !matches!(design.frame.seating, Seating::OnPurlins { .. }) => {
            no("the frame has no purlins")
        }
        Kind::BaseBearing if !in_soil => no("the runners lie on a roof or deck"),
        Kind::PostBelowGrade | Kind::Embedment | Kind::Uplift | Kind::Frost | Kind::Sway if !in_soil => stands(),
        Kind::GroundContact if in_ground(frame).next().is_none() => no("no wood stands in the ground or lies on it"),
        // Untreated and untold wood have rows.
        Kind::GroundContact => State::Value,
        Kind::Frost => not("the design gives no frost depth: `soil.frost_depth`"),
        Kind::Ballast | Kind::Stakes | Kind::RoofBrackets | Kind::RoofStructure if in_soil => stands(),
        Kind::Ballast if held_by(frame, HeldBy::Bracket) => no("brackets hold the runners"),
        Kind::Ballast if held_by(frame, HeldBy::Stake) => no("stakes proved by a pull test hold the runners"),
        Kind::Stakes => no("the design has no stakes"),
        Kind::RoofBrackets | Kind::RoofStructure => on_building(kind, frame, basis),
        Kind::TearOut => no("no pin pulls towards an end"),
        Kind::OneStayLoose => match &backing.loose_error {
            Some(error) => State::Refused(format!("with one stay loose: {error}")),
            None => not("no combination was looked at"),
        },
        Kind::HungShear => no("no wooden member hangs from a bolt; bearing in steel stands with its bolts"),
        Kind::MemberBending
        | Kind::MemberShear
        | Kind::MemberTorsion
        | Kind::NetSection
        | Kind::Stay
        | Kind::Axle
        | Kind::FramePin
        | Kind::FixedPin
        | Kind::Brace
        | Kind::Bearing
        | Kind::PanelLoad
        | Kind::Purlins
        | Kind::PostBelowGrade
        | Kind::Embedment
        | Kind::BaseBearing
        | Kind::Uplift
        | Kind::Ballast
        | Kind::Deflection
        | Kind::Twist
        | Kind::Sway
        | Kind::Frequency => not("nothing was looked at"),
    }
}

fn held_by(frame: &Frame, by: HeldBy) -> bool {
    frame.feet.iter().flat_map(|foot| &foot.holds).any(|hold| hold.by == by)
}

/// Why a check of what carries the feet on a building has no row.
fn on_building(kind: Kind, frame: &Frame, basis: &StrengthBasis) -> State {
    let no = |why: &str| State::DoesNotApply(why.to_string());
    let not = |why: &str| State::NotChecked(why.to_string());
    let what = match frame.feet.first().map(|foot| foot.stands) {
        Some(Stands::OnRoof) => "roof",
        Some(Stands::OnDeck) => "deck or trailer",
        Some(Stands::OnGround | Stands::InConcrete { .. }) | None => {
            return no("the frame does not stand on a roof or deck");
        }
    };
    if kind == Kind::RoofStructure {
        return not(&format!("whether the {what} carries the frame is for an engineer to say"));
    }
    match basis.ballast {
        Some(_) => no("ballast holds the runners"),
        None => not("the design names no brackets (`support.runners.tie_downs`) and no ballast"),
    }
}

fn verdict(rows: &[Row], list: &[Listed], envelopes: &[String], refused: &[Refusal]) -> Verdict {
    let failing = || rows.iter().filter(|row| row.fails());
    if failing().next().is_some() {
        let checks = failing().map(|row| row.kind).collect::<BTreeSet<_>>().len();
        return Verdict::Fails { checks, rows: failing().count() };
    }
    let mut said = BTreeSet::new();
    let loads = refused.iter().filter(|refusal| said.insert(&refusal.why));
    let mut reasons: Vec<String> = loads.map(|refusal| format!("{}: {}", refusal.name, refusal.why)).collect();
    reasons.extend(open_checks(list));
    if !reasons.is_empty() {
        return Verdict::None(reasons);
    }
    let judged = list.iter().any(|l| matches!(l.state, State::Judgement(_)));
    if judged || !envelopes.is_empty() {
        return Verdict::UnderJudgement(envelopes.to_vec());
    }
    Verdict::NoneAboveOne
}

/// Checks without a value of their own, those with the same reason together.
fn open_checks(list: &[Listed]) -> Vec<String> {
    // More names than these hide the reason that they share.
    const NAMED: usize = 4;
    let mut groups: Vec<(&State, Vec<&str>)> = Vec::new();
    let open = |l: &&Listed| matches!(l.state, State::Refused(_) | State::NotChecked(_) | State::UnverifiedSource(_));
    for listed in list.iter().filter(open) {
        match groups.iter_mut().find(|(state, _)| **state == listed.state) {
            Some((_, names)) => names.push(listed.kind.words()),
            None => groups.push((&listed.state, vec![listed.kind.words()])),
        }
    }
    let said = groups.into_iter().map(|(state, names)| {
        let all = if names.len() > NAMED { format!("{} checks", names.len()) } else { names.join("; ") };
        format!("{all}: {} ({})", state.word(), state.why())
    });
    said.collect()
}

impl Verdict {
    /// The sentence that is printed.
    #[must_use]
    pub fn sentence(&self) -> String {
        match self {
            Self::Fails { checks: 1, rows: 1 } => "1 check fails: a utilisation above 1".to_string(),
            Self::Fails { checks, rows } => {
                let fail = if *checks == 1 { "1 check fails".to_string() } else { format!("{checks} checks fail") };
                let where_ = if rows == checks { String::new() } else { format!(", in {rows} rows") };
                format!("{fail}{where_}: utilisations above 1")
            }
            Self::None(reasons) => match reasons.as_slice() {
                [] => "no verdict can be given".to_string(),
                [one] => format!("no verdict can be given ({one})"),
                [first, more @ ..] => format!("no verdict can be given ({first}; and {} more)", more.len()),
            },
            Self::UnderJudgement(envelopes) => {
                let names: Vec<&str> = envelopes.iter().map(|e| e.split(':').next().unwrap_or(e)).collect();
                let under = match names.as_slice() {
                    [] => "stated judgements".to_string(),
                    [one] => format!("judgement envelope {one}"),
                    many => format!("judgement envelopes {}", many.join(" and ")),
                };
                format!("no utilisation above 1 under {under}; an engineer must accept it")
            }
            Self::NoneAboveOne => "no utilisation above 1".to_string(),
        }
    }

    /// Every reason why no verdict can be given.
    #[must_use]
    pub fn reasons(&self) -> &[String] {
        match self {
            Self::None(reasons) => reasons,
            _ => &[],
        }
    }

    /// May exit code 0 be given?
    #[must_use]
    pub fn holds(&self) -> bool {
        matches!(self, Self::UnderJudgement(_) | Self::NoneAboveOne)
    }
}
