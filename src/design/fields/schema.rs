//! The table as a JSON Schema (draft 2020-12), for editors that check a design while it is typed.
//!
//! The schema knows every name, kind, word and count; that a length lies in its range and that parts go together is judged
//! by the program alone.

use super::{Field, Kind, LeftOut, below};
use crate::quantities::{Angle, Force, Length, Mass, Pressure, PressurePerLength, Readable, Units, Velocity};
use serde_json::{Map, Value, json};

/// The schema of a design file.
#[must_use]
pub fn schema() -> Value {
    let mut schema = block("");
    schema.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
    schema.insert("title".into(), "A design of a hand-tilted frame for solar panels".into());
    // One of the two says when the frame is tilted how.
    schema.insert("oneOf".into(), json!([{"required": ["tilts"]}, {"required": ["seasons"]}]));
    Value::Object(schema)
}

/// The fields of a block, or of a row of a list.
fn block(path: &str) -> Map<String, Value> {
    let fields = below(path);
    let properties: Map<String, Value> =
        fields.iter().map(|field| (field.name().to_string(), property(field))).collect();
    let is_required = |field: &&&Field| field.left_out == LeftOut::Required;
    let required: Vec<&str> = fields.iter().filter(is_required).map(|field| field.name()).collect();
    let Value::Object(block) = json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    }) else {
        unreachable!("an object was written")
    };
    block
}

fn property(field: &Field) -> Value {
    let mut schema = type_of(field);
    // A field that may be left out may be left empty.
    if field.left_out != LeftOut::Required {
        if let Some(kind) = schema.get_mut("type") {
            let mut kinds = kind.as_array().cloned().unwrap_or_else(|| vec![kind.clone()]);
            kinds.push("null".into());
            *kind = Value::Array(kinds);
        }
        if let Some(words) = schema.get_mut("enum").and_then(Value::as_array_mut) {
            words.push(Value::Null);
        }
    }
    let range = field.kind.range_words(Units::Us).filter(|_| field.kind.units().is_some());
    let range = range.map_or_else(String::new, |range| format!(" It lies {range}."));
    let left_out = match field.left_out {
        LeftOut::Required => String::new(),
        other => format!(" Left out: {}.", other.words()),
    };
    schema.insert("description".into(), format!("{}{range}{left_out}", field.about).into());
    let json_of = |text: &str| serde_yaml::from_str::<Value>(text).unwrap_or_else(|_| text.into());
    schema.insert("examples".into(), json!([json_of(field.example)]));
    if let LeftOut::Default(value) = field.left_out {
        schema.insert("default".into(), json_of(value));
    }
    Value::Object(schema)
}

fn type_of(field: &Field) -> Map<String, Value> {
    let schema = match field.kind {
        Kind::Block => return block(field.path),
        Kind::Rows => json!({"type": "array", "items": block(&format!("{}[]", field.path))}),
        Kind::Choices => json!({"type": "object"}),
        Kind::Text(most) => json!({"type": "string", "minLength": 1, "maxLength": most}),
        Kind::Flag => json!({"type": "boolean"}),
        Kind::Words(words) => json!({"type": "string", "enum": words}),
        Kind::Count([least, most]) => json!({"type": "integer", "minimum": least, "maximum": most}),
        Kind::Number([least, most]) => json!({"type": "number", "minimum": least, "maximum": most}),
        Kind::Price([least, most]) => {
            json!({"type": ["number", "string"], "minimum": least, "maximum": most, "pattern": "[0-9]"})
        }
        Kind::Currency => json!({"type": "string", "pattern": "^[A-Z]{3}$"}),
        Kind::Counts => json!({"type": "array", "items": {"type": "integer", "minimum": 0}}),
        Kind::Angles([least, most]) => {
            let angle = json!({"type": "string", "pattern": with_units::<Angle>("")});
            json!({"type": "array", "items": angle, "minItems": least, "maxItems": most})
        }
        Kind::Length(_) => json!({"type": "string", "pattern": with_units::<Length>("")}),
        Kind::Angle(_) => json!({"type": "string", "pattern": with_units::<Angle>("")}),
        Kind::Latitude(_) => json!({"type": "string", "pattern": with_units::<Angle>("|[NnSs]")}),
        Kind::Longitude(_) => json!({"type": "string", "pattern": with_units::<Angle>("|[EeWw]")}),
        Kind::Slope(_) => json!({"type": "string", "pattern": with_units::<Angle>("|(:|/| in ) *[0-9]")}),
        Kind::Mass(_) => json!({"type": "string", "pattern": with_units::<Mass>("")}),
        Kind::Force(_) => json!({"type": "string", "pattern": with_units::<Force>("")}),
        Kind::Speed(..) => json!({"type": "string", "pattern": with_units::<Velocity>("")}),
        Kind::Pressure(..) => json!({"type": "string", "pattern": with_units::<Pressure>("")}),
        Kind::Subgrade(_) => json!({"type": "string", "pattern": with_units::<PressurePerLength>("")}),
        Kind::Section
        | Kind::Bolt
        | Kind::BoltGrade
        | Kind::Screw
        | Kind::GoodsSize
        | Kind::Species
        | Kind::Grade
        | Kind::Contact => json!({"type": "string", "minLength": 1}),
    };
    schema.as_object().cloned().unwrap_or_default()
}

/// A number, and behind it one of the units of the quantity or what else may stand there.
fn with_units<Q: Readable>(or: &str) -> String {
    let names: Vec<&str> = Q::UNITS.iter().flat_map(|(names, _)| names.iter().copied()).collect();
    format!("[0-9].*({}{or})", names.join("|"))
}
