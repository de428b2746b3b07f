//! The search: bills of all candidates, then checks in ascending order until one passes.

use super::{
    bill::{Goal, Pricer},
    judged::{Judged, LeftOpen, rows_failing},
    refused::{SizeError, basis_of, nothing_known},
    solved::Solved,
    space::{Axis, Space},
};
use crate::{
    checks::verify::{Kind, Outcome, Report, verify},
    design::{Design, Fault},
    frame::{Frame, Refusal, lay_out},
    quantities::{Angle, Tape},
};
use rayon::prelude::*;
use std::{
    collections::{BTreeMap, BTreeSet, HashMap, VecDeque},
    sync::Arc,
    time::{Duration, Instant},
};

/// Told how far a search is.
pub trait Watch: Sync {
    /// So many of all layouts are made.
    fn laying_out(&self, done: usize, of: usize);
    /// So many of all candidates that can be laid out are judged.
    fn judging(&self, done: usize, of: usize);
}

/// A watch that looks away.
impl Watch for () {
    fn laying_out(&self, _done: usize, _of: usize) {}
    fn judging(&self, _done: usize, _of: usize) {}
}

/// Every check of a design that is laid out.
fn report_of(design: &Design, frame: &Frame) -> Result<Report, SizeError> {
    verify(design, frame, &basis_of(design)?).map_err(SizeError::Structure)
}

/// What became of the candidates.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Counts {
    /// All there are.
    pub all: usize,
    /// Laid out, with sticks that can be bought.
    pub laid_out: usize,
    /// Refused before, by reason.
    pub refused: BTreeMap<String, usize>,
    /// Shown failing on a part of the tilts or checks.
    pub on_part: usize,
    /// Judged by every check at every tilt.
    pub complete: usize,
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Counts, up to the one that was chosen.
    pub counts: Counts,
    /// The cheapest or lightest that passes.
    pub chosen: Option<Judged>,
    /// The next cheaper ones, dearest first, each shown failing by every check.
    pub cheaper: Vec<Judged>,
    /// Where none passes: the one that comes nearest.
    pub nearest: Option<Judged>,
    /// Goods without a price, of which every candidate needs the same.
    pub unpriced: Vec<String>,
    /// Candidates whose cut plan is not proven optimal.
    pub unproven: usize,
    /// Time taken by the checks; depends on the machine.
    pub judging: Duration,
}

/// A search over a space.
pub struct Search<'a> {
    /// What may vary.
    pub space: &'a Space,
    /// Tilts wanted.
    pub tilts: &'a [Angle],
    /// Tape of the builder.
    pub tape: Tape,
    /// What is to be least.
    pub goal: Goal,
    /// Leave out what a part of the checks shows failing; the answer is the same without.
    pub prune: bool,
}

/// One candidate that can be laid out and bought.
#[derive(Debug, Clone, Copy)]
struct Entry {
    amount: i64,
    candidate: usize,
}

/// What is known of a candidate after it was looked at.
enum Look {
    /// Its sizes are known to fail whatever screws are chosen.
    Known,
    /// Fails at one tilt, by this row: the worst that no screw changes, otherwise the worst of all.
    OnPart(Outcome),
    /// Judged by every check, with the worst failing row that no screw changes, and the number of the tilt at which its
    /// worst failing row stands.
    Complete { judged: Judged, own: Option<Outcome>, tilt: Option<usize> },
}

/// Candidates of one model by their place, and the model where it was solved.
type Looked = (Vec<(usize, Look)>, Option<Arc<Solved>>);

fn unknown(entry: Entry, why: String) -> Look {
    Look::Complete { judged: nothing_known(entry.candidate, entry.amount, why), own: None, tilt: None }
}

/// Cheaper candidates shown failing beside the chosen one.
const CHEAPER: usize = 3;
/// Candidates judged together at first and at most; fixed numbers, so that counts do not depend on the machine.
const FIRST_CHUNK: usize = 4;
const LAST_CHUNK: usize = 256;
/// Solved models kept for later candidates that share them, the newest; about 60 kB each.
const MOST_KEPT: usize = 512;
/// Candidates judged completely to find the one that comes nearest.
const NEAREST_TRIES: usize = 64;

impl Search<'_> {
    /// The design as it is written, judged: what it leaves open, and its checks.
    ///
    /// # Errors
    /// A design that cannot be laid out or analysed, or of which nothing is checked.
    pub fn as_written(&self) -> Result<(LeftOpen, Judged), SizeError> {
        let design = self.space.open().design();
        let frame = lay_out(design, self.tilts, self.tape)
            .map_err(|refusals| SizeError::Design(refusals.iter().map(|r| r.fault(self.tape.units())).collect()))?;
        let report = report_of(design, &frame)?;
        if report.rows.iter().all(|row| row.utilisation.is_none()) {
            return Err(SizeError::NothingChecked(report.verdict.sentence()));
        }
        let left_open = LeftOpen::of(&report);
        let bill = Pricer::default().bill(design, &frame, self.goal);
        let judged = left_open.judge(usize::MAX, bill.map_or(0, |b| b.amount), &report);
        Ok((left_open, judged))
    }

    /// Searches.
    ///
    /// # Errors
    /// Prices that are missing.
    pub fn run(&self, left_open: &LeftOpen, watch: &dyn Watch) -> Result<Found, SizeError> {
        let mut found = Found {
            counts: Counts { all: self.space.count(), ..Counts::default() },
            chosen: None,
            cheaper: Vec::new(),
            nearest: None,
            unpriced: Vec::new(),
            unproven: 0,
            judging: Duration::ZERO,
        };
        let order = self.bills(&mut found, watch)?;
        let began = Instant::now();
        let mut judge = Judge::new(self, left_open, order.len());
        let at = judge.first_that_passes(&order, watch);
        found.counts.on_part = judge.on_part;
        found.counts.complete = judge.complete;
        found.chosen = judge.chosen.take();
        found.judging = began.elapsed();
        match at {
            Some(at) => {
                let from = at.saturating_sub(CHEAPER);
                found.cheaper =
                    order[from..at].par_iter().rev().map(|entry| self.completely(left_open, *entry)).collect();
            }
            None => found.nearest = judge.nearest(&order),
        }
        Ok(found)
    }

    /// Judges one candidate by every check, as `strength` does.
    fn completely(&self, left_open: &LeftOpen, entry: Entry) -> Judged {
        match self.lay(entry.candidate) {
            Ok((design, frame)) => self.judged(left_open, entry, &design, &frame),
            Err((code, why)) => nothing_known(entry.candidate, entry.amount, format!("{code}: {why}")),
        }
    }

    fn judged(&self, left_open: &LeftOpen, entry: Entry, design: &Design, frame: &Frame) -> Judged {
        match report_of(design, frame) {
            Ok(report) => left_open.judge(entry.candidate, entry.amount, &report),
            Err(error) => nothing_known(entry.candidate, entry.amount, error.why()),
        }
    }

    /// The design and the frame of a candidate.
    fn lay(&self, candidate: usize) -> Result<(Design, Frame), (String, String)> {
        let of_fault = |fault: &Fault| (fault.code.to_string(), fault.sentence.clone());
        let unknown = || ("refused".to_string(), String::new());
        let design = self.space.design(candidate).map_err(|f| f.first().map_or_else(unknown, of_fault))?;
        let frame = lay_out(&design, self.tilts, self.tape)
            .map_err(|refusals| refusals.first().map_or_else(unknown, |r| of_fault(&r.fault(self.tape.units()))))?;
        Ok((design, frame))
    }

    /// Every candidate that can be laid out and bought, the least first; equal ones by their number.
    fn bills(&self, found: &mut Found, watch: &dyn Watch) -> Result<Vec<Entry>, SizeError> {
        let count = self.space.count();
        let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for candidate in 0..count {
            groups.entry(self.space.shared(candidate, Axis::moves_the_frame)).or_default().push(candidate);
        }
        let groups: Vec<Vec<usize>> = groups.into_values().collect();
        let pricer = Pricer::default();
        let done = std::sync::atomic::AtomicUsize::new(0);
        let priced: Vec<Vec<_>> = groups
            .par_iter()
            .map(|members| {
                let bills = self.bills_of(members, &pricer);
                let now = done.fetch_add(1, std::sync::atomic::Ordering::Relaxed) + 1;
                watch.laying_out(now, groups.len());
                bills
            })
            .collect();
        let mut missing = Missing::default();
        let mut order = Vec::new();
        for (candidate, bill) in priced.into_iter().flatten() {
            match bill {
                Ok(bill) => {
                    found.unproven += usize::from(!bill.proven);
                    missing.add(bill.missing);
                    order.push(Entry { amount: bill.amount, candidate });
                }
                Err(code) => *found.counts.refused.entry(code).or_default() += 1,
            }
        }
        found.counts.laid_out = order.len();
        found.unpriced = missing.settle().map_err(SizeError::PricesMissing)?;
        order.sort_by_key(|entry| (entry.amount, entry.candidate));
        Ok(order)
    }

    /// Bills of candidates that share their frame but for screws, ballast and the hole in the ground.
    fn bills_of(&self, members: &[usize], pricer: &Pricer) -> Vec<(usize, Result<super::bill::Bill, String>)> {
        let code = |refusals: &[Refusal]| refusals.first().map_or("refused", |r| r.code()).to_string();
        let mut shared: Option<Result<Frame, String>> = None;
        members
            .iter()
            .map(|&candidate| {
                let design = match self.space.design(candidate) {
                    Ok(design) => design,
                    Err(faults) => {
                        return (candidate, Err(faults.first().map_or("refused", |f| f.code).to_string()));
                    }
                };
                let bill =
                    |frame: &Frame| pricer.bill(&design, frame, self.goal).map_err(|_| "cannot-be-cut".to_string());
                let bill = match &mut shared {
                    Some(Ok(frame)) => frame.stand_as(&design).map_err(|r| code(&r)).and_then(|()| bill(frame)),
                    Some(Err(code)) => Err(code.clone()),
                    None => match lay_out(&design, self.tilts, self.tape) {
                        Ok(frame) => {
                            let bill = bill(&frame);
                            shared = Some(Ok(frame));
                            bill
                        }
                        Err(refusals) => {
                            // Another candidate's screws may find room in the same frame.
                            if !refusals.iter().all(Refusal::is_of_fasteners) {
                                shared = Some(Err(code(&refusals)));
                            }
                            Err(code(&refusals))
                        }
                    },
                };
                (candidate, bill)
            })
            .collect()
    }
}

/// Goods without a price: harmless while every candidate needs the same of them.
#[derive(Default)]
struct Missing {
    first: Option<BTreeMap<String, String>>,
    differing: BTreeSet<String>,
}

impl Missing {
    fn add(&mut self, missing: BTreeMap<String, String>) {
        let Some(first) = &self.first else {
            self.first = Some(missing);
            return;
        };
        for (row, amount) in &missing {
            if first.get(row) != Some(amount) {
                self.differing.insert(row.clone());
            }
        }
        for row in first.keys().filter(|row| !missing.contains_key(*row)) {
            self.differing.insert(row.clone());
        }
    }

    fn settle(self) -> Result<Vec<String>, Vec<String>> {
        if self.differing.is_empty() {
            Ok(self.first.unwrap_or_default().into_keys().collect())
        } else {
            Err(self.differing.into_iter().collect())
        }
    }
}

/// The second half: candidates in order, and what is learned on the way.
struct Judge<'a> {
    search: &'a Search<'a>,
    left_open: &'a LeftOpen,
    /// How often the worst failing row stood at each hole, lowest tilt first.
    tally: Vec<usize>,
    /// Sizes that fail whatever screws are chosen, with their worst utilisation.
    failed: HashMap<usize, f64>,
    /// A utilisation that each candidate, in order, is known to reach.
    reached: Vec<f64>,
    on_part: usize,
    complete: usize,
    chosen: Option<Judged>,
    /// Checks of models solved so far, by what the model hangs on, and in which order they came.
    kept: HashMap<usize, Arc<Solved>>,
    kept_order: VecDeque<usize>,
}

impl<'a> Judge<'a> {
    fn new(search: &'a Search<'a>, left_open: &'a LeftOpen, count: usize) -> Self {
        Self {
            search,
            left_open,
            tally: Vec::new(),
            failed: HashMap::new(),
            reached: vec![0.0; count],
            on_part: 0,
            complete: 0,
            chosen: None,
            kept: HashMap::new(),
            kept_order: VecDeque::new(),
        }
    }

    /// What a candidate shares with those that differ only in screws.
    fn structure(&self, candidate: usize) -> usize {
        self.search.space.shared(candidate, |axis| !axis.is_joint())
    }

    fn first_that_passes(&mut self, order: &[Entry], watch: &dyn Watch) -> Option<usize> {
        let mut from = 0;
        let mut size = FIRST_CHUNK;
        while from < order.len() {
            let to = (from + size).min(order.len());
            let looks = self.look_at(&order[from..to]);
            for (i, look) in looks.into_iter().enumerate() {
                let at = from + i;
                let structure = self.structure(order[at].candidate);
                match look {
                    Look::Known => {
                        self.on_part += 1;
                        self.reached[at] = self.failed.get(&structure).copied().unwrap_or(0.0);
                    }
                    Look::OnPart(row) => {
                        self.on_part += 1;
                        self.learn(at, structure, row.weight(), Some(&row));
                    }
                    Look::Complete { judged, own, tilt } => {
                        self.complete += 1;
                        if judged.passes() {
                            self.chosen = Some(judged);
                            return Some(at);
                        }
                        if let Some(tilt) = tilt {
                            self.tally.resize(self.tally.len().max(tilt + 1), 0);
                            self.tally[tilt] += 1;
                        }
                        self.learn(at, structure, judged.worst(), own.as_ref());
                    }
                }
            }
            from = to;
            size = (size * 2).min(LAST_CHUNK);
            watch.judging(from, order.len());
        }
        None
    }

    /// Looks at candidates side by side, those of one model together; answers in the order given.
    fn look_at(&mut self, entries: &[Entry]) -> Vec<Look> {
        let space = self.search.space;
        let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (at, entry) in entries.iter().enumerate() {
            groups.entry(space.shared(entry.candidate, |axis| space.moves_the_model(axis))).or_default().push(at);
        }
        let groups: Vec<(usize, Vec<usize>)> = groups.into_iter().collect();
        let this = &*self;
        let looked: Vec<Looked> = groups
            .par_iter()
            .map(|(model, members)| {
                let mut solved = this.kept.get(model).cloned();
                let looks = members.iter().map(|&at| (at, this.look(entries, members, at, &mut solved))).collect();
                (looks, solved)
            })
            .collect();
        let mut looks: Vec<(usize, Look)> = Vec::with_capacity(entries.len());
        for ((model, _), (own, solved)) in groups.into_iter().zip(looked) {
            looks.extend(own);
            if let Some(solved) = solved {
                self.keep(model, solved);
            }
        }
        looks.sort_by_key(|(at, _)| *at);
        looks.into_iter().map(|(_, look)| look).collect()
    }

    fn keep(&mut self, model: usize, solved: Arc<Solved>) {
        if self.kept.insert(model, solved).is_none() {
            self.kept_order.push_back(model);
        }
        while self.kept_order.len() > MOST_KEPT {
            self.kept_order.pop_front().map(|oldest| self.kept.remove(&oldest));
        }
    }

    /// One candidate; `members` share its model, which is solved for all of them when it has to be.
    fn look(&self, entries: &[Entry], members: &[usize], at: usize, solved: &mut Option<Arc<Solved>>) -> Look {
        let (search, entry) = (self.search, entries[at]);
        if search.prune && self.failed.contains_key(&self.structure(entry.candidate)) {
            return Look::Known;
        }
        let solved = match solved {
            Some(known) if known.covers(search.space, entry.candidate) => known,
            _ => {
                let (design, frame) = match search.lay(entry.candidate) {
                    Ok(laid) => laid,
                    Err((code, why)) => return unknown(entry, format!("{code}: {why}")),
                };
                // One tilt is sooner solved than all, but what all tilts say serves every member.
                if search.prune
                    && members.len() < frame.row.len()
                    && let Some(row) = self.fails_at_the_usual_tilt(&design, &frame)
                {
                    return Look::OnPart(row);
                }
                let all = members.iter().map(|&m| entries[m].candidate);
                match Solved::of(search.space, &design, frame, all) {
                    Ok(fresh) => &*solved.insert(Arc::new(fresh)),
                    Err(error) => return unknown(entry, error.why()),
                }
            }
        };
        let judged = solved.judge(search.space, self.left_open, entry.candidate, entry.amount);
        let own = judged.failing.iter().find(|row| is_of_the_structure(row)).cloned();
        let tilt = judged.failing.first().and_then(|row| row.tilt_deg).and_then(|tilt| solved.tilt(tilt));
        Look::Complete { judged, own, tilt }
    }

    /// The worst failing row at the tilt where candidates failed most often so far. A row that fails at one tilt fails
    /// in the whole, which keeps the worst of all tilts.
    fn fails_at_the_usual_tilt(&self, design: &Design, frame: &Frame) -> Option<Outcome> {
        let most = self.tally.iter().max()?;
        let usual = self.tally.iter().position(|n| n == most)?;
        let (_, row) = *frame.reached().get(usual)?;
        let mut one = frame.clone();
        one.row = vec![frame.row[row].clone()];
        let report = report_of(design, &one).ok()?;
        let failing: Vec<Outcome> = rows_failing(&report.rows).collect();
        let own = failing.iter().find(|row| is_of_the_structure(row));
        own.or_else(|| failing.first()).cloned()
    }

    fn learn(&mut self, at: usize, structure: usize, worst: f64, own: Option<&Outcome>) {
        self.reached[at] = worst;
        if let Some(row) = own.filter(|row| is_of_the_structure(row)) {
            let known = self.failed.entry(structure).or_insert(0.0);
            *known = known.max(row.weight());
        }
    }

    /// The candidate whose worst check is least: bounds are raised one after the other until the least is no bound.
    fn nearest(&mut self, order: &[Entry]) -> Option<Judged> {
        let mut whole: HashMap<usize, Judged> = HashMap::new();
        let least = |reached: &[f64]| (0..reached.len()).min_by(|a, b| reached[*a].total_cmp(&reached[*b]));
        for _ in 0..NEAREST_TRIES {
            let at = least(&self.reached)?;
            if let Some(judged) = whole.remove(&at) {
                return Some(judged);
            }
            let judged = self.search.completely(self.left_open, order[at]);
            self.reached[at] = self.reached[at].max(judged.worst());
            whole.insert(at, judged);
        }
        let at = least(&self.reached)?;
        Some(self.search.completely(self.left_open, order[at]))
    }
}

/// Does a row hang on nothing that screws or clips change?
fn is_of_the_structure(row: &Outcome) -> bool {
    !matches!(row.kind, Kind::BraceScrews | Kind::CornerScrews | Kind::Clips | Kind::Purlins | Kind::OneStayLoose)
}
