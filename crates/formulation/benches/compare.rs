//! What a comparison costs: it runs on every change while both variants are edited.
//!
//! | bench | wanted |
//! |---|---|
//! | two variants of 60 lines | under 200 µs |
//! | the same, of two files | under 200 µs |
//! | carry everything across | under 1 ms |

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::compare::{CarryScope, Compared, carry, compare};
use formulation::formula::{Formula, ItemId, Line, Phase, Variant};
use formulation::material::PhaseKind;
use formulation::quantity::Percent;
use formulation::shelf;

/// A formula of 60 lines in six phases from the built-in shelf.
fn sixty_lines() -> Formula {
    let mut formula = Formula::new("Sixty");
    let mut variant = Variant::clone(formula.active());
    variant.phases.clear();
    let shelf: Vec<_> = shelf::built_in().iter().collect();
    for p in 0..6_usize {
        let mut phase = Phase {
            id: ItemId(1000 + p as u64),
            letter: ["A", "B", "C", "D", "E", "F"][p].into(),
            kind: PhaseKind::Other,
            purpose: "".into(),
            temperature: None,
            lines: Vec::new(),
            steps: Vec::new(),
        };
        for l in 0..10 {
            let i = p * 10 + l;
            let material = shelf[i * (shelf.len() / 60)];
            phase.lines.push(Line {
                id: ItemId(100 + i as u64),
                material: material.id.clone(),
                percent: Percent::from_units(1_600_000),
                why: "".into(),
                held: false,
                min: None,
                max: None,
                purpose: None,
            });
            formula
                .materials
                .insert(material.id.clone(), material.clone());
        }
        variant.phases.push(Arc::new(phase));
    }
    formula.variants = vec![Arc::new(variant)];
    formula.next_id = 2000;
    formula
}

/// The same with some of everything changed: percentages, order, phases, materials.
fn changed(formula: &Formula) -> Variant {
    let mut variant = Variant::clone(formula.active());
    for (p, phase) in variant.phases.iter_mut().enumerate() {
        let phase = Arc::make_mut(phase);
        phase.lines.swap(1, 7);
        for line in phase.lines.iter_mut().step_by(3) {
            line.percent = Percent::from_units(1_900_000);
        }
        if p == 2 {
            phase.lines.remove(4);
        }
    }
    let moved = Arc::make_mut(&mut variant.phases[0]).lines.remove(3);
    Arc::make_mut(&mut variant.phases[4]).lines.push(moved);
    let swapped = shelf::built_in().iter().nth(1);
    if let Some(material) = swapped {
        Arc::make_mut(&mut variant.phases[5]).lines[0].material = material.id.clone();
    }
    variant
}

fn benches(c: &mut Criterion) {
    let formula = sixty_lines();
    let b = changed(&formula);
    let (left, right) = (
        Compared::new(&formula, formula.active()),
        Compared::new(&formula, &b),
    );
    c.bench_function("two variants of 60 lines", |bench| {
        bench.iter(|| compare(black_box(left), black_box(right)));
    });
    let mut other = formula.clone();
    other.variants = vec![Arc::new(b.clone())];
    // Read from another file, so nothing is shared.
    for material in other.materials.values_mut() {
        *material = Arc::new(material.as_ref().clone());
    }
    let far = Compared::new(&other, other.active());
    c.bench_function("the same, of two files", |bench| {
        bench.iter(|| compare(black_box(left), black_box(far)));
    });
    let comparison = compare(left, right);
    c.bench_function("carry everything across", |bench| {
        bench.iter(|| carry(left, right, &comparison, CarryScope::Everything));
    });
}

criterion_group! {
    name = all;
    config = Criterion::default();
    targets = benches
}
criterion_main!(all);
