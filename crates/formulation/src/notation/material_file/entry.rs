//! A material as it is written in a file.

use std::collections::BTreeMap;
use std::fmt;

use serde::de::{DeserializeSeed, EnumAccess, Error, VariantAccess as _, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::material::{Figures, MaterialValue};
use crate::notation::mirror::{
    ChargeName, ClassName, CoverageName, HazardName, PhaseKindName, ProductKindName, RoleName,
    WettingMediumName,
};
use crate::notation::number::{CasText, PercentNumber, PhNumber, PhPair, Share, Within};
use crate::quantity::PhRange;

/// A material as written in a file.
#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
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

impl MaterialEntry {
    /// The field of a value; none for a value that is no figures.
    fn written(&mut self, value: MaterialValue) -> Option<&mut dyn Written> {
        Some(match value {
            MaterialValue::PhWindow => &mut self.ph_window,
            MaterialValue::MaxTemperature => &mut self.max_temperature_c,
            MaterialValue::Density => &mut self.density_kg_m3,
            MaterialValue::Hlb => &mut self.hlb,
            MaterialValue::RequiredHlb => &mut self.required_hlb,
            MaterialValue::NaturalOrigin => &mut self.natural_origin,
            MaterialValue::Preservation | MaterialValue::Alkalinity => return None,
        })
    }

    /// Takes the figures of a value out of its field; none if it is not stated.
    pub(super) fn take_figures(&mut self, value: MaterialValue) -> Option<Figures> {
        self.written(value)?.take_figures()
    }

    /// Writes the figures of a value into its field.
    pub(super) fn put_figures(&mut self, value: MaterialValue, figures: Figures) {
        if let Some(field) = self.written(value) {
            field.put_figures(figures);
        }
    }
}

/// A field that is written as figures.
trait Written {
    fn take_figures(&mut self) -> Option<Figures>;
    fn put_figures(&mut self, figures: Figures);
}

impl<const LOW: i32, const HIGH: i32> Written for Option<Within<LOW, HIGH>> {
    fn take_figures(&mut self) -> Option<Figures> {
        self.take().map(|one| Figures::one(one.0))
    }
    fn put_figures(&mut self, figures: Figures) {
        *self = Some(Within(figures.low));
    }
}

impl<const LOW: i32, const HIGH: i32> Written for Option<(Within<LOW, HIGH>, Within<LOW, HIGH>)> {
    fn take_figures(&mut self) -> Option<Figures> {
        self.take().map(|(low, high)| Figures {
            low: low.0,
            high: high.0,
        })
    }
    fn put_figures(&mut self, figures: Figures) {
        *self = Some((Within(figures.low), Within(figures.high)));
    }
}

impl Written for Option<PhPair> {
    fn take_figures(&mut self) -> Option<Figures> {
        self.take().map(|PhPair(range)| Figures {
            low: range.low.value(),
            high: range.high.value(),
        })
    }
    fn put_figures(&mut self, figures: Figures) {
        *self = PhRange::new(figures.low, figures.high).map(PhPair);
    }
}

/// A value that has a source of its own, written as the key of its field.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SourcedField(pub MaterialValue);

/// What files call the choice of such a field in their errors.
const SOURCED_FIELD: &str = "SourcedField";

impl Serialize for SourcedField {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_unit_variant(SOURCED_FIELD, self.0 as u32, self.0.row().key)
    }
}

impl<'de> Deserialize<'de> for SourcedField {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_enum(SOURCED_FIELD, &MaterialValue::KEYS, SourcedFieldVisitor)
    }
}

struct SourcedFieldVisitor;

impl<'de> Visitor<'de> for SourcedFieldVisitor {
    type Value = SourcedField;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("enum SourcedField")
    }

    fn visit_enum<A: EnumAccess<'de>>(self, data: A) -> Result<SourcedField, A::Error> {
        let (field, variant) = data.variant_seed(SourcedFieldKey)?;
        variant.unit_variant()?;
        Ok(field)
    }
}

/// Reads the key itself.
struct SourcedFieldKey;

impl<'de> DeserializeSeed<'de> for SourcedFieldKey {
    type Value = SourcedField;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<SourcedField, D::Error> {
        deserializer.deserialize_identifier(self)
    }
}

impl Visitor<'_> for SourcedFieldKey {
    type Value = SourcedField;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("variant identifier")
    }

    fn visit_str<E: Error>(self, key: &str) -> Result<SourcedField, E> {
        MaterialValue::ALL
            .into_iter()
            .find(|value| value.row().key == key)
            .map(SourcedField)
            .ok_or_else(|| E::unknown_variant(key, &MaterialValue::KEYS))
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
