//! The history kept in a formula file: earlier states of its variants.
//!
//! Whoever finishes a change calls [`remember`], so that nothing is lost by an
//! edit; the history shrinks only when the maker prunes it. States share every
//! unchanged part with their neighbours, in memory and in the file.

use std::sync::Arc;

use crate::formula::{EarlierState, Formula, VariantId};

/// Adds to `after` the states of variants that a change replaced.
///
/// `at` is the time of the change (RFC 3339), `what` says what was done. Variants
/// that only came or went leave no entry; those of `before` that `after` no longer
/// has are kept too.
pub fn remember(before: &Formula, after: &mut Formula, at: &str, what: &str) {
    for old in &before.variants {
        let same = after
            .variant(old.id)
            .is_some_and(|new| Arc::ptr_eq(new, old) || new == old);
        if !same {
            after.history.push(Arc::new(EarlierState {
                at: at.into(),
                what: what.into(),
                variant: Arc::clone(old),
            }));
        }
    }
    for kept in &after.history {
        for (_, line) in kept.variant.lines() {
            if let Some(material) = before.materials.get(&line.material)
                && !after.materials.contains_key(&line.material)
            {
                after
                    .materials
                    .insert(line.material.clone(), Arc::clone(material));
            }
        }
    }
}

/// Keeps what was undone when a new change takes its place: `undone` is the last
/// state that a redo would have led to.
pub fn remember_undone(undone: &Formula, after: &mut Formula, at: &str) {
    let known = after.history.len();
    let longer = undone.history.len() > known
        && undone
            .history
            .iter()
            .zip(&after.history)
            .all(|(a, b)| a == b);
    if longer {
        let entries = undone.history.iter().skip(known).cloned();
        after.history.extend(entries);
    }
    remember(undone, after, at, "Undone");
}

/// Earlier states of a variant with their places in the history, latest first.
pub fn of_variant(
    formula: &Formula,
    variant: VariantId,
) -> impl Iterator<Item = (usize, &Arc<EarlierState>)> {
    let kept = formula.history.iter().enumerate().rev();
    kept.filter(move |(_, k)| k.variant.id == variant)
}

/// Removes all but the latest `keep` states of a variant.
pub fn prune(formula: &mut Formula, variant: VariantId, keep: usize) {
    let mut left = keep;
    let mut stays: Vec<Arc<EarlierState>> = Vec::with_capacity(formula.history.len());
    for kept in formula.history.iter().rev() {
        if kept.variant.id != variant {
            stays.push(Arc::clone(kept));
        } else if left > 0 {
            left -= 1;
            stays.push(Arc::clone(kept));
        }
    }
    stays.reverse();
    formula.history = stays;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Variant;
    use crate::random_formula;

    fn renamed(formula: &Formula, name: &str) -> Formula {
        let mut next = formula.clone();
        let mut variant = Variant::clone(&next.variants[0]);
        variant.name = name.into();
        next.variants[0] = Arc::new(variant);
        next
    }

    #[test]
    fn every_replaced_state_is_kept_and_shared() {
        let mut formula = random_formula::formula(9);
        formula.history.clear();
        let id = formula.variants[0].id;
        let first = Arc::clone(&formula.variants[0]);
        for i in 0..5 {
            let mut next = renamed(&formula, &format!("step {i}"));
            remember(&formula, &mut next, "2026-05-01T10:00:00Z", "Rename");
            formula = next;
        }
        assert_eq!(formula.history.len(), 5);
        assert!(Arc::ptr_eq(&formula.history[0].variant, &first));
        let names: Vec<_> = of_variant(&formula, id)
            .map(|(place, k)| (place, k.variant.name.to_string()))
            .collect();
        assert_eq!(names[0], (4, "step 3".to_owned()));
        prune(&mut formula, id, 2);
        assert_eq!(formula.history.len(), 2);
        assert_eq!(&*formula.history[1].variant.name, "step 3");
        let same = formula.clone();
        remember(&formula, &mut formula.clone(), "t", "nothing");
        assert_eq!(same, formula);
    }

    #[test]
    fn what_was_undone_stays_in_the_history() {
        let mut start = random_formula::formula(9);
        start.history.clear();
        let mut second = renamed(&start, "second");
        remember(&start, &mut second, "t1", "Rename");
        let mut third = renamed(&second, "third");
        remember(&second, &mut third, "t2", "Rename");
        // Undone twice, then changed.
        let mut other = renamed(&start, "other");
        remember_undone(&third, &mut other, "t3");
        let names: Vec<&str> = other.history.iter().map(|k| &*k.variant.name).collect();
        assert_eq!(names, [&*start.variants[0].name, "second", "third"]);
    }
}
