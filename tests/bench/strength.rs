//! Strength of the built-in design: the analysis of every tilt and combination, then every check; and how both grow with
//! the panels of a row.

use criterion::{Criterion, criterion_group};
use std::{hint::black_box, time::Instant};
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

/// Designs with `columns` panels side by side made from the built-in one: on one wide frame, or on equal frames of two.
fn row(columns: u32, frames: u32) -> String {
    let text = include_str!("../../designs/sample.yaml");
    text.replace("  columns: 2\n", &format!("  columns: {columns}\n  frames: {frames}\n"))
}

/// The peak memory of this program so far (MB), where the system tells it.
fn peak_mb() -> Option<f64> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|l| l.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse::<f64>().ok().map(|kb| kb / 1024.0)
}

/// Time of the whole verification of one design (ms).
fn time_ms(text: &str) -> Result<f64, String> {
    let design = design::read_text("row.yaml", text).map_err(|faults| format!("{faults:?}"))?.design;
    let Tilts::Given(tilts) = &design.tilts else { return Err("no tilts are given".to_string()) };
    let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).map_err(|e| format!("{e:?}"))?;
    let basis = design.strength_basis().map_err(|e| format!("{e:?}"))?.ok_or("no loads are given")?;
    let mut best = f64::INFINITY;
    for _ in 0..5 {
        let start = Instant::now();
        black_box(verify(black_box(&design), &frame, &basis).map_err(|e| e.to_string())?);
        best = best.min(start.elapsed().as_secs_f64() * 1e3);
    }
    Ok(best)
}

/// How the time grows with the panels, and the slope of its logarithm fitted to all sizes.
fn growth() {
    type Frames = fn(u32) -> u32;
    let ways: [(&str, Frames); 2] = [("equal frames of two panels", |columns| columns / 2), ("one wide frame", |_| 1)];
    for (name, frames) in ways {
        println!("\n{name}: panels, best of five (ms), peak memory so far (MB)");
        let mut points: Vec<[f64; 2]> = Vec::new();
        for columns in [2, 4, 8, 16, 32, 64] {
            match time_ms(&row(columns, frames(columns))) {
                Ok(ms) => {
                    let peak = peak_mb().map_or_else(|| "?".to_string(), |mb| format!("{mb:.0}"));
                    println!("{columns:>4} {ms:>10.1} {peak:>6}");
                    points.push([f64::from(columns).ln(), ms.ln()]);
                }
                Err(why) => println!("{columns:>4} not measured: {}", why.chars().take(200).collect::<String>()),
            }
        }
        let n = points.len() as f64;
        let mean = |axis: usize| points.iter().map(|p| p[axis]).sum::<f64>() / n;
        let [x, y] = [mean(0), mean(1)];
        let rise: f64 = points.iter().map(|p| (p[0] - x) * (p[1] - y)).sum();
        let run: f64 = points.iter().map(|p| (p[0] - x).powi(2)).sum();
        println!("time grows as panels to the power {:.2}", rise / run);
    }
}

criterion_group!(benches, strength);

fn main() {
    benches();
    growth();
    Criterion::default().configure_from_args().final_summary();
}
