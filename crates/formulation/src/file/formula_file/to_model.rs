//! From what stands in a formula file to the formula, checked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::entry::{
    CharacteristicEntry, FormulaEntry, LineEntry, MeasuredEntry, PhaseEntry, ProductEntry,
    StepEntry, VariantEntry,
};
use super::history::{KeptEntry, OrSame, history_from};
use crate::file::material_file::MaterialEntry;
use crate::file::number::PercentNumber;
use crate::file::read_error::ReadError;
use crate::file::ron_place::{self, Step as At};
use crate::file::source_table::SourceTable;
use crate::finding::SetAside;
use crate::formula::{
    Formula, ItemId, Kinds, Line, Measured, Phase, Product, Step, Variant, VariantId,
};
use crate::label_info::LabelInfo;
use crate::material::{Material, MaterialId};
use crate::quantity::{self, Percent};
use crate::specification::{Characteristic, Specification};

/// What is wrong with the content of a file, and where.
pub(super) struct Fault {
    pub(super) path: Vec<At>,
    pub(super) message: String,
}

impl Fault {
    pub(super) fn new(path: &[At], message: impl Into<String>) -> Self {
        Self {
            path: path.to_vec(),
            message: message.into(),
        }
    }
}

/// Gives ids to what has none and looks that none is given twice in a variant.
pub(super) struct Ids {
    pub(super) next: u64,
    pub(super) seen: BTreeSet<u64>,
}

impl Ids {
    pub(super) fn give(&mut self, id: Option<u64>, path: &[At]) -> Result<ItemId, Fault> {
        let id = id.unwrap_or_else(|| {
            self.next += 1;
            self.next - 1
        });
        if self.seen.insert(id) {
            Ok(ItemId(id))
        } else {
            Err(Fault::new(
                path,
                format!("the id {id} is given twice in this variant; leave one of them out"),
            ))
        }
    }
}

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

pub(super) fn variant_from<P>(
    entry: VariantEntry<P>,
    id: u64,
    path: &[At],
    mut phase: impl FnMut(P, &[At]) -> Result<Arc<Phase>, Fault>,
) -> Result<Variant, Fault> {
    let under = |field| [path, &[At::Field(field)]].concat();
    let mut phases = Vec::with_capacity(entry.phases.len());
    for (i, written) in entry.phases.into_iter().enumerate() {
        let mut path = under("phases");
        path.push(At::Item(i));
        phases.push(phase(written, &path)?);
    }
    let variant = Variant {
        id: VariantId(id),
        name: entry.name.into(),
        note: entry.note.into(),
        parent: entry.parent.map(VariantId),
        created: entry.created,
        archived: entry.archived,
        product: product_from(entry.product),
        phases,
        filler: entry.filler.map(ItemId),
        target_ph: entry.target_ph.map(|p| p.0),
        batch: quantity::grams(entry.batch_g.0),
        measured: measured_from(entry.measured),
        label: Arc::new(LabelInfo::from(entry.label)),
        specification: Arc::new(specification_from(entry.specification)),
    };
    if let Some(filler) = variant.filler
        && variant.line(filler).is_none()
    {
        return Err(Fault::new(
            &under("filler"),
            format!(
                "no line has the id {}; name the id of a line of this variant",
                filler.0
            ),
        ));
    }
    Ok(variant)
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

pub(super) fn product_from(entry: ProductEntry) -> Product {
    Product {
        kinds: (entry.also_kinds.into_iter().map(Into::into))
            .fold(Kinds::Only(entry.kind.into()), Kinds::with),
        product_type: entry.product_type.map(Into::into),
        places: entry.places.into_iter().map(Into::into).collect(),
        markets: entry.markets.into_iter().map(Into::into).collect(),
        under_three: entry.under_three,
        spray: entry.spray,
        professional: entry.professional,
        wet_use: entry.wet_use,
        market_date: entry.market_date,
        fragrance_category: entry.fragrance_category.map(Into::into),
    }
}

pub(super) fn specification_from(entries: Vec<CharacteristicEntry>) -> Specification {
    let characteristics = entries.into_iter().map(|entry| Characteristic {
        quality: entry.quality.into(),
        target: entry.target.map(|v| v.0),
        low: entry.low.map(|v| v.0),
        high: entry.high.map(|v| v.0),
        accept: entry.accept.into(),
        method: entry.method.into(),
    });
    Specification {
        characteristics: characteristics.collect(),
    }
}

pub(super) fn measured_from(entry: MeasuredEntry) -> Measured {
    Measured {
        ph: entry.ph.map(|p| p.0),
        density: entry.density_kg_m3.map(|d| quantity::kg_per_m3(d.0)),
        water_activity: entry.water_activity.map(|a| a.0),
        viscosity_mpa_s: entry
            .viscosity_mpa_s
            .map(|(v, method)| (v.0, method.into())),
    }
}

pub(super) fn phase_from(
    entry: PhaseEntry<LineEntry, StepEntry>,
    path: &[At],
    ids: &mut Ids,
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Phase, Fault> {
    let under = |field, i| [path, &[At::Field(field), At::Item(i)]].concat();
    let id = ids.give(entry.id, path)?;
    let mut lines = Vec::with_capacity(entry.lines.len());
    for (i, line) in entry.lines.into_iter().enumerate() {
        let path = under("lines", i);
        let id = ids.give(line.id, &path)?;
        lines.push(line_from(line, id, &path, materials)?);
    }
    let mut steps = Vec::with_capacity(entry.steps.len());
    for (i, step) in entry.steps.into_iter().enumerate() {
        let id = ids.give(step.id, &under("steps", i))?;
        steps.push(step_from(step, id));
    }
    Ok(Phase {
        id,
        letter: entry.letter.into(),
        kind: entry.kind.into(),
        purpose: entry.purpose.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        lines,
        steps,
    })
}

pub(super) fn line_from(
    entry: LineEntry,
    id: ItemId,
    path: &[At],
    materials: &BTreeMap<MaterialId, Arc<Material>>,
) -> Result<Line, Fault> {
    let within = |value: Option<PercentNumber>, field| match value.map(|v| v.0) {
        Some(percent) if percent < Percent::ZERO || percent > Percent::HUNDRED => Err(Fault::new(
            &[path, &[At::Field(field)]].concat(),
            format!("{percent} is not from 0 to 100"),
        )),
        checked => Ok(checked),
    };
    let (min, max) = (within(entry.min, "min")?, within(entry.max, "max")?);
    if let (Some(min), Some(max)) = (min, max)
        && min > max
    {
        return Err(Fault::new(
            &[path, &[At::Field("min")]].concat(),
            format!("the lowest percentage {min} is above the highest {max}; swap them"),
        ));
    }
    let percent = within(Some(entry.percent), "percent")?.unwrap_or_default();
    // A known id keeps sharing its text with the material.
    let written = MaterialId::from_name(&entry.material);
    let material = materials
        .get_key_value(&written)
        .map_or(written, |(id, _)| id.clone());
    Ok(Line {
        id,
        material,
        percent,
        why: entry.why.into(),
        held: entry.held,
        min,
        max,
        purpose: entry.purpose.map(Into::into),
    })
}

pub(super) fn step_from(entry: StepEntry, id: ItemId) -> Step {
    Step {
        id,
        text: entry.text.into(),
        temperature: entry.temperature_c.map(|t| quantity::celsius(t.0)),
        minutes: entry.minutes,
        tool: entry.tool.into(),
        check: entry.check.into(),
    }
}
