//! Tables of an ODS workbook (OpenDocument 1.2, part 1, chapter 9).
//!
//! Read by ourselves rather than through the workbook reader, for two reasons: the
//! file states repetitions of cells which that reader expands before anybody can
//! count them, and it does not tell a percentage from a plain number.

use std::collections::HashSet;

use quick_xml::Reader;
use quick_xml::events::{BytesStart, Event};

use super::unpack::Archive;
use super::xlsx::UNSAVED;
use super::{
    Cell, Collector, HIDDEN, MOST_COLUMNS, MOST_LETTERS, STRUCK, Shown, Table, TableError,
    cell_name,
};
use rust_decimal::Decimal;

use crate::amount::number;
use crate::quantity::Currency;

/// Reads every sheet.
pub(super) fn read(mut archive: Archive<'_>) -> Result<Vec<Table>, TableError> {
    if archive.holds("META-INF/manifest.xml")
        && archive
            .text("META-INF/manifest.xml")?
            .contains("encryption-data")
    {
        return Err(TableError::Kind {
            what: "the workbook is protected with a password",
            remedy: "save it without the password",
        });
    }
    read_content(&archive.text("content.xml")?)
}

fn damaged(error: impl std::fmt::Display) -> TableError {
    TableError::Damaged(error.to_string())
}

fn attribute(element: &BytesStart<'_>, name: &str) -> Result<Option<String>, TableError> {
    let Some(attribute) = element.try_get_attribute(name).map_err(damaged)? else {
        return Ok(None);
    };
    let value = attribute
        .normalized_value(quick_xml::XmlVersion::Implicit1_0)
        .map_err(damaged)?;
    Ok(Some(value.into_owned()))
}

fn repeated(element: &BytesStart<'_>, name: &str) -> Result<usize, TableError> {
    let Some(text) = attribute(element, name)? else {
        return Ok(1);
    };
    text.parse()
        .ok()
        .filter(|&n| n > 0)
        .ok_or_else(|| damaged(format!("“{text}” is not a number of repetitions")))
}

/// What the attributes of a cell state about its value.
struct Stated {
    kind: String,
    value: Option<String>,
    currency: Option<Currency>,
    formula: bool,
}

/// A number with what its own text shows beside it. The text is rounded; a unit in it
/// counts only where it is that number, or a thousandth of it.
fn shown_as(value: Decimal, currency: Option<Currency>, text: &str) -> Cell {
    if let Some(currency) = currency {
        return Cell::Number {
            value,
            shown: Shown::Money(currency),
        };
    }
    let plain = Cell::Number {
        value,
        shown: Shown::Plain,
    };
    let Ok(amount) = number::amount(text, None) else {
        return plain;
    };
    if let Some(currency) = amount.currency {
        return Cell::Number {
            value,
            shown: Shown::Money(currency),
        };
    }
    let Some(unit) = amount.unit else {
        return plain;
    };
    let half_step = Decimal::new(5, amount.value.scale().min(20) + 1);
    let fits = |stored: Decimal| {
        [Some(amount.value), amount.or]
            .into_iter()
            .flatten()
            .any(|shown| (shown - stored).abs() <= half_step)
    };
    [value, value / Decimal::ONE_THOUSAND]
        .into_iter()
        .find(|v| fits(*v))
        .map_or(plain, |value| Cell::Number {
            value,
            shown: Shown::In(unit),
        })
}

impl Stated {
    fn of(element: &BytesStart<'_>) -> Result<Self, TableError> {
        let kind = attribute(element, "office:value-type")?.unwrap_or_default();
        let value = match kind.as_str() {
            "date" => attribute(element, "office:date-value")?,
            "time" => attribute(element, "office:time-value")?,
            "boolean" => attribute(element, "office:boolean-value")?,
            "string" => attribute(element, "office:string-value")?,
            _ => attribute(element, "office:value")?,
        };
        let error = attribute(element, "calcext:value-type")?.is_some_and(|t| t == "error");
        Ok(Self {
            kind: if error { "error".to_owned() } else { kind },
            value,
            currency: attribute(element, "office:currency")?
                .as_deref()
                .and_then(Currency::new),
            formula: attribute(element, "table:formula")?.is_some(),
        })
    }

    fn cell(self, text: String) -> Cell {
        let cell = match (self.kind.as_str(), self.value) {
            ("error", _) => Cell::Fault(text),
            ("float" | "currency" | "percentage", Some(value)) => {
                match value.parse().ok().and_then(number::from_double) {
                    Some(number) => match self.kind.as_str() {
                        "percentage" => Cell::Number {
                            value: number,
                            shown: Shown::Percent,
                        },
                        _ => shown_as(number, self.currency, &text),
                    },
                    None => Cell::Fault(value),
                }
            }
            ("date", Some(value)) => number::iso_date(&value).map_or(Cell::Text(value), Cell::Date),
            ("boolean", Some(value)) => Cell::Truth(value == "true"),
            (_, Some(value)) => Cell::Text(value),
            (_, None) => Cell::Text(text),
        };
        if self.formula && cell.is_empty() {
            Cell::Fault(UNSAVED.to_owned())
        } else {
            cell
        }
    }
}

fn read_content(xml: &str) -> Result<Vec<Table>, TableError> {
    let mut reader = Reader::from_str(xml);
    let mut tables = Vec::new();
    let mut cells = 0;
    let mut styles = Styles::default();
    loop {
        match reader.read_event().map_err(damaged)? {
            Event::Start(e) | Event::Empty(e) if e.name().as_ref() == "style:style" => {
                styles.open(&e)?;
            }
            Event::Empty(e) if styles.takes(&e)? => {}
            Event::Start(e) if e.name().as_ref() == "table:table" => {
                let name = attribute(&e, "table:name")?.unwrap_or_default();
                let style = attribute(&e, "table:style-name")?.unwrap_or_default();
                let mut collector = Collector::new(&name, cells);
                collector.table.hidden = styles.hidden_tables.contains(&style);
                read_table(&mut reader, &mut collector, &styles)?;
                cells = collector.cells;
                tables.push(collector.table);
            }
            // Deleted rows and cells are kept here.
            Event::Start(e) if e.name().as_ref() == "table:tracked-changes" => {
                reader.read_to_end(e.name()).map_err(damaged)?;
            }
            Event::Eof => return Ok(tables),
            _ => {}
        }
    }
}

/// The automatic styles that say that something is struck through or hidden.
#[derive(Default)]
struct Styles {
    open: String,
    struck: HashSet<String>,
    hidden_tables: HashSet<String>,
}

impl Styles {
    /// A style begins. One that builds on another keeps its line.
    fn open(&mut self, element: &BytesStart<'_>) -> Result<(), TableError> {
        self.open = attribute(element, "style:name")?.unwrap_or_default();
        if attribute(element, "style:parent-style-name")?.is_some_and(|p| self.struck.contains(&p))
        {
            self.struck.insert(self.open.clone());
        }
        Ok(())
    }

    /// Properties of the style that is open; whether the element was some.
    fn takes(&mut self, element: &BytesStart<'_>) -> Result<bool, TableError> {
        match element.name().as_ref() {
            "style:text-properties" => {
                let line = attribute(element, "style:text-line-through-style")?
                    .or(attribute(element, "style:text-line-through-type")?);
                if line.is_some_and(|l| l != "none") {
                    self.struck.insert(self.open.clone());
                }
                Ok(true)
            }
            "style:table-properties" => {
                if attribute(element, "table:display")?.is_some_and(|d| d == "false") {
                    self.hidden_tables.insert(self.open.clone());
                }
                Ok(true)
            }
            _ => Ok(false),
        }
    }
}

/// Hidden columns of a sheet, each once.
fn hide_columns(
    element: &BytesStart<'_>,
    next: &mut usize,
    hidden: &mut Vec<usize>,
) -> Result<(), TableError> {
    let times = repeated(element, "table:number-columns-repeated")?;
    let last = next.saturating_add(times);
    if attribute(element, "table:visibility")?.is_some_and(|v| v == "collapse" || v == "filter") {
        hidden.extend(*next..last.min(MOST_COLUMNS));
    }
    *next = last;
    Ok(())
}

/// Reads up to the end of a table. Groups of rows and headings only enclose rows.
fn read_table(
    reader: &mut Reader<&[u8]>,
    collector: &mut Collector,
    styles: &Styles,
) -> Result<(), TableError> {
    let mut row = 0_usize;
    let mut column = 0_usize;
    let mut hidden_columns = Vec::new();
    loop {
        match reader.read_event().map_err(damaged)? {
            Event::Start(e) => match e.name().as_ref() {
                "table:table-row" => {
                    let times = repeated(&e, "table:number-rows-repeated")?;
                    let hidden = attribute(&e, "table:visibility")?
                        .is_some_and(|v| v == "collapse" || v == "filter");
                    let Row { cells, struck } = read_row(reader, collector, row, styles)?;
                    if !cells.is_empty() {
                        if hidden {
                            collector.table.left_out.insert(row, HIDDEN);
                        } else if cells.iter().all(|(c, _)| struck.contains(c)) {
                            collector.table.left_out.insert(row, STRUCK);
                        }
                        let struck = struck.into_iter().map(|c| (row, c));
                        collector.table.struck.extend(struck);
                    }
                    let cells: Vec<(usize, Cell)> = cells
                        .into_iter()
                        .filter(|(c, _)| {
                            let seen = !hidden_columns.contains(c);
                            if !seen && !collector.table.hidden_columns.contains(c) {
                                collector.table.hidden_columns.push(*c);
                            }
                            seen
                        })
                        .collect();
                    // Empty rows are only counted; filled ones are put down each time,
                    // and the collector stops at the limits.
                    if !cells.is_empty() {
                        for copy in 0..times {
                            for (column, cell) in &cells {
                                collector.put(row.saturating_add(copy), *column, cell.clone())?;
                            }
                        }
                    }
                    row = row.saturating_add(times);
                }
                "table:table-column" => hide_columns(&e, &mut column, &mut hidden_columns)?,
                "table:shapes" | "office:forms" => {
                    reader.read_to_end(e.name()).map_err(damaged)?;
                }
                _ => {}
            },
            Event::Empty(e) if e.name().as_ref() == "table:table-column" => {
                hide_columns(&e, &mut column, &mut hidden_columns)?;
            }
            Event::Empty(e) if e.name().as_ref() == "table:table-row" => {
                row = row.saturating_add(repeated(&e, "table:number-rows-repeated")?);
            }
            Event::End(e) if e.name().as_ref() == "table:table" => return Ok(()),
            Event::Eof => return Err(damaged("a table has no end")),
            _ => {}
        }
    }
}

/// The filled cells of a row with their columns, and the columns struck through.
struct Row {
    cells: Vec<(usize, Cell)>,
    struck: HashSet<usize>,
}

fn read_row(
    reader: &mut Reader<&[u8]>,
    collector: &mut Collector,
    row: usize,
    styles: &Styles,
) -> Result<Row, TableError> {
    let is_cell = |e: &BytesStart<'_>| {
        matches!(
            e.name().as_ref(),
            "table:table-cell" | "table:covered-table-cell"
        )
    };
    let mut cells: Vec<(usize, Cell)> = Vec::new();
    let mut struck = HashSet::new();
    let mut column = 0_usize;
    let is_struck = |e: &BytesStart<'_>| -> Result<bool, TableError> {
        Ok(attribute(e, "table:style-name")?.is_some_and(|s| styles.struck.contains(&s)))
    };
    loop {
        let (times, formula, cell, lined) = match reader.read_event().map_err(damaged)? {
            Event::Start(e) if is_cell(&e) => {
                let stated = Stated::of(&e)?;
                let times = repeated(&e, "table:number-columns-repeated")?;
                let formula = stated.formula;
                let lined = is_struck(&e)?;
                let sheet = &collector.table.name;
                let Paragraphs { text, struck } =
                    read_paragraphs(reader, &e, styles, || TableError::LongCell {
                        sheet: sheet.clone(),
                        cell: cell_name(row, column),
                    })?;
                if struck.is_empty() {
                    (times, formula, stated.cell(text), lined)
                } else if text.trim().is_empty() {
                    (times, formula, Cell::Text(struck), true)
                } else {
                    collector.table.struck_words.insert((row, column), struck);
                    (times, formula, Cell::Text(text), lined)
                }
            }
            Event::Empty(e) if is_cell(&e) => {
                let stated = Stated::of(&e)?;
                let times = repeated(&e, "table:number-columns-repeated")?;
                let formula = stated.formula;
                (times, formula, stated.cell(String::new()), is_struck(&e)?)
            }
            Event::End(e) if e.name().as_ref() == "table:table-row" => {
                return Ok(Row { cells, struck });
            }
            Event::Eof => return Err(damaged("a row has no end")),
            _ => continue,
        };
        if formula {
            collector.table.formulas += 1;
        }
        if !cell.is_empty() {
            let last = column.saturating_add(times);
            if last > MOST_COLUMNS {
                return Err(TableError::TooManyColumns {
                    sheet: collector.table.name.clone(),
                    column: last,
                });
            }
            if lined {
                struck.extend(column..last);
            }
            cells.extend((column..last).map(|c| (c, cell.clone())));
        }
        column = column.saturating_add(times);
    }
}

/// The text of a cell, and what of it is struck through.
struct Paragraphs {
    text: String,
    struck: String,
}

/// The text of a cell: its paragraphs joined by line feeds, without comments.
fn read_paragraphs(
    reader: &mut Reader<&[u8]>,
    cell: &BytesStart<'_>,
    styles: &Styles,
    too_long: impl Fn() -> TableError,
) -> Result<Paragraphs, TableError> {
    let end = cell.name().as_ref().to_owned();
    let (mut text, mut struck) = (String::new(), String::new());
    // Whether each of the spans that are open is struck through.
    let mut spans: Vec<bool> = Vec::new();
    let mut in_paragraph = false;
    let mut paragraphs = 0;
    loop {
        let lined = spans.contains(&true);
        let mut push = |words: &str| {
            if lined {
                struck.push_str(words);
            } else {
                text.push_str(words);
            }
        };
        match reader.read_event().map_err(damaged)? {
            Event::Start(e) => match e.name().as_ref() {
                "office:annotation" | "draw:frame" | "table:table" => {
                    reader.read_to_end(e.name()).map_err(damaged)?;
                }
                "text:p" => {
                    if paragraphs > 0 {
                        push("\n");
                    }
                    paragraphs += 1;
                    in_paragraph = true;
                }
                "text:span" => spans.push(
                    attribute(&e, "text:style-name")?.is_some_and(|s| styles.struck.contains(&s)),
                ),
                _ => {}
            },
            Event::Empty(e) => match e.name().as_ref() {
                "text:s" => {
                    let blanks = repeated(&e, "text:c")?;
                    push(&" ".repeat(blanks.min(MOST_LETTERS)));
                }
                "text:tab" => push("\t"),
                "text:line-break" => push("\n"),
                _ => {}
            },
            Event::Text(t) if in_paragraph => push(&t.xml10_content()),
            Event::CData(t) if in_paragraph => push(&t.xml10_content()),
            Event::GeneralRef(e) if in_paragraph => match e.resolve_char_ref().map_err(damaged)? {
                Some(c) => push(c.encode_utf8(&mut [0; 4])),
                None => {
                    push(quick_xml::escape::resolve_predefined_entity(e.as_ref()).unwrap_or(""));
                }
            },
            Event::End(e) if e.name().as_ref() == "text:p" => in_paragraph = false,
            Event::End(e) if e.name().as_ref() == "text:span" => {
                spans.pop();
            }
            Event::End(e) if e.name().as_ref() == end => return Ok(Paragraphs { text, struck }),
            Event::Eof => return Err(damaged("a cell has no end")),
            _ => {}
        }
        if text.len() + struck.len() > MOST_LETTERS {
            return Err(too_long());
        }
    }
}
