//! Materials as JSON, CSV and XLSX, for other programs and for spreadsheets, complete
//! enough to be read back without loss.
//!
//! A table has one row a material and one column a field of the material file; plain
//! fields are plain text, lists of words are joined by "; ", and fields with parts of
//! their own, such as `contains`, are JSON within the cell.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_xlsxwriter::{Format, Workbook, XlsxError};
use serde_json::{Map, Value};

use super::formula_json::{self, told};
use super::material_file::{MaterialEntry, MaterialFile, VERSION};
use super::read_error::ReadError;
use super::source_table::{SourceEntry, SourceTable};
use super::table::{Table, cell_name};
use crate::harmless;
use crate::material::{Material, MaterialValue};
use crate::notation::writer;

/// Columns before those of the figures of a material, in the order in which they are written.
const FIRST_COLUMNS: [&str; 10] = [
    "id",
    "name",
    "synonyms",
    "supplier",
    "roles",
    "charge",
    "phase",
    "pure",
    "contains",
    "use_ranges",
];
/// Columns after those of the figures.
const LAST_COLUMNS: [&str; 8] = [
    "hazards",
    "wet_with",
    "preservation",
    "alkalinity",
    "fragrance_levels",
    "note",
    "source",
    "from",
];

/// All columns, in the order in which they are written.
fn columns() -> impl Iterator<Item = &'static str> {
    FIRST_COLUMNS
        .into_iter()
        .chain(MaterialValue::FIGURES.map(|value| value.row().key))
        .chain(LAST_COLUMNS)
}

/// Fields that are text.
const TEXTS: [&str; 6] = ["id", "name", "supplier", "charge", "phase", "note"];
/// Fields that are lists of words.
const LISTS: [&str; 4] = ["synonyms", "roles", "hazards", "wet_with"];
/// Between the words of a list.
const JOINT: &str = "; ";

/// The JSON of materials, in the fields of the material file.
pub fn json<'a>(
    materials: impl IntoIterator<Item = &'a Arc<Material>>,
) -> serde_json::Result<String> {
    let mut sources = SourceTable::default();
    let materials = materials
        .into_iter()
        .map(|m| MaterialEntry::from_model(m, &mut sources, None))
        .collect();
    writer::json(&MaterialFile {
        version: VERSION,
        source: None,
        sources,
        materials,
    })
}

/// Whether a text in JSON holds materials in our form, or is broken, so that reading it tells
/// where; what other programs write is not.
pub fn looks_ours(text: &str) -> bool {
    formula_json::holds(text, &["version", "materials"])
}

/// Reads the JSON of materials. `file` is its name for error messages.
pub fn read_json(text: &str, file: &str) -> Result<Vec<Material>, ReadError> {
    let parsed: MaterialFile = serde_json::from_str(text).map_err(|e| told(&e, file))?;
    if parsed.version != VERSION {
        return Err(ReadError::whole(
            file,
            format!(
                "the file is of version {}, and version {VERSION} is read; use the Phasewright that wrote it",
                parsed.version
            ),
        ));
    }
    parsed
        .materials
        .into_iter()
        .map(|entry| {
            entry
                .into_model(&parsed.sources, parsed.source.as_deref())
                .map_err(|e| ReadError::at(file, e.place(text), e.message))
        })
        .collect()
}

/// One row a material, below the row of headings.
fn rows<'a>(
    materials: impl IntoIterator<Item = &'a Arc<Material>>,
) -> serde_json::Result<Vec<Vec<String>>> {
    materials
        .into_iter()
        .map(|material| {
            // A table of sources per row, so that rows can be moved and copied.
            let mut sources = SourceTable::default();
            let entry = MaterialEntry::from_model(material, &mut sources, None);
            let Value::Object(mut fields) = serde_json::to_value(&entry)? else {
                return Ok(columns().map(|_| String::new()).collect());
            };
            spell_out_sources(&mut fields, &sources)?;
            Ok(columns()
                .map(|column| cell_text(column, fields.get(column)))
                .collect())
        })
        .collect()
}

/// A row carries the words of its own sources, and those of single fields under `from`.
fn spell_out_sources(
    fields: &mut Map<String, Value>,
    sources: &SourceTable,
) -> serde_json::Result<()> {
    fields.insert("source".to_owned(), {
        let mut all = serde_json::to_value(sources)?;
        if let (Value::Object(all), Some(Value::String(main))) = (&mut all, fields.get("source")) {
            // The material's own source is named by the empty key.
            if let Some(own) = all.remove(main) {
                all.insert(String::new(), own);
            }
        }
        all
    });
    Ok(())
}

fn cell_text(column: &str, value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        // A charge or phase is a word; a class may have a part of its own.
        Some(Value::String(text)) => text.clone(),
        Some(Value::Array(items)) if LISTS.contains(&column) => {
            let words: Vec<&str> = items.iter().filter_map(Value::as_str).collect();
            words.join(JOINT)
        }
        Some(other) => other.to_string(),
    }
}

/// Materials as CSV in UTF-8.
pub fn csv<'a>(
    materials: impl IntoIterator<Item = &'a Arc<Material>>,
) -> serde_json::Result<String> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = writer.write_record(columns());
    for row in rows(materials)? {
        let _ = writer.write_record(row);
    }
    Ok(harmless::csv(writer).unwrap_or_default())
}

/// Why materials could not be written as a workbook.
#[derive(Debug, thiserror::Error)]
pub enum WriteError {
    /// A value has no JSON.
    #[error("a material cannot be written: {0}")]
    Json(#[from] serde_json::Error),
    /// The workbook.
    #[error("the workbook cannot be written: {0}")]
    Xlsx(#[from] XlsxError),
}

/// Materials as a workbook of one sheet.
pub fn xlsx<'a>(
    materials: impl IntoIterator<Item = &'a Arc<Material>>,
) -> Result<Vec<u8>, WriteError> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.set_name("Materials")?;
    let bold = Format::new().set_bold();
    for (column, name) in (0..).zip(columns()) {
        sheet.write_with_format(0, column, name, &bold)?;
    }
    for (row, cells) in (1..).zip(rows(materials)?) {
        for (column, text) in (0..).zip(cells) {
            if !text.is_empty() {
                sheet.write_string(row, column, text)?;
            }
        }
    }
    sheet.set_freeze_panes(1, 2)?;
    sheet.set_column_width(1, 34.0)?;
    Ok(book.save_to_buffer()?)
}

/// Whether a table has the headings of ours.
pub fn looks_like_materials(table: &Table) -> bool {
    let heading = |name: &str| (0..table.width()).any(|c| table.cell(0, c).words() == name);
    heading("name") && (heading("contains") || heading("pure"))
}

/// Reads materials from a table with our headings. `file` is its name for error messages.
pub fn read_table(table: &Table, file: &str) -> Result<Vec<Material>, ReadError> {
    let mut places = Vec::new();
    let mut seen = BTreeSet::new();
    for column in 0..table.width() {
        let heading = table.cell(0, column).words();
        if heading.is_empty() {
            continue;
        }
        let Some(known) = columns().find(|c| *c == heading) else {
            return Err(ReadError::whole(
                file,
                format!(
                    "cell {}: the column “{heading}” is not known; the columns are {}",
                    cell_name(0, column),
                    columns().collect::<Vec<_>>().join(", ")
                ),
            ));
        };
        if !seen.insert(known) {
            return Err(ReadError::whole(
                file,
                format!(
                    "cell {}: the column “{heading}” stands twice; keep one",
                    cell_name(0, column)
                ),
            ));
        }
        places.push((column, known));
    }
    let mut materials = Vec::new();
    for row in 1..table.rows.len() {
        if places.iter().any(|&(c, _)| !table.cell(row, c).is_empty()) {
            materials.push(read_row(table, row, &places, file)?);
        }
    }
    Ok(materials)
}

fn read_row(
    table: &Table,
    row: usize,
    places: &[(usize, &'static str)],
    file: &str,
) -> Result<Material, ReadError> {
    let mut fields = Map::new();
    let mut sources = SourceTable::default();
    for &(column, name) in places {
        let cell = table.cell(row, column);
        if cell.is_empty() {
            continue;
        }
        let at = |message: String| {
            ReadError::whole(
                file,
                format!("cell {}, field `{name}`: {message}", cell_name(row, column)),
            )
        };
        // Text as it stands, so that line breaks of a note are kept.
        let text = match cell {
            super::table::Cell::Text(text) => text.clone(),
            other => other.words(),
        };
        if name == "source" {
            sources.0 =
                serde_json::from_str::<std::collections::BTreeMap<String, SourceEntry>>(&text)
                    .map_err(|e| at(e.to_string()))?;
            if sources.0.contains_key("") {
                fields.insert(name.to_owned(), Value::String(String::new()));
            }
            continue;
        }
        let value = if TEXTS.contains(&name) {
            Value::String(text)
        } else if LISTS.contains(&name) {
            text.split(JOINT.trim())
                .map(|w| Value::String(w.trim().to_owned()))
                .collect()
        } else if name == "alkalinity" && !text.starts_with('{') {
            Value::String(text)
        } else {
            serde_json::from_str(&text).map_err(|e| at(e.to_string()))?
        };
        // A charge is a plain word, but a class with a part reads as JSON.
        fields.insert(name.to_owned(), value);
    }
    let whole = |message: String| ReadError::whole(file, format!("row {}: {message}", row + 1));
    let entry: MaterialEntry =
        serde_json::from_value(Value::Object(fields)).map_err(|e| whole(e.to_string()))?;
    entry
        .into_model(&sources, None)
        .map_err(|e| whole(e.message))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::{read_bytes, read_text};
    use crate::material::{
        Alkalinity, Basis, Charge, Coverage, FragranceLevel, Hazard, MaterialId, PhaseKind,
        Preservation, ProductKind, Role, Source, UseRange, WettingMedium, without_figures,
    };
    use crate::quantity::{Percent, PhRange};

    fn all() -> Vec<Arc<Material>> {
        let mut materials: Vec<Arc<Material>> =
            crate::shelf::built_in::shelf().iter().cloned().collect();
        let source = Source::new(Basis::Supplier, "sheet; with a “sign”");
        let percent = |figure| Percent::nearest(figure).unwrap();
        // Every field that is no figure is stated: a new one does not compile until it is here.
        let odd = without_figures!({
            id: MaterialId::from_name("odd"),
            name: "Odd; “name”, with\ttab".into(),
            synonyms: vec!["one".into(), "two, three".into()],
            supplier: Some("123".into()),
            constituents: materials[0].constituents.clone(),
            roles: vec![Role::Humectant, Role::Emollient],
            charge: Some(Charge::Cationic),
            phase: Some(PhaseKind::CoolDown),
            use_ranges: vec![UseRange {
                kind: ProductKind::LeaveOn,
                low: percent(0.5),
                high: percent(1.5),
                supplier_maximum: true,
                source: source.clone(),
            }],
            hazards: vec![Hazard::Dust, Hazard::Oxidiser],
            wet_with: vec![WettingMedium::Oil, WettingMedium::Alcohol],
            preservation: Some(Preservation {
                bacteria: Coverage::Good,
                yeast: Coverage::Weak,
                mould: Coverage::None,
                dose_low: percent(0.2),
                dose_high: percent(0.9),
                ph: PhRange::new(3.0, 6.5),
                formaldehyde_donor: true,
                source: source.clone(),
            }),
            alkalinity: Alkalinity::Unknown {
                ph_as_sold: PhRange::new(4.0, 5.0),
                base_mmol_per_gram: Some((-0.2, 0.1)),
                source: source.clone(),
            },
            fragrance_levels: vec![FragranceLevel {
                category: "5A".into(),
                maximum: percent(0.75),
            }],
            note: "two\nlines, and a ; too".into(),
            source,
        });
        materials.push(Arc::new(odd));
        materials
    }

    /// The fields of the material file, as its reader tells them.
    #[test]
    fn every_field_of_the_material_file_has_a_column() {
        let refused = serde_json::from_str::<MaterialEntry>("{\"no such field\": 1}");
        let told = refused.unwrap_err().to_string();
        let fields: BTreeSet<&str> = told.split('`').skip(1).step_by(2).skip(1).collect();
        assert!(fields.len() > 20, "{told}");
        assert_eq!(fields, columns().collect());
    }

    fn check(read: Vec<Material>) {
        let all = all();
        assert_eq!(read.len(), all.len());
        for (a, b) in read.iter().zip(&all) {
            assert_eq!(a, &**b);
        }
    }

    #[test]
    fn the_whole_shelf_reads_back_from_json() {
        check(read_json(&json(&all()).unwrap(), "x.json").unwrap());
    }

    #[test]
    fn the_whole_shelf_reads_back_from_csv() {
        let text = csv(&all()).unwrap();
        let tables = read_text(&text).unwrap();
        assert!(looks_like_materials(&tables[0]));
        check(read_table(&tables[0], "x.csv").unwrap());
    }

    #[test]
    fn the_whole_shelf_reads_back_from_xlsx() {
        let bytes = xlsx(&all()).unwrap();
        let tables = read_bytes(&bytes).unwrap();
        check(read_table(&tables[0], "x.xlsx").unwrap());
    }

    #[test]
    fn faults_name_the_cell() {
        let told = |text: &str| {
            let tables = read_text(text).unwrap();
            read_table(&tables[0], "x.csv").unwrap_err().to_string()
        };
        assert!(told("name;contains;hlb\nA;[];high\n").contains("cell C2, field `hlb`"));
        assert!(told("name;contains;colour\nA;[];red\n").contains("cell C1"));
        assert!(told("name;contains;name\nA;[];B\n").contains("twice"));
        assert!(told("name;contains;hlb\nA;[];99\n").contains("row 2"));
    }
}
