//! The job as whole numbers: kinds of parts with weights, kinds of boards with capacities.
//!
//! Kerf turns into plain packing: a part weighs its length plus one kerf, a board holds its usable length plus one kerf when
//! its far end is left as it is, and its usable length when the far end is always cut. A shared mitre cut saves `s` per joint:
//! a part mitred at both ends weighs `s` less, one mitred at one end `s/2` less, and what a board holds depends on which kinds
//! of ends stand on it ([`Ends`]). To stay in whole numbers every weight is doubled where halves can occur.

/// Longest stock a job may name, in its unit: 100 m in millimetres, 520 ft in sixteenths of an inch.
pub(super) const LONGEST: i64 = 100_000;

/// Which mitred ends stand on a board; the index into [`Board::capacity`].
///
/// With `p` parts mitred at both ends and `q` at one end, `p + ⌊q/2⌋` joints can be shared if q > 0, else `p − 1` (0 if p = 0).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub(super) enum Ends {
    /// Square ends only.
    Square = 0,
    /// Parts mitred at both ends, none at one end: the chain has two mitres left over.
    Closed = 1,
    /// An odd number of parts mitred at one end: one mitre is left over.
    Odd = 2,
    /// An even number, at least two.
    Even = 3,
}

impl Ends {
    pub(super) const ALL: [Self; 4] = [Self::Square, Self::Closed, Self::Odd, Self::Even];

    /// What the board has after `count` more parts with `mitred` ends.
    pub(super) fn with(self, mitred: u8, count: i64) -> Self {
        match (mitred, count) {
            (0, _) | (_, 0) => self,
            (1, _) => {
                let odd = (self == Self::Odd) ^ (count % 2 == 1);
                if odd { Self::Odd } else { Self::Even }
            }
            _ if self == Self::Square => Self::Closed,
            _ => self,
        }
    }
}

/// Parts that are alike.
#[derive(Debug, Clone)]
pub(super) struct Item {
    pub(super) weight: i64,
    pub(super) mitred_ends: u8,
    pub(super) demand: i64,
}

/// Boards that are alike.
#[derive(Debug, Clone)]
pub(super) struct Board {
    /// By [`Ends`]; the first is the largest.
    pub(super) capacity: [i64; 4],
    pub(super) price: i64,
    /// How many may be used: what is on hand, and never more than there are parts.
    pub(super) limit: i64,
    /// Row of the stock list.
    pub(super) stock: usize,
}

/// A job, ready for the search. Items stand from the heaviest to the lightest.
#[derive(Debug, Clone)]
pub(super) struct Problem {
    pub(super) items: Vec<Item>,
    pub(super) boards: Vec<Board>,
    /// Kinds of [`Ends`] that can stand on a board: 1 when all are square, 2 when no part is mitred at one end only, else 4.
    pub(super) states: usize,
}

/// How many of which item lie on one board, items ascending.
pub(super) type Pattern = Vec<(usize, i64)>;

impl Problem {
    pub(super) fn demands(&self) -> Vec<i64> {
        self.items.iter().map(|item| item.demand).collect()
    }

    pub(super) fn largest_capacity(&self) -> i64 {
        self.boards.iter().map(|board| board.capacity[0]).max().unwrap_or(0)
    }

    /// Weight of a pattern and the ends on it.
    pub(super) fn weigh(&self, pattern: &[(usize, i64)]) -> (i64, Ends) {
        pattern.iter().fold((0, Ends::Square), |(weight, ends), &(i, count)| {
            let item = &self.items[i];
            (weight + item.weight * count, ends.with(item.mitred_ends, count))
        })
    }

    /// Does a load with these ends go on a board of kind `t`?
    pub(super) fn fits(&self, t: usize, weight: i64, ends: Ends) -> bool {
        weight <= self.boards[t].capacity[ends as usize]
    }

    pub(super) fn cost(&self, counts: &[i64]) -> i64 {
        self.boards.iter().zip(counts).map(|(board, count)| board.price * count).sum()
    }
}
