//! A formula as JSON, for other programs: the fields of the formula file, nothing
//! left out, so that it reads back to the same formula.

use serde::Serialize;

use super::formula_file::{
    self, FORMAT, FormulaEntry, KeptEntry, LineEntry, PhaseEntry, SetAsideEntry, StepEntry,
    VERSION, VariantEntry,
};
use super::material_file::MaterialEntry;
use super::read_error::{ReadError, TextPosition};
use super::source_table::SourceTable;
use crate::formula::Formula;
use crate::notation::writer;

#[derive(Serialize)]
struct Out<'f> {
    format: &'static str,
    version: u32,
    name: &'f str,
    #[serde(skip_serializing_if = "Option::is_none")]
    kept_as: Option<&'f str>,
    author: &'f str,
    notes: &'f str,
    active: u64,
    next_id: u64,
    variants: Vec<VariantEntry<PhaseEntry<LineEntry, StepEntry>>>,
    materials: Vec<MaterialEntry>,
    sources: SourceTable,
    set_aside: Vec<SetAsideEntry>,
    history: Vec<KeptEntry>,
}

/// The JSON of a formula with all its variants, materials and earlier states.
pub fn write(formula: &Formula) -> serde_json::Result<String> {
    let mut sources = SourceTable::default();
    let materials = formula
        .materials
        .values()
        .map(|m| MaterialEntry::from_model(m, &mut sources, None))
        .collect();
    writer::json(&Out {
        format: FORMAT,
        version: VERSION,
        name: &formula.name,
        kept_as: formula.kept_as.as_deref(),
        author: &formula.author,
        notes: &formula.notes,
        active: formula.active.0,
        next_id: formula.next_id,
        variants: formula
            .variants
            .iter()
            .map(|v| formula_file::variant_entry(v))
            .collect(),
        materials,
        sources,
        set_aside: formula_file::set_aside_entries(formula),
        history: formula_file::history_entries(formula),
    })
}

/// Whether a text in JSON is a formula of ours, or broken, so that reading it tells where; what
/// other programs write is not.
pub fn looks_ours(text: &str) -> bool {
    holds(text, &["variants"])
}

/// Whether a text in JSON has all of these keys, or is broken.
pub(super) fn holds(text: &str, keys: &[&str]) -> bool {
    let value: serde_json::Value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(_) => return true,
    };
    keys.iter().all(|key| value.get(key).is_some())
}

/// Reads the JSON of a formula. `file` is its name for error messages.
pub fn read(text: &str, file: &str) -> Result<Formula, ReadError> {
    let entry: FormulaEntry = serde_json::from_str(text).map_err(|e| told(&e, file))?;
    formula_file::check_entry(&entry, file)?;
    formula_file::into_model(entry, text, file)
}

/// What the JSON reader found, with its place.
pub(super) fn told(error: &serde_json::Error, file: &str) -> ReadError {
    let place = (error.line() > 0).then(|| TextPosition {
        line: error.line(),
        column: error.column().max(1),
    });
    // The reader repeats the place at the end of its words.
    let words = error.to_string();
    let message = words
        .rsplit_once(" at line ")
        .map_or(words.as_str(), |(message, _)| message);
    ReadError::at(file, place, message)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_formula;

    #[test]
    fn a_formula_reads_back_from_json() {
        for seed in 0..40 {
            let formula = random_formula::formula(seed);
            let text = write(&formula).unwrap();
            assert_eq!(read(&text, "x.json").unwrap(), formula, "seed {seed}");
        }
    }

    #[test]
    fn errors_name_file_and_line() {
        let told = |text: &str| read(text, "x.json").unwrap_err().to_string();
        assert!(told("{\n\"format\": 1}").contains("line 2"));
        let text = write(&random_formula::formula(1)).unwrap();
        assert!(told(&text.replace(FORMAT, "other")).contains("x.json"));
        assert!(
            told(&text.replace(&format!("\"version\": {VERSION}"), "\"version\": 99"))
                .contains("newer")
        );
    }
}
