//! Opens whatever form a formula comes in.

use std::path::Path;

use super::FileError;
use super::finished;
use super::formula_file;
use super::formula_json;
use super::formula_table;
use super::read_error::ReadError;
use super::shelf_file;
use super::shelf_table;
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
    pub form: FileForm,
}

/// The forms in which a formula comes.
#[derive(Clone, PartialEq, Debug)]
pub enum FileForm {
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

/// Whether a file is a spreadsheet, a page or a text of somebody else, or materials for the
/// shelf, which have to be looked through before anything of them is taken in, rather than a
/// formula in a form of ours. A file that cannot be read is left to [`open_any`], which says
/// why.
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
    let Ok(text) = text::decode(&bytes).map(|decoded| decoded.text) else {
        return of_others;
    };
    let ours = formula_table::looks_like_table(&text)
        || finished::looks_finished(&text)
        || begins_with_fields(&text);
    if ours {
        return holds_materials(&text);
    }
    of_others || html::looks_like_html(&text)
}

/// Whether a text begins as RON or JSON with fields does, as no sentence in brackets does.
fn begins_with_fields(text: &str) -> bool {
    let lines = text.lines().map(str::trim);
    let code: Vec<&str> = lines
        .filter(|line| !line.is_empty() && !line.starts_with("//"))
        .take(2)
        .collect();
    let start = code.join(" ");
    if let Some(json) = start.strip_prefix('{') {
        return json.trim_start().starts_with(['"', '}']);
    }
    let Some(ron) = start.strip_prefix('(') else {
        return false;
    };
    let field = ron.trim_start();
    let word = field.trim_start_matches(|c: char| c.is_ascii_lowercase() || c == '_');
    field.len() > word.len() && word.trim_start().starts_with(':') || field.starts_with(')')
}

/// Whether a text in a form of ours holds materials and no formula.
fn holds_materials(text: &str) -> bool {
    let start = text.trim_start();
    if start.starts_with('{') {
        return shelf_table::read_json(text, "").is_ok();
    }
    formula_file::check_header(text, "", formula_file::FORMAT, u32::MAX).is_err()
        && shelf_file::read(text, "").is_ok()
}

/// What to do with a file that is no formula of ours.
const BRING_IN: &str = "a recipe, list or page of somebody else is brought in: in the window with File › Bring in, or with “phasewright import FILE -o FORMULA”";

/// Opens a formula file, a finished formula, JSON or a table, told apart by its content.
/// Materials of a table are looked for on the shelf.
pub fn open_any(path: &Path, shelf: &Shelf) -> Result<Opened, FileError> {
    let file = path.display().to_string();
    let (text, stamp) = match store::read_text(path) {
        Err(_) if needs_bringing_in(path) => {
            let message = format!("this is no formula of ours; {BRING_IN}");
            return Err(ReadError::whole(&file, message).into());
        }
        read => read?,
    };
    let of_table = path
        .extension()
        .is_some_and(|e| e.eq_ignore_ascii_case("csv") || e.eq_ignore_ascii_case("tsv"));
    if of_table || formula_table::looks_like_table(&text) {
        let name = path.file_stem().map_or_else(
            || "Formula".to_owned(),
            |s| s.to_string_lossy().into_owned(),
        );
        let table = formula_table::read(&text, &file, &name, shelf).map_err(|mut error| {
            if !formula_table::looks_like_table(&text) {
                error.message = format!("{}; {BRING_IN}", error.message);
            }
            error
        })?;
        return Ok(Opened {
            formula: table.formula,
            assumed: table.assumed,
            form: FileForm::Table,
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
            form: FileForm::Finished {
                date: finished.date,
                intact: finished.intact,
            },
        });
    }
    if begins_with_fields(&text) && holds_materials(&text) {
        let message = "these are materials and no formula; they are brought in to the shelf: in the window with File › Bring in, or with “phasewright shelf import FILE”";
        return Err(ReadError::whole(&file, message).into());
    }
    if text.trim_start().starts_with('{') {
        return Ok(Opened {
            formula: formula_json::read(&text, &file)?,
            assumed: Vec::new(),
            form: FileForm::Json,
        });
    }
    let formula = formula_file::read(&text, &file)?;
    Ok(Opened {
        formula,
        assumed: Vec::new(),
        form: FileForm::Formula(stamp),
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
        assert_eq!(opened.form, FileForm::Table);
        assert_eq!(&*opened.formula.name, "Hand gel");

        let file = dir.path().join("b");
        let formula = random_formula::formula(5);
        fs::write(&file, formula_file::write(&formula).unwrap()).unwrap();
        let opened = open_any(&file, &shelf).unwrap();
        assert_eq!(opened.formula, formula);
        assert!(matches!(opened.form, FileForm::Formula(_)));

        let json = dir.path().join("j");
        fs::write(&json, formula_json::write(&formula).unwrap()).unwrap();
        let opened = open_any(&json, &shelf).unwrap();
        assert_eq!(opened.formula, formula);
        assert_eq!(opened.form, FileForm::Json);

        let other = dir.path().join("c");
        fs::write(&other, "Dear customer").unwrap();
        let said = open_any(&other, &shelf).unwrap_err().to_string();
        assert!(said.contains("line 1"), "{said}");
        assert!(open_any(&dir.path().join("none"), &shelf).is_err());
    }

    /// Headings that merely contain those of ours are of somebody else; a text in brackets is
    /// no file of fields; materials are no formula.
    #[test]
    fn what_is_of_others_is_brought_in() {
        let dir = tempfile::tempdir().unwrap();
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let shelf: Shelf = [water.clone()].into_iter().collect();
        let formula = random_formula::formula(5);
        let ron = formula_file::write(&formula).unwrap();
        let json = formula_json::write(&formula).unwrap();
        let materials = crate::file::material_file::write([&water]).unwrap();
        let as_json = shelf_table::json([&water]).unwrap();
        let cases: [(&str, &[u8], bool); 12] = [
            (
                "a.csv",
                b"Phase;Material;INCI;Function;% w/w\nA;Water;Aqua;solvent;100\n",
                true,
            ),
            ("b.csv", b"phase,material,percent\nA,Water,q.s.\n", false),
            (
                "c.csv",
                b"# name: Gel\nPhase;Material;Percent;Why\nA;Water;100;\n",
                false,
            ),
            ("d.csv", b"phase,material,persent\nA,Water,100\n", true),
            ("e.txt", b"(A) Water 70 %\n(B) Glycerin 30 %\n", true),
            ("f.xlsx", b"PK\x03\x04\xff", true),
            ("g.txt", b"Caf\xe9\n", true),
            ("h.formula.ron", ron.as_bytes(), false),
            ("i.json", json.as_bytes(), false),
            ("j.ron", materials.as_bytes(), true),
            ("k.json", as_json.as_bytes(), true),
            ("l.csv", b"Material,%\nWater,100\n", true),
        ];
        for (name, bytes, others) in cases {
            let path = dir.path().join(name);
            fs::write(&path, bytes).unwrap();
            assert_eq!(needs_bringing_in(&path), others, "{name}");
            match open_any(&path, &shelf) {
                Ok(_) => assert!(!others, "{name}"),
                Err(error) => {
                    let said = error.to_string();
                    assert!(others, "{name}: {said}");
                    // A text file of no known form may be a damaged formula.
                    let to_do = said.contains("ring in") || said.contains("brought in");
                    assert!(to_do || name == "e.txt", "{name}: {said}");
                }
            }
        }
    }
}
