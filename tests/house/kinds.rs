//! Kinds of support are named where they are laid out: every later room walks parts, joints and feet.

use crate::sources::whole_sources;
use std::collections::BTreeMap;

/// What may name a kind: the design that asks for one, and the frame that lays it out.
const MAY_NAME: [&str; 2] = ["design/", "frame/"];

/// Identifiers of a source without comments and strings.
fn identifiers(text: &str) -> Vec<String> {
    let mut code = String::new();
    for line in text.lines() {
        let mut in_string = false;
        let mut chars = line.chars().peekable();
        while let Some(c) = chars.next() {
            match c {
                '\\' if in_string => _ = chars.next(),
                '"' => in_string = !in_string,
                '/' if !in_string && chars.peek() == Some(&'/') => break,
                c if !in_string => code.push(c),
                _ => {}
            }
        }
        code.push('\n');
    }
    code.split(|c: char| !(c.is_alphanumeric() || c == '_')).filter(|word| !word.is_empty()).map(String::from).collect()
}

/// The kinds a design can ask for, from the enum that lists them.
fn kinds(sources: &BTreeMap<String, String>) -> Vec<String> {
    let model = &sources["design/model.rs"];
    let (_, rest) = model.split_once("pub enum Base {").expect("what a frame stands on");
    let (body, _) = rest.split_once("\n}").expect("its end");
    let variants = body.lines().map(str::trim).filter(|line| !line.starts_with("//"));
    variants.filter_map(|line| line.split_once('(').map(|(name, _)| name.to_string())).collect()
}

#[test]
fn identifiers_leave_out_words_for_readers() {
    let text = "// Posts\nlet a = \"Posts \\\" Runners\"; b::Posts { c } // Runners";
    assert_eq!(identifiers(text), ["let", "a", "b", "Posts", "c"]);
}

#[test]
fn no_later_room_names_a_kind_of_support() {
    let all = whole_sources();
    let kinds = kinds(&all);
    assert!(kinds.len() >= 2, "{kinds:?}");
    let own = ["Base".to_string(), "StandsOn".to_string()];
    let later = all.iter().filter(|(path, _)| !MAY_NAME.iter().any(|room| path.starts_with(room)));
    let naming: Vec<&str> = later
        .filter(|(_, text)| identifiers(text).iter().any(|word| kinds.contains(word) || own.contains(word)))
        .map(|(path, _)| path.as_str())
        .collect();
    assert!(naming.is_empty(), "{naming:#?} name a kind of support");
}
