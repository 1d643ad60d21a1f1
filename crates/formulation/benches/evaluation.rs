//! Evaluation of 12, 60 and 500 lines, as on every move of a slider: raw materials
//! expanded alone, with the rules of practice, with all estimates, and everything with law.

use std::hint::black_box;
use std::sync::Arc;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use formulation::chemistry;
use formulation::composition::{Composition, compose};
use formulation::evaluation::{Context, evaluate};
use formulation::formula::{Date, Formula, ItemId, Line, Variant};
use formulation::mixture::Mixture;
use formulation::quantity::Percent;
use formulation::rules::practice;
use formulation::shelf;

/// A formula of `count` lines over four phases, from built-in materials in turn.
fn formula(count: usize) -> Formula {
    let mut formula = Formula::new("Bench");
    let mut variant: Variant = formula.active().as_ref().clone();
    let template = variant.phases[0].as_ref().clone();
    let mut phases = vec![template; 4];
    for (i, phase) in phases.iter_mut().enumerate() {
        phase.id = ItemId(100 + i as u64);
    }
    let materials: Vec<_> = shelf::built_in().iter().collect();
    let each = Percent::from_units(Percent::HUNDRED.units() / count as i64);
    for i in 0..count {
        let material = materials[i * 7 % materials.len()];
        formula
            .materials
            .insert(material.id.clone(), material.clone());
        phases[i * 4 / count].lines.push(Line {
            id: ItemId(1000 + i as u64),
            material: material.id.clone(),
            percent: each,
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
    }
    variant.phases = phases.into_iter().map(Arc::new).collect();
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn bench(c: &mut Criterion) {
    let context = Context::new(Date::constant(2026, 11, 25));
    let mut group = c.benchmark_group("compose");
    for count in [12, 60, 500] {
        let formula = formula(count);
        group.bench_with_input(BenchmarkId::from_parameter(count), &formula, |b, f| {
            b.iter(|| compose(black_box(f), f.active()));
        });
    }
    group.finish();
    let mut group = c.benchmark_group("with all estimates");
    for count in [12, 60, 500] {
        let formula = formula(count);
        group.bench_with_input(BenchmarkId::from_parameter(count), &formula, |b, f| {
            b.iter(|| {
                let of = f.active();
                let mixture = Mixture::of(black_box(f), of);
                let composition = Composition::of(&mixture);
                let (mut findings, mut limits) = (Vec::new(), Vec::new());
                let estimates = chemistry::estimate_mixture(of, &mixture, &composition);
                let subject = practice::PracticeSubject {
                    variant: of,
                    mixture: &mixture,
                    composition: &composition,
                    estimates: &estimates,
                };
                practice::check(subject, &mut findings, &mut limits);
                chemistry::findings(&estimates, of, &mut findings);
                (composition, findings, limits, estimates)
            });
        });
    }
    group.finish();
    let mut group = c.benchmark_group("evaluate");
    for count in [12, 60, 500] {
        let formula = formula(count);
        group.bench_with_input(BenchmarkId::from_parameter(count), &formula, |b, f| {
            b.iter(|| evaluate(black_box(f), f.active(), &context));
        });
    }
    group.finish();
}

criterion_group!(benches, bench);
criterion_main!(benches);
