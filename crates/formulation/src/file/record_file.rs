//! The file of a batch record, `CODE.batch.jsonl`: a [`crate::ledger`] of entries.
//!
//! The entry of a line is the JSON of [`RecordEntry`]. How the file is chained, what is torn
//! and what is damage, and how a shortened file is noticed is told in
//! [`ledger_file`].

use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::FileError;
use super::disk;
use super::ledger_file::{self, LedgerFile, LedgerFileError, head_path};
use super::read_error::{Place, ReadError};
use super::record_entry::RecordEntry;
use super::store::{self, Readers, StoreError};
use crate::batch::code::BatchCode;
use crate::batch::record::{Entry, Event, Opening, Record, RecordError};
use crate::ledger::{self, Fault, Kind, Reading};

/// The closing part of the name of a record file.
pub const ENDING: &str = ".batch.jsonl";

/// The ledger of a batch.
#[derive(Debug)]
pub enum BatchLedger {}

impl Kind for BatchLedger {
    type Entry = Entry;
    const NAME: &'static str = "batch record";
    // Version 2 corrects entries of any kind, has a head, and knows deviations, acceptances
    // and checks; otherwise as version 1.
    const VERSIONS: RangeInclusive<u32> = 1..=2;
    const HEAD_SINCE: u32 = 2;
    fn write(entry: &Entry) -> Result<String, String> {
        let written = RecordEntry::from_model(entry)?;
        serde_json::to_string(&written).map_err(|e| e.to_string())
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
pub struct Loaded {
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

impl Loaded {
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

fn loaded(reading: Reading<Entry>, file: &str) -> Result<Loaded, ReadError> {
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
                    let place = Some(Place {
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
    Ok(Loaded {
        record,
        faults,
        remarks: reading.remarks,
        torn: reading.torn.is_some(),
    })
}

/// Reads the bytes of a record. `file` is its name for error messages. Fails only if not
/// even the opening of the batch can be read.
pub fn read_bytes(bytes: &[u8], file: &str) -> Result<Loaded, ReadError> {
    let reading = ledger::read::<BatchLedger>(bytes, None)
        .map_err(|e| ReadError::whole(file, e.to_string()))?;
    loaded(reading, file)
}

/// Reads a record without opening it for writing.
pub fn read(path: &Path) -> Result<Loaded, FileError> {
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
    pub records: Vec<(PathBuf, Loaded)>,
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
    loaded: Loaded,
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

    fn of(file: LedgerFile, reading: Reading<Entry>) -> Result<Self, RecordFileError> {
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
    pub fn append(&mut self, at: &str, by: &str, event: Event) -> Result<u64, RecordFileError> {
        if let Some(fault) = self.loaded.faults.first() {
            return Err(LedgerFileError::Broken(fault.clone()).into());
        }
        self.loaded.record.check(&event, by)?;
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

#[cfg(test)]
mod tests {
    use std::fs;

    use proptest::prelude::*;

    use super::*;
    use crate::batch::mass::read_mass;
    use crate::batch::record::tests::{opening, weigh};
    use crate::batch::record::{Change, Decision, Identity, Quality};
    use crate::formula::ItemId;
    use crate::quantity::celsius;
    use crate::stock::LotId;

    const AT: &str = "2026-06-01T09:00:00+02:00";

    fn begun(folder: &Path) -> RecordFile {
        RecordFile::create(folder, opening("26-001"), AT, "Wren").unwrap()
    }

    fn header() -> String {
        ledger::begin::<BatchLedger>()
            .unwrap()
            .0
            .trim_end()
            .to_owned()
    }

    fn every_event() -> Vec<Event> {
        vec![
            weigh(10, "800 g", "W1"),
            weigh(11, "200 g", "G1"),
            Event::Rescaled {
                masses: vec![(ItemId(10), read_mass("801 g", None).unwrap())],
                reason: "why not".into(),
            },
            Event::MadeUp {
                mass: read_mass("0.3 oz", None).unwrap(),
                lot: LotId::new("W1"),
            },
            Event::Measured {
                what: Quality::Ph,
                value: "5.25".into(),
                remark: "meter, 25 °C".into(),
            },
            Event::Packed {
                what: "bottle".into(),
                lot: "".into(),
                used: 10,
                spoilt: 1,
            },
            Event::Filled {
                containers: 9,
                mass: read_mass("900 g", None).unwrap(),
                samples: read_mass("20 g", None).unwrap(),
                waste: read_mass("10 g", None).unwrap(),
            },
            Event::Remarked {
                text: "a line\nbreak, “quotes” and \\".into(),
                open: false,
            },
            Event::Labelled {
                what: "front".into(),
                lot: "L-9".into(),
                code: "26-001".into(),
                date: "2028-06".into(),
                printed: 12,
                applied: 9,
                spoilt: 3,
            },
            Event::Deviated {
                lot: LotId::new("W1"),
                what: "lot W1 was to be used by 2026-05-01".into(),
                reason: "tested again".into(),
            },
            Event::Accepted {
                point: "lot W1 was to be used by 2026-05-01".into(),
                about: None,
                reason: "as tested".into(),
            },
            Event::Accepted {
                point: "the appearance is not judged".into(),
                about: None,
                reason: "as the last one".into(),
            },
            Event::Accepted {
                point: "the odour is not judged".into(),
                about: Some(Identity::new("not measured").with("odour").with("odour")),
                reason: "as the last one".into(),
            },
            Event::Checked {
                line: Some(ItemId(10)),
            },
            Event::Checked { line: None },
            Event::Decided {
                decision: Decision::Release,
                reason: "good".into(),
            },
            Event::Closed,
            Event::Amended {
                entry: 2,
                change: Change::Lot(LotId::new("W2")),
                old: "W1".into(),
                reason: "misread".into(),
            },
            Event::Dispatched {
                to: "Heath Fair".into(),
                containers: 3,
                day: jiff::civil::date(2026, 6, 2),
            },
        ]
    }

    #[test]
    fn a_record_is_read_back_as_written() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        for event in every_event() {
            let checked = matches!(event, Event::Checked { .. });
            let by = if checked { "Fern" } else { "Wren" };
            file.append(AT, by, event).unwrap();
        }
        let loaded = read(file.path()).unwrap();
        assert_eq!(&loaded.record, file.record());
        assert_eq!(loaded.faults, []);
        assert!(!loaded.torn);
    }

    #[test]
    fn a_step_keeps_its_temperature() {
        let mut o = opening("26-001");
        let mut variant = o.variant().as_ref().clone();
        let mut phase = variant.phases[0].as_ref().clone();
        phase.steps.push(crate::formula::Step {
            id: ItemId(50),
            text: "warm".into(),
            temperature: Some(celsius(75.0)),
            minutes: Some(20),
            tool: "".into(),
            check: "".into(),
        });
        variant.phases[0] = Arc::new(phase);
        let mut formula = o.formula.as_ref().clone();
        formula.variants = vec![Arc::new(variant)];
        o.formula = Arc::new(formula);
        let folder = tempfile::tempdir().unwrap();
        let mut file = RecordFile::create(folder.path(), o, AT, "Wren").unwrap();
        let worked = Event::Worked {
            step: ItemId(50),
            temperature: Some(celsius(74.6)),
            remark: "22 min".into(),
        };
        file.append(AT, "Wren", worked).unwrap();
        assert_eq!(&read(file.path()).unwrap().record, file.record());
    }

    #[test]
    fn a_code_is_taken_once() {
        let folder = tempfile::tempdir().unwrap();
        let _first = begun(folder.path());
        assert!(matches!(
            RecordFile::create(folder.path(), opening("26-001"), AT, "Wren"),
            Err(RecordFileError::Ledger(LedgerFileError::File(
                FileError::Store(StoreError::Exists { .. })
            )))
        ));
    }

    #[test]
    fn two_windows_do_not_write_one_record() {
        let folder = tempfile::tempdir().unwrap();
        let first = begun(folder.path());
        assert!(matches!(
            RecordFile::open(first.path()),
            Err(error) if error.is_busy()
        ));
    }

    /// Cut at every byte after the opening: the record opens with exactly the whole entries,
    /// and can be gone on with.
    #[test]
    fn a_file_cut_anywhere_opens_with_every_whole_entry() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        let path = file.path().to_path_buf();
        let mut ends = vec![fs::metadata(&path).unwrap().len() as usize];
        for event in every_event().into_iter().take(4) {
            file.append(AT, "Wren", event).unwrap();
            ends.push(fs::metadata(&path).unwrap().len() as usize);
        }
        drop(file);
        let bytes = fs::read(&path).unwrap();
        for cut in ends[0]..=bytes.len() {
            let loaded = read_bytes(&bytes[..cut], "cut").unwrap();
            // The line break alone is no loss.
            let whole = ends.iter().filter(|&&end| end <= cut + 1).count();
            assert_eq!(loaded.record.entries().len(), whole, "cut at {cut}");
            let torn = !ends.contains(&cut) && !ends.contains(&(cut + 1));
            assert_eq!(loaded.torn, torn, "cut at {cut}");
            assert_eq!(loaded.faults, [], "cut at {cut}");
        }
        // Go on after a cut, and after zeros at the end.
        for tail in [&b"0123"[..], &[0; 700][..]] {
            let mut damaged = bytes[..ends[2]].to_vec();
            damaged.extend_from_slice(tail);
            fs::write(&path, &damaged).unwrap();
            // The count kept beside it would call the rest cut off.
            fs::remove_file(head_path(&path)).unwrap();
            let mut file = RecordFile::open(&path).unwrap();
            let remark = Event::Remarked {
                text: "on".into(),
                open: false,
            };
            assert_eq!(file.append(AT, "Wren", remark).unwrap(), 4);
            drop(file);
            let loaded = read(&path).unwrap();
            assert_eq!(loaded.record.entries().len(), 4);
            assert!(!loaded.torn && loaded.faults.is_empty());
        }
    }

    #[test]
    fn a_changed_entry_breaks_the_chain_but_can_be_read() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        for event in every_event().into_iter().take(3) {
            file.append(AT, "Wren", event).unwrap();
        }
        let path = file.path().to_path_buf();
        drop(file);
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, text.replace("800 g", "810 g")).unwrap();
        let mut file = RecordFile::open(&path).unwrap();
        // The opening also names 800 g as planned, so two entries were changed.
        let lines: Vec<usize> = file.faults().iter().map(|f| f.line).collect();
        assert_eq!(lines, [2, 3]);
        assert_eq!(file.record().entries().len(), 4);
        assert!(matches!(
            file.append(AT, "Wren", Event::Closed),
            Err(RecordFileError::Ledger(LedgerFileError::Broken(_)))
        ));
        let lines: Vec<&str> = text.lines().collect();
        let without = [lines[0], lines[1], lines[3], lines[4]].join("\n") + "\n";
        let loaded = read_bytes(without.as_bytes(), "x").unwrap();
        assert_eq!(loaded.faults[0].line, 3);
        // What is missing is listed, what follows counts.
        assert_eq!(loaded.record.lost()[0].number, 2);
        assert_eq!(loaded.record.entries().len(), 3);
    }

    /// A record as version 1 wrote it: without a head, with the corrections there were then.
    #[test]
    fn a_record_of_the_first_version_is_read_and_gone_on_with() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        for event in every_event().into_iter().take(2) {
            file.append(AT, "Wren", event).unwrap();
        }
        let path = file.path().to_path_buf();
        drop(file);
        // Written anew by the rule of the format, on its own.
        let text = fs::read_to_string(&path).unwrap();
        let mut hash = String::new();
        let mut old = String::new();
        for (i, line) in text.lines().enumerate() {
            if i == 0 {
                let header = line.replace("\"version\":2", "\"version\":1");
                hash = ledger::chained("", &header);
                old.extend([header.as_str(), "\n"]);
            } else {
                let body = line.split_once(' ').unwrap().1;
                hash = ledger::chained(&hash, body);
                old.extend([hash.as_str(), " ", body, "\n"]);
            }
        }
        fs::write(&path, old).unwrap();
        fs::remove_file(head_path(&path)).unwrap();
        let loaded = read(&path).unwrap();
        assert!(loaded.faults.is_empty() && loaded.remarks.is_empty());
        let mut file = RecordFile::open(&path).unwrap();
        file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
        drop(file);
        let loaded = read(&path).unwrap();
        assert_eq!(loaded.faults, []);
        assert_eq!(loaded.record.entries().len(), 4);
        assert!(head_path(&path).exists());
    }

    /// The audit's case: one zero byte in the middle cost ten confirmed entries.
    #[test]
    fn a_zero_byte_destroys_nothing_but_its_entry() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        for _ in 0..29 {
            file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
        }
        let path = file.path().to_path_buf();
        drop(file);
        let mut bytes = fs::read(&path).unwrap();
        let start = bytes
            .iter()
            .enumerate()
            .filter(|(_, b)| **b == b'\n')
            .nth(20)
            .unwrap()
            .0;
        bytes[start + 80] = 0;
        fs::write(&path, &bytes).unwrap();
        let mut file = RecordFile::open(&path).unwrap();
        assert_eq!(file.record().entries().len(), 29);
        assert_eq!(file.record().lost()[0].number, 21);
        assert_eq!(file.faults().len(), 1);
        assert_eq!(file.faults()[0].entry, Some(21));
        assert!(file.append(AT, "Wren", weigh(10, "1 g", "W1")).is_err());
        drop(file);
        // Nothing was cut off.
        assert_eq!(fs::read(&path).unwrap(), bytes);
        // In the opening: the file is listed, and a search for a lot finds it.
        let start = bytes.iter().position(|&b| b == b'\n').unwrap();
        bytes[start + 200] = 0;
        fs::write(&path, &bytes).unwrap();
        let listed = read_folder(folder.path());
        assert_eq!(listed.unreadable.len(), 1);
        assert!(!listed.is_sound());
        assert!(listed.unreadable[0].may_match("w1"));
        assert!(!listed.unreadable[0].may_match("g7"));
        let words = listed.problems().concat();
        assert!(
            words.contains("26-001") && !words.contains("delete"),
            "{words}"
        );
    }

    #[test]
    fn entries_cut_off_and_files_taken_away_are_noticed() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        for event in every_event().into_iter().take(3) {
            file.append(AT, "Wren", event).unwrap();
        }
        let path = file.path().to_path_buf();
        drop(file);
        let text = fs::read_to_string(&path).unwrap();
        let kept: Vec<&str> = text.lines().take(4).collect();
        fs::write(&path, kept.join("\n") + "\n").unwrap();
        let loaded = read(&path).unwrap();
        assert_eq!(loaded.record.entries().len(), 3);
        assert_eq!(loaded.faults.len(), 1);
        assert!(
            RecordFile::open(&path)
                .unwrap()
                .append(AT, "Wren", Event::Closed)
                .is_err()
        );
        fs::remove_file(&path).unwrap();
        let listed = read_folder(folder.path());
        assert_eq!(listed.gone, [path]);
        assert!(matches!(
            RecordFile::create(folder.path(), opening("26-001"), AT, "Wren"),
            Err(RecordFileError::Ledger(LedgerFileError::Gone(_)))
        ));
        assert!(list_folder(&folder.path().join("none")).error.is_some());
        assert!(read_folder(&folder.path().join("none")).is_sound());
    }

    #[test]
    fn what_was_torn_is_kept_and_said() {
        let folder = tempfile::tempdir().unwrap();
        let mut file = begun(folder.path());
        file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
        let path = file.path().to_path_buf();
        drop(file);
        let mut bytes = fs::read(&path).unwrap();
        bytes.extend(b"0123 half an entry");
        fs::write(&path, bytes).unwrap();
        let mut file = RecordFile::open(&path).unwrap();
        assert!(file.remarks()[0].contains("cut short"));
        file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
        let kept = fs::read(ledger_file::damaged_path(&path)).unwrap();
        assert_eq!(kept, b"0123 half an entry");
        assert_eq!(read(&path).unwrap().record.entries().len(), 3);
    }

    #[test]
    fn what_is_no_record_is_refused_with_words() {
        let message = |text: &str| read_bytes(text.as_bytes(), "x").unwrap_err().to_string();
        assert!(message("hello\n").contains("not a batch record"));
        let newer = header().replace("\"version\":2", "\"version\":3");
        assert!(message(&format!("{newer}\n")).contains("version 3"));
        assert!(message(&format!("{}\n", header())).contains("holds no entry"));
        assert!(message("").contains("not a batch record"));
    }

    proptest! {
        /// Whatever is recorded and corrected in whatever order: what is folded while writing
        /// is what is folded from the text, and no value that ever stood there is lost.
        #[test]
        fn any_record_is_read_back_and_keeps_every_value(
            acts in prop::collection::vec((0_u8..6, 1_i128..100_000, 0_usize..20), 1..25),
        ) {
            let grams = |n: i128| read_mass(&format!("{n} g"), None).unwrap();
            let mut record = Record::open(Entry {
                number: 1,
                at: AT.into(),
                by: "Wren".into(),
                event: Event::Opened(Box::new(opening("26-001"))),
            })
            .unwrap();
            let mut values = Vec::new();
            for (act, number, place) in acts {
                let line = ItemId(10 + (number % 2) as u64);
                let lot = format!("lot-{number}");
                let entry = (place as u64 % record.next_number()).max(1);
                let labels = Event::Labelled {
                    what: "front".into(),
                    lot: "L-9".into(),
                    code: lot.as_str().into(),
                    date: "2028-06".into(),
                    printed: place as u32 + 1,
                    applied: place as u32,
                    spoilt: 0,
                };
                let event = match act {
                    0 => Event::Weighed {
                        line,
                        mass: grams(number),
                        lot: LotId::new(&lot),
                        remark: "".into(),
                    },
                    1 => Event::Remarked { text: lot.as_str().into(), open: number % 2 == 0 },
                    3 => labels,
                    4 => {
                        let change = Change::Instead(Box::new(labels));
                        let old = record.value_of(entry, &change).unwrap_or_default();
                        Event::Amended { entry, change, old: old.into(), reason: "miscounted".into() }
                    }
                    2 => {
                        let change = Change::Lot(LotId::new(&lot));
                        let old = record.value_of(entry, &change).unwrap_or_default();
                        Event::Amended { entry, change, old: old.into(), reason: "misread".into() }
                    }
                    _ => {
                        let old = record.value_of(entry, &Change::Struck).unwrap_or_default();
                        Event::Amended {
                            entry,
                            change: Change::Struck,
                            old: old.into(),
                            reason: "by mistake".into(),
                        }
                    }
                };
                if record.check(&event, "Wren").is_err() {
                    continue;
                }
                if act < 5 {
                    values.push(lot);
                }
                record
                    .add(Entry {
                        number: record.next_number(),
                        at: AT.into(),
                        by: "Wren".into(),
                        event,
                    })
                    .unwrap();
            }
            let words = record.words();
            for value in &values {
                prop_assert!(words.contains(value.as_str()), "{value} is lost");
            }
            let mut read: Option<Record> = None;
            for entry in record.entries() {
                let text = BatchLedger::write(entry).unwrap();
                let entry = BatchLedger::read(&text, 2).unwrap();
                match &mut read {
                    None => read = Some(Record::open(entry).unwrap()),
                    Some(read) => read.add(entry).unwrap(),
                }
            }
            prop_assert_eq!(read.as_ref(), Some(&record));
        }
    }
}
