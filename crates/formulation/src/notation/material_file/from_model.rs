//! From a material to what is written in a file.

use std::collections::BTreeMap;

use super::entry::{
    AlkalinityEntry, ConstituentEntry, MaterialEntry, PreservationEntry, PureEntry, UseRangeEntry,
};
use crate::material::{Alkalinity, Constituent, Material, MaterialId, Preservation, Source};
use crate::notation::number::{self, CasText, PercentNumber, PhNumber, PhPair, Share, Within};
use crate::notation::source_table::SourceTable;
use crate::quantity::{self, MassFraction, Spread};

impl MaterialEntry {
    /// A material as written in a file; its sources are added to the table.
    /// `default` is the key of the file's own source.
    pub fn from_model(
        material: &Material,
        sources: &mut SourceTable,
        default: Option<&str>,
    ) -> Self {
        // A new field does not compile until somebody has looked here: it is to be saved.
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
        let mut from = BTreeMap::new();
        let mut note_source = |field, source: &Source| {
            if *source != material.source {
                from.insert(field, sources.key_of(source));
            }
        };
        for (value, source) in material.value_sources() {
            note_source(value.into(), source);
        }
        let source =
            Some(sources.key_of(&material.source)).filter(|key| Some(key.as_str()) != default);
        let mut own = |other: &Source| (*other != material.source).then(|| sources.key_of(other));

        let pure = pure(material);
        let use_ranges = material
            .use_ranges
            .iter()
            .map(|range| UseRangeEntry {
                kind: range.kind.into(),
                low: PercentNumber(range.low),
                high: PercentNumber(range.high),
                supplier_maximum: range.supplier_maximum,
                source: own(&range.source),
            })
            .collect();
        let contains = if pure.is_some() {
            Vec::new()
        } else {
            material
                .constituents
                .iter()
                .map(|constituent| constituent_entry(constituent, sources))
                .collect()
        };
        Self {
            id: Some(material.id.to_string())
                .filter(|id| MaterialId::from_name(&material.name).as_str() != id),
            name: material.name.to_string(),
            synonyms: material.synonyms.iter().map(ToString::to_string).collect(),
            supplier: material.supplier.as_ref().map(ToString::to_string),
            pure,
            contains,
            roles: material.roles.iter().map(|&r| r.into()).collect(),
            charge: material.charge.map(Into::into),
            phase: material.phase.map(Into::into),
            use_ranges,
            ph_window: material.ph_window.as_ref().map(|v| PhPair(v.value)),
            max_temperature_c: material
                .max_temperature
                .as_ref()
                .map(|v| Within(number::celsius_decimal(v.value))),
            density_kg_m3: material
                .density
                .as_ref()
                .map(|v| Within(quantity::in_kg_per_m3(v.value))),
            hlb: material.hlb.as_ref().map(|v| Within(v.value)),
            required_hlb: material.required_hlb.as_ref().map(|v| Within(v.value)),
            natural_origin: material
                .natural_origin
                .as_ref()
                .map(|v| (Within(v.value.low), Within(v.value.high))),
            hazards: material.hazards.iter().map(|&h| h.into()).collect(),
            wet_with: material.wet_with.iter().map(|&w| w.into()).collect(),
            preservation: material.preservation.as_ref().map(Into::into),
            alkalinity: (&material.alkalinity).into(),
            fragrance_levels: material
                .fragrance_levels
                .iter()
                .map(|level| (level.category.to_string(), PercentNumber(level.maximum)))
                .collect(),
            note: material.note.to_string(),
            source,
            from,
        }
    }
}

/// The short form of a material that is one substance and nothing else.
fn pure(material: &Material) -> Option<PureEntry> {
    let [only] = material.constituents.as_slice() else {
        return None;
    };
    let whole = only.share == Spread::exact(MassFraction::ONE);
    (whole && only.incidental.is_none() && only.source.is_none()).then(|| PureEntry {
        inci: only.inci.to_string(),
        cas: only.cas.map(CasText),
        class: only.class.into(),
    })
}

fn constituent_entry(constituent: &Constituent, sources: &mut SourceTable) -> ConstituentEntry {
    let Constituent {
        inci,
        cas,
        share,
        class,
        incidental,
        source,
    } = constituent;
    ConstituentEntry {
        inci: inci.to_string(),
        cas: cas.map(CasText),
        share: Share(*share),
        class: (*class).into(),
        incidental: incidental.as_ref().map(ToString::to_string),
        source: source.as_ref().map(|s| sources.key_of(s)),
    }
}

impl From<&Preservation> for PreservationEntry {
    fn from(preservation: &Preservation) -> Self {
        let Preservation {
            bacteria,
            yeast,
            mould,
            dose_low,
            dose_high,
            ph,
            formaldehyde_donor,
            source: _, // among the sources of values
        } = preservation;
        Self {
            bacteria: (*bacteria).into(),
            yeast: (*yeast).into(),
            mould: (*mould).into(),
            dose: (PercentNumber(*dose_low), PercentNumber(*dose_high)),
            ph: ph.map(PhPair),
            formaldehyde_donor: *formaldehyde_donor,
        }
    }
}

impl From<&Alkalinity> for AlkalinityEntry {
    fn from(alkalinity: &Alkalinity) -> Self {
        match alkalinity {
            Alkalinity::Neutral => Self::Neutral,
            Alkalinity::Unknown {
                ph_as_sold,
                base_mmol_per_gram,
                ..
            } => Self::Unknown {
                ph: ph_as_sold.map(PhPair),
                base_mmol_per_gram: base_mmol_per_gram
                    .map(|(low, high)| (Within(low), Within(high))),
            },
            Alkalinity::Titrated(t) => Self::Titrated {
                mmol_acid_per_gram: Within(t.value.mmol_acid_per_gram),
                to_ph: PhNumber(t.value.to_ph),
            },
        }
    }
}
