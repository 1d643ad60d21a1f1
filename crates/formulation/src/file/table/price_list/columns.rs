//! Which columns of prices count, and what is left aside of the others.

use rust_decimal::Decimal;

use super::above;
pub(super) use super::price_column::{Basis, PriceColumn, per_unit};
use super::price_column::{bare, from_quantity};
use crate::amount::number;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::packs::{from_count, within};
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table};
use crate::naming::words_of;

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
    let quantities = [ColumnKind::Amount, ColumnKind::Packs, ColumnKind::Stock];
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
        if let Some(column) = layout.place(ColumnKind::Price) {
            found.columns.push(bare(column, String::new()));
        }
        return found;
    }
    let heading = |column: usize| layout.heading(table, column);
    if chosen && let Some(column) = layout.place(ColumnKind::Price) {
        // The maker has said which one.
        let one = PriceColumn::of(column, &heading(column), true, None)
            .unwrap_or_else(|| bare(column, heading(column)));
        found.columns.push(one);
        return found;
    }
    let mut all = priced_columns(table, layout);
    if all.is_empty() {
        all = above::columns_of_prices(table, layout);
        found.tell_suppliers(&all);
    }
    found.leave_out_totals(table, layout, &mut all);
    // Prices without tax count where both stand.
    if all.iter().any(|c| !c.gross) {
        found.gross = all.iter().find(|c| c.gross).map(|c| c.column);
        all.retain(|c| !c.gross);
    }
    found.leave_out_list_prices(table, layout, &mut all);
    found.keep_newest(&mut all);
    found.keep_single(&mut all);
    let of_suppliers = all.iter().any(|c| !c.supplier.is_empty());
    if of_suppliers || found.are_tiers(&mut all) || are_of_packs(layout, &mut all) {
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
            let of_count = fixed == Some(ColumnKind::Packs) && from_count(&heading(c)).is_some();
            of_count
                || !matches!(
                    fixed,
                    Some(
                        ColumnKind::Name
                            | ColumnKind::Inci
                            | ColumnKind::Lot
                            | ColumnKind::Expiry
                            | ColumnKind::Dated
                            | ColumnKind::Stock
                            | ColumnKind::Currency
                            | ColumnKind::Packs
                    )
                )
        })
        .filter_map(|c| {
            let known = layout.columns.get(c).copied().flatten().map(|k| k.kind);
            PriceColumn::of(c, &heading(c), sizes, known)
        })
        .filter(|c| {
            layout.place(ColumnKind::Price) == Some(c.column)
                || has_numbers(table, layout, c.column)
        })
        .collect()
}

impl Prices {
    /// That headings were taken for the names of who sells.
    fn tell_suppliers(&mut self, all: &[PriceColumn]) {
        let named = all.iter().filter(|c| !c.supplier.is_empty());
        let names: Vec<String> = named.map(|c| format!("“{}”", c.supplier)).collect();
        if !names.is_empty() {
            self.doubts.push(format!(
                "a line above the list says that there are prices; {} were taken as who asks them",
                names.join(", ")
            ));
        }
    }

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
        let has_pack = layout.place(ColumnKind::Pack).is_some()
            || layout.place(ColumnKind::Amount).is_some()
                && layout.unit(ColumnKind::Amount).is_some();
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
        && layout.place(ColumnKind::Pack).is_none()
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::table::choose::recognise;
    use crate::file::table::text;

    fn read(text: &str) -> (Vec<PriceColumn>, Vec<String>) {
        let table = text::read(text).unwrap();
        let found = prices(&table, &recognise(&table).unwrap(), false);
        (found.columns, found.doubts)
    }

    #[test]
    fn the_newest_year_is_the_price_of_today() {
        let (columns, doubts) = read(
            "Prices paid, £ per kg;;;\nMaterial;2024;2025;2026\nOlive oil;7.10;8.40;8.95\nCoconut oil;3.20;3.90;4.60\n",
        );
        let headings: Vec<&str> = columns.iter().map(|c| c.heading.as_str()).collect();
        assert_eq!(headings, ["2026"]);
        assert!(columns[0].is_per_unit());
        assert!(doubts[0].contains("“2024”, “2025” left out"), "{doubts:?}");
    }

    #[test]
    fn suppliers_beside_each_other_have_a_price_each() {
        let (columns, doubts) = read(
            "All prices EUR per kg, net;;;\nMaterial;Harrow Chem;Fell Oils;Cheapest\nGlycerin;2.95;3.10;Harrow Chem\nStearic acid;4.40;4.15;Fell Oils\n",
        );
        let suppliers: Vec<&str> = columns.iter().map(|c| c.supplier.as_str()).collect();
        assert_eq!(suppliers, ["Harrow Chem", "Fell Oils"]);
        assert!(columns.iter().all(|c| c.net));
        assert!(
            doubts[0].contains("“Harrow Chem”, “Fell Oils”"),
            "{doubts:?}"
        );
    }

    #[test]
    fn a_recipe_below_a_line_of_costs_has_no_prices() {
        let (columns, _) = read(
            "Cost price 3.20 EUR per kg;;\nIngredient;%;Trial 2\nWater;70;68\nOlive oil;30;32\n",
        );
        assert_eq!(columns, Vec::new());
    }
}
