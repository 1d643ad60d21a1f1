//! Raw materials as a RON file, short enough to write by hand.
//!
//! ```ron
//! (
//!     version: 1,
//!     source: "typical",
//!     sources: {
//!         "typical": (basis: Typical, text: "solutions of this kind"),
//!         "inventory": (basis: Published, text: "European Commission, CosIng inventory"),
//!     },
//!     materials: [
//!         (
//!             name: "Cocamidopropyl betaine solution",
//!             contains: [
//!                 (inci: "Aqua", cas: "7732-18-5", share: (62, 65, 67), class: Water),
//!                 (inci: "Cocamidopropyl Betaine", cas: "61789-40-0", share: (29, 30, 32), class: Surfactant(Amphoteric)),
//!                 (inci: "Sodium Chloride", cas: "7647-14-5", share: 5, class: Electrolyte, source: "inventory"),
//!             ],
//!             roles: [CoSurfactant, Foamer],
//!             density_kg_m3: 1045,
//!             from: {density_kg_m3: "inventory"},
//!         ),
//!     ],
//! )
//! ```
//!
//! Shares are in percent of the material, one number or `(low, typical, high)`.
//! Every value is from the material's `source`, which is the file's unless the
//! material names one; `from` names another source for single fields.

mod entry;
mod from_model;
#[cfg(test)]
mod tests;
mod to_model;

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use self::entry::{
    AlkalinityEntry, ConstituentEntry, MaterialEntry, PreservationEntry, PureEntry, SourcedField,
    UseRangeEntry,
};
pub use self::to_model::EntryError;
use super::read_error::ReadError;
use super::source_table::SourceTable;
use crate::material::Material;
use crate::notation::writer;

/// The version this program writes and the newest it reads.
pub const VERSION: u32 = 1;

/// A file of materials.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MaterialFile {
    /// Version of this form.
    pub version: u32,
    /// Key of the source of every value that names no other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Sources by key.
    #[serde(default, skip_serializing_if = "SourceTable::is_empty")]
    pub sources: SourceTable,
    /// The materials.
    pub materials: Vec<MaterialEntry>,
}

/// How RON is read and written here: a value stands for `Some(value)`.
pub(crate) fn ron_options() -> ron::Options {
    ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
}

/// The version a file states, read before anything else so that a file of a newer
/// program is told apart from a damaged one.
#[derive(Deserialize)]
struct Header {
    version: u32,
}

/// Reads a file of materials. `file` is its name, for the error.
///
/// Errors name the line and column, the field, what is wrong and what to do.
pub fn read(text: &str, file: &str) -> Result<Vec<Material>, ReadError> {
    let options = ron_options();
    let header: Header = options
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if header.version > VERSION {
        return Err(ReadError::whole(
            file,
            format!(
                "the file is of version {}, newer than the version {VERSION} this program reads; use a newer Phasewright",
                header.version
            ),
        ));
    }
    if header.version == 0 {
        return Err(ReadError::whole(
            file,
            "there is no version 0 of this file; write `version: 1`",
        ));
    }
    let parsed: MaterialFile = options
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    let at = |e: EntryError| ReadError::at(file, e.place(text), e.message);
    let mut seen = BTreeSet::new();
    let mut materials = Vec::with_capacity(parsed.materials.len());
    for entry in parsed.materials {
        let material = entry
            .into_model(&parsed.sources, parsed.source.as_deref())
            .map_err(at)?;
        if !seen.insert(material.id.clone()) {
            return Err(at(EntryError {
                material: material.name.to_string(),
                near: material.name.to_string(),
                message: format!(
                    "two materials have the id “{}”; give one of them another name or `id`",
                    material.id
                ),
            }));
        }
        materials.push(material);
    }
    Ok(materials)
}

/// Writes a file of materials; read again it gives the same materials.
pub fn write<'a>(materials: impl IntoIterator<Item = &'a Arc<Material>>) -> ron::Result<String> {
    let mut sources = SourceTable::default();
    let materials = materials
        .into_iter()
        .map(|material| MaterialEntry::from_model(material, &mut sources, None))
        .collect();
    let file = MaterialFile {
        version: VERSION,
        source: None,
        sources,
        materials,
    };
    let mut text = writer::ron(&file, &ron_options(), pretty(4))?;
    text.push('\n');
    Ok(text)
}

/// One value a line down to `depth`, what lies deeper on one line.
pub(crate) fn pretty(depth: usize) -> ron::ser::PrettyConfig {
    ron::ser::PrettyConfig::new()
        .new_line("\n")
        .depth_limit(depth)
}
