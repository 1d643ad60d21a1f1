//! What to buy: whole packs for what the stock lacks, as cheaply as can be.

use std::cmp::Reverse;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::{LotUsage, Stock, UnusableLot};
use crate::formula::Date;
use crate::mass::ExactMass;
use crate::material::MaterialId;
use crate::quantity::{Currency, Decimal};

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
    /// The day of the price; `None` if nobody has said.
    pub day: Option<Date>,
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
    /// What lies in lots that must not be used.
    pub set_aside: Vec<UnusableLot>,
    /// What is lacking.
    pub lacking: ExactMass,
    /// What to buy; empty if no pack size is known.
    pub packs: Vec<Packs>,
    /// What is over when all is made; `None` if no pack size is known.
    pub left_over: Option<ExactMass>,
}

impl Stock {
    /// What to buy for planned needs: whole packs for what usable lots lack, with what is
    /// left over afterwards, by material.
    pub fn shopping_list(
        &self,
        needs: &BTreeMap<MaterialId, ExactMass>,
        usage: &LotUsage,
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
                        set_aside: self.set_aside(material, usage, day),
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
        sizes.sort_by_key(|s| Reverse(s.pack));
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
