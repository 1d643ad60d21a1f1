//! A supplier's price list, a delivery note, an invoice, a list of what is in stock or a
//! plain list of materials becomes offers, lots and new materials, after the maker has
//! looked through it.
//!
//! One row that cannot be read never blocks the others: every row ends as taken, asked or
//! left out with the reason.

mod about;
mod above;
mod accept;
mod allergens;
mod columns;
mod counts;
mod hundredths;
mod keyed;
mod lines;
mod pairs;
mod price_column;
mod receipt;
mod row;

use std::collections::BTreeMap;

use jiff::civil::Date;
use rust_decimal::Decimal;

pub use super::RowProgress;
pub use super::days::DayOrder;
pub use super::packs::Pack;
pub use about::RowMaterial;
pub use accept::AcceptedPrices;

use super::choose::weigh;
use super::columns::{ColumnKind, Evidence, Layout};
use super::recipe::{Decider, LeftOutRow, MaterialChoice, RecipeSettings, assumed_of};
use super::sections;
use super::weighing::columns::has_batches;
use super::{Cell, Shown, Table, cell_name};
use crate::amount::number;
use crate::naming::{Candidate, Resolver, Wanted};
use crate::quantity::Currency;

/// What a row asks for a pack.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedOffer {
    /// What the pack holds.
    pub pack: Pack,
    /// Price of the pack without tax; `None` if the list names none.
    pub price: Option<Decimal>,
    /// Currency of the price.
    pub currency: Currency,
    /// The day of the price, if the row states it.
    pub day: Option<Date>,
    /// Who asks it, where each supplier has a column; empty if that of the row does.
    pub supplier: String,
}

impl ProposedOffer {
    /// Price and pack in words: "7.80 EUR for 1000 g".
    pub fn words(&self) -> String {
        match self.price {
            Some(price) => format!("{price} {} for {}", self.currency, self.pack),
            None => format!("{}, no price", self.pack),
        }
    }
}

/// What came in, or is in stock.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedLot {
    /// Lot number as written; empty if the row has none.
    pub code: String,
    /// What a pack holds.
    pub pack: Pack,
    /// How many of them.
    pub packs: u32,
    /// Best before.
    pub expiry: Option<Date>,
    /// Price of a pack without tax.
    pub price: Option<Decimal>,
    /// Currency of the price.
    pub currency: Currency,
    /// The day on which it came in, if the row states one.
    pub received: Option<Date>,
}

impl ProposedLot {
    /// In words: "2 packs of 1000 g, lot G-77, best before 2027-05-31".
    pub fn words(&self) -> String {
        let packs = if self.packs == 1 {
            format!("1 pack of {}", self.pack)
        } else {
            format!("{} packs of {}", self.packs, self.pack)
        };
        let code = if self.code.is_empty() {
            String::new()
        } else {
            format!(", lot {}", self.code)
        };
        let expiry = self
            .expiry
            .map(|day| format!(", best before {day}"))
            .unwrap_or_default();
        format!("{packs}{code}{expiry}")
    }
}

/// One row of a list as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct ProposedPrice {
    /// Row of the table, counted from 1.
    pub row: usize,
    /// What the table says about the material.
    pub wanted: Wanted,
    /// Offers: one, one for each size, or none in a list of materials.
    pub offers: Vec<ProposedOffer>,
    /// What came in or is in stock.
    pub lot: Option<ProposedLot>,
    /// What else the row says of the material, kept where it becomes one of the maker's own.
    pub about: RowMaterial,
    /// Materials of the shelf it may mean, surest first.
    pub candidates: Vec<Candidate>,
    /// What is taken unless the maker chooses otherwise.
    pub choice: MaterialChoice,
    /// Inventory names spelt like it, for a new material.
    pub suggestions: Vec<&'static str>,
    /// What had to be assumed about it, in words.
    pub doubts: Vec<String>,
    /// How many of them, the first ones, are not about which material it is.
    pub own_doubts: usize,
}

impl ProposedPrice {
    /// Prices and packs in words: "7.80 EUR for 1000 g".
    pub fn price_words(&self) -> String {
        if self.offers.is_empty() {
            return self.lot.as_ref().map_or_else(String::new, |lot| {
                format!("{}, no price", lot.pack.times(lot.packs.into()))
            });
        }
        let offers: Vec<String> = self.offers.iter().map(ProposedOffer::words).collect();
        offers.join("; ")
    }
    /// What the material is has been chosen: doubts about it are settled, others stay.
    pub fn settle(&mut self) {
        self.doubts.truncate(self.own_doubts);
    }
    /// Whether something about it had to be assumed.
    pub fn is_doubtful(&self) -> bool {
        !self.doubts.is_empty()
            || matches!(&self.choice, MaterialChoice::Known(_, how) if how.is_doubtful())
    }
}

/// A list as it would be taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct PriceList {
    /// What the columns mean.
    pub layout: Layout,
    /// What the table says of them.
    pub evidence: Vec<Evidence>,
    /// The columns of prices, counted from 0.
    pub price_columns: Vec<usize>,
    /// Rows in order.
    pub prices: Vec<ProposedPrice>,
    /// Rows that are taken as nothing, each with the reason.
    pub left_out: Vec<LeftOutRow>,
    /// What had to be assumed about the whole, in words.
    pub assumed: Vec<String>,
    /// What the maker should know.
    pub notes: Vec<String>,
    /// How many rows have something in them.
    pub rows: usize,
    /// Supplier named above the list; empty if none is.
    pub supplier: String,
    /// The order of day and month could be either, with an example.
    pub open_days: Option<String>,
}

impl PriceList {
    /// Whether a column goes into what is made of the list; of columns of prices those that no
    /// price was taken from do not.
    pub fn takes(&self, column: usize) -> bool {
        let kind = self.layout.kind(column);
        let of_list = kind.is_some_and(|kind| kind.is_of_a_list() && kind != ColumnKind::Price);
        of_list || self.price_columns.contains(&column)
    }

    /// Everything that had to be assumed: about the whole, then row by row.
    pub fn assumptions(&self) -> Vec<String> {
        let of_rows = self
            .prices
            .iter()
            .filter_map(|l| assumed_of(l.row, &l.wanted, &l.choice, &l.doubts));
        let whole = self.assumed.iter().cloned();
        whole.chain(of_rows).collect()
    }
}

/// Why no list can be made of a table.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum PriceListError {
    /// No names, or nothing beside them.
    #[error(
        "no column of materials with a column of prices, stock, INCI names, CAS numbers or suppliers was found; give the columns headings such as “Material”, “INCI”, “Pack size” and “Price”"
    )]
    NoColumns,
    /// Columns but no rows.
    #[error("the columns were found, but no row below them can be taken in{0}")]
    NoRows(String),
    /// The maker has stopped it.
    #[error("stopped; nothing was taken in")]
    Stopped,
}

/// A receipt, a list in running lines or one of allergens with columns of its own.
struct Spread {
    table: Table,
    /// What the columns mean.
    layout: Layout,
    /// Its rows are allergens of the materials above them.
    of_allergens: bool,
    /// Further packs of running lines by row, counted from 0.
    more: BTreeMap<usize, Vec<lines::PackOfLine>>,
}

fn spread(table: &Table) -> Option<Spread> {
    let in_columns = |(table, layout), of_allergens| Spread {
        table,
        layout,
        of_allergens,
        more: BTreeMap::new(),
    };
    if let Some(found) = receipt::spread(table) {
        return Some(in_columns(found, false));
    }
    if let Some(found) = lines::spread(table) {
        return Some(Spread {
            more: found.more,
            ..in_columns((found.table, found.layout), false)
        });
    }
    if let Some(found) = allergens::spread(table) {
        return Some(in_columns(found, true));
    }
    keyed::spread(table).map(|found| in_columns(found, false))
}

/// What stands behind "INCI:" at the head of a cell.
fn inci_alone(name: &str) -> Option<&str> {
    let (key, inci) = name.split_once(':')?;
    let inci = inci.trim();
    (key.trim().eq_ignore_ascii_case("inci") && !inci.is_empty()).then_some(inci)
}

/// The columns of a list without headings in which numbers beside materials and packs can only
/// be prices, and what is assumed by that.
fn bare_prices(table: &Table, layout: &Layout) -> Option<(Layout, String)> {
    let (None, None) = (layout.headings, layout.place(ColumnKind::Price)) else {
        return None;
    };
    let names = layout.place(ColumnKind::Name)?;
    let rows = || (0..table.rows.len()).filter(move |&row| !table.cell(row, names).is_empty());
    let most = |column: usize, is: &dyn Fn(&Cell) -> bool| {
        let filled = rows().filter(|&row| !table.cell(row, column).is_empty());
        let (mut all, mut fits) = (0, 0);
        for row in filled.take(200) {
            all += 1;
            fits += usize::from(is(table.cell(row, column)));
        }
        all > 1 && fits * 10 >= all * 9
    };
    let packs = (0..table.width()).find(|&column| {
        column != names && most(column, &|cell| super::packs::is_usual(&cell.words()))
    });
    // "Glycerin, 1 kg".
    let in_names = || {
        most(names, &|cell| {
            super::packs::within(&cell.words(), None).is_some()
        })
    };
    if packs.is_none() && !in_names() {
        return None;
    }
    let is_price = |cell: &Cell| match cell {
        Cell::Number { value, shown } => *shown == Shown::Plain && value.scale() <= 2,
        Cell::Text(text) => number::amount(text, None)
            .is_ok_and(|a| a.unit.is_none() && a.value.normalize().scale() <= 2),
        _ => false,
    };
    let whole = sections::is_whole(sections::whole(table, layout, 0..table.rows.len()));
    let mut prices = (0..table.width()).filter(|&column| {
        let counts = layout.columns.get(column).copied().flatten();
        column != names
            && packs != Some(column)
            && counts.is_none_or(|c| c.kind == ColumnKind::Percent)
            && most(column, &is_price)
    });
    let price = prices.next().filter(|_| !whole)?;
    if prices.next().is_some() {
        return None;
    }
    let mut layout = layout.clone();
    if let Some(packs) = packs {
        layout.assign(packs, Some(ColumnKind::Pack));
    }
    layout.assign(price, Some(ColumnKind::Price));
    let letter = cell_name(0, price);
    let told = format!(
        "nothing says what the numbers of column {} are; beside packs they were taken for their prices",
        letter.trim_end_matches('1')
    );
    Some((layout, told))
}

/// What tells a material of a list that has no prices.
const ABOUT: [ColumnKind; 5] = [
    ColumnKind::Inci,
    ColumnKind::Cas,
    ColumnKind::Supplier,
    ColumnKind::Trade,
    ColumnKind::Composition,
];

/// What a table is a list of.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum ListOf {
    /// Prices.
    Prices,
    /// What came in or is in stock, without prices.
    Stock,
    /// Materials.
    Materials,
}

/// Whether a table is a list of prices, stock or materials rather than a recipe.
pub fn looks_like_prices(table: &Table) -> bool {
    if spread(table).is_some() {
        return true;
    }
    weigh(table).is_some_and(|weighing| {
        let layout = &weighing.layout;
        if about::with_components(table, layout).is_some() {
            return true;
        }
        if has_phases(table, layout) && layout.place(ColumnKind::Price).is_none() {
            return false;
        }
        let rows = layout.first_row()..table.rows.len();
        let percents = sections::whole(table, &weighing.layout, rows);
        let pieces = about::has_pieces(table, layout);
        if !pieces && layout.place(ColumnKind::Percent).is_some() && sections::is_whole(percents) {
            return false;
        }
        if has_batches(table, layout) {
            return false;
        }
        let paired = layout.headings.and_then(|row| pairs::in_cells(table, row));
        if paired.is_some() {
            return true;
        }
        list_of(table, layout, false).is_some()
            || counts::newest(table, layout).is_some()
            || bare_prices(table, layout).is_some()
    })
}

/// Whether a table has phases; letters beside what is in stock are those of shelves, unless the
/// heading says phases.
fn has_phases(table: &Table, layout: &Layout) -> bool {
    let has = |kind| layout.place(kind).is_some();
    let Some(column) = layout.place(ColumnKind::Phase) else {
        return false;
    };
    let of_stock = has(ColumnKind::Stock) && !has(ColumnKind::Percent) && !has(ColumnKind::Amount);
    let said = super::columns::heading(&layout.heading(table, column));
    !of_stock || said.is_some_and(|said| said.kind == ColumnKind::Phase)
}

/// What of a list of prices is as of a recipe with its costs, in words; `None` if nothing is.
///
/// Phases beside prices, or amounts beside prices of a unit where nothing else says what is
/// sold or in stock, may be either.
pub fn like_a_recipe(table: &Table) -> Option<&'static str> {
    like_a_recipe_in(table, &weigh(table)?.layout)
}

fn like_a_recipe_in(table: &Table, layout: &Layout) -> Option<&'static str> {
    let has = |kind| layout.place(kind).is_some();
    if has(ColumnKind::Phase) {
        return Some("phases");
    }
    let sold = [
        ColumnKind::Pack,
        ColumnKind::Packs,
        ColumnKind::Stock,
        ColumnKind::Lot,
        ColumnKind::Expiry,
    ];
    if sold.into_iter().any(has) {
        return None;
    }
    // Of a recipe what a line costs may stand beside the price of a unit.
    let prices = columns::prices(table, layout, false).columns;
    if has(ColumnKind::Amount) && prices.iter().any(columns::PriceColumn::is_per_unit) {
        return Some("amounts");
    }
    has(ColumnKind::Percent).then_some("percentages")
}

fn list_of(table: &Table, layout: &Layout, chosen: bool) -> Option<ListOf> {
    let has = |kind| layout.place(kind).is_some();
    if !(has(ColumnKind::Name) || has(ColumnKind::Inci)) {
        return None;
    }
    if !columns::prices(table, layout, chosen).columns.is_empty() {
        return Some(ListOf::Prices);
    }
    let measured = has(ColumnKind::Pack) || has(ColumnKind::Amount);
    let stock = has(ColumnKind::Stock)
        || measured && (has(ColumnKind::Expiry) || has(ColumnKind::Lot) && has(ColumnKind::Pack));
    if stock {
        return Some(ListOf::Stock);
    }
    // A list of INCI names needs something beside them.
    let told = if has(ColumnKind::Name) {
        ABOUT.into_iter().any(has)
    } else {
        has(ColumnKind::Cas) || has(ColumnKind::Supplier) || has(ColumnKind::Trade)
    };
    // Codes, strengths and roles without amounts are those of a list, if it has headings.
    let amounts = has(ColumnKind::Amount) || has(ColumnKind::Percent);
    let described = [
        ColumnKind::Code,
        ColumnKind::Strength,
        ColumnKind::Role,
        ColumnKind::UseLevel,
    ]
    .into_iter()
    .any(has);
    let told = told && !has(ColumnKind::Amount)
        || layout.headings.is_some() && has(ColumnKind::Name) && described && !amounts;
    let materials =
        told || about::has_components(table, layout) || about::has_pieces(table, layout);
    materials.then_some(ListOf::Materials)
}

/// Columns of numbers of which nobody knows what they are may be prices.
fn numbers_left_out(
    table: &Table,
    layout: &Layout,
    of: ListOf,
    is_used: &dyn Fn(usize) -> bool,
) -> Option<String> {
    layout.headings?;
    let of_allergens: Vec<usize> = allergens::columns(table, layout)
        .into_iter()
        .map(|(column, _)| column)
        .collect();
    let is_number = |cell: &Cell| match cell {
        Cell::Number { .. } => true,
        Cell::Text(text) => number::amount(text, None).is_ok(),
        _ => false,
    };
    // Percentages of a recipe, and prices that no price was taken from, say nothing here.
    let is_unread = |column: usize| {
        let kind = layout
            .columns
            .get(column)
            .copied()
            .flatten()
            .map(|c| c.kind);
        let unread = [
            ColumnKind::Percent,
            ColumnKind::Price,
            ColumnKind::Gross,
            ColumnKind::TotalPrice,
        ];
        // Beside what is in stock, other quantities and figures of another kind.
        let of_stock = [ColumnKind::Amount, ColumnKind::Earlier];
        let beside_stock = of == ListOf::Stock && layout.place(ColumnKind::Stock).is_some();
        kind.is_some_and(|kind| {
            of != ListOf::Materials && unread.contains(&kind)
                || beside_stock && of_stock.contains(&kind)
        })
    };
    let left: Vec<String> = (0..table.width())
        .filter(|column| {
            let taken = layout.columns.get(*column).is_some_and(Option::is_some);
            let heading = layout.heading(table, *column);
            (!taken || is_unread(*column)) && !is_used(*column) && !about::is_piece(&heading)
        })
        .filter(|column| !of_allergens.contains(column))
        .filter(|&column| {
            is_unread(column) || super::columns::heading(&layout.heading(table, column)).is_none()
        })
        .filter(|&column| {
            let rows = layout.first_row()..table.rows.len();
            let filled = rows
                .map(|row| table.cell(row, column))
                .filter(|c| !c.is_empty());
            let (mut numbers, mut all) = (0, 0);
            for cell in filled.take(200) {
                all += 1;
                numbers += usize::from(is_number(cell));
            }
            numbers > 1 && numbers * 2 > all
        })
        .map(|column| layout.heading(table, column))
        .filter(|heading| !heading.is_empty())
        .map(|heading| format!("“{heading}”"))
        .collect();
    (!left.is_empty()).then(|| {
        format!(
            "columns of numbers were left out, because nothing says what they are: {}",
            left.join(", ")
        )
    })
}

/// Reads a table as a list and matches its materials with a shelf.
pub fn propose(
    table: &Table,
    settings: &RecipeSettings,
    matcher: &Resolver<'_>,
) -> Result<PriceList, PriceListError> {
    propose_with(table, settings, matcher, &mut |_, _| true)
}

/// What the columns of a list mean, and what had to be assumed for that.
#[derive(Default)]
struct Laid {
    layout: Layout,
    evidence: Vec<Evidence>,
    doubts: Vec<String>,
}

/// What the columns of a table mean by all that it shows.
fn laid(table: &Table) -> Option<Laid> {
    let weighing = weigh(table)?;
    let mut laid = Laid {
        layout: about::with_components(table, &weighing.layout).unwrap_or(weighing.layout),
        evidence: weighing.evidence,
        doubts: weighing.name_doubt.into_iter().collect(),
    };
    // Of a list of materials a share is what each of them holds.
    if laid.layout.place(ColumnKind::Strength).is_none()
        && let Some(column) = laid.layout.place(ColumnKind::Percent)
        && super::words::words().is_of_content(&laid.layout.heading(table, column))
        && matches!(list_of(table, &laid.layout, false), Some(ListOf::Materials))
    {
        laid.layout.assign(column, Some(ColumnKind::Strength));
    }
    for other in [counts::newest, bare_prices] {
        if let Some((layout, told)) = other(table, &laid.layout) {
            laid.layout = layout;
            laid.doubts.push(told);
        }
    }
    Some(laid)
}

/// As [`propose`], telling how far it has come; it stops where `progress` says no.
pub fn propose_with(
    table: &Table,
    settings: &RecipeSettings,
    matcher: &Resolver<'_>,
    progress: &mut RowProgress<'_>,
) -> Result<PriceList, PriceListError> {
    let spread = spread(table);
    let told = spread.as_ref().map(|spread| spread.layout.clone());
    let table = spread.as_ref().map_or(table, |spread| &spread.table);
    let headings = weigh(table).and_then(|weighing| weighing.layout.headings);
    let paired = headings.filter(|_| spread.is_none() && settings.layout.is_none());
    let paired =
        paired.and_then(|row| pairs::first_of(table, row).or_else(|| pairs::in_cells(table, row)));
    let table = paired.as_ref().map_or(table, |(table, _)| table);
    let chosen = settings.layout.is_some() || told.is_some();
    let laid = match settings.layout.clone().or(told) {
        Some(layout) => Laid {
            layout,
            ..Laid::default()
        },
        None => laid(table).ok_or(PriceListError::NoColumns)?,
    };
    let layout = laid.layout.clone();
    let whole = hundredths::in_whole_money(table, &layout);
    let table = whole.as_ref().unwrap_or(table);
    let of = list_of(table, &layout, chosen).ok_or(PriceListError::NoColumns)?;
    let mut reader =
        row::Reader::new(table, &layout, settings, of, chosen).ok_or(PriceListError::NoColumns)?;
    if let Some(spread) = &spread {
        if spread.of_allergens {
            reader.take_as_allergens();
        }
        reader.take_further_packs(spread.more.clone());
    }
    if let Some((_, more)) = &paired {
        reader.take_further_packs(more.clone());
    }
    let mut list = read_rows(table, &reader, laid)?;
    reader.tell(&mut list);
    if !chosen
        && of == ListOf::Prices
        && let Some(what) = like_a_recipe_in(table, &layout)
    {
        list.assumed.push(format!(
            "{what} stand beside the prices; if this is a recipe with its costs, bring it in as a recipe"
        ));
    }
    list.assumed
        .extend(numbers_left_out(table, &list.layout, of, &|column| {
            list.price_columns.contains(&column) || reader.is_used(column)
        }));
    decide_all(&mut list, matcher, progress)?;
    Ok(list)
}

/// What the rows of a table say, before it is looked up which materials they mean.
fn read_rows(
    table: &Table,
    reader: &row::Reader<'_>,
    laid: Laid,
) -> Result<PriceList, PriceListError> {
    let mut list = PriceList {
        price_columns: reader.price_columns(),
        layout: laid.layout,
        evidence: laid.evidence,
        prices: Vec::new(),
        left_out: Vec::new(),
        assumed: laid.doubts,
        notes: Vec::new(),
        rows: 0,
        supplier: reader.supplier(),
        open_days: reader.open_days(),
    };
    list.assumed.extend(reader.assumed());
    for row in 0..table.rows.len() {
        reader.read_row(row, &mut list);
    }
    if list.prices.is_empty() {
        let reasons: Vec<String> = list
            .left_out
            .iter()
            .filter(|l| l.row > list.layout.first_row())
            .take(3)
            .map(|l| format!("; {l}"))
            .collect();
        return Err(PriceListError::NoRows(reasons.concat()));
    }
    Ok(list)
}

/// Looks up which materials the rows mean, many side by side.
fn decide_all(
    list: &mut PriceList,
    matcher: &Resolver<'_>,
    progress: &mut RowProgress<'_>,
) -> Result<(), PriceListError> {
    let mut decider = Decider::new(matcher);
    let all = list.prices.len();
    let mut done = 0;
    for rows in list.prices.chunks_mut(AT_ONCE) {
        if !progress(done, all) {
            return Err(PriceListError::Stopped);
        }
        done += rows.len();
        decider.prepare(rows.iter().map(|price| &price.wanted));
        for price in rows {
            decide(price, &mut decider);
        }
    }
    list.assumed.extend(decider.told());
    list.notes.extend(decider.note());
    Ok(())
}

/// Rows that are looked up side by side before it is told how far it is.
const AT_ONCE: usize = 2_048;

/// Which material a row means.
fn decide(price: &mut ProposedPrice, decider: &mut Decider<'_, '_>) {
    let decided = decider.decide(&price.wanted);
    price.own_doubts = price.doubts.len();
    price.candidates = decided.candidates;
    price.choice = decided.choice;
    price.suggestions = decided.suggestions;
    // To take it as new is an assumption where others come near.
    if price.choice == MaterialChoice::New
        && decided.doubts.is_empty()
        && let Some(near) = price.candidates.first()
    {
        price.doubts.push(format!(
            "it was taken as a new material; perhaps it is “{}”",
            near.name
        ));
    }
    price.doubts.extend(decided.doubts);
}

#[cfg(test)]
mod tests;
