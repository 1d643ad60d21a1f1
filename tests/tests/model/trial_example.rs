//! The invented trials of the Larkmoor shower gel: a salt curve with nine steps, a stability
//! plan half way, a planned set of ten. All figures are invented.
//!
//! `UPDATE_EXAMPLES=1` writes the file anew from the recipe below.

#![expect(
    clippy::unwrap_used,
    reason = "a test stops at the first thing that is not as it should be"
)]

use std::path::{Path, PathBuf};

use formulation::edit::{Edit, GiveWay, apply};
use formulation::evaluation::Context;
use formulation::file::ledger_file::head_path;
use formulation::file::{formula_file, trial_file, trial_store};
use formulation::formula::{Date, Formula, ItemId};
use formulation::mass::{ExactMass, read_mass};
use formulation::progress::Progress;
use formulation::quantity::Percent;
use formulation::solve::aim::{Aim, Answer, Prepared};
use formulation::solve::subject::Supply;
use formulation::solve::sweep::{Axis, Sweep};
use formulation::solve::target::Target;
use formulation::trial::book::{Addition, SetPlace, TrialEntry, TrialEvent, TrialOpening};
use formulation::trial::charts::charts;
use formulation::trial::fit::scheffe::Order;
use formulation::trial::learn::{Experience, Learnt, Lessons};
use formulation::trial::plan::{Design, Factor, Varied, formula_of, plan};
use formulation::trial::reading::{Method, Quantity, Reading, ReadingValue, Sample};
use formulation::trial::stability::{Acceptance, StabilityPlan, State, Time, samples};

const SALT: ItemId = ItemId(42);
const BETAINE: ItemId = ItemId(22);
const GLUCOSIDE: ItemId = ItemId(23);

fn formula_path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/oat-and-juniper-shower-gel.formula.ron")
}

fn mass(text: &str) -> ExactMass {
    read_mass(text, None).unwrap()
}

fn percent(text: &str) -> Percent {
    text.parse().unwrap()
}

/// What was noted, in order.
struct Notes {
    entries: Vec<TrialEntry>,
    day: Date,
}

impl Notes {
    fn note(&mut self, event: TrialEvent) {
        let minute = self.entries.len() % 60;
        self.entries.push(TrialEntry {
            at: format!("{}T10:{minute:02}:00+00:00", self.day),
            by: "Wren".to_owned(),
            event,
        });
    }
    fn read(&mut self, trial: usize, step: usize, reading: Reading) {
        self.note(TrialEvent::Read {
            trial,
            step,
            reading,
        });
    }
}

/// A viscosity read by spindle, three digits.
fn viscosity(value: f64) -> Reading {
    let units = (value / 100.0 * 10.0).round() / 10.0;
    let mut reading = Reading::of(Quantity::Viscosity, vec![units]);
    reading.method = Method::Rotational {
        spindle: "cylinder 3".to_owned(),
        rpm: 12.0,
        factor: 100.0,
    };
    reading.celsius = Some(25.0);
    reading.hours = Some(24.0);
    reading
}

fn ph(value: f64) -> Reading {
    let mut reading = Reading::of(Quantity::Ph, vec![value]);
    reading.celsius = Some(25.0);
    reading.hours = Some(24.0);
    reading
}

/// Scatter of the invented readings, of a few percent.
const SCATTER: [f64; 12] = [
    0.012, -0.021, 0.008, 0.027, -0.014, 0.003, -0.026, 0.019, -0.006, 0.022, -0.017, 0.009,
];

fn recipe(formula: &Formula) -> Vec<TrialEntry> {
    let mut notes = Notes {
        entries: Vec::new(),
        day: Date::constant(2026, 1, 2),
    };
    // Salt curve: without the salt first, then nine portions of 0.3 %.
    let salt = formula.active().line(SALT).unwrap().material.clone();
    let edit = Edit::SetPercent {
        line: SALT,
        percent: Percent::ZERO,
        give: GiveWay::Filler,
    };
    let bare = apply(formula, formula.active, &edit).unwrap().formula;
    let mut opening = TrialOpening::of(&bare, "Salt curve of the gel", notes.day, mass("200 g"));
    opening.room_celsius = Some(21.0);
    notes.note(TrialEvent::Begin(Box::new(opening)));
    for step in 0..=9 {
        if step > 0 {
            notes.note(TrialEvent::Add {
                trial: 1,
                addition: Addition {
                    id: salt.clone(),
                    material: formula.materials[&salt].clone(),
                    mass: mass("0.6 g"),
                },
            });
        }
        let share = 0.3 * f64::from(step) / (1.0 + 0.003 * f64::from(step));
        let ln = 9000.0_f64.ln() - 0.9 * (share - 1.7).powi(2) + SCATTER[step as usize];
        notes.read(1, step as usize, viscosity(ln.exp()));
    }
    // The formula as it stands, laid out for stability.
    notes.day = Date::constant(2026, 1, 5);
    let opening = TrialOpening::of(formula, "Stability of the gel", notes.day, mass("2 kg"));
    notes.note(TrialEvent::Begin(Box::new(opening)));
    notes.read(2, 0, ph(4.82));
    notes.read(2, 0, viscosity(4340.0));
    let stability = StabilityPlan {
        conditions: ["4 °C", "25 °C", "40 °C"].map(str::to_owned).to_vec(),
        times: [
            "start", "1 week", "2 weeks", "4 weeks", "8 weeks", "12 weeks",
        ]
        .map(|t| Time::read(t).unwrap())
        .to_vec(),
        limits: ["ph=4.6..5.0", "viscosity=3500..6000"]
            .map(|t| Acceptance::read(t).unwrap())
            .to_vec(),
        ..StabilityPlan::proposed(2, notes.day, None)
    };
    let times = stability.times.clone();
    notes.note(TrialEvent::Plan {
        number: 0,
        plan: stability,
    });
    for (t, time) in times.iter().take(4).enumerate() {
        notes.day = Date::constant(2026, 1, 5)
            .checked_add(jiff_days(time.days))
            .unwrap();
        let weeks = f64::from(time.days) / 7.0;
        for (c, (fall, thin)) in [(0.0, 0.002), (-0.004, 0.006), (-0.012, 0.021)]
            .into_iter()
            .enumerate()
        {
            let sample = Some(Sample {
                plan: 0,
                condition: c,
                time: t,
            });
            let scatter = SCATTER[(3 * t + c) % 12];
            let mut acid = ph(((4.82 + fall * weeks + scatter / 4.0) * 100.0_f64).round() / 100.0);
            let mut thick = viscosity(4340.0 * (-thin * weeks + scatter / 2.0).exp());
            let mut smell = Reading::of(Quantity::Smell, Vec::new());
            smell.value = ReadingValue::Word(usize::from(c == 2 && t == 3));
            for reading in [&mut acid, &mut thick, &mut smell] {
                reading.sample = sample;
                reading.hours = Some(24.0 * f64::from(time.days));
            }
            for reading in [acid, thick, smell] {
                notes.read(2, 0, reading);
            }
        }
    }
    // A planned set of ten.
    notes.day = Date::constant(2026, 2, 10);
    let factors = [
        Factor {
            line: BETAINE,
            low: percent("9"),
            high: percent("15"),
        },
        Factor {
            line: GLUCOSIDE,
            low: percent("2"),
            high: percent("6"),
        },
    ];
    let variant = formula.active();
    let design = Design::DOptimal(8, Order::Quadratic);
    let varied = Varied::with_filler(variant, factors.to_vec()).unwrap();
    let mut runs = plan(variant, &varied, design, 2, 1).unwrap();
    runs.sort_by_key(|r| r.order);
    for run in &runs {
        let made = formula_of(formula, variant, &varied, run);
        let purpose = format!("Planned set 1, beaker {} of {}", run.order, runs.len());
        let mut opening = TrialOpening::of(&made, &purpose, notes.day, mass("100 g"));
        opening.set = Some(SetPlace {
            set: 1,
            run: run.order,
            mixture: run.mixture,
        });
        notes.note(TrialEvent::Begin(Box::new(opening)));
    }
    notes.day = Date::constant(2026, 2, 11);
    for (i, run) in runs.iter().enumerate() {
        let share = |k: usize| run.percents[k].as_percent();
        let (betaine, glucoside) = (share(0) - 12.0, share(1) - 4.0);
        let ln = 4340.0_f64.ln() + 0.14 * betaine - 0.11 * glucoside - 0.012 * betaine * betaine
            + SCATTER[i % 12];
        notes.read(3 + i, 0, viscosity(ln.exp()));
        let acid = 4.82 + 0.02 * glucoside + SCATTER[(i + 5) % 12] / 3.0;
        notes.read(3 + i, 0, ph((acid * 100.0).round() / 100.0));
    }
    notes.entries
}

fn jiff_days(days: u32) -> std::time::Duration {
    std::time::Duration::from_secs(u64::from(days) * 86_400)
}

#[test]
fn the_invented_trials_are_complete() {
    let path = trial_file::path_of(&formula_path());
    let (formula, _) = formula_file::open(&formula_path()).unwrap();
    if std::env::var_os("UPDATE_EXAMPLES").is_some() {
        for old in [path.clone(), head_path(&path)] {
            if old.exists() {
                std::fs::remove_file(old).unwrap();
            }
        }
        trial_store::append_all(&path, &recipe(&formula)).unwrap();
    }
    let loaded = trial_store::read(&path).unwrap();
    assert_eq!(loaded.faults, Vec::<String>::new());
    assert_eq!(loaded.remarks, Vec::<String>::new());
    let book = &loaded.book;
    assert_eq!(book.trials[0].additions.len(), 9);
    let drawn = charts(book);
    let salt = drawn.iter().find(|c| c.model == Some("salt")).unwrap();
    let (top, ends) = salt.optimum.unwrap();
    assert!(
        ends[0] < 1.7 && 1.7 < ends[1] && (top - 1.7).abs() < 0.1,
        "{top}"
    );
    let states: Vec<State> = samples(book, Date::constant(2026, 3, 2))
        .iter()
        .map(|s| s.state)
        .collect();
    let count = |state| states.iter().filter(|s| **s == state).count();
    assert_eq!(
        (count(State::Done), count(State::Due), count(State::Coming)),
        (12, 3, 3)
    );
    let set: Vec<_> = book
        .trials
        .iter()
        .filter(|t| t.opening.set.is_some())
        .collect();
    assert_eq!(set.len(), 10);
    let kept = book.measured(formula.active(), Quantity::Ph).unwrap();
    assert_eq!(kept.reading.mean(), Some(4.82));
    let learnt = Learnt::from(Experience::of(book, Quantity::Viscosity)).unwrap();
    let expected = learnt.at(&learnt.from.place(formula.active()));
    assert!(expected.inside);
    assert!(expected.range[0] < 4340.0 && 4340.0 < expected.range[1]);
    // Salt, betaine and glucoside varied; nothing else did.
    assert_eq!(learnt.from.varying.len(), 3);
    // What is drawn is what was read, in mPa·s, over the share in percent.
    let drawn = learnt.readings_over(0);
    assert_eq!(drawn.len(), learnt.from.y.len());
    let means: Vec<f64> = book
        .readings_of(Quantity::Viscosity)
        .filter_map(|(_, kept)| kept.reading.mean())
        .collect();
    for ((share, value), read) in drawn.iter().zip(means) {
        assert!((value - read).abs() < 1e-9 * read);
        assert!((0.0..100.0).contains(share));
    }
}

/// What trials taught is a target of Aim and a curve of a sweep. The check against the outside
/// is the invented curve the trials were drawn from; the answer must lie on what was learnt.
#[test]
fn what_trials_taught_can_be_aimed_at_and_swept() {
    let (formula, _) = formula_file::open(&formula_path()).unwrap();
    let book = trial_store::read(&trial_file::path_of(&formula_path()))
        .unwrap()
        .book;
    let supply = Supply {
        lessons: Lessons::of(&book),
        ..Supply::default()
    };
    let context = Context::new(Date::constant(2026, 3, 2));
    let prepared = Prepared::new(&formula, formula.active(), &context, &supply, &[]);
    let learnt = supply.lessons.on(Quantity::Viscosity).unwrap();
    for (low, high) in [(5000.0, 6000.0), (1500.0, 2500.0), (3000.0, 3000.0)] {
        let target: Target = format!("viscosity between {low} and {high}")
            .parse()
            .unwrap();
        let Answer::Proposal(proposal) = prepared.answer(&Aim::new(vec![target])).unwrap() else {
            panic!("{low} to {high} collides");
        };
        assert!(proposal.all_hold(), "{:?}", proposal.targets);
        assert_eq!(proposal.variant.total(), Percent::HUNDRED);
        let expected = learnt.at(&learnt.from.place(&proposal.variant));
        let reached = &proposal.targets[0];
        assert!((reached.after.unwrap() - expected.value).abs() < 1e-6 * expected.value);
        // Within a tenth of the error of prediction of what was asked.
        let slack = (0.1 * learnt.loo_sd).exp();
        assert!(
            low / slack <= expected.value && expected.value <= high * slack,
            "{low} to {high}: {expected:?}"
        );
        let basis = reached.basis.as_ref().unwrap();
        assert!(basis.starts_with("learnt from"), "{basis}");
        assert_eq!(basis.contains("probability"), low < high, "{basis}");
        assert!(!reached.sure);
        let teaches = |n: &String| n.contains("the next trial teaches most");
        assert!(proposal.notes.iter().any(teaches), "{:?}", proposal.notes);
    }
    // Far above everything that was read: a collision that names what was tried.
    let beyond: Target = "viscosity >= 500 Pa·s".parse().unwrap();
    match prepared.answer(&Aim::new(vec![beyond])).unwrap() {
        Answer::Collision(collision) => {
            assert!(
                collision.sentence().contains("mPa·s"),
                "{}",
                collision.sentence()
            );
        }
        Answer::Proposal(proposal) => panic!("{:?}", proposal.targets),
    }
    // Nothing was learnt of foam: said, not guessed.
    let foam: Target = "foam drained in half >= 60".parse().unwrap();
    let error = prepared.answer(&Aim::new(vec![foam])).unwrap_err();
    assert!(
        error.to_string().contains("no trials have taught it"),
        "{error}"
    );

    let sweep = Sweep {
        axes: vec![Axis {
            line: SALT,
            from: percent("0.5"),
            to: percent("3"),
            points: 26,
        }],
        quantities: vec!["viscosity".parse().unwrap(), "salt".parse().unwrap()],
        give: GiveWay::Filler,
    };
    let points = sweep
        .run(
            &formula,
            formula.active,
            &context,
            &supply,
            &Progress::default(),
        )
        .unwrap();
    let curve: Vec<f64> = points.iter().filter_map(|p| p.values[0]).collect();
    assert_eq!(curve.len(), points.len());
    for point in &points {
        let (low, high) = point.ranges[0].unwrap();
        let value = point.values[0].unwrap();
        assert!(low < value && value < high);
    }
    // More salt thickens first and thins then, as the trials were drawn.
    let top = (0..curve.len())
        .max_by(|a, b| curve[*a].total_cmp(&curve[*b]))
        .unwrap();
    assert!(0 < top && top < curve.len() - 1, "{curve:?}");
}
