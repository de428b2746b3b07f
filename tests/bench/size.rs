//! Candidates judged in a second, with nothing left out and with what is proved left out; and the answer beside that of
//! trying every one of more than five thousand candidates.
//!
//! `cargo bench --bench size` prints four lines and stops with an error when an answer differs.

use std::time::Instant;
use tiltwright::{
    design::{BUILTIN_TEXT, Choice, OpenDesign, Tilts},
    quantities::Tape,
    sizing::{Found, Goal, Judged, LeftOpen, Search, Space},
};

const SMALL: &str = include_str!("../commands/small_frame.yaml");

fn space(text: &str, offered: &[(&str, &[&str])]) -> Space {
    let open = OpenDesign::read_text("bench.yaml", text).expect("it reads");
    let choices: Vec<Choice> =
        offered.iter().map(|(field, values)| open.offer(field, values).unwrap_or_else(|f| panic!("{f:?}"))).collect();
    Space::new(open, choices).expect("few enough")
}

fn search(space: &Space, goal: Goal, prune: bool) -> (LeftOpen, Found, f64) {
    let design = space.open().design();
    let Tilts::Given(tilts) = &design.tilts else { panic!("the design gives its tilts") };
    let search = Search { space, tilts, tape: Tape::of(design.units), goal, prune };
    let (left_open, _) = search.as_written().expect("the design stands");
    let began = Instant::now();
    let found = search.run(&left_open, &()).expect("it is priced");
    (left_open, found, began.elapsed().as_secs_f64())
}

fn rate(what: &str, space: &Space, prune: bool) {
    let (_, found, _) = search(space, Goal::Cheapest, prune);
    let seconds = found.judging.as_secs_f64();
    let counts = &found.counts;
    println!(
        "{what}: {} judged completely in {seconds:.2} s, {:.0} a second; {} left out by proof; {} laid out",
        counts.complete,
        counts.complete as f64 / seconds,
        counts.on_part,
        counts.laid_out
    );
}

/// Every candidate in a search of its own.
fn brute_force(space: &Space, left_open: &LeftOpen) -> Option<(i64, usize)> {
    use rayon::prelude::*;
    let design = space.open().design();
    let Tilts::Given(tilts) = &design.tilts else { panic!("the design gives its tilts") };
    (0..space.count())
        .into_par_iter()
        .filter_map(|candidate| {
            let only = space
                .values(candidate)
                .map(|(axis, offer)| Choice { field: axis.field, offers: vec![offer.clone()] })
                .collect();
            let one = Space::new(space.open().clone(), only).expect("one candidate");
            let tape = Tape::of(design.units);
            let search = Search { space: &one, tilts, tape, goal: Goal::Cheapest, prune: false };
            let found = search.run(left_open, &()).expect("it is priced");
            found.chosen.map(|judged| (judged.amount, candidate))
        })
        .min()
}

fn main() {
    // A wind that no candidate stands up to, so that every one of them is judged to the end.
    let blown = BUILTIN_TEXT.replace("gust: 100 mph", "gust: 180 mph");
    assert_ne!(blown, BUILTIN_TEXT);
    let sizes: [(&str, &[&str]); 4] = [
        ("frame.rail", &["2x6", "2x8"]),
        ("support.posts.embedment", &["48 in", "54 in", "60 in", "66 in", "72 in", "84 in"]),
        ("support.bolt", &["1/2 in", "5/8 in"]),
        ("support.pin", &["1/2 in", "5/8 in"]),
    ];
    let screws: [(&str, &[&str]); 4] = [
        ("support.posts.hole_diameter", &["12 in", "14 in", "16 in", "18 in"]),
        ("joints.corner.count", &["2", "3", "4"]),
        ("joints.brace.count", &["1", "2", "3"]),
        ("joints.clips_per_panel", &["4", "6", "8"]),
    ];
    let alone = space(&blown, &sizes);
    rate("built-in design, three tilts, every candidate with a model of its own", &alone, false);
    let whole = space(&blown, &[&sizes[..], &screws[..]].concat());
    rate("the same with screws, clips and holes in the ground, nothing left out", &whole, false);
    rate("the same, what is proved left out", &whole, true);
    let small = space(
        SMALL,
        &[
            ("frame.stile", &["2x6", "2x8", "2x10", "2x12"]),
            ("support.posts.section", &["4x4", "4x6", "6x6"]),
            ("support.posts.embedment", &["36 in", "48 in", "54 in", "60 in", "72 in"]),
            ("support.bolt", &["1/2 in", "5/8 in", "3/4 in"]),
            ("joints.corner.count", &["1", "2", "3", "4"]),
            ("joints.brace.count", &["1", "2", "3"]),
            ("joints.clips_per_panel", &["4", "6", "8"]),
        ],
    );
    let key = |judged: Judged| (judged.amount, judged.candidate);
    let (left_open, found, seconds) = search(&small, Goal::Cheapest, true);
    let began = Instant::now();
    let wanted = brute_force(&small, &left_open);
    assert_eq!(found.chosen.map(key), wanted, "the search and trying everything differ");
    println!(
        "one tilt, {} candidates: the search takes {seconds:.1} s, trying every one {:.1} s, both give {wanted:?}",
        small.count(),
        began.elapsed().as_secs_f64()
    );
    assert!(small.count() >= 5000 && wanted.is_some());
}
