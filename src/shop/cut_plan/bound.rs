//! The proof: yardsticks that every plan must meet, and the cheapest set of boards that meets them all.
//!
//! Give every part a value in whole numbers. A board of kind `t` can hold at most `best_t`, the optimum of a bounded knapsack. So a plan
//! with `z_t` boards of kind `t` has
//!
//! ```text
//! Σ_t z_t · best_t  ≥  Σ_i d_i · value_i
//! ```
//!
//! whatever the values are and wherever they came from. The material bound is the case value = weight.

use super::problem::Problem;

/// One such inequality.
#[derive(Debug, Clone)]
pub(super) struct Yardstick {
    /// Value of one part of each item.
    pub(super) values: Vec<i64>,
    /// Most value that one board of each kind can hold.
    pub(super) best: Vec<i64>,
    /// Value of all parts together.
    pub(super) need: i64,
}

impl Yardstick {
    /// The material bound: parts by weight against capacity.
    pub(super) fn material(problem: &Problem) -> Self {
        Self {
            values: problem.items.iter().map(|item| item.weight).collect(),
            best: problem.boards.iter().map(|board| board.capacity[0]).collect(),
            need: problem.items.iter().map(|item| item.weight * item.demand).sum(),
        }
    }

    /// Do these boards meet it?
    pub(super) fn met_by(&self, counts: &[i64]) -> bool {
        self.best.iter().zip(counts).map(|(best, count)| best * count).sum::<i64>() >= self.need
    }

    /// What boards can hold beyond the value of these parts; it holds for any part of the job too.
    pub(super) fn slack(&self, demands: &[i64], counts: &[i64]) -> i64 {
        let room: i64 = self.best.iter().zip(counts).map(|(best, count)| best * count).sum();
        room - self.values.iter().zip(demands).map(|(value, demand)| value * demand).sum::<i64>()
    }
}

/// Sets of boards by order of cost, then of number.
pub(super) struct Counts {
    /// Price and, in the low bits, one per board.
    prices: Vec<i64>,
    lowest: Vec<i64>,
    limits: Vec<i64>,
    yardsticks: Vec<Yardstick>,
    /// By yardstick: kinds from the cheapest value to the dearest.
    orders: Vec<Vec<usize>>,
    /// Sets from which the parts cannot be cut; nor can they from any smaller set.
    refused: Vec<Vec<i64>>,
    /// Order in which kinds are counted.
    sequence: Vec<usize>,
}

/// Room for the number of boards below the price.
const BOARDS: i64 = 1 << 16;

impl Counts {
    pub(super) fn new(problem: &Problem) -> Self {
        let prices: Vec<i64> = problem.boards.iter().map(|board| board.price * BOARDS + 1).collect();
        // What is free is laid out in full: more wood never makes a plan impossible.
        let lowest = problem.boards.iter().map(|board| if board.price == 0 { board.limit } else { 0 }).collect();
        let limits = problem.boards.iter().map(|board| board.limit).collect();
        let mut sequence: Vec<usize> = (0..problem.boards.len()).collect();
        // Fixed kinds first, then limited ones, then by price for their length: the last is worked out, not searched.
        let key = |t: usize| {
            let board = &problem.boards[t];
            let dear = board.price as f64 / board.capacity[0] as f64;
            (board.price != 0, board.limit, dear)
        };
        sequence.sort_by(|a, b| {
            let (a, b) = (key(*a), key(*b));
            a.0.cmp(&b.0).then(a.1.cmp(&b.1)).then(b.2.total_cmp(&a.2))
        });
        Self { prices, lowest, limits, yardsticks: Vec::new(), orders: Vec::new(), refused: Vec::new(), sequence }
    }

    /// Cost first, then the number of boards.
    pub(super) fn rank(&self, counts: &[i64]) -> i64 {
        self.prices.iter().zip(counts).map(|(price, count)| price * count).sum()
    }

    /// The cost within a rank.
    pub(super) fn cost_of(rank: i64) -> i64 {
        rank / BOARDS
    }

    pub(super) fn add(&mut self, yardstick: Yardstick) {
        let mut order: Vec<usize> = (0..self.prices.len()).filter(|t| yardstick.best[*t] > 0).collect();
        order.sort_by(|a, b| {
            let price = |t: usize| self.prices[t] as f64 / yardstick.best[t] as f64;
            price(*a).total_cmp(&price(*b)).then(a.cmp(b))
        });
        self.orders.push(order);
        self.yardsticks.push(yardstick);
    }

    pub(super) fn yardsticks(&self) -> &[Yardstick] {
        &self.yardsticks
    }

    pub(super) fn refuse(&mut self, counts: Vec<i64>) {
        self.refused.push(counts);
    }

    /// No plan costs less: each yardstick alone, boards in fractions.
    pub(super) fn quick_bound(&self) -> i64 {
        let never = || false;
        match self.search(&[], i64::MAX, &never).cheapest_rest(0, i64::MAX) {
            // Limited stock is too little for a yardstick; the search will say so.
            i64::MAX => 0,
            rank => Self::cost_of(rank),
        }
    }

    /// The set of lowest rank below `below` that meets every yardstick and is neither refused nor put aside; the outer `None` when it was stopped.
    pub(super) fn cheapest(&self, aside: &[Vec<i64>], below: i64, stop: &dyn Fn() -> bool) -> Option<Option<Vec<i64>>> {
        let mut search = self.search(aside, below, stop);
        search.descend(0, 0);
        (!search.stopped).then_some(search.found)
    }

    fn search<'a>(&'a self, aside: &'a [Vec<i64>], below: i64, stop: &'a dyn Fn() -> bool) -> Search<'a> {
        Search {
            place: self,
            aside,
            counts: self.lowest.clone(),
            left: self.yardsticks.iter().map(|y| y.need).collect(),
            open: vec![true; self.prices.len()],
            best: below,
            found: None,
            steps: 0,
            stop,
            stopped: false,
        }
    }
}

struct Search<'a> {
    place: &'a Counts,
    aside: &'a [Vec<i64>],
    counts: Vec<i64>,
    /// By yardstick: value still to be met.
    left: Vec<i64>,
    open: Vec<bool>,
    best: i64,
    found: Option<Vec<i64>>,
    steps: u64,
    stop: &'a dyn Fn() -> bool,
    stopped: bool,
}

impl Search<'_> {
    fn descend(&mut self, depth: usize, rank: i64) {
        let place = self.place;
        self.steps += 1;
        self.stopped |= self.steps.is_multiple_of(256) && (self.stop)();
        if self.stopped {
            return;
        }
        let Some(&t) = place.sequence.get(depth) else {
            if rank < self.best && !self.is_barred() {
                self.best = rank;
                self.found = Some(self.counts.clone());
            }
            return;
        };
        self.open[t] = false;
        let last = depth + 1 == place.sequence.len();
        let mut low = place.lowest[t];
        if last {
            low = low.max(self.least_of(t));
        }
        self.take(t, low);
        let mut count = low;
        while count <= place.limits[t] {
            let rank = rank + place.prices[t] * count;
            if rank >= self.best {
                break;
            }
            if last || self.cheapest_rest(rank, self.best) < self.best {
                self.counts[t] = count;
                self.descend(depth + 1, rank);
                // One more board of the last kind only costs more, unless this set was barred.
                if last && self.best <= rank {
                    break;
                }
            }
            count += 1;
            self.take(t, 1);
        }
        self.take(t, -count);
        self.counts[t] = place.lowest[t];
        self.open[t] = true;
    }

    fn take(&mut self, t: usize, count: i64) {
        for (left, yardstick) in self.left.iter_mut().zip(&self.place.yardsticks) {
            *left -= yardstick.best[t] * count;
        }
    }

    /// Boards of kind `t` that meet every yardstick when no other kind is left.
    fn least_of(&self, t: usize) -> i64 {
        let mut least = 0;
        for (left, yardstick) in self.left.iter().zip(&self.place.yardsticks) {
            if *left > 0 {
                if yardstick.best[t] == 0 {
                    return i64::MAX / 4;
                }
                least = least.max((left + yardstick.best[t] - 1) / yardstick.best[t]);
            }
        }
        least.min(self.place.limits[t] + 1)
    }

    /// Least rank that a set can have with the kinds still open: each yardstick alone, boards in fractions. Stops looking once `enough` is reached.
    fn cheapest_rest(&self, rank: i64, enough: i64) -> i64 {
        let mut most = rank;
        // The newest yardsticks bind most often.
        let yardsticks = self.left.iter().zip(&self.place.yardsticks).zip(&self.place.orders).rev();
        for ((left, yardstick), order) in yardsticks.filter(|((left, _), _)| **left > 0) {
            most = most.max(rank.saturating_add(self.cheapest_meeting(*left, yardstick, order)));
            if most >= enough {
                break;
            }
        }
        most
    }

    fn cheapest_meeting(&self, left: i64, yardstick: &Yardstick, order: &[usize]) -> i64 {
        /// More than all roundings of this sum together.
        const ROUNDING: f64 = 1e-12;
        let (mut left, mut price) = (left as f64, 0.0);
        for &t in order.iter().filter(|t| self.open[**t]) {
            let (best, limit) = (yardstick.best[t] as f64, self.place.limits[t] as f64);
            let boards = (left / best).min(limit);
            price += boards * self.place.prices[t] as f64;
            left -= boards * best;
            if boards < limit || left <= 0.0 {
                return (price * (1.0 - ROUNDING)) as i64;
            }
        }
        i64::MAX
    }

    fn is_barred(&self) -> bool {
        let within = |set: &Vec<i64>| self.counts.iter().zip(set).all(|(count, most)| count <= most);
        self.place.refused.iter().any(within) || self.aside.iter().any(within)
    }
}
