//! Undo: whole-document snapshots that share every unchanged part.
//!
//! A step is taken when an interaction has ended, so a slider drag is one step.
//! Selection, scroll position and window size are not part of it.

use std::sync::Arc;

use formulation::formula::{Formula, Variant};

/// Memory that snapshots may take before the oldest are dropped, in bytes.
const BUDGET: usize = 64 * 1024 * 1024;
/// Steps that are kept whatever they take.
const KEPT_ALWAYS: usize = 1_000;

/// A state of the document and what led to it.
struct Step {
    what: Arc<str>,
    formula: Arc<Formula>,
    /// Memory not shared with the step before, in bytes, estimated.
    size: usize,
}

/// The states of one document, with a place among them.
pub struct History {
    steps: Vec<Step>,
    place: usize,
    size: usize,
}

impl History {
    /// A history that starts with a document as opened.
    pub fn new(formula: Arc<Formula>) -> Self {
        Self {
            steps: vec![Step {
                what: "".into(),
                formula,
                size: 0,
            }],
            place: 0,
            size: 0,
        }
    }

    /// The document at the present place.
    pub fn present(&self) -> &Arc<Formula> {
        &self.steps[self.place].formula
    }

    /// Adds a step after the present place; steps that were undone are dropped.
    pub fn push(&mut self, what: impl Into<Arc<str>>, formula: Arc<Formula>) {
        for undone in self.steps.drain(self.place + 1..) {
            self.size -= undone.size;
        }
        let size = own_size(self.present(), &formula);
        self.size += size;
        self.steps.push(Step {
            what: what.into(),
            formula,
            size,
        });
        self.place += 1;
        let mut surplus = 0;
        while self.size > BUDGET && self.steps.len() - surplus > KEPT_ALWAYS {
            self.size -= self.steps[surplus + 1].size;
            surplus += 1;
        }
        if surplus > 0 {
            self.steps.drain(..surplus);
            self.place -= surplus;
        }
    }

    /// Goes one step back; `None` at the start.
    pub fn undo(&mut self) -> Option<&Arc<Formula>> {
        self.place = self.place.checked_sub(1)?;
        Some(self.present())
    }

    /// Goes one step forward; `None` at the end.
    pub fn redo(&mut self) -> Option<&Arc<Formula>> {
        (self.place + 1 < self.steps.len()).then(|| {
            self.place += 1;
            &self.steps[self.place].formula
        })
    }

    /// Goes to a place, counted from the oldest step kept; `None` beyond the end.
    pub fn go_to(&mut self, place: usize) -> Option<&Arc<Formula>> {
        (place < self.steps.len()).then(|| {
            self.place = place;
            self.present()
        })
    }

    /// The present place, counted from the oldest step kept.
    pub const fn place(&self) -> usize {
        self.place
    }

    /// What each step did, oldest first; the first entry is the document as opened.
    pub fn steps(&self) -> impl ExactSizeIterator<Item = &Arc<str>> {
        self.steps.iter().map(|s| &s.what)
    }

    /// The state that the last redo would lead to.
    pub fn last_undone(&self) -> Option<&Arc<Formula>> {
        let after = self.steps.get(self.place + 1..)?;
        after.last().map(|step| &step.formula)
    }

    /// What an undo would take back.
    pub fn undoes(&self) -> Option<&Arc<str>> {
        (self.place > 0).then(|| &self.steps[self.place].what)
    }

    /// What a redo would do again.
    pub fn redoes(&self) -> Option<&Arc<str>> {
        self.steps.get(self.place + 1).map(|s| &s.what)
    }
}

/// Memory of `next` that `previous` does not share, in bytes, roughly.
fn own_size(previous: &Formula, next: &Formula) -> usize {
    let phases = |variant: &Variant| -> usize {
        let old = previous.variant(variant.id);
        variant
            .phases
            .iter()
            .filter(|p| !old.is_some_and(|v| v.phases.iter().any(|o| Arc::ptr_eq(o, p))))
            .map(|p| size_of_val(&**p) + size_of_val(&*p.lines) + size_of_val(&*p.steps))
            .sum()
    };
    let variants: usize = next
        .variants
        .iter()
        .filter(|v| !previous.variants.iter().any(|o| Arc::ptr_eq(o, v)))
        .map(|v| size_of_val(&**v) + size_of_val(&*v.phases) + phases(v))
        .sum();
    size_of::<Formula>()
        + size_of_val(&*next.variants)
        + size_of_val(&*next.history)
        + next.materials.len() * 4 * size_of::<usize>()
        + variants
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(name: &str) -> Arc<Formula> {
        Arc::new(Formula::new(name))
    }

    #[test]
    fn undo_and_redo_walk_the_same_states() {
        let states: Vec<_> = (0..50).map(|i| named(&i.to_string())).collect();
        let mut history = History::new(states[0].clone());
        for state in &states[1..] {
            history.push(state.name.clone(), state.clone());
        }
        for state in states.iter().rev().skip(1) {
            assert!(Arc::ptr_eq(history.undo().unwrap(), state));
        }
        assert!(history.undo().is_none());
        assert_eq!(history.place(), 0);
        for state in &states[1..] {
            assert!(Arc::ptr_eq(history.redo().unwrap(), state));
        }
        assert!(history.redo().is_none());
    }

    #[test]
    fn a_new_step_drops_what_was_undone() {
        let mut history = History::new(named("a"));
        history.push("b", named("b"));
        history.push("c", named("c"));
        history.undo();
        assert_eq!(history.redoes().map(AsRef::as_ref), Some("c"));
        history.push("d", named("d"));
        assert_eq!(history.redoes(), None);
        assert_eq!(history.undoes().map(AsRef::as_ref), Some("d"));
        assert_eq!(history.steps().len(), 3);
    }

    #[test]
    fn a_thousand_steps_are_kept_and_memory_is_bounded() {
        let mut history = History::new(named("start"));
        let mut last = named("start");
        for i in 0..300_000 {
            let mut next = Formula::clone(&last);
            next.name = i.to_string().into();
            last = Arc::new(next);
            history.push("rename", last.clone());
        }
        assert!(history.steps().len() > KEPT_ALWAYS);
        assert!(history.size <= BUDGET);
        assert_eq!(history.present().name.as_ref(), "299999");
        let summed: usize = history.steps.iter().skip(1).map(|s| s.size).sum();
        assert_eq!(summed, history.size);
    }
}
