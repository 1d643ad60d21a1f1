//! From what is written in a file to a material, checked.

use std::collections::BTreeMap;

use super::entry::{
    AlkalinityEntry, ConstituentEntry, MaterialEntry, PreservationEntry, PureEntry, SourcedField,
    UseRangeEntry,
};
use crate::material::{
    Alkalinity, Basis, Constituent, Figures, FragranceLevel, Material, MaterialId, MaterialValue,
    Preservation, Source, Sourced, Titration, UseRange, without_figures,
};
use crate::notation::number::Within;
use crate::notation::read_error::TextPosition;
use crate::notation::source_table::SourceTable;
use crate::quantity::{MassFraction, Spread};

/// What is wrong with a material, and the words near which it stands in the file.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct EntryError {
    /// Name of the material as written.
    pub material: String,
    /// Words that stand where the fault is, for finding the line.
    pub near: String,
    /// What is wrong and what to do.
    pub message: String,
}

impl EntryError {
    /// The place in the text of a file: the words near which it stands, after the
    /// name of the material.
    pub fn place(&self, text: &str) -> Option<TextPosition> {
        let name = text.find(&format!("{:?}", self.material))?;
        let near = text
            .get(name..)
            .and_then(|rest| rest.find(&self.near))
            .unwrap_or(0);
        Some(TextPosition::of_offset(text, name + near))
    }
}

/// The source of values for which the file names none.
fn unsourced() -> Source {
    Source::new(Basis::Practice, "entered without a source")
}

/// Where the values of one material are from, and how its faults are told.
struct Origin<'f> {
    name: &'f str,
    table: &'f SourceTable,
    /// Of every value that names no other.
    source: Source,
    /// Keys of the sources of single fields.
    from: &'f BTreeMap<SourcedField, String>,
}

impl Origin<'_> {
    fn fault(&self, near: &str, message: impl Into<String>) -> EntryError {
        fault(self.name, near, &message.into())
    }
    fn find(&self, key: &str) -> Result<Source, EntryError> {
        find(self.name, self.table, key)
    }
    /// The source of a value.
    fn of(&self, value: MaterialValue) -> Result<Source, EntryError> {
        self.own(self.from.get(&SourcedField(value)))
    }
    /// The source of a value that is figures, if they are in order.
    fn figures_source(&self, value: MaterialValue, figures: Figures) -> Result<Source, EntryError> {
        if figures.low > figures.high {
            let key = value.row().key;
            let message = format!("field `{key}`: low is above high; swap them");
            return Err(self.fault(key, message));
        }
        self.of(value)
    }
    /// The source that a part of the material names, or else that of the material.
    fn own(&self, key: Option<&String>) -> Result<Source, EntryError> {
        key.map_or_else(|| Ok(self.source.clone()), |key| self.find(key))
    }
}

fn fault(material: &str, near: &str, message: &str) -> EntryError {
    EntryError {
        material: material.to_owned(),
        near: near.to_owned(),
        message: format!("material “{material}”: {message}"),
    }
}

fn find(material: &str, table: &SourceTable, key: &str) -> Result<Source, EntryError> {
    table
        .find(key)
        .map_err(|message| fault(material, &format!("{key:?}"), &message))
}

impl MaterialEntry {
    /// The model's material.
    ///
    /// `sources` is the table of the file, `default` the key of the file's own
    /// source. Errors name the field, what is wrong and what to do.
    pub fn into_model(
        mut self,
        sources: &SourceTable,
        default: Option<&str>,
    ) -> Result<Material, EntryError> {
        let figures = MaterialValue::FIGURES
            .map(|value| self.take_figures(value).map(|figures| (value, figures)));
        let name = self.name.as_str();
        let id = id_of(name, self.id.as_deref())?;
        let origin = Origin {
            name,
            table: sources,
            source: match self.source.as_deref().or(default) {
                Some(key) => find(name, sources, key)?,
                None => unsourced(),
            },
            from: &self.from,
        };
        let constituents = constituents(self.pure, self.contains, &origin)?;
        let use_ranges = use_ranges(&self.use_ranges, &origin)?;
        let figures: Vec<(MaterialValue, Figures, Source)> = (figures.into_iter().flatten())
            .map(|(value, figures)| Ok((value, figures, origin.figures_source(value, figures)?)))
            .collect::<Result<_, EntryError>>()?;
        let fragrance_levels = self.fragrance_levels.into_iter();
        let mut material = without_figures!({
            id,
            synonyms: self.synonyms.into_iter().map(Into::into).collect(),
            supplier: self.supplier.map(Into::into),
            constituents,
            roles: self.roles.into_iter().map(Into::into).collect(),
            charge: self.charge.map(Into::into),
            phase: self.phase.map(Into::into),
            use_ranges,
            hazards: self.hazards.into_iter().map(Into::into).collect(),
            wet_with: self.wet_with.into_iter().map(Into::into).collect(),
            preservation: match &self.preservation {
                Some(entry) => Some(preservation(entry, &origin)?),
                None => None,
            },
            alkalinity: alkalinity(&self.alkalinity, &origin)?,
            fragrance_levels: fragrance_levels
                .map(|(category, maximum)| FragranceLevel {
                    category: category.into(),
                    maximum: maximum.0,
                })
                .collect(),
            note: self.note.into(),
            name: name.into(),
            source: origin.source,
        });
        for (value, figures, source) in figures {
            material.set_figures(value, figures, source);
        }
        Ok(material)
    }
}

fn id_of(name: &str, id: Option<&str>) -> Result<MaterialId, EntryError> {
    if name.trim().is_empty() {
        return Err(fault(name, "name", "the name is empty; give it one"));
    }
    let id = MaterialId::from_name(id.unwrap_or(name));
    if id.as_str().is_empty() {
        let message = "the name has no letter or digit; give it a name or an `id` with some";
        return Err(fault(name, "name", message));
    }
    Ok(id)
}

fn constituents(
    pure: Option<PureEntry>,
    contains: Vec<ConstituentEntry>,
    origin: &Origin<'_>,
) -> Result<Vec<Constituent>, EntryError> {
    if pure.is_some() && !contains.is_empty() {
        return Err(origin.fault("pure", "`pure` and `contains` are both given; keep one"));
    }
    let mut constituents = Vec::with_capacity(contains.len().max(1));
    constituents.extend(pure.map(|pure| Constituent {
        inci: pure.inci.into(),
        cas: pure.cas.map(|c| c.0),
        share: Spread::exact(MassFraction::ONE),
        class: pure.class.into(),
        incidental: None,
        source: None,
    }));
    for entry in contains {
        let source = entry.source.as_deref().map(|key| origin.find(key));
        constituents.push(Constituent {
            cas: entry.cas.map(|c| c.0),
            share: entry.share.0,
            class: entry.class.into(),
            incidental: entry.incidental.map(Into::into),
            source: source.transpose()?,
            inci: entry.inci.into(),
        });
    }
    if constituents.iter().any(|c| c.inci.is_empty()) {
        let message = "field `inci` is empty; write the INCI name";
        return Err(origin.fault("inci: \"", message));
    }
    let total: MassFraction = constituents.iter().map(|c| c.share.typical).sum();
    // Percentages as typed add up to 100 only to within their rounding.
    if total.as_percent() > 100.0 + 1e-6 {
        let message = format!(
            "field `contains`: the typical shares add up to {:.4} %; lower them to 100 % or less",
            total.as_percent()
        );
        return Err(origin.fault("contains", message));
    }
    Ok(constituents)
}

fn use_ranges(written: &[UseRangeEntry], origin: &Origin<'_>) -> Result<Vec<UseRange>, EntryError> {
    let range = |entry: &UseRangeEntry| {
        if entry.low.0 > entry.high.0 {
            let message = format!(
                "field `use_ranges`: low {} is above high {}; swap them",
                entry.low.0, entry.high.0
            );
            return Err(origin.fault("use_ranges", message));
        }
        Ok(UseRange {
            kind: entry.kind.into(),
            low: entry.low.0,
            high: entry.high.0,
            supplier_maximum: entry.supplier_maximum,
            source: origin.own(entry.source.as_ref())?,
        })
    };
    written.iter().map(range).collect()
}

fn preservation(
    entry: &PreservationEntry,
    origin: &Origin<'_>,
) -> Result<Preservation, EntryError> {
    let (low, high) = (entry.dose.0.0, entry.dose.1.0);
    if low > high {
        let message = "field `preservation`: the low dose is above the high dose; swap them";
        return Err(origin.fault("preservation", message));
    }
    Ok(Preservation {
        bacteria: entry.bacteria.into(),
        yeast: entry.yeast.into(),
        mould: entry.mould.into(),
        dose_low: low,
        dose_high: high,
        ph: entry.ph.map(|p| p.0),
        formaldehyde_donor: entry.formaldehyde_donor,
        source: origin.of(MaterialValue::Preservation)?,
    })
}

fn alkalinity(entry: &AlkalinityEntry, origin: &Origin<'_>) -> Result<Alkalinity, EntryError> {
    Ok(match entry {
        AlkalinityEntry::Neutral => Alkalinity::Neutral,
        AlkalinityEntry::Unknown {
            base_mmol_per_gram: Some((Within(low), Within(high))),
            ..
        } if low > high => {
            let message = "field `alkalinity`: the low amount is above the high amount; swap them";
            return Err(origin.fault("alkalinity", message));
        }
        AlkalinityEntry::Unknown {
            ph,
            base_mmol_per_gram,
        } => Alkalinity::Unknown {
            ph_as_sold: ph.map(|p| p.0),
            base_mmol_per_gram: base_mmol_per_gram.map(|(low, high)| (low.0, high.0)),
            source: origin.of(MaterialValue::Alkalinity)?,
        },
        AlkalinityEntry::Titrated {
            mmol_acid_per_gram,
            to_ph,
        } => Alkalinity::Titrated(Sourced::new(
            Titration {
                mmol_acid_per_gram: mmol_acid_per_gram.0,
                to_ph: to_ph.0,
            },
            origin.of(MaterialValue::Alkalinity)?,
        )),
    })
}
