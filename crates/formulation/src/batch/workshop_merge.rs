//! Two windows that changed one workshop: scales, vessels, people, products and what is done
//! again and again are joined one by one, and only what both changed differently is told.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::cost_inputs::CostInputs;
use super::workshop::{Duty, DutyDone, Habit, ProductHabits, Workshop};
use crate::stock_merge::{Called, keyed, list, merged_value};

/// What came of joining two states of a workshop.
#[derive(Clone, PartialEq, Debug)]
pub struct JoinedWorkshop {
    /// The workshop with the changes of both.
    pub workshop: Workshop,
    /// What both changed differently, in words; there it is as the other one left it.
    pub clashes: Vec<String>,
}

/// Joins the changes made here since `base` with those that another window has saved; `called`
/// tells the name of a product.
pub fn join(
    base: &Workshop,
    ours: &Workshop,
    theirs: &Workshop,
    called: Called<'_>,
) -> JoinedWorkshop {
    let mut clashes = Vec::new();
    let sides = Sides { base, ours, theirs };
    let scales = sides.each(
        |w| &w.scales,
        |scale| scale.name().clone(),
        |name| clashes.push(format!("the scale {name}")),
    );
    let vessels = sides.each(
        |w| &w.vessels,
        |vessel| vessel.name().clone(),
        |name| clashes.push(format!("the vessel {name}")),
    );
    let tolerance = sides.one(|w| &w.tolerance, "the tolerance", &mut clashes);
    let unit = sides.one(|w| &w.unit, "the unit of mass", &mut clashes);
    let allowances = sides.one(|w| &w.allowances, "the losses", &mut clashes);
    let codes = sides.one(|w| &w.codes, "how batch codes are made", &mut clashes);
    let paper = sides.one(|w| &w.paper, "the paper", &mut clashes);
    let second_check = sides.one(|w| &w.second_check, "the second check", &mut clashes);
    let workshop = Workshop {
        scales,
        vessels,
        tolerance,
        unit,
        allowances,
        codes,
        costs: costs(&base.costs, &ours.costs, &theirs.costs),
        paper,
        second_check,
        people: people(&base.people, &ours.people, &theirs.people),
        products: products(&sides, called, &mut clashes),
        duties: duties(&sides, &mut clashes),
    };
    JoinedWorkshop { workshop, clashes }
}

/// The workshop as both began with it, as it is here and as it is there.
struct Sides<'a> {
    base: &'a Workshop,
    ours: &'a Workshop,
    theirs: &'a Workshop,
}

impl Sides<'_> {
    /// A single value.
    fn one<T: PartialEq + Clone>(
        &self,
        of: impl Fn(&Workshop) -> &T,
        what: &str,
        clashes: &mut Vec<String>,
    ) -> T {
        merged_value(of(self.base), of(self.ours), of(self.theirs), || {
            clashes.push(what.to_owned());
        })
    }

    /// Things with names, in the order of the other window, then what is new here.
    fn each<T: PartialEq + Clone>(
        &self,
        of: impl Fn(&Workshop) -> &Vec<T>,
        name: impl Fn(&T) -> Arc<str>,
        mut clash: impl FnMut(&str),
    ) -> Vec<T> {
        let tables = [self.base, self.ours, self.theirs]
            .map(|w| by_key(of(w), |one| (name(one), "".into())));
        let [base, ours, theirs] = &tables;
        let values = |keyed: &Keyed<T>| -> BTreeMap<Key, T> { keyed.iter().cloned().collect() };
        let joined = keyed(
            &values(base),
            &values(ours),
            &values(theirs),
            |(name, ..)| clash(name),
        );
        in_order(joined, theirs, ours)
    }
}

/// What tells a thing in a list: up to two names, and how many of these names came before it.
type Key = (Arc<str>, Arc<str>, usize);
type Keyed<T> = Vec<(Key, T)>;

/// A list by what tells its things; none is lost because another has its name.
fn by_key<T: Clone>(all: &[T], names: impl Fn(&T) -> (Arc<str>, Arc<str>)) -> Keyed<T> {
    let mut seen: BTreeMap<(Arc<str>, Arc<str>), usize> = BTreeMap::new();
    all.iter()
        .map(|one| {
            let (first, second) = names(one);
            let before = seen.entry((first.clone(), second.clone())).or_default();
            let key = (first, second, *before);
            *before += 1;
            (key, one.clone())
        })
        .collect()
}

/// What was joined, in the order of the first list, then of the second.
fn in_order<T>(mut joined: BTreeMap<Key, T>, first: &Keyed<T>, then: &Keyed<T>) -> Vec<T> {
    let keys = first.iter().chain(then).map(|(key, _)| key);
    keys.filter_map(|key| joined.remove(key)).collect()
}

/// Costs are lists of things: what was added here is added, what was taken out here is taken out.
fn costs(base: &CostInputs, ours: &CostInputs, theirs: &CostInputs) -> CostInputs {
    CostInputs {
        packaging: list(&base.packaging, &ours.packaging, &theirs.packaging),
        labour: list(&base.labour, &ours.labour, &theirs.labour),
        overhead: list(&base.overhead, &ours.overhead, &theirs.overhead),
    }
}

/// Everybody of both who was taken out by neither; whoever changed the order has it.
fn people(base: &[Arc<str>], ours: &[Arc<str>], theirs: &[Arc<str>]) -> Vec<Arc<str>> {
    let (lead, rest) = if ours == base {
        (theirs, ours)
    } else {
        (ours, theirs)
    };
    let gone = |p: &Arc<str>| base.contains(p) && !(ours.contains(p) && theirs.contains(p));
    let mut all: Vec<Arc<str>> = Vec::new();
    for person in lead.iter().chain(rest) {
        if !gone(person) && !all.contains(person) {
            all.push(person.clone());
        }
    }
    all
}

fn products(
    sides: &Sides<'_>,
    called: Called<'_>,
    clashes: &mut Vec<String>,
) -> BTreeMap<Arc<str>, ProductHabits> {
    let Sides { base, ours, theirs } = sides;
    let none = ProductHabits::default();
    let mut joined = BTreeMap::new();
    let mut all: Vec<&Arc<str>> = ours.products.keys().chain(theirs.products.keys()).collect();
    all.sort();
    all.dedup();
    for product in all {
        let [b, o, t] = [base, ours, theirs].map(|w| w.products.get(product));
        // Taken out by one and left as it was by the other.
        if (o.is_none() && t == b) || (t.is_none() && o == b) {
            continue;
        }
        let [b, o, t] = [b, o, t].map(|habits| habits.unwrap_or(&none));
        let own = match (&o.costs, &t.costs) {
            (Some(o), Some(t)) => {
                // Costs of its own begin with those of the workshop.
                let began = b.costs.as_ref().unwrap_or(&base.costs);
                Some(costs(began, o, t))
            }
            _ => merged_value(&b.costs, &o.costs, &t.costs, || {
                clashes.push(format!("the costs of {}", called(product)));
            }),
        };
        let habits = ProductHabits {
            costs: own,
            made: made(b, o, t, |by| {
                clashes.push(format!("how {by} makes {}", called(product)));
            }),
        };
        joined.insert(product.clone(), habits);
    }
    joined
}

/// How each person made a product, the last first.
fn made(
    base: &ProductHabits,
    ours: &ProductHabits,
    theirs: &ProductHabits,
    mut clash: impl FnMut(&str),
) -> Vec<Habit> {
    let tables = [base, ours, theirs]
        .map(|habits| by_key(&habits.made, |habit| (habit.by.clone(), "".into())));
    let [base, here, there] = &tables;
    let values = |keyed: &Keyed<Habit>| -> BTreeMap<Key, Habit> { keyed.iter().cloned().collect() };
    let joined = keyed(&values(base), &values(here), &values(there), |(by, ..)| {
        clash(by);
    });
    if here == base {
        in_order(joined, there, here)
    } else {
        in_order(joined, here, there)
    }
}

/// What is done again and again. That it was done is never lost: a duty that one window took out
/// while it was noted as done in the other stays, and that is told.
fn duties(sides: &Sides<'_>, clashes: &mut Vec<String>) -> Vec<Duty> {
    let tables = [sides.base, sides.ours, sides.theirs]
        .map(|w| by_key(&w.duties, |duty| (duty.thing.clone(), duty.what.clone())));
    let [base, ours, theirs] = &tables;
    let values = |keyed: &Keyed<Duty>| -> BTreeMap<Key, Duty> { keyed.iter().cloned().collect() };
    let maps = [values(base), values(ours), values(theirs)];
    let mut joined: BTreeMap<Key, Duty> = BTreeMap::new();
    for (key, duty) in theirs.iter().chain(ours) {
        if joined.contains_key(key) {
            continue;
        }
        let [b, o, t] = [&maps[0], &maps[1], &maps[2]].map(|map| map.get(key));
        let told = format!("{}: {}", duty.thing, duty.what);
        let kept = match (b, o, t) {
            (_, Some(o), Some(t)) => Duty {
                every_days: merged_value(
                    &b.map(|b| b.every_days),
                    &Some(o.every_days),
                    &Some(t.every_days),
                    || clashes.push(told),
                )
                .unwrap_or(t.every_days),
                done: done(b.map_or(&[], |b| &b.done), &o.done, &t.done),
                ..t.clone()
            },
            // New on one side.
            (None, Some(one), None) | (None, None, Some(one)) => one.clone(),
            // Taken out on one side.
            (Some(b), Some(one), None) | (Some(b), None, Some(one)) => {
                if one == b {
                    continue;
                }
                clashes.push(told);
                one.clone()
            }
            (_, None, None) => continue,
        };
        joined.insert(key.clone(), kept);
    }
    in_order(joined, theirs, ours)
}

/// Everything that was done, oldest first.
fn done(base: &[DutyDone], ours: &[DutyDone], theirs: &[DutyDone]) -> Vec<DutyDone> {
    let mut all = list(base, ours, theirs);
    all.sort_by_key(|done| done.day);
    all
}

#[cfg(test)]
mod tests {
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
}
