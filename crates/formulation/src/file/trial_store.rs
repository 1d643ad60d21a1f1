//! Trials on disk: a [`crate::ledger`] beside the formula, so that nothing confirmed is lost
//! or changed unseen.

use std::path::{Path, PathBuf};

use super::FileError;
use super::disk;
use super::ledger_file::{self, LedgerFile, LedgerFileError, PATIENCE};
use super::store::Readers;
use super::trial_file::{ENDING, EntryText, Frozen, TrialLedger, from_text, path_of, to_text};
use crate::ledger::{self, LedgerRead};
use crate::trial::book::{Book, BookError, TrialEntry};

/// Why trials cannot be read or an entry not be noted.
#[derive(Debug, thiserror::Error)]
pub enum TrialStoreError {
    /// The file could not be read.
    #[error(transparent)]
    File(#[from] FileError),
    /// The entry could not be added.
    #[error(transparent)]
    Ledger(#[from] LedgerFileError),
    /// The entry does not follow.
    #[error(transparent)]
    Book(#[from] BookError),
    /// The entry cannot be written.
    #[error("the entry cannot be written: {0}")]
    Entry(String),
}

/// Trials as read.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct LoadedTrials {
    /// What follows from the entries.
    pub book: Book,
    /// The entries that it follows from.
    pub entries: Vec<TrialEntry>,
    /// What is wrong, in words; nothing can be added as long as there is anything.
    pub faults: Vec<String>,
    /// Something to know that is no fault.
    pub remarks: Vec<String>,
    /// Entries behind one that cannot be read, as they stand: numbers of trials and readings
    /// are counted, so what comes after a gap cannot be told for certain.
    pub lost: Vec<String>,
}

impl LoadedTrials {
    /// Folds what a ledger holds, up to the first entry that cannot be read or does not follow.
    fn of(reading: LedgerRead<EntryText>) -> Self {
        let mut out = Self {
            faults: reading.faults.iter().map(ToString::to_string).collect(),
            remarks: reading.remarks,
            ..Self::default()
        };
        let mut frozen = Frozen::default();
        let mut gap = false;
        for found in reading.found {
            // What cannot be read is a fault of the ledger already.
            let Some(text) = found.entry.ok().filter(|_| !gap) else {
                gap = true;
                out.lost.push(found.text);
                continue;
            };
            let added = from_text(text, &mut frozen).and_then(|entry| {
                out.book.add(&entry).map_err(|e| e.to_string())?;
                Ok(entry)
            });
            match added {
                Ok(entry) => out.entries.push(entry),
                Err(why) => {
                    gap = true;
                    out.faults.push(format!(
                        "entry {} (line {}): {why}",
                        found.number, found.line
                    ));
                    out.lost.push(found.text);
                }
            }
        }
        out
    }
}

/// Reads a file of trials as far as it can be read.
pub fn read(path: &Path) -> Result<LoadedTrials, TrialStoreError> {
    Ok(LoadedTrials::of(ledger_file::read::<TrialLedger>(path)?))
}

/// The trials of a text that was read elsewhere.
pub fn read_text(text: &str) -> Result<LoadedTrials, ledger::LedgerError> {
    let mut reading = ledger::read::<TrialLedger>(text.as_bytes(), None)?;
    // Such a text has no count beside it, which is nothing to remark.
    reading.remarks.clear();
    Ok(LoadedTrials::of(reading))
}

/// Adds an entry, after whatever another window added meanwhile, and gives back what then
/// stands. When this returns, the entry is on the disk.
pub fn append(path: &Path, entry: &TrialEntry) -> Result<LoadedTrials, TrialStoreError> {
    append_all(path, std::slice::from_ref(entry))
}

/// Adds several entries one after the other; those before one that fails are recorded.
pub fn append_all(path: &Path, entries: &[TrialEntry]) -> Result<LoadedTrials, TrialStoreError> {
    let texts = entries.iter().map(checked).collect::<Result<Vec<_>, _>>()?;
    let Some((first, rest)) = texts.split_first() else {
        return read(path);
    };
    let (mut file, reading, left) = if disk::is_there(path) {
        let (file, reading) = LedgerFile::open_within::<TrialLedger>(path, PATIENCE)?;
        (file, reading, texts.as_slice())
    } else {
        if let Some(entry) = entries.first() {
            Book::default().check(&entry.event)?;
        }
        let (file, reading) = LedgerFile::create::<TrialLedger>(path, first, Readers::Usual)?;
        (file, reading, rest)
    };
    let mut stands = LoadedTrials::of(reading);
    let noted = entries.len() - left.len();
    for (entry, text) in entries.iter().skip(noted).zip(left) {
        stands.book.check(&entry.event)?;
        file.append::<TrialLedger>(text)?;
        stands.book.add(entry)?;
        stands.entries.push(entry.clone());
    }
    Ok(stands)
}

/// The entry as it is written; refused if it would not read back as it is.
fn checked(entry: &TrialEntry) -> Result<EntryText, TrialStoreError> {
    let text = to_text(entry).map_err(TrialStoreError::Entry)?;
    let again = from_text(text.clone(), &mut Frozen::default()).map_err(TrialStoreError::Entry)?;
    if again == *entry {
        Ok(text)
    } else {
        let why = "it does not read back as it was";
        Err(TrialStoreError::Entry(why.to_owned()))
    }
}

/// Everything noted, as the text of a file of its own, for example to keep a copy.
pub fn text(entries: &[TrialEntry]) -> Result<String, String> {
    let (mut text, mut tip) = ledger::begin::<TrialLedger>()?;
    for entry in entries {
        let (line, next) = ledger::next_line::<TrialLedger>(&tip, &to_text(entry)?)?;
        text.push_str(&line);
        tip = next;
    }
    Ok(text)
}

/// The file of trials of a formula: beside it under its name, or, if the formula was renamed,
/// the only one in its folder whose first trial is of a formula of this name.
#[must_use]
pub fn find(formula_path: &Path, name: &str) -> Option<PathBuf> {
    let beside = path_of(formula_path);
    if beside.is_file() {
        return Some(beside);
    }
    let folder = formula_path
        .parent()
        .filter(|p| !p.as_os_str().is_empty())
        .unwrap_or_else(|| Path::new("."));
    let mut found: Vec<PathBuf> = disk::list(folder)
        .ok()?
        .into_iter()
        .filter(|p| p.to_string_lossy().ends_with(ENDING))
        .filter(|p| {
            let of = read(p).ok().and_then(|t| {
                let first = t.book.trials.first()?;
                Some(first.opening.formula.name.clone())
            });
            of.is_some_and(|of| of.as_ref() == name)
        })
        .collect();
    found.sort();
    match found.as_slice() {
        [one] => Some(one.clone()),
        _ => None,
    }
}
