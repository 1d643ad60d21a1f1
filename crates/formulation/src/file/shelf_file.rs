//! The maker's shelf on disk: `shelf.ron` in one folder that can be backed up or
//! synchronised.
//!
//! Two windows may work on one shelf: a save takes a lock, reads what is there now,
//! merges it with the changes made here, and only then writes. A file of an older
//! form is copied to `shelf.before-version-N.ron` before the newer form is written.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use serde::{Deserialize, Serialize};

use super::FileError;
use super::disk::{self, Access, Handle};
use super::formula_file::{Sections, check_header, parse};
use super::material_file::{self, MaterialEntry};
use super::number::{PhNumber, Within};
use super::read_error::ReadError;
use super::ron_place;
use super::source_table::SourceTable;
use super::store::{self, Expect, Since, Stamp, StoreError};
use crate::lot_values::LotValues;
use crate::material::{Material, MaterialId};
use crate::own_shelf::{Attachment, Merged, OwnShelf, ShelfChange, merge};
use crate::quantity::{self, MassFraction};
use crate::stock::LotId;

/// What the file says it is.
pub const FORMAT: &str = "phasewright shelf";
/// The version this program writes and the newest it reads. Version 1 was a plain
/// file of materials, see [`material_file`].
pub const VERSION: u32 = 2;
/// How long a save waits for another window that is saving the shelf.
const PATIENCE: Duration = Duration::from_secs(5);
/// Name of the file in its folder.
pub const NAME: &str = "shelf.ron";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ShelfEntry {
    #[serde(rename = "format")]
    _format: String,
    #[serde(rename = "version")]
    _version: u32,
    #[serde(default)]
    sources: SourceTable,
    #[serde(default)]
    materials: Vec<MaterialEntry>,
    #[serde(default)]
    hidden: Vec<String>,
    #[serde(default)]
    attachments: BTreeMap<String, Vec<(String, String)>>,
    #[serde(default)]
    lots: Vec<LotEntry>,
    #[serde(default)]
    history: Vec<ChangeEntry>,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct LotEntry {
    lot: String,
    material: String,
    /// Percent of the material by INCI name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    shares: Vec<(String, Within<0, 100>)>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    density_kg_m3: Option<Within<10, 25000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    ph: Option<PhNumber>,
    /// As trials with the lot narrowed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    base_mmol_per_gram: Option<(Within<-50, 50>, Within<-50, 50>)>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    certificate: String,
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct ChangeEntry {
    at: String,
    what: String,
    material: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    before: Option<MaterialEntry>,
}

/// Reads the text of a shelf file. `file` is its name for error messages.
pub fn read(text: &str, file: &str) -> Result<OwnShelf, ReadError> {
    if is_plain(text) {
        let materials = material_file::read(text, file)?;
        return Ok(OwnShelf {
            materials: by_id(materials.into_iter().map(Arc::new)),
            ..OwnShelf::default()
        });
    }
    check_header(text, file, FORMAT, VERSION)?;
    let entry: ShelfEntry = parse(text, file)?;
    into_model(entry, text, file)
}

/// The first form of the shelf had no `format`.
fn is_plain(text: &str) -> bool {
    #[derive(Deserialize)]
    struct Head {
        format: Option<String>,
    }
    material_file::ron_options()
        .from_str::<Head>(text)
        .is_ok_and(|head| head.format.is_none())
}

fn by_id(
    materials: impl IntoIterator<Item = Arc<Material>>,
) -> BTreeMap<MaterialId, Arc<Material>> {
    materials.into_iter().map(|m| (m.id.clone(), m)).collect()
}

fn into_model(entry: ShelfEntry, text: &str, file: &str) -> Result<OwnShelf, ReadError> {
    let sources = &entry.sources;
    let material = |entry: MaterialEntry| {
        entry
            .into_model(sources, None)
            .map(Arc::new)
            .map_err(|e| ReadError::at(file, e.place(text), e.message))
    };
    let mut materials = BTreeMap::new();
    for one in entry.materials {
        let one = material(one)?;
        if let Some(twice) = materials.insert(one.id.clone(), one) {
            return Err(ReadError::whole(
                file,
                format!(
                    "two materials have the id “{}”; give one of them another name or `id`",
                    twice.id
                ),
            ));
        }
    }
    let mut lots = BTreeMap::new();
    for one in entry.lots {
        let lot = LotId::new(&one.lot).ok_or_else(|| {
            ReadError::whole(file, "field `lot`: the code of a lot is empty; give it one")
        })?;
        let values = LotValues {
            lot: lot.clone(),
            material: MaterialId::from_name(&one.material),
            shares: one
                .shares
                .into_iter()
                .map(|(inci, percent)| (inci.into(), MassFraction::from_percent(percent.0)))
                .collect(),
            density: one.density_kg_m3.map(|d| quantity::kg_per_m3(d.0)),
            ph: one.ph.map(|p| p.0),
            base_mmol_per_gram: one.base_mmol_per_gram.map(|(low, high)| (low.0, high.0)),
            certificate: one.certificate.into(),
        };
        lots.insert(lot, values);
    }
    let history = entry
        .history
        .into_iter()
        .map(|change| {
            Ok(Arc::new(ShelfChange {
                at: change.at.into(),
                what: change.what.into(),
                material: MaterialId::from_name(&change.material),
                before: change.before.map(material).transpose()?,
            }))
        })
        .collect::<Result<_, ReadError>>()?;
    Ok(OwnShelf {
        materials,
        hidden: entry
            .hidden
            .iter()
            .map(|id| MaterialId::from_name(id))
            .collect(),
        attachments: entry
            .attachments
            .into_iter()
            .map(|(id, files)| {
                let files = files
                    .into_iter()
                    .map(|(label, path)| Attachment {
                        label: label.into(),
                        path: path.into(),
                    })
                    .collect();
                (MaterialId::from_name(&id), files)
            })
            .collect(),
        lots,
        history,
    })
}

/// The text of a shelf file; read again it gives the same shelf.
pub fn write(shelf: &OwnShelf) -> ron::Result<String> {
    let mut sources = SourceTable::default();
    let mut entry = |m: &Arc<Material>| MaterialEntry::from_model(m, &mut sources, None);
    let materials: Vec<MaterialEntry> = shelf.materials.values().map(&mut entry).collect();
    let history: Vec<ChangeEntry> = shelf
        .history
        .iter()
        .map(|change| ChangeEntry {
            at: change.at.to_string(),
            what: change.what.to_string(),
            material: change.material.to_string(),
            before: change.before.as_ref().map(&mut entry),
        })
        .collect();
    let hidden: Vec<&str> = shelf.hidden.iter().map(MaterialId::as_str).collect();
    let attachments: BTreeMap<&str, Vec<(&str, &str)>> = shelf
        .attachments
        .iter()
        .map(|(id, files)| {
            let files = files.iter().map(|f| (&*f.label, &*f.path)).collect();
            (id.as_str(), files)
        })
        .collect();
    let lots: Vec<LotEntry> = shelf.lots.values().map(lot_entry).collect();
    let mut out = Sections::new();
    out.add("format", FORMAT, 0)?;
    out.add("version", &VERSION, 0)?;
    if !sources.is_empty() {
        out.add("sources", &sources, 1)?;
    }
    out.add("materials", &materials, 3)?;
    if !hidden.is_empty() {
        out.add("hidden", &hidden, 1)?;
    }
    if !attachments.is_empty() {
        out.add("attachments", &attachments, 2)?;
    }
    if !lots.is_empty() {
        out.add("lots", &lots, 1)?;
    }
    if !history.is_empty() {
        out.add("history", &history, 1)?;
    }
    Ok(out.finish())
}

fn lot_entry(values: &LotValues) -> LotEntry {
    let percent = |share: MassFraction| {
        let guess = share.as_percent();
        let read = |p| MassFraction::from_percent(p).value();
        Within(super::number::shortest(share.value(), guess, read).unwrap_or(guess))
    };
    LotEntry {
        lot: values.lot.to_string(),
        material: values.material.to_string(),
        shares: values
            .shares
            .iter()
            .map(|(inci, share)| (inci.to_string(), percent(*share)))
            .collect(),
        density_kg_m3: values.density.map(|d| Within(quantity::in_kg_per_m3(d))),
        ph: values.ph.map(PhNumber),
        base_mmol_per_gram: values
            .base_mmol_per_gram
            .map(|(low, high)| (Within(low), Within(high))),
        certificate: values.certificate.to_string(),
    }
}

/// The shelf as it was last read or written, and what was found on disk then.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Seen {
    /// The shelf.
    pub shelf: OwnShelf,
    /// What the file held; `None` if there was none.
    pub stamp: Option<Stamp>,
}

/// What came of a save.
#[derive(Clone, PartialEq, Debug)]
pub struct Saved {
    /// The shelf as it is on disk now, with the changes of others.
    pub seen: Seen,
    /// What was merged, if another window or machine had changed the shelf meanwhile.
    pub merged: Option<Merged>,
    /// The copy kept of a file of an older form, or of one with comments.
    pub backup: Option<PathBuf>,
}

/// The folder that holds the maker's shelf.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ShelfFolder {
    path: PathBuf,
}

impl ShelfFolder {
    /// A folder; it is made when the shelf is first saved.
    pub fn new(path: impl Into<PathBuf>) -> Self {
        Self { path: path.into() }
    }

    /// The folder.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// The file.
    pub fn file(&self) -> PathBuf {
        self.path.join(NAME)
    }

    /// Reads the shelf; a folder without one holds an empty shelf.
    pub fn read(&self) -> Result<Seen, FileError> {
        let path = self.file();
        match store::read_text(&path) {
            Ok((text, stamp)) => Ok(Seen {
                shelf: read(&text, &path.display().to_string())?,
                stamp: Some(stamp),
            }),
            Err(StoreError::Missing { .. }) => Ok(Seen::default()),
            Err(error) => Err(error.into()),
        }
    }

    /// Whether the file has been changed since it was seen. Cheap enough to ask when a
    /// window gets the focus.
    pub fn changed_since(&self, seen: &Seen) -> Result<bool, FileError> {
        match &seen.stamp {
            Some(stamp) => Ok(store::since(&self.file(), stamp)? != Since::Same),
            None => Ok(disk::is_there(&self.file())),
        }
    }

    /// Saves the shelf, merged with what others have saved since `base` was seen.
    /// `at` is the time, RFC 3339, for the history.
    pub fn save(&self, base: &Seen, shelf: &OwnShelf, at: &str) -> Result<Saved, FileError> {
        let told = |doing: &'static str, path: &Path| {
            let path = path.to_path_buf();
            move |cause| StoreError::Io { doing, path, cause }
        };
        disk::make_folders(&self.path, Access::Usual)
            .map_err(told("make the folder of the shelf", &self.path))?;
        let lock_path = self.path.join("shelf.lock");
        let lock = Handle::lock_file(&lock_path, Access::Usual)
            .map_err(told("lock the shelf", &lock_path))?;
        // Released when dropped, and by the operating system if the program dies.
        let ours = lock
            .lock_within(PATIENCE)
            .map_err(told("lock the shelf", &lock_path))?;
        if !ours {
            return Err(StoreError::Busy { path: self.file() }.into());
        }

        let path = self.file();
        let now = self.read()?;
        let same = match (&now.stamp, &base.stamp) {
            (Some(now), Some(then)) => now.same_content(then),
            (None, None) => true,
            _ => false,
        };
        let merged = (!same).then(|| merge(&base.shelf, shelf, &now.shelf, at));
        let result = merged.as_ref().map_or(shelf, |m| &m.shelf);
        let backup = Self::keep_older_form(&path)?;
        let file = path.display().to_string();
        let text = write(result)
            .map_err(|e| ReadError::whole(&file, format!("the shelf cannot be written: {e}")))?;
        // A file that could not be opened again is never written.
        read(&text, &file)?;
        let expect = now.stamp.map_or(Expect::Nothing, Expect::Last);
        let stamp = store::save_text(&path, &text, expect)?;
        Ok(Saved {
            seen: Seen {
                shelf: result.clone(),
                stamp: Some(stamp),
            },
            merged,
            backup,
        })
    }

    /// Copies a file aside whose text is not all in what replaces it: one of an older form, or
    /// one with comments.
    fn keep_older_form(path: &Path) -> Result<Option<PathBuf>, FileError> {
        let text = match store::read_text(path) {
            Ok((text, _)) => text,
            Err(StoreError::Missing { .. }) => return Ok(None),
            // What cannot be kept is not replaced.
            Err(error) => return Err(error.into()),
        };
        if is_plain(&text) {
            let label = format!("before-version-{VERSION}");
            return Ok(Some(store::keep_aside(path, &text, &label)?));
        }
        if !ron_place::comments(&text).is_empty() {
            let copy = store::keep_aside(path, &text, store::WITH_COMMENTS)?;
            return Ok(Some(copy));
        }
        Ok(None)
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use super::*;
    use crate::own_shelf::ShelfEdit;
    use crate::quantity::{Ph, kg_per_m3};

    fn full() -> OwnShelf {
        let mut shelf = OwnShelf::default();
        for (n, material) in crate::shelf::built_in::shelf().iter().enumerate().take(40) {
            let mut material = Material::clone(material);
            material.supplier = Some("Fell \"Supplies\"".into());
            shelf.apply(
                &ShelfEdit::Put(Arc::new(material.clone())),
                &format!("2026-05-01T10:{n:02}:00Z"),
            );
            material.note = "as it is now\nwith two lines".into();
            shelf.apply(
                &ShelfEdit::Put(Arc::new(material)),
                &format!("2026-05-01T11:{n:02}:00Z"),
            );
        }
        let id = shelf.materials.keys().next().unwrap().clone();
        shelf.apply(
            &ShelfEdit::Hide(MaterialId::from_name("something")),
            "2026-05-02T00:00:00Z",
        );
        shelf.apply(
            &ShelfEdit::Attach(
                id.clone(),
                vec![Attachment {
                    label: "Data sheet".into(),
                    path: "sheets/a b.pdf".into(),
                }],
            ),
            "2026-05-02T00:00:01Z",
        );
        shelf.apply(
            &ShelfEdit::PutLot(LotValues {
                lot: LotId::new("L 1").unwrap(),
                material: id,
                shares: vec![("Aqua".into(), MassFraction::from_percent(64.3))],
                density: Some(kg_per_m3(1043.5)),
                ph: Ph::new(5.25),
                base_mmol_per_gram: Some((-0.012, 0.004)),
                certificate: "CoA".into(),
            }),
            "2026-05-02T00:00:02Z",
        );
        shelf
    }

    #[test]
    fn a_shelf_reads_back_as_written() {
        let shelf = full();
        let text = write(&shelf).unwrap();
        assert_eq!(read(&text, "shelf.ron").unwrap(), shelf);
        let empty = OwnShelf::default();
        assert_eq!(read(&write(&empty).unwrap(), "shelf.ron").unwrap(), empty);
        assert_eq!(shelf.materials.len(), 40);
    }

    #[test]
    fn errors_name_the_file_and_the_fault() {
        let text = write(&full()).unwrap();
        let told = |text: &str| read(text, "shelf.ron").unwrap_err().to_string();
        assert!(told(&text.replace("version: 2", "version: 9")).contains("newer"));
        assert!(told(&text.replace(FORMAT, "something else")).contains("shelf.ron"));
        assert!(
            told("(format: \"phasewright shelf\", version: 2, materials: [(name: \"\")])")
                .contains("name")
        );
        assert!(told("not ron").contains("shelf.ron"));
    }

    #[test]
    fn two_windows_do_not_destroy_each_others_changes() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path().join("shelf"));
        assert_eq!(folder.read().unwrap(), Seen::default());
        let material = |name: &str| Arc::new(Material::unknown(MaterialId::from_name(name), name));

        let mut first = Seen::default();
        first.shelf.apply(&ShelfEdit::Put(material("Water")), "1");
        let first = folder
            .save(&Seen::default(), &first.shelf, "1")
            .unwrap()
            .seen;
        let second = folder.read().unwrap();
        assert_eq!(second.shelf, first.shelf);
        assert!(!folder.changed_since(&first).unwrap());

        let mut ours = first.shelf.clone();
        ours.apply(&ShelfEdit::Put(material("Salt")), "2");
        let saved = folder.save(&first, &ours, "2").unwrap();
        assert!(saved.merged.is_none());
        assert!(folder.changed_since(&second).unwrap());

        let mut theirs = second.shelf.clone();
        theirs.apply(&ShelfEdit::Put(material("Sugar")), "3");
        let saved = folder.save(&second, &theirs, "3").unwrap();
        assert!(saved.merged.unwrap().conflicts.is_empty());
        let names: Vec<String> = folder
            .read()
            .unwrap()
            .shelf
            .materials
            .values()
            .map(|m| m.name.to_string())
            .collect();
        assert_eq!(names, ["Salt", "Sugar", "Water"]);
    }

    #[test]
    fn many_saves_at_once_lose_nothing() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path());
        std::thread::scope(|scope| {
            for thread in 0..4 {
                let folder = folder.clone();
                scope.spawn(move || {
                    for n in 0..5 {
                        let seen = folder.read().unwrap();
                        let mut shelf = seen.shelf.clone();
                        let name = format!("Stuff {thread} {n}");
                        let id = MaterialId::from_name(&name);
                        shelf.apply(&ShelfEdit::Put(Arc::new(Material::unknown(id, name))), "1");
                        folder.save(&seen, &shelf, "1").unwrap();
                    }
                });
            }
        });
        assert_eq!(folder.read().unwrap().shelf.materials.len(), 20);
    }

    #[test]
    fn an_older_form_is_read_and_kept_before_it_is_replaced() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path());
        let old = "(version: 1, materials: [(name: \"Moor water\")])";
        fs::write(folder.file(), old).unwrap();
        let seen = folder.read().unwrap();
        assert_eq!(seen.shelf.materials.len(), 1);
        let saved = folder.save(&seen, &seen.shelf, "1").unwrap();
        let backup = saved.backup.unwrap();
        assert_eq!(fs::read_to_string(&backup).unwrap(), old);
        assert!(
            fs::read_to_string(folder.file())
                .unwrap()
                .contains("version: 2")
        );
        // Once is enough.
        let saved = folder.save(&saved.seen, &seen.shelf, "2").unwrap();
        assert_eq!(saved.backup, None);
    }

    #[test]
    fn comments_are_kept_beside() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path());
        let text = write(&full()).unwrap() + "// ask Fell about the wax\n";
        fs::write(folder.file(), &text).unwrap();
        let seen = folder.read().unwrap();
        let saved = folder.save(&seen, &OwnShelf::default(), "1").unwrap();
        let kept = saved.backup.unwrap();
        assert!(
            kept.ends_with("shelf.with-comments.ron"),
            "{}",
            kept.display()
        );
        assert_eq!(fs::read_to_string(kept).unwrap(), text);
        assert_eq!(folder.save(&saved.seen, &full(), "2").unwrap().backup, None);
    }

    /// The lock is no file of ours to be emptied, and a link in its place leads nowhere.
    #[cfg(unix)]
    #[test]
    fn the_lock_harms_nothing() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path());
        let lock = dir.path().join("shelf.lock");
        fs::write(&lock, "notes").unwrap();
        folder.save(&Seen::default(), &full(), "1").unwrap();
        assert_eq!(fs::read_to_string(&lock).unwrap(), "notes");
        fs::remove_file(&lock).unwrap();
        let other = dir.path().join("letter");
        fs::write(&other, "dear").unwrap();
        std::os::unix::fs::symlink(&other, &lock).unwrap();
        let seen = folder.read().unwrap();
        let said = folder.save(&seen, &OwnShelf::default(), "2").unwrap_err();
        assert!(said.to_string().contains("a link"), "{said}");
        assert_eq!(fs::read_to_string(&other).unwrap(), "dear");
        assert_eq!(folder.read().unwrap().shelf, full());
    }

    #[test]
    fn a_damaged_shelf_is_told_and_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let folder = ShelfFolder::new(dir.path());
        fs::write(
            folder.file(),
            "(format: \"phasewright shelf\", version: 2, mat",
        )
        .unwrap();
        assert!(folder.read().is_err());
        assert!(folder.save(&Seen::default(), &full(), "1").is_err());
        assert!(fs::read_to_string(folder.file()).unwrap().ends_with("mat"));
    }
}
