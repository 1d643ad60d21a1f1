//! Files on disk, kept from harm.
//!
//! A save writes a temporary file beside the target, syncs it, keeps the content
//! that is about to be replaced as the last good copy, and renames. A crash at any
//! point leaves either the old file or the new one, never a half of each.
//! What another program has written since the file was read is never overwritten
//! unasked: a [`Stamp`] of the content last seen travels with every document.

use std::ffi::OsString;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, SystemTime};

use sha2::{Digest as _, Sha256};

use super::disk::{self, Access, FileFacts, FileKind, Handle};

/// Largest file read: 64 MiB, far above any formula with its history.
pub const LARGEST: u64 = 64 * 1024 * 1024;

/// What a file held when it was last read or written by us.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Stamp {
    sha256: [u8; 32],
    length: u64,
    modified: Option<SystemTime>,
}

impl Stamp {
    fn of(bytes: &[u8], file: Option<&FileFacts>) -> Self {
        Self {
            sha256: Sha256::digest(bytes).into(),
            length: bytes.len() as u64,
            modified: file.and_then(FileFacts::modified),
        }
    }
    /// The SHA-256 of the content, in hexadecimal digits.
    pub fn digest(&self) -> String {
        let digits = self.sha256.iter().map(|byte| format!("{byte:02x}"));
        digits.collect()
    }
    /// Whether both stand for the same content, whenever it was written.
    pub fn same_content(&self, other: &Self) -> bool {
        self.sha256 == other.sha256
    }
}

/// What has become of a file since a [`Stamp`] was taken.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Since {
    /// Its content is the same.
    Same,
    /// Another program changed it.
    Changed,
    /// It is no longer there.
    Gone,
}

/// What a save expects to find in the place it writes to.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Expect {
    /// Nothing: the file is new.
    Nothing,
    /// The content last seen.
    Last(Stamp),
    /// Whatever is there; the person was asked and wants it replaced.
    Anything,
}

/// Why a file could not be read or saved.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// No such file.
    #[error("there is no such file; check the name ({})", .path.display())]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// A save into a folder that is not there.
    #[error("the folder is not there; make it first or choose another place ({})", .path.display())]
    NoFolder {
        /// The folder.
        path: PathBuf,
    },
    /// A folder where a file is expected.
    #[error("this is a folder, not a file; name a file in it ({})", .path.display())]
    IsFolder {
        /// The folder.
        path: PathBuf,
    },
    /// The operating system refused.
    #[error("cannot {doing}: {cause}; check the permissions and the free space ({})", .path.display())]
    Io {
        /// What was tried, for example "read the file".
        doing: &'static str,
        /// The file.
        path: PathBuf,
        /// What the operating system said.
        cause: io::Error,
    },
    /// A pipe, a device, a socket.
    #[error("this is {what}, not an ordinary file; name a file ({})", .path.display())]
    NotOrdinary {
        /// Its path.
        path: PathBuf,
        /// What it is.
        what: &'static str,
    },
    /// Protected from writing, or another person's.
    #[error("the file may not be written; take its protection off or save under another name ({})", .path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// A file with several names.
    #[error("the file has {names} names (hard links), and a save would part them; save under another name or confirm that it is to be replaced ({})", .path.display())]
    Linked {
        /// The file.
        path: PathBuf,
        /// How many.
        names: u64,
    },
    /// Another program holds it.
    #[error("another program is working on the file and does not let go; close it there and try again ({})", .path.display())]
    Busy {
        /// The file.
        path: PathBuf,
    },
    /// Larger than what is read of such files.
    #[error("the file has {length} bytes, more than the {most} that are read; it is not a file of this program ({})", .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its length.
        length: u64,
        /// What is read at most.
        most: u64,
    },
    /// Not UTF-8.
    #[error("the file is not text in UTF-8 (byte {offset} cannot be read); save it as UTF-8 and try again ({})", .path.display())]
    NotText {
        /// The file.
        path: PathBuf,
        /// The first byte that does not fit, counted from 0.
        offset: usize,
    },
    /// A save to a place where a file already is.
    #[error("a file of this name already exists; choose another name or confirm that it is to be replaced ({})", .path.display())]
    Exists {
        /// The file.
        path: PathBuf,
    },
    /// Another program changed the file since it was read.
    #[error("another program changed the file since it was opened; nothing was written. Open it again, save under another name, or confirm that it is to be replaced ({})", .path.display())]
    ChangedElsewhere {
        /// The file.
        path: PathBuf,
    },
}

impl StoreError {
    fn io(doing: &'static str, path: &Path, cause: io::Error) -> Self {
        let folder = path.parent().filter(|f| !f.as_os_str().is_empty());
        match cause.kind() {
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory if doing == READ => {
                Self::Missing { path: path.into() }
            }
            io::ErrorKind::NotFound | io::ErrorKind::NotADirectory => Self::NoFolder {
                path: folder.unwrap_or(path).into(),
            },
            io::ErrorKind::IsADirectory => Self::IsFolder { path: path.into() },
            _ => Self::Io {
                doing,
                path: path.into(),
                cause,
            },
        }
    }
}

const READ: &str = "read the file";

/// Reads a whole file and the stamp of what was read. Only an ordinary file is read, at
/// most [`LARGEST`] bytes of it: a pipe or a device would block or never end.
pub fn read_bytes(path: &Path) -> Result<(Vec<u8>, Stamp), StoreError> {
    read_at_most(path, LARGEST)
}

/// Reads a whole file of at most so many bytes.
pub fn read_at_most(path: &Path, most: u64) -> Result<(Vec<u8>, Stamp), StoreError> {
    let fail = |cause| StoreError::io(READ, path, cause);
    ordinary(path, &disk::look(path).map_err(fail)?)?;
    let mut file = Handle::read(path).map_err(fail)?;
    let about = file.about().map_err(fail)?;
    ordinary(path, &about)?;
    // One byte more than allowed tells a file that grows or has no length.
    let bytes = file.bytes(most + 1).map_err(fail)?;
    if bytes.len() as u64 > most {
        return Err(StoreError::TooLarge {
            path: path.into(),
            length: about.length().max(bytes.len() as u64),
            most,
        });
    }
    let stamp = Stamp::of(&bytes, Some(&about));
    Ok((bytes, stamp))
}

fn ordinary(path: &Path, about: &FileFacts) -> Result<(), StoreError> {
    match about.kind() {
        FileKind::File => Ok(()),
        FileKind::Folder => Err(StoreError::IsFolder { path: path.into() }),
        FileKind::Other(what) => Err(StoreError::NotOrdinary {
            path: path.into(),
            what,
        }),
    }
}

/// Reads a text file in UTF-8; a byte order mark at its start is dropped.
pub fn read_text(path: &Path) -> Result<(String, Stamp), StoreError> {
    read_text_at_most(path, LARGEST)
}

/// Reads a text file of at most so many bytes, see [`read_text`].
pub fn read_text_at_most(path: &Path, most: u64) -> Result<(String, Stamp), StoreError> {
    let (bytes, stamp) = read_at_most(path, most)?;
    let mut text = String::from_utf8(bytes).map_err(|error| StoreError::NotText {
        path: path.into(),
        offset: error.utf8_error().valid_up_to(),
    })?;
    if text.starts_with('\u{feff}') {
        text.drain(..'\u{feff}'.len_utf8());
    }
    Ok((text, stamp))
}

/// Whether a file still holds what it held. Cheap when its length and time of
/// change are as they were; otherwise its content decides.
pub fn since(path: &Path, stamp: &Stamp) -> Result<Since, StoreError> {
    match disk::look(path) {
        Ok(about)
            if about.length() == stamp.length
                && stamp.modified.is_some()
                && about.modified() == stamp.modified =>
        {
            Ok(Since::Same)
        }
        Ok(_) => content_since(path, stamp),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(Since::Gone),
        Err(error) => Err(StoreError::io(READ, path, error)),
    }
}

fn content_since(path: &Path, stamp: &Stamp) -> Result<Since, StoreError> {
    match read_bytes(path) {
        Ok((_, now)) if now.same_content(stamp) => Ok(Since::Same),
        Ok(_) | Err(StoreError::TooLarge { .. }) => Ok(Since::Changed),
        Err(StoreError::Missing { .. }) => Ok(Since::Gone),
        Err(error) => Err(error),
    }
}

/// Where the content that the last save replaced is kept: `NAME.previous`.
pub fn previous_path(path: &Path) -> PathBuf {
    with_suffix(path, ".previous")
}

/// Where content of another program that was replaced on request is kept:
/// `NAME.replaced`.
pub fn replaced_path(path: &Path) -> PathBuf {
    with_suffix(path, ".replaced")
}

/// The path with something added to its name.
pub(super) fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.file_name().map(OsString::from).unwrap_or_default();
    name.push(suffix);
    path.with_file_name(name)
}

/// Who may read a file that is saved, if nothing of its name is there yet.
#[derive(Clone, Copy, Debug)]
pub enum Readers<'a> {
    /// Whoever may by the habits of the machine.
    Usual,
    /// Its owner alone.
    Private,
    /// Those who may read the file it is made from.
    Like(&'a Path),
}

/// Saves a file atomically and returns the stamp of what was written.
///
/// The content replaced is kept beside it, see [`previous_path`] and
/// [`replaced_path`]; if nothing changes, nothing is written. A link is followed and its
/// target replaced; permissions stay, and owner and group where the system lets us. Refused
/// are files that are protected from writing, have further names (hard links, which a new
/// file would part; with [`Expect::Anything`] it is done), and whatever is no ordinary file.
/// Two copies of the program that save the same file at once are told apart by a lock: the
/// second finds the file changed.
pub fn save(path: &Path, bytes: &[u8], expect: Expect) -> Result<Stamp, StoreError> {
    save_for(path, bytes, expect, Readers::Usual)
}

/// Saves a text file atomically, see [`save`].
pub fn save_text(path: &Path, text: &str, expect: Expect) -> Result<Stamp, StoreError> {
    save(path, text.as_bytes(), expect)
}

/// Saves a file atomically, see [`save`], and says who may read it if it is new.
pub fn save_for(
    path: &Path,
    bytes: &[u8],
    expect: Expect,
    readers: Readers<'_>,
) -> Result<Stamp, StoreError> {
    // A save through a link must replace the file it leads to, not the link.
    let target = disk::followed(path);
    let folder = folder_of(&target);
    sweep(folder, &target);
    let lock = lock_existing(&target)?;
    let before = if lock.is_some() {
        disk::look(&target).ok()
    } else {
        None
    };
    let now = match read_bytes(&target) {
        Ok((_, now)) => Some(now),
        Err(StoreError::Missing { .. }) => None,
        // Too large for a file of ours, so certainly not what was seen last.
        Err(StoreError::TooLarge { .. }) if expect == Expect::Anything => {
            Some(Stamp::of(b"", None))
        }
        Err(StoreError::TooLarge { .. }) => {
            return Err(StoreError::ChangedElsewhere { path: path.into() });
        }
        Err(error) => return Err(error),
    };
    match (expect, now) {
        (Expect::Nothing, Some(_)) => return Err(StoreError::Exists { path: path.into() }),
        (_, Some(now)) if now.same_content(&Stamp::of(bytes, None)) => return Ok(now),
        (Expect::Last(last), Some(now)) if !now.same_content(&last) => {
            return Err(StoreError::ChangedElsewhere { path: path.into() });
        }
        _ => {}
    }
    if let Some(about) = &before
        && about.names() > 1
        && expect != Expect::Anything
    {
        return Err(StoreError::Linked {
            path: path.into(),
            names: about.names(),
        });
    }
    let like = match (&before, readers) {
        (Some(about), _) => Some(about.clone()),
        (None, Readers::Like(model)) => disk::look(model).ok(),
        (None, _) => None,
    };
    let access = match readers {
        Readers::Private => Access::Private,
        _ => Access::Usual,
    };
    let temporary = Temporary::write(folder, &target, bytes, access, like.as_ref())?;
    if now.is_some() {
        let known_good = matches!(expect, Expect::Last(_));
        let copy = if known_good {
            previous_path(&target)
        } else {
            replaced_path(&target)
        };
        keep_copy(folder, &target, &copy, access, like.as_ref())?;
    }
    let stamp = temporary.put(&target, now.is_none() && expect == Expect::Nothing, bytes)?;
    drop(lock);
    disk::sync_folder(folder).map_err(|cause| StoreError::io("make the save last", path, cause))?;
    Ok(stamp)
}

/// Keeps the text of a file beside it, because what is about to be saved does not hold all of
/// it: `stock.ron` as `stock.LABEL.ron`, or with a number where that is taken by another text.
/// What was kept before is not kept twice.
pub fn keep_aside(path: &Path, text: &str, label: &str) -> Result<PathBuf, StoreError> {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    for number in 1_u32.. {
        let copy = path.with_file_name(if number == 1 {
            format!("{stem}.{label}.{ending}")
        } else {
            format!("{stem}.{label}.{number}.{ending}")
        });
        match save_for(&copy, text.as_bytes(), Expect::Nothing, Readers::Like(path)) {
            Ok(_) => return Ok(copy),
            Err(StoreError::Exists { .. }) => {
                if read_text(&copy).is_ok_and(|(kept, _)| kept == text) {
                    return Ok(copy);
                }
            }
            Err(error) => return Err(error),
        }
    }
    Err(StoreError::Exists { path: path.into() })
}

/// The name by which [`keep_aside`] keeps a text with comments.
pub const WITH_COMMENTS: &str = "with-comments";

/// Replaces a file of the program's own atomically, without a copy of what was there.
pub fn replace(path: &Path, bytes: &[u8], readers: Readers<'_>) -> Result<(), StoreError> {
    let folder = folder_of(path);
    sweep(folder, path);
    let (access, like) = match readers {
        Readers::Private => (Access::Private, None),
        Readers::Like(model) => (Access::Usual, disk::look(model).ok()),
        Readers::Usual => (Access::Usual, None),
    };
    Temporary::write(folder, path, bytes, access, like.as_ref())?.put(path, false, bytes)?;
    disk::sync_folder(folder).map_err(|cause| StoreError::io("make the save last", path, cause))
}

/// The folder a file is in.
pub(super) fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// A file being written beside its target; removed if it is not put in place. It is locked
/// as long as it is being written, so that one left by a program that was ended can be told.
struct Temporary {
    path: PathBuf,
    placed: bool,
    _file: Handle,
}

impl Temporary {
    fn write(
        folder: &Path,
        target: &Path,
        bytes: &[u8],
        access: Access,
        like: Option<&FileFacts>,
    ) -> Result<Self, StoreError> {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let name = target
            .file_name()
            .map(|n| n.to_string_lossy().into_owned())
            .unwrap_or_default();
        // Nobody else sees the content before it has the permissions of its model.
        let access = if like.is_some() {
            Access::Private
        } else {
            access
        };
        loop {
            let count = COUNT.fetch_add(1, Ordering::Relaxed);
            let path = folder.join(format!(".{name}.{}-{count}.part", std::process::id()));
            let mut file = match Handle::create(&path, access) {
                Ok(file) => file,
                // Left by a process of the same number that crashed.
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists => continue,
                Err(cause) => return Err(StoreError::io("write beside the file", target, cause)),
            };
            // Without a lock it is told by its age alone.
            let _ = file.lock_now();
            let written = file
                .write(0, bytes)
                .and_then(|()| like.map_or(Ok(()), |about| file.resemble(about)))
                .and_then(|()| file.sync());
            let temporary = Self {
                path,
                placed: false,
                _file: file,
            };
            written.map_err(|cause| StoreError::io("write the file", target, cause))?;
            return Ok(temporary);
        }
    }

    fn put(mut self, target: &Path, new: bool, bytes: &[u8]) -> Result<Stamp, StoreError> {
        let fail = |cause: io::Error| match cause.kind() {
            io::ErrorKind::AlreadyExists => StoreError::Exists {
                path: target.into(),
            },
            _ => StoreError::io("save the file", target, cause),
        };
        // A link fails where a file has appeared meanwhile; a rename would replace it.
        let linked = if new {
            match disk::link(&self.path, target) {
                Ok(()) => true,
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                    return Err(fail(error));
                }
                Err(_) => false, // a file system without links
            }
        } else {
            false
        };
        if !linked {
            disk::rename(&self.path, target).map_err(fail)?;
            self.placed = true;
        }
        Ok(Stamp::of(bytes, disk::look(target).ok().as_ref()))
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        if !self.placed {
            // Nothing can be done about a file that will not go; the next save tries again.
            let _ = disk::remove(&self.path);
        }
    }
}

/// How old a temporary file must be before it is taken for left behind: its writer locks it
/// within an instant.
const LEFT_BEHIND: Duration = Duration::from_mins(1);

/// Removes temporary files of a target that a program left when it was ended.
fn sweep(folder: &Path, target: &Path) {
    let Some(name) = target.file_name().and_then(|n| n.to_str()) else {
        return;
    };
    let beginning = format!(".{name}.");
    let Ok(found) = disk::list(folder) else {
        return;
    };
    for path in found {
        let named = path
            .file_name()
            .and_then(|n| n.to_str())
            .is_some_and(|n| n.starts_with(&beginning))
            && path.extension().is_some_and(|e| e == "part");
        if named && is_left_behind(&path, target) {
            // Tried again at the next save.
            let _ = disk::remove(&path);
        }
    }
}

fn is_left_behind(path: &Path, target: &Path) -> bool {
    let Ok(about) = disk::look(path) else {
        return false;
    };
    if about.kind() != FileKind::File {
        return false;
    }
    // A second name of what is already in place: the program ended just before taking it away.
    if disk::look(target).is_ok_and(|t| t.same_file(&about)) {
        return true;
    }
    let old = about
        .modified()
        .and_then(|at| at.elapsed().ok())
        .is_some_and(|age| age > LEFT_BEHIND);
    old && Handle::read(path).is_ok_and(|file| file.lock_now().unwrap_or(false))
}

/// How long a save waits for another program that is saving the same file.
const PATIENCE: Duration = Duration::from_secs(5);

/// Takes a lock on the file about to be replaced, if there is one. Whoever waited
/// for it looks at the content afresh afterwards.
fn lock_existing(target: &Path) -> Result<Option<Handle>, StoreError> {
    match disk::look(target) {
        Ok(about) => {
            ordinary(target, &about)?;
            if about.read_only() {
                return Err(StoreError::ReadOnly {
                    path: target.into(),
                });
            }
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(StoreError::io("look at the file", target, error)),
    }
    // Opened for writing, because a file one may not write is not to be replaced either.
    match Handle::open(target) {
        Ok(file) => match file.lock_within(PATIENCE) {
            Ok(false) => Err(StoreError::Busy {
                path: target.into(),
            }),
            // Some network file systems have no locks; the check of the content remains.
            Ok(true) | Err(_) => Ok(Some(file)),
        },
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error)
            if matches!(
                error.kind(),
                io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem
            ) =>
        {
            Err(StoreError::ReadOnly {
                path: target.into(),
            })
        }
        Err(error) => Err(StoreError::io("open the file for writing", target, error)),
    }
}

/// Keeps the present content of `target` as `copy`, replacing an older copy atomically.
fn keep_copy(
    folder: &Path,
    target: &Path,
    copy: &Path,
    access: Access,
    like: Option<&FileFacts>,
) -> Result<(), StoreError> {
    const DOING: &str = "keep a copy of the last version";
    let length = disk::look(target)
        .map_err(|cause| StoreError::io(DOING, target, cause))?
        .length();
    // A file too large for one of ours is replaced only when asked; it is kept nonetheless.
    let (bytes, _) = read_at_most(target, length.max(LARGEST))?;
    let mut kept = Temporary::write(folder, copy, &bytes, access, like)?;
    disk::rename(&kept.path, copy).map_err(|cause| StoreError::io(DOING, copy, cause))?;
    kept.placed = true;
    Ok(())
}

#[cfg(test)]
mod tests {
    use std::fs::{self, File};

    use super::*;

    fn folder() -> tempfile::TempDir {
        tempfile::tempdir().unwrap()
    }

    fn names(folder: &Path) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_save_keeps_the_last_version_and_leaves_nothing_else() {
        let dir = folder();
        let path = dir.path().join("gel.formula.ron");
        let first = save_text(&path, "one", Expect::Nothing).unwrap();
        assert_eq!(names(dir.path()), ["gel.formula.ron"]);
        let second = save_text(&path, "two", Expect::Last(first)).unwrap();
        save_text(&path, "three", Expect::Last(second)).unwrap();
        assert_eq!(
            names(dir.path()),
            ["gel.formula.ron", "gel.formula.ron.previous"]
        );
        assert_eq!(read_text(&path).unwrap().0, "three");
        assert_eq!(read_text(&previous_path(&path)).unwrap().0, "two");
    }

    #[test]
    fn what_another_program_wrote_is_not_overwritten_unasked() {
        let dir = folder();
        let path = dir.path().join("gel.formula.ron");
        let mine = save_text(&path, "mine", Expect::Nothing).unwrap();
        assert_eq!(since(&path, &mine).unwrap(), Since::Same);
        fs::write(&path, "theirs").unwrap();
        assert_eq!(since(&path, &mine).unwrap(), Since::Changed);
        let refused = save_text(&path, "mine again", Expect::Last(mine));
        assert!(matches!(refused, Err(StoreError::ChangedElsewhere { .. })));
        assert_eq!(fs::read_to_string(&path).unwrap(), "theirs");
        // Asked, it is replaced, and theirs is kept apart from the last good copy.
        save_text(&path, "mine again", Expect::Anything).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "mine again");
        assert_eq!(fs::read_to_string(replaced_path(&path)).unwrap(), "theirs");
        assert!(matches!(
            save_text(&path, "new", Expect::Nothing),
            Err(StoreError::Exists { .. })
        ));
        fs::remove_file(&path).unwrap();
        assert_eq!(since(&path, &mine).unwrap(), Since::Gone);
    }

    #[test]
    fn a_change_of_the_same_length_is_noticed() {
        let dir = folder();
        let path = dir.path().join("a");
        let stamp = save_text(&path, "12.5", Expect::Nothing).unwrap();
        fs::write(&path, "21.5").unwrap();
        let later = fs::metadata(&path).unwrap().modified().unwrap() + Duration::from_secs(2);
        File::open(&path).unwrap().set_modified(later).unwrap();
        assert_eq!(since(&path, &stamp).unwrap(), Since::Changed);
        // The same content written again is no change.
        fs::write(&path, "12.5").unwrap();
        assert_eq!(since(&path, &stamp).unwrap(), Since::Same);
    }

    #[test]
    fn a_failed_save_leaves_the_old_file_whole() {
        let dir = folder();
        let path = dir.path().join("gel.formula.ron");
        let stamp = save_text(&path, "good", Expect::Nothing).unwrap();
        // A folder in the way of the copy makes the save fail after the temporary file was written.
        fs::create_dir(previous_path(&path)).unwrap();
        fs::write(previous_path(&path).join("x"), "").unwrap();
        assert!(save_text(&path, "better", Expect::Last(stamp)).is_err());
        assert_eq!(fs::read_to_string(&path).unwrap(), "good");
        assert_eq!(
            names(dir.path()),
            ["gel.formula.ron", "gel.formula.ron.previous"]
        );
    }

    #[test]
    fn a_crash_between_writing_and_renaming_leaves_the_old_file_whole() {
        let dir = folder();
        let path = dir.path().join("gel.formula.ron");
        save_text(&path, "good", Expect::Nothing).unwrap();
        // What a killed process leaves: its part file, half written, never renamed.
        let part = Temporary::write(dir.path(), &path, b"hal", Access::Usual, None).unwrap();
        std::mem::forget(part);
        let (text, stamp) = read_text(&path).unwrap();
        assert_eq!(text, "good");
        save_text(&path, "next", Expect::Last(stamp)).unwrap();
        assert_eq!(fs::read_to_string(&path).unwrap(), "next");
    }

    #[test]
    fn of_many_writers_that_saw_the_same_file_one_wins() {
        let dir = folder();
        let path = dir.path().join("gel.formula.ron");
        let stamp = save_text(&path, "start", Expect::Nothing).unwrap();
        let path = &path;
        let saved = std::thread::scope(|scope| {
            let writers: Vec<_> = (0..8)
                .map(|i| {
                    scope.spawn(move || {
                        save_text(path, &format!("writer {i}"), Expect::Last(stamp)).is_ok()
                    })
                })
                .collect();
            writers
                .into_iter()
                .map(|w| w.join().unwrap())
                .filter(|&saved| saved)
                .count()
        });
        assert_eq!(saved, 1);
        assert!(fs::read_to_string(path).unwrap().starts_with("writer "));
        assert_eq!(fs::read_to_string(previous_path(path)).unwrap(), "start");
    }

    #[test]
    fn a_folder_that_is_missing_or_in_the_way_is_said() {
        let dir = folder();
        let place = dir.path().join("none").join("gel.formula.ron");
        let error = save_text(&place, "x", Expect::Nothing).unwrap_err();
        let StoreError::NoFolder { path } = &error else {
            panic!("{error}");
        };
        assert_eq!(path, place.parent().unwrap());
        let error = read_text(dir.path()).unwrap_err().to_string();
        assert!(error.starts_with("this is a folder"), "{error}");
        let error = save_text(dir.path(), "x", Expect::Nothing).unwrap_err();
        assert!(matches!(error, StoreError::IsFolder { .. }), "{error}");
        // A path that leads through a file leads to no file.
        let file = dir.path().join("a");
        fs::write(&file, "x").unwrap();
        let error = read_text(&file.join("b")).unwrap_err();
        assert!(matches!(error, StoreError::Missing { .. }), "{error}");
        let error = save_text(&file.join("b"), "x", Expect::Nothing).unwrap_err();
        assert!(matches!(error, StoreError::NoFolder { .. }), "{error}");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_stays_a_link_and_permissions_stay() {
        use std::os::unix::fs::PermissionsExt as _;
        let dir = folder();
        let real = dir.path().join("real.formula.ron");
        let link = dir.path().join("link.formula.ron");
        fs::write(&real, "one").unwrap();
        fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
        std::os::unix::fs::symlink(&real, &link).unwrap();
        let (_, stamp) = read_text(&link).unwrap();
        save_text(&link, "two", Expect::Last(stamp)).unwrap();
        assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
        assert_eq!(fs::read_to_string(&real).unwrap(), "two");
        let mode = fs::metadata(&real).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o640);
    }

    #[test]
    fn what_is_no_text_is_refused_with_its_place() {
        let dir = folder();
        let path = dir.path().join("x");
        fs::write(&path, b"abc\xff").unwrap();
        assert!(matches!(
            read_text(&path),
            Err(StoreError::NotText { offset: 3, .. })
        ));
        fs::write(&path, "\u{feff}(a)").unwrap();
        assert_eq!(read_text(&path).unwrap().0, "(a)");
        assert!(matches!(
            read_text(&dir.path().join("none")),
            Err(StoreError::Missing { .. })
        ));
        assert!(read_text(dir.path()).is_err());
    }
}
