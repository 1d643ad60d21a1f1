//! The batch record and the weigh sheet: what can still be done after closing, and what is refused.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::batch::AT;
use acceptance::window::{Look, bench, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT as _, Queryable as _};
use formulation::batch::record::{Change, Decision, Event, LineStatus, Quality, gate};
use formulation::batch::workshop::{Habit, Workshop};
use formulation::edit::{Edit, GiveWay};
use formulation::evaluation::Evaluation;
use formulation::file::formula_file;
use formulation::file::store::Expect;
use formulation::lot_values::as_weighed;
use formulation::material::MaterialId;
use formulation::quantity::Percent;
use formulation::shelf::built_in;
use formulation::stock::{Lot, LotId, LotStatus};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

use super::make_sheet::{click, mass, named, record, window};

fn add(harness: &mut Harness<'_, Bench>, event: Event) {
    try_to_add(harness, event).unwrap();
}

fn try_to_add(harness: &mut Harness<'_, Bench>, event: Event) -> Result<(), String> {
    let found = evaluated(harness);
    let books = &mut harness.state_mut().state_mut().books;
    let outcome = books.record(event, AT, "Wren", found.as_ref());
    harness.run();
    harness.run();
    outcome
}

/// What follows from the mix of the open batch as it was weighed.
fn evaluated(harness: &Harness<'_, Bench>) -> Option<Evaluation> {
    let state = harness.state().state();
    let known = &state.makers_shelf().own().lots;
    as_weighed(record(harness), known, state.context()).map(|found| found.evaluation)
}

fn decided(decision: Decision) -> Event {
    Event::Decided {
        decision,
        reason: "as it is".into(),
    }
}

fn begun(below: &std::path::Path) -> Harness<'static, Bench> {
    let mut harness = window(Look::USUAL, below);
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    click(&mut harness, "Whole record");
    harness
}

/// The fields of an open record go with its closing; the cursor goes to the head of the batch.
#[test]
fn the_cursor_stays_in_the_batch_when_its_record_is_closed() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    add(&mut harness, decided(Decision::Hold));
    named(&harness, "Close the record").focus();
    harness.run();
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert!(record(&harness).is_closed());
    let focused = |harness: &Harness<'_, Bench>| {
        let root = harness.root();
        let mut nodes = root.children_recursive();
        nodes
            .find(egui_kittest::Node::is_focused)
            .and_then(|n| n.accesskit_node().label())
    };
    assert_eq!(focused(&harness).as_deref(), Some("Batch"));
    harness.key_press(egui::Key::Tab);
    harness.run();
    assert_eq!(focused(&harness).as_deref(), Some("Put away"));
}

/// What the calendar asks for after closing is recorded on the closed record, and told as added.
#[test]
fn a_closed_record_takes_what_is_looked_at_later() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    add(&mut harness, decided(Decision::Hold));
    add(&mut harness, Event::Closed);
    assert!(record(&harness).is_closed());
    // What was missed is proposed first.
    type_into(&mut harness, "Value, with its unit", "clear");
    click(&mut harness, "Record the measurement");
    assert_eq!(record(&harness).measurements()[0].what, Quality::Appearance);
    assert!(record(&harness).measurements()[0].late);
    type_into(&mut harness, "Remark", "no sediment in the retained sample");
    click(&mut harness, "Record the remark");
    // It opens no point unless that is asked for.
    let open = record(&harness).open_points();
    assert!(!open.iter().any(|p| p.contains("sediment")), "{open:?}");
    click(&mut harness, "Entries (5)");
    let said = harness.query_all_by_label_contains("(added after closing)");
    assert_eq!(said.count(), 2);
    // The rest takes corrections only.
    assert!(harness.query_by_label("Record the filling").is_none());
    assert!(harness.query_by_label("Record the deviation").is_none());
}

/// A correction can say that something else was measured.
#[test]
fn a_correction_changes_what_was_measured() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    add(
        &mut harness,
        Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: "3400 mPa·s".into(),
            remark: "spindle 3".into(),
        },
    );
    click(&mut harness, "Entries (2)");
    click(&mut harness, "Correct entry 2");
    type_into(&mut harness, "Measured", "thickness");
    type_into(&mut harness, "Why it is corrected", "wrong field");
    click(&mut harness, "Add the correction");
    harness.get_by_label_contains("What was measured is one of: pH, viscosity");
    type_into(&mut harness, "Measured", "Viscosity");
    click(&mut harness, "Add the correction");
    let found = &record(&harness).measurements()[0];
    assert_eq!(
        (found.what, found.value.as_ref()),
        (Quality::Viscosity, "3400 mPa·s")
    );
}

/// A batch of which each line was weighed too much, so that the mix is another one; all that the
/// record itself has to say is accepted.
fn over_weighed(folder: &std::path::Path) -> Harness<'static, Bench> {
    let mut harness = begun(folder);
    let planned: Vec<_> = record(&harness).lines().collect();
    for line in planned {
        add(
            &mut harness,
            Event::Weighed {
                line: line.line,
                mass: line.planned + mass("40 g"),
                lot: None,
                remark: "".into(),
            },
        );
    }
    let points = record(&harness).points();
    for point in points {
        add(&mut harness, point.accept("seen"));
    }
    assert_eq!(record(&harness).open_points(), Vec::<String>::new());
    harness
}

/// A finding of the mix as weighed that nobody accepted stands against a release, although no
/// point of the record itself is open and whoever asks for it.
#[test]
fn a_finding_of_the_mix_stands_against_the_release() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = over_weighed(folder.path());
    let outcome = try_to_add(&mut harness, decided(Decision::Release));
    let told = "accept each with its reason, or put the batch on hold";
    assert!(outcome.unwrap_err().contains(told));
    assert_eq!(record(&harness).decision(), None);
}

/// What is corrected after a release opens its points again, which is told.
#[test]
fn points_that_open_after_the_release_are_told() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = over_weighed(folder.path());
    let points = gate(record(&harness), evaluated(&harness).as_ref());
    for point in points.iter().filter(|p| p.accepted.is_none()) {
        add(&mut harness, point.accept("seen"));
    }
    add(&mut harness, decided(Decision::Release));
    let told = "Points were opened after the release";
    assert!(harness.query_by_label_contains(told).is_none());
    let weighed = record(&harness).entries()[1].clone();
    let Event::Weighed { mass: of, .. } = weighed.event else {
        panic!("the first entry is no weighing");
    };
    let change = Change::Mass(of + mass("1 g"));
    let old = record(&harness).value_of(weighed.number, &change).unwrap();
    add(
        &mut harness,
        Event::Amended {
            entry: weighed.number,
            change,
            old: old.into(),
            reason: "misread".into(),
        },
    );
    harness.get_by_label_contains(told);
}

/// What stands against a release stands against the correction of a decision to one as well.
#[test]
fn a_decision_is_not_corrected_past_the_findings_of_the_mix() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = over_weighed(folder.path());
    add(&mut harness, decided(Decision::Hold));
    let entry = record(&harness).entries().last().unwrap().number;
    let count = record(&harness).entries().len();
    click(&mut harness, &format!("Entries ({count})"));
    click(&mut harness, &format!("Correct entry {entry}"));
    type_into(&mut harness, "Decision", "released");
    type_into(&mut harness, "Why it is corrected", "it poured well");
    click(&mut harness, "Add the correction");
    let told = "open; accept each with its reason, or put the batch on hold";
    assert!(harness.query_by_label_contains(told).is_some());
    let decision = record(&harness).decision().map(|(decision, _)| decision);
    assert_eq!(decision, Some(Decision::Hold));
}

fn edit(harness: &mut Harness<'_, Bench>, edit: Edit) {
    harness.state_mut().push(Command::Edit(edit));
    harness.run();
    harness.run();
}

fn set_percent(harness: &mut Harness<'_, Bench>, material: &str, percent: &str) {
    let current = harness.state().state().current();
    let line = super::side_by_side::line_of(current.formula(), current.variant(), material);
    let percent: Percent = percent.parse().unwrap();
    let give = GiveWay::Filler;
    edit(
        harness,
        Edit::SetPercent {
            line,
            percent,
            give,
        },
    );
}

/// Of a formula in breach of the law only a trial can be begun, by a person with a name and for a
/// reason.
#[test]
fn a_formula_in_breach_is_begun_as_a_trial_only() {
    let folder = tempfile::tempdir().unwrap();
    let mut state = state(built_in().clone(), shower_gel(false));
    state.books = phasewright::state::Books::read(Some(folder.path())).0;
    let mut harness = bench(Look::USUAL, state);
    set_percent(&mut harness, "Sodium benzoate", "6");
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    let notice = "Not for sale: the formula is in breach";
    assert!(harness.query_all_by_label_contains(notice).count() > 0);
    assert!(harness.query_by_label("Begin the batch").is_none());
    // The paper and the table say it as well.
    let paper = text_of(&saved(
        &mut harness,
        "Save PDF…",
        &folder.path().join("sheet.pdf"),
    ));
    assert!(
        paper.contains("Not for sale: the formula is in breach"),
        "{paper}"
    );
    assert!(paper.contains("Breach: "), "{paper}");
    for (button, name) in [("CSV…", "sheet.csv"), ("HTML…", "sheet.html")] {
        let bytes = saved(&mut harness, button, &folder.path().join(name));
        let text = String::from_utf8(bytes).unwrap().to_lowercase();
        assert!(text.contains("not for sale"), "{name}: {text}");
    }
    let begun = |harness: &Harness<'_, Bench>| {
        let books = &harness.state().state().books;
        books.all_records().count()
    };
    // Beside the button stands what is missing.
    let says = |harness: &Harness<'_, Bench>, words: &str| {
        harness.query_all_by_label_contains(words).count() > 0
    };
    click(&mut harness, "Begin a trial batch");
    assert_eq!(begun(&harness), 0);
    assert!(says(&harness, "Type your name"));
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin a trial batch");
    assert_eq!(begun(&harness), 0);
    assert!(says(&harness, "Say first why") && !says(&harness, "Type your name"));
    type_into(
        &mut harness,
        "Why it is made all the same",
        "to see how it pours",
    );
    click(&mut harness, "Begin a trial batch");
    assert_eq!(begun(&harness), 1);
    assert_eq!(&*record(&harness).opening().trial, "to see how it pours");
    let told = "Trial batch, not for sale: to see how it pours";
    assert!(harness.query_all_by_label_contains(told).count() > 0);
}

/// A renamed formula is the same product: its costs and habits stay, and its batches are found by
/// change control.
#[test]
fn a_renamed_formula_keeps_its_costs_and_its_batches() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    let product = |harness: &Harness<'_, Bench>| {
        let current = harness.state().state().current();
        current.formula().product().clone()
    };
    let first = product(&harness);
    click(&mut harness, "Put away");
    edit(&mut harness, Edit::Rename("Juniper wash".into()));
    assert_eq!(product(&harness), first);
    let books = &harness.state().state().books;
    assert!(books.workshop().habit(&first, "Wren").is_some());
    // The state of the batch is that of now; once the formula is changed, a click tells what.
    set_percent(&mut harness, "Glycerin", "4");
    click(&mut harness, "All batches");
    let mark = formulation::batch::formula_state::state_of;
    let books = &harness.state().state().books;
    let of_batch = books
        .all_records()
        .next()
        .map(|r| mark(&r.opening().formula, r.opening().variant()))
        .unwrap();
    click(&mut harness, &of_batch);
    harness.get_by_label("Changed in Juniper wash since batch 26-001");
    harness.get_by_label_contains("Glycerin 99.5 %");
    harness.get_by_label(&format!("Batches made from the state {of_batch}: 26-001"));

    // Another formula of the name it had is another product.
    harness
        .state_mut()
        .state_mut()
        .add(shower_gel(false).into(), None);
    harness.run();
    assert_ne!(product(&harness), first);
    let books = &harness.state().state().books;
    assert!(books.workshop().habit(&product(&harness), "Wren").is_none());
}

/// The window puts in again how the product was made, as soon as it is known who makes it.
#[test]
fn how_it_was_made_is_put_in_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let product = harness
        .state()
        .state()
        .current()
        .formula()
        .product()
        .clone();
    let mut workshop = Workshop::default();
    for (by, grams) in [("Ash", "3 kg"), ("Wren", "750 g")] {
        let habits = workshop.products.entry(product.clone()).or_default();
        habits.remember(Habit {
            by: by.into(),
            mass: Some(mass(grams)),
            ..Habit::default()
        });
        workshop.remember_person(by);
    }
    let books = &mut harness.state_mut().state_mut().books;
    let stock = books.stock().clone();
    books.set_stock(stock, workshop).unwrap();
    let typed = |harness: &Harness<'_, Bench>| {
        harness
            .get_by_role_and_label(egui::Role::TextInput, "Mass, with its unit")
            .value()
            .unwrap_or_default()
    };
    for (by, grams) in [("Wren", "750 g"), ("Ash", "3000 g")] {
        type_into(&mut harness, "Done by", by);
        harness.run();
        harness.run();
        assert_eq!(typed(&harness), grams, "{by}");
    }
    // What was typed since is not written over.
    type_into(&mut harness, "Mass, with its unit", "2 kg");
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    harness.run();
    assert_eq!(typed(&harness), "2 kg");
}

/// The key of a foot switch records what is typed, and nothing at the bench moves meanwhile.
#[test]
fn a_foot_switch_records_and_nothing_moves() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    click(&mut harness, "At the bench");
    let places = |harness: &Harness<'_, Bench>| {
        ["Mass from the scale", "Record"].map(|label| {
            let found = harness.get_by(|node| {
                node.role() != egui::Role::Group && node.label().as_deref() == Some(label)
            });
            found.rect()
        })
    };
    let before = places(&harness);
    let lines: Vec<_> = record(&harness).lines().collect();
    for (done, line) in lines.iter().enumerate() {
        // What comes up is read out, for the cursor stays in its field.
        let name = record(&harness).opening().name_of(line.line).to_string();
        let told = harness.get_by(|node| {
            let words = node.value().unwrap_or_default();
            words.contains(&name) && node.live() == egui::accesskit::Live::Polite
        });
        assert!(told.rect().is_positive());
        assert_eq!(places(&harness), before, "before line {done}");
        type_into(
            &mut harness,
            "Mass from the scale",
            &line.planned.to_string(),
        );
        harness.key_press(egui::Key::F9);
        harness.run();
        harness.run();
        assert_eq!(record(&harness).portions().len(), done + 1);
        assert_eq!(record(&harness).portions()[done].mass, line.planned);
    }
    // After the last one it leads to what is measured.
    harness.key_press(egui::Key::F9);
    harness.run();
    harness.run();
    let value = harness.get_by_role_and_label(egui::Role::TextInput, "Value, with its unit");
    assert!(value.is_focused());
}

/// Saved beside the file it came from, a formula is another product that begins with what is kept
/// for the first.
#[test]
fn a_formula_saved_beside_its_file_is_another_product() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    let product = |harness: &Harness<'_, Bench>| {
        let current = harness.state().state().current();
        current.formula().product().clone()
    };
    let first = product(&harness);
    let save = |harness: &mut Harness<'_, Bench>, name: &str| {
        let path = folder.path().join(name);
        let state = harness.state_mut().state_mut();
        let id = state.current().id;
        state.save(id, path.clone(), Expect::Nothing).unwrap();
        formula_file::open(&path).unwrap().0.product().clone()
    };
    assert_eq!(save(&mut harness, "one.formula.ron"), first);
    let other = save(&mut harness, "two.formula.ron");
    assert_ne!(other, first);
    assert_eq!(product(&harness), other);
    let books = &harness.state().state().books;
    for product in [&first, &other] {
        assert!(books.workshop().habit(product, "Wren").is_some());
    }
}

/// A copy of a file made outside of the program is told when it is opened, and can be made a
/// product of its own there, with the costs and habits of the first.
#[test]
fn a_copy_made_outside_is_told_and_can_part() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    let [one, two] = ["one", "two"].map(|name| folder.path().join(format!("{name}.formula.ron")));
    let state = harness.state_mut().state_mut();
    let id = state.current().id;
    state.save(id, one.clone(), Expect::Nothing).unwrap();
    std::fs::copy(&one, &two).unwrap();
    let product = |harness: &Harness<'_, Bench>| {
        let current = harness.state().state().current();
        current.formula().product().clone()
    };
    let first = product(&harness);
    let told = "two.formula.ron and one.formula.ron are kept as one product";
    // Whether the first is open still or was open before.
    for close_first in [false, true] {
        let state = harness.state_mut().state_mut();
        if close_first {
            let all: Vec<_> = state.documents().iter().map(|d| d.id).collect();
            for id in all {
                state.close(id);
            }
            assert!(state.reminders.is_empty());
        }
        state.open(&two).unwrap();
        harness.run();
        harness.run();
        assert_eq!(product(&harness), first);
        assert!(harness.query_all_by_label_contains(told).count() > 0);
    }
    // It stays while everything else that waits is put together.
    harness.state_mut().push(Command::Remind);
    harness.run();
    harness.run();
    let own = harness
        .get_by_label_contains("Make it a product of its own: ")
        .accesskit_node()
        .label()
        .unwrap_or_default();
    click(&mut harness, &own);
    assert_eq!(harness.query_all_by_label_contains(told).count(), 0);
    let other = product(&harness);
    assert_ne!(other, first);
    assert!(harness.state().state().current().is_changed());
    let books = &harness.state().state().books;
    assert!(books.workshop().habit(&other, "Wren").is_some());
    // Opened again, nothing is told of a file that is no copy.
    let state = harness.state_mut().state_mut();
    let id = state.current().id;
    let expect = state.expected(id);
    state.save(id, two.clone(), expect).unwrap();
    state.open(&one).unwrap();
    assert!(
        !state
            .reminders
            .iter()
            .any(|r| r.words.contains("one product"))
    );
}

/// A second person looks at weighings and at the record, by the buttons under Release and at the
/// bench; whoever weighed is no second person.
#[test]
fn a_second_person_checks_by_the_buttons() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    click(&mut harness, "Workshop");
    click(
        &mut harness,
        "A second person checks every weighing and looks through the record",
    );
    click(&mut harness, "Weigh sheet");
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    let lines: Vec<_> = record(&harness).lines().take(3).collect();
    for line in &lines {
        type_into(
            &mut harness,
            "Mass from the scale",
            &line.planned.to_string(),
        );
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
    }
    let checked = |harness: &Harness<'_, Bench>| {
        let by = |line: &LineStatus| {
            record(harness)
                .line_checked_by(line.line)
                .map(str::to_owned)
        };
        lines.iter().filter_map(by).collect::<Vec<_>>()
    };
    click(&mut harness, "Whole record");
    let name = record(&harness)
        .opening()
        .name_of(lines[0].line)
        .to_string();
    let one = format!("Weighing of {name} checked");
    click(&mut harness, &one);
    assert_eq!(checked(&harness), Vec::<String>::new());
    type_into(&mut harness, "Done by", "Ash");
    harness.run();
    click(&mut harness, &one);
    assert_eq!(checked(&harness), ["Ash"]);
    click(&mut harness, "All 2 weighings checked");
    assert_eq!(checked(&harness), ["Ash"; 3]);
    click(&mut harness, "I looked through this record");
    assert_eq!(record(&harness).looked_through_by(), Some("Ash"));
    // What is weighed afterwards was not seen by the second person.
    let fourth = record(&harness).lines().nth(3).unwrap().line;
    add(
        &mut harness,
        Event::Weighed {
            line: fourth,
            mass: mass("1 g"),
            lot: None,
            remark: "".into(),
        },
    );
    assert_eq!(record(&harness).looked_through_by(), None);
}

/// Presses a button that saves something, names the file, and reads it.
fn saved(harness: &mut Harness<'_, Bench>, button: &str, path: &std::path::Path) -> Vec<u8> {
    click(harness, button);
    type_into(harness, "Path", &path.display().to_string());
    click(harness, "Save");
    std::fs::read(path).unwrap()
}

/// Everything a PDF says.
fn text_of(bytes: &[u8]) -> String {
    let pages = acceptance::pdf::pages(bytes);
    let words: Vec<&str> = pages.iter().flatten().map(String::as_str).collect();
    words.join(" ")
}

/// The sheet bears the code that the batch will have, whether it was taken over, typed or left as
/// it is proposed.
#[test]
fn the_saved_sheet_bears_the_code_of_the_batch() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let proposed = text_of(&saved(
        &mut harness,
        "Save PDF…",
        &folder.path().join("proposed.pdf"),
    ));
    assert!(proposed.contains("26-001"), "{proposed}");
    let page = saved(&mut harness, "HTML…", &folder.path().join("proposed.html"));
    assert!(String::from_utf8(page).unwrap().contains("26-001"));
    type_into(&mut harness, "Batch code", "26-077");
    harness.run();
    let typed = text_of(&saved(
        &mut harness,
        "Save PDF…",
        &folder.path().join("typed.pdf"),
    ));
    assert!(typed.contains("26-077") && !typed.contains("26-001"));
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    assert_eq!(record(&harness).code().as_str(), "26-077");
}

/// Accepting a point leads to the next one, and after the last to the decision, by keys alone; the
/// bench leads to what is left to measure.
#[test]
fn the_release_is_walked_through_by_keys() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
    let open = |harness: &Harness<'_, Bench>| {
        let buttons = harness.query_all_by_label_contains("Accept with a reason");
        buttons.count()
    };
    let press = |harness: &mut Harness<'_, Bench>, key| {
        harness.key_press(key);
        for _ in 0..3 {
            harness.run();
        }
    };
    let accept = harness.get_all_by_label_contains("Accept with a reason");
    accept.into_iter().next().unwrap().focus();
    harness.run();
    let mut left = open(&harness);
    assert!(left > 3);
    while left > 0 {
        press(&mut harness, egui::Key::Enter);
        harness.event(egui::Event::Text("seen".to_owned()));
        harness.run();
        press(&mut harness, egui::Key::Enter);
        assert_eq!(open(&harness), left - 1);
        left -= 1;
    }
    assert_eq!(record(&harness).open_points(), Vec::<String>::new());
    assert!(harness.get_by_label("released").is_focused());
}

/// A weighing that is stopped and left goes back to the field: the next mass typed replaces the
/// one that was refused. What is in quarantine does not slip through without its lot.
#[test]
fn a_stopped_weighing_is_typed_again_by_keys() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let books = &mut harness.state_mut().state_mut().books;
    let mut stock = super::make_sheet::stock_of_glycerin("2030-01-01");
    let water = Lot {
        id: LotId::new("WAT-Q").unwrap(),
        material: MaterialId::from_name("Water, demineralised"),
        status: LotStatus::Quarantine,
        ..stock.lots[0].clone()
    };
    stock.add(water).unwrap();
    books.set_stock(stock, Workshop::default()).unwrap();
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    let field = |harness: &Harness<'_, Bench>| {
        let found = harness.get_by_label("Mass from the scale");
        (found.is_focused(), found.value().unwrap_or_default())
    };
    let first = record(&harness).lines().next().unwrap();
    type_into(&mut harness, "Mass from the scale", "12");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    harness.get_by_label_contains("no lot is noted, though the stock has lots of it");
    harness.key_press(egui::Key::Escape);
    harness.run();
    harness.run();
    assert_eq!(field(&harness), (true, "12".to_owned()));
    assert!(record(&harness).portions().is_empty());
    harness.event(egui::Event::Text("34".to_owned()));
    harness.run();
    assert_eq!(field(&harness), (true, "34".to_owned()));
    // The lot by its name is stopped too, and taken with a reason.
    type_into(&mut harness, "Lot, if it is not in the list", "WAT-Q");
    type_into(&mut harness, "Mass from the scale", "34");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    harness.get_by_label("Lot WAT-Q is stopped");
    type_into(&mut harness, "Reason for taking it", "tested this morning");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert_eq!(
        record(&harness).line(first.line).unwrap().actual,
        mass("34 g")
    );
}
