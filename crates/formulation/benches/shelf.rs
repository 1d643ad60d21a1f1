//! Search of the shelf and of the public inventory, import of tables.
//!
//! | bench | wanted |
//! |---|---|
//! | search among 10,000 materials | under 2 ms |
//! | search among 30,000 names | under 5 ms |
//! | import of a recipe of 2,000 rows from XLSX, matched with the built-in shelf | under 0.5 s |
//! | import of a price list of 2,000 rows from CSV | under 0.5 s |
//! | import of a price list of 50,000 rows from CSV, with its questions and taken in | under 5 s |

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::file::table::price_list;
use formulation::file::table::questions::questions;
use formulation::file::table::read_bytes;
use formulation::file::table::recipe::{self, RecipeSettings};
use formulation::inventory::inventory;
use formulation::material::{Class, Material, MaterialId, Role};
use formulation::naming::Resolver;
use formulation::search::MaterialIndex;
use formulation::shelf::{Shelf, built_in};

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

/// A workbook of 2,000 rows: names of the shelf as they are, misspelt and unknown.
fn recipe(shelf: &Shelf) -> Vec<u8> {
    let mut book = rust_xlsxwriter::Workbook::new();
    let sheet = book.add_worksheet();
    let names: Vec<&str> = shelf.iter().map(|m| m.name.as_ref()).collect();
    let mut write = |row: u32, column: u16, text: String| {
        let _ = sheet.write(row, column, text);
    };
    for (column, title) in (0..).zip(["Phase", "Ingredient", "g"]) {
        write(0, column, title.to_owned());
    }
    for row in 1..=2000 {
        let name = names[row as usize % names.len()];
        let name = match row % 3 {
            0 => name.to_owned(),
            1 => name
                .chars()
                .rev()
                .skip(1)
                .collect::<Vec<_>>()
                .into_iter()
                .rev()
                .collect(),
            _ => format!("Unheard of {row}"),
        };
        write(row, 0, "A".to_owned());
        write(row, 1, name);
        write(row, 2, format!("{},5", row % 90 + 1));
    }
    book.save_to_buffer().unwrap_or_default()
}

fn import(c: &mut Criterion) {
    let shelf = built_in();
    let bytes = recipe(shelf);
    let mut group = c.benchmark_group("import of 2,000 rows");
    group.sample_size(10);
    group.bench_function("recipe from XLSX", |b| {
        b.iter(|| {
            let tables = read_bytes(&bytes).unwrap_or_default();
            let matcher = Resolver::new(shelf);
            let proposal = recipe::propose(&tables[0], "x", &RecipeSettings::default(), &matcher);
            proposal.map(|p| p.accept(&matcher).map(|a| a.formula.active().total()))
        });
    });
    let list: String = std::iter::once("Material;Pack;Price\n".to_owned())
        .chain((0..2000).map(|n| format!("Glycerine {n};1 kg;{},50\n", n % 90)))
        .collect();
    group.bench_function("price list from CSV", |b| {
        b.iter(|| {
            let tables = read_bytes(list.as_bytes()).unwrap_or_default();
            let matcher = Resolver::new(shelf);
            price_list::propose(&tables[0], &RecipeSettings::default(), &matcher)
                .map(|l| l.prices.len())
        });
    });
    group.finish();
    let mut group = c.benchmark_group("import of 50,000 rows");
    group.sample_size(10);
    let list = long_list(shelf, 50_000);
    group.bench_function("price list from CSV, taken in", |b| {
        b.iter(|| {
            let tables = read_bytes(list.as_bytes()).unwrap_or_default();
            let matcher = Resolver::new(shelf);
            price_list::propose(&tables[0], &RecipeSettings::default(), &matcher).map(|list| {
                let asked = questions(&list.prices).len();
                let today = jiff::civil::date(2026, 11, 28);
                (asked, list.accept(&matcher, "", today).offers.len())
            })
        });
    });
    group.finish();
}

/// A supplier's whole catalogue: names of the shelf in some quality, misspelt ones, and many
/// that nobody has heard of, each row another.
fn long_list(shelf: &Shelf, rows: usize) -> String {
    let names: Vec<&str> = shelf.iter().map(|m| m.name.as_ref()).collect();
    let line = |n: usize| {
        let name = names[n % names.len()];
        let name = match n % 4 {
            0 => name.to_owned(),
            1 => format!("{name}, batch quality {n}"),
            2 => name.chars().skip(1).collect(),
            _ => format!("Unheard of extract {n} of {name}"),
        };
        format!(
            "{n};\"{name}\";{} kg;{},50 €;Tarn & Co\n",
            n % 25 + 1,
            n % 90 + 1
        )
    };
    std::iter::once("Art.-Nr.;Material;Pack;Price;Supplier\n".to_owned())
        .chain((0..rows).map(line))
        .collect()
}

criterion_group!(benches, search, import);
criterion_main!(benches);
