//! Two lists of one recipe of which the first has the other as one of its rows: water, lye,
//! "oils 900" and the fragrance, and below it which oils. They are put into one list.

use rust_decimal::Decimal;

use std::collections::BTreeSet;
use std::sync::Arc;

use super::columns::{Kind, Layout};
use super::sums::is_sum;
use super::{Cell, Shown, Table, TableOrigin, amounts};
use crate::amount::number;

/// The table with both lists below the headings of the second; `None` if no row above these is
/// the sum of the list below.
pub(super) fn in_one_list(table: &Table, layout: &Layout) -> Option<Table> {
    /// Fewer rows may come to the same by chance.
    const ENOUGH: usize = 2;
    let headings = layout.headings?;
    let names = layout.place(Kind::Name)?;
    let of_amounts = layout.place(Kind::Amount)?;
    let value = |row: usize| number_in(table.cell(row, of_amounts));
    // Its amounts may stand elsewhere, below the same heading.
    let heading = layout.heading(table, of_amounts).to_lowercase();
    let headed = (0..headings)
        .flat_map(|row| (0..table.width()).map(move |at| (row, at)))
        .find(|&(row, at)| table.cell(row, at).words().to_lowercase() == heading);
    let (from, column_above) = headed.map_or((0, of_amounts), |(row, at)| (row + 1, at));
    let is_blank = |row: &usize| table.row_text(*row).is_empty();
    // Without headings of its own it may stand anywhere above.
    let block = (from..headings).take_while(|row| headed.is_none() || !is_blank(row));
    let value_above = |row: usize| number_in(table.cell(row, column_above));
    let name = |row: usize| {
        let cells = table.rows.get(row)?.iter();
        let mut words = cells.filter_map(|cell| match cell {
            Cell::Text(text) if amounts::read(text, None, None).is_err() => Some(text.trim()),
            _ => None,
        });
        let first = words
            .next()
            .filter(|text| text.contains(char::is_alphabetic))?;
        words.next().is_none().then(|| first.to_owned())
    };
    let lines = || layout.first_row()..table.rows.len();
    let listed: Vec<Decimal> = lines()
        .filter(|&row| !is_sum(table, row) && !table.cell(row, names).is_empty())
        .filter_map(value)
        .collect();
    let whole: Decimal = listed.iter().sum();
    let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(2, 3);
    // The rows of the first list: each has a name and an amount, and little else stands there.
    let above: Vec<usize> = block
        .filter(|&row| value_above(row).is_some() && name(row).is_some())
        .collect();
    let of_list = above
        .iter()
        .copied()
        .find(|&row| value_above(row).is_some_and(|v| near(v, whole)))?;
    let sum: Decimal = above.iter().filter_map(|&row| value_above(row)).sum();
    let moved: Vec<usize> = above
        .iter()
        .copied()
        .filter(|&row| row != of_list && !is_sum(table, row))
        // The sum of all, whatever it is called.
        .filter(|&row| value_above(row).is_none_or(|v| !near(v * Decimal::TWO, sum)))
        .collect();
    if listed.len() < ENOUGH || moved.len() < ENOUGH || whole.is_zero() {
        return None;
    }
    let width = table.width();
    let line = |row: usize| {
        let mut cells = vec![Cell::Empty; width];
        if let Some(cell) = cells.get_mut(names) {
            *cell = Cell::Text(name(row).unwrap_or_default());
        }
        if let Some(cell) = cells.get_mut(of_amounts) {
            *cell = table.cell(row, column_above).clone();
        }
        cells
    };
    // Percentages of the second list are those of its part.
    let percent = layout.place(Kind::Percent);
    let rest = |row: usize| {
        let mut cells = table.rows.get(row).cloned().unwrap_or_default();
        if let Some(cell) = percent.and_then(|at| cells.get_mut(at)) {
            *cell = Cell::Empty;
        }
        cells
    };
    let kept: Vec<usize> = (0..headings).filter(|row| !moved.contains(row)).collect();
    let first = layout.first_row();
    let mut all = table.clone();
    all.rows = kept
        .iter()
        .filter_map(|&row| table.rows.get(row).cloned())
        .collect();
    all.rows.extend((headings..first).map(rest));
    all.rows.extend(moved.iter().map(|&row| line(row)));
    all.rows.extend(lines().map(rest));
    // Where each row of the file stands now; marks of rows go with them.
    let order = kept.iter().copied().chain(headings..first);
    let order: Vec<usize> = order.chain(moved.iter().copied()).chain(lines()).collect();
    let place = |row: usize| order.iter().position(|from| *from == row);
    let own = |(row, column): (usize, usize)| Some((place(row)?, column));
    all.left_out = table
        .left_out
        .iter()
        .filter_map(|(row, why)| Some((place(*row)?, *why)))
        .collect();
    all.struck = table.struck.iter().filter_map(|at| own(*at)).collect();
    all.struck_words = table
        .struck_words
        .iter()
        .filter_map(|(at, words)| Some((own(*at)?, words.clone())))
        .collect();
    let mut places = BTreeSet::new();
    for (to, &row) in order.iter().enumerate() {
        places.extend((0..width).map(|column| {
            let amount = moved.contains(&row) && column == column_above;
            (
                (row, column),
                (to, if amount { of_amounts } else { column }),
            )
        }));
    }
    let origin = TableOrigin {
        table: table.clone(),
        places,
    };
    // Of what was put elsewhere before, nobody knows the places any more.
    all.origin = table.origin.is_none().then(|| Arc::new(origin));
    all.said.push(format!(
        "“{}” is the sum of the list further down; both lists were taken as one recipe, by their amounts, and rows are counted with them in one",
        table.row_text(of_list)
    ));
    Some(all)
}

fn number_in(cell: &Cell) -> Option<Decimal> {
    match cell {
        Cell::Number {
            value,
            shown: Shown::Plain | Shown::In(_),
        } => Some(*value),
        Cell::Text(text) => {
            let amount = number::amount(text, None).ok()?;
            amount.currency.is_none().then_some(amount.value)
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::choose::recognise;
    use super::super::text;
    use super::*;

    #[test]
    fn the_list_of_oils_stands_for_its_sum() {
        let text = "\
                       Ounces      Grams
Water                   10.79     306.00
Lye - NaOH               4.37     124.00
Oils                    31.75     900.00
Soap before cure        46.92    1330.00

 #  Oil/Fat               %      Ounces     Grams
 1  Olive oil           60.00     19.05    540.00
 2  Coconut oil         40.00     12.70    360.00
    Totals             100.00     31.75    900.00
";
        let table = text::read(text).unwrap();
        let layout = recognise(&table).unwrap();
        let one = in_one_list(&table, &layout).unwrap();
        let layout = recognise(&one).unwrap();
        assert_eq!(layout.place(Kind::Percent), None);
        let names: Vec<String> = (layout.first_row()..one.rows.len())
            .map(|row| layout.words(&one, row, Kind::Name))
            .collect();
        assert_eq!(names[..3], ["Water", "Lye - NaOH", "Olive oil"]);
    }
}
