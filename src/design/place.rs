//! Line and column of every field of a YAML (or JSON) text, found by its path.

use super::fault::Place;
use saphyr_parser::{Event, Parser, Span};
use std::collections::BTreeMap;

/// An index from field path (`stock.2.price`) to the places of its key and its value.
#[derive(Debug, Clone, Default)]
pub struct Places {
    file: String,
    lines: Vec<String>,
    values: BTreeMap<String, (usize, usize, usize)>,
    keys: BTreeMap<String, (usize, usize, usize)>,
}

/// What the scanner stands in: a mapping waiting for a key, a mapping waiting for the value of a key, a list.
enum Level {
    MapKey(String),
    MapValue(String, String),
    List(String, usize),
}

impl Places {
    /// Scans a text. A text that is no YAML gives an index that stops at the first fault.
    #[must_use]
    pub fn scan(file: &str, text: &str) -> Self {
        let mut places =
            Self { file: file.to_string(), lines: text.lines().map(str::to_string).collect(), ..Self::default() };
        let mut stack: Vec<Level> = Vec::new();
        for event in Parser::new_from_str(text) {
            let Ok((event, span)) = event else { break };
            match event {
                Event::MappingStart(..) => {
                    let path = enter(&mut stack);
                    places.note(&path, &span, 1);
                    stack.push(Level::MapKey(path));
                }
                Event::SequenceStart(..) => {
                    let path = enter(&mut stack);
                    places.note(&path, &span, 1);
                    stack.push(Level::List(path, 0));
                }
                Event::MappingEnd | Event::SequenceEnd => {
                    stack.pop();
                }
                Event::Scalar(value, ..) => {
                    let width = scalar_width(&span, &value);
                    if let Some(Level::MapKey(path)) = stack.last() {
                        let (parent, key) = (path.clone(), value.to_string());
                        let place = (span.start.line(), span.start.col() + 1, width);
                        places.keys.insert(join(&parent, &key), place);
                        stack.pop();
                        stack.push(Level::MapValue(parent, key));
                    } else {
                        let path = enter(&mut stack);
                        places.note(&path, &span, width);
                    }
                }
                Event::Alias(..) => {
                    enter(&mut stack);
                }
                _ => {}
            }
        }
        places
    }

    /// Where the value of a field stands; for a field that is not there, where its nearest parent's key stands.
    #[must_use]
    pub fn of(&self, path: &str) -> Option<Place> {
        if let Some(place) = self.values.get(path) {
            // A mapping is shown by its key: one line says more than its first character.
            let key = self.keys.get(path).filter(|_| place.2 == 1 && self.values.keys().any(|p| is_below(p, path)));
            return Some(self.place(*key.unwrap_or(place)));
        }
        let parent = path.rsplit_once('.').map(|(parent, _)| parent)?;
        self.keys.get(parent).map(|place| self.place(*place)).or_else(|| self.of(parent))
    }

    /// Where a written value stands, a mapping by its first character; nothing for a field that is not there.
    #[must_use]
    pub fn value(&self, path: &str) -> Option<Place> {
        self.values.get(path).map(|place| self.place(*place))
    }

    /// Where the key of a field stands.
    #[must_use]
    pub fn key(&self, path: &str) -> Option<Place> {
        self.keys.get(path).map(|place| self.place(*place))
    }

    /// A place by line and column, both counted from 1.
    #[must_use]
    pub fn at(&self, line: usize, column: usize) -> Option<Place> {
        // A text that ends too soon is wrong one line after its last: the last one is shown.
        let last = self.lines.len().max(1);
        let column = if line > last { 1 } else { column.max(1) };
        (line >= 1).then(|| self.place((line.min(last), column, 1)))
    }

    fn place(&self, (line, column, width): (usize, usize, usize)) -> Place {
        Place {
            file: self.file.clone(),
            line,
            column,
            width,
            source: self.lines.get(line.saturating_sub(1)).cloned().unwrap_or_default(),
        }
    }

    fn note(&mut self, path: &str, span: &Span, width: usize) {
        self.values.entry(path.to_string()).or_insert((span.start.line(), span.start.col() + 1, width));
    }
}

fn scalar_width(span: &Span, value: &str) -> usize {
    let measured = span.end.index().saturating_sub(span.start.index());
    let one_line = span.start.line() == span.end.line();
    if one_line && measured > 0 { measured } else { value.lines().next().map_or(1, |l| l.chars().count()).max(1) }
}

fn is_below(path: &str, parent: &str) -> bool {
    path.strip_prefix(parent).is_some_and(|rest| rest.starts_with('.'))
}

fn join(parent: &str, name: &str) -> String {
    if parent.is_empty() { name.to_string() } else { format!("{parent}.{name}") }
}

/// The path of the node that begins now, and the step of its parent to the next one.
fn enter(stack: &mut Vec<Level>) -> String {
    match stack.pop() {
        None => String::new(),
        Some(Level::MapValue(parent, key)) => {
            let path = join(&parent, &key);
            stack.push(Level::MapKey(parent));
            path
        }
        Some(Level::List(parent, index)) => {
            let path = join(&parent, &index.to_string());
            stack.push(Level::List(parent, index + 1));
            path
        }
        // A mapping used as a key: no design has one; keep walking so that later fields are still found.
        Some(Level::MapKey(parent)) => {
            let path = join(&parent, "?");
            stack.push(Level::MapValue(parent, "?".to_string()));
            path
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_found_by_path() {
        let text = "a: 1\nb:\n  c: two words\n  d: [3, 4]\n";
        let places = Places::scan("x.yaml", text);
        let c = places.of("b.c").expect("c");
        assert_eq!((c.line, c.column, c.width), (3, 6, 9));
        let d1 = places.of("b.d.1").expect("d.1");
        assert_eq!((d1.line, d1.column), (4, 10));
        let missing = places.of("b.e").expect("parent");
        assert_eq!((missing.line, missing.column, missing.width), (2, 1, 1));
    }
}
