//! What the heading of a column of prices says: for which pack or quantity, with or without tax,
//! in which currency, of which year.

use rust_decimal::Decimal;

use crate::amount::number::Unit;
use crate::file::table::columns::{self, ColumnKind};
use crate::file::table::money::currency_in;
use crate::file::table::packs::{Pack, from_count, least_in, within};
use crate::file::table::words::words;
use crate::naming::words_of;
use crate::quantity::Currency;

/// A year of our time among words.
pub(super) fn year_in(folded: &[String]) -> Option<i32> {
    let mut years = folded.iter().filter_map(|word| word.parse().ok());
    years.find(|year| (1990..2100).contains(year))
}

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
    /// Who asks it, where the heading names nothing else; empty if it does not say.
    pub(super) supplier: String,
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
pub(super) fn from_quantity(text: &str, folded: &[String]) -> Option<(Decimal, Unit)> {
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
    pub(super) fn of(
        column: usize,
        heading: &str,
        sizes: bool,
        known: Option<ColumnKind>,
    ) -> Option<Self> {
        let folded = words_of(heading);
        let lists = words();
        // What a misspelt heading was weighed for.
        let known = known.filter(|k| {
            matches!(
                k,
                ColumnKind::Price | ColumnKind::Gross | ColumnKind::TotalPrice
            )
        });
        let kind = columns::heading(heading).map(|c| c.kind);
        let kind = known.or(kind);
        let total = kind == Some(ColumnKind::TotalPrice);
        let gross = kind == Some(ColumnKind::Gross);
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
        let is_price = total || gross || kind == Some(ColumnKind::Price)
            || (money && !matches!(kind, Some(ColumnKind::Currency | ColumnKind::Strength | ColumnKind::Percent | ColumnKind::Name)))
            // "Price 2025" is one, though it says that it is old.
            || kind == Some(ColumnKind::Earlier) && has_any(&folded, &lists.money);
        let is_size = sizes
            && (size.is_some() || from.is_some())
            && matches!(kind, None | Some(ColumnKind::Amount | ColumnKind::Pack));
        let count = from_count(heading).filter(|_| {
            matches!(
                kind,
                None | Some(ColumnKind::Amount | ColumnKind::Packs | ColumnKind::Price)
            ) && !total
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
            year: year_in(&folded),
            list: has_any(&folded, &lists.list_price),
            supplier: String::new(),
        })
    }
}

/// A price of a pack of which a heading says no more.
pub(super) fn bare(column: usize, heading: String) -> PriceColumn {
    PriceColumn {
        column,
        heading,
        basis: Basis::Pack,
        gross: false,
        net: false,
        currency: None,
        year: None,
        list: false,
        supplier: String::new(),
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
