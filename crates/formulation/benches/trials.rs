//! What the sheet Trials computes: fits, narrowing, learnt responses, designs, opening a file.
#![expect(clippy::unwrap_used, reason = "a bench stops at the first failure")]

use std::collections::BTreeMap;
use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::file::trial_store;
use formulation::formula::Formula;
use formulation::mass::ExactMass;
use formulation::material::MaterialId;
use formulation::trial::book::{TrialEntry, TrialEvent, TrialOpening};
use formulation::trial::design::optimal::d_optimal;
use formulation::trial::design::region::Region;
use formulation::trial::fit::drift::{Batches, Drift, TrendLimit};
use formulation::trial::fit::flow::{FlowCurve, FlowModel};
use formulation::trial::fit::process::Process;
use formulation::trial::fit::recovery::Recovery;
use formulation::trial::fit::salt::SaltCurve;
use formulation::trial::fit::scheffe::{Order, ScheffeFit};
use formulation::trial::fit::temperature::{Arrhenius, VogelFulcherTammann};
use formulation::trial::learn::{Experience, Learnt, NotCounted};
use formulation::trial::narrow::{SumBound, narrow};
use formulation::trial::reading::{Quantity, Reading};

/// A number between 0 and 1 that looks random: the fraction of a multiple of the golden ratio.
fn spread(i: usize) -> f64 {
    (i as f64 * 0.618_033_988_749_895).fract()
}

fn fits(c: &mut Criterion) {
    let x: Vec<f64> = (1..=12).map(f64::from).collect();
    let noise = |i: usize| 1.0 + 0.02 * (spread(i) - 0.5);
    let salt: Vec<f64> = (0..12)
        .map(|i| (9.0 - 0.1 * (x[i] - 6.0).powi(2)).exp() * noise(i))
        .collect();
    c.bench_function("fit a salt curve", |b| {
        b.iter(|| SaltCurve::fit(black_box(&x), &salt));
    });
    let rates: Vec<f64> = (0..12)
        .map(|i| 10.0_f64.powf(f64::from(i) / 3.0 - 2.0))
        .collect();
    for (model, name) in [
        (FlowModel::PowerLaw, "power law"),
        (FlowModel::HerschelBulkley, "Herschel-Bulkley"),
        (FlowModel::Cross, "Cross"),
        (FlowModel::Carreau, "Carreau"),
    ] {
        let viscosity: Vec<f64> = rates
            .iter()
            .enumerate()
            .map(|(i, g)| (0.02 + 8.0 / (1.0 + (0.6 * g).powf(0.7)) + 0.3 / g) * noise(i))
            .collect();
        c.bench_function(&format!("fit {name}"), |b| {
            b.iter(|| FlowCurve::determined(model, black_box(&rates), &viscosity));
        });
    }
    let celsius: Vec<f64> = (0..12).map(|i| 5.0 * f64::from(i)).collect();
    let thick: Vec<f64> = celsius
        .iter()
        .enumerate()
        .map(|(i, t)| (-3.0 + 900.0 / (t + 273.15 - 180.0)).exp() * noise(i))
        .collect();
    c.bench_function("fit Arrhenius", |b| {
        b.iter(|| Arrhenius::fit(black_box(&celsius), &thick));
    });
    let weeks = [0.0, 4.0, 8.0, 13.0, 26.0, 39.0, 52.0];
    let drifting: Vec<f64> = weeks
        .iter()
        .enumerate()
        .map(|(i, t)| (5000.0 - 8.0 * t) * noise(i))
        .collect();
    c.bench_function("fit a drift and when it meets a limit", |b| {
        b.iter(|| {
            let drift = Drift::fit(black_box(&weeks), &drifting).unwrap();
            drift.time_to_limit(TrendLimit::Lower(3500.0))
        });
    });
    let batches: Vec<String> = (0..21).map(|i| format!("batch {}", i % 3)).collect();
    let times: Vec<f64> = (0..21).map(|i| weeks[i / 3]).collect();
    let values: Vec<f64> = times
        .iter()
        .enumerate()
        .map(|(i, t)| (5000.0 - 8.0 * t) * noise(i))
        .collect();
    c.bench_function("fit the drift of three batches, poolability tested", |b| {
        b.iter(|| Batches::fit(black_box(&batches), &times, &values));
    });
    c.bench_function("fit Vogel, Fulcher and Tammann", |b| {
        b.iter(|| VogelFulcherTammann::fit(black_box(&celsius), &thick));
    });
    let back: Vec<f64> = x
        .iter()
        .enumerate()
        .map(|(i, t)| (8.5 - 1.6 * (-t / 4.0).exp()).exp() * noise(i))
        .collect();
    c.bench_function("fit a recovery", |b| {
        b.iter(|| Recovery::fit(black_box(&x), &back));
    });
}

fn learning(c: &mut Criterion) {
    let unknowns = vec![[-1.0, 1.0]; 40];
    let constraints: Vec<SumBound> = (0..200)
        .map(|k| {
            let terms: Vec<(usize, f64)> = (0..6)
                .map(|j| ((7 * k + 11 * j) % 40, spread(6 * k + j)))
                .collect();
            let sum: f64 = terms.iter().map(|(i, w)| w * (spread(*i) - 0.5)).sum();
            SumBound {
                name: format!("trial {k}"),
                terms,
                sum: [sum - 0.05, sum + 0.05],
            }
        })
        .collect();
    c.bench_function("narrow 40 unknowns over 200 trials", |b| {
        b.iter(|| narrow(black_box(&unknowns), &constraints));
    });
    let x: Vec<Vec<f64>> = (0..60)
        .map(|i| (0..6).map(|j| 0.1 * spread(6 * i + j)).collect())
        .collect();
    let y: Vec<f64> = x
        .iter()
        .enumerate()
        .map(|(i, x)| 8.0 + 9.0 * x[0] - 40.0 * x[1] * x[1] + 3.0 * x[2] + 0.05 * spread(i))
        .collect();
    let mut slow = c.benchmark_group("learnt");
    slow.sample_size(10);
    slow.bench_function("fit a Gaussian process, 60 trials of 6 lines", |b| {
        b.iter(|| Process::fitted(black_box(&x), &y));
    });
    slow.finish();
    let process = Process::fitted(&x, &y).unwrap();
    let at = vec![0.05; 6];
    c.bench_function("predict by a Gaussian process", |b| {
        b.iter(|| process.at(black_box(&at)));
    });
    let experience = Experience {
        quantity: Quantity::Viscosity,
        way: None,
        apart: NotCounted::default(),
        varying: (0..6)
            .map(|i| MaterialId::from_name(&format!("line {i}")))
            .collect(),
        x: x.clone(),
        y: y.clone(),
        kept: BTreeMap::new(),
    };
    let mut whole = c.benchmark_group("response");
    whole.sample_size(10);
    whole.bench_function("learn a response, all descriptions compared", |b| {
        b.iter(|| Learnt::from(black_box(experience.clone())));
    });
    whole.finish();
    let learnt = Learnt::from(experience).unwrap();
    c.bench_function("predict by a learnt response, hull looked at", |b| {
        b.iter(|| learnt.at(black_box(&at)));
    });
    let beyond = vec![0.2; 6];
    c.bench_function(
        "predict by a learnt response outside of what was tried",
        |b| {
            b.iter(|| learnt.at(black_box(&beyond)));
        },
    );
    let mixtures: Vec<Vec<f64>> = x
        .iter()
        .map(|x| {
            let mut all = x.clone();
            all.push(1.0 - x.iter().sum::<f64>());
            all
        })
        .collect();
    c.bench_function("fit a Scheffé polynomial, 60 trials of 6 lines", |b| {
        b.iter(|| ScheffeFit::fit(black_box(&mixtures), &y, Order::Quadratic));
    });
}

fn designs(c: &mut Criterion) {
    let region = Region {
        lower: vec![0.02, 0.02, 0.01, 0.01, 0.01, 0.6],
        upper: vec![0.1, 0.08, 0.05, 0.04, 0.06, 0.9],
        linear: Vec::new(),
    };
    let candidates = region.shape().unwrap().candidates(true, true);
    let mut slow = c.benchmark_group("designs");
    slow.sample_size(10);
    slow.bench_function("D-optimal, 6 lines, 20 trials", |b| {
        b.iter(|| {
            let order = Order::Linear;
            d_optimal(black_box(&candidates), order, 20, 30, 1)
        });
    });
    let quadratic = 24;
    slow.bench_function("D-optimal quadratic, 6 lines, 24 trials", |b| {
        b.iter(|| d_optimal(black_box(&candidates), Order::Quadratic, quadratic, 30, 1));
    });
    slow.finish();
}

fn opening(c: &mut Criterion) {
    let text = include_str!("../../../examples/oat-and-juniper-shower-gel.formula.ron");
    let formula: Arc<Formula> =
        Arc::new(formulation::file::formula_file::read(text, "gel").unwrap());
    let mass = ExactMass::from_femtograms(100_000_000_000_000_000);
    let entry = |event| TrialEntry {
        at: "2026-05-01T10:00:00Z".to_owned(),
        by: "Wren".to_owned(),
        event,
    };
    let mut entries = Vec::new();
    for trial in 1..=500 {
        let day = "2026-05-01".parse().unwrap();
        let opening = TrialOpening::of(&formula, "One of many", day, mass);
        entries.push(entry(TrialEvent::Begin(Box::new(opening))));
        for quantity in [Quantity::Ph, Quantity::Viscosity] {
            entries.push(entry(TrialEvent::Read {
                trial,
                step: 0,
                reading: Reading::of(quantity, vec![5.0]),
            }));
        }
    }
    let text = trial_store::text(&entries).unwrap();
    let mut slow = c.benchmark_group("opening");
    slow.sample_size(10);
    slow.bench_function("read a file of 500 trials", |b| {
        b.iter(|| trial_store::read_text(black_box(&text)));
    });
    slow.finish();
}

criterion_group!(benches, fits, learning, designs, opening);
criterion_main!(benches);
