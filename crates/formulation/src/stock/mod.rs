//! Lots in stock: what came in, until when it may be used, what is left, what to buy.
//!
//! What batches have taken is not kept twice: it is always counted up from the batch
//! records, as a [`LotUsage`]. The stock holds the lots themselves and the maker's own
//! corrections (waste, spills, a recount).

mod buying;
mod lot;
pub mod packaging;
mod set_aside;
#[cfg(test)]
mod tests;

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub use self::buying::{Offer, Packs, Purchase, sum_needs};
pub(crate) use self::lot::days_after;
pub use self::lot::{Lot, LotFault, LotId, LotStatus};
use self::packaging::PackagingLot;
pub use self::set_aside::{UnusableLot, set_aside_words};
use crate::composition;
use crate::formula::Date;
use crate::mass::ExactMass;
use crate::material::{Material, MaterialId};
use crate::quantity::{Currency, Decimal};

/// A correction of what is left of a lot.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Adjustment {
    /// The lot.
    pub lot: LotId,
    /// The day.
    pub day: Date,
    /// What is added (negative if taken away).
    pub change: ExactMass,
    /// Why: waste, spill, recount, sample …
    pub reason: Arc<str>,
}

/// Why a lot cannot be kept so.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum StockError {
    /// The code is taken.
    #[error("the lot “{0}” is in the stock already; give this one another code")]
    Taken(LotId),
    /// No such lot.
    #[error("there is no lot “{0}”")]
    Missing(LotId),
    /// A lot that batches took from.
    #[error(
        "a batch took from the lot “{0}”, so it stays in the books; correct what is left of it, or reject it"
    )]
    Used(LotId),
    /// A pack of nothing.
    #[error("the lot “{0}” holds nothing; enter the contents of a pack and how many there are")]
    Empty(LotId),
    /// Packaging without a name or without pieces.
    #[error("the packaging “{0}” needs what it is and how many pieces there are")]
    NoPieces(LotId),
    /// Money below zero.
    #[error("price, freight and tax of the lot “{0}” must not be below zero")]
    Negative(LotId),
}

/// The maker's stock.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stock {
    /// Lots in the order of receipt.
    pub lots: Vec<Lot>,
    /// Corrections in the order made.
    pub adjustments: Vec<Adjustment>,
    /// Offers of suppliers.
    pub offers: Vec<Offer>,
    /// Below this much a material is low.
    pub reorder: BTreeMap<MaterialId, ExactMass>,
    /// The maker's currency.
    pub home: Currency,
    /// What one unit of another currency is worth in the maker's.
    pub rates: BTreeMap<Currency, Decimal>,
    /// Lots of packaging in the order of receipt.
    pub packaging: Vec<PackagingLot>,
}

impl Stock {
    /// An empty stock kept in a currency.
    pub const fn new(home: Currency) -> Self {
        Self {
            lots: Vec::new(),
            adjustments: Vec::new(),
            offers: Vec::new(),
            reorder: BTreeMap::new(),
            home,
            rates: BTreeMap::new(),
            packaging: Vec::new(),
        }
    }

    /// Adds a lot, checked.
    pub fn add(&mut self, lot: Lot) -> Result<(), StockError> {
        if self.lot(&lot.id).is_some() {
            return Err(StockError::Taken(lot.id));
        }
        Self::check(&lot)?;
        self.lots.push(lot);
        Ok(())
    }

    /// Puts a lot in the place of the one of the same code, checked; its corrections and
    /// what batches took from it stay.
    pub fn replace(&mut self, lot: Lot) -> Result<(), StockError> {
        Self::check(&lot)?;
        match self.lots.iter_mut().find(|l| l.id == lot.id) {
            Some(known) => *known = lot,
            None => return Err(StockError::Missing(lot.id)),
        }
        Ok(())
    }

    /// Takes away a lot that was entered by mistake. One from which a batch took stays,
    /// since the record of the batch leads to it.
    pub fn remove(&mut self, id: &LotId, usage: &LotUsage) -> Result<(), StockError> {
        if !usage.of(id).is_zero() {
            return Err(StockError::Used(id.clone()));
        }
        self.lots.retain(|l| l.id != *id);
        self.adjustments.retain(|a| a.lot != *id);
        Ok(())
    }

    fn check(lot: &Lot) -> Result<(), StockError> {
        let negative = |d: Decimal| d < Decimal::ZERO;
        let id = || lot.id.clone();
        if lot.received_mass() <= ExactMass::ZERO {
            return Err(StockError::Empty(id()));
        }
        if lot.price_per_pack.is_some_and(negative)
            || negative(lot.freight_share)
            || negative(lot.tax_percent)
        {
            return Err(StockError::Negative(id()));
        }
        Ok(())
    }

    /// A lot by its code.
    pub fn lot(&self, id: &LotId) -> Option<&Lot> {
        self.lots.iter().find(|l| l.id == *id)
    }

    /// Whether a material is water of which no lot is kept: it comes from the tap or the
    /// still and is never short.
    pub fn is_from_the_tap(&self, material: &Material) -> bool {
        composition::is_water(material) && self.lots_of(&material.id).next().is_none()
    }

    /// All lots of a material.
    pub fn lots_of<'a>(&'a self, material: &'a MaterialId) -> impl Iterator<Item = &'a Lot> {
        self.lots.iter().filter(move |l| l.material == *material)
    }

    /// What is left of a lot by the books; negative if more was taken than came in.
    pub fn left(&self, lot: &Lot, usage: &LotUsage) -> ExactMass {
        let adjusted: ExactMass = self
            .adjustments
            .iter()
            .filter(|a| a.lot == lot.id)
            .map(|a| a.change)
            .sum();
        lot.received_mass() + adjusted - usage.of(&lot.id)
    }

    /// What is left of a material in lots that may be used on a day.
    pub fn usable(&self, material: &MaterialId, usage: &LotUsage, day: Date) -> ExactMass {
        self.lots_of(material)
            .filter(|l| l.usable(day))
            .map(|l| self.left(l, usage))
            .filter(|&m| m > ExactMass::ZERO)
            .sum()
    }

    /// What speaks against taking a mass of a material from a lot on a day; empty if nothing
    /// does, or if no stock is kept at all.
    pub fn faults(
        &self,
        id: &LotId,
        material: &MaterialId,
        mass: ExactMass,
        usage: &LotUsage,
        day: Date,
    ) -> Vec<LotFault> {
        if self.lots.is_empty() {
            return Vec::new();
        }
        let Some(lot) = self.lot(id) else {
            return vec![LotFault::Unknown(id.clone())];
        };
        let mut faults = Vec::new();
        if lot.material != *material {
            faults.push(LotFault::OtherMaterial(id.clone(), lot.material.clone()));
        }
        match lot.status {
            LotStatus::Released => {}
            LotStatus::Quarantine => faults.push(LotFault::Status(id.clone(), "quarantine")),
            LotStatus::Rejected => faults.push(LotFault::Status(id.clone(), "the rejected goods")),
        }
        if let Some(last) = lot.last_day().filter(|last| day > *last) {
            faults.push(LotFault::Expired(id.clone(), last));
        }
        let left = self.left(lot, usage);
        if left < mass {
            faults.push(LotFault::Short(id.clone(), left));
        }
        faults
    }

    /// From which lots a mass is to be taken on a day, in their [`Lot::turn`].
    pub fn draw(
        &self,
        material: &MaterialId,
        mass: ExactMass,
        usage: &LotUsage,
        day: Date,
    ) -> LotDraw {
        let mut lots: Vec<(&Lot, ExactMass)> = self
            .lots_of(material)
            .filter(|l| l.usable(day))
            .map(|l| (l, self.left(l, usage)))
            .filter(|(_, left)| *left > ExactMass::ZERO)
            .collect();
        lots.sort_by_key(|(lot, _)| lot.turn());
        let mut parts = Vec::new();
        let mut wanted = mass;
        for (lot, left) in lots {
            if wanted <= ExactMass::ZERO {
                break;
            }
            let part = wanted.min(left);
            parts.push((lot.id.clone(), part));
            wanted -= part;
        }
        LotDraw {
            parts,
            short: wanted.max(ExactMass::ZERO),
        }
    }

    /// Materials with less in usable lots than their reorder level, by id.
    pub fn low(&self, usage: &LotUsage, day: Date) -> Vec<Low> {
        self.reorder
            .iter()
            .map(|(material, &level)| Low {
                material: material.clone(),
                left: self.usable(material, usage, day),
                level,
            })
            .filter(|low| low.left < low.level)
            .collect()
    }

    /// Lots with something left whose last day lies within a number of days of a day, or
    /// before it, soonest first.
    pub fn expiring<'a>(
        &'a self,
        usage: &LotUsage,
        day: Date,
        within_days: u32,
    ) -> Vec<Expiring<'a>> {
        let horizon = days_after(day, within_days).unwrap_or(Date::MAX);
        let mut expiring: Vec<Expiring<'a>> = self
            .lots
            .iter()
            .filter(|l| l.status != LotStatus::Rejected)
            .filter_map(|lot| {
                let last_day = lot.last_day()?;
                let left = self.left(lot, usage);
                (last_day <= horizon && left > ExactMass::ZERO).then_some(Expiring {
                    lot,
                    last_day,
                    left,
                    expired: last_day < day,
                })
            })
            .collect();
        expiring.sort_by_key(|e| (e.last_day, e.lot.id.clone()));
        expiring
    }

    /// Which materials are at hand, and of which something has expired, on a day.
    pub fn holdings(&self, usage: &LotUsage, day: Date) -> Holdings {
        let mut holdings = Holdings::default();
        for lot in &self.lots {
            if self.left(lot, usage) <= ExactMass::ZERO {
                continue;
            }
            if lot.usable(day) {
                holdings.usable.insert(lot.material.clone());
            } else if lot.last_day().is_some_and(|last| last < day) {
                holdings.expired.insert(lot.material.clone());
            }
        }
        holdings
    }

    /// What one unit of a currency is worth in the maker's; `None` if no rate is entered.
    pub fn rate(&self, currency: Currency) -> Option<Decimal> {
        if currency == self.home {
            Some(Decimal::ONE)
        } else {
            self.rates.get(&currency).copied()
        }
    }
}

/// From which lots a mass is taken.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct LotDraw {
    /// Lot and mass, in the order of taking.
    pub parts: Vec<(LotId, ExactMass)>,
    /// What usable lots lack.
    pub short: ExactMass,
}

/// A material below its reorder level.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Low {
    /// Which.
    pub material: MaterialId,
    /// What is left in usable lots.
    pub left: ExactMass,
    /// The level set.
    pub level: ExactMass,
}

/// A lot that expires soon or has expired.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Expiring<'a> {
    /// Which.
    pub lot: &'a Lot,
    /// Its last day of use.
    pub last_day: Date,
    /// What is left of it.
    pub left: ExactMass,
    /// Whether that day has passed.
    pub expired: bool,
}

/// Which materials are at hand.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Holdings {
    /// Those with something left in a lot that may be used.
    pub usable: BTreeSet<MaterialId>,
    /// Those with something left in a lot whose last day has passed.
    pub expired: BTreeSet<MaterialId>,
}

/// What batches have taken from each lot: masses of materials, pieces of packaging.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct LotUsage {
    masses: BTreeMap<LotId, ExactMass>,
    pieces: BTreeMap<LotId, u64>,
}

impl LotUsage {
    /// Adds what was taken from a lot.
    pub fn add(&mut self, lot: LotId, mass: ExactMass) {
        *self.masses.entry(lot).or_default() += mass;
    }
    /// What was taken from a lot.
    pub fn of(&self, lot: &LotId) -> ExactMass {
        self.masses.get(lot).copied().unwrap_or_default()
    }
    /// Adds pieces used or spoilt of a lot of packaging.
    pub fn add_pieces(&mut self, lot: LotId, pieces: u64) {
        let count = self.pieces.entry(lot).or_default();
        *count = count.saturating_add(pieces);
    }
    /// Pieces used or spoilt of a lot of packaging.
    pub fn pieces_of(&self, lot: &LotId) -> u64 {
        self.pieces.get(lot).copied().unwrap_or_default()
    }
}

impl FromIterator<(LotId, ExactMass)> for LotUsage {
    fn from_iter<I: IntoIterator<Item = (LotId, ExactMass)>>(iter: I) -> Self {
        let mut usage = Self::default();
        for (lot, mass) in iter {
            usage.add(lot, mass);
        }
        usage
    }
}
