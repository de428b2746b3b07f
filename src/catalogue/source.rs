//! Where a value comes from and how sure we are of it.

use serde::Serialize;

/// How a value was come by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Certainty {
    /// Read in the publisher's own page or table.
    Read,
    /// Two or more independent transcriptions agree.
    Agreed,
    /// One transcription that points to the printed page.
    Transcribed,
    /// Derived here from stated formulas.
    Derived,
    /// Our judgement; an engineer must accept it.
    Judgement,
    /// Common practice of builders, no source.
    Practice,
    /// From memory, no source seen: unverified.
    Memory,
}

/// A document, a place in it, and how sure we are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Source {
    /// Document and edition: `NDS-2018`.
    pub document: &'static str,
    /// Section, equation or table: `§3.7.1`.
    pub place: &'static str,
    /// How sure we are.
    pub certainty: Certainty,
}

impl Source {
    /// A source as a constant.
    #[must_use]
    pub const fn new(document: &'static str, place: &'static str, certainty: Certainty) -> Self {
        Self { document, place, certainty }
    }

    /// Was the value never seen in any source?
    #[must_use]
    pub fn is_unverified(self) -> bool {
        self.certainty == Certainty::Memory
    }
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.document, self.place)?;
        match self.certainty {
            Certainty::Memory => f.write_str(" (from memory, unverified)"),
            Certainty::Judgement => f.write_str(" (judgement)"),
            Certainty::Practice => f.write_str(" (common practice, no source)"),
            _ => Ok(()),
        }
    }
}
