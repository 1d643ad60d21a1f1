//! The help pages inside the window.

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui::Key;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::shelf::built_in;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

use crate::person::Person;

#[test]
fn f1_opens_the_page_of_the_sheet_and_links_lead_on() {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(false)));
    harness.state_mut().push(Command::Show(SheetName::Label));
    harness.run();
    harness.key_press(Key::F1);
    harness.run();
    harness.get_by_label("Search the pages");
    assert!(harness.query_all_by_label("The label").count() >= 1);
    picture(&mut harness, "help-page");
    type_into(&mut harness, "Search the pages", "water activity");
    harness.run();
    harness
        .get_by_label("Estimates and what they rest on: Water activity")
        .click();
    harness.run();
    assert!(harness.query_all_by_label("Density").count() >= 1);
    harness.get_by_label("Back").click();
    harness.run();
    assert!(harness.query_all_by_label("The label").count() >= 1);
    harness.key_press(Key::F1);
    harness.run();
    assert!(harness.query_by_label("Search the pages").is_none());
}

/// By keys alone: the cursor is in the help, Enter leads to the first part found, and once the
/// help is closed one is where one was.
#[test]
fn the_help_is_read_by_keys() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    person.tab_to("Sodium benzoate percent");
    person.press(Key::F1);
    assert_eq!(person.focused(), "Page");
    person.tab_to("Search the pages");
    person.types("water activity");
    person.press(Key::Enter);
    assert!(person.harness.query_all_by_label("Density").count() >= 1);
    person.press(Key::F1);
    person.press(Key::Escape);
    assert!(person.harness.query_by_label("Search the pages").is_none());
    assert_eq!(person.focused(), "Sodium benzoate percent");
}

#[test]
fn f1_follows_what_has_the_cursor_and_a_panel_leads_to_its_page() {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(true)));
    harness.run();
    // In the findings.
    harness
        .query_all_by_label_contains("Source")
        .next()
        .unwrap()
        .focus();
    harness.run();
    harness.key_press(Key::F1);
    harness.run();
    assert!(harness.query_by_label("What a finding asks").is_some());
    harness.key_press(Key::F1);
    harness.run();
    // A read-out that is open.
    harness
        .get_all_by_role(egui::Role::Button)
        .find(|n| {
            n.accesskit_node()
                .label()
                .is_some_and(|l| l.starts_with("Water activity"))
        })
        .unwrap()
        .click();
    harness.run();
    harness.get_by_label("The page about it").click();
    harness.run();
    harness.get_by_label("Search the pages");
    assert!(
        harness
            .query_all_by_label("Estimates and what they rest on")
            .count()
            >= 1
    );
}
