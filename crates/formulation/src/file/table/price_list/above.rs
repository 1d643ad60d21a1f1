//! Columns of numbers of which only a line above the list says that they are prices: "Prices
//! paid, £ per kg" above years, "All prices EUR per kg, net" above the names of suppliers.

use super::price_column::{Basis, PriceColumn, per_unit, year_in};
use crate::amount::number;
use crate::file::table::columns::{self, ColumnKind, Layout, spelt_heading};
use crate::file::table::money::currency_in;
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table};
use crate::naming::words_of;

/// What a line above the list says of all its prices: for how much, in which money, with or
/// without tax; `None` if no line says both that there are prices and for how much.
fn said_above(table: &Table, layout: &Layout) -> Option<PriceColumn> {
    let cells = (0..layout.headings?).flat_map(|row| table.rows.get(row).into_iter().flatten());
    let texts = cells.filter_map(|cell| match cell {
        Cell::Text(text) => Some(text.as_str()),
        _ => None,
    });
    texts.into_iter().find_map(|text| {
        let folded = words_of(text);
        let lists = words();
        let has =
            |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
        let per = per_unit(text).filter(|_| has(&lists.money))?;
        Some(PriceColumn {
            column: 0,
            heading: String::new(),
            basis: Basis::Per(per),
            gross: has(&lists.with_tax),
            net: has(&lists.without_tax),
            currency: currency_in(text),
            year: None,
            list: false,
            supplier: String::new(),
        })
    })
}

/// The line outside of the list that says that its prices hold tax: "alle Preise inkl. MwSt.".
pub(super) fn told_gross<'t>(table: &'t Table, layout: &Layout) -> Option<&'t str> {
    let lists = words();
    let rows = (0..layout.headings.unwrap_or(0)).chain(layout.first_row()..table.rows.len());
    rows.into_iter().find_map(|row| {
        let cells = table.rows.get(row).into_iter().flatten();
        let mut filled = cells.filter(|cell| !cell.is_empty());
        let (Some(Cell::Text(text)), None) = (filled.next(), filled.next()) else {
            return None;
        };
        let folded = words_of(text);
        let has =
            |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
        // A row of the tax itself is a sum.
        let says = has(&lists.tax)
            && has(&lists.with_tax)
            && !has(&lists.without_tax)
            && has(&lists.money);
        says.then_some(text.as_str())
    })
}

/// Whether nearly all that stands below a heading are plain numbers, as prices are.
fn holds_prices(table: &Table, layout: &Layout, column: usize) -> bool {
    let is_price = |cell: &Cell| match cell {
        Cell::Number { value, shown } => {
            matches!(shown, Shown::Plain | Shown::Money(_)) && !value.is_sign_negative()
        }
        Cell::Text(text) => number::amount(text, None).is_ok_and(|a| a.unit.is_none()),
        _ => false,
    };
    let rows = layout.first_row()..table.rows.len();
    let filled = rows.filter(|&row| !table.cell(row, column).is_empty());
    let (mut all, mut prices) = (0, 0);
    for row in filled.take(300) {
        all += 1;
        prices += usize::from(is_price(table.cell(row, column)));
    }
    all > 1 && prices * 10 >= all * 9
}

/// The columns of prices that a line above the list tells of, each headed by a year or by who
/// sells; none if any heading says by itself what a number is.
pub(super) fn columns_of_prices(table: &Table, layout: &Layout) -> Vec<PriceColumn> {
    let Some(said) = said_above(table, layout) else {
        return Vec::new();
    };
    let heading = |column: usize| layout.heading(table, column);
    let measured = (0..table.width()).any(|column| {
        columns::heading(&heading(column)).is_some_and(|h| {
            matches!(
                h.kind,
                ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Phase
            )
        })
    });
    if measured {
        return Vec::new();
    }
    let may_be = |column: &usize| {
        let text = heading(*column);
        layout.place(ColumnKind::Name) != Some(*column)
            && !text.is_empty()
            && spelt_heading(&text).is_none()
            && holds_prices(table, layout, *column)
    };
    let columns: Vec<usize> = (0..table.width()).filter(may_be).collect();
    let years: Vec<Option<i32>> = columns
        .iter()
        .map(|column| year_in(&words_of(&heading(*column))))
        .collect();
    // Some years among other words: nobody knows what the others are.
    if years.iter().any(Option::is_some) && years.iter().any(Option::is_none) {
        return Vec::new();
    }
    let of = |(column, year): (usize, Option<i32>)| {
        let heading = heading(column).trim().to_owned();
        let supplier = if year.is_none() {
            heading.clone()
        } else {
            String::new()
        };
        PriceColumn {
            column,
            heading,
            year,
            supplier,
            ..said.clone()
        }
    };
    columns.into_iter().zip(years).map(of).collect()
}
