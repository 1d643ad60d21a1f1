//! Amounts that are what the balance showed after each addition, because nobody set it to nought:
//! each is put right as what it is more than the one before.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::amounts::masses_in;
use super::columns::spelt_heading;
use super::sums::is_sum;
use super::words::words;
use super::{Cell, Shown, Table, TableOrigin};
use crate::amount::number::{self, Unit};
use crate::naming::words_of;

/// Fewer amounts may rise by chance.
const ENOUGH: usize = 4;
/// So many that rise are told, whatever else is said.
const STRIKING: usize = 6;

/// A number of a column with its unit.
#[derive(Clone, Copy)]
struct Shows {
    row: usize,
    value: Decimal,
    shown: Shown,
}

fn shows(table: &Table, row: usize, column: usize) -> Option<Shows> {
    let (value, shown) = match table.cell(row, column) {
        Cell::Number { value, shown } => (*value, *shown),
        Cell::Text(text) => {
            let amount = number::amount(text, None).ok()?;
            if amount.currency.is_some() {
                return None;
            }
            (amount.value, amount.unit.map_or(Shown::Plain, Shown::In))
        }
        _ => return None,
    };
    Some(Shows { row, value, shown })
}

/// Whether a row has words beside a number, as a line of a list has.
fn is_worded(table: &Table, row: usize) -> bool {
    let mut cells = table.rows.get(row).into_iter().flatten();
    cells.any(|cell| {
        matches!(cell, Cell::Text(text)
            if text.contains(char::is_alphabetic) && number::amount(text, None).is_err())
    })
}

/// Whether numbers are those of rows: 1, 2, 3.
fn counts_up(all: &[Shows]) -> bool {
    let first = all.first().map(|shows| shows.value);
    first.is_some_and(|first| first <= Decimal::ONE)
        && all
            .windows(2)
            .all(|w| matches!(w, [a, b] if b.value - a.value == Decimal::ONE))
}

/// The numbers of the only column that has some, sums left out.
fn only_column(table: &Table) -> Option<(usize, Vec<Shows>)> {
    let mut found = (0..table.width()).filter_map(|column| {
        let rows = (0..table.rows.len())
            .filter(|&row| is_worded(table, row) && !is_sum(table, row) && !table.is_left_out(row));
        let all: Vec<Shows> = rows.filter_map(|row| shows(table, row, column)).collect();
        (all.len() > 1 && !counts_up(&all)).then_some((column, all))
    });
    let only = found.next()?;
    found.next().is_none().then_some(only)
}

/// Words of a table that say that amounts run on.
fn said_to_run(table: &Table) -> Option<String> {
    /// No phrase has more words.
    const MOST_WORDS: usize = 5;
    let texts = table.rows.iter().flatten().filter_map(|cell| match cell {
        Cell::Text(text) => Some(text),
        _ => None,
    });
    let says = |text: &String| {
        let folded = words_of(text);
        let phrases = (1..=MOST_WORDS).flat_map(|n| folded.windows(n));
        let mut phrases = phrases.map(|phrase| phrase.join(" "));
        phrases.find(|phrase| words().running.contains(phrase))
    };
    texts
        .into_iter()
        .find_map(|text| says(text).map(|_| text.trim().to_owned()))
}

/// Whether the last number is the whole that the table states, in a sum or in words.
fn ends_at_the_whole(table: &Table, column: usize, all: &[Shows]) -> bool {
    let Some(last) = all.last() else {
        return false;
    };
    let each = match last.shown {
        Shown::In(unit) => unit.grams(),
        _ => (0..last.row)
            .rev()
            .find_map(|row| match table.cell(row, column) {
                Cell::Text(text) => spelt_heading(text)?.unit.and_then(Unit::grams),
                _ => None,
            }),
    };
    let in_grams = last.value.saturating_mul(each.unwrap_or(Decimal::ONE));
    (0..table.rows.len()).any(|row| {
        if is_sum(table, row) {
            return shows(table, row, column).is_some_and(|sum| sum.value == last.value);
        }
        let is_line = all.iter().any(|shows| shows.row == row);
        !is_line && masses_in(&table.row_text(row)).contains(&in_grams)
    })
}

/// The table with what each line is by itself, where its only amounts run on; with that told alone
/// where they rise and nothing says so. `None` if they do neither.
pub(super) fn told_apart(table: &Table) -> Option<Table> {
    let (column, all) = only_column(table)?;
    let mut pairs = all.iter().zip(all.iter().skip(1));
    let rising = pairs.all(|(a, b)| b.value > a.value && a.shown == b.shown);
    let begins = all.first().is_some_and(|first| first.value > Decimal::ZERO);
    if all.len() < ENOUGH || !rising || !begins {
        return None;
    }
    let said = said_to_run(table);
    if said.is_none() && !ends_at_the_whole(table, column, &all) {
        return (all.len() >= STRIKING).then(|| {
            let mut told = table.clone();
            told.said.push(
                "the amounts rise from line to line; if each is what the balance showed after it was added, take from each the one before it"
                    .to_owned(),
            );
            told
        });
    }
    let mut apart = table.clone();
    let mut before = Decimal::ZERO;
    for shows in &all {
        let cell = apart
            .rows
            .get_mut(shows.row)
            .and_then(|r| r.get_mut(column));
        if let Some(cell) = cell {
            *cell = Cell::Number {
                value: shows.value - before,
                shown: shows.shown,
            };
        }
        before = shows.value;
    }
    let why = said.map_or_else(
        || "the last of them is the whole that is stated".to_owned(),
        |said| format!("“{said}” says so"),
    );
    apart.said.push(format!(
        "the amounts were taken for what the balance showed after each addition, because {why}; each line was taken as what it is more than the line before, {} for the last",
        all.iter().rev().nth(1).map_or(before, |last| before - last.value).normalize()
    ));
    if table.origin.is_none() {
        let rows = 0..table.rows.len();
        let places = rows.flat_map(|row| (0..table.width()).map(move |column| (row, column)));
        let places: BTreeSet<_> = places.map(|place| (place, place)).collect();
        apart.origin = Some(Arc::new(TableOrigin {
            table: table.clone(),
            places,
        }));
    }
    Some(apart)
}

#[cfg(test)]
mod tests {
    use super::super::text;
    use super::*;

    fn amounts(text: &str) -> Option<Vec<String>> {
        let table = text::read(text).unwrap();
        let apart = told_apart(&table)?;
        assert_eq!(apart.said.len(), 1, "{text}");
        let rows = (0..apart.rows.len()).filter(|row| is_worded(&apart, *row));
        let numbers = rows.filter_map(|row| shows(&apart, row, 1));
        Some(numbers.map(|n| n.value.normalize().to_string()).collect())
    }

    #[test]
    fn what_the_balance_shows_is_told_apart() {
        for heading in [
            "scale shows (g)",
            "kumuliert g",
            "la balance affiche (g)",
            "acumulado (g)",
            "la bilancia segna (g)",
            "weegschaal toont (g)",
            "narastająco (g)",
        ] {
            let text = format!(
                "Material;{heading}\nShea butter;60\nCocoa butter;90\nBeeswax;99\nVitamin E;100\n"
            );
            assert_eq!(amounts(&text).unwrap(), ["60", "30", "9", "1"], "{heading}");
        }
        // The last is the sum.
        let text =
            "Material;g\nShea butter;60\nCocoa butter;90\nBeeswax;99\nVitamin E;100\nTotal;100\n";
        assert_eq!(amounts(text).unwrap(), ["60", "30", "9", "1", "100"]);
    }

    #[test]
    fn amounts_that_rise_by_chance_stay() {
        let text =
            "Material;g\nVitamin E;1\nBeeswax;20\nCocoa butter;30\nShea butter;49\nTotal;100\n";
        assert_eq!(amounts(text), None);
        let text = "Material;g\nVitamin E;1\nLavender oil;2\nBeeswax;20\nCocoa butter;30\nShea butter;49\nOlive oil;60\n";
        assert_eq!(amounts(text).unwrap(), ["1", "2", "20", "30", "49", "60"]);
    }
}
