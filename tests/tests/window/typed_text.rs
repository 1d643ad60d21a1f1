//! Nothing that is being typed is lost, whatever is asked for with the cursor in the field.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::window::{self, Look, bench, shower_gel, state, type_into};
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::file::formula_file;
use formulation::formula::Formula;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;

/// A window on a formula that is saved in a file.
fn saved(path: &Path) -> Harness<'static, Bench> {
    formula_file::save(
        path,
        &shower_gel(false),
        formulation::file::store::Expect::Nothing,
    )
    .unwrap();
    let mut harness = bench(
        Look::USUAL,
        state(built_in().clone(), Formula::new("New formula")),
    );
    harness.state_mut().push(Command::OpenPath(path.into()));
    harness.run();
    assert!(!harness.state().state().current().is_changed());
    harness
}

fn read(path: &Path) -> Formula {
    formula_file::open(path).unwrap().0
}

#[test]
fn saving_takes_what_is_being_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let mut harness = saved(&path);
    type_into(&mut harness, "Name of the formula", "Winter gel");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    assert_eq!(read(&path).name.as_ref(), "Winter gel");
    assert!(!harness.state().state().current().is_changed());
    // One goes on typing where one was.
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Name of the formula");
    assert!(field.is_focused());
    // A figure as well.
    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    let formula = read(&path);
    let benzoate = formula.active().lines().find(|(_, line)| {
        formula
            .material(&line.material)
            .is_some_and(|m| m.name.contains("benzoate"))
    });
    assert_eq!(benzoate.unwrap().1.percent.to_string(), "0.45");
}

#[test]
fn closing_and_quitting_ask_about_what_is_being_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    for key in [Key::W, Key::Q] {
        std::fs::remove_file(&path).unwrap_or_default();
        let mut harness = saved(&path);
        type_into(&mut harness, "Name of the formula", "Winter gel");
        harness.key_press_modifiers(Modifiers::COMMAND, key);
        harness.run();
        harness.get_by_label("Save the changes first?");
        harness.get_by_label("Save").click();
        harness.run();
        assert_eq!(read(&path).name.as_ref(), "Winter gel");
    }
}

#[test]
fn another_sheet_is_shown_with_what_was_being_typed() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let mut harness = saved(&path);
    type_into(&mut harness, "Name of the formula", "Winter gel");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Num5);
    harness.run();
    assert_eq!(harness.state().state().current().name(), "Winter gel");
}

#[test]
fn the_end_of_a_session_keeps_what_is_being_typed() {
    let folder = tempfile::tempdir().unwrap();
    let end = phasewright::ending::EndAsked::default();
    let mut start = state(built_in().clone(), shower_gel(false));
    start.folders = window::folders(folder.path());
    let mut harness = bench(Look::USUAL, start);
    harness.state_mut().end_when(end.clone());
    type_into(&mut harness, "Name of the formula", "Winter gel");
    end.ask();
    harness.run();
    drop(harness);
    let left = formulation::file::autosave::left_over(folder.path());
    assert_eq!(left.found.len(), 1);
    assert!(left.found[0].text.contains("Winter gel"));
}

#[test]
fn a_long_note_is_taken_over_at_every_pause() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("gel.formula.ron");
    let mut harness = saved(&path);
    harness.get_by_label("Name, author and notes").click();
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::MultilineTextInput, "Notes")
        .focus();
    harness.run();
    harness
        .get_by_role_and_label(egui::Role::MultilineTextInput, "Notes")
        .type_text("Thicker than the last, ");
    harness.run();
    assert_eq!(
        harness.state().state().current().formula().notes.as_ref(),
        ""
    );
    // A pause; the cursor stays and what is typed goes on.
    for _ in 0..20 {
        harness.step();
    }
    let notes = |harness: &Harness<'_, Bench>| {
        harness
            .state()
            .state()
            .current()
            .formula()
            .notes
            .to_string()
    };
    assert_eq!(notes(&harness), "Thicker than the last, ");
    harness
        .get_by_role_and_label(egui::Role::MultilineTextInput, "Notes")
        .type_text("foams less");
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::S);
    harness.run();
    assert_eq!(
        read(&path).notes.as_ref(),
        "Thicker than the last, foams less"
    );
}

/// What is drawn meanwhile, because a key is let go for example, does not put the pause off.
#[test]
fn the_end_of_a_pause_is_not_forgotten() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = saved(&folder.path().join("gel.formula.ron"));
    harness.get_by_label("Name, author and notes").click();
    harness.run();
    let notes = |harness: &Harness<'_, Bench>, typed: Option<&str>| {
        let field = harness.get_by_role_and_label(egui::Role::MultilineTextInput, "Notes");
        match typed {
            Some(text) => field.type_text(text),
            None => field.focus(),
        }
    };
    notes(&harness, None);
    harness.run();
    notes(&harness, Some("Thicker"));
    harness.run();
    harness.step();
    harness.step();
    let shown = &harness.output().viewport_output[&egui::ViewportId::ROOT];
    let pause = std::time::Duration::from_secs(2);
    assert!(shown.repaint_delay <= pause, "{:?}", shown.repaint_delay);
}

/// A hard crash: nothing is handed over, nothing asked. Words of one line that one paused at are
/// kept all the same; a figure may be half of what it will be.
#[test]
fn words_of_one_line_are_kept_against_a_hard_crash() {
    let folder = tempfile::tempdir().unwrap();
    let mut start = state(built_in().clone(), shower_gel(false));
    start.folders = window::folders(folder.path());
    let mut harness = bench(Look::USUAL, start);
    type_into(&mut harness, "Sodium benzoate percent", "0.4");
    for _ in 0..30 {
        harness.step();
    }
    assert!(!harness.state().state().current().is_changed());
    harness.key_press(Key::Escape);
    harness.run();
    type_into(&mut harness, "Name of the formula", "Winter gel");
    for _ in 0..30 {
        harness.step();
    }
    // The cursor stays, and the copy is on the disk.
    let field = harness.get_by_role_and_label(egui::Role::TextInput, "Name of the formula");
    assert!(field.is_focused());
    let kept = std::fs::read_dir(folder.path())
        .unwrap()
        .map(|slot| slot.unwrap().path().join("recovery.ron"))
        .find(|path| path.is_file())
        .unwrap();
    assert!(
        std::fs::read_to_string(kept)
            .unwrap()
            .contains("Winter gel")
    );
}

/// A hard crash with half a figure in a field: it is kept beside the formula, and offered in its
/// field at the next start; nothing enters it but the person.
#[test]
fn a_figure_half_typed_is_offered_again_after_a_hard_crash() {
    const FIELD: &str = "Sodium benzoate percent";
    let folder = tempfile::tempdir().unwrap();
    let start = || {
        let mut start = state(built_in().clone(), shower_gel(false));
        start.folders = window::folders(folder.path());
        start
    };
    let mut harness = bench(Look::USUAL, start());
    type_into(&mut harness, FIELD, "0.4");
    for _ in 0..30 {
        harness.step();
    }
    // The program is gone: its locks are given up, and nothing was asked.
    std::mem::forget(harness);
    let slot = std::fs::read_dir(folder.path()).unwrap().next();
    let slot = slot.unwrap().unwrap().path();
    let lost = folder.path().join("lost");
    std::fs::create_dir(&lost).unwrap();
    for name in ["lock", "recovery.ron"] {
        std::fs::copy(slot.join(name), lost.join(name)).unwrap();
    }

    let mut harness = bench(Look::USUAL, start());
    harness.state_mut().begin(Vec::new());
    harness.run();
    harness.get_by_label("Open them").click();
    harness.run();
    let field = |harness: &Harness<'_, Bench>| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, FIELD);
        field.accesskit_node().value().unwrap_or_default()
    };
    let told = "not entered when the program ended";
    assert_eq!(field(&harness), "0.4");
    let benzoate = |harness: &Harness<'_, Bench>| {
        let formula = harness.state().state().current().formula().clone();
        let mut lines = formula.active().lines().map(|(_, line)| line.clone());
        let is = |id: &_| {
            formula
                .material(id)
                .is_some_and(|m| m.name.contains("benzoate"))
        };
        let line = lines.find(|line| is(&line.material));
        line.unwrap().percent.to_string()
    };
    assert_eq!(benzoate(&harness), "0.5");
    harness
        .get_by_role_and_label(egui::Role::TextInput, FIELD)
        .focus();
    harness.run();
    // Where the field is in sight, it says why.
    assert!(harness.query_by_label_contains(told).is_some());
    window::picture(&mut harness, "typed-before-a-crash");
    harness.key_press(Key::Enter);
    harness.run();
    harness.run();
    assert_eq!(benzoate(&harness), "0.4");
    assert!(harness.query_by_label_contains(told).is_none());
}

/// A formula that was brought in is in no file, so it is asked about.
#[test]
fn a_brought_in_formula_is_asked_about_when_closed() {
    let mut harness = bench(
        Look::USUAL,
        state(built_in().clone(), Formula::new("New formula")),
    );
    harness
        .state_mut()
        .push(Command::AddFormula(shower_gel(false).into()));
    harness.run();
    harness.key_press_modifiers(Modifiers::COMMAND, Key::W);
    harness.run();
    harness.get_by_label("Save the changes first?");
    harness.get_by_label("Cancel").click();
    harness.run();
    assert!(harness.state().state().current().is_changed());
}
