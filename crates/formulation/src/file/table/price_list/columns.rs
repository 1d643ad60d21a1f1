//! What the columns of prices say: for which pack or quantity, with or without tax, in
//! which currency, of which year.

use rust_decimal::Decimal;

use crate::amount::number::{self, Unit};
use crate::file::table::columns::{self, Kind, Layout};
use crate::file::table::money::currency_in;
use crate::file::table::packs::{Pack, from_count, least_in, within};
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table};
use crate::naming::words_of;
use crate::quantity::Currency;

/// What a price is for.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Basis {
    /// The pack of its row.
    Pack,
    /// One of whatever the row counts: "unit price".
    Each,
    /// This much: "per 100 g", "€/kg".
    Per(Pack),
    /// A pack of this size: "500 g".
    PackOf(Pack),
    /// So much of a unit at least: "from 5 kg", "5–24 kg"; for one of that unit.
    From(Decimal, Unit),
    /// A pack, where so many of them are taken at least: "from 10", "5–9".
    Count(Decimal),
    /// All packs of a row.
    Total,
}

/// A column of prices.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct PriceColumn {
    pub(super) column: usize,
    pub(super) heading: String,
    pub(super) basis: Basis,
    /// Tax is in it.
    pub(super) gross: bool,
    /// It says that tax is not in it.
    pub(super) net: bool,
    pub(super) currency: Option<Currency>,
    pub(super) year: Option<i32>,
    /// A price from which something is taken off.
    pub(super) list: bool,
}

fn has_any(folded: &[String], list: &std::collections::HashSet<String>) -> bool {
    folded.iter().any(|w| list.contains(w))
        || folded.windows(2).any(|w| list.contains(&w.join(" ")))
}

/// The unit of "per kg", "€/kg", "/ 100 g".
pub(super) fn per_unit(text: &str) -> Option<Pack> {
    let spaced = text.replace('/', " / ");
    let tokens: Vec<&str> = spaced
        .split(|c: char| c.is_whitespace() || "()[],;:'’".contains(c))
        .filter(|t| !t.is_empty())
        .collect();
    let lists = words();
    for (place, token) in tokens.iter().enumerate() {
        let per = *token == "/" || words_of(token).iter().any(|w| lists.per.contains(w));
        if !per {
            continue;
        }
        let rest = tokens.get(place + 1..).unwrap_or_default().join(" ");
        if let Some((pack, _)) = within(&rest, None) {
            return Some(pack);
        }
        if let Some(unit) = tokens.get(place + 1).and_then(|t| Unit::named(t)) {
            return Pack::of(Decimal::ONE, unit);
        }
    }
    None
}

/// "from 5 kg", "5-24 kg", "25+ kg", "ab 25 kg", "≥ 5 kg".
fn from_quantity(text: &str, folded: &[String]) -> Option<(Decimal, Unit)> {
    let unit = text
        .split(|c: char| !c.is_alphabetic())
        .filter(|t| !t.is_empty())
        .find_map(Unit::named)?;
    Some((least_in(text, folded)?, unit))
}

impl PriceColumn {
    /// Whether it is for a quantity, whatever the packs hold.
    pub(super) const fn is_per_unit(&self) -> bool {
        matches!(self.basis, Basis::Per(_))
    }

    /// What a heading says of prices; `None` if it is none of them. A heading of nothing
    /// but a size is one if `sizes`.
    fn of(column: usize, heading: &str, sizes: bool, known: Option<Kind>) -> Option<Self> {
        let folded = words_of(heading);
        let lists = words();
        // What a misspelt heading was weighed for.
        let known = known.filter(|k| matches!(k, Kind::Price | Kind::Gross | Kind::TotalPrice));
        let kind = columns::heading(heading).map(|c| c.kind);
        let kind = known.or(kind);
        let total = kind == Some(Kind::TotalPrice);
        let gross = kind == Some(Kind::Gross);
        // "VAT 19 %" is the tax itself.
        if gross
            && has_any(&folded, &lists.tax)
            && !has_any(&folded, &lists.money)
            && !has_any(&folded, &lists.with_tax)
        {
            return None;
        }
        let size = within(heading, None).map(|(pack, _)| pack);
        let money = currency_in(heading).is_some();
        let from = from_quantity(heading, &folded);
        let is_price = total || gross || kind == Some(Kind::Price)
            || (money && !matches!(kind, Some(Kind::Currency | Kind::Strength | Kind::Percent | Kind::Name)))
            // "Price 2025" is one, though it says that it is old.
            || kind == Some(Kind::Earlier) && has_any(&folded, &lists.money);
        let is_size = sizes
            && (size.is_some() || from.is_some())
            && matches!(kind, None | Some(Kind::Amount | Kind::Pack));
        let count = from_count(heading).filter(|_| {
            matches!(kind, None | Some(Kind::Amount | Kind::Packs | Kind::Price)) && !total
        });
        if !is_price && !is_size && (count.is_none() || !sizes) {
            return None;
        }
        let basis = if total {
            Basis::Total
        } else if let Some(least) = count {
            Basis::Count(least)
        } else if let Some((least, unit)) = from {
            Basis::From(least, unit)
        } else if let Some(per) = per_unit(heading) {
            Basis::Per(per)
        } else if let Some(size) = size {
            Basis::PackOf(size)
        } else if let Some(unit) = columns::heading(heading).and_then(|c| c.unit) {
            Pack::of(Decimal::ONE, unit).map_or(Basis::Pack, Basis::Per)
        } else if has_any(&folded, &lists.each) {
            Basis::Each
        } else {
            Basis::Pack
        };
        Some(Self {
            column,
            heading: heading.trim().to_owned(),
            basis,
            gross: gross || has_any(&folded, &lists.with_tax),
            net: has_any(&folded, &lists.without_tax),
            currency: currency_in(heading),
            year: folded
                .iter()
                .find_map(|w| w.parse().ok().filter(|y| (1990..2100).contains(y))),
            list: has_any(&folded, &lists.list_price),
        })
    }
}

/// The columns of prices that count, and what was left aside of the others.
#[derive(Clone, PartialEq, Debug, Default)]
pub(super) struct Prices {
    pub(super) columns: Vec<PriceColumn>,
    pub(super) doubts: Vec<String>,
    pub(super) total: Option<usize>,
    /// Those that say the same of another quantity: the price of a kilogram beside that of the
    /// pack.
    pub(super) also: Vec<PriceColumn>,
    /// Those of more packs than one, which were left out.
    pub(super) of_more: Vec<usize>,
    /// The prices with tax beside those without, which count.
    pub(super) gross: Option<usize>,
}

/// Whether enough cells of a column are numbers.
fn has_numbers(table: &Table, layout: &Layout, column: usize) -> bool {
    let (mut numbers, mut filled) = (0_usize, 0_usize);
    for row in (layout.first_row()..table.rows.len()).take(300) {
        match table.cell(row, column) {
            cell if cell.is_empty() => continue,
            Cell::Number { .. } => numbers += 1,
            Cell::Text(text) if number::amount(text, None).is_ok_and(|a| a.unit.is_none()) => {
                numbers += 1;
            }
            _ => {}
        }
        filled += 1;
    }
    numbers > 0 && numbers * 2 >= filled
}

/// Whether a product and a sum are the same but for rounding.
pub(super) fn near(a: Decimal, b: Decimal) -> bool {
    let slack = Decimal::new(2, 2).max(a.abs().saturating_mul(Decimal::new(5, 3)));
    a.saturating_sub(b).abs() <= slack
}

/// The column whose numbers are those of the quantities times a price, in every row that has
/// all three: the sums of the lines of an invoice, whatever it is called.
fn column_of_products(table: &Table, layout: &Layout, prices: &[PriceColumn]) -> Option<usize> {
    let number = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
        _ => None,
    };
    let quantities = [Kind::Amount, Kind::Packs, Kind::Stock];
    let quantity = quantities.into_iter().find_map(|kind| layout.place(kind))?;
    // So many rows tell.
    let rows = || (layout.first_row()..table.rows.len()).take(300);
    (0..table.width()).find(|&column| {
        column != quantity
            && prices.iter().any(|price| {
                let (mut fits, mut all, mut more) = (0, 0, false);
                for row in rows() {
                    let (Some(count), Some(each), Some(product)) = (
                        number(row, quantity),
                        number(row, price.column),
                        number(row, column),
                    ) else {
                        continue;
                    };
                    all += 1;
                    more |= count != Decimal::ONE;
                    fits += usize::from(near(count.saturating_mul(each), product));
                }
                column != price.column && all > 0 && fits == all && more
            })
    })
}

/// The column of prices that are those of another one less the percentage that a third states,
/// in every row: what is paid after a discount.
fn after_discount(table: &Table, layout: &Layout, prices: &[PriceColumn]) -> Option<usize> {
    let percent = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Number { value, shown } => Some(if *shown == Shown::Percent {
            *value * Decimal::ONE_HUNDRED
        } else {
            *value
        }),
        Cell::Text(text) => number::amount(text.trim_end_matches('%'), None)
            .ok()
            .filter(|a| a.unit.is_none() && a.currency.is_none())
            .map(|a| a.value),
        _ => None,
    };
    let price = |row: usize, column: usize| match table.cell(row, column) {
        Cell::Number { value, .. } => Some(*value),
        Cell::Text(text) => number::amount(text, None).ok().map(|a| a.value),
        _ => None,
    };
    let rows = || (layout.first_row()..table.rows.len()).take(300);
    let proves = |before: usize, off: usize, after: usize| {
        let (mut fits, mut all, mut less) = (0, 0, false);
        for row in rows() {
            let (Some(before), Some(off), Some(after)) =
                (price(row, before), percent(row, off), price(row, after))
            else {
                continue;
            };
            all += 1;
            let kept = (Decimal::ONE_HUNDRED - off.abs()) / Decimal::ONE_HUNDRED;
            fits += usize::from(near(before.saturating_mul(kept), after));
            less |= !off.is_zero();
        }
        all > 1 && fits == all && less
    };
    let columns = || prices.iter().map(|c| c.column);
    let is_price = |column: usize| columns().any(|c| c == column);
    columns().find(|&after| {
        columns().filter(|&before| before != after).any(|before| {
            (0..table.width()).any(|off| !is_price(off) && proves(before, off, after))
        })
    })
}

/// Finds the columns of prices below the headings of a table.
pub(super) fn prices(table: &Table, layout: &Layout, chosen: bool) -> Prices {
    let mut found = Prices::default();
    if layout.headings.is_none() {
        if let Some(column) = layout.place(Kind::Price) {
            found.columns.push(bare(column, String::new()));
        }
        return found;
    }
    let heading = |column: usize| layout.heading(table, column);
    if chosen && let Some(column) = layout.place(Kind::Price) {
        // The maker has said which one.
        let one = PriceColumn::of(column, &heading(column), true, None)
            .unwrap_or_else(|| bare(column, heading(column)));
        found.columns.push(one);
        return found;
    }
    let mut all = priced_columns(table, layout);
    found.leave_out_totals(table, layout, &mut all);
    // Prices without tax count where both stand.
    if all.iter().any(|c| !c.gross) {
        found.gross = all.iter().find(|c| c.gross).map(|c| c.column);
        all.retain(|c| !c.gross);
    }
    found.leave_out_list_prices(table, layout, &mut all);
    found.keep_newest(&mut all);
    found.keep_single(&mut all);
    if found.are_tiers(&mut all) || are_of_packs(layout, &mut all) {
        found.columns = all;
    } else {
        found.take_best(layout, all);
    }
    found
}

/// The columns that may hold prices, whatever they are for.
fn priced_columns(table: &Table, layout: &Layout) -> Vec<PriceColumn> {
    let heading = |column: usize| layout.heading(table, column);
    let sizes = (0..table.width())
        .filter(|&c| {
            let text = heading(c);
            let sized = within(&text, None).is_some()
                || from_quantity(&text, &words_of(&text)).is_some()
                || from_count(&text).is_some();
            sized && has_numbers(table, layout, c)
        })
        .count()
        >= 2;
    (0..table.width())
        .filter(|&c| {
            let fixed = layout.columns.get(c).copied().flatten().map(|k| k.kind);
            let of_count = fixed == Some(Kind::Packs) && from_count(&heading(c)).is_some();
            of_count
                || !matches!(
                    fixed,
                    Some(
                        Kind::Name
                            | Kind::Inci
                            | Kind::Lot
                            | Kind::Expiry
                            | Kind::Dated
                            | Kind::Stock
                            | Kind::Currency
                            | Kind::Packs
                    )
                )
        })
        .filter_map(|c| {
            let known = layout.columns.get(c).copied().flatten().map(|k| k.kind);
            PriceColumn::of(c, &heading(c), sizes, known)
        })
        .filter(|c| {
            layout.place(Kind::Price) == Some(c.column) || has_numbers(table, layout, c.column)
        })
        .collect()
}

impl Prices {
    /// The price of all packs of a row is none of a pack, unless there is no other.
    fn leave_out_totals(&mut self, table: &Table, layout: &Layout, all: &mut Vec<PriceColumn>) {
        self.total = all
            .iter()
            .find(|c| c.basis == Basis::Total)
            .map(|c| c.column);
        if all.iter().any(|c| c.basis != Basis::Total) {
            all.retain(|c| c.basis != Basis::Total);
        }
        if self.total.is_none() {
            self.total = column_of_products(table, layout, all);
            all.retain(|c| Some(c.column) != self.total);
        }
    }

    /// Of prices before and after a discount those that are paid count.
    fn leave_out_list_prices(
        &mut self,
        table: &Table,
        layout: &Layout,
        all: &mut Vec<PriceColumn>,
    ) {
        let after = after_discount(table, layout, all);
        if let Some(after) = after {
            all.retain(|c| c.column == after);
        }
        // A discount beside a price that is not said to be the one after it.
        let discounts: Vec<String> = (0..table.width())
            .map(|column| layout.heading(table, column))
            .filter(|text| {
                let folded = words_of(text);
                folded.iter().any(|w| words().discount.contains(w))
                    && !folded.iter().any(|w| words().money.contains(w))
            })
            .collect();
        if !discounts.is_empty() && after.is_none() && !all.iter().any(|c| c.net) {
            self.doubts.push(format!(
                "a discount stands in “{}”; the prices were taken without it",
                discounts.join("”, “")
            ));
        }
        // What is really paid counts, not the price of the list.
        if all.iter().any(|c| !c.list) {
            all.retain(|c| !c.list);
        }
    }

    /// Of the prices of several years the newest count.
    fn keep_newest(&mut self, all: &mut Vec<PriceColumn>) {
        if let Some(newest) = all.iter().filter_map(|c| c.year).max()
            && all.iter().filter(|c| c.year.is_some()).count() > 1
        {
            let older: Vec<String> = all
                .iter()
                .filter(|c| c.year.is_some_and(|y| y < newest))
                .map(|c| format!("“{}”", c.heading))
                .collect();
            all.retain(|c| c.year.is_none_or(|y| y == newest));
            self.doubts.push(format!(
                "the prices of {newest} were taken, {} left out",
                older.join(", ")
            ));
        }
    }

    /// Of the prices by the number of packs the one of the fewest counts.
    fn keep_single(&mut self, all: &mut Vec<PriceColumn>) {
        let least = |c: &PriceColumn| match c.basis {
            Basis::Count(least) => Some(least),
            _ => None,
        };
        let tiers = all.iter().filter(|c| least(c).is_some()).count();
        let single = all
            .iter()
            .any(|c| matches!(c.basis, Basis::Pack | Basis::Each));
        // Beside the price of one, "from 10" alone is that of more.
        let Some(fewest) = all.iter().filter_map(least).min() else {
            return;
        };
        if single {
            let more: Vec<String> = all
                .iter()
                .filter(|c| least(c).is_some())
                .map(|c| format!("“{}”", c.heading))
                .collect();
            let of_more = all.iter().filter(|c| least(c).is_some());
            self.of_more = of_more.map(|c| c.column).collect();
            all.retain(|c| least(c).is_none());
            self.doubts.push(format!(
                "the prices of a single pack were taken, those of more, {}, left out",
                more.join(", ")
            ));
            return;
        }
        let more: Vec<String> = all
            .iter()
            .filter(|c| least(c).is_some_and(|least| least != fewest))
            .map(|c| format!("“{}”", c.heading))
            .collect();
        let of_more = all
            .iter()
            .filter(|c| least(c).is_some_and(|least| least != fewest));
        self.of_more = of_more.map(|c| c.column).collect();
        all.retain(|c| least(c).is_none_or(|least| least == fewest));
        for column in all.iter_mut().filter(|c| least(c).is_some()) {
            let of = column.heading.clone();
            column.basis = Basis::Pack;
            let left = if tiers > 1 {
                format!(", those of more, {}, left out", more.join(", "))
            } else {
                String::new()
            };
            self.doubts
                .push(format!("the prices of “{of}” packs were taken{left}"));
        }
    }

    /// Whether the prices are those of several sizes, of which each counts.
    fn are_tiers(&mut self, all: &mut Vec<PriceColumn>) -> bool {
        let tier = |c: &PriceColumn| matches!(c.basis, Basis::PackOf(_) | Basis::From(..));
        let tiers = all.iter().filter(|c| tier(c)).count();
        let of_sizes = tiers > 0
            && (tiers > 1 || tiers == all.len() || all.iter().all(|c| tier(c) || c.is_per_unit()));
        if of_sizes {
            // The price of a kilogram beside that of a pack says the same twice.
            self.also = all.iter().filter(|c| c.is_per_unit()).cloned().collect();
            let aside: Vec<&PriceColumn> = all
                .iter()
                .filter(|c| !tier(c) && !c.is_per_unit())
                .collect();
            if !aside.is_empty() {
                let names: Vec<String> = aside.iter().map(|c| format!("“{}”", c.heading)).collect();
                self.doubts.push(format!(
                    "the prices by size were taken, {} left out",
                    names.join(", ")
                ));
            }
            all.retain(tier);
        }
        of_sizes
    }

    /// Of several prices the one of the pack is taken before one that has to be multiplied.
    fn take_best(&mut self, layout: &Layout, mut all: Vec<PriceColumn>) {
        let has_pack = layout.place(Kind::Pack).is_some()
            || layout.place(Kind::Amount).is_some() && layout.unit(Kind::Amount).is_some();
        let rank = |c: &PriceColumn| match c.basis {
            Basis::Pack | Basis::Each if has_pack => 0,
            Basis::Per(_) => 1,
            Basis::Pack | Basis::Each => 2,
            Basis::PackOf(_) | Basis::From(..) | Basis::Count(_) => 3,
            Basis::Total => 4,
        };
        all.sort_by_key(|c| (rank(c), c.column));
        let mut columns = all.into_iter();
        if let Some(best) = columns.next() {
            let others: Vec<PriceColumn> = columns.collect();
            // Prices of the pack and per kilogram say the same twice.
            let same = |c: &PriceColumn| {
                matches!(c.basis, Basis::Per(_)) != matches!(best.basis, Basis::Per(_))
            };
            let aside: Vec<String> = others
                .iter()
                .filter(|c| !same(c))
                .map(|c| format!("“{}”", c.heading))
                .collect();
            if !aside.is_empty() {
                self.doubts.push(format!(
                    "several columns hold a price: “{}” was taken, {} left out",
                    best.heading,
                    aside.join(", ")
                ));
            }
            self.also = others.iter().filter(|c| same(c)).cloned().collect();
            self.columns.push(best);
        }
    }
}

/// Whether prices for several quantities, none of them of a pack, are prices of packs.
fn are_of_packs(layout: &Layout, all: &mut [PriceColumn]) -> bool {
    let sizes_of = |c: &PriceColumn| match c.basis {
        Basis::Per(size) => Some(size),
        _ => None,
    };
    let several = all.iter().filter_map(sizes_of).collect::<Vec<_>>();
    let of_packs = several.len() == all.len()
        && several.len() > 1
        && layout.place(Kind::Pack).is_none()
        && several
            .iter()
            .all(|a| several.iter().filter(|b| a == *b).count() == 1);
    if of_packs {
        for column in all {
            if let Some(size) = sizes_of(column) {
                column.basis = Basis::PackOf(size);
            }
        }
    }
    of_packs
}

fn bare(column: usize, heading: String) -> PriceColumn {
    PriceColumn {
        column,
        heading,
        basis: Basis::Pack,
        gross: false,
        net: false,
        currency: None,
        year: None,
        list: false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_of_prices_say_what_they_are_for() {
        let grams = |n: i64| Pack::Grams(Decimal::from(n));
        let check = |heading: &str, basis: Basis| {
            let found = PriceColumn::of(0, heading, true, None);
            assert_eq!(found.map(|c| c.basis), Some(basis), "{heading}");
        };
        check("Price per 100 g (EUR)", Basis::Per(grams(100)));
        check("Preis je 500 g", Basis::Per(grams(500)));
        check("Preis pro kg (EUR)", Basis::Per(grams(1000)));
        check("EUR/kg", Basis::Per(grams(1000)));
        check("Price/g", Basis::Per(grams(1)));
        check("Price (kg)", Basis::Per(grams(1000)));
        check("500 g", Basis::PackOf(grams(500)));
        check("Price 250g €", Basis::PackOf(grams(250)));
        check("25+ kg", Basis::From(Decimal::from(25), Unit::Kilogram));
        check("5-24 kg", Basis::From(Decimal::from(5), Unit::Kilogram));
        check("ab 5 kg", Basis::From(Decimal::from(5), Unit::Kilogram));
        check(
            "ab 2,5 kg",
            Basis::From(Decimal::new(25, 1), Unit::Kilogram),
        );
        check(
            "from 0.5 kg",
            Basis::From(Decimal::new(5, 1), Unit::Kilogram),
        );
        check("1 à 4", Basis::Count(Decimal::ONE));
        check("Quantité commandée 5 à 9", Basis::Count(Decimal::from(5)));
        check("10 et +", Basis::Count(Decimal::TEN));
        check("ab 10 Stück", Basis::Count(Decimal::TEN));
        check("Unit price", Basis::Each);
        check("Line total", Basis::Total);
        check("Price", Basis::Pack);
        let gross = PriceColumn::of(0, "Price incl. VAT (EUR)", false, None).unwrap();
        assert_eq!((gross.gross, gross.currency), (true, Currency::new("EUR")));
        assert_eq!(PriceColumn::of(0, "VAT 19 %", false, None), None);
        assert_eq!(PriceColumn::of(0, "Colour", true, None), None);
    }
}
