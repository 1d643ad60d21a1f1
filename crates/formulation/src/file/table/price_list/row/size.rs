//! What a pack of a row holds.

use rust_decimal::Decimal;

use super::Reader;
use crate::amount::number::{self, Unit};
use crate::file::table::columns::{ColumnKind, heading};
use crate::file::table::packs::{self, Pack, PackWritten, within};
use crate::file::table::price_list::columns::Basis;
use crate::file::table::{Cell, Shown, cell_name};

/// How much a cell states.
pub(super) enum Measured {
    /// A mass or volume.
    Much(Pack),
    /// A number of something.
    Count(Decimal),
}

impl Reader<'_> {
    /// Columns of sizes and quantities, none of which is one of prices: "€/kg" is none, nor
    /// is a least order beside a price per kilogram.
    pub(super) fn pack_columns(&self) -> Vec<(ColumnKind, usize)> {
        let told = |column: usize| {
            self.layout.headings.is_none()
                || heading(&self.layout.heading(self.table, column)).is_some()
        };
        let per = self
            .prices
            .columns
            .iter()
            .any(|c| matches!(c.basis, Basis::Per(_)));
        [ColumnKind::Pack, ColumnKind::Amount]
            .into_iter()
            .filter_map(|kind| Some((kind, self.layout.place(kind)?)))
            .filter(|(_, column)| !self.prices.columns.iter().any(|c| c.column == *column))
            .filter(|(_, column)| !per || told(*column))
            .collect()
    }

    /// Whether a row has the size of a pack as a number that neither heading nor cell gives a
    /// unit.
    fn is_bare_pack(&self, row: usize) -> bool {
        let Some(column) = self.layout.place(ColumnKind::Pack) else {
            return false;
        };
        let cell = self.table.cell(row, column);
        self.layout.unit(ColumnKind::Pack).is_none()
            && matches!(self.pack_in(cell, None), Some(PackWritten::Bare(_)))
    }

    /// How much the cell of a row states; `unit` is that of its heading or of a column beside
    /// it. What had to be assumed about it goes to `doubts`.
    pub(super) fn measured(
        &self,
        (row, column): (usize, usize),
        unit: Option<Unit>,
        doubts: &mut Vec<String>,
    ) -> Option<Measured> {
        match self.pack_in(self.table.cell(row, column), unit)? {
            PackWritten::Pack(pack, told) => {
                doubts.extend(told);
                Some(Measured::Much(pack))
            }
            PackWritten::Bare(count) => Some(Measured::Count(count)),
        }
    }

    /// What is wrong with a cell that states no measure, in words.
    pub(super) fn told_of(&self, (row, column): (usize, usize), wrong: &str) -> String {
        format!(
            "“{}” (cell {}) {wrong}",
            self.table.cell(row, column).words(),
            cell_name(row, column)
        )
    }

    /// The size that a cell states; `unit` is that of its heading or of a column beside it.
    fn pack_in(&self, cell: &Cell, unit: Option<Unit>) -> Option<PackWritten> {
        match cell {
            Cell::Number { value, shown } => {
                let unit = shown_unit(*shown).or(unit);
                let pack = unit.and_then(|u| Pack::of(*value, u));
                Some(pack.map_or(PackWritten::Bare(*value), |pack| {
                    PackWritten::Pack(pack, Vec::new())
                }))
            }
            cell => packs::pack(&cell.words(), unit, self.mark),
        }
    }

    /// How many packs a row counts: "2", "2 pcs", "3 x".
    fn counted(&self, row: usize, doubts: &mut Vec<String>) -> Option<Decimal> {
        let column = self.layout.place(ColumnKind::Packs)?;
        let cell = self.table.cell(row, column);
        // "Last ordered" is a day.
        if cell.is_empty() || matches!(cell, Cell::Date(_) | Cell::Truth(_)) {
            return None;
        }
        let read = if let Ok(read) = self.number(cell) {
            read.map(|(value, _)| value)
        } else {
            let words = cell.words();
            let end = words.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')));
            let (number, rest) = words.split_at(end.unwrap_or(words.len()));
            number::amount(number, self.mark)
                .ok()
                .filter(|_| rest.chars().all(|c| !c.is_ascii_digit()))
                .map(|amount| amount.value)
        };
        let count = read.filter(|value| *value > Decimal::ZERO);
        // "2 lb" below "Qty" is how much, and read as such.
        let much = matches!(self.pack_in(cell, None), Some(PackWritten::Pack(..)));
        if count.is_none() && !much {
            doubts.push(self.told_of((row, column), "is no number of packs; one was taken"));
        }
        count
    }

    /// What a pack of a row holds, and how many of what a row counts.
    pub(super) fn pack(
        &self,
        row: usize,
        name: &mut String,
        doubts: &mut Vec<String>,
    ) -> Result<(Option<Pack>, Option<Decimal>), String> {
        let unit_words = self.words(row, ColumnKind::Unit);
        let unit_column = Unit::named(&unit_words);
        let mut counted = self.counted(row, doubts);
        let mut pack = None;
        let columns = self.pack_columns();
        let by_unit = columns.is_empty();
        for (kind, column) in columns {
            let cell = self.table.cell(row, column);
            if cell.is_empty() {
                continue;
            }
            // Beside a pack without one the unit is that of the pack, and the other counts.
            let of_pack = |kind: ColumnKind| {
                (kind == ColumnKind::Pack)
                    == (self.layout.place(ColumnKind::Amount).is_none() || self.is_bare_pack(row))
            };
            let unit = if of_pack(kind) {
                unit_column.or(self.layout.unit(kind))
            } else {
                self.layout.unit(kind)
            };
            match self.measured((row, column), unit, doubts) {
                Some(Measured::Much(found)) => {
                    // Beside a pack, "qty 10 kg" is how much there is of it.
                    match (pack, kind) {
                        (Some(known), ColumnKind::Amount) => {
                            counted = counted.or_else(|| found.ratio(known));
                        }
                        _ => pack = Some(found),
                    }
                }
                // "Qty 2" counts packs.
                Some(Measured::Count(value)) if kind == ColumnKind::Amount => {
                    counted = counted.or(Some(value));
                }
                Some(Measured::Count(_)) => {
                    return Err(self.told_of(
                        (row, column),
                        "is a pack size that has no unit; write it as “500 g” or name the unit in the heading",
                    ));
                }
                None => {
                    return Err(
                        self.told_of((row, column), "is not a pack size; write it as “500 g”")
                    );
                }
            }
        }
        // "2", "500 g bottle".
        if pack.is_none()
            && unit_words.contains(|c: char| c.is_ascii_digit())
            && let Some(PackWritten::Pack(found, told)) = packs::pack(&unit_words, None, self.mark)
        {
            pack = Some(found);
            doubts.extend(told);
        }
        // "Glycerin, 1 kg".
        if pack.is_none()
            && let Some((found, rest)) = within(name, self.mark)
            && !rest.is_empty()
            && !self
                .prices
                .columns
                .iter()
                .any(|c| matches!(c.basis, Basis::PackOf(_) | Basis::From(..)))
        {
            pack = Some(found);
            *name = rest;
        }
        // A unit alone is what the price is for: "kg", 13.40.
        if pack.is_none() && by_unit {
            pack = unit_column.and_then(|unit| Pack::of(Decimal::ONE, unit));
        }
        if let Some(Pack::Grams(size) | Pack::Millilitres(size)) = pack
            && size <= Decimal::ZERO
        {
            return Err(format!("a pack of {size} cannot be; correct the pack size"));
        }
        Ok((pack, counted))
    }
}

/// The unit that the format of a cell shows.
const fn shown_unit(shown: Shown) -> Option<Unit> {
    match shown {
        Shown::In(unit) => Some(unit),
        _ => None,
    }
}
