//! Bringing in recipes: what the person says of amounts, and what the table shows of itself.

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

/// A window that looks at a pasted table.
fn pasted(table: &str) -> Harness<'static, Bench> {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(false)));
    harness.state_mut().push(Command::Show(SheetName::Shelf));
    harness.run();
    harness.get_by_label("Bring in…").click();
    harness.run();
    harness.get_by_label("Pasted table").focus();
    harness.run();
    harness.get_by_label("Pasted table").type_text(table);
    harness.run();
    harness.get_by_label("Look at the pasted table").click();
    harness.run();
    harness
}

fn press(harness: &mut Harness<'_, Bench>, name: &str) {
    harness.get_by_label(name).click();
    harness.run();
}

/// Types into a field and hands it over.
fn say(harness: &mut Harness<'_, Bench>, field: &str, text: &str) {
    type_into(harness, field, text);
    harness.key_press(egui::Key::Enter);
    harness.run();
}

/// The formula that was made of the table: name and percentage of each line.
fn made(harness: &mut Harness<'_, Bench>) -> Vec<(String, String)> {
    press(harness, "Make the formula");
    let formula = harness.state().state().current().formula().clone();
    let lines = formula.active().lines().map(|(_, line)| {
        let name = formula.materials[&line.material].name.to_string();
        (name, line.percent.to_string())
    });
    lines.collect()
}

fn percents(lines: &[(String, String)]) -> Vec<&str> {
    lines.iter().map(|(_, percent)| percent.as_str()).collect()
}

fn is_said(harness: &Harness<'_, Bench>, words: &str) -> bool {
    harness.query_by_label_contains(words).is_some()
}

#[test]
fn a_qs_that_is_not_water_is_made_the_filler_by_a_button() {
    let mut harness = pasted("Ingredient\t%\nShea butter\tq.s.\nJojoba oil\t30\nBeeswax\t20\n");
    picture(&mut harness, "bring_in_filler");
    press(&mut harness, "It takes up the rest");
    assert!(harness.query_by_label("It takes up the rest").is_none());
    assert_eq!(percents(&made(&mut harness)), ["50", "30", "20"]);
    let formula = harness.state().state().current().formula().clone();
    assert!(formula.active().filler.is_some());
}

#[test]
fn a_range_is_settled_by_the_number_that_is_meant() {
    let mut harness = pasted("Ingredient\t%\nWater\tq.s.\nGlycerin\t3-7\nXanthan gum\t0.5\n");
    assert!(harness.query_by_label("It takes up the rest").is_none());
    say(&mut harness, "Amount of “Glycerin”", "3-4");
    // Refused beside the field, and kept there to be mended.
    picture(&mut harness, "bring_in_range_refused");
    assert!(harness.query_by_label("Amount of “Glycerin”").is_some());
    say(&mut harness, "Amount of “Glycerin”", "3");
    assert!(harness.query_by_label("Amount of “Glycerin”").is_none());
    assert_eq!(percents(&made(&mut harness)), ["96.5", "3", "0.5"]);
}

#[test]
fn what_a_drop_weighs_is_said_once_for_all_rows() {
    let mut harness = pasted(
        "Ingredient\tAmount\nJojoba oil\t99.1 g\nVitamin E acetate\t20 drops\nLavender oil\t10 drops\n",
    );
    picture(&mut harness, "bring_in_drops");
    let fields = harness.query_all_by_label("What a drop weighs").count();
    assert_eq!(fields, 2);
    let first = harness.query_all_by_label("What a drop weighs").next();
    first.unwrap().focus();
    harness.run();
    let first = harness.query_all_by_label("What a drop weighs").next();
    first.unwrap().type_text("0.03 g");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert!(harness.query_by_label("What a drop weighs").is_none());
    assert_eq!(percents(&made(&mut harness)), ["99.1", "0.6", "0.3"]);
}

/// Prices beside a recipe are not coloured as taken, and a head tells why its column was taken.
#[test]
fn the_table_says_what_it_was_taken_for_and_why() {
    let mut harness =
        pasted("Ingredient\t%\tPrice\tLot\nWater\t97\t0.1\tW-1\nGlycerin\t3\t7.5\tG-1\n");
    press(&mut harness, "A recipe");
    picture(&mut harness, "bring_in_costs");
    assert!(!is_said(&harness, "price, pack and stock"));
    assert!(is_said(&harness, "which material"));
    let head = harness.get_by_role_and_label(Role::ComboBox, "Meaning of column 2");
    head.hover();
    for _ in 0..40 {
        harness.step();
    }
    assert!(is_said(&harness, "The heading “%”"));
}

/// Lists beside each other are shown as they stand in the file, and questions name its cells.
#[test]
fn a_list_that_goes_on_beside_itself_is_shown_as_it_stands() {
    let mut harness = pasted(
        "No\tIngredient\t%\tNo\tIngredient\t%\n1\tWater\t65\t4\tCetyl alcohol\t5\n2\tGlycerin\t5\t5\tSome moss\t5\n3\tOlive oil\t20\t\t\t\n",
    );
    picture(&mut harness, "bring_in_beside");
    // Both lists in one row, as in the file, and the heads of both.
    for head in ["Meaning of column 2", "Meaning of column 5"] {
        let head = harness.get_by_role_and_label(Role::ComboBox, head);
        assert_eq!(head.accesskit_node().value().as_deref(), Some("material"));
    }
    press(&mut harness, "What it becomes");
    assert!(harness.query_by_label("D2").is_some());
    assert!(harness.query_by_label("A2").is_some());
    assert_eq!(percents(&made(&mut harness)), ["65", "5", "20", "5", "5"]);
}

#[test]
fn materials_in_columns_are_shown_in_columns() {
    let mut harness = pasted("Ingredient\tWater\tGlycerin\tOlive oil\tBeeswax\n%\t70\t5\t20\t5\n");
    picture(&mut harness, "bring_in_turned");
    let head = harness.get_by_role_and_label(Role::ComboBox, "Meaning of column 2");
    assert_eq!(head.accesskit_node().value().as_deref(), Some("percent"));
    assert!(
        harness
            .query_by_role_and_label(Role::ComboBox, "Meaning of column 3")
            .is_none()
    );
    assert_eq!(percents(&made(&mut harness)), ["70", "5", "20", "5"]);
}

/// What was said of the amounts and the kind of a file is not asked again when it is brought in
/// the next time.
#[test]
fn what_was_said_of_a_file_holds_the_next_time() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("hedge_balm.csv");
    std::fs::write(
        &file,
        "Ingredient,%\nShea butter,q.s.\nJojoba oil,20-40\nBeeswax,20\n",
    )
    .unwrap();
    let mut state = state(built_in().clone(), shower_gel(false));
    state.folders.config = Some(folder.path().to_path_buf());
    let mut harness = bench(Look::USUAL, state);
    let bring_in = |harness: &mut Harness<'_, Bench>| {
        let command = Command::BringInFile(file.clone());
        harness.state_mut().push(command);
        harness.run();
    };
    bring_in(&mut harness);
    assert!(!is_said(&harness, "nothing asked"));
    press(&mut harness, "Leave-on");
    press(&mut harness, "It takes up the rest");
    say(&mut harness, "Amount of “Jojoba oil”", "35");
    assert!(is_said(&harness, "3 taken, 0 asked, 1 left out"));
    assert_eq!(percents(&made(&mut harness)), ["45", "35", "20"]);
    bring_in(&mut harness);
    assert!(is_said(&harness, "nothing asked"));
    assert_eq!(percents(&made(&mut harness)), ["45", "35", "20"]);
    let formula = harness.state().state().current().formula().clone();
    let kinds = formula.active().product.kinds;
    assert_eq!(kinds, formulation::material::ProductKind::LeaveOn.into());
}

/// A list whose days may be read both ways is not taken in before it is said how.
#[test]
fn days_that_may_be_read_both_ways_are_asked_before_a_list_is_taken_in() {
    let mut harness = pasted(
        "Material\tLot\tIn stock (g)\tBest before\tPrice (EUR/kg)\nGlycerin\tG-7\t500\t03/04/2027\t7.80\nShea butter\tS-2\t900\t05/06/2027\t9.90\n",
    );
    let is_open = |harness: &Harness<'_, Bench>| {
        let button = harness.get_by_label("Take the list in");
        !button.accesskit_node().is_disabled()
    };
    assert!(!is_open(&harness));
    press(&mut harness, "The day");
    assert!(is_open(&harness));
}

#[test]
fn the_cursor_is_in_the_path_field_at_once() {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), shower_gel(false)));
    harness.run();
    harness.state_mut().push(Command::BringIn);
    harness.run();
    let field = || "Path of the file to bring in";
    assert!(harness.get_by_label(field()).is_focused());
    // It is put there once: Tab leads on.
    harness.key_press(egui::Key::Tab);
    harness.run();
    assert!(!harness.get_by_label(field()).is_focused());
}

#[test]
fn prices_are_shown_with_their_packs() {
    let mut harness = pasted(
        "Material;Pack;Price;Date\nShea butter;25 kg;118,50 €;03.10.2026\nCocoa butter;500 g;8,10 €;03.10.2026\n",
    );
    press(&mut harness, "What it becomes");
    assert!(is_said(&harness, "118.50 EUR for 25000 g"));
    picture(&mut harness, "bring_in_prices");
}
