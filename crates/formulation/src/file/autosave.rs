//! Autosave: what is not saved yet is kept in a recovery folder, and offered
//! again after a crash.
//!
//! Every open document has a [`Slot`]: a file with the unsaved content and a lock
//! file held by the running program. The operating system drops the lock when the
//! program ends in any way, so a slot that can be locked was left by a crash.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::store::{self, Expect, StoreError};

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
    folder: PathBuf,
}

impl Recovered {
    /// Removes it from the recovery folder, once it is taken over or declined.
    pub fn discard(&self) -> Result<(), StoreError> {
        fs::remove_dir_all(&self.folder).map_err(|cause| StoreError::Io {
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
}

/// The place in the recovery folder of one open document.
#[derive(Debug)]
pub struct Slot {
    folder: PathBuf,
    // Holds the lock for as long as the program lives.
    _lock: File,
}

impl Slot {
    /// Takes a new slot below the recovery folder, which is made if needed.
    pub fn take(recovery: &Path) -> Result<Self, StoreError> {
        let fail = |cause| StoreError::Io {
            doing: "use the recovery folder",
            path: recovery.into(),
            cause,
        };
        fs::create_dir_all(recovery).map_err(fail)?;
        for number in 1_u32.. {
            let folder = recovery.join(format!("{}-{number}", std::process::id()));
            match fs::create_dir(&folder) {
                Ok(()) => {
                    let lock = File::create(folder.join(LOCK)).map_err(fail)?;
                    lock.lock().map_err(fail)?;
                    return Ok(Self {
                        folder,
                        _lock: lock,
                    });
                }
                Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {}
                Err(error) => return Err(fail(error)),
            }
        }
        Err(fail(io::Error::other("it is full")))
    }

    /// Keeps the text of a document with unsaved changes.
    pub fn keep(&self, origin: Option<&Path>, at: &str, text: &str) -> Result<(), StoreError> {
        let content = Content {
            origin: origin.map(Path::to_path_buf),
            at: at.to_owned(),
            text: text.to_owned(),
        };
        let path = self.folder.join(CONTENT);
        let ron = ron::to_string(&content).map_err(|error| StoreError::Io {
            doing: "write the recovery file",
            path: path.clone(),
            cause: io::Error::other(error),
        })?;
        // An own slot is written by nobody else; no copy of its last content is needed.
        let _ = fs::remove_file(store::replaced_path(&path));
        store::save_text(&path, &ron, Expect::Anything)?;
        let _ = fs::remove_file(store::replaced_path(&path));
        Ok(())
    }

    /// Forgets what was kept, once the document is saved.
    pub fn clear(&self) -> Result<(), StoreError> {
        let path = self.folder.join(CONTENT);
        match fs::remove_file(&path) {
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
    /// An orderly end: the person has saved or chosen to let go of the changes.
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.folder);
    }
}

/// What crashed programs left in the recovery folder, oldest first. Slots that
/// are empty are removed; slots of running programs are left alone, and what
/// cannot be read is kept for a look by hand.
pub fn left_over(recovery: &Path) -> Vec<Recovered> {
    let Ok(entries) = fs::read_dir(recovery) else {
        return Vec::new();
    };
    let mut found: Vec<Recovered> = entries
        .flatten()
        .filter_map(|entry| left_in(&entry.path()))
        .collect();
    found.sort_by(|a, b| (&a.at, &a.folder).cmp(&(&b.at, &b.folder)));
    found
}

fn left_in(folder: &Path) -> Option<Recovered> {
    let lock = File::open(folder.join(LOCK)).ok()?;
    // Held by a running program, or a file system without locks: leave it alone.
    lock.try_lock().ok()?;
    match store::read_text(&folder.join(CONTENT)) {
        Ok((text, _)) => {
            let content: Content = ron::from_str(&text).ok()?;
            Some(Recovered {
                origin: content.origin,
                at: content.at,
                text: content.text,
                folder: folder.to_path_buf(),
            })
        }
        Err(StoreError::Missing { .. }) => {
            let _ = fs::remove_dir_all(folder);
            None
        }
        Err(_) => None,
    }
}

/// The usual recovery folder of this person on this machine: below
/// `XDG_STATE_HOME` or `~/.local/state` on Unix, `LOCALAPPDATA` on Windows,
/// `~/Library/Application Support` on macOS. `None` if none of them is known.
pub fn usual_folder() -> Option<PathBuf> {
    let set = |name: &str| {
        std::env::var_os(name)
            .filter(|v| !v.is_empty())
            .map(PathBuf::from)
    };
    let base = if cfg!(windows) {
        set("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        set("HOME").map(|home| home.join("Library/Application Support"))
    } else {
        set("XDG_STATE_HOME").or_else(|| set("HOME").map(|home| home.join(".local/state")))
    };
    base.map(|base| base.join("phasewright/recovery"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_crash_leaves_is_found_and_what_runs_is_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let running = Slot::take(dir.path()).unwrap();
        running
            .keep(None, "2026-05-01T10:00:00Z", "(live)")
            .unwrap();

        let crashed = Slot::take(dir.path()).unwrap();
        let origin = Path::new("gel.formula.ron");
        crashed
            .keep(Some(origin), "2026-05-01T09:00:00Z", "(a)")
            .unwrap();
        crashed
            .keep(Some(origin), "2026-05-01T09:05:00Z", "(b: \"\\\"\")")
            .unwrap();
        let Slot {
            folder,
            _lock: lock,
        } = &crashed;
        lock.unlock().unwrap(); // as the operating system does at the end of a process
        let kept_folder = folder.clone();

        let found = left_over(dir.path());
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].origin.as_deref(), Some(origin));
        assert_eq!(found[0].text, "(b: \"\\\"\")");
        assert_eq!(found[0].at, "2026-05-01T09:05:00Z");
        found[0].discard().unwrap();
        assert!(!kept_folder.exists());
        assert!(left_over(dir.path()).is_empty());
        drop(running);
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
    }

    #[test]
    fn a_saved_document_leaves_nothing_to_recover() {
        let dir = tempfile::tempdir().unwrap();
        let slot = Slot::take(dir.path()).unwrap();
        slot.keep(None, "2026-05-01T10:00:00Z", "(x)").unwrap();
        slot.clear().unwrap();
        slot.clear().unwrap();
        let Slot { _lock: lock, .. } = &slot;
        lock.unlock().unwrap();
        assert!(left_over(dir.path()).is_empty());
        assert!(left_over(&dir.path().join("nowhere")).is_empty());
    }
}
