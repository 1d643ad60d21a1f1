//! What came in or is in stock.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::Reader;
use super::offer::short;
use super::size::Measured;
use crate::amount::number::{self, Unit};
use crate::file::table::columns::ColumnKind;
use crate::file::table::days;
use crate::file::table::packs::Pack;
use crate::file::table::price_list::{ListOf, ProposedLot, ProposedOffer};
use crate::file::table::words::{is_span, words};
use crate::file::table::{Cell, cell_name};
use crate::naming::words_of;

impl Reader<'_> {
    /// The day that a row states in a column of a kind.
    pub(super) fn day(
        &self,
        row: usize,
        kind: ColumnKind,
        doubts: &mut Vec<String>,
    ) -> Option<Date> {
        let column = self.layout.place(kind)?;
        let cell = self.table.cell(row, column);
        if let Cell::Date(day) = cell {
            return Some(*day);
        }
        let text = cell.words();
        // How long it keeps from a day that nobody states is told once, of the whole list.
        if !text.contains(char::is_alphanumeric) || kind == ColumnKind::Expiry && is_span(&text) {
            return None;
        }
        let day = days::day(&text, self.order);
        if day.is_none() {
            doubts.push(format!(
                "“{text}” (cell {}) is not a day; write it as 2027-03-31",
                cell_name(row, column)
            ));
        }
        day
    }

    /// That a column says how long things keep, where it should say until when.
    pub(super) fn spans_left_out(&self) -> Option<String> {
        let column = self.layout.place(ColumnKind::Expiry)?;
        let mut cells = (self.layout.first_row()..self.table.rows.len())
            .map(|row| self.table.cell(row, column).words());
        let span = cells.find(|text| is_span(text))?;
        Some(format!(
            "“{}” says how long things keep, such as “{span}”, and not until when; it was left out",
            self.layout.heading(self.table, column)
        ))
    }

    /// What came in with a row, or what of it is in stock.
    pub(super) fn lot(
        &self,
        row: usize,
        pack: Option<Pack>,
        counted: Option<Decimal>,
        offer: Option<&ProposedOffer>,
        doubts: &mut Vec<String>,
    ) -> Result<Option<ProposedLot>, String> {
        let code = self.words(row, ColumnKind::Lot);
        let expiry = self.day(row, ColumnKind::Expiry, doubts);
        let stock = self
            .layout
            .place(ColumnKind::Stock)
            .map(|c| (c, self.table.cell(row, c)));
        let in_stock = match stock {
            Some((_, cell)) if says_yes_or_no(cell) => None,
            Some((column, cell)) if !cell.is_empty() => {
                let unit = self.layout.unit(ColumnKind::Stock).or_else(|| {
                    // "In stock" and "Unit" belong together where nothing else has a unit.
                    (self.pack_at.is_none())
                        .then(|| Unit::named(&self.words(row, ColumnKind::Unit)))
                        .flatten()
                });
                match (self.measured((row, column), unit, doubts), pack) {
                    (Some(Measured::Much(mass)), _) => Some((mass, 1)),
                    (Some(Measured::Count(count)), Some(pack)) => Some(whole_packs(pack, count)),
                    _ => {
                        let told = self.told_of(
                            (row, column),
                            "is in stock, but has no unit; write it as “2.4 kg”",
                        );
                        if offer.is_some() {
                            doubts.push(told);
                            None
                        } else {
                            return Err(told);
                        }
                    }
                }
            }
            _ => None,
        };
        let delivered = (self.of == ListOf::Stock || !code.is_empty())
            .then(|| pack.map(|pack| whole_packs(pack, counted.unwrap_or(Decimal::ONE))))
            .flatten();
        let Some((size, packs)) = in_stock.or(delivered) else {
            if !code.is_empty() {
                doubts.push(format!(
                    "how much lot {code} holds is not stated; it was left out"
                ));
            } else if expiry.is_some() {
                doubts.push("a day without a lot or a quantity was left out".to_owned());
            }
            return Ok(None);
        };
        if matches!(size, Pack::Grams(g) | Pack::Millilitres(g) if g <= Decimal::ZERO) {
            doubts.push("nothing of it is in stock; no lot was made".to_owned());
            return Ok(None);
        }
        let price = offer.and_then(|o| {
            let price = o.price?.checked_mul(size.ratio(o.pack)?)?;
            number::within(price).map(short)
        });
        Ok(Some(ProposedLot {
            code,
            pack: size,
            packs,
            expiry,
            price,
            currency: offer.map_or(self.currency, |o| o.currency),
            received: None,
        }))
    }
}

/// So many packs; of a broken number one pack of all of it.
pub(super) fn whole_packs(pack: Pack, count: Decimal) -> (Pack, u32) {
    match u32::try_from(count.normalize()) {
        Ok(whole) if count.is_integer() => (pack, whole.max(1)),
        _ => (pack.times(count), 1),
    }
}

/// Whether a cell says whether or when something is there, and not how much of it.
fn says_yes_or_no(cell: &Cell) -> bool {
    match cell {
        Cell::Truth(_) => true,
        Cell::Text(text) => {
            words().yes_or_no.contains(&words_of(text).join(" "))
                || !text.contains(|c: char| c.is_ascii_digit())
        }
        _ => false,
    }
}
