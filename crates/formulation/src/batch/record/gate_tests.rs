//! Points of the release gate, each at the figure from which it stands.

use std::sync::Arc;

use super::point::Point;
use super::tests::{add, amend, entry, opening, record, weigh};
use super::{Change, Decision, Entry, Event, Opening, Quality, Record, RecordError};
use crate::finding::Level;
use crate::formula::{ItemId, Step};
use crate::mass::{ExactMass, read_mass};
use crate::specification::{Characteristic, Specification};
use crate::stock::LotId;

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

fn words(r: &Record) -> Vec<String> {
    r.points().into_iter().map(|p| p.words).collect()
}

fn has(r: &Record, part: &str) -> bool {
    words(r).iter().any(|w| w.contains(part))
}

/// The batch of the tests with a change of its variant.
fn opening_with(change: impl FnOnce(&mut crate::formula::Variant)) -> Opening {
    let mut o = opening("26-001");
    let mut formula = o.formula.as_ref().clone();
    let mut variant = formula.active().as_ref().clone();
    change(&mut variant);
    formula.variants = vec![Arc::new(variant)];
    o.formula = Arc::new(formula);
    o
}

fn filled(grams: &str, samples: &str, waste: &str) -> Event {
    Event::Filled {
        containers: 4,
        mass: mass(grams),
        samples: mass(samples),
        waste: mass(waste),
    }
}

#[test]
fn no_more_leaves_a_batch_than_was_weighed() {
    let after = |waste: &str| {
        let mut r = record(opening("26-001"));
        add(&mut r, weigh(10, "800 g", "W1")).unwrap();
        add(&mut r, weigh(11, "200 g", "G1")).unwrap();
        add(&mut r, filled("950 g", "20 g", waste)).unwrap();
        r
    };
    // 950 + 20 + 30 is what was weighed; a gram more cannot be.
    assert!(!has(&after("30 g"), "than was weighed"));
    assert!(!has(&after("29 g"), "than was weighed"));
    let more = "1.0 g more was filled, sampled and thrown away than was weighed".to_owned();
    assert!(words(&after("31 g")).contains(&more));
}

#[test]
fn labels_missing_or_too_many_are_told_by_their_number() {
    let after = |applied, spoilt| {
        let mut r = record(opening("26-001"));
        let run = Event::Labelled {
            what: "front".into(),
            lot: "L-1".into(),
            code: "26-001".into(),
            date: "2028-06".into(),
            printed: 12,
            applied,
            spoilt,
        };
        add(&mut r, run).unwrap();
        let said: Vec<String> = words(&r);
        said.into_iter().find(|w| w.contains("label"))
    };
    let told = |applied, spoilt| after(applied, spoilt).unwrap_or_default();
    assert_eq!(told(10, 2), "");
    assert_eq!(
        told(10, 1),
        "1 label “front” is neither on a container nor recorded as destroyed"
    );
    assert_eq!(
        told(8, 1),
        "3 labels “front” are neither on containers nor recorded as destroyed"
    );
    assert_eq!(
        told(10, 3),
        "of the labels “front” 1 more were put on and destroyed than printed"
    );
}

#[test]
fn a_step_is_a_point_until_it_is_done() {
    let step = |id, text: &str| Step {
        id: ItemId(id),
        text: text.into(),
        temperature: None,
        minutes: None,
        tool: "".into(),
        check: "".into(),
    };
    let mut r = record(opening_with(|v| {
        let mut phase = v.phases[0].as_ref().clone();
        phase.steps = vec![step(50, "Stir"), step(51, "Rest")];
        v.phases[0] = Arc::new(phase);
    }));
    assert!(has(&r, "step “Stir” is not done") && has(&r, "step “Rest” is not done"));
    let done = Event::Worked {
        step: ItemId(50),
        temperature: None,
        remark: "".into(),
    };
    add(&mut r, done).unwrap();
    assert!(!has(&r, "step “Stir”") && has(&r, "step “Rest” is not done"));
}

#[test]
fn made_up_water_without_a_lot_is_a_point_in_gated_records_only() {
    let made_up = |rules: u32, lot: Option<&str>| {
        let mut o = opening("26-001");
        o.rules = rules;
        let mut r = record(o);
        add(&mut r, weigh(10, "800 g", "W1")).unwrap();
        let event = Event::MadeUp {
            mass: mass("5 g"),
            lot: lot.and_then(LotId::new),
        };
        add(&mut r, event).unwrap();
        has(&r, "the water made up has no lot")
    };
    assert!(made_up(Opening::GATED, None));
    assert!(!made_up(Opening::GATED, Some("W1")));
    // A record begun under older rules keeps them.
    assert!(!made_up(Opening::GATED - 1, None));
}

#[test]
fn what_was_not_weighed_lacks_no_lot() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    // Neither the line that has one nor the line that was never touched.
    assert!(!has(&r, "has no lot"));
    add(&mut r, weigh(11, "100 g", "G1")).unwrap();
    add(&mut r, weigh(11, "100 g", "")).unwrap();
    assert!(has(&r, "Glycerin has no lot") && !has(&r, "Water has no lot"));
}

#[test]
fn what_is_asked_for_and_not_found_is_a_point_but_for_the_yield() {
    let other = |accept: &str| Characteristic {
        accept: accept.into(),
        ..Characteristic::new(Quality::Other)
    };
    let o = opening_with(|v| {
        let characteristics = vec![
            Characteristic {
                low: Some(90.0),
                ..Characteristic::new(Quality::Yield)
            },
            Characteristic::new(Quality::Odour),
            other("spreads without streaks"),
            other("rinses off at once"),
        ];
        v.specification = Arc::new(Specification { characteristics });
    });
    let mut r = record(o);
    let not = |r: &Record| -> Vec<String> {
        let mut all = words(r);
        all.retain(|w| w.ends_with("is not measured") || w.ends_with("is not judged"));
        all
    };
    // That nothing is filled is a point of its own; the yield has none beside it. The appearance
    // is always asked for.
    assert!(has(&r, "it is not filled"));
    let first = not(&r);
    assert_eq!(first.len(), 4, "{first:?}");
    assert!(!first.iter().any(|w| w.contains("yield")));
    // What is seen and smelt is judged.
    for what in ["appearance", "odour"] {
        assert!(
            first.contains(&format!("the {what} is not judged")),
            "{first:?}"
        );
    }
    // A finding without a figure belongs to the characteristic that it names.
    let measured = |name: &str| Event::Measured {
        what: Quality::Other,
        name: name.into(),
        value: "yes".into(),
        remark: "".into(),
    };
    assert_eq!(
        add(&mut r, measured(" ")),
        Err(RecordError::Words("the name of what was measured"))
    );
    add(&mut r, measured("Rinses off at once")).unwrap();
    let left = not(&r);
    assert_eq!(left.len(), 3, "{left:?}");
    assert!(left.iter().any(|w| w.contains("spreads without streaks")));
}

/// One name that is the beginning of another is not the other, whether the name was recorded or,
/// in a record of an earlier program, only remarked.
#[test]
fn what_was_measured_belongs_to_its_own_name() {
    let names = ["Foam", "Foam height", "Rinse", "++", "+++"];
    let o = opening_with(|v| {
        let characteristics = names.map(|accept| Characteristic {
            accept: accept.into(),
            ..Characteristic::new(Quality::Other)
        });
        v.specification = Arc::new(Specification {
            characteristics: characteristics.to_vec(),
        });
    });
    let all = o.variant().must_measure();
    let found = |r: &Record| -> Vec<String> {
        let others = all.iter().filter(|c| c.quality == Quality::Other);
        others
            .filter(|c| r.found(c).is_some())
            .map(|c| c.name().to_owned())
            .collect()
    };
    let entry_of = |r: &Record, name: &str, remark: &str| Entry {
        number: r.next_number(),
        at: "2026-06-01T09:00:00+02:00".into(),
        by: "Wren".into(),
        event: Event::Measured {
            what: Quality::Other,
            name: name.into(),
            value: "5 cm".into(),
            remark: remark.into(),
        },
    };
    for (name, remark, of) in [
        (
            "Foam height",
            "of the Foam after Rinse",
            &["Foam height"][..],
        ),
        ("foam", "Foam height", &["Foam"]),
        ("", "Foam height, in the cylinder", &["Foam height"]),
        ("", "foam: stands", &["Foam"]),
        ("", "Foaming is good", &[]),
        ("", "no rinse", &[]),
        // Named by signs alone.
        (" ++ ", "", &["++"]),
        ("+++", "++", &["+++"]),
    ] {
        let mut r = record(o.clone());
        let entry = entry_of(&r, name, remark);
        r.add(entry).unwrap();
        assert_eq!(found(&r), of, "{name:?}, {remark:?}");
    }
}

/// What is measured or remarked after closing is told as added later; it does not take the place
/// of what the batch was released on, and is a point of its own where it is outside.
#[test]
fn what_is_measured_after_closing_is_added_and_told_so() {
    let mut o = opening_with(|v| {
        v.specification = Arc::new(Specification {
            characteristics: vec![
                Characteristic {
                    low: Some(5.0),
                    high: Some(5.5),
                    ..Characteristic::new(Quality::Ph)
                },
                Characteristic {
                    low: Some(3000.0),
                    ..Characteristic::new(Quality::Viscosity)
                },
            ],
        });
    });
    o.second_check = true;
    let mut r = record(o);
    let measured = |what, value: &str| Event::Measured {
        what,
        name: "".into(),
        value: value.into(),
        remark: "".into(),
    };
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, measured(Quality::Ph, "5.2")).unwrap();
    let looked = Event::Checked { line: None };
    r.check(&looked, "Fern", None).unwrap();
    let by_fern = Entry {
        by: "Fern".into(),
        ..entry(r.next_number(), looked)
    };
    r.add(by_fern).unwrap();
    let hold = Event::Decided {
        decision: Decision::Hold,
        reason: "settles".into(),
    };
    add(&mut r, hold).unwrap();
    add(&mut r, Event::Closed).unwrap();
    let before = words(&r);

    // Missed before: added later it counts.
    assert!(has(&r, "the viscosity is not measured"));
    add(&mut r, measured(Quality::Viscosity, "3400")).unwrap();
    assert!(!has(&r, "the viscosity is not measured"));
    // Measured before: what it was closed with stands.
    add(&mut r, measured(Quality::Ph, "5.3")).unwrap();
    assert_eq!(&*r.last_measured(Quality::Ph).unwrap().value, "5.2");
    assert_eq!(words(&r).len(), before.len() - 1);
    add(&mut r, measured(Quality::Ph, "6.1")).unwrap();
    let outside = r.next_number() - 1;
    // What is added leaves the look through the rest as it was; a correction does not.
    assert_eq!(r.looked_through_by(), Some("Fern"));
    let told = |r: &Record| words(r).into_iter().find(|w| w.contains("pH 6.1"));
    let point = told(&r).unwrap();
    assert!(point.contains("after closing, on 2026-06-01"), "{point}");
    amend(&mut r, outside, Change::Struck).unwrap();
    assert_eq!(told(&r), None);

    let remark = Event::Remarked {
        text: "no sediment".into(),
        open: false,
    };
    add(&mut r, remark).unwrap();
    let last = r.entries().last().unwrap();
    assert!(r.is_late(last.number));
    assert_eq!(r.describe(last), "no sediment (added after closing)");
    let first = r.entries().iter().find(|e| e.number == 3).unwrap();
    assert!(!r.describe(first).contains("closing"));
    // The rest of a closed record still takes corrections only.
    assert_eq!(
        add(&mut r, weigh(11, "1 g", "G1")),
        Err(RecordError::Closed)
    );
}

#[test]
fn a_breach_known_at_the_start_is_told_by_the_trial_alone() {
    use crate::evaluation::{Context, evaluate};
    use crate::finding::Finding;
    use crate::material::{Basis, Source};
    let told = |level: Level, trial: &str| {
        let mut o = opening("26-001");
        o.trial = trial.into();
        let r = record(o);
        let context = Context::new(jiff::civil::date(2026, 6, 1));
        let mut evaluation = evaluate(&r.opening().formula, r.opening().variant(), &context);
        let source = Source::new(Basis::Practice, "invented");
        evaluation.findings = vec![Finding::new(level, "invented", "too much of it", source)];
        let points: Vec<Point> = super::gate(&r, Some(&evaluation));
        points.iter().any(|p| p.words.contains("too much of it"))
    };
    assert!(told(Level::Breach, ""));
    assert!(!told(Level::Breach, "to see how it pours"));
    assert!(told(Level::Caution, "to see how it pours"));
    assert!(told(Level::Caution, ""));
}

#[test]
fn an_amendment_replaces_the_value_it_names() {
    let mut r = record(opening("26-001"));
    let measured = Event::Measured {
        what: Quality::Ph,
        name: "".into(),
        value: "5.4".into(),
        remark: "".into(),
    };
    add(&mut r, measured).unwrap();
    let remark = Event::Remarked {
        text: "foamd".into(),
        open: false,
    };
    add(&mut r, remark).unwrap();
    amend(&mut r, 2, Change::Value("5.6".into())).unwrap();
    amend(&mut r, 3, Change::Value("foamed".into())).unwrap();
    let ph = r.last_measured(Quality::Ph).unwrap();
    assert_eq!(&*ph.value, "5.6");
    assert!(r.words().contains("foamed"));
    // Struck, it stands no more, and the one before it counts again.
    let again = Event::Measured {
        what: Quality::Ph,
        name: "".into(),
        value: "7.9".into(),
        remark: "".into(),
    };
    add(&mut r, again).unwrap();
    let last = r.next_number() - 1;
    assert_eq!(&*r.last_measured(Quality::Ph).unwrap().value, "7.9");
    amend(&mut r, last, Change::Struck).unwrap();
    assert_eq!(&*r.last_measured(Quality::Ph).unwrap().value, "5.6");
}

#[test]
fn an_exception_holds_for_its_lot_and_its_reason_alone() {
    let mut r = record(opening("26-001"));
    let lot = LotId::new("G1");
    let event = Event::Deviated {
        lot: lot.clone(),
        what: "expired".into(),
        reason: "tested again".into(),
    };
    add(&mut r, event).unwrap();
    assert!(r.excepted(lot.as_ref(), "expired"));
    assert!(!r.excepted(lot.as_ref(), "quarantine"));
    assert!(!r.excepted(LotId::new("G2").as_ref(), "expired"));
    assert!(!r.excepted(None, "expired"));
}

#[test]
fn water_made_up_in_a_product_without_water_is_a_point() {
    let told = |water: &str, rest: &str| {
        use crate::fixture;
        use crate::material::Class;
        let mut o = opening("26-001");
        let aqua = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let oil = fixture::material(
            "Oil",
            &[("Helianthus Annuus Seed Oil", 100.0, Class::Other)],
        );
        let lines = vec![fixture::line(&aqua, water), fixture::line(&oil, rest)];
        o.formula = Arc::new(fixture::formula(lines));
        let mut r = record(o);
        let before = has(&r, "made up");
        let event = Event::MadeUp {
            mass: mass("13.7 g"),
            lot: LotId::new("W1"),
        };
        add(&mut r, event).unwrap();
        assert!(!before);
        words(&r).into_iter().find(|w| w.contains("made up"))
    };
    assert_eq!(told("80", "20"), None);
    let point = told("0", "100").unwrap();
    assert!(
        point.contains("13.7 g of water was made up, but the formula holds no water"),
        "{point}"
    );
    assert!(told("0.4", "99.6").unwrap().contains("hardly any water"));
}

#[test]
fn containers_below_the_label_on_average_are_a_point() {
    use crate::evaluation::{Context, evaluate};
    use crate::label_info::NetContents;
    use crate::material::{Basis, Source, Sourced};
    use crate::quantity::{grams, kg_per_m3, millilitres};
    let told = |net: NetContents, density: Option<(f64, Basis)>, filled: &str| {
        let mut o = opening_with(|v| Arc::make_mut(&mut v.label).net_contents = Some(net));
        o.density = density
            .map(|(g_ml, basis)| Sourced::new(kg_per_m3(g_ml * 1000.0), Source::new(basis, "")));
        let mut r = record(o);
        let event = Event::Filled {
            containers: 24,
            mass: mass(filled),
            samples: ExactMass::ZERO,
            waste: ExactMass::ZERO,
        };
        add(&mut r, event).unwrap();
        let context = Context::new(jiff::civil::date(2026, 6, 1));
        let evaluation = evaluate(&r.opening().formula, r.opening().variant(), &context);
        let points: Vec<Point> = super::gate(&r, Some(&evaluation));
        let mut words = points.into_iter().map(|p| p.words);
        words.find(|w| w.contains("on the label"))
    };
    let ml = NetContents::Volume(millilitres(100.0));
    let point = told(ml, Some((1.0, Basis::Measured)), "2300 g").unwrap();
    assert!(
        point.starts_with(
            "the containers hold 95.83 ml on average (2300.0 g in 24 at 1.000 g/ml, measured), less than the 100 ml on the label"
        ),
        "{point}"
    );
    assert!(point.contains("76/211/EEC") && point.contains("is not checked"));
    assert_eq!(told(ml, Some((1.0, Basis::Measured)), "2400 g"), None);
    // Water with 20 % glycerin is about 1.047 g/ml; an estimate is taken with its range.
    for density in [None, Some((1.047, Basis::Estimate))] {
        let point = told(ml, density, "2400 g").unwrap();
        assert!(
            point.contains("hold at most 9") && point.contains(" to 1."),
            "{point}"
        );
        assert_eq!(told(ml, density, "2512 g"), None, "not surely below");
    }
    let g = NetContents::Mass(grams(100.0));
    assert!(told(g, None, "2399 g").unwrap().contains("hold 99.95 g"));
    assert_eq!(told(g, None, "2400 g"), None);
    assert_eq!(told(NetContents::Pieces(1), None, "10 g"), None);
}

#[test]
fn what_is_not_accounted_for_is_told_with_its_share() {
    let after = |grams: &str| {
        let mut r = record(opening("26-001"));
        add(&mut r, weigh(10, "800 g", "W1")).unwrap();
        add(&mut r, weigh(11, "200 g", "G1")).unwrap();
        add(&mut r, filled(grams, "20 g", "10 g")).unwrap();
        words(&r).into_iter().find(|w| w.contains("accounted"))
    };
    assert_eq!(after("920 g"), None);
    assert_eq!(
        after("870 g").unwrap(),
        "100.0 g, 10.0 % of what was weighed, is not accounted for: neither filled, sampled nor thrown away"
    );
}

#[test]
fn a_temperature_that_is_off_is_a_point_and_asked_about() {
    use crate::quantity::celsius;
    let mut r = record(opening_with(|v| {
        let mut phase = v.phases[0].as_ref().clone();
        phase.steps = vec![Step {
            id: ItemId(50),
            text: "Heat".into(),
            temperature: Some(celsius(75.0)),
            minutes: Some(20),
            tool: "".into(),
            check: "".into(),
        }];
        v.phases[0] = Arc::new(phase);
    }));
    let read = |degrees: Option<f64>| Event::Worked {
        step: ItemId(50),
        temperature: degrees.map(celsius),
        remark: "".into(),
    };
    assert_eq!(r.temperature_doubt(&read(Some(72.0))), None);
    assert_eq!(r.temperature_doubt(&read(None)), None);
    let off = "70 °C was read, 75 °C is asked for";
    assert_eq!(r.temperature_doubt(&read(Some(70.0))).unwrap(), off);
    add(&mut r, read(Some(70.0))).unwrap();
    let point = r
        .points()
        .into_iter()
        .find(|p| p.words.contains("was read"))
        .unwrap();
    assert_eq!(point.words, format!("step “Heat”: {off}"));
    add(&mut r, point.accept("held longer")).unwrap();
    let open = r.open_points();
    assert!(!open.iter().any(|w| w.contains("was read")), "{open:?}");
    // The reading that was done last is the one that stands.
    add(&mut r, read(Some(78.0))).unwrap();
    assert!(!has(&r, "was read"));
}

/// What adjusts the pH is finished with what was really added, be it nothing.
#[test]
fn what_goes_in_by_portions_can_be_enough() {
    use crate::batch::record::LineState;
    use crate::material::PhaseKind;
    assert_eq!(record(opening("26-001")).enough(ItemId(11)), None);
    for added in [None, Some("150 g")] {
        let mut o = opening_with(|v| {
            let mut phase = v.phases[0].as_ref().clone();
            phase.kind = PhaseKind::Adjust;
            v.phases[0] = Arc::new(phase);
        });
        o.second_check = true;
        let mut r = record(o);
        if let Some(added) = added {
            add(&mut r, weigh(11, added, "G1")).unwrap();
        }
        assert!(has(&r, "Glycerin is"));
        let enough = r.enough(ItemId(11)).unwrap();
        add(&mut r, enough.clone()).unwrap();
        assert_eq!(r.line(ItemId(11)).unwrap().state, LineState::Within);
        assert_eq!(r.enough(ItemId(11)), None);
        assert!(!has(&r, "Glycerin is"), "{:?}", words(&r));
        // The other line, of which nothing was said, is still to be weighed.
        assert!(has(&r, "Water is not weighed"));
        let grams = added.map_or(0.0, |_| 150.0);
        let share = r.as_weighed().unwrap().line(ItemId(11)).unwrap().percent;
        let expected = grams / (800.0 + grams) * 100.0;
        assert!((share.fraction().as_percent() - expected).abs() < 1e-5);
        assert_eq!(
            r.describe_event(&enough),
            format!("Glycerin finished with {grams:.1} g: Enough: the target is met")
        );
        assert!(!has(&r, "checked the weighing of Glycerin") || added.is_some());
    }
}

#[test]
fn packaging_and_labels_in_stock_are_to_be_recorded_where_containers_are_filled() {
    use crate::formula::Date;
    use crate::stock::LotUsage;
    use crate::stock::packaging::PackagingLot;
    let lot = |id: &str, what: &str| PackagingLot {
        id: LotId::new(id).unwrap(),
        what: what.into(),
        supplier: "".into(),
        supplier_lot: "".into(),
        received: Date::constant(2026, 3, 2),
        pieces: 40,
        price_each: None,
        low_below: None,
        note: "".into(),
    };
    let told = |lots: &[PackagingLot], packed: &[&str]| {
        let mut o = opening("26-001");
        o.look_for_packaging(lots, &LotUsage::default());
        let mut r = record(o);
        for what in packed {
            let event = Event::Packed {
                what: (*what).into(),
                lot: "J1".into(),
                used: 4,
                spoilt: 0,
            };
            add(&mut r, event).unwrap();
        }
        assert!(!has(&r, "though the stock had some"));
        add(&mut r, weigh(10, "800 g", "W1")).unwrap();
        add(&mut r, filled("780 g", "20 g", "0 g")).unwrap();
        let mut words = words(&r);
        words.retain(|w| w.contains("though the stock had some"));
        words
    };
    let (jar, label) = (lot("J1", "Jar 60 ml"), lot("L1", "Balm label"));
    let both = [jar.clone(), label];
    assert_eq!(told(&[], &[]), Vec::<String>::new());
    assert_eq!(told(&[jar], &[]).len(), 1);
    assert_eq!(
        told(&both, &[]),
        [
            "4 containers are filled and no packaging is recorded, though the stock had some",
            "4 containers are filled and no labels are recorded, though the stock had some"
        ]
    );
    assert_eq!(told(&both, &["Jar 60 ml"]).len(), 1);
    assert!(told(&both, &["Jar 60 ml", "Balm label"]).is_empty());
}
