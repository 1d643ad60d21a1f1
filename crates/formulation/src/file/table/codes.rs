//! Codes in place of names, with a key that tells what each stands for: on a sheet of its own or
//! below the list. The names are put where the codes stand.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::columns::{ColumnKind, read_heading};
use super::{Cell, Table, TableOrigin, amounts};
use crate::naming::is_known_name;

/// So many codes at least make a key, and so many of them a list.
const ENOUGH: usize = 3;

/// Why the rows of a key are left out.
const OF_KEY: &str = "it tells what a code stands for";

/// What the codes of a file stand for.
struct Key {
    /// The sheet it stands on, counted from 0.
    sheet: usize,
    rows: BTreeSet<usize>,
    /// What each code stands for; `None` where the key says two things.
    names: BTreeMap<String, Option<String>>,
    /// Its first column, where it stands beside the list and shares its rows.
    beside: Option<usize>,
}

impl Key {
    fn name(&self, table: &Table, row: usize, column: usize) -> Option<&str> {
        self.names.get(&code(table, row, column)?)?.as_deref()
    }
}

/// A code as it is compared: one short word with a digit, or of capitals alone.
fn code_in(text: &str) -> Option<String> {
    /// Longer ones are names.
    const LONGEST: usize = 8;
    let text = text.trim();
    let count = text.chars().count();
    let signs = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '/' | '_');
    let digit = text.contains(|c: char| c.is_ascii_digit());
    let capitals = count > 1 && text.chars().all(|c| c.is_ascii_uppercase());
    let lettered = text.starts_with(|c: char| c.is_ascii_alphabetic());
    let fits = count <= LONGEST && lettered && text.chars().all(signs) && (digit || capitals);
    fits.then(|| text.to_uppercase())
}

/// The code in a cell; a number is one only below a heading of codes.
fn code(table: &Table, row: usize, column: usize) -> Option<String> {
    match table.cell(row, column) {
        Cell::Text(text) if is_number(text) => heading_of_codes(table, row, column)
            .is_some()
            .then(|| text.trim().to_owned()),
        Cell::Text(text) => code_in(text),
        Cell::Number { value, .. } if value.is_integer() => {
            heading_of_codes(table, row, column)?;
            Some(value.normalize().to_string())
        }
        _ => None,
    }
}

fn is_number(text: &str) -> bool {
    let text = text.trim();
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())
}

/// The row of the next heading above a cell that is one of codes.
fn heading_of_codes(table: &Table, row: usize, column: usize) -> Option<usize> {
    (0..row).rev().find(|&row| {
        let heading = read_heading(&table.cell(row, column).words());
        heading.is_some_and(|h| h.whole && h.column.kind == ColumnKind::Code)
    })
}

fn is_name(text: &str) -> bool {
    text.contains(char::is_alphabetic) && !amounts::is_amount(text) && code_in(text).is_none()
}

/// What a row of a key says at a column: a code, and what it stands for beside it or behind a
/// sign.
fn pair_at(table: &Table, row: usize, column: usize, beside: bool) -> Option<(String, String)> {
    if let Cell::Text(text) = table.cell(row, column)
        && let Some((left, right)) = text.split_once(['=', ':'])
        && let Some(code) = code_in(left)
    {
        return is_name(right).then(|| (code, right.trim().to_owned()));
    }
    let code = code(table, row, column)?;
    // What has an amount beside it is a line.
    let cells = table.rows.get(row)?.iter().enumerate();
    let mut others = cells.filter(|(at, _)| *at != column).map(|(_, cell)| cell);
    let measured = others.any(|cell| match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => {
            text.trim_start().starts_with(|c: char| c.is_ascii_digit()) && amounts::is_amount(text)
        }
        _ => false,
    });
    match table.cell(row, column + 1) {
        Cell::Text(name) if (beside || !measured) && is_name(name) => {
            Some((code, name.split_whitespace().collect::<Vec<_>>().join(" ")))
        }
        _ => None,
    }
}

/// The key that a sheet holds in two columns beside each other, or in one with a sign between.
fn key_in(table: &Table, sheet: usize, beside: bool) -> Option<Key> {
    (0..table.width()).find_map(|column| {
        let mut key = Key {
            sheet,
            rows: BTreeSet::new(),
            names: BTreeMap::new(),
            beside: beside.then_some(column),
        };
        let mut known = 0;
        for row in 0..table.rows.len() {
            let Some((code, name)) = pair_at(table, row, column, beside) else {
                continue;
            };
            known += usize::from(is_known_name(&name));
            key.rows.insert(row);
            let said = key.names.entry(code).or_insert_with(|| Some(name.clone()));
            if said.as_deref() != Some(name.as_str()) {
                *said = None;
            }
        }
        let whole = key.rows.len() >= ENOUGH && known * 2 >= key.rows.len();
        // Beside a list of codes that are named nowhere else.
        let serves = !beside || column_of(table, sheet, &key).is_some();
        (whole && serves).then_some(key)
    })
}

/// The column of a sheet in which the codes of a key stand for names, with the rows they stand in.
fn column_of(table: &Table, sheet: usize, key: &Key) -> Option<(usize, Vec<usize>)> {
    let beside = key.beside.filter(|_| sheet == key.sheet);
    let is_line = |row: &usize| sheet != key.sheet || beside.is_some() || !key.rows.contains(row);
    let of_key = |column: usize| beside.is_some_and(|first| (first..first + 2).contains(&column));
    let named = |row: usize| {
        let cells = table.rows.get(row).into_iter().flatten().enumerate();
        let mut texts = cells.filter_map(|(column, cell)| match cell {
            Cell::Text(text) if !of_key(column) => Some(text.as_str()),
            _ => None,
        });
        texts.any(|text| code_in(text).is_none() && is_known_name(text))
    };
    let mut columns = (0..table.width()).filter(|column| !of_key(*column));
    columns.find_map(|column| {
        let lines: Vec<usize> = (0..table.rows.len())
            .filter(is_line)
            .filter(|&row| key.name(table, row, column).is_some())
            .collect();
        let unnamed = !lines.iter().any(|&row| named(row));
        (lines.len() >= ENOUGH && unnamed).then_some((column, lines))
    })
}

/// The table with the names where its codes stand.
fn with_names(table: &Table, key: &Key, on_it: bool, column: usize, lines: &[usize]) -> Table {
    let mut spelt = table.clone();
    let mut told = Vec::new();
    for &row in lines {
        let Some(name) = key.name(table, row, column) else {
            continue;
        };
        told.push(format!("{} is {name}", table.cell(row, column).words()));
        if let Some(cell) = spelt.rows.get_mut(row).and_then(|r| r.get_mut(column)) {
            *cell = Cell::Text(name.to_owned());
        }
    }
    // Names are no codes, whatever heads them.
    let first = lines.first().copied().unwrap_or(0);
    let heading = heading_of_codes(table, first, column);
    if let Some(cell) = heading.and_then(|row| spelt.rows.get_mut(row)?.get_mut(column)) {
        *cell = Cell::Text("Material".to_owned());
    }
    match key.beside.filter(|_| on_it) {
        Some(first) => take_out(&mut spelt, first, key),
        None if on_it => leave_out(&mut spelt, key),
        None => {}
    }
    if table.origin.is_none() {
        let rows = 0..table.rows.len();
        let places = rows.flat_map(|row| (0..table.width()).map(move |column| (row, column)));
        spelt.origin = Some(Arc::new(TableOrigin {
            table: table.clone(),
            places: places.map(|place| (place, place)).collect(),
        }));
    }
    spelt
        .done
        .push(format!("codes were read by their key: {}", told.join(", ")));
    spelt
}

/// Takes out the cells of a key beside the list, and its headings.
fn take_out(table: &mut Table, first: usize, key: &Key) {
    let above = key.rows.first().and_then(|row| row.checked_sub(1));
    for row in key.rows.iter().copied().chain(above) {
        let cells = table.rows.get_mut(row).into_iter().flatten();
        for cell in cells.skip(first).take(2) {
            *cell = Cell::Empty;
        }
    }
}

/// Leaves out the rows of the key, and the word above them.
fn leave_out(table: &mut Table, key: &Key) {
    let above = key.rows.first().and_then(|first| first.checked_sub(1));
    let filled = |row: &usize| {
        let cells = table.rows.get(*row).into_iter().flatten();
        cells.filter(|cell| !cell.is_empty()).count()
    };
    let headed = |row: &usize| {
        let cells = table.rows.get(*row).into_iter().flatten();
        let mut kinds = cells.filter_map(|cell| Some(read_heading(&cell.words())?.column.kind));
        kinds.any(|kind| kind == ColumnKind::Code)
    };
    let above = above.filter(|row| filled(row) == 1 || headed(row));
    let rows: Vec<usize> = key.rows.iter().copied().chain(above).collect();
    for row in rows {
        let words = table.row_text(row);
        if let Some(cells) = table.rows.get_mut(row) {
            cells.clear();
        }
        table.set_aside.insert(row, (words, OF_KEY));
    }
}

/// The tables of a file with the names for the codes of a key that the file has; `None` if it has
/// none, or no list of nothing but codes.
pub(super) fn spelt_out(tables: &[Table]) -> Option<Vec<Table>> {
    let find = |beside: bool| {
        let mut all = tables.iter().enumerate();
        all.find_map(|(n, table)| key_in(table, n, beside))
    };
    let key = find(false).or_else(|| find(true))?;
    let mut found = false;
    let spelt = tables.iter().enumerate().map(|(n, table)| {
        let Some((column, lines)) = column_of(table, n, &key) else {
            let mut other = table.clone();
            // A sheet of nothing but the key is no recipe.
            if n == key.sheet {
                leave_out(&mut other, &key);
            }
            return other;
        };
        found = true;
        with_names(table, &key, n == key.sheet, column, &lines)
    });
    let spelt: Vec<Table> = spelt.collect();
    found.then_some(spelt)
}

#[cfg(test)]
mod tests {
    use super::super::sections::sections;
    use super::super::{read_text, text};
    use super::*;

    #[test]
    fn codes_are_read_by_the_key_below_the_list() {
        let text = "Night oil;\nCode;%\nH1;60\nH3;39\nV1;1\nTotal;100\n;\nKey;\nH1;Argan oil\nH3;Jojoba oil\nV1;Vitamin E\nH9;Olive oil\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found.len(), 1);
        let table = &found[0].table;
        assert_eq!(table.row_text(2), "Argan oil 60");
        assert!(table.row_text(8).is_empty() && table.set_aside.len() == 5);
        assert!(table.done[0].contains("H3 is Jojoba oil"));
        let text = "Code,%\nOL,50\nG2,30\nBV,20\n\nOL = olive oil\nG2 = glycerin\nBV = beeswax\n";
        let found = sections(&read_text(text).unwrap());
        assert_eq!(found[0].table.row_text(2), "glycerin 30");
    }

    #[test]
    fn codes_are_read_by_the_key_on_another_sheet() {
        let key = text::read("Code;Stoff\nWX;Wasser\nGL;Glycerin\nSU;Sonnenblumenöl\n").unwrap();
        let list = text::read("Code;%\nWX;70\nGL;20\nSU;10\n").unwrap();
        let spelt = spelt_out(&[list, key]).unwrap();
        assert_eq!(spelt[0].row_text(1), "Wasser 70");
        assert!(spelt[1].rows.iter().flatten().all(Cell::is_empty));
        // Numbers below a heading of codes, and a key in front with INCI names.
        let key = text::read("Nr;Rohstoff;INCI\n101;Olivenöl;Olea Europaea Fruit Oil\n102;Kokosöl;Cocos Nucifera Oil\n103;Bienenwachs;Cera Alba\n").unwrap();
        let list = text::read("Nr;g\n101;60\n102;30\n103;10\n").unwrap();
        let spelt = spelt_out(&[key, list]).unwrap();
        assert_eq!(spelt[1].row_text(2), "Kokosöl 30");
    }

    #[test]
    fn a_key_beside_the_list_is_shifted_by_some_rows() {
        let text = "Night oil;;;;\nCode;%;;Code;Material\nH1;60;;H1;Argan oil\nV1;30;;H3;Jojoba oil\nH9;10;;V1;Vitamin E\nTotal;100;;H9;Olive oil\n";
        let spelt = spelt_out(&read_text(text).unwrap()).unwrap();
        let rows: Vec<String> = (2..6).map(|row| spelt[0].row_text(row)).collect();
        assert_eq!(
            rows,
            ["Argan oil 60", "Vitamin E 30", "Olive oil 10", "Total 100"]
        );
        // The key may stand first.
        let text = "Key;Name;Code;g\nA1;Shea butter;A2;50\nA2;Olive oil;A1;30\nA3;Beeswax;A3;20\n";
        let spelt = spelt_out(&read_text(text).unwrap()).unwrap();
        assert_eq!(spelt[0].row_text(1), "Olive oil 50");
    }

    #[test]
    fn names_beside_codes_need_no_key() {
        let text = "No;Material;%\nR-1;Water;70\nR-2;Glycerin;20\nR-3;Olive oil;10\n";
        assert!(spelt_out(&read_text(text).unwrap()).is_none());
        // A code that the key gives two names is left as it is.
        let text = "Code;%\nH1;60\nH2;20\nH3;10\nH4;10\n;\nH1;Argan oil\nH2;Jojoba oil\nH3;Olive oil\nH4;Castor oil\nH4;Shea butter\n";
        let spelt = spelt_out(&read_text(text).unwrap()).unwrap();
        assert_eq!(spelt[0].row_text(4), "H4 10");
    }
}
