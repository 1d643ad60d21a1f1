//! What the columns of a table mean, told by their headings or, without headings,
//! by what stands in them.

mod content;
mod heading;
mod why;

pub use super::kind::ColumnKind;
pub(super) use content::{Content, is_role};
pub use heading::heading;
pub(super) use heading::{
    Heading, is_size, read_heading, row_above_numbers, row_of_headings, rows_of_headings, sizes_in,
};

pub(super) use heading::spelt_heading;
use heading::{heads_a_list, read_spelt};
pub use why::why;

use super::words::is_property;
use super::{Cell, Table, amounts};
use crate::amount::number::Unit;
use crate::naming::is_known_name;

/// Rows looked at to find the headings.
const ROWS_FOR_HEADINGS: usize = 40;
/// Rows looked at to see what stands in a column.
pub(super) const ROWS_FOR_CONTENT: usize = 500;

/// A column whose meaning is known.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Column {
    /// What it holds.
    pub kind: ColumnKind,
    /// The unit its heading names: of amounts, or the one a price is for.
    pub unit: Option<Unit>,
}

/// What speaks for a column to be of a kind.
#[derive(Clone, PartialEq, Debug)]
pub struct Evidence {
    /// Which column, counted from 0.
    pub column: usize,
    /// Of which kind it would be.
    pub kind: ColumnKind,
    /// How much it speaks for it; against it if below 0.
    pub weight: i32,
    /// Why, in words.
    pub reason: String,
}

/// Where the list stands in a table and what its columns mean.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Layout {
    /// The row of headings, counted from 0.
    pub headings: Option<usize>,
    /// How many rows of units below them belong to the headings.
    pub below: usize,
    /// What each column means; none is left out.
    pub columns: Vec<Option<Column>>,
}

impl Layout {
    /// What a column holds.
    pub fn kind(&self, column: usize) -> Option<ColumnKind> {
        let column = self.columns.get(column).copied().flatten();
        column.map(|c| c.kind)
    }
    /// The first column of a kind.
    pub fn place(&self, kind: ColumnKind) -> Option<usize> {
        self.columns
            .iter()
            .position(|c| c.is_some_and(|c| c.kind == kind))
    }
    /// The words of a row in the first column of a kind.
    pub(super) fn words(&self, table: &Table, row: usize, kind: ColumnKind) -> String {
        self.place(kind)
            .map(|column| table.cell(row, column).words())
            .unwrap_or_default()
    }
    /// The unit that the heading of the first column of a kind names.
    pub fn unit(&self, kind: ColumnKind) -> Option<Unit> {
        self.place(kind)
            .and_then(|at| self.columns.get(at).copied().flatten())
            .and_then(|c| c.unit)
    }
    /// Whether a row has the same headings again, as above a second list, or words that stand
    /// as they do.
    pub fn is_repeated_in(&self, table: &Table, row: usize) -> bool {
        self.says_the_same_in(table, row) || self.stands_as_headings(table, row)
    }
    /// Whether a row has the same headings again by their words.
    pub(super) fn says_the_same_in(&self, table: &Table, row: usize) -> bool {
        // A row with a number where the list has them is a line of it.
        let is_line = self.columns.iter().enumerate().any(|(at, column)| {
            let of_numbers = column.is_some_and(|c| {
                matches!(
                    c.kind,
                    ColumnKind::Percent | ColumnKind::Amount | ColumnKind::Price
                )
            });
            of_numbers
                && match table.cell(row, at) {
                    Cell::Number { .. } => true,
                    Cell::Text(text) => {
                        let text = text.trim_start();
                        text.starts_with(|c: char| c.is_ascii_digit())
                            && !text.contains(char::is_alphabetic)
                    }
                    _ => false,
                }
        });
        if is_line || self.headings.is_none() {
            return false;
        }
        if heads_a_list(table, row) || self.heads_amounts_alone(table, row) {
            return true;
        }
        // Where materials are headed again, "1000 g" heads the amounts of another batch.
        let names_again = [ColumnKind::Name, ColumnKind::Inci]
            .into_iter()
            .any(|kind| {
                self.place(kind)
                    .is_some_and(|at| match table.cell(row, at) {
                        Cell::Text(text) => read_spelt(text, false)
                            .is_some_and(|h| h.whole && h.column.kind == kind),
                        _ => false,
                    })
            });
        // Looked at in every row, so a misspelt heading counts only where it comes again as
        // it stands.
        let repeats = |at: usize, kind: ColumnKind| match table.cell(row, at) {
            // "Phase A" and "up to 100 %" are of a line.
            Cell::Text(text) => {
                kind == ColumnKind::Amount && is_size(text) && names_again
                    || text.trim() == self.heading(table, at)
                    || read_spelt(text, false).is_some_and(|h| h.whole && h.column.kind == kind)
            }
            _ => false,
        };
        let same = (self.columns.iter().enumerate())
            .filter(|(at, column)| column.is_some_and(|c| repeats(*at, c.kind)))
            .count();
        same >= 2
    }
    /// Whether a row has nothing but the heading of the amounts again, above a number.
    fn heads_amounts_alone(&self, table: &Table, row: usize) -> bool {
        let filled = |row: usize| {
            let columns = 0..table.length(row);
            columns.filter(move |&column| !table.cell(row, column).is_empty())
        };
        let mut only = filled(row);
        let (Some(column), None) = (only.next(), only.next()) else {
            return false;
        };
        let of_amounts = self.columns.get(column).copied().flatten();
        let of_amounts =
            of_amounts.is_some_and(|c| matches!(c.kind, ColumnKind::Percent | ColumnKind::Amount));
        let below = (row + 1..table.rows.len()).find(|&row| filled(row).next().is_some());
        let is_number = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::is_amount(text),
            _ => false,
        };
        of_amounts
            && Some(row) > self.headings
            && table.cell(row, column).words() == self.heading(table, column)
            && below.is_some_and(|below| {
                is_number(table.cell(below, column)) && filled(below).nth(1).is_some()
            })
    }
    /// Whether a row of words that nobody knows as headings stands where the first ones did:
    /// below a blank row or a title, above materials and amounts in the same columns.
    pub(super) fn stands_as_headings(&self, table: &Table, row: usize) -> bool {
        /// Lines that must follow.
        const ENOUGH: usize = 2;
        let Some(first) = self.headings.filter(|first| *first < row) else {
            return false;
        };
        let Some(names) = self
            .place(ColumnKind::Name)
            .or(self.place(ColumnKind::Inci))
        else {
            return false;
        };
        let is_amount = |cell: &Cell| match cell {
            Cell::Number { .. } => true,
            Cell::Text(text) => amounts::is_amount(text),
            _ => false,
        };
        let is_word = |cell: &Cell| {
            matches!(cell, Cell::Text(text) if text.contains(char::is_alphabetic) || text.contains('%'))
                && !is_amount(cell)
        };
        let name = table.cell(row, names);
        let amounts = [ColumnKind::Percent, ColumnKind::Amount].map(|kind| self.place(kind));
        let Some(amounts) = amounts
            .into_iter()
            .flatten()
            .find(|&column| is_word(table.cell(row, column)))
        else {
            return false;
        };
        let filled = |row: usize| {
            let cells = table.rows.get(row).into_iter().flatten();
            cells.filter(|cell| !cell.is_empty()).count()
        };
        // As many words as the first headings, but for one or two.
        let begins = is_word(name)
            && row.checked_sub(1).is_none_or(|above| filled(above) < 2)
            && filled(row) + 1 >= filled(first)
            && (0..table.length(row)).all(|column| {
                let cell = table.cell(row, column);
                cell.is_empty() || is_word(cell)
            });
        if !begins || matches!(name, Cell::Text(text) if is_known_name(text) || is_property(text)) {
            return false;
        }
        let is_line = |row: usize| {
            is_amount(table.cell(row, amounts)) && matches!(table.cell(row, names), Cell::Text(_))
        };
        let below = (row + 1..table.rows.len()).filter(|&row| filled(row) > 1);
        let below: Vec<usize> = below.take(ENOUGH).collect();
        below.len() == ENOUGH && below.into_iter().all(is_line)
    }
    /// The first row below the headings.
    pub fn first_row(&self) -> usize {
        self.headings.map_or(0, |row| row + 1 + self.below)
    }
    /// The heading of a column, over all rows of headings; empty without any.
    pub fn heading(&self, table: &Table, column: usize) -> String {
        let Some(first) = self.headings else {
            return String::new();
        };
        let words: Vec<String> = (first..=first + self.below)
            .map(|row| table.cell(row, column).words())
            .filter(|words| !words.is_empty())
            .collect();
        words.join(" ")
    }
    /// The column that says how much of each material there is.
    pub(super) fn measure(&self) -> Option<usize> {
        self.place(ColumnKind::Percent)
            .or(self.place(ColumnKind::Amount))
    }
    /// Takes the column of another version in place of that of the first.
    pub(super) fn assign_version(&mut self, column: usize) {
        let first = self
            .measure()
            .and_then(|at| self.columns.get(at).copied().flatten());
        let kind = first.map_or(ColumnKind::Percent, |c| c.kind);
        self.assign(column, Some(kind));
        if let Some(Some(taken)) = self.columns.get_mut(column) {
            taken.unit = taken.unit.or(first.and_then(|c| c.unit));
        }
    }
    /// Takes a column for a kind, and no other column for it.
    pub fn assign(&mut self, column: usize, kind: Option<ColumnKind>) {
        if self.columns.len() <= column {
            self.columns.resize(column + 1, None);
        }
        for (place, known) in self.columns.iter_mut().enumerate() {
            if place == column {
                let unit = known.and_then(|c| c.unit);
                *known = kind.map(|kind| Column { kind, unit });
            } else if known.is_some_and(|c| Some(c.kind) == kind) {
                *known = None;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::choose::recognise;

    fn check(text: &str, kind: Option<ColumnKind>, unit: Option<Unit>) {
        assert_eq!(
            heading(text),
            kind.map(|kind| Column { kind, unit }),
            "for “{text}”"
        );
    }

    #[test]
    fn headings_in_several_languages() {
        check("Phase", Some(ColumnKind::Phase), None);
        check("Ingredient", Some(ColumnKind::Name), None);
        check("Ingredients (trade name)", Some(ColumnKind::Trade), None);
        check("Item no", Some(ColumnKind::Code), None);
        check("Artikel-Nr.", Some(ColumnKind::Code), None);
        check("Max. use level %", Some(ColumnKind::UseLevel), None);
        check("Ingrediant", Some(ColumnKind::Name), None);
        check("Składnik", Some(ColumnKind::Name), None);
        check(
            "Hoeveelheid (g)",
            Some(ColumnKind::Amount),
            Some(Unit::Gram),
        );
        check("INCI-Bezeichnung", Some(ColumnKind::Inci), None);
        check("INCI name", Some(ColumnKind::Inci), None);
        check("CAS-Nr.", Some(ColumnKind::Cas), None);
        check("%", Some(ColumnKind::Percent), None);
        check("% w/w", Some(ColumnKind::Percent), None);
        check("Use %", Some(ColumnKind::Percent), None);
        check("Menge in %", Some(ColumnKind::Percent), None);
        check("Menge (g)", Some(ColumnKind::Amount), Some(Unit::Gram));
        check(
            "Weight [kg]",
            Some(ColumnKind::Amount),
            Some(Unit::Kilogram),
        );
        check("g", Some(ColumnKind::Amount), Some(Unit::Gram));
        check("Quantité", Some(ColumnKind::Amount), None);
        check("Matière première", Some(ColumnKind::Name), None);
        check(
            "Price per kg",
            Some(ColumnKind::Price),
            Some(Unit::Kilogram),
        );
        check("Preis / kg", Some(ColumnKind::Price), Some(Unit::Kilogram));
        check("per kilo", Some(ColumnKind::Price), Some(Unit::Kilogram));
        check("€ all'etto", Some(ColumnKind::Price), Some(Unit::Hectogram));
        check("per 100 g", Some(ColumnKind::Amount), Some(Unit::Gram));
        check("Ingredient function", Some(ColumnKind::Role), None);
        check("Währung", Some(ColumnKind::Currency), None);
        check("Best before", Some(ColumnKind::Expiry), None);
        check("Date", Some(ColumnKind::Dated), None);
        check("Lotnr.", Some(ColumnKind::Lot), None);
        check("Grondstofnr", Some(ColumnKind::Code), None);
        check("Ontvangen", Some(ColumnKind::Dated), None);
        check("Date de péremption", Some(ColumnKind::Expiry), None);
        check("Bedrag ex btw", Some(ColumnKind::Price), None);
        check("5 stuks (g)", Some(ColumnKind::Amount), Some(Unit::Gram));
        check("Colour of the jar", None, None);
        check("", None, None);
    }

    #[test]
    fn a_table_without_headings_is_understood_by_its_content() {
        let table =
            super::super::text::read("A;Water;70,0\nA;Glycerin;5,0\nB;Betaine;25,0\n").unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, None);
        assert_eq!(layout.place(ColumnKind::Phase), Some(0));
        assert_eq!(layout.place(ColumnKind::Name), Some(1));
        assert_eq!(layout.place(ColumnKind::Percent), Some(2));
    }

    #[test]
    fn headings_below_a_title_are_found() {
        let table = super::super::text::read(
            "Moss conditioner;;\nversion 3;;\n;;\nPhase;Ingredient;%\nA;Water;70\n",
        )
        .unwrap();
        let layout = recognise(&table).unwrap();
        assert_eq!(layout.headings, Some(3));
        assert_eq!(layout.place(ColumnKind::Percent), Some(2));
    }

    /// "Octocrylene, 100 g" heads nothing.
    #[test]
    fn a_material_with_its_pack_is_no_heading() {
        let text = "Water, demineralised, 250 g;4.95 €\nOctocrylene, 100 g;12.50 €\nDihydroxyacetone, 250 g;3.90 €\n";
        let table = super::super::text::read(text).unwrap();
        assert_eq!(recognise(&table).and_then(|l| l.headings), None);
    }

    #[test]
    fn a_column_is_assigned_once() {
        let mut layout = Layout::default();
        layout.assign(2, Some(ColumnKind::Percent));
        layout.assign(4, Some(ColumnKind::Percent));
        assert_eq!(layout.place(ColumnKind::Percent), Some(4));
        layout.assign(4, None);
        assert_eq!(layout.place(ColumnKind::Percent), None);
    }
}
