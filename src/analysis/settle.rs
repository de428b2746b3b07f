//! Combinations that linear sums do not answer: second-order effect and one-way parts, iterated together.

use std::collections::BTreeMap;

use super::assemble::{State, Structure};
use super::contact::{Lifts, Outcome};
use super::error::AnalysisError;
use super::mechanism::Fall;
use super::member::{Natural, Prepared};
use super::model::Way;
use super::results::{Loads, Order, Results, row_length};
use super::soften::Softest;
use super::sparse::{FEW_LANES, Sparse};
use super::together::{ROUNDING, SETTLED, Settled, Together};

/// When the second-order effect is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SecondOrder {
    /// Never.
    Never,
    /// For combinations whose critical load factor is below [`Options::matters_below`].
    #[default]
    WhereItMatters,
    /// For every combination.
    Always,
}

/// How combinations are treated.
///
/// A combination is iterated by itself when
/// - its linear sum pulls on a closed one-way support or presses a tie (or pulls a bearing strut), or
/// - its critical load factor `α_cr` is below `matters_below`. `α_cr` is an estimate on the safe side of the lowest
///   factor on the member forces at which the frame buckles: tension does not stiffen, and `1/α_cr` is the sum of what
///   moving nodes and the most bowed member between its nodes give by themselves. A pin-ended member without loads
///   across it counts only when it buckles by itself; axial members' own buckling is left to their check.
///
/// A first-order sway grows by about `1 / (1 − 1/α_cr)`, so 10 means: iterate where it would grow by more than a ninth.
/// Below that EN 1993-1-1:2005 §5.2.1(3) allows first order for elastic analysis (M: from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Options {
    /// When the second-order effect is counted.
    pub second_order: SecondOrder,
    /// Critical load factor below which it matters.
    pub matters_below: f64,
    /// A combination that lifts the frame off its one-way supports, buckles it or finds no rest keeps its linear sum as
    /// [`Order::Lifted`] or [`Order::Fails`] instead of ending the run.
    pub keep_lifted: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { second_order: SecondOrder::default(), matters_below: 10.0, keep_lifted: false }
    }
}

impl Options {
    /// Linear members throughout; one-way parts are still iterated.
    #[must_use]
    pub fn first_order() -> Self {
        Self { second_order: SecondOrder::Never, ..Self::default() }
    }
}

/// A force is a wrong way, or a gap closed, from this share of the greatest of its kind.
const TOUCH: f64 = 1e-9;
const MOST_ROUNDS: usize = 100;

/// A one-way part that acts while it should not, or the reverse, with how much (share of the greatest of its kind).
#[derive(Debug, Clone, Copy)]
struct Wrong {
    part: Part,
    share: f64,
}

#[derive(Debug, Clone, Copy)]
enum Part {
    Contact(usize),
    Member(usize),
}

/// Works through the combinations of one structure; keeps its matrix from one to the next.
pub(super) struct Settler<'s> {
    structure: &'s Structure,
    options: Options,
    matrix: Sparse,
    naturals: Vec<Natural>,
    state: State,
    row: Vec<f64>,
    is_one_way: bool,
}

/// Which combinations need second order, and the shapes that were asked.
struct Leaning {
    is: Vec<bool>,
    shapes: Option<Softest>,
}

impl<'s> Settler<'s> {
    pub(super) fn new(structure: &'s Structure, options: Options) -> Self {
        let naturals = structure.naturals.clone();
        let state = structure.start.clone();
        let is_one_way = !structure.contacts.is_empty() || structure.members.iter().any(|m| one_way_sign(m) != 0.0);
        Self { structure, options, matrix: Sparse::default(), naturals, state, row: Vec::new(), is_one_way }
    }

    pub(super) fn settle(&mut self, results: &mut Results) -> Result<(), AnalysisError> {
        let leaning = self.leaning(results);
        let all = results.cases..results.len();
        let leans: Vec<usize> = all.clone().filter(|k| leaning.is[k - results.cases]).collect();
        if let (Some(shapes), false) = (&leaning.shapes, self.is_one_way) {
            self.settle_together(results, shapes, &leans);
        }
        let lifts = if self.is_one_way { Lifts::of(self.structure) } else { None };
        let mut rested: BTreeMap<Vec<bool>, Vec<usize>> = BTreeMap::new();
        for k in all {
            let second = leaning.is[k - results.cases];
            if results.own[k].is_some() || !second && !self.is_one_way {
                continue;
            }
            let mut row = results.row(k);
            if !second && self.wrong(&self.structure.start, &[], &row).is_empty() {
                continue;
            }
            match (second, lifts.as_ref().map(|lifts| lifts.settle(self.structure, &mut row))) {
                (false, Some(Outcome::Rests(state))) => {
                    results.keep(k, &row);
                    let open = self.open(&state);
                    results.orders[k] = Order::Iterated { compression: Vec::new(), open, rounds: 1 };
                    rested.entry(state.closed).or_default().push(k);
                }
                (false, Some(Outcome::LiftsOff)) if self.options.keep_lifted => results.orders[k] = Order::Lifted,
                // Second order starts from the contacts of the first-order answer; where nothing holds, the iteration
                // names what is left loose.
                (_, Some(Outcome::Rests(state))) => self.iterate_into(results, k, second, state)?,
                _ => self.iterate_into(results, k, second, self.structure.start.clone())?,
            }
        }
        self.lean_again(results, rested)
    }

    fn iterate_into(
        &mut self,
        results: &mut Results,
        k: usize,
        second: bool,
        start: State,
    ) -> Result<(), AnalysisError> {
        self.make_room();
        let mut outcome = self.iterate(results, k, second, start.clone());
        if let (false, Ok(order)) = (second, &outcome)
            && self.leans_now(order, &results.loads)
        {
            outcome = self.iterate(results, k, true, start);
        }
        match outcome {
            Ok(order) => {
                results.keep(k, &self.row);
                results.orders[k] = order;
            }
            Err(
                error @ (AnalysisError::NotHeld { .. }
                | AnalysisError::Buckles { .. }
                | AnalysisError::NotSettled { .. }),
            ) if self.options.keep_lifted => {
                // The sum of its cases stands again.
                results.own[k] = None;
                results.orders[k] = match error {
                    AnalysisError::NotHeld { .. } => Order::Lifted,
                    error => Order::Fails { why: error.to_string() },
                };
            }
            Err(error) => return Err(error),
        }
        Ok(())
    }

    fn make_room(&mut self) {
        if self.row.is_empty() {
            self.row = vec![0.0; row_length(self.structure)];
            self.matrix = self.structure.factors.clone();
        }
    }

    /// A frame that rests on fewer contacts is softer: the second-order effect is judged again, by one bound for all
    /// combinations that rest on the same ones.
    fn lean_again(
        &mut self,
        results: &mut Results,
        rested: BTreeMap<Vec<bool>, Vec<usize>>,
    ) -> Result<(), AnalysisError> {
        if self.options.second_order != SecondOrder::WhereItMatters {
            return Ok(());
        }
        let structure = self.structure;
        let limit = 1.0 / self.options.matters_below;
        let loaded = results.loads.loaded(structure.members.len());
        let pressed =
            |results: &Results, k: usize| results.compressions(k).into_iter().map(|c| c.max(0.0)).collect::<Vec<f64>>();
        for (closed, group) in rested {
            let state = State { closed, ..structure.start.clone() };
            self.make_room();
            structure.assemble(&structure.naturals, &state, &mut self.matrix);
            // Balanced on an edge: statics has the last word there.
            if structure.factor(&mut self.matrix, &structure.naturals, &state, &[]).is_err() {
                continue;
            }
            let mut greatest = vec![0.0_f64; structure.members.len()];
            for &k in &group {
                greatest.iter_mut().zip(pressed(results, k)).for_each(|(g, c)| *g = g.max(c));
            }
            let soft = |own: &[f64], matrix: &Sparse| {
                structure.softening_now(matrix, &structure.naturals, &state, own, &loaded, limit) >= limit
            };
            if !soft(&greatest, &self.matrix) {
                continue;
            }
            let leaning: Vec<usize> = group.into_iter().filter(|&k| soft(&pressed(results, k), &self.matrix)).collect();
            for k in leaning {
                self.iterate_into(results, k, true, state.clone())?;
            }
        }
        Ok(())
    }

    /// Second order of a frame whose every part acts both ways, as far as its linear factors lead.
    fn settle_together(&self, results: &mut Results, shapes: &Softest, leans: &[usize]) {
        let mut together = Together::new(self.structure, shapes);
        for ks in leans.chunks(FEW_LANES) {
            for Settled { k, row, compression, rounds } in together.settle(results, ks) {
                results.keep(k, &row);
                results.orders[k] = Order::Iterated { compression, open: Vec::new(), rounds };
            }
        }
    }

    /// Which combinations need second order. One bound for all often answers: the greatest compression of each member
    /// over all combinations softens at least as much as any single one.
    fn leaning(&self, results: &Results) -> Leaning {
        let (count, members) = (results.len() - results.cases, self.structure.members.len());
        if self.options.second_order == SecondOrder::Never {
            return Leaning { is: vec![false; count], shapes: None };
        }
        let pressed = results.pressed();
        let mut greatest = vec![0.0_f64; members];
        for own in &pressed {
            greatest.iter_mut().zip(own).for_each(|(g, c)| *g = g.max(*c));
        }
        let (limit, loaded) = (1.0 / self.options.matters_below, results.loads.loaded(members));
        let always = self.options.second_order == SecondOrder::Always;
        if !always && !self.structure.softens(None, &greatest, &loaded, limit) {
            return Leaning { is: vec![false; count], shapes: None };
        }
        let shapes = self.structure.softest(&greatest);
        if always {
            return Leaning { is: vec![true; count], shapes };
        }
        let softens = |own: &[f64]| self.structure.softens(shapes.as_ref(), own, &loaded, limit);
        let is = pressed.iter().map(|own| softens(own)).collect();
        Leaning { is, shapes }
    }

    /// Whether the frame that is left after parts have opened needs second order, though the whole one did not.
    fn leans_now(&self, order: &Order, loads: &Loads) -> bool {
        let Order::Iterated { open, .. } = order else { return false };
        if open.is_empty() || self.options.second_order != SecondOrder::WhereItMatters {
            return false;
        }
        let pressed: Vec<f64> = compressions(self.structure, &self.row).iter().map(|c| c.max(0.0)).collect();
        let limit = 1.0 / self.options.matters_below;
        let loaded = loads.loaded(pressed.len());
        let (matrix, naturals) = (&self.matrix, &self.naturals);
        self.structure.softening_now(matrix, naturals, &self.state, &pressed, &loaded, limit) >= limit
    }

    fn iterate(&mut self, results: &Results, k: usize, second: bool, start: State) -> Result<Order, AnalysisError> {
        let structure = self.structure;
        let mut state = start;
        let mut u = vec![0.0; structure.unknowns()];
        self.row.copy_from_slice(&results.row(k));
        let mut compression = vec![0.0; structure.members.len()];
        if second {
            compression = compressions(structure, &self.row);
        }
        let mut seen: Vec<State> = Vec::new();
        let mut last_change: Option<(State, Vec<Wrong>)> = None;
        // The linear sum with every part acting is the first look at the one-way parts.
        let mut wrong = if second { Vec::new() } else { self.wrong(&state, &u, &self.row) };
        let mut last_move = f64::INFINITY;
        for round in 1..=MOST_ROUNDS {
            if !wrong.is_empty() {
                last_change = Some((state.clone(), wrong.clone()));
                let one_by_one = seen.contains(&flipped(&state, &wrong));
                seen.push(state.clone());
                state = flipped(&state, if one_by_one { &wrong[..1] } else { &wrong });
            }
            match self.solve(results, k, second, &state, &compression, &mut u) {
                Ok(()) => {}
                Err(Fall::Buckles(part)) => {
                    return Err(AnalysisError::Buckles { combination: results.labels[k].clone(), part });
                }
                // Too many parts opened at once: go back and open the worst only.
                Err(Fall::Mechanism(source)) => match last_change.take() {
                    Some((before, all)) if all.len() > 1 => {
                        (state, wrong) = (before, all[..1].to_vec());
                        continue;
                    }
                    _ => return Err(self.not_held(results, k, &state, source)),
                },
            }
            let now = if second { compressions(structure, &self.row) } else { Vec::new() };
            wrong = self.wrong(&state, &u, &self.row);
            let greatest = now.iter().fold(0.0_f64, |a, c| a.max(c.abs()));
            let moved = now.iter().zip(&compression).fold(0.0_f64, |a, (x, y)| a.max((x - y).abs()));
            let stalled = moved > last_move / 2.0 && moved <= ROUNDING * greatest;
            last_move = if wrong.is_empty() { moved } else { f64::INFINITY };
            if wrong.is_empty() && (moved <= SETTLED * greatest || stalled) {
                let open = self.open(&state);
                self.state = state;
                return Ok(Order::Iterated { compression: now, open, rounds: round });
            }
            if second {
                compression = now;
            }
        }
        Err(AnalysisError::NotSettled { combination: results.labels[k].clone(), rounds: MOST_ROUNDS })
    }

    /// One linear solution under given compressions and acting parts, into `self.row` and `u`.
    fn solve(
        &mut self,
        results: &Results,
        k: usize,
        second: bool,
        state: &State,
        compression: &[f64],
        u: &mut [f64],
    ) -> Result<(), Fall> {
        let (structure, parts) = (self.structure, &results.parts[k]);
        for (m, member) in structure.members.iter().enumerate() {
            self.naturals[m] = member
                .natural(state.active[m], compression[m])
                .ok_or_else(|| Fall::Buckles(format!("member {}", structure.model.members[m].name)))?;
        }
        structure.assemble(&self.naturals, state, &mut self.matrix);
        let leaning = if second { ends_of(structure, &self.row) } else { &[] };
        structure.assemble_arms(leaning, &mut self.matrix);
        structure.factor(&mut self.matrix, &self.naturals, state, leaning)?;
        let held = structure.held_ends(&results.loads, parts, &self.naturals, state);
        u.fill(0.0);
        structure.right_side(&results.loads, parts, &held, 0, 1, u);
        structure.hold_contacts(state, 1, u);
        self.matrix.solve(u, 1);
        structure.fill_row(u, &results.loads, parts, &held, &self.naturals, state, &mut self.row);
        Ok(())
    }

    /// One-way parts on the wrong side, worst first.
    fn wrong(&self, state: &State, u: &[f64], row: &[f64]) -> Vec<Wrong> {
        let structure = self.structure;
        let nodes = structure.dofs.len();
        let (moved, reactions) = (&row[..6 * nodes], &row[6 * nodes..12 * nodes]);
        let mut found = Vec::new();
        if !self.is_one_way {
            return found;
        }
        let ends = ends_of(structure, row);
        let greatest = |values: &[f64], each: usize| {
            values.chunks_exact(each).flat_map(|v| &v[..3]).fold(f64::MIN_POSITIVE, |a: f64, v| a.max(v.abs()))
        };
        let (force, move_) = (greatest(ends, 6).max(greatest(reactions, 6)), greatest(moved, 6));
        for (k, contact) in structure.contacts.iter().enumerate() {
            let of = |values: &[f64]| {
                let own: [f64; 6] = std::array::from_fn(|c| values[6 * contact.node + c]);
                structure.to_node(contact.node, own)[contact.component] * contact.side.sign()
            };
            // A closed contact must push; an open one must not have passed the ground.
            let share = if state.closed[k] { -of(reactions) / force } else { -of(moved) / move_ };
            if share > TOUCH {
                found.push(Wrong { part: Part::Contact(k), share });
            }
        }
        for (m, member) in structure.members.iter().enumerate() {
            let sign = one_way_sign(member);
            if sign == 0.0 {
                continue;
            }
            let share = if state.active[m] {
                let pull = (ends[12 * m + 6] - ends[12 * m]) / 2.0;
                -sign * pull / force
            } else {
                let moves = structure.moves(member, u);
                sign * member.modes[0].iter().zip(moves).map(|(a, b)| a * b).sum::<f64>() / move_
            };
            if share > TOUCH {
                found.push(Wrong { part: Part::Member(m), share });
            }
        }
        found.sort_by(|a, b| b.share.total_cmp(&a.share));
        found
    }

    fn open(&self, state: &State) -> Vec<String> {
        let model = &self.structure.model;
        let contacts = self.structure.contacts.iter().zip(&state.closed).filter(|(_, closed)| !**closed);
        let members = model.members.iter().zip(&state.active).filter(|(m, active)| m.way != Way::Slack && !**active);
        contacts
            .map(|(c, _)| format!("node {}", model.nodes[c.node].name))
            .chain(members.map(|(m, _)| format!("member {}", m.name)))
            .collect()
    }

    fn not_held(&self, results: &Results, k: usize, state: &State, source: AnalysisError) -> AnalysisError {
        let combination = results.labels[k].clone();
        AnalysisError::NotHeld { combination, open: self.open(state), source: Box::new(source) }
    }
}

impl Results {
    /// Critical load factor `α_cr` of an answer, on the safe side as [`Options`] says; infinite without compression.
    ///
    /// # Panics
    /// When `k` is not below [`Results::len`].
    #[must_use]
    pub fn critical_factor(&self, k: usize) -> f64 {
        let compression = compressions(&self.structure, &self.row(k));
        1.0 / self.structure.softening(&compression, &vec![true; compression.len()], 0.0)
    }
}

fn ends_of<'a>(structure: &Structure, row: &'a [f64]) -> &'a [f64] {
    &row[12 * structure.dofs.len()..]
}

fn compressions(structure: &Structure, row: &[f64]) -> Vec<f64> {
    let ends = ends_of(structure, row).chunks_exact(12);
    ends.map(|e| Prepared::compression(&std::array::from_fn(|k| e[k]))).collect()
}

/// +1 for a tie, −1 for a bearing strut, 0 for the rest.
fn one_way_sign(member: &Prepared) -> f64 {
    match member.way {
        Way::TensionOnly => 1.0,
        Way::CompressionOnly => -1.0,
        Way::Both | Way::Slack => 0.0,
    }
}

fn flipped(state: &State, wrong: &[Wrong]) -> State {
    let mut next = state.clone();
    for w in wrong {
        match w.part {
            Part::Contact(k) => next.closed[k] = !next.closed[k],
            Part::Member(m) => next.active[m] = !next.active[m],
        }
    }
    next
}
