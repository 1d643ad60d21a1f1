//! The batch record and the weigh sheet: what can still be done after closing, and what is refused.
#![expect(
    clippy::unwrap_used,
    reason = "a helper of tests fails the test by panicking"
)]

use acceptance::batch::AT;
use acceptance::window::{Look, type_into};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable as _;
use formulation::batch::record::{Decision, Event, Quality};
use phasewright::app::Bench;

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
    type_into(&mut harness, "Value, with its unit", "5.1");
    click(&mut harness, "Record the measurement");
    assert_eq!(record(&harness).measurements()[0].what, Quality::Ph);
    assert!(record(&harness).measurements()[0].late);
    type_into(&mut harness, "Remark", "no sediment in the retained sample");
    click(&mut harness, "Record the remark");
    // It opens no point unless that is asked for.
    let open = record(&harness).open_points();
    assert!(!open.iter().any(|p| p.contains("sediment")), "{open:?}");
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
            value: "3400".into(),
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
        (Quality::Viscosity, "3400")
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
