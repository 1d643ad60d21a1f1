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
                    || clashes.push(told.clone()),
                )
                .unwrap_or(t.every_days),
                ended: merged_value(&b.and_then(|b| b.ended), &o.ended, &t.ended, || {
                    clashes.push(told.clone());
                }),
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
#[path = "workshop_merge_tests.rs"]
mod tests;
