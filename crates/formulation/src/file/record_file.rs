//! The file of a batch record, `CODE.batch.jsonl`: one line an entry, only ever added to.
//!
//! The first line names format and version. Every further line is the SHA-256 of the hash
//! before it and the entry, then a blank, then the entry as JSON. So no entry can be
//! changed, taken out or put in without the chain breaking at that place. The chain shows
//! changes made by mistake or with another program; it is not signed, so it is no proof
//! against someone who writes all hashes anew.
//!
//! An entry counts as recorded when it has reached the disk. A power cut can at most leave
//! part of the entry that was being written at the end of the file; it was not confirmed,
//! is set aside on opening, and is cut off when the next entry is written.

use std::fs::{self, File, OpenOptions};
use std::io::{Read as _, Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use sha2::{Digest as _, Sha256};

use super::FileError;
use super::read_error::{Place, ReadError};
use super::record_entry::RecordEntry;
use super::store::{self, Expect, LARGEST, StoreError};
use crate::batch::code::BatchCode;
use crate::batch::record::{Entry, Event, Opening, Record, RecordError};

/// The closing part of the name of a record file.
pub const ENDING: &str = ".batch.jsonl";

const FORMAT: &str = "phasewright batch record";
const VERSION: u32 = 1;

/// Why an entry was not recorded, or a record not opened.
#[derive(Debug, thiserror::Error)]
pub enum RecordFileError {
    /// The record does not allow it.
    #[error(transparent)]
    Record(#[from] RecordError),
    /// The file could not be read or written.
    #[error(transparent)]
    File(#[from] FileError),
    /// The chain is broken, so nothing may be added.
    #[error("{0}; nothing can be added to this record")]
    Broken(Fault),
    /// Another window or program has it open.
    #[error("the record is open in another window; close it there ({})", .0.display())]
    Busy(PathBuf),
}

impl From<StoreError> for RecordFileError {
    fn from(error: StoreError) -> Self {
        Self::File(error.into())
    }
}

impl From<ReadError> for RecordFileError {
    fn from(error: ReadError) -> Self {
        Self::File(error.into())
    }
}

/// Where the chain of a record is broken.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Line of the file, from 1.
    pub line: usize,
    /// What is wrong.
    pub message: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "from line {} on the record was changed outside the program: {}",
            self.line, self.message
        )
    }
}

/// A record as read from its file.
#[derive(Debug, Clone, PartialEq)]
pub struct Loaded {
    /// The record, with every entry that can be read.
    pub record: Record,
    /// Where the chain is broken; entries from there on cannot be relied on.
    pub fault: Option<Fault>,
    /// An entry was cut short at the end; it had not been confirmed.
    pub torn: bool,
    /// Bytes up to the end of the last whole entry.
    length: u64,
    /// Hash of the last whole entry.
    last: String,
}

fn header() -> String {
    format!("{{\"format\":\"{FORMAT}\",\"version\":{VERSION}}}")
}

fn hex(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 16] = b"0123456789abcdef";
    let digit = |half: u8| char::from(DIGITS[usize::from(half & 15)]);
    bytes
        .iter()
        .flat_map(|b| [digit(b >> 4), digit(*b)])
        .collect()
}

fn chained(previous: &str, body: &str) -> String {
    let mut hash = Sha256::new();
    hash.update(previous.as_bytes());
    hash.update(b"\n");
    hash.update(body.as_bytes());
    hex(&hash.finalize())
}

fn line_of(previous: &str, entry: &Entry, file: &str) -> Result<(String, String), ReadError> {
    let written = RecordEntry::from_model(entry).map_err(|m| ReadError::whole(file, m))?;
    let body = serde_json::to_string(&written)
        .map_err(|e| ReadError::whole(file, format!("the entry cannot be written: {e}")))?;
    let hash = chained(previous, &body);
    Ok((format!("{hash} {body}\n"), hash))
}

fn entry_of(body: &str) -> Result<Entry, String> {
    serde_json::from_str::<RecordEntry>(body)
        .map_err(|e| e.to_string())
        .and_then(RecordEntry::into_model)
}

fn check_header(line: &str, file: &str) -> Result<(), ReadError> {
    #[derive(serde::Deserialize)]
    struct Header {
        format: String,
        version: u32,
    }
    let here = Some(Place { line: 1, column: 1 });
    let header: Header = serde_json::from_str(line).map_err(|e| {
        ReadError::at(
            file,
            here,
            format!("this is not a batch record; choose another file ({e})"),
        )
    })?;
    if header.format != FORMAT {
        return Err(ReadError::at(
            file,
            here,
            format!(
                "the file says it is a “{}”, but a “{FORMAT}” is wanted here; choose another file",
                header.format
            ),
        ));
    }
    if header.version != VERSION {
        return Err(ReadError::at(
            file,
            here,
            format!(
                "the record is of version {}, this program reads version {VERSION}; it was left untouched, open it with a newer Phasewright",
                header.version
            ),
        ));
    }
    Ok(())
}

/// Reads the bytes of a record. `file` is its name for error messages. Fails only if not
/// even the opening of the batch can be read.
pub fn read_bytes(bytes: &[u8], file: &str) -> Result<Loaded, ReadError> {
    let mut record: Option<Record> = None;
    let mut fault: Option<Fault> = None;
    let mut torn = false;
    let mut length = 0;
    let mut last = String::new();
    let mut number = 0;
    for raw in bytes.split_inclusive(|&b| b == b'\n') {
        number += 1;
        let whole = raw.last() == Some(&b'\n');
        // A file system may fill the end of a file that was cut short with zeros.
        if !whole || raw.contains(&0) {
            torn = true;
            break;
        }
        let text = String::from_utf8_lossy(raw);
        let text = text.trim_end_matches(['\n', '\r']);
        if number == 1 {
            check_header(text, file)?;
            last = chained("", text);
            length += raw.len() as u64;
            continue;
        }
        let broken = |message: String| Fault {
            line: number,
            message,
        };
        let (hash, body) = text.split_once(' ').unwrap_or(("", text));
        if fault.is_none() && chained(&last, body) != hash {
            fault = Some(broken("the hash does not fit".to_owned()));
        }
        let added = entry_of(body).and_then(|entry| match &mut record {
            Some(record) => record.add(entry).map_err(|e| e.to_string()),
            none => Record::open(entry)
                .map(|opened| *none = Some(opened))
                .map_err(|e| e.to_string()),
        });
        if let Err(message) = added {
            if record.is_none() {
                let place = Some(Place {
                    line: number,
                    column: 1,
                });
                return Err(ReadError::at(
                    file,
                    place,
                    format!("the opening of the batch cannot be read: {message}"),
                ));
            }
            fault.get_or_insert_with(|| broken(message));
        }
        hash.clone_into(&mut last);
        length += raw.len() as u64;
    }
    let record = record.ok_or_else(|| {
        ReadError::whole(
            file,
            "the record holds no entry; it was never begun, delete it",
        )
    })?;
    Ok(Loaded {
        record,
        fault,
        torn,
        length,
        last,
    })
}

/// Reads a record without opening it for writing.
pub fn read(path: &Path) -> Result<Loaded, FileError> {
    let (bytes, _) = store::read_bytes(path)?;
    Ok(read_bytes(&bytes, &path.display().to_string())?)
}

/// The records of a folder.
#[derive(Debug, Default)]
pub struct Folder {
    /// Records by code, with their files.
    pub records: Vec<(PathBuf, Loaded)>,
    /// Files that could not be read, and why.
    pub unreadable: Vec<FileError>,
}

impl Folder {
    /// The records alone.
    pub fn records(&self) -> impl Iterator<Item = &Record> + Clone {
        self.records.iter().map(|(_, l)| &l.record)
    }
}

/// Reads every record of a folder. A folder that does not exist yet holds none.
pub fn read_folder(folder: &Path) -> Folder {
    let mut found = Folder::default();
    let Ok(entries) = fs::read_dir(folder) else {
        return found;
    };
    let mut paths: Vec<PathBuf> = entries
        .filter_map(Result::ok)
        .map(|e| e.path())
        .filter(|p| {
            p.file_name()
                .and_then(|n| n.to_str())
                .is_some_and(|n| n.ends_with(ENDING))
        })
        .collect();
    paths.sort();
    for path in paths {
        match read(&path) {
            Ok(loaded) => found.records.push((path, loaded)),
            Err(error) => found.unreadable.push(error),
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
    path: PathBuf,
    file: File,
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
        let path = path_of(folder, &opening.code);
        let file = path.display().to_string();
        fs::create_dir_all(folder).map_err(|e| io("make the folder", folder, e))?;
        // Asked first, because a save would wait for the window that has the record open.
        if path.exists() {
            return Err(StoreError::Exists { path }.into());
        }
        let entry = Entry {
            number: 1,
            at: at.into(),
            by: by.into(),
            event: Event::Opened(Box::new(opening)),
        };
        Record::open(entry.clone())?;
        let header = header();
        let (line, _) = line_of(&chained("", &header), &entry, &file)?;
        let text = format!("{header}\n{line}");
        // A record that could not be opened again is never begun.
        read_bytes(text.as_bytes(), &file)?;
        store::save_text(&path, &text, Expect::Nothing)?;
        Self::open(&path)
    }

    /// Opens a record to go on with it. Only one window can have it open.
    pub fn open(path: &Path) -> Result<Self, RecordFileError> {
        let mut file = OpenOptions::new()
            .read(true)
            .write(true)
            .open(path)
            .map_err(|e| io("open the record", path, e))?;
        match file.try_lock() {
            Ok(()) => {}
            Err(fs::TryLockError::WouldBlock) => return Err(RecordFileError::Busy(path.into())),
            Err(fs::TryLockError::Error(e)) => return Err(io("lock the record", path, e)),
        }
        let mut bytes = Vec::new();
        (&mut file)
            .take(LARGEST)
            .read_to_end(&mut bytes)
            .map_err(|e| io("read the record", path, e))?;
        let loaded = read_bytes(&bytes, &path.display().to_string())?;
        Ok(Self {
            path: path.into(),
            file,
            loaded,
        })
    }

    /// The record.
    pub const fn record(&self) -> &Record {
        &self.loaded.record
    }
    /// Where the chain is broken.
    pub const fn fault(&self) -> Option<&Fault> {
        self.loaded.fault.as_ref()
    }
    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Records an event. When this returns, it is on the disk; if it fails, the record is
    /// as before. `at` is the time by the machine's clock, RFC 3339; `by` is who did it.
    pub fn append(&mut self, at: &str, by: &str, event: Event) -> Result<u64, RecordFileError> {
        if let Some(fault) = &self.loaded.fault {
            return Err(RecordFileError::Broken(fault.clone()));
        }
        self.loaded.record.check(&event)?;
        let number = self.loaded.record.next_number();
        let entry = Entry {
            number,
            at: Arc::from(at),
            by: Arc::from(by),
            event,
        };
        let name = self.path.display().to_string();
        let (line, hash) = line_of(&self.loaded.last, &entry, &name)?;
        self.write(line.as_bytes())
            .map_err(|e| io("write the entry", &self.path, e))?;
        self.loaded.record.add(entry)?;
        self.loaded.length += line.len() as u64;
        self.loaded.last = hash;
        self.loaded.torn = false;
        Ok(number)
    }

    /// Puts a line after the last whole entry, over whatever a failed write left there.
    fn write(&mut self, line: &[u8]) -> std::io::Result<()> {
        if self.file.metadata()?.len() != self.loaded.length {
            self.file.set_len(self.loaded.length)?;
        }
        self.file.seek(SeekFrom::Start(self.loaded.length))?;
        self.file.write_all(line)?;
        self.file.sync_data()
    }
}

fn io(doing: &'static str, path: &Path, cause: std::io::Error) -> RecordFileError {
    RecordFileError::File(FileError::Store(StoreError::Io {
        doing,
        path: path.into(),
        cause,
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::mass::read_mass;
    use crate::batch::record::tests::{opening, weigh};
    use crate::batch::record::{Change, Decision, Quality};
    use crate::formula::ItemId;
    use crate::quantity::celsius;
    use crate::stock::LotId;

    const AT: &str = "2026-06-01T09:00:00+02:00";

    fn begun(folder: &Path) -> RecordFile {
        RecordFile::create(folder, opening("26-001"), AT, "Wren").unwrap()
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
            },
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
            file.append(AT, "Wren", event).unwrap();
        }
        let loaded = read(file.path()).unwrap();
        assert_eq!(&loaded.record, file.record());
        assert_eq!(loaded.fault, None);
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
            Err(RecordFileError::File(FileError::Store(
                StoreError::Exists { .. }
            )))
        ));
    }

    #[test]
    fn two_windows_do_not_write_one_record() {
        let folder = tempfile::tempdir().unwrap();
        let first = begun(folder.path());
        assert!(matches!(
            RecordFile::open(first.path()),
            Err(RecordFileError::Busy(_))
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
            let whole = ends.iter().filter(|&&end| end <= cut).count();
            assert_eq!(loaded.record.entries().len(), whole, "cut at {cut}");
            assert_eq!(loaded.torn, !ends.contains(&cut), "cut at {cut}");
            assert_eq!(loaded.fault, None, "cut at {cut}");
        }
        // Go on after a cut, and after zeros at the end.
        for tail in [&b"0123"[..], &[0; 700][..]] {
            let mut damaged = bytes[..ends[2]].to_vec();
            damaged.extend_from_slice(tail);
            fs::write(&path, &damaged).unwrap();
            let mut file = RecordFile::open(&path).unwrap();
            let remark = Event::Remarked { text: "on".into() };
            assert_eq!(file.append(AT, "Wren", remark).unwrap(), 4);
            drop(file);
            let loaded = read(&path).unwrap();
            assert_eq!(loaded.record.entries().len(), 4);
            assert!(!loaded.torn && loaded.fault.is_none());
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
        // The opening also names 800 g as planned.
        assert_eq!(file.fault().unwrap().line, 2);
        assert_eq!(file.record().entries().len(), 4);
        assert!(matches!(
            file.append(AT, "Wren", Event::Closed),
            Err(RecordFileError::Broken(_))
        ));
        let lines: Vec<&str> = text.lines().collect();
        let without = [lines[0], lines[1], lines[3], lines[4]].join("\n") + "\n";
        let loaded = read_bytes(without.as_bytes(), "x").unwrap();
        assert_eq!(loaded.fault.unwrap().line, 3);
    }

    #[test]
    fn what_is_no_record_is_refused_with_words() {
        let message = |text: &str| read_bytes(text.as_bytes(), "x").unwrap_err().to_string();
        assert!(message("hello\n").contains("not a batch record"));
        let newer = header().replace("\"version\":1", "\"version\":2");
        assert!(message(&format!("{newer}\n")).contains("version 2"));
        assert!(message(&format!("{}\n", header())).contains("holds no entry"));
        assert!(message("").contains("holds no entry"));
    }
}
