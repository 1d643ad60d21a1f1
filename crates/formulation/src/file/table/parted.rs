//! Two lists of one recipe of which the first has the other as one of its rows: water, lye,
//! "oils 900" and the fragrance, and below it which oils. They are put into one list.

use std::collections::BTreeSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::columns::{ColumnKind, Layout};
use super::sums::is_sum;
use super::{Cell, Shown, Table, TableOrigin, amounts};
use crate::amount::number;

/// The table with both lists below the headings of the second; `None` if no row above these is
/// the sum of the list below.
pub(super) fn in_one_list(table: &Table, layout: &Layout) -> Option<Table> {
    let overview = Overview::of(table, layout)?;
    let lines = layout.first_row()..table.rows.len();
    let headings = overview.headings;
    let kept = (0..headings).filter(|row| !overview.rows.contains(row));
    // Which row of the file stands where from here on.
    let order: Vec<usize> = kept
        .chain(headings..layout.first_row())
        .chain(overview.rows.iter().copied())
        .chain(lines)
        .collect();
    let mut all = Table {
        rows: order.iter().map(|&row| overview.row(row)).collect(),
        ..table.clone()
    };
    let place = |row: usize| order.iter().position(|from| *from == row);
    let own = |(row, column): (usize, usize)| Some((place(row)?, column));
    let left_out = table.left_out.iter();
    all.left_out = left_out
        .filter_map(|(row, why)| Some((place(*row)?, *why)))
        .collect();
    all.struck = table.struck.iter().filter_map(|at| own(*at)).collect();
    let words = table.struck_words.iter();
    all.struck_words = words
        .filter_map(|(at, words)| Some((own(*at)?, words.clone())))
        .collect();
    // Of what was put elsewhere before, nobody knows the places any more.
    all.origin = table.origin.is_none().then(|| {
        Arc::new(TableOrigin {
            table: table.clone(),
            places: overview.places(&order),
        })
    });
    let set_aside = overview.gone.iter();
    all.set_aside = set_aside
        .filter_map(|row| {
            let why = overview.why_gone(*row);
            Some((place(*row)?, (table.row_text(*row), why)))
        })
        .collect();
    all.said.push(format!(
        "“{}” is the sum of the list further down; both lists were taken as one recipe, by their amounts, and rows are counted with them in one",
        table.row_text(overview.sum)
    ));
    Some(all)
}

/// A list above another, of which one row is the sum of that other.
struct Overview<'t> {
    table: &'t Table,
    /// Where the other list begins.
    headings: usize,
    /// The columns of the other list.
    names: usize,
    percent: Option<usize>,
    /// Its own columns of amounts, that of the sum first, and those of the other list with the
    /// same headings.
    moves: Vec<(usize, usize)>,
    /// The row that is the sum of the other.
    sum: usize,
    /// Its rows that are lines of the recipe.
    rows: Vec<usize>,
    /// The row of its headings.
    headed: Option<usize>,
    /// Its headings and sums, which would be taken for those of the one list.
    gone: Vec<usize>,
}

impl<'t> Overview<'t> {
    fn of(table: &'t Table, layout: &Layout) -> Option<Self> {
        /// Fewer rows may come to the same by chance.
        const ENOUGH: usize = 2;
        let headings = layout.headings?;
        let names = layout.place(ColumnKind::Name)?;
        let of_amounts = layout.place(ColumnKind::Amount)?;
        // Its amounts may stand elsewhere, below the same heading.
        let heading = layout.heading(table, of_amounts).to_lowercase();
        let headed = (0..headings)
            .flat_map(|row| (0..table.width()).map(move |at| (row, at)))
            .find(|&(row, at)| table.cell(row, at).words().to_lowercase() == heading);
        let (from, column) = headed.map_or((0, of_amounts), |(row, at)| (row + 1, at));
        let listed: Vec<Decimal> = (layout.first_row()..table.rows.len())
            .filter(|&row| !is_sum(table, row) && !table.cell(row, names).is_empty())
            .filter_map(|row| number_in(table.cell(row, of_amounts)))
            .collect();
        let whole: Decimal = listed.iter().sum();
        let near = |a: Decimal, b: Decimal| (a - b).abs() <= b * Decimal::new(2, 3);
        let value = |row: usize| number_in(table.cell(row, column));
        // Without headings of its own it may stand anywhere above.
        let is_blank = |row: &usize| table.row_text(*row).is_empty();
        let above: Vec<usize> = (from..headings)
            .take_while(|row| headed.is_none() || !is_blank(row))
            .filter(|&row| value(row).is_some() && name_in(table, row).is_some())
            .collect();
        let mut sums = above.iter().copied();
        let sum = sums.find(|&row| value(row).is_some_and(|v| near(v, whole)))?;
        let all: Decimal = above.iter().filter_map(|&row| value(row)).sum();
        // The sum of all, whatever it is called.
        let is_all = |row: usize| value(row).is_some_and(|v| near(v * Decimal::TWO, all));
        let (mut gone, rows): (Vec<usize>, Vec<usize>) = above
            .into_iter()
            .partition(|&row| row == sum || is_sum(table, row) || is_all(row));
        gone.extend(headed.map(|(row, _)| row));
        // What stands below the other headings of amounts belongs there too.
        let mut moves = vec![(column, of_amounts)];
        let beside = headed.into_iter().flat_map(|(row, _)| {
            let heading = move |at: usize| table.cell(row, at).words().to_lowercase();
            (0..table.width()).filter_map(move |at| {
                let own = heading(at);
                let to = (0..table.width()).find(|&to| {
                    !own.is_empty() && layout.heading(table, to).to_lowercase() == own
                })?;
                Some((at, to))
            })
        });
        moves.extend(beside.filter(|(from, to)| *from != column && *to != of_amounts));
        let is_one = listed.len() >= ENOUGH && rows.len() >= ENOUGH && !whole.is_zero();
        is_one.then_some(Self {
            table,
            headings,
            names,
            percent: layout.place(ColumnKind::Percent),
            moves,
            sum,
            rows,
            headed: headed.map(|(row, _)| row),
            gone,
        })
    }

    /// Why a row is not in the one list.
    const fn why_gone(&self, row: usize) -> &'static str {
        match self.headed {
            Some(headed) if headed == row => "the headings of the list above",
            _ if row == self.sum => "the sum of the list below",
            _ => "a sum",
        }
    }

    /// A row as it stands in the one list.
    fn row(&self, row: usize) -> Vec<Cell> {
        if self.gone.contains(&row) {
            return Vec::new();
        }
        let is_own = self.rows.contains(&row);
        let new: Vec<(usize, Cell)> = if is_own {
            let name = name_in(self.table, row).unwrap_or_default();
            let moved = self.moves.iter();
            moved
                .map(|(from, to)| (*to, self.table.cell(row, *from).clone()))
                .chain([(self.names, Cell::Text(name))])
                .collect()
        } else {
            // Percentages of the second list are those of its part.
            let percent = self.percent.filter(|_| row >= self.headings);
            percent.map(|at| (at, Cell::Empty)).into_iter().collect()
        };
        let mut cells = match self.table.rows.get(row) {
            Some(cells) if !is_own => cells.clone(),
            _ => vec![Cell::Empty; self.table.width()],
        };
        for (column, cell) in new {
            if let Some(place) = cells.get_mut(column) {
                *place = cell;
            }
        }
        cells
    }

    /// Where the cells of the rows in this order stood.
    fn places(&self, order: &[usize]) -> BTreeSet<((usize, usize), (usize, usize))> {
        let mut places = BTreeSet::new();
        for (to, &row) in order.iter().enumerate() {
            let is_own = self.rows.contains(&row);
            for column in 0..self.table.width() {
                let mut moves = self.moves.iter().filter(|_| is_own);
                let moved = moves.find(|(from, _)| *from == column);
                let at = moved.map_or(column, |(_, to)| *to);
                places.insert(((row, column), (to, at)));
            }
        }
        places
    }
}

/// The one name in a row; `None` if there are several words or none.
fn name_in(table: &Table, row: usize) -> Option<String> {
    let cells = table.rows.get(row)?.iter();
    let mut words = cells.filter_map(|cell| match cell {
        Cell::Text(text) if !amounts::is_amount(text) => Some(text.trim()),
        _ => None,
    });
    let first = words
        .next()
        .filter(|text| text.contains(char::is_alphabetic))?;
    words.next().is_none().then(|| first.to_owned())
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
Hedgerow bar
Total oil weight        900 g
Super fat                 6 %

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
        assert_eq!(layout.place(ColumnKind::Percent), None, "{:?}", one.rows);
        let names: Vec<String> = (layout.first_row()..one.rows.len())
            .map(|row| layout.words(&one, row, ColumnKind::Name))
            .collect();
        assert_eq!(names[..3], ["Water", "Lye - NaOH", "Olive oil"]);
        // No row of the file is lost: those that are not in the one list are told.
        let gone: Vec<(&str, &str)> = one.set_aside.values().map(|(w, y)| (&**w, *y)).collect();
        assert_eq!(
            gone,
            [
                ("Ounces Grams", "the headings of the list above"),
                ("Oils 31.75 900.00", "the sum of the list below"),
                ("Soap before cure 46.92 1330.00", "a sum"),
            ]
        );
        let filled = |table: &Table| {
            let rows = (0..table.rows.len()).filter(|row| !table.row_text(*row).is_empty());
            rows.count()
        };
        assert_eq!(filled(&one) + one.set_aside.len(), filled(&table));
        // Each of its amounts stands below its own heading.
        let water = (0..one.rows.len()).find(|row| one.row_text(*row).starts_with("Water"));
        let cells: Vec<String> = one.rows[water.unwrap()].iter().map(Cell::words).collect();
        assert_eq!(cells[3..], ["10.79", "306.00"]);
    }
}
