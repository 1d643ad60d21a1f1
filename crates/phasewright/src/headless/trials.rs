//! `phasewright trials FILE`, `trials plan`, `trials calendar`, `trials fit`

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use formulation::amount::typed::percent;
use formulation::amount::{Measure, typed};
use formulation::batch::mass::{MassUnit, read_mass};
use formulation::file::calendar::calendar;
use formulation::file::fit_table::{self, Model};
use formulation::file::pdf::Paper;
use formulation::file::store::{self, Expect};
use formulation::file::trial_pdf::{entry_form_pdf, labels_pdf, set_csv, set_pdf};
use formulation::file::{disk, trial_file, trial_store};
use formulation::formula::Date;
use formulation::trial::book::{Addition, Book, Entry, Event, Kept, Opening, value_words};
use formulation::trial::challenge;
use formulation::trial::charts::charts;
use formulation::trial::draft::{Field, ReadingDraft};
use formulation::trial::fit::scheffe::Order;
use formulation::trial::learn::{Experience, Learnt};
use formulation::trial::plan::{Design, Factor, check, plan};
use formulation::trial::reading::{MethodKind, Quantity, Reading, Sample};
use formulation::trial::stability::{
    Acceptance, Plan as StabilityPlan, State, Time, samples, to_read, trends,
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
    /// Instrument and its settings, where it shows the quantity itself.
    #[arg(long)]
    pub instrument: Option<String>,
    /// Temperature of the sample, for example `25 °C`.
    #[arg(long, allow_hyphen_values = true)]
    pub celsius: Option<String>,
    /// Time since making, for example `24 h` or `2 days`.
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

/// Arguments of `trials stability`.
#[derive(Debug, Args)]
pub struct StabilityArgs {
    /// The formula file.
    pub file: String,
    /// Number of the trial.
    #[arg(long)]
    pub trial: usize,
    /// Number of a plan that this one takes the place of; a new one if not stated.
    #[arg(long)]
    pub plan: Option<usize>,
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
    /// Mass of a beaker, for the weigh sheet.
    #[arg(long, default_value = "100 g", allow_hyphen_values = true)]
    pub grams: String,
    /// Number that the random order is drawn from.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Where to write the table (CSV).
    #[arg(short, long)]
    pub output: Option<PathBuf>,
    /// Where to write the weigh sheets (PDF).
    #[arg(long)]
    pub pdf: Option<PathBuf>,
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
    /// Where to write labels of the samples (PDF); further plans get a number behind the name.
    #[arg(long)]
    pub labels: Option<PathBuf>,
    /// Where to write a form to note readings on (PDF).
    #[arg(long)]
    pub form: Option<PathBuf>,
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
pub(super) fn with_book(file: &str) -> Result<(Opened, Book, PathBuf), Failure> {
    let opened = open(file)?;
    let (path, _) = split_variant(file);
    match trial_file::find(&path, &opened.formula.name) {
        Some(found) => {
            let book = read_book(&found)?;
            Ok((opened, book, found))
        }
        None => Ok((opened, Book::default(), trial_file::path_of(&path))),
    }
}

fn read_book(path: &Path) -> Result<Book, Failure> {
    let loaded = trial_store::read(path)?;
    for words in loaded.faults.iter().chain(&loaded.remarks) {
        said::warn(format!("{words} ({})", path.display()));
    }
    Ok(loaded.book)
}

/// The trials beside a formula file; an empty book if there are none.
pub(super) fn beside(file: &str) -> Result<Book, Failure> {
    let (path, _) = split_variant(file);
    let trials = trial_file::path_of(&path);
    if disk::is_there(&trials) {
        read_book(&trials)
    } else {
        Ok(Book::default())
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
            let e = l.at(&l.from.place(&opened.variant));
            let words = l.words(&e);
            (l, words, e)
        })
        .collect();
    let curves = charts(&book);
    let challenges: Vec<(usize, String)> = book
        .trials
        .iter()
        .filter_map(|t| {
            let words = challenge::words(&challenge::reductions(&book, t.number))?;
            Some((t.number, words))
        })
        .collect();
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
            "fits": curves.iter().map(|c| json!({
                "trial": c.trial, "title": c.title, "model": c.model, "x": c.x,
                "quantity": c.quantity.key(),
                "points": c.dots.iter().map(|d| [d.x, d.y]).collect::<Vec<_>>(),
                "optimum": c.optimum.map(|o| o.0), "optimum95": c.optimum.map(|o| o.1),
                "words": c.words,
            })).collect::<Vec<_>>(),
            "challenge": challenges.iter()
                .map(|(trial, words)| json!({"trial": trial, "words": words})).collect::<Vec<_>>(),
            "learnt": learnt.iter().map(|(l, words, e)| json!({
                "quantity": l.from.quantity.key(), "readings": l.from.y.len(),
                "model": l.chosen, "errors": l.errors.iter().copied().collect::<BTreeMap<_, _>>(),
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
                .map(|k| reading_words(k, &path))
                .collect();
            writeln!(out, "  {}: {}", t.step_words(s), readings.join("; "))?;
        }
    }
    for chart in curves.iter().filter(|c| c.model != Some("drift")) {
        writeln!(out, "{}: {}", chart.title, chart.words.join(" "))?;
    }
    for (trial, words) in &challenges {
        writeln!(out, "Trial {trial}: {words}.")?;
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

/// A reading with its method; a photo that is not where it was is said.
fn reading_words(kept: &Kept, trials: &Path) -> String {
    let reading = &kept.reading;
    let mut words = format!("{} {}", reading.quantity.label(), value_words(reading));
    let method = reading.method.words();
    if !method.is_empty() {
        let _ = write!(words, " ({method})");
    }
    if kept.set_aside.is_some() {
        words.push_str(" (set aside)");
    }
    if let Some(photo) = &reading.photo
        && !disk::is_there(&trial_file::photo_path(trials, photo))
    {
        let _ = write!(words, " (the photo is not there any more: {photo})");
    }
    words
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
    Ok(trial_store::append(path, &entry)?.book)
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
        opening.room_celsius = match &self.room {
            None => None,
            Some(text) => Some(
                typed::value(text, &Measure::TEMPERATURE)
                    .map_err(|e| Failure(format!("--room: {e}")))?,
            ),
        };
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
        let fields: BTreeMap<Field, String> = [
            (Field::Instrument, &self.instrument),
            (Field::Spindle, &self.spindle),
            (Field::Rpm, &self.rpm),
            (Field::Factor, &self.factor),
            (Field::ShearRate, &self.shear_rate),
            (Field::Cup, &self.cup),
            (Field::Density, &self.density),
            (Field::Ball, &self.ball),
            (Field::Tube, &self.tube),
            (Field::BallDensity, &self.ball_density),
            (Field::Distance, &self.distance),
            (Field::OwnName, &self.own_method),
            (Field::Calibration, &self.calibration),
            (Field::Organism, &self.organism),
            (Field::Day, &self.day),
            (Field::Celsius, &self.celsius),
            (Field::Hours, &self.hours),
            (Field::Remark, &Some(self.remark.clone())),
            (Field::Photo, &self.photo),
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
        let (opened, book, path) = with_book(&self.file)?;
        let start = date_or_today(self.start.as_deref())?;
        let mut plan = StabilityPlan::proposed(self.trial, start, Some(&opened.variant));
        if !self.condition.is_empty() {
            plan.conditions.clone_from(&self.condition);
        }
        if !self.week.is_empty() {
            plan.times = self
                .week
                .iter()
                .map(|w| match w {
                    0 => Time::read("start"),
                    w => Time::read(&format!("{w} weeks")),
                })
                .collect::<Result<_, _>>()?;
        }
        for text in &self.limit {
            let limit = Acceptance::read(text).map_err(|e| Failure(format!("--limit: {e}")))?;
            plan.limits
                .retain(|stated| stated.quantity != limit.quantity);
            plan.limits.push(limit);
        }
        let number = match self.plan {
            None => book.plans.len(),
            Some(given) => given
                .checked_sub(1)
                .filter(|n| *n < book.plans.len())
                .ok_or_else(|| {
                    Failure(format!(
                        "--plan: there is no plan {given} to replace; there are {}",
                        book.plans.len()
                    ))
                })?,
        };
        let event = Event::Plan { number, plan };
        let book = note(&path, &self.by, event)?;
        let all = samples(&book, today());
        writeln!(
            out,
            "Plan {} of trial {}: {} samples. The plan is yours: no published standard fixes conditions or limits.",
            number + 1,
            self.trial,
            all.iter().filter(|s| s.sample.plan == number).count()
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
                let line = super::names::line(&opened.formula, &opened.variant, name)?;
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
        let mass = read_mass(&self.grams, Some(MassUnit::Gram))
            .map_err(|e| Failure(format!("--grams: {e}")))?;
        if mass.is_zero() {
            return Err(Failure("--grams: the mass must be above zero".to_owned()));
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
        let checked = check(
            &opened.formula,
            &opened.variant,
            &factors,
            &runs,
            &context(),
        );
        let table = set_csv(&opened.formula, &opened.variant, &factors, &checked, mass)?;
        let rows: Vec<Value> = checked
            .iter()
            .map(|c| {
                let percents: Vec<f64> = c.run.percents.iter().map(|p| p.as_percent()).collect();
                json!({
                    "order": c.run.order, "mixture": c.run.mixture, "percent": percents,
                    "breaches": c.breaches.len(), "first_breach": c.breaches.first(),
                })
            })
            .collect();
        let breaches: usize = checked.iter().map(|c| c.breaches.len()).sum();
        if let Some(path) = &self.pdf {
            let pdf = set_pdf(
                &opened.formula,
                &opened.variant,
                &factors,
                &runs,
                mass,
                Paper::A4,
            )?;
            save(path, &pdf)?;
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
        let tasks = to_read(&opened.formula.name, &book, today());
        let text = calendar(&opened.formula.name, &tasks, jiff::Timestamp::now());
        save(&self.ics, text.as_bytes())?;
        for (number, plan) in book.plans.iter().enumerate() {
            let name = &opened.formula.name;
            if let Some(path) = &self.labels {
                let pdf = labels_pdf(name, number, plan, Paper::A4)?;
                save(&numbered(path, number), &pdf)?;
            }
            if let Some(path) = &self.form {
                let pdf = entry_form_pdf(name, number, plan, Paper::A4)?;
                save(&numbered(path, number), &pdf)?;
            }
        }
        let left = tasks.len();
        writeln!(out, "{left} days written ({}).", self.ics.display())?;
        Ok(0)
    }
}

/// The name of a file for a plan: the first has the name given.
fn numbered(path: &Path, number: usize) -> PathBuf {
    if number == 0 {
        return path.to_path_buf();
    }
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-{}.pdf", number + 1))
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
