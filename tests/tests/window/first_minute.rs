//! The first minute: a formula from nothing, counted in clicks and keys.

use acceptance::window::{Look, picture};
use egui::{Key, Role};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::finding::Level;
use formulation::quantity::Percent;

use crate::person::Person;

/// What is typed for a body wash: words to search for, and a percentage.
pub const LINES: [(&str, &str); 9] = [
    ("distilled water", ""),
    ("xanthan", "0.8"),
    ("glyc", "3"),
    ("laureth sulfate 28", "28"),
    ("cocamidopropyl betaine 30", "11"),
    ("sodium benzoate", "0.5"),
    ("potassium sorbate", "0.3"),
    ("citric acid solution 50", "0.6"),
    ("disodium edta", "0.1"),
];

/// Nine lines in three phases and more, from an empty window, without the mouse but for the
/// start card. Before: 32 clicks, 58 keys, 32 texts.
#[test]
fn a_body_wash_is_made_from_nothing_in_few_clicks() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    picture(&mut person.harness, "start-card");
    // The cursor stands in the name.
    person.types("Winter wash");
    person.click(Role::RadioButton, "Gel with gum");
    picture(&mut person.harness, "start-card-chosen");
    person.click(Role::Button, "Begin");
    assert_eq!(person.formula().active().phases.len(), 4);
    // Nothing is red while nothing is there.
    let evaluation = {
        let state = person.harness.state().state();
        state.evaluation(state.current(), state.current().variant().id)
    };
    let grave = evaluation
        .findings
        .iter()
        .find(|f| f.level == Level::Breach);
    assert!(grave.is_none(), "{grave:?}");
    picture(&mut person.harness, "empty-sheet");
    for (search, percent) in LINES {
        person.types(search);
        if search == "glyc" {
            picture(&mut person.harness, "search-results");
        }
        person.press(Key::Enter);
        if !percent.is_empty() {
            person.types(percent);
            person.press(Key::Enter);
        }
    }
    picture(&mut person.harness, "body-wash");
    let formula = person.formula();
    let variant = formula.active();
    assert_eq!(&*formula.name, "Winter wash");
    assert_eq!(variant.lines().count(), 9);
    assert_eq!(variant.total(), Percent::HUNDRED);
    let filled = variant.phases.iter().filter(|p| !p.lines.is_empty());
    assert!(filled.count() >= 3);
    for (_, percent) in LINES.iter().filter(|(_, p)| !p.is_empty()) {
        let percent: Percent = percent.parse().unwrap();
        assert!(
            variant.lines().any(|(_, l)| l.percent == percent),
            "{percent}"
        );
    }
    let names: Vec<&str> = variant
        .lines()
        .filter_map(|(_, l)| formula.material(&l.material))
        .map(|m| &*m.name)
        .collect();
    for wanted in ["Water", "Glycerin", "Xanthan gum", "Sodium benzoate"] {
        assert!(names.iter().any(|n| n.starts_with(wanted)), "{names:?}");
    }
    assert!(person.clicks < 15, "{} clicks", person.clicks);
    // One Enter a search and one a percentage; the filler has none.
    assert_eq!((person.clicks, person.keys, person.texts), (2, 17, 18));
}

#[test]
fn after_enter_the_cursor_stays_where_it_was_and_undo_is_the_formulas() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    person.click(Role::Button, "Begin");
    for (search, percent) in LINES.iter().take(3) {
        person.types(search);
        person.press(Key::Enter);
        if !percent.is_empty() {
            person.types(percent);
            person.press(Key::Enter);
        }
    }
    let field = "Xanthan gum percent";
    acceptance::window::type_into(&mut person.harness, field, "0.4");
    person.press(Key::Enter);
    let focused = |p: &Person| {
        let node = p.harness.get_by_role_and_label(Role::TextInput, field);
        node.is_focused()
    };
    assert!(focused(&person));
    let xanthan = |p: &Person| {
        let all: Vec<String> = p
            .formula()
            .active()
            .lines()
            .map(|(_, l)| l.percent.to_string())
            .collect();
        all.contains(&"0.4".to_owned())
    };
    assert!(xanthan(&person));
    person
        .harness
        .key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    person.harness.run();
    assert!(!xanthan(&person));
    let value = person.harness.get_by_role_and_label(Role::TextInput, field);
    assert_eq!(value.accesskit_node().value().as_deref(), Some("0.8"));
}

#[test]
fn the_start_card_states_what_the_product_is() {
    let mut person = Person::at_a_new_formula(Look::SMALL);
    person.click(Role::RadioButton, "Oil-in-water lotion or cream");
    person.click(Role::CheckBox, "UK");
    picture(&mut person.harness, "start-card-small");
    person.click(Role::Button, "Begin");
    let product = &person.formula().active().product;
    assert_eq!(product.kinds.label(), "leave-on");
    assert!(product.markets.len() > 1);
    assert!(person.harness.state().state().current().is_changed());
    // Undo brings the empty sheet back, not a lost one.
    person
        .harness
        .key_press_modifiers(egui::Modifiers::COMMAND, Key::Z);
    person.harness.run();
    assert_eq!(person.formula().active().phases.len(), 1);
}

/// Who pressed with the pointer last has the cursor nowhere; Enter begins all the same.
#[test]
fn enter_begins_after_a_press() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    person.types("Meadow lotion");
    person.click(Role::RadioButton, "Oil-in-water lotion or cream");
    assert_eq!(person.focused(), "");
    person.press(Key::Enter);
    assert_eq!(person.focused(), "Add a line");
    assert_eq!(person.formula().active().phases.len(), 4);
}

/// A balm is begun by keys alone: arrows choose among the starts, and nobody is told to begin with
/// water.
#[test]
fn a_balm_is_begun_by_keys_and_not_with_water() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    person.types("Heel balm");
    person.press(Key::Tab);
    person.press_until(egui::Modifiers::NONE, Key::ArrowDown, "Balm without water");
    person.press(Key::Enter);
    assert_eq!(person.focused(), "Add a line");
    assert_eq!(&*person.formula().name, "Heel balm");
    let says = |words: &str| person.harness.query_by_label_contains(words).is_some();
    assert!(says("Type the first material above"));
    assert!(!says("Begin with your water"));
    person.types("sunflower oil");
    person.press(Key::Enter);
    assert!(person.focused().starts_with("Sunflower seed oil"));
}
