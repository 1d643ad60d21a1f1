//! `phasewright trials FILE`, `trials plan`, `trials calendar`, `trials fit`

mod fit;
mod notes;
mod plan;
mod show;
mod stability;

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::{Args, Subcommand};
use formulation::amount::typed;
use formulation::file::store::{self, Expect};
use formulation::file::{trial_file, trial_store};
use formulation::formula::Date;
use formulation::trial::book::{Book, TrialEntry, TrialEvent};

use super::{Failure, Opened, Outcome, open, said, split_variant, today};

pub use fit::FitArgs;
pub use notes::{AddArgs, BeginArgs, CorrectArgs, ReadArgs, SetAsideArgs, SettleArgs, TellArgs};
pub use plan::PlanArgs;
use show::show;
pub use stability::{CalendarArgs, StabilityArgs};

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
    /// Let a reading go with the finished formula and the recipe, or no longer.
    Tell(TellArgs),
    /// State how long a beaker is left before a quantity of it has settled.
    Settle(SettleArgs),
    /// Lay out a stability plan of a trial, to be read on its days.
    Stability(StabilityArgs),
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
            (Some(Action::Tell(tell)), _) => tell.run(out),
            (Some(Action::Settle(settle)), _) => settle.run(out),
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
    match trial_store::find(&path, &opened.formula.name) {
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

/// The trials of a formula of a name, beside its file; an empty book if there are none.
pub(super) fn beside(file: &str, name: &str) -> Result<Book, Failure> {
    let (path, _) = split_variant(file);
    match trial_store::find(&path, name) {
        Some(trials) => read_book(&trials),
        None => Ok(Book::default()),
    }
}

/// Saves a new file; one that is there already is never written over.
fn save(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    store::save(path, bytes, Expect::Nothing)?;
    Ok(())
}

/// Notes an event in the trials of a formula.
fn note(path: &Path, by: &str, event: TrialEvent) -> Result<Book, Failure> {
    let entry = TrialEntry {
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
        Some(text) => Ok(typed::day(text)?),
    }
}
