//! Numbering of nodes that keeps the factors of the stiffness matrix sparse.

use std::collections::BTreeSet;

/// An order of elimination, and what each elimination joins.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Elimination {
    /// Position → node.
    pub(super) order: Vec<usize>,
    /// Position → nodes eliminated later that the node is joined to by then, ascending by node.
    pub(super) joined: Vec<Vec<usize>>,
}

/// Eliminates the nodes of an undirected graph one by one, always one with the fewest neighbours left, and joins those
/// to each other. Ties go to the lower node number, so the same graph always gives the same order.
///
/// # Source
/// W. F. Tinney, J. W. Walker, Proc. IEEE 55 (1967) 1801–1809, scheme 2.
pub(super) fn minimum_degree(neighbours: &[Vec<usize>]) -> Elimination {
    let mut left: Vec<BTreeSet<usize>> = neighbours.iter().map(|n| n.iter().copied().collect()).collect();
    let mut queue: BTreeSet<(usize, usize)> = left.iter().enumerate().map(|(n, own)| (own.len(), n)).collect();
    let (mut order, mut joined) = (Vec::with_capacity(left.len()), Vec::with_capacity(left.len()));
    while let Some((_, node)) = queue.pop_first() {
        let around: Vec<usize> = std::mem::take(&mut left[node]).into_iter().collect();
        for &n in &around {
            queue.remove(&(left[n].len(), n));
            left[n].remove(&node);
            left[n].extend(around.iter().copied().filter(|&m| m != n));
            queue.insert((left[n].len(), n));
        }
        order.push(node);
        joined.push(around);
    }
    Elimination { order, joined }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shuffled_chain_is_eliminated_from_its_ends_without_fill() {
        // 3 - 0 - 4 - 1 - 2
        let chain = vec![vec![3, 4], vec![2, 4], vec![1], vec![0], vec![0, 1]];
        let found = minimum_degree(&chain);
        assert_eq!(found.joined.iter().map(Vec::len).sum::<usize>(), 4, "one for each edge: {found:?}");
        assert_eq!(found.order[0], 2, "an end first");
    }

    #[test]
    fn a_ring_is_closed_by_one_edge_at_a_time() {
        // 0 - 1 - 2 - 3 - 0: eliminating 0 joins 1 and 3.
        let ring = vec![vec![1, 3], vec![0, 2], vec![1, 3], vec![0, 2]];
        let found = minimum_degree(&ring);
        assert_eq!(found.order[0], 0);
        assert_eq!(found.joined, vec![vec![1, 3], vec![2, 3], vec![3], vec![]]);
    }

    #[test]
    fn two_loose_parts_are_both_placed() {
        let mut order = minimum_degree(&[vec![1], vec![0], vec![3], vec![2]]).order;
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2, 3]);
    }
}
