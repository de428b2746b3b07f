//! What the tests of the house read: the sources, and the names in them.

use std::{
    collections::BTreeMap,
    path::{Path, PathBuf},
};

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_path_buf()
}

fn read_below(folder: &Path, found: &mut BTreeMap<String, String>) {
    for entry in std::fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            read_below(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let within = path.strip_prefix(root().join("src")).expect("below src").display().to_string();
            found.insert(within, std::fs::read_to_string(&path).expect("a source is text"));
        }
    }
}

/// Every source below `src`, whole, by its path there.
pub(crate) fn whole_sources() -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    read_below(&root().join("src"), &mut found);
    assert!(found.len() > 50, "the sources were found");
    found
}

/// The same without their tests and comments.
pub(crate) fn sources() -> BTreeMap<String, String> {
    let code = |text: String| {
        let (text, _) = text.split_once("#[cfg(test)]\nmod ").unwrap_or((&text, ""));
        text.lines().map(|line| line.split_once("//").map_or(line, |(code, _)| code)).collect::<Vec<_>>().join("\n")
    };
    whole_sources().into_iter().map(|(path, text)| (path, code(text))).collect()
}

/// Every first name after a prefix, also inside braces: `super::{a::b, c}` names a and c.
pub(crate) fn named<'a>(text: &'a str, prefix: &str) -> Vec<&'a str> {
    let name = |text: &'a str| text.split(|c: char| !(c.is_alphanumeric() || c == '_')).next().unwrap_or("");
    let mut found = Vec::new();
    for (at, _) in text.match_indices(prefix) {
        let rest = &text[at + prefix.len()..];
        let Some(inside) = rest.strip_prefix('{') else {
            found.push(name(rest));
            continue;
        };
        let (mut depth, mut start) = (0, true);
        for (i, c) in inside.char_indices() {
            match c {
                '{' => depth += 1,
                '}' if depth == 0 => break,
                '}' => depth -= 1,
                ',' if depth == 0 => start = true,
                c if depth == 0 && start && !c.is_whitespace() => {
                    found.push(name(&inside[i..]));
                    start = false;
                }
                _ => {}
            }
        }
    }
    found
}

#[test]
fn names_inside_braces_are_found() {
    assert_eq!(named("use crate::{frame::{a, b}, sun, design::C};", "crate::"), ["frame", "sun", "design"]);
    assert_eq!(named("crate::sheets::plan(crate::Tape)", "crate::"), ["sheets", "Tape"]);
}
