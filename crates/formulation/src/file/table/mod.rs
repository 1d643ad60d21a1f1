//! Tables from outside: CSV, TSV, XLSX, ODS, a table copied from a web page or a
//! spreadsheet. Whatever the form, the result is a [`Table`] of plain cells.
//!
//! A table may come from anybody, so nothing in it is trusted: sizes are checked
//! before anything is unpacked, and cells are counted while they are read.

pub mod accept;
pub mod amounts;
mod below_names;
mod beside;
pub mod choose;
pub mod clipboard;
mod codes;
pub mod columns;
mod days;
mod ditto;
pub mod html;
mod items;
mod json;
mod kind;
mod marks;
mod money;
mod names;
pub mod ods;
mod packs;
mod page;
mod parted;
mod phase_words;
mod pieces;
pub mod price_list;
mod prose;
pub mod questions;
mod realigned;
pub mod recipe;
mod records;
mod running;
pub mod sections;
mod shares;
mod stacked;
mod sums;
mod talk;
pub mod text;
mod unpack;
pub mod variants;
mod weighing;
mod words;
pub mod xlsx;

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::path::Path;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::store::{self, StoreError};
use crate::amount::number::Unit;
use crate::formula::Date;
use crate::quantity::Currency;

/// Largest file read.
pub const LARGEST_FILE: u64 = 32 << 20;
/// Most rows of a table.
pub const MOST_ROWS: usize = 60_000;
/// Most columns of a table.
pub const MOST_COLUMNS: usize = 256;
/// Most cells of all tables of a file, empty ones not counted.
pub const MOST_CELLS: usize = 1_000_000;
/// Most letters of a cell; more are the mark of another kind of file.
pub const MOST_LETTERS: usize = 32_767;

/// How the format of a cell shows its number.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub enum Shown {
    /// As it is stored.
    #[default]
    Plain,
    /// As a percentage, so that 0.025 stands for 2.5 %.
    Percent,
    /// With a unit beside it, so that 12.5 stands for 12.5 g.
    In(Unit),
    /// With a currency beside it.
    Money(Currency),
}

/// A cell, as far as the file tells what it is.
#[derive(Clone, PartialEq, Debug, Default)]
pub enum Cell {
    /// Nothing.
    #[default]
    Empty,
    /// Words, or a number written as words.
    Text(String),
    /// A number.
    Number {
        /// As stored.
        value: Decimal,
        /// What the file shows beside it.
        shown: Shown,
    },
    /// A day.
    Date(Date),
    /// Yes or no.
    Truth(bool),
    /// What a spreadsheet shows instead of a value, or a formula whose value was not saved.
    Fault(String),
}

impl Cell {
    /// Nothing or only blanks.
    pub fn is_empty(&self) -> bool {
        match self {
            Self::Empty => true,
            Self::Text(text) => text.trim().is_empty(),
            _ => false,
        }
    }

    /// The cell in words; numbers with a decimal point.
    pub fn words(&self) -> String {
        match self {
            Self::Empty => String::new(),
            Self::Text(text) => text.split_whitespace().collect::<Vec<_>>().join(" "),
            Self::Number { value, shown } => match shown {
                Shown::Plain => value.normalize().to_string(),
                Shown::Percent => format!("{} %", (value * Decimal::ONE_HUNDRED).normalize()),
                Shown::In(unit) => format!("{} {unit}", value.normalize()),
                Shown::Money(currency) => format!("{} {currency}", value.normalize()),
            },
            Self::Date(date) => date.to_string(),
            Self::Truth(true) => "yes".to_owned(),
            Self::Truth(false) => "no".to_owned(),
            Self::Fault(fault) => fault.clone(),
        }
    }
}

/// Why a row that is struck through is left out.
pub(super) const STRUCK: &str = "struck through";
/// Why a row that nobody sees is left out.
pub(super) const HIDDEN: &str = "hidden or filtered out";
/// Why what is said of mixtures below the sum of all is left out.
pub(super) const BEHIND_SUM: &str = "behind the sum of all";
/// Why a row below a heading of tools is left out.
pub(super) const TOOLS: &str = "below a heading of tools";
/// Why a row of an earlier letter is left out.
pub(super) const QUOTED: &str = "quoted from an earlier letter";
/// Why a row that says who wrote to whom is left out.
pub(super) const MAIL_HEAD: &str = "the head of a letter";
/// Why a row of a page below a heading of comments is left out.
pub(super) const ASIDE: &str = "below a heading of what others say";

/// What is told of a table of which next to nothing was taken; `None` of others.
pub(super) fn next_to_nothing(taken: usize, rows: usize) -> Option<String> {
    /// One line is no list where so many rows say something.
    const ROWS: usize = 6;
    (taken <= 1 && rows >= ROWS).then(|| {
        format!(
            "next to nothing was read: {rows} rows gave only {taken} line; look through what was left out"
        )
    })
}

/// Tells how far the reading has come and whether to go on: rows done and rows in all.
pub type RowProgress<'p> = dyn FnMut(usize, usize) -> bool + 'p;

/// One sheet of a file.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Table {
    /// Name of the sheet; empty for a text file.
    pub name: String,
    /// Rows as they stand; the first is row 1.
    pub rows: Vec<Vec<Cell>>,
    /// How many cells held formulas, whose last saved values were taken.
    pub formulas: usize,
    /// Rows that are left out, counted from 0, and why: hidden, filtered out or struck
    /// through.
    pub left_out: BTreeMap<usize, &'static str>,
    /// Cells that are struck through, by row and column, counted from 0.
    pub struck: BTreeSet<(usize, usize)>,
    /// Words that are struck through within a cell and were left out of it, by row and
    /// column, counted from 0.
    pub struck_words: BTreeMap<(usize, usize), String>,
    /// Columns that were hidden and left out, counted from 0.
    pub hidden_columns: Vec<usize>,
    /// How many columns left of the list were left out, because they hold something else.
    pub left_beside: Option<usize>,
    /// Rows whose cells were taken out because another list says the same, counted from 0: their
    /// words, and why.
    pub set_aside: BTreeMap<usize, (String, &'static str)>,
    /// What had to be assumed when it was taken out of its sheet.
    pub said: Vec<String>,
    /// What was done with it that needed no assumption, because the table proves it.
    pub done: Vec<String>,
    /// The sheet as it stands in the file, if its cells were put in other places here.
    pub origin: Option<Arc<TableOrigin>>,
    /// Rows and columns were exchanged.
    pub is_turned: bool,
    /// The sheet is hidden.
    pub hidden: bool,
    /// The sheet that was shown last.
    pub active: bool,
}

/// A sheet as it stands in the file, and where its cells stand in the table made of it.
#[derive(Clone, PartialEq, Debug)]
pub struct TableOrigin {
    /// As it stands in the file.
    pub table: Table,
    /// Row and column in the file, each with row and column in the table made of it; all counted
    /// from 0. A cell with several lines stands in several places, a heading that is repeated
    /// in one.
    pub places: BTreeSet<((usize, usize), (usize, usize))>,
}

impl TableOrigin {
    /// The columns of the table made of it, by those in the file, counted from 0; what stands
    /// in most cells of a column decides.
    pub fn columns(&self) -> BTreeMap<usize, usize> {
        let mut counts: BTreeMap<usize, BTreeMap<usize, usize>> = BTreeMap::new();
        for ((_, from), (_, to)) in &self.places {
            *counts.entry(*from).or_default().entry(*to).or_default() += 1;
        }
        let most = |all: BTreeMap<usize, usize>| {
            let most = all.into_iter().max_by_key(|(to, count)| (*count, *to));
            most.map(|(to, _)| to)
        };
        let columns = counts.into_iter();
        columns
            .filter_map(|(from, all)| Some((from, most(all)?)))
            .collect()
    }

    /// Where a cell of the file stands in the table made of it, the first place if there are
    /// several; all counted from 0.
    pub fn place_of(&self, row: usize, column: usize) -> Option<(usize, usize)> {
        let from = (row, column);
        let mut of_cell = self.places.range((from, (0, 0))..(from, (usize::MAX, 0)));
        of_cell.next().map(|(_, to)| *to)
    }

    /// The rows of the table made of it in which cells of a row of the file stand, counted
    /// from 0.
    pub fn rows_of(&self, row: usize) -> BTreeSet<usize> {
        let of_row = self
            .places
            .range(((row, 0), (0, 0))..((row + 1, 0), (0, 0)));
        of_row.map(|(_, (to, _))| *to).collect()
    }

    /// Where the filled cells of a row of the table made of it, counted from 0, stand in the
    /// file: the first and the last of them, as spreadsheets call them.
    pub fn cells_of(&self, row: usize) -> Option<(String, String)> {
        let is_filled = |(r, c): &(usize, usize)| !self.table.cell(*r, *c).is_empty();
        let of_row = self.places.iter().filter(|(_, (to, _))| *to == row);
        let mut cells: Vec<(usize, usize)> = of_row.map(|(from, _)| *from).collect();
        cells.retain(is_filled);
        let (first, last) = (cells.first()?, cells.last()?);
        Some((cell_name(first.0, first.1), cell_name(last.0, last.1)))
    }
}

impl Table {
    /// A cell; empty outside the table.
    pub fn cell(&self, row: usize, column: usize) -> &Cell {
        const EMPTY: &Cell = &Cell::Empty;
        self.rows
            .get(row)
            .and_then(|r| r.get(column))
            .unwrap_or(EMPTY)
    }

    /// The words of all cells of a row.
    pub fn row_text(&self, row: usize) -> String {
        let cells = self.rows.get(row).into_iter().flatten();
        let words: Vec<String> = cells
            .map(Cell::words)
            .filter(|words| !words.is_empty())
            .collect();
        words.join(" ")
    }

    /// Whether a row is left out.
    pub fn is_left_out(&self, row: usize) -> bool {
        self.left_out.contains_key(&row)
    }

    /// Why a row is left out, if it is: hidden, or its name, in column `names`, struck
    /// through.
    pub fn left_out_reason(&self, row: usize, names: usize) -> Option<&'static str> {
        let struck = self.struck.contains(&(row, names)).then_some(STRUCK);
        self.left_out.get(&row).copied().or(struck)
    }

    /// What of the table is hidden or struck through within cells, in words: it was left
    /// out.
    pub(super) fn hidden_words(&self) -> Vec<String> {
        let mut told = self.said.clone();
        if !self.hidden_columns.is_empty() {
            let columns: Vec<String> = self
                .hidden_columns
                .iter()
                .map(|&c| cell_name(0, c).trim_end_matches('1').to_owned())
                .collect();
            told.push(format!(
                "hidden columns were left out: {}",
                columns.join(", ")
            ));
        }
        for ((row, column), words) in &self.struck_words {
            told.push(format!(
                "in cell {} the struck-through “{}” was left out",
                cell_name(*row, *column),
                words.trim()
            ));
        }
        told
    }

    /// What the maker should know of how it was taken out of its sheet.
    pub(super) fn done_words(&self) -> Vec<String> {
        let mut told = self.done.clone();
        if let Some(columns) = self.left_beside {
            told.push(format!(
                "what stands left of the list, up to column {}, was left out",
                cell_name(0, columns.saturating_sub(1)).trim_end_matches('1')
            ));
        }
        if self.is_turned {
            told.push(
                "the materials stand in columns, so rows and columns were exchanged; rows are counted from the left".to_owned(),
            );
        }
        told
    }

    /// A copy with only some rows and columns filled, so that every cell keeps its name.
    pub fn masked(&self, rows: impl Fn(usize) -> bool, columns: impl Fn(usize) -> bool) -> Self {
        let kept = self.rows.iter().enumerate().map(|(row, cells)| {
            // Rows without cells cost next to nothing, however many recipes a file has.
            if !rows(row) {
                return Vec::new();
            }
            let cells = cells.iter().enumerate();
            cells
                .map(|(column, cell)| {
                    if columns(column) {
                        cell.clone()
                    } else {
                        Cell::Empty
                    }
                })
                .collect()
        });
        Self {
            rows: kept.collect(),
            name: self.name.clone(),
            left_out: self.left_out.clone(),
            struck: self.struck.clone(),
            struck_words: self.struck_words.clone(),
            set_aside: self
                .set_aside
                .iter()
                .filter(|(row, _)| rows(**row))
                .map(|(row, why)| (*row, why.clone()))
                .collect(),
            hidden_columns: self.hidden_columns.clone(),
            said: self.said.clone(),
            done: self.done.clone(),
            origin: self.origin.clone(),
            ..*self
        }
    }

    /// Rows at the top with a single cell, the first: titles and remarks.
    fn titles(&self) -> usize {
        let is_title = |cells: &&Vec<Cell>| {
            let filled = cells.iter().skip(1).any(|cell| !cell.is_empty());
            !filled && cells.first().is_some_and(|cell| !cell.is_empty())
        };
        self.rows.iter().take_while(is_title).count()
    }

    /// The table with rows and columns exchanged, titles above it kept where they are; `None` if
    /// it is too long for that.
    pub(super) fn turned(&self) -> Option<Self> {
        if self.rows.len() > MOST_COLUMNS || self.is_turned {
            return None;
        }
        let titles = self.titles();
        // Where a cell stands in the turned table.
        let turn = |&(row, column): &(usize, usize)| {
            if row < titles {
                (row, column)
            } else {
                (titles + column, row - titles)
            }
        };
        let rows = 0..self.rows.len();
        let places = rows.flat_map(|row| (0..self.width()).map(move |column| (row, column)));
        let origin = TableOrigin {
            table: self.clone(),
            places: places
                .filter(|(row, column)| !self.cell(*row, *column).is_empty())
                .map(|place| (place, turn(&place)))
                .collect(),
        };
        let across = |column: usize| {
            let below = titles..self.rows.len();
            below
                .map(move |row| self.cell(row, column).clone())
                .collect()
        };
        let hidden = self
            .left_out
            .keys()
            .filter_map(|row| row.checked_sub(titles));
        Some(Self {
            name: self.name.clone(),
            rows: (self.rows.iter().take(titles).cloned())
                .chain((0..self.width()).map(across))
                .collect(),
            formulas: self.formulas,
            left_out: (self.hidden_columns.iter())
                .map(|column| (titles + column, HIDDEN))
                .collect(),
            struck: self.struck.iter().map(turn).collect(),
            struck_words: self
                .struck_words
                .iter()
                .map(|(place, words)| (turn(place), words.clone()))
                .collect(),
            hidden_columns: hidden.collect(),
            left_beside: None,
            // Its rows are columns from here on.
            set_aside: BTreeMap::new(),
            said: self.said.clone(),
            done: self.done.clone(),
            // Of what was put elsewhere before, nobody knows the places any more.
            origin: self.origin.is_none().then(|| Arc::new(origin)),
            is_turned: true,
            hidden: self.hidden,
            active: self.active,
        })
    }

    /// How many cells a row has; what lies beyond is empty. Cheaper than [`Self::width`] where
    /// each row is looked at by itself.
    pub(super) fn length(&self, row: usize) -> usize {
        self.rows.get(row).map_or(0, Vec::len)
    }

    /// The widest row.
    pub fn width(&self) -> usize {
        self.rows.iter().map(Vec::len).max().unwrap_or(0)
    }

    /// Whether every cell is empty.
    pub fn is_empty(&self) -> bool {
        self.rows.iter().flatten().all(Cell::is_empty)
    }
}

/// Name of a cell as spreadsheets show it, "C7"; both places counted from 0.
pub fn cell_name(row: usize, column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column + 1;
    while rest > 0 {
        rest -= 1;
        letters.push(char::from(b'A' + (rest % 26) as u8));
        rest /= 26;
    }
    format!("{}{}", letters.iter().rev().collect::<String>(), row + 1)
}

/// The place, counted from 0, of a column that spreadsheets call "C" or "AA".
pub fn column_named(letters: &str) -> Option<usize> {
    let letters = letters.trim();
    if letters.is_empty() || letters.len() > 3 {
        return None;
    }
    let count = letters.bytes().try_fold(0, |sum, letter| {
        let letter = letter.to_ascii_uppercase();
        letter
            .is_ascii_uppercase()
            .then(|| sum * 26 + usize::from(letter - b'A') + 1)
    })?;
    Some(count - 1)
}

/// Why a file is not read as a table: what is wrong, what to do.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum TableError {
    /// The file cannot be opened or read.
    #[error("the file could not be read: {0}")]
    Read(String),
    /// Larger than is read.
    #[error(
        "the file has {bytes} bytes, more than the {} MB that are read; save only the sheet that is needed", LARGEST_FILE >> 20
    )]
    TooLarge {
        /// Size of the file.
        bytes: u64,
    },
    /// Compressed so that it would fill the memory.
    #[error(
        "the file unpacks to more than {} MB, which no recipe or price list needs; save the sheet that is needed as a new file", unpack::MOST_UNPACKED >> 20
    )]
    Bomb,
    /// Too many rows.
    #[error(
        "{}the table goes down to row {row}, and at most {MOST_ROWS} rows are read; delete what stands below the list, or split it",
        Sheet(sheet)
    )]
    TooManyRows {
        /// Name of the sheet.
        sheet: String,
        /// The row.
        row: usize,
    },
    /// Too many columns.
    #[error(
        "{}the table reaches to column {column}, and at most {MOST_COLUMNS} columns are read; delete what stands to the right of the list",
        Sheet(sheet)
    )]
    TooManyColumns {
        /// Name of the sheet.
        sheet: String,
        /// The column, counted from 1.
        column: usize,
    },
    /// Too many cells.
    #[error("the file has more than {MOST_CELLS} filled cells; save only the sheet that is needed")]
    TooManyCells,
    /// A cell with a whole book in it.
    #[error(
        "{}cell {cell} holds more than {MOST_LETTERS} letters; this does not look like a recipe or price list",
        Sheet(sheet)
    )]
    LongCell {
        /// Name of the sheet.
        sheet: String,
        /// Which cell.
        cell: String,
    },
    /// Not a table in any form known here.
    #[error("{what}; {remedy}")]
    Kind {
        /// What it seems to be.
        what: &'static str,
        /// What to do.
        remedy: &'static str,
    },
    /// Damaged.
    #[error("the file is damaged: {0}; open it in a spreadsheet program and save it anew")]
    Damaged(String),
    /// Nothing in it.
    #[error("the file holds no filled cell")]
    Nothing,
}

/// "sheet “Name”: " unless there is no name.
struct Sheet<'s>(&'s String);

impl fmt::Display for Sheet<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return Ok(());
        }
        write!(f, "sheet “{}”: ", self.0)
    }
}

/// Counts cells while they are read and stops where the limits are passed.
#[derive(Debug, Default)]
struct Collector {
    table: Table,
    cells: usize,
}

impl Collector {
    /// A table with a name, counting on from the cells of earlier tables.
    fn new(name: &str, cells: usize) -> Self {
        Self {
            table: Table {
                name: name.to_owned(),
                ..Table::default()
            },
            cells,
        }
    }

    /// Puts a cell in its place; an empty one takes no room.
    fn put(&mut self, row: usize, column: usize, cell: Cell) -> Result<(), TableError> {
        if cell.is_empty() {
            return Ok(());
        }
        if row >= MOST_ROWS {
            return Err(TableError::TooManyRows {
                sheet: self.table.name.clone(),
                row: row + 1,
            });
        }
        if column >= MOST_COLUMNS {
            return Err(TableError::TooManyColumns {
                sheet: self.table.name.clone(),
                column: column + 1,
            });
        }
        if let Cell::Text(text) = &cell
            && text.len() > MOST_LETTERS
        {
            return Err(TableError::LongCell {
                sheet: self.table.name.clone(),
                cell: cell_name(row, column),
            });
        }
        self.cells += 1;
        if self.cells > MOST_CELLS {
            return Err(TableError::TooManyCells);
        }
        if self.table.rows.len() <= row {
            self.table.rows.resize_with(row + 1, Vec::new);
        }
        if let Some(cells) = self.table.rows.get_mut(row) {
            if cells.len() <= column {
                cells.resize(column + 1, Cell::Empty);
            }
            if let Some(place) = cells.get_mut(column) {
                *place = cell;
            }
        }
        Ok(())
    }
}

/// Reads all tables of a file that are not empty.
pub fn read_file(path: &Path) -> Result<Vec<Table>, TableError> {
    let (bytes, _) = store::read_at_most(path, LARGEST_FILE).map_err(|error| match error {
        StoreError::TooLarge { length, .. } => TableError::TooLarge { bytes: length },
        StoreError::IsFolder { .. } => TableError::Kind {
            what: "this is a folder",
            remedy: "name a file in it",
        },
        StoreError::NotOrdinary { what: "a pipe", .. } => TableError::Kind {
            what: "this is a pipe",
            remedy: "put what comes out of it into a file and name that",
        },
        StoreError::NotOrdinary { .. } => TableError::Kind {
            what: "this is no ordinary file",
            remedy: "name a file",
        },
        other => TableError::Read(other.to_string()),
    })?;
    read_bytes(&bytes)
}

/// Reads all tables of the content of a file that are not empty; what kind of file
/// it is shows in the content.
pub fn read_bytes(bytes: &[u8]) -> Result<Vec<Table>, TableError> {
    let tables = if bytes.starts_with(b"PK") {
        let archive = unpack::Archive::open(bytes)?;
        if archive.holds("content.xml") {
            ods::read(archive)?
        } else if archive.holds("[Content_Types].xml") {
            xlsx::read(bytes, archive)?
        } else {
            return Err(TableError::Kind {
                what: "this is an archive, but not a spreadsheet",
                remedy: "unpack it and name the spreadsheet in it",
            });
        }
    } else if bytes.starts_with(&[0xD0, 0xCF, 0x11, 0xE0]) {
        return Err(TableError::Kind {
            what: "this is a spreadsheet of the old XLS kind, or one with a password",
            remedy: "open it in a spreadsheet program and save it as XLSX, ODS or CSV without a password",
        });
    } else if bytes.starts_with(b"%PDF") {
        return Err(TableError::Kind {
            what: "this is a PDF document",
            remedy: "copy the table out of it and paste it",
        });
    } else {
        let decoded = text::decode(bytes)?;
        let mut tables = read_text(&decoded.text)?;
        if let Some(guessed) = decoded.guessed {
            let told = format!(
                "nothing says how the letters of the file are written; it was read as {guessed}, in which they make words; check the accents"
            );
            for table in &mut tables {
                table.done.push(told.clone());
            }
        }
        tables
    };
    let tables: Vec<Table> = tables.into_iter().filter(|t| !t.is_empty()).collect();
    if tables.is_empty() {
        return Err(TableError::Nothing);
    }
    Ok(tables)
}

/// Reads pasted text: an HTML table, or text with separators.
pub fn read_text(text: &str) -> Result<Vec<Table>, TableError> {
    if let Some(lists) = json::read(text) {
        return lists;
    }
    if html::looks_like_html(text) {
        let tables = html::read(text)?;
        // The recipe of the page may be in lists, and its tables of something else.
        let of_lists = || text::read(&page::lines(text)).ok();
        let elsewhere = tables
            .iter()
            .all(|table| table.width() < 2 || choose::weigh(table).is_none());
        let page = elsewhere.then(of_lists).flatten();
        Ok(match page.filter(|page| choose::weigh(page).is_some()) {
            Some(page) => vec![page],
            None => tables,
        })
    } else if page::looks_like_page(text) {
        Ok(vec![text::read(&page::lines(text))?])
    } else {
        Ok(vec![text::read(text)?])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_named_as_in_spreadsheets() {
        assert_eq!(cell_name(0, 0), "A1");
        assert_eq!(cell_name(6, 2), "C7");
        assert_eq!(cell_name(0, 25), "Z1");
        assert_eq!(cell_name(0, 26), "AA1");
        // The last column of a spreadsheet of 16,384 columns is XFD.
        assert_eq!(cell_name(1_048_575, 16_383), "XFD1048576");
        assert_eq!(column_named("c"), Some(2));
        assert_eq!(column_named("XFD"), Some(16_383));
        assert_eq!(column_named("7"), None);
        assert_eq!(column_named(""), None);
    }

    #[test]
    fn a_table_of_which_next_to_nothing_is_taken_says_so() {
        assert!(
            next_to_nothing(1, 17)
                .unwrap()
                .contains("17 rows gave only 1 line;")
        );
        assert_eq!(next_to_nothing(2, 24), None);
        assert_eq!(next_to_nothing(1, 5), None);
        assert_eq!(next_to_nothing(3, 40), None);
    }

    #[test]
    fn other_kinds_of_file_are_named() {
        let told = |bytes: &[u8]| read_bytes(bytes).unwrap_err().to_string();
        assert!(told(&[0xD0, 0xCF, 0x11, 0xE0, 0, 0]).contains("old XLS"));
        assert!(told(b"%PDF-1.7").contains("paste it"));
        assert!(told(b"  \n \n").contains("no filled cell"));
        assert!(told(b"PK\x03\x04 nothing").contains("damaged"));
        assert!(read_file(Path::new("no/such/file")).is_err());
        assert!(
            read_file(Path::new("."))
                .unwrap_err()
                .to_string()
                .contains("folder")
        );
    }
}
