//! Loading every rule of law, and holding a formula of 60 lines against them.

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::formula::{
    BodySite, Date, Formula, ItemId, Line, Market, Phase, Product, ProductType,
};
use formulation::material::{Material, ProductKind};
use formulation::quantity::Percent;
use formulation::rules::RuleBook;
use formulation::rules::law;
use formulation::shelf;

/// Sixty materials of the shelf, the regulated ones first.
fn formula() -> Formula {
    let mut materials: Vec<Arc<Material>> = shelf::built_in().iter().cloned().collect();
    let book = RuleBook::shared();
    let regulated = |m: &Material| {
        m.constituents
            .iter()
            .filter(|c| {
                book.entries().iter().any(|e| {
                    e.members
                        .iter()
                        .any(|member| c.cas.is_some_and(|cas| member.cas.contains(&cas)))
                })
            })
            .count()
    };
    materials.sort_by_cached_key(|m| std::cmp::Reverse(regulated(m)));
    let mut formula = Formula::new("Bench");
    let mut variant = formula.active().as_ref().clone();
    let mut phase: Phase = variant.phases[0].as_ref().clone();
    for (i, material) in materials.into_iter().take(60).enumerate() {
        phase.lines.push(Line {
            id: ItemId(100 + i as u64),
            material: material.id.clone(),
            percent: Percent::from_units(100 * Percent::UNITS / 60),
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
        formula.materials.insert(material.id.clone(), material);
    }
    variant.phases = vec![Arc::new(phase)];
    variant.product = Product {
        kinds: ProductKind::LeaveOn.into(),
        places: vec![BodySite::Body],
        product_type: Some(ProductType::BodyLotion),
        markets: Market::ALL.to_vec(),
        ..Product::default()
    };
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn bench(c: &mut Criterion) {
    c.bench_function("load all rules", |b| b.iter(RuleBook::built_in));
    let book = RuleBook::shared();
    let formula = formula();
    let today = Date::constant(2026, 11, 25);
    c.bench_function("all rules on 60 lines", |b| {
        b.iter(|| law::check(black_box(&formula), formula.active(), None, today, &book));
    });
}

criterion_group!(benches, bench);
criterion_main!(benches);
