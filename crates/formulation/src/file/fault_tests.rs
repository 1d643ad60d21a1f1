//! Every call of every way of writing is made to fail in turn, a write is cut short in turn,
//! and the power goes after every call in turn, with everything a disk may have left undone
//! or done early since the last sync. What is found afterwards is the old or the new, whole.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::sync::Arc;

use super::autosave::{self, Slot};
use super::disk::{CallOutcome, Op, Watch, watched};
use super::record_file::{self, RecordFile};
use super::shelf_file::{self, ShelfFolder};
use super::stock_file;
use super::store::{self, Expect};
use crate::batch::record::tests::{opening, weigh};
use crate::batch::workshop::Workshop;
use crate::material::{Material, MaterialId};
use crate::own_shelf::{OwnShelf, ShelfEdit};
use crate::quantity::Currency;
use crate::stock::Stock;

const AT: &str = "2026-06-01T09:00:00+02:00";

/// A change to the disk, by path.
#[derive(Clone, Debug)]
enum Change {
    Create(PathBuf),
    Write(PathBuf, u64, Vec<u8>),
    SetLength(PathBuf, u64),
    Sync(PathBuf),
    SyncFolder,
    Rename(PathBuf, PathBuf),
    Link(PathBuf, PathBuf),
    Remove(PathBuf),
}

/// Counts calls, lets one fail, and notes changes.
#[derive(Default)]
struct Faulty {
    calls: Cell<usize>,
    fail_at: Option<usize>,
    short: bool,
    /// Every call from there on fails, as when the disk is gone.
    for_good: bool,
    /// The call that failed was one to take a name away.
    kept_from_cleaning: Cell<bool>,
    changes: RefCell<Vec<Change>>,
}

impl Watch for Faulty {
    fn before(&self, op: &Op<'_>) -> CallOutcome {
        let call = self.calls.get();
        self.calls.set(call + 1);
        let hit = self
            .fail_at
            .is_some_and(|at| call == at || (self.for_good && call > at));
        if !hit {
            return CallOutcome::Go;
        }
        if matches!(op, Op::Remove(_)) {
            self.kept_from_cleaning.set(true);
        }
        let error = io::Error::from(io::ErrorKind::StorageFull);
        if self.short {
            CallOutcome::Short(7, error)
        } else {
            CallOutcome::Fail(error)
        }
    }

    fn done(&self, op: &Op<'_>) {
        let change = match *op {
            Op::Create(path) => Change::Create(path.into()),
            Op::Write {
                path,
                offset,
                bytes,
            } => Change::Write(path.into(), offset, bytes.to_vec()),
            Op::SetLength { path, length } => Change::SetLength(path.into(), length),
            Op::Sync(path) => Change::Sync(path.into()),
            Op::SyncFolder(_) => Change::SyncFolder,
            Op::Rename { from, to } => Change::Rename(from.into(), to.into()),
            Op::Link { from, to } => Change::Link(from.into(), to.into()),
            Op::Remove(path) => Change::Remove(path.into()),
            Op::Look(_)
            | Op::Read(_)
            | Op::List(_)
            | Op::Open(_)
            | Op::Lock(_)
            | Op::Permissions(_)
            | Op::MakeFolder(_) => return,
        };
        self.changes.borrow_mut().push(change);
    }
}

/// Files by name and content, as a disk may hold them.
#[derive(Clone, Default)]
struct Disk {
    names: BTreeMap<PathBuf, usize>,
    content: Vec<Vec<u8>>,
}

impl Disk {
    fn of(folder: &Path) -> Self {
        let mut disk = Self::default();
        disk.add(folder);
        disk
    }

    fn add(&mut self, folder: &Path) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                self.add(&path);
                continue;
            }
            self.names.insert(path.clone(), self.content.len());
            self.content.push(fs::read(path).unwrap());
        }
    }

    fn put_into(&self, from: &Path, to: &Path) {
        fs::remove_dir_all(to).unwrap();
        fs::create_dir(to).unwrap();
        for (path, file) in &self.names {
            let path = to.join(path.strip_prefix(from).unwrap());
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, &self.content[*file]).unwrap();
        }
    }
}

/// The disks that a power cut after some changes may leave. Content reaches the medium at a
/// sync at the latest, names at a sync of the folder; before, each on its own may or may not
/// have, and of a write a part or its length alone. `pick` decides like the digits of a
/// number, so that counting through the numbers goes through all cases.
fn after_cut(begin: &Disk, changes: &[Change], mut pick: u64) -> Disk {
    // The file each change is about, found by playing them all.
    let mut live = begin.clone();
    let mut about = Vec::new();
    for change in changes {
        about.push(match change {
            Change::Create(path) => {
                live.content.push(Vec::new());
                let file = live.content.len() - 1;
                live.names.insert(path.clone(), file);
                Some(file)
            }
            Change::Write(path, ..) | Change::SetLength(path, _) | Change::Sync(path) => {
                live.names.get(path).copied()
            }
            Change::Rename(from, to) => {
                let file = live.names.remove(from);
                if let Some(file) = file {
                    live.names.insert(to.clone(), file);
                }
                file
            }
            Change::Link(from, to) => {
                let file = live.names.get(from).copied();
                if let Some(file) = file {
                    live.names.insert(to.clone(), file);
                }
                file
            }
            Change::Remove(path) => live.names.remove(path),
            Change::SyncFolder => None,
        });
    }
    let mut digit = |base: u64| {
        let digit = pick % base;
        pick /= base;
        digit
    };
    let mut left = begin.clone();
    left.content.resize(live.content.len(), Vec::new());
    // Names keep their order among themselves, as on every journalling file system; how many
    // of those after the last sync of the folder arrived is open.
    let naming = |c: &Change| {
        matches!(
            c,
            Change::Create(_) | Change::Rename(..) | Change::Link(..) | Change::Remove(_)
        )
    };
    let synced = changes
        .iter()
        .rposition(|c| matches!(c, Change::SyncFolder))
        .unwrap_or(0);
    let late = changes[synced..].iter().filter(|c| naming(c)).count();
    let mut arrive =
        changes[..synced].iter().filter(|c| naming(c)).count() + digit(late as u64 + 1) as usize;
    for (i, change) in changes.iter().enumerate() {
        if naming(change) {
            if arrive == 0 {
                continue;
            }
            arrive -= 1;
        }
        let Some(file) = about[i] else { continue };
        let is_synced = changes[i..]
            .iter()
            .zip(&about[i..])
            .any(|(c, f)| matches!(c, Change::Sync(_)) && *f == Some(file));
        match change {
            Change::Create(path) => {
                left.names.insert(path.clone(), file);
            }
            Change::Rename(from, to) => {
                left.names.remove(from);
                left.names.insert(to.clone(), file);
            }
            Change::Link(_, to) => {
                left.names.insert(to.clone(), file);
            }
            Change::Remove(path) => {
                left.names.remove(path);
            }
            Change::SetLength(_, length) => {
                if is_synced || digit(2) == 1 {
                    left.content[file].resize(*length as usize, 0);
                }
            }
            Change::Write(_, offset, bytes) => {
                let how = if is_synced { 0 } else { digit(5) };
                let end = *offset as usize + bytes.len();
                let content = &mut left.content[file];
                let range = match how {
                    0 => 0..bytes.len(),
                    1 => 0..bytes.len() / 2,
                    // The length arrived, the bytes, or some of them, did not.
                    2 => 0..0,
                    3 => bytes.len() / 2..bytes.len(),
                    _ => continue,
                };
                let reach = if how == 1 {
                    *offset as usize + range.end
                } else {
                    end
                };
                if content.len() < reach {
                    content.resize(reach, 0);
                }
                let from = *offset as usize;
                content[from + range.start..from + range.end].copy_from_slice(&bytes[range]);
            }
            Change::Sync(_) | Change::SyncFolder => {}
        }
    }
    left
}

/// A way of writing: what stands before, what is done (with whether it was confirmed), and
/// whether what is found later is right, given whether it was confirmed.
struct Way<'a> {
    prepare: &'a dyn Fn(&Path),
    act: &'a dyn Fn(&Path) -> bool,
    check: &'a dyn Fn(&Path, bool),
}

fn try_out(way: &Way<'_>) -> (usize, usize) {
    let fresh = || {
        let folder = tempfile::tempdir().unwrap();
        (way.prepare)(folder.path());
        folder
    };
    // How many calls there are.
    let folder = fresh();
    let begin = Disk::of(folder.path());
    let watch = Rc::new(Faulty::default());
    assert!(watched(watch.clone(), || (way.act)(folder.path())));
    (way.check)(folder.path(), true);
    let calls = watch.calls.get();
    // An error at each call: once, from then on, and a write cut short.
    let mut errors = 0;
    for fail_at in 0..calls {
        for (short, for_good) in [(false, false), (false, true), (true, false), (true, true)] {
            let folder = fresh();
            let watch = Rc::new(Faulty {
                fail_at: Some(fail_at),
                short,
                for_good,
                ..Faulty::default()
            });
            let confirmed = watched(watch.clone(), || (way.act)(folder.path()));
            if !watch.kept_from_cleaning.get() {
                let left = Disk::of(folder.path());
                let parts = left
                    .names
                    .keys()
                    .filter(|p| p.to_string_lossy().ends_with(".part"));
                assert_eq!(
                    parts.count(),
                    0,
                    "leftovers after an error at call {fail_at}"
                );
            }
            (way.check)(folder.path(), confirmed);
            errors += 1;
        }
    }
    // The power goes after each change.
    let changes = watch.changes.borrow().clone();
    let other = tempfile::tempdir().unwrap();
    let mut cuts = 0;
    for cut in 0..=changes.len() {
        for pick in 0..60 {
            let disk = after_cut(&begin, &changes[..cut], pick * 7919 + pick);
            disk.put_into(folder.path(), other.path());
            (way.check)(other.path(), cut == changes.len());
            cuts += 1;
        }
    }
    (errors, cuts)
}

#[test]
fn a_save_leaves_the_old_or_the_new() {
    let file = |folder: &Path| folder.join("gel.formula.ron");
    let (errors, cuts) = try_out(&Way {
        prepare: &|folder| {
            store::save_text(&file(folder), "old", Expect::Nothing).unwrap();
        },
        act: &|folder| {
            let path = file(folder);
            let Ok((_, stamp)) = store::read_text(&path) else {
                return false;
            };
            store::save_text(&path, "the new text", Expect::Last(stamp)).is_ok()
        },
        check: &|folder, confirmed| {
            let text = fs::read_to_string(file(folder)).unwrap();
            if confirmed {
                assert_eq!(text, "the new text");
                let kept = fs::read_to_string(store::previous_path(&file(folder))).unwrap();
                assert_eq!(kept, "old");
            } else {
                assert!(text == "old" || text == "the new text", "{text:?}");
            }
        },
    });
    assert!(errors > 40 && cuts > 400, "{errors} {cuts}");
}

#[test]
fn a_new_file_is_there_whole_or_not_at_all() {
    let file = |folder: &Path| folder.join("gel.formula.ron");
    try_out(&Way {
        prepare: &|_| {},
        act: &|folder| store::save_text(&file(folder), "the text", Expect::Nothing).is_ok(),
        check: &|folder, confirmed| match fs::read_to_string(file(folder)) {
            Ok(text) => assert_eq!(text, "the text"),
            Err(_) => assert!(!confirmed),
        },
    });
}

/// Of a record nothing confirmed is lost and nothing refused appears, whatever fails.
#[test]
fn an_entry_is_recorded_or_not() {
    let code = |folder: &Path| folder.join("26-001.batch.jsonl");
    let (errors, cuts) = try_out(&Way {
        prepare: &|folder| {
            let mut file = RecordFile::create(folder, opening("26-001"), AT, "Wren").unwrap();
            file.append(AT, "Wren", weigh(10, "1 g", "W1")).unwrap();
        },
        act: &|folder| {
            RecordFile::open(&code(folder))
                .is_ok_and(|mut file| file.append(AT, "Wren", weigh(10, "2 g", "W2")).is_ok())
        },
        check: &|folder, confirmed| {
            let loaded = record_file::read(&code(folder)).unwrap();
            assert_eq!(loaded.faults, []);
            let entries = loaded.record.entries().len();
            assert!(entries == 3 || (!confirmed && entries == 2), "{entries}");
            // And it can be gone on with.
            let mut file = RecordFile::open(&code(folder)).unwrap();
            file.append(AT, "Wren", weigh(10, "3 g", "W3")).unwrap();
            drop(file);
            let loaded = record_file::read(&code(folder)).unwrap();
            assert_eq!(loaded.faults, []);
            assert_eq!(loaded.record.entries().len(), entries + 1);
        },
    });
    assert!(errors > 40 && cuts > 400, "{errors} {cuts}");
}

fn shelf_of(names: &[&str]) -> OwnShelf {
    let mut shelf = OwnShelf::default();
    for name in names {
        let material = Material::unknown(MaterialId::from_name(name), *name);
        shelf.apply(&ShelfEdit::Put(Arc::new(material)), "1");
    }
    shelf
}

/// The shelf is the old or the new one, and can be saved again whatever happened.
#[test]
fn a_shelf_is_the_old_or_the_new() {
    let (old, new) = (shelf_of(&["Water"]), shelf_of(&["Water", "Salt"]));
    let (errors, cuts) = try_out(&Way {
        prepare: &|folder| {
            let shelf = ShelfFolder::new(folder.join("shelf"));
            let seen = shelf.read().unwrap();
            shelf.save(&seen, &old, "1").unwrap();
        },
        act: &|folder| {
            let shelf = ShelfFolder::new(folder.join("shelf"));
            let Ok(seen) = shelf.read() else { return false };
            shelf.save(&seen, &new, "2").is_ok()
        },
        check: &|folder, confirmed| {
            let shelf = ShelfFolder::new(folder.join("shelf"));
            let seen = shelf.read().unwrap();
            assert!(seen.shelf == new || (!confirmed && seen.shelf == old));
            shelf.save(&seen, &shelf_of(&["Sugar"]), "3").unwrap();
        },
    });
    assert!(errors > 40 && cuts > 400, "{errors} {cuts}");
}

/// Before the newer form of the shelf replaces the older one, the older one is kept.
#[test]
fn an_older_shelf_is_never_lost() {
    let text = "(version: 1, materials: [(name: \"Moor water\")])";
    try_out(&Way {
        prepare: &|folder| fs::write(folder.join("shelf.ron"), text).unwrap(),
        act: &|folder| {
            let shelf = ShelfFolder::new(folder);
            let Ok(seen) = shelf.read() else { return false };
            shelf.save(&seen, &seen.shelf, "2").is_ok()
        },
        check: &|folder, _| {
            let now = fs::read_to_string(folder.join("shelf.ron")).unwrap();
            assert!(shelf_file::read(&now, "shelf.ron").unwrap().materials.len() == 1);
            if now != text {
                let copy = folder.join("shelf.before-version-2.ron");
                assert_eq!(fs::read_to_string(copy).unwrap(), text);
            }
        },
    });
}

#[test]
fn a_stock_is_the_old_or_the_new() {
    let file = |folder: &Path| folder.join("stock.ron");
    let (old, new) = (
        Stock::new(Currency::EUR),
        Stock::new(Currency::new("GBP").unwrap()),
    );
    try_out(&Way {
        prepare: &|folder| {
            stock_file::save(&file(folder), &old, &Workshop::default(), Expect::Nothing).unwrap();
        },
        act: &|folder| {
            let Ok((_, workshop, stamp)) = stock_file::open(&file(folder)) else {
                return false;
            };
            stock_file::save(&file(folder), &new, &workshop, Expect::Last(stamp)).is_ok()
        },
        check: &|folder, confirmed| {
            let (stock, ..) = stock_file::open(&file(folder)).unwrap();
            assert!(stock == new || (!confirmed && stock == old));
        },
    });
}

/// What is kept against a crash is there whole, in its last state that was confirmed or the
/// one being written, and nothing is left that cannot be read.
#[test]
fn unsaved_work_is_kept_whole() {
    let (errors, cuts) = try_out(&Way {
        prepare: &|_| {},
        act: &|folder| {
            let Ok(mut slot) = Slot::take(&folder.join("recovery")) else {
                return false;
            };
            slot.leave_for_next_start();
            let keep = |at: &str, text: &str| {
                let typed = BTreeMap::new();
                let unsaved = autosave::Unsaved {
                    origin: None,
                    at,
                    text,
                    typed: &typed,
                    begun_from: None,
                };
                slot.keep(unsaved).is_ok()
            };
            keep("1", "(a)") && keep("2", "(b)")
        },
        check: &|folder, confirmed| {
            let left = autosave::left_over(&folder.join("recovery"));
            assert_eq!(left.problems, Vec::<String>::new());
            match left.found.as_slice() {
                [] => assert!(!confirmed),
                [one] if one.text == "(b)" => {}
                [one] => assert!(!confirmed && one.text == "(a)"),
                more => panic!("{more:?}"),
            }
        },
    });
    assert!(errors > 40 && cuts > 400, "{errors} {cuts}");
}

/// A file of the program's own that only one program writes.
#[test]
fn a_replaced_file_is_the_old_or_the_new() {
    let file = |folder: &Path| folder.join("own");
    try_out(&Way {
        prepare: &|folder| fs::write(file(folder), "old").unwrap(),
        act: &|folder| store::replace(&file(folder), b"new", store::Readers::Private).is_ok(),
        check: &|folder, confirmed| {
            let text = fs::read_to_string(file(folder)).unwrap();
            assert!(text == "new" || (!confirmed && text == "old"));
        },
    });
}

/// What a program that was ended left beside a file goes with the next save, but not what
/// another one may still be writing.
#[test]
fn leftovers_go_with_the_next_save() {
    let dir = tempfile::tempdir().unwrap();
    let path = dir.path().join("gel.formula.ron");
    let [old, fresh, other] = [
        ".gel.formula.ron.1-0.part",
        ".gel.formula.ron.1-1.part",
        ".balm.1-0.part",
    ]
    .map(|name| dir.path().join(name));
    for part in [&old, &fresh, &other] {
        fs::write(part, "half").unwrap();
    }
    let long_ago = std::time::SystemTime::now() - std::time::Duration::from_mins(5);
    for part in [&old, &other] {
        fs::File::options()
            .write(true)
            .open(part)
            .unwrap()
            .set_modified(long_ago)
            .unwrap();
    }
    store::save_text(&path, "text", Expect::Nothing).unwrap();
    assert!(!old.exists() && fresh.exists() && other.exists());
}
