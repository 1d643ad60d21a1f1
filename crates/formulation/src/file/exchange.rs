//! Materials given to and taken from others: as a small RON file each, as a whole
//! shelf, or as the tables of [`super::shelf_table`]. What would change is shown
//! before anything does.

use std::path::Path;
use std::sync::Arc;

use super::FileError;
use super::read_error::ReadError;
use super::shelf_file;
use super::shelf_table;
use super::store;
use super::table::{self, TableError};
use super::{material_file, table::Table};
use crate::material::{Material, MaterialId};
use crate::material_change::{MaterialChange, material_changes};
use crate::own_shelf::{Conflict, OwnShelf, ShelfEdit};
use crate::shelf::Shelf;

/// The text of a file with one material.
pub fn write_one(material: &Arc<Material>) -> ron::Result<String> {
    material_file::write([material])
}

/// What a file offers to the shelf.
#[derive(Clone, PartialEq, Debug)]
pub enum Offered {
    /// Materials, from a material file, a shelf, JSON, or a table with our headings.
    Shelf(Box<OwnShelf>),
    /// Other tables: a recipe or a price list.
    Tables(Vec<Table>),
}

/// Why a file offers nothing.
#[derive(Debug, thiserror::Error)]
pub enum OfferError {
    /// A file of ours.
    #[error(transparent)]
    File(#[from] FileError),
    /// Content of a file of ours.
    #[error(transparent)]
    Read(#[from] ReadError),
    /// A table.
    #[error("{0} ({1})")]
    Table(TableError, String),
}

/// Opens a file that offers something to the shelf; its content tells what it is.
pub fn open(path: &Path) -> Result<Offered, OfferError> {
    let file = path.display().to_string();
    let extension = path
        .extension()
        .map(|e| e.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    match extension.as_str() {
        "ron" => {
            let (text, _) = store::read_text(path).map_err(FileError::from)?;
            Ok(Offered::Shelf(Box::new(shelf_file::read(&text, &file)?)))
        }
        "json" => {
            let (text, _) = store::read_text(path).map_err(FileError::from)?;
            Ok(offered(shelf_table::read_json(&text, &file)?))
        }
        _ => {
            let tables =
                table::read_file(path).map_err(|error| OfferError::Table(error, file.clone()))?;
            match tables.first() {
                Some(first) if shelf_table::looks_like_materials(first) => {
                    Ok(offered(shelf_table::read_table(first, &file)?))
                }
                _ => Ok(Offered::Tables(tables)),
            }
        }
    }
}

fn offered(materials: Vec<Material>) -> Offered {
    Offered::Shelf(Box::new(OwnShelf {
        materials: materials
            .into_iter()
            .map(|m| (m.id.clone(), Arc::new(m)))
            .collect(),
        ..OwnShelf::default()
    }))
}

/// A material offered, against the shelf.
#[derive(Clone, PartialEq, Debug)]
pub struct Difference {
    /// As offered.
    pub offered: Arc<Material>,
    /// As the shelf has it; `None` if it is new.
    pub present: Option<Arc<Material>>,
    /// Field by field, from the shelf's to the offered.
    pub changes: Vec<MaterialChange>,
}

/// What taking a shelf over would change, by name; what is the same is left out.
pub fn differences(offered: &OwnShelf, present: &Shelf) -> Vec<Difference> {
    let mut differences: Vec<Difference> = offered
        .materials
        .values()
        .filter_map(|material| {
            let here = present.get(&material.id);
            if here == Some(material) {
                return None;
            }
            Some(Difference {
                offered: Arc::clone(material),
                present: here.cloned(),
                changes: here.map_or_else(Vec::new, |h| material_changes(h, material)),
            })
        })
        .collect();
    differences.sort_by_cached_key(|d| d.offered.name.to_lowercase());
    differences
}

/// What becomes of a material that is on both sides and differs.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Resolve {
    /// Keep the shelf's.
    #[default]
    Keep,
    /// Take the offered one.
    Take,
    /// Keep the shelf's and put the offered one beside it under another name.
    Both,
}

impl Resolve {
    /// All, in the order of display.
    pub const ALL: [Self; 3] = [Self::Keep, Self::Take, Self::Both];
    /// The words shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Keep => "keep mine",
            Self::Take => "take the other",
            Self::Both => "keep both",
        }
    }
}

/// The edits that take a difference over as chosen; a new material is taken unless
/// it is to be kept out.
pub fn edits(difference: &Difference, choice: Resolve, present: &Shelf) -> Vec<ShelfEdit> {
    match (choice, &difference.present) {
        (Resolve::Keep, _) => Vec::new(),
        (Resolve::Take, _) | (Resolve::Both, None) => {
            vec![ShelfEdit::Put(Arc::clone(&difference.offered))]
        }
        (Resolve::Both, Some(_)) => vec![ShelfEdit::Put(beside(&difference.offered, present))],
    }
}

/// A copy under a name and id that the shelf does not have.
pub fn beside(material: &Material, present: &Shelf) -> Arc<Material> {
    let mut copy = material.clone();
    let mut number = 2;
    loop {
        copy.name = format!("{} ({number})", material.name).into();
        copy.id = MaterialId::from_name(&format!("{} {number}", material.id));
        if present.get(&copy.id).is_none() {
            return Arc::new(copy);
        }
        number += 1;
    }
}

/// The edit that settles a conflict between two windows in favour of one side.
pub fn settle(conflict: &Conflict, choice: Resolve, present: &Shelf) -> Vec<ShelfEdit> {
    match choice {
        // The merged shelf holds ours already.
        Resolve::Keep => Vec::new(),
        Resolve::Take => match &conflict.theirs {
            Some(theirs) => vec![ShelfEdit::Put(Arc::clone(theirs))],
            None => vec![ShelfEdit::Remove(conflict.material.clone())],
        },
        Resolve::Both => conflict
            .theirs
            .iter()
            .map(|theirs| ShelfEdit::Put(beside(theirs, present)))
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture::material;
    use crate::material::Class;

    fn shelf() -> Shelf {
        [
            material("Water", &[("Aqua", 100.0, Class::Water)]),
            material("Salt", &[("Sodium Chloride", 99.0, Class::Electrolyte)]),
        ]
        .into_iter()
        .collect()
    }

    #[test]
    fn one_material_travels_as_a_small_file() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("salt.ron");
        let salt = material("Salt", &[("Sodium Chloride", 99.5, Class::Electrolyte)]);
        std::fs::write(&path, write_one(&salt).unwrap()).unwrap();
        let Offered::Shelf(offered) = open(&path).unwrap() else {
            panic!("no materials");
        };
        let differences = differences(&offered, &shelf());
        assert_eq!(differences.len(), 1);
        assert_eq!(differences[0].changes[0].field, "contains Sodium Chloride");
        assert_eq!(edits(&differences[0], Resolve::Keep, &shelf()), []);
        assert_eq!(
            edits(&differences[0], Resolve::Take, &shelf()),
            [ShelfEdit::Put(salt)]
        );
        let [ShelfEdit::Put(copy)] = &edits(&differences[0], Resolve::Both, &shelf())[..] else {
            panic!("not beside");
        };
        assert_eq!((&*copy.name, copy.id.as_str()), ("Salt (2)", "salt-2"));
    }

    #[test]
    fn every_form_of_a_shelf_is_opened_by_its_content() {
        let dir = tempfile::tempdir().unwrap();
        let shelf = shelf();
        let write = |name: &str, bytes: &[u8]| {
            let path = dir.path().join(name);
            std::fs::write(&path, bytes).unwrap();
            path
        };
        let paths = [
            write(
                "a.json",
                shelf_table::json(shelf.iter()).unwrap().as_bytes(),
            ),
            write("a.csv", shelf_table::csv(shelf.iter()).unwrap().as_bytes()),
            write("a.xlsx", &shelf_table::xlsx(shelf.iter()).unwrap()),
            write(
                "a.ron",
                material_file::write(shelf.iter()).unwrap().as_bytes(),
            ),
        ];
        for path in paths {
            let Offered::Shelf(offered) = open(&path).unwrap() else {
                panic!("{}", path.display());
            };
            assert!(
                differences(&offered, &shelf).is_empty(),
                "{}",
                path.display()
            );
        }
        let recipe = write("r.csv", b"Ingredient,%\nWater,100\n");
        assert!(matches!(open(&recipe), Ok(Offered::Tables(_))));
        let broken = write("b.ron", b"(version: 1, mat");
        assert!(open(&broken).unwrap_err().to_string().contains("b.ron"));
    }
}
