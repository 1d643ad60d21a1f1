//! The entries of a batch record as they are written in its file.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::formula_file::{self, QualityName};
use super::number::{self, celsius_decimal};
use super::quantity_text::{BatchText, DayText, LotText, MassText, PercentText};
use super::source_table::SourceEntry;
use crate::batch::record::{Change, Decision, Entry, Event, Identity, Opening, Quality, ToWeigh};
use crate::batch::scale::{Filling, Vessel};
use crate::batch::weighing_scale::WeighingScale;
use crate::formula::{Date, ItemId};
use crate::mass::{ExactMass, MassUnit};
use crate::material::Sourced;
use crate::quantity::{
    Temperature, celsius, grams, in_grams, in_kg_per_m3, in_millilitres, kg_per_m3, millilitres,
};
use crate::stock::LotId;

mirror!(
    /// Unit of mass.
    UnitName = MassUnit { Gram, Kilogram, Ounce, Pound }
);
mirror!(
    /// What becomes of a batch.
    DecisionName = Decision { Release, Hold, Reject }
);

/// One entry.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RecordEntry {
    /// Number, from 1.
    pub n: u64,
    /// When, RFC 3339.
    pub at: String,
    /// Who.
    pub by: String,
    /// What.
    pub event: EventEntry,
}

/// Declares the events as they are written, with the conversions both ways: each part goes by
/// its [`Twin`], so that an event is told once, and one that is missing does not compile.
macro_rules! twin {
    (
        $(#[$about:meta])*
        pub enum $twin:ident = $model:ident {
            $($name:ident
                $(($whole:ident: $inner:ty))?
                $({ $($(#[$of_part:meta])* $part:ident: $as:ty,)+ })?
            ,)+
        }
    ) => {
        $(#[$about])*
        pub enum $twin {
            $($name $(($inner))? $({ $($(#[$of_part])* $part: $as,)+ })?,)+
        }

        impl Twin<$model> for $twin {
            fn of(event: &$model) -> Result<Self, String> {
                Ok(match event {
                    $($model::$name $(($whole))? $({ $($part,)+ })? => {
                        Self::$name $((Twin::of($whole)?))? $({ $($part: Twin::of($part)?,)+ })?
                    })+
                })
            }
            fn back(self) -> Result<$model, String> {
                Ok(match self {
                    $(Self::$name $(($whole))? $({ $($part,)+ })? => {
                        $model::$name $(($whole.back()?))? $({ $($part: $part.back()?,)+ })?
                    })+
                })
            }
        }
    };
}

twin! {
    /// What was recorded.
    #[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
    #[serde(deny_unknown_fields, rename_all = "snake_case")]
    #[expect(
        missing_docs,
        reason = "the fields are those of the model, which explains them"
    )]
    pub enum EventEntry = Event {
        Opened(opening: Box<OpeningEntry>),
        Weighed {
            line: u64,
            mass: MassText,
            #[serde(default, skip_serializing_if = "Option::is_none")]
            lot: Option<LotText>,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            remark: String,
        },
        Worked {
            step: u64,
            #[serde(rename = "celsius", default, skip_serializing_if = "Option::is_none")]
            temperature: Option<f64>,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            remark: String,
        },
        Rescaled {
            masses: Vec<(u64, MassText)>,
            reason: String,
        },
        MadeUp {
            mass: MassText,
            #[serde(default, skip_serializing_if = "Option::is_none")]
            lot: Option<LotText>,
        },
        Measured {
            what: QualityName,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            name: String,
            value: String,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            remark: String,
        },
        Packed {
            what: String,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            lot: String,
            used: u32,
            spoilt: u32,
        },
        Filled {
            containers: u32,
            mass: MassText,
            samples: MassText,
            waste: MassText,
        },
        Labelled {
            what: String,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            lot: String,
            code: String,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            date: String,
            printed: u32,
            applied: u32,
            spoilt: u32,
        },
        Remarked {
            text: String,
            #[serde(default, skip_serializing_if = "is_false")]
            open: bool,
        },
        Deviated {
            #[serde(default, skip_serializing_if = "Option::is_none")]
            lot: Option<LotText>,
            what: String,
            reason: String,
        },
        Accepted {
            point: String,
            #[serde(default, skip_serializing_if = "Option::is_none")]
            about: Option<String>,
            reason: String,
        },
        Checked {
            #[serde(default, skip_serializing_if = "Option::is_none")]
            line: Option<u64>,
        },
        Decided {
            decision: DecisionName,
            #[serde(default, skip_serializing_if = "String::is_empty")]
            reason: String,
        },
        Closed,
        Amended {
            entry: u64,
            change: ChangeEntry,
            old: String,
            reason: String,
        },
        Dispatched {
            to: String,
            containers: u32,
            day: DayText,
        },
    }
}

/// A corrected value.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[expect(
    missing_docs,
    reason = "the names are those of the model, which explains them"
)]
pub enum ChangeEntry {
    Mass(MassText),
    Lot(Option<LotText>),
    Value(String),
    Instead(Box<EventEntry>),
    Struck,
}

/// The opening of a batch. The formula is carried whole, as the text of a formula file.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct OpeningEntry {
    pub code: BatchText,
    pub batch: MassText,
    pub evaporation: MassText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filling: Option<FillingEntry>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub density: Option<DensityEntry>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub vessel: Option<VesselEntry>,
    pub scales: Vec<ScaleEntry>,
    pub lines: Vec<ToWeighEntry>,
    pub unit: UnitName,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    pub formula: String,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub trial: String,
    #[serde(default, skip_serializing_if = "is_false")]
    pub second_check: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    pub packaging_in_stock: bool,
    #[serde(default, skip_serializing_if = "is_false")]
    pub labels_in_stock: bool,
    #[serde(default = "first_rules", skip_serializing_if = "is_first_rules")]
    pub rules: u32,
}

const fn first_rules() -> u32 {
    Opening::FIRST_RULES
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands out a reference"
)]
const fn is_first_rules(rules: &u32) -> bool {
    *rules == Opening::FIRST_RULES
}

#[expect(
    clippy::trivially_copy_pass_by_ref,
    reason = "serde hands out a reference"
)]
const fn is_false(value: &bool) -> bool {
    !*value
}

/// How containers are filled.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct FillingEntry {
    pub count: u32,
    pub contents_ml: f64,
    pub mass_each_g: f64,
}

/// A density with its source.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct DensityEntry {
    pub kg_per_m3: f64,
    pub source: SourceEntry,
}

/// A vessel.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct VesselEntry {
    pub name: String,
    pub capacity_ml: f64,
    pub fill_percent: PercentText,
}

/// A scale.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct ScaleEntry {
    pub name: String,
    pub resolution: MassText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capacity: Option<MassText>,
}

/// What is to be weighed of a line.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub struct ToWeighEntry {
    pub line: u64,
    pub mass: MassText,
    pub tolerance: MassText,
    pub scale: usize,
}

/// A volume in millilitres as the shortest decimal that reads back the same.
pub(super) fn millilitre_decimal(volume: crate::quantity::Volume) -> f64 {
    let guess = in_millilitres(volume);
    number::shortest(volume.value, guess, |ml| millilitres(ml).value).unwrap_or(guess)
}

impl From<&Vessel> for VesselEntry {
    fn from(vessel: &Vessel) -> Self {
        Self {
            name: vessel.name().to_string(),
            capacity_ml: millilitre_decimal(vessel.capacity()),
            fill_percent: PercentText(vessel.fill()),
        }
    }
}

impl VesselEntry {
    /// The vessel, or what is wrong with it.
    pub(super) fn into_model(self) -> Result<Vessel, String> {
        Vessel::new(
            self.name,
            millilitres(self.capacity_ml),
            self.fill_percent.0,
        )
        .map_err(|e| e.to_string())
    }
}

impl From<&WeighingScale> for ScaleEntry {
    fn from(scale: &WeighingScale) -> Self {
        Self {
            name: scale.name().to_string(),
            resolution: MassText(scale.resolution()),
            capacity: scale.capacity().map(MassText),
        }
    }
}

impl ScaleEntry {
    /// The scale, or what is wrong with it.
    pub(super) fn into_model(self) -> Result<WeighingScale, String> {
        WeighingScale::new(self.name, self.resolution.0, self.capacity.map(|c| c.0))
            .map_err(|e| e.to_string())
    }
}

impl Twin<Opening> for OpeningEntry {
    fn of(opening: &Opening) -> Result<Self, String> {
        let formula = formula_file::write(&opening.formula)
            .map_err(|e| format!("the formula cannot be written: {e}"))?;
        Ok(Self {
            code: BatchText(opening.code.clone()),
            batch: MassText(opening.batch),
            evaporation: MassText(opening.evaporation),
            filling: opening.filling.map(|f| FillingEntry {
                count: f.count,
                contents_ml: millilitre_decimal(f.contents),
                mass_each_g: number::shortest(f.mass_each.value, in_grams(f.mass_each), |g| {
                    grams(g).value
                })
                .unwrap_or_else(|| in_grams(f.mass_each)),
            }),
            density: opening.density.as_ref().map(|d| DensityEntry {
                kg_per_m3: in_kg_per_m3(d.value),
                source: SourceEntry {
                    basis: d.source.basis.into(),
                    text: d.source.text.to_string(),
                },
            }),
            vessel: opening.vessel.as_ref().map(Into::into),
            scales: opening.scales.iter().map(Into::into).collect(),
            lines: opening
                .lines
                .iter()
                .map(|l| ToWeighEntry {
                    line: l.line.0,
                    mass: MassText(l.mass),
                    tolerance: MassText(l.tolerance),
                    scale: l.scale,
                })
                .collect(),
            unit: opening.unit.into(),
            note: opening.note.to_string(),
            formula,
            trial: opening.trial.to_string(),
            second_check: opening.second_check,
            packaging_in_stock: opening.packaging_in_stock,
            labels_in_stock: opening.labels_in_stock,
            rules: opening.rules,
        })
    }

    fn back(self) -> Result<Opening, String> {
        let formula = formula_file::read(&self.formula, "the formula in the record")
            .map_err(|e| e.to_string())?;
        Ok(Opening {
            code: self.code.0,
            formula: Arc::new(formula),
            batch: self.batch.0,
            evaporation: self.evaporation.0,
            filling: self.filling.map(|f| {
                let mass_each = grams(f.mass_each_g);
                Filling {
                    count: f.count,
                    contents: millilitres(f.contents_ml),
                    mass_each,
                    mass: mass_each * f64::from(f.count),
                }
            }),
            density: self
                .density
                .map(|d| Sourced::new(kg_per_m3(d.kg_per_m3), (&d.source).into())),
            vessel: self.vessel.map(VesselEntry::into_model).transpose()?,
            scales: self
                .scales
                .into_iter()
                .map(ScaleEntry::into_model)
                .collect::<Result<_, _>>()?,
            lines: self
                .lines
                .into_iter()
                .map(|l| ToWeigh {
                    line: ItemId(l.line),
                    mass: l.mass.0,
                    tolerance: l.tolerance.0,
                    scale: l.scale,
                })
                .collect(),
            unit: MassUnit::from(self.unit),
            note: self.note.into(),
            trial: self.trial.into(),
            second_check: self.second_check,
            packaging_in_stock: self.packaging_in_stock,
            labels_in_stock: self.labels_in_stock,
            rules: self.rules,
        })
    }
}

impl Twin<Change> for ChangeEntry {
    fn of(change: &Change) -> Result<Self, String> {
        Ok(match change {
            Change::Mass(mass) => Self::Mass(MassText(*mass)),
            Change::Lot(lot) => Self::Lot(lot.clone().map(LotText)),
            Change::Value(value) => Self::Value(value.to_string()),
            Change::Instead(event) => Self::Instead(Twin::of(event)?),
            Change::Struck => Self::Struck,
        })
    }
    fn back(self) -> Result<Change, String> {
        Ok(match self {
            Self::Mass(mass) => Change::Mass(mass.0),
            Self::Lot(lot) => Change::Lot(lot.map(|l| l.0)),
            Self::Value(value) => Change::Value(value.into()),
            Self::Instead(event) => Change::Instead(event.back()?),
            Self::Struck => Change::Struck,
        })
    }
}

impl RecordEntry {
    /// The entry as written.
    pub fn from_model(entry: &Entry) -> Result<Self, String> {
        Ok(Self {
            n: entry.number,
            at: entry.at.to_string(),
            by: entry.by.to_string(),
            event: Twin::of(&entry.event)?,
        })
    }

    /// The entry it stands for, or what is wrong with it.
    pub fn into_model(self) -> Result<Entry, String> {
        Ok(Entry {
            number: self.n,
            at: self.at.into(),
            by: self.by.into(),
            event: self.event.back()?,
        })
    }
}

/// A part of an event as it is written in the file.
trait Twin<M>: Sized {
    /// The part as written.
    fn of(model: &M) -> Result<Self, String>;
    /// What is written, as the model has it, or what is wrong with it.
    fn back(self) -> Result<M, String>;
}

impl<M, T: Twin<M>> Twin<Box<M>> for Box<T> {
    fn of(model: &Box<M>) -> Result<Self, String> {
        Ok(Self::new(T::of(model)?))
    }
    fn back(self) -> Result<Box<M>, String> {
        Ok(Box::new((*self).back()?))
    }
}

impl<M, T: Twin<M>> Twin<Option<M>> for Option<T> {
    fn of(model: &Option<M>) -> Result<Self, String> {
        model.as_ref().map(T::of).transpose()
    }
    fn back(self) -> Result<Option<M>, String> {
        self.map(T::back).transpose()
    }
}

impl Twin<Vec<(ItemId, ExactMass)>> for Vec<(u64, MassText)> {
    fn of(masses: &Vec<(ItemId, ExactMass)>) -> Result<Self, String> {
        Ok(masses.iter().map(|(l, m)| (l.0, MassText(*m))).collect())
    }
    fn back(self) -> Result<Vec<(ItemId, ExactMass)>, String> {
        Ok(self.into_iter().map(|(l, m)| (ItemId(l), m.0)).collect())
    }
}

/// Parts that always have their twin.
macro_rules! parts {
    ($($twin:ty = $model:ty: |$of:pat_param| $written:expr, |$read:pat_param| $back:expr;)+) => {$(
        impl Twin<$model> for $twin {
            fn of($of: &$model) -> Result<Self, String> {
                Ok($written)
            }
            fn back(self) -> Result<$model, String> {
                let $read = self;
                Ok($back)
            }
        }
    )+};
}
parts! {
    String = Arc<str>: |text| text.to_string(), |text| text.into();
    String = Identity: |about| about.as_str().to_owned(), |about| Identity::from(about);
    bool = bool: |yes| *yes, |yes| yes;
    u32 = u32: |count| *count, |count| count;
    u64 = u64: |number| *number, |number| number;
    u64 = ItemId: |item| item.0, |item| ItemId(item);
    f64 = Temperature: |read| celsius_decimal(*read), |degrees| celsius(degrees);
    MassText = ExactMass: |mass| Self(*mass), |Self(mass)| mass;
    LotText = LotId: |lot| Self(lot.clone()), |Self(lot)| lot;
    DayText = Date: |day| Self(*day), |Self(day)| day;
    QualityName = Quality: |what| (*what).into(), |what| what.into();
    DecisionName = Decision: |what| (*what).into(), |what| what.into();
}
