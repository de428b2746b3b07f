//! The finished plan: which part is sawn where on which board.

use super::{job::Job, mitre::nest};

/// Boards to saw, what they cost, and how sure it is that nothing costs less.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// Price of all boards used that have one (cents).
    pub cost: i64,
    /// No plan costs less (cents), proved in whole numbers.
    pub bound: i64,
    /// Length of all boards bought without a price (units).
    pub length: i64,
    /// No plan buys less length (units), proved in whole numbers.
    pub length_bound: i64,
    /// Cost and length equal their bounds: this plan is optimal.
    pub proven: bool,
    /// One entry per board, equal boards next to each other.
    pub bars: Vec<Bar>,
}

/// One board.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// Row of the stock list.
    pub stock: usize,
    /// Length before anything is sawn (units).
    pub stock_length: i64,
    /// Price (cents); nothing where nobody gave one.
    pub price: Option<i64>,
    /// Section and grain.
    pub group: String,
    /// Parts in the order they lie.
    pub cuts: Vec<Cut>,
    /// Rest after the last cut (units).
    pub offcut: i64,
    /// The rest is as long as the job's minimum offcut or longer.
    pub keep_offcut: bool,
}

/// One part on a board. Marks are measured from the board's first end, after its end trim.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cut {
    /// Row of the part list.
    pub part: usize,
    /// The name to write on the piece.
    pub mark: String,
    /// Long-point length (units).
    pub length: i64,
    /// Where the part begins, at its long edge (units).
    pub from: i64,
    /// Where it ends, at its long edge; the saw goes on the far side of this mark (units).
    pub to: i64,
    /// Ends cut at the mitre angle: 0, 1 or 2.
    pub mitred_ends: u8,
    /// The long edge lies away from the builder: turn the part over against the one before.
    pub turned_over: bool,
    /// The first end shares one mitred cut with the part before.
    pub shares_cut: bool,
}

impl Plan {
    /// Number of boards.
    #[must_use]
    pub fn boards(&self) -> usize {
        self.bars.len()
    }

    /// Boards that differ in stock or cuts: each needs the stops set anew.
    #[must_use]
    pub fn set_ups(&self) -> usize {
        self.runs(Bar::is_cut_like).len()
    }

    /// Runs of boards that are cut alike into the same marks: the first of each and their number. Parts of one length may
    /// differ in their holes, so that whoever saws must see which is which.
    #[must_use]
    pub fn batches(&self) -> Vec<(&Bar, usize)> {
        let marks = |bar: &Bar| bar.cuts.iter().map(|cut| cut.part).collect::<Vec<_>>();
        self.runs(|first, bar| first.is_cut_like(bar) && marks(first) == marks(bar))
    }

    fn runs(&self, alike: impl Fn(&Bar, &Bar) -> bool) -> Vec<(&Bar, usize)> {
        let mut runs: Vec<(&Bar, usize)> = Vec::new();
        for bar in &self.bars {
            match runs.last_mut() {
                Some((first, count)) if alike(first, bar) => *count += 1,
                _ => runs.push((bar, 1)),
            }
        }
        runs
    }

    /// Boards to take or buy, by stock row: row, number, price of all.
    #[must_use]
    pub fn boards_used(&self) -> Vec<(usize, usize, Option<i64>)> {
        let mut rows: Vec<(usize, usize, Option<i64>)> = Vec::new();
        for bar in &self.bars {
            match rows.iter_mut().find(|(row, ..)| *row == bar.stock) {
                Some((_, count, price)) => {
                    *count += 1;
                    *price = price.zip(bar.price).map(|(all, one)| all + one);
                }
                None => rows.push((bar.stock, 1, bar.price)),
            }
        }
        rows.sort_unstable();
        rows
    }
}

impl Bar {
    fn is_cut_like(&self, other: &Self) -> bool {
        let lengths = |bar: &Self| bar.cuts.iter().map(|cut| (cut.length, cut.mitred_ends)).collect::<Vec<_>>();
        self.stock == other.stock && lengths(self) == lengths(other)
    }
}

/// Lays parts, given by row, on a board of a stock row, and works out every mark.
pub(super) fn lay_out(job: &Job, stock: usize, parts: &[usize]) -> Bar {
    let saving = job.mitre_joint_saving;
    let ends: Vec<u8> =
        parts.iter().map(|part| if saving.is_some() { job.parts[*part].mitred_ends } else { 0 }).collect();
    let mut at = 0;
    let mut cuts: Vec<Cut> = Vec::with_capacity(parts.len());
    for placed in nest(&ends) {
        let row = parts[placed.index];
        let part = &job.parts[row];
        if !cuts.is_empty() {
            at += job.kerf - if placed.shares_cut { saving.unwrap_or(0) } else { 0 };
        }
        cuts.push(Cut {
            part: row,
            mark: part.mark.clone(),
            length: part.length,
            from: at,
            to: at + part.length,
            mitred_ends: part.mitred_ends,
            turned_over: placed.turned_over,
            shares_cut: placed.shares_cut,
        });
        at += part.length;
    }
    let rest = job.usable(stock) - at;
    // A rest shorter than the kerf is sawn away.
    let offcut = (rest - job.kerf).max(0);
    let board = &job.stock[stock];
    Bar {
        stock,
        stock_length: board.length,
        price: board.price,
        group: board.group.clone(),
        cuts,
        offcut,
        keep_offcut: offcut > 0 && offcut >= job.minimum_offcut,
    }
}
