//! Rooms follow the flow of the work and only look back.

use crate::sources::{named, whole_sources};

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

#[test]
fn rooms_only_look_back() {
    let place = |room: &str| ROOMS.iter().position(|r| *r == room);
    let mut wrong = Vec::new();
    for (file, text) in whole_sources() {
        let room = file.split('/').next().expect("a first part").trim_end_matches(".rs");
        let Some(own) = place(room) else {
            assert!(["lib", "main"].contains(&room), "{room} is no room of the house");
            continue;
        };
        let ahead = named(&text, "crate::").into_iter().filter(|name| place(name).is_some_and(|other| other > own));
        wrong.extend(ahead.map(|name| format!("{file} looks ahead to {name}")));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
