//! The window, driven through the accessibility tree.

use acceptance::window::{Look, bench, picture, state};
use formulation::formula::Formula;
use formulation::shelf::Shelf;

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
