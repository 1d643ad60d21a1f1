//! What stands in a formula file, field by field.

use serde::{Deserialize, Serialize};

use crate::file::label_entry::LabelEntry;
use crate::file::material_file::MaterialEntry;
use crate::file::mirror::{PhaseKindName, ProductKindName};
use crate::file::number::{PercentNumber, PhNumber, Within};
use crate::file::source_table::SourceTable;
use crate::formula::{self, Date};
use crate::purpose;
use crate::specification::Quality;

mirror!(
    /// Where a product is sold.
    MarketName = formula::Market { Eu, Uk, Us }
);
mirror!(
    /// What a line is there for.
    PurposeName = purpose::Purpose {
        Preservative, Fragrance, Solvent, Active, UvFilter, Colorant, PhAdjuster, Emulsifier,
        Surfactant, Thickener, Emollient, Humectant, Chelator, Antioxidant, Conditioner, Opacifier,
        Abrasive, Absorbent, Other,
    }
);
mirror!(
    /// What is measured.
    QualityName = Quality { Ph, Viscosity, Density, Appearance, Odour, FilledMass, Yield, Other }
);
mirror!(
    /// Where on the body a product is used.
    PlaceName = formula::BodySite {
        Body, Hands, Feet, Face, EyeArea, Lips, Scalp, Hair, Nails, Underarm, Mouth, Intimate,
    }
);
mirror!(
    /// Type of product.
    ProductTypeName = formula::ProductType {
        ShowerGel, BarSoap, HandWash, FaceWash, Shampoo, HairConditioner, HairLeaveOn, HairSpray,
        HairDyeOxidative, HairDyeNonOxidative, HairWaving, BodyLotion, HandCream, FootCare,
        FaceCream, LipProduct, Deodorant, SunCare, SelfTan, Powder, FineFragrance, FragranceCream,
        FaceMakeUp, EyeMakeUp, MakeUpRemover, Eyelash, Shaving, Depilatory, CallusRemover,
        IntimateCare, Wipes, Toothpaste, Mouthwash, NailVarnish, NailHardener, ArtificialNails,
        NailCare, Unlisted,
    }
);

/// A formula as written in a file.
#[derive(Clone, PartialEq, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct FormulaEntry {
    pub(super) format: String,
    pub(super) version: u32,
    pub(super) name: String,
    #[serde(default)]
    pub(super) kept_as: Option<String>,
    #[serde(default)]
    pub(super) author: String,
    #[serde(default)]
    pub(super) notes: String,
    #[serde(default)]
    pub(super) active: Option<u64>,
    #[serde(default)]
    pub(super) next_id: Option<u64>,
    pub(super) variants: Vec<VariantEntry<PhaseEntry<LineEntry, StepEntry>>>,
    #[serde(default)]
    pub(super) sources: SourceTable,
    #[serde(default)]
    pub(super) materials: Vec<MaterialEntry>,
    #[serde(default)]
    pub(super) set_aside: Vec<SetAsideEntry>,
    #[serde(default)]
    pub(super) history: Vec<KeptEntry>,
}

/// A finding that was read and set aside.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct SetAsideEntry {
    pub(super) rule: String,
    pub(super) message: String,
}

/// One variant; `P` is a phase, written out or as a difference.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct VariantEntry<P> {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<u64>,
    pub(super) name: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) note: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) parent: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) created: Option<Date>,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) archived: bool,
    pub(super) product: ProductEntry,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) filler: Option<u64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) target_ph: Option<PhNumber>,
    #[serde(default = "usual_batch")]
    pub(super) batch_g: Within<0, 1_000_000_000>,
    #[serde(default, skip_serializing_if = "MeasuredEntry::is_empty")]
    pub(super) measured: MeasuredEntry,
    #[serde(default, skip_serializing_if = "LabelEntry::is_empty")]
    pub(super) label: LabelEntry,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) specification: Vec<CharacteristicEntry>,
    pub(super) phases: Vec<P>,
}

/// What a product must measure.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct CharacteristicEntry {
    pub(super) quality: QualityName,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) target: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) low: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) high: Option<Within<0, 1_000_000_000>>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) accept: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) method: String,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct ProductEntry {
    pub(super) kind: ProductKindName,
    /// Further kinds, of version 3.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(super) also_kinds: Vec<ProductKindName>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) product_type: Option<ProductTypeName>,
    #[serde(default)]
    pub(super) places: Vec<PlaceName>,
    #[serde(default)]
    pub(super) markets: Vec<MarketName>,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) under_three: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) spray: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) professional: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) wet_use: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) market_date: Option<Date>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) fragrance_category: Option<String>,
}

#[derive(Clone, PartialEq, Debug, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MeasuredEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) ph: Option<PhNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) density_kg_m3: Option<Within<10, 25000>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) water_activity: Option<Within<0, 1>>,
    /// The value and the words of its method.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) viscosity_mpa_s: Option<(Within<0, 1_000_000_000>, String)>,
}

impl MeasuredEntry {
    pub(super) fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A phase; `L` and `S` are its lines and steps, written out or as differences.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct PhaseEntry<L, S> {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<u64>,
    pub(super) letter: String,
    pub(super) kind: PhaseKindName,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) purpose: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) temperature_c: Option<Within<-80, 400>>,
    #[serde(default = "Vec::new")]
    pub(super) lines: Vec<L>,
    #[serde(default = "Vec::new", skip_serializing_if = "Vec::is_empty")]
    pub(super) steps: Vec<S>,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct LineEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<u64>,
    /// Id of the material, or its name.
    pub(super) material: String,
    pub(super) percent: PercentNumber,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) why: String,
    #[serde(default, skip_serializing_if = "is_false")]
    pub(super) held: bool,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) min: Option<PercentNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) max: Option<PercentNumber>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) purpose: Option<PurposeName>,
}

#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct StepEntry {
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<u64>,
    pub(super) text: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) temperature_c: Option<Within<-80, 400>>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(super) minutes: Option<u32>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) tool: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub(super) check: String,
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde calls it with a reference"
)]
pub(super) fn is_false(value: &bool) -> bool {
    !value
}

pub(super) fn usual_batch() -> Within<0, 1_000_000_000> {
    Within(1000.0)
}

/// An earlier state, told by what differs from the state of the same variant that
/// followed it.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(in crate::file) struct KeptEntry {
    pub(super) at: String,
    pub(super) what: String,
    pub(super) variant: VariantEntry<OrSame<PhaseEntry<OrSame<LineEntry>, OrSame<StepEntry>>>>,
}

/// A part of an earlier state.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
pub(super) enum OrSame<T> {
    /// As in the state that followed, by id.
    Same(u64),
    /// As written.
    Was(T),
}
