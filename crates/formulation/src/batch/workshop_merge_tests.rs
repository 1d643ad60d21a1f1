//! Two windows of one workshop joined: what either changed, and where they clash.

use proptest::prelude::*;

use super::*;
use crate::batch::cost_inputs::Packaging;
use crate::batch::weighing_scale::WeighingScale;
use crate::mass::{ExactMass, MassUnit};

const GRAM: i128 = 1_000_000_000_000_000;

fn duty(n: usize) -> Duty {
    Duty {
        thing: format!("thing {n}").into(),
        what: "check".into(),
        every_days: 7,
        done: Vec::new(),
        ended: None,
    }
}

fn noted(day: i8, by: &str) -> DutyDone {
    DutyDone {
        day: jiff::civil::date(2026, 6, day),
        by: by.into(),
        found: "".into(),
    }
}

#[test]
fn done_here_and_begun_there_are_both_kept() {
    let base = Workshop {
        duties: vec![duty(0)],
        ..Workshop::default()
    };
    let (mut ours, mut theirs) = (base.clone(), base.clone());
    ours.duties[0].done.push(noted(2, "Wren"));
    let gel = theirs.products.entry("gel".into()).or_default();
    gel.remember(Habit {
        by: "Ash".into(),
        vessel: "pot".into(),
        ..Habit::default()
    });
    theirs.remember_person("Ash");
    let joined = join(&base, &ours, &theirs, &str::to_owned);
    assert_eq!(joined.clashes, Vec::<String>::new());
    assert_eq!(joined.workshop.duties, ours.duties);
    assert_eq!(joined.workshop.products, theirs.products);
    assert_eq!(joined.workshop.people, theirs.people);
    assert_eq!(
        join(&base, &theirs, &ours, &str::to_owned).workshop,
        joined.workshop
    );
}

#[test]
fn a_duty_taken_out_here_and_done_there_stays_and_is_told() {
    let base = Workshop {
        duties: vec![duty(0), duty(1)],
        ..Workshop::default()
    };
    let (mut ours, mut theirs) = (base.clone(), base.clone());
    ours.duties.clear();
    theirs.duties[1].done.push(noted(3, "Ash"));
    let joined = join(&base, &ours, &theirs, &str::to_owned);
    assert_eq!(joined.clashes, ["thing 1: check"]);
    assert_eq!(joined.workshop.duties, [theirs.duties[1].clone()]);
}

#[test]
fn a_duty_given_up_here_and_done_there_keeps_both() {
    let base = Workshop {
        duties: vec![duty(0)],
        ..Workshop::default()
    };
    let (mut ours, mut theirs) = (base.clone(), base.clone());
    ours.duties[0].ended = Some(jiff::civil::date(2026, 6, 4));
    theirs.duties[0].done.push(noted(3, "Ash"));
    let joined = join(&base, &ours, &theirs, &str::to_owned);
    assert_eq!(joined.clashes, Vec::<String>::new());
    let kept = &joined.workshop.duties[0];
    assert_eq!(kept.ended, ours.duties[0].ended);
    assert_eq!(kept.done, theirs.duties[0].done);
}

#[test]
fn what_both_changed_of_a_product_is_told_by_its_name() {
    let with = |grams: i128, packed: &[&str]| {
        let mut workshop = Workshop::default();
        let gel = workshop.products.entry("product 1".into()).or_default();
        gel.remember(Habit {
            by: "Ash".into(),
            mass: Some(ExactMass::from_femtograms(GRAM * grams)),
            ..Habit::default()
        });
        let packed = packed.iter().map(|name| Packaging {
            name: (*name).into(),
            per_container: None,
        });
        let costs = CostInputs {
            packaging: packed.collect(),
            ..CostInputs::default()
        };
        gel.costs = (!costs.packaging.is_empty()).then_some(costs);
        workshop
    };
    let (base, ours, theirs) = (with(1, &["box"]), with(2, &["box", "jar"]), with(3, &[]));
    let joined = join(&base, &ours, &theirs, &|_| "Juniper wash".to_owned());
    assert_eq!(
        joined.clashes,
        ["the costs of Juniper wash", "how Ash makes Juniper wash"]
    );
}

#[test]
fn two_things_of_one_name_stay_two() {
    let scale = |grams: i128| {
        let step = ExactMass::from_femtograms(GRAM * grams);
        WeighingScale::new("bench", step, None).unwrap()
    };
    let base = Workshop {
        scales: vec![scale(1), scale(2), scale(5)],
        ..Workshop::default()
    };
    let mut ours = base.clone();
    ours.unit = MassUnit::Kilogram;
    let joined = join(&base, &ours, &base, &str::to_owned);
    assert_eq!(joined.workshop.scales, base.scales);
    assert_eq!(joined.clashes, Vec::<String>::new());
}

/// Whoever changed the order of the people has it; who was taken out by one is out.
#[test]
fn people_are_in_the_order_of_whoever_changed_it() {
    let named = |text: &str| -> Vec<Arc<str>> { text.split(' ').map(Into::into).collect() };
    let base = named("Ash Wren Rowan");
    for (ours, theirs, joined) in [
        ("Ash Wren Rowan", "Rowan Ash Wren", "Rowan Ash Wren"),
        ("Rowan Ash Wren", "Ash Wren Rowan", "Rowan Ash Wren"),
        (
            "Wren Ash Rowan",
            "Fern Ash Wren Rowan",
            "Wren Ash Rowan Fern",
        ),
        ("Ash Wren", "Ash Wren Rowan", "Ash Wren"),
        ("Ash Wren Rowan", "Wren Rowan", "Wren Rowan"),
        ("Ash Wren", "Wren Rowan", "Wren"),
    ] {
        let (ours, theirs) = (named(ours), named(theirs));
        assert_eq!(people(&base, &ours, &theirs), named(joined), "{joined}");
    }
}

/// A product that one window took out is out, unless the other one made it since.
#[test]
fn a_product_taken_out_comes_back_where_it_was_made_since() {
    let habit = |by: &str| Habit {
        by: by.into(),
        ..Habit::default()
    };
    let mut base = Workshop::default();
    base.products
        .entry("gel".into())
        .or_default()
        .remember(habit("Ash"));
    let mut without = base.clone();
    without.products.clear();
    let mut made = base.clone();
    made.products
        .entry("gel".into())
        .or_default()
        .remember(habit("Wren"));
    let left = |ours: &Workshop, theirs: &Workshop| {
        let joined = join(&base, ours, theirs, &str::to_owned).workshop;
        let gel = joined.products.get("gel").cloned();
        gel.map(|g| g.made.iter().map(|h| h.by.to_string()).collect::<Vec<_>>())
    };
    assert_eq!(left(&without, &base), None);
    assert_eq!(left(&base, &without), None);
    for (ours, theirs) in [(&without, &made), (&made, &without)] {
        assert_eq!(left(ours, theirs), Some(vec!["Wren".to_owned()]));
    }
    // The last who made it stands first.
    let last_first = Some(vec!["Wren".to_owned(), "Ash".to_owned()]);
    assert_eq!(left(&base, &made), last_first);
    assert_eq!(left(&made, &base), last_first);
}

/// One thing a window does.
type Act = (u8, usize, u8);

fn act(workshop: &mut Workshop, (kind, which, value): Act) {
    let name = format!("thing {which}");
    let number = u32::from(value);
    let mass = |n: u8| ExactMass::from_femtograms(GRAM * (i128::from(n) + 1));
    let product: Arc<str> = format!("product {}", which % 2).into();
    match kind {
        0 => {
            let place = workshop.duties.iter().position(|d| *d.thing == *name);
            let day = i8::try_from(value % 27).unwrap() + 1;
            if let Some(place) = place {
                workshop.duties[place].done.push(noted(day, &name));
            } else {
                workshop.duties.push(duty(which));
            }
        }
        1 => workshop.duties.retain(|d| *d.thing != *name),
        2 => {
            let found = workshop.duties.iter_mut().find(|d| *d.thing == *name);
            if let Some(duty) = found {
                duty.every_days = number;
            }
        }
        3 => {
            workshop.scales.retain(|s| **s.name() != *name);
            workshop
                .scales
                .push(WeighingScale::new(name, mass(value), None).unwrap());
        }
        4 => workshop.scales.retain(|s| **s.name() != *name),
        5 => workshop.remember_person(&name),
        6 => workshop
            .products
            .entry(product)
            .or_default()
            .remember(Habit {
                by: name.into(),
                mass: Some(mass(value)),
                ..Habit::default()
            }),
        7 => {
            let began = workshop.costs.clone();
            let habits = workshop.products.entry(product).or_default();
            habits.costs.get_or_insert(began).packaging.push(Packaging {
                name: format!("{name} {value}").into(),
                per_container: None,
            });
        }
        8 => {
            workshop.unit = if value % 2 == 0 {
                MassUnit::Kilogram
            } else {
                MassUnit::Ounce
            };
        }
        _ => workshop.costs.packaging.push(Packaging {
            name: name.into(),
            per_container: None,
        }),
    }
}

/// What a workshop says, each thing by itself; how often for what may stand there twice.
fn facts(workshop: &Workshop) -> BTreeMap<String, String> {
    let mut facts = BTreeMap::new();
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for duty in &workshop.duties {
        facts.insert(
            format!("{}: check", duty.thing),
            duty.every_days.to_string(),
        );
        for done in &duty.done {
            let key = format!("{}: check done {} {}", duty.thing, done.day, done.by);
            *counts.entry(key).or_default() += 1;
        }
    }
    for scale in &workshop.scales {
        let step = scale.resolution().to_string();
        facts.insert(format!("the scale {}", scale.name()), step);
    }
    for person in &workshop.people {
        facts.insert(format!("person {person}"), String::new());
    }
    for (product, habits) in &workshop.products {
        for habit in &habits.made {
            let key = format!("how {} makes {product}", habit.by);
            facts.insert(key, format!("{habit:?}"));
        }
        for packed in habits.costs.iter().flat_map(|c| &c.packaging) {
            *counts
                .entry(format!("{product} {}", packed.name))
                .or_default() += 1;
        }
    }
    for packed in &workshop.costs.packaging {
        *counts.entry(format!("costs {}", packed.name)).or_default() += 1;
    }
    facts.insert("the unit of mass".into(), format!("{:?}", workshop.unit));
    facts.extend(counts.into_iter().map(|(key, n)| (key, format!("#{n}"))));
    facts
}

fn count(value: Option<&String>) -> Option<i64> {
    value.map_or(Some(0), |v| v.strip_prefix('#')?.parse().ok())
}

fn acts() -> impl Strategy<Value = Vec<Act>> {
    proptest::collection::vec((0_u8..10, 0_usize..3, 0_u8..6), 0..8)
}

proptest! {
    /// What one side alone changed is as that side left it, and what both added is there
    /// twice; only what both changed differently may be otherwise, and is told.
    #[test]
    fn nothing_of_either_side_is_lost(before in acts(), here in acts(), there in acts()) {
        let made = |base: &Workshop, acts: &[Act]| {
            let mut workshop = base.clone();
            for one in acts {
                act(&mut workshop, *one);
            }
            workshop
        };
        let base = made(&Workshop::default(), &before);
        let (ours, theirs) = (made(&base, &here), made(&base, &there));
        let JoinedWorkshop { workshop, clashes } = join(&base, &ours, &theirs, &str::to_owned);
        let [b, o, t, r] = [&base, &ours, &theirs, &workshop].map(facts);
        let keys: std::collections::BTreeSet<&String> =
            [&b, &o, &t, &r].into_iter().flat_map(BTreeMap::keys).collect();
        for key in keys {
            let [was, here, there, is] = [&b, &o, &t, &r].map(|f| f.get(key));
            let told = clashes.iter().any(|c| key.starts_with(c));
            let counted = [was, here, there, is].map(count);
            if told {
                // Of what was told, everything that was done is there all the same.
                prop_assert!(!key.contains(" done ") || was.is_some() || is.is_some());
            } else if let [Some(was), Some(here), Some(there), Some(is)] = counted {
                // What the products' own costs begin with counts as there before.
                let began = b.contains_key(key) || !key.starts_with("product");
                if began {
                    let left = (there - (was - here).max(0)).max(0);
                    prop_assert_eq!(is, left + (here - was).max(0), "{}", key);
                } else {
                    prop_assert!(is >= here.max(there), "{}", key);
                }
            } else if here == was {
                prop_assert_eq!(is, there, "{}", key);
            } else if there == was || here == there {
                prop_assert_eq!(is, here, "{}", key);
            } else {
                prop_assert_eq!(here, there, "{} was lost without a word", key);
            }
        }
    }
}
