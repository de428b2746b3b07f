//! Numbering of nodes that keeps the stiffness matrix narrow.

use std::collections::VecDeque;

/// Reverse Cuthill–McKee order of an undirected graph: position → node. Ties go to the lower node number, so the
/// same graph always gives the same order.
///
/// # Source
/// E. Cuthill, J. McKee, Proc. 24th ACM National Conference (1969) 157–172; start node after A. George, J. Liu,
/// ACM Trans. Math. Software 5 (1979) 284–295.
pub(super) fn reverse_cuthill_mckee(neighbours: &[Vec<usize>]) -> Vec<usize> {
    let mut order = Vec::with_capacity(neighbours.len());
    let mut placed = vec![false; neighbours.len()];
    let mut by_degree: Vec<usize> = (0..neighbours.len()).collect();
    by_degree.sort_by_key(|&n| (neighbours[n].len(), n));
    for &seed in &by_degree {
        if !placed[seed] {
            let start = far_end(neighbours, seed);
            append_levels(neighbours, start, &mut placed, &mut order);
        }
    }
    order.reverse();
    order
}

fn append_levels(neighbours: &[Vec<usize>], start: usize, placed: &mut [bool], order: &mut Vec<usize>) {
    let mut next = order.len();
    placed[start] = true;
    order.push(start);
    while next < order.len() {
        let first_new = order.len();
        for &n in &neighbours[order[next]] {
            if !placed[n] {
                placed[n] = true;
                order.push(n);
            }
        }
        order[first_new..].sort_by_key(|&n| (neighbours[n].len(), n));
        next += 1;
    }
}

/// A node at (nearly) the greatest distance from any other, found by walking to the far side until it gets no farther.
fn far_end(neighbours: &[Vec<usize>], seed: usize) -> usize {
    let mut start = seed;
    let (mut depth, mut far) = depth_from(neighbours, start);
    loop {
        let (deeper, farther) = depth_from(neighbours, far);
        if deeper <= depth {
            return start;
        }
        (start, depth, far) = (far, deeper, farther);
    }
}

/// Number of levels, and the node of least degree in the last one.
fn depth_from(neighbours: &[Vec<usize>], start: usize) -> (usize, usize) {
    let mut level = vec![usize::MAX; neighbours.len()];
    let mut queue = VecDeque::from([start]);
    level[start] = 0;
    let mut last = start;
    while let Some(n) = queue.pop_front() {
        let better = level[n] > level[last]
            || (level[n] == level[last] && (neighbours[n].len(), n) < (neighbours[last].len(), last));
        if better {
            last = n;
        }
        for &m in &neighbours[n] {
            if level[m] == usize::MAX {
                level[m] = level[n] + 1;
                queue.push_back(m);
            }
        }
    }
    (level[last], last)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shuffled_chain_comes_out_as_a_chain() {
        // 3 - 0 - 4 - 1 - 2
        let chain = vec![vec![3, 4], vec![2, 4], vec![1], vec![0], vec![0, 1]];
        let order = reverse_cuthill_mckee(&chain);
        let place = |n: usize| order.iter().position(|&o| o == n).expect("every node is placed");
        for (n, others) in chain.iter().enumerate() {
            assert!(others.iter().all(|&m| place(n).abs_diff(place(m)) == 1));
        }
    }

    #[test]
    fn two_loose_parts_are_both_placed() {
        let mut order = reverse_cuthill_mckee(&[vec![1], vec![0], vec![3], vec![2]]);
        order.sort_unstable();
        assert_eq!(order, [0, 1, 2, 3]);
    }
}
