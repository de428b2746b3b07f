//! Reads one field after the other, judges each by its row of the table, and collects every fault on the way.

use super::{
    Fault, Places,
    fields::{self, Field, Kind, LeftOut, Measured},
    own_units::own_units,
    read::{MOST_FAULTS, in_words, nearest},
};
use crate::{
    catalogue::{self, Bolt, Screw, Section},
    quantities::{Length, Units, Written, one_line, shorten},
};
use serde::de::DeserializeOwned;
use serde_yaml::Value;
use std::fmt::Display;

/// The fault of a field whose value no design takes.
const OUT_OF_RANGE: &str = "out-of-range";

/// A file that is read, and what is wrong with it so far. A field that fails gives nothing, and reading goes on.
pub(super) struct Judge<'a> {
    root: &'a Value,
    places: &'a Places,
    faults: Vec<Fault>,
    units: Units,
}

impl<'a> Judge<'a> {
    /// Every name of the file is held against the table.
    pub(super) fn new(root: &'a Value, places: &'a Places) -> Self {
        let mut judge = Self { root, places, faults: Vec::new(), units: Units::Us };
        judge.block("", "", root);
        judge.units = match judge.word("units") {
            Some("metric") => Units::Metric,
            Some(_) => Units::Us,
            None => own_units(root),
        };
        judge
    }

    /// One block of a file, read by itself.
    pub(super) fn of_block(root: &'a Value, places: &'a Places, block: &str) -> Self {
        let mut judge = Self { root, places, faults: Vec::new(), units: Units::Us };
        if let Some(value) = judge.value(block) {
            judge.block(block, block, value);
        }
        judge
    }

    pub(super) fn units(&self) -> Units {
        self.units
    }

    /// Every fault, in the order of the file.
    pub(super) fn into_faults(mut self) -> Vec<Fault> {
        self.faults.sort_by_key(|fault| fault.place.as_ref().map(|place| (place.line, place.column)));
        self.faults
    }

    /// A field out of its range that does not go with other fields either is told once, by what bounds it closer.
    pub(super) fn fault(&mut self, fault: Fault) {
        self.faults.retain(|told| told.code != OUT_OF_RANGE || told.field != fault.field);
        if self.faults.len() < MOST_FAULTS {
            let place = fault.place.clone();
            let place = place.or_else(|| self.places.of(&fault.field)).or_else(|| self.places.at(1, 1));
            self.faults.push(fault.at(place));
        }
    }

    /// One more way out of the fault that was just told of a field, if one was.
    pub(super) fn advise(&mut self, field: &str, hint: &str) {
        if let Some(fault) = self.faults.iter_mut().find(|fault| fault.field == field) {
            fault.hints.push(hint.to_string());
        }
    }

    /// How many faults were told.
    pub(super) fn told(&self) -> usize {
        self.faults.len()
    }

    /// Is nothing wrong with a field, or with any in a block?
    pub(super) fn is_fit(&self, path: &str) -> bool {
        let is_below =
            |field: &str| field.strip_prefix(path).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
        !self.faults.iter().any(|fault| is_below(&fault.field))
    }

    /// What is written at a path; nothing where it is left out or left empty.
    pub(super) fn value(&self, path: &str) -> Option<&'a Value> {
        let below = |node: &'a Value, name: &str| match node {
            Value::Sequence(rows) => rows.get(name.parse::<usize>().ok()?),
            _ => node.get(name),
        };
        path.split('.').try_fold(self.root, below).filter(|value| !value.is_null())
    }

    pub(super) fn is_written(&self, path: &str) -> bool {
        self.value(path).is_some()
    }

    /// Rows of a list.
    pub(super) fn rows(&self, path: &str) -> usize {
        self.value(path).and_then(Value::as_sequence).map_or(0, Vec::len)
    }

    /// Names in a block, and names that it must have; `row` is its path in the table, `path` its own.
    fn block(&mut self, row: &str, path: &str, value: &Value) {
        let own = |name: &str| if path.is_empty() { name.to_string() } else { format!("{path}.{name}") };
        let Value::Mapping(written) = value else {
            return self.unlike(path, value, "a block of fields, `name: value`,");
        };
        let known = fields::below(row);
        let mut meant: Vec<&str> = Vec::new();
        for (key, value) in written {
            let name = key.as_str().unwrap_or("?");
            match known.iter().find(|field| field.name() == name) {
                Some(field) => self.structure(field, &own(name), value),
                None => meant.extend(self.unknown_field(&own(name), name, known)),
            }
        }
        // What is misspelt is not missing as well.
        let is_missing = |field: &&&Field| {
            field.left_out == LeftOut::Required
                && written.get(field.name()).is_none_or(Value::is_null)
                && !meant.contains(&field.name())
        };
        let missing: Vec<&Field> = known.iter().filter(is_missing).copied().collect();
        if !missing.is_empty() {
            self.missing_fields(path, &missing);
        }
    }

    fn missing_fields(&mut self, path: &str, missing: &[&Field]) {
        let names: Vec<String> = missing.iter().map(|field| format!("`{}`", field.name())).collect();
        let are = if names.len() == 1 { "is" } else { "are" };
        let within = if path.is_empty() { "the design".to_string() } else { format!("`{path}`") };
        let sentence = format!("{} {are} missing in {within}", names.join(", "));
        let place = if path.is_empty() { self.places.at(1, 1) } else { self.places.key(path) };
        let mut fault = Fault::new("missing-field", path, sentence).at(place);
        for field in missing {
            fault = fault.hint(format!(
                "add for instance `{}: {}`: {}",
                field.name(),
                field.example,
                in_a_hint(field.about)
            ));
        }
        self.fault(fault);
    }

    fn structure(&mut self, field: &'static Field, path: &str, value: &Value) {
        match (field.kind, value) {
            (_, Value::Null) => {}
            (Kind::Block, _) => self.block(field.path, path, value),
            (Kind::Rows, Value::Sequence(rows)) => {
                for (at, row) in rows.iter().enumerate() {
                    self.block(&format!("{}[]", field.path), &format!("{path}.{at}"), row);
                }
            }
            (Kind::Rows, _) => self.unlike(path, value, "a list, `[…, …]`,"),
            _ => {}
        }
    }

    /// Tells a name that no field has; the field that was meant, where one is near.
    fn unknown_field(&mut self, path: &str, name: &str, known: &[&'static Field]) -> Option<&'static str> {
        let names: Vec<String> = known.iter().map(|field| field.name().to_string()).collect();
        let sentence = format!("`{}` is no field that is known here", shorten(name));
        let mut fault = Fault::new("unknown-field", path, sentence).at(self.places.key(path));
        let near = nearest(name, &names);
        if let Some(near) = near {
            fault = fault.hint(format!("did you mean `{near}`?"));
        }
        self.fault(fault.hint(format!("known here: {}", names.join(", "))));
        known.iter().map(|field| field.name()).find(|field| Some(*field) == near)
    }

    fn unlike(&mut self, path: &str, value: &Value, wanted: &str) {
        let what = if path.is_empty() { "the design".to_string() } else { format!("`{path}`") };
        let given = match value {
            Value::Null => "empty".to_string(),
            Value::Bool(value) => value.to_string(),
            Value::Number(number) => number.to_string(),
            Value::String(text) => format!("the text \"{}\"", shorten(text)),
            Value::Sequence(_) => "a list".to_string(),
            Value::Mapping(_) => "a block of fields".to_string(),
            Value::Tagged(_) => "a value with a tag".to_string(),
        };
        self.fault(Fault::new("bad-value", path, format!("{what} is {given}; {wanted} is wanted here")));
    }

    /// The row of a field that this program reads.
    fn row(path: &str) -> &'static Field {
        fields::field(path).unwrap_or_else(|| unreachable!("`{path}` has no row in the table of fields"))
    }

    /// A value of any type, as its own reader takes it.
    pub(super) fn get<T: DeserializeOwned>(&mut self, path: &str) -> Option<T> {
        self.take(Self::row(path), path, self.value(path)?)
    }

    /// Every item of a list, each judged at its own place.
    pub(super) fn list<T: DeserializeOwned>(&mut self, path: &str) -> Option<Vec<T>> {
        let row = Self::row(path);
        let value = self.value(path)?;
        let Value::Sequence(items) = value else {
            self.unlike(path, value, "a list, `[…, …]`,");
            return None;
        };
        let read: Vec<Option<T>> =
            items.iter().enumerate().map(|(at, item)| self.take(row, &format!("{path}.{at}"), item)).collect();
        read.into_iter().collect()
    }

    fn take<T: DeserializeOwned>(&mut self, row: &Field, path: &str, value: &Value) -> Option<T> {
        let told = |error: serde_yaml::Error| {
            Fault::new("bad-value", path, in_words(path, error.to_string())).hint(format!(
                "write for instance `{}: {}`",
                row.name(),
                row.example
            ))
        };
        T::deserialize(value).map_err(|error| self.fault(told(error))).ok()
    }

    /// A quantity within the range of its row. One that lies outside is told, and given all the same.
    pub(super) fn quantity<Q: Measured>(&mut self, path: &str) -> Option<Q> {
        let value = self.get::<Written<Q>>(path)?.0;
        self.judge_range(path, value.in_base());
        Some(value)
    }

    pub(super) fn length(&mut self, path: &str) -> Option<Length> {
        self.quantity(path)
    }

    /// A quantity, or the default of its row.
    pub(super) fn quantity_or_default<Q: Measured>(&mut self, path: &str) -> Q {
        self.quantity(path).unwrap_or_else(|| default_of::<Written<Q>>(path).0)
    }

    /// A value, or the default of its row.
    pub(super) fn get_or_default<T: DeserializeOwned>(&mut self, path: &str) -> T {
        self.get(path).unwrap_or_else(|| default_of(path))
    }

    pub(super) fn count(&mut self, path: &str) -> Option<u32> {
        let value = self.get::<u32>(path)?;
        self.judge_range(path, f64::from(value));
        Some(value)
    }

    pub(super) fn count_or_default(&mut self, path: &str) -> u32 {
        self.count(path).unwrap_or_else(|| default_of(path))
    }

    pub(super) fn number(&mut self, path: &str) -> Option<f64> {
        let value = self.get::<f64>(path)?;
        self.judge_range(path, value);
        Some(value)
    }

    pub(super) fn judge_range(&mut self, path: &str, value: f64) {
        let kind = Self::row(path).kind;
        if !kind.takes(value) {
            let range = kind.range_words(self.units).unwrap_or_default();
            self.out_of_range(path, &kind.show(value, self.units), &range);
        }
    }

    pub(super) fn out_of_range(&mut self, field: &str, given: &str, range: &str) {
        let sentence = format!("`{field}` is {given}");
        self.fault(Fault::new(OUT_OF_RANGE, field, sentence).hint(format!("it lies {range}")));
    }

    /// One of the words of its row.
    pub(super) fn word(&mut self, path: &str) -> Option<&'static str> {
        let row = Self::row(path);
        let Kind::Words(words) = row.kind else { unreachable!("`{path}` takes words") };
        let value = self.value(path)?;
        let given = match value {
            Value::String(text) => text.clone(),
            Value::Number(number) => number.to_string(),
            Value::Bool(value) => value.to_string(),
            _ => {
                self.unlike(path, value, "one word");
                return None;
            }
        };
        let found = words.iter().find(|word| **word == given);
        if found.is_none() {
            self.unknown(
                "unknown-value",
                path,
                &given,
                "value",
                &words.iter().map(ToString::to_string).collect::<Vec<_>>(),
            );
        }
        found.copied()
    }

    /// What one of the words of its row stands for.
    pub(super) fn choice<T: DeserializeOwned>(&mut self, path: &str) -> Option<T> {
        let word = self.word(path)?;
        let read = T::deserialize(Value::String(word.to_string()));
        Some(read.unwrap_or_else(|_| unreachable!("`{path}` takes `{word}`, as its row says")))
    }

    pub(super) fn choice_or_default<T: DeserializeOwned>(&mut self, path: &str) -> T {
        self.choice(path).unwrap_or_else(|| default_of(path))
    }

    /// A line of text.
    pub(super) fn text(&mut self, path: &str) -> Option<String> {
        let Kind::Text(longest) = Self::row(path).kind else { unreachable!("`{path}` takes text") };
        let text: String = self.get(path)?;
        if text.trim().is_empty() {
            self.fault(Fault::new("empty-text", path, format!("`{path}` is empty")).hint("write a name"));
        }
        let length = text.chars().count();
        if length > longest {
            self.fault(
                Fault::new("text-too-long", path, format!("`{path}` has {length} characters"))
                    .hint(format!("keep it to {longest}: it has to fit a title block")),
            );
        }
        // A name is one line, whatever its author typed: it reaches terminals, tables and title blocks.
        Some(one_line(&text))
    }

    /// What a table calls by a name.
    fn named<T, E: Display>(
        &mut self,
        path: &str,
        code: &'static str,
        find: impl FnOnce(&str) -> Result<T, E>,
    ) -> Option<T> {
        let name: String = self.get(path)?;
        find(&name).map_err(|error| self.fault(Fault::new(code, path, error.to_string()))).ok()
    }

    pub(super) fn section(&mut self, path: &str) -> Option<&'static Section> {
        self.named(path, "unknown-section", catalogue::section)
    }

    pub(super) fn bolt(&mut self, path: &str) -> Option<&'static Bolt> {
        self.named(path, "unknown-bolt", catalogue::bolt)
    }

    pub(super) fn screw(&mut self, path: &str) -> Option<&'static Screw> {
        self.named(path, "unknown-screw", catalogue::screw)
    }

    /// A name that no table has, with the nearest.
    pub(super) fn unknown(&mut self, code: &'static str, path: &str, given: &str, what: &str, names: &[String]) {
        let mut fault = Fault::new(code, path, format!("`{}` is no {what} that is known here", shorten(given)));
        if let Some(near) = nearest(given, names) {
            fault = fault.hint(format!("did you mean `{near}`?"));
        }
        self.fault(fault.hint(format!("known here: {}", names.join(", "))));
    }
}

/// The default of a row, as its type reads it.
fn default_of<T: DeserializeOwned>(path: &str) -> T {
    let LeftOut::Default(text) = Judge::row(path).left_out else { unreachable!("`{path}` has a default") };
    serde_yaml::from_str(text).unwrap_or_else(|error| unreachable!("the default of `{path}` reads: {error}"))
}

/// A sentence of the table within a hint: lower case, without its dot.
fn in_a_hint(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
