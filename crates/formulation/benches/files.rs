//! What files cost: reading and writing a formula of 60 lines, alone and with a
//! thousand earlier states.
//!
//! | bench | wanted |
//! |---|---|
//! | read 60 lines | under 10 ms |
//! | write 60 lines | under 10 ms |
//! | save 60 lines to disk | limited by the disk's sync |
#![expect(clippy::disallowed_methods, reason = "it clears away what it measured")]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::file::formula_file;
use formulation::file::store::Expect;
use formulation::formula::{EarlierState, Formula, ItemId, Line, Variant};
use formulation::quantity::Percent;
use formulation::shelf;

fn sixty_lines() -> Formula {
    let mut formula = Formula::new("Sixty");
    let mut variant = Variant::clone(formula.active());
    let shelf: Vec<_> = shelf::built_in().iter().collect();
    let phase = Arc::make_mut(&mut variant.phases[0]);
    for i in 0..60_usize {
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
    formula.variants = vec![Arc::new(variant)];
    formula.next_id = 2000;
    formula
}

/// A thousand slider drags, as they are kept.
fn with_history(mut formula: Formula) -> Formula {
    let mut variant = Variant::clone(formula.active());
    for i in 0..1000_i64 {
        formula.history.push(Arc::new(EarlierState {
            at: "2026-03-02T12:00:00Z".into(),
            what: "Set glycerin to 3 %".into(),
            variant: Arc::new(variant.clone()),
        }));
        let phase = Arc::make_mut(&mut variant.phases[0]);
        let line = &mut phase.lines[i as usize % 60];
        line.percent = Percent::from_units(1_000_000 + i * 100);
    }
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn benches(c: &mut Criterion) {
    let formula = sixty_lines();
    let long = with_history(formula.clone());
    for (name, formula) in [
        ("60 lines", &formula),
        ("60 lines, 1000 earlier states", &long),
    ] {
        let Ok(text) = formula_file::write(formula) else {
            continue;
        };
        c.bench_function(&format!("write {name} ({} KB)", text.len() / 1000), |b| {
            b.iter(|| formula_file::write(black_box(formula)));
        });
        c.bench_function(&format!("read {name}"), |b| {
            b.iter(|| formula_file::read(black_box(&text), "bench"));
        });
    }
    let path = std::env::temp_dir().join(format!("phasewright-bench-{}.ron", std::process::id()));
    c.bench_function("save 60 lines to disk", |b| {
        b.iter(|| formula_file::save(&path, black_box(&formula), Expect::Anything));
    });
    for file in [formulation::file::store::replaced_path(&path), path.clone()] {
        // Nothing can be done about a file of the bench that will not go.
        let _ = std::fs::remove_file(file);
    }
}

criterion_group! {
    name = all;
    config = Criterion::default();
    targets = benches
}
criterion_main!(all);
