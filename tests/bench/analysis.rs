//! Time of a frame analysis: the tilted axle frame under 60 combinations, and its growth with the size of a frame.
//!
//! `cargo bench --bench analysis` measures. Two further ways are called by `frame_side_by_side.py`: `-- questions FOLDER`
//! writes every tilt of the built-in design with all its combinations, one JSON file for each geometry;
//! `-- side-by-side IN OUT` solves the model and combinations of such a file, writes the results and the times.

use std::hint::black_box;
use std::sync::Arc;
use std::time::Instant;

use criterion::{BenchmarkId, Criterion, Throughput};
use serde::{Deserialize, Serialize};
use tiltwright::{
    analysis::{
        self, Factored, LoadCase, MassKind, Member, Model, NodeId, Options, Results, SecondOrder, Section, Structure,
        Support, Way,
    },
    checks::model::run_tilts,
    design::{self, Tilts},
    frame,
    quantities::Tape,
};

const AXLE: &str = include_str!("../library/data/frames/tilted_axle_frame.json");

fn axle() -> (Model, Vec<LoadCase>) {
    Model::from_reference_json(AXLE).expect("the data file follows the exchange format")
}

/// Sixty sums of the cases with factors between −1 and 2, always the same.
fn sixty(cases: &[LoadCase]) -> Vec<Factored> {
    let factor = |k: usize, c: usize| ((k * 7 + c * 13) % 31) as f64 / 10.0 - 1.0;
    (0..60)
        .map(|k| {
            let start = Factored::new(format!("sum {k}"));
            (0..cases.len()).fold(start, |sum, c| sum.with(c, factor(k, c)))
        })
        .collect()
}

/// A row of `bays` upright ladders side by side, tied by rails: 8 members and 5 nodes more per bay.
fn row(bays: usize) -> (Model, Vec<LoadCase>) {
    let mut model = Model::new("row");
    let tube = model.section(Section::new("tube", 200e3, 77e3, 690.0, 5.41e5, 2.88e5, 6.12e5).mass(5.4));
    let at = |bay: usize, k: usize| {
        let s = 500.0 * k as f64;
        [1500.0 * bay as f64, s * 0.819, 300.0 + s * 0.574]
    };
    let mut last: Vec<NodeId> = Vec::new();
    let (mut dead, mut wind) = (LoadCase::new("dead"), LoadCase::new("wind"));
    for bay in 0..=bays {
        let stile: Vec<NodeId> = (0..5).map(|k| model.node(format!("n{bay}.{k}"), at(bay, k))).collect();
        for k in 0..4 {
            let id = model.member(Member::new(format!("stile{bay}.{k}"), stile[k], stile[k + 1], tube));
            dead.push(id, analysis::MemberLoad::uniform([0.0, 0.0, -0.05]));
        }
        for k in [0, 2, 4] {
            if let Some(&from) = last.get(k) {
                let id = model.member(Member::new(format!("rail{bay}.{k}"), from, stile[k], tube).roll(35.0));
                dead.push(id, analysis::MemberLoad::uniform([0.0, 0.0, -0.2]));
                wind.push(id, analysis::MemberLoad::uniform([0.0, 0.5, -0.7]));
            }
        }
        model.support(stile[0], Support::pinned());
        model.support(stile[3], Support::holding([false, true, true, false, false, false]));
        last = stile;
    }
    (model, vec![dead, wind])
}

/// The axle frame with corner braces that only pull: every combination is looked at, most are iterated.
fn one_way() -> Model {
    let (mut model, _) = axle();
    for name in ["br_TL_out", "br_TR_out", "br_BL_out", "br_BR_out"] {
        let brace = model.find_member(name).expect("the brace is in the model");
        let own = &mut model.members_mut()[brace.0];
        *own = own.clone().way(Way::TensionOnly);
    }
    model
}

fn measure(c: &mut Criterion) {
    let (model, cases) = axle();
    let sums = sixty(&cases);
    let first = Options::first_order();
    let mut group = c.benchmark_group("axle frame, 60 combinations");
    group.bench_function("build and solve, first order", |b| {
        b.iter(|| analysis::run(black_box(model.clone()), &cases, &sums, &first).expect("sound"));
    });
    group.bench_function("build and solve, second order where it matters", |b| {
        b.iter(|| analysis::run(black_box(model.clone()), &cases, &sums, &Options::default()).expect("sound"));
    });
    let always = Options { second_order: SecondOrder::Always, ..Options::default() };
    group.bench_function("build and solve, second order always", |b| {
        b.iter(|| analysis::run(black_box(model.clone()), &cases, &sums, &always).expect("sound"));
    });
    let structure = Arc::new(Structure::build(model.clone()).expect("sound"));
    group.bench_function("solve again, first order", |b| {
        b.iter(|| black_box(&structure).run(&cases, &sums, &first).expect("sound"));
    });
    let results = structure.run(&cases, &sums, &first).expect("sound");
    group.bench_function("envelope", |b| b.iter(|| black_box(&results).envelope(0..results.len())));
    let one_way = one_way();
    group.bench_function("one-way braces", |b| {
        b.iter(|| analysis::run(black_box(one_way.clone()), &cases, &sums, &first).expect("sound"));
    });
    group.finish();

    let mut group = c.benchmark_group("row of bays");
    group.sample_size(20);
    for bays in [2, 4, 8, 16, 32, 64, 128] {
        let (model, cases) = row(bays);
        let sums: Vec<Factored> =
            (0..60).map(|k| Factored::new(format!("{k}")).with(0, 1.0).with(1, f64::from(k) / 30.0 - 1.0)).collect();
        group.throughput(Throughput::Elements(model.members().len() as u64));
        group.bench_with_input(BenchmarkId::new("build and solve", bays), &model, |b, model| {
            b.iter(|| analysis::run(model.clone(), &cases, &sums, &Options::default()).expect("sound"));
        });
        let structure = Structure::build(model).expect("sound");
        group.bench_with_input(BenchmarkId::new("two frequencies", bays), &structure, |b, structure| {
            b.iter(|| structure.natural_frequencies(2, MassKind::Consistent).expect("it has mass"));
        });
    }
    group.finish();
}

#[derive(Serialize, Deserialize)]
struct Question {
    model: serde_json::Value,
    combinations: Vec<(String, Vec<(String, f64)>)>,
}

impl Question {
    /// Model and cases of an analysis, and the factors of its combinations.
    fn of(results: &Results) -> Result<Self, serde_json::Error> {
        let model = results.to_reference_json_of("built-in design", 0..results.cases());
        let named = |&(case, factor): &(usize, f64)| (results.response(case).name().to_owned(), factor);
        let combinations =
            results.combinations().map(|c| (c.name().to_owned(), c.parts().iter().map(named).collect())).collect();
        Ok(Self { model: serde_json::from_str(&model)?, combinations })
    }
}

/// Writes the built-in design at every tilt, all stays pinned and one loose, and prints the files.
fn questions(folder: &str) -> Result<(), Box<dyn std::error::Error>> {
    let design = design::read(None).map_err(|e| format!("{e:?}"))?.design;
    let Tilts::Given(tilts) = &design.tilts else { return Err("the built-in design gives no tilts".into()) };
    let frame = frame::lay_out(&design, tilts, Tape::of(design.units)).map_err(|e| format!("{e:?}"))?;
    let basis = design.strength_basis().map_err(|e| format!("{e:?}"))?.ok_or("the built-in design gives no loads")?;
    for run in run_tilts(&design, &frame, &basis)? {
        for (stays, results) in [("pinned", Some(&run.results)), ("loose", run.loose.as_ref())] {
            let Some(results) = results else { continue };
            let file = format!("{folder}/{:.0}-deg-{stays}.json", run.skeleton.tilt_deg);
            std::fs::write(&file, serde_json::to_string(&Question::of(results)?)?)?;
            println!("{file}");
        }
    }
    Ok(())
}

/// Solves the question, writes the solved model and prints the best times [µs]: build and solve, solve again.
fn side_by_side(from: &str, to: &str) -> Result<(), Box<dyn std::error::Error>> {
    let question: Question = serde_json::from_str(&std::fs::read_to_string(from)?)?;
    let (model, cases) = Model::from_reference_json(&question.model.to_string())?;
    let number = |name: &str| cases.iter().position(|case| case.name == name).ok_or_else(|| format!("no case {name}"));
    let sum = |(name, parts): (String, Vec<(String, f64)>)| {
        let parts = parts.iter().map(|(case, factor)| Ok((number(case)?, *factor))).collect::<Result<_, String>>()?;
        Ok(Factored { name, parts })
    };
    let sums: Vec<Factored> = question.combinations.into_iter().map(sum).collect::<Result<_, String>>()?;
    let options = Options::first_order();
    let structure = Arc::new(Structure::build(model.clone())?);
    std::fs::write(to, structure.run(&cases, &sums, &options)?.to_reference_json("side by side"))?;
    let best = |work: &dyn Fn()| {
        (0..300).fold(f64::INFINITY, |best: f64, _| {
            let start = Instant::now();
            work();
            best.min(start.elapsed().as_secs_f64() * 1e6)
        })
    };
    let whole = best(&|| {
        black_box(analysis::run(model.clone(), &cases, &sums, &options).expect("solved before"));
    });
    let again = best(&|| {
        black_box(structure.run(&cases, &sums, &options).expect("solved before"));
    });
    println!("{{\"build_and_solve_us\": {whole:.1}, \"solve_us\": {again:.1}}}");
    Ok(())
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().collect();
    if let Some(k) = arguments.iter().position(|a| a == "questions") {
        return questions(arguments.get(k + 1).ok_or("name a folder")?);
    }
    if let Some(k) = arguments.iter().position(|a| a == "side-by-side") {
        let [from, to] = [1, 2].map(|n| arguments.get(k + n).map(String::as_str).unwrap_or_default());
        return side_by_side(from, to);
    }
    let mut criterion = Criterion::default().configure_from_args();
    measure(&mut criterion);
    criterion.final_summary();
    Ok(())
}
