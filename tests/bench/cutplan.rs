//! Time of cut plans as library calls: the stored small jobs, the stored large ones, and growth with the number of parts.
//!
//! `cargo bench --bench cutplan`. Every plan must be proven, or the bench stops: a fast answer that is not one is no answer.

use criterion::{BatchSize, BenchmarkId, Criterion, criterion_group, criterion_main};
use std::{fs, path::PathBuf, time::Duration};
use tiltwright::shop::cut_plan::{CutList, Job, Part, Stock, plan};

const PATIENCE: Duration = Duration::from_secs(60);

fn stored(first: &str) -> Vec<(String, Job)> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/library/data/cutting");
    let entries = fs::read_dir(folder).expect("the data folder is there");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a file").path()).collect();
    files.sort();
    let name = |file: &PathBuf| file.file_stem().expect("a name").to_string_lossy().into_owned();
    files.retain(|file| first.contains(&name(file)[..1]));
    files.iter().map(|file| (name(file), job(file))).collect()
}

fn job(file: &PathBuf) -> Job {
    let text = fs::read_to_string(file).expect("readable");
    let mut value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let fields = value.as_object_mut().expect("fields");
    for stored in ["optimum", "generator_seed"] {
        fields.remove(stored);
    }
    CutList::read(&file.display().to_string(), &value.to_string()).expect("a list").job
}

/// A list of rails, stays and braces in steps of 5 mm, the same on every machine.
fn grown(parts: i64) -> Job {
    let mut state: u64 = parts as u64;
    let mut next = |range: u64| {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % range
    };
    let mut rows = Vec::new();
    let mut left = parts;
    while left > 0 {
        let quantity = left.min(1 + next((parts as u64 / 25).max(1)) as i64);
        let length = 180 + 5 * next(424) as i64;
        rows.push(Part { mark: format!("P{}", rows.len()), length, quantity, mitred_ends: 0, group: String::new() });
        left -= quantity;
    }
    let board = |(length, price)| Stock { length, price: Some(price), available: None, group: String::new() };
    let stock = [(2400, 619), (3000, 745), (3600, 969), (4200, 1049), (4800, 1345)].map(board).to_vec();
    Job { kerf: 3, stock, parts: rows, ..Job::default() }
}

fn prove(job: &Job) {
    assert!(plan(job, PATIENCE).expect("a plan").proven, "within {PATIENCE:?}");
}

fn run(criterion: &mut Criterion, group: &str, jobs: &[(String, Job)]) {
    let mut group = criterion.benchmark_group(group);
    group.sample_size(10).warm_up_time(Duration::from_millis(100)).measurement_time(Duration::from_millis(500));
    for (name, job) in jobs {
        group.bench_with_input(BenchmarkId::from_parameter(name), job, |bencher, job| {
            bencher.iter_batched(|| job.clone(), |job| prove(&job), BatchSize::SmallInput);
        });
    }
    group.finish();
}

fn small(criterion: &mut Criterion) {
    run(criterion, "small", &stored("sm"));
}

fn large(criterion: &mut Criterion) {
    run(criterion, "large", &stored("b"));
}

fn growth(criterion: &mut Criterion) {
    let sizes = [50, 100, 200, 500, 1000, 2000, 5000];
    run(criterion, "growth", &sizes.map(|parts| (format!("{parts} parts"), grown(parts))));
}

criterion_group!(benches, small, large, growth);
criterion_main!(benches);
