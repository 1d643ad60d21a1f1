//! Search of the shelf and of the public inventory.
//!
//! | bench | wanted |
//! |---|---|
//! | search among 10,000 materials | under 2 ms |
//! | search among 30,000 names | under 5 ms |

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::inventory::inventory;
use formulation::material::{Class, Material, MaterialId, Role};
use formulation::search::MaterialIndex;

const QUERIES: [&str; 6] = [
    "s",
    "sodium",
    "glycerin",
    "7732-18-5",
    "sodium lauret sulfate",
    "cocamidoprpoyl betiane",
];

/// Materials named after the inventory, as many as wanted.
fn materials(count: usize) -> Vec<Arc<Material>> {
    let entries = inventory().entries();
    (0..count)
        .map(|n| {
            let entry = &entries[n * 7 % entries.len()];
            let name = format!("{} {}", entry.label_name(), n / entries.len());
            let mut material = Material::pure(
                MaterialId::from_name(&format!("{name}-{n}")),
                name,
                entry.label_name(),
                entry.cas,
                Class::Other,
            );
            material.roles = entry.roles();
            material.roles.push(Role::Solvent);
            material.supplier = Some("Fell Supplies".into());
            Arc::new(material)
        })
        .collect()
}

fn search(c: &mut Criterion) {
    for count in [10_000, 30_000] {
        let shelf = materials(count);
        let index = MaterialIndex::new(&shelf);
        let mut group = c.benchmark_group(format!("search {count} materials"));
        for query in QUERIES {
            group.bench_function(query, |b| b.iter(|| index.search(black_box(query), 200)));
        }
        group.bench_function("sodium, all results", |b| {
            b.iter(|| index.search(black_box("sodium"), usize::MAX));
        });
        group.bench_function("nearest name", |b| {
            b.iter(|| index.nearest_names(black_box("Glycerl stearat"), 5));
        });
        group.finish();
        c.bench_function(&format!("index {count} materials"), |b| {
            b.iter(|| MaterialIndex::new(black_box(&shelf)));
        });
    }
    inventory().search("x", 1);
    c.bench_function("search the inventory", |b| {
        b.iter(|| inventory().search(black_box("cocamidoprpoyl betiane"), 50));
    });
}

criterion_group!(benches, search);
criterion_main!(benches);
