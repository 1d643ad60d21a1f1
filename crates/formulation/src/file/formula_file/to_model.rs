//! From what stands in a formula file to the formula, checked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::entry::{
    FormulaEntry, KeptEntry, LineEntry, OrSame, PhaseEntry, StepEntry, VariantEntry,
};
use super::history::history_from;
use super::variant_to_model::{Fault, Ids, phase_from, variant_from};
use crate::file::material_file::MaterialEntry;
use crate::file::read_error::ReadError;
use crate::file::ron_place::{self, PathStep as At};
use crate::file::source_table::SourceTable;
use crate::finding::SetAside;
use crate::formula::{Formula, Variant, VariantId};
use crate::material::{Material, MaterialId};

pub(in crate::file) fn into_model(
    entry: FormulaEntry,
    text: &str,
    file: &str,
) -> Result<Formula, ReadError> {
    let fail = |fault: Fault| {
        let place = ron_place::place_of(text, &fault.path);
        let names: Vec<&str> = fault
            .path
            .iter()
            .filter_map(|step| match step {
                At::Field(name) => Some(*name),
                At::Item(_) => None,
            })
            .collect();
        let field = names.join(".");
        ReadError::at(file, place, format!("field `{field}`: {}", fault.message))
    };
    let materials = materials_from(entry.materials, &entry.sources, text, file)?;
    let highest = highest_id(&entry.variants, &entry.history);
    // One beyond the highest id must be free too.
    let Some(free) = highest.checked_add(1).filter(|f| *f < u64::MAX / 2) else {
        return Err(fail(Fault::new(
            &[At::Field("variants")],
            format!("the id {highest} is too large; use small numbers"),
        )));
    };
    let mut next = entry.next_id.unwrap_or(free).max(free);
    if next > u64::MAX / 2 {
        return Err(fail(Fault::new(
            &[At::Field("next_id")],
            "the number is too large; leave the field out",
        )));
    }

    let mut variants: Vec<Arc<Variant>> = Vec::with_capacity(entry.variants.len());
    for (i, written) in entry.variants.into_iter().enumerate() {
        let path = [At::Field("variants"), At::Item(i)];
        let id = written.id.unwrap_or_else(|| {
            next += 1;
            next - 1
        });
        if variants.iter().any(|v| v.id.0 == id) {
            return Err(fail(Fault::new(
                &[path[0], path[1], At::Field("id")],
                format!("two variants have the id {id}; give one another number"),
            )));
        }
        let mut ids = Ids {
            next,
            seen: BTreeSet::new(),
        };
        let variant = variant_from(written, id, &path, |phase, path| {
            phase_from(phase, path, &mut ids, &materials).map(Arc::new)
        })
        .map_err(fail)?;
        next = ids.next;
        check_materials(&variant, &path, &materials).map_err(fail)?;
        variants.push(Arc::new(variant));
    }
    let Some(first) = variants.first() else {
        return Err(fail(Fault::new(
            &[At::Field("variants")],
            "there is no variant; a formula has at least one",
        )));
    };
    let active = entry.active.map_or(first.id, VariantId);
    if variants.iter().all(|v| v.id != active) {
        return Err(fail(Fault::new(
            &[At::Field("active")],
            format!("there is no variant with the id {}", active.0),
        )));
    }
    let history = history_from(entry.history, &variants, &materials).map_err(fail)?;
    Ok(Formula {
        name: entry.name.into(),
        kept_as: entry.kept_as.filter(|k| !k.is_empty()).map(Into::into),
        notes: entry.notes.into(),
        author: entry.author.into(),
        variants,
        active,
        materials,
        set_aside: (entry.set_aside.into_iter())
            .map(|a| SetAside {
                rule: a.rule.into(),
                message: a.message.into(),
            })
            .collect(),
        history,
        next_id: next,
    })
}

pub(in crate::file) fn materials_from(
    entries: Vec<MaterialEntry>,
    sources: &SourceTable,
    text: &str,
    file: &str,
) -> Result<BTreeMap<MaterialId, Arc<Material>>, ReadError> {
    let mut materials = BTreeMap::new();
    for (i, entry) in entries.into_iter().enumerate() {
        let material = entry
            .into_model(sources, None)
            .map_err(|e| ReadError::at(file, e.place(text), e.message))?;
        let id = material.id.clone();
        if materials.insert(id.clone(), Arc::new(material)).is_some() {
            let place = ron_place::place_of(text, &[At::Field("materials"), At::Item(i)]);
            let message = format!(
                "field `materials`: two materials have the id “{id}”; give one of them another name or `id`"
            );
            return Err(ReadError::at(file, place, message));
        }
    }
    Ok(materials)
}

pub(super) fn highest_id(
    variants: &[VariantEntry<PhaseEntry<LineEntry, StepEntry>>],
    history: &[KeptEntry],
) -> u64 {
    let current = variants.iter().flat_map(|v| {
        let items = v.phases.iter().flat_map(|p| {
            let lines = p.lines.iter().map(|l| l.id);
            let steps = p.steps.iter().map(|s| s.id);
            [p.id].into_iter().chain(lines).chain(steps)
        });
        [v.id, v.parent, v.filler].into_iter().chain(items)
    });
    let earlier = history.iter().flat_map(|kept| {
        let items = kept.variant.phases.iter().flat_map(|phase| match phase {
            OrSame::Same(id) => vec![Some(*id)],
            OrSame::Was(p) => {
                let lines = p.lines.iter().map(|line| match line {
                    OrSame::Same(id) => Some(*id),
                    OrSame::Was(line) => line.id,
                });
                let steps = p.steps.iter().map(|step| match step {
                    OrSame::Same(id) => Some(*id),
                    OrSame::Was(step) => step.id,
                });
                [p.id].into_iter().chain(lines).chain(steps).collect()
            }
        });
        [kept.variant.id, kept.variant.parent]
            .into_iter()
            .chain(items)
    });
    current.chain(earlier).flatten().max().unwrap_or(0)
}

/// Every line of a variant must have its material in the file. Earlier states are
/// not held to this: they are for looking back.
pub(super) fn check_materials(
    variant: &Variant,
    path: &[At],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<(), Fault> {
    for (p, phase) in variant.phases.iter().enumerate() {
        for (l, line) in phase.lines.iter().enumerate() {
            if !materials.contains_key(&line.material) {
                let place = [
                    At::Field("phases"),
                    At::Item(p),
                    At::Field("lines"),
                    At::Item(l),
                    At::Field("material"),
                ];
                return Err(Fault::new(
                    &[path, &place].concat(),
                    format!(
                        "the material “{}” is not in the list `materials` of this file; add it there",
                        line.material
                    ),
                ));
            }
        }
    }
    Ok(())
}
