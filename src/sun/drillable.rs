//! The best plan among tilts that can really be drilled side by side.

use super::{
    energy::{DAYS, DailyEnergy},
    fault::SunFault,
    partition::{Arc, best_arcs, merge_equal},
    seasons::{SeasonPlan, Study, seasons},
};
use crate::{
    design::Goal,
    quantities::{Angle, deg},
};
use std::{cmp::Ordering, collections::BinaryHeap};

/// A plan whose tilts go together, and proof of how good it is.
#[derive(Debug, Clone, PartialEq)]
pub struct DrillablePlan {
    /// The plan.
    pub plan: SeasonPlan,
    /// No plan that goes together gives more than this in a year (kWh/m²).
    pub bound_kwh: f64,
}

/// The search stops when the best plan found is this close to what any could give.
const CLOSE: f64 = 1e-5;
/// Plans worked out at most; each takes about a hundredth of a second.
const MOST_NODES: usize = 400;

impl Study {
    /// The best plan with at most `count` seasons whose tilts can all be drilled together.
    ///
    /// `together(a, b)` says whether holes for two different tilts can stand in one row; equal tilts share a hole. The
    /// search branches on a tilt that stands too near another (it stays and its near ones go, or it goes) and always
    /// follows the branch that could still give most, so it ends with a proven plan: within a hundred-thousandth of the best.
    ///
    /// # Errors
    /// [`SunFault::NoTilt`], [`SunFault::Tilt`] outside 0 to 90°, [`SunFault::SeasonCount`].
    pub fn plan_drillable(
        &self,
        candidates: &[Angle],
        count: usize,
        together: impl Fn(Angle, Angle) -> bool,
    ) -> Result<DrillablePlan, SunFault> {
        super::seasons::check_count(count)?;
        let table = self.at_tilts(candidates)?;
        let tilts: Vec<Angle> = table.tilts_deg().iter().map(|tilt| deg(*tilt)).collect();
        let clash = |a: usize, b: usize| a != b && !(together(tilts[a], tilts[b]) && together(tilts[b], tilts[a]));
        let mut open = BinaryHeap::from([Node::of(&table, (0..tilts.len()).collect(), count)]);
        let mut best: Option<Node> = None;
        let mut worked_out = 1;
        while let Some(node) = open.pop() {
            let reached = best.as_ref().map_or(f64::NEG_INFINITY, |best| best.energy);
            if node.energy <= reached * (1.0 + CLOSE) || (worked_out >= MOST_NODES && best.is_some()) {
                open.push(node);
                break;
            }
            let Some(kept) = node.tilt_to_branch_on(clash) else {
                best = Some(node);
                continue;
            };
            let near = node.allowed.iter().copied().filter(|other| !clash(kept, *other)).collect();
            let far = node.allowed.iter().copied().filter(|other| *other != kept).collect();
            for allowed in [near, far] {
                open.push(Node::of(&table, allowed, count));
                worked_out += 1;
            }
        }
        // One tilt alone always goes together, so the search cannot end without a plan.
        let best = best.ok_or(SunFault::NoTilt)?;
        let bound = open.peek().map_or(best.energy, |node| node.energy.max(best.energy));
        Ok(DrillablePlan {
            plan: SeasonPlan { goal: Some(Goal::Year), ..self.worth(&seasons(&table, &best.arcs)) },
            bound_kwh: bound,
        })
    }
}

/// The best plan from some of the tilts, whether they go together or not.
struct Node {
    allowed: Vec<usize>,
    /// Columns are those of the whole table.
    arcs: Vec<Arc>,
    energy: f64,
}

impl Node {
    fn of(table: &DailyEnergy, allowed: Vec<usize>, count: usize) -> Self {
        let arcs: Vec<Arc> = merge_equal(best_arcs(&table.columns(&allowed), count.min(DAYS)))
            .into_iter()
            .map(|arc| Arc { column: allowed[arc.column], ..arc })
            .collect();
        let energy = arcs.iter().map(|arc| arc.energy).sum();
        Self { allowed, arcs, energy }
    }

    /// Of the tilts in the plan that stand too near another, the one with the longest season.
    fn tilt_to_branch_on(&self, clash: impl Fn(usize, usize) -> bool) -> Option<usize> {
        let clashing = self.arcs.iter().filter(|arc| self.arcs.iter().any(|other| clash(arc.column, other.column)));
        clashing.max_by_key(|arc| (arc.days, std::cmp::Reverse(arc.column))).map(|arc| arc.column)
    }
}

impl Ord for Node {
    fn cmp(&self, other: &Self) -> Ordering {
        self.energy.total_cmp(&other.energy).then_with(|| other.allowed.cmp(&self.allowed))
    }
}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Node {}
