//! The maker's own shelf in the window: read at the start, saved with every change,
//! read again when another window or machine has changed it.

use std::path::PathBuf;
use std::sync::Arc;

use formulation::file::formula_file;
use formulation::file::shelf_file::{Seen, ShelfFolder};
use formulation::finding::Level;
use formulation::own_shelf::{Conflict, OwnShelf, ShelfEdit};

use super::{Folders, Settings, State};

/// The maker's own shelf and where it lies.
#[derive(Debug, Default)]
pub struct MakersShelf {
    folder: Option<ShelfFolder>,
    seen: Seen,
    /// Why the file on disk must not be written over; `None` if it may.
    locked: Option<String>,
    conflicts: Vec<Conflict>,
}

impl MakersShelf {
    /// The maker's materials, attachments, lots and history.
    pub const fn own(&self) -> &OwnShelf {
        &self.seen.shelf
    }

    /// Where it is kept; `None` if it is kept in memory only.
    pub const fn folder(&self) -> Option<&ShelfFolder> {
        self.folder.as_ref()
    }

    /// Why it cannot be changed.
    pub fn locked(&self) -> Option<&str> {
        self.locked.as_deref()
    }

    /// What this window and another one changed at the same time, until it is settled.
    pub fn conflicts(&self) -> &[Conflict] {
        &self.conflicts
    }
}

/// The folder of the shelf: the maker's choice, or the usual one.
pub fn folder_of(settings: &Settings, folders: &Folders) -> Option<ShelfFolder> {
    settings
        .shelf_folder
        .clone()
        .or_else(|| folders.config.as_ref().map(|config| config.join("shelf")))
        .map(ShelfFolder::new)
}

impl State {
    /// The maker's own shelf.
    pub const fn makers_shelf(&self) -> &MakersShelf {
        &self.makers_shelf
    }

    /// Reads the maker's own shelf from its folder and lays it over the built-in one.
    pub(super) fn open_shelf(&mut self) {
        let folder = folder_of(&self.settings, &self.folders);
        let mut makers = MakersShelf {
            folder,
            ..MakersShelf::default()
        };
        if let Some(folder) = &makers.folder {
            match folder.read() {
                Ok(seen) => {
                    makers.seen = seen;
                    if !formula_file::comments_of(&folder.file()).is_empty() {
                        self.warn(format!(
                            "Your shelf holds comments written by hand; the first change here writes it anew without them, and keeps the file with them as shelf.with-comments.ron ({})",
                            folder.file().display()
                        ));
                    }
                }
                Err(error) => {
                    self.warn(
                        format!("Your shelf could not be read; only the built-in materials are shown, and nothing is written: {error}"),
                    );
                    makers.locked = Some(error.to_string());
                }
            }
        }
        self.makers_shelf = makers;
        self.lay_out_shelf();
    }

    fn lay_out_shelf(&mut self) {
        let shelf = self.makers_shelf.seen.shelf.over(&self.built_in);
        self.set_shelf(Arc::new(shelf));
    }

    /// Makes edits of the shelf and saves it. `at` is the time, RFC 3339.
    pub fn edit_shelf(&mut self, edits: &[ShelfEdit], at: &str) {
        if let Some(why) = &self.makers_shelf.locked {
            let words =
                format!("The shelf is not changed, because its file could not be read: {why}");
            self.say(Level::Breach, words);
            return;
        }
        let mut own = self.makers_shelf.seen.shelf.clone();
        for edit in edits {
            own.apply(edit, at);
        }
        self.save_shelf(own, at);
    }

    fn save_shelf(&mut self, own: OwnShelf, at: &str) {
        let Some(folder) = self.makers_shelf.folder.clone() else {
            self.makers_shelf.seen.shelf = own;
            self.lay_out_shelf();
            return;
        };
        match folder.save(&self.makers_shelf.seen, &own, at) {
            Ok(saved) => {
                self.makers_shelf.seen = saved.seen;
                if let Some(backup) = saved.backup {
                    let words = format!(
                        "The shelf was written in its present form; the file as it was is kept ({})",
                        backup.display()
                    );
                    self.say(Level::Note, words);
                }
                if let Some(merged) = saved.merged {
                    let what = match merged.conflicts.as_slice() {
                        [] => None,
                        all if all.iter().all(|c| c.lot().is_some()) => {
                            Some("certificate of a lot")
                        }
                        _ => Some("material"),
                    };
                    self.makers_shelf.conflicts.extend(merged.conflicts);
                    if let Some(what) = what {
                        self.say(
                            Level::Caution,
                            format!(
                                "Another window changed the same {what}; choose on the Shelf which state stays"
                            ),
                        );
                    }
                }
                self.lay_out_shelf();
            }
            Err(error) => {
                self.say(
                    Level::Breach,
                    format!("The shelf could not be saved and is as it was: {error}"),
                );
            }
        }
    }

    /// Settles a conflict with the given edits.
    pub fn settle_conflict(&mut self, conflict: &Conflict, edits: &[ShelfEdit], at: &str) {
        self.makers_shelf
            .conflicts
            .retain(|c| c.material != conflict.material || c.lot() != conflict.lot());
        self.edit_shelf(edits, at);
    }

    /// Reads the shelf again if another window or machine has changed it.
    pub fn watch_shelf(&mut self) {
        let Some(folder) = self.makers_shelf.folder.clone() else {
            return;
        };
        let changed = match folder.changed_since(&self.makers_shelf.seen) {
            Ok(changed) => changed || self.makers_shelf.locked.is_some(),
            Err(_) => false, // told when it is next read or saved
        };
        if !changed {
            return;
        }
        match folder.read() {
            Ok(seen) => {
                let same = seen.shelf == self.makers_shelf.seen.shelf;
                self.makers_shelf.seen = seen;
                self.makers_shelf.locked = None;
                if !same {
                    self.lay_out_shelf();
                    self.say(
                        Level::Note,
                        "The shelf was changed elsewhere and is shown as it is now",
                    );
                }
            }
            Err(error) => self.makers_shelf.locked = Some(error.to_string()),
        }
    }

    /// Keeps the shelf in another folder. A shelf that lies there already is merged
    /// with this one; what is in the old folder stays there.
    pub fn move_shelf(&mut self, path: PathBuf, at: &str) {
        let own = self.makers_shelf.seen.shelf.clone();
        self.settings.shelf_folder = Some(path.clone());
        self.makers_shelf = MakersShelf {
            folder: Some(ShelfFolder::new(path)),
            ..MakersShelf::default()
        };
        self.save_shelf(own, at);
    }
}
