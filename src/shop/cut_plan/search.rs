//! The search as a whole: cheapest boards first, refused by a yardstick or packed; the first that packs is the optimum.

use super::{
    bound::{Counts, Yardstick},
    cover::{Cover, Mix, Verdict},
    pack::{Loads, Packed, Rest, complete, dive, fill_greedily},
    problem::Problem,
    ties::settle,
};

/// What the search found.
pub(super) struct Solved {
    /// `None` when no plan is known.
    pub(super) loads: Option<Loads>,
    /// No plan costs less.
    pub(super) bound: i64,
    /// Nothing is open: with loads they are optimal, without loads there is no plan.
    pub(super) settled: bool,
}

/// Effort of one round on one set of boards.
struct Effort {
    dives: u64,
    steps: u64,
}

/// Searches until everything is settled or `stop` says so.
pub(super) fn solve(problem: &Problem, stop: &dyn Fn() -> bool) -> Solved {
    let mut run = Run::new(problem, stop);
    run.open();
    run.floor = run.counts.quick_bound();
    let mut effort = Effort { dives: 2, steps: 20_000 };
    loop {
        let aside = run.round(&effort);
        let best = run.rank.map(Counts::cost_of);
        if let Some(aside) = &aside {
            // Every set below the best plan was refused or put aside.
            let open = aside.iter().map(|counts| problem.cost(counts)).min();
            run.floor = run.floor.max(open.into_iter().chain(best).min().unwrap_or(0));
        }
        let settled = match best {
            Some(best) => run.floor >= best,
            None => aside.as_ref().is_some_and(Vec::is_empty),
        };
        if settled || aside.is_none() || run.stopped() {
            let (bound, loads) = (run.floor, run.best.take());
            // Fixed effort, so that a plan that is settled is the same on every machine; a search cut short has no time left for it.
            let loads = loads.map(|loads| match settled {
                true => settle(&mut run.cover, loads, run.counts.yardsticks(), &|| false),
                false => loads,
            });
            return Solved { loads, bound, settled };
        }
        effort = Effort { dives: effort.dives * 3, steps: effort.steps * 8 };
    }
}

struct Run<'a> {
    problem: &'a Problem,
    cover: Cover<'a>,
    counts: Counts,
    best: Option<Loads>,
    /// Cost and number of boards of the best plan.
    rank: Option<i64>,
    /// No plan costs less, as far as it is known.
    floor: i64,
    seed: u64,
    stop: &'a dyn Fn() -> bool,
}

impl<'a> Run<'a> {
    fn new(problem: &'a Problem, stop: &'a dyn Fn() -> bool) -> Self {
        let mut counts = Counts::new(problem);
        counts.add(Yardstick::material(problem));
        Self { problem, cover: Cover::new(problem), counts, best: None, rank: None, floor: 0, seed: 0, stop }
    }

    fn stopped(&self) -> bool {
        (self.stop)()
    }

    /// The bound in fractions and a first plan rounded from it.
    fn open(&mut self) {
        let (mix, yardstick) = self.cover.cheapest_mix(self.stop);
        if let Some(yardstick) = yardstick {
            self.counts.add(yardstick);
        }
        let limits = self.problem.boards.iter().map(|board| board.limit).collect();
        let mut rest = Rest { demands: self.problem.demands(), counts: limits };
        let mut loads = Loads::new();
        for (kind, pattern, level) in mix {
            let times = rest.room_for(kind, &pattern, (level + 1e-6).floor() as i64);
            if times > 0 {
                rest.take(kind, &pattern, times);
                loads.push((kind, pattern, times));
            }
        }
        if fill_greedily(&mut self.cover, &mut rest, &mut loads) {
            self.keep(loads);
        }
    }

    fn keep(&mut self, loads: Loads) {
        let mut used = vec![0; self.problem.boards.len()];
        for (kind, _, times) in &loads {
            used[*kind] += times;
        }
        let rank = self.counts.rank(&used);
        if self.rank.is_none_or(|best| rank < best) {
            self.rank = Some(rank);
            self.best = Some(loads);
        }
    }

    /// Goes through sets of boards from the cheapest on. Returns those that stayed open, or `None` when it was stopped on the way.
    fn round(&mut self, effort: &Effort) -> Option<Vec<Vec<i64>>> {
        let mut aside: Vec<Vec<i64>> = Vec::new();
        loop {
            let below = self.rank.unwrap_or(i64::MAX);
            let found = self.counts.cheapest(&aside, below, self.stop);
            let Some(counts) = found? else { return Some(aside) };
            if aside.is_empty() {
                self.floor = self.floor.max(self.problem.cost(&counts));
            }
            match self.cover.test(&self.problem.demands(), &counts, self.stop) {
                Verdict::TooLittle(yardstick) => self.counts.add(yardstick),
                Verdict::Open => aside.push(counts),
                Verdict::Enough(mix) => match self.pack(&counts, mix, effort) {
                    Packed::Found(loads) => self.keep(loads),
                    Packed::Impossible => self.counts.refuse(counts),
                    Packed::Open => aside.push(counts),
                },
            }
            if self.stopped() {
                return None;
            }
        }
    }

    fn pack(&mut self, counts: &[i64], mix: Mix, effort: &Effort) -> Packed {
        let rest = Rest { demands: self.problem.demands(), counts: counts.to_vec() };
        let yardsticks = self.counts.yardsticks().to_vec();
        let mut first = Some(mix);
        for at in 0..effort.dives {
            if at > 0 || first.is_none() {
                self.seed += 1;
                self.cover.shuffle(self.seed);
            }
            let found = dive(&mut self.cover, &rest, first.take(), &yardsticks, self.seed, self.stop);
            if let Some(loads) = found {
                return Packed::Found(loads);
            }
            if at == 0 {
                let packed = complete(self.problem, &rest, &yardsticks, effort.steps, self.stop);
                if !matches!(packed, Packed::Open) {
                    return packed;
                }
            }
        }
        Packed::Open
    }
}
