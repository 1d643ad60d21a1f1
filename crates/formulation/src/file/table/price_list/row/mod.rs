//! Reads the rows of a list: what is offered, what came in, what is left out and why.

mod lot;
mod offer;
mod size;
mod tax;

use std::collections::BTreeMap;

use rust_decimal::Decimal;

use super::about::{self, RowMaterial};
use super::allergens;
use super::columns::{self, Basis, Prices};
use super::lines::PackOfLine;
use super::{
    Cell, ListOf, PriceList, ProposedLot, ProposedOffer, ProposedPrice, inci_alone, number,
};
use crate::amount::number::DecimalMark;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::days::{self, DayOrder};
use crate::file::table::money::{by_tongue, currency_in};
use crate::file::table::names::{are_inci_names, clean_name, first_cas, name_over_inci};
use crate::file::table::packs::{self, Pack};
use crate::file::table::price_list::above::told_gross;
use crate::file::table::recipe::{LeftOutRow, MaterialChoice, RecipeSettings};
use crate::file::table::sums::{is_sum, sum_words};
use crate::file::table::words::{is_discontinued, words};
use crate::file::table::{Shown, Table};
use crate::naming::{Wanted, is_known_name, words_of};
use crate::quantity::Currency;
use tax::{Foot, holds_rates, percent_in, tax_column};

/// Digits kept of a price that had to be worked out.
const DIGITS: u32 = 4;

/// Notes that a row makes no line.
fn leave(row: usize, text: &str, reason: &str, list: &mut PriceList) {
    list.left_out.push(LeftOutRow {
        row: row + 1,
        words: text.chars().take(80).collect(),
        reason: reason.to_owned(),
    });
}

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
    /// The currency is that of the tongue of the list, which only says "kr".
    by_tongue: bool,
    order: DayOrder,
    open_days: Option<String>,
    /// Percent of tax in prices that hold it, if the file states it.
    tax: Option<Decimal>,
    /// Prices by size are really prices per unit, because they fall with the size.
    sizes_per_unit: bool,
    supplier: String,
    pieces: bool,
    /// The rows below a material are allergens in it.
    of_allergens: bool,
    /// Columns of the shares of allergens.
    allergens: Vec<(usize, String)>,
    /// Numbered columns of a composition.
    pairs: Vec<about::Pair>,
    /// The column of the rate or sum of tax.
    tax_at: Option<usize>,
    /// It holds rates in percent, and no sums.
    of_rates: bool,
    /// What the sums below prove about the prices.
    foot: Foot,
    /// A line outside of the list says that the prices hold tax.
    told_gross: bool,
    /// The prices of all rows add up to the total that is stated.
    add_up_as_they_stand: bool,
    /// Most rows have more than one cell, so that one alone may be a title.
    rows_have_more: bool,
    hidden: bool,
    /// Further packs of running lines by row, counted from 0.
    more: BTreeMap<usize, Vec<PackOfLine>>,
}

/// What a row has beside its name.
struct Facts {
    offers: Vec<ProposedOffer>,
    lot: Option<ProposedLot>,
    doubts: Vec<String>,
}

fn filled_cells(table: &Table, row: usize) -> usize {
    let cells = table.rows.get(row).into_iter().flatten();
    cells.filter(|cell| !cell.is_empty()).count()
}

fn rows_have_more(table: &Table, layout: &Layout) -> bool {
    let rows = layout.first_row()..table.rows.len();
    let more = rows.clone().filter(|row| filled_cells(table, *row) > 1);
    more.count() * 2 > rows.len()
}

/// The order of day and month: as set, as the days tell, or the usual one with a day that could be
/// either.
fn order_of_days<'d>(
    set: Option<DayOrder>,
    days: impl Iterator<Item = &'d str>,
    american: impl FnOnce() -> bool,
) -> (DayOrder, Option<String>) {
    if let Some(order) = set {
        return (order, None);
    }
    match days::order_of(days) {
        Ok(order) => (order.unwrap_or(DayOrder::DayFirst), None),
        Err(example) if american() => (DayOrder::MonthFirst, Some(example.to_owned())),
        Err(example) => (DayOrder::DayFirst, Some(example.to_owned())),
    }
}

/// What a row names.
struct Named {
    name: String,
    inci: String,
    trade: String,
    /// The material of the row above, of which it is a further pack or lot.
    above: Option<Wanted>,
}

impl<'t> Reader<'t> {
    pub(super) fn new(
        table: &'t Table,
        layout: &'t Layout,
        settings: &RecipeSettings,
        of: ListOf,
        chosen: bool,
    ) -> Option<Self> {
        let names = layout
            .place(ColumnKind::Name)
            .or_else(|| layout.place(ColumnKind::Inci))?;
        let prices = columns::prices(table, layout, chosen);
        let rows = || layout.first_row()..table.rows.len();
        let texts = |column: usize| {
            rows().filter_map(move |row| match table.cell(row, column) {
                Cell::Text(text) => Some(text.as_str()),
                _ => None,
            })
        };
        let pack_at = layout
            .place(ColumnKind::Pack)
            .or_else(|| layout.place(ColumnKind::Amount));
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
            .or_else(|| above().find_map(|text| currency_in(&text)))
            .or_else(|| currency_of_sum(table, layout));
        let by_tongue = told.is_none().then(|| by_tongue(table)).flatten();
        let euro = Currency::new("EUR")?;
        let of_days: Vec<usize> = [ColumnKind::Expiry, ColumnKind::Dated]
            .into_iter()
            .filter_map(|kind| layout.place(kind))
            .collect();
        // Money and pounds of the United States speak for their order of days.
        let american = || {
            told.is_some_and(|c| c.to_string() == "USD")
                || pack_at.is_some_and(|at| texts(at).any(|t| t.contains("lb") || t.contains("oz")))
        };
        let days = of_days.into_iter().flat_map(texts);
        let (order, open_days) = order_of_days(settings.days, days, american);
        let told_gross =
            told_gross(table, layout).filter(|_| !prices.columns.iter().any(|c| c.net));
        let gross = told_gross.is_some() || prices.columns.iter().any(|c| c.gross);
        let tax = gross
            .then(|| {
                let headings = (0..table.width()).map(|c| layout.heading(table, c));
                let of_tax = |text: &String| {
                    let folded = words_of(text);
                    let lists = words();
                    folded
                        .iter()
                        .any(|w| lists.tax.contains(w) || lists.with_tax.contains(w))
                };
                let mut told = headings.chain(above()).filter(of_tax);
                told.find_map(|text| percent_in(&text))
                    .or_else(|| percent_in(told_gross?))
            })
            .flatten();
        let mut reader = Self {
            table,
            layout,
            of,
            names,
            pack_at,
            mark,
            currency: told.or(by_tongue).or(settings.home).unwrap_or(euro),
            by_tongue: by_tongue.is_some(),
            currency_told: told.is_some() || layout.place(ColumnKind::Currency).is_some(),
            order,
            open_days,
            tax,
            sizes_per_unit: false,
            supplier: String::new(),
            pieces: of == ListOf::Materials && about::has_pieces(table, layout),
            of_allergens: false,
            allergens: allergens::columns(table, layout),
            pairs: about::pairs(table, layout),
            tax_at: tax_column(table, layout),
            of_rates: tax_column(table, layout).is_some_and(|at| holds_rates(table, layout, at)),
            foot: Foot::Nothing,
            told_gross: told_gross.is_some(),
            add_up_as_they_stand: false,
            rows_have_more: rows_have_more(table, layout),
            hidden: settings.hidden,
            more: BTreeMap::new(),
            prices,
        };
        reader.foot = reader.foot();
        reader.add_up_as_they_stand = reader.add_up_as_they_stand();
        reader.sizes_per_unit = reader.fall_with_size();
        reader.supplier = reader.supplier_above();
        Some(reader)
    }

    /// The rows are allergens of the materials that stand beside or above them.
    pub(super) fn take_as_allergens(&mut self) {
        self.pieces = true;
        self.of_allergens = true;
    }

    /// Lines name further packs with their prices.
    pub(super) fn take_further_packs(&mut self, more: BTreeMap<usize, Vec<PackOfLine>>) {
        self.more = more;
    }

    pub(super) fn price_columns(&self) -> Vec<usize> {
        self.prices.columns.iter().map(|c| c.column).collect()
    }

    /// Whether a column was held against the prices, though none was taken from it.
    pub(super) fn is_used(&self, column: usize) -> bool {
        self.prices.total == Some(column)
            || self.prices.of_more.contains(&column)
            || self.prices.gross == Some(column)
            || self.tax_at == Some(column)
            || self.prices.also.iter().any(|also| also.column == column)
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
        assumed.extend(self.assumed_of_tax());
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
        if self.each_is_unproved() {
            assumed.push(
                "the price of one was taken as that of 1 kg or 1 l where the quantity is in these, and as that of all of it where it is in grams or millilitres; no sum proves it".to_owned(),
            );
        }
        assumed.extend(self.table.hidden_words());
        assumed
    }

    /// What is known only after all rows were read.
    pub(super) fn tell(&self, list: &mut PriceList) {
        list.notes.extend(self.table.done_words());
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
            list.assumed.push(if self.by_tongue {
                format!(
                    "the prices are in kr; {} was taken by the language of the list",
                    self.currency
                )
            } else {
                format!("no currency is stated; {} was taken", self.currency)
            });
        }
        let left: Vec<String> = (0..self.table.width())
            .filter(|c| self.layout.columns.get(*c).copied().flatten().is_none())
            .filter(|c| !list.price_columns.contains(c) && !self.is_used(*c))
            .filter(|c| !self.allergens.iter().any(|(column, _)| column == c))
            .filter_map(|c| {
                let words = self.layout.heading(self.table, c);
                (!words.is_empty() && !about::is_piece(&words)).then(|| format!("“{words}”"))
            })
            .collect();
        if !left.is_empty() {
            list.notes
                .push(format!("columns left out: {}", left.join(", ")));
        }
        // The price of a material on the shelf stays one of that material.
        if self.of != ListOf::Materials {
            let kinds = [
                ColumnKind::Trade,
                ColumnKind::Role,
                ColumnKind::UseLevel,
                ColumnKind::Composition,
            ];
            let told: Vec<String> = kinds
                .into_iter()
                .filter_map(|kind| self.layout.place(kind))
                .filter(|at| *at != self.names)
                .chain(self.allergens.iter().map(|(column, _)| *column))
                .map(|at| format!("“{}”", self.layout.heading(self.table, at)))
                .collect();
            if !told.is_empty() {
                list.notes.push(format!(
                    "what {} say was kept for new materials only; a list without prices and stock brings it in for those on the shelf",
                    told.join(", ")
                ));
            }
        }
        list.assumed.extend(self.spans_left_out());
        if list
            .prices
            .iter()
            .any(|p| p.lot.as_ref().is_some_and(|lot| lot.code.is_empty()))
        {
            list.notes.push(
                "lots without a number get one of the name of the material and the day".to_owned(),
            );
        }
        if let Some(column) = self.layout.place(ColumnKind::Dated) {
            let heading = self.layout.heading(self.table, column);
            let told = format!(
                "the days of “{heading}” were taken as those of the prices, and of what came in"
            );
            let is_said = crate::file::table::columns::heading(&heading)
                .is_some_and(|column| column.kind == ColumnKind::Dated);
            if is_said {
                list.notes.push(told);
            } else {
                list.assumed.push(told);
            }
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
            crate::file::table::columns::heading(text).map(|c| c.kind) == Some(ColumnKind::Supplier)
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

    fn words(&self, row: usize, kind: ColumnKind) -> String {
        self.layout.words(self.table, row, kind)
    }

    pub(super) fn read_row(&self, row: usize, list: &mut PriceList) {
        let text = self.table.row_text(row);
        if text.is_empty() {
            return;
        }
        list.rows += 1;
        if self.leave_out(row, &text, list) {
            return;
        }
        let Some(named) = self.named(row, &text, list) else {
            return;
        };
        let Named {
            mut name,
            mut inci,
            trade,
            above,
        } = named;
        let mut facts = match self.facts(row, &mut name) {
            Ok(Some(facts)) => facts,
            nothing => {
                let why = nothing.err();
                return self.leave_without_facts(row, &text, (&name, why), list);
            }
        };
        if self.leave_discontinued(row, &text, (&name, &mut facts), list) {
            return;
        }
        let cas = match first_cas(&self.words(row, ColumnKind::Cas)) {
            Ok(cas) => cas.or(above.and_then(|above| above.cas)),
            Err(told) => {
                facts.doubts.push(told);
                None
            }
        };
        let mut about = RowMaterial {
            trade: if trade == name { String::new() } else { trade },
            role: self.words(row, ColumnKind::Role),
            use_level: self.use_level(row),
            ..RowMaterial::default()
        };
        if self.of_allergens {
            self.add_allergen(row, &inci, &mut about);
            inci.clear();
        } else if self.pieces {
            about.add_piece(&inci, &self.piece_share(row));
        }
        for (column, name) in &self.allergens {
            about.add_allergen(name, self.table.cell(row, *column));
        }
        about.read(self.table, self.layout, &self.pairs, row);
        facts.doubts.append(&mut about.doubts);
        let supplier = self.words(row, ColumnKind::Supplier);
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
                    self.words(row, ColumnKind::Strength)
                },
            },
            offers: facts.offers,
            lot: facts.lot,
            about,
            candidates: Vec::new(),
            choice: MaterialChoice::New,
            suggestions: Vec::new(),
            own_doubts: facts.doubts.len(),
            doubts: facts.doubts,
        });
    }

    /// Leaves out a material that is sold no more and has no price, and asks about one that has;
    /// whether it was left out.
    fn leave_discontinued(
        &self,
        row: usize,
        text: &str,
        (name, facts): (&str, &mut Facts),
        list: &mut PriceList,
    ) -> bool {
        let Some(said) = self.discontinued(row) else {
            return false;
        };
        let unpriced = facts.lot.is_none() && facts.offers.iter().all(|o| o.price.is_none());
        if unpriced {
            let reason = format!("is “{said}” and has no price");
            leave(row, text, &reason, list);
            list.assumed.push(format!(
                "row {} “{name}” {reason}, and was left out",
                row + 1
            ));
        } else {
            facts
                .doubts
                .push(format!("the row says that it is “{said}”"));
        }
        unpriced
    }

    /// The words by which a row says that its material is sold no more.
    fn discontinued(&self, row: usize) -> Option<String> {
        let cells = self.table.rows.get(row).into_iter().flatten();
        let mut said = cells.filter_map(|cell| match cell {
            Cell::Text(text) if is_discontinued(text) => Some(cell.words()),
            _ => None,
        });
        said.next()
    }

    /// What a row names; `None` if it was left out, or went into the row above.
    fn named(&self, row: usize, text: &str, list: &mut PriceList) -> Option<Named> {
        let mut name = self.table.cell(row, self.names).words();
        let mut inci = self.words(row, ColumnKind::Inci);
        if let Some((above, below)) = name_over_inci(self.table.cell(row, self.names)) {
            (name, inci) = (above, below);
        }
        let trade = self.words(row, ColumnKind::Trade);
        if self.pieces && name.is_empty() && !inci.is_empty() {
            self.go_on_with_above(row, text, &inci, list);
            return None;
        }
        if let Some(below) = inci_alone(&name) {
            Self::name_those_of_above(row, text, below, list);
            return None;
        }
        if name.is_empty() {
            name = if trade.is_empty() {
                inci.clone()
            } else {
                trade.clone()
            };
        }
        let above = list
            .prices
            .last()
            .filter(|_| name.is_empty() && self.is_of_material_above(row))
            .map(|last| last.wanted.clone());
        let (name, mut inci) = match &above {
            Some(above) => (above.name.clone(), above.inci.clone()),
            None => (name, inci),
        };
        if name.is_empty() {
            self.leave_unnamed(row, text, list);
            return None;
        }
        if self.layout.place(ColumnKind::Inci) == Some(self.names) && !are_inci_names(&inci) {
            inci.clear();
        }
        if let Some(reason) = self.no_material(row, &name, &inci) {
            leave(row, text, reason, list);
            return None;
        }
        if self.heads_a_group(row, &name) {
            leave(row, text, "begins a group", list);
            return None;
        }
        Some(Named {
            name,
            inci,
            trade,
            above,
        })
    }

    /// Leaves out a row of which only the name was understood, or of which something could not
    /// be read.
    fn leave_without_facts(
        &self,
        row: usize,
        text: &str,
        (name, why): (&str, Option<String>),
        list: &mut PriceList,
    ) {
        if let Some(message) = why {
            leave(row, text, &message, list);
            list.assumed
                .push(format!("row {} “{name}” was left out: {message}", row + 1));
            return;
        }
        leave(row, text, "has nothing beside its name", list);
        // A name alone heads what follows; with more cells it may be a material.
        let cells = self.table.rows.get(row).into_iter().flatten();
        if cells.filter(|cell| !cell.is_empty()).nth(1).is_some() {
            list.assumed.push(format!(
                "row {} “{name}” has nothing beside its name that was understood, and was left out",
                row + 1
            ));
        }
    }

    /// Leaves out what is no row of the list or is not seen; whether it did.
    fn leave_out(&self, row: usize, text: &str, list: &mut PriceList) -> bool {
        if row < self.layout.first_row() {
            let heads = self.layout.headings.is_some_and(|first| row >= first);
            let reason = if heads {
                "the headings"
            } else {
                "stands above the list"
            };
            leave(row, text, reason, list);
            let cells = self.table.rows.get(row).into_iter().flatten();
            let names = |cell: &Cell| matches!(cell, Cell::Text(text) if is_known_name(text));
            if !heads && cells.clone().any(names) {
                list.assumed.push(format!(
                    "row {} “{text}” stands above the list and was left out",
                    row + 1
                ));
            }
            return true;
        }
        if let Some(reason) = self.table.left_out_reason(row, self.names)
            && !self.hidden
        {
            leave(row, text, reason, list);
            list.assumed.push(format!(
                "row {} “{text}” is {reason} and was left out",
                row + 1
            ));
            return true;
        }
        let headed = self.layout.is_repeated_in(self.table, row);
        if headed {
            leave(row, text, "the headings again", list);
        }
        headed
    }

    /// A row without a name of its own, in a list of parts, goes on with the material above.
    fn go_on_with_above(&self, row: usize, text: &str, inci: &str, list: &mut PriceList) {
        let reason = match list.prices.last_mut() {
            Some(last) if self.of_allergens => {
                self.add_allergen(row, inci, &mut last.about);
                format!("an allergen in the material of row {}", last.row)
            }
            Some(last) => {
                last.about.add_piece(inci, &self.piece_share(row));
                if !last.wanted.inci.is_empty() {
                    last.wanted.inci.push_str(", ");
                }
                last.wanted.inci.push_str(inci);
                format!("goes on with the composition of row {}", last.row)
            }
            None => "a part of no material".to_owned(),
        };
        leave(row, text, &reason, list);
    }

    /// Whether a row stands alone in capitals among rows that have more: "BUTTERS".
    fn heads_a_group(&self, row: usize, name: &str) -> bool {
        let in_capitals = name.contains(char::is_alphabetic) && !name.contains(char::is_lowercase);
        in_capitals
            && self.rows_have_more
            && filled_cells(self.table, row) == 1
            && !is_known_name(name)
    }

    /// A row that only says the INCI names of the material above, "INCI: Cera Alba", and perhaps
    /// its CAS number beside them.
    fn name_those_of_above(row: usize, text: &str, inci: &str, list: &mut PriceList) {
        let reason = match list.prices.last_mut() {
            Some(last) if last.wanted.inci.is_empty() => {
                inci.clone_into(&mut last.wanted.inci);
                let mut words = text.split([' ', ',', ';', '/']);
                let cas = words.find_map(|word| word.parse().ok());
                last.wanted.cas = last.wanted.cas.or(cas);
                format!("the INCI names of row {}", last.row)
            }
            Some(last) if last.wanted.inci == inci => {
                format!("the INCI names of row {}", last.row)
            }
            _ => "INCI names of no material".to_owned(),
        };
        leave(row, text, &reason, list);
    }

    /// Whether a row without a name has a further size of the material above, or another lot.
    fn is_of_material_above(&self, row: usize) -> bool {
        let filled = |column: usize| !self.table.cell(row, column).is_empty();
        let priced = || self.prices.columns.iter().any(|c| filled(c.column));
        let has = |kind| self.layout.place(kind).is_some_and(filled);
        self.pack_at.is_some_and(filled) && priced()
            || has(ColumnKind::Lot)
                && (has(ColumnKind::Stock) || has(ColumnKind::Amount) || priced())
    }

    /// A row that names no material; with numbers it may be missed.
    fn leave_unnamed(&self, row: usize, text: &str, list: &mut PriceList) {
        leave(row, text, "names no material", list);
        let numbers = |cell: &&Cell| matches!(cell, Cell::Number { .. });
        let cells = self.table.rows.get(row).into_iter().flatten();
        if cells.filter(numbers).nth(1).is_some() && !is_sum(self.table, row) {
            list.assumed.push(format!(
                "row {} “{text}” has numbers but names no material, and was left out",
                row + 1
            ));
        }
    }

    /// Why what a row names is no material; `None` if it may be one.
    fn no_material(&self, row: usize, name: &str, inci: &str) -> Option<&'static str> {
        if sum_words(name).is_some() || is_sum(self.table, row) {
            return Some("a sum");
        }
        let (folded, lists) = (words_of(name), words());
        let has =
            |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
        if has(&lists.charges) && inci.is_empty() || has(&lists.tax) {
            return Some("a charge or tax, no material");
        }
        let paid = inci.is_empty() && lists.paid.contains(&folded.join(" "));
        paid.then_some("how it was paid, no material")
    }

    /// The allergen of a row, and how much of it is in a material.
    fn add_allergen(&self, row: usize, name: &str, about: &mut RowMaterial) {
        if let Some(column) = self.layout.place(ColumnKind::Percent) {
            about.add_allergen(name, self.table.cell(row, column));
        }
    }

    /// The usual level: of its column, or of one of percentages that is no recipe.
    fn use_level(&self, row: usize) -> String {
        let told = self.words(row, ColumnKind::UseLevel);
        let numbered = |column: usize| about::is_piece(&self.layout.heading(self.table, column));
        if told.is_empty()
            && !self.pieces
            && !self.of_allergens
            && self.of == ListOf::Materials
            && !self.layout.place(ColumnKind::Percent).is_some_and(numbered)
        {
            return self.words(row, ColumnKind::Percent);
        }
        told
    }

    fn piece_share(&self, row: usize) -> String {
        let share = self.words(row, ColumnKind::Percent);
        if share.is_empty() {
            self.words(row, ColumnKind::Strength)
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
                if let Some(read) = hundredths(&text, self.mark) {
                    return Ok(Some(read));
                }
                let text = without_dash(&text);
                match number::amount(text, self.mark) {
                    Ok(amount) => Ok(Some((amount.value, amount.currency))),
                    // "6.50 € / kg": the currency stands among other words.
                    Err(error) => {
                        let currency = currency_in(text);
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
                    &ColumnKind::Role,
                    &ColumnKind::UseLevel,
                    &ColumnKind::Percent,
                    &ColumnKind::Strength,
                ])
                .any(|&kind| !self.words(row, kind).is_empty())
                || about::has_components(self.table, self.layout)
                || self.of_allergens
                || self.names == self.layout.place(ColumnKind::Inci).unwrap_or(usize::MAX);
            return Ok(told.then(|| Facts {
                offers: Vec::new(),
                lot: None,
                doubts,
            }));
        }
        let (mut pack, counted) = self.pack(row, name, &mut doubts)?;
        // "2 x 500 ml": the total below proves that what stands beside it was paid for both.
        if self.add_up_as_they_stand {
            doubts.retain(|doubt| !doubt.contains(packs::IN_ALL));
        }
        let mut offers = Vec::new();
        let mut any = false;
        let row_currency = number::currency_of(&self.words(row, ColumnKind::Currency));
        for column in &self.prices.columns {
            let cell = self.table.cell(row, column.column);
            if cell.is_empty() {
                continue;
            }
            any = true;
            let in_stock = self.layout.place(ColumnKind::Stock);
            match self.offer(row, column, &mut pack, counted, row_currency, &mut doubts) {
                Ok(offer) => offers.extend(offer),
                // What is in stock is worth knowing without its price.
                Err(message) if in_stock.is_some_and(|c| !self.table.cell(row, c).is_empty()) => {
                    doubts.push(format!("the price was left out: {message}"));
                }
                Err(message) => return Err(message),
            }
        }
        offers.extend(self.further_offers(row, &mut doubts));
        if offers.len() == 1 {
            doubts.extend(self.against_gross(row));
        }
        let of_dollars = |o: &ProposedOffer| o.currency.to_string() == "USD";
        if offers.iter().any(of_dollars) && offers.iter().all(of_dollars) {
            doubts.retain(|doubt| doubt != packs::US_GALLONS);
        }
        // The price of a unit is that of one of the packs.
        let mut against = offers.iter().map(|o| self.against_other_unit(row, o));
        if let Some(first) = against.next()
            && against.all(|told| told.is_some())
        {
            doubts.extend(first);
        }
        let mut lot = self.lot(row, pack, counted, offers.first(), &mut doubts)?;
        if offers.is_empty()
            && lot.is_none()
            && let Some(pack) = pack
        {
            // A pack without a price is worth knowing.
            offers.push(ProposedOffer {
                pack,
                price: None,
                currency: row_currency.unwrap_or(self.currency),
                day: None,
                supplier: String::new(),
            });
        }
        let day = self.day(row, ColumnKind::Dated, &mut doubts);
        for offer in &mut offers {
            offer.day = day;
        }
        if let Some(lot) = &mut lot {
            lot.received = day;
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
}

/// A price in hundredths of money: "95p", "80 ct".
fn hundredths(text: &str, mark: Option<DecimalMark>) -> Option<(Decimal, Option<Currency>)> {
    let end = text.rfind(|c: char| c.is_ascii_digit())? + 1;
    let (number, unit) = text.split_at(end);
    let unit = unit.trim().trim_end_matches('.').to_lowercase();
    let of = words().minor_money.get(&unit)?;
    let value = number::amount(number, mark).ok()?;
    let plain = value.unit.is_none() && value.currency.is_none();
    plain.then(|| (value.value / Decimal::ONE_HUNDRED, Currency::new(of)))
}

/// A price without the dash that stands for no hundredths: "Fr. 11.–", "12,-".
fn without_dash(text: &str) -> &str {
    let bare = text.trim().trim_end_matches(['-', '–', '—']);
    let dashed = bare.len() < text.trim().len();
    match bare.strip_suffix(['.', ',']) {
        Some(whole) if dashed && whole.ends_with(|c: char| c.is_ascii_digit()) => whole,
        _ => text,
    }
}

/// The currency that the sums below a list name: "TOTAL GBP".
fn currency_of_sum(table: &Table, layout: &Layout) -> Option<Currency> {
    (layout.first_row()..table.rows.len()).find_map(|row| {
        let cells = table.rows.get(row).into_iter().flatten();
        let label = cells.into_iter().find_map(|cell| match cell {
            Cell::Text(text) if text.contains(char::is_alphabetic) => Some(text),
            _ => None,
        })?;
        let is_sum = words_of(label)
            .iter()
            .any(|w| words().totals.contains(w) || words().subtotals.contains(w));
        is_sum.then(|| currency_in(label)).flatten()
    })
}
