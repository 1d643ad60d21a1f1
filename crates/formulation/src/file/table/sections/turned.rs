//! Materials that stand in columns instead of rows.

use rust_decimal::Decimal;

use crate::file::table::amounts::WrittenAmount;
use crate::file::table::choose::weigh;
use crate::file::table::columns::{ColumnKind, read_heading};
use crate::file::table::sums::is_sum;
use crate::file::table::weighing::sides;
use crate::file::table::{BEHIND_SUM, Cell, Table, amounts};
use crate::naming::is_known_name;

/// What is seen of the sides on which materials and their headings stand.
pub(super) fn sides_seen(table: &Table) -> sides::Seen {
    /// A recipe that stands in columns has no more rows than there are things said of each
    /// material.
    const MOST_ROWS: usize = 40;
    let rows = table.rows.len();
    if !(2..=MOST_ROWS).contains(&rows) {
        return sides::Seen::default();
    }
    let is_name = |row: usize, column: usize| matches!(table.cell(row, column), Cell::Text(text) if is_known_name(text));
    let names_of = |row: usize| (0..table.width()).filter(move |&c| is_name(row, c));
    let across = (0..rows).map(|row| names_of(row).count());
    // What stands below the row of most names.
    let below_names = (0..rows)
        .max_by_key(|row| (names_of(*row).count(), std::cmp::Reverse(*row)))
        .is_some_and(|row| {
            /// Fewer may be names with their INCI names.
            const ENOUGH: usize = 3;
            let is_number = |cell: &Cell| match cell {
                Cell::Number { .. } | Cell::Empty => true,
                Cell::Text(text) => amounts::is_amount(text),
                _ => false,
            };
            let columns: Vec<usize> = names_of(row).collect();
            // A row of lots or of remarks says something else of each.
            let of_amounts = |below: &usize| {
                let first = table.cell(*below, 0).words();
                let kind = read_heading(&first)
                    .filter(|h| h.whole)
                    .map(|h| h.column.kind);
                kind.is_none_or(|kind| {
                    matches!(
                        kind,
                        ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Name
                    )
                })
            };
            let cells = || {
                let below = (row + 1..rows).filter(of_amounts);
                below.flat_map(|r| columns.iter().map(move |c| table.cell(r, *c)))
            };
            let filled = cells().filter(|cell| !cell.is_empty()).count();
            columns.len() >= ENOUGH && filled >= columns.len() && cells().all(is_number)
        });
    let down = (0..table.width()).map(|c| (0..rows).filter(|&row| is_name(row, c)).count());
    let (across, down) = (across.max().unwrap_or(0), down.max().unwrap_or(0));
    let heads = |cells: &mut dyn Iterator<Item = &Cell>| {
        let kinds: Vec<ColumnKind> = cells
            .filter_map(|cell| match cell {
                Cell::Text(text) => read_heading(text).filter(|h| h.whole),
                _ => None,
            })
            .map(|h| h.column.kind)
            .collect();
        let has = |all: &[ColumnKind]| kinds.iter().any(|kind| all.contains(kind));
        has(&[ColumnKind::Name, ColumnKind::Inci, ColumnKind::Trade])
            && has(&[ColumnKind::Percent, ColumnKind::Amount])
    };
    sides::Seen {
        headings_across: (0..rows)
            .any(|row| heads(&mut (0..table.width()).map(|c| table.cell(row, c)))),
        headings_down: (0..table.width().min(3))
            .any(|c| heads(&mut (0..rows).map(|row| table.cell(row, c)))),
        names_across: across > 1 && across > down,
        names_down: down > 1 && down > across,
        amounts_below: below_names && down < 2,
    }
}

/// Leaves out what stands behind the sum of all, such as what was measured of each mixture.
fn leave_out_behind_sum(turned: &mut Table) {
    let numbers = |row: usize| {
        let cells = turned.rows.get(row).into_iter().flatten();
        cells.filter_map(|cell| match cell {
            Cell::Number { value, .. } => Some(*value),
            Cell::Text(text) => {
                amounts::read(text, None, None)
                    .ok()
                    .and_then(|a| match a.written {
                        WrittenAmount::Percent(value) | WrittenAmount::Bare(value) => Some(value),
                        _ => None,
                    })
            }
            _ => None,
        })
    };
    let is_whole = |row: usize| {
        let mut all = numbers(row).peekable();
        all.peek().is_some() && all.all(|value| value == Decimal::ONE_HUNDRED)
    };
    let rows = 0..turned.rows.len();
    let sum = rows.rev().find(|&row| is_sum(turned, row) && is_whole(row));
    let behind = sum.map_or(turned.rows.len(), |row| row + 1)..turned.rows.len();
    let behind: Vec<usize> = behind
        .filter(|row| !turned.row_text(*row).is_empty())
        .collect();
    turned
        .left_out
        .extend(behind.into_iter().map(|row| (row, BEHIND_SUM)));
}

/// Materials that stand in columns, with the amounts below them: the table with rows and
/// columns exchanged.
pub(super) fn turned(table: &Table) -> Vec<(String, Table)> {
    let Some(mut turned) = table.turned() else {
        return Vec::new();
    };
    leave_out_behind_sum(&mut turned);
    let names_and_amounts = weigh(&turned).is_some_and(|w| {
        w.layout.place(ColumnKind::Name).is_some()
            && (w.layout.place(ColumnKind::Percent).is_some()
                || w.layout.place(ColumnKind::Amount).is_some())
    });
    if names_and_amounts {
        vec![(table.name.clone(), turned)]
    } else {
        Vec::new()
    }
}
