//! How near a frame is to buckling: the share of its stiffness that member compressions take away.

use nalgebra::{SMatrix, SVector, SymmetricEigen};

use super::assemble::{HELD, State, Structure};
use super::member::{Natural, Prepared};
use super::sparse::Sparse;
use super::subspace::{gram, product, reduced, rotate, spread};

/// An estimate has settled when it rises by less than this share, which is then added.
const CLOSE: f64 = 2e-3;
const MOST_ROUNDS: usize = 100;

/// Shapes that are iterated together...
const WIDTH: usize = 8;
/// ...and kept: the last one only tells what lies beyond.
pub(super) const SHAPES: usize = WIDTH - 1;
const PAIRS: usize = SHAPES * (SHAPES + 1) / 2;

/// Small matrix and vector over the softest shapes.
pub(super) type Small = SMatrix<f64, SHAPES, SHAPES>;
/// See [`Small`].
pub(super) type Few = SVector<f64, SHAPES>;

/// The shapes in which a frame is softest under a set of compressions, and what each member takes from them.
///
/// The shapes `V` have unit energy and are square to each other, so `Vᵀ K V = 1` and `Vᵀ S V` is the sum of what each
/// newton of compression takes. For compressions nowhere above those of the set, the frame loses at most the greatest
/// eigenvalue of `Vᵀ S V` plus what the set takes from movements square to the shapes: of the energy `v² + w² = 1`, `v`
/// in the shapes, the loss is at most `(√a v + √b w)² ≤ a + b`.
#[derive(Debug, Clone)]
pub(super) struct Softest {
    /// Component by component, [`SHAPES`] of them.
    pub(super) shapes: Vec<f64>,
    /// Per member and newton: upper triangle, row by row.
    taken: Vec<[f64; PAIRS]>,
    /// What the set takes beyond the shapes.
    rest: f64,
}

impl Softest {
    /// `Vᵀ S V` under compressions (N); tension counts when it is given.
    pub(super) fn taken(&self, compression: &[f64]) -> Small {
        let mut sums = [0.0; PAIRS];
        for (own, &c) in self.taken.iter().zip(compression) {
            if c != 0.0 {
                sums.iter_mut().zip(own).for_each(|(s, t)| *s += c * t);
            }
        }
        let mut out = Small::zeros();
        let mut next = sums.into_iter();
        for i in 0..SHAPES {
            for (j, value) in (i..SHAPES).zip(&mut next) {
                (out[(i, j)], out[(j, i)]) = (value, value);
            }
        }
        out
    }

    /// Whether the frame surely loses less than `limit` (false), surely as much (true), or neither.
    fn reaches(&self, compression: &[f64], limit: f64) -> Option<bool> {
        let taken = self.taken(compression);
        if taken.norm() + self.rest < limit {
            return Some(false);
        }
        if taken.diagonal().max() >= limit {
            return Some(true);
        }
        let most = SymmetricEigen::new(taken).eigenvalues.max();
        if most * (1.0 + CLOSE) >= limit {
            return Some(true);
        }
        (most + self.rest < limit).then_some(false)
    }
}

impl Structure {
    /// The greatest share of its stiffness that the frame loses under member compressions (N), `1 / α_cr`, on the safe
    /// side. May stop short of the value when it is sure to stay below `limit`.
    pub(super) fn softening(&self, compression: &[f64], loaded: &[bool], limit: f64) -> f64 {
        let frame = self.softening_of(&self.factors, &self.naturals, &self.start, compression, limit);
        with(frame, self.bows(compression, loaded))
    }

    /// Whether compressions (N) take at least the share `limit`, asking the shapes first.
    pub(super) fn softens(&self, shapes: Option<&Softest>, compression: &[f64], loaded: &[bool], limit: f64) -> bool {
        let (tied, apart) = self.bows(compression, loaded);
        if apart >= limit || tied >= limit {
            return true;
        }
        shapes
            .and_then(|s| s.reaches(compression, limit - tied))
            .unwrap_or_else(|| self.softening(compression, loaded, limit) >= limit)
    }

    /// Share that the members' bows between their nodes take: those that turn nodes, and those apart. Bows strain no
    /// node, so energy keeps them apart from the cubic shapes of moved nodes, and the largest eigenvalue of the whole is
    /// at most the sum of both largest ones. The bow of a pin-ended member does not touch the frame at all; it matters
    /// where a load bends the member.
    fn bows(&self, compression: &[f64], loaded: &[bool]) -> (f64, f64) {
        let (mut tied, mut apart) = (0.0_f64, 0.0_f64);
        for ((member, &c), &loaded) in self.members.iter().zip(compression).zip(loaded) {
            match member.bow(c) {
                (share, true) => tied = tied.max(share),
                (share, false) if loaded || share >= 1.0 => apart = apart.max(share),
                _ => {}
            }
        }
        (tied, apart)
    }

    /// As [`Structure::softening`] for the parts that act; `factors` are those of these parts.
    pub(super) fn softening_now(
        &self,
        factors: &Sparse,
        naturals: &[Natural],
        state: &State,
        compression: &[f64],
        loaded: &[bool],
        limit: f64,
    ) -> f64 {
        with(self.softening_of(factors, naturals, state, compression, limit), self.bows(compression, loaded))
    }

    /// What moving nodes give: largest eigenvalue of `K⁻¹ S` by power iteration in the energy norm, where it only grows
    /// towards the true value.
    fn softening_of(
        &self,
        factors: &Sparse,
        naturals: &[Natural],
        state: &State,
        compression: &[f64],
        limit: f64,
    ) -> f64 {
        /// From a start without a pattern the estimate of the fourth round is about half the value in a frame of a few
        /// hundred unknowns; one this many times below the limit will not reach it.
        const FAR_BELOW: f64 = 8.0;
        if self.unknowns() == 0 || compression.iter().all(|&c| c <= 0.0) {
            return 0.0;
        }
        let mut w = spread(self.unknowns());
        self.hold_contacts(state, 1, &mut w);
        let mut x = w.clone();
        factors.solve(&mut x, 1);
        let (mut size, mut share) = (product(&x, &w), 0.0_f64);
        for round in 0..MOST_ROUNDS {
            self.shortening::<1>(naturals, compression, &x, &mut w);
            self.hold_contacts(state, 1, &mut w);
            x.copy_from_slice(&w);
            factors.solve(&mut x, 1);
            let next = product(&x, &w);
            let better = (next / size).sqrt();
            if next <= 0.0 || !better.is_finite() {
                return share;
            }
            let settled = round > 2 && (better - share <= CLOSE * better || better * FAR_BELOW < limit);
            (size, share) = (1.0, better);
            if settled {
                break;
            }
            let by = 1.0 / next.sqrt();
            x.iter_mut().for_each(|v| *v *= by);
        }
        share * (1.0 + CLOSE)
    }

    /// The softest shapes under compressions (N), by subspace iteration. `None` when there are not as many: few members
    /// are pressed, or the frame is small.
    pub(super) fn softest(&self, compression: &[f64]) -> Option<Softest> {
        /// Rounds from a start without a pattern until the last shape may be trusted to tell what lies beyond...
        const LEAST_ROUNDS: usize = 5;
        /// ...within this factor.
        const BEYOND: f64 = 2.0;
        const ROUNDS: usize = 20;
        let n = self.unknowns();
        if n < 4 * WIDTH {
            return None;
        }
        let mut x = spread(n * WIDTH);
        self.hold_contacts(&self.start, WIDTH, &mut x);
        self.factors.solve(&mut x, WIDTH);
        let (mut pushed, mut last) = (vec![0.0; n * WIDTH], 0.0_f64);
        self.shortening::<WIDTH>(&self.naturals, compression, &x, &mut pushed);
        for round in 1..=ROUNDS {
            self.hold_contacts(&self.start, WIDTH, &mut pushed);
            x.copy_from_slice(&pushed);
            self.factors.solve(&mut x, WIDTH);
            let stiff = gram(&x, &pushed, WIDTH);
            self.shortening::<WIDTH>(&self.naturals, compression, &x, &mut pushed);
            let (values, turn) = reduced(stiff, gram(&x, &pushed, WIDTH))?;
            rotate(&mut x, &turn, WIDTH);
            rotate(&mut pushed, &turn, WIDTH);
            let most = 1.0 / values[0];
            if round >= LEAST_ROUNDS && (most - last).abs() <= CLOSE * most {
                let rest = BEYOND / values[SHAPES];
                return rest.is_finite().then(|| self.softest_of(&x, rest));
            }
            last = most;
        }
        None
    }

    fn softest_of(&self, x: &[f64], rest: f64) -> Softest {
        let shapes: Vec<f64> = x.chunks_exact(WIDTH).flat_map(|row| row[..SHAPES].iter().copied()).collect();
        let taken = |(member, natural): (&Prepared, &Natural)| {
            let moves = self.moves_of::<SHAPES>(member, &shapes);
            let mut own = [[0.0; SHAPES]; 12];
            member.add_shortening(natural, 1.0, &moves, &mut own);
            let pair = |i: usize, j: usize| (0..12).map(|c| moves[c][i] * own[c][j]).sum::<f64>();
            let mut pairs = [0.0; PAIRS];
            let all = (0..SHAPES).flat_map(|i| (i..SHAPES).map(move |j| (i, j)));
            pairs.iter_mut().zip(all).for_each(|(p, (i, j))| *p = pair(i, j));
            pairs
        };
        let taken = self.members.iter().zip(&self.naturals).map(taken).collect();
        Softest { shapes, taken, rest }
    }

    /// `S x` for `W` sides.
    fn shortening<const W: usize>(&self, naturals: &[Natural], compression: &[f64], x: &[f64], w: &mut [f64]) {
        w.fill(0.0);
        for ((member, natural), &c) in self.members.iter().zip(naturals).zip(compression) {
            if c <= 0.0 {
                continue;
            }
            let mut own = [[0.0; W]; 12];
            member.add_shortening(natural, c, &self.moves_of::<W>(member, x), &mut own);
            for (dof, values) in self.member_dofs(member).into_iter().zip(own) {
                if dof != HELD {
                    w[dof * W..(dof + 1) * W].iter_mut().zip(values).for_each(|(sum, v)| *sum += v);
                }
            }
        }
    }
}

/// The frame's share and its members' bows together.
fn with(frame: f64, (tied, apart): (f64, f64)) -> f64 {
    (frame + tied).max(apart)
}
