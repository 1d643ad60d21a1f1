//! The command line: files to open in the window, or a command that needs no window.

use std::path::PathBuf;

use clap::{Parser, Subcommand};

use crate::headless;

/// Design, check, make and label personal-care formulas.
///
/// Without a command, opens the window with the files named. Phasewright checks what its
/// data says; it is not a safety assessment and not legal advice. Local law and a qualified
/// safety assessor decide.
#[derive(Debug, Parser)]
#[command(name = "phasewright", version, args_conflicts_with_subcommands = true)]
pub struct Cli {
    /// Formula files to open in the window.
    pub files: Vec<PathBuf>,
    /// A command that needs no window.
    #[command(subcommand)]
    pub command: Option<Command>,
}

/// Commands that need no window.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Print what a formula contains and every finding.
    Report(headless::report::Report),
    /// Print findings; exit 0 if no breach, 1 if breaches, 2 if the file is unusable.
    Check(headless::check::Check),
    /// Print what differs between two variants; exit 0 if nothing, 1 if anything, 2 if a file is unusable.
    Compare(headless::compare::Compare),
    /// Write a frozen, self-contained finished formula with a checksum.
    Finish(headless::finish::Finish),
    /// Find percentages that reach targets; swap, sweep, or work back from an ingredient list.
    Aim(Box<headless::aim::Aim>),
    /// Size a batch; print or save its weigh sheet.
    Make(Box<headless::make::Make>),
    /// Print a batch record with its open points, or save it as PDF; exit 1 if a point is open.
    Record(headless::record::RecordArgs),
    /// Print what is due in the workshop and of stability plans, or save it as iCalendar; exit 1 if anything is due or overdue.
    Due(headless::due::DueArgs),
    /// Print the label of a market: ingredient list, duties, what is missing; exit 1 if the law demands more.
    Label(headless::label::Label),
    /// Write a formula as CSV, XLSX or JSON for other programs.
    Export(headless::export::Export),
    /// Make a formula of a recipe in a spreadsheet or table.
    Import(headless::import::Import),
    /// Search the shelf, or move materials in and out.
    Shelf(headless::shelf::ShelfArgs),
    /// Note and show trials of a formula, plan sets of them, fit curves.
    Trials(Box<headless::trials::Trials>),
    /// Work out dilutions, lye, carbomer, alcohol, freezing point and what follows from a formula.
    WorkOut(headless::work_out::WorkOut),
    /// Make a pair of keys to sign with.
    Keys(headless::sign::Keys),
    /// Sign a finished formula or the record of a closed batch; the signature is a file beside it.
    Sign(headless::sign::Sign),
    /// Check the signature beside a file; exit 0 if it holds, 1 if not, 2 if nothing can be checked.
    Verify(headless::sign::Verify),
}
