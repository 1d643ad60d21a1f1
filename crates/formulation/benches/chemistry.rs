//! What the estimates cost per edit: one pH, and all of them for a long formula.
//!
//! | bench | wanted |
//! |---|---|
//! | pH of a typical mixture | under 10 µs |
//! | whole evaluation, 60 lines, without the rules of law | under 100 µs |

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::chemistry::acids::Family;
use formulation::chemistry::ions::StrongIon;
use formulation::chemistry::ph::{Solution, solve};
use formulation::chemistry::{self, substances};
use formulation::composition::Composition;
use formulation::evaluation::{Context, evaluate};
use formulation::formula::{Formula, ItemId, Line};
use formulation::mixture::Mixture;
use formulation::quantity::Percent;
use formulation::shelf;

/// Benzoate 0.5 %, sorbate 0.3 %, citric acid 0.2 %, disodium EDTA 0.1 %, sodium hydroxide
/// 0.05 %, sodium chloride 1 %: mol per kg of water.
fn typical() -> Solution {
    let mut solution = Solution::new();
    solution.add(Family::Benzoic, 0.0354);
    solution.add(Family::Sorbic, 0.0204);
    solution.add(Family::Citric, 0.0106);
    solution.add(Family::Edta, 0.003);
    solution.add_ion(StrongIon::Sodium, 0.0354 + 0.006 + 0.0128 + 0.1747);
    solution.add_ion(StrongIon::Potassium, 0.0204);
    solution.add_ion(StrongIon::Chloride, 0.1747);
    solution
}

/// A formula of 60 lines from the built-in shelf.
fn sixty_lines() -> Formula {
    let mut formula = Formula::new("Sixty");
    let mut variant = formula.active().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    let shelf: Vec<_> = shelf::built_in().iter().collect();
    for (i, material) in shelf.iter().step_by(shelf.len() / 60).take(60).enumerate() {
        phase.lines.push(Line {
            id: ItemId(100 + i as u64),
            material: material.id.clone(),
            percent: Percent::from_units(if i == 0 { 41_000_000 } else { 1_000_000 }),
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
        formula
            .materials
            .insert(material.id.clone(), (*material).clone());
    }
    variant.phases = vec![phase.into()];
    formula.variants = vec![variant.into()];
    formula
}

fn benches(c: &mut Criterion) {
    let solution = typical();
    c.bench_function("pH of a typical mixture", |b| {
        b.iter(|| solve(black_box(&solution)).ph);
    });
    c.bench_function("find a substance by name", |b| {
        b.iter(|| substances::by_name(black_box("Sodium Benzoate")));
    });
    let formula = sixty_lines();
    let mixture = Mixture::of(&formula, formula.active());
    let composition = Composition::of(&mixture);
    c.bench_function("all estimates, 60 lines", |b| {
        b.iter(|| chemistry::estimate_mixture(formula.active(), &mixture, black_box(&composition)));
    });
    let context = Context::new(jiff::civil::date(2026, 11, 25));
    c.bench_function("whole evaluation, 60 lines", |b| {
        b.iter(|| evaluate(&formula, formula.active(), black_box(&context)));
    });
}

criterion_group!(chemistry_group, benches);
criterion_main!(chemistry_group);
