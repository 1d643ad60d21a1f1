//! What a pack of a row holds.

use rust_decimal::Decimal;

use super::Reader;
use crate::amount::number::Unit;
use crate::file::table::columns::{Kind, heading};
use crate::file::table::price_list::columns::Basis;
use crate::file::table::price_list::packs::{self, Pack, PackWritten, within};
use crate::file::table::{Cell, Shown, cell_name};

impl Reader<'_> {
    /// Columns of sizes and quantities, none of which is one of prices: "€/kg" is none, nor
    /// is a least order beside a price per kilogram.
    pub(super) fn pack_columns(&self) -> Vec<(Kind, usize)> {
        let told = |column: usize| {
            self.layout.headings.is_none()
                || heading(&self.layout.heading(self.table, column)).is_some()
        };
        let per = self
            .prices
            .columns
            .iter()
            .any(|c| matches!(c.basis, Basis::Per(_)));
        [Kind::Pack, Kind::Amount]
            .into_iter()
            .filter_map(|kind| Some((kind, self.layout.place(kind)?)))
            .filter(|(_, column)| !self.prices.columns.iter().any(|c| c.column == *column))
            .filter(|(_, column)| !per || told(*column))
            .collect()
    }

    /// Whether a row has the size of a pack as a number that neither heading nor cell gives a
    /// unit.
    fn is_bare_pack(&self, row: usize) -> bool {
        let Some(column) = self.layout.place(Kind::Pack) else {
            return false;
        };
        let cell = self.table.cell(row, column);
        self.layout.unit(Kind::Pack).is_none()
            && matches!(self.pack_in(cell, None), Some(PackWritten::Bare(_)))
    }

    /// The size that a cell states; `unit` is that of its heading or of a column beside it.
    pub(super) fn pack_in(&self, cell: &Cell, unit: Option<Unit>) -> Option<PackWritten> {
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

    /// What a pack of a row holds, and how many of what a row counts.
    pub(super) fn pack(
        &self,
        row: usize,
        name: &mut String,
        doubts: &mut Vec<String>,
    ) -> Result<(Option<Pack>, Option<Decimal>), String> {
        let unit_words = self.words(row, Kind::Unit);
        let unit_column = Unit::named(&unit_words);
        let mut counted = match self
            .layout
            .place(Kind::Packs)
            .map(|c| self.table.cell(row, c))
        {
            Some(cell) => self
                .number(cell)
                .ok()
                .flatten()
                .map(|(value, _)| value)
                .filter(|v| *v > Decimal::ZERO),
            None => None,
        };
        let mut pack = None;
        let columns = self.pack_columns();
        let by_unit = columns.is_empty();
        for (kind, column) in columns {
            let cell = self.table.cell(row, column);
            if cell.is_empty() {
                continue;
            }
            // Beside a pack without one the unit is that of the pack, and the other counts.
            let of_pack = |kind: Kind| {
                (kind == Kind::Pack)
                    == (self.layout.place(Kind::Amount).is_none() || self.is_bare_pack(row))
            };
            let unit = if of_pack(kind) {
                unit_column.or(self.layout.unit(kind))
            } else {
                self.layout.unit(kind)
            };
            match self.pack_in(cell, unit) {
                Some(PackWritten::Pack(found, told)) => {
                    doubts.extend(told);
                    // Beside a pack, "qty 10 kg" is how much there is of it.
                    match (pack, kind) {
                        (Some(known), Kind::Amount) => {
                            counted = counted.or_else(|| found.ratio(known));
                        }
                        _ => pack = Some(found),
                    }
                }
                // "Qty 2" counts packs.
                Some(PackWritten::Bare(value)) if kind == Kind::Amount => {
                    counted = counted.or(Some(value));
                }
                Some(PackWritten::Bare(_)) => {
                    return Err(format!(
                        "the pack size {} (cell {}) has no unit; write it as “500 g” or name the unit in the heading",
                        cell.words(),
                        cell_name(row, column)
                    ));
                }
                None => {
                    return Err(format!(
                        "“{}” (cell {}) is not a pack size; write it as “500 g”",
                        cell.words(),
                        cell_name(row, column)
                    ));
                }
            }
        }
        // "2", "500 g bottle".
        if pack.is_none()
            && let Some((found, _)) = within(&unit_words, self.mark)
        {
            pack = Some(found);
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
