//! What waits for the maker: batches begun and not finished, and what is due in the workshop
//! and among the samples of stability plans.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use formulation::batch::agenda::agenda;
use formulation::batch::record::{Record, moment};
use formulation::batch::work_order::tasks;
use formulation::batch_code::BatchCode;
use formulation::due::{Due, by_day, summary};
use formulation::file::formula_file::ENDING;
use formulation::file::{disk, trial_file, trial_store};
use formulation::formula::Date;
use formulation::material::MaterialId;
use formulation::trial::stability;

use super::State;

/// What a reminder leads to.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Waiting {
    /// A batch to go on with.
    Batch(BatchCode),
    /// Something of the calendar of the workshop.
    Workshop,
    /// Samples of a formula in a file.
    Samples(PathBuf),
    /// An open file that is the same product as another file.
    OneProduct(PathBuf),
}

/// Something that waits, as it is told at the start of the program.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Reminder {
    /// What it leads to.
    pub of: Waiting,
    /// In words.
    pub words: String,
}

/// Samples of a formula that is not open.
#[derive(Default)]
pub struct Elsewhere {
    samples: Vec<(PathBuf, Vec<Due>)>,
}

/// Samples to be read of a formula beside its file, if its trials can be read.
fn samples_beside(path: &Path, today: Date) -> Option<Vec<Due>> {
    let trials = trial_file::path_of(path);
    if !disk::is_there(&trials) {
        return None;
    }
    let book = trial_store::read(&trials).ok()?.book;
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let stem = name.strip_suffix(ENDING).unwrap_or(&name);
    Some(stability::to_read(stem, &book, today))
}

/// How far a batch has come, in words.
pub fn how_far(record: &Record) -> String {
    let tasks = tasks(record);
    let done = tasks.iter().filter(|t| t.is_done()).count();
    let begun = record.entries().first().map_or("", |e| e.at.as_ref());
    format!(
        "begun {}, {done} of {} lines and steps done",
        moment(begun),
        tasks.len()
    )
}

impl State {
    /// Looks at the trials beside the recent files.
    pub fn look_elsewhere(&mut self) {
        let today = self.today();
        let samples = self
            .settings
            .recent
            .iter()
            .filter_map(|path| Some((path.clone(), samples_beside(path, today)?)))
            .collect();
        self.elsewhere = Elsewhere { samples };
    }

    /// Everything due up to a number of days from today, and everything overdue, by day: of
    /// the workshop, and the samples of stability plans of open and recent formulas.
    pub fn due(&self, ahead: u32) -> Vec<Due> {
        let today = self.today();
        let books = &self.books;
        let mut list = agenda(
            (books.stock(), books.usage()),
            &|id| self.material_name(id),
            books.all_records(),
            books.workshop(),
            today,
            ahead,
        );
        for document in self.documents() {
            let book = self.trials(document.id).book();
            list.extend(stability::to_read(document.name(), book, today));
        }
        list.extend(self.not_open().flat_map(|(_, due)| due.iter().cloned()));
        let last = today.checked_add(jiff::Span::new().days(i64::from(ahead)));
        list.retain(|d| last.as_ref().is_ok_and(|last| d.day <= *last));
        by_day(&mut list);
        list
    }

    /// Name of a material of the shelf or of a batch that was made; its id if it is on neither.
    fn material_name(&self, id: &MaterialId) -> String {
        let of_records = || {
            let mut records = self.books.all_records();
            records.find_map(|r| r.opening().formula.material(id))
        };
        let known = self.shelf().get(id).or_else(of_records);
        known.map_or_else(|| id.to_string(), |m| m.name.to_string())
    }

    /// What the products of open formulas and the materials of the stock are called, by what the
    /// workshop keeps them under.
    pub fn names_kept(&self) -> Vec<(Arc<str>, Arc<str>)> {
        let products = self.documents().iter().map(|document| {
            let formula = document.formula();
            (formula.product().clone(), formula.name.clone())
        });
        let stock = self.books.stock();
        let materials = stock.lots.iter().map(|lot| &lot.material);
        let materials = materials.chain(stock.reorder.keys());
        let materials = materials.map(|id| (id.as_str().into(), self.material_name(id).into()));
        products.chain(materials).collect()
    }

    fn not_open(&self) -> impl Iterator<Item = &(PathBuf, Vec<Due>)> {
        let open = |path: &Path| {
            self.documents()
                .iter()
                .any(|d| d.path.as_deref() == Some(path))
        };
        let all = self.elsewhere.samples.iter();
        all.filter(move |(path, _)| !open(path))
    }

    /// Puts together what is told at the start.
    pub fn remind(&mut self) {
        self.look_elsewhere();
        let today = self.today();
        let books = &self.books;
        let mut list: Vec<Reminder> = books
            .unfinished()
            .map(|record| Reminder {
                of: Waiting::Batch(record.code().clone()),
                words: format!(
                    "Batch {} of {} is not finished: {}",
                    record.code(),
                    record.opening().formula.name,
                    how_far(record)
                ),
            })
            .collect();
        let workshop = agenda(
            (books.stock(), books.usage()),
            &|id| self.material_name(id),
            books.all_records(),
            books.workshop(),
            today,
            0,
        );
        list.extend(summary(&workshop, today).map(|words| Reminder {
            of: Waiting::Workshop,
            words: format!("Workshop: {words}"),
        }));
        list.extend(self.not_open().filter_map(|(path, due)| {
            Some(Reminder {
                of: Waiting::Samples(path.clone()),
                words: format!("Stability: {}", summary(due, today)?),
            })
        }));
        // What was told since a file was opened stays.
        self.reminders
            .retain(|r| matches!(r.of, Waiting::OneProduct(_)));
        self.reminders.append(&mut list);
    }

    /// Takes a reminder away.
    pub fn put_off(&mut self, of: &Waiting) {
        self.reminders.retain(|r| r.of != *of);
    }
}
