//! Earlier states of a formula, each told by what differs from the state that followed it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::entry::{KeptEntry, LineEntry, OrSame, PhaseEntry, StepEntry};
use super::from_model::{line_entry, phase_entry_with, step_entry, text_of, variant_entry_with};
use super::variant_to_model::{Fault, Ids, line_from, step_from, variant_from};
use crate::file::ron_place::PathStep as At;
use crate::formula::{EarlierState, Formula, Line, Phase, Step, Variant, VariantId};
use crate::material::{Material, MaterialId};
use crate::quantity;

pub(in crate::file) fn history_entries(formula: &Formula) -> Vec<KeptEntry> {
    let mut later: BTreeMap<VariantId, &Arc<Variant>> =
        formula.variants.iter().map(|v| (v.id, v)).collect();
    let mut entries: Vec<KeptEntry> = formula
        .history
        .iter()
        .rev()
        .map(|kept| {
            let next = later.insert(kept.variant.id, &kept.variant);
            kept_entry(kept, next)
        })
        .collect();
    entries.reverse();
    entries
}

pub(super) fn kept_entry(kept: &EarlierState, next: Option<&Arc<Variant>>) -> KeptEntry {
    let parts = next.map(|v| Parts::of(v)).unwrap_or_default();
    let variant = variant_entry_with(&kept.variant, |phase| {
        let same = parts.phases.get(&phase.id.0);
        if same.is_some_and(|&other| Arc::ptr_eq(other, phase) || other == phase) {
            return OrSame::Same(phase.id.0);
        }
        OrSame::Was(phase_entry_with(
            phase,
            |line| match parts.lines.get(&line.id.0) {
                Some(&other) if other == line => OrSame::Same(line.id.0),
                _ => OrSame::Was(line_entry(line)),
            },
            |step| match parts.steps.get(&step.id.0) {
                Some(&other) if other == step => OrSame::Same(step.id.0),
                _ => OrSame::Was(step_entry(step)),
            },
        ))
    });
    KeptEntry {
        at: text_of(&kept.at),
        what: text_of(&kept.what),
        variant,
    }
}

/// The parts of a variant by id.
#[derive(Default)]
pub(super) struct Parts<'v> {
    phases: BTreeMap<u64, &'v Arc<Phase>>,
    lines: BTreeMap<u64, &'v Line>,
    steps: BTreeMap<u64, &'v Step>,
}

impl<'v> Parts<'v> {
    fn of(variant: &'v Variant) -> Self {
        let phases = &variant.phases;
        Self {
            phases: phases.iter().map(|p| (p.id.0, p)).collect(),
            lines: variant.lines().map(|(_, l)| (l.id.0, l)).collect(),
            steps: phases
                .iter()
                .flat_map(|p| &p.steps)
                .map(|s| (s.id.0, s))
                .collect(),
        }
    }
}

pub(super) fn history_from(
    entries: Vec<KeptEntry>,
    variants: &[Arc<Variant>],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Vec<Arc<EarlierState>>, Fault> {
    let mut later: BTreeMap<u64, Arc<Variant>> =
        variants.iter().map(|v| (v.id.0, Arc::clone(v))).collect();
    let mut history = Vec::with_capacity(entries.len());
    for (i, entry) in entries.into_iter().enumerate().rev() {
        let path = [At::Field("history"), At::Item(i), At::Field("variant")];
        let Some(id) = entry.variant.id else {
            return Err(Fault::new(
                &path,
                "the id of the variant is missing; add it",
            ));
        };
        let next = later.get(&id).cloned();
        let parts = next.as_deref().map(Parts::of).unwrap_or_default();
        let mut ids = Ids {
            next: u64::MAX / 2,
            seen: BTreeSet::new(),
        };
        let variant = variant_from(entry.variant, id, &path, |phase, path| {
            kept_phase_from(phase, path, &parts, &mut ids, materials)
        })?;
        let variant = Arc::new(variant);
        later.insert(id, Arc::clone(&variant));
        history.push(Arc::new(EarlierState {
            at: entry.at.into(),
            what: entry.what.into(),
            variant,
        }));
    }
    history.reverse();
    Ok(history)
}

pub(super) fn kept_phase_from(
    entry: OrSame<PhaseEntry<OrSame<LineEntry>, OrSame<StepEntry>>>,
    path: &[At],
    parts: &Parts<'_>,
    ids: &mut Ids,
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Arc<Phase>, Fault> {
    let missing = |path: &[At], id: u64| {
        Fault::new(
            path,
            format!(
                "the state that followed has nothing with the id {id}; remove this entry of the history"
            ),
        )
    };
    let must = |id: Option<u64>, path: &[At]| {
        id.ok_or_else(|| Fault::new(path, "the id is missing; the history needs it"))
    };
    let entry = match entry {
        OrSame::Same(id) => {
            let phase = *parts.phases.get(&id).ok_or_else(|| missing(path, id))?;
            let lines = phase.lines.iter().map(|l| l.id.0);
            let steps = phase.steps.iter().map(|s| s.id.0);
            for id in [phase.id.0].into_iter().chain(lines).chain(steps) {
                ids.give(Some(id), path)?;
            }
            return Ok(Arc::clone(phase));
        }
        OrSame::Was(entry) => entry,
    };
    let under = |field, i| [path, &[At::Field(field), At::Item(i)]].concat();
    let mut lines = Vec::with_capacity(entry.lines.len());
    for (i, line) in entry.lines.into_iter().enumerate() {
        let path = under("lines", i);
        lines.push(match line {
            OrSame::Same(id) => {
                let line = *parts.lines.get(&id).ok_or_else(|| missing(&path, id))?;
                ids.give(Some(id), &path)?;
                line.clone()
            }
            OrSame::Was(line) => {
                let id = ids.give(Some(must(line.id, &path)?), &path)?;
                line_from(line, id, &path, materials)?
            }
        });
    }
    let mut steps = Vec::with_capacity(entry.steps.len());
    for (i, step) in entry.steps.into_iter().enumerate() {
        let path = under("steps", i);
        steps.push(match step {
            OrSame::Same(id) => {
                let step = *parts.steps.get(&id).ok_or_else(|| missing(&path, id))?;
                ids.give(Some(id), &path)?;
                step.clone()
            }
            OrSame::Was(step) => {
                let id = ids.give(Some(must(step.id, &path)?), &path)?;
                step_from(step, id)
            }
        });
    }
    Ok(Arc::new(Phase {
        id: ids.give(Some(must(entry.id, path)?), path)?,
        letter: entry.letter.into(),
        kind: entry.kind.into(),
        purpose: entry.purpose.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        lines,
        steps,
    }))
}
