//! `phasewright check FILE`

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::file::report;
use formulation::finding::{Finding, FindingSubject, Level};

use super::{FOUND, Outcome, open, said};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Check {
    /// A formula file, or a CSV file with the header `phase,material,percent`; `FILE#variant` picks a variant.
    pub file: String,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
    /// A file of rules of your own; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub rules: Vec<PathBuf>,
}

impl Check {
    /// Prints the findings; 1 if there is a breach.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let evaluation = opened.evaluate_with(&self.rules)?;
        let report = report::report(&opened.formula, &opened.variant, &evaluation);
        if self.json {
            said::print_json(out, report.findings_json())?;
        } else {
            write!(out, "{}", report.findings_text())?;
        }
        // What binds on a later day is no breach today; one that was set aside is still one.
        let breaches = |f: &Finding| f.level == Level::Breach && f.subject != FindingSubject::Later;
        let breached = evaluation.findings.iter().any(breaches);
        Ok(if breached { FOUND } else { 0 })
    }
}
