//! The prices of a row: for how much, without tax, in which money.

use rust_decimal::Decimal;

use super::{DIGITS, Reader};
use crate::amount::number::{self, Unit};
use crate::file::table::columns::ColumnKind;
use crate::file::table::packs::{Pack, within};
use crate::file::table::price_list::ProposedOffer;
use crate::file::table::price_list::columns::{self, Basis, PriceColumn, near};
use crate::file::table::words::words;
use crate::file::table::{Cell, cell_name};
use crate::naming::words_of;
use crate::quantity::Currency;

impl Reader<'_> {
    /// One price of a row.
    pub(super) fn offer(
        &self,
        row: usize,
        column: &PriceColumn,
        pack: &mut Option<Pack>,
        counted: Option<Decimal>,
        row_currency: Option<Currency>,
        doubts: &mut Vec<String>,
    ) -> Result<Option<ProposedOffer>, String> {
        let cell = self.table.cell(row, column.column);
        let place = cell_name(row, column.column);
        let read = match self.number(cell) {
            Ok(read) => read,
            Err(message) => {
                let said = words_of(&cell.words()).join(" ");
                let unpriced =
                    said.is_empty() || words().on_request.iter().any(|w| said.contains(w.as_str()));
                if !unpriced {
                    return Err(format!("{message} (cell {place})"));
                }
                None
            }
        };
        let currency = row_currency
            .or(read.and_then(|(_, currency)| currency))
            .or(column.currency)
            .unwrap_or(self.currency);
        // A dash below a size: it is not sold in it.
        let dash = cell.words().chars().all(|c| matches!(c, '-' | '–' | '—'));
        if read.is_none()
            && dash
            && matches!(column.basis, Basis::PackOf(_))
            && self.has_other_price(row, column)
        {
            return Ok(None);
        }
        let Some((value, _)) = read else {
            doubts.push(format!("“{}” is no price; none was taken", cell.words()));
            let size = match column.basis {
                Basis::PackOf(size) | Basis::Per(size) => Some(pack.unwrap_or(size)),
                _ => *pack,
            };
            return Ok(size.map(|pack| ProposedOffer {
                pack,
                price: None,
                currency,
                day: None,
                supplier: column.supplier.clone(),
            }));
        };
        if value < Decimal::ZERO {
            return Err(format!("the price {value} (cell {place}) is below 0"));
        }
        if value.is_zero() {
            doubts.push("a price of 0 was taken as it stands".to_owned());
        }
        let value = self.without_tax(row, column, value, doubts);
        // "12.50 €/kg" says itself what it is for.
        let own = match cell {
            Cell::Text(text) => columns::per_unit(text).map(|size| PriceColumn {
                basis: Basis::Per(size),
                ..column.clone()
            }),
            _ => None,
        };
        let column = own.as_ref().unwrap_or(column);
        // Beside lots and days the amount is what is there, not what is sold.
        let mut none = None;
        let pack = if self.amount_is_stock() && matches!(column.basis, Basis::Per(_)) {
            &mut none
        } else {
            pack
        };
        let (price, size) = self.price_of(row, column, value, pack, counted, &place, doubts)?;
        Ok(Some(ProposedOffer {
            pack: size,
            price: Some(price),
            currency,
            day: None,
            supplier: column.supplier.clone(),
        }))
    }

    /// The packs that a line names behind the first, each with its price.
    pub(super) fn further_offers(
        &self,
        row: usize,
        doubts: &mut Vec<String>,
    ) -> Vec<ProposedOffer> {
        let Some(column) = self.prices.columns.first() else {
            return Vec::new();
        };
        let more = self.more.get(&row).into_iter().flatten();
        more.filter_map(|one| {
            let (pack, _) = within(&one.pack, None)?;
            let (value, currency) = self.number(&Cell::Text(one.price.clone())).ok()??;
            Some(ProposedOffer {
                pack,
                price: Some(self.without_tax(row, column, value, doubts)),
                currency: currency.unwrap_or(self.currency),
                day: None,
                supplier: String::new(),
            })
        })
        .collect()
    }

    /// Whether a row has a price in another column.
    fn has_other_price(&self, row: usize, column: &PriceColumn) -> bool {
        let others = self
            .prices
            .columns
            .iter()
            .filter(|c| c.column != column.column);
        let mut cells = others.map(|c| self.number(self.table.cell(row, c.column)));
        cells.any(|read| matches!(read, Ok(Some(_))))
    }

    /// Whether the column of amounts says how much there is.
    fn amount_is_stock(&self) -> bool {
        let has = |kind| self.layout.place(kind).is_some();
        has(ColumnKind::Amount)
            && !has(ColumnKind::Pack)
            && (has(ColumnKind::Lot) || has(ColumnKind::Expiry))
    }

    /// The price of a pack, and the pack.
    #[expect(
        clippy::too_many_arguments,
        reason = "what a row says, each its own thing"
    )]
    pub(super) fn price_of(
        &self,
        row: usize,
        column: &PriceColumn,
        value: Decimal,
        pack: &mut Option<Pack>,
        counted: Option<Decimal>,
        place: &str,
        doubts: &mut Vec<String>,
    ) -> Result<(Decimal, Pack), String> {
        let unit = |size: Pack| match size {
            Pack::Grams(_) => Pack::Grams(Decimal::ONE_THOUSAND),
            Pack::Millilitres(_) => Pack::Millilitres(Decimal::ONE_THOUSAND),
        };
        let per = |per: Pack, size: Option<Pack>, doubts: &mut Vec<String>| match size {
            None => (value, per),
            Some(size) => {
                let price = size
                    .ratio(per)
                    .and_then(|times| value.checked_mul(times))
                    .and_then(number::within);
                if let Some(price) = price {
                    (short(price), size)
                } else {
                    doubts.push(format!(
                        "the price is for {per} and the pack holds {size}; the price of {per} was taken"
                    ));
                    (value, per)
                }
            }
        };
        Ok(match column.basis {
            Basis::Per(each) => per(each, *pack, doubts),
            Basis::PackOf(size) if self.sizes_per_unit => per(unit(size), Some(size), doubts),
            Basis::PackOf(size) => (value, size),
            Basis::From(least, name) => {
                let each = Pack::of(Decimal::ONE, name)
                    .ok_or_else(|| format!("“{}” is no size", column.heading))?;
                per(each, Some(each.times(least)), doubts)
            }
            Basis::Total => {
                let size = pack.ok_or_else(|| no_pack(place))?;
                match counted.filter(|c| *c > Decimal::ONE) {
                    Some(count) => (short(value / count), size),
                    None => (value, size),
                }
            }
            Basis::Pack | Basis::Each | Basis::Count(_) => {
                let size = pack.ok_or_else(|| no_pack(place))?;
                let total = self
                    .prices
                    .total
                    .and_then(|c| self.number(self.table.cell(row, c)).ok().flatten())
                    .map(|(total, _)| total);
                // Quantity times unit price is the total of the line, or it is no unit price.
                let in_unit = self.in_unit(row, size);
                let from_amount =
                    self.layout.place(ColumnKind::Pack).is_none() && in_unit.is_some();
                let each = from_amount
                    && match (total, in_unit) {
                        (Some(total), Some((count, _))) => {
                            near(count.saturating_mul(value), total) && count != Decimal::ONE
                        }
                        // Nobody asks so much for a single gram.
                        _ => column.basis == Basis::Each && !self.in_small_units(row),
                    };
                match in_unit {
                    Some((_, one)) if each => (value, one),
                    _ => {
                        if let (Some(total), Some(count)) = (total, counted)
                            && !near(count.saturating_mul(value), total)
                            && near(value, total)
                            && count > Decimal::ONE
                        {
                            doubts.push(format!(
                                "{} is the price of all {} packs; a pack was taken as {}",
                                value.normalize(),
                                count.normalize(),
                                short(value / count)
                            ));
                            return Ok((short(value / count), size));
                        }
                        (value, size)
                    }
                }
            }
        })
    }

    /// What the price of a pack and that of a unit in another column say against each other.
    pub(super) fn against_other_unit(&self, row: usize, offer: &ProposedOffer) -> Option<String> {
        let price = offer.price?;
        self.prices.also.iter().find_map(|column| {
            let cell = self.table.cell(row, column.column);
            let (value, _) = self.number(cell).ok().flatten()?;
            let value = self.without_tax(row, column, value, &mut Vec::new());
            let packed = [ColumnKind::Pack, ColumnKind::Amount].map(|kind| self.layout.place(kind));
            let each = match column.basis {
                Basis::Per(each) => each,
                // Of a pack that nothing states it may be the price of anything.
                _ if packed == [None, None] => return None,
                _ => offer.pack,
            };
            let times = offer.pack.ratio(each)?;
            // Either is rounded, and the pack may be the smaller or the larger.
            let fits = near(value.checked_mul(times)?, price)
                || price.checked_div(times).is_some_and(|p| near(p, value));
            (!fits && !value.is_zero()).then(|| {
                format!(
                    "“{}” says {} for {each}, which does not agree with {}; the latter was taken",
                    column.heading,
                    value.normalize(),
                    offer.words()
                )
            })
        })
    }

    /// The unit of the quantity of a row.
    fn unit_of_amount(&self, row: usize) -> Option<Unit> {
        let column = self.layout.place(ColumnKind::Amount)?;
        Unit::named(&self.words(row, ColumnKind::Unit))
            .or(self.layout.unit(ColumnKind::Amount))
            .or_else(|| {
                number::amount(&self.table.cell(row, column).words(), self.mark)
                    .ok()?
                    .unit
            })
    }

    /// Whether the quantity of a row is one of grams or millilitres.
    fn in_small_units(&self, row: usize) -> bool {
        let small = [Unit::Milligram, Unit::Gram, Unit::Millilitre];
        self.unit_of_amount(row).is_some_and(|u| small.contains(&u))
    }

    /// Whether prices of one are told from prices of all by nothing but the heading.
    pub(super) fn each_is_unproved(&self) -> bool {
        let has = |kind| self.layout.place(kind).is_some();
        has(ColumnKind::Amount)
            && !has(ColumnKind::Pack)
            && self.prices.total.is_none()
            && self.prices.columns.iter().any(|c| c.basis == Basis::Each)
    }

    /// The quantity of a row in its unit, and one of that unit.
    pub(super) fn in_unit(&self, row: usize, size: Pack) -> Option<(Decimal, Pack)> {
        let unit = self.unit_of_amount(row)?;
        let one = Pack::of(Decimal::ONE, unit)?;
        Some((size.ratio(one)?, one))
    }
}

fn no_pack(place: &str) -> String {
    format!(
        "no pack size is given for the price (cell {place}); add a column “Pack size” with units, or name the unit in the heading of the price, as in “Price per kg”"
    )
}

pub(super) fn short(value: Decimal) -> Decimal {
    let mut value = value.round_dp(DIGITS).normalize();
    // Money has two digits at least.
    if value.scale() < 2 {
        value.rescale(2);
    }
    value
}
