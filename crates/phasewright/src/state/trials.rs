//! The trials of the open formulas: read from beside their files, added to by
//! [`State::note`], and looked at again when another window adds to them.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::SystemTime;

use eframe::egui;
use formulation::due::summary;
use formulation::file::trial_store::{self, LoadedTrials};
use formulation::file::{disk, trial_file};
use formulation::finding::Level;
use formulation::trial::book::{Book, TrialEntry, TrialEvent};
use formulation::trial::brought_in::{self, BroughtIn};
use formulation::trial::learn::Lessons;
use formulation::trial::stability;

use super::{DocumentId, State};
use crate::work::Work;

/// The trials of one formula.
#[derive(Default)]
pub struct TrialBook {
    /// The formula file they were looked for beside.
    formula: Option<PathBuf>,
    /// Their own file; where the formula has none yet, none.
    path: Option<PathBuf>,
    loaded: LoadedTrials,
    seen: Option<(u64, SystemTime)>,
    /// Why they could not be read.
    problem: Option<String>,
    /// Photos that are not where they were.
    gone: BTreeSet<String>,
    revision: u64,
}

impl TrialBook {
    /// What was noted.
    pub const fn book(&self) -> &Book {
        &self.loaded.book
    }
    /// The file; none as long as the formula was never saved.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }
    /// Raised at every change.
    pub const fn revision(&self) -> u64 {
        self.revision
    }
    /// What is wrong with the file, in words; nothing can be noted then.
    pub fn faults(&self) -> impl Iterator<Item = &str> {
        self.problem
            .iter()
            .chain(&self.loaded.faults)
            .map(String::as_str)
    }
    /// Something to know about the file.
    pub fn remarks(&self) -> &[String] {
        &self.loaded.remarks
    }
    /// Entries that cannot be told for certain, as they stand.
    pub fn lost(&self) -> &[String] {
        &self.loaded.lost
    }
    /// Where the photo of a reading is, for the program of the system that shows it.
    pub fn photo_link(&self, photo: &str) -> Option<String> {
        if photo.contains("://") {
            return Some(photo.to_owned());
        }
        let path = trial_file::photo_path(self.path.as_deref()?, photo);
        Some(format!("file://{}", path.display()))
    }
    /// Whether a photo is not where it was.
    pub fn is_gone(&self, photo: &str) -> bool {
        self.gone.contains(photo)
    }

    fn read(&mut self) {
        self.revision += 1;
        self.problem = None;
        self.seen = self.path.as_deref().and_then(seen);
        match self.path.as_deref().filter(|p| disk::is_there(p)) {
            None => self.loaded = LoadedTrials::default(),
            Some(path) => match trial_store::read(path) {
                Ok(loaded) => self.loaded = loaded,
                Err(error) => {
                    self.loaded = LoadedTrials::default();
                    self.problem = Some(error.to_string());
                }
            },
        }
        self.look_for_photos();
    }

    fn look_for_photos(&mut self) {
        let path = self.path.clone();
        let photos = self.loaded.book.readings.iter();
        self.gone = photos
            .filter_map(|k| k.reading.photo.as_deref())
            .filter(|photo| {
                path.as_deref()
                    .is_none_or(|p| !disk::is_there(&trial_file::photo_path(p, photo)))
            })
            .map(str::to_owned)
            .collect();
    }
}

fn seen(path: &Path) -> Option<(u64, SystemTime)> {
    let about = disk::look(path).ok()?;
    Some((about.length(), about.modified()?))
}

/// The trials of all open documents.
#[derive(Default)]
pub struct TrialBooks {
    of: Vec<(DocumentId, TrialBook)>,
    none: TrialBook,
    nothing: Lessons,
    brought_in: Narrowing,
}

impl TrialBooks {
    /// Their files.
    pub fn paths(&self) -> impl Iterator<Item = PathBuf> {
        self.of.iter().filter_map(|(_, book)| book.path.clone())
    }
}

/// What is learnt beside the window: what the materials bring in, from all trials in the folder
/// of a formula, and the responses of its own.
#[derive(Default)]
struct Narrowing {
    /// The document and the state of its trials that it was learnt from.
    of: Option<Taught>,
    brought_in: Work<Taught, Arc<BroughtIn>>,
    learning: Work<Taught, Lessons>,
    nothing: Arc<BroughtIn>,
    no_lessons: Lessons,
}

/// A document and the state of its trials.
type Taught = (DocumentId, u64);

impl Narrowing {
    /// Learns from the trials of a document, unless that was done.
    fn follow(&mut self, ctx: &egui::Context, of: Taught, book: &TrialBook) {
        self.of = Some(of);
        self.brought_in.ask(ctx, of, || {
            let (own, path) = (book.book().clone(), book.path.clone());
            move |_| {
                let others = path.as_deref().map(others_beside).unwrap_or_default();
                let all: Vec<&Book> = std::iter::once(&own).chain(&others).collect();
                Arc::new(brought_in::learn(&all))
            }
        });
        self.learning.ask(ctx, of, || {
            let own = book.book().clone();
            move |_| Lessons::of(&own).learnt_at_once()
        });
    }

    fn found(&self) -> &Arc<BroughtIn> {
        self.brought_in.answer().unwrap_or(&self.nothing)
    }

    fn lessons(&self) -> &Lessons {
        self.learning.answer().unwrap_or(&self.no_lessons)
    }
}

/// The trials of other formulas in the same folder, as far as they can be read.
fn others_beside(own: &Path) -> Vec<Book> {
    let Some(Ok(paths)) = own.parent().map(disk::list) else {
        return Vec::new();
    };
    paths
        .iter()
        .filter(|p| *p != own && p.to_string_lossy().ends_with(trial_file::ENDING))
        .filter_map(|p| Some(trial_store::read(p).ok()?.book))
        .collect()
}

impl State {
    /// The trials of a document.
    pub fn trials(&self, document: DocumentId) -> &TrialBook {
        let books = &self.trials;
        let found = books.of.iter().find(|(id, _)| *id == document);
        found.map_or(&books.none, |(_, book)| book)
    }

    /// Reads the trials of the document that is shown, if it is new or has got another file.
    pub fn follow_trials(&mut self) {
        let document = self.current();
        let (id, path, name) = (
            document.id,
            document.path.clone(),
            document.name().to_owned(),
        );
        let open: Vec<DocumentId> = self.documents().iter().map(|d| d.id).collect();
        self.trials.of.retain(|(id, _)| open.contains(id));
        let known = self.trials.of.iter().position(|(of, _)| *of == id);
        if known.is_some_and(|i| self.trials.of[i].1.formula == path) {
            return;
        }
        let Some(path) = path else {
            if known.is_none() {
                self.trials.of.push((id, TrialBook::default()));
            }
            return;
        };
        let place = known.unwrap_or_else(|| {
            self.trials.of.push((id, TrialBook::default()));
            self.trials.of.len() - 1
        });
        let Some((_, book)) = self.trials.of.get_mut(place) else {
            return;
        };
        // The trials of an example go with it when it is saved.
        let carried = if book.path.is_none() {
            std::mem::take(&mut book.loaded.entries)
        } else {
            Vec::new()
        };
        book.formula = Some(path.clone());
        let found = trial_store::find(&path, &name);
        let is_new = found.is_none();
        book.path = Some(found.unwrap_or_else(|| trial_file::path_of(&path)));
        book.read();
        if is_new && !carried.is_empty() {
            let written = trial_store::append_all(&trial_file::path_of(&path), &carried);
            book.read();
            if let Err(error) = written {
                self.say(
                    Level::Caution,
                    format!("The trials could not be saved with the formula: {error}"),
                );
                return;
            }
        }
        let to_read = stability::to_read(&name, self.trials(id).book(), self.today());
        if let Some(words) = summary(&to_read, self.today()) {
            self.say(Level::Note, format!("Stability: {words}; see Trials"));
        }
    }

    /// What the materials of the document that is shown bring in, as far as trials tell.
    pub fn brought_in(&self) -> &Arc<BroughtIn> {
        self.trials.brought_in.found()
    }

    /// Responses that the trials of the document that is shown have taught.
    pub fn lessons(&self) -> &Lessons {
        self.trials.brought_in.lessons()
    }

    /// The trials of a document with what they have taught, if it has any; of documents that
    /// are not shown, what was read but nothing learnt.
    pub fn taught(&self, document: DocumentId) -> Option<(&Book, &Lessons)> {
        let book = self.trials(document).book();
        let learning = &self.trials.brought_in;
        let lessons = match learning.of {
            Some((of, _)) if of == document => learning.lessons(),
            _ => &self.trials.nothing,
        };
        (!book.readings.is_empty()).then_some((book, lessons))
    }

    /// Whether something is still being learnt from the trials.
    pub const fn is_learning(&self) -> bool {
        let learning = &self.trials.brought_in;
        learning.brought_in.is_going() || learning.learning.is_going()
    }

    /// Has it learnt anew where trials have changed, and takes over what was learnt; the
    /// window is drawn again when something was.
    pub fn follow_brought_in(&mut self, ctx: &egui::Context) {
        let id = self.current().id;
        let books = &mut self.trials;
        let Some((_, book)) = books.of.iter().find(|(of, _)| *of == id) else {
            return;
        };
        books.brought_in.follow(ctx, (id, book.revision), book);
    }

    /// Puts the trials of an example beside the document that is shown.
    pub fn set_example_trials(&mut self, loaded: LoadedTrials) {
        let id = self.current().id;
        self.trials.of.retain(|(of, _)| *of != id);
        let book = TrialBook {
            loaded,
            revision: 1,
            ..TrialBook::default()
        };
        self.trials.of.push((id, book));
    }

    /// Reads trials again that another window has added to.
    pub fn watch_trials(&mut self) {
        for (_, book) in &mut self.trials.of {
            if let Some(path) = &book.path
                && seen(path) != book.seen
            {
                book.read();
            }
        }
    }

    /// Notes events in the trials of the document that is shown. Those that were noted are
    /// on the disk; the first that could not be is told.
    pub fn note(&mut self, events: Vec<TrialEvent>, by: &str) -> Result<(), String> {
        let id = self.current().id;
        let at = self.host.now();
        let Some((_, book)) = self.trials.of.iter_mut().find(|(of, _)| *of == id) else {
            return Err("The trials are not open yet; try again".to_owned());
        };
        let Some(path) = book.path.clone() else {
            return Err("Trials lie beside the formula file: save the formula first".to_owned());
        };
        let entries: Vec<TrialEntry> = events
            .into_iter()
            .map(|event| TrialEntry {
                at: at.clone(),
                by: by.to_owned(),
                event,
            })
            .collect();
        let noted = trial_store::append_all(&path, &entries);
        book.revision += 1;
        match noted {
            Ok(loaded) => {
                book.loaded = loaded;
                book.seen = seen(&path);
                book.look_for_photos();
                Ok(())
            }
            Err(error) => {
                book.read();
                Err(format!("It was not noted: {error}"))
            }
        }
    }
}
