//! `phasewright finish FILE -o OUT`

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::batch::figures::{figures, made_from};
use formulation::file::finished::{self, BatchFigures, Enclosed};
use formulation::file::record_file;
use formulation::file::store::Expect;
use formulation::finding::Tally;
use formulation::formula::Variant;
use formulation::trial::known::told;

use super::trials::beside;
use super::{Failure, Outcome, open, said, today};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Finish {
    /// A formula file or a CSV recipe; `FILE#variant` picks a variant.
    pub file: String,
    /// The finished formula to write, usually NAME.finished.ron; an existing file is kept.
    #[arg(short, long)]
    pub output: PathBuf,
    /// The record of a batch made from it, CODE.batch.jsonl, whose figures go into the file.
    #[arg(long, value_name = "RECORD")]
    pub batch: Option<PathBuf>,
    /// Replace an existing file.
    #[arg(long)]
    pub replace: bool,
}

impl Finish {
    /// Writes the finished formula and says what was found.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        if said::altered() {
            return Err(Failure(format!(
                "{} was altered after it was frozen and is not given a fresh seal; take it up in the window as a working copy, look it through, save it as a formula, and finish that",
                self.file
            )));
        }
        let evaluation = opened.evaluate();
        let enclosed = Enclosed {
            batch: self.figures(&opened.variant)?,
            readings: told(&beside(&self.file, &opened.formula.name)?, &opened.variant),
        };
        let text = finished::write(
            &opened.formula,
            &opened.variant,
            &evaluation,
            today(),
            &enclosed,
        )?;
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        finished::save(&self.output, &text, expect)?;
        match enclosed.readings.len() {
            0 => {}
            1 => writeln!(out, "1 reading of its trials goes with it")?,
            n => writeln!(out, "{n} readings of its trials go with it")?,
        }
        let tally = Tally::of(&evaluation.findings);
        writeln!(
            out,
            "{} written, with {} breaches and {} cautions to act on and {} findings to know recorded in it",
            self.output.display(),
            tally.breaches,
            tally.cautions,
            tally.to_know
        )?;
        Ok(0)
    }

    fn figures(&self, variant: &Variant) -> Result<BatchFigures, Failure> {
        let Some(path) = &self.batch else {
            return Ok(BatchFigures::new());
        };
        let loaded = record_file::read(path)?;
        if let Some(fault) = loaded.fault_words() {
            return Err(Failure(format!("{fault} ({})", path.display())));
        }
        if !made_from(&loaded.record, variant) {
            return Err(Failure(format!(
                "the batch {} was made from another state of the formula; its own state is in the record ({})",
                loaded.record.code(),
                path.display()
            )));
        }
        Ok(figures(&loaded.record))
    }
}
