//! The example formulas of Larkmoor Studio: realistic, in step with the shelf, and
//! without a breach; the broken one shows what the checks find.
//!
//! After a change of the built-in materials, `UPDATE_EXAMPLES=1` makes the first test
//! write the examples anew with the materials of the shelf.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::path::PathBuf;
use std::sync::Arc;

use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::formula_file;
use formulation::finding::Level;
use formulation::formula::{Date, Formula, Variant};
use formulation::material::{Charge, Class};
use formulation::quantity::Percent;
use formulation::shelf::built_in;

const WHOLE: [&str; 5] = [
    "oat-and-juniper-shower-gel",
    "clear-rosemary-shampoo",
    "calendula-hand-lotion",
    "heather-foot-balm",
    "moss-conditioner",
];
const BROKEN: &str = "broken";

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
        .join("../examples")
        .join(format!("{name}.formula.ron"))
}

/// The formula with the materials of the shelf and with its fillers taking the rest.
fn in_step(formula: &Formula) -> Formula {
    let mut formula = formula.clone();
    for (id, material) in &mut formula.materials {
        if let Some(on_shelf) = built_in::shelf().get(id) {
            *material = on_shelf.clone();
        }
    }
    for variant in &mut formula.variants {
        fill(Arc::make_mut(variant));
    }
    formula
}

fn fill(variant: &mut Variant) {
    let Some(filler) = variant.filler else { return };
    let rest: Percent = variant
        .lines()
        .filter(|(_, l)| l.id != filler)
        .map(|(_, l)| l.percent)
        .sum();
    for phase in &mut variant.phases {
        for line in &mut Arc::make_mut(phase).lines {
            if line.id == filler {
                line.percent = Percent::HUNDRED - rest;
            }
        }
    }
}

fn example(name: &str) -> Formula {
    let text = std::fs::read_to_string(path(name)).unwrap();
    formula_file::read(&text, name).unwrap()
}

fn judge(formula: &Formula, variant: &Variant) -> Evaluation {
    let context = Context::new(Date::constant(2026, 9, 1));
    evaluate(formula, variant, &context)
}

#[test]
fn examples_carry_the_materials_of_the_shelf() {
    for name in WHOLE.into_iter().chain([BROKEN]) {
        let formula = example(name);
        if std::env::var_os("UPDATE_EXAMPLES").is_some() {
            let text = formula_file::write(&in_step(&formula)).unwrap();
            std::fs::write(path(name), text).unwrap();
            continue;
        }
        assert_eq!(
            formula,
            in_step(&formula),
            "{name}: run the tests of the examples once with UPDATE_EXAMPLES=1"
        );
        assert!(formula.author.contains("invented"), "{name}");
        for variant in &formula.variants {
            for (_, line) in variant.lines() {
                // The broken example has one jar that no shelf knows.
                assert!(
                    name == BROKEN || built_in::shelf().get(&line.material).is_some(),
                    "{name}: {} is not on the shelf",
                    line.material
                );
                assert!(!line.why.is_empty(), "{name}: a line without a reason");
            }
        }
    }
}

#[test]
fn examples_open_without_a_breach() {
    for name in WHOLE {
        let formula = example(name);
        for variant in &formula.variants {
            let evaluation = judge(&formula, variant);
            assert_eq!(
                variant.total(),
                Percent::HUNDRED,
                "{name}, {}",
                variant.name
            );
            let breaches: Vec<_> = evaluation
                .findings
                .iter()
                .filter(|f| f.level == Level::Breach)
                .collect();
            assert!(
                breaches.is_empty(),
                "{name}, {}: {breaches:#?}",
                variant.name
            );
            let unknown = evaluation.composition.unknown.as_percent();
            assert!(unknown < 0.1, "{name}: {unknown} % unknown");
        }
    }
}

#[test]
fn examples_are_what_they_are_called() {
    let composition = |name: &str| {
        let formula = example(name);
        judge(&formula, formula.active()).composition
    };
    // A shower gel or shampoo holds 8 to 20 % active matter: common practice, no source.
    for name in ["oat-and-juniper-shower-gel", "clear-rosemary-shampoo"] {
        let active = composition(name).active_total().typical.as_percent();
        assert!((8.0..=20.0).contains(&active), "{name}: {active}");
    }
    let lotion = composition("calendula-hand-lotion");
    let oil = lotion.class(Class::Oil).typical.as_percent();
    assert!((10.0..=30.0).contains(&oil), "{oil}");
    let balm = composition("heather-foot-balm");
    assert!(balm.water().high.as_percent() < 0.1);
    let conditioner = composition("moss-conditioner");
    assert!(conditioner.active(Charge::Cationic).typical.as_percent() > 1.0);
    assert!(conditioner.active(Charge::Anionic).typical.as_percent() < 1e-9);
    // At least one example holds more than one variant, to set side by side.
    assert!(WHOLE.iter().any(|name| example(name).variants.len() > 1));
}

#[test]
fn the_broken_example_shows_the_findings() {
    let formula = example(BROKEN);
    let evaluation = judge(&formula, formula.active());
    let found: Vec<&str> = evaluation.findings.iter().map(|f| &*f.rule).collect();
    for rule in [
        "total-not-100",
        "preservative-over-dose",
        "undissociated-acid-low",
        "too-hot",
        "gum-not-wetted",
        "anionic-with-cationic",
        "anionic-thickener-with-cationic",
        "carbomer-with-salt",
        "over-usual-level",
        "no-use-level",
        "dust",
        "corrosive",
        "unknown-composition",
    ] {
        assert!(found.contains(&rule), "{rule} is not among {found:?}");
    }
}
