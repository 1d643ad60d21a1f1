//! The sheet Make, driven through the accessibility tree.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use std::path::Path;

use acceptance::window::{Look, bench, picture, shower_gel, state, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::record::{Change, Decision, Event, LineState, Quality, Record};
use formulation::batch::workshop::{Paper, Workshop};
use formulation::file::{formula_file, record_file};
use formulation::mass::{ExactMass, read_mass};
use formulation::material::MaterialId;
use formulation::quantity::{Currency, Decimal};
use formulation::shelf::built_in;
use formulation::stock::packaging::PackagingLot;
use formulation::stock::{Lot, LotId, LotStatus, Offer, Stock};
use phasewright::app::Bench;
use phasewright::command::Command;
use phasewright::sheets::SheetName;

pub(super) fn window(look: Look, below: &Path) -> Harness<'static, Bench> {
    let mut state = state(built_in().clone(), shower_gel(false));
    state.books = phasewright::state::Books::read(Some(below)).0;
    let mut harness = bench(look, state);
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    harness
}

/// What has a name and can be pressed; the region that a button leads to may be named as it is.
pub(super) fn named<'h>(harness: &'h Harness<'_, Bench>, label: &'h str) -> egui_kittest::Node<'h> {
    harness.get_by(|node| {
        node.role() != egui::Role::Group && node.label().as_deref() == Some(label)
            || node.value().as_deref() == Some(label)
    })
}

pub(super) fn click(harness: &mut Harness<'_, Bench>, label: &str) {
    named(harness, label).scroll_to_me();
    harness.run();
    named(harness, label).click();
    harness.run();
    harness.run();
}

pub(super) fn record<'h>(harness: &'h Harness<'_, Bench>) -> &'h Record {
    harness.state().state().books.open_record().unwrap()
}

pub(super) fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

#[test]
fn a_batch_is_made_from_sizing_to_release() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    type_into(&mut harness, "Mass, with its unit", "2 kg");
    harness.run();
    picture(&mut harness, "make-weigh");
    click(&mut harness, "Begin the batch");
    picture(&mut harness, "make-bench");
    click(&mut harness, "Whole record");
    assert_eq!(record(&harness).code().as_str(), "26-001");
    assert_eq!(record(&harness).opening().batch, mass("2 kg"));

    // The first line is overshot by a tenth; the way out is proposed and taken.
    let names: Vec<String> = record(&harness)
        .formula_lines()
        .map(|(l, _)| record(&harness).opening().name_of(l.id).to_string())
        .collect();
    let glycerin = names.iter().find(|n| n.contains("Glycerin")).unwrap();
    type_into(&mut harness, &format!("{glycerin} weight"), "66");
    type_into(&mut harness, &format!("{glycerin} lot"), "GLY-1");
    harness.key_press(egui::Key::Tab);
    harness.run();
    type_into(&mut harness, &format!("{glycerin} weight"), "66");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    let over = record(&harness)
        .lines()
        .find(|l| l.state == LineState::Over)
        .unwrap();
    assert_eq!(over.actual, mass("66 g"));
    picture(&mut harness, "make-run");
    click(&mut harness, "Make the batch larger");
    assert!(record(&harness).lines().all(|l| l.state != LineState::Over));
    let planned: ExactMass = record(&harness).lines().map(|l| l.planned).sum();
    assert_eq!(planned, mass("2200 g"));

    // Nothing is decided beforehand, and open points stop a release, whatever the reason.
    let decided = |harness: &Harness<'_, Bench>| record(harness).decision().map(|(d, _)| d);
    type_into(&mut harness, "Reason", "for the fair");
    click(&mut harness, "Decide");
    assert_eq!(decided(&harness), None);
    click(&mut harness, "released");
    click(&mut harness, "Decide");
    assert_eq!(decided(&harness), None);
    harness.get_by_label_contains("points are open; accept each");
    click(&mut harness, "on hold");
    click(&mut harness, "Decide");
    assert_eq!(decided(&harness), Some(Decision::Hold));
    picture(&mut harness, "make-gate");
    click(&mut harness, "Close the record");
    assert!(record(&harness).is_closed());
    click(&mut harness, "Put away");
    drop(harness);

    // Everything is on the disk, and traced from there by another window.
    let batches = folder.path().join("batches");
    let found = record_file::read_folder(&batches);
    assert_eq!(found.records.len(), 1);
    assert_eq!(found.records[0].1.record.usage().count(), 1);
    let mut harness = window(Look::USUAL, folder.path());
    click(&mut harness, "All batches");
    type_into(&mut harness, "Lot, ours or the supplier's", "gly-1");
    harness.run();
    picture(&mut harness, "make-books");
    assert!(harness.query_by_label("Save the recall list…").is_some());
}

/// What to do about a line too small for its scale takes a line until it is asked for, and what
/// to wear for many lines is told once.
#[test]
fn cautions_take_one_line_each() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let count = |harness: &Harness<'_, Bench>, words: &str| {
        harness.query_all_by_label_contains(words).count()
    };
    let small = count(&harness, "Too small to weigh: the reading may be");
    assert!(small > 0);
    assert_eq!(count(&harness, "Use a scale with steps of"), 0);
    let todo = harness.get_all_by_label("What to do").next().unwrap();
    todo.click();
    harness.run();
    assert_eq!(count(&harness, "Use a scale with steps of"), 1);
    let worn = "irritates in concentrated form";
    assert_eq!(count(&harness, worn), 1);
    assert!(count(&harness, "Wear and mind as at number") > 0);
}

#[test]
fn lines_and_steps_come_in_working_order() {
    let folder = tempfile::tempdir().unwrap();
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/oat-and-juniper-shower-gel.formula.ron");
    let (formula, _) = formula_file::open(&path).unwrap();
    let window = |look| {
        let mut state = state(built_in().clone(), formula.clone());
        state.books = phasewright::state::Books::read(Some(folder.path())).0;
        let mut harness = bench(look, state);
        harness.state_mut().push(Command::Show(SheetName::Make));
        harness.run();
        harness
    };
    let mut harness = window(Look::USUAL);
    type_into(&mut harness, "Done by", "Wren");
    let mut stock = Stock::new(Currency::EUR);
    for (n, name) in [
        "Glycerin 99.5 %",
        "Polysorbate 20",
        "Decyl glucoside solution 51 %",
    ]
    .into_iter()
    .enumerate()
    {
        stock.offers.push(Offer {
            material: MaterialId::from_name(name),
            supplier: "Fellside Botanicals".into(),
            pack: mass("1 kg"),
            price: Some(Decimal::from(5 + 4 * n as i64)),
            currency: Currency::EUR,
            day: None,
        });
    }
    let books = &mut harness.state_mut().state_mut().books;
    books.set_stock(stock, Workshop::default()).unwrap();
    click(&mut harness, "Cost");
    picture(&mut harness, "make-cost-chart");
    click(&mut harness, "Stock");
    click(&mut harness, "Offers");
    picture(&mut harness, "make-stock-offers");
    click(&mut harness, "Weigh sheet");
    picture(&mut harness, "make-weigh-steps");
    click(&mut harness, "Begin the batch");
    picture(&mut harness, "make-bench-steps");
    click(&mut harness, "Whole record");
    harness.get_by_label_contains("Phase A: weigh");
    let first = record(&harness).opening().lines[0];
    let water = record(&harness).opening().name_of(first.line);
    // As a scale sends it.
    let sent = format!("ST,GS,+ {} g", first.mass);
    type_into(&mut harness, &format!("{water} weight"), &sent);
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert_eq!(
        record(&harness).line(first.line).unwrap().actual,
        first.mass
    );
    picture(&mut harness, "make-run-steps");
    click(&mut harness, "Finished formula…");
    drop(harness);
    let mut harness = window(Look::SMALL.dark());
    click(&mut harness, "All batches");
    harness.get_by_label_contains("Open the record of").click();
    harness.run();
    harness.run();
    picture(&mut harness, "make-run-small-dark");
}

pub(super) fn stock_of_glycerin(expiry: &str) -> Stock {
    let mut stock = Stock::new(Currency::EUR);
    let lot = |id: &str, expiry: &str| Lot {
        supplier: "Fellside Botanicals".into(),
        expiry: expiry.parse().ok(),
        ..Lot::of_one_pack(
            LotId::new(id).unwrap(),
            MaterialId::from_name("Glycerin 99.5 %"),
            "2025-01-01".parse().unwrap(),
            mass("1 kg"),
            Currency::EUR,
        )
    };
    stock.add(lot("GLY-OLD", expiry)).unwrap();
    stock.add(lot("GLY-NEW", "2030-01-01")).unwrap();
    stock
}

/// The runs of a tired maker: an expired lot, a wrong pH, what the batch before left behind,
/// a correction that is refused.
#[test]
fn the_record_lets_nothing_through_without_a_word() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let books = &mut harness.state_mut().state_mut().books;
    books
        .set_stock(stock_of_glycerin("2025-06-01"), Workshop::default())
        .unwrap();
    // Nobody works without a name.
    click(&mut harness, "Begin the batch");
    assert!(harness.state().state().books.open_record().is_none());
    type_into(&mut harness, "Done by", "Wren");
    type_into(&mut harness, "Mass, with its unit", "2 kg");
    click(&mut harness, "Begin the batch");
    click(&mut harness, "Whole record");
    let glycerin = record(&harness)
        .formula_lines()
        .map(|(l, s)| (l.id, s.planned, record(&harness).opening().name_of(l.id)))
        .find(|(_, _, name)| name.contains("Glycerin"))
        .unwrap();
    let (line, planned, name) = glycerin;
    type_into(
        &mut harness,
        &format!("{name} weight"),
        &planned.to_string(),
    );
    harness.key_press(egui::Key::Tab);
    harness.run();
    type_into(&mut harness, &format!("{name} lot"), "GLY-OLD");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    picture(&mut harness, "make-lot-stopped");
    assert_eq!(record(&harness).usage().count(), 0);
    // A reason is needed, and what was asked stays on the screen.
    click(&mut harness, "Take it all the same");
    assert_eq!(record(&harness).usage().count(), 0);
    type_into(&mut harness, "Reason for taking it", "tested again in May");
    click(&mut harness, "Take it all the same");
    assert_eq!(record(&harness).usage().count(), 1);
    assert_eq!(record(&harness).line(line).unwrap().actual, planned);
    let point = record(&harness).open_points();
    let point = point.iter().find(|p| p.contains("GLY-OLD")).unwrap();
    assert!(point.contains("2025-06-01"), "{point}");
    // The finished line is locked.
    assert!(harness.query_by_label(&format!("{name} weight")).is_none());

    // A correction that is refused keeps what was typed.
    click(&mut harness, "Entries (3)");
    let correct = harness
        .get_all_by_label_contains("Correct entry")
        .last()
        .unwrap();
    correct.scroll_to_me();
    harness.run();
    let correct = harness
        .get_all_by_label_contains("Correct entry")
        .last()
        .unwrap();
    correct.click();
    harness.run();
    harness.run();
    type_into(&mut harness, "Lot", "GLY-NEW");
    click(&mut harness, "Add the correction");
    picture(&mut harness, "make-correction-refused");
    harness.get_by_label_contains("the reason is missing");
    type_into(&mut harness, "Why it is corrected", "misread the can");
    click(&mut harness, "Add the correction");
    let lots: Vec<String> = record(&harness)
        .usage()
        .map(|(l, _)| l.to_string())
        .collect();
    assert_eq!(lots, ["GLY-NEW"]);
    assert!(record(&harness).matches("gly-old"));

    // What is typed for this batch is not there in the next.
    type_into(&mut harness, "Packaging", "bottle");
    type_into(&mut harness, "Its lot", "B-77");
    type_into(&mut harness, "Reason", "as good as ever");
    click(&mut harness, "released");
    click(&mut harness, "Put away");
    click(&mut harness, "Weigh sheet");
    click(&mut harness, "Begin the batch");
    assert_eq!(record(&harness).code().as_str(), "26-002");
    // A batch that was just begun is shown at the bench, whatever was looked at before.
    harness.get_by_label("Mass from the scale");
    click(&mut harness, "Whole record");
    for label in ["Packaging", "Its lot", "Reason"] {
        let value = harness.get_by_label(label).value().unwrap_or_default();
        assert_eq!(value, "", "{label}");
    }
    click(&mut harness, "Decide");
    harness.get_by_label_contains("Choose first whether the batch is released");
    // Both are offered to go on with.
    click(&mut harness, "Put away");
    assert_eq!(harness.get_all_by_label("Go on").count(), 2);
    picture(&mut harness, "make-unfinished");
    drop(harness);

    // The start of the program offers them on whatever sheet is shown.
    let mut harness = window(Look::USUAL, folder.path());
    harness.state_mut().push(Command::Show(SheetName::Formula));
    harness.state_mut().push(Command::Remind);
    harness.run();
    harness.run();
    picture(&mut harness, "formula-reminders");
    let waiting = harness.state().state().reminders.clone();
    // Two batches, and a lot past its last day.
    assert_eq!(waiting.len(), 3);
    assert!(waiting[2].words.contains("overdue"), "{waiting:?}");
    assert!(waiting[1].words.contains("26-002"), "{waiting:?}");
    let put_off = format!("Not now: {}", waiting[0].words);
    click(&mut harness, &put_off);
    click(&mut harness, &format!("Go on: {}", waiting[1].words));
    assert_eq!(record(&harness).code().as_str(), "26-002");
    let left = &harness.state().state().reminders;
    assert_eq!(
        left.iter().map(|r| &r.of).collect::<Vec<_>>(),
        [&waiting[2].of]
    );
}

/// What is due stands in one list, whether of the workshop or of a stability plan.
#[test]
fn the_calendar_holds_the_workshop_and_the_stability_plans() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let mut workshop = Workshop::default();
    workshop.duties.push(formulation::batch::workshop::Duty {
        thing: "pH meter".into(),
        what: "calibrate at 4 and 7".into(),
        every_days: 7,
        done: Vec::new(),
        ended: None,
    });
    let books = &mut harness.state_mut().state_mut().books;
    books
        .set_stock(Stock::new(Currency::EUR), workshop)
        .unwrap();
    harness
        .state_mut()
        .push(Command::OpenExample(phasewright::examples::FIRST));
    harness.state_mut().push(Command::Remind);
    harness.run();
    harness.run();
    let words: Vec<String> = harness
        .state()
        .state()
        .reminders
        .iter()
        .map(|r| r.words.clone())
        .collect();
    assert_eq!(
        words,
        ["Workshop: 1 due now: pH meter: calibrate at 4 and 7"]
    );
    click(&mut harness, &format!("Show: {}", words[0]));
    // In the list of what is due, and among what is done again and again.
    let duty = harness.query_all_by_label("pH meter: calibrate at 4 and 7");
    assert_eq!(duty.count(), 2);
    let samples = harness
        .query_all_by_label_contains("read sample 40 °C")
        .count();
    assert!(samples > 0);
    picture(&mut harness, "make-calendar-joined");
    click(&mut harness, "Save the calendar…");
}

/// Why something typed was not taken stands by its field, not in the status bar, and goes when
/// the text is mended.
#[test]
fn what_is_refused_is_told_beside_its_field() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let says = |harness: &Harness<'_, Bench>, words: &str| {
        harness.query_all_by_label_contains(words).next().is_some()
    };
    click(&mut harness, "Specification");
    click(&mut harness, "Add viscosity");
    let lowest = |harness: &mut Harness<'_, Bench>, text: &str| {
        type_into(harness, "viscosity lowest", text);
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
    };
    let why = "is not a viscosity";
    lowest(&mut harness, "a lot");
    assert!(says(&harness, why));
    picture(&mut harness, "make-refused");
    lowest(&mut harness, "4000");
    assert!(!says(&harness, why));
    click(&mut harness, "Workshop");
    click(&mut harness, "Add the scale");
    harness.run();
    assert!(says(&harness, "A mass is missing"));
    type_into(&mut harness, "Smallest step, with its unit", "0.01 g");
    harness.run();
    assert!(!says(&harness, "A mass is missing"));
    assert_eq!(harness.state().state().message, None);
}

/// One specification: stated once, read by the record.
#[test]
fn what_is_stated_in_the_specification_is_asked_of_the_batch() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    click(&mut harness, "Specification");
    click(&mut harness, "Add viscosity");
    for (label, text) in [
        ("viscosity lowest", "3000"),
        ("viscosity highest", "6 Pa·s"),
    ] {
        type_into(&mut harness, label, text);
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
    }
    picture(&mut harness, "make-specification");
    click(&mut harness, "Weigh sheet");
    click(&mut harness, "Begin the batch");
    let open = |harness: &Harness<'_, Bench>| {
        let points = record(harness).open_points();
        points
            .into_iter()
            .find(|p| p.contains("viscosity"))
            .unwrap()
    };
    assert_eq!(open(&harness), "the viscosity is not measured");
    let books = &mut harness.state_mut().state_mut().books;
    let measured = Event::Measured {
        what: Quality::Viscosity,
        name: "".into(),
        value: "2400".into(),
        remark: "spindle 3".into(),
    };
    books
        .record(measured, "2026-06-01T10:00:00Z", "Wren", None)
        .unwrap();
    harness.run();
    let point = open(&harness);
    assert!(point.contains("3000") && point.contains("2400"), "{point}");
}

/// A run of labels bears the code of the batch, is taken off the packaging, and what is wrong
/// with it is a point of the release until it is mended or accepted.
#[test]
fn a_run_of_labels_is_counted_and_held_against_the_batch() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    let mut stock = Stock::new(Currency::EUR);
    stock.packaging.push(PackagingLot {
        id: LotId::new("LAB-1").unwrap(),
        what: "front label, blank".into(),
        supplier: "Glen Print".into(),
        supplier_lot: "R-77".into(),
        received: harness.state().state().today(),
        pieces: 100,
        price_each: None,
        low_below: None,
        note: "".into(),
    });
    let books = &mut harness.state_mut().state_mut().books;
    books.set_stock(stock, Workshop::default()).unwrap();
    click(&mut harness, "Begin the batch");
    click(&mut harness, "Whole record");
    for (label, text) in [
        ("Which label", "front"),
        ("Printed on lot", "LAB-1"),
        ("Labels printed", "12"),
        ("On containers", "10"),
        ("Spoilt and destroyed", "1"),
    ] {
        type_into(&mut harness, label, text);
    }
    click(&mut harness, "Record the labels");
    let run = record(&harness).labels()[0].clone();
    assert_eq!(run.code.as_ref(), "26-001");
    let lot = LotId::new("LAB-1").unwrap();
    let usage =
        |harness: &Harness<'_, Bench>| harness.state().state().books.usage().pieces_of(&lot);
    assert_eq!(usage(&harness), 12);
    harness.get_by(|node| {
        let said = node.value().unwrap_or_default();
        said.contains("1 label “front” is neither on a container")
    });
    picture(&mut harness, "make-labels");
    // Found by the code of the lot and by that of its supplier.
    for text in ["lab-1", "r-77"] {
        let books = &harness.state().state().books;
        let hit = formulation::batch::trace::recall(text, books.all_records(), books.stock());
        assert_eq!(hit.len(), 1, "{text}");
        assert_eq!(hit[0].packaging.as_ref().unwrap().1, 12);
    }
    // Packaging of a lot that is not there, and more than is left, is stopped until a reason is
    // given, which is a point of the release.
    for (lot, pieces, told) in [
        (
            "LAB-9",
            "3",
            "bottle: lot LAB-9 is not in the stock of packaging",
        ),
        (
            "LAB-1",
            "89",
            "bottle: lot LAB-1 has 88 pieces left by the books",
        ),
    ] {
        type_into(&mut harness, "Packaging", "bottle");
        type_into(&mut harness, "Its lot", lot);
        type_into(&mut harness, "Pieces used", pieces);
        click(&mut harness, "Record the packaging");
        harness.get_by_label_contains(told);
        assert!(record(&harness).packaging().is_empty());
        click(&mut harness, "Take another lot");
    }
    click(&mut harness, "Record the packaging");
    click(&mut harness, "Take it all the same");
    harness.get_by_label_contains("the reason is missing");
    type_into(&mut harness, "Reason for taking it", "counted again");
    click(&mut harness, "Take it all the same");
    assert_eq!(record(&harness).packaging().len(), 1);
    let open = record(&harness).open_points();
    assert!(
        open.iter().any(|p| p.contains("88 pieces left")),
        "{open:?}"
    );
}

/// Scales, meters and vessels have their days, and what was done is kept.
#[test]
fn the_calendar_of_the_workshop_keeps_what_was_done() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    let today = harness.state().state().today();
    let expiry = today.tomorrow().unwrap();
    let books = &mut harness.state_mut().state_mut().books;
    books
        .set_stock(stock_of_glycerin(&expiry.to_string()), Workshop::default())
        .unwrap();
    click(&mut harness, "Calendar");
    harness.get_by_label_contains("last day of lot GLY-OLD");
    type_into(&mut harness, "Scale, meter or vessel", "pH meter");
    type_into(&mut harness, "What is done", "calibrate with pH 4 and 7");
    type_into(
        &mut harness,
        "Every so many days, empty if when needed",
        "7",
    );
    click(&mut harness, "Add it");
    harness.get_by_label("due now");
    click(
        &mut harness,
        "Done today: pH meter, calibrate with pH 4 and 7",
    );
    assert!(harness.query_by_label("due now").is_none());
    picture(&mut harness, "make-calendar");
    drop(harness);
    let books = phasewright::state::Books::read(Some(folder.path())).0;
    let duty = &books.workshop().duties[0];
    assert_eq!((duty.done.len(), duty.done[0].by.as_ref()), (1, "Wren"));
}

/// A weight typed at the pointer's place must not land on another line because the
/// cautions of the next one need more room.
#[test]
fn the_fields_stay_in_place_while_the_batch_goes_on() {
    let folder = tempfile::tempdir().unwrap();
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../examples/oat-and-juniper-shower-gel.formula.ron");
    let (formula, _) = formula_file::open(&path).unwrap();
    let mut state = state(built_in().clone(), formula);
    state.books = phasewright::state::Books::read(Some(folder.path())).0;
    let mut harness = bench(Look::USUAL, state);
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    type_into(&mut harness, "Done by", "Wren");
    click(&mut harness, "Begin the batch");
    click(&mut harness, "Whole record");
    let top = |harness: &Harness<'_, Bench>| {
        harness
            .get_by_label("Decyl glucoside solution 51 % weight")
            .rect()
            .top()
    };
    let before = top(&harness);
    for (name, mass) in [
        ("Water, demineralised", "458"),
        ("Tetrasodium glutamate diacetate 47 %", "2"),
        ("Sodium benzoate", "5.0 g"),
        ("Glycerin 99.5 %", "20,0"),
    ] {
        type_into(&mut harness, &format!("{name} weight"), mass);
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
        assert_eq!(top(&harness), before, "after {name}");
    }
    assert_eq!(record(&harness).weighed(), mass("485 g"));

    // Enter records what its row holds.
    type_into(&mut harness, "Value, with its unit", "4.8");
    harness.key_press(egui::Key::Enter);
    harness.run();
    assert_eq!(record(&harness).measurements().len(), 1);
    let value = harness.get_by_role_and_label(egui::Role::TextInput, "Value, with its unit");
    assert!(value.is_focused());

    // Who notes no lots accepts that once, not line by line; nothing else goes with it.
    let without_lot = |harness: &Harness<'_, Bench>| {
        let points = record(harness).points();
        let open = points.iter().filter(|p| p.accepted.is_none());
        open.filter(|p| p.without_lot).count()
    };
    assert_eq!(without_lot(&harness), 4);
    let others = record(&harness).open_points().len() - 4;
    let accept = harness
        .get_all_by_label_contains("Accept with a reason")
        .next()
        .unwrap();
    accept.scroll_to_me();
    harness.run();
    let accept = harness
        .get_all_by_label_contains("Accept with a reason")
        .next()
        .unwrap();
    accept.click();
    harness.run();
    harness.run();
    // The reason has the cursor.
    let reason = harness.get_by_role_and_label(egui::Role::TextInput, "Why it is accepted");
    assert!(reason.is_focused());
    reason.type_text("kitchen trial, no lots kept");
    harness.run();
    click(
        &mut harness,
        "Accept the 3 others without a lot for the same reason",
    );
    picture(&mut harness, "make-accepting");
    click(&mut harness, "Accept the point");
    assert_eq!(without_lot(&harness), 0);
    assert_eq!(record(&harness).open_points().len(), others);
}

#[test]
fn a_lot_and_a_price_are_entered_and_cost_the_batch() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL.dark(), folder.path());
    click(&mut harness, "Stock");
    type_into(&mut harness, "Material of the lot", "glycerin 99");
    harness.key_press(egui::Key::Enter);
    harness.run();
    type_into(&mut harness, "Our lot code", "A-1");
    type_into(&mut harness, "Contents of a pack, with its unit", "1 kg");
    // Who comes by Tab replaces what stands there and does not add to it; Enter in a field adds
    // the lot.
    harness.key_press(egui::Key::Tab);
    harness.run();
    harness.event(egui::Event::Text("1".to_owned()));
    harness.run();
    assert_eq!(harness.get_by_label("Packs").value().as_deref(), Some("1"));
    type_into(&mut harness, "Price of a pack", "12.50");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    let books = &harness.state().state().books;
    assert_eq!(books.stock().lots.len(), 1);
    // That is told, and the next lot begins with its material.
    harness.get_by_label_contains("A-1 of Glycerin 99.5 % is in the stock");
    let material = harness.get_by_role_and_label(egui::Role::TextInput, "Material of the lot");
    assert!(material.is_focused());
    // A price typed wrong is mended, and a lot entered by mistake taken away.
    click(&mut harness, "A-1: Glycerin 99.5 %");
    type_into(&mut harness, "Price of a pack", "11.50");
    harness.run();
    click(&mut harness, "Save A-1");
    let books = &harness.state().state().books;
    assert_eq!(
        books.stock().lots[0].price_per_pack,
        Some(Decimal::new(1150, 2))
    );
    assert_eq!(books.stock().lots[0].material.as_str(), "glycerin-99-5");
    // What was done can be undone and done again.
    let price =
        |harness: &Harness<'_, Bench>| harness.state().state().books.stock().lots[0].price_per_pack;
    click(&mut harness, "Undo in the stock");
    assert_eq!(price(&harness), Some(Decimal::new(1250, 2)));
    assert_eq!(
        harness.get_by_label("Price of a pack").value().as_deref(),
        Some("12.50")
    );
    click(&mut harness, "Redo in the stock");
    assert_eq!(price(&harness), Some(Decimal::new(1150, 2)));
    picture(&mut harness, "make-stock-dark");
    // Packaging has its own stock, of which batches count off what they use.
    click(&mut harness, "Packaging");
    type_into(&mut harness, "Our lot code", "B-1");
    type_into(&mut harness, "What it is", "bottle 250 ml");
    type_into(&mut harness, "Pieces", "120");
    click(&mut harness, "Add the packaging");
    harness.get_by_label("120 of 120");
    picture(&mut harness, "make-packaging-dark");
    click(&mut harness, "Cost");
    type_into(&mut harness, "What for", "bottle");
    type_into(&mut harness, "Price in EUR, empty if unknown", "0.45");
    harness.key_press(egui::Key::Tab);
    harness.run();
    click(&mut harness, "Add the cost");
    let books = &harness.state().state().books;
    assert_eq!(
        books
            .workshop()
            .costs_of(harness.state().state().current().formula().product())
            .packaging
            .len(),
        1
    );
    // The next cost has no price yet.
    let price = harness
        .get_by_label("Price in EUR, empty if unknown")
        .value();
    assert_eq!(price.as_deref().unwrap_or_default(), "");
    picture(&mut harness, "make-cost-dark");
    click(&mut harness, "Stock");
    click(&mut harness, "What to buy");
    click(&mut harness, "Plan them");
    click(&mut harness, "Plan them");
    harness.get_by_label("Save the list…");
    let lines = harness.query_all_by_label_contains("Remove 1 × 1000 g of Oat and juniper");
    assert_eq!(lines.count(), 2);
    click(&mut harness, "Workshop");
    picture(&mut harness, "make-workshop-dark");
    let saved = std::fs::read_to_string(folder.path().join("stock.ron")).unwrap();
    assert!(saved.contains("11.50") && saved.contains("bottle"));
    click(&mut harness, "Stock");
    click(&mut harness, "Lots");
    click(&mut harness, "Remove lot");
    assert!(harness.state().state().books.stock().lots.is_empty());
}

#[test]
fn the_small_window_shows_every_page() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::SMALL, folder.path());
    for page in [
        "Weigh sheet",
        "Batch record",
        "All batches",
        "Stock",
        "Cost",
        "Specification",
        "Calendar",
        "Workshop",
    ] {
        click(&mut harness, page);
        picture(&mut harness, &format!("make-small-{page}"));
    }
    // Without a folder nothing is kept, and that is said.
    let mut harness = bench(Look::SMALL, state(built_in().clone(), shower_gel(false)));
    harness.state_mut().push(Command::Show(SheetName::Make));
    harness.run();
    type_into(&mut harness, "Done by", "Wren");
    click(&mut harness, "Begin the batch");
    let message = harness.state().state().message.clone().unwrap();
    assert!(message.text.contains("no folder"), "{}", message.text);
}

/// Whoever comes back to the bench from another part types at once.
#[test]
fn the_bench_takes_the_cursor_on_return() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    assert!(harness.get_by_label("Mass from the scale").is_focused());
    click(&mut harness, "Stock");
    click(&mut harness, "Batch record");
    assert!(harness.get_by_label("Mass from the scale").is_focused());
}

/// A mass likely mistyped is asked about before it is recorded: mended, it is as if it had never
/// been typed; recorded once more, it stands.
#[test]
fn a_mass_likely_mistyped_is_asked_about_first() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    let enter = |harness: &mut Harness<'_, Bench>, mass: ExactMass| {
        type_into(harness, "Mass from the scale", &mass.to_string());
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
    };
    let lines: Vec<_> = record(&harness).lines().collect();
    let actual = |harness: &Harness<'_, Bench>, line| record(harness).line(line).unwrap().actual;
    let question = "Read the scale again";
    let [first, second] = [lines[0], lines[1]];
    enter(&mut harness, first.planned.times(10));
    harness.get_by_label_contains(question);
    assert_eq!(actual(&harness, first.line), ExactMass::ZERO);
    assert!(harness.get_by_label("Mass from the scale").is_focused());
    enter(&mut harness, first.planned);
    assert!(harness.query_by_label_contains(question).is_none());
    assert_eq!(actual(&harness, first.line), first.planned);

    enter(&mut harness, second.planned.times(10));
    harness.get_by_label_contains(question);
    assert_eq!(actual(&harness, second.line), ExactMass::ZERO);
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert_eq!(actual(&harness, second.line), second.planned.times(10));
}

/// A correction that takes more of a lot, or of another one, is stopped like a weighing; one
/// that takes no more of the same lot is not, whatever became of the lot since. Water made up is
/// held against the stock too.
#[test]
fn a_correction_is_held_against_the_stock_like_a_weighing() {
    let folder = tempfile::tempdir().unwrap();
    let mut books = phasewright::state::Books::read(Some(folder.path())).0;
    let water = |id: &str, status: LotStatus| Lot {
        id: LotId::new(id).unwrap(),
        material: MaterialId::from_name("Water"),
        status,
        ..stock_of_glycerin("2030-01-01").lots.remove(0)
    };
    let mut stock = Stock::new(Currency::EUR);
    stock.add(water("W-1", LotStatus::Released)).unwrap();
    stock.add(water("W-2", LotStatus::Quarantine)).unwrap();
    books.set_stock(stock.clone(), Workshop::default()).unwrap();
    let opening = acceptance::batch::opening("26-001").unwrap();
    let line = opening.lines[0].line;
    let at = acceptance::batch::AT;
    books.begin(opening, Paper::A4, at, "Wren").unwrap();
    let weighed = |grams: &str, lot: &str| Event::Weighed {
        line,
        mass: mass(grams),
        lot: LotId::new(lot),
        remark: "".into(),
    };
    let first = weighed("900 g", "W-1");
    books.record(first, at, "Wren", None).unwrap();
    let instead = |books: &phasewright::state::Books, event: Event| {
        let record = books.open_record().unwrap();
        let change = Change::Instead(Box::new(event));
        let amendment = Event::Amended {
            entry: 2,
            old: record.value_of(2, &change).unwrap().into(),
            change,
            reason: "misread".into(),
        };
        let day = "2026-06-01".parse().unwrap();
        let stop = record.stop(&amendment, books.lots(day));
        stop.map(|s| s.against.join("; ")).unwrap_or_default()
    };
    assert_eq!(instead(&books, weighed("990 g", "W-1")), "");
    let told = instead(&books, weighed("1200 g", "W-1"));
    assert!(told.contains("100 g left"), "{told}");
    let told = instead(&books, weighed("900 g", "W-2"));
    assert!(told.contains("quarantine"), "{told}");
    stock.lots[0].status = LotStatus::Rejected;
    books.set_stock(stock, Workshop::default()).unwrap();
    assert_eq!(instead(&books, weighed("800 g", "W-1")), "");
    let told = instead(&books, weighed("901 g", "W-1"));
    assert!(told.contains("rejected"), "{told}");
    let made_up = Event::MadeUp {
        mass: mass("5 g"),
        lot: LotId::new("W-9"),
    };
    let refused = books.record(made_up, at, "Wren", None).unwrap_err();
    assert!(
        refused.contains("water made up") && refused.contains("W-9"),
        "{refused}"
    );
}

/// Whoever did not weigh checks what is left in one step; who weighed cannot.
#[test]
fn all_weighings_left_are_checked_at_once_by_a_second_person() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    let workshop = Workshop {
        second_check: true,
        ..Workshop::default()
    };
    let books = &mut harness.state_mut().state_mut().books;
    books
        .set_stock(Stock::new(Currency::EUR), workshop)
        .unwrap();
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    // The code proposed is taken over with a click, and is then not offered again.
    click(&mut harness, "Take 26-001");
    assert!(harness.query_by_label("Take 26-001").is_none());
    click(&mut harness, "Begin the batch");
    let planned: Vec<_> = record(&harness)
        .lines()
        .map(|l| (l.line, l.planned))
        .collect();
    let books = &mut harness.state_mut().state_mut().books;
    for &(line, mass) in &planned[..3] {
        let weighed = Event::Weighed {
            line,
            mass,
            lot: None,
            remark: "".into(),
        };
        books
            .record(weighed, acceptance::batch::AT, "Wren", None)
            .unwrap();
    }
    click(&mut harness, "Whole record");
    let checks = |harness: &Harness<'_, Bench>| {
        let of = |line| {
            record(harness)
                .line_checked_by(line)
                .map(ToString::to_string)
        };
        planned
            .iter()
            .map(|&(line, _)| of(line))
            .collect::<Vec<_>>()
    };
    click(&mut harness, "All 3 weighings checked");
    assert!(checks(&harness).iter().all(Option::is_none));
    type_into(&mut harness, "Done by", "Ash");
    harness.run();
    click(&mut harness, "All 3 weighings checked");
    let checked = checks(&harness);
    assert!(checked[..3].iter().all(|by| by.as_deref() == Some("Ash")));
    assert!(checked[3..].iter().all(Option::is_none));
    assert!(
        harness
            .query_by_label_contains("weighings checked")
            .is_none()
    );
}

/// After the last line the cursor is on what comes next, and Enter goes there.
#[test]
fn the_last_line_at_the_bench_leads_on() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    type_into(&mut harness, "Done by", "Wren");
    harness.run();
    click(&mut harness, "Begin the batch");
    let lines: Vec<_> = record(&harness).lines().map(|l| l.planned).collect();
    for planned in lines {
        type_into(&mut harness, "Mass from the scale", &planned.to_string());
        harness.key_press(egui::Key::Enter);
        harness.run();
        harness.run();
    }
    let next = "Measure, pack, fill and decide";
    assert!(harness.get_by_label(next).is_focused());
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.run();
    assert!(harness.get_by_label("Value, with its unit").is_focused());
    // What a filling lacks is typed next.
    type_into(&mut harness, "Containers filled", "9");
    type_into(&mut harness, "Filled in all, net", "900 g");
    harness.key_press(egui::Key::Enter);
    harness.run();
    harness.get_by_label_contains("Retained and tested is missing");
    let missing = |harness: &Harness<'_, Bench>| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, "Retained and tested");
        field.is_focused()
    };
    assert!(missing(&harness));
}

/// A cost without prices leads to where prices are entered; what was typed of one jar does not
/// go along to another material.
#[test]
fn missing_prices_lead_to_the_offers_and_a_lot_keeps_to_its_material() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(Look::USUAL, folder.path());
    click(&mut harness, "Cost");
    click(&mut harness, "To the offers");
    assert!(harness.query_by_label("Add the offer").is_some());
    click(&mut harness, "Lots");
    click(&mut harness, "A lot of Sodium benzoate");
    type_into(&mut harness, "Supplier", "Fellside Botanicals");
    type_into(&mut harness, "Contents of a pack, with its unit", "1 kg");
    click(&mut harness, "A lot of Xanthan gum");
    let value = |name: &str| {
        let field = harness.get_by_role_and_label(egui::Role::TextInput, name);
        field.value()
    };
    assert_eq!(value("Supplier").as_deref(), Some("Fellside Botanicals"));
    assert_eq!(
        value("Contents of a pack, with its unit").as_deref(),
        Some("")
    );
}
