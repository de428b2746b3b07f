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

    /// Tells which load or part the steps that follow belong to. Most listeners take no notice.
    #[inline]
    fn chapter(&mut self, _: impl FnOnce() -> (String, String)) {}
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

/// Steps that belong to one load or part.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Chapter {
    /// Short name, that of the load case where it is one.
    pub id: String,
    /// In words.
    pub words: String,
    /// Its steps in order.
    pub steps: Vec<Step>,
}

/// Keeps every step in its chapter; steps before the first chapter are dropped.
#[derive(Debug, Clone, Default)]
pub struct Chapters {
    /// The chapters so far.
    pub chapters: Vec<Chapter>,
}

impl Trace for Chapters {
    fn step(&mut self, step: impl FnOnce() -> Step) {
        if let Some(chapter) = self.chapters.last_mut() {
            chapter.steps.push(step());
        }
    }

    fn chapter(&mut self, named: impl FnOnce() -> (String, String)) {
        let (id, words) = named();
        self.chapters.push(Chapter { id, words, steps: Vec::new() });
    }
}
