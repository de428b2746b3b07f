//! A YAML (or JSON) text read once: its values, and line and column of every field, found by its path.

use super::fault::{Fault, Place};
use saphyr_parser::{Event, Parser, ScalarStyle, Span};
use serde_yaml::{Mapping, Number, Value};
use std::collections::BTreeMap;

/// The places of keys and values, as a tree of the text's own shape: a path is walked, never kept, so that the index of a
/// hostile text is no larger than the text.
#[derive(Debug, Clone, Default)]
pub struct Places {
    file: String,
    text: String,
    /// Byte where each line begins.
    lines: Vec<usize>,
    root: Node,
    with_aliases: usize,
}

/// Line, column and width of a key or a value, in characters.
type Spot = (u32, u32, u32);

/// A value of the text.
#[derive(Debug, Clone, Default)]
struct Node {
    at: Spot,
    below: Below,
}

#[derive(Debug, Clone, Default)]
enum Below {
    #[default]
    Nothing,
    /// By its key, which has a place of its own.
    Fields(BTreeMap<String, (Spot, Node)>),
    Items(Vec<Node>),
}

/// A list or mapping that has begun.
struct Open {
    node: Node,
    value: Value,
    /// The key whose value is awaited.
    key: Option<(String, Spot, Value)>,
    anchor: usize,
    /// Values met before it, those of aliases counted again.
    before: usize,
}

impl Open {
    /// The key or the number whose value is awaited.
    fn awaited(&self) -> String {
        match (&self.key, &self.node.below) {
            (Some((key, ..)), _) => key.clone(),
            (None, Below::Items(items)) => items.len().to_string(),
            (None, _) => String::new(),
        }
    }
}

/// What one walk through a text finds.
#[derive(Default)]
pub(super) struct Scan {
    pub(super) places: Places,
    /// Its values, aliases written out; of several documents the first.
    pub(super) root: Value,
    /// Paths of keys that stand twice in one mapping, with the later place.
    pub(super) twice: Vec<(String, Place)>,
    /// Where and why the text stops being YAML.
    pub(super) stopped: Option<(usize, usize, String)>,
    pub(super) documents: usize,
}

impl Scan {
    /// Walks through a text, as far as it is YAML and its aliases stand for no more than `most` values.
    pub(super) fn of(file: &str, text: &str, most: usize) -> Self {
        let starts = text.split_inclusive('\n').scan(0, |at, line| {
            *at += line.len();
            Some(*at - line.len())
        });
        let places = Places {
            file: file.to_string(),
            text: text.to_string(),
            lines: starts.collect(),
            root: Node::default(),
            with_aliases: 0,
        };
        let mut scan = Self { places, ..Self::default() };
        let mut stack: Vec<Open> = Vec::new();
        // What an anchor stands for, and how many values that is.
        let mut anchors: BTreeMap<usize, (usize, Value)> = BTreeMap::new();
        for event in Parser::new_from_str(text) {
            let (event, span) = match event {
                Ok(event) => event,
                Err(error) => {
                    let mark = error.marker();
                    scan.stopped = Some((mark.line(), mark.col() + 1, error.info().to_string()));
                    break;
                }
            };
            match event {
                Event::DocumentStart(_) => scan.documents += 1,
                Event::MappingStart(anchor, _) | Event::SequenceStart(anchor, _) => {
                    let (below, value) = if matches!(event, Event::MappingStart(..)) {
                        (Below::Fields(BTreeMap::new()), Value::Mapping(Mapping::new()))
                    } else {
                        (Below::Items(Vec::new()), Value::Sequence(Vec::new()))
                    };
                    let node = Node { at: spot(&span, 1), below };
                    stack.push(Open { node, value, key: None, anchor, before: scan.places.with_aliases });
                    scan.places.count(1);
                }
                Event::MappingEnd | Event::SequenceEnd => {
                    if let Some(open) = stack.pop() {
                        if open.anchor != 0 {
                            let values = scan.places.with_aliases.saturating_sub(open.before);
                            anchors.insert(open.anchor, (values, open.value.clone()));
                        }
                        scan.put(&mut stack, open.node, open.value, None);
                    }
                }
                Event::Scalar(text, style, anchor, tag) => {
                    let node = Node { at: spot(&span, scalar_width(&span, &text)), below: Below::Nothing };
                    scan.places.count(1);
                    let is_plain = style == ScalarStyle::Plain && tag.is_none();
                    let value = if is_plain { plain(&text) } else { Value::String(text.to_string()) };
                    if anchor != 0 {
                        anchors.insert(anchor, (1, value.clone()));
                    }
                    scan.put(&mut stack, node, value, Some(&text));
                }
                Event::Alias(anchor) => {
                    let (values, value) = anchors.get(&anchor).map_or((1, &Value::Null), |(n, value)| (*n, value));
                    scan.places.count(values);
                    // A text that stands for too much is refused: nothing of it is written out.
                    let value = if scan.places.with_aliases <= most { value.clone() } else { Value::Null };
                    let node = Node { at: spot(&span, scalar_width(&span, "")), below: Below::Nothing };
                    scan.put(&mut stack, node, value, None);
                }
                _ => {}
            }
        }
        // What had begun when the scanner gave up is kept as far as it goes.
        while let Some(open) = stack.pop() {
            scan.put(&mut stack, open.node, open.value, None);
        }
        scan
    }

    /// A finished value goes to where it stands; in a mapping without a key before it, it is the key.
    fn put(&mut self, stack: &mut [Open], node: Node, value: Value, scalar: Option<&str>) {
        let Some((open, around)) = stack.split_last_mut() else {
            // Of several documents the first is read.
            if self.places.root.at == Spot::default() {
                (self.places.root, self.root) = (node, value);
            }
            return;
        };
        match (&mut open.node.below, &mut open.value) {
            (Below::Items(items), Value::Sequence(values)) => {
                items.push(node);
                values.push(value);
            }
            (Below::Fields(fields), Value::Mapping(values)) => match open.key.take() {
                // A mapping used as a key: no design has one; later fields are still found.
                None => open.key = Some((scalar.unwrap_or("?").to_string(), node.at, value)),
                Some((key, at, name)) => {
                    if values.insert(name, value).is_some() {
                        let path: Vec<String> = around.iter().map(Open::awaited).chain([key.clone()]).collect();
                        self.twice.push((path.join("."), self.places.place(at)));
                    }
                    fields.entry(key).or_insert((at, node)).0 = at;
                }
            },
            _ => {}
        }
    }
}

/// A scalar without quotes is nothing, a truth value or a number where it reads as one, else text (YAML 1.2 core schema).
fn plain(text: &str) -> Value {
    match text {
        "" | "~" | "null" | "Null" | "NULL" => Value::Null,
        "true" | "True" | "TRUE" => Value::Bool(true),
        "false" | "False" | "FALSE" => Value::Bool(false),
        _ => text.parse::<Number>().map_or_else(|_| Value::String(text.to_string()), Value::Number),
    }
}

impl Places {
    /// Scans a text. A text that is no YAML gives an index that stops at the first fault.
    #[must_use]
    pub fn scan(file: &str, text: &str) -> Self {
        Scan::of(file, text, 0).places
    }

    fn count(&mut self, values: usize) {
        self.with_aliases = self.with_aliases.saturating_add(values);
    }

    /// Values that the text holds once every alias is replaced by what it stands for.
    pub(super) fn with_aliases(&self) -> usize {
        self.with_aliases
    }

    /// Where the value of a field stands; for a field that is not there, where its nearest parent's key stands.
    #[must_use]
    pub fn of(&self, path: &str) -> Option<Place> {
        if let Some((key, node)) = self.find(path) {
            // A mapping is shown by its key: one line says more than its first character.
            let key = key.filter(|_| node.at.2 == 1 && node.below.is_some());
            return Some(self.place(key.unwrap_or(node.at)));
        }
        let parent = path.rsplit_once('.').map(|(parent, _)| parent)?;
        self.key(parent).or_else(|| self.of(parent))
    }

    /// A fault of a field, at its place.
    #[must_use]
    pub fn point_out(&self, fault: Fault) -> Fault {
        let place = self.of(&fault.field);
        fault.at(place)
    }

    /// Where a written value stands, a mapping by its first character; nothing for a field that is not there.
    #[must_use]
    pub fn value(&self, path: &str) -> Option<Place> {
        self.find(path).map(|(_, node)| self.place(node.at))
    }

    /// Where the key of a field stands.
    #[must_use]
    pub fn key(&self, path: &str) -> Option<Place> {
        self.find(path)?.0.map(|key| self.place(key))
    }

    /// A place by line and column, both counted from 1.
    #[must_use]
    pub fn at(&self, line: usize, column: usize) -> Option<Place> {
        // A text that ends too soon is wrong one line after its last: the last one is shown.
        let last = self.lines.len().max(1);
        let column = if line > last { 1 } else { column.max(1) };
        (line >= 1).then(|| self.place((count(line.min(last)), count(column), 1)))
    }

    fn place(&self, (line, column, width): Spot) -> Place {
        let line = line as usize;
        let source = self.lines.get(line.wrapping_sub(1)).map_or("", |start| {
            let rest = &self.text[*start..];
            rest.lines().next().unwrap_or_default()
        });
        Place::new(&self.file, line, column as usize, width as usize, source)
    }

    fn find(&self, path: &str) -> Option<(Option<Spot>, &Node)> {
        if self.root.at == Spot::default() {
            return None;
        }
        if path.is_empty() { Some((None, &self.root)) } else { self.root.below.find(path) }
    }
}

impl Below {
    fn is_some(&self) -> bool {
        match self {
            Self::Nothing => false,
            Self::Fields(fields) => !fields.is_empty(),
            Self::Items(items) => !items.is_empty(),
        }
    }

    /// A key may hold dots itself: every cut of the path is tried.
    fn find(&self, path: &str) -> Option<(Option<Spot>, &Node)> {
        let cuts = path.match_indices('.').map(|(at, _)| at).chain([path.len()]);
        cuts.into_iter().find_map(|cut| {
            let (key, node) = match self {
                Self::Nothing => return None,
                Self::Fields(fields) => fields.get(&path[..cut]).map(|(key, node)| (Some(*key), node))?,
                Self::Items(items) => (None, items.get(path[..cut].parse::<usize>().ok()?)?),
            };
            if cut == path.len() { Some((key, node)) } else { node.below.find(&path[cut + 1..]) }
        })
    }
}

fn count(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn spot(span: &Span, width: usize) -> Spot {
    (count(span.start.line()), count(span.start.col() + 1), count(width))
}

fn scalar_width(span: &Span, value: &str) -> usize {
    let measured = span.end.index().saturating_sub(span.start.index());
    let one_line = span.start.line() == span.end.line();
    if one_line && measured > 0 { measured } else { value.lines().next().map_or(1, |l| l.chars().count()).max(1) }
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

    #[test]
    fn a_key_with_dots_is_found_and_of_two_equal_keys_the_later() {
        let places = Places::scan("x.yaml", "size:\n  frame.rail: [2x4, 2x6]\na: 1\na: 2\n");
        let rail = places.of("size.frame.rail.1").expect("the second value");
        assert_eq!((rail.line, rail.column, rail.width), (2, 21, 3));
        let twice = places.key("a").expect("a");
        assert_eq!((twice.line, twice.column), (4, 1));
        assert_eq!(places.value("a").expect("its value").line, 3);
    }

    #[test]
    fn what_aliases_stand_for_is_counted() {
        let places = Places::scan("x.yaml", "a: &a [1, 2, 3]\nb: [*a, *a]\n");
        assert_eq!(places.with_aliases(), 1 + (1 + 4) + (1 + 1 + 4 + 4));
        let mut text = "a0: &a0 [1, 1, 1, 1, 1, 1, 1, 1, 1, 1]\n".to_string();
        for n in 1..30 {
            let before = format!("*a{}, ", n - 1).repeat(10);
            text += &format!("a{n}: &a{n} [{before}]\n");
        }
        assert!(Places::scan("x.yaml", &text).with_aliases() > 1_000_000_000);
    }
}
