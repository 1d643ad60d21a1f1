//! The file of the trials of a formula, `NAME.trials.jsonl` beside `NAME.formula.ron`: one
//! line an entry, only ever added to.

use std::collections::HashMap;
use std::ops::RangeInclusive;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::formula_file;
use crate::formula::{Date, Formula, ItemId, Line};
use crate::ledger;
use crate::mass::ExactMass;
use crate::material::{Material, MaterialId};
use crate::notation::writer;
use crate::quantity::Percent;
use crate::trial::bench::colour::Lab;
use crate::trial::bench::falling_ball::FallingBall;
use crate::trial::book::{Addition, SetPlace, TrialEntry, TrialEvent, TrialOpening};
use crate::trial::fit::drift::TrendLimit;
use crate::trial::reading::{Method, Quantity, Reading, ReadingValue, Sample};
use crate::trial::stability::{Acceptance, StabilityPlan, Time};

/// The closing part of the name of a file of trials.
pub const ENDING: &str = ".trials.jsonl";

/// Where the trials of a formula file lie.
#[must_use]
pub fn path_of(formula: &Path) -> PathBuf {
    let name = formula
        .file_name()
        .map(|n| n.to_string_lossy().into_owned())
        .unwrap_or_default();
    let stem = name
        .strip_suffix(formula_file::ENDING)
        .or_else(|| name.rsplit_once('.').map(|(s, _)| s))
        .unwrap_or(&name);
    formula.with_file_name(format!("{stem}{ENDING}"))
}

/// Where the photo of a reading lies: as it stands, or beside the trials.
#[must_use]
pub fn photo_path(trials: &Path, photo: &str) -> PathBuf {
    trials.with_file_name(photo)
}

/// An entry as it is written. Fields are those of the model, which explains them.
#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
pub struct EntryText {
    at: String,
    by: String,
    event: EventText,
}

#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum EventText {
    Begin {
        purpose: String,
        date: String,
        /// Femtograms, as text: beyond what a JSON number carries.
        mass: String,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        room_celsius: Option<f64>,
        #[serde(default, skip_serializing_if = "Option::is_none")]
        batch: Option<String>,
        #[serde(default, skip_serializing_if = "Vec::is_empty")]
        lots: Vec<(String, String)>,
        /// Number of the planned set, place in its order, number of the mixture.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        set: Option<(usize, usize, usize)>,
        formula: String,
    },
    Add {
        trial: usize,
        mass: String,
        /// A formula file of one line that carries the material.
        material: String,
    },
    Read {
        trial: usize,
        step: usize,
        reading: ReadingText,
    },
    Correct {
        reading: usize,
        to: ReadingText,
        why: String,
    },
    SetAside {
        reading: usize,
        why: String,
    },
    Tell {
        reading: usize,
        tell: bool,
    },
    Settle {
        quantity: String,
        hours: f64,
    },
    Plan {
        number: usize,
        trial: usize,
        start: String,
        conditions: Vec<String>,
        times: Vec<(String, u32)>,
        limits: Vec<LimitText>,
        grace_days: u32,
    },
}

#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct LimitText {
    quantity: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    least: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    most: Option<f64>,
}

#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(deny_unknown_fields)]
struct ReadingText {
    quantity: String,
    value: ValueText,
    #[serde(default)]
    method: MethodText,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    celsius: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    hours: Option<f64>,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    sample: Option<(usize, usize, usize)>,
    #[serde(default, skip_serializing_if = "String::is_empty")]
    remark: String,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    photo: Option<String>,
}

#[derive(Clone, PartialEq, Serialize, Deserialize, Debug)]
#[serde(rename_all = "snake_case")]
enum ValueText {
    Numbers(Vec<f64>),
    Below(f64),
    Lab(f64, f64, f64),
    Word(String),
}

#[derive(Clone, PartialEq, Serialize, Deserialize, Default, Debug)]
#[serde(rename_all = "snake_case")]
enum MethodText {
    #[default]
    Unstated,
    Direct(String),
    Rotational {
        spindle: String,
        rpm: f64,
        factor: f64,
    },
    ShearRate(f64),
    FlowCup {
        cup: String,
        density: f64,
    },
    FallingBall {
        ball_mm: f64,
        tube_mm: f64,
        ball_density: f64,
        liquid_density: f64,
        distance_mm: f64,
    },
    Own {
        name: String,
        calibration: Vec<(f64, f64)>,
    },
    Challenge {
        organism: String,
        day: u32,
    },
}

fn text_of(reading: &Reading) -> ReadingText {
    let Reading {
        quantity,
        value,
        method,
        celsius,
        hours,
        sample,
        remark,
        photo,
    } = reading;
    ReadingText {
        quantity: quantity.key().to_owned(),
        value: match value {
            ReadingValue::Numbers(v) => ValueText::Numbers(v.clone()),
            ReadingValue::Below(v) => ValueText::Below(*v),
            ReadingValue::Colour(c) => ValueText::Lab(c.l, c.a, c.b),
            ReadingValue::Word(i) => {
                ValueText::Word(quantity.words().get(*i).copied().unwrap_or("").to_owned())
            }
        },
        method: match method {
            Method::Direct(words) if words.is_empty() => MethodText::Unstated,
            Method::Direct(words) => MethodText::Direct(words.clone()),
            Method::Rotational {
                spindle,
                rpm,
                factor,
            } => MethodText::Rotational {
                spindle: spindle.clone(),
                rpm: *rpm,
                factor: *factor,
            },
            Method::ShearRate(rate) => MethodText::ShearRate(*rate),
            Method::FlowCup { cup, density } => MethodText::FlowCup {
                cup: cup.clone(),
                density: *density,
            },
            Method::FallingBall(b) => MethodText::FallingBall {
                ball_mm: b.ball_mm,
                tube_mm: b.tube_mm,
                ball_density: b.ball_density,
                liquid_density: b.liquid_density,
                distance_mm: b.distance_mm,
            },
            Method::Own { name, calibration } => MethodText::Own {
                name: name.clone(),
                calibration: calibration.clone(),
            },
            Method::Challenge { organism, day } => MethodText::Challenge {
                organism: organism.clone(),
                day: *day,
            },
        },
        celsius: *celsius,
        hours: *hours,
        sample: sample.map(|s| (s.plan, s.condition, s.time)),
        remark: remark.clone(),
        photo: photo.clone(),
    }
}

fn reading_of(text: ReadingText) -> Result<Reading, String> {
    let quantity = Quantity::named(&text.quantity)
        .ok_or_else(|| format!("quantity: “{}” is not known", text.quantity))?;
    Ok(Reading {
        quantity,
        value: match text.value {
            ValueText::Numbers(v) => ReadingValue::Numbers(v),
            ValueText::Below(v) => ReadingValue::Below(v),
            ValueText::Lab(l, a, b) => ReadingValue::Colour(Lab { l, a, b }),
            ValueText::Word(word) => ReadingValue::Word(
                quantity
                    .words()
                    .iter()
                    .position(|w| *w == word)
                    .ok_or_else(|| format!("value: “{word}” is no word of {}", quantity.label()))?,
            ),
        },
        method: match text.method {
            MethodText::Unstated => Method::Direct(String::new()),
            MethodText::Direct(words) => Method::Direct(words),
            MethodText::Rotational {
                spindle,
                rpm,
                factor,
            } => Method::Rotational {
                spindle,
                rpm,
                factor,
            },
            MethodText::ShearRate(rate) => Method::ShearRate(rate),
            MethodText::FlowCup { cup, density } => Method::FlowCup { cup, density },
            MethodText::FallingBall {
                ball_mm,
                tube_mm,
                ball_density,
                liquid_density,
                distance_mm,
            } => Method::FallingBall(FallingBall {
                ball_mm,
                tube_mm,
                ball_density,
                liquid_density,
                distance_mm,
                seconds: 0.0,
            }),
            MethodText::Own { name, calibration } => Method::Own { name, calibration },
            MethodText::Challenge { organism, day } => Method::Challenge { organism, day },
        },
        celsius: text.celsius,
        hours: text.hours,
        sample: text.sample.map(|(plan, condition, time)| Sample {
            plan,
            condition,
            time,
        }),
        remark: text.remark,
        photo: text.photo,
    })
}

fn formula_text(formula: &Formula) -> Result<String, String> {
    formula_file::write(formula).map_err(|e| format!("the formula cannot be written: {e}"))
}

fn formula_of(text: &str) -> Result<Formula, String> {
    formula_file::read(text, "the formula in the trials").map_err(|e| e.to_string())
}

/// A formula of one line, to carry a material.
fn carrier(id: &MaterialId, material: &Arc<Material>) -> Formula {
    let mut formula = Formula::new("Addition");
    let line = ItemId(formula.next_id);
    formula.next_id += 1;
    let mut variant = (**formula.active()).clone();
    if let Some(first) = variant.phases.first_mut() {
        let mut phase = (**first).clone();
        phase.lines.push(Line {
            id: line,
            material: id.clone(),
            percent: Percent::HUNDRED,
            why: "".into(),
            held: false,
            min: None,
            max: None,
            purpose: None,
        });
        *first = Arc::new(phase);
    }
    formula.variants = vec![Arc::new(variant)];
    formula.materials.insert(id.clone(), material.clone());
    formula
}

fn mass_text(mass: ExactMass) -> String {
    mass.femtograms().to_string()
}

fn mass_of(text: &str) -> Result<ExactMass, String> {
    text.parse()
        .ok()
        .map(ExactMass::from_femtograms)
        .filter(|m| ExactMass::ZERO < *m && *m <= ExactMass::MOST)
        .ok_or_else(|| format!("mass: “{text}” is no mass in femtograms"))
}

fn date_of(text: &str) -> Result<Date, String> {
    text.parse()
        .map_err(|e| format!("“{text}” is no date ({e}); write it as 2026-05-01"))
}

/// The ledger of trials: its entries are held as text until a book is made of them, for
/// many trials carry the same formula, which is then read once.
#[derive(Clone, Copy, Debug)]
pub struct TrialLedger;

impl ledger::LedgerKind for TrialLedger {
    type Entry = EntryText;
    const NAME: &'static str = "trials";
    const VERSIONS: RangeInclusive<u32> = 1..=1;
    const HEAD_SINCE: u32 = 1;
    fn write(entry: &EntryText) -> Result<String, String> {
        writer::json_line(entry).map_err(|e| e.to_string())
    }
    fn read(text: &str, _version: u32) -> Result<EntryText, String> {
        serde_json::from_str(text).map_err(|e| e.to_string())
    }
}

/// Formulas of one file that were read already, by their text.
#[derive(Default)]
pub struct Frozen(HashMap<String, Arc<Formula>>);

impl Frozen {
    fn formula(&mut self, text: String) -> Result<Arc<Formula>, String> {
        if let Some(known) = self.0.get(&text) {
            return Ok(known.clone());
        }
        let formula = Arc::new(formula_of(&text)?);
        self.0.insert(text, formula.clone());
        Ok(formula)
    }
}

/// The entry as it is written.
pub fn to_text(entry: &TrialEntry) -> Result<EntryText, String> {
    let event = match &entry.event {
        TrialEvent::Begin(o) => EventText::Begin {
            purpose: o.purpose.clone(),
            date: o.date.to_string(),
            mass: mass_text(o.mass),
            room_celsius: o.room_celsius,
            batch: o.batch.clone(),
            lots: o
                .lots
                .iter()
                .map(|(id, lot)| (id.to_string(), lot.clone()))
                .collect(),
            set: o.set.map(|s| (s.set, s.run, s.mixture)),
            formula: formula_text(&o.formula)?,
        },
        TrialEvent::Add { trial, addition } => EventText::Add {
            trial: *trial,
            mass: mass_text(addition.mass),
            material: formula_text(&carrier(&addition.id, &addition.material))?,
        },
        TrialEvent::Read {
            trial,
            step,
            reading,
        } => EventText::Read {
            trial: *trial,
            step: *step,
            reading: text_of(reading),
        },
        TrialEvent::Correct { reading, to, why } => EventText::Correct {
            reading: *reading,
            to: text_of(to),
            why: why.clone(),
        },
        TrialEvent::SetAside { reading, why } => EventText::SetAside {
            reading: *reading,
            why: why.clone(),
        },
        TrialEvent::Tell { reading, tell } => EventText::Tell {
            reading: *reading,
            tell: *tell,
        },
        TrialEvent::Settle { quantity, hours } => EventText::Settle {
            quantity: quantity.key().to_owned(),
            hours: *hours,
        },
        TrialEvent::Plan { number, plan } => EventText::Plan {
            number: *number,
            trial: plan.trial,
            start: plan.start.to_string(),
            conditions: plan.conditions.clone(),
            times: plan
                .times
                .iter()
                .map(|t| (t.name.clone(), t.days))
                .collect(),
            limits: plan
                .limits
                .iter()
                .map(|l| {
                    let (least, most) = match l.limit {
                        TrendLimit::Lower(v) => (Some(v), None),
                        TrendLimit::Upper(v) => (None, Some(v)),
                        TrendLimit::Both(a, b) => (Some(a), Some(b)),
                    };
                    LimitText {
                        quantity: l.quantity.key().to_owned(),
                        least,
                        most,
                    }
                })
                .collect(),
            grace_days: plan.grace_days,
        },
    };
    Ok(EntryText {
        at: entry.at.clone(),
        by: entry.by.clone(),
        event,
    })
}

/// The entry of a text.
pub fn from_text(text: EntryText, frozen: &mut Frozen) -> Result<TrialEntry, String> {
    let EntryText { at, by, event } = text;
    let event = match event {
        EventText::Begin {
            purpose,
            date,
            mass,
            room_celsius,
            batch,
            lots,
            set,
            formula,
        } => TrialEvent::Begin(Box::new(TrialOpening {
            purpose,
            date: date_of(&date)?,
            mass: mass_of(&mass)?,
            room_celsius,
            batch,
            lots: lots
                .into_iter()
                .map(|(id, lot)| (MaterialId::from_name(&id), lot))
                .collect(),
            set: set.map(|(set, run, mixture)| SetPlace { set, run, mixture }),
            formula: frozen.formula(formula)?,
        })),
        EventText::Add {
            trial,
            mass,
            material,
        } => {
            let carried = formula_of(&material)?;
            let (id, material) = carried
                .materials
                .iter()
                .next()
                .ok_or("the material of the addition is missing")?;
            TrialEvent::Add {
                trial,
                addition: Addition {
                    id: id.clone(),
                    material: material.clone(),
                    mass: mass_of(&mass)?,
                },
            }
        }
        EventText::Read {
            trial,
            step,
            reading,
        } => TrialEvent::Read {
            trial,
            step,
            reading: reading_of(reading)?,
        },
        EventText::Correct { reading, to, why } => TrialEvent::Correct {
            reading,
            to: reading_of(to)?,
            why,
        },
        EventText::SetAside { reading, why } => TrialEvent::SetAside { reading, why },
        EventText::Tell { reading, tell } => TrialEvent::Tell { reading, tell },
        EventText::Settle { quantity, hours } => TrialEvent::Settle {
            quantity: Quantity::named(&quantity)
                .ok_or_else(|| format!("settle: “{quantity}” is not known"))?,
            hours,
        },
        EventText::Plan {
            number,
            trial,
            start,
            conditions,
            times,
            limits,
            grace_days,
        } => TrialEvent::Plan {
            number,
            plan: StabilityPlan {
                trial,
                start: date_of(&start)?,
                conditions,
                times: times
                    .into_iter()
                    .map(|(name, days)| Time { name, days })
                    .collect(),
                limits: limits
                    .into_iter()
                    .map(|l| {
                        let quantity = Quantity::named(&l.quantity)
                            .ok_or_else(|| format!("limit: “{}” is not known", l.quantity))?;
                        let limit = match (l.least, l.most) {
                            (Some(a), Some(b)) => TrendLimit::Both(a, b),
                            (Some(a), None) => TrendLimit::Lower(a),
                            (None, Some(b)) => TrendLimit::Upper(b),
                            (None, None) => {
                                return Err(format!("limit of {}: none given", l.quantity));
                            }
                        };
                        Ok(Acceptance { quantity, limit })
                    })
                    .collect::<Result<_, String>>()?,
                grace_days,
            },
        },
    };
    Ok(TrialEntry { at, by, event })
}
