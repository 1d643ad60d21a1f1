//! Packaging in stock: bottles, pumps, labels and boxes, counted in pieces.
//!
//! As with raw materials, what batches used is not kept twice: it is counted up from the batch
//! records.

use std::sync::Arc;

use super::{LotId, LotUsage, StockError};
use crate::formula::Date;
use crate::plain_words::plain;
use crate::quantity::Decimal;

/// One lot of packaging.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct PackagingLot {
    /// The maker's code, unique among packaging.
    pub id: LotId,
    /// What it is: bottle 250 ml, pump, label.
    pub what: Arc<str>,
    /// Who delivered it.
    pub supplier: Arc<str>,
    /// The supplier's own lot number, or the print run of a label.
    pub supplier_lot: Arc<str>,
    /// Day of receipt, or of printing.
    pub received: Date,
    /// Pieces received.
    pub pieces: u32,
    /// Price of one piece without tax, in the currency of the stock.
    pub price_each: Option<Decimal>,
    /// Below so many pieces it is low.
    pub low_below: Option<u32>,
    /// Free words: what was checked, the version of a label.
    pub note: Arc<str>,
}

impl PackagingLot {
    /// Pieces left by the books; negative if more were used than came in.
    pub fn left(&self, usage: &LotUsage) -> i64 {
        let used = i64::try_from(usage.pieces_of(&self.id)).unwrap_or(i64::MAX);
        i64::from(self.pieces) - used
    }

    /// Whether fewer are left than the maker wants to have.
    pub fn is_low(&self, usage: &LotUsage) -> bool {
        self.low_below
            .is_some_and(|level| self.left(usage) < i64::from(level))
    }
}

/// Whether a piece of packaging is a label, by its name.
pub fn is_label(what: &str) -> bool {
    plain(what)
        .split(' ')
        .any(|word| matches!(word, "label" | "labels"))
}

/// What speaks against taking pieces from a lot of packaging.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum PackagingFault {
    /// No lot was noted, though lots of packaging are kept.
    #[error("no lot is noted, so a recall would not find it")]
    Unnamed,
    /// Not in the stock.
    #[error("lot {0} is not in the stock of packaging")]
    Unknown(LotId),
    /// Less is left than is taken.
    #[error("lot {0} has {1} pieces left by the books")]
    Short(LotId, i64),
}

/// What speaks against taking pieces from a lot, as it is typed; nothing where no packaging is
/// kept in the stock at all.
pub fn objection(
    lots: &[PackagingLot],
    lot: &str,
    pieces: u64,
    usage: &LotUsage,
) -> Option<PackagingFault> {
    if lots.is_empty() {
        return None;
    }
    let Some(id) = LotId::new(lot) else {
        return Some(PackagingFault::Unnamed);
    };
    let Some(known) = lots.iter().find(|l| l.id == id) else {
        return Some(PackagingFault::Unknown(id));
    };
    let left = known.left(usage);
    let short = i64::try_from(pieces).unwrap_or(i64::MAX) > left;
    short.then_some(PackagingFault::Short(id, left))
}

/// Puts a lot among others, in the place of the one of the same code if there is one; the name
/// and the pieces must be stated.
///
/// # Errors
/// That it is of nothing, or that its price is below zero.
pub fn put(lots: &mut Vec<PackagingLot>, lot: PackagingLot) -> Result<(), StockError> {
    if lot.pieces == 0 || lot.what.trim().is_empty() {
        return Err(StockError::NoPieces(lot.id));
    }
    if lot.price_each.is_some_and(|p| p < Decimal::ZERO) {
        return Err(StockError::Negative(lot.id));
    }
    match lots.iter_mut().find(|l| l.id == lot.id) {
        Some(known) => *known = lot,
        None => lots.push(lot),
    }
    Ok(())
}

/// Takes a lot out that was entered by mistake.
///
/// # Errors
/// That a batch used pieces of it, whose record leads to it.
pub fn remove(
    lots: &mut Vec<PackagingLot>,
    id: &LotId,
    usage: &LotUsage,
) -> Result<(), StockError> {
    if usage.pieces_of(id) > 0 {
        return Err(StockError::Used(id.clone()));
    }
    lots.retain(|l| l.id != *id);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bottles(pieces: u32) -> PackagingLot {
        PackagingLot {
            id: LotId::new("B-1").unwrap(),
            what: "bottle 250 ml".into(),
            supplier: "Glen Glass".into(),
            supplier_lot: "".into(),
            received: Date::constant(2026, 3, 2),
            pieces,
            price_each: None,
            low_below: Some(20),
            note: "".into(),
        }
    }

    #[test]
    fn what_batches_used_is_counted_off() {
        let mut lots = Vec::new();
        put(&mut lots, bottles(100)).unwrap();
        let mut usage = LotUsage::default();
        usage.add_pieces(lots[0].id.clone(), 78);
        assert_eq!(lots[0].left(&usage), 22);
        assert!(!lots[0].is_low(&usage));
        usage.add_pieces(lots[0].id.clone(), 3);
        assert!(lots[0].is_low(&usage));
        assert!(matches!(
            remove(&mut lots, &bottles(1).id, &usage),
            Err(StockError::Used(_))
        ));
        // The same code is the same lot.
        put(&mut lots, bottles(120)).unwrap();
        assert_eq!((lots.len(), lots[0].left(&usage)), (1, 39));
        assert!(put(&mut lots, bottles(0)).is_err());
        let against = |lot: &str, pieces| objection(&lots, lot, pieces, &usage);
        assert_eq!(against("B-1", 39), None);
        let short = PackagingFault::Short(lots[0].id.clone(), 39);
        assert_eq!(against("B-1", 40), Some(short));
        assert_eq!(against(" ", 1), Some(PackagingFault::Unnamed));
        assert!(matches!(
            against("B-9", 1),
            Some(PackagingFault::Unknown(_))
        ));
        assert_eq!(objection(&[], "B-9", 1, &usage), None);
        remove(&mut lots, &bottles(1).id, &LotUsage::default()).unwrap();
        assert!(lots.is_empty());
    }

    #[test]
    fn pieces_just_enough_are_not_low_and_no_price_is_below_zero() {
        let lot = bottles(20);
        assert!(!lot.is_low(&LotUsage::default()));
        assert!(bottles(19).is_low(&LotUsage::default()));
        let mut lots = Vec::new();
        let priced = |cents| PackagingLot {
            price_each: Some(Decimal::new(cents, 2)),
            ..bottles(20)
        };
        assert!(matches!(
            put(&mut lots, priced(-1)),
            Err(StockError::Negative(_))
        ));
        put(&mut lots, priced(0)).unwrap();
        put(&mut lots, priced(12)).unwrap();
        assert_eq!(lots, [priced(12)]);
    }
}
