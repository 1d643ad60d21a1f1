//! The strip of read-outs and its panels, on the example formulas.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use acceptance::window::{Look, bench, picture, shower_gel, state};
use egui_kittest::Node;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::formula::Formula;
use formulation::shelf::built_in;

fn starts(node: &Node<'_>, words: &str) -> bool {
    let label = node.accesskit_node().label();
    label.is_some_and(|l| l.starts_with(words))
}

fn example(name: &str) -> Formula {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples")
        .join(format!("{name}.formula.ron"));
    let text = std::fs::read_to_string(path).unwrap();
    formulation::file::formula_file::read(&text, name).unwrap()
}

const PANELS: [(&str, &str); 7] = [
    ("pH", "Reach the pH aimed at"),
    ("Undissociated", "Coverage at this dose and pH"),
    ("Water activity", "Least water activity for growth"),
    ("Density", "Fill"),
    ("HLB", "Method: "),
    ("Salt", "Active matter by charge"),
    ("Natural origin", "Index"),
];

#[test]
fn every_readout_opens_its_panel() {
    for look in [Look::SMALL, Look::USUAL.dark()] {
        let mut state = state(built_in().clone(), example("calendula-hand-lotion"));
        state.settings.hints_closed = true;
        let mut harness = bench(look, state);
        harness.run();
        for (card, heading) in PANELS {
            harness
                .get_all_by_role(egui::Role::Button)
                .find(|n| starts(n, card))
                .unwrap()
                .click();
            harness.run();
            assert!(
                harness
                    .query_all_by_label_contains(heading)
                    .next()
                    .is_some(),
                "{card} does not show {heading}"
            );
            let theme = if look.theme == egui::Theme::Dark {
                "dark"
            } else {
                "light"
            };
            picture(
                &mut harness,
                &format!("readout-{}-{theme}", card.to_lowercase().replace(' ', "-")),
            );
        }
    }
}

#[test]
fn readings_from_the_bench_give_the_next_addition() {
    let mut gel = shower_gel(false);
    let mut variant = gel.active().as_ref().clone();
    variant.target_ph = formulation::quantity::Ph::new(5.0);
    gel.variants = vec![variant.into()];
    let mut state = state(built_in().clone(), gel);
    state.settings.hints_closed = true;
    // Tall, since what has scrolled away is not in the accessibility tree.
    let tall = Look {
        size: egui::vec2(1280.0, 1400.0),
        ..Look::USUAL
    };
    let mut harness = bench(tall, state);
    harness.run();
    harness
        .get_all_by_role(egui::Role::Button)
        .find(|n| starts(n, "pH"))
        .unwrap()
        .click();
    harness.run();
    for (grams, ph) in [("", "6.4"), ("2", "6.0")] {
        for (name, text) in [("Added", grams), ("pH read", ph)] {
            let field = harness
                .get_all_by_role(egui::Role::TextInput)
                .find(|n| starts(n, name))
                .unwrap();
            field.focus();
            field.type_text(text);
            harness.run();
        }
        harness.get_by_label("Add reading").click();
        harness.run();
    }
    picture(&mut harness, "readout-bench");
    assert!(harness.query_by_label_contains("Buffer capacity").is_some());
    assert!(harness.query_by_label_contains("Next: ").is_some());
}

#[test]
fn estimates_of_the_examples() {
    use formulation::evaluation::{Context, evaluate};
    for name in [
        "calendula-hand-lotion",
        "clear-rosemary-shampoo",
        "heather-foot-balm",
        "moss-conditioner",
        "oat-and-juniper-shower-gel",
        "broken",
    ] {
        let formula = example(name);
        let context = Context::new(acceptance::window::TODAY);
        let evaluation = evaluate(&formula, formula.active(), &context);
        let report = formulation::file::report::report(&formula, formula.active(), &evaluation);
        let json: serde_json::Value = serde_json::from_str(&report.json()).unwrap();
        let estimates = &json["estimates"];
        for key in [
            "ph",
            "preservation",
            "water_activity",
            "density_kg_m3",
            "hlb",
            "nacl_percent",
            "natural_origin",
        ] {
            assert!(estimates.get(key).is_some(), "{name}: {key}");
        }
        let balm = name == "heather-foot-balm";
        assert_eq!(estimates["ph"]["low"].is_null(), balm, "{name}");
        assert_eq!(estimates["water_activity"].is_null(), balm, "{name}");
        let density = estimates["density_kg_m3"].as_f64().unwrap();
        assert!((850.0..1150.0).contains(&density), "{name}: {density}");
        assert!(report.text().contains("Estimates"));
    }
}

#[test]
fn escape_closes_the_panel() {
    let mut state = state(built_in().clone(), example("calendula-hand-lotion"));
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.run();
    harness
        .get_all_by_role(egui::Role::Button)
        .find(|n| starts(n, "pH"))
        .unwrap()
        .click();
    harness.run();
    let shown = |h: &egui_kittest::Harness<'_, _>| {
        h.query_all_by_label_contains("Reach the pH aimed at")
            .next()
            .is_some()
    };
    assert!(shown(&harness));
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(!shown(&harness));
}
