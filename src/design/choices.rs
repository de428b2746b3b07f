//! Fields that may be chosen: which they are, the values a design file or a user offers for them, and the design that
//! results when some are put in place. A value is judged by putting it in place: it meets the same rules as the field.

use super::{
    Fault, Places, Read,
    fields::{self, Field},
    model::Design,
    read::{nearest, read_tree},
    resolve::resolve,
    steps,
};
use crate::quantities::Units;
use serde_yaml::{Mapping, Value};

/// One value offered for a field.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer(pub(super) Value);

impl Offer {
    /// A text as on the command line: a whole number, `null`, or a text.
    #[must_use]
    pub fn from_text(text: &str) -> Self {
        let text = text.trim();
        Self(match text {
            "null" | "~" => Value::Null,
            _ => text.parse::<u64>().map_or_else(|_| Value::String(text.to_string()), |n| Value::Number(n.into())),
        })
    }

    /// Is the field left out, so that the layout or the default of the field decides?
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.0.is_null()
    }

    /// As it is written; nothing where the field is left out.
    #[must_use]
    pub fn text(&self) -> Option<String> {
        match &self.0 {
            Value::String(text) => Some(text.clone()),
            Value::Number(number) => Some(number.to_string()),
            Value::Bool(value) => Some(value.to_string()),
            _ => None,
        }
    }
}

/// What is offered for one field.
#[derive(Debug, Clone)]
pub struct Choice {
    /// The field.
    pub field: &'static Field,
    /// Values, in the order they were offered.
    pub offers: Vec<Offer>,
}

/// A design file whose fields can be given other values.
#[derive(Debug, Clone)]
pub struct OpenDesign {
    text: String,
    root: Value,
    places: Places,
    design: Design,
    choices: Vec<Choice>,
}

impl OpenDesign {
    /// A design from a text, and what its block `size` offers.
    ///
    /// # Errors
    /// Every fault of the text.
    pub fn read_text(file: &str, text: &str) -> Result<Self, Vec<Fault>> {
        let (mut root, places) = read_tree(file, text)?;
        let design = resolve(&root, &places)?;
        let mut size = None;
        if let Value::Mapping(root) = &mut root {
            size = root.remove("size").filter(|size| !size.is_null());
            // Another value of a field does not change the units that the file is written in.
            let units = match design.units {
                Units::Us => "us",
                Units::Metric => "metric",
            };
            root.insert("units".into(), units.into());
        }
        let mut open = Self { text: text.to_string(), root, places, design, choices: Vec::new() };
        if let Some(size) = size {
            open.choices = open.judge_block(&size)?;
        }
        Ok(open)
    }

    /// The text it was read from.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Where its fields stand.
    #[must_use]
    pub fn places(&self) -> &Places {
        &self.places
    }

    /// The design as it is written.
    #[must_use]
    pub fn design(&self) -> &Design {
        &self.design
    }

    /// What the file offers.
    #[must_use]
    pub fn choices(&self) -> &[Choice] {
        &self.choices
    }

    /// What is written for a field; nothing where it is left out.
    #[must_use]
    pub fn written(&self, field: &Field) -> Offer {
        let mut node = &self.root;
        for name in field.path.split('.') {
            match node.get(name) {
                Some(below) => node = below,
                None => return Offer(Value::Null),
            }
        }
        Offer(node.clone())
    }

    /// The design with some fields given other values.
    ///
    /// # Errors
    /// Every fault of the changed design. Places are those of the file as it is written.
    pub fn with<'a>(&self, values: impl IntoIterator<Item = (&'a Field, &'a Offer)>) -> Result<Design, Vec<Fault>> {
        let mut root = self.root.clone();
        for (field, offer) in values {
            put(&mut root, field, offer.clone()).map_err(|fault| vec![fault])?;
        }
        resolve(&root, &self.places)
    }

    /// Values offered on the command line for a field.
    ///
    /// # Errors
    /// A field that is not known here or cannot be chosen, and every value that the field does not take.
    pub fn offer(&self, path: &str, texts: &[&str]) -> Result<Choice, Vec<Fault>> {
        let field = named(path).map_err(|fault| vec![fault])?;
        let choice = Choice { field, offers: texts.iter().map(|text| Offer::from_text(text)).collect() };
        self.judge(&choice).map_err(|faults| {
            faults.into_iter().map(|(_, fault)| Fault { place: None, ..fault }).collect::<Vec<_>>()
        })?;
        Ok(choice)
    }

    /// Every value of a choice, put in place alone; the faults with the number of their value.
    fn judge(&self, choice: &Choice) -> Result<(), Vec<(usize, Fault)>> {
        let mut faults = Vec::new();
        for (at, offer) in choice.offers.iter().enumerate() {
            if let Some(first) = choice.offers[..at].iter().position(|other| other == offer) {
                let text = offer.text().unwrap_or_else(|| "null".to_string());
                faults.push((
                    at,
                    Fault::new("offered-twice", choice.field.path, format!("`{text}` is offered twice")).hint(format!(
                        "remove value {} or {}",
                        first + 1,
                        at + 1
                    )),
                ));
                continue;
            }
            if let Err(wrong) = self.with([(choice.field, offer)]) {
                faults.extend(wrong.into_iter().map(|fault| (at, fault)));
            }
        }
        if faults.is_empty() { Ok(()) } else { Err(faults) }
    }

    fn judge_block(&self, size: &Value) -> Result<Vec<Choice>, Vec<Fault>> {
        let Value::Mapping(fields) = size else {
            return Err(vec![
                Fault::new("bad-value", "size", "`size` lists fields with the values they may take")
                    .at(self.places.of("size"))
                    .hint("write for instance `size: {frame.rail: [2x4, 2x6]}`"),
            ]);
        };
        let mut faults = Vec::new();
        let mut choices = Vec::new();
        for (key, value) in fields {
            match self.judge_field(key, value) {
                Ok(choice) => choices.push(choice),
                Err(mut wrong) => faults.append(&mut wrong),
            }
        }
        if faults.is_empty() { Ok(choices) } else { Err(faults) }
    }

    fn judge_field(&self, key: &Value, value: &Value) -> Result<Choice, Vec<Fault>> {
        let path = key.as_str().unwrap_or_default();
        let own = format!("size.{path}");
        let here = |fault: Fault| fault.at(self.places.key(&own).or_else(|| self.places.of(&own)));
        let field = named(path).map_err(|fault| vec![here(Fault { field: own.clone(), ..fault })])?;
        let (offers, is_list) = match value {
            Value::Sequence(list) => (list.iter().cloned().map(Offer).collect(), true),
            Value::Mapping(range) => {
                let texts = self.range(&own, field, range).map_err(|fault| vec![fault])?;
                (texts.iter().map(|text| Offer::from_text(text)).collect(), false)
            }
            _ => (Vec::new(), true),
        };
        if offers.is_empty() {
            return Err(vec![here(Fault::new("nothing-offered", &own, format!("`{own}` offers no value")).hint(
                format!(
                    "write a list, `{path}: [{}]`{}",
                    field.kind.offers(self.design.units),
                    if field.kind.has_steps() {
                        format!(", or a range, `{path}: {{from: …, to: …, step: …}}`")
                    } else {
                        String::new()
                    }
                ),
            ))]);
        }
        let choice = Choice { field, offers };
        self.judge(&choice).map_err(|faults| {
            let mut placed: Vec<Fault> = Vec::new();
            for (at, fault) in faults {
                // A range has one place: what is wrong with it is said once.
                if !is_list && !placed.is_empty() {
                    break;
                }
                let own = if is_list { format!("{own}.{at}") } else { own.clone() };
                placed.push(Fault { place: self.places.of(&own), field: own, ..fault });
            }
            placed
        })?;
        Ok(choice)
    }

    fn range(&self, own: &str, field: &Field, range: &Mapping) -> Result<Vec<String>, Fault> {
        let part = |name: &str| -> Result<String, Fault> {
            match range.get(name) {
                Some(value) => Offer(value.clone()).text().ok_or_else(|| {
                    Fault::new("bad-value", format!("{own}.{name}"), format!("`{own}.{name}` is no value"))
                }),
                None => Err(Fault::new("missing-field", own, format!("`{name}` is missing in `{own}`"))
                    .hint("a range has `from`, `to` and `step`")),
            }
        };
        let read = || -> Result<Vec<String>, Fault> {
            let names = ["from", "to", "step"].map(str::to_string);
            for key in range.keys() {
                let name = key.as_str().unwrap_or_default();
                if !names.iter().any(|known| known == name) {
                    return Err(unknown("unknown-field", &format!("{own}.{name}"), name, "field", &names));
                }
            }
            steps::between(own, field, [&part("from")?, &part("to")?, &part("step")?], self.design.units)
        };
        read().map_err(|fault| {
            let place = self.places.of(&fault.field).or_else(|| self.places.key(own));
            fault.at(place)
        })
    }
}

/// Reads a whole file as usual, and judges what it offers.
pub(super) fn read_whole(file: &str, text: &str) -> Result<Read, Vec<Fault>> {
    let open = OpenDesign::read_text(file, text)?;
    Ok(Read { design: open.design, places: open.places })
}

/// The field of that path.
///
/// # Errors
/// A path that is no field or no field to be chosen, with the nearest.
pub(super) fn named(path: &str) -> Result<&'static Field, Fault> {
    let choosable = || fields::all().filter(|field| field.sized.is_some());
    if let Some(field) = choosable().find(|field| field.path == path) {
        return Ok(field);
    }
    let names: Vec<String> = choosable().map(|field| field.path.to_string()).collect();
    Err(unknown("unknown-choice", path, path, "field that can be chosen", &names))
}

fn unknown(code: &'static str, field: &str, given: &str, what: &str, names: &[String]) -> Fault {
    let mut fault = Fault::new(code, field, format!("`{given}` is no {what}"));
    if let Some(near) = nearest(given, names) {
        fault = fault.hint(format!("did you mean `{near}`?"));
    }
    fault.hint(format!("known here: {}", names.join(", ")))
}

/// Puts a value in the place of a field.
fn put(root: &mut Value, field: &Field, offer: Offer) -> Result<(), Fault> {
    let (parents, name) = field.path.rsplit_once('.').unwrap_or(("", field.path));
    let mut node = root;
    for parent in parents.split('.') {
        match node.get_mut(parent) {
            Some(below @ Value::Mapping(_)) => node = below,
            _ => {
                return Err(Fault::new(
                    "no-such-block",
                    field.path,
                    format!("the design has no `{parents}`, so `{}` cannot be chosen", field.path),
                )
                .hint(format!("add the block `{parents}`, or leave the field out of the search")));
            }
        }
    }
    if let Value::Mapping(block) = node {
        if offer.is_open() {
            block.remove(name);
        } else {
            block.insert(Value::String(name.to_string()), offer.0);
        }
    }
    Ok(())
}
