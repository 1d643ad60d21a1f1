//! Two windows that changed one stock: what both did is joined, and only what both changed
//! differently is told.

use std::collections::BTreeMap;

use crate::stock::packaging::PackagingLot;
use crate::stock::{Lot, LotId, Stock};

/// What came of joining two states of a stock.
#[derive(Clone, PartialEq, Debug)]
pub struct Joined {
    /// The stock with the changes of both.
    pub stock: Stock,
    /// What both changed differently, in words; there it is as the other one left it.
    pub clashes: Vec<String>,
}

/// What something is called that is kept under a key.
pub type Called<'a> = &'a dyn Fn(&str) -> String;

/// Joins the changes made here since `base` with those that another window has saved; `called`
/// tells the name of a material.
pub fn join(base: &Stock, ours: &Stock, theirs: &Stock, called: Called<'_>) -> Joined {
    let mut clashes = Vec::new();
    let by_id = |stock: &Stock| -> BTreeMap<LotId, Lot> {
        let lots = stock.lots.iter();
        lots.map(|lot| (lot.id.clone(), lot.clone())).collect()
    };
    let lots = keyed(&by_id(base), &by_id(ours), &by_id(theirs), |id| {
        clashes.push(format!("the lot {id}"));
    });
    // The order of receipt: the lots of the other window, then what is new here.
    let mut order: Vec<Lot> = Vec::with_capacity(lots.len());
    for lot in theirs.lots.iter().chain(&ours.lots) {
        if let Some(lot) = lots.get(&lot.id)
            && !order.iter().any(|o| o.id == lot.id)
        {
            order.push(lot.clone());
        }
    }
    let adjustments = list(&base.adjustments, &ours.adjustments, &theirs.adjustments);
    // A lot that one window took out and the other corrected stays in the books.
    for adjustment in &adjustments {
        let everywhere = [theirs, ours, base];
        let lot = everywhere.iter().find_map(|s| s.lot(&adjustment.lot));
        if let Some(lot) = lot.filter(|lot| !order.iter().any(|o| o.id == lot.id)) {
            clashes.push(format!("the lot {}", lot.id));
            order.push(lot.clone());
        }
    }
    let pieces = |stock: &Stock| -> BTreeMap<LotId, PackagingLot> {
        let lots = stock.packaging.iter();
        lots.map(|lot| (lot.id.clone(), lot.clone())).collect()
    };
    let joined = keyed(&pieces(base), &pieces(ours), &pieces(theirs), |id| {
        clashes.push(format!("the packaging {id}"));
    });
    let mut packaging: Vec<PackagingLot> = Vec::with_capacity(joined.len());
    for lot in theirs.packaging.iter().chain(&ours.packaging) {
        if let Some(lot) = joined.get(&lot.id)
            && !packaging.iter().any(|p| p.id == lot.id)
        {
            packaging.push(lot.clone());
        }
    }
    let reorder = keyed(&base.reorder, &ours.reorder, &theirs.reorder, |id| {
        let name = called(id.as_str());
        clashes.push(format!("the level at which {name} is reordered"));
    });
    let rates = keyed(&base.rates, &ours.rates, &theirs.rates, |currency| {
        clashes.push(format!("the rate of {currency}"));
    });
    let home = merged_value(&base.home, &ours.home, &theirs.home, || {
        clashes.push("the currency".to_owned());
    });
    let offers = list(&base.offers, &ours.offers, &theirs.offers);
    let stock = Stock {
        lots: order,
        adjustments,
        offers,
        reorder,
        home,
        rates,
        packaging,
    };
    Joined { stock, clashes }
}

/// What only one side changed is taken from that side; where both did, the other one's stays.
pub fn merged_value<T: PartialEq + Clone>(
    base: &T,
    ours: &T,
    theirs: &T,
    clash: impl FnOnce(),
) -> T {
    if ours == base || ours == theirs {
        return theirs.clone();
    }
    if theirs == base {
        return ours.clone();
    }
    clash();
    theirs.clone()
}

pub(crate) fn keyed<K: Ord + Clone, V: PartialEq + Clone>(
    base: &BTreeMap<K, V>,
    ours: &BTreeMap<K, V>,
    theirs: &BTreeMap<K, V>,
    mut clash: impl FnMut(&K),
) -> BTreeMap<K, V> {
    let mut keys: Vec<&K> = ours.keys().chain(theirs.keys()).collect();
    keys.sort();
    keys.dedup();
    let mut joined = BTreeMap::new();
    for key in keys {
        let (b, o, t) = (base.get(key), ours.get(key), theirs.get(key));
        if let Some(value) = merged_value(&b, &o, &t, || clash(key)) {
            joined.insert(key.clone(), value.clone());
        }
    }
    joined
}

/// A list of things without names: what was added here is added, what was taken out here is
/// taken out. The same thing twice is two things.
pub(crate) fn list<T: PartialEq + Clone>(base: &[T], ours: &[T], theirs: &[T]) -> Vec<T> {
    let mut joined = theirs.to_vec();
    for gone in without(base, ours) {
        if let Some(place) = joined.iter().position(|t| *t == gone) {
            joined.remove(place);
        }
    }
    joined.extend(without(ours, base));
    joined
}

/// What the first list has more of than the second.
fn without<T: PartialEq + Clone>(all: &[T], taken: &[T]) -> Vec<T> {
    let mut taken: Vec<&T> = taken.iter().collect();
    all.iter()
        .filter(|one| match taken.iter().position(|t| t == one) {
            Some(place) => {
                taken.remove(place);
                false
            }
            None => true,
        })
        .cloned()
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mass::{ExactMass, read_mass};
    use crate::material::MaterialId;
    use crate::quantity::Currency;
    use crate::stock::Adjustment;
    use jiff::civil::date;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }

    fn lot(id: &str) -> Lot {
        Lot {
            supplier: "Fell".into(),
            ..Lot::of_one_pack(
                LotId::new(id).unwrap(),
                MaterialId::from_name("glycerin"),
                date(2026, 3, 2),
                mass("1 kg"),
                Currency::EUR,
            )
        }
    }

    fn spill(id: &str) -> Adjustment {
        Adjustment {
            lot: LotId::new(id).unwrap(),
            day: date(2026, 3, 3),
            change: mass("5 g"),
            reason: "recount".into(),
        }
    }

    fn ids(stock: &Stock) -> Vec<&str> {
        stock.lots.iter().map(|l| l.id.as_str()).collect()
    }

    #[test]
    fn both_windows_keep_what_they_did() {
        let mut base = Stock::new(Currency::EUR);
        base.lots = vec![lot("A"), lot("B"), lot("C")];
        base.adjustments = vec![spill("A")];
        let (mut ours, mut theirs) = (base.clone(), base.clone());
        ours.lots.push(lot("D"));
        ours.lots[0].note = "opened here".into();
        ours.adjustments.push(spill("A"));
        theirs.lots.push(lot("E"));
        theirs.lots.remove(1);
        theirs.lots[1].note = "opened there".into();
        theirs.adjustments.push(spill("A"));
        let Joined { stock, clashes } = join(&base, &ours, &theirs, &str::to_owned);
        assert_eq!(clashes, Vec::<String>::new());
        assert_eq!(ids(&stock), ["A", "C", "E", "D"]);
        assert_eq!(&*stock.lots[0].note, "opened here");
        assert_eq!(&*stock.lots[1].note, "opened there");
        // Two windows that note the same loss have noted two losses.
        assert_eq!(stock.adjustments.len(), 3);
        // Whoever saves second, the same is kept.
        let other = join(&base, &theirs, &ours, &str::to_owned).stock;
        assert_eq!(other.adjustments.len(), 3);
        assert_eq!(ids(&other), ["A", "C", "D", "E"]);
    }

    #[test]
    fn what_both_changed_is_told() {
        let mut base = Stock::new(Currency::EUR);
        base.lots = vec![lot("A"), lot("B")];
        let (mut ours, mut theirs) = (base.clone(), base.clone());
        ours.lots[0].note = "here".into();
        theirs.lots[0].note = "there".into();
        ours.lots.remove(1);
        theirs.adjustments.push(spill("B"));
        let Joined { stock, clashes } = join(&base, &ours, &theirs, &str::to_owned);
        assert_eq!(clashes, ["the lot A", "the lot B"]);
        assert_eq!(&*stock.lots[0].note, "there");
        assert_eq!(ids(&stock), ["A", "B"]);
    }

    fn bottles(id: &str, pieces: u32) -> PackagingLot {
        PackagingLot {
            id: LotId::new(id).unwrap(),
            what: "bottle 250 ml".into(),
            supplier: "Glen Glass".into(),
            supplier_lot: "".into(),
            received: date(2026, 3, 2),
            pieces,
            price_each: None,
            low_below: None,
            note: "".into(),
        }
    }

    /// Packaging is joined lot by lot, each once, in the order of the other window.
    #[test]
    fn packaging_of_both_windows_is_kept_once() {
        let mut base = Stock::new(Currency::EUR);
        base.packaging = vec![bottles("P1", 100), bottles("P2", 100), bottles("P3", 100)];
        let (mut ours, mut theirs) = (base.clone(), base.clone());
        ours.packaging[0].pieces = 90;
        ours.packaging.push(bottles("P4", 10));
        theirs.packaging.remove(1);
        theirs.packaging.push(bottles("P5", 20));
        let Joined { stock, clashes } = join(&base, &ours, &theirs, &str::to_owned);
        let kept: Vec<_> = stock
            .packaging
            .iter()
            .map(|p| (p.id.as_str(), p.pieces))
            .collect();
        assert_eq!(kept, [("P1", 90), ("P3", 100), ("P5", 20), ("P4", 10)]);
        assert_eq!(clashes, Vec::<String>::new());
        // Counted differently in both windows, the other one's count stays and is told.
        theirs.packaging[0].pieces = 80;
        let Joined { stock, clashes } = join(&base, &ours, &theirs, &str::to_owned);
        assert_eq!(stock.packaging[0].pieces, 80);
        assert_eq!(clashes, ["the packaging P1"]);
    }

    #[test]
    fn money_that_both_changed_is_told() {
        let stock = |home: Currency, rate: i64| {
            let mut stock = Stock::new(home);
            stock
                .rates
                .insert(Currency::new("SEK").unwrap(), rate.into());
            stock
        };
        let (usd, gbp) = (Currency::new("USD").unwrap(), Currency::new("GBP").unwrap());
        let base = stock(Currency::EUR, 1);
        let joined = join(&base, &stock(usd, 2), &stock(gbp, 3), &str::to_owned);
        assert_eq!(joined.clashes, ["the rate of SEK", "the currency"]);
        assert_eq!(joined.stock, stock(gbp, 3));
        // What one window alone changed, or both to the same, is nothing to tell.
        for (ours, theirs) in [
            (stock(usd, 2), base.clone()),
            (base.clone(), stock(usd, 2)),
            (stock(usd, 2), stock(usd, 2)),
        ] {
            let joined = join(&base, &ours, &theirs, &str::to_owned);
            assert_eq!((joined.clashes.len(), joined.stock), (0, stock(usd, 2)));
        }
    }

    /// Two equal entries are two: taken out once here, one is left.
    #[test]
    fn of_two_equal_losses_one_may_be_taken_out() {
        let mut base = Stock::new(Currency::EUR);
        base.lots = vec![lot("A")];
        base.adjustments = vec![spill("A"), spill("A")];
        let mut ours = base.clone();
        ours.adjustments.pop();
        let joined = join(&base, &ours, &base, &str::to_owned);
        assert_eq!(joined.stock.adjustments, [spill("A")]);
        assert_eq!(joined.clashes, Vec::<String>::new());
    }

    #[test]
    fn a_level_that_both_changed_is_told_by_the_name_of_the_material() {
        let id = MaterialId::from_name("glycerin");
        let level = |grams: &str| {
            let mut stock = Stock::new(Currency::EUR);
            stock.reorder.insert(id.clone(), mass(grams));
            stock
        };
        let called = |key: &str| format!("{} 99.5 %", key.to_uppercase());
        let joined = join(&level("1 g"), &level("2 g"), &level("3 g"), &called);
        assert_eq!(
            joined.clashes,
            ["the level at which GLYCERIN 99.5 % is reordered"]
        );
    }
}
