//! Comes in: a list of parts and a list of boards with prices. Goes out: the cheapest set of boards, a plan for each, and a proof that no set costs less.
//! Where boards have no price, the least length is bought instead, with its own proof.
//!
//! The search goes over the *number of boards of each kind*, from the cheapest set on. A set is refused when a yardstick in whole numbers
//! proves that it cannot hold the parts, or when a complete search has tried every way; the first set that packs is the optimum.
//! Floating point only proposes: nothing is called proven that was not settled in whole numbers.
//!
//! # Source
//! Column generation: P. Gilmore, R. Gomory, Operations Research 9 (1961) and 11 (1963). Several stock lengths: G. Belov, G. Scheithauer, EJOR 141 (2002).

mod bound;
mod check;
mod cover;
mod file;
mod job;
mod knapsack;
mod mitre;
mod pack;
mod plan;
mod problem;
mod search;
mod shown;
mod simplex;
mod table;
mod ties;

pub use check::check;
pub use file::{
    CutFile, CutList, FieldPlaces, Given, Money, WrittenPart, WrittenRule, WrittenStock, WrittenUnit, whole_units,
};
pub use job::{HIGHEST_PRICE, Job, JobError, KerfRule, MOST_PARTS, Part, Stock, Unit};
pub use plan::{Bar, Cut, Plan};
pub use shown::{Shown, amount, verdict};
pub use table::TableSettings;

use problem::{Board, Item, Problem};
use std::{
    collections::{BTreeMap, BTreeSet},
    time::{Duration, Instant},
};

/// The cheapest plan for a job.
///
/// Lengths and prices are whole numbers, see [`Job`]. The result does not depend on the machine as long as it is
/// [proven](Plan::proven); a search that runs out of time returns the best plan known with a valid lower bound.
///
/// # Errors
/// The first of [`Job::faults`]; [`JobError::StockShort`] when limited stock cannot hold the parts, proved; [`JobError::Undecided`] when time ran out
/// with neither a plan nor that proof.
///
/// # Example
/// ```
/// use std::time::Duration;
/// use tiltwright::shop::cut_plan::{Job, Part, Stock, plan};
/// let part = |mark: &str, length, quantity| Part { mark: mark.into(), length, quantity, mitred_ends: 0, group: String::new() };
/// let board = |length, price| Stock { length, price: Some(price), available: None, group: String::new() };
/// // Three 800 mm parts and two 3 mm cuts need 2406 mm: they do not come out of one 2400 mm board.
/// let job = Job { kerf: 3, parts: vec![part("rail", 800, 3)], stock: vec![board(2400, 900), board(3000, 1150)], ..Job::default() };
/// let plan = plan(&job, Duration::from_secs(5))?;
/// assert_eq!((plan.cost, plan.proven), (1150, true));
/// # Ok::<(), tiltwright::shop::cut_plan::JobError>(())
/// ```
pub fn plan(job: &Job, time_limit: Duration) -> Result<Plan, JobError> {
    if let Some(fault) = job.faults().into_iter().next() {
        return Err(fault);
    }
    let groups: BTreeSet<&str> = job.parts.iter().map(|part| part.group.as_str()).collect();
    let end = Instant::now() + time_limit;
    let mut whole = Plan { cost: 0, bound: 0, length: 0, length_bound: 0, proven: true, bars: Vec::new() };
    for (at, group) in groups.iter().enumerate() {
        let now = Instant::now();
        // Time is shared out evenly among the groups that are left.
        let until = now + end.saturating_duration_since(now) / (groups.len() - at) as u32;
        let plan = plan_group(job, group, until)?;
        whole.cost += plan.cost;
        whole.bound += plan.bound;
        whole.length += plan.length;
        whole.length_bound += plan.length_bound;
        whole.proven &= plan.proven;
        whole.bars.extend(plan.bars);
    }
    if let Err(what) = check(job, &whole) {
        panic!("the cut plan is wrong, and this is a fault of the program: {what}");
    }
    Ok(whole)
}

/// Which part rows an item stands for.
struct Rows(Vec<Vec<(usize, i64)>>);

fn plan_group(job: &Job, group: &str, until: Instant) -> Result<Plan, JobError> {
    let (problem, rows) = normalise(job, group);
    let solved = search::solve(&problem, &|| Instant::now() >= until);
    let Some(loads) = solved.loads else {
        return Err(if solved.settled { job.shortage(group) } else { JobError::Undecided });
    };
    let bars = hand_out(job, &problem, rows, loads);
    let least = bars.iter().map(|bar| job.burden(bar.stock)).sum();
    let (bound, proven) = (solved.bound.min(least), solved.bound >= least);
    // What is made least is money or length: of a group without prices only boards on hand have one, and they cost nothing.
    Ok(if job.is_priced(group) || bars.iter().all(|bar| bar.price.is_some()) {
        Plan { cost: least, bound, length: 0, length_bound: 0, proven, bars }
    } else {
        Plan { cost: 0, bound: 0, length: least, length_bound: bound, proven, bars }
    })
}

/// Kerf, trim and mitres become weights and capacities; equal parts and useless boards are merged or dropped.
fn normalise(job: &Job, group: &str) -> (Problem, Rows) {
    let saving = job.mitre_joint_saving.unwrap_or(0);
    let ends = |part: &Part| if saving > 0 { part.mitred_ends } else { 0 };
    let mut merged: BTreeMap<(i64, u8), Vec<(usize, i64)>> = BTreeMap::new();
    for (row, part) in job.parts.iter().enumerate().filter(|(_, part)| part.group == group) {
        merged.entry((part.length, ends(part))).or_default().push((row, part.quantity));
    }
    let most_ends = merged.keys().map(|(_, ends)| *ends).max().unwrap_or(0);
    let halves = merged.keys().any(|(_, ends)| *ends == 1);
    let scale = if halves && saving % 2 == 1 { 2 } else { 1 };
    let mut items: Vec<(Item, Vec<(usize, i64)>)> = merged
        .into_iter()
        .map(|((length, mitred_ends), rows)| {
            let weight = scale * (length + job.kerf) - scale * saving * i64::from(mitred_ends) / 2;
            let demand = rows.iter().map(|(_, quantity)| quantity).sum();
            (Item { weight, mitred_ends, demand }, rows)
        })
        .collect();
    items.sort_by_key(|(item, _)| std::cmp::Reverse((item.weight, item.mitred_ends)));
    let (items, rows): (Vec<Item>, Vec<_>) = items.into_iter().unzip();
    let boards = boards(job, group, scale, saving, items.iter().map(|item| item.demand).sum());
    let states = if most_ends == 0 {
        1
    } else if halves {
        4
    } else {
        2
    };
    (Problem { items, boards, states }, Rows(rows))
}

fn boards(job: &Job, group: &str, scale: i64, saving: i64, parts: i64) -> Vec<Board> {
    let shortest = job.parts.iter().filter(|part| part.group == group).map(|part| part.length).min().unwrap_or(0);
    let useful = |row: usize| {
        let board = &job.stock[row];
        let dominated = (0..job.stock.len()).any(|other| {
            let over = &job.stock[other];
            let better = over.length > board.length || job.burden(other) < job.burden(row) || other < row;
            other != row
                && over.group == group
                && over.available.is_none()
                && over.length >= board.length
                && job.burden(other) <= job.burden(row)
                && better
        });
        board.group == group && board.available != Some(0) && job.longest_from(row) >= shortest && !dominated
    };
    (0..job.stock.len())
        .filter(|row| useful(*row))
        .map(|row| {
            let free = job.usable(row) + if job.kerf_rule == KerfRule::Between { job.kerf } else { 0 };
            // By the ends on it: the joints that cannot be shared are taken off what the board holds.
            let lost = [0, saving * scale, saving * scale / 2, 0];
            Board {
                capacity: lost.map(|lost| scale * free - lost),
                price: job.burden(row),
                limit: job.stock[row].available.unwrap_or(parts).min(parts),
                stock: row,
            }
        })
        .collect()
}

/// Gives every place in the loads a part row, in the order of the list.
fn hand_out(job: &Job, problem: &Problem, mut rows: Rows, loads: pack::Loads) -> Vec<Bar> {
    let mut loads: pack::Loads = loads.into_iter().filter(|(_, pattern, _)| !pattern.is_empty()).collect();
    loads.sort_by_cached_key(|(kind, pattern, _)| {
        let stock = problem.boards[*kind].stock;
        (std::cmp::Reverse(job.stock[stock].length), stock, pattern.clone())
    });
    let mut finished = Vec::new();
    for (kind, pattern, times) in loads {
        for _ in 0..times {
            let mut parts = Vec::new();
            for &(item, count) in &pattern {
                for _ in 0..count {
                    let queue = &mut rows.0[item];
                    let Some(first) = queue.first_mut() else { unreachable!("loads hold each part once") };
                    parts.push(first.0);
                    first.1 -= 1;
                    if first.1 == 0 {
                        queue.remove(0);
                    }
                }
            }
            finished.push(plan::lay_out(job, problem.boards[kind].stock, &parts));
        }
    }
    finished
}

impl Job {
    /// Names the part that limited stock has no room for: the first, from the longest on, for which too few boards are long enough, else the longest.
    fn shortage(&self, group: &str) -> JobError {
        let mut rows: Vec<usize> = (0..self.parts.len()).filter(|row| self.parts[*row].group == group).collect();
        rows.sort_by_key(|row| (std::cmp::Reverse(self.parts[*row].length), *row));
        let mut wanted = 0;
        for &row in &rows {
            let part = &self.parts[row];
            wanted += part.quantity;
            let holds = |s: usize| {
                let weight = part.length + self.kerf - self.mitre_joint_saving.unwrap_or(0);
                let room = self.longest_from(s) + self.kerf;
                let each = if self.longest_from(s) < part.length { 0 } else { room / weight.max(1) };
                each.saturating_mul(self.stock[s].available.unwrap_or(MOST_PARTS))
            };
            let room: i64 = (0..self.stock.len()).filter(|s| self.stock[*s].group == group).map(holds).sum();
            if wanted > room {
                let length = self.unit.show(part.length);
                let reason = format!(
                    "parts row {}: {wanted} parts of {length} or longer are wanted, and the boards that are long enough hold {room}",
                    row + 1
                );
                return JobError::StockShort { row, reason };
            }
        }
        let row = rows[0];
        let need: i64 = rows.iter().map(|row| self.parts[*row].length * self.parts[*row].quantity).sum();
        let have: i64 = (0..self.stock.len())
            .filter(|s| self.stock[*s].group == group)
            .map(|s| self.usable(s) * self.stock[s].available.unwrap_or(1))
            .sum();
        let reason = format!(
            "parts row {} and those below it measure {} in all, and the boards on hand, {} in all, cannot hold them with their saw cuts",
            row + 1,
            self.unit.show(need),
            self.unit.show(have)
        );
        JobError::StockShort { row, reason }
    }
}
