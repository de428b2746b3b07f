//! Rooms follow the flow of the work and only look back.

use std::path::{Path, PathBuf};

const ROOMS: [&str; 13] = [
    "quantities",
    "catalogue",
    "design",
    "sun",
    "frame",
    "loads",
    "analysis",
    "codes",
    "checks",
    "shop",
    "sizing",
    "sheets",
    "cli",
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder of sources") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// Every name that follows `crate::` in a text, also inside braces: `crate::{a::b, c}` names a and c.
fn rooms_named(text: &str) -> Vec<String> {
    let name = |text: &str| text.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>();
    let mut found = Vec::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
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
    assert_eq!(rooms_named("use crate::{frame::{a, b}, sun, design::C};"), ["frame", "sun", "design"]);
    assert_eq!(rooms_named("crate::sheets::plan(crate::Tape)"), ["sheets", "Tape"]);
}

#[test]
fn rooms_only_look_back() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&src, &mut files);
    files.sort();
    let place = |room: &str| ROOMS.iter().position(|r| *r == room);
    let mut wrong = Vec::new();
    for file in &files {
        let within = file.strip_prefix(&src).expect("below src");
        let room = within.components().next().expect("a first part").as_os_str().to_string_lossy().replace(".rs", "");
        let Some(own) = place(&room) else {
            assert!(["lib", "main"].contains(&room.as_str()), "{room} is no room of the house");
            continue;
        };
        let text = std::fs::read_to_string(file).expect("a source is text");
        let ahead = rooms_named(&text).into_iter().filter(|name| place(name).is_some_and(|other| other > own));
        wrong.extend(ahead.map(|name| format!("{} looks ahead to {name}", within.display())));
    }
    assert!(files.len() > 50, "the sources were found");
    assert!(wrong.is_empty(), "{wrong:#?}");
}
