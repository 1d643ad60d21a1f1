//! Tracing: from a lot to every batch that contains it, and from a batch to every lot in it.
//!
//! A lot made in a batch of the maker's own (a dilution or pre-mix) carries on what went
//! into that batch, at any depth.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::code::BatchCode;
use super::mass::ExactMass;
use super::record::{Decision, Record, WATER_MADE_UP};
use crate::formula::Date;
use crate::stock::{LotId, LotUsage, Stock};

/// A batch that contains a lot.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Affected {
    /// The lots looked for that are in it, each with what it is of: the material, or the
    /// packaging.
    pub lots: Vec<(LotId, Arc<str>)>,
    /// The batch.
    pub code: BatchCode,
    /// The formula.
    pub formula: Arc<str>,
    /// When it was opened.
    pub opened: Arc<str>,
    /// What was weighed in of the lots on the way, direct or made from it.
    pub mass: ExactMass,
    /// Lots of the maker's own through which it came, nearest first; empty if direct.
    pub through: Vec<LotId>,
    /// Packaging of that lot and pieces used, where the lot is one of packaging.
    pub packaging: Option<(Arc<str>, u32)>,
    /// What was decided about the batch.
    pub decision: Option<Decision>,
    /// Containers filled.
    pub containers: Option<u32>,
    /// Containers still in the house.
    pub in_house: u32,
    /// To whom the others went: consignee, number, day.
    pub dispatches: Vec<(Arc<str>, u32, Date)>,
}

/// A lot contained in a batch.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct ContainedLot {
    /// The lot.
    pub lot: LotId,
    /// What was taken of it: for the batch itself if direct, else for the batch of the
    /// maker's own it came through.
    pub mass: ExactMass,
    /// Batches of the maker's own through which it came, nearest first; empty if direct.
    pub through: Vec<BatchCode>,
}

/// Something weighed into a batch of which no lot was noted, so that it leads no further back.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Untraced {
    /// Its name.
    pub material: Arc<str>,
    /// How much of it has no lot.
    pub mass: ExactMass,
    /// Batches of the maker's own through which it came, nearest first; empty if direct.
    pub through: Vec<BatchCode>,
}

/// Every batch that contains a lot, directly or through lots made from it, by code.
pub fn batches_with<'a>(
    lot: &LotId,
    records: impl IntoIterator<Item = &'a Record> + Clone,
    stock: &Stock,
) -> Vec<Affected> {
    let mut found: BTreeMap<BatchCode, Affected> = BTreeMap::new();
    let of = (lot.clone(), what_is(lot, records.clone()));
    let mut seen: BTreeSet<LotId> = BTreeSet::new();
    let mut open: Vec<(LotId, Vec<LotId>)> = vec![(lot.clone(), Vec::new())];
    while let Some((lot, through)) = open.pop() {
        if !seen.insert(lot.clone()) {
            continue;
        }
        for record in records.clone() {
            let mass: ExactMass = record
                .usage()
                .filter(|(used, _)| *used == lot)
                .map(|(_, m)| m)
                .sum();
            if mass <= ExactMass::ZERO {
                continue;
            }
            found
                .entry(record.code().clone())
                .and_modify(|a| a.mass += mass)
                .or_insert_with(|| affected(record, mass, (through.clone(), of.clone())));
            for made in stock
                .lots
                .iter()
                .filter(|l| l.made_in.as_ref() == Some(record.code()))
            {
                let mut path = vec![made.id.clone()];
                path.extend(through.iter().cloned());
                open.push((made.id.clone(), path));
            }
        }
    }
    found.into_values().collect()
}

/// What a lot is of, as the batches call it that took from it.
fn what_is<'a>(lot: &LotId, records: impl IntoIterator<Item = &'a Record>) -> Arc<str> {
    for record in records {
        let mut portions = record.portions().iter();
        if let Some(portion) = portions.find(|p| p.lot.as_ref() == Some(lot) && !p.struck) {
            let name = |line| record.opening().name_of(line);
            return portion.line.map_or_else(|| WATER_MADE_UP.into(), name);
        }
    }
    "".into()
}

fn affected(
    record: &Record,
    mass: ExactMass,
    (through, of): (Vec<LotId>, (LotId, Arc<str>)),
) -> Affected {
    Affected {
        lots: vec![of],
        code: record.code().clone(),
        formula: record.opening().formula.name.clone(),
        opened: record
            .entries()
            .first()
            .map_or_else(|| "".into(), |e| e.at.clone()),
        mass,
        through,
        packaging: None,
        decision: record.decision().map(|(d, _)| d),
        containers: record.containers(),
        in_house: record.in_house(),
        dispatches: record
            .dispatches()
            .map(|(to, n, day)| (to.clone(), n, day))
            .collect(),
    }
}

/// The batch and every batch of the maker's own that went into it, each with the way to it.
fn behind<'a>(
    code: &BatchCode,
    records: impl IntoIterator<Item = &'a Record> + Clone,
    stock: &Stock,
) -> Vec<(&'a Record, Vec<BatchCode>)> {
    let mut found = Vec::new();
    let mut seen: BTreeSet<BatchCode> = BTreeSet::new();
    let mut open: Vec<(BatchCode, Vec<BatchCode>)> = vec![(code.clone(), Vec::new())];
    while let Some((code, through)) = open.pop() {
        if !seen.insert(code.clone()) {
            continue;
        }
        let Some(record) = records.clone().into_iter().find(|r| *r.code() == code) else {
            continue;
        };
        let lots: BTreeSet<LotId> = record.usage().map(|(lot, _)| lot).collect();
        for lot in &lots {
            if let Some(made_in) = stock.lot(lot).and_then(|l| l.made_in.clone()) {
                let mut path = vec![made_in.clone()];
                path.extend(through.iter().cloned());
                open.push((made_in, path));
            }
        }
        found.push((record, through));
    }
    found
}

/// Every lot in a batch, directly or through batches of the maker's own, by way and code.
pub fn lots_in<'a>(
    code: &BatchCode,
    records: impl IntoIterator<Item = &'a Record> + Clone,
    stock: &Stock,
) -> Vec<ContainedLot> {
    let mut found = Vec::new();
    for (record, through) in behind(code, records, stock) {
        let mut used: BTreeMap<LotId, ExactMass> = BTreeMap::new();
        for (lot, mass) in record.usage() {
            *used.entry(lot).or_default() += mass;
        }
        found.extend(used.into_iter().map(|(lot, mass)| ContainedLot {
            lot,
            mass,
            through: through.clone(),
        }));
    }
    found.sort_by(|a, b| (a.through.len(), &a.lot).cmp(&(b.through.len(), &b.lot)));
    found
}

/// What was weighed into a batch without a lot, directly or through batches of the maker's own,
/// by way and name.
pub fn untraced_in<'a>(
    code: &BatchCode,
    records: impl IntoIterator<Item = &'a Record> + Clone,
    stock: &Stock,
) -> Vec<Untraced> {
    let mut found = Vec::new();
    for (record, through) in behind(code, records, stock) {
        let mut without: BTreeMap<Arc<str>, ExactMass> = BTreeMap::new();
        let portions = record.portions().iter();
        for portion in portions.filter(|p| p.lot.is_none() && !p.struck) {
            let name = |line| record.opening().name_of(line);
            let name = portion.line.map_or_else(|| WATER_MADE_UP.into(), name);
            *without.entry(name).or_default() += portion.mass;
        }
        found.extend(without.into_iter().map(|(material, mass)| Untraced {
            material,
            mass,
            through: through.clone(),
        }));
    }
    found.sort_by(|a, b| (a.through.len(), &a.material).cmp(&(b.through.len(), &b.material)));
    found
}

/// The lots meant by a text: a lot code of the maker's, or a supplier's lot number.
pub fn lots_named(text: &str, stock: &Stock) -> Vec<LotId> {
    let text = text.trim();
    let same = |other: &str| other.eq_ignore_ascii_case(text);
    stock
        .lots
        .iter()
        .filter(|l| same(l.id.as_str()) || same(&l.supplier_lot))
        .map(|l| l.id.clone())
        .collect()
}

/// The recall list in one step: every batch that contains a lot of material, or was packed or
/// labelled from a lot of packaging, named by the maker's code or the supplier's number, by
/// code. A lot that the stock does not list is looked for by the code noted in the records.
pub fn recall<'a>(
    text: &str,
    records: impl IntoIterator<Item = &'a Record> + Clone,
    stock: &Stock,
) -> Vec<Affected> {
    let text = text.trim();
    let mut lots = lots_named(text, stock);
    lots.extend(
        records
            .clone()
            .into_iter()
            .flat_map(Record::usage)
            .map(|(lot, _)| lot)
            .filter(|lot| lot.as_str().eq_ignore_ascii_case(text)),
    );
    lots.sort();
    lots.dedup();
    let packaging: BTreeSet<String> = stock
        .packaging
        .iter()
        .filter(|p| {
            let same = |other: &str| other.trim().eq_ignore_ascii_case(text);
            same(p.id.as_str()) || same(&p.supplier_lot)
        })
        .map(|p| p.id.as_str().to_lowercase())
        .chain([text.to_lowercase()])
        .collect();
    let mut found: BTreeMap<BatchCode, Affected> = BTreeMap::new();
    for lot in lots {
        for batch in batches_with(&lot, records.clone(), stock) {
            found
                .entry(batch.code.clone())
                .and_modify(|a| {
                    a.mass += batch.mass;
                    a.lots.extend(batch.lots.iter().cloned());
                })
                .or_insert(batch);
        }
    }
    for record in records {
        for (what, lot, pieces) in record.pieces() {
            if !text.is_empty() && packaging.contains(&lot.trim().to_lowercase()) {
                let Some(of) = LotId::new(lot).map(|lot| (lot, what.clone())) else {
                    continue;
                };
                let batch = found
                    .entry(record.code().clone())
                    .or_insert_with(|| affected(record, ExactMass::ZERO, (Vec::new(), of.clone())));
                if !batch.lots.contains(&of) {
                    batch.lots.push(of);
                }
                let sum = batch.packaging.as_ref().map_or(0, |(_, n)| *n);
                batch.packaging = Some((what.clone(), sum.saturating_add(pieces)));
            }
        }
    }
    found.into_values().collect()
}

/// What all batches took from all lots.
pub fn usage<'a>(records: impl IntoIterator<Item = &'a Record>) -> LotUsage {
    let mut usage = LotUsage::default();
    for record in records {
        for (lot, mass) in record.usage() {
            usage.add(lot, mass);
        }
        for (_, lot, pieces) in record.pieces() {
            if let Some(lot) = LotId::new(lot) {
                usage.add_pieces(lot, u64::from(pieces));
            }
        }
    }
    usage
}

#[cfg(test)]
mod tests {
    use super::super::record::tests::{add, opening, record, weigh};
    use super::*;
    use crate::mass::read_mass;
    use crate::material::MaterialId;
    use crate::quantity::Currency;
    use crate::stock::Lot;
    use proptest::prelude::*;

    fn lot_id(text: &str) -> LotId {
        LotId::new(text).unwrap()
    }

    fn lot(id: &str, made_in: Option<&str>) -> Lot {
        let eur = Currency::new("EUR").unwrap();
        Lot {
            supplier_lot: format!("S-{id}").into(),
            made_in: made_in.map(|c| BatchCode::new(c).unwrap()),
            ..Lot::of_one_pack(
                lot_id(id),
                MaterialId::from_name("Glycerin"),
                jiff::civil::date(2026, 1, 1),
                read_mass("1 kg", None).unwrap(),
                eur,
            )
        }
    }

    fn batch(code: &str, lots: &[&str]) -> Record {
        let mut r = record(opening(code));
        for lot in lots {
            add(&mut r, weigh(10, "10 g", lot)).unwrap();
        }
        r
    }

    #[test]
    fn a_lot_is_found_through_a_dilution() {
        let mut stock = Stock::new(Currency::new("EUR").unwrap());
        stock.lots = vec![
            lot("X", None),
            lot("P", Some("26-001")),
            lot("Q", Some("26-002")),
        ];
        let records = [
            batch("26-001", &["X"]),
            batch("26-002", &["P"]),
            batch("26-003", &["Q", "Y"]),
            batch("26-004", &["Y"]),
        ];
        let hit = batches_with(&lot_id("X"), &records, &stock);
        let codes: Vec<&str> = hit.iter().map(|a| a.code.as_str()).collect();
        assert_eq!(codes, ["26-001", "26-002", "26-003"]);
        assert_eq!(hit[2].through, [lot_id("Q"), lot_id("P")]);
        // Each names the lot that was looked for and what it is of.
        let of = (
            lot_id("X"),
            records[0].opening().name_of(crate::formula::ItemId(10)),
        );
        assert!(hit.iter().all(|a| a.lots == std::slice::from_ref(&of)));
        let origins = lots_in(&BatchCode::new("26-003").unwrap(), &records, &stock);
        let lots: Vec<&str> = origins.iter().map(|o| o.lot.as_str()).collect();
        assert_eq!(lots, ["Q", "Y", "P", "X"]);
        assert_eq!(lots_named("s-x", &stock), [lot_id("X")]);
        // By the supplier's number, and by a code that only the records know.
        assert_eq!(recall("S-X", &records, &stock), hit);
        let unlisted = recall("y", &records, &stock);
        let codes: Vec<&str> = unlisted.iter().map(|a| a.code.as_str()).collect();
        assert_eq!(codes, ["26-003", "26-004"]);
    }

    /// What was weighed without a lot is named, in the batch and in what went into it; what was
    /// struck out is not.
    #[test]
    fn what_has_no_lot_is_named() {
        let mut stock = Stock::new(Currency::new("EUR").unwrap());
        stock.lots = vec![lot("P", Some("26-001"))];
        let mut first = batch("26-001", &["X"]);
        add(&mut first, weigh(11, "20 g", "")).unwrap();
        let mut second = batch("26-002", &["P"]);
        add(&mut second, weigh(11, "30 g", "")).unwrap();
        add(&mut second, weigh(11, "5 g", "")).unwrap();
        let name = second.opening().name_of(crate::formula::ItemId(11));
        let records = [first, second];
        let code = |text: &str| BatchCode::new(text).unwrap();
        let untraced = |mass: &str, through: &[&str]| Untraced {
            material: name.clone(),
            mass: read_mass(mass, None).unwrap(),
            through: through.iter().map(|c| code(c)).collect(),
        };
        assert_eq!(
            untraced_in(&code("26-002"), &records, &stock),
            [untraced("35 g", &[]), untraced("20 g", &["26-001"])]
        );
        let whole = [batch("26-003", &["X"])];
        assert_eq!(untraced_in(&code("26-003"), &whole, &stock), []);
    }

    proptest! {
        /// Against brute force: the relation "batch contains lot" closed under "lot made in
        /// batch", computed by repeated joining of all pairs.
        #[test]
        fn forward_and_backward_agree_and_are_complete(
            uses in prop::collection::vec((0_usize..8, 0_usize..10), 0..30),
            made in prop::collection::vec(prop::option::of(0_usize..8), 10),
        ) {
            let code = |b: usize| format!("26-{:03}", b + 1);
            let name = |l: usize| format!("L{l}");
            let mut stock = Stock::new(Currency::new("EUR").unwrap());
            stock.lots = made.iter().enumerate()
                .map(|(l, m)| lot(&name(l), m.map(code).as_deref()))
                .collect();
            let records: Vec<Record> = (0..8).map(|b| {
                let lots: Vec<String> = uses.iter().filter(|(x, _)| *x == b).map(|(_, l)| name(*l)).collect();
                let lots: Vec<&str> = lots.iter().map(String::as_str).collect();
                batch(&code(b), &lots)
            }).collect();
            let mut contains: BTreeSet<(usize, usize)> = uses.iter().copied().collect();
            loop {
                let mut more = contains.clone();
                for &(b, l) in &contains {
                    if let Some(inner) = made[l] {
                        more.extend(contains.iter().filter(|(x, _)| *x == inner).map(|(_, k)| (b, *k)));
                    }
                }
                if more == contains { break; }
                contains = more;
            }
            for l in 0..10 {
                let found: BTreeSet<String> = batches_with(&lot_id(&name(l)), &records, &stock)
                    .into_iter().map(|a| a.code.to_string()).collect();
                let wanted: BTreeSet<String> = contains.iter().filter(|(_, k)| *k == l).map(|(b, _)| code(*b)).collect();
                prop_assert_eq!(found, wanted);
            }
            for b in 0..8 {
                let found: BTreeSet<String> = lots_in(&BatchCode::new(&code(b)).unwrap(), &records, &stock)
                    .into_iter().map(|o| o.lot.to_string()).collect();
                let wanted: BTreeSet<String> = contains.iter().filter(|(x, _)| *x == b).map(|(_, k)| name(*k)).collect();
                prop_assert_eq!(found, wanted);
            }
        }
    }
}
