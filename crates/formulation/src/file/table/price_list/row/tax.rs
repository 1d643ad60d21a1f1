//! Tax in prices and beside them: rates, sums, and what these prove about the prices.

use rust_decimal::Decimal;

use super::Reader;
use super::offer::short;
use crate::amount::number;
use crate::file::table::columns::{ColumnKind, Layout};
use crate::file::table::price_list::ListOf;
use crate::file::table::price_list::columns::{PriceColumn, near};
use crate::file::table::sums::is_sum;
use crate::file::table::words::words;
use crate::file::table::{Cell, Shown, Table};
use crate::naming::words_of;

/// What the sums below a list prove about its prices.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Foot {
    /// No tax stands below.
    Nothing,
    /// The tax is added to them.
    Net,
    /// They hold the tax, of this rate if it is one for all.
    Gross(Option<Decimal>),
    /// A tax stands below, and no sum proves either.
    Open,
}

/// What the rows below and among the lines add up to.
#[derive(Default)]
struct Sums {
    /// Of the lines.
    lines: Decimal,
    /// Shipping and the like.
    charges: Decimal,
    taxes: Vec<Decimal>,
    rates: Vec<Decimal>,
    /// Every sum that is stated.
    stated: Vec<Decimal>,
    /// The rows of tax say that it is in the sum.
    contained: bool,
}

impl Sums {
    /// What they prove about the prices of the lines.
    fn prove(&self) -> Foot {
        let tax: Decimal = self.taxes.iter().sum();
        if tax <= Decimal::ZERO || self.lines <= Decimal::ZERO {
            return Foot::Nothing;
        }
        let rate = match *self.rates.as_slice() {
            [first, ref rest @ ..] if rest.iter().all(|r| *r == first) => Some(first),
            _ => None,
        };
        let hundred = Decimal::ONE_HUNDRED;
        let is_stated = |sum: Decimal| self.stated.iter().any(|s| near(*s, sum));
        let bases = [self.lines, self.lines + self.charges];
        let net = bases.iter().any(|&base| {
            is_stated(base + tax) || rate.is_some_and(|r| near(base * r / hundred, tax))
        });
        let gross = bases.iter().any(|&base| {
            is_stated(base) && is_stated(base - tax)
                || rate.is_some_and(|r| near(base * r / (hundred + r), tax))
                || self.contained && is_stated(base)
        });
        match (net, gross) {
            (true, false) => Foot::Net,
            (false, true) => {
                let base = self.lines + self.charges - tax;
                // The sum without it states the rate as well.
                let one = self.rates.is_empty() && self.taxes.len() == 1 && is_stated(base);
                Foot::Gross(rate.or_else(|| {
                    one.then(|| tax.checked_div(base))
                        .flatten()
                        .map(|share| (share * hundred).round_dp(1))
                }))
            }
            _ => Foot::Open,
        }
    }
}

impl Reader<'_> {
    /// What the sums below the list prove about its prices.
    pub(super) fn foot(&self) -> Foot {
        let ([price], ListOf::Prices) = (self.prices.columns.as_slice(), self.of) else {
            return Foot::Nothing;
        };
        let mut sums = Sums::default();
        for row in self.layout.first_row()..self.table.rows.len() {
            self.add_up(row, price, &mut sums);
        }
        sums.prove()
    }

    /// Whether the prices of the rows, as they stand, add up to a sum that is stated.
    pub(super) fn add_up_as_they_stand(&self) -> bool {
        let ([price], None) = (self.prices.columns.as_slice(), self.prices.total) else {
            return false;
        };
        let (mut lines, mut stated) = (Decimal::ZERO, Vec::new());
        for row in self.layout.first_row()..self.table.rows.len() {
            if is_sum(self.table, row) {
                stated.extend(self.last_sum(row));
            } else if !self.table.cell(row, self.names).is_empty() {
                lines += self.value(row, price.column).unwrap_or_default();
            }
        }
        !lines.is_zero() && stated.contains(&lines)
    }

    /// Adds a row to the sums.
    fn add_up(&self, row: usize, price: &PriceColumn, sums: &mut Sums) {
        let lists = words();
        let mut cells = self.table.rows.get(row).into_iter().flatten();
        let Some(label) = cells.clone().find_map(|cell| match cell {
            Cell::Text(text) if text.contains(char::is_alphabetic) => Some(text.as_str()),
            _ => None,
        }) else {
            return;
        };
        let folded = words_of(label);
        let has =
            |list: &std::collections::HashSet<String>| folded.iter().any(|w| list.contains(w));
        let says_sum = has(&lists.totals) || has(&lists.subtotals);
        let of_sums = |w: &String| {
            lists.with_tax.contains(w) || lists.without_tax.contains(w) || lists.money.contains(w)
        };
        if says_sum || folded.iter().all(of_sums) {
            sums.stated.extend(self.last_sum(row));
        } else if has(&lists.tax) {
            sums.taxes.extend(self.last_sum(row));
            sums.contained |= has(&lists.contained);
            sums.rates.extend(cells.find_map(rate_in));
        } else if has(&lists.charges) {
            sums.charges += self.last_sum(row).unwrap_or_default();
        } else if lists.paid.contains(&folded.join(" ")) {
            // It is no line and no sum.
        } else if !self.table.cell(row, self.names).is_empty() {
            let number = |column: usize| self.value(row, column);
            let total = self.prices.total.and_then(number);
            let counts =
                [ColumnKind::Packs, ColumnKind::Amount].map(|kind| self.layout.place(kind));
            let count = || counts.into_iter().flatten().find_map(number);
            let line = || {
                let each = number(price.column)?;
                each.checked_mul(count().unwrap_or(Decimal::ONE))
            };
            sums.lines += total.or_else(line).unwrap_or_default();
        }
    }

    /// The number of a cell, whatever money it is in.
    fn value(&self, row: usize, column: usize) -> Option<Decimal> {
        let read = self.number(self.table.cell(row, column)).ok()??;
        Some(read.0)
    }

    /// The last number of a row that is no percentage.
    fn last_sum(&self, row: usize) -> Option<Decimal> {
        let columns = (0..self.table.length(row)).rev();
        columns
            .filter(|&column| rate_in(self.table.cell(row, column)).is_none())
            .find_map(|column| self.value(row, column))
    }

    /// What is assumed of the prices because of tax.
    pub(super) fn assumed_of_tax(&self) -> Option<String> {
        let gross = self.told_gross || self.prices.columns.iter().any(|c| c.gross);
        let net = self.prices.columns.iter().any(|c| c.net);
        let told = match (self.foot, gross, net) {
            (Foot::Net, true, _) => "the prices are headed as with tax, but the sums below add it to them; they were taken as the heading says".to_owned(),
            (Foot::Gross(_), _, true) => "the prices are headed as without tax, but the sums below show that it is in them; they were taken as the heading says".to_owned(),
            (Foot::Net, false, _) => return None,
            (Foot::Gross(Some(rate)), false, _) => format!(
                "the sums below show that the prices hold tax of {} %, which was taken off",
                rate.normalize()
            ),
            (Foot::Gross(None), false, _) if self.of_rates => "the sums below show that the prices hold tax, which was taken off by the rate beside each".to_owned(),
            (Foot::Gross(None), false, _) => "the sums below show that the prices hold tax, whose rate they do not state; they were taken as they stand".to_owned(),
            (Foot::Open, false, false) => "a tax stands below the prices, and no sum proves whether it is in them; they were taken as prices without it".to_owned(),
            (_, true, _) => match self.rate_of_all() {
                Some(tax) => format!(
                    "the prices hold tax of {} %, which was taken off",
                    tax.normalize()
                ),
                None if self.of_rates => {
                    "the prices hold tax, which was taken off by the rate beside each".to_owned()
                }
                None if self.tax_at.is_some() => {
                    "the prices hold tax, which was taken off by the sum beside each".to_owned()
                }
                None => "the prices hold tax, whose rate the list does not state; they were taken as they stand".to_owned(),
            },
            _ if self.tax_at.is_some() && !net && !self.adds_tax() => {
                "a tax stands beside the prices; they were taken as prices without it".to_owned()
            }
            _ => return None,
        };
        Some(told)
    }

    /// The rate that all prices hold, if the file states one.
    fn rate_of_all(&self) -> Option<Decimal> {
        let below = match self.foot {
            Foot::Gross(rate) => rate,
            _ => None,
        };
        self.tax.or(below)
    }

    /// The sums of tax and the totals of all lines prove that the tax is added to the prices.
    fn adds_tax(&self) -> bool {
        let (Some(total), Some(_), [price]) = (
            self.prices.total,
            self.tax_at,
            self.prices.columns.as_slice(),
        ) else {
            return false;
        };
        let mut proved = false;
        for row in self.layout.first_row()..self.table.rows.len() {
            if self.table.cell(row, self.names).is_empty() {
                continue;
            }
            let (Some(each), Some(total)) = (self.value(row, price.column), self.value(row, total))
            else {
                continue;
            };
            match self.with_tax(row, each, total) {
                Some(true) => proved = true,
                _ => return false,
            }
        }
        proved
    }

    /// Whether a price, or that of all packs of a row, and the tax beside it make a sum; `None`
    /// if the row states no tax.
    fn with_tax(&self, row: usize, price: Decimal, sum: Decimal) -> Option<bool> {
        let column = self.tax_at?;
        let count = self
            .layout
            .place(ColumnKind::Packs)
            .or(self.layout.place(ColumnKind::Amount))
            .and_then(|column| self.value(row, column))
            .unwrap_or(Decimal::ONE);
        let bases = [price, price.saturating_mul(count)];
        let hundred = Decimal::ONE_HUNDRED;
        let fits: Box<dyn Fn(Decimal) -> bool> = if self.of_rates {
            let rate = self.rate_beside(row)?;
            Box::new(move |base| near(base + base * rate / hundred, sum))
        } else {
            let tax = self.value(row, column)?;
            Box::new(move |base| near(base + tax, sum))
        };
        Some(bases.into_iter().any(fits))
    }

    /// What the price of a row without tax, the tax and the price with it say against each
    /// other.
    pub(super) fn against_gross(&self, row: usize) -> Option<String> {
        let (gross, [net]) = (self.prices.gross?, self.prices.columns.as_slice()) else {
            return None;
        };
        let (low, high) = (self.value(row, net.column)?, self.value(row, gross)?);
        let agrees = self.with_tax(row, low, high).or_else(|| {
            // A price with tax is not below one without, nor far above.
            let highest = low * (Decimal::ONE + Decimal::new(HIGHEST, 2));
            Some(high >= low && high <= highest || self.prices.total.is_some())
        })?;
        (!agrees).then(|| {
            format!(
                "its price without tax {} and with tax {} do not agree; the one without was taken",
                low.normalize(),
                high.normalize()
            )
        })
    }

    /// The rate beside the price of a row, in percent.
    fn rate_beside(&self, row: usize) -> Option<Decimal> {
        let cell = self.table.cell(row, self.tax_at?);
        let rate = match cell {
            Cell::Number { value, shown } => {
                if *shown == Shown::Percent {
                    *value * Decimal::ONE_HUNDRED
                } else {
                    *value
                }
            }
            cell => {
                let text = cell.words();
                let bare = || Some(number::amount(&text, self.mark).ok()?.value);
                percent_in(&text).or_else(bare)?
            }
        };
        // A rate of 0.19 is one of 19 %.
        let rate = if rate > Decimal::ZERO && rate < Decimal::ONE {
            rate * Decimal::ONE_HUNDRED
        } else {
            rate
        };
        (rate >= Decimal::ZERO && rate < Decimal::ONE_HUNDRED).then_some(rate)
    }

    /// A price without the tax in it, as far as the file tells its rate or its sum.
    pub(super) fn without_tax(
        &self,
        row: usize,
        column: &PriceColumn,
        value: Decimal,
        doubts: &mut Vec<String>,
    ) -> Decimal {
        let proved = match self.foot {
            Foot::Gross(rate) => (rate.is_some() || self.of_rates) && !column.net,
            _ => false,
        };
        if !column.gross && !proved && !self.told_gross {
            return value;
        }
        let own = self.of_rates.then(|| self.rate_beside(row)).flatten();
        if let Some(rate) = own.or(self.rate_of_all()) {
            return short(value / (Decimal::ONE + rate / Decimal::ONE_HUNDRED));
        }
        if self.of_rates {
            doubts.push("its price holds tax of a rate that is not stated".to_owned());
        } else if let Some(tax) = self.tax_at.and_then(|at| self.value(row, at)) {
            // The sum of tax is that of the whole line where a sum of the line stands.
            let line = self
                .prices
                .total
                .and_then(|at| self.value(row, at))
                .unwrap_or(value);
            let share = tax
                .checked_div(line)
                .filter(|s| *s >= Decimal::ZERO && *s < Decimal::ONE);
            match share {
                Some(share) => return short(value * (Decimal::ONE - share)),
                None => doubts.push("the tax beside its price cannot be in it".to_owned()),
            }
        }
        value
    }
}

/// A rate of tax in percent that a cell states with its sign.
fn rate_in(cell: &Cell) -> Option<Decimal> {
    match cell {
        Cell::Number { value, shown } if *shown == Shown::Percent => {
            Some(*value * Decimal::ONE_HUNDRED)
        }
        Cell::Text(text) => percent_in(text),
        _ => None,
    }
}

/// The highest usual rate in percent; that of Hungary, Council Directive 2006/112/EC has no
/// highest one.
const HIGHEST: i64 = 27;

/// The column of the rate or sum of tax, which is none of prices.
pub(super) fn tax_column(table: &Table, layout: &Layout) -> Option<usize> {
    (0..table.width()).find(|&c| {
        let folded = words_of(&layout.heading(table, c));
        let lists = words();
        folded.iter().any(|w| lists.tax.contains(w))
            && !folded.iter().any(|w| {
                lists.money.contains(w)
                    || lists.with_tax.contains(w)
                    || lists.without_tax.contains(w)
            })
    })
}

/// Whether a column of tax holds rates: it or its heading has a percent sign, or the same few
/// small numbers stand in all of it.
pub(super) fn holds_rates(table: &Table, layout: &Layout, column: usize) -> bool {
    /// As many rates a country has, with 0.
    const MOST_RATES: usize = 5;
    let heading = layout.heading(table, column);
    let in_heading = percent_in(&heading);
    if heading.contains('%') && in_heading.is_none() {
        return true;
    }
    let mut values: Vec<Decimal> = Vec::new();
    let mut filled = 0_usize;
    for row in (layout.first_row()..table.rows.len()).take(300) {
        match table.cell(row, column) {
            Cell::Number { shown, .. } if *shown == Shown::Percent => return true,
            Cell::Number { value, .. } => values.push(*value),
            Cell::Text(text) if text.contains('%') => return true,
            Cell::Text(text) => values.extend(number::amount(text, None).ok().map(|a| a.value)),
            _ => continue,
        }
        filled += 1;
    }
    // "VAT 19 %" heads sums where the numbers are others.
    if let Some(rate) = in_heading {
        return values.iter().all(|v| *v == rate);
    }
    // No rate lies between a share such as 0.27 and 2 percent.
    let within = |v: &Decimal| {
        v.is_zero()
            || (Decimal::TWO..=Decimal::from(HIGHEST)).contains(v)
            || (Decimal::ZERO..=Decimal::new(HIGHEST, 2)).contains(v)
    };
    let all = !values.is_empty() && values.len() == filled && values.iter().all(within);
    values.sort_unstable();
    values.dedup();
    all && values.len() <= MOST_RATES && (values.len() < filled || filled < 3)
}

/// "19 %" in a text.
pub(super) fn percent_in(text: &str) -> Option<Decimal> {
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
