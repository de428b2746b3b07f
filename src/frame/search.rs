//! The layout search: open choices on a grid, ranked by what can be known quickly, built in that order.

use super::{hole_row::Setting, model::Frame, refusal::Refusal};

/// A choice with its rank; smaller is better.
#[derive(Debug, Clone)]
pub(super) struct Candidate<C> {
    pub(super) choice: C,
    score: f64,
}

/// Candidates built before the search gives up. Most designs stand at the first; a tight one needs a few.
const MOST_BUILT: usize = 60;

/// The given value alone, or a grid.
pub(super) fn grid(given: Option<f64>, from_mm: f64, to_mm: f64, step_mm: f64) -> Vec<f64> {
    if let Some(given) = given {
        return vec![given];
    }
    let first = (from_mm / step_mm).ceil().max(1.0);
    let steps = ((to_mm / step_mm).floor() - first).max(0.0) as usize;
    (0..=steps).map(|i| (first + i as f64) * step_mm).collect()
}

/// Ranks choices. Stick length counts in metres; against it stand a lever arm below half the pin radius, holes so
/// close that the pin loses strength, and a tilt that turns far for a millimetre of error, which also means a short
/// radius and large forces. The weights are judgement.
pub(super) fn ranked<C: Clone>(
    choices: impl Iterator<Item = C>,
    row: impl Fn(&C) -> Result<Vec<Setting>, Vec<Refusal>>,
    sticks_mm: impl Fn(&C, &[Setting]) -> f64,
) -> Vec<Candidate<C>> {
    const GOOD_LEVER: f64 = 0.5;
    let mut found: Vec<Candidate<C>> = choices
        .map(|choice| {
            let score = match row(&choice) {
                Ok(row) => {
                    let sticks = sticks_mm(&choice, &row);
                    let lever = row.iter().map(|h| (GOOD_LEVER - h.lever_share).max(0.0)).fold(0.0, f64::max);
                    let close = row.iter().map(|h| 1.0 - h.factor).fold(0.0, f64::max);
                    let coarse = row.iter().map(|h| h.deg_per_mm).fold(0.0, f64::max);
                    sticks / 1000.0 + 4.0 * lever + close + 6.0 * coarse
                }
                // A refused row comes after every sound one, the least trouble first.
                Err(refusals) => 1e3 + refusals.iter().map(Refusal::weight).sum::<f64>(),
            };
            Candidate { choice, score }
        })
        .collect();
    found.sort_by(|a, b| a.score.total_cmp(&b.score));
    found
}

/// Builds candidates in order until one stands; else the refusals of the one with the least trouble.
pub(super) fn first_that_stands<C>(
    candidates: Vec<Candidate<C>>,
    build: impl Fn(&C) -> Result<Frame, Vec<Refusal>>,
) -> Result<Frame, Vec<Refusal>> {
    let tried = candidates.len();
    let mut least: Option<(f64, Vec<Refusal>)> = None;
    for candidate in candidates.into_iter().take(MOST_BUILT) {
        match build(&candidate.choice) {
            Ok(frame) => return Ok(frame),
            Err(refusals) if refusals.iter().any(Refusal::is_settled) => return Err(refusals),
            Err(refusals) => {
                let trouble = refusals.iter().map(Refusal::weight).sum::<f64>();
                if least.as_ref().is_none_or(|(other, _)| trouble < *other) {
                    least = Some((trouble, refusals));
                }
            }
        }
    }
    Err(least.map_or_else(|| vec![Refusal::NoLayout { tried }], |(_, refusals)| refusals))
}
