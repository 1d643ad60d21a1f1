//! Commands that need no window: one module a command, all reading and writing
//! through the model's file module.

pub mod aim;
mod answers;
pub mod check;
mod columns;
pub mod compare;
pub mod due;
pub mod export;
pub mod finish;
pub mod import;
pub mod label;
pub mod make;
mod names;
mod paper;
pub mod record;
pub mod report;
pub mod said;
pub mod shelf;
pub mod sign;
pub mod trials;
pub mod work_out;

use std::fmt::Display;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::Subcommand;
use formulation::batch::trace;
use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::open::{FileForm, open_any};
use formulation::file::{record_file, rule_file};
use formulation::formula::{Date, Formula, Variant};
use formulation::rules::RuleBook;
use formulation::shelf::Shelf;
use formulation::stock::LotUsage;

use crate::broken;
use crate::state::{Folders, own_rules};

/// Commands that need no window.
#[derive(Debug, Subcommand)]
pub enum HeadlessCommand {
    /// Print what a formula contains and every finding.
    Report(report::Report),
    /// Print findings; exit 0 if no breach, 1 if breaches, 2 if the file is unusable.
    Check(check::Check),
    /// Print what differs between two variants; exit 0 if nothing, 1 if anything, 2 if a file is unusable.
    Compare(compare::Compare),
    /// Write a frozen, self-contained finished formula with a checksum.
    Finish(finish::Finish),
    /// Find percentages that reach targets; swap, sweep, or work back from an ingredient list.
    Aim(Box<aim::Aim>),
    /// Size a batch; print or save its weigh sheet.
    Make(Box<make::Make>),
    /// Print a batch record with its open points, or save it as PDF; exit 1 if a point is open.
    Record(record::RecordArgs),
    /// Print what is due in the workshop and of stability plans, or save it as iCalendar; exit 1 if anything is due or overdue.
    Due(due::DueArgs),
    /// Print the label of a market: ingredient list, duties, what is missing; exit 1 if the law demands more.
    Label(label::Label),
    /// Write a formula as CSV, XLSX or JSON for other programs.
    Export(export::Export),
    /// Make a formula of a recipe in a spreadsheet or table.
    Import(import::Import),
    /// Search the shelf, or move materials in and out.
    Shelf(shelf::ShelfArgs),
    /// Note and show trials of a formula, plan sets of them, fit curves.
    Trials(Box<trials::Trials>),
    /// Work out dilutions, lye, carbomer, alcohol, freezing point and what follows from a formula.
    WorkOut(work_out::WorkOut),
    /// Make a pair of keys to sign with.
    Keys(sign::Keys),
    /// Sign a finished formula or the record of a closed batch; the signature is a file beside it.
    Sign(sign::Sign),
    /// Check the signature beside a file; exit 0 if it holds, 1 if not, 2 if nothing can be checked.
    Verify(sign::Verify),
}

/// Exit code for breaches found, or for a difference found.
pub const FOUND: u8 = 1;
/// Exit code for input that cannot be used.
pub const UNUSABLE: u8 = 2;
/// Exit code where a finished formula was altered after it was frozen, whatever else was found.
pub const ALTERED: u8 = 3;
/// Exit code for an error of the program itself (`EX_SOFTWARE` of sysexits.h, BSD).
pub const BROKEN: u8 = 70;

/// A command that could not be done: the words to show.
#[derive(Debug)]
pub struct Failure(pub String);

impl<E: Display> From<E> for Failure {
    fn from(error: E) -> Self {
        Self(error.to_string())
    }
}

/// What a command gives back: its exit code, or why it could not be done.
pub type Outcome = Result<u8, Failure>;

/// Runs a command on the terminal.
pub fn run(command: &HeadlessCommand) -> ExitCode {
    let mut out = said::Plain(Watched {
        to: io::BufWriter::new(io::stdout().lock()),
        failed: None,
    });
    let outcome = broken::caught(|| run_to(command, &mut out));
    let flushed = out.flush();
    let failed = out.0.failed.or(flushed.err().map(|e| e.kind()));
    let outcome = match (outcome, failed) {
        (Err(cause), _) => {
            said::complain(&format!(
                "met an error of its own and had to stop: {cause}. Nothing that was saved before is harmed; please report it with the file that led to it"
            ));
            return ExitCode::from(BROKEN);
        }
        // A closed pipe is the reader's choice, not a failure; a full disk is.
        (Ok(_), Some(io::ErrorKind::BrokenPipe)) => return ExitCode::SUCCESS,
        (Ok(_), Some(kind)) => Err(Failure(format!(
            "the output could not be written: {kind}; make room or choose another place"
        ))),
        (Ok(outcome), None) => outcome,
    };
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            said::complain(&failure.0);
            ExitCode::from(if said::altered() { ALTERED } else { UNUSABLE })
        }
    }
}

/// An output that remembers how it failed, because commands tell errors only in words.
struct Watched<W> {
    to: W,
    failed: Option<io::ErrorKind>,
}

impl<W: Write> Watched<W> {
    fn told<T>(&mut self, done: io::Result<T>) -> io::Result<T> {
        if let Err(error) = &done
            && error.kind() != io::ErrorKind::Interrupted
        {
            self.failed = Some(error.kind());
        }
        done
    }
}

impl<W: Write> Write for Watched<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let done = self.to.write(bytes);
        self.told(done)
    }

    fn flush(&mut self) -> io::Result<()> {
        let done = self.to.flush();
        self.told(done)
    }
}

/// Runs a command with its output going to `out`.
pub fn run_to(command: &HeadlessCommand, out: &mut dyn Write) -> Outcome {
    said::begin();
    let code = run_one(command, out)?;
    Ok(if said::altered() { ALTERED } else { code })
}

fn run_one(command: &HeadlessCommand, out: &mut dyn Write) -> Outcome {
    match command {
        HeadlessCommand::Report(report) => report.run(out),
        HeadlessCommand::Check(check) => check.run(out),
        HeadlessCommand::Label(label) => label.run(out),
        HeadlessCommand::Compare(compare) => compare.run(out),
        HeadlessCommand::Finish(finish) => finish.run(out),
        HeadlessCommand::Aim(aim) => aim.run(out),
        HeadlessCommand::Make(make) => make.run(out),
        HeadlessCommand::Record(record) => record.run(out),
        HeadlessCommand::Due(due) => due.run(out),
        HeadlessCommand::Export(export) => export.run(out),
        HeadlessCommand::Import(import) => import.run(out),
        HeadlessCommand::Shelf(shelf) => shelf.run(out),
        HeadlessCommand::Trials(trials) => trials.run(out),
        HeadlessCommand::WorkOut(work_out) => work_out.run(out),
        HeadlessCommand::Keys(keys) => keys.run(out),
        HeadlessCommand::Sign(sign) => sign.run(out),
        HeadlessCommand::Verify(verify) => verify.run(out),
    }
}

/// A formula file that was opened, with the variant asked for.
pub struct Opened {
    /// The whole file.
    pub formula: Formula,
    /// The variant asked for, or the one the file works on.
    pub variant: Arc<Variant>,
}

impl Opened {
    /// Evaluates the variant as of today.
    pub fn evaluate(&self) -> Evaluation {
        evaluate(&self.formula, &self.variant, &context())
    }

    /// Evaluates the variant as of today, with files of rules besides those of the program.
    pub fn evaluate_with(&self, rules: &[PathBuf]) -> Result<Evaluation, Failure> {
        let mut context = context();
        for path in rules {
            let text = rule_file::open(path)?;
            let more = context.rules.with_list(&text, &path.to_string_lossy())?;
            context.rules = Arc::new(more);
        }
        Ok(evaluate(&self.formula, &self.variant, &context))
    }
}

/// Opens `FILE` or `FILE#variant`: a formula file, a finished formula, or a CSV recipe.
pub fn open(name: &str) -> Result<Opened, Failure> {
    let (path, wanted) = split_variant(name);
    // Most commands judge what they open: the rules are read beside it.
    std::thread::spawn(RuleBook::shared);
    let opened = open_any(&path, &shelf()?)?;
    for assumed in &opened.assumed {
        said::warn(assumed);
    }
    if matches!(opened.form, FileForm::Finished { intact: false, .. }) {
        said::note_altered();
    }
    let formula = opened.formula;
    let variant = match &wanted {
        None => formula.active().clone(),
        Some(wanted) => find_variant(&formula, wanted, &path)?,
    };
    Ok(Opened { formula, variant })
}

fn find_variant(formula: &Formula, wanted: &str, path: &Path) -> Result<Arc<Variant>, Failure> {
    let number = wanted.parse::<u64>().ok();
    let found = formula
        .variants
        .iter()
        .find(|v| v.name.as_ref() == wanted)
        .or_else(|| {
            formula
                .variants
                .iter()
                .find(|v| v.name.eq_ignore_ascii_case(wanted))
        })
        .or_else(|| formula.variants.iter().find(|v| Some(v.id.0) == number));
    found.cloned().ok_or_else(|| {
        let names: Vec<&str> = formula.variants.iter().map(|v| v.name.as_ref()).collect();
        Failure(format!(
            "no variant “{wanted}” in {}; it has: {}",
            path.display(),
            names.join(", ")
        ))
    })
}

/// Splits `FILE#variant`; a file whose own name holds the sign is taken as it is.
fn split_variant(name: &str) -> (PathBuf, Option<String>) {
    match name.rsplit_once('#') {
        Some((path, variant)) if !Path::new(name).exists() => {
            (path.into(), Some(variant.to_owned()))
        }
        _ => (name.into(), None),
    }
}

/// The shelf that commands use: the built-in materials and the maker's own.
pub fn shelf() -> Result<Shelf, Failure> {
    let built_in = formulation::shelf::built_in();
    Ok(match shelf::folder(None) {
        Some(folder) => folder.read()?.shelf.over(built_in),
        None => built_in.clone(),
    })
}

/// What the batches of a folder took from lots. A folder that is not there, or a record in
/// it that cannot be relied on, would make the count wrong, so it is refused.
fn usage(records: Option<&Path>) -> Result<LotUsage, Failure> {
    let Some(folder) = records else {
        return Ok(LotUsage::default());
    };
    let found = record_file::list_folder(folder);
    let problems = found.problems();
    if found.is_sound() {
        problems.into_iter().for_each(said::warn);
        Ok(trace::usage(found.records()))
    } else {
        Err(Failure(problems.join("\n")))
    }
}

/// The surroundings of an evaluation made now: the rules of the program and the maker's own,
/// as the window has them. What of the settings or the own rules cannot be used is said.
pub fn context() -> Context {
    let mut context = Context::new(today());
    let (settings, problems) = Folders::usual().read_settings();
    problems.into_iter().for_each(said::warn);
    let (book, problems) = own_rules::book(&settings.own_rules);
    context.rules = book;
    for problem in problems {
        said::warn(own_rules::left_out(&problem));
    }
    context
}

/// Today by the clock of the machine.
pub fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}
