//! Gathering loads: what a search pays per tilt, what recording adds, and the combinations of one tilt.

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use tiltwright::catalogue::{Record, Silent};
use tiltwright::design::{
    Around, AsceWind, Below, Edition, Exposure, Form, LoadBasis, RiskCategory, ServiceSnow, SnowBasis, SnowSite,
    WindBasis,
};
use tiltwright::loads::handling::situations;
use tiltwright::loads::{Method, Stand, Surface, gather, rules};
use tiltwright::quantities::{MPS_PER_MPH, mm, mps, pa, psf};

fn basis() -> LoadBasis {
    let (exposure, risk) = (Exposure::C, RiskCategory::II);
    let site = SnowSite { exposure, around: Around::PartiallyExposed, slides_off: false };
    LoadBasis {
        wind: WindBasis::Asce(AsceWind {
            edition: Edition::Asce716,
            gust: mps(115.0 * MPS_PER_MPH),
            exposure,
            risk,
            elevation: mm(90_000.0),
            k_zt: 1.0,
            form: Form::Us,
        }),
        snow: SnowBasis::Service(ServiceSnow { ground: psf(25.0), risk, site }),
        panel_design_load: [pa(3600.0), pa(1600.0)],
        below: Below::Undeclared,
    }
}

fn surface(tilt: f64) -> Surface {
    Surface::new(tilt, 1722.0, 2268.0, 600.0).unwrap_or_else(|e| panic!("{e}"))
}

fn gathering(c: &mut Criterion) {
    let basis = basis();
    let mut group = c.benchmark_group("gather one tilt");
    for tilt in [15.0, 35.0, 60.0] {
        let surface = surface(tilt);
        group.bench_with_input(BenchmarkId::new("silent", tilt), &surface, |b, s| {
            b.iter(|| gather(black_box(&basis), s, &Stand::Ground, 45.0, &mut Silent));
        });
        group.bench_with_input(BenchmarkId::new("recorded", tilt), &surface, |b, s| {
            b.iter(|| gather(black_box(&basis), s, &Stand::Ground, 45.0, &mut Record::default()));
        });
    }
    group.finish();
}

fn combining(c: &mut Criterion) {
    let loads = gather(&basis(), &surface(60.0), &Stand::Ground, 45.0, &mut Silent);
    let asd = rules(Edition::Asce716, Method::Asd);
    c.bench_function("combinations of every situation", |b| {
        b.iter(|| {
            situations().iter().map(|s| s.combinations(asd, black_box(&loads.cases), loads.q_pa).len()).sum::<usize>()
        });
    });
}

criterion_group!(benches, gathering, combining);
criterion_main!(benches);
