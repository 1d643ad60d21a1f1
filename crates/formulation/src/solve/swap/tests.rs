use std::collections::BTreeSet;

use super::*;
use crate::fixture::{formula, line, material};
use crate::formula::Date;
use crate::material::Charge;
use crate::progress::Progress;
use crate::shelf::built_in;

fn surfactant(name: &str, inci: &str, active: f64, salt: f64, charge: Charge) -> Arc<Material> {
    let material = material(
        name,
        &[
            (inci, active, Class::Surfactant(charge)),
            ("Sodium Chloride", salt, Class::Electrolyte),
            ("Aqua", 100.0 - active - salt, Class::Water),
        ],
    );
    let mut m = material.as_ref().clone();
    m.roles = vec![Role::CoSurfactant, Role::Foamer];
    m.charge = Some(charge);
    Arc::new(m)
}

fn gel() -> Formula {
    let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
    let betaine = surfactant(
        "Betaine",
        "Cocamidopropyl Betaine",
        30.0,
        5.0,
        Charge::Amphoteric,
    );
    let salt = {
        let m = material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]);
        let mut m = m.as_ref().clone();
        m.roles = vec![Role::Salt];
        Arc::new(m)
    };
    let mut f = formula(vec![
        line(&water, "78"),
        line(&betaine, "20"),
        line(&salt, "2"),
    ]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    f
}

fn work_out(
    f: &Formula,
    parts: &[(Arc<Material>, f64)],
    equal: &Equal,
) -> Result<Swapped, SwapError> {
    let parts: Vec<Substitute> = parts
        .iter()
        .map(|(material, share)| Substitute {
            material: material.clone(),
            share: *share,
        })
        .collect();
    let context = Context::new(Date::constant(2026, 1, 15));
    let supply = Supply::default();
    swap(f, f.active(), &context, &supply, ItemId(11), &parts, equal)
}

#[test]
fn active_salt_and_total_stay() {
    // 20 % of 30 % is 6 % active: 15 % of a 40 % solution. It brings 0.3 % salt in place
    // of 1 %, so the salt line goes from 2 to 2.7 %.
    let f = gel();
    let sultaine = surfactant(
        "Sultaine",
        "Lauryl Hydroxysultaine",
        40.0,
        2.0,
        Charge::Amphoteric,
    );
    let s = work_out(&f, &[(sultaine, 1.0)], &Equal::Active).unwrap();
    assert_eq!(s.parts[0].1, "15".parse().unwrap());
    assert_eq!(s.variant.total(), Percent::HUNDRED);
    assert_eq!(
        s.variant.line(ItemId(12)).unwrap().percent,
        "2.7".parse().unwrap()
    );
    let c = &s.evaluation.composition;
    assert!((c.active_total().typical.as_percent() - 6.0).abs() < 1e-9);
    assert!((c.class(Class::Electrolyte).typical.as_percent() - 3.0).abs() < 1e-6);
    let applied = crate::edit::apply(&f, f.active, &s.edit()).unwrap();
    assert_eq!(applied.formula.active().total(), Percent::HUNDRED);
}

#[test]
fn a_blend_shares_the_active() {
    let f = gel();
    let a = surfactant("A", "Sodium Laureth Sulfate", 60.0, 0.0, Charge::Anionic);
    let b = surfactant("B", "Decyl Glucoside", 50.0, 0.0, Charge::NonIonic);
    let s = work_out(&f, &[(a, 1.0), (b, 2.0)], &Equal::Active).unwrap();
    // A third of 6 % active from 60 %, two thirds from 50 %.
    // 2 % / 0.6 is 3.333…; the filler takes what rounding to the hundredth leaves.
    assert!((s.parts[0].1.as_percent() - 3.33).abs() < 1e-9);
    assert!((s.parts[1].1.as_percent() - 8.0).abs() < 1e-5);
    assert_eq!(s.variant.lines().count(), 4);
    assert_eq!(s.variant.total(), Percent::HUNDRED);
}

/// An essential oil is one ingredient, whatever is known of what is in it.
#[test]
fn an_essential_oil_counts_whole() {
    let oil = "Juniperus Communis Fruit Oil";
    let with = |name: &str, rest: f64, carrier: f64| {
        let parts = [
            (oil, rest, Class::Fragrance),
            ("Limonene", 100.0 - rest - carrier, Class::Fragrance),
            ("Caprylic/Capric Triglyceride", carrier, Class::Oil),
        ];
        let mut m = material(name, &parts).as_ref().clone();
        m.constituents[1].incidental = Some("a component of the oil".into());
        m.constituents.retain(|c| c.share.typical.value() > 0.0);
        Arc::new(m)
    };
    let whole = with("Juniper oil", 60.0, 0.0);
    let half = with("Juniper oil, diluted", 20.0, 50.0);
    let equal = Equal::Constituent(oil.into());
    assert!((content(&whole, &equal, None) - 1.0).abs() < 1e-9);
    assert!((content(&half, &equal, None) - 0.5).abs() < 1e-9);
    // Each substance of it counts once where a class stays equal.
    let active = content(&whole, &Equal::Active, Some(Class::Fragrance));
    assert!((active - 1.0).abs() < 1e-9, "{active}");
    // Of a line of 20 % the double amount of the diluted oil is needed.
    let water = material("Water", &[("Aqua", 100.0, Class::Water)]);
    let mut f = formula(vec![line(&water, "80"), line(&whole, "20")]);
    let mut v = f.active().as_ref().clone();
    v.filler = Some(ItemId(10));
    f.variants = vec![Arc::new(v)];
    let s = work_out(&f, &[(half, 1.0)], &equal).unwrap();
    assert_eq!(s.parts[0].1, "40".parse().unwrap());
}

#[test]
fn what_cannot_be_done_is_said() {
    let f = gel();
    let oil = material("Oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
    assert!(matches!(
        work_out(&f, &[(oil.clone(), 1.0)], &Equal::Active),
        Err(SwapError::NothingEqual { .. })
    ));
    assert!(work_out(&f, &[(oil, 1.0)], &Equal::Weight).is_ok());
    assert_eq!(
        work_out(&f, &[], &Equal::Active).err(),
        Some(SwapError::NoParts)
    );
    let thin = surfactant("Thin", "Coco-Betaine", 5.0, 0.0, Charge::Amphoteric);
    assert!(matches!(
        work_out(&f, &[(thin, 1.0)], &Equal::Active),
        Err(SwapError::NoRoom { .. })
    ));
}

#[test]
fn the_closest_of_the_shelf_come_first() {
    let f = gel();
    let context = Context::new(Date::constant(2026, 1, 15));
    let found = suggestions(
        &f,
        f.active(),
        &context,
        &Supply::default(),
        built_in(),
        (ItemId(11), 10),
        &Progress::default(),
    )
    .unwrap();
    assert!(!found.is_empty());
    // Those that work come first, each the closest first.
    let works = |s: &Suggestion| s.likenesses[0].1 > 0.0;
    assert!(
        found
            .windows(2)
            .all(|w| { (works(&w[0]), w[0].closeness) >= (works(&w[1]), w[1].closeness) })
    );
    // The first eight are told apart; only what is the same but for its name is as close.
    let figures: BTreeSet<String> = found
        .iter()
        .take(8)
        .map(|s| format!("{:.0} {}", 100.0 * s.closeness, s.reasons()))
        .collect();
    assert!(figures.len() >= 7, "{figures:?}");
    // Another amphoteric surfactant is closest to a betaine.
    assert_eq!(found[0].material.charge, Some(Charge::Amphoteric));
    assert!(found.iter().all(|s| (0.0..=1.0).contains(&s.closeness)));
}

/// Soap turns to fatty acid in an acid gel (common practice; windows as on the shelf).
#[test]
fn what_cannot_work_at_the_ph_stands_last_and_says_so() {
    let mut f = gel();
    let mut v = f.active().as_ref().clone();
    v.target_ph = crate::quantity::Ph::new(4.8);
    f.variants = vec![Arc::new(v)];
    let context = Context::new(Date::constant(2026, 1, 15));
    let all = suggestions(
        &f,
        f.active(),
        &context,
        &Supply::default(),
        built_in(),
        (ItemId(11), 500),
        &Progress::default(),
    )
    .unwrap();
    let place = |what: &dyn Fn(&Suggestion) -> bool| all.iter().position(what).unwrap();
    let outside = |s: &Suggestion| {
        let window = s.material.ph_window.as_ref();
        window.is_some_and(|w| w.value.low.value() > 4.85)
    };
    let first = place(&outside);
    assert!(all[first..].iter().all(|s| s.likenesses[0].1 == 0.0));
    assert!(all[first].differences[0].contains("the formula is at pH 4.8"));
}
