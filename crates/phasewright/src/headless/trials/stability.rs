//! Stability plans: laying one out, and its days.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use formulation::file::calendar::calendar;
use formulation::file::trial_pdf::{entry_form_pdf, labels_pdf};
use formulation::trial::book::TrialEvent;
use formulation::trial::stability::{Acceptance, StabilityPlan, Time, samples, to_read};

use crate::headless::paper::PaperArg;
use crate::headless::{Failure, Outcome, today};

use super::{date_or_today, note, save, with_book};

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
    /// Paper of the PDFs.
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
}

impl StabilityArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
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
        let event = TrialEvent::Plan { number, plan };
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

impl CalendarArgs {
    pub(super) fn run(&self, out: &mut dyn Write) -> Outcome {
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
                let pdf = labels_pdf(name, number, plan, self.paper)?;
                save(&numbered(path, number), &pdf)?;
            }
            if let Some(path) = &self.form {
                let pdf = entry_form_pdf(name, number, plan, self.paper)?;
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
