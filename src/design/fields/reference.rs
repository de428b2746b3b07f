//! The table as people read it: each field with what it takes, what stands where it is left out, and an example.

use super::{Field, Kind};
use crate::{
    catalogue::{self, soils},
    design::conditions,
    quantities::Units,
};
use serde::Serialize;
use std::fmt::Write as _;

/// One field as it is listed.
#[derive(Debug, Serialize)]
pub struct Entry {
    /// Its path.
    pub field: &'static str,
    /// What its values are.
    pub kind: &'static str,
    /// What it takes; nothing where any value of its kind is taken.
    pub takes: Option<String>,
    /// What stands where it is not written.
    pub left_out: String,
    /// What it is.
    pub about: &'static str,
    /// A value as one might write it.
    pub example: &'static str,
    /// What is computed anew when it changes.
    pub bears_on: &'static str,
    /// May `size` choose it?
    pub size_may_choose: bool,
}

/// Fields at or below any of these paths, or all, in the order of a design file.
#[must_use]
pub fn reference(below: &[String], units: Units) -> Vec<Entry> {
    let is_wanted = |field: &&Field| below.is_empty() || below.iter().any(|path| field.is_at_or_below(path));
    super::all().filter(is_wanted).map(|field| Entry::of(field, units)).collect()
}

impl Field {
    fn is_at_or_below(&self, path: &str) -> bool {
        self.path.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
    }

    /// What it takes in words: its units, its range, its words or names.
    fn takes(&self, units: Units) -> Option<String> {
        let words = match self.kind {
            Kind::Words(words) => return Some(words.join(", ")),
            Kind::Text(most) => return Some(format!("at most {most} characters")),
            Kind::Section => return Some("names of the trade: 2x4, 45x95, HSS2x2x1/8".to_string()),
            Kind::BoltGrade => catalogue::BOLT_GRADES.iter().map(|grade| grade.name).collect::<Vec<_>>().join(", "),
            Kind::Contact => soils::INTERFACES.iter().map(|pair| pair.name).collect::<Vec<_>>().join("; "),
            Kind::Species => conditions::names().0.join(", "),
            Kind::Grade => conditions::names().1.join(", "),
            Kind::Currency => return Some("three capital letters".to_string()),
            Kind::Count([least, u32::MAX]) => return Some(format!("{least} or more")),
            _ => {
                let range = self.kind.range_words(units);
                let written = self.kind.units().map(|units| format!("written in {units}"));
                return match (range, written) {
                    (Some(range), Some(written)) => Some(format!("{range}, {written}")),
                    (range, written) => range.or(written),
                };
            }
        };
        Some(words)
    }
}

impl Entry {
    fn of(field: &'static Field, units: Units) -> Self {
        Self {
            field: field.path,
            kind: field.kind.word(),
            takes: field.takes(units),
            left_out: field.left_out.words(),
            about: field.about,
            example: field.example,
            bears_on: field.bears_on.words(),
            size_may_choose: field.sized.is_some(),
        }
    }

    /// As a few lines of text.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = format!("{}: {}\n    {}\n", self.field, self.kind, self.about);
        let mut line = |name: &str, words: &str| {
            let _ = writeln!(text, "    {name:<10} {words}");
        };
        if let Some(takes) = &self.takes {
            line("takes", takes);
        }
        line("left out", &self.left_out);
        line("example", self.example);
        line("bears on", self.bears_on);
        if self.size_may_choose {
            line("size", "may choose it");
        }
        text
    }
}
