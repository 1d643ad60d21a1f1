//! The draft of a material that is there already, or of a name of the inventory.

use std::collections::BTreeMap;

use super::{
    AlkalinityDraft, ConstituentDraft, Field, MaterialDraft, PreservationDraft, UseDraft, shown,
    use_field,
};
use crate::inventory::InventoryName;
use crate::material::{Alkalinity, Basis, Constituent, Material, ProductKind, Source, Sourced};
use crate::quantity::{MassFraction, PhRange, in_celsius, in_kg_per_m3};

impl MaterialDraft {
    /// A draft of a new material from an inventory name, taken as the pure substance
    /// until the maker says otherwise.
    pub fn from_inventory(entry: &InventoryName) -> Self {
        let mut draft = Self {
            name: entry.label_name(),
            ..Self::default()
        };
        draft.complete(0, entry);
        if let Some(only) = draft.constituents.first_mut() {
            "100".clone_into(&mut only.typical);
        }
        draft
    }

    /// Fills a constituent, and the roles if there are none, from an inventory name.
    pub fn complete(&mut self, constituent: usize, entry: &InventoryName) {
        if self.constituents.len() <= constituent {
            self.constituents
                .resize_with(constituent + 1, ConstituentDraft::default);
        }
        if let Some(one) = self.constituents.get_mut(constituent) {
            one.inci = entry.label_name();
            one.cas = entry.cas.map(|c| c.to_string()).unwrap_or_default();
            one.class = one.class.or_else(|| Some(entry.likely_class()));
        }
        if self.roles.is_empty() {
            self.roles = entry.roles();
        }
        if self.source.is_empty() {
            self.basis = Some(Basis::Practice);
            "name, CAS number and function from the public inventory; the rest as entered"
                .clone_into(&mut self.source);
        }
    }

    /// The draft of a material.
    pub fn of(material: &Material) -> Self {
        // A new field does not compile until somebody has looked here: it is to be edited.
        let Material {
            id: _,
            name: _,
            synonyms: _,
            supplier: _,
            constituents: _,
            roles: _,
            charge: _,
            phase: _,
            use_ranges: _,
            ph_window: _,
            max_temperature: _,
            density: _,
            hlb: _,
            required_hlb: _,
            natural_origin: _,
            hazards: _,
            wet_with: _,
            preservation: _,
            alkalinity: _,
            fragrance_levels: _,
            note: _,
            source: _,
        } = material;
        let usual = |kind: ProductKind| {
            material
                .use_range(kind)
                .map_or_else(UseDraft::default, |r| UseDraft {
                    low: r.low.to_string(),
                    high: r.high.to_string(),
                    supplier_maximum: r.supplier_maximum,
                })
        };
        let mut sources = BTreeMap::new();
        let mut keep = |field: Field, source: &Source| {
            if *source != material.source {
                sources.insert(field, source.clone());
            }
        };
        for range in &material.use_ranges {
            keep(use_field(range.kind), &range.source);
        }
        let number_of =
            |v: &Option<Sourced<f64>>| v.as_ref().map(|v| shown(v.value)).unwrap_or_default();
        let range_of = |r: &PhRange| (shown(r.low.value()), shown(r.high.value()));
        for (value, source) in material.value_sources() {
            keep(value.into(), source);
        }
        let (ph_low, ph_high) = material
            .ph_window
            .as_ref()
            .map(|v| range_of(&v.value))
            .unwrap_or_default();
        let (natural_low, natural_high) = material
            .natural_origin
            .as_ref()
            .map(|v| (shown(v.value.low), shown(v.value.high)))
            .unwrap_or_default();
        Self {
            of: Some(material.id.clone()),
            name: material.name.to_string(),
            synonyms: material.synonyms.join("; "),
            supplier: material.supplier.as_deref().unwrap_or_default().to_owned(),
            constituents: material
                .constituents
                .iter()
                .map(constituent_draft)
                .collect(),
            roles: material.roles.clone(),
            charge: material.charge,
            phase: material.phase,
            rinse_off: usual(ProductKind::RinseOff),
            leave_on: usual(ProductKind::LeaveOn),
            ph_low,
            ph_high,
            max_temperature: material
                .max_temperature
                .as_ref()
                .map(|t| shown(in_celsius(t.value)))
                .unwrap_or_default(),
            density: material
                .density
                .as_ref()
                .map(|d| shown(in_kg_per_m3(d.value) / 1000.0))
                .unwrap_or_default(),
            hlb: number_of(&material.hlb),
            required_hlb: number_of(&material.required_hlb),
            natural_low,
            natural_high,
            hazards: material.hazards.clone(),
            wet_with: material.wet_with.clone(),
            preservation: material.preservation.as_ref().map(|p| {
                let (ph_low, ph_high) = p.ph.as_ref().map(range_of).unwrap_or_default();
                PreservationDraft {
                    covers: [p.bacteria, p.yeast, p.mould],
                    dose_low: p.dose_low.to_string(),
                    dose_high: p.dose_high.to_string(),
                    ph_low,
                    ph_high,
                    donor: p.formaldehyde_donor,
                }
            }),
            alkalinity: match &material.alkalinity {
                Alkalinity::Neutral => AlkalinityDraft::Neutral,
                Alkalinity::Unknown {
                    ph_as_sold,
                    base_mmol_per_gram,
                    ..
                } => {
                    let (ph_low, ph_high) = ph_as_sold.as_ref().map(range_of).unwrap_or_default();
                    let (base_low, base_high) = base_mmol_per_gram
                        .map(|(a, b)| (shown(a), shown(b)))
                        .unwrap_or_default();
                    AlkalinityDraft::Unknown {
                        ph_low,
                        ph_high,
                        base_low,
                        base_high,
                    }
                }
                Alkalinity::Titrated(t) => AlkalinityDraft::Titrated {
                    mmol_per_gram: shown(t.value.mmol_acid_per_gram),
                    to_ph: shown(t.value.to_ph.value()),
                },
            },
            fragrance: material
                .fragrance_levels
                .iter()
                .map(|l| (l.category.to_string(), l.maximum.to_string()))
                .collect(),
            note: material.note.to_string(),
            basis: Some(material.source.basis),
            source: material.source.text.to_string(),
            sources,
        }
    }
}

fn constituent_draft(c: &Constituent) -> ConstituentDraft {
    let percent = |share: MassFraction| shown(share.as_percent());
    let exact = c.share.low == c.share.high;
    let end = |share| if exact { String::new() } else { percent(share) };
    ConstituentDraft {
        inci: c.inci.to_string(),
        cas: c.cas.map(|cas| cas.to_string()).unwrap_or_default(),
        low: end(c.share.low),
        typical: percent(c.share.typical),
        high: end(c.share.high),
        class: Some(c.class),
        incidental: c.incidental.as_deref().unwrap_or_default().to_owned(),
        source: c.source.clone(),
    }
}
