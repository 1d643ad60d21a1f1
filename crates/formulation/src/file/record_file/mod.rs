//! The file of a batch record, `CODE.batch.jsonl`: a [`crate::ledger`] of entries.
//!
//! The entry of a line is the JSON of [`RecordEntry`]. How the file is chained, what is torn
//! and what is damage, and how a shortened file is noticed is told in
//! [`ledger_file`].

#[cfg(test)]
mod tests;

use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::FileError;
use super::disk;
use super::ledger_file::{self, LedgerFile, LedgerFileError, head_path};
use super::read_error::{ReadError, TextPosition};
use super::record_entry::RecordEntry;
use super::store::{self, Readers, StoreError};
use crate::batch::record::{Entry, Event, Opening, Record, RecordError};
use crate::batch_code::BatchCode;
use crate::evaluation::Evaluation;
use crate::ledger::{self, Fault, LedgerKind, LedgerRead};
use crate::notation::writer;

/// The closing part of the name of a record file.
pub const ENDING: &str = ".batch.jsonl";

/// The ledger of a batch.
#[derive(Debug)]
pub enum BatchLedger {}

impl LedgerKind for BatchLedger {
    type Entry = Entry;
    const NAME: &'static str = "batch record";
    // Version 2 corrects entries of any kind, has a head, and knows deviations, acceptances
    // and checks; otherwise as version 1.
    const VERSIONS: RangeInclusive<u32> = 1..=2;
    const HEAD_SINCE: u32 = 2;
    fn write(entry: &Entry) -> Result<String, String> {
        let written = RecordEntry::from_model(entry)?;
        writer::json_line(&written).map_err(|e| e.to_string())
    }
    fn read(text: &str, _: u32) -> Result<Entry, String> {
        serde_json::from_str::<RecordEntry>(text)
            .map_err(|e| e.to_string())
            .and_then(RecordEntry::into_model)
    }
}

/// Why an entry was not recorded, or a record not opened.
#[derive(Debug, thiserror::Error)]
pub enum RecordFileError {
    /// The record does not allow it.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// The file could not be read or written.
    #[error(transparent)]
    Ledger(#[from] LedgerFileError),
}

impl From<ReadError> for RecordFileError {
    fn from(error: ReadError) -> Self {
        Self::Ledger(error.into())
    }
}

impl RecordFileError {
    /// Whether another window has the record open.
    pub const fn is_busy(&self) -> bool {
        matches!(self, Self::Ledger(LedgerFileError::Busy(_)))
    }
}

/// A record as read from its file.
#[derive(Debug, Clone, PartialEq)]
pub struct LoadedRecord {
    /// The record, with every entry that can be read; what cannot is in [`Record::lost`].
    pub record: Record,
    /// What is wrong with the file, in order. Such a record cannot be relied on; nothing is
    /// added to it and nothing is sealed from it.
    pub faults: Vec<Fault>,
    /// Something to know that is no fault, such as an entry cut short at the end.
    pub remarks: Vec<String>,
    /// Whether an entry was cut short at the end; it had not been confirmed.
    pub torn: bool,
}

impl LoadedRecord {
    /// The first fault, and how many more there are, in words.
    pub fn fault_words(&self) -> Option<String> {
        let first = self.faults.first()?;
        Some(match self.faults.len() - 1 {
            0 => format!(
                "The record of batch {} cannot be relied on. {first}",
                self.record.code()
            ),
            more => format!(
                "The record of batch {} cannot be relied on. {first}; and {more} more",
                self.record.code()
            ),
        })
    }
}

fn loaded(reading: LedgerRead<Entry>, file: &str) -> Result<LoadedRecord, ReadError> {
    let mut faults = reading.faults;
    let mut record: Option<Record> = None;
    for found in reading.found {
        let Some(record) = &mut record else {
            let opened = found
                .entry
                .and_then(|entry| Record::open(entry).map_err(|e| e.to_string()));
            match opened {
                Ok(opened) => record = Some(opened),
                Err(message) => {
                    let place = Some(TextPosition {
                        line: found.line,
                        column: 1,
                    });
                    return Err(ReadError::at(
                        file,
                        place,
                        format!(
                            "the opening of the batch is damaged ({message}); keep the file and put back a copy made before. Its other entries stand in it as text"
                        ),
                    ));
                }
            }
            continue;
        };
        match found.entry {
            Ok(entry) => {
                if let Err(error) = record.add_found(entry) {
                    faults.push(Fault {
                        line: found.line,
                        entry: Some(found.number),
                        message: error.to_string(),
                    });
                }
            }
            Err(why) => record.lose(found.text.into(), why.into()),
        }
    }
    let record = record.ok_or_else(|| {
        ReadError::whole(
            file,
            "the record holds no whole entry; it was never begun, delete it",
        )
    })?;
    faults.sort_by_key(|f| f.line);
    Ok(LoadedRecord {
        record,
        faults,
        remarks: reading.remarks,
        torn: reading.torn.is_some(),
    })
}

/// Reads the bytes of a record. `file` is its name for error messages. Fails only if not
/// even the opening of the batch can be read.
pub fn read_bytes(bytes: &[u8], file: &str) -> Result<LoadedRecord, ReadError> {
    let reading = ledger::read::<BatchLedger>(bytes, None)
        .map_err(|e| ReadError::whole(file, e.to_string()))?;
    loaded(reading, file)
}

/// Reads a record without opening it for writing.
pub fn read(path: &Path) -> Result<LoadedRecord, FileError> {
    let reading = ledger_file::read::<BatchLedger>(path)?;
    Ok(loaded(reading, &path.display().to_string())?)
}

/// A record file that cannot be read as one.
#[derive(Debug)]
pub struct Unreadable {
    /// The file.
    pub path: PathBuf,
    /// Why.
    pub error: FileError,
    /// What can be read of it as plain text, in lower case, so that a search for a lot still
    /// finds it.
    text: String,
}

impl Unreadable {
    /// The name of the file without its ending, which is the code of the batch if nobody has
    /// renamed it.
    pub fn name(&self) -> String {
        let name = self
            .path
            .file_name()
            .map(|n| n.to_string_lossy().into_owned())
            .unwrap_or_default();
        name.strip_suffix(ENDING).map(str::to_owned).unwrap_or(name)
    }

    /// Whether every word of a query occurs in what can be read. A file of which nothing can
    /// be read matches every query, because it may hold anything.
    pub fn may_match(&self, query: &str) -> bool {
        self.text.is_empty()
            || query
                .to_lowercase()
                .split_whitespace()
                .all(|word| self.text.contains(word) || self.name().to_lowercase().contains(word))
    }
}

/// The records of a folder.
#[derive(Debug, Default)]
pub struct Folder {
    /// Records by code, with their files.
    pub records: Vec<(PathBuf, LoadedRecord)>,
    /// Files that could not be read, and why.
    pub unreadable: Vec<Unreadable>,
    /// Records that were begun and whose file is gone.
    pub gone: Vec<PathBuf>,
    /// Why the folder itself could not be listed.
    pub error: Option<FileError>,
}

impl Folder {
    /// The records alone.
    pub fn records(&self) -> impl Iterator<Item = &Record> + Clone {
        self.records.iter().map(|(_, l)| &l.record)
    }

    /// All that is wrong, in words, by file.
    pub fn problems(&self) -> Vec<String> {
        let mut problems = Vec::new();
        problems.extend(
            self.error
                .iter()
                .map(|e| format!("The batch records cannot be listed: {e}")),
        );
        problems.extend(self.unreadable.iter().map(|u| {
            format!(
                "The record of batch {} cannot be read: {}",
                u.name(),
                u.error
            )
        }));
        problems.extend(self.gone.iter().map(|path| {
            format!(
                "The record {} was begun and is gone; put it back, or delete its count {} if it was removed on purpose",
                path.display(),
                head_path(path).display()
            )
        }));
        for (path, loaded) in &self.records {
            if let Some(words) = loaded.fault_words() {
                problems.push(format!("{words} ({})", path.display()));
            }
            for remark in &loaded.remarks {
                problems.push(format!("Batch {}: {remark}", loaded.record.code()));
            }
        }
        problems
    }

    /// Whether every record is whole, so that a count over all of them can be relied on.
    pub fn is_sound(&self) -> bool {
        self.error.is_none()
            && self.unreadable.is_empty()
            && self.gone.is_empty()
            && self.records.iter().all(|(_, l)| l.faults.is_empty())
    }
}

/// Reads every record of a folder. A folder that does not exist yet holds none.
pub fn read_folder(folder: &Path) -> Folder {
    match disk::look(folder) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => Folder::default(),
        _ => list_folder(folder),
    }
}

/// Reads every record of a folder that must be there.
pub fn list_folder(folder: &Path) -> Folder {
    let mut found = Folder::default();
    let paths = match disk::list(folder) {
        Ok(paths) => paths,
        Err(cause) => {
            found.error = Some(
                StoreError::Io {
                    doing: "list the folder of the batch records",
                    path: folder.into(),
                    cause,
                }
                .into(),
            );
            return found;
        }
    };
    let ends = |path: &Path, ending: &str| {
        path.file_name()
            .and_then(|n| n.to_str())
            .is_some_and(|n| n.ends_with(ending))
    };
    let head_ending = format!("{ENDING}.head");
    for path in &paths {
        if ends(path, &head_ending) {
            let record = path.with_extension("");
            if !paths.contains(&record) {
                found.gone.push(record);
            }
        } else if ends(path, ENDING) {
            match read(path) {
                Ok(loaded) => found.records.push((path.clone(), loaded)),
                Err(error) => found.unreadable.push(Unreadable {
                    path: path.clone(),
                    error,
                    text: store::read_bytes(path)
                        .map(|(bytes, _)| String::from_utf8_lossy(&bytes).to_lowercase())
                        .unwrap_or_default(),
                }),
            }
        }
    }
    found
        .records
        .sort_by(|a, b| a.1.record.code().cmp(b.1.record.code()));
    found
}

/// The file of a batch in a folder.
pub fn path_of(folder: &Path, code: &BatchCode) -> PathBuf {
    folder.join(format!("{code}{ENDING}"))
}

/// A record that is being written.
#[derive(Debug)]
pub struct RecordFile {
    file: LedgerFile,
    loaded: LoadedRecord,
}

impl RecordFile {
    /// Begins the record of a batch in a folder, which is made if need be. Fails if the
    /// code is taken.
    pub fn create(
        folder: &Path,
        opening: Opening,
        at: &str,
        by: &str,
    ) -> Result<Self, RecordFileError> {
        Self::create_for(folder, opening, at, by, Readers::Usual)
    }

    /// Begins the record of a batch, see [`Self::create`], and says who may read it.
    pub fn create_for(
        folder: &Path,
        opening: Opening,
        at: &str,
        by: &str,
        readers: Readers<'_>,
    ) -> Result<Self, RecordFileError> {
        let path = path_of(folder, &opening.code);
        let entry = Entry {
            number: 1,
            at: at.into(),
            by: by.into(),
            event: Event::Opened(Box::new(opening)),
        };
        Record::open(entry.clone())?;
        let (file, reading) = LedgerFile::create::<BatchLedger>(&path, &entry, readers)?;
        Self::of(file, reading)
    }

    /// Opens a record to go on with it. Only one window can have it open.
    pub fn open(path: &Path) -> Result<Self, RecordFileError> {
        let (file, reading) = LedgerFile::open::<BatchLedger>(path)?;
        Self::of(file, reading)
    }

    fn of(file: LedgerFile, reading: LedgerRead<Entry>) -> Result<Self, RecordFileError> {
        let loaded = loaded(reading, &file.path().display().to_string())?;
        Ok(Self { file, loaded })
    }

    /// The record.
    pub const fn record(&self) -> &Record {
        &self.loaded.record
    }
    /// What is wrong with the file.
    pub fn faults(&self) -> &[Fault] {
        &self.loaded.faults
    }
    /// Something to know that is no fault.
    pub fn remarks(&self) -> &[String] {
        &self.loaded.remarks
    }
    /// The file.
    pub fn path(&self) -> &Path {
        self.file.path()
    }
    /// Why the count beside the file could not be brought up to date, though the last entry
    /// is recorded.
    pub fn head_behind(&self) -> Option<&str> {
        self.file.head_behind()
    }

    /// Records an event. When this returns, it is on the disk; if it fails, the record is
    /// as before. `at` is the time by the machine's clock, RFC 3339; `by` is who did it.
    /// A release of what was weighed needs [`Self::append_with`].
    pub fn append(&mut self, at: &str, by: &str, event: Event) -> Result<u64, RecordFileError> {
        self.append_with(at, by, event, None)
    }

    /// Records an event as [`Self::append`] does, with the mix as it was really weighed: a
    /// release is refused while a finding of it is open.
    pub fn append_with(
        &mut self,
        at: &str,
        by: &str,
        event: Event,
        as_weighed: Option<&Evaluation>,
    ) -> Result<u64, RecordFileError> {
        if let Some(fault) = self.loaded.faults.first() {
            return Err(LedgerFileError::Broken(fault.clone()).into());
        }
        self.loaded.record.check(&event, by, as_weighed)?;
        let number = self.loaded.record.next_number();
        let entry = Entry {
            number,
            at: Arc::from(at),
            by: Arc::from(by),
            event,
        };
        // Tried on a copy first, so that nothing is recorded that does not follow.
        let mut next = self.loaded.record.clone();
        next.add(entry.clone())?;
        self.file.append::<BatchLedger>(&entry)?;
        self.loaded.record = next;
        self.loaded.remarks.clear();
        self.loaded.torn = false;
        Ok(number)
    }
}
