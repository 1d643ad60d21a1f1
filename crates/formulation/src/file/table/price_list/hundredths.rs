//! Prices that stand in hundredths of money: "price_pence", "Preis (ct)".

use rust_decimal::Decimal;

use crate::amount::number;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table};
use crate::naming::words_of;
use crate::quantity::Currency;

/// Hundredths of money, with the currency if they are of one alone.
#[derive(Clone, Copy)]
struct Hundredths(Option<Currency>);

/// The hundredths that a heading says and nothing else.
fn of_heading(heading: &str) -> Option<Hundredths> {
    /// A letter alone, and "gr" for grams, may be anything.
    const LEAST: usize = 3;
    let said = words_of(heading);
    let is_said = |word: &&String| said.contains(word) && (word.len() >= LEAST || *word == "ct");
    let (_, of) = words().minor_money.iter().find(|(word, _)| is_said(word))?;
    Some(Hundredths(Currency::new(of)))
}

/// A number in hundredths in whole money.
fn in_whole(cell: &Cell, Hundredths(currency): Hundredths) -> Option<Cell> {
    let value = match cell {
        Cell::Number {
            value,
            shown: Shown::Plain,
        } => *value,
        Cell::Text(text) => {
            let amount = number::amount(text, None).ok()?;
            let bare = amount.unit.is_none() && amount.currency.is_none();
            bare.then_some(amount.value)?
        }
        _ => return None,
    };
    Some(Cell::Number {
        value: value.checked_div(Decimal::ONE_HUNDRED)?.normalize(),
        shown: currency.map_or(Shown::Plain, Shown::Money),
    })
}

/// A table whose columns of prices are headed as hundredths, with them in whole money; `None` if
/// none is.
pub(super) fn in_whole_money(table: &Table, layout: &Layout) -> Option<Table> {
    let is_price = |column: &usize| {
        let kind = layout.kind(*column);
        kind.is_some_and(|k| {
            matches!(
                k,
                ColumnKind::Price | ColumnKind::Gross | ColumnKind::TotalPrice
            )
        })
    };
    let columns: Vec<(usize, Hundredths)> = (0..table.width())
        .filter(is_price)
        .filter_map(|column| Some((column, of_heading(&layout.heading(table, column))?)))
        .collect();
    if columns.is_empty() {
        return None;
    }
    let mut whole = table.clone();
    for cells in whole.rows.iter_mut().skip(layout.first_row()) {
        for (column, currency) in &columns {
            let cell = cells.get_mut(*column);
            if let Some((cell, changed)) = cell.and_then(|c| in_whole(c, *currency).map(|w| (c, w)))
            {
                *cell = changed;
            }
        }
    }
    let names: Vec<String> = columns
        .iter()
        .map(|(column, _)| format!("“{}”", layout.heading(table, *column)))
        .collect();
    whole.done.push(format!(
        "the prices of {} stand in hundredths and were divided by 100",
        names.join(", ")
    ));
    Some(whole)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::choose::weigh;
    use crate::file::table::text;

    #[test]
    fn prices_in_hundredths_are_those_in_whole_money() {
        let read = |text: &str| {
            let table = text::read(text).unwrap();
            let layout = weigh(&table).unwrap().layout;
            in_whole_money(&table, &layout)
        };
        let whole = read("Material;Pack;price pence\nJojoba oil;500 ml;1395\nGuar gum;250 g;375\n");
        let whole = whole.unwrap();
        assert_eq!(whole.cell(1, 2).words(), "13.95 GBP");
        assert_eq!(whole.cell(2, 2).words(), "3.75 GBP");
        assert!(whole.done[0].contains("“price pence”"));
        let cents =
            read("Rohstoff;Gebinde;Preis (ct)\nSheabutter;1 kg;950\nSalz;1 kg;80,5\n").unwrap();
        assert_eq!(
            (cents.cell(1, 2).words(), cents.cell(2, 2).words()),
            ("9.5".to_owned(), "0.805".to_owned())
        );
        assert!(read("Material;Pack;Price\nGlycerin;1 kg;95\nSalt;1 kg;80\n").is_none());
    }
}
