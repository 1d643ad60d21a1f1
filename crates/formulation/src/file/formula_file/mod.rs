//! A formula file: `NAME.formula.ron`.
//!
//! Readable and short enough to write by hand. Percentages are decimal numbers in
//! % w/w, exact to 0.000001; temperatures are in °C, masses in grams. The file
//! carries every material it uses, so that it opens anywhere. Earlier states of
//! a variant are kept as differences from the state that followed, one line each.
//!
//! ```ron
//! (
//!     format: "phasewright formula",
//!     version: 3,
//!     name: "Hand gel",
//!     active: 1,
//!     variants: [
//!         (
//!             id: 1,
//!             name: "First",
//!             product: (kind: LeaveOn, places: [Hands], markets: [Eu]),
//!             filler: 3,
//!             batch_g: 500,
//!             phases: [
//!                 (
//!                     letter: "A",
//!                     kind: Water,
//!                     lines: [
//!                         (id: 3, material: "water", percent: 97),
//!                         (material: "glycerin", percent: 3, why: "keeps skin supple"),
//!                     ],
//!                 ),
//!             ],
//!         ),
//!     ],
//!     materials: [
//!         (name: "Water", pure: (inci: "Aqua", cas: "7732-18-5", class: Water)),
//!         (name: "Glycerin", pure: (inci: "Glycerin", cas: "56-81-5", class: Humectant)),
//!     ],
//! )
//! ```
//!
//! A field that is left out has its usual value; ids that are left out are given
//! on reading. A file of a newer version is refused and not touched.

mod entry;
mod from_model;
mod history;
mod to_model;
mod variant_to_model;

use std::fmt::Write as _;
use std::path::Path;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use super::FileError;
use super::material_file::{self, MaterialEntry, ron_options};
use super::read_error::ReadError;
use super::ron_place::{self, PathStep as At};
use super::source_table::SourceTable;
use super::store::{self, Expect, Stamp};
use crate::formula::Formula;
use crate::notation::writer;

pub(in crate::file) use entry::{
    FormulaEntry, KeptEntry, LineEntry, PhaseEntry, SetAsideEntry, StepEntry, VariantEntry,
};
pub use entry::{MarketName, PlaceName, ProductTypeName, PurposeName, QualityName};
pub(in crate::file) use from_model::{set_aside_entries, variant_entry};
pub(in crate::file) use history::history_entries;
pub(in crate::file) use to_model::into_model;

/// What the field `format` says in every formula file.
pub const FORMAT: &str = "phasewright formula";
/// The ending of a formula file.
pub const ENDING: &str = ".formula.ron";
/// The version this program writes and the newest it reads.
pub const VERSION: u32 = 3;

/// What stands at the head of every file of ours.
#[derive(Deserialize)]
struct Header {
    format: String,
    version: u32,
}

/// Reads the head of a file and checks that it is of the given format and of a
/// version that this program knows. Nothing else of the file is looked at.
pub(in crate::file) fn check_header(
    text: &str,
    file: &str,
    format: &str,
    newest: u32,
) -> Result<u32, ReadError> {
    let header: Header = parse(text, file)?;
    check_stated(&header, file, format, newest, |field| {
        ron_place::place_of(text, &[At::Field(field)])
    })?;
    Ok(header.version)
}

/// Checks what a JSON formula says it is.
pub(in crate::file) fn check_entry(entry: &FormulaEntry, file: &str) -> Result<(), ReadError> {
    let header = Header {
        format: entry.format.clone(),
        version: entry.version,
    };
    check_stated(&header, file, FORMAT, VERSION, |_| None)
}

fn check_stated(
    header: &Header,
    file: &str,
    format: &str,
    newest: u32,
    at: impl Fn(&'static str) -> Option<super::read_error::TextPosition>,
) -> Result<(), ReadError> {
    if header.format != format {
        return Err(ReadError::at(
            file,
            at("format"),
            format!(
                "the file says it is a “{}”, but a “{format}” is wanted here; choose another file",
                header.format
            ),
        ));
    }
    if header.version > newest {
        return Err(ReadError::at(
            file,
            at("version"),
            format!(
                "the file is of version {}, newer than the version {newest} this program reads; it was left untouched, open it with a newer Phasewright",
                header.version
            ),
        ));
    }
    if header.version == 0 {
        return Err(ReadError::at(
            file,
            at("version"),
            format!("there is no version 0 of this format; the first is 1, the newest {newest}"),
        ));
    }
    Ok(())
}

/// Parses RON; an error names line, column and field.
pub(in crate::file) fn parse<T: DeserializeOwned>(text: &str, file: &str) -> Result<T, ReadError> {
    ron_options().from_str(text).map_err(|error| {
        let mut error = ReadError::ron(file, &error);
        if let Some(place) = error.place {
            let field = ron_place::field_at(text, ron_place::offset_of(text, place));
            if !field.is_empty() {
                error.message = format!("field `{field}`: {}", error.message);
            }
        }
        error
    })
}

/// Reads the text of a formula file. `file` is its name for error messages.
///
/// Files of every released version are read; see [`VERSION`].
pub fn read(text: &str, file: &str) -> Result<Formula, ReadError> {
    // A change of the format adds a version here: the entry types of the older one
    // stay, are read, and are turned into those of the next, step by step.
    match check_header(text, file, FORMAT, VERSION)? {
        // Versions 2 and 3 add fields that may be left out.
        1..=3 => {
            let entry: FormulaEntry = parse(text, file)?;
            into_model(entry, text, file)
        }
        other => Err(ReadError::whole(
            file,
            format!("files of version {other} are not known; the newest is {VERSION}"),
        )),
    }
}

/// The comments of a formula file, which a save does not write again. None if nothing is
/// there, or nothing that can be read: a save says so.
pub fn comments_of(path: &Path) -> Vec<String> {
    let Ok((text, _)) = store::read_text(path) else {
        return Vec::new();
    };
    ron_place::comments(&text)
        .into_iter()
        .map(str::to_owned)
        .collect()
}

/// Opens a formula file.
pub fn open(path: &Path) -> Result<(Formula, Stamp), FileError> {
    let (text, stamp) = store::read_text(path)?;
    let formula = read(&text, &path.display().to_string())?;
    Ok((formula, stamp))
}

/// Saves a formula file atomically; see [`store::save`].
///
/// The text is read back before anything is touched on disk, so that a file that
/// could not be opened again is never written.
pub fn save(path: &Path, formula: &Formula, expect: Expect) -> Result<Stamp, FileError> {
    let file = path.display().to_string();
    let text = write(formula)
        .map_err(|e| ReadError::whole(&file, format!("the formula cannot be written: {e}")))?;
    read(&text, &file)?;
    Ok(store::save_text(path, &text, expect)?)
}

/// The text of a formula file.
pub fn write(formula: &Formula) -> ron::Result<String> {
    let mut sources = SourceTable::default();
    let materials: Vec<MaterialEntry> = formula
        .materials
        .values()
        .map(|material| MaterialEntry::from_model(material, &mut sources, None))
        .collect();
    let mut out = Sections::new();
    out.add("format", &FORMAT, 0)?;
    out.add("version", &VERSION, 0)?;
    out.add("name", &*formula.name, 0)?;
    if let Some(kept_as) = &formula.kept_as {
        out.add("kept_as", &Some(&**kept_as), 0)?;
    }
    if !formula.author.is_empty() {
        out.add("author", &*formula.author, 0)?;
    }
    if !formula.notes.is_empty() {
        out.add("notes", &*formula.notes, 0)?;
    }
    out.add("active", &formula.active.0, 0)?;
    out.add("next_id", &formula.next_id, 0)?;
    let variants: Vec<_> = formula.variants.iter().map(|v| variant_entry(v)).collect();
    out.add("variants", &variants, 5)?;
    if !sources.is_empty() {
        out.add("sources", &sources, 1)?;
    }
    out.add("materials", &materials, 3)?;
    if !formula.set_aside.is_empty() {
        out.add("set_aside", &set_aside_entries(formula), 1)?;
    }
    if !formula.history.is_empty() {
        out.add("history", &history_entries(formula), 1)?;
    }
    Ok(out.finish())
}

/// Builds a file from its top-level fields, each laid out to a depth of its own.
pub(in crate::file) struct Sections {
    text: String,
}

impl Sections {
    pub(in crate::file) fn new() -> Self {
        Self { text: "(\n".into() }
    }

    /// Adds a field; brackets up to `depth` are spread over lines.
    pub(in crate::file) fn add<T: Serialize + ?Sized>(
        &mut self,
        name: &str,
        value: &T,
        depth: usize,
    ) -> ron::Result<()> {
        let pretty = material_file::pretty(depth);
        let text = writer::ron(&value, &ron_options(), pretty)?;
        // Strings are written with escapes, so every line break is one of the layout.
        let text = text.replace('\n', "\n    ");
        writeln!(self.text, "    {name}: {text},").map_err(ron::Error::from)
    }

    pub(in crate::file) fn finish(mut self) -> String {
        self.text.push_str(")\n");
        self.text
    }
}

#[cfg(test)]
mod tests;
