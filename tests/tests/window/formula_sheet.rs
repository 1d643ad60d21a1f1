//! The window, driven through the accessibility tree.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::window::{Look, bench, folders, picture, plain_wash, shower_gel, state, type_into};
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use egui_kittest::{Harness, SnapshotResults};
use formulation::file::store::Expect;
use formulation::file::{finished, formula_file, formula_table};
use formulation::formula::{Formula, ItemId, ProductType};
use formulation::material::ProductKind;
use formulation::quantity::Percent;
use formulation::shelf::{Shelf, built_in};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;
use phasewright::state::Folders;

fn gel_window(over: bool) -> Harness<'static, Bench> {
    bench(Look::USUAL, state(built_in().clone(), shower_gel(over)))
}

fn formula<'h>(harness: &'h Harness<'_, Bench>) -> &'h Formula {
    harness.state().state().current().formula()
}

/// The line of the material whose name contains this.
fn line(harness: &Harness<'_, Bench>, name: &str) -> (ItemId, Percent) {
    let formula = formula(harness);
    formula
        .active()
        .lines()
        .find(|(_, l)| formula.material(&l.material).unwrap().name.contains(name))
        .map(|(_, l)| (l.id, l.percent))
        .unwrap()
}

fn steps(harness: &Harness<'_, Bench>) -> usize {
    harness.state().state().current().history().steps().len()
}

fn percent(text: &str) -> Percent {
    text.parse().unwrap()
}

#[test]
fn every_sheet_opens() {
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
}

#[test]
fn a_line_is_added_by_typing() {
    let mut harness = gel_window(false);
    let before = formula(&harness).active().lines().count();
    type_into(&mut harness, "Add a line", "panthenol");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(formula(&harness).active().lines().count(), before + 1);
    let (_, first) = line(&harness, "Panthenol");
    assert_eq!(first, Percent::ZERO);

    // The cursor now stands in the percentage of the new line.
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "D-Panthenol 75 % percent");
    assert!(field.is_focused());
    field.type_text("1.5");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(line(&harness, "Panthenol").1, percent("1.5"));
    assert_eq!(formula(&harness).active().total(), Percent::HUNDRED);
}

/// What the law has for products that are rinsed off only is said before it is put into one that
/// stays on: Regulation (EC) No 1223/2009, Annex V, entry 39.
#[test]
fn what_the_product_may_not_hold_is_said_in_the_search() {
    for (rinse_off, said) in [(true, false), (false, true)] {
        let mut gel = shower_gel(false);
        let mut variant = gel.active().as_ref().clone();
        if !rinse_off {
            variant.product.kinds = ProductKind::LeaveOn.into();
        }
        gel.variants = vec![variant.into()];
        let mut harness = bench(Look::USUAL, state(built_in().clone(), gel));
        type_into(&mut harness, "Add a line", "methylchloroisothiazolinone");
        let results = harness.query_all_by_role(egui::Role::ListBoxOption);
        let told: Vec<_> = results
            .filter_map(|row| row.accesskit_node().description())
            .collect();
        let forbidden = told
            .first()
            .unwrap()
            .contains("not in this product, EU V/39");
        assert_eq!(forbidden, said, "{told:?}");
    }
}

#[test]
fn a_dragged_slider_makes_a_finding_come_and_undo_makes_it_go() {
    let mut harness = gel_window(false);
    let breach = "Caution: Sodium benzoate is at";
    assert!(harness.query_all_by_label_contains(breach).next().is_none());

    let slider = harness.get_by_label("Sodium benzoate slider");
    let rect = slider.rect();
    slider.scroll_to_me();
    harness.run();
    let rect = harness
        .get_by_label("Sodium benzoate slider")
        .rect()
        .intersect(rect.expand(1e4));
    let from = rect.left_center() + vec2(12.0, 0.0);
    harness.drag_at(from);
    for part in 1..=8_u8 {
        let to = rect.left_center() + vec2(rect.width() * f32::from(part) / 8.0 - 10.0, 0.0);
        harness.hover_at(to);
        harness.run();
    }
    assert!(harness.query_all_by_label_contains(breach).next().is_some());
    assert!(harness.state().state().current().has_draft());
    harness.drop_at(rect.right_center() - vec2(10.0, 0.0));
    harness.run();
    assert!(line(&harness, "Sodium benzoate").1 > percent("0.6"));
    assert_eq!(formula(&harness).active().total(), Percent::HUNDRED);
    // The whole drag is one step.
    assert_eq!(steps(&harness), 2);

    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert!(harness.query_all_by_label_contains(breach).next().is_none());
    assert_eq!(line(&harness, "Sodium benzoate").1, percent("0.5"));
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z);
    harness.run();
    assert!(harness.query_all_by_label_contains(breach).next().is_some());
}

#[test]
fn a_slider_moves_by_key_and_by_assistive_programs() {
    let mut harness = gel_window(false);
    harness.get_by_label("Sodium benzoate slider").focus();
    harness.run();
    harness.key_press(Key::ArrowRight);
    harness.run();
    let by_key = line(&harness, "Sodium benzoate").1;
    assert!(by_key > percent("0.5"));
    assert!(!harness.state().state().current().has_draft());
    harness
        .get_by_label("Sodium benzoate slider")
        .set_value_accesskit(0.75);
    harness.run();
    assert_eq!(line(&harness, "Sodium benzoate").1, percent("0.75"));
    assert_eq!(steps(&harness), 3);
}

#[test]
fn a_wrong_percentage_is_refused_in_words() {
    let mut harness = gel_window(false);
    type_into(&mut harness, "Sodium benzoate percent", "much");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(line(&harness, "Sodium benzoate").1, percent("0.5"));
    // Beside the field, in which it stays to be mended.
    let why = "“much” is not a percentage";
    assert!(harness.query_by_label_contains(why).is_some());
    assert_eq!(harness.state().state().message, None);
    let shown = |harness: &Harness<'_, Bench>| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, "Sodium benzoate percent");
        field.accesskit_node().value().unwrap_or_default()
    };
    assert_eq!(shown(&harness), "much");
    picture(&mut harness, "formula-refused");
    harness.key_press(Key::Escape);
    harness.run();
    harness.run();
    assert!(harness.query_by_label_contains(why).is_none());
    assert_eq!(shown(&harness), "0.5");
}

/// In every field of the sheet that is read, and in the panels of the read-outs.
#[test]
fn what_is_refused_is_told_at_its_field_and_goes_with_the_next() {
    let mut harness = gel_window(false);
    let says = |harness: &Harness<'_, Bench>, words: &str| {
        harness.query_by_label_contains(words).is_some()
    };
    for (field, wrong, why, right) in [
        ("Batch in grams", "a lot", "is not a mass", "300"),
        (
            "Temperature of phase A in °C",
            "hot",
            "is not a temperature",
            "70",
        ),
    ] {
        type_into(&mut harness, field, wrong);
        harness.key_press(Key::Enter);
        harness.run();
        assert!(says(&harness, why), "{field}");
        type_into(&mut harness, field, right);
        harness.key_press(Key::Enter);
        harness.run();
        harness.run();
        assert!(!says(&harness, why), "{field}");
    }
    assert_eq!(harness.state().state().message, None);
}

/// 165 °F are 73.9 °C; nothing is rounded to whole degrees.
#[test]
fn a_temperature_stands_in_its_field_as_it_was_typed() {
    let mut harness = gel_window(false);
    let field = "Temperature of phase A in °C";
    for (typed, shown) in [("72.5", "72.5"), ("165 °F", "73.9"), ("70", "70")] {
        type_into(&mut harness, field, typed);
        harness.key_press(Key::Enter);
        harness.run();
        harness.run();
        let value = harness
            .get_by_role_and_label(egui::Role::TextInput, field)
            .value();
        assert_eq!(value.as_deref(), Some(shown), "{typed}");
    }
}

#[test]
fn lines_move_by_keyboard_between_phases() {
    let mut harness = gel_window(false);
    let (id, _) = line(&harness, "Disodium EDTA");
    harness.get_by_label("Move Disodium EDTA dihydrate").focus();
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    let variant = formula(&harness).active();
    assert_eq!(variant.phase_of(id).unwrap().letter.as_ref(), "B");
    assert_eq!(variant.phase_of(id).unwrap().lines[0].id, id);
}

#[test]
fn a_line_moves_by_drag() {
    let mut harness = gel_window(false);
    let (id, _) = line(&harness, "Xanthan gum");
    let from = harness.get_by_label("Move Xanthan gum").rect().center();
    let target = harness.get_by_label("Move Disodium EDTA dihydrate").rect();
    harness.drag_at(from);
    harness.hover_at(from + vec2(4.0, -12.0));
    harness.run();
    harness.hover_at(target.center_top() + vec2(60.0, 2.0));
    harness.run();
    harness.drop_at(target.center_top() + vec2(60.0, 2.0));
    harness.run();
    let phase = formula(&harness).active().phase_of(id).unwrap();
    assert_eq!(phase.letter.as_ref(), "A");
    assert_eq!(phase.lines[1].id, id);
}

#[test]
fn a_click_on_a_finding_goes_to_its_line() {
    let mut harness = gel_window(true);
    harness
        .get_all_by_label_contains("Caution: Sodium benzoate is at")
        .find(|n| n.accesskit_node().role() == egui::Role::Button)
        .unwrap()
        .click();
    harness.run();
    let (id, _) = line(&harness, "Sodium benzoate");
    assert_eq!(harness.state().state().current().chosen, [id].into());
}

#[test]
fn a_click_on_the_chart_chooses_lines() {
    let mut harness = gel_window(false);
    harness
        .get_by_label_contains("anionic surfactant: ")
        .click();
    harness.run();
    let (id, _) = line(&harness, "Sodium laureth sulfate");
    assert_eq!(harness.state().state().current().chosen, [id].into());
}

#[test]
fn the_sums_of_a_block_stand_beside_the_names() {
    let mut harness = gel_window(false);
    harness
        .get_by_label_contains("anionic surfactant: ")
        .hover();
    // Until the pointer has rested long enough for the hover.
    harness.run_steps(60);
    let figure = harness.get_by_label("7.560 %").rect();
    let name = harness
        .get_all_by_label("Sodium laureth sulfate solution 28 %")
        .map(|n| n.rect())
        .find(|r| (r.center().y - figure.center().y).abs() < 6.0)
        .unwrap();
    assert!(name.right() < figure.left(), "{name} {figure}");
}

#[test]
fn open_formulas_of_one_name_are_told_apart_by_their_files() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = gel_window(false);
    let names = |harness: &Harness<'_, Bench>| -> Vec<String> {
        let state = harness.state().state();
        let all = state.documents().iter();
        all.map(|d| state.name_of(d)).collect()
    };
    save_as(&mut harness, &folder.path().join("mine.formula.ron"));
    let alone = names(&harness);
    let [name] = alone.as_slice() else {
        panic!("{alone:?}")
    };
    assert_eq!(**name, *formula(&harness).name);
    let copy = folder.path().join("theirs.formula.ron");
    std::fs::copy(folder.path().join("mine.formula.ron"), &copy).unwrap();
    harness.state_mut().push(Command::OpenPath(copy));
    harness.run();
    assert_eq!(names(&harness), ["mine.formula.ron", "theirs.formula.ron"]);
    harness
        .state_mut()
        .push(Command::Show(SheetName::SideBySide));
    harness.run();
}

#[test]
fn a_step_just_added_is_typed_next() {
    let mut harness = gel_window(false);
    harness.get_by_label("Steps of phase A: none yet").click();
    harness.run();
    harness.get_by_label("Add a step").click();
    harness.run();
    let name = "Step 1 of phase A: what to do";
    let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
    assert!(field.is_focused());
    field.type_text("Let it rest");
    harness.key_press(Key::Enter);
    harness.run();
    let phase = &formula(&harness).active().phases[0];
    assert_eq!(&*phase.steps[0].text, "Let it rest");
}

#[test]
fn the_filler_and_holds_are_kept() {
    let mut harness = gel_window(false);
    harness.get_by_label("Hold Xanthan gum").click();
    harness.run();
    harness
        .get_by_label("Glycerin 99.5 % is the filler")
        .click();
    harness.run();
    type_into(&mut harness, "Sodium benzoate percent", "0.3");
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(line(&harness, "Glycerin").1, percent("3.2"));
    assert_eq!(line(&harness, "Xanthan").1, percent("0.8"));
    assert_eq!(formula(&harness).active().total(), Percent::HUNDRED);
}

fn save_as(harness: &mut Harness<'_, Bench>, path: &Path) {
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    harness.run();
    type_into(harness, "Path", &path.to_string_lossy());
    harness.key_press(Key::Enter);
    harness.run();
}

#[test]
fn a_formula_is_saved_and_opens_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let mut harness = gel_window(false);
    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(harness.state().state().current().is_changed());
    save_as(&mut harness, &path);
    assert!(!harness.state().state().current().is_changed());

    type_into(&mut harness, "Sodium benzoate percent", "0.4");
    harness.key_press(Key::Enter);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    assert!(!harness.state().state().current().is_changed());

    let mut again = bench(
        Look::USUAL,
        state(built_in().clone(), Formula::new("New formula")),
    );
    again.state_mut().push(Command::OpenPath(path));
    again.run();
    assert_eq!(formula(&again), formula(&harness));
    assert_eq!(again.state().state().documents().len(), 1);
}

#[test]
fn a_saved_file_is_remembered_by_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let start = |formula: Formula| {
        let mut state = state(built_in().clone(), formula);
        state.folders = Folders {
            config: Some(folder.path().join("config")),
            recovery: None,
        };
        (state.settings, _) = state.folders.read_settings();
        bench(Look::USUAL, state)
    };
    let mut harness = start(shower_gel(false));
    save_as(&mut harness, &path);
    // Killed: nothing is written at the end.
    std::mem::forget(harness);
    let mut again = start(Formula::new("New formula"));
    again.state_mut().begin(Vec::new());
    again.run();
    assert_eq!(again.state().state().current().path, Some(path));
}

#[test]
fn a_path_that_does_not_do_is_typed_anew_where_it_stands() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = gel_window(false);
    let wrong = folder.path().join("none").join("gel.formula.ron");
    save_as(&mut harness, &wrong);
    harness.get_by_label_contains("The folder is not there");
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Path");
    assert_eq!(field.value().as_deref(), wrong.to_str());
    // What is typed replaces the proposal; a name alone goes into the folder proposed.
    let right = folder.path().join("gel.formula.ron");
    type_into(&mut harness, "Path", &right.to_string_lossy());
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(harness.state().state().current().path, Some(right));
    harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::S);
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::TextInput, "Path")
        .type_text("other");
    harness.run();
    harness.key_press(Key::Enter);
    harness.run();
    let other = folder.path().join("other.formula.ron");
    assert_eq!(harness.state().state().current().path, Some(other));
}

#[test]
fn a_name_is_typed_after_the_folder_that_is_proposed() {
    let mut harness = gel_window(false);
    for name in ["gel", "balm"] {
        harness.key_press_modifiers(Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
        harness.run();
        let field = |harness: &Harness<'_, Bench>| {
            let node = harness.get_by_role_and_label(egui::Role::TextInput, "Path");
            node.value().unwrap_or_default()
        };
        let folder = field(&harness);
        harness
            .get_by_role_and_label(egui::Role::TextInput, "Path")
            .type_text(name);
        harness.run();
        assert_eq!(field(&harness), format!("{folder}{name}"));
        // Wherever the cursor is when the question is left.
        harness.key_press(Key::Home);
        harness.run();
        harness.key_press(Key::Escape);
        harness.run();
    }
}

#[test]
fn words_left_in_the_search_box_are_replaced() {
    let mut harness = gel_window(false);
    type_into(&mut harness, "Add a line", "nothing of the kind");
    harness.key_press(Key::Escape);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::K);
    harness.run();
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Add a line");
    field.type_text("panthenol");
    harness.run();
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Add a line");
    assert_eq!(field.value().as_deref(), Some("panthenol"));
}

#[test]
fn a_file_that_cannot_be_read_is_told_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("torn.formula.ron");
    std::fs::write(
        &path,
        "(\n  format: \"phasewright formula\",\n  version: 1,\n  name: 7\n",
    )
    .unwrap();
    let mut harness = gel_window(false);
    harness.state_mut().push(Command::OpenPath(path));
    harness.run();
    harness.get_by_label("The file could not be opened");
    harness.get_by_label_contains("torn.formula.ron");
    harness.get_by_label("Close").click();
    harness.run();
    assert!(
        harness
            .query_by_label("The file could not be opened")
            .is_none()
    );
}

#[test]
fn unsaved_changes_are_guarded() {
    let mut harness = gel_window(false);
    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press(Key::Enter);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::W);
    harness.run();
    harness.get_by_label("Save the changes first?");
    // Enter gives the likely answer.
    assert!(harness.get_by_label("Save").is_focused());
    harness.get_by_label("Cancel").click();
    harness.run();
    assert_eq!(line(&harness, "Sodium benzoate").1, percent("0.45"));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::W);
    harness.run();
    harness.get_by_label("Don’t save").click();
    harness.run();
    assert_eq!(formula(&harness).active().lines().count(), 0);
}

#[test]
fn a_change_by_another_program_is_noticed_and_nothing_overwritten_unasked() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let mut harness = gel_window(false);
    save_as(&mut harness, &path);
    let mut theirs = std::fs::read_to_string(&path).unwrap();
    theirs.push('\n');
    std::fs::write(&path, &theirs).unwrap();
    harness.state_mut().state_mut().watch();
    harness.run();
    harness.get_by_label_contains("Another program changed gel.formula.ron");

    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press(Key::Enter);
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    harness.get_by_label("Replace the file?");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), theirs);
    harness.get_by_label("Replace").click();
    harness.run();
    assert_ne!(std::fs::read_to_string(&path).unwrap(), theirs);
    let kept = folder.path().join("gel.formula.ron.replaced");
    assert_eq!(std::fs::read_to_string(kept).unwrap(), theirs);
}

/// Where the child process of the crash test keeps its unsaved work.
const CRASH: &str = "PHASEWRIGHT_TEST_CRASH_IN";

/// Plays the crashed program in a process of its own; does nothing otherwise.
#[test]
fn crash_with_unsaved_work() {
    let Some(folder) = std::env::var_os(CRASH) else {
        return;
    };
    let mut state = state(built_in().clone(), shower_gel(false));
    state.folders = Folders {
        config: None,
        recovery: Some(folder.into()),
    };
    let mut harness = bench(Look::USUAL, state);
    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press(Key::Enter);
    harness.run();
    harness
        .state_mut()
        .state_mut()
        .keep_unsaved("2026-03-02T12:00:00Z");
    std::process::abort();
}

#[test]
fn work_is_recovered_after_a_crash() {
    let folder = tempfile::tempdir().unwrap();
    let crashed = std::process::Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "formula_sheet::crash_with_unsaved_work"])
        .env(CRASH, folder.path())
        .output()
        .unwrap();
    assert!(!crashed.status.success());

    let mut state = state(built_in().clone(), Formula::new("New formula"));
    state.folders = folders(folder.path());
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().begin(Vec::new());
    harness.run();
    harness.get_by_label("Unsaved work was kept");
    harness.get_by_label("Open them").click();
    harness.run();
    assert_eq!(line(&harness, "Sodium benzoate").1, percent("0.45"));
    assert!(harness.state().state().current().is_changed());
    drop(harness);
    // An orderly end lets go of what was kept.
    assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
}

#[test]
fn the_first_start_shows_the_example_and_three_hints() {
    let mut harness = bench(
        Look::SMALL,
        state(built_in().clone(), Formula::new("New formula")),
    );
    harness.state_mut().begin(Vec::new());
    harness.run();
    assert_eq!(
        formula(&harness).name.as_ref(),
        "Oat and juniper shower gel"
    );
    // The smallest window shows the whole hint of the search box.
    let search = harness.get_by_role_and_label(egui::Role::TextInput, "Add a line");
    assert_eq!(
        search.accesskit_node().placeholder(),
        Some("Add a line: name, INCI, CAS or role")
    );
    harness.get_by_label("Close hints").click();
    harness.run();
    assert!(harness.query_by_label("Close hints").is_none());
}

#[test]
fn the_chart_is_saved_as_a_picture() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("chart.svg");
    let mut harness = gel_window(false);
    harness.state_mut().push(Command::ExportChart(
        phasewright::command::PictureFormat::Svg,
    ));
    harness.run();
    type_into(&mut harness, "Path", &path.to_string_lossy());
    harness.key_press(Key::Enter);
    harness.run();
    let svg = std::fs::read_to_string(path).unwrap();
    assert!(svg.starts_with("<svg ") && svg.contains("As contained"));
}

#[test]
fn a_finished_formula_is_saved_from_the_menu_and_tells_when_it_was_altered() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.finished.ron");
    let mut harness = gel_window(false);
    harness.get_by_label("File").click();
    harness.run();
    harness.get_by_label_contains("Finished formula…").click();
    harness.run();
    type_into(&mut harness, "Path", &path.to_string_lossy());
    harness.key_press(Key::Enter);
    harness.run();
    let text = std::fs::read_to_string(&path).unwrap();
    let opened = finished::read(&text, "gel").unwrap();
    assert!(opened.intact);
    assert_eq!(opened.date, "2026-03-02");
    assert_eq!(
        opened.formula.active().phases,
        formula(&harness).active().phases
    );

    // Opened in the window, an altered one is told to be so.
    let altered = folder.path().join("altered.finished.ron");
    let changed = text.replacen("2026-03-02", "2026-03-03", 1);
    assert_ne!(changed, text);
    std::fs::write(&altered, changed).unwrap();
    harness.state_mut().push(Command::OpenPath(altered));
    harness.run();
    assert!(
        harness
            .query_all_by_label_contains("altered")
            .next()
            .is_some()
    );
    picture(&mut harness, "altered");
}

#[test]
fn nothing_is_cut_off_at_the_side() {
    for look in [Look::SMALL, Look::USUAL, Look::SMALL.doubled()] {
        let mut harness = bench(look, state(built_in().clone(), shower_gel(true)));
        harness.run();
        for role in [
            egui::Role::Button,
            egui::Role::TextInput,
            egui::Role::Slider,
            egui::Role::ComboBox,
        ] {
            for node in harness.query_all_by_role(role) {
                let rect = node.rect();
                let name = node.accesskit_node().label().unwrap_or_default();
                assert!(
                    rect.left() >= 0.0 && rect.right() <= look.size.x,
                    "{name} at {rect:?} in a window of {:?}",
                    look.size
                );
            }
        }
    }
}

/// A file let go over the window, as the system hands it over.
#[derive(Debug)]
struct Dropped(std::path::PathBuf);

impl egui::DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }
    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|e| e.to_string())
    }
}

#[test]
fn a_file_let_go_over_the_window_is_opened_and_remembered() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("recipe.csv");
    std::fs::write(&path, "phase,material,percent\nA,Aqua,q.s.\nA,Glycerin,3\n").unwrap();
    let mut harness = gel_window(false);
    harness
        .input_mut()
        .dropped_files
        .push(std::sync::Arc::new(Dropped(path.clone())));
    harness.run();
    assert_eq!(formula(&harness).active().lines().count(), 2);
    // A table is a working copy: it has no place of its own yet.
    assert!(harness.state().state().current().path.is_none());
    assert!(harness.state().state().current().is_changed());
    assert_eq!(harness.state().state().settings.recent, [path]);
}

#[test]
fn a_carried_material_is_taken_over_from_the_shelf() {
    let mut formula_with_old = shower_gel(false);
    let id = formula_with_old
        .materials
        .keys()
        .find(|id| id.as_str().starts_with("xanthan"))
        .unwrap()
        .clone();
    let mut old = formulation::material::Material::clone(&formula_with_old.materials[&id]);
    old.note = "an older note".into();
    formula_with_old.materials.insert(id.clone(), old.into());
    let mut harness = bench(Look::USUAL, state(built_in().clone(), formula_with_old));
    harness.get_by_label("1 material in this file differs from your shelf");
    harness.get_by_label("Show").click();
    harness.run();
    harness.get_by_label("Take over Xanthan gum").click();
    harness.run();
    assert_eq!(
        formula(&harness).materials[&id],
        built_in().get(&id).unwrap().clone()
    );
    assert!(
        harness
            .query_by_label_contains("differs from your shelf")
            .is_none()
    );
}

#[test]
fn the_rest_gives_way_as_chosen() {
    let mut harness = gel_window(false);
    let betaine = line(&harness, "betaine").1;
    let water = line(&harness, "Water").1;
    harness
        .get_by_role_and_label(egui::Role::ComboBox, "Take it from")
        .click();
    harness.run();
    harness.get_by_label("this phase").click();
    harness.run();
    type_into(
        &mut harness,
        "Sodium laureth sulfate solution 28 % percent",
        "30",
    );
    harness.key_press(Key::Enter);
    harness.run();
    assert_eq!(line(&harness, "laureth").1, percent("30"));
    assert_eq!(line(&harness, "betaine").1, betaine - percent("2"));
    assert_eq!(line(&harness, "Water").1, water);
}

#[test]
fn a_variant_is_branched_and_the_first_left_as_it_was() {
    let mut harness = gel_window(false);
    harness.get_by_label("More about this variant").click();
    harness.run();
    harness.get_by_label("New variant from this").click();
    harness.run();
    type_into(&mut harness, "Sodium benzoate percent", "0.3");
    harness.key_press(Key::Enter);
    harness.run();
    let formula = formula(&harness);
    assert_eq!(formula.variants.len(), 2);
    assert_eq!(formula.active().parent, Some(formula.variants[0].id));
    let in_first = formula.variants[0]
        .lines()
        .find(|(_, l)| l.material.as_str() == "sodium-benzoate")
        .unwrap()
        .1
        .percent;
    assert_eq!(in_first, percent("0.5"));
}

/// What the model refuses is told where it was typed, not far off in the status bar.
#[test]
fn a_name_that_is_taken_is_refused_at_its_field() {
    let mut harness = gel_window(false);
    harness.get_by_label("More about this variant").click();
    harness.run();
    harness.get_by_label("New variant from this").click();
    harness.run();
    let first = formula(&harness).variants[0].name.to_string();
    let told = "Another variant is already called";
    type_into(&mut harness, "Variant name", &first);
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label_contains(told);
    assert_eq!(harness.state().state().message, None);
    assert_ne!(*formula(&harness).active().name, *first);
    // A name of its own is taken, and the reason goes.
    type_into(&mut harness, "Variant name", "Mild");
    harness.key_press(Key::Enter);
    harness.run();
    harness.run();
    assert!(harness.query_by_label_contains(told).is_none());
    assert_eq!(formula(&harness).active().name.as_ref(), "Mild");
    // So it is with figures, names that are none, and bounds that are turned round.
    for (field, wrong, why) in [
        ("Batch in grams", "0", "above 0"),
        ("Name of the formula", "", "A name is needed"),
        ("Letter of phase A", "", "A name is needed"),
    ] {
        type_into(&mut harness, field, wrong);
        if wrong.is_empty() {
            harness.key_press(Key::Delete);
        }
        harness.key_press(Key::Enter);
        harness.run();
        assert!(harness.query_by_label_contains(why).is_some(), "{field}");
        assert_eq!(harness.state().state().message, None, "{field}");
        // Escape gives it up.
        harness.key_press(Key::Escape);
        harness.run();
        harness.run();
        assert!(harness.query_by_label_contains(why).is_none(), "{field}");
    }
}

#[test]
fn every_line_is_reached_with_the_tab_key() {
    let mut harness = gel_window(false);
    let mut reached = std::collections::BTreeSet::new();
    for _ in 0..260 {
        harness.key_press(Key::Tab);
        harness.run();
        let focused = harness
            .get_all_by_role(egui::Role::Slider)
            .find(egui_kittest::Node::is_focused)
            .and_then(|n| n.accesskit_node().label());
        reached.extend(focused);
    }
    // Every line but the filler, whose slider follows from the others.
    let lines = formula(&harness).active().lines().count();
    assert_eq!(reached.len(), lines - 1, "{reached:?}");
}

#[test]
fn pictures() {
    let mut results = SnapshotResults::new();
    for (name, look) in [
        ("formula-small", Look::SMALL),
        ("formula-usual", Look::USUAL),
        ("formula-dark", Look::USUAL.dark()),
        ("formula-doubled", Look::SMALL.doubled()),
    ] {
        let mut state = state(Shelf::new(), plain_wash());
        state.settings.hints_closed = name != "formula-small";
        if name == "formula-usual" {
            state.current_mut().chosen = [ItemId(14)].into();
        }
        let mut harness = bench(look, state);
        harness.run();
        picture(&mut harness, name);
        results.add(harness.try_snapshot(name));
    }
    results.unwrap();
}

#[test]
fn a_finding_leads_to_its_entry_in_words() {
    // Left on, 2.4 % sodium benzoate is 2.03 % as acid, over the 0.5 % of Annex V, entry 1.
    let mut formula = shower_gel(true);
    let mut variant = formula.active().as_ref().clone();
    variant.product.kinds = ProductKind::LeaveOn.into();
    formula.variants = vec![variant.into()];
    let mut harness = bench(Look::USUAL, state(built_in().clone(), formula));
    harness.run();
    harness.get_by_label_contains("Source: EU V/1: ").click();
    harness.run();
    harness.get_by_label("EU V/1").click();
    harness.run();
    harness.get_by_label_contains("At most 2.5 % as benzoic acid");
    harness.get_by_label_contains("As of 2026-05-18");
    assert!(
        harness
            .query_all_by_label_contains("Annex V, consolidated text")
            .count()
            > 1
    );
    assert!(
        harness
            .query_all_by_label_contains("Not legal advice")
            .count()
            >= 1
    );
    picture(&mut harness, "rule_text");
    harness.get_by_label("Close").click();
    harness.run();
    assert!(
        harness
            .query_by_label_contains("As of 2026-05-18")
            .is_none()
    );
}

#[test]
fn rules_of_ones_own_are_added_and_taken_out() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.rules.ron");
    let rules = |max: &str| {
        format!(
            r#"(version: 1, set: "Shop", title: "Our shop", list: Own, source: "agreement",
                entries: [(no: "1", name: "Benzoate", of: ["Sodium Benzoate=532-32-1"], tiers: [(max: {max})])])"#
        )
    };
    std::fs::write(&path, rules("0.1")).unwrap();
    let mut harness = gel_window(false);
    harness.run();
    assert!(
        harness
            .query_by_label_contains("Source: Shop 1: ")
            .is_none()
    );
    harness.state_mut().push(Command::AddRules(path.clone()));
    harness.run();
    harness.get_by_label_contains("Source: Shop 1: ");
    harness.state_mut().push(Command::RemoveRules(path.clone()));
    harness.run();
    assert!(
        harness
            .query_by_label_contains("Source: Shop 1: ")
            .is_none()
    );
    // A broken file is told and changes nothing.
    std::fs::write(&path, rules("500")).unwrap();
    harness.state_mut().push(Command::AddRules(path));
    harness.run();
    harness.get_by_label_contains("percentage from 0 to 100");
}

#[test]
fn the_type_of_the_product_is_chosen_and_the_settings_stay_open() {
    let mut harness = gel_window(false);
    harness.get_by_label("Product settings").click();
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::ComboBox, "Product type")
        .click();
    harness.run();
    harness.get_by_label("bar soap").click();
    harness.run();
    let of = formula(&harness).active().product.product_type;
    assert_eq!(of.map(ProductType::label), Some("bar soap"));
    // Still there, for the next field.
    harness.get_by_role_and_label(egui::Role::ComboBox, "Product type");
    picture(&mut harness, "formula-product");
}

#[test]
fn escape_keeps_words_and_takes_figures_back() {
    let mut harness = gel_window(false);
    type_into(&mut harness, "Name of the formula", "Winter gel");
    harness.key_press(Key::Escape);
    harness.run();
    assert_eq!(formula(&harness).name.as_ref(), "Winter gel");
    let before = line(&harness, "benzoate").1;
    type_into(&mut harness, "Sodium benzoate percent", "9");
    harness.key_press(Key::Escape);
    harness.run();
    assert_eq!(line(&harness, "benzoate").1, before);
}

#[test]
fn the_button_of_a_finding_mends_it_in_one_step() {
    // Left on, 2.4 % sodium benzoate is over the 0.5 % as acid of Annex V, entry 1.
    let mut over = shower_gel(true);
    let mut variant = over.active().as_ref().clone();
    variant.product.kinds = ProductKind::LeaveOn.into();
    over.variants = vec![variant.into()];
    let mut harness = bench(Look::USUAL, state(built_in().clone(), over));
    harness.run();
    let before = line(&harness, "benzoate").1;
    // Both under the line and in the list.
    let hold: Vec<_> = harness
        .query_all_by_label("Hold Sodium benzoate at 0.58 %")
        .collect();
    assert_eq!(hold.len(), 2);
    hold[1].click();
    drop(hold);
    harness.run();
    // 0.5 % of benzoic acid (122.12 g/mol) is 0.58999 % of its sodium salt (144.10 g/mol), taken
    // down to the step of the percentages. Molar masses: IUPAC atomic weights of 2021.
    let (held, percent) = {
        let id = line(&harness, "benzoate").0;
        let line = formula(&harness).active().line(id).unwrap();
        (line.held, line.percent)
    };
    assert!(held);
    assert_eq!(percent.to_string(), "0.58");
    let again = "Hold Sodium benzoate at 0.58 %";
    assert!(harness.query_by_label(again).is_none());
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Z);
    harness.run();
    assert_eq!(line(&harness, "benzoate").1, before);
}

#[test]
fn what_was_read_is_set_aside_and_brought_back() {
    let mut harness = gel_window(false);
    harness.run();
    harness.get_by_label_contains("To read (").click();
    harness.run();
    let shown = harness.query_all_by_label_contains("Set aside: ").count();
    assert!(shown > 0);
    harness
        .query_all_by_label_contains("Set aside: ")
        .next()
        .unwrap()
        .click();
    harness.run();
    assert_eq!(
        harness.query_all_by_label_contains("Set aside: ").count(),
        shown - 1
    );
    harness.get_by_label("Set aside (1)").click_accesskit();
    harness.run();
    harness
        .get_by_label_contains("Bring back: ")
        .click_accesskit();
    harness.run();
    assert_eq!(
        harness.query_all_by_label_contains("Set aside: ").count(),
        shown
    );
}

#[test]
fn what_concerns_the_whole_formula_is_one_banner() {
    // Nothing preserves it: no line is at fault.
    let mut formula = shower_gel(true);
    let mut variant = formula.active().as_ref().clone();
    for phase in &mut variant.phases {
        let mut kept = phase.as_ref().clone();
        kept.lines
            .retain(|l| !l.material.as_str().contains("benzoate"));
        *phase = kept.into();
    }
    formula.variants = vec![variant.into()];
    let mut harness = bench(Look::USUAL, state(built_in().clone(), formula));
    harness.run();
    harness
        .query_all_by_label_contains("Add a preservative")
        .next()
        .unwrap()
        .click();
    harness.run();
    harness.get_by_label("Search the shelf");
}

/// A click that closes a list or a menu does nothing else.
#[test]
fn a_click_that_closes_a_list_moves_no_slider() {
    let mut harness = gel_window(false);
    harness.run();
    let before = line(&harness, "Glycerin").1;
    let slider = harness.get_by_label("Glycerin 99.5 % slider").rect();
    for (role, opened) in [
        (egui::Role::ComboBox, "Take it from"),
        (egui::Role::Button, "More about Glycerin 99.5 %"),
    ] {
        harness.get_by_role_and_label(role, opened).click();
        harness.run();
        assert!(egui::Popup::is_any_open(&harness.ctx), "{opened}");
        let at = slider.right_center() - vec2(12.0, 4.0);
        harness.drag_at(at);
        harness.run();
        harness.drop_at(at);
        harness.run();
        assert!(!egui::Popup::is_any_open(&harness.ctx), "{opened}");
        assert_eq!(line(&harness, "Glycerin").1, before, "{opened}");
    }
    // The next one is the slider's.
    let at = slider.right_center() - vec2(12.0, 4.0);
    harness.drag_at(at);
    harness.run();
    harness.drop_at(at);
    harness.run();
    assert_ne!(line(&harness, "Glycerin").1, before);
}

/// From one menu to another it is one press; on the same button it only closes.
#[test]
fn a_press_on_another_menu_opens_it() {
    let mut harness = gel_window(false);
    harness.run();
    let press = |harness: &mut Harness<'_, Bench>, role, name: &str| {
        let at = harness.get_by_role_and_label(role, name).rect().center();
        harness.hover_at(at);
        harness.run();
        harness.drag_at(at);
        harness.run();
        harness.drop_at(at);
        harness.run();
    };
    press(&mut harness, egui::Role::Button, "File");
    harness.get_by_label("Signatures…");
    press(&mut harness, egui::Role::Button, "Edit");
    assert!(harness.query_by_label("Signatures…").is_none());
    harness.get_by_label("Go back to");
    // A box is no different.
    press(&mut harness, egui::Role::ComboBox, "Take it from");
    assert!(harness.query_by_label("Go back to").is_none());
    assert!(egui::Popup::is_any_open(&harness.ctx));
    press(&mut harness, egui::Role::ComboBox, "Take it from");
    assert!(!egui::Popup::is_any_open(&harness.ctx));
    // A button without a list is not pressed, and nothing stays open.
    press(&mut harness, egui::Role::Button, "File");
    press(&mut harness, egui::Role::Tab, "Label");
    assert_eq!(harness.state().sheet(), SheetName::Formula);
    assert!(!egui::Popup::is_any_open(&harness.ctx));
}

/// A sentence under a line is never cut off: it takes the rows it needs.
#[test]
fn a_sentence_under_a_line_is_shown_whole() {
    let table = "# kind: leave-on\n# market: EU\nphase,material,percent\n\
                 A,Jojoba oil,3\nA,Aqua,q.s.\nA,Azelaic acid,5\nA,Sodium benzoate,1.2\n";
    let gel = formula_table::read(table, "gel.csv", "Gel with oil", built_in());
    let mut state = state(built_in().clone(), gel.unwrap().formula);
    state.settings.hints_closed = true;
    let mut harness = bench(Look::SMALL, state);
    harness.run();
    let lines = harness
        .get_by_role_and_label(egui::Role::Group, "Lines of the formula")
        .rect();
    let told: Vec<(String, f32)> = harness
        .get_all_by_role(egui::Role::Label)
        .filter(|n| lines.contains(n.rect().center()))
        .filter_map(|n| Some((n.accesskit_node().value()?, n.rect().height())))
        .filter(|(words, _)| words.starts_with("Caution: ") || words.starts_with("Breach: "))
        .collect();
    picture(&mut harness, "formula-sentences");
    // The longer of the two needs more rows, and both more than one.
    let [longer, shorter] = told.as_slice() else {
        panic!("{told:?}")
    };
    assert!(longer.0.len() > shorter.0.len() + 20, "{told:?}");
    assert!(longer.1 > shorter.1 + 10.0 && shorter.1 > 30.0, "{told:?}");
}

/// The findings of another file are read from the first.
#[test]
fn findings_of_another_file_start_at_the_top() {
    let mut harness = gel_window(true);
    harness.run();
    let heading = |harness: &Harness<'_, Bench>| {
        let all = harness.query_all_by_label("To mend");
        all.map(|n| n.rect().top()).next()
    };
    let top = heading(&harness).unwrap();
    let list = harness
        .get_by_role_and_label(egui::Role::Group, "Findings")
        .rect();
    harness.hover_at(list.center());
    harness.run();
    harness.event(egui::Event::MouseWheel {
        unit: egui::MouseWheelUnit::Point,
        delta: vec2(0.0, -400.0),
        source: egui::MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
        phase: egui::TouchPhase::Move,
    });
    for _ in 0..8 {
        harness.step();
    }
    assert!(heading(&harness).is_none_or(|now| now < top - 50.0));
    harness
        .state_mut()
        .push(Command::AddFormula(shower_gel(true).into()));
    harness.run();
    assert!((heading(&harness).unwrap() - top).abs() < 1.0);
}

/// What a crash left behind comes back into the open file it belongs to.
#[test]
fn recovered_work_is_saved_where_it_came_from() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let kept = folder.path().join("kept");
    let start = || {
        let mut state = state(built_in().clone(), Formula::new("New formula"));
        state.folders = folders(&kept);
        let mut harness = bench(Look::USUAL, state);
        harness.state_mut().push(Command::OpenPath(path.clone()));
        harness.run();
        harness
    };
    formula_file::save(&path, &shower_gel(false), Expect::Nothing).unwrap();
    let mut harness = start();
    type_into(&mut harness, "Name of the formula", "Winter gel");
    harness.key_press(Key::Enter);
    harness.run();
    let now = "2026-03-02T12:00:00Z";
    harness
        .state_mut()
        .state_mut()
        .keep_for_next_start(now)
        .unwrap();
    drop(harness);

    let mut harness = start();
    harness.state_mut().begin(vec![path.clone()]);
    harness.run();
    harness.get_by_label("Open them").click();
    harness.run();
    let of_file = |d: &&phasewright::state::Document| d.path.as_ref() == Some(&path);
    let open = harness.state().state().documents().iter();
    assert_eq!(open.filter(of_file).count(), 1);
    assert_eq!(formula(&harness).name.as_ref(), "Winter gel");
    assert!(harness.state().state().current().is_changed());
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    assert!(harness.query_by_label("Replace the file?").is_none());
    let (saved, _) = formula_file::open(&path).unwrap();
    assert_eq!(saved.name.as_ref(), "Winter gel");
}

/// Work of a crash is laid over a file that another window saved meanwhile, and that is said;
/// over a file that is as it was, nothing is.
#[test]
fn work_brought_back_over_a_file_saved_elsewhere_is_told() {
    let told = |file_changes: bool| {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("gel.formula.ron");
        let kept = folder.path().join("kept");
        let start = || {
            let mut state = state(built_in().clone(), Formula::new("New formula"));
            state.folders = folders(&kept);
            let mut harness = bench(Look::USUAL, state);
            harness.state_mut().push(Command::OpenPath(path.clone()));
            harness.run();
            harness
        };
        formula_file::save(&path, &shower_gel(false), Expect::Nothing).unwrap();
        let mut harness = start();
        type_into(&mut harness, "Name of the formula", "Winter gel");
        harness.key_press(Key::Enter);
        harness.run();
        let state = harness.state_mut().state_mut();
        state.keep_for_next_start("2026-03-02T12:00:00Z").unwrap();
        drop(harness);
        if file_changes {
            formula_file::save(&path, &shower_gel(true), Expect::Anything).unwrap();
        }
        let mut harness = start();
        harness.state_mut().begin(Vec::new());
        harness.run();
        harness.get_by_label("Open them").click();
        harness.run();
        assert_eq!(formula(&harness).name.as_ref(), "Winter gel");
        let title = "The file was saved elsewhere meanwhile";
        harness.query_by_label(title).is_some()
    };
    assert!(told(true));
    assert!(!told(false));
}

/// What one used often is found first at the next start too.
#[test]
fn what_was_used_is_remembered_by_the_next_start() {
    let folder = tempfile::tempdir().unwrap();
    let start = || {
        let mut state = state(built_in().clone(), Formula::new("New formula"));
        state.folders = Folders {
            config: Some(folder.path().to_path_buf()),
            recovery: None,
        };
        (state.settings, _) = state.folders.read_settings();
        state
    };
    let mut first = start();
    let id = formulation::material::MaterialId::from_name("xanthan-gum");
    assert_eq!(first.usage().get(&id), None);
    first.settings.count_use(&id);
    first.settings.count_use(&id);
    first.folders.write_settings(&first.settings).unwrap();
    assert_eq!(start().usage().get(&id), Some(&2));
}
