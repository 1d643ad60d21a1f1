//! Idle costs nothing, and a long formula only what is seen of it.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::fmt::Write as _;
use std::time::Duration;

use acceptance::window::{Look, bench, folders, picture, shower_gel, state, type_into};
use egui::{Key, Role, ViewportId};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::file::formula_table;
use formulation::formula::Formula;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

/// How long the window would rest now if nobody touched it.
fn rest(harness: &Harness<'_, Bench>) -> Duration {
    harness.output().viewport_output[&ViewportId::ROOT].repaint_delay
}

fn watching(formula: Formula) -> Harness<'static, Bench> {
    let mut harness = bench(Look::USUAL, state(built_in().clone(), formula));
    let ctx = harness.ctx.clone();
    harness.state_mut().watch_files(&ctx);
    harness.run();
    harness
}

/// On every sheet, also while a field has the cursor: no frame before the day changes, at
/// midnight, twelve hours from the noon of the test.
#[test]
fn nothing_is_drawn_while_nothing_changes() {
    let mut harness = watching(shower_gel(false));
    for name in SheetName::ALL {
        harness.state_mut().push(Command::Show(name));
        harness.run();
        // What is worked out beside the window may come in later.
        for _ in 0..200 {
            if rest(&harness) > Duration::from_secs(1) {
                break;
            }
            std::thread::sleep(Duration::from_millis(20));
            harness.step();
        }
        let rest = rest(&harness);
        assert!(rest > Duration::from_hours(11), "{name:?}: {rest:?}");
    }
    harness.state_mut().push(Command::Show(SheetName::Formula));
    harness.run();
    let field = "Xanthan gum percent";
    harness
        .get_by_role_and_label(Role::TextInput, field)
        .focus();
    harness.run();
    // The pointer rests on something with words.
    harness.get_by_label("Xanthan gum slider").hover();
    harness.run_steps(60);
    harness.run();
    assert!(rest(&harness) > Duration::from_hours(11));
}

/// Unsaved work is kept within seconds, and then nothing more happens.
#[test]
fn unsaved_work_is_kept_and_then_the_window_rests() {
    let folder = tempfile::tempdir().unwrap();
    let mut state = state(built_in().clone(), shower_gel(false));
    state.folders = folders(folder.path());
    let mut harness = bench(Look::USUAL, state);
    let ctx = harness.ctx.clone();
    harness.state_mut().watch_files(&ctx);
    harness.run();
    type_into(&mut harness, "Sodium benzoate percent", "0.45");
    harness.key_press(Key::Enter);
    harness.run();
    assert!(rest(&harness) <= Duration::from_secs(3));
    // Time passes in the test by 1/4 s a step.
    for _ in 0..20 {
        harness.step();
    }
    harness.run();
    assert!(
        rest(&harness) > Duration::from_hours(1),
        "{:?}",
        rest(&harness)
    );
    let kept = std::fs::read_dir(folder.path()).unwrap().count();
    assert!(kept > 0);
}

/// So many lines of a few materials, in ten phases.
fn long_formula(lines: usize) -> Formula {
    const MATERIALS: [&str; 4] = [
        "Glycerin 99.5 %",
        "Xanthan gum",
        "Sodium laureth sulfate solution 28 %",
        "Cocamidopropyl betaine solution 30 %",
    ];
    let mut table = "# kind: rinse-off\nphase,material,percent\nA,Aqua,q.s.\n".to_owned();
    for i in 1..lines {
        let phase = char::from(b'A' + (i * 10 / lines) as u8);
        let material = MATERIALS[i % MATERIALS.len()];
        writeln!(table, "{phase},{material},0.01").unwrap();
    }
    let read = formula_table::read(&table, "long.csv", "Long", built_in());
    read.unwrap().formula
}

/// Only rows in view have widgets, and the chart draws ribbons by phase.
#[test]
fn of_a_long_formula_only_what_is_seen_is_laid_out() {
    let mut sizes = Vec::new();
    for lines in [60, 500, 3_000] {
        let formula = long_formula(lines);
        assert_eq!(formula.active().lines().count(), lines);
        let mut harness = bench(Look::USUAL, state(built_in().clone(), formula));
        harness.run();
        let sliders = harness.query_all_by_role(Role::Slider).count();
        assert!(sliders < 40, "{lines} lines: {sliders} sliders");
        let places = ["Lines of the formula", "Chart"]
            .map(|name| harness.get_by_role_and_label(Role::Group, name).rect());
        let drawn = |shape: &&egui::epaint::ClippedShape| {
            let at = shape.shape.visual_bounding_rect().center();
            places.iter().any(|place| place.contains(at))
        };
        let shapes = harness.output().shapes.iter().filter(drawn).count();
        sizes.push((lines, sliders, shapes));
        if lines == 500 {
            picture(&mut harness, "formula-500");
        }
        // The end is reached all the same.
        let (_, last) = harness
            .state()
            .state()
            .current()
            .variant()
            .lines()
            .last()
            .unwrap();
        let last = last.id;
        harness.state_mut().push(Command::GoToLine(last));
        harness.run();
        let lines = harness.get_by_role_and_label(Role::Group, "Lines of the formula");
        let details = harness.get_by_role_and_label(Role::TextInput, "Why it is here");
        assert!(lines.rect().contains_rect(details.rect()));
    }
    let [few, _, many] = sizes[..] else {
        unreachable!()
    };
    assert!(many.2 < 2 * few.2, "{sizes:?}");
}
