//! A second list below the first whose columns stand elsewhere, as in pages and notes where each
//! list has columns of its own. Its cells are put below the headings that they belong to.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::columns::{ColumnKind, Layout, spelt_heading};
use super::{Cell, Table, TableOrigin, amounts};
use crate::naming::words_of;

/// The table with later lists below the headings of the first; `None` if all stand there.
pub(super) fn below_first_headings(table: &Table, layout: &Layout) -> Option<Table> {
    let first = layout.headings?;
    let heads: Vec<usize> = (first + 1..table.rows.len())
        .filter(|&row| heads_list(table, first, row))
        .collect();
    let mut all = table.clone();
    let mut moved = false;
    let whole = (0..table.rows.len()).flat_map(|row| (0..table.length(row)).map(move |c| (row, c)));
    let mut stands: BTreeSet<_> = whole.map(|place| (place, place)).collect();
    for (n, &head) in heads.iter().enumerate() {
        let end = heads.get(n + 1).copied().unwrap_or(table.rows.len());
        let Some(places) = places_of(table, first, head) else {
            continue;
        };
        if places.iter().enumerate().all(|(from, to)| from == *to) {
            continue;
        }
        moved = true;
        for (row, cells) in all.rows.iter_mut().enumerate().take(end).skip(head) {
            // A line of text has no columns.
            if cells.iter().filter(|cell| !cell.is_empty()).count() < 2 && cells.len() < 2 {
                continue;
            }
            let before = std::mem::take(cells);
            let width = places.iter().max().map_or(0, |most| most + 1);
            cells.resize(width.max(before.len()), Cell::Empty);
            for (from, cell) in before.into_iter().enumerate() {
                let to = places.get(from).copied().unwrap_or(from);
                stands.remove(&((row, from), (row, from)));
                stands.insert(((row, from), (row, to)));
                if let Some(place) = cells.get_mut(to).filter(|_| !cell.is_empty()) {
                    *place = cell;
                }
            }
        }
    }
    moved.then(|| {
        let origin = TableOrigin {
            table: table.clone(),
            places: stands,
        };
        // Of what was put elsewhere before, nobody knows the places any more.
        all.origin = table.origin.is_none().then(|| Arc::new(origin));
        all.done.push(
            "a list further down has its columns elsewhere; they were put below the same headings"
                .to_owned(),
        );
        all
    })
}

/// Whether a row heads a list again by words of the first headings, one of them of amounts, above
/// a number.
fn heads_list(table: &Table, first: usize, row: usize) -> bool {
    let filled = || {
        let columns = 0..table.length(row);
        columns.filter(|&column| !table.cell(row, column).is_empty())
    };
    let is_measure = |column: usize| match table.cell(row, column) {
        Cell::Text(text) => spelt_heading(text)
            .is_some_and(|h| matches!(h.kind, ColumnKind::Percent | ColumnKind::Amount)),
        _ => false,
    };
    let is_number = |cell: &Cell| match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => amounts::is_amount(text),
        _ => false,
    };
    let below = (row + 1..table.rows.len()).find(|&r| !table.row_text(r).is_empty());
    filled().all(|column| place_in(table, first, (row, column)).is_some())
        && filled().any(|column| {
            is_measure(column) && below.is_some_and(|below| is_number(table.cell(below, column)))
        })
}

/// The column that the first headings call as a cell does.
fn place_in(table: &Table, first: usize, (row, column): (usize, usize)) -> Option<usize> {
    let text = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Text(text) => Some(text.trim().to_lowercase()),
        _ => None,
    };
    let said = text(row, column)?;
    let same = |at: &usize| text(first, *at).is_some_and(|head| head == said);
    if same(&column) {
        return Some(column);
    }
    // Materials may be headed in other words.
    let kind = |row: usize, column: usize| spelt_heading(&text(row, column)?).map(|h| h.kind);
    let is_name = |row: usize, column: usize| kind(row, column) == Some(ColumnKind::Name);
    let columns = || 0..table.length(first);
    columns()
        .find(same)
        .or_else(|| {
            is_name(row, column)
                .then(columns)?
                .find(|&at| is_name(first, at))
        })
        .filter(|_| !words_of(&said).is_empty() || said == "%")
}

/// Where each column of a later list belongs; `None` if two belong to the same.
fn places_of(table: &Table, first: usize, row: usize) -> Option<Vec<usize>> {
    let mut taken: Vec<Option<usize>> = (0..table.width())
        .map(|column| place_in(table, first, (row, column)))
        .collect();
    // Columns that nothing heads stay, or go where there is room.
    let mut beyond = table.width();
    for column in 0..taken.len() {
        if taken.get(column).is_some_and(Option::is_some) {
            continue;
        }
        let free = !taken.contains(&Some(column));
        let place = if free {
            column
        } else {
            beyond += 1;
            beyond - 1
        };
        if let Some(slot) = taken.get_mut(column) {
            *slot = Some(place);
        }
    }
    let places: Vec<usize> = taken.into_iter().flatten().collect();
    let mut sorted = places.clone();
    sorted.sort_unstable();
    sorted.dedup();
    (sorted.len() == places.len()).then_some(places)
}

#[cfg(test)]
mod tests {
    use super::super::choose::recognise;
    use super::super::text;
    use super::*;

    #[test]
    fn grams_of_a_later_list_stand_below_those_of_the_first() {
        let text = "| Oil | % of oils | g |\n|---|---|---|\n| Olive oil | 60 | 600 |\n| Coconut oil | 40 | 400 |\n\nLye\n\n| | g |\n|---|---|\n| Lye | 139 |\n| Water | 300 |\n";
        let table = text::read(text).unwrap();
        let layout = recognise(&table).unwrap();
        let aligned = below_first_headings(&table, &layout).unwrap();
        assert_eq!(aligned.cell(9, 2).words(), "139");
        assert!(aligned.cell(9, 1).is_empty());
        assert_eq!(aligned.cell(5, 0).words(), "Lye");
    }
}
