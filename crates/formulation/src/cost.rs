//! What a batch costs: materials, packaging, labour and overhead, in exact decimal money.
//!
//! Every line is rounded once, halves upwards, to a hundredth of a cent; totals are sums of
//! the rounded lines, so the sheet adds up to the last digit. What has no price is listed
//! by name and never counted as nothing.

use std::fmt;
use std::sync::Arc;

use rust_decimal::RoundingStrategy;

pub use crate::batch::cost_inputs::{CostInputs, Labour, Overhead, Packaging};
use crate::batch::packaging_plan::is_same;
use crate::batch::record::Record;
use crate::batch::weigh_sheet::WeighSheet;
use crate::formula::ItemId;
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::quantity::{Currency, Decimal, Money};
use crate::stock::{Lot, LotId, Offer, Stock};

/// Digits after the point in a line of cost.
const DIGITS: u32 = 4;

/// An amount of money as shown: to the hundredth, halves away from zero, never cut.
pub fn cents(value: Decimal) -> String {
    let value = value.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero);
    format!("{value:.2}")
}

fn rounded(value: Decimal) -> Decimal {
    value.round_dp_with_strategy(DIGITS, RoundingStrategy::MidpointAwayFromZero)
}

/// Why something has no price.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum Unpriced {
    /// No price is entered.
    #[error("no price entered")]
    NoPrice,
    /// The lot it is weighed from has none, and nothing else tells one.
    #[error("lot {0} has no price, no other lot has one, and none is offered")]
    NoPriceOfLot(LotId),
    /// The price is in a currency without a rate.
    #[error("price in {0}, but no rate for it is entered")]
    NoRate(Currency),
    /// Paid by the container, but none is planned or filled.
    #[error("the number of containers is not known")]
    NoContainers,
    /// Numbers beyond decimal arithmetic.
    #[error("price or quantity too large to compute")]
    TooLarge,
}

/// A price of goods by mass: so much for so much, kept as the pair to stay exact.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct PriceByMass {
    /// The amount in the maker's currency.
    pub amount: Decimal,
    /// The mass it buys, above zero.
    pub mass: ExactMass,
}

impl PriceByMass {
    /// The cost of a mass, rounded to a hundredth of a cent.
    pub fn cost_of(self, mass: ExactMass) -> Result<Decimal, Unpriced> {
        let of = mass.decimal_grams();
        let per = self.mass.decimal_grams();
        self.amount
            .checked_mul(of)
            .and_then(|product| product.checked_div(per))
            .map(rounded)
            .ok_or(Unpriced::TooLarge)
    }

    /// The price of a kilogram, rounded to a hundredth of a cent.
    pub fn per_kilogram(self) -> Result<Decimal, Unpriced> {
        self.cost_of(ExactMass::from_femtograms(1_000_000_000_000_000_000))
    }
}

/// What a lot really cost: packs, its share of the freight, and the tax that cannot be
/// reclaimed, turned into the maker's currency.
pub fn landed_price(lot: &Lot, stock: &Stock) -> Result<PriceByMass, Unpriced> {
    let per_pack = lot.price_per_pack.ok_or(Unpriced::NoPrice)?;
    let rate = stock
        .rate(lot.currency)
        .ok_or(Unpriced::NoRate(lot.currency))?;
    let mass = lot.received_mass();
    if mass <= ExactMass::ZERO {
        return Err(Unpriced::NoPrice);
    }
    let tax = lot
        .tax_percent
        .checked_div(Decimal::ONE_HUNDRED)
        .and_then(|share| share.checked_add(Decimal::ONE));
    per_pack
        .checked_mul(lot.packs.into())
        .and_then(|goods| goods.checked_add(lot.freight_share))
        .and_then(|net| net.checked_mul(tax?))
        .and_then(|gross| gross.checked_mul(rate))
        .map(|amount| PriceByMass { amount, mass })
        .ok_or(Unpriced::TooLarge)
}

/// Where a price is from that is not the one of the lot that is weighed.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum PriceFrom {
    /// What another lot of the material cost.
    Lot(LotId),
    /// An offer, of a supplier whose name may be empty.
    Offer(Arc<str>),
}

impl fmt::Display for PriceFrom {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Lot(lot) => write!(f, "as lot {lot} cost"),
            Self::Offer(supplier) if supplier.is_empty() => f.write_str("as offered"),
            Self::Offer(supplier) => write!(f, "as offered by {supplier}"),
        }
    }
}

/// The price at which a material can be had, and where it is from: what the lot received
/// last cost, all in; if no lot has a price, the cheapest offer.
pub fn current_price(
    material: &MaterialId,
    stock: &Stock,
) -> Result<(PriceByMass, PriceFrom), Unpriced> {
    let latest = stock
        .lots_of(material)
        .filter(|l| l.price_per_pack.is_some())
        .max_by_key(|l| l.received);
    if let Some(lot) = latest {
        return Ok((landed_price(lot, stock)?, PriceFrom::Lot(lot.id.clone())));
    }
    let mut missing = Unpriced::NoPrice;
    let mut best: Option<(Decimal, PriceByMass, &Offer)> = None;
    for offer in stock.offers.iter().filter(|o| o.material == *material) {
        let Some(price) = offer.price else {
            continue;
        };
        let Some(rate) = stock.rate(offer.currency) else {
            missing = Unpriced::NoRate(offer.currency);
            continue;
        };
        if offer.pack <= ExactMass::ZERO {
            continue;
        }
        let by_mass = PriceByMass {
            amount: price.checked_mul(rate).ok_or(Unpriced::TooLarge)?,
            mass: offer.pack,
        };
        let per_kilogram = by_mass.per_kilogram()?;
        if best.is_none_or(|(least, ..)| per_kilogram < least) {
            best = Some((per_kilogram, by_mass, offer));
        }
    }
    best.map(|(_, price, offer)| (price, PriceFrom::Offer(offer.supplier.clone())))
        .ok_or(missing)
}

/// The price of a kilogram of a material in the maker's currency; see [`current_price`].
pub fn price_per_kilogram(material: &MaterialId, stock: &Stock) -> Result<Money, Unpriced> {
    Ok(Money {
        amount: current_price(material, stock)?.0.per_kilogram()?,
        currency: stock.home,
    })
}

/// What a line of the batch takes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct MaterialNeed {
    /// The line.
    pub line: ItemId,
    /// Its material.
    pub material: MaterialId,
    /// The material's name.
    pub name: Arc<str>,
    /// How much.
    pub mass: ExactMass,
    /// From which lots, as far as known; the rest, and what is from a lot without a price, is
    /// priced as [`current_price`] says.
    pub lots: Vec<(LotId, ExactMass)>,
}

/// What a cost is for.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum CostKind {
    /// A line of the formula.
    Material(ItemId),
    /// Packaging of all containers.
    Packaging,
    /// Labour.
    Labour,
    /// Overhead.
    Overhead,
}

/// One line of the cost sheet.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CostLine {
    /// What for.
    pub kind: CostKind,
    /// Its name.
    pub name: Arc<str>,
    /// How much of it, if it is weighed.
    pub mass: Option<ExactMass>,
    /// What it costs in the maker's currency, to a hundredth of a cent.
    pub cost: Result<Decimal, Unpriced>,
    /// Where the price is from, if all or a part of it is not that of the lots weighed.
    pub price_from: Option<PriceFrom>,
}

/// What a batch costs.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct CostSheet {
    /// The maker's currency.
    pub currency: Currency,
    /// Materials in working order, then packaging, labour, overhead.
    pub lines: Vec<CostLine>,
    /// Sum of the lines that have a price.
    pub known: Decimal,
    /// Mass of the product.
    pub product: ExactMass,
    /// Containers filled.
    pub containers: u32,
}

impl CostSheet {
    /// Lines without a price.
    pub fn unknown(&self) -> impl Iterator<Item = (&CostLine, &Unpriced)> {
        self.lines
            .iter()
            .filter_map(|l| l.cost.as_ref().err().map(|why| (l, why)))
    }

    /// Whether every line has a price, so that `known` is the cost of the batch.
    pub fn complete(&self) -> bool {
        self.lines.iter().all(|l| l.cost.is_ok())
    }

    /// Lines priced otherwise than by the lots weighed, and where their price is from.
    pub fn borrowed(&self) -> impl Iterator<Item = (&CostLine, &PriceFrom)> {
        self.lines
            .iter()
            .filter_map(|l| l.price_from.as_ref().map(|from| (l, from)))
    }

    /// Sum of the priced lines of a sort.
    pub fn sum(&self, belongs: impl Fn(CostKind) -> bool) -> Decimal {
        self.lines
            .iter()
            .filter(|l| belongs(l.kind))
            .filter_map(|l| l.cost.as_ref().ok())
            .fold(Decimal::ZERO, |sum, c| sum.saturating_add(*c))
    }

    /// Known cost of a kilogram of product, to a hundredth of a cent.
    pub fn per_kilogram(&self) -> Option<Decimal> {
        let grams = self.product.decimal_grams();
        self.known
            .checked_mul(Decimal::ONE_THOUSAND)
            .and_then(|milli| milli.checked_div(grams))
            .map(rounded)
    }

    /// Known cost of a container, to a hundredth of a cent; `None` without containers.
    pub fn per_container(&self) -> Option<Decimal> {
        self.known
            .checked_div(Decimal::from(self.containers))
            .map(rounded)
    }

    /// The priced lines with their share of the known cost in percent, dearest first; equal
    /// ones in the order of the sheet.
    pub fn drivers(&self) -> Vec<(&CostLine, Decimal)> {
        let mut drivers: Vec<(&CostLine, Decimal, Decimal)> = self
            .lines
            .iter()
            .filter_map(|l| {
                let cost = *l.cost.as_ref().ok()?;
                let share = cost
                    .checked_mul(Decimal::ONE_HUNDRED)?
                    .checked_div(self.known)?;
                Some((l, cost, share.round_dp(2)))
            })
            .collect();
        drivers.sort_by_key(|b| std::cmp::Reverse(b.1));
        drivers
            .into_iter()
            .map(|(l, _, share)| (l, share))
            .collect()
    }
}

impl fmt::Display for CostSheet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let missing = self.unknown().count();
        if missing == self.lines.len() {
            return f.write_str("not known, no price is entered");
        }
        if missing > 0 {
            write!(f, "at least ")?;
        }
        write!(f, "{} {}", cents(self.known), self.currency)?;
        match missing {
            0 => Ok(()),
            1 => write!(f, ", one price is not known"),
            n => write!(f, ", {n} prices are not known"),
        }
    }
}

fn need_cost(need: &MaterialNeed, stock: &Stock) -> Result<(Decimal, Option<PriceFrom>), Unpriced> {
    let mut cost = Decimal::ZERO;
    let mut rest = need.mass;
    let mut unpriced = None;
    for (id, mass) in &need.lots {
        let price = stock
            .lot(id)
            .map_or(Err(Unpriced::NoPrice), |lot| landed_price(lot, stock));
        if price == Err(Unpriced::NoPrice) {
            unpriced = unpriced.or(Some(id));
            continue;
        }
        cost = cost
            .checked_add(price?.cost_of(*mass)?)
            .ok_or(Unpriced::TooLarge)?;
        rest -= *mass;
    }
    if rest <= ExactMass::ZERO {
        return Ok((cost, None));
    }
    let (price, from) =
        current_price(&need.material, stock).map_err(|why| match (why, unpriced) {
            (Unpriced::NoPrice, Some(lot)) => Unpriced::NoPriceOfLot(lot.clone()),
            (why, _) => why,
        })?;
    cost.checked_add(price.cost_of(rest)?)
        .map(|cost| (cost, Some(from)))
        .ok_or(Unpriced::TooLarge)
}

fn material_line(need: &MaterialNeed, stock: &Stock) -> CostLine {
    let (cost, price_from) = match need_cost(need, stock) {
        Ok((cost, from)) => (Ok(cost), from),
        Err(why) => (Err(why), None),
    };
    CostLine {
        kind: CostKind::Material(need.line),
        name: need.name.clone(),
        mass: Some(need.mass),
        cost,
        price_from,
    }
}

/// What a piece of a kind of packaging cost, and the lot: the one received last that has a price.
fn price_of_piece(what: &str, stock: &Stock) -> Option<(Decimal, LotId)> {
    let lots = stock
        .packaging
        .iter()
        .filter(|lot| is_same(&lot.what, what));
    let priced = lots.filter_map(|lot| Some((lot, lot.price_each?)));
    let (lot, price) = priced.max_by_key(|(lot, _)| lot.received)?;
    Some((price, lot.id.clone()))
}

/// The costs entered, and the packaging of the containers that has a price in the stock and
/// none of the maker's own by that name.
fn with_packaging<'k>(
    inputs: &CostInputs,
    kinds: impl IntoIterator<Item = &'k Arc<str>>,
    stock: &Stock,
) -> CostInputs {
    let mut all = inputs.clone();
    for kind in kinds {
        let entered = all.packaging.iter().any(|p| is_same(&p.name, kind));
        if !entered && price_of_piece(kind, stock).is_some() {
            all.packaging.push(Packaging {
                name: kind.clone(),
                per_container: None,
            });
        }
    }
    all
}

/// The cost sheet of a batch: `product` is the mass of product obtained, `containers` how
/// many are filled with it.
pub fn cost_sheet(
    needs: &[MaterialNeed],
    inputs: &CostInputs,
    product: ExactMass,
    containers: u32,
    stock: &Stock,
) -> CostSheet {
    let mut lines: Vec<CostLine> = needs
        .iter()
        .map(|need| material_line(need, stock))
        .collect();
    let entered =
        |kind, name: &Arc<str>, price: Option<Decimal>, count: Decimal, divisor: Decimal| {
            CostLine {
                kind,
                name: name.clone(),
                mass: None,
                cost: price.ok_or(Unpriced::NoPrice).and_then(|p| {
                    p.checked_mul(count)
                        .and_then(|product| product.checked_div(divisor))
                        .map(rounded)
                        .ok_or(Unpriced::TooLarge)
                }),
                price_from: None,
            }
        };
    lines.extend(inputs.packaging.iter().map(|p| {
        // A price of the maker's own goes before that of the lots in stock.
        let in_stock = match p.per_container {
            Some(_) => None,
            None => price_of_piece(&p.name, stock),
        };
        let price = p
            .per_container
            .or(in_stock.as_ref().map(|(price, _)| *price));
        let line = entered(
            CostKind::Packaging,
            &p.name,
            price,
            containers.into(),
            Decimal::ONE,
        );
        CostLine {
            price_from: in_stock.map(|(_, lot)| PriceFrom::Lot(lot)),
            cost: if containers == 0 {
                Err(Unpriced::NoContainers)
            } else {
                line.cost
            },
            ..line
        }
    }));
    lines.extend(inputs.labour.iter().map(|l| {
        let minutes = l.minutes.into();
        entered(
            CostKind::Labour,
            &l.name,
            l.per_hour,
            minutes,
            Decimal::from(60),
        )
    }));
    lines.extend(inputs.overhead.iter().map(|o| {
        entered(
            CostKind::Overhead,
            &o.name,
            o.per_batch,
            Decimal::ONE,
            Decimal::ONE,
        )
    }));
    let known = lines
        .iter()
        .filter_map(|l| l.cost.as_ref().ok())
        .fold(Decimal::ZERO, |sum, c| sum.saturating_add(*c));
    CostSheet {
        currency: stock.home,
        lines,
        known,
        product,
        containers,
    }
}

/// What a planned batch will cost, with the lots its weigh sheet proposes. The product is
/// what is left after the loss expected at transfer.
pub fn batch_cost(sheet: &WeighSheet, inputs: &CostInputs, stock: &Stock) -> CostSheet {
    let needs: Vec<MaterialNeed> = sheet
        .weighings()
        .map(|w| MaterialNeed {
            line: w.planned.line,
            material: w.planned.material.clone(),
            name: w.planned.name.clone(),
            mass: w.planned.mass,
            lots: w.lots.clone(),
        })
        .collect();
    let sized = &sheet.plan.sized;
    let product = sized.batch - sized.transfer_loss;
    let containers = sheet.filling.map_or(0, |f| f.count);
    let inputs = with_packaging(inputs, &sheet.packaging.kinds, stock);
    cost_sheet(&needs, &inputs, product, containers, stock)
}

/// What a recorded batch cost, with what was really weighed from the lots noted. The
/// product is what was filled; before filling, what was weighed.
pub fn record_cost(record: &Record, inputs: &CostInputs, stock: &Stock) -> CostSheet {
    let needs: Vec<MaterialNeed> = record
        .formula_lines()
        .map(|(line, status)| MaterialNeed {
            line: line.id,
            material: line.material.clone(),
            name: record.opening().name_of(line.id),
            mass: status.actual,
            lots: record
                .portions()
                .iter()
                .filter(|p| p.line == Some(line.id) && !p.struck)
                .filter_map(|p| Some((p.lot.clone()?, p.mass)))
                .collect(),
        })
        .collect();
    let product = record
        .reconciliation()
        .map_or_else(|| record.weighed(), |r| r.filled);
    let containers = record.containers().unwrap_or(0);
    let inputs = with_packaging(inputs, record.packaging().iter().map(|p| &p.what), stock);
    cost_sheet(&needs, &inputs, product, containers, stock)
}

/// Why no price can be stated.
#[derive(Clone, Copy, PartialEq, Eq, Debug, thiserror::Error)]
pub enum MarginError {
    /// A margin of 100 % or more, or below zero.
    #[error("the margin must be at least 0 % and below 100 % of the price")]
    Margin,
    /// A price of nothing has no margin.
    #[error("the price must be above zero")]
    Price,
}

/// The price at which `margin_percent` of it is left after the cost:
/// `cost / (1 − margin)`, rounded up to the cent, without tax on the sale.
pub fn price_at_margin(cost: Decimal, margin_percent: Decimal) -> Result<Decimal, MarginError> {
    if margin_percent < Decimal::ZERO || margin_percent >= Decimal::ONE_HUNDRED {
        return Err(MarginError::Margin);
    }
    cost.checked_mul(Decimal::ONE_HUNDRED)
        .and_then(|hundredfold| hundredfold.checked_div(Decimal::ONE_HUNDRED - margin_percent))
        .map(|p| p.round_dp_with_strategy(2, RoundingStrategy::ToPositiveInfinity))
        .ok_or(MarginError::Margin)
}

/// The margin left at a price, in percent of the price, to two digits; below zero if the
/// cost is higher.
pub fn margin_at_price(cost: Decimal, price: Decimal) -> Result<Decimal, MarginError> {
    if price <= Decimal::ZERO {
        return Err(MarginError::Price);
    }
    price
        .checked_sub(cost)
        .and_then(|left| left.checked_mul(Decimal::ONE_HUNDRED))
        .and_then(|hundredfold| hundredfold.checked_div(price))
        .map(|m| m.round_dp(2))
        .ok_or(MarginError::Price)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mass::read_mass;
    use jiff::civil::{Date, date};
    use proptest::prelude::*;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }
    fn money(text: &str) -> Decimal {
        Decimal::from_str_exact(text).unwrap()
    }
    fn currency(code: &str) -> Currency {
        Currency::new(code).unwrap()
    }
    fn id(name: &str) -> MaterialId {
        MaterialId::from_name(name)
    }
    fn lot(code: &str, material: &str, day: Date, price: Option<&str>) -> Lot {
        Lot {
            packs: 2,
            price_per_pack: price.map(money),
            ..Lot::of_one_pack(
                LotId::new(code).unwrap(),
                id(material),
                day,
                mass("1 kg"),
                currency("EUR"),
            )
        }
    }
    fn need(line: u64, material: &str, grams: &str, lots: &[(&str, &str)]) -> MaterialNeed {
        MaterialNeed {
            line: ItemId(line),
            material: id(material),
            name: material.into(),
            mass: mass(grams),
            lots: lots
                .iter()
                .map(|(l, m)| (LotId::new(l).unwrap(), mass(m)))
                .collect(),
        }
    }

    /// Against the module `decimal` of the Python standard library, `quantize` with
    /// `ROUND_HALF_UP` to 0.01 and to 0.0001.
    #[test]
    fn money_is_rounded_as_a_decimal_library_rounds_it() {
        for (value, shown) in [
            ("0.005", "0.01"),
            ("0.015", "0.02"),
            ("0.025", "0.03"),
            ("2.675", "2.68"),
            ("1.005", "1.01"),
            ("-0.005", "-0.01"),
            ("-1.015", "-1.02"),
            ("0.0049", "0.00"),
            ("0.00499999", "0.00"),
            ("123456.785", "123456.79"),
            ("99.995", "100.00"),
            ("0.994999", "0.99"),
            ("0", "0.00"),
            ("10", "10.00"),
        ] {
            assert_eq!(cents(money(value)), shown, "{value}");
        }
        for (value, kept) in [
            ("0.00005", "0.0001"),
            ("0.00015", "0.0002"),
            ("0.00025", "0.0003"),
            ("16.66665", "16.6667"),
            ("1.00005", "1.0001"),
            ("-0.00005", "-0.0001"),
        ] {
            assert_eq!(rounded(money(value)), money(kept), "{value}");
        }
    }

    #[test]
    fn freight_tax_and_rate_are_part_of_the_price() {
        let mut stock = Stock::new(currency("EUR"));
        let mut l = lot("A", "urea", date(2026, 1, 1), Some("10"));
        l.freight_share = money("4");
        l.tax_percent = money("20");
        l.currency = currency("GBP");
        stock.lots.push(l);
        assert_eq!(
            price_per_kilogram(&id("urea"), &stock),
            Err(Unpriced::NoRate(currency("GBP")))
        );
        stock.rates.insert(currency("GBP"), money("1.15"));
        // (2 × 10 + 4) × 1.2 × 1.15 / 2 kg.
        assert_eq!(
            price_per_kilogram(&id("urea"), &stock).unwrap().amount,
            money("16.56")
        );
    }

    #[test]
    fn the_newest_price_counts_then_the_cheapest_offer() {
        let mut stock = Stock::new(currency("EUR"));
        let offer = |pack: &str, price: &str| Offer {
            material: id("urea"),
            supplier: "".into(),
            pack: mass(pack),
            price: Some(money(price)),
            currency: currency("EUR"),
            day: None,
        };
        stock.offers = vec![offer("100 g", "2"), offer("1 kg", "9.99")];
        let per_kilogram = |stock: &Stock| price_per_kilogram(&id("urea"), stock).unwrap().amount;
        assert_eq!(per_kilogram(&stock), money("9.99"));
        stock.lots = vec![
            lot("A", "urea", date(2026, 1, 1), Some("11")),
            lot("B", "urea", date(2026, 3, 1), Some("12")),
            lot("C", "urea", date(2026, 4, 1), None),
        ];
        assert_eq!(per_kilogram(&stock), money("12"));
    }

    /// A lot without a price costs what the material is offered at, and the line says so; without
    /// any price the lot is named.
    #[test]
    fn a_lot_without_a_price_takes_that_of_an_offer_and_says_so() {
        let mut stock = Stock::new(currency("EUR"));
        stock.lots = vec![lot("A", "oil", date(2026, 1, 1), None)];
        let sheet = |stock: &Stock, lots: &[(&str, &str)]| {
            let needs = [need(1, "oil", "300 g", lots)];
            cost_sheet(&needs, &CostInputs::default(), mass("1 kg"), 1, stock)
        };
        let without = sheet(&stock, &[("A", "300 g")]);
        let named = Unpriced::NoPriceOfLot(LotId::new("A").unwrap());
        assert_eq!(without.lines[0].cost, Err(named));
        assert_eq!(without.borrowed().count(), 0);
        assert_eq!(
            sheet(&stock, &[]).lines[0].cost,
            Err(Unpriced::NoPrice),
            "no lot to name"
        );

        stock.offers = vec![Offer {
            material: id("oil"),
            supplier: "Glen".into(),
            pack: mass("500 g"),
            price: Some(money("4.90")),
            currency: currency("EUR"),
            day: None,
        }];
        let offered = sheet(&stock, &[("A", "300 g")]);
        assert_eq!(offered.lines[0].cost, Ok(money("2.94")));
        let from = offered.lines[0].price_from.as_ref().unwrap();
        assert_eq!(from.to_string(), "as offered by Glen");
        assert!(offered.complete());

        // 100 g of a lot at 30 a kilogram; the other 200 g as that lot cost.
        stock
            .lots
            .push(lot("B", "oil", date(2025, 1, 1), Some("30")));
        let mixed = sheet(&stock, &[("A", "200 g"), ("B", "100 g")]);
        assert_eq!(mixed.lines[0].cost, Ok(money("9")));
        let from = mixed.lines[0].price_from.clone();
        assert_eq!(from, Some(PriceFrom::Lot(LotId::new("B").unwrap())));
        // Nothing is said where the lot weighed has its own.
        assert_eq!(sheet(&stock, &[("B", "300 g")]).borrowed().count(), 0);
    }

    /// A price in a currency without a rate is not passed over for another.
    #[test]
    fn a_lot_whose_currency_has_no_rate_is_not_priced_otherwise() {
        let mut stock = Stock::new(currency("EUR"));
        let mut foreign = lot("A", "oil", date(2026, 1, 1), Some("30"));
        foreign.currency = currency("GBP");
        stock.lots = vec![foreign, lot("B", "oil", date(2026, 2, 1), Some("40"))];
        let needs = [need(1, "oil", "300 g", &[("A", "300 g")])];
        let sheet = cost_sheet(&needs, &CostInputs::default(), mass("1 kg"), 1, &stock);
        let missing = Unpriced::NoRate(currency("GBP"));
        assert_eq!(sheet.lines[0].cost, Err(missing));
    }

    #[test]
    fn unknown_prices_are_listed_not_counted() {
        let mut stock = Stock::new(currency("EUR"));
        stock.lots = vec![
            lot("A", "oil", date(2026, 1, 1), Some("30")),
            lot("B", "oil", date(2026, 2, 1), Some("40")),
        ];
        let needs = [
            need(1, "water", "700 g", &[]),
            need(2, "oil", "300 g", &[("A", "100 g")]),
        ];
        let inputs = CostInputs {
            packaging: vec![Packaging {
                name: "bottle".into(),
                per_container: Some(money("0.45")),
            }],
            labour: vec![Labour {
                name: "making".into(),
                minutes: 50,
                per_hour: Some(money("20")),
            }],
            overhead: vec![Overhead {
                name: "energy".into(),
                per_batch: None,
            }],
        };
        let sheet = cost_sheet(&needs, &inputs, mass("1 kg"), 4, &stock);
        let unknown: Vec<&str> = sheet.unknown().map(|(l, _)| l.name.as_ref()).collect();
        assert_eq!(unknown, ["water", "energy"]);
        assert!(!sheet.complete());
        // 100 g at 30 and 200 g at 40 per kg, four bottles, 50 minutes.
        assert_eq!(sheet.lines[1].cost, Ok(money("11")));
        assert_eq!(sheet.known, money("11") + money("1.80") + money("16.6667"));
        assert_eq!(sheet.per_container(), Some(money("7.3667")));
        assert_eq!(sheet.drivers()[0].0.name.as_ref(), "making");
    }

    #[test]
    fn price_and_margin_answer_each_other() {
        assert_eq!(price_at_margin(money("6"), money("40")), Ok(money("10.00")));
        assert_eq!(price_at_margin(money("1"), money("70")), Ok(money("3.34")));
        assert_eq!(margin_at_price(money("6"), money("10")), Ok(money("40")));
        assert_eq!(margin_at_price(money("12"), money("10")), Ok(money("-20")));
        assert_eq!(
            price_at_margin(money("1"), money("100")),
            Err(MarginError::Margin)
        );
        assert_eq!(
            margin_at_price(money("1"), Decimal::ZERO),
            Err(MarginError::Price)
        );
    }

    proptest! {
        #[test]
        fn the_sheet_adds_up_to_the_last_digit(
            entries in prop::collection::vec((1_i64..1_000_000, 1_i128..5_000_000), 1..30),
            containers in 1_u32..500,
        ) {
            let mut stock = Stock::new(currency("EUR"));
            let mut needs = Vec::new();
            for (i, (cents, milligrams)) in entries.iter().enumerate() {
                let name = format!("m{i}");
                let price = Decimal::new(*cents, 2).to_string();
                stock.lots.push(lot(&format!("L{i}"), &name, date(2026, 1, 1), Some(&price)));
                let mut need = need(i as u64, &name, "0 g", &[]);
                need.mass = mass("0.001 g").times(*milligrams);
                needs.push(need);
            }
            let sheet = cost_sheet(&needs, &CostInputs::default(), mass("1 kg"), containers, &stock);
            let sum: Decimal = sheet.lines.iter().map(|l| l.cost.clone().unwrap()).sum();
            prop_assert_eq!(sheet.known, sum);
            prop_assert!(sheet.lines.iter().all(|l| l.cost.clone().unwrap().scale() <= DIGITS));
            // Against whole-number arithmetic: cents × milligrams / 1e6 within half a ten-thousandth.
            for (line, (cents, milligrams)) in sheet.lines.iter().zip(&entries) {
                let exact = i128::from(*cents) * milligrams; // 1e-8 of the currency unit
                let got = (line.cost.clone().unwrap() * Decimal::new(100_000_000, 0)).trunc().mantissa();
                prop_assert!((exact - got).abs() <= 5_000);
            }
        }
    }

    /// The price of a piece stands in the stock; one of the maker's own goes before it.
    #[test]
    fn packaging_in_stock_costs_what_a_piece_cost() {
        use crate::stock::packaging::PackagingLot;
        let lot = |id: &str, what: &str, day: &str, cents: Option<i64>| PackagingLot {
            id: LotId::new(id).unwrap(),
            what: what.into(),
            supplier: "".into(),
            supplier_lot: "".into(),
            received: day.parse().unwrap(),
            pieces: 40,
            price_each: cents.map(|c| Decimal::new(c, 2)),
            low_below: None,
            note: "".into(),
        };
        let mut stock = Stock::new(Currency::EUR);
        stock.packaging = vec![
            lot("J1", "Jar 60 ml", "2026-01-01", Some(40)),
            lot("J2", "jar 60 ml", "2026-02-01", Some(45)),
            lot("J3", "Jar 60 ml", "2026-03-01", None),
            lot("L1", "Label", "2026-03-01", None),
        ];
        let kinds: [Arc<str>; 2] = ["Jar 60 ml".into(), "Label".into()];
        let cost = |inputs: &CostInputs| {
            let inputs = with_packaging(inputs, &kinds, &stock);
            cost_sheet(&[], &inputs, mass("1 kg"), 24, &stock)
        };
        let sheet = cost(&CostInputs::default());
        assert_eq!(sheet.lines.len(), 1, "what has no price is not guessed");
        assert_eq!(sheet.lines[0].cost, Ok(Decimal::new(1080, 2)));
        let from = sheet.lines[0].price_from.as_ref().unwrap();
        assert_eq!(from.to_string(), "as lot J2 cost");
        let own = CostInputs {
            packaging: vec![Packaging {
                name: "JAR 60 ml".into(),
                per_container: Some(Decimal::ONE),
            }],
            ..CostInputs::default()
        };
        let sheet = cost(&own);
        assert_eq!(sheet.lines.len(), 1);
        assert_eq!(sheet.lines[0].cost, Ok(Decimal::from(24)));
        assert_eq!(sheet.lines[0].price_from, None);
    }
}
