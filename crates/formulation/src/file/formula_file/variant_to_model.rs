//! From what stands in a formula file to a variant, its phases, lines and steps, checked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::entry::{
    CharacteristicEntry, LineEntry, MeasuredEntry, PhaseEntry, ProductEntry, StepEntry,
    VariantEntry,
};
use crate::file::number::PercentNumber;
use crate::file::ron_place::PathStep as At;
use crate::formula::{ItemId, Kinds, Line, Measured, Phase, Product, Step, Variant, VariantId};
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
