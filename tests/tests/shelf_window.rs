//! The Shelf sheet, driven through the accessibility tree.

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::material::MaterialId;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

fn shelf(look: Look) -> Harness<'static, Bench> {
    let mut harness = bench(look, state(built_in().clone(), shower_gel(false)));
    harness.state_mut().push(Command::Show(SheetName::Shelf));
    harness.run();
    harness
}

fn row_is_shown(harness: &Harness<'_, Bench>, name: &str) -> bool {
    harness
        .query_all_by_role(egui::accesskit::Role::Row)
        .any(|row| row.accesskit_node().label().is_some_and(|l| l == name))
}

/// Chooses the first row found for some words.
fn choose(harness: &mut Harness<'_, Bench>, words: &str, name: &str) {
    type_into(harness, "Search the shelf", words);
    let row = harness
        .query_all_by_role(egui::accesskit::Role::Row)
        .find(|row| row.accesskit_node().label().is_some_and(|l| l == name));
    assert!(row.is_some(), "no row “{name}”");
    if let Some(row) = row {
        row.click();
    }
    harness.run();
}

#[test]
fn search_as_you_type_finds_and_forgives() {
    let mut harness = shelf(Look::USUAL);
    assert!(row_is_shown(&harness, "1,2-Hexanediol"));
    type_into(&mut harness, "Search the shelf", "sodum benzoat");
    assert!(row_is_shown(&harness, "Sodium benzoate"));
    assert!(!row_is_shown(&harness, "1,2-Hexanediol"));
    picture(&mut harness, "shelf_search");
}

#[test]
fn a_material_is_looked_at_with_its_sources() {
    for (look, name) in [
        (Look::SMALL, "shelf_small"),
        (Look::USUAL.dark(), "shelf_dark"),
        (Look::SMALL.doubled(), "shelf_doubled"),
    ] {
        let mut harness = shelf(look);
        choose(&mut harness, "sodium benzoate", "Sodium benzoate");
        assert!(harness.query_by_label("532-32-1; preservative").is_some());
        picture(&mut harness, name);
    }
}

#[test]
fn a_new_material_is_completed_checked_and_put_on_the_shelf() {
    let mut harness = shelf(Look::USUAL);
    harness.get_by_label("Add…").click();
    harness.run();
    type_into(
        &mut harness,
        "Complete from the public inventory",
        "totarol",
    );
    harness.get_by_label("Totarol (511-15-9)").click();
    harness.run();
    picture(&mut harness, "shelf_editor");
    // A mistyped digit is named at once, with the right one.
    type_into(&mut harness, "CAS number 1", "511-15-8");
    assert!(
        harness
            .query_by_label_contains("check digit should be 9")
            .is_some()
    );
    assert!(
        harness
            .get_by_label("Put on the shelf")
            .accesskit_node()
            .is_disabled()
    );
    picture(&mut harness, "shelf_editor_fault");
    type_into(&mut harness, "CAS number 1", "511-15-9");
    harness.get_by_label("Put on the shelf").click();
    harness.run();
    let id = MaterialId::from_name("Totarol");
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(
        own.materials.get(&id).map(|m| m.inci_line()).as_deref(),
        Some("Totarol")
    );
    assert!(row_is_shown(&harness, "Totarol"));
}

#[test]
fn a_pasted_recipe_becomes_a_formula_after_a_look() {
    let mut harness = shelf(Look::USUAL);
    harness.get_by_label("Bring in…").click();
    harness.run();
    harness.get_by_label("Pasted table").focus();
    harness.run();
    harness
        .get_by_label("Pasted table")
        .type_text("Phase\tIngredient\t%\nA\tWater\tq.s.\nA\tGlycerin\t3\nB\tMoorland balm\t1,5\n");
    harness.run();
    picture(&mut harness, "shelf_paste");
    harness.get_by_label("Look at the pasted table").click();
    harness.run();
    picture(&mut harness, "shelf_proposal");
    assert_eq!(
        harness.state().state().makers_shelf().own().materials.len(),
        0
    );
    harness.get_by_label("Make the formula").click();
    harness.run();
    let formula = harness.state().state().current().formula().clone();
    let lines: Vec<String> = formula
        .active()
        .lines()
        .map(|(_, l)| l.percent.to_string())
        .collect();
    assert_eq!(lines, ["95.5", "3", "1.5"]);
    assert!(
        harness
            .state()
            .state()
            .makers_shelf()
            .own()
            .materials
            .contains_key(&MaterialId::from_name("Moorland balm"))
    );
}

#[test]
fn a_certificate_is_kept_for_its_lot() {
    let mut harness = shelf(Look::USUAL);
    choose(
        &mut harness,
        "cocamidopropyl betaine solution",
        "Cocamidopropyl betaine solution 30 %",
    );
    harness
        .get_by_label("Enter a certificate…")
        .click_accesskit();
    harness.run();
    type_into(&mut harness, "Lot", "B-7");
    type_into(
        &mut harness,
        "Cocamidopropyl Betaine by the certificate",
        "31,2",
    );
    picture(&mut harness, "shelf_certificate");
    harness.get_by_label("Keep").click_accesskit();
    harness.run();
    let own = harness.state().state().makers_shelf().own();
    assert_eq!(own.lots.len(), 1);
}
