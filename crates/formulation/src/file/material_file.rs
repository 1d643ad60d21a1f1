//! Raw materials as a RON file, short enough to write by hand.
//!
//! ```ron
//! (
//!     version: 1,
//!     source: "typical",
//!     sources: {
//!         "typical": (basis: Typical, text: "solutions of this kind"),
//!         "inventory": (basis: Published, text: "European Commission, CosIng inventory"),
//!     },
//!     materials: [
//!         (
//!             name: "Cocamidopropyl betaine solution",
//!             contains: [
//!                 (inci: "Aqua", cas: "7732-18-5", share: (62, 65, 67), class: Water),
//!                 (inci: "Cocamidopropyl Betaine", cas: "61789-40-0", share: (29, 30, 32), class: Surfactant(Amphoteric)),
//!                 (inci: "Sodium Chloride", cas: "7647-14-5", share: 5, class: Electrolyte, source: "inventory"),
//!             ],
//!             roles: [CoSurfactant, Foamer],
//!             density_kg_m3: 1045,
//!             from: {density_kg_m3: "inventory"},
//!         ),
//!     ],
//! )
//! ```
//!
//! Shares are in percent of the material, one number or `(low, typical, high)`.
//! Every value is from the material's `source`, which is the file's unless the
//! material names one; `from` names another source for single fields.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::mirror::{
    ChargeName, ClassName, CoverageName, HazardName, PhaseKindName, ProductKindName, RoleName,
    WettingMediumName,
};
use super::number::{self, CasText, PercentNumber, PhNumber, PhPair, Share, Within};
use super::read_error::{Place, ReadError};
use super::source_table::SourceTable;
use crate::material::{
    Alkalinity, Basis, Constituent, FragranceLevel, Material, MaterialId, NaturalOrigin,
    Preservation, Source, Sourced, SourcedValue, Titration, UseRange,
};
use crate::quantity::{self, MassFraction, Spread};

/// The version this program writes and the newest it reads.
pub const VERSION: u32 = 1;

/// A file of materials.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MaterialFile {
    /// Version of this form.
    pub version: u32,
    /// Key of the source of every value that names no other.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Sources by key.
    #[serde(default, skip_serializing_if = "SourceTable::is_empty")]
    pub sources: SourceTable,
    /// The materials.
    pub materials: Vec<MaterialEntry>,
}

/// A material as written in a file.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MaterialEntry {
    /// Identity; made from the name if missing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// Trade name in generic words.
    pub name: String,
    /// Other names.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub synonyms: Vec<String>,
    /// Supplier.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub supplier: Option<String>,
    /// The one substance it consists of, in place of `contains`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pure: Option<PureEntry>,
    /// What it contains.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub contains: Vec<ConstituentEntry>,
    /// What it does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub roles: Vec<RoleName>,
    /// Charge class.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub charge: Option<ChargeName>,
    /// Phase it usually goes into.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub phase: Option<PhaseKindName>,
    /// Usual levels.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub use_ranges: Vec<UseRangeEntry>,
    /// pH at which it is stable and works.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph_window: Option<PhPair>,
    /// Highest process temperature, °C.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub max_temperature_c: Option<Within<-80, 400>>,
    /// Density, kg/m³.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density_kg_m3: Option<Within<10, 25000>>,
    /// HLB.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hlb: Option<Within<0, 50>>,
    /// Required HLB for oil in water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub required_hlb: Option<Within<0, 50>>,
    /// Natural origin index, lowest and highest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub natural_origin: Option<(Within<0, 1>, Within<0, 1>)>,
    /// Hazards in handling.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<HazardName>,
    /// What it must be wetted with.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wet_with: Vec<WettingMediumName>,
    /// Preservative data.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preservation: Option<PreservationEntry>,
    /// Effect on pH beyond the constituents; unknown if missing.
    #[serde(default)]
    pub alkalinity: AlkalinityEntry,
    /// Highest fragrance levels per category, % w/w.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fragrance_levels: Vec<(String, PercentNumber)>,
    /// Free words.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Key of the source of every value that names none of its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// Keys of the sources of single fields.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub from: BTreeMap<SourcedField, String>,
}

/// A field that may have a source of its own.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(
    missing_docs,
    reason = "each is the field of `MaterialEntry` of the same name"
)]
pub enum SourcedField {
    PhWindow,
    MaxTemperatureC,
    DensityKgM3,
    Hlb,
    RequiredHlb,
    NaturalOrigin,
    Preservation,
    Alkalinity,
}

impl From<SourcedValue> for SourcedField {
    fn from(value: SourcedValue) -> Self {
        match value {
            SourcedValue::PhWindow => Self::PhWindow,
            SourcedValue::MaxTemperature => Self::MaxTemperatureC,
            SourcedValue::Density => Self::DensityKgM3,
            SourcedValue::Hlb => Self::Hlb,
            SourcedValue::RequiredHlb => Self::RequiredHlb,
            SourcedValue::NaturalOrigin => Self::NaturalOrigin,
            SourcedValue::Preservation => Self::Preservation,
            SourcedValue::Alkalinity => Self::Alkalinity,
        }
    }
}

/// A material that is one substance.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PureEntry {
    /// INCI name.
    pub inci: String,
    /// CAS number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cas: Option<CasText>,
    /// What it is counted as.
    pub class: ClassName,
}

/// One substance of a material.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ConstituentEntry {
    /// INCI name.
    pub inci: String,
    /// CAS number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cas: Option<CasText>,
    /// Share of the material, percent.
    pub share: Share,
    /// What it is counted as.
    pub class: ClassName,
    /// Why it is not listed as an ingredient.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub incidental: Option<String>,
    /// Key of the source of the share.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// Usual level in a kind of product.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UseRangeEntry {
    /// For which kind.
    pub kind: ProductKindName,
    /// Lowest usual level, % w/w.
    pub low: PercentNumber,
    /// Highest usual level, % w/w.
    pub high: PercentNumber,
    /// Whether the supplier sets `high` as a maximum.
    #[serde(default, skip_serializing_if = "is_false")]
    pub supplier_maximum: bool,
    /// Key of the source.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde calls it with a reference"
)]
fn is_false(value: &bool) -> bool {
    !value
}

/// Preservative data.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PreservationEntry {
    /// Bacteria.
    pub bacteria: CoverageName,
    /// Yeast.
    pub yeast: CoverageName,
    /// Mould.
    pub mould: CoverageName,
    /// Lowest and highest dose of the raw material, % w/w.
    pub dose: (PercentNumber, PercentNumber),
    /// pH at which it works.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ph: Option<PhPair>,
    /// Releases formaldehyde.
    #[serde(default, skip_serializing_if = "is_false")]
    pub formaldehyde_donor: bool,
}

/// Effect on pH beyond the listed constituents.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum AlkalinityEntry {
    /// The constituents tell all.
    Neutral,
    /// Not known.
    Unknown {
        /// pH as sold or of the usual test solution.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ph: Option<PhPair>,
        /// Lowest and highest unlisted base (acid if negative), mmol per gram.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        base_mmol_per_gram: Option<(Within<-50, 50>, Within<-50, 50>)>,
    },
    /// Titrated.
    Titrated {
        /// Strong acid (base if negative) that brings it to the end point, mmol per gram.
        mmol_acid_per_gram: Within<-50, 50>,
        /// The end point.
        to_ph: PhNumber,
    },
}

impl Default for AlkalinityEntry {
    fn default() -> Self {
        Self::Unknown {
            ph: None,
            base_mmol_per_gram: None,
        }
    }
}

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
    pub fn place(&self, text: &str) -> Option<Place> {
        let name = text.find(&format!("{:?}", self.material))?;
        let near = text
            .get(name..)
            .and_then(|rest| rest.find(&self.near))
            .unwrap_or(0);
        Some(Place::of_offset(text, name + near))
    }
}

/// The source of values for which the file names none.
fn unsourced() -> Source {
    Source::new(Basis::Practice, "entered without a source")
}

impl MaterialEntry {
    /// The model's material.
    ///
    /// `sources` is the table of the file, `default` the key of the file's own
    /// source. Errors name the field, what is wrong and what to do.
    pub fn into_model(
        self,
        sources: &SourceTable,
        default: Option<&str>,
    ) -> Result<Material, EntryError> {
        let name = self.name.clone();
        let fault = |near: &str, message: String| EntryError {
            material: name.clone(),
            near: near.to_owned(),
            message: format!("material “{name}”: {message}"),
        };
        let find = |key: &str| {
            sources
                .find(key)
                .map_err(|message| fault(&format!("{key:?}"), message))
        };
        if self.name.trim().is_empty() {
            return Err(fault("name", "the name is empty; give it one".to_owned()));
        }
        let id = MaterialId::from_name(self.id.as_deref().unwrap_or(&self.name));
        if id.as_str().is_empty() {
            return Err(fault(
                "name",
                "the name has no letter or digit; give it a name or an `id` with some".to_owned(),
            ));
        }
        let source = match self.source.as_deref().or(default) {
            Some(key) => find(key)?,
            None => unsourced(),
        };
        let from = |field: SourcedField| match self.from.get(&field) {
            Some(key) => find(key),
            None => Ok(source.clone()),
        };
        let own = |key: Option<&String>| match key {
            Some(key) => find(key),
            None => Ok(source.clone()),
        };

        if self.pure.is_some() && !self.contains.is_empty() {
            return Err(fault(
                "pure",
                "`pure` and `contains` are both given; keep one".to_owned(),
            ));
        }
        let mut constituents = Vec::with_capacity(self.contains.len().max(1));
        if let Some(pure) = self.pure {
            constituents.push(Constituent {
                inci: pure.inci.into(),
                cas: pure.cas.map(|c| c.0),
                share: Spread::exact(MassFraction::ONE),
                class: pure.class.into(),
                incidental: None,
                source: None,
            });
        }
        for entry in self.contains {
            constituents.push(Constituent {
                cas: entry.cas.map(|c| c.0),
                share: entry.share.0,
                class: entry.class.into(),
                incidental: entry.incidental.map(Into::into),
                source: entry.source.as_deref().map(find).transpose()?,
                inci: entry.inci.into(),
            });
        }
        for constituent in &constituents {
            if constituent.inci.trim().is_empty() {
                return Err(fault(
                    "inci: \"",
                    "field `inci` is empty; write the INCI name".to_owned(),
                ));
            }
        }
        let total: MassFraction = constituents.iter().map(|c| c.share.typical).sum();
        // Percentages as typed add up to 100 only to within their rounding.
        if total.as_percent() > 100.0 + 1e-6 {
            return Err(fault(
                "contains",
                format!(
                    "field `contains`: the typical shares add up to {:.4} %; lower them to 100 % or less",
                    total.as_percent()
                ),
            ));
        }
        let mut use_ranges = Vec::with_capacity(self.use_ranges.len());
        for entry in &self.use_ranges {
            if entry.low.0 > entry.high.0 {
                return Err(fault(
                    "use_ranges",
                    format!(
                        "field `use_ranges`: low {} is above high {}; swap them",
                        entry.low.0, entry.high.0
                    ),
                ));
            }
            use_ranges.push(UseRange {
                kind: entry.kind.into(),
                low: entry.low.0,
                high: entry.high.0,
                supplier_maximum: entry.supplier_maximum,
                source: own(entry.source.as_ref())?,
            });
        }
        let natural_origin = match self.natural_origin {
            Some((low, high)) if low.0 > high.0 => {
                return Err(fault(
                    "natural_origin",
                    "field `natural_origin`: low is above high; swap them".to_owned(),
                ));
            }
            Some((low, high)) => Some(Sourced::new(
                NaturalOrigin {
                    low: low.0,
                    high: high.0,
                },
                from(SourcedField::NaturalOrigin)?,
            )),
            None => None,
        };
        let preservation = match &self.preservation {
            Some(entry) if entry.dose.0.0 > entry.dose.1.0 => {
                return Err(fault(
                    "preservation",
                    "field `preservation`: the low dose is above the high dose; swap them"
                        .to_owned(),
                ));
            }
            Some(entry) => Some(Preservation {
                bacteria: entry.bacteria.into(),
                yeast: entry.yeast.into(),
                mould: entry.mould.into(),
                dose_low: entry.dose.0.0,
                dose_high: entry.dose.1.0,
                ph: entry.ph.map(|p| p.0),
                formaldehyde_donor: entry.formaldehyde_donor,
                source: from(SourcedField::Preservation)?,
            }),
            None => None,
        };
        let alkalinity = match &self.alkalinity {
            AlkalinityEntry::Neutral => Alkalinity::Neutral,
            AlkalinityEntry::Unknown {
                base_mmol_per_gram: Some((low, high)),
                ..
            } if low.0 > high.0 => {
                return Err(fault(
                    "alkalinity",
                    "field `alkalinity`: the low amount is above the high amount; swap them"
                        .to_owned(),
                ));
            }
            AlkalinityEntry::Unknown {
                ph,
                base_mmol_per_gram,
            } => Alkalinity::Unknown {
                ph_as_sold: ph.map(|p| p.0),
                base_mmol_per_gram: base_mmol_per_gram.map(|(low, high)| (low.0, high.0)),
                source: from(SourcedField::Alkalinity)?,
            },
            AlkalinityEntry::Titrated {
                mmol_acid_per_gram,
                to_ph,
            } => Alkalinity::Titrated(Sourced::new(
                Titration {
                    mmol_acid_per_gram: mmol_acid_per_gram.0,
                    to_ph: to_ph.0,
                },
                from(SourcedField::Alkalinity)?,
            )),
        };
        let sourced = |number: Option<f64>, field| {
            number
                .map(|value| Ok(Sourced::new(value, from(field)?)))
                .transpose()
        };
        let ph_window = self
            .ph_window
            .map(|p| Ok(Sourced::new(p.0, from(SourcedField::PhWindow)?)))
            .transpose()?;
        let max_temperature = sourced(
            self.max_temperature_c.map(|n| n.0),
            SourcedField::MaxTemperatureC,
        )?
        .map(|t| Sourced::new(quantity::celsius(t.value), t.source));
        let density = sourced(self.density_kg_m3.map(|n| n.0), SourcedField::DensityKgM3)?
            .map(|d| Sourced::new(quantity::kg_per_m3(d.value), d.source));
        let hlb = sourced(self.hlb.map(|n| n.0), SourcedField::Hlb)?;
        let required_hlb = sourced(self.required_hlb.map(|n| n.0), SourcedField::RequiredHlb)?;

        Ok(Material {
            id,
            synonyms: self.synonyms.into_iter().map(Into::into).collect(),
            supplier: self.supplier.map(Into::into),
            constituents,
            roles: self.roles.into_iter().map(Into::into).collect(),
            charge: self.charge.map(Into::into),
            phase: self.phase.map(Into::into),
            use_ranges,
            ph_window,
            max_temperature,
            density,
            hlb,
            required_hlb,
            natural_origin,
            hazards: self.hazards.into_iter().map(Into::into).collect(),
            wet_with: self.wet_with.into_iter().map(Into::into).collect(),
            preservation,
            alkalinity,
            fragrance_levels: self
                .fragrance_levels
                .into_iter()
                .map(|(category, maximum)| FragranceLevel {
                    category: category.into(),
                    maximum: maximum.0,
                })
                .collect(),
            note: self.note.into(),
            source,
            name: self.name.into(),
        })
    }

    /// A material as written in a file; its sources are added to the table.
    /// `default` is the key of the file's own source.
    pub fn from_model(
        material: &Material,
        sources: &mut SourceTable,
        default: Option<&str>,
    ) -> Self {
        let mut from = BTreeMap::new();
        let mut note_source = |field, source: &Source| {
            if *source != material.source {
                from.insert(field, sources.key(source));
            }
        };
        for (value, source) in material.value_sources() {
            note_source(value.into(), source);
        }
        let source =
            Some(sources.key(&material.source)).filter(|key| Some(key.as_str()) != default);
        let mut own = |other: &Source| (*other != material.source).then(|| sources.key(other));

        let pure = match material.constituents.as_slice() {
            [only]
                if only.share == Spread::exact(MassFraction::ONE)
                    && only.incidental.is_none()
                    && only.source.is_none() =>
            {
                Some(PureEntry {
                    inci: only.inci.to_string(),
                    cas: only.cas.map(CasText),
                    class: only.class.into(),
                })
            }
            _ => None,
        };
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
                .map(|constituent| ConstituentEntry {
                    inci: constituent.inci.to_string(),
                    cas: constituent.cas.map(CasText),
                    share: Share(constituent.share),
                    class: constituent.class.into(),
                    incidental: constituent.incidental.as_ref().map(ToString::to_string),
                    source: constituent.source.as_ref().map(|s| sources.key(s)),
                })
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
            preservation: material.preservation.as_ref().map(|p| PreservationEntry {
                bacteria: p.bacteria.into(),
                yeast: p.yeast.into(),
                mould: p.mould.into(),
                dose: (PercentNumber(p.dose_low), PercentNumber(p.dose_high)),
                ph: p.ph.map(PhPair),
                formaldehyde_donor: p.formaldehyde_donor,
            }),
            alkalinity: match &material.alkalinity {
                Alkalinity::Neutral => AlkalinityEntry::Neutral,
                Alkalinity::Unknown {
                    ph_as_sold,
                    base_mmol_per_gram,
                    ..
                } => AlkalinityEntry::Unknown {
                    ph: ph_as_sold.map(PhPair),
                    base_mmol_per_gram: base_mmol_per_gram
                        .map(|(low, high)| (Within(low), Within(high))),
                },
                Alkalinity::Titrated(t) => AlkalinityEntry::Titrated {
                    mmol_acid_per_gram: Within(t.value.mmol_acid_per_gram),
                    to_ph: PhNumber(t.value.to_ph),
                },
            },
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

/// How RON is read and written here: a value stands for `Some(value)`.
pub(crate) fn ron_options() -> ron::Options {
    ron::Options::default().with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
}

/// The version a file states, read before anything else so that a file of a newer
/// program is told apart from a damaged one.
#[derive(Deserialize)]
struct Header {
    version: u32,
}

/// Reads a file of materials. `file` is its name, for the error.
///
/// Errors name the line and column, the field, what is wrong and what to do.
pub fn read(text: &str, file: &str) -> Result<Vec<Material>, ReadError> {
    let options = ron_options();
    let header: Header = options
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    if header.version > VERSION {
        return Err(ReadError::whole(
            file,
            format!(
                "the file is of version {}, newer than the version {VERSION} this program reads; use a newer Phasewright",
                header.version
            ),
        ));
    }
    if header.version == 0 {
        return Err(ReadError::whole(
            file,
            "there is no version 0 of this file; write `version: 1`",
        ));
    }
    let parsed: MaterialFile = options
        .from_str(text)
        .map_err(|e| ReadError::ron(file, &e))?;
    let at = |e: EntryError| ReadError::at(file, e.place(text), e.message);
    let mut seen = BTreeSet::new();
    let mut materials = Vec::with_capacity(parsed.materials.len());
    for entry in parsed.materials {
        let material = entry
            .into_model(&parsed.sources, parsed.source.as_deref())
            .map_err(at)?;
        if !seen.insert(material.id.clone()) {
            return Err(at(EntryError {
                material: material.name.to_string(),
                near: material.name.to_string(),
                message: format!(
                    "two materials have the id “{}”; give one of them another name or `id`",
                    material.id
                ),
            }));
        }
        materials.push(material);
    }
    Ok(materials)
}

/// Writes a file of materials; read again it gives the same materials.
pub fn write<'a>(materials: impl IntoIterator<Item = &'a Arc<Material>>) -> ron::Result<String> {
    let mut sources = SourceTable::default();
    let materials = materials
        .into_iter()
        .map(|material| MaterialEntry::from_model(material, &mut sources, None))
        .collect();
    let file = MaterialFile {
        version: VERSION,
        source: None,
        sources,
        materials,
    };
    let mut text = ron_options().to_string_pretty(&file, pretty(4))?;
    text.push('\n');
    Ok(text)
}

/// One value a line down to `depth`, what lies deeper on one line.
pub(crate) fn pretty(depth: usize) -> ron::ser::PrettyConfig {
    ron::ser::PrettyConfig::new()
        .new_line("\n")
        .depth_limit(depth)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Charge, Class, Coverage, Role};

    const BETAINE: &str = r#"(
    version: 1,
    source: "typical",
    sources: {
        "typical": (basis: Typical, text: "solutions of this kind"),
        "paper": (basis: Published, text: "a paper"),
    },
    materials: [
        (
            name: "Cocamidopropyl betaine solution",
            contains: [
                (inci: "Aqua", cas: "7732-18-5", share: (62, 65, 67), class: Water),
                (inci: "Cocamidopropyl Betaine", cas: "61789-40-0", share: (28.5, 30, 32), class: Surfactant(Amphoteric)),
                (inci: "Sodium Chloride", cas: "7647-14-5", share: 5, class: Electrolyte, source: "paper"),
            ],
            roles: [CoSurfactant, Foamer],
            charge: Amphoteric,
            use_ranges: [(kind: RinseOff, low: 2, high: 40)],
            max_temperature_c: 79.3,
            density_kg_m3: 1045,
            alkalinity: Unknown(ph: (4.5, 6), base_mmol_per_gram: (-0.1, 0.1)),
            from: {density_kg_m3: "paper"},
        ),
        (name: "Glycerin", pure: (inci: "Glycerin", cas: "56-81-5", class: Humectant), alkalinity: Neutral),
    ],
)"#;

    fn message(text: &str) -> String {
        read(text, "shelf.ron").unwrap_err().to_string()
    }

    #[test]
    fn a_short_file_is_read_with_its_sources() {
        let materials = read(BETAINE, "x").unwrap();
        let betaine = &materials[0];
        assert_eq!(betaine.id.as_str(), "cocamidopropyl-betaine-solution");
        assert_eq!(betaine.source.basis, Basis::Typical);
        assert_eq!(
            betaine.density.as_ref().unwrap().source.basis,
            Basis::Published
        );
        assert_eq!(
            betaine.constituents[2].source.as_ref().unwrap().basis,
            Basis::Published
        );
        assert!(
            (betaine
                .share_of(Class::Surfactant(Charge::Amphoteric))
                .as_percent()
                - 30.0)
                .abs()
                < 1e-12
        );
        assert_eq!(materials[1].unknown_share(), MassFraction::ZERO);
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let mut materials = read(BETAINE, "x").unwrap();
        // Shares that no short decimal gives, as a computation may leave them.
        materials[1].constituents[0].share = Spread {
            low: MassFraction::new(1.0 / 3.0),
            typical: MassFraction::new(0.57_f64.next_up()),
            high: MassFraction::new(0.9999999999999999),
        };
        materials[0].preservation = Some(Preservation {
            bacteria: Coverage::Good,
            yeast: Coverage::Weak,
            mould: Coverage::None,
            dose_low: "0.000001".parse().unwrap(),
            dose_high: "99.999999".parse().unwrap(),
            ph: None,
            formaldehyde_donor: true,
            source: Source::new(Basis::Supplier, "the “sheet”\n\"quoted\""),
        });
        let shared: Vec<_> = materials.into_iter().map(Arc::new).collect();
        let text = write(&shared).unwrap();
        let again: Vec<_> = read(&text, "x")
            .unwrap()
            .into_iter()
            .map(Arc::new)
            .collect();
        assert_eq!(again, shared, "{text}");
        assert_eq!(write(&again).unwrap(), text);
    }

    #[test]
    fn every_tenth_of_a_percent_reads_back_the_same() {
        for tenths in 0..=1000 {
            let share = MassFraction::from_percent(f64::from(tenths) / 10.0);
            let text = ron::to_string(&Share(Spread::exact(share))).unwrap();
            assert!(!text.contains("of one"), "{text}");
            assert_eq!(ron::from_str::<Share>(&text).unwrap().0.typical, share);
        }
        for tenths in -400..=2500 {
            let temperature = quantity::celsius(f64::from(tenths) / 10.0);
            let decimal = number::celsius_decimal(temperature);
            assert_eq!(quantity::celsius(decimal), temperature);
            assert!(decimal.to_string().len() <= 6, "{decimal}");
        }
    }

    #[test]
    fn faults_name_line_field_and_remedy() {
        let wrong_digit = BETAINE.replace("56-81-5", "56-81-4");
        let said = message(&wrong_digit);
        assert!(said.contains("check digit should be 5"), "{said}");
        assert!(said.contains("line 24"), "{said}");

        let no_source = BETAINE.replace("source: \"paper\"", "source: \"leaflet\"");
        let said = message(&no_source);
        assert!(
            said.contains("leaflet") && said.contains("paper, typical"),
            "{said}"
        );
        assert!(said.contains("line 14"), "{said}");

        let said = message(&BETAINE.replace("(62, 65, 67)", "(66, 65, 67)"));
        assert!(
            said.contains("low, typical, high") && said.contains("line 12"),
            "{said}"
        );

        let said = message(&BETAINE.replace("share: 5,", "share: 6,"));
        assert!(
            said.contains("add up to 101") && said.contains("line 11"),
            "{said}"
        );

        let said = message(&BETAINE.replace("roles:", "rolls:"));
        assert!(
            said.contains("`rolls`") && said.contains("line 16"),
            "{said}"
        );

        let said = message(&BETAINE.replace("[CoSurfactant", "[Soap"));
        assert!(
            said.contains("`Soap`") && said.contains("CoSurfactant"),
            "{said}"
        );

        let said = message(&BETAINE.replace("low: 2, high: 40", "low: 2, high: 1"));
        assert!(said.contains("above high"), "{said}");

        let said = message(&BETAINE.replace("high: 40", "high: 40.0000001"));
        assert!(said.contains("more than six digits"), "{said}");

        let said = message(&BETAINE.replace("version: 1", "version: 2"));
        assert!(said.contains("newer"), "{said}");

        let said = message(&BETAINE.replace(
            "name: \"Glycerin\"",
            "name: \"Cocamidopropyl betaine (solution)\"",
        ));
        assert!(said.contains("two materials"), "{said}");

        for cut in (0..BETAINE.len()).filter(|&i| BETAINE.is_char_boundary(i)) {
            assert!(read(&BETAINE[..cut], "x").is_err());
        }
    }

    proptest::proptest! {
        #[test]
        fn damaged_files_end_in_an_error_or_in_materials(
            at in 0..BETAINE.len(),
            length in 0..40_usize,
            put in "\\PC{0,12}",
        ) {
            let start = (0..=at).rev().find(|&i| BETAINE.is_char_boundary(i)).unwrap();
            let end = (start + length).min(BETAINE.len());
            let end = (end..=BETAINE.len()).find(|&i| BETAINE.is_char_boundary(i)).unwrap();
            let damaged = format!("{}{put}{}", &BETAINE[..start], &BETAINE[end..]);
            if let Err(error) = read(&damaged, "shelf.ron") {
                proptest::prop_assert!(error.to_string().contains("shelf.ron"));
            }
        }

        #[test]
        fn text_that_is_no_file_never_panics(text in "\\PC{0,200}") {
            proptest::prop_assert!(read(&text, "shelf.ron").is_err());
        }
    }

    #[test]
    fn roles_in_files_are_those_of_the_model() {
        for role in Role::ALL {
            assert_eq!(Role::from(RoleName::from(role)), role);
        }
        for class in Class::ALL {
            assert_eq!(Class::from(ClassName::from(class)), class);
        }
    }
}
