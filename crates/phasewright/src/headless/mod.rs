//! Commands that need no window: one module a command, all reading and writing
//! through the model's file module.

pub mod aim;
pub mod check;
pub mod compare;
pub mod export;
pub mod finish;
pub mod import;
pub mod label;
pub mod make;
mod names;
pub mod report;
pub mod shelf;
pub mod trials;
pub mod work_out;

use std::fmt::Display;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use formulation::batch::trace;
use formulation::evaluation::{Context, Evaluation, evaluate};
use formulation::file::open::open_any;
use formulation::file::{record_file, rule_file};
use formulation::formula::{Date, Formula, Variant};
use formulation::shelf::Shelf;
use formulation::stock::Usage;

use crate::cli::Command;

/// Exit code for breaches found, or for a difference found.
pub const FOUND: u8 = 1;
/// Exit code for input that cannot be used.
pub const UNUSABLE: u8 = 2;

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
pub fn run(command: &Command) -> ExitCode {
    let stdout = io::stdout();
    let mut out = io::BufWriter::new(stdout.lock());
    let outcome = run_to(command, &mut out);
    // A closed pipe is the reader's choice, not a failure; a full disk is.
    let outcome = match (outcome, out.flush()) {
        (Ok(_), Err(error)) if error.kind() != io::ErrorKind::BrokenPipe => {
            Err(Failure(format!("the output could not be written: {error}")))
        }
        (outcome, _) => outcome,
    };
    match outcome {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            let _ = writeln!(io::stderr(), "phasewright: {}", failure.0);
            ExitCode::from(UNUSABLE)
        }
    }
}

/// Runs a command with its output going to `out`.
pub fn run_to(command: &Command, out: &mut dyn Write) -> Outcome {
    match command {
        Command::Report(report) => report.run(out),
        Command::Check(check) => check.run(out),
        Command::Label(label) => label.run(out),
        Command::Compare(compare) => compare.run(out),
        Command::Finish(finish) => finish.run(out),
        Command::Aim(aim) => aim.run(out),
        Command::Make(make) => make.run(out),
        Command::Export(export) => export.run(out),
        Command::Import(import) => import.run(out),
        Command::Shelf(shelf) => shelf.run(out),
        Command::Trials(trials) => trials.run(out),
        Command::WorkOut(work_out) => work_out.run(out),
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
    let opened = open_any(&path, &shelf()?)?;
    for assumed in &opened.assumed {
        let _ = writeln!(io::stderr(), "phasewright: {assumed}");
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
fn usage(records: Option<&Path>) -> Result<Usage, Failure> {
    let Some(folder) = records else {
        return Ok(Usage::default());
    };
    let found = record_file::list_folder(folder);
    let problems = found.problems();
    if found.is_sound() {
        for problem in problems {
            let _ = writeln!(io::stderr(), "phasewright: {problem}");
        }
        Ok(trace::usage(found.records()))
    } else {
        Err(Failure(problems.join("\n")))
    }
}

/// The surroundings of an evaluation made now.
pub fn context() -> Context {
    Context::new(today())
}

/// Today by the clock of the machine.
pub fn today() -> Date {
    jiff::ZonedDateTime::now().date()
}
