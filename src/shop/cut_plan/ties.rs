//! Among plans of one cost: fewer boards, then fewer set-ups, then the longer single offcut.
//!
//! The number of boards that are paid for is settled by the search itself. What is done here is a search of fixed effort: it never makes a plan worse,
//! and it does not prove that no better plan of the same cost exists.

use super::{
    bound::Yardstick,
    cover::{Cover, Verdict},
    pack::{Loads, Rest, dive},
    problem::{Pattern, Problem},
};
use std::{cmp::Reverse, collections::BTreeMap};

/// How good a plan is among those of its cost; smaller is better.
type Merit = (i64, usize, Reverse<i64>);

/// Kinds of parts times kinds of loads beyond which the extra effort would be felt.
const SMALL: usize = 2_500;

/// The best of the plans of the same cost that are easy to reach.
pub(super) fn settle(cover: &mut Cover<'_>, loads: Loads, yardsticks: &[Yardstick], stop: &dyn Fn() -> bool) -> Loads {
    let problem = cover.problem;
    let mut best = merged(loads);
    if problem.items.len() * best.len() <= SMALL {
        best = without_spare_boards(cover, best, yardsticks, stop);
        best = fewer_set_ups(cover, best, yardsticks, stop);
        best = longer_offcut(problem, best);
    }
    best
}

fn merit(problem: &Problem, loads: &Loads) -> Merit {
    let boards = loads.iter().map(|(_, _, times)| times).sum();
    let longest = loads.iter().map(|(kind, pattern, _)| spare(problem, *kind, pattern)).max().unwrap_or(0);
    (boards, loads.len(), Reverse(longest))
}

fn spare(problem: &Problem, kind: usize, pattern: &Pattern) -> i64 {
    let (weight, ends) = problem.weigh(pattern);
    problem.boards[kind].capacity[ends as usize] - weight
}

/// Equal loads counted together, in a fixed order.
fn merged(loads: Loads) -> Loads {
    let mut counted: BTreeMap<(usize, Pattern), i64> = BTreeMap::new();
    for (kind, pattern, times) in loads {
        if times > 0 && !pattern.is_empty() {
            *counted.entry((kind, pattern)).or_default() += times;
        }
    }
    counted.into_iter().map(|((kind, pattern), times)| (kind, pattern, times)).collect()
}

fn counts_of(problem: &Problem, loads: &Loads) -> Vec<i64> {
    let mut counts = vec![0; problem.boards.len()];
    for (kind, _, times) in loads {
        counts[*kind] += times;
    }
    counts
}

/// Packs the parts into these boards again, in another order of choices.
fn pack_again(
    cover: &mut Cover<'_>,
    counts: &[i64],
    yardsticks: &[Yardstick],
    seed: u64,
    stop: &dyn Fn() -> bool,
) -> Option<Loads> {
    let rest = Rest { demands: cover.problem.demands(), counts: counts.to_vec() };
    cover.shuffle(seed);
    let Verdict::Enough(mix) = cover.test(&rest.demands, &rest.counts, stop) else { return None };
    dive(cover, &rest, Some(mix), yardsticks, seed, stop).map(merged)
}

/// Boards that cost nothing are laid out in full by the search; those that are not needed go back, shortest first.
fn without_spare_boards(
    cover: &mut Cover<'_>,
    loads: Loads,
    yardsticks: &[Yardstick],
    stop: &dyn Fn() -> bool,
) -> Loads {
    let problem = cover.problem;
    let mut best = loads;
    let mut free: Vec<usize> = (0..problem.boards.len()).filter(|t| problem.boards[*t].price == 0).collect();
    free.sort_by_key(|t| (problem.boards[*t].capacity[0], *t));
    for t in free {
        loop {
            let mut counts = counts_of(problem, &best);
            if counts[t] == 0 {
                break;
            }
            counts[t] -= 1;
            if !yardsticks.iter().all(|yardstick| yardstick.met_by(&counts)) {
                break;
            }
            match pack_again(cover, &counts, yardsticks, 0, stop) {
                Some(found) => best = found,
                None => break,
            }
        }
    }
    best
}

fn fewer_set_ups(cover: &mut Cover<'_>, loads: Loads, yardsticks: &[Yardstick], stop: &dyn Fn() -> bool) -> Loads {
    const TRIES: u64 = 4;
    let problem = cover.problem;
    let counts = counts_of(problem, &loads);
    let mut best = loads;
    for seed in 1..=TRIES {
        if let Some(found) = pack_again(cover, &counts, yardsticks, seed, stop)
            && merit(problem, &found) < merit(problem, &best)
        {
            best = found;
        }
    }
    best
}

/// Moves and swaps parts between boards as long as the merit grows.
fn longer_offcut(problem: &Problem, loads: Loads) -> Loads {
    /// Boards beyond which trying every pair takes too long.
    const BOARDS: usize = 40;
    let mut bars: Vec<(usize, Pattern)> = Vec::new();
    for (kind, pattern, times) in &loads {
        bars.extend(std::iter::repeat_n((*kind, pattern.clone()), *times as usize));
    }
    if bars.len() > BOARDS {
        return loads;
    }
    let mut best = bar_merit(problem, &bars);
    while let Some((better, merit)) = improved(problem, &bars, best) {
        bars = better;
        best = merit;
    }
    merged(bars.into_iter().map(|(kind, pattern)| (kind, pattern, 1)).collect())
}

fn bar_merit(problem: &Problem, bars: &[(usize, Pattern)]) -> Merit {
    merit(problem, &merged(bars.iter().map(|(kind, pattern)| (*kind, pattern.clone(), 1)).collect()))
}

/// The first move or swap that helps: a part of one board to another, perhaps against a lighter one.
fn improved(problem: &Problem, bars: &[(usize, Pattern)], best: Merit) -> Option<(Vec<(usize, Pattern)>, Merit)> {
    for from in 0..bars.len() {
        for to in (0..bars.len()).filter(|to| *to != from) {
            let back = std::iter::once(None).chain(bars[to].1.iter().map(|(item, _)| Some(*item)));
            for (give, take) in bars[from].1.iter().flat_map(|(give, _)| back.clone().map(move |take| (*give, take))) {
                // Only what leaves the giver emptier: items stand from the heaviest to the lightest.
                if take.is_some_and(|take| problem.items[take].weight >= problem.items[give].weight) {
                    continue;
                }
                let mut giver = without(&bars[from].1, give);
                let mut taker = with(&bars[to].1, give);
                if let Some(take) = take {
                    giver = with(&giver, take);
                    taker = without(&taker, take);
                }
                if spare(problem, bars[to].0, &taker) < 0 || spare(problem, bars[from].0, &giver) < 0 {
                    continue;
                }
                let mut next = bars.to_vec();
                next[from].1 = giver;
                next[to].1 = taker;
                let merit = bar_merit(problem, &next);
                if merit < best {
                    return Some((next, merit));
                }
            }
        }
    }
    None
}

fn with(pattern: &Pattern, item: usize) -> Pattern {
    let mut counted: BTreeMap<usize, i64> = pattern.iter().copied().collect();
    *counted.entry(item).or_default() += 1;
    counted.into_iter().collect()
}

fn without(pattern: &Pattern, item: usize) -> Pattern {
    let one_less = pattern.iter().map(|&(i, count)| (i, if i == item { count - 1 } else { count }));
    one_less.filter(|(_, count)| *count > 0).collect()
}
