//! What single entries may say, and what they amount to, each at the figure from which it turns.

use std::sync::Arc;

use super::tests::{add, amend, entry, evaluated, opening, record, weigh};
use super::{
    Change, Decision, Entry, Event, Identity, LineState, Lots, Measurement, Opening, Quality,
    Record, RecordError, gate,
};
use crate::batch::scale::Vessel;
use crate::batch::weighing_scale::WeighingScale;
use crate::evaluation::{Context, evaluate};
use crate::finding::{Finding, Level};
use crate::fixture;
use crate::formula::{Date, ItemId, Step};
use crate::mass::{ExactMass, read_mass};
use crate::material::{Basis, Class, MaterialId, Source, Sourced};
use crate::quantity::{Currency, Percent, kg_per_m3, millilitres};
use crate::specification;
use crate::stock::packaging::PackagingLot;
use crate::stock::{Lot, LotId, LotStatus, LotUsage, Stock};

const DAY: Date = Date::constant(2026, 6, 1);

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

/// The batch of the tests with a change of its formula.
fn opening_with(change: impl FnOnce(&mut crate::formula::Formula)) -> Opening {
    let mut o = opening("26-001");
    let mut formula = o.formula.as_ref().clone();
    change(&mut formula);
    o.formula = Arc::new(formula);
    o
}

/// A change of the one phase of a formula.
fn in_phase(
    formula: &mut crate::formula::Formula,
    change: impl FnOnce(&mut crate::formula::Phase),
) {
    let mut variant = formula.active().as_ref().clone();
    let mut phase = variant.phases[0].as_ref().clone();
    change(&mut phase);
    variant.phases[0] = Arc::new(phase);
    formula.variants = vec![Arc::new(variant)];
}

fn step(id: u64, text: &str) -> Step {
    Step {
        id: ItemId(id),
        text: text.into(),
        temperature: None,
        minutes: None,
        tool: "".into(),
        check: "".into(),
    }
}

fn measured(what: Quality, name: &str, value: &str) -> Event {
    Event::Measured {
        what,
        name: name.into(),
        value: value.into(),
        remark: "".into(),
    }
}

fn decided(decision: Decision) -> Event {
    Event::Decided {
        decision,
        reason: "all well".into(),
    }
}

fn filled(containers: u32) -> Event {
    Event::Filled {
        containers,
        mass: mass("900 g"),
        samples: mass("30 g"),
        waste: mass("50 g"),
    }
}

fn packed(lot: &str, used: u32, spoilt: u32) -> Event {
    Event::Packed {
        what: "bottle".into(),
        lot: lot.into(),
        used,
        spoilt,
    }
}

fn sent(containers: u32) -> Event {
    Event::Dispatched {
        to: "Heath Fair".into(),
        containers,
        day: DAY,
    }
}

fn checked(line: Option<u64>) -> Event {
    Event::Checked {
        line: line.map(ItemId),
    }
}

fn by_fern(r: &mut Record, event: Event) {
    r.check(&event, "Fern", None).unwrap();
    let entry = entry(r.next_number(), event);
    r.add(Entry {
        by: "Fern".into(),
        ..entry
    })
    .unwrap();
}

fn words(r: &Record) -> Vec<String> {
    r.open_points()
}

/// A stock of one lot of water and one of bottles.
fn stock(water: &str, bottles: u32) -> Stock {
    let mut stock = Stock::new(Currency::EUR);
    stock.lots.push(Lot::of_one_pack(
        LotId::new("W1").unwrap(),
        MaterialId::from_name("Water"),
        DAY,
        mass(water),
        Currency::EUR,
    ));
    stock.packaging.push(PackagingLot {
        id: LotId::new("B1").unwrap(),
        what: "bottle".into(),
        supplier: "Glen Glass".into(),
        supplier_lot: "".into(),
        received: DAY,
        pieces: bottles,
        price_each: None,
        low_below: None,
        note: "".into(),
    });
    stock
}

/// What stops an event, in one text.
fn stopped(r: &Record, event: &Event, stock: &Stock, usage: &LotUsage) -> String {
    let lots = Lots {
        stock,
        usage,
        day: DAY,
    };
    let stop = r.stop(event, lots);
    stop.map(|s| s.against.join("; ")).unwrap_or_default()
}

#[test]
fn a_correction_takes_only_what_is_more_than_before() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let (stock, usage) = (stock("900 g", 10), r.usage().collect::<LotUsage>());
    let correct = |grams: &str| Event::Amended {
        entry: 2,
        change: Change::Mass(mass(grams)),
        old: "800 g".into(),
        reason: "misread".into(),
    };
    // Of 900 g in the lot 800 g are taken already.
    assert_eq!(stopped(&r, &correct("900 g"), &stock, &usage), "");
    assert_eq!(stopped(&r, &correct("700 g"), &stock, &usage), "");
    assert_eq!(
        stopped(&r, &correct("900.1 g"), &stock, &usage),
        "Water: lot W1 has 100 g left by the books"
    );
    // What is taken for another portion is taken whole.
    let more = stopped(&r, &weigh(10, "100.1 g", "W1"), &stock, &usage);
    assert_eq!(more, "Water: lot W1 has 100 g left by the books");
}

#[test]
fn packaging_and_labels_are_taken_from_a_lot_that_has_them() {
    let mut r = record(opening("26-001"));
    let (stock, usage) = (stock("1 kg", 10), LotUsage::default());
    let labels = |printed| Event::Labelled {
        what: "front".into(),
        lot: "B1".into(),
        code: "26-001".into(),
        date: "".into(),
        printed,
        applied: 0,
        spoilt: 0,
    };
    let against = |r: &Record, event: &Event| stopped(r, event, &stock, &usage);
    // Spoilt pieces are taken as well.
    assert_eq!(against(&r, &packed("B1", 7, 3)), "");
    let short = "bottle: lot B1 has 10 pieces left by the books";
    assert_eq!(against(&r, &packed("B1", 7, 4)), short);
    let unnamed = "bottle: no lot is noted, so a recall would not find it";
    assert_eq!(against(&r, &packed("", 1, 0)), unnamed);
    assert_eq!(against(&r, &labels(10)), "");
    assert_ne!(against(&r, &labels(11)), "");
    // What is already in the books is not taken again by a correction.
    add(&mut r, packed("B1", 7, 3)).unwrap();
    let mut used = LotUsage::default();
    used.add_pieces(LotId::new("B1").unwrap(), 10);
    let again = Event::Amended {
        entry: 2,
        change: Change::Instead(Box::new(packed("B1", 6, 4))),
        old: "".into(),
        reason: "miscounted".into(),
    };
    assert_eq!(stopped(&r, &again, &stock, &used), "");
    // Taken all the same, for a reason, it is not stopped again.
    let except = Event::Deviated {
        lot: LotId::new("B1"),
        what: short.into(),
        reason: "counted on the shelf".into(),
    };
    add(&mut r, except).unwrap();
    assert_eq!(against(&r, &packed("B1", 7, 4)), "");
    let told: Vec<_> = r.packaging().iter().map(|p| (p.used, p.spoilt)).collect();
    assert_eq!(told, [(7, 3)]);
    let excepted: Vec<_> = r.deviations().iter().map(|d| &*d.what).collect();
    assert_eq!(excepted, [short]);
}

#[test]
fn what_speaks_against_a_lot_is_said_with_the_name_of_the_line() {
    let r = record(opening("26-001"));
    let mut stock = stock("1 kg", 10);
    stock.lots[0].status = LotStatus::Quarantine;
    let usage = LotUsage::default();
    let faults = |line| {
        let lots = Lots {
            stock: &stock,
            usage: &usage,
            day: DAY,
        };
        r.lot_faults(ItemId(line), &LotId::new("W1").unwrap(), mass("1 g"), lots)
    };
    assert_eq!(faults(10), ["Water: lot W1 is in quarantine"]);
    assert_eq!(faults(99), Vec::<String>::new());
}

#[test]
fn water_made_up_may_be_any_water_of_the_formula() {
    let spring = fixture::material("Spring water", &[("Aqua", 100.0, Class::Water)]);
    let r = record(opening_with(|f| {
        f.materials.insert(spring.id.clone(), spring.clone());
        in_phase(f, |phase| {
            let mut line = fixture::line(&spring, "0").1;
            line.id = ItemId(12);
            phase.lines.push(line);
        });
    }));
    let made_up = Event::MadeUp {
        mass: mass("5 g"),
        lot: LotId::new("W1"),
    };
    for id in [MaterialId::from_name("Water"), spring.id.clone()] {
        let mut stock = stock("1 kg", 10);
        stock.lots[0].material = id;
        assert_eq!(stopped(&r, &made_up, &stock, &LotUsage::default()), "");
    }
}

#[test]
fn a_line_that_is_to_have_nothing_is_asked_about_above_its_tolerance() {
    let mut r = record(opening("26-001"));
    let nothing = Event::Rescaled {
        masses: vec![(ItemId(11), ExactMass::ZERO)],
        reason: "without it".into(),
    };
    add(&mut r, nothing).unwrap();
    let line = r.line(ItemId(11)).unwrap();
    assert!(!line.is_likely_mistyped(line.tolerance));
    assert!(line.is_likely_mistyped(line.tolerance + mass("0.1 g")));
}

#[test]
fn a_batch_half_as_large_again_is_still_a_way_out() {
    let unlikely = |grams: &str| {
        let mut r = record(opening("26-001"));
        add(&mut r, weigh(11, grams, "G1")).unwrap();
        r.rescue(None).unwrap().is_unlikely()
    };
    // 300 of 200 g make 1500 of 1000 g.
    assert!(!unlikely("300 g"));
    assert!(unlikely("300.1 g"));
}

#[test]
fn what_is_still_to_be_weighed_needs_no_more() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(11, "220 g", "G1")).unwrap();
    let rescue = r.rescue(None).unwrap();
    assert_eq!(rescue.batch, mass("1100 g"));
    assert_eq!(rescue.top_ups, []);
}

#[test]
fn no_larger_batch_takes_in_what_it_should_have_none_of() {
    // Asked for by nobody since it was left out.
    let mut r = record(opening("26-001"));
    let nothing = Event::Rescaled {
        masses: vec![(ItemId(11), ExactMass::ZERO)],
        reason: "without it".into(),
    };
    add(&mut r, nothing).unwrap();
    add(&mut r, weigh(11, "50 g", "G1")).unwrap();
    assert_eq!(r.line(ItemId(11)).unwrap().state, LineState::Over);
    assert_eq!(r.rescue(None), None);
    // Not in the formula.
    let mut r = record(opening_with(|f| {
        in_phase(f, |phase| phase.lines[1].percent = Percent::ZERO);
    }));
    add(&mut r, weigh(11, "250 g", "G1")).unwrap();
    assert_eq!(r.rescue(None), None);
}

#[test]
fn a_larger_batch_may_fill_its_vessel() {
    let obstacles = |ml: f64| {
        let mut o = opening("26-001");
        let source = Source::new(Basis::Measured, "");
        o.density = Some(Sourced::new(kg_per_m3(1000.0), source));
        o.vessel = Vessel::new("beaker", millilitres(ml), Percent::HUNDRED).ok();
        let mut r = record(o);
        add(&mut r, weigh(11, "250 g", "G1")).unwrap();
        r.rescue(None).unwrap().obstacles.len()
    };
    assert_eq!(obstacles(1250.1), 0);
    assert_eq!(obstacles(1249.9), 1);
}

#[test]
fn only_what_counts_and_is_not_of_the_specification_is_found_in_the_mix() {
    let r = record(opening("26-001"));
    let context = Context::new(DAY);
    let mut evaluation = evaluate(&r.opening().formula, r.opening().variant(), &context);
    let finding = |level, rule: &str, words: &str| {
        Finding::new(level, rule, words, Source::new(Basis::Practice, "invented"))
    };
    evaluation.findings = vec![
        finding(Level::Note, "invented", "only to be read"),
        finding(Level::Caution, specification::RULE, "measured by itself"),
        finding(Level::Caution, "invented", "too much of it"),
    ];
    let points = gate(&r, Some(&evaluation));
    let found: Vec<_> = points
        .iter()
        .filter_map(|p| p.words.strip_prefix("as weighed, "))
        .collect();
    assert_eq!(found, ["caution: too much of it"]);
}

#[test]
fn a_check_holds_for_what_was_weighed_when_it_was_made() {
    let unchecked = "no second person checked the weighing of Water".to_owned();
    let mut o = opening("26-001");
    o.second_check = true;
    let mut r = record(o);
    add(&mut r, weigh(10, "400 g", "W1")).unwrap();
    by_fern(&mut r, checked(Some(10)));
    assert!(!words(&r).contains(&unchecked));
    // A further portion was not seen.
    add(&mut r, weigh(10, "400 g", "W1")).unwrap();
    assert!(words(&r).contains(&unchecked));
    // That it was accepted holds for the portions there were, whatever is weighed elsewhere.
    let point = r.points().into_iter().find(|p| p.words == unchecked);
    by_fern(&mut r, point.unwrap().accept("was alone"));
    add(&mut r, weigh(11, "200 g", "G1")).unwrap();
    assert!(!words(&r).contains(&unchecked));
    add(&mut r, weigh(10, "1 g", "W1")).unwrap();
    assert!(words(&r).contains(&unchecked));
    // A look through the record ends with what is measured before it is closed.
    by_fern(&mut r, checked(None));
    assert_eq!(r.looked_through_by(), Some("Fern"));
    add(&mut r, measured(Quality::Ph, "", "5.2")).unwrap();
    assert_eq!(r.looked_through_by(), None);
    // After closing a correction ends it as well.
    add(&mut r, decided(Decision::Reject)).unwrap();
    add(&mut r, Event::Closed).unwrap();
    by_fern(&mut r, checked(None));
    amend(&mut r, 2, Change::Mass(mass("401 g"))).unwrap();
    assert_eq!(r.looked_through_by(), None);
}

#[test]
fn a_record_begins_with_a_name_since_entries_have_one() {
    let nameless = |rules| {
        let mut o = opening("26-001");
        o.rules = rules;
        Record::open(Entry {
            by: " ".into(),
            ..entry(1, Event::Opened(Box::new(o)))
        })
        .map(|_| ())
    };
    assert_eq!(nameless(Opening::GATED), Err(RecordError::Nameless));
    assert_eq!(nameless(Opening::GATED + 1), Err(RecordError::Nameless));
    assert_eq!(nameless(Opening::FIRST_RULES), Ok(()));
}

#[test]
fn what_is_not_weighed_yet_counts_as_planned() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "700 g", "W1")).unwrap();
    let percents = |r: &Record| {
        let variant = r.as_weighed().unwrap();
        [10, 11].map(|id| variant.line(ItemId(id)).unwrap().percent)
    };
    // 700 of 900 g; the 200 g of glycerin are to come.
    let of = ["77.777778", "22.222222"].map(|p| p.parse::<Percent>().unwrap());
    assert_eq!(percents(&r), of);
    // Ten tonnes are reckoned with as well.
    let mut large = record(opening("26-001"));
    add(&mut large, weigh(10, "8000 kg", "W1")).unwrap();
    add(&mut large, weigh(11, "2000 kg", "G1")).unwrap();
    let of = ["80", "20"].map(|p| p.parse::<Percent>().unwrap());
    assert_eq!(percents(&large), of);
    let lines: Vec<_> = r
        .formula_lines()
        .map(|(line, s)| (line.id, s.state))
        .collect();
    let states = [LineState::Short, LineState::Pending];
    assert_eq!(lines, [(ItemId(10), states[0]), (ItemId(11), states[1])]);
}

/// Up to a thousand tonnes can be recorded, and nothing below zero.
#[test]
fn masses_are_recorded_up_to_a_thousand_tonnes() {
    let mut r = record(opening("26-001"));
    let at = |mass: ExactMass| Event::Weighed {
        line: ItemId(10),
        mass,
        lot: None,
        remark: "".into(),
    };
    let waste = |waste: ExactMass| Event::Filled {
        containers: 1,
        mass: mass("1 g"),
        samples: ExactMass::ZERO,
        waste,
    };
    let (most, little) = (ExactMass::MOST, mass("0.1 g"));
    for event in [at(most), waste(most), waste(ExactMass::ZERO)] {
        assert_eq!(add(&mut r, event), Ok(()));
    }
    for event in [
        at(most + little),
        at(ExactMass::ZERO - little),
        waste(most + little),
        waste(ExactMass::ZERO - little),
    ] {
        assert_eq!(add(&mut r, event), Err(RecordError::Mass));
    }
}

#[test]
fn the_yield_is_counted_and_not_typed() {
    let mut r = record(opening("26-001"));
    assert_eq!(
        add(&mut r, measured(Quality::Yield, "", "95 %")),
        Err(RecordError::Counted(Quality::Yield.label()))
    );
}

#[test]
fn an_entry_that_cannot_be_corrected_is_refused_wherever_it_comes_from() {
    let mut r = record(opening("26-001"));
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    let correction = |entry, change| Event::Amended {
        entry,
        change,
        old: "800 g, W1".into(),
        reason: "misread".into(),
    };
    let unknown = entry(3, correction(99, Change::Struck));
    assert_eq!(r.add(unknown), Err(RecordError::NotCorrectable(99)));
    // In a damaged file it stands all the same, and changes nothing.
    let other_kind = Change::Instead(Box::new(filled(3)));
    let found = entry(3, correction(2, other_kind));
    assert_eq!(r.add_found(found), Err(RecordError::NotCorrectable(2)));
    assert_eq!(r.standing(2), Some((&weigh(10, "800 g", "W1"), false)));
}

#[test]
fn all_that_is_filled_may_be_sent_and_no_more() {
    let mut r = record(opening("26-001"));
    assert!(!r.is_closed());
    add(&mut r, weigh(10, "800 g", "W1")).unwrap();
    add(&mut r, weigh(11, "200 g", "G1")).unwrap();
    add(&mut r, filled(9)).unwrap();
    for point in gate(&r, evaluated(&r).as_ref()) {
        by_fern(&mut r, point.accept("known"));
    }
    add(&mut r, decided(Decision::Release)).unwrap();
    add(&mut r, sent(4)).unwrap();
    assert_eq!(
        add(&mut r, sent(6)),
        Err(RecordError::Dispatch { asked: 6, left: 5 })
    );
    add(&mut r, sent(5)).unwrap();
    assert_eq!(r.in_house(), 0);
    // Nor were fewer filled than were sent.
    let instead = |containers| Change::Instead(Box::new(filled(containers)));
    amend(&mut r, 4, instead(10)).unwrap();
    amend(&mut r, 4, instead(9)).unwrap();
    assert_eq!(
        amend(&mut r, 4, instead(8)),
        Err(RecordError::Dispatch { asked: 9, left: 8 })
    );
}

#[test]
fn what_is_missing_of_a_damaged_record_is_named() {
    let mut r = record(opening("26-001"));
    r.lose("…".into(), "damaged".into());
    let third = entry(3, weigh(10, "700 g", "W1"));
    assert_eq!(r.add_found(third.clone()), Ok(()));
    let number = |found, expected| Err(RecordError::Number { found, expected });
    let next = |number| entry(number, weigh(10, "1 g", "W1"));
    assert_eq!(r.add_found(next(5)), number(5, 4));
    assert_eq!(r.add_found(next(8)), number(8, 6));
    assert_eq!(r.add_found(third), number(3, 9));
    let lost: Vec<_> = (r.lost().iter())
        .map(|l| (l.number, &*l.text, &*l.why))
        .collect();
    assert_eq!(
        lost,
        [
            (2, "…", "damaged"),
            (4, "entry 4", "missing"),
            (6, "entries 6 to 7", "missing"),
            (3, "700.0 g of Water, lot W1", "its number was given before"),
        ]
    );
    assert_eq!(r.weighed(), mass("702 g"));
}

#[test]
fn a_corrected_remark_reads_as_corrected() {
    let mut r = record(opening("26-001"));
    let remark = |text: &str| Event::Remarked {
        text: text.into(),
        open: false,
    };
    add(&mut r, remark("foamd")).unwrap();
    amend(&mut r, 2, Change::Value("foamed".into())).unwrap();
    assert_eq!(r.standing(2), Some((&remark("foamed"), false)));
}

#[test]
fn entries_are_told_in_words() {
    let mut o = opening_with(|f| {
        in_phase(f, |phase| {
            phase.steps = vec![step(50, "Stir"), step(51, "Rest")];
        });
    });
    // Water on a coarse scale, glycerin on a fine one.
    let scale = |name, step| WeighingScale::new(name, mass(step), None).unwrap();
    o.scales = vec![scale("platform", "1 g"), scale("fine", "0.01 g")];
    o.lines[0].scale = 0;
    o.lines[1].scale = 1;
    let mut r = record(o);
    assert_eq!(r.mass_words(Some(ItemId(10)), mass("5 g")), "5 g");
    assert_eq!(r.mass_words(Some(ItemId(11)), mass("5 g")), "5.00 g");
    let rest = Event::Worked {
        step: ItemId(51),
        temperature: None,
        remark: "".into(),
    };
    assert_eq!(r.describe_event(&rest), "“Rest” done");
    add(&mut r, rest).unwrap();
    assert!(r.worked(ItemId(51)) && !r.worked(ItemId(50)));
    let held = decided(Decision::Hold);
    assert_eq!(r.describe_event(&held), "on hold: all well");
    let of = |name: &str| Measurement {
        entry: 2,
        at: "".into(),
        what: Quality::Ph,
        name: name.into(),
        value: "5.2".into(),
        remark: "".into(),
        late: false,
        struck: false,
    };
    assert_eq!(of("").name(), Quality::Ph.label());
    assert_eq!(of("Foam").name(), "Foam");
    let states = [
        LineState::Pending,
        LineState::Short,
        LineState::Within,
        LineState::Over,
    ];
    let told = ["to weigh", "short", "within tolerance", "over"];
    assert_eq!(states.map(LineState::label), told);
    let identity = Identity::new("no lot").with(2).with("W1");
    assert_eq!(identity.as_str(), "no lot; 2; W1");
    assert!(r.matches("glycerin 26-001"));
    assert!(!r.matches("glycerin 26-002"));
}

#[test]
fn a_trial_says_so_first() {
    let said = |why: &str| {
        let mut o = opening("26-001");
        o.trial = why.into();
        record(o).trial_words()
    };
    assert_eq!(said(""), None);
    assert_eq!(
        said("to see how it pours").as_deref(),
        Some("Trial batch, not for sale: to see how it pours")
    );
}
