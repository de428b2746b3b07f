//! The schema fits every ready design and refuses what the reader refuses; the README names every block.

use regex::Regex;
use serde_json::{Map, Value, json};
use std::{fs, path::Path};
use tiltwright::design::{READY, fields};

/// Words of JSON Schema that this judge knows; a schema with another is not judged at all.
const KNOWN: [&str; 17] = [
    "$schema",
    "title",
    "description",
    "examples",
    "default",
    "type",
    "enum",
    "properties",
    "required",
    "additionalProperties",
    "items",
    "minItems",
    "maxItems",
    "minLength",
    "maxLength",
    "pattern",
    "oneOf",
];

fn kind_of(value: &Value) -> &'static str {
    match value {
        Value::Null => "null",
        Value::Bool(_) => "boolean",
        Value::Number(number) if number.is_f64() => "number",
        Value::Number(_) => "integer",
        Value::String(_) => "string",
        Value::Array(_) => "array",
        Value::Object(_) => "object",
    }
}

/// What is wrong with a value by a schema of draft 2020-12.
fn judge(schema: &Map<String, Value>, value: &Value, at: &str) -> Vec<String> {
    let mut wrong = Vec::new();
    let unknown =
        schema.keys().find(|key| !KNOWN.contains(&key.as_str()) && !["minimum", "maximum"].contains(&key.as_str()));
    assert_eq!(unknown, None, "{at}");
    let kind = kind_of(value);
    let has_type = |name: &Value| name == kind || name == "number" && kind == "integer";
    match &schema["type"] {
        Value::Array(kinds) if kinds.iter().any(has_type) => {}
        Value::Array(kinds) => wrong.push(format!("{at}: {kind} is none of {kinds:?}")),
        one if has_type(one) => {}
        one => wrong.push(format!("{at}: {kind} is no {one}")),
    }
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        wrong.extend((!words.contains(value)).then(|| format!("{at}: {value} is none of {words:?}")));
    }
    let number = |name: &str| schema.get(name).and_then(Value::as_f64);
    if let Some(given) = value.as_f64() {
        let within =
            number("minimum").is_none_or(|least| given >= least) && number("maximum").is_none_or(|most| given <= most);
        wrong.extend((!within).then(|| format!("{at}: {given} is out of range")));
    }
    let size = |least: &str, most: &str, given: usize| {
        number(least).is_none_or(|least| given as f64 >= least) && number(most).is_none_or(|most| given as f64 <= most)
    };
    if let Some(text) = value.as_str() {
        let fits = size("minLength", "maxLength", text.chars().count());
        wrong.extend((!fits).then(|| format!("{at}: length of {text}")));
        if let Some(pattern) = schema.get("pattern").and_then(Value::as_str) {
            let pattern = Regex::new(pattern).unwrap_or_else(|error| panic!("{at}: {error}"));
            wrong.extend((!pattern.is_match(text)).then(|| format!("{at}: {text} does not match {pattern}")));
        }
    }
    if let Some(items) = value.as_array() {
        wrong.extend((!size("minItems", "maxItems", items.len())).then(|| format!("{at}: {} items", items.len())));
        let schema = schema["items"].as_object().expect("a schema of items");
        wrong.extend(items.iter().enumerate().flat_map(|(i, item)| judge(schema, item, &format!("{at}.{i}"))));
    }
    if let (Some(fields), Some(known)) = (value.as_object(), schema.get("properties").and_then(Value::as_object)) {
        let lacks = |names: &Value| {
            names.as_array().into_iter().flatten().any(|n| fields.get(n.as_str().expect("a name")).is_none())
        };
        wrong.extend(lacks(&schema["required"]).then(|| format!("{at}: one of {} is missing", schema["required"])));
        if let Some(one_of) = schema.get("oneOf").and_then(Value::as_array) {
            let fitting = one_of.iter().filter(|option| !lacks(&option["required"])).count();
            wrong.extend((fitting != 1).then(|| format!("{at}: {fitting} of {one_of:?}")));
        }
        assert_eq!(schema["additionalProperties"], false, "{at}");
        for (name, value) in fields {
            match known.get(name).and_then(Value::as_object) {
                Some(schema) => wrong.extend(judge(schema, value, &format!("{at}.{name}"))),
                None => wrong.push(format!("{at}.{name} is not known")),
            }
        }
    }
    wrong
}

fn schema() -> Map<String, Value> {
    let run =
        assert_cmd::Command::cargo_bin("tiltwright").expect("the binary").arg("schema").output().expect("it runs");
    assert!(run.status.success());
    let printed: Value = serde_json::from_slice(&run.stdout).expect("JSON");
    assert_eq!(printed["$schema"], "https://json-schema.org/draft/2020-12/schema");
    printed.as_object().expect("an object").clone()
}

fn json_of(text: &str) -> Value {
    serde_yaml::from_str(text).expect("YAML")
}

#[test]
fn every_ready_design_fits_the_schema() {
    let schema = schema();
    for (name, text) in READY {
        assert_eq!(judge(&schema, &json_of(text), name), Vec::<String>::new());
    }
}

/// Every example stands in the schema and fits it, also those of fields that no ready design writes.
#[test]
fn every_example_fits_the_schema() {
    let schema = schema();
    for field in fields::all() {
        let mut node = Value::Object(schema.clone());
        for part in field.path.split('.') {
            node = node["properties"][part.trim_end_matches("[]")].clone();
            if part.ends_with("[]") {
                node = node["items"].clone();
            }
        }
        let own = node.as_object().unwrap_or_else(|| panic!("{} is not in the schema", field.path));
        let example = own["examples"][0].clone();
        assert_eq!(example, json_of(field.example), "{}", field.path);
        // The example of a block may leave out what is asked for elsewhere.
        assert_eq!(judge(own, &example, field.path), Vec::<String>::new());
        assert!(own["description"].as_str().is_some_and(|words| words.starts_with(field.about)), "{}", field.path);
    }
}

#[test]
fn what_the_reader_refuses_by_name_and_kind_the_schema_refuses_too() {
    let schema = schema();
    for (at, value) in [
        ("/site/latitute", json!("40 deg")),
        ("/panel/thickness", json!(30)),
        ("/panel/thickness", json!("30 kg")),
        ("/panel/thickness", json!("30")),
        ("/array/columns", json!(0)),
        ("/array/columns", json!(2.5)),
        ("/support/kind", json!("post")),
        ("/support/posts/embedment", Value::Null),
        ("/tilts", json!([])),
        ("/seasons", json!(4)),
        ("/shop/stock/0/price", json!(-1)),
        ("/loads/snow/slides_off", json!("yes")),
    ] {
        let mut design = json_of(READY[0].1);
        let (block, name) = at.rsplit_once('/').expect("a path");
        design
            .pointer_mut(block)
            .and_then(Value::as_object_mut)
            .expect("a block")
            .insert(name.to_string(), value.clone());
        assert_ne!(judge(&schema, &design, ""), Vec::<String>::new(), "{at}: {value}");
        let text = serde_yaml::to_string(&design).expect("YAML");
        assert!(tiltwright::design::read_text("x.yaml", &text).is_err(), "{at}: {value}");
    }
}

/// The README's table of blocks is the table of fields, word for word.
#[test]
fn the_readme_names_every_block_as_the_table_does() {
    let readme =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("README.md")).expect("there is a README");
    let rows: Vec<String> = fields::all()
        .filter(|field| field.parent().is_empty())
        .map(|field| format!("| `{}` | {} | {} |", field.path, field.about, field.left_out.words()))
        .collect();
    let table = format!("| line or block | what it is | left out |\n|---|---|---|\n{}\n", rows.join("\n"));
    assert!(readme.contains(&table), "the README should hold:\n{table}");
}
