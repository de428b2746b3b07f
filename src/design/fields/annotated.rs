//! A design file with its fields explained: what `new` writes.

use super::super::Places;
use super::{Field, LeftOut, all};
use std::{collections::BTreeMap, fmt::Write as _};

/// Column at which comments begin where they can (characters).
const COLUMN: usize = 44;
/// A line with its comment is no longer (characters).
const WIDEST: usize = 118;

/// The text with the sentence of each field behind its line, and after the last line the fields that are left out, each
/// with what stands in its place. Nothing but comments is added.
#[must_use]
pub fn annotated(text: &str) -> String {
    let places = Places::scan("", text);
    let fields = || all().filter(|field| !field.path.contains("[]"));
    let mut by_line: BTreeMap<usize, &Field> = BTreeMap::new();
    for field in fields() {
        // Of fields that share a line, as in `{a: 1, b: 2}`, the first is the block around them.
        if let Some(place) = places.key(field.path) {
            by_line.entry(place.line).or_insert(field);
        }
    }
    let mut out = String::new();
    for (at, line) in text.lines().enumerate() {
        let field =
            by_line.get(&(at + 1)).filter(|field| line.trim_start().starts_with(field.name()) && !line.contains('#'));
        let _ = match field {
            None => writeln!(out, "{line}"),
            Some(field) => commented(&mut out, line, field.about),
        };
    }
    out + &left_out(&places, fields())
}

/// The line with its comment, or under it where both are too long for one.
fn commented(out: &mut String, line: &str, about: &str) -> std::fmt::Result {
    let width = line.chars().count().max(COLUMN) + 4 + about.chars().count();
    if width > WIDEST {
        let indent = &line[..line.len() - line.trim_start().len()];
        writeln!(out, "{indent}# {about}\n{line}")
    } else {
        writeln!(out, "{line:COLUMN$}  # {about}")
    }
}

/// Fields that may be written in the blocks that are there and are not, as comments.
fn left_out<'a>(places: &Places, fields: impl Iterator<Item = &'a Field>) -> String {
    let is_written = |path: &str| path.is_empty() || places.key(path).is_some();
    let mut out =
        "\n# Left out above, each with what stands in its place (`tiltwright fields` tells more):\n".to_string();
    for field in fields.filter(|field| is_written(field.parent()) && !is_written(field.path)) {
        if field.left_out != LeftOut::Required {
            let _ = writeln!(out, "#   {:<38} {}", field.path, field.left_out.words());
        }
    }
    out
}
