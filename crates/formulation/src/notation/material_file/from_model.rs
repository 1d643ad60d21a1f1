//! From a material to what is written in a file.

use std::collections::BTreeMap;

use super::entry::{
    AlkalinityEntry, ConstituentEntry, MaterialEntry, PreservationEntry, PureEntry, SourcedField,
    UseRangeEntry,
};
use crate::material::{
    Alkalinity, Constituent, Material, MaterialId, MaterialValue, Preservation, Source,
    other_fields,
};
use crate::notation::number::{CasText, PercentNumber, PhNumber, PhPair, Share, Within};
use crate::notation::source_table::SourceTable;
use crate::quantity::{MassFraction, Spread};

impl MaterialEntry {
    /// A material as written in a file; its sources are added to the table.
    /// `default` is the key of the file's own source.
    pub fn from_model(
        material: &Material,
        sources: &mut SourceTable,
        default: Option<&str>,
    ) -> Self {
        // A new field does not compile until somebody has looked here: it is to be saved.
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
            source: main,
        } = material);
        let mut from = BTreeMap::new();
        for (value, source) in material.value_sources() {
            if source != main {
                from.insert(SourcedField(value), sources.key_of(source));
            }
        }
        let source = Some(sources.key_of(main)).filter(|key| Some(key.as_str()) != default);
        let mut own = |other: &Source| (other != main).then(|| sources.key_of(other));

        let pure = pure(material);
        let use_ranges = use_ranges
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
            constituents
                .iter()
                .map(|constituent| constituent_entry(constituent, sources))
                .collect()
        };
        let mut entry = Self {
            id: Some(id.to_string()).filter(|id| MaterialId::from_name(name).as_str() != id),
            name: name.to_string(),
            synonyms: synonyms.iter().map(ToString::to_string).collect(),
            supplier: supplier.as_ref().map(ToString::to_string),
            pure,
            contains,
            roles: roles.iter().map(|&r| r.into()).collect(),
            charge: charge.map(Into::into),
            phase: phase.map(Into::into),
            use_ranges,
            hazards: hazards.iter().map(|&h| h.into()).collect(),
            wet_with: wet_with.iter().map(|&w| w.into()).collect(),
            preservation: preservation.as_ref().map(Into::into),
            alkalinity: alkalinity.into(),
            fragrance_levels: fragrance_levels
                .iter()
                .map(|level| (level.category.to_string(), PercentNumber(level.maximum)))
                .collect(),
            note: note.to_string(),
            source,
            from,
            // The figures follow.
            ..Self::default()
        };
        for value in MaterialValue::FIGURES {
            if let Some((figures, _)) = material.figures(value) {
                entry.put_figures(value, figures);
            }
        }
        entry
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
