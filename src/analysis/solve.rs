//! Linear cases in one pass, combinations as sums, and the few that need more by iteration.

use std::sync::Arc;

use super::assemble::{HELD, State, Structure, check_names, finite};
use super::error::AnalysisError;
use super::load::{Factored, LoadCase};
use super::member::{Held, LocalLoad, Natural};
use super::model::{Model, unknown};
use super::results::{BLOCK, Loads, Order, Results, row_length};
use super::settle::{Options, Settler};
use super::sparse::LANES;

/// Builds, factorises and solves in one call.
///
/// # Errors
/// As [`Structure::build`] and [`Structure::run`].
pub fn run(
    model: Model,
    cases: &[LoadCase],
    combinations: &[Factored],
    options: &Options,
) -> Result<Results, AnalysisError> {
    Arc::new(Structure::build(model)?).run(cases, combinations, options)
}

impl Structure {
    /// Solves all cases with the one factorisation, sums the combinations, and iterates those where a one-way part or
    /// the second-order effect matters.
    ///
    /// # Errors
    /// Loads that point at nothing or stand outside a member; a combination that buckles, lifts off or does not settle.
    pub fn run(
        self: &Arc<Self>,
        cases: &[LoadCase],
        combinations: &[Factored],
        options: &Options,
    ) -> Result<Results, AnalysisError> {
        let names = cases.iter().map(|c| c.name.as_str()).chain(combinations.iter().map(|c| c.name.as_str()));
        check_names("load case or combination", names)?;
        let loads = self.gather(cases)?;
        let parts = sums(cases, combinations)?;
        let basic = self.solve_cases(&loads);
        let labels = cases.iter().map(|c| c.name.clone()).chain(combinations.iter().map(|c| c.name.clone())).collect();
        let (orders, own) = (vec![Order::First; parts.len()], vec![None; parts.len()]);
        let (structure, cases, settled) = (Arc::clone(self), cases.len(), Vec::new());
        let mut results = Results { structure, loads, labels, parts, orders, cases, basic, settled, own };
        Settler::new(self, *options).settle(&mut results)?;
        Ok(results)
    }

    fn gather(&self, cases: &[LoadCase]) -> Result<Loads, AnalysisError> {
        let mut loads = Loads::default();
        for case in cases {
            loads.nodal.push(self.nodal_loads(case)?);
            let mut pieces = Vec::with_capacity(case.member.len());
            for (member, load) in &case.member {
                let prepared = self
                    .members
                    .get(member.0)
                    .ok_or_else(|| unknown("member", &format!("#{}", member.0), &case.name))?;
                let name = || self.model.members[member.0].name.clone();
                let local = prepared.localise(load).map_err(|at_mm| AnalysisError::LoadOutsideMember {
                    case: case.name.clone(),
                    member: name(),
                    at_mm,
                    length_mm: prepared.length,
                })?;
                check_local(&local, &case.name, name)?;
                if let (true, LocalLoad::Point { moment, .. }) = (prepared.axial_only, &local)
                    && moment[0] != 0.0
                {
                    let part = format!("member {}", name());
                    return Err(AnalysisError::MomentOnHinge { case: case.name.clone(), part });
                }
                pieces.push((member.0, local));
            }
            pieces.sort_by_key(|(member, _)| *member);
            loads.pieces.push(pieces);
        }
        Ok(loads)
    }

    fn nodal_loads(&self, case: &LoadCase) -> Result<Vec<f64>, AnalysisError> {
        let mut nodal = vec![0.0; 6 * self.dofs.len()];
        for (node, load) in &case.nodal {
            let name = self.model.nodes.get(node.0).map(|n| &n.name);
            let name = name.ok_or_else(|| unknown("node", &format!("#{}", node.0), &case.name))?;
            load.iter().try_for_each(|&v| finite(|| format!("load case {}, node {name}", case.name), "load", v))?;
            let fixed = self.model.nodes[node.0].support.as_ref().map_or([false; 6], |s| s.fixed);
            let own = self.to_node(node.0, *load);
            let hinge = (3..6).any(|c| own[c] != 0.0 && self.dofs[node.0][c] == HELD && !fixed[c]);
            if hinge {
                return Err(AnalysisError::MomentOnHinge { case: case.name.clone(), part: format!("node {name}") });
            }
            (0..6).for_each(|c| nodal[6 * node.0 + c] += load[c]);
        }
        Ok(nodal)
    }

    /// Answers of all cases, laid out as [`Results::basic`].
    fn solve_cases(&self, loads: &Loads) -> Vec<f64> {
        let (count, length) = (loads.nodal.len(), row_length(self));
        let mut basic = vec![0.0; count * length];
        let mut row = vec![0.0; length];
        let mut sides = vec![0.0; self.unknowns() * LANES];
        let mut u = vec![0.0; self.unknowns()];
        for first in (0..count).step_by(LANES) {
            let block = first..(first + LANES).min(count);
            sides.fill(0.0);
            let mut held = Vec::with_capacity(LANES);
            for (lane, case) in block.clone().enumerate() {
                let own = self.held_ends(loads, &[(case, 1.0)], &self.naturals, &self.start);
                self.right_side(loads, &[(case, 1.0)], &own, lane, LANES, &mut sides);
                held.push(own);
            }
            self.hold_contacts(&self.start, LANES, &mut sides);
            self.factors.solve(&mut sides, LANES);
            for (lane, case) in block.enumerate() {
                u.iter_mut().zip(sides[lane..].iter().step_by(LANES)).for_each(|(v, side)| *v = *side);
                self.fill_row(&u, loads, &[(case, 1.0)], &held[lane], &self.naturals, &self.start, &mut row);
                let places = basic.chunks_exact_mut(BLOCK * count);
                for (own, place) in row.chunks_exact(BLOCK).zip(places) {
                    place[case * BLOCK..(case + 1) * BLOCK].copy_from_slice(own);
                }
            }
        }
        basic
    }

    /// End forces of every loaded member while its nodes are held.
    pub(super) fn held_ends(&self, loads: &Loads, parts: &[(usize, f64)], naturals: &[Natural], state: &State) -> Held {
        let mut own: Vec<(f64, LocalLoad)> = Vec::new();
        let mut loaded: Vec<usize> =
            parts.iter().flat_map(|&(case, _)| loads.pieces[case].iter().map(|(m, _)| *m)).collect();
        loaded.sort_unstable();
        loaded.dedup();
        let mut ends = |member: usize| {
            own.clear();
            own.extend(loads.on(member, parts));
            (member, self.members[member].held(&naturals[member], state.active[member], &own))
        };
        loaded.into_iter().map(&mut ends).collect()
    }

    pub(super) fn right_side(
        &self,
        loads: &Loads,
        parts: &[(usize, f64)],
        held: &Held,
        side: usize,
        count: usize,
        right: &mut [f64],
    ) {
        for &(case, factor) in parts {
            for (node, load) in loads.nodal[case].chunks_exact(6).enumerate() {
                if load.iter().any(|&v| v != 0.0) {
                    self.add_force(node, std::array::from_fn(|c| factor * load[c]), side, count, right);
                }
            }
        }
        for (member, forces) in held {
            self.release(&self.members[*member], forces, side, count, right);
        }
    }

    pub(super) fn hold_contacts(&self, state: &State, count: usize, right: &mut [f64]) {
        for (contact, &closed) in self.contacts.iter().zip(&state.closed) {
            if closed && contact.spring == 0.0 {
                right[contact.dof * count..(contact.dof + 1) * count].fill(0.0);
            }
        }
    }

    /// Displacements, reactions and end forces from the solved components.
    #[allow(clippy::too_many_arguments)]
    pub(super) fn fill_row(
        &self,
        u: &[f64],
        loads: &Loads,
        parts: &[(usize, f64)],
        held: &Held,
        naturals: &[Natural],
        state: &State,
        row: &mut [f64],
    ) {
        let nodes = self.dofs.len();
        let (displacements, rest) = row.split_at_mut(6 * nodes);
        let (reactions, ends) = rest.split_at_mut(6 * nodes);
        for (node, out) in displacements.chunks_exact_mut(6).enumerate() {
            out.copy_from_slice(&self.node_moves(node, u));
        }
        reactions.fill(0.0);
        let mut held = held.iter().peekable();
        for (k, (member, out)) in self.members.iter().zip(ends.chunks_exact_mut(12)).enumerate() {
            let mut forces = held.next_if(|(m, _)| *m == k).map_or([0.0; 12], |(_, forces)| *forces);
            member.add_moved(&naturals[k], &self.moves(member, u), &mut forces);
            out.copy_from_slice(&forces);
            // Only what holds a node can react.
            if member.nodes.iter().any(|&n| self.model.nodes[n].support.is_some()) {
                for (node, at_node) in member.nodes.into_iter().zip(member.at_nodes(&forces)) {
                    (0..6).for_each(|c| reactions[6 * node + c] += at_node[c]);
                }
            }
        }
        // In second order, the moment at a node from the end force on its turned rigid arm.
        if naturals.iter().any(|n| n.compression != 0.0) {
            for arm in self.arms(ends) {
                let moved = std::array::from_fn(|c| displacements[6 * arm.node + c]);
                let moment = arm.moment(moved);
                (0..3).for_each(|c| reactions[6 * arm.node + 3 + c] += moment[c]);
            }
        }
        for &(case, factor) in parts {
            for (sum, load) in reactions.iter_mut().zip(&loads.nodal[case]) {
                *sum -= factor * load;
            }
        }
        self.clear_free(state, reactions);
    }

    /// Nothing holds a free component: what is left there is rounding.
    pub(super) fn clear_free(&self, state: &State, reactions: &mut [f64]) {
        for (node, out) in reactions.chunks_exact_mut(6).enumerate() {
            let Some(support) = &self.model.nodes[node].support else {
                out.fill(0.0);
                continue;
            };
            let mut own = self.to_node(node, std::array::from_fn(|c| out[c]));
            for (c, value) in own.iter_mut().enumerate() {
                let one_way = c < 3 && support.one_way[c].is_some();
                if one_way || !(support.fixed[c] || support.springs[c] > 0.0) {
                    let closed = self
                        .contacts
                        .iter()
                        .zip(&state.closed)
                        .any(|(contact, &closed)| closed && contact.node == node && contact.component == c);
                    if !closed {
                        *value = 0.0;
                    }
                }
            }
            out.copy_from_slice(&self.to_global(node, own));
        }
    }
}

fn check_local(load: &LocalLoad, case: &str, member: impl Fn() -> String) -> Result<(), AnalysisError> {
    let part = || format!("load case {case}, member {}", member());
    let numbers = match load {
        LocalLoad::Line { w_a, w_b, .. } => [w_a, w_b],
        LocalLoad::Point { force, moment, .. } => [force, moment],
    };
    numbers.into_iter().flatten().try_for_each(|&v| finite(part, "load", v))
}

/// Cases and factors of every answer: each case by itself, then the combinations.
fn sums(cases: &[LoadCase], combinations: &[Factored]) -> Result<Vec<Vec<(usize, f64)>>, AnalysisError> {
    let mut all: Vec<Vec<(usize, f64)>> = (0..cases.len()).map(|k| vec![(k, 1.0)]).collect();
    for combination in combinations {
        let own = || format!("combination {}", combination.name);
        for &(case, factor) in &combination.parts {
            if case >= cases.len() {
                return Err(unknown("load case", &format!("#{case}"), &own()));
            }
            finite(own, "factor", factor)?;
        }
        all.push(combination.parts.clone());
    }
    Ok(all)
}
