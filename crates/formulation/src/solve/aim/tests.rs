use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::fixture::{formula, line, material};
use crate::formula::{Date, ItemId};
use crate::material::{Charge, Class, Material};
use crate::quantity::Ph;
use crate::solve::demand::DemandOrigin;
use crate::solve::target::{Relation, Target, TargetQuantity};

const WATER: (&str, Class) = ("Aqua", Class::Water);

fn solution(name: &str, inci: &str, percent: f64, class: Class) -> Arc<Material> {
    let parts = [(inci, percent, class), (WATER.0, 100.0 - percent, WATER.1)];
    material(name, &parts[..if percent < 100.0 { 2 } else { 1 }])
}

fn context() -> Context {
    Context::new(Date::constant(2026, 1, 15))
}

/// Water, anionic 28 %, betaine 30 %, glucoside 50 %, glycerin, salt.
fn shampoo() -> Formula {
    let surfactant = |charge| Class::Surfactant(charge);
    let mut f = formula(vec![
        line(&solution("Water", "Aqua", 100.0, Class::Water), "67.2"),
        line(
            &solution(
                "Laureth sulfate",
                "Sodium Laureth Sulfate",
                28.0,
                surfactant(Charge::Anionic),
            ),
            "20",
        ),
        line(
            &solution(
                "Betaine",
                "Cocamidopropyl Betaine",
                30.0,
                surfactant(Charge::Amphoteric),
            ),
            "6",
        ),
        line(
            &solution(
                "Glucoside",
                "Decyl Glucoside",
                50.0,
                surfactant(Charge::NonIonic),
            ),
            "4",
        ),
        line(
            &solution("Glycerin", "Glycerin", 100.0, Class::Humectant),
            "2",
        ),
        line(
            &solution("Salt", "Sodium Chloride", 100.0, Class::Electrolyte),
            "0.8",
        ),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    f
}

fn change(f: &mut Formula, id: u64, change: impl Fn(&mut crate::formula::Line)) {
    let mut v = f.active().as_ref().clone();
    for phase in &mut v.phases {
        for line in &mut Arc::make_mut(phase).lines {
            if line.id == ItemId(id) {
                change(line);
            }
        }
    }
    f.variants = vec![Arc::new(v)];
}

fn ask(f: &Formula, supply: &Supply, targets: &[&str], aim: impl Fn(&mut Aim)) -> Answer {
    let context = context();
    let prepared = Prepared::new(f, f.active(), &context, supply, &[]);
    let mut question = Aim::new(targets.iter().map(|t| t.parse().unwrap()).collect());
    aim(&mut question);
    prepared.answer(&question).unwrap()
}

fn proposal(answer: Answer) -> Proposal {
    match answer {
        Answer::Proposal(p) => *p,
        Answer::Collision(c) => panic!("collision: {}", c.sentence()),
    }
}

fn collision(answer: Answer) -> Collision {
    match answer {
        Answer::Collision(c) => *c,
        Answer::Proposal(p) => panic!("proposal: {:?}", p.lines),
    }
}

#[test]
fn a_present_formula_that_meets_everything_stays() {
    let f = shampoo();
    let p = proposal(ask(&f, &Supply::default(), &["active >= 5"], |_| {}));
    assert!(p.lines.iter().all(|l| l.before == l.after), "{:?}", p.lines);
}

/// What one target takes out of a line goes to the filler, and no other line moves to spare it.
#[test]
fn the_filler_takes_what_a_target_leaves() {
    let f = shampoo();
    let p = proposal(ask(&f, &Supply::default(), &["glycerin <= 1"], |_| {}));
    let moved = p.lines.iter().filter(|l| l.before != l.after);
    let moved: Vec<(&str, Percent)> = moved.map(|l| (&*l.name, l.after)).collect();
    let to = |percent: &str| percent.parse().unwrap();
    assert_eq!(moved, [("Water", to("68.2")), ("Glycerin", to("1"))]);
}

#[test]
fn targets_are_reached_and_small_lines_survive() {
    let f = shampoo();
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["active >= 14", "anionic / amphoteric <= 2", "salt <= 1"],
        |_| {},
    ));
    assert!(p.all_hold(), "{:?} {:?}", p.targets, p.gave_way);
    assert_eq!(p.variant.total(), Percent::HUNDRED);
    assert!(p.targets[0].after.unwrap() >= 14.0 - 1e-6);
    assert!(p.targets[1].after.unwrap() <= 2.0 + 1e-6);
    // The salt, the smallest line, keeps its size.
    let salt = p.lines.iter().find(|l| l.name == "Salt").unwrap();
    assert!((salt.after.as_percent() - 0.8).abs() < 0.05, "{salt:?}");
    // Taking it over is one edit.
    let applied = crate::edit::apply(&f, f.active, &p.edit()).unwrap();
    assert_eq!(applied.formula.active().total(), Percent::HUNDRED);
}

#[test]
fn a_collision_is_named_with_its_figures() {
    // 30 % betaine at most 20 %, 50 % glucoside at most 5 %, no anionic:
    // 6 + 2.5 = 8.5 % active.
    let f = shampoo();
    let c = collision(ask(
        &f,
        &Supply::default(),
        &[
            "active >= 14",
            "line Betaine <= 20",
            "line Glucoside <= 5",
            "anionic <= 0",
            "water >= 10",
        ],
        |_| {},
    ));
    assert!(c.smallest);
    assert_eq!(c.clashes.len(), 4);
    assert_eq!(
        c.sentence(),
        "at least 14 % active matter does not go together with at most 20 % Betaine, at most 5 % Glucoside and at most 0 % anionic active: active matter can reach 8.5 %"
    );
    for clash in &c.clashes {
        let nearest = clash.nearest.as_ref().unwrap();
        assert_eq!(nearest.variant.total(), Percent::HUNDRED);
    }
    let relaxed = c.clashes[0].nearest.as_ref().unwrap();
    assert!((relaxed.targets[0].after.unwrap() - 8.5).abs() < 0.02);
    assert!(relaxed.targets[0].gave_way.is_some());
}

#[test]
fn a_held_line_collides_by_name() {
    let mut f = shampoo();
    change(&mut f, 14, |l| l.held = true);
    let c = collision(ask(&f, &Supply::default(), &["Glycerin >= 5"], |_| {}));
    assert!(
        c.sentence().contains("Glycerin held at 2 %"),
        "{}",
        c.sentence()
    );
}

#[test]
fn the_stock_bounds_a_batch() {
    let f = shampoo();
    let mut supply = Supply::default();
    for (name, grams) in [
        ("laureth-sulfate", 1000.0),
        ("betaine", 300.0),
        ("glucoside", 300.0),
        ("glycerin", 50.0),
        ("salt", 100.0),
    ] {
        supply.stock.insert(
            crate::material::MaterialId::from_name(name),
            crate::quantity::grams(grams),
        );
    }
    let p = proposal(ask(&f, &supply, &["Glycerin >= 1"], |aim| {
        aim.stock_for = Some(crate::quantity::grams(4000.0));
    }));
    let glycerin = p.lines.iter().find(|l| l.name == "Glycerin").unwrap();
    // 50 g in 4 kg is 1.25 %.
    assert!(glycerin.after.as_percent() <= 1.25 + 1e-9);
}

/// What is not entered is not known, so it limits nothing, and that is said.
#[test]
fn a_stock_that_is_not_known_limits_nothing() {
    let f = shampoo();
    let mut supply = Supply::default();
    let glycerin = crate::material::MaterialId::from_name("glycerin");
    supply.stock.insert(glycerin, crate::quantity::grams(10.0));
    let p = proposal(ask(&f, &supply, &["active >= 10"], |aim| {
        aim.stock_for = Some(crate::quantity::grams(1000.0));
    }));
    assert!(p.all_hold(), "{:?}", p.targets);
    let at = |name: &str| p.lines.iter().find(|l| l.name == name).unwrap().after;
    assert_eq!(at("Glycerin").to_string(), "1");
    assert!(at("Betaine") > Percent::ZERO);
    assert!(
        p.notes.iter().any(|n| n.contains("Betaine")),
        "{:?}",
        p.notes
    );
}

/// A ratio to nothing has no value, so it meets no demand.
#[test]
fn a_ratio_keeps_its_divisor() {
    let f = shampoo();
    for relation in ["=", "<=", ">="] {
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &[&format!("anionic / amphoteric {relation} 2")],
            |aim| aim.prefer = Preference::Fewest,
        ));
        assert!(p.targets[0].after.is_some(), "{relation}: {:?}", p.lines);
        assert!(p.all_hold());
    }
    let context = context();
    let supply = Supply::default();
    let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
    let ask = |text: &str| prepared.answer(&Aim::new(vec![text.parse().unwrap()]));
    let error = ask("anionic / cationic <= 2").unwrap_err();
    assert!(error.to_string().contains("divided by"), "{error}");
    let c = collision(
        prepared
            .answer(&Aim::new(
                ["anionic / amphoteric <= 2", "amphoteric <= 0"]
                    .map(|t| t.parse().unwrap())
                    .to_vec(),
            ))
            .unwrap(),
    );
    assert_eq!(c.clashes.len(), 2);
    assert!(c.clashes.iter().all(|c| c.nearest.is_some()));
}

/// The demands leave a single composition: no interior, but an answer.
#[test]
fn demands_that_leave_one_point_are_met() {
    let f = shampoo();
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &[
            "active >= 8",
            "active <= 8",
            "anionic = 5",
            "non-ionic >= 0",
            "non-ionic <= 0",
            "line Glycerin >= 2",
            "line Glycerin <= 2",
            "line Salt = 1",
            "line Water >= 1",
        ],
        |_| {},
    ));
    let active = p.targets[0].after.unwrap();
    assert!((active - 8.0).abs() < 0.01, "{active}");
}

/// What gives way takes the steps upon itself; every other demand holds exactly. The
/// price by volume is that of the density the nearest formula has.
#[test]
fn a_relaxed_demand_spares_all_others() {
    let f = shampoo();
    let mut supply = Supply::default();
    let prices = [
        ("water", 0.1),
        ("laureth-sulfate", 2.0),
        ("betaine", 2.5),
        ("glucoside", 6.0),
        ("glycerin", 2.4),
        ("salt", 0.4),
    ];
    for (name, price) in prices {
        let id = crate::material::MaterialId::from_name(name);
        supply.price_per_kg.insert(id, price);
    }
    let c = collision(ask(
        &f,
        &supply,
        &["cost per 250 ml <= 0.2", "active >= 12", "Glycerin >= 1"],
        |aim| aim.step = Percent::from_units(100_000),
    ));
    for clash in &c.clashes {
        let nearest = clash.nearest.as_ref().unwrap();
        let DemandOrigin::Target(relaxed) = clash.origin else {
            panic!("{:?}", clash.origin);
        };
        for (k, target) in nearest.targets.iter().enumerate() {
            assert!(k == relaxed || target.gave_way.is_none(), "{target:?}");
        }
        assert!(nearest.targets[relaxed].gave_way.is_some());
        assert!(nearest.gave_way.is_empty());
    }
}

#[test]
fn an_unknown_price_is_an_error_that_names_the_material() {
    let f = shampoo();
    let context = context();
    let supply = Supply::default();
    let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
    let error = prepared
        .answer(&Aim::new(vec!["cost <= 2".parse().unwrap()]))
        .unwrap_err();
    assert!(error.to_string().contains("Betaine"), "{error}");
}

#[test]
fn percentages_are_added_up() {
    // 28 % of 20 and 2 % glycerin are 7.6 %.
    let f = shampoo();
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["anionic + glycerin >= 9"],
        |_| {},
    ));
    assert!((p.targets[0].before.unwrap() - 7.6).abs() < 1e-9);
    assert!(p.all_hold() && p.targets[0].after.unwrap() >= 9.0 - 1e-6);
}

#[test]
fn a_misspelt_name_gets_a_hint() {
    let f = shampoo();
    let context = context();
    let supply = Supply::default();
    let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
    let error = prepared
        .answer(&Aim::new(vec!["Glycerine >= 5".parse().unwrap()]))
        .unwrap_err();
    assert!(
        error.to_string().contains("did you mean “Glycerin”"),
        "{error}"
    );
}

#[test]
fn the_fewest_materials_drop_what_no_target_needs() {
    let f = shampoo();
    let p = proposal(ask(&f, &Supply::default(), &["active = 10"], |aim| {
        aim.prefer = Preference::Fewest;
    }));
    assert!(p.all_hold(), "{:?}", p.targets);
    // Water and one surfactant.
    assert_eq!(p.variant.lines().count(), 2, "{:?}", p.lines);
}

#[test]
fn a_candidate_is_added_only_if_it_is_needed() {
    let f = shampoo();
    let context = context();
    let supply = Supply::default();
    let urea = solution("Urea", "Urea", 100.0, Class::Humectant);
    let candidate = AddableMaterial {
        material: urea,
        phase: ItemId(100),
    };
    let prepared = Prepared::new(&f, f.active(), &context, &supply, &[candidate]);
    let answer = |text: &str| {
        proposal(
            prepared
                .answer(&Aim::new(vec![text.parse().unwrap()]))
                .unwrap(),
        )
    };
    assert_eq!(answer("active >= 12").variant.lines().count(), 6);
    let with = answer("inci Urea >= 3");
    assert_eq!(with.variant.lines().count(), 7);
    let applied = crate::edit::apply(&f, f.active, &with.edit()).unwrap();
    assert!(
        applied
            .formula
            .materials
            .keys()
            .any(|k| k.as_str() == "urea")
    );
}

fn changed(material: &Arc<Material>, change: impl FnOnce(&mut Material)) -> Arc<Material> {
    let mut m = material.as_ref().clone();
    change(&mut m);
    Arc::new(m)
}

fn emulsifier(name: &str, hlb: f64) -> Arc<Material> {
    changed(&solution(name, name, 100.0, Class::Emulsifier), |m| {
        m.hlb = Some(sourced(hlb));
        m.roles = vec![crate::material::Role::Emulsifier];
    })
}

fn oil(name: &str, need: f64) -> Arc<Material> {
    changed(&solution(name, name, 100.0, Class::Oil), |m| {
        m.required_hlb = Some(sourced(need));
    })
}

fn sourced<T>(value: T) -> crate::material::Sourced<T> {
    let source = crate::material::Source::new(crate::material::Basis::Published, "");
    crate::material::Sourced::new(value, source)
}

fn cream(oils: &[(Arc<Material>, &str)], emulsifiers: [(Arc<Material>, &str); 2]) -> Formula {
    let water = solution("Water", "Aqua", 100.0, Class::Water);
    let mut lines = vec![line(&water, "50")];
    lines.extend(oils.iter().map(|(m, p)| line(m, p)));
    lines.extend(emulsifiers.iter().map(|(m, p)| line(m, p)));
    let mut f = formula(lines);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    f
}

/// A trace of oil whose need nobody has said is left out and named; much of it leaves
/// the need unknown.
#[test]
fn a_trace_of_untold_oil_is_left_out_and_named() {
    let untold = solution("Untold oil", "Untold Oil", 100.0, Class::Oil);
    let with = |percent| {
        let f = cream(
            &[(oil("Palmitate", 11.5), "10"), (untold.clone(), percent)],
            [
                (emulsifier("Low", 3.8), "2"),
                (emulsifier("High", 18.8), "2"),
            ],
        );
        let (context, supply) = (context(), Supply::default());
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        prepared.answer(&Aim::new(vec!["hlb = need".parse().unwrap()]))
    };
    let p = proposal(with("0.5").unwrap());
    assert!(p.targets[0].gave_way.is_none());
    assert!(p.notes.iter().any(|n| n.contains("Untold oil")));
    let error = with("1").unwrap_err();
    assert!(error.to_string().contains("Untold oil"), "{error}");
}

/// A line is called by its name, its INCI name, or words of its name.
#[test]
fn lines_are_called_as_a_maker_would() {
    for name in ["Laureth sulfate", "sodium laureth sulfate", "laureth"] {
        let text = format!("line {name} <= 15");
        let p = proposal(ask(&shampoo(), &Supply::default(), &[&text], |_| {}));
        assert_eq!(p.lines[1].after, "15".parse().unwrap(), "{name}");
    }
}

/// A maker's page of 2011: isopropyl palmitate 1 (11.5) and cetyl alcohol 3 (15.5) need
/// 14.5; glyceryl stearate (3.8) and PEG-100 stearate (18.8) give it at 28.67 to 71.33.
#[test]
fn emulsifiers_meet_the_published_need_of_the_oils() {
    let mut f = cream(
        &[
            (oil("Palmitate", 11.5), "1"),
            (oil("Cetyl alcohol", 15.5), "3"),
        ],
        [
            (emulsifier("Low", 3.8), "2"),
            (emulsifier("High", 18.8), "2"),
        ],
    );
    change(&mut f, 11, |l| l.held = true);
    change(&mut f, 12, |l| l.held = true);
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["hlb = need", "line Low >= 1"],
        |_| {},
    ));
    assert!(p.all_hold(), "{:?}", p.targets);
    let at = |name: &str| {
        let line = p.lines.iter().find(|l| l.name == name).unwrap();
        line.after.as_percent()
    };
    let share = at("Low") / (at("Low") + at("High"));
    assert!((share - 0.2867).abs() < 0.002, "{share}");
}

/// The emulsifiers cannot reach what the oils need now, but the oils may change.
#[test]
fn oils_give_way_where_the_emulsifiers_cannot_follow() {
    let f = cream(
        &[(oil("Demanding", 16.0), "8"), (oil("Modest", 6.0), "2")],
        [
            (emulsifier("Low", 4.0), "2"),
            (emulsifier("Middle", 9.0), "2"),
        ],
    );
    // Now the need is 14, beyond both emulsifiers.
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["hlb = need", "oil = 10", "line Low >= 1"],
        |_| {},
    ));
    assert!(p.all_hold(), "{:?}", p.targets);
    assert!(p.targets[0].after.unwrap() <= 9.0);
}

/// A buffer of citric acid and water: the dose for a pH is found, and the pH is what
/// the estimate of the proposal says.
#[test]
fn the_dose_for_a_ph_is_found() {
    let acid = changed(
        &solution("Citric acid", "Citric Acid", 100.0, Class::AcidBase),
        |m| {
            m.roles = vec![crate::material::Role::Acid];
            m.alkalinity = crate::material::Alkalinity::Neutral;
        },
    );
    let neutral =
        |m: &Arc<Material>| changed(m, |m| m.alkalinity = crate::material::Alkalinity::Neutral);
    let water = neutral(&solution("Water", "Aqua", 100.0, Class::Water));
    let benzoate = changed(
        &solution("Benzoate", "Sodium Benzoate", 100.0, Class::Preservative),
        |m| {
            m.roles = vec![crate::material::Role::Preservative];
            m.alkalinity = crate::material::Alkalinity::Neutral;
        },
    );
    let glycerin = neutral(&solution("Glycerin", "Glycerin", 100.0, Class::Humectant));
    let mut f = formula(vec![
        line(&water, "96.4"),
        line(&glycerin, "3"),
        line(&benzoate, "0.5"),
        line(&acid, "0.1"),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["ph = 4.8", "Glycerin >= 5"],
        |_| {},
    ));
    assert!(p.all_hold(), "{:?}", p.targets);
    let ph = p.evaluation.estimates.ph.middle.unwrap();
    assert!((ph - 4.8).abs() <= 0.05, "{ph}");
    assert_eq!(p.variant.total(), Percent::HUNDRED);
    let benzoate = p.lines.iter().find(|l| l.name == "Benzoate").unwrap();
    assert_eq!(benzoate.after, benzoate.before);
    // Out of reach is an error with the figure.
    let context = context();
    let supply = Supply::default();
    let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
    let error = prepared
        .answer(&Aim::new(vec!["ph = 12".parse().unwrap()]))
        .unwrap_err();
    assert!(
        error.to_string().contains("comes no closer than"),
        "{error}"
    );
    // More preservative is needed where less of it is undissociated.
    let need = |ph: &str| {
        let p = proposal(ask(
            &f,
            &Supply::default(),
            &[&format!("ph = {ph}"), "preservation >= 1"],
            |aim| aim.without = BTreeSet::new(),
        ));
        p.lines.iter().find(|l| l.name == "Benzoate").unwrap().after
    };
    assert!(need("5.4") > need("4.5"));
}

/// Where the pH was measured, the dose starts from there: acid goes in to come down from it,
/// although the estimate alone would take some out.
#[test]
fn a_dose_starts_from_the_ph_measured() {
    let neutral =
        |m: &Arc<Material>| changed(m, |m| m.alkalinity = crate::material::Alkalinity::Neutral);
    let water = neutral(&solution("Water", "Aqua", 100.0, Class::Water));
    let acid = changed(
        &neutral(&solution(
            "Citric acid",
            "Citric Acid",
            100.0,
            Class::AcidBase,
        )),
        |m| m.roles = vec![crate::material::Role::Acid],
    );
    let benzoate = neutral(&solution(
        "Benzoate",
        "Sodium Benzoate",
        100.0,
        Class::Preservative,
    ));
    let mut f = formula(vec![
        line(&water, "99.3"),
        line(&benzoate, "0.5"),
        line(&acid, "0.2"),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v.clone())];
    let present: Percent = "0.2".parse().unwrap();
    let dose = |f: &Formula| {
        let p = proposal(ask(f, &Supply::default(), &["ph = 5"], |_| {}));
        p.lines
            .iter()
            .find(|l| l.name == "Citric acid")
            .unwrap()
            .after
    };
    let estimated = crate::evaluation::evaluate(&f, f.active(), &context())
        .estimates
        .ph
        .middle;
    assert!(estimated.unwrap() < 4.8, "{estimated:?}");
    assert!(dose(&f) < present);
    v.measured.ph = Ph::new(6.1);
    f.variants = vec![Arc::new(v.clone())];
    let from_measured = dose(&f);
    assert!(from_measured > present, "{from_measured}");
    // Measured where the estimate lies, nothing changes.
    v.measured.ph = Ph::new(estimated.unwrap());
    f.variants = vec![Arc::new(v)];
    assert!(dose(&f) < present);
}

/// A wash whose pH is known within a wide range only: what preserves is judged at the pH
/// asked for, whatever the formula aims at.
#[test]
fn preservation_is_judged_at_the_ph_asked_for() {
    let benzoate = changed(
        &solution("Benzoate", "Sodium Benzoate", 100.0, Class::Preservative),
        |m| m.roles = vec![crate::material::Role::Preservative],
    );
    let acid = changed(
        &solution("Citric acid", "Citric Acid", 100.0, Class::AcidBase),
        |m| m.roles = vec![crate::material::Role::Acid],
    );
    // Unknown acid or base in the surfactant makes the range wide.
    let surfactant = solution(
        "Laureth sulfate",
        "Sodium Laureth Sulfate",
        28.0,
        Class::Surfactant(Charge::Anionic),
    );
    let water = solution("Water", "Aqua", 100.0, Class::Water);
    let mut f = formula(vec![
        line(&water, "69.7"),
        line(&surfactant, "30"),
        line(&benzoate, "0.1"),
        line(&acid, "0.2"),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    v.target_ph = Ph::new(4.5);
    f.variants = vec![Arc::new(v)];
    let off = |aim: &mut Aim, of: &Formula| {
        let (context, supply) = (context(), Supply::default());
        let prepared = Prepared::new(of, of.active(), &context, &supply, &[]);
        aim.without = prepared
            .limits()
            .iter()
            .filter_map(|d| match &d.origin {
                DemandOrigin::Limit(key) => Some(key.clone()),
                _ => None,
            })
            .collect();
    };
    let needed = |ph: &str, f: &Formula| {
        let targets = [&*format!("ph = {ph}"), "preservation >= 1"];
        let p = proposal(ask(f, &Supply::default(), &targets, |aim| off(aim, f)));
        let reached = p.targets[1].clone();
        let line = p.lines.iter().find(|l| l.name == "Benzoate").unwrap();
        (line.after, reached.basis.unwrap(), p.variant.target_ph)
    };
    let (low, at_low, aimed) = needed("4.5", &f);
    let (high, at_high, moved) = needed("5.5", &f);
    // pKa 4.2 (Haynes, CRC Handbook of Chemistry and Physics): at pH 4.5 a third is
    // undissociated, at 5.5 a twentieth.
    assert!(high.as_percent() > 4.0 * low.as_percent(), "{low} {high}");
    assert!(
        at_low.contains("4.5") && at_high.contains("5.5"),
        "{at_low} {at_high}"
    );
    assert_eq!(aimed, Ph::new(4.5));
    assert_eq!(moved, Ph::new(5.5));
    // Nothing stored is no reason for another answer.
    let mut bare = f.clone();
    let mut v = bare.active().as_ref().clone();
    v.target_ph = None;
    bare.variants = vec![Arc::new(v)];
    assert_eq!(needed("5.5", &bare).0, high);
    // What is held may be enough at the pH asked for, though it is not at the pH it has now.
    let mut held = f.clone();
    let mut v = held.active().as_ref().clone();
    let mut phase = v.phases[0].as_ref().clone();
    let enough = low + "0.05".parse().unwrap();
    phase.lines[0].percent = Percent::HUNDRED - "30".parse().unwrap() - enough;
    phase.lines[2].percent = enough;
    phase.lines[2].held = true;
    phase.lines[3].percent = Percent::ZERO;
    v.phases = vec![phase.into()];
    held.variants = vec![Arc::new(v)];
    assert!(needed("4.5", &held).0 > low);
}

/// Two lines bring one preservative: its legal limit holds for their sum (Regulation
/// (EC) No 1223/2009, Annex V, entry 29: phenoxyethanol 1.0 %).
#[test]
fn a_legal_limit_is_shared_by_the_lines_that_bring_the_substance() {
    let preservative = |name: &str, percent: f64| {
        changed(
            &solution(name, "Phenoxyethanol", percent, Class::Preservative),
            |m| m.roles = vec![crate::material::Role::Preservative],
        )
    };
    let water = solution("Water", "Aqua", 100.0, Class::Water);
    let mut f = formula(vec![
        line(&water, "98.9"),
        line(&preservative("Pure", 100.0), "0.5"),
        line(&preservative("Blend", 50.0), "0.6"),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    let p = proposal(ask(&f, &Supply::default(), &["line Blend >= 1.2"], |_| {}));
    let total = p
        .evaluation
        .composition
        .constituents
        .iter()
        .find(|c| c.inci.spelling() == "Phenoxyethanol")
        .unwrap();
    assert!(total.share.typical.as_percent() <= 1.0 + 1e-9);
    let c = collision(ask(
        &f,
        &Supply::default(),
        &["line Blend >= 1.2", "line Pure >= 0.6"],
        |_| {},
    ));
    let limit = c.clashes.iter().find_map(|c| match &c.origin {
        DemandOrigin::Limit(key) => Some(key.clone()),
        _ => None,
    });
    let limit = limit.unwrap();
    assert_eq!(limit.lines.len(), 2, "{limit:?}");
    // Switched off, it no longer binds, and the proposal says so.
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["line Blend >= 1.2", "line Pure >= 0.6"],
        |aim| {
            aim.without = [limit.clone()].into();
        },
    ));
    let state = p.limits.iter().find(|l| l.key == limit).unwrap();
    assert!(state.off && state.exceeded);
}

/// No whole tenth lies between the two targets: the line stays on its step and the
/// target that gives way is named.
#[test]
fn targets_too_close_for_the_step_give_way() {
    let p = proposal(ask(
        &shampoo(),
        &Supply::default(),
        &["salt >= 2.28", "salt <= 2.29"],
        |aim| aim.step = Percent::from_units(100_000),
    ));
    let salt = p.lines.iter().find(|l| l.name == "Salt").unwrap();
    assert_eq!(salt.after.to_string(), "2.3");
    let gave_way: Vec<_> = p.targets.iter().map(|t| t.gave_way).collect();
    assert_eq!(gave_way[0], None);
    assert!((gave_way[1].unwrap() - 0.01).abs() < 1e-9);
}

/// A target over the shampoo's amounts.
fn any_target() -> impl Strategy<Value = Target> {
    let quantity = prop_oneof![
        Just(TargetQuantity::Active(None)),
        Just(TargetQuantity::Active(Some(Charge::Anionic))),
        Just(TargetQuantity::Class(Class::Water)),
        Just(TargetQuantity::Class(Class::Electrolyte)),
        Just(TargetQuantity::Named("Glycerin".into())),
        Just(TargetQuantity::Line("Betaine".into())),
        Just(TargetQuantity::Ratio(
            Box::new(TargetQuantity::Active(Some(Charge::Anionic))),
            Box::new(TargetQuantity::Active(Some(Charge::Amphoteric))),
        )),
    ];
    (quantity, 0.0..1.0_f64, any::<bool>()).prop_map(|(quantity, at, least)| {
        let scale = match quantity {
            TargetQuantity::Class(Class::Water) => 100.0,
            TargetQuantity::Ratio(..) => 5.0,
            TargetQuantity::Class(_) => 3.0,
            _ => 20.0,
        };
        let value = (at * scale * 100.0).round() / 100.0;
        let relation = if least {
            Relation::AtLeast(value)
        } else {
            Relation::AtMost(value)
        };
        Target { quantity, relation }
    })
}

/// The interior-point method runs in a circle here at its usual step.
#[test]
fn a_circle_of_the_method_is_left() {
    let mut f = shampoo();
    change(&mut f, 15, |l| l.held = true);
    change(&mut f, 11, |l| l.max = Some("23".parse().unwrap()));
    let p = proposal(ask(
        &f,
        &Supply::default(),
        &["Glycerin <= 0", "active >= 8.37"],
        |_| {},
    ));
    assert!(p.targets.iter().all(|t| t.gave_way.is_none()));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, ..ProptestConfig::default() })]
    #[test]
    fn a_proposal_totals_100_keeps_bounds_and_reaches_its_targets(
        targets in prop::collection::vec(any_target(), 1..5),
        held in 11_u64..16,
        max in 1_u32..30,
        step in prop::sample::select(vec![100_000_i64, 50_000, 10_000]),
    ) {
        let mut f = shampoo();
        change(&mut f, held, |l| l.held = true);
        change(&mut f, 11, |l| l.max = Some(Percent::from_units(i64::from(max) * Percent::UNITS)));
        let context = context();
        let supply = Supply::default();
        let prepared = Prepared::new(&f, f.active(), &context, &supply, &[]);
        let mut aim = Aim::new(targets.clone());
        aim.step = Percent::from_units(step);
        let first = prepared.answer(&aim).unwrap();
        // Fewer demands are never harder to meet.
        let mut fewer = aim.clone();
        fewer.targets.pop();
        let second = prepared.answer(&fewer).unwrap();
        match (&first, &second) {
            (Answer::Proposal(p), Answer::Proposal(q)) => {
                prop_assert!(p.objective >= q.objective - 1e-6 * q.objective.abs().max(1.0));
            }
            (Answer::Proposal(_), Answer::Collision(c)) => {
                prop_assert!(false, "fewer demands collide: {}", c.sentence());
            }
            _ => {}
        }
        if let Answer::Proposal(p) = first {
            prop_assert_eq!(p.variant.total(), Percent::HUNDRED);
            for l in &p.lines {
                prop_assert!(l.after >= Percent::ZERO);
                if l.line == ItemId(held) {
                    prop_assert_eq!(l.before, l.after);
                } else if l.line == ItemId(11) {
                    prop_assert!(l.after.as_percent() <= f64::from(max));
                }
                let on_step = l.after.units() % step == 0;
                prop_assert!(on_step || l.line == ItemId(10) || l.before == l.after);
            }
            // A target holds, or it is said that it gave way.
            for (target, reached) in targets.iter().zip(&p.targets) {
                let Some(value) = reached.after else { continue };
                let (low, high) = target.relation.limits().unwrap();
                let holds = value >= low - 1e-6 && value <= high + 1e-6;
                prop_assert_eq!(holds, reached.gave_way.is_none(), "{:?}", reached);
                // What gives way gives way by steps only: no more than two of them.
                if let Some(by) = reached.gave_way {
                    let ratio = matches!(target.quantity, TargetQuantity::Ratio(..));
                    prop_assert!(ratio || by <= 2.0 * step as f64 / Percent::UNITS as f64, "{:?}", reached);
                }
            }
        }
    }
}
