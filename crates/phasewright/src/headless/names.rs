//! Materials and lines that are named on the command line.

use std::sync::Arc;

use formulation::formula::{Formula, ItemId, Variant};
use formulation::material::Material;
use formulation::naming::{Named, named};
use formulation::search::MaterialIndex;
use formulation::shelf::Shelf;

use super::Failure;

/// Most names of the shelf that are offered instead of one that is not found.
const OFFERED: usize = 3;

/// The material of a variant that a name means.
pub fn used(formula: &Formula, variant: &Variant, name: &str) -> Result<Arc<Material>, Failure> {
    let materials = || {
        let lines = variant.lines();
        lines.filter_map(|(_, line)| formula.material(&line.material))
    };
    match named(name, materials()) {
        Named::One(material) => Ok(Arc::clone(material)),
        Named::Several(several) => Err(unclear(name, &several)),
        Named::Nothing => Err(Failure(format!(
            "the formula does not use “{}”; it uses: {}",
            name.trim(),
            joined(materials())
        ))),
    }
}

/// The first line of the material that a name means.
pub fn line(formula: &Formula, variant: &Variant, name: &str) -> Result<ItemId, Failure> {
    let material = used(formula, variant, name)?;
    let mut lines = variant.lines();
    let line = lines.find(|(_, line)| line.material == material.id);
    line.map(|(_, line)| line.id)
        .ok_or_else(|| Failure(format!("the formula does not use “{}”", material.name)))
}

/// The material that a name means: one of the formula, else one of the shelf.
pub fn known(formula: &Formula, shelf: &Shelf, name: &str) -> Result<Arc<Material>, Failure> {
    let found = match named(name, formula.materials.values()) {
        Named::Nothing => named(name, shelf.iter()),
        found => found,
    };
    match found {
        Named::One(material) => Ok(Arc::clone(material)),
        Named::Several(several) => Err(unclear(name, &several)),
        Named::Nothing => {
            let index = MaterialIndex::new(shelf.iter());
            let near = index.nearest_names(name, OFFERED);
            let near = near.iter().filter_map(|(id, _)| shelf.get(id));
            let near = joined(near);
            let hint = if near.is_empty() {
                String::new()
            } else {
                format!("; similar names: {near}")
            };
            Err(Failure(format!(
                "no material “{}” in the formula or on the shelf{hint}",
                name.trim()
            )))
        }
    }
}

fn unclear(name: &str, several: &[&Arc<Material>]) -> Failure {
    Failure(format!(
        "“{}” may be any of these: {}; write the whole name",
        name.trim(),
        joined(several.iter().copied())
    ))
}

fn joined<'m>(materials: impl Iterator<Item = &'m Arc<Material>>) -> String {
    let names: Vec<&str> = materials.map(|m| m.name.as_ref()).collect();
    names.join("; ")
}
