//! The table of clauses in DEVELOPERS.md is true, and no equation is called by its own tests alone.

use crate::sources::{root, sources};
use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};
use tiltwright::checks::verify::Kind;

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// How a function is called: as a method, by a path, or by its bare name.
#[derive(Debug, PartialEq)]
enum Call<'a> {
    Method,
    Path(&'a str),
    Bare,
}

/// Every call of a name; its definition is none.
fn calls<'a>(text: &'a str, name: &str) -> Vec<Call<'a>> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices(name) {
        let (before, after) = (&text[..at], &text[at + name.len()..]);
        let whole = !before.ends_with(is_word) && (after.starts_with('(') || after.starts_with("::<"));
        if !whole || before.ends_with("fn ") {
            continue;
        }
        let start = before.rfind(|c: char| !is_word(c) && c != ':').map_or(0, |at| at + 1);
        found.push(match &before[start..] {
            "" if before.ends_with('.') => Call::Method,
            "" => Call::Bare,
            path => Call::Path(path),
        });
    }
    found
}

/// Printed tables that tests hold another equation to: the yield modes without a gap are those with a gap of nothing.
const YARDSTICKS: [(&str, &str); 1] = [("codes/nds/dowel.rs", "double_shear")];

/// Functions of a source that record themselves.
fn equations(text: &str) -> Vec<&str> {
    let starts = text.match_indices("pub fn ").map(|(at, word)| &text[at + word.len()..]);
    let recording = starts.filter_map(|rest| {
        let (head, _) = rest.split_once('{')?;
        let name = rest.split(|c| !is_word(c)).next()?;
        head.contains("T: Trace").then_some(name)
    });
    recording.collect()
}

/// Is a function of a file called anywhere but in tests? Two of one name are told apart by their modules.
fn is_called(sources: &BTreeMap<String, String>, file: &str, name: &str) -> bool {
    let stem = Path::new(file).file_stem().expect("a name").to_string_lossy();
    let module = match stem.as_ref() {
        "mod" => Path::new(file).parent().and_then(Path::file_name).expect("a folder").to_string_lossy(),
        _ => stem,
    };
    let homes = sources.values().filter(|text| is_defined(text, name)).count();
    sources.iter().any(|(other, text)| {
        // A bare name in another file is this one where that file has none of its own and names the module or a part of it.
        let bare = homes == 1 || (!is_defined(text, name) && text.contains("use "));
        calls(text, name).into_iter().any(|call| match call {
            _ if other == file => true,
            Call::Method => true,
            Call::Path(path) => {
                homes == 1 || path.ends_with(&format!("{module}::")) || path.starts_with(char::is_uppercase)
            }
            Call::Bare => bare,
        })
    })
}

fn is_defined(text: &str, name: &str) -> bool {
    text.contains(&format!("fn {name}<")) || text.contains(&format!("fn {name}("))
}

#[test]
fn calls_are_told_from_definitions() {
    let text = "pub fn wood<T>(a) { wood(b) + x::wood::<T>(c) + driftwood(d) + e.wood(f) }";
    assert_eq!(calls(text, "wood"), [Call::Bare, Call::Path("x::"), Call::Method]);
}

#[test]
fn no_equation_is_called_by_its_own_tests_alone() {
    let sources = sources();
    let mut idle = Vec::new();
    let mut seen = 0;
    for (file, text) in
        sources.iter().filter(|(file, _)| ["codes/", "checks/", "loads/"].iter().any(|room| file.starts_with(room)))
    {
        for name in equations(text) {
            seen += 1;
            if !YARDSTICKS.contains(&(file.as_str(), name)) && !is_called(&sources, file, name) {
                idle.push(format!("{file} {name}"));
            }
        }
    }
    assert!(seen > 60, "the equations were found: {seen}");
    assert!(idle.is_empty(), "nothing calls {idle:#?}: call them where their clause asks for it, or take them out");
}

/// Rows of the table: clause, cell of equations, cell of checks.
fn rows(text: &str) -> Vec<[String; 3]> {
    let (_, table) = text.split_once("## Clauses").expect("the table of clauses");
    let (table, _) = table.split_once("\n## ").expect("a section follows");
    let rows = table.lines().filter(|line| line.starts_with("| ") && line.contains(".rs`"));
    rows.map(|line| {
        let cells: Vec<String> = line.trim_matches('|').split('|').map(|cell| cell.trim().to_string()).collect();
        cells.try_into().unwrap_or_else(|cells| panic!("three cells: {cells:?}"))
    })
    .collect()
}

/// What stands between backquotes.
fn quoted(cell: &str) -> Vec<&str> {
    cell.split('`').skip(1).step_by(2).collect()
}

#[test]
fn every_clause_of_the_table_names_equations_that_checks_call() {
    let sources = sources();
    let text = std::fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md");
    let rows = rows(&text);
    assert!(rows.len() > 30, "the table was found: {}", rows.len());
    let known: BTreeSet<&str> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    let mut wrong = Vec::new();
    for [clause, equations, checks] in &rows {
        let mut names = quoted(equations).into_iter();
        let Some(file) = names.next() else { panic!("{clause} names a file") };
        let Some(source) = sources.get(file) else {
            wrong.push(format!("{clause}: no source {file}"));
            continue;
        };
        for name in names {
            if !source.contains(&format!("fn {name}")) {
                wrong.push(format!("{clause}: {file} has no {name}"));
            } else if !is_called(&sources, file, name) {
                wrong.push(format!("{clause}: {name} of {file} is called by its tests alone"));
            }
        }
        let named = quoted(checks);
        if named.is_empty() && checks != "loads" && checks != "every wooden member" {
            wrong.push(format!("{clause}: no check is named"));
        }
        wrong.extend(named.iter().filter(|name| !known.contains(**name)).map(|n| format!("{clause}: no check {n}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    // A document that is used is in the table.
    for document in ["NDS-2018", "AISC 360-16", "ASCE 7-16", "IBC 2018", "EN 1991"] {
        assert!(rows.iter().any(|[clause, ..]| clause.starts_with(document)), "{document} has no row");
    }
}
