//! No file of a room needs another that needs it back: each can be read before those that use it.

use crate::sources::{named, sources};
use std::collections::{BTreeMap, BTreeSet};

/// Circles that are left, each by its files. None may be added, and none may grow.
const LATE: [&[&str]; 6] = [
    &["codes/aisc360/flexure", "codes/aisc360/flexure_channel", "codes/aisc360/flexure_tube"],
    &["design/choices", "design/steps"],
    &["quantities/show", "quantities/tape"],
    &["sheets/sheet", "sheets/svg", "sheets/title_block"],
    &["shop/hardware", "shop/holding", "shop/pricing"],
    &["sun/calendar", "sun/fault", "sun/goal", "sun/seasons"],
];

type Files = BTreeMap<String, String>;

/// The files that each file names, `mod.rs` left out: it gathers what it holds.
fn needs(files: &Files) -> BTreeMap<&str, BTreeSet<&str>> {
    let file = |path: String| files.get_key_value(&path).map(|(name, _)| name.as_str());
    let of = |name: &str, text: &str| -> BTreeSet<&str> {
        let (room, _) = name.split_once('/').unwrap_or((name, ""));
        let (parent, _) = name.rsplit_once('/').unwrap_or(("", name));
        let beside = named(text, "super::").into_iter().map(|n| format!("{parent}/{n}"));
        let in_room = format!("crate::{room}::");
        let by_room = named(text, &in_room).into_iter().map(|n| format!("{room}/{n}"));
        // A file in a folder may use what the file of the folder's own name holds.
        let above = text.contains("super::").then(|| parent.to_string());
        beside.chain(by_room).chain(above).filter_map(file).filter(|other| *other != name).collect()
    };
    let plain = files.iter().filter(|(name, _)| name.contains('/') && !name.ends_with("/mod"));
    plain.map(|(name, text)| (name.as_str(), of(name, text))).collect()
}

/// All that a file needs, directly or not.
fn reach<'a>(needs: &BTreeMap<&'a str, BTreeSet<&'a str>>, from: &str) -> BTreeSet<&'a str> {
    let mut found = BTreeSet::new();
    let mut next: Vec<&str> = needs[from].iter().copied().collect();
    while let Some(name) = next.pop() {
        if found.insert(name) {
            next.extend(needs.get(name).into_iter().flatten());
        }
    }
    found
}

#[test]
fn a_circle_is_found() {
    let text = |text: &str| text.to_string();
    let files = Files::from([
        ("room/a".to_string(), text("use super::{b::One, c};")),
        ("room/b".to_string(), text("use crate::room::c::Two;")),
        ("room/c".to_string(), text("use super::a;")),
        ("room/d".to_string(), text("use super::a;")),
    ]);
    let needs = needs(&files);
    assert!(reach(&needs, "room/a").contains("room/a"));
    assert!(!reach(&needs, "room/d").contains("room/d"));
}

#[test]
fn no_files_of_a_room_need_each_other() {
    let files: Files =
        sources().into_iter().map(|(path, text)| (path.trim_end_matches(".rs").to_string(), text)).collect();
    let needs = needs(&files);
    let late = |name: &str, other: &str| LATE.iter().any(|circle| circle.contains(&name) && circle.contains(&other));
    let mut wrong = Vec::new();
    for (name, direct) in &needs {
        let back = direct.iter().filter(|other| needs.contains_key(*other) && reach(&needs, other).contains(name));
        wrong
            .extend(back.filter(|other| !late(name, other)).map(|other| format!("{name} needs {other} and is needed")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
