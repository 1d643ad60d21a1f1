//! What is asked for is said, and stands where it is looked for: the order of the Tab key, the
//! cursor where something was refused, wide windows used.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::window::{Look, bench, shower_gel, state, type_into};
use egui::accesskit::Action;
use egui::{Key, Modifiers, Role, Vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, Node};
use formulation::batch::record::Event;
use formulation::batch::workshop::Workshop;
use formulation::edit::Edit;
use formulation::file::formula_file;
use formulation::formula::{Formula, Measured};
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal, Ph};
use formulation::shelf::built_in;
use formulation::stock::{Lot, LotId, Offer, Stock};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::examples;
use phasewright::sheets::SheetName;

use super::make_sheet::{click, mass, record, stock_of_glycerin, window};
use super::person::Person;

const WIDE: Look = Look {
    size: Vec2::new(1920.0, 1080.0),
    ..Look::USUAL
};

fn example(name: &str) -> Formula {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples")
        .join(format!("{name}.formula.ron"));
    formula_file::open(&path).unwrap().0
}

fn sheet(look: Look, formula: Formula, name: SheetName) -> Harness<'static, Bench> {
    let mut harness = bench(look, state(built_in().clone(), formula));
    harness.state_mut().push(Command::CloseHints);
    harness.state_mut().push(Command::Show(name));
    harness.run();
    harness
}

fn says(harness: &Harness<'_, Bench>, words: &str) -> bool {
    let mut all = harness.root().children_recursive();
    all.any(|node| {
        let node = node.accesskit_node();
        [node.label(), node.value()]
            .into_iter()
            .flatten()
            .any(|said| said.contains(words))
    })
}

/// What stands at the right of a row is reached as it is read: back before forth.
#[test]
fn undo_comes_before_redo_by_tab() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    type_into(&mut person.harness, "Name of the formula", "Winter gel");
    person.press(Key::Enter);
    type_into(&mut person.harness, "Name of the formula", "Summer gel");
    person.press(Key::Enter);
    // Both can be done.
    person.press_with(Modifiers::COMMAND, Key::Z);
    person.harness.run();
    person.press_until(Modifiers::NONE, Key::F6, "Name of the formula");
    person.tab_to("Undo: ");
    person.press(Key::Tab);
    assert!(
        person.focused().starts_with("Redo: "),
        "{}",
        person.focused()
    );
}

/// Where only an offer tells a price, the cost takes it and says so; without one the lot is named.
#[test]
fn a_lot_without_a_price_is_costed_by_an_offer_and_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let glycerin = MaterialId::from_name("Glycerin 99.5 %");
    let mut stock = Stock::new(Currency::EUR);
    stock
        .add(Lot::of_one_pack(
            LotId::new("GLY-1").unwrap(),
            glycerin.clone(),
            "2026-01-05".parse().unwrap(),
            mass("5 kg"),
            Currency::EUR,
        ))
        .unwrap();
    let books = &mut harness.state_mut().state_mut().books;
    books.set_stock(stock.clone(), Workshop::default()).unwrap();
    click(&mut harness, "Cost");
    assert!(says(&harness, "lot GLY-1 has no price"));
    stock.offers.push(Offer {
        material: glycerin,
        supplier: "Fellside Botanicals".into(),
        pack: mass("1 kg"),
        price: Some(Decimal::from(9)),
        currency: Currency::EUR,
        day: None,
    });
    let books = &mut harness.state_mut().state_mut().books;
    books.set_stock(stock, Workshop::default()).unwrap();
    harness.run();
    assert!(says(&harness, "priced as offered by Fellside Botanicals"));
    assert!(!says(&harness, "lot GLY-1 has no price"));
}

/// What was weighed without a lot leads no further back, and is named.
#[test]
fn tracing_back_names_what_has_no_lot() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    click(&mut harness, "Begin the batch");
    let first = record(&harness).opening().lines[0];
    let name = record(&harness).opening().name_of(first.line);
    let weighed = Event::Weighed {
        line: first.line,
        mass: first.mass,
        lot: None,
        remark: "".into(),
    };
    let books = &mut harness.state_mut().state_mut().books;
    books
        .record(weighed, "2026-03-02T12:00:00Z", "Wren", None)
        .unwrap();
    click(&mut harness, "All batches");
    type_into(&mut harness, "Batch code to trace back", "26-001");
    harness.run();
    assert!(says(&harness, "weighed without a lot"));
    assert!(harness.query_by_label("no lot").is_some());
    assert!(says(&harness, &name));
}

/// A day that is none gets the cursor back, to be typed again.
#[test]
fn the_cursor_goes_to_the_day_that_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let books = &mut harness.state_mut().state_mut().books;
    books
        .set_stock(stock_of_glycerin("2028-01-01"), Workshop::default())
        .unwrap();
    click(&mut harness, "Stock");
    let row = |harness: &Harness<'_, Bench>, name: &str| {
        harness
            .query_all_by_role(Role::Row)
            .find(|row| {
                let label = row.accesskit_node().label();
                label.is_some_and(|l| l.starts_with(name))
            })
            .unwrap()
            .click();
    };
    row(&harness, "GLY-OLD");
    harness.run();
    type_into(&mut harness, "Best before", "31.11.2026");
    click(&mut harness, "Save GLY-OLD");
    harness.run();
    assert!(says(&harness, "“31.11.2026” is not a day"));
    let focused = |harness: &Harness<'_, Bench>, name: &str| {
        let field = harness.get_by_role_and_label(Role::TextInput, name);
        field.is_focused()
    };
    assert!(focused(&harness, "Best before"));
    type_into(&mut harness, "Best before", "3/4/2028");
    click(&mut harness, "Save GLY-OLD");
    harness.run();
    assert!(says(&harness, "can mean 2028-04-03 or 2028-03-04"));
    type_into(&mut harness, "Best before", "20.11.2028");
    type_into(&mut harness, "Price of a pack", "1,000");
    click(&mut harness, "Save GLY-OLD");
    harness.run();
    assert!(says(&harness, "“1,000” can mean 1 or 1000"));
    assert!(focused(&harness, "Price of a pack"));
    type_into(&mut harness, "Price of a pack", "12.50");
    type_into(&mut harness, "Packs", "some");
    harness.key_press(Key::Enter);
    harness.run();
    harness.run();
    assert!(focused(&harness, "Packs"));
}

/// A row of pages is one stop of the Tab key; the arrows, Home and End go along it and show what
/// they come to, and the cursor stays in it.
#[test]
fn the_pages_of_make_are_one_stop() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let show = Command::Show(SheetName::Make);
    person.harness.state_mut().push(show);
    person.harness.run();
    person.tab_to("Weigh sheet");
    person.press(Key::ArrowRight);
    person.press(Key::ArrowRight);
    assert_eq!(person.focused(), "All batches");
    person.press(Key::End);
    assert_eq!(person.focused(), "Workshop");
    person.press(Key::ArrowRight);
    assert_eq!(person.focused(), "Workshop");
    person.press(Key::Tab);
    assert_eq!(person.focused(), "Done by");
    person.press_with(Modifiers::SHIFT, Key::Tab);
    assert_eq!(person.focused(), "Workshop");
    // What was pressed with the pointer is where the Tab key stops from then on.
    click(&mut person.harness, "Stock");
    person.tab_to("Stock");
    person.press(Key::Home);
    assert_eq!(person.focused(), "Weigh sheet");
}

/// A replacement is chosen and taken over by keys, and the cursor is never lost.
#[test]
fn a_swap_by_keys_keeps_the_cursor() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    let show = Command::Show(SheetName::Aim);
    person.harness.state_mut().push(show);
    person.harness.run();
    person.tab_to("Targets");
    person.press(Key::ArrowRight);
    assert_eq!(person.focused(), "Swap");
    person.tab_to("Replace Glycerin 99.5 %");
    person.press(Key::Enter);
    person.press_until(Modifiers::NONE, Key::F6, "What is asked");
    person.press(Key::Tab);
    person.press(Key::Tab);
    // The row is the same one although what was chosen now stands above it.
    let row = person.focused();
    assert!(row.contains(" at "), "{row}");
    person.press(Key::Enter);
    assert_eq!(person.focused(), row);
    person.press(Key::F6);
    person.tab_to("Take over");
    person.press(Key::Enter);
    assert_eq!(person.focused(), "The answer");
}

/// The button that takes a point of a sweep over stands beside the curves, however many.
#[test]
fn the_point_of_a_sweep_is_in_sight_with_four_curves() {
    let mut harness = sheet(Look::USUAL, shower_gel(false), SheetName::Aim);
    click(&mut harness, "Sweep");
    // Before a line is chosen all of them are there to begin with.
    let line = harness.get_by_label_contains("Move Glycerin 99.5 %, ");
    line.click();
    harness.run();
    assert!(!says(&harness, "Move Glycerin"));
    type_into(&mut harness, "Follow a quantity by name", "humectant");
    harness.key_press(Key::Enter);
    harness.run();
    click(&mut harness, "Work out");
    harness.run();
    let curves: Vec<_> = harness.query_all_by_label_contains("Curve of ").collect();
    assert!(curves.len() >= 4, "{}", curves.len());
    // All curves are one stop of the Tab key, the slider.
    let is_stop = |n: &Node<'_>| n.accesskit_node().data().supports_action(Action::Focus);
    assert!(!curves.iter().any(is_stop));
    drop(curves);
    harness
        .get_by_role_and_label(Role::Slider, "Point of Glycerin 99.5 %")
        .focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    let button = harness.get_by_role_and_label(Role::Button, "Take over");
    let status = harness.get_by_label("Surfactant active").rect();
    assert!(button.rect().bottom() < status.top(), "{:?}", button.rect());
}

/// A pH that was read on a trial of the formula as it stands is told on the tile, and taken over
/// by one button in its panel.
#[test]
fn a_ph_read_on_a_trial_is_offered() {
    let folder = tempfile::tempdir().unwrap();
    let from = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/oat-and-juniper-shower-gel.formula.ron");
    let path = folder.path().join("gel.formula.ron");
    std::fs::copy(from, &path).unwrap();
    let mut harness = sheet(Look::USUAL, Formula::new("New formula"), SheetName::Formula);
    harness.state_mut().push(Command::OpenPath(path));
    harness.run();
    let tile = |harness: &Harness<'_, Bench>| {
        let all = harness.get_all_by_role(Role::Button);
        let names = all.filter_map(|n| n.accesskit_node().label());
        names.into_iter().find(|n| n.starts_with("pH ")).unwrap()
    };
    assert!(tile(&harness).contains("measure"), "{}", tile(&harness));
    harness.state_mut().push(Command::Show(SheetName::Trials));
    harness.run();
    type_into(&mut harness, "Noted by", "Wren");
    click(&mut harness, "Begin a trial");
    // The cursor stands in the first field.
    let first = harness.get_by_role_and_label(Role::TextInput, "What is to be learnt");
    assert!(first.is_focused());
    type_into(&mut harness, "What is to be learnt", "pH");
    type_into(&mut harness, "Mass made, g", "200 g");
    click(&mut harness, "Begin");
    harness
        .get_by_role_and_label(Role::ComboBox, "What is read")
        .click();
    harness.run();
    harness.get_all_by_label("pH").last().unwrap().click();
    harness.run();
    type_into(&mut harness, "Value, more after ;", "5.12");
    harness.key_press(Key::Enter);
    harness.run();
    harness.state_mut().push(Command::Show(SheetName::Formula));
    harness.run();
    assert!(tile(&harness).contains("read 5.12"), "{}", tile(&harness));
    let name = tile(&harness);
    harness.get_by_role_and_label(Role::Button, &name).click();
    harness.run();
    click(&mut harness, "Take pH 5.12 over");
    let measured = harness.state().state().current().variant().measured.ph;
    assert_eq!(measured, Ph::new(5.12));
    assert!(tile(&harness).contains("5.12 measured"));
    harness.state_mut().push(Command::Undo);
    harness.run();
    let measured = harness.state().state().current().variant().measured.ph;
    assert_eq!(measured, None);
}

/// What the label lacks is said in one line above it, which leads there.
#[test]
fn what_a_label_lacks_is_told_at_its_top() {
    let mut harness = sheet(
        Look::USUAL,
        example("oat-and-juniper-shower-gel"),
        SheetName::Label,
    );
    let show = "Show what is missing";
    assert!(harness.query_by_label(show).is_none());
    harness.get_by_label("US").click();
    harness.run();
    let bottom = harness.get_by_label("Surfactant active").rect().top();
    let title =
        |harness: &Harness<'_, Bench>| harness.get_by_label("The rest of the label").rect().top();
    assert!(title(&harness) > bottom);
    let button = harness.get_by_label(show);
    assert!(button.rect().bottom() < harness.get_by_label("The label as it prints").rect().top());
    button.click();
    harness.run();
    harness.run();
    assert!(title(&harness) < bottom, "{} {bottom}", title(&harness));
    // The cursor is where the first thing that is missing is stated.
    let has_cursor = |harness: &Harness<'_, Bench>, name: &str| {
        let field = harness.get_by_role_and_label(Role::TextInput, name);
        field.is_focused()
    };
    assert!(has_cursor(&harness, "US contact"));
    // And where one asks for another.
    let other = "Small letters, height in mm";
    harness.get_by_label(&format!("State it: {other}")).click();
    harness.run();
    harness.run();
    assert!(has_cursor(&harness, other));
}

/// What was only told goes when one leaves the sheet on which it was told.
#[test]
fn a_note_in_the_status_bar_stays_on_its_sheet() {
    let mut harness = sheet(Look::USUAL, shower_gel(false), SheetName::Label);
    click(&mut harness, "Copy the list");
    assert!(says(&harness, "is on the clipboard"));
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    assert!(!says(&harness, "is on the clipboard"));
}

/// A proposal for a pH starts from the pH measured, and says so.
#[test]
fn aiming_at_a_ph_that_was_measured_says_what_it_starts_from() {
    let mut harness = sheet(Look::USUAL, shower_gel(false), SheetName::Aim);
    let told = "a proposal starts from there";
    click(&mut harness, "pH of 5.2");
    assert!(!says(&harness, told));
    let measured = Measured {
        ph: Ph::new(6.1),
        ..Measured::default()
    };
    let edit = Edit::SetMeasured(measured);
    harness.state_mut().push(Command::Edit(edit));
    harness.run();
    assert!(says(&harness, told));
}

/// The cursor goes where something is to be typed next: the name of a new variant, and who works.
#[test]
fn the_cursor_goes_to_what_is_typed_next() {
    let mut person = Person::with(Look::USUAL, shower_gel(false));
    person.click(Role::Button, "More about this variant");
    person.click(Role::Button, "New variant from this");
    person.harness.run();
    assert_eq!(person.focused(), "Variant name");
    person.types("Milder");
    person.press(Key::Enter);
    assert_eq!(&*person.formula().active().name, "Milder");
    person
        .harness
        .state_mut()
        .push(Command::Show(SheetName::Make));
    person.harness.run();
    person.click(Role::Button, "Begin the batch");
    person.harness.run();
    assert_eq!(person.focused(), "Done by");
}

/// A practised hand does not wait for the cursor: what is typed in one go, within one frame,
/// goes where it is meant.
#[test]
fn what_is_typed_ahead_goes_where_the_cursor_will_be() {
    let mut person = Person::at_a_new_formula(Look::USUAL);
    person.types("Winter wash");
    person.click(Role::RadioButton, "Sulfate wash with salt");
    person.click(Role::Button, "Begin");
    let enter = || egui::Event::Key {
        key: Key::Enter,
        physical_key: None,
        pressed: true,
        repeat: false,
        modifiers: Modifiers::NONE,
    };
    let typed = ["water", "glycerin", "3", "sles", "30", "salt", "1"];
    for text in typed {
        let text = egui::Event::Text(text.to_owned());
        person.harness.input_mut().events.extend([text, enter()]);
    }
    for _ in 0..4 * typed.len() {
        person.harness.step();
    }
    let lines = person.formula().active().lines();
    let shares: Vec<String> = lines.map(|(_, l)| l.percent.to_string()).collect();
    assert_eq!(shares, ["66", "3", "30", "1"]);
    assert_eq!(person.focused(), "Add a line");
}

/// In a wide window what stands below each other in a small one stands beside it.
#[test]
fn a_wide_window_is_used() {
    let left = |harness: &Harness<'_, Bench>, name: &str| {
        let mut found = harness.query_all_by_label_contains(name);
        found.next().unwrap().rect().left()
    };
    let gel = || example("oat-and-juniper-shower-gel");
    for (look, is_beside) in [(WIDE, true), (Look::SMALL, false)] {
        let harness = sheet(look, gel(), SheetName::Label);
        let apart = left(&harness, "Regulation (EC) No 1223/2009, Article 19(1)(g)")
            - left(&harness, "The label as it prints");
        assert_eq!(apart > 300.0, is_beside, "label {apart}");
        let harness = sheet(look, gel(), SheetName::Make);
        let apart = left(&harness, "Phase D") - left(&harness, "Phase A");
        assert_eq!(apart > 300.0, is_beside, "make {apart}");
    }
    for (look, is_beside) in [(WIDE, true), (Look::SMALL, false)] {
        let mut harness = sheet(look, gel(), SheetName::Make);
        for (page, first, second) in [
            (
                "Calendar",
                "What is due today",
                "Scales, meters and vessels",
            ),
            ("Workshop", "Vessels", "Habits"),
            ("Specification", "Add pH", "Asked of every batch"),
            ("All batches", "Search code", "Recall: every batch"),
        ] {
            click(&mut harness, page);
            let apart = left(&harness, second) - left(&harness, first);
            assert_eq!(apart > 300.0, is_beside, "{page} {apart}");
        }
    }
    let mut harness = sheet(WIDE, gel(), SheetName::Trials);
    harness
        .state_mut()
        .push(Command::OpenExample(examples::FIRST));
    harness.run();
    harness.state_mut().push(Command::Show(SheetName::Trials));
    harness.run();
    let apart = left(&harness, "Readings as weighed") - left(&harness, "Note a reading");
    assert!(apart > 300.0, "trials {apart}");
}

/// The chart of two variants is one stop of the Tab key, and the arrows go through its classes.
#[test]
fn the_chart_of_two_variants_is_walked_by_keys() {
    let mut person = Person::with(Look::USUAL, example("oat-and-juniper-shower-gel"));
    let show = Command::Show(SheetName::SideBySide);
    person.harness.state_mut().push(show);
    person.harness.run();
    person.tab_to("water added: 45.80 % to 52.20 %");
    person.press(Key::ArrowDown);
    assert!(person.focused().starts_with("water brought in: "));
    // What each side brings in stands beside it.
    assert!(says(&person.harness, "Sodium C14-16 olefin sulfonate"));
    person.press(Key::End);
    let last = person.focused();
    person.press(Key::Home);
    assert!(person.focused().starts_with("water added"));
    assert_ne!(last, person.focused());
    person.press(Key::Tab);
    assert_ne!(person.focus().unwrap().0, Role::ListItem);
    // It comes back to where one was.
    person.press_with(Modifiers::SHIFT, Key::Tab);
    assert!(person.focused().starts_with("water added"));
}
