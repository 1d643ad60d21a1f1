//! Materials given to and taken from others: as a small RON file each, as a whole
//! shelf, or as the tables of [`super::shelf_table`]. What would change is shown
//! before anything does.

use std::collections::BTreeMap;
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
use crate::own_shelf::{Conflict, OwnShelf, ShelfEdit, Sides};
use crate::shelf::Shelf;

/// The text of a file with one material.
pub fn write_one(material: &Arc<Material>) -> ron::Result<String> {
    material_file::write([material])
}

/// What a file offers to the shelf.
#[derive(Clone, PartialEq, Debug)]
pub enum ShelfImport {
    /// Materials, from a material file, a shelf, JSON, or tables with our headings, and what of
    /// the file is left out, in words.
    Shelf(Box<OwnShelf>, Vec<String>),
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
pub fn open(path: &Path) -> Result<ShelfImport, OfferError> {
    let file = path.display().to_string();
    let extension = path
        .extension()
        .map(|e| e.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    match extension.as_str() {
        "ron" => {
            let (text, _) = store::read_text(path).map_err(FileError::from)?;
            let shelf = shelf_file::read(&text, &file)?;
            let left_out = besides_materials(&shelf);
            Ok(ShelfImport::Shelf(Box::new(shelf), left_out))
        }
        "json" if is_our_json(path)? => {
            let (text, _) = store::read_text(path).map_err(FileError::from)?;
            Ok(offered(shelf_table::read_json(&text, &file)?, Vec::new()))
        }
        _ => {
            let tables =
                table::read_file(path).map_err(|error| OfferError::Table(error, file.clone()))?;
            if !tables.iter().any(shelf_table::looks_like_materials) {
                return Ok(ShelfImport::Tables(tables));
            }
            let mut materials = Vec::new();
            let mut left_out = Vec::new();
            for table in tables.iter().filter(|table| !table.is_empty()) {
                if shelf_table::looks_like_materials(table) {
                    materials.extend(shelf_table::read_table(table, &file)?);
                } else {
                    left_out.push(format!(
                        "sheet “{}” has no materials with the headings of a shelf; save it as a file of its own to bring it in",
                        table.name
                    ));
                }
            }
            Ok(offered(materials, left_out))
        }
    }
}

/// Whether a file in JSON holds materials in our form; what other programs write is read as tables.
fn is_our_json(path: &Path) -> Result<bool, OfferError> {
    let (text, _) = store::read_text(path).map_err(FileError::from)?;
    Ok(shelf_table::looks_ours(&text))
}

/// What the file of a shelf holds besides its materials; only these are taken over.
fn besides_materials(shelf: &OwnShelf) -> Vec<String> {
    let counted = [
        (shelf.hidden.len(), "hidden materials of the program"),
        (shelf.attachments.len(), "materials with files beside them"),
        (shelf.lots.len(), "lots with values of a certificate"),
    ];
    let all = counted.into_iter().filter(|(count, _)| *count > 0);
    all.map(|(count, what)| format!("{what}: {count}; only materials are taken over"))
        .collect()
}

/// The materials of one file; of several with one id the last.
fn offered(materials: Vec<Material>, mut left_out: Vec<String>) -> ShelfImport {
    let mut by_id: BTreeMap<MaterialId, Arc<Material>> = BTreeMap::new();
    for material in materials {
        if let Some(before) = by_id.insert(material.id.clone(), Arc::new(material)) {
            left_out.push(format!(
                "“{}” ({}) stands in the file more than once; the last was taken",
                before.name, before.id
            ));
        }
    }
    let shelf = OwnShelf {
        materials: by_id,
        ..OwnShelf::default()
    };
    ShelfImport::Shelf(Box::new(shelf), left_out)
}

/// A material offered, against the shelf.
#[derive(Clone, PartialEq, Debug)]
pub struct OfferedMaterial {
    /// As offered.
    pub offered: Arc<Material>,
    /// As the shelf has it; `None` if it is new.
    pub present: Option<Arc<Material>>,
    /// Field by field, from the shelf's to the offered.
    pub changes: Vec<MaterialChange>,
}

/// What taking a shelf over would change, by name; what is the same is left out.
pub fn differences(offered: &OwnShelf, present: &Shelf) -> Vec<OfferedMaterial> {
    let mut differences: Vec<OfferedMaterial> = offered
        .materials
        .values()
        .filter_map(|material| {
            let here = present.get(&material.id);
            if here == Some(material) {
                return None;
            }
            Some(OfferedMaterial {
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
pub fn edits(difference: &OfferedMaterial, choice: Resolve, present: &Shelf) -> Vec<ShelfEdit> {
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
        Resolve::Take => vec![match &conflict.sides {
            Sides::Material { theirs, .. } => match theirs {
                Some(theirs) => ShelfEdit::Put(Arc::clone(theirs)),
                None => ShelfEdit::Remove(conflict.material.clone()),
            },
            Sides::Lot { lot, theirs, .. } => match theirs {
                Some(theirs) => ShelfEdit::PutLot((**theirs).clone()),
                None => ShelfEdit::RemoveLot(lot.clone()),
            },
        }],
        Resolve::Both => match &conflict.sides {
            Sides::Material { theirs, .. } => theirs
                .iter()
                .map(|theirs| ShelfEdit::Put(beside(theirs, present)))
                .collect(),
            // A lot has one certificate.
            Sides::Lot { .. } => Vec::new(),
        },
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
        let ShelfImport::Shelf(offered, _) = open(&path).unwrap() else {
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
            let ShelfImport::Shelf(offered, left_out) = open(&path).unwrap() else {
                panic!("{}", path.display());
            };
            assert_eq!(left_out, [""; 0]);
            assert!(
                differences(&offered, &shelf).is_empty(),
                "{}",
                path.display()
            );
        }
        // Each sheet is read, whichever stands first, and what is left out is told.
        let mut book = rust_xlsxwriter::Workbook::new();
        let mut sheet = |name: &str, cells: &[[&str; 2]]| {
            let sheet = book.add_worksheet().set_name(name).unwrap();
            for (row, [one, other]) in (0..).zip(cells) {
                sheet.write(row, 0, *one).unwrap();
                sheet.write(row, 1, *other).unwrap();
            }
        };
        sheet("Remarks", &[["See the others", ""]]);
        let salt = r#"{"inci":"Sodium Chloride","class":"Electrolyte"}"#;
        sheet("Salts", &[["name", "pure"], ["Salt", salt]]);
        sheet(
            "More",
            &[["name", "pure"], ["Salt", salt], ["Sea salt", salt]],
        );
        let several = write("s.xlsx", &book.save_to_buffer().unwrap());
        let ShelfImport::Shelf(offered, left_out) = open(&several).unwrap() else {
            panic!("no materials");
        };
        assert_eq!(offered.materials.len(), 2);
        assert!(
            left_out[0].contains("Remarks") && left_out[1].contains("“Salt”"),
            "{left_out:?}"
        );
        let recipe = write("r.csv", b"Ingredient,%\nWater,100\n");
        assert!(matches!(open(&recipe), Ok(ShelfImport::Tables(_))));
        let broken = write("b.ron", b"(version: 1, mat");
        assert!(open(&broken).unwrap_err().to_string().contains("b.ron"));
    }
}
