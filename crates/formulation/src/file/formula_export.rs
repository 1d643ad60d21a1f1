//! A formula for spreadsheets: CSV that opens here again, and XLSX to look at.

use rust_xlsxwriter::{Format, Workbook, Worksheet, XlsxError};

use super::formula_json;
use crate::composition::compose;
use crate::formula::{Formula, Line, Phase, Variant};
use crate::mixture::Standing;
use crate::purpose::Purpose;
use crate::quantity::in_grams;

/// A form in which other programs take a formula.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum ExportForm {
    /// The variant as a plain table.
    Csv,
    /// All variants as a workbook.
    Xlsx,
    /// The whole formula.
    Json,
}

impl ExportForm {
    /// All forms.
    pub const ALL: [Self; 3] = [Self::Csv, Self::Xlsx, Self::Json];
    /// The ending of its files, without the dot.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Xlsx => "xlsx",
            Self::Json => "json",
        }
    }
}

/// Why a formula could not be written in a form.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// As a workbook.
    #[error("the workbook cannot be written: {0}")]
    Xlsx(#[from] XlsxError),
    /// As JSON.
    #[error("the formula cannot be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

/// The content of a file in a form.
pub fn export(
    formula: &Formula,
    variant: &Variant,
    form: ExportForm,
) -> Result<Vec<u8>, ExportError> {
    Ok(match form {
        ExportForm::Csv => csv(formula, variant).into_bytes(),
        ExportForm::Xlsx => xlsx(formula)?,
        ExportForm::Json => formula_json::write(formula)?.into_bytes(),
    })
}

/// A variant as the plain table that [`super::formula_table`] reads. Exact: every
/// percentage is written in full; the filler is marked q.s. The materials themselves
/// are not in it and are found on the shelf by name on opening.
pub fn csv(formula: &Formula, variant: &Variant) -> String {
    let mut text = String::new();
    // A line break within a comment would end it.
    let one_line = |t: &str| t.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut comment = |key: &str, value: &str| {
        if !value.is_empty() {
            text.push_str("# ");
            text.push_str(key);
            text.push_str(": ");
            text.push_str(&one_line(value));
            text.push('\n');
        }
    };
    comment("name", &formula.name);
    comment("author", &formula.author);
    comment("kind", variant.product.kind.label());
    let markets: Vec<&str> = variant.product.markets.iter().map(|m| m.label()).collect();
    comment(
        "market",
        &if markets.is_empty() {
            "none".to_owned()
        } else {
            markets.join(", ")
        },
    );
    let places: Vec<&str> = variant.product.places.iter().map(|p| p.label()).collect();
    comment("place", &places.join(", "));
    if let Some(kind) = variant.product.product_type {
        comment("type", kind.label());
    }
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = writer.write_record(["phase", "material", "percent", "purpose", "why"]);
    for (phase, line) in variant.lines() {
        let percent = if variant.is_filler(line.id) {
            "q.s.".to_owned()
        } else {
            line.percent.to_string()
        };
        let name = name_of(formula, line);
        let purpose = line.purpose.map_or("", Purpose::label);
        let _ = writer.write_record([&*phase.letter, &name, &percent, purpose, &*line.why]);
    }
    let table = writer.into_inner().unwrap_or_default();
    text.push_str(&String::from_utf8_lossy(&table));
    text
}

fn name_of(formula: &Formula, line: &Line) -> String {
    formula
        .material(&line.material)
        .map_or_else(|| line.material.to_string(), |m| m.name.to_string())
}

/// All variants that are not put away as a workbook: a sheet of lines and a sheet of
/// constituents each.
pub fn xlsx(formula: &Formula) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let mut names = Vec::new();
    for variant in formula.variants.iter().filter(|v| !v.archived) {
        let lines = book.add_worksheet();
        lines.set_name(sheet_name(&variant.name, "", &mut names))?;
        write_lines(lines, formula, variant)?;
        let contained = book.add_worksheet();
        contained.set_name(sheet_name(&variant.name, " contains", &mut names))?;
        write_constituents(contained, formula, variant)?;
    }
    book.save_to_buffer()
}

/// A name that a spreadsheet takes: at most 31 letters, none of `[]:*?/\`, unique.
fn sheet_name(name: &str, ending: &str, taken: &mut Vec<String>) -> String {
    let plain: String = name
        .chars()
        .map(|c| {
            if "[]:*?/\\'".contains(c) || c.is_control() {
                ' '
            } else {
                c
            }
        })
        .collect();
    let plain = if plain.trim().is_empty() {
        "Variant"
    } else {
        plain.trim()
    };
    for number in 1.. {
        let tail = if number == 1 {
            ending.to_owned()
        } else {
            format!("{ending} {number}")
        };
        let head: String = plain
            .chars()
            .take(31 - tail.chars().count().min(30))
            .collect();
        let candidate = format!("{}{tail}", head.trim_end());
        if !taken.iter().any(|t| t.eq_ignore_ascii_case(&candidate)) {
            taken.push(candidate.clone());
            return candidate;
        }
    }
    String::new()
}

const LINE_HEADINGS: [&str; 8] = [
    "Phase",
    "Material",
    "INCI",
    "CAS",
    "% w/w",
    "g per batch",
    "Filler",
    "Note",
];

fn write_lines(
    sheet: &mut Worksheet,
    formula: &Formula,
    variant: &Variant,
) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let number = Format::new().set_num_format("0.00####");
    sheet.write_with_format(0, 0, &*formula.name, &bold)?;
    sheet.write(
        1,
        0,
        format!("{}, {}", variant.name, variant.product.kind.label()),
    )?;
    for (column, text) in (0..).zip(LINE_HEADINGS) {
        sheet.write_with_format(3, column, text, &bold)?;
    }
    let batch = in_grams(variant.batch);
    let mut row = 4;
    for (phase, line) in variant.lines() {
        write_line(sheet, row, formula, variant, phase, line)?;
        sheet.write_with_format(row, 4, line.percent.as_percent(), &number)?;
        sheet.write_with_format(row, 5, line.percent.fraction().value() * batch, &number)?;
        row += 1;
    }
    sheet.write_with_format(row, 1, "Total", &bold)?;
    sheet.write_with_format(row, 4, variant.total().as_percent(), &number)?;
    sheet.write_with_format(row, 5, variant.total().fraction().value() * batch, &number)?;
    for (column, width) in [
        (0, 7.0),
        (1, 34.0),
        (2, 40.0),
        (3, 14.0),
        (4, 10.0),
        (5, 12.0),
        (7, 40.0),
    ] {
        sheet.set_column_width(column, width)?;
    }
    sheet.set_freeze_panes(4, 0)?;
    Ok(())
}

fn write_line(
    sheet: &mut Worksheet,
    row: u32,
    formula: &Formula,
    variant: &Variant,
    phase: &Phase,
    line: &Line,
) -> Result<(), XlsxError> {
    sheet.write(row, 0, &*phase.letter)?;
    sheet.write(row, 1, name_of(formula, line))?;
    if let Some(material) = formula.material(&line.material) {
        sheet.write(row, 2, material.inci_line())?;
        let cas: Vec<String> = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none())
            .filter_map(|c| c.cas.map(|cas| cas.to_string()))
            .collect();
        sheet.write(row, 3, cas.join(", "))?;
    }
    if variant.is_filler(line.id) {
        sheet.write(row, 6, "q.s.")?;
    }
    sheet.write(row, 7, &*line.why)?;
    Ok(())
}

fn write_constituents(
    sheet: &mut Worksheet,
    formula: &Formula,
    variant: &Variant,
) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let number = Format::new().set_num_format("0.00####");
    for (column, text) in (0..).zip([
        "INCI",
        "CAS",
        "Counted as",
        "% w/w typical",
        "% w/w lowest",
        "% w/w highest",
        "Stands as",
    ]) {
        sheet.write_with_format(0, column, text, &bold)?;
    }
    let composition = compose(formula, variant);
    let mut row = 1;
    for amount in &composition.constituents {
        sheet.write(row, 0, &*amount.inci)?;
        if let Some(cas) = amount.cas {
            sheet.write(row, 1, cas.to_string())?;
        }
        sheet.write(row, 2, amount.class.label())?;
        for (column, share) in [
            (3, amount.declared.typical),
            (4, amount.declared.low),
            (5, amount.declared.high),
        ] {
            sheet.write_with_format(row, column, share.as_percent(), &number)?;
        }
        if amount.share != amount.declared || amount.standing != Standing::Ingredient {
            sheet.write(row, 6, amount.standing.label())?;
        }
        row += 1;
    }
    if composition.unknown.value() > 0.0 {
        sheet.write(row, 0, "of unknown composition")?;
        sheet.write_with_format(row, 3, composition.unknown.as_percent(), &number)?;
    }
    sheet.set_column_width(0, 40.0)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::formula_table;
    use crate::file::table::matching::Matcher;
    use crate::file::table::read_bytes;
    use crate::file::table::recipe::{Settings, propose};
    use crate::fixture;
    use crate::material::Class;
    use crate::shelf::Shelf;
    use std::sync::Arc;

    fn example() -> (Formula, Shelf) {
        let materials = [
            fixture::material("Water", &[("Aqua", 100.0, Class::Water)]),
            fixture::material(
                "Oat, milled; “fine”",
                &[("Avena Sativa Kernel Flour", 100.0, Class::Other)],
            ),
            fixture::material("Salt", &[("Sodium Chloride", 100.0, Class::Electrolyte)]),
        ];
        let mut formula = fixture::phased(vec![
            vec![
                fixture::line(&materials[0], "94.123456"),
                fixture::line(&materials[1], "5.5"),
            ],
            vec![fixture::line(&materials[2], "0.376544")],
        ]);
        let mut variant = Variant::clone(formula.active());
        let first = variant.lines().next().map(|(_, l)| l.id);
        variant.filler = first;
        formula.variants = vec![Arc::new(variant)];
        (formula, materials.into_iter().collect())
    }

    fn lines(formula: &Formula) -> Vec<(String, String, String, bool)> {
        let variant = formula.active();
        variant
            .lines()
            .map(|(p, l)| {
                (
                    p.letter.to_string(),
                    l.material.to_string(),
                    l.percent.to_string(),
                    variant.is_filler(l.id),
                )
            })
            .collect()
    }

    #[test]
    fn csv_opens_again_as_the_same_lines() {
        let (formula, shelf) = example();
        let text = csv(&formula, formula.active());
        let back = formula_table::read(&text, "x.csv", "x", &shelf)
            .unwrap()
            .formula;
        assert_eq!(lines(&back), lines(&formula));
        assert_eq!(back.name, formula.name);
        assert_eq!(back.active().product, formula.active().product);
    }

    #[test]
    fn xlsx_reads_back_as_the_same_lines() {
        let (formula, shelf) = example();
        let bytes = xlsx(&formula).unwrap();
        let tables = read_bytes(&bytes).unwrap();
        assert_eq!(tables.len(), 2);
        let matcher = Matcher::new(&shelf);
        let proposal = propose(&tables[0], "x", &Settings::default(), &matcher).unwrap();
        let back = proposal.accept(&matcher).unwrap();
        assert!(back.new_materials.is_empty());
        let plain = |f: &Formula| -> Vec<_> {
            lines(f)
                .into_iter()
                .map(|(p, m, percent, _)| (p, m, percent))
                .collect()
        };
        assert_eq!(plain(&back.formula), plain(&formula));
    }

    #[test]
    fn names_of_sheets_are_legal_and_unique() {
        let mut taken = Vec::new();
        let long = "A very long name of a variant, with [odd] signs: */?";
        let first = sheet_name(long, "", &mut taken);
        let second = sheet_name(long, "", &mut taken);
        assert_ne!(first, second);
        for name in [first, second, sheet_name("", " contains", &mut taken)] {
            assert!(
                name.chars().count() <= 31 && !name.contains(['[', ':', '*']),
                "{name}"
            );
        }
    }
}
