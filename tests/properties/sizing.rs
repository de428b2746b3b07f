//! The search gives what trying everything gives.

use tiltwright::{
    design::{Choice, OpenDesign, Tilts},
    quantities::Tape,
    sizing::{Goal, Search, Space},
};

const SMALL: &str = include_str!("../commands/small_frame.yaml");

fn choices(open: &OpenDesign, offered: &[(&str, &[&str])]) -> Vec<Choice> {
    offered.iter().map(|(field, values)| open.offer(field, values).unwrap_or_else(|f| panic!("{f:?}"))).collect()
}

/// Every candidate by itself, in a search of its own that has nothing to order and nothing to leave out.
fn brute_force(open: &OpenDesign, space: &Space, goal: Goal) -> Option<(i64, usize)> {
    let Tilts::Given(tilts) = &open.design().tilts else { panic!("the design gives its tilts") };
    let whole = Search { space, tilts, tape: Tape::of(open.design().units), goal, prune: false };
    let (standard, _) = whole.as_written().expect("the design stands");
    (0..space.count())
        .filter_map(|candidate| {
            let only: Vec<Choice> = space
                .values(candidate)
                .map(|(axis, offer)| Choice { field: axis.field, offers: vec![offer.clone()] })
                .collect();
            let one = Space::new(open.clone(), only).expect("one candidate");
            let search = Search { space: &one, ..whole };
            search.run(&standard, &()).expect("it is priced").chosen.map(|judged| (judged.amount, candidate))
        })
        .min()
}

#[test]
fn the_search_gives_what_trying_every_candidate_gives() {
    let open = OpenDesign::read_text("small.yaml", SMALL).expect("it reads");
    let offered: &[(&str, &[&str])] = &[
        ("frame.stile", &["2x12", "2x10", "2x6"]),
        ("support.posts.embedment", &["72 in", "48 in", "60 in"]),
        ("support.bolt", &["5/8 in", "1/2 in"]),
        ("joints.corner.count", &["3", "1"]),
        ("joints.clips_per_panel", &["6", "2", "4"]),
    ];
    let space = Space::new(open.clone(), choices(&open, offered)).expect("few enough");
    let Tilts::Given(tilts) = &open.design().tilts else { panic!("the design gives its tilts") };
    for goal in [Goal::Cheapest, Goal::Lightest] {
        let wanted = brute_force(&open, &space, goal);
        assert!(wanted.is_some(), "some candidate passes");
        for prune in [true, false] {
            let search = Search { space: &space, tilts, tape: Tape::of(open.design().units), goal, prune };
            let (standard, _) = search.as_written().expect("the design stands");
            let found = search.run(&standard, &()).expect("it is priced");
            assert_eq!(found.chosen.map(|judged| (judged.amount, judged.candidate)), wanted, "{goal:?} {prune}");
            let counts = found.counts;
            assert_eq!(counts.all, 108);
            assert_eq!(counts.laid_out + counts.refused.values().sum::<usize>(), counts.all);
            assert!(prune || counts.on_part == 0);
        }
    }
}
