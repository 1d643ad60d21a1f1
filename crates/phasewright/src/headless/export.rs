//! `phasewright export FILE OUT`

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::file::formula_export::{ExportForm, export, not_carried};
use formulation::file::store::{self, Expect};

use super::{Failure, Outcome, open};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Export {
    /// A formula in any form; `FILE#variant` picks a variant.
    pub file: String,
    /// The file to write; its ending tells the form: .csv, .xlsx or .json.
    pub output: PathBuf,
    /// Replace the file if it is there.
    #[arg(long)]
    pub replace: bool,
}

impl Export {
    /// Writes the file.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let ending = self
            .output
            .extension()
            .map(|e| e.to_string_lossy().to_lowercase())
            .unwrap_or_default();
        let form = ExportForm::ALL
            .into_iter()
            .find(|f| f.ending() == ending)
            .ok_or_else(|| {
                Failure(format!(
                    "the ending “{ending}” is not known; write .csv, .xlsx or .json"
                ))
            })?;
        let opened = open(&self.file)?;
        let bytes = export(&opened.formula, &opened.variant, form)?;
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        store::save(&self.output, &bytes, expect)?;
        writeln!(out, "Written ({}).", self.output.display())?;
        for left in not_carried(&opened.formula, &opened.variant, form) {
            writeln!(out, "note: not in this form: {left}")?;
        }
        Ok(0)
    }
}
