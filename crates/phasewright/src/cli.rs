//! The command line: files to open in the window, or a command that needs no window.

use std::path::PathBuf;

use clap::Parser;

use crate::headless::HeadlessCommand;

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
    pub command: Option<HeadlessCommand>,
}
