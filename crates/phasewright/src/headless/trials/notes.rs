//! Noting in the trials of a formula: begin, add, read, correct, set aside.

use std::collections::BTreeMap;
use std::io::Write;

use clap::Args;
use formulation::amount::{Measure, typed};
use formulation::mass::read_mass;
use formulation::trial::book::{Addition, TrialEvent, TrialOpening, value_words};
use formulation::trial::draft::{ReadingDraft, ReadingField};
use formulation::trial::known::{is_of, told};
use formulation::trial::reading::{MethodKind, Quantity, Reading, Sample};
use formulation::trial::settling::of_quantity;

use crate::headless::{Failure, Outcome, said};

use super::{date_or_today, note, with_book};

/// Arguments of `trials begin`.
#[derive(Debug, Args)]
pub struct BeginArgs {
    /// A formula file; `FILE#variant` picks a variant.
    pub file: String,
    /// What is to be learnt, in a sentence.
    #[arg(long)]
    pub purpose: String,
    /// Mass made, for example `250 g`.
    #[arg(long, allow_hyphen_values = true)]
    pub mass: String,
    /// Day it was made, as 2026-05-01; today if not stated.
    #[arg(long)]
    pub date: Option<String>,
    /// Temperature of the room, for example `21 °C`.
    #[arg(long, allow_hyphen_values = true)]
    pub room: Option<String>,
    /// Who made it.
    #[arg(long, default_value = "")]
    pub by: String,
}

/// Arguments of `trials add`.
#[derive(Debug, Args)]
pub struct AddArgs {
    /// The formula file.
    pub file: String,
    /// Number of the trial.
    #[arg(long)]
    pub trial: usize,
    /// Name of the material, of the formula or of the shelf.
    #[arg(long)]
    pub material: String,
    /// Mass added, for example `0.5 g`.
    #[arg(long, allow_hyphen_values = true)]
    pub mass: String,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

/// Arguments of `trials read`.
#[derive(Debug, Args)]
pub struct ReadArgs {
    /// The formula file.
    pub file: String,
    /// Number of the trial.
    #[arg(long)]
    pub trial: usize,
    /// Step; the newest if not stated, 0 is as weighed.
    #[arg(long)]
    pub step: Option<usize>,
    /// The reading.
    #[command(flatten)]
    pub value: ValueArgs,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

/// What was read and how.
#[derive(Debug, Args)]
pub struct ValueArgs {
    /// ph, viscosity, density, conductivity, water_activity, mass_loss, colour, foam_height,
    /// foam_drain, clarity, smell, feel, separation, panel_score, colony_count, log_reduction.
    #[arg(long)]
    pub quantity: String,
    /// Values in the unit of the quantity, or a word; repeat for repeated readings. `<10` is
    /// below a limit.
    #[arg(long, required = true, allow_hyphen_values = true)]
    pub value: Vec<String>,
    /// Instrument and its settings, where it shows the quantity itself.
    #[arg(long)]
    pub instrument: Option<String>,
    /// Temperature of the sample, for example `25 °C`.
    #[arg(long, allow_hyphen_values = true)]
    pub celsius: Option<String>,
    /// How long it stood since it was made or, on a step, since its addition: `24 h`, `15 min`.
    #[arg(long, allow_hyphen_values = true)]
    pub hours: Option<String>,
    /// Flow cup, for example `ISO 2431 6 mm`; the values are seconds.
    #[arg(long)]
    pub cup: Option<String>,
    /// Density of the liquid, for a flow cup or a falling ball.
    #[arg(long)]
    pub density: Option<String>,
    /// Spindle of a rotational viscometer; the values are units of its scale.
    #[arg(long)]
    pub spindle: Option<String>,
    /// Its turns a minute.
    #[arg(long)]
    pub rpm: Option<String>,
    /// mPa·s for one unit of its scale.
    #[arg(long)]
    pub factor: Option<String>,
    /// Shear rate of a rheometer, 1/s.
    #[arg(long)]
    pub shear_rate: Option<String>,
    /// Diameter of a falling ball; the values are seconds.
    #[arg(long)]
    pub ball: Option<String>,
    /// Inner diameter of its tube.
    #[arg(long)]
    pub tube: Option<String>,
    /// Density of the ball.
    #[arg(long)]
    pub ball_density: Option<String>,
    /// Distance of its fall.
    #[arg(long)]
    pub distance: Option<String>,
    /// A method of your own, in words; the values are what it reads.
    #[arg(long)]
    pub own_method: Option<String>,
    /// Its readings of known liquids: `8 = 110; 20 = glycerol 90 % at 20 °C; …`.
    #[arg(long)]
    pub calibration: Option<String>,
    /// Organism of a challenge test.
    #[arg(long)]
    pub organism: Option<String>,
    /// Days after its inoculation.
    #[arg(long)]
    pub day: Option<String>,
    /// Sample of a stability plan as PLAN,CONDITION,TIME counted from 1.
    #[arg(long)]
    pub sample: Option<String>,
    /// A remark.
    #[arg(long, default_value = "")]
    pub remark: String,
    /// Where a photo lies.
    #[arg(long)]
    pub photo: Option<String>,
}

/// Arguments of `trials correct`.
#[derive(Debug, Args)]
pub struct CorrectArgs {
    /// The formula file.
    pub file: String,
    /// Number of the reading.
    #[arg(long)]
    pub reading: usize,
    /// Why.
    #[arg(long)]
    pub why: String,
    /// What it should have been.
    #[command(flatten)]
    pub value: ValueArgs,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

/// Arguments of `trials set-aside`.
#[derive(Debug, Args)]
pub struct SetAsideArgs {
    /// The formula file.
    pub file: String,
    /// Number of the reading.
    #[arg(long)]
    pub reading: usize,
    /// Why.
    #[arg(long)]
    pub why: String,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

impl BeginArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (opened, _, path) = with_book(&self.file)?;
        if self.purpose.trim().is_empty() {
            return Err(Failure(
                "--purpose: say in a sentence what is to be learnt".to_owned(),
            ));
        }
        let mut formula = opened.formula.clone();
        formula.active = opened.variant.id;
        let mass = read_mass(&self.mass, None)?;
        let date = date_or_today(self.date.as_deref())?;
        let mut opening = TrialOpening::of(&formula, &self.purpose, date, mass);
        opening.room_celsius = match &self.room {
            None => None,
            Some(text) => Some(
                typed::value(text, &Measure::TEMPERATURE)
                    .map_err(|e| Failure(format!("--room: {e}")))?,
            ),
        };
        let book = note(&path, &self.by, TrialEvent::Begin(Box::new(opening)))?;
        writeln!(
            out,
            "Trial {} begun ({}).",
            book.trials.len(),
            path.display()
        )?;
        Ok(0)
    }
}

impl AddArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, book, path) = with_book(&self.file)?;
        let trial = book.trial(self.trial)?;
        let shelf = crate::headless::shelf()?;
        let material =
            crate::headless::names::known(&trial.opening.formula, &shelf, &self.material)?;
        let addition = Addition {
            id: material.id.clone(),
            material,
            mass: read_mass(&self.mass, None)?,
        };
        let book = note(
            &path,
            &self.by,
            TrialEvent::Add {
                trial: self.trial,
                addition,
            },
        )?;
        let trial = book.trial(self.trial)?;
        let step = trial.additions.len();
        writeln!(
            out,
            "Step {step} of trial {}: {}",
            self.trial,
            trial.step_words(step)
        )?;
        Ok(0)
    }
}

impl ValueArgs {
    fn reading(&self) -> Result<Reading, Failure> {
        let quantity = quantity_of(&self.quantity)?;
        let fields: BTreeMap<ReadingField, String> = [
            (ReadingField::Instrument, &self.instrument),
            (ReadingField::Spindle, &self.spindle),
            (ReadingField::Rpm, &self.rpm),
            (ReadingField::Factor, &self.factor),
            (ReadingField::ShearRate, &self.shear_rate),
            (ReadingField::Cup, &self.cup),
            (ReadingField::Density, &self.density),
            (ReadingField::Ball, &self.ball),
            (ReadingField::Tube, &self.tube),
            (ReadingField::BallDensity, &self.ball_density),
            (ReadingField::Distance, &self.distance),
            (ReadingField::OwnName, &self.own_method),
            (ReadingField::Calibration, &self.calibration),
            (ReadingField::Organism, &self.organism),
            (ReadingField::Day, &self.day),
            (ReadingField::Celsius, &self.celsius),
            (ReadingField::Hours, &self.hours),
            (ReadingField::Remark, &Some(self.remark.clone())),
            (ReadingField::Photo, &self.photo),
        ]
        .into_iter()
        .filter_map(|(field, text)| Some((field, text.clone()?)))
        .collect();
        // The method is the one that the given fields belong to most.
        let given = |kind: &MethodKind| {
            let own = kind.fields().iter();
            own.filter(|f| fields.contains_key(f)).count()
        };
        let plain = if quantity == Quantity::LogReduction {
            MethodKind::Challenge
        } else {
            MethodKind::Direct
        };
        let method = quantity
            .methods()
            .iter()
            .copied()
            .filter(|kind| given(kind) > 0)
            .rev()
            .max_by_key(given)
            .unwrap_or(plain);
        let sample = match &self.sample {
            None => None,
            Some(text) => {
                let wrong = || {
                    Failure(format!(
                        "--sample: “{text}” is not PLAN,CONDITION,TIME counted from 1"
                    ))
                };
                let parts: Vec<usize> = text
                    .split(',')
                    .map(|p| {
                        p.trim()
                            .parse::<usize>()
                            .ok()
                            .and_then(|n| n.checked_sub(1))
                    })
                    .collect::<Option<_>>()
                    .ok_or_else(wrong)?;
                match parts.as_slice() {
                    [plan, condition, time] => Some(Sample {
                        plan: *plan,
                        condition: *condition,
                        time: *time,
                    }),
                    _ => return Err(wrong()),
                }
            }
        };
        let draft = ReadingDraft {
            quantity,
            method,
            values: self.value.clone(),
            fields,
            sample,
        };
        draft.reading().map_err(|e| match e.field {
            Some(field) => Failure(format!("{}: {}", field.flag(), e.why)),
            None => Failure(e.why),
        })
    }
}

impl ReadArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, book, path) = with_book(&self.file)?;
        let newest = book.trial(self.trial)?.additions.len();
        let reading = self.value.reading()?;
        let words = value_words(&reading);
        let event = TrialEvent::Read {
            trial: self.trial,
            step: self.step.unwrap_or(newest),
            reading,
        };
        let book = note(&path, &self.by, event)?;
        writeln!(out, "Reading {}: {words}", book.readings.len())?;
        Ok(0)
    }
}

impl CorrectArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, _, path) = with_book(&self.file)?;
        let event = TrialEvent::Correct {
            reading: self.reading,
            to: self.value.reading()?,
            why: self.why.clone(),
        };
        note(&path, &self.by, event)?;
        writeln!(
            out,
            "Reading {} corrected; the old value is kept.",
            self.reading
        )?;
        Ok(0)
    }
}

/// Arguments of `trials tell`.
#[derive(Debug, Args)]
pub struct TellArgs {
    /// The formula file.
    pub file: String,
    /// Number of the reading; may be given several times.
    #[arg(long, required = true)]
    pub reading: Vec<usize>,
    /// It goes with the finished formula and the recipe no longer.
    #[arg(long)]
    pub no_longer: bool,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

impl TellArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (opened, book, path) = with_book(&self.file)?;
        let tell = !self.no_longer;
        let events: Vec<TrialEvent> = self
            .reading
            .iter()
            .map(|&reading| TrialEvent::Tell { reading, tell })
            .collect();
        for event in &events {
            book.check(event)?;
        }
        let mut book = book;
        for event in events {
            book = note(&path, &self.by, event)?;
        }
        let told = told(&book, &opened.variant);
        let count = match told.len() {
            0 => "no reading goes".to_owned(),
            1 => "1 reading goes".to_owned(),
            n => format!("{n} readings go"),
        };
        writeln!(
            out,
            "As the formula stands, {count} with its finished formula and its recipe."
        )?;
        for (what, value) in told {
            writeln!(out, "  {what}: {value}")?;
        }
        if tell {
            let others = book
                .readings
                .iter()
                .filter(|k| k.told && self.reading.contains(&k.number));
            for kept in others {
                if !is_of(&book, kept, &opened.variant) {
                    said::warn(format!(
                        "reading {} is of another composition than the formula has now; it goes with it only while the formula is as it was read",
                        kept.number
                    ));
                }
            }
        }
        Ok(0)
    }
}

impl SetAsideArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, _, path) = with_book(&self.file)?;
        let event = TrialEvent::SetAside {
            reading: self.reading,
            why: self.why.clone(),
        };
        note(&path, &self.by, event)?;
        writeln!(
            out,
            "Reading {} is left out of fits; it stays with the reason.",
            self.reading
        )?;
        Ok(0)
    }
}

/// Arguments of `trials settle`.
#[derive(Debug, Args)]
pub struct SettleArgs {
    /// The formula file.
    pub file: String,
    /// ph or viscosity.
    #[arg(long)]
    pub quantity: String,
    /// Time since making or the last addition, for example `15 min` or `24 h`.
    #[arg(long, allow_hyphen_values = true)]
    pub after: String,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

impl SettleArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, _, path) = with_book(&self.file)?;
        let quantity = quantity_of(&self.quantity)?;
        let hours = typed::value(&self.after, &Measure::HOURS)
            .map_err(|e| Failure(format!("--after: {e}")))?;
        let book = note(&path, &self.by, TrialEvent::Settle { quantity, hours })?;
        if let Some(settling) = of_quantity(&book, quantity) {
            writeln!(
                out,
                "A {} counts as settled after {}; what was read before stands apart.",
                quantity.label(),
                settling.words()
            )?;
        }
        Ok(0)
    }
}

fn quantity_of(name: &str) -> Result<Quantity, Failure> {
    Quantity::named(name).ok_or_else(|| {
        let names: Vec<&str> = Quantity::ALL.iter().map(|q| q.key()).collect();
        Failure(format!(
            "the quantity “{name}” is not known; use one of: {}",
            names.join(", ")
        ))
    })
}
