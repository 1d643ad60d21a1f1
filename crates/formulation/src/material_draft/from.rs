//! The draft of a material that is there already, or of a name of the inventory.

use std::collections::BTreeMap;

use super::{
    AlkalinityDraft, ConstituentDraft, DraftField, MaterialDraft, PreservationDraft, TypedFigures,
    TypedValues, UseDraft, shown, use_field,
};
use crate::inventory::InventoryName;
use crate::material::{
    Alkalinity, Basis, Constituent, Counted, Figures, Material, MaterialValue, Preservation,
    ProductKind, Source, other_fields,
};
use crate::quantity::{MassFraction, PhRange};

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
        other_fields!(let {
            id,
            name,
            synonyms,
            supplier,
            constituents,
            roles,
            charge,
            phase,
            use_ranges,
            hazards,
            wet_with,
            preservation,
            alkalinity,
            fragrance_levels,
            note,
            source,
        } = material);
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
        let mut keep = |field: DraftField, own: &Source| {
            if own != source {
                sources.insert(field, own.clone());
            }
        };
        for range in use_ranges {
            keep(use_field(range.kind), &range.source);
        }
        for (value, own) in material.value_sources() {
            keep(DraftField::Value(value), own);
        }
        let mut values = TypedValues::default();
        for (value, counted) in MaterialValue::counted() {
            if let Some((figures, _)) = material.figures(value) {
                values[value] = TypedFigures::of(figures, counted);
            }
        }
        Self {
            of: Some(id.clone()),
            name: name.to_string(),
            synonyms: synonyms.join("; "),
            supplier: supplier.as_deref().unwrap_or_default().to_owned(),
            constituents: constituents.iter().map(constituent_draft).collect(),
            roles: roles.clone(),
            charge: *charge,
            phase: *phase,
            rinse_off: usual(ProductKind::RinseOff),
            leave_on: usual(ProductKind::LeaveOn),
            values,
            hazards: hazards.clone(),
            wet_with: wet_with.clone(),
            preservation: preservation.as_ref().map(PreservationDraft::of),
            alkalinity: AlkalinityDraft::of(alkalinity),
            fragrance: fragrance_levels
                .iter()
                .map(|l| (l.category.to_string(), l.maximum.to_string()))
                .collect(),
            note: note.to_string(),
            basis: Some(source.basis),
            source: source.text.to_string(),
            sources,
        }
    }
}

impl TypedFigures {
    /// Figures in the unit of the material file, as they are typed.
    fn of(figures: Figures, counted: Counted) -> Self {
        let typed = |figure| shown(counted.typed(figure));
        Self {
            low: typed(figures.low),
            high: if counted.has_two_ends() {
                typed(figures.high)
            } else {
                String::new()
            },
        }
    }
}

impl PreservationDraft {
    fn of(preservation: &Preservation) -> Self {
        let p = preservation;
        let (ph_low, ph_high) = p.ph.as_ref().map(range_of).unwrap_or_default();
        Self {
            covers: [p.bacteria, p.yeast, p.mould],
            dose_low: p.dose_low.to_string(),
            dose_high: p.dose_high.to_string(),
            ph_low,
            ph_high,
            donor: p.formaldehyde_donor,
        }
    }
}

impl AlkalinityDraft {
    fn of(alkalinity: &Alkalinity) -> Self {
        match alkalinity {
            Alkalinity::Neutral => Self::Neutral,
            Alkalinity::Unknown {
                ph_as_sold,
                base_mmol_per_gram,
                ..
            } => {
                let (ph_low, ph_high) = ph_as_sold.as_ref().map(range_of).unwrap_or_default();
                let (base_low, base_high) = base_mmol_per_gram
                    .map(|(a, b)| (shown(a), shown(b)))
                    .unwrap_or_default();
                Self::Unknown {
                    ph_low,
                    ph_high,
                    base_low,
                    base_high,
                }
            }
            Alkalinity::Titrated(t) => Self::Titrated {
                mmol_per_gram: shown(t.value.mmol_acid_per_gram),
                to_ph: shown(t.value.to_ph.value()),
            },
        }
    }
}

fn range_of(range: &PhRange) -> (String, String) {
    (shown(range.low.value()), shown(range.high.value()))
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
