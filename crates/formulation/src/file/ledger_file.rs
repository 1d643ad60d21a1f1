//! A [`crate::ledger`] on disk.
//!
//! An entry counts as recorded when it has reached the disk. What is left of an entry that
//! was being written when the machine stopped is put into `NAME.damaged` before the next
//! entry takes its place. The number of entries and the last hash are kept in `NAME.head`,
//! written after each entry: so the head may be behind the file after a crash, but never
//! ahead of it, unless something was cut off.
//!
//! A file with faults is read as far as it can be, and never written.

use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::FileError;
use super::disk::{self, Access, Handle};
use super::read_error::ReadError;
use super::store::{self, Expect, LARGEST, Readers, StoreError};
use crate::ledger::{self, Fault, Head, LedgerError, LedgerKind, LedgerRead, Tip};

/// Why an entry was not recorded, or a ledger not opened.
#[derive(Debug, thiserror::Error)]
pub enum LedgerFileError {
    /// The file could not be read or written.
    #[error(transparent)]
    File(#[from] FileError),
    /// Something is wrong with what was recorded, so nothing may be added.
    #[error(
        "{0}; nothing can be added to this file. Keep it as it is, put back a copy made before, or go on in a new one that names it"
    )]
    Broken(Fault),
    /// Another window or program has it open.
    #[error("it is open in another window; close it there and try again ({})", .0.display())]
    Busy(PathBuf),
    /// A file of this name was there and is gone.
    #[error("a file of this name was begun before and is gone, only its count is left; put it back, or choose another name ({})", .0.display())]
    Gone(PathBuf),
    /// The disk did not say whether the entry is on it.
    #[error("the disk failed while the entry was being written, and it is not known whether it is recorded; open the file again and look ({})", .0.display())]
    Unsure(PathBuf),
}

impl From<StoreError> for LedgerFileError {
    fn from(error: StoreError) -> Self {
        Self::File(error.into())
    }
}

impl From<ReadError> for LedgerFileError {
    fn from(error: ReadError) -> Self {
        Self::File(error.into())
    }
}

/// Where the head of a ledger is kept: `NAME.head`.
pub fn head_path(path: &Path) -> PathBuf {
    store::with_suffix(path, ".head")
}

/// Where what was torn is kept: `NAME.damaged`.
pub fn damaged_path(path: &Path) -> PathBuf {
    store::with_suffix(path, ".damaged")
}

fn io(doing: &'static str, path: &Path, cause: io::Error) -> LedgerFileError {
    StoreError::Io {
        doing,
        path: path.into(),
        cause,
    }
    .into()
}

/// The head beside a ledger, and a remark if it cannot be used.
fn head_of(path: &Path) -> (Option<Head>, Option<String>) {
    let head = head_path(path);
    match store::read_at_most(&head, 1 << 16) {
        Err(StoreError::Missing { .. }) => (None, None),
        Err(error) => (None, Some(error.to_string())),
        Ok((bytes, _)) => match Head::read(&String::from_utf8_lossy(&bytes)) {
            Ok(head) => (Some(head), None),
            Err(why) => (
                None,
                Some(format!(
                    "the count kept beside the file cannot be read: {why} ({})",
                    head.display()
                )),
            ),
        },
    }
}

fn read_whole<K: LedgerKind>(bytes: &[u8], path: &Path) -> Result<LedgerRead<K::Entry>, ReadError> {
    let (head, remark) = head_of(path);
    let mut reading = ledger::read::<K>(bytes, head.as_ref())
        .map_err(|e: LedgerError| ReadError::whole(&path.display().to_string(), e.to_string()))?;
    if let Some(remark) = remark {
        reading.remarks.insert(0, remark);
    }
    if reading.torn.is_some() {
        reading.remarks.push(format!(
            "the last entry was cut short while it was being written and had not been confirmed; what is left of it goes to {} with the next entry",
            damaged_path(path).display()
        ));
    }
    Ok(reading)
}

/// Reads a ledger without opening it for writing.
pub fn read<K: LedgerKind>(path: &Path) -> Result<LedgerRead<K::Entry>, FileError> {
    let (bytes, _) = store::read_bytes(path)?;
    Ok(read_whole::<K>(&bytes, path)?)
}

/// A ledger that is open for writing, by this program alone.
#[derive(Debug)]
pub struct LedgerFile {
    path: PathBuf,
    file: Handle,
    tip: Tip,
    faults: Vec<Fault>,
    torn: Option<Vec<u8>>,
    /// An entry may or may not be on the disk.
    unsure: bool,
    /// The head could not be written.
    head_behind: Option<String>,
}

/// How long a program waits for another that adds an entry.
pub(super) const PATIENCE: Duration = Duration::from_secs(5);

impl LedgerFile {
    /// Begins a ledger with its first entry, in a folder that is made if need be. Fails if
    /// there is a file of that name. Who may read it is as with `readers`.
    pub fn create<K: LedgerKind>(
        path: &Path,
        first: &K::Entry,
        readers: Readers<'_>,
    ) -> Result<(Self, LedgerRead<K::Entry>), LedgerFileError> {
        let name = path.display().to_string();
        let folder = store::folder_of(path);
        disk::make_folders(folder, Access::Usual).map_err(|e| io("make the folder", folder, e))?;
        // Asked first, because a save would wait for the window that has the file open.
        if disk::is_there(path) {
            return Err(StoreError::Exists { path: path.into() }.into());
        }
        let written = |e| ReadError::whole(&name, format!("the entry cannot be written: {e}"));
        let (header, tip) = ledger::begin::<K>().map_err(written)?;
        let (line, tip) = ledger::next_line::<K>(&tip, first).map_err(written)?;
        let text = header + &line;
        // A ledger that could not be read again is never begun.
        let head = Head::of(&tip);
        let reading = ledger::read::<K>(text.as_bytes(), Some(&head))
            .map_err(|e| ReadError::whole(&name, e.to_string()))?;
        if let Some(fault) = reading.faults.first() {
            return Err(LedgerFileError::Broken(fault.clone()));
        }
        let left = head_path(path);
        if disk::is_there(&left) {
            return Err(LedgerFileError::Gone(left));
        }
        store::save_for(path, text.as_bytes(), Expect::Nothing, readers)?;
        let behind = write_head(path, &head).err().map(|e| e.to_string());
        let (mut file, reading) = Self::open::<K>(path)?;
        file.head_behind = behind;
        Ok((file, reading))
    }

    /// Opens a ledger to go on with it. Only one program can have it open.
    pub fn open<K: LedgerKind>(
        path: &Path,
    ) -> Result<(Self, LedgerRead<K::Entry>), LedgerFileError> {
        Self::open_within::<K>(path, Duration::ZERO)
    }

    /// The same, waiting for another program to let go of it.
    pub(super) fn open_within<K: LedgerKind>(
        path: &Path,
        patience: Duration,
    ) -> Result<(Self, LedgerRead<K::Entry>), LedgerFileError> {
        // Looked at first: opening a pipe would wait for its other end.
        let about = disk::look(path).map_err(|e| io("open the file", path, e))?;
        match about.kind() {
            disk::FileKind::File => {}
            disk::FileKind::Folder => return Err(StoreError::IsFolder { path: path.into() }.into()),
            disk::FileKind::Other(what) => {
                return Err(StoreError::NotOrdinary {
                    path: path.into(),
                    what,
                }
                .into());
            }
        }
        let mut file = Handle::open(path).map_err(|e| io("open the file", path, e))?;
        let locked = file
            .lock_within(patience)
            .map_err(|e| io("lock the file", path, e))?;
        if !locked {
            return Err(LedgerFileError::Busy(path.into()));
        }
        let bytes = file
            .bytes(LARGEST + 1)
            .map_err(|e| io("read the file", path, e))?;
        if bytes.len() as u64 > LARGEST {
            return Err(StoreError::TooLarge {
                path: path.into(),
                length: bytes.len() as u64,
                most: LARGEST,
            }
            .into());
        }
        let reading = read_whole::<K>(&bytes, path)?;
        let open = Self {
            path: path.into(),
            file,
            tip: reading.tip.clone(),
            faults: reading.faults.clone(),
            torn: reading.torn.clone(),
            unsure: false,
            head_behind: None,
        };
        Ok((open, reading))
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Why the count beside the file could not be brought up to date, though the entry is
    /// recorded; it is tried again with the next entry.
    pub fn head_behind(&self) -> Option<&str> {
        self.head_behind.as_deref()
    }

    /// Records an entry. When this returns, it is on the disk; if it fails, the ledger is as
    /// before, except for [`LedgerFileError::Unsure`].
    pub fn append<K: LedgerKind>(&mut self, entry: &K::Entry) -> Result<(), LedgerFileError> {
        if let Some(fault) = self.faults.first() {
            return Err(LedgerFileError::Broken(fault.clone()));
        }
        if self.unsure {
            return Err(LedgerFileError::Unsure(self.path.clone()));
        }
        let (line, tip) = ledger::next_line::<K>(&self.tip, entry).map_err(|e| {
            ReadError::whole(
                &self.path.display().to_string(),
                format!("the entry cannot be written: {e}"),
            )
        })?;
        // Looked at before, so that an entry is never written that could not be read again.
        let text = line.trim_start_matches('\n').trim_end_matches('\n');
        let body = text.split_once(' ').map_or(text, |(_, body)| body);
        K::read(body, *K::VERSIONS.end()).map_err(|e| {
            ReadError::whole(
                &self.path.display().to_string(),
                format!("the entry could not be read again: {e}"),
            )
        })?;
        if tip.length > LARGEST {
            return Err(StoreError::TooLarge {
                path: self.path.clone(),
                length: tip.length,
                most: LARGEST,
            }
            .into());
        }
        self.set_torn_aside()?;
        let from = self.tip.length;
        if let Err(cause) = self.put(from, line.as_bytes()) {
            // Taken back, so that an entry said to have failed does not turn up later.
            let back = self.file.set_length(from).and_then(|()| self.file.sync());
            if back.is_err() {
                self.unsure = true;
                return Err(LedgerFileError::Unsure(self.path.clone()));
            }
            return Err(io("write the entry", &self.path, cause));
        }
        self.tip = tip;
        self.head_behind = write_head(&self.path, &Head::of(&self.tip))
            .err()
            .map(|e| e.to_string());
        Ok(())
    }

    /// Puts a line after the last whole entry, over whatever a failed write left there.
    fn put(&mut self, from: u64, line: &[u8]) -> io::Result<()> {
        if self.file.about()?.length() != from {
            self.file.set_length(from)?;
        }
        self.file.write(from, line)?;
        self.file.sync()
    }

    fn set_torn_aside(&mut self) -> Result<(), LedgerFileError> {
        let Some(torn) = &self.torn else {
            return Ok(());
        };
        let path = damaged_path(&self.path);
        let mut kept = match store::read_bytes(&path) {
            Ok((bytes, _)) => bytes,
            Err(StoreError::Missing { .. }) => Vec::new(),
            Err(error) => return Err(error.into()),
        };
        // Not twice, if the entry after it failed the first time.
        if !kept.ends_with(torn) {
            kept.extend_from_slice(torn);
            store::replace(&path, &kept, Readers::Like(&self.path))?;
        }
        self.torn = None;
        Ok(())
    }
}

/// Writes the head of a ledger. No copy of the one before is kept: it is of no use.
fn write_head(path: &Path, head: &Head) -> Result<(), StoreError> {
    let target = head_path(path);
    let text = head.write().map_err(|e| StoreError::Io {
        doing: "write the count beside the file",
        path: target.clone(),
        cause: io::Error::other(e),
    })?;
    store::replace(&target, text.as_bytes(), Readers::Like(path))
}
