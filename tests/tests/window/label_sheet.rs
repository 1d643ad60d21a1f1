//! The Label sheet, driven through the accessibility tree.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use acceptance::window::{Look, bench, picture, state};
use egui_kittest::kittest::Queryable as _;
use formulation::file::formula_file;
use formulation::formula::Formula;
use formulation::label_info::{Durability, NetContents};
use formulation::quantity::in_millilitres;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

fn example(name: &str) -> Formula {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples")
        .join(format!("{name}.formula.ron"));
    formula_file::read(&std::fs::read_to_string(path).unwrap(), name).unwrap()
}

fn open(name: &str, look: Look) -> egui_kittest::Harness<'static, Bench> {
    let mut state = state(built_in().clone(), example(name));
    state.settings.hints_closed = true;
    let mut harness = bench(look, state);
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::Tab, SheetName::Label.label())
        .click();
    harness.run();
    harness
}

#[test]
fn the_list_follows_the_market() {
    let mut harness = open("clear-rosemary-shampoo", Look::USUAL);
    harness.get_by_label_contains("Aqua, Sodium Laureth Sulfate");
    harness.get_by_label("US").click();
    harness.run();
    harness.get_by_label_contains("Water, Sodium Laureth Sulfate");
    assert!(
        harness
            .query_by_label_contains("Aqua, Sodium Laureth Sulfate")
            .is_none()
    );
    picture(&mut harness, "label-us");
}

#[test]
fn a_field_changes_the_label_and_can_be_undone() {
    let mut harness = open("oat-and-juniper-shower-gel", Look::USUAL);
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Net contents");
    field.focus();
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::TextInput, "Net contents")
        .type_text("300");
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    let net = |harness: &egui_kittest::Harness<'static, Bench>| match harness
        .state()
        .state()
        .current()
        .variant()
        .label
        .net_contents
    {
        Some(NetContents::Volume(volume)) => in_millilitres(volume).round(),
        other => panic!("{other:?}"),
    };
    assert_eq!(net(&harness), 300.0);
    assert!(
        harness
            .query_all_by_label_contains("300 ml")
            .next()
            .is_some()
    );
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(net(&harness), 250.0);
}

#[test]
fn a_run_of_labels_says_what_it_cannot_print() {
    let mut harness = open("oat-and-juniper-shower-gel", Look::USUAL);
    let field = |name| (egui::Role::TextInput, name);
    let (role, name) = field("How many labels");
    harness.get_by_role_and_label(role, name).focus();
    harness.run();
    harness.get_by_role_and_label(role, name).type_text("2001");
    harness.run();
    harness.get_by_label("Save as PDF…").click();
    harness.run();
    harness.get_by_label_contains("from 1 to 2000");
}

/// Months are counted whole: nothing typed is rounded without a word.
#[test]
fn half_a_month_is_refused() {
    let mut harness = open("oat-and-juniper-shower-gel", Look::USUAL);
    let months = |harness: &egui_kittest::Harness<'static, Bench>| {
        let variant = harness.state().state().current().variant().clone();
        variant.label.durability.clone()
    };
    for (typed, told, then) in [
        ("2.5", Some("“2.5” is not a number of months"), 12),
        ("0", Some("a number of months is from 1 to 120"), 12),
        ("18", None, 18),
    ] {
        acceptance::window::type_into(&mut harness, "Months after opening", typed);
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
        if let Some(told) = told {
            harness.get_by_label_contains(told);
        }
        assert_eq!(months(&harness), Durability::AfterOpening(then), "{typed}");
    }
}

#[test]
fn pictures() {
    for (name, look) in [
        ("label-small", Look::SMALL),
        ("label-dark", Look::USUAL.dark()),
    ] {
        let mut harness = open("calendula-hand-lotion", look);
        picture(&mut harness, name);
    }
}

/// A label that is too small for its text is told with the height that the text needs, and the
/// picture is as high as the text; one that is large enough is not spoken of.
#[test]
fn a_label_too_small_for_its_text_is_told() {
    let mut harness = open("oat-and-juniper-shower-gel", Look::USUAL);
    let high = |harness: &egui_kittest::Harness<'static, Bench>| {
        let picture = harness.get_by_label("The label as it prints");
        picture.rect().height() / picture.rect().width()
    };
    let told = "ends at the line; the text needs";
    for (height, is_told) in [("20", true), ("200", false)] {
        acceptance::window::type_into(&mut harness, "Height, mm", height);
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
        let said = harness.query_by_label_contains(told).is_some();
        assert_eq!(said, is_told, "{height}");
        let variant = harness.state().state().current().variant().clone();
        let asked = variant.label.height_mm / variant.label.width_mm;
        let drawn = f64::from(high(&harness));
        if is_told {
            assert!(drawn > asked * 1.2, "{drawn} {asked}");
        } else {
            assert!((drawn - asked).abs() < 0.01, "{drawn} {asked}");
        }
    }
}

/// What stands against selling the product is said above the label and beside its picture.
#[test]
fn a_breach_is_said_beside_the_picture() {
    let mut harness = open("broken", Look::USUAL);
    harness.get_by_label_contains("Not for sale in the");
    harness.get_by_label_contains("Stands against selling it; not printed");
    picture(&mut harness, "label-breach");
    let sound = open("oat-and-juniper-shower-gel", Look::USUAL);
    assert!(sound.query_by_label_contains("Not for sale").is_none());
}

/// One person cannot be established in the European Union and in the United Kingdom: another is
/// stated for the latter, beside the one there is, and taken back like anything else.
#[test]
fn another_person_is_stated_for_the_united_kingdom() {
    use formulation::formula::Market;
    let mut formula = example("oat-and-juniper-shower-gel");
    let mut variant = formula.active().as_ref().clone();
    variant.product.markets = vec![Market::Eu, Market::Uk];
    let mut label = variant.label.as_ref().clone();
    label.responsible_person = "Larkmoor Studio, Cork (invented)".into();
    label.responsible_person_uk = "".into();
    variant.label = label.into();
    formula.variants = vec![variant.into()];
    let mut state = state(built_in().clone(), formula);
    state.settings.hints_closed = true;
    let mut harness = bench(Look::USUAL, state);
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::Tab, SheetName::Label.label())
        .click();
    harness.run();
    let both = "cannot be established in both";
    assert!(harness.query_all_by_label_contains(both).next().is_some());
    let own = "Larkmoor Agents, Leeds (invented)";
    let field = |harness: &egui_kittest::Harness<'static, Bench>, own: Option<&str>| {
        let (role, name) = (egui::Role::MultilineTextInput, "In the UK, if another");
        let field = harness.get_by_role_and_label(role, name);
        match own {
            Some(own) => field.type_text(own),
            None => field.focus(),
        }
    };
    field(&harness, None);
    harness.run();
    field(&harness, Some(own));
    harness.run();
    harness.get_by_label("UK").click();
    harness.run();
    harness.run();
    assert!(harness.query_all_by_label_contains(both).next().is_none());
    let label = |harness: &egui_kittest::Harness<'static, Bench>| {
        let variant = harness.state().state().current().variant().clone();
        variant.label.clone()
    };
    assert_eq!(&*label(&harness).responsible_person_uk, own);
    assert!(
        label(&harness)
            .responsible_person
            .starts_with("Larkmoor Studio")
    );
    harness.state_mut().push(Command::Undo);
    harness.run();
    assert_eq!(&*label(&harness).responsible_person_uk, "");
}
