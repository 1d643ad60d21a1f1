//! From a formula to what stands in its file.

use std::sync::Arc;

use super::entry::{
    CharacteristicEntry, LineEntry, MeasuredEntry, PhaseEntry, ProductEntry, PurposeName,
    SetAsideEntry, StepEntry, VariantEntry,
};
use crate::file::label_entry::LabelEntry;
use crate::file::number::{self, PercentNumber, PhNumber, Within};
use crate::finding::SetAside;
use crate::formula::{Formula, Line, Measured, Phase, Product, Step, Variant};
use crate::quantity;
use crate::specification::Characteristic;

pub(super) fn text_of(text: &Arc<str>) -> String {
    text.as_ref().to_owned()
}

pub(in crate::file) fn variant_entry(
    variant: &Variant,
) -> VariantEntry<PhaseEntry<LineEntry, StepEntry>> {
    variant_entry_with(variant, |phase| {
        phase_entry_with(phase, line_entry, step_entry)
    })
}

pub(super) fn variant_entry_with<P>(
    variant: &Variant,
    phase: impl FnMut(&Arc<Phase>) -> P,
) -> VariantEntry<P> {
    let Variant {
        id,
        name,
        note,
        parent,
        created,
        archived,
        product,
        phases,
        filler,
        target_ph,
        batch,
        measured,
        label,
        specification,
    } = variant;
    VariantEntry {
        id: Some(id.0),
        name: text_of(name),
        note: text_of(note),
        parent: parent.map(|p| p.0),
        created: *created,
        archived: *archived,
        product: product_entry(product),
        // A filler that is no line of the variant says nothing, and would not be read back.
        filler: filler.filter(|&f| variant.line(f).is_some()).map(|f| f.0),
        target_ph: target_ph.map(PhNumber),
        batch_g: Within(
            number::shortest(batch.value, quantity::in_grams(*batch), |g| {
                quantity::grams(g).value
            })
            .unwrap_or_else(|| quantity::in_grams(*batch)),
        ),
        measured: measured_entry(measured),
        label: LabelEntry::from(&**label),
        specification: specification
            .characteristics
            .iter()
            .map(characteristic_entry)
            .collect(),
        phases: phases.iter().map(phase).collect(),
    }
}

pub(super) fn characteristic_entry(characteristic: &Characteristic) -> CharacteristicEntry {
    let Characteristic {
        quality,
        target,
        low,
        high,
        accept,
        method,
    } = characteristic;
    CharacteristicEntry {
        quality: (*quality).into(),
        target: target.map(Within),
        low: low.map(Within),
        high: high.map(Within),
        accept: text_of(accept),
        method: text_of(method),
    }
}

pub(super) fn product_entry(product: &Product) -> ProductEntry {
    let Product {
        kinds,
        product_type,
        places,
        markets,
        under_three,
        spray,
        professional,
        wet_use,
        market_date,
        fragrance_category,
    } = product;
    ProductEntry {
        kind: kinds.first().into(),
        also_kinds: kinds.iter().skip(1).map(Into::into).collect(),
        product_type: product_type.map(Into::into),
        places: places.iter().map(|&p| p.into()).collect(),
        markets: markets.iter().map(|&m| m.into()).collect(),
        under_three: *under_three,
        spray: *spray,
        professional: *professional,
        wet_use: *wet_use,
        market_date: *market_date,
        fragrance_category: fragrance_category.as_ref().map(text_of),
    }
}

pub(super) fn measured_entry(measured: &Measured) -> MeasuredEntry {
    let Measured {
        ph,
        density,
        water_activity,
        viscosity_mpa_s,
    } = measured;
    MeasuredEntry {
        ph: ph.map(PhNumber),
        density_kg_m3: density.map(|d| Within(quantity::in_kg_per_m3(d))),
        water_activity: water_activity.map(Within),
        viscosity_mpa_s: viscosity_mpa_s
            .as_ref()
            .map(|(value, method)| (Within(*value), text_of(method))),
    }
}

pub(super) fn phase_entry_with<L, S>(
    phase: &Phase,
    line: impl FnMut(&Line) -> L,
    step: impl FnMut(&Step) -> S,
) -> PhaseEntry<L, S> {
    let Phase {
        id,
        letter,
        kind,
        purpose,
        temperature,
        lines,
        steps,
    } = phase;
    PhaseEntry {
        id: Some(id.0),
        letter: text_of(letter),
        kind: (*kind).into(),
        purpose: text_of(purpose),
        temperature_c: temperature.map(|t| Within(number::celsius_decimal(t))),
        lines: lines.iter().map(line).collect(),
        steps: steps.iter().map(step).collect(),
    }
}

pub(super) fn line_entry(line: &Line) -> LineEntry {
    let Line {
        id,
        material,
        percent,
        why,
        held,
        min,
        max,
        purpose,
    } = line;
    LineEntry {
        id: Some(id.0),
        material: material.to_string(),
        percent: PercentNumber(*percent),
        why: text_of(why),
        held: *held,
        min: min.map(PercentNumber),
        max: max.map(PercentNumber),
        purpose: purpose.map(PurposeName::from),
    }
}

pub(super) fn step_entry(step: &Step) -> StepEntry {
    let Step {
        id,
        text,
        temperature,
        minutes,
        tool,
        check,
    } = step;
    StepEntry {
        id: Some(id.0),
        text: text_of(text),
        temperature_c: temperature.map(|t| Within(number::celsius_decimal(t))),
        minutes: *minutes,
        tool: text_of(tool),
        check: text_of(check),
    }
}

/// The findings that were set aside.
pub(in crate::file) fn set_aside_entries(formula: &Formula) -> Vec<SetAsideEntry> {
    let entry = |a: &SetAside| SetAsideEntry {
        rule: text_of(&a.rule),
        message: text_of(&a.message),
    };
    formula.set_aside.iter().map(entry).collect()
}
