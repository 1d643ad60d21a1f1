//! Trials on disk: entries are only ever added at the end and count once they have reached the
//! disk. A crash can leave part of the last line, which was not confirmed: it is kept apart
//! and cut off with the next entry.
#![expect(
    clippy::disallowed_methods,
    reason = "trials move onto the ledger, which goes through the door"
)]

use std::fs::OpenOptions;
use std::io::{Seek as _, SeekFrom, Write as _};
use std::path::{Path, PathBuf};

use super::store::{self, StoreError};
use super::trial_file::{read_entry, write_entry};
use crate::trial::book::{Book, BookError, Entry};

const HEADER: &str = "{\"format\":\"phasewright trials\",\"version\":1}";

/// Why trials cannot be read or an entry not be noted.
#[derive(Debug, thiserror::Error)]
pub enum TrialStoreError {
    /// The file could not be read or written.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The file system.
    #[error("{doing} ({}): {cause}", path.display())]
    Io {
        /// What was done.
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// What the system says.
        cause: std::io::Error,
    },
    /// Another format or version.
    #[error("{} is no file of trials of this version; it was left untouched", .0.display())]
    Other(PathBuf),
    /// A line that is damaged.
    #[error("{}, line {line}: {why}; nothing can be added to it, put back a copy", path.display())]
    Line {
        /// The file.
        path: PathBuf,
        /// The line, from 1.
        line: usize,
        /// What is wrong.
        why: String,
    },
    /// The entry does not follow.
    #[error(transparent)]
    Book(#[from] BookError),
    /// The entry cannot be written.
    #[error("the entry cannot be written: {0}")]
    Entry(String),
}

/// Trials as read.
#[derive(Clone, PartialEq, Debug)]
pub struct Loaded {
    /// What follows from the entries.
    pub book: Book,
    /// The entries.
    pub entries: Vec<Entry>,
    /// Bytes up to the end of the last whole entry.
    length: u64,
    /// Part of an entry that was being written when the program stopped.
    pub torn: Option<Vec<u8>>,
}

/// Reads a file of trials.
pub fn read(path: &Path) -> Result<Loaded, TrialStoreError> {
    let (bytes, _) = store::read_bytes(path)?;
    let whole = bytes.iter().rposition(|b| *b == b'\n').map_or(0, |i| i + 1);
    let (text, rest) = bytes.split_at(whole);
    let text = std::str::from_utf8(text).map_err(|e| TrialStoreError::Line {
        path: path.into(),
        line: 1,
        why: e.to_string(),
    })?;
    let mut lines = text.lines();
    match lines.next() {
        Some(first) if first == HEADER => {}
        // The very first line was torn: nothing was ever confirmed.
        None => {}
        Some(_) => return Err(TrialStoreError::Other(path.into())),
    }
    let mut book = Book::default();
    let mut entries = Vec::new();
    for (i, line) in lines.enumerate() {
        let wrong = |why: String| TrialStoreError::Line {
            path: path.into(),
            line: i + 2,
            why,
        };
        let entry = read_entry(line).map_err(wrong)?;
        book.add(&entry).map_err(|e| wrong(e.to_string()))?;
        entries.push(entry);
    }
    Ok(Loaded {
        book,
        entries,
        length: whole as u64,
        torn: (!rest.is_empty()).then(|| rest.to_vec()),
    })
}

/// Adds an entry, after whatever another window added meanwhile, and gives back what then
/// stands. When this returns, the entry is on the disk.
pub fn append(path: &Path, entry: &Entry) -> Result<Book, TrialStoreError> {
    let io = |doing, cause| TrialStoreError::Io {
        doing,
        path: path.into(),
        cause,
    };
    let mut file = OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)
        .map_err(|e| io("the trials cannot be opened", e))?;
    file.lock()
        .map_err(|e| io("the trials cannot be locked", e))?;
    let there = file
        .metadata()
        .map_err(|e| io("the trials cannot be looked at", e))?
        .len();
    let (mut book, length) = if there == 0 {
        (Book::default(), 0)
    } else {
        let loaded = read(path)?;
        if let Some(torn) = &loaded.torn {
            let aside = path.with_extension("damaged");
            store::save(&aside, torn, store::Expect::Anything)?;
        }
        (loaded.book, loaded.length)
    };
    book.add(entry)?;
    let text = write_entry(entry).map_err(TrialStoreError::Entry)?;
    let again = read_entry(&text).map_err(TrialStoreError::Entry)?;
    if again != *entry {
        return Err(TrialStoreError::Entry(
            "it does not read back as it was".to_owned(),
        ));
    }
    let head = if length == 0 {
        format!("{HEADER}\n")
    } else {
        String::new()
    };
    let written = file
        .set_len(length)
        .and_then(|()| file.seek(SeekFrom::Start(length)))
        .and_then(|_| file.write_all(format!("{head}{text}\n").as_bytes()))
        .and_then(|()| file.sync_all());
    if let Err(cause) = written {
        // What was not confirmed must not stand as if it were.
        let _ = file.set_len(length);
        return Err(io("the entry cannot be written", cause));
    }
    Ok(book)
}
