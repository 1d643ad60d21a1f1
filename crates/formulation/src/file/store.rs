//! Files on disk, kept from harm.
//!
//! A save writes a temporary file beside the target, syncs it, keeps the content
//! that is about to be replaced as the last good copy, and renames. A crash at any
//! point leaves either the old file or the new one, never a half of each.
//! What another program has written since the file was read is never overwritten
//! unasked: a [`Stamp`] of the content last seen travels with every document.

use std::ffi::OsString;
use std::fs::{self, File};
use std::io::{self, Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::SystemTime;

use sha2::{Digest as _, Sha256};

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
    fn of(bytes: &[u8], file: Option<&fs::Metadata>) -> Self {
        Self {
            sha256: Sha256::digest(bytes).into(),
            length: bytes.len() as u64,
            modified: file.and_then(|m| m.modified().ok()),
        }
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
    /// Larger than [`LARGEST`].
    #[error("the file has {length} bytes, more than the {LARGEST} that are read; it is not a file of this program ({})", .path.display())]
    TooLarge {
        /// The file.
        path: PathBuf,
        /// Its length.
        length: u64,
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

/// Reads a whole file and the stamp of what was read.
pub fn read_bytes(path: &Path) -> Result<(Vec<u8>, Stamp), StoreError> {
    let fail = |cause| StoreError::io(READ, path, cause);
    let mut file = File::open(path).map_err(fail)?;
    let about = file.metadata().map_err(fail)?;
    if about.is_dir() {
        return Err(StoreError::IsFolder { path: path.into() });
    }
    let mut bytes = Vec::new();
    // One byte more than allowed tells a file that grows or has no length, such as a pipe.
    (&mut file)
        .take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(fail)?;
    if bytes.len() as u64 > LARGEST {
        return Err(StoreError::TooLarge {
            path: path.into(),
            length: about.len().max(bytes.len() as u64),
        });
    }
    let stamp = Stamp::of(&bytes, Some(&about));
    Ok((bytes, stamp))
}

/// Reads a text file in UTF-8; a byte order mark at its start is dropped.
pub fn read_text(path: &Path) -> Result<(String, Stamp), StoreError> {
    let (bytes, stamp) = read_bytes(path)?;
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
    match fs::metadata(path) {
        Ok(about)
            if about.len() == stamp.length
                && stamp.modified.is_some()
                && about.modified().ok() == stamp.modified =>
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

fn with_suffix(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.file_name().map(OsString::from).unwrap_or_default();
    name.push(suffix);
    path.with_file_name(name)
}

/// Saves a file atomically and returns the stamp of what was written.
///
/// The content replaced is kept beside it, see [`previous_path`] and
/// [`replaced_path`]. A link is followed and its target replaced. Two copies of
/// the program that save the same file at once are told apart by a lock: the
/// second finds the file changed.
pub fn save(path: &Path, bytes: &[u8], expect: Expect) -> Result<Stamp, StoreError> {
    // A save through a link must replace the file it leads to, not the link.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let temporary = Temporary::write(folder, &target, bytes)?;
    let lock = lock_existing(&target)?;
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
        (Expect::Last(last), Some(now)) if !now.same_content(&last) => {
            return Err(StoreError::ChangedElsewhere { path: path.into() });
        }
        _ => {}
    }
    if now.is_some() {
        let known_good = matches!(expect, Expect::Last(_));
        let copy = if known_good {
            previous_path(&target)
        } else {
            replaced_path(&target)
        };
        keep_copy(folder, &target, &copy)?;
        keep_permissions(&target, &temporary.path);
    }
    let stamp = temporary.put(&target, now.is_none() && expect == Expect::Nothing, bytes)?;
    drop(lock);
    sync_folder(folder);
    Ok(stamp)
}

/// Saves a text file atomically, see [`save`].
pub fn save_text(path: &Path, text: &str, expect: Expect) -> Result<Stamp, StoreError> {
    save(path, text.as_bytes(), expect)
}

/// A file being written beside its target; removed if it is not put in place.
struct Temporary {
    path: PathBuf,
    placed: bool,
}

impl Temporary {
    fn write(folder: &Path, target: &Path, bytes: &[u8]) -> Result<Self, StoreError> {
        static COUNT: AtomicU64 = AtomicU64::new(0);
        let name = target
            .file_name()
            .map(|n| n.to_string_lossy().into_owned())
            .unwrap_or_default();
        loop {
            let count = COUNT.fetch_add(1, Ordering::Relaxed);
            let path = folder.join(format!(".{name}.{}-{count}.part", std::process::id()));
            let mut file = match File::create_new(&path) {
                Ok(file) => file,
                // Left by a process of the same number that crashed.
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists => continue,
                Err(cause) => return Err(StoreError::io("write beside the file", target, cause)),
            };
            let temporary = Self {
                path,
                placed: false,
            };
            file.write_all(bytes)
                .and_then(|()| file.sync_all())
                .map_err(|cause| StoreError::io("write the file", target, cause))?;
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
            match fs::hard_link(&self.path, target) {
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
            fs::rename(&self.path, target).map_err(fail)?;
            self.placed = true;
        }
        Ok(Stamp::of(bytes, fs::metadata(target).ok().as_ref()))
    }
}

impl Drop for Temporary {
    fn drop(&mut self) {
        if !self.placed {
            // Nothing can be done about a file that will not go; it is ours and harmless.
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Takes a lock on the file about to be replaced, if there is one. Whoever waited
/// for it looks at the content afresh afterwards.
fn lock_existing(target: &Path) -> Result<Option<File>, StoreError> {
    match File::open(target) {
        Ok(file) => {
            // Some network file systems have no locks; the check of the content remains.
            let _ = file.lock();
            Ok(Some(file))
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => Err(StoreError::io(READ, target, error)),
    }
}

/// Keeps the present content of `target` as `copy`, replacing an older copy atomically.
fn keep_copy(folder: &Path, target: &Path, copy: &Path) -> Result<(), StoreError> {
    let fail = |path: &Path, cause| StoreError::io("keep a copy of the last version", path, cause);
    let bytes = fs::read(target).map_err(|cause| fail(target, cause))?;
    let mut kept = Temporary::write(folder, copy, &bytes)?;
    fs::rename(&kept.path, copy).map_err(|cause| fail(copy, cause))?;
    kept.placed = true;
    Ok(())
}

fn keep_permissions(from: &Path, to: &Path) {
    if let Ok(about) = fs::metadata(from) {
        // A file system that has no such permissions loses none.
        let _ = fs::set_permissions(to, about.permissions());
    }
}

/// Makes the rename last through a power cut, where the system allows it.
fn sync_folder(folder: &Path) {
    if cfg!(unix)
        && let Ok(folder) = File::open(folder)
    {
        let _ = folder.sync_all();
    }
}

#[cfg(test)]
mod tests {
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
        let later =
            fs::metadata(&path).unwrap().modified().unwrap() + std::time::Duration::from_secs(2);
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
        let part = Temporary::write(dir.path(), &path, b"hal").unwrap();
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
