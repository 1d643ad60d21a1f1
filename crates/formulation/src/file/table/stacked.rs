//! Lines that stand below each other within cells, as where one row holds a whole phase: they are
//! put into rows of their own.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::items::items;
use super::{Cell, Table, TableOrigin, amounts};

/// Lines that must stand so in all.
const ENOUGH: usize = 3;

/// The table with such lines in rows; `None` if no row has any. Only cells go together that have
/// as many lines in every such row, among them one of amounts.
pub(super) fn in_rows(table: &Table) -> Option<Table> {
    let (of_amounts, alone) = (0..table.width()).find_map(|column| {
        let rows = stacked_in(table, column)?;
        let lines = || {
            rows.iter()
                .flat_map(|&row| lines_of(table.cell(row, column)))
        };
        let amounts = lines().all(amounts::is_amount);
        let whole = lines().all(|line| items(line, None, false).lines.len() == 1);
        (amounts || whole).then_some((column, whole && !amounts))
    })?;
    let rows = stacked_in(table, of_amounts)?;
    let count = |row: usize, column: usize| lines_of(table.cell(row, column)).len();
    let together: Vec<usize> = (0..table.width())
        .filter(|&column| {
            rows.iter()
                .all(|&row| count(row, column) == count(row, of_amounts))
        })
        .collect();
    let named = |column: &usize| {
        *column != of_amounts
            && rows.iter().all(|&row| {
                let mut lines = lines_of(table.cell(row, *column)).into_iter();
                lines.all(|line| line.contains(char::is_alphabetic))
            })
    };
    if !alone && !together.iter().any(named) {
        return None;
    }
    let mut all = Table {
        rows: Vec::new(),
        left_out: BTreeMap::new(),
        struck: BTreeSet::new(),
        struck_words: BTreeMap::new(),
        ..table.clone()
    };
    let mut places = BTreeSet::new();
    for (row, cells) in table.rows.iter().enumerate() {
        let first = all.rows.len();
        let lines = if rows.contains(&row) {
            count(row, of_amounts)
        } else {
            1
        };
        for line in 0..lines {
            let of_line = |c: &usize| {
                line == 0 || together.contains(c) && lines_of(table.cell(row, *c)).len() > line
            };
            let columns = (0..cells.len()).filter(of_line);
            places.extend(columns.map(|column| ((row, column), (first + line, column))));
            let cell = |(column, cell): (usize, &Cell)| match lines_of(cell).get(line) {
                Some(text) if lines > 1 && together.contains(&column) => {
                    Cell::Text((*text).to_owned())
                }
                _ if line == 0 => cell.clone(),
                _ => Cell::Empty,
            };
            all.rows.push(cells.iter().enumerate().map(cell).collect());
        }
        let own = |(row, column): (usize, usize)| (row + first, column);
        let of_row = |place: &&(usize, usize)| place.0 == row;
        all.struck
            .extend(table.struck.iter().filter(of_row).map(|p| own((0, p.1))));
        let words = table
            .struck_words
            .iter()
            .filter(|(place, _)| place.0 == row);
        all.struck_words
            .extend(words.map(|(p, words)| (own((0, p.1)), words.clone())));
        if let Some(why) = table.left_out.get(&row) {
            all.left_out
                .extend((first..all.rows.len()).map(|row| (row, *why)));
        }
    }
    let origin = TableOrigin {
        table: table.clone(),
        places,
    };
    // Of what was put elsewhere before, nobody knows the places any more.
    all.origin = table.origin.is_none().then(|| Arc::new(origin));
    all.done.push(
        "cells with several lines were taken apart, line by line; rows are counted with these lines"
            .to_owned(),
    );
    Some(all)
}

/// The rows in which a column has several lines, if these are enough.
fn stacked_in(table: &Table, column: usize) -> Option<Vec<usize>> {
    let lines = |row: &usize| lines_of(table.cell(*row, column)).len();
    let rows: Vec<usize> = (0..table.rows.len()).filter(|row| lines(row) > 1).collect();
    (rows.iter().map(lines).sum::<usize>() >= ENOUGH).then_some(rows)
}

/// The lines of a cell that are not blank.
fn lines_of(cell: &Cell) -> Vec<&str> {
    match cell {
        Cell::Text(text) if text.contains('\n') => text
            .lines()
            .map(str::trim)
            .filter(|line| !line.is_empty())
            .collect(),
        Cell::Text(text) => vec![text.trim()],
        _ => Vec::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(rows: &[&[&str]]) -> Table {
        let cells = |row: &&[&str]| row.iter().map(|c| Cell::Text((*c).to_owned())).collect();
        Table {
            rows: rows.iter().map(cells).collect(),
            ..Table::default()
        }
    }

    #[test]
    fn cells_pair_line_by_line() {
        let stacked = table(&[
            &["Phase", "Ingredients", "%"],
            &["A\nheat", "Water\nGlycerin\nSalt", "70\n4\n1"],
            &["B", "Olive oil\nCocoa butter", "20\n5"],
        ]);
        let rows = in_rows(&stacked).unwrap();
        let texts: Vec<String> = (0..rows.rows.len()).map(|row| rows.row_text(row)).collect();
        assert_eq!(
            texts,
            [
                "Phase Ingredients %",
                "A heat Water 70",
                "Glycerin 4",
                "Salt 1",
                "B Olive oil 20",
                "Cocoa butter 5"
            ]
        );
        // INCI names below names are no lines of their own.
        let inci = table(&[
            &["Ingredient", "%"],
            &["Water\nAqua", "70"],
            &["Salt\nSodium Chloride", "30"],
        ]);
        assert_eq!(in_rows(&inci), None);
    }
}
