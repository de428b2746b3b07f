//! The best plan of a place, and a year of sun over a horizon.

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use tiltwright::{
    quantities::deg,
    sun::{
        MonthDay, Place,
        daylight::Daylight,
        horizon::Horizon,
        seasons::{from_dates, plan},
    },
};

fn plans(c: &mut Criterion) {
    let mut group = c.benchmark_group("plan");
    for seasons in [2, 4, 12] {
        group.bench_function(format!("{seasons} seasons"), |b| b.iter(|| plan(black_box(deg(40.0)), seasons)));
    }
    group.finish();
}

fn survey(c: &mut Criterion) {
    let points: Vec<_> = [
        (0.0, 8.0),
        (60.0, 10.0),
        (95.0, 12.0),
        (110.0, 28.0),
        (135.0, 30.0),
        (150.0, 6.0),
        (200.0, 5.0),
        (225.0, 8.0),
        (240.0, 22.0),
        (270.0, 25.0),
        (300.0, 15.0),
        (340.0, 8.0),
    ]
    .map(|(bearing, elevation)| (deg(bearing), deg(elevation)))
    .to_vec();
    let fixed = from_dates(&[(MonthDay { month: 1, day: 1 }, deg(38.0))]);
    c.bench_function("survey/year at five minutes", |b| {
        b.iter(|| {
            let place = Place::on_latitude(black_box(deg(42.0))).expect("on the globe");
            let daylight = Daylight::of(&place).expect("a year");
            let horizon = Horizon::of_points(&points).expect("a skyline");
            daylight.year(&horizon, &fixed)
        })
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = plans, survey
}
criterion_main!(benches);
