//! The strip of read-outs and its panels, on the example formulas.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use acceptance::window::{Look, bench, picture, shower_gel, state};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, Node};
use formulation::formula::Formula;
use formulation::quantity::Ph;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;

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

/// A formula as a table, on the built-in shelf.
fn table(text: &str) -> Formula {
    let read = formulation::file::formula_table::read(text, "t.csv", "Trial", built_in());
    read.unwrap().formula
}

/// 70 g of olive oil take 9.63 g of sodium hydroxide: saponification value 193.0 mg of potassium
/// hydroxide per gram (assets/chemistry), molar masses 39.997 and 56.106 g/mol. 9 g are 93.4 %
/// of it.
#[test]
fn a_soap_shows_lye_superfat_and_what_it_becomes() {
    let soap = table(
        "# kind: rinse-off\nphase,material,percent\n\
         A,Olive oil,70\nB,Sodium hydroxide solution 30 %,30\n",
    );
    let mut state = state(built_in().clone(), soap);
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.run();
    let card = |n: &Node<'_>| starts(n, "Soap 6.6 % superfat");
    let mut cards = harness.get_all_by_role(egui::Role::Button);
    cards.find(card).unwrap().click();
    drop(cards);
    harness.run();
    for words in [
        "Lye turns fats into soap",
        "Fat that finds no lye",
        "93.4 %",
        "Glycerin that forms",
        "9.63 % of the formula",
        "takes 9.15 % of pure alkali",
        "After the reaction",
        "Soap",
    ] {
        let found = harness.query_all_by_label_contains(words).next();
        assert!(found.is_some(), "{words}");
    }
    picture(&mut harness, "readout-soap");
    // The lye for the superfat wanted is put in by one button.
    harness.get_by_label_contains("Set the lye to").click();
    harness.run();
    let set = |n: &Node<'_>| starts(n, "Soap 5.0 % superfat");
    assert!(harness.get_all_by_role(egui::Role::Button).any(|n| set(&n)));
    // Where no soap forms, there is no such read-out.
    let mut other = bench(
        Look::USUAL,
        acceptance::window::state(built_in().clone(), shower_gel(false)),
    );
    other.run();
    let mut buttons = other.get_all_by_role(egui::Role::Button);
    assert!(!buttons.any(|n| starts(&n, "Soap ") || starts(&n, "Alcohol ")));
}

#[test]
fn a_spray_shows_its_alcohol_and_how_it_was_computed() {
    let spray = table(
        "# kind: leave-on\nphase,material,percent\n\
         A,\"Ethanol 96 %, denatured\",60\nA,Aqua,q.s.\n",
    );
    let mut harness = bench(Look::USUAL, state(built_in().clone(), spray));
    harness.run();
    let card = |n: &Node<'_>| starts(n, "Alcohol ");
    let mut cards = harness.get_all_by_role(egui::Role::Button);
    let found = cards.find(card).unwrap();
    let words = found.accesskit_node().label().unwrap();
    assert!(words.contains("% vol"), "{words}");
    found.click();
    drop(cards);
    harness.run();
    harness.get_by_label("Alcohol by mass");
    harness.get_by_label("Flash point");
    harness.get_by_label("about 22 °C");
    harness.get_by_label("How is this computed").click();
    harness.run();
    harness.get_by_label_contains("OIML R 22");
    picture(&mut harness, "readout-alcohol");
}

#[test]
fn a_wash_is_no_emulsion_and_shows_no_hlb() {
    let mut state = state(built_in().clone(), example("clear-rosemary-shampoo"));
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.run();
    let tile = harness
        .get_all_by_role(egui::Role::Button)
        .find(|n| starts(n, "HLB"))
        .unwrap();
    assert_eq!(
        tile.accesskit_node().label().as_deref(),
        Some("HLB – no emulsion")
    );
    tile.click();
    harness.run();
    assert!(harness.query_by_label("No emulsion, no HLB").is_some());
    assert!(
        harness
            .query_all_by_label_contains("so this is no emulsion")
            .next()
            .is_some()
    );
    picture(&mut harness, "readout-no-emulsion");
}

#[test]
fn readings_from_the_bench_give_the_next_addition() {
    let mut gel = shower_gel(false);
    let mut variant = gel.active().as_ref().clone();
    variant.target_ph = Ph::new(5.0);
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
    let shown = |h: &Harness<'_, _>| {
        h.query_all_by_label_contains("Reach the pH aimed at")
            .next()
            .is_some()
    };
    assert!(shown(&harness));
    harness.key_press(egui::Key::Escape);
    harness.run();
    assert!(!shown(&harness));
}

/// From pH 6.1 measured to 5.2: the dose goes into the line of citric acid that there is, what was
/// measured is of the mix without it, and one undo takes both back.
#[test]
fn a_dose_of_acid_goes_into_the_formula() {
    let mut formula = example("oat-and-juniper-shower-gel");
    let mut variant = formula.active().as_ref().clone();
    variant.measured.ph = Ph::new(6.1);
    variant.target_ph = Ph::new(5.2);
    let id = variant.id;
    let place = formula.variants.iter().position(|v| v.id == id).unwrap();
    formula.variants[place] = variant.into();
    let mut state = state(built_in().clone(), formula);
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.run();
    // The finding offers it; that the pH is stated is not asked again.
    assert!(
        harness
            .query_by_label_contains("State the pH measured")
            .is_none()
    );
    let mut offered = harness.get_all_by_role_and_label(egui::Role::Button, "Adjust the pH");
    offered.next().unwrap().click();
    drop(offered);
    harness.run();
    let acid = |harness: &Harness<'_, Bench>| {
        let formula = harness.state().state().current().formula().clone();
        let is = |id| formula.material(id).unwrap().name.starts_with("Citric");
        let variant = formula.active();
        let line = variant.lines().find(|(_, l)| is(&l.material)).unwrap().1;
        (line.percent, variant.measured.ph, variant.total())
    };
    let (before, measured, total) = acid(&harness);
    let button = harness.get_by_label_contains("Raise Citric acid");
    let words = button.accesskit_node().label().unwrap();
    button.click();
    harness.run();
    let (after, unmeasured, still) = acid(&harness);
    assert!(after > before);
    assert!(
        words.ends_with(&format!("from {before} to {after} %")),
        "{words}"
    );
    assert_eq!((unmeasured, still), (None, total));
    // The estimate, which was not the pH measured, advises nothing until it is measured again.
    let waits = |harness: &Harness<'_, Bench>| {
        let words = "The dose is in, reckoned to reach pH 5.20";
        let told = harness.query_all_by_label_contains(words).next().is_some();
        let named = harness.query_all_by_label_contains("Raise Citric acid");
        // The button that undoes it says so too.
        let label = |n: &Node<'_>| n.accesskit_node().label().unwrap_or_default();
        let offered = named.filter(|n| !label(n).starts_with("Undo")).count();
        (told, offered > 0)
    };
    assert_eq!(waits(&harness), (true, false));
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(acid(&harness), (before, measured, total));
    assert_eq!(waits(&harness), (false, true));
}
