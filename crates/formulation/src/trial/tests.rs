//! Properties of trials that hold whatever is noted.

use std::sync::Arc;

use proptest::prelude::*;

use super::bench::falling_ball::FallingBall;
use super::book::{Addition, Book, TrialEntry, TrialEvent, TrialOpening, shares};
use super::fit::drift::TrendLimit;
use super::learn::{Experience, Learnt};
use super::narrow::{SumBound, narrow};
use super::plan::{Design, Factor, SetPlanError, Varied, formula_of, plan};
use super::reading::{Method, Quantity, Reading, ReadingValue, Sample};
use super::stability::{Acceptance, StabilityPlan, State, samples, trends};
use crate::file::{trial_file, trial_store};
use crate::fixture;
use crate::formula::{Date, Formula};
use crate::mass::ExactMass;
use crate::material::Class;
use crate::quantity::Percent;

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn grams(milligrams: i128) -> ExactMass {
    ExactMass::from_femtograms(milligrams * 1_000_000_000_000)
}

fn wash() -> Formula {
    let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
    let salt = fixture::material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
    let base = fixture::material("Base", &[("Base", 100.0, Class::Other)]);
    let mut formula = fixture::formula(vec![
        fixture::line(&water, "79"),
        fixture::line(&base, "20"),
        fixture::line(&salt, "1"),
    ]);
    let mut variant = (**formula.active()).clone();
    let first = variant.lines().next().map(|(_, l)| l.id);
    variant.filler = first;
    formula.variants = vec![Arc::new(variant)];
    formula
}

fn entry(event: TrialEvent) -> TrialEntry {
    TrialEntry {
        at: "2026-05-01T10:00:00+02:00".to_owned(),
        by: "me".to_owned(),
        event,
    }
}

fn begun(mass: ExactMass) -> Book {
    let mut book = Book::default();
    let opening = TrialOpening::of(&wash(), "Salt curve", day("2026-05-01"), mass);
    book.add(&entry(TrialEvent::Begin(Box::new(opening))))
        .unwrap();
    book
}

fn add_salt(book: &mut Book, mass: ExactMass) {
    let material = wash()
        .materials
        .values()
        .find(|m| m.name.as_ref() == "Salt")
        .unwrap()
        .clone();
    let addition = Addition {
        id: material.id.clone(),
        material,
        mass,
    };
    book.add(&entry(TrialEvent::Add { trial: 1, addition }))
        .unwrap();
}

fn read(book: &mut Book, step: usize, quantity: Quantity, value: f64) {
    let reading = Reading::of(quantity, vec![value]);
    book.add(&entry(TrialEvent::Read {
        trial: 1,
        step,
        reading,
    }))
    .unwrap();
}

proptest! {
    /// A log of additions gives the masses that weighing everything at once gives, exactly,
    /// and percentages that add up to 100 to the last digit.
    #[test]
    fn additions_are_as_weighing_all_at_once(steps in prop::collection::vec(1_i128..5_000, 1..9)) {
        let mut book = begun(grams(200_000));
        for mg in &steps {
            add_salt(&mut book, grams(*mg));
        }
        let trial = book.trial(1).unwrap();
        let masses = trial.masses(steps.len());
        let all: ExactMass = masses.values().copied().sum();
        prop_assert_eq!(all, grams(200_000 + steps.iter().sum::<i128>()));
        let salt = masses.iter().find(|(id, _)| id.as_str().contains("alt")).unwrap().1;
        prop_assert_eq!(*salt, grams(2_000 + steps.iter().sum::<i128>()));
        let made = trial.formula_at(steps.len()).unwrap();
        let parts = shares(made.active());
        prop_assert_eq!(parts.values().sum::<i64>(), Percent::HUNDRED.units());
        for (id, mass) in &masses {
            let exact = mass.as_grams() / all.as_grams() * 1e8;
            prop_assert!((parts[id] as f64 - exact).abs() <= 1.5);
        }
    }

    /// Designs keep their bounds and the total exactly, whatever the bounds.
    #[test]
    fn designs_keep_all_bounds_exactly(
        low in 0_i64..3_000_000, wide in 100_i64..4_000_000,
        low2 in 5_000_000_i64..15_000_000, wide2 in 100_i64..20_000_000, seed in 0_u64..100,
    ) {
        let formula = wash();
        let variant = formula.active().clone();
        let lines: Vec<_> = variant.lines().map(|(_, l)| l.id).collect();
        let factors = [
            Factor { line: lines[2], low: Percent::from_units(low), high: Percent::from_units(low + wide) },
            Factor { line: lines[1], low: Percent::from_units(low2), high: Percent::from_units(low2 + wide2) },
        ];
        for design in [Design::ExtremeVertices, Design::Star, Design::DOptimal(7, super::fit::scheffe::Order::Linear)] {
            let varied = Varied::with_filler(&variant, factors.to_vec()).unwrap();
            let runs = plan(&variant, &varied, design, 2, seed).unwrap();
            let mut orders: Vec<usize> = runs.iter().map(|r| r.order).collect();
            orders.sort_unstable();
            prop_assert_eq!(orders, (1..=runs.len()).collect::<Vec<_>>());
            for run in &runs {
                let made = formula_of(&formula, &variant, &varied, run);
                let made = made.active();
                let total: Percent = made.lines().map(|(_, l)| l.percent).sum();
                prop_assert_eq!(total, Percent::HUNDRED);
                if design != Design::Star {
                    for f in &factors {
                        let p = made.line(f.line).unwrap().percent;
                        prop_assert!(f.low <= p && p <= f.high);
                    }
                }
            }
        }
    }

    /// A learnt response at a repeated state never claims less than the scatter seen there.
    #[test]
    fn no_response_is_surer_than_repeated_readings(noise in prop::collection::vec(-0.3_f64..0.3, 12)) {
        let mut book = begun(grams(200_000));
        for _ in 0..3 {
            add_salt(&mut book, grams(1_000));
        }
        for (i, e) in noise.iter().enumerate() {
            read(&mut book, i % 4, Quantity::Viscosity, (7.0 + 0.3 * (i % 4) as f64 + e).exp());
        }
        let learnt = Learnt::from(Experience::of(&book, Quantity::Viscosity)).unwrap();
        let scatter = learnt.replicate_sd.unwrap();
        for x in &learnt.from.x {
            let e = learnt.at(x);
            let half = (e.range[1].ln() - e.range[0].ln()) / 2.0;
            prop_assert!(half >= 1.95 * scatter, "{half} {scatter}");
        }
    }

    /// Narrowing never leaves out what is true.
    #[test]
    fn narrowing_keeps_what_is_true(truth in prop::collection::vec(-1.0_f64..1.0, 6), weights in prop::collection::vec(prop::collection::vec(0.0_f64..2.0, 6), 8)) {
        let unknowns = vec![[-1.0, 1.0]; 6];
        let constraints: Vec<SumBound> = weights.iter().enumerate().map(|(i, w)| {
            let sum: f64 = w.iter().zip(&truth).map(|(a, b)| a * b).sum();
            SumBound { name: format!("trial {i}"), terms: w.iter().copied().enumerate().collect(), sum: [sum - 0.05, sum + 0.05] }
        }).collect();
        let out = narrow(&unknowns, &constraints);
        prop_assert!(out.contradictions.is_empty());
        for (ends, t) in out.ends.iter().zip(&truth) {
            prop_assert!(ends[0] - 1e-9 <= *t && *t <= ends[1] + 1e-9);
        }
    }
}

#[test]
fn a_measurement_that_contradicts_is_named_and_narrows_nothing() {
    let constraint = |name: &str, low: f64, high: f64| SumBound {
        name: name.to_owned(),
        terms: vec![(0, 1.0)],
        sum: [low, high],
    };
    let out = narrow(
        &[[0.0, 1.0]],
        &[
            constraint("first", 0.2, 0.4),
            constraint("second", 0.6, 0.7),
        ],
    );
    assert_eq!(out.contradictions, vec![(1, vec![0])]);
    assert!((out.ends[0][0] - 0.2).abs() < 1e-9 && (out.ends[0][1] - 0.4).abs() < 1e-9);
}

/// Whatever part of the last line a crash leaves, all confirmed entries are read and the next
/// one is added after them.
#[test]
fn no_confirmed_reading_is_lost_wherever_writing_stops() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wash.trials.jsonl");
    let opening = TrialOpening::of(&wash(), "Salt", day("2026-05-01"), grams(100_000));
    trial_store::append(&path, &entry(TrialEvent::Begin(Box::new(opening)))).unwrap();
    let reading = |v: f64| {
        entry(TrialEvent::Read {
            trial: 1,
            step: 0,
            reading: Reading::of(Quantity::Ph, vec![v]),
        })
    };
    trial_store::append(&path, &reading(5.1)).unwrap();
    let confirmed = std::fs::read(&path).unwrap();
    let head = crate::file::ledger_file::head_path(&path);
    let counted = std::fs::read(&head).unwrap();
    trial_store::append(&path, &reading(5.2)).unwrap();
    let whole = std::fs::read(&path).unwrap();
    // Without its line break alone an entry is whole, and is read.
    for cut in confirmed.len()..whole.len() - 1 {
        std::fs::write(&path, &whole[..cut]).unwrap();
        std::fs::write(&head, &counted).unwrap();
        assert_eq!(trial_store::read(&path).unwrap().book.readings.len(), 1);
        let book = trial_store::append(&path, &reading(5.3)).unwrap().book;
        assert_eq!(book.readings.len(), 2, "cut at {cut}");
        assert_eq!(trial_store::read(&path).unwrap().book, book);
    }
}

/// A file that was changed outside the program is read as far as numbers can be told, and
/// nothing is added to it.
#[test]
fn damage_is_named_and_what_stands_behind_it_is_kept_apart() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("wash.trials.jsonl");
    let opening = || TrialOpening::of(&wash(), "Salt", day("2026-05-01"), grams(100_000));
    for _ in 0..3 {
        trial_store::append(&path, &entry(TrialEvent::Begin(Box::new(opening())))).unwrap();
    }
    let text = std::fs::read_to_string(&path).unwrap();
    let damaged = text
        .replacen("\"begin\"", "\"bexin\"", 2)
        .replacen("\"bexin\"", "\"begin\"", 1);
    std::fs::write(&path, damaged).unwrap();
    let loaded = trial_store::read(&path).unwrap();
    assert_eq!(loaded.book.trials.len(), 1);
    assert_eq!((loaded.lost.len(), loaded.faults.is_empty()), (2, false));
    let again = trial_store::append(&path, &entry(TrialEvent::Begin(Box::new(opening()))));
    assert!(
        again
            .unwrap_err()
            .to_string()
            .contains("nothing can be added")
    );
    std::fs::write(&path, "something else\n").unwrap();
    assert!(trial_store::read(&path).is_err());
}

#[test]
fn every_kind_of_entry_reads_back_as_it_was() {
    let mut book = begun(grams(200_000));
    add_salt(&mut book, grams(400));
    let material = wash().materials.values().next().unwrap().clone();
    let mut plan = StabilityPlan::proposed(1, day("2026-05-01"), None);
    plan.limits.push(Acceptance {
        quantity: Quantity::Viscosity,
        limit: TrendLimit::Both(4000.0, 7000.0),
    });
    let mut tested = Reading::of(Quantity::LogReduction, vec![3.1]);
    tested.method = Method::Challenge {
        organism: "Candida albicans".to_owned(),
        day: 14,
    };
    let mut word = Reading::of(Quantity::Smell, Vec::new());
    word.value = ReadingValue::Word(1);
    let mut below = Reading::of(Quantity::ColonyCount, Vec::new());
    below.value = ReadingValue::Below(10.0);
    for event in [
        TrialEvent::Begin(Box::new(TrialOpening::of(
            &wash(),
            "x",
            day("2026-05-01"),
            grams(5),
        ))),
        TrialEvent::Add {
            trial: 1,
            addition: Addition {
                id: material.id.clone(),
                material,
                mass: grams(7),
            },
        },
        TrialEvent::Read {
            trial: 1,
            step: 1,
            reading: word,
        },
        TrialEvent::Read {
            trial: 1,
            step: 0,
            reading: tested,
        },
        TrialEvent::Correct {
            reading: 1,
            to: below,
            why: "y".to_owned(),
        },
        TrialEvent::SetAside {
            reading: 1,
            why: "air".to_owned(),
        },
        TrialEvent::Settle {
            quantity: Quantity::Viscosity,
            hours: 0.25,
        },
        TrialEvent::Plan { number: 0, plan },
    ] {
        let entry = entry(event);
        let text = trial_file::to_text(&entry).unwrap();
        let again = trial_file::from_text(text, &mut trial_file::Frozen::default());
        assert_eq!(again.unwrap(), entry);
    }
}

#[test]
fn a_correction_keeps_the_old_value_and_bad_readings_are_refused() {
    let mut book = begun(grams(200_000));
    read(&mut book, 0, Quantity::Ph, 5.6);
    let correct = |to: f64, why: &str| {
        entry(TrialEvent::Correct {
            reading: 1,
            to: Reading::of(Quantity::Ph, vec![to]),
            why: why.to_owned(),
        })
    };
    assert!(book.add(&correct(5.2, " ")).is_err());
    book.add(&correct(5.2, "misread")).unwrap();
    let kept = &book.readings[0];
    assert_eq!(kept.reading.mean(), Some(5.2));
    assert_eq!(kept.before[0].0.mean(), Some(5.6));
    let bad = |quantity, value, hours| {
        let mut reading = Reading::of(quantity, vec![value]);
        reading.hours = hours;
        book.check(&TrialEvent::Read {
            trial: 1,
            step: 0,
            reading,
        })
        .unwrap_err()
        .to_string()
    };
    assert!(bad(Quantity::Viscosity, -3.0, None).contains("0.2 to"));
    assert!(bad(Quantity::Ph, 5.0, Some(-1.0)).contains("before the start"));
    assert!(
        book.check(&TrialEvent::Read {
            trial: 2,
            step: 0,
            reading: Reading::of(Quantity::Ph, vec![5.0])
        })
        .is_err()
    );
}

#[test]
fn samples_become_due_then_overdue_and_the_words_stay_modest() {
    let mut book = begun(grams(200_000));
    let mut plan = StabilityPlan::proposed(1, day("2026-05-01"), None);
    plan.conditions.truncate(1);
    plan.limits.push(Acceptance {
        quantity: Quantity::Ph,
        limit: TrendLimit::Lower(4.0),
    });
    book.add(&entry(TrialEvent::Plan { number: 0, plan }))
        .unwrap();
    let state = |book: &Book, today: &str, time: usize| {
        let all = samples(book, day(today));
        all.iter().find(|d| d.sample.time == time).unwrap().state
    };
    assert_eq!(state(&book, "2026-05-07", 1), State::Coming);
    assert_eq!(state(&book, "2026-05-08", 1), State::Due);
    assert_eq!(state(&book, "2026-05-12", 1), State::Overdue);
    for (time, value) in [(0, 5.0), (1, 4.99), (2, 5.01), (3, 4.98)] {
        let mut reading = Reading::of(Quantity::Ph, vec![value]);
        reading.sample = Some(Sample {
            plan: 0,
            condition: 0,
            time,
        });
        book.add(&entry(TrialEvent::Read {
            trial: 1,
            step: 0,
            reading,
        }))
        .unwrap();
    }
    assert_eq!(state(&book, "2026-05-12", 1), State::Done);
    let trend = &trends(&book, 0)[0];
    assert!(trend.words().starts_with("within what was set so far"));
    assert!(trend.horizon() <= 8.0);
}

fn read_by(book: &mut Book, step: usize, rpm: f64, celsius: f64, viscosity: f64) {
    let reading = Reading {
        method: Method::Rotational {
            spindle: "LV3".to_owned(),
            rpm,
            factor: 100.0,
        },
        celsius: Some(celsius),
        hours: Some(24.0),
        ..Reading::of(Quantity::Viscosity, vec![viscosity / 100.0])
    };
    book.add(&entry(TrialEvent::Read {
        trial: 1,
        step,
        reading,
    }))
    .unwrap();
}

#[test]
fn viscosities_of_other_speeds_and_temperatures_are_never_pooled() {
    let mut book = begun(grams(200_000));
    for _ in 0..5 {
        add_salt(&mut book, grams(600));
    }
    for step in 0..=5 {
        let x = step as f64;
        read_by(&mut book, step, 12.0, 20.0, 3000.0 + 400.0 * x);
        read_by(&mut book, step, 60.0, 20.0, 1500.0 + 200.0 * x);
    }
    read_by(&mut book, 0, 12.0, 40.0, 900.0);
    let lessons = super::learn::Lessons::of(&book);
    let ways: Vec<(String, usize, usize)> = lessons
        .all()
        .map(|l| (l.way(), l.from.y.len(), l.from.apart.all()))
        .collect();
    assert_eq!(
        ways,
        [
            (
                "spindle LV3, 12 rpm, factor 100, 20 °C, settled".to_owned(),
                6,
                7
            ),
            (
                "spindle LV3, 60 rpm, factor 100, 20 °C, settled".to_owned(),
                6,
                7
            ),
        ]
    );
    let learnt = lessons.on(Quantity::Viscosity).unwrap();
    let words = learnt.source();
    assert!(
        words.contains("12 rpm, factor 100, 20 °C, settled; 7 made in other ways are not counted"),
        "{words}"
    );
    // A salt curve for each way, named, and each through its own readings alone.
    let curves: Vec<_> = super::charts::charts(&book)
        .into_iter()
        .filter(|c| c.model == Some("salt"))
        .collect();
    assert_eq!(curves.len(), 2);
    for (curve, speed) in curves.iter().zip(["12 rpm", "60 rpm"]) {
        assert!(curve.title.contains(speed), "{}", curve.title);
        assert_eq!(curve.dots.len(), 6);
    }
}

#[test]
fn what_was_read_minutes_after_an_addition_is_not_learnt_from_as_settled() {
    use super::learn::Lessons;
    let mut book = begun(grams(200_000));
    for _ in 0..5 {
        add_salt(&mut book, grams(600));
    }
    let soon_and_later = |book: &mut Book| {
        for step in 0..=5 {
            let settled = 3000.0 + 400.0 * step as f64;
            for (hours, share) in [(0.2, 0.4), (24.0, 1.0)] {
                let reading = Reading {
                    celsius: Some(20.0),
                    hours: Some(hours),
                    ..Reading::of(Quantity::Viscosity, vec![settled * share])
                };
                let event = TrialEvent::Read {
                    trial: 1,
                    step,
                    reading,
                };
                book.add(&entry(event)).unwrap();
            }
        }
    };
    soon_and_later(&mut book);
    let lessons = Lessons::of(&book);
    let learnt = lessons.on(Quantity::Viscosity).unwrap();
    assert_eq!((learnt.from.y.len(), learnt.from.apart.early), (6, 6));
    // All that was counted lies where settled gels do.
    assert!(learnt.from.y.iter().all(|y| y.exp() > 2999.0));
    let words = learnt.source();
    assert!(
        words.contains("20 °C, settled; 6 read before it had settled (after the recovery that was followed, else 12 h, common practice, no source) are not counted"),
        "{words}"
    );
    // Those of the first minutes are a response of their own, after it.
    let other = lessons.all().nth(1).unwrap();
    assert!(other.way().ends_with("stood 12 min, not settled"));
    assert_eq!((other.from.y.len(), other.from.apart.settled), (6, 6));
    // One step whose recovery is followed tells when it had settled: ten minutes there.
    let follow = |book: &mut Book, minutes: f64, value: f64| {
        let reading = Reading {
            celsius: Some(20.0),
            hours: Some(minutes / 60.0),
            ..Reading::of(Quantity::Viscosity, vec![value])
        };
        let event = TrialEvent::Read {
            trial: 1,
            step: 5,
            reading,
        };
        book.add(&entry(event)).unwrap();
    };
    for (minutes, share) in [
        (1.0, 0.25),
        (3.0, 0.3),
        (6.0, 0.35),
        (60.0, 0.62),
        (120.0, 0.8),
        (240.0, 0.97),
        (480.0, 1.0),
    ] {
        follow(&mut book, minutes, 5000.0 * share);
    }
    let lessons = Lessons::of(&book);
    let learnt = lessons.on(Quantity::Viscosity).unwrap();
    // 24 h and 8 h of the step followed, 24 h of the others.
    let count = learnt.from.y.len();
    assert!((7..=8).contains(&count), "{count}");
    // The maker may know that a quarter of an hour is enough, but where a recovery was
    // followed that holds.
    book.add(&entry(TrialEvent::Settle {
        quantity: Quantity::Viscosity,
        hours: 0.2,
    }))
    .unwrap();
    let all = Lessons::of(&book)
        .on(Quantity::Viscosity)
        .unwrap()
        .from
        .y
        .len();
    assert_eq!(all, count + 5);
    let density = TrialEvent::Settle {
        quantity: Quantity::Density,
        hours: 1.0,
    };
    assert!(
        book.check(&density)
            .unwrap_err()
            .to_string()
            .contains("density")
    );
}

#[test]
fn a_reading_is_of_this_composition_or_of_an_earlier_state() {
    use super::known::{known, told};
    use super::learn::Lessons;
    let mut book = begun(grams(200_000));
    read_by(&mut book, 0, 12.0, 20.0, 4200.0);
    add_salt(&mut book, grams(600));
    read_by(&mut book, 1, 12.0, 20.0, 5200.0);
    let formula = wash();
    let variant = formula.active();
    let lessons = Lessons::of(&book);
    let all = known(&book, &lessons, variant);
    assert_eq!(all.len(), 1);
    assert_eq!(all[0].measured.len(), 1);
    assert!(all[0].earlier.is_none());
    assert_eq!(
        all[0].measured[0].source(),
        "reading 1 of trial 1, spindle LV3, 12 rpm, factor 100, 20 °C, stood 24 h"
    );
    // Nothing goes with the finished formula until the maker says so, and then not what was
    // read of another composition.
    assert_eq!(told(&book, variant), []);
    for reading in [1, 2] {
        let event = TrialEvent::Tell {
            reading,
            tell: true,
        };
        book.add(&entry(event)).unwrap();
    }
    assert_eq!(
        told(&book, variant),
        [(
            "viscosity".to_owned(),
            "4200 mPa·s, measured on trial 1 of 2026-05-01 (spindle LV3, 12 rpm, factor 100, 20 °C, stood 24 h), noted on 2026-05-01 by me".to_owned()
        )]
    );
    let withdrawn = TrialEvent::Tell {
        reading: 1,
        tell: false,
    };
    let mut without = book.clone();
    without.add(&entry(withdrawn)).unwrap();
    assert_eq!(told(&without, variant), []);
    // After a change it is of an earlier state, and goes with nothing.
    let mut changed = (**variant).clone();
    let mut phase = (*changed.phases[0]).clone();
    phase.lines[0].percent = "78".parse().unwrap();
    phase.lines[2].percent = "2".parse().unwrap();
    changed.phases[0] = Arc::new(phase);
    assert_eq!(told(&book, &changed), []);
    let after = known(&book, &lessons, &changed);
    assert!(after[0].measured.is_empty());
    let words = after[0].earlier.unwrap().words();
    assert!(
        words.starts_with(
            "4200 mPa·s was read of an earlier state (trial 1 of 2026-05-01, as weighed"
        ),
        "{words}"
    );
}

/// A plan of trial 1 at one condition, read at 0, 4, 8 and 12 weeks.
fn laid_out(book: &mut Book, limits: &[&str]) -> usize {
    let number = book.plans.len();
    let times = ["start", "4 weeks", "8 weeks", "12 weeks"];
    let plan = StabilityPlan {
        conditions: vec!["40 °C".to_owned()],
        times: times
            .map(|t| super::stability::Time::read(t).unwrap())
            .to_vec(),
        limits: limits
            .iter()
            .map(|l| Acceptance::read(l).unwrap())
            .collect(),
        ..StabilityPlan::proposed(1, day("2026-01-05"), None)
    };
    book.add(&entry(TrialEvent::Plan { number, plan })).unwrap();
    number
}

fn read_sample(book: &mut Book, plan: usize, time: usize, value: ReadingValue, quantity: Quantity) {
    let reading = Reading {
        value,
        sample: Some(Sample {
            plan,
            condition: 0,
            time,
        }),
        ..Reading::of(quantity, vec![1.0])
    };
    book.add(&entry(TrialEvent::Read {
        trial: 1,
        step: 0,
        reading,
    }))
    .unwrap();
}

/// Poolability at 0.25 as in ICH Q1E: lines that are alike are one, others are not; the
/// figures themselves are held against `tests/reference/trials/shelf_life.json`.
#[test]
fn plans_are_put_together_only_where_their_lines_are_alike() {
    use super::stability::together;
    let pooling = |second: [f64; 4]| {
        let mut book = begun(grams(200_000));
        for values in [[5.20, 5.16, 5.13, 5.08], second] {
            let plan = laid_out(&mut book, &["ph=4.6..5.6"]);
            for (time, value) in values.into_iter().enumerate() {
                read_sample(
                    &mut book,
                    plan,
                    time,
                    ReadingValue::Numbers(vec![value]),
                    Quantity::Ph,
                );
            }
        }
        let all = together(&book);
        assert_eq!(all.len(), 1);
        assert_eq!(all[0].plans, [1, 2]);
        assert_eq!(all[0].limit, Some(TrendLimit::Both(4.6, 5.6)));
        (all[0].batches.pooling, all[0].words())
    };
    let (alike, words) = pooling([5.19, 5.17, 5.12, 5.09]);
    assert_eq!(alike, super::fit::drift::Pooling::Common);
    assert!(words.contains("alike, so one line"), "{words}");
    assert!(words.contains("nothing is said beyond 24 weeks"), "{words}");
    let (other, words) = pooling([5.40, 5.20, 5.01, 4.80]);
    assert_eq!(other, super::fit::drift::Pooling::OwnLines);
    assert!(words.contains("at the earliest"), "{words}");
}

#[test]
fn colours_are_told_by_their_distance_from_the_start() {
    use super::bench::colour::Lab;
    let mut book = begun(grams(200_000));
    let plan = laid_out(&mut book, &["colour=..3"]);
    // A pair of Sharma, Wu, Dalal, Color Res. Appl. 30 (2005) 21, table 1, number 1: 2.0425.
    let first = Lab {
        l: 50.0,
        a: 2.6772,
        b: -79.7751,
    };
    let second = Lab {
        l: 50.0,
        a: 0.0,
        b: -82.7485,
    };
    read_sample(
        &mut book,
        plan,
        0,
        ReadingValue::Colour(first),
        Quantity::Colour,
    );
    read_sample(
        &mut book,
        plan,
        2,
        ReadingValue::Colour(second),
        Quantity::Colour,
    );
    let (difference, start) = book.colour_change(&book.readings[1]).unwrap();
    assert!((difference - 2.0425).abs() < 5e-5, "{difference}");
    assert_eq!(start, 1);
    assert_eq!(book.colour_change(&book.readings[0]), None);
    let trend = &trends(&book, plan)[0];
    assert_eq!(
        trend.words(),
        "within what was set so far; up to ΔE 2.0 from the start (CIEDE2000)"
    );
    assert!(Acceptance::read("colour=1..3").is_err());
    read_sample(&mut book, plan, 1, ReadingValue::Word(0), Quantity::Clarity);
    read_sample(&mut book, plan, 3, ReadingValue::Word(2), Quantity::Clarity);
    assert_eq!(
        super::stability::judged(&book, plan),
        ["clarity at 40 °C: clear (4 weeks), cloudy (12 weeks)"]
    );
}

#[test]
fn a_ph_says_on_which_side_of_25_degrees_it_was_read() {
    let at = |celsius| {
        let reading = Reading {
            celsius: Some(celsius),
            ..Reading::of(Quantity::Ph, vec![5.0])
        };
        reading.how()
    };
    assert_eq!(at(25.0), "25 °C");
    assert_eq!(at(18.0), "18 °C, below 25 °C");
    assert_eq!(at(31.0), "31 °C, above 25 °C");
}

/// A group takes the rest in proportion to what it has, exactly, and keeps the bounds of its
/// lines.
#[test]
fn a_group_takes_the_rest_in_proportion() {
    let formula = wash();
    let mut variant = (**formula.active()).clone();
    let lines: Vec<_> = variant.lines().map(|(_, l)| l.id).collect();
    let salt = Factor {
        line: lines[2],
        low: "0.5".parse().unwrap(),
        high: "3".parse().unwrap(),
    };
    let varied = Varied {
        factors: vec![salt],
        rest: vec![lines[0], lines[1]],
    };
    let runs = plan(&variant, &varied, Design::ExtremeVertices, 0, 1).unwrap();
    for run in &runs {
        let made = formula_of(&formula, &variant, &varied, run);
        let made = made.active();
        let total: Percent = made.lines().map(|(_, l)| l.percent).sum();
        assert_eq!(total, Percent::HUNDRED);
        let of = |id| made.line(id).unwrap().percent.as_percent();
        // 79 to 20, as in the formula.
        assert!((of(lines[0]) / of(lines[1]) - 79.0 / 20.0).abs() < 1e-6);
        assert!((0.5..=3.0).contains(&of(lines[2])));
    }
    // A bound of a line of the group bounds what is tried.
    let mut phase = (*variant.phases[0]).clone();
    phase.lines[1].min = Some("19.9".parse().unwrap());
    variant.phases[0] = Arc::new(phase);
    let runs = plan(&variant, &varied, Design::ExtremeVertices, 0, 1).unwrap();
    for run in &runs {
        let made = formula_of(&formula, &variant, &varied, run);
        let base = made.active().line(lines[1]).unwrap().percent;
        assert!(base >= "19.899999".parse().unwrap(), "{base}");
    }
    let itself = Varied {
        factors: vec![salt],
        rest: vec![lines[2]],
    };
    assert_eq!(
        plan(&variant, &itself, Design::Star, 0, 1),
        Err(SetPlanError::Rest)
    );
}

/// What stood on the instrument and all that the viscosity was worked out from is told, so that
/// whoever reads it can reckon again.
#[test]
fn a_reading_tells_what_it_was_worked_out_from() {
    let mut reading = Reading::of(Quantity::Viscosity, vec![22.0, 23.0]);
    reading.method = Method::FallingBall(FallingBall {
        ball_mm: 3.0,
        tube_mm: 28.0,
        ball_density: 7.8,
        liquid_density: 1.02,
        distance_mm: 150.0,
        seconds: 22.0,
    });
    assert_eq!(reading.read_words().as_deref(), Some("read 22, 23 s"));
    assert_eq!(
        reading.how(),
        "ball of 3 mm, 7.800 g/ml, falls 150 mm in a tube of 28 mm, the liquid 1.020 g/ml"
    );
    reading.method = Method::Own {
        name: "spoon".into(),
        calibration: vec![(12.0, 219.0), (30.0, 480.0)],
    };
    assert_eq!(
        reading.how(),
        "spoon, by known liquids: 12 is 219 mPa·s, 30 is 480 mPa·s"
    );
    let ph = Reading::of(Quantity::Ph, vec![5.0]);
    assert_eq!(ph.read_words(), None);
    let twice = Reading::of(Quantity::Ph, vec![5.0, 5.2]);
    assert_eq!(twice.read_words().as_deref(), Some("mean of 5.00, 5.20"));
}
