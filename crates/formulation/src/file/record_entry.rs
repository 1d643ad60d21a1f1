//! The entries of a batch record as they are written in its file.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::formula_file::{self, QualityName};
use super::number::{self, celsius_decimal};
use super::quantity_text::{BatchText, DayText, LotText, MassText, PercentText};
use super::source_table::SourceEntry;
use crate::batch::record::{Change, Decision, Entry, Event, Identity, Opening, ToWeigh};
use crate::batch::scale::{Filling, Vessel};
use crate::batch::weighing_scale::WeighingScale;
use crate::formula::ItemId;
use crate::mass::MassUnit;
use crate::material::Sourced;
use crate::quantity::{
    celsius, grams, in_grams, in_kg_per_m3, in_millilitres, kg_per_m3, millilitres,
};

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

/// What was recorded.
#[derive(Clone, PartialEq, Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
#[expect(
    missing_docs,
    reason = "the fields are those of the model, which explains them"
)]
pub enum EventEntry {
    Opened(Box<OpeningEntry>),
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
        #[serde(default, skip_serializing_if = "Option::is_none")]
        celsius: Option<f64>,
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

impl OpeningEntry {
    fn from_model(opening: &Opening) -> Result<Self, String> {
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
            rules: opening.rules,
        })
    }

    fn into_model(self) -> Result<Opening, String> {
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
            rules: self.rules,
        })
    }
}

impl ChangeEntry {
    fn from_model(change: &Change) -> Result<Self, String> {
        Ok(match change {
            Change::Mass(mass) => Self::Mass(MassText(*mass)),
            Change::Lot(lot) => Self::Lot(lot.clone().map(LotText)),
            Change::Value(value) => Self::Value(value.to_string()),
            Change::Instead(event) => Self::Instead(Box::new(EventEntry::from_model(event)?)),
            Change::Struck => Self::Struck,
        })
    }
    fn into_model(self) -> Result<Change, String> {
        Ok(match self {
            Self::Mass(mass) => Change::Mass(mass.0),
            Self::Lot(lot) => Change::Lot(lot.map(|l| l.0)),
            Self::Value(value) => Change::Value(value.into()),
            Self::Instead(event) => Change::Instead(Box::new(event.into_model()?)),
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
            event: EventEntry::from_model(&entry.event)?,
        })
    }

    /// The entry it stands for, or what is wrong with it.
    pub fn into_model(self) -> Result<Entry, String> {
        Ok(Entry {
            number: self.n,
            at: self.at.into(),
            by: self.by.into(),
            event: self.event.into_model()?,
        })
    }
}

impl EventEntry {
    /// The event as written.
    fn from_model(event: &Event) -> Result<Self, String> {
        Ok(match event {
            Event::Opened(opening) => Self::Opened(Box::new(OpeningEntry::from_model(opening)?)),
            Event::Weighed {
                line,
                mass,
                lot,
                remark,
            } => Self::Weighed {
                line: line.0,
                mass: MassText(*mass),
                lot: lot.clone().map(LotText),
                remark: remark.to_string(),
            },
            Event::Worked {
                step,
                temperature,
                remark,
            } => Self::Worked {
                step: step.0,
                celsius: temperature.map(celsius_decimal),
                remark: remark.to_string(),
            },
            Event::Rescaled { masses, reason } => Self::Rescaled {
                masses: masses.iter().map(|(l, m)| (l.0, MassText(*m))).collect(),
                reason: reason.to_string(),
            },
            Event::MadeUp { mass, lot } => Self::MadeUp {
                mass: MassText(*mass),
                lot: lot.clone().map(LotText),
            },
            Event::Measured {
                what,
                name,
                value,
                remark,
            } => Self::Measured {
                what: (*what).into(),
                name: name.to_string(),
                value: value.to_string(),
                remark: remark.to_string(),
            },
            Event::Packed {
                what,
                lot,
                used,
                spoilt,
            } => Self::Packed {
                what: what.to_string(),
                lot: lot.to_string(),
                used: *used,
                spoilt: *spoilt,
            },
            Event::Filled {
                containers,
                mass,
                samples,
                waste,
            } => Self::Filled {
                containers: *containers,
                mass: MassText(*mass),
                samples: MassText(*samples),
                waste: MassText(*waste),
            },
            Event::Labelled {
                what,
                lot,
                code,
                date,
                printed,
                applied,
                spoilt,
            } => Self::Labelled {
                what: what.to_string(),
                lot: lot.to_string(),
                code: code.to_string(),
                date: date.to_string(),
                printed: *printed,
                applied: *applied,
                spoilt: *spoilt,
            },
            Event::Remarked { text, open } => Self::Remarked {
                text: text.to_string(),
                open: *open,
            },
            Event::Deviated { lot, what, reason } => Self::Deviated {
                lot: lot.clone().map(LotText),
                what: what.to_string(),
                reason: reason.to_string(),
            },
            Event::Accepted {
                point,
                about,
                reason,
            } => Self::Accepted {
                point: point.to_string(),
                about: about.as_ref().map(|a| a.as_str().to_owned()),
                reason: reason.to_string(),
            },
            Event::Checked { line } => Self::Checked {
                line: line.map(|l| l.0),
            },
            Event::Decided { decision, reason } => Self::Decided {
                decision: (*decision).into(),
                reason: reason.to_string(),
            },
            Event::Closed => Self::Closed,
            Event::Amended {
                entry,
                change,
                old,
                reason,
            } => Self::Amended {
                entry: *entry,
                change: ChangeEntry::from_model(change)?,
                old: old.to_string(),
                reason: reason.to_string(),
            },
            Event::Dispatched {
                to,
                containers,
                day,
            } => Self::Dispatched {
                to: to.to_string(),
                containers: *containers,
                day: DayText(*day),
            },
        })
    }

    /// The event it stands for, or what is wrong with it.
    fn into_model(self) -> Result<Event, String> {
        Ok(match self {
            Self::Opened(opening) => Event::Opened(Box::new(opening.into_model()?)),
            Self::Weighed {
                line,
                mass,
                lot,
                remark,
            } => Event::Weighed {
                line: ItemId(line),
                mass: mass.0,
                lot: lot.map(|l| l.0),
                remark: remark.into(),
            },
            Self::Worked {
                step,
                celsius: degrees,
                remark,
            } => Event::Worked {
                step: ItemId(step),
                temperature: degrees.map(celsius),
                remark: remark.into(),
            },
            Self::Rescaled { masses, reason } => Event::Rescaled {
                masses: masses.into_iter().map(|(l, m)| (ItemId(l), m.0)).collect(),
                reason: reason.into(),
            },
            Self::MadeUp { mass, lot } => Event::MadeUp {
                mass: mass.0,
                lot: lot.map(|l| l.0),
            },
            Self::Measured {
                what,
                name,
                value,
                remark,
            } => Event::Measured {
                what: what.into(),
                name: name.into(),
                value: value.into(),
                remark: remark.into(),
            },
            Self::Packed {
                what,
                lot,
                used,
                spoilt,
            } => Event::Packed {
                what: what.into(),
                lot: lot.into(),
                used,
                spoilt,
            },
            Self::Filled {
                containers,
                mass,
                samples,
                waste,
            } => Event::Filled {
                containers,
                mass: mass.0,
                samples: samples.0,
                waste: waste.0,
            },
            Self::Labelled {
                what,
                lot,
                code,
                date,
                printed,
                applied,
                spoilt,
            } => Event::Labelled {
                what: what.into(),
                lot: lot.into(),
                code: code.into(),
                date: date.into(),
                printed,
                applied,
                spoilt,
            },
            Self::Remarked { text, open } => Event::Remarked {
                text: text.into(),
                open,
            },
            Self::Deviated { lot, what, reason } => Event::Deviated {
                lot: lot.map(|l| l.0),
                what: what.into(),
                reason: reason.into(),
            },
            Self::Accepted {
                point,
                about,
                reason,
            } => Event::Accepted {
                point: point.into(),
                about: about.map(Identity::from),
                reason: reason.into(),
            },
            Self::Checked { line } => Event::Checked {
                line: line.map(ItemId),
            },
            Self::Decided { decision, reason } => Event::Decided {
                decision: Decision::from(decision),
                reason: reason.into(),
            },
            Self::Closed => Event::Closed,
            Self::Amended {
                entry,
                change,
                old,
                reason,
            } => Event::Amended {
                entry,
                change: change.into_model()?,
                old: old.into(),
                reason: reason.into(),
            },
            Self::Dispatched {
                to,
                containers,
                day,
            } => Event::Dispatched {
                to: to.into(),
                containers,
                day: day.0,
            },
        })
    }
}
