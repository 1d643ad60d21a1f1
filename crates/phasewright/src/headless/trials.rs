//! `phasewright trials FILE`, `trials plan`, `trials calendar`, `trials fit`

use std::fmt::Write as _;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use formulation::amount::typed::percent;
use formulation::amount::{Measure, typed};
use formulation::batch::mass::{MassUnit, read_mass};
use formulation::file::calendar::icalendar;
use formulation::file::fit_table::{self, Model};
use formulation::file::store::{self, Expect};
use formulation::file::{trial_file, trial_store};
use formulation::finding::Level;
use formulation::formula::Date;
use formulation::trial::bench::colour::Lab;
use formulation::trial::book::{Addition, Book, Entry, Event, Opening, value_words};
use formulation::trial::fit::drift::Limit;
use formulation::trial::fit::salt::SaltCurve;
use formulation::trial::fit::scheffe::Order;
use formulation::trial::learn::{Experience, Learnt};
use formulation::trial::plan::{Design, Factor, formula_of, plan};
use formulation::trial::reading::{Method, Quantity, Reading, Sample, Value as ReadValue};
use formulation::trial::stability::{
    Acceptance, Plan as StabilityPlan, State, Time, samples, trends,
};
use serde_json::{Value, json};

use super::{FOUND, Failure, Opened, Outcome, context, open, said, split_variant, today};

/// Arguments of the command.
#[derive(Debug, Args)]
#[command(args_conflicts_with_subcommands = true, arg_required_else_help = true)]
pub struct Trials {
    /// What to do besides showing.
    #[command(subcommand)]
    pub action: Option<Action>,
    /// A formula file; its trials lie beside it.
    pub file: Option<String>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// What to do with trials.
#[derive(Debug, Subcommand)]
pub enum Action {
    /// Plan a set of trials: which percentages to weigh.
    Plan(PlanArgs),
    /// Write the days of a stability plan as iCalendar.
    Calendar(CalendarArgs),
    /// Fit a curve to the columns of any table.
    Fit(FitArgs),
    /// Begin a trial of a formula as it stands.
    Begin(BeginArgs),
    /// Note something added on the bench: a new step of a trial.
    Add(AddArgs),
    /// Note a reading.
    Read(ReadArgs),
    /// Correct a reading; the old value is kept.
    Correct(CorrectArgs),
    /// Leave a reading out of fits; it stays with the reason.
    SetAside(SetAsideArgs),
    /// Lay out a stability plan of a trial, to be read on its days.
    Stability(StabilityArgs),
}

/// Arguments of `trials begin`.
#[derive(Debug, Args)]
pub struct BeginArgs {
    /// A formula file; `FILE#variant` picks a variant.
    pub file: String,
    /// What is to be learnt, in a sentence.
    #[arg(long)]
    pub purpose: String,
    /// Mass made, for example `250 g`.
    #[arg(long)]
    pub mass: String,
    /// Day it was made, as 2026-05-01; today if not stated.
    #[arg(long)]
    pub date: Option<String>,
    /// Temperature of the room in °C.
    #[arg(long)]
    pub room: Option<f64>,
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
    #[arg(long)]
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
    /// Temperature of the sample in °C.
    #[arg(long, allow_hyphen_values = true)]
    pub celsius: Option<f64>,
    /// Hours since making.
    #[arg(long, allow_hyphen_values = true)]
    pub hours: Option<f64>,
    /// Flow cup, for example `ISO 2431 6 mm`; the values are seconds.
    #[arg(long)]
    pub cup: Option<String>,
    /// Density of the liquid in g/ml, for a flow cup.
    #[arg(long)]
    pub density: Option<f64>,
    /// Spindle of a rotational viscometer.
    #[arg(long)]
    pub spindle: Option<String>,
    /// Its turns a minute.
    #[arg(long)]
    pub rpm: Option<f64>,
    /// mPa·s for one unit of its scale.
    #[arg(long)]
    pub factor: Option<f64>,
    /// Shear rate of a rheometer, 1/s.
    #[arg(long)]
    pub shear_rate: Option<f64>,
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

/// Arguments of `trials stability`.
#[derive(Debug, Args)]
pub struct StabilityArgs {
    /// The formula file.
    pub file: String,
    /// Number of the trial.
    #[arg(long)]
    pub trial: usize,
    /// Day of the start, as 2026-05-01; today if not stated.
    #[arg(long)]
    pub start: Option<String>,
    /// Conditions in words; a proposal if not stated.
    #[arg(long)]
    pub condition: Vec<String>,
    /// Weeks at which samples are read; a proposal if not stated.
    #[arg(long)]
    pub week: Vec<u32>,
    /// Your limits: `viscosity=4000..7000`, `ph=4.6..5.2`, `mass_loss=..2`.
    #[arg(long)]
    pub limit: Vec<String>,
    /// Who.
    #[arg(long, default_value = "")]
    pub by: String,
}

/// Arguments of `trials plan`.
#[derive(Debug, Args)]
pub struct PlanArgs {
    /// A formula; `FILE#variant` picks a variant. Its filler takes the rest.
    pub file: String,
    /// Lines and their ranges: `Sodium chloride=0.5..3`; repeat or separate by semicolons.
    #[arg(long, required = true)]
    pub lines: Vec<String>,
    /// lattice, centroid, extreme-vertices, d-optimal or star.
    #[arg(long, default_value = "extreme-vertices")]
    pub design: String,
    /// Number of trials of a D-optimal design.
    #[arg(long)]
    pub trials: Option<usize>,
    /// Model of a D-optimal design: linear, quadratic or special-cubic.
    #[arg(long, default_value = "quadratic")]
    pub model: String,
    /// Degree of a lattice.
    #[arg(long, default_value_t = 2)]
    pub degree: usize,
    /// How many mixtures are made twice, to see the scatter.
    #[arg(long, default_value_t = 2)]
    pub replicates: usize,
    /// Mass of a beaker in grams, for the weigh sheet.
    #[arg(long, default_value_t = 100.0)]
    pub grams: f64,
    /// Number that the random order is drawn from.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Where to write the table (CSV).
    #[arg(short, long)]
    pub output: Option<PathBuf>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

/// Arguments of `trials calendar`.
#[derive(Debug, Args)]
pub struct CalendarArgs {
    /// A formula file; its trials lie beside it.
    pub file: String,
    /// Where to write the calendar.
    #[arg(long)]
    pub ics: PathBuf,
}

/// Arguments of `trials fit`.
#[derive(Debug, Args)]
pub struct FitArgs {
    /// A table (CSV, TSV, XLSX …) with headings.
    pub table: PathBuf,
    /// salt, power-law, herschel-bulkley, cross, carreau, arrhenius, vft, drift, scheffe, gp.
    #[arg(long)]
    pub model: String,
    /// Input columns by heading; those before the value if not named.
    #[arg(long)]
    pub x: Vec<String>,
    /// The value's column; the last one if not named.
    #[arg(long)]
    pub y: Option<String>,
    /// Print JSON.
    #[arg(long)]
    pub json: bool,
}

impl Trials {
    /// Does what is asked.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        match (&self.action, &self.file) {
            (Some(Action::Plan(plan)), _) => plan.run(out),
            (Some(Action::Calendar(calendar)), _) => calendar.run(out),
            (Some(Action::Fit(fit)), _) => fit.run(out),
            (Some(Action::Begin(begin)), _) => begin.run(out),
            (Some(Action::Add(add)), _) => add.run(out),
            (Some(Action::Read(read)), _) => read.run(out),
            (Some(Action::Correct(correct)), _) => correct.run(out),
            (Some(Action::SetAside(aside)), _) => aside.run(out),
            (Some(Action::Stability(plan)), _) => plan.run(out),
            (None, Some(file)) => show(file, self.json, out),
            (None, None) => Err(Failure("name a formula file".to_owned())),
        }
    }
}

/// The formula and its trials; an empty book where nothing was noted yet.
fn with_book(file: &str) -> Result<(Opened, Book, PathBuf), Failure> {
    let opened = open(file)?;
    let (path, _) = split_variant(file);
    match trial_file::find(&path, &opened.formula.name) {
        Some(found) => {
            let loaded = trial_store::read(&found)?;
            Ok((opened, loaded.book, found))
        }
        None => Ok((opened, Book::default(), trial_file::path_of(&path))),
    }
}

fn show(file: &str, as_json: bool, out: &mut dyn Write) -> Outcome {
    let (opened, book, path) = with_book(file)?;
    let due: Vec<_> = samples(&book, today())
        .into_iter()
        .filter(|d| matches!(d.state, State::Due | State::Overdue))
        .collect();
    let learnt: Vec<(Learnt, String, formulation::trial::learn::Expected)> = Quantity::ALL
        .into_iter()
        .filter_map(|q| Learnt::from(Experience::of(&book, q)).ok())
        .map(|l| {
            let e = l.at(&l.from.place(&opened.formula));
            let words = l.words(&e);
            (l, words, e)
        })
        .collect();
    let curves = salt_curves(&book);
    if as_json {
        let value = json!({
            "formula": opened.formula.name.as_ref(),
            "file": path.display().to_string(),
            "trials": book.trials.iter().map(|t| json!({
                "number": t.number, "date": t.opening.date.to_string(),
                "purpose": t.opening.purpose, "grams": t.opening.mass.as_grams(), "by": t.by,
                "steps": (0..=t.additions.len()).map(|s| json!({
                    "step": s, "added": t.step_words(s),
                    "readings": book.readings.iter()
                        .filter(|k| k.trial == t.number && k.step == s)
                        .map(|k| json!({
                            "number": k.number, "quantity": k.reading.quantity.key(),
                            "value": k.reading.mean(), "words": value_words(&k.reading),
                            "celsius": k.reading.celsius, "hours": k.reading.hours,
                            "corrected": k.before.len(), "set_aside": k.set_aside,
                        })).collect::<Vec<_>>(),
                })).collect::<Vec<_>>(),
            })).collect::<Vec<_>>(),
            "fits": curves.iter().map(|(t, m, c)| json!({
                "trial": t, "material": m, "model": "salt",
                "optimum": if c.is_determined() { json!(c.optimum) } else { json!("not determined") },
                "delta95": c.delta_interval(), "s": c.fit.s(), "dof": c.fit.dof,
            })).collect::<Vec<_>>(),
            "learnt": learnt.iter().map(|(l, words, e)| json!({
                "quantity": l.from.quantity.key(), "readings": l.from.y.len(),
                "model": l.chosen, "errors": l.errors.iter().copied().collect::<std::collections::BTreeMap<_, _>>(),
                "value": e.value, "range": e.range, "inside": e.inside, "words": words,
            })).collect::<Vec<_>>(),
            "due": due.iter().map(|d| json!({
                "condition": d.condition, "time": d.time, "day": d.day.to_string(),
                "state": d.state.label(),
            })).collect::<Vec<_>>(),
            "stability": (0..book.plans.len()).flat_map(|p| trends(&book, p)).map(|t| json!({
                "condition": t.condition, "quantity": t.quantity.key(),
                "points": t.points, "words": t.words(),
            })).collect::<Vec<_>>(),
        });
        said::print_json(out, serde_json::to_string_pretty(&value)?)?;
        return Ok(0);
    }
    if book.trials.is_empty() {
        writeln!(
            out,
            "No trials of {} yet ({}).",
            opened.formula.name,
            path.display()
        )?;
        return Ok(0);
    }
    for t in &book.trials {
        writeln!(
            out,
            "Trial {} of {}: {} ({:.1} g, {})",
            t.number,
            t.opening.date,
            t.opening.purpose,
            t.opening.mass.as_grams(),
            t.by
        )?;
        for s in 0..=t.additions.len() {
            let readings: Vec<String> = book
                .readings
                .iter()
                .filter(|k| k.trial == t.number && k.step == s && k.reading.sample.is_none())
                .map(|k| {
                    let mut words =
                        format!("{} {}", k.reading.quantity.label(), value_words(&k.reading));
                    if k.set_aside.is_some() {
                        words.push_str(" (set aside)");
                    }
                    words
                })
                .collect();
            writeln!(out, "  {}: {}", t.step_words(s), readings.join("; "))?;
        }
    }
    for (trial, material, c) in &curves {
        if c.is_determined() {
            let [low, high] = c.delta_interval();
            writeln!(
                out,
                "Salt curve of trial {trial} ({material}): top at {:.2} % ({low:.2} to {high:.2}); beyond it more thins.",
                c.optimum
            )?;
        } else {
            writeln!(
                out,
                "Salt curve of trial {trial} ({material}): the top is not determined."
            )?;
        }
    }
    for (l, words, _) in &learnt {
        writeln!(out, "{}: {words}", l.from.quantity.label())?;
    }
    for p in 0..book.plans.len() {
        for t in trends(&book, p) {
            writeln!(
                out,
                "{} at {}: {}",
                t.quantity.label(),
                t.condition,
                t.words()
            )?;
        }
    }
    for d in &due {
        writeln!(
            out,
            "{}: sample {}, {} ({})",
            d.state.label(),
            d.condition,
            d.time,
            d.day
        )?;
    }
    Ok(0)
}

/// Salt curves of trials in which one material was added step by step.
fn salt_curves(book: &Book) -> Vec<(usize, String, SaltCurve)> {
    book.trials
        .iter()
        .filter_map(|t| {
            let first = t.additions.first()?;
            if t.additions.iter().any(|a| a.id != first.id) {
                return None;
            }
            let (x, y): (Vec<f64>, Vec<f64>) = book
                .readings_of(Quantity::Viscosity)
                .filter(|(trial, _)| trial.number == t.number)
                .filter_map(|(_, k)| {
                    let masses = t.masses(k.step);
                    let whole: f64 = masses.values().map(|m| m.as_grams()).sum();
                    let share = masses.get(&first.id)?.as_grams() / whole * 100.0;
                    Some((share, k.reading.mean()?))
                })
                .unzip();
            let curve = SaltCurve::fit(&x, &y).ok()?;
            Some((t.number, first.material.name.to_string(), curve))
        })
        .collect()
}

/// Saves a new file; one that is there already is never written over.
fn save(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    store::save(path, bytes, Expect::Nothing)?;
    Ok(())
}

/// Notes an event in the trials of a formula.
fn note(path: &Path, by: &str, event: Event) -> Result<Book, Failure> {
    let entry = Entry {
        at: jiff::ZonedDateTime::now()
            .strftime("%Y-%m-%dT%H:%M:%S%:z")
            .to_string(),
        by: by.to_owned(),
        event,
    };
    Ok(trial_store::append(path, &entry)?)
}

fn date_or_today(text: Option<&str>) -> Result<Date, Failure> {
    match text {
        None => Ok(today()),
        Some(text) => text
            .parse()
            .map_err(|e| Failure(format!("“{text}” is no date ({e}); write it as 2026-05-01"))),
    }
}

impl BeginArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (opened, _, path) = with_book(&self.file)?;
        let mut formula = opened.formula.clone();
        formula.active = opened.variant.id;
        let mass = read_mass(&self.mass, Some(MassUnit::Gram))?;
        let date = date_or_today(self.date.as_deref())?;
        let mut opening = Opening::of(&formula, &self.purpose, date, mass);
        opening.room_celsius = self.room;
        let book = note(&path, &self.by, Event::Begin(Box::new(opening)))?;
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
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, book, path) = with_book(&self.file)?;
        let trial = book.trial(self.trial)?;
        let shelf = super::shelf()?;
        let material = super::names::known(&trial.opening.formula, &shelf, &self.material)?;
        let addition = Addition {
            id: material.id.clone(),
            material,
            mass: read_mass(&self.mass, Some(MassUnit::Gram))?,
        };
        let book = note(
            &path,
            &self.by,
            Event::Add {
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
        let quantity = Quantity::named(&self.quantity).ok_or_else(|| {
            let names: Vec<&str> = Quantity::ALL.iter().map(|q| q.key()).collect();
            Failure(format!(
                "the quantity “{}” is not known; use one of: {}",
                self.quantity,
                names.join(", ")
            ))
        })?;
        let number = |text: &str| -> Result<f64, Failure> {
            typed::value(text, &Measure::NUMBER).map_err(|e| Failure(format!("--value: {e}")))
        };
        let first = self.value.first().map_or("", String::as_str).trim();
        let value = if !quantity.words().is_empty() {
            let place = quantity.words().iter().position(|w| *w == first);
            ReadValue::Word(place.ok_or_else(|| {
                Failure(format!(
                    "--value must be one of: {}",
                    quantity.words().join(", ")
                ))
            })?)
        } else if let Some(limit) = first.strip_prefix('<') {
            ReadValue::Below(number(limit)?)
        } else {
            let numbers = self
                .value
                .iter()
                .map(|v| number(v))
                .collect::<Result<Vec<_>, _>>()?;
            match (quantity, numbers.as_slice()) {
                (Quantity::Colour, [l, a, b]) => ReadValue::Colour(Lab {
                    l: *l,
                    a: *a,
                    b: *b,
                }),
                _ => ReadValue::Numbers(numbers),
            }
        };
        let method = if let Some(cup) = &self.cup {
            Method::FlowCup {
                cup: cup.clone(),
                density: self.density.unwrap_or(f64::NAN),
            }
        } else if let Some(spindle) = &self.spindle {
            Method::Rotational {
                spindle: spindle.clone(),
                rpm: self.rpm.unwrap_or(0.0),
                factor: self.factor.unwrap_or(0.0),
            }
        } else if let Some(rate) = self.shear_rate {
            Method::ShearRate(rate)
        } else {
            Method::Direct(String::new())
        };
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
        Ok(Reading {
            quantity,
            value,
            method,
            celsius: self.celsius,
            hours: self.hours,
            sample,
            remark: self.remark.clone(),
            photo: self.photo.clone(),
        })
    }
}

impl ReadArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, book, path) = with_book(&self.file)?;
        let newest = book.trial(self.trial)?.additions.len();
        let reading = self.value.reading()?;
        let words = value_words(&reading);
        let event = Event::Read {
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
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, _, path) = with_book(&self.file)?;
        let event = Event::Correct {
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

impl SetAsideArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, _, path) = with_book(&self.file)?;
        let event = Event::SetAside {
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

impl StabilityArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (_, book, path) = with_book(&self.file)?;
        let mut plan = StabilityPlan::proposed(self.trial, date_or_today(self.start.as_deref())?);
        if !self.condition.is_empty() {
            plan.conditions.clone_from(&self.condition);
        }
        if !self.week.is_empty() {
            plan.times = self
                .week
                .iter()
                .map(|w| Time {
                    name: match w {
                        0 => "start".to_owned(),
                        1 => "1 week".to_owned(),
                        w => format!("{w} weeks"),
                    },
                    days: w.saturating_mul(7),
                })
                .collect();
        }
        for text in &self.limit {
            let wrong = || {
                Failure(format!(
                    "--limit: “{text}” is not of the form QUANTITY=LEAST..MOST, for example viscosity=4000..7000"
                ))
            };
            let (name, range) = text.split_once('=').ok_or_else(wrong)?;
            let quantity = Quantity::named(name.trim()).ok_or_else(wrong)?;
            let (low, high) = range.split_once("..").ok_or_else(wrong)?;
            let end = |t: &str| -> Result<Option<f64>, Failure> {
                if t.trim().is_empty() {
                    Ok(None)
                } else {
                    let limit = typed::value(t, &Measure::NUMBER);
                    limit
                        .map(Some)
                        .map_err(|e| Failure(format!("--limit: {e}")))
                }
            };
            let limit = match (end(low)?, end(high)?) {
                (Some(l), Some(h)) if l < h => Limit::Both(l, h),
                (Some(l), None) => Limit::Lower(l),
                (None, Some(h)) => Limit::Upper(h),
                _ => return Err(wrong()),
            };
            plan.limits.push(Acceptance { quantity, limit });
        }
        let event = Event::Plan {
            number: book.plans.len(),
            plan,
        };
        let book = note(&path, &self.by, event)?;
        let all = samples(&book, today());
        writeln!(
            out,
            "Plan {} of trial {}: {} samples in all. The plan is yours: no published standard fixes conditions or limits.",
            book.plans.len(),
            self.trial,
            all.len()
        )?;
        Ok(0)
    }
}

impl PlanArgs {
    fn design(&self) -> Result<Design, Failure> {
        Ok(match self.design.as_str() {
            "lattice" => Design::Lattice(self.degree),
            "centroid" => Design::Centroid,
            "extreme-vertices" | "extreme" => Design::ExtremeVertices,
            "star" => Design::Star,
            "d-optimal" => {
                let runs = self.trials.ok_or_else(|| {
                    Failure("a D-optimal design needs --trials, how many you can make".to_owned())
                })?;
                let order = Order::named(&self.model.replace('-', "_"))
                    .filter(|o| *o != Order::Cubic)
                    .ok_or_else(|| {
                        Failure(format!(
                            "the model “{}” is not known; use linear, quadratic or special-cubic",
                            self.model
                        ))
                    })?;
                Design::DOptimal(runs, order)
            }
            other => {
                return Err(Failure(format!(
                    "the design “{other}” is not known; use lattice, centroid, extreme-vertices, d-optimal or star"
                )));
            }
        })
    }

    fn factors(&self, opened: &Opened) -> Result<Vec<Factor>, Failure> {
        let texts = self.lines.iter().flat_map(|l| l.split(';'));
        texts
            .map(str::trim)
            .filter(|t| !t.is_empty())
            .map(|text| {
                let wrong = || {
                    Failure(format!(
                        "“{text}” is not of the form NAME=LEAST..MOST, for example Sodium chloride=0.5..3"
                    ))
                };
                let (name, range) = text.rsplit_once('=').ok_or_else(wrong)?;
                let (low, high) = range.split_once("..").ok_or_else(wrong)?;
                let wanted = name.trim().to_lowercase();
                let found: Vec<_> = opened
                    .variant
                    .lines()
                    .filter(|(_, l)| {
                        opened
                            .formula
                            .material(&l.material)
                            .is_some_and(|m| m.name.to_lowercase().contains(&wanted))
                    })
                    .map(|(_, l)| l.id)
                    .collect();
                let line = match found.as_slice() {
                    [one] => *one,
                    [] => {
                        return Err(Failure(format!("no line of the formula is called “{name}”")));
                    }
                    _ => {
                        return Err(Failure(format!(
                            "several lines are called “{name}”; write more of the name"
                        )));
                    }
                };
                Ok(Factor {
                    line,
                    low: percent(low)?,
                    high: percent(high)?,
                })
            })
            .collect()
    }

    fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let design = self.design()?;
        let factors = self.factors(&opened)?;
        let mut runs = plan(
            &opened.variant,
            &factors,
            design,
            self.replicates,
            self.seed,
        )?;
        runs.sort_by_key(|r| r.order);
        if !(self.grams.is_finite() && self.grams > 0.0) {
            return Err(Failure("--grams must be above zero".to_owned()));
        }
        let name_of = |id| {
            opened
                .variant
                .line(id)
                .and_then(|l| opened.formula.material(&l.material))
                .map_or_else(|| "a line".to_owned(), |m| m.name.to_string())
        };
        let mut names: Vec<String> = factors.iter().map(|f| name_of(f.line)).collect();
        names.push(opened.variant.filler.map_or_else(String::new, name_of));
        let context = context();
        let mut rows: Vec<Value> = Vec::new();
        let mut table = String::from("order,mixture");
        for name in &names {
            let quoted = name.replace('"', "\"\"");
            let _ = write!(table, ",\"{quoted} %\",\"{quoted} g\"");
        }
        table.push_str(",findings,viscosity mPa·s,pH,remark\n");
        let mut breaches = 0;
        for run in &runs {
            let formula = formula_of(&opened.formula, &opened.variant, &factors, run);
            let evaluation =
                formulation::evaluation::evaluate(&formula, formula.active(), &context);
            let grave = evaluation
                .findings
                .iter()
                .filter(|f| f.level == Level::Breach)
                .count();
            breaches += grave;
            let worst = match (grave, evaluation.worst()) {
                (0, _) => "no breach",
                (_, Some(_)) => "breach: see the report of this mixture",
                _ => "",
            };
            let _ = write!(table, "{},{}", run.order, run.mixture);
            for p in &run.percents {
                let _ = write!(table, ",{p},{:.3}", p.as_percent() / 100.0 * self.grams);
            }
            let _ = writeln!(table, ",{worst},,,");
            rows.push(json!({
                "order": run.order, "mixture": run.mixture,
                "percent": run.percents.iter().map(|p| p.as_percent()).collect::<Vec<_>>(),
                "breaches": grave,
            }));
        }
        if let Some(path) = &self.output {
            save(path, table.as_bytes())?;
        }
        if self.json {
            let value =
                json!({"lines": names, "explanation": design.explanation(), "trials": rows});
            said::print_json(out, serde_json::to_string_pretty(&value)?)?;
        } else {
            writeln!(out, "{}", design.explanation())?;
            match &self.output {
                Some(path) => writeln!(out, "{} trials written ({}).", runs.len(), path.display())?,
                None => write!(out, "{table}")?,
            }
            if breaches > 0 {
                writeln!(out, "Some of them break a limit: look before you weigh.")?;
            }
        }
        Ok(if breaches > 0 { FOUND } else { 0 })
    }
}

impl CalendarArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let (opened, book, path) = with_book(&self.file)?;
        if book.plans.is_empty() {
            return Err(Failure(format!(
                "there is no stability plan among the trials ({})",
                path.display()
            )));
        }
        let stamp = jiff::Timestamp::now()
            .strftime("%Y%m%dT%H%M%SZ")
            .to_string();
        let samples = samples(&book, today());
        let text = icalendar(&opened.formula.name, &samples, &stamp);
        save(&self.ics, text.as_bytes())?;
        let left = samples.iter().filter(|s| s.state != State::Done).count();
        writeln!(out, "{left} days written ({}).", self.ics.display())?;
        Ok(0)
    }
}

impl FitArgs {
    fn run(&self, out: &mut dyn Write) -> Outcome {
        let model = Model::named(&self.model).ok_or_else(|| {
            let names: Vec<&str> = Model::ALL.iter().map(|(n, _)| *n).collect();
            Failure(format!(
                "the model “{}” is not known; use one of: {}",
                self.model,
                names.join(", ")
            ))
        })?;
        let columns = fit_table::columns(&self.table, &self.x, self.y.as_deref())
            .map_err(|e| Failure(format!("{}: {e}", self.table.display())))?;
        let fit = fit_table::fit(model, &columns)
            .map_err(|e| Failure(format!("{}: {e}", self.table.display())))?;
        if self.json {
            said::print_json(out, serde_json::to_string_pretty(&fit)?)?;
            return Ok(0);
        }
        if let Value::Object(fields) = &fit {
            let lists = ["fitted", "band95", "pi95", "residuals"];
            for (key, value) in fields.iter().filter(|(k, _)| !lists.contains(&k.as_str())) {
                writeln!(out, "{key}: {}", words(value))?;
            }
        }
        Ok(0)
    }
}

/// A field with six digits.
fn words(value: &Value) -> String {
    match value {
        Value::Number(n) => n.as_f64().map_or_else(
            || n.to_string(),
            |v| {
                if v.fract() == 0.0 && v.abs() < 1e9 {
                    format!("{v}")
                } else {
                    Measure::NUMBER.digits_of(v)
                }
            },
        ),
        Value::Array(list) => list.iter().map(words).collect::<Vec<_>>().join(", "),
        Value::Object(fields) => fields
            .iter()
            .map(|(k, v)| format!("{k} {}", words(v)))
            .collect::<Vec<_>>()
            .join(", "),
        Value::String(text) => text.clone(),
        Value::Null => "none".to_owned(),
        Value::Bool(yes) => if *yes { "yes" } else { "no" }.to_owned(),
    }
}
