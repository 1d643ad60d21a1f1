//! A formula for spreadsheets: CSV and XLSX that come back as the same formula.

use rust_xlsxwriter::utility::{row_col_to_cell, row_col_to_cell_absolute};
use rust_xlsxwriter::{Format, Formula as Formula_, Workbook, Worksheet, XlsxError};

use std::sync::Arc;

use super::{formula_json, product_head};
use crate::amount::measure::tidy;
use crate::composition::compose;
use crate::formula::{Formula, Line, Phase, Variant};
use crate::harmless;
use crate::material::Material;
use crate::mixture::IngredientStatus;
use crate::quantity::{Percent, in_grams};

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

/// What of a formula a form does not carry, in words; empty if it carries everything.
pub fn not_carried(formula: &Formula, variant: &Arc<Variant>, form: ExportForm) -> Vec<String> {
    match form {
        ExportForm::Csv => product_head::not_carried(formula, &[variant]),
        ExportForm::Xlsx => {
            let shown: Vec<&Arc<Variant>> =
                formula.variants.iter().filter(|v| !v.archived).collect();
            product_head::not_carried(formula, &shown)
        }
        ExportForm::Json => Vec::new(),
    }
}

/// A variant as the plain table that [`super::formula_table`] reads. Exact: every
/// percentage is written in full; the filler is marked q.s. The materials themselves
/// are not in it and are found on the shelf by name on opening. What else it cannot
/// carry says [`product_head::not_carried`].
pub fn csv(formula: &Formula, variant: &Variant) -> String {
    let mut text = String::new();
    for (key, value) in product_head::lines(formula, variant) {
        text.push_str(&head_line(&format!("# {key}: {value}")));
        text.push('\n');
    }
    // Columns that no line needs are left out.
    let any = |used: &dyn Fn(&Line) -> bool| variant.lines().any(|(_, l)| used(l));
    let columns: Vec<(&str, Content<'_>)> = [
        (
            "phase",
            true,
            Box::new(|p: &Phase, _: &Line| p.letter.to_string()) as Content<'_>,
        ),
        ("material", true, Box::new(|_, l| name_of(formula, l))),
        (
            "percent",
            true,
            Box::new(|_, l| {
                if variant.is_filler(l.id) {
                    "q.s.".to_owned()
                } else {
                    l.percent.to_string()
                }
            }),
        ),
        (
            "composition",
            any(&|l| is_named_pure(formula, l)),
            Box::new(|_, l| {
                if is_named_pure(formula, l) {
                    PURE.to_owned()
                } else {
                    String::new()
                }
            }),
        ),
        (
            "purpose",
            any(&|l| l.purpose.is_some()),
            Box::new(|_, l| l.purpose.map_or(String::new(), |p| p.label().to_owned())),
        ),
        (
            "held",
            any(&|l| l.held),
            Box::new(|_, l| {
                if l.held {
                    "yes".to_owned()
                } else {
                    String::new()
                }
            }),
        ),
        (
            "lowest",
            any(&|l| l.min.is_some()),
            Box::new(|_, l| bound(l.min)),
        ),
        (
            "highest",
            any(&|l| l.max.is_some()),
            Box::new(|_, l| bound(l.max)),
        ),
        ("why", true, Box::new(|_, l| l.why.to_string())),
    ]
    .into_iter()
    .filter(|(_, used, _)| *used)
    .map(|(heading, _, content)| (heading, content))
    .collect();
    let mut writer = csv::Writer::from_writer(Vec::new());
    // Writing to memory does not fail.
    let _ = writer.write_record(columns.iter().map(|(heading, _)| *heading));
    for (phase, line) in variant.lines() {
        let _ = writer.write_record(columns.iter().map(|(_, of)| of(phase, line)));
    }
    text.push_str(&harmless::csv(writer).unwrap_or_default());
    text
}

/// A line above the columns as one cell that nothing runs, whatever divides the columns of the
/// program that opens it: in quotation marks where a sign could divide it.
fn head_line(words: &str) -> String {
    let cell = harmless::cell(words);
    if cell.contains([',', ';', '\t', '|', '"', '\n', '\r']) {
        format!("\"{}\"", cell.replace('"', "\"\""))
    } else {
        cell
    }
}

/// What a column holds of a line.
type Content<'f> = Box<dyn Fn(&Phase, &Line) -> String + 'f>;

fn bound(percent: Option<Percent>) -> String {
    percent.map_or(String::new(), |p| p.to_string())
}

fn name_of(formula: &Formula, line: &Line) -> String {
    formula.material(&line.material).map_or_else(
        || line.material.to_string(),
        |m| pure_inci(m).unwrap_or(&*m.name).to_owned(),
    )
}

/// What a table says of a line that is the pure substance of its name.
const PURE: &str = "pure";

/// The INCI name of a material that a table once named as a pure substance; a shelf does not
/// have it, and a table names it so again.
fn pure_inci(material: &Material) -> Option<&str> {
    let [only] = &*material.constituents else {
        return None;
    };
    let bare = material.name.replacen(", pure", "", 1);
    (bare.len() < material.name.len() && only.inci.is(&bare)).then_some(only.inci.spelling())
}

fn is_named_pure(formula: &Formula, line: &Line) -> bool {
    formula
        .material(&line.material)
        .is_some_and(|m| pure_inci(m).is_some())
}

/// All variants that are still used as a workbook: a sheet of lines and a sheet of
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

const LINE_HEADINGS: [&str; 13] = [
    "Phase",
    "Material",
    "INCI",
    "CAS",
    "% w/w",
    "g per batch",
    "Filler",
    "Purpose",
    "Held",
    "Lowest",
    "Highest",
    "Note",
    "Composition",
];

/// The column of the percentages, and that of the grams.
const PERCENT: u16 = 4;
const GRAMS: u16 = 5;

/// A sheet that computes: change the batch or a percentage and the grams, the filler and
/// the totals follow. Above the lines stands what the product is, below them what is said
/// of phases and steps; all of it is read back on bringing in.
fn write_lines(
    sheet: &mut Worksheet,
    formula: &Formula,
    variant: &Variant,
) -> Result<(), XlsxError> {
    let bold = Format::new().set_bold();
    let number = Format::new().set_num_format("0.00####");
    let mass = Format::new().set_num_format("0.00##");
    sheet.write_with_format(0, 0, &*formula.name, &bold)?;
    let mut row = 1;
    let mut batch_row = 1;
    let (head, below): (Vec<_>, Vec<_>) = product_head::lines(formula, variant)
        .into_iter()
        .partition(|(key, _)| !(key.starts_with("phase ") || key.starts_with("step ")));
    for (key, value) in head {
        if key == "batch" {
            sheet.write(row, 0, "batch in grams")?;
            sheet.write_with_format(row, 1, tidy(in_grams(variant.batch), 6), &mass)?;
            batch_row = row;
        } else {
            sheet.write(row, 0, key)?;
            sheet.write_string(row, 1, value)?;
        }
        row += 1;
    }
    row += 1;
    let headings = row;
    for (column, text) in (0..).zip(LINE_HEADINGS) {
        sheet.write_with_format(row, column, text, &bold)?;
    }
    let first = row + 1;
    let count = u32::try_from(variant.lines().count()).unwrap_or(u32::MAX - 1000);
    let last = headings + count;
    let batch = in_grams(variant.batch);
    let batch_cell = row_col_to_cell_absolute(batch_row, 1);
    let cell = |row: u32, column: u16| row_col_to_cell(row, column);
    for (phase, line) in variant.lines() {
        row += 1;
        write_line(sheet, row, formula, variant, phase, line)?;
        let percent = line.percent.as_percent();
        if variant.is_filler(line.id) && variant.total() == Percent::HUNDRED {
            let mut others = Vec::new();
            if row > first {
                others.push(format!(
                    "SUM({}:{})",
                    cell(first, PERCENT),
                    cell(row - 1, PERCENT)
                ));
            }
            if row < last {
                others.push(format!(
                    "SUM({}:{})",
                    cell(row + 1, PERCENT),
                    cell(last, PERCENT)
                ));
            }
            let others = if others.is_empty() {
                "0".to_owned()
            } else {
                others.join("-")
            };
            let filler = Formula_::new(format!("=ROUND(100-{others},6)"))
                .set_result(line.percent.to_string());
            sheet.write_formula_with_format(row, PERCENT, filler, &number)?;
        } else {
            sheet.write_with_format(row, PERCENT, percent, &number)?;
        }
        let grams = Formula_::new(format!("={}/100*{batch_cell}", cell(row, PERCENT)))
            .set_result(tidy(percent / 100.0 * batch, 6).to_string());
        sheet.write_formula_with_format(row, GRAMS, grams, &mass)?;
    }
    row += 1;
    sheet.write_with_format(row, 1, "Total", &bold)?;
    if count > 0 {
        for (column, total, format) in [
            (PERCENT, variant.total().as_percent(), &number),
            (GRAMS, variant.total().fraction().value() * batch, &mass),
        ] {
            let sum = Formula_::new(format!(
                "=SUM({}:{})",
                cell(first, column),
                cell(last, column)
            ))
            .set_result(tidy(total, 6).to_string());
            sheet.write_formula_with_format(row, column, sum, format)?;
        }
    }
    row += 1;
    for (key, value) in below {
        row += 1;
        sheet.write(row, 0, key)?;
        sheet.write_string(row, 1, value)?;
    }
    for (column, width) in [
        (0, 14.0),
        (1, 34.0),
        (2, 40.0),
        (3, 14.0),
        (4, 10.0),
        (5, 12.0),
        (7, 14.0),
        (11, 40.0),
    ] {
        sheet.set_column_width(column, width)?;
    }
    sheet.set_freeze_panes(first, 0)?;
    sheet.set_print_area(0, 0, row, 11)?;
    sheet.set_repeat_rows(headings, headings)?;
    sheet.set_landscape();
    sheet.set_print_fit_to_pages(1, 0);
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
    sheet.write_string(row, 0, &*phase.letter)?;
    sheet.write_string(row, 1, name_of(formula, line))?;
    if let Some(material) = formula.material(&line.material) {
        sheet.write_string(row, 2, material.inci_line())?;
        let cas: Vec<String> = material
            .constituents
            .iter()
            .filter(|c| c.incidental.is_none())
            .filter_map(|c| c.cas.map(|cas| cas.to_string()))
            .collect();
        sheet.write_string(row, 3, cas.join(", "))?;
    }
    if variant.is_filler(line.id) {
        sheet.write(row, 6, "q.s.")?;
    }
    if let Some(purpose) = line.purpose {
        sheet.write(row, 7, purpose.label())?;
    }
    if line.held {
        sheet.write(row, 8, "yes")?;
    }
    for (column, limit) in [(9, line.min), (10, line.max)] {
        if let Some(percent) = limit {
            sheet.write(row, column, percent.as_percent())?;
        }
    }
    sheet.write_string(row, 11, &*line.why)?;
    if is_named_pure(formula, line) {
        sheet.write(row, 12, PURE)?;
    }
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
        sheet.write(row, 0, amount.inci.spelling())?;
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
        if amount.share != amount.declared || amount.standing != IngredientStatus::Ingredient {
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
    use crate::file::table::read_bytes;
    use crate::file::table::recipe::{RecipeSettings, propose};
    use crate::fixture;
    use crate::material::Class;
    use crate::naming::Resolver;
    use crate::shelf::Shelf;

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
        let matcher = Resolver::new(&shelf);
        let proposal = propose(&tables[0], "x", &RecipeSettings::default(), &matcher).unwrap();
        let back = proposal.accept(&matcher).unwrap();
        assert!(back.new_materials.is_empty());
        assert_eq!(lines(&back.formula), lines(&formula));
        assert_eq!(proposal.assumptions(), Vec::<String>::new());
    }

    /// Everything of a variant that a table carries, without ids.
    fn carried(formula: &Formula, variant: &Variant) -> String {
        use std::fmt::Write as _;
        let mut text = format!(
            "{:?} {:?} {:?} {:?} {:?} {:?} {:?}",
            variant.specification,
            variant.name,
            variant.note,
            variant.product,
            variant.measured.ph,
            variant.target_ph,
            formula.notes
        );
        for phase in &variant.phases {
            let _ = write!(
                text,
                "\n{} {:?} {:?}",
                phase.letter, phase.kind, phase.purpose
            );
            let degrees = |t: Option<crate::quantity::Temperature>| {
                t.map(|t| (crate::quantity::in_celsius(t) * 1e6).round())
            };
            let _ = write!(text, " {:?}", degrees(phase.temperature));
            for line in &phase.lines {
                let percent = if variant.is_filler(line.id) {
                    "q.s.".to_owned()
                } else {
                    line.percent.to_string()
                };
                let _ = write!(
                    text,
                    "\n  {} {percent} {:?} {:?} {:?} {:?} {}",
                    line.material, line.why, line.min, line.max, line.purpose, line.held
                );
            }
            for step in &phase.steps {
                let _ = write!(
                    text,
                    "\n  {:?} {:?} {:?} {:?} {:?}",
                    step.text,
                    degrees(step.temperature),
                    step.minutes,
                    step.tool,
                    step.check
                );
            }
        }
        text
    }

    /// A random variant as a table can carry it: phases with lines and letters of their
    /// own, a filler that fills.
    fn carriable(seed: u64) -> (Formula, Shelf) {
        let mut formula = crate::random_formula::formula(seed);
        let mut variant = Variant::clone(formula.active());
        let mut letters = Vec::new();
        variant.phases.retain(|p| {
            let fresh = !p.lines.is_empty() && !letters.contains(&p.letter);
            letters.push(p.letter.clone());
            fresh
        });
        variant.archived = false;
        variant.product.markets.sort();
        variant.product.markets.dedup();
        if variant.name.is_empty() {
            variant.name = "First".into();
        }
        // Lines that add up to less than the whole leave room for the filler.
        for phase in &mut variant.phases {
            for (n, line) in Arc::make_mut(phase).lines.iter_mut().enumerate() {
                line.percent = Percent::from_units(100_001 + n as i64 * 7);
                line.why = line.why.trim().into();
            }
        }
        let filler = variant.filler.filter(|id| variant.line(*id).is_some());
        variant.filler = filler;
        let rest = Percent::HUNDRED - variant.total();
        for phase in &mut variant.phases {
            for line in &mut Arc::make_mut(phase).lines {
                if Some(line.id) == filler {
                    line.percent += rest;
                }
            }
        }
        formula.active = variant.id;
        formula.variants = vec![Arc::new(variant)];
        let shelf = formula.materials.values().cloned().collect();
        (formula, shelf)
    }

    #[test]
    fn the_way_out_is_the_way_in() {
        let mut tried = 0;
        for seed in 0..60 {
            let (formula, shelf) = carriable(seed);
            if formula.active().lines().count() < 2 {
                continue;
            }
            tried += 1;
            let expected = carried(&formula, formula.active());
            let text = csv(&formula, formula.active());
            let back = formula_table::read(&text, "x.csv", "x", &shelf)
                .unwrap_or_else(|e| panic!("seed {seed}: {e}\n{text}"))
                .formula;
            assert_eq!(
                carried(&back, back.active()),
                expected,
                "CSV, seed {seed}\n{text}"
            );
            let matcher = Resolver::new(&shelf);
            let taken = |bytes: &[u8]| {
                let tables = read_bytes(bytes).unwrap();
                let proposal = propose(&tables[0], "x", &RecipeSettings::default(), &matcher)
                    .unwrap_or_else(|e| panic!("seed {seed}: {e:?}\n{text}"));
                proposal.accept(&matcher).unwrap().formula
            };
            let back = taken(text.as_bytes());
            assert_eq!(
                carried(&back, back.active()),
                expected,
                "CSV brought in, seed {seed}\n{text}"
            );
            let back = taken(&xlsx(&formula).unwrap());
            assert_eq!(carried(&back, back.active()), expected, "XLSX, seed {seed}");
        }
        assert!(tried > 20, "{tried}");
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
