//! Opening, saving, watching and keeping documents.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::file::autosave::{self, LeftOver, Recovered, Slot, Unsaved};
use formulation::file::formula_file::ENDING;
use formulation::file::open::{FileForm, open_any};
use formulation::file::store::{self, Expect, Since, StoreError};
use formulation::file::{FileError, disk, formula_file, signature};
use formulation::finding::Level;
use formulation::formula::Formula;

use super::reminders::{Reminder, Waiting};
use super::{Document, DocumentId, Host, State};

/// Why a save did not happen.
#[derive(Debug, thiserror::Error)]
pub enum SaveError {
    /// A file is already there; the person may want it replaced.
    #[error("{0}")]
    Taken(String),
    /// Another program changed the file; the person may want it replaced.
    #[error("{0}")]
    Changed(String),
    /// Anything else.
    #[error("{0}")]
    Failed(String),
}

impl From<StoreError> for SaveError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Exists { .. } => Self::Taken(error.to_string()),
            StoreError::ChangedElsewhere { .. } => Self::Changed(error.to_string()),
            other => Self::Failed(other.to_string()),
        }
    }
}

impl From<FileError> for SaveError {
    fn from(error: FileError) -> Self {
        match error {
            FileError::Store(error) => error.into(),
            FileError::Read(error) => Self::Failed(error.to_string()),
        }
    }
}

/// A name with the ending of a formula file.
pub fn with_ending(path: PathBuf) -> PathBuf {
    let Some(name) = path.file_name().map(|n| n.to_string_lossy().into_owned()) else {
        return path;
    };
    if Path::new(&name).extension().is_some_and(|e| e == "ron") {
        return path;
    }
    let stem = name.strip_suffix(".formula").unwrap_or(&name);
    path.with_file_name(format!("{stem}{ENDING}"))
}

/// A name for a file from free words: what no file system minds.
pub fn file_stem(words: &str) -> String {
    let mut stem = String::with_capacity(words.len());
    for letter in words.trim().chars() {
        let plain = letter.is_alphanumeric() || matches!(letter, '-' | '_');
        if plain {
            stem.extend(letter.to_lowercase());
        } else if !stem.ends_with('-') {
            stem.push('-');
        }
    }
    let stem = stem.trim_matches('-');
    if stem.is_empty() {
        "formula".to_owned()
    } else {
        stem.to_owned()
    }
}

/// The formula of a document as another product than it was.
fn another_product(document: &Document, host: Host) -> Arc<Formula> {
    Arc::new(Formula {
        kept_as: Some(host.new_product(document.id, document.revision() + 1)),
        ..document.formula().as_ref().clone()
    })
}

/// The files of formulas that lie beside some files, and those lately used; without those files
/// themselves, and no more than can be read in the background.
pub fn formulas_near(known: &[&Path], recent: &[PathBuf]) -> Vec<PathBuf> {
    const MOST: usize = 500;
    let all = known
        .iter()
        .copied()
        .chain(recent.iter().map(PathBuf::as_path));
    let folders: BTreeSet<&Path> = all.filter_map(Path::parent).collect();
    let mut paths: BTreeSet<PathBuf> = recent.iter().cloned().collect();
    for folder in folders {
        let beside = disk::list(folder).unwrap_or_default();
        let is_formula = |p: &PathBuf| p.to_string_lossy().ends_with(ENDING);
        paths.extend(beside.into_iter().filter(is_formula).take(MOST));
    }
    paths.retain(|p| !known.contains(&p.as_path()));
    paths.into_iter().take(MOST).collect()
}

impl State {
    /// Opens a file, or shows it if it is open already. What had to be assumed in
    /// reading it comes back in words.
    pub fn open(&mut self, path: &Path) -> Result<Vec<String>, FileError> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        if let Some(open) = self
            .documents()
            .iter()
            .find(|d| d.path.as_deref() == Some(&path))
        {
            let id = open.id;
            self.show(id);
            self.remember(&path);
            return Ok(Vec::new());
        }
        let opened = open_any(&path, self.shelf())?;
        let formula = Arc::new(opened.formula);
        let copy_of = match opened.form {
            FileForm::Formula(stamp) => {
                let document = self.add(formula.clone(), Some(path.clone()));
                document.stamp = Some(stamp);
                self.message = None;
                self.tell_of_copies(&path, formula.product());
                None
            }
            FileForm::Table => Some("a table".to_owned()),
            FileForm::Json => Some("a JSON file".to_owned()),
            FileForm::Finished { date, .. } => Some(format!("a formula finished on {date}")),
        };
        if let Some(what) = copy_of {
            self.add(formula, None).set_unsaved();
            self.say(
                Level::Note,
                format!(
                    "A working copy of {what}; save it as a formula ({})",
                    path.display()
                ),
            );
        }
        self.remember(&path);
        let mut assumed = opened.assumed;
        assumed.extend(signature::words(&path, self.folders.keys().as_deref()));
        Ok(assumed)
    }

    /// The document of a file, which is opened first if it is not open yet; none if it cannot be.
    fn opened(&mut self, path: &Path) -> Option<DocumentId> {
        // A file that cannot be read gives way to what was recovered; a save of that asks first.
        self.open(path).ok()?;
        let path = std::path::absolute(path).ok()?;
        let open = |d: &&Document| d.path.as_deref() == Some(&path);
        self.documents().iter().find(open).map(|d| d.id)
    }

    /// Reads the file of a document again; unsaved changes can be got back by undo.
    pub fn read_again(&mut self, id: DocumentId) -> Result<(), FileError> {
        let Some(document) = self.document_mut(id) else {
            return Ok(());
        };
        let Some(path) = document.path.clone() else {
            return Ok(());
        };
        let (formula, stamp) = formula_file::open(&path)?;
        document.change("Read the file again", Arc::new(formula));
        document.set_saved(path, stamp);
        self.message = None;
        Ok(())
    }

    /// Saves a document. Saved beside the file it came from, it is another product from then
    /// on, which starts with the costs and habits of the first.
    pub fn save(&mut self, id: DocumentId, path: PathBuf, expect: Expect) -> Result<(), SaveError> {
        let path = std::path::absolute(&path).unwrap_or(path);
        let host = self.host;
        let Some(document) = self.document_mut(id) else {
            return Ok(());
        };
        document.keep();
        let came_from = document.path.as_ref();
        let beside = came_from.is_some_and(|own| *own != path && own.exists());
        let now = document.formula().clone();
        let formula = if beside {
            another_product(document, host)
        } else {
            now.clone()
        };
        let stamp = formula_file::save(&path, &formula, expect)?;
        if beside {
            document.change("Save as another product", formula.clone());
        }
        document.set_saved(path.clone(), stamp);
        document.clear_slot();
        self.say(Level::Note, format!("Saved ({})", path.display()));
        if beside && let Err(problem) = self.books.keep_alike(now.product(), formula.product()) {
            self.say(Level::Caution, problem);
        }
        self.put_off(&Waiting::OneProduct(path.clone()));
        self.remember(&path);
        Ok(())
    }

    /// Tells if a file that was opened is the same product as another file: one of them was
    /// copied outside of the program, and nobody can know whether that was meant.
    fn tell_of_copies(&mut self, path: &Path, product: &str) {
        let open = self.documents().iter().filter_map(|d| {
            let other = d.path.as_ref()?;
            (d.formula().product().as_ref() == product).then_some(other)
        });
        let is_open = |other: &Path| open.clone().any(|o| o == other);
        let closed = self.settings.recent.iter().filter(|recent| {
            !is_open(recent)
                && formula_file::open(recent).is_ok_and(|(f, _)| f.product().as_ref() == product)
        });
        let another = |other: &&PathBuf| other.as_path() != path && other.exists();
        let Some(other) = open.clone().chain(closed).find(another).cloned() else {
            return;
        };
        // The names alone are told where they tell the files apart.
        let same_folder = path.parent() == other.parent();
        let told = |path: &Path| match path.file_name() {
            Some(name) if same_folder => name.to_string_lossy().into_owned(),
            _ => path.display().to_string(),
        };
        let of = Waiting::OneProduct(path.to_path_buf());
        // Once is enough, whichever of both was opened first.
        self.put_off(&of);
        self.put_off(&Waiting::OneProduct(other.clone()));
        let words = format!(
            "{} and {} are kept as one product, with the same costs, habits and batches",
            told(path),
            told(&other)
        );
        // First, as it is about what was just opened.
        self.reminders.insert(0, Reminder { of, words });
    }

    /// Makes an open file a product of its own, which starts with the costs and habits of the
    /// one that it was.
    pub fn part_from_copy(&mut self, path: &Path) {
        let host = self.host;
        let is_of = |d: &&mut Document| d.path.as_deref() == Some(path);
        let Some(document) = self.documents_mut().iter_mut().find(is_of) else {
            return;
        };
        let now = document.formula().clone();
        let formula = another_product(document, host);
        document.change("Make it a product of its own", formula.clone());
        let words = format!(
            "{} is a product of its own once it is saved; batches made before stay with the other",
            document.file_name()
        );
        match self.books.keep_alike(now.product(), formula.product()) {
            Ok(()) => self.say(Level::Note, words),
            Err(problem) => self.say(Level::Caution, problem),
        }
    }

    /// What a save of a document in its own place expects to find there.
    pub fn expected(&self, id: DocumentId) -> Expect {
        self.document(id)
            .and_then(|d| d.stamp)
            .map_or(Expect::Nothing, Expect::Last)
    }

    /// Looks whether another program changed an open file.
    pub fn watch(&mut self) {
        let mut news = None;
        for document in self.documents_mut() {
            let (Some(path), Some(stamp)) = (&document.path, &document.stamp) else {
                continue;
            };
            match store::since(path, stamp) {
                Ok(Since::Changed) => document.changed_elsewhere = true,
                Ok(Since::Same) => document.changed_elsewhere = false,
                Ok(Since::Gone) => {
                    news = Some(format!(
                        "The file is no longer in its place; save to write it again ({})",
                        path.display()
                    ));
                    document.stamp = None;
                    document.set_unsaved();
                }
                // Not readable for the moment; a save will say so if it lasts.
                Err(_) => {}
            }
        }
        if let Some(text) = news {
            self.say(Level::Caution, text);
        }
    }

    /// Keeps unsaved changes in the recovery folder, and forgets them once saved. What could
    /// not be kept is tried again at the next call. `now` is the time in RFC 3339.
    pub fn keep_unsaved(&mut self, now: &str) {
        let Some(folder) = self.folders.recovery.clone() else {
            return;
        };
        let mut problem = None;
        let (typed, shown) = (self.half_typed.clone(), self.current().id);
        for document in self.documents_mut() {
            // What is being typed is of the document that is shown.
            let typed = typed.clone();
            let typed = if document.id == shown {
                typed
            } else {
                BTreeMap::new()
            };
            if !document.is_changed() && typed.is_empty() {
                document.clear_slot();
            } else if document.kept_revision != Some(document.revision())
                || document.kept_typed != typed
            {
                match keep_one(document, &folder, now, &typed) {
                    Ok(()) => {
                        document.kept_revision = Some(document.revision());
                        document.kept_typed = typed;
                    }
                    Err(error) => problem = Some(error),
                }
            }
        }
        let problem = problem.map(|text| {
            format!("Unsaved changes could not be kept against a crash; save them: {text}")
        });
        if problem != self.not_kept {
            // Said once while it lasts, and taken back when it is over.
            if let Some(over) = &self.not_kept {
                self.warnings.retain(|w| w != over);
            }
            if let Some(text) = &problem {
                self.warn(text.clone());
            }
            self.not_kept = problem;
        }
    }

    /// Puts everything unsaved where the next start offers it, because the program is made to
    /// end before anybody can be asked. What could not be put there comes back in words.
    pub fn keep_for_next_start(&mut self, now: &str) -> Result<(), String> {
        for document in self.documents_mut() {
            document.keep();
        }
        self.keep_unsaved(now);
        for document in self.documents_mut() {
            if let Some(slot) = &mut document.slot {
                slot.leave_for_next_start();
            }
        }
        self.not_kept.clone().map_or(Ok(()), Err)
    }

    /// What a crash left behind.
    pub fn left_over(&self) -> LeftOver {
        self.folders
            .recovery
            .as_deref()
            .map_or_else(LeftOver::default, autosave::left_over)
    }

    /// Brings back what a crash left behind: as a step of the document of the file it belongs to,
    /// which is opened if it is not open yet, so that it is saved where it came from and undo
    /// shows the file as it stands; else as an unsaved document. What is to be known of it comes
    /// back in words.
    ///
    /// # Errors
    /// If it cannot be read, or the copy that was kept cannot be taken away.
    pub fn recover(&mut self, found: &Recovered, now: &str) -> Result<Option<String>, String> {
        let name = found
            .origin
            .as_deref()
            .map_or_else(|| "recovered work".into(), Path::to_string_lossy);
        let formula = formula_file::read(&found.text, &name).map_err(|e| e.to_string())?;
        let formula = Arc::new(formula);
        let mut told = None;
        match found.origin.as_deref().and_then(|path| self.opened(path)) {
            Some(open) => {
                self.show(open);
                let document = self.current_mut();
                document.change("Bring back unsaved work", formula);
                let stamp = document.stamp.as_ref();
                if stamp.is_some_and(|now| found.is_of_another_state(now)) {
                    told = Some(saved_meanwhile(&document.file_name()));
                }
            }
            None => self.add(formula, found.origin.clone()).set_unsaved(),
        }
        // Kept anew under the running program before the old copy goes.
        self.keep_unsaved(now);
        found.discard().map_err(|e| e.to_string())?;
        Ok(told)
    }
}

/// Said where the file is another than the one from which the work brought back was begun.
fn saved_meanwhile(file: &str) -> String {
    format!(
        "{file} was saved elsewhere after the work that was brought back was begun from it. Saving now puts this work in the place of what was saved there. Undo shows the file as it stands; Save as keeps both, to be merged on the sheet Side by side"
    )
}

fn keep_one(
    document: &mut Document,
    folder: &Path,
    now: &str,
    typed: &BTreeMap<String, String>,
) -> Result<(), String> {
    let text = formula_file::write(document.formula()).map_err(|e| e.to_string())?;
    let slot = match document.slot.take() {
        Some(slot) => slot,
        None => Slot::take(folder).map_err(|e| e.to_string())?,
    };
    let unsaved = Unsaved {
        origin: document.path.as_deref(),
        at: now,
        text: &text,
        typed,
        begun_from: document.stamp,
    };
    let kept = slot.keep(unsaved).map_err(|e| e.to_string());
    document.slot = Some(slot);
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_formula_file_gets_its_ending_once() {
        for (given, wanted) in [
            ("gel", "gel.formula.ron"),
            ("gel.formula", "gel.formula.ron"),
            ("gel.formula.ron", "gel.formula.ron"),
            ("a/v1.2 gel", "a/v1.2 gel.formula.ron"),
            ("gel.ron", "gel.ron"),
        ] {
            assert_eq!(with_ending(given.into()), Path::new(wanted));
        }
    }

    #[test]
    fn a_name_becomes_a_file_name() {
        assert_eq!(
            file_stem("Oat & juniper: shower gel "),
            "oat-juniper-shower-gel"
        );
        assert_eq!(file_stem("  / "), "formula");
    }
}
