//! Numbers that a table does not write again: "dto." in the second of two versions.

use super::columns::spelt_heading;
use super::words::is_said_again;
use super::{Cell, Table, amounts, cell_name};

/// The table with the numbers for which a word or sign stands that says "the same", right of
/// them in a column headed alike; `None` if there are none. Such a sign below a number may mean
/// the one above it, so only headings tell that columns are versions of each other.
pub(super) fn filled(table: &Table) -> Option<Table> {
    let mut all: Option<Table> = None;
    let mut places: Vec<String> = Vec::new();
    for row in 0..table.rows.len() {
        for column in 1..table.length(row) {
            let says = matches!(table.cell(row, column), Cell::Text(text) if is_said_again(text));
            if !says || !are_alike(table, row, column - 1, column) {
                continue;
            }
            let now = all.get_or_insert_with(|| table.clone());
            // It may have been filled from further left.
            let left = now.cell(row, column - 1).clone();
            if !is_number(&left) {
                continue;
            }
            if let Some(cell) = now.rows.get_mut(row).and_then(|r| r.get_mut(column)) {
                *cell = left;
                places.push(cell_name(row, column));
            }
        }
    }
    let mut all = all.filter(|_| !places.is_empty())?;
    all.said.push(format!(
        "a word for “the same” was taken for the number left of it: {}",
        places.join(", ")
    ));
    Some(all)
}

fn is_number(cell: &Cell) -> bool {
    match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => amounts::is_amount(text),
        _ => false,
    }
}

/// Whether the nearest headings above two cells head the same kind of thing, or are the same but
/// for their numbers: "Version 1", "Version 2".
fn are_alike(table: &Table, row: usize, one: usize, other: usize) -> bool {
    let text = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Text(text) if !is_number(table.cell(row, column)) && !is_said_again(text) => {
            Some(text)
        }
        _ => None,
    };
    let bare = |text: &str| text.replace(|c: char| c.is_ascii_digit(), "");
    let kind = |text: &str| spelt_heading(text).map(|c| c.kind);
    (0..row)
        .rev()
        .find_map(|above| Some((text(above, one)?, text(above, other)?)))
        .is_some_and(|(one, other)| {
            kind(one).is_some() && kind(one) == kind(other) || bare(one) == bare(other)
        })
}
