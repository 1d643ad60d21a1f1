//! The window, driven through the accessibility tree.

use acceptance::window::{Look, bench, picture, shower_gel, state};
use formulation::formula::Formula;
use formulation::shelf::{Shelf, built_in};

#[test]
fn every_sheet_opens() {
    use egui_kittest::kittest::Queryable as _;
    use phasewright::sheets::SheetName;
    let mut harness = bench(
        Look::SMALL,
        state(Shelf::new(), Formula::new("New formula")),
    );
    for name in SheetName::ALL {
        harness
            .get_by_role_and_label(egui::Role::Tab, name.label())
            .click();
        harness.run();
        assert_eq!(harness.state().sheet(), name);
    }
    picture(&mut harness, "shell");
}

#[test]
fn pictures() {
    for (name, look) in [
        ("formula-small", Look::SMALL),
        ("formula-usual", Look::USUAL),
        ("formula-dark", Look::USUAL.dark()),
    ] {
        let mut state = state(built_in().clone(), shower_gel(true));
        let line = state.current().variant().lines().nth(6).unwrap().1.id;
        if name == "formula-usual" {
            state.current_mut().chosen = [line].into();
        }
        state.settings.hints_closed = name != "formula-small";
        let mut harness = bench(look, state);
        harness.run();
        picture(&mut harness, name);
    }
}
