//! The model checked, numbered, assembled and factorised once for all linear load cases.

use std::collections::HashSet;

use super::axes::{self, Axes, GLOBAL, Vector};
use super::error::AnalysisError;
use super::member::{EndForces, Natural, Prepared};
use super::model::{Joint, Model, OneWay, Way, unknown};
use super::order::{Elimination, minimum_degree};
use super::sparse::Sparse;

/// Marks a node component that is not solved for.
pub(super) const HELD: usize = usize::MAX;

/// A one-way support: component `dof`, open when its reaction would have the wrong sign.
#[derive(Debug, Clone)]
pub(super) struct Contact {
    pub(super) node: usize,
    pub(super) component: usize,
    pub(super) dof: usize,
    pub(super) side: OneWay,
    pub(super) spring: f64,
}

/// Which one-way parts act.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct State {
    pub(super) closed: Vec<bool>,
    pub(super) active: Vec<bool>,
}

/// Second-order stiffness of one rigid arm between the rotations of its node, global axes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Arm {
    pub(super) node: usize,
    stiffness: [Vector; 3],
}

impl Arm {
    /// Moment on the arm when its node moves.
    pub(super) fn moment(&self, moved: [f64; 6]) -> Vector {
        self.stiffness.map(|row| axes::dot(row, [moved[3], moved[4], moved[5]]))
    }

    /// Twice the energy of a movement of its node.
    pub(super) fn energy(&self, moved: [f64; 6]) -> f64 {
        axes::dot(self.moment(moved), [moved[3], moved[4], moved[5]])
    }
}

/// A frame ready to be solved: checked, with its linear stiffness factorised.
#[derive(Debug, Clone)]
pub struct Structure {
    pub(super) model: Model,
    pub(super) members: Vec<Prepared>,
    pub(super) naturals: Vec<Natural>,
    pub(super) node_axes: Vec<Axes>,
    pub(super) dofs: Vec<[usize; 6]>,
    pub(super) contacts: Vec<Contact>,
    pub(super) start: State,
    pub(super) factors: Sparse,
}

impl Structure {
    /// Checks a model and factorises its stiffness with every one-way part acting.
    ///
    /// # Errors
    /// The first thing wrong with the model; [`AnalysisError::Mechanism`] and its kin when it can move freely.
    pub fn build(model: Model) -> Result<Self, AnalysisError> {
        check(&model)?;
        let node_axes: Vec<Axes> =
            model.nodes.iter().map(|n| n.support.as_ref().and_then(|s| s.axes).unwrap_or(GLOBAL)).collect();
        let members = model
            .members
            .iter()
            .map(|m| Prepared::new(&model, m, [&node_axes[m.i.0], &node_axes[m.j.0]]))
            .collect::<Result<Vec<_>, _>>()?;
        let start = State { closed: Vec::new(), active: members.iter().map(|m| m.way != Way::Slack).collect() };
        let naturals = members
            .iter()
            .zip(&start.active)
            .enumerate()
            .map(|(k, (m, &active))| m.natural(active, 0.0).ok_or(k))
            .collect::<Result<Vec<_>, _>>()
            .map_err(|k| AnalysisError::Spins { member: model.members[k].name.clone() })?;
        let mut structure = Self {
            dofs: vec![[HELD; 6]; model.nodes.len()],
            contacts: Vec::new(),
            factors: Sparse::default(),
            model,
            members,
            naturals,
            node_axes,
            start,
        };
        structure.number();
        structure.factorise()?;
        Ok(structure)
    }

    /// The model it was built from.
    #[must_use]
    pub fn model(&self) -> &Model {
        &self.model
    }

    /// Number of unknowns.
    #[must_use]
    pub fn unknowns(&self) -> usize {
        self.factors.size()
    }

    fn number(&mut self) {
        let elimination = minimum_degree(&self.neighbours());
        let turns: Vec<bool> = (0..self.dofs.len()).map(|n| self.turns(n)).collect();
        let mut next = 0;
        for &n in &elimination.order {
            let support = self.model.nodes[n].support.as_ref();
            for component in 0..6 {
                let side = support.and_then(|s| s.one_way.get(component).copied().flatten());
                let fixed = side.is_none() && support.is_some_and(|s| s.fixed[component]);
                if fixed || (component > 2 && !turns[n]) {
                    continue;
                }
                self.dofs[n][component] = next;
                if let (Some(side), Some(support)) = (side, support) {
                    let spring = support.springs[component];
                    self.contacts.push(Contact { node: n, component, dof: next, side, spring });
                }
                next += 1;
            }
        }
        self.contacts.sort_by_key(|c| (c.node, c.component));
        self.start.closed = vec![true; self.contacts.len()];
        self.factors = Sparse::new(&self.columns(&elimination, next));
    }

    fn neighbours(&self) -> Vec<Vec<usize>> {
        let mut neighbours = vec![Vec::new(); self.dofs.len()];
        for member in &self.members {
            let [i, j] = member.nodes;
            neighbours[i].push(j);
            neighbours[j].push(i);
        }
        for list in &mut neighbours {
            list.sort_unstable();
            list.dedup();
        }
        neighbours
    }

    /// A node where only axial members end, straight on it, is a hinge: it has no rotation of its own.
    fn turns(&self, node: usize) -> bool {
        let sprung = self.model.nodes[node].support.as_ref().is_some_and(|s| s.springs[3..].iter().any(|&k| k > 0.0));
        let carried = |m: &Prepared| {
            (0..2).any(|end| m.nodes[end] == node && (!m.axial_only || axes::length(m.offsets[end]) > 0.0))
        };
        sprung || self.members.iter().any(carried)
    }

    /// Rows below the diagonal of each component, fill and all.
    fn columns(&self, elimination: &Elimination, size: usize) -> Vec<Vec<usize>> {
        let mut columns = Vec::with_capacity(size);
        let of = |n: usize| self.dofs[n].into_iter().filter(|&d| d != HELD);
        for (&node, joined) in elimination.order.iter().zip(&elimination.joined) {
            let mut rows: Vec<usize> = joined.iter().flat_map(|&n| of(n)).collect();
            rows.sort_unstable();
            let own: Vec<usize> = of(node).collect();
            columns.extend((1..=own.len()).map(|k| own[k..].iter().chain(&rows).copied().collect::<Vec<usize>>()));
        }
        columns
    }

    pub(super) fn member_dofs(&self, member: &Prepared) -> [usize; 12] {
        let [i, j] = member.nodes.map(|n| self.dofs[n]);
        std::array::from_fn(|k| if k < 6 { i[k] } else { j[k - 6] })
    }

    fn factorise(&mut self) -> Result<(), AnalysisError> {
        let mut matrix = std::mem::take(&mut self.factors);
        self.assemble(&self.naturals, &self.start, &mut matrix);
        let outcome = self.factor_linear(&mut matrix, &self.start);
        self.factors = matrix;
        outcome
    }

    /// Puts the stiffness of members, springs and closed contacts into `matrix`.
    pub(super) fn assemble(&self, naturals: &[Natural], state: &State, matrix: &mut Sparse) {
        matrix.clear();
        for (member, natural) in self.members.iter().zip(naturals) {
            let (dofs, k) = (self.member_dofs(member), member.stiffness(natural));
            for (a, &row) in dofs.iter().enumerate() {
                if row == HELD {
                    continue;
                }
                for (&column, &value) in dofs[a..].iter().zip(&k[a][a..]) {
                    if column != HELD {
                        matrix.add(row, column, value);
                    }
                }
            }
        }
        for (dof, k) in self.springs(state) {
            matrix.add(dof, dof, k);
        }
        for (contact, &closed) in self.contacts.iter().zip(&state.closed) {
            if closed && contact.spring == 0.0 {
                matrix.hold(contact.dof);
            }
        }
    }

    /// Springs to ground that act: component and stiffness.
    pub(super) fn springs<'a>(&'a self, state: &'a State) -> impl Iterator<Item = (usize, f64)> + 'a {
        let plain = self.model.nodes.iter().zip(&self.dofs).flat_map(|(node, dofs)| {
            node.support.iter().flat_map(move |s| {
                (0..6).filter_map(move |c| {
                    let one_way = c < 3 && s.one_way[c].is_some();
                    (s.springs[c] > 0.0 && dofs[c] != HELD && !one_way).then(|| (dofs[c], s.springs[c]))
                })
            })
        });
        let contact = self.contacts.iter().zip(&state.closed);
        plain.chain(contact.filter(|(c, closed)| **closed && c.spring > 0.0).map(|(c, _)| (c.dof, c.spring)))
    }

    /// Rigid arms with the second-order stiffness that the end forces (twelve per member) give them.
    pub(super) fn arms<'a>(&'a self, ends: &'a [f64]) -> impl Iterator<Item = Arm> + 'a {
        self.members.iter().zip(ends.chunks_exact(12)).flat_map(|(member, own)| {
            (0..2).filter(|&end| axes::length(member.offsets[end]) > 0.0).map(move |end| Arm {
                node: member.nodes[end],
                stiffness: member.arm_stiffness(end, &std::array::from_fn(|k| own[k])),
            })
        })
    }

    /// Adds what the end forces on rigid arms do in second order.
    pub(super) fn assemble_arms(&self, ends: &[f64], matrix: &mut Sparse) {
        for arm in self.arms(ends) {
            let own = &self.node_axes[arm.node];
            for a in 0..3 {
                for b in a..3 {
                    let value: f64 = (0..3).map(|c| own[a][c] * axes::dot(arm.stiffness[c], own[b])).sum();
                    let (row, column) = (self.dofs[arm.node][3 + a], self.dofs[arm.node][3 + b]);
                    if row != HELD && column != HELD {
                        matrix.add(row, column, value);
                    }
                }
            }
        }
    }

    /// Movements of a member's two nodes in node axes.
    pub(super) fn moves(&self, member: &Prepared, u: &[f64]) -> [f64; 12] {
        self.member_dofs(member).map(|d| if d == HELD { 0.0 } else { u[d] })
    }

    /// As [`Structure::moves`] for `W` sides that stand together.
    pub(super) fn moves_of<const W: usize>(&self, member: &Prepared, u: &[f64]) -> [[f64; W]; 12] {
        let side = |d: usize| std::array::from_fn(|l| u[d * W + l]);
        self.member_dofs(member).map(|d| if d == HELD { [0.0; W] } else { side(d) })
    }

    /// Movement and rotation of a node in global axes.
    pub(super) fn node_moves(&self, node: usize, u: &[f64]) -> [f64; 6] {
        let own = self.dofs[node].map(|d| if d == HELD { 0.0 } else { u[d] });
        self.to_global(node, own)
    }

    pub(super) fn to_global(&self, node: usize, v: [f64; 6]) -> [f64; 6] {
        turned(v, |part| axes::out_of(&self.node_axes[node], part))
    }

    pub(super) fn to_node(&self, node: usize, v: [f64; 6]) -> [f64; 6] {
        turned(v, |part| axes::into(&self.node_axes[node], part))
    }

    /// Adds a global force and moment at a node to a right-hand side that holds `count` sides.
    pub(super) fn add_force(&self, node: usize, force: [f64; 6], side: usize, count: usize, right: &mut [f64]) {
        let own = self.to_node(node, force);
        for (&dof, value) in self.dofs[node].iter().zip(own) {
            if dof != HELD {
                right[dof * count + side] += value;
            }
        }
    }

    /// Takes the end forces of a member with held nodes from a right-hand side.
    pub(super) fn release(&self, m: &Prepared, held: &EndForces, side: usize, count: usize, right: &mut [f64]) {
        for (node, force) in m.nodes.into_iter().zip(m.at_nodes(held)) {
            self.add_force(node, force.map(|f| -f), side, count, right);
        }
    }
}

fn turned(v: [f64; 6], turn: impl Fn(Vector) -> Vector) -> [f64; 6] {
    let (a, b) = (turn([v[0], v[1], v[2]]), turn([v[3], v[4], v[5]]));
    [a[0], a[1], a[2], b[0], b[1], b[2]]
}

fn check(model: &Model) -> Result<(), AnalysisError> {
    check_names("node", model.nodes.iter().map(|n| n.name.as_str()))?;
    check_names("member", model.members.iter().map(|m| m.name.as_str()))?;
    check_names("section", model.sections.iter().map(|s| s.name.as_str()))?;
    for section in &model.sections {
        let part = || format!("section {}", section.name);
        let numbers = [
            ("E", section.e),
            ("G", section.g),
            ("area", section.area),
            ("I y", section.i_y),
            ("I z", section.i_z),
            ("J", section.j),
        ];
        for (what, given) in numbers {
            positive(part, what, given)?;
        }
        not_negative(part, "mass", section.mass_kg_per_m)?;
    }
    let mut joined = vec![false; model.nodes.len()];
    for member in &model.members {
        for node in [member.i.0, member.j.0] {
            *joined.get_mut(node).ok_or_else(|| unknown("node", &format!("#{node}"), &member.name))? = true;
        }
        if member.section.0 >= model.sections.len() {
            return Err(unknown("section", &format!("#{}", member.section.0), &member.name));
        }
        check_member(member)?;
    }
    for (node, joined) in model.nodes.iter().zip(joined) {
        check_node(node)?;
        if !joined {
            return Err(AnalysisError::LooseNode { node: node.name.clone() });
        }
    }
    Ok(())
}

fn check_member(member: &super::model::Member) -> Result<(), AnalysisError> {
    let part = || format!("member {}", member.name);
    if member.way != Way::Both && !member.axial_only {
        return Err(AnalysisError::OneWayBends { member: member.name.clone() });
    }
    member.offsets.iter().flatten().try_for_each(|&c| finite(part, "offset", c))?;
    for joint in &member.joints {
        for spring in [joint.fx, joint.mx, joint.my, joint.mz] {
            if let Joint::Spring(k) = spring {
                positive(part, "joint spring", k)?;
            }
        }
    }
    Ok(())
}

fn check_node(node: &super::model::Node) -> Result<(), AnalysisError> {
    let part = || format!("node {}", node.name);
    node.at.iter().try_for_each(|&c| finite(part, "coordinate", c))?;
    not_negative(part, "mass", node.mass_kg)?;
    let Some(support) = &node.support else { return Ok(()) };
    support.springs.iter().try_for_each(|&k| not_negative(part, "spring", k))?;
    match &support.axes {
        Some(given) if !axes::are_square(given) => Err(AnalysisError::SkewedAxes { node: node.name.clone() }),
        _ => Ok(()),
    }
}

pub(super) fn check_names<'a>(kind: &'static str, names: impl Iterator<Item = &'a str>) -> Result<(), AnalysisError> {
    let mut seen = HashSet::new();
    for name in names {
        if !seen.insert(name) {
            return Err(AnalysisError::SameName { kind, name: name.to_owned() });
        }
    }
    Ok(())
}

fn accept(
    part: impl Fn() -> String,
    what: &'static str,
    given: f64,
    ok: bool,
    needed: &'static str,
) -> Result<(), AnalysisError> {
    if ok { Ok(()) } else { Err(AnalysisError::BadNumber { part: part(), what, given, needed }) }
}

fn positive(part: impl Fn() -> String, what: &'static str, given: f64) -> Result<(), AnalysisError> {
    accept(part, what, given, given > 0.0 && given.is_finite(), "a positive number")
}

fn not_negative(part: impl Fn() -> String, what: &'static str, given: f64) -> Result<(), AnalysisError> {
    accept(part, what, given, given >= 0.0 && given.is_finite(), "zero or a positive number")
}

pub(super) fn finite(part: impl Fn() -> String, what: &'static str, given: f64) -> Result<(), AnalysisError> {
    accept(part, what, given, given.is_finite(), "a finite number")
}
