//! `phasewright record FILE`: a batch record, its open points, and the record on paper.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use formulation::batch::figures::figures;
use formulation::batch::formula_state::state_of;
use formulation::batch::record::{gate, moment};
use formulation::file::record_file;
use formulation::file::record_pdf::record_pdf;
use formulation::file::store::{self, Expect};
use formulation::lot_values::as_weighed;

use super::paper::PaperArg;
use super::{FOUND, Outcome, context, said, shelf};

/// Arguments of the command.
#[derive(Debug, Args)]
pub struct RecordArgs {
    /// The record of a batch, CODE.batch.jsonl.
    pub file: PathBuf,
    /// Save the record as PDF.
    #[arg(long, value_name = "OUT")]
    pub pdf: Option<PathBuf>,
    /// Paper of the PDF.
    #[arg(long, value_enum, default_value_t)]
    pub paper: PaperArg,
    /// Replace a file that is there already.
    #[arg(long)]
    pub replace: bool,
}

impl RecordArgs {
    /// Prints the record, or saves it; exit code 1 if a point is open.
    pub fn run(&self, out: &mut dyn Write) -> Outcome {
        let loaded = record_file::read(&self.file)?;
        let record = &loaded.record;
        let opening = record.opening();
        // By the certificates on the maker's shelf, as in the window.
        let lots = match shelf::folder(None) {
            Some(folder) => folder.read()?.shelf.lots,
            None => BTreeMap::new(),
        };
        let as_weighed = as_weighed(record, &lots, &context());
        if let Some(problem) = as_weighed.as_ref().and_then(|w| w.problem.as_ref()) {
            said::warn(format!("the certificates are not used: {problem}"));
        }
        let points = gate(record, as_weighed.as_ref().map(|w| &w.evaluation));
        for fault in &loaded.faults {
            writeln!(out, "! the record cannot be relied on: {fault}")?;
        }
        if let Some(path) = &self.pdf {
            let expect = if self.replace {
                Expect::Anything
            } else {
                Expect::Nothing
            };
            let bytes = record_pdf(record, &points, self.paper)?;
            store::save(path, &bytes, expect)?;
            writeln!(out, "saved {}", path.display())?;
        } else {
            writeln!(
                out,
                "batch {} · {} · formula state {}",
                record.code(),
                opening.formula.name,
                state_of(&opening.formula, opening.variant())
            )?;
            for (label, value) in figures(record) {
                writeln!(out, "  {label}: {value}")?;
            }
            writeln!(out, "entries")?;
            for entry in record.entries() {
                writeln!(
                    out,
                    "  {} · {} · {} · {}",
                    entry.number,
                    moment(&entry.at),
                    entry.by,
                    record.describe(entry)
                )?;
            }
        }
        let open: Vec<_> = points.iter().filter(|p| p.accepted.is_none()).collect();
        for point in &open {
            writeln!(out, "open: {}", point.sentence())?;
        }
        Ok(if open.is_empty() { 0 } else { FOUND })
    }
}
