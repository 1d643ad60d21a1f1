//! The batch record and the weigh sheet: what can still be done after closing, and what is refused.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::batch::AT;
use acceptance::window::{Look, bench, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::record::{Decision, Event, Quality};
use formulation::batch::workshop::{Habit, Workshop};
use formulation::edit::{Edit, GiveWay};
use formulation::file::formula_file;
use formulation::file::store::Expect;
use formulation::quantity::Percent;
use formulation::shelf::built_in;
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

use super::make_sheet::{click, mass, record, window};

fn add(harness: &mut Harness<'_, Bench>, event: Event) {
    let works = &mut harness.state_mut().state_mut().works;
    works.record(event, AT, "Wren").unwrap();
    harness.run();
    harness.run();
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

/// A finding of the mix as weighed that nobody accepted is told after the release, although no
/// point of the record itself is open.
#[test]
fn a_finding_of_the_mix_is_told_after_the_release() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = begun(folder.path());
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
    add(&mut harness, decided(Decision::Release));
    harness.get_by_label_contains("Points were opened after the release");
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
    state.works = phasewright::state::Works::read(Some(folder.path())).0;
    let mut harness = bench(Look::USUAL, state);
    set_percent(&mut harness, "Sodium benzoate", "6");
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    let notice = "Not for sale: the formula is in breach";
    assert!(harness.query_all_by_label_contains(notice).count() > 0);
    assert!(harness.query_by_label("Begin the batch").is_none());
    let begun = |harness: &Harness<'_, Bench>| {
        let works = &harness.state().state().works;
        works.all_records().count()
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
    let works = &harness.state().state().works;
    assert!(works.workshop().habit(&first, "Wren").is_some());
    // The state of the batch is that of now; once the formula is changed, a click tells what.
    set_percent(&mut harness, "Glycerin", "4");
    click(&mut harness, "All batches");
    let mark = formulation::batch::formula_state::state_of;
    let works = &harness.state().state().works;
    let of_batch = works
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
    let works = &harness.state().state().works;
    assert!(works.workshop().habit(&product(&harness), "Wren").is_none());
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
    let works = &mut harness.state_mut().state_mut().works;
    let stock = works.stock().clone();
    works.set_stock(stock, workshop).unwrap();
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
    let lines: Vec<_> = record(&harness).lines().take(4).collect();
    for (done, line) in lines.iter().enumerate() {
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
        assert_eq!(places(&harness), before, "after line {done}");
    }
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
    let works = &harness.state().state().works;
    for product in [&first, &other] {
        assert!(works.workshop().habit(product, "Wren").is_some());
    }
}
