//! Strength of the built-in design: the analysis of every tilt and combination, then every check.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use tiltwright::{
    checks::{model::run_tilts, verify::verify},
    design::{self, Tilts},
    frame,
    quantities::Tape,
};

fn strength(c: &mut Criterion) {
    let design = design::read(None).expect("the built-in design").design;
    let Tilts::Given(tilts) = &design.tilts else { panic!("the built-in design gives its tilts") };
    let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).expect("it can be laid out");
    let basis = design.strength_basis().expect("nothing is missing").expect("it gives loads");
    let mut group = c.benchmark_group("strength");
    group.sample_size(10);
    group.bench_function("models, cases and combinations of every tilt", |b| {
        b.iter(|| run_tilts(black_box(&design), &frame, &basis).expect("it stands"));
    });
    group.bench_function("the same, and every check", |b| {
        b.iter(|| verify(black_box(&design), &frame, &basis).expect("it stands"));
    });
    group.finish();
}

criterion_group!(benches, strength);
criterion_main!(benches);
