//! Reads the rows of a list: what is offered, what came in, what is left out and why.

use rust_decimal::Decimal;

use super::about::{self, About};
use super::columns::{self, Basis, PriceColumn, Prices, currency_in};
use super::days::{self, DayOrder};
use super::packs::{self, Pack, PackWritten, within};
use super::{
    Cell, ListOf, PriceList, ProposedLot, ProposedOffer, ProposedPrice, cell_name, number,
};
use crate::amount::number::{DecimalMark, Unit};
use crate::file::table::columns::{Kind, Layout};
use crate::file::table::recipe::{
    Choice, LeftOut, Settings, are_inci_names, clean_name, first_cas,
};
use crate::file::table::sums::{is_sum, sum_words};
use crate::file::table::words::words;
use crate::file::table::{Shown, Table};
use crate::naming::{Wanted, words_of};
use crate::quantity::Currency;

/// Digits kept of a price that had to be worked out.
const DIGITS: u32 = 4;

pub(super) struct Reader<'t> {
    table: &'t Table,
    layout: &'t Layout,
    of: ListOf,
    names: usize,
    prices: Prices,
    pack_at: Option<usize>,
    mark: Option<DecimalMark>,
    /// In the heading, above the list, or the maker's own.
    currency: Currency,
    currency_told: bool,
    order: DayOrder,
    open_days: Option<String>,
    /// Percent of tax in prices that hold it, if the file states it.
    tax: Option<Decimal>,
    /// Prices by size are really prices per unit, because they fall with the size.
    sizes_per_unit: bool,
    supplier: String,
    pieces: bool,
    hidden: bool,
}

/// What a row has beside its name.
struct Facts {
    offers: Vec<ProposedOffer>,
    lot: Option<ProposedLot>,
    doubts: Vec<String>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(
        table: &'t Table,
        layout: &'t Layout,
        settings: &Settings,
        of: ListOf,
    ) -> Option<Self> {
        let names = layout
            .place(Kind::Name)
            .or_else(|| layout.place(Kind::Inci))?;
        let prices = columns::prices(table, layout, settings.layout.is_some());
        let rows = || layout.first_row()..table.rows.len();
        let texts = |column: usize| {
            rows().filter_map(move |row| match table.cell(row, column) {
                Cell::Text(text) => Some(text.as_str()),
                _ => None,
            })
        };
        let pack_at = layout
            .place(Kind::Pack)
            .or_else(|| layout.place(Kind::Amount));
        let mark = settings.mark.or_else(|| {
            number::mark_of(prices.columns.iter().flat_map(|c| texts(c.column)))
                .or_else(|| number::mark_of(pack_at.into_iter().flat_map(texts)))
        });
        let above = || {
            (0..layout.headings.unwrap_or(0))
                .flat_map(|row| (0..table.width()).map(move |c| table.cell(row, c).words()))
                .filter(|w| !w.is_empty())
        };
        let told = prices
            .columns
            .iter()
            .find_map(|c| c.currency)
            .or_else(|| above().find_map(|text| currency_in(&text)));
        let euro = Currency::new("EUR")?;
        let (order, open_days) = match layout.place(Kind::Expiry) {
            _ if settings.days.is_some() => (settings.days.unwrap_or(DayOrder::DayFirst), None),
            None => (DayOrder::DayFirst, None),
            Some(column) => match days::order_of(texts(column)) {
                Ok(order) => (order.unwrap_or(DayOrder::DayFirst), None),
                // Money and pounds of the United States speak for their order of days.
                Err(example) => {
                    let american = told.is_some_and(|c| c.to_string() == "USD")
                        || pack_at.is_some_and(|at| {
                            texts(at).any(|t| t.contains("lb") || t.contains("oz"))
                        });
                    let order = if american {
                        DayOrder::MonthFirst
                    } else {
                        DayOrder::DayFirst
                    };
                    (order, Some(example.to_owned()))
                }
            },
        };
        let gross = prices.columns.iter().any(|c| c.gross);
        let tax = gross
            .then(|| {
                let headings = (0..table.width()).map(|c| layout.heading(table, c));
                headings.chain(above()).find_map(|text| percent_in(&text))
            })
            .flatten();
        let mut reader = Self {
            table,
            layout,
            of,
            names,
            pack_at,
            mark,
            currency: told.or(settings.home).unwrap_or(euro),
            currency_told: told.is_some() || layout.place(Kind::Currency).is_some(),
            order,
            open_days,
            tax,
            sizes_per_unit: false,
            supplier: String::new(),
            pieces: of == ListOf::Materials && about::has_pieces(table, layout),
            hidden: settings.hidden,
            prices,
        };
        reader.sizes_per_unit = reader.fall_with_size();
        reader.supplier = reader.supplier_above();
        Some(reader)
    }

    pub(super) fn price_columns(&self) -> Vec<usize> {
        self.prices.columns.iter().map(|c| c.column).collect()
    }

    pub(super) fn supplier(&self) -> String {
        self.supplier.clone()
    }

    pub(super) fn open_days(&self) -> Option<String> {
        self.open_days.clone()
    }

    /// What is assumed of the whole before a row is read.
    pub(super) fn assumed(&self) -> Vec<String> {
        let mut assumed = self.prices.doubts.clone();
        if let Some(example) = &self.open_days {
            assumed.push(format!(
                "days such as {example} could be either; they were read {}, --dates says otherwise",
                self.order.label()
            ));
        }
        if self.prices.columns.iter().any(|c| c.gross) {
            match self.tax {
                Some(tax) => assumed.push(format!(
                    "the prices hold tax of {} %, which was taken off",
                    tax.normalize()
                )),
                None if self.tax_column().is_none() => assumed.push(
                    "the prices hold tax, whose rate the list does not state; they were taken as they stand".to_owned(),
                ),
                None => {}
            }
        } else if self.tax_column().is_some() && !self.prices.columns.iter().any(|c| c.net) {
            assumed.push(
                "a tax stands beside the prices; they were taken as prices without it".to_owned(),
            );
        }
        if self
            .prices
            .columns
            .iter()
            .any(|c| matches!(c.basis, Basis::From(..)))
        {
            assumed.push(
                "prices by quantity were taken as those of one unit, such as 1 kg; the pack is the least quantity".to_owned(),
            );
        } else if self.sizes_per_unit {
            assumed.push(
                "prices fall with the size, so they were taken as those of 1 kg or 1 l, not of the pack".to_owned(),
            );
        }
        assumed.extend(self.table.hidden_words());
        assumed
    }

    /// What is known only after all rows were read.
    pub(super) fn tell(&self, list: &mut PriceList) {
        let priced = list.prices.iter().any(|p| {
            p.offers.iter().any(|o| o.price.is_some())
                || p.lot.as_ref().is_some_and(|l| l.price.is_some())
        });
        let other = self.currency;
        let all_signed = list
            .prices
            .iter()
            .flat_map(|p| &p.offers)
            .filter(|o| o.price.is_some())
            .all(|o| o.currency != other);
        if priced && !self.currency_told && !all_signed && !self.every_price_signed() {
            list.assumed.push(format!(
                "no currency is stated; {} was taken",
                self.currency
            ));
        }
        let left: Vec<String> = (0..self.table.width())
            .filter(|c| self.layout.columns.get(*c).copied().flatten().is_none())
            .filter(|c| !list.price_columns.contains(c) && self.prices.total != Some(*c))
            .filter_map(|c| {
                let words = self.layout.heading(self.table, c);
                (!words.is_empty() && !about::is_piece(&words)).then(|| format!("“{words}”"))
            })
            .collect();
        if !left.is_empty() {
            list.notes
                .push(format!("columns left out: {}", left.join(", ")));
        }
        if list.prices.iter().any(|p| p.lot.is_some()) {
            list.notes
                .push("lots come in as quarantine until you release them".to_owned());
        }
    }

    fn every_price_signed(&self) -> bool {
        self.prices.columns.iter().all(|column| {
            (self.layout.first_row()..self.table.rows.len())
                .map(|row| self.table.cell(row, column.column))
                .filter(|cell| !cell.is_empty() && matches!(cell, Cell::Text(_)))
                .filter(|cell| cell.words().contains(|c: char| c.is_ascii_digit()))
                .all(|cell| currency_in(&cell.words()).is_some())
                && (self.layout.first_row()..self.table.rows.len()).all(|row| {
                    match self.table.cell(row, column.column) {
                        Cell::Number { shown, .. } => matches!(shown, Shown::Money(_)),
                        _ => true,
                    }
                })
        })
    }

    /// The supplier that the rows above the list name: "Supplier: Fell Oils".
    fn supplier_above(&self) -> String {
        let kind = |text: &str| {
            crate::file::table::columns::heading(text).map(|c| c.kind) == Some(Kind::Supplier)
        };
        for row in 0..self.layout.headings.unwrap_or(0) {
            let cells: Vec<String> = (0..self.table.width())
                .map(|c| self.table.cell(row, c).words())
                .filter(|w| !w.is_empty())
                .collect();
            match cells.as_slice() {
                [one] => {
                    if let Some((key, value)) = one.split_once(':')
                        && kind(key)
                    {
                        return value.trim().to_owned();
                    }
                }
                [key, value, ..] if kind(key.trim_end_matches(':')) => return value.clone(),
                _ => {}
            }
        }
        String::new()
    }

    fn tax_column(&self) -> Option<usize> {
        (0..self.table.width()).find(|&c| {
            let folded = words_of(&self.layout.heading(self.table, c));
            let lists = words();
            folded.iter().any(|w| lists.tax.contains(w))
                && !folded.iter().any(|w| {
                    lists.money.contains(w)
                        || lists.with_tax.contains(w)
                        || lists.without_tax.contains(w)
                })
        })
    }

    /// Whether, in most rows, a larger size costs less.
    fn fall_with_size(&self) -> bool {
        let mut sized: Vec<(Decimal, usize)> = self
            .prices
            .columns
            .iter()
            .filter_map(|c| match c.basis {
                Basis::PackOf(Pack::Grams(size) | Pack::Millilitres(size)) => {
                    Some((size, c.column))
                }
                _ => None,
            })
            .collect();
        sized.sort();
        if sized.len() < 2 {
            return false;
        }
        let (mut falling, mut rising) = (0_usize, 0_usize);
        for row in self.layout.first_row()..self.table.rows.len() {
            let values: Vec<Decimal> = sized
                .iter()
                .filter_map(|&(_, column)| self.number(self.table.cell(row, column)).ok().flatten())
                .map(|(value, _)| value)
                .collect();
            if let (Some(first), Some(last)) = (values.first(), values.last())
                && values.len() > 1
            {
                if last < first {
                    falling += 1;
                } else {
                    rising += 1;
                }
            }
        }
        falling > rising
    }

    fn words(&self, row: usize, kind: Kind) -> String {
        self.layout.words(self.table, row, kind)
    }

    pub(super) fn read_row(&self, row: usize, list: &mut PriceList) {
        let text = self.table.row_text(row);
        if text.is_empty() {
            return;
        }
        list.rows += 1;
        let mut leave = |reason: String| {
            list.left_out.push(LeftOut {
                row: row + 1,
                words: text.chars().take(80).collect(),
                reason,
            });
        };
        if row < self.layout.first_row() {
            leave(if self.layout.headings.is_some_and(|first| row >= first) {
                "the headings".to_owned()
            } else {
                "stands above the list".to_owned()
            });
            return;
        }
        if let Some(reason) = self.table.left_out_reason(row, self.names)
            && !self.hidden
        {
            leave(reason.to_owned());
            list.assumed.push(format!(
                "row {} “{text}” is {reason} and was left out",
                row + 1
            ));
            return;
        }
        if self.layout.is_repeated_in(self.table, row) {
            leave("the headings again".to_owned());
            return;
        }
        let mut name = self.table.cell(row, self.names).words();
        let inci = self.words(row, Kind::Inci);
        let trade = self.words(row, Kind::Trade);
        if self.pieces && name.is_empty() && !inci.is_empty() {
            match list.prices.last_mut() {
                Some(last) => {
                    last.about.add_piece(&inci, &self.piece_share(row));
                    if !last.wanted.inci.is_empty() {
                        last.wanted.inci.push_str(", ");
                    }
                    last.wanted.inci.push_str(&inci);
                    leave(format!("goes on with the composition of row {}", last.row));
                }
                None => leave("a part of no material".to_owned()),
            }
            return;
        }
        if name.is_empty() {
            name = if trade.is_empty() {
                inci.clone()
            } else {
                trade.clone()
            };
        }
        // Further sizes of the material above.
        let pack_and_price = || {
            let filled = |column: usize| !self.table.cell(row, column).is_empty();
            self.pack_at.is_some_and(filled) && self.prices.columns.iter().any(|c| filled(c.column))
        };
        let above = list
            .prices
            .last()
            .filter(|_| name.is_empty() && pack_and_price())
            .map(|last| last.wanted.clone());
        let (mut name, inci) = match &above {
            Some(above) => (above.name.clone(), above.inci.clone()),
            None => (name, inci),
        };
        if name.is_empty() {
            leave("names no material".to_owned());
            return;
        }
        let inci = if self.layout.place(Kind::Inci) == Some(self.names) && !are_inci_names(&inci) {
            String::new()
        } else {
            inci
        };
        let folded = words_of(&name);
        if sum_words(&name).is_some() || is_sum(self.table, row) {
            leave("a sum".to_owned());
            return;
        }
        if folded.iter().any(|w| words().charges.contains(w)) && inci.is_empty()
            || folded.iter().any(|w| words().tax.contains(w))
        {
            leave("a charge or tax, no material".to_owned());
            return;
        }
        let mut facts = match self.facts(row, &mut name) {
            Ok(Some(facts)) => facts,
            Ok(None) => {
                leave("has nothing beside its name".to_owned());
                return;
            }
            Err(message) => {
                leave(message.clone());
                list.assumed
                    .push(format!("row {} “{name}” was left out: {message}", row + 1));
                return;
            }
        };
        let cas = match first_cas(&self.words(row, Kind::Cas)) {
            Ok(cas) => cas.or(above.and_then(|above| above.cas)),
            Err(told) => {
                facts.doubts.push(told);
                None
            }
        };
        let mut about = About {
            trade: if trade == name { String::new() } else { trade },
            role: self.words(row, Kind::Role),
            use_level: self.use_level(row),
            ..About::default()
        };
        if self.of == ListOf::Materials {
            if self.pieces {
                about.add_piece(&inci, &self.piece_share(row));
            }
            about.read(self.table, self.layout, row);
            facts.doubts.append(&mut about.doubts);
        }
        let supplier = self.words(row, Kind::Supplier);
        list.prices.push(ProposedPrice {
            row: row + 1,
            wanted: Wanted {
                name: clean_name(&name),
                inci: if inci.is_empty() || about.pieces.len() > 1 {
                    about.inci_list()
                } else {
                    clean_name(&inci)
                },
                cas,
                supplier: if supplier.is_empty() {
                    self.supplier.clone()
                } else {
                    supplier
                },
                strength: if self.pieces {
                    String::new()
                } else {
                    self.words(row, Kind::Strength)
                },
            },
            offers: facts.offers,
            lot: facts.lot,
            about,
            candidates: Vec::new(),
            choice: Choice::New,
            suggestions: Vec::new(),
            own_doubts: facts.doubts.len(),
            doubts: facts.doubts,
        });
    }

    /// The usual level: of its column, or of one of percentages that is no recipe.
    fn use_level(&self, row: usize) -> String {
        let told = self.words(row, Kind::UseLevel);
        let numbered = |column: usize| about::is_piece(&self.layout.heading(self.table, column));
        if told.is_empty()
            && !self.pieces
            && self.of == ListOf::Materials
            && !self.layout.place(Kind::Percent).is_some_and(numbered)
        {
            return self.words(row, Kind::Percent);
        }
        told
    }

    fn piece_share(&self, row: usize) -> String {
        let share = self.words(row, Kind::Percent);
        if share.is_empty() {
            self.words(row, Kind::Strength)
        } else {
            share
        }
    }

    /// A number with the currency beside it; `None` if the cell is empty.
    fn number(&self, cell: &Cell) -> Result<Option<(Decimal, Option<Currency>)>, String> {
        match cell {
            Cell::Number { value, shown } => Ok(Some((
                *value,
                match shown {
                    Shown::Money(currency) => Some(*currency),
                    _ => None,
                },
            ))),
            Cell::Fault(fault) => Err(format!(
                "the cell holds {fault}; open the file in a spreadsheet program, mend the cell and save it"
            )),
            cell if cell.is_empty() => Ok(None),
            cell => {
                let text = cell.words();
                match number::amount(&text, self.mark) {
                    Ok(amount) => Ok(Some((amount.value, amount.currency))),
                    // "6.50 € / kg": the currency stands among other words.
                    Err(error) => {
                        let currency = currency_in(&text);
                        let lists = words();
                        let before_per: String = text
                            .split_inclusive(' ')
                            .take_while(|w| !words_of(w).iter().any(|w| lists.per.contains(w)))
                            .collect();
                        let stripped: String = before_per
                            .chars()
                            .take_while(|c| *c != '/')
                            .filter(|c| c.is_ascii_digit() || matches!(c, '.' | ',' | '-' | ' '))
                            .collect();
                        match number::amount(stripped.trim(), self.mark) {
                            Ok(amount) if currency.is_some() => Ok(Some((amount.value, currency))),
                            _ => Err(format!("{error}; write a number")),
                        }
                    }
                }
            }
        }
    }

    /// What a row offers and what came in with it; `None` if there is nothing.
    fn facts(&self, row: usize, name: &mut String) -> Result<Option<Facts>, String> {
        let mut doubts = Vec::new();
        if self.of == ListOf::Materials {
            let told = super::ABOUT
                .iter()
                .chain([
                    &Kind::Role,
                    &Kind::UseLevel,
                    &Kind::Percent,
                    &Kind::Strength,
                ])
                .any(|&kind| !self.words(row, kind).is_empty())
                || self.names == self.layout.place(Kind::Inci).unwrap_or(usize::MAX);
            return Ok(told.then(|| Facts {
                offers: Vec::new(),
                lot: None,
                doubts,
            }));
        }
        let (mut pack, counted) = self.pack(row, name, &mut doubts)?;
        let mut offers = Vec::new();
        let mut any = false;
        let row_currency = number::currency_of(&self.words(row, Kind::Currency));
        for column in &self.prices.columns {
            let cell = self.table.cell(row, column.column);
            if cell.is_empty() {
                continue;
            }
            any = true;
            let in_stock = self.layout.place(Kind::Stock);
            match self.offer(row, column, &mut pack, counted, row_currency, &mut doubts) {
                Ok(offer) => offers.extend(offer),
                // What is in stock is worth knowing without its price.
                Err(message) if in_stock.is_some_and(|c| !self.table.cell(row, c).is_empty()) => {
                    doubts.push(format!("the price was left out: {message}"));
                }
                Err(message) => return Err(message),
            }
        }
        let lot = self.lot(row, pack, counted, offers.first(), &mut doubts)?;
        if offers.is_empty()
            && lot.is_none()
            && let Some(pack) = pack
        {
            // A pack without a price is worth knowing.
            offers.push(ProposedOffer {
                pack,
                price: None,
                currency: row_currency.unwrap_or(self.currency),
            });
        }
        let empty = offers.is_empty() && lot.is_none();
        if empty && !any {
            return Ok(None);
        }
        Ok(Some(Facts {
            offers,
            lot,
            doubts,
        }))
    }

    /// Columns of sizes and quantities, none of which is one of prices: "€/kg" is none, nor
    /// is a least order beside a price per kilogram.
    fn pack_columns(&self) -> Vec<(Kind, usize)> {
        let told = |column: usize| {
            self.layout.headings.is_none()
                || crate::file::table::columns::heading(&self.layout.heading(self.table, column))
                    .is_some()
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

    /// What a pack of a row holds, and how many of what a row counts.
    fn pack(
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
            let unit = if kind == Kind::Amount || self.layout.place(Kind::Amount).is_none() {
                unit_column.or(self.layout.unit(kind))
            } else {
                self.layout.unit(kind)
            };
            let read = match cell {
                Cell::Number { value, shown } => Some(
                    match shown_unit(*shown)
                        .or(unit)
                        .and_then(|u| Pack::of(*value, u))
                    {
                        Some(pack) => PackWritten::Pack(pack, Vec::new()),
                        None => PackWritten::Bare(*value),
                    },
                ),
                cell => packs::pack(&cell.words(), unit, self.mark),
            };
            match read {
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

    /// One price of a row.
    fn offer(
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
            }));
        };
        if value < Decimal::ZERO {
            return Err(format!("the price {value} (cell {place}) is below 0"));
        }
        if value.is_zero() {
            doubts.push("a price of 0 was taken as it stands".to_owned());
        }
        let value = self.without_tax(row, column, value);
        // "12.50 €/kg" says itself what it is for.
        let own = match cell {
            Cell::Text(text) => columns::per_unit(text).map(|size| PriceColumn {
                basis: Basis::Per(size),
                ..column.clone()
            }),
            _ => None,
        };
        let column = own.as_ref().unwrap_or(column);
        let (price, size) = self.price_of(row, column, value, pack, counted, &place, doubts)?;
        Ok(Some(ProposedOffer {
            pack: size,
            price: Some(price),
            currency,
        }))
    }

    /// The price of a pack, and the pack.
    #[expect(
        clippy::too_many_arguments,
        reason = "what a row says, each its own thing"
    )]
    fn price_of(
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
            Basis::Pack | Basis::Each => {
                let size = pack.ok_or_else(|| no_pack(place))?;
                let total = self
                    .prices
                    .total
                    .and_then(|c| self.number(self.table.cell(row, c)).ok().flatten())
                    .map(|(total, _)| total);
                // Quantity times unit price is the total of the line, or it is no unit price.
                let in_unit = self.in_unit(row, size);
                let near = |a: Decimal, b: Decimal| {
                    a.saturating_sub(b).abs() <= Decimal::new(2, 2).max(b * Decimal::new(5, 3))
                };
                let from_amount = self.layout.place(Kind::Pack).is_none() && in_unit.is_some();
                let each = from_amount
                    && match (total, in_unit) {
                        (Some(total), Some((count, _))) => {
                            near(count.saturating_mul(value), total) && count != Decimal::ONE
                        }
                        _ => column.basis == Basis::Each,
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

    /// The quantity of a row in its unit, and one of that unit.
    fn in_unit(&self, row: usize, size: Pack) -> Option<(Decimal, Pack)> {
        let column = self.layout.place(Kind::Amount)?;
        let unit = Unit::named(&self.words(row, Kind::Unit))
            .or(self.layout.unit(Kind::Amount))
            .or_else(|| {
                number::amount(&self.table.cell(row, column).words(), self.mark)
                    .ok()?
                    .unit
            })?;
        let one = Pack::of(Decimal::ONE, unit)?;
        Some((size.ratio(one)?, one))
    }

    /// A price without the tax in it, as far as the file tells its rate.
    fn without_tax(&self, row: usize, column: &PriceColumn, value: Decimal) -> Decimal {
        if !column.gross {
            return value;
        }
        let own = self
            .tax_column()
            .and_then(|c| match self.table.cell(row, c) {
                Cell::Number { value, shown } => Some(if *shown == Shown::Percent {
                    *value * Decimal::ONE_HUNDRED
                } else {
                    *value
                }),
                cell => percent_in(&cell.words()),
            })
            .filter(|rate| *rate >= Decimal::ZERO && *rate < Decimal::ONE_HUNDRED);
        match own.or(self.tax) {
            Some(rate) => short(value / (Decimal::ONE + rate / Decimal::ONE_HUNDRED)),
            None => value,
        }
    }

    /// What came in with a row, or what of it is in stock.
    fn lot(
        &self,
        row: usize,
        pack: Option<Pack>,
        counted: Option<Decimal>,
        offer: Option<&ProposedOffer>,
        doubts: &mut Vec<String>,
    ) -> Result<Option<ProposedLot>, String> {
        let code = self.words(row, Kind::Lot);
        let expiry = match self
            .layout
            .place(Kind::Expiry)
            .map(|c| (c, self.table.cell(row, c)))
        {
            None => None,
            Some((_, Cell::Date(day))) => Some(*day),
            Some((_, cell))
                if cell.is_empty() || cell.words().chars().all(|c| !c.is_alphanumeric()) =>
            {
                None
            }
            Some((column, cell)) => {
                let text = cell.words();
                let day = days::day(&text, self.order);
                if day.is_none() {
                    doubts.push(format!(
                        "“{text}” (cell {}) is not a day; write it as 2027-03-31",
                        cell_name(row, column)
                    ));
                }
                day
            }
        };
        let stock = self
            .layout
            .place(Kind::Stock)
            .map(|c| (c, self.table.cell(row, c)));
        let in_stock = match stock {
            Some((column, cell)) if !cell.is_empty() => {
                let unit = self.layout.unit(Kind::Stock).or_else(|| {
                    // "In stock" and "Unit" belong together where nothing else has a unit.
                    (self.pack_at.is_none())
                        .then(|| Unit::named(&self.words(row, Kind::Unit)))
                        .flatten()
                });
                let read = match cell {
                    Cell::Number { value, shown } => Some(
                        match shown_unit(*shown)
                            .or(unit)
                            .and_then(|u| Pack::of(*value, u))
                        {
                            Some(pack) => PackWritten::Pack(pack, Vec::new()),
                            None => PackWritten::Bare(*value),
                        },
                    ),
                    cell => packs::pack(&cell.words(), unit, self.mark),
                };
                match (read, pack) {
                    (Some(PackWritten::Pack(mass, told)), _) => {
                        doubts.extend(told);
                        Some((mass, 1))
                    }
                    (Some(PackWritten::Bare(count)), Some(pack)) => Some(whole_packs(pack, count)),
                    _ => {
                        let told = format!(
                            "what is in stock, “{}” (cell {}), has no unit; write it as “2.4 kg”",
                            cell.words(),
                            cell_name(row, column)
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
        if code.is_empty() {
            doubts.push("it has no lot number; one is made of its name and the day".to_owned());
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
        }))
    }
}

/// The unit that the format of a cell shows.
const fn shown_unit(shown: Shown) -> Option<Unit> {
    match shown {
        Shown::In(unit) => Some(unit),
        _ => None,
    }
}

/// So many packs; of a broken number one pack of all of it.
fn whole_packs(pack: Pack, count: Decimal) -> (Pack, u32) {
    match u32::try_from(count.normalize()) {
        Ok(whole) if count.is_integer() => (pack, whole.max(1)),
        _ => (pack.times(count), 1),
    }
}

fn no_pack(place: &str) -> String {
    format!(
        "no pack size is given for the price (cell {place}); add a column “Pack size” with units, or name the unit in the heading of the price, as in “Price per kg”"
    )
}

fn short(value: Decimal) -> Decimal {
    let mut value = value.round_dp(DIGITS).normalize();
    // Money has two digits at least.
    if value.scale() < 2 {
        value.rescale(2);
    }
    value
}

/// "19 %" in a text.
fn percent_in(text: &str) -> Option<Decimal> {
    let before = text.split_once('%')?.0.trim_end();
    let start = before
        .rfind(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',')))
        .map_or(0, |at| {
            at + before
                .get(at..)
                .and_then(|t| t.chars().next())
                .map_or(1, char::len_utf8)
        });
    let value = number::amount(before.get(start..)?, None).ok()?.value;
    (value > Decimal::ZERO && value < Decimal::ONE_HUNDRED).then_some(value)
}
