//! `phasewright report FILE [--json]`

use std::io::Write;

use clap::Args;
use formulation::file::report;

use super::{Outcome, open, said};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Report {
    /// A formula file, or a CSV file with the header `phase,material,percent`; `FILE#variant` picks a variant.
    pub file: String,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

impl Report {
    /// Prints the report.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let evaluation = opened.evaluate();
        let report = report::report(&opened.formula, &opened.variant, &evaluation);
        if self.json {
            said::print_json(out, report.json())?;
        } else {
            write!(out, "{}", report.text())?;
        }
        Ok(0)
    }
}
