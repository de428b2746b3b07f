//! The order of parts on one board, so that mitred ends nest tip to tail.
//!
//! ```text
//!   ┌──────────┐╲──────────────╱ ╲────────────╱ ╱─────────┐      long points on alternating edges:
//!   │  one end  ╲╲  two ends  ╱╱ ╲╲ two ends ╱ ╱  one end │      every second part is turned over,
//!   └────────────╲╲──────────╱╱   ╲╲────────╱ ╱───────────┘      and each pair of neighbours shares a cut
//! ```

/// One part on a board, in its place in the row.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Placed {
    /// Which of the parts given.
    pub(super) index: usize,
    /// Its long edge lies away from the builder.
    pub(super) turned_over: bool,
    /// Its first end shares its cut with the part before.
    pub(super) shares_cut: bool,
}

/// Puts parts, given by their number of mitred ends, in the order that shares most cuts.
///
/// With `p` parts mitred at both ends and `q` at one end this shares `p + ⌊q/2⌋` cuts if q > 0, else `p − 1`: a part mitred at one end opens the
/// chain of those mitred at both, another closes it, the rest pair up.
pub(super) fn nest(mitred_ends: &[u8]) -> Vec<Placed> {
    let of = |ends: u8| (0..mitred_ends.len()).filter(move |i| mitred_ends[*i] == ends);
    let mut ones = of(1);
    let mut row = Vec::with_capacity(mitred_ends.len());
    chain(&mut row, ones.next().into_iter().chain(of(2)).chain(ones.next()));
    while let Some(first) = ones.next() {
        chain(&mut row, [first].into_iter().chain(ones.next()));
    }
    row.extend(of(0).map(|index| Placed { index, turned_over: false, shares_cut: false }));
    row
}

fn chain(row: &mut Vec<Placed>, parts: impl Iterator<Item = usize>) {
    row.extend(parts.enumerate().map(|(at, index)| Placed { index, turned_over: at % 2 == 1, shares_cut: at > 0 }));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_row_shares_as_many_cuts_as_the_count_of_ends_allows() {
        for p in 0..5_usize {
            for q in 0..6_usize {
                let ends: Vec<u8> = [vec![0; 2], vec![2; p], vec![1; q]].concat();
                let row = nest(&ends);
                assert_eq!(row.len(), ends.len());
                let shared = row.iter().filter(|placed| placed.shares_cut).count();
                assert_eq!(shared, if q > 0 { p + q / 2 } else { p.saturating_sub(1) }, "p {p} q {q}");
            }
        }
    }
}
