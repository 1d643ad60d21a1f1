//! The sheet Trials, driven through the accessibility tree.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::{Path, PathBuf};

use acceptance::window::{Look, bench, picture, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::file::store::Expect;
use formulation::file::{formula_file, trial_file, trial_store};
use formulation::shelf::built_in;
use formulation::trial::book::Book;
use formulation::trial::reading::Quantity;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::examples;
use phasewright::sheets::SheetName;

/// A copy of the shower gel on disk, without trials.
fn gel(folder: &Path) -> PathBuf {
    let from = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/oat-and-juniper-shower-gel.formula.ron");
    let path = folder.join("gel.formula.ron");
    std::fs::copy(from, &path).unwrap();
    path
}

fn window(look: Look, path: &Path) -> Harness<'static, Bench> {
    let (formula, _) = formula_file::open(path).unwrap();
    let mut harness = bench(look, state(built_in().clone(), formula));
    harness
        .state_mut()
        .push(Command::OpenPath(path.to_path_buf()));
    harness.run();
    harness.state_mut().push(Command::Show(SheetName::Trials));
    harness.run();
    harness
}

fn click(harness: &mut Harness<'_, Bench>, label: &str) {
    harness.get_by_label(label).scroll_to_me();
    harness.run();
    harness.get_by_label(label).click();
    harness.run();
    harness.run();
}

/// Whether the window says something, in one place or several.
fn says(harness: &Harness<'_, Bench>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

fn book(path: &Path) -> Book {
    trial_store::read(&trial_file::path_of(path)).unwrap().book
}

fn message(harness: &Harness<'_, Bench>) -> String {
    let message = &harness.state().state().message;
    message
        .as_ref()
        .map_or_else(String::new, |m| m.text.clone())
}

#[test]
fn a_salt_curve_is_noted_step_by_step() {
    let folder = tempfile::tempdir().unwrap();
    let path = gel(folder.path());
    let mut harness = window(Look::USUAL, &path);
    picture(&mut harness, "trials-empty");
    assert!(
        harness
            .query_by_label("Open the invented example")
            .is_some()
    );
    type_into(&mut harness, "Noted by", "Wren");
    click(&mut harness, "Begin a trial");
    type_into(&mut harness, "What is to be learnt", "Salt curve");
    type_into(&mut harness, "Mass made, g", "200 florins");
    click(&mut harness, "Begin");
    assert!(book_missing(&path));
    type_into(&mut harness, "Mass made, g", "200 g");
    type_into(&mut harness, "Room, °C", "70 °F");
    click(&mut harness, "Begin");
    assert_eq!(book(&path).trials[0].by, "Wren");
    let room = book(&path).trials[0].opening.room_celsius.unwrap();
    assert!((room - 21.111).abs() < 0.01);

    // A reading with a unit; one with a wrong unit is refused with its field.
    type_into(&mut harness, "Value in mPa·s, more after ;", "4 g");
    click(&mut harness, "Note it");
    assert_eq!(book(&path).readings.len(), 0);
    assert!(says(&harness, "no unit known here"));
    type_into(
        &mut harness,
        "Value in mPa·s, more after ;",
        "4.1 Pa·s; 4300",
    );
    type_into(&mut harness, "Sample temperature, °C", "25");
    click(&mut harness, "Note it");
    let noted = book(&path);
    assert_eq!(
        noted.readings[0].reading.figures().unwrap(),
        [4100.0, 4300.0]
    );
    assert_eq!(noted.readings[0].reading.celsius, Some(25.0));

    // Corrected: the old value stays.
    click(&mut harness, "Correct… reading 1");
    let fields = harness
        .get_all_by_role_and_label(egui::Role::TextInput, "Value in mPa·s, more after ;")
        .count();
    assert_eq!(fields, 2);
    type_into(&mut harness, "Why", "misread");
    click(&mut harness, "Note the correction");
    let noted = book(&path);
    assert_eq!(noted.readings[0].before.len(), 1);
    picture(&mut harness, "trials-readings");
    click(&mut harness, "Set aside… reading 1");
    type_into(&mut harness, "Why", "air in the beaker");
    click(&mut harness, "Set it aside");
    assert_eq!(
        book(&path).readings[0].set_aside.as_deref(),
        Some("air in the beaker")
    );
}

fn book_missing(path: &Path) -> bool {
    !trial_file::path_of(path).exists()
}

/// The invented example opens with its trials and carries them along when it is saved.
#[test]
fn the_example_shows_curves_and_what_is_due_and_is_saved_with_its_trials() {
    let folder = tempfile::tempdir().unwrap();
    let path = gel(folder.path());
    let mut harness = window(Look::USUAL, &path);
    click(&mut harness, "Open the invented example");
    harness.state_mut().push(Command::Show(SheetName::Trials));
    harness.run();
    assert!(says(&harness, "This is an invented example"));
    picture(&mut harness, "trials-example");
    click(&mut harness, "Curves");
    assert!(says(&harness, "beyond it more thins"));
    picture(&mut harness, "trials-curves");
    click(&mut harness, "Learnt");
    // It is learnt beside the window.
    for _ in 0..500 {
        if says(&harness, "left out in turn and foretold from the others") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
        harness.run();
    }
    assert!(says(
        &harness,
        "left out in turn and foretold from the others"
    ));
    assert!(says(&harness, "pH: measured 4.82"));
    picture(&mut harness, "trials-learnt");
    click(&mut harness, "Stability");
    assert!(
        harness
            .query_by_label("Read sample 40 °C, 8 weeks")
            .is_some()
    );
    assert!(says(&harness, "within what was set so far"));
    picture(&mut harness, "trials-stability");
    click(&mut harness, "Planned set");
    picture(&mut harness, "trials-set");

    // Without a file nothing can be noted; it is said, and nothing is lost.
    click(&mut harness, "Stability");
    click(&mut harness, "Read sample 40 °C, 8 weeks");
    type_into(&mut harness, "Value in mPa·s, more after ;", "3700");
    click(&mut harness, "Note it");
    assert!(
        message(&harness).contains("save the formula first"),
        "{}",
        message(&harness)
    );
    let saved = folder.path().join("example.formula.ron");
    let id = harness.state().state().current().id;
    harness
        .state_mut()
        .state_mut()
        .save(id, saved.clone(), Expect::Nothing)
        .unwrap();
    harness.run();
    harness.run();
    assert_eq!(book(&saved).trials.len(), 12);
    assert!(
        message(&harness).contains("due now"),
        "{}",
        message(&harness)
    );
    let original = examples::FIRST.read_trials().unwrap().unwrap();
    assert_eq!(book(&saved), original.book);

    // A reading of exactly this composition goes with the finished formula once it is ticked.
    click(&mut harness, "Learnt");
    let goes = "goes with the finished formula and the recipe";
    harness
        .query_all_by_label_contains(goes)
        .next()
        .unwrap()
        .click();
    harness.run();
    harness.run();
    let told: Vec<usize> = book(&saved)
        .readings
        .iter()
        .filter(|k| k.told)
        .map(|k| k.number)
        .collect();
    assert_eq!(told.len(), 1);
    picture(&mut harness, "trials-told");
}

#[test]
fn a_planned_set_is_made_begun_and_read_in_one_table() {
    let folder = tempfile::tempdir().unwrap();
    let path = gel(folder.path());
    let mut harness = window(Look::USUAL, &path);
    click(&mut harness, "Planned set");
    click(&mut harness, "Plan the set");
    assert!(says(&harness, "choose one to six lines"));
    click(&mut harness, "Cocamidopropyl betaine solution 30 %");
    click(&mut harness, "Plan the set");
    picture(&mut harness, "trials-planned");
    click(&mut harness, "Begin these trials");
    let begun = book(&path);
    assert!(begun.trials.len() >= 3);
    let set = begun.trials[0].opening.set.unwrap();
    assert_eq!((set.set, set.run), (1, 1));
    type_into(&mut harness, "Sample temperature, °C", "20 °C");
    type_into(&mut harness, "Viscometer and settings", "LV3, 12 rpm");
    type_into(&mut harness, "viscosity of trial 2", "5.2 Pa·s");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    let read = book(&path);
    assert_eq!(read.readings[0].trial, 2);
    assert_eq!(read.readings[0].reading.quantity, Quantity::Viscosity);
    assert_eq!(read.readings[0].reading.mean(), Some(5200.0));
    assert_eq!(read.readings[0].reading.how(), "LV3, 12 rpm, 20 °C");
}

#[test]
fn a_stability_plan_is_laid_out_and_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = gel(folder.path());
    let mut harness = window(Look::SMALL, &path);
    click(&mut harness, "Begin a trial");
    type_into(&mut harness, "What is to be learnt", "Stability");
    type_into(&mut harness, "Mass made, g", "2 kg");
    click(&mut harness, "Begin");
    click(&mut harness, "Stability");
    click(&mut harness, "Lay out a plan");
    type_into(&mut harness, "Times", "start; 3 moons");
    click(&mut harness, "Note the plan");
    assert!(says(&harness, "“3 moons” is no time"));
    type_into(&mut harness, "Times", "start; 4 weeks; 2 weeks");
    type_into(
        &mut harness,
        "Limits, for example viscosity=4000..7000; ph=4.6..5.2; colour=..3",
        "ph=4.6..5.2",
    );
    click(&mut harness, "Note the plan");
    let plan = &book(&path).plans[0];
    assert_eq!(
        plan.times.iter().map(|t| t.days).collect::<Vec<_>>(),
        [0, 14, 28]
    );
    click(&mut harness, "Change the plan");
    type_into(&mut harness, "Conditions", "25 °C");
    click(&mut harness, "Replace the plan");
    let noted = book(&path);
    assert_eq!(noted.plans.len(), 1);
    assert_eq!(noted.plans[0].conditions, ["25 °C"]);
    picture(&mut harness, "trials-plan-small");
}
