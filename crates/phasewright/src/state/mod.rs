//! What the window holds: open documents, the shelf, settings.
//!
//! Sheets read the state and push commands; only [`crate::app::Bench`] changes it.

pub mod books;
pub mod disk;
pub mod document;
pub mod history;
pub mod makers_shelf;
pub mod motion;
pub mod own_rules;
pub mod reminders;
pub mod settings;
pub mod trials;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, LazyLock};

use eframe::egui;
use formulation::edit::{Edit, EditError, tried};
use formulation::evaluation::{Context, Evaluation};
use formulation::file::shelf_file::ShelfFolder;
use formulation::finding::Level;
use formulation::formula::{Date, Formula, Variant, VariantId};
use formulation::material::MaterialId;
use formulation::search::{MaterialIndex, UseCounts};
use formulation::shelf::Shelf;
use jiff::tz::TimeZone;

pub use books::Books;
pub use document::{Document, DocumentId, Surroundings};
pub use makers_shelf::MakersShelf;
pub use settings::{Folders, Motion, PercentStep, Settings, ThemeChoice};
pub use trials::TrialBook;

/// Something to tell, shown in the status bar until the next one.
#[derive(Clone, PartialEq, Debug)]
pub struct Message {
    /// How grave.
    pub level: Level,
    /// In plain words.
    pub text: String,
}

/// What surrounds the window: the system with its dialogs and its clock.
#[derive(Clone, Copy, Debug)]
pub struct Host {
    /// Whether the system's own file dialogs may be used; paths are typed otherwise.
    pub native_dialogs: bool,
    /// The time now.
    pub clock: fn() -> jiff::Timestamp,
    /// The time zone in which days and times are shown.
    pub zone: fn() -> TimeZone,
}

impl Host {
    /// The system the program runs on.
    pub fn real() -> Self {
        Self {
            native_dialogs: true,
            clock: jiff::Timestamp::now,
            zone: TimeZone::system,
        }
    }

    /// A product of its own that no other window has given, from a document at a revision.
    pub fn new_product(&self, id: DocumentId, revision: u64) -> Arc<str> {
        let now = (self.clock)().as_nanosecond();
        format!("product {now:x}-{}-{revision}", id.0).into()
    }

    /// A formula that no file holds yet, told from all others of the same name.
    fn as_product(&self, formula: Arc<Formula>, id: DocumentId) -> Arc<Formula> {
        if formula.kept_as.is_some() {
            return formula;
        }
        let kept_as = Some(self.new_product(id, 0));
        Arc::new(Formula {
            kept_as,
            ..formula.as_ref().clone()
        })
    }

    /// A system without dialogs in the time zone of Greenwich, so that everything looks
    /// alike on every machine.
    pub const fn plain(clock: fn() -> jiff::Timestamp) -> Self {
        Self {
            native_dialogs: false,
            clock,
            zone: || TimeZone::UTC,
        }
    }

    /// The time now, RFC 3339.
    pub fn now(&self) -> String {
        (self.clock)().to_string()
    }

    /// Day and minute of a time in RFC 3339, as files keep it; other text is shown as it is.
    pub fn short_time(&self, at: &str) -> String {
        at.parse::<jiff::Timestamp>().map_or_else(
            |_| at.to_owned(),
            |time| {
                let here = time.to_zoned_datetime((self.zone)());
                here.strftime("%Y-%m-%d %H:%M").to_string()
            },
        )
    }

    /// Seconds until the next day begins, for what depends on the day.
    pub fn until_tomorrow(&self) -> f64 {
        const HOUR: f64 = 3600.0;
        let now = (self.clock)().to_zoned_datetime((self.zone)());
        let tomorrow = now.tomorrow().and_then(|day| day.start_of_day());
        tomorrow.map_or(HOUR, |day| {
            day.duration_since(&now)
                .as_secs_f64()
                .clamp(1.0, 25.0 * HOUR)
        })
    }

    /// The day in the time zone of the system.
    pub fn today(&self) -> Date {
        (self.clock)().to_zoned_datetime((self.zone)()).date()
    }
}

/// The shelf made ready to be searched, by a thread of its own; who asks before it has ended
/// waits for it.
pub type ShelfIndex = LazyLock<MaterialIndex, Box<dyn FnOnce() -> MaterialIndex + Send>>;

fn lay_out(shelf: Arc<Shelf>) -> Arc<ShelfIndex> {
    let index: Arc<ShelfIndex> = Arc::new(LazyLock::new(Box::new(move || {
        MaterialIndex::for_people(shelf.iter())
    })));
    let ahead = Arc::clone(&index);
    std::thread::spawn(move || {
        LazyLock::force(&ahead);
    });
    index
}

/// What the window holds.
pub struct State {
    /// The system with its dialogs and its clock.
    pub host: Host,
    documents: Vec<Document>,
    current: DocumentId,
    next_document: u64,
    /// The materials that come with the program.
    built_in: Arc<Shelf>,
    makers_shelf: MakersShelf,
    shelf: Arc<Shelf>,
    index: Arc<ShelfIndex>,
    around: Surroundings,
    /// Stock, workshop and batch records.
    pub books: Books,
    /// Trials of the open documents.
    trials: trials::TrialBooks,
    elsewhere: reminders::Elsewhere,
    /// What waits for the maker, as it was at the start, until it is attended to or put off.
    pub reminders: Vec<reminders::Reminder>,
    /// What is remembered between runs.
    pub settings: Settings,
    /// The folders that may be written to unasked.
    pub folders: Folders,
    /// What is wrong with the maker's data: settings, stock, shelf, rules, records. It stays
    /// until it is read and put away.
    pub warnings: Vec<String>,
    /// Why unsaved work could not be kept at the last try.
    not_kept: Option<String>,
    /// What is typed and not entered, by the names of the fields.
    pub half_typed: BTreeMap<String, String>,
    /// The last thing to tell.
    pub message: Option<Message>,
    /// Files picked in a dialog that a sheet asked for, for one frame.
    pub picked: Vec<(egui::Id, PathBuf)>,
    /// Why a file that a sheet asked for could not be made, until it is asked for again.
    pub not_made: Option<(egui::Id, String)>,
    /// A file picked to be opened that is no formula of ours: it is looked at first.
    pub to_bring_in: Option<PathBuf>,
}

impl State {
    /// A state with one document, the built-in shelf, and the maker's own over it.
    pub fn new(host: Host, shelf: Arc<Shelf>, folders: Folders, first: Arc<Formula>) -> Self {
        let (settings, mut warnings) = folders.read_settings();
        let (books, problems) = Books::read(folders.config.as_deref());
        warnings.extend(problems);
        let context = Context::new(host.today());
        let first = host.as_product(first, DocumentId(0));
        let mut state = Self {
            host,
            documents: vec![Document::new(DocumentId(0), first, None, host)],
            current: DocumentId(0),
            next_document: 1,
            index: Arc::new(LazyLock::new(Box::new(MaterialIndex::default))),
            built_in: shelf,
            makers_shelf: MakersShelf::default(),
            shelf: Arc::default(),
            around: Surroundings { context, number: 0 },
            books,
            trials: trials::TrialBooks::default(),
            elsewhere: reminders::Elsewhere::default(),
            reminders: Vec::new(),
            settings,
            folders,
            not_kept: None,
            half_typed: BTreeMap::new(),
            message: None,
            warnings,
            picked: Vec::new(),
            not_made: None,
            to_bring_in: None,
        };
        state.open_shelf();
        state.open_rules();
        state
    }

    /// Open documents, in the order in which they were opened; at least one.
    pub fn documents(&self) -> &[Document] {
        &self.documents
    }

    /// Open documents, to be changed.
    pub fn documents_mut(&mut self) -> &mut [Document] {
        &mut self.documents
    }

    /// An open document.
    pub fn document(&self, id: DocumentId) -> Option<&Document> {
        self.documents.iter().find(|d| d.id == id)
    }

    /// An open document, to be changed.
    pub fn document_mut(&mut self, id: DocumentId) -> Option<&mut Document> {
        self.documents.iter_mut().find(|d| d.id == id)
    }

    /// What an open document is called: the name of its formula, or that of its file
    /// where another open formula has the same name.
    pub fn name_of(&self, document: &Document) -> String {
        let alike = |d: &Document| d.id != document.id && d.name() == document.name();
        if self.documents.iter().any(alike) {
            document.file_name()
        } else {
            document.name().to_owned()
        }
    }

    fn place_of(&self, id: DocumentId) -> usize {
        self.documents.iter().position(|d| d.id == id).unwrap_or(0)
    }

    /// The document that is shown.
    pub fn current(&self) -> &Document {
        &self.documents[self.place_of(self.current)]
    }

    /// The document that is shown, to be changed.
    pub fn current_mut(&mut self) -> &mut Document {
        let place = self.place_of(self.current);
        &mut self.documents[place]
    }

    /// Shows another open document.
    pub fn show(&mut self, id: DocumentId) {
        if self.document(id).is_some() {
            self.current_mut().keep();
            self.current = id;
        }
    }

    /// Puts a file first among the recent ones, for this run and the next.
    pub fn remember(&mut self, path: &Path) {
        if self
            .settings
            .recent
            .first()
            .is_some_and(|first| first == path)
        {
            return;
        }
        self.settings.remember(path);
        if let Err(problem) = self.folders.write_settings(&self.settings) {
            self.say(Level::Caution, problem);
        }
    }

    /// Adds a document and shows it. An untouched document that no file holds is
    /// replaced instead of kept beside it.
    pub fn add(&mut self, formula: Arc<Formula>, path: Option<PathBuf>) -> &mut Document {
        let id = DocumentId(self.next_document);
        self.next_document += 1;
        self.current_mut().keep();
        let formula = match path {
            Some(_) => formula,
            None => self.host.as_product(formula, id),
        };
        let document = Document::new(id, formula, path, self.host);
        let place = self.place_of(self.current);
        let shown = &self.documents[place];
        if shown.path.is_none() && !shown.is_changed() && shown.history().steps().len() == 1 {
            self.documents[place] = document;
        } else {
            self.documents.push(document);
        }
        self.current = id;
        self.current_mut()
    }

    /// Closes a document; after the last one an empty one is shown.
    pub fn close(&mut self, id: DocumentId) {
        let place = self.place_of(id);
        if let Some(path) = self.document(id).and_then(|d| d.path.clone()) {
            self.put_off(&reminders::Waiting::OneProduct(path));
        }
        self.documents.retain(|d| d.id != id);
        if self.documents.is_empty() {
            let id = DocumentId(self.next_document);
            self.next_document += 1;
            let empty = Arc::new(Formula::new("New formula"));
            let empty = self.host.as_product(empty, id);
            self.documents
                .push(Document::new(id, empty, None, self.host));
        }
        if self.document(self.current).is_none() {
            self.current = self.documents[place.min(self.documents.len() - 1)].id;
        }
    }

    /// The materials that come with the program.
    pub const fn built_in(&self) -> &Arc<Shelf> {
        &self.built_in
    }

    /// The raw materials as the maker sees them: built in, and the maker's own.
    pub const fn shelf(&self) -> &Arc<Shelf> {
        &self.shelf
    }

    /// The shelf, ready to be searched.
    pub const fn index(&self) -> &Arc<ShelfIndex> {
        &self.index
    }

    /// Puts a changed shelf in place.
    pub fn set_shelf(&mut self, shelf: Arc<Shelf>) {
        self.index = lay_out(Arc::clone(&shelf));
        self.shelf = shelf;
        self.around.number += 1;
    }

    /// The day that counts as today.
    pub const fn today(&self) -> Date {
        self.around.context.today
    }

    /// The day and the rules by which everything is evaluated.
    pub const fn context(&self) -> &Context {
        &self.around.context
    }

    /// Sets the day that counts as today.
    pub fn set_today(&mut self, today: Date) {
        if self.around.context.today != today {
            self.around.context.today = today;
            self.around.number += 1;
        }
    }

    /// Everything that follows from a variant of an open document.
    pub fn evaluation(&self, document: &Document, variant: VariantId) -> Arc<Evaluation> {
        document.evaluation(variant, &self.around)
    }

    /// How often each material is used: in the open formulas, and put in by hand, as the settings
    /// remember.
    pub fn usage(&self) -> UseCounts {
        let by_hand = self.settings.used.iter();
        let mut usage: UseCounts = by_hand
            .map(|(id, count)| (MaterialId::from_name(id), *count))
            .collect();
        for document in &self.documents {
            for id in document.formula().materials.keys() {
                *usage.entry(id.clone()).or_default() += 1;
            }
        }
        usage
    }

    /// Every file that another program may change under the window.
    pub fn watched_paths(&self) -> Vec<PathBuf> {
        let mut paths: Vec<PathBuf> = self
            .documents
            .iter()
            .filter_map(|d| d.path.clone())
            .collect();
        paths.extend(self.books.stock_path());
        paths.extend(self.makers_shelf.folder().map(ShelfFolder::file));
        paths.extend(self.trials.paths());
        paths
    }

    /// Whether something is to be done soon though nobody touches the window: unsaved work
    /// to be kept.
    pub fn is_waiting(&self) -> bool {
        let unkept = |d: &Document| d.is_changed() && d.kept_revision != Some(d.revision());
        let typing = self.current().kept_typed != self.half_typed;
        self.folders.recovery.is_some() && (typing || self.documents.iter().any(unkept))
    }

    /// Warns of something wrong with the maker's data, until it is put away.
    pub fn warn(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !self.warnings.contains(&text) {
            self.warnings.push(text);
        }
    }

    /// Tells something in the status bar.
    pub fn say(&mut self, level: Level, text: impl Into<String>) {
        self.message = Some(Message {
            level,
            text: text.into(),
        });
    }
}

/// What a sheet may read while it is drawn.
#[derive(Clone, Copy)]
pub struct View<'a> {
    /// Everything the window holds.
    pub state: &'a State,
    /// The document that is shown.
    pub document: &'a Document,
    /// Its formula, an interaction that is going on included.
    pub formula: &'a Arc<Formula>,
    /// The variant that is worked on.
    pub variant: &'a Arc<Variant>,
    /// Everything that follows from it.
    pub evaluation: &'a Arc<Evaluation>,
}

impl View<'_> {
    /// Name of a material of the formula or the shelf; its id if it is on neither any more.
    pub fn name_of(&self, id: &MaterialId) -> String {
        let shelf = self.state.shelf();
        self.formula
            .material(id)
            .or_else(|| shelf.get(id))
            .map_or_else(|| id.to_string(), |m| m.name.to_string())
    }

    /// An edit that was typed, if the variant worked on takes it; else why not, to be said
    /// beside its field.
    pub fn tried(&self, edit: Edit) -> Result<Edit, EditError> {
        let step = self.state.settings.percent_step.percent();
        tried(self.formula, self.variant.id, edit, step)
    }

    /// Why the file that was asked for with this id could not be made.
    pub fn not_made(&self, id: egui::Id) -> Option<&str> {
        let (asked, why) = self.state.not_made.as_ref()?;
        (*asked == id).then_some(why)
    }

    /// The file picked in a dialog that was asked for with this id, in the one frame
    /// after it was picked.
    pub fn picked(&self, id: egui::Id) -> Option<&PathBuf> {
        self.state
            .picked
            .iter()
            .find(|(asked, _)| *asked == id)
            .map(|(_, path)| path)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn times_are_shown_in_the_zone_of_the_system() {
        let mut host = Host::plain(|| jiff::Timestamp::UNIX_EPOCH);
        let at = "2026-11-25T23:07:18.334658324Z";
        assert_eq!(host.short_time(at), "2026-11-25 23:07");
        host.zone = || TimeZone::fixed(jiff::tz::offset(2));
        assert_eq!(host.short_time(at), "2026-11-26 01:07");
        assert_eq!(host.short_time("last week"), "last week");
    }
}
