//! `phasewright finish FILE -o OUT`

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::file::finished;
use formulation::file::store::Expect;
use formulation::finding::Level;

use super::{Outcome, open, today};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Finish {
    /// A formula file or a CSV recipe; `FILE#variant` picks a variant.
    pub file: String,
    /// The finished formula to write, usually NAME.finished.ron; an existing file is kept.
    #[arg(short, long)]
    pub output: PathBuf,
    /// Replace an existing file.
    #[arg(long)]
    pub replace: bool,
}

impl Finish {
    /// Writes the finished formula and says what was found.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let opened = open(&self.file)?;
        let evaluation = opened.evaluate();
        let text = finished::write(
            &opened.formula,
            &opened.variant,
            &evaluation,
            today(),
            &Vec::new(),
        )?;
        let expect = if self.replace {
            Expect::Anything
        } else {
            Expect::Nothing
        };
        finished::save(&self.output, &text, expect)?;
        let count = |level| {
            evaluation
                .findings
                .iter()
                .filter(|f| f.level == level)
                .count()
        };
        writeln!(
            out,
            "{} written, with {} breaches, {} cautions and {} notes recorded in it",
            self.output.display(),
            count(Level::Breach),
            count(Level::Caution),
            count(Level::Note)
        )?;
        Ok(0)
    }
}
