//! The trials of a formula: a list of entries that only grows, and what follows from it.
//!
//! Nothing is taken back: a correction keeps the old value, a reading that is set aside
//! stays with the reason.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::reading::{Quantity, Reading, ReadingError, ReadingValue, Sample};
use super::stability_plan::StabilityPlan;
use super::standing;
use crate::batch::record::Record;
use crate::batch::rounding::largest_remainder;
use crate::formula::{Date, Formula, ItemId, Line, Phase, Variant};
use crate::mass::ExactMass;
use crate::material::{Material, MaterialId};
use crate::quantity::Percent;

/// A place in a planned set.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct SetPlace {
    /// Number of the set, from 1.
    pub set: usize,
    /// Place in the random order, from 1.
    pub run: usize,
    /// Number of the mixture, from 1; the same for replicates.
    pub mixture: usize,
}

/// Why a batch record cannot begin a trial.
#[derive(Clone, PartialEq, Eq, Debug, thiserror::Error)]
pub enum OfBatchError {
    /// Lines without a weighing.
    #[error(
        "not all lines of the batch {0} were weighed yet; weigh them, or begin the trial from the formula"
    )]
    Unweighed(String),
    /// Nothing weighed.
    #[error("nothing was weighed for the batch {0}")]
    Nothing(String),
}

/// What a trial begins with.
#[derive(Clone, PartialEq, Debug)]
pub struct TrialOpening {
    /// What is to be learnt, in a sentence.
    pub purpose: String,
    /// The day it was made.
    pub date: Date,
    /// Mass made.
    pub mass: ExactMass,
    /// Temperature of the room, °C.
    pub room_celsius: Option<f64>,
    /// Code of the batch it was taken from, if any.
    pub batch: Option<String>,
    /// Lots that went in, by material, as far as a batch record names them.
    pub lots: Vec<(MaterialId, String)>,
    /// Its place in a planned set, if it is part of one.
    pub set: Option<SetPlace>,
    /// The formula as weighed: the one variant and its materials.
    pub formula: Arc<Formula>,
}

impl TrialOpening {
    /// A trial of the variant that a formula works on; other variants, unused materials and
    /// earlier states are left out.
    #[must_use]
    pub fn of(formula: &Formula, purpose: &str, date: Date, mass: ExactMass) -> Self {
        let variant = formula.active().clone();
        let used: Vec<MaterialId> = variant.lines().map(|(_, l)| l.material.clone()).collect();
        Self {
            purpose: purpose.to_owned(),
            date,
            mass,
            room_celsius: None,
            batch: None,
            lots: Vec::new(),
            set: None,
            formula: Arc::new(Formula {
                active: variant.id,
                materials: formula
                    .materials
                    .iter()
                    .filter(|(id, _)| used.contains(id))
                    .map(|(id, m)| (id.clone(), m.clone()))
                    .collect(),
                variants: vec![variant],
                history: Vec::new(),
                ..formula.clone()
            }),
        }
    }
}

impl TrialOpening {
    /// A trial of a sample of a batch: percentages are what was weighed, with the lots.
    pub fn of_batch(
        record: &Record,
        purpose: &str,
        date: Date,
        mass: ExactMass,
    ) -> Result<Self, OfBatchError> {
        let code = record.code().to_string();
        let weighed: Vec<(ItemId, ExactMass)> =
            record.lines().map(|l| (l.line, l.actual)).collect();
        if weighed.iter().any(|(_, m)| m.is_zero()) {
            return Err(OfBatchError::Unweighed(code));
        }
        let formula = &record.opening().formula;
        let mut opening = Self::of(formula, purpose, date, mass);
        let variant = with_masses(formula.active(), &weighed)
            .ok_or_else(|| OfBatchError::Nothing(code.clone()))?;
        opening.formula = Arc::new(Formula {
            variants: vec![Arc::new(variant)],
            ..(*opening.formula).clone()
        });
        for portion in record.portions().iter().filter(|p| !p.struck) {
            let line = portion.line.and_then(|l| formula.active().line(l));
            if let (Some(line), Some(lot)) = (line, &portion.lot) {
                let lot = (line.material.clone(), lot.to_string());
                if !opening.lots.contains(&lot) {
                    opening.lots.push(lot);
                }
            }
        }
        opening.batch = Some(code);
        Ok(opening)
    }
}

/// A variant whose percentages share 100 in proportion to masses, by largest remainders.
fn with_masses(variant: &Variant, masses: &[(ItemId, ExactMass)]) -> Option<Variant> {
    // Nanograms are far below a millionth of a percent of anything that can be weighed.
    let weights: Vec<u128> = masses
        .iter()
        .map(|(_, m)| u128::try_from(m.femtograms() / 1_000_000).unwrap_or(0))
        .collect();
    let parts = largest_remainder(&weights, Percent::HUNDRED.units().unsigned_abs().into())?;
    let percents: BTreeMap<ItemId, Percent> = masses
        .iter()
        .zip(parts)
        .map(|((id, _), units)| (*id, Percent::from_units(i64::try_from(units).unwrap_or(0))))
        .collect();
    let mut variant = variant.clone();
    for phase in &mut variant.phases {
        let mut changed: Phase = (**phase).clone();
        for line in &mut changed.lines {
            if let Some(percent) = percents.get(&line.id) {
                line.percent = *percent;
            }
        }
        *phase = Arc::new(changed);
    }
    Some(variant)
}

/// Something added on the bench.
#[derive(Clone, PartialEq, Debug)]
pub struct Addition {
    /// What.
    pub material: Arc<Material>,
    /// Its identity.
    pub id: MaterialId,
    /// How much.
    pub mass: ExactMass,
}

/// Something that is noted.
#[derive(Clone, PartialEq, Debug)]
pub enum TrialEvent {
    /// A trial begins; it gets the next number from 1.
    Begin(Box<TrialOpening>),
    /// Something is added to a trial: a new step.
    Add {
        /// Number of the trial.
        trial: usize,
        /// What is added.
        addition: Addition,
    },
    /// Something is read on the newest or an earlier step (0 is as weighed).
    Read {
        /// Number of the trial.
        trial: usize,
        /// Step.
        step: usize,
        /// The reading.
        reading: Reading,
    },
    /// A reading was wrong; the old one is kept.
    Correct {
        /// Number of the reading over all trials, from 1.
        reading: usize,
        /// What it should have been.
        to: Reading,
        /// Why.
        why: String,
    },
    /// A reading is left out of fits, with the reason.
    SetAside {
        /// Number of the reading.
        reading: usize,
        /// Why.
        why: String,
    },
    /// A reading is to go with the finished formula and the recipe, or no longer.
    Tell {
        /// Number of the reading.
        reading: usize,
        /// Whether it goes.
        tell: bool,
    },
    /// How long a state is left before a quantity of it is what it stays at.
    Settle {
        /// Which.
        quantity: Quantity,
        /// Hours since making or the last addition.
        hours: f64,
    },
    /// A stability plan, new or in place of an earlier one of the same number.
    Plan {
        /// Its number from 0.
        number: usize,
        /// The plan.
        plan: StabilityPlan,
    },
}

/// An entry.
#[derive(Clone, PartialEq, Debug)]
pub struct TrialEntry {
    /// When, by the clock, as written (RFC 3339).
    pub at: String,
    /// Who.
    pub by: String,
    /// What.
    pub event: TrialEvent,
}

/// Why an entry does not follow from those before it.
#[derive(Clone, PartialEq, Debug, thiserror::Error)]
pub enum BookError {
    /// No such trial.
    #[error("there is no trial {0}")]
    Trial(usize),
    /// No such step.
    #[error("trial {trial} has no step {step}")]
    Step {
        /// Trial.
        trial: usize,
        /// Step.
        step: usize,
    },
    /// No such reading.
    #[error("there is no reading {0}")]
    Reading(usize),
    /// A correction of another quantity.
    #[error("reading {0} is of another quantity; set it aside and read anew")]
    Other(usize),
    /// No reason.
    #[error("say why")]
    Why,
    /// Nothing weighed.
    #[error("the mass must be above zero")]
    Mass,
    /// A reading that cannot be.
    #[error(transparent)]
    Value(#[from] ReadingError),
    /// A quantity that the sample of a plan does not have.
    #[error("the sample is of trial {0}, and so must its reading be")]
    Sample(usize),
    /// No such plan.
    #[error("plan {0} does not follow the plans there are")]
    Plan(usize),
    /// A quantity that does not change while a state settles.
    #[error("{0} is read the same soon after an addition and later; state it for pH or viscosity")]
    Settles(&'static str),
    /// No time.
    #[error("the time until it has settled must be between 0 and 10,000 h")]
    Hours,
    /// No temperature of a room.
    #[error("the temperature of the room must be between −40 and 60 °C")]
    Room,
}

/// A reading as it is recorded and stands after corrections.
#[derive(Clone, PartialEq, Debug)]
pub struct RecordedReading {
    /// Its number over all trials, from 1.
    pub number: usize,
    /// The number of its trial, from 1.
    pub trial: usize,
    /// Its step.
    pub step: usize,
    /// When it was noted and by whom.
    pub noted: (String, String),
    /// As it stands.
    pub reading: Reading,
    /// Earlier values with the reason of the correction.
    pub before: Vec<(Reading, String)>,
    /// Why it is left out of fits.
    pub set_aside: Option<String>,
    /// Whether the maker lets it go with the finished formula and the recipe.
    pub told: bool,
}

impl RecordedReading {
    /// On which day it was noted, and by whom.
    #[must_use]
    pub fn noted_words(&self) -> String {
        match self.noted.1.trim() {
            "" => format!("noted {}", self.day()),
            by => format!("noted {} by {by}", self.day()),
        }
    }

    /// The day on which it was noted.
    #[must_use]
    pub fn day(&self) -> &str {
        let at = &self.noted.0;
        at.split_once('T').map_or(at, |(day, _)| day)
    }

    /// Where the figure is from: “reading 3 of trial 1, spindle LV3, 12 rpm, 20 °C”.
    #[must_use]
    pub fn source(&self) -> String {
        let how = self.reading.how();
        let sep = if how.is_empty() { "" } else { ", " };
        format!("reading {} of trial {}{sep}{how}", self.number, self.trial)
    }
}

/// A trial as it stands.
#[derive(Clone, PartialEq, Debug)]
pub struct Trial {
    /// Its number, from 1.
    pub number: usize,
    /// Who began it.
    pub by: String,
    /// What it began with.
    pub opening: Box<TrialOpening>,
    /// Additions in order; step n is after the n-th.
    pub additions: Vec<Addition>,
}

/// All trials of a formula.
#[derive(Clone, PartialEq, Debug, Default)]
pub struct Book {
    /// Trials by number − 1.
    pub trials: Vec<Trial>,
    /// Readings by number − 1.
    pub readings: Vec<RecordedReading>,
    /// Stability plans.
    pub plans: Vec<StabilityPlan>,
    /// Hours until a quantity has settled, as the maker stated them.
    pub settling: BTreeMap<Quantity, f64>,
}

impl Book {
    /// The book of some entries; the first that does not follow is named with its place.
    pub fn of(entries: &[TrialEntry]) -> Result<Self, (usize, BookError)> {
        let mut book = Self::default();
        for (i, entry) in entries.iter().enumerate() {
            book.add(entry).map_err(|e| (i + 1, e))?;
        }
        Ok(book)
    }

    /// Whether an entry follows.
    pub fn check(&self, event: &TrialEvent) -> Result<(), BookError> {
        let reading = |n: usize| {
            n.checked_sub(1)
                .and_then(|i| self.readings.get(i))
                .ok_or(BookError::Reading(n))
        };
        match event {
            TrialEvent::Begin(opening) => {
                if opening.mass <= ExactMass::ZERO {
                    return Err(BookError::Mass);
                }
                if opening
                    .room_celsius
                    .is_some_and(|t| !(-40.0..=60.0).contains(&t))
                {
                    return Err(BookError::Room);
                }
                Ok(())
            }
            TrialEvent::Add { trial, addition } => {
                self.trial(*trial)?;
                if addition.mass <= ExactMass::ZERO {
                    return Err(BookError::Mass);
                }
                Ok(())
            }
            TrialEvent::Read {
                trial,
                step,
                reading,
            } => {
                if *step > self.trial(*trial)?.additions.len() {
                    return Err(BookError::Step {
                        trial: *trial,
                        step: *step,
                    });
                }
                if let Some(sample) = reading.sample {
                    let plan = self
                        .plans
                        .get(sample.plan)
                        .filter(|p| {
                            sample.condition < p.conditions.len() && sample.time < p.times.len()
                        })
                        .ok_or(BookError::Plan(sample.plan + 1))?;
                    if plan.trial != *trial {
                        return Err(BookError::Sample(plan.trial));
                    }
                }
                Ok(reading.check()?)
            }
            TrialEvent::Correct {
                reading: number,
                to,
                why,
            } => {
                if reading(*number)?.reading.quantity != to.quantity {
                    return Err(BookError::Other(*number));
                }
                if why.trim().is_empty() {
                    return Err(BookError::Why);
                }
                Ok(to.check()?)
            }
            TrialEvent::SetAside {
                reading: number,
                why,
            } => {
                reading(*number)?;
                if why.trim().is_empty() {
                    return Err(BookError::Why);
                }
                Ok(())
            }
            TrialEvent::Tell {
                reading: number, ..
            } => reading(*number).map(|_| ()),
            TrialEvent::Settle { quantity, hours } => {
                if !standing::minds(*quantity) {
                    return Err(BookError::Settles(quantity.label()));
                }
                if !(0.0..=10_000.0).contains(hours) {
                    return Err(BookError::Hours);
                }
                Ok(())
            }
            TrialEvent::Plan { number, plan } => {
                self.trial(plan.trial)?;
                if *number > self.plans.len() || plan.conditions.is_empty() || plan.times.is_empty()
                {
                    return Err(BookError::Plan(*number + 1));
                }
                Ok(())
            }
        }
    }

    /// Checks an entry against what stands and folds it in; if it is refused, nothing changes.
    pub fn add(&mut self, entry: &TrialEntry) -> Result<(), BookError> {
        self.check(&entry.event)?;
        match &entry.event {
            TrialEvent::Begin(opening) => self.trials.push(Trial {
                number: self.trials.len() + 1,
                by: entry.by.clone(),
                opening: opening.clone(),
                additions: Vec::new(),
            }),
            TrialEvent::Add { trial, addition } => {
                if let Some(t) = trial.checked_sub(1).and_then(|i| self.trials.get_mut(i)) {
                    t.additions.push(addition.clone());
                }
            }
            TrialEvent::Read {
                trial,
                step,
                reading,
            } => self.readings.push(RecordedReading {
                number: self.readings.len() + 1,
                trial: *trial,
                step: *step,
                noted: (entry.at.clone(), entry.by.clone()),
                reading: reading.clone(),
                before: Vec::new(),
                set_aside: None,
                told: false,
            }),
            TrialEvent::Correct { reading, to, why } => {
                if let Some(kept) = reading
                    .checked_sub(1)
                    .and_then(|i| self.readings.get_mut(i))
                {
                    let old = std::mem::replace(&mut kept.reading, to.clone());
                    kept.before.push((old, why.clone()));
                }
            }
            TrialEvent::SetAside { reading, why } => {
                if let Some(kept) = reading
                    .checked_sub(1)
                    .and_then(|i| self.readings.get_mut(i))
                {
                    kept.set_aside = Some(why.clone());
                }
            }
            TrialEvent::Tell { reading, tell } => {
                if let Some(kept) = reading
                    .checked_sub(1)
                    .and_then(|i| self.readings.get_mut(i))
                {
                    kept.told = *tell;
                }
            }
            TrialEvent::Settle { quantity, hours } => {
                self.settling.insert(*quantity, *hours);
            }
            TrialEvent::Plan { number, plan } => match self.plans.get_mut(*number) {
                Some(old) => *old = plan.clone(),
                None => self.plans.push(plan.clone()),
            },
        }
        Ok(())
    }

    /// A trial by its number.
    pub fn trial(&self, number: usize) -> Result<&Trial, BookError> {
        number
            .checked_sub(1)
            .and_then(|i| self.trials.get(i))
            .ok_or(BookError::Trial(number))
    }

    /// A sample of a stability plan in words: “plan 1: 40 °C, 4 weeks”; none if there is no such.
    #[must_use]
    pub fn sample_words(&self, sample: Sample) -> Option<String> {
        let plan = self.plans.get(sample.plan)?;
        let condition = plan.conditions.get(sample.condition)?;
        let time = plan.times.get(sample.time)?;
        Some(format!(
            "plan {}: {condition}, {}",
            sample.plan + 1,
            time.name
        ))
    }

    /// Readings of a quantity that count, with the state they were made on; samples of
    /// stability plans are apart.
    pub fn readings_of(
        &self,
        quantity: Quantity,
    ) -> impl Iterator<Item = (&Trial, &RecordedReading)> {
        self.readings
            .iter()
            .filter(move |k| {
                k.reading.quantity == quantity
                    && k.set_aside.is_none()
                    && k.reading.sample.is_none()
            })
            .filter_map(|k| Some((self.trial(k.trial).ok()?, k)))
    }

    /// The number that a new planned set gets.
    #[must_use]
    pub fn next_set(&self) -> usize {
        let sets = self.trials.iter().filter_map(|t| t.opening.set);
        sets.map(|s| s.set).max().unwrap_or(0) + 1
    }

    /// The quantities of which something was read, in their order.
    #[must_use]
    pub fn quantities(&self) -> Vec<Quantity> {
        let read = |q: &Quantity| self.readings_of(*q).next().is_some();
        Quantity::ALL.into_iter().filter(read).collect()
    }

    /// How far the colour of a reading is from the start, by CIEDE2000, and the number of the
    /// reading at the start: of a sample, the earliest of its plan, of its own condition if
    /// one was read; else the first of its trial. None for the start itself.
    #[must_use]
    pub fn colour_change(&self, kept: &RecordedReading) -> Option<(f64, usize)> {
        let colour = |k: &RecordedReading| match k.reading.value {
            ReadingValue::Colour(lab) if k.set_aside.is_none() => Some(lab),
            _ => None,
        };
        let ReadingValue::Colour(here) = kept.reading.value else {
            return None;
        };
        let others = self.readings.iter().filter(|k| k.trial == kept.trial);
        let start = match kept.reading.sample {
            None => {
                let bench = others.filter(|k| k.reading.sample.is_none());
                bench
                    .filter(|k| colour(k).is_some())
                    .min_by_key(|k| (k.step, k.number))?
            }
            Some(sample) => others
                .filter(|k| colour(k).is_some())
                .filter_map(|k| Some((k.reading.sample?, k)))
                .filter(|(s, _)| s.plan == sample.plan)
                .min_by_key(|(s, k)| (s.time, s.condition != sample.condition, k.number))
                .map(|(_, k)| k)?,
        };
        if start.number == kept.number {
            return None;
        }
        Some((here.delta_2000(colour(start)?), start.number))
    }
}

/// Millionths of a percent of each material of a variant.
#[must_use]
pub fn shares(variant: &Variant) -> BTreeMap<MaterialId, i64> {
    let mut out: BTreeMap<MaterialId, i64> = BTreeMap::new();
    for (_, line) in variant.lines() {
        *out.entry(line.material.clone()).or_default() += line.percent.units();
    }
    out.retain(|_, v| *v != 0);
    out
}

/// Compositions that differ by no more than the last digit carried are the same.
#[must_use]
pub fn same_composition(a: &BTreeMap<MaterialId, i64>, b: &BTreeMap<MaterialId, i64>) -> bool {
    a.len() == b.len()
        && a.iter()
            .all(|(id, v)| b.get(id).is_some_and(|w| (v - w).abs() <= 2))
}

impl Trial {
    /// Mass of every line as weighed, exactly in proportion to the percentages.
    #[must_use]
    pub fn weighed(&self) -> Vec<(ItemId, MaterialId, ExactMass)> {
        self.opening
            .formula
            .active()
            .lines()
            .map(|(_, l)| {
                let mass = self.opening.mass.ratio(
                    i128::from(l.percent.units()),
                    i128::from(Percent::HUNDRED.units()),
                );
                (l.id, l.material.clone(), mass)
            })
            .collect()
    }

    /// Mass of every material after a step (0 is as weighed).
    #[must_use]
    pub fn masses(&self, step: usize) -> BTreeMap<MaterialId, ExactMass> {
        let mut out: BTreeMap<MaterialId, ExactMass> = BTreeMap::new();
        for (_, id, mass) in self.weighed() {
            *out.entry(id).or_default() += mass;
        }
        for addition in self.additions.iter().take(step) {
            *out.entry(addition.id.clone()).or_default() += addition.mass;
        }
        out
    }

    /// The formula after a step: additions go to the line of their material, or to a line of
    /// their own in the last phase; percentages share 100 by largest remainders.
    #[must_use]
    pub fn formula_at(&self, step: usize) -> Option<Formula> {
        let mut formula = (*self.opening.formula).clone();
        if step == 0 {
            return Some(formula);
        }
        let mut masses: Vec<(ItemId, ExactMass)> = self
            .weighed()
            .into_iter()
            .map(|(line, _, mass)| (line, mass))
            .collect();
        let mut variant = (**formula.active()).clone();
        for addition in self.additions.iter().take(step) {
            let there = variant
                .lines()
                .filter(|(_, l)| l.material == addition.id)
                .map(|(_, l)| l.id)
                .last();
            let line = there.unwrap_or_else(|| {
                let id = ItemId(formula.next_id);
                formula.next_id += 1;
                if let Some(last) = variant.phases.last_mut() {
                    let mut phase: Phase = (**last).clone();
                    phase.lines.push(Line {
                        id,
                        material: addition.id.clone(),
                        percent: Percent::ZERO,
                        why: "added on the bench".into(),
                        held: false,
                        min: None,
                        max: None,
                        purpose: None,
                    });
                    *last = Arc::new(phase);
                }
                formula
                    .materials
                    .entry(addition.id.clone())
                    .or_insert_with(|| addition.material.clone());
                id
            });
            match masses.iter_mut().find(|(id, _)| *id == line) {
                Some((_, mass)) => *mass += addition.mass,
                None => masses.push((line, addition.mass)),
            }
        }
        let variant = with_masses(&variant, &masses)?;
        formula.variants = vec![Arc::new(variant)];
        Some(formula)
    }

    /// How much of what was added at a step is in the beaker after it, in percent.
    #[must_use]
    pub fn share_of_addition(&self, step: usize) -> Option<f64> {
        let addition = self.additions.get(step.checked_sub(1)?)?;
        let masses = self.masses(step);
        let whole: f64 = masses.values().map(|m| m.as_grams()).sum();
        Some(masses.get(&addition.id)?.as_grams() / whole * 100.0)
    }

    /// A step in words: what was added.
    #[must_use]
    pub fn step_words(&self, step: usize) -> String {
        let Some(addition) = step.checked_sub(1).and_then(|i| self.additions.get(i)) else {
            return "as weighed".to_owned();
        };
        format!(
            "+{:.2} g {}",
            addition.mass.as_grams(),
            addition.material.name
        )
    }
}

/// A value in words.
#[must_use]
pub fn value_words(reading: &Reading) -> String {
    match &reading.value {
        ReadingValue::Numbers(_) => match reading.mean() {
            Some(mean) => reading.quantity.shown(mean),
            None => "no value".to_owned(),
        },
        ReadingValue::Below(v) => format!("below {}", reading.quantity.shown(*v)),
        ReadingValue::Colour(c) => format!("L* {:.1}, a* {:.1}, b* {:.1}", c.l, c.a, c.b),
        ReadingValue::Word(i) => reading
            .quantity
            .words()
            .get(*i)
            .map_or_else(String::new, |w| (*w).to_owned()),
    }
}
