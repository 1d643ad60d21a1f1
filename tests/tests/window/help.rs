//! The help pages inside the window.

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui::Key;
use egui_kittest::kittest::Queryable as _;
use formulation::shelf::built_in;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

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
