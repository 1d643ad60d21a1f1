//! Autosave: what is not saved yet is kept in a recovery folder, and offered
//! again after a crash.
//!
//! Every open document has a [`Slot`]: a file with the unsaved content and a lock
//! file held by the running program. The operating system drops the lock when the
//! program ends in any way, so a slot that can be locked was left by a crash.

use std::collections::BTreeMap;
use std::io;
use std::path::{Path, PathBuf};

use etcetera::BaseStrategy as _;
use serde::{Deserialize, Serialize};

use super::disk::{self, Access, Handle};
use super::store::{self, Readers, Stamp, StoreError};

const LOCK: &str = "lock";
const CONTENT: &str = "recovery.ron";

/// A document found in the recovery folder.
#[derive(Clone, PartialEq, Debug)]
pub struct Recovered {
    /// The file it belongs to; none if it was never saved.
    pub origin: Option<PathBuf>,
    /// When it was kept, as the caller's clock said.
    pub at: String,
    /// The text that would have been saved.
    pub text: String,
    /// What was typed and not entered, by the names of the fields.
    pub typed: BTreeMap<String, String>,
    /// The SHA-256 of the content of its file from which the work was begun, in hexadecimal
    /// digits; none if it was never saved or kept by an older program.
    pub begun_from: Option<String>,
    folder: PathBuf,
}

impl Recovered {
    /// Whether its file, as it stands now, is another than the one the work was begun from.
    pub fn is_of_another_state(&self, now: &Stamp) -> bool {
        let begun_from = self.begun_from.as_ref();
        begun_from.is_some_and(|digest| *digest != now.digest())
    }

    /// Removes it from the recovery folder, once it is taken over or declined.
    pub fn discard(&self) -> Result<(), StoreError> {
        disk::remove_folder(&self.folder).map_err(|cause| StoreError::Io {
            doing: "remove the recovery file",
            path: self.folder.clone(),
            cause,
        })
    }
}

#[derive(Serialize, Deserialize)]
struct Content {
    origin: Option<PathBuf>,
    at: String,
    text: String,
    #[serde(default)]
    typed: BTreeMap<String, String>,
    #[serde(default)]
    begun_from: Option<String>,
}

/// What is kept of a document with unsaved changes.
#[derive(Clone, Copy, Debug)]
pub struct Unsaved<'a> {
    /// The file it belongs to; none if it was never saved.
    pub origin: Option<&'a Path>,
    /// The time, as the caller's clock says.
    pub at: &'a str,
    /// The text that would be saved.
    pub text: &'a str,
    /// What is typed and not entered, by the names of the fields.
    pub typed: &'a BTreeMap<String, String>,
    /// The content of its file from which the work was begun; none if it was never saved.
    pub begun_from: Option<Stamp>,
}

/// The place in the recovery folder of one open document.
#[derive(Debug)]
pub struct Slot {
    folder: PathBuf,
    // Holds the lock for as long as the program lives.
    _lock: Handle,
    /// The program ends without having asked: what was kept stays for the next start.
    stays: bool,
}

impl Slot {
    /// Takes a new slot below the recovery folder, which is made if needed.
    pub fn take(recovery: &Path) -> Result<Self, StoreError> {
        let fail = |cause| StoreError::Io {
            doing: "use the recovery folder",
            path: recovery.into(),
            cause,
        };
        disk::make_folders(recovery, Access::Private).map_err(fail)?;
        for number in 1_u32.. {
            let folder = recovery.join(format!("{}-{number}", std::process::id()));
            match disk::make_folder(&folder, Access::Private) {
                Ok(()) => {
                    let lock = Handle::create(&folder.join(LOCK), Access::Private)
                        .and_then(|lock| lock.lock_now().map(|_| lock));
                    return match lock {
                        Ok(lock) => Ok(Self {
                            folder,
                            _lock: lock,
                            stays: false,
                        }),
                        Err(error) => {
                            // Nothing is in it yet.
                            let _ = disk::remove_folder(&folder);
                            Err(fail(error))
                        }
                    };
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(fail(error)),
            }
        }
        Err(fail(io::Error::other("it is full")))
    }

    /// Keeps a document with unsaved changes.
    pub fn keep(&self, unsaved: Unsaved<'_>) -> Result<(), StoreError> {
        let content = Content {
            origin: unsaved.origin.map(Path::to_path_buf),
            at: unsaved.at.to_owned(),
            text: unsaved.text.to_owned(),
            typed: unsaved.typed.clone(),
            begun_from: unsaved.begun_from.map(|stamp| stamp.digest()),
        };
        let path = self.folder.join(CONTENT);
        let ron = ron::to_string(&content).map_err(|error| StoreError::Io {
            doing: "write the recovery file",
            path: path.clone(),
            cause: io::Error::other(error),
        })?;
        // Written by nobody else, and read by nobody else: unsaved work may be secret.
        store::replace(&path, ron.as_bytes(), Readers::Private)
    }

    /// Lets what was kept stay for the next start, because the program is made to end before
    /// the person can be asked.
    pub const fn leave_for_next_start(&mut self) {
        self.stays = true;
    }

    /// Forgets what was kept, once the document is saved.
    pub fn clear(&self) -> Result<(), StoreError> {
        let path = self.folder.join(CONTENT);
        match disk::remove(&path) {
            Err(cause) if cause.kind() != io::ErrorKind::NotFound => Err(StoreError::Io {
                doing: "remove the recovery file",
                path,
                cause,
            }),
            _ => Ok(()),
        }
    }
}

impl Drop for Slot {
    /// An orderly end: the person has saved or chosen to let go of the changes. An error of
    /// the program is none.
    fn drop(&mut self) {
        if !self.stays && !std::thread::panicking() {
            let _ = disk::remove_folder(&self.folder);
        }
    }
}

/// What crashed programs left in the recovery folder.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct LeftOver {
    /// What can be opened again, oldest first.
    pub found: Vec<Recovered>,
    /// What cannot, in words; it stays where it is for a look by hand.
    pub problems: Vec<String>,
}

/// What crashed programs left in the recovery folder. Slots that are empty are removed;
/// slots of running programs are left alone.
pub fn left_over(recovery: &Path) -> LeftOver {
    let mut left = LeftOver::default();
    let folders = match disk::list(recovery) {
        Ok(folders) => folders,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return left,
        Err(error) => {
            left.problems.push(format!(
                "the recovery folder cannot be read: {error} ({})",
                recovery.display()
            ));
            return left;
        }
    };
    for folder in folders {
        match left_in(&folder) {
            Ok(found) => left.found.extend(found),
            Err(problem) => left.problems.push(problem),
        }
    }
    left.found
        .sort_by(|a, b| (&a.at, &a.folder).cmp(&(&b.at, &b.folder)));
    left
}

fn left_in(folder: &Path) -> Result<Option<Recovered>, String> {
    let told = |why: &dyn std::fmt::Display| {
        format!("what an earlier run left cannot be read and stays where it is: {why}")
    };
    let Ok(lock) = Handle::read(&folder.join(LOCK)) else {
        // No slot of ours, or one whose program ended as it was made, before anything was kept.
        return Ok(None);
    };
    // Held by a running program, or a file system without locks: leave it alone.
    if !lock.is_given_up().unwrap_or(false) {
        return Ok(None);
    }
    let path = folder.join(CONTENT);
    match store::read_text(&path) {
        Ok((text, _)) => {
            let content: Content = ron::from_str(&text)
                .map_err(|e| told(&format_args!("{e} ({})", path.display())))?;
            Ok(Some(Recovered {
                origin: content.origin,
                at: content.at,
                text: content.text,
                typed: content.typed,
                begun_from: content.begun_from,
                folder: folder.to_path_buf(),
            }))
        }
        Err(StoreError::Missing { .. }) => {
            let _ = disk::remove_folder(folder);
            Ok(None)
        }
        Err(error) => Err(told(&error)),
    }
}

/// The usual recovery folder of this person on this machine: below
/// `XDG_STATE_HOME` or `~/.local/state` on Unix, `LOCALAPPDATA` on Windows,
/// `~/Library/Application Support` on macOS. `None` if none of them is known.
pub fn usual_folder() -> Option<PathBuf> {
    let system = etcetera::base_strategy::choose_native_strategy().ok()?;
    // Only the habits of Linux have a folder for what is kept between runs and not moved to
    // other machines; elsewhere it is the folder of local data.
    let base = system.state_dir().unwrap_or_else(|| {
        if cfg!(windows) {
            system.cache_dir()
        } else {
            system.data_dir()
        }
    });
    Some(base.join("phasewright/recovery"))
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;

    fn keep(slot: &Slot, origin: Option<&Path>, at: &str, text: &str) {
        let unsaved = Unsaved {
            origin,
            at,
            text,
            typed: &BTreeMap::new(),
            begun_from: None,
        };
        slot.keep(unsaved).unwrap();
    }

    #[test]
    fn what_a_crash_leaves_is_found_and_what_runs_is_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let running = Slot::take(dir.path()).unwrap();
        keep(&running, None, "2026-05-01T10:00:00Z", "(live)");

        let crashed = Slot::take(dir.path()).unwrap();
        let origin = Path::new("gel.formula.ron");
        keep(&crashed, Some(origin), "2026-05-01T09:00:00Z", "(a)");
        let typed = BTreeMap::from([("Glycerin percent".to_owned(), "3.".to_owned())]);
        let unsaved = Unsaved {
            origin: Some(origin),
            at: "2026-05-01T09:05:00Z",
            text: "(b: \"\\\"\")",
            typed: &typed,
            begun_from: None,
        };
        crashed.keep(unsaved).unwrap();
        let Slot {
            folder,
            _lock: lock,
            ..
        } = &crashed;
        lock.unlock(); // as the operating system does at the end of a process
        let kept_folder = folder.clone();

        let LeftOver { found, problems } = left_over(dir.path());
        assert_eq!(problems, Vec::<String>::new());
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].origin.as_deref(), Some(origin));
        assert_eq!(found[0].text, "(b: \"\\\"\")");
        assert_eq!(found[0].typed, typed);
        assert_eq!(found[0].at, "2026-05-01T09:05:00Z");
        found[0].discard().unwrap();
        assert!(!kept_folder.exists());
        assert_eq!(left_over(dir.path()), LeftOver::default());
        drop(running);
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_saved_document_leaves_nothing_to_recover() {
        let dir = tempfile::tempdir().unwrap();
        let slot = Slot::take(dir.path()).unwrap();
        keep(&slot, None, "2026-05-01T10:00:00Z", "(x)");
        slot.clear().unwrap();
        slot.clear().unwrap();
        let Slot { _lock: lock, .. } = &slot;
        lock.unlock();
        assert_eq!(left_over(dir.path()), LeftOver::default());
        assert_eq!(left_over(&dir.path().join("nowhere")), LeftOver::default());
    }

    /// Unsaved work is nobody else's business, and what cannot be read is not passed over.
    #[cfg(unix)]
    #[test]
    fn unsaved_work_is_private_and_damage_is_said() {
        use std::os::unix::fs::PermissionsExt as _;
        let dir = tempfile::tempdir().unwrap();
        let recovery = dir.path().join("recovery");
        let mut slot = Slot::take(&recovery).unwrap();
        for text in ["(x)", "(y)"] {
            keep(&slot, None, "2026-05-01T10:00:00Z", text);
        }
        let mode = |path: &Path| fs::metadata(path).unwrap().permissions().mode() & 0o777;
        let folder = slot.folder.clone();
        assert_eq!(mode(&folder), 0o700);
        assert_eq!(mode(&folder.join(CONTENT)), 0o600);
        assert_eq!(mode(&folder.join(LOCK)), 0o600);
        let names = fs::read_dir(&folder).unwrap().count();
        assert_eq!(names, 2, "no copies beside it");
        // A program that is made to end leaves it for the next start.
        slot.leave_for_next_start();
        drop(slot);
        let left = left_over(&recovery);
        assert_eq!(left.found[0].text, "(y)");
        fs::write(folder.join(CONTENT), "(at: \"").unwrap();
        let left = left_over(&recovery);
        assert_eq!(left.found, []);
        assert!(
            left.problems[0].contains("recovery.ron"),
            "{:?}",
            left.problems
        );
        assert!(folder.join(CONTENT).exists());
    }
}
