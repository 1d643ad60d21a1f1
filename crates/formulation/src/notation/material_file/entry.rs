//! A material as it is written in a file.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::material::SourcedValue;
use crate::notation::mirror::{
    ChargeName, ClassName, CoverageName, HazardName, PhaseKindName, ProductKindName, RoleName,
    WettingMediumName,
};
use crate::notation::number::{CasText, PercentNumber, PhNumber, PhPair, Share, Within};

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
