use std::sync::Arc;

use super::*;
use crate::batch::plan::{PlanRequest, plan};
use crate::batch::scale::SizeRequest;
use crate::batch::scale::Vessel;
use crate::batch::weighing_scale::WeighingScale;
use crate::evaluation::Context;
use crate::finding::Level;
use crate::fixture;
use crate::lot_values::as_weighed;
use crate::mass::MassUnit;
use crate::mass::read_mass;
use crate::material::{Basis, Class, Source};
use crate::material::{MaterialId, Sourced};
use crate::quantity::{Currency, in_kg_per_m3, kg_per_m3, millilitres};
use crate::quantity::{Percent, Ph, PhRange};
use crate::stock::{Lot, LotStatus};
use crate::stock::{LotUsage, Stock};

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

fn lot(text: &str) -> Option<LotId> {
    LotId::new(text)
}

/// Water 80, glycerin 20; lines 10 and 11; one kilogram on a 0.1 g scale.
pub fn opening(code: &str) -> Opening {
    let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
    let glycerin = fixture::material("Glycerin", &[("Glycerin", 100.0, Class::Humectant)]);
    let formula = fixture::formula(vec![
        fixture::line(&water, "80"),
        fixture::line(&glycerin, "20"),
    ]);
    let request = PlanRequest {
        size: SizeRequest::mass(mass("1 kg")),
        scales: vec![WeighingScale::new("kitchen", mass("0.1 g"), None).unwrap()],
        tolerance: PlanRequest::TOLERANCE,
    };
    let variant = formula.active().clone();
    let plan = plan(&formula, &variant, &request).unwrap();
    let code = BatchCode::new(code).unwrap();
    Opening::new(code, &formula, &variant, &plan, None, MassUnit::Gram)
}

pub fn entry(number: u64, event: Event) -> Entry {
    Entry {
        number,
        at: "2026-06-01T09:00:00+02:00".into(),
        by: "Wren".into(),
        event,
    }
}

pub fn record(opening: Opening) -> Record {
    Record::open(entry(1, Event::Opened(Box::new(opening)))).unwrap()
}

pub fn add(record: &mut Record, event: Event) -> Result<(), RecordError> {
    by(record, "Wren", event)
}

pub fn weigh(line: u64, grams: &str, from: &str) -> Event {
    Event::Weighed {
        line: ItemId(line),
        mass: mass(grams),
        lot: lot(from),
        remark: "".into(),
    }
}

#[test]
fn portions_add_up_and_deviation_shows_at_once() {
    let mut r = record(opening("26-001"));
    let state = |r: &Record, line| r.line(ItemId(line)).unwrap().state;
    assert_eq!(state(&r, 10), LineState::Pending);
    add(&mut r, weigh(10, "500 g", "W1")).unwrap();
    assert_eq!(state(&r, 10), LineState::Short);
    add(&mut r, weigh(10, "304 g", "W2")).unwrap();
    assert_eq!(state(&r, 10), LineState::Within);
    add(&mut r, weigh(10, "10 g", "W2")).unwrap();
    assert_eq!(state(&r, 10), LineState::Over);
    let line = r.line(ItemId(10)).unwrap();
    assert_eq!(line.deviation(), mass("14 g"));
    assert!((line.relative().as_percent() - 1.75).abs() < 1e-9);
    let usage: LotUsage = r.usage().collect();
    assert_eq!(usage.of(&lot("W2").unwrap()), mass("314 g"));
}

#[test]
fn the_mix_is_what_was_weighed() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(11, "250 g", "G1")).unwrap();
    let variant = r.as_weighed().unwrap();
    assert_eq!(variant.total(), Percent::HUNDRED);
    let glycerin = variant.line(ItemId(11)).unwrap().percent;
    // 250 / 1050.
    assert_eq!(glycerin, "23.809524".parse().unwrap());
}

#[test]
fn an_overshot_line_may_make_the_batch_larger() {
    let mut o = opening("26-001");
    o.density = Some(Sourced::new(
        kg_per_m3(1000.0),
        Source::new(Basis::Measured, ""),
    ));
    o.vessel = Vessel::new("beaker", millilitres(1200.0), Percent::HUNDRED).ok();
    let mut r = record(o);
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    assert_eq!(r.rescue(None), None);
    add(&mut r, weigh(11, "220 g", "G1")).unwrap();
    let mut stock = Stock::new(Currency::new("EUR").unwrap());
    stock.lots.push(Lot::of_one_pack(
        lot("W1").unwrap(),
        MaterialId::from_name("Water"),
        jiff::civil::date(2026, 1, 1),
        mass("50 g"),
        Currency::new("EUR").unwrap(),
    ));
    let day = jiff::civil::date(2026, 6, 1);
    let rescue = r.rescue(Some((&stock, &LotUsage::default(), day))).unwrap();
    assert_eq!(rescue.batch, mass("1100 g"));
    assert!(!rescue.is_unlikely());
    assert_eq!(rescue.top_ups, [(ItemId(10), mass("80 g"))]);
    assert_eq!(
        rescue.obstacles,
        [Obstacle::Stock {
            material: MaterialId::from_name("Water"),
            short: mass("30 g")
        }]
    );
    add(
        &mut r,
        Event::Rescaled {
            masses: rescue.masses,
            reason: "glycerin overshot".into(),
        },
    )
    .unwrap();
    add(&mut r, weigh(10, "80 g", "W1")).unwrap();
    assert!(r.lines().all(|l| l.state == LineState::Within));
    add(&mut r, weigh(11, "40 g", "G1")).unwrap();
    let rescue = r.rescue(None).unwrap();
    assert!(matches!(rescue.obstacles[0], Obstacle::Vessel { .. }));
}

/// Ten times what was asked for is a slip of the decimal point before it is a slip of the hand.
#[test]
fn ten_times_too_much_is_likely_mistyped() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(11, "2000 g", "G1")).unwrap();
    assert!(r.rescue(None).unwrap().is_unlikely());
}

/// A mass is asked about before it is taken from more than half above what is asked for on,
/// counted with what is in already.
#[test]
fn more_than_half_too_much_is_asked_about() {
    let mut r = record(opening("26-001"));
    let asked = |r: &Record, text: &str| {
        let line = r.line(ItemId(11)).unwrap();
        line.is_likely_mistyped(mass(text))
    };
    // 200 g are asked for.
    for (text, likely) in [
        ("20 g", false),
        ("200 g", false),
        ("300 g", false),
        ("300.001 g", true),
        ("2 kg", true),
    ] {
        assert_eq!(asked(&r, text), likely, "{text}");
    }
    add(&mut r, weigh(11, "150 g", "G1")).unwrap();
    assert!(!asked(&r, "50 g"));
    assert!(asked(&r, "200 g"));
}

#[test]
fn a_closed_record_takes_only_corrections() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    assert_eq!(add(&mut r, Event::Closed), Err(RecordError::Undecided));
    let release = |reason: &str| Event::Decided {
        decision: Decision::Release,
        reason: reason.into(),
    };
    assert!(matches!(
        add(&mut r, release("")),
        Err(RecordError::OpenPoints(_))
    ));
    let hold = Event::Decided {
        decision: Decision::Hold,
        reason: "glycerin to come".into(),
    };
    add(&mut r, hold).unwrap();
    add(&mut r, Event::Closed).unwrap();
    assert_eq!(
        add(&mut r, weigh(11, "200 g", "G1")),
        Err(RecordError::Closed)
    );
    let amend = |old: &str, reason: &str| Event::Amended {
        entry: 2,
        change: Change::Lot(lot("W9")),
        old: old.into(),
        reason: reason.into(),
    };
    assert!(matches!(
        add(&mut r, amend("W1", " ")),
        Err(RecordError::Words(_))
    ));
    assert!(matches!(
        add(&mut r, amend("W2", "misread")),
        Err(RecordError::Stale { .. })
    ));
    add(&mut r, amend("W1", "misread")).unwrap();
    let usage: LotUsage = r.usage().collect();
    assert_eq!(usage.of(&lot("W9").unwrap()), mass("800 g"));
    // The old value is still in the log.
    assert!(r.matches("w1 misread"));
    assert!(matches!(
        add(
            &mut r,
            Event::Dispatched {
                to: "Fair".into(),
                containers: 1,
                day: jiff::civil::date(2026, 6, 2)
            }
        ),
        Err(RecordError::NotReleased)
    ));
}

#[test]
fn what_was_weighed_is_accounted_for() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(11, "200 g", "G1")).unwrap();
    assert_eq!(r.reconciliation(), None);
    for (what, value) in [(Quality::Appearance, "clear"), (Quality::Odour, "none")] {
        let event = Event::Measured {
            what,
            name: "".into(),
            value: value.into(),
            remark: "".into(),
        };
        add(&mut r, event).unwrap();
    }
    let fill = Event::Filled {
        containers: 9,
        mass: mass("900 g"),
        samples: mass("30 g"),
        waste: mass("50 g"),
    };
    add(&mut r, fill).unwrap();
    let sum = r.reconciliation().unwrap();
    assert_eq!(sum.unaccounted, mass("20 g"));
    assert!((sum.yield_share.as_percent() - 90.0).abs() < 1e-9);
    assert_eq!(r.open_points(), Vec::<String>::new());
    for point in gate(&r, evaluated(&r).as_ref()) {
        add(&mut r, point.accept("a test of the scale")).unwrap();
    }
    let release = Event::Decided {
        decision: Decision::Release,
        reason: "".into(),
    };
    add(&mut r, release).unwrap();
    let dispatch = |containers| Event::Dispatched {
        to: "Heath Fair".into(),
        containers,
        day: jiff::civil::date(2026, 6, 2),
    };
    add(&mut r, dispatch(6)).unwrap();
    assert_eq!(
        add(&mut r, dispatch(4)),
        Err(RecordError::Dispatch { asked: 4, left: 3 })
    );
}

/// A record with one entry of every kind that can be corrected, released and closed.
fn closed_record() -> Record {
    let mut o = opening("26-001");
    // As at first, so that a reason is enough for a release.
    o.rules = Opening::FIRST_RULES;
    let mut variant = o.variant().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    phase.steps.push(crate::formula::Step {
        id: ItemId(50),
        text: "stir".into(),
        temperature: None,
        minutes: None,
        tool: "".into(),
        check: "".into(),
    });
    variant.phases[0] = Arc::new(phase);
    let mut formula = o.formula.as_ref().clone();
    formula.variants = vec![Arc::new(variant)];
    o.formula = Arc::new(formula);
    let mut r = record(o);
    for event in [
        weigh(10, "800 g", "W1"),
        weigh(11, "200 g", "G1"),
        Event::Worked {
            step: ItemId(50),
            temperature: None,
            remark: "".into(),
        },
        Event::Rescaled {
            masses: vec![(ItemId(10), mass("801 g"))],
            reason: "why not".into(),
        },
        Event::MadeUp {
            mass: mass("5 g"),
            lot: lot("W1"),
        },
        Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: "5.2".into(),
            remark: "".into(),
        },
        Event::Packed {
            what: "bottle".into(),
            lot: "B1".into(),
            used: 9,
            spoilt: 0,
        },
        Event::Filled {
            containers: 9,
            mass: mass("900 g"),
            samples: mass("30 g"),
            waste: mass("50 g"),
        },
        Event::Remarked {
            text: "foamy".into(),
            open: false,
        },
        Event::Decided {
            decision: Decision::Release,
            reason: "all well".into(),
        },
        Event::Closed,
        Event::Dispatched {
            to: "Heath Fair".into(),
            containers: 4,
            day: jiff::civil::date(2026, 6, 2),
        },
    ] {
        add(&mut r, event).unwrap();
    }
    r
}

pub fn amend(r: &mut Record, entry: u64, change: Change) -> Result<(), RecordError> {
    let old = r
        .value_of(entry, &change)
        .ok_or(RecordError::NotCorrectable(entry))?;
    let event = Event::Amended {
        entry,
        change,
        old: old.into(),
        reason: "misread".into(),
    };
    add(r, event)
}

#[test]
fn every_kind_of_entry_can_be_corrected_after_closing() {
    let mut r = closed_record();
    let instead = |event| Change::Instead(Box::new(event));
    amend(&mut r, 2, instead(weigh(11, "790 g", "W2"))).unwrap();
    assert_eq!(r.weighed_in(ItemId(10)), ExactMass::ZERO);
    assert_eq!(r.weighed_in(ItemId(11)), mass("990 g"));
    amend(&mut r, 4, Change::Struck).unwrap();
    assert!(!r.worked(ItemId(50)));
    amend(&mut r, 5, Change::Struck).unwrap();
    assert_eq!(r.line(ItemId(10)).unwrap().planned, mass("800 g"));
    amend(&mut r, 6, Change::Lot(lot("W7"))).unwrap();
    let usage: LotUsage = r.usage().collect();
    assert_eq!(usage.of(&lot("W7").unwrap()), mass("5 g"));
    let measured = Event::Measured {
        what: Quality::Odour,
        name: "".into(),
        value: "faint".into(),
        remark: "".into(),
    };
    amend(&mut r, 7, instead(measured)).unwrap();
    assert_eq!(r.measurements()[0].what, Quality::Odour);
    let packed = |lot: &str| Event::Packed {
        what: "bottle".into(),
        lot: lot.into(),
        used: 10,
        spoilt: 1,
    };
    amend(&mut r, 8, instead(packed("B2"))).unwrap();
    assert_eq!(r.standing(8), Some((&packed("B2"), false)));
    let filled = |containers| Event::Filled {
        containers,
        mass: mass("800 g"),
        samples: mass("30 g"),
        waste: mass("50 g"),
    };
    // Four have left, so at least four were filled.
    assert_eq!(
        amend(&mut r, 9, instead(filled(3))),
        Err(RecordError::Dispatch { asked: 4, left: 3 })
    );
    amend(&mut r, 9, instead(filled(8))).unwrap();
    assert_eq!(r.in_house(), 4);
    amend(&mut r, 10, Change::Value("no foam".into())).unwrap();
    assert!(r.matches("no foam") && r.matches("foamy"));
    let reject = Event::Decided {
        decision: Decision::Reject,
        reason: "turned".into(),
    };
    amend(&mut r, 11, instead(reject)).unwrap();
    assert_eq!(r.decision().unwrap().0, Decision::Reject);
    let sent = Event::Dispatched {
        to: "Moor Market".into(),
        containers: 5,
        day: jiff::civil::date(2026, 6, 3),
    };
    amend(&mut r, 13, instead(sent)).unwrap();
    let to: Vec<_> = r.dispatches().map(|(to, n, _)| (to.as_ref(), n)).collect();
    assert_eq!(to, [("Moor Market", 5)]);
    assert_eq!(r.in_house(), 3);
    amend(&mut r, 13, Change::Struck).unwrap();
    assert_eq!(r.dispatches().count(), 0);
    assert_eq!(r.in_house(), 8);
    assert!(r.is_closed());
}

#[test]
fn what_cannot_be_corrected_is_refused() {
    let mut r = closed_record();
    let fine = weigh(10, "1 g", "W1");
    for (entry, change) in [
        (1, Change::Struck),
        (12, Change::Struck),
        (99, Change::Struck),
        (3, Change::Value("x".into())),
        (7, Change::Mass(mass("1 g"))),
        (7, Change::Instead(Box::new(fine.clone()))),
    ] {
        assert_eq!(
            amend(&mut r, entry, change),
            Err(RecordError::NotCorrectable(entry))
        );
    }
    let elsewhere = Change::Instead(Box::new(weigh(99, "1 g", "W1")));
    assert!(matches!(
        amend(&mut r, 2, elsewhere),
        Err(RecordError::Unknown(_))
    ));
    // A closed record stays decided, and what left was filled.
    assert_eq!(
        amend(&mut r, 11, Change::Struck),
        Err(RecordError::Undecided)
    );
    assert!(amend(&mut r, 9, Change::Struck).is_err());
    amend(&mut r, 2, Change::Struck).unwrap();
    assert_eq!(
        amend(&mut r, 2, Change::Mass(mass("1 g"))),
        Err(RecordError::NotCorrectable(2))
    );
}

#[test]
fn struck_entries_do_not_count() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(10, "100 g", "W1")).unwrap();
    add(
        &mut r,
        Event::MadeUp {
            mass: mass("7 g"),
            lot: lot("W1"),
        },
    )
    .unwrap();
    amend(&mut r, 3, Change::Struck).unwrap();
    amend(&mut r, 4, Change::Struck).unwrap();
    assert_eq!(r.weighed(), mass("800 g"));
    assert_eq!(r.line(ItemId(10)).unwrap().actual, mass("800 g"));
    assert_eq!(r.usage().map(|(_, m)| m).sum::<ExactMass>(), mass("800 g"));
    assert_eq!(r.portions().iter().filter(|p| p.struck).count(), 2);
    let points = r.open_points().join("; ");
    assert!(!points.contains("Water"), "{points}");
}

#[test]
fn exactly_on_the_tolerance_is_within() {
    let tolerance = record(opening("26-001"))
        .line(ItemId(10))
        .unwrap()
        .tolerance;
    assert!(tolerance > mass("0.1 g"));
    let state = |actual: ExactMass| {
        let mut r = record(opening("26-001"));
        let event = Event::Weighed {
            line: ItemId(10),
            mass: actual,
            lot: lot("W1"),
            remark: "".into(),
        };
        add(&mut r, event).unwrap();
        r.line(ItemId(10)).unwrap().state
    };
    let (planned, step) = (mass("800 g"), mass("0.001 g"));
    assert_eq!(state(planned + tolerance), LineState::Within);
    assert_eq!(state(planned - tolerance), LineState::Within);
    assert_eq!(state(planned + tolerance + step), LineState::Over);
    assert_eq!(state(planned - tolerance - step), LineState::Short);
}

#[test]
fn a_damaged_record_keeps_what_can_be_read() {
    let whole = closed_record();
    let mut r = record(whole.opening().clone());
    let mut faults = 0;
    for e in &whole.entries()[1..] {
        // The first weighing cannot be read, the release is missing.
        match e.number {
            2 => r.lose("…".into(), "damaged".into()),
            11 => {}
            _ => faults += usize::from(r.add_found(e.clone()).is_err()),
        }
    }
    let lost: Vec<u64> = r.lost().iter().map(|l| l.number).collect();
    assert_eq!(lost, [2, 11]);
    // The gap, closing undecided, and sending what is not released.
    assert!(faults >= 2, "{faults}");
    assert_eq!(r.weighed(), mass("200 g"));
    // What left is still listed: a recall needs it.
    assert_eq!(r.dispatches().count(), 1);
    // The same again does not count twice.
    let again = whole.entries()[2].clone();
    assert!(r.add_found(again).is_err());
    assert_eq!(r.weighed(), mass("200 g"));
}

#[test]
fn what_is_not_of_the_batch_is_refused() {
    let mut r = record(opening("26-001"));
    assert!(matches!(
        add(&mut r, weigh(99, "1 g", "X")),
        Err(RecordError::Unknown(_))
    ));
    assert_eq!(add(&mut r, weigh(10, "0 g", "X")), Err(RecordError::Mass));
    assert_eq!(
        r.add(entry(7, weigh(10, "1 g", "X"))),
        Err(RecordError::Number {
            found: 7,
            expected: 2
        })
    );
    assert_eq!(
        add(&mut r, Event::Opened(Box::new(opening("26-002")))),
        Err(RecordError::Opening)
    );
}

/// What follows from the mix as it was weighed.
pub fn evaluated(record: &Record) -> Option<Evaluation> {
    let context = Context::new(jiff::civil::date(2026, 6, 1));
    as_weighed(record, &BTreeMap::new(), &context).map(|a| a.evaluation)
}

fn by(record: &mut Record, who: &str, event: Event) -> Result<(), RecordError> {
    let found = event.releases().and_then(|_| evaluated(record));
    record.check(&event, who, found.as_ref())?;
    let number = record.next_number();
    record.add(Entry {
        by: who.into(),
        ..entry(number, event)
    })
}

/// What is measured on the batch is the truth about the batch, not what was measured before.
#[test]
fn a_batch_is_judged_by_its_own_ph_and_density() {
    let mut opened = opening("26-001");
    let mut formula = opened.formula.as_ref().clone();
    let mut variant = formula.active().as_ref().clone();
    variant.measured.ph = Ph::new(6.1);
    variant.measured.water_activity = Some(0.97);
    formula.variants = vec![variant.into()];
    opened.formula = formula.into();
    let mut r = record(opened);
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let measured = |r: &Record| r.as_weighed().unwrap().measured;
    assert_eq!(measured(&r).ph, Ph::new(6.1));
    let found = |what, value: &str| Event::Measured {
        what,
        name: "".into(),
        value: value.into(),
        remark: "".into(),
    };
    add(&mut r, found(Quality::Ph, "5.2")).unwrap();
    add(&mut r, found(Quality::Density, "1.03 g/ml")).unwrap();
    assert_eq!(measured(&r).ph, Ph::new(5.2));
    let density = measured(&r).density.map(in_kg_per_m3).unwrap();
    assert!((density - 1030.0).abs() < 1e-9);
    // What was not measured again stays.
    assert_eq!(measured(&r).water_activity, Some(0.97));
    let judged = evaluated(&r).unwrap().estimates.ph.figure.measured;
    assert_eq!(judged, Some(5.2));
}

#[test]
fn a_release_wants_every_point_accepted_and_a_name() {
    let mut r = record(opening("26-001"));
    let release = Event::Decided {
        decision: Decision::Release,
        reason: "for the fair".into(),
    };
    assert_eq!(
        by(&mut r, " ", weigh(10, "800 g", "W1")),
        Err(RecordError::Nameless)
    );
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    assert!(matches!(
        add(&mut r, release.clone()),
        Err(RecordError::OpenPoints(_))
    ));
    let found = evaluated(&r);
    assert_eq!(
        r.check(&release, "Wren", None),
        Err(RecordError::NotEvaluated)
    );
    for point in gate(&r, found.as_ref()) {
        let event = |reason: &str| point.accept(reason);
        assert!(matches!(
            add(&mut r, event(" ")),
            Err(RecordError::Words(_))
        ));
        by(&mut r, "Fern", event("known")).unwrap();
    }
    assert!(r.points().iter().all(|p| p.accepted.is_some()));
    add(&mut r, release).unwrap();
    add(&mut r, Event::Closed).unwrap();
    // What is corrected afterwards opens its own points again.
    let other = Change::Mass(mass("700 g"));
    amend(&mut r, 2, other).unwrap();
    assert_eq!(
        r.open_points(),
        ["Water is below its tolerance: 700.0 g weighed, 800.0 g ± 8.0 g asked for"]
    );
    // To reject needs no more than a reason; to release again needs the point accepted.
    let decided = r
        .entries()
        .iter()
        .find(|e| matches!(e.event, Event::Decided { .. }))
        .unwrap()
        .number;
    let decide = |decision| {
        Change::Instead(Box::new(Event::Decided {
            decision,
            reason: "looked at again".into(),
        }))
    };
    amend(&mut r, decided, decide(Decision::Reject)).unwrap();
    assert!(matches!(
        amend(&mut r, decided, decide(Decision::Release)),
        Err(RecordError::OpenPoints(_))
    ));
}

#[test]
fn a_second_person_checks_what_another_weighed() {
    let mut o = opening("26-001");
    o.second_check = true;
    let mut r = record(o);
    let check = |line: Option<u64>| Event::Checked {
        line: line.map(ItemId),
    };
    assert!(matches!(
        by(&mut r, "Fern", check(Some(10))),
        Err(RecordError::NothingToCheck(_))
    ));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let unchecked = "no second person checked the weighing of Water".to_owned();
    assert!(r.open_points().contains(&unchecked));
    assert!(matches!(
        by(&mut r, "wren ", check(Some(10))),
        Err(RecordError::SamePerson(_))
    ));
    by(&mut r, "Fern", check(Some(10))).unwrap();
    assert!(!r.open_points().contains(&unchecked));
    by(&mut r, "Fern", check(None)).unwrap();
    assert_eq!(r.looked_through_by(), Some("Fern"));
    // What is changed afterwards is looked at again.
    amend(&mut r, 2, Change::Mass(mass("801 g"))).unwrap();
    assert!(r.open_points().contains(&unchecked));
    assert_eq!(r.looked_through_by(), None);
}

#[test]
fn a_measured_ph_is_held_against_the_one_aimed_at() {
    let points = |value: &str| {
        let mut o = opening("26-001");
        let mut formula = o.formula.as_ref().clone();
        let mut variant = formula.active().as_ref().clone();
        variant.target_ph = Ph::new(5.2);
        formula.variants = vec![Arc::new(variant)];
        o.formula = Arc::new(formula);
        let mut r = record(o);
        let event = Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: value.into(),
            remark: "".into(),
        };
        add(&mut r, event).unwrap();
        let points = r.open_points();
        points.into_iter().filter(|p| p.contains("pH")).count()
    };
    assert_eq!(points("6.9"), 1);
    assert_eq!(points("5.5"), 0);
    assert_eq!(points("5.51"), 1);
    assert_eq!(points("4.9"), 0);
    assert_eq!(points("sour"), 1);
}

#[test]
fn the_last_ph_that_stands_is_held_against_what_the_materials_bear() {
    let mut o = opening("26-001");
    let mut formula = o.formula.as_ref().clone();
    let id = MaterialId::from_name("Glycerin");
    let mut glycerin = formula.materials[&id].as_ref().clone();
    let window = PhRange::new(4.0, 6.5).unwrap();
    glycerin.ph_window = Some(Sourced::new(window, Source::new(Basis::Measured, "")));
    formula.materials.insert(id, Arc::new(glycerin));
    o.formula = Arc::new(formula);
    let mut r = record(o);
    let measured = |r: &mut Record, value: &str| {
        let event = Event::Measured {
            what: Quality::Ph,
            name: "".into(),
            value: value.into(),
            remark: "".into(),
        };
        add(r, event).unwrap();
        let points = r.open_points().into_iter();
        let found: Vec<String> = points
            .filter(|p| p.contains("all materials bear"))
            .collect();
        found
    };
    assert!(measured(&mut r, "4").is_empty());
    // As shown, 6.504 is 6.50.
    assert!(measured(&mut r, "6.504").is_empty());
    assert!(measured(&mut r, "6.5").is_empty());
    assert_eq!(
        measured(&mut r, "6.51"),
        ["pH 6.51 was measured; all materials bear and work within 4.0 to 6.5"]
    );
    assert_eq!(measured(&mut r, "3.99").len(), 1);
    // Struck, it is the one before that counts.
    let last = r.entries().last().unwrap().number;
    amend(&mut r, last, Change::Struck).unwrap();
    assert_eq!(&*r.last_measured(Quality::Ph).unwrap().value, "6.51");
}

#[test]
fn what_was_weighed_without_a_lot_is_a_point_of_its_line() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "")).unwrap();
    add(&mut r, weigh(11, "200 g", "G1")).unwrap();
    let lacking = |r: &Record| {
        let points = r.open_points().into_iter();
        points
            .filter(|p| p.contains("has no lot"))
            .collect::<Vec<_>>()
    };
    assert_eq!(lacking(&r), ["Water has no lot"]);
    let weighed = r.entries()[1].number;
    amend(&mut r, weighed, Change::Struck).unwrap();
    assert!(lacking(&r).is_empty());
}

/// Who has lots of a material, be they in quarantine, and notes none is stopped; that it was
/// taken all the same is one point, not two. Who keeps no lots of it is not asked.
#[test]
fn a_weighing_without_a_lot_of_what_is_kept_is_stopped() {
    let mut r = record(opening("26-001"));
    let mut stock = Stock::new(Currency::EUR);
    stock.lots.push(Lot {
        status: LotStatus::Quarantine,
        ..Lot::of_one_pack(
            lot("W1").unwrap(),
            MaterialId::from_name("Water"),
            jiff::civil::date(2026, 1, 1),
            mass("5 kg"),
            Currency::EUR,
        )
    });
    let usage = LotUsage::default();
    let lots = Lots {
        stock: &stock,
        usage: &usage,
        day: jiff::civil::date(2026, 6, 1),
    };
    assert_eq!(r.stop(&weigh(11, "200 g", ""), lots), None);
    let glycerin = Lot::of_one_pack(
        lot("G1").unwrap(),
        MaterialId::from_name("Glycerin"),
        jiff::civil::date(2026, 1, 1),
        mass("5 kg"),
        Currency::EUR,
    );
    let mut with_glycerin = stock.clone();
    with_glycerin.lots.push(glycerin);
    let lots = Lots {
        stock: &with_glycerin,
        ..lots
    };
    let stop = r.stop(&weigh(10, "800 g", ""), lots).unwrap();
    assert_eq!(stop.lot, None);
    assert_eq!(
        stop.against,
        ["Water: no lot is noted, though the stock has lots of it"]
    );
    let except = Event::Deviated {
        lot: None,
        what: stop.against[0].as_str().into(),
        reason: "the can has no label".into(),
    };
    add(&mut r, except).unwrap();
    assert_eq!(r.stop(&weigh(10, "800 g", ""), lots), None);
    add(&mut r, weigh(10, "800 g", "")).unwrap();
    let points = r.open_points().into_iter();
    assert_eq!(points.filter(|p| p.starts_with("Water")).count(), 1);
    // So is water made up without a lot, and from a lot of something else.
    let made_up = |from: &str| Event::MadeUp {
        mass: mass("5 g"),
        lot: lot(from),
    };
    let against = |r: &Record, from: &str| {
        let stop = r.stop(&made_up(from), lots);
        stop.map(|s| s.against.join("; ")).unwrap_or_default()
    };
    let no_lot = "water made up: no lot is noted, though the stock has lots of it";
    assert_eq!(against(&r, ""), no_lot);
    assert!(against(&r, "W1").contains("quarantine"));
    assert!(against(&r, "G1").contains("is of another material, Glycerin"));
    let except = Event::Deviated {
        lot: None,
        what: no_lot.into(),
        reason: "from the tap".into(),
    };
    add(&mut r, except).unwrap();
    add(&mut r, made_up("")).unwrap();
    let points = r.open_points().into_iter();
    assert_eq!(points.filter(|p| p.contains("water made up")).count(), 1);
    // A correction that takes the lot away is stopped as well.
    let mut r = record(opening("26-002"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let taken_away = Event::Amended {
        entry: r.entries()[1].number,
        change: Change::Lot(None),
        old: "W1".into(),
        reason: "misread".into(),
    };
    assert!(r.stop(&taken_away, lots).is_some());
}

#[test]
fn a_trial_is_never_released() {
    let mut o = opening("26-001");
    o.trial = "to see how it pours".into();
    let mut r = record(o);
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let release = Event::Decided {
        decision: Decision::Release,
        reason: "x".into(),
    };
    assert_eq!(add(&mut r, release), Err(RecordError::NotForSale));
}

fn open_with<'r>(points: &'r [Point], part: &str) -> Option<&'r Point> {
    let open = points.iter().filter(|p| p.accepted.is_none());
    open.into_iter().find(|p| p.words.contains(part))
}

#[test]
fn a_point_is_told_by_what_it_is_about_and_its_figures() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "850 g", "W1")).unwrap();
    let points = r.points();
    let over = open_with(&points, "above its tolerance").unwrap();
    // Other words of an earlier program, the same point.
    let event = Event::Accepted {
        point: "Water is over".into(),
        about: Some(over.identity.clone()),
        reason: "as tried".into(),
    };
    add(&mut r, event).unwrap();
    assert_eq!(open_with(&r.points(), "above its tolerance"), None);
    // Another figure is another point.
    add(&mut r, weigh(10, "1 g", "W1")).unwrap();
    assert!(open_with(&r.points(), "851.0 g weighed").is_some());
    // A record of an earlier program tells its points by their words.
    let event = Event::Accepted {
        point: "Glycerin is not weighed".into(),
        about: None,
        reason: "left out".into(),
    };
    add(&mut r, event).unwrap();
    assert_eq!(open_with(&r.points(), "Glycerin is not weighed"), None);
}

#[test]
fn an_accepted_finding_survives_other_words_and_not_other_figures() {
    use crate::finding::Finding;
    let r = record(opening("26-001"));
    let evaluated = |words: &str| {
        let mut evaluation = crate::evaluation::evaluate(
            &r.opening().formula,
            r.opening().variant(),
            &Context::new(jiff::civil::date(2026, 6, 1)),
        );
        let source = Source::new(Basis::Practice, "invented");
        evaluation.findings = vec![Finding::new(Level::Caution, "invented", words, source)];
        evaluation
    };
    let of = |words: &str, r: &Record| {
        let points = gate(r, Some(&evaluated(words)));
        points.into_iter().find(|p| p.words.contains("as weighed"))
    };
    let first = of("At pH 6.2 it works to 40 %", &r).unwrap();
    assert_eq!(
        first.sentence(),
        "As weighed, caution: At pH 6.2 it works to 40 %"
    );
    let mut after = r.clone();
    add(&mut after, first.accept("tested")).unwrap();
    let reworded = of("Works to 40 % only: the pH is 6.20", &after).unwrap();
    assert!(reworded.accepted.is_some());
    let worse = of("At pH 6.4 it works to 40 %", &after).unwrap();
    assert!(worse.accepted.is_none());
}

#[test]
fn labels_are_counted_and_held_against_the_batch() {
    let mut r = record(opening("26-001"));
    let run = |code: &str, printed, applied, spoilt| Event::Labelled {
        what: "front".into(),
        lot: "L-1".into(),
        code: code.into(),
        date: "2028-06".into(),
        printed,
        applied,
        spoilt,
    };
    assert_eq!(
        add(&mut r, run("26-001", 0, 0, 0)),
        Err(RecordError::NoLabels)
    );
    assert!(matches!(
        add(&mut r, run(" ", 10, 9, 1)),
        Err(RecordError::Words(_))
    ));
    add(&mut r, run("26-010", 12, 9, 1)).unwrap();
    add(
        &mut r,
        Event::Filled {
            containers: 10,
            mass: mass("950 g"),
            samples: mass("20 g"),
            waste: mass("30 g"),
        },
    )
    .unwrap();
    for part in [
        "bear the batch code 26-010, not 26-001",
        "2 labels “front” are neither",
        "9 labels “front” are on containers, 10 containers are filled",
    ] {
        assert!(open_with(&r.points(), part).is_some(), "{part}");
    }
    assert_eq!(r.pieces().map(|(_, _, n)| n).sum::<u32>(), 12);
    let right = Change::Instead(Box::new(run("26-001", 12, 10, 2)));
    amend(&mut r, 2, right).unwrap();
    assert!(r.points().iter().all(|p| !p.words.contains("label")));
    assert!(r.words().contains("2028-06"));
}

#[test]
fn the_yield_and_open_remarks_are_points() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(11, "200 g", "G1")).unwrap();
    let filled = |grams: &str| Event::Filled {
        containers: 4,
        mass: mass(grams),
        samples: mass("20 g"),
        waste: mass("0 g"),
    };
    add(&mut r, filled("899 g")).unwrap();
    assert!(
        open_with(
            &r.points(),
            "the yield is 89.9 %, at least 90 % is asked for"
        )
        .is_some()
    );
    amend(&mut r, 4, Change::Instead(Box::new(filled("900 g")))).unwrap();
    assert_eq!(open_with(&r.points(), "yield"), None);
    let remark = |open| Event::Remarked {
        text: "foamed more than usual".into(),
        open,
    };
    add(&mut r, remark(false)).unwrap();
    assert_eq!(open_with(&r.points(), "foamed"), None);
    add(&mut r, remark(true)).unwrap();
    assert!(open_with(&r.points(), "foamed").is_some());
}
