//! Tables of an XLSX workbook.

use std::io::Cursor;
use std::panic::{AssertUnwindSafe, catch_unwind};

use calamine::{DataRef, DataType as _, Reader as _, Xlsx, XlsxError};
use rust_decimal::Decimal;

use super::unpack::Archive;
use super::{Cell, Collector, HIDDEN, STRUCK, Shown, Table, TableError, marks};
use crate::amount::number::{self, Unit};

/// Shown for a formula that was never computed, for example because the program
/// that wrote the file computes nothing.
pub(super) const UNSAVED: &str = "a formula whose value was not saved";

/// Reads every sheet. The archive is the proof that the bytes were checked, and tells
/// what the workbook hides, which the reader of the values does not.
pub(super) fn read(bytes: &[u8], mut checked: Archive<'_>) -> Result<Vec<Table>, TableError> {
    let marks = marks::read(&mut checked);
    drop(checked);
    // The reader is not ours and the file may be made to break it.
    let mut tables =
        catch_unwind(AssertUnwindSafe(|| read_sheets(bytes))).unwrap_or_else(|_| {
            Err(TableError::Damaged(
                "the workbook has parts that contradict each other".to_owned(),
            ))
        })?;
    for table in &mut tables {
        if let Some(marks) = marks.get(&table.name) {
            apply(marks, table);
        }
    }
    Ok(tables)
}

/// Leaves out what is hidden, and rows of which every filled cell is struck through.
fn apply(marks: &marks::Marks, table: &mut Table) {
    table.hidden = marks.hidden;
    table.active = marks.active;
    for (row, cells) in table.rows.iter_mut().enumerate() {
        let filled: Vec<usize> = (0..cells.len())
            .filter(|&c| cells.get(c).is_some_and(|cell| !cell.is_empty()))
            .collect();
        if filled.is_empty() {
            continue;
        }
        if marks.rows.contains(&row) {
            table.left_out.insert(row, HIDDEN);
        } else if filled.iter().all(|&c| marks.struck.contains(&(row, c))) {
            table.left_out.insert(row, STRUCK);
        }
        let struck = filled.iter().map(|&c| (row, c));
        table
            .struck
            .extend(struck.filter(|place| marks.struck.contains(place)));
        for &column in &filled {
            if marks.columns.contains(&column) {
                if let Some(cell) = cells.get_mut(column) {
                    *cell = Cell::Empty;
                }
                if !table.hidden_columns.contains(&column) {
                    table.hidden_columns.push(column);
                }
            }
        }
    }
    table.hidden_columns.sort_unstable();
    for ((row, column), words) in &marks.partly {
        if let Some(cell) = table.rows.get_mut(*row).and_then(|r| r.get_mut(*column)) {
            *cell = Cell::Text(words.left.clone());
            table
                .struck_words
                .insert((*row, *column), words.struck.clone());
        }
    }
}

fn told(error: XlsxError) -> TableError {
    match error {
        XlsxError::Password => TableError::Kind {
            what: "the workbook is protected with a password",
            remedy: "save it without the password",
        },
        other => TableError::Damaged(other.to_string()),
    }
}

fn read_sheets(bytes: &[u8]) -> Result<Vec<Table>, TableError> {
    let mut book = Xlsx::new(Cursor::new(bytes)).map_err(told)?;
    let mut tables = Vec::new();
    let mut cells = 0;
    for name in book.sheet_names() {
        let mut collector = Collector::new(&name, cells);
        match read_values(&mut book, &name, &mut collector) {
            Err(Stop::NoCells) => continue, // a chart sheet
            Err(Stop::Told(error)) => return Err(error),
            Ok(()) => {}
        }
        read_formulas(&mut book, &name, &mut collector)?;
        cells = collector.cells;
        tables.push(collector.table);
    }
    Ok(tables)
}

enum Stop {
    NoCells,
    Told(TableError),
}
impl From<TableError> for Stop {
    fn from(error: TableError) -> Self {
        Self::Told(error)
    }
}
impl From<XlsxError> for Stop {
    fn from(error: XlsxError) -> Self {
        match error {
            XlsxError::NotAWorksheet(_) => Self::NoCells,
            other => Self::Told(told(other)),
        }
    }
}

fn read_values(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    collector: &mut Collector,
) -> Result<(), Stop> {
    let mut reader = book.worksheet_cells_reader(name)?;
    let formats: Vec<Format> = reader
        .styles()
        .iter()
        .map(|style| {
            style
                .number_format
                .as_ref()
                .map_or_else(Format::default, |format| Format::of(&format.format_code))
        })
        .collect();
    while let Some((cell, style)) = reader.next_cell_with_style_id()? {
        let (row, column) = cell.get_position();
        let format = formats.get(style).copied().unwrap_or_default();
        let value = cell_of(cell.get_value(), format);
        collector.put(row as usize, column as usize, value)?;
    }
    Ok(())
}

/// What a number format shows beside a number, by its first part (ECMA-376, part 1,
/// section 18.8.31).
#[derive(Clone, Copy, PartialEq, Debug, Default)]
struct Format {
    shown: Shown,
    /// How many times the number is shown in thousands: commas behind its last digit.
    thousands: u32,
}

impl Format {
    /// Signs in quotes or behind a backslash only stand beside the number; a percent sign
    /// outside multiplies it.
    fn of(code: &str) -> Self {
        let mut format = Self::default();
        let mut beside = String::new();
        let mut letters = code.chars();
        while let Some(letter) = letters.next() {
            match letter {
                '"' => beside.extend(letters.by_ref().take_while(|c| *c != '"')),
                '\\' => beside.extend(letters.next()),
                // Blanks as wide as the next sign, and signs that fill the cell.
                '_' | '*' => {
                    letters.next();
                    beside.push(' ');
                }
                // "[$€-407]" is money, other brackets are colours and conditions.
                '[' => {
                    let inner: String = letters.by_ref().take_while(|c| *c != ']').collect();
                    if let Some(money) = inner.strip_prefix('$') {
                        beside.push_str(money.split('-').next().unwrap_or_default());
                    }
                }
                '%' => {
                    return Self {
                        shown: Shown::Percent,
                        thousands: 0,
                    };
                }
                ';' => break,
                ',' => format.thousands += 1,
                '0' | '#' | '?' | '.' => format.thousands = 0,
                other => beside.push(other),
            }
        }
        let beside = beside.trim();
        if let Some(unit) = Unit::named(beside) {
            format.shown = Shown::In(unit);
        } else if let Some(currency) = number::currency_of(beside) {
            format.shown = Shown::Money(currency);
        }
        format
    }

    /// A number as it is shown; thousands left away in the format are those of its unit.
    fn cell(self, value: Decimal) -> Cell {
        let thousands = match self.shown {
            Shown::In(_) => self.thousands,
            _ => 0,
        };
        let value = (0..thousands.min(4)).fold(value, |v, _| v / Decimal::ONE_THOUSAND);
        Cell::Number {
            value,
            shown: self.shown,
        }
    }
}

/// Counts formulas, and marks those without a saved value.
fn read_formulas(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    collector: &mut Collector,
) -> Result<(), TableError> {
    let mut reader = book.worksheet_cells_reader(name).map_err(told)?;
    while let Some(cell) = reader.next_cell_with_formula_metadata().map_err(told)? {
        if cell.formula.is_none() {
            continue;
        }
        collector.table.formulas += 1;
        if cell.value.is_empty() {
            let (row, column) = cell.pos;
            collector.put(
                row as usize,
                column as usize,
                Cell::Fault(UNSAVED.to_owned()),
            )?;
        }
    }
    Ok(())
}

fn cell_of(value: &DataRef<'_>, format: Format) -> Cell {
    let number = |value: f64| match number::from_double(value) {
        Some(value) => format.cell(value),
        None => Cell::Fault(format!("{value}, which is no number a recipe can use")),
    };
    match value {
        DataRef::Empty => Cell::Empty,
        DataRef::Int(n) => match number::within(Decimal::from(*n)) {
            Some(value) => format.cell(value),
            None => Cell::Text(n.to_string()),
        },
        DataRef::Float(n) => number(*n),
        DataRef::String(text) => Cell::Text(text.clone()),
        DataRef::SharedString(text) => Cell::Text((*text).to_owned()),
        DataRef::Bool(truth) => Cell::Truth(*truth),
        DataRef::DateTime(day) => {
            let (year, month, date, ..) = day.to_ymd_hms_milli();
            if day.is_datetime()
                && let Ok(date) = jiff::civil::Date::new(year as i16, month as i8, date as i8)
            {
                Cell::Date(date)
            } else {
                number(day.as_f64())
            }
        }
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => {
            number::iso_date(text).map_or_else(|| Cell::Text(text.clone()), Cell::Date)
        }
        DataRef::Error(error) => Cell::Fault(error.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formats_tell_what_stands_beside_a_number() {
        let check = |code: &str, shown: Shown, thousands: u32| {
            assert_eq!(Format::of(code), Format { shown, thousands }, "{code}");
        };
        check("General", Shown::Plain, 0);
        check("0.00%", Shown::Percent, 0);
        check("0.0\" g\"", Shown::In(Unit::Gram), 0);
        check("0.0\\ \\g", Shown::In(Unit::Gram), 0);
        check("0.000,\" kg\"", Shown::In(Unit::Kilogram), 1);
        check("#,##0.0\" g\";[Red]-0\" kg\"", Shown::In(Unit::Gram), 0);
        // The sign in quotes does not multiply.
        check("0.0\" %\"", Shown::In(Unit::Percent), 0);
        let euro = number::currency_of("€").unwrap();
        check("#,##0.00\\ [$€-407]", Shown::Money(euro), 0);
        check("[$€-2] #,##0.00", Shown::Money(euro), 0);
        check("yyyy-mm-dd", Shown::Plain, 0);
        let shown = Format::of("0.000,\" kg\"").cell(Decimal::from(1250));
        assert_eq!(shown.words(), "1.25 kg");
    }
}
