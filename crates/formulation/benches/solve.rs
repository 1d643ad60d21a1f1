//! What the solver costs where a person waits for it: an aim while a slider moves, the
//! ranges of a list, a sweep; and the programmes of the reference set, to be laid beside
//! another solver by `tests/reference/compare_solvers.py`.
#![expect(
    clippy::expect_used,
    reason = "a benchmark that cannot set up shall stop"
)]

use std::hint::black_box;
use std::sync::Arc;

use criterion::{Criterion, criterion_group, criterion_main};
use formulation::edit::GiveWay;
use formulation::evaluation::Context;
use formulation::formula::{Date, Formula, ItemId, Line, Phase};
use formulation::material::PhaseKind;
use formulation::optimise::linear;
use formulation::optimise::programme::{LinearDemand, Programme};
use formulation::progress::Progress;
use formulation::quantity::Percent;
use formulation::shelf::built_in;
use formulation::solve::aim::{Aim, Answer, Prepared};
use formulation::solve::deduce::{Facts, centre, ranges};
use formulation::solve::subject::Supply;
use formulation::solve::sweep::{Axis, Sweep};
use formulation::solve::target::Target;

/// The programmes of the acceptance tests.
const PROGRAMMES: &str = include_str!("../../../tests/reference/programmes.json");

/// Thirty lines of the built-in shelf: water, surfactants, humectants, oils and more.
fn thirty_lines() -> Formula {
    let mut formula = Formula::new("Thirty lines");
    let mut variant = formula.active().as_ref().clone();
    let wanted = [
        "Sodium Laureth Sulfate",
        "Cocamidopropyl Betaine",
        "Decyl Glucoside",
        "Coco-Glucoside",
        "Glycerin",
        "Propanediol",
        "Sodium Chloride",
        "Xanthan Gum",
        "Panthenol",
        "Citric Acid",
        "Sodium Benzoate",
        "Potassium Sorbate",
        "Disodium EDTA",
    ];
    let is_water = |m: &Arc<formulation::material::Material>| {
        m.constituents.len() == 1 && m.constituents[0].inci.spelling() == "Aqua"
    };
    let water = built_in().iter().find(|m| is_water(m)).expect("water");
    let mut materials = vec![water.clone()];
    for inci in wanted {
        let found = built_in().iter().find(|m| {
            m.inci_names().any(|n| n.is(inci)) && !materials.iter().any(|t| t.id == m.id)
        });
        materials.extend(found.cloned());
    }
    for material in built_in().iter() {
        if materials.len() == 30 {
            break;
        }
        if !materials.iter().any(|m| m.id == material.id) {
            materials.push(material.clone());
        }
    }
    let mut lines = Vec::new();
    for (k, material) in materials.iter().enumerate() {
        let id = ItemId(formula.take_id());
        // 20 % of surfactants, 0.5 to 1.4 % of everything else, water the rest.
        let units = match k {
            0 => 0,
            1 => 20_000_000,
            _ => 500_000 + 30_000 * k as i64,
        };
        lines.push(Line {
            id,
            material: material.id.clone(),
            percent: Percent::from_units(units),
            why: "".into(),
            held: k % 9 == 8,
            min: None,
            max: None,
            purpose: None,
        });
        formula
            .materials
            .insert(material.id.clone(), material.clone());
    }
    let rest: Percent = lines.iter().map(|l| l.percent).sum();
    lines[0].percent = Percent::HUNDRED - rest;
    variant.filler = Some(lines[0].id);
    variant.phases = vec![Arc::new(Phase {
        id: ItemId(formula.take_id()),
        letter: "A".into(),
        kind: PhaseKind::Water,
        purpose: "".into(),
        temperature: None,
        lines,
        steps: Vec::new(),
    })];
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn targets() -> Vec<Target> {
    [
        "active >= 9",
        "anionic <= 7.5",
        "amphoteric >= 1",
        "non-ionic >= 0.8",
        "anionic / amphoteric <= 6",
        "water between 50 and 85",
        "salt <= 2",
        "humectant >= 1.5",
        "oil <= 10",
        "Glycerin >= 1",
        "thickener <= 3",
        "line Xanthan gum <= 1",
    ]
    .iter()
    .map(|t| t.parse().expect("a target"))
    .collect()
}

fn context() -> Context {
    Context::new(Date::constant(2026, 1, 15))
}

fn aim(c: &mut Criterion) {
    let formula = thirty_lines();
    let (context, supply) = (context(), Supply::default());
    let question = Aim::new(targets());
    let prepared = Prepared::new(&formula, formula.active(), &context, &supply, &[]);
    let answer = prepared.answer(&question).expect("an answer");
    assert!(
        matches!(answer, Answer::Proposal(_)),
        "the targets go together"
    );
    c.bench_function("aim, 30 lines, 12 targets", |b| {
        b.iter(|| black_box(prepared.answer(black_box(&question))));
    });
    c.bench_function("aim, 30 lines, 12 targets, prepared anew", |b| {
        b.iter(|| {
            let prepared = Prepared::new(&formula, formula.active(), &context, &supply, &[]);
            black_box(prepared.answer(black_box(&question)))
        });
    });
    // Beside 50 % water there is no room for it, whatever the shelf holds.
    let mut impossible = question.clone();
    impossible
        .targets
        .push("active >= 60".parse().expect("a target"));
    let collides = prepared.answer(&impossible).expect("an answer");
    assert!(matches!(collides, Answer::Collision(_)));
    c.bench_function("collision, 30 lines, 13 targets", |b| {
        b.iter(|| black_box(prepared.answer(black_box(&impossible))));
    });
}

fn lists(c: &mut Criterion) {
    let told = Facts {
        line: Some(12),
        ..Facts::default()
    };
    let open = Facts::default();
    c.bench_function("ranges of 30 ingredients", |b| {
        b.iter(|| black_box(ranges(30, black_box(&told))));
    });
    c.bench_function("ranges of 30 ingredients, one-per-cent line unknown", |b| {
        b.iter(|| black_box(ranges(30, black_box(&open))));
    });
    c.bench_function("centre of 30 ingredients", |b| {
        b.iter(|| black_box(centre(30, black_box(&told))));
    });
}

fn sweep(c: &mut Criterion) {
    let formula = thirty_lines();
    let variant = formula.active().clone();
    let ids: Vec<ItemId> = variant.lines().map(|(_, l)| l.id).collect();
    let axis = |line: ItemId, to: i64| Axis {
        line,
        from: Percent::ZERO,
        to: Percent::from_units(to * Percent::UNITS),
        points: 100,
    };
    let sweep = Sweep {
        axes: vec![axis(ids[1], 20), axis(ids[2], 10)],
        quantities: ["active", "water", "salt", "ph"]
            .iter()
            .map(|q| q.parse().expect("a quantity"))
            .collect(),
        give: GiveWay::Filler,
    };
    let (context, supply) = (context(), Supply::default());
    let mut group = c.benchmark_group("sweep");
    group.sample_size(10);
    group.bench_function("10,000 points, 30 lines", |b| {
        b.iter(|| {
            let progress = Progress::default();
            black_box(sweep.run(&formula, variant.id, &context, &supply, &progress))
        });
    });
    group.finish();
}

/// Every feasible programme of the reference set, one after the other.
fn programmes(c: &mut Criterion) {
    let all: serde_json::Value = serde_json::from_str(PROGRAMMES).expect("the reference set");
    let numbers = |v: &serde_json::Value| -> Vec<f64> {
        let list = v.as_array().expect("a list");
        list.iter().map(|n| n.as_f64().expect("a number")).collect()
    };
    let mut problems = Vec::new();
    for case in all["least"].as_array().expect("cases") {
        if case["best"].is_null() {
            continue;
        }
        let mut programme = Programme::new();
        for bound in case["bounds"].as_array().expect("bounds") {
            let bound = numbers(bound);
            programme.unknown(bound[0], bound[1]);
        }
        let total = (0..programme.len()).map(|i| (i, 1.0)).collect();
        programme.rows.push(LinearDemand::equal(total, 100.0));
        for demand in case["demands"].as_array().expect("demands") {
            let of = demand["of"].as_object().expect("weights");
            programme.rows.push(LinearDemand {
                terms: of
                    .iter()
                    .map(|(k, v)| (k.parse().expect("a place"), v.as_f64().expect("a weight")))
                    .collect(),
                low: demand["from"].as_f64().unwrap_or(f64::NEG_INFINITY),
                high: demand["to"].as_f64().unwrap_or(f64::INFINITY),
            });
        }
        problems.push((programme, numbers(&case["price"])));
    }
    c.bench_function("reference programmes, 40 in a row", |b| {
        b.iter(|| {
            for (programme, price) in &problems {
                black_box(linear::minimise(black_box(programme), price));
            }
        });
    });
}

criterion_group!(benches, aim, lists, sweep, programmes);
criterion_main!(benches);
