//! From the proposal of a list to offers, lots and materials.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::sync::Arc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::{Pack, PriceList, ProposedLot, ProposedPrice};
use crate::file::table::accept::new_material;
use crate::file::table::recipe::{LeftOutRow, MaterialChoice};
use crate::mass::{ExactMass, MassUnit};
use crate::material::{Material, MaterialId};
use crate::naming::{Resolver, fold};
use crate::quantity::in_kg_per_m3;
use crate::stock::{Lot, LotId, LotStatus, Offer, Stock};

/// A list taken in.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct AcceptedPrices {
    /// Offers for the stock.
    pub offers: Vec<Offer>,
    /// Lots, for rows with a lot number or something in stock.
    pub lots: Vec<Lot>,
    /// Materials that are not on the shelf yet, or differ from what is there.
    pub new_materials: Vec<Arc<Material>>,
    /// Of each material of the maker's own: the row and what is kept of it, in words.
    pub kept: Vec<(usize, String)>,
    /// Rows, or parts of them, that cannot be taken in, each with the reason.
    pub left_out: Vec<LeftOutRow>,
    /// Of these the rows of which nothing at all is taken in.
    pub lost: BTreeSet<usize>,
}

impl PriceList {
    /// Makes offers, lots and new materials. Pure: nothing is written anywhere.
    /// `supplier` stands in where the list names none; `today` is the day of receipt of
    /// lots for which the list states none. What cannot be taken in of a row is listed and blocks no other.
    pub fn accept(&self, matcher: &Resolver<'_>, supplier: &str, today: Date) -> AcceptedPrices {
        let mut new: BTreeMap<MaterialId, Arc<Material>> = BTreeMap::new();
        // Those made for rows that say the same of them, by folded name and supplier.
        let mut made_of: HashMap<(String, String), Arc<Material>> = HashMap::new();
        let mut accepted = AcceptedPrices::default();
        let mut codes = Codes::default();
        for line in &self.prices {
            let leave = |reason: String| LeftOutRow {
                row: line.row,
                words: line.wanted.name.clone(),
                reason,
            };
            let material = match &line.choice {
                MaterialChoice::Known(id, _) => {
                    let Some(known) = matcher.shelf().get(id) else {
                        accepted.lost.insert(line.row);
                        accepted
                            .left_out
                            .push(leave(format!("“{id}” is not on the shelf")));
                        continue;
                    };
                    line.own(known, &mut new, &mut accepted, matcher)
                }
                MaterialChoice::Made(material) => Arc::clone(material),
                choice => {
                    let key = (fold::plain(&line.wanted.name), line.wanted.supplier.clone());
                    let made = made_of.get(&key).filter(|_| line.about.pieces.is_empty());
                    made.cloned().unwrap_or_else(|| {
                        let mut made = new_material(line.row, &line.wanted, choice, matcher);
                        while new.contains_key(&made.id) {
                            made.id = MaterialId::from_name(&format!("{} {}", made.id, line.row));
                        }
                        line.about.put_into(&mut made);
                        let told = line.about.words();
                        if !told.is_empty() {
                            accepted.kept.push((line.row, told.join(", ")));
                        }
                        let made = Arc::new(made);
                        new.insert(made.id.clone(), Arc::clone(&made));
                        made_of.entry(key).or_insert_with(|| Arc::clone(&made));
                        made
                    })
                }
            };
            let supplier: Arc<str> = if line.wanted.supplier.is_empty() {
                supplier.into()
            } else {
                line.wanted.supplier.as_str().into()
            };
            let before = accepted.offers.len() + accepted.lots.len();
            for offer in &line.offers {
                match mass(offer.pack, &material) {
                    Ok(pack) => accepted.offers.push(Offer {
                        material: material.id.clone(),
                        supplier: if offer.supplier.is_empty() {
                            supplier.clone()
                        } else {
                            offer.supplier.as_str().into()
                        },
                        pack,
                        price: offer.price,
                        currency: offer.currency,
                        day: offer.day,
                    }),
                    Err(reason) => accepted.left_out.push(leave(reason)),
                }
            }
            if let Some(lot) = &line.lot {
                match ProposedPrice::lot_of(lot, &material, &supplier, today, &mut codes) {
                    Ok((lot, told)) => {
                        accepted.kept.extend(told.map(|words| (line.row, words)));
                        accepted.lots.push(lot);
                    }
                    // Of the same pack it was told with the offer.
                    Err(reason) => {
                        let left = leave(reason);
                        if !accepted.left_out.contains(&left) {
                            accepted.left_out.push(left);
                        }
                    }
                }
            }
            let asked_for = !line.offers.is_empty() || line.lot.is_some();
            let on_shelf = matches!(line.choice, MaterialChoice::Known(..));
            if asked_for && on_shelf && accepted.offers.len() + accepted.lots.len() == before {
                accepted.lost.insert(line.row);
            }
        }
        accepted.new_materials = new.into_values().collect();
        accepted
    }
}

/// The codes of the lots of one file: each is given once.
#[derive(Default)]
struct Codes {
    /// How often a code was asked for.
    asked: HashMap<String, usize>,
    given: HashSet<String>,
}

impl Codes {
    /// A code as written, or with a number behind it where it is given already.
    fn give(&mut self, code: &str) -> String {
        let count = self.asked.entry(code.to_owned()).or_default();
        loop {
            *count += 1;
            let own = match *count {
                1 => code.to_owned(),
                number => format!("{code} {number}"),
            };
            if self.given.insert(own.clone()) {
                return own;
            }
        }
    }
}

impl ProposedPrice {
    /// The lot of a row for the stock, and what is to be told of its code. A row without a lot
    /// number gets one of material and day; several lots of one code are numbered, because each
    /// row is something of its own that came in.
    fn lot_of(
        lot: &ProposedLot,
        material: &Material,
        supplier: &Arc<str>,
        today: Date,
        codes: &mut Codes,
    ) -> Result<(Lot, Option<String>), String> {
        let written = lot.code.trim();
        let pack = mass(lot.pack, material)?;
        let wanted = if written.is_empty() {
            format!("{} {today}", material.id)
        } else {
            written.to_owned()
        };
        let code = codes.give(&wanted);
        let told = (code != wanted && !written.is_empty()).then(|| {
            format!("lot {written} stands in the list more than once; this one is kept as “{code}”")
        });
        let id = LotId::new(&code).ok_or_else(|| format!("“{code}” is no lot number"))?;
        let lot = Lot {
            id,
            material: material.id.clone(),
            supplier: supplier.clone(),
            supplier_lot: written.into(),
            received: lot.received.unwrap_or(today),
            expiry: lot.expiry,
            opened: None,
            days_once_opened: None,
            pack,
            packs: lot.packs,
            price_per_pack: lot.price,
            currency: lot.currency,
            freight_share: Decimal::ZERO,
            tax_percent: Decimal::ZERO,
            status: LotStatus::Quarantine,
            made_in: None,
            certificate: "".into(),
            note: "".into(),
        };
        Ok((lot, told))
    }

    /// The material of a row that was found: as it is on the shelf, or, where a list of
    /// materials says more of it, the maker's own with the properties of the one found.
    fn own(
        &self,
        known: &Arc<Material>,
        new: &mut BTreeMap<MaterialId, Arc<Material>>,
        accepted: &mut AcceptedPrices,
        matcher: &Resolver<'_>,
    ) -> Arc<Material> {
        let of_materials = self.offers.is_empty() && self.lot.is_none();
        let supplier = self.wanted.supplier.trim();
        let same_supplier = supplier.is_empty() || known.supplier.as_deref() == Some(supplier);
        let name = fold::plain(&self.wanted.name);
        let same_name = fold::plain(&known.name) == name
            || known.synonyms.iter().any(|s| fold::plain(s) == name)
            || known
                .inci_names()
                .any(|n| fold::plain(n.spelling()) == name);
        let alike = same_supplier
            && !self.about.is_own()
            && (same_name || supplier.is_empty() && self.about.role.is_empty());
        if !of_materials || alike {
            return Arc::clone(known);
        }
        let mut own = Material::clone(known);
        let mut told = Vec::new();
        if !same_name {
            told.push(format!("name {}", self.wanted.name));
            own.name = self.wanted.name.as_str().into();
            own.synonyms = Vec::new();
        }
        if !supplier.is_empty() {
            told.push(format!("supplier {supplier}"));
            own.supplier = Some(supplier.into());
        }
        self.about.put_into(&mut own);
        told.extend(self.about.words());
        // Its own entry, unless it is the maker's entry of this supplier already.
        let present = |id: &MaterialId| matcher.shelf().get(id).is_some() || new.contains_key(id);
        if !(same_name && known.supplier.is_some() && same_supplier) {
            let mut name = own.name.to_string();
            let mut id = MaterialId::from_name(&name);
            if present(&id) && !supplier.is_empty() {
                name = format!("{name} ({supplier})");
                id = MaterialId::from_name(&name);
            }
            let mut number = 2;
            while present(&id) {
                // Brought in before: the same again changes nothing.
                if matcher.shelf().get(&id).is_some_and(|m| {
                    let mut same = own.clone();
                    same.id = id.clone();
                    same.name.clone_from(&m.name);
                    **m == same
                }) {
                    break;
                }
                name = format!("{} ({number})", own.name);
                id = MaterialId::from_name(&name);
                number += 1;
            }
            own.id = id;
            own.name = name.into();
        }
        let own = Arc::new(own);
        if matcher.shelf().get(&own.id) != Some(&own) {
            accepted.kept.push((
                self.row,
                format!("{} → {} (as {})", told.join(", "), own.id, known.id),
            ));
            new.insert(own.id.clone(), Arc::clone(&own));
        }
        own
    }
}

fn mass(pack: Pack, material: &Material) -> Result<ExactMass, String> {
    let grams = match pack {
        Pack::Grams(grams) => grams,
        Pack::Millilitres(ml) => {
            let density = material
                .density
                .as_ref()
                .and_then(|d| Decimal::try_from(in_kg_per_m3(d.value)).ok())
                .ok_or_else(|| {
                    format!(
                        "a pack of {} ml cannot be turned into grams, because the density of the material is not known; write the pack in grams, or enter the density on the shelf",
                        ml.normalize()
                    )
                })?;
            ml.saturating_mul(density / Decimal::ONE_THOUSAND)
        }
    };
    ExactMass::new(grams, MassUnit::Gram)
        .filter(|mass| *mass > ExactMass::ZERO)
        .ok_or_else(|| format!("a pack of {grams} g cannot be; correct the pack size"))
}

impl AcceptedPrices {
    /// Which of the lots differ from what the stock has under their code, each in words: these
    /// are not the same lot brought in once more, and [`AcceptedPrices::put_into`] leaves them
    /// out.
    pub fn unlike_in(&self, stock: &Stock) -> Vec<String> {
        let of_stock: HashMap<&LotId, &Lot> = stock.lots.iter().map(|l| (&l.id, l)).collect();
        let pairs = self
            .lots
            .iter()
            .filter_map(|lot| Some((lot, *of_stock.get(&lot.id)?)));
        pairs
            .filter_map(|(lot, known)| {
                let differs = if lot.material != known.material {
                    format!("material {} and not {}", known.material, lot.material)
                } else if (lot.pack, lot.packs) != (known.pack, known.packs) {
                    "another quantity".to_owned()
                } else if lot.expiry != known.expiry {
                    "another expiry".to_owned()
                } else {
                    return None;
                };
                Some(format!(
                    "lot {} is in the stock already, with {differs}; it stays as it is, and what the list says of it was left out",
                    lot.id
                ))
            })
            .collect()
    }

    /// Puts offers and lots into the stock. An offer of the same material, supplier and
    /// pack is replaced unless it is of a later day; a lot whose code is in the stock already is left out and
    /// returned, because it may have been weighed from since.
    pub fn put_into(&self, stock: &mut Stock) -> Vec<LotId> {
        let key = |o: &Offer| (o.material.clone(), o.supplier.clone(), o.pack);
        // The last one of a file counts, but for one of an earlier day.
        let is_later = |known: &Offer, new: &Offer| match (known.day, new.day) {
            (Some(known), Some(new)) => known > new,
            _ => false,
        };
        let mut offers: Vec<Offer> = Vec::with_capacity(self.offers.len());
        let mut places = HashMap::new();
        for offer in stock.offers.drain(..).chain(self.offers.iter().cloned()) {
            match places.entry(key(&offer)) {
                std::collections::hash_map::Entry::Occupied(place) => {
                    if let Some(slot) = offers.get_mut(*place.get())
                        && !is_later(slot, &offer)
                    {
                        *slot = offer;
                    }
                }
                std::collections::hash_map::Entry::Vacant(place) => {
                    place.insert(offers.len());
                    offers.push(offer);
                }
            }
        }
        stock.offers = offers;
        let mut known: HashSet<LotId> = stock.lots.iter().map(|l| l.id.clone()).collect();
        let mut left_out = Vec::new();
        for lot in &self.lots {
            if known.insert(lot.id.clone()) {
                stock.lots.push(lot.clone());
            } else {
                left_out.push(lot.id.clone());
            }
        }
        left_out
    }
}
