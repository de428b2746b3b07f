//! Equations that can record themselves: silent in a search, written out in an explanation.
//!
//! An equation is written once, as a function generic over [`Trace`]. It computes its value and hands a closure to
//! the trace; [`Silent`] never calls the closure, so a search pays nothing, and [`Record`] keeps every step for the
//! calculation sheet.

use super::source::Source;
use serde::Serialize;

/// One number that goes into an equation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Term {
    /// Symbol as it stands in the formula: letters, digits and `_` only.
    pub symbol: &'static str,
    /// Its value.
    pub value: f64,
    /// Its unit, empty for a pure number.
    pub unit: &'static str,
}

/// A term of an equation.
#[must_use]
pub fn term(symbol: &'static str, value: f64, unit: &'static str) -> Term {
    Term { symbol, value, unit }
}

/// One evaluated equation.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// What is computed, in words.
    pub what: &'static str,
    /// Symbol of the result.
    pub symbol: &'static str,
    /// The right-hand side in plain arithmetic: `+ - * / ^`, brackets, `sqrt`, `min`, `max`, `exp`, `ln`, `sin`,
    /// `cos`, `tan`, `asin`, `acos`, `atan` (radians), `abs`, `round` and the symbols of the terms; so that anyone, or a
    /// script, can evaluate it again from the printed numbers.
    pub formula: &'static str,
    /// The numbers put in.
    pub terms: Vec<Term>,
    /// The result.
    pub value: f64,
    /// Its unit, empty for a pure number.
    pub unit: &'static str,
    /// Where the equation comes from.
    pub source: Source,
}

/// Something that may listen while equations are evaluated.
pub trait Trace {
    /// Offers a step; the closure runs only if somebody listens.
    fn step(&mut self, step: impl FnOnce() -> Step);
}

/// Nobody listens.
#[derive(Debug, Clone, Copy, Default)]
pub struct Silent;

impl Trace for Silent {
    #[inline]
    fn step(&mut self, _: impl FnOnce() -> Step) {}
}

/// Keeps every step in order.
#[derive(Debug, Clone, Default)]
pub struct Record {
    /// The steps so far.
    pub steps: Vec<Step>,
}

impl Trace for Record {
    fn step(&mut self, step: impl FnOnce() -> Step) {
        self.steps.push(step());
    }
}
