//! Lots in stock: what came in, until when it may be used, what is left, what to buy.
//!
//! What batches have taken is not kept twice: it is always counted up from the batch
//! records, as a [`Usage`]. The stock holds the lots themselves and the maker's own
//! corrections (waste, spills, a recount).

use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::sync::Arc;

use crate::batch::code::BatchCode;
use crate::batch::mass::ExactMass;
use crate::composition;
use crate::formula::Date;
use crate::material::{Material, MaterialId};
use crate::packaging::PackagingLot;
use crate::quantity::{Currency, Decimal};

/// The code the maker gives a lot when it comes in: any text, unique in the stock.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LotId(Arc<str>);

impl LotId {
    /// A lot code without blanks at the ends; `None` if nothing is left.
    pub fn new(text: &str) -> Option<Self> {
        let text = text.trim();
        (!text.is_empty()).then(|| Self(text.into()))
    }
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for LotId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}
impl fmt::Debug for LotId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Whether a lot may be used.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug, Default)]
pub enum LotStatus {
    /// Received, not yet checked.
    Quarantine,
    /// May be used.
    #[default]
    Released,
    /// Must not be used.
    Rejected,
}

impl LotStatus {
    /// All, in the order of display.
    pub const ALL: [Self; 3] = [Self::Quarantine, Self::Released, Self::Rejected];
    /// The word shown for it.
    pub const fn label(self) -> &'static str {
        match self {
            Self::Quarantine => "quarantine",
            Self::Released => "released",
            Self::Rejected => "rejected",
        }
    }
}

/// One lot of a raw material.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lot {
    /// The maker's code.
    pub id: LotId,
    /// Which material.
    pub material: MaterialId,
    /// Who delivered it.
    pub supplier: Arc<str>,
    /// The supplier's own lot number.
    pub supplier_lot: Arc<str>,
    /// Day of receipt.
    pub received: Date,
    /// Best before, as printed.
    pub expiry: Option<Date>,
    /// Day of first opening.
    pub opened: Option<Date>,
    /// Days it may be used for once opened.
    pub days_once_opened: Option<u32>,
    /// Contents of one pack.
    pub pack: ExactMass,
    /// Packs received.
    pub packs: u32,
    /// Price of one pack without tax.
    pub price_per_pack: Option<Decimal>,
    /// Currency of the price and the freight.
    pub currency: Currency,
    /// This lot's share of the freight, for all packs together.
    pub freight_share: Decimal,
    /// Tax in percent of price and freight that the maker cannot reclaim; zero if there is
    /// none or it is reclaimed.
    pub tax_percent: Decimal,
    /// Whether it may be used.
    pub status: LotStatus,
    /// The batch it was made in, if it is a dilution or pre-mix of the maker's own.
    pub made_in: Option<BatchCode>,
    /// Where the certificate of analysis is filed.
    pub certificate: Arc<str>,
    /// Free words.
    pub note: Arc<str>,
}

/// A number of days later; `None` beyond the calendar.
pub(crate) fn days_after(day: Date, days: u32) -> Option<Date> {
    let span = jiff::Span::new().try_days(i64::from(days)).ok()?;
    day.checked_add(span).ok()
}

impl Lot {
    /// What came in.
    pub fn received_mass(&self) -> ExactMass {
        self.pack.times(self.packs.into())
    }

    /// Its turn among lots of one material, first expired first out: by last day of use (none
    /// last), then by day of receipt, then by code.
    pub fn turn(&self) -> impl Ord + use<> {
        let last = self.last_day();
        (last.is_none(), last, self.received, self.id.clone())
    }

    /// The last day on which it may be used: the earlier of expiry and the days allowed
    /// once opened; `None` if neither is known.
    pub fn last_day(&self) -> Option<Date> {
        let once_opened = match (self.opened, self.days_once_opened) {
            (Some(opened), Some(days)) => days_after(opened, days),
            _ => None,
        };
        match (self.expiry, once_opened) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        }
    }

    /// Whether it may be used on a day.
    pub fn usable(&self, day: Date) -> bool {
        self.status == LotStatus::Released && self.last_day().is_none_or(|last| day <= last)
    }
}

/// What speaks against taking a mass from a lot.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum LotFault {
    /// Not in the stock.
    #[error("lot {0} is not in the stock")]
    Unknown(LotId),
    /// A lot of another material.
    #[error("lot {0} is of another material, {1}")]
    OtherMaterial(LotId, MaterialId),
    /// Not checked yet, or must not be used.
    #[error("lot {0} is in {1}")]
    Status(LotId, &'static str),
    /// Too old.
    #[error("lot {0} was to be used by {1}")]
    Expired(LotId, Date),
    /// Less is left than is taken.
    #[error("lot {0} has {1} g left by the books")]
    Short(LotId, ExactMass),
}

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

/// What a supplier asks for a pack, for shopping and for cost before a lot is in.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Offer {
    /// Which material.
    pub material: MaterialId,
    /// Who offers it.
    pub supplier: Arc<str>,
    /// Contents of a pack.
    pub pack: ExactMass,
    /// Price of a pack without tax; `None` if not asked yet.
    pub price: Option<Decimal>,
    /// Currency of the price.
    pub currency: Currency,
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
    pub fn remove(&mut self, id: &LotId, usage: &Usage) -> Result<(), StockError> {
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
    pub fn left(&self, lot: &Lot, usage: &Usage) -> ExactMass {
        let adjusted: ExactMass = self
            .adjustments
            .iter()
            .filter(|a| a.lot == lot.id)
            .map(|a| a.change)
            .sum();
        lot.received_mass() + adjusted - usage.of(&lot.id)
    }

    /// What is left of a material in lots that may be used on a day.
    pub fn usable(&self, material: &MaterialId, usage: &Usage, day: Date) -> ExactMass {
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
        usage: &Usage,
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
    pub fn draw(&self, material: &MaterialId, mass: ExactMass, usage: &Usage, day: Date) -> Draw {
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
        Draw {
            parts,
            short: wanted.max(ExactMass::ZERO),
        }
    }

    /// Materials with less in usable lots than their reorder level, by id.
    pub fn low(&self, usage: &Usage, day: Date) -> Vec<Low> {
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
    pub fn expiring<'a>(&'a self, usage: &Usage, day: Date, within_days: u32) -> Vec<Expiring<'a>> {
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
    pub fn holdings(&self, usage: &Usage, day: Date) -> Holdings {
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

    /// What to buy for planned needs: whole packs for what usable lots lack, with what is
    /// left over afterwards, by material.
    pub fn shopping_list(
        &self,
        needs: &BTreeMap<MaterialId, ExactMass>,
        usage: &Usage,
        day: Date,
    ) -> Vec<Purchase> {
        needs
            .iter()
            .filter_map(|(material, &need)| {
                let in_stock = self.usable(material, usage, day);
                let lacking = need - in_stock;
                (lacking > ExactMass::ZERO).then(|| {
                    let packs = self.packs_for(material, lacking);
                    let bought: ExactMass =
                        packs.iter().map(|p| p.pack.times(p.count.into())).sum();
                    Purchase {
                        material: material.clone(),
                        need,
                        in_stock,
                        lacking,
                        left_over: (!packs.is_empty()).then(|| bought - lacking),
                        packs,
                    }
                })
            })
            .collect()
    }

    /// The cheapest whole packs that hold at least a mass: of all offers with a price in a
    /// currency with a rate; if there is none, of the offers without price or the packs of
    /// earlier lots, the fewest grams too many.
    fn packs_for(&self, material: &MaterialId, lacking: ExactMass) -> Vec<Packs> {
        let mut sizes: Vec<PackSize> = self
            .offers
            .iter()
            .filter(|o| o.material == *material && o.pack > ExactMass::ZERO)
            .map(|o| PackSize {
                pack: o.pack,
                supplier: o.supplier.clone(),
                price: o
                    .price
                    .and_then(|p| Some(p.checked_mul(self.rate(o.currency)?)?.normalize())),
            })
            .collect();
        if sizes.is_empty() {
            // The last lot shows how the material is sold and, if stated, at what price.
            sizes.extend(
                self.lots_of(material)
                    .filter(|l| l.pack > ExactMass::ZERO && l.made_in.is_none())
                    .max_by_key(|l| l.received)
                    .map(|l| PackSize {
                        pack: l.pack,
                        supplier: l.supplier.clone(),
                        price: l
                            .price_per_pack
                            .and_then(|p| p.checked_mul(self.rate(l.currency)?)),
                    }),
            );
        }
        if sizes.iter().any(|s| s.price.is_some()) {
            sizes.retain(|s| s.price.is_some());
        }
        sizes.sort_by_key(|s| std::cmp::Reverse(s.pack));
        let mut best = None;
        let mut counts = vec![0; sizes.len()];
        cheapest(&sizes, 0, lacking, &mut counts, &mut best);
        let Some((_, counts)) = best else {
            return Vec::new();
        };
        sizes
            .into_iter()
            .zip(counts)
            .filter(|(_, count)| *count > 0)
            .map(|(size, count)| Packs {
                count,
                pack: size.pack,
                supplier: size.supplier,
                price: size.price.and_then(|p| p.checked_mul(count.into())),
            })
            .collect()
    }
}

struct PackSize {
    pack: ExactMass,
    supplier: Arc<str>,
    price: Option<Decimal>,
}

/// What a choice of packs costs, then how much it buys: less is better.
type Rank = (Decimal, ExactMass);

/// Sizes tried together, the largest first, and how far below the most that fit each is
/// tried. Together they bound the search to some ten thousand choices; a cheaper one may
/// be missed only where more sizes are offered or twelve fewer of one would pay.
const SIZES_TRIED: usize = 5;
const FEWER_TRIED: u32 = 11;

/// Tries, size by size from the largest, none, the most that fit, one more, and up to
/// [`FEWER_TRIED`] fewer; the smallest size makes up what is lacking.
fn cheapest(
    sizes: &[PackSize],
    place: usize,
    lacking: ExactMass,
    counts: &mut Vec<u32>,
    best: &mut Option<(Rank, Vec<u32>)>,
) {
    if lacking <= ExactMass::ZERO || place >= sizes.len().min(SIZES_TRIED) {
        if lacking <= ExactMass::ZERO {
            let rank = sizes.iter().zip(counts.iter()).fold(
                (Decimal::ZERO, ExactMass::ZERO),
                |(cost, mass), (s, &n)| {
                    let price = s.price.unwrap_or_default();
                    let cost = price
                        .checked_mul(n.into())
                        .and_then(|p| cost.checked_add(p))
                        .unwrap_or(Decimal::MAX);
                    (cost, mass + s.pack.times(n.into()))
                },
            );
            if best.as_ref().is_none_or(|(b, _)| rank < *b) {
                *best = Some((rank, counts.clone()));
            }
        }
        return;
    }
    let Some(size) = sizes.get(place) else {
        return;
    };
    let fit = u32::try_from(lacking.femtograms() / size.pack.femtograms()).unwrap_or(u32::MAX - 1);
    let last = place + 1 == sizes.len().min(SIZES_TRIED);
    let enough = fit + u32::from(lacking > size.pack.times(fit.into()));
    let from = if last {
        enough
    } else {
        fit.saturating_sub(FEWER_TRIED)
    };
    let none = (from > 0 && !last).then_some(0);
    for count in none.into_iter().chain(from..=enough) {
        if let Some(slot) = counts.get_mut(place) {
            *slot = count;
        }
        cheapest(
            sizes,
            place + 1,
            lacking - size.pack.times(count.into()),
            counts,
            best,
        );
    }
    if let Some(slot) = counts.get_mut(place) {
        *slot = 0;
    }
}

/// From which lots a mass is taken.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Draw {
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

/// What several batches need together: the needs of one batch, and how many of it.
pub fn sum_needs<'n>(
    batches: impl IntoIterator<Item = (&'n BTreeMap<MaterialId, ExactMass>, u32)>,
) -> BTreeMap<MaterialId, ExactMass> {
    let mut sum: BTreeMap<MaterialId, ExactMass> = BTreeMap::new();
    for (needs, count) in batches {
        for (material, mass) in needs {
            *sum.entry(material.clone()).or_default() += mass.times(count.into());
        }
    }
    sum
}

/// Which materials are at hand.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Holdings {
    /// Those with something left in a lot that may be used.
    pub usable: BTreeSet<MaterialId>,
    /// Those with something left in a lot whose last day has passed.
    pub expired: BTreeSet<MaterialId>,
}

/// A number of packs of one size.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Packs {
    /// How many.
    pub count: u32,
    /// Contents of one.
    pub pack: ExactMass,
    /// From whom.
    pub supplier: Arc<str>,
    /// For all of them, in the maker's currency, without tax and freight; `None` if unknown.
    pub price: Option<Decimal>,
}

/// A line of the shopping list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Purchase {
    /// Which material.
    pub material: MaterialId,
    /// What the planned batches need.
    pub need: ExactMass,
    /// What usable lots hold.
    pub in_stock: ExactMass,
    /// What is lacking.
    pub lacking: ExactMass,
    /// What to buy; empty if no pack size is known.
    pub packs: Vec<Packs>,
    /// What is over when all is made; `None` if no pack size is known.
    pub left_over: Option<ExactMass>,
}

/// What batches have taken from each lot: masses of materials, pieces of packaging.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Usage {
    masses: BTreeMap<LotId, ExactMass>,
    pieces: BTreeMap<LotId, u64>,
}

impl Usage {
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

impl FromIterator<(LotId, ExactMass)> for Usage {
    fn from_iter<I: IntoIterator<Item = (LotId, ExactMass)>>(iter: I) -> Self {
        let mut usage = Self::default();
        for (lot, mass) in iter {
            usage.add(lot, mass);
        }
        usage
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::batch::mass::read_mass;
    use crate::fixture;
    use crate::material::Class;
    use jiff::civil::date;

    fn mass(text: &str) -> ExactMass {
        read_mass(text, None).unwrap()
    }
    fn eur() -> Currency {
        Currency::new("EUR").unwrap()
    }
    fn glycerin() -> MaterialId {
        MaterialId::from_name("glycerin")
    }
    fn lot(id: &str, pack: &str, packs: u32, expiry: Option<Date>) -> Lot {
        Lot {
            id: LotId::new(id).unwrap(),
            material: glycerin(),
            supplier: "Fellside Botanicals".into(),
            supplier_lot: "".into(),
            received: date(2026, 1, 10),
            expiry,
            opened: None,
            days_once_opened: None,
            pack: mass(pack),
            packs,
            price_per_pack: None,
            currency: eur(),
            freight_share: Decimal::ZERO,
            tax_percent: Decimal::ZERO,
            status: LotStatus::Released,
            made_in: None,
            certificate: "".into(),
            note: "".into(),
        }
    }
    fn offer(pack: &str, price: Option<i64>) -> Offer {
        Offer {
            material: glycerin(),
            supplier: "Fellside Botanicals".into(),
            pack: mass(pack),
            price: price.map(|p| Decimal::new(p, 2)),
            currency: eur(),
        }
    }

    #[test]
    fn what_speaks_against_a_lot_is_said_at_its_limits() {
        let mut stock = Stock::new(eur());
        let (id, other) = (LotId::new("G1").unwrap(), MaterialId::from_name("other"));
        let usage = Usage::default();
        let last = date(2026, 6, 30);
        let faults = |stock: &Stock, material: &MaterialId, grams: &str, day| {
            stock.faults(&id, material, mass(grams), &usage, day)
        };
        // Where no stock is kept, nothing can be said.
        assert_eq!(faults(&stock, &glycerin(), "1 g", last), []);
        stock.lots = vec![lot("G2", "1 kg", 1, None)];
        let unknown = faults(&stock, &glycerin(), "1 g", last);
        assert_eq!(unknown, [LotFault::Unknown(id.clone())]);
        stock.lots = vec![lot("G1", "1 kg", 1, Some(last))];
        assert_eq!(faults(&stock, &glycerin(), "1 kg", last), []);
        assert_eq!(
            faults(&stock, &glycerin(), "1000.1 g", last),
            [LotFault::Short(id.clone(), mass("1 kg"))]
        );
        assert_eq!(
            faults(&stock, &glycerin(), "1 g", date(2026, 7, 1)),
            [LotFault::Expired(id.clone(), last)]
        );
        assert_eq!(
            faults(&stock, &other, "1 g", last),
            [LotFault::OtherMaterial(id.clone(), glycerin())]
        );
        for (status, words) in [
            (LotStatus::Quarantine, "quarantine"),
            (LotStatus::Rejected, "the rejected goods"),
        ] {
            stock.lots[0].status = status;
            assert_eq!(
                faults(&stock, &glycerin(), "1 g", last),
                [LotFault::Status(id.clone(), words)]
            );
        }
    }

    #[test]
    fn only_water_without_lots_comes_from_the_tap() {
        let water = fixture::material("Water", &[("Aqua", 100.0, Class::Water)]);
        let oil = fixture::material("Oil", &[("Olea Europaea Fruit Oil", 100.0, Class::Oil)]);
        let mut stock = Stock::new(eur());
        assert!(stock.is_from_the_tap(&water));
        assert!(!stock.is_from_the_tap(&oil));
        let mut kept = lot("W1", "5 kg", 1, None);
        kept.material = water.id.clone();
        stock.lots = vec![kept];
        assert!(!stock.is_from_the_tap(&water));
        assert!(!stock.is_from_the_tap(&oil));
    }

    #[test]
    fn a_lot_taken_away_takes_its_adjustments_with_it_and_no_others() {
        let mut stock = Stock::new(eur());
        stock.lots = vec![lot("G1", "1 kg", 1, None), lot("G2", "1 kg", 1, None)];
        let adjustment = |id: &str| Adjustment {
            lot: LotId::new(id).unwrap(),
            day: date(2026, 3, 1),
            change: mass("1 g"),
            reason: "counted".into(),
        };
        stock.adjustments = vec![adjustment("G1"), adjustment("G2")];
        stock
            .remove(&LotId::new("G1").unwrap(), &Usage::default())
            .unwrap();
        let left: Vec<_> = stock.adjustments.iter().map(|a| a.lot.as_str()).collect();
        assert_eq!(left, ["G2"]);
    }

    #[test]
    fn negative_money_and_empty_lots_are_refused() {
        let refused = |change: &dyn Fn(&mut Lot)| {
            let mut lot = lot("G1", "1 kg", 1, None);
            change(&mut lot);
            Stock::check(&lot).is_err()
        };
        let minus = Decimal::new(-1, 2);
        assert!(!refused(&|l| l.price_per_pack = Some(Decimal::ZERO)));
        assert!(refused(&|l| l.price_per_pack = Some(minus)));
        assert!(refused(&|l| l.freight_share = minus));
        assert!(refused(&|l| l.tax_percent = minus));
        assert!(refused(&|l| l.packs = 0));
    }

    #[test]
    fn without_offers_the_last_lot_bought_shows_the_pack() {
        let mut stock = Stock::new(eur());
        let mut made = lot("M1", "7 kg", 1, None);
        made.made_in = BatchCode::new("26-001").ok();
        made.received = date(2026, 5, 1);
        let mut older = lot("G1", "5 kg", 1, None);
        older.received = date(2025, 1, 1);
        stock.lots = vec![made, older, lot("G2", "1 kg", 1, None)];
        let needs = BTreeMap::from([(glycerin(), mass("15 kg"))]);
        let list = stock.shopping_list(&needs, &Usage::default(), date(2026, 6, 1));
        // 13 kg are there; two packs of the size bought last, not of what was made here.
        let packs: Vec<_> = list[0].packs.iter().map(|p| (p.pack, p.count)).collect();
        assert_eq!(packs, [(mass("1 kg"), 2)]);
        assert_eq!(list[0].lacking, mass("2 kg"));
        let enough = BTreeMap::from([(glycerin(), mass("13 kg"))]);
        assert_eq!(
            stock.shopping_list(&enough, &Usage::default(), date(2026, 6, 1)),
            []
        );
    }

    #[test]
    fn what_is_used_up_is_neither_at_hand_nor_expired() {
        let mut stock = Stock::new(eur());
        stock.lots = vec![
            lot("G1", "1 kg", 1, Some(date(2027, 1, 1))),
            lot("G2", "1 kg", 1, Some(date(2026, 2, 1))),
        ];
        let used = Usage::from_iter([(LotId::new("G1").unwrap(), mass("1 kg"))]);
        let held = |usage: &Usage, day| {
            let h = stock.holdings(usage, day);
            (
                h.usable.contains(&glycerin()),
                h.expired.contains(&glycerin()),
            )
        };
        assert_eq!(held(&used, date(2026, 1, 31)), (true, false));
        assert_eq!(held(&used, date(2026, 2, 1)), (true, false));
        assert_eq!(held(&used, date(2026, 2, 2)), (false, true));
        assert_eq!(held(&Usage::default(), date(2026, 2, 2)), (true, true));
    }

    #[test]
    fn first_expired_goes_out_first() {
        let mut stock = Stock::new(eur());
        stock.lots = vec![
            lot("G1", "1 kg", 1, None),
            lot("G2", "500 g", 1, Some(date(2027, 1, 1))),
            lot("G3", "500 g", 1, Some(date(2026, 8, 1))),
            lot("G4", "500 g", 1, Some(date(2026, 2, 1))),
        ];
        let used = Usage::from_iter([(LotId::new("G3").unwrap(), mass("200 g"))]);
        let draw = stock.draw(&glycerin(), mass("900 g"), &used, date(2026, 6, 1));
        let parts: Vec<(&str, ExactMass)> =
            draw.parts.iter().map(|(l, m)| (l.as_str(), *m)).collect();
        assert_eq!(
            parts,
            [
                ("G3", mass("300 g")),
                ("G2", mass("500 g")),
                ("G1", mass("100 g"))
            ]
        );
        assert_eq!(draw.short, ExactMass::ZERO);
        let all = stock.draw(&glycerin(), mass("2 kg"), &used, date(2026, 6, 1));
        assert_eq!(all.short, mass("200 g"));
    }

    #[test]
    fn an_opened_lot_lasts_no_longer_than_it_may() {
        let mut opened = lot("G1", "1 kg", 1, Some(date(2027, 1, 1)));
        opened.opened = Some(date(2026, 3, 1));
        opened.days_once_opened = Some(90);
        assert_eq!(opened.last_day(), Some(date(2026, 5, 30)));
        assert!(opened.usable(date(2026, 5, 30)));
        assert!(!opened.usable(date(2026, 5, 31)));
        opened.status = LotStatus::Quarantine;
        assert!(!opened.usable(date(2026, 4, 1)));
    }

    #[test]
    fn what_is_low_or_expires_is_listed() {
        let mut stock = Stock::new(eur());
        stock.lots = vec![
            lot("G1", "1 kg", 1, Some(date(2026, 6, 20))),
            lot("G2", "1 kg", 1, Some(date(2026, 5, 1))),
        ];
        stock.adjustments.push(Adjustment {
            lot: LotId::new("G1").unwrap(),
            day: date(2026, 5, 1),
            change: ExactMass::ZERO - mass("900 g"),
            reason: "spilled".into(),
        });
        stock.reorder.insert(glycerin(), mass("250 g"));
        let low = stock.low(&Usage::default(), date(2026, 6, 1));
        assert_eq!(low.len(), 1);
        assert_eq!(low[0].left, mass("100 g"));
        let expiring = stock.expiring(&Usage::default(), date(2026, 6, 1), 30);
        assert_eq!(expiring.len(), 2);
        assert!(expiring[0].expired && expiring[0].lot.id.as_str() == "G2");
        assert!(!expiring[1].expired);
    }

    #[test]
    fn a_lot_is_mended_and_taken_away() {
        let mut stock = Stock::new(Currency::EUR);
        stock.add(lot("G1", "1 kg", 1, None)).unwrap();
        let mut mended = lot("G1", "1 kg", 1, None);
        mended.price_per_pack = Some(Decimal::from(9));
        // More days than the calendar has do not end.
        mended.opened = Some(date(2026, 2, 1));
        mended.days_once_opened = Some(u32::MAX);
        stock.replace(mended.clone()).unwrap();
        assert_eq!(stock.lots, [mended.clone()]);
        assert_eq!(stock.lots[0].last_day(), None);
        mended.packs = 0;
        assert!(matches!(stock.replace(mended), Err(StockError::Empty(_))));
        let other = lot("G2", "1 kg", 1, None);
        assert!(matches!(stock.replace(other), Err(StockError::Missing(_))));
        let id = LotId::new("G1").unwrap();
        let used: Usage = [(id.clone(), mass("1 g"))].into_iter().collect();
        assert!(matches!(stock.remove(&id, &used), Err(StockError::Used(_))));
        stock.remove(&id, &Usage::default()).unwrap();
        assert!(stock.lots.is_empty());
    }

    #[test]
    fn whole_packs_are_bought_as_cheaply_as_can_be() {
        let mut stock = Stock::new(eur());
        stock.offers = vec![
            offer("1 kg", Some(900)),
            offer("250 g", Some(300)),
            offer("5 kg", Some(3000)),
        ];
        let needs = BTreeMap::from([(glycerin(), mass("1.2 kg"))]);
        let list = stock.shopping_list(&needs, &Usage::default(), date(2026, 6, 1));
        assert_eq!(list[0].packs.len(), 2);
        assert_eq!(list[0].left_over, Some(mass("50 g")));
        let price: Decimal = list[0].packs.iter().filter_map(|p| p.price).sum();
        assert_eq!(price, Decimal::new(1200, 2));
        // Beyond 1.75 kg, two kilograms are cheaper than one and three quarters.
        let needs = BTreeMap::from([(glycerin(), mass("1.76 kg"))]);
        let list = stock.shopping_list(&needs, &Usage::default(), date(2026, 6, 1));
        assert_eq!(list[0].packs[0].count, 2);
        assert_eq!(list[0].packs.len(), 1);
    }

    #[test]
    fn fewer_large_packs_may_leave_less_over() {
        let mut stock = Stock::new(eur());
        stock.offers = vec![offer("5 kg", Some(5000)), offer("3 kg", Some(3000))];
        let needs = BTreeMap::from([(glycerin(), mass("14 kg"))]);
        let list = stock.shopping_list(&needs, &Usage::default(), date(2026, 6, 1));
        let counts: Vec<u32> = list[0].packs.iter().map(|p| p.count).collect();
        assert_eq!(counts, [1, 3]);
        assert_eq!(list[0].left_over, Some(ExactMass::ZERO));
    }

    #[test]
    fn an_unknown_price_stays_unknown() {
        let mut stock = Stock::new(eur());
        stock.offers = vec![offer("250 g", None)];
        let needs = BTreeMap::from([
            (glycerin(), mass("300 g")),
            (MaterialId::from_name("urea"), mass("5 g")),
        ]);
        let list = stock.shopping_list(&needs, &Usage::default(), date(2026, 6, 1));
        assert_eq!(list[0].packs[0].count, 2);
        assert_eq!(list[0].packs[0].price, None);
        assert!(list[1].packs.is_empty());
        assert_eq!(list[1].left_over, None);
    }
}
