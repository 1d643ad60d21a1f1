//! Rows of cells as the reader takes them: a table of a workbook, or text of some form.

use std::fmt::Write as _;

use formulation::file::table::{Cell, Shown, Table, TableError, read_text};
use rust_decimal::Decimal;

use super::axes::{Axis, Dialect};
use super::write::{Kind, List, Row};

/// What the reader is given.
#[derive(Clone, Debug)]
pub enum Given {
    Tables(Vec<Table>),
    Text(String),
}

impl Given {
    pub fn tables(&self) -> Result<Vec<Table>, TableError> {
        match self {
            Self::Tables(tables) => Ok(tables.clone()),
            Self::Text(text) => read_text(text),
        }
    }

    /// To be looked at.
    pub fn shown(&self) -> String {
        match self {
            Self::Text(text) => text.clone(),
            Self::Tables(tables) => tables
                .iter()
                .map(|table| {
                    let rows: Vec<String> = table
                        .rows
                        .iter()
                        .map(|r| r.iter().map(Cell::words).collect::<Vec<_>>().join(" | "))
                        .collect();
                    format!("[{}]\n{}", table.name, rows.join("\n"))
                })
                .collect::<Vec<_>>()
                .join("\n"),
        }
    }
}

fn width(rows: &[Row]) -> usize {
    rows.iter().map(|r| r.cells.len()).max().unwrap_or(0)
}

/// Lists below each other or beside each other as one.
pub fn joined(lists: Vec<List>, beside: bool) -> List {
    let mut lists = lists.into_iter();
    let mut all = lists.next().unwrap();
    for list in lists {
        if beside {
            let gap = width(&all.rows) + 1;
            let rows = all.rows.len().max(list.rows.len());
            let blank = Row {
                kind: Kind::Body,
                cells: Vec::new(),
                struck: false,
                hidden: false,
            };
            all.rows.resize(rows, blank);
            for (row, more) in all.rows.iter_mut().zip(list.rows) {
                row.cells.resize(gap, Cell::Empty);
                row.cells.extend(more.cells);
                if more.kind == Kind::Heading {
                    row.kind = Kind::Heading;
                }
            }
        } else {
            let first = all.rows.len() + 1;
            all.rows.push(Row {
                kind: Kind::Text,
                cells: Vec::new(),
                struck: false,
                hidden: false,
            });
            all.rows.extend(list.rows);
            let merged = list.merged.into_iter().map(|(r, c, n)| (r + first, c, n));
            all.merged.extend(merged);
        }
    }
    all
}

/// A list as a sheet of a workbook.
pub fn sheet(list: &List, name: &str) -> Table {
    let mut table = Table {
        name: name.to_owned(),
        rows: list.rows.iter().map(|r| r.cells.clone()).collect(),
        active: true,
        ..Table::default()
    };
    for (at, row) in list.rows.iter().enumerate() {
        if row.hidden {
            table.left_out.insert(at, "hidden or filtered out");
        }
        if row.struck {
            table.left_out.insert(at, "struck through");
        }
    }
    table
}

/// A cell in text.
fn written(cell: &Cell, dialect: &Dialect) -> String {
    let comma = dialect.is(Axis::Mark, "comma");
    let number = |value: Decimal, fixed: bool| {
        let mut value = value.normalize();
        if fixed && value.scale() < 2 {
            value.rescale(2);
        }
        let text = value.to_string();
        if comma { text.replace('.', ",") } else { text }
    };
    let fixed = dialect.is(Axis::Digits, "fixed");
    match cell {
        // What counts is written without decimals.
        Cell::Number {
            value,
            shown: Shown::Plain,
        } => number(*value, fixed && !value.is_integer()),
        Cell::Number { value, shown } => match shown {
            Shown::Percent => format!("{} %", number(value * Decimal::ONE_HUNDRED, fixed)),
            Shown::Money(currency) => format!("{} {currency}", number(*value, true)),
            Shown::In(unit) => format!("{} {unit}", number(*value, fixed)),
            Shown::Plain => number(*value, fixed),
        },
        other => other.words(),
    }
}

fn separated(list: &List, separator: char, dialect: &Dialect) -> String {
    let width = width(&list.rows);
    let mut text = String::new();
    for row in &list.rows {
        let mut cells: Vec<String> = row
            .cells
            .iter()
            .map(|cell| {
                let words = written(cell, dialect);
                if words.contains(separator) || words.contains('"') {
                    format!("\"{}\"", words.replace('"', "\"\""))
                } else {
                    words
                }
            })
            .collect();
        cells.resize(width, String::new());
        text += &cells.join(&separator.to_string());
        text.push('\n');
    }
    text
}

fn aligned(list: &List, dialect: &Dialect) -> String {
    let rows: Vec<(Kind, Vec<String>)> = list
        .rows
        .iter()
        .map(|r| {
            (
                r.kind,
                r.cells.iter().map(|c| written(c, dialect)).collect(),
            )
        })
        .collect();
    let widths: Vec<usize> = (0..width(&list.rows))
        .map(|column| {
            rows.iter()
                .filter(|(kind, _)| *kind != Kind::Text)
                .filter_map(|(_, cells)| cells.get(column))
                .map(|c| c.chars().count())
                .max()
                .unwrap_or(0)
        })
        .collect();
    let mut text = String::new();
    for (kind, cells) in rows {
        if kind == Kind::Text {
            text += cells.join("  ").trim();
        } else {
            let line: Vec<String> = cells
                .iter()
                .zip(&widths)
                .filter(|(_, width)| **width > 0)
                .map(|(cell, width)| format!("{cell:<width$}"))
                .collect();
            text += line.join("   ").trim_end();
        }
        text.push('\n');
    }
    text
}

fn markdown(list: &List, dialect: &Dialect) -> String {
    let width = width(&list.rows);
    let rule = format!("|{}\n", "---|".repeat(width));
    let mut text = String::new();
    let mut in_table = false;
    let own_tables = list.own_tables;
    for row in &list.rows {
        let mut cells: Vec<String> = row
            .cells
            .iter()
            .map(|c| written(c, dialect).replace('|', "\\|"))
            .collect();
        if row.struck {
            for cell in &mut cells {
                if !cell.is_empty() {
                    *cell = format!("~~{cell}~~");
                }
            }
        }
        if row.kind == Kind::Text || own_tables && row.kind == Kind::Phase {
            if in_table {
                text.push('\n');
            }
            in_table = false;
            let mark = if row.kind == Kind::Phase { "## " } else { "" };
            let _ = write!(text, "{mark}{}\n\n", cells.join(" ").trim());
            continue;
        }
        cells.resize(width, String::new());
        let _ = writeln!(text, "| {} |", cells.join(" | "));
        if !in_table {
            text += &rule;
            in_table = true;
        }
    }
    text
}

fn page(list: &List, dialect: &Dialect) -> String {
    let escaped = |text: String| text.replace('&', "&amp;").replace('<', "&lt;");
    let width = width(&list.rows);
    let own_tables = list.own_tables;
    let mut text = "<html><body>\n".to_owned();
    let mut in_table = false;
    for (at, row) in list.rows.iter().enumerate() {
        let mut cells: Vec<String> = row
            .cells
            .iter()
            .map(|c| escaped(written(c, dialect)))
            .collect();
        if row.kind == Kind::Text || own_tables && row.kind == Kind::Phase {
            if in_table {
                text += "</table>\n";
            }
            in_table = false;
            let tag = if row.kind == Kind::Phase { "h3" } else { "p" };
            let words = cells.join(" ");
            if !words.trim().is_empty() {
                let _ = writeln!(text, "<{tag}>{}</{tag}>", words.trim());
            }
            continue;
        }
        if !in_table {
            text += "<table>\n";
            in_table = true;
        }
        cells.resize(width, String::new());
        let tag = if row.kind == Kind::Heading {
            "th"
        } else {
            "td"
        };
        text += "<tr>";
        for (column, cell) in cells.iter().enumerate() {
            let inside = |(row, c, rows): &&(usize, usize, usize)| {
                *c == column && (*row..row + rows).contains(&at)
            };
            let span = match list.merged.iter().find(inside) {
                Some((row, _, rows)) if *row == at => format!(" rowspan=\"{rows}\""),
                Some(_) => continue,
                None => String::new(),
            };
            let cell = if row.struck && !cell.is_empty() {
                format!("<s>{cell}</s>")
            } else {
                cell.clone()
            };
            let _ = write!(text, "<{tag}{span}>{cell}</{tag}>");
        }
        text += "</tr>\n";
    }
    if in_table {
        text += "</table>\n";
    }
    text + "</body></html>\n"
}

/// Rows and columns exchanged, as makers have it who add a column for each trial.
fn turned(list: &List) -> List {
    let cell = |row: usize, column: usize| {
        let cells = &list.rows[row].cells;
        cells.get(column).cloned().unwrap_or_default()
    };
    let rows = (0..width(&list.rows)).map(|column| Row {
        kind: Kind::Body,
        cells: (0..list.rows.len()).map(|row| cell(row, column)).collect(),
        struck: false,
        hidden: false,
    });
    List {
        rows: rows.collect(),
        ..list.clone()
    }
}

/// Some lists in the form of a dialect.
pub fn given(mut lists: Vec<List>, dialect: &Dialect) -> Given {
    if lists.len() > 1 && dialect.is(Axis::Form, "workbook") && dialect.is(Axis::Several, "sheets")
    {
        let named = ["Sheet1", "Sheet2"];
        let sheets = lists
            .iter()
            .zip(named)
            .enumerate()
            .map(|(n, (list, name))| Table {
                active: n == 0,
                ..sheet(list, name)
            });
        return Given::Tables(sheets.collect());
    }
    let list = if lists.len() == 1 && dialect.is(Axis::Turned, "turned") {
        turned(&lists.remove(0))
    } else if lists.len() == 1 {
        lists.remove(0)
    } else {
        joined(lists, dialect.is(Axis::Several, "beside"))
    };
    as_one(&list, dialect)
}

/// One list in the form of a dialect.
pub fn as_one(list: &List, dialect: &Dialect) -> Given {
    match dialect.of(Axis::Form) {
        "semicolons" => Given::Text(separated(list, ';', dialect)),
        "commas" => Given::Text(separated(list, ',', dialect)),
        "tabs" => Given::Text(separated(list, '\t', dialect)),
        "markdown" => Given::Text(markdown(list, dialect)),
        "page" => Given::Text(page(list, dialect)),
        "aligned" => Given::Text(aligned(list, dialect)),
        _ => Given::Tables(vec![sheet(list, "Sheet1")]),
    }
}
