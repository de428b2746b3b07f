//! The best way to cut the circle of the year into arcs, each at one tilt: an exact dynamic programme.

use super::energy::{DAYS, DailyEnergy};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// One stretch of the year at one tilt.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Arc {
    /// First day, 0 to 364.
    pub(crate) start: usize,
    pub(crate) days: usize,
    /// Column of the energy table.
    pub(crate) column: usize,
    /// Energy over the stretch, in the table's unit.
    pub(crate) energy: f64,
}

const WIDTH: usize = DAYS + 1;

/// Best energy of a stretch by its start and length, cut into a fixed number of arcs; -∞ where it cannot be cut.
struct Stretches(Vec<f64>);

impl Stretches {
    fn row(&self, start: usize) -> &[f64] {
        &self.0[start * WIDTH..(start + 1) * WIDTH]
    }

    /// One arc: the best column for every stretch.
    fn of_one_arc(table: &DailyEnergy) -> Self {
        let mut best = vec![f64::NEG_INFINITY; DAYS * WIDTH];
        best.par_chunks_mut(WIDTH).enumerate().for_each(|(start, row)| {
            let mut sums = vec![0.0; table.tilts_deg().len()];
            for (days, slot) in row.iter_mut().enumerate().skip(1) {
                *slot = add_and_take_best(&mut sums, table.day((start + days - 1) % DAYS));
            }
        });
        Self(best)
    }

    /// Stretches of a + b arcs: the best place to change from one to the other.
    fn joined(a: &Self, b: &Self) -> Self {
        let mut best = vec![f64::NEG_INFINITY; DAYS * WIDTH];
        best.par_chunks_mut(WIDTH).enumerate().for_each(|(start, row)| {
            for (first, energy) in a.row(start).iter().enumerate().take(DAYS).skip(1) {
                let rest = &b.row((start + first) % DAYS)[1..=DAYS - first];
                for (slot, more) in row[first + 1..].iter_mut().zip(rest) {
                    let sum = energy + more;
                    *slot = if sum > *slot { sum } else { *slot };
                }
            }
        });
        Self(best)
    }

    /// Where to cut a stretch into a part of `a` and a part of `b`, the first of equals.
    fn cut(a: &Self, b: &Self, start: usize, days: usize) -> usize {
        let value = |first: usize| a.row(start)[first] + b.row((start + first) % DAYS)[days - first];
        (1..days).fold(1, |best, first| if value(first) > value(best) { first } else { best })
    }
}

/// Adds a day to the running sums and gives the largest. Four lanes, so that the loop runs in vector registers.
fn add_and_take_best(sums: &mut [f64], day: &[f64]) -> f64 {
    const LANES: usize = 4;
    let mut best = [f64::NEG_INFINITY; LANES];
    let mut sum_parts = sums.chunks_exact_mut(LANES);
    let mut day_parts = day.chunks_exact(LANES);
    for (part, values) in sum_parts.by_ref().zip(day_parts.by_ref()) {
        for lane in 0..LANES {
            part[lane] += values[lane];
            best[lane] = if part[lane] > best[lane] { part[lane] } else { best[lane] };
        }
    }
    for (sum, value) in sum_parts.into_remainder().iter_mut().zip(day_parts.remainder()) {
        *sum += value;
        best[0] = best[0].max(*sum);
    }
    best.into_iter().fold(f64::NEG_INFINITY, f64::max)
}

/// The best division of the year into exactly `count` arcs, in the order of their first days.
///
/// Exact for any table: `joined` tries every change-over day, and the circle is closed over every start. A plan for k
/// arcs needs the stretches of ⌊k/2⌋ and ⌈k/2⌉ arcs only, each found by halving again.
pub(crate) fn best_arcs(table: &DailyEnergy, count: usize) -> Vec<Arc> {
    if count == 1 {
        return vec![whole_year(table)];
    }
    let mut stretches = BTreeMap::new();
    prepare(&mut stretches, table, count / 2);
    prepare(&mut stretches, table, count - count / 2);
    let (a, b) = (&stretches[&(count / 2)], &stretches[&(count - count / 2)]);
    let mut best = (f64::NEG_INFINITY, 0, 1);
    for start in 0..DAYS {
        for first in 1..DAYS {
            let sum = a.row(start)[first] + b.row((start + first) % DAYS)[DAYS - first];
            if sum > best.0 {
                best = (sum, start, first);
            }
        }
    }
    let (_, start, first) = best;
    let mut pieces = Vec::with_capacity(count);
    divide(&stretches, count / 2, start, first, &mut pieces);
    divide(&stretches, count - count / 2, (start + first) % DAYS, DAYS - first, &mut pieces);
    let mut arcs: Vec<Arc> = pieces.into_iter().map(|(start, days)| arc(table, start, days)).collect();
    arcs.sort_by_key(|arc| arc.start);
    arcs
}

fn prepare(stretches: &mut BTreeMap<usize, Stretches>, table: &DailyEnergy, count: usize) {
    if stretches.contains_key(&count) {
        return;
    }
    if count == 1 {
        stretches.insert(1, Stretches::of_one_arc(table));
        return;
    }
    let (half, rest) = (count / 2, count - count / 2);
    prepare(stretches, table, half);
    prepare(stretches, table, rest);
    let joined = Stretches::joined(&stretches[&half], &stretches[&rest]);
    stretches.insert(count, joined);
}

fn divide(
    stretches: &BTreeMap<usize, Stretches>,
    count: usize,
    start: usize,
    days: usize,
    pieces: &mut Vec<(usize, usize)>,
) {
    if count == 1 {
        pieces.push((start, days));
        return;
    }
    let (half, rest) = (count / 2, count - count / 2);
    let first = Stretches::cut(&stretches[&half], &stretches[&rest], start, days);
    divide(stretches, half, start, first, pieces);
    divide(stretches, rest, (start + first) % DAYS, days - first, pieces);
}

pub(crate) fn arc(table: &DailyEnergy, start: usize, days: usize) -> Arc {
    let sums = table.run(start, days);
    let column = (0..sums.len()).fold(0, |best, at| if sums[at] > sums[best] { at } else { best });
    Arc { start, days, column, energy: sums[column] }
}

fn whole_year(table: &DailyEnergy) -> Arc {
    arc(table, 0, DAYS)
}

/// Neighbouring arcs at one tilt become one, over the turn of the year too.
pub(crate) fn merge_equal(arcs: Vec<Arc>) -> Vec<Arc> {
    let mut merged: Vec<Arc> = Vec::with_capacity(arcs.len());
    for arc in arcs {
        match merged.last_mut() {
            Some(last) if last.column == arc.column => {
                last.days += arc.days;
                last.energy += arc.energy;
            }
            _ => merged.push(arc),
        }
    }
    if let [first, .., last] = merged.as_slice()
        && first.column == last.column
    {
        let (days, energy) = (first.days, first.energy);
        if let Some(last) = merged.last_mut() {
            last.days += days;
            last.energy += energy;
        }
        merged.remove(0);
    }
    merged
}
