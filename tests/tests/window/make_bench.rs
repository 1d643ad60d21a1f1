//! The bench: what goes in by portions, what was overshot, what a thermometer read.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::batch::AT;
use acceptance::window::{Look, bench, picture, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::record::{Decision, Event, LineState};
use formulation::batch::work_order::{Task, tasks};
use formulation::batch::workshop::Workshop;
use formulation::file::formula_file;
use formulation::formula::ItemId;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

use super::make_sheet::{click, mass, named, record, stock_of_glycerin, window};

/// The shower gel with its steps, begun at the bench.
fn begun(below: &Path) -> Harness<'static, Bench> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/oat-and-juniper-shower-gel.formula.ron");
    let (formula, _) = formula_file::open(&path).unwrap();
    let mut state = state(built_in().clone(), formula);
    state.books = phasewright::state::Books::read(Some(below)).0;
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    harness
}

fn add(harness: &mut Harness<'_, Bench>, event: Event) {
    let books = &mut harness.state_mut().state_mut().books;
    books.record(event, AT, "Wren", None).unwrap();
    harness.run();
    harness.run();
}

fn key(harness: &mut Harness<'_, Bench>, key: egui::Key) {
    harness.key_press(key);
    harness.run();
    harness.run();
}

fn says(harness: &Harness<'_, Bench>, words: &str) -> bool {
    harness.query_all_by_label_contains(words).next().is_some()
}

/// Does everything that comes before the lines that go in by portions; those lines.
fn up_to_what_adjusts(harness: &mut Harness<'_, Bench>) -> Vec<ItemId> {
    let mut adjust = Vec::new();
    let mut events = Vec::new();
    for task in tasks(record(harness)) {
        match task {
            Task::Weigh { line, .. } if record(harness).by_portions(line.id) => {
                adjust.push(line.id);
            }
            Task::Weigh { line, status, .. } => events.push(Event::Weighed {
                line: line.id,
                mass: status.planned,
                lot: None,
                remark: "".into(),
            }),
            Task::Work { step, .. } if adjust.is_empty() => events.push(Event::Worked {
                step: step.id,
                temperature: None,
                remark: "".into(),
            }),
            Task::Work { .. } => {}
        }
    }
    for event in events {
        add(harness, event);
    }
    adjust
}

/// What adjusts the pH says so, and is finished with what was really added, be it nothing.
#[test]
fn what_goes_in_by_portions_is_finished_when_it_is_enough() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    let adjust = up_to_what_adjusts(&mut harness);
    assert_eq!(adjust.len(), 2);
    assert!(says(&harness, "Add in portions until the target is met"));
    let planned = record(&harness).line(adjust[0]).unwrap().planned;
    let half = planned.ratio(1, 2);
    type_into(&mut harness, "Mass from the scale", &format!("{half} g"));
    // What is typed is not lost over it.
    key(&mut harness, egui::Key::F8);
    assert!(says(&harness, "Record the mass that is typed first"));
    assert!(record(&harness).line(adjust[0]).unwrap().actual.is_zero());
    type_into(&mut harness, "Mass from the scale", &format!("{half} g"));
    key(&mut harness, egui::Key::Enter);
    let state =
        |harness: &Harness<'_, Bench>, n: usize| record(harness).line(adjust[n]).unwrap().state;
    assert_eq!(state(&harness, 0), LineState::Short);
    picture(&mut harness, "make-bench-portions");
    key(&mut harness, egui::Key::F8);
    assert_eq!(state(&harness, 0), LineState::Within);
    assert_eq!(record(&harness).line(adjust[0]).unwrap().actual, half);
    // Of the next one nothing is needed.
    assert_eq!(state(&harness, 1), LineState::Pending);
    click(&mut harness, "Enough: the target is met");
    assert_eq!(state(&harness, 1), LineState::Within);
    let names: Vec<_> = adjust
        .iter()
        .map(|l| record(&harness).opening().name_of(*l))
        .collect();
    let open = record(&harness).open_points();
    let about = |name: &str| {
        let told = [format!("{name} is not weighed"), format!("{name} is below")];
        open.iter()
            .any(|p| told.iter().any(|t| p.contains(t.as_str())))
    };
    assert!(!names.iter().any(|n| about(n)), "{open:?}");
    // The table has it too, for a line that is still open.
    assert!(!says(&harness, "Mass from the scale"));
}

/// A line that was overshot is shown, and the keys lead on.
#[test]
fn an_overshot_line_is_accepted_by_the_key_that_records() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    for (n, on) in [egui::Key::Enter, egui::Key::F9].into_iter().enumerate() {
        let line = record(&harness).lines().nth(n).unwrap();
        let over = line.planned + line.planned.ratio(1, 10);
        type_into(&mut harness, "Mass from the scale", &format!("{over} g"));
        key(&mut harness, egui::Key::Enter);
        assert_eq!(
            record(&harness).line(line.line).unwrap().state,
            LineState::Over
        );
        assert!(says(&harness, "too much: from"), "the line is shown first");
        assert!(named(&harness, "Accept it and go on").is_focused());
        key(&mut harness, on);
        let next = record(&harness).lines().nth(n + 1).unwrap();
        let name = record(&harness).opening().name_of(next.line);
        assert!(says(&harness, &format!("A · {name}")), "{name}");
        assert!(harness.get_by_label("Mass from the scale").is_focused());
        let points = record(&harness).open_points();
        assert!(points.iter().any(|p| p.contains("is above its tolerance")));
    }
}

/// Stopped by a click as by a key, the cursor is where the reason is typed.
#[test]
fn the_reason_has_the_cursor_after_a_click_too() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let books = &mut harness.state_mut().state_mut().books;
    let stock = stock_of_glycerin("2025-06-01");
    books.set_stock(stock, Workshop::default()).unwrap();
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    click(&mut harness, "Go to Glycerin 99.5 %");
    type_into(&mut harness, "Lot, if it is not in the list", "GLY-OLD");
    type_into(&mut harness, "Mass from the scale", "1 g");
    click(&mut harness, "Record");
    harness.run();
    harness.get_by_label("Lot GLY-OLD is stopped");
    assert!(harness.get_by_label("Reason for taking it").is_focused());
}

/// A reading that is off is asked about, shown in the whole record, and a point.
#[test]
fn a_temperature_that_is_off_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    click(&mut harness, "Go to Stir in the rest of C below 40 °C");
    let off = "32 °C was read, 25 °C is asked for";
    let done = |harness: &Harness<'_, Bench>| {
        let done = tasks(record(harness)).into_iter();
        done.filter(|t| matches!(t, Task::Work { done: true, .. }))
            .count()
    };
    type_into(&mut harness, "Temperature read", "32");
    key(&mut harness, egui::Key::Enter);
    assert!(says(
        &harness,
        &format!("{off}. Read the thermometer again")
    ));
    assert_eq!(done(&harness), 0);
    key(&mut harness, egui::Key::Enter);
    assert_eq!(done(&harness), 1);
    let open = record(&harness).open_points();
    assert!(open.iter().any(|p| p.ends_with(off)), "{open:?}");
    click(&mut harness, "Whole record");
    assert!(says(&harness, "done, off"));
    harness.get_by_label("32 °C");
    // Closed, nothing is entered any more.
    assert!(says(&harness, "From the scale"));
    let decision = Decision::Hold;
    let reason = "as it is".into();
    add(&mut harness, Event::Decided { decision, reason });
    add(&mut harness, Event::Closed);
    assert!(!says(&harness, "From the scale"));
}

/// What lies in the stock and must not be used is named where something is lacking.
#[test]
fn expired_stock_is_named_where_stock_lacks() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let books = &mut harness.state_mut().state_mut().books;
    let stock = stock_of_glycerin("2025-06-01");
    books.set_stock(stock, Workshop::default()).unwrap();
    type_into(&mut harness, "Mass, with its unit", "100 kg");
    harness.run();
    let told = "not counted: 1000.0 g of lot GLY-OLD, to be used by 2025-06-01";
    assert!(says(&harness, told));
    click(&mut harness, "Stock");
    click(&mut harness, "What to buy");
    assert!(says(&harness, "of lot GLY-OLD, to be used by 2025-06-01"));
}

/// A second click adds no second scale and no second vessel.
#[test]
fn the_fields_of_the_workshop_are_empty_once_added() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    click(&mut harness, "Workshop");
    for (fields, button) in [
        (
            ["Name of the scale", "Smallest step, with its unit"],
            "Add the scale",
        ),
        (
            ["Name of the vessel", "Brimful volume, with its unit"],
            "Add the vessel",
        ),
    ] {
        let with = if button.ends_with("scale") {
            "0.01 g"
        } else {
            "2 l"
        };
        type_into(&mut harness, fields[0], "new");
        type_into(&mut harness, fields[1], with);
        click(&mut harness, button);
        for field in fields {
            let value = harness.get_by_label(field).value().unwrap_or_default();
            assert_eq!(value, "", "{field}");
        }
    }
    let workshop = harness.state().state().books.workshop();
    assert_eq!((workshop.scales.len(), workshop.vessels.len()), (2, 1));
    assert_eq!(workshop.scales[1].resolution(), mass("0.01 g"));
}
