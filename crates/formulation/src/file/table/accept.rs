//! From the proposal of a recipe to a formula.

use std::collections::BTreeMap;
use std::sync::Arc;

use rust_decimal::prelude::ToPrimitive as _;

use super::recipe::{
    LineQuantity, MaterialChoice, ProposedLine, RecipeError, RecipeProposal, Reconcile,
};
use super::shares::Shares;
use crate::formula::{Formula, ItemId, Line, Phase, Step, Variant};
use crate::inventory::{self, inventory};
use crate::material::{Basis, Class, Constituent, Material, MaterialId, PhaseKind, Source};
use crate::naming::{Resolver, Wanted};
use crate::quantity::{self, MassFraction, Spread};

/// A recipe taken in.
#[derive(Clone, PartialEq, Debug)]
pub struct Accepted {
    /// The formula.
    pub formula: Formula,
    /// Materials that are not on the shelf yet.
    pub new_materials: Vec<Arc<Material>>,
}

impl RecipeProposal {
    /// Makes the formula, with copies of the materials it uses, and the new materials
    /// that the shelf would gain. Pure: nothing is written anywhere.
    pub fn accept(&self, matcher: &Resolver<'_>) -> Result<Accepted, RecipeError> {
        if !self.problems.is_empty() {
            return Err(RecipeError::Problems(self.problems.clone()));
        }
        let mut new: BTreeMap<MaterialId, Arc<Material>> = BTreeMap::new();
        let materials = self.materials(matcher, &mut new)?;
        let shares = Shares::of(self, &materials)?;
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
            let lines = self.lines_of(place, (&materials, &shares), &mut formula, &mut variant);
            variant
                .phases
                .extend(self.phase(place, &used, lines, &mut formula));
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

    /// The material of each line; those that are new are kept by their ids.
    fn materials(
        &self,
        matcher: &Resolver<'_>,
        new: &mut BTreeMap<MaterialId, Arc<Material>>,
    ) -> Result<Vec<Arc<Material>>, RecipeError> {
        let of = |line: &ProposedLine| match &line.choice {
            MaterialChoice::Known(id, _) => {
                let known = matcher.shelf().get(id);
                known.cloned().ok_or_else(|| RecipeError::Unknown {
                    row: line.row,
                    id: id.clone(),
                })
            }
            MaterialChoice::Made(material) => Ok(Arc::clone(material)),
            choice => {
                let material = new_material(line.row, &line.wanted, choice, matcher);
                Ok(put_new(material, new, matcher))
            }
        };
        self.lines.iter().map(of).collect()
    }

    /// The lines of a phase; the one that takes up the rest is the filler.
    fn lines_of(
        &self,
        place: usize,
        (materials, shares): (&[Arc<Material>], &Shares),
        formula: &mut Formula,
        variant: &mut Variant,
    ) -> Vec<Line> {
        let mut lines = Vec::new();
        let all = self.lines.iter().zip(materials).zip(&shares.percents);
        for ((line, material), percent) in all.filter(|((l, _), _)| l.phase == place) {
            let id = ItemId(formula.take_id());
            if line.quantity == LineQuantity::Rest {
                variant.filler = Some(id);
            }
            let kept = Arc::clone(material);
            formula.materials.insert(material.id.clone(), kept);
            let why = [line.role.as_str(), line.note.as_str()];
            let why: Vec<&str> = why.into_iter().filter(|w| !w.is_empty()).collect();
            lines.push(Line {
                id,
                material: material.id.clone(),
                percent: *percent,
                why: why.join("; ").into(),
                held: line.held,
                min: line.bounds.0,
                max: line.bounds.1,
                purpose: line.purpose,
            });
        }
        lines
    }

    /// A phase with its lines and steps; `used` are the phases that have lines.
    fn phase(
        &self,
        place: usize,
        used: &[usize],
        lines: Vec<Line>,
        formula: &mut Formula,
    ) -> Option<Arc<Phase>> {
        let proposed = self.phases.get(place)?;
        let id = ItemId(formula.take_id());
        // Steps of a phase without lines belong to the one before it.
        let goes_to = |phase: usize| used.iter().rev().find(|u| **u <= phase).or(used.first());
        let steps = self.steps.iter();
        let steps = steps.filter(|s| goes_to(s.phase) == Some(&place));
        let steps = steps.map(|s| Step {
            id: ItemId(formula.take_id()),
            text: s.text.as_str().into(),
            temperature: None,
            minutes: None,
            tool: "".into(),
            check: "".into(),
        });
        let steps = steps.collect();
        Some(Arc::new(Phase {
            id,
            letter: proposed.letter.as_str().into(),
            kind: proposed
                .kind
                .or_else(|| usual_kind(&lines, &formula.materials))
                .unwrap_or(PhaseKind::Other),
            purpose: proposed.purpose.as_str().into(),
            temperature: proposed.temperature,
            lines,
            steps,
        }))
    }
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
    choice: &MaterialChoice,
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
    let mut material = if let MaterialChoice::NewPure(inci) = choice {
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
