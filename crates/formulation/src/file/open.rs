//! Opens whatever form a formula comes in.

use std::path::Path;

use super::FileError;
use super::finished;
use super::formula_file;
use super::formula_json;
use super::formula_table;
use super::store::{self, Stamp};
use super::table::{LARGEST_FILE, html, text};
use crate::formula::Formula;
use crate::shelf::Shelf;

/// A formula and what it was opened from.
#[derive(Clone, PartialEq, Debug)]
pub struct Opened {
    /// The formula.
    pub formula: Formula,
    /// What had to be assumed in reading, in words for the maker.
    pub assumed: Vec<String>,
    /// The form it had.
    pub form: Form,
}

/// The forms in which a formula comes.
#[derive(Clone, PartialEq, Debug)]
pub enum Form {
    /// A formula file; it can be saved in place while it holds what the stamp says.
    Formula(Stamp),
    /// A table; it is saved as a formula file under a new name.
    Table,
    /// JSON; it is saved as a formula file under a new name.
    Json,
    /// A finished formula; a working copy of it is saved under a new name. The file says
    /// on which day it was frozen; if it was altered since, the notes say so.
    Finished {
        /// The day it was frozen.
        date: String,
        /// Whether the content still fits the checksum.
        intact: bool,
    },
}

/// Whether a file is a spreadsheet, a page or a text of somebody else, which has to be looked
/// through before anything of it is taken in, rather than a formula in a form of ours. A file
/// that cannot be read is left to [`open_any`], which says why.
pub fn needs_bringing_in(path: &Path) -> bool {
    let Ok((bytes, _)) = store::read_at_most(path, LARGEST_FILE) else {
        return false;
    };
    if bytes.starts_with(b"PK") {
        return true;
    }
    let ending = path
        .extension()
        .map(|e| e.to_string_lossy().to_lowercase())
        .unwrap_or_default();
    let of_others = matches!(
        ending.as_str(),
        "csv" | "tsv" | "tab" | "txt" | "md" | "htm" | "html" | "xlsx" | "ods"
    );
    let Ok(text) = text::decode(&bytes) else {
        return of_others;
    };
    let start = text.trim_start();
    let ours = formula_table::looks_like_table(&text)
        || finished::looks_finished(&text)
        || start.starts_with(['(', '{']);
    !ours && (of_others || html::looks_like_html(&text))
}

/// Opens a formula file, a finished formula, JSON or a table, told apart by its content.
/// Materials of a table are looked for on the shelf.
pub fn open_any(path: &Path, shelf: &Shelf) -> Result<Opened, FileError> {
    let (text, stamp) = store::read_text(path)?;
    let file = path.display().to_string();
    let of_table = path
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("csv") || e.eq_ignore_ascii_case("tsv"));
    if of_table || formula_table::looks_like_table(&text) {
        let name = path.file_stem().map_or_else(
            || "Formula".to_owned(),
            |s| s.to_string_lossy().into_owned(),
        );
        let table = formula_table::read(&text, &file, &name, shelf)?;
        return Ok(Opened {
            formula: table.formula,
            assumed: table.assumed,
            form: Form::Table,
        });
    }
    if finished::looks_finished(&text) {
        let finished = finished::read(&text, &file)?;
        let altered = (!finished.intact).then(|| {
            format!(
                "{file} was altered after it was frozen on {}: its checksum does not fit, so nothing in it can be relied on",
                finished.date
            )
        });
        return Ok(Opened {
            formula: finished.formula,
            assumed: altered.into_iter().collect(),
            form: Form::Finished {
                date: finished.date,
                intact: finished.intact,
            },
        });
    }
    if text.trim_start().starts_with('{') {
        return Ok(Opened {
            formula: formula_json::read(&text, &file)?,
            assumed: Vec::new(),
            form: Form::Json,
        });
    }
    let formula = formula_file::read(&text, &file)?;
    Ok(Opened {
        formula,
        assumed: Vec::new(),
        form: Form::Formula(stamp),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fixture;
    use crate::material::Class;
    use crate::random_formula;
    use std::fs;

    #[test]
    fn each_form_is_told_by_its_content() {
        let dir = tempfile::tempdir().unwrap();
        let shelf: Shelf = [fixture::material("Water", &[("Aqua", 100.0, Class::Water)])]
            .into_iter()
            .collect();
        let table = dir.path().join("Hand gel.txt");
        fs::write(&table, "phase,material,percent\nA,Water,q.s.\n").unwrap();
        let opened = open_any(&table, &shelf).unwrap();
        assert_eq!(opened.form, Form::Table);
        assert_eq!(&*opened.formula.name, "Hand gel");

        let file = dir.path().join("b");
        let formula = random_formula::formula(5);
        fs::write(&file, formula_file::write(&formula).unwrap()).unwrap();
        let opened = open_any(&file, &shelf).unwrap();
        assert_eq!(opened.formula, formula);
        assert!(matches!(opened.form, Form::Formula(_)));

        let json = dir.path().join("j");
        fs::write(&json, formula_json::write(&formula).unwrap()).unwrap();
        let opened = open_any(&json, &shelf).unwrap();
        assert_eq!(opened.formula, formula);
        assert_eq!(opened.form, Form::Json);

        let other = dir.path().join("c");
        fs::write(&other, "Dear customer").unwrap();
        let said = open_any(&other, &shelf).unwrap_err().to_string();
        assert!(said.contains("line 1"), "{said}");
        assert!(open_any(&dir.path().join("none"), &shelf).is_err());
    }
}
