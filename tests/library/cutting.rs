//! Cutting jobs solved by other programs, stored in `data/cutting/`.
//!
//! Each optimum was proved by at least two of: part assignment and pattern models in CP-SAT (OR-Tools 9.15), pattern,
//! arc-flow and column-generation models in HiGHS 1.16, an exact certificate checked by exhaustive search. `method` in each
//! file says which. The cost is the anchor; boards and cuts of an optimum need not be unique.

use serde_json::Value;
use std::{fs, path::PathBuf, time::Duration};
use tiltwright::shop::cut_plan::{CutList, Plan, check, plan};

/// Far above what any of them needs: a slow machine must not turn a proof into a gap.
const PATIENCE: Duration = Duration::from_secs(120);

fn files(first: char) -> Vec<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/library/data/cutting");
    let entries = fs::read_dir(folder).expect("the data folder is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a file").path()).collect();
    files.retain(|file| file.file_name().is_some_and(|name| name.to_string_lossy().starts_with(first)));
    files.sort();
    files
}

/// The plan for a file and the cost and proof stored in it.
fn solved(file: &PathBuf) -> (Plan, i64, bool) {
    solved_within(file, PATIENCE)
}

fn solved_within(file: &PathBuf, time_limit: Duration) -> (Plan, i64, bool) {
    let text = fs::read_to_string(file).expect("readable");
    let mut value: Value = serde_json::from_str(&text).expect("JSON");
    let fields = value.as_object_mut().expect("fields");
    let optimum = fields.remove("optimum").expect("an optimum is stored");
    fields.remove("generator_seed");
    let list = CutList::read(&file.display().to_string(), &value.to_string()).expect("a list that is accepted");
    let plan = plan(&list.job, time_limit).expect("a plan");
    check(&list.job, &plan).expect("a plan that can be sawn");
    let cost = optimum["cost"].as_i64().expect("a cost");
    (plan, cost, optimum["proven"].as_bool().expect("a flag"))
}

fn meets_the_optimum(first: char, number: usize) {
    let files = files(first);
    assert_eq!(files.len(), number);
    for file in files {
        let (plan, cost, _) = solved(&file);
        assert_eq!((plan.cost, plan.bound, plan.proven), (cost, cost, true), "{}", file.display());
    }
}

#[test]
fn small_square_jobs_cost_what_was_proved_elsewhere() {
    meets_the_optimum('s', 27);
}

#[test]
fn mitred_jobs_cost_what_was_proved_elsewhere() {
    meets_the_optimum('m', 3);
}

/// b06 is open by one cent in the stored results: 320873 is their bound and 320874 their plan. A plan at their bound is optimal.
#[test]
fn large_jobs_cost_what_was_proved_elsewhere() {
    let files = files('b');
    assert_eq!(files.len(), 10);
    for file in files {
        let (plan, cost, proven_there) = solved(&file);
        if proven_there {
            assert_eq!((plan.cost, plan.bound, plan.proven), (cost, cost, true), "{}", file.display());
        } else {
            assert!(plan.cost <= cost, "{} costs {}, and {cost} is known", file.display(), plan.cost);
            assert!(plan.bound >= 320_873, "the stored bound is met by a bound of {}", plan.bound);
        }
    }
}

#[test]
fn the_same_list_gives_the_same_plan() {
    let files = files('m');
    assert_eq!(solved(&files[0]).0, solved(&files[0]).0);
}

/// However early a search is stopped: what it calls proven is the optimum, and its bound is one.
#[test]
fn a_search_cut_short_never_claims_too_much() {
    const OPEN_CENT: i64 = 320_873;
    for file in files('b').into_iter().chain(files('m')) {
        for micros in [0, 200, 1_000, 5_000] {
            let (plan, cost, proven_there) = solved_within(&file, Duration::from_micros(micros));
            let optimum = if proven_there { cost } else { OPEN_CENT };
            assert!(plan.bound <= optimum && optimum <= plan.cost, "{} after {micros} µs: {plan:?}", file.display());
        }
    }
}
