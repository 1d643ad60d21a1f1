//! From the proposal of a recipe to a formula.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::recipe::{Choice, Proposal, ProposedLine, Quantity, RecipeError, Reconcile};
use crate::amount::number;
use crate::formula::{Formula, ItemId, Line, Phase, Step, Variant};
use crate::inventory::{self, inventory};
use crate::material::{Basis, Class, Constituent, Material, MaterialId, PhaseKind, Source};
use crate::naming::{Resolver, Wanted};
use crate::quantity::{self, MassFraction, Percent, Spread, in_kg_per_m3};

/// A recipe taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct Accepted {
    /// The formula.
    pub formula: Formula,
    /// Materials that are not on the shelf yet.
    pub new_materials: Vec<Arc<Material>>,
}

impl Proposal {
    /// Makes the formula, with copies of the materials it uses, and the new materials
    /// that the shelf would gain. Pure: nothing is written anywhere.
    pub fn accept(&self, matcher: &Resolver<'_>) -> Result<Accepted, RecipeError> {
        if !self.problems.is_empty() {
            return Err(RecipeError::Problems(self.problems.clone()));
        }
        let mut new: BTreeMap<MaterialId, Arc<Material>> = BTreeMap::new();
        let mut materials = Vec::with_capacity(self.lines.len());
        for line in &self.lines {
            materials.push(match &line.choice {
                Choice::Known(id, _) => {
                    let known = matcher
                        .shelf()
                        .get(id)
                        .ok_or_else(|| RecipeError::Unknown {
                            row: line.row,
                            id: id.clone(),
                        })?;
                    Arc::clone(known)
                }
                Choice::Made(material) => Arc::clone(material),
                choice => {
                    let material = new_material(line.row, &line.wanted, choice, matcher);
                    put_new(material, &mut new, matcher)
                }
            });
        }
        let shares = self.shares(&materials)?;
        let mut formula = Formula::clone(&self.head);
        formula.name = self.name.as_str().into();
        let notes: Vec<&str> = std::iter::once(&*formula.notes)
            .chain(self.text.iter().map(String::as_str))
            .filter(|n| !n.is_empty())
            .collect();
        formula.notes = notes.join("\n").into();
        let mut variant = Variant::clone(formula.active());
        if let Some(batch) = shares.batch.or(self.batch).and_then(|g| g.to_f64()) {
            variant.batch = quantity::grams(batch);
        }
        let used: Vec<usize> = (0..self.phases.len())
            .filter(|p| self.lines.iter().any(|l| l.phase == *p))
            .collect();
        variant.phases.clear();
        for &place in &used {
            let Some(proposed) = self.phases.get(place) else {
                continue;
            };
            let mut lines = Vec::new();
            for ((line, material), percent) in
                self.lines.iter().zip(&materials).zip(&shares.percents)
            {
                if line.phase != place {
                    continue;
                }
                let id = ItemId(formula.take_id());
                if line.quantity == Quantity::Rest {
                    variant.filler = Some(id);
                }
                formula
                    .materials
                    .insert(material.id.clone(), Arc::clone(material));
                let why = [line.role.as_str(), line.note.as_str()];
                lines.push(Line {
                    id,
                    material: material.id.clone(),
                    percent: *percent,
                    why: why
                        .iter()
                        .filter(|w| !w.is_empty())
                        .copied()
                        .collect::<Vec<_>>()
                        .join("; ")
                        .into(),
                    held: line.held,
                    min: line.bounds.0,
                    max: line.bounds.1,
                    purpose: line.purpose,
                });
            }
            variant.phases.push(Arc::new(Phase {
                id: ItemId(formula.take_id()),
                letter: proposed.letter.as_str().into(),
                kind: proposed
                    .kind
                    .or_else(|| usual_kind(&lines, &formula.materials))
                    .unwrap_or(PhaseKind::Other),
                purpose: proposed.purpose.as_str().into(),
                temperature: proposed.temperature,
                lines,
                steps: self
                    .steps
                    .iter()
                    // Steps of a phase without lines belong to the one before it.
                    .filter(|s| {
                        used.iter().rev().find(|u| **u <= s.phase).or(used.first()) == Some(&place)
                    })
                    .map(|s| Step {
                        id: ItemId(formula.take_id()),
                        text: s.text.as_str().into(),
                        temperature: None,
                        minutes: None,
                        tool: "".into(),
                        check: "".into(),
                    })
                    .collect(),
            }));
        }
        if self.reconcile == Reconcile::Water && variant.filler.is_none() {
            variant.filler = shares.water.and_then(|at| {
                // Lines were numbered phase by phase; find the one of the water row.
                let material = materials.get(at)?;
                variant
                    .lines()
                    .find(|(_, l)| l.material == material.id)
                    .map(|(_, l)| l.id)
            });
        }
        self.phase_words
            .apply(&mut formula, &mut variant)
            .map_err(RecipeError::Head)?;
        formula.variants = vec![Arc::new(variant)];
        Ok(Accepted {
            formula,
            new_materials: new.into_values().collect(),
        })
    }

    /// The percentage of every line.
    fn shares(&self, materials: &[Arc<Material>]) -> Result<Shares, RecipeError> {
        let in_percent = self.percent_total().is_some();
        let mut amounts: Vec<Option<Decimal>> = Vec::with_capacity(self.lines.len());
        for (line, material) in self.lines.iter().zip(materials) {
            // Grams among percentages are of the batch that is stated, else of 100 g, which
            // the proposal asks about.
            let of_batch = |grams: Decimal| match self.batch.filter(|b| !b.is_zero()) {
                Some(batch) if in_percent => (grams * Decimal::ONE_HUNDRED)
                    .checked_div(batch)
                    .and_then(number::within)
                    .ok_or_else(|| RecipeError::TooLarge(line.wanted.name.clone())),
                _ => Ok(grams),
            };
            amounts.push(match &line.quantity {
                Quantity::Grams(value) => Some(of_batch(*value)?),
                // A percentage among grams is of the whole, which is known only below.
                Quantity::Percent(_) if !in_percent => Some(Decimal::ZERO),
                Quantity::Percent(value) | Quantity::Parts(value) => Some(*value),
                Quantity::Millilitres(ml) => {
                    let density = material
                        .density
                        .as_ref()
                        .and_then(|d| Decimal::try_from(in_kg_per_m3(d.value)).ok())
                        .unwrap_or(Decimal::ONE_THOUSAND);
                    Some(of_batch(ml * density / Decimal::ONE_THOUSAND)?)
                }
                Quantity::AsNeeded => Some(Decimal::ZERO),
                Quantity::Rest => None,
            });
        }
        if !in_percent {
            let share = |l: &ProposedLine| match l.quantity {
                Quantity::Percent(value) => value / Decimal::ONE_HUNDRED,
                _ => Decimal::ZERO,
            };
            let shares: Decimal = self.lines.iter().map(share).sum();
            let weighed: Decimal = amounts.iter().flatten().sum();
            let whole = self.batch.or(self.stated_total).filter(|t| *t > weighed);
            let others = (Decimal::ONE - shares).max(Decimal::new(1, 2));
            let whole = whole.unwrap_or(weighed / others);
            for (line, amount) in self.lines.iter().zip(&mut amounts) {
                if let (Quantity::Percent(_), Some(amount)) = (&line.quantity, amount) {
                    *amount = share(line) * whole;
                }
            }
        }
        let total: Decimal = amounts.iter().flatten().sum();
        let rest = amounts.iter().position(Option::is_none);
        // In grams with a q.s. line the whole is what that line fills up to: 100 g, or
        // the next larger round batch.
        let whole = if in_percent {
            Decimal::ONE_HUNDRED
        } else if rest.is_some() {
            self.batch
                .or(self.stated_total)
                .filter(|t| *t > total)
                .unwrap_or_else(|| round_batch(total))
        } else {
            total
        };
        if let Some(place) = rest
            && total >= whole
        {
            return Err(RecipeError::Overfull {
                filler: self
                    .lines
                    .get(place)
                    .map(|l| l.wanted.name.clone())
                    .unwrap_or_default(),
                total: total.normalize(),
            });
        }
        if whole.is_zero() || (total.is_zero() && rest.is_none()) {
            return Err(RecipeError::NothingWeighed);
        }
        let scale = if in_percent && !(self.reconcile == Reconcile::Scale && rest.is_none()) {
            Decimal::ONE
        } else {
            // A sum of next to nothing has no shares that could be told.
            Decimal::ONE_HUNDRED
                .checked_div(if in_percent { total } else { whole })
                .ok_or(RecipeError::NothingWeighed)?
        };
        let in_grams =
            !in_percent && !(self.lines.iter()).any(|l| matches!(l.quantity, Quantity::Parts(_)));
        let mut percents = Vec::with_capacity(amounts.len());
        for (amount, line) in amounts.iter().zip(&self.lines) {
            let share = amount.unwrap_or_default().checked_mul(scale);
            let percent = share
                .and_then(to_percent)
                .ok_or_else(|| RecipeError::TooLarge(line.wanted.name.clone()))?;
            percents.push(percent);
        }
        let water = self
            .lines
            .iter()
            .enumerate()
            .filter(|(_, l)| l.is_water())
            .max_by_key(|(n, _)| percents.get(*n).copied())
            .map(|(n, _)| n);
        // The line that takes up the rest, or the rounding of a scaled recipe.
        let sum: Percent = percents.iter().copied().sum();
        let left = Percent::HUNDRED - sum;
        let taker = match rest {
            Some(place) => Some(place),
            None if in_percent && self.reconcile == Reconcile::AsWritten => None,
            None if in_percent && self.reconcile == Reconcile::Water => water,
            None => percents
                .iter()
                .enumerate()
                .max_by_key(|(n, p)| (**p, std::cmp::Reverse(*n)))
                .map(|(n, _)| n),
        };
        if let Some(slot) = taker.and_then(|at| percents.get_mut(at)) {
            let filled = *slot + left;
            if filled < Percent::ZERO {
                return Err(RecipeError::Overfull {
                    filler: taker
                        .and_then(|at| self.lines.get(at))
                        .map(|l| l.wanted.name.clone())
                        .unwrap_or_default(),
                    total: total.normalize(),
                });
            }
            *slot = filled;
        }
        Ok(Shares {
            percents,
            batch: in_grams.then_some(whole),
            water,
        })
    }
}

struct Shares {
    percents: Vec<Percent>,
    /// Grams of the whole, for a recipe in grams.
    batch: Option<Decimal>,
    /// The largest line of water.
    water: Option<usize>,
}

/// The next batch of 100, 200, 250, 500 or 1000 g, or a decimal multiple, above a sum.
fn round_batch(total: Decimal) -> Decimal {
    let mut decade = Decimal::ONE_HUNDRED;
    loop {
        for step in [10, 20, 25, 50] {
            let batch = decade * Decimal::from(step) / Decimal::TEN;
            if batch > total {
                return batch;
            }
        }
        decade *= Decimal::TEN;
    }
}

/// The nearest percentage; `None` above what a percentage can be.
fn to_percent(value: Decimal) -> Option<Percent> {
    let units = value.checked_mul(Decimal::from(Percent::UNITS))?.round();
    let most = Decimal::from(Percent::UNITS) * Decimal::from(1_000_000);
    (units.abs() <= most)
        .then(|| units.to_i64().map(Percent::from_units))
        .flatten()
}

/// The kind of phase that most of its materials usually go into, by weight.
fn usual_kind(
    lines: &[Line],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Option<PhaseKind> {
    let mut weights: BTreeMap<PhaseKind, i64> = BTreeMap::new();
    for line in lines {
        if let Some(kind) = materials.get(&line.material).and_then(|m| m.phase) {
            *weights.entry(kind).or_default() += line.percent.units() + 1;
        }
    }
    weights
        .into_iter()
        .max_by_key(|&(_, weight)| weight)
        .map(|(kind, _)| kind)
}

/// What the INCI names of a row tell of a new material: that it holds them, the largest
/// first as on a label, and how much each can be at most.
///
/// The k-th of n in falling order is at most 1/k of the whole, and the first at least
/// 1/n. As typical share stands the mean over all such compositions, (1/n)·Σ 1/j for j
/// from k to n (Rényi, Acta Math. Acad. Sci. Hung. 4 (1953) 191: order statistics of a
/// broken stick). An estimate, and marked so.
fn composition_of(wanted: &Wanted, material: &mut Material) {
    let names = wanted.inci_names();
    let count = names.len();
    if count == 0 {
        return;
    }
    let whole = count as f64;
    let strength = wanted.percent().map(|p| p / 100.0);
    for (place, name) in names.iter().enumerate() {
        let entry = inventory().by_name(name).or_else(|| {
            // "Aqua (Water)".
            inventory().by_name(name.split('(').next().unwrap_or(name))
        });
        let rank = place as f64 + 1.0;
        let typical: f64 = ((place + 1)..=count).map(|j| 1.0 / (j as f64)).sum::<f64>() / whole;
        let (low, typical, high) = match strength {
            Some(strength) if count == 1 => (strength, strength, strength),
            _ if count == 1 => (0.0, 1.0, 1.0),
            _ if place == 0 => (1.0 / whole, typical, 1.0),
            _ => (0.0, typical, 1.0 / rank),
        };
        material.constituents.push(Constituent {
            inci: entry
                .map_or_else(
                    || name.trim().to_owned(),
                    inventory::InventoryName::label_name,
                )
                .into(),
            cas: entry
                .and_then(|e| e.cas)
                .or(wanted.cas.filter(|_| count == 1)),
            share: Spread {
                low: MassFraction::new(low),
                typical: MassFraction::new(typical),
                high: MassFraction::new(high),
            },
            class: entry.map_or(Class::Other, inventory::InventoryName::likely_class),
            incidental: None,
            source: None,
        });
        if let Some(entry) = entry {
            for role in entry.roles() {
                if !material.roles.contains(&role) && count == 1 {
                    material.roles.push(role);
                }
            }
        }
    }
    material.source = Source::new(
        Basis::Estimate,
        "made at import from its INCI names; shares estimated from their order, check the data sheet",
    );
}

/// Puts a new material among those of the file: the one that is there, if it is the same or
/// this row says nothing of its composition, else under an id of its own.
fn put_new(
    mut material: Material,
    new: &mut BTreeMap<MaterialId, Arc<Material>>,
    matcher: &Resolver<'_>,
) -> Arc<Material> {
    let base = material.id.clone();
    let mut number = 2;
    loop {
        match new.get(&material.id) {
            None if matcher.shelf().get(&material.id).is_none() => break,
            Some(known) if material.constituents.is_empty() && base == known.id => {
                return Arc::clone(known);
            }
            Some(known) if **known == material => return Arc::clone(known),
            _ => {
                material.id = MaterialId::from_name(&format!("{base} {number}"));
                number += 1;
            }
        }
    }
    let material = Arc::new(material);
    new.insert(material.id.clone(), Arc::clone(&material));
    material
}

/// A material for a line that the shelf does not have.
pub(super) fn new_material(
    row: usize,
    wanted: &Wanted,
    choice: &Choice,
    matcher: &Resolver<'_>,
) -> Material {
    let mut id = MaterialId::from_name(&wanted.name);
    if id.as_str().is_empty() {
        id = MaterialId::from_name(&format!("material of row {row}"));
    }
    // A material of the same id may be on the shelf though the maker wants a new one.
    let mut number = 2;
    while matcher.shelf().get(&id).is_some() {
        id = MaterialId::from_name(&format!("{} {number}", wanted.name));
        number += 1;
    }
    let name = wanted.name.as_str();
    let mut material = if let Choice::NewPure(inci) = choice {
        let entry = inventory().by_name(inci);
        let label = entry.map_or_else(|| (*inci).to_owned(), inventory::InventoryName::label_name);
        let mut material = Material::pure(
            id,
            name,
            label,
            entry.and_then(|e| e.cas),
            entry.map_or(Class::Other, inventory::InventoryName::likely_class),
        );
        material.roles = entry
            .map(inventory::InventoryName::roles)
            .unwrap_or_default();
        material.source = Source::new(
            Basis::Practice,
            "taken as the pure substance at import; check the data sheet",
        );
        material
    } else {
        let mut material = Material::unknown(id, name);
        material.source = Source::new(Basis::Practice, "made at import; composition not entered");
        composition_of(wanted, &mut material);
        if material.constituents.is_empty() && !wanted.inci.is_empty() && wanted.inci != wanted.name
        {
            material.synonyms.push(wanted.inci.as_str().into());
        }
        material
    };
    if !wanted.supplier.is_empty() {
        material.supplier = Some(wanted.supplier.as_str().into());
    }
    if let Some(cas) = wanted.cas
        && material.constituents.is_empty()
    {
        material.note = format!("CAS as imported: {cas}").into();
    }
    material
}
