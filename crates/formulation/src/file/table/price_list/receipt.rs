//! Receipts of a till: "Glycerin 1 kg", "2 x 7.80", "15.60". How many and for how much each
//! stand in one cell, and the sum beside it proves it.

use rust_decimal::Decimal;

use super::columns::near;
use crate::amount::number;
use crate::file::table::choose::weigh;
use crate::file::table::columns::{Column, ColumnKind, Layout};
use crate::file::table::packs::within;
use crate::file::table::{Cell, Shown, Table};

/// Rows that must agree for a table to be a receipt.
const ENOUGH: usize = 2;
/// Rows looked at.
const ROWS: usize = 300;

/// "2 x 7.80", "3 × 4,95 €": how many, and for how much each.
fn times(cell: &Cell) -> Option<(Decimal, Decimal)> {
    let Cell::Text(text) = cell else {
        return None;
    };
    let (count, each) = text.split_once(['x', 'X', '×', '*', '@'])?;
    let count = number::amount(count.trim(), None).ok()?;
    let each = number::amount(each.trim(), None).ok()?;
    let plain = count.unit.is_none() && count.currency.is_none() && each.unit.is_none();
    (plain && count.value > Decimal::ZERO && count.value.is_integer())
        .then_some((count.value, each.value))
}

fn value(cell: &Cell) -> Option<Decimal> {
    match cell {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => number::amount(text, None)
            .ok()
            .filter(|a| a.unit.is_none())
            .map(|a| a.value),
        _ => None,
    }
}

/// The column of quantities times prices and the one of their products.
fn columns(table: &Table) -> Option<(usize, usize)> {
    let width = table.width();
    let rows = 0..table.rows.len().min(ROWS);
    (0..width).find_map(|at| {
        let written: Vec<(usize, Decimal)> = rows
            .clone()
            .filter_map(|row| {
                let (count, each) = times(table.cell(row, at))?;
                Some((row, count.saturating_mul(each)))
            })
            .collect();
        // One is enough where other rows of the column are names with packs and prices.
        let sold = || {
            let named = rows.clone().filter(|&row| {
                let cell = table.cell(row, at);
                within(&cell.words(), None).is_some()
                    && (0..width).any(|c| c != at && value(table.cell(row, c)).is_some())
            });
            named.count()
        };
        if written.is_empty() || written.len() < ENOUGH && sold() < ENOUGH {
            return None;
        }
        let product = (0..width).filter(|c| *c != at).find(|&column| {
            let fits = |(row, product): &(usize, Decimal)| {
                value(table.cell(*row, column)).is_some_and(|sum| near(*product, sum))
            };
            written.iter().all(fits)
        })?;
        Some((at, product))
    })
}

/// Whether quantities and prices stand below the names, in the same column.
fn stands_below(table: &Table, at: usize) -> bool {
    let mut rows =
        (0..table.rows.len().min(ROWS)).filter(|&row| times(table.cell(row, at)).is_some());
    rows.all(|row| {
        row.checked_sub(1).is_some_and(|above| {
            let cell = table.cell(above, at);
            matches!(cell, Cell::Text(text) if text.contains(char::is_alphabetic)) && times(cell).is_none()
        }) && !(0..table.width()).any(|c| {
            c != at && matches!(table.cell(row, c), Cell::Text(text) if text.contains(char::is_alphabetic))
        })
    })
}

/// A receipt with two columns more, one of numbers of packs and one of the price of each, and
/// what its columns mean; `None` if it is no receipt.
pub(super) fn spread(table: &Table) -> Option<(Table, Layout)> {
    let (at, product) = columns(table)?;
    let mut layout = weigh(table).map(|w| w.layout).unwrap_or_default();
    let below = stands_below(table, at);
    let names = layout.place(ColumnKind::Name).or_else(|| {
        if below {
            return Some(at);
        }
        (0..table.width()).find(|&c| {
            c != at
                && c != product
                && (0..table.rows.len()).any(|row| {
                    times(table.cell(row, at)).is_some()
                        && matches!(table.cell(row, c), Cell::Text(_))
                })
        })
    })?;
    let width = table.width();
    let mut spread = table.clone();
    for (row, cells) in spread.rows.iter_mut().enumerate() {
        let mut counted = times(table.cell(row, at));
        if below {
            if counted.is_some() {
                // It belongs to the name above.
                if let Some(cell) = cells.get_mut(at) {
                    *cell = Cell::Empty;
                }
                continue;
            }
            if value(table.cell(row, product)).is_none() {
                counted = times(table.cell(row + 1, at));
            }
        }
        // One of a thing has only its price.
        let alone = || {
            let empty =
                (below || table.cell(row, at).is_empty()) && !table.cell(row, names).is_empty();
            value(table.cell(row, product))
                .filter(|_| empty)
                .map(|price| (Decimal::ONE, price))
        };
        let Some((count, each)) = counted.or_else(alone) else {
            continue;
        };
        let number = |value: Decimal, shown: Shown| Cell::Number { value, shown };
        let money = match (table.cell(row, product), table.cell(row, at)) {
            (Cell::Number { shown, .. }, _) => *shown,
            (_, Cell::Text(text)) => text
                .split_once(['x', 'X', '×', '*', '@'])
                .and_then(|(_, each)| number::amount(each.trim(), None).ok()?.currency)
                .map_or(Shown::Plain, Shown::Money),
            _ => Shown::Plain,
        };
        cells.resize(width, Cell::Empty);
        cells.push(number(count, Shown::Plain));
        cells.push(number(each, money));
    }
    layout.columns.resize(width + 2, None);
    layout.assign(at, None);
    for (column, kind) in [
        (names, ColumnKind::Name),
        (product, ColumnKind::TotalPrice),
        (width, ColumnKind::Packs),
        (width + 1, ColumnKind::Price),
    ] {
        layout.assign(column, Some(kind));
    }
    // What was taken for amounts of a recipe is none.
    for column in &mut layout.columns {
        let of_recipe = |c: &Column| {
            matches!(
                c.kind,
                ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Phase
            )
        };
        if column.as_ref().is_some_and(of_recipe) {
            *column = None;
        }
    }
    Some((spread, layout))
}
