//! `phasewright compare A B [--stock FILE] [--json]`

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::compare::{Compared, compare};
use formulation::file::compare_report::CompareReport;
use formulation::file::stock_file;
use formulation::trial::learn::Lessons;

use super::trials::beside;
use super::{FOUND, Outcome, open, said};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct Compare {
    /// The first formula: a formula file or a CSV recipe; `FILE#variant` picks a variant.
    pub left: String,
    /// The second formula, in the same way.
    pub right: String,
    /// A stock file, whose prices tell what the materials of both cost.
    #[arg(long, value_name = "FILE")]
    pub stock: Option<PathBuf>,
    /// Print JSON instead of text.
    #[arg(long)]
    pub json: bool,
}

impl Compare {
    /// Prints what differs; 1 if anything does.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let (left, right) = (open(&self.left)?, open(&self.right)?);
        let (before, after) = (left.evaluate(), right.evaluate());
        let books = [
            beside(&self.left, &left.formula.name)?,
            beside(&self.right, &right.formula.name)?,
        ];
        // Two variants of one file have the same trials, which are learnt from once.
        let left_taught = Lessons::of(&books[0]);
        let right_taught = if books[0] == books[1] {
            left_taught.clone()
        } else {
            Lessons::of(&books[1])
        };
        let lessons = [left_taught, right_taught];
        let (left, right) = (
            Compared::new(&left.formula, &left.variant),
            Compared::new(&right.formula, &right.variant),
        );
        let trials =
            [0, 1].map(|i| (!books[i].readings.is_empty()).then_some((&books[i], &lessons[i])));
        let comparison = compare(left, right);
        let stock = match &self.stock {
            Some(path) => Some(stock_file::open(path)?.0),
            None => None,
        };
        let report = CompareReport {
            left,
            right,
            comparison: &comparison,
            before: &before,
            after: &after,
            stock: stock.as_ref(),
            trials,
        };
        if self.json {
            said::print_json(out, report.json())?;
        } else {
            write!(out, "{}", report.text())?;
        }
        Ok(if report.is_empty() { 0 } else { FOUND })
    }
}
