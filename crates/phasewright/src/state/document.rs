//! One open formula file.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::autosave::Slot;
use formulation::file::store::Stamp;
use formulation::formula::{Formula, ItemId, Variant, VariantId};
use formulation::history;

use super::Host;
use super::history::History;

/// Identity of an open document while the program runs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct DocumentId(pub u64);

/// An open formula with its history, its place on disk and what is chosen in it.
pub struct Document {
    /// Identity.
    pub id: DocumentId,
    /// The file; none while it has never been saved.
    pub path: Option<PathBuf>,
    /// The content of the file when it was last read or written by us.
    pub stamp: Option<Stamp>,
    /// Another program changed the file since.
    pub changed_elsewhere: bool,
    /// Lines that are chosen.
    pub chosen: BTreeSet<ItemId>,
    /// Where unsaved changes are kept against a crash.
    pub slot: Option<Slot>,
    pub(crate) host: Host,
    history: History,
    /// The formula while an interaction is going on, ahead of the history.
    draft: Option<(Arc<str>, Arc<Formula>)>,
    revision: u64,
    saved: Option<Arc<Formula>>,
    /// The revision kept in the recovery folder, if any.
    pub kept_revision: Option<u64>,
    /// What is kept there of what is typed and not entered.
    pub kept_typed: BTreeMap<String, String>,
    evaluations: RefCell<Evaluations>,
}

/// What evaluations depend on besides the formula.
#[derive(Clone, Debug)]
pub struct Surroundings {
    /// The day and the rules.
    pub context: Context,
    /// Counts up whenever they change.
    pub number: u64,
}

/// Results by variant, all of one revision and the same surroundings.
#[derive(Default)]
struct Evaluations {
    of: Option<(u64, u64)>,
    results: Vec<(VariantId, Arc<Evaluation>)>,
}

impl Document {
    /// A document as opened from a file, or new with `path` none. A new one counts
    /// as saved until it is changed.
    pub fn new(id: DocumentId, formula: Arc<Formula>, path: Option<PathBuf>, host: Host) -> Self {
        Self {
            host,
            id,
            path,
            stamp: None,
            changed_elsewhere: false,
            chosen: BTreeSet::new(),
            slot: None,
            saved: Some(formula.clone()),
            history: History::new(formula),
            draft: None,
            revision: 0,
            kept_revision: None,
            kept_typed: BTreeMap::new(),
            evaluations: RefCell::default(),
        }
    }

    /// The formula as it stands now.
    pub fn formula(&self) -> &Arc<Formula> {
        self.draft
            .as_ref()
            .map_or_else(|| self.history.present(), |(_, formula)| formula)
    }

    /// The formula before the interaction that is going on.
    pub fn settled(&self) -> &Arc<Formula> {
        self.history.present()
    }

    /// The variant that is worked on.
    pub fn variant(&self) -> &Arc<Variant> {
        self.formula().active()
    }

    /// The steps that can be undone and redone.
    pub const fn history(&self) -> &History {
        &self.history
    }

    /// Counts up with every change, undo and redo included.
    pub const fn revision(&self) -> u64 {
        self.revision
    }

    /// Whether an interaction is going on.
    pub const fn has_draft(&self) -> bool {
        self.draft.is_some()
    }

    /// Whether there is anything that the file does not hold.
    pub fn is_changed(&self) -> bool {
        !self
            .saved
            .as_ref()
            .is_some_and(|saved| Arc::ptr_eq(saved, self.formula()))
    }

    /// States that the file holds the formula as it stands now.
    pub fn set_saved(&mut self, path: PathBuf, stamp: Stamp) {
        self.keep();
        self.saved = Some(self.formula().clone());
        self.path = Some(path);
        self.stamp = Some(stamp);
        self.changed_elsewhere = false;
    }

    /// Forgets what was kept against a crash.
    pub fn clear_slot(&mut self) {
        // Dropping the slot removes it from the recovery folder.
        self.slot = None;
        self.kept_revision = None;
        self.kept_typed.clear();
    }

    /// States that no file holds the formula as it stands now.
    pub fn set_unsaved(&mut self) {
        self.saved = None;
    }

    /// Shows a state of an interaction that is going on; it becomes one step of the
    /// history with [`Self::keep`].
    pub fn set_draft(&mut self, what: impl Into<Arc<str>>, formula: Arc<Formula>) {
        self.draft = Some((what.into(), formula));
        self.revision += 1;
    }

    /// Ends an interaction: what it led to becomes one step of the history.
    pub fn keep(&mut self) {
        if let Some((what, formula)) = self.draft.take() {
            self.step(what, formula);
        }
    }

    /// Adds a step, unless it changes nothing. The states that it replaces, and those
    /// that were undone and can now no longer be redone, stay in the formula's own
    /// history, which is saved with it. Whether there was a change.
    fn step(&mut self, what: Arc<str>, formula: Arc<Formula>) -> bool {
        let before = self.history.present();
        if *formula == **before {
            return false;
        }
        let at = self.host.now();
        let mut formula = Arc::unwrap_or_clone(formula);
        // What was pruned does not come back with what was undone.
        let pruned = formula.history.len() < before.history.len();
        if let Some(undone) = self.history.last_undone().filter(|_| !pruned) {
            history::remember_undone(undone, &mut formula, &at);
        }
        history::remember(before, &mut formula, &at, &what);
        self.history.push(what, Arc::new(formula));
        true
    }

    /// Ends an interaction and takes it back.
    pub fn drop_draft(&mut self) {
        if self.draft.take().is_some() {
            self.revision += 1;
        }
    }

    /// One finished change.
    pub fn change(&mut self, what: impl Into<Arc<str>>, formula: Arc<Formula>) {
        self.keep();
        if self.step(what.into(), formula) {
            self.revision += 1;
        }
    }

    /// Takes the last step back; an interaction that is going on is the last step.
    pub fn undo(&mut self) -> bool {
        self.keep();
        let moved = self.history.undo().is_some();
        self.revision += u64::from(moved);
        moved
    }

    /// Does the step again that was taken back last.
    pub fn redo(&mut self) -> bool {
        self.keep();
        let moved = self.history.redo().is_some();
        self.revision += u64::from(moved);
        moved
    }

    /// Goes to a place in the history.
    pub fn go_to(&mut self, place: usize) -> bool {
        self.keep();
        let moved = self.history.go_to(place).is_some();
        self.revision += u64::from(moved);
        moved
    }

    /// Everything that follows from a variant; computed once for each revision.
    pub fn evaluation(&self, variant: VariantId, around: &Surroundings) -> Arc<Evaluation> {
        let mut kept = self.evaluations.borrow_mut();
        let now = Some((self.revision, around.number));
        if kept.of != now {
            kept.of = now;
            kept.results.clear();
        }
        if let Some((_, result)) = kept.results.iter().find(|(id, _)| *id == variant) {
            return result.clone();
        }
        let formula = self.formula();
        let evaluated = formula.variant(variant).unwrap_or_else(|| formula.active());
        let result = Arc::new(evaluate(formula, evaluated, &around.context));
        kept.results.push((variant, result.clone()));
        result
    }

    /// The name shown: that of the formula.
    pub fn name(&self) -> &str {
        &self.formula().name
    }

    /// The file's name, or words for none.
    pub fn file_name(&self) -> String {
        self.path.as_deref().and_then(Path::file_name).map_or_else(
            || "not saved yet".to_owned(),
            |n| n.to_string_lossy().into_owned(),
        )
    }
}

impl Drop for Document {
    /// While the program breaks down, what was kept against a crash must outlive it.
    fn drop(&mut self) {
        if std::thread::panicking() {
            std::mem::forget(self.slot.take());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn renamed(document: &Document, name: &str) -> Arc<Formula> {
        let mut formula = Formula::clone(document.settled());
        formula.name = name.into();
        Arc::new(formula)
    }

    fn document() -> Document {
        let host = Host::plain(|| jiff::Timestamp::UNIX_EPOCH);
        Document::new(DocumentId(1), Arc::new(Formula::new("start")), None, host)
    }

    #[test]
    fn a_drag_is_one_step() {
        let mut d = document();
        for i in 0..100 {
            let next = renamed(&d, &i.to_string());
            d.set_draft("drag", next);
        }
        assert_eq!(d.name(), "99");
        assert_eq!(d.settled().name.as_ref(), "start");
        d.keep();
        assert_eq!(d.history().steps().len(), 2);
        assert!(d.undo());
        assert_eq!(d.name(), "start");
        assert!(d.redo());
        assert_eq!(d.name(), "99");
    }

    #[test]
    fn undo_back_to_the_saved_state_needs_no_saving() {
        let mut d = document();
        assert!(!d.is_changed());
        let next = renamed(&d, "next");
        d.change("rename", next);
        assert!(d.is_changed());
        d.undo();
        assert!(!d.is_changed());
    }

    #[test]
    fn a_change_that_changes_nothing_is_no_step() {
        let mut d = document();
        let same = renamed(&d, "start");
        d.change("rename", same.clone());
        d.set_draft("rename", same);
        d.keep();
        assert_eq!(d.history().steps().len(), 1);
    }
}
