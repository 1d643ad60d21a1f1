//! Keeping the books in another currency.
//!
//! Prices of lots and offers name their currency and stay as they are. Rates, prices of packaging
//! and what a batch costs besides name none: they are in the currency of the books, and are turned
//! into the new one together with it, or the currency stays.

use rust_decimal::RoundingStrategy;

use crate::batch::cost_inputs::CostInputs;
use crate::batch::workshop::Workshop;
use crate::quantity::{Currency, Decimal};
use crate::stock::Stock;

/// Digits after the point of an amount: a hundredth of a cent, as a line of cost.
const DIGITS: u32 = 4;
/// Digits that count in a small amount, and in a rate.
const SMALL: u32 = 4;
const OF_A_RATE: u32 = 10;

/// Stock and workshop kept in another currency.
#[derive(Clone, PartialEq, Debug)]
pub struct Turned {
    /// The stock.
    pub stock: Stock,
    /// The workshop.
    pub workshop: Workshop,
    /// What became of each rate and amount without a currency of its own, in words: what stood
    /// there and what stands there now.
    pub said: Vec<String>,
}

/// Why the books cannot be kept in another currency.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum CannotTurn {
    /// No rate tells what amounts become.
    #[error(
        "what one {to} is worth in {from} is not known, and {count} entered without a currency of their own would become {to} as they stand; set the rate of {to} first"
    )]
    NoRate {
        /// The currency asked for.
        to: Currency,
        /// The currency of the books.
        from: Currency,
        /// What would have to be converted, in words.
        count: String,
    },
    /// Numbers beyond decimal arithmetic.
    #[error("an amount or a rate is too large or too small to be converted")]
    TooLarge,
}

/// An amount in the new currency: to a hundredth of a cent, a small one to four digits.
fn amount_in(amount: Decimal, rate: Decimal) -> Result<Decimal, CannotTurn> {
    let exact = amount.checked_div(rate).ok_or(CannotTurn::TooLarge)?;
    let halves = RoundingStrategy::MidpointAwayFromZero;
    let coarse = exact.round_dp_with_strategy(DIGITS, halves);
    let fine = exact
        .round_sf_with_strategy(SMALL, halves)
        .ok_or(CannotTurn::TooLarge)?;
    let nearer = if (fine - exact).abs() < (coarse - exact).abs() {
        fine
    } else {
        coarse
    };
    if nearer.is_zero() && !amount.is_zero() {
        return Err(CannotTurn::TooLarge);
    }
    Ok(nearer.normalize())
}

fn rate_in(worth: Decimal, rate: Decimal) -> Result<Decimal, CannotTurn> {
    worth
        .checked_div(rate)
        .and_then(|exact| {
            exact.round_sf_with_strategy(OF_A_RATE, RoundingStrategy::MidpointAwayFromZero)
        })
        .filter(|worth| *worth > Decimal::ZERO)
        .map(|worth| worth.normalize())
        .ok_or(CannotTurn::TooLarge)
}

/// How much there is that names no currency of its own: rates and amounts.
fn without_currency(stock: &Stock, workshop: &Workshop) -> (usize, usize) {
    let mut amounts = 0;
    let mut copies = (stock.clone(), workshop.clone());
    each_amount(&mut copies.0, &mut copies.1, |_, _| {
        amounts += 1;
        Ok(())
    })
    .unwrap_or_default();
    (stock.rates.len(), amounts)
}

/// Every amount in the currency of the books, with what it is in words.
fn each_amount(
    stock: &mut Stock,
    workshop: &mut Workshop,
    mut act: impl FnMut(String, &mut Decimal) -> Result<(), CannotTurn>,
) -> Result<(), CannotTurn> {
    for lot in &mut stock.packaging {
        if let Some(price) = &mut lot.price_each {
            act(format!("{} (packaging {})", lot.what, lot.id), price)?;
        }
    }
    each_cost(&mut workshop.costs, &mut act)?;
    for habits in workshop.products.values_mut() {
        if let Some(costs) = &mut habits.costs {
            each_cost(costs, &mut act)?;
        }
    }
    Ok(())
}

fn each_cost(
    costs: &mut CostInputs,
    act: &mut impl FnMut(String, &mut Decimal) -> Result<(), CannotTurn>,
) -> Result<(), CannotTurn> {
    let CostInputs {
        packaging,
        labour,
        overhead,
    } = costs;
    let packaging = packaging
        .iter_mut()
        .map(|p| (&p.name, "for one container", p.per_container.as_mut()));
    let labour = labour
        .iter_mut()
        .map(|l| (&l.name, "an hour", l.per_hour.as_mut()));
    let overhead = overhead
        .iter_mut()
        .map(|o| (&o.name, "for the batch", o.per_batch.as_mut()));
    for (name, per, amount) in packaging.chain(labour).chain(overhead) {
        if let Some(amount) = amount {
            act(format!("{name} {per}"), amount)?;
        }
    }
    Ok(())
}

/// The books kept in another currency: amounts and rates that name no currency of their own are
/// turned into it by its rate.
///
/// # Errors
/// That its rate is not known though something would have to be converted, or that numbers are
/// beyond arithmetic.
pub fn kept_in(stock: &Stock, workshop: &Workshop, to: Currency) -> Result<Turned, CannotTurn> {
    let from = stock.home;
    let mut turned = Turned {
        stock: stock.clone(),
        workshop: workshop.clone(),
        said: Vec::new(),
    };
    if to == from {
        return Ok(turned);
    }
    turned.stock.home = to;
    let (rates, amounts) = without_currency(stock, workshop);
    if rates + amounts == 0 {
        return Ok(turned);
    }
    let rate = stock.rate(to).filter(|rate| *rate > Decimal::ZERO);
    let rate = rate.ok_or_else(|| CannotTurn::NoRate {
        to,
        from,
        count: counted(rates, amounts),
    })?;
    let said = &mut turned.said;
    turned.stock.rates.clear();
    for (other, worth) in &stock.rates {
        let (other, now) = if *other == to {
            (from, rate_in(Decimal::ONE, rate)?)
        } else {
            (*other, rate_in(*worth, rate)?)
        };
        turned.stock.rates.insert(other, now);
        if other == from {
            said.push(format!("1 {to} is {rate} {from}: 1 {from} is {now} {to}"));
        } else {
            said.push(format!(
                "1 {other} is {worth} {from}: 1 {other} is {now} {to}"
            ));
        }
    }
    each_amount(&mut turned.stock, &mut turned.workshop, |what, amount| {
        let now = amount_in(*amount, rate)?;
        said.push(format!("{what}: {amount} {from} becomes {now} {to}"));
        *amount = now;
        Ok(())
    })?;
    Ok(turned)
}

/// Stock and workshop as two windows began with them, as one has them, as the other has them.
pub type Three = [(Stock, Workshop); 3];

/// Puts three states of the books into one currency, that they can be joined amount by amount:
/// the one the last of them is kept in if it was changed there, otherwise the one the second is
/// kept in. Each is converted by its own rate.
///
/// # Errors
/// That one of them cannot be converted.
pub fn in_one_currency(states: Three) -> Result<Three, CannotTurn> {
    let [(base, _), (ours, _), (theirs, _)] = &states;
    let to = if theirs.home == base.home {
        ours.home
    } else {
        theirs.home
    };
    if [base, ours, theirs].iter().all(|stock| stock.home == to) {
        return Ok(states);
    }
    let [base, ours, theirs] = states.map(|(stock, workshop)| {
        kept_in(&stock, &workshop, to).map(|turned| (turned.stock, turned.workshop))
    });
    Ok([base?, ours?, theirs?])
}

fn counted(rates: usize, amounts: usize) -> String {
    let of = |count: usize, one: &str, more: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {more}")),
    };
    let parts = [of(amounts, "amount", "amounts"), of(rates, "rate", "rates")];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    parts.join(" and ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::cost_inputs::{Labour, Overhead, Packaging};
    use crate::formula::Date;
    use crate::stock::LotId;
    use crate::stock::packaging::PackagingLot;

    fn currency(code: &str) -> Currency {
        Currency::new(code).unwrap()
    }

    fn decimal(text: &str) -> Decimal {
        text.parse().unwrap()
    }

    fn books() -> (Stock, Workshop) {
        let mut stock = Stock::new(Currency::EUR);
        stock.rates.insert(currency("USD"), decimal("0.9"));
        stock.rates.insert(currency("GBP"), decimal("1.15"));
        stock.packaging.push(PackagingLot {
            id: LotId::new("B-1").unwrap(),
            what: "bottle".into(),
            supplier: "".into(),
            supplier_lot: "".into(),
            received: Date::constant(2026, 3, 2),
            pieces: 100,
            price_each: Some(decimal("0.50")),
            low_below: None,
            note: "".into(),
        });
        let mut workshop = Workshop::default();
        workshop.costs.labour.push(Labour {
            name: "filling".into(),
            minutes: 60,
            per_hour: Some(decimal("23")),
        });
        let costs = CostInputs {
            packaging: vec![Packaging {
                name: "seal".into(),
                per_container: Some(decimal("0.0007")),
            }],
            overhead: vec![Overhead {
                name: "rent".into(),
                per_batch: None,
            }],
            ..CostInputs::default()
        };
        let gel = workshop.products.entry("Gel".into()).or_default();
        gel.costs = Some(costs);
        (stock, workshop)
    }

    #[test]
    fn what_names_no_currency_is_converted_and_said() {
        let (stock, workshop) = books();
        let turned = kept_in(&stock, &workshop, currency("GBP")).unwrap();
        assert_eq!(turned.stock.home, currency("GBP"));
        let rates = &turned.stock.rates;
        assert_eq!(rates.len(), 2);
        assert_eq!(rates[&Currency::EUR], decimal("0.8695652174"));
        assert_eq!(rates[&currency("USD")], decimal("0.7826086957"));
        let each = turned.stock.packaging[0].price_each;
        assert_eq!(each, Some(decimal("0.4348")));
        assert_eq!(
            turned.workshop.costs.labour[0].per_hour,
            Some(decimal("20"))
        );
        // A tenth of a cent does not lose its digits.
        let own = turned.workshop.costs_of("Gel");
        assert_eq!(own.packaging[0].per_container, Some(decimal("0.0006087")));
        assert_eq!(own.overhead[0].per_batch, None);
        let said = turned.said.join("\n");
        assert!(
            said.contains("1 GBP is 1.15 EUR: 1 EUR is 0.8695652174 GBP"),
            "{said}"
        );
        assert!(
            said.contains("bottle (packaging B-1): 0.50 EUR becomes 0.4348 GBP"),
            "{said}"
        );
        assert_eq!(turned.said.len(), 5);
        // The rates come back as they were typed.
        let back = kept_in(&turned.stock, &turned.workshop, Currency::EUR).unwrap();
        assert_eq!(back.stock.rates, stock.rates);
    }

    #[test]
    fn without_a_rate_nothing_is_made_another_currency() {
        let (stock, workshop) = books();
        let why = kept_in(&stock, &workshop, currency("SEK")).unwrap_err();
        assert!(why.to_string().contains("3 amounts and 2 rates"), "{why}");
        // Empty books are kept in whatever is asked for.
        let empty = Stock::new(Currency::EUR);
        let turned = kept_in(&empty, &Workshop::default(), currency("SEK")).unwrap();
        assert_eq!(turned.stock, Stock::new(currency("SEK")));
        assert!(turned.said.is_empty());
        let same = kept_in(&stock, &workshop, Currency::EUR).unwrap();
        assert_eq!((same.stock, same.workshop), (stock, workshop));
    }
}
