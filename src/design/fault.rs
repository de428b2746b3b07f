//! One thing that is wrong with the input, with its place and the way out.

use std::fmt;

/// Where something stands in an input file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The file as the user named it.
    pub file: String,
    /// Line, counted from 1.
    pub line: usize,
    /// Column of the first character, counted from 1.
    pub column: usize,
    /// Number of characters to underline, at least 1.
    pub width: usize,
    /// The source line; of a long one what stands round the place.
    pub source: String,
    /// Column of the first character of `source`.
    pub shown_from: usize,
}

/// Characters of a source line that are quoted at the most: a file may be one line.
const WIDEST: usize = 120;

impl Place {
    /// A place in a line of a file.
    #[must_use]
    pub fn new(file: &str, line: usize, column: usize, width: usize, source: &str) -> Self {
        // A third of what is quoted stands before a place that lies further out.
        let before = if column + width.min(WIDEST / 3) <= WIDEST { 0 } else { column - WIDEST / 3 };
        Self {
            file: file.to_string(),
            line,
            column,
            width,
            source: source.chars().skip(before).take(WIDEST).collect(),
            shown_from: before + 1,
        }
    }
}

/// Bad input: what is wrong, where, and what would be right. Exit code 2.
///
/// `code` names the fault by what is wrong (`stay-too-short`), the sentence is lower case without a final dot,
/// and every hint is something that can be done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The fault's name, kebab-case.
    pub code: &'static str,
    /// One lower-case line: what was found and what was needed.
    pub sentence: String,
    /// Path of the field (`support.stay.length`), empty when the whole input is meant.
    pub field: String,
    /// Where it stands, once known.
    pub place: Option<Place>,
    /// A few words beside the underlined text.
    pub label: String,
    /// Further places that belong to it, each with its words.
    pub also: Vec<(Place, String)>,
    /// Ways out.
    pub hints: Vec<String>,
}

impl Fault {
    /// A fault of the field at `field`.
    pub fn new(code: &'static str, field: impl Into<String>, sentence: impl Into<String>) -> Self {
        Self {
            code,
            sentence: sentence.into(),
            field: field.into(),
            place: None,
            label: String::new(),
            also: Vec::new(),
            hints: Vec::new(),
        }
    }

    /// Adds a way out.
    #[must_use]
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hints.push(hint.into());
        self
    }

    /// Sets the words beside the underlined text.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// Sets the place.
    #[must_use]
    pub fn at(mut self, place: Option<Place>) -> Self {
        self.place = place;
        self
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error[{}]: {}", self.code, self.sentence)
    }
}

impl std::error::Error for Fault {}
